"""Which millimetre matters: steps tried on an invented pane of 1200 × 600 mm, held to sums by hand.

The pane: 10 mm glass, corner radius 60, aluminium frame, joint 6, bond 15 × 5, set-back 8, frit 40, landing 40 mm, chocks under
the sill. Bonded at 19 °C; hot soak: dark frame 40 + 42 = 82 °C, glass 25 K behind it: the frame (23e-6) grows 23e-6 × 63 - 9e-6 × 38 =
1.107 mm/m more than the glass (9e-6).
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings import proving, sensitivity
from geometry.findings.sensitivity import sensitivities
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject

VESSEL = Path(__file__).resolve().parents[3] / "samples" / "sallow-wren.toml"
STRAIN = 23e-6 * 63 - 9e-6 * 38


def subject_of(code: str, **changes) -> Subject:
    job = read_job(VESSEL)
    if changes:
        job = with_changes(job, code, changes)
    pane = next(pane for pane in job.panes if pane.code == code)
    return Subject(job, pane, build_detail(job, pane))


@pytest.fixture(scope="module")
def tried():
    return {trial.change: trial for trial in sensitivities(subject_of("SW-01"))}


def effect(tried, change: str, finding: str):
    return next(each for each in tried[change].effects if each.finding == finding)


def test_the_joint_strain_falls_with_a_wider_joint_as_by_hand(tried):
    """Head of the joint: opens by 1.107 mm/m × 600 mm, shifts along by 1.107 mm/m × 540 mm at the end of the straight side.

    The tolerance takes (2 + 1.5) / 2 + 1 = 2.75 mm of it: 3.25 mm are left of 6 mm, 4.25 mm of 7 mm. Opening alone gives
    0.664 / 3.25 = 20.4 % and 0.664 / 4.25 = 15.6 %; the diagonal of opening and shift is a little more.
    """
    each = effect(tried, "joint width + 1 mm", "sealant strain within its movement class")
    for state, left in ((each.before, 3.25), (each.after, 4.25)):
        opening, along = STRAIN * 600 / left, STRAIN * 540 / left
        assert state.value == pytest.approx(100 * (math.hypot(1 + opening, along) - 1), rel=1e-3)
        assert opening == pytest.approx({3.25: 0.204, 4.25: 0.156}[left], abs=5e-4)


def test_the_shear_of_the_bead_falls_as_five_to_six_with_a_thicker_bond(tried):
    """The pane moves as before; the same movement over 6 mm in place of 5 mm."""
    each = effect(tried, "bond thickness + 1 mm", "shear of the bead from heat")
    assert each.after.value / each.before.value == pytest.approx(5 / 6, rel=1e-6)
    assert each.difference == pytest.approx(each.before.value / 6, rel=1e-6)


def test_a_wider_bead_takes_twice_its_gain_from_the_frit(tried):
    """40 - 2 (print) - 2 × 15 = 8 mm of margin; with a bead of 16 mm 40 - 2 - 32 = 6 mm."""
    each = effect(tried, "bond width + 1 mm", "frit at least twice the bond width")
    assert (each.before.margin, each.after.margin, each.unit) == (8.0, 6.0, "mm")


def test_a_wider_bead_cures_longer(tried):
    """From both faces (half the width / rate)², where it is pressed widest: 5 mm of bond at the tightest place are 3.246875.

    At 21 °C and 55 % the rate is 3 × √2^(-0.2) × √1.1 = 2.936 mm/√d; the margin is what is left to the day of the backfill, a
    whole day.
    """
    rate = 3 * math.sqrt(2**-0.2) * math.sqrt(1.1)
    each = effect(tried, "bond width + 1 mm", "bead cured through before the joint is closed")
    for state, width in ((each.before, 15), (each.after, 16)):
        days = (width * 5 / 3.246875 / 2 / rate) ** 2
        assert state.value - state.margin == pytest.approx(days, rel=1e-6)
        assert state.value == math.ceil(days)


@pytest.mark.parametrize(
    ("change", "finding", "moved"),
    [
        ("joint width + 1 mm", "joint left at the worst tolerances", +1.0),
        ("joint width + 1 mm", "landing hidden behind the frit", +1.0),
        ("frit width + 1 mm", "frit at least twice the bond width", +1.0),
        ("frit width + 1 mm", "landing hidden behind the frit", +1.0),
        ("landing + 1 mm", "bead and its squeeze-out on the landing", +1.0),
        ("landing + 1 mm", "landing hidden behind the frit", -1.0),
        ("glass corner radius + 1 mm", "joint left in every corner", math.sqrt(2) - 1),
        ("bonding day 10 K warmer", "surface no warmer than bonding allows", -10.0),
    ],
)
def test_a_step_moves_a_margin_as_the_drawing_says(tried, change, finding, moved):
    """A corner's gap on the bisector of a right angle grows by (√2 - 1) for 1 mm of glass radius; the rest are chains of sizes."""
    assert effect(tried, change, finding).difference == pytest.approx(moved, abs=1e-6)


