"""Afloat before the cure: figures by hand, every answer of the job, every remedy tried."""

import itertools
import math

import pytest

from geometry.detail.build import build_detail
from geometry.findings.holding import bond_checks, heel_checks
from geometry.findings.holding.heel_checks import HANGS, SLIDES
from geometry.findings.proving import changed_subject, cured
from geometry.job import job_of, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject

PASS, LOOK, OPEN = Verdict.PASS, Verdict.LOOK, Verdict.NOT_CHECKED
BASE = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
outline = { rectangle = [1200, 600], radius = 60 }
bond = { width = 15, thickness = 6 }
"""
)
SLOPING = {"outline": {"polygon": [[0, 0], [1300, 120], [1120, 870], [60, 820]], "radius": 40}}
AFLOAT = {"vessel.afloat": True}


def subject_of(changes=None):
    job = with_changes(BASE, "A", changes or {})
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def found(changes=None):
    return {each.name: each for each in heel_checks.findings(subject_of(changes), Ledger())}


@pytest.mark.parametrize(
    ("changes", "missing"), [({}, "vessel.afloat"), (AFLOAT, "vessel.heel"), ({"vessel.heel": 5}, "vessel.afloat")]
)
def test_silence_is_not_checked(changes, missing):
    for name in (SLIDES.name, HANGS.name):
        each = found(changes)[name]
        assert each.verdict is OPEN and each.value is None and missing in each.says


@pytest.mark.parametrize(
    ("heel", "verdict"),
    [(0, PASS), (11, PASS), (11.3, PASS), (12, LOOK), (20, LOOK)],  # tan 11.31° = 0.2
)
def test_a_level_sill_at_a_heel(heel, verdict):
    each = found({**AFLOAT, "vessel.heel": heel})[SLIDES.name]
    assert each.value == pytest.approx(math.tan(math.radians(heel))) and each.verdict is verdict


def test_a_side_block_holds_one_way_only():
    """Sill up 120 in 1300, 5.27°, with a block at its low end: at 12° the other way tan 6.73° is left; at 18° tan 12.73°."""
    for heel, verdict in ((12, PASS), (18, LOOK)):
        each = found({**SLOPING, **AFLOAT, "vessel.heel": heel})[SLIDES.name]
        slope = math.degrees(math.atan(120 / 1300))
        assert each.value == pytest.approx(math.tan(math.radians(heel - slope)), rel=1e-3) and each.verdict is verdict
        assert "low end" in each.says


def test_ashore_nothing_heels():
    every = found({"vessel.afloat": False, "vessel.heel": 30})
    assert {each.verdict for each in every.values()} == {PASS}


def test_a_pane_in_the_side_leans_out_by_the_heel():
    """0.7169 m² × 25 kg/m² = 17.92 kg; sin 5° × 175.8 N × 1.5 = 23.0 N over 15 × bead, of half a kPa."""
    each = found({**AFLOAT, "vessel.heel": 5, "side": "port"})[HANGS.name]
    length = 2 * (1200 - 2 * 60 + 600 - 2 * 60) + 2 * math.pi * (60 - subject_of().sizes.set_back.value - 7.5)
    pull = (720_000 - (4 - math.pi) * 3600) * 2.5e-5 * 9.81 * math.sin(math.radians(5)) * 1.5
    assert each.value == pytest.approx(pull / (15 * length) / 0.0005, rel=1e-3)
    assert each.value == pytest.approx(0.9, abs=0.02) and each.verdict is PASS
    assert found({**AFLOAT, "vessel.heel": 6, "side": "port"})[HANGS.name].verdict is LOOK
    assert HANGS.name not in found({**AFLOAT, "vessel.heel": 5, "side": "centre"})
    assert found({**AFLOAT, "vessel.heel": 5, "side": "port", "rake": 6})[HANGS.name].verdict is PASS
    assert found({**AFLOAT, "vessel.heel": 5, "held": True})[HANGS.name].verdict is PASS


def test_a_deck_light_lies_between_its_blocks():
    assert found({**AFLOAT, "vessel.heel": 20, "rake": 90}) == {}


def test_the_pull_of_a_reverse_rake_grows_as_the_boat_moves():
    """Ashore the bead hangs at rest; afloat, or where nobody says, 1.5 times as hard."""
    use = {}
    for afloat in (None, True, False):
        changes = {"rake": -12.0} if afloat is None else {"rake": -12.0, "vessel.afloat": afloat}
        every = {each.name: each for each in bond_checks.findings(subject_of(changes), Ledger())}
        use[afloat] = every["uncured bead holds the pane"].value
    assert use[None] == use[True] == pytest.approx(1.5 * use[False])


def test_more_heel_never_passes_more():
    values = [[each.value for each in found({**SLOPING, **AFLOAT, "vessel.heel": heel}).values()] for heel in range(0, 45, 4)]
    for fewer, more in itertools.pairwise(values):
        assert all(b >= a - 1e-12 for a, b in zip(fewer, more, strict=True))


@pytest.mark.parametrize("changes", [{}, {"side": "port"}, SLOPING])
def test_every_remedy_cures(changes):
    subject = subject_of({**changes, **AFLOAT, "vessel.heel": 25})
    for each in heel_checks.findings(subject, Ledger()):
        assert each.verdict is LOOK and each.remedies
        for remedy in each.remedies:
            if remedy.changes:
                after = changed_subject(subject, remedy)
                assert after is not None and cured(each, heel_checks.findings(after, Ledger()))
