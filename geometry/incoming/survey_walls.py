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

Where the wall turns is found by dynamic programming (R. Bellman, On the approximation of curves by line segments using dynamic programming,
1961): of all ways to cut the ring the one with the least sum of squared distances over the accuracy squared, plus for each stretch what its
figures cost by the Bayesian criterion (G. Schwarz, 1978). Stretches that go on from each other almost straight are one wall that bows.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.incoming.curve_fits import FittedCircle, FittedLine, fit_circle, fit_line

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Costs = NDArray[np.float64]

KNOTS = 160
"""Places at most where the ring may be cut; between them the cut is moved to the best point."""
WEIGHT = 120
"""Points at most that weigh in the choice: a wall waves by more than thousands of points scatter."""
STEP = 0.55
"""Greatest distance of neighbours on a curve over its radius, about 30°: wider apart they are corners (own default)."""
CORNER = math.radians(10.0)
"""Least turn of a corner; walls that turn by less are one that bows (own default)."""
BETWEEN = 1.5
"""What it costs that two stretches meet between two points, in figures of the criterion: a point at the corner is the rule (own default)."""
CORNER_OFF = 5.0
"""Times the accuracy that a wall may bow, with the point at its corner, before that point is taken for one beyond the corner (own default)."""
ROUND_POINTS = 5
"""Fewest points from which a wall is taken for curved."""


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
    return found if near and math.sqrt(sum(v * v for v in found.residuals) / len(ring)) <= 2.0 * accuracy else None


def stretches_of(ring: Points, names: Sequence[frozenset[str]], *, accuracy: float) -> list[Stretch]:
    """The stretches of a ring in order; ``names`` are the edges of each point: none, one, or two where a corner was taken for both."""
    runs = _named_runs(names)
    if len(runs) < 2:
        start = sharpest(ring)
        parts = _cut(ring, start, len(ring) + 1, accuracy, closed=True)
        merged = _merged(ring, [_fitted(ring, start + a, b - a + 1, "", accuracy) for a, b in parts], accuracy)
        return _with_corners(ring, merged, accuracy)
    found = []
    for name, begin, size in runs:
        first, count = _widened(ring, names, begin, size, accuracy)
        parts = _cut(ring, first, count, accuracy) if count > ROUND_POINTS else [(0, count - 1)]
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


# Cutting.


class _Sums:
    """Sums over the first points of a chain, from which the scatter about the best line and circle of any part of it follows."""

    def __init__(self, chain: Points) -> None:
        import numpy as np

        moved = chain - chain.mean(axis=0)
        self.scale = float(np.abs(moved).max()) or 1.0
        x, y = (moved / self.scale).T
        z = x * x + y * y
        columns = np.column_stack((np.ones_like(x), z, x, y, z * z, z * x, z * y, x * x, x * y, y * y))
        self.total = np.vstack((np.zeros(10), np.cumsum(columns, axis=0)))
        steps = np.hypot(np.diff(x), np.diff(y))
        self.steps = steps

    def of(self, first: NDArray[np.intp], last: NDArray[np.intp]) -> tuple[Costs, Costs, Costs]:
        """Sums of squared distances, mm², from line and circle of the points first to last, and the radius, mm; arrays."""
        import numpy as np

        parts = self.total[last + 1] - self.total[first]
        count = parts[:, 0]
        mz, mx, my, zz, zx, zy, xx, xy, yy = (parts[:, 1:] / count[:, None]).T
        xx, xy, yy = xx - mx * mx, xy - mx * my, yy - my * my
        zz, zx, zy = zz - mz * mz, zx - mz * mx, zy - mz * my
        half = (xx - yy) / 2.0
        line = np.maximum((xx + yy) / 2.0 - np.hypot(half, xy), 0.0) * count
        # z about the middle of the part: z' = z - 2 mx x - 2 my y + constant
        ax, ay = -2.0 * mx, -2.0 * my
        rr = zz + ax * ax * xx + ay * ay * yy + 2.0 * (ax * zx + ay * zy + ax * ay * xy)
        rx, ry = zx + ax * xx + ay * xy, zy + ax * xy + ay * yy
        mean = np.maximum(xx + yy, 1e-30)  # of z about the middle
        root = 2.0 * np.sqrt(mean)
        matrix = np.empty((len(count), 3, 3))
        matrix[:, 0, 0], matrix[:, 0, 1], matrix[:, 0, 2] = rr / (root * root), rx / root, ry / root
        matrix[:, 1, 0], matrix[:, 1, 1], matrix[:, 1, 2] = rx / root, xx, xy
        matrix[:, 2, 0], matrix[:, 2, 1], matrix[:, 2, 2] = ry / root, xy, yy
        values, vectors = np.linalg.eigh(matrix)
        circle = np.maximum(values[:, 0], 0.0) * count
        bend = np.maximum(np.abs(vectors[:, 0, 0]) / root, 1e-12)
        radius = np.sqrt(vectors[:, 1, 0] ** 2 + vectors[:, 2, 0] ** 2 + 4.0 * bend * bend * mean) / (2.0 * bend)
        square = self.scale * self.scale
        return line * square, circle * square, radius * self.scale


