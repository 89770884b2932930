"""Loads of the bead at once: sums by hand on an invented pane, with a plate whose reactions are given."""

from dataclasses import dataclass
from types import SimpleNamespace

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.findings.holding import combined_checks
from geometry.findings.holding.combined_checks import AT_GAP, TOGETHER
from geometry.job import job_of, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.rules.holding import thermal
from geometry.workings.subject import Subject

BASE = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
outline = { rectangle = [1200, 600], radius = 60 }
bond = { width = 15, thickness = 5, set_back = 8, notch_width = 10, notch_height = 15 }
tolerances = { bond_thickness = 0.5, flatness = 1 }
temperatures = { bonding = 20, cases = { heat = { frame = 50, glass = 50 } } }
pressure = { outward = 3 }
"""
)


@dataclass(frozen=True)
class Reaction:
    reaction: float


def bent(*reactions):
    return SimpleNamespace(bond_width=15.0, outward=SimpleNamespace(reactions=tuple(Reaction(each) for each in reactions)))


def subject_of(changes=None):
    job = with_changes(BASE, "A", changes or {})
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def found(changes=None, *, reactions=(0.6, 1.2), bending=None):
    ledger = Ledger()
    shear = None
    if bending is not None:
        shear = ledger.work("shear from bending", thermal.shear_stress, shear_modulus=1.0, shear_strain=bending)
    every = combined_checks.findings(subject_of(changes), ledger, bent(*reactions), bending_shear=shear)
    return {each.name: each for each in every}


def test_the_bent_pane_at_the_widest_gap():
    """1.2 N/mm on 15 mm are 0.08 MPa; gap 5 + 0.5 + 1 + 0.9 = 7.4 wets 75 / 7.4 = 10.14: 0.1184. The rule: 3 kPa × 300 / 15 = 0.06."""
    got = found()[AT_GAP.name]
    assert got.value == pytest.approx(0.08 * 15 * 7.4 / 75) and got.verdict is Verdict.PASS
    assert "1.33 times as hard as the rule" in got.says and "approximately" in got.says
    assert found(reactions=(1.5,))[AT_GAP.name].verdict is Verdict.LOOK  # 0.148 of 0.14
    assert found({"adhesive.design_tension": 0.11})[AT_GAP.name].verdict is Verdict.LOOK


def test_a_worse_landing_never_passes_more():
    values = [found({"tolerances.flatness": out})[AT_GAP.name].value for out in (0, 0.5, 1, 2, 3)]
    assert values == sorted(values) and values[0] < values[-1]


@pytest.mark.parametrize(
    ("tension", "bending", "designs", "use"),
    [
        (0.0, 0.0, (0.14, None), 0.0),
        (0.14, 0.0, (0.14, None), 1.0),
        (0.07, 0.07, (0.14, None), 0.5),
        (0.07, 0.07, (0.14, 0.07), 1.25),
    ],
)
def test_use_by_both_at_once(tension, bending, designs, use):
    """No heat: the case is the bonding day itself, so that nothing but weight on chocks moves the bead."""
    changes = {
        "temperatures.cases": {"same day": {"frame": 20, "glass": 20}},
        "adhesive.design_tension": designs[0],
    } | ({"adhesive.design_shear": designs[1]} if designs[1] else {})
    got = found(changes, reactions=(15 * tension,), bending=bending)[TOGETHER.name]
    assert got.value == pytest.approx(use, abs=2e-3)
    assert got.verdict is (Verdict.LOOK if got.value > 1 + 1e-9 else Verdict.PASS)


def test_shear_from_bending_adds_to_that_from_heat():
    cold, warm = found(bending=0.0)[TOGETHER.name], found(bending=0.05)[TOGETHER.name]
    heat = next(each.value for each in cold.figure.inputs if each.name == "shear")
    together = next(each.value for each in warm.figure.inputs if each.name == "shear")
    assert heat > 0.04 and together == pytest.approx(heat + 0.05)
    assert warm.value == pytest.approx((0.08 / 0.14) ** 2 + (together / 0.14) ** 2)


def test_what_was_not_worked_out_is_not_zero():
    got = found()[TOGETHER.name]
    assert got.verdict is Verdict.NOT_CHECKED and got.value is None and "from bending was not worked out" in got.says
    without = {each.name: each for each in check_pane(BASE, BASE.panes[0]).findings}[TOGETHER.name]
    assert without.verdict is Verdict.NOT_CHECKED and without.says == "not checked: the pane was not bent on its bead"
