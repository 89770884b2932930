"""Some panes of a vessel issued, the others left as they stand: what the lists then say, and what is refused."""

from __future__ import annotations

import csv
import io
import json
import shutil
from pathlib import Path

import openpyxl
import pytest

from geometry.job import job_of
from outputs import command_line, documents
from outputs.vessel import run
from outputs.vessel.one_pane import Asked
from outputs.vessel.run import NOT_ISSUED, NOT_UP_TO_DATE, UP_TO_DATE, WRITTEN, IssueError, issued

ASKED = Asked(plate=False, documents=("label", "glass"), formats=("svg",))
SHARED = 'sheet.date = 2026-11-02\nframe = "grp"\nglass = { plies = [8] }\nvessel.name = "Teal Wader (invented)"\n'
PANES = {
    "R1": '[[pane]]\ncode = "R1"\nrevision = "A"\noutline = { circle = 300 }\n',
    "Q1": '[[pane]]\ncode = "Q1"\nrevision = "A"\noutline = { rectangle = [500, 300], radius = 50 }\n',
    "Q2": '[[pane]]\ncode = "Q2"\nrevision = "A"\noutline = { rectangle = [600, 300], radius = 50 }\n',
}


def text(**changed: str) -> str:
    return SHARED + "".join({**PANES, **changed}.values())


WIDER = text(
    Q1=PANES["Q1"].replace("500", "510").replace('"A"', '"B"'), Q2=PANES["Q2"].replace("600", "610").replace('"A"', '"B"')
)


def go(folder: Path, job: str, *only: str, purpose: str = ""):
    return issued(job_of(job), "teal", folder, ASKED, workers=1, step=lambda _what: None, only=only, purpose=purpose)


def outcomes(done) -> dict[str, str]:
    return {each.code: each.what for each in done.panes}


def rows(folder: Path, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((folder / f"teal-{name}.csv").read_text("utf-8-sig"))))


def sheet(folder: Path, name: str) -> str:
    book = openpyxl.load_workbook(folder / "teal-register.xlsx")
    return "\n".join("|".join(str(cell.value) for cell in row) for row in book[name].iter_rows())


@pytest.fixture(scope="module")
def chosen(tmp_path_factory):
    """Three panes issued, two changed, one of those asked for."""
    folder = tmp_path_factory.mktemp("chosen") / "issue"
    first = go(folder, text())
    before = {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in (folder / "Q2").iterdir()}
    return folder, first, before, go(folder, WIDER, "Q1")


def test_only_what_was_asked_for_is_drawn_and_the_rest_stays(chosen):
    folder, _, before, done = chosen
    assert outcomes(done) == {"R1": UP_TO_DATE, "Q1": WRITTEN, "Q2": NOT_UP_TO_DATE}
    assert before == {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in (folder / "Q2").iterdir()}
    assert {path.name for path in (folder / "Q1").iterdir()} == {"Q1-B-glass.dxf", "Q1-B-label.svg"}


def test_the_register_tells_what_stands_there_and_that_it_is_not_up_to_date(chosen):
    folder, first, _, _ = chosen
    told = rows(folder, "register")
    assert {(row["pane"], row["revision"], row["status"]) for row in told if row["status"] != "superseded"} == {
        ("R1", "A", "issued"),
        ("Q1", "B", "issued"),
        ("Q2", "A", "not up to date"),
    }
    for row in told:
        assert (folder / row["file"]).is_file()
    old = next(each.facts for each in first.panes if each.code == "Q2")
    assert f"Q2||A|{old.mark}" in sheet(folder, "Valid").replace("None", "") and "NOT UP TO DATE" in sheet(folder, "Valid")
    assert "Q2|B|not up to date|not asked for in this run, and the job or the options of the run have changed since" in sheet(folder, "Left out")
    page = (folder / "teal-register.html").read_text("utf-8")
    assert "Panes whose documents are not up to date" in page and "not up to date: Q2" in page


def test_what_is_not_up_to_date_is_in_no_sum(chosen):
    folder = chosen[0]
    glass = {row["code"]: row for row in rows(folder, "glass")}
    assert glass["Q2"]["state"] == "NOT UP TO DATE: not in the sums" and not glass["Q2"]["files"]
    assert glass["together"]["pieces"] == "2"
    for name in ("glass", "masses", "blocks", "consumables"):
        book = openpyxl.load_workbook(folder / f"teal-{name}.xlsx")
        assert any(
            "INCOMPLETE, in no sum: Q2 (not up to date)." in str(cell.value) for row in book.active.iter_rows() for cell in row
        )


def test_the_rest_asked_for_later_makes_the_issue_that_a_whole_run_makes(chosen, tmp_path):
    folder = shutil.copytree(chosen[0], tmp_path / "chosen")
    assert outcomes(go(folder, WIDER)) == {"R1": UP_TO_DATE, "Q1": UP_TO_DATE, "Q2": WRITTEN}
    whole = tmp_path / "whole"
    go(whole, text())
    go(whole, WIDER)

    def standing(of: Path) -> dict[str, bytes]:
        paths = (path for path in of.rglob("*") if path.is_file() and not path.name.startswith("."))
        return {path.relative_to(of).as_posix(): path.read_bytes() for path in paths if "register" not in path.name}

    assert standing(folder) == standing(whole)


