"""The command line and its command ``draw`` as a user meets them: words, exit codes, files, and how soon it answers."""

from __future__ import annotations

import importlib
import json
import os
import signal
import subprocess
import sys
import types
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from geometry.findings.state import state_of
from geometry.ledger.finding import Constraint, Verdict
from outputs import command_line

SHEET = ("--sheet", "detail", "--format", "dxf", "--format", "svg", "--no-plate")  # the sheet that is drawn soonest

ROOT = Path(__file__).resolve().parents[2]
HEAVY = ("cadquery", "OCP", "shapely", "ezdxf", "svgwrite", "rich", "numpy", "scipy", "skfem", "fontTools")

GOOD = """
[[pane]]
code = "W1"
revision = "B"
frame = "aluminium"
glass = { plies = [8] }
outline = { rectangle = [900, 450], radius = 50 }
[[pane]]
code = "W2"
frame = "grp"
glass = { plies = [8] }
outline = { circle = 400 }
"""


def fritline(*arguments: str | Path, cwd: Path = ROOT, **options) -> subprocess.CompletedProcess[str]:
    """One run in a process of its own, standard streams on pipes."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "outputs.command_line", *map(str, arguments)]
    return subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, timeout=300, **options)


@pytest.fixture
def job(tmp_path) -> Path:
    path = tmp_path / "boat.toml"
    path.write_text(GOOD, encoding="utf-8")
    return path


class DetailError(ValueError):
    pass


@pytest.fixture
def quick(monkeypatch, tmp_path):
    """Detail, sheet and writers by stand-ins that answer at once; what is tested is how the command deals with them."""
    importlib.import_module("outputs.record.data")  # it needs the writers themselves

    def size(value: float) -> SimpleNamespace:
        return SimpleNamespace(
            value=value, unit="mm", tolerance=None, origin=SimpleNamespace(value="given"), reason="", given_by="", outside=False
        )

    def build_detail(_job, pane):
        sizes = SimpleNamespace(bond_width=size(15.0), __dataclass_fields__=("bond_width",))
        return SimpleNamespace(
            code=pane.code,
            glass=SimpleNamespace(mass=8.0),
            area=400_000.0,
            perimeter=2600.0,
            centroid=SimpleNamespace(x=450.0, y=225.0),
            daylight_area=300_000.0,
            uncured_bead=SimpleNamespace(length=2500.0, volume=190.0),
            sizes=sizes,
            glass_cuts_recess=False,
        )

    def check_pane(job_, pane, detail, *, plate=False, plan=False):
        assert not plate, "--no-plate leaves it out"
        found = SimpleNamespace(findings=(), verdict=Verdict.PASS, plate=None, plate_asked=plate)
        return SimpleNamespace(
            subject=SimpleNamespace(job=job_, pane=pane, detail=detail), state=state_of(found), mark="ACDE-FGHJ", **vars(found)
        )

    stand_ins = {
        "geometry.detail.build": {"DetailError": DetailError, "build_detail": build_detail},
        "geometry.findings.check": {"check_pane": check_pane},
        "outputs.sheets.detail_sheet": {"detail_of": lambda contents: contents.pane.code},
        "outputs.files.dxf": {"dxf_bytes": lambda sheet, *, carried: b"dxf " + sheet.encode()},
        "outputs.files.svg": {"svg_bytes": lambda sheet, *, carried: b"svg " + sheet.encode()},
    }
    modules = {}
    for name, members in stand_ins.items():
        modules[name] = types.ModuleType(name)
        vars(modules[name]).update(members)
        monkeypatch.setitem(sys.modules, name, modules[name])
    monkeypatch.chdir(tmp_path)
    return modules


def run(capsys, *arguments: str | Path) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        command_line.main([str(each) for each in arguments])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


# ---------------------------------------------------------------- what is written


def test_names_of_the_files_and_of_the_folder(quick, job, tmp_path, capsys):
    code, out, err = run(capsys, "draw", *SHEET, job)
    assert code == 0
    assert err == ""
    folder = tmp_path / "boat-sheets"
    assert sorted(p.name for p in folder.iterdir()) == ["W1-B-detail.dxf", "W1-B-detail.svg", "W2-detail.dxf", "W2-detail.svg"]
    assert (folder / "W2-detail.svg").read_bytes() == b"svg W2"
    assert out.splitlines() == [
        f"written: boat-sheets/{name}" for name in ("W1-B-detail.dxf", "W1-B-detail.svg", "W2-detail.dxf", "W2-detail.svg")
    ]


def test_one_pane_into_a_folder_of_choice(quick, job, tmp_path, capsys):
    code, _, _ = run(capsys, "draw", *SHEET, job, "-o", tmp_path / "deep" / "out", "--pane", "W2")
    assert code == 0
    assert sorted(p.name for p in (tmp_path / "deep" / "out").iterdir()) == ["W2-detail.dxf", "W2-detail.svg"]


def test_json_for_a_machine(quick, job, capsys):
    code, out, _ = run(capsys, "draw", *SHEET, job, "--json")
    told = json.loads(out)
    assert code == 0
    assert [pane["code"] for pane in told["panes"]] == ["W1", "W2"]
    assert told["panes"][0]["sizes"]["bond_width"]["value"] == 15.0
    assert all(Path(file).is_file() for pane in told["panes"] for file in pane["files"])


def test_glass_outside_the_recess_is_drawn_and_fails(quick, job, tmp_path, capsys):
    build = quick["geometry.detail.build"].build_detail

    def cutting(job_, pane):
        detail = build(job_, pane)
        detail.glass_cuts_recess = pane.code == "W2"
        return detail

    quick["geometry.detail.build"].build_detail = cutting
    code, _, err = run(capsys, "draw", *SHEET, job)
    assert code == 1
    assert "pane W2" in err
    assert "W1" not in err
    assert len(list((tmp_path / "boat-sheets").iterdir())) == 4


def test_a_finding_that_fails_is_told_and_the_sheets_are_still_there(quick, job, tmp_path, capsys):
    plain = quick["geometry.findings.check"].check_pane

    def failing(job_, pane, detail, *, plate=False, plan=False):
        check = plain(job_, pane, detail)
        if pane.code == "W2":
            finding = Constraint("frit at least twice the bond width").judged(
                value=24.0,
                limit=30.0,
                says="24 mm is under 30 mm",
            )
            check.findings = (finding, replace(finding, name="joint left", verdict=Verdict.LOOK))
            check.verdict = Verdict.FAIL
            check.state = state_of(check)
        return check

    quick["geometry.findings.check"].check_pane = failing
    code, out, err = run(capsys, "draw", *SHEET, job)
    assert code == 1
    assert err.splitlines() == [f"{job}: pane W2 fails: frit at least twice the bond width: 24 mm is under 30 mm"]
    assert len(out.splitlines()) == len(list((tmp_path / "boat-sheets").iterdir())) == 4
    code, out, _ = run(capsys, "draw", *SHEET, job, "--json")
    panes = json.loads(out)["panes"]
    assert [pane["verdict"] for pane in panes] == ["pass", "fail"]
    verdicts = [[finding["verdict"] for finding in pane["findings"]] for pane in panes]
    assert (code, verdicts) == (1, [[], ["fail", "look"]])


# ---------------------------------------------------------------- what is refused


def test_every_fault_of_the_job_is_told_and_nothing_written(quick, tmp_path, capsys):
    bad = tmp_path / "bad.toml"
    bad.write_text(GOOD.replace("[8]", "[true]").replace("900", "-900"), encoding="utf-8")
    code, out, err = run(capsys, "draw", *SHEET, bad)
    assert code == 2
    assert out == ""
    lines = err.splitlines()
    assert [line.split(": ")[0].split(", line ")[1] for line in lines[:-1]] == ["6", "7", "11"]
    assert lines[-1] == "3 faults; nothing was written"
    assert not (tmp_path / "bad-sheets").exists()


def test_faults_as_json(quick, tmp_path, capsys):
    bad = tmp_path / "bad.toml"
    bad.write_text(GOOD + "bwo = 3\n", encoding="utf-8")
    code, out, err = run(capsys, "draw", *SHEET, bad, "--json")
    (entry,) = json.loads(out)["errors"]
    assert code == 2
    assert (entry["line"], entry["key"], entry["hint"]) == (13, "pane 2 (W2), bwo", "did you mean bow?")
    assert err


def test_a_pane_that_cannot_be_built_stops_all(quick, job, tmp_path, capsys):
    def refuse(_job, pane):
        raise DetailError(f"no parallel curve in {pane.code}")

    quick["geometry.detail.build"].build_detail = refuse
    code, out, err = run(capsys, "draw", *SHEET, job)
    assert code == 2
    assert out == ""
    assert f"{job}: pane W1: no parallel curve in W1" in err
    assert f"{job}: pane W2: no parallel curve in W2" in err
    assert not (tmp_path / "boat-sheets").exists()


def test_a_pane_that_is_not_in_the_job(quick, job, tmp_path, capsys):
    code, _, err = run(capsys, "draw", *SHEET, job, "--pane", "w1")
    assert code == 2
    assert err.strip() == '--pane: found "w1"; allowed: W1, W2; did you mean W1?'
    assert not (tmp_path / "boat-sheets").exists()


def test_a_file_in_the_place_of_the_folder(quick, job, tmp_path, capsys):
    (tmp_path / "taken").write_bytes(b"precious")
    code, _, err = run(capsys, "draw", *SHEET, job, "-o", tmp_path / "taken")
    assert code == 2
    assert "is a file" in err
    assert (tmp_path / "taken").read_bytes() == b"precious"


def test_a_full_disk(quick, job, tmp_path, capsys, monkeypatch):
    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    code, out, err = run(capsys, "draw", *SHEET, job)
    assert code == 2
    assert out == ""
    assert "the disk is full" in err
    assert not (tmp_path / "boat-sheets").exists()


@pytest.mark.parametrize(
    ("message", "package"),
    [
        ("libGL.so.1: cannot open shared object file: No such file or directory", "libgl1"),
        ("libX11.so.6: cannot open shared object file: No such file or directory", "libx11-6"),
        ("libXrender.so.1: cannot open shared object file: No such file or directory", "libxrender1"),
    ],
)
def test_a_missing_library_of_the_system_names_its_package(quick, job, capsys, message, package):
    def fail(_job, _pane):
        raise ImportError(message)

    quick["geometry.detail.build"].build_detail = fail
    code, out, err = run(capsys, "draw", *SHEET, job)
    assert code == 2
    assert out == ""
    assert len(err.splitlines()) == 1
    assert f"apt-get install {package}" in err


def test_a_missing_python_package_is_named(quick, job, capsys):
    def fail(_job, _pane):
        raise ModuleNotFoundError("No module named 'cadquery'", name="cadquery")

    quick["geometry.detail.build"].build_detail = fail
    code, _, err = run(capsys, "draw", *SHEET, job)
    assert code == 2
    assert "the Python package cadquery is missing" in err


def test_a_fault_of_the_program_is_one_line_and_says_where_the_details_are(quick, job, tmp_path, capsys, monkeypatch):
    def fail(_job, _pane):
        raise ZeroDivisionError("float division by zero")

    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    quick["geometry.detail.build"].build_detail = fail
    code, out, err = run(capsys, "draw", *SHEET, job)
    assert code == 3
    assert out == ""
    assert len(err.splitlines()) == 1
    assert "fault of the program" in err
    (details,) = tmp_path.glob("fritline-fault-*.txt")
    assert str(details) in err
    assert "ZeroDivisionError: float division by zero" in details.read_text(encoding="utf-8")


def test_stopped_by_the_user(quick, job, tmp_path, capsys):
    def stop(_job, _pane):
        raise KeyboardInterrupt

    quick["geometry.detail.build"].build_detail = stop
    code, _, err = run(capsys, "draw", *SHEET, job)
    assert code == 130
    assert "stopped" in err
    assert not (tmp_path / "boat-sheets").exists()


# ---------------------------------------------------------------- in a process of its own


@pytest.mark.parametrize("arguments", [["--help"], ["draw", "--help"], ["-h"]])
def test_help_says_what_it_is_and_the_exit_codes(arguments):
    answer = fritline(*arguments)
    assert answer.returncode == 0
    assert answer.stderr == ""
    assert "draw" in answer.stdout.lower()
    if arguments[0] == "draw":
        for word in ("Exit code 0", "--output", "--pane", "--json", "nothing was written"):
            assert word in " ".join(answer.stdout.split())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["draw"], "Missing argument"),
        (["drow"], "No such command"),
        (["draw", *SHEET, "x.toml", "--colour"], "No such option"),
        (["draw", *SHEET, "there-is-none.toml"], "there is no such file"),
        (["draw", *SHEET, "."], "this is a folder"),
        (["draw", *SHEET, "README.md"], "this is not valid TOML"),
    ],
)
def test_wrong_use_is_exit_2_without_a_traceback(arguments, words):
    answer = fritline(*arguments)
    assert answer.returncode == 2
    assert answer.stdout == ""
    assert words in answer.stderr
    assert "Traceback" not in answer.stderr


def imported(*arguments: str) -> set[str]:
    """The top packages a run imports, as Python's own import clock lists them."""
    command = [sys.executable, "-X", "importtime", "-m", "outputs.command_line", *arguments]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60)
    rows = [line for line in answer.stderr.splitlines() if line.startswith("import time:")]
    return {row.rsplit("|", 1)[1].strip().split(".")[0] for row in rows}


