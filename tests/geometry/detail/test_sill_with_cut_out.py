"""A pane with a deep notch below stands on its sill and on the ledge of the notch, so that it cannot tip (common practice, no source)."""

from __future__ import annotations

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from geometry.ledger.finding import Verdict

NOTCHED = (
    '[[pane]]\ncode = "N1"\nframe = "aluminium"\nglass = {{ plies = [10] }}\noutline = {{ polygon = {points}, radius = 20 }}\n'
)
RIGHT = "[[0, 0], [480, 0], [480, 250], [1000, 250], [1000, 800], [0, 800]]"
LEFT = "[[520, 0], [1000, 0], [1000, 800], [0, 800], [0, 250], [520, 250]]"


@pytest.mark.parametrize(("points", "edges"), [(RIGHT, {"e1": 0, "e3": 250}), (LEFT, {"e5": 250, "e1": 0})])
def test_the_chocks_stand_to_either_side_of_the_centroid(points, edges):
    """Centroid by hand: 1000 × 800 less 520 × 250: (800000 · 500 - 130000 · 740) / 670000 = 453.4 from the side without the notch.

    Shares by moments about the chocks: as far to one side as to the other, so half each.
    """
    job = job_of(NOTCHED.format(points=points))
    detail = build_detail(job, job.panes[0])
    assert detail.centroid.x == pytest.approx(453.4 if points == RIGHT else 1000 - 453.4, abs=0.1)
    one, other = (chock for chock in detail.chocks if chock.kind == "setting chock")
    assert {one.edge: round(one.foot.y), other.edge: round(other.foot.y)} == edges
    assert detail.centroid.x - one.foot.x == pytest.approx(other.foot.x - detail.centroid.x, abs=1e-6)
    found = {finding.name: finding for finding in check_pane(job, job.panes[0]).findings}
    assert found["each chock carries its share of the weight"].value == pytest.approx(50.0, abs=0.01)
    assert found["no block has to pull"].verdict is Verdict.PASS


def test_a_sill_under_the_centroid_carries_alone():
    points = "[[0, 0], [700, 0], [700, 250], [1000, 250], [1000, 800], [0, 800]]"
    job = job_of(NOTCHED.format(points=points))
    detail = build_detail(job, job.panes[0])
    assert {chock.edge for chock in detail.chocks if chock.kind == "setting chock"} == {"e1"}


def test_a_ledge_too_short_for_a_chock_carries_none():
    """The centroid stands past the straight of the sill, but the ledge of 100 has no place 50 from both its ends.

    Areas below the pane's box of 1000 × 800: 100 × 250 at 530, 420 × 250 at 790, a triangle of 420 × 250 / 2 at 860:
    (400e6 - 13.25e6 - 82.95e6 - 45.15e6) / 617500 = 418.9 from the left, the roundings aside; the sill is straight up to 460.
    """
    points = "[[0, 0], [480, 0], [480, 250], [580, 250], [1000, 500], [1000, 800], [0, 800]]"
    job = job_of(NOTCHED.format(points=points) + "limits = { chock_from_corner = 50, chock_end_from_corner = 20 }\n")
    detail = build_detail(job, job.panes[0])
    assert detail.centroid.x == pytest.approx(418.9, abs=0.5)
    assert [chock.edge for chock in detail.chocks if chock.kind == "setting chock"] == ["e1", "e1"]
