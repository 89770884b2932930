"""Sheet, record, JSON and terminal of one run tell the same state, mark and findings."""

import html
import json
import re
from collections import Counter
from pathlib import Path

import pytest

from geometry.findings.check import check_pane
from geometry.findings.state import Plate, state_of
from geometry.job import job_of, read_job
from geometry.ledger.finding import Verdict
from outputs.commands.findings_print import print_findings
from outputs.documents import document_files
from outputs.record.data import pane_data, plain
from outputs.record.pane_page import pane_page
from outputs.sheets.contents import Contents

ROOT = Path(__file__).parents[2]
NAMES = ("sallow-wren.toml", "minimal.toml", "every-key.toml", "deck-light.toml", "own-recess.toml")
PANES = [(job, pane) for job in (read_job(ROOT / "samples" / name) for name in NAMES) for pane in job.panes]


@pytest.fixture(scope="module", params=PANES, ids=lambda each: each[1].code)
def run(request):
    job, pane = request.param
    return Contents(job, pane, (check := check_pane(job, pane)).subject.detail, check)


def told_on(picture: bytes) -> list[str]:
    return [html.unescape(text) for text in re.findall(r"<text[^>]*>([^<]*)<", picture.decode())]


def test_sheet_record_json_and_terminal_agree(run):
    check, state, mark = run.check, run.state, run.mark
    sheet = told_on(next(iter(document_files(run, ("detail",), ("svg",)).values())))
    data = json.loads(json.dumps(plain(pane_data(check))))
    page = pane_page(run.job, check, ()).decode()
    lines: list[str] = []
    print_findings("job", run.job, [check], lines.append, everything=True)
    terminal = "\n".join(lines)

    assert mark in sheet and mark == data["mark"] and mark in terminal
    assert state.told in sheet and state.words == data["state"]
    counted = Counter(finding.verdict for finding in check.findings)
    assert (state.fail, state.look, state.not_checked, state.passed) == tuple(
        counted[each] for each in (Verdict.FAIL, Verdict.LOOK, Verdict.NOT_CHECKED, Verdict.PASS)
    )
    assert Counter(finding["verdict"] for finding in data["findings"]) == {each.value: n for each, n in counted.items()}
    assert f"{run.pane.code}: {state.verdict.value.upper()}" in terminal and data["verdict"] == state.verdict.value
    for flag in state.flags:
        assert flag.finding.name in terminal and html.escape(flag.finding.name, quote=False) in page
    assert [flag["finding"] for flag in data["flags"]] == [flag.finding.name for flag in state.flags]
    assert ("NOT FOR MANUFACTURE" in sheet) == bool(data["not_for_manufacture"]) == bool(state.fail)


def test_the_flags_are_what_does_not_pass_the_worse_first(run):
    order = [Verdict.FAIL, Verdict.LOOK, Verdict.NOT_CHECKED]
    flags = run.state.flags
    assert [flag.number for flag in flags] == list(range(1, len(flags) + 1))
    ranks = [order.index(flag.finding.verdict) for flag in flags]
    assert ranks == sorted(ranks)
    wanted = [each for each in run.check.findings if each.verdict in order[:2] or each.decides]
    assert {id(flag.finding) for flag in flags} == {id(each) for each in wanted}


def test_a_run_without_the_plate_says_so(run):
    assert run.state.plate is Plate.LEFT_OUT and run.state.told.endswith("plate not run")


def test_a_pane_of_which_nobody_gave_a_pressure_says_so():
    job = job_of('[[pane]]\ncode = "P1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 400 }\n')
    state = state_of(check_pane(job, job.panes[0], plate=True))
    assert state.plate is Plate.NO_PRESSURE and "PASS" not in state.words
