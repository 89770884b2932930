"""A setting chock that the job puts where no bead runs: the section is cut through one where it does."""

from __future__ import annotations

from pathlib import Path

from geometry.detail.build import build_detail
from geometry.job import read_job, with_changes

JOB = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")


def test_the_section_is_cut_through_a_chock_where_the_bead_runs():
    """The sliver's bead starts 131 mm inside its nose; a chock at 119 mm stands beside no bead, one at 439 mm does."""
    job = with_changes(JOB, "SW-07", {"chocks.at": [119.06, 439.06]})
    detail = build_detail(job, next(pane for pane in job.panes if pane.code == "SW-07"))
    assert detail.sections[0].chock.mark == "K2"
    assert detail.chocks[0].mark == "K1"
