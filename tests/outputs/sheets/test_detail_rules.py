"""The detail sheet held against the rules of the drawing office, over every sample pane and odd panes: what can be counted is counted.

Distances between texts and to lines, spacings of dimension lines and the like are office practice: common practice, no source. What is
measured here is measured on the finished sheet, on paper, by the boxes of its texts and the strokes of its marks.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path as File
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from measured import (
    crossed_dimension_lines,
    cut_stations,
    largest_empty,
    on_paper,
    run_together,
    taken,
    text_near_line,
    text_near_text,
    told_distances,
)

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.ledger.finding import Side, Verdict
from geometry.outline import bounding_box
from geometry.outline.regions import to_polygon
from outputs.sheet.boxes import texts_of
from outputs.sheet.entities import Dimension, Fill, Hatch, Path, Text
from outputs.sheet.keep_clear import distance_of, straights_of
from outputs.sheet.outcomes import Fate
from outputs.sheet.paper import Paper
from outputs.sheets.contents import Contents
from outputs.sheets.detail_places import Places
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.flag_words import FEATURES, short_name

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from outputs.sheet.entities import Node, Sheet, View

ROOT = File(__file__).parents[3]
HEAD = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [8] }\n'
ODD = {
    "L": "outline = { polygon = [[0, 0], [1200, 0], [1200, 400], [700, 400], [700, 900], [0, 900]], radius = 40 }",
    "triangle": "outline = { polygon = [[0, 0], [900, 0], [300, 700]], radius = 30 }",
    "kite": "outline = { polygon = [[400, 0], [800, 500], [400, 800], [0, 500]], radius = 30 }",
    "round 180": "outline = { circle = 180 }",
    "strip 3000": "outline = { rectangle = [3000, 300], radius = 20 }",
    "path with arcs": "outline = { path = [[0, 0], [800, 0, 0.3], [800, 500], [200, 500, -0.2], [0, 500]] }",
    "oval": "outline = { ellipse = [900, 500] }",
    "thick laminate": "outline = { rectangle = [1000, 600], radius = 50 }",
}
JOBS = {
    **{
        name: job_of((HEAD.replace("[8] }", "[12, 12, 12], interlayers = [1.52, 1.52] }") if "laminate" in name else HEAD) + text)
        for name, text in ODD.items()
    },
    **{
        path.stem: read_job(path) for path in sorted((ROOT / "samples").glob("*.toml")) if path.stem not in ("office", "schedule")
    },
}
PANES = {f"{name} {pane.code}": (job, pane) for name, job in JOBS.items() for pane in job.panes}
ON_A3 = ("SW-01", "SW-03", "SW-04", "SW-05", "SW-10")
EMPTIER = {
    "kite P1": 0.061,  # at the largest scale that the paper holds the plan leaves a band at either side
    "circle CI-1": 0.0505,  # by a tenth of a millimetre or two
    "refit R-1": 0.0512,
    **{name: 0.07 for name in PANES if name.startswith("every-key ")},  # the office asks for A1, whatever the pane
}
"""Sheets of which a larger rectangle than a twentieth of the drawing space stays empty, and how much of it."""
FIGURE = re.compile(r"\d")
TEXTS_APART, OFF_LINES, TOLERANCE = 1.5, 0.7, 0.02


@cache
def made(name: str) -> tuple[Detail, PaneCheck, Sheet]:
    job, pane = PANES[name]
    detail = build_detail(job, pane)
    check = check_pane(job, pane, detail)
    return detail, check, detail_of(Contents(job, pane, detail, check))


@pytest.fixture(params=PANES)
def drawn(request: pytest.FixtureRequest) -> tuple[Detail, PaneCheck, Sheet]:
    return made(request.param)


def of(sheet: Sheet, name: str) -> View:
    return next(view for view in sheet.views if view.name == name)


def title_of(view: View) -> tuple[float, float]:
    """Where the base line of a view's title begins, on paper."""
    letters = {"PLAN": "PLAN"}.get(view.name) or (f"{view.name[-1]}-{view.name[-1]}" if "SECTION" in view.name else view.name[-1])
    title = max((text for text in texts_of(view.marks) if text.string == letters), key=lambda text: text.y)
    return on_paper((title.x, title.y), view)


def test_texts_keep_one_and_a_half_from_one_another_and_seven_tenths_from_lines(drawn):
    """Upright and turned texts alike, of all views; the numbers in flags and balloons stand in them."""
    _, _, sheet = drawn
    assert not text_near_text(sheet, TEXTS_APART - TOLERANCE)
    assert not text_near_line(sheet, OFF_LINES - TOLERANCE)


