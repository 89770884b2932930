"""Splines and ellipses as exact spans of control points: nothing is bent, nothing is sampled.

Terms
-----
homogeneous rows
    Control points as (w x, w y, w z, w): cutting a spline apart and moving it are exact on them, weights and all.
domain
    The part of a spline's knots on which it is a curve: from knot ``degree`` to knot ``count``.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from geometry.incoming.incoming import IncomingError

if TYPE_CHECKING:
    from geometry.incoming.pieces import Place, Span

MOST_CONTROL_POINTS = 20_000
MOST_DEGREE = 25


def spline_spans(points: Sequence[Place], weights: Sequence[float], knots: Sequence[float], degree: int) -> list[Span]:
    """The spans of a spline over its domain, by inserting every knot up to the degree (Boehm, 1980).

    Raises ``IncomingError`` where points, weights and knots do not make a spline.
    """
    import numpy as np

    count = len(points)
    if not 1 <= degree <= MOST_DEGREE or count <= degree or count > MOST_CONTROL_POINTS:
        raise IncomingError(
            f"a spline of degree {degree} has {count} control points", f"a degree of 1 to {MOST_DEGREE} and more points"
        )
    if len(knots) != count + degree + 1:
        raise IncomingError(
            f"a spline has {len(knots)} knots for {count} control points of degree {degree}", f"{count + degree + 1}"
        )
    if weights and (len(weights) != count or min(weights) <= 0):
        raise IncomingError("a spline has weights that are not all over 0, or not one for each point", "a weight over 0 for each")
    u = np.array(knots, dtype=float)
    rows = np.ones((count, 4))
    rows[:, :3] = points
    if weights:
        w = np.array(weights, dtype=float)[:, None]
        rows = np.hstack((rows[:, :3] * w, w))
    if not (np.isfinite(rows).all() and np.isfinite(u).all()) or (np.diff(u) < 0).any() or u[count] <= u[degree]:
        raise IncomingError("a spline has knots that do not rise, or figures that are no numbers", "rising knots")
    return _cut_apart(rows, u, degree)


def _cut_apart(rows: Any, u: Any, degree: int) -> list[Span]:
    import numpy as np

    first, last = u[degree], u[len(rows)]
    near = 1e-12 * (last - first)
    u = np.where(np.abs(u - first) <= near, first, np.where(np.abs(u - last) <= near, last, u))
    found = []
    inner = [value for value in np.unique(u) if first <= value <= last]
    for low, high in itertools.pairwise(inner):
        found.append(_blossomed(rows, u, degree, float(low), float(high)))
    return found


def _blossomed(rows: Any, u: Any, degree: int, low: float, high: float) -> Span:
    """The control points of one span: the blossom of the spline at low and high (Ramshaw, 1989)."""
    import numpy as np

    at = int(np.searchsorted(u, low, side="right")) - 1  # the knot interval [u[at], u[at + 1]) that holds the span
    points = []
    for highs in range(degree + 1):
        arguments = [high] * highs + [low] * (degree - highs)
        work = rows[at - degree : at + 1].copy()
        for step, value in enumerate(arguments, start=1):
            for i in range(degree, step - 1, -1):
                left = u[at - degree + i]
                right = u[at + 1 + i - step]
                share = (value - left) / (right - left)
                work[i] = (1 - share) * work[i - 1] + share * work[i]
        points.append(work[degree])
    return np.array(points)


def ellipse_spans(centre: Place, major: Place, minor: Place, start: float, sweep: float) -> list[Span]:
    """An elliptical arc as rational spans of degree 2, exact: from parameter ``start`` over ``sweep`` radians.

    ``major`` and ``minor`` are the half axes as vectors.
    """
    import numpy as np

    pieces = max(1, math.ceil(abs(sweep) / (math.pi / 2) - 1e-9))
    step = sweep / pieces
    weight = math.cos(step / 2)
    c, a, b = np.array(centre), np.array(major), np.array(minor)

    def at(angle: float, reach: float = 1.0) -> Any:
        return c + reach * (math.cos(angle) * a + math.sin(angle) * b)

    found = []
    for index in range(pieces):
        one, two = start + index * step, start + (index + 1) * step
        middle = at((one + two) / 2, 1 / weight) * weight
        found.append(np.array([[*at(one), 1.0], [*middle, weight], [*at(two), 1.0]]))
    return found


__all__ = ["ellipse_spans", "spline_spans"]
