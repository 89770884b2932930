"""Corners rounded to a least radius: closed forms, and the definition itself (every place a disc can reach) by shapely."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.outline import (
    Arc,
    area,
    circle,
    corners,
    ellipse,
    offset,
    offset_rounded,
    path,
    perimeter,
    polygon,
    ray_length,
    rectangle,
    rounded,
    segments,
)
from geometry.outline.regions import to_polygon

MANY = settings(max_examples=40, deadline=None, derandomize=True)
NOTCHED = [(350, 0), (1100, 0), (1100, 800), (0, 800), (0, 300), (350, 300)]


@MANY
@given(st.floats(300, 1500), st.floats(300, 1500), st.floats(0, 40), st.floats(1, 60), st.floats(1, 60))
def test_rectangle_gets_the_radius_that_is_asked_for_or_keeps_a_greater_one(
    width: float, height: float, radius: float, distance: float, least: float
) -> None:
    found = offset_rounded(rectangle(width, height, radius=radius), -distance, radius=least)
    left = max(radius - distance, least)
    wide, high = width - 2 * distance, height - 2 * distance
    assert area(found) == pytest.approx(wide * high - (4 - math.pi) * left**2, rel=1e-9)
    assert [corner.radius for corner in corners(found)] == pytest.approx([left] * 4, abs=1e-6)


@MANY
@given(st.floats(25, 155), st.floats(5, 30), st.floats(10, 30))
def test_middle_of_a_rounded_corner_lies_on_the_bisector_by_formula(angle: float, distance: float, radius: float) -> None:
    """Distance from the sharp corner: s / sin(angle / 2) + r (1 / sin(angle / 2) - 1), by trigonometry."""
    half = math.radians(angle) / 2
    reach = 900.0
    outline = polygon(
        [(0, 0), (reach * math.cos(half), -reach * math.sin(half)), (reach * math.cos(half), reach * math.sin(half))], radii=3
    )
    found = offset_rounded(outline, -distance, radius=radius)
    sharp = corners(outline)[0]
    on_bisector = ray_length(found, sharp.theoretical, sharp.bisector)
    assert on_bisector == pytest.approx(distance / math.sin(half) + radius * (1 / math.sin(half) - 1), abs=1e-5)


def test_with_cut_out_pane_by_formula_with_only_the_sharp_corners_rounded() -> None:
    """Length of a rounded polygon: sharp length less r (2 tan(turn / 2) - turn) at each corner."""
    outline = polygon(NOTCHED, radii=[30, 30, 30, 30, 30, 8])
    found = offset_rounded(outline, -14.5, radius=20)
    quarter = math.pi / 2
    sharp = 2 * (1100 + 800) - 2 * 14.5 * 4
    assert perimeter(found) == pytest.approx(sharp - (5 * 20 + (8 + 14.5)) * (2 - quarter), abs=1e-6)
    assert [corner.radius for corner in corners(found)] == pytest.approx([20, 20, 20, 20, 20, 22.5], abs=1e-6)


def test_re_entrant_corners_get_their_own_radius() -> None:
    outline = polygon(NOTCHED)
    found = rounded(outline, radius=20, concave_radius=35)
    assert [corner.radius for corner in corners(found)] == pytest.approx([20, 20, 20, 20, 20, 35], abs=1e-6)
    assert [corner.convex for corner in corners(found)] == [True] * 5 + [False]
    # a convex corner of a right angle loses (1 - pi / 4) r2, a re-entrant one gains it
    assert area(found) == pytest.approx(area(outline) - (1 - math.pi / 4) * (5 * 20**2 - 35**2), rel=1e-9)
    only = rounded(outline, radius=0, concave_radius=35)
    assert [corner.radius for corner in corners(only)] == pytest.approx([0, 0, 0, 0, 0, 35], abs=1e-6)


@pytest.mark.parametrize(
    ("outline", "radius"),
    [
        (polygon([(0, 0), (640, 0), (640, 215)]), 25),
        (polygon([(0, 0), (900, 0), (900, 600), (500, 600), (450, 300), (0, 500)], radii=[30, 0, 60, 10, 45, 20]), 40),
        (path([(0, 0), (300, 0), (300, 200, 0), (200, 200, -0.9), (100, 200), (0, 200)]), 15),
        (path([(0, 0), (400, 0, 0.4)]), 30),
        (ellipse(700, 400), 150),
    ],
)
def test_rounded_is_every_place_that_a_disc_can_reach(outline: object, radius: float) -> None:
    """The definition, by shapely in thin steps, which smooth less than one great one."""
    found = rounded(outline, radius=radius)  # type: ignore[arg-type]
    region = to_polygon(outline, sagitta=1e-3)  # type: ignore[arg-type]
    for step in range(2 * 20):
        region = region.buffer((-1 if step < 20 else 1) * radius / 20, quad_segs=128)
    assert (
        to_polygon(found).symmetric_difference(region).area < 0.002 * region.length
    )  # two thousandths of a millimetre all round
    # least radius of an ellipse b2 / a = 114.3
    arcs = [part for part in segments(found) if isinstance(part, Arc) and part.bulge > 0]
    assert min(part.radius for part in arcs) >= radius - 1e-5
    assert rounded(found, radius=radius) == found


def test_what_is_round_enough_passes_through() -> None:
    for outline in (circle(420), ellipse(700, 400), rectangle(600, 400, radius=60)):
        assert rounded(outline, radius=60) == outline
        assert offset_rounded(outline, -20, radius=30) == offset(outline, -20)
        assert offset_rounded(outline, 20, radius=70) == offset(outline, 20)
    assert rounded(rectangle(100, 50), radius=0) == rectangle(100, 50)


def test_outwards_a_sharp_corner_has_the_distance_as_its_radius() -> None:
    found = offset_rounded(rectangle(600, 400), 10, radius=25)
    assert [corner.radius for corner in corners(found)] == pytest.approx([25] * 4, abs=1e-6)
    assert offset_rounded(rectangle(600, 400), 30, radius=25) == offset(rectangle(600, 400), 30)
