"""Several jobs in one run, the standard input, the table of panes, and what every JSON answer carries."""

from __future__ import annotations

import io
import json
from pathlib import Path
from types import SimpleNamespace

import pytest

from geometry.findings.check import check_pane
from geometry.job import job_of, read_job
from geometry.ledger.finding import Verdict, worst
from outputs import command_line
from outputs.commands.findings_print import PANES, worst_finding
from outputs.record.plan_part import as_typed
from outputs.version import IDENTITY

SHEET = ("--sheet", "detail", "--format", "dxf", "--format", "svg", "--no-plate")  # the sheet that is drawn soonest

ROOT = Path(__file__).resolve().parents[2]
VESSEL = ROOT / "samples" / "sallow-wren.toml"
LAUNCH = ROOT / "samples" / "minimal.toml"
SILENT = '[[pane]]\ncode = "Q1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { rectangle = [900, 450], radius = 50 }\n'
REFUSAL = ["file", "line", "pane", "key", "found", "allowed", "hint", "column", "cell", "text", "mended"]


def run(capsys, *arguments: str | Path) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        command_line.main([str(each) for each in arguments])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


@pytest.fixture
def silent(tmp_path) -> Path:
    path = tmp_path / "silent.toml"
    path.write_text(SILENT, encoding="utf-8")
    return path


def test_the_panes_of_a_vessel_come_first_in_one_table(capsys):
    """Against the findings themselves: verdict, counts and the finding furthest from its limit, of every pane."""
    _, out, _ = run(capsys, "check", VESSEL, "--pane", "SW-01", "--pane", "SW-02", "--pane", "SW-09", "--no-plate")
    lines = out.splitlines()
    assert lines[0].split()[:2] == list(PANES[:2])
    job = read_job(VESSEL)
    for line, code in zip(lines[1:4], ("SW-01", "SW-02", "SW-09"), strict=True):
        check = check_pane(job, next(pane for pane in job.panes if pane.code == code))
        numbers = [
            sum(f.verdict is verdict for f in check.findings) for verdict in (Verdict.FAIL, Verdict.LOOK, Verdict.NOT_CHECKED)
        ]
        assert line.split()[:5] == [code, check.verdict.value, *map(str, numbers)]
        failing = [f for f in check.findings if f.verdict is Verdict.FAIL and f.limit]
        if failing:
            furthest = min(failing, key=lambda f: f.margin / abs(f.limit))
            assert line.split("  ")[-1].startswith(f"{furthest.name}: ")


def test_rows_that_pass_are_printed_only_where_they_are_asked_for(capsys):
    _, short, _ = run(capsys, "check", VESSEL, "--pane", "SW-02", "--no-plate")
    _, full, _ = run(capsys, "check", VESSEL, "--pane", "SW-02", "--no-plate", "--all")
    passing = [line for line in full.splitlines() if line.startswith("  pass ")]
    assert len(passing) > 30 and not [line for line in short.splitlines() if line.startswith("  pass ")]
    assert f"{len(passing)} rows pass; --all" in short and "--all" not in full
    for line in full.splitlines():
        if line.startswith(("  fail ", "  look ")):  # the columns are as wide as what stands in them
            assert line.split() in [each.split() for each in short.splitlines()]
    assert "defaults that went in" in full and "defaults that went in" not in short


def test_a_remedy_tells_what_is_typed_and_typed_it_mends(capsys, tmp_path):
    """The line behind a remedy goes into the pane as it stands; then the finding passes."""
    path = tmp_path / "narrow.toml"
    text = LAUNCH.read_text(encoding="utf-8") + "frit.width = 24\n"
    path.write_text(text, encoding="utf-8")
    name = "frit at least twice the bond width"
    check = check_pane(read_job(path), read_job(path).panes[0])
    finding = next(each for each in check.findings if each.name == name)
    assert finding.verdict is Verdict.FAIL
    remedy = next(each for each in finding.remedies if [change.key for change in each.changes] == ["frit.width"])
    line = as_typed(remedy.changes[0])
    _, out, _ = run(capsys, "check", path, "--no-plate")
    assert f"      - {remedy} [{line}]" in out.splitlines()
    mended = job_of(text.replace("frit.width = 24", line))
    assert next(f for f in check_pane(mended, mended.panes[0]).findings if f.name == name).verdict is Verdict.PASS


def test_a_pane_of_which_nobody_said_what_pulls_at_it_does_not_pass(capsys, silent):
    """Exit code 0 keeps "nothing fails"; no word of the answer says pass of the pane."""
    code, out, _ = run(capsys, "check", silent, "--no-plate")
    assert code == 0
    assert "Q1: NOT CHECKED" in out and "1 pane: 1 not checked" in out
    assert "no outward pressure given" in out
    code, out, _ = run(capsys, "check", silent, "--no-plate", "--json")
    assert (code, json.loads(out)["verdict"], json.loads(out)["panes"][0]["verdict"]) == (0, "not checked", "not checked")
    check = check_pane(read_job(silent), read_job(silent).panes[0])
    assert worst_finding(check).decides


