"""Where the print is measured, against places worked by hand."""

from __future__ import annotations

import math

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of
from geometry.workings.frit_places import COUNT, frit_places


def places_of(outline):
    job = job_of(f'[[pane]]\ncode = "P"\nframe = "grp"\nglass = {{ plies = [8] }}\noutline = {outline}\n')
    return frit_places(build_detail(job, job.panes[0]).curves)


def test_a_bowed_side_is_measured_in_its_middle():
    """A side of 500 with a bulge of 0.3 rises by half of 0.3 times 500: its middle stands at X 875, Y 250, and inwards is along X."""
    found = places_of("{ path = [[0, 0], [800, 0, 0.3], [800, 500], [0, 500]] }")
    assert len(found) == COUNT
    middle = min(found, key=lambda place: math.dist(place.point, (875, 250)))
    assert tuple(middle.point) == pytest.approx((875, 250), abs=1e-6)
    assert tuple(middle.inward) == pytest.approx((-1, 0), abs=1e-9)


def test_the_rounding_of_a_corner_is_no_side():
    """Of a rectangle with rounded corners: middles of the four sides, and the corners on their bisectors."""
    found = places_of("{ rectangle = [800, 500], radius = 60 }")
    on = 60 * (1 - 1 / math.sqrt(2))
    wanted = [(400, 0), (800, 250), (400, 500), (0, 250), *((abs(x - on), abs(y - on)) for x in (0, 800) for y in (0, 500))]
    assert sorted((round(each.point.x, 3), round(each.point.y, 3)) for each in found) == sorted(
        (round(x, 3), round(y, 3)) for x, y in wanted
    )
