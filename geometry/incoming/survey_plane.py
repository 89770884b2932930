"""The plane of points surveyed in space, from which side it is seen, and how far the wall is from being flat.

Terms
-----
plane
    The one with the least sum of squared distances from the points that are no outliers, through their middle.
right, up, normal
    The directions of the view from outside: the normal points outside, up is the upright of the survey (z) laid into the plane, right is
    what is left. Where the plane lies nearly level, up is y of the survey.
residual
    Distance of a point from the plane, mm, positive outside.
warp
    Largest less smallest residual, mm: what a flat pane finds under a straight-edge.
twist
    How far the fourth corner of the box round the points lies out of the plane of the other three, mm: the part of the residuals that goes
    with right times up.
rise
    Rise of the wall in the middle over a straight-edge from end to end of the box, mm, along right and along up: the part that goes with
    the square. Positive: hollow as seen from outside.
outlier
    A point that lies off the smooth surface (twist and rises included) of all others by more than they scatter: a slip of the survey,
    where a curved hull is none.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.incoming.incoming import IncomingError
from geometry.incoming.plane import TOWARDS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Places = NDArray[np.float64]
else:
    Places = Any

Direction = tuple[float, float, float]
LEVEL = math.cos(math.radians(15.0))
"""A normal nearer to upright than 15° is that of a level plane: a deck light."""
PLAIN = math.cos(math.radians(10.0))
"""Within 10° the points were taken on the flat: x to the right, y up, as on a sheet."""
EDGE_ON = 0.2
"""Least part of a stated direction that points along the normal: below it the direction tells no side (own default)."""
OUTLIER_TIMES, OUTLIER_LEAST = 5.0, 4.0
"""An outlier stands this many times the scatter of the others, and this many times the survey's accuracy, off them (own defaults)."""
MOST_OUTLIERS = 0.2
COMPASS = "+x, -x, +y, -y, +z or -z, the way of the survey's axes in which outside lies; or a row whose edge is outside or inside"


@dataclass(frozen=True, slots=True)
class SurveyPlane:
    """A plane and what the points do about it; ``residuals`` in the order of the points, ``outliers`` their places in it."""

    origin: tuple[float, float, float]
    normal: Direction
    right: Direction
    up: Direction
    residuals: tuple[float, ...]
    outliers: tuple[int, ...]
    scatter: float
    twist: float
    rise_along: float
    rise_up: float
    width: float
    height: float

    @property
    def warp(self) -> float:
        """Largest less smallest residual of the points that are no outliers, mm."""
        kept = [value for index, value in enumerate(self.residuals) if index not in self.outliers]
        return max(kept) - min(kept)


class PlaneError(IncomingError):
    """Points that give no plane, or a plane of which outside is not certain."""


def plane_normal(places: Places) -> tuple[Places, Places]:
    """Middle and unit normal, of either sign, of the plane nearest to points (n, 3); raises PlaneError where they give none."""
    import numpy as np

    middle = places.mean(axis=0)
    _, lengths, axes = np.linalg.svd(places - middle, full_matrices=False)
    if len(places) < 3 or lengths[1] <= max(0.02 * lengths[0], 1e-9):
        raise PlaneError("the points lie on one line, which gives no plane", "points round the opening")
    if lengths[2] > 0.5 * lengths[1]:
        raise PlaneError("the points lie on no plane: as deep as they are high", "the points of one opening")
    return middle, axes[2]


def fit_plane(
    places: Places, *, seen_from: str | None, sides: tuple[tuple[float, Places], ...] = (), accuracy: float = 0.5
) -> SurveyPlane:
    """The plane of points (n, 3), mm, from outside.

    ``seen_from``: ``+x`` ... ``-z``, the way in which outside lies; ``outside`` or ``inside`` where the points were taken on the flat.
    ``sides``: places on a known side, each with +1 (outside) or -1 (inside). ``accuracy``: of one point, mm.

    Raises
    ------
    PlaneError
        When the points give no plane, or nothing says with certainty where outside lies.
    """
    import numpy as np

    middle, normal = plane_normal(places)
    outliers = _outliers(places, middle, normal, accuracy)
    kept = [index for index in range(len(places)) if index not in outliers]
    middle, normal = plane_normal(places[kept])
    normal = _towards_outside(middle, normal, seen_from, sides)
    upright = np.array([0.0, 1.0, 0.0] if abs(normal[2]) >= LEVEL else [0.0, 0.0, 1.0])
    up = upright - (upright @ normal) * normal
    up /= np.linalg.norm(up)
    right = np.cross(up, normal)
    off = places - middle
    x, y, z = off @ right, off @ up, off @ normal
    low, high = np.array([x[kept].min(), y[kept].min()]), np.array([x[kept].max(), y[kept].max()])
    width, height = (float(value) for value in high - low)
    scatter, terms = _surface(x[kept], y[kept], z[kept])
    return SurveyPlane(
        origin=_three(middle),
        normal=_three(normal),
        right=_three(right),
        up=_three(up),
        residuals=tuple(float(value) for value in z),
        outliers=outliers,
        scatter=scatter,
        twist=abs(terms[1]) * width * height,
        rise_along=terms[0] * width * width / 4.0,
        rise_up=terms[2] * height * height / 4.0,
        width=width,
        height=height,
    )


