"""The straight line and the circle that lie nearest to measured points, and how certain the radius is.

Terms
-----
residual
    Distance of a point from the fitted curve, mm; of a line positive to the left of its direction, of a circle positive outside it.
spread
    One standard deviation of a fitted radius, mm, from the scatter of the points about the circle and from how much of it they see.

The circle is found by G. Taubin's algebraic fit (IEEE Transactions on Pattern Analysis and Machine Intelligence 13, 1991; in the form of
N. Chernov, Circular and Linear Regression, 2010) and refined to the least sum of squared distances. The plain algebraic fit (I. Kåsa, 1976)
is not used: on a short stretch of a large circle it takes the scatter of the points for curvature.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
else:
    Points = Any

STEPS = 50
AT_REST = 1e-13
FLAT = 1e-9
"""Curvature times the extent of the points below which they lie on a line."""


@dataclass(frozen=True, slots=True)
class FittedLine:
    """A line through ``middle`` along the unit vector ``way``, both (x, y) mm; ``spread`` is the scatter of the points about it."""

    middle: tuple[float, float]
    way: tuple[float, float]
    residuals: tuple[float, ...]
    spread: float


@dataclass(frozen=True, slots=True)
class FittedCircle:
    """A circle. ``radius_spread`` is one standard deviation of the radius; ``scatter`` that of the points about the circle."""

    centre: tuple[float, float]
    radius: float
    residuals: tuple[float, ...]
    scatter: float
    radius_spread: float
    curvature_spread: float

    @property
    def told_from_straight(self) -> bool:
        """Whether the curvature is over four times its own spread."""
        return 1.0 / self.radius > 4.0 * self.curvature_spread


def fit_line(points: Points) -> FittedLine:
    """The line with the least sum of squared distances (total least squares); ``points`` (n, 2), two or more, mm.

    >>> import numpy as np
    >>> found = fit_line(np.array([[0.0, 1.0], [10.0, 1.0], [20.0, 1.0]]))
    >>> found.way, found.middle
    ((1.0, 0.0), (10.0, 1.0))
    """
    import numpy as np

    middle = points.mean(axis=0)
    x, y = (points - middle).T
    # the direction in closed form: the angle of the larger principal axis
    angle = math.atan2(2.0 * float(x @ y), float(x @ x) - float(y @ y)) / 2.0
    way = np.array([math.cos(angle), math.sin(angle)])
    if way @ (points[-1] - points[0]) < 0:
        way = -way
    residuals = way[0] * y - way[1] * x
    free = max(len(points) - 2, 1)
    return FittedLine(
        (float(middle[0]), float(middle[1])),
        (float(way[0]), float(way[1])),
        tuple(map(float, residuals)),
        math.sqrt(float(residuals @ residuals) / free),
    )


def taubin_circle(points: Points) -> tuple[float, float, float] | None:
    """Centre x, y and radius by Taubin's fit; ``points`` (n, 2), three or more, mm. None where they lie on a line.

    >>> import numpy as np
    >>> [round(value, 9) for value in taubin_circle(np.array([[5.0, 0.0], [0.0, 5.0], [-5.0, 0.0], [0.0, -5.0]]))]
    [0.0, 0.0, 5.0]
    """
    import numpy as np

    middle = points.mean(axis=0)
    x, y = (points - middle).T
    z = x * x + y * y
    mean = float(z.mean())
    if mean <= 0.0:
        return None
    rows = np.column_stack(((z - mean) / (2.0 * math.sqrt(mean)), x, y))
    _, _, axes = np.linalg.svd(rows, full_matrices=False)
    first, second, third = (float(value) for value in axes[-1])
    if abs(first) <= FLAT:
        return None
    first /= 2.0 * math.sqrt(mean)
    radius = math.sqrt(second * second + third * third + 4.0 * first * first * mean) / (2.0 * abs(first))
    return float(middle[0]) - second / (2.0 * first), float(middle[1]) - third / (2.0 * first), radius


def fit_circle(points: Points, *, accuracy: float = 0.0) -> FittedCircle | None:
    """The circle with the least sum of squared distances; ``points`` (n, 2), three or more, mm. None where they lie on a line.

    ``accuracy`` (mm) is the least scatter that is assumed: few points can lie on a circle by chance.
    """
    import numpy as np

    start = taubin_circle(points)
    if start is None:
        return None
    # The middle of the points on the circle is the origin, offset, angle and curvature the unknowns (V. Karimäki 1991): all three stay
    # well conditioned from a full circle to a stretch that is nearly straight.
    centre, mean = np.array(start[:2]), points.mean(axis=0)
    out = mean - centre
    reach = float(np.hypot(*out))
    out = out / reach if reach > 1e-12 * start[2] else np.array([1.0, 0.0])
    origin = centre + start[2] * out
    moved = points - origin
    scale = float(np.abs(moved).max())
    moved = moved / scale
    rho, phi, kappa = 0.0, math.atan2(-out[1], -out[0]), scale / start[2]
    distances, slopes = _distances(moved, rho, phi, kappa)
    total, damping = float(distances @ distances), 1e-6
    for _ in range(STEPS):
        square, pull = slopes.T @ slopes, slopes.T @ distances
        step = np.linalg.solve(square + damping * np.diag(np.diag(square)) + 1e-300 * np.eye(3), -pull)
        trial = (rho + step[0], phi + step[1], kappa + step[2])
        if trial[2] <= 0.0:
            damping *= 10.0
            continue
        new, new_slopes = _distances(moved, *trial)
        new_total = float(new @ new)
        if new_total <= total:
            small = float(np.abs(step).max()) < AT_REST or total - new_total <= 1e-16 * total
            (rho, phi, kappa), distances, slopes, total = trial, new, new_slopes, new_total
            damping = max(damping / 10.0, 1e-15)
            if small:
                break
        else:
            damping *= 10.0
            if damping > 1e9:
                break
    if kappa <= FLAT:
        return None
    free = len(points) - 3
    scatter = math.sqrt(total / free) * scale if free > 0 else 0.0
    certain = max(scatter, accuracy) / scale
    try:
        spread = certain * math.sqrt(float(np.linalg.inv(slopes.T @ slopes)[2, 2])) / scale
    except np.linalg.LinAlgError:
        return None
    radius = float(scale / kappa)
    way = np.array([math.cos(phi), math.sin(phi)])
    middle = origin + scale * (rho + 1.0 / kappa) * way
    # inside the circle the distance of Karimäki is negative
    return FittedCircle(
        (float(middle[0]), float(middle[1])),
        radius,
        tuple(float(value) * scale for value in distances),
        scatter,
        float(radius * radius * spread),
        float(spread),
    )


def _distances(points: Points, rho: float, phi: float, kappa: float) -> tuple[Points, Points]:
    """Signed distances of the points from a circle of a positive curvature, and their slopes by offset, angle and curvature."""
    import numpy as np

    way = np.array([math.cos(phi), math.sin(phi)])
    along = points @ way
    across = points @ np.array([-way[1], way[0]])
    square = np.einsum("ij,ij->i", points, points)
    epsilon = 0.5 * kappa * square - (1.0 + kappa * rho) * along + 0.5 * kappa * rho * rho + rho
    root = np.sqrt(np.maximum(1.0 + 2.0 * kappa * epsilon, 1e-300))
    distance = 2.0 * epsilon / (1.0 + root)
    slopes = np.column_stack(
        (
            (1.0 + kappa * rho - kappa * along) / root,
            -(1.0 + kappa * rho) * across / root,
            (0.5 * square - rho * along + 0.5 * rho * rho) / root - distance * distance / (2.0 * root),
        )
    )
    return distance, slopes


__all__ = ["FittedCircle", "FittedLine", "Points", "fit_circle", "fit_line", "taubin_circle"]
