"""``fritline start``: what it writes is a job that can be run, what it asks, and what it refuses."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from geometry.job import job_of, read_job
from geometry.outline import bounding_box
from outputs.commands.first_job import ASKED, EXAMPLES, completed, job_text

ROOT = Path(__file__).resolve().parents[2]


def start(*arguments: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    """One run on pipes."""
    command = [sys.executable, "-m", "outputs.command_line", "start", *map(str, arguments)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(command, cwd=cwd, env=environment, stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=60)


@pytest.mark.parametrize("shape", ASKED)
def test_what_is_written_is_valid_and_holds_the_choices(shape):
    given = {"shape": shape, "frame": "grp", "glass": "6+1.52+6", "code": "W-7"}
    text = job_text(completed(given))
    (pane,) = job_of(text).panes
    assert (pane.code, pane.frame.material, pane.outline.form) == ("W-7", "grp", shape)
    assert (pane.glass.plies, pane.glass.interlayers) == ((6, 6), (1.52,))
    assert pane.pressure.outward is None and pane.pressure.inward is None, "a pressure is never invented"
    assert len(text.splitlines()) <= 16


def test_every_line_behind_a_hash_can_be_taken_up():
    """Each key that waits behind # is a key of the job file: with figures for the ? the file is read, and holds them."""
    text = job_text(completed({}))
    waiting = [line.removeprefix("# ") for line in text.splitlines() if line.startswith("# ") and "= " in line and "?" in line]
    waiting = [line for line in waiting if line.split(" = ")[0] in ("recess", "joint", "frit", "rake", "pressure")]
    assert len(waiting) == 5
    filled = text + "\n".join(line.replace("?", "37") for line in waiting) + "\n"
    (pane,) = job_of(filled).panes
    assert (pane.recess.depth, pane.recess.landing, pane.joint.width, pane.frit.width, pane.rake) == (37,) * 5
    assert (pane.pressure.outward, pane.pressure.inward) == (37, 37)


def test_a_path_is_written_point_by_point():
    """By hand: a bulge of 1 is half a circle, here 450 across: the pane reaches 225 beyond the point it leaves."""
    (pane,) = job_of(job_text(completed({"shape": "path", "points": "0,0 900,0,1 900,450 0,450"}))).panes
    assert pane.outline.path == ((0, 0), (900, 0, 1), (900, 450), (0, 450))
    assert pane.outline.box == pytest.approx((0, 0, 1125, 450))


@pytest.mark.parametrize("shape", ASKED)
def test_the_recess_may_come_first_and_the_glass_follows(shape):
    """The glass is one joint smaller all round: its box by hand."""
    text = job_text(completed({"shape": shape, "outline": "recess", "joint": "9"}))
    (pane,) = job_of(text).panes
    assert pane.outline_worked_out and pane.joint.width == 9 and pane.recess.outline.form == shape
    boxes = [bounding_box(outline) for outline in (pane.glass_outline, pane.recess_outline)]
    assert boxes[0].bottom - boxes[1].bottom == pytest.approx(9, abs=0.01)
    assert boxes[1].top - boxes[0].top == pytest.approx(9, abs=0.01)
    waiting = [line.removeprefix("# ") for line in text.splitlines() if line.startswith("# recess.")]
    (filled,) = job_of(text + "\n".join(line.replace("?", "37") for line in waiting) + "\n").panes
    assert len(waiting) == 2 and (filled.recess.depth, filled.recess.landing) == (37, 37)


def test_sizes_may_carry_their_unit():
    (pane,) = job_of(job_text(completed({"width": "35.5 in", "height": "45 cm", "radius": "0"}))).panes
    left, bottom, right, top = pane.outline.box
    assert right - left == pytest.approx(35.5 * 25.4)  # the inch is 25.4 mm exactly (international yard and pound, 1959)
    assert (left, bottom, top) == (0, 0, 450)


