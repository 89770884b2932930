"""Three invented panes set out by hand: every face of the section, every block, every level, area and length.

Nothing here is read off the program. Each figure is arithmetic from the sizes typed in the job above it, worked with a ruler, the circle and the
right-angled triangle, as a fitter would set the pane out on the bench; how blocks and section lines are placed is common practice, no source.
Coordinates: plan X, Y seen from outside, from the origin: a rectangle's lower left corner, a polygon's (0, 0) as typed, a circle's lowest point; section x from the recess wall, z from the landing, mm.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of
from geometry.outline import area, distance_between, perimeter

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section

PI = math.pi
NEAR = 1e-6
BEYOND_FRAME, BELOW, BEYOND_GLASS = 10.0, 7.0, 12.0  # how much of frame and glass a section shows beyond what it dimensions


def built(text: str) -> Detail:
    job = job_of(text)
    return build_detail(job, job.panes[0])


def near(wanted: object) -> object:
    return pytest.approx(wanted, abs=NEAR)


def box(left: float, bottom: float, right: float, top: float) -> list[tuple[float, float, float]]:
    return [(left, bottom, 0.0), (right, bottom, 0.0), (right, top, 0.0), (left, top, 0.0)]


def rounded_area(width: float, height: float, radius: float) -> float:
    return width * height - (4 - PI) * radius**2


def rounded_length(width: float, height: float, radius: float) -> float:
    return 2 * (width + height) - 8 * radius + 2 * PI * radius


def assert_faces(section: Section, wanted: dict[str, list[list[tuple[float, float, float]]]]) -> None:
    """Every face of a section, node by node, wherever its run starts."""
    found: dict[str, list[list[tuple[float, float, float]]]] = {}
    for cut in section.faces:
        found.setdefault(cut.material, []).append(list(cut.nodes))
    assert set(found) == set(wanted), section.letter
    for material, runs in wanted.items():
        assert len(found[material]) == len(runs), (section.letter, material)
        for run, hand in zip(found[material], runs, strict=True):
            assert len(run) == len(hand), (section.letter, material, run)
            turned = [run[start:] + run[:start] for start in range(len(run))]
            best = min(turned, key=lambda nodes: sum(math.dist(a, b) for a, b in zip(nodes, hand, strict=True)))
            for node, by_hand in zip(best, hand, strict=True):
                assert node == near(by_hand), (section.letter, material)


def assert_at(section: Section, x: float, y: float, outward: float) -> None:
    """Where the section line meets the glass edge, and the direction in degrees that it looks out in."""
    station = section.station
    assert (station.point.x, station.point.y) == near((x, y)), section.letter
    turn = math.radians(outward)
    assert (station.outward.x, station.outward.y) == near((math.cos(turn), math.sin(turn))), section.letter


# One: a saloon light with round corners, sunk 2 mm, print with a fade.

SALOON = """
[materials.glass]
density = 2500
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
outline = { rectangle = [1200, 600], radius = 60 }
recess = { depth = 17, landing = 38 }
joint = { width = 6, backfill_depth = 7 }
bond = { width = 14, thickness = 5, set_back = 9 }
frit = { width = 34, start = 2, fade = 4 }
spacers = { width = 5, length = 25, pitch = 400, from_corner = 50 }
chocks = { length = 60, backfill_over = 6 }
limits = { backer_oversize = 1.25, chock_from_corner = 50, chock_end_from_corner = 20 }
setting_out = { spacer_by_chock = 100, chocks_on_sill = 25, start_from_block = 20 }
"""


@pytest.fixture(scope="module")
def saloon() -> Detail:
    return built(SALOON)


def test_saloon_light_sections(saloon: Detail) -> None:
    # From the wall: glass at the joint 6; print starts 2 further in and ends 34 in, its fade 4 before that; bead 9 to 23 in; landing 38.
    # Heights: bond 5, glass 5 to 15, skin 17. Backfill 7 deep under the lower of glass and skin: from 8; over a chock 6 deep: from 9.
    for section in saloon.sections:
        x = section.crossing
        assert (x.glass_edge, x.frit_start, x.bead_outer, x.bead_centre, x.bead_inner) == near((6, 8, 15, 22, 29))
        assert (x.landing, x.frit_inner, x.frit_fade) == near((38, 40, 36))
        assert section.joint_width == near(6)
        z = section.levels
        assert (z.bond_face, z.glass_face, z.skin) == near((5, 15, 17))
        assert (z.backfill, z.chock) == ((9, 9) if section.letter == "A" else (8, None))
    common = {
        "frame": [[(-10, -7, 0), (38, -7, 0), (38, 0, 0), (0, 0, 0), (0, 17, 0), (-10, 17, 0)]],
        "glass": [box(6, 5, 40 + BEYOND_GLASS, 15)],
        "adhesive": [box(15, 0, 29, 5)],
    }
    # The rod of 1,25 × 6 = 7,5 mm pressed to 6: a rectangle and below it a segment of bulge 1/2 (radius 6 × 1,25 / 2 = 3,75, sweep
    # 4 arctan 1/2) have its area together.
    sweep = 4 * math.atan(0.5)
    segment = 3.75**2 / 2 * (sweep - math.sin(sweep))
    level = 8 - (PI / 4 * 7.5**2 - segment) / 6
    open_joint = {
        "backer": [[(0, level, 0.5), (6, level, 0), (6, 8, 0), (0, 8, 0)]],
        "sealant": [[(6, 8, 0), (6, 15, 0), (0, 17, 0), (0, 8, 0)]],
    }
    a, b, c, d = saloon.sections
    assert_faces(a, {**common, "chock": [box(0, 0, 6, 9)], "sealant": [[(6, 9, 0), (6, 15, 0), (0, 17, 0), (0, 9, 0)]]})
    # The spacer of 5 stands in the middle of the set-back of 9: 2 from the glass edge, 8 to 13 from the wall.
    assert_faces(b, {**common, **open_joint, "spacer": [box(8, 0, 13, 5)]})
    assert_faces(c, {**common, **open_joint})
    assert_faces(d, {**common, **open_joint})


def test_saloon_light_section_lines(saloon: Detail) -> None:
    # A: three tenths of the chock's 60 before the middle of K1 at 300. C: the right edge runs straight from 60 to 540; halfway it is
    # farthest from the spacers at 110 and 490. B: through the lower of those two, a fifth of its 25 before its middle. D: places at
    # 0,15 + k 0,7 / 16 of the straight 1080, off the middle: 222, 269,25 ...; 269,25 from the right corner is 159,25 from the spacer
    # at 110, more than any before the middle.
    a, b, c, d = saloon.sections
    assert_at(a, 300 - 18, 0, -90)
    assert_at(b, 1200, 110 - 5, 0)
    assert_at(c, 1200, 300, 0)
    assert_at(d, 1200 - 269.25, 600, 90)
    assert [section.letter for section in saloon.sections] == ["A", "B", "C", "D"]
    assert [section.title for section in saloon.sections] == [
        "sill, through setting chock K1",
        "through spacer S7",
        "jamb",
        "head",
    ]
    assert (a.chock.mark, a.spacer, b.chock, b.spacer.mark) == ("K1", None, None, "S7")


def test_saloon_light_blocks(saloon: Detail) -> None:
    # Long edges: straight 60 to 1140, first and last spacer 50 inside: 110 and 1090, 980 apart: three spaces of 326,667. Short edges:
    # 110 and 490, 380 apart: one space. Chocks a quarter of the sill from the middle: 300 and 900, 136,7 from the nearest spacer, more
    # than 100: one is added beside each. The corner arcs of 94 mm hold none. All 4,5 (half the set-back) inside the edge.
    third = 980 / 3
    low = [110, 300, 110 + third, 110 + 2 * third, 900, 1090]
    high = [110, 110 + third, 110 + 2 * third, 1090]
    wanted = (
        [(x, 4.5, 0, "e1", x) for x in low]
        + [(1195.5, y, 90, "e2", y) for y in (110, 490)]
        + [(1200 - s, 595.5, 180, "e3", s) for s in high]
        + [(4.5, 600 - s, -90, "e4", s) for s in (110, 490)]
    )
    assert [spacer.mark for spacer in saloon.spacers] == [f"S{number}" for number in range(1, 15)]
    for spacer, (x, y, angle, edge, distance) in zip(saloon.spacers, wanted, strict=True):
        assert (spacer.centre.x, spacer.centre.y, spacer.angle, spacer.distance) == near((x, y, angle, distance))
        assert spacer.edge == edge
    assert [(chock.mark, chock.kind, chock.edge) for chock in saloon.chocks] == [
        ("K1", "setting chock", "e1"),
        ("K2", "setting chock", "e1"),
    ]
    for chock, x in zip(saloon.chocks, (300, 900), strict=True):
        # as high as the joint is wide; from the landing up to 6 mm (its backfill) under the glass face: 5 + 10 - 6
        assert (chock.foot.x, chock.foot.y, chock.angle, chock.distance) == near((x, 0, 0, x))
        assert (chock.length, chock.height, chock.depth) == near((60, 6, 9))
    start = saloon.bead_start  # middle of the head; 9 + 14 / 2 inside the edge; counter-clockwise the head runs to the left
    assert (start.place.x, start.place.y, start.angle, start.edge) == (near(600), near(600 - 16), near(180), "e3")
    assert start.distance == near(600)


def test_saloon_light_areas_and_lengths(saloon: Detail) -> None:
    assert saloon.area == near(rounded_area(1200, 600, 60))
    assert saloon.perimeter == near(rounded_length(1200, 600, 60))
    assert (saloon.centroid.x, saloon.centroid.y) == near((600, 300))
    curves = saloon.curves
    # Parallel curves of a round corner keep its centre: radius 60 less the distance inwards, 60 + 6 outwards, 66 - 38 at the landing.
    for outline, inside in (
        (curves.recess, -6),
        (curves.glass, 0),
        (curves.frit_outer, 2),
        (curves.bead_outer, 9),
        (curves.bead_centre, 16),
        (curves.bead_inner, 23),
        (curves.frit_fade, 30),
        (curves.sight_line, 32),
        (curves.frit_inner, 34),
    ):
        sides = (1200 - 2 * inside, 600 - 2 * inside, 60 - inside)
        assert area(outline) == pytest.approx(rounded_area(*sides), abs=1e-5)
        assert perimeter(outline) == near(rounded_length(*sides))
    # The print reaches 2 mm further in than the landing (34 against 38 - 6): it bounds the daylight.
    assert saloon.daylight_area == pytest.approx(rounded_area(1200 - 68, 600 - 68, 26), abs=1e-5)
    bead = saloon.uncured_bead
    # Two thirds of the width, three times the thickness: a triangle of 14 × 5.
    assert (bead.notch_width, bead.notch_height, bead.area, bead.pressed_width) == near((28 / 3, 15, 70, 14))
    assert bead.length == near(rounded_length(1168, 568, 44))
    assert bead.volume == near(70 * rounded_length(1168, 568, 44) / 1000)  # 1 ml is 1000 mm³
    assert saloon.glass.mass == near(rounded_area(1.2, 0.6, 0.06) * 0.010 * 2500)
    corner = saloon.worst_corner
    assert corner is not None
    assert (corner.corner.theoretical.x, corner.corner.theoretical.y) == near((1200, 600))  # of four alike the upper right one
    assert (corner.joint, corner.recess_radius, corner.bead_radius, corner.frit_radius) == near((6, 66, 44, 26))
    assert corner.unbonded == near(9)
    assert corner.glass_on_bisector == near(-60 * (math.sqrt(2) - 1))  # a rounding lies r (√2 - 1) inside a right angle
    assert saloon.sizes.proud.value == near(-2)
    assert not saloon.glass_cuts_recess
    assert [(name, middle.x, middle.y, angle) for name, middle, angle in saloon.edge_middles] == [
        ("e1", near(600), near(0), near(0)),
        ("e2", near(1200), near(300), near(90)),
        ("e3", near(600), near(600), near(180)),
        ("e4", near(0), near(300), near(-90)),
    ]


# Two: a laminated wheelhouse light, proud of the skin, on a sloping sill with sharp corners; drafted wall with a fillet.

WHEELHOUSE = """
[materials.glass]
density = 2500
[materials.interlayer]
density = 1100
[[pane]]
code = "B"
frame = "aluminium"
glass = { plies = [6, 6], interlayers = [1.52] }
outline = { polygon = [[0, 0], [1000, 100], [1000, 340], [0, 340]] }
recess = { depth = 14, landing = 36, draft = 2, fillet = 1.5 }
joint = { width = 7, backfill_depth = 5 }
bond = { width = 16, thickness = 6, set_back = 8, corner_radius = 12, notch_width = 10, notch_height = 20 }
frit = { width = 30, start = 1, corner_radius = 6 }
spacers = { width = 4, length = 30, pitch = 300, from_corner = 40 }
chocks = { length = 80, backfill_over = 7 }
limits = { backer_oversize = 1.25, chock_from_corner = 50, chock_end_from_corner = 20 }
setting_out = { spacer_by_chock = 20, chocks_on_sill = 25, start_from_block = 17, side_block_up = 150, side_block_slope = 1 }
"""
SILL = 100 * math.sqrt(101)  # 1000 along and 100 up
ALONG = (10 / math.sqrt(101), 1 / math.sqrt(101))
OUT = (1 / math.sqrt(101), -10 / math.sqrt(101))
SLOPE = math.degrees(math.atan(0.1))
# Left side 340, right side 240: centroid of a trapezium, from integrating its upright strips.
CENTROID = (
    1000 * (340 + 2 * 240) / (3 * (340 + 240)),
    (340**2 * 1000 - 0.01 * 1000**3 / 3) / 2 / 290_000,
)
FOOT = CENTROID[0] * ALONG[0] + CENTROID[1] * ALONG[1]  # along the sill, from the corner at (0, 0)


@pytest.fixture(scope="module")
def wheelhouse() -> Detail:
    return built(WHEELHOUSE)


def test_wheelhouse_light_sections(wheelhouse: Detail) -> None:
    # Glass 13,52 on a bond of 6: face at 19,52, skin at 14, so 5,52 proud. Backfill 5 deep under the lower of the two: from 9.
    # Over a chock 7 under the glass face: 12,52, below the skin.
    for section in wheelhouse.sections:
        x, z = section.crossing, section.levels
        assert (x.glass_edge, x.frit_start, x.bead_outer, x.bead_centre, x.bead_inner) == near((7, 8, 15, 23, 31))
        assert (x.landing, x.frit_inner) == near((36, 37))
        assert x.frit_fade is None
        assert (z.bond_face, z.glass_face, z.skin) == near((6, 19.52, 14))
        assert (z.backfill, z.chock) == ((near(12.52), near(12.52)) if section.letter == "A" else (near(9), None))
    assert wheelhouse.sizes.proud.value == near(5.52)
    # The wall leans back by z tan 2°. The fillet of 1,5 touches landing and wall at 1,5 / tan(92° / 2) from the foot; it turns 88°.
    lean, reach, turn = math.tan(math.radians(2)), 1.5 / math.tan(math.radians(46)), math.tan(math.radians(22))
    on_wall = (-reach * math.sin(math.radians(2)), reach * math.cos(math.radians(2)))
    left = -14 * lean - BEYOND_FRAME
    common = {
        "frame": [[(left, -7, 0), (36, -7, 0), (36, 0, 0), (reach, 0, -turn), (*on_wall, 0), (-14 * lean, 14, 0), (left, 14, 0)]],
        "glass": [box(7, 13.52, 37 + BEYOND_GLASS, 19.52), box(7, 6, 37 + BEYOND_GLASS, 12)],
        "interlayer": [box(7, 12, 37 + BEYOND_GLASS, 13.52)],
        "adhesive": [box(15, 0, 31, 6)],
    }
    chock = [(reach, 0, 0), (7, 0, 0), (7, 12.52, 0), (-12.52 * lean, 12.52, 0), (*on_wall, turn)]
    over = [(7, 12.52, 0), (7, 19.52, 0), (-14 * lean, 14, 0), (-12.52 * lean, 12.52, 0)]
    # The rod of 8,75: a trapezium from 9 down to a level, chord w there, and a segment of bulge 1/2 under it; level by halving.
    sweep = 4 * math.atan(0.5)
    low, high = 0.0, 9.0
    for _ in range(80):
        level = (low + high) / 2
        chord = 7 + level * lean
        filled = (9 - level) * (chord + 7 + 9 * lean) / 2 + (chord * 1.25 / 2) ** 2 / 2 * (sweep - math.sin(sweep))
        low, high = (level, high) if filled > PI / 4 * 8.75**2 else (low, level)
    open_joint = {
        "backer": [[(-level * lean, level, 0.5), (7, level, 0), (7, 9, 0), (-9 * lean, 9, 0)]],
        "sealant": [[(7, 9, 0), (7, 19.52, 0), (-14 * lean, 14, 0), (-9 * lean, 9, 0)]],
    }
    a, b, c, d = wheelhouse.sections
    assert_faces(a, {**common, "chock": [chock], "sealant": [over]})
    assert_faces(b, {**common, **open_joint, "spacer": [box(9, 0, 13, 6)]})  # 7 + (8 - 4) / 2
    assert_faces(c, {**common, **open_joint})
    assert_faces(d, {**common, **open_joint})


def test_wheelhouse_light_section_lines(wheelhouse: Detail) -> None:
    # A: 24 before K1. C: the right edge is 240: 36 to 204 in steps of 10,5, spacers at 40 and 200: the middle is farthest from both.
    # B is to stay 4 % of the way round (103) clear of A and C: the two beside C stand only 80 off. Of those 160 off to either side the
    # first: on the sill, 40 before the corner, 6 before its middle. D: 150 to 850 in steps of 43,75 but for 140 to either side of the
    # middle; spacers at 40, 270, 500 ...: 150 is 110 from the nearest.
    a, b, c, d = wheelhouse.sections
    first = FOOT - SILL / 4 - 24
    assert_at(a, first * ALONG[0], first * ALONG[1], -90 + SLOPE)
    assert_at(b, (SILL - 46) * ALONG[0], (SILL - 46) * ALONG[1], -90 + SLOPE)
    assert_at(c, 1000, 100 + 120, 0)
    assert_at(d, 1000 - 150, 340, 90)
    assert a.title == "sill, through setting chock K1"


def test_wheelhouse_light_blocks(wheelhouse: Detail) -> None:
    # Chocks a quarter of the sill to either side of the foot of the centroid, square under it; 252 and 489 from the corners.
    k1, k2 = FOOT - SILL / 4, FOOT + SILL / 4
    # Low end on the left: side block on the left edge, a third of its 340 up, which is less than 150. That edge runs downwards.
    third = 340 / 3
    wanted = [
        ("K1", "setting chock", "e1", k1, (k1 * ALONG[0], k1 * ALONG[1]), SLOPE),
        ("K2", "setting chock", "e1", k2, (k2 * ALONG[0], k2 * ALONG[1]), SLOPE),
        ("K3", "side block", "e4", 340 - third, (0, third), -90),
    ]
    for chock, (mark, kind, edge, distance, foot, angle) in zip(wheelhouse.chocks, wanted, strict=True):
        assert (chock.mark, chock.kind, chock.edge) == (mark, kind, edge)
        assert (chock.distance, chock.foot.x, chock.foot.y, chock.angle) == near((distance, *foot, angle))
        assert (chock.length, chock.height, chock.depth) == near((80, 7, 6 + 13.52 - 7))
    # Spacers 40 inside the sharp corners, equal spaces of at most 300: sill 924,99 in four, head 920 in four, jambs 160 and 260 in one.
    # K1 stands 34 from its nearest one, more than 20, and gets one of its own; K2 stands 5 from its.
    quarter = (SILL - 80) / 4
    sill = sorted([40, 40 + quarter, 40 + 2 * quarter, 40 + 3 * quarter, 40 + 4 * quarter, k1])
    wanted = (
        [(s * ALONG[0] - 4 * OUT[0], s * ALONG[1] - 4 * OUT[1], SLOPE, "e1", s) for s in sill]
        + [(996, 100 + s, 90, "e2", s) for s in (40, 200)]
        + [(1000 - s, 336, 180, "e3", s) for s in (40, 270, 500, 730, 960)]
        + [(4, 340 - s, -90, "e4", s) for s in (40, 300)]
    )
    for spacer, (x, y, angle, edge, distance) in zip(wheelhouse.spacers, wanted, strict=True):
        assert (spacer.centre.x, spacer.centre.y, spacer.angle, spacer.distance) == near((x, y, angle, distance))
        assert spacer.edge == edge
    # A spacer stands in the middle of the head: the start goes 35 on, in steps of 5, to be 15 + 17 clear; 8 + 8 inside the edge.
    start = wheelhouse.bead_start
    assert (start.place.x, start.place.y, start.angle, start.distance) == near((1000 - 535, 340 - 16, 180, 535))


def test_wheelhouse_light_areas_and_lengths(wheelhouse: Detail) -> None:
    sides = 340 + 1000 + 240 + SILL
    assert wheelhouse.area == near(290_000)
    assert wheelhouse.perimeter == near(sides)
    assert (wheelhouse.centroid.x, wheelhouse.centroid.y) == near(CENTROID)
    # Interior angles: 90° less and more the slope, and two right angles. A parallel inside by d takes d cot(angle / 2) off either side
    # of every corner; a rounding of r replaces 2 r cot(angle / 2) by r (180° - angle).
    angles = [math.radians(degrees) for degrees in (90 - SLOPE, 90 + SLOPE, 90, 90)]
    cots = sum(1 / math.tan(angle / 2) for angle in angles)
    length = sides - 2 * 16 * cots - 2 * 12 * cots + 12 * sum(PI - angle for angle in angles)
    bead = wheelhouse.uncured_bead
    assert (bead.area, bead.pressed_width, bead.length, bead.volume) == near((100, 100 / 6, length, length / 10))
    curves = wheelhouse.curves

    def inside(distance: float, radius: float) -> float:
        sharp = 290_000 - sides * distance + cots * distance**2
        return sharp - radius**2 * sum(1 / math.tan(angle / 2) - (PI - angle) / 2 for angle in angles)

    # Outwards a sharp corner becomes an arc of the joint round it: Steiner's formula.
    assert area(curves.recess) == pytest.approx(290_000 + sides * 7 + PI * 49, abs=1e-5)
    for outline, distance, radius in (
        (curves.frit_outer, 1, 0),
        (curves.bead_outer, 8, 12 + 8),
        (curves.bead_centre, 16, 12),
        (curves.bead_inner, 24, 12 - 8),
        (curves.sight_line, 36 - 7, 0),
        (curves.frit_inner, 30, 6),
    ):
        assert area(outline) == pytest.approx(inside(distance, radius), abs=1e-5)
    assert wheelhouse.daylight_area == pytest.approx(inside(30, 6), abs=1e-5)  # the print lies 1 inside the landing's edge
    assert wheelhouse.glass.mass == near(0.29 * (0.012 * 2500 + 0.00152 * 1100))
    corner = wheelhouse.worst_corner
    # The joint is 7 all round; the longest unbonded corner is in the sharpest corner, at (0, 0).
    k = 1 / math.sin(angles[0] / 2)
    assert corner is not None
    assert (corner.corner.theoretical.x, corner.corner.theoretical.y) == near((0, 0))
    assert (corner.joint, corner.recess_radius, corner.bead_radius, corner.frit_radius) == near((7, 7, 12, 6))
    assert corner.unbonded == near(16 * k + 12 * (k - 1) - 8)
    assert corner.glass_on_bisector == near(0)


def test_a_chock_never_stands_out_of_the_skin() -> None:
    """3 mm under a glass face at 19,52 would be 16,52; the skin is at 14."""
    detail = built(WHEELHOUSE.replace("backfill_over = 7", "backfill_over = 3"))
    assert [chock.depth for chock in detail.chocks] == near([14, 14, 14])
    assert (detail.sections[0].levels.chock, detail.sections[0].levels.backfill) == near((14, 14))


def test_side_block_stands_at_its_own_height_on_a_tall_jamb() -> None:
    """A left edge of 340 has its third at 113; with 100 asked for, 100 up."""
    detail = built(WHEELHOUSE.replace("side_block_up = 150", "side_block_up = 100"))
    assert (detail.chocks[2].foot.x, detail.chocks[2].foot.y) == near((0, 100))
    # Turned over, the low end is on the right: the right edge runs upwards from there.
    turned = built(
        WHEELHOUSE.replace(
            "[[0, 0], [1000, 100], [1000, 340], [0, 340]]", "[[0, 100], [1000, 0], [1000, 340], [0, 340]]"
        ).replace("side_block_up = 150", "side_block_up = 100")
    )
    block = turned.chocks[2]
    assert (block.foot.x, block.foot.y, block.angle, block.distance) == near((1000, 100, 90, 100))


# Three: a round portlight, proud of the skin by 3.

PORTLIGHT = """
[materials.glass]
density = 2500
[[pane]]
code = "C"
frame = "steel"
glass = { plies = [12] }
outline = { circle = 420 }
recess = { depth = 13, landing = 40 }
joint = { width = 5, backfill_depth = 6 }
bond = { width = 14, thickness = 4, set_back = 6 }
frit = { width = 30, start = 1.5 }
spacers = { width = 4, length = 20 }
chocks = { length = 50, backfill_over = 5 }
limits = { backer_oversize = 1.25 }
setting_out = { chocks_on_round = 30, round_three_spacers = 250, round_four_spacers = 500, spacer_by_chock = 100 }
"""


@pytest.fixture(scope="module")
def portlight() -> Detail:
    return built(PORTLIGHT)


def on_circle(degrees: float, radius: float) -> tuple[float, float]:
    turn = math.radians(degrees)
    return radius * math.cos(turn), 210 + radius * math.sin(turn)


def test_portlight_sections(portlight: Detail) -> None:
    # Radii: wall 215, glass 210, print 208,5 to 180, bead 204 to 190, landing's edge 175. Face at 16, skin at 13, backfill from 7;
    # chock 5 under the face: 11.
    for section in portlight.sections:
        x, z = section.crossing, section.levels
        assert (x.glass_edge, x.frit_start, x.bead_outer, x.bead_centre, x.bead_inner) == near((5, 6.5, 11, 18, 25))
        assert (x.landing, x.frit_inner) == near((40, 35))
        assert (z.bond_face, z.glass_face, z.skin, z.backfill) == near((4, 16, 13, 11 if section.letter == "A" else 7))
    common = {
        "frame": [[(-10, -7, 0), (40, -7, 0), (40, 0, 0), (0, 0, 0), (0, 13, 0), (-10, 13, 0)]],
        "glass": [box(5, 4, 40 + BEYOND_GLASS, 16)],
        "adhesive": [box(11, 0, 25, 4)],
    }
    sweep = 4 * math.atan(0.5)
    level = 7 - (PI / 4 * 6.25**2 - (5 * 1.25 / 2) ** 2 / 2 * (sweep - math.sin(sweep))) / 5
    open_joint = {
        "backer": [[(0, level, 0.5), (5, level, 0), (5, 7, 0), (0, 7, 0)]],
        "sealant": [[(5, 7, 0), (5, 16, 0), (0, 13, 0), (0, 7, 0)]],
    }
    a, b, c, d = portlight.sections
    assert_faces(a, {**common, "chock": [box(0, 0, 5, 11)], "sealant": [[(5, 11, 0), (5, 16, 0), (0, 13, 0), (0, 11, 0)]]})
    assert_faces(b, {**common, **open_joint, "spacer": [box(6, 0, 10, 4)]})  # 5 + (6 - 4) / 2
    assert_faces(c, {**common, **open_joint})
    assert_faces(d, {**common, **open_joint})
    # Lines: 15 of arc before the chock at 240°; 4 before the spacer at 315°; the rightmost point, halfway between two spacers; at the
    # head, steps of 2,25° to 18° either side but for 7,2° in the middle: 81° is farthest from the spacers at 45° and 135°.
    for section, degrees in ((a, 240 - math.degrees(15 / 210)), (b, 315 - math.degrees(4 / 210)), (c, 0), (d, 81)):
        assert_at(section, *on_circle(degrees, 210), degrees)


def test_portlight_blocks(portlight: Detail) -> None:
    # Chocks where the edge looks 30° off straight down: at 240° and 300°; 210 π / 6 of arc from the lowest point.
    arc = 210 * PI / 6
    for chock, mark, degrees, distance in zip(portlight.chocks, ("K1", "K2"), (240, 300), (-arc, arc), strict=True):
        assert (chock.mark, chock.kind, chock.edge) == (mark, "setting chock", "round")
        assert (chock.foot.x, chock.foot.y) == near(on_circle(degrees, 210))
        assert (chock.angle, chock.distance) == near((degrees - 270, distance))
        assert (chock.length, chock.height, chock.depth) == near((50, 5, 11))
    # Four spacers, the first half a space from the top, counted from the lowest point: 315°, 45°, 135°, 225°; 3 inside the edge.
    for spacer, degrees, angle, share in zip(
        portlight.spacers, (315, 45, 135, 225), (45, 135, -135, -45), (1, 3, -3, -1), strict=True
    ):
        assert (spacer.centre.x, spacer.centre.y) == near(on_circle(degrees, 207))
        assert (spacer.angle, spacer.distance) == near((angle, share * 210 * PI / 4))
        assert spacer.edge == "round"
    start = portlight.bead_start
    assert (start.place.x, start.place.y, abs(start.distance)) == near((0, 210 + 197, 210 * PI))
    assert abs(start.angle) == near(180)


def test_portlight_areas_and_lengths(portlight: Detail) -> None:
    curves = portlight.curves
    for outline, radius in (
        (curves.recess, 215),
        (curves.glass, 210),
        (curves.frit_outer, 208.5),
        (curves.bead_outer, 204),
        (curves.bead_centre, 197),
        (curves.bead_inner, 190),
        (curves.frit_inner, 180),
        (curves.sight_line, 175),
    ):
        assert (area(outline), perimeter(outline)) == near((PI * radius**2, 2 * PI * radius))
    assert portlight.daylight_area == near(PI * 175**2)  # here the landing reaches further in than the print
    assert (portlight.area, portlight.perimeter) == near((PI * 210**2, 2 * PI * 210))
    assert (portlight.centroid.x, portlight.centroid.y) == near((0, 210))
    bead = portlight.uncured_bead
    assert (bead.area, bead.length, bead.volume) == near((56, 2 * PI * 197, 56 * 2 * PI * 0.197))
    assert portlight.glass.mass == near(PI * 0.21**2 * 0.012 * 2500)
    assert portlight.worst_corner is None
    assert portlight.sizes.proud.value == near(3)


# Single places that none of the three shows.


def test_daylight_that_print_and_landing_bound_together() -> None:
    """Landing's edge 36 inside, radius 30; print 34 inside, its corners rounded to 80: the print bounds the corners, the landing the sides.

    The print's arc has its centre 114 from both sides; it meets the landing's edge 114 - √(80² - 78²) from the corner's sides. What it
    cuts off a square corner at 36 is the area between square and arc: with t = 78, from the centre: t² less the part of the disc there.
    """
    detail = built(SALOON.replace("landing = 38", "landing = 42").replace("fade = 4", "fade = 4, corner_radius = 80"))
    reach, t = math.sqrt(80**2 - 78**2), 78.0
    turn = PI / 2 - 2 * math.asin(reach / 80)  # of the arc between the two sides
    disc = 80**2 / 2 * turn + reach * t  # sector and two triangles
    wanted = (1200 - 72) * (600 - 72) - 4 * (t**2 - disc)
    # The landing's own rounding of 66 - 42 = 24 ends 60 from the sides, before the arc of the print is met at 96,2.
    assert detail.daylight_area == pytest.approx(wanted, rel=2e-6)


def test_a_landing_left_out_clears_the_bead_in_a_recess_with_its_own_radius() -> None:
    """Glass of radius 50, recess of radius 60, joint 6: the landing's edge is concentric with the recess, of radius 54 at the glass edge.

    On the bisector of a right angle, with k = √2: the bead's centre line (8 + 7) k, its rounding of 70 brings 70 (k - 1), half the width 7, the
    squeeze-out and 2 more. Bow 1,5 mm/m of 1,2 m, 1,8, and spacers 450 apart: 1,8 × (450 / 1200)² = 0,253. Bead 70 mm², tightest gap
    5 - 0,5 - 0,253 = 4,247: squeeze-out (70 / 4,247 - 14) / 2 = 1,241. An edge that starts with radius 54 lies 54 (k - 1) inside its
    sharp corner, so it needs that much less: 21,213 + 28,995 + 7 + 1,241 + 2 - 22,368 + 6 = 44,082, and 1 + 0,75 of tolerances 45,83.
    """
    detail = built(
        """
