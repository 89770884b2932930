"""A frame that racks: figures by hand, both ways the same on a mirrored pane, never less than heat alone, remedies tried."""

import itertools
import math

import numpy as np
import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.findings.holding import bond_checks, joint_checks, racking_checks
from geometry.findings.holding.racking_checks import RACKED, RACKED_CORNER, SHEAR
from geometry.findings.proving import changed_subject, cured
from geometry.job import job_of, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.workings.movement import racked_movement
from geometry.workings.subject import Subject

PASS, LOOK, FAIL, OPEN = Verdict.PASS, Verdict.LOOK, Verdict.FAIL, Verdict.NOT_CHECKED
RANK = (PASS, LOOK, FAIL)
BASE = job_of(
    """
[adhesive]
design_shear_strain = 50
greatest_shear_strain = 75
[sealant]
movement_class = 25
[temperatures]
bonding = 20
[temperatures.cases]
"as bonded" = { frame = 20, glass = 20 }
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
rake = 90
outline = { rectangle = [1200, 600], radius = 60 }
bond = { width = 15, thickness = 6, set_back = 8 }
joint = { width = 8 }
"""
)
HOT = {"temperatures.cases": {"hot soak": {"frame": 80, "glass": 55}, "frost": {"frame": -20, "glass": -20}}}
UPRIGHT = {"rake": 0}


def subject_of(changes=None):
    job = with_changes(BASE, "A", changes or {})
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def found(changes=None):
    return {each.name: each for each in racking_checks.findings(subject_of(changes), Ledger())}


def test_silence_is_not_checked():
    every = check_pane(BASE, BASE.panes[0]).findings
    for must in (SHEAR, RACKED):
        each = next(each for each in every if each.name == must.name)
        assert each.verdict is OPEN and each.value is None and "no racking of the frame" in each.says


@pytest.mark.parametrize("racking", [2, 10])
def test_a_round_pane_by_hand(racking):
    """A disc does not turn: its bead, 15.5 mm inside its edge, moves by γ/2 × its radius at every place, whichever way."""
    each = found({"loads.frame_racking": racking, "outline": {"circle": 600}})[SHEAR.name]
    assert each.value == pytest.approx(100 * racking / 1000 / 2 * (300 - 15.5) / 6, rel=1e-4)


def test_the_joint_of_a_free_pane_by_hand():
    """Least energy of the bead: a pane turns by γ/2 × (Σx² - Σy²) / (Σx² + Σy²) along the bead, Σ over its length.

    Sides of the bead 1080 at 284.5 above and below, 480 at 584.5 to both sides, four quarters of radius 44.5 about (540, 240).
    """
    angle = (np.arange(2000) + 0.5) / 2000 * math.pi / 2
    arc = 44.5 * math.pi / 2
    along_x = 2 * 1080**3 / 12 + 2 * 480 * 584.5**2 + 4 * arc * np.mean((540 + 44.5 * np.cos(angle)) ** 2)
    along_y = 2 * 1080 * 284.5**2 + 2 * 480**3 / 12 + 4 * arc * np.mean((240 + 44.5 * np.sin(angle)) ** 2)
    turn = 0.002 * (along_x - along_y) / (along_x + along_y)
    racked = racked_movement(subject_of({"loads.frame_racking": 4}), Ledger(), 0.004)
    right, left = racked.cases
    at = max((each for each in right.joints if each.edge == "e3" and not each.corner), key=lambda each: each.point.x)
    assert (at.point.x, at.point.y) == pytest.approx((1140, 600))
    assert at.opening == pytest.approx((0.002 - turn) * 540, rel=2e-3) and at.along == pytest.approx(
        (0.002 + turn) * 300, rel=2e-3
    )
    other = next(each for each in left.joints if each.point == at.point)
    assert other.opening == pytest.approx(-at.opening) and other.along == pytest.approx(at.along)


def test_no_racking_is_the_heat_alone():
    subject = subject_of({**HOT, **UPRIGHT, "loads.frame_racking": 0})
    heat = {each.name: each for room in (bond_checks, joint_checks) for each in room.findings(subject, Ledger())}
    racked = {each.name: each for each in racking_checks.findings(subject, Ledger())}
    assert racked[SHEAR.name].value == heat[bond_checks.SHEAR.name].value
    assert racked[RACKED.name].value == heat[joint_checks.STRAIN.name].value
    assert racked[RACKED_CORNER.name].value == heat[joint_checks.CORNER_STRAIN.name].value


@pytest.mark.parametrize("changes", [{}, HOT, {**HOT, **UPRIGHT}], ids=["no heat", "deck light", "on chocks"])
def test_more_racking_never_passes_more(changes):
    every = [found({**changes, "loads.frame_racking": racking}) for racking in (0, 0.5, 2, 6, 15, 40)]
    for less, more in itertools.pairwise(every):
        for must in (SHEAR, RACKED):
            one, other = less[must.name], more[must.name]
            assert RANK.index(other.verdict) >= RANK.index(one.verdict) and other.value >= one.value - 1e-9
    assert every[-1][SHEAR.name].verdict is FAIL and every[-1][RACKED.name].verdict is FAIL


def test_a_mirrored_pane_racks_alike():
    corners = [[0, 0], [1200, 60], [1100, 700], [90, 560]]
    mirrored = [[1200 - x, y] for x, y in reversed(corners)]
    one, other = (
        found({**HOT, **UPRIGHT, "loads.frame_racking": 3, "outline": {"polygon": each, "radius": 40}})
        for each in (corners, mirrored)
    )
    for must in (SHEAR, RACKED):
        assert one[must.name].value == pytest.approx(other[must.name].value, rel=1e-6)


@pytest.mark.parametrize(("must", "racking"), [(SHEAR, 12), (RACKED, 4)])
def test_what_is_proposed_helps(must, racking):
    changes = {**HOT, "loads.frame_racking": racking}
    each = found(changes)[must.name].with_remedies()
    assert each.verdict is not PASS
    proposed = [remedy for remedy in each.remedies if remedy.changes]
    helped = [
        remedy
        for remedy in proposed
        if (changed := changed_subject(subject_of(changes), remedy)) is not None
        and cured(each, racking_checks.findings(changed, Ledger()))
    ]
    assert helped, [str(remedy) for remedy in proposed]
