"""Sessions of a job planned and judged: the invented sessions of the samples by hand, packs by hand, what does not fit and by how much."""

from __future__ import annotations

import datetime
import math
from functools import cache
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import CHECKS, check_pane, quick_findings
from geometry.findings.day.session_checks import APART, GUNS, IN_DAY, IN_ONE, PEOPLE, READ_FIRST, SAME_AIR
from geometry.findings.proving import found_after, made
from geometry.job import job_of, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.rules.day.quantities import packs_needed, packs_opened
from geometry.workings.fill_days import fill_day_of, fill_days
from geometry.workings.pooled import pooled
from geometry.workings.quantities import ADHESIVE, SEALANT, quantities_of
from geometry.workings.session_plan import session_plans, vessel_sessions
from geometry.workings.session_releases import Release, bonded_on, releases_of
from geometry.workings.subject import Subject
from geometry.workings.time_plan import clock, time_plan_of
from geometry.workings.watched import SharingLedger

SAMPLE = (Path(__file__).parents[3] / "samples" / "sessions.toml").read_text(encoding="utf-8")


@cache
def subjects(*changes):
    text = SAMPLE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    job = job_of(text)
    return {pane.code: Subject(job, pane, build_detail(job, pane)) for pane in job.panes}


def plans(*changes):
    found = subjects(*changes)
    return session_plans(next(iter(found.values())).job, found)


def judged(code, constraint, *changes):
    subject = subjects(*changes)[code]
    check = check_pane(subject.job, subject.pane, subject.detail)
    return next((each for each in check.findings if each.name == constraint.name), None)


def plan(code, *changes):
    return time_plan_of(subjects(*changes)[code], Ledger())


def test_the_clock_of_a_pane_is_that_of_its_session():
    """The pane's own plan and the plan of its session are one: every step at the same minute."""
    for session in plans():
        for code in session.panes:
            own = [(step.chain, step.kind, step.start, step.end) for step in plan(code).steps if not step.flash]
            tasks = [(task.chain, task.kind, task.start, task.end) for task in session.tasks if task.pane == code]
            assert sorted(own, key=str) == sorted(tasks, key=str)
            assert (plan(code).session, plan(code).date) == (session.title, session.date)


def test_a_pane_that_cannot_be_built_is_named_and_the_others_are_worked_as_without_it():
    """A bead of 400 runs round no pane of the sample: P-2 takes nobody's time, and its session says that it is left out."""
    spoiled = SAMPLE.replace('code = "P-2"', 'code = "P-2"\nbond = { width = 400 }', 1)
    assert spoiled != SAMPLE
    found, whole = vessel_sessions(job_of(spoiled)), plans()
    assert [each.without for each in found] == [("P-2",), ()] and [each.without for each in whole] == [(), ()]
    first = [(task.chain, task.kind, task.start, task.end) for task in found[0].tasks if task.pane == "P-1"]
    assert first == [(task.chain, task.kind, task.start, task.end) for task in whole[0].tasks if task.pane == "P-1"]
    assert {task.pane for task in found[0].tasks} == set(whole[0].panes) - {"P-2"}


def test_beads_of_the_sample_by_hand():
    """P-1 alone is ready after 49.1 minutes, bead at 09:00. P-2 waits for the people until 72.9 + 3: 09:30; P-3 from 102.9 + 3: 10:00."""
    assert [clock(plan(code), plan(code).bead_starts) for code in ("P-1", "P-2", "P-3")] == ["09:00", "09:30", "10:00"]
    assert [clock(plan(code), plan(code).bead_starts) for code in ("S-1", "S-2")] == ["09:00", "09:30"]
    # the open time of the air that holds for the pane: 16 K or 5 K short of 23 does not lengthen it, 22 °C and 55 % shorten by 50 / 55
    assert plan("P-3").open_time == pytest.approx(30 * 50 / 55)
    assert plan("S-1").open_time == pytest.approx(30 * 50 / 70)


