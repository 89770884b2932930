"""The plan of a pane is tried as a whole: what it says it cures is cured, nothing in it is needless, nobody's given values change."""

from functools import cache

import pytest

from geometry.findings.check import check_pane, quick_findings
from geometry.findings.one_plan import GIVEN_BY_OTHERS
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.finding import Verdict, outcome_of

JOB = read_job("samples/sallow-wren.toml")
CODES = [pane.code for pane in JOB.panes]
WRONG = (Verdict.FAIL, Verdict.LOOK)


@cache
def checked(code):
    pane = next(pane for pane in JOB.panes if pane.code == code)
    return check_pane(JOB, pane, plan=True)


def found_with(code, changes):
    job = with_changes(JOB, code, changes)
    return check_pane(job, next(pane for pane in job.panes if pane.code == code)).findings


def undone(findings):
    verdicts = [finding.verdict for finding in findings]
    return verdicts.count(Verdict.FAIL), verdicts.count(Verdict.LOOK)


@pytest.mark.parametrize("code", CODES)
def test_what_the_plan_says_holds_when_its_changes_are_typed(code):
    """Read anew, every pane with its plan comes out as the plan says: verdict, what is cured, what is left."""
    plan = checked(code).plan
    if plan is None:
        assert checked(code).verdict is Verdict.PASS
        return
    found = found_with(code, {each.key: each.planned for each in plan.changes})
    wrong = {finding.name for finding in found if finding.verdict in WRONG}
    assert outcome_of(found) is plan.verdict
    assert wrong == {finding.name for finding in plan.left} | set(plan.worse)
    assert not wrong & set(plan.cured)
    before = {finding.name for finding in checked(code).findings if finding.verdict in WRONG}
    assert set(plan.cured) == before - wrong


@pytest.mark.parametrize("code", ["SW-02", "SW-05", "SW-06"])
def test_no_change_of_a_plan_is_needless(code):
    """Each change taken back alone leaves more undone. (These plans are of keys that stand for themselves; the radii of the
    recess go with the joint, so that it stays even in the corners.)
    """
    plan = checked(code).plan
    whole = {each.key: each.planned for each in plan.changes}
    apart = [key for key in whole if not key.startswith(("frit.outer_protection", "climate", "bond.notch", "recess.radius"))]
    assert apart
    for key in apart:
        fewer = {name: value for name, value in whole.items() if name != key}
        assert undone(found_with(code, fewer)) > undone(found_with(code, whole)), key


@pytest.mark.parametrize("code", CODES)
def test_a_plan_changes_nothing_that_others_give(code):
    plan = checked(code).plan
    assert plan is None or not {each.key.split(".")[0] for each in plan.changes} & set(GIVEN_BY_OTHERS)


def test_a_plan_is_no_longer_than_the_one_remedy_that_does():
    """Bond 15 on a frit of 30 less 2 of print tolerance: a frit of 32 and more is one remedy."""
    job = job_of(
        """
[[pane]]
code = "P1"
outline = { rectangle = [900, 450], radius = 40 }
glass = { plies = [10] }
frame = "aluminium"
recess = { depth = 15, landing = 44 }
bond = { width = 15, thickness = 5 }
frit = { width = 30 }
pressure = { outward = 1, inward = 1 }
"""
    )
    check = check_pane(job, job.panes[0], plan=True)
    assert "frit at least twice the bond width" in {finding.name for finding in check.findings if finding.verdict is Verdict.FAIL}
    assert check.plan is not None and len(check.plan.steps) == 1
    assert "frit at least twice the bond width" in check.plan.cured


def test_costs_are_those_of_both_panes():
    plan = checked("SW-10").plan
    mass = next(each for each in plan.costs if each.what == "mass of the pane")
    # 8 mm for 6 of the same outline but for its corners: by a third, less what rounder corners take away
    assert 1.31 < mass.planned / mass.today < 4 / 3


def test_no_plan_is_made_unasked_and_none_where_nothing_is_wrong():
    pane = JOB.panes[0]
    assert check_pane(JOB, pane).plan is None
    bright = with_changes(JOB, pane.code, {"temperatures.frame_colour": "bright"})
    check = check_pane(bright, bright.panes[0], plan=True)
    assert undone(quick_findings(check.subject)) == (0, 0) and check.plan is None
