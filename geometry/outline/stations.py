"""Places on an outline, rays to it and distances between outlines.

Terms
-----
station
    A place on the outline with its direction of travel (counter-clockwise), its outward normal and its length along the
    outline from the first vertex.
ray
    A half-line from an origin in a direction; its length is the distance to the first place where it meets an outline.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.outline.loop import Arc, Line, Outline, OutlineError, Point, Segment, segments, unit
from geometry.outline.meet import carriers_meet, distance_to, meetings, nearest_fraction, on_segment, same_carrier
from geometry.outline.nearby import MANY, boxed, near_box, near_place, near_ray

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

TOUCH = 1e-9
"""mm within which a place counts as lying on an outline."""
SAME_HIT = 1e-7
"""mm within which two hits of a ray are one: the joint of two segments, or a touch."""


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
    >>> station_at(rectangle(100, 50), 125).point, station_at(rectangle(100, 50), -10).outward
    (Point(x=100.0, y=25.0), Point(x=-1.0, y=0.0))
    """
    if not math.isfinite(length):
        raise OutlineError(f"a station was asked for at {length} mm along; a finite length is needed")
    ends = _ends(outline)
    along = length % ends[-1]
    index = min(bisect_right(ends, along), len(ends) - 1)
    part, end = segments(outline)[index], ends[index]
    return _station(part, index, min(1.0, max(0.0, 1.0 - (end - along) / part.length)), end)


def _station(part: Segment, index: int, fraction: float, end: float) -> Station:
    tangent = part.tangent_at(fraction)
    outward = Point(tangent.y, 0.0 - tangent.x)
    return Station(part.point_at(fraction), tangent, outward, end - (1.0 - fraction) * part.length, part.curvature, index)


@lru_cache(maxsize=1024)
def nearest_station(outline: Outline, point: Point) -> Station:
    """The station that lies nearest to a point; of several equally near ones the first along the outline.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> nearest_station(rectangle(100, 50), Point(50, 10)).point
    Point(x=50.0, y=0.0)
    >>> round(nearest_station(circle(20), Point(10, 10)).length_along, 9)  # the centre is equally near to every place
    0.0
    """
    _, chosen = _nearest(outline, point)
    part = segments(outline)[chosen]
    return _station(part, chosen, nearest_fraction(part, point.x, point.y), _ends(outline)[chosen])


def distance_from(outline: Outline, point: Point, *, within: float = math.inf) -> float:
    """Least distance, mm, from a point to the outline itself, whichever side of it the point lies on.

    Segments whose boxes lie ``within`` mm away or more are not looked at: where none is nearer the answer is ``within``.

    >>> from geometry.outline.shapes import circle
    >>> distance_from(circle(20), Point(10, 10)), distance_from(circle(20), Point(40, 10))
    (10.0, 20.0)
    """
    return _nearest(outline, point, within)[0]


def _nearest(outline: Outline, point: Point, within: float = math.inf) -> tuple[float, int]:
    """Distance to the nearest segment and its index; segments whose box lies farther than the nearest so far are passed over."""
    x, y = point
    best, chosen = within, 0
    near = near_place(outline, point) if within == math.inf else near_box(outline, (x, y, x, y), within)
    for (left, bottom, right, top), part, index in near:
        aside = left - x if x < left else x - right if x > right else 0.0
        above = bottom - y if y < bottom else y - top if y > top else 0.0
        if aside < best and above < best and aside * aside + above * above < best * best:
            apart = distance_to(part, x, y)
            if apart < best - 1e-12:
                best, chosen = apart, index
    return best, chosen


def segments_within(outline: Outline, point: Point, reach: float) -> tuple[Segment, ...]:
    """The segments that lie within ``reach`` mm of a point, in order.

    >>> from geometry.outline.shapes import rectangle
    >>> [part.length for part in segments_within(rectangle(100, 50), Point(98, 10), 5)]
    [50.0]
    """
    x, y = point
    return tuple(
        part
        for (left, bottom, right, top), part, _ in near_box(outline, (x, y, x, y), reach)
        if left - reach <= x <= right + reach and bottom - reach <= y <= top + reach and distance_to(part, x, y) <= reach
    )


