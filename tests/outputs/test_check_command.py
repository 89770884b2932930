"""``fritline check`` as a user meets it: exit codes, words on a pipe and on a terminal, data, record, refusals."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.ledger.finding import Verdict
from geometry.plate.mesh import PlateMeshError
from outputs import command_line
from outputs.record.data import plain

pty = pytest.importorskip("pty", reason="a terminal of its own needs POSIX")
ROOT = Path(__file__).resolve().parents[2]
VESSEL = ROOT / "samples" / "sallow-wren.toml"
ESCAPE = "\x1b"


def run(capsys, *arguments: str | Path) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        command_line.main([str(each) for each in arguments])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


@pytest.fixture
def clean(tmp_path) -> Path:
    """The one pane of the vessel that passes, alone, in a bright frame: in a dark one its sealant is to be looked at."""
    text = VESSEL.read_text(encoding="utf-8")
    panes = text.split("[[pane]]")
    path = tmp_path / "clean.toml"
    path.write_text("[[pane]]".join([panes[0] + '[temperatures]\nframe_colour = "bright"\n', panes[1]]), encoding="utf-8")
    return path


def in_terminal(columns: int, *arguments: str | Path, **environment: str) -> tuple[int, str]:
    """One run on a terminal of so many columns; what it shows."""
    import fcntl
    import struct
    import termios

    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 50, columns, 0, 0))
    settings = {key: value for key, value in os.environ.items() if key not in ("COLUMNS", "LINES", "NO_COLOR")}
    settings |= {"PYTHONPATH": str(ROOT), "TERM": "xterm-256color", **environment}
    command = [sys.executable, "-m", "outputs.command_line", *map(str, arguments)]
    child = subprocess.Popen(command, cwd=ROOT, env=settings, stdin=theirs, stdout=theirs, stderr=theirs)
    os.close(theirs)
    parts = []
    while True:
        try:
            part = os.read(ours, 65536)
        except OSError:  # Linux says so when the other side has gone
            break
        if not part:
            break
        parts.append(part)
    os.close(ours)
    return child.wait(timeout=60), b"".join(parts).decode("utf-8").replace("\r\n", "\n")


# ---------------------------------------------------------------- exit codes


def test_a_pane_that_passes_is_exit_0(clean, capsys):
    code, out, err = run(capsys, "check", clean, "--no-plate")
    assert (code, err) == (0, "")
    assert "SW-01: PASS" in out
    assert "fail" not in {line.split()[0] for line in out.splitlines() if line.startswith("  ")}


def test_a_pane_that_fails_is_exit_1_and_says_what_to_do(capsys):
    code, out, err = run(capsys, "check", VESSEL, "--pane", "SW-02", "--no-plate")
    assert (code, err) == (1, "")
    (row,) = [line for line in out.splitlines() if line.startswith("  fail") and "frit at least twice the bond width" in line]
    assert row.split()[-5:] == ["30", "−8", "mm", "all", "round"]
    assert "what to do, as one plan:" in out and "what to do, finding by finding:" in out and "      - or " in out
    assert "M.Y. Sallow Wren: 1 pane: 1 fail" in out


def test_a_wrong_job_is_exit_2_and_writes_nothing(tmp_path, capsys):
    bad = tmp_path / "bad.toml"
    bad.write_text(VESSEL.read_text(encoding="utf-8").replace("width = 15", "width = -15"), encoding="utf-8")
    code, out, err = run(capsys, "check", bad, "--record", tmp_path / "record")
    assert (code, out) == (2, "")
    assert "nothing was written" in err and "bond.width" in err
    assert not (tmp_path / "record").exists()
    code, out, _ = run(capsys, "check", bad, "--json")
    assert code == 2 and json.loads(out)["errors"][0]["key"] == "pane 1 (SW-01), bond.width"


@pytest.mark.parametrize("option", [["--pane", "SW-1"], ["--record", ""]])
def test_a_wrong_option_is_exit_2(option, capsys):
    code, out, err = run(capsys, "check", VESSEL, *option)
    assert (code, out) == (2, "")
    assert err.startswith(option[0]) and "allowed" in err


def test_a_pane_that_cannot_be_built_is_exit_2(tmp_path, capsys):
    bad = tmp_path / "bad.toml"
    bad.write_text(
        '[[pane]]\ncode = "P1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 60 }\nbond = { width = 60 }\n',
        encoding="utf-8",
    )
    code, out, err = run(capsys, "check", bad)
    assert (code, out) == (2, "")
    assert "pane P1" in err and err.rstrip().endswith("nothing was written")


def test_a_missing_library_of_the_system_names_its_package(clean, capsys, monkeypatch):
    def fail(*_args, **_kwargs):
        raise ImportError("libGL.so.1: cannot open shared object file: No such file or directory")

    monkeypatch.setattr("geometry.findings.check.check_pane", fail)
    code, out, err = run(capsys, "check", clean)
    assert (code, out) == (2, "")
    assert "apt-get install libgl1" in err


def test_the_plate_is_worked_out_unless_it_is_left_out(clean, capsys, monkeypatch):
    asked = []

    def plain(job, pane, detail, *, plate, plan):
        asked.append(plate)
        return check_pane(job, pane, detail)

    monkeypatch.setattr("geometry.findings.check.check_pane", plain)
    run(capsys, "check", clean)
    run(capsys, "check", clean, "--no-plate")
    assert asked == [True, False]


def test_a_plate_that_cannot_be_worked_out_is_told_and_how_to_leave_it_out(clean, tmp_path, capsys, monkeypatch):
    def fail(*_args, plate, plan):
        raise PlateMeshError("no triangle fits the bead near (0, 0)")

    monkeypatch.setattr("geometry.findings.check.check_pane", fail)
    code, out, err = run(capsys, "check", clean, "--record", tmp_path / "record")
    assert (code, out) == (2, "")
    assert "pane SW-01" in err and "no triangle fits the bead" in err and "--no-plate" in err
    assert not (tmp_path / "record").exists()


# ---------------------------------------------------------------- what is printed


def test_every_finding_is_printed_with_its_figures(capsys):
    """Against the findings themselves: the same names, each with value, limit, margin, unit and place in one row."""
    job = read_job(VESSEL)
    pane = next(pane for pane in job.panes if pane.code == "SW-03")
    check = check_pane(job, pane)
    _, out, _ = run(capsys, "check", VESSEL, "--pane", "SW-03", "--no-plate", "--all")
    lines = out.splitlines()
    for finding in check.findings:
        if finding.verdict is Verdict.NOT_CHECKED:
            assert f"    {finding.name}: {finding.says.removeprefix('not checked: ')}" in lines
            continue
        (row,) = [line for line in lines if re.match(rf"  {finding.verdict.value} +{re.escape(finding.name)}  ", line)]
        assert finding.side.value in row
        assert finding.where in row and f" {finding.unit} " in f"{row} "
        value = float(re.search(r"  (−?[\d.]+)  at ", row).group(1).replace("−", "-"))
        assert value == pytest.approx(finding.value, rel=1e-3, abs=1e-9)
    for finding in check.findings:
        assert all(
            any(line.startswith((f"      - {remedy}", f"      - or {remedy}")) for line in lines) for remedy in finding.remedies
        )


def test_columns_stand_under_their_headings(capsys):
    _, out, _ = run(capsys, "check", VESSEL, "--pane", "SW-02", "--no-plate", "--all")
    lines = out.splitlines()
    head = lines[1]
    start = head.index("limit")
    rows = [line for line in lines[2:] if line.startswith(("  fail ", "  look ", "  pass "))]
    assert len(rows) > 20
    assert all(line[start - 2 : start].strip() == "" and line[start:].startswith(("at least", "at most")) for line in rows)
    end = head.index("margin") + len("margin")
    assert all(re.match(r"[\d.]", line[end - 1]) and line[end : end + 2].strip() == "" for line in rows)


def test_what_fails_comes_first(capsys):
    _, out, _ = run(capsys, "check", VESSEL, "--pane", "SW-10", "--no-plate", "--all")
    verdicts = [line.split()[0] for line in out.splitlines() if line.startswith(("  fail ", "  look ", "  pass "))]
    order = ["fail", "look", "pass"]
    assert verdicts == sorted(verdicts, key=order.index) and set(verdicts) == set(order)


def test_a_pipe_gets_no_colour_and_no_progress():
    command = [sys.executable, "-m", "outputs.command_line", "check", str(VESSEL), "--pane", "SW-02", "--no-plate"]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, encoding="utf-8", timeout=120)
    assert answer.returncode == 1
    assert ESCAPE not in answer.stdout and answer.stderr == ""
    assert not [line for line in answer.stdout.splitlines() if line != line.rstrip()]


@pytest.mark.parametrize("columns", [80, 120])
def test_a_terminal_gets_a_table_that_fits(columns):
    code, shown = in_terminal(columns, "check", VESSEL, "--pane", "SW-02", "--no-plate")
    assert code == 1
    assert ESCAPE in shown
    plain = re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", shown)
    lines = plain.split("\r")[-1].splitlines()
    assert max(map(len, lines)) <= columns
    assert sum(line.startswith(" fail ") for line in lines) >= 2  # the word itself, not its colour
    assert "SW-02: FAIL" in plain and "what to do" in plain
    assert "22 < 30 mm" in plain if columns == 80 else "at least 30" in plain


@pytest.mark.parametrize("columns", [32, 48, 60, 80])
def test_no_name_and_no_figure_is_lost_on_a_narrow_terminal(columns):
    _, shown = in_terminal(columns, "check", VESSEL, "--pane", "SW-02", "--no-plate", "--all")
    plain = re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", shown)
    assert "…" not in plain
    job = read_job(VESSEL)
    check = check_pane(job, next(pane for pane in job.panes if pane.code == "SW-02"))
    words = Counter(re.findall(r"[\w.]+", plain))
    for finding in check.findings:
        assert not Counter(re.findall(r"[\w.]+", finding.name)) - words
    assert len(re.findall(r"^\s*(?:fail|look|pass) ", plain, re.MULTILINE)) == sum(
        finding.verdict.value != "not checked" for finding in check.findings
    )


def test_no_colour_where_the_user_wants_none():
    """NO_COLOR as no-color.org describes it: set and not empty, no colour is added; bold may stay."""
    _, shown = in_terminal(100, "check", VESSEL, "--pane", "SW-02", "--no-plate", NO_COLOR="1")
    assert not re.search(r"\x1b\[[0-9;]*3[0-7]m", shown)
    assert re.search(r"fail", shown)


def test_a_reader_that_leaves_early_is_no_fault():
    command = f"{sys.executable} -m outputs.command_line check {VESSEL} --pane SW-01 --pane SW-02 --no-plate | head -n 1; echo ${{PIPESTATUS[0]}}"
    answer = subprocess.run(["bash", "-c", command], cwd=ROOT, capture_output=True, text=True, encoding="utf-8", timeout=200)
    first, code = answer.stdout.splitlines()
    assert first.startswith("pane   verdict")
    assert (code, answer.stderr) == ("1", "")


@pytest.mark.parametrize("encoding", ["ascii", "cp1252"])
def test_a_stream_without_the_signs_keeps_the_minus(encoding):
    """A terminal of old has no minus sign and no "at least" sign: they are written in plain letters, never as a question mark."""
    command = [sys.executable, "-m", "outputs.command_line", "check", str(VESSEL), "--pane", "SW-02", "--no-plate"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    shown = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, timeout=120, check=False).stdout
    assert b"?" not in shown
    (row,) = [line for line in shown.decode(encoding).splitlines() if re.match("  fail +frit at least twice", line)]
    assert row.split()[-5:] == ["30", "-8", "mm", "all", "round"]
    data = subprocess.run([*command, "--json"], cwd=ROOT, env=environment, capture_output=True, timeout=120, check=False).stdout
    plain = subprocess.run([*command, "--json"], cwd=ROOT, capture_output=True, timeout=120, check=False).stdout
    assert json.loads(data.decode(encoding)) == json.loads(plain.decode("utf-8"))


# ---------------------------------------------------------------- data


def test_the_data_hold_every_finding_with_the_sum_behind_it(capsys):
    job = read_job(VESSEL)
    chosen = [pane for pane in job.panes if pane.code in ("SW-02", "SW-10")]
    code, out, err = run(capsys, "check", VESSEL, "--pane", "SW-02", "--pane", "SW-10", "--no-plate", "--json")
    told = json.loads(out)
    assert (code, err, told["verdict"], told["written"]) == (1, "", "fail", [])
    for pane, entry in zip(chosen, told["panes"], strict=True):
        check = check_pane(job, pane)
        assert entry["verdict"] == check.verdict.value
        assert len(entry["figures"]) == len(check.figures)
        for finding, found in zip(check.findings, entry["findings"], strict=True):
            assert found["name"] == finding.name and found["verdict"] == finding.verdict.value
            assert (found["value"], found["limit"], found["margin"]) == tuple(
                map(plain, (finding.value, finding.limit, finding.margin))
            )
            assert (found["side"], found["unit"], found["where"], found["says"]) == (
                finding.side.value,
                finding.unit,
                finding.where,
                finding.says,
            )
            assert (found["source"], found["status"]) == (finding.source, finding.status.value)
            assert [r["sentence"] for r in found["remedies"]] == [r.sentence for r in finding.remedies]
            if finding.figure is not None:
                inputs = found["figure"]["inputs"]
                assert [each["name"] for each in inputs] == [each.name for each in finding.figure.inputs]
                assert all(set(each) == {"name", "value", "unit", "origin", "key", "given_by"} for each in inputs)


def test_the_same_answer_in_every_process(tmp_path):
    """Words hash differently in each of the two processes; answer and record are the same to the byte."""
    answers = []
    for seed in ("3", "4"):
        folder = tmp_path / seed / "record"
        folder.parent.mkdir()
        command = [sys.executable, "-m", "outputs.command_line", "check", str(VESSEL), "--pane", "SW-03", "--no-plate"]
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed}
        options = {"cwd": folder.parent, "env": environment, "capture_output": True, "timeout": 120}
        printed = subprocess.run([*command, "--record", "record"], check=False, **options).stdout
        data = subprocess.run([*command, "--json"], check=False, **options).stdout
        files = {path.name: path.read_bytes() for path in sorted(folder.iterdir())}
        answers.append((printed, data, files))
    assert answers[0] == answers[1]
    assert len(answers[0][2]) == 4


# ---------------------------------------------------------------- the record


def test_the_record_is_written_and_told(clean, tmp_path, capsys):
    folder = tmp_path / "deep" / "record"
    code, out, _ = run(capsys, "check", clean, "--no-plate", "--record", folder)
    names = ["SW-01-A-record.html", "SW-01-A-record.json", "records.html", "records.json"]
    assert code == 0
    assert sorted(path.name for path in folder.iterdir()) == names
    assert [line for line in out.splitlines() if line.startswith("written")] == [f"written: {folder / name}" for name in names]
    _, out, _ = run(capsys, "check", clean, "--no-plate", "--record", folder, "--json")
    assert json.loads(out)["written"] == [str(folder / name) for name in names]


def test_a_pane_that_fails_has_its_record_too(tmp_path, capsys):
    code, _, _ = run(capsys, "check", VESSEL, "--pane", "SW-02", "--no-plate", "--record", tmp_path / "record")
    assert code == 1
    assert "FAIL" in (tmp_path / "record" / "SW-02-A-record.html").read_text(encoding="utf-8")


def test_a_file_in_the_place_of_the_folder_stays(clean, tmp_path, capsys):
    (tmp_path / "taken").write_bytes(b"precious")
    code, out, err = run(capsys, "check", clean, "--no-plate", "--record", tmp_path / "taken")
    assert (code, out) == (2, "")
    assert "is a file" in err
    assert (tmp_path / "taken").read_bytes() == b"precious"


def test_a_full_disk_leaves_no_part_of_a_record(clean, tmp_path, capsys, monkeypatch):
    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    code, out, err = run(capsys, "check", clean, "--no-plate", "--record", tmp_path / "record")
    assert (code, out) == (2, "")
    assert "the disk is full" in err
    assert not (tmp_path / "record").exists()


# ---------------------------------------------------------------- help


def test_help_tells_options_and_exit_codes_and_imports_nothing_heavy():
    command = [sys.executable, "-X", "importtime", "-m", "outputs.command_line", "check", "--help"]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60)
    words = " ".join(answer.stdout.split())
    for word in ("--pane", "--no-plate", "--json", "--record", "Exit code 0", "nothing was written", "not checked"):
        assert word in words
    rows = [line for line in answer.stderr.splitlines() if line.startswith("import time:")]
    packages = {row.rsplit("|", 1)[1].strip().split(".")[0] for row in rows}
    assert "click" in packages  # the clock does see what is imported
    assert not packages & {"cadquery", "OCP", "shapely", "ezdxf", "rich", "numpy", "scipy", "skfem", "pydantic", "geometry"}
