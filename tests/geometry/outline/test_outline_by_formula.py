"""Outlines and parallel curves against closed formulas, and independently against shapely (a general-purpose library)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kernel_curves import by_kernel

from geometry.outline import (
    OffsetError,
    OutlineError,
    Point,
    area,
    centroid,
    circle,
    corners,
    ellipse,
    mirrored,
    nearest_station,
    offset,
    offset_rounded,
    perimeter,
    polygon,
    ray_length,
    rectangle,
    station_at,
)
from geometry.outline.parallel import in_closed_form
from geometry.outline.regions import largest_inscribed_circle, to_polygon
from geometry.outline.stations import places_along

PLAIN = settings(max_examples=30, deadline=None, derandomize=True)


@PLAIN
@given(st.floats(50, 3000), st.floats(50, 3000), st.floats(0, 0.49))
def test_rectangle_with_radius_by_formula(width: float, height: float, share: float) -> None:
    radius = share * min(width, height)
    outline = rectangle(width, height, radius=radius)
    assert area(outline) == pytest.approx(width * height - (4 - math.pi) * radius**2, rel=1e-9)
    assert perimeter(outline) == pytest.approx(2 * (width + height) - (8 - 2 * math.pi) * radius, rel=1e-9)
    assert centroid(outline) == pytest.approx((width / 2, height / 2), abs=1e-6)


@PLAIN
@given(st.floats(200, 2000), st.floats(200, 2000), st.floats(0, 0.3), st.floats(1, 60))
def test_parallel_curves_of_rectangles(width: float, height: float, share: float, distance: float) -> None:
    radius = share * min(width, height)
    outline = rectangle(width, height, radius=radius)
    outside = offset(outline, distance)
    # Steiner's formula for convex outlines.
    assert area(outside) == pytest.approx(area(outline) + perimeter(outline) * distance + math.pi * distance**2, rel=1e-9)
    inside = offset(outline, -distance)
    left = max(radius - distance, 0.0)
    assert area(inside) == pytest.approx((width - 2 * distance) * (height - 2 * distance) - (4 - math.pi) * left**2, rel=1e-9)


@PLAIN
@given(st.floats(20, 200), st.floats(20, 200), st.floats(5, 15), st.sampled_from([-12.0, -5.0, 7.0]))
def test_closed_form_and_cadquery_give_the_same_curve(a: float, b: float, radius: float, distance: float) -> None:
    outline = polygon([(0, 0), (300 + a, 0), (280 + a, 250 + b), (10, 200 + b)], radii=radius)
    own, kernel = in_closed_form(outline, distance), by_kernel(outline, distance)
    assert own is not None
    assert kernel is not None
    assert area(own.outline) == pytest.approx(area(kernel), rel=1e-9)
    assert perimeter(own.outline) == pytest.approx(perimeter(kernel), rel=1e-9)


@PLAIN
@given(st.floats(300, 1500), st.floats(200, 1000), st.floats(5, 60))
def test_every_place_of_a_parallel_curve_lies_at_its_distance(width: float, height: float, distance: float) -> None:
    outline = polygon([(0, 0), (width, 0), (width, height), (width * 0.3, height * 0.9)], radii=10)
    if largest_inscribed_circle(outline)[1] < distance + 5:
        return
    inside = offset(outline, -distance)
    for spot in places_along(inside, spacing=40):
        assert math.dist(nearest_station(outline, spot).point, spot) == pytest.approx(distance, abs=1e-6)
    by_shapely = to_polygon(outline, sagitta=0.0005).buffer(-distance, quad_segs=256)
    assert area(inside) == pytest.approx(by_shapely.area, rel=2e-4)


def test_ellipse_within_a_hundredth_and_by_series() -> None:
    outline = ellipse(700, 400)
    assert area(outline) == pytest.approx(math.pi * 350 * 200, rel=1e-4)
    worst = 0.0
    for place in places_along(outline, spacing=2.0):
        # Gradient distance of the implicit ellipse: exact to second order near the curve.
        x, y = place.x - 350, place.y - 200
        value = (x / 350) ** 2 + (y / 200) ** 2 - 1
        slope = math.hypot(2 * x / 350**2, 2 * y / 200**2)
        worst = max(worst, abs(value) / slope)
    assert worst <= 0.0101
    a, b = 350.0, 200.0
    ramanujan = math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))
    assert perimeter(outline) == pytest.approx(ramanujan, rel=1e-4)


def test_corner_on_the_bisector_by_formula() -> None:
    """Distance along the bisector s/sin(angle/2) + r (1/sin(angle/2) - 1), derived for a rounded parallel curve."""
    outline = polygon([(0, 0), (640, 0), (640, 215)], radii=[8, 15, 15])
    sharp = corners(outline)[0]
    half = math.radians(sharp.interior_angle) / 2
    assert sharp.interior_angle == pytest.approx(math.degrees(math.atan2(215, 640)))
    bead = offset_rounded(outline, -12, radius=20)
    reach = ray_length(bead, sharp.theoretical, sharp.bisector)
    assert reach == pytest.approx(12 / math.sin(half) + 20 * (1 / math.sin(half) - 1), abs=1e-6)


def test_with_cut_out_bead_length_by_formula() -> None:
    """Length of a parallel curve with rounded corners: P0 - 2 s sum tan(turn/2) - sum r (2 tan|turn|/2 - |turn|)."""
    outline = polygon([(350, 0), (1100, 0), (1100, 800), (0, 800), (0, 300), (350, 300)], radii=[30, 30, 30, 30, 30, 8])
    s, corner = 14.5, 20.0
    sharp = 2 * (1100 + 800)
    quarter = math.pi / 2
    formula = sharp - 2 * s * (5 - 1) * math.tan(quarter / 2) - 5 * corner * (2 - quarter) - (8 + s) * (2 - quarter)
    assert perimeter(offset_rounded(outline, -s, radius=corner)) == pytest.approx(formula, abs=1e-6)


def test_mirrored_twice_is_the_same() -> None:
    outline = polygon([(0, 0), (1300, 120), (1120, 870), (60, 820)], radii=40)
    again = mirrored(mirrored(outline))
    assert area(again) == pytest.approx(area(outline))
    assert centroid(again) == pytest.approx(centroid(outline))


@pytest.mark.parametrize(
    ("outline", "distance", "sentence"),
    [
        (rectangle(600, 400, radius=80), -200.0, "only 400 mm wide"),
        (rectangle(600, 400), -250.0, "only 400 mm wide"),
        (circle(100), -50.0, "only 100 mm wide"),
        (circle(100), -60.0, "only 100 mm wide"),
        (polygon([(0, 0), (300, 0), (300, 200), (180, 200), (180, 40), (120, 40), (120, 200), (0, 200)]), -25.0, "two parts"),
    ],
)
def test_what_cannot_be_offset_is_told_in_words(outline: object, distance: float, sentence: str) -> None:
    with pytest.raises(OffsetError, match=sentence) as told:
        offset(outline, distance, what="the bead")  # type: ignore[arg-type]
    assert str(told.value).startswith("the bead cannot run")


def test_self_crossing_and_bad_numbers_are_refused() -> None:
    with pytest.raises(OutlineError, match="crosses itself at"):
        polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
    with pytest.raises(OutlineError):
        rectangle(float("nan"), 10)
    with pytest.raises(OutlineError):
        rectangle(100, 50, radius=26)


def test_station_and_ray_on_a_circle() -> None:
    outline = circle(420)
    place = station_at(outline, math.pi * 210 / 2)
    assert place.outward == pytest.approx((1.0, 0.0), abs=1e-9)
    assert ray_length(circle(420), Point(210, 210), Point(0.6, 0.8)) == pytest.approx(210.0)
