"""Hatches: clipped at true arcs, anchored in the model, told apart; checked with shapely and closed forms."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from outputs.sheet.entities import Hatch
from outputs.sheet.layers import layer_named
from outputs.sheet.patterns import PATTERNS, LineFamily, PatternError, families_for, hatch_segments, is_solid

LINED = [material for material in PATTERNS if PATTERNS[material]]


def box(x0, y0, x1, y1):
    return ((x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0))


def disc(x, y, radius):
    return ((x - radius, y, 1.0), (x + radius, y, 1.0))


def length(segments):
    return sum(math.dist(start, end) for start, end in segments)


@pytest.mark.parametrize("material", [m for m in LINED if not any(family.dashes for family in PATTERNS[m])])
def test_continuous_lines_cover_area_by_spacing(material):
    """The length of evenly spaced lines over a large face is area by spacing, whatever their angle."""
    segments = hatch_segments(Hatch("X", material, (box(0, 0, 1000, 800), disc(500, 400, 200))), 1.0)
    area = 1000 * 800 - math.pi * 200**2
    assert length(segments) == pytest.approx(sum(area / family.spacing for family in PATTERNS[material]), rel=2e-3)


@pytest.mark.parametrize("material", [m for m in LINED if any(family.dashes for family in PATTERNS[m])])
def test_broken_lines_cover_their_share(material):
    segments = hatch_segments(Hatch("X", material, (box(0, 0, 500, 400),)), 1.0)
    share = sum(sum(f.dashes[::2]) / sum(f.dashes) / f.spacing for f in PATTERNS[material])
    assert length(segments) == pytest.approx(500 * 400 * share, rel=5e-3)


@pytest.mark.parametrize("scale", [0.2, 1.0, 5.0])
def test_ends_lie_on_the_true_arc(scale):
    """Every stroke of a ring ends on one of its two circles to 0,001 mm on paper; shapely is not asked."""
    segments = hatch_segments(Hatch("X", "frame", (disc(30, 20, 300), disc(30, 20, 294))), scale)
    assert len(segments) > 50
    for place in itertools.chain.from_iterable(segments):
        reach = math.dist(place, (30, 20))
        assert min(abs(reach - 300), abs(reach - 294)) * scale < 1e-6


def test_quarter_arcs_and_lines_agree_with_shapely():
    b = math.tan(math.pi / 8)
    nodes = ((10, 0, 0.0), (90, 0, b), (100, 10, 0.0), (100, 50, -0.4), (60, 70, 0.7), (0, 60, 0.0), (0, 10, b))
    hole = ((20, 20, -1.0), (50, 20, -1.0))  # clockwise, as a hole may be
    flat = Polygon(flattened(nodes), [flattened(hole)])
    assert flat.is_valid
    segments = hatch_segments(Hatch("X", "chock", (nodes, hole)), 1.0)
    assert length(segments) == pytest.approx(by_shapely(flat, PATTERNS["chock"]), rel=1e-4)
    inside = flat.buffer(2e-3)
    assert all(inside.contains(LineString(segment)) for segment in segments)


def flattened(nodes, steps=720):
    """Points along a loop; arcs by their centre and angles, so by another way than the hatch."""
    points = []
    for (x0, y0, bulge), (x1, y1, _) in zip(nodes, (*nodes[1:], nodes[0]), strict=True):
        points.append((x0, y0))
        if bulge:
            sweep = 4 * math.atan(bulge)
            chord = complex(x1 - x0, y1 - y0)
            centre = complex(x0, y0) + chord * (0.5 + 0.5j / math.tan(sweep / 2))
            start = complex(x0, y0) - centre
            for step in range(1, steps):
                turn = start * complex(math.cos(sweep * step / steps), math.sin(sweep * step / steps)) + centre
                points.append((turn.real, turn.imag))
    return points


def by_shapely(polygon, families):
    total = 0.0
    for family in families:
        turn = math.radians(family.angle)
        along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
        for row in range(-300, 300):
            v = family.offset + row * family.spacing
            ends = [(across[0] * v + along[0] * u, across[1] * v + along[1] * u) for u in (-1000, 1000)]
            total += LineString(ends).intersection(polygon).length
    return total


@given(
    st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=3, max_size=8, unique=True),
    st.sampled_from(["frame", "chock", "spacer"]),
)
def test_any_polygon_agrees_with_shapely(places, material):
    """Corners that lie on hatch lines, edges along them, slivers: the crossing rule must hold in all of them."""
    polygon = Polygon(places)
    assume(polygon.is_valid and polygon.area > 30)
    segments = hatch_segments(Hatch("X", material, (tuple((x, y, 0.0) for x, y in places),)), 1.0)
    assert length(segments) == pytest.approx(by_shapely(polygon, PATTERNS[material]), abs=0.02 * (1 + len(segments)))
    grown = polygon.buffer(1e-6)
    assert all(grown.covers(LineString(segment)) for segment in segments)


def test_corners_on_a_hatch_line_count_once():
    """A square on its corner: one line runs through two corners, two more along its sides (drawn or not, never beyond them)."""
    s = 2.5 * math.sqrt(2)
    square = ((0.0, -s, 0.0), (s, 0.0, 0.0), (0.0, s, 0.0), (-s, 0.0, 0.0))
    segments = hatch_segments(Hatch("X", "frame", (square,)), 1.0)
    assert [math.dist(*segment) for segment in segments] == pytest.approx([5.0] * len(segments))
    assert any(math.dist(start, (-s / 2, -s / 2)) < 1e-9 for start, _ in segments)
    assert len(segments) <= 3


@pytest.mark.parametrize("material", LINED)
def test_same_part_has_the_same_hatch_in_every_face(material):
    """Two faces cut from one: their strokes are pieces of the strokes of the whole."""
    whole = hatch_segments(Hatch("X", material, (box(0, 0, 60, 40),)), 1.0)
    halves = [*hatch_segments(Hatch("X", material, (box(0, 0, 30, 40),)), 1.0)]
    halves += hatch_segments(Hatch("X", material, (box(30, 0, 60, 40),)), 1.0)
    assert length(halves) == pytest.approx(length(whole), abs=0.01 * 80)
    cover = shapely.union_all([LineString(segment) for segment in whole]).buffer(1e-6)
    assert all(cover.covers(LineString(segment)) for segment in halves)


def test_spacing_is_the_same_on_paper_at_any_scale():
    small = hatch_segments(Hatch("X", "frame", (box(0, 0, 10, 10),)), 5.0)
    large = hatch_segments(Hatch("X", "frame", (box(0, 0, 250, 250),)), 0.2)
    chain = itertools.chain.from_iterable
    on_paper = [5 * value for value in chain(chain(small))]
    assert on_paper == pytest.approx([0.2 * value for value in chain(chain(large))], abs=1e-9)


def test_lines_side_by_side_keep_the_least_gap_of_iso_128_2():
    for families in PATTERNS.values():
        for angle in {family.angle for family in families}:
            own = [family for family in families if family.angle == angle]
            rows = sorted(f.offset % own[0].spacing for f in own)
            gaps = [b - a for a, b in itertools.pairwise([*rows, rows[0] + own[0].spacing])]
            assert {f.spacing for f in own} == {own[0].spacing}
            assert min(gaps) - 0.18 >= 0.6 and min(gaps) >= 0.7  # mm, line to line; 0,18 is the width of a hatch line


def test_no_two_materials_look_the_same():
    """Those that are filled solid are told apart by the ink of their layers: black frit, dark chock, light interlayer."""
    looks = [tuple((f.angle % 180.0, f.spacing, f.dashes) for f in families) for families in PATTERNS.values() if families]
    solid = [f"MATERIAL_{name.upper()}" for name, families in PATTERNS.items() if not families]
    assert len({layer_named(name).ink for name in solid}) == len(solid)
    assert len(set(looks)) == len(looks)


@pytest.mark.parametrize("material", LINED)
@pytest.mark.parametrize("place", [0.0, 0.37, 11.3, -204.77])
def test_a_tiny_face_still_gets_a_stroke(material, place):
    hatch = Hatch("X", material, (box(place, place, place + 0.1, place + 0.06),))
    assert len(hatch_segments(hatch, 1.0)) >= 1
    for start, end in hatch_segments(hatch, 1.0):
        assert Polygon([(x, y) for x, y, _ in hatch.boundaries[0]]).buffer(1e-9).covers(LineString([start, end]))


def test_families_of_a_tiny_face_are_what_it_is_drawn_with():
    hatch = Hatch("X", "frame", (box(0.9, 0.1, 1.0, 0.2),))
    (family,) = families_for(hatch, 1.0)
    assert isinstance(family, LineFamily) and family.angle == 45.0
    ((start, end),) = hatch_segments(hatch, 1.0)
    turn = math.radians(45.0)
    for x, y in (start, end):
        assert -x * math.sin(turn) + y * math.cos(turn) == pytest.approx(family.offset)
    assert families_for(Hatch("X", "frame", (box(0, 0, 9, 9),)), 1.0) == PATTERNS["frame"]


def test_solid_material_has_no_lines():
    assert is_solid("frit") and not is_solid("glass")
    assert hatch_segments(Hatch("X", "frit", (box(0, 0, 9, 9),)), 1.0) == []


def test_unknown_material_is_told():
    with pytest.raises(PatternError, match=r"no hatch for the material 'cheese'; there is one for frame, glass"):
        hatch_segments(Hatch("X", "cheese", (box(0, 0, 9, 9),)), 1.0)


def test_a_point_between_two_strokes_is_not_covered():
    """Lines 45° through the origin, 2,5 apart: the first passes through the origin, the next at 2,5 from it."""
    strokes = shapely.union_all([LineString(s) for s in hatch_segments(Hatch("X", "frame", (box(-20, -20, 20, 20),)), 1.0)])
    assert strokes.distance(Point(0, 0)) == pytest.approx(0.0, abs=1e-9)
    half = 1.25 / math.sqrt(2)
    assert strokes.distance(Point(-half, half)) == pytest.approx(1.25)
