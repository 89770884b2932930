"""Figures of single rules worked by hand beside them: where something is left out, is shared or stands on a limit."""

from __future__ import annotations

import math

import pytest

from geometry.rules import tolerance
from geometry.rules.day import climate, cure, lifting, time_plan
from geometry.rules.fit import bead, corner, frit
from geometry.rules.holding import chocks, green, joint, pane_bending
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
    assert time_plan.clock(64.25) == "09:05"


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


@pytest.mark.parametrize("inside", [-45, 60])
@pytest.mark.parametrize("outside", [-45.5, 60.5])
def test_the_range_of_the_rate_of_cure(inside, outside):
    """The same range as the humidity has (WMO No. 8); beyond it no sealant is laid."""
    rate = {"humidity": 50, "standard_rate": 3, "doubling": 10}
    assert cure.cure_rate(air=inside, **rate) == pytest.approx(3 * 2 ** ((inside - 23) / 20))
    with pytest.raises(ValueError, match=r"^air: .*-45.*60"):
        cure.cure_rate(air=outside, **rate)


@pytest.mark.parametrize(("ply", "allowed"), [(6, 0.2), (6.2, 0.3), (12, 0.3), (12.2, 0.5), (15, 0.5), (15.2, 1.0), (25, 1.0)])
def test_a_ply_at_the_ends_of_the_rows_of_its_tolerance(ply, allowed):
    """EN 572-2, table 1: ± 0,2 to 6 mm, ± 0,3 to 12, ± 0,5 for 15, ± 1,0 for 19 and 25."""
    assert tolerance.ply_thickness(ply=ply) == allowed


def test_frit_that_is_all_fade_has_no_solid_part():
    assert frit.solid_frit(frit_width=12, fade=12) == 0


@pytest.mark.parametrize(("mass", "count"), [(60, 4), (60.1, 5), (14, 2)])
def test_suction_cups(mass, count):
    """Cups of 30 kg at half their rating: 15 kg each, two at least."""
    assert lifting.cups_needed(mass=mass, rating=30, derating=0.5, least=2) == count


@pytest.mark.parametrize(
    ("opening", "along", "strain"),
    [
        (2, 0, 0.5),  # 6 for 4
        (-1, 0, 0.25),  # pressed
        (-1, 4, 0.25),  # √(3² + 4²) = 5 for 4
        (0, 3, 0.25),  # √(4² + 3²) = 5 for 4
        (-5, 3, 1.25),  # closed for good: nothing is left but 3 along; pressed by 5 / 4
        (0, 0, 0),
    ],
)
def test_strain_of_a_sealant_in_a_joint_of_4(opening, along, strain):
    assert joint.greatest_strain(opening=opening, movement_along=along, least_width=4) == pytest.approx(strain)


@pytest.mark.parametrize("sideways", [0.0, 10.0])
def test_two_blocks_that_lean_against_each_other(sideways):
    """Radius 200, blocks 30° to either side of the lowest point, pushing at the centre. Upwards (F1 + F2) cos 30° = 100, and to the side
    (F1 - F2) sin 30° + the force to the side = 0; nothing turns the pane.
    """
    below = 200 * math.sqrt(3) / 2
    pair = [chocks.Contact(side * 100, -below, -side * 0.5, math.sqrt(3) / 2) for side in (-1, 1)]
    found = chocks.block_forces(contacts=pair, weight=(sideways, -100), centroid=(0, 0))
    half = 100 / math.sqrt(3)
    assert found.forces == pytest.approx((half - sideways, half + sideways))
    assert (found.turning, found.sliding) == pytest.approx((0, 0), abs=1e-9)
    aside = chocks.block_forces(
        contacts=pair, weight=(0, -100), centroid=(7, 0)
    )  # the weight turns it back, clockwise by 100 × 7
    assert aside.forces == pytest.approx((half, half))
    assert aside.turning == pytest.approx(-700)


def test_a_square_pane_has_an_aspect():
    assert pane_bending.aspect_of(600, 600) == 1


def test_a_straight_of_twice_the_distance_from_its_ends_has_one_spacer():
    assert bead.spacer_places(straight=100, pitch=450, end_distance=50) == (50,)
    assert bead.spacer_places(straight=101, pitch=450, end_distance=50) == (50, 51)


def test_gap_in_a_corner_that_is_not_square():
    """Interior angle 60°: sharp corners 6 / sin 30° = 12 apart; each rounding lies radius × (1 / sin 30° - 1) = radius inside its own."""
    assert corner.corner_gap(joint_width=6, glass_radius=10, recess_radius=14, interior_angle=60) == pytest.approx(12 + 10 - 14)
    assert corner.bisector_distance(offset=3, radius=5, interior_angle=60) == pytest.approx(6 + 5)


@pytest.mark.parametrize(
    "blocks",
    [
        [(-100, 0, 0, 1), (0, 0, 0, 1), (100, 0, 0, 1)],  # parallel
        [(-100, 0, 1, 0), (0, -80, 0, 1), (100, 0, -1, 0)],  # all towards (0, 0)
        [(0, 0, 1, 0), (0, 0, 0, 1), (0, 0, -1, 0)],  # at one point
    ],
)
def test_three_blocks_that_cannot_hold_a_pane(blocks):
    contacts = [chocks.Contact(*block) for block in blocks]
    with pytest.raises(ValueError, match="parallel or meet in one point"):
        chocks.block_forces(contacts=contacts, weight=(0, -100), centroid=(0, 0))


def test_tolerance_of_a_face_without_paint():
    assert tolerance.flush_tolerance(spacer=0.5, glass_thickness=0.3, recess_depth=1) == pytest.approx(1.8)
    assert tolerance.flush_tolerance(spacer=0.5, glass_thickness=0.3, recess_depth=1, paint=0.2) == pytest.approx(2.0)
