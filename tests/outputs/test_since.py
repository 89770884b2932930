"""``draw --since``: what moved, in mm, against hand-worked changes of one pane; and refusals."""

import json
import os
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of
from outputs.command_line import main
from outputs.record.moved import moved_since, state_of_pane, summary

JOB = """
[[pane]]
code = "W1"
frame = "grp"
glass = { plies = [8] }
outline = { rectangle = [900, 450], radius = 0 }
recess = { radius = 0 }
joint = { width = 6 }
chocks = { at = [200, 700] }
"""
QUICK = ("--sheet", "detail", "--format", "svg", "--no-plate")


def state(text: str) -> dict:
    job = job_of(text)
    return state_of_pane(job.panes[0], build_detail(job, job.panes[0]))


def changes(old: str, new: str) -> dict:
    return {each.what: each for each in moved_since(state(old), state(new))}


def test_nothing_moved():
    assert moved_since(state(JOB), state(JOB)) == ()
    assert summary(()) == ("nothing moved",)


def test_a_wider_joint_moves_the_recess_by_the_difference_at_a_sharp_corner():
    """A sharp corner goes out along both edges: by the difference times the root of two."""
    found = changes(JOB, JOB.replace("width = 6", "width = 8"))
    assert found["outline of the recess"].by == pytest.approx(2 * 2**0.5, abs=1e-9)
    assert abs(found["outline of the recess"].at[0]) in (pytest.approx(8), pytest.approx(908))
    assert "outline of the glass" not in found
    assert (found["joint width"].was, found["joint width"].now, found["joint width"].by) == ("6", "8 mm", 2.0)


def test_a_wider_pane_and_a_chock_that_was_moved():
    found = changes(JOB, JOB.replace("[900, 450]", "[904, 450]"))
    assert found["outline of the glass"].by == found["outline of the recess"].by == pytest.approx(4.0)
    assert found["outline of the glass"].at[0] == pytest.approx(904)
    moved = changes(JOB, JOB.replace("[200, 700]", "[212.5, 700]"))
    assert moved["K1 (setting chock)"].by == pytest.approx(12.5)
    assert "K2 (setting chock)" not in moved


def test_what_was_stated_otherwise_is_told():
    found = changes(JOB, JOB.replace("[8]", "[10]").replace('code = "W1"', 'code = "W1"\nquantity = 3'))
    assert (found["glass"].was[:2], found["glass"].now[:3]) == ("8 ", "10 ")
    assert found["quantity"].line == "quantity 1 → 3"


def run(capsys, *words):
    with pytest.raises(SystemExit) as leaving:
        main([str(word) for word in words])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


def test_job_and_record_tell_the_same(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("old.toml").write_text(JOB, encoding="utf-8")
    Path("new.toml").write_text(JOB.replace("width = 6", "width = 7") + JOB.replace("W1", "W2"), encoding="utf-8")
    run(capsys, "check", "old.toml", "--no-plate", "--record", "record")
    answers = []
    for older in ("old.toml", "record/W1-record.json"):
        _, out, _ = run(capsys, "draw", "new.toml", *QUICK, "-o", "out", "--since", older)
        assert f"W2: new, not in {older}" in out
        answers.append([line for line in out.splitlines() if line.startswith("W1: ")])
    assert "W1: joint width 6 → 7 mm" in answers[0]
    assert answers[0] == answers[1]
    _, out, _ = run(capsys, "draw", "new.toml", *QUICK, "-o", "out", "--since", "old.toml", "--json")
    first, second = json.loads(out)["panes"]
    assert next(f"W1: {each['what']} {each['was']} → {each['now']}" for each in first["moved"] if each["was"]) in answers[0]
    assert "moved" not in second


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("none.json", None, "there is no file none.json"),
        ("null.json", None, "null.json is not an ordinary file"),  # as a pipe, which would never end
        ("none.toml", None, "there is no such file"),
        ("bad.json", "{", "is not JSON"),
        ("other.json", "{}", "holds no pane with"),
        ("other.json", '{"code": "W1", "sizes": []}', "holds no pane with"),
        ("bad.toml", "[[pane]]\ncode = 3", "bad.toml, line 2"),
    ],
)
def test_what_is_no_older_state_is_refused(tmp_path, capsys, monkeypatch, name, text, told):
    monkeypatch.chdir(tmp_path)
    Path("new.toml").write_text(JOB, encoding="utf-8")
    if name == "null.json":
        Path(name).symlink_to(os.devnull)
    if text is not None:
        Path(name).write_text(text, encoding="utf-8")
    code, out, err = run(capsys, "draw", "new.toml", *QUICK, "--since", name)
    assert (code, out) == (2, "") and told in err
    assert not Path("new-sheets").exists()
