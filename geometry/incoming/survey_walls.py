"""Surveyed points of one opening cut into straight and curved stretches of its wall.

Terms
-----
ring
    The points in order round the opening, (n, 2) mm, counter-clockwise, the last beside the first.
stretch
    Neighbouring points of the ring that one line or one circle goes through. The point at a corner belongs to both stretches that meet
    there; where no point was taken at the corner they meet between two points.
accuracy
    How far a surveyed point may lie off the wall, mm (±0.5, common practice, no source).

Where the wall turns, ``survey_cuts`` finds. Stretches that go on from each other almost straight are one wall that bows.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.incoming.curve_fits import FittedCircle, FittedLine, fit_circle, fit_line
from geometry.incoming.survey_cuts import ROUND_POINTS, STEP, cut_chain

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

CORNER = math.radians(10.0)
"""Least turn of a corner; walls that turn by less are one that bows (own default)."""
MANY = 8
"""Points of an edge from which its own scatter says how straight it is (own default)."""
CORNER_OFF = 5.0
"""Times the accuracy that a wall may bow, with the point at its corner, before that point is taken for one beyond the corner (own default)."""


class OnePointError(ValueError):
    """An edge with one point of its own that is no point between two corners; the edge's name is its argument."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Points of the ring from ``first`` over ``count`` places, what was fitted to them, and the edge that was named."""

    first: int
    count: int
    line: FittedLine
    circle: FittedCircle | None
    name: str = ""

    @property
    def curved(self) -> bool:
        """Whether it is a circle."""
        return self.circle is not None

    @property
    def residuals(self) -> tuple[float, ...]:
        """Distances of its points from what was fitted, mm."""
        return self.line.residuals if self.circle is None else self.circle.residuals

    @property
    def rms(self) -> float:
        """Root of the mean square of the residuals, mm."""
        return math.sqrt(math.fsum(value * value for value in self.residuals) / len(self.residuals))

    def rows(self, total: int) -> list[int]:
        """Places of its points in the ring."""
        return [(self.first + step) % total for step in range(self.count)]


def whole_circle(ring: Points, *, accuracy: float, named: bool) -> FittedCircle | None:
    """The circle of a round opening, where all points lie on one and near enough to each other; ``named``: one edge is named all round."""
    import numpy as np

    found = fit_circle(ring, accuracy=accuracy) if len(ring) >= ROUND_POINTS else None
    if found is None:
        return None
    widest = float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).max())
    near = widest <= STEP * found.radius or (named and widest <= 1.5 * found.radius)
    return found if near and math.sqrt(math.fsum(v * v for v in found.residuals) / len(ring)) <= 2.0 * accuracy else None


def stretches_of(ring: Points, names: Sequence[frozenset[str]], *, accuracy: float) -> list[Stretch]:
    """The stretches of a ring in order; ``names`` are the edges of each point: none, one, or two where a corner was taken for both.

    Raises OnePointError.
    """
    runs = _named_runs(names)
    if len(runs) < 2:
        start = sharpest(ring)
        parts = cut_chain(ring, start, len(ring) + 1, accuracy, closed=True)
        merged = _merged(ring, [_fitted(ring, start + a, b - a + 1, "", accuracy) for a, b in parts], accuracy)
        return _with_corners(ring, merged, accuracy)
    found = []
    for name, begin, size in runs:
        first, count = _widened(ring, names, begin, size, accuracy)
        if size == 1 and max(map(abs, _fitted(ring, first, count, name, accuracy).residuals)) > CORNER_OFF * accuracy:
            raise OnePointError(name)
        parts = cut_chain(ring, first, count, accuracy) if count > ROUND_POINTS else [(0, count - 1)]
        found += _merged(ring, [_fitted(ring, first + a, b - a + 1, name, accuracy) for a, b in parts], accuracy, closed=False)
    return found


def _named_runs(names: Sequence[frozenset[str]]) -> list[tuple[str, int, int]]:
    """Name, first place and number of points of each run of one edge round the ring, in order."""
    total = len(names)
    runs = []
    for at in range(total):
        for name in sorted(names[at] - names[at - 1]):
            count = 1
            while count < total and name in names[(at + count) % total]:
                count += 1
            runs.append((name, at, count))
    # two edges that begin at one point: the one that ends there as well was met before
    return sorted(runs, key=lambda run: (run[1], run[2]))


def _widened(ring: Points, names: Sequence[frozenset[str]], first: int, count: int, accuracy: float) -> tuple[int, int]:
    """A named edge with the corner that was taken as its neighbour's, where that lies on its line, or where it has one point alone."""
    total = len(ring)
    alone = count == 1
    for side in (-1, 1):
        own = (first if side < 0 else first + count - 1) % total
        place = (own + side) % total
        if len(names[own]) > 1 or count >= total - 1:
            continue  # its corner is its own
        if alone or _takes(ring, first, count, place, accuracy):
            first, count = (first - 1 if side < 0 else first), count + 1
    return first % total, count


def _takes(ring: Points, first: int, count: int, place: int, accuracy: float) -> bool:
    """Whether a point beside a straight stretch is the corner at its end: the line with it as well is still near all of them."""
    rows = [(first + step) % len(ring) for step in range(count)]
    own, both = fit_line(ring[rows]), fit_line(ring[[*rows, place]])
    worst = max(abs(value) for value in both.residuals)
    if count >= MANY:  # enough to know how straight the edge is
        return worst <= max(2.0 * accuracy, 1.5 * max(abs(value) for value in own.residuals))
    return worst <= max(CORNER_OFF * accuracy, 1.5 * max(abs(value) for value in own.residuals))


