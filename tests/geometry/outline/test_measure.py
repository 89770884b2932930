"""Area, centroid, second moments and box in closed form, and against shapely (a general-purpose library)."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.outline import (
    Outline,
    Point,
    Vertex,
    area,
    bounding_box,
    centroid,
    circle,
    corners,
    ellipse,
    mirrored,
    moved,
    path,
    perimeter,
    point_in,
    polygon,
    rectangle,
    second_moments,
    station_at,
    straight_runs,
)
from geometry.outline.regions import to_polygon

MANY = settings(max_examples=40, deadline=None, derandomize=True)

HALF_DISC = path([(0, 0), (100, 0, 1)])
RE_ENTRANT = polygon([(0, 0), (900, 0), (900, 600), (500, 600), (450, 300), (0, 500)], radii=[30, 0, 60, 10, 45, 20])
BITE = path([(0, 0), (300, 0), (300, 200, 0), (200, 200, -0.9), (100, 200), (0, 200)])
SAMPLES = [rectangle(1200, 600, radius=60), circle(420), ellipse(700, 400), HALF_DISC, RE_ENTRANT, BITE]


def test_half_disc_by_handbook_formulas() -> None:
    """Half disc of radius r: centroid at 4 r / (3 pi), second moment about its own axis r4 (pi / 8 - 8 / (9 pi))."""
    r = 50.0
    assert area(HALF_DISC) == pytest.approx(math.pi * r**2 / 2, rel=1e-12)
    # the arc leaves (100, 0) turning left: the half disc lies above the diameter
    assert centroid(HALF_DISC) == pytest.approx((50.0, 4 * r / (3 * math.pi)), abs=1e-9)
    moments = second_moments(HALF_DISC)
    assert moments.about_x == pytest.approx(r**4 * (math.pi / 8 - 8 / (9 * math.pi)), rel=1e-9)
    assert moments.about_y == pytest.approx(math.pi * r**4 / 8, rel=1e-9)


def test_circle_and_slot_by_handbook_formulas() -> None:
    assert second_moments(circle(420)).about_x == pytest.approx(math.pi * 210**4 / 4, rel=1e-12)
    slot = rectangle(1000, 400, radius=200)
    # rectangle b h3 / 12 and two half discs that share the axis make one disc pi r4 / 4
    assert second_moments(slot).about_x == pytest.approx(600 * 400**3 / 12 + math.pi * 200**4 / 4, rel=1e-12)


@pytest.mark.parametrize("outline", SAMPLES)
def test_measures_agree_with_shapely_on_fine_chords(outline: Outline) -> None:
    chords = to_polygon(outline, sagitta=1e-5)
    assert area(outline) == pytest.approx(chords.area, rel=1e-6)
    assert perimeter(outline) == pytest.approx(chords.length, rel=1e-6)
    assert centroid(outline) == pytest.approx((chords.centroid.x, chords.centroid.y), abs=1e-3)
    assert bounding_box(outline) == pytest.approx(chords.bounds, abs=2e-5)


@MANY
@given(st.sampled_from(range(len(SAMPLES))), st.floats(0, 2 * math.pi), st.floats(-5000, 5000), st.floats(-5000, 5000))
def test_measures_do_not_change_when_the_outline_is_turned_and_moved(which: int, turn: float, dx: float, dy: float) -> None:
    outline = SAMPLES[which]
    cosine, sine = math.cos(turn), math.sin(turn)
    turned = Outline(tuple(Vertex(cosine * v.x - sine * v.y, sine * v.x + cosine * v.y, v.bulge) for v in outline.vertices))
    away = moved(turned, dx, dy)
    assert area(away) == pytest.approx(area(outline), rel=1e-10)
    assert perimeter(away) == pytest.approx(perimeter(outline), rel=1e-10)
    x, y = centroid(outline)
    assert centroid(away) == pytest.approx((cosine * x - sine * y + dx, sine * x + cosine * y + dy), abs=1e-6)
    one, other = second_moments(outline), second_moments(away)
    assert other.about_x + other.about_y == pytest.approx(one.about_x + one.about_y, rel=1e-9)
    # the box holds the outline and every side of it touches
    box, chords = bounding_box(away), to_polygon(away, sagitta=1e-4)
    assert box == pytest.approx(chords.bounds, abs=2e-4)
    assert shapely.box(*box).buffer(1e-6).contains(chords)


@pytest.mark.parametrize("outline", SAMPLES)
def test_other_hand_is_the_mirror_image_and_twice_is_the_same_pane(outline: Outline) -> None:
    other = mirrored(outline)
    box = bounding_box(outline)
    assert area(other) == pytest.approx(area(outline), rel=1e-12)
    assert bounding_box(other) == pytest.approx(box, abs=1e-9)
    for k in range(40):
        spot = station_at(outline, perimeter(outline) * k / 40)
        image = Point(box.left + box.right - spot.point.x, spot.point.y)
        inside = Point(image.x + spot.outward.x * 0.5, image.y - spot.outward.y * 0.5)
        assert point_in(other, inside) == point_in(
            outline, Point(spot.point.x - 0.5 * spot.outward.x, spot.point.y - 0.5 * spot.outward.y)
        )
    again = mirrored(other).vertices  # the same loop; where it begins may differ on what is no polygon
    first = min(range(len(again)), key=lambda i: math.dist(again[i][:2], outline.vertices[0][:2]))
    for one, two in zip(again[first:] + again[:first], outline.vertices, strict=True):
        assert tuple(one) == pytest.approx(tuple(two), abs=1e-9)


def test_other_hand_keeps_the_sill_between_corners_1_and_2() -> None:
    raked = polygon([(0, 0), (1300, 0), (1120, 870), (60, 820)], radii=40)
    other = mirrored(raked)
    assert straight_runs(other)[0].direction == pytest.approx((1, 0), abs=1e-12)
    across = bounding_box(raked).left + bounding_box(raked).right
    assert corners(other)[0].theoretical == pytest.approx((across - 1300, 0), abs=1e-6)
    assert corners(other)[1].theoretical == pytest.approx((across, 0), abs=1e-6)
    again = mirrored(other).vertices
    assert [tuple(v) for v in again] == [pytest.approx(tuple(v), abs=1e-9) for v in raked.vertices]