def test_packs_by_hand():
    """One gun, packs of 600 less 5 % = 570 ml. 300 + 200 = 500 in one pack that lasts, 300 more is a second; one that does not last is left."""
    at = {"begins": [0, 60, 120], "ends": [5, 65, 125], "pack": 600, "pack_yield": 0.95}
    needs = [300, 200, 300]
    assert packs_opened(to_buy=needs, **at, life=200) == 2
    assert packs_opened(to_buy=needs, **at, life=65) == 2  # the second pane ends on the minute; the third opens its own
    assert packs_opened(to_buy=needs, **at, life=64) == 3
    assert packs_opened(to_buy=needs, **at) == 3
    # 700 ml: two packs, 440 left of the second, opened when the bead of the first pane begins
    assert packs_opened(to_buy=[700, 440], begins=[0, 60], ends=[12, 68], pack=600, pack_yield=0.95, life=68) == 2
    assert packs_opened(to_buy=[700, 441], begins=[0, 60], ends=[12, 68], pack=600, pack_yield=0.95, life=68) == 3
    assert (
        packs_opened(to_buy=[570], begins=[0], ends=[9], pack=600, pack_yield=0.95)
        == packs_needed(to_buy=570, pack=600, pack_yield=0.95)
        == 1
    )


def test_packs_of_the_sessions_and_of_the_vessel():
    port, starboard = plans()
    lists = {code: quantities_of(each, Ledger()) for code, each in subjects().items()}
    needs = {code: each.row(ADHESIVE).amount for code, each in lists.items()}
    assert 570 < needs["P-1"] + needs["P-2"] + needs["P-3"] < 1140 and needs["S-1"] + needs["S-2"] < 570  # by hand: 2 and 1 packs
    assert (port.packs, starboard.packs, port.one_by_one, starboard.one_by_one) == (2, 1, 3, 2)
    job = subjects()["P-1"].job
    row = pooled([*lists.values()], [1] * 5, job, plans(), [*lists]).row(ADHESIVE)
    assert row.to_buy == "3 packs of 600 ml, and 2 in hand for 2 sessions"
    part = pooled([lists["P-1"], lists["S-1"], lists["S-2"]], [1, 1, 1], job, plans(), ["P-1", "S-1", "S-2"]).row(ADHESIVE)
    assert part.to_buy.startswith("2 packs") and "in no whole session" in part.basis  # P-1 alone opens one
    sealant = pooled([*lists.values()], [1] * 5, job, plans(), [*lists]).row(SEALANT)
    assert sealant.packs == 5 and 570 < sealant.amount < 1140  # by the amount alone two packs, of which 570 ml come out
    assert sealant.basis.endswith("no session gives the day of the backfill; 2 packs of 600 ml by the amount alone")


def test_sealant_is_opened_on_the_days_of_the_backfill():
    """Packs of 600 ml less 5 %: 570 ml for the panes of a day together, by hand; none goes on to another day, one more in hand for each."""
    lists = {code: quantities_of(each, Ledger()) for code, each in subjects().items()}
    needs = {code: each.row(SEALANT).amount for code, each in lists.items()}
    job, codes = subjects()["P-1"].job, [*lists]
    days = {code: fill_day_of(plan(code)) for code in codes}
    port, starboard = datetime.date(2026, 5, 4), datetime.date(2026, 5, 6)
    for code, bonded in (("P-1", port), ("P-2", port), ("P-3", port), ("S-1", starboard), ("S-2", starboard)):
        wait = plan(code).backfill_day
        assert wait is not None and days[code] == bonded + datetime.timedelta(days=math.ceil(wait))
    found = fill_days([*lists.values()], [1] * 5, codes, [*days.values()], job)
    assert {each.date: set(each.panes) for each in found} == {
        day: {code for code in codes if days[code] == day} for day in days.values()
    }
    for each in found:
        together = math.fsum(needs[code] for code in each.panes)
        assert each.amount == pytest.approx(together) and each.packs == math.ceil(together / 570)
        assert (each.one_by_one, each.in_hand) == (len(each.panes), 1)
    row = pooled([*lists.values()], [1] * 5, job, plans(), codes, found).row(SEALANT)
    assert row.packs == sum(each.packs for each in found) < 5 and row.in_hand == len(found)
    part = fill_days([*lists.values()], [1] * 5, codes, [None, *list(days.values())[1:]], job)  # P-1 has no day: it opens its own
    row = pooled([*lists.values()], [1] * 5, job, plans(), codes, part).row(SEALANT)
    assert row.packs == sum(each.packs for each in part) + 1 and "1 of them on no day that is known" in row.basis
    assert row.in_hand == len(part) + 1
    twice = fill_days([lists["P-1"]], [4], ["P-1"], [days["P-1"]], job)[0]
    assert twice.packs == math.ceil(4 * needs["P-1"] / 570) and twice.one_by_one == 4


