"""Values at the points of a mesh: a plane is recovered as it is, the element's own quadratic is read as it is at corners and sides."""

from __future__ import annotations

import numpy as np
import pytest

from geometry.outline.offset import offset
from geometry.outline.shapes import polygon
from geometry.plate.fields import at_all_points
from geometry.plate.local import sides_of
from geometry.plate.mesh import mesh_of
from geometry.plate.nodes import Sizes
from geometry.plate.recovery import recovered
from geometry.plate.solve import less, solution_from, times
from geometry.plate.system import AreaBed, Plate, system_of

GLASS = polygon([(0, 0), (400, 30), (360, 260), (200, 150), (20, 250)], radii=[20, 20, 20, 5, 20])
MESH = mesh_of(GLASS, (offset(GLASS, -5), offset(GLASS, -15)), Sizes(15, 2, 40))
SYSTEM = system_of(MESH, Plate(1e6, 0.23), AreaBed(0.4))


def test_a_plane_is_recovered_at_every_point():
    """Least squares through the values of a plane give the plane, at the edge and at the re-entrant corner too."""
    middle = np.mean(MESH.points[MESH.triangles], axis=1)
    values = np.column_stack((np.ones(len(middle)), 2 + 0.03 * middle[:, 0] - 0.07 * middle[:, 1]))
    x, y = MESH.points.T
    assert recovered(MESH, values) == pytest.approx(
        np.column_stack((np.ones(len(x)), 2 + 0.03 * x - 0.07 * y)), rel=1e-9, abs=1e-9
    )


def quadratic(*, xx, xy, yy):
    """The solution whose deflection is ``(xx x2 + 2 xy x y + yy y2) / 2``, and that deflection at points and middles of sides."""
    ends = sides_of(MESH)[0]
    middle = np.mean(MESH.points[ends], axis=1)
    way = MESH.points[ends[:, 1]] - MESH.points[ends[:, 0]]
    across = np.column_stack((way[:, 1], -way[:, 0])) / np.hypot(*way.T)[:, None]
    bend = np.array([[xx, xy], [xy, yy]])
    places = np.concatenate((MESH.points, middle))
    deflection = np.einsum("ni,ij,nj->n", places, bend, places) / 2
    slope = np.einsum("ni,ij,nj->n", across, bend, middle) * SYSTEM.length
    return solution_from(SYSTEM, np.concatenate((deflection[: len(MESH.points)], slope)), 1.0), deflection


def test_a_quadratic_is_read_at_points_and_sides():
    found, deflection = quadratic(xx=3e-5, xy=-2e-5, yy=1e-5)
    assert found.curvature == pytest.approx(np.tile([3e-5, 1e-5, -2e-5], (len(MESH.triangles), 1)), rel=1e-9)
    assert at_all_points(found) == pytest.approx(deflection, rel=1e-9, abs=1e-9)


def test_what_one_has_more_than_another():
    """Twice a solution less itself is itself, in every array."""
    found, _ = quadratic(xx=3e-5, xy=-2e-5, yy=1e-5)
    again = less(times(found, 2.0), found)
    for name in ("deflection", "unknown", "curvature", "moment", "load", "reaction"):
        assert getattr(again, name) == pytest.approx(getattr(found, name), rel=1e-12)
