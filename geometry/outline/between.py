"""The strip between a pane and the wall round it: how wide it is at a station, where it is narrowest, where widest.

Terms
-----
joint width
    From the glass edge square outwards to the wall, mm: what a gauge finds at a station; negative where the glass cuts into the wall.
true distance
    From a place on one line to the nearest place of the other, mm, in whatever direction.
run
    A straight side of the pane, ``e1``, ``e2`` ... counter-clockwise; what is no run, and rounds no corner, is ``round``.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from geometry.outline.corners import corners, run_names, straight_runs
from geometry.outline.loop import Arc, Outline, Point, Segment, segments, unit
from geometry.outline.meet import meetings, nearest_fraction, on_segment
from geometry.outline.nearby import boxed, near_box
from geometry.outline.stations import (
    Station,
    distance_between,
    distance_from,
    places_along,
    point_in,
    ray_length,
    station_at,
)

ROUND = "round"
"""Name of the edge of an outline, or of a part of it, without straight sides."""
ROUND_SPACING = 40.0
"""mm between the places at which a round edge is held against a wall of its own."""


class Width(NamedTuple):
    """A joint width, mm, where it was found, and the run it lies on."""

    value: float
    at: Point
    part: str


class Nearest(NamedTuple):
    """The least distance of two lines, mm, and the two places it lies between; 0 where they cross or touch."""

    distance: float
    one: Point
    other: Point


def joint_width_at(recess: Outline, station: Station) -> float:
    """Width of the joint at a station: from the glass edge square outwards to the recess wall, negative where the glass cuts into it."""
    out = ray_length(recess, station.point, station.outward)
    back = ray_length(recess, station.point, Point(-station.outward.x, -station.outward.y))
    if out is None or (back is not None and back < out and not point_in(recess, station.point)):
        return 0.0 if back is None else -back
    return out


def narrowest_and_widest(glass: Outline, recess: Outline) -> tuple[Width, Width]:
    """Least and largest joint width, corners apart."""
    found = widths_round(glass, recess)
    return min(found, key=lambda each: round(each.value, 9)), max(found, key=lambda each: round(each.value, 9))


@lru_cache(maxsize=64)
def widths_round(glass: Outline, recess: Outline) -> tuple[Width, ...]:
    """The joint width at every place among which the least and the largest of each run are, corners apart.

    Exact on straight edges: between two corners of the recess the joint runs evenly, so its ends are at the ends of a run.
    """
    turns = places_along(recess, spacing=math.inf)
    found: list[Width] = []
    for name, run in zip(run_names(glass), straight_runs(glass), strict=True):
        spots = [0.0, run.length]
        along = ((place.x - run.start.x) * run.direction.x + (place.y - run.start.y) * run.direction.y for place in turns)
        spots += [at for at in along if 0.0 < at < run.length]
        for at in spots:
            # a touch inside the run: a ray through the very corner of a recess could miss both of its sides
            inside = min(max(at, 1e-6), run.length - 1e-6)
            place = Point(run.start.x + at * run.direction.x, run.start.y + at * run.direction.y)
            found.append(Width(joint_width_at(recess, station_at(glass, run.length_along + inside)), place, name))
    rounded = {corner.tangent_before for corner in corners(glass)}
    length = 0.0
    for part in segments(glass):
        if isinstance(part, Arc) and part.start not in rounded:
            pieces = max(1, math.ceil(part.length / ROUND_SPACING - 1e-9))
            found += [
                Width(
                    joint_width_at(recess, station_at(glass, length + part.length * i / pieces)), part.point_at(i / pieces), ROUND
                )
                for i in range(pieces)
            ]
        length += part.length
    return tuple(found)


@lru_cache(maxsize=64)
def nearest_between(one: Outline, other: Outline) -> Nearest:
    """The least true distance of two lines and where it lies, exact for arcs.

    >>> from geometry.outline.measure import moved
    >>> from geometry.outline.shapes import circle, rectangle
    >>> nearest_between(rectangle(100, 50), moved(circle(20), 40, 12))
    Nearest(distance=12.0, one=Point(x=50.0, y=0.0), other=Point(x=50.0, y=12.0))
    """
    least = distance_between(one, other)
    best = Nearest(math.inf, Point(0.0, 0.0), Point(0.0, 0.0))
    for box, first, _ in boxed(one):
        for _, second, _ in near_box(other, box, least + 1e-6):
            for a, b in _feet(first, second):
                apart = math.dist(a, b)
                if apart < best.distance - 1e-9:
                    best = Nearest(apart, a, b)
    if least == 0.0 and best.distance > 1e-9:  # they cross: the place lies on both
        for box, first, _ in boxed(one):
            for _, second, _ in near_box(other, box, 1e-6):
                for place in meetings(first, second):
                    return Nearest(0.0, place, place)
    return Nearest(least, best.one, best.other)


def _feet(first: Segment, second: Segment) -> list[tuple[Point, Point]]:
    """Pairs of places among which the nearest two of two segments are, where these do not meet."""
    pairs = [(first.point_at(nearest_fraction(first, *end)), end) for end in (second.start, second.end)]
    pairs += [(end, second.point_at(nearest_fraction(second, *end))) for end in (first.start, first.end)]
    for arc, line, turned in ((first, second, False), (second, first, True)):
        if not isinstance(arc, Arc):
            continue
        foot = line.centre if isinstance(line, Arc) else line.point_at(nearest_fraction(line, *arc.centre))
        if math.dist(foot, arc.centre) <= 1e-12:
            continue
        way = unit(foot.x - arc.centre.x, foot.y - arc.centre.y)
        for side in (1.0, -1.0):
            spot = Point(arc.centre.x + side * arc.radius * way.x, arc.centre.y + side * arc.radius * way.y)
            if on_segment(arc, *spot):
                end = line.point_at(nearest_fraction(line, *spot))
                pairs.append((end, spot) if turned else (spot, end))
    return pairs


def true_width_at(recess: Outline, place: Point) -> float:
    """True distance from a place on the glass edge to the wall, mm; negative where the place lies outside the wall."""
    apart = distance_from(recess, place)
    return apart if point_in(recess, place) else -apart


__all__ = [
    "ROUND",
    "ROUND_SPACING",
    "Nearest",
    "Width",
    "joint_width_at",
    "narrowest_and_widest",
    "nearest_between",
    "true_width_at",
    "widths_round",
]
