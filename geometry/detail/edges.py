"""The edges of a pane and the places on them that a detail is set out from.

Terms
-----
edge
    A straight run of the glass outline, e1, e2 ... counter-clockwise from the first vertex; distances run from its sharp corner.
sill, jamb, head
    The longest edge that looks down, sideways, up.
site
    A place on the glass edge with its direction, named by edge and distance. On an outline without straight edges the distance is
    counted along the edge from the lowest point, positive counter-clockwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from geometry.outline import Arc, Outline, Point, corners, perimeter, segments, station_at, straight_runs

if TYPE_CHECKING:
    from geometry.outline import Station

DOWN, UP, RIGHT, LEFT = (0.0, -1.0), (0.0, 1.0), (1.0, 0.0), (-1.0, 0.0)


ROUND = "round"
"""Name of the edge of an outline, or of a part of it, without straight sides."""


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


@lru_cache(maxsize=256)
def edges_of(outline: Outline) -> tuple[Edge, ...]:
    """The straight edges of an outline, counter-clockwise."""
    leaving = {corner.tangent_after: corner.theoretical for corner in corners(outline)}
    arriving = {corner.tangent_before: corner.theoretical for corner in corners(outline)}
    found = []
    for number, straight in enumerate(straight_runs(outline), start=1):
        direction, start = straight.direction, straight.start
        origin, end = leaving.get(start, start), arriving.get(straight.end, straight.end)
        first = math.hypot(start.x - origin.x, start.y - origin.y)
        last = first + straight.length
        reach = last + math.hypot(end.x - straight.end.x, end.y - straight.end.y)
        found.append(Edge(f"e{number}", origin, direction, straight.outward, first, last, reach, straight.length_along))
    return tuple(found)


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
    bottom = _length_facing(outline, DOWN)
    if bottom is None:
        bottom = _extreme_length(outline, DOWN)
    distance = (length - bottom + whole / 2) % whole - whole / 2
    if abs(distance) < 1e-9:
        distance = 0.0
    return Site(station_at(outline, length % whole), ROUND, distance)


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
    """Length along the outline of the vertex that lies farthest in a direction."""
    along, best, score = 0.0, 0.0, -math.inf
    for segment in segments(outline):
        reach = segment.start.x * direction[0] + segment.start.y * direction[1]
        if reach > score + 1e-9:
            best, score = along, reach
        along += segment.length
    return best


def round_stretches(outline: Outline, edges: tuple[Edge, ...]) -> tuple[tuple[float, float], ...]:
    """The stretches between straight edges as (length along at the start, length), in order round the outline."""
    whole = perimeter(outline)
    if not edges:
        return ((0.0, whole),)
    found = []
    for edge, following in zip(edges, (*edges[1:], edges[0]), strict=True):
        start = edge.length_along + edge.straight
        length = (following.length_along - start) % whole
        if 1e-6 < length < whole - 1e-6:
            found.append((start, length))
    return tuple(found)
