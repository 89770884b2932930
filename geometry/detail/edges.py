"""The edges of a pane and the places on them that a detail is set out from.

Terms
-----
edge
    A straight run of the glass outline, e1, e2 ... counter-clockwise from the first vertex (clockwise on the other hand of a pane);
    distances run counter-clockwise from its sharp corner.
sill, jamb, head
    The longest edge that looks down, sideways, up.
chord
    One of the short straight edges by which a curve was written: the next one goes on from it almost straight.
side
    An edge that is no chord: the sides of a polygon that stands for a round pane are none, as a round pane has none.
site
    A place on the glass edge with its direction, named by edge and distance. On an outline without straight edges the distance is
    counted along the edge from the lowest point, positive counter-clockwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

from geometry.outline import Arc, Line, Outline, Point, bounding_box, corners, perimeter, segments, station_at, straight_runs
from geometry.outline.between import ROUND
from geometry.outline.corners import TANGENT, run_names
from geometry.outline.soundness import turn_at

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.outline import Segment, Station

DOWN, UP, RIGHT, LEFT = (0.0, -1.0), (0.0, 1.0), (1.0, 0.0), (-1.0, 0.0)


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight edge: ``origin`` is its sharp first corner, ``first`` and ``last`` are where it runs straight, from that corner."""

    name: str
    origin: Point
    direction: Point
    outward: Point
    first: float
    last: float
    end: float  # distance of the sharp corner at its other end
    length_along: float  # of the outline, at ``first``

    @property
    def straight(self) -> float:
        """Length of the straight part, mm."""
        return self.last - self.first

    @property
    def middle(self) -> float:
        """Distance of the middle of the straight part."""
        return (self.first + self.last) / 2

    def at(self, distance: float) -> Point:
        """The place at a distance from the sharp first corner."""
        return Point(self.origin.x + distance * self.direction.x, self.origin.y + distance * self.direction.y)

    def distance_of(self, place: Point) -> float:
        """Distance along the edge of the foot of the perpendicular from ``place``."""
        return (place.x - self.origin.x) * self.direction.x + (place.y - self.origin.y) * self.direction.y


@dataclass(frozen=True, slots=True)
class Site:
    """A named place on the glass edge."""

    station: Station
    edge: str
    distance: float


SMOOTH = math.radians(17.0)
"""Turn at a vertex up to which the edges beside it may be chords of one curve: a circle of 22 edges or more (own default)."""
CHORD = 1 / 12
"""Share of the perimeter from which an edge is never a chord (own default)."""


@lru_cache(maxsize=256)
def sides_of(outline: Outline) -> tuple[Edge, ...]:
    """The straight edges of an outline without the chords of curves, named as among all of them.

    >>> from geometry.outline import polygon, rectangle
    >>> [side.name for side in sides_of(rectangle(900, 450, radius=50))]
    ['e1', 'e2', 'e3', 'e4']
    >>> sides_of(polygon([(300 * math.cos(math.pi * i / 60), 300 * math.sin(math.pi * i / 60)) for i in range(120)]))
    ()
    """
    edges, whole = edges_of(outline), perimeter(outline)
    chords: set[str] = set()
    for edge, following in zip(edges, (*edges[1:], *edges[:1]), strict=True):
        gap = (following.length_along - edge.length_along - edge.straight + whole / 2) % whole - whole / 2
        turn = edge.direction.x * following.direction.y - edge.direction.y * following.direction.x
        if abs(gap) < 1e-6 and abs(turn) <= math.sin(SMOOTH) and max(edge.straight, following.straight) < CHORD * whole:
            chords |= {edge.name, following.name}
    return tuple(edge for edge in edges if edge.name not in chords)


def smooth_joint(before: Segment, part: Segment) -> bool:
    """Whether two straight segments may be chords of one curve."""
    return isinstance(before, Line) and isinstance(part, Line) and abs(turn_at(before, part)) <= SMOOTH


@lru_cache(maxsize=256)
def edges_of(outline: Outline) -> tuple[Edge, ...]:
    """The straight edges of an outline, counter-clockwise."""
    leaving = {corner.tangent_after: corner.theoretical for corner in corners(outline)}
    arriving = {corner.tangent_before: corner.theoretical for corner in corners(outline)}
    found = []
    runs = straight_runs(outline)
    for name, straight in zip(run_names(outline), runs, strict=True):
        direction, start = straight.direction, straight.start
        origin, end = leaving.get(start, start), arriving.get(straight.end, straight.end)
        first = math.hypot(start.x - origin.x, start.y - origin.y)
        last = first + straight.length
        reach = last + math.hypot(end.x - straight.end.x, end.y - straight.end.y)
        found.append(Edge(name, origin, direction, straight.outward, first, last, reach, straight.length_along))
    return tuple(found)


def reach_of(outline: Outline, edge: Edge) -> float:
    """Length of an edge from sharp corner to sharp corner; a round end without one counts as deep as the glass goes on there.

    >>> from geometry.outline import rectangle
    >>> for radius in (50, 224.9, 225):
    ...     outline = rectangle(900, 450, radius=radius)
    ...     round(reach_of(outline, edges_of(outline)[0]), 6)
    900.0
    900.0
    900.0
    """
    parts = segments(outline)
    starts = list(accumulate((part.length for part in parts[:-1]), initial=0.0))
    inside = [
        index
        for index, (part, start) in enumerate(zip(parts, starts, strict=True))
        if 0.0 < (start + part.length / 2 - edge.length_along) % perimeter(outline) < edge.straight
    ]
    first = next(index for index in inside if (index - 1) % len(parts) not in inside)
    last = next(index for index in inside if (index + 1) % len(parts) not in inside)
    before, after = edge.first, edge.end - edge.last
    return edge.straight + (before or _depth(parts, first, -1)) + (after or _depth(parts, last, 1))


