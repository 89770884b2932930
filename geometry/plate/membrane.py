"""The middle plane of the bent pane as a membrane: its stretch, its forces and their exact tangent, over the triangles of a mesh.

Terms
-----
pull
    Movement of the middle plane in its own plane, u and v: a quadratic over each triangle, known at corners and middles of sides.
membrane strain
    ``sym grad(u, v) + 1/2 grad w (x) grad w`` (von Karman, 1910): what the middle plane stretches where the pane bends.
tangent
    Derivative of the inner forces by the freedoms: exact, so that the error of Newton's steps falls with its square.
freedoms
    Three for each corner and then each side of the mesh, in turn: deflection (of a side: slope across it), u and v.
scaled
    Lengths over L, deflections over h, pulls over h2 / L, energies over D h2 / L2: every matrix is of the order of one.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from geometry.plate.morley import SHARES, WEIGHTS, quadratic_values

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.system import PlateSystem

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Sheet:
    """What the membrane needs: ``young_modulus`` MPa, ``poisson``, ``thickness`` mm of glass (sum of the plies), ``bending``
    thickness mm (effective), ``bending_stiffness`` N mm and ``shear_bed`` N/mm3, the springs of the bead against pull.
    """

    young_modulus: float
    poisson: float
    thickness: float
    bending: float
    bending_stiffness: float
    shear_bed: float


class Membrane:
    """Element arrays of the bent and stretched pane on one mesh; m triangles, n corners and sides together."""

    def __init__(self, system: PlateSystem, sheet: Sheet) -> None:
        self.system, self.sheet = system, sheet
        elements = system.elements
        self.dofs, self.count = elements.dofs, elements.count
        self.slopes: Floats = elements.slopes(slice(None), SHARES)
        self.stretches: Floats = elements.quadratic_slopes(SHARES)
        self.weights: Floats = elements.area[:, None] * WEIGHTS
        # Scaled: E t h2 L2 / D of the membrane beside a bending stiffness of one.
        nu = sheet.poisson
        ratio = sheet.young_modulus * sheet.thickness * sheet.bending**2 / sheet.bending_stiffness
        self.elastic: Floats = ratio / (1 - nu**2) * np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]])
        self._pattern()
        self.own = self._membrane_blocks()

    def _pattern(self) -> None:
        """Where each entry of the triangles' matrices goes: rows and columns of the 3 by 3 blocks."""
        keys = (self.dofs[:, :, None] * self.count + self.dofs[:, None, :]).ravel()
        self._order = np.argsort(keys, kind="stable")
        ordered = keys[self._order]
        self._first = np.flatnonzero(np.append(True, ordered[1:] != ordered[:-1]))
        kept = ordered[self._first]
        self._columns = (kept % self.count).astype(np.int32)
        self._starts = np.searchsorted(kept // self.count, np.arange(self.count + 1)).astype(np.int32)

    def assembled(self, blocks: Floats) -> Any:
        """Matrix of triangles' blocks (m, 6, 6, 3, 3); symmetric, compressed by columns."""
        from scipy.sparse import bsr_array

        size = 3 * self.count
        data = np.add.reduceat(blocks.reshape(-1, 9)[self._order], self._first, axis=0).reshape(-1, 3, 3)
        return bsr_array((data, self._columns, self._starts), shape=(size, size)).tocsc()

    def _membrane_blocks(self) -> Floats:
        """The constant part: bending and bed of the system, stretch of the membrane, shear springs of the bead; (m, 6, 6, 3, 3)."""
        blocks = np.zeros((len(self.dofs), 6, 6, 3, 3))
        blocks[..., 0, 0] = self.system.bending + self.system.springs
        g, c = self.stretches, self.elastic
        weighted = g * self.weights[:, :, None, None]
        xx, xy, yx, yy = (np.einsum("mqi,mqj->mij", weighted[..., a], g[..., b]) for a in (0, 1) for b in (0, 1))
        blocks[..., 1, 1] = c[0, 0] * xx + c[2, 2] * yy
        blocks[..., 2, 2] = c[1, 1] * yy + c[2, 2] * xx
        blocks[..., 1, 2] = c[0, 1] * xy + c[2, 2] * yx
        blocks[..., 2, 1] = c[0, 1] * yx + c[2, 2] * xy
        band = self.system.mesh.band
        if np.any(band) and self.sheet.shear_bed > 0.0:
            scale = self.sheet.shear_bed * self.system.bed_factor * self.sheet.bending**2 * self.system.length**2
            values = quadratic_values(SHARES)
            mass = (values * WEIGHTS[:, None]).T @ values * scale / self.sheet.bending_stiffness
            for way in (1, 2):
                blocks[band, :, :, way, way] += self.system.elements.area[band, None, None] * mass
        return blocks

    def forces(self, unknown: Floats) -> tuple[Floats, Floats]:
        """Membrane forces (m, 6, 3) and slopes (m, 6, 2) at the six places, scaled; ``unknown`` (n, 3)."""
        local = unknown[self.dofs]
        slope = np.einsum("mqia,mi->mqa", self.slopes, local[..., 0])
        pull = np.einsum("mqia,mib->mqab", self.stretches, local[..., 1:])
        strain = np.empty((*slope.shape[:2], 3))
        strain[..., 0] = pull[..., 0, 0] + slope[..., 0] ** 2 / 2
        strain[..., 1] = pull[..., 1, 1] + slope[..., 1] ** 2 / 2
        strain[..., 2] = pull[..., 0, 1] + pull[..., 1, 0] + slope[..., 0] * slope[..., 1]
        force: Floats = strain @ self.elastic
        return force, slope

    def residual(self, unknown: Floats, constant: Any, load: Floats) -> tuple[Floats, Floats, Floats]:
        """Inner less outer forces (3 n,), the membrane forces and the slopes; ``constant`` the assembled constant part."""
        force, slope = self.forces(unknown)
        weighted = force * self.weights[..., None]
        # What the slopes add to the inner forces that the constant part already has: their strain pulls u, v, all of it pulls w.
        bent = slope_strain(slope) @ self.elastic * self.weights[..., None]
        local = np.empty((len(self.dofs), 6, 3))
        gx, gy = self.slopes[..., 0], self.slopes[..., 1]
        along = np.stack(
            (
                weighted[..., 0] * slope[..., 0] + weighted[..., 2] * slope[..., 1],
                weighted[..., 1] * slope[..., 1] + weighted[..., 2] * slope[..., 0],
            ),
            axis=-1,
        )
        local[..., 0] = np.einsum("mqi,mq->mi", gx, along[..., 0]) + np.einsum("mqi,mq->mi", gy, along[..., 1])
        px, py = self.stretches[..., 0], self.stretches[..., 1]
        local[..., 1] = np.einsum("mqi,mq->mi", px, bent[..., 0]) + np.einsum("mqi,mq->mi", py, bent[..., 2])
        local[..., 2] = np.einsum("mqi,mq->mi", py, bent[..., 1]) + np.einsum("mqi,mq->mi", px, bent[..., 2])
        index = (3 * self.dofs[..., None] + np.arange(3)).ravel()
        inner = constant @ unknown.ravel() + np.bincount(index, local.ravel(), 3 * self.count)
        return inner - load, force, slope

    def tangent(self, force: Floats, slope: Floats) -> Any:
        """The exact tangent at membrane forces and slopes: symmetric matrix (3 n, 3 n)."""
        blocks = self.own.copy()
        g, p, w = self.slopes, self.stretches, self.weights
        m, q = w.shape
        moved = np.empty((m, q, 6, 3))
        moved[..., 0] = g[..., 0] * slope[:, :, None, 0]
        moved[..., 1] = g[..., 1] * slope[:, :, None, 1]
        moved[..., 2] = g[..., 0] * slope[:, :, None, 1] + g[..., 1] * slope[:, :, None, 0]
        stiff = (moved @ self.elastic) * w[:, :, None, None]
        held = np.empty((m, q, 6, 2))
        weighted = force * w[..., None]
        held[..., 0] = g[..., 0] * weighted[:, :, None, 0] + g[..., 1] * weighted[:, :, None, 2]
        held[..., 1] = g[..., 1] * weighted[:, :, None, 1] + g[..., 0] * weighted[:, :, None, 2]
        blocks[..., 0, 0] += _joined(stiff, moved) + _joined(held, g)
        to_u = _joined(stiff[..., [0, 2]], p)
        to_v = _joined(stiff[..., [2, 1]], p)
        blocks[..., 0, 1], blocks[..., 0, 2] = to_u, to_v
        blocks[..., 1, 0], blocks[..., 2, 0] = to_u.transpose(0, 2, 1), to_v.transpose(0, 2, 1)
        return self.assembled(blocks)


def _joined(first: Floats, second: Floats) -> Floats:
    """Sum over places and components of products of arrays (m, q, 6, k): (m, 6, 6)."""
    m, q, _, k = first.shape
    found: Floats = first.transpose(0, 2, 1, 3).reshape(m, 6, q * k) @ second.transpose(0, 1, 3, 2).reshape(m, q * k, 6)
    return found


def slope_strain(slope: Floats) -> Floats:
    """``1/2 grad w (x) grad w`` of slopes (..., 2): xx, yy and twice xy, (..., 3)."""
    x, y = slope[..., 0], slope[..., 1]
    return np.stack((x**2 / 2, y**2 / 2, x * y), axis=-1)


__all__ = ["Membrane", "Sheet", "slope_strain"]
