"""How much room the spacer blocks leave one another, and how far each stands inside the straight of its edge.

Terms
-----
footprint
    The rectangle that a spacer covers on the landing, seen from outside: its length along the glass edge, its width across it.
clear
    Distance between two footprints, mm; negative: how deep one lies in the other.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from geometry.detail.edges import edges_of
from geometry.outline import Point

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Spacer

Footprint = tuple[Point, Point, Point, Point]


class Neighbours(NamedTuple):
    """The two spacers that stand nearest to each other."""

    clear: float  # mm
    marks: tuple[str, str]


class EndRoom(NamedTuple):
    """The spacer whose end comes nearest to, or farthest beyond, the end of the straight it stands on."""

    room: float  # mm; negative: beyond the straight
    mark: str
    edge: str
    straight: float  # mm, of that edge


def footprint(spacer: Spacer, length: float, width: float) -> Footprint:
    """Corners of a spacer's rectangle, counter-clockwise."""
    turn = math.radians(spacer.angle)
    along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))

    def corner(side: float, depth: float) -> Point:
        return Point(
            spacer.centre.x + side * length / 2 * along[0] + depth * width / 2 * across[0],
            spacer.centre.y + side * length / 2 * along[1] + depth * width / 2 * across[1],
        )

    return corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)


def nearest_spacers(detail: Detail) -> Neighbours | None:
    """The two spacers with the least room between them; None for fewer than two."""
    length, width = detail.sizes.spacer_length.value, detail.sizes.spacer_width.value
    reach = math.hypot(length, width)
    placed = sorted(((spacer, footprint(spacer, length, width)) for spacer in detail.spacers), key=lambda each: each[0].centre.x)
    best: Neighbours | None = None
    for index, (one, its) in enumerate(placed):
        for other, theirs in placed[index + 1 :]:
            if best is not None and other.centre.x - one.centre.x - reach > best.clear:
                break  # those behind it stand farther off still
            if best is not None and math.dist(one.centre, other.centre) - reach > best.clear:
                continue
            found = clear_between(its, theirs)
            if best is None or found < best.clear - 1e-9:
                best = Neighbours(found, (one.mark, other.mark))
    return best


def clear_between(one: Footprint, other: Footprint) -> float:
    """Distance of two rectangles; negative: the least shift that would part them.

    >>> square = (Point(0, 0), Point(1, 0), Point(1, 1), Point(0, 1))
    >>> moved = tuple(Point(x + 4, y + 5) for x, y in square)
    >>> clear_between(square, moved), clear_between(square, tuple(Point(x + 0.75, y) for x, y in square))
    (5.0, -0.25)
    """
    apart = max(_apart(along, one, other) for shape in (one, other) for along in _directions(shape))
    if apart <= 0:
        return apart
    return min(
        _to_side(point, start, end)
        for corners, shape in ((one, other), (other, one))
        for point in corners
        for start, end in zip(shape, (*shape[1:], shape[0]), strict=True)
    )


def _directions(shape: Footprint) -> list[Point]:
    sides = [(shape[1].x - shape[0].x, shape[1].y - shape[0].y), (shape[2].x - shape[1].x, shape[2].y - shape[1].y)]
    return [Point(x / math.hypot(x, y), y / math.hypot(x, y)) for x, y in sides]


def _apart(along: Point, one: Footprint, other: Footprint) -> float:
    first = [point.x * along.x + point.y * along.y for point in one]
    second = [point.x * along.x + point.y * along.y for point in other]
    return max(min(first) - max(second), min(second) - max(first))


def _to_side(point: Point, start: Point, end: Point) -> float:
    x, y = end.x - start.x, end.y - start.y
    share = min(1.0, max(0.0, ((point.x - start.x) * x + (point.y - start.y) * y) / (x * x + y * y)))
    return math.dist(point, (start.x + share * x, start.y + share * y))


def least_end_room(detail: Detail) -> EndRoom | None:
    """The spacer that has the least room on the straight of its edge; None where none stands on a straight edge."""
    half = detail.sizes.spacer_length.value / 2
    edges = {edge.name: edge for edge in edges_of(detail.curves.glass)}
    rooms = [
        EndRoom(min(spacer.distance - edge.first, edge.last - spacer.distance) - half, spacer.mark, edge.name, edge.straight)
        for spacer in detail.spacers
        if (edge := edges.get(spacer.edge)) is not None
    ]
    return min(rooms, key=lambda each: round(each.room, 9), default=None)


__all__ = ["EndRoom", "Neighbours", "clear_between", "footprint", "least_end_room", "nearest_spacers"]
