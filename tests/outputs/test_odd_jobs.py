"""Small jobs of odd panes, each of which stopped a run with a fault of the program once: now drawn, checked or refused in words."""

from __future__ import annotations

import pytest

from geometry.detail.build import build_detail
from geometry.job.reading import job_of
from outputs import command_line

SHEET = ("--sheet", "detail", "--format", "dxf", "--format", "svg", "--no-plate")  # the sheet that is drawn soonest

PANE = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [8] }\n'
ODD = {
    "a square that stands on its corner": "outline = { polygon = [[300, 0], [0, 300], [-300, 0], [0, -300]], radius = 10 }",
    "glass greater than its recess, under paint": "outline = { rectangle = [900, 450] }\n"
    "recess = { outline = { rectangle = [880, 430] } }\n"
    'frit = { outer_protection = { kind = "paint", width = 50 } }',
}


def run(capsys, *arguments: object) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        command_line.main([str(each) for each in arguments])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


@pytest.mark.parametrize("text", ODD.values(), ids=ODD.keys())
def test_an_odd_pane_is_drawn_and_checked(tmp_path, capsys, text):
    job = tmp_path / "odd.toml"
    job.write_text(PANE + text, encoding="utf-8")
    code, _, err = run(capsys, "check", job)
    assert code in (0, 1), err
    code, _, err = run(capsys, "draw", *SHEET, job, "-o", tmp_path / "out")
    assert code in (0, 1), err
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == ["P1-detail.dxf", "P1-detail.svg"]


@pytest.mark.parametrize("lowest", [-10, 0, 10])
def test_the_side_block_of_a_steep_sill_stops_the_slide(lowest):
    """It pushes up the slope; a wall parallel to the sill, though it faces the same side, does not."""
    corners = [[300, 0], [0, 300], [-300, 0], [lowest, -300]]
    job = job_of(PANE + f"outline = {{ polygon = {corners}, radius = 10 }}")
    chocks = {chock.kind: chock for chock in build_detail(job, job.panes[0]).chocks}
    sill, side = chocks["setting chock"], chocks["side block"]
    assert {sill.edge, side.edge} == {"e3", "e4"}  # the two lower sides
    assert sill.edge == ("e4" if lowest < 0 else "e3")  # the longer one
    assert abs(side.angle - sill.angle) == pytest.approx(90, abs=3)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "[spacers]\npitch = 0.001\nlength = 0.001\n",
            "line 2: spacers.pitch: found 0.001; allowed: at least 20 and at most 100000 mm",
        ),
        ("[setting_out]\nround_pitch = 0.001\n", "line 2: setting_out.round_pitch: found 0.001; allowed: at least 20"),
        (
            "[sealant]\nmovement_class = 1e-6\n",
            "line 2: sealant.movement_class: found 1e-06; allowed: at least 1 and at most 100 %",
        ),
        (
            "[adhesive]\nopen_time_halving = 0.01\n",
            "line 2: adhesive.open_time_halving: found 0.01; allowed: at least 1 and at most",
        ),
        (
            "[adhesive]\ncure_doubling = 0.01\n",
            "line 2: adhesive.cure_doubling: found 0.01; allowed: at least 1 and at most 100 K",
        ),
    ],
)
def test_what_nobody_can_mean_is_refused(tmp_path, capsys, text, told):
    """Millions of spacers, a joint kilometres wide, an adhesive that cures in no time: typed in the wrong unit, most likely."""
    job = tmp_path / "odd.toml"
    job.write_text(text + PANE + "outline = { ellipse = [1300, 460] }", encoding="utf-8")
    code, _, err = run(capsys, "draw", *SHEET, job, "-o", tmp_path / "out")
    assert code == 2
    assert told in err