def _three(vector: Places) -> Direction:
    return float(vector[0]), float(vector[1]), float(vector[2])


def _towards_outside(middle: Places, normal: Places, seen_from: str | None, sides: tuple[tuple[float, Places], ...]) -> Places:
    """The normal turned outside; every certain witness is heard, and two that contradict each other are refused."""
    votes: dict[str, float] = {}
    if seen_from in TOWARDS:
        along = float(normal @ TOWARDS[seen_from])
        if abs(along) < EDGE_ON:
            raise PlaneError(f"seen_from {seen_from} lies nearly in the plane of the points and tells no side", COMPASS)
        votes[f"seen_from {seen_from}"] = math.copysign(1.0, along)
    elif seen_from in ("outside", "inside") and not sides:
        if abs(float(normal[2])) < PLAIN:
            raise PlaneError(f"seen_from {seen_from}, which of points in space does not say where outside lies", COMPASS)
        votes[f"seen_from {seen_from}"] = math.copysign(1.0, float(normal[2])) * (1.0 if seen_from == "outside" else -1.0)
    elif seen_from is not None and seen_from not in ("outside", "inside"):
        raise PlaneError(f"seen_from {seen_from!r}", COMPASS)
    for side, place in sides:
        apart = float((place - middle) @ normal)
        if abs(apart) < 20.0:
            raise PlaneError(
                f"the row that says where outside lies stands {abs(apart):.0f} mm from the plane", "20 mm or more off it"
            )
        votes["the row " + ("outside" if side > 0 else "inside")] = side * math.copysign(1.0, apart)
    if not votes:
        raise PlaneError("points in space, and nothing says where outside lies", "seen_from = " + COMPASS)
    if len(set(votes.values())) > 1:
        raise PlaneError(" and ".join(votes) + " contradict each other about where outside lies", "one of them")
    return normal * next(iter(votes.values()))


def _terms(x: Places, y: Places) -> Places:
    """Columns of the smooth surface over the plane, as many as the points bear: plane, twist, rises."""
    import numpy as np

    columns = [np.ones_like(x), x, y]
    if len(x) >= 5:
        columns.append(x * y)
    if len(x) >= 9:
        columns += [x * x, y * y]
    return np.column_stack(columns)


def _surface(x: Places, y: Places, z: Places) -> tuple[float, tuple[float, float, float]]:
    """Scatter about the smooth surface, mm, and its terms with x², x·y and y², 1/mm; four points bear the twist alone."""
    import numpy as np

    size = float(max(np.abs(x).max(), np.abs(y).max()))
    table = _terms(x / size, y / size)
    if len(x) == 4:
        table = np.column_stack((table, (x / size) * (y / size)))
    found, *_ = np.linalg.lstsq(table, z, rcond=1e-9)
    left = z - table @ found
    free = len(x) - table.shape[1]
    scatter = math.sqrt(float(left @ left) / free) if free > 0 else 0.0
    each = [float(value) / size**2 for value in (*found, 0.0, 0.0, 0.0)[3:6]]
    return scatter, (each[1], each[0], each[2])


def _outliers(places: Places, middle: Places, normal: Places, accuracy: float) -> tuple[int, ...]:
    """The farthest from what all others say of its place is left out while it stands off by more than they scatter.

    The distance from the fit without the point is its residual over one less its leverage (R. D. Cook and S. Weisberg, Residuals and
    Influence in Regression, 1982).
    """
    import numpy as np

    _, _, axes = np.linalg.svd(places - middle, full_matrices=False)
    off = places - middle
    x, y, z = off @ axes[0], off @ axes[1], off @ normal
    size = float(np.abs(x).max())
    kept = list(range(len(places)))
    found: list[int] = []
    while len(kept) >= 7 and len(found) < MOST_OUTLIERS * len(places):
        table = _terms(x[kept] / size, y[kept] / size)
        basis, lengths, _ = np.linalg.svd(table, full_matrices=False)
        basis = basis[:, lengths > 1e-9 * lengths[0]]
        left = z[kept] - basis @ (basis.T @ z[kept])
        leverage = np.einsum("ij,ij->i", basis, basis)
        deleted = np.where(leverage < 0.95, left / np.maximum(1.0 - leverage, 0.05), 0.0)
        total, free = float(left @ left), len(kept) - basis.shape[1] - 1
        if free < 1:
            break
        scatter = np.sqrt(np.maximum(total - left * deleted, 0.0) / free)  # of the others
        over = np.abs(deleted) / np.maximum(OUTLIER_TIMES * scatter, OUTLIER_LEAST * accuracy)
        worst = int(np.argmax(over))
        if over[worst] <= 1.0:
            break
        found.append(kept.pop(worst))
    return tuple(sorted(found))


def on_plane(places: Places, plane: SurveyPlane) -> Places:
    """Points (n, 3) laid square onto the plane: (n, 2), right and up from its origin, mm."""
    import numpy as np

    off = places - np.array(plane.origin)
    flat: Places = np.column_stack((off @ np.array(plane.right), off @ np.array(plane.up)))
    return flat


__all__ = ["COMPASS", "Direction", "PlaneError", "SurveyPlane", "fit_plane", "on_plane", "plane_normal"]
