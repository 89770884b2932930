"""Blocks as running distances on the recess, set out by hand with tape, square and straightedge."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from geometry.detail.block_rows import block_rows
from geometry.detail.build import build_detail
from geometry.detail.edges import edges_of
from geometry.job import job_of, read_job

WREN = Path(__file__).parents[3] / "samples" / "sallow-wren.toml"


def detail_of(outline, more=""):
    text = f'[[pane]]\ncode = "P"\nframe = "aluminium"\nglass = {{ plies = [8] }}\noutline = {outline}\n{more}\n'
    job = job_of(text)
    return build_detail(job, job.panes[0])


def sample(code):
    job = read_job(WREN)
    return build_detail(job, next(pane for pane in job.panes if pane.code == code))


def row(detail, edge, *, clockwise=None):
    return next(each for each in block_rows(detail) if each.edge == edge and clockwise in (None, each.clockwise))


def places(found):
    return {entry.mark: entry.distance for entry in found.entries}


def test_the_rows_of_a_rectangle_count_from_the_left_wall_and_from_the_sill_wall():
    """1200 x 600, R60, joint 6. Spacers 50 inside the tangents at 60: 110 and 1090; each chock, a quarter of 1200 from the middle, has its own.

    So X 110, 300, then equal spaces, 900, 1090 and the wall stands 6 left of X 0. Head and sill count from the left, both jambs upwards.
    """
    detail = sample("SW-01")
    sill = row(detail, "e1")
    assert (sill.wall, sill.zero_at, tuple(sill.zero), tuple(sill.direction)) == ("e4", "wall e4", (-6, -6), (1, 0))
    assert places(sill) == pytest.approx(
        {"S1": 116, "S2": 306, "K1": 306, "S3": 116 + 980 / 3, "S4": 116 + 2 * 980 / 3, "S5": 906, "K2": 906, "S6": 1096}
    )
    head = row(detail, "e3")
    assert head.wall == "e4"
    assert list(places(head).values()) == pytest.approx([116, 116 + 980 / 3, 116 + 2 * 980 / 3, 1096])
    for jamb in ("e2", "e4"):
        assert row(detail, jamb).wall == "e1" and tuple(row(detail, jamb).direction) == (0, 1)
        assert list(places(row(detail, jamb)).values()) == pytest.approx([116, 496])


def test_the_rows_of_a_triangle_count_from_its_square_corner():
    """640 x 215, joint 6. The corner of 18.6 degrees is no place to count from: its sharp point lies far out in the air.

    Along an edge the recess stands joint / tan(half the angle) beyond the sharp glass corner: 6 at the right angle, and at the head, whose
    angle has 640 / 215 for its tangent, 8.345.
    """
    detail = sample("SW-07")
    sill = row(detail, "e1")
    assert (sill.wall, tuple(sill.direction)) == ("e2", (-1, 0))
    assert places(sill)["S3"] == pytest.approx(640 - 575 + 6)
    assert row(detail, "e2").wall == "e1"
    assert places(row(detail, "e2"))["S4"] == pytest.approx(65 + 6)
    slope = row(detail, "e3")
    assert slope.wall == "e2"
    beyond = 6 / math.tan(math.atan2(640, 215) / 2)
    assert beyond == pytest.approx(8.345, abs=0.001)
    spacers = {spacer.mark: spacer for spacer in detail.spacers}
    for mark, distance in places(slope).items():
        # from the sharp corner of the head at (640, 215), down the slope
        x, y = 640 - spacers[mark].centre.x, 215 - spacers[mark].centre.y
        assert distance == pytest.approx((640 * x + 215 * y) / math.hypot(640, 215) + beyond)


def test_a_round_pane_is_measured_along_the_wall_from_its_lowest_point():
    """Diameter 420, joint 5: on the wall of radius 215, chocks 30 degrees from straight down, four spacers at 45 and 135 degrees."""
    detail = sample("SW-03")
    for clockwise, chock in ((False, "K2"), (True, "K1")):
        found = row(detail, "round", clockwise=clockwise)
        assert (found.zero_at, found.straight) == ("lowest point of the recess", False)
        assert tuple(found.zero) == pytest.approx((0, -5))
        assert places(found)[chock] == pytest.approx(215 * math.pi / 6)
        assert [distance for mark, distance in places(found).items() if mark[0] == "S"] == pytest.approx(
            [215 * math.pi / 4, 215 * 3 * math.pi / 4]
        )


def test_a_spacer_in_a_corner_arc_has_a_distance_from_both_walls():
    """The arc of R200 is 314 long, spacers 50 inside both ends and one in its middle, at half the set-back of 8 inside the glass edge.

    45 degrees round the corner, of radius 196: 200 - 196 / sqrt(2) from both sides, and 6 more from the walls.
    """
    detail = detail_of(
        "{ rectangle = [900, 700], radius = 200 }",
        "joint = { width = 6 }\nbond = { set_back = 8 }\nspacers = { pitch = 250 }",
    )
    (arc,) = (each for each in detail.spacers if each.edge == "corner arc" and each.centre.x < 450 and each.centre.y < 350)
    for edge in ("e1", "e4"):
        assert places(row(detail, edge))[arc.mark] == pytest.approx(200 - 196 / math.sqrt(2) + 6)


def test_a_curve_is_measured_along_the_wall_from_the_end_of_the_straight():
    """A stadium's end of radius 250, joint 6: the wall has radius 256, and a spacer in the middle of the arc stands a quarter turn on."""
    detail = detail_of("{ path = [[250, 0], [950, 0, 1], [950, 500], [250, 500, 1]] }", "joint = { width = 6 }")
    found = row(detail, "curve after e1")
    assert tuple(found.zero) == pytest.approx((950, -6))
    for entry in found.entries:
        turn = math.atan2(entry.at.y - 250, entry.at.x - 950) + math.pi / 2
        assert entry.distance == pytest.approx(256 * turn)


