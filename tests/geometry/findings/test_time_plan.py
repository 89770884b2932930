"""The plan by the clock: the worked example of an invented saloon light, worked by hand in the comments, and what moves it."""

import itertools
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.workings.subject import Subject
from geometry.workings.time_plan import clock, time_plan_of

SAMPLES = Path(__file__).parents[3] / "samples"
JOB = read_job(SAMPLES / "sallow-wren.toml")
STANDARD_AIR = {"climate.air": 23.0, "climate.humidity": 50.0, "climate.surface": 23.0}


def plan_of(code, **changes):
    job = with_changes(JOB, code, {key.replace("__", "."): value for key, value in changes.items()})
    pane = next(pane for pane in job.panes if pane.code == code)
    return time_plan_of(Subject(job, pane, build_detail(job, pane)), Ledger())


def in_standard_air(code, **changes):
    return plan_of(code, **{key.replace(".", "__"): value for key, value in STANDARD_AIR.items()}, **changes)


def test_saloon_light_by_the_clock():
    """Worked example of an invented pane, by hand: 3.4 m of bead of 75 mm², two fitters from 08:00, 23 °C."""
    plan = in_standard_air("SW-01")
    at = {(step.chain, step.what): clock(plan, step.start) for step in plan.steps}
    # frame: 5.1 + 1.7 + 15 + 2.38 + 20 + 4 = 48.2; glass: 5 + 3 + 4.08 + 1.7 + 15 + 2.38 + 20 = 51.2; next quarter: 09:00
    assert at["frame", "vacuum, activator wipe"] == "08:06"  # 5.1 minutes: up to the minute
    assert at["glass", "mask two lines"] == "08:08"
    assert at["glass", "activator on the bond line"] == "08:13"
    assert at["both", "bead"] == "09:00"
    assert at["both", "lift"] == "09:05"  # 255 ml at 60 ml/min: 4 min 15 s
    assert at["both", "align"] == "09:08"
    assert at["both", "press"] == "09:12"
    assert clock(plan, plan.last_press) == "09:15"
    assert clock(plan, plan.latest_abort, limit=True) == "09:24"  # 0.8 × 30
    assert clock(plan, plan.latest_lift, limit=True) == "09:14"  # 3 + 4 + 3 before the abort
    assert (plan.too_long, plan.do_not_start) == (0.0, False)
    assert plan.elapsed == pytest.approx(255 / 60 + 3 + 4 + 3, abs=0.01)
    assert plan.limit == pytest.approx(24)
    assert plan.in_time
    assert (plan.packs, plan.pack_changes, plan.guns, plan.with_gear) == (1, 0, 1, False)


def test_days_of_the_saloon_light():
    """15 mm at 3 mm in the square root of days: (15 / 6)² = 6.25 both faces, 25 one face.

    Where it is pressed widest, 75 mm² at 3.247 mm, it is 23.1 wide: (23.1 / 6)² = 14.8, the backfill on the whole day after, the hose a
    day later.
    """
    plan = in_standard_air("SW-01")
    assert plan.full_cure_both == pytest.approx(6.25)
    assert plan.full_cure_one == pytest.approx(25)
    assert (plan.backfill_day, plan.hose_day) == (15, 16)
    assert plan.full_cure_as_planned == pytest.approx(6.25)
    # 4 × 1.5 × 17.9 kg × 9.81 / (0.14 × 3400) = 2.2 mm: cured in (2.2 / 6)² = 0.14 d, so the 24 h govern
    assert plan.handling_day == pytest.approx(1)


def test_deck_light_backfilled_on_the_day_it_is_bonded():
    """20 mm: 44.4 days with one face open, 11.1 with both."""
    plan = in_standard_air("SW-05")
    assert plan.backfill_day == 0
    assert plan.full_cure_as_planned == pytest.approx(44.4, abs=0.05)
    assert plan.full_cure_both == pytest.approx(11.1, abs=0.05)
    assert in_standard_air("SW-05", backfill_after=3.0).full_cure_as_planned == pytest.approx(24.4, abs=0.05)
    # backfilled after it has cured through: the backfill delays nothing
    assert in_standard_air("SW-05", backfill_after=14.0).full_cure_as_planned == pytest.approx(11.1, abs=0.05)


