"""The joint held against its limits: every finding on both sides of its limit, sums by hand, every remedy tried.

Movement class: ISO 11600; joint by the method of ASTM C1472, from memory (movement over the least joint). The sample's panes are worked
examples of an invented vessel, by hand.
"""

import math
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.holding import joint_checks
from geometry.findings.holding.joint_checks import CORNER_STRAIN, LEFT, STEP, STRAIN, WIDEST
from geometry.findings.proving import changed_subject, cured
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject

PASS, LOOK, FAIL = Verdict.PASS, Verdict.LOOK, Verdict.FAIL
SAMPLE = read_job(Path(__file__).resolve().parents[3] / "samples" / "sallow-wren.toml")
ALL_PANES = [pane.code for pane in SAMPLE.panes]
BASE = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [8] }
outline = { rectangle = [1000, 800], radius = 0 }
recess = { depth = 14, landing = 40 }
joint = { width = 6 }
bond = { width = 12, thickness = 6, set_back = 8, corner_radius = 12 }
tolerances = { recess = 2, pane = 1, placing = 1 }
temperatures = { bonding = 20, cases = { heat = { frame = 50, glass = 50 } } }
"""
)


def subject_of(changes=None, *, job=BASE, code="A"):
    changed = with_changes(job, code, changes or {})
    pane = next(pane for pane in changed.panes if pane.code == code)
    return Subject(changed, pane, build_detail(changed, pane))


def found(subject):
    return {finding.name: finding for finding in joint_checks.findings(subject, Ledger())}


def finding(name, changes=None, **where):
    return found(subject_of(changes, **where))[name]


# Joint left: 6 - ((2 + 1) / 2 + 1) = 3.5, at least 3.


@pytest.mark.parametrize(
    ("changes", "left", "verdict"),
    [
        ({}, 3.5, PASS),
        ({"tolerances.pane": 2}, 3.0, PASS),
        ({"tolerances.pane": 2.2}, 2.9, FAIL),
        ({"joint.width": 5.4}, 2.9, FAIL),
        ({"limits.joint_least": 3.6}, 3.5, FAIL),
        ({"tolerances.placing": 0}, 4.5, PASS),
    ],
)
def test_joint_left(changes, left, verdict):
    got = finding(LEFT.name, changes)
    assert got.value == pytest.approx(left) and got.verdict is verdict
    assert got.figure is not None and got.figure.value == got.value


# Widest joint: 6 + 2.5 = 8.5, at most 15.


@pytest.mark.parametrize(
    ("changes", "widest", "verdict"),
    [
        ({}, 8.5, PASS),
        ({"joint.width": 12.5}, 15.0, PASS),
        ({"joint.width": 12.6}, 15.1, FAIL),
        ({"limits.joint_most": 8}, 8.5, FAIL),
    ],
)
def test_joint_not_too_wide(changes, widest, verdict):
    got = finding(WIDEST.name, changes)
    assert got.value == pytest.approx(widest) and got.verdict is verdict


# Strain: 14e-6 × 30 K = 4.2e-4. On its chocks the head opens 0.336 and its ends shift 0.21 along, the jambs open 0.21 and shift
# up to 0.336: stretched √(3.836² + 0.21²) / 3.5 - 1 = 9.76 % at the head's ends, √(3.71² + 0.336²) / 3.5 - 1 = 6.43 % at the jambs.


def head(left, across=0.21, up=0.336):
    return 100 * (math.hypot(left + up, across) / left - 1)


@pytest.mark.parametrize(
    ("changes", "left", "verdict"),
    [
        ({}, 3.5, PASS),
        ({"sealant.movement_class": 12.5}, 3.5, PASS),
        ({"sealant.movement_class": 12}, 3.5, LOOK),  # 80 % of 12 is 9.6
        ({"sealant.movement_class": 9.7}, 3.5, FAIL),
        ({"sealant.movement_class": 12, "limits.sealant_look": 100}, 3.5, PASS),
        ({"tolerances.pane": 5}, 1.5, LOOK),
        ({"tolerances.pane": 5.5}, 1.25, FAIL),
    ],
)
def test_sealant_strain(changes, left, verdict):
    got = finding(STRAIN.name, changes)
    assert got.value == pytest.approx(head(left), rel=1e-6)
    assert got.verdict is verdict and got.unit == "%"
    assert got.where == "e3, heat"


def test_sealant_strain_by_figures():
    assert head(3.5) == pytest.approx(9.76, abs=0.01)
    assert "opens by 0.34 mm" in finding(STRAIN.name).says and "on its chocks" in finding(STRAIN.name).says


def test_a_cold_frame_squeezes_the_head():
    """23e-6 - 9e-6 = 14e-6 × -40 K closes the head by 14e-6 × 40 × 800 = 0.448 mm: 12.8 % of 3.5."""
    got = finding(STRAIN.name, {"temperatures.cases": {"frost": {"frame": -20, "glass": -20}}})
    assert got.value == pytest.approx(100 * 0.448 / 3.5, rel=1e-6)
    assert "closes by 0.45 mm" in got.says


def test_nothing_left_says_what_the_movement_needs():
    """6 - ((2 + 8) / 2 + 1) = 0: the head needs its opening, slanted, over the class."""
    got = finding(STRAIN.name, {"tolerances.pane": 8})
    rise = 1.25**2 - 1
    needed = (0.336 + math.sqrt(0.336**2 + rise * (0.336**2 + 0.21**2))) / rise
    assert got.verdict is FAIL and got.value == pytest.approx(0.0, abs=1e-12) and got.unit == "mm"
    assert got.limit == pytest.approx(needed, rel=1e-6)


def test_rounded_corners_are_looked_at_and_never_fail():
    """Corner radius 100 on chocks: centre of the corner 400 aside and 700 up, 806.2 + 100 from the fixed point: 0.381 mm of 3.5, 10.9 %."""
    got = finding(CORNER_STRAIN.name, {"outline.radius": 100})
    assert got.value == pytest.approx(100 * 4.2e-4 * (math.hypot(400, 700) + 100) / 3.5, rel=2e-3)
    assert got.verdict is PASS
    assert finding(CORNER_STRAIN.name, {"outline.radius": 100, "sealant.movement_class": 10.5}).verdict is LOOK
    assert CORNER_STRAIN.name not in found(subject_of())  # sharp corners: no sealant turns there


# Step of the plies: 2 mm up to 1 m of side, EN ISO 12543-5 from memory.


@pytest.mark.parametrize(
    ("changes", "value", "limit", "verdict"),
    [
        ({}, 1.0, 2.0, LOOK),
        ({"tolerances.pane": 2}, 2.0, 2.0, PASS),
        ({"tolerances.ply_step": 1}, 1.0, 1.0, PASS),
        ({"tolerances.ply_step": 1.5}, 1.0, 1.5, LOOK),
        ({"outline": {"rectangle": [1001, 800]}, "tolerances.pane": 2}, 2.0, 3.0, LOOK),
    ],
)
def test_the_step_of_the_plies(changes, value, limit, verdict):
    laminate = {"glass": {"plies": [4, 4], "interlayers": [0.76]}}
    got = finding(STEP.name, {**laminate, **changes})
    assert (got.value, got.limit, got.verdict) == (value, limit, verdict)
    assert STEP.name not in found(subject_of(changes))
    assert list(tried(subject_of({**laminate, "tolerances.pane": 1.5}))).count(STEP.name) == 2


# The recess as surveyed.


def surveyed(**changes):
    return subject_of(
        {"tolerances.pane": 0, **{key.replace("__", "."): value for key, value in changes.items()}}, job=SAMPLE, code="SW-09"
    )


def test_a_recess_surveyed_at_its_corners_only_hides_the_least_joint():
    """Walls at X 1003.12 (Y 475.2) and -1.18 (Y 466.2) beside a pane 1002 wide: 1.12 is left, and 4.9 at the lower corners."""
    got = found(surveyed())[LEFT.name]
    assert got.value == pytest.approx(1.12, abs=2e-3) and got.verdict is FAIL and got.where.startswith("e2")
    assert "as surveyed" in got.says


def test_a_wet_season_and_a_hot_pane_close_the_surveyed_joint():
    """Bonded at 19 °C, frame in the shade at 30, print in the sun at 40 + 0.9 × 56 = 90.4: 5e-6 × 11 - 9e-6 × 71.4 = -5.876e-4.

    × 501 is 0.294, and 90 × 0.25 % × 4 = 0.9: 1.194 of 1.12 is 107 %.
    """
    got = found(surveyed())[STRAIN.name]
    assert got.value == pytest.approx(100 * (5.876e-4 * 501 + 0.9) / 1.12, rel=5e-3)
    assert got.verdict is FAIL and "sun on glass" in got.where and "swell" in got.says


def test_the_dry_timber_is_no_fault_of_a_wide_joint():
    """Without the swell and with the print at 56.8 °C: (9e-6 × 37.8 - 5e-6 × 11) × 501 = 0.143 of 1.12 is 13 %."""
    got = found(surveyed(timber__moisture_change=0, temperatures__print_absorptance=30))[STRAIN.name]
    assert got.value == pytest.approx(100 * 2.852e-4 * 501 / 1.12, rel=2e-2) and got.verdict is PASS


def test_a_tolerance_that_the_job_gives_comes_off_the_survey():
    """2 / 2 of the pane leaves 0.12."""
    assert found(surveyed(tolerances__pane=2))[LEFT.name].value == pytest.approx(0.12, abs=2e-3)


# The sample.


@pytest.mark.parametrize("code", ALL_PANES)
def test_only_the_surveyed_recess_and_the_large_hot_pane_fail(code):
    """The wheelhouse front, 2250 long in a frame of GRP, fails since a dark frame in the sun counts as 82 °C: 33 % of 25."""
    got = found(subject_of(job=SAMPLE, code=code))
    failing = {each.name for each in got.values() if each.verdict is FAIL}
    assert failing == {"SW-06": {STRAIN.name}, "SW-09": {LEFT.name, STRAIN.name}}.get(code, set())


def test_the_large_pane_passes_its_movement_class():
    """Bonded at 26 °C, frame 82, glass 57: 25e-6 × 56 - 9e-6 × 31 = 1.121e-3.

    × 1125 = 1.261 at the jamb, 740 up 0.830 along, of 8 - 4: √(5.261² + 0.83²) / 4 - 1 = 33 %, of 25.
    """
    got = finding(STRAIN.name, job=SAMPLE, code="SW-06", changes={"tolerances.recess": 2, "tolerances.pane": 4})
    assert got.value == pytest.approx(100 * (math.hypot(4 + 1.121e-3 * 1125, 1.121e-3 * 740) / 4 - 1), rel=1e-4)
    assert got.verdict is FAIL


# Remedies.

FAULTS = [
    {"joint.width": 5},
    {"tolerances.pane": 4},
    {"tolerances.pane": 5.5},
    {"tolerances.pane": 8},
    {"joint.width": 14},
    {"sealant.movement_class": 9},
    {"recess.radius": 6, "joint.width": 5},
    {
        "outline": {"polygon": [[0, 0], [1000, 0], [1000, 800], [0, 700]], "radius": 60},
        "recess.radius": [65, 65, 65, 65],
        "joint.width": 4,
    },
    {"recess.outline": {"rectangle": [1004, 804]}},
    {"outline": {"circle": 700}, "recess.outline": {"circle": 704}},
]


def tried(subject):
    for each in joint_checks.findings(subject, Ledger()):
        assert each.verdict is not PASS or each.remedies == ()
        for remedy in each.remedies:
            assert any(sign.isdigit() for sign in remedy.sentence)
            if remedy.changes:
                after = changed_subject(subject, remedy)
                assert after is not None, remedy
                assert cured(each, joint_checks.findings(after, Ledger())), (each.name, remedy)
                yield each.name


@pytest.mark.parametrize("fault", FAULTS, ids=str)
def test_every_remedy_cures(fault):
    assert list(tried(subject_of(fault)))


@pytest.mark.parametrize("code", ALL_PANES)
def test_every_remedy_of_the_sample_cures(code):
    cures = list(tried(subject_of(job=SAMPLE, code=code)))
    assert bool(cures) == (code in ("SW-01", "SW-02", "SW-05", "SW-06", "SW-09"))


def test_remedies_say_the_least_that_will_do():
    """3 left and 3.5 of tolerance: a joint of 6.5; or 2 × (6 - 3 - 1) - 2 = ± 2 on the pane."""
    sentences = [remedy.sentence for remedy in finding(LEFT.name, {"tolerances.pane": 3}).remedies]
    assert sentences == ["order the pane to ± 2 mm", "widen the joint to 6.5 mm"]
    wider = finding(LEFT.name, {"tolerances.pane": 3}).remedies[1]
    assert {change.key: change.value for change in wider.changes} == {"joint.width": 6.5, "recess.landing": 40.5}


def test_a_better_sealant_is_offered_before_a_wider_joint():
    assert finding(STRAIN.name, {"sealant.movement_class": 9}).remedies[0].sentence == "take a sealant of class 25"