def ray_hits(outline: Outline, origin: Point, direction: Point) -> tuple[float, ...]:
    """Distances, mm, from the origin at which a ray meets an outline, rising; a hit within 1e-9 mm of the origin counts as 0.

    A ray that runs along a straight side meets it at the ends of that side. A ray that only touches a corner or an arc meets it.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> ray_hits(circle(20), Point(-5, 10), Point(1, 0))
    (5.0, 25.0)
    >>> ray_hits(circle(20), Point(-5, 0), Point(1, 0))  # touches
    (15.0,)
    >>> ray_hits(rectangle(100, 50), Point(0, 0), Point(1, 0))  # runs along the sill from its corner
    (0.0, 100.0)
    >>> ray_hits(rectangle(100, 50), Point(-5, 10), Point(-1, 0))
    ()
    """
    way = unit(*direction)
    ray = Line(origin, Point(origin.x + way.x, origin.y + way.y))
    (x, y), (along, up) = origin, way
    ahead_x, ahead_y = along > 0.0, up > 0.0
    hits: list[float] = []
    for (left, bottom, right, top), part, _ in near_ray(outline, origin, way, SAME_HIT):
        low, high = (bottom - y) * along, (top - y) * along
        near, far = (left - x) * up, (right - x) * up
        if low > high:
            low, high = high, low
        if near > far:
            near, far = far, near
        if low - far > SAME_HIT or high - near < -SAME_HIT:
            continue  # the line of the ray leaves the box wholly on one side
        if ((right if ahead_x else left) - x) * along + ((top if ahead_y else bottom) - y) * up < -SAME_HIT:
            continue  # the box lies behind the origin
        if same_carrier(ray, part, tolerance=TOUCH):
            found: tuple[Point, ...] = (part.start, part.end)
        else:
            found = tuple([p for p in carriers_meet(ray, part) if on_segment(part, p.x, p.y)])
        hits += [(p.x - x) * along + (p.y - y) * up for p in found]
    kept: list[float] = []
    for hit in sorted([0.0 if hit <= TOUCH else hit for hit in hits if hit >= -TOUCH]):
        if not kept or hit - kept[-1] > SAME_HIT:
            kept.append(hit)
    return tuple(kept)


@lru_cache(maxsize=2048)  # of the curves of a corner most are looked at more than once
def ray_length(outline: Outline, origin: Point, direction: Point) -> float | None:
    """Distance, mm, from the origin to the first place where the ray meets the outline; None where it never does.

    A hit at the origin counts as 0 whichever way the ray leaves: an origin on the outline itself always gives 0. Use
    :func:`ray_hits` for what lies beyond.

    >>> from geometry.outline.shapes import rectangle
    >>> ray_length(rectangle(100, 50), Point(50, 20), Point(0, -1))
    20.0
    >>> ray_length(rectangle(100, 50), Point(50, 0), Point(0, 1)), ray_hits(rectangle(100, 50), Point(50, 0), Point(0, 1))
    (0.0, (0.0, 50.0))
    >>> ray_length(rectangle(100, 50), Point(50, -1), Point(0, -1)) is None
    True
    """
    hits = ray_hits(outline, origin, direction)
    return hits[0] if hits else None


def point_in(outline: Outline, point: Point) -> bool:
    """Whether a point lies inside an outline or within 1e-9 mm of it; exact for arcs.

    >>> from geometry.outline.shapes import circle
    >>> point_in(circle(20), Point(10, 19.999999)), point_in(circle(20), Point(10, 20)), point_in(circle(20), Point(3, 3))
    (True, True, True)
    >>> point_in(circle(20), Point(2, 2)), point_in(circle(20), Point(10, 20.000001))
    (False, False)
    """
    if segments_within(outline, point, TOUCH):
        return True
    # The level ray to the right leaves the outline an odd number of times from inside. Pieces that rise or fall throughout,
    # each counted with its lower end and without its upper one, so that a ray through a joint counts once.
    inside = False
    for low, high, right_half, part in _pieces_at(outline, point.y):
        if low <= point.y < high and _abscissa(part, point.y, right_half) > point.x:
            inside = not inside
    return inside


@lru_cache(maxsize=256)
def _pieces(outline: Outline) -> tuple[tuple[float, float, bool, Segment], ...]:
    """The rising pieces of every segment."""
    return tuple((*piece, part) for part in segments(outline) for piece in _rising_pieces(part))


def _pieces_at(outline: Outline, level: float) -> Sequence[tuple[float, float, bool, Segment]]:
    """The rising pieces among which those at a level are."""
    every = _pieces(outline)
    if len(every) < MANY:
        return every
    import numpy as np

    low, high = _piece_levels(outline)
    return [every[i] for i in np.flatnonzero((low <= level) & (level < high)).tolist()]


@lru_cache(maxsize=64)
def _piece_levels(outline: Outline) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    import numpy as np

    every = _pieces(outline)
    return np.array([piece[0] for piece in every]), np.array([piece[1] for piece in every])


def _rising_pieces(part: Segment) -> list[tuple[float, float, bool]]:
    """Lower and upper end of the pieces of a segment between its highest and lowest places, and whether right of the centre."""
    if isinstance(part, Line):
        low, high = sorted((part.start.y, part.end.y))
        return [(low, high, True)]
    centre, radius = part.centre, part.radius
    first = math.atan2(part.start.y - centre.y, part.start.x - centre.x)
    low, high = sorted((first, first + part.sweep))
    half = math.pi / 2
    # turning points: straight above and below the centre
    turns = [k for k in range(math.ceil(low / half), math.floor(high / half) + 1) if k % 2]
    levels = [centre.y + (radius if k % 4 == 1 else -radius) for k in turns]
    ends = (part.start.y, part.end.y) if part.sweep > 0 else (part.end.y, part.start.y)
    places = [ends[0], *levels, ends[1]]
    bounds = [low, *(k * half for k in turns), high]
    return [
        (min(a, b), max(a, b), math.cos((one + other) / 2) > 0)
        for (a, b), (one, other) in zip(pairwise(places), pairwise(bounds), strict=True)
    ]


