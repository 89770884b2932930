"""Every finding that speaks of one place has that place as a point of the pane, lying where its words say it lies."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from geometry.detail.edges import edges_of
from geometry.findings.check import check_pane
from geometry.job import job_of, read_job
from geometry.outline import Point, corners, distance_from, point_in

NOT_HERE = ("office.toml", "every-key.toml", "schedule.toml")  # the last: seventeen panes of the plainest kind
SAMPLES = sorted(path for path in (Path(__file__).parents[3] / "samples").glob("*.toml") if path.name not in NOT_HERE)
NAMED = re.compile(r"\b(V\d+|e\d+|K\d+|S\d+)\b")

NOTCHED = """
[[pane]]
code = "L1"
frame = "aluminium"
glass = { plies = [8] }
outline = { polygon = [[0, 0], [900, 0], [900, 300], [500, 300], [500, 600], [0, 600]], radius = [20, 20, 20, 6, 20, 20] }
chocks = { at = [60, 120] }
pressure = { outward = 3, inward = 12 }
"""


def panes():
    for path in SAMPLES:
        job = read_job(path)
        for pane in job.panes:
            yield pytest.param(job, pane, id=f"{path.stem}-{pane.code}")
    job = job_of(NOTCHED)
    yield pytest.param(job, job.panes[0], id="notched")


def places_of(detail, name):
    """What the words name, by the drawn detail: a measure of how far a point lies from it, mm."""
    blocks = {chock.mark: chock.foot for chock in detail.chocks} | {spacer.mark: spacer.centre for spacer in detail.spacers}
    if name in blocks:
        return lambda at: math.dist(at, blocks[name])
    if name.startswith("V"):
        corner = next(each for each in corners(detail.curves.glass) if each.number == int(name[1:]))
        half = math.radians(min(corner.interior_angle, 360 - corner.interior_angle)) / 2
        away = corner.radius / math.sin(half) * (1 if corner.convex else -1)
        centre = (corner.theoretical.x + away * corner.bisector.x, corner.theoretical.y + away * corner.bisector.y)
        return lambda at: abs(math.dist(at, centre) - corner.radius)  # from the arc of its rounding
    edge = next(each for each in edges_of(detail.curves.glass) if each.name == name)

    def off(at):
        along = edge.distance_of(Point(*at))
        return math.hypot(max(0.0, edge.first - along, along - edge.last), math.dist(at, edge.at(along)))

    return off


@pytest.mark.parametrize(("job", "pane"), tuple(panes()))
def test_what_the_words_name_lies_at_the_point(job, pane):
    """Within the bead's reach of the edge: set-back and bond width."""
    check = check_pane(job, pane)
    detail, sizes = check.subject.detail, check.subject.sizes
    reach = sizes.set_back.value + sizes.bond_width.value + 1.0
    named = 0
    for finding in check.findings:
        names = NAMED.findall(finding.where)
        if not names:
            continue
        named += 1
        assert finding.at is not None, (finding.name, finding.where)
        assert min(places_of(detail, name)(finding.at) for name in names) <= reach, (finding.name, finding.where, finding.at)
        if finding.part:
            assert places_of(detail, finding.part)(finding.at) <= reach, (finding.name, finding.part)
    assert named >= 3


@pytest.mark.parametrize(("job", "pane"), tuple(panes()))
def test_a_point_lies_on_the_pane_and_no_place_has_none(job, pane):
    check = check_pane(job, pane)
    glass = check.subject.detail.curves.glass
    for finding in check.findings:
        if finding.at is not None:
            place = Point(*finding.at)
            assert point_in(glass, place) or distance_from(glass, place) < 1e-3, (finding.name, finding.at)
        if finding.where == "all round":
            assert finding.at is None
            assert finding.part == ""
        coordinates = re.search(r"X (-?\d+), Y (-?\d+)", finding.where)
        if coordinates:
            assert finding.at == pytest.approx([float(each) for each in coordinates.groups()], abs=0.5001)


def test_the_plates_findings_have_their_stations():
    job = job_of(NOTCHED)
    check = check_pane(job, job.panes[0], plate=True)
    told = [finding for finding in check.findings if re.search(r"X -?\d+, Y -?\d+", finding.where)]
    assert len(told) >= 3
    for finding in told:
        x, y = re.search(r"X (-?\d+), Y (-?\d+)", finding.where).groups()
        assert finding.at == pytest.approx((float(x), float(y)), abs=0.5001)
        assert finding.part in ("e1", "e2", "e3", "e4", "e5", "e6", "V1", "V2", "V3", "V4", "V5", "V6")


def test_the_place_of_a_corner_is_the_middle_of_its_rounding():
    """Of radius r at a right angle the arc passes r (√2 - 1) from the sharp corner: into the glass at a corner, out of it at a cut-out."""
    job = job_of(NOTCHED)
    sharp = corners(check_pane(job, job.panes[0]).subject.detail.curves.glass)
    for number, radius, way in ((1, 20.0, (1, 1)), (4, 6.0, (1, 1))):
        corner = sharp[number - 1]
        off = radius * (1 - 1 / math.sqrt(2))
        assert corner.on_glass == pytest.approx((corner.theoretical.x + way[0] * off, corner.theoretical.y + way[1] * off))
