"""Places round the glass edge and what they are called: straight edges, rounded corners, round outlines.

Terms
-----
edge
    "e1", "e2" .. of the straight edges, "V1" .. of the rounded corners, "round" where there is neither.
"""

from __future__ import annotations

from functools import lru_cache

from geometry.detail.edges import ROUND, edges_of
from geometry.outline import Arc, Line, Outline, Point, corners, nearest_station, perimeter, segments
from geometry.workings.bead_movement import pieces

EdgePlace = tuple[Point, Point, float, str, bool]
"""Point, tangent, length along, name of the edge, and whether it lies in a rounded corner."""


@lru_cache(maxsize=64)
def edge_places(glass: Outline) -> tuple[EdgePlace, ...]:
    """Places all round the glass, both ends of every straight side among them."""
    spacing = max(20.0, perimeter(glass) / 48)
    found = []
    along = 0.0
    parts = segments(glass)
    for before, part in zip((parts[-1], *parts), parts, strict=False):
        straight = isinstance(part, Line)
        count = 2 * pieces(part, spacing)
        first = 0 if straight or isinstance(before, Arc) else 1  # the end of a straight side is there already
        for index in range(first, count + 1 if straight else count):
            here = along + part.length * index / count
            name, corner = name_at(glass, along + part.length / 2 if straight else here)
            found.append((part.point_at(index / count), part.tangent_at(index / count), here, name, corner))
        along += part.length
    return tuple(found)


def edge_place(glass: Outline, beside: Point) -> EdgePlace:
    """The place of the glass edge nearest to a point."""
    station = nearest_station(glass, beside)
    name, corner = name_at(glass, station.length_along)
    return station.point, station.tangent, station.length_along, name, corner


def name_at(glass: Outline, along: float) -> tuple[str, bool]:
    """Name of the edge at a length along the glass, and whether that is a rounded corner."""
    whole = perimeter(glass)
    for first, reach, name, corner in _stretches(glass):
        beyond = (along - first) % whole
        if beyond <= reach + 1e-9 or beyond >= whole - 1e-9:
            return name, corner
    return ROUND, False


@lru_cache(maxsize=64)
def _stretches(glass: Outline) -> tuple[tuple[float, float, str, bool], ...]:
    """Start and length of every straight edge and of every rounded corner, edges first."""
    whole = perimeter(glass)
    found = [(edge.length_along, edge.straight, edge.name, False) for edge in edges_of(glass)]
    for corner in corners(glass):
        if corner.radius > 0:
            first, last = (nearest_station(glass, place).length_along for place in (corner.tangent_before, corner.tangent_after))
            found.append((first, (last - first) % whole, f"V{corner.number}", True))
    return tuple(found)


__all__ = ["EdgePlace", "edge_place", "edge_places", "name_at"]
