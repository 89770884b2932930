"""Outlines as typed: each form, where the pane lies, and what lies with it."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely.affinity import translate

from geometry.job import job_of, outline_of
from geometry.outline.loop import segments

BOX = 1e-6  # mm


def pane_of(outline, more=""):
    text = f'[[pane]]\ncode = "P1"\nframe = "grp"\nglass = {{ plies = [8] }}\noutline = {outline}\n{more}\n'
    return job_of(text).panes[0]


def region(outline, steps=2000):
    """The same loop as points, for a general geometry library."""
    points = [segment.point_at(i / steps) for segment in segments(outline) for i in range(steps)]
    return shapely.Polygon(points)


def test_rectangle_area_by_the_closed_form():
    shape = region(pane_of("{ rectangle = [1200, 600], radius = 60 }").glass_outline)
    assert shape.area == pytest.approx(1200 * 600 - (4 - math.pi) * 60**2, abs=0.5)
    assert shape.bounds == pytest.approx((0, 0, 1200, 600), abs=BOX)


def test_rectangle_with_four_radii_from_the_lower_left_round():
    shape = region(pane_of("{ rectangle = [400, 300], radius = [10, 20, 30, 0] }").glass_outline)
    quarter = 1 - math.pi / 4
    assert shape.area == pytest.approx(400 * 300 - quarter * (10**2 + 20**2 + 30**2), abs=0.1)
    assert shape.contains(shapely.Point(0.5, 299.5)) and not shape.contains(shapely.Point(399, 299))


def test_circle_and_ellipse_by_the_closed_form():
    assert region(pane_of("{ circle = 420 }").glass_outline).area == pytest.approx(math.pi * 210**2, rel=1e-5)
    assert region(pane_of("{ ellipse = [700, 400] }").glass_outline).area == pytest.approx(math.pi * 350 * 200, rel=1e-4)


def test_path_with_a_half_circle():
    """A square of 100 with a half circle of radius 50 on its right side (bulge 1)."""
    shape = region(pane_of("{ path = [[0, 0], [100, 0, 1], [100, 100], [0, 100]] }").glass_outline)
    assert shape.area == pytest.approx(100**2 + math.pi * 50**2 / 2, rel=1e-5)
    assert shape.bounds == pytest.approx((0, 0, 150, 100), abs=1e-3)


@pytest.mark.parametrize(
    "outline",
    [
        "{ polygon = [[500, -200], [1800, -80], [1620, 670], [560, 620]], radius = 40 }",
        "{ polygon = [[0, 0], [640, 0], [640, 215]], radius = [8, 15, 15] }",
        "{ path = [[-10, -10], [90, -10, 0.5], [90, 90, -0.2], [-10, 90, 0.3]] }",
    ],
)
def test_the_box_of_the_glass_begins_at_the_origin(outline):
    shape = region(pane_of(outline).glass_outline, steps=4000)
    assert shape.bounds[:2] == pytest.approx((0, 0), abs=1e-3)


def test_a_polygon_keeps_its_shape_when_it_is_moved():
    pane = pane_of("{ polygon = [[500, -200], [1800, -80], [1620, 670], [560, 620]], radius = 40 }")
    sharp = shapely.Polygon([(500, -200), (1800, -80), (1620, 670), (560, 620)])
    rounded = sharp.buffer(-40, join_style="mitre").buffer(40, quad_segs=2000)
    moved = translate(rounded, -rounded.bounds[0], -rounded.bounds[1])
    assert region(pane.glass_outline).symmetric_difference(moved).area < 0.1


def test_a_recess_of_its_own_moves_with_the_pane():
    """Both typed 500 mm right of the origin: the recess stays 6 mm round the pane."""
    pane = pane_of(
        "{ polygon = [[500, 100], [900, 100], [900, 400], [500, 400]] }",
        "recess = { outline = { polygon = [[494, 94], [906, 94], [906, 406], [494, 406]] } }",
    )
    assert region(pane.recess_outline).bounds == pytest.approx((-6, -6, 406, 306), abs=BOX)


def test_a_drawn_frit_edge_stands_in_the_middle_of_the_pane():
    pane = pane_of("{ ellipse = [700, 400] }", "frit = { outline = { ellipse = [626, 326] } }")
    assert region(pane.frit_outline).bounds == pytest.approx((37, 37, 663, 363), abs=0.02)
    assert pane_of("{ circle = 300 }").frit_outline is None


def test_the_order_of_travel_makes_no_difference():
    one = pane_of("{ polygon = [[0, 0], [400, 0], [400, 300], [0, 300]], radius = [1, 2, 3, 4] }").glass_outline
    other = pane_of("{ polygon = [[0, 0], [0, 300], [400, 300], [400, 0]], radius = [1, 4, 3, 2] }").glass_outline
    assert region(one).symmetric_difference(region(other)).area < 1e-6


def test_an_outline_is_made_once():
    pane = pane_of("{ ellipse = [700, 400] }")
    assert pane.glass_outline is pane.glass_outline
    assert outline_of(pane.outline) == pane.glass_outline
