"""Outlines cut at a window and the largest circle inside them, against shapely (a general-purpose library) and formulas."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.outline import (
    Outline,
    OutlineError,
    Point,
    Vertex,
    circle,
    distance_from,
    ellipse,
    path,
    point_in,
    polygon,
    rectangle,
)
from geometry.outline.clip import Node, Window, clip_path, clip_region
from geometry.outline.loop import segment_between
from geometry.outline.regions import largest_inscribed_circle, to_polygon
from geometry.outline.soundness import signed_area

MANY = settings(max_examples=60, deadline=None, derandomize=True)

RE_ENTRANT = polygon([(0, 0), (900, 0), (900, 600), (500, 600), (450, 300), (0, 500)], radii=[30, 0, 60, 10, 45, 20])
BITE = path([(0, 0), (300, 0), (300, 200, 0), (200, 200, -0.9), (100, 200), (0, 200)])
SAMPLES = [rectangle(1200, 600, radius=60), circle(420), ellipse(700, 400), RE_ENTRANT, BITE, rectangle(300, 200)]
CHORDS = [to_polygon(outline, sagitta=1e-4) for outline in SAMPLES]

windows = st.tuples(st.floats(-200, 1000), st.floats(-200, 600), st.floats(5, 900), st.floats(5, 900)).map(
    lambda w: (w[0], w[1], w[0] + w[2], w[1] + w[3])
)


def _nodes(outline: Outline) -> tuple[Node, ...]:
    return tuple((v.x, v.y, v.bulge) for v in outline.vertices)


def _length(nodes: tuple[Node, ...], closed: bool) -> float:
    vertices = [Vertex(*node) for node in nodes]
    pairs = zip(vertices, vertices[1:] + (vertices[:1] if closed else []), strict=False)
    return sum(segment_between(one, other, one.bulge).length for one, other in pairs)


@MANY
@given(st.sampled_from(range(len(SAMPLES))), windows)
def test_clipped_run_has_the_length_that_shapely_finds(which: int, window: Window) -> None:
    outline, chords = SAMPLES[which], CHORDS[which]
    # a side on the frame counts for us; for shapely a hair decides
    assume(all(abs(window[i] - v[i % 2]) > 1e-6 for v in outline.vertices for i in range(4)))
    runs = clip_path(_nodes(outline), closed=True, window=window)
    by_chords = chords.exterior.intersection(shapely.box(*window)).length
    assert sum(_length(nodes, closed) for nodes, closed in runs) == pytest.approx(by_chords, abs=0.5)
    for nodes, closed in runs:
        for x, y, _ in nodes:
            assert distance_from(outline, Point(x, y)) < 1e-7
            assert window[0] - 1e-9 <= x <= window[2] + 1e-9
            assert window[1] - 1e-9 <= y <= window[3] + 1e-9
        if closed:
            assert nodes == _nodes(outline)
        # the middle of every piece lies on the true curve: arcs are cut, not chorded
        vertices = [Vertex(*node) for node in nodes]
        for one, other in pairwise(vertices):
            assert distance_from(outline, segment_between(one, other, one.bulge).point_at(0.37)) < 1e-7


@MANY
@given(st.sampled_from(range(len(SAMPLES))), windows)
def test_clipped_region_is_the_region_that_shapely_finds(which: int, window: Window) -> None:
    outline, chords = SAMPLES[which], CHORDS[which]
    wanted = chords.intersection(shapely.box(*window))
    found = clip_region(_nodes(outline), window=window)
    areas = [signed_area([Vertex(*node) for node in loop]) for loop in found]
    assert all(area > 0 for area in areas)  # counter-clockwise
    assert sum(areas) == pytest.approx(wanted.area, abs=0.3)
    together = shapely.unary_union(
        [to_polygon(Outline(tuple(Vertex(*node) for node in loop)), sagitta=1e-4).buffer(0) for loop in found]
    )
    assert together.symmetric_difference(wanted).area < 0.5
    if wanted.area > 1:
        parts = [part for part in getattr(wanted, "geoms", [wanted]) if part.area > 0.01]
        assume(min(part.area for part in parts) > 0.1)
        assert len(found) == len(parts)


def test_window_that_holds_the_whole_or_lies_inside_or_beside() -> None:
    nodes = _nodes(circle(100))
    assert clip_region(nodes, window=(-1, -1, 101, 101)) == (nodes,)
    assert clip_region(nodes, window=(0, 0, 100, 100)) == (nodes,)  # touches all four sides
    assert clip_region(nodes, window=(40, 40, 60, 60)) == (((40, 40, 0.0), (60, 40, 0.0), (60, 60, 0.0), (40, 60, 0.0)),)
    assert clip_region(nodes, window=(0, 0, 10, 10)) == ()
    assert clip_path(nodes, closed=True, window=(40, 40, 60, 60)) == ()


def test_quarter_of_a_disc_keeps_its_arc() -> None:
    (loop,) = clip_region(_nodes(circle(100)), window=(50, 50, 200, 200))
    assert signed_area([Vertex(*node) for node in loop]) == pytest.approx(math.pi * 50**2 / 4, rel=1e-9)
    assert sorted(round(node[2], 9) for node in loop) == [0.0, 0.0, round(math.tan(math.pi / 8), 9)]


def test_sides_on_the_frame_are_neither_lost_nor_doubled() -> None:
    nodes = _nodes(rectangle(100, 50))
    for window, wanted in (
        ((0, 0, 40, 50), 40 * 50),
        ((20, 0, 60, 30), 40 * 30),
        ((0, 0, 100, 50), 5000),
        ((100, 0, 150, 50), 0),
    ):
        found = clip_region(nodes, window=window)
        assert sum(signed_area([Vertex(*node) for node in loop]) for loop in found) == pytest.approx(wanted)


def test_open_run_is_cut_at_every_crossing() -> None:
    runs = clip_path(((-50, 5, 0), (50, 5, -1), (50, 15, 0), (-50, 15, 0)), closed=False, window=(0, 0, 20, 20))
    assert [closed for _, closed in runs] == [False, False]
    assert [nodes[0][:2] for nodes, _ in runs] == [(0.0, 5.0), (20.0, 15.0)]


def test_arc_of_more_than_half_a_turn_is_cut_twice() -> None:
    bulge = math.tan(math.radians(300) / 4)
    runs = clip_path(((0, 0, bulge), (10, 0, 0)), closed=False, window=(-100, 3, 100, 100))
    lengths = sum(_length(nodes, closed) for nodes, closed in runs)
    whole = to_polygon(Outline((Vertex(0, 0, bulge), Vertex(10, 0))), sagitta=1e-6).exterior
    assert lengths == pytest.approx(whole.intersection(shapely.box(-100, 3, 100, 100)).length, abs=1e-3)


@pytest.mark.parametrize("window", [(0, 0, 0, 10), (10, 0, 0, 10), (0, 5, 10, 5), (0, 0, float("nan"), 10)])
def test_window_without_width_or_height_is_refused(window: Window) -> None:
    with pytest.raises(OutlineError, match="its width and height must be over 0"):
        clip_path(_nodes(circle(100)), closed=True, window=window)


@pytest.mark.parametrize(
    ("outline", "radius"),
    [
        (rectangle(400, 200, radius=30), 100.0),
        (circle(420), 210.0),
        (ellipse(700, 400), 200.0),
        (path([(0, 0), (100, 0, 1)]), 25.0),
        # triangle: twice the area over the perimeter
        (polygon([(0, 0), (300, 0), (0, 400)]), 2 * 60000 / 1200),
    ],
)
def test_largest_inscribed_circle_by_formula(outline: Outline, radius: float) -> None:
    centre, found = largest_inscribed_circle(outline)
    assert radius - 0.001 <= found <= radius + 0.0101  # an ellipse of arcs stands up to a hundredth off the true one
    assert point_in(outline, centre)
    assert distance_from(outline, centre) == found


def test_chords_stay_within_the_sagitta() -> None:
    for outline in SAMPLES:
        for sagitta in (1.0, 0.01):
            chords = to_polygon(outline, sagitta=sagitta)
            assert chords.is_valid
            places = list(chords.exterior.coords)
            for (x1, y1), (x2, y2) in pairwise(places):
                assert distance_from(outline, Point(x1, y1)) < 1e-9
                assert distance_from(outline, Point((x1 + x2) / 2, (y1 + y2) / 2)) <= sagitta * (1 + 1e-9)
