"""Sessions on the terminal, on the vessel's page, in the JSON answer and on the papers of a pane: one clock, one climate, one day everywhere."""

from __future__ import annotations

import itertools
import json
import re
from pathlib import Path

import pytest

from geometry.findings.check import check_pane
from geometry.job import read_job
from outputs.command_line import main
from outputs.drawing.card_facts import facts_of
from outputs.record.pane_page import pane_page
from outputs.record.sessions import HEADINGS, rows_of
from outputs.record.together import planned_sessions, pooled_quantities
from outputs.record.vessel_page import vessel_page
from outputs.record.vessel_rows import pane_row
from outputs.sheet.entities import Text
from outputs.sheets.contents import Contents
from outputs.sheets.label import label_sheets

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


@pytest.fixture(scope="module")
def checks():
    job = read_job(SAMPLES / "sessions.toml")
    return [check_pane(job, pane) for pane in job.panes]


def told(capsys, *arguments):
    with pytest.raises(SystemExit):
        main(["check", str(SAMPLES / "sessions.toml"), "--no-plate", *arguments])
    return capsys.readouterr().out


def test_terminal_page_and_json_tell_the_same_rows(checks, capsys):
    job = checks[0].subject.job
    plans = planned_sessions(job, checks)
    plain = told(capsys)
    pages = {each.subject.pane.code: "x" for each in checks}
    page = vessel_page(job, list(map(pane_row, checks)), plans, together=pooled_quantities(job, checks), pages=pages).decode()
    page = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))
    data = json.loads(told(capsys, "--json"))
    assert (
        plain.index("the worst") < plain.index("port side, 2026-05-04, 08:00 to 10:14: P-1, P-2, P-3") < plain.index("P-1, mark")
    )
    for plan, session in zip(plans, data["sessions"] if "sessions" in data else data["jobs"][0]["sessions"], strict=True):
        for row in rows_of(plan):
            assert re.search(r"\s+".join(map(re.escape, row)), plain)
            assert " ".join(row) in page
        assert (session["session"], session["packs"]) == (plan.title, plan.packs)
        assert [(task["pane"], task["step"], task["who"]) for task in session["tasks"]] == [
            (task.pane, task.what, list(task.who)) for task in plan.tasks
        ]
        assert f"adhesive: {plan.packs} pack" in plain
    assert " ".join(HEADINGS) in page


def test_rows_go_person_by_person_and_no_row_begins_before_the_last_ends(checks):
    for plan in planned_sessions(checks[0].subject.job, checks):
        rows = rows_of(plan)
        assert list(dict.fromkeys(row[2] for row in rows)) == list(plan.crew)
        for who in plan.crew:
            own = [(row[0], row[1]) for row in rows if row[2] == who]
            assert all(after[0] >= before[1] for before, after in itertools.pairwise(own))


def test_card_record_and_json_of_a_pane_have_the_clock_of_the_session(checks):
    check = next(each for each in checks if each.subject.pane.code == "P-3")
    card = facts_of(check)
    bead = next(each for each in card.clock.both if each.kind.value == "bead")
    assert card.clock.at(bead.offset) == "10:00"
    page = pane_page(check.subject.job, check, ()).decode()
    assert "Session port side of 2026-05-04: its work starts at 08:00. Air 22 °C, 55 % humidity" in page
    assert card.days.bonded == "2026-05-04" and card.days.dates[0] == "2026-05-05"
    label = [
        mark.string
        for sheet in label_sheets(Contents(check.subject.job, check.subject.pane, check.subject.detail, check))
        for mark in sheet.marks
        if isinstance(mark, Text)
    ]
    days = card.days.dates
    assert [f"move from {days[0][5:]}", f"fill from {days[1][5:]}", f"hose from {days[2][5:]}"] == [
        each for each in label if " from " in each
    ]


def test_without_sessions_the_order_is_told_for_each_pane_and_says_so():
    job = read_job(SAMPLES / "pair.toml")
    checks = [check_pane(job, pane) for pane in job.panes]
    row = pooled_quantities(job, checks).row("bonding adhesive")
    single = sum(check.time_plan.packs * check.subject.pane.quantity for check in checks)
    assert row.to_buy.startswith(f"{single} pack") and row.basis.endswith("each opens its own: no session is given")
    assert not planned_sessions(job, checks)


def test_the_start_of_the_bead_can_be_worked_again_from_the_record(checks):
    """Sum 11.8 with its inputs: in a session the people must be free as well."""
    check = next(each for each in checks if each.subject.pane.code == "P-2")
    figure = next(each for each in check.figures if each.record.name == "time_plan.bead_start")
    given = {each.name: each.value for each in figure.inputs}
    ready = max(given["frame ready"], given["glass ready"], given["people free"]) + given["climate check"]
    assert figure.value == -(-(480 + ready) // 15) * 15 - 480 == 90
    page = pane_page(check.subject.job, check, ()).decode()
    assert "people free" in page


def test_a_launch_that_comes_too_early_is_told_with_the_day_as_it_is_typed(tmp_path, capsys):
    path = tmp_path / "early.toml"
    path.write_text((SAMPLES / "sessions.toml").read_text(encoding="utf-8").replace("launch = 2026-05-22", "launch = 2026-05-07"))
    with pytest.raises(SystemExit) as left:
        main(["check", str(path), "--no-plate", "--pane", "S-1", "--record", str(tmp_path / "record")])
    out = capsys.readouterr().out
    day = re.search(r"launch on (\d{4}-\d{2}-\d{2}) or later", out)[1]
    assert left.value.code in (0, 1) and f"vessel.launch = {day}" in " ".join(out.split())
    assert f"vessel.launch = {day}" in next((tmp_path / "record").glob("S-1*.html")).read_text(encoding="utf-8")
