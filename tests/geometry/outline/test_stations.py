"""Stations, rays, distances and corners: closed forms, and shapely (a general-purpose library) on fine chords."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.outline import (
    Outline,
    OutlineError,
    Point,
    circle,
    comes_within,
    corners,
    distance_between,
    distance_from,
    ellipse,
    moved,
    nearest_station,
    path,
    perimeter,
    point_in,
    polygon,
    ray_hits,
    ray_length,
    rectangle,
    station_at,
    straight_runs,
)
from geometry.outline.regions import to_polygon
from geometry.outline.stations import places_along

MANY = settings(max_examples=40, deadline=None, derandomize=True)

RE_ENTRANT = polygon([(0, 0), (900, 0), (900, 600), (500, 600), (450, 300), (0, 500)], radii=[30, 0, 60, 10, 45, 20])
BITE = path([(0, 0), (300, 0), (300, 200, 0), (200, 200, -0.9), (100, 200), (0, 200)])
SAMPLES = [rectangle(1200, 600, radius=60), circle(420), ellipse(700, 400), RE_ENTRANT, BITE, rectangle(300, 200)]
CHORDS = [to_polygon(outline, sagitta=1e-5) for outline in SAMPLES]

which = st.sampled_from(range(len(SAMPLES)))
spots = st.builds(Point, st.floats(-300, 1500), st.floats(-300, 900))


@MANY
@given(which, st.floats(-5000, 5000))
def test_station_lies_on_the_outline_at_its_length_and_is_its_own_nearest(index: int, length: float) -> None:
    outline = SAMPLES[index]
    here = station_at(outline, length)
    whole = perimeter(outline)
    assert abs((here.length_along - length + whole / 2) % whole - whole / 2) < 1e-9 * whole
    assert distance_from(outline, here.point) < 1e-9
    # tangent and outward normal: unit, square to each other, outward to the right of travel and out of the glass
    assert math.hypot(*here.tangent) == pytest.approx(1)
    assert here.outward == (pytest.approx(here.tangent.y), pytest.approx(-here.tangent.x))
    assert not point_in(outline, Point(here.point.x + 1e-4 * here.outward.x, here.point.y + 1e-4 * here.outward.y))
    # shapely's length along the chords names the same place
    along = CHORDS[index].exterior.interpolate((here.length_along / whole) * CHORDS[index].length)
    assert math.dist((along.x, along.y), here.point) < 0.01


@MANY
@given(which, spots)
def test_nearest_place_distance_and_inside_agree_with_shapely(index: int, spot: Point) -> None:
    outline, chords = SAMPLES[index], CHORDS[index]
    by_chords = chords.exterior.distance(shapely.Point(spot))
    assert distance_from(outline, spot) == pytest.approx(by_chords, abs=2e-5)
    near = nearest_station(outline, spot)
    assert math.dist(near.point, spot) == pytest.approx(by_chords, abs=2e-5)
    assume(by_chords > 1e-4)
    assert point_in(outline, spot) == chords.contains(shapely.Point(spot))


@MANY
@given(which, spots, st.floats(0, 2 * math.pi))
def test_rays_agree_with_shapely(index: int, origin: Point, turn: float) -> None:
    outline, chords = SAMPLES[index], CHORDS[index]
    way = Point(math.cos(turn), math.sin(turn))
    line = shapely.LineString([origin, (origin.x + 5000 * way.x, origin.y + 5000 * way.y)])
    met = line.intersection(chords.exterior)
    by_chords = sorted(
        math.dist(origin, p.coords[0]) for p in getattr(met, "geoms", [met]) if not p.is_empty and p.geom_type == "Point"
    )
    assume(distance_from(outline, origin) > 1e-6)  # nearer than that the origin itself may count as a hit
    hits = ray_hits(outline, origin, way)
    # a near-grazing ray meets the arc but not its chord, or the other way round
    assume(all(_steepness(outline, origin, way, hit) > 0.02 for hit in (*hits, *by_chords)))
    assert hits == pytest.approx(by_chords, abs=2e-3)
    assert ray_length(outline, origin, way) == (hits[0] if hits else None)


def _steepness(outline: Outline, origin: Point, way: Point, hit: float) -> float:
    there = nearest_station(outline, Point(origin.x + hit * way.x, origin.y + hit * way.y))
    return abs(there.outward.x * way.x + there.outward.y * way.y)


@pytest.mark.parametrize("outline", SAMPLES)
def test_inside_is_decided_right_beside_the_outline_and_level_with_its_vertices(outline: Outline) -> None:
    """A ray through a joint must count once: looked at on the level of every vertex and of every highest and lowest place."""
    chords = to_polygon(outline, sagitta=1e-5)
    levels = sorted({v.y for v in outline.vertices} | {chords.bounds[1], chords.bounds[3]})
    for level in levels:
        for step in range(61):
            spot = Point(chords.bounds[0] - 30 + (chords.bounds[2] - chords.bounds[0] + 60) * step / 60, level)
            if chords.exterior.distance(shapely.Point(spot)) > 1e-4:
                assert point_in(outline, spot) == chords.contains(shapely.Point(spot)), spot
    for station in (station_at(outline, perimeter(outline) * k / 97) for k in range(97)):
        for side in (-1e-6, 1e-6):
            spot = Point(station.point.x + side * station.outward.x, station.point.y + side * station.outward.y)
            assert point_in(outline, spot) == (side < 0)
        assert point_in(outline, station.point)


@MANY
@given(which, which, st.floats(-1500, 1500), st.floats(-1500, 1500))
def test_distance_between_outlines_agrees_with_shapely(one: int, other: int, dx: float, dy: float) -> None:
    second = moved(SAMPLES[other], dx, dy)
    by_chords = CHORDS[one].exterior.distance(shapely.affinity.translate(CHORDS[other], dx, dy).exterior)
    found = distance_between(SAMPLES[one], second)
    assert found == pytest.approx(by_chords, abs=4e-5)
    assert distance_between(second, SAMPLES[one]) == pytest.approx(found, abs=1e-9)
    assert distance_between(SAMPLES[one], second, within=50) == pytest.approx(min(found, 50), abs=1e-9)


def test_distance_between_arcs_is_found_between_their_ends() -> None:
    """Two discs: the distance between centres less both radii; one in the other: the greater radius less both."""
    assert distance_between(circle(200), moved(circle(100), 300, 400)) == pytest.approx(math.hypot(250, 350) - 150, abs=1e-9)
    assert distance_between(circle(200), moved(circle(100), 60, 50)) == pytest.approx(100 - 10 - 50, abs=1e-9)
    assert distance_between(rectangle(100, 50), moved(circle(20), 30, -30)) == pytest.approx(10, abs=1e-9)


@pytest.mark.parametrize("outline", SAMPLES)
def test_a_distance_looked_for_within_a_reach_is_the_least_of_both(outline: Outline) -> None:
    for part in range(40):
        turn = 2 * math.pi * part / 40
        spot = Point(300 + 500 * math.cos(turn), 250 + 400 * math.sin(turn))
        apart = shapely.distance(to_polygon(outline, sagitta=1e-4).exterior, shapely.Point(spot))
        for within in (0.5 * apart, 0.99 * apart, 1.01 * apart, 3 * apart):
            assert distance_from(outline, spot, within=within) == pytest.approx(min(within, apart), abs=2e-4)


def test_station_needs_a_finite_length() -> None:
    with pytest.raises(OutlineError, match="a station was asked for at nan mm along"):
        station_at(circle(100), float("nan"))
    assert station_at(circle(100), -1e-18).length_along in (0.0, pytest.approx(perimeter(circle(100))))


def test_ray_needs_a_direction() -> None:
    with pytest.raises(OutlineError, match="a direction was asked for, but its length is 0"):
        ray_length(circle(100), Point(0, 0), Point(0, 0))


def test_joint_square_from_the_glass_edge_to_a_recess_that_touches_it_is_nothing() -> None:
    """A hit on another outline at the origin counts: the joint is 0 there, in both directions."""
    glass, recess = rectangle(100, 50), moved(rectangle(120, 50), -10, 0)
    here = station_at(glass, 50)
    assert ray_length(recess, here.point, here.outward) == 0.0
    assert ray_length(recess, here.point, Point(0, 1)) == 0.0
    assert ray_hits(recess, here.point, Point(0, 1)) == (0.0, 50.0)


def test_curvature_is_positive_on_convex_arcs() -> None:
    assert station_at(circle(200), 10).curvature == pytest.approx(0.01)
    assert nearest_station(BITE, Point(150, 150)).curvature < 0
    assert station_at(rectangle(100, 50), 10).curvature == 0.0


def test_places_along_hold_every_vertex_and_the_spacing() -> None:
    for outline in SAMPLES:
        places = places_along(outline, spacing=20)
        assert {(v.x, v.y) for v in outline.vertices} <= {(p.x, p.y) for p in places}
        assert max(math.dist(a, b) for a, b in zip(places, places[1:] + places[:1], strict=True)) <= 20 + 1e-9


@MANY
@given(st.floats(10, 170), st.floats(0, 1), st.floats(0, 2 * math.pi))
def test_corner_of_any_angle_by_trigonometry(angle: float, share: float, turn: float) -> None:
    """Tangent length r / tan(angle / 2); the middle of the rounding on the bisector, r (1 / sin(angle / 2) - 1) from the corner."""
    half = math.radians(angle) / 2
    radius = share * 200 * math.tan(half)

    def at(length: float, direction: float) -> tuple[float, float]:
        return 50 + length * math.cos(turn + direction), 70 + length * math.sin(turn + direction)

    outline = polygon([(50, 70), at(500, -half), at(500, half)], radii=[radius, 0, 0])
    sharp = corners(outline)[0]
    assert sharp.number == 1
    assert sharp.theoretical == pytest.approx((50, 70), abs=1e-6)
    assert sharp.interior_angle == pytest.approx(angle, abs=1e-9)
    assert sharp.radius == pytest.approx(radius, abs=1e-6)
    assert math.dist(sharp.tangent_after, sharp.theoretical) == pytest.approx(radius / math.tan(half), abs=1e-6)
    assert sharp.bisector == pytest.approx((math.cos(turn), math.sin(turn)), abs=1e-9)
    assert ray_length(outline, Point(50 - 900 * math.cos(turn), 70 - 900 * math.sin(turn)), sharp.bisector) == pytest.approx(
        900 + radius * (1 / math.sin(half) - 1), abs=1e-5
    )


def test_corners_of_a_pane_with_a_cut_out_are_numbered_and_the_notch_is_re_entrant() -> None:
    found = corners(RE_ENTRANT)
    assert [corner.number for corner in found] == [1, 2, 3, 4, 5, 6]
    wanted = [(0, 0), (900, 0), (900, 600), (500, 600), (450, 300), (0, 500)]
    assert [corner.theoretical for corner in found] == [pytest.approx(point, abs=1e-6) for point in wanted]
    assert [corner.radius for corner in found] == pytest.approx([30, 0, 60, 10, 45, 20], abs=1e-6)
    assert [corner.convex for corner in found] == [True, True, True, True, False, True]
    # angles of a polygon of n corners add up to (n - 2) half turns
    assert sum(corner.interior_angle for corner in found) == pytest.approx(4 * 180)
    for corner in found:
        inside = Point(corner.theoretical.x + 40 * corner.bisector.x, corner.theoretical.y + 40 * corner.bisector.y)
        assert point_in(RE_ENTRANT, inside)


def test_corner_1_is_where_the_first_straight_run_begins() -> None:
    for outline in (
        rectangle(300, 200),
        rectangle(300, 200, radius=20),
        RE_ENTRANT,
        path([(50, 0), (100, 0), (100, 40), (0, 40), (0, 0)]),
    ):
        assert corners(outline)[0].tangent_after == pytest.approx(straight_runs(outline)[0].start, abs=1e-9)


def test_runs_of_one_line_are_one_and_know_where_they_lie() -> None:
    outline = path([(50, 0), (100, 0), (100, 40), (60, 40), (0, 40), (0, 0)])
    runs = straight_runs(outline)
    assert [run.length for run in runs] == [100, 40, 100, 40]
    for run in runs:
        here = station_at(outline, run.length_along)
        assert here.point == pytest.approx(run.start, abs=1e-9)
        assert here.outward == pytest.approx(run.outward, abs=1e-9)


def test_round_things_have_no_corners() -> None:
    slot = rectangle(1000, 400, radius=200)
    for outline in (circle(420), ellipse(700, 400), slot, path([(0, 0), (100, 0, 1)])):
        assert corners(outline) == ()
    assert [run.length for run in straight_runs(slot)] == pytest.approx([600, 600])


def test_rounding_drawn_as_two_arcs_is_one_corner() -> None:
    quarter, eighth = math.tan(math.pi / 8), math.tan(math.pi / 16)
    whole = path([(20, 0), (100, 0), (100, 80), (0, 80), (0, 20, quarter)])
    middle = 20 - 20 * math.cos(math.pi / 4)
    split = path([(20, 0), (100, 0), (100, 80), (0, 80), (0, 20, eighth), (middle, middle, eighth)])
    assert [corner.radius for corner in corners(split)] == pytest.approx([corner.radius for corner in corners(whole)])
    assert corners(split)[0].theoretical == pytest.approx((0, 0), abs=1e-6)


def test_corners_of_an_outline_read_with_two_decimals_are_still_found() -> None:
    turn = 0.3
    cosine, sine = math.cos(turn), math.sin(turn)
    read = path(
        [
            (round(cosine * v.x - sine * v.y, 2), round(sine * v.x + cosine * v.y, 2), round(v.bulge, 4))
            for v in RE_ENTRANT.vertices
        ]
    )
    found, exact = corners(read), corners(RE_ENTRANT)
    assert [corner.number for corner in found] == [1, 2, 3, 4, 5, 6]
    for one, other in zip(found, exact, strict=True):
        x, y = other.theoretical
        assert one.theoretical == pytest.approx((cosine * x - sine * y, sine * x + cosine * y), abs=0.05)
        assert one.radius == pytest.approx(other.radius, abs=0.05)
        assert one.interior_angle == pytest.approx(other.interior_angle, abs=0.02)
    # an arc that meets its sides at an angle rounds nothing
    assert corners(path([(0, 0), (100, 0, 0.3), (100, 80), (0, 80)]))[0].radius == 0
    assert len(corners(path([(0, 0), (100, 0, 0.3), (100, 80), (0, 80)]))) == 2


@MANY
@given(st.sampled_from(SAMPLES), st.sampled_from(SAMPLES), st.floats(-900, 900), st.floats(-900, 900), st.floats(0.1, 400))
def test_outlines_come_within_a_reach_where_chords_of_them_do(one, other, x, y, reach):
    other = moved(other, x, y)
    apart = to_polygon(one, sagitta=1e-4).exterior.distance(to_polygon(other, sagitta=1e-4).exterior)
    assume(abs(apart - reach) > 1e-3)
    assert comes_within(one, other, reach) is (apart < reach)
    assert comes_within(one, other, reach) is (distance_between(one, other) < reach)


def test_a_ray_meets_nothing_behind_its_origin_however_the_outline_lies():
    for outline in SAMPLES:
        exterior, far = to_polygon(outline, sagitta=1e-4).exterior, 5000.0
        for turn in range(0, 360, 15):
            way = Point(math.cos(math.radians(turn)), math.sin(math.radians(turn)))
            for origin in (Point(120.0, 90.0), Point(-80.0, 40.0), Point(310.0, 620.0)):
                ray = shapely.LineString([origin, (origin.x + far * way.x, origin.y + far * way.y)])
                met = shapely.Point(origin).distance(exterior.intersection(ray)) if exterior.intersects(ray) else None
                found = ray_length(outline, origin, way)
                assert (found is None) is (met is None)
                assert met is None or found == pytest.approx(met, abs=0.5)
