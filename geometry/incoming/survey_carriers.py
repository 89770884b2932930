"""The endless lines and whole circles that the edges of a surveyed wall lie on, and where two of them meet.

Terms
-----
carrier
    The endless line, or the whole circle, that an edge lies on, with its direction of travel: the opening lies to the left.
rounding
    The circle tangent to both carriers of a corner that lies nearest to the points between them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from geometry.incoming.curve_fits import fit_circle
from geometry.outline.loop import Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

PARALLEL = 1e-9


class Carrier(NamedTuple):
    """A line through ``place`` along ``way``; or a circle about ``place`` of ``radius`` travelled ``turn`` +1 counter-clockwise, -1 clockwise."""

    place: Point
    way: Point
    radius: float = math.inf
    turn: float = 0.0

    def shifted(self, left: float) -> Carrier:
        """The parallel carrier ``left`` mm to the left of its travel."""
        if not self.turn:
            return self._replace(place=Point(self.place.x - left * self.way.y, self.place.y + left * self.way.x))
        return self._replace(radius=self.radius - self.turn * left)

    def foot(self, point: Point) -> Point:
        """The nearest place on the carrier."""
        dx, dy = point.x - self.place.x, point.y - self.place.y
        if not self.turn:
            along = dx * self.way.x + dy * self.way.y
            return Point(self.place.x + along * self.way.x, self.place.y + along * self.way.y)
        reach = math.hypot(dx, dy) or 1.0
        return Point(self.place.x + self.radius * dx / reach, self.place.y + self.radius * dy / reach)


def crossings(one: Carrier, two: Carrier) -> list[Point]:
    """Where two carriers cross, none where they do not."""
    if not one.turn and not two.turn:
        cross = one.way.x * two.way.y - one.way.y * two.way.x
        if abs(cross) < PARALLEL:
            return []
        along = ((two.place.x - one.place.x) * two.way.y - (two.place.y - one.place.y) * two.way.x) / cross
        return [Point(one.place.x + along * one.way.x, one.place.y + along * one.way.y)]
    if not one.turn:
        return crossings(two, one)
    if one.radius <= 0 or (two.turn and two.radius <= 0):
        return []
    if not two.turn:
        foot = two.foot(one.place)
        way, apart = two.way, math.hypot(foot.x - one.place.x, foot.y - one.place.y)
    else:
        dx, dy = two.place.x - one.place.x, two.place.y - one.place.y
        between = math.hypot(dx, dy)
        if between < PARALLEL:
            return []
        apart = (between * between + one.radius**2 - two.radius**2) / (2.0 * between)
        foot = Point(one.place.x + apart * dx / between, one.place.y + apart * dy / between)
        way = Point(-dy / between, dx / between)
    square = one.radius**2 - apart**2
    if square < 0:
        return []
    half = math.sqrt(square)
    return [Point(foot.x + side * half * way.x, foot.y + side * half * way.y) for side in (-1, 1)]


def meeting(pair: tuple[Carrier, Carrier], left: float, near: Point) -> Point | None:
    """Where the carriers, each shifted to the left, cross nearest to a place; None where they do not."""
    found = crossings(pair[0].shifted(left), pair[1].shifted(left))
    return min(found, key=lambda place: math.dist(place, near)) if found else None


def tangent_rounding(points: Points, pair: tuple[Carrier, Carrier], side: float) -> tuple[float, float]:
    """Radius of the circle tangent to both carriers nearest to the points, and the root mean square of their distances from it, mm."""
    import numpy as np

    middle = Point(*(float(value) for value in points[len(points) // 2]))
    free = fit_circle(points)
    reach = float(np.hypot(*(points[-1] - points[0])))
    begin = free.radius if free is not None and free.radius < 20.0 * reach else reach

    def off(radius: float) -> float:
        centre = meeting(pair, side * radius, middle)
        if centre is None:
            return math.inf
        return float(np.sqrt(np.mean((np.hypot(points[:, 0] - centre.x, points[:, 1] - centre.y) - radius) ** 2)))

    trial = [begin * 1.1**step for step in range(-30, 31)]
    best = min(range(len(trial)), key=lambda at: off(trial[at]))
    found = _least(off, trial[max(best - 1, 0)], trial[min(best + 1, len(trial) - 1)])
    return found, off(found)


def _least(of: Callable[[float], float], low: float, high: float) -> float:
    """Where a function of one valley is least, by golden section."""
    share = (math.sqrt(5.0) - 1.0) / 2.0
    a, b = high - share * (high - low), low + share * (high - low)
    at_a, at_b = of(a), of(b)
    for _ in range(60):
        if at_a <= at_b:
            high, b, at_b = b, a, at_a
            a = high - share * (high - low)
            at_a = of(a)
        else:
            low, a, at_a = a, b, at_b
            b = low + share * (high - low)
            at_b = of(b)
    return (low + high) / 2.0


def angle_about(centre: Point, start: Point, end: Point, side: float) -> float:
    """Angle from start to end about a centre, radians from 0 to 2 pi, counter-clockwise for side +1."""
    first = math.atan2(start.y - centre.y, start.x - centre.x)
    last = math.atan2(end.y - centre.y, end.x - centre.x)
    return (side * (last - first)) % (2.0 * math.pi)


def bulge_along(carrier: Carrier, start: Point, end: Point) -> float:
    """Bulge of the stretch of a carrier between two places on it, 0 on a line."""
    if not carrier.turn:
        return 0.0
    return carrier.turn * math.tan(angle_about(carrier.place, start, end, carrier.turn) / 4.0)


__all__ = ["Carrier", "angle_about", "bulge_along", "crossings", "meeting", "tangent_rounding"]