BESIDE_ITS_LEADER = """[[pane]]
code = "F3"
frame = "grp"
glass = { plies = [12] }
outline = { polygon = [[695.3, -75.2], [487.3, 312.0], [-58.1, 592.7], [-640.8, 516.8], [-722.8, -91.3], [-598.8, -506.3], [-44.6, -622.6], [398.8, -389.5]], radius = 30 }
pressure = { outward = 3, inward = 10 }
"""
FULL = {
    "the figure of the bond up to the line down from the end of the frit": """[[pane]]
code = "F0"
frame = "grp"
glass = { plies = [6] }
outline = { rectangle = [1775, 546], radius = 40 }
pressure = { outward = 5, inward = 5 }
""",
    "sizes up to the cautions and down to the notes": """[[pane]]
code = "F1"
frame = "steel"
rake = -10
glass = { plies = [8, 8], interlayers = [1.52] }
outline = { polygon = [[0, 0], [1015, 0], [1015, 575], [613, 575], [613, 416], [376, 416], [376, 575], [0, 575]], radius = 25 }
""",
    "a figure nearly as long as its size": """[[pane]]
code = "F2"
frame = "aluminium"
glass = { plies = [12] }
outline = { rectangle = [1519, 293], radius = 120 }
pressure = { outward = 1.5, inward = 10 }
recess = { outline = { rectangle = [1531.0, 313.0], radius = 30 } }
""",
}


@pytest.mark.parametrize("text", FULL.values(), ids=FULL)
def test_a_plan_that_fills_its_box_keeps_clear_of_what_stands_round_it(text):
    """The cautions over the plan, the notes under it, and the arrows of a size under its own figure."""
    job = job_of(text)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    sheet = detail_of(Contents(job, pane, detail, check_pane(job, pane, detail)))
    assert sheet.size == "A3"
    assert not text_near_text(sheet, TEXTS_APART - TOLERANCE)
    assert not text_near_line(sheet, OFF_LINES - TOLERANCE)


def test_the_words_of_the_bead_start_keep_off_their_own_leader():
    """A random pane (seed 100171) on which the slope of the leader passed 0.5 mm below them."""
    job = job_of(BESIDE_ITS_LEADER)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    assert not text_near_line(
        detail_of(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False))), OFF_LINES - TOLERANCE
    )


def test_a_text_too_near_is_found():
    """The measure itself: a text moved on to its neighbour, and one moved on to a line."""
    _, _, sheet = made("sallow-wren SW-07")
    plan = of(sheet, "PLAN")
    names = {text.string: text for text in plan.marks if isinstance(text, Text)}
    for name, at in (("K1", (names["S2"].x, names["S2"].y)), ("K1", (names["K1"].x, 0.0))):
        moved = replace(names[name], x=at[0], y=at[1])
        marks = tuple(moved if mark is names[name] else mark for mark in plan.marks)
        other = replace(sheet, views=tuple(replace(view, marks=marks) if view is plan else view for view in sheet.views))
        assert text_near_text(other, TEXTS_APART - TOLERANCE) or text_near_line(other, OFF_LINES - TOLERANCE)


def test_no_large_rectangle_is_left_empty_beside_the_plan(drawn):
    """At most a sixteenth of the drawing space. The room of the plan does not count: its scale is the largest of the series that fits it."""
    _, _, sheet = drawn
    if sheet.size in ("A1", "A0"):  # asked for by the job, or for a pane over 3 m
        return
    plan, places = of(sheet, "PLAN"), Places.of(Paper(sheet.size))
    left, bottom, right, top = places.plan
    if any(view.name == "DETAIL Y" for view in sheet.views) or any(
        t.string == "Corners, sharp, from O" for t in texts_of(sheet.marks)
    ):
        right = places.window(1)[0] - 8.0
    grid = taken(sheet)
    grid[int(bottom) : math.ceil(top), int(left) : math.ceil(right)] = True
    area, where = largest_empty(grid)
    assert area <= (sheet.width - 30.0) * (sheet.height - 20.0) / 16.0, where
    larger = {0.02: 0.05, 0.05: 0.1, 0.1: 0.2, 0.2: 0.5, 0.5: 1.0}.get(plan.scale)
    box = bounding_box(drawn[0].curves.recess)
    rows = 2 * 10.0 + 5.0  # a row of sizes on two sides, or on one and the overall sizes on another
    if larger is not None:
        assert box.width * larger + rows > right - left or box.height * larger + rows > top - 12.0 - bottom


@pytest.mark.parametrize("name", PANES)
def test_no_rectangle_over_a_twentieth_is_left_empty_on_a_sheet(name):
    """The whole drawing space, the room round the plan too; a view counts as one with what it surrounds."""
    _, _, sheet = made(name)
    area, where = largest_empty(taken(sheet))
    assert area <= (sheet.width - 30.0) * (sheet.height - 20.0) * EMPTIER.get(name, 0.05) + 1.0, where


