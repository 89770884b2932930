"""The thin plate on an elastic bed, solved on a mesh of triangles with the Morley element.

Terms
-----
thin plate
    Kirchhoff's linear theory: small deflection, no stretch of the middle plane, no shear deformation.
Morley element
    A quadratic over each triangle, known by its values at the three corners and its slopes across the three sides
    (Morley, 1968); it converges with the square of the size of the triangles in deflection.
area bed
    Springs under the band of the bead, acting both ways, N/mm per mm2 of bead (N/mm3).
line bed
    Springs along the glass edge, N/mm per mm of edge (N/mm2); infinite for an edge held rigidly but free to turn.
unit deflection
    Deflection, mm, under a pressure of 1 MPa, positive in the direction of the pressure.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from geometry.plate.mesh import PlateMesh, PlateMeshError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Plate:
    """Bending stiffness D = E t3 / (12 (1 - nu2)), N mm, and Poisson's ratio."""

    bending_stiffness: float
    poisson: float


@dataclass(frozen=True, slots=True)
class AreaBed:
    """Springs under the band, N/mm3."""

    stiffness: float


@dataclass(frozen=True, slots=True)
class LineBed:
    """Springs along the glass edge, N/mm2; ``math.inf`` is a rigid support that lets the edge turn."""

    stiffness: float


@dataclass(frozen=True, slots=True, eq=False)
class PlateSolution:
    """Unit deflection of a plate and what follows from it; every value is for a pressure of 1 MPa.

    ``deflection`` (n,) at the points of the mesh, mm; ``curvature`` (m, 3) of each triangle: w_xx, w_yy, w_xy, 1/mm;
    ``moment`` (m, 3): M_x, M_y, M_xy of each triangle, N; ``support`` (n,) force of a line bed or rigid edge at each point, N,
    acting against the pressure; ``load`` the whole load, N; ``reaction`` the whole force of the bed, N;
    ``bed_factor`` true area (or length) of the bed over that of the mesh.
    """

    mesh: PlateMesh
    deflection: Floats
    curvature: Floats
    moment: Floats
    support: Floats
    load: float
    reaction: float
    bed_factor: float

    def at(self, triangle: Integers, shares: Floats) -> Floats:
        """Deflection in triangles (k,) at shares (k, 3) of their corners: the element's own quadratic."""
        corners = self.mesh.triangles[triangle]
        points = self.mesh.points[corners]
        place = np.sum(shares[:, :, None] * points, axis=1)
        away = points - place[:, None, :]
        bend = self.curvature[triangle]
        # For a quadratic the mean of the corner values exceeds the value by half the mean of the bend over the way to each.
        excess = (
            bend[:, None, 0] * away[:, :, 0] ** 2
            + bend[:, None, 1] * away[:, :, 1] ** 2
            + 2 * bend[:, None, 2] * away[:, :, 0] * away[:, :, 1]
        )
        found: Floats = np.sum(shares * (self.deflection[corners] - excess / 2), axis=1)
        return found

    def at_place(self, x: float, y: float) -> float | None:
        """Deflection at a place, mm, or None outside the glass."""
        p = self.mesh.points[self.mesh.triangles]
        a, b, c = p[:, 0], p[:, 1], p[:, 2]
        double = 2 * self.mesh.areas()
        first = ((b[:, 0] - x) * (c[:, 1] - y) - (b[:, 1] - y) * (c[:, 0] - x)) / double
        second = ((c[:, 0] - x) * (a[:, 1] - y) - (c[:, 1] - y) * (a[:, 0] - x)) / double
        least = np.minimum(np.minimum(first, second), 1 - first - second)
        k = int(np.argmax(least))
        if least[k] < -1e-9:
            return None
        shares = np.array([[first[k], second[k], 1 - first[k] - second[k]]])
        return float(self.at(np.array([k]), shares)[0])

    def point_moments(self) -> Floats:
        """Moments at the points, (n, 3), N: the mean of the triangles that meet there, weighted by area."""
        weight = self.mesh.areas()
        total = np.zeros((len(self.mesh.points), 3))
        share = np.zeros(len(self.mesh.points))
        for corner in range(3):
            np.add.at(total, self.mesh.triangles[:, corner], self.moment * weight[:, None])
            np.add.at(share, self.mesh.triangles[:, corner], weight)
        found: Floats = total / share[:, None]
        return found