[[pane]]
code = "L"
frame = "aluminium"
glass = { plies = [10] }
outline = { rectangle = [1200, 600], radius = 50 }
recess = { depth = 15, radius = 60 }
joint = { width = 6, backfill_depth = 6 }
bond = { width = 14, thickness = 5, set_back = 8, corner_radius = 70, notch_width = 10, notch_height = 14 }
frit = { width = 34 }
tolerances = { pane = 0.5, recess = 1, placing = 0, bond_thickness = 0.5, landing = 1, flatness = 0 }
limits = { landing_inside = 2, size_step = 0.1 }
"""
    )
    k = math.sqrt(2)
    squeezed = (70 / (5 - 0.5 - 1.8 * (450 / 1200) ** 2) - 14) / 2
    corner = 15 * k + 70 * (k - 1) + 7 + squeezed + 2 - 54 * (k - 1) + 6
    straight = 6 + 8 + 14 + squeezed + 2
    assert corner > straight  # so the corner governs
    joint_tolerance = detail.recess_tolerance / 2 + detail.pane_tolerance / 2
    assert (detail.recess_tolerance, detail.pane_tolerance) == (1, 0.5)
    assert detail.sizes.landing.value == pytest.approx(math.ceil((corner + 1 + joint_tolerance) * 10) / 10) == 45.9


def test_a_backer_is_pressed_to_at_most_1_6_times_its_diameter() -> None:
    """Where the surveyed wall leaves 3 of a joint of 6, the rod of 7,5 keeps 12 of depth: from the backfill at 19 down to 7."""
    detail = built(
        """
