"""Corners and straight runs of an outline.

Terms
-----
corner
    A sharp vertex between two lines, or an arc of less than half a turn tangent to the lines on both its sides.
theoretical corner
    Where the two lines would meet without the rounding.
straight run
    A straight side between roundings; neighbours in one line count as one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from geometry.outline.loop import Arc, Line, Outline, Point, Segment, segments, turned, unit

TANGENT = 1e-6  # radians within which two directions count as one


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner; ``interior_angle`` in degrees, over 180 where it is re-entrant. ``bisector`` points into the glass."""

    number: int
    theoretical: Point
    interior_angle: float
    radius: float
    tangent_before: Point
    tangent_after: Point
    bisector: Point

    @property
    def convex(self) -> bool:
        """Whether the corner points out of the glass."""
        return self.interior_angle < 180.0


@dataclass(frozen=True, slots=True)
class StraightRun:
    """A straight side: ``length_along`` is the length along the outline at its start."""

    start: Point
    end: Point
    direction: Point
    outward: Point
    length: float
    length_along: float


def _turn(before: Point, after: Point) -> float:
    return math.atan2(before.x * after.y - before.y * after.x, before.x * after.x + before.y * after.y)


@lru_cache(maxsize=256)
def straight_runs(outline: Outline) -> tuple[StraightRun, ...]:
    """Straight sides counter-clockwise, the first one that leaves corner 1 first.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> [run.length for run in straight_runs(rectangle(100, 50, radius=10))]
    [80.0, 30.0, 80.0, 30.0]
    >>> straight_runs(circle(100))
    ()
    """
    parts = segments(outline)
    along, groups = 0.0, list[list[tuple[float, Line]]]()
    previous: Segment | None = None
    for part in parts:
        if isinstance(part, Line):
            straight_on = isinstance(previous, Line) and abs(_turn(previous.tangent_at(0), part.tangent_at(0))) < TANGENT
            if straight_on:
                groups[-1].append((along, part))
            else:
                groups.append([(along, part)])
        previous = part
        along += part.length
    last, first = parts[-1], parts[0]
    if (
        len(groups) > 1
        and isinstance(last, Line)
        and isinstance(first, Line)
        and abs(_turn(last.tangent_at(0), first.tangent_at(0))) < TANGENT
    ):
        groups[0] = groups.pop() + groups[0]
    found = []
    for group in groups:
        start, end = group[0][1].start, group[-1][1].end
        way = unit(end.x - start.x, end.y - start.y)
        found.append(StraightRun(start, end, way, Point(way.y, -way.x), math.dist(start, end), group[0][0]))
    return tuple(found)


@lru_cache(maxsize=256)
def corners(outline: Outline) -> tuple[Corner, ...]:
    """Corners counter-clockwise, number 1 at the start of the first straight run.

    >>> from geometry.outline.shapes import rectangle
    >>> first = corners(rectangle(100, 50, radius=10))[0]
    >>> first.theoretical, first.interior_angle, first.radius
    (Point(x=0.0, y=0.0), 90.0, 10.0)
    """
    runs = straight_runs(outline)
    found: list[Corner] = []
    for index, after in enumerate(runs):
        before = runs[index - 1]
        between = _between(outline, before, after)
        turn = _turn(before.direction, after.direction)
        if len(runs) < 2 or abs(turn) < TANGENT or len(between) > 1:
            continue
        radius = 0.0
        if between:
            arc = between[0]
            if (
                abs(arc.sweep) >= math.pi - 1e-9
                or abs(_turn(before.direction, arc.tangent_at(0))) > 1e-5
                or abs(_turn(arc.tangent_at(1), after.direction)) > 1e-5
            ):
                continue
            radius = arc.radius
        theoretical = _meet(before, after)
        inward = turned(Point(-after.outward.x, -after.outward.y), -turn / 2)
        number = len(found) + 1
        found.append(
            Corner(
                number, theoretical, round(180.0 - math.degrees(turn), 12), _clean(radius), before.end, after.start, unit(*inward)
            )
        )
    return tuple(found)


def _clean(value: float) -> float:
    return round(value, 9)


def _between(outline: Outline, before: StraightRun, after: StraightRun) -> list[Arc]:
    """The segments between two runs that follow each other; two entries where they are not one arc."""
    parts = segments(outline)
    start = next(i for i, part in enumerate(parts) if isinstance(part, Line) and part.end == before.end)
    found: list[Arc] = []
    for step in range(1, len(parts) + 1):
        part = parts[(start + step) % len(parts)]
        if isinstance(part, Line):
            return found
        found.append(part)
    return found


def _meet(before: StraightRun, after: StraightRun) -> Point:
    """Where the lines of two runs meet."""
    d, e = before.direction, after.direction
    cross = d.x * e.y - d.y * e.x
    px, py = after.start.x - before.start.x, after.start.y - before.start.y
    along = (px * e.y - py * e.x) / cross
    x, y = before.start.x + along * d.x, before.start.y + along * d.y
    return Point(_clean(x) + 0.0, _clean(y) + 0.0)
