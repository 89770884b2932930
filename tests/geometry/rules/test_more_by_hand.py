"""Figures of single rules worked by hand beside them: where something is left out, is shared or stands on a limit."""

from __future__ import annotations

import math

import pytest

from geometry.rules.day import climate, time_plan
from geometry.rules.fit import bead, corner
from geometry.rules.holding import green
from geometry.rules.materials import mass


def test_a_pane_of_one_ply_has_no_interlayer():
    """1 m² of 10 mm at 2500 kg/m³ is 25 kg (EN 572-1)."""
    assert mass(area=1e6, glass=10, glass_density=2500) == pytest.approx(25, rel=1e-12)


def test_an_interlayer_without_a_density_is_refused():
    with pytest.raises(ValueError, match="interlayer density"):
        mass(area=1e6, glass=10, interlayer=1.52, glass_density=2500)
    with pytest.raises(ValueError, match="interlayer"):
        mass(area=1e6, glass=10, interlayer=-0.1, glass_density=2500, interlayer_density=1070)


@pytest.mark.parametrize(("packs", "guns", "changes"), [(1, 1, 0), (3, 2, 1), (4, 2, 1), (5, 2, 2), (2, 3, 0), (7, 3, 2)])
def test_a_gun_that_gets_one_pack_more_decides(packs, guns, changes):
    """600 ml at 60 ml a minute and gun; the gun with the most packs changes one time less than it has packs, 1,5 minutes each."""
    found = time_plan.bead_time(volume=600, packs=packs, guns=guns, rate=60, pack_change=1.5)
    assert found == pytest.approx(10 / guns + 1.5 * changes)


@pytest.mark.parametrize("start", ["24:00", "25:00", "08:60", "8", ":30", "08:", "aa:00", "08:bb"])
def test_a_start_that_is_no_time_of_day(start):
    with pytest.raises(ValueError, match="a time of day"):
        time_plan.clock(0, start=start)


def test_the_clock_runs_over_midnight():
    assert time_plan.clock(0, start="23:59") == "23:59"
    assert time_plan.clock(61, start="23:59") == "01:00"
    assert time_plan.clock(64.25) == "09:04"


@pytest.mark.parametrize(
    ("name", "rule"),
    [
        ("temperature", lambda air: climate.saturation_pressure(temperature=air)),
        ("air", lambda air: climate.dew_point(air=air, humidity=50)),
    ],
)
def test_the_range_of_the_magnus_form(name, rule):
    """WMO No. 8, Annex 4.B: over water from -45 to 60 °C; what is refused is called what the caller calls it."""
    for inside in (-45, 60):
        assert rule(inside) is not None
    for outside in (-45.5, 60.5):
        with pytest.raises(ValueError, match=rf"^{name}: .*-45.*60"):
            rule(outside)


@pytest.mark.parametrize(("glass", "recess"), [(10, 40), (40, 10), (0, 0), (60, 66)])
def test_gap_in_a_square_corner(glass, recess):
    """Sharp corners 6 √2 apart; each rounding lies radius × (√2 - 1) inside its own."""
    wanted = 6 * math.sqrt(2) + (glass - recess) * (math.sqrt(2) - 1)
    found = corner.corner_gap(joint_width=6, glass_radius=glass, recess_radius=recess, interior_angle=90)
    assert found == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize(("least", "count"), [(250, 3), (250.1, 4), (500, 4), (500.1, 8)])
def test_spacers_round_a_pane_at_the_limits_of_their_number(least, count):
    found = bead.round_spacer_count(least_width=least, perimeter=1571, pitch=200, three_up_to=250, four_up_to=500)
    assert found == count


@pytest.mark.parametrize(("stress", "use"), [(0.0006, 1.2), (0.0004, 0.8), (0.0, 0.0), (-0.0006, 0.0)])
def test_use_of_the_uncured_bead(stress, use):
    """Half of a yield stress of 1 kPa may be used: 0,6 kPa is 1,2 of it; a push on the landing uses nothing."""
    assert green.green_use(stress=stress, yield_stress=0.001, share=0.5) == pytest.approx(use, abs=1e-12)
