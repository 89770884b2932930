"""Parallel curves: Steiner's formula, cadquery's kernel and shapely's buffer, over outlines of every kind."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from kernel_curves import by_kernel

from geometry.outline import (
    Arc,
    Line,
    Outline,
    OutlineError,
    Point,
    area,
    bounding_box,
    circle,
    distance_between,
    distance_from,
    ellipse,
    mirrored,
    moved,
    offset,
    path,
    perimeter,
    polygon,
    rectangle,
    segments,
)
from geometry.outline.offset import OffsetError, proven, try_offset
from geometry.outline.parallel import in_closed_form
from geometry.outline.regions import to_polygon

MANY = settings(max_examples=40, deadline=None, derandomize=True)


@st.composite
def outlines(draw: st.DrawFn) -> Outline:
    """A rectangle, circle, ellipse or star-shaped polygon with some of its corners rounded."""
    kind = draw(st.sampled_from(["rectangle", "circle", "ellipse", "polygon", "polygon"]))
    if kind == "rectangle":
        width, height = draw(st.floats(100, 1500)), draw(st.floats(100, 1500))
        return rectangle(width, height, radius=draw(st.sampled_from([0.0, 0.1, 0.3, 0.5])) * min(width, height))
    if kind == "circle":
        return circle(draw(st.floats(100, 1500)))
    if kind == "ellipse":
        width = draw(st.floats(200, 1500))
        return ellipse(width, width * draw(st.floats(0.4, 0.95)))
    count = draw(st.integers(3, 7))
    points = []
    for index in range(count):
        turn = 2 * math.pi * (index + draw(st.floats(-0.3, 0.3))) / count
        reach = draw(st.floats(250, 800))
        points.append((reach * math.cos(turn), reach * math.sin(turn)))
    radii = [draw(st.sampled_from([0.0, 5.0, 25.0, 60.0])) for _ in points]
    try:
        return polygon(points, radii=radii)
    except OutlineError:
        return polygon(points)


distances = st.one_of(st.floats(-120, -1), st.floats(1, 120))


@MANY
@given(outlines(), distances)
def test_parallel_curve_keeps_its_distance_and_leaves_nothing_out(outline: Outline, distance: float) -> None:
    buffer = to_polygon(outline, sagitta=1e-3).buffer(distance, quad_segs=256)
    found = try_offset(outline, distance)
    if found is None:
        # what is refused does not exist: shapely finds nothing, several parts, or a ring
        assert buffer.area < 2.0 or buffer.geom_type == "MultiPolygon" or buffer.interiors
        return
    assert distance_between(outline, found) == pytest.approx(abs(distance), abs=2e-6)
    for part in segments(found):
        for k in range(5):
            assert distance_from(outline, part.point_at(k / 5)) == pytest.approx(abs(distance), abs=3e-6)
    # shapely smooths by up to a hundredth of the distance before it grows or shrinks
    assert area(found) == pytest.approx(buffer.area, abs=0.012 * abs(distance) * perimeter(outline))
    assert len(getattr(buffer, "geoms", [buffer])) == 1


@MANY
@given(outlines(), distances)
def test_closed_form_and_kernel_give_the_same_curve(outline: Outline, distance: float) -> None:
    near, far = in_closed_form(outline, distance), by_kernel(outline, distance)
    assume(near is not None and proven(outline, near.outline, distance, formula_area=near.formula_area))
    assert near is not None
    assert far is not None
    assert area(far) == pytest.approx(area(near.outline), abs=1e-6 * perimeter(far))
    assert perimeter(far) == pytest.approx(perimeter(near.outline), abs=1e-5)
    assert len(far.vertices) == len(near.outline.vertices)
    for vertex in far.vertices:
        assert min(math.dist(vertex[:2], other[:2]) for other in near.outline.vertices) < 1e-5
    if near.formula_area is not None:
        assert area(far) == pytest.approx(near.formula_area, abs=1e-6 * perimeter(far))


@MANY
@given(outlines(), st.floats(1, 120))
def test_convex_outlines_grow_by_steiners_formula(outline: Outline, distance: float) -> None:
    """A + P d + pi d2 and P + 2 pi d: J. Steiner 1840, for every convex outline."""
    assume(all(part.curvature >= 0 for part in segments(outline)))
    chords = to_polygon(outline, sagitta=0.01)
    assume(chords.convex_hull.area < chords.area * (1 + 1e-9))
    grown = offset(outline, distance)
    assert area(grown) == pytest.approx(area(outline) + perimeter(outline) * distance + math.pi * distance**2, rel=1e-9)
    assert perimeter(grown) == pytest.approx(perimeter(outline) + 2 * math.pi * distance, rel=1e-9)
    # and back again: growing a convex outline loses nothing
    assert area(offset(grown, -distance)) == pytest.approx(area(outline), rel=1e-8)


@MANY
@given(st.floats(100, 2000), st.floats(100, 2000), st.floats(0, 0.5), st.floats(0.01, 0.49))
def test_rectangles_shrink_by_formula(width: float, height: float, share: float, depth: float) -> None:
    radius, distance = share * min(width, height), depth * min(width, height)
    left = max(radius - distance, 0.0)
    wide, high = width - 2 * distance, height - 2 * distance
    found = offset(rectangle(width, height, radius=radius), -distance)
    assert area(found) == pytest.approx(wide * high - (4 - math.pi) * left**2, rel=1e-9)
    assert bounding_box(found) == pytest.approx((distance, distance, width - distance, height - distance), abs=1e-6)


def test_rounded_rectangle_moved_out_by_hand() -> None:
    """600 x 400, radius 80, moved out 8: w h - (4 - pi) r2 with w = 616, h = 416, r = 88."""
    found = offset(rectangle(600, 400, radius=80), 8)
    assert area(found) == pytest.approx(616 * 416 - (4 - math.pi) * 88**2, rel=1e-12)
    assert [part.radius for part in segments(found) if isinstance(part, Arc)] == pytest.approx([88.0] * 4)
    assert {type(part) for part in segments(found)} == {Arc, Line}


@pytest.mark.parametrize(
    ("distance", "arcs"),
    [(-79.999, 4), (-80.0, 0), (-90.0, 0)],
)
def test_roundings_that_are_used_up_leave_sharp_corners(distance: float, arcs: int) -> None:
    found = offset(rectangle(600, 400, radius=80), distance)
    assert sum(isinstance(part, Arc) for part in segments(found)) == arcs
    left = max(0.0, 80 + distance)
    assert area(found) == pytest.approx((600 + 2 * distance) * (400 + 2 * distance) - (4 - math.pi) * left**2, rel=1e-9)


def test_sharp_corners_get_arcs_outwards() -> None:
    found = offset(rectangle(600, 400), 30)
    assert found.vertices == offset(rectangle(600, 400), 30).vertices
    assert [type(part) for part in segments(found)] == [Arc, Line] * 4
    wanted = moved(rectangle(660, 460, radius=30), -30, -30)
    assert [tuple(v) for v in found.vertices] == [pytest.approx(tuple(v), abs=1e-12) for v in wanted.vertices]


def test_ellipse_past_its_least_radius_of_curvature() -> None:
    """Least radius of an ellipse b2 / a: 200 x 80 has 16 mm; beyond it the ends come to a point, on the axis, at the distance."""
    outline = ellipse(200, 80, tolerance=0.001)
    for distance in (-15.5, -16.5, -20.0, -30.0):
        found = offset(outline, distance)
        assert all(isinstance(part, Arc) for part in segments(found))
        assert distance_between(outline, found) == pytest.approx(-distance, abs=1e-6)
        a, b, reach = 100.0, 40.0, -distance
        if reach > 16.01:
            # the two feet from a place x on the long axis lie at distance d where x = sqrt((a2 - b2) (1 - d2 / b2))
            tip = math.sqrt((a * a - b * b) * (1 - reach * reach / (b * b)))
            assert bounding_box(found).right - 100.0 == pytest.approx(tip, abs=0.05)


def test_concave_arcs_shrink_outwards_and_grow_inwards() -> None:
    bite = path([(0, 0), (300, 0), (300, 200, 0), (200, 200, -1), (100, 200), (0, 200)])
    inwards = offset(bite, -20)
    assert sorted(round(part.radius, 6) for part in segments(inwards) if isinstance(part, Arc)) == [70.0]
    outwards = offset(bite, 20)
    assert 30.0 in [pytest.approx(part.radius) for part in segments(outwards) if isinstance(part, Arc)]
    assert distance_between(bite, outwards) == pytest.approx(20, abs=1e-6)


def test_begins_at_what_belongs_to_the_first_vertex() -> None:
    for outline in (rectangle(600, 400), rectangle(600, 400, radius=30), moved(rectangle(600, 400, radius=90), 50, 70)):
        for distance in (-60.0, -20.0, 15.0):
            x, y = offset(outline, distance).vertices[0][:2]
            box = bounding_box(outline)
            assert abs(x - box.left) < 100, (distance, x)
            assert abs(y - box.bottom) < 100


def test_neighbours_on_one_line_or_circle_become_one() -> None:
    eighth = math.tan(math.pi / 16)
    middle = 20 - 20 * math.cos(math.pi / 4)
    split = path([(20, 0), (60, 0), (100, 0), (100, 80), (0, 80), (0, 20, eighth), (middle, middle, eighth)])
    found = offset(split, -5)
    assert len(found.vertices) == 5
    assert offset(circle(100), -5) == moved(circle(90), 5, 5)


@MANY
@given(outlines(), st.floats(-60, 60).filter(lambda d: abs(d) > 0.5))
def test_other_hand_has_the_mirrored_parallel_curve(outline: Outline, distance: float) -> None:
    found, other = try_offset(outline, distance), try_offset(mirrored(outline), distance)
    assert (found is None) == (other is None)
    if found is not None and other is not None:
        assert area(other) == pytest.approx(area(found), rel=1e-9)
        assert perimeter(other) == pytest.approx(perimeter(found), rel=1e-9)


def test_dead_end_of_exactly_twice_the_distance_is_dropped() -> None:
    """A bay 40 mm wide shrinks to a line at 20: the kernel returns it as a wire without area; the pane itself stays."""
    pane = polygon([(0, 0), (400, 0), (400, 180), (600, 180), (600, 220), (400, 220), (400, 400), (0, 400)])
    found = offset(pane, -20)
    # the square of 360 and, in the mouth of the bay, the piece between two quarter circles about its corners
    assert area(found) == pytest.approx(360 * 360 + (20 * 40 - 2 * math.pi * 20**2 / 4), rel=1e-9)


def test_proof_refuses_curves_that_are_nearly_right() -> None:
    outline = rectangle(600, 400, radius=80)
    good = offset(outline, -20)
    assert proven(outline, good, -20, formula_area=None)
    assert not proven(outline, good, -20.00001, formula_area=None)
    assert not proven(outline, good, 20, formula_area=None)
    assert not proven(outline, moved(good, 1e-5, 0), -20, formula_area=None)
    assert not proven(outline, good, -20, formula_area=area(good) + 0.1)
    sharp = path([v[:2] for v in good.vertices])  # chords instead of arcs
    assert not proven(outline, sharp, -20, formula_area=None)
    # one of two parts
    neck = polygon(
        [
            (0, 0),
            (300, 0),
            (300, 90),
            (400, 90),
            (400, 0),
            (700, 0),
            (700, 200),
            (400, 200),
            (400, 110),
            (300, 110),
            (300, 200),
            (0, 200),
        ]
    )
    half = moved(rectangle(260, 160), 20, 20)
    assert not proven(neck, half, -20, formula_area=None)
    assert try_offset(neck, -20) is None


def test_plain_panes_do_not_wait_for_the_kernel() -> None:
    """Importing cadquery takes seconds; rectangles, circles, ellipses and roundings that last need none of it, nor shapely."""
    code = (
        "import sys; from geometry.outline import *;"
        "offset(rectangle(1200, 600, radius=60), -20); offset(rectangle(1200, 600), 20); offset(circle(420), -50);"
        "offset(ellipse(700, 400), -40); offset_rounded(rectangle(1200, 600), -20, radius=25);"
        "print(sorted({'cadquery', 'shapely', 'scipy', 'numpy'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_a_distance_must_be_a_finite_number() -> None:
    for bad in (float("nan"), float("inf"), "12", None):
        with pytest.raises(OutlineError, match=r"the distance of the bead is .*; a finite number is needed"):
            offset(rectangle(100, 50), bad, what="the bead")  # type: ignore[arg-type]
    assert issubclass(OffsetError, OutlineError)


def test_nearest_places_of_a_point_far_away() -> None:
    assert distance_from(offset(rectangle(100, 50), 10), Point(50, -60)) == pytest.approx(50)
