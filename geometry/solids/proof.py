"""Each drawn section held against the cut of the bodies at its plane: area, centroid and every node of every material.

Terms
-----
drawn
    The faces of a section as the sheet shows them.
cut
    What a plane square to the glass edge, at the section's station, finds of a body, as far out and in as the section is drawn.
difference
    Where the two do not agree: of area or centroid by more than 1e-6 of the size, of a node by more than 0.001 mm; with its reason where
    the drawing shows something by convention that the body has otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import Outline, Point, Vertex, area, bounding_box, centroid, segments
from geometry.outline.loop import Arc, unit
from geometry.outline.stations import distance_from
from geometry.solids import kernel
from geometry.solids.bodies import bodies_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.detail.parts import CutFace, Detail, Section
    from geometry.solids.bodies import Body
    from geometry.solids.kernel import Shape

    _Cuts = list[tuple[Body, Shape]]

RELATIVE = 1e-6
"""Of area and centroid."""
MATERIALS = ("frame", "glass", "interlayer", "adhesive", "sealant", "backer", "chock", "spacer")
NODE = 0.001
"""mm, of a node."""


@dataclass(frozen=True, slots=True)
class Difference:
    """Where a drawn section and the cut of a body do not agree: the section, the material, how, and why where that is known."""

    section: str
    material: str
    found: str
    reason: str = ""

    def __str__(self) -> str:
        return f"section {self.section}, {self.material}: {self.found}{f' ({self.reason})' if self.reason else ''}"


@dataclass(frozen=True, slots=True)
class _Cut:
    """A cut in the plane of its section: area, centroid and nodes (x, z)."""

    area: float
    centroid: Point
    nodes: tuple[Point, ...]


def sections_proven(detail: Detail, bodies: Sequence[Body] | None = None) -> tuple[Difference, ...]:
    """Every difference between the drawn sections of a detail and its bodies; none where the sections are true.

    Raises
    ------
    SolidError
        Where a body cannot be made.
    """
    bodies = bodies_of(detail) if bodies is None else bodies
    with kernel.explained("the cut of a section plane"):
        planes = [_plane(section, detail.curves.glass) for section in detail.sections]
        cuts: list[_Cuts] = [[] for _ in planes]
        for body in bodies:
            for index, cut in _cuts_of(body.shape, planes):
                cuts[index].append((body, cut))
        found = zip(detail.sections, planes, cuts, strict=True)
        return tuple(each for section, plane, own in found for each in _differences(section, plane, own))


def _cuts_of(shape: Shape, planes: Sequence[_Plane]) -> Iterable[tuple[int, Shape]]:
    """What each plane finds of a body, in the frame of reference of the plane; nothing of a plane that does not meet it.

    The kernel takes most of its time to look at a body, not to cut it: windows that cannot meet each other cut it at once.
    """
    met = [index for index, plane in enumerate(planes) if plane.meets(shape)]
    while met:
        first, *others = met
        group = [first]
        if others and kernel.upright(shape):
            for index in others:
                if all(kernel.apart(planes[index].standing, planes[each].standing) for each in group):
                    group.append(index)
        if len(group) == 1:
            plane = planes[first]
            cut = kernel.common(kernel.seen_from(shape, plane.at, plane.angle), plane.window)
            if kernel.faces_of(cut):
                yield first, cut
        else:
            cut = kernel.common(shape, kernel.together(planes[each].standing for each in group))
            own: dict[int, list[Shape]] = {}
            for face in kernel.faces_of(cut):
                index = next(each for each in group if not kernel.apart(face, planes[each].standing))
                own.setdefault(index, []).append(kernel.seen_from(face, planes[index].at, planes[index].angle))
            yield from ((index, kernel.together(faces)) for index, faces in own.items())
        met = [index for index in met if index not in group]


def _differences(section: Section, plane: _Plane, cuts: _Cuts) -> Iterable[Difference]:
    drawn: dict[str, list[Outline]] = {}
    for face in section.faces:
        drawn.setdefault(face.material, []).append(_outline(face))
    for material in MATERIALS:
        shapes = [plane.as_drawn(cut) for cut in _cut_of(material, cuts)]
        told = "; ".join(_compared(drawn.get(material, []), shapes))
        if told:
            yield Difference(section.letter, material, told, _reason(section, material, [body for body, _ in cuts]))


def _reason(section: Section, material: str, cut: Sequence[Body]) -> str:
    """Why the drawing shows a material otherwise than the body has it, by a convention of the drawing; "": for no reason known.

    A part that is cut and not drawn, or drawn and not cut, is never a convention.
    """
    own = [body for body in cut if body.material == material]
    blocks = [body for body in cut if body.material == "chock"]
    if not own or bool(blocks) != (section.chock is not None) or (material == "spacer" and section.spacer is None):
        return ""
    told = [body.taken for body in own if body.taken and material != "glass"]
    if material == "sealant":
        told += [body.taken for body in blocks if body.taken]
    if material == "spacer" and section.station.curvature:
        told.append("straight: the section draws it as if it followed the round edge")
    return "; ".join(dict.fromkeys(told))


@dataclass(frozen=True, slots=True)
class _Plane:
    """The plane of a section: x outwards along its line from ``at``, which on an arc is its centre.

    So, in its own frame of reference, a cone or torus about that centre stands upright at the origin, and the kernel finds lines and
    circles in it, not approximations.
    """

    at: Point
    angle: float  # degrees
    foot: float  # x of the foot of the recess
    window: Shape

    @property
    def standing(self) -> Shape:
        """The window where it stands in the pane."""
        return kernel.placed(self.window, self.at, self.angle)

    def meets(self, shape: Shape) -> bool:
        """Whether a body may meet the window: most blocks do not, and to see it is far cheaper than to cut them."""
        return not kernel.apart(kernel.seen_from(shape, self.at, self.angle), self.window)

    def as_drawn(self, face: Shape) -> _Cut:
        """A cut face in the coordinates of its section."""
        measured = kernel.surface(face)
        x, _, z = measured.centre
        return _Cut(
            measured.value, Point(self.foot - x, z), tuple(Point(self.foot - x, z) for x, _, z in kernel.corners_of(face))
        )


def _plane(section: Section, glass: Outline) -> _Plane:
    """The plane of a section, as far out and in as it is drawn."""
    xs = [x for face in section.faces for x, _, _ in face.nodes]
    part, station = segments(glass)[section.station.segment], section.station
    out, at = station.outward, station.point
    if isinstance(part, Arc):
        at, side = kernel.settled(part.centre), math.copysign(1.0, part.sweep)
        out = unit(side * (station.point.x - at.x), side * (station.point.y - at.y))
    foot = section.joint_width + (station.point.x - at.x) * out.x + (station.point.y - at.y) * out.y
    window = kernel.window(foot - max(xs), foot - min(xs), -50.0, section.levels.glass_face + 50.0)
    return _Plane(at, math.degrees(math.atan2(out.y, out.x)), foot, window)


def _cut_of(material: str, cuts: _Cuts) -> list[Shape]:
    """The cut faces of one material; enamel and the glass under it are one face, as they are drawn."""
    found = [cut for body, cut in cuts if body.material == material]
    if material == "glass":
        frit = [cut for body, cut in cuts if body.material == "frit"]
        if frit and found:
            found[-1] = kernel.joined(found[-1], frit[0])
    return [face for cut in found for face in kernel.faces_of(cut)]


def _outline(face: CutFace) -> Outline:
    return Outline(tuple(Vertex(*node) for node in face.nodes))


def _compared(drawn: list[Outline], cuts: list[_Cut]) -> Iterable[str]:
    """How the drawn faces of a material and its cuts differ, in words; each face is held against the nearest cut."""
    if len(drawn) != len(cuts):
        if drawn and not cuts:
            yield f"drawn {_several(len(drawn))}, the plane cuts none"
        elif cuts and not drawn:
            yield f"not drawn, the plane cuts {_several(len(cuts))}, {math.fsum(cut.area for cut in cuts):.2f} mm²"
        else:
            yield f"drawn {_several(len(drawn))}, the plane cuts {_several(len(cuts))}"
        return
    left = list(cuts)
    for outline in drawn:
        middle = centroid(outline)
        cut = min(left, key=lambda each: math.dist(each.centroid, middle))
        left.remove(cut)
        yield from _one(outline, cut)


def _several(count: int) -> str:
    return f"{count} face{'s' if count > 1 else ''}"


def _one(outline: Outline, cut: _Cut) -> Iterable[str]:
    own, middle = area(outline), centroid(outline)
    if abs(cut.area - own) > RELATIVE * own:
        yield f"area drawn {own:.4f} mm², cut {cut.area:.4f} mm²"
    box = bounding_box(outline)
    moved = math.dist(cut.centroid, middle)
    if moved > RELATIVE * max(box.width, box.height):
        yield (
            f"centroid drawn at ({middle.x:.4f}, {middle.y:.4f}), cut at ({cut.centroid.x:.4f}, {cut.centroid.y:.4f}) mm from the foot"
        )
    vertices = [Point(each.x, each.y) for each in outline.vertices]
    aside = max((distance_from(outline, node) for node in cut.nodes), default=0.0)
    missing = max(min(math.dist(vertex, node) for node in cut.nodes) for vertex in vertices)
    if max(aside, missing) > NODE:
        yield f"a node lies {max(aside, missing):.4f} mm from where it is drawn"


__all__ = ["NODE", "RELATIVE", "Difference", "sections_proven"]
