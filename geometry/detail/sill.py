"""What a pane stands on: a straight side, a run of edges near level, or a curve that its chocks hold from both sides.

Terms
-----
run
    Neighbouring edges and arcs that look down and nowhere slope by more than the limit for a sill: a bottom edge with a slight V or
    camber is one run, whether it is written as an arc or as many chords.
round below
    The outline goes on from its lowest place to either side as one curve, to where the chocks of a round pane stand, without a corner.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import accumulate

from geometry.detail.edges import (
    DOWN,
    Edge,
    Site,
    edge_towards,
    edges_of,
    lowest_length,
    sides_of,
    site_on_edge,
    site_round,
    smooth_joint,
    stretch_between,
)
from geometry.outline import Arc, Outline, Point, Segment, perimeter, segments, station_at
from geometry.outline.corners import ROUNDING
from geometry.outline.soundness import turn_at

__all__ = ["Run", "sill_of"]

MOST = 0.6
"""Share of the run, or of what is near level, from which one straight side is the sill by itself (own default)."""
GENTLE = 0.25
"""Length from the end of what is near level to where a round pane's chock stands, as a share of what is near level: with less it is
the tight rounding of a corner, not the pane's own curve (own default)."""


@dataclass(frozen=True, slots=True)
class Run:
    """A run as a sill: ``start`` is its length along the outline, ``length`` its own; ``chord`` from end to end stands for its slope."""

    outline: Outline
    start: float
    length: float
    chord: Edge

    def site(self, along: float) -> Site:
        """The site at a length from the start of the run: on a side by its name, else counted from the lowest place."""
        place = (self.start + along) % perimeter(self.outline)
        for side in sides_of(self.outline):
            on = place - side.length_along
            if 0.0 <= on <= side.straight:
                return site_on_edge(self.outline, side, side.first + on)
        return site_round(self.outline, place)

    def at_x(self, x: float) -> float:
        """The length from the start of the run to its place at an X, its ends where it does not reach so far."""
        low, high = 0.0, self.length
        for _ in range(60):
            middle = (low + high) / 2
            beyond = station_at(self.outline, (self.start + middle) % perimeter(self.outline)).point.x > x
            low, high = (low, middle) if beyond else (middle, high)
        return (low + high) / 2


def sill_of(outline: Outline, *, slope: float, turn: float) -> Edge | Run | None:
    """What the pane stands on; None where it is round below.

    ``slope`` is the greatest rise for 1 of run of a sill, ``turn`` the angle (radians) from straight down at which the chocks of a
    round pane stand.
    """
    facing = edge = edge_towards(sides_of(outline), DOWN)
    lowest = lowest_length(outline)
    if edge is not None and abs(edge.direction.y) > slope * edge.direction.x:
        if _reaches(outline, edge, lowest):
            return edge
        edge = None  # a side that slopes away above a lower place is none to stand on
    place = lowest if edge is None else edge.length_along + edge.straight / 2
    run = _run_at(outline, place, slope)
    sides = [_goes_on(outline, place, step, math.atan(slope), turn) for step in (1, -1)]
    near_level = math.fsum(level for level, _ in sides)
    if edge is not None and edge.straight >= MOST * max(near_level, run.length if run else 0.0):
        return edge
    if all(further >= GENTLE * level for level, further in sides):
        return None
    return facing if run is None or (edge is not None and run.length < edge.straight + 1e-6) else run


def _reaches(outline: Outline, edge: Edge, place: float) -> bool:
    """Whether a place lies on an edge or on the rounding beside one of its ends."""
    edges = edges_of(outline)
    here = next(index for index, each in enumerate(edges) if each.name == edge.name)
    before, after = edges[here - 1], edges[(here + 1) % len(edges)]
    first = edge.length_along - stretch_between(outline, before, edge)
    length = edge.length_along - first + edge.straight + stretch_between(outline, edge, after)
    return (place - first + 1e-6) % perimeter(outline) <= length + 2e-6


def _run_at(outline: Outline, place: float, slope: float) -> Run | None:
    parts = segments(outline)
    count, starts = len(parts), list(accumulate((part.length for part in parts), initial=0.0))
    here = _index_at(starts, place)
    if not _near_level(parts[here], slope):
        here -= 1  # a place at a joint belongs to both sides
        if abs(starts[here % count + 1] % starts[-1] - place % starts[-1]) > 1e-6 or not _near_level(parts[here], slope):
            return None
    first = last = here
    while last - first < count - 1 and _near_level(parts[(first - 1) % count], slope):
        first -= 1
    while last - first < count - 1 and _near_level(parts[(last + 1) % count], slope):
        last += 1
    members = [parts[index % count] for index in range(first, last + 1)]
    start, end = members[0].start, members[-1].end
    long = math.dist(start, end)
    way = Point((end.x - start.x) / long, (end.y - start.y) / long)
    along = starts[first % count]
    chord = Edge("", start, way, Point(way.y, -way.x), 0.0, long, long, along)
    return Run(outline, along, math.fsum(part.length for part in members), chord)


def _near_level(part: Segment, slope: float) -> bool:
    ways = (part.tangent_at(0.0), part.tangent_at(1.0))
    return all(way.x > 0.0 and abs(way.y) <= slope * way.x + 1e-9 for way in ways)


def _index_at(starts: list[float], place: float) -> int:
    return max(index for index, start in enumerate(starts[:-1]) if start <= place % starts[-1] + 1e-9)


def _goes_on(outline: Outline, place: float, step: int, level: float, turn: float) -> tuple[float, float]:
    """From a place, counter-clockwise (1) or clockwise (-1): the length to where the outline turns from near level or to its corner,
    and from there the length to where it has turned by ``turn``; that one is -1 where a corner comes first.
    """
    parts = segments(outline)
    count, starts = len(parts), list(accumulate((part.length for part in parts), initial=0.0))
    index = _index_at(starts, place)
    gone = place % starts[-1] - starts[index]
    entered = gone / parts[index].length
    left = parts[index].length - gone if step > 0 else gone
    lengths: list[float] = []
    done = 0.0
    for number in range(count):
        part = parts[(index + step * number) % count]
        begins = entered if not number else 0.0 if step > 0 else 1.0
        one, other = (step * _angle(part, share) for share in (begins, 1.0 if step > 0 else 0.0))
        while len(lengths) < 2 and other >= (level, turn)[len(lengths)] - 1e-9:
            wanted = (level, turn)[len(lengths)]
            lengths.append(done + (max(0.0, wanted - one) * part.radius if isinstance(part, Arc) else 0.0))
        if len(lengths) == 2:
            return lengths[0], lengths[1] - lengths[0]
        done += part.length if number else left
        following = parts[(index + step * (number + 1)) % count]
        before, after = (part, following) if step > 0 else (following, part)
        if not (smooth_joint(before, after) or abs(turn_at(before, after)) < ROUNDING):
            break
    return (lengths[0] if lengths else done), -1.0


def _angle(part: Segment, share: float) -> float:
    way = part.tangent_at(share)
    return math.atan2(way.y, way.x)