def test_where_a_small_plan_leaves_room_a_block_is_enlarged_to_its_true_shape():
    """Straight along its length, as high as the joint where it stands; of SW-10 the block of 50 is seen whole."""
    detail, _, sheet = made("sallow-wren SW-03")
    view = of(sheet, "DETAIL Y")
    assert {"at K2", "K2, setting chock", "recess wall", "frit, inner edge"} <= {text.string for text in texts_of(view.marks)}
    for code, mark in (("SW-03", "K2"), ("SW-10", "K1")):
        detail, _, sheet = made(f"sallow-wren {code}")
        view = of(sheet, "DETAIL Y")
        (fill,) = [each for each in view.marks if isinstance(each, Fill) and each.layer == "MATERIAL_CHOCK"]
        own = next(each for each in detail.chocks if each.mark == mark)
        a, b = max(pairwise((*fill.nodes, fill.nodes[0])), key=lambda side: math.dist(side[0][:2], side[1][:2]))
        turn = math.radians(own.angle)
        assert abs((b[0] - a[0]) * math.sin(turn) - (b[1] - a[1]) * math.cos(turn)) < 1e-6  # straight along the block
        across = [-x * math.sin(turn) + y * math.cos(turn) for x, y, _ in fill.nodes]
        assert max(across) - min(across) == pytest.approx(own.height, abs=1e-6)
    assert math.dist(a[:2], b[:2]) == pytest.approx(50.0)
    assert view.scale * 2 > of(sheet, "PLAN").scale
    assert "Y" in [text.string for text in texts_of(of(sheet, "PLAN").marks)]


@pytest.mark.parametrize(("code", "mark"), [("SW-03", "K2"), ("SW-04", "K2"), ("SW-05", "K4"), ("SW-10", "K1")])
def test_the_ring_on_the_plan_goes_round_the_block_that_is_enlarged(code, mark):
    detail, _, sheet = made(f"sallow-wren {code}")
    assert any(text.string == f"at {mark}" for text in texts_of(of(sheet, "DETAIL Y").marks))
    own = next(each for each in detail.chocks if each.mark == mark)
    plan, turn = of(sheet, "PLAN"), math.radians(own.angle)
    middle = (own.foot.x + own.height / 2 * math.sin(turn), own.foot.y - own.height / 2 * math.cos(turn))
    round_it = []
    for each in plan.marks:
        if isinstance(each, Path) and each.layer == "DIMENSIONS" and each.closed and all(bulge for _, _, bulge in each.nodes):
            (x, y), radius = np.mean([node[:2] for node in each.nodes], axis=0), math.dist(*(n[:2] for n in each.nodes[:2])) / 2
            if math.dist((x, y), middle) + own.height / 2 < radius:
                round_it.append(radius * plan.scale)
    assert len(round_it) == 1
    assert round_it[0] > 3.0


@pytest.mark.parametrize("code", ["SW-01", "SW-02", "SW-07", "SW-08", "SW-09", "SW-10"])
def test_a_leader_with_a_radius_ends_on_the_arc_of_that_radius(code):
    """Radius of an arc from its chord and bulge: chord (1 + b²) / 4 |b|."""
    seen = 0
    for view in (each for each in made(f"sallow-wren {code}")[2].views if each.name.startswith("DETAIL")):
        paths = [each for each in view.marks if isinstance(each, Path)]
        leaders = [each for each in paths if each.layer == "ITEM_LEADERS" and len(each.nodes) == 3]
        arcs = [(a, b) for each in paths for a, b in pairwise((*each.nodes, each.nodes[0])) if a[2]]
        for text in texts_of(view.marks):
            told = re.fullmatch(r"R([0-9,]+)  .+", text.string)
            if told is not None:
                place = (text.x, text.y)
                tip = min(leaders, key=lambda each: math.dist(each.nodes[1][:2], place)).nodes[0]
                radius = float(told[1].replace(",", "."))
                assert any(ends_on(tip, a, b, radius) for a, b in arcs), text.string
                seen += 1
    assert seen >= 3


def ends_on(tip: Node, a: Node, b: Node, radius: float) -> bool:
    """Whether a place lies on the arc between two nodes, and the arc has that radius as it is written."""
    chord, bulge = math.dist(a[:2], b[:2]), a[2]
    own = chord * (1 + bulge**2) / (4 * abs(bulge))
    top = ((a[0] + b[0]) / 2 + bulge * (b[1] - a[1]) / 2, (a[1] + b[1]) / 2 - bulge * (b[0] - a[0]) / 2)
    half = math.dist(top, a[:2])
    middle = (
        top[0] + ((a[0] + b[0]) / 2 - top[0]) * own / (abs(bulge) * chord / 2),
        top[1] + ((a[1] + b[1]) / 2 - top[1]) * own / (abs(bulge) * chord / 2),
    )
    return abs(own - radius) < 0.051 and abs(math.dist(tip[:2], middle) - own) < 0.02 and math.dist(tip[:2], top) < half + 0.02


def test_flags_of_the_solid_frit_stand_at_the_end_of_the_solid_and_not_of_its_fade():
    detail, check, sheet = made("sallow-wren SW-03")
    assert detail.curves.frit_fade is not None
    view = of(sheet, "SECTION A")
    (strip,) = [each for each in view.marks if isinstance(each, Fill) and each.layer == "MATERIAL_FRIT" and len(each.nodes) == 4]
    end, low = max(x for x, _, _ in strip.nodes), min(y for _, y, _ in strip.nodes)
    ends = [node for each in view.marks if isinstance(each, Path) and len(each.nodes) == 2 for node in each.nodes]
    told = [flag for flag in check.state.flags if FEATURES.get(flag.finding.name) == "frit"]
    assert len(told) == 2
    assert sum(math.dist((x, y), (end, low)) * view.scale < 0.9 for x, y, _ in ends) == len(told)


