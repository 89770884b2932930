"""Room for a block that is straight along its length under an edge that is not, against circles worked by hand."""

from __future__ import annotations

import math
from types import SimpleNamespace

import pytest

from geometry.detail.straight_blocks import straight_room
from geometry.outline import Outline, Point, Vertex

RECESS = Outline(tuple(Vertex(x, y, 0.0) for x, y in ((-20, -20), (1020, -20), (1020, 520), (-20, 520))))
RISE = 50.0
RADIUS = (500.0**2 + RISE**2) / (2 * RISE)  # of an arc of that rise over a chord of 1000


def room_under(bulge: float, foot: tuple[float, float], *, height: float) -> tuple[float, float]:
    """For a block 300 long below the middle of a sill that is an arc."""
    glass = Outline((Vertex(0.0, 0.0, bulge), Vertex(1000.0, 0.0, 0.0), Vertex(1000.0, 500.0, 0.0), Vertex(0.0, 500.0, 0.0)))
    block = SimpleNamespace(foot=Point(*foot), angle=0.0, height=height, length=300.0)
    return straight_room(SimpleNamespace(glass=glass, recess=RECESS), block)


def test_under_a_sill_that_rises_in_its_middle_the_ends_of_the_glass_come_down_on_the_block():
    """At 150 from the middle the arc is R - √(R² - 150²) lower than its tangent."""
    drop = RADIUS - math.sqrt(RADIUS**2 - 150.0**2)
    assert room_under(-2 * RISE / 1000, (500.0, RISE), height=30.0) == pytest.approx((drop, 30.0))
    assert room_under(-2 * RISE / 1000, (500.0, RISE), height=100.0) == pytest.approx((drop, RISE + 20.0))


def test_under_a_straight_sill_a_block_has_its_own_height_or_the_joint():
    assert room_under(0.0, (500.0, 0.0), height=12.0) == (0.0, 12.0)
    assert room_under(0.0, (500.0, 0.0), height=30.0) == pytest.approx((0.0, 20.0))