def test_every_block_stands_in_a_row_and_no_distance_is_negative():
    for pane in read_job(WREN).panes:
        detail = sample(pane.code)
        rows = block_rows(detail)
        marks = [entry.mark for each in rows for entry in each.entries]
        blocks = {each.mark for each in (*detail.spacers, *detail.chocks)}
        assert set(marks) == blocks
        arcs = {spacer.mark for spacer in detail.spacers if spacer.edge == "corner arc"}
        assert all(marks.count(mark) == 1 for mark in blocks - arcs)
        assert all(entry.distance >= 0 for each in rows for entry in each.entries)
        edges = {edge.name: edge for edge in edges_of(detail.curves.glass)}
        for each in rows:
            if each.wall:  # the tape lies along its own wall and the neighbour is another one
                assert each.wall in edges and each.wall != each.edge


def test_a_block_before_the_zero_of_a_wall_is_told_on_the_other_wall():
    """A chock in a wide rounding lies past the corner of the prolonged walls: a negative distance can be marked by nobody."""
    corner = "[[617.3, -88], [296.1, 437.6], [-0.1, 609.7], [-634.4, 310.6], [-634.2, -198.4], [-68.3, -467.8], [383.9, -547.1]]"
    detail = detail_of(f"{{ polygon = {corner}, radius = 60 }}")
    rows = block_rows(detail)
    assert all(entry.distance >= 0 for each in rows for entry in each.entries)
    marks = [entry.mark for each in rows for entry in each.entries]
    assert set(marks) == {each.mark for each in (*detail.spacers, *detail.chocks)}
    assert marks.count("K1") == 1 and marks.count("K2") == 2


def test_a_row_beside_a_curve_on_a_slope_begins_on_the_wall_square_to_the_end_of_its_straight():
    """A stadium of straights 700 long and ends of radius 250, turned by 30°: its wall lies 6 off, square to the slope."""
    turn = math.radians(30)
    along, inward = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    corners = [(a * along[0] + b * inward[0], a * along[1] + b * inward[1]) for a, b in ((0, 0), (700, 0), (700, 500), (0, 500))]
    nodes = ", ".join(f"[{x!r}, {y!r}{end}]" for (x, y), end in zip(corners, ("", ", 1", "", ", 1"), strict=True))
    detail = detail_of(f"{{ path = [{nodes}] }}", "joint = { width = 6 }")
    straights = [each for each in block_rows(detail) if each.straight]
    assert len(straights) == 2
    low = min(straights, key=lambda each: each.zero.y)
    start = min((edge.at(edge.first) for edge in edges_of(detail.curves.glass)), key=lambda place: place.y)
    assert tuple(low.zero) == pytest.approx((start.x - 6 * inward[0], start.y - 6 * inward[1]), abs=1e-6)
    assert tuple(low.direction) == pytest.approx(along, abs=1e-9)
