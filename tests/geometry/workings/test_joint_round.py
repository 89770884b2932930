"""The joint all round against shapely on flattened outlines, and against recesses whose joint is known by construction."""

from __future__ import annotations

import itertools
import math
from pathlib import Path

import numpy as np
import pytest
import shapely

from geometry.detail.build import build_detail
from geometry.job import job_of, read_job
from geometry.outline.regions import to_polygon
from geometry.workings.joint_round import joint_round_of
from geometry.workings.subject import Subject

SAMPLES = Path(__file__).parents[3] / "samples"


def joint_of(job, place=0):
    pane = job.panes[place]
    return joint_round_of(Subject(job, pane, build_detail(job, pane)))


def test_the_surveyed_timber_recess_is_narrowest_where_the_trade_finds_it():
    """1.16 mm at the left, Y 470, and at the right, Y 480: the worked example of the sample, its fit rounded to 0.01 mm of shift."""
    joint = joint_of(read_job(SAMPLES / "sallow-wren.toml"), 8)
    assert joint.least.width == pytest.approx(1.16, abs=0.05)
    # the survey's own height there is 480 at the right edge; turned into the pane's coordinates 475
    assert (joint.least.at.x, joint.least.at.y) == pytest.approx((1002, 475), abs=2) or joint.least.at.x == pytest.approx(
        0, abs=2
    )


@pytest.mark.parametrize("sample", ["own-recess", "from-survey", "rectangle", "circle", "ellipse", "path"])
def test_every_width_is_that_of_shapely(sample):
    job = read_job(SAMPLES / f"{sample}.toml")
    pane = job.panes[0]
    detail = build_detail(job, pane)
    joint = joint_round_of(Subject(job, pane, detail))
    glass, wall = (to_polygon(each).exterior for each in (detail.curves.glass, detail.curves.recess))
    assert joint.least.width == pytest.approx(shapely.distance(glass, wall), abs=0.02)  # arcs flattened to 0.01 mm
    for station in joint.stations[:40]:
        assert abs(station.width) == pytest.approx(wall.distance(shapely.Point(station.at)), abs=0.02) or station.name.split(" ")[
            0
        ] in ("sill", "stbd", "head", "port")
    dense = np.array([wall.distance(glass.interpolate(at)) for at in np.linspace(0, glass.length, 400, endpoint=False)])
    assert min(each.width for each in joint.run) >= joint.least.width - 1e-9
    assert min(each.width for each in joint.run) <= dense.min() + 0.05
    assert max(each.width for each in joint.run) == pytest.approx(dense.max(), abs=0.1)


def test_an_even_joint_is_even():
    job = job_of(
        '[[pane]]\ncode = "X"\nframe = "grp"\nglass = { plies = [8] }\noutline = { rectangle = [900, 450], radius = 50 }\njoint = { width = 7 }\n'
    )
    joint = joint_of(job)
    assert [each.width for each in joint.run] == pytest.approx([7.0] * len(joint.run), abs=1e-9)
    assert {name for name, _ in joint.corners} == {"V1", "V2", "V3", "V4"}
    assert joint.perimeter == pytest.approx(2 * (800 + 350) + 2 * math.pi * 50)


def test_glass_that_stands_in_the_frame_is_negative_and_has_its_place():
    job = job_of(
        '[[pane]]\ncode = "X"\nframe = "grp"\nglass = { plies = [8] }\noutline = { rectangle = [900, 450] }\n'
        "[pane.recess]\noutline = { polygon = [[-8, -8], [908, -8], [908, 458], [-8, 458], [3, 225]] }\n"
    )
    joint = joint_of(job)
    # the wall comes 3 mm inside the glass at half height; square to its own slope that is a little less
    assert joint.least.width == pytest.approx(-3.0, abs=0.05) and joint.least.at == pytest.approx((0, 225), abs=1)


def test_stations_stand_at_both_ends_of_every_edge_and_not_over_300_apart():
    """900 x 450 with corners of 50: straights from 50 to 850 and from 50 to 400."""
    job = job_of(
        '[[pane]]\ncode = "X"\nframe = "grp"\nglass = { plies = [8] }\noutline = { rectangle = [900, 450], radius = 50 }\njoint = { width = 7 }\n'
    )
    places = [each.at for each in joint_of(job).stations]
    for x, y, lengthwise in ((0, 0, 1), (0, 450, 1), (0, 0, 0), (900, 0, 0)):
        on = sorted(at[1 - lengthwise] for at in places if abs(at[lengthwise] - (y, x)[1 - lengthwise]) < 1e-6)
        assert (on[0], on[-1]) == pytest.approx((50, 850 if lengthwise else 400))
        assert max(after - before for before, after in itertools.pairwise(on)) <= 300 + 1e-9
