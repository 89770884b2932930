"""What of a pane's outline is dimensioned: its points, its sides from point to point, its radii and diagonals.

Terms
-----
point
    A corner, sharp as it would be without its rounding, or where an arc of the outline meets its neighbour. V1, V2 ... counter-clockwise.
side
    What runs from one point to the next: straight, or an arc with its radius and rise.
rise
    How far an arc stands off its chord.
round pane
    A circle or an ellipse: no point is measured on it, its axes are.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import Arc, Line, Outline, Point, bounding_box, corners, point_in, segments
from geometry.outline.corners import numbers_from_first
from outputs.files.cut_dxf import circle_of

if TYPE_CHECKING:
    from geometry.outline import Corner

MANY_ARCS = 13  # arcs of an outline from which it counts as one curve, as an ellipse is one
SHORT = 1e-6


@dataclass(frozen=True, slots=True)
class ShapePoint:
    """A point that sizes run to; ``corner`` where it is a corner."""

    name: str
    at: Point
    corner: Corner | None

    @property
    def outward(self) -> Point | None:
        """Unit vector out of the glass, where it is a corner."""
        return None if self.corner is None else Point(-self.corner.bisector.x, -self.corner.bisector.y)

    @property
    def rounding(self) -> tuple[Point, float]:
        """Middle and radius, mm, of what a tape reaches over; the point itself and 0 where nothing is rounded."""
        return (self.at, 0.0) if self.corner is None else self.corner.rounding


@dataclass(frozen=True, slots=True)
class ShapeSide:
    """A side from a point to the next, with its arc where it is one."""

    first: ShapePoint
    last: ShapePoint
    arc: Arc | None = None

    @property
    def length(self) -> float:
        """From point to point, straight, mm."""
        return math.dist(self.first.at, self.last.at)

    @property
    def rise(self) -> float:
        """Rise of its arc, mm; 0 of a straight side."""
        return 0.0 if self.arc is None else self.arc.radius * (1.0 - math.cos(self.arc.sweep / 2.0))


@dataclass(frozen=True, slots=True)
class Shape:
    """Points and sides of an outline; both empty on a round pane, whose ``diameter`` is given where it is a circle."""

    points: tuple[ShapePoint, ...]
    sides: tuple[ShapeSide, ...]
    diameter: float | None = None

    @property
    def round(self) -> bool:
        """Whether there is no point on it to measure from."""
        return not self.points

    @property
    def rectangle(self) -> bool:
        """Whether it is a rectangle, roundings aside."""
        square = all(point.corner is not None and abs(point.corner.interior_angle - 90.0) < 1e-6 for point in self.points)
        return len(self.points) == 4 and square and not any(side.arc for side in self.sides)


def shape_of(outline: Outline) -> Shape:
    """The shape of an outline."""
    circle = circle_of(outline)
    if circle is not None:
        return Shape((), (), 2.0 * circle[2])
    sharp = corners(outline)
    roundings = {corner.tangent_before: corner for corner in sharp if corner.radius > 0.0}
    ends = {corner.tangent_after: corner for corner in sharp}
    parts = segments(outline)
    free = [part for part in parts if isinstance(part, Arc) and _at(roundings, part.start) is None and not _inside(part, sharp)]
    if len(free) >= MANY_ARCS:
        return Shape((), ())
    places: list[tuple[Point, Corner | None]] = []
    arcs: list[Arc | None] = []
    for part in parts:
        if isinstance(part, Arc) and part not in free:
            continue  # it rounds a corner
        corner = _at(ends, part.start) or next((each for each in sharp if math.dist(each.theoretical, part.start) < SHORT), None)
        straight_on = (
            corner is None and isinstance(part, Line) and bool(arcs) and arcs[-1] is None and _straight(places[-1][0], part)
        )
        if straight_on:
            continue
        places.append((part.start if corner is None else corner.theoretical, corner))
        arcs.append(part if isinstance(part, Arc) else None)
    first = next((index for index, (_, corner) in enumerate(places) if corner is not None and corner.number == 1), 0)
    places, arcs = places[first:] + places[:first], arcs[first:] + arcs[:first]
    numbers = numbers_from_first(outline, len(places))
    points = tuple(ShapePoint(f"V{number}", at, corner) for number, (at, corner) in zip(numbers, places, strict=True))
    following = (*points[1:], *points[:1])
    return Shape(points, tuple(ShapeSide(a, b, arc) for a, b, arc in zip(points, following, arcs, strict=True)))


def _at(known: dict[Point, Corner], place: Point) -> Corner | None:
    return next((corner for at, corner in known.items() if math.dist(at, place) < SHORT), None)


def _inside(arc: Arc, sharp: tuple[Corner, ...]) -> bool:
    """Whether an arc is a later piece of a rounding that is written in several."""
    return any(
        corner.radius > 0.0
        and abs(arc.radius - corner.radius) < 1e-4 * corner.radius
        and math.dist(arc.point_at(0.5), corner.theoretical) < math.dist(corner.tangent_before, corner.theoretical)
        for corner in sharp
    )


def _straight(before: Point, part: Line) -> bool:
    """Whether a line goes on as the one from a point to its start does."""
    dx, dy = part.end.x - part.start.x, part.end.y - part.start.y
    ex, ey = part.start.x - before.x, part.start.y - before.y
    return abs(dx * ey - dy * ex) < 1e-6 * math.hypot(dx, dy) * math.hypot(ex, ey)


def diagonals(outline: Outline, shape: Shape) -> tuple[tuple[ShapePoint, ShapePoint], ...]:
    """The two diagonals: of four corners both, of more the two longest that lie on the glass and share no end."""
    points = [point for point in shape.points if point.corner is not None]
    if len(points) != len(shape.points) or len(points) < 4:
        return ()
    if len(points) == 4:
        pairs = [(points[0], points[2]), (points[1], points[3])]
        return tuple(pair for pair in pairs if _on_glass(outline, *pair))
    count = len(points)
    pairs = [
        (a, b)
        for i, a in enumerate(points)
        for j, b in enumerate(points[i + 2 :], start=i + 2)
        if (j - i) % count != count - 1 and _on_glass(outline, a, b)
    ]
    pairs.sort(key=lambda pair: -round(math.dist(pair[0].at, pair[1].at), 6))
    chosen: list[tuple[ShapePoint, ShapePoint]] = []
    for pair in pairs:
        if all(point not in other for other in chosen for point in pair):
            chosen.append(pair)
    return tuple(chosen[:2])


def _on_glass(outline: Outline, first: ShapePoint, last: ShapePoint) -> bool:
    shares = [0.1 + 0.8 * index / 16 for index in range(17)]
    at = [Point(first.at.x + (last.at.x - first.at.x) * s, first.at.y + (last.at.y - first.at.y) * s) for s in shares]
    return all(point_in(outline, place) for place in at)


def extremes(outline: Outline) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of an outline, mm."""
    box = bounding_box(outline)
    return box.left, box.bottom, box.right, box.top


__all__ = ["Shape", "ShapePoint", "ShapeSide", "diagonals", "extremes", "shape_of"]
