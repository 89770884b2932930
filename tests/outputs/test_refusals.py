"""Refusals of the commands: few enough to be read, and the same from every command."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from outputs.command_line import main
from outputs.commands.shared import InputError

SHEET = ("--sheet", "detail", "--format", "dxf", "--format", "svg", "--no-plate")  # the sheet that is drawn soonest

LEAST = Path(__file__).resolve().parents[2] / "samples" / "minimal.toml"


def run(capsys, *words: object) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        main([str(word) for word in words])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


@pytest.mark.parametrize(("count", "last"), [(1, "f0"), (50, "f49"), (51, "and 1 more"), (1939, "and 1889 more")])
def test_at_most_fifty_faults_are_told_one_by_one(count, last):
    error = InputError([f"f{number}" for number in range(count)], closing="nothing was written")
    lines = error.message.split("\n")
    assert lines[: min(count, 50)] == [f"f{number}" for number in range(min(count, 50))]
    assert lines[-2:] == [last, "nothing was written"]
    assert len(error.entries) == count  # a machine gets them all


def panes(folder: Path, count: int, names: str) -> Path:
    """A vessel of many panes."""
    pane = LEAST.read_text("utf-8").split("[[pane]]")[1]
    text = "".join("[[pane]]" + pane.replace('"P1"', f'"P{number}"\n{names}') for number in range(count))
    job = folder / "job.toml"
    job.write_text('[vessel]\nname = "Invented launch"\n' + text, "utf-8")
    return job


def test_a_job_with_very_many_faults_is_told_in_brief(capsys, tmp_path):
    job = panes(tmp_path, 60, "glaze = 3")
    code, _, err = run(capsys, "check", job)
    assert code == 2
    assert err.splitlines()[50:] == ["and 10 more", "60 faults; nothing was written"]


@pytest.mark.parametrize("words", [["check", "--no-plate"], ["draw"], ["draw", *SHEET, "-o", "out"]])
def test_every_command_refuses_what_the_sheets_cannot_letter(capsys, tmp_path, monkeypatch, words):
    monkeypatch.chdir(tmp_path)
    job = panes(tmp_path, 3, 'name = "☐ saloon"')
    job.write_text(job.read_text("utf-8").replace("Invented launch", "Invented ✓"), "utf-8")
    code, out, err = run(capsys, words[0], job, *words[1:], "--pane", "P0", "--pane", "P2")
    assert (code, out) == (2, "")
    assert err.splitlines() == [
        f"{job}: vessel.name: the text 'Invented ✓' cannot be printed: the lettering of the sheet has no ✓ (U+2713)",
        f"{job}: pane P0: name: the text '☐ saloon' cannot be printed: the lettering of the sheet has no ☐ (U+2610)",
        f"{job}: pane P2: name: the text '☐ saloon' cannot be printed: the lettering of the sheet has no ☐ (U+2610)",
        "nothing was written",
    ]
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_a_machine_is_told_the_same(capsys, tmp_path):
    job = panes(tmp_path, 1, 'name = "☐"')
    code, out, _ = run(capsys, "check", job, "--json")
    assert code == 2
    assert [entry["key"] for entry in json.loads(out)["errors"]] == ["pane P0: name"]
