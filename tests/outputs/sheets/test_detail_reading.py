"""The detail sheet read as a checker reads it: nothing lies on another line, and all that is drawn is named.

What is asked here is office practice: common practice, no source. Measured on the finished sheet, on paper.
"""

from __future__ import annotations

import math
import re
from itertools import combinations, pairwise

import pytest
import shapely
from measured import on_paper, text_near_line
from test_detail_rules import PANES, made, of

from geometry.detail.build import build_detail
from geometry.detail.edges import edges_of
from geometry.findings.check import check_pane
from geometry.job.reading import job_of
from geometry.ledger.finding import Verdict
from outputs.drawing.corner_view import radii_of
from outputs.drawing.plan_rows import is_rectangular
from outputs.record.first_page import contents_of, state_section
from outputs.sheet.boxes import texts_of
from outputs.sheet.entities import Dimension, Fill, Path, Text
from outputs.sheets.contents import Contents
from outputs.sheets.detail_choice import first_title
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.detail_tables import part_rows
from outputs.sheets.words import governing_note

SAMPLES = [name for name in PANES if name.startswith("sallow-wren")]
BESIDE = 0.9  # paper mm between two lines that run side by side


@pytest.fixture(params=PANES)
def drawn(request):
    return made(request.param)


def lines_of(marks):
    """Every straight line of two places in the marks, those of dimensions too."""
    for mark in marks:
        if isinstance(mark, Dimension):
            yield from lines_of(mark.parts)
        elif isinstance(mark, Path) and len(mark.nodes) == 2 and not mark.closed:
            yield mark.layer, (mark.nodes[0][:2], mark.nodes[1][:2])


def along(one, other):
    """Whether two lines run side by side, to three degrees."""
    (a, b), (c, d) = one, other
    cross = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
    return abs(cross) < math.sin(math.radians(3.0)) * math.dist(a, b) * math.dist(c, d)


def test_the_end_of_a_cutting_plane_lies_on_no_extension_line(drawn):
    """A section lies within its spacer: where that is shorter on paper than the distance wanted, as on a plan of 1:20, it cannot stand off."""
    detail, _, sheet = drawn
    plan = of(sheet, "PLAN")
    if 0.4 * detail.sizes.spacer_length.value * plan.scale < BESIDE:
        return
    lines = list(lines_of(plan.marks))
    ends = [line for layer, line in lines if layer == "SECTION_MARKS"]
    assert len(ends) >= 2
    for end in ends:
        for layer, line in lines:
            if layer == "DIMENSIONS" and along(end, line):
                far = shapely.LineString(end).distance(shapely.LineString(line)) * plan.scale
                assert far >= BESIDE, (end, line)


def numbers_in_balloons(view):
    """The numbers that stand in a circle of the leaders' layer."""
    for mark in view.marks:
        if isinstance(mark, Path) and mark.layer == "ITEM_LEADERS" and mark.closed and len(mark.nodes) == 2:
            middle = ((mark.nodes[0][0] + mark.nodes[1][0]) / 2, mark.nodes[0][1])
            yield next(text.string for text in texts_of(view.marks) if math.dist((text.x, text.y), middle) < 4.0 / view.scale)


def test_every_part_of_the_list_has_its_balloon_on_a_view(drawn):
    """Those that are not there have the quantity 0; a part that no section cuts has it on the plan."""
    detail, check, sheet = drawn
    numbers = sorted(number for view in sheet.views for number in numbers_in_balloons(view))
    wanted = [row[0] for row in part_rows(detail, check) if row[1] != "0"]
    assert numbers == sorted(wanted)


def test_the_first_section_tells_where_it_is_cut(drawn):
    detail, _, sheet = drawn
    assert first_title(detail) in [text.string for text in texts_of(of(sheet, "SECTION A").marks)]


