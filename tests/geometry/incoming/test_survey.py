"""A survey from file to outline, against outlines that are known because the points were taken from them."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.incoming.survey import read_survey
from geometry.incoming.survey_faults import SurveyError
from geometry.outline import (
    Outline,
    area,
    bounding_box,
    circle,
    corners,
    distance_from,
    moved,
    path,
    perimeter,
    polygon,
    rectangle,
    station_at,
)
from geometry.outline.stations import places_along

TIMBER = (  # the surveyed deckhouse window of the samples, invented
    (0, 0), (340, -0.5), (680, 0.5), (1013, 1.0), (1010.6, 240), (1009.8, 480), (1011, 714),
    (670, 711.0), (335, 709.5), (2.5, 711.0), (5.5, 470), (4.0, 235),
)  # fmt: skip
NAMES = ("sill",) * 3 + ("stbd",) * 3 + ("head",) * 3 + ("port",) * 3


def table(points, names=None, *, head=None):
    width = len(points[0])
    first = head or ("x;y;z"[: 2 * width - 1] + (";edge" if names else ""))
    rows = [";".join(f"{value:.9f}" for value in point) + (f";{names[i]}" if names else "") for i, point in enumerate(points)]
    return "\n".join((first, *rows)).encode()


def taken(outline: Outline, count: int, noise: float, *, seed: int = 0, past: float = 0.3):
    """Points at even lengths round an outline, each off it by a scatter."""
    generator = np.random.default_rng(seed)
    whole, found = perimeter(outline), []
    for number in range(count):
        station = station_at(outline, whole * (number + past) / count)
        off = generator.normal(0.0, noise)
        found.append((station.point.x + off * station.outward.x, station.point.y + off * station.outward.y))
    return found


def apart(one: Outline, other: Outline) -> float:
    """Largest distance of places 10 mm apart on one outline from the other, either way."""
    return max(distance_from(b, place) for a, b in ((one, other), (other, one)) for place in places_along(a, spacing=10))


SHAPES = {
    "rectangle": rectangle(1200, 600, radius=60),
    "trapezium": polygon([(0, 0), (1500, 0), (1350, 700), (120, 640)], radii=80),
    "notched": polygon([(350, 0), (1100, 0), (1100, 800), (0, 800), (0, 300), (350, 300)], radii=[50, 50, 50, 50, 50, 40]),
    "arched": path([(0, 0), (1200, 0), (1200, 500, 0.15), (0, 500)]),
    "round ends": path([(200, 0), (1000, 0, 1), (1000, 400), (200, 400, 1)]),
    "round": circle(420),
    "bowed side": polygon([(0, 0), (900, 0), (900, 500), (0, 500)]),
}


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("count", [300, 900])
def test_the_outline_it_was_taken_from_comes_back(name, count):
    """Scatter 0.2 mm: over hundreds of points every edge and rounding is found to about its own spread."""
    outline = SHAPES[name]
    found = read_survey(table(taken(outline, count, 0.2)))
    assert apart(found.outline, outline) < 0.5
    assert area(found.outline) == pytest.approx(area(outline), rel=5e-4)
    assert len(corners(found.outline)) == len(corners(outline))
    assert found.deviation < 1.0  # about five times the scatter is the farthest of 900
    for corner, true in zip(found.corners, corners(found.outline), strict=False):
        if corner.spread is not None:
            assert 0.1 < corner.spread < 5.0 and true.radius == pytest.approx(corner.radius, abs=1e-6)


def test_radii_have_their_spread():
    found = read_survey(table(taken(SHAPES["trapezium"], 900, 0.2)))
    for corner in found.corners:
        assert abs(corner.radius - 80) < 4 * corner.spread
    arched = read_survey(table(taken(SHAPES["arched"], 300, 0.2)))
    true = 1200 * (1 + 0.15**2) / (4 * 0.15)  # radius from chord and bulge
    (top,) = [edge for edge in arched.edges if edge.radius]
    assert abs(top.radius - true) < 4 * top.spread and top.spread < 10


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.randoms(use_true_random=False), st.booleans(), st.booleans())
def test_out_of_order_it_is_the_same_survey(pick, clockwise, named):
    rows = list(zip(TIMBER, NAMES, strict=True))
    ordered = read_survey(table(TIMBER, NAMES if named else None))
    shuffled = rows[::-1] if clockwise else rows[:]
    pick.shuffle(shuffled)
    found = read_survey(table([row[0] for row in shuffled], [row[1] for row in shuffled] if named else None))
    assert found.outline.vertices[0][:2] == pytest.approx(ordered.outline.vertices[0][:2], abs=1e-6)
    assert apart(found.outline, ordered.outline) < 1e-6
    assert area(found.wall) == pytest.approx(area(ordered.wall), rel=1e-12)


def test_an_order_that_is_not_certain_is_refused():
    ell = [(0, 0), (600, 0), (600, 300), (300, 300), (300, 700), (0, 700)]
    assert area(read_survey(table(ell)).outline) == pytest.approx(600 * 300 + 300 * 400)
    with pytest.raises(
        SurveyError, match=r"crosses itself, and no other order is certain: lines 2, 3, 4, 5; allowed: points in order"
    ):
        read_survey(table([ell[0], ell[2], ell[1], *ell[3:]]))


def test_numbered_stations_are_an_order():
    """A notched opening whose points are listed anyhow: no order but that of the stations is certain."""
    ell = [(0, 0), (600, 0), (600, 300), (300, 300), (300, 700), (0, 700)]
    listed = [(0, 2, 4, 1, 5, 3), (5, 4, 3, 2, 1, 0)]
    for order in listed:
        rows = [f"{at + 1};{ell[at][0]};{ell[at][1]}" for at in order]
        found = read_survey("\n".join(("no;x;y", *rows)).encode())
        assert area(found.outline) == pytest.approx(600 * 300 + 300 * 400)
        assert "points put in order of their stations" in found.mended
    with pytest.raises(SurveyError, match="no other order is certain"):  # distances along an edge are no numbers of points
        read_survey("\n".join(("no;x;y", *(f"0;{ell[at][0]};{ell[at][1]}" for at in listed[0]))).encode())


def test_the_measured_wall_is_the_points_themselves():
    found = read_survey(table(TIMBER))
    assert sorted((v.x, v.y) for v in found.wall.vertices) == sorted((float(x), float(y)) for x, y in TIMBER)
    assert [edge.radius for edge in found.edges] == [None] * 4  # four points bow an edge, they make no arc of it
    # the longest way off: of a line through the four jamb points by numpy's own least squares
    port = np.array([(2.5, 711.0), (5.5, 470), (4.0, 235), (0, 0)], dtype=float)
    _, _, axes = np.linalg.svd(port - port.mean(axis=0))
    assert found.edges[3].off == pytest.approx(float(np.abs((port - port.mean(axis=0)) @ axes[1]).max()), abs=1e-6)


@settings(max_examples=12, deadline=None, derandomize=True)
@given(st.floats(-0.9, 0.9), st.floats(-3, 3), st.floats(-1e5, 1e5), st.floats(-1e5, 1e5))
def test_in_space_it_is_the_survey_of_the_plane(lean, course, x, y):
    """However the plane leans and whichever way it looks: lengths, area and deviation are those of the points in the plane."""
    flat = taken(SHAPES["trapezium"], 80, 0.2)
    right = np.array([math.cos(course), math.sin(course), 0.0])
    normal = np.array([math.sin(course) * math.cos(lean), -math.cos(course) * math.cos(lean), math.sin(lean)])
    up = np.cross(normal, right)
    places = [np.array([x, y, 900.0]) + u * right + v * up for u, v in flat]
    outside = np.mean(places, axis=0) + 700 * normal
    text = table([*places, outside], [""] * 80 + ["outside"])
    found, plane = read_survey(text), read_survey(table(flat))
    assert found.plane is not None and found.plane.warp < 1e-5
    assert found.from_vertical == pytest.approx(math.degrees(lean), abs=1e-5)
    assert area(found.outline) == pytest.approx(area(plane.outline), rel=1e-7)
    assert perimeter(found.wall) == pytest.approx(perimeter(plane.wall), rel=1e-7)
    box, flat_box = bounding_box(found.outline), bounding_box(plane.outline)
    assert (box.width, box.height) == pytest.approx((flat_box.width, flat_box.height), abs=1e-4)  # right stays right, up stays up


def test_from_inside_it_is_turned_round():
    outside, inside = read_survey(table(TIMBER)), read_survey(table(TIMBER), seen_from="inside")
    box, other = bounding_box(outside.outline), bounding_box(inside.outline)
    assert (other.left, other.right) == pytest.approx((-box.right, -box.left))
    assert inside.mirror == 0.0 and "turned round: surveyed as seen from inside" in inside.mended
    assert "taken as seen from outside" in outside.mended
    assert read_survey(table(TIMBER), seen_from="outside").mended == ()


def test_a_point_that_stands_out_is_named_and_stays_in_the_wall():
    points = taken(SHAPES["rectangle"], 80, 0.2)
    at = 18  # on the sill
    points[at] = (points[at][0], points[at][1] + 9.0)
    found = read_survey(table(points))
    assert [(each.line, each.out_of_plane) for each in found.outliers] == [(at + 2, False)]
    assert found.outliers[0].off == pytest.approx(9.0, abs=0.8)
    assert pytest.approx(points[at], abs=1e-6) in [(v.x, v.y) for v in found.wall.vertices]
    assert bounding_box(found.outline).bottom == pytest.approx(0.0, abs=0.5)


def test_a_few_points_on_a_circle_are_asked_about():
    eight = [(300 + 200 * math.cos(turn), 200 * math.sin(turn)) for turn in np.arange(8) * math.pi / 4]
    with pytest.raises(SurveyError, match="8 points on a circle of radius 200 mm, which may be the corners of a polygon"):
        read_survey(table(eight))
    named = read_survey(table(eight, ["round"] * 8))
    assert named.shape == "circle" and area(named.outline) == pytest.approx(math.pi * 200**2, rel=1e-6)


def test_a_rectangle_is_no_circle_for_all_its_corners_lie_on_one():
    found = read_survey(table([(0, 0), (1000, 0), (1000, 700), (0, 700)]))
    assert area(found.outline) == pytest.approx(700000) and found.shape == ""


def test_corners_that_were_not_taken_are_known_to_the_fit_and_not_to_the_wall():
    """Nobody knows how far an unsurveyed corner reaches: the measured wall cuts it off until a radius is given, 0 for a sharp one."""
    points = taken(rectangle(1200, 600), 60, 0.0, past=0.5)
    found = read_survey(table(points))
    assert apart(found.outline, rectangle(1200, 600)) < 1e-3
    hull = np.array(points)
    x, y = hull.T
    assert area(found.wall) == pytest.approx(abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2)  # the shoelace of the points alone
    assert any(note.startswith("no point at the corner between lines") for note in found.mended)
    for radius in (0, 50):
        rounded = read_survey(table(points), radius=radius)
        assert apart(rounded.outline, rectangle(1200, 600, radius=radius)) < 1e-3
        assert apart(rounded.wall, rectangle(1200, 600, radius=radius)) < 1e-3
        assert [corner.given for corner in rounded.corners] == [True] * 4
        assert not any("no point at the corner" in note for note in rounded.mended)
    with pytest.raises(SurveyError, match="3 radii for 4 corners"):
        read_survey(table(points), radius=[50, 50, 50])


def test_units_are_asked_for_where_the_size_is_odd():
    metres = [(x / 1000, y / 1000) for x, y in TIMBER]
    with pytest.raises(SurveyError, match="units?"):
        read_survey(table(metres))
    found, first = read_survey(table(metres), units="m"), read_survey(table(TIMBER))
    assert apart(found.outline, first.outline) < 1e-5


def test_depth_and_landing_stay_with_their_points():
    text = b"x;y;depth;landing\n0;0;16,5;42\n1000;0;;\n1000;700;15;40,5\n0;700;;41\n"
    found = read_survey(text)
    assert [(point.line, point.depth) for point in found.points if point.depth is not None] == [(2, 16.5), (4, 15.0)]
    landings = [(point.line, point.landing) for point in found.points if point.landing is not None]
    assert landings == [(2, 42.0), (4, 40.5), (5, 41.0)]


def test_one_place_twice():
    twice = b"x;y;edge;depth\n0;0;sill;16\n1000;0;sill;\n1000;0;stbd;15\n1000;700;stbd;\n1000;700;head;\n0;700;head;\n0;700;port;\n0;0;port;16\n"
    assert len(read_survey(twice).wall.vertices) == 4
    with pytest.raises(SurveyError, match="line 9: the place of line 2 with another depth: 17 and 16 mm"):
        read_survey(twice[:-3] + b"17\n")
    closed = b"x;y\n0;0\n1000;0\n1000;700\n0;700\n0;0\n"
    assert "repeats left out: line 6 (2)" in read_survey(closed).mended


def test_two_points_at_a_corner_are_told_and_a_radius_makes_them_a_rounding():
    """A rounding of 60 mm with its two tangent points only: nothing says what lies between."""
    points = [(60, 0), (600, 0), (1140, 0), (1200, 60), (1200, 300), (1200, 540), (1140, 600), (600, 600), (60, 600), (0, 540), (0, 300), (0, 60)]
    plain = read_survey(table(points))
    assert any("no point at the corner between lines 2 and 13, 4 and 5, 7 and 8, 10 and 11" in note for note in plain.mended)
    assert area(plain.wall) == pytest.approx(1200 * 600 - 4 * 60 * 60 / 2)
    rounded = read_survey(table(points), radius=60)
    for outline in (rounded.outline, rounded.wall):
        assert apart(outline, rectangle(1200, 600, radius=60)) < 1e-6


def test_far_off_the_origin_it_is_the_same_survey():
    """The coordinates of a yard or a country: 40 km and 5 km, shifted back at the end; a double carries 1e-8 mm there."""
    points = taken(SHAPES["rectangle"], 120, 0.2)
    near, far = read_survey(table(points)), read_survey(table([(x + 4e7, y - 5e6) for x, y in points]))
    assert area(near.outline) == pytest.approx(area(moved(far.outline, -4e7, 5e6)), rel=1e-9)
    assert apart(moved(far.wall, -4e7, 5e6), near.wall) < 1e-5
    assert far.points[3].at == pytest.approx((points[3][0] + 4e7, points[3][1] - 5e6), abs=1e-6)


def test_points_that_enclose_nothing_are_refused():
    with pytest.raises(SurveyError, match="units"):
        read_survey(table([(0, 0), (400, 200.01), (800, 400), (1200, 600)]))


def test_a_rounding_that_is_put_in_opens_the_measured_wall_nowhere():
    """Shapely: with a radius given for the corners no part of the wall lies outside the polygon of the points as they were measured."""
    from shapely.geometry import Polygon

    from geometry.outline.regions import to_polygon

    table = Path(__file__).parents[3] / "samples" / "deckhouse-aft.csv"
    rows = [row.replace(",", ".").split(";") for row in table.read_text(encoding="utf-8").splitlines() if row[:1].isalpha()]
    measured = Polygon([(float(row[2]), float(row[3])) for row in rows if row[0] != "edge"])
    wall = to_polygon(read_survey(table, radius=60.0).wall)
    assert wall.difference(measured.buffer(1e-6)).area < 1e-6
    taken = 4 * (1 - math.pi / 4) * 60.0**2  # by four quarter circles in square corners; these are not quite square
    assert taken < measured.area - wall.area < 1.5 * taken
