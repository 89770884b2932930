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
from geometry.outline import Point
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


@dataclass(frozen=True)
class Shear:
    point: Point
    slope: tuple[float, float] = (0.0, 0.0)
    pull_in: tuple[float, float] = (0.0, 0.0)
    bound: float = 0.0


# Places on the bead of the pane: the middle of the sill, a lower corner.
SILL, CORNER = Point(600.0, 15.5), Point(33.0, 33.0)


def bent(reactions, shears, *, inward=None):
    outward = SimpleNamespace(
        direction="outward",
        reactions=tuple(Reaction(each) for each in reactions),
        shear=SimpleNamespace(stations=tuple(shears)),
    )
    nothing = SimpleNamespace(direction="inward", reactions=(), shear=SimpleNamespace(stations=()))
    return SimpleNamespace(bond_width=15.0, outward=outward, inward=inward or nothing)


def subject_of(changes=None):
    job = with_changes(BASE, "A", changes or {})
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def found(changes=None, *, reactions=(0.6, 1.2), shears=(Shear(SILL), Shear(CORNER))):
    every = combined_checks.findings(subject_of(changes), Ledger(), bent(reactions, shears))
    return {each.name: each for each in every}


def test_the_bent_pane_at_the_widest_gap():
    """1.2 N/mm on 15 mm are 0.08 MPa; gap 5 + 0.5 + 1 + 0.9 = 7.4 wets 75 / 7.4 = 10.14: 0.1184. The rule: 3 kPa × 300 / 15 = 0.06."""
    got = found()[AT_GAP.name]
    assert got.value == pytest.approx(0.08 * 15 * 7.4 / 75) and got.verdict is Verdict.PASS
    assert "1.33 times as hard as the rule" in got.says and "approximately" in got.says
    assert found(reactions=(0.6, 1.5))[AT_GAP.name].verdict is Verdict.LOOK  # 0.148 of 0.14
    assert found({"adhesive.design_tension": 0.11})[AT_GAP.name].verdict is Verdict.LOOK
    assert found({"adhesive.strength": 0.29})[AT_GAP.name].verdict is Verdict.FAIL  # 0.116


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
    # of 0.8 MPa on 5 mm, movement for that shear
    shears = (Shear(SILL, slope=(0.0, 5 * bending / 0.8)),)
    got = found(changes, reactions=(15 * tension,), shears=shears)[TOGETHER.name]
    assert got.value == pytest.approx(use, abs=2e-3)
    assert got.verdict is (Verdict.LOOK if got.value > 1 + 1e-9 else Verdict.PASS)


def test_tension_and_shear_are_added_where_they_meet():
    """Pull at the sill and bending's shear at the corner never meet; both at the corner do, with the heat there."""
    apart = found(reactions=(1.2, 0.0), shears=(Shear(SILL), Shear(CORNER, slope=(0.1, 0.0))))[TOGETHER.name]
    both = found(reactions=(0.0, 1.2), shears=(Shear(SILL), Shear(CORNER, slope=(0.1, 0.0))))[TOGETHER.name]
    assert both.value > apart.value and both.where == "X 33, Y 33, outward pressure"
    heat = next(each.value for each in both.figure.inputs if each.name == "shear") - 0.8 * 0.1 / 5
    # in heat the corner moves as far as the pane's half diagonal tells: 30 K, of 50 and 20 °C, x 14e-6 x 0.64 m = 0.27 mm; less on chocks
    assert 0.8 * 0.1 / 5 < heat < 0.8 * 0.6 / 5
    assert both.value == pytest.approx((0.08 / 0.14) ** 2 + ((heat + 0.016) / 0.14) ** 2)


def test_the_inward_pressure_counts_as_well():
    """The corners pull hardest where the middle is pressed."""
    inward = SimpleNamespace(
        direction="inward", reactions=(Reaction(2.1),), shear=SimpleNamespace(stations=(Shear(CORNER),))
    )  # 0.14 MPa: all of the bead by itself
    subject = subject_of({"pressure.inward": 10})
    every = combined_checks.findings(subject, Ledger(), bent((0.6,), (Shear(SILL),), inward=inward))
    got = {each.name: each for each in every}[TOGETHER.name]
    assert got.value > 1.0 and got.where.endswith("inward pressure")
    without = combined_checks.findings(subject_of(), Ledger(), bent((0.6,), (Shear(SILL),), inward=inward))
    assert {each.name: each for each in without}[TOGETHER.name].value < 1.0


def test_what_was_not_worked_out_is_not_zero():
    without = {each.name: each for each in check_pane(BASE, BASE.panes[0]).findings}[TOGETHER.name]
    assert without.verdict is Verdict.NOT_CHECKED and without.says == "not checked: the pane was not bent on its bead"