def test_help_imports_nothing_heavy_not_even_the_job_model():
    assert not imported("draw", "--help") & {*HEAVY, "pydantic"}


def test_a_bad_job_imports_nothing_heavy(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(GOOD.replace("900", '"900"'), encoding="utf-8")
    packages = imported("draw", *SHEET, str(bad))
    assert "pydantic" in packages  # the clock does see what is imported
    assert not packages & set(HEAVY)


def test_the_least_job_end_to_end_quietly_and_twice_the_same(tmp_path):
    first = fritline("draw", *SHEET, ROOT / "samples" / "minimal.toml", "-o", "one", cwd=tmp_path)
    again = fritline("draw", *SHEET, ROOT / "samples" / "minimal.toml", "-o", "two", cwd=tmp_path)
    assert (first.returncode, first.stderr) == (0, "")
    assert again.returncode == 0
    assert sorted(p.name for p in (tmp_path / "one").iterdir()) == ["P1-detail.dxf", "P1-detail.svg"]
    for name in ("P1-detail.dxf", "P1-detail.svg"):
        data = (tmp_path / "one" / name).read_bytes()
        assert data == (tmp_path / "two" / name).read_bytes()
        assert len(data) > 1000


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_an_answer_that_cannot_be_printed_is_one_sentence(tmp_path):
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "outputs.command_line", "draw", *SHEET, "nothing.toml", "--json"]
    with Path("/dev/full").open("w") as full:
        run = subprocess.run(command, cwd=tmp_path, env=environment, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60)
    assert run.returncode == 2
    assert "cannot be printed: No space left on device" in run.stderr
    assert "Traceback" not in run.stderr and "Exception" not in run.stderr


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="signals as POSIX has them")
def test_told_to_end_between_two_files_nothing_is_left(tmp_path):
    """A run that is asked to end while it writes leaves neither half a set nor a temporary file."""
    script = (
        "import os, signal, pathlib\n"
        "from outputs import command_line\n"
        "from outputs.files import whole\n"
        "replace, count = os.replace, []\n"
        "def slow(a, b):\n"
        "    replace(a, b)\n"
        "    count.append(b)\n"
        "    if len(count) == 1:\n"
        "        os.kill(os.getpid(), signal.SIGTERM)\n"
        "whole.os.replace = slow\n"
        f"command_line.main(['draw', '--sheet', 'detail', '--format', 'dxf', '--format', 'svg', '--no-plate', {str(ROOT / 'samples' / 'minimal.toml')!r}, '-o', 'sheets'])\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=tmp_path, env=environment, capture_output=True, text=True, timeout=120
    )
    assert run.returncode == 130 and "stopped" in run.stderr
    assert list(tmp_path.iterdir()) == []


def test_the_plate_is_drawn_only_where_it_is_asked_for(quick, tmp_path, monkeypatch, capsys):
    asked = []
    plain = quick["geometry.findings.check"].check_pane

    def noted(job_, pane, detail, *, plate=False, plan=False):
        asked.append(plate)
        return plain(job_, pane, detail)

    quick["geometry.findings.check"].check_pane = noted
    monkeypatch.chdir(tmp_path)
    job = tmp_path / "boat.toml"
    job.write_text(GOOD, encoding="utf-8")
    run(capsys, "draw", *SHEET, job)
    run(capsys, "draw", *(word for word in SHEET if word != "--no-plate"), job)
    assert asked[: len(asked) // 2] == [False] * (len(asked) // 2)
    assert asked[len(asked) // 2 :] == [True] * (len(asked) // 2)


def test_the_help_keeps_its_lines(capsys):
    for command in ("draw", "check"):
        _, out, _ = run(capsys, command, "--help")
        assert "\\b" not in out
        assert "  Exit code 0: done, nothing fails.\n" in out
