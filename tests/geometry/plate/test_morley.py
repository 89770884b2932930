"""The plate's matrices are those that scikit-fem, which shares no line with it, puts together on the same mesh."""

from __future__ import annotations

import math

import numpy as np
import pytest
from skfem import BilinearForm, CellBasis, ElementTriMorley, ElementTriP2, FacetBasis, LinearForm, MeshTri
from skfem.helpers import dd, ddot, eye, trace

from geometry.outline.offset import offset
from geometry.outline.shapes import polygon
from geometry.plate.mesh import mesh_of, refined
from geometry.plate.morley import SHARES, WEIGHTS, elements_of, quadratic_values
from geometry.plate.nodes import Sizes
from geometry.plate.solve import solve
from geometry.plate.system import AreaBed, LineBed, Plate, system_of

GLASS = polygon([(0, 0), (90, 5), (80, 60), (3, 55)], radii=8)
MESH = refined(mesh_of(GLASS, (GLASS, offset(GLASS, -6)), Sizes(6, 2, 20)))
PLATE = Plate(5e4, 0.23)
LENGTH = math.sqrt(MESH.curves[0].area)


def skmesh():
    points = (MESH.points - np.mean(MESH.points, axis=0)) / LENGTH
    return MeshTri(points.T.copy(), MESH.triangles.T.copy())


@BilinearForm
def bending(u, v, _):
    """The form of scikit-fem's own plate example."""
    return ddot(0.77 * dd(u) + 0.23 * eye(trace(dd(u)), 2), dd(v))


@BilinearForm
def springs(u, v, _):
    return u * v


@LinearForm
def load(v, _):
    return 1.0 * v


@pytest.mark.parametrize("bed", [AreaBed(0.4), LineBed(3.0)])
def test_the_deflection_is_that_of_the_library(bed):
    """Bending, springs on the band or along the edge, and the load: the same deflection at every node but for rounding."""
    from scipy.sparse.linalg import spsolve

    system = system_of(MESH, PLATE, bed)
    mesh, element = skmesh(), ElementTriMorley()
    basis = CellBasis(mesh, element, intorder=4)
    if isinstance(bed, AreaBed):
        where = CellBasis(mesh, element, intorder=4, elements=np.flatnonzero(MESH.band))
        scale = LENGTH**4
    else:
        where, scale = FacetBasis(mesh, element, intorder=4), LENGTH**3
    matrix = (
        bending.assemble(basis) + springs.assemble(where) * system.bed_factor * bed.stiffness * scale / PLATE.bending_stiffness
    )
    area = MESH.curves[0].area / float(np.sum(MESH.areas()))
    found = spsolve(matrix.tocsc(), load.assemble(basis) * area * LENGTH**4 / PLATE.bending_stiffness)[basis.nodal_dofs[0]]
    mine = solve(MESH, PLATE, bed).deflection
    assert np.max(np.abs(mine - found)) < 1e-8 * np.max(np.abs(found))


def test_functions_have_their_freedoms():
    """One for its own corner and nothing at the others; a slope of one across its own side, the same from both triangles."""
    elements = elements_of(MESH.points, MESH.triangles)
    corners = elements.values(slice(None), np.eye(3))
    assert np.max(np.abs(corners[:, :, :3] - np.eye(3))) < 1e-12
    assert np.max(np.abs(corners[:, :, 3:])) < 1e-12
    middles = (1 - np.eye(3)) / 2
    slopes = elements.slopes(slice(None), middles)
    ends = MESH.triangles[:, [[1, 2], [2, 0], [0, 1]]]
    low, high = np.min(ends, axis=2), np.max(ends, axis=2)
    way = MESH.points[high] - MESH.points[low]
    across = np.stack((way[..., 1], -way[..., 0]), axis=-1) / np.hypot(way[..., 0], way[..., 1])[..., None]
    turned = np.einsum("mkia,mka->mki", slopes, across)
    assert np.max(np.abs(turned[:, :, :3])) < 1e-9
    assert np.max(np.abs(turned[:, :, 3:] - np.eye(3))) < 1e-9


def test_any_quadratic_is_in_the_elements():
    """A quadratic's values, gradients and second derivatives, by both kinds of freedom."""
    a, b, c, d, e = 0.3, -0.7, 0.011, -0.004, 0.007
    p = MESH.points

    def height(at):
        x, y = at[..., 0], at[..., 1]
        return a * x + b * y + c * x * x + d * y * y + e * x * y

    def slope(at):
        x, y = at[..., 0], at[..., 1]
        return np.stack((a + 2 * c * x + e * y, b + 2 * d * y + e * x), axis=-1)

    elements = elements_of(p, MESH.triangles)
    ends = MESH.triangles[:, [[1, 2], [2, 0], [0, 1]]]
    low, high = np.min(ends, axis=2), np.max(ends, axis=2)
    way = p[high] - p[low]
    across = np.stack((way[..., 1], -way[..., 0]), axis=-1) / np.hypot(way[..., 0], way[..., 1])[..., None]
    middle = (p[low] + p[high]) / 2
    at = np.einsum("qk,mkx->mqx", SHARES, p[MESH.triangles])
    corner = height(p)[MESH.triangles]
    morley = np.concatenate((corner, np.sum(slope(middle) * across, axis=2)), axis=1)
    assert np.allclose(np.einsum("mqi,mi->mq", elements.values(slice(None), SHARES), morley), height(at), atol=1e-9)
    assert np.allclose(np.einsum("mqia,mi->mqa", elements.slopes(slice(None), SHARES), morley), slope(at), atol=1e-9)
    assert np.allclose(np.einsum("mik,mi->mk", elements.bends(), morley), [2 * c, 2 * d, e], atol=1e-9)
    quadratic = np.concatenate((corner, height(middle)), axis=1)
    assert np.allclose(quadratic @ quadratic_values(SHARES).T, height(at), atol=1e-9)
    assert np.allclose(np.einsum("mqia,mi->mqa", elements.quadratic_slopes(SHARES), quadratic), slope(at), atol=1e-9)


def test_the_six_places_integrate_the_fourth_order():
    """Means of monomials of the shares over a triangle: 2 a! b! c! / (a + b + c + 2)!."""
    for a in range(5):
        for b in range(5 - a):
            for c in range(5 - a - b):
                exact = 2 * math.factorial(a) * math.factorial(b) * math.factorial(c) / math.factorial(a + b + c + 2)
                assert WEIGHTS @ (SHARES[:, 0] ** a * SHARES[:, 1] ** b * SHARES[:, 2] ** c) == pytest.approx(exact, abs=1e-14)


def test_the_quadratic_of_the_membrane_is_that_of_the_library():
    """Mass of all triangles: sum over a field of ones and of a field x, beside scikit-fem's."""
    basis = CellBasis(skmesh(), ElementTriP2(), intorder=4)
    elements = elements_of(MESH.points, MESH.triangles)
    values = quadratic_values(SHARES)
    mass = elements.matrix(elements.area[:, None, None] * ((values * WEIGHTS[:, None]).T @ values))
    theirs = springs.assemble(basis)
    assert mass.sum() == pytest.approx(theirs.sum() * LENGTH**2, rel=1e-12)
    assert np.sort(mass.diagonal()) == pytest.approx(np.sort(theirs.diagonal()) * LENGTH**2, rel=1e-9)
