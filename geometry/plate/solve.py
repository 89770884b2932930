"""The linear solution of a thin plate on its bed, and the figures that follow from a deflection.

Terms
-----
unit deflection
    Deflection, mm, under a pressure of 1 MPa, positive in the direction of the pressure.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from geometry.plate.recovery import recovered
from geometry.plate.system import AreaBed, LineBed, Plate, PlateSystem, system_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.mesh import PlateMesh

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class PlateSolution:
    """Deflection of a plate under a load and what follows from it; of ``solve`` every value is for a pressure of 1 MPa.

    ``deflection`` (n,) at the points of the mesh, mm; ``unknown`` all freedoms of ``system``; ``curvature`` (m, 3) of each
    triangle: w_xx, w_yy, w_xy, 1/mm; ``moment`` (m, 3): M_x, M_y, M_xy of each triangle, N; ``support`` (n,) force of a line bed
    or rigid edge at each point, N, acting against the load; ``load`` the whole load, N; ``reaction`` the whole force of the bed, N.
    """

    system: PlateSystem
    deflection: Floats
    unknown: Floats
    curvature: Floats
    moment: Floats
    support: Floats
    load: float
    reaction: float

    @property
    def mesh(self) -> PlateMesh:
        """The mesh it was solved on."""
        return self.system.mesh

    @property
    def bed_factor(self) -> float:
        """True area (or length) of the bed over that of the mesh."""
        return self.system.bed_factor

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
        """Moments at the points, (n, 3), N."""
        return recovered(self.mesh, self.moment)


def solve(mesh: PlateMesh, plate: Plate, bed: AreaBed | LineBed) -> PlateSolution:
    """The plate under a pressure of 1 MPa on the true area of the glass.

    Raises PlateMeshError where an area bed has no triangle.
    """
    system = system_of(mesh, plate, bed)
    return solution(system, system.load, mesh.curves[0].area)


class Equations:
    """The linear equations of a system, factored once for any number of loads.

    ``free`` the freedoms that a rigid edge does not hold; ``matrix`` (n, n) of all, ``factors`` of those of the free ones.
    """

    def __init__(self, system: PlateSystem) -> None:
        self.system = system
        self.held = system.held()
        self.matrix = system.elements.matrix(system.bending + system.springs)
        self.free = np.setdiff1d(np.arange(system.elements.count), self.held)
        self._of_free = self.matrix[self.free][:, self.free] if len(self.held) else self.matrix
        self.factors = factorized(self._of_free)

    def solution(self, load: Floats, whole: float) -> PlateSolution:
        """The linear solution for a load (n,) that comes to ``whole`` N."""
        system = self.system
        unknown = np.zeros(len(load))
        unknown[self.free] = self._solved(load[self.free])
        found = solution_from(system, unknown, whole)
        if len(self.held):
            support = np.zeros(len(system.mesh.points))
            support[self.held] = (load - self.matrix @ unknown)[self.held] * system.plate.bending_stiffness / system.length**2
            return replace(found, support=support, reaction=float(np.sum(support)))
        if isinstance(system.bed, LineBed):
            return replace(found, support=_edge_forces(found, system.bed.stiffness))
        return found

    def _solved(self, load: Floats) -> Floats:
        """The free freedoms, sharpened once by their own residual."""
        first = self.factors.solve(load)
        found: Floats = first + self.factors.solve(load - self._of_free @ first)
        return found


def solution(system: PlateSystem, load: Floats, whole: float) -> PlateSolution:
    """The linear solution of the equations for a load (n,) that comes to ``whole`` N."""
    return Equations(system).solution(load, whole)


def solution_from(system: PlateSystem, unknown: Floats, load: float) -> PlateSolution:
    """The figures that follow from freedoms (n,), mm, under a whole load of ``load`` N; the support of an edge is left out."""
    plate = system.plate
    local = unknown[system.elements.dofs]
    curvature = np.einsum("mi,mik->mk", local, system.elements.bends()) / system.length**2
    nu, d = plate.poisson, plate.bending_stiffness
    xx, yy, xy = curvature[:, 0], curvature[:, 1], curvature[:, 2]
    moment = -d * np.column_stack((xx + nu * yy, yy + nu * xx, (1 - nu) * xy))
    count = len(system.mesh.points)
    # The functions of the corners together are 1 everywhere.
    pushed = float(np.sum(np.einsum("mij,mj->mi", system.springs, local)[:, :3]))
    reaction = pushed * plate.bending_stiffness / system.length**2
    return PlateSolution(system, unknown[:count], unknown, curvature, moment, np.zeros(count), load, reaction)


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


def factorized(matrix: Any, order: Integers | None = None) -> Any:
    """Factors of a symmetric system, in the order of least degree or one that is given; ``solve`` of it gives the solution for a load."""
    from scipy.sparse.linalg import splu

    # Panels of one column: so sparse a matrix gains nothing by wide ones, which cost a third more time.
    given: dict[str, Any] = {"diag_pivot_thresh": 0.0, "panel_size": 1, "options": {"SymmetricMode": True}}
    if order is None:
        return splu(matrix.tocsc(), permc_spec="MMD_AT_PLUS_A", **given)
    return _Ordered(splu(matrix[order][:, order].tocsc(), permc_spec="NATURAL", **given), order)


class _Ordered:
    """Factors of a matrix whose rows and columns were put into an order."""

    def __init__(self, factors: Any, order: Integers) -> None:
        self._factors, self._order = factors, order

    def solve(self, load: Floats) -> Floats:
        """The solution for a load, both in the order of before."""
        found = np.empty_like(load)
        found[self._order] = self._factors.solve(load[self._order])
        return found


def times(solution: PlateSolution, amount: float) -> PlateSolution:
    """The linear solution of so many times the load."""
    return _combined(solution, solution, amount, 0.0)


def less(first: PlateSolution, second: PlateSolution) -> PlateSolution:
    """What the first has more than the second, on the same mesh."""
    return _combined(first, second, 1.0, -1.0)


def _combined(first: PlateSolution, second: PlateSolution, one: float, other: float) -> PlateSolution:
    """So much of one and so much of another."""
    return PlateSolution(
        first.system,
        first.deflection * one + second.deflection * other,
        first.unknown * one + second.unknown * other,
        first.curvature * one + second.curvature * other,
        first.moment * one + second.moment * other,
        first.support * one + second.support * other,
        first.load * one + second.load * other,
        first.reaction * one + second.reaction * other,
    )


__all__ = ["Equations", "PlateSolution", "factorized", "less", "solution", "solution_from", "solve", "times"]