def test_no_life_of_an_opened_pack_means_that_none_goes_on():
    port, starboard = plans(("opened_life = 120 ", "# "))
    assert (port.packs, starboard.packs, port.life) == (3, 2, None)


def test_pieces_of_one_code_are_bonded_one_by_one():
    port, _ = plans(('code = "P-2"', 'code = "P-2"\nquantity = 2'))
    assert {(task.pane, task.piece) for task in port.tasks if task.pane == "P-2"} == {("P-2", 1), ("P-2", 2)}
    assert plan("P-3", ('code = "P-2"', 'code = "P-2"\nquantity = 2')).bead_starts > plan("P-3").bead_starts


def test_a_pane_in_two_sessions_fails_and_one_in_none_is_looked_at():
    two = judged("P-2", IN_ONE, ('panes = ["S-1", "S-2"]', 'panes = ["S-1", "P-2"]'))
    assert (two.verdict, two.value) == (Verdict.FAIL, 2) and "port side and starboard side" in two.says
    none = judged("S-2", IN_ONE, ('panes = ["S-1", "S-2"]', 'panes = ["S-1"]'))
    assert (none.verdict, none.value) == (Verdict.LOOK, 0)
    assert judged("P-1", IN_ONE).verdict is Verdict.PASS
    bare = job_of(SAMPLE.split("[[session]]")[0] + SAMPLE[SAMPLE.index("[[pane]]") :])
    assert not [each for each in check_pane(bare, bare.panes[0]).findings if "session" in each.name]


def test_a_session_that_does_not_fit_its_day_says_by_how_much():
    """By hand: the bead of P-3 begins at 10:00, its volume at 60 ml/min; lift 3, align 4, press 3 minutes. 10:14 is late enough."""
    late = judged("P-3", IN_DAY, ("end = 16:00:00", "end = 10:00:00"))
    bead = subjects()["P-3"].detail.uncured_bead.volume / 60
    assert (late.verdict, late.limit) == (Verdict.FAIL, 120) and late.value == pytest.approx(120 + bead + 3 + 4 + 3, abs=1e-6)
    assert 3 < bead < 4
    assert late.says.endswith(": 14 min too long") and "14 min sooner" in late.remedies[0].sentence
    assert judged("P-2", IN_DAY, ("end = 16:00:00", "end = 10:00:00")).verdict is Verdict.PASS
    assert judged("P-3", IN_DAY, ("end = 16:00:00", "end = 10:14:00")).verdict is Verdict.PASS
    port = plans(("end = 16:00:00", "end = 10:00:00"))[0]
    assert port.too_long == pytest.approx(bead + 10, abs=1e-6)
    midnight = judged("P-3", IN_DAY, ("end = 16:00:00\n", ""), ("start = 08:00:00", "start = 22:00:00"))
    assert midnight.limit == 120 and midnight.verdict is Verdict.FAIL and "midnight" in midnight.says


def test_crew_and_guns_that_do_not_suffice_fail_and_the_clock_is_as_if_alone():
    one = ('crew = ["bonder", "helper"]', 'crew = ["bonder"]')
    assert judged("P-2", PEOPLE, one).verdict is Verdict.FAIL
    assert clock(plan("P-2", one), plan("P-2", one).bead_starts) == "09:00"
    assert plans(one)[0].short == ("P-1", "P-2", "P-3") and plans(one)[0].packs == 3
    guns = ('code = "P-2"', 'code = "P-2"\nwork = { guns = 2 }')
    assert judged("P-2", GUNS, guns).verdict is Verdict.FAIL and judged("P-1", GUNS, guns).verdict is Verdict.PASS


