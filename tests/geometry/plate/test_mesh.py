"""The mesh covers the glass once, follows the bead and keeps to the true curves."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.outline.loop import Outline, Vertex
from geometry.outline.measure import area, moved, perimeter
from geometry.outline.offset import offset
from geometry.outline.shapes import circle, ellipse, polygon, rectangle
from geometry.plate.curve import Curve
from geometry.plate.mesh import PlateMeshError, coarse_and_fine, mesh_of, refined
from geometry.plate.nodes import Sizes

SHAPES = {
    "rectangle": rectangle(1200, 600, radius=60),
    "sharp rectangle": rectangle(1200, 600),
    "circle": circle(420),
    "ellipse": ellipse(700, 400),
    "notched": polygon([(0, 0), (900, 0), (900, 300), (600, 300), (600, 600), (0, 600)], radii=30),
    "sliver": polygon([(0, 0), (640, 0), (640, 215)], radii=8),
}


@pytest.mark.parametrize("name", SHAPES)
def test_curve_measures_the_outline(name):
    curve = Curve(SHAPES[name])
    assert curve.area == pytest.approx(area(SHAPES[name]), rel=1e-12)
    assert curve.total == pytest.approx(perimeter(SHAPES[name]), rel=1e-12)
    places = np.linspace(0, curve.total, 97)[:-1]
    along, away = curve.nearest(curve.point(places))
    assert np.max(away) < 1e-9 * curve.total
    assert curve.point(along) == pytest.approx(curve.point(places), abs=1e-8 * curve.total)


@pytest.mark.parametrize("setback", [0, 3, 8, 20])
@pytest.mark.parametrize("name", SHAPES)
def test_triangles_cover_glass_and_bead(name, setback):
    """Areas of all triangles and of the band come to those of the outlines as the chords shorten; the band has whole rows."""
    glass = SHAPES[name]
    outer = offset(glass, -setback) if setback else glass
    inner = offset(outer, -12)
    mesh = refined(mesh_of(glass, (outer, inner), Sizes(9, 2, 40)))
    fine = refined(mesh)
    assert np.min(mesh.areas()) > 0
    for each, tolerance in ((mesh, 2e-3), (fine, 5e-4)):
        assert np.sum(each.areas()) == pytest.approx(area(glass), rel=tolerance)
        assert np.sum(each.areas()[each.band]) == pytest.approx(area(outer) - area(inner), rel=2 * tolerance)
    # nodes of the glass edge lie on the true curve
    _, away = Curve(glass).nearest(fine.points[fine.edge_nodes()])
    assert np.max(away) < 1e-7
    # rows: no triangle of the band reaches right across it
    outer_away = Curve(outer).nearest(mesh.points)[1]
    inner_away = Curve(inner).nearest(mesh.points)[1]
    across = mesh.triangles[mesh.band]
    on_outer, on_inner = outer_away[across] < 1e-6, inner_away[across] < 1e-6
    assert not np.any(np.any(on_outer, axis=1) & np.any(on_inner, axis=1))


def test_the_same_mesh_wherever_the_outline_starts():
    outline = SHAPES["notched"]
    turned = Outline(outline.vertices[5:] + outline.vertices[:5])
    one, other = (mesh_of(o, (o, offset(o, -12)), Sizes(9, 2, 40)) for o in (outline, turned))
    assert np.array_equal(one.triangles, other.triangles)
    assert one.points == pytest.approx(other.points, abs=1e-9)


def test_a_bead_outside_the_glass_is_refused():
    glass = rectangle(400, 300)
    with pytest.raises(PlateMeshError, match="outer edge of the bead lies outside the glass near"):
        mesh_of(glass, (moved(rectangle(400, 300), 30, 0), moved(rectangle(300, 200), 50, 50)), Sizes(12, 2, 40))
    with pytest.raises(PlateMeshError, match="inner edge of the bead lies outside its outer edge near"):
        mesh_of(glass, (moved(rectangle(300, 200), 50, 50), moved(rectangle(360, 260), 20, 20)), Sizes(12, 2, 40))
    with pytest.raises(PlateMeshError, match="the bead has no width"):
        mesh_of(glass, (glass, glass), Sizes(12, 2, 40))


@pytest.mark.parametrize("setback", [0.05, 0.5, 2])
def test_a_bead_close_to_the_glass_edge(setback):
    """Arcs of the two curves run closer than the rise of a chord: they are divided until the refined mesh does not fold over."""
    glass = rectangle(300, 200, radius=20)
    coarse, fine = coarse_and_fine(glass, (offset(glass, -setback), offset(glass, -12)), Sizes(9, 2, 40))
    assert np.min(coarse.areas()) > 0 and np.min(fine.areas()) > 0
    assert np.sum(fine.areas()) == pytest.approx(area(glass), rel=1e-3)


def test_refining_puts_new_nodes_on_the_arc():
    """Half circle bulges: every node of the refined edge has the radius."""
    disc = Outline((Vertex(0, 0, 1.0), Vertex(200, 0, 1.0)))
    mesh = refined(refined(mesh_of(disc, None, Sizes(30, 1, 40))))
    edge = mesh.points[mesh.edge_nodes()] - (100, 0)
    assert np.hypot(*edge.T) == pytest.approx(100, rel=1e-12)
    assert len(edge) == 4 * math.ceil(2 * math.pi * 100 / 30)
