"""Where the supplier measures the frit, and how wide it is there: eight places of a pane, on exact curves.

Terms
-----
place
    A point of the glass edge from which the width of the print is measured square to the edge, in a corner along its bisector.
    Numbered 1 to 8 counter-clockwise as seen from outside, from corner V1; on a round pane from its lowest point.
width
    From the glass edge to the inner edge of the print, its fade included; solid: to where the fade begins.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.edges import edges_of
from geometry.outline import Arc, Outline, Point, corners, nearest_station, perimeter, ray_length, segments, station_at

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.detail.parts import Curves

COUNT = 8
SHARP = 40.0  # degrees: in a sharper corner nobody measures a width
_SAMPLES = 48  # between two places of a round pane, and a quarter of those all round a pane whose print is as drawn
_NARROWER = 0.05  # mm by which a place between must be narrower than all others to take the place of one


@dataclass(frozen=True, slots=True)
class FritPlace:
    """One place: its number, the point on the glass edge, the unit vector into the glass, width and solid part, mm."""

    number: int
    point: Point
    inward: Point
    width: float
    solid: float


@dataclass(frozen=True, slots=True)
class _Spot:
    """A candidate: length along the edge, point and direction into the glass."""

    along: float
    point: Point
    inward: Point


def frit_places(curves: Curves) -> tuple[FritPlace, ...]:
    """Eight places; fewer only where a line from the edge never meets the inner edge of the print."""
    glass = curves.glass
    spots = _cornered(curves) or _round(curves)
    if spots and corners(glass):
        spots = _with_narrowest(curves, spots)
    first = _first(glass)
    whole = perimeter(glass)
    spots.sort(key=lambda spot: round((spot.along - first) % whole, 6) % whole)
    found: list[FritPlace] = []
    for spot in spots:
        width = _reach(curves.frit_inner, spot)
        if width is None:
            continue
        solid = width if curves.frit_fade is None else _reach(curves.frit_fade, spot)
        found.append(FritPlace(len(found) + 1, spot.point, spot.inward, width, min(width, solid or 0.0)))
    return tuple(found)


def _reach(outline: Outline, spot: _Spot) -> float | None:
    return ray_length(outline, spot.point, spot.inward)


def _first(glass: Outline) -> float:
    """Length along the edge at which the numbers begin."""
    sharp = corners(glass)
    place = sharp[0].theoretical if sharp else _lowest(glass)
    return nearest_station(glass, place).length_along


def _lowest(glass: Outline) -> Point:
    whole = perimeter(glass)
    points = [station_at(glass, whole * index / 720).point for index in range(720)]
    low = min(point.y for point in points)
    level = [point for point in points if point.y < low + 1e-3]
    return level[len(level) // 2]


def _spot(glass: Outline, along: float) -> _Spot:
    station = station_at(glass, along % perimeter(glass))
    return _Spot(station.length_along, station.point, Point(-station.outward.x, -station.outward.y))


def _cornered(curves: Curves) -> list[_Spot]:
    """Middles of the sides, then corners, then places between on the longest sides; empty on a pane of curves only."""
    glass = curves.glass
    edges = sorted(edges_of(glass), key=lambda edge: (-round(edge.straight, 6), edge.length_along))
    spots = [_spot(glass, edge.length_along + edge.straight / 2) for edge in edges[:COUNT]]
    if not spots:
        return []
    spots += _middles_of_arcs(glass)[: COUNT - len(spots)]
    order = sorted(corners(glass), key=lambda corner: (corner.convex, round(corner.interior_angle, 6), corner.number))
    for corner in [each for each in order if each.interior_angle >= SHARP][: COUNT - len(spots)]:
        station = nearest_station(glass, corner.theoretical)
        spots.append(_Spot(station.length_along, station.point, corner.bisector))
    spots = [spot for spot in spots if _reach(curves.frit_inner, spot) is not None]
    for share in (0.75, 0.25, 0.625, 0.375):
        for edge in edges:
            spot = _spot(glass, edge.length_along + edge.straight * share)
            if len(spots) < COUNT and _reach(curves.frit_inner, spot) is not None:
                spots.append(spot)
    return spots


def _middles_of_arcs(glass: Outline) -> list[_Spot]:
    """Middles of the sides that are arcs, the longest first; the rounding of a corner is no side."""
    rounded = [corner.tangent_before for corner in corners(glass)]
    found: list[tuple[float, float]] = []
    along = 0.0
    for part in segments(glass):
        if isinstance(part, Arc) and all(math.dist(part.start, place) > 1e-6 for place in rounded):
            found.append((part.length, along + part.length / 2))
        along += part.length
    return [_spot(glass, middle) for _, middle in sorted(found, key=lambda each: (-round(each[0], 6), each[1]))]


def _round(curves: Curves) -> list[_Spot]:
    """The four ends of the axes of a round pane, and between each two of them where the print is narrowest."""
    glass = curves.glass
    whole, start = perimeter(glass), nearest_station(glass, _lowest(glass)).length_along
    spots: list[_Spot] = []
    for quarter in range(4):
        spots.append(_spot(glass, start + whole * quarter / 4))
        shares = sorted(range(1, _SAMPLES), key=lambda share: (abs(share - _SAMPLES / 2), share))
        between = [_spot(glass, start + whole * (quarter + share / _SAMPLES) / 4) for share in shares]
        spots.append(_narrowest(curves, between))
    return spots


def _narrowest(curves: Curves, spots: Iterable[_Spot]) -> _Spot:
    """The spot of the least width, of equal ones (to a hundredth of a millimetre) the first."""
    return min(spots, key=lambda spot: round(_reach(curves.frit_inner, spot) or math.inf, 2))


def _with_narrowest(curves: Curves, spots: list[_Spot]) -> list[_Spot]:
    """The spots, the nearest of them moved to where a print with an edge of its own is narrower than at all of them."""
    glass = curves.glass
    whole = perimeter(glass)
    least = _narrowest(curves, [_spot(glass, whole * index / (4 * _SAMPLES)) for index in range(4 * _SAMPLES)])
    reach, others = _reach(curves.frit_inner, least), [_reach(curves.frit_inner, spot) or math.inf for spot in spots]
    if reach is None or reach > min(others) - _NARROWER:
        return spots

    def gap(spot: _Spot) -> float:
        apart = abs(spot.along - least.along) % whole
        return min(apart, whole - apart)

    nearest = min(spots, key=gap)
    return [least if spot is nearest else spot for spot in spots]


__all__ = ["COUNT", "FritPlace", "frit_places"]