def test_closed_inside():
    plan = in_standard_air("SW-01", inner_face_open=False)
    # 23.1 mm from one face: (23.1 / 3)² = 59.3
    assert plan.backfill_day == 60 and plan.full_cure_as_planned == pytest.approx(25)
    shut = in_standard_air("SW-01", inner_face_open=False, backfill_after=3.0)
    assert shut.full_cure_as_planned is None and shut.hose_day is None
    # 3 mm × √3 = 5.2 mm are cured by then, more than the 2.2 that carry the pane
    assert shut.handling_day == pytest.approx(1)
    # by the first morning 3 × √0.1 = 0.95 mm are, and no more ever come
    assert in_standard_air("SW-01", inner_face_open=False, backfill_after=0.1).handling_day is None


def test_wheelhouse_front_takes_gear_and_a_pack_change():
    """652.8 ml / 60 = 10.9, one change 1.5, lift 6, align 6, press 4 on more than 1.5 m²: 28.4 min; 28 °C leaves 17.0, and 60 % a sixth less."""
    plan = plan_of("SW-06")
    assert plan.with_gear and plan.packs == 2 and plan.pack_changes == 1
    assert plan.elapsed == pytest.approx(28.4, abs=0.05)
    assert plan.open_time == pytest.approx(30 / 2**0.5 / 1.2)
    assert plan.limit == pytest.approx(14.1, abs=0.05)
    assert not plan.in_time
    assert in_standard_air("SW-06").limit == pytest.approx(24)


@pytest.mark.parametrize(("rate", "guns", "elapsed"), [(120.0, 1, 22.9), (120.0, 2, 18.7)])
def test_powered_guns_on_the_wheelhouse_front(rate, guns, elapsed):
    """5.44 + 1.5 + 16, and 2.72 + 16 without a change: each gun has its own pack."""
    plan = plan_of("SW-06", work__bead_rate=rate, work__guns=guns)
    assert plan.elapsed == pytest.approx(elapsed, abs=0.051)
    assert plan.pack_changes == 2 - guns


def test_carrying_by_hand_or_with_gear_sets_the_time():
    # gear on the saloon light: 6 + 6 in place of 3 + 4
    by_hand, gear = plan_of("SW-01"), plan_of("SW-01", work__lifting_gear=True)
    assert gear.elapsed - by_hand.elapsed == pytest.approx(5)
    # 90.5 kg: nine people may carry 112 kg
    assert not plan_of("SW-06", work__people=9).with_gear
    assert not plan_of("SW-06", work__lifting_gear=False).with_gear


def test_rates_of_the_job_are_the_rates_of_the_plan():
    """Each rate moved by itself moves its own step, and by the amount that 3.4 m of bead give."""
    base = in_standard_air("SW-01")
    for key, old, what, chain, factor in (
        ("abrade", 1.5, "abrade the landing", "frame", 3.4),
        ("frame_wipe", 0.5, "vacuum, activator wipe", "frame", 3.4),
        ("frame_wipe_flash", 15, "flash-off of the activator", "frame", 1),
        ("frame_primer", 0.7, "prime the landing", "frame", 3.4),
        ("frame_primer_flash", 20, "flash-off of the primer", "frame", 1),
        ("set_out", 4, "spacers, chocks, gun", "frame", 1),
        ("goods_in", 5, "goods-in check", "glass", 1),
        ("clean_least", 3, "solvent clean", "glass", 1),
        ("mask", 0.6, "mask two lines", "glass", 6.8),
        ("glass_wipe", 0.5, "activator on the bond line", "glass", 3.4),
        ("glass_wipe_flash", 15, "flash-off of the activator", "glass", 1),
        ("glass_primer", 0.7, "black primer on the glass", "glass", 3.4),
        ("glass_primer_flash", 20, "flash-off of the primer", "glass", 1),
        ("unmask", 0.5, "unmask", "glass", 3.4),
        ("climate_check", 3, "climate check", "both", 1),
    ):
        moved = in_standard_air("SW-01", **{f"work__{key}": old + 1.0})
        lengths = [{(step.chain, step.what): step.length for step in plan.steps} for plan in (base, moved)]
        assert lengths[1][chain, what] - lengths[0][chain, what] == pytest.approx(factor, abs=0.002), key


