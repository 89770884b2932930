"""A wall drawn or surveyed in space says how it leans; the job's rake is held against it.

The leans are made by hand: a rectangle whose upright runs by the cosine of the lean up and by its sine inboard, its outer face looking up.
"""

from __future__ import annotations

import math

import ezdxf
import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.ledger.finding import Verdict

NAME = "rake as drawn or surveyed"


def in_space(lean):
    """Corners and middles of a recess of 900 × 600, its outer face towards -y, leaning back by so many degrees."""
    up = (math.cos(math.radians(lean)), math.sin(math.radians(lean)))
    flat = [(0, 0), (300, 0), (600, 0), (900, 0), (900, 300), (900, 600), (600, 600), (300, 600), (0, 600), (0, 300)]
    return [(x, y * up[1], 1000 + y * up[0]) for x, y in flat]


def survey(folder, lean):
    rows = [f"{x:.3f},{y:.3f},{z:.3f}" for x, y, z in in_space(lean)]
    (folder / "w.csv").write_text("x,y,z\n" + "\n".join(rows) + "\n", encoding="utf-8")
    return 'survey = "w.csv", seen_from = "-y"'


def drawing(folder, lean):
    doc = ezdxf.new("R2010", units=4)
    places = in_space(lean)
    for one, two in zip(places, places[1:] + places[:1], strict=True):
        doc.modelspace().add_line(one, two)
    doc.saveas(folder / "w.dxf")
    return 'drawing = "w.dxf", seen_from = "-y"'


def found(folder, form, more=""):
    text = f'[[pane]]\ncode = "P1"\nframe = "steel"\nglass = {{ plies = [10] }}\noutline = {{ {form}, of = "recess" }}\njoint = {{ width = 9 }}\n'
    (folder / "job.toml").write_text(text + more, encoding="utf-8")
    job = read_job(folder / "job.toml")
    check = check_pane(job, job.panes[0], build_detail(job, job.panes[0]), plate=False)
    return [each for each in check.findings if each.name == NAME]


@pytest.mark.parametrize("made", [survey, drawing])
@pytest.mark.parametrize("lean", [25.0, -12.0, 0.0])
def test_the_rake_is_held_against_the_lean_of_the_wall(tmp_path, made, lean):
    form = made(tmp_path, lean)
    for rake, verdict in (
        (lean, Verdict.PASS),
        (lean + 0.9, Verdict.PASS),
        (lean + 1.2, Verdict.FAIL),
        (lean - 20.0, Verdict.FAIL),
    ):
        (finding,) = found(tmp_path, form, f"rake = {rake}\n")
        assert finding.verdict is verdict and finding.value == pytest.approx(abs(rake - lean), abs=0.05)
    (finding,) = found(tmp_path, form)  # a rake that nobody gave is no pass
    assert finding.verdict is (Verdict.PASS if lean == 0 else Verdict.FAIL)
    if lean:
        (change,) = finding.remedies[0].changes
        assert (change.key, change.value) == ("rake", lean)
        (mended,) = found(tmp_path, form, f"rake = {change.value}\n")
        assert mended.verdict is Verdict.PASS


def test_the_difference_allowed_is_a_key_and_a_survey_in_its_plane_says_nothing(tmp_path):
    (finding,) = found(tmp_path, survey(tmp_path, 25.0), "rake = 20\nlimits = { rake_difference = 6 }\n")
    assert finding.verdict is Verdict.PASS and finding.limit == 6
    (tmp_path / "w.csv").write_text("x,y\n0,0\n900,0\n900,600\n0,600\n", encoding="utf-8")
    assert found(tmp_path, 'survey = "w.csv"') == []
