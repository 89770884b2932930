"""The equations of a thin plate on an elastic bed, on a mesh of triangles with the Morley element.

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
scaled
    Lengths over ``length``, so that the matrix is of a bending stiffness of one on an area of one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.plate.mesh import PlateMesh, PlateMeshError
from geometry.plate.morley import OPPOSITE, SHARES, WEIGHTS, Elements, elements_of

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
class PlateSystem:
    """Equations of a plate on its bed, scaled: ``(bending + springs) w = load`` with w in mm.

    ``length`` mm of the scale; ``elements`` in scaled coordinates; ``bending`` and ``springs`` (m, 6, 6) of each triangle; ``load``
    (n,) of a pressure of 1 MPa on the true area of the glass; ``bed_factor`` true area (or length) of the bed over that of the mesh.
    """

    mesh: PlateMesh
    plate: Plate
    bed: AreaBed | LineBed
    length: float
    elements: Elements
    bending: Floats
    springs: Floats
    load: Floats
    bed_factor: float

    def held(self) -> Integers:
        """Freedoms held by a rigid edge; none where the bed is springs."""
        if isinstance(self.bed, LineBed) and math.isinf(self.bed.stiffness):
            return self.mesh.edge_nodes()
        return np.empty(0, dtype=np.int64)


def system_of(mesh: PlateMesh, plate: Plate, bed: AreaBed | LineBed) -> PlateSystem:
    """The equations. The triangles cut the arcs by chords: load and bed are scaled to the true areas, so that the balance holds
    for the pane itself. Raises PlateMeshError where an area bed has no triangle.
    """
    length = math.sqrt(mesh.curves[0].area)
    elements = elements_of((mesh.points - np.mean(mesh.points, axis=0)) / length, mesh.triangles)
    nu = plate.poisson
    bend = elements.bends()
    stiff = np.array([[1, nu, 0], [nu, 1, 0], [0, 0, 2 * (1 - nu)]])
    bending = (bend * elements.area[:, None, None]) @ stiff @ bend.transpose(0, 2, 1)
    area = float(np.sum(mesh.areas()))
    # The mean of a share is a third, that of a bump minus a sixth.
    parts = -np.sum(elements.bumps, axis=2) / 6
    parts[:, :3] += 1 / 3
    to_deflection = length**4 / plate.bending_stiffness
    load = elements.vector(parts * elements.area[:, None]) * (mesh.curves[0].area / area) * to_deflection
    factor, springs = 1.0, np.zeros_like(bending)
    if isinstance(bed, AreaBed):
        factor = _band_factor(mesh)
        band = np.flatnonzero(mesh.band)
        values = elements.values(band, SHARES)
        weights = elements.area[band, None] * WEIGHTS * (factor * bed.stiffness * to_deflection)
        springs[band] = values.transpose(0, 2, 1) @ (values * weights[..., None])
    elif math.isfinite(bed.stiffness):
        factor = _edge_factor(mesh)
        springs = _line_springs(elements, mesh) * (factor * bed.stiffness * to_deflection / length**2)
    return PlateSystem(mesh, plate, bed, length, elements, bending, springs, load, factor)


def _line_springs(elements: Elements, mesh: PlateMesh) -> Floats:
    """Matrices (m, 6, 6) of springs of stiffness one along the glass edge, lengths in mm in one way and scaled in the other."""
    found = np.zeros((len(mesh.triangles), 6, 6))
    places, weights = np.polynomial.legendre.leggauss(3)
    count = len(mesh.points)
    sides = mesh.sides[mesh.side_curve == 0]
    edge = sides[:, 0] * count + sides[:, 1]
    for i, j in OPPOSITE:
        ends = mesh.triangles[:, [i, j]]
        on_edge = np.flatnonzero(np.isin(ends[:, 0] * count + ends[:, 1], edge))
        shares = np.zeros((3, 3))
        shares[:, i], shares[:, j] = (1 - places) / 2, (1 + places) / 2
        values = elements.values(on_edge, shares)
        way = mesh.points[ends[on_edge, 1]] - mesh.points[ends[on_edge, 0]]
        length = np.hypot(way[:, 0], way[:, 1])
        found[on_edge] += values.transpose(0, 2, 1) @ (values * (length[:, None] * weights / 2)[..., None])
    return found


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


__all__ = ["AreaBed", "LineBed", "Plate", "PlateSystem", "system_of"]