@pytest.mark.parametrize("code", ["SW-02", "SW-07", "SW-08"])
def test_every_enlarged_corner_tells_the_radii_that_it_shows(code):
    _, _, sheet = made(f"sallow-wren {code}")
    for letter in "ZY":
        words = [text.string for text in texts_of(of(sheet, f"DETAIL {letter}").marks)]
        assert [
            sum(word.endswith(line) for word in words) for line in ("recess", "glass", "bead, centre", "frit, inner edge")
        ] == [1] * 4


def test_the_other_hand_enlarges_the_corner_of_its_fellow():
    """The pair is drawn mirrored, its corners keep their names: both sheets enlarge one corner, at the side where it then lies."""
    titles = {}
    for code in ("W3-P", "W3-S"):
        detail, _, sheet = made(f"pair {code}")
        words = [text.string for text in texts_of(of(sheet, "DETAIL Z").marks)]
        (name,) = [word.split(",")[0] for word in words if re.match(r"V\d", word)]
        corner = next(each for each in detail.corners if f"V{each.number}" == name)
        titles[code] = (name, corner.bisector.x > 0)
    assert titles["W3-P"][0] == titles["W3-S"][0]
    assert titles["W3-P"][1] is not titles["W3-S"][1]


def test_flags_on_views_are_those_of_the_table_that_have_a_place(drawn):
    """Those that name a place, and those that speak of a feature of the section; less the ones whose loss is told."""
    _, check, sheet = drawn
    states = [text.string for text in texts_of(sheet.marks) if text.string in ("FAIL", "LOOK", "OPEN")]
    rows = check.state.flags[: len(states)]
    lost = {outcome.what for _, outcome in sheet.outcomes if outcome.fate is not Fate.DRAWN}
    with_place = {flag.number for flag in rows if flag.finding.at is not None or flag.finding.name in FEATURES}
    assert numbers_on_views(sheet) == with_place - {flag.number for flag in rows if f"flag {flag.number}" in lost}
    assert states == [
        {Verdict.FAIL: "FAIL", Verdict.LOOK: "LOOK", Verdict.NOT_CHECKED: "OPEN"}[flag.finding.verdict] for flag in rows
    ]
    more = len(check.state.flags) - len(rows)
    assert any(f"nd {more} more" in text.string for text in texts_of(sheet.marks)) is (more > 0)


def test_a_flag_tells_what_is_and_what_is_wanted_with_its_sign(drawn):
    _, check, sheet = drawn
    texts = [text for text in texts_of(sheet.marks) if text.layer == "TEXT"]
    for text in texts:
        if text.string in ("FAIL", "LOOK"):
            row = [other.string for other in texts if abs(other.y - text.y) < 0.01 and other.x > text.x]
            flag = next(each for each in check.state.flags if short_name(each.finding) == row[0])
            wanted = next((cell for cell in row if cell[0] in "≥≤"), None)
            if (
                flag.finding.counted and flag.finding.limit == 1
            ):  # a thing that is there or is not: words, no figure without a unit
                assert row[1:3] == ["none given", "one"] and wanted is None
            elif flag.finding.limit is not None:
                assert wanted is not None and (wanted[0] == "≥") is (flag.finding.side is Side.AT_LEAST)
                shown = float(re.search(r"[\d,]+", wanted)[0].replace(",", "."))
                assert shown == pytest.approx(flag.finding.limit, abs=0.51 if flag.finding.unit == "%" else 0.051)


def test_lines_of_the_plan_do_not_run_together(drawn):
    """What may be left out keeps 0,7 mm on paper from what counts for more, all along (ISO 128-2, second hand)."""
    detail, _, sheet = drawn
    assert not run_together(detail, sheet, OFF_LINES - TOLERANCE)


def test_lines_that_run_together_are_found():
    detail, _, sheet = made("sallow-wren SW-06")
    assert run_together(detail, sheet, 3.0)


def test_cutting_planes_stand_fifteen_apart_out_of_corner_arcs_and_carry_both_letters(drawn):
    """A worst place is cut where it is; the others keep away from it and from one another."""
    detail, _, sheet = drawn
    plan = of(sheet, "PLAN")
    cut = [view.name[-1] for view in sheet.views if "SECTION" in view.name]
    strings = Counter(text.string for text in texts_of(plan.marks) if text.layer == "SECTION_MARKS")
    assert all(strings[letter] == 2 for letter in cut)
    stations = cut_stations(detail, sheet)
    assert set(stations) == set(cut)
    for one, other in combinations(cut, 2):
        assert math.dist(stations[one].point, stations[other].point) * plan.scale >= 15.0 - TOLERANCE
    if detail.corners:
        assert all(abs(station.curvature) < 1e-9 for letter, station in stations.items() if letter != "W")


