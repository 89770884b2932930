"""Strokes and faces of bodies as they are seen, held against the formula of the isometric representation and against rays of the kernel.

The formula of ISO 5456-3, 5.1, as transcribed: axes 120° apart, sizes along them alike; with Y upwards, X down to the right and Z down to
the left a place stands at ((x - z) cos 30°, y - (x + z) sin 30°), in units of the axes.
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.outline import Outline, Point, Vertex, circle, rectangle
from geometry.outline.loop import Arc, segment_between
from geometry.outline.stations import places_along
from geometry.solids import kernel
from geometry.solids.bodies import bodies_of
from geometry.solids.seen import FORESHORTENED, Stroke, bounds, isometric, pulled, strokes_seen
from geometry.solids.seen_faces import Lamp, regions_seen

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

ROOT = Path(__file__).parents[3]
SIGHT = isometric()
LAMP = Lamp((0.2, 0.85, 0.4873), (0.7, 0.4))
WITHIN = 0.02


def on_picture(x: float, y: float, z: float) -> tuple[float, float]:
    """The formula of the standard, in units of the axes."""
    return (x - z) * math.cos(math.radians(30.0)), y - (x + z) * math.sin(math.radians(30.0))


def in_units(x: float, y: float) -> tuple[float, float]:
    return x / FORESHORTENED, y / FORESHORTENED


def parts_of(stroke: Stroke) -> Iterator[Any]:
    for (x, y, bulge), (u, w, _) in zip(stroke.nodes, stroke.nodes[1:], strict=False):
        yield segment_between(Point(x, y), Point(u, w), bulge)


def nearest(shapes: Sequence[Any], x: float, y: float) -> int | None:
    """The number of the shape that a ray from the eye meets first at a place of the picture."""
    from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
    from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector

    far = 1e4
    at = [x * r + y * u + far * t for r, u, t in zip(SIGHT.right, SIGHT.up, SIGHT.towards, strict=True)]
    ray = gp_Lin(gp_Pnt(*at), gp_Dir(*(-each for each in SIGHT.towards)))
    found: list[tuple[float, int]] = []
    for number, shape in enumerate(shapes):
        meeting = IntCurvesFace_ShapeIntersector()
        meeting.Load(shape, 1e-7)
        meeting.Perform(ray, 0.0, 2 * far)
        found += [(meeting.WParameter(each), number) for each in range(1, meeting.NbPnt() + 1)]
    return min(found)[1] if found else None


def test_axes_are_those_of_the_standard():
    for place in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (3.0, -5.0, 7.0)):
        at = SIGHT.at(place)
        assert in_units(*at) == pytest.approx(on_picture(*place), abs=1e-12)
    lengths = [math.hypot(*SIGHT.at(axis)) for axis in ((1, 0, 0), (0, 1, 0), (0, 0, 1))]
    assert lengths == pytest.approx([math.sqrt(2 / 3)] * 3)


def test_a_box_shows_nine_edges_and_no_hidden_one():
    wide, high, deep = 60.0, 40.0, 10.0
    box = kernel.prism(rectangle(wide, high), 0.0, deep)
    (strokes,) = strokes_seen([box], SIGHT, within=WITHIN)
    corners = {(x, y, z): on_picture(x, y, z) for x in (0.0, wide) for y in (0.0, high) for z in (0.0, deep)}
    edges = set()
    for stroke in strokes:
        ends = []
        for x, y, _ in (stroke.nodes[0], stroke.nodes[-1]):
            corner = min(corners, key=lambda each: math.dist(corners[each], in_units(x, y)))
            assert math.dist(corners[corner], in_units(x, y)) < 1e-6
            ends.append(corner)
        edges.add(frozenset(ends))
    # the corner that is farthest from the eye is at the lower left of the back: none of its three edges is seen
    assert len(strokes) == len(edges) == 9
    assert not any((0.0, 0.0, 0.0) in edge for edge in edges)
    assert all(len([1 for a, b in zip(*edge, strict=True) if a != b]) == 1 for edge in edges)


def test_one_body_hides_what_lies_behind_it():
    plate = kernel.prism(rectangle(60, 40), 0.0, 5.0)
    small = kernel.prism(rectangle(6, 6), 0.0, 1.0)
    # towards the back along the sight: it would stand in the middle of the plate's face
    behind = pulled(small, (30.0 - 80.0, 20.0 - 80.0, 5.0 - 80.0))
    before = pulled(small, (30.0 + 80.0, 20.0 + 80.0, 5.0 + 80.0))
    hidden, seen = strokes_seen([behind, plate], SIGHT, within=WITHIN), strokes_seen([before, plate], SIGHT, within=WITHIN)
    assert (len(hidden[0]), len(hidden[1])) == (0, 9)
    assert len(seen[0]) == 9
    assert regions_seen([behind, plate], SIGHT, LAMP, within=WITHIN)[0] == ()
    shown, rest = regions_seen([before, plate], SIGHT, LAMP, within=WITHIN)
    assert {each.tone for each in shown} == {0, 1, 2}
    assert sum(1 for each in rest if each.holes or len(each.outer) > 4) >= 1  # the plate shows round it


def test_a_disc_is_an_ellipse_of_true_axes():
    # an isometric circle of diameter d is an ellipse with its long axis sqrt(3/2) d in units of the axes (ISO 5456-3, 5.1)
    thick = 0.05
    disc = kernel.prism(circle(100.0), 0.0, thick)
    (strokes,) = strokes_seen([disc], SIGHT, within=WITHIN)
    middle = on_picture(50.0, 50.0, thick)
    away = [
        math.dist(middle, in_units(*part.point_at(share / 8)))
        for stroke in strokes
        for part in parts_of(stroke)
        if isinstance(part, Arc)
        for share in range(9)
    ]
    assert max(away) == pytest.approx(math.sqrt(1.5) * 50.0, abs=2 * WITHIN + thick)
    front = [
        part.point_at(share / 8) for stroke in strokes for part in parts_of(stroke) if isinstance(part, Arc) for share in range(9)
    ]
    true = [SIGHT.at((50 + 50 * math.cos(t / 500), 50 + 50 * math.sin(t / 500), z)) for t in range(3142) for z in (0.0, thick)]
    assert all(min(math.dist(each, other) for other in true) < WITHIN + 0.06 for each in front[::5])


def in_front_of_each_other(code: str) -> list[Any]:
    job = read_job(ROOT / "samples" / "sallow-wren.toml")
    detail = build_detail(job, next(pane for pane in job.panes if pane.code == code))
    lift = {"frame": 0.0, "spacer": 90.0, "chock": 90.0, "adhesive": 170.0, "glass": 300.0, "interlayer": 300.0, "backer": 380.0}
    found = [body for body in bodies_of(detail) if body.material != "frit"]
    return [pulled(body.shape, (0.0, 0.0, lift.get(body.material, 440.0))) for body in found]


@pytest.fixture(scope="module", params=["SW-10", "SW-03"])
def pane(request: pytest.FixtureRequest) -> list[Any]:
    return in_front_of_each_other(request.param)


def test_every_stroke_is_met_first_by_a_ray_from_the_eye(pane):
    """The second way: beside each stroke, on one side at least, a ray meets the body of the stroke before any other."""
    faults = []
    for number, strokes in enumerate(strokes_seen(pane, SIGHT, within=WITHIN)):
        for stroke in strokes[::2]:
            part = max(parts_of(stroke), key=lambda each: each.length)
            if part.length < 1.0:
                continue
            at, (dx, dy) = part.point_at(0.5), part.tangent_at(0.5)
            beside = [nearest(pane, at.x - side * 0.1 * dy, at.y + side * 0.1 * dx) for side in (1, -1)]
            if number not in beside:
                faults.append((number, at, beside))
    assert faults == []


def test_every_region_belongs_to_the_body_that_a_ray_meets_first(pane):
    from shapely import Polygon, unary_union

    found = regions_seen(pane, SIGHT, LAMP, within=WITHIN)
    shapes = [[Polygon(each.outer, each.holes) for each in regions] for regions in found]
    for number, own in enumerate(shapes):
        for shape in own:
            at = shape.representative_point()
            if shape.buffer(0.2).buffer(-0.4).contains(at):
                assert nearest(pane, at.x, at.y) == number
    every = [shape.buffer(0) for own in shapes for shape in own]
    # they do not overlap: the sum of their areas is the area of their sum
    assert math.fsum(each.area for each in every) == pytest.approx(unary_union(every).area, rel=1e-3)


def test_strokes_reach_as_far_as_the_bodies(pane):
    """Box of the strokes against that of places of the outlines, put on the picture by the formula of the standard."""
    strokes = strokes_seen(pane[:1], SIGHT, within=WITHIN)[0]
    ends = [in_units(*part.point_at(share / 16)) for stroke in strokes for part in parts_of(stroke) for share in range(17)]
    low, high = bounds(pane[:1])
    sample = []
    for shape in kernel.faces_of(pane[0]):
        sample += [on_picture(*corner) for corner in kernel.corners_of(shape)]
    assert max(x for x, _ in sample) <= max(x for x, _ in ends) + 0.05
    assert min(y for _, y in sample) >= min(y for _, y in ends) - 0.05
    # no stroke leaves the picture of the box round the body
    box = [on_picture(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    for axis in (0, 1):
        assert min(each[axis] for each in box) - 0.1 <= min(each[axis] for each in ends)
        assert max(each[axis] for each in ends) <= max(each[axis] for each in box) + 0.1


def test_the_glass_reaches_as_far_as_its_outline():
    outline = Outline(
        (Vertex(0, 0, 0.0), Vertex(300, 0, 0.0), Vertex(300, 120, 0.4142135623730951), Vertex(220, 200, 0.0), Vertex(0, 200, 0.0))
    )
    body = kernel.prism(outline, 4.0, 12.0)
    (strokes,) = strokes_seen([body], SIGHT, within=WITHIN)
    ends = [in_units(*part.point_at(share / 64)) for stroke in strokes for part in parts_of(stroke) for share in range(65)]
    true = [on_picture(at.x, at.y, z) for at in places_along(outline, spacing=0.2) for z in (4.0, 12.0)]
    for axis in (0, 1):
        for way in (min, max):
            assert way(each[axis] for each in ends) == pytest.approx(way(each[axis] for each in true), abs=0.03)


def test_the_same_strokes_every_time():
    shapes = in_front_of_each_other("SW-10")
    assert strokes_seen(shapes, SIGHT, within=WITHIN) == strokes_seen(in_front_of_each_other("SW-10"), SIGHT, within=WITHIN)
    assert regions_seen(shapes, SIGHT, LAMP, within=WITHIN) == regions_seen(
        in_front_of_each_other("SW-10"), SIGHT, LAMP, within=WITHIN
    )