def _cut(ring: Points, start: int, count: int, accuracy: float, *, closed: bool = False) -> list[tuple[int, int]]:
    """First and last point of each stretch of a chain of ``count`` points of the ring from ``start``, counted from its start.

    ``closed``: the last point is the first once more, and may belong to one of its two stretches alone.
    """
    import numpy as np

    chain = ring[(start + np.arange(count)) % len(ring)]
    sums = _Sums(chain)
    knots = np.unique(np.linspace(0, count - 1, min(count, KNOTS + 1)).round().astype(np.intp))
    if closed:
        knots = np.unique(np.append(knots, count - 2))
    weight = min(count, WEIGHT)
    share, worth = weight / count / accuracy**2, math.log(weight)
    at_point, between = (_each_cost(sums, knots, share, worth, skip) for skip in (0, 1))
    best, came, gap = _path(at_point, between, BETWEEN * worth, begin=0)
    end = len(knots) - 1
    if closed:
        late, late_came, late_gap = _path(at_point, between, BETWEEN * worth, begin=1)
        last = int(knots[end - 1]) - int(knots[came[end - 1]]) - int(gap[end - 1])
        costs = [best[end], best[end - 1] + BETWEEN * worth if last >= 2 else math.inf, late[end] + BETWEEN * worth]
        chosen = int(np.argmin(np.round(costs, 9)))
        if chosen == 1:
            end -= 1
        elif chosen == 2:
            came, gap = late_came, late_gap
    found = []
    while end > 0:
        before = int(came[end])
        found.append((int(knots[before]) + int(gap[end]), int(knots[end])))
        end = before
    return _moved(sums, found[::-1], count, len(knots))


def _path(at_point: Costs, between: Costs, worth: float, *, begin: int) -> tuple[Costs, NDArray[np.intp], NDArray[np.bool_]]:
    """Least cost up to each knot, the knot before it, and whether the stretch to it begins one point after that one.

    ``begin`` 1: the first stretch begins one point after the start, which is free of cost here.
    """
    import numpy as np

    size = len(at_point)
    best, came, gap = np.full(size, math.inf), np.zeros(size, dtype=np.intp), np.zeros(size, dtype=bool)
    best[0] = 0.0
    for last in range(1, size):
        ways = np.stack((best[:last] + at_point[:last, last], best[:last] + between[:last, last] + worth))
        if begin:
            ways[0, 0], ways[1, 0] = math.inf, between[0, last]
        else:
            ways[1, 0] = math.inf
        at = int(np.argmin(ways))
        gap[last], came[last] = at >= last, at % last
        best[last] = ways.ravel()[at]
    return best, came, gap


def _each_cost(sums: _Sums, knots: NDArray[np.intp], share: float, worth: float, skip: int) -> Costs:
    """The cost of every part from ``skip`` points after one knot to another, by the cheaper of line and circle."""
    import numpy as np

    size = len(knots)
    first, last = np.triu_indices(size, k=1)
    a, b = knots[first] + skip, knots[last]
    room = b > a + skip  # two points or more, and three where it begins between two
    first, last, a, b = first[room], last[room], a[room], b[room]
    line, circle, radius = sums.of(a, b)
    # the widest step of each part: the running greatest of the steps from its first knot on
    widest = np.zeros((size, size))
    per_knot = np.maximum.reduceat(sums.steps, knots[:-1]) * sums.scale
    for row in range(size - 1):
        widest[row, row + 1 :] = np.maximum.accumulate(per_knot[row:])
    if skip:  # the step that is left out may be wide
        widest[:-1] = np.minimum(widest[:-1], np.vstack((widest[1:-1], np.full(size, math.inf)))) if size > 2 else widest[:-1]
    may = (b - a + 1 >= ROUND_POINTS) & (widest[first, last] <= STEP * radius)
    straight = share * line + 3.0 * worth
    bent = np.where(may, share * circle + 4.0 * worth, math.inf)
    cost = np.full((size, size), math.inf)
    cost[first, last] = np.minimum(straight, bent)
    return cost


def _moved(sums: _Sums, parts: list[tuple[int, int]], count: int, size: int) -> list[tuple[int, int]]:
    """Each place where two stretches meet moved between its knots to where both fit best."""
    import numpy as np

    reach = math.ceil((count - 1) / max(size - 1, 1))
    if reach <= 1:
        return parts
    for place in range(len(parts) - 1):
        (first, at), (following, last) = parts[place], parts[place + 1]
        skip = following - at
        trial = np.arange(max(first + 4, at - reach), min(last - 4, at + reach) + 1)
        if len(trial) < 2:
            continue
        before, after = (
            np.minimum(*sums.of(*ends)[:2])
            for ends in ((np.full(len(trial), first), trial), (trial + skip, np.full(len(trial), last)))
        )
        at = int(trial[int(np.argmin(before + after))])
        parts[place], parts[place + 1] = (first, at), (at + skip, last)
    return parts


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
            better = sum(v * v for v in circle.residuals) < 0.5 * sum(v * v for v in line.residuals)
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


__all__ = ["CORNER", "ROUND_POINTS", "STEP", "Stretch", "sharpest", "stretches_of", "turn_between", "whole_circle"]
