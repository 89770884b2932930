"""Triangles over a pane, fitted to the true lines and arcs of the glass edge and of both edges of the bead.

Terms
-----
curve node
    A node on the glass edge or on an edge of the bead; the pieces between neighbours on one curve are sides of triangles.
row
    A layer of triangles across the bead.
free node
    Any other node: on the rows inside the bead, or of the graded fill of the rest of the pane.
band
    The triangles that lie on the bead.
refined mesh
    Every triangle cut into four; the new nodes of the curves are put on the true arcs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from geometry.plate.curve import Curve
from geometry.plate.nodes import CurveNodes, Sizes, chord_polygons, fixed_nodes, free_nodes, row_points

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.outline.loop import Outline

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Booleans = NDArray[np.bool_]


class PlateMeshError(ValueError):
    """A pane that cannot be divided into triangles: the sentence says what was found and what is allowed."""


class FoldedMeshError(PlateMeshError):
    """A refined mesh in which an arc has been moved across a triangle."""


@dataclass(frozen=True, slots=True, eq=False)
class PlateMesh:
    """Triangles of a pane.

    ``points`` (n, 2) mm; ``triangles`` (m, 3), counter-clockwise; ``band`` (m,) true on the bead; ``sides`` (k, 2) the node
    pairs along the curves; ``side_curve`` (k,) which curve (0 is the glass edge); ``side_span`` (k, 2) distances along it.
    """

    curves: tuple[Curve, ...]
    points: Floats
    triangles: Integers
    band: Booleans
    sides: Integers
    side_curve: Integers
    side_span: Floats

    def areas(self) -> Floats:
        """Area of each triangle, mm2."""
        return _areas(self.points, self.triangles)

    def edge_nodes(self) -> Integers:
        """Nodes on the glass edge in order of the distance along it."""
        on_edge = self.side_curve == 0
        order = np.argsort(self.side_span[on_edge, 0])
        found: Integers = self.sides[on_edge, 0][order]
        return found


def mesh_of(glass: Outline, bead: tuple[Outline, Outline] | None, sizes: Sizes) -> PlateMesh:
    """The coarse mesh of a pane; ``bead`` is (outer edge, inner edge), or None for a pane with nothing but its edge.

    Raises PlateMeshError where the bead does not lie within the glass or no mesh can be made.
    """
    edge = Curve(glass)
    curves: tuple[Curve, ...]
    if bead is None:
        curves, nodes = (edge,), [edge.divided(sizes.along, greatest_turn=sizes.turn)]
        rows = np.empty((0, 2))
    else:
        outer, inner = Curve(bead[0]), Curve(bead[1])
        _check_bead(edge, outer, inner)
        master = outer.divided(sizes.along, greatest_turn=sizes.turn)
        master_points = outer.point(master)
        on_inner, _ = inner.nearest(master_points)
        on_edge, gap = edge.nearest(master_points)
        rows = row_points(master_points, inner.point(on_inner), sizes.rows)
        inner_nodes = inner.completed(on_inner, sizes.along, greatest_turn=sizes.turn)
        inner_points = inner.point(inner_nodes)
        back, _ = outer.nearest(inner_points)
        rows = np.concatenate((rows, row_points(inner_points, outer.point(back), sizes.rows)))
        if float(np.max(gap)) < 1e-6 * edge.total:
            curves, nodes = (edge, inner), [np.sort(np.mod(on_edge, edge.total)), inner_nodes]
        else:
            near = gap < 1.5 * sizes.along
            curves = (edge, outer, inner)
            nodes = [edge.completed(on_edge[near], sizes.along, greatest_turn=sizes.turn), master, inner_nodes]
    fixed = fixed_nodes(curves, nodes)
    free = free_nodes(curves, fixed, rows, sizes)
    return _triangulated(curves, fixed, free, sizes)


def coarse_and_fine(glass: Outline, bead: tuple[Outline, Outline], sizes: Sizes) -> tuple[PlateMesh, PlateMesh]:
    """The coarse mesh and its refined one; arcs that run close to each other are divided more finely until neither folds over."""
    for part in (1, 3):
        try:
            coarse = mesh_of(glass, bead, replace(sizes, turn=sizes.turn / part))
            return coarse, refined(coarse)
        except FoldedMeshError:
            continue
    coarse = mesh_of(glass, bead, replace(sizes, turn=sizes.turn / 9))
    return coarse, refined(coarse)


def refined(mesh: PlateMesh) -> PlateMesh:
    """Every triangle cut into four by the middles of its sides, the middles of curve sides put on the true curve."""
    count = len(mesh.points)
    t = mesh.triangles
    all_sides = np.sort(np.concatenate((t[:, [0, 1]], t[:, [1, 2]], t[:, [2, 0]])), axis=1)
    unique, back = np.unique(all_sides[:, 0] * count + all_sides[:, 1], return_inverse=True)
    first, second = unique // count, unique % count
    middle = (mesh.points[first] + mesh.points[second]) / 2
    key = np.min(mesh.sides, axis=1) * count + np.max(mesh.sides, axis=1)
    where = np.searchsorted(unique, key)
    halfway = np.mean(mesh.side_span, axis=1)
    for number, curve in enumerate(mesh.curves):
        mine = mesh.side_curve == number
        middle[where[mine]] = curve.point(halfway[mine])
    new = count + np.asarray(back).reshape(3, -1)
    a, b, c = t[:, 0], t[:, 1], t[:, 2]
    ab, bc, ca = new[0], new[1], new[2]
    triangles = np.concatenate(
        (np.column_stack((a, ab, ca)), np.column_stack((ab, b, bc)), np.column_stack((ca, bc, c)), np.column_stack((ab, bc, ca)))
    )
    on_side = count + where
    sides = np.concatenate((np.column_stack((mesh.sides[:, 0], on_side)), np.column_stack((on_side, mesh.sides[:, 1]))))
    span = np.concatenate((np.column_stack((mesh.side_span[:, 0], halfway)), np.column_stack((halfway, mesh.side_span[:, 1]))))
    points = np.concatenate((mesh.points, middle))
    if float(np.min(_areas(points, triangles))) <= 0.0:
        raise FoldedMeshError("the mesh folds over where an arc of the outline turns too sharply between two nodes")
    return PlateMesh(mesh.curves, points, triangles, np.tile(mesh.band, 4), sides, np.tile(mesh.side_curve, 2), span)


def _areas(points: Floats, triangles: Integers) -> Floats:
    a, b, c = points[triangles[:, 0]], points[triangles[:, 1]], points[triangles[:, 2]]
    found: Floats = ((b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])) / 2
    return found


def _check_bead(edge: Curve, outer: Curve, inner: Curve) -> None:
    import shapely

    polygons = [shapely.Polygon(c.point(c.divided(c.total / 400, greatest_turn=math.radians(6)))) for c in (edge, outer, inner)]
    for inside, outside, what in (
        (polygons[1], polygons[0], "the outer edge of the bead lies outside the glass"),
        (polygons[2], polygons[1], "the inner edge of the bead lies outside its outer edge"),
    ):
        stray = inside.difference(outside)
        if not stray.is_empty and stray.area > 1e-4 * polygons[0].area:
            at = stray.representative_point()
            raise PlateMeshError(f"{what} near ({at.x:.1f}, {at.y:.1f}); it must lie within it all round")
    if not 0.0 < inner.area < outer.area:
        raise PlateMeshError(
            f"the bead has no width: its outer edge encloses {outer.area:.0f} mm2, its inner edge {inner.area:.0f} mm2; "
            "the inner edge must enclose less"
        )


def _triangulated(curves: tuple[Curve, ...], fixed: CurveNodes, free: Floats, sizes: Sizes) -> PlateMesh:
    """Delaunay triangles whose sides follow the curves; curve sides that are missing are halved until none is."""
    free = _smoothed(fixed, free)
    for _ in range(12):
        points = np.concatenate((fixed.points, free))
        triangles = _delaunay(points)
        count = len(points)
        present = np.unique(_side_keys(triangles, count))
        keys = np.min(fixed.sides, axis=1) * count + np.max(fixed.sides, axis=1)
        missing = ~np.isin(keys, present)
        if not np.any(missing):
            return _trimmed(curves, fixed, points, triangles)
        at = fixed.points[fixed.sides[missing][0, 0]]
        fixed, free = _halved(curves, fixed, free, missing)
    raise PlateMeshError(
        f"no mesh follows the outlines near ({at[0]:.1f}, {at[1]:.1f}): "
        "glass edge and bead edges run too close to each other there"
    )


def _halved(curves: tuple[Curve, ...], fixed: CurveNodes, free: Floats, missing: Booleans) -> tuple[CurveNodes, Floats]:
    """The missing curve sides halved on the true curve, without the free nodes that crowd them."""
    from scipy.spatial import cKDTree

    ends = fixed.points[fixed.sides[missing]]
    halfway = np.mean(fixed.span[missing], axis=1)
    middle = np.empty((len(halfway), 2))
    for k, curve in enumerate(curves):
        mine = fixed.curve[missing] == k
        middle[mine] = curve.point(halfway[mine])
    reach = np.hypot(*(ends[:, 0] - ends[:, 1]).T) / 2
    if len(free):
        crowd: set[int] = set()
        for found in cKDTree(free).query_ball_point(middle, reach):
            crowd.update(found)
        free = np.delete(free, sorted(crowd), axis=0)
    new = len(fixed.points) + np.arange(len(middle))
    sides, span = fixed.sides[missing], fixed.span[missing]
    return (
        CurveNodes(
            np.concatenate((fixed.points, middle)),
            np.concatenate((fixed.sides[~missing], np.column_stack((sides[:, 0], new)), np.column_stack((new, sides[:, 1])))),
            np.concatenate((fixed.curve[~missing], fixed.curve[missing], fixed.curve[missing])),
            np.concatenate(
                (fixed.span[~missing], np.column_stack((span[:, 0], halfway)), np.column_stack((halfway, span[:, 1])))
            ),
        ),
        free,
    )


def _delaunay(points: Floats) -> Integers:
    from scipy.spatial import Delaunay

    triangles: Integers = Delaunay(points).simplices.astype(np.int64)
    turned = _areas(points, triangles) < 0.0
    triangles[turned] = triangles[turned][:, [0, 2, 1]]
    return triangles


def _side_keys(triangles: Integers, count: int) -> Integers:
    """One number for each side of each triangle, the same whichever way it is run."""
    sides = np.sort(np.concatenate((triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]])), axis=1)
    found: Integers = sides[:, 0] * count + sides[:, 1]
    return found


def _smoothed(fixed: CurveNodes, free: Floats, *, rounds: int = 3) -> Floats:
    """Free nodes moved towards the mean of their neighbours."""
    from scipy.sparse import coo_array

    if not len(free):
        return free
    start = len(fixed.points)
    for _ in range(rounds):
        points = np.concatenate((fixed.points, free))
        count = len(points)
        keys = np.unique(_side_keys(_delaunay(points), count))
        i, j = keys // count, keys % count
        links = coo_array((np.ones(2 * len(i)), (np.append(i, j), np.append(j, i))), shape=(count, count)).tocsr()
        mean = (links @ points)[start:] / np.asarray(links.sum(axis=1)).reshape(-1, 1)[start:]
        free = free + 0.6 * (mean - free)
    return free


def _trimmed(curves: tuple[Curve, ...], fixed: CurveNodes, points: Floats, triangles: Integers) -> PlateMesh:
    """The triangles inside the glass, proven to cover it once and to end on its edge."""
    import shapely

    polygons = chord_polygons(curves, fixed)
    middle = np.mean(points[triangles], axis=1)
    area = _areas(points, triangles)
    longest = np.max(np.hypot(*(points[triangles] - points[triangles[:, [1, 2, 0]]]).transpose(2, 0, 1)), axis=1)
    keep = shapely.contains_xy(polygons[0], middle[:, 0], middle[:, 1]) & (area > 1e-7 * longest**2)
    triangles, middle, area = triangles[keep], middle[keep], area[keep]
    used, index = np.unique(triangles, return_inverse=True)
    if used[: len(fixed.points)].tolist() != list(range(len(fixed.points))):
        raise PlateMeshError("a node of the glass edge or of the bead belongs to no triangle: the outlines touch or cross")
    triangles = np.asarray(index).reshape(-1, 3).astype(np.int64)
    points = points[used]
    count = len(points)
    keys, times = np.unique(_side_keys(triangles, count), return_counts=True)
    edge = fixed.sides[fixed.curve == 0]
    edge_keys = np.unique(np.min(edge, axis=1) * count + np.max(edge, axis=1))
    whole = float(shapely.area(polygons[0]))
    if not np.array_equal(keys[times == 1], edge_keys) or abs(float(np.sum(area)) - whole) > 1e-7 * whole:
        raise PlateMeshError("the triangles do not cover the glass once: the outlines touch or cross")
    band = np.zeros(len(triangles), dtype=bool)
    if len(curves) > 1:
        band = shapely.contains_xy(polygons[-2], middle[:, 0], middle[:, 1]) & ~shapely.contains_xy(
            polygons[-1], middle[:, 0], middle[:, 1]
        )
    return PlateMesh(curves, points, triangles, band, fixed.sides, fixed.curve, fixed.span)


__all__ = ["FoldedMeshError", "PlateMesh", "PlateMeshError", "coarse_and_fine", "mesh_of", "refined"]
