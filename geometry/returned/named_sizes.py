"""The sizes of a returned outline by the pane's own names: edge to edge, lengths, diagonals, radii, and where each corner came to lie.

A size needs no alignment beyond telling which side is which: it is taken from lines and circles fitted to the returned outline, so that an
outline cut up into hundreds of short lines has the same sizes as the one it was.

Terms
-----
laid
    The returned outline as it was laid on the issued one, mm.
edge to edge
    Between two parallel sides that look away from each other, square to the first, from the middle of it.
drawn by
    Of what the returned outline is made in a corner: an arc is drawn by all of its places, a run of short lines by their ends only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.near import nearest, spread
from geometry.detail.edges import ROUND, sides_of
from geometry.outline import Arc, Corner, Outline, Point, bounding_box, corners, perimeter, segments

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.compare.near import Floats
    from geometry.detail.edges import Edge

MIDDLE = 0.1
"""Share of a side left out at each of its ends: there a greater radius may have taken the place of the side."""
PARALLEL = math.radians(0.5)
"""Turn up to which two sides are parallel."""
OFF_SIDE = 0.01
"""mm beyond which a place is no longer on the side beside a corner."""
ROUNDS = 12
"""Rounds in which places that do not belong to a line or circle are left out."""
PLACES = 1500
"""Places all round from which lines are fitted."""


@dataclass(frozen=True, slots=True)
class NamedSize:
    """One size, mm; ``returned`` is None where the returned outline has no such thing. ``parts`` are the edges or corners between."""

    name: str
    parts: tuple[str, ...]
    issued: float
    returned: float | None
    limit: float

    @property
    def difference(self) -> float | None:
        """Returned less issued, mm."""
        return None if self.returned is None else self.returned - self.issued

    @property
    def over(self) -> bool:
        """Whether it differs by more than its limit, or is not there."""
        return self.difference is None or abs(self.difference) > self.limit + 1e-9


@dataclass(frozen=True, slots=True)
class CornerMove:
    """Where the sharp corner of two sides was issued and where it came to lie, mm; None where a side beside it is not there."""

    name: str
    issued: Point
    returned: Point | None

    @property
    def apart(self) -> float | None:
        """How far it moved, mm."""
        return None if self.returned is None else math.dist(self.issued, self.returned)


@dataclass(frozen=True, slots=True)
class _Side:
    """A straight line fitted to a side of the returned outline: a point of it and its direction."""

    point: Point
    way: Point

    def off(self, places: Floats) -> Floats:
        """Signed distances of places, mm, positive on the right of the way: outside."""
        off: Floats = (places[:, 0] - self.point.x) * self.way.y - (places[:, 1] - self.point.y) * self.way.x
        return off


@dataclass(frozen=True, slots=True)
class _Drawing:
    """The returned outline with its fitted sides, by name, and for each place of it whether a circle may be fitted to it."""

    places: Floats
    drawn_by: Floats
    sides: dict[str, _Side]
    on: Floats  # feet of ``drawn_by`` on the issued outline


def named_sizes(issued: Outline, laid: Outline, *, limit: float) -> tuple[NamedSize, ...]:
    """Every size of the issued outline and what it is on the laid one.

    >>> from geometry.outline import rectangle
    >>> for size in named_sizes(rectangle(100, 50, radius=10), rectangle(102, 50, radius=12), limit=0.5)[:3]:
    ...     size.name, size.issued, round(size.returned, 6), size.over
    ('e2 to e4', 100.0, 102.0, True)
    ('e1 to e3', 50.0, 50.0, False)
    ('V1 to V3', 111.80339887498948, 113.595775, True)
    """
    drawing = _drawn(issued, laid)
    return tuple(_sizes(issued, laid, drawing, limit))


def corner_moves(issued: Outline, laid: Outline) -> tuple[CornerMove, ...]:
    """Every sharp corner between two sides and where it lies on the laid outline.

    >>> from geometry.outline import rectangle
    >>> corner_moves(rectangle(100, 50, radius=10), rectangle(102, 50, radius=10))[1].returned
    Point(x=102.0, y=0.0)
    """
    drawing = _drawn(issued, laid)
    return tuple(
        CornerMove(f"V{corner.number}", corner.theoretical, _met(drawing, before, after))
        for corner, before, after in _cornered(issued)
    )


def _sizes(issued: Outline, laid: Outline, drawing: _Drawing, limit: float) -> Iterator[NamedSize]:
    sides, cornered = sides_of(issued), _cornered(issued)
    opposite = _opposite(sides)
    for one, other in opposite:
        yield NamedSize(
            f"{one.name} to {other.name}", (one.name, other.name), _between(one, other), _found(drawing, one, other), limit
        )
    paired = {frozenset((one.name, other.name)) for one, other in opposite}
    for one_end, other_end in _neighbours(cornered):
        if frozenset((one_end[1].name, other_end[2].name)) not in paired:
            yield _from_to(drawing, one_end, other_end, one_end[2].name, limit)
    for one_end, across in _diagonals(cornered):
        yield _from_to(drawing, one_end, across, f"V{one_end[0].number} to V{across[0].number}", limit)
    yield from _over_all(issued, laid, [_between(one, other) for one, other in opposite], limit)
    for corner, before, after in cornered:
        name = f"V{corner.number}"
        yield NamedSize(f"radius at {name}", (name,), corner.radius, _radius(drawing, corner, before, after), limit)


def _over_all(issued: Outline, laid: Outline, told: list[float], limit: float) -> Iterator[NamedSize]:
    """Width and height over all, where no two edges give them; of a round outline these are its sizes."""
    was, now = bounding_box(issued), bounding_box(laid)
    for name, before, after in (("width over all", was.width, now.width), ("height over all", was.height, now.height)):
        if all(abs(before - each) > 1e-6 for each in told):
            yield NamedSize(name, (ROUND,), before, after, limit)


def _cornered(issued: Outline) -> list[tuple[Corner, Edge, Edge]]:
    """Every corner with the side that arrives at it and the side that leaves it."""
    sides = sides_of(issued)
    found = []
    for corner in corners(issued):
        before = next((side for side in sides if math.dist(side.at(side.last), corner.tangent_before) < 1e-6), None)
        after = next((side for side in sides if math.dist(side.at(side.first), corner.tangent_after) < 1e-6), None)
        if before is not None and after is not None:
            found.append((corner, before, after))
    return found


_Cornered = tuple[Corner, "Edge", "Edge"]


def _neighbours(cornered: list[_Cornered]) -> list[tuple[_Cornered, _Cornered]]:
    """Each two corners at the ends of one side."""
    return [(one, other) for one in cornered for other in cornered if one is not other and one[2] is other[1]]


def _diagonals(cornered: list[_Cornered]) -> list[tuple[_Cornered, _Cornered]]:
    """Corners across: of four both diagonals, of more each with the one half way round."""
    count = len(cornered)
    if count < 4:
        return []
    return [(cornered[i], cornered[i + count // 2]) for i in range((count + 1) // 2)]


def _opposite(sides: tuple[Edge, ...]) -> list[tuple[Edge, Edge]]:
    """Pairs of parallel sides that look away from each other, the widest apart first."""
    found = []
    for index, one in enumerate(sides):
        for other in sides[index + 1 :]:
            across = one.direction.x * other.direction.y - one.direction.y * other.direction.x
            along = one.direction.x * other.direction.x + one.direction.y * other.direction.y
            if abs(across) <= math.sin(PARALLEL) and along < 0 < _between(one, other) and _overlap(one, other):
                found.append((one, other))
    return sorted(found, key=lambda pair: -round(_between(*pair), 6))


def _overlap(one: Edge, other: Edge) -> bool:
    """Whether two sides stand across from each other somewhere."""
    ends = sorted((one.distance_of(other.at(other.first)), one.distance_of(other.at(other.last))))
    return max(ends[0], one.first) < min(ends[1], one.last)


def _between(one: Edge, other: Edge) -> float:
    """Distance of one side's middle inwards to the line of the other, mm."""
    middle, place = one.at(one.middle), other.at(other.middle)
    return (middle.x - place.x) * one.outward.x + (middle.y - place.y) * one.outward.y


