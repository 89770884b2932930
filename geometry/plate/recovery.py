"""Values at the points of a mesh from values of its triangles.

Terms
-----
patch
    The triangles that meet at a point; at the glass edge those of the neighbouring points too, since half of a ring lies outside.
recovered value
    At the point, of the plane that fits the values at the middles of the patch best (Zienkiewicz and Zhu, 1992): at an edge the mean of the
    patch would be that of a place farther in.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.mesh import PlateMesh

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

FLAT = 1e-4
"""Least determinant of a patch's middles, of one when round, for a plane to be laid through them; below it the mean is taken."""


def recovered(mesh: PlateMesh, values: Floats) -> Floats:
    """Values (n, k) at the points of values (m, k) of the triangles."""
    found: Floats = recovery(mesh) @ values
    return found


def recovery(mesh: PlateMesh) -> Any:
    """What each triangle gives to the value at each point, sparse (n, m)."""
    from scipy.sparse import csr_array

    n, m = len(mesh.points), len(mesh.triangles)
    point, triangle = mesh.triangles.ravel(), np.repeat(np.arange(m), 3)
    ring = np.unique(mesh.edge_nodes())
    on_edge = np.zeros(n, dtype=bool)
    on_edge[ring] = True
    # Points of the edge reach over the patches of their neighbours.
    meets = csr_array((np.ones(3 * m), (point, triangle)), shape=(n, m))
    near = (meets[ring] @ meets.T @ meets).tocoo()
    own = ~on_edge[point]
    row = np.concatenate((point[own], ring[near.coords[0]]))
    column = np.concatenate((triangle[own], near.coords[1]))
    return csr_array((_parts(mesh, row, column), (row, column)), shape=(n, m))


def _parts(mesh: PlateMesh, row: Integers, column: Integers) -> Floats:
    """Of each pair of a point and a triangle of its patch, what the triangle gives to the plane's value at the point: weighted by area, of
    the least squares worked out whole, the first row of the inverse of their matrix.
    """
    middle = np.mean(mesh.points[mesh.triangles], axis=1)
    away = middle[column] - mesh.points[row]
    x, y, weight = away[:, 0], away[:, 1], mesh.areas()[column]
    one, sx, sy, xx, xy, yy = (np.bincount(row, weight * each, len(mesh.points)) for each in (1.0, x, y, x * x, x * y, y * y))
    first, second, third = xx * yy - xy**2, sy * xy - sx * yy, sx * xy - sy * xx
    whole = one * first + sx * second + sy * third
    spread = xx - sx**2 / one, xy - sx * sy / one, yy - sy**2 / one
    round_ = (spread[0] * spread[2] - spread[1] ** 2) / np.maximum((spread[0] + spread[2]) ** 2 / 4, 1e-300)
    good = round_ > FLAT
    share = [np.where(good, each, 0.0) / np.where(good, whole, 1.0) for each in (first, second, third)]
    share[0] = np.where(good, share[0], 1.0 / one)
    found: Floats = weight * (share[0][row] + share[1][row] * x + share[2][row] * y)
    return found


def greatest_principal(tensor: Floats) -> Floats:
    """Greater principal value of tensors xx, yy, xy, (n, 3): (n,)."""
    found: Floats = (tensor[:, 0] + tensor[:, 1]) / 2 + np.hypot((tensor[:, 0] - tensor[:, 1]) / 2, tensor[:, 2])
    return found


def greatest_amount(tensor: Floats) -> Floats:
    """Greatest principal value by amount of tensors xx, yy, xy, (n, 3): (n,)."""
    return np.maximum(greatest_principal(tensor), greatest_principal(-tensor))


def prolonged(values: Floats, parents: Integers) -> Floats:
    """Values (n, k) at the points with the means at the points halfway between ``parents`` (h, 2) after them."""
    return np.concatenate((values, (values[parents[:, 0]] + values[parents[:, 1]]) / 2))


__all__ = ["greatest_amount", "greatest_principal", "prolonged", "recovered", "recovery"]
