"""A setting chock that the job puts where no bead runs: the section is cut through one where it does."""

from __future__ import annotations

from pathlib import Path

from geometry.detail.build import build_detail
from geometry.job import read_job, with_changes

JOB = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")


def test_the_section_is_cut_through_a_chock_where_the_bead_runs():
    """The sliver's bead starts 131 mm inside its unbonded corner; a chock at 119 mm stands beside no bead, one at 439 mm does."""
    job = with_changes(JOB, "SW-07", {"chocks.at": [160.0, 480.0]})
    detail = build_detail(job, next(pane for pane in job.panes if pane.code == "SW-07"))
    assert detail.sections[0].chock.mark == "K2"
    assert detail.chocks[0].mark == "K1"


def test_a_unbonded_on_the_right_has_its_jamb_on_the_left():
    """The sliver turned over: its upright edge, the only one beside a bead, stands at X = 0."""
    job = with_changes(JOB, "SW-07", {"outline.polygon": [[0, 0], [640, 0], [0, 215]], "outline.radius": [15, 8, 15]})
    detail = build_detail(job, next(pane for pane in job.panes if pane.code == "SW-07"))
    jamb = next(section for section in detail.sections if section.title == "jamb")
    assert abs(jamb.station.point.x) < 1e-6
    assert jamb.station.outward.x < -0.99
