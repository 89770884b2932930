"""One pane checked as a whole: what is asked for is there, what cannot be worked out is said."""

from __future__ import annotations

from geometry.findings.check import check_pane
from geometry.findings.holding import plate_checks
from geometry.job import job_of
from geometry.ledger.finding import Verdict
from geometry.plate.mesh import PlateMeshError

PANE = """
[[pane]]
code = "W1"
frame = "aluminium"
glass = { plies = [8] }
outline = { rectangle = [600, 400], radius = 40 }
"""


def checked(text=PANE, *, plate=False):
    job = job_of(text)
    return check_pane(job, job.panes[0], plate=plate)


def test_without_a_pressure_nothing_is_taken_as_zero():
    check = checked(plate=True)
    unsaid = [finding for finding in check.findings if finding.verdict is Verdict.NOT_CHECKED and "pressure" in finding.says]
    assert check.plate is None
    assert {finding.says for finding in unsaid} == {"not checked: no outward pressure given", "not checked: no pressure given"}
    assert all(finding.value is None and finding.limit is None for finding in unsaid)


def test_the_plate_is_worked_out_only_when_asked_for():
    with_pressure = PANE + "pressure = { outward = 3, inward = 10 }\n"
    assert checked(with_pressure).plate is None
    check = checked(with_pressure, plate=True)
    assert check.plate is not None
    assert check.plate.outward.pressure == 3.0
    assert {finding.name for finding in checked(with_pressure).findings} < {finding.name for finding in check.findings}


def test_a_plate_that_cannot_be_meshed_is_said(monkeypatch):
    def refuse(_subject):
        raise PlateMeshError("the bead leaves no room between its edges")

    monkeypatch.setattr(plate_checks, "plate_of", refuse)
    check = checked(PANE + "pressure = { outward = 3 }\n", plate=True)
    assert check.plate is None
    assert check.findings[-1].verdict is Verdict.NOT_CHECKED
    assert check.findings[-1].says == "not checked: the bead leaves no room between its edges"


def test_the_figures_hold_every_sum_behind_a_finding():
    check = checked(PANE + "pressure = { outward = 3, inward = 10 }\n", plate=True)
    behind = [finding.figure for finding in check.findings if finding.figure is not None]
    assert len(behind) > 20
    assert all(any(figure is each for each in check.figures) for figure in behind)
    assert len({id(figure) for figure in check.figures}) == len(check.figures)


def test_the_worst_verdict_speaks_for_the_pane():
    assert checked().verdict is Verdict.NOT_CHECKED  # nobody said what pulls at it
    assert checked(PANE + "pressure = { outward = 1, inward = 1 }\n").verdict in (Verdict.PASS, Verdict.LOOK)
    assert checked(PANE + "frit = { width = 20 }\nbond = { width = 15 }\n").verdict is Verdict.FAIL
