"""How wide the solid print of a returned drawing is: the true distance from the glass edge to its inner edge, all round.

Terms
-----
solid edge
    The inner edge of what is printed solid. Beyond it dots may go on: they thin out and protect nothing, so they do not count.
true distance
    From each place of the solid edge square to the nearest place of the glass edge, in corners too: least where the print is narrowest.
cover
    From each place of the bead's inner edge to the solid edge; below nothing where the print leaves the bead bare.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.near import clean, nearest, spread
from geometry.outline import Outline, Point, distance_between, perimeter, segments
from geometry.returned.differences import ALL_ROUND, MOST, part_at, parts_at, runs_of

if TYPE_CHECKING:
    from geometry.compare.near import Floats

PLACES = 3000
"""Places all round at which a width is looked at, beside the vertices."""
ROUNDS = 60
"""Halvings of the step in which the narrowest place is searched for."""


@dataclass(frozen=True, slots=True)
class Width:
    """A width, mm, between two edges: ``at`` on the inner one, ``of`` on the outer one, ``part`` of the pane."""

    value: float
    at: Point
    of: Point
    part: str


@dataclass(frozen=True, slots=True)
class Short:
    """Neighbouring places narrower than wanted, named by the part of the pane that most of them lie on: the narrowest, and the places."""

    part: str
    least: Width
    run: tuple[Point, ...]


def least_width(glass: Outline, solid: Outline, *, pane: Outline | None = None) -> Width:
    """The least true distance, mm, from the glass edge to the solid edge, and its place; negative where the print leaves the glass.

    ``pane`` names the parts, left out: the glass. Exact for lines and arcs.

    >>> from geometry.outline import moved, rectangle
    >>> found = least_width(rectangle(200, 100), moved(rectangle(160, 60), 20, 18))
    >>> found.value, found.part
    (18.0, 'e1')
    """
    return _least(glass, solid, glass if pane is None else pane, inwards=True)


def least_cover(bead: Outline, solid: Outline, *, pane: Outline) -> Width:
    """The least true distance, mm, from the bead's inner edge to the solid edge; negative where the bead lies bare.

    >>> from geometry.outline import moved, rectangle
    >>> least_cover(moved(rectangle(160, 60), 20, 20), moved(rectangle(150, 54), 25, 24), pane=rectangle(200, 100)).value
    2.0
    """
    return _least(bead, solid, pane, inwards=True)


def _least(outer: Outline, inner: Outline, pane: Outline, *, inwards: bool) -> Width:
    whole = perimeter(inner)
    places = spread(inner, spacing=whole / PLACES)
    near = nearest(outer, places.places)
    width = -near.distance if inwards else near.distance
    worst = int(np.argmin(np.round(width, 9)))
    at, of, value = _closest(outer, inner, places.places[worst], int(places.segment[worst]), float(width[worst]))
    if value > 0:
        exact = distance_between(outer, inner, within=value + 1e-6)
        value = exact if 0 < exact < value else value
    return Width(value, at, of, part_at(pane, of))


def _closest(outer: Outline, inner: Outline, place: Floats, segment: int, value: float) -> tuple[Point, Point, float]:
    """The place of a segment, or of the one before it, nearest to the outer edge: halved steps about a place found already."""
    best = place
    for number in (segment, segment - 1):
        part = segments(inner)[number]
        share, step = (0.0 if number == segment else 1.0), 0.5
        share = _share_of(part, best, share)
        for _ in range(ROUNDS):
            tries = np.clip(np.array([share - step, share, share + step]), 0.0, 1.0)
            near = nearest(outer, np.array([part.point_at(float(each)) for each in tries], dtype=float))
            index = int(np.argmin(-near.distance))
            if -float(near.distance[index]) < value - 1e-12:
                value, share = -float(near.distance[index]), float(tries[index])
                best = np.array(part.point_at(share))
            elif index == 1:
                share = float(tries[1])
            step /= 2.0
    near = nearest(outer, best[None, :])
    foot = near.foot[0]
    return clean(best), clean(foot), value


def _share_of(part: object, place: Floats, fallback: float) -> float:
    """The share of a segment's length at which a place of it lies."""
    from geometry.outline.loop import Arc, Line
    from geometry.outline.meet import nearest_fraction

    assert isinstance(part, (Arc, Line))
    return nearest_fraction(part, float(place[0]), float(place[1])) if math.isfinite(float(place[0])) else fallback


def short_places(glass: Outline, solid: Outline, *, wanted: float, pane: Outline | None = None) -> tuple[Short, ...]:
    """Every stretch along which the solid print is narrower than ``wanted`` mm, the narrowest first.

    >>> from geometry.outline import moved, rectangle
    >>> [short.part for short in short_places(rectangle(200, 100), moved(rectangle(160, 60), 20, 18), wanted=19)]
    ['e1']
    """
    named = glass if pane is None else pane
    whole = perimeter(solid)
    places = spread(solid, spacing=whole / PLACES)
    near = nearest(glass, places.places)
    width = -near.distance
    found = []
    for run in runs_of(np.flatnonzero(width < wanted - 1e-9).tolist(), len(width)):
        parts = parts_at(named, near.foot[run])
        part = ALL_ROUND if len(run) > MOST * len(width) else max(dict.fromkeys(parts), key=parts.count)
        worst = min(run, key=lambda index: round(float(width[index]), 6))
        least = Width(
            float(width[worst]), clean(places.places[worst]), clean(near.foot[worst]), part_at(named, clean(near.foot[worst]))
        )
        found.append(Short(part, least, tuple(clean(places.places[index]) for index in run)))
    return tuple(sorted(found, key=lambda each: (round(each.least.value, 6), each.part)))


__all__ = ["Short", "Width", "least_cover", "least_width", "short_places"]