def _abscissa(part: Segment, level: float, right_half: bool) -> float:
    """Where a rising or falling piece stands at a level."""
    if isinstance(part, Line):
        share = (level - part.start.y) / (part.end.y - part.start.y)
        return part.start.x + share * (part.end.x - part.start.x)
    centre, radius = part.centre, part.radius
    off = level - centre.y
    half = math.sqrt(max(0.0, (radius - off) * (radius + off)))
    return centre.x + half if right_half else centre.x - half


def places_along(outline: Outline, *, spacing: float) -> tuple[Point, ...]:
    """Every vertex, and places between not over ``spacing`` mm apart (at least three inside each arc).

    >>> from geometry.outline.shapes import rectangle
    >>> places_along(rectangle(20, 10), spacing=10)[:3]
    (Point(x=0.0, y=0.0), Point(x=10.0, y=0.0), Point(x=20.0, y=0.0))
    """
    found: list[Point] = []
    for part in segments(outline):
        pieces = max(1 if isinstance(part, Line) else 4, math.ceil(part.length / spacing - 1e-9))
        found += [part.point_at(index / pieces) for index in range(pieces)]
    return tuple(found)


def distance_between(one: Outline, other: Outline, *, within: float = math.inf) -> float:
    """Least distance, mm, between the lines of two outlines, exact for arcs; 0 where they cross or touch.

    One outline may lie inside the other. Pairs of segments whose boxes lie ``within`` mm apart or more are not looked at:
    where no pair is nearer the answer is ``within``.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> distance_between(circle(20), circle(20)), distance_between(rectangle(100, 50), rectangle(30, 80))
    (0.0, 0.0)
    >>> from geometry.outline.measure import moved
    >>> distance_between(rectangle(100, 50), moved(circle(20), 40, 12))
    12.0
    """
    least = within
    for box, first, _ in boxed(one):
        left, bottom, right, top = box
        for (left2, bottom2, right2, top2), second, _ in near_box(other, box, least):
            aside = left2 - right if left2 > right else left - right2 if left > right2 else 0.0
            if aside >= least:
                continue
            above = bottom2 - top if bottom2 > top else bottom - top2 if bottom > top2 else 0.0
            if above < least and (math.hypot(aside, above) < least if aside and above else True):
                least = min(least, _apart(first, second))
                if least == 0.0:
                    return 0.0
    return least


def comes_within(one: Outline, other: Outline, reach: float) -> bool:
    """Whether the lines of two outlines come nearer to each other than ``reach`` mm anywhere, as :func:`distance_between` tells it.

    >>> from geometry.outline.shapes import rectangle
    >>> comes_within(rectangle(100, 50), rectangle(30, 80), 1.0)
    True
    """
    for box, first, _ in boxed(one):
        left, bottom, right, top = box
        for (left2, bottom2, right2, top2), second, _ in near_box(other, box, reach):
            aside = left2 - right if left2 > right else left - right2 if left > right2 else 0.0
            if aside >= reach:
                continue
            above = bottom2 - top if bottom2 > top else bottom - top2 if bottom > top2 else 0.0
            if above < reach and math.hypot(aside, above) < reach and _apart(first, second) < reach:
                return True
    return False


def _apart(first: Segment, second: Segment) -> float:
    """Least distance, mm, between two segments, 0 where they meet: at an end of one of them, or where both are square to the line between."""
    if meetings(first, second):
        return 0.0
    least = min(
        distance_to(first, *second.start),
        distance_to(first, *second.end),
        distance_to(second, *first.start),
        distance_to(second, *first.end),
    )
    if isinstance(first, Arc) and isinstance(second, Arc):
        apart = math.dist(first.centre, second.centre)
        if apart > 1e-12:
            way = unit(second.centre.x - first.centre.x, second.centre.y - first.centre.y)
            least = min(least, *_arc_feet(first, second, way))
    elif isinstance(first, Arc) or isinstance(second, Arc):
        arc, line = (first, second) if isinstance(first, Arc) else (second, first)
        assert isinstance(arc, Arc)
        foot = nearest_fraction(line, *arc.centre)
        if 0.0 < foot < 1.0:
            way = line.tangent_at(0.0)
            least = min(least, *_arc_feet(arc, line, Point(-way.y, way.x)))
    return least


def _arc_feet(arc: Arc, other: Segment, way: Point) -> list[float]:
    """Distances to the other segment from the places of an arc straight ahead of and behind its centre."""
    places = [Point(arc.centre.x + side * arc.radius * way.x, arc.centre.y + side * arc.radius * way.y) for side in (1, -1)]
    return [distance_to(other, *spot) for spot in places if on_segment(arc, *spot)] or [math.inf]


__all__ = [
    "Station",
    "comes_within",
    "distance_between",
    "distance_from",
    "nearest_station",
    "places_along",
    "point_in",
    "ray_hits",
    "ray_length",
    "segments_within",
    "station_at",
]
