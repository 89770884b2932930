"""The bonding day: quantities, clock, climate and cure, with results worked by hand in the comments."""

import datetime
import itertools
import math

import pytest

from geometry.rules.day import climate, cure, lifting, quantities, time_plan


def test_quantities_by_hand():
    # 3.497 m × 6 × 6 mm × 1.15 = 144.8 ml
    assert quantities.backfill_volume(perimeter=3497, joint_width=6, backfill_depth=6, waste=0.15) == pytest.approx(
        144.8, abs=0.05
    )
    assert quantities.backer_length(perimeter=3497, waste=0.05) == pytest.approx(3671.85)
    # 3.4 m × 21 mm = 0.0714 m²; × 0.15 l × 2 = 21.4 ml
    assert quantities.glass_primer(bead_length=3400, bond_width=15, coat=0.15, times=2, beside=3) == pytest.approx(21.42)
    # + 3.497 m × 6 mm = 0.020982 m²
    frame = quantities.frame_primer(bead_length=3400, bond_width=15, perimeter=3497, joint_width=6, coat=0.15, times=2, beside=3)
    assert frame == pytest.approx(27.7146)
    assert quantities.activator(bead_length=3400, bond_width=15, coat=0.05, times=2, beside=3) == pytest.approx(14.28)
    # 3.4 m × 80 mm = 0.272 m² × 0.1 l × 1.5
    assert quantities.solvent(bead_length=3400, frit_width=40, landing=40, coat=0.1, times=1.5) == pytest.approx(40.8)
    assert quantities.masking_tape(perimeter=3497, lines=4, waste=0.1) == pytest.approx(15386.8)
    assert quantities.shielding_tape(perimeter=3497, tape_width=50, corners=4, waste=0.1) == pytest.approx(4066.7)
    assert quantities.cloths(bead_length=3400, passes=4, each=2000) == 8
    assert quantities.abrasive_pads(bead_length=4001, each=4000) == 2
    assert quantities.blocks_to_pack(number=12, spare=2) == 14


def test_packs_on_the_edge():
    # 570 ml come out of a pack of 600: 570 is one pack, a drop more is two
    assert quantities.packs_needed(to_buy=570, pack=600, pack_yield=0.95) == 1
    assert quantities.packs_needed(to_buy=570.1, pack=600, pack_yield=0.95) == 2
    # two guns cannot share one pack
    assert quantities.packs_needed(to_buy=100, guns=2, pack=600, pack_yield=0.95) == 2
    assert quantities.packs_needed(to_buy=1200, guns=2, pack=600, pack_yield=0.95) == 3


def test_guns_share_the_packs():
    assert time_plan.bead_time(volume=600, packs=4, guns=1, rate=60.0, pack_change=1.5) == pytest.approx(10 + 3 * 1.5)
    assert time_plan.bead_time(volume=600, packs=4, guns=2, rate=60.0, pack_change=1.5) == pytest.approx(5 + 1.5)
    assert time_plan.bead_time(volume=600, packs=2, guns=2, rate=60.0, pack_change=1.5) == pytest.approx(5)


def test_the_chains_run_side_by_side():
    steps = time_plan.making_ready(bead_length=3400, area=716_900)
    steps += time_plan.placing(ready=51.16, climate_check=3, bead_start=60, bead_time=4.25, lift=3, align=4, press=3)
    for chain in ("frame", "glass", "both"):
        own = [step for step in steps if step.chain == chain]
        assert all(a.end == pytest.approx(b.start) for a, b in itertools.pairwise(own))
    assert {steps[0].start, next(step for step in steps if step.chain == "glass").start} == {0.0}
    assert steps[-1].end == pytest.approx(60 + 4.25 + 10)


