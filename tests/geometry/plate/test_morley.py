"""The quick shape functions are scikit-fem's own."""

from __future__ import annotations

import numpy as np
import pytest
from skfem import BilinearForm, CellBasis, ElementTriMorley, FacetBasis, LinearForm, MeshTri
from skfem.helpers import dd, ddot, eye, trace

from geometry.outline.offset import offset
from geometry.outline.shapes import polygon
from geometry.plate.mesh import mesh_of, refined
from geometry.plate.morley import QuickMorley
from geometry.plate.nodes import Sizes

GLASS = polygon([(0, 0), (90, 5), (80, 60), (3, 55)], radii=8)
MESH = refined(mesh_of(GLASS, (GLASS, offset(GLASS, -6)), Sizes(6, 2, 20)))


def skmesh():
    return MeshTri((MESH.points.T / 70).copy(), MESH.triangles.T.copy())


@BilinearForm
def bending(u, v, _):
    """The form of scikit-fem's own plate example."""
    return ddot(0.77 * dd(u) + 0.23 * eye(trace(dd(u)), 2), dd(v))


@BilinearForm
def springs(u, v, _):
    return u * v


@LinearForm
def load(v, w):
    return (1 + w.x[0]) * v


@pytest.mark.parametrize("order", [2, 4])
def test_matrices_are_those_of_the_library(order):
    """Bending, springs on the band and on the edge, and a load that is not even: equal but for rounding."""
    some = np.flatnonzero(MESH.band)
    for form, kind, where in (
        (bending, CellBasis, {}),
        (springs, CellBasis, {"elements": some}),
        (springs, FacetBasis, {}),
        (load, CellBasis, {}),
    ):
        quick = form.assemble(kind(skmesh(), QuickMorley(), intorder=order, disable_doflocs=True, **where))
        plain = form.assemble(kind(skmesh(), ElementTriMorley(), intorder=order, **where))
        scale = float(np.max(np.abs(plain)))
        assert scale > 0
        assert float(np.max(np.abs(quick - plain))) < 1e-12 * scale


def test_values_between_the_nodes_are_those_of_the_library():
    """A quadratic is in the element: both give it and its second derivatives back."""
    freedoms = []
    for element in (QuickMorley(), ElementTriMorley()):
        basis = CellBasis(skmesh(), element, intorder=3)
        field = basis.interpolate(np.arange(basis.N) / basis.N)
        freedoms.append((np.asarray(field), np.asarray(field.hess)))
    for quick, plain in zip(*freedoms, strict=True):
        assert np.max(np.abs(quick - plain)) < 1e-10 * np.max(np.abs(plain))
