"""What is judged on the day: the values that the page works with are those that the plan was made of."""

from __future__ import annotations

from pathlib import Path

import pytest

from geometry.findings.check import check_pane
from geometry.job import read_job, with_changes
from geometry.rules.day import climate
from geometry.rules.day.time_plan import StepKind, latest_lift, time_limit
from geometry.workings.on_the_day import on_the_day

JOB = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")
CHANGED = {
    "limits.dew_margin": 4.0,
    "limits.humidity_most": 80.0,
    "limits.bonding_coldest": 8.0,
    "limits.bonding_warmest": 30.0,
    "work.open_time_share": 70.0,
    "work.alarm_ahead": 3.0,
    "work.glass_primer_longest": 90.0,
    "work.frame_wipe_longest": 25.0,
}


def found(**changes):
    pane = JOB.panes[0]
    job = with_changes(JOB, pane.code, changes)
    check = check_pane(job, job.panes[0])
    return check, on_the_day(check.subject, check.time_plan)


def test_limits_and_longest_waits_are_those_of_the_job():
    _, day = found(**CHANGED)
    limits = day.climate
    assert (limits.margin, limits.most_humidity, limits.coldest, limits.warmest) == (4.0, 80.0, 8.0, 30.0)
    assert (day.open_time.share, day.ahead) == (pytest.approx(0.7), 3.0)
    told = [(wait.face, wait.primed, wait.after.kind, wait.until and wait.until.kind, wait.longest) for wait in day.waits]
    assert told == [
        ("frame", False, StepKind.WIPE_FLASH, StepKind.PRIMER_FLASH, 25.0),
        ("frame", True, StepKind.PRIMER_FLASH, None, None),
        ("glass", False, StepKind.WIPE_FLASH, StepKind.UNMASK, None),
        ("glass", True, StepKind.UNMASK, None, 90.0),
    ]


@pytest.mark.parametrize(
    "changes",
    [
        {},
        CHANGED,
        {"adhesive.open_time_cold": 60.0, "adhesive.open_time_cold_air": 5.0, "climate.air": 12.0, "climate.surface": 12.0},
    ],
)
def test_the_plan_comes_out_again_from_the_values_at_the_climate_of_the_job(changes):
    """Open time, abort and last lift by the rules alone, from what a page is given."""
    check, day = found(**changes)
    plan, air = check.time_plan, check.subject.pane.climate
    sheet = day.open_time
    opened = climate.open_time(
        air=air.air,
        humidity=air.humidity,
        open_time_at_23=sheet.at_standard,
        halving=sheet.halving,
        cold_open_time=sheet.cold,
        cold_air=sheet.cold_air,
    )
    limit = time_limit(open_time=opened, share=sheet.share)
    assert limit == pytest.approx(plan.limit) and day.elapsed == pytest.approx(plan.last_press - plan.bead_starts)
    lift, align, press = (step.length for step in plan.steps if step.kind in (StepKind.LIFT, StepKind.ALIGN, StepKind.PRESS))
    last = latest_lift(abort=limit, lift=lift, align=align, press=press)
    assert limit - day.in_place == pytest.approx(last) == pytest.approx(plan.latest_lift - plan.bead_starts)


def test_the_coefficients_are_those_of_the_magnus_form():
    """WMO No. 8, Annex 4.B: 17.62 and 243.12 °C over water, 22.46 and 272.62 °C over ice (the latter from memory)."""
    _, day = found()
    assert (day.climate.water, day.climate.ice) == ((17.62, 243.12), (22.46, 272.62))
