"""The shear that bending puts on the bead, by the geometry of a bent strip and not by the plate; limits of the bent pane by hand."""

import math

import numpy as np
import pytest

from geometry.outline.measure import moved
from geometry.outline.shapes import rectangle
from geometry.plate.bond import bond_stress
from geometry.plate.glass import GlassBuildUp
from geometry.rules.holding import bent_pane

near = pytest.approx


def test_the_greatest_may_come_before_the_full_pressure():
    """0.4 out by the slope against 0.4 in by the pull leave nothing at the full pressure; at half of it 0.2 - 0.1 = 0.1 mm."""
    assert bent_pane.bending_shear_strain(slope=(0.4, 0), pull=(-0.4, 0), bond_thickness=5) == near(0.02)
    # beyond twice the way up the pull has it: 0.4 - 1.0
    assert bent_pane.bending_shear_strain(slope=(0.4, 0), pull=(-1.0, 0), bond_thickness=5) == near(0.12)
    # square to each other they never oppose
    assert bent_pane.bending_shear_strain(slope=(0.3, 0), pull=(0, 0.4), bond_thickness=5) == near(0.1)
    assert bent_pane.bending_shear_strain(slope=(0, 0), pull=(0, 0), bond_thickness=5) == 0


def test_never_less_than_at_the_full_pressure_nor_more_than_the_bound():
    for slope, pull in np.random.default_rng(7).normal(size=(200, 2, 2)):
        found = bent_pane.bending_shear_strain(slope=tuple(slope), pull=tuple(pull), bond_thickness=1.0)
        shares = np.linspace(0, 1, 2001)[:, None]
        assert found == near(np.max(np.hypot(*(slope * shares + pull * shares**2).T)), rel=1e-5)
        assert np.hypot(*(slope + pull)) - 1e-12 <= found <= np.hypot(*slope) + np.hypot(*pull) + 1e-12


@pytest.mark.parametrize(("side", "way"), [("inward", 1), ("outward", -1)])
def test_the_plate_moves_the_inner_face_as_a_strip_does(side, way):
    """A pane five times as long as wide bends in its middle like a strip (Timoshenko): slope p b³ / (24 D), the pull of one side half of
    17 p² b⁷ / (40320 D²); b between the middles of the beads. Inwards they oppose each other, outwards they add. The bead gives
    the ends a little turn back and takes some of the pull: within a tenth.
    """
    long, wide, thick, bead = 3000.0, 600.0, 8.0, 6.0
    pane = rectangle(long, wide, radius=20)
    span, pressure = wide - 2 - bead, 0.004
    result = bond_stress(
        pane, moved(rectangle(long - 2, wide - 2, radius=19), 1, 1), moved(rectangle(long - 14, wide - 14, radius=13), 7, 7),
        build_up=GlassBuildUp((thick,)), bond_thickness=6.0, effective_modulus=60.0, shear_modulus=1e-3,
        outward=1000 * pressure, inward=1000 * pressure,
    )  # fmt: skip
    found = getattr(result, side)
    stiffness = 70_000 * thick**3 / (12 * (1 - 0.23**2))
    slope = pressure * span**3 / (24 * stiffness) * thick / 2
    pull = 17 * pressure**2 * span**7 / (40_320 * stiffness**2) / 2
    middle = min(found.shear.stations, key=lambda each: math.dist(each.point, (long / 2, 0)))
    assert found.theory == "linear"
    assert -middle.slope[1] == near(way * slope, rel=0.1)  # outwards is down at the lower side
    assert middle.pull_in[1] == near(pull, rel=0.1)
    assert middle.strain == near(abs(way * slope - pull) / 6, rel=0.1)


def test_limits_by_hand():
    assert bent_pane.tension_by_strength(strength=0.345, factor=2.5) == near(0.138)
    assert bent_pane.tension_by_design(design_tension=0.14, times=3) == near(0.42)
    assert bent_pane.glass_look(strength=75, factor=4) == near(18.75)
    with pytest.raises(ValueError):
        bent_pane.tension_by_strength(strength=0, factor=2)
