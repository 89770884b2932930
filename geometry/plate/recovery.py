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
    from scipy.sparse import coo_array

    n, m = len(mesh.points), len(mesh.triangles)
    pairs = (mesh.triangles.ravel(), np.repeat(np.arange(m), 3))
    meets = coo_array((np.ones(3 * m), pairs), shape=(n, m)).tocsr()
    edge = np.zeros(n)
    edge[mesh.edge_nodes()] = 1.0
    # Rows of the edge reach over the patches of their neighbours.
    near = (meets[edge > 0] @ meets.T @ meets).astype(bool).astype(float)
    own, ring = np.flatnonzero(edge == 0), np.flatnonzero(edge > 0)
    found = np.empty((n, values.shape[1]))
    for rows, members in ((own, meets[own]), (ring, near.tocsr())):
        found[rows] = _planes(mesh, rows, members, values)
    return found


def _planes(mesh: PlateMesh, rows: Integers, members: Any, values: Floats) -> Floats:
    """At points ``rows``, the value of the plane through the values of the triangles ``members`` (rows, m), weighted by area."""
    middle = np.mean(mesh.points[mesh.triangles], axis=1) - np.mean(mesh.points, axis=0)
    place = mesh.points[rows] - np.mean(mesh.points, axis=0)
    weight = mesh.areas()[:, None]
    one_xy = np.column_stack((np.ones(len(middle)), middle))
    products = (one_xy[:, :, None] * one_xy[:, None, :]).reshape(-1, 9)
    square: Floats = (members @ (weight * products)).reshape(-1, 3, 3)
    right: Floats = (members @ (weight * (one_xy[:, :, None] * values[:, None, :]).reshape(len(middle), -1))).reshape(
        -1, 3, values.shape[1]
    )
    # Moved to the point itself: the plane's first coefficient is the value there.
    shift = np.broadcast_to(np.eye(3), square.shape).copy()
    shift[:, 1:, 0] = -place
    square = shift @ square @ shift.transpose(0, 2, 1)
    right = shift @ right
    mean = right[:, 0] / square[:, 0, 0, None]
    spread = square[:, 1:, 1:] - square[:, 1:, :1] * square[:, :1, 1:] / square[:, :1, :1]
    round_ = np.linalg.det(spread) / np.maximum(np.trace(spread, axis1=1, axis2=2) ** 2 / 4, 1e-300)
    good = round_ > FLAT
    found = mean
    found[good] = np.linalg.solve(square[good], right[good])[:, 0]
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


__all__ = ["greatest_amount", "greatest_principal", "prolonged", "recovered"]