def test_every_block_has_its_distance_from_a_wall_on_the_sheet(drawn):
    detail, _, sheet = drawn
    assert not told_distances(detail, sheet)
    for mark in of(sheet, "PLAN").marks:
        if isinstance(mark, Dimension) and "glass" not in mark.text and "recess" not in mark.text:
            assert float(mark.text.replace(",", ".")) == pytest.approx(mark.measured, abs=0.26)


def test_a_distance_that_is_not_told_is_found():
    detail, _, sheet = made("sallow-wren SW-08")
    plan = of(sheet, "PLAN")
    fewer = [mark for mark in plan.marks if not (isinstance(mark, Dimension) and mark.text == "712,5")]
    other = replace(sheet, views=tuple(replace(view, marks=tuple(fewer)) if view is plan else view for view in sheet.views))
    assert told_distances(detail, other) == {"e3": ["S8"]}
    words = tuple(mark for mark in sheet.marks if "S15 248" not in getattr(mark, "string", ""))
    assert told_distances(detail, replace(sheet, marks=words)) == {
        "e6": ["S15"]
    }  # 86 stands on the opposite edge, from the same wall


@pytest.mark.parametrize("code", ["SW-01", "SW-02", "SW-07", "SW-09", "SW-10"])
def test_nothing_planned_for_the_plan_of_a_sample_is_lost(code):
    assert not [(name, o.what) for name, o in made(f"sallow-wren {code}")[2].outcomes if o.fate is not Fate.DRAWN]


def test_a_surveyed_recess_tells_its_joint_at_every_station():
    """The survey of the sample: eight places between the corners of a pane of 1002 × 701,5; the joint is how far each lies outside it."""
    _, _, sheet = made("sallow-wren SW-09")
    below, above = (332.84, 4.63), (663.56, 706.54 - 701.5)
    joints = [below[1], 3.97, 1003.68 - 1002, 1003.12 - 1002, above[1], 705.37 - 701.5, 1.18, 2.92]
    wanted = Counter(f"{joint:.1f}".replace(".", ",").removesuffix(",0") for joint in joints)
    found = Counter(text.string for text in of(sheet, "PLAN").marks if isinstance(text, Text) and text.layer == "DIMENSIONS")
    assert wanted <= found
    assert any("joint at 8 stations, least 1,1" in text.string for text in texts_of(of(sheet, "PLAN").marks))


def test_an_overlap_is_hatched_in_the_enlarged_corner_and_told():
    """Glass corner R10 in a recess corner R40, joint 6: (40 - 10)·(√2 - 1) - 6·√2 of the glass lie beyond the wall."""
    detail, _, sheet = made("sallow-wren SW-10")
    corner = of(sheet, "DETAIL Z")
    depth = 30.0 * (math.sqrt(2) - 1) - 6.0 * math.sqrt(2)
    assert f"overlap {depth:.1f}".replace(".", ",") in [text.string for text in texts_of(corner.marks)]
    hatched = [mark for mark in corner.marks if isinstance(mark, Hatch) and mark.material == "compression"]
    glass, recess = (to_polygon(outline) for outline in (detail.curves.glass, detail.curves.recess))
    quarter = glass.difference(recess).area / 4
    assert any(shapely.Polygon([n[:2] for n in mark.boundaries[0]]).area == pytest.approx(quarter, rel=0.05) for mark in hatched)


def test_squeeze_out_that_the_print_does_not_cover_is_drawn():
    words = [text.string for view in made("sallow-wren SW-02")[2].views for text in texts_of(view.marks)]
    assert any(word.startswith("squeeze-out past the frit") for word in words)
    assert not [
        w for v in made("sallow-wren SW-01")[2].views for w in (t.string for t in texts_of(v.marks)) if "squeeze-out" in w
    ]


@pytest.mark.parametrize(("code", "radius", "joint"), [("SW-03", 215.0, 5.0)])
def test_a_straight_block_on_a_curved_edge_tells_its_sagitta(code, radius, joint):
    """R - √(R² - (L/2)²) of a block of 50: the sagitta of a chord."""
    sagitta = radius - math.sqrt(radius**2 - 25.0**2)
    told = f"sagitta {sagitta:.1f} leaves {joint - sagitta:.1f}".replace(".", ",")
    assert any(told in text.string for text in texts_of(made(f"sallow-wren {code}")[2].marks))


def test_the_notes_stand_clear_of_the_title_block(drawn):
    """Two millimetres and more under the last line of the notes over it."""
    _, _, sheet = drawn
    top = max(max(y for _, y, _ in mark.nodes) for mark in sheet.marks if isinstance(mark, Path) and mark.layer == "TITLE")
    left = sheet.width - 190.0
    low = [t.y for t in texts_of(sheet.marks) if t.layer == "TEXT" and t.x >= left and t.y > top]
    assert min(low) - top >= 2.0 - TOLERANCE


