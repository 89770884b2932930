"""The diagram of the joint: what is read off it is the joint."""

from __future__ import annotations

from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.workings.joint_round import joint_round_of
from geometry.workings.subject import Subject
from outputs.drawing.joint_diagram import CURVE, DESIGNED, LEFT, joint_diagram, joint_plan
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import Path as Line
from outputs.sheet.entities import Text
from outputs.sheet.pencil import Pencil

SAMPLES = Path(__file__).parents[2] / "samples"


@pytest.mark.parametrize("sample", ["own-recess", "from-survey", "circle"])
def test_it_is_read_back(sample):
    job = read_job(SAMPLES / f"{sample}.toml")
    pane = job.panes[0]
    joint = joint_round_of(Subject(job, pane, build_detail(job, pane)))
    marks = joint_diagram(
        joint, Pencil(DraftingStyle(), 1.0), corner=(20.0, 10.0), width=160.0, height=30.0, designed=8.0, least_left=3.0
    )
    (curve,) = [mark for mark in marks if isinstance(mark, Line) and mark.layer == CURVE]
    levels = {mark.layer: mark.nodes[0][1] for mark in marks if isinstance(mark, Line) and mark.layer in (DESIGNED, LEFT)}
    per_mm = (levels[DESIGNED] - levels[LEFT]) / 5.0  # two levels whose widths are known give the scale
    assert curve.nodes[0][0] == pytest.approx(20.0) and curve.nodes[-1][0] == pytest.approx(180.0)
    for node, place in zip(curve.nodes, joint.run, strict=False):
        assert 8.0 + (node[1] - levels[DESIGNED]) / per_mm == pytest.approx(place.width, abs=1e-9)
        assert (node[0] - 20.0) / 160.0 * joint.perimeter == pytest.approx(place.length, abs=1e-6)
    words = [mark.string for mark in marks if isinstance(mark, Text)]
    assert any(joint.least.name in word for word in words)
    assert {name for name, _ in joint.corners} <= set(words)
    assert all(0.0 <= node[1] <= 45.0 for node in curve.nodes)


def test_the_plan_letters_the_joint_at_stations():
    job = read_job(SAMPLES / "from-survey.toml")
    pane = job.panes[0]
    detail = build_detail(job, pane)
    joint = joint_round_of(Subject(job, pane, detail))
    marks = joint_plan(detail, joint, Pencil(DraftingStyle(text=1.9), 0.05), lambda width: f"{width:.2f}")
    words = [mark.string for mark in marks if isinstance(mark, Text)]
    assert f"{joint.least.width:.2f}" in words and len(words) >= 8
    assert set(words) <= {f"{each.width:.2f}" for each in (joint.least, joint.widest, *joint.stations)}