def test_unmasking_runs_inside_the_flash_off():
    # 3.4 m at 0.5 min: 1.7 of the 20 minutes; 50 m take 25 minutes, longer than the flash-off itself
    short = time_plan.making_ready(bead_length=3400, area=716_900)
    assert short[-2].length + short[-1].length == pytest.approx(20)
    assert short[-1].flash and not short[-2].flash
    long = time_plan.making_ready(bead_length=50_000, area=5e6)
    assert (long[-2].length, long[-1].length) == pytest.approx((25, 0))


@pytest.mark.parametrize(
    ("ready", "begins", "step", "starts"),
    [(51.2, 480, 15, 60), (60, 480, 15, 60), (60.1, 480, 15, 75), (51.2, 490, 15, 65), (51.2, 480, 0, 51.2)],
)
def test_the_bead_waits_for_the_full_quarter(ready, begins, step, starts):
    # work from 08:10 (490): 51.2 minutes later it is 09:01, so the bead starts at 09:15, 65 minutes after the start
    found = time_plan.bead_start(frame_ready=40, glass_ready=ready, climate_check=0, work_begins=begins, clock_step=step)
    assert found == pytest.approx(starts)


@pytest.mark.parametrize(("check", "step", "starts"), [(3, 0, 54.2), (3, 15, 60), (9, 15, 75), (0, 0, 51.2)])
def test_the_climate_is_checked_before_the_bead(check, step, starts):
    """Faces ready at 51.2: three minutes later 54.2; nine minutes later it is past nine o'clock."""
    found = time_plan.bead_start(frame_ready=40, glass_ready=51.2, climate_check=check, work_begins=480, clock_step=step)
    assert found == pytest.approx(starts)
    steps = time_plan.placing(ready=51.2, climate_check=check, bead_start=found, bead_time=4, lift=3, align=4, press=3)
    kinds = [each.kind for each in steps]
    assert kinds.index(time_plan.StepKind.CLIMATE_CHECK) < kinds.index(time_plan.StepKind.BEAD)
    assert (time_plan.StepKind.WAIT_FOR_CLOCK in kinds) == (step > 0)
    assert all(a.end == pytest.approx(b.start) for a, b in itertools.pairwise(steps))


def test_wait_of_a_primed_face():
    assert time_plan.primed_wait(last_press=74.25, primed=24.18) == pytest.approx(50.07)


def test_warmest_air_is_the_open_time_turned_round():
    # 20 minutes of 0.8 x 30: 23 - 10 log2(0.8333) = 25.63; 24 minutes just fill it at 23
    assert climate.warmest_air(elapsed=20, humidity=50, open_time_at_23=30, share=0.8, halving=10) == pytest.approx(
        25.63, abs=0.01
    )
    assert climate.warmest_air(humidity=50, elapsed=24, open_time_at_23=30, share=0.8, halving=10) == 23
    assert climate.warmest_air(humidity=50, elapsed=12, open_time_at_23=30, share=0.8, halving=10) == 33
    assert climate.warmest_air(humidity=50, elapsed=25, open_time_at_23=30, share=0.8, halving=10) == -math.inf
    # 60 minutes at 8 °C beside 30 at 23: half of the fifteen degrees colder it lasts √2 longer
    cold = {"open_time_at_23": 30, "halving": 10, "cold_open_time": 60, "cold_air": 8}
    assert climate.open_time(air=15.5, humidity=50, **cold) == pytest.approx(30 * math.sqrt(2))
    assert climate.warmest_air(humidity=50, elapsed=24 * math.sqrt(2), share=0.8, **cold) == pytest.approx(15.5)
    assert climate.open_time(air=-5, humidity=50, **cold) == pytest.approx(60)


def test_neither_the_cold_nor_dry_air_lengthens_the_open_time_beyond_the_sheet():
    """30 minutes at 23 °C and 50 %: 30 at 8 °C, not 85; at 85 % of humidity 30 × 50 / 85 = 17.6, by the vapour pressure of the air."""
    sheet = {"open_time_at_23": 30, "halving": 10}
    assert climate.open_time(air=8, humidity=50, **sheet) == climate.open_time(air=23, humidity=20, **sheet) == 30
    assert climate.open_time(air=23, humidity=85, **sheet) == pytest.approx(17.6, abs=0.05)
    by_vapour = climate.vapour_pressure(air=23, humidity=50) / climate.vapour_pressure(air=23, humidity=85)
    assert climate.open_time(air=23, humidity=85, **sheet) == pytest.approx(30 * by_vapour)