def solve(mesh: PlateMesh, plate: Plate, bed: AreaBed | LineBed) -> PlateSolution:
    """The plate under a pressure of 1 MPa on the true area of the glass.

    The triangles cut the arcs by chords: load and bed are scaled to the true areas, so that the balance holds for the pane
    itself. Raises PlateMeshError where an area bed has no triangle.
    """
    length = math.sqrt(mesh.curves[0].area)
    centre = np.mean(mesh.points, axis=0)
    skmesh, element = _skfem_mesh((mesh.points - centre) / length, mesh.triangles)
    scaled, load, basis = _plate_matrices(skmesh, element, plate)
    area = float(np.sum(mesh.areas()))
    load = load * (mesh.curves[0].area / area) * length**4 / plate.bending_stiffness
    nodes = basis.nodal_dofs[0]
    support = np.zeros(len(mesh.points))
    if isinstance(bed, AreaBed):
        factor = _band_factor(mesh)
        springs = _area_springs(skmesh, element, mesh) * (factor * bed.stiffness * length**4 / plate.bending_stiffness)
        unknown = _solved(scaled + springs, load)
        reaction = float(np.sum(springs @ unknown * _ones(basis)))
    elif math.isinf(bed.stiffness):
        factor = 1.0
        held = nodes[mesh.edge_nodes()]
        free = np.setdiff1d(np.arange(len(load)), held)
        unknown = np.zeros(len(load))
        unknown[free] = _solved(scaled[free][:, free], load[free])
        residual = load - scaled @ unknown
        support[mesh.edge_nodes()] = residual[held]
        reaction = float(np.sum(residual[held]))
    else:
        factor = _edge_factor(mesh)
        springs = _line_springs(skmesh, element) * (factor * bed.stiffness * length**3 / plate.bending_stiffness)
        unknown = _solved(scaled + springs, load)
        reaction = float(np.sum(springs @ unknown * _ones(basis)))
    to_force = plate.bending_stiffness / length**2
    curvature = _curvatures(basis, unknown) / length**2
    nu, d = plate.poisson, plate.bending_stiffness
    xx, yy, xy = curvature[:, 0], curvature[:, 1], curvature[:, 2]
    moment = -d * np.column_stack((xx + nu * yy, yy + nu * xx, (1 - nu) * xy))
    solution = PlateSolution(
        mesh, unknown[nodes], curvature, moment, support * to_force, mesh.curves[0].area, reaction * to_force, factor
    )
    if isinstance(bed, LineBed) and math.isfinite(bed.stiffness):
        return replace(solution, support=_edge_forces(solution, bed.stiffness))
    return solution


def _edge_forces(solution: PlateSolution, stiffness: float) -> Floats:
    """Force of the line bed of each side of the glass edge, half to each of its ends, N per MPa."""
    mesh = solution.mesh
    count = len(mesh.points)
    t = mesh.triangles
    owner = np.concatenate((t[:, 0] * count + t[:, 1], t[:, 1] * count + t[:, 2], t[:, 2] * count + t[:, 0]))
    order = np.argsort(owner)
    sides = mesh.sides[mesh.side_curve == 0]
    # The glass lies to the left of its edge, so the one triangle of a side runs it the same way.
    found = order[np.searchsorted(owner, sides[:, 0] * count + sides[:, 1], sorter=order)]
    triangle, first = found % len(t), found // len(t)
    shares = np.zeros((len(sides), 3))
    rows = np.arange(len(sides))
    shares[rows, first] = shares[rows, (first + 1) % 3] = 0.5
    ends = solution.deflection[sides]
    length = np.hypot(*(mesh.points[sides[:, 1]] - mesh.points[sides[:, 0]]).T) * solution.bed_factor
    force = stiffness * length * (ends[:, 0] + 4 * solution.at(triangle, shares) + ends[:, 1]) / 6
    support = np.zeros(count)
    np.add.at(support, sides[:, 0], force / 2)
    np.add.at(support, sides[:, 1], force / 2)
    return support