def _depth(parts: Sequence[Segment], index: int, step: int) -> float:
    """How far the curve past a straight segment, arcs or chords, goes on in its direction, up to where it has turned square to it."""
    turned, deep, long = 0.0, 0.0, CHORD * math.fsum(part.length for part in parts)
    for count in range(1, len(parts)):
        one, part = parts[(index + step * (count - 1)) % len(parts)], parts[(index + step * count) % len(parts)]
        turn = turn_at(one, part) if step > 0 else turn_at(part, one)
        if isinstance(part, Line):
            if not smooth_joint(one, part) or part.length >= long or turn < 0 or turned + turn >= math.pi / 2:
                break
            turned += turn
            deep += part.length * math.cos(turned)
            continue
        if part.bulge < 0 or abs(turn) >= TANGENT or turned >= math.pi / 2:
            break
        further = min(turned + part.sweep, math.pi / 2)
        deep += part.radius * (math.sin(further) - math.sin(turned))
        turned = further
    return deep


def edge_towards(edges: tuple[Edge, ...], direction: tuple[float, float]) -> Edge | None:
    """The edge that looks most, and longest, in a direction; None where none looks within 60° of it."""
    best, score = None, 0.0
    for edge in edges:
        facing = edge.outward.x * direction[0] + edge.outward.y * direction[1]
        if facing >= 0.5 and facing * edge.straight > score + 1e-9:
            best, score = edge, facing * edge.straight
    return best


def site_on_edge(outline: Outline, edge: Edge, distance: float) -> Site:
    """The site at a distance along a straight edge."""
    return Site(station_at(outline, edge.length_along + distance - edge.first), edge.name, distance)


def site_facing(outline: Outline, direction: tuple[float, float]) -> Site:
    """The site where the outward normal of a round outline has a direction (unit vector)."""
    length = _length_facing(outline, direction)
    if length is None:
        length = _extreme_length(outline, direction)
    return site_round(outline, length)


def site_round(outline: Outline, length: float) -> Site:
    """The site at a length along a round outline, its distance counted from the lowest point."""
    whole = perimeter(outline)
    bottom = lowest_length(outline)
    distance = (length - bottom + whole / 2) % whole - whole / 2
    if abs(distance) < 1e-9:
        distance = 0.0
    return Site(station_at(outline, length % whole), ROUND, distance)


@lru_cache(maxsize=256)
def lowest_length(outline: Outline) -> float:
    """Length along the outline of its lowest place: the middle of a level straight there, else where it looks straight down."""
    low = bounding_box(outline).bottom
    for edge in edges_of(outline):
        if edge.direction.x > 0 and abs(edge.direction.y) < 1e-6 and abs(edge.at(edge.middle).y - low) < 1e-6:
            return edge.length_along + edge.straight / 2
    facing = _length_facing(outline, DOWN)
    return _extreme_length(outline, DOWN) if facing is None else facing


def _length_facing(outline: Outline, direction: tuple[float, float]) -> float | None:
    wanted = math.atan2(direction[1], direction[0])
    along = 0.0
    for segment in segments(outline):
        if isinstance(segment, Arc) and segment.bulge > 0:
            first = math.atan2(segment.start.y - segment.centre.y, segment.start.x - segment.centre.x)
            turn = (wanted - first) % (2 * math.pi)
            if turn > 2 * math.pi - 1e-9:
                turn = 0.0
            if turn <= segment.sweep + 1e-9:
                return along + turn * segment.radius
        along += segment.length
    return None


def _extreme_length(outline: Outline, direction: tuple[float, float]) -> float:
    """Length along the outline of the vertex that lies farthest in a direction; between chords, where the curve faces it."""
    parts = segments(outline)
    along, best, score, at = 0.0, 0.0, -math.inf, 0
    for index, segment in enumerate(parts):
        reach = segment.start.x * direction[0] + segment.start.y * direction[1]
        if reach > score + 1e-9:
            best, score, at = along, reach, index
        along += segment.length
    before, after = parts[at - 1], parts[at]
    if not smooth_joint(before, after):
        return best
    # The curve turns evenly from the middle of one chord to the middle of the next.
    turn = turn_at(before, after)
    way = before.tangent_at(1.0)
    done = math.asin(max(-1.0, min(1.0, way.x * direction[0] + way.y * direction[1])))  # past the middle of the chord before
    return best - before.length / 2 + (before.length + after.length) / 2 * max(0.0, min(1.0, done / turn))


def stretch_between(outline: Outline, edge: Edge, following: Edge) -> float:
    """Length of the outline from the end of the straight of an edge to the straight of the next; 0 where a sharp corner lies between."""
    whole = perimeter(outline)
    length = (following.length_along - edge.length_along - edge.straight) % whole
    return length if 1e-6 < length < whole - 1e-6 else 0.0


__all__ = [
    "DOWN",
    "LEFT",
    "RIGHT",
    "ROUND",
    "UP",
    "Edge",
    "Site",
    "edge_towards",
    "edges_of",
    "lowest_length",
    "reach_of",
    "sides_of",
    "site_facing",
    "site_on_edge",
    "site_round",
    "smooth_joint",
    "stretch_between",
]