def _with_corners(ring: Points, found: list[Stretch], accuracy: float) -> list[Stretch]:
    """Stretches that meet between two points, where one of the two is the corner after all."""
    for at in range(len(found)):
        one, two = found[at - 1], found[at]
        last = (one.first + one.count - 1) % len(ring)
        if last == two.first or len(found) < 2:
            continue
        ways = []
        if not one.curved and _takes(ring, one.first, one.count, two.first, accuracy):
            ways.append((at - 1, _fitted(ring, one.first, one.count + 1, one.name, accuracy)))
        if not two.curved and _takes(ring, two.first, two.count, last, accuracy):
            ways.append((at, _fitted(ring, last, two.count + 1, two.name, accuracy)))
        if ways:
            place, stretch = min(ways, key=lambda way: way[1].rms)
            found[place] = stretch
    return found


def sharpest(ring: Points) -> int:
    """The point at which the ring turns most, seen over a twenty-fifth of its length to either side."""
    import numpy as np

    sides = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T)
    along = np.concatenate(([0.0], np.cumsum(sides)))
    whole, reach = along[-1], along[-1] / 25.0
    closed = np.vstack((ring, ring[:1]))

    def at(lengths: Points) -> Points:
        wrapped = np.mod(lengths, whole)
        return np.column_stack([np.interp(wrapped, along, closed[:, axis]) for axis in (0, 1)])

    before = ring - at(along[:-1] - reach)
    after = at(along[:-1] + reach) - ring
    turn = np.abs(np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], np.einsum("ij,ij->i", before, after)))
    return int(np.argmax(np.round(turn, 9)))


# Fitting and joining.


def _fitted(ring: Points, first: int, count: int, name: str, accuracy: float) -> Stretch:
    """A line, or a circle where the points tell it from one: five or more, near each other, the rise over twice the accuracy."""
    import numpy as np

    total = len(ring)
    rows = [(first + step) % total for step in range(count)]
    points = ring[rows]
    line = fit_line(points)
    circle = None
    if count >= ROUND_POINTS:
        circle = fit_circle(points, accuracy=accuracy)
        if circle is not None:
            widest = float(np.hypot(*np.diff(points, axis=0).T).max())
            chord = float(np.hypot(*(points[-1] - points[0])))
            rise = circle.radius - math.sqrt(max(circle.radius**2 - (chord / 2) ** 2, 0.0))
            better = math.fsum(v * v for v in circle.residuals) < 0.5 * math.fsum(v * v for v in line.residuals)
            if not (circle.told_from_straight and rise > 2.0 * accuracy and widest <= STEP * circle.radius and better):
                circle = None
    return Stretch(first % total, count, line, circle, name)


def _direction(stretch: Stretch, ring: Points, *, at_end: bool) -> float:
    """Angle of travel at an end of a stretch, radians."""
    if stretch.circle is None:
        return math.atan2(stretch.line.way[1], stretch.line.way[0])
    place = ring[(stretch.first + (stretch.count - 1 if at_end else 0)) % len(ring)]
    middle = ring[(stretch.first + stretch.count // 2) % len(ring)]
    x, y = place[0] - stretch.circle.centre[0], place[1] - stretch.circle.centre[1]
    mx, my = middle[0] - stretch.circle.centre[0], middle[1] - stretch.circle.centre[1]
    left = (x * my - y * mx) * (-1.0 if at_end else 1.0) > 0  # travels counter-clockwise about its centre
    return math.atan2(x, -y) if left else math.atan2(-x, y)


def turn_between(one: Stretch, two: Stretch, ring: Points) -> float:
    """Turn from the end of a stretch to the start of the next, radians, positive to the left."""
    turn = _direction(two, ring, at_end=False) - _direction(one, ring, at_end=True)
    return (turn + math.pi) % (2.0 * math.pi) - math.pi


def _merged(ring: Points, found: list[Stretch], accuracy: float, *, closed: bool = True) -> list[Stretch]:
    """Neighbours that go on from each other almost straight made one, the pair that fits best first; both ends of the ring meet where closed."""
    while len(found) > 1:
        best: tuple[float, int, Stretch] | None = None
        for place in range(len(found) if closed and len(found) > 2 else len(found) - 1):
            one, two = found[place], found[(place + 1) % len(found)]
            if abs(turn_between(one, two, ring)) >= CORNER:
                continue
            length = (two.first - one.first) % len(ring) + two.count
            both = _fitted(ring, one.first, length, one.name, accuracy)
            straight = not one.curved and not two.curved
            good = both.rms <= max(2.0 * accuracy, 1.5 * max(one.rms, two.rms))
            if (straight or good) and (best is None or both.rms < best[0]):
                best = both.rms, place, both
        if best is None:
            break
        _, place, both = best
        found = [both, *found[1:-1]] if place == len(found) - 1 else [*found[:place], both, *found[place + 2 :]]
    return found


__all__ = [
    "CORNER",
    "CORNER_OFF",
    "OnePointError",
    "Stretch",
    "sharpest",
    "stretches_of",
    "turn_between",
    "whole_circle",
]