def test_the_key_names_the_lines_that_only_some_panes_have(drawn):
    """The end of the solid frit, and the edge of the bead as it is pressed where the print does not cover it."""
    detail, check, sheet = drawn
    key = [text.string for text in texts_of(sheet.marks)]
    layers = {mark.layer for view in sheet.views for mark in view.marks}
    assert ("frit, solid ends" in key) is bool(layers & {"FRIT_FADE", "DETAIL_FADE"})
    assert bool(layers & {"FRIT_FADE", "DETAIL_FADE"}) is (detail.curves.frit_fade is not None)
    assert ("frit, starts" in key) is ("FRIT_OUTER" in layers)
    rows = sum(1 for text in key if text in ("FAIL", "LOOK", "OPEN"))
    uncovered = [f for f in check.state.flags[:rows] if f.finding.name == "frit covers the bead and its squeeze-out"]
    assert ("squeeze-out, edge" in key) is bool(uncovered)


def test_every_figure_of_the_flags_has_its_unit(drawn):
    _, check, sheet = drawn
    texts = [text for text in texts_of(sheet.marks) if text.layer == "TEXT"]
    state_cells = [text for text in texts if text.string in ("FAIL", "LOOK", "OPEN")]
    if state_cells:
        assert {"is", "wants", "unit"} <= {text.string for text in texts}
    for cell, flag in zip(sorted(state_cells, key=lambda text: -text.y), check.state.flags, strict=False):
        finding = flag.finding
        row = [text.string for text in texts if abs(text.y - cell.y) < 0.01 and text.x > cell.x]
        if finding.verdict is not Verdict.NOT_CHECKED and finding.value is not None and not finding.counted and finding.unit:
            assert finding.unit in row, finding.name


@pytest.mark.parametrize("name", SAMPLES)
def test_the_name_of_an_edge_stands_close_to_it(name):
    """Nearer than 10 mm on paper to the inner edge of its frit, or outside it; with its length."""
    detail, _, sheet = made(name)
    plan = of(sheet, "PLAN")
    edges = {edge.name: edge for edge in edges_of(detail.curves.glass)}
    for text in (mark for mark in plan.marks if isinstance(mark, Text)):
        own = text.string.split(" ")[0]
        if own in edges and text.layer == "TEXT":
            assert "(" in text.string, text.string
            middle = next(place for edge, place, _ in detail.edge_middles if edge == own)
            angle = math.radians(next(turn for edge, _, turn in detail.edge_middles if edge == own))
            off = abs(-(text.x - middle.x) * math.sin(angle) + (text.y - middle.y) * math.cos(angle)) * plan.scale
            band = detail.sizes.frit_width.value * plan.scale
            assert off <= band + 10.0, text.string


def test_no_leader_of_an_enlarged_corner_runs_through_the_tip_of_another(drawn):
    for view in (each for each in drawn[2].views if each.name.startswith("DETAIL")):
        leaders = [m for m in view.marks if isinstance(m, Path) and m.layer == "ITEM_LEADERS" and not m.closed]
        for one, other in combinations(leaders, 2):
            for a, b in ((one, other), (other, one)):
                tip = shapely.Point(on_paper(a.nodes[0][:2], view))
                lines = [shapely.LineString([on_paper(p[:2], view), on_paper(q[:2], view)]) for p, q in pairwise(b.nodes)]
                ends = [shapely.Point(on_paper(node[:2], view)) for node in b.nodes]
                if min(tip.distance(end) for end in ends) > 1.0:  # flags of one place share its tip
                    assert min(tip.distance(line) for line in lines) > 0.5, view.name


def test_leaders_to_a_re_entrant_corner_are_short():
    """The window lies on the side of its legs; each leader meets its arc on the side where its name stands."""
    _, _, sheet = made("sallow-wren SW-08")
    view = of(sheet, "DETAIL Z")
    leaders = [m for m in view.marks if isinstance(m, Path) and m.layer == "ITEM_LEADERS" and len(m.nodes) == 3]
    assert len(leaders) == 4
    assert all(math.dist(*(node[:2] for node in mark.nodes[:2])) * view.scale <= 52.0 for mark in leaders)
    assert {"1", "4"} <= {text.string for text in texts_of(view.marks)}


