"""A recess with an outline of its own: what is worked out takes the worst place, and never fails the finding that holds it.

The joint is measured here once more by shapely on flattened outlines: the farthest and nearest wall from places along the glass.
"""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from geometry.ledger.finding import Verdict
from geometry.outline.regions import to_polygon

OF_WORKED_OUT_SIZES = {
    "bead and its squeeze-out on the landing",
    "bead on the landing in every corner",
    "frit at least twice the bond width",
    "frit covers the bead and its squeeze-out",
    "landing hidden behind the frit",
    "squash of the chocks",
    "spacer clear of the bead",
    "bead clear of the unprinted edge",
    "fillet clear of spacer and bead",
}
SURVEY = (  # the surveyed timber recess of the samples, in the pane's coordinates; invented
    (-7.15, -3.79), (332.84, -4.63), (672.85, -3.97), (1005.85, -3.81), (1003.68, 235.2), (1003.12, 475.2),
    (1004.56, 709.2), (663.56, 706.54), (328.55, 705.37), (-3.94, 707.21), (-1.18, 466.2), (-2.92, 231.2),
)  # fmt: skip


def pane_with(points, *, width=1000.0, height=700.0, radius=10.0, more=""):
    polygon = ", ".join(f"[{x:.4f}, {y:.4f}]" for x, y in points)
    return job_of(
        f'[[pane]]\ncode = "X"\nframe = "timber_along"\nglass = {{ plies = [10] }}\npressure = {{ outward = 3, inward = 10 }}\n'
        f"outline = {{ rectangle = [{width}, {height}], radius = {radius} }}\n{more}\n"
        f"[pane.recess]\noutline = {{ polygon = [{polygon}] }}\n"
    )


def short_of(check):
    return [
        f"{finding.name}: {finding.says}"
        for finding in check.findings
        if finding.name in OF_WORKED_OUT_SIZES and finding.verdict in (Verdict.FAIL, Verdict.LOOK)
    ]


def test_the_landing_of_a_surveyed_recess_carries_the_bead_where_the_joint_is_widest():
    """It was worked out from the tightest joint, and failed by what the widest is wider."""
    job = pane_with(SURVEY, more="tolerances = { pane = 0 }")
    detail = build_detail(job, job.panes[0])
    sizes = detail.sizes
    edge = to_polygon(detail.curves.glass).exterior
    wall = to_polygon(detail.curves.recess).exterior
    straight = [edge.interpolate(at) for at in range(0, int(edge.length), 2)]
    farthest = max(wall.distance(place) for place in straight if 10 <= place.x <= 990 or 10 <= place.y <= 690)
    margin = sizes.landing.value - farthest - sizes.set_back.value - sizes.bond_width.value
    assert margin >= 2.0  # at least the margin inside the squeeze-out
    assert short_of(check_pane(job, job.panes[0], detail)) == []


def test_it_is_worked_out_as_in_a_recess_that_follows_the_pane():
    """The same recess, typed with its own outline, gives the sizes of the one that follows from pane and joint."""
    even = ((-9.0, -9.0), (1009.0, -9.0), (1009.0, 709.0), (-9.0, 709.0))
    own = pane_with(even, radius=0, more="joint = { width = 9 }")
    follows = job_of(
        '[[pane]]\ncode = "X"\nframe = "timber_along"\nglass = { plies = [10] }\npressure = { outward = 3, inward = 10 }\n'
        "outline = { rectangle = [1000, 700] }\njoint = { width = 9 }\nrecess = { radius = 0 }\n"
    )
    one, two = (build_detail(job, job.panes[0]).sizes for job in (own, follows))
    for name in ("landing", "frit_width", "chock_length", "set_back", "bond_width"):
        assert getattr(one, name).value == pytest.approx(getattr(two, name).value, abs=1e-9), name


@settings(max_examples=30, deadline=None, derandomize=True)
@given(
    st.lists(st.integers(40, 160), min_size=12, max_size=12), st.sampled_from([0.0, 10.0, 60.0]), st.sampled_from([0.0, 4.0]),
    st.integers(400, 1600), st.integers(300, 900),
)  # fmt: skip
def test_no_worked_out_size_fails_its_own_finding(tenths, radius, fillet, width, height):
    """Walls bent at thirds, 4 to 16 mm from the glass."""
    joint = [each / 10 for each in tenths]
    points = (
        (-joint[0], -joint[1]), (width / 3, -joint[2]), (2 * width / 3, -joint[3]), (width + joint[4], -joint[5]),
        (width + joint[6], height / 2), (width + joint[7], height + joint[8]), (width / 2, height + joint[9]),
        (-joint[10], height + joint[9]), (-joint[11], height / 2),
    )  # fmt: skip
    job = pane_with(points, width=width, height=height, radius=radius)
    if fillet:
        job = job_of(_with_fillet(points, width, height, radius, fillet))
    found = check_pane(job, job.panes[0])
    assert short_of(found) == []


def _with_fillet(points, width, height, radius, fillet):
    polygon = ", ".join(f"[{x:.4f}, {y:.4f}]" for x, y in points)
    return (
        f'[[pane]]\ncode = "X"\nframe = "timber_along"\nglass = {{ plies = [10] }}\npressure = {{ outward = 3, inward = 10 }}\n'
        f"outline = {{ rectangle = [{width}, {height}], radius = {radius} }}\n"
        f"[pane.recess]\nfillet = {fillet}\noutline = {{ polygon = [{polygon}] }}\n"
    )


def test_the_least_distance_and_its_place_are_those_of_shapely():
    from geometry.outline import circle, moved, polygon, rectangle
    from geometry.outline.between import nearest_between

    for glass, recess in (
        (rectangle(1000, 700, radius=10), polygon(SURVEY)),
        (moved(circle(400), 30, 20), circle(480)),
        (rectangle(900, 400, radius=60), moved(rectangle(918, 421, radius=30), -8.2, -9.7)),
    ):
        found = nearest_between(glass, recess)
        one, two = (to_polygon(each).exterior for each in (glass, recess))
        assert found.distance == pytest.approx(shapely.distance(one, two), abs=0.02)  # its arcs are flattened to 0.01 mm
        assert math.dist(found.one, found.other) == pytest.approx(found.distance, abs=1e-9)
        assert one.distance(shapely.Point(found.one)) < 0.02 and two.distance(shapely.Point(found.other)) < 0.02
