"""The findings on the sheet: each stands there once, with its figures or by name, and what nobody could check decides no paper size."""

from dataclasses import replace

import pytest

from geometry.findings.check import check_pane
from geometry.job import read_job, with_changes
from geometry.ledger.finding import Verdict
from outputs.sheet.boxes import texts_of
from outputs.sheet.drafting import DraftingStyle
from outputs.sheets.findings_panel import actions, findings_panel

JOB = read_job("samples/sallow-wren.toml")


def checked(code, **changes):
    job = with_changes(JOB, code, changes)
    return check_pane(job, next(pane for pane in job.panes if pane.code == code))


def lettered(findings):
    """All the panel's words in one run, as lines of a cell may be broken."""
    panel = findings_panel(findings, DraftingStyle())
    return " ".join(text.string for text in texts_of(panel.marks))


@pytest.mark.parametrize("code", ["SW-01", "SW-06", "SW-09"])
def test_each_finding_stands_in_the_table_or_by_name_in_the_line_of_what_was_not_checked(code):
    findings = checked(code).findings
    words, last = lettered(findings), actions(findings)[-1]
    unchecked = [finding for finding in findings if finding.verdict is Verdict.NOT_CHECKED]
    assert len(unchecked) > 5 and last.startswith("Not checked: ")
    for finding in findings:
        assert finding.name in (last if finding in unchecked else words)
    assert f"{len(unchecked)} more findings, named in {len(actions(findings))}" in words


def test_what_decides_keeps_a_row_of_its_own():
    findings = checked("SW-01", pressure={}).findings
    decisive = [finding for finding in findings if finding.decides]
    words = lettered(findings)
    assert decisive and all(finding.name in words for finding in decisive)
    others = sum(1 for finding in findings if finding.verdict is Verdict.NOT_CHECKED) - len(decisive)
    assert f"{others} more findings" in words


def test_nothing_is_said_of_what_was_not_checked_where_all_was():
    findings = tuple(each for each in checked("SW-01").findings if each.verdict is Verdict.PASS)
    assert "more finding" not in lettered(findings)
    one = (*findings, replace(findings[0], name="a thing", verdict=Verdict.NOT_CHECKED, missing="nothing given"))
    assert "1 more finding, named in 1" in lettered(one)