@pytest.mark.parametrize(
    ("minutes", "start", "shown"), [(0, "08:00", "08:00"), (64.25, "08:00", "09:05"), (1000, "20:30", "13:10")]
)
def test_clock(minutes, start, shown):
    assert time_plan.clock(minutes, start=start) == shown


def test_what_is_planned_is_rounded_up_to_the_minute_and_a_limit_down():
    assert time_plan.clock(64.25, limit=True) == "09:04"
    assert time_plan.clock(64.0) == time_plan.clock(64.0, limit=True) == "09:04"
    assert (time_plan.span(47.2), time_plan.span(47.2, limit=True), time_plan.span(60)) == ("0:48", "0:47", "1:00")
    assert time_plan.span(-12.5, limit=True) == "-0:13"


def test_the_latest_lift_and_the_wait_of_an_activated_face():
    """30 minutes of open time, 80 % of it: 24 less 3, 4 and 3 leave 14."""
    assert time_plan.latest_lift(abort=24, lift=3, align=4, press=3) == 14
    assert time_plan.activated_wait(primed=24.18, wiped=6.8) == pytest.approx(17.38)


def test_the_bead_is_hosed_when_bead_and_sealant_are_through():
    """(18 / 6)² = 9 days where the bead of 15 is pressed 1.5 wider on each side; the joint closed on day 9 is hosed on day 10."""
    assert cure.widest_bead(bond_width=15, squeeze_out=1.5) == 18
    assert cure.hose_day(cured_through=8.1, backfilled_after=7, sealant_days=1) == 9
    assert cure.hose_day(cured_through=8.1, backfilled_after=9, sealant_days=1) == 10


def test_people_above_the_shoulder():
    """25 kg at the waist, half of it above the shoulder: two carry 25 × 2 × 2/3 / 2 = 16.7 kg there."""
    share = lifting.reach_share(at_hand=1, height=1700, shoulder=1400, above=0.5)
    assert share == 0.5
    assert lifting.reach_share(at_hand=1, height=1400, shoulder=1400, above=0.5) == 1
    assert lifting.people_limit(people=2, one=25, two=2 / 3, more=0.5, reach_share=share) == pytest.approx(16.67, abs=0.01)
    assert lifting.load_of_each(mass=30, people=2) == 15


def test_go_and_no_go_name_every_reason():
    bad = climate.ready_to_bond(air=30, humidity=90, glass=12, frame=40, margin=3, most_humidity=85, coldest=5, warmest=35)
    assert not bad.go
    assert len(bad.reasons) == 3  # damp air, cold glass, hot frame
    assert any(reason.startswith("glass") for reason in bad.reasons)


def test_a_pane_already_warm_needs_no_wait():
    assert climate.warm_up_time(start=21, target=20, air=22, time_constant=22) == 0


