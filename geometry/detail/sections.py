"""Sections square to the glass edge: what lies at which distance from the recess wall, and the faces that are cut.

The section plane has x from the wall to the daylight and z from the landing outboard. Where the curves of the plan bend, the crossing is
still measured along the section line, so a section is always what a saw would show there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.detail.parts import Chock, Crossing, Curves, CutFace, Glass, Section, Sizes, Spacer
from geometry.outline import Point, ray_length

if TYPE_CHECKING:
    from geometry.detail.edges import Site
    from geometry.outline import Outline, Station

FRAME_BEYOND = 10.0  # mm of frame drawn beyond wall and landing; its true thickness is the yard's
GLASS_BEYOND = 12.0  # mm of glass drawn beyond the last thing dimensioned

Nodes = tuple[tuple[float, float, float], ...]


class SectionError(ValueError):
    """A section line that misses a curve it must cross."""


def joint_width_at(recess: Outline, station: Station) -> float:
    """Width of the joint at a station: from the glass edge square outwards to the recess wall, negative where the glass cuts into it."""
    out = ray_length(recess, station.point, station.outward)
    back = ray_length(recess, station.point, Point(-station.outward.x, -station.outward.y))
    if out is None or (back is not None and back < out and not _inside(recess, station)):
        return 0.0 if back is None else -back
    return out


def _inside(recess: Outline, station: Station) -> bool:
    from geometry.outline import point_in

    return point_in(recess, station.point)


def crossing_at(curves: Curves, station: Station) -> Crossing:
    """Where the section line through a station meets every curve, measured from the recess wall.

    Raises
    ------
    SectionError
        When the line does not meet a curve.
    """
    inward = Point(-station.outward.x, -station.outward.y)
    joint = joint_width_at(curves.recess, station)

    def reach(outline: Outline, name: str) -> float:
        distance = ray_length(outline, station.point, inward)
        if distance is None:
            raise SectionError(f"the section at ({station.point.x:.0f}, {station.point.y:.0f}) does not meet {name}")
        return joint + distance

    start = 0.0 if curves.frit_outer == curves.glass else reach(curves.frit_outer, "the outer edge of the frit") - joint
    return Crossing(
        glass_edge=joint,
        frit_start=joint + start,
        bead_outer=reach(curves.bead_outer, "the outer edge of the bead"),
        bead_centre=reach(curves.bead_centre, "the bead's centre line"),
        bead_inner=reach(curves.bead_inner, "the inner edge of the bead"),
        landing=reach(curves.sight_line, "the edge of the landing"),
        frit_inner=reach(curves.frit_inner, "the inner edge of the frit"),
        frit_fade=None if curves.frit_fade is None else reach(curves.frit_fade, "the edge of the solid frit"),
    )


def _box(left: float, bottom: float, right: float, top: float) -> Nodes:
    return (left, bottom, 0.0), (right, bottom, 0.0), (right, top, 0.0), (left, top, 0.0)


def cut_faces(
    crossing: Crossing, sizes: Sizes, glass: Glass, *, chock: Chock | None, spacer: Spacer | None
) -> tuple[CutFace, ...]:
    """The faces that the section plane cuts, in the order in which they are drawn; the frit is thinner than a line and has none."""
    x = crossing
    bond, total = sizes.bond_thickness.value, glass.thickness
    skin = sizes.recess_depth.value
    end = max(x.landing, x.frit_inner) + GLASS_BEYOND
    faces = [
        CutFace(
            "frame",
            (
                (-FRAME_BEYOND, -FRAME_BEYOND * 0.7, 0.0),
                (x.landing, -FRAME_BEYOND * 0.7, 0.0),
                (x.landing, 0.0, 0.0),
                (0.0, 0.0, 0.0),
                (0.0, skin, 0.0),
                (-FRAME_BEYOND, skin, 0.0),
            ),
        )
    ]
    level = bond + total
    for ply in glass.plies:
        faces.append(CutFace(ply.material, _box(x.glass_edge, level - ply.thickness, end, level)))
        level -= ply.thickness
    faces.append(CutFace("adhesive", _box(x.bead_outer, 0.0, x.bead_inner, bond)))
    if x.glass_edge > 0:
        faces += joint_faces(x.glass_edge, sizes, glass, chock)
    if spacer is not None:
        width = sizes.spacer_width.value
        first = x.glass_edge + (sizes.set_back.value - width) / 2
        faces.append(CutFace("spacer", _box(first, 0.0, first + width, bond)))
    return tuple(faces)


def joint_faces(joint: float, sizes: Sizes, glass: Glass, chock: Chock | None) -> list[CutFace]:
    """Backfill over its backer, or over the chock where one stands; the backfill's outer face is the lower of skin and glass."""
    bond = sizes.bond_thickness.value
    glass_top, skin = bond + glass.thickness, sizes.recess_depth.value
    over = sizes.chock_backfill_over.value if chock is not None else sizes.backfill_depth.value
    bottom = min(glass_top, skin) - over
    backfill = CutFace("sealant", ((0.0, bottom, 0.0), (joint, bottom, 0.0), (joint, glass_top, 0.0), (0.0, skin, 0.0)))
    if chock is not None:
        return [CutFace("chock", _box(0.0, 0.0, joint, min(chock.depth, bottom))), backfill]
    return [_backer(joint, bottom, sizes.backer_diameter.value), backfill]


def _backer(joint: float, top: float, diameter: float) -> CutFace:
    """A round backer pressed into the joint: flat on both faces, its depth keeping its area; where it finds no room, a strip of tape."""
    depth = min(diameter * diameter * 0.7854 / joint, 1.6 * diameter)
    if depth > top:
        strip = min(0.6, top)
        return CutFace("backer", _box(0.0, top - strip, joint, top))
    bulge = 0.2
    sagitta = bulge * joint / 2
    return CutFace(
        "backer", ((0.0, top - depth + sagitta, bulge), (joint, top - depth + sagitta, 0.0), (joint, top, 0.0), (0.0, top, 0.0))
    )


def section_at(
    letter: str,
    title: str,
    site: Site,
    curves: Curves,
    sizes: Sizes,
    glass: Glass,
    *,
    chock: Chock | None = None,
    spacer: Spacer | None = None,
) -> Section:
    """One complete section."""
    crossing = crossing_at(curves, site.station)
    return Section(
        letter=letter,
        title=title,
        station=site.station,
        crossing=crossing,
        faces=cut_faces(crossing, sizes, glass, chock=chock, spacer=spacer),
        joint_width=crossing.glass_edge,
        chock=chock,
        spacer=spacer,
    )