def test_on_a_pipe_an_example_stands_in_and_the_file_says_so(tmp_path):
    answer = start(cwd=tmp_path)
    assert (answer.returncode, answer.stderr) == (0, "")
    text = (tmp_path / "pane.toml").read_text(encoding="utf-8")
    assert text.count("EXAMPLE") == 3  # outline, frame, glass
    assert "fritline check pane.toml" in answer.stdout and "examples that nobody chose" in answer.stdout
    assert read_job(tmp_path / "pane.toml").panes[0].code == "P1"
    chosen = start("-", "--shape", "circle", "--diameter", "380", "--frame", "steel", "--glass", "12", cwd=tmp_path)
    assert "EXAMPLE" not in chosen.stdout
    assert tomllib.loads(chosen.stdout)["pane"][0]["outline"] == {"circle": 380}


@pytest.mark.parametrize("kind", ["file", "folder", "link to nothing"])
def test_nothing_is_ever_overwritten(kind, tmp_path):
    path = tmp_path / "mine.toml"
    if kind == "file":
        path.write_text("mine", encoding="utf-8")
    elif kind == "folder":
        path.mkdir()
    else:
        path.symlink_to(tmp_path / "elsewhere.toml")
    answer = start("mine.toml", cwd=tmp_path)
    assert (answer.returncode, answer.stdout) == (2, "")
    assert answer.stderr == "mine.toml is there already; allowed: the name of a new file; nothing was written\n"
    assert [each.name for each in tmp_path.iterdir()] == ["mine.toml"]
    assert kind != "file" or path.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--width", "0,6"], "--width: "),
        (["--width=-3"], "--width: found -3; allowed: more than 0"),
        (["--width", "nan"], "--width: "),
        (["--glass", "6+6"], "--glass: "),
        (["--glass", ""], "--glass: "),
        (["--frame", "aluminum"], "did you mean aluminium?"),
        (["--shape", "circle", "--width", "400"], "--width: found beside the shape circle; allowed: --diameter"),
        (["--shape", "polygon", "--corners", "0,0 900"], "--corners: "),
        (["--shape", "polygon", "--corners", "0,0 900,0 0,0 900,0", "--radius", "0"], "outline: "),
        (
            ["--shape", "path", "--points", "0,0 900,0,x 900,450"],
            '--points: the bulge is "x"; allowed: a number from -100 to 100',
        ),
        (["--shape", "path", "--points", "0,0,0,0 900,0"], "--points: "),
        (["--joint", "8"], "--joint: found beside the outline of the glass; allowed: with --outline recess"),
        (["--outline", "frame"], "--outline: "),
        (["--outline", "recess", "--joint", "0"], "--joint: "),
        (["--outline", "recess", "--width", "100", "--height", "100", "--joint", "60"], "outline: "),
        (["--radius", "400"], "the greatest that fits is 225 mm"),
        (["--code", "a/b"], "--code: "),
        (["--code", 'a"b'], "--code: "),
    ],
)
def test_a_choice_that_cannot_be_is_told_in_one_sentence(options, told, tmp_path):
    answer = start(*options, cwd=tmp_path)
    assert (answer.returncode, answer.stdout) == (2, "")
    assert told in answer.stderr and answer.stderr.count("\n") == 1
    assert answer.stderr.endswith("nothing was written\n")
    assert not list(tmp_path.iterdir())


def test_a_terminal_is_asked_and_asked_again(tmp_path):
    pty = pytest.importorskip("pty", reason="a terminal of its own needs POSIX")
    ours, theirs = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm"}
    command = [sys.executable, "-m", "outputs.command_line", "start", "port.toml", "--frame", "steel"]
    child = subprocess.Popen(command, cwd=tmp_path, env=environment, stdin=theirs, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    os.close(theirs)
    os.write(
        ours, b"\noval\ncircle\nminus\n380\n\n"
    )  # the outline of the glass; two answers that cannot be; the last is the example
    out, err = child.communicate(timeout=60)
    os.close(ours)
    assert child.returncode == 0
    assert b"one of rectangle, polygon, circle, ellipse, path" in err
    (pane,) = read_job(tmp_path / "port.toml").panes
    assert pane.outline.circle == 380 and pane.frame.material == "steel"
    assert pane.glass.plies == (float(EXAMPLES["glass"]),)
    assert b"nobody chose" not in out and "EXAMPLE" not in (tmp_path / "port.toml").read_text(encoding="utf-8")
