"""What a load does to the pane, point by point: on the fine mesh by linear theory, and corrected for large deflection by the coarse one.

Terms
-----
places
    Three in each triangle of the bead: with equal weights they integrate the quadratic of the element exactly.
share
    Greatest deflection by large deflection over that by linear theory, both on the coarse mesh.
correction
    The share of the linear fields of the fine mesh, and on it what large deflection on the coarse mesh has more than that share of its
    linear fields. So the greatest deflection is the linear one times the ratio, the bead carries the whole load at every point of the
    sum, and a field that passes through nothing stays finite.
pull
    Movement of the middle plane in its own plane. It goes with the square of the deflection: of the linear deflection it is worked
    out once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.plate.morley import OPPOSITE, quadratic_values
from geometry.plate.recovery import prolonged, recovered
from geometry.plate.solve import less, times

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.large import LargeSolution
    from geometry.plate.mesh import PlateMesh
    from geometry.plate.solve import PlateSolution

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

THIRDS: Floats = np.array([[4.0, 1.0, 1.0], [1.0, 4.0, 1.0], [1.0, 1.0, 4.0]]) / 6
"""Three places of equal weight, (3, 3) shares of the corners: exact to the second order."""

CHILDREN: Floats = (
    np.array(
        [
            [[2, 0, 0], [1, 1, 0], [1, 0, 1]],
            [[1, 1, 0], [0, 2, 0], [0, 1, 1]],
            [[1, 0, 1], [0, 1, 1], [0, 0, 2]],
            [[1, 1, 0], [0, 1, 1], [1, 0, 1]],
        ]
    )
    / 2
)
"""Shares of a triangle's corners at the corners of the four that it is cut into, in the order of ``mesh.refined``."""


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Places in the bead: ``triangle`` (k,) of a mesh and ``shares`` (k, 3) of its corners."""

    triangle: Integers
    shares: Floats


def places_of(mesh: PlateMesh) -> Places:
    """Three places in every triangle of the bead."""
    band = np.flatnonzero(mesh.band)
    return Places(np.repeat(band, 3), np.tile(THIRDS, (len(band), 1)))


def places_before(places: Places, coarse: PlateMesh) -> Places:
    """The same places in the mesh that was refined."""
    count = len(coarse.triangles)
    shares = np.einsum("kc,kcp->kp", places.shares, CHILDREN[places.triangle // count])
    return Places(places.triangle % count, shares)


def slopes_at(solution: PlateSolution, places: Places) -> Floats:
    """Gradient of the deflection at places, (k, 2)."""
    elements = solution.system.elements
    slopes = elements.slopes(places.triangle, places.shares[:, None, :])[:, 0]
    local = solution.unknown[elements.dofs[places.triangle]]
    found: Floats = np.einsum("kia,ki->ka", slopes, local) / solution.system.length
    return found


def pull_at(solution: LargeSolution, places: Places) -> Floats:
    """Movement of the middle plane at places, (k, 2) mm."""
    local = solution.pull[solution.bent.system.elements.dofs[places.triangle]]
    found: Floats = np.einsum("ki,kia->ka", quadratic_values(places.shares), local)
    return found


def at_all_points(solution: PlateSolution) -> Floats:
    """Deflection at the points of the mesh and then at the middles of its sides: the points of the refined mesh."""
    mesh, count = solution.mesh, len(solution.mesh.points)
    ends = mesh.triangles[:, OPPOSITE]
    way = mesh.points[ends[..., 1]] - mesh.points[ends[..., 0]]
    xx, yy, xy = (solution.curvature[:, None, k] for k in range(3))
    # The middle of a quadratic lies under the mean of its ends by an eighth of the bend over the way between them.
    sag = (xx * way[..., 0] ** 2 + yy * way[..., 1] ** 2 + 2 * xy * way[..., 0] * way[..., 1]) / 8
    middle = np.mean(solution.deflection[ends], axis=2) - sag
    side = (solution.system.elements.dofs[:, 3:] - count).ravel()
    return np.concatenate((solution.deflection, np.bincount(side, middle.ravel()) / np.bincount(side)))


@dataclass(frozen=True, slots=True, eq=False)
class Fields:
    """One load on the pane, everything in its direction.

    ``deflection`` (n,) mm at the points of the fine mesh; ``at_places`` (k,) mm, ``slope`` (k, 2) and ``pull`` (k, 2) mm at the places of
    the bead; ``centre`` mm at the centre of area, None outside the glass; ``moment`` (p, 3) N and ``force`` (p, 3) N/mm at the points of
    the mesh for the glass stress; ``load`` N.
    """

    deflection: Floats
    at_places: Floats
    slope: Floats
    pull: Floats
    centre: float | None
    moment: Floats
    force: Floats
    load: float

    def scaled(self, amount: float) -> Fields:
        """The linear fields of so many times the load; the pull with the square."""
        return Fields(
            self.deflection * amount,
            self.at_places * amount,
            self.slope * amount,
            self.pull * amount**2,
            None if self.centre is None else self.centre * amount,
            self.moment * amount,
            self.force * amount,
            self.load * amount,
        )


def linear_fields(fine: PlateSolution, places: Places, centre: float | None, moment: Floats, pull: Floats) -> Fields:
    """Fields of a linear solution; ``moment`` (p, 3) recovered on the mesh for the glass stress, ``pull`` (k, 2) that it brings."""
    return Fields(
        fine.deflection,
        fine.at(places.triangle, places.shares),
        slopes_at(fine, places),
        pull,
        centre,
        moment,
        np.zeros_like(moment),
        fine.load,
    )


def corrected(
    linear: Fields,
    coarse: PlateSolution,
    large: LargeSolution,
    before: Places,
    parents: tuple[Integers, ...],
    place: tuple[float, float],
) -> Fields:
    """Linear fields of a load on the fine mesh with the correction of the coarse one.

    ``coarse`` linear and ``large`` solution of the load on the coarse mesh; ``before`` the places on it; ``parents`` of the points of each
    mesh after it; ``place`` the centre of area of the glass.
    """
    share = float(np.max(large.bent.deflection)) / float(np.max(coarse.deflection))
    fine, apart = linear.scaled(share), less(large.bent, times(coarse, share))
    moment, force = np.hsplit(recovered(coarse.mesh, np.column_stack((apart.moment, large.force))), 2)
    for each in parents:
        moment, force = prolonged(moment, each), prolonged(force, each)
    centre = None if fine.centre is None else fine.centre + (apart.at_place(*place) or 0.0)
    return Fields(
        fine.deflection + at_all_points(apart),
        fine.at_places + apart.at(before.triangle, before.shares),
        fine.slope + slopes_at(apart, before),
        pull_at(large, before),
        centre,
        fine.moment + moment,
        force,
        linear.load,
    )


__all__ = [
    "Fields",
    "Places",
    "at_all_points",
    "corrected",
    "linear_fields",
    "places_before",
    "places_of",
    "pull_at",
    "slopes_at",
]
