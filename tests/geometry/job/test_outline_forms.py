"""Outlines as typed: each form, where the pane lies, and what lies with it."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely.affinity import translate

from geometry.detail.build import build_detail
from geometry.detail.parts import PlanOrigin
from geometry.job import JobError, job_of, outline_of
from geometry.outline import Point, corners
from geometry.outline.loop import segments

BOX = 1e-6  # mm


def text_of(outline, more=""):
    return f'[[pane]]\ncode = "P1"\nframe = "grp"\nglass = {{ plies = [8] }}\noutline = {outline}\n{more}\n'


def pane_of(outline, more=""):
    return job_of(text_of(outline, more)).panes[0]


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
    ("outline", "sharp", "first"),
    [
        # in the vessel's coordinates: from the first corner as typed
        ("{ polygon = [[5500, -200], [6800, -80], [6620, 670], [5560, 620]], radius = 40 }", (1300, 120), (5500, -200)),
        # about (0, 0): from there, the corners as typed
        ("{ polygon = [[0, 0], [640, 0], [640, 215]], radius = [8, 15, 15] }", (640, 0), (0, 0)),
        ("{ polygon = [[350, 0], [1100, 0], [1100, 800], [0, 800], [0, 300], [350, 300]] }", (1100, 0), (0, 0)),
        ("{ path = [[-10, -10], [90, -10, 0.5], [90, 90, -0.2], [-10, 90, 0.3]] }", (90, -10), (0, 0)),
        # sides prolonged: corners just off the axes they are set out from
        ("{ polygon = [[8, 8], [640, 8], [640, 215]] }", (640, 8), (0, 0)),
    ],
)
def test_the_origin_is_a_point_as_typed(outline, sharp, first):
    pane = pane_of(outline)
    assert pane.origin == first
    outline = pane.glass_outline
    places = [*(corner.theoretical for corner in corners(outline)), *((each.x, each.y) for each in outline.vertices)]
    assert min(math.dist(sharp, place) for place in places) < 1e-6


def test_a_round_pane_counts_from_its_lowest_point():
    for outline in ("{ circle = 420 }", "{ ellipse = [420, 420] }"):
        assert region(pane_of(outline).glass_outline).bounds == pytest.approx((-210, 0, 210, 420), abs=1e-3)


def test_a_key_counts_from_the_origin():
    """The glass begins some 40 mm right of its acute corner as typed, rounded to 8: the chock stands at the X of the job all the same."""
    text = text_of("{ polygon = [[0, 0], [640, 0], [640, 215]], radius = [8, 15, 15] }", "chocks = { at = [500] }")
    detail = build_detail(job_of(text), job_of(text).panes[0])
    assert [chock.foot.x for chock in detail.chocks if chock.kind == "setting chock"] == pytest.approx([500])
    assert detail.origin == PlanOrigin("sharp corner V1", Point(0.0, 0.0))
    assert min(vertex.x for vertex in detail.curves.glass.vertices) > 10


@pytest.mark.parametrize(
    ("outline", "name"),
    [
        ("{ rectangle = [900, 450] }", "corner V1"),
        ("{ rectangle = [900, 450], radius = 50 }", "sharp corner V1"),
        ("{ circle = 420 }", "lowest point of the glass"),
        (
            "{ polygon = [[350, 0], [1100, 0], [1100, 800], [0, 800], [0, 300], [350, 300]] }",
            "point (0, 0) of the outline as typed",
        ),
        ("{ path = [[9000, 50], [9400, 50, 1], [9400, 450], [9000, 450, 1]] }", "first point of the outline as typed"),
    ],
)
def test_the_origin_has_a_name(outline, name):
    job = job_of(text_of(outline))
    origin = build_detail(job, job.panes[0]).origin
    assert (origin.name, tuple(origin.at)) == (name, (0.0, 0.0))


def test_a_pane_worked_out_from_its_recess_counts_from_what_is_typed():
    """The corner of the recess is typed at (0, 0) and can be touched; the glass stands 6 inside it."""
    recess = "recess = { outline = { polygon = [[0, 0], [900, 0], [900, 500], [0, 520]] } }\njoint = { width = 6 }"
    text = f'[[pane]]\ncode = "P1"\nframe = "grp"\nglass = {{ plies = [8] }}\n{recess}\n'
    job = job_of(text)
    detail = build_detail(job, job.panes[0])
    assert detail.origin.name == "corner V1 of the recess"
    assert min(vertex.x for vertex in detail.curves.glass.vertices) == pytest.approx(6)


def test_a_place_off_the_glass_is_refused_in_the_numbers_of_the_file():
    outline = "{ polygon = [[-200, 0], [700, 0], [700, 400], [-200, 400]] }"
    with pytest.raises(JobError, match="between -200 and 700 mm"):
        pane_of(outline, "chocks = { at = [-201] }")
    assert pane_of(outline, "chocks = { at = [-150, 650] }").chocks.at == (-150, 650)
    patch = "loads = {{ patch = {{ force = 1000, x = {}, y = 200, width = 100 }} }}"
    assert pane_of(outline, patch.format(-150)).loads.patch.x == -150
    with pytest.raises(JobError, match="within -200 and 700 mm"):
        pane_of(outline, patch.format(-151))


def test_a_polygon_keeps_its_shape_when_it_is_moved():
    pane = pane_of("{ polygon = [[500, -200], [1800, -80], [1620, 670], [560, 620]], radius = 40 }")
    assert pane.origin == (500, -200)
    sharp = shapely.Polygon([(500, -200), (1800, -80), (1620, 670), (560, 620)])
    rounded = sharp.buffer(-40, join_style="mitre").buffer(40, quad_segs=2000)
    moved = translate(rounded, -500, 200)
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
    assert region(pane.frit_outline).bounds == pytest.approx((-313, 37, 313, 363), abs=0.02)
    assert pane_of("{ circle = 300 }").frit_outline is None


def test_the_order_of_travel_makes_no_difference():
    one = pane_of("{ polygon = [[0, 0], [400, 0], [400, 300], [0, 300]], radius = [1, 2, 3, 4] }").glass_outline
    other = pane_of("{ polygon = [[0, 0], [0, 300], [400, 300], [400, 0]], radius = [1, 4, 3, 2] }").glass_outline
    assert region(one).symmetric_difference(region(other)).area < 1e-6


def test_an_outline_is_made_once():
    pane = pane_of("{ ellipse = [700, 400] }")
    assert pane.glass_outline is pane.glass_outline
    assert outline_of(pane.outline) == pane.glass_outline
