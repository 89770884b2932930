"""The ten invented panes of the sample vessel: what must fail fails, what must be looked at shows, and nothing else fails.

The faults were built into the panes on purpose and worked out by hand beforehand (worked examples of an invented vessel, no outside source):
frit printed too narrow, dot fade counted as frit, an ellipse drawn instead of a parallel curve, a joint closed on the first day, a bead
that takes longer than the adhesive stays open, a sliver, a notch, a recess surveyed at its corners only, a mould radius.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane, quick_findings
from geometry.job import read_job, with_changes
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject

JOB = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")

TWICE, COVER, HIDDEN = (
    "frit at least twice the bond width",
    "frit covers the bead and its squeeze-out",
    "landing hidden behind the frit",
)
WETS, PROPORTION, TOOL = (
    "bead wets the landing at the widest gap",
    "bond width in proportion to its thickness",
    "joint wide enough for nozzle and tool",
)
CORNER_JOINT, UNBONDED, ON_LANDING = (
    "joint left in every corner",
    "glass beyond the bead in a corner",
    "bead on the landing in every corner",
)
ROUND, RE_ENTRANT, NOTCH = (
    "corners round enough for the bead",
    "re-entrant corner round enough for the furnace",
    "cut-out small against the pane",
)
LEAST, FILL = "pane large enough to toughen", "backfill deep enough"
LEFT, STRAIN = "joint left at the worst tolerances", "sealant strain within its movement class"
BEARS, SHARE = "glass bears on its chocks", "each chock carries its share of the weight"
TENSION, WITHOUT, GREEN = (
    "bond tension at the widest gap",
    "permanent stress if the chocks were taken out",
    "uncured bead holds the pane",
)
PRESS, CURE = "last press within its share of the open time", "joint left open for the first days of cure"
APPROVAL = "approval reference given where the pane carries load or is in the hull"

LANDING = "bead and its squeeze-out on the landing"
# What the hand-worked list did not have, and why:
# SW-01, SW-02 look, SW-06 fails on sealant strain: a dark frame in the sun is at 82 °C and the glass 25 K behind it, where 60 and 60 was
#   taken (EN 1991-1-5 and ETAG 002 from memory); bonded at the surfaces of the day.
# SW-03, SW-10 fail on the landing, SW-10 on the cover of the frit: the squeeze-out is that of the tightest place between two spacers,
#   landing out of flat and pane bowed included, as the bond left there always was; it was that of the spacers' tolerance alone.
FAILS = {
    "SW-01": set(),
    "SW-02": {TWICE, COVER, HIDDEN, BEARS},
    "SW-03": {TWICE, COVER, APPROVAL, LANDING},
    "SW-04": {TWICE},
    "SW-05": {CURE},
    "SW-06": {PRESS, GREEN, BEARS, TENSION, STRAIN},
    "SW-07": {UNBONDED, ON_LANDING},
    "SW-08": {RE_ENTRANT, TENSION},
    "SW-09": {LEFT, STRAIN},
    "SW-10": {CORNER_JOINT, TWICE, COVER, LANDING},
}
SHOWS = {
    "SW-01": {STRAIN},
    "SW-02": {STRAIN},
    "SW-03": {PROPORTION, TOOL},
    "SW-04": {HIDDEN},
    "SW-05": {PROPORTION},
    "SW-06": {WITHOUT, STRAIN, WETS},
    "SW-07": {HIDDEN, ROUND},
    "SW-08": {NOTCH, HIDDEN},
    "SW-09": {HIDDEN, ROUND},
    "SW-10": {FILL, BEARS, ROUND, LEAST, HIDDEN},
}


@cache
def checked(code):
    return check_pane(JOB, next(pane for pane in JOB.panes if pane.code == code))


def named(code, *verdicts):
    return {finding.name for finding in checked(code).findings if finding.verdict in verdicts}


@pytest.mark.parametrize("code", FAILS)
def test_what_must_fail_fails_and_nothing_else(code):
    assert named(code, Verdict.FAIL) == FAILS[code]


@pytest.mark.parametrize("code", SHOWS)
def test_what_must_be_looked_at_shows(code):
    assert SHOWS[code] <= named(code, Verdict.FAIL, Verdict.LOOK)


@pytest.mark.parametrize(("code", "bow"), [("SW-01", 3.0), ("SW-02", 3.0)])
def test_glass_at_the_standards_limit_of_bow_lifts_off_the_bead(code, bow):
    """Limit of toughened glass 3 mm/m, from memory of EN 12150-1; the samples are ordered to 1.5 mm/m."""
    assert WETS not in named(code, Verdict.FAIL, Verdict.LOOK)
    found = {
        finding.name: finding.verdict
        for finding in quick_findings(changed(code, {"bow": bow, "bond.notch_width": 10.0, "bond.notch_height": 15.0}))
    }
    assert found[WETS] in (Verdict.LOOK, Verdict.FAIL)


@pytest.mark.parametrize(("code", "places", "least"), [("SW-07", [160.0, 480.0], 16.0), ("SW-08", [537.5, 912.5], 17.0)])
def test_chocks_at_quarter_points_share_the_weight_badly(code, places, least):
    """Shares by hand: two chocks on a level sill, moments about the centroid; 16 % on the sliver, 17 % on the notched pane.

    The sliver's quarter points are 160 and 480 from its sharp corner, where X counts from.
    """
    found = {finding.name: finding for finding in quick_findings(changed(code, {"chocks.at": places}))}
    assert found[SHARE].verdict is Verdict.FAIL
    assert found[SHARE].value == pytest.approx(least, abs=3.0)
    assert SHARE not in named(code, Verdict.FAIL, Verdict.LOOK)


def changed(code, changes):
    job = with_changes(JOB, code, changes)
    pane = next(pane for pane in job.panes if pane.code == code)
    return Subject(job, pane, build_detail(job, pane))


ALL = [
    (code, finding.name)
    for code in FAILS
    for finding in checked(code).findings
    if finding.verdict in (Verdict.FAIL, Verdict.LOOK)
]


@pytest.mark.parametrize(("code", "name"), ALL)
def test_every_fault_has_its_remedy_or_says_who_decides(code, name):
    finding = next(each for each in checked(code).findings if each.name == name)
    assert finding.remedies
    assert any(sign.isdigit() for sign in finding.remedy) or "engineer" in finding.remedy or "supplier" in finding.remedy


@pytest.mark.parametrize(("code", "name"), ALL)
def test_applying_a_remedy_makes_the_finding_pass(code, name):
    finding = next(each for each in checked(code).findings if each.name == name)
    for remedy in finding.remedies:
        if remedy.changes:
            after = quick_findings(changed(code, {change.key: change.value for change in remedy.changes}))
            same = [each for each in after if each.name == name]
            assert all(each.verdict is Verdict.PASS for each in same), remedy.sentence
