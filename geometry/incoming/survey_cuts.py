"""Where a chain of surveyed points is best cut into straight and round stretches.

Terms
-----
chain
    Points in order, (n, 2) mm; the last of a closed one is its first once more.
knot
    A place where the chain may be cut: every point, or of very many every few.
cost
    Sum of squared distances over the accuracy squared, plus for each stretch what its figures cost by the Bayesian criterion (G. Schwarz,
    1978). Of all ways to cut the chain the cheapest is found by dynamic programming (R. Bellman, On the approximation of curves by line
    segments using dynamic programming, 1961).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
    Costs = NDArray[np.float64]

KNOTS = 160
"""Knots at most of the first round."""
FINER = 4
"""Times as closely as before each round looks at the places beside its cuts."""
WEIGHT = 120
"""Points at most that weigh in the choice: a wall waves by more than thousands of points scatter."""
STEP = 0.55
"""Greatest distance of neighbours on a curve over its radius, about 30°: wider apart they are corners (own default)."""
BETWEEN = 1.5
"""What it costs that two stretches meet between two points, in figures of the criterion: a point at the corner is the rule (own default)."""
ROUND_POINTS = 5
"""Fewest points from which a wall is taken for curved."""


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


def cut_chain(ring: Points, start: int, count: int, accuracy: float, *, closed: bool = False) -> list[tuple[int, int]]:
    """First and last point of each stretch of a chain of ``count`` points of the ring from ``start``, counted from its start.

    ``closed``: the last point is the first once more, and may belong to one of its two stretches alone.
    """
    import numpy as np

    chain = ring[(start + np.arange(count)) % len(ring)]
    sums = _Sums(chain)
    spacing = max(1, math.ceil((count - 1) / KNOTS))
    knots = np.arange(0, count, spacing, dtype=np.intp)
    while True:
        parts = _best(sums, _with_ends(knots, count, closed), count, accuracy, closed)
        if spacing == 1:
            return parts
        # between the knots beside each cut the next round looks more closely
        finer = max(1, spacing // FINER)
        around = np.arange(-spacing - finer, spacing + finer + 1, finer)
        knots = (np.array([at for part in parts for at in part], dtype=np.intp)[:, None] + around).ravel()
        knots = knots[(knots >= 0) & (knots < count)]
        spacing = finer


def _with_ends(knots: NDArray[np.intp], count: int, closed: bool) -> NDArray[np.intp]:
    import numpy as np

    return np.unique(np.append(knots, [0, count - 2, count - 1] if closed else [0, count - 1]))


def _best(sums: _Sums, knots: NDArray[np.intp], count: int, accuracy: float, closed: bool) -> list[tuple[int, int]]:
    """The cheapest way to cut the chain at knots."""
    weight = min(count, WEIGHT)
    share, worth = weight / count / accuracy**2, math.log(weight)
    at_point, between = (_each_cost(sums, knots, share, worth, skip) for skip in (0, 1))
    early, late, full = (_paths(at_point, between, BETWEEN * worth, knots, begin=begin) for begin in (0, 1, 2))
    end = len(knots) - 1
    if not closed:
        return _traced(early, knots, end, free=True)
    ways = (
        (early.best[0, end], early, end, True),
        (full.best[1, end - 1] + BETWEEN * worth, full, end - 1, False),
        (late.best[1, end] + BETWEEN * worth, late, end, False),
    )
    _, paths, end, free = min(ways, key=lambda way: round(float(way[0]), 9))
    return _traced(paths, knots, end, free=free)


class _Paths(NamedTuple):
    """Least cost up to each knot, the knot before it, and whether the stretch between begins one point after that one.

    Row 0 of any last stretch, row 1 of one with three points or more: only such a stretch may end between two points, else an edge with
    its two corners alone would do without one of them.
    """

    best: Costs
    came: NDArray[np.intp]
    gap: NDArray[np.bool_]


def _paths(at_point: Costs, between: Costs, worth: float, knots: NDArray[np.intp], *, begin: int) -> _Paths:
    """``begin`` 1: the first stretch begins one point after the start, which is free of cost here; 2: it has three points or more."""
    import numpy as np

    size = len(at_point)
    best, came, gap = np.full((2, size), math.inf), np.zeros((2, size), dtype=np.intp), np.zeros((2, size), dtype=bool)
    best[0, 0] = 0.0
    for last in range(1, size):
        ways = np.stack((best[0, :last] + at_point[:last, last], best[1, :last] + between[:last, last] + worth))
        few = knots[last] - knots[:last] < 2
        if begin == 1:
            ways[0, 0], ways[1, 0] = math.inf, between[0, last]
        elif begin == 2 and few[0]:
            ways[0, 0] = math.inf
        for row, allowed in enumerate((ways, np.where(few, math.inf, ways))):
            at = int(np.argmin(allowed))
            gap[row, last], came[row, last] = at >= last, at % last
            best[row, last] = allowed.ravel()[at]
    return _Paths(best, came, gap)


def _traced(paths: _Paths, knots: NDArray[np.intp], end: int, *, free: bool) -> list[tuple[int, int]]:
    """The stretches up to a knot; ``free``: the last may have two points."""
    found, row = [], 0 if free else 1
    while end > 0:
        before, gap = int(paths.came[row, end]), bool(paths.gap[row, end])
        found.append((int(knots[before]) + int(gap), int(knots[end])))
        end, row = before, int(gap)
    return found[::-1]


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


__all__ = ["ROUND_POINTS", "STEP", "cut_chain"]
