"""Places on an outline, rays to it and distances between outlines.

Terms
-----
station
    A place on the outline with its direction of travel (counter-clockwise), its outward normal and its length along the outline from the
    first vertex.
ray
    A half-line from an origin in a direction; its length is the distance to the first place where it meets an outline.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from geometry.outline.loop import Arc, Line, Outline, Point, Segment, segments, unit

TOUCH = 1e-9  # mm within which a ray's origin counts as lying on an outline


@dataclass(frozen=True, slots=True)
class Station:
    """A place on an outline; ``curvature`` in 1/mm is positive where the outline is convex."""

    point: Point
    tangent: Point
    outward: Point
    length_along: float
    curvature: float
    segment: int


@lru_cache(maxsize=256)
def _ends(outline: Outline) -> tuple[float, ...]:
    """Length along the outline at the end of every segment."""
    total, found = 0.0, []
    for part in segments(outline):
        total += part.length
        found.append(total)
    return tuple(found)


def station_at(outline: Outline, length: float) -> Station:
    """The station at a length along the outline from its first vertex, mm, counted round and round.

    >>> from geometry.outline.shapes import rectangle
    >>> station_at(rectangle(100, 50), 125).point, station_at(rectangle(100, 50), -10).tangent
    (Point(x=100.0, y=25.0), Point(x=0.0, y=-1.0))
    """
    ends = _ends(outline)
    along = length % ends[-1]
    for index, (part, end) in enumerate(zip(segments(outline), ends, strict=True)):
        if along < end or index == len(ends) - 1:
            return _station(part, index, min(1.0, max(0.0, 1.0 - (end - along) / part.length)), end)
    raise AssertionError("an outline has at least one segment")


def _station(part: Segment, index: int, fraction: float, end: float) -> Station:
    tangent = part.tangent_at(fraction)
    return Station(
        part.point_at(fraction), tangent, Point(tangent.y, -tangent.x), end - (1.0 - fraction) * part.length, part.curvature, index
    )


def _foot(part: Segment, point: Point) -> float:
    """Fraction of a segment at which it lies nearest to a point."""
    if isinstance(part, Line):
        dx, dy = part.end.x - part.start.x, part.end.y - part.start.y
        return min(1.0, max(0.0, ((point.x - part.start.x) * dx + (point.y - part.start.y) * dy) / (dx * dx + dy * dy)))
    centre = part.centre
    first = math.atan2(part.start.y - centre.y, part.start.x - centre.x)
    turn = math.atan2(point.y - centre.y, point.x - centre.x) - first
    turn = turn % (2 * math.pi) if part.sweep > 0 else -((-turn) % (2 * math.pi))
    if abs(turn) <= abs(part.sweep):
        return turn / part.sweep
    near_start = math.dist(point, part.start) <= math.dist(point, part.end)
    return 0.0 if near_start else 1.0


def nearest_station(outline: Outline, point: Point) -> Station:
    """The station that lies nearest to a point.

    >>> from geometry.outline.shapes import rectangle
    >>> nearest_station(rectangle(100, 50), Point(50, 10)).point
    Point(x=50.0, y=0.0)
    """
    best: tuple[float, int, float] | None = None
    for index, part in enumerate(segments(outline)):
        fraction = _foot(part, point)
        apart = math.dist(part.point_at(fraction), point)
        if best is None or apart < best[0] - 1e-12:
            best = (apart, index, fraction)
    assert best is not None
    return _station(segments(outline)[best[1]], best[1], best[2], _ends(outline)[best[1]])


def ray_hits(outline: Outline, origin: Point, direction: Point) -> tuple[float, ...]:
    """Distances from the origin at which a ray meets an outline, rising; a hit at the origin itself counts as 0.

    >>> from geometry.outline.shapes import circle
    >>> [round(hit, 6) for hit in ray_hits(circle(20), Point(10, 10), Point(1, 0))]
    [10.0]
    """
    way = unit(*direction)
    hits: list[float] = []
    for part in segments(outline):
        hits += _arc_hits(part, origin, way) if isinstance(part, Arc) else _line_hits(part, origin, way)
    found: list[float] = []
    for hit in sorted(max(0.0, hit) for hit in hits if hit >= -TOUCH):
        if not found or hit - found[-1] > 1e-7:
            found.append(hit)
    return tuple(found)


def ray_length(outline: Outline, origin: Point, direction: Point) -> float | None:
    """Distance from the origin to the first place where the ray meets the outline, None where it never does."""
    hits = ray_hits(outline, origin, direction)
    return hits[0] if hits else None


def _line_hits(part: Line, origin: Point, way: Point) -> list[float]:
    dx, dy = part.end.x - part.start.x, part.end.y - part.start.y
    cross = way.x * dy - way.y * dx
    if abs(cross) < 1e-12 * part.length:
        return []
    px, py = part.start.x - origin.x, part.start.y - origin.y
    fraction = (px * way.y - py * way.x) / cross
    slack = 1e-9
    return [(px * dy - py * dx) / cross] if -slack <= fraction <= 1 + slack else []


def _arc_hits(part: Arc, origin: Point, way: Point) -> list[float]:
    centre, radius = part.centre, part.radius
    ox, oy = origin.x - centre.x, origin.y - centre.y
    along = -(ox * way.x + oy * way.y)
    square = radius * radius - (ox + along * way.x) ** 2 - (oy + along * way.y) ** 2
    if square < 0:
        return []
    half = math.sqrt(square)
    return [hit for hit in (along - half, along + half) if _on_arc(part, Point(origin.x + hit * way.x, origin.y + hit * way.y))]


def _on_arc(part: Arc, point: Point) -> bool:
    centre = part.centre
    turn = math.atan2(point.y - centre.y, point.x - centre.x) - math.atan2(part.start.y - centre.y, part.start.x - centre.x)
    slack = 1e-9
    turn = (turn + slack) % (2 * math.pi) if part.sweep > 0 else (slack - turn) % (2 * math.pi)
    return turn <= abs(part.sweep) + 2 * slack


def point_in(outline: Outline, point: Point) -> bool:
    """Whether a point lies inside an outline or on it.

    >>> from geometry.outline.shapes import circle
    >>> point_in(circle(20), Point(10, 19.9)), point_in(circle(20), Point(1, 1))
    (True, False)
    """
    if math.dist(nearest_station(outline, point).point, point) <= TOUCH:
        return True
    # The turn that the outline makes round the point: a full one inside, none outside.
    turn = 0.0
    for part in segments(outline):
        pieces = 1 if isinstance(part, Line) else max(4, math.ceil(abs(part.sweep) / 0.05))
        places = [part.point_at(index / pieces) for index in range(pieces + 1)]
        for a, b in zip(places, places[1:], strict=False):
            ax, ay, bx, by = a.x - point.x, a.y - point.y, b.x - point.x, b.y - point.y
            turn += math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    return turn > math.pi


def places_along(outline: Outline, *, spacing: float) -> tuple[Point, ...]:
    """Every vertex, and places between not over ``spacing`` mm apart (at least one inside each arc)."""
    found: list[Point] = []
    for part in segments(outline):
        pieces = max(1 if isinstance(part, Line) else 4, math.ceil(part.length / spacing))
        found += [part.point_at(index / pieces) for index in range(pieces)]
    return tuple(found)


def distance_between(one: Outline, other: Outline, *, spacing: float = 10.0) -> float:
    """Least distance from the vertices and places of each outline to the other, mm; 0 where one lies partly inside the other.

    >>> from geometry.outline.shapes import circle
    >>> round(distance_between(circle(20), circle(20)), 9)
    0.0
    """
    least = math.inf
    for first, second in ((one, other), (other, one)):
        places = places_along(first, spacing=spacing)
        inside = [point_in(second, place) for place in places]
        if any(inside) and not all(inside):
            return 0.0
        least = min(least, *(math.dist(nearest_station(second, place).point, place) for place in places))
    return least
