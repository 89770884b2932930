"""Large deflection of the pane: von Karman's plate on its bead, by Newton's steps from the linear deflection.

Terms
-----
large deflection
    The middle plane is stretched where the pane bends out of its plane and carries part of the load (von Karman, 1910). The edge
    is free to move in the plane but for the bead, which is sheared: springs of shear modulus over bond thickness under the band.
Newton's step
    Solution of the exact tangent for what is left out of balance.
pull-in
    Movement of the edge towards the middle, because the bent middle plane is longer than its chord.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from geometry.plate.morley import WEIGHTS
from geometry.plate.solve import PlateSolution, factorized, solution_from

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.membrane import Membrane

    Floats = NDArray[np.float64]

BALANCED = 1e-7
"""What may be left out of balance, as a share of the load."""

MOST_STEPS = 25
MOST_ROUNDS = 25


@dataclass(frozen=True, slots=True, eq=False)
class LargeSolution:
    """The pane bent and stretched under a load, on one mesh.

    ``bent`` deflection and moments, of the load itself; ``pull`` (n, 2) movement of the middle plane at corners and then sides,
    mm; ``force`` (m, 3) mean membrane forces N_x, N_y, N_xy of each triangle, N/mm, tension positive; ``steps`` of Newton.
    """

    bent: PlateSolution
    pull: Floats
    force: Floats
    steps: int


class LargeDeflection:
    """The pane's equations on one mesh, for any number of loads.

    ``chosen`` (3 n, k), sparse: the freedoms as sums of k free ones; by default all but those that a rigid edge holds.
    """

    def __init__(self, membrane: Membrane, chosen: Any = None) -> None:
        from scipy.sparse import eye_array

        size = 3 * membrane.count
        if chosen is None:
            free = np.setdiff1d(np.arange(size), 3 * membrane.system.held())
            chosen = eye_array(size).tocsc()[:, free]
        self.membrane = membrane
        self.chosen = chosen.tocsc()
        self.constant = membrane.assembled(membrane.own)
        in_plane = np.asarray(abs(self.chosen.tocsr()[::3]).sum(axis=0)).ravel() == 0
        self.plane = self.chosen[:, in_plane]
        self.plane_factors = factorized(self.plane.T @ self.constant @ self.plane)

    def solved(self, load: Floats, linear: Floats, whole: float) -> LargeSolution | None:
        """The balance of ``load`` (n,) as of the system, mm; ``linear`` (n,) its linear solution, mm; ``whole`` load, N.

        None where Newton's steps find no balance.
        """
        thickness = self.membrane.sheet.bending
        outer = np.zeros((self.membrane.count, 3))
        outer[:, 0] = load / thickness
        found = self._balanced(self._start(linear / thickness, outer), outer.ravel())
        return None if found is None else self._figures(*found, whole)

    def followed(self, linear: Floats, whole: float) -> LargeSolution:
        """The linear deflection (n,), mm, as it is, with the pull and the membrane forces that it brings."""
        unknown = self._stretched(linear / self.membrane.sheet.bending)
        return self._figures(unknown, self.membrane.forces(unknown)[0], 0, whole)

    def _stretched(self, deflection: Floats) -> Floats:
        """Freedoms (n, 3) of a scaled deflection (n,) with the pull that balances the membrane."""
        size = 3 * self.membrane.count
        flat = np.zeros((self.membrane.count, 3))
        flat[:, 0] = deflection
        left = self.membrane.residual(flat, self.constant, np.zeros(size))[0]
        pull = self.plane @ self.plane_factors.solve(self.plane.T @ left)
        found: Floats = flat - pull.reshape(-1, 3)
        return found

    def _start(self, linear: Floats, outer: Floats) -> Floats:
        """The linear shape at the amount s that balances the work along it: ``s + c s3 = 1``, c the share of the membrane."""
        unknown = self._stretched(linear)
        inner = self.membrane.residual(unknown, self.constant, np.zeros(outer.size))[0].reshape(-1, 3)[:, 0]
        share = max(0.0, float(linear @ inner) / float(linear @ outer[:, 0]) - 1.0)
        amount = 1.0
        for _ in range(60):
            amount -= (amount + share * amount**3 - 1.0) / (1.0 + 3 * share * amount**2)
        found: Floats = unknown * np.array([amount, amount**2, amount**2])
        return found

    def _balanced(self, unknown: Floats, outer: Floats) -> tuple[Floats, Floats, int] | None:
        """Newton's steps: freedoms, membrane forces at the places, number of steps."""
        membrane, chosen = self.membrane, self.chosen
        whole = float(np.linalg.norm(chosen.T @ outer))
        factors = None
        for step in range(MOST_STEPS):
            full, force, slope = membrane.residual(unknown, self.constant, outer)
            left = chosen.T @ full
            share = float(np.linalg.norm(left)) / whole
            if share <= BALANCED:
                return unknown, force, step
            if not math.isfinite(share):
                return None
            tangent = (chosen.T @ membrane.tangent(force, slope) @ chosen).tocsr()
            way = None if factors is None else _conjugate_gradients(tangent, left, factors, within=min(0.03, share))
            if way is None:
                factors = factorized(tangent)
                way = factors.solve(left)
            unknown = unknown - (chosen @ way).reshape(-1, 3)
        return None

    def _figures(self, unknown: Floats, force: Floats, steps: int, whole: float) -> LargeSolution:
        membrane = self.membrane
        sheet, length = membrane.sheet, membrane.system.length
        bent = solution_from(membrane.system, unknown[:, 0] * sheet.bending, whole)
        mean = np.einsum("mqk,q->mk", force, WEIGHTS) * sheet.bending_stiffness / length**2
        return LargeSolution(bent, unknown[:, 1:] * sheet.bending**2 / length, mean, steps)


def _conjugate_gradients(matrix: Any, load: Floats, factors: Any, *, within: float) -> Floats | None:
    """Solution within a share of the load, by the factors of a matrix that is near; None where it takes too long.

    A tangent of a step before is near enough for a few rounds to do what new factors would, at a tenth of the time.
    """
    found: Floats = np.zeros_like(load)
    left = load.copy()
    limit = within * float(np.linalg.norm(load))
    eased = factors.solve(left)
    way, product = eased, float(left @ eased)
    for _ in range(MOST_ROUNDS):
        pushed = matrix @ way
        work = float(way @ pushed)
        if work <= 0.0 or product <= 0.0:
            return None
        part = product / work
        found, left = found + part * way, left - part * pushed
        if float(np.linalg.norm(left)) <= limit:
            return found
        eased = factors.solve(left)
        before, product = product, float(left @ eased)
        way = eased + product / before * way
    return None


__all__ = ["LargeDeflection", "LargeSolution"]
