"""The yardstick of the whole pane: the same pane scripted with cadquery's solids, cuts and exporters, as an office might do it by hand.

From the outlines of a detail are made, as solids: frame with its recess, plies of glass, bead, backfill, spacers and chocks. They are
cut at the section lines and seen from outside; every view is exported to SVG and DXF. It letters, dimensions and hatches nothing, and
the outlines are given to it: what it takes is the least that this way can take.

``python tests/benchmarks/scripted_solids.py JOB.toml CODE FOLDER`` writes its files.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from geometry.detail.sections import FRAME_BELOW, FRAME_BEYOND, GLASS_BEYOND
from geometry.outline import offset
from geometry.outline.wires import wire_of

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section
    from geometry.outline import Outline

Solids = list[tuple[str, Any]]
"""Material and solid, z = 0 on the landing, z outboard, mm."""


def _prism(outline: Outline, bottom: float, top: float) -> Any:
    import cadquery as cq

    face = cq.Face.makeFromWires(wire_of(outline))
    return cq.Solid.extrudeLinear(face, cq.Vector(0, 0, top - bottom)).translate(cq.Vector(0, 0, bottom))


def _block(length: float, width: float, height: float, place: Any, angle: float, *, shift: float) -> Any:
    """A block on the landing; ``shift`` moves it square to the edge, positive inwards."""
    import cadquery as cq

    box = cq.Solid.makeBox(length, width, height, cq.Vector(-length / 2, shift - width / 2, 0))
    return box.rotate(cq.Vector(0, 0, 0), cq.Vector(0, 0, 1), angle).translate(cq.Vector(place.x, place.y, 0))


def solids_of(detail: Detail) -> Solids:
    """The parts of a pane with an upright recess wall and no fillet."""
    curves, sizes = detail.curves, detail.sizes
    bond, skin = sizes.bond_thickness.value, sizes.recess_depth.value
    face = bond + detail.glass.thickness
    frame = _prism(offset(curves.recess, FRAME_BEYOND), -FRAME_BELOW, skin)
    frame = frame.cut(_prism(curves.recess, 0.0, skin)).cut(_prism(curves.sight_line, -FRAME_BELOW, 0.0))
    found: Solids = [("frame", frame)]
    level = face
    for ply in detail.glass.plies:
        found.append((ply.material, _prism(curves.glass, level - ply.thickness, level)))
        level -= ply.thickness
    found.append(("adhesive", _prism(curves.bead_outer, 0.0, bond).cut(_prism(curves.bead_inner, 0.0, bond))))
    low = min(face, skin) - sizes.backfill_depth.value
    found.append(("sealant", _prism(curves.recess, low, min(face, skin)).cut(_prism(curves.glass, low, min(face, skin)))))
    for spacer in detail.spacers:
        place = spacer.centre, spacer.angle
        found.append(("spacer", _block(sizes.spacer_length.value, sizes.spacer_width.value, bond, *place, shift=0.0)))
    for chock in detail.chocks:
        found.append(("chock", _block(chock.length, chock.height, chock.depth, chock.foot, chock.angle, shift=-chock.height / 2)))
    return found


def cut_at(solids: Solids, section: Section) -> Solids:
    """The faces that the plane of a section cuts, laid in the plane z = 0: x from the recess wall inwards, y outboard."""
    import cadquery as cq

    station, crossing = section.station, section.crossing
    wall = cq.Vector(
        station.point.x + station.outward.x * crossing.glass_edge, station.point.y + station.outward.y * crossing.glass_edge, 0
    )
    inward = cq.Vector(-station.outward.x, -station.outward.y, 0)
    plane = cq.Plane(wall, inward, inward.cross(cq.Vector(0, 0, 1)))
    left, right = -FRAME_BEYOND, max(crossing.landing, crossing.frit_inner) + GLASS_BEYOND
    corners = [(left, -FRAME_BELOW), (right, -FRAME_BELOW), (right, 200.0), (left, 200.0)]
    window = cq.Face.makeFromWires(cq.Wire.makePolygon([plane.toWorldCoords(corner) for corner in corners], close=True))
    back = cq.Location(plane).inverse
    found = [(material, window.intersect(solid)) for material, solid in solids]
    return [(material, cut.moved(back)) for material, cut in found if cut.Faces()]


def export(detail: Detail, folder: Path) -> dict[str, dict[str, float]]:
    """Write every view as SVG and DXF; of each section the cut area by material, mm²."""
    import cadquery as cq
    from cadquery import exporters

    solids = solids_of(detail)
    seen = {"showAxes": False, "showHidden": False, "projectionDir": (0, 0, 1)}

    def written(name: str, drawn: Any, outlines: Any) -> None:
        exporters.export(drawn, str(folder / f"{name}.svg"), "SVG", opt=seen)
        exporters.export(outlines, str(folder / f"{name}.dxf"), "DXF")

    lowest = [(face, face.BoundingBox().zmin) for _, solid in solids for face in cq.Workplane(solid).faces("<Z").vals()]
    flat = cq.Compound.makeCompound([face.translate(cq.Vector(0, 0, -low)) for face, low in lowest])
    written("top", cq.Compound.makeCompound([solid for _, solid in solids]), flat)
    areas: dict[str, dict[str, float]] = {}
    for section in detail.sections:
        cut = cut_at(solids, section)
        faces = cq.Compound.makeCompound([face for _, face in cut])
        written(section.letter, faces, faces)
        areas[section.letter] = {}
        for material, face in cut:
            areas[section.letter][material] = areas[section.letter].get(material, 0.0) + face.Area()
    return areas


def main() -> None:
    """Export one pane of a job."""
    from geometry.detail.build import build_detail
    from geometry.job import read_job

    job = read_job(Path(sys.argv[1]))
    pane = next(pane for pane in job.panes if pane.code == sys.argv[2])
    folder = Path(sys.argv[3])
    folder.mkdir(parents=True, exist_ok=True)
    for letter, found in export(build_detail(job, pane), folder).items():
        print(letter, ", ".join(f"{material} {area:.2f} mm²" for material, area in found.items()))


if __name__ == "__main__":
    main()
