"""A load on a part of the glass: a foot on a deck light, a case set down.

Terms
-----
patch
    A rectangle with sides along X and Y, or a circle, that carries its load evenly. Force and size are the engineer's.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from geometry.plate.glass import PlateInputError, positive

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.outline.loop import Point
    from geometry.plate.curve import Curve
    from geometry.plate.system import PlateSystem

    Floats = NDArray[np.float64]

FINE = 24
"""Places of integration across the patch each way."""


@dataclass(frozen=True, slots=True)
class Patch:
    """``force`` N, the whole of it, over 0; ``centre`` mm; ``width`` mm along X and ``height`` mm along Y, or, with no height, a circle
    of diameter ``width``; ``direction`` it pushes the glass in.
    """

    centre: Point
    force: float
    width: float
    height: float | None = None
    direction: Literal["outward", "inward"] = "inward"

    def __post_init__(self) -> None:
        positive(self.force, "force of the patch", "N")
        positive(self.width, "width of the patch", "mm")
        if self.height is not None:
            positive(self.height, "height of the patch", "mm")
        if not (math.isfinite(self.centre.x) and math.isfinite(self.centre.y)):
            raise PlateInputError(f"place of the patch is ({self.centre.x:g}, {self.centre.y:g}); it must be finite numbers")

    @property
    def area(self) -> float:
        """Area, mm2."""
        return math.pi * self.width**2 / 4 if self.height is None else self.width * self.height

    @property
    def pressure(self) -> float:
        """Pressure on it, kPa."""
        return 1e3 * self.force / self.area


def check_within(patch: Patch, glass: Curve) -> None:
    """Raises PlateInputError where the patch does not lie on the glass with all its area."""
    import shapely

    pane = shapely.Polygon(glass.point(glass.divided(glass.total / 800, greatest_turn=math.radians(3))))
    x, y, w = patch.centre.x, patch.centre.y, patch.width / 2
    h = w if patch.height is None else patch.height / 2
    shape = shapely.Point(x, y).buffer(w) if patch.height is None else shapely.box(x - w, y - h, x + w, y + h)
    outside = shape.difference(pane).area
    if outside > 1e-3 * shape.area:
        raise PlateInputError(
            f"the patch of load at ({x:g}, {y:g}) lies off the glass with {outside:.0f} of its {shape.area:.0f} mm2; "
            "it must lie on the glass with all of them"
        )


def patch_load(system: PlateSystem, patch: Patch) -> Floats:
    """Load (n,) of the equations for a pressure of 1 MPa on the patch."""
    places, shares = _places(patch)
    triangle, corners = _found(system, places)
    values = system.elements.values(triangle, corners[:, None, :])[:, 0]
    found: Floats = np.bincount(
        system.elements.dofs[triangle].ravel(), (values * shares[:, None]).ravel(), system.elements.count
    ).astype(float)
    # Scaled as the load of a pressure is: by L4 / D over an area of L2.
    return found * (patch.area * system.length**2 / system.plate.bending_stiffness)


def _places(patch: Patch) -> tuple[Floats, Floats]:
    """Places (k, 2) on the patch and the share of the load of each, (k,), by Gauss."""
    at, weight = np.polynomial.legendre.leggauss(FINE)
    if patch.height is None:
        radius = patch.width / 4 * (at + 1)
        angle = 2 * math.pi * np.arange(2 * FINE) / (2 * FINE)
        x, y = np.outer(radius, np.cos(angle)), np.outer(radius, np.sin(angle))
        shares = np.outer(weight * radius, np.ones(2 * FINE))
    else:
        x = np.outer(patch.width / 2 * at, np.ones(FINE))
        y = np.outer(np.ones(FINE), patch.height / 2 * at)
        shares = np.outer(weight, weight)
    places = np.column_stack((x.ravel() + patch.centre.x, y.ravel() + patch.centre.y))
    return places, shares.ravel() / np.sum(shares)


def _found(system: PlateSystem, places: Floats) -> tuple[NDArray[np.int64], Floats]:
    """Triangle of each place and the shares (k, 3) of its corners; the nearest for one between an arc and its chord."""
    points, triangles = system.mesh.points, system.mesh.triangles
    low, high = np.min(places, axis=0), np.max(places, axis=0)
    corners = points[triangles]
    near = np.flatnonzero(np.all((np.max(corners, axis=1) >= low) & (np.min(corners, axis=1) <= high), axis=1))
    a, b, c = (corners[near, k] for k in range(3))
    double = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    shares = np.empty((len(places), len(near), 3))
    for k, (p, q) in enumerate(((b, c), (c, a))):
        to_p, to_q = p[None] - places[:, None], q[None] - places[:, None]
        shares[..., k] = (to_p[..., 0] * to_q[..., 1] - to_p[..., 1] * to_q[..., 0]) / double
    shares[..., 2] = 1 - shares[..., 0] - shares[..., 1]
    best = np.argmax(np.min(shares, axis=2), axis=1)
    return near[best].astype(np.int64), shares[np.arange(len(places)), best]


__all__ = ["Patch", "check_within", "patch_load"]