def test_handling_time():
    # 4 × 868 N over 0.14 MPa × 6044 mm is 4.1 mm of width: 2.05 mm a side, 0.47 d: the least day governs
    width = cure.handling_width(weight=868, design_tension=0.14, bead_length=6044, dynamic_factor=1, safety=4)
    assert width == pytest.approx(4.103, abs=0.001)
    assert cure.handling_days(width=width, bond_width=18, rate=3, least=1) == 1
    # 4 × 868 × 2 N over 0.3 MPa × 2014.7 mm: 11.49 mm, 5.74 a side, 3.67 d; from one face 14.7 d
    width = cure.handling_width(weight=868, design_tension=0.3, bead_length=2014.7, dynamic_factor=2, safety=4)
    assert width == pytest.approx(11.489, abs=0.001)
    assert cure.handling_days(width=width, bond_width=18, rate=3, least=1) == pytest.approx(3.667, abs=0.001)
    assert cure.handling_days(width=width, bond_width=18, inner_face_open=False, rate=3, least=1) == pytest.approx(
        14.667, abs=0.001
    )
    # backfilled on day 1: 3 mm from outside, the other 8.489 mm from inside: (8.489 / 3)² = 8.0 d
    assert cure.handling_days(width=width, bond_width=18, backfilled_after=1, rate=3, least=1) == pytest.approx(8.007, abs=0.001)
    with pytest.raises(ValueError, match="bond width: found 11"):
        cure.handling_days(width=width, bond_width=11, rate=3, least=1)


def test_least_handling_time_grows_in_the_cold():
    assert cure.least_handling_days(hours=24, rate=3, standard_rate=3) == 1
    # half the rate takes four times as long; a faster cure shortens nothing
    assert cure.least_handling_days(hours=24, rate=1.5, standard_rate=3) == 4
    assert cure.least_handling_days(hours=36, rate=6, standard_rate=3) == 1.5


def test_a_bead_shut_on_both_sides_never_cures():
    # 15 mm from one face at 3 mm: 25 days
    assert cure.days_backfilled(bond_width=15, backfilled_after=25, inner_face_open=False, rate=3) == 25
    with pytest.raises(ValueError, match="allowed: at least 25"):
        cure.days_backfilled(bond_width=15, backfilled_after=24.9, inner_face_open=False, rate=3)


def test_day_of_the_backfill():
    # (15 / 6)² = 6.25: day 7; one face 25; a 5 mm bead cures in 0.69 d but waits for the first day
    assert cure.backfill_day(bond_width=15, rate=3, first_day=1) == 7
    assert cure.backfill_day(bond_width=15, inner_face_open=False, rate=3, first_day=1) == 25
    assert cure.backfill_day(bond_width=5, first_day=1.5, rate=3) == 1.5


def test_days_to_the_launch():
    day = datetime.date(2026, 3, 2)
    assert cure.days_to_launch(launch=datetime.date(2026, 6, 15), issued=day) == 29 + 30 + 31 + 15  # March, April, May, June
    assert cure.days_to_launch(launch=datetime.date(2026, 3, 1), issued=day) == -1


def test_dampest_air_is_the_dew_point_turned_round():
    for air, surface in ((20, 17.4), (10, 11.4), (2, 1.0), (-5, -6)):
        humidity = climate.dampest_air(air=air, surface=surface, margin=3)
        assert climate.dew_point(air=air, humidity=humidity) == pytest.approx(surface - 3)
    assert climate.dampest_air(air=10, surface=30, margin=3) == 100


def test_warmer_and_damper_cures_faster_and_skins_sooner():
    assert cure.cure_rate(air=23, humidity=50, standard_rate=3, doubling=10) == 3
    assert cure.cure_rate(air=33, humidity=50, standard_rate=3, doubling=10) == pytest.approx(3 * 2**0.5)
    assert cure.cure_rate(air=23, humidity=80, standard_rate=3, doubling=10) > 3
    assert climate.open_time(air=33, humidity=50, open_time_at_23=30, halving=10) == 15


def test_gear_when_people_do_not_reach():
    assert lifting.people_needed(mass=25, most=4, one=25, two=2 / 3, more=0.5, reach_share=1) == 1
    assert lifting.people_needed(mass=25.1, most=4, one=25, two=2 / 3, more=0.5, reach_share=1) == 2
    # at arm's length two may carry 16.7, three 18.75, four 25 kg
    assert lifting.people_needed(mass=20, reach_share=0.5, most=4, one=25, two=2 / 3, more=0.5) == 4
    assert lifting.people_needed(mass=51, most=4, one=25, two=2 / 3, more=0.5, reach_share=1) is None
