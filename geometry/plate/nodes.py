"""Where the nodes of a mesh stand: on the curves, on the rows inside the bead, and on a graded fill of the rest.

Terms
-----
curve node
    A node on the glass edge or on an edge of the bead; the pieces between neighbours on one curve are sides of triangles.
row
    A layer of triangles across the bead.
free node
    Any other node: on the rows inside the bead, or of the graded fill of the rest of the pane.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.curve import Curve

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

GROWTH = 0.5
"""Growth of the size of the triangles with the distance from the bead."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes of the coarse mesh, mm.

    ``along`` spacing of nodes along the curves; ``rows`` of triangles across the bead; ``interior`` greatest size away from it;
    ``turn`` greatest turn of an arc between two nodes, radians.
    """

    along: float
    rows: int
    interior: float
    turn: float = math.radians(30.0)


def row_points(start: Floats, end: Floats, rows: int) -> Floats:
    """Points that divide the way from each start to its end into ``rows`` parts."""
    if rows < 2:
        return np.empty((0, 2))
    shares = np.arange(1, rows) / rows
    return np.concatenate([start + share * (end - start) for share in shares])


@dataclass(frozen=True, slots=True, eq=False)
class CurveNodes:
    """Curve nodes and the sides between them."""

    points: Floats
    sides: Integers
    curve: Integers
    span: Floats


def fixed_nodes(curves: tuple[Curve, ...], nodes: list[Floats]) -> CurveNodes:
    """Curve nodes of all curves; nodes of two curves that fall on one place become one node."""
    from scipy.spatial import cKDTree

    points = np.concatenate([curve.point(at) for curve, at in zip(curves, nodes, strict=True)])
    same = np.arange(len(points))
    for i, j in sorted(cKDTree(points).query_pairs(1e-7 * curves[0].total)):
        same[j] = min(same[j], same[i])
    same = same[same]
    kept, index = np.unique(same, return_inverse=True)
    sides, number, span = [], [], []
    start = 0
    for k, (curve, at) in enumerate(zip(curves, nodes, strict=True)):
        mine = np.asarray(index)[start : start + len(at)]
        start += len(at)
        sides.append(np.column_stack((mine, np.roll(mine, -1))))
        span.append(np.column_stack((at, np.append(at[1:], at[0] + curve.total))))
        number.append(np.full(len(at), k))
    joined = np.concatenate(sides)
    real = joined[:, 0] != joined[:, 1]
    return CurveNodes(points[kept], joined[real], np.concatenate(number)[real], np.concatenate(span)[real])


def free_nodes(curves: tuple[Curve, ...], fixed: CurveNodes, rows: Floats, sizes: Sizes) -> Floats:
    """Nodes of the rows inside the bead and of the graded fill, clear of the curve nodes and of each other."""
    import shapely
    from scipy.spatial import cKDTree

    polygons = chord_polygons(curves, fixed)
    tree = cKDTree(fixed.points)
    taken: list[Floats] = []
    if len(rows):
        clear = 0.5 * _row_height(fixed, curves, sizes)
        rows = rows[tree.query(rows)[0] >= clear]
        rows = _thinned(rows, clear)
        inside = shapely.contains_xy(polygons[-2], rows[:, 0], rows[:, 1]) & ~shapely.contains_xy(
            polygons[-1], rows[:, 0], rows[:, 1]
        )
        taken.append(rows[inside])
    low, high = np.min(fixed.points, axis=0), np.max(fixed.points, axis=0)
    size = sizes.along
    while True:
        lattice = _lattice(low, high, size)
        last = size * 1.5 > sizes.interior
        # Farther from the curves than this a larger size is wanted: no need to know how far.
        reach = np.inf if last else (size * 1.5 - sizes.along) / GROWTH
        away = tree.query(lattice, distance_upper_bound=reach)[0] if len(lattice) else np.empty(0)
        wanted = np.minimum(sizes.along + GROWTH * away, sizes.interior)
        fits = (wanted >= size) & ((wanted < size * 1.5) | last) & (away >= 0.7 * wanted)
        lattice, wanted = lattice[fits], wanted[fits]
        inside = shapely.contains_xy(polygons[0], lattice[:, 0], lattice[:, 1])
        lattice, wanted = lattice[inside], wanted[inside]
        if taken and len(lattice) and sum(map(len, taken)):
            lattice = lattice[cKDTree(np.concatenate(taken)).query(lattice)[0] >= 0.8 * wanted]
        taken.append(lattice)
        if last:
            break
        size *= 1.5
    return np.concatenate(taken)


def _row_height(fixed: CurveNodes, curves: tuple[Curve, ...], sizes: Sizes) -> float:
    """Mean height of a row, mm, not more than the spacing along the bead."""
    outer, inner = curves[-2], curves[-1]
    return min(sizes.along, 2.0 * (outer.area - inner.area) / (outer.total + inner.total) / sizes.rows)


def _thinned(points: Floats, clear: float) -> Floats:
    """The points less those that lie within ``clear`` of an earlier one that stays."""
    from scipy.spatial import cKDTree

    dropped = np.zeros(len(points), dtype=bool)
    for i, j in sorted(cKDTree(points).query_pairs(clear)):
        if not dropped[i]:
            dropped[j] = True
    return points[~dropped]


def _lattice(low: Floats, high: Floats, size: float) -> Floats:
    """Points of a lattice of equal triangles over a box, laid out from its middle."""
    centre = (low + high) / 2
    across = math.ceil((high[0] - low[0]) / size / 2) + 1
    up = math.ceil((high[1] - low[1]) / (size * math.sqrt(3) / 2) / 2) + 1
    j, i = np.meshgrid(np.arange(-up, up + 1), np.arange(-across, across + 1), indexing="ij")
    x = centre[0] + size * (i + 0.5 * (j % 2))
    y = centre[1] + size * math.sqrt(3) / 2 * j
    return np.column_stack((x.ravel(), y.ravel()))


def chord_polygons(curves: tuple[Curve, ...], fixed: CurveNodes) -> list[object]:
    """The curves as polygons through their nodes."""
    import shapely

    found: list[object] = []
    for k in range(len(curves)):
        mine = fixed.curve == k
        order = np.argsort(fixed.span[mine, 0])
        polygon = shapely.Polygon(fixed.points[fixed.sides[mine, 0][order]])
        shapely.prepare(polygon)
        found.append(polygon)
    return found


__all__ = ["CurveNodes", "Sizes", "chord_polygons", "fixed_nodes", "free_nodes", "row_points"]
