"""How the faults of a job file reach the user: each with its line, the slip under a caret, and never too many at once."""

from __future__ import annotations

import json

import pytest

from outputs.command_line import main

GOOD = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [8] }\noutline = { rectangle = [900, 450] }\n'


@pytest.fixture
def check(capsys, tmp_path):
    def run(text: str, *options: str) -> tuple[int, str, str]:
        path = tmp_path / "job.toml"
        path.write_text(text, encoding="utf-8")
        with pytest.raises(SystemExit) as left:
            main(["check", str(path), *options])
        out, err = capsys.readouterr()
        return int(left.value.code or 0), out, err

    return run


def test_a_slip_is_shown_with_a_caret_and_the_line_mended(check):
    code, _, err = check(GOOD + "bow = 1,5\n")
    rows = err.splitlines()
    assert code == 2 and "line 6" in rows[0]
    assert rows[1].endswith("typed:  bow = 1,5") and rows[3].endswith("mended: bow = 1.5")
    assert rows[1][rows[2].index("^")] == ","


def test_a_slip_for_a_machine(check):
    code, out, _ = check(GOOD + "bow = 1,5\n", "--json")
    (error,) = json.loads(out)["errors"]
    assert code == 2 and (error["line"], error["column"], error["text"], error["mended"]) == (6, 8, "bow = 1,5", "bow = 1.5")


def test_at_most_fifty_faults_are_printed_and_a_machine_gets_all(check):
    text = GOOD + "".join(f"unknown_{number} = 1\n" for number in range(120))
    code, _, err = check(text)
    rows = err.splitlines()
    assert code == 2 and len(rows) == 52 and rows[50] == "and 70 more" and rows[51].startswith("120 faults")
    _, out, _ = check(text, "--json")
    assert len(json.loads(out)["errors"]) == 120


def test_panes_in_the_plural_are_refused_and_no_fault_of_the_program(check):
    code, _, err = check(GOOD.replace("[[pane]]", "[[panes]]"))
    assert code == 2 and "[[pane]]" in err and "fault of the program" not in err


def test_an_origin_of_the_office_is_printed(check, tmp_path):
    (tmp_path / "office.toml").write_text("[limits]\njoint_least = 2\n")
    code, out, _ = check('defaults = "office.toml"\n' + GOOD, "--no-plate")
    assert code in (0, 1) and "given by the office's defaults" in out and "office.toml: limits.joint_least (line 2)" in out
    _, out, _ = check('defaults = "office.toml"\n' + GOOD, "--no-plate", "--json")
    inputs = [entry for figure in json.loads(out)["panes"][0]["figures"] for entry in figure["inputs"]]
    assert {entry["given_by"] for entry in inputs} >= {""} and all("given_by" in entry for entry in inputs)
