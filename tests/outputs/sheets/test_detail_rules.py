"""The detail sheet held against the rules of the drawing office, over every sample pane and odd panes: what can be counted is counted.

Distances between texts and to lines, spacings of dimension lines and the like are office practice: common practice, no source. What is
measured here is measured on the finished sheet, on paper, by the boxes of its texts and the strokes of its marks.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.ledger.finding import Verdict
from geometry.outline import bounding_box, distance_from, nearest_station
from outputs.sheet.boxes import box_of_text, texts_of
from outputs.sheet.entities import Dimension, Fill, Path
from outputs.sheet.keep_clear import crosses, distance_of, straights_of
from outputs.sheet.outcomes import Fate
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Sheet, Text, View

ROOT = File(__file__).parents[3]
HEAD = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [8] }\n'
ODD = {
    "L": "outline = { polygon = [[0, 0], [1200, 0], [1200, 400], [700, 400], [700, 900], [0, 900]], radius = 40 }",
    "triangle": "outline = { polygon = [[0, 0], [900, 0], [300, 700]], radius = 30 }",
    "kite": "outline = { polygon = [[400, 0], [800, 500], [400, 800], [0, 500]], radius = 30 }",
    "round 180": "outline = { circle = 180 }",
    "strip 3000": "outline = { rectangle = [3000, 300], radius = 20 }",
    "oval": "outline = { ellipse = [900, 500] }",
    "thick laminate": "outline = { rectangle = [1000, 600], radius = 50 }",
}
JOBS = {
    **{
        name: job_of((HEAD.replace("[8] }", "[12, 12, 12], interlayers = [1.52, 1.52] }") if "laminate" in name else HEAD) + text)
        for name, text in ODD.items()
    },
    **{path.stem: read_job(path) for path in sorted((ROOT / "samples").glob("*.toml")) if path.stem != "office"},
}
PANES = {f"{name} {pane.code}": (job, pane) for name, job in JOBS.items() for pane in job.panes}
ON_A3 = ("SW-01", "SW-03", "SW-04", "SW-05", "SW-10")
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


def on_paper(box: Box, view: View) -> Box:
    (x, y), (left, bottom), k = view.paper, view.window[:2], view.scale
    return x + (box[0] - left) * k, y + (box[1] - bottom) * k, x + (box[2] - left) * k, y + (box[3] - bottom) * k


def lettered(view: View) -> list[tuple[Text, Box]]:
    return [(text, on_paper(box_of_text(text, view.scale), view)) for text in texts_of(view.marks)]


def apart(one: Box, other: Box) -> float:
    return math.hypot(max(one[0] - other[2], other[0] - one[2], 0.0), max(one[1] - other[3], other[1] - one[3], 0.0))


def of(sheet: Sheet, name: str) -> View:
    return next(view for view in sheet.views if view.name == name)


def title_of(view: View) -> tuple[float, float]:
    """Where the base line of a view's title begins, on paper."""
    letters = {"PLAN": "PLAN"}.get(view.name) or (f"{view.name[-1]}-{view.name[-1]}" if "SECTION" in view.name else view.name[-1])
    title = max((text for text in texts_of(view.marks) if text.string == letters), key=lambda text: text.y)
    return on_paper((title.x, title.y, title.x, title.y), view)[:2]


def test_no_text_is_nearer_to_another_than_one_and_a_half(drawn):
    _, _, sheet = drawn
    texts = [each for view in sheet.views for each in lettered(view) if each[0].rotation % 90 == 0]
    near = [
        (one.string, other.string) for (one, a), (other, b) in combinations(texts, 2) if apart(a, b) < TEXTS_APART - TOLERANCE
    ]
    assert not near


