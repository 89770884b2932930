"""The surveyed recess of the samples, against the survey itself: it may be moved and turned, never stretched."""

from __future__ import annotations

from itertools import combinations
from math import dist
from pathlib import Path

import pytest
from shapely import Polygon

from geometry.job import read_job

SAMPLE = Path(__file__).parents[3] / "samples" / "sallow-wren.toml"
SURVEY = [
    (0, 0), (340, -0.5), (680, 0.5), (1013, 1.0), (1010.6, 240), (1009.8, 480), (1011, 714),
    (670, 711.0), (335, 709.5), (2.5, 711.0), (5.5, 470), (4.0, 235),
]  # fmt: skip


def recess():
    return [(v.x, v.y) for v in read_job(SAMPLE).panes[8].recess_outline.vertices]


def test_distances_between_stations_are_those_of_the_survey():
    placed = recess()
    start = min(range(len(placed)), key=lambda i: placed[i][0] + placed[i][1])
    placed = placed[start:] + placed[:start]
    for (a, b), (c, d) in zip(combinations(SURVEY, 2), combinations(placed, 2), strict=True):
        assert dist(a, b) == pytest.approx(dist(c, d), abs=0.02)


def test_no_other_place_leaves_a_wider_least_joint():
    """The least joint is the greatest t of a linear programme in the small shift and turn (scipy's solver)."""
    from scipy.optimize import linprog

    wide, high, rows, gaps = 1002.0, 701.5, [], []
    for x, y in recess():
        for gap, nx, ny in ((-x, -1, 0), (x - wide, 1, 0), (-y, 0, -1), (y - high, 0, 1)):
            if gap > 0 and not (gap > 20):
                # the station moves by (-dx, -dy) and turns by -phi about the middle of the pane
                turn = nx * (y - high / 2) - ny * (x - wide / 2)
                rows.append([nx, ny, -turn, 1.0])
                gaps.append(gap)
    best = linprog([0, 0, 0, -1], A_ub=rows, b_ub=gaps, bounds=[(-9, 9), (-9, 9), (-0.02, 0.02), (None, None)])
    assert best.status == 0
    # the fit was rounded to 0.1 mm of shift (0.05 to either side) and its stations to 0.01 mm
    assert min(gaps) == pytest.approx(best.x[3], abs=0.06)
    assert min(gaps) == pytest.approx(1.16, abs=0.06)  # (1009.8 - 5.5 - 1002) / 2 = 1.15 at the height of the middle


def test_the_pane_lies_inside_its_recess():
    assert Polygon(recess()).contains(Polygon([(0, 0), (1002, 0), (1002, 701.5), (0, 701.5)]))
