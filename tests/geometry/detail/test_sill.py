"""What a pane stands on, by elementary geometry."""

from __future__ import annotations

import math

import pytest

from geometry.detail.sill import Run, _goes_on, sill_of
from geometry.outline import Outline, Vertex, polygon

TURN = math.radians(30)


@pytest.mark.parametrize(("step", "straight"), [(1, 300), (-1, 100)])
def test_how_far_a_straight_goes_on_before_its_ends_turn(step: int, straight: float) -> None:
    """Sides of 400 with half circles of radius 200: 100 from the left end, 300 and 100 of straight; then 200 of arc for each radian."""
    stadium = Outline((Vertex(0, 0), Vertex(400, 0, 1), Vertex(400, 400), Vertex(0, 400, 1)))
    assert _goes_on(stadium, 100, step, 0.05, 0.5) == pytest.approx((straight + 10, 90))


@pytest.mark.parametrize(("step", "straight"), [(1, 300), (-1, 100)])
def test_a_straight_goes_on_up_to_its_corner(step: int, straight: float) -> None:
    box = polygon([(0, 0), (400, 0), (400, 300), (0, 300)])
    assert _goes_on(box, 100, step, 0.05, 0.5) == pytest.approx((straight, -1))


@pytest.mark.parametrize("rise", [300, 30])
def test_sides_that_slope_are_no_part_of_what_is_level(rise: float) -> None:
    """Rising 1 for 1 (and 1 for 10) beside a level of 300: with a limit of 1 for 20 the level alone is the sill."""
    outline = polygon([(0, rise), (300, 0), (600, 0), (900, rise), (900, 800), (0, 800)])
    sill = sill_of(outline, slope=0.05, turn=TURN)
    assert isinstance(sill, Run)
    assert (sill.length, sill.chord.origin.x, sill.chord.origin.y, sill.chord.straight) == pytest.approx((300, 300, 0, 300))


def test_sides_just_as_steep_as_the_limit_are_part_of_it() -> None:
    """1 for 20 on both sides of a level of 300: a run of 300 and twice √(300² + 15²)."""
    outline = polygon([(0, 15), (300, 0), (600, 0), (900, 15), (900, 800), (0, 800)])
    sill = sill_of(outline, slope=0.05, turn=TURN)
    assert isinstance(sill, Run)
    assert sill.length == pytest.approx(300 + 2 * math.hypot(300, 15))
    assert (sill.chord.origin.x, sill.chord.origin.y, sill.chord.straight) == pytest.approx((0, 15, 900))