def test_heat_counts_away_from_the_bonding_temperature(tried):
    """Hot soak from 82 and 57 to 92 and 67 °C: 23e-6 × 73 - 9e-6 × 48 = 1.247 mm/m for 1.107; frost goes colder, not warmer."""
    (change,) = tried["temperature cases 10 K further from bonding"].changes
    assert change.value["hot soak"] == {"frame": 92.0, "glass": 67.0}
    assert change.value["frost night"] == {"frame": -30.0, "glass": -30.0}
    each = effect(tried, "temperature cases 10 K further from bonding", "shear of the bead from heat")
    assert each.after.value / each.before.value == pytest.approx(1.247 / 1.107, rel=1e-3)


def test_more_bow_pulls_the_bead_thinner(tried):
    each = effect(tried, "bow + 1 mm/m", "bead wets the landing at the widest gap")
    assert each.difference < 0
    assert tried["bow + 1 mm/m"].changes[0].value == 2.5


def test_every_finding_with_a_margin_is_in_every_trial_and_in_one_order(tried):
    names = [each.finding for each in tried["joint width + 1 mm"].effects]
    assert len(names) == len(set(names)) > 20
    assert all([each.finding for each in trial.effects] == names for trial in tried.values() if not trial.refused)
    assert all(each.before.margin is not None for trial in tried.values() for each in trial.effects)


def test_a_verdict_that_turns_is_told(tried):
    """A bead of 16 mm on a bond of 5 mm is 3.2 times as wide as thick; the limit is 3."""
    each = effect(tried, "bond width + 1 mm", "bond width in proportion to its thickness")
    assert each.before.verdict is Verdict.PASS
    assert each.after.verdict in (Verdict.LOOK, Verdict.FAIL)
    assert each.after.margin == pytest.approx(-0.2)


@pytest.mark.parametrize(
    ("code", "change", "words"),
    [
        ("SW-03", "glass corner radius + 1 mm", "circle"),
        ("SW-09", "joint width + 1 mm", "outline of its own"),
        ("SW-04", "frit width + 1 mm", "outline of its own"),
    ],
)
def test_a_step_that_the_pane_does_not_allow_says_why(code, change, words):
    trial = next(each for each in sensitivities(subject_of(code)) if each.change == change)
    assert words in trial.refused
    assert (trial.changes, trial.effects) == ((), ())


def test_a_step_that_cannot_be_built_says_why():
    """The recess of this disc is 300 + 2 × 6 = 312 mm across; landings of 155.5 mm leave 1 mm of daylight, of 156.5 mm none."""
    text = """
[[pane]]
code = "S"
frame = "aluminium"
glass = { plies = [10] }
outline = { circle = 300 }
joint = { width = 6 }
recess = { landing = 155.5 }
frit = { width = 40 }
"""
    job = job_of(text)
    (pane,) = job.panes
    trials = {trial.change: trial for trial in sensitivities(Subject(job, pane, build_detail(job, pane)))}
    trial = trials["landing + 1 mm"]
    assert trial.effects == ()
    assert "156.5" in trial.refused
    assert [(change.key, change.value) for change in trial.changes] == [("recess.landing", 156.5)]
    assert trials["frit width + 1 mm"].effects


def test_a_step_that_the_job_refuses_says_which_key():
    """A case of 145 °C cannot be 10 K warmer: the job file allows at most 150 °C."""
    cases = {"oven": {"frame": 145.0, "glass": 60.0}}
    trials = {t.change: t for t in sensitivities(subject_of("SW-01", **{"temperatures.cases": cases}))}
    refused = trials["temperature cases 10 K further from bonding"].refused
    assert "oven" in refused and "155" in refused


def test_a_corner_radius_of_each_corner_grows_by_itself():
    trial = next(t for t in sensitivities(subject_of("SW-07")) if t.change == "glass corner radius + 1 mm")
    assert trial.changes[0].value == [9.0, 16.0, 16.0]


def test_the_work_is_bounded_one_pane_built_for_each_step(monkeypatch):
    built, judged = [], []
    build, judge = proving.build_detail, sensitivity.quick_findings
    subject = subject_of("SW-01")
    monkeypatch.setattr(proving, "build_detail", lambda *each, **more: built.append(each) or build(*each, **more))
    monkeypatch.setattr(sensitivity, "quick_findings", lambda *each: judged.append(each) or judge(*each))
    trials = sensitivities(subject)
    assert len(built) == len(trials) == 9
    assert len(judged) == 10


def test_no_plate_is_worked_out(monkeypatch):
    def plate(*_args, **_kwargs):
        raise AssertionError("the plate takes seconds")

    monkeypatch.setattr("geometry.plate.bond.bond_stress", plate)
    assert sensitivity.sensitivities(subject_of("SW-02"))