[[pane]]
code = "P"
frame = "aluminium"
glass = { plies = [19] }
outline = { rectangle = [1200, 600], radius = 60 }
recess = { depth = 25, landing = 40, outline = { rectangle = [1206, 612], radius = 60 } }
joint = { width = 6, backfill_depth = 6 }
bond = { width = 14, thickness = 6, set_back = 9 }
frit = { width = 34 }
limits = { backer_oversize = 1.25 }
"""
    )
    jamb, head = detail.sections[2], detail.sections[3]
    assert (jamb.joint_width, head.joint_width) == near((3, 6))
    (backer,) = (face.nodes for face in jamb.faces if face.material == "backer")
    assert [node for pair in backer for node in pair] == near([0, 7, 0.5, 3, 7, 0, 3, 19, 0, 0, 19, 0])
    (plain,) = (face.nodes for face in head.faces if face.material == "backer")
    assert min(node[1] for node in plain) > 12  # there the rod of 7,5 has its room


def test_glass_that_cuts_into_a_surveyed_recess_has_a_joint_below_nothing() -> None:
    """The wall stands 2 inside the glass at the sides and 6 outside it below: joints of -2 and 6, and nothing fills the former."""
    detail = built(
        SALOON.replace("landing = 38 }", "landing = 38, outline = { rectangle = [1196, 612], radius = 60 } }").replace(
            "joint = {", "tolerances = { pane = 0 }\njoint = {"
        )
    )
    sill, _, jamb, _ = detail.sections
    assert (sill.joint_width, jamb.joint_width) == near((6, -2))
    assert (jamb.crossing.glass_edge, jamb.crossing.bead_outer, jamb.crossing.landing) == near((-2, -2 + 9, 38))
    assert {face.material for face in jamb.faces} == {"frame", "glass", "adhesive"}
    assert detail.glass_cuts_recess
    assert [chock.height for chock in detail.chocks] == near([6, 6])


def test_the_bead_of_a_domed_pane_starts_beside_the_spacer_at_its_crown() -> None:
    """A dome: no edge looks up, and a spacer stands at the crown. The start goes off it along the arc in steps of 5.

    Straight sides of 300 with a spacer halfway up, half circle of radius 200 above: 628 of arc and 150 at each end, pitch 500: one more, in
    its middle. A start 12,5 + 20 clear of it is 35 on, counter-clockwise; it is looked for no farther than an eighth of the way round.
    """
    text = """
