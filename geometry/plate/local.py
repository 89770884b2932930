"""A mesh made finer where one figure needs it.

Terms
-----
parents
    The two points between which a new point lies.
longest side
    Of a triangle; it is cut whenever any side of the triangle is, so that no angle becomes small (Rivara, 1984).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from geometry.plate.mesh import FoldedMeshError, PlateMesh
from geometry.plate.morley import OPPOSITE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Booleans = NDArray[np.bool_]


def sides_of(mesh: PlateMesh) -> tuple[Integers, Integers]:
    """Ends (s, 2) of the sides of a mesh, lower number first, and the sides (m, 3) opposite to the corners of its triangles.

    In the order of the new points of ``mesh.refined`` and of the freedoms of ``morley.elements_of``.
    """
    count = len(mesh.points)
    ends = np.sort(mesh.triangles[:, OPPOSITE], axis=2)
    unique, side = np.unique(ends[..., 0] * count + ends[..., 1], return_inverse=True)
    return np.column_stack((unique // count, unique % count)), np.asarray(side).reshape(-1, 3)


def refined_where(mesh: PlateMesh, marked: Booleans) -> tuple[PlateMesh, Integers]:
    """The marked triangles (m,) cut into four and their neighbours as far as the sides must match; parents of the new points.

    Raises FoldedMeshError where an arc would be moved across a triangle.
    """
    ends, side = sides_of(mesh)
    way = mesh.points[ends[:, 1]] - mesh.points[ends[:, 0]]
    length = np.hypot(way[:, 0], way[:, 1])
    rows = np.arange(len(side))
    longest = np.argmax(length[side], axis=1)
    cut = np.zeros(len(ends), dtype=bool)
    cut[side[marked]] = True
    while True:
        wanting = np.any(cut[side], axis=1) & ~cut[side[rows, longest]]
        if not np.any(wanting):
            break
        cut[side[rows, longest][wanting]] = True
    number = np.full(len(ends), -1)
    number[cut] = len(mesh.points) + np.arange(int(np.sum(cut)))
    parents = ends[cut]
    middle = (mesh.points[parents[:, 0]] + mesh.points[parents[:, 1]]) / 2
    count = len(mesh.points)
    key = np.min(mesh.sides, axis=1) * count + np.max(mesh.sides, axis=1)
    of_curve = np.searchsorted(ends[:, 0] * count + ends[:, 1], key)
    halved = cut[of_curve]
    halfway = np.mean(mesh.side_span, axis=1)
    for index, curve in enumerate(mesh.curves):
        mine = halved & (mesh.side_curve == index)
        middle[number[of_curve[mine]] - count] = curve.point(halfway[mine])
    triangles, owner = _cut(mesh.triangles, side, number, longest)
    points = np.concatenate((mesh.points, middle))
    new, s, span = number[of_curve[halved]], mesh.sides[halved], mesh.side_span[halved]
    sides = np.concatenate((mesh.sides[~halved], np.column_stack((s[:, 0], new)), np.column_stack((new, s[:, 1]))))
    at = halfway[halved]
    spans = np.concatenate((mesh.side_span[~halved], np.column_stack((span[:, 0], at)), np.column_stack((at, span[:, 1]))))
    curves = np.concatenate((mesh.side_curve[~halved], np.tile(mesh.side_curve[halved], 2)))
    found = PlateMesh(mesh.curves, points, triangles, mesh.band[owner], sides, curves, spans)
    if float(np.min(found.areas())) <= 0.0:
        raise FoldedMeshError("the mesh folds over where an arc of the outline turns too sharply between two nodes")
    return found, parents


def _cut(triangles: Integers, side: Integers, number: Integers, longest: Integers) -> tuple[Integers, Integers]:
    """Triangles cut at the new points ``number`` of their sides, and the triangle each is a part of."""
    rows = np.arange(len(triangles))[:, None]
    turned = (longest[:, None] + np.arange(3)) % 3
    a, b, c = triangles[rows, turned].T
    bc, ca, ab = number[side[rows, turned]].T
    whole, first, second = bc < 0, ab >= 0, ca >= 0
    parts = (
        (whole, (a, b, c)),
        (~whole & ~first, (a, b, bc)),
        (~whole & ~second, (a, bc, c)),
        (~whole & first, (ab, b, bc)),
        (~whole & second, (ca, bc, c)),
        (~whole & first & ~second, (a, ab, bc)),
        (~whole & second & ~first, (a, bc, ca)),
        (~whole & first & second, (a, ab, ca)),
        (~whole & first & second, (ab, bc, ca)),
    )
    cut = np.concatenate([np.column_stack(corners)[which] for which, corners in parts])
    owner = np.concatenate([np.flatnonzero(which) for which, _ in parts])
    return cut, owner


__all__ = ["refined_where", "sides_of"]
