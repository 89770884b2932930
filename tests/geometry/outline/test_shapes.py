"""Outlines by their sizes: closed formulas, and every refusal in its words."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.outline import (
    Arc,
    OutlineError,
    area,
    bounding_box,
    circle,
    ellipse,
    ellipse_deviation,
    path,
    perimeter,
    polygon,
    rectangle,
    segments,
)
from geometry.outline.soundness import turn_at

MANY = settings(max_examples=40, deadline=None, derandomize=True)


@MANY
@given(st.floats(10, 3000), st.floats(10, 3000), st.just(0.0) | st.floats(1e-3, 0.5))
def test_rectangle_has_the_area_and_perimeter_of_the_formula(width: float, height: float, share: float) -> None:
    radius = share * min(width, height)
    outline = rectangle(width, height, radius=radius)
    assert area(outline) == pytest.approx(width * height - (4 - math.pi) * radius**2, rel=1e-12)
    assert perimeter(outline) == pytest.approx(2 * (width + height) - (8 - 2 * math.pi) * radius, rel=1e-12)
    assert bounding_box(outline) == pytest.approx((0, 0, width, height), abs=1e-9)


@MANY
@given(st.integers(3, 12), st.floats(50, 2000), st.floats(0, 0.99))
def test_regular_polygon_with_radii_by_formula(sides: int, circumradius: float, share: float) -> None:
    apothem = circumradius * math.cos(math.pi / sides)
    radius = share * apothem
    points = [
        (circumradius * math.cos(2 * math.pi * i / sides), circumradius * math.sin(2 * math.pi * i / sides)) for i in range(sides)
    ]
    outline = polygon(points, radii=radius)
    # each corner loses the kite between its tangents less the sector: r2 (tan(turn / 2) - turn / 2)
    half = math.pi / sides
    whole = sides * circumradius**2 * math.sin(2 * half) / 2
    assert area(outline) == pytest.approx(whole - sides * radius**2 * (math.tan(half) - half), rel=1e-9)
    assert perimeter(outline) == pytest.approx(
        2 * sides * (circumradius * math.sin(half) - radius * (math.tan(half) - half)), rel=1e-9
    )


@MANY
@given(st.floats(100, 2000), st.floats(0.15, 0.99))
def test_ellipse_keeps_its_tolerance_and_has_no_kinks(width: float, ratio: float) -> None:
    outline = ellipse(width, width * ratio)
    assert ellipse_deviation(outline, width, width * ratio, samples=40) <= 0.01
    parts = segments(outline)
    assert all(isinstance(part, Arc) and part.bulge > 0 for part in parts)
    assert max(abs(turn_at(parts[i - 1], part)) for i, part in enumerate(parts)) < 1e-6
    # as far from the formula's area as the tolerance allows along the whole outline
    assert abs(area(outline) - math.pi * width * width * ratio / 4) <= 0.01 * perimeter(outline)


def test_ellipse_deviation_agrees_with_a_dense_search_for_the_nearest_place() -> None:
    """The distance to the true ellipse by brute force: the least of many distances, refined about the least."""
    outline = ellipse(700, 400, tolerance=0.05)
    worst = 0.0
    for part in segments(outline):
        for k in range(8):
            spot = part.point_at(k / 8)
            x, y = spot.x - 350, spot.y - 200
            low, high = 0.0, 2 * math.pi
            for _ in range(12):
                turns = [low + (high - low) * i / 40 for i in range(41)]
                best = min(turns, key=lambda t: math.hypot(350 * math.cos(t) - x, 200 * math.sin(t) - y))
                low, high = best - (high - low) / 40, best + (high - low) / 40
            worst = max(worst, math.hypot(350 * math.cos(best) - x, 200 * math.sin(best) - y))
    assert worst <= 0.05
    assert ellipse_deviation(outline, 700, 400, samples=8) == pytest.approx(worst, abs=1e-6)


def test_radius_stays_with_its_point_when_the_points_run_clockwise() -> None:
    counter = polygon([(0, 0), (400, 0), (400, 300), (0, 300)], radii=[10, 20, 30, 40])
    clockwise = polygon([(0, 0), (0, 300), (400, 300), (400, 0)], radii=[10, 40, 30, 20])
    assert clockwise == counter


def test_radius_that_just_fits_leaves_no_side_of_no_length() -> None:
    slot = rectangle(1000, 400, radius=200)
    assert all(part.length > 1 for part in segments(slot))
    assert perimeter(slot) == pytest.approx(2 * 600 + 400 * math.pi, rel=1e-12)
    assert area(rectangle(400, 400, radius=200)) == pytest.approx(area(circle(400)), rel=1e-12)


def test_path_takes_bulges_and_turns_a_clockwise_loop_round() -> None:
    half_disc = path([(0, 0), (100, 0, 1)])
    assert area(half_disc) == pytest.approx(math.pi * 50**2 / 2, rel=1e-12)
    assert area(path([(100, 0), (0, 0, -1)])) == pytest.approx(area(half_disc), rel=1e-12)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: rectangle(0, 10), "the width of the rectangle is 0 mm; it must be over 0"),
        (lambda: rectangle(10, -3), "the height of the rectangle is -3 mm"),
        (lambda: rectangle(float("nan"), 10), "the width of the rectangle is nan; a finite number is needed"),
        (lambda: rectangle(10, float("inf")), "the height of the rectangle is inf; a finite number"),
        (lambda: rectangle(2e6, 10), "at most 1000000 mm"),
        (lambda: rectangle(True, 10), "the width of the rectangle is True; a finite number is needed"),
        (lambda: rectangle("100", 10), "'100'; a finite number is needed"),
        (lambda: rectangle(None, 10), "None; a finite number is needed"),
        (lambda: rectangle(10**400, 10), "the width of the rectangle is a number too great to work with"),
        (lambda: rectangle(100, 50, radius=26), r"26 mm does not fit at corner .* the greatest that fits is 25 mm"),
        (lambda: rectangle(100, 50, radius=-1), "the radius of corner 1 is -1 mm; it must be 0 or more"),
        (lambda: circle(0), "the diameter of the circle is 0 mm"),
        (lambda: ellipse(100, 0), "the height of the ellipse is 0 mm"),
        (lambda: ellipse(100, 50, tolerance=0), "the tolerance of the ellipse is 0 mm"),
        (lambda: ellipse(5000, 2), "at most 1000 times the shorter one"),
        (lambda: ellipse(5000, 400, tolerance=1e-9), "too fine for an ellipse of 5000 by 400 mm"),
        (lambda: polygon([(0, 0), (1, 1)]), "the polygon has 2 points; at least three are needed"),
        (lambda: polygon([(0, 0), (1, 0, 5), (1, 1)]), r"point 2 of the polygon is \(1, 0, 5\); it must be \[x, y\]"),
        (lambda: polygon([(0, 0), "ab", (1, 1)]), r"point 2 of the polygon is 'ab'"),
        (lambda: polygon([(0, 0), (9, 0), (9, 9)], radii=[1, 2]), "2 radii are given for 3 corners"),
        (lambda: polygon([(0, 0), (9, 0), (9, 9)], radii=[1, -2, 0]), "the radius of corner 2 is -2 mm"),
        (lambda: polygon([(0, 0), (0, 0), (9, 9)]), r"points 1 and 2 are the same place \(0, 0\)"),
        (lambda: polygon([(0, 0), (10, 10), (10, 0), (0, 10)]), r"crosses itself at \(5, 5\): side 1 and side 3"),
        (lambda: polygon([(0, 0), (100, 0), (50, 0)]), "runs straight back on itself at point 1"),
        (lambda: polygon([(0, 0), (float("nan"), 0), (50, 9)]), "x of point 2 is nan"),
        (lambda: polygon([(0, 0), (3e6, 0), (50, 9)]), "x of point 2 is 3e.06 mm; at most 1000000 mm"),
        (
            lambda: polygon([(0, 0), (100, 0), (100, 100), (0, 100)], radii=[70, 40, 0, 0]),
            r"70 mm does not fit at corner 1 \(0, 0\).*beside its neighbours' radii the greatest that fits is 60 mm",
        ),
        (
            lambda: polygon([(0, 0), (100, 0), (100, 100), (0, 100)], radii=[120, 110, 0, 0]),
            "its neighbours' radii leave no room; alone the greatest that fits is 100 mm",
        ),
        (lambda: path([(0, 0), (5,), (9, 9)]), r"point 2 of the path is \(5,\); it must be \[x, y\] or \[x, y, bulge\]"),
        (lambda: path([]), "the outline has 0 points"),
        (lambda: path([(0, 0, 1)]), "the outline has 1 point;"),
        (lambda: path([(0, 0), (10, 0)]), "at least three are needed, or two with an arc"),
        (lambda: path([(0, 0), (10, 0, 200), (5, 9)]), "the bulge of point 2 is 200; it must lie between -100 and 100"),
        (lambda: path([(0, 0), (10, 0, float("nan")), (5, 9)]), "the bulge of point 2 is nan"),
        (lambda: path([(0, 0), (100, 0), (80, 50, -1.5), (20, 50)]), r"crosses itself at"),
        (lambda: path([(0, 0), (100, 0), (50, 0), (50, 50)]), "runs straight back on itself at point 2"),
    ],
)
def test_bad_sizes_are_refused_in_words(make: object, words: str) -> None:
    with pytest.raises(OutlineError, match=words):
        make()  # type: ignore[operator]