def test_a_pane_that_was_never_issued_is_told_as_that(tmp_path):
    done = go(tmp_path, text(), "R1", "Q1")
    assert outcomes(done) == {"R1": WRITTEN, "Q1": WRITTEN, "Q2": NOT_ISSUED}
    assert {row["status"] for row in rows(tmp_path, "register") if row["pane"] == "Q2"} == {"not issued"}
    assert "INCOMPLETE, in no sum: Q2 (not issued)." in str(
        [cell.value for row in openpyxl.load_workbook(tmp_path / "teal-glass.xlsx").active.iter_rows() for cell in row]
    )


def test_a_list_made_for_a_purpose_goes_aside_when_a_pane_in_it_is_not_up_to_date_any_more(tmp_path):
    """No pane is written: the list for approval would go on telling the pane as it was, and the register would name it."""
    go(tmp_path, text(), purpose="approval")
    assert outcomes(go(tmp_path, text(), "Q1")) == dict.fromkeys(("R1", "Q1", "Q2"), UP_TO_DATE)
    assert {row["code"] for row in rows(tmp_path, "approval")} >= {"R1", "Q1", "Q2"}  # nothing has changed: it holds
    done = go(tmp_path, text(Q2=PANES["Q2"].replace("600", "610")), "Q1")
    assert outcomes(done)["Q2"] == NOT_UP_TO_DATE and {each.document.name for each in done.superseded} == {"approval"}
    assert not list(tmp_path.glob("teal-approval*"))
    assert "approval" not in sheet(tmp_path, "Lists") and "teal-approval.csv" in sheet(tmp_path, "Superseded")
    assert (tmp_path / "superseded" / "lists" / "teal-approval.csv").is_file()
    assert not go(tmp_path, text(Q2=PANES["Q2"].replace("600", "610")), "Q1").superseded


def test_other_options_of_the_run_are_not_told_as_a_change_of_the_job_alone(tmp_path):
    go(tmp_path, text())
    other = Asked(plate=False, documents=("label",), formats=("svg",))
    done = issued(job_of(text()), "teal", tmp_path, other, workers=1, step=lambda _what: None, only=("Q1",))
    assert {each.reason for each in done.panes if each.what == NOT_UP_TO_DATE} == {
        "not asked for in this run, and the job or the options of the run have changed since"
    }


def test_what_another_version_issued_stays_and_is_in_no_sum(tmp_path, monkeypatch):
    go(tmp_path, text())
    monkeypatch.setattr(run, "program_hash", lambda: "another")
    done = go(tmp_path, text(), "R1")
    assert outcomes(done) == {"R1": WRITTEN, "Q1": NOT_UP_TO_DATE, "Q2": NOT_UP_TO_DATE}
    assert all("another version" in each.reason for each in done.panes[1:])


@pytest.mark.parametrize("harm", ["changed", "missing"])
def test_a_pane_that_would_stay_and_does_not_stand_as_written_is_refused(tmp_path, harm):
    """The register would give the hash of a file that is not there."""
    go(tmp_path, text())
    harmed = tmp_path / "Q2" / "Q2-A-label.svg"
    if harm == "changed":
        harmed.write_bytes(harmed.read_bytes() + b"\n")
    else:
        harmed.unlink()
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    with pytest.raises(
        IssueError, match="pane Q2: found documents that are changed or missing; allowed: .* or --pane Q2 as well"
    ):
        go(tmp_path, WIDER, "Q1")
    assert before == {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert outcomes(go(tmp_path, text(), "Q1", "Q2")) == {"R1": UP_TO_DATE, "Q1": UP_TO_DATE, "Q2": WRITTEN}


def test_the_command_names_what_is_not_up_to_date(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(documents, "NAMES", ASKED.documents)
    Path("teal.toml").write_text(text(), encoding="utf-8")
    with pytest.raises(SystemExit) as left:
        command_line.main(["issue", "teal.toml", "--no-plate", "--workers", "1", "--pane", "R1", "--json"])
    told = capsys.readouterr()
    answer = json.loads(told.out)
    assert [each["outcome"] for each in answer["panes"]] == ["written", "not issued", "not issued"]
    assert "pane Q1 is not issued: not asked for in this run, and it has no documents" in told.err and left.value.code in (0, 1)
    assert answer["verdict"] == "not checked" or left.value.code == 1
    with pytest.raises(SystemExit) as left:
        command_line.main(["issue", "teal.toml", "--no-plate", "--pane", "R9"])
    assert left.value.code == 2 and "R9" in capsys.readouterr().err


def test_the_folder_may_be_a_link_and_what_is_in_it_may_not(tmp_path):
    """A link to a place on a server is that place; a link inside would have documents written, moved and taken away somewhere else."""
    there, link, elsewhere = tmp_path / "there", tmp_path / "link", tmp_path / "elsewhere"
    there.mkdir()
    elsewhere.mkdir()
    link.symlink_to(there, target_is_directory=True)
    go(link, text())
    assert (there / "R1" / "R1-A-label.svg").is_file() and link.is_symlink()
    for name in ("superseded", "Q3"):
        (there / name).symlink_to(elsewhere, target_is_directory=True)
        more = text(Q3=PANES["Q2"].replace("Q2", "Q3"))
        with pytest.raises(IssueError, match=f"{name}: found a link; allowed: a folder or nothing"):
            go(link, more)
        (there / name).unlink()
    assert not list(elsewhere.iterdir())
    assert outcomes(go(link, more))["Q3"] == WRITTEN