def test_no_line_runs_through_a_text(drawn):
    _, _, sheet = drawn
    hits = []
    for view in sheet.views:
        strokes = [
            stroke
            for mark in view.marks
            if not (isinstance(mark, Fill) and mark.layer == "FLAGS")
            for stroke in straights_of((mark,))
        ]
        for text in texts_of(view.marks):
            if text.layer == "FLAG_FIGURES" or text.rotation % 90:
                continue
            box = box_of_text(text, view.scale)
            if any(crosses(box, stroke) for stroke in strokes):
                hits.append((view.name, text.string))
    assert not hits


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


def test_flags_on_views_are_those_of_the_table_that_have_a_place(drawn):
    _, check, sheet = drawn
    listed = [t.string for t in texts_of(sheet.marks)]
    rows = check.state.flags[: sum(t in ("FAIL", "LOOK", "OPEN") for t in listed)]
    shown, lost = numbers_on_views(sheet), {o.what for _, o in sheet.outcomes if o.fate is not Fate.DRAWN}
    assert shown <= {flag.number for flag in rows}
    for flag in rows:
        if flag.finding.at is not None:
            assert flag.number in shown or f"flag {flag.number}" in lost
    listed = [text.string for text in texts_of(sheet.marks)]
    assert [state for state in listed if state in ("FAIL", "LOOK", "OPEN")] == [
        {Verdict.FAIL: "FAIL", Verdict.LOOK: "LOOK", Verdict.NOT_CHECKED: "OPEN"}[flag.finding.verdict] for flag in rows
    ]
    more = len(check.state.flags) - len(rows)
    assert any(f"nd {more} more" in text for text in listed) is (more > 0)


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


def test_a_joint_of_wide_tolerance_is_written_as_limits(drawn):
    detail, _, sheet = drawn
    size, width = detail.sizes.joint_width, detail.sections[0].joint_width
    strings = [text.string for text in texts_of(of(sheet, "SECTION A").marks)]
    assert any(" to " in string for string in strings) is (width > 0 and (size.tolerance or 0.0) > 0.4 * width)


def test_lines_of_the_plan_do_not_run_together(drawn):
    """The end of the landing and the edges of the bead keep 0,7 mm on paper from the lines that count for more (ISO 128-2, second hand)."""
    detail, _, sheet = drawn
    plan = of(sheet, "PLAN")
    for mark in plan.marks:
        if isinstance(mark, Path) and mark.layer in ("SIGHT_LINE", "BEAD_EDGE"):
            for start, end in pairwise(mark.nodes):
                if start[2] == 0 and math.dist(start[:2], end[:2]) * plan.scale > 1.0:
                    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
                    point = nearest_station(detail.curves.glass, type(detail.centroid)(*middle)).point.__class__(*middle)
                    assert distance_from(detail.curves.frit_inner, point) * plan.scale >= 0.5
    band = detail.sizes.bond_width.value * plan.scale
    assert any(mark.layer == "BEAD_EDGE" for mark in plan.marks) is (band >= 2.5) or band >= 2.5


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


def test_cutting_planes_stand_fifteen_apart_and_carry_both_letters(drawn):
    _, _, sheet = drawn
    plan = of(sheet, "PLAN")
    cut = [view.name[-1] for view in sheet.views if "SECTION" in view.name]
    strings = Counter(text.string for text in texts_of(plan.marks) if text.layer == "SECTION_MARKS")
    lost = [o.what for name, o in sheet.outcomes if name == "PLAN" and o.fate is not Fate.DRAWN]
    for letter in cut:
        assert strings[letter] + lost.count(f"letter {letter} of a cutting plane") == 2


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


def test_blocks_are_dimensioned_from_a_wall_of_the_recess(drawn):
    _, _, sheet = drawn
    plan = of(sheet, "PLAN")
    running = [m for m in plan.marks if isinstance(m, Dimension) and "glass" not in m.text and "recess" not in m.text]
    for mark in running:
        assert float(mark.text.replace(",", ".")) == pytest.approx(mark.measured, abs=0.26)
        assert FIGURE.search(mark.text)


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
