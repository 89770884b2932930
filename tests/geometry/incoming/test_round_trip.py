"""Any outline, written to a DXF in any way that CAD programs write, is read back as itself: within 1e-6 mm, 0.01 mm for splines."""

from __future__ import annotations

import math
import random

import pytest
from drawings import Vertex, bulged, data_of, exploded, farthest, mapped, new, read
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geometry.outline import shapes
from geometry.outline.loop import OutlineError, segments
from geometry.outline.measure import area, bounding_box, perimeter
from geometry.outline.settle import settled
from geometry.outline.soundness import sound

EXACT = 1e-6


@st.composite
def outlines(draw):
    """A pane of three to seven corners round a middle, some sides bent, some corners rounded."""
    count = draw(st.integers(3, 7))
    rng = random.Random(draw(st.integers(0, 2**32)))
    angles = [2 * math.pi * (i + rng.uniform(-0.3, 0.3)) / count for i in range(count)]
    points = [(700 + rng.uniform(250, 600) * math.cos(a), 400 + rng.uniform(250, 600) * math.sin(a)) for a in angles]
    try:
        if draw(st.booleans()):
            return settled(shapes.polygon(points, radii=[rng.choice([0, 5, 20, 45]) for _ in points]))
        return settled(sound([Vertex(x, y, rng.choice([0.0, 0.0, 0.05, -0.04, 0.2])) for x, y in points]))
    except OutlineError:
        return shapes.rectangle(1200, 600, radius=60)


WAYS = ("lwpolyline", "backwards", "R12 polyline", "exploded", "from behind", "block", "nested block")


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    outline=outlines(),
    way=st.sampled_from(WAYS),
    turn=st.sampled_from([0.0, 90.0, 31.7, 180.0]),
    mirror=st.booleans(),
    scale=st.sampled_from([1.0, 0.5, 2.0]),
    seed=st.integers(0, 99),
)
def test_an_outline_comes_back(outline, way, turn, mirror, scale, seed):
    rng = random.Random(seed)
    doc, space = new("R12" if way == "R12 polyline" else "R2010")
    expected, units = outline, "mm" if way == "R12 polyline" else ""
    if way in ("lwpolyline", "backwards"):
        space.add_lwpolyline(bulged(outline, backwards=way == "backwards"), format="xyb", close=True)
    elif way == "R12 polyline":
        space.add_polyline2d(bulged(outline), format="xyb", close=True)
    elif way in ("exploded", "from behind"):
        order = list(range(len(outline.vertices)))
        rng.shuffle(order)
        exploded(space, outline, order=order, turned={i for i in order if rng.random() < 0.5}, flip=way == "from behind")
    else:
        block = doc.blocks.new("PANE", base_point=(100, 50))
        exploded(block, outline)
        name, factor = "PANE", scale * (2 if way == "nested block" else 1)
        if way == "nested block":
            outer = doc.blocks.new("OUTER")
            outer.add_blockref("PANE", (0, 0), dxfattribs={"xscale": 2, "yscale": 2, "zscale": 2})
            name = "OUTER"
        at = {"xscale": -scale if mirror else scale, "yscale": scale, "zscale": scale, "rotation": turn}
        space.add_blockref(name, (3000, -500), dxfattribs=at)
        expected = mapped(mapped(outline, shift=(-100, -50)), scale=factor, turn=turn, mirror=mirror, shift=(3000, -500))
    found = read(doc, units=units, label="")
    assert farthest(found.outline, expected) < EXACT
    assert area(found.outline) == pytest.approx(area(expected), rel=1e-9)
    assert perimeter(found.outline) == pytest.approx(perimeter(expected), rel=1e-9)
    assert bounding_box(found.outline) == pytest.approx(bounding_box(expected), abs=EXACT)
    assert found.deviation == 0 and not found.mended


def test_the_way_it_was_drawn_leaves_no_trace():
    """Exploded, shuffled, reversed or one polyline from any vertex: the same vertices in the same order, so the same corner numbers."""
    outline = shapes.polygon([(0, 0), (900, 40), (870, 500), (20, 470)], radii=[30, 0, 45, 20])
    found = []
    for seed in range(4):
        doc, space = new()
        if seed % 2:
            rows = bulged(outline, backwards=seed == 3)
            space.add_lwpolyline(rows[seed:] + rows[:seed], format="xyb", close=True)
        else:
            order = list(range(len(outline.vertices)))
            random.Random(seed).shuffle(order)
            exploded(space, outline, order=order, turned={1, 3})
        found.append(read(doc).outline.vertices)
    for other in found[1:]:
        for a, b in zip(found[0], other, strict=True):
            assert tuple(a) == pytest.approx(tuple(b), abs=1e-9)


def test_a_typed_rectangle_and_a_drawn_one_are_the_same_outline():
    typed = shapes.rectangle(1200, 600, radius=60)
    doc, space = new()
    exploded(space, typed, order=[5, 2, 7, 0, 1, 4, 3, 6])
    assert read(doc).outline.vertices == typed.vertices


@pytest.mark.parametrize("within", [0.01, 0.5])
def test_a_spline_comes_back_within_its_tolerance(within):
    """Held against points of the curve that ezdxf itself works out, both ways."""
    points = [(0, 0), (400, -60), (900, 20), (980, 300), (700, 620), (300, 560), (-60, 380), (0, 0)]
    doc, space = new()
    spline = space.add_open_spline([(x, y, 0) for x, y in points], degree=3)
    found = read(data_of(doc), within=within)
    curve = spline.construction_tool()
    places = [tuple(curve.point(curve.max_t * i / 4000))[:2] for i in range(4001)]
    from drawings import Point

    from geometry.outline.stations import distance_from

    off = max(distance_from(found.outline, Point(*place)) for place in places)
    assert off <= found.deviation + 1e-6 <= within + 1e-6
    assert off > 0.2 * found.deviation  # the deviation told is that of this curve and no loose bound
    import shapely

    ring = shapely.LineString(places)
    back = max(ring.distance(shapely.Point(part.point_at(share / 8))) for part in segments(found.outline) for share in range(8))
    assert back <= within + 2e-4  # the sagitta of the chords between the points
    assert len(found.outline.vertices) < (120 if within == 0.01 else 40)


def test_an_ellipse_turned_in_a_block_of_two_scales():
    """A circle in an insert of two scales is an ellipse; area by the closed form π a b within 0.01 mm along its perimeter."""
    doc, space = new()
    doc.blocks.new("C").add_circle((0, 0), 100)
    space.add_blockref("C", (500, 500), dxfattribs={"xscale": 4, "yscale": 2.5, "rotation": 30})
    found = read(doc)
    assert abs(area(found.outline) - math.pi * 400 * 250) < 0.01 * perimeter(found.outline)
    assert 0 < found.deviation <= 0.01
    box = bounding_box(found.outline)
    wide = math.hypot(400 * math.cos(math.radians(30)), 250 * math.sin(math.radians(30)))
    assert (box.width / 2, box.middle.x) == pytest.approx((wide, 500), abs=0.011)