def test_lettering_is_of_the_series_and_nothing_is_small(drawn):
    _, _, sheet = drawn
    allowed = {3.5, 5.0, 7.0} if sheet.size in ("A1", "A0") else {2.5, 3.5, 5.0}
    assert {text.height for view in sheet.views for text in texts_of(view.marks)} <= allowed
    assert {text.height for text in texts_of(sheet.marks) if text.layer != "TITLE"} <= allowed | {2.5, 5.0}
    assert {text.height for text in texts_of(sheet.marks) if text.layer == "TITLE"} <= {1.8, 2.5, 3.5}


@pytest.mark.parametrize("code", ON_A3)
def test_an_ordinary_pane_stands_on_a3(code):
    assert made(f"sallow-wren {code}")[2].size == "A3"
    assert made("minimal P1")[2].size == "A3"


def test_the_plan_has_a_scale_of_the_standard_and_reads(drawn):
    """1:1, 1:2, 1:5 and so on: ISO 5455, second hand."""
    detail, _, sheet = drawn
    plan = of(sheet, "PLAN")
    assert plan.scale in (1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
    box = bounding_box(detail.curves.glass)
    assert plan.scale >= 0.2 or max(box.width, box.height) * plan.scale >= 150.0


def test_titles_stand_at_the_same_places_on_every_sheet_of_a_size():
    places: dict[tuple[str, str], list[tuple[float, float]]] = {}
    for name in PANES:
        sheet = made(name)[2]
        for view in sheet.views:
            box = title_of(view)
            if view.name != "SECTION W" or "SECTION B" not in [each.name for each in sheet.views]:
                places.setdefault((sheet.size, view.name), []).append((box[0], box[1]))
    for spots in places.values():
        for index in (0, 1):
            assert max(spot[index] for spot in spots) - min(spot[index] for spot in spots) <= 5.0 + TOLERANCE


def test_titles_of_one_strip_stand_on_one_base_line(drawn):
    _, _, sheet = drawn
    low = {round(title_of(view)[1], 2) for view in sheet.views if "SECTION" in view.name}
    high = {round(title_of(view)[1], 2) for view in sheet.views if view.name == "PLAN"}
    assert len(low) == len(high) == 1


def numbers_on_views(sheet: Sheet) -> set[int]:
    return {
        int(text.string)
        for view in sheet.views
        for text in texts_of(view.marks)
        if text.layer in ("FLAGS", "FLAG_FIGURES") and text.string.isdigit()
    }


def flag_leaders(view: View) -> list[tuple[str, shapely.LineString]]:
    """Number of each flag of a view, with the line from its triangle to the place it speaks of, on paper."""
    triangles = [
        shapely.Polygon([on_paper(node[:2], view) for node in mark.nodes])
        for mark in view.marks
        if isinstance(mark, Path) and mark.layer == "FLAGS" and mark.closed and len(mark.nodes) == 3
    ]
    lines = [
        shapely.LineString([on_paper(node[:2], view) for node in mark.nodes])
        for mark in view.marks
        if isinstance(mark, Path) and mark.layer == "ITEM_LEADERS" and not mark.closed and len(mark.nodes) == 2
    ]
    numbers = [text for text in texts_of(view.marks) if text.layer in ("FLAGS", "FLAG_FIGURES") and text.string.isdigit()]
    found = []
    for triangle in triangles:
        inside = [text.string for text in numbers if triangle.distance(shapely.Point(on_paper((text.x, text.y), view))) < 0.5]
        (own,) = inside
        starts = [line for line in lines if triangle.distance(shapely.Point(line.coords[0])) < 0.01]
        found += [(own, line) for line in starts if all(each.distance(shapely.Point(line.coords[1])) > 0.5 for each in triangles)]
    return found


def flags_close_by(sheet: Sheet) -> list[tuple[str, str, str]]:
    """Flags whose leader passes within 1.5 mm of the place that another one's points to, unless both point to one place."""
    close = []
    for view in sheet.views:
        for (one, a), (other, b) in combinations(flag_leaders(view), 2):
            end, beside = shapely.Point(a.coords[1]), shapely.Point(b.coords[1])
            if end.distance(beside) > 1e-6 and min(a.distance(beside), b.distance(end)) < 1.5 - TOLERANCE:
                close.append((view.name, one, other))
    return close


def test_the_leader_of_a_flag_keeps_off_the_place_that_another_points_to(drawn):
    """One of SW-04 passed 0.28 mm by the end of another: nobody saw which of the two spoke of the frit."""
    assert not flags_close_by(drawn[2])


def test_a_leader_that_passes_by_anothers_place_is_found():
    """The measure itself: the first flag's leader of SW-04 ends beside the middle of the second one's."""
    sheet = made("sallow-wren SW-04")[2]
    view = of(sheet, "SECTION W")
    (_, first), (_, second) = flag_leaders(view)[:2]
    beside = second.interpolate(0.5, normalized=True).x + 0.28, second.interpolate(0.5, normalized=True).y
    end = tuple(view.window[at] + (beside[at] - view.paper[at]) / view.scale for at in (0, 1))
    marks = tuple(
        replace(mark, nodes=(mark.nodes[0], (*end, 0.0)))
        if isinstance(mark, Path)
        and len(mark.nodes) == 2
        and math.dist(on_paper(mark.nodes[1][:2], view), first.coords[1]) < 1e-6
        else mark
        for mark in view.marks
    )
    other = replace(sheet, views=tuple(replace(view, marks=marks) if each is view else each for each in sheet.views))
    assert [name for name, _, _ in flags_close_by(other)] == ["SECTION W"]


def test_nothing_in_a_table_is_cut_off(drawn):
    _, _, sheet = drawn
    assert not [text.string for text in texts_of(sheet.marks) if text.string.endswith("…")]


def test_no_figure_is_negative(drawn):
    _, _, sheet = drawn
    views = [text.string for view in sheet.views for text in texts_of(view.marks)]
    flags = [text.string for text in texts_of(sheet.marks) if text.layer == "TEXT"]
    assert not [
        string for string in (*views, *flags) if re.search(r"[−-]\d", string) and not re.search(r"\(−?\d|ISO|\d[−-]\d", string)
    ]


def test_the_first_section_has_fourteen_figures_at_most_and_the_others_six(drawn):
    _, _, sheet = drawn
    for view in sheet.views:
        if "SECTION" in view.name:
            sizes = [mark for mark in view.marks if isinstance(mark, Dimension)]
            assert len(sizes) <= (14 if view.name == "SECTION A" else 6)


def test_dimension_lines_over_a_section_stand_ten_and_then_seven_apart(drawn):
    _, _, sheet = drawn
    view = of(sheet, "SECTION A")
    times = 1.4 if sheet.size in ("A1", "A0") else 1.0
    low = max(node[1] for mark in view.marks if isinstance(mark, Path) and mark.layer == "CUT_OUTLINE" for node in mark.nodes)
    levels = sorted(
        {round(m.on_line[1], 4) for m in view.marks if isinstance(m, Dimension) and m.angle == 0 and m.on_line[1] > low}
    )
    assert (levels[0] - low) * view.scale == pytest.approx(10.0 * times, abs=0.01)
    assert all((b - a) * view.scale == pytest.approx(7.0 * times, abs=0.01) for a, b in pairwise(levels))


def test_no_extension_line_and_no_leader_runs_through_a_dimension_line(drawn):
    _, _, sheet = drawn
    assert not crossed_dimension_lines(sheet, 0.3)


def test_an_extension_line_through_a_dimension_line_is_found():
    """The measure itself: SW-09 has its widths behind the row of its sill; their extension lines are broken there."""
    _, _, sheet = made("sallow-wren SW-09")
    plan = of(sheet, "PLAN")
    whole = [mark for mark in plan.marks if isinstance(mark, Dimension) and mark.text == "1002 glass, as made"]
    (width,) = whole
    ends = [part.nodes for part in width.parts if isinstance(part, Path) and part.nodes[0][0] == pytest.approx(part.nodes[1][0])]
    assert len(ends) > 2
    xs = {round(nodes[0][0], 6) for nodes in ends}
    joined = tuple(
        Path("DIMENSIONS", ((x, max(n[1] for e in ends for n in e), 0.0), (x, min(n[1] for e in ends for n in e), 0.0)))
        for x in xs
    )
    marks = tuple(replace(mark, parts=(*mark.parts, *joined)) if mark is width else mark for mark in plan.marks)
    other = replace(sheet, views=tuple(replace(view, marks=marks) if view is plan else view for view in sheet.views))
    assert crossed_dimension_lines(other, 0.3)


def test_a_row_of_running_sizes_and_an_overall_size_have_their_figures_on_two_levels(drawn):
    """Where both stand under a plan or over it: a text height and the distance of two texts between the base lines of their figures."""
    _, _, sheet = drawn
    plan = of(sheet, "PLAN")
    times = 1.4 if sheet.size in ("A1", "A0") else 1.0
    level = [m for m in plan.marks if isinstance(m, Dimension) and m.angle == 0]
    running = [part.y for m in level if re.fullmatch(r"[\d,]+", m.text) for part in m.parts if isinstance(part, Text)]
    overall = [part.y for m in level if not re.fullmatch(r"[\d,]+", m.text) for part in m.parts if isinstance(part, Text)]
    assert all(abs(a - b) * plan.scale >= (2.5 + TEXTS_APART) * times - TOLERANCE for a in running for b in overall)


def test_a_joint_of_wide_tolerance_is_written_as_limits(drawn):
    """Over two fifths of the joint, or where half millimetres, in which a size of ±1 and more stands, would make it another joint."""
    detail, _, sheet = drawn
    size, width = detail.sizes.joint_width, detail.sections[0].joint_width
    strings = [text.string for text in texts_of(of(sheet, "SECTION A").marks)]
    off = size.tolerance or 0.0
    falsified = off >= 1.0 and abs(2 * width - round(2 * width)) / 2 > 0.051
    assert any(" to " in string for string in strings) is (width > 0 and (off > 0.4 * width or falsified))


@pytest.mark.parametrize("name", PANES)
def test_plan_layers_hold_the_outlines_of_the_plan_and_nothing_else(name):
    _, _, sheet = made(name)
    own = {PANES[name][0].layers.get(layer, layer) for layer in ("RECESS", "GLASS", "FRIT_INNER", "BEAD_CENTRE")}
    found = Counter(mark.layer for view in sheet.views for mark in view.marks if mark.layer in own)
    assert found == dict.fromkeys(own, 1)
    assert not [mark for mark in sheet.marks if mark.layer in own]
    assert all(mark.closed for mark in of(sheet, "PLAN").marks if mark.layer in own)


def test_the_frit_is_a_black_strip_a_millimetre_thick(drawn):
    _, _, sheet = drawn
    for view in sheet.views:
        if "SECTION" in view.name:
            strips = [m for m in view.marks if isinstance(m, Fill) and m.layer == "MATERIAL_FRIT" and len(m.nodes) == 4]
            (strip,) = strips
            heights = [z for _, z, _ in strip.nodes]
            assert (max(heights) - min(heights)) * view.scale == pytest.approx(1.0, abs=1e-6)
            assert next(layer.ink for layer in sheet.layers if layer.name == "MATERIAL_FRIT") == "#000000"
    words = [text.string for view in sheet.views for text in texts_of(view.marks)]
    assert "frit strip not to scale" in " ".join(words)


def test_item_numbers_stand_in_one_row_ascending_and_no_leader_crosses_another(drawn):
    _, _, sheet = drawn
    names = [view.name for view in sheet.views]
    view = of(sheet, "SECTION B" if "SECTION B" in names else "SECTION W")
    circles = [m for m in view.marks if isinstance(m, Path) and m.layer == "ITEM_LEADERS" and m.closed and len(m.nodes) == 2]
    middles = [((m.nodes[0][0] + m.nodes[1][0]) / 2, m.nodes[0][1]) for m in circles]
    row = [middle for middle in middles if abs(middle[1] - middles[0][1]) < 1e-6]
    assert len(row) >= 4
    assert all(a[0] < b[0] for a, b in pairwise(row))
    leaders = [
        s for m in view.marks if isinstance(m, Path) and m.layer == "ITEM_LEADERS" and not m.closed for s in straights_of((m,))
    ]
    assert all(distance_of(one, other) > 0.0 for one, other in combinations(leaders[: len(row)], 2))


def test_the_origin_stands_on_the_plan_and_is_named(drawn):
    detail, _, sheet = drawn
    texts = [text.string for text in texts_of(of(sheet, "PLAN").marks)]
    lost = [o.what for _, o in sheet.outcomes if o.fate is not Fate.DRAWN]
    assert "O" in texts or "origin" in lost
    assert detail.origin.name.split()[0] in " ".join(text.string for text in texts_of(sheet.marks))


def test_a_pane_that_is_alike_on_both_sides_has_its_axis():
    for name in ("sallow-wren SW-01", "round 180 P1", "oval P1"):
        detail, _, sheet = made(name)
        middle = bounding_box(detail.curves.glass).middle
        axes = [m for m in of(sheet, "PLAN").marks if isinstance(m, Path) and m.layer == "CENTRE_LINES"]
        assert sorted(("x" if m.nodes[0][0] == m.nodes[1][0] == pytest.approx(middle.x) else "y") for m in axes) == ["x", "y"]


def test_every_block_of_the_pane_has_one_end(drawn):
    detail, _, sheet = drawn
    ends = Counter(outcome.what for name, outcome in sheet.outcomes if name == "PLAN")
    for block in (*detail.chocks, *detail.spacers):
        assert ends[block.mark] == 1
    strings = Counter(text.string for text in texts_of(of(sheet, "PLAN").marks))
    for name, outcome in sheet.outcomes:
        if name == "PLAN" and outcome.fate is Fate.DRAWN and outcome.what[0] in "KS" and outcome.what[1:].isdigit():
            assert strings[outcome.what] == 1


def test_not_for_manufacture_is_told_with_its_reason(drawn):
    _, check, sheet = drawn
    strings = [text.string for text in texts_of(sheet.marks)]
    assert ("NOT FOR MANUFACTURE" in strings) is bool(check.state.not_for_manufacture)


def test_the_row_of_blocks_begins_ten_from_the_recess():
    """Paper mm from the recess where its blocks stand to the line of the row: of the surveyed SW-09 too, whose box is low."""
    for code in ("SW-01", "SW-06", "SW-09"):
        detail, _, sheet = made(f"sallow-wren {code}")
        plan = of(sheet, "PLAN")
        foot = bounding_box(detail.curves.recess).bottom
        running = [each for each in plan.marks if isinstance(each, Dimension) and each.angle == 0.0 and "glass" not in each.text]
        level = max(each.on_line[1] for each in running if each.on_line[1] < foot)
        assert (foot - level) * plan.scale >= 10.0 - 0.6, code
