"""What an exploded view is made of: the bodies of a pane, whole or a piece of them, pulled apart in the order in which they are fitted.

Terms
-----
piece
    What is cut out at the lower left corner of the pane, where the wall of the recess looks up and towards the eye.
level
    Place in the order of fitting, counted from the frame.
lift
    How far a part is pulled off the frame, along the normal of the pane outboard, mm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.outline import Outline, Point, Vertex, nearest_station, perimeter, point_in, ray_length, station_at
from geometry.outline.stations import places_along
from outputs.drawing.solid_parts import item_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Station
    from geometry.solids.bodies import Body
    from geometry.solids.kernel import Shape

LEVELS: tuple[tuple[str, ...], ...] = (
    ("frame",),
    ("spacer", "chock"),
    ("adhesive",),
    ("frit", "glass", "interlayer"),
    ("backer",),
    ("sealant",),
)
"""Materials in the order of fitting: blocks into the recess, bead, pane with its print, then the joint."""
STEPS = (0.0, 0.4, 0.35, 1.15, 0.45, 0.33)
"""Share of all the lift that each level adds before it is made up to one: what lies behind the pane is to be seen beside it."""
STEPS_OF_RINGS = (0.0, 0.5, 0.5, 1.0, 0.6, 0.4)
"""The same where the whole pane is shown: one looks through its rings."""
SKIPPED = 0.35  # more where a level between is not there
ALONG = 720  # places along an outline at which its lowest left one is looked for
ARM, LONGER = 0.75, 1.1  # of its side, how far a piece runs from its corner, and how far most
INWARD, MEETING = 0.6, 1.15  # of its side, how far a piece runs inwards from the bead, and how far to where both cuts meet
BEYOND = 60.0  # mm that a piece reaches outwards from the recess: over the frame
AROUND = 48  # stretches of its outer edge
NEAR_END = 0.06  # of its side from an end to the place of a trace line
SLIVER = 0.04  # of the largest body of a material, under which what is cut off is left out
DEEP = 1000.0  # mm under and over the landing that a window reaches


@dataclass(frozen=True, eq=False)
class Part:
    """One body where it is fitted; ``middle`` of a block is where it stands on the plan."""

    item: str
    material: str
    level: int
    shape: Shape = field(repr=False)
    middle: Point | None = None

    @property
    def heights(self) -> tuple[float, float]:
        """From where to where it reaches, mm from the landing."""
        from geometry.solids import kernel

        heights = [z for _, _, z in kernel.corners_of(self.shape)]
        return min(heights), max(heights)


@dataclass(frozen=True, slots=True)
class Piece:
    """What is cut out of the plan, and three places on the inner edge of the bead in it: near both ends, and the corner between them."""

    outline: Outline
    spots: tuple[Point, Point, Point]


def piece_of(detail: Detail, side: float) -> Piece:
    """The piece at the lower left corner of the bead, cut square to its edge about ``side`` (mm) to both sides of that corner.

    One side is cut longer where that brings a block into the piece.
    """
    from shapely import Polygon

    inner = detail.curves.bead_inner
    length = perimeter(inner)
    corner = nearest_station(inner, min(_places(inner), key=lambda at: (round(at.x + at.y, 6), at.x))).length_along
    arms = _arms(detail, corner, length, min(ARM * side, 0.4 * length), min(LONGER * side, 0.4 * length))
    ends = [station_at(inner, corner + way) for way in (-arms[0], arms[1])]
    middle = station_at(inner, corner)
    first, last = (_inner_end(one, other, side) for one, other in (ends, ends[::-1]))
    run = [station_at(inner, corner - arms[0] + (arms[0] + arms[1]) * share / AROUND) for share in range(AROUND + 1)]
    beyond = max(ray_length(detail.curves.recess, each.point, each.outward) or 0.0 for each in run) + BEYOND
    corners = [_away(each.point, each.outward, beyond) for each in run]
    inward = [last, *([first] if math.dist(first, last) > 1e-6 else [])]
    if Polygon([*corners, *inward]).is_valid:  # not where the other side of the pane lies just across
        corners += inward
    within = [station_at(inner, corner + way).point for way in (NEAR_END * side - arms[0], arms[1] - NEAR_END * side)]
    outline = Outline(tuple(Vertex(each.x, each.y, 0.0) for each in corners))
    return Piece(outline, (within[0], middle.point, within[1]))


def _arms(detail: Detail, corner: float, length: float, wanted: float, most: float) -> tuple[float, float]:
    """How far a piece runs against and along the bead from its corner: longer on the side on which a spacer is nearest, if none is in it."""
    away = []
    for spacer in detail.spacers:
        along = nearest_station(detail.curves.bead_inner, spacer.centre).length_along
        way = (along - corner + length / 2) % length - length / 2
        away.append(way)
    half = detail.sizes.spacer_length.value / 2 + 6.0
    nearest = min(away, key=abs, default=0.0)
    needed = abs(nearest) + half
    if not away or needed <= wanted or needed > most:
        return wanted, wanted
    return (needed, wanted) if nearest < 0 else (wanted, needed)


def _inner_end(one: Station, other: Station, side: float) -> Point:
    """How far inwards the cut at one end runs: to where it meets that at the other end, if that is not far."""
    a, b = one.outward, other.outward
    across = a.x * b.y - a.y * b.x
    dx, dy = other.point.x - one.point.x, other.point.y - one.point.y
    reach = INWARD * side
    if abs(across) > 1e-9:
        along = -(dx * b.y - dy * b.x) / across
        again = -(dx * a.y - dy * a.x) / across
        if along > 0 and again > 0 and max(along, again) < MEETING * side:
            reach = along
    return _away(one.point, a, -reach)


def _away(at: Point, way: Point, by: float) -> Point:
    return Point(at.x + way.x * by, at.y + way.y * by)


def _places(outline: Outline) -> tuple[Point, ...]:
    return places_along(outline, spacing=perimeter(outline) / ALONG)


def parts_of(detail: Detail, bodies: Sequence[Body], piece: Piece | None) -> tuple[Part, ...]:
    """The bodies, the frame first; of a piece what its window cuts out, blocks whole as far as their middle lies within."""
    from geometry.solids import kernel

    tool, window = None, None
    if piece is not None:
        window = piece.outline
        tool = kernel.prism(window, -DEEP, DEEP)
    found = []
    for body in bodies:
        shape = body.shape
        if window is not None and body.material in ("spacer", "chock"):
            if not point_in(window, body.at):
                continue
        elif tool is not None:
            shape = kernel.common(shape, tool)
        level = level_of(body.material)
        middle = body.at if body.material in ("spacer", "chock") else None
        found += [Part(item_of(detail, body), body.material, level, each, middle) for each in _large(shape)]
    return tuple(sorted(found, key=lambda part: part.level))


def _large(shape: Shape) -> list[Shape]:
    """The solids of a shape without slivers of them."""
    from geometry.solids import kernel

    solids = kernel.solids_of(shape)
    if len(solids) < 2:
        return solids
    sizes = [kernel.volume(each).value for each in solids]
    return [each for each, size in zip(solids, sizes, strict=True) if size > SLIVER * max(sizes)]


def level_of(material: str) -> int:
    """The level at which a material is fitted."""
    return next(number for number, materials in enumerate(LEVELS) if material in materials)


def lifts(parts: Sequence[Part], *, whole: bool) -> dict[int, float]:
    """The lift of each level that is there, the last one being 1."""
    steps = STEPS_OF_RINGS if whole else STEPS
    found, height, before = {}, 0.0, 0
    for level in sorted({part.level for part in parts}):
        height += steps[level] + SKIPPED * (level - before > 1)
        found[level], before = height, level
    return {level: each / height for level, each in found.items()}


def anchors(outline: Outline, piece: Piece | None) -> tuple[Point, ...]:
    """Where trace lines run on an outline: at its corners, or near where a piece of it is cut off and at its corner."""
    if piece is not None:
        return tuple(nearest_station(outline, spot).point for spot in piece.spots)
    places = _places(outline)
    ways = ((1, 1), (-1, -1), (1, -1), (-1, 1))
    found = (max(places, key=lambda at, a=a, b=b: (round(a * at.x + b * at.y, 6), at.x)) for a, b in ways)  # type: ignore[misc]
    return tuple(dict.fromkeys(found))


__all__ = ["LEVELS", "Part", "Piece", "anchors", "level_of", "lifts", "parts_of", "piece_of"]
