"""Tolerance stacks of a pane worked by hand, and held against the findings that judge by the worst case."""

import math

import pytest

from geometry.findings.check import check_pane
from geometry.job import job_of
from geometry.ledger.size import Origin
from geometry.workings.stacks import stacks_of

JOB = """
[[pane]]
code = "P1"
outline = { rectangle = [900, 450] }
glass = { plies = [10] }
frame = "aluminium"
recess = { depth = 15, landing = 44 }
joint = { width = 6 }
bond = { width = 15, thickness = 5, set_back = 8, notch_width = 10, notch_height = 15 }
frit = { width = 40, fade = 3 }
bow = 2
tolerances = { recess = 2, pane = 3, placing = 1, print = 2, bond_thickness = 0.5, glass_thickness = 0.3, recess_depth = 1, paint = 0.2, flatness = 1 }
"""


def checked(text=JOB):
    job = job_of(text)
    return check_pane(job, job.panes[0])


def test_four_stacks_by_hand():
    """Joint 2/2 + 3/2 + 1 = 3.5; flush 0.5 + 0.3 + 1 + 0.2 = 2.0; gap 0.5 + 1 + half of 2 × 0.9 = 2.4.

    Frit: 40 - 3 - 8 - 15 = 14 less squeeze-out (75 / 5 - 15) / 2 = 0 as drawn; print 2; thin spacers 0.5, landing 1 and bow
    1.8 × (450 / 900)² = 0.45 leave 3.05: (75 / 3.05 - 15) / 2 = 4.795.
    """
    joint, flush, frit, bond = stacks_of(checked().subject)
    assert (joint.drawn, joint.worst, joint.at_worst) == pytest.approx((6, 3.5, 2.5))
    assert joint.likely == pytest.approx(math.sqrt(1 + 2.25 + 1))
    assert (flush.drawn, flush.worst, flush.likely) == pytest.approx((0, 2.0, math.sqrt(0.25 + 0.09 + 1 + 0.04)))
    assert (frit.drawn, frit.worst) == pytest.approx((14, 2 + (75 / 3.05 - 15) / 2))
    assert (bond.at_worst, bond.likely) == pytest.approx((7.4, math.sqrt(0.25 + 1 + 0.81)))


def test_a_tenth_buys_by_hand():
    """The pane's 1.5 of the joint buys 0.15; by squares √4.25 - √(1 + 1.35² + 1)."""
    joint = stacks_of(checked().subject)[0]
    first = joint.ranked()[0]
    assert first.key == "tolerances.pane"
    assert joint.bought(first) == pytest.approx((0.15, math.sqrt(4.25) - math.sqrt(2 + 1.35**2)))


@pytest.mark.parametrize(
    ("place", "finding"), [(0, "joint left at the worst tolerances"), (1, "glass not too proud at the worst tolerances")]
)
def test_the_worst_case_is_that_of_the_findings(place, finding):
    check = checked()
    value = next(each.value for each in check.findings if each.name == finding)
    assert check.stacks[place].at_worst == pytest.approx(value)


def test_the_widest_gap_is_that_of_the_findings():
    check = checked()
    assert check.stacks[3].at_worst == pytest.approx(next(f.value for f in check.figures if f.what == "largest bond gap"))


def test_squares_never_more_than_worst_and_defaults_are_marked():
    check = checked(JOB.replace("pane = 3, ", ""))
    assert all(stack.likely <= stack.worst + 1e-12 for stack in check.stacks)
    assert {each.key for each in check.stacks[0].contributions if each.origin is Origin.DEFAULT} == {"tolerances.pane"}