THIN = """[[pane]]
code = "T1"
frame = "steel"
rake = -10
glass = { plies = [6] }
outline = { rectangle = [459, 448], radius = 80 }
pressure = { outward = 5, inward = 15 }
recess = { outline = { rectangle = [481.0, 464.0], radius = 30 } }
"""


def test_the_thickness_of_thin_glass_keeps_off_the_figure_of_a_thin_bond():
    """Both stand beside the section at 1:1: the tail of the one ran through the figure of the other."""
    job = job_of(THIN)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    sheet = detail_of(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False)))
    assert not text_near_line(sheet, 0.68)


def leaders_of(view):
    """The straight leaders of balloons and flags of a view."""
    return [shapely.LineString(ends) for layer, ends in lines_of(view.marks) if layer == "ITEM_LEADERS"]


@pytest.mark.parametrize("name", SAMPLES)
def test_no_leader_of_a_section_runs_through_the_dot_of_another(name):
    """A leader that passes a dot reads as one that ends there; those that end on the same thing meet at their ends."""
    _, _, sheet = made(name)
    for view in sheet.views:
        if not view.name.startswith("SECTION"):
            continue
        fills = [mark for mark in view.marks if isinstance(mark, Fill) and mark.layer == "ITEM_LEADERS"]
        dots = [shapely.LineString([node[:2] for node in mark.nodes]).centroid for mark in fills]  # a circle as two half arcs
        assert dots
        for dot in dots:
            for leader in leaders_of(view):
                if dot.distance(shapely.Point(leader.coords[-1])) * view.scale > BESIDE:
                    assert leader.distance(dot) * view.scale > 0.6, (view.name, dot.wkt)


@pytest.mark.parametrize("name", SAMPLES)
def test_cover_is_what_the_figures_beside_it_leave(name):
    """Joint and print less the landing, as a reader of the sheet works it out: SW-04 once had 7 + 36 - 40 and a cover of 2,8."""
    detail, _, sheet = made(name)
    texts = [mark.text for mark in of(sheet, "SECTION A").marks if isinstance(mark, Dimension)]

    def told(*words):
        """The figures of the dimensions that carry one of the words."""
        return [float(text.split()[0].replace(",", ".")) for text in texts if text.split()[-1] in words]

    cover, print_width, landing = told("cover"), told("frit", "fade"), told("landing")
    if cover:
        joint = detail.sections[0].joint_width
        assert cover[0] == pytest.approx(joint + print_width[0] - landing[0], abs=0.051)


def test_the_key_of_lines_stands_clear_of_the_flags_under_it(drawn):
    """From the last name of the key to the title under it there is at least the height of a capital."""
    _, _, sheet = drawn
    texts = [mark for mark in sheet.marks if isinstance(mark, Text)]
    title = next((mark for mark in texts if mark.string == "Flags"), None)
    if title is None:
        return
    names = ("squeeze-out, edge", "frit, solid ends", "frit, starts", "landing, end")
    over = [mark.y for mark in texts if mark.string in names and mark.x >= title.x]
    if (key := next(mark for mark in texts if mark.string == "Lines")).x == title.x and key.y > title.y:  # it may stand elsewhere
        assert min(over) - (title.y + title.height) > 0.8 * title.height


def test_corners_of_a_surveyed_recess_are_not_called_alike():
    """Four sharp corners that lie otherwise to the glass each: 7,15 and 3,79 at V1 of the survey, 2,56 and 7,7 at V3."""
    _, _, sheet = made("sallow-wren SW-09")
    words = [text.string for view in sheet.views for text in texts_of(view.marks)]
    assert "V3; glass of all 4 alike" in words
    assert not any("corners alike" in each for each in words)


def test_a_place_reads_the_same_in_the_flags_and_in_the_title_of_its_section():
    """A worst section by both coordinates: the flag of the finding that it is cut for has the same ones, in whole millimetres."""
    _, _, sheet = made("sallow-wren SW-04")
    (title,) = [text.string for view in sheet.views for text in texts_of(view.marks) if text.string.startswith("at X ")]
    x, y = title.removeprefix("at X ").split(", Y ")
    assert f"{x}; {y}" in {text.string for text in texts_of(sheet.marks)}


