"""A returned outline laid on the issued one: what was done to it is found again, and what lines cannot tell is said."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from compared_outlines import EVEN, LOPSIDED, OVAL, ROUND, SQUARE, TRAPEZOID, UPRIGHT, chopped, thrown
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.compare.alignment import align, symmetry_of
from geometry.compare.move import UNITS, Move
from geometry.compare.near import nearest
from geometry.outline import Outline, Point, Vertex, distance_from, moved, point_in, polygon, rectangle


def turned_between(one: float, other: float) -> float:
    return abs(math.remainder(one - other, 360.0))


def off(issued: Outline, laid: Outline) -> float:
    return max(distance_from(issued, Point(v.x, v.y)) for v in laid.vertices)


@pytest.mark.parametrize("name", LOPSIDED)
@settings(max_examples=20)
@given(seed=st.integers(0, 10_000), mirrored=st.booleans(), unit=st.sampled_from([1.0, 25.4, 1000.0, 10.0, 1 / 25.4, 304.8]))
def test_a_random_turn_shift_unit_and_mirror_are_found_again(name: str, seed: int, mirrored: bool, unit: float):
    issued, move = LOPSIDED[name], thrown(random.Random(seed), scale=unit, mirrored=mirrored)
    found = align(issued, move.outline(issued))
    # the drawing is the pane mirrored and then turned: that is the move itself
    assert turned_between(found.move.turned, math.degrees(move.turn)) < 1e-6
    assert found.move.mirrored is mirrored
    assert found.unit is not None
    assert found.unit.scale == pytest.approx(unit, rel=1e-12)
    assert off(issued, found.move.outline(move.outline(issued))) < 1e-6
    assert found.agreeing == 1.0
    assert found.turned_over() == ""


@pytest.mark.parametrize("name", EVEN)
@pytest.mark.parametrize("mirrored", [False, True])
def test_of_ways_that_come_to_the_same_the_plainest_is_taken_and_the_others_are_told(name: str, mirrored: bool):
    issued, move = EVEN[name], thrown(random.Random(7), mirrored=mirrored)
    found = align(issued, move.outline(issued))
    assert not found.move.mirrored
    assert off(issued, found.move.outline(move.outline(issued))) < 1e-6
    assert "mirrored" in found.turned_over()
    most = {"upright": 90, "oval": 90, "square": 45, "round": 1e-3}[name]
    assert abs(found.move.turned) <= most + 1e-6


def test_what_a_shape_may_be_turned_by():
    assert symmetry_of(UPRIGHT, 0.5).turns == (180.0,)
    assert symmetry_of(SQUARE, 0.5).turns == (90.0, 180.0, 270.0)
    assert symmetry_of(OVAL, 0.5).turns == (180.0,)
    assert symmetry_of(ROUND, 0.5).any_turn
    assert symmetry_of(TRAPEZOID, 0.5).moves == ()
    # one corner of another radius: no longer its own mirror image, and 20 mm of radius are no slip of the pen
    assert symmetry_of(polygon([(0, 0), (900, 0), (900, 500), (0, 500)], radii=[40, 40, 40, 60]), 0.5).moves == ()


@pytest.mark.parametrize("name", [*LOPSIDED, "upright"])
def test_an_outline_in_four_hundred_lines_still_aligns(name: str):
    issued, move = {**LOPSIDED, "upright": UPRIGHT}[name], thrown(random.Random(11), scale=25.4)
    found = align(issued, move.outline(chopped(issued, 400)))
    assert turned_between(found.move.turned, math.degrees(move.turn)) % 180.0 < 0.01
    assert found.unit is not None
    assert found.unit.name == "inches"
    assert found.agreeing > 0.99


def test_the_sides_that_agree_are_laid_on_each_other_where_one_is_out():
    issued = TRAPEZOID
    returned = polygon([(0, 0), (1302, 120), (1122, 870), (60, 820)], radii=40)  # the side from corner 2 to 3 two to the right
    laid = align(issued, moved(returned, -300, 800)).move.outline(moved(returned, -300, 800))
    assert abs(distance_from(laid, Point(20, 400)) - distance_from(issued, Point(20, 400))) < 0.05  # the left side
    far = [abs(each) for each in nearest(issued, np.array([(v.x, v.y) for v in laid.vertices])).distance]
    assert sorted(far)[3] < 0.06  # four of eight tangent points stay where they were
    assert 1.8 < max(far) < 2.1


def test_a_drawing_of_another_size_is_in_no_unit():
    found = align(UPRIGHT, rectangle(1370, 685, radius=68.5))
    assert found.unit is None
    assert found.size == pytest.approx(1200 / 1370, rel=1e-6)
    assert len({unit.scale for unit in UNITS}) == len(UNITS)


@given(st.integers(0, 10_000))
def test_a_move_there_and_back_changes_nothing(seed: int):
    dice = random.Random(seed)
    move = thrown(dice, scale=dice.choice([1.0, 25.4]), mirrored=dice.random() < 0.5)
    x, y = dice.uniform(-900, 900), dice.uniform(-900, 900)
    assert math.dist(move.back(move.place(x, y)), (x, y)) < 1e-8
    again = move.after(Move(turn=0.3, dx=5.0)).place(x, y)
    assert math.dist(again, move.place(*Move(turn=0.3, dx=5.0).place(x, y))) < 1e-7
    assert all(math.isfinite(v.bulge) for v in move.outline(OVAL).vertices)


@given(st.integers(0, 10_000))
def test_many_nearest_places_at_once_are_those_found_one_by_one(seed: int):
    dice = random.Random(seed)
    issued = dice.choice([*LOPSIDED.values(), *EVEN.values()])
    places = np.array([(dice.uniform(-300, 1500), dice.uniform(-300, 1100)) for _ in range(12)])
    found = nearest(issued, places)
    for place, distance, foot in zip(places, found.distance, found.foot, strict=True):
        at = Point(float(place[0]), float(place[1]))
        assert abs(distance) == pytest.approx(distance_from(issued, at), abs=1e-9)
        assert bool(distance <= 0) is point_in(issued, at) or abs(distance) < 1e-8
        assert math.dist(at, foot) == pytest.approx(abs(distance), abs=1e-9)


def test_a_clockwise_loop_is_the_mirror_image_counter_clockwise():
    laid = Move(mirrored=True).outline(TRAPEZOID)
    assert Move(mirrored=True).outline(laid).vertices == tuple(Vertex(*v) for v in TRAPEZOID.vertices)
