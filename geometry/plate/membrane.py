"""The middle plane of the bent pane as a membrane: its stretch, its forces and their exact tangent, over the triangles of a mesh.

Terms
-----
pull
    Movement of the middle plane in its own plane, u and v: a quadratic over each triangle, known at corners and middles of sides.
membrane strain
    ``sym grad(u, v) + 1/2 grad w (x) grad w`` (von Karman, 1910): what the middle plane stretches where the pane bends.
bent strain, stretch
    Its two parts: of the deflection alone, and of the pull alone.
tangent
    Derivative of the inner forces by the freedoms: exact, so that the error of Newton's steps falls with its square.
freedoms
    For each corner and then each side of the mesh, in turn: of the deflection one (of a side: slope across it), of the pull two, u and v.
places
    Six in each triangle; slopes and stretch are linear over a triangle and known by its corners.
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

CORNERS: Floats = np.eye(3)
"""The corners of a triangle as places."""

TO_CORNERS: Floats = SHARES * WEIGHTS[:, None]
"""What a value at a place gives to each corner, (6, 3) shares of the area."""

TO_PAIRS: Floats = (SHARES[:, :, None] * TO_CORNERS[:, None, :]).reshape(6, 9)
"""What it gives to each pair of corners, (6, 9)."""

CORNERS_TO_PAIRS: Floats = SHARES.T @ TO_PAIRS
"""What a value at a corner that is linear over the triangle gives to each pair of corners, (3, 9)."""

PAIR_OF_PAIRS: Floats = TO_CORNERS.T @ SHARES
"""Mean over a triangle of the product of two shares, (3, 3)."""


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
        self.dofs, self.count, self.area = elements.dofs, elements.count, elements.area
        m = len(self.dofs)
        # Rows: axis and corner; strain xx, yy, xy and corner. Columns: the six functions; of the pull each for u and v.
        self.slopes: Floats = elements.slopes(slice(None), CORNERS).transpose(0, 3, 1, 2).reshape(m, 6, 6)
        gradient = elements.quadratic_slopes(CORNERS)
        stretches = np.zeros((m, 3, 3, 6, 2))
        stretches[:, 0, :, :, 0] = stretches[:, 2, :, :, 1] = gradient[..., 0]
        stretches[:, 1, :, :, 1] = stretches[:, 2, :, :, 0] = gradient[..., 1]
        self.stretches: Floats = stretches.reshape(m, 9, 12)
        # Scaled: E t h2 L2 / D of the membrane beside a bending stiffness of one.
        nu = sheet.poisson
        ratio = sheet.young_modulus * sheet.thickness * sheet.bending**2 / sheet.bending_stiffness
        self.elastic: Floats = ratio / (1 - nu**2) * np.array([[1, nu, 0], [nu, 1, 0], [0, 0, (1 - nu) / 2]])
        self._pattern()

    def _pattern(self) -> None:
        """Where each entry of the triangles' matrices goes: rows and columns of the blocks, and the sum of what meets there."""
        from scipy.sparse import csr_array

        keys = (self.dofs[:, :, None] * self.count + self.dofs[:, None, :]).ravel()
        order = np.argsort(keys, kind="stable")
        ordered = keys[order]
        first = np.flatnonzero(np.append(True, ordered[1:] != ordered[:-1]))
        kept = ordered[first]
        self._columns = (kept % self.count).astype(np.int32)
        self._starts = np.searchsorted(kept // self.count, np.arange(self.count + 1)).astype(np.int32)
        ends = np.append(first, len(keys))
        self._gathered = csr_array((np.ones(len(keys)), order, ends), shape=(len(first), len(keys)))

    def assembled(self, blocks: Floats) -> Any:
        """Sparse matrix (k n, l n) of triangles' blocks (m, 6, 6, k, l), by rows."""
        from scipy.sparse import bsr_array, csr_array

        rows, columns = blocks.shape[3:]
        data = self._gathered @ blocks.reshape(-1, rows * columns)
        if rows == 1:
            at = self._columns[:, None] * columns + np.arange(columns, dtype=np.int32)
            return csr_array((data.ravel(), at.ravel(), self._starts * columns), shape=(self.count, columns * self.count))
        shape = (rows * self.count, columns * self.count)
        return bsr_array((data.reshape(-1, rows, columns), self._columns, self._starts), shape=shape).tocsr()

    def plane(self) -> Any:
        """Stiffness (2 n, 2 n) against pull: stretch of the membrane and shear springs of the bead."""
        root = np.linalg.cholesky(np.kron(self.elastic, PAIR_OF_PAIRS)).T
        part = (root @ self.stretches) * np.sqrt(self.area)[:, None, None]
        blocks = (part.transpose(0, 2, 1) @ part).reshape(-1, 6, 2, 6, 2).transpose(0, 1, 3, 2, 4).copy()
        band = self.system.mesh.band
        if np.any(band) and self.sheet.shear_bed > 0.0:
            scale = self.sheet.shear_bed * self.system.bed_factor * self.sheet.bending**2 * self.system.length**2
            values = quadratic_values(SHARES)
            mass = (values * WEIGHTS[:, None]).T @ values * scale / self.sheet.bending_stiffness
            for way in (0, 1):
                blocks[band, :, :, way, way] += self.area[band, None, None] * mass
        return self.assembled(blocks)

    def slope(self, deflection: Floats) -> Floats:
        """Slopes (m, 2, 3) at the corners of a deflection (n,)."""
        found: Floats = np.einsum("mri,mi->mr", self.slopes, deflection[self.dofs]).reshape(-1, 2, 3)
        return found

    def bent_force(self, slope: Floats) -> Floats:
        """Membrane forces (m, 3, 6) at the places of the bent strain alone."""
        at = _spread(slope, SHARES.T)
        x, y = at[:, 0], at[:, 1]
        return self._force(np.stack((x**2 / 2, y**2 / 2, x * y), axis=1))

    def stretch_force(self, pull: Floats) -> Floats:
        """Membrane forces (m, 3, 6) at the places of a pull (2 n,)."""
        local = pull.reshape(-1, 2)[self.dofs].reshape(-1, 12)
        stretch = np.einsum("mri,mi->mr", self.stretches, local).reshape(-1, 3, 3)
        return _spread(self._force(stretch), SHARES.T)

    def _force(self, strain: Floats) -> Floats:
        """Membrane forces of strains xx, yy, xy, both (m, 3, k)."""
        c, found = self.elastic, np.empty_like(strain)
        found[:, 0] = c[0, 0] * strain[:, 0] + c[0, 1] * strain[:, 1]
        found[:, 1] = c[0, 1] * strain[:, 0] + c[1, 1] * strain[:, 1]
        found[:, 2] = c[2, 2] * strain[:, 2]
        return found

    def pulling(self, force: Floats) -> Floats:
        """Inner forces (2 n,) on the pull, of membrane forces (m, 3, 6) at the places."""
        at_corners = _spread(force, TO_CORNERS).reshape(-1, 9) * self.area[:, None]
        local = np.einsum("mri,mr->mi", self.stretches, at_corners)
        index = (2 * self.dofs[..., None] + np.arange(2)).ravel()
        found: Floats = np.bincount(index, local.ravel(), 2 * self.count).astype(float)
        return found

    def lifting(self, force: Floats, slope: Floats) -> Floats:
        """Inner forces (n,) on the deflection, of membrane forces (m, 3, 6) at the places and slopes (m, 2, 3)."""
        at = _spread(slope, SHARES.T)
        x, y = at[:, 0], at[:, 1]
        along = np.stack((force[:, 0] * x + force[:, 2] * y, force[:, 1] * y + force[:, 2] * x), axis=1)
        at_corners = _spread(along, TO_CORNERS).reshape(-1, 6) * self.area[:, None]
        return self.system.elements.vector(np.einsum("mri,mr->mi", self.slopes, at_corners))

    def tangent(self, force: Floats, slope: Floats) -> tuple[Any, Any]:
        """The exact tangent at membrane forces (m, 3, 6) and slopes (m, 2, 3) beside the bending: what the deflection adds to the inner forces
        on the deflection, (n, n), and what the pull adds to them, (n, 2 n); both by rows.
        """
        m, c = len(slope), self.elastic
        at = _spread(slope, SHARES.T)
        x, y = at[:, 0], at[:, 1]
        stiff = force.copy()
        stiff[:, 0] += c[0, 0] * x**2 + c[2, 2] * y**2
        stiff[:, 1] += c[1, 1] * y**2 + c[2, 2] * x**2
        stiff[:, 2] += (c[0, 1] + c[2, 2]) * x * y
        pairs = (_spread(stiff, TO_PAIRS) * self.area[:, None, None]).reshape(m, 3, 3, 3)
        middle = np.empty((m, 2, 3, 2, 3))
        middle[:, 0, :, 0], middle[:, 1, :, 1] = pairs[:, 0], pairs[:, 1]
        middle[:, 0, :, 1] = middle[:, 1, :, 0] = pairs[:, 2]
        turned = self.slopes.transpose(0, 2, 1)
        bent = turned @ (middle.reshape(m, 6, 6) @ self.slopes)
        near = (_spread(slope, CORNERS_TO_PAIRS) * self.area[:, None, None]).reshape(m, 2, 3, 3)
        x, y = near[:, 0], near[:, 1]
        across = np.empty((m, 2, 3, 3, 3))
        across[:, 0, :, 0], across[:, 0, :, 1], across[:, 0, :, 2] = c[0, 0] * x, c[0, 1] * x, c[2, 2] * y
        across[:, 1, :, 0], across[:, 1, :, 1], across[:, 1, :, 2] = c[0, 1] * y, c[1, 1] * y, c[2, 2] * x
        pulled = (turned @ across.reshape(m, 6, 9)) @ self.stretches
        return self.assembled(bent[..., None, None]), self.assembled(pulled.reshape(m, 6, 6, 1, 2))


def _spread(values: Floats, shares: Floats) -> Floats:
    """Values (m, k, p) at some places as shares (p, q) of others: (m, k, q)."""
    m, k, p = values.shape
    found: Floats = (values.reshape(m * k, p) @ shares).reshape(m, k, -1)
    return found


__all__ = ["Membrane", "Sheet"]