[[pane]]
code = "D"
frame = "aluminium"
glass = { plies = [10] }
outline = { path = [[0, 0], [400, 0], [400, 300, 1], [0, 300]] }
recess = { depth = 15, landing = 40 }
joint = { width = 6, backfill_depth = 6 }
bond = { width = 14, thickness = 5, set_back = 8, corner_radius = 12 }
frit = { width = 34 }
spacers = { length = 25, pitch = 500, from_corner = 150 }
setting_out = { start_from_block = ROOM }
"""
    around = 300 + 400 + 300 + 200 * PI
    detail = built(text.replace("ROOM", "20"))
    assert [spacer.edge for spacer in detail.spacers].count("corner arc") == 1
    turn = math.pi / 2 + 35 / 200
    at = (200 + 185 * math.cos(turn), 300 + 185 * math.sin(turn))  # 8 + 7 inside the edge
    assert (detail.bead_start.place.x, detail.bead_start.place.y) == near(at)
    # An eighth of 1628 is 203,5: 200 is the last step. 12,5 + 187 clear is found there, 12,5 + 190 is not: the crown stands.
    assert 200 < around / 8 < 205
    turn = math.pi / 2 + 200 / 200
    last = built(text.replace("ROOM", "187")).bead_start.place
    assert (last.x, last.y) == near((200 + 185 * math.cos(turn), 300 + 185 * math.sin(turn)))
    crown = built(text.replace("ROOM", "190")).bead_start.place
    assert (crown.x, crown.y) == near((200, 485))


@pytest.mark.parametrize(
    ("limit", "places"),
    [
        (400, (60 + 400, 1140 - 400)),  # 400 from where the roundings begin, less than a quarter of the sill from the middle
        (530, (60 + 35, 1140 - 35)),  # 10 to either side is less than half a chock and 5: as far apart as the straight allows
    ],
)
def test_chocks_keep_off_the_corners(limit: int, places: tuple[float, float]) -> None:
    detail = built(SALOON.replace("chock_from_corner = 50", f"chock_from_corner = {limit}"))
    assert [chock.foot.x for chock in detail.chocks] == near(list(places))


def test_chocks_on_a_sill_with_no_room_for_them() -> None:
    """A straight of 100: a quarter of it from either end, 25, is less than the half chock and 5 that are asked for."""
    detail = built(SALOON.replace("rectangle = [1200, 600]", "rectangle = [220, 600]"))
    assert [chock.foot.x for chock in detail.chocks] == near([60 + 25, 160 - 25])


def test_chocks_stand_as_far_to_one_side_of_the_centroid_as_to_the_other() -> None:
    """The nearer corner decides for both: 300 from it, on the left as on the right."""
    detail = built(WHEELHOUSE.replace("chock_from_corner = 50", "chock_from_corner = 300"))
    assert [chock.distance for chock in detail.chocks[:2]] == near([300, 2 * FOOT - 300])
    turned = WHEELHOUSE.replace("[[0, 0], [1000, 100], [1000, 340], [0, 340]]", "[[0, 100], [1000, 0], [1000, 340], [0, 340]]")
    detail = built(turned.replace("chock_from_corner = 50", "chock_from_corner = 300"))
    assert [chock.distance for chock in detail.chocks[:2]] == near([SILL - 2 * FOOT + 300, SILL - 300])


@pytest.mark.parametrize(("rake", "kinds"), [(74.9, {"setting chock"}), (75, {"location block"}), (90, {"location block"})])
def test_a_deck_light_from_its_rake_on(rake: float, kinds: set[str]) -> None:
    """From 75° on a pane lies on its landing: a block in the middle of every side, and sections of edges in place of sill and jamb."""
    detail = built(SALOON.replace('frame = "aluminium"', f'frame = "aluminium"\nrake = {rake}'))
    assert {chock.kind for chock in detail.chocks} == kinds
    assert detail.deck_light == (rake >= 75)
    titles = [section.title for section in detail.sections]
    if detail.deck_light:
        feet = [(chock.foot.x, chock.foot.y, chock.angle) for chock in detail.chocks]
        assert feet == [near(place) for place in ((600, 0, 0), (1200, 300, 90), (600, 600, 180), (0, 300, -90))]
        assert titles[0].startswith("edge, through location block K")
        assert titles[2:] == ["side edge", "far edge"]
    else:
        assert titles[2:] == ["jamb", "head"]


@pytest.mark.parametrize(("across", "count"), [(250, 3), (251, 4), (500, 4), (501, 8)])
def test_spacers_of_a_round_pane_at_the_limits_of_their_number(across: int, count: int) -> None:
    """Up to 250 three, up to 500 four; above that one for each 200 of arc: 501 π / 200 = 7,87."""
    detail = built(
        PORTLIGHT.replace("circle = 420", f"circle = {across}").replace(
            "spacer_by_chock = 100", "spacer_by_chock = 5000, round_pitch = 200"
        )
    )
    assert len(detail.spacers) == count


def test_the_joint_is_as_wide_as_it_is_said_to_be(saloon: Detail, wheelhouse: Detail, portlight: Detail) -> None:
    for detail, joint in ((saloon, 6), (wheelhouse, 7), (portlight, 5)):
        assert distance_between(detail.curves.recess, detail.curves.glass) == near(joint)