def test_several_jobs_are_checked_in_one_run_and_the_worst_exit_code_counts(capsys, silent):
    code, out, err = run(capsys, "check", silent, LAUNCH, "--no-plate")
    assert (code, err) == (0, "")
    assert out.index(str(silent)) < out.index("Q1") < out.index(str(LAUNCH)) < out.index("P1: PASS")
    code, out, _ = run(capsys, "check", LAUNCH, VESSEL, "--pane", "SW-02", "--no-plate", "--json")
    told = json.loads(out)
    assert code == 1 and told["job"] == str(VESSEL)  # the other job holds no pane of that code
    code, out, _ = run(capsys, "check", LAUNCH, VESSEL, "--pane", "SW-02", "--pane", "P1", "--no-plate", "--json")
    told = json.loads(out)
    assert (code, told["verdict"], told["program"], told["schema"]) == (1, "fail", IDENTITY, 1)
    assert [(each["job"], each["panes"][0]["code"]) for each in told["jobs"]] == [(str(LAUNCH), "P1"), (str(VESSEL), "SW-02")]
    assert told["verdict"] == worst(Verdict(each["verdict"]) for each in told["jobs"]).value


def test_a_code_that_no_job_holds_is_refused(capsys, silent):
    code, out, err = run(capsys, "check", silent, LAUNCH, "--pane", "P7")
    assert (code, out) == (2, "") and "P7" in err


def test_the_standard_input_is_a_job(capsys, silent, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)

    def type_in(data: bytes) -> None:
        monkeypatch.setattr("sys.stdin", SimpleNamespace(buffer=io.BytesIO(data), isatty=lambda: False))

    type_in(SILENT.encode())
    _, typed, _ = run(capsys, "check", "-", "--no-plate")
    _, filed, _ = run(capsys, "check", silent, "--no-plate")
    assert typed == filed.replace(str(silent), "standard input")
    type_in(SILENT.encode())
    code, out, _ = run(capsys, "draw", *SHEET, "-")
    assert code == 0 and out.splitlines() == ["written: job-sheets/Q1-detail.dxf", "written: job-sheets/Q1-detail.svg"]
    type_in(SILENT.replace('"grp"', '"grb"').encode())
    code, out, err = run(capsys, "check", "-")
    assert (code, out) == (2, "") and err.startswith("standard input, line 3: ") and "did you mean grp?" in err
    type_in(b"\xff\xfe\x00")
    assert run(capsys, "check", "-")[0] == 2
    type_in(b"# long\n" * 200_000)
    assert run(capsys, "check", "-")[0] == 2
    code, _, err = run(capsys, "check", "-", "-")
    assert code == 2 and "allowed: once" in err
    monkeypatch.setattr("sys.stdin", None)
    code, _, err = run(capsys, "check", "-")
    assert code == 2 and "closed" in err


def test_two_jobs_never_write_one_file(capsys, silent, tmp_path):
    (tmp_path / "b").mkdir()
    twin = tmp_path / "b" / "silent.toml"
    twin.write_text(SILENT, encoding="utf-8")
    folder = tmp_path / "out"
    code, out, err = run(capsys, "draw", *SHEET, silent, twin, "-o", folder)
    assert (code, out) == (2, "") and not folder.exists()
    assert str(silent) in err and str(twin) in err and "Q1-detail.dxf" in err and err.rstrip().endswith("nothing was written")
    code, out, err = run(capsys, "check", silent, twin, "--no-plate", "--record", folder)
    assert (code, out) == (2, "") and not folder.exists() and "would be written by" in err
    twin = twin.rename(tmp_path / "b" / "other.toml")
    code, out, _ = run(capsys, "check", silent, twin, "--no-plate", "--record", folder)
    assert code == 0
    assert sorted(str(path.relative_to(folder)) for path in folder.glob("*/records.html")) == [
        "other/records.html",
        "silent/records.html",
    ]


def test_the_faults_of_all_the_files_are_told_together(capsys, silent, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(SILENT.replace("[8]", "[-8]"), encoding="utf-8")
    code, out, err = run(capsys, "draw", *SHEET, bad, silent, tmp_path / "none.toml", "-o", tmp_path / "out")
    assert (code, out) == (2, "") and not (tmp_path / "out").exists()
    assert "bad.toml, line 4" in err and "none.toml" in err


@pytest.mark.parametrize(
    "arguments",
    [
        ["check", "none.toml"],
        ["check", str(VESSEL), "--pane", "SW-99"],
        ["draw", *SHEET, str(LAUNCH), "-o", ""],
        ["draw", *SHEET, "broken.toml", "wrong.toml"],
        ["check", "small.toml"],
    ],
)
def test_every_refusal_has_the_same_keys(arguments, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("broken.toml").write_text("[[pane]\n", encoding="utf-8")
    Path("wrong.toml").write_text(SILENT.replace("[8]", "[-8]"), encoding="utf-8")
    Path("small.toml").write_text(
        SILENT.replace("{ rectangle = [900, 450], radius = 50 }", "{ circle = 60 }") + "bond = { width = 60 }\n", encoding="utf-8"
    )
    code, out, _ = run(capsys, *arguments, "--json")
    told = json.loads(out)
    assert code == 2 and list(told) == ["program", "schema", "errors"]
    assert (told["program"], told["schema"]) == (IDENTITY, 1)
    assert told["errors"] and all(list(each) == REFUSAL and each["found"] for each in told["errors"])
    if arguments[1] == "small.toml":
        assert (told["errors"][0]["file"], told["errors"][0]["pane"]) == ("small.toml", "Q1")
    if arguments[0] == "draw" and arguments[1] == "broken.toml":
        first, *_, second = told["errors"]
        assert (first["file"], first["line"], first["mended"]) == ("broken.toml", 1, "[[pane]]")
        assert (second["file"], second["line"], second["pane"]) == ("wrong.toml", 4, "Q1")