def _found(drawing: _Drawing, one: Edge, other: Edge) -> float | None:
    """The same on the returned outline, square to the first of both as it was issued."""
    first, second = drawing.sides.get(one.name), drawing.sides.get(other.name)
    if first is None or second is None:
        return None
    middle = one.at(one.middle)
    inward = Point(-first.way.y, first.way.x)
    start = _along_ray(first, middle, inward)
    end = _along_ray(second, middle, inward)
    return None if start is None or end is None else end - start


def _along_ray(side: _Side, origin: Point, way: Point) -> float | None:
    """How far from an origin, mm, a straight line in a direction meets a side's line; None where it runs along it."""
    slope = way.x * side.way.y - way.y * side.way.x
    if abs(slope) < 1e-9:
        return None
    return ((side.point.x - origin.x) * side.way.y - (side.point.y - origin.y) * side.way.x) / slope


def _from_to(drawing: _Drawing, one: _Cornered, other: _Cornered, name: str, limit: float) -> NamedSize:
    """From sharp corner to sharp corner."""
    first, second = _met(drawing, one[1], one[2]), _met(drawing, other[1], other[2])
    parts = (f"V{one[0].number}", f"V{other[0].number}")
    returned = None if first is None or second is None else math.dist(first, second)
    return NamedSize(name, parts, math.dist(one[0].theoretical, other[0].theoretical), returned, limit)