def test_the_bead_starts_when_the_clock_shows_a_full_quarter():
    assert clock(plan_of("SW-01", work__clock_step=0.0), plan_of("SW-01", work__clock_step=0.0).bead_starts) == "08:55"
    hour = plan_of("SW-01", work__clock_step=60.0)
    assert clock(hour, hour.bead_starts) == "09:00"
    waits = [step for step in plan_of("SW-01").steps if step.chain == "both" and step.flash]
    assert len(waits) == 1 and waits[0].end == pytest.approx(60)
    assert not [step for step in plan_of("SW-01", work__clock_step=0.0).steps if step.chain == "both" and step.flash]


def test_every_chain_is_without_a_gap():
    for code in (pane.code for pane in JOB.panes):
        plan = plan_of(code)
        for chain in ("frame", "glass", "both"):
            steps = [step for step in plan.steps if step.chain == chain]
            assert all(a.start + a.length == pytest.approx(b.start) for a, b in itertools.pairwise(steps))
        assert plan.steps[-1].start + plan.steps[-1].length == pytest.approx(plan.last_press)
        assert plan.latest_abort - plan.bead_starts == pytest.approx(plan.limit)


def test_longest_waits_count_from_the_end_of_priming():
    assert plan_of("SW-01").longest_waits == ()
    assert [latest for _, latest in plan_of("SW-01").waits] == [None] * 4  # boxes to be filled in
    plan = plan_of("SW-01", work__frame_primer_longest=480.0, work__glass_primer_longest="2 h")
    (_, frame), (_, glass) = plan.longest_waits
    # 5.1 + 1.7 + 15 + 2.38 on the frame; 5 + 3 + 4.08 + 1.7 + 15 + 2.38 on the glass
    assert frame == pytest.approx(24.18 + 480, abs=0.01)
    assert glass == pytest.approx(31.16 + 120, abs=0.01)
    wiped = plan_of("SW-01", work__frame_wipe_longest=60.0, work__glass_wipe_longest="1 h")
    # 5.1 + 1.7 on the frame; 5 + 3 + 4.08 + 1.7 on the glass
    assert [latest for _, latest in wiped.waits] == [
        pytest.approx(66.8, abs=0.01), None, pytest.approx(73.78, abs=0.01), None
    ]  # fmt: skip


def test_a_plan_longer_than_its_abort_says_by_how_much():
    """10 minutes of open time, 80 % of it, against 14 min 15 s of bead, lift, align and press."""
    plan = plan_of("SW-01", adhesive__open_time=10.0, climate__air=23.0, climate__humidity=50.0)
    assert plan.do_not_start and not plan.in_time
    assert plan.too_long == pytest.approx(255 / 60 + 10 - 8, abs=0.01)
    assert plan.latest_lift < plan.bead_starts  # 8 less 10 minutes


def test_clock_past_midnight_says_the_day():
    import datetime

    plan = plan_of("SW-01", work__start=datetime.time(23, 30))
    assert clock(plan, 0) == "23:30"
    assert clock(plan, 29.9, limit=True) == "23:59"
    assert clock(plan, 29.9) == "00:00 +1 day"
    assert clock(plan, 30) == "00:00 +1 day"
    assert clock(plan, 35.99, limit=True) == "00:05 +1 day"
    assert clock(plan, 30 + 1440) == "00:00 +2 days"
    assert clock(plan, plan.bead_starts) == "00:30 +1 day"  # 51.2 minutes: 00:21, next quarter
    with pytest.raises(ValueError, match="minutes: found"):
        clock(plan, -2000)


def test_the_start_of_work_moves_the_clock_only():
    import datetime

    early = plan_of("SW-01", work__start=datetime.time(7, 10))
    assert clock(early, early.bead_starts) == "08:15"  # 07:10 and 51 minutes are 08:01
    assert early.elapsed == plan_of("SW-01").elapsed
