"""The functions of the Morley element and of the quadratic element on the triangles of a mesh, all triangles at once.

Terms
-----
Morley element
    A quadratic over each triangle, known by its values at the three corners and its slopes across the three sides
    (Morley, 1968); it converges with the square of the size of the triangles in deflection.
share
    Of a corner: 1 there and 0 along the opposite side, linear between (area coordinates).
bump
    ``s (s - 1)`` of a corner's share s: 0 at all three corners. Shares and bumps together span the quadratics.
side
    Of a triangle, by the number of the corner opposite to it. Its slope is taken across it to the right of the way from the
    end with the lower number to the other, so that both triangles beside it mean the same slope.
freedoms
    The corners of the mesh in their order, then its sides.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

_NEAR, _FAR = 0.091576213509771, 0.445948490915965
SHARES: Floats = np.array([[1 - 2 * a if i == k else a for i in range(3)] for a in (_NEAR, _FAR) for k in range(3)])
"""Six places in a triangle, (6, 3) shares of its corners: with ``WEIGHTS`` exact to the fourth order (Strang and Fix, 1973)."""

WEIGHTS: Floats = np.repeat([0.109951743655322, 0.223381589678011], 3)
"""Share of the triangle's area that goes with each of ``SHARES``, (6,)."""

OPPOSITE: Integers = np.array([[1, 2], [2, 0], [0, 1]])
"""Ends of the side opposite to each corner, counter-clockwise."""


@dataclass(frozen=True, slots=True, eq=False)
class Elements:
    """Functions of m triangles with n freedoms.

    ``dofs`` (m, 6) freedoms of each triangle: corners, sides; ``area`` (m,); ``gradient`` (m, 3, 2) of the shares; ``bumps``
    (m, 6, 3): Morley function i is share i (of a corner) plus the sum of ``bumps[i, k]`` times bump k.
    """

    count: int
    dofs: Integers
    area: Floats
    gradient: Floats
    bumps: Floats

    def values(self, triangle: Any, shares: Floats) -> Floats:
        """Morley functions (k, q, 6) of triangles (k,) at shares (q, 3) or (k, q, 3)."""
        bent: Floats = (shares * (shares - 1)) @ self.bumps[triangle].transpose(0, 2, 1)
        bent[..., :3] += shares
        return bent

    def slopes(self, triangle: Any, shares: Floats) -> Floats:
        """Their gradients (k, q, 6, 2)."""
        gradient = self.gradient[triangle]
        turned = (2 * shares - 1)[..., None] * gradient[:, None]
        found: Floats = self.bumps[triangle][:, None] @ turned
        found[:, :, :3] += gradient[:, None]
        return found

    def bends(self) -> Floats:
        """Their second derivatives xx, yy, xy, (m, 6, 3); constant over each triangle."""
        gx, gy = self.gradient[..., 0], self.gradient[..., 1]
        found: Floats = 2 * self.bumps @ np.stack((gx * gx, gy * gy, gx * gy), axis=-1)
        return found

    def quadratic_slopes(self, shares: Floats) -> Floats:
        """Gradients (m, q, 6, 2) at shares (q, 3) of the quadratics that are 1 at one corner or middle of a side and 0 at the others."""
        g = self.gradient[:, None]
        found = np.empty((len(self.area), len(shares), 6, 2))
        found[:, :, :3] = (4 * shares - 1)[None, :, :, None] * g
        for k, (i, j) in enumerate(OPPOSITE):
            found[:, :, 3 + k] = 4 * (shares[None, :, i, None] * g[:, :, j] + shares[None, :, j, None] * g[:, :, i])
        return found

    def matrix(self, blocks: Floats) -> Any:
        """Sum of the triangles' matrices (m, 6, 6), sparse (n, n), compressed by columns."""
        from scipy.sparse import coo_array

        rows = np.broadcast_to(self.dofs[:, :, None], blocks.shape).ravel()
        columns = np.broadcast_to(self.dofs[:, None, :], blocks.shape).ravel()
        return coo_array((blocks.ravel(), (rows, columns)), shape=(self.count, self.count)).tocsc()

    def vector(self, parts: Floats) -> Floats:
        """Sum of the triangles' vectors (m, 6), (n,)."""
        found: Floats = np.asarray(np.bincount(self.dofs.ravel(), parts.ravel(), self.count), dtype=float)
        return found


def quadratic_values(shares: Floats) -> Floats:
    """Values (q, 6) at shares (q, 3) of the quadratics of ``quadratic_slopes``."""
    found: Floats = np.concatenate(
        (shares * (2 * shares - 1), np.column_stack([4 * shares[:, i] * shares[:, j] for i, j in OPPOSITE])), axis=1
    )
    return found


def elements_of(points: Floats, triangles: Integers) -> Elements:
    """The functions on points (n, 2) and triangles (m, 3), counter-clockwise.

    Source: the closed form of Ming and Xu (The Morley element for fourth order elliptic equations in any dimensions, 2006).
    """
    corners = points[triangles]
    across = corners[:, [2, 0, 1]] - corners[:, [1, 2, 0]]  # along the side opposite to each corner
    double = across[:, 0, 0] * across[:, 1, 1] - across[:, 0, 1] * across[:, 1, 0]
    gradient = np.stack((-across[..., 1], across[..., 0]), axis=-1) / double[:, None, None]
    square = np.sum(gradient**2, axis=2)
    ends = triangles[:, OPPOSITE]
    sign = np.where(ends[..., 0] < ends[..., 1], 1.0, -1.0)
    bumps = np.zeros((len(triangles), 6, 3))
    for i, (j, k) in enumerate(OPPOSITE):
        product = np.sum(gradient[:, j] * gradient[:, k], axis=1)
        bumps[:, i, i] = 1.0
        bumps[:, i, j] = -1.0 - product / square[:, j]
        bumps[:, i, k] = -1.0 - product / square[:, k]
        bumps[:, 3 + i, i] = sign[:, i] / np.sqrt(square[:, i])
    count = len(points)
    keys = np.min(ends, axis=2) * count + np.max(ends, axis=2)
    unique, side = np.unique(keys, return_inverse=True)
    dofs = np.concatenate((triangles, count + np.asarray(side).reshape(-1, 3)), axis=1).astype(np.int64)
    return Elements(count + len(unique), dofs, double / 2, gradient, bumps)


__all__ = ["OPPOSITE", "SHARES", "WEIGHTS", "Elements", "elements_of", "quadratic_values"]