def _met(drawing: _Drawing, before: Edge, after: Edge) -> Point | None:
    """Where two fitted sides cross."""
    one, other = drawing.sides.get(before.name), drawing.sides.get(after.name)
    if one is None or other is None:
        return None
    along = _along_ray(other, one.point, one.way)
    if along is None:
        return None
    # a millionth of a millimetre is no place
    return Point(round(one.point.x + along * one.way.x, 9) + 0.0, round(one.point.y + along * one.way.y, 9) + 0.0)


@lru_cache(maxsize=2)  # sizes and corners of a comparison ask for the same one
def _drawn(issued: Outline, laid: Outline) -> _Drawing:
    whole = perimeter(laid)
    dense = spread(laid, spacing=whole / PLACES, least=2).places
    near = nearest(issued, dense)
    sides: dict[str, _Side] = {}
    for side in sides_of(issued):
        along = (near.foot - np.array(side.origin)) @ np.array(side.direction)
        on_line = np.abs((near.foot - np.array(side.origin)) @ np.array(side.outward)) < 1e-6
        cut = MIDDLE * side.straight
        chosen = dense[on_line & (along >= side.first + cut) & (along <= side.last - cut)]
        fitted = _line(chosen, side) if len(chosen) >= 2 else None
        if fitted is not None:
            sides[side.name] = fitted
    drawn_by = _drawn_by(laid)
    return _Drawing(dense, drawn_by, sides, nearest(issued, drawn_by).foot)


def _drawn_by(laid: Outline) -> Floats:
    """Every vertex, and places inside each arc."""
    places = [
        part.point_at(step / count)
        for part in segments(laid)
        for count in (24 if isinstance(part, Arc) else 1,)
        for step in range(count)
    ]
    return np.array(places, dtype=float)


def _line(places: Floats, side: Edge) -> _Side | None:
    """The straight line through places by least squares; those that do not lie on it are left out, round by round."""
    for _ in range(ROUNDS):
        middle = places.mean(axis=0)
        off = places - middle
        _, _, ways = np.linalg.svd(off, full_matrices=False)
        way = ways[0] * np.sign(ways[0] @ np.array(side.direction))
        if abs(float(np.hypot(*way)) - 1.0) > 1e-6:
            return None
        miss = np.abs(off[:, 0] * way[1] - off[:, 1] * way[0])
        kept = miss <= max(3.0 * float(np.median(miss)), 1e-6)
        if kept.all() or kept.sum() < 2:
            break
        places = places[kept]
    return _Side(Point(float(middle[0]), float(middle[1])), Point(float(way[0]), float(way[1])))


def _radius(drawing: _Drawing, corner: Corner, before: Edge, after: Edge) -> float | None:
    """The radius in a corner of the returned outline; 0 where it is sharp, None where it is no arc or a side is not there."""
    one, other = drawing.sides.get(before.name), drawing.sides.get(after.name)
    if one is None or other is None:
        return None
    near = np.hypot(*(drawing.on - np.array(corner.on_glass)).T)
    reach = min(before.straight, after.straight) / 2.0 + max(
        math.dist(corner.tangent_before, corner.on_glass), math.dist(corner.tangent_after, corner.on_glass)
    )
    places = drawing.drawn_by[near <= reach]
    off = np.maximum(np.abs(one.off(places)), 0.0), np.abs(other.off(places))
    curved = places[(off[0] > OFF_SIDE) & (off[1] > OFF_SIDE)]
    if len(curved) < 3:
        return 0.0
    return _circle(curved)


def _circle(places: Floats) -> float | None:
    """The radius of the circle through places, first by algebra, then by true distances; None where they lie on none."""
    middle = places.mean(axis=0)
    x, y = (places - middle).T
    rows = np.stack((2 * x, 2 * y, np.ones(len(x))), axis=1)
    a, b, c = np.linalg.lstsq(rows, x * x + y * y, rcond=None)[0]
    radius = math.sqrt(max(float(c + a * a + b * b), 0.0))
    for _ in range(ROUNDS):
        gap = np.hypot(x - a, y - b)
        if not np.all(gap > 1e-12) or radius <= 0.0:
            return None
        slope = np.stack(((a - x) / gap, (b - y) / gap, -np.ones(len(x))), axis=1)
        change = np.linalg.lstsq(slope, radius - gap, rcond=1e-12)[0]
        a, b, radius = a + change[0], b + change[1], radius + float(change[2])
    off = np.abs(np.hypot(x - a, y - b) - radius)
    return radius if float(np.median(off)) <= max(0.05, 0.002 * radius) else None


__all__ = ["CornerMove", "NamedSize", "corner_moves", "named_sizes"]