def _ones(basis: Any) -> Floats:
    """The freedoms of a plate that moves by 1 without turning."""
    ones = np.zeros(basis.N)
    ones[basis.nodal_dofs[0]] = 1.0
    return ones


def _skfem_mesh(points: Floats, triangles: Integers) -> tuple[Any, Any]:
    """The mesh for scikit-fem and one Morley element, which keeps the shape functions of this mesh."""
    from skfem import MeshTri

    from geometry.plate.morley import QuickMorley

    return MeshTri(np.ascontiguousarray(points.T), np.ascontiguousarray(triangles.T)), QuickMorley()


def _plate_matrices(skmesh: Any, element: Any, plate: Plate) -> tuple[Any, Floats, Any]:
    """Bending matrix for D = 1, load vector for a pressure of 1 and the basis of both."""
    from skfem import BilinearForm, CellBasis, LinearForm

    nu = plate.poisson

    @BilinearForm  # type: ignore[untyped-decorator]
    def bending(u: Any, v: Any, _: Any) -> Any:
        a, b = u.hess, v.hess
        return (a[0][0] + nu * a[1][1]) * b[0][0] + (a[1][1] + nu * a[0][0]) * b[1][1] + 2 * (1 - nu) * a[0][1] * b[0][1]

    @LinearForm  # type: ignore[untyped-decorator]
    def pressure(v: Any, _: Any) -> Any:
        return 1.0 * v

    # The curvature is constant and the deflection quadratic in a triangle: order 2 integrates both exactly.
    basis = CellBasis(skmesh, element, intorder=2, disable_doflocs=True)
    return bending.assemble(basis), pressure.assemble(basis), basis


def _area_springs(skmesh: Any, element: Any, mesh: PlateMesh) -> Any:
    from skfem import BilinearForm, CellBasis

    @BilinearForm  # type: ignore[untyped-decorator]
    def springs(u: Any, v: Any, _: Any) -> Any:
        return u * v

    return springs.assemble(CellBasis(skmesh, element, intorder=4, elements=np.flatnonzero(mesh.band), disable_doflocs=True))


def _line_springs(skmesh: Any, element: Any) -> Any:
    from skfem import BilinearForm, FacetBasis

    @BilinearForm  # type: ignore[untyped-decorator]
    def springs(u: Any, v: Any, _: Any) -> Any:
        return u * v

    return springs.assemble(FacetBasis(skmesh, element, intorder=4, disable_doflocs=True))


def _band_factor(mesh: PlateMesh) -> float:
    """True area of the bead over the area of the band."""
    covered = float(np.sum(mesh.areas()[mesh.band]))
    if len(mesh.curves) < 2 or covered <= 0.0:
        raise PlateMeshError("an area bed needs a mesh with a bead; this one has none")
    return (mesh.curves[-2].area - mesh.curves[-1].area) / covered


def _edge_factor(mesh: PlateMesh) -> float:
    """True length of the glass edge over the length of its chords."""
    ends = mesh.points[mesh.sides[mesh.side_curve == 0]]
    return mesh.curves[0].total / float(np.sum(np.hypot(*(ends[:, 1] - ends[:, 0]).T)))


def _solved(matrix: Any, load: Floats) -> Floats:
    """Solution of the symmetric positive definite system, sharpened once by its own residual."""
    from scipy.sparse.linalg import splu

    factors = splu(matrix.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    first = factors.solve(load)
    found: Floats = first + factors.solve(load - matrix @ first)
    return found


def _curvatures(basis: Any, unknown: Floats) -> Floats:
    """w_xx, w_yy, w_xy of each triangle, (m, 3)."""
    hess = basis.interpolate(unknown).hess
    found: Floats = np.column_stack((hess[0][0][:, 0], hess[1][1][:, 0], hess[0][1][:, 0]))
    return found


__all__ = ["AreaBed", "LineBed", "Plate", "PlateSolution", "solve"]
