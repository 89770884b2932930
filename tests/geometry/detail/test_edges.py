"""Edges of a pane and sites on them, by elementary geometry."""

from __future__ import annotations

import math

import pytest

from geometry.detail.edges import DOWN, LEFT, RIGHT, UP, edge_towards, edges_of, site_facing, site_round, stretch_between
from geometry.outline import Outline, Vertex

# A pointed oval: two arcs of bulge 0,3 over a chord of 400 that meet in points above and below. Radius 400 (1 + 0,09) / 1,2, sweep
# 4 arctan 0,3 = 66,8°: the arcs look no farther up or down than 33,4°, so its highest and lowest places are the points.
ARC = 400 * 1.09 / 1.2 * 4 * math.atan(0.3)
FROM_ABOVE = Outline((Vertex(100, 500, 0.3), Vertex(100, 100, 0.3)))
FROM_BELOW = Outline((Vertex(100, 100, 0.3), Vertex(100, 500, 0.3)))


@pytest.mark.parametrize(("outline", "low", "high"), [(FROM_ABOVE, ARC, 0.0), (FROM_BELOW, 0.0, ARC)])
def test_the_ends_of_a_pointed_oval_are_its_points(outline: Outline, low: float, high: float) -> None:
    bottom, top = site_facing(outline, DOWN), site_facing(outline, UP)
    assert (bottom.station.point.x, bottom.station.point.y) == pytest.approx((100, 100))
    assert (top.station.point.x, top.station.point.y) == pytest.approx((100, 500))
    assert (bottom.station.length_along % (2 * ARC), top.station.length_along % (2 * ARC)) == pytest.approx((low, high))
    assert bottom.distance == pytest.approx(0)
    assert abs(top.distance) == pytest.approx(ARC)
    # Halfway up its arcs it looks straight to the side; counter-clockwise from the lowest point the right one comes first.
    wide = 400 * 0.3 / 2  # rise of an arc
    for direction, x, distance in ((RIGHT, 100 + wide, ARC / 2), (LEFT, 100 - wide, -ARC / 2)):
        side = site_facing(outline, direction)
        assert (side.station.point.x, side.station.point.y, side.distance) == pytest.approx((x, 300, distance))
    assert site_round(outline, low + ARC / 4).distance == pytest.approx(ARC / 4)


def test_edges_run_from_sharp_corner_to_sharp_corner() -> None:
    """800 × 500 with a rounding of 60 below on the right and of 100 above on the left; the other two corners are sharp."""
    quarter = math.tan(math.pi / 8)
    outline = Outline(
        (
            Vertex(0, 0),
            Vertex(740, 0, quarter),
            Vertex(800, 60),
            Vertex(800, 500),
            Vertex(100, 500, quarter),
            Vertex(0, 400),
        )
    )
    found = edges_of(outline)
    assert [edge.name for edge in found] == ["e1", "e2", "e3", "e4"]
    origins = [(edge.origin.x, edge.origin.y) for edge in found]
    assert origins == [pytest.approx(place, abs=1e-9) for place in ((0, 0), (800, 0), (800, 500), (0, 500))]
    assert [(edge.first, edge.last, edge.end) for edge in found] == [
        pytest.approx(ends, abs=1e-9) for ends in ((0, 740, 800), (60, 500, 500), (0, 700, 800), (100, 500, 500))
    ]
    arc = 60 * math.pi / 2
    assert [edge.length_along for edge in found] == pytest.approx([0, 740 + arc, 1180 + arc, 1880 + arc + 50 * math.pi])
    assert [edge.middle for edge in found] == pytest.approx([370, 280, 350, 300])
    assert [edge_towards(found, direction) for direction in (DOWN, RIGHT, UP, LEFT)] == list(found)
    stretches = [stretch_between(outline, edge, after) for edge, after in zip(found, (*found[1:], found[0]), strict=True)]
    assert stretches == pytest.approx([arc, 0, 50 * math.pi, 0])
