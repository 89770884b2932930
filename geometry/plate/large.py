"""Large deflection of the pane: von Karman's plate on its bead, by Newton's steps from the linear deflection.

Terms
-----
large deflection
    The middle plane is stretched where the pane bends out of its plane and carries part of the load (von Karman, 1910). The edge
    is free to move in the plane but for the bead, which is sheared: springs of shear modulus over bond thickness under the band.
pull
    Movement of the middle plane in its own plane. Its equations are linear, and factored once: of every deflection it is worked out
    whole, so that Newton's steps are steps of the deflection alone.
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
from geometry.plate.solve import Equations, PlateSolution, factorized, solution_from

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from geometry.plate.membrane import Membrane

    Floats = NDArray[np.float64]

BALANCED = 1e-7
"""What may be left out of balance, as a share of the load."""

MOST_STEPS = 25

MOST_ROUNDS = 60
"""Rounds of conjugate gradients in a step: a pane bent eight times its thickness takes twelve."""


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


@dataclass(frozen=True, slots=True, eq=False)
class _Shape:
    """A deflection (n,), scaled, with its slopes (m, 2, 3) at corners, the pull (2 n,) that balances the membrane and its forces (m, 3, 6)."""

    deflection: Floats
    slope: Floats
    pull: Floats
    force: Floats


class LargeDeflection:
    """The pane's equations on one mesh, for any number of loads; nothing but the pull is factored for them.

    ``linear`` the linear equations on it, worked out here where none are given; ``chosen`` (2 n, k), sparse: the freedoms of the pull as
    sums of k free ones, by default all free.
    """

    def __init__(self, membrane: Membrane, linear: Equations | None = None, chosen: Any = None) -> None:
        self.membrane = membrane
        self.linear = Equations(membrane.system) if linear is None else linear
        self.chosen = chosen
        plane = membrane.plane()
        if chosen is not None:
            self.plane_factors = factorized(chosen.T @ plane @ chosen)
        elif len(self.linear.held):
            self.plane_factors = factorized(plane)
        else:
            # The triangles tie the pulls together as they do the deflections: the same order does.
            order = np.argsort(self.linear.factors.perm_c)
            self.plane_factors = factorized(plane, order=(2 * order[:, None] + np.arange(2)).ravel())

    def solved(self, load: Floats, linear: Floats, whole: float) -> LargeSolution | None:
        """The balance of ``load`` (n,) as of the system, mm; ``linear`` (n,) its linear solution, mm; ``whole`` load, N.

        None where Newton's steps find no balance.
        """
        thickness = self.membrane.sheet.bending
        outer = load / thickness
        found = self._balanced(self._start(linear / thickness, outer), outer)
        return None if found is None else self._figures(*found, whole)

    def followed(self, linear: Floats, whole: float) -> LargeSolution:
        """The linear deflection (n,), mm, as it is, with the pull and the membrane forces that it brings."""
        return self._figures(self._shape(linear / self.membrane.sheet.bending), 0, whole)

    def _shape(self, deflection: Floats) -> _Shape:
        """The deflection with the pull that balances the membrane."""
        membrane = self.membrane
        slope = membrane.slope(deflection)
        bent = membrane.bent_force(slope)
        pull = -self._pulled(membrane.pulling(bent))
        return _Shape(deflection, slope, pull, bent + membrane.stretch_force(pull))

    def _pulled(self, load: Floats) -> Floats:
        """The pull (2 n,) under forces (2 n,) in the plane."""
        if self.chosen is None:
            found: Floats = self.plane_factors.solve(load)
            return found
        found = self.chosen @ self.plane_factors.solve(self.chosen.T @ load)
        return found

    def _start(self, linear: Floats, outer: Floats) -> _Shape:
        """The linear shape at the amount s that balances the work along it: ``s + c s3 = 1``, c the share of the membrane."""
        whole = self._shape(linear)
        inner = self.membrane.lifting(whole.force, whole.slope)
        share = max(0.0, _along(linear, inner) / _along(linear, outer))
        amount = 1.0
        for _ in range(60):
            amount -= (amount + share * amount**3 - 1.0) / (1.0 + 3 * share * amount**2)
        return _Shape(linear * amount, whole.slope * amount, whole.pull * amount**2, whole.force * amount**2)

    def _balanced(self, shape: _Shape, outer: Floats) -> tuple[_Shape, int] | None:
        """Newton's steps: the shape and their number."""
        linear, free = self.linear, self.linear.free
        whole = _size(outer[free])
        for step in range(MOST_STEPS):
            inner = linear.matrix @ shape.deflection + self.membrane.lifting(shape.force, shape.slope)
            left = (inner - outer)[free]
            share = _size(left) / whole
            if share <= BALANCED:
                return shape, step
            if not math.isfinite(share):
                return None
            way = np.zeros_like(outer)
            way[free] = self._step(shape, left, within=max(min(0.03, share), BALANCED / share / 3))
            shape = self._shape(shape.deflection - way)
        return None

    def _step(self, shape: _Shape, left: Floats, *, within: float) -> Floats:
        """What the tangent at a shape makes of the forces ``left`` on the free deflections, within a share of them."""
        free = self.linear.free
        bent, pulled = self.membrane.tangent(shape.force, shape.slope)
        bent = bent + self.linear.matrix
        back = pulled.T
        full = np.zeros(len(shape.deflection))

        def pushed(way: Floats) -> Floats:
            full[free] = way
            found: Floats = (bent @ full - pulled @ self._pulled(back @ full))[free]
            return found

        return _conjugate_gradients(pushed, left, self.linear.factors.solve, within=within)

    def _figures(self, shape: _Shape, steps: int, whole: float) -> LargeSolution:
        membrane = self.membrane
        sheet, length = membrane.sheet, membrane.system.length
        bent = solution_from(membrane.system, shape.deflection * sheet.bending, whole)
        mean = np.einsum("mkq,q->mk", shape.force, WEIGHTS) * sheet.bending_stiffness / length**2
        return LargeSolution(bent, shape.pull.reshape(-1, 2) * sheet.bending**2 / length, mean, steps)


def _conjugate_gradients(
    matrix: Callable[[Floats], Floats], load: Floats, eased: Callable[[Floats], Floats], *, within: float
) -> Floats:
    """Solution within a share of the load, by the factors ``eased`` of a matrix that is near; the best so far after many rounds or where
    the matrix gives way. Bending alone is near enough: the membrane stiffens few shapes much.
    """
    left = load.copy()
    limit = within * _size(load)
    near = eased(left)
    found: Floats = np.zeros_like(load)
    way, product = near, _along(left, near)
    for _ in range(MOST_ROUNDS):
        pushed = matrix(way)
        work = _along(way, pushed)
        if work <= 0.0:
            return found if np.any(found) else near
        part = product / work
        found, left = found + part * way, left - part * pushed
        if _size(left) <= limit:
            break
        near = eased(left)
        before, product = product, _along(left, near)
        way = near + product / before * way
    return found


def _along(first: Floats, second: Floats) -> float:
    """Product of two vectors, added in one order however many threads numpy has."""
    return float(np.sum(first * second))


def _size(vector: Floats) -> float:
    """Length of a vector."""
    return math.sqrt(_along(vector, vector))


__all__ = ["LargeDeflection", "LargeSolution"]
