"""``fritline check --propose``: the plans typed into a copy of the job, comments and order kept, never over a file."""

import difflib
import shutil
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner

from outputs.commands.line import commands
from outputs.commands.shared import InputError

SAMPLE = Path("samples/sallow-wren.toml")


def run(*words):
    return CliRunner().invoke(commands, ["check", "--no-plate", *map(str, words)], standalone_mode=False)


@pytest.fixture(scope="module")
def proposed(tmp_path_factory):
    job = tmp_path_factory.mktemp("job") / "vessel.toml"
    shutil.copy(SAMPLE, job)
    answer = run(job, "--propose")
    assert answer.return_value == 1
    return job, job.with_name("vessel.proposed.toml")


def test_the_old_file_stands_and_only_changed_lines_differ(proposed):
    old, new = proposed
    assert old.read_bytes() == SAMPLE.read_bytes()
    lines = difflib.unified_diff(old.read_text().splitlines(), new.read_text().splitlines(), lineterm="", n=0)
    gone = [line for line in lines if line.startswith("-") and not line.startswith("---")]
    assert gone and not any(line.lstrip("-").lstrip().startswith(("#", "[")) for line in gone)
    comments = [line for line in old.read_text().splitlines() if line.lstrip().startswith("#")]
    assert comments == [line for line in new.read_text().splitlines() if line.lstrip().startswith("#")]


def test_the_proposed_job_comes_out_as_the_plans_said(proposed):
    old, new = proposed
    said = [line.split()[-1].lower() for line in run(old).output.splitlines() if "tried together: the pane would then be" in line]
    table = run(new).output.splitlines()[1:11]
    today = [line.split()[1] for line in run(old).output.splitlines()[1:11]]
    assert len(table) == 10
    assert [line.split()[1] for line in table if today[table.index(line)] != "pass"] == said


def test_a_second_proposal_takes_another_name(proposed):
    old, new = proposed
    before = new.read_bytes()
    run(old, "--pane", "SW-04", "--propose")
    other = old.with_name("vessel.proposed-2.toml")
    assert new.read_bytes() == before
    panes = {pane["code"]: pane for pane in tomllib.loads(other.read_text())["pane"]}
    assert panes["SW-04"]["bond"]["width"] == 16 and panes["SW-02"]["frit"]["width"] == 24  # only the pane asked for is changed


def test_nothing_is_written_where_nothing_is_wrong(tmp_path):
    job = tmp_path / "vessel.toml"
    bright = '[temperatures]\nframe_colour = "bright"\n\n[[pane]]'
    job.write_text(SAMPLE.read_text(encoding="utf-8").replace("[[pane]]", bright, 1), encoding="utf-8")
    run(job, "--pane", "SW-01", "--propose")
    assert [path.name for path in tmp_path.iterdir()] == ["vessel.toml"]


def test_the_standard_input_has_no_file_beside_it():
    answer = CliRunner().invoke(commands, ["check", "-", "--propose"], input=SAMPLE.read_text(), standalone_mode=False)
    assert isinstance(answer.exception, InputError)
    assert "--propose: found a job on the standard input; allowed: a job file" in str(answer.exception)


def test_line_ends_of_another_system_are_kept(tmp_path):
    job = tmp_path / "vessel.toml"
    job.write_bytes(SAMPLE.read_bytes().replace(b"\n", b"\r\n"))
    run(job, "--pane", "SW-04", "--propose")
    written = (tmp_path / "vessel.proposed.toml").read_bytes()
    assert written.count(b"\r\n") == written.count(b"\n") > 100