def test_a_reading_that_comes_after_the_bead_it_holds_for_fails():
    assert judged("P-3", READ_FIRST).verdict is Verdict.PASS  # 09:30, bead at 10:00
    late = judged("P-3", READ_FIRST, ("at = 09:30:00", "at = 10:20:00"))
    assert late.verdict is Verdict.FAIL and (late.value, late.limit) == (140, 120)
    assert judged("P-1", READ_FIRST) is None


def test_air_of_its_own_beside_that_of_the_session_is_looked_at():
    found = judged("P-2", SAME_AIR, ('code = "P-2"', 'code = "P-2"\nclimate = { frame_surface = 15 }'))
    assert found.verdict is Verdict.LOOK and "frame_surface" in found.says
    assert judged("P-1", SAME_AIR) is None


def test_nobody_is_in_two_sessions_at_the_same_time():
    same = ("date = 2026-05-06", "date = 2026-05-04")
    found = judged("S-1", APART, same)
    assert found.verdict is Verdict.FAIL and "bonder, helper" in found.says
    later = ("date = 2026-05-06\nstart = 08:00:00", "date = 2026-05-04\nstart = 10:30:00")
    assert judged("S-1", APART, later).verdict is Verdict.PASS
    assert judged("S-1", APART) is None


def test_days_to_the_launch_count_from_the_session():
    """From 4 May to 22 May there are 18 days, from the date of the sheet 32."""
    subject = subjects()["P-1"]
    check = check_pane(subject.job, subject.pane, subject.detail)
    found = next(each for each in check.findings if each.name == "pane may be handled before the launch")
    assert found.limit == 18 and "day of the session" in found.says
    without = subjects(("date = 2026-05-04", "# no date"))["P-1"]
    check = check_pane(without.job, without.pane, without.detail)
    assert next(each for each in check.findings if each.name == found.name).limit == 32


def test_releases_by_date():
    """Whole days after 4 May; a session past midnight is bonded on the day after."""
    found = {each.what: each for each in releases_of(plan("P-1"))}
    whole = plan("P-1")
    assert found[Release.BACKFILL].day == whole.backfill_day
    assert (found[Release.BACKFILL].date - whole.date).days == whole.backfill_day
    assert found[Release.STRAPS].date == found[Release.MOVE].date
    assert found[Release.LAUNCH].date >= found[Release.HOSE].date > found[Release.BACKFILL].date
    night = plan("P-1", ("end = 16:00:00\n", ""), ("start = 08:00:00", "start = 23:00:00"))
    assert (bonded_on(night) - night.date).days == 1
    bare = releases_of(plan("P-1", ("date = 2026-05-04", "# no date")))
    assert all(each.date is None and each.day is not None for each in bare)


@pytest.mark.parametrize(
    "changes",
    [
        {"work.abrade": 40.0},
        {"work.bead_rate": 20.0},
        {"bond.width": 16.0},
        {"climate.air": 30.0},
        {"work.clock_step": 0.0},
        {"work.lift": 9.0},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_a_trial_of_a_pane_in_a_session_finds_what_a_check_made_anew_finds(changes):
    """What a trial takes from the pane before the change must not hang on the clock of the session."""
    before = subjects()["P-2"]
    job = with_changes(before.job, "P-2", changes)
    pane = next(each for each in job.panes if each.code == "P-2")
    after = Subject(job, pane, build_detail(job, pane), before)
    tried = [
        (each.name, each.verdict, each.value, each.limit) for each in found_after(made(CHECKS, before, SharingLedger()), after)
    ]
    anew = [
        (each.name, each.verdict, each.value, each.limit) for each in quick_findings(Subject(job, pane, build_detail(job, pane)))
    ]
    assert tried == anew