@pytest.mark.parametrize("code", ["SW-06", "SW-08", "SW-01"])
def test_names_of_a_chock_and_a_spacer_beside_it_stand_in_the_order_of_their_places(code):
    """At the sill of SW-06 the spacer stands at 560 and the chock at 570,5: who reads names over figures must not take one for the other."""
    detail, _, sheet = made(f"sallow-wren {code}")
    plan = next(view for view in sheet.views if view.name == "PLAN")
    names = {text.string: text.x for text in texts_of(plan.marks) if text.layer == "TEXT"}
    seen = 0
    for chock in detail.chocks:
        for spacer in detail.spacers:
            away = spacer.centre.x - chock.foot.x
            level = abs(math.sin(math.radians(chock.angle))) < 1e-6
            if level and 0.25 < abs(away) < 7.0 / plan.scale and abs(spacer.centre.y - chock.foot.y) < 7.0 / plan.scale:
                assert (names[spacer.mark] > names[chock.mark]) is (away > 0.0), (chock.mark, spacer.mark)
                seen += 1
    assert seen or code == "SW-01"


def test_radii_of_corners_without_a_view_stand_in_the_title_of_the_first(drawn):
    """Of SW-06 two corners have R240 in the glass and two R120, and there is room for one view."""
    detail, _, sheet = drawn
    if not is_rectangular(detail) or not detail.corners:
        return
    words = " ".join(text.string for view in sheet.views if view.name != "PLAN" for text in texts_of(view.marks))
    for corner in detail.corners:
        glass, recess = (radius or "sharp" for radius, _, _ in radii_of(detail, corner)[1::-1])
        assert glass in words and recess in words, corner.number


def test_heights_of_chocks_that_differ_are_named():
    """SW-09, by its survey: 4,43 of joint at K1, 3,93 at K2."""
    _, _, sheet = made("sallow-wren SW-09")
    assert "83 × 10 × 4,4 (K1) / 3,9 (K2)" in [mark.string for mark in sheet.marks if isinstance(mark, Text)]


def test_a_note_without_a_line_is_an_outcome_and_stands_in_the_record():
    job = PANES["sallow-wren SW-06"][0]
    (note,) = governing_note(job.vessel.hull_length)
    for name in SAMPLES:
        _, check, sheet = made(name)
        on_sheet = " ".join(mark.string for mark in sheet.marks if isinstance(mark, Text))
        lost = [outcome.what for view, outcome in sheet.outcomes if view == "NOTES"]
        assert (note.split(" speaks")[0] in on_sheet) is (f"note: {note}" not in lost), name
    _, check, _ = made("sallow-wren SW-06")
    assert "ISO 12216 speaks of small craft" in str(state_section(contents_of(job, check), check))


def test_the_title_of_a_corner_lists_few_of_those_alike_and_counts_more():
    """A polygon of two hundred points on an oval: as many names as it has corners would run off every sheet, and it was refused."""
    turns = [math.tau * index / 200 for index in range(200)]
    places = ", ".join(f"[{1500 + 1500 * math.cos(turn):.3f}, {900 + 900 * math.sin(turn):.3f}]" for turn in turns)
    job = job_of(f'[[pane]]\ncode = "X"\nframe = "aluminium"\nglass = {{ plies = [12] }}\noutline = {{ polygon = [{places}] }}\n')
    detail = build_detail(job, job.panes[0])
    sheet = detail_of(Contents(job, job.panes[0], detail, check_pane(job, job.panes[0], detail, plate=False)))
    titles = [text.string for text in texts_of(of(sheet, "DETAIL Z").marks) if text.string.endswith(" alike")]
    assert len(titles) == 1
    assert re.fullmatch(r"V\d+, \d+(,\d)?°; \d+ more alike", titles[0]), titles
