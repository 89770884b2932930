"""A job of a schedule at the command line: what turned since another state, what to change in which cell, what was decided in reading."""

from __future__ import annotations

import json

import pytest

from geometry.job import read_job
from outputs import command_line

JOB = """\
panes = { schedule = "windows.csv" }
[vessel]
name = "Invented launch"
[frame]
material = "aluminium"
[type.B]
bond = { width = 15, thickness = 6 }
frit = { width = 42 }
tolerances = { pane = 1 }
"""
SCHEDULE = """\
Code;Hand;Type;Width;Height;Radius;Build-up;Frit;Outward pressure;Inward pressure;Notes
1E2;P+S;B;900,5;450;50;10;;2;6;invented
W2;P;;700;450;50;10;42;2;6;invented
Total;;;;;;;;;;
"""


@pytest.fixture
def boat(tmp_path):
    (tmp_path / "windows.csv").write_text(SCHEDULE, encoding="utf-8")
    (tmp_path / "boat.toml").write_text(JOB, encoding="utf-8")
    return tmp_path


def run(capsys, *arguments):
    with pytest.raises(SystemExit) as leaving:
        command_line.main([str(each) for each in arguments])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


def test_a_changed_type_lists_the_panes_whose_verdict_turned(boat, capsys):
    new = boat / "new.toml"
    new.write_text(JOB.replace("width = 42", "width = 20"), encoding="utf-8")
    code, out, err = run(capsys, "check", new, "--no-plate", "--since", boat / "boat.toml")
    rows = [line.split() for line in out.split("\nsince ")[1].splitlines()]
    told = {row[0]: row[1:4] for row in rows if row and row[0] in ("1E2-P", "1E2-S", "W2")}
    assert code == 1
    assert told == {"1E2-P": ["B", "pass", "fail"], "1E2-S": ["B", "pass", "fail"], "W2": ["-", "pass", "pass"]}
    assert "type B: the verdict of 2 of 2 panes turned: 1E2-P, 1E2-S" in out
    assert "panes without a type: the verdict of 0 of 1 pane turned" in out
    assert "decimal comma, as in D2" in err and 'row 4 is a total, and no pane: "Total"' in err and '"Notes"' in err


def test_verdicts_then_from_a_kept_answer_and_a_pane_that_is_new(boat, capsys):
    _, kept, _ = run(capsys, "check", boat / "boat.toml", "--no-plate", "--pane", "1E2-P", "--json")
    (boat / "kept.json").write_text(kept, encoding="utf-8")
    new = boat / "new.toml"
    new.write_text(JOB.replace("width = 42", "width = 20"), encoding="utf-8")
    _, out, _ = run(capsys, "check", new, "--no-plate", "--since", boat / "kept.json", "--json")
    since = json.loads(out)["since"]
    told = {each["code"]: (each["type"], each["was"], each["now"], each["turned"]) for each in since["panes"]}
    assert told["1E2-P"] == ("B", "pass", "fail", True)
    assert told["W2"] == ("", "new", "pass", False)
    verdicts = {each["name"]: each["verdict"] for each in json.loads(out)["panes"][0]["findings"]}
    turned = {each["name"]: each["now"] for each in since["panes"][0]["findings"]}
    assert turned and all(now == "none" or verdicts[name] for name, now in turned.items())


def test_a_file_that_is_no_older_state_is_refused(boat, capsys):
    (boat / "kept.json").write_text('{"panes": [{"code": "W1"}]}', encoding="utf-8")
    code, out, err = run(capsys, "check", boat / "boat.toml", "--no-plate", "--since", boat / "kept.json")
    assert code == 2 and not out and "holds no pane with verdict and findings" in err


def test_a_plan_names_the_cells_and_writes_no_schedule(boat, capsys):
    schedule = SCHEDULE.replace(";42;2;6", ";20;2;6")
    (boat / "windows.csv").write_text(schedule, encoding="utf-8")
    _, out, _ = run(capsys, "check", boat / "boat.toml", "--no-plate", "--pane", "W2", "--propose")
    (told,) = [line.strip() for line in out.splitlines() if line.startswith("  windows.csv, H3 (Frit): ")]
    width = told.split(": ")[1].removesuffix(" mm")
    assert (boat / "windows.csv").read_text(encoding="utf-8") == schedule
    proposed = (boat / "boat.proposed.toml").read_text(encoding="utf-8")
    assert f"#   {told}\n" in proposed and proposed.endswith(JOB)
    (boat / "windows.csv").write_text(schedule.replace(";20;2;6", f";{width.replace('.', ',')};2;6"), encoding="utf-8")
    code, out, _ = run(capsys, "check", boat / "boat.proposed.toml", "--no-plate", "--pane", "W2")
    assert code == 0 and "W2: PASS" in out, "the cell as told makes the pane pass"


def test_drawn_since_and_carried_in_the_drawing(boat, capsys):
    """The drawing of a pane of a schedule holds the pane itself, its type and nothing of the others."""
    run(
        capsys,
        "draw",
        boat / "boat.toml",
        "-o",
        boat / "out",
        "--sheet",
        "detail",
        "--format",
        "svg",
        "--no-plate",
        "--pane",
        "W2",
    )
    code, _, _ = run(capsys, "start", "--from", boat / "out" / "W2-detail.svg", boat / "again.toml")
    assert code == 0
    again, job = read_job(boat / "again.toml"), read_job(boat / "boat.toml")
    assert [pane.code for pane in again.panes] == ["W2"] and again.schedule is None and not again.types
    assert again.panes[0].model_dump() == job.panes[2 - 1].model_dump()
    schedule = SCHEDULE.replace("W2;P;;700", "W2;P;;710")
    (boat / "windows.csv").write_text(schedule, encoding="utf-8")
    arguments = ("-o", boat / "out2", "--sheet", "detail", "--format", "svg", "--no-plate", "--pane", "W2", "--since")
    _, out, _ = run(capsys, "draw", boat / "boat.toml", *arguments, boat / "out" / "W2-detail.svg")
    assert "W2: outline of the glass moved by 10 mm at most" in out


def test_a_fault_names_its_cell_to_a_machine(boat, capsys):
    (boat / "windows.csv").write_text(SCHEDULE.replace("700", "7oo"), encoding="utf-8")
    code, out, err = run(capsys, "check", boat / "boat.toml", "--json")
    (told,) = json.loads(out)["errors"]
    assert code == 2 and (told["file"], told["cell"], told["line"], told["column"], told["pane"]) == (
        "windows.csv",
        "D3",
        3,
        4,
        "W2",
    )
    assert err.startswith("windows.csv, D3: ")
