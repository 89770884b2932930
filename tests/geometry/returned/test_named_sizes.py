"""Sizes by the pane's own names and the deviation both ways, of outlines that were changed in one known way."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from compared_outlines import LOPSIDED, NOTCHED, OVAL, TRAPEZOID, UPRIGHT, chopped, thrown
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.compare.alignment import align
from geometry.outline import Outline, Point, ellipse, moved, polygon, rectangle
from geometry.outline.regions import to_polygon
from geometry.returned.differences import differences, part_at
from geometry.returned.named_sizes import corner_moves, named_sizes

CORNERS = [(0, 0), (1300, 120), (1120, 870), (60, 820)]


def sizes_of(issued: Outline, laid: Outline) -> dict[str, tuple[float, float | None]]:
    return {size.name: (size.issued, size.returned) for size in named_sizes(issued, laid, limit=0.5)}


def over(issued: Outline, laid: Outline) -> set[str]:
    return {size.name for size in named_sizes(issued, laid, limit=0.5) if size.over}


@pytest.mark.parametrize("name", [*LOPSIDED, "upright"])
@pytest.mark.parametrize("count", [0, 400])
def test_the_same_outline_has_the_same_sizes_exploded_or_not(name: str, count: int):
    issued = {**LOPSIDED, "upright": UPRIGHT}[name]
    laid = chopped(issued, count) if count else issued
    for size in named_sizes(issued, laid, limit=0.5):
        slack = 0.25 if size.name.endswith("over all") and count else 1e-5  # chords of a rounding stay within it
        assert size.returned == pytest.approx(size.issued, abs=slack), size.name
    assert not over(issued, laid)
    assert all(corner.apart is not None and corner.apart < 1e-5 for corner in corner_moves(issued, laid))


def test_sizes_of_a_trapezoid_against_its_corners():
    """Worked by hand from the corner points: Pythagoras."""
    found = sizes_of(TRAPEZOID, TRAPEZOID)
    assert found["e1"][1] == pytest.approx(math.dist(CORNERS[0], CORNERS[1]))
    assert found["e4"][1] == pytest.approx(math.dist(CORNERS[3], CORNERS[0]))
    assert found["V1 to V3"][1] == pytest.approx(math.dist(CORNERS[0], CORNERS[2]))
    assert found["V2 to V4"][1] == pytest.approx(math.dist(CORNERS[1], CORNERS[3]))
    assert [found[f"radius at V{number}"][1] for number in (1, 2, 3, 4)] == pytest.approx([40] * 4)


def test_a_notch_has_a_size_between_each_two_sides_across_from_each_other():
    assert {name: size[1] for name, size in sizes_of(NOTCHED, NOTCHED).items() if " to e" in name} == pytest.approx(
        {"e2 to e6": 1000, "e1 to e5": 700, "e4 to e6": 600, "e1 to e3": 300}
    )


def test_one_side_two_millimetres_out_by_its_name():
    wide = rectangle(1202, 600, radius=60)
    laid = align(UPRIGHT, moved(wide, 333, -20)).move.outline(moved(wide, 333, -20))
    found = sizes_of(UPRIGHT, laid)
    assert found["e2 to e4"] == (1200.0, pytest.approx(1202.0, abs=1e-6))
    assert found["e1 to e3"][1] == pytest.approx(600.0, abs=1e-6)
    assert over(UPRIGHT, laid) == {"e2 to e4", "V1 to V3", "V2 to V4"}
    found_off = differences(UPRIGHT, laid, limit=0.5)
    assert abs(found_off.greatest.amount) == pytest.approx(2.0, abs=0.01)
    assert len(found_off.stretches) == 1
    assert found_off.stretches[0].part in ("e2", "e4")


@pytest.mark.parametrize("count", [0, 400])
def test_one_radius_changed_by_its_name(count: int):
    other = polygon(CORNERS, radii=[40, 40, 55, 40])
    laid = chopped(other, count) if count else other
    assert over(TRAPEZOID, laid) == {"radius at V3", "height over all"}
    assert sizes_of(TRAPEZOID, laid)["radius at V3"][1] == pytest.approx(55, abs=1e-4)
    # on the bisector a rounding lies R (1 / sin(angle / 2) - 1) inside the sharp corner
    one, other_way = (1300 - 1120, 120 - 870), (60 - 1120, 820 - 870)
    cosine = (one[0] * other_way[0] + one[1] * other_way[1]) / math.hypot(*one) / math.hypot(*other_way)
    inside = (55 - 40) * (1 / math.sin(math.acos(cosine) / 2) - 1)
    stretch = differences(TRAPEZOID, other, limit=0.5).stretches[0]
    assert stretch.part == "V3"
    assert stretch.worst.amount == pytest.approx(-inside, abs=0.01)


def test_a_sharp_corner_is_a_radius_of_none():
    sharp = polygon(CORNERS, radii=[40, 40, 0, 40])
    assert sizes_of(TRAPEZOID, sharp)["radius at V3"] == (40.0, 0.0)


def test_a_corner_that_moved_is_told_by_where_it_lies():
    laid = polygon([(0, 0), (1300, 120), (1123, 874), (60, 820)], radii=40)
    found = {corner.name: corner for corner in corner_moves(TRAPEZOID, laid)}
    assert found["V3"].returned == pytest.approx((1123, 874), abs=1e-6)
    assert found["V3"].apart == pytest.approx(5.0, abs=1e-6)
    assert found["V1"].apart == pytest.approx(0.0, abs=1e-6)


def test_a_tongue_and_a_bite_are_seen_both_ways():
    tongue = polygon([(0, 0), (1200, 0), (1200, 600), (610, 600), (610, 612), (600, 612), (600, 600), (0, 600)])
    bite = polygon([(0, 0), (1200, 0), (1200, 600), (610, 600), (610, 588), (600, 588), (600, 600), (0, 600)])
    plain = rectangle(1200, 600)
    for laid, amount in ((tongue, 12.0), (bite, -12.0)):
        found = differences(plain, laid, limit=0.5)
        assert found.greatest.amount == pytest.approx(amount)
        assert [stretch.part for stretch in found.stretches] == ["e3"]
        assert differences(laid, plain, limit=0.5).greatest.amount == pytest.approx(-amount)


@settings(max_examples=8)
@given(st.integers(0, 10_000))
def test_the_greatest_deviation_is_the_hausdorff_distance(seed: int):
    """Against shapely's own, of the same outlines flattened and with places between (its lines are within a hundredth)."""
    dice = random.Random(seed)
    issued = dice.choice([TRAPEZOID, NOTCHED, OVAL, UPRIGHT])
    laid = moved(issued, dice.uniform(-3, 3), dice.uniform(-3, 3)) if dice.random() < 0.5 else ellipse(704, 401)
    flat = [to_polygon(outline, sagitta=0.002).exterior for outline in (issued, laid)]
    wanted = shapely.hausdorff_distance(*flat, densify=0.02)
    assert abs(differences(issued, laid, limit=0.5).greatest.amount) == pytest.approx(wanted, abs=0.02, rel=0.001)


def test_a_place_is_named_by_the_part_it_lies_on():
    assert [part_at(UPRIGHT, Point(*place)) for place in ((600, 3), (1190, 8), (1203, 300), (5, 599))] == ["e1", "V2", "e2", "V4"]
    assert part_at(OVAL, Point(0, 200)) == "round"


def test_a_thrown_drawing_has_the_sizes_it_had():
    for seed in range(6):
        move = thrown(random.Random(seed), scale=25.4, mirrored=False)
        drawn = move.outline(polygon(CORNERS, radii=[40, 40, 55, 40]))
        laid = align(TRAPEZOID, drawn).move.outline(drawn)
        assert over(TRAPEZOID, laid) == {"radius at V3", "height over all"}
