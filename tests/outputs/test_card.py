"""The fitter's card: nothing lies on anything, it reads at arm's length in black alone, the glass is turned over and its lettering is not.

Sizes of lettering and the test in black and white are our own thresholds (lettering 3.5 mm and more, key figures 10 mm, at 150 dpi a line keeps
95 % of its length). The figures of SW-01 and SW-06 were worked out by hand for the invented vessel.
"""

from __future__ import annotations

import importlib.util
import io
import math
import re
from functools import cache
from itertools import combinations
from pathlib import Path as File

import pytest
import shapely

from geometry.detail.block_rows import block_rows
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.ledger.finding import Verdict
from geometry.outline import bounding_box, perimeter
from geometry.recorded.record_fields import record_fields
from geometry.workings.time_plan import StepKind, clock
from outputs.documents import document_files
from outputs.drawing.card_facts import facts_of, rounded_distances
from outputs.drawing.card_fit import Fit
from outputs.drawing.card_hand import LAYERS, OFF_LINE, SMALL
from outputs.drawing.card_head import DO_NOT_FIT
from outputs.drawing.card_readings import FIELDS
from outputs.drawing.card_spacers import height_in_words
from outputs.drawing.card_times import FIRST, NO_TIME, clock_of
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import grown, overlap
from outputs.sheet.entities import Fill, Hatch, Path, Text
from outputs.sheet.keep_clear import crosses, facets
from outputs.sheet.lettering import face_file
from outputs.sheet.outcomes import Fate
from outputs.sheets.card import card_sheets
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.detail_tables import part_rows

_found = importlib.util.spec_from_file_location("random_panes", File(__file__).parents[1] / "random_panes.py")
RANDOM = importlib.util.module_from_spec(_found)
_found.loader.exec_module(RANDOM)
JOB = read_job(File(__file__).parents[2] / "samples" / "sallow-wren.toml")
CODES = [pane.code for pane in JOB.panes]
ODD = {
    "L": ("[8]", "{ polygon = [[0, 0], [900, 0], [900, 400], [400, 400], [400, 900], [0, 900]], radius = 30 }"),
    "triangle": ("[8]", "{ polygon = [[0, 0], [700, 0], [200, 600]], radius = 25 }"),
    "kite": ("[8]", "{ polygon = [[0, -400], [300, 0], [0, 300], [-300, 0]], radius = 25 }"),
    "round of 180": ("[6]", "{ circle = 180 }"),
    "strip of 3000": ("[10]", "{ rectangle = [3000, 300], radius = 40 }"),
    "oval": ("[8]", "{ ellipse = [1300, 460] }"),
    "path with arcs": (
        "[8]",
        "{ path = [[0, 0], [900, 0], [1000, 100, 0.4142], [1000, 500], [500, 650, 0.1], [0, 500, 0.15]] }",
    ),
    "thick laminate": ("[12, 12, 12], interlayers = [1.52, 1.52]", "{ rectangle = [1400, 900], radius = 60 }"),
    "tall": ("[8]", "{ rectangle = [250, 1500], radius = 30 }"),
    "very long": ("[10]", "{ rectangle = [9000, 700], radius = 40 }"),
}
WIDTHS = {layer.name: layer.width for layer in LAYERS}
LIGHT = {layer.name for layer in LAYERS if layer.ink != "#000000"}


@cache
def contents(name: str) -> Contents:
    if name in CODES:
        job, pane = JOB, JOB.panes[CODES.index(name)]
    else:
        plies, outline = ODD[name]
        job = job_of(f'[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = {{ plies = {plies} }}\noutline = {outline}\n')
        pane = job.panes[0]
    check = check_pane(job, pane)
    return Contents(job, pane, check.subject.detail, check)


@cache
def sides(name: str):
    return card_sheets(contents(name))


def texts(name: str, side: int) -> list[str]:
    return [mark.string for mark in sides(name)[side - 1].marks if isinstance(mark, Text)]


@cache
def _glyphs(bold: bool):
    from fontTools.ttLib import TTFont

    font = TTFont(face_file(bold=bold))
    capital = font["OS/2"].sCapHeight
    shapes, advances, names = font["glyf"], font["hmtx"].metrics, font.getBestCmap()
    found = {}
    for code, glyph in names.items():
        shape = shapes[glyph]
        ink = (shape.xMin, shape.yMin, shape.xMax, shape.yMax) if shape.numberOfContours else None
        found[chr(code)] = (advances[glyph][0] / capital, None if ink is None else tuple(value / capital for value in ink))
    return found


def ink(text: Text) -> tuple[float, float, float, float]:
    """The box round the real outlines of a text's glyphs, from the face itself; upright or turned by 90°."""
    glyphs, at, boxes = _glyphs(text.bold), 0.0, []
    for sign in text.string:
        advance, box = glyphs[sign]
        if box is not None:
            boxes.append((at + box[0], box[1], at + box[2], box[3]))
        at += advance
    start = {"left": 0.0, "middle": -at / 2, "right": -at}[text.align]
    left, low = min(box[0] for box in boxes) + start, min(box[1] for box in boxes)
    right, high = max(box[2] for box in boxes) + start, max(box[3] for box in boxes)
    left, low, right, high = (value * text.height for value in (left, low, right, high))
    if text.rotation == 90.0:
        return text.x - high, text.y + left, text.x - low, text.y + right
    assert text.rotation == 0.0
    return text.x + left, text.y + low, text.x + right, text.y + high


def strokes(sheet):
    """Every line of a side with half its width: outlines, ticks, edges of black areas."""
    for mark in sheet.marks:
        if isinstance(mark, Path | Fill):
            runs = ((mark.nodes, mark.closed if isinstance(mark, Path) else True),)
        elif isinstance(mark, Hatch):
            runs = tuple((nodes, True) for nodes in mark.boundaries)
        else:
            continue
        for nodes, closed in runs:
            for straight in facets(nodes, closed=closed):
                yield mark.layer, straight


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_nothing_lies_on_a_text(name):
    for sheet in sides(name):
        nothing_lies_on_a_text(sheet)


def nothing_lies_on_a_text(sheet):
    """Real ink of every text: 1.5 mm from any other, 0.7 mm from any line, inside the margins."""
    boxes = [(mark, ink(mark)) for mark in sheet.marks if isinstance(mark, Text)]
    near = [(a.string, b.string) for (a, one), (b, other) in combinations(boxes, 2) if overlap(grown(one, 1.45), other)]
    assert near == []
    lines = list(strokes(sheet))
    hits = [
        (text.string, layer)
        for text, box in boxes
        for layer, straight in lines
        if (layer in LIGHT) == (text.layer in LIGHT) or layer == "PLATES"
        if crosses(grown(box, OFF_LINE - 0.03 + WIDTHS[layer] / 2), straight)
    ]
    assert hits == []
    assert all(box[0] > 9.5 and box[2] < 200.5 and box[1] > 9.5 and box[3] < 287.5 for _, box in boxes)


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_it_reads_at_arms_length(name):
    first, second, *_ = sides(name)
    for sheet in sides(name):
        assert (sheet.size, sheet.width, sheet.height) == ("A4", 210.0, 297.0)
        for mark in sheet.marks:
            if isinstance(mark, Text):
                assert mark.height >= 3.5 or (mark.height == SMALL and mark.string in {each for row in FIELDS for each in row})
        assert {layer.ink for layer in sheet.layers} <= {"#000000", "#ffffff"}
        assert min(layer.width for layer in sheet.layers) >= 0.25
    sizes = contents(name).detail.sizes
    keys = {mark.string for mark in first.marks if isinstance(mark, Text) and mark.height == 10.0}
    for size in (sizes.set_back, sizes.bond_width, sizes.bond_thickness):
        assert f"{size.value:.1f}".removesuffix(".0").replace(".", ",") in keys
    facts = facts_of(contents(name).check)
    press = "--:--" if facts.clock.too_long else facts.clock.at(facts.clock.last_press)
    assert {press, facts.clock.at(facts.clock.abort)} <= {
        mark.string for mark in second.marks if isinstance(mark, Text) and mark.height == 10.0
    }


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_every_running_distance_stands_on_the_card(name):
    """On side 1, or on a third side that side 1 names; the ten sample panes need none."""
    told = texts(name, 1)
    if len(sides(name)) == 3:
        assert name not in CODES
        assert "MORE BLOCKS ON SIDE 3" in told
        assert "side 1 of 3" in told
        told = texts(name, 3)
    words = " ".join(told).replace(",", ",").split()
    words += [word.rstrip(",") for word in words]
    for row in block_rows(contents(name).detail):
        for figure in rounded_distances([entry.distance for entry in row.entries]):
            assert figure in words


@pytest.mark.parametrize("name", ["path with arcs", "very long"])
def test_a_third_side_holds_what_finds_no_room(name):
    """Side 1 says so, under a title that counts three; every block of every wall stands on side 3, in lettering of 3.5 mm and more."""
    where, _, blocks = sides(name)
    assert "MORE BLOCKS ON SIDE 3" in texts(name, 1)
    assert [f"{text}" for text in texts(name, 1) if text.startswith("side ")] == ["side 1 of 3"]
    assert "3 of 3 BLOCKS" in texts(name, 3)
    assert min(mark.height for mark in blocks.marks if isinstance(mark, Text)) >= 3.5
    cells = [cell.strip() for text in texts(name, 3) for cell in text.split("    ")]
    for row in block_rows(contents(name).detail):
        figures = rounded_distances([entry.distance for entry in row.entries])
        begins = [corner.number for corner in contents(name).detail.corners if math.dist(corner.theoretical, row.zero) < 60.0]
        at = "".join(f" at corner {number}" for number in begins if row.zero_at.startswith("wall "))
        assert f"{row.edge}, from {row.zero_at}{at}" in cells
        for entry, figure in zip(row.entries, figures, strict=True):
            assert any(cell == f"{entry.mark} {figure}" or cell.startswith(f"{entry.mark} {figure} (") for cell in cells)
    assert any(outcome.fate is Fate.TABLED for _, outcome in where.outcomes)


def test_the_face_that_looks_outside_is_named_in_a_whole_word():
    for name in (*CODES, *ODD):
        told = texts(name, 1)
        assert "OUT" not in told
        assert {"OUTSIDE up", "OUTSIDE", "SECTION, OUTSIDE up: sizes"} & set(told)


@pytest.mark.parametrize("seed", [*range(100_000, 100_009), 100_011, 100_028, 100_038, 100_046])
def test_cards_of_random_panes(seed):
    """A pane of every form, and those that were hard: no text on another, none on a line, none off the card, and nothing of what was planned left out."""
    _, text = RANDOM.random_job(seed)
    job = job_of(text)
    check = check_pane(job, job.panes[0])
    for sheet in card_sheets(Contents(job, job.panes[0], check.subject.detail, check)):
        assert RANDOM.text_on_text(sheet) == []
        nothing_lies_on_a_text(sheet)
        assert [outcome for _, outcome in sheet.outcomes if outcome.fate is Fate.LEFT_OUT] == []


def test_the_glass_is_turned_over_and_its_lettering_is_not():
    """A place of the pane at x from the left lies at W - x; corner 1, lower left from outside, lies lower right."""
    for name in ("SW-01", "SW-02", "SW-08"):
        given = contents(name)
        glass = given.detail.curves.glass
        box = (0.0, 0.0, 300.0, 200.0)
        fit = Fit(10.0, 20.0, 0.5, 0.5, box, mirrored=True)
        assert fit.at((40.0, 30.0)) == (10.0 + (300.0 - 40.0) * 0.5, 20.0 + 30.0 * 0.5)
        upper, lower = recess_and_glass(sides(name)[0])
        recess_numbers = {mark.string: mark for mark in upper if mark.string.isdigit()}
        glass_numbers = {mark.string: mark for mark in lower if mark.string.isdigit()}
        assert set(recess_numbers) == set(glass_numbers) == {str(corner.number) for corner in given.detail.corners}
        assert recess_numbers["1"].x < recess_numbers["2"].x
        assert glass_numbers["1"].x > glass_numbers["2"].x
        assert all(mark.rotation == 0.0 for mark in (*upper, *lower))
        assert len(glass.vertices) > 3


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_every_corner_has_its_number_at_it(name):
    """Nearer to its own sharp corner than to any other, or led to it, in all three pictures."""
    given, where, when = contents(name).detail, *sides(name)[:2]
    upper, lower = recess_and_glass(where)
    third = [mark for part in recess_and_glass(when) for mark in part]
    corners = {str(corner.number): corner.theoretical for corner in given.corners}
    pictures = (
        (upper, where, "RECESS", given.curves.recess),
        (lower, where, "GLASS", given.curves.glass),
        (third, when, "GLASS", given.curves.recess),
    )
    for told, sheet, layer, outline in pictures:
        assert sorted(mark.string for mark in told) == sorted(corners)
        drawn_ = next(mark for mark in sheet.marks if isinstance(mark, Path) and mark.layer == layer and mark.closed)
        straights = list(facets(drawn_.nodes, closed=True))
        left, right = min(each[0] for each in straights), max(each[0] for each in straights)
        foot, top = min(each[1] for each in straights), max(each[1] for each in straights)
        box = bounding_box(outline)
        paper = {}
        for number, place in corners.items():
            share = (place.x - box.left) / (box.right - box.left)
            along = 1 - share if told is lower else share
            up = (place.y - box.bottom) / (box.top - box.bottom)
            paper[number] = (left + along * (right - left), foot + up * (top - foot))
        runs = [
            mark.nodes for mark in sheet.marks if isinstance(mark, Path) and mark.layer == "DIMENSIONS" and len(mark.nodes) == 2
        ]
        for mark in told:
            centre = (mark.x, mark.y + 1.75)
            if any(
                math.dist(paper[mark.string], begin[:2]) < 1.5 and abs(math.dist(centre, end[:2]) - 3.6) < 0.1
                for begin, end in runs
            ):
                continue
            far = {number: math.dist((mark.x, mark.y + 1.75), place) for number, place in paper.items()}
            assert min(far, key=far.__getitem__) == mark.string


def test_a_corner_number_never_stands_in_the_middle_of_the_pane():
    """Inside its corner within 24 mm of it, else outside it: the starboard cabin light once had its number 3 beside START."""
    job = read_job(File(__file__).parents[2] / "samples" / "pair.toml")
    for pane in job.panes:
        check = check_pane(job, pane)
        sheet = card_sheets(Contents(job, pane, check.subject.detail, check))[0]
        _, lower = recess_and_glass(sheet)
        drawn_ = next(mark for mark in sheet.marks if isinstance(mark, Path) and mark.layer == "GLASS" and mark.closed)
        straights = list(facets(drawn_.nodes, closed=True))
        assert len(lower) == 4
        for mark in lower:
            nearest = min(math.dist((mark.x, mark.y + 1.75), place[:2]) for place in straights)
            assert nearest < 20.0, (pane.code, mark.string)


@pytest.mark.parametrize("name", [name for name in (*CODES, *ODD) if name != "very long"])
def test_no_figure_of_a_chock_is_read_as_that_of_a_spacer(name):
    """It stands large on the chocks' own line, or its mark stands before it; a figure that a spacer has too may stand for that one."""
    given, told = contents(name), [mark for mark in sides(name)[0].marks if isinstance(mark, Text)]
    chocks = {chock.mark for chock in given.detail.chocks}
    for row in block_rows(given.detail):
        figures = rounded_distances([entry.distance for entry in row.entries])
        told_of = list(zip(row.entries, figures, strict=True))
        for entry, figure in told_of:
            if entry.mark in chocks:
                marked = [f"{entry.mark} {figure}", f"{entry.mark} at {figure}"]
                large = [mark for mark in told if mark.string == figure and mark.height >= 5.0]
                assert large or any(mark.string.startswith(each) or each in mark.string for mark in told for each in marked)


ALL_PANES = [
    (file.name, pane.code)
    for file in sorted((File(__file__).parents[2] / "samples").glob("*.toml"))
    if "[[pane]]" in file.read_text(encoding="utf-8")
    for pane in read_job(file).panes
    if pane.code.split("-")[0] not in ("K", "T")  # every-key.toml gives the layers names of its own
]


@cache
def sample(file: str):
    return read_job(File(__file__).parents[2] / "samples" / file)


def far(box, line_) -> float:
    """From the box of a text to a straight line."""
    return shapely.box(*box).distance(shapely.LineString([node[:2] for node in line_.nodes]))


@pytest.mark.parametrize(("file", "code"), [*ALL_PANES, *(("", name) for name in ODD)])
def test_a_figure_off_its_row_says_from_which_corner_it_counts(file, code):
    """Inside the recess and in words beside it a fitter sees no zero: the figure names the corner, found here by its place alone."""
    if file:
        job = sample(file)
        pane = next(pane for pane in job.panes if pane.code == code)
        check = check_pane(job, pane)
        detail, sheet = check.subject.detail, card_sheets(Contents(job, pane, check.subject.detail, check))[0]
    else:
        check, detail, sheet = contents(code).check, contents(code).detail, sides(code)[0]
    rows, corners = block_rows(detail), detail.corners
    heights = {height_in_words(height) for height in facts_of(check).spacer_heights.values()}
    one_zero = len({row.zero for row in rows}) == 1
    recess = next(mark for mark in sheet.marks if isinstance(mark, Path) and mark.layer == "RECESS" and mark.closed)
    wall = shapely.Polygon([straight[:2] for straight in facets(recess.nodes, closed=True)])
    ringed = {id(mark) for marks in recess_and_glass(sheet) for mark in marks}
    ticks = [mark for mark in sheet.marks if isinstance(mark, Path) and mark.layer == "TICKS" and len(mark.nodes) == 2]
    lines = [mark for mark in sheet.marks if isinstance(mark, Path) and mark.layer == "DIMENSIONS" and len(mark.nodes) == 2]
    told_of = [
        (row, entry.mark, figure)
        for row in rows
        for entry, figure in zip(row.entries, rounded_distances([entry.distance for entry in row.entries]), strict=True)
    ]
    told = 0
    for text in (mark for mark in sheet.marks if isinstance(mark, Text) and mark.height < 5.0 and id(mark) not in ringed):
        box = ink(text)
        inside = shapely.box(*box).centroid.within(wall)
        head = text.string.split()
        if head[0].startswith("K") and "at" in head:
            mark, figure = head[0], head[2].rstrip(",;")
        elif (
            text.bold
            and head[0].replace(",", "").isdigit()
            and (len(head) == 1 or head[1] in ("from", "along"))
            and box[1] > 297 - 159
        ):
            mark, figure = "", head[0]
        else:
            continue
        if figure not in {shown for _, of, shown in told_of if not mark or of == mark}:
            assert not mark and figure in {*heights, "0"}, text.string  # a spacer's own height, of a surveyed recess
            continue
        if not inside and not mark:
            by_tick = [tick for tick in ticks if far(box, tick) < 9.0]
            begun = [run.nodes for run in lines if far(box, run) < 2.0]
            led = [end for nodes in begun for end in nodes if any(far((*end[:2], *end[:2]), tick) < 0.5 for tick in ticks)]
            assert figure == "0" or by_tick or led, text.string
            continue
        told += 1
        if one_zero:
            continue
        assert " from " in text.string or " along " in text.string, text.string
        counted = re.search(r" from (?:corner )?(\d+)(;|$)", text.string)  # no comma behind it: "from 1, 7 high" reads as 1,7
        if counted is None:
            assert not re.search(r" from (corner|\d)", text.string), text.string
        else:
            number = int(counted[1])
            assert mark or " corner " in text.string, text.string
            begins = {
                min(corners, key=lambda corner: math.dist(corner.theoretical, row.zero)).number
                for row, of, shown in told_of
                if shown == figure and (not mark or of == mark)
            }
            assert number in begins, text.string
    assert told >= (5 if code == "SW-08" else 0)


@pytest.mark.parametrize(("name", "square"), [("SW-01", True), ("SW-09", True), ("SW-02", False), ("SW-07", False)])
def test_the_zero_is_told_as_the_corner_is(name, square):
    """A square held to the neighbouring wall finds it at a right angle alone; beside a leaning wall both walls are run on to where they meet."""
    told = " ".join(texts(name, 1))
    assert ("0 = wall: hold a square to it" in told) == square
    assert ("0 = where walls would meet" in told) == (not square)


def test_every_spacer_of_a_surveyed_recess_has_its_own_distance_from_the_wall():
    """Worked out by shapely from the recess and the spacers' places; the card once said "5 to 10,5 off wall" of all fourteen."""
    from shapely import LinearRing, Point

    detail = contents("SW-09").detail
    recess = LinearRing([(vertex.x, vertex.y) for vertex in detail.curves.recess.vertices])
    away = {spacer.mark: recess.distance(Point(*spacer.centre)) for spacer in detail.spacers}
    told = texts("SW-09", 1)
    for row, corners in zip(block_rows(detail), ("1 to 2", "2 to 3", "4 to 3", "1 to 4"), strict=True):
        wanted = rounded_distances([away[entry.mark] for entry in row.entries if entry.mark in away])
        assert f"{corners}:  {'  '.join(wanted)}" in told
    assert len(sides("SW-09")) == 2
    assert not any("off wall" in text and "to" in text.split() for text in told)


def recess_and_glass(sheet):
    """Corner numbers of both pictures: texts in their rings."""
    rings = [
        mark
        for mark in sheet.marks
        if isinstance(mark, Path) and mark.layer == "DIMENSIONS" and mark.closed and len(mark.nodes) == 2
    ]
    centres = [((ring.nodes[0][0] + ring.nodes[1][0]) / 2, ring.nodes[0][1]) for ring in rings]
    inside = [
        mark
        for mark in sheet.marks
        if isinstance(mark, Text) and any(math.dist((mark.x, mark.y + 1.75), place) < 0.01 for place in centres)
    ]
    middle = 297.0 - 159.0
    return [mark for mark in inside if mark.y > middle], [mark for mark in inside if mark.y <= middle]


@pytest.mark.parametrize("name", ["SW-01", "SW-02", "SW-03", "SW-06"])
def test_the_bead_runs_clockwise_on_the_bench(name):
    """From outside it runs counter-clockwise; the glass lies inner face up."""
    heads = [
        mark for mark in sides(name)[0].marks if isinstance(mark, Fill) and mark.layer == "ON_PLATES" and len(mark.nodes) == 3
    ]
    assert len(heads) >= 4
    across = sum(mark.nodes[0][0] for mark in heads) / len(heads)
    up = sum(mark.nodes[0][1] for mark in heads) / len(heads)
    for mark in heads:
        (tip_x, tip_y, _), (a_x, a_y, _), (b_x, b_y, _) = mark.nodes
        way = (tip_x - (a_x + b_x) / 2, tip_y - (a_y + b_y) / 2)
        assert (tip_x - across) * way[1] - (tip_y - up) * way[0] < 0  # a turn to the right about the middle


def away(block: Fill, box: tuple[float, float, float, float]) -> float:
    """From the edges of a block as drawn to a box."""
    ends = list(facets(block.nodes, closed=True))
    places = [(a + (c - a) * part / 20, b + (d - b) * part / 20) for a, b, c, d in ends for part in range(21)]
    return min(math.hypot(max(box[0] - x, 0, x - box[2]), max(box[1] - y, 0, y - box[3])) for x, y in places)


@pytest.mark.parametrize("name", [*CODES, *(name for name in ODD if name != "very long")])
def test_the_name_of_a_chock_stands_at_its_chock(name):
    """Nearer to it than to any other block, or led to it by a line that begins at it; the very long pane tells its blocks on side 3."""
    sheet, given = sides(name)[0], contents(name)
    blocks = [mark for mark in sheet.marks if isinstance(mark, Fill) and mark.layer in ("CHOCKS", "SPACERS")]
    chocks = [mark for mark in blocks if mark.layer == "CHOCKS"]
    lines = [mark for mark in sheet.marks if isinstance(mark, Path) and mark.layer == "DIMENSIONS" and len(mark.nodes) == 2]
    ends = [(mark.nodes[0], mark.nodes[1]) for mark in lines]
    runs = [[(a[0] + (b[0] - a[0]) * part / 20, a[1] + (b[1] - a[1]) * part / 20) for part in range(21)] for a, b in ends]
    for chock, own in zip(given.detail.chocks, chocks, strict=True):
        told = [mark for mark in sheet.marks if isinstance(mark, Text) and mark.string.split(" ")[0] == chock.mark]
        at_it = []
        for box in map(ink, told):
            to_own = away(own, box)
            nearest = all(to_own < away(other, box) for other in blocks if other is not own) and to_own < 12.0
            stems = [run for run in runs if any(away(own, (*end, *end)) < 0.5 for end in (run[0], run[-1]))]
            led = any(
                math.hypot(max(box[0] - x, 0, x - box[2]), max(box[1] - y, 0, y - box[3])) < 2.5 for run in stems for x, y in run
            )
            at_it.append(nearest or led)
        assert any(at_it), chock.mark


def test_the_figures_of_the_saloon_light_worked_out_by_hand():
    """Joint 6 wide: chocks at 300 and 900 of the glass are 306 and 906 from the wall; the bead 8 in and 15 wide has its centre at 15.5."""
    told = texts("SW-01", 1)
    for figure in ("306", "906", "15,5", "5 and 26", "8", "15", "5", "10", "116", "1096", "K1", "6 high", "14"):
        assert figure in told


@pytest.mark.parametrize("name", CODES)
def test_the_clock_is_the_plan_of_the_other_documents(name):
    plan, told = contents(name).check.time_plan, texts(name, 2)
    late = plan.do_not_start
    for step in plan.steps:
        if step.kind is not StepKind.WAIT_FOR_CLOCK and not (
            late and step.kind in (StepKind.LIFT, StepKind.ALIGN, StepKind.PRESS)
        ):
            assert clock(plan, step.start) in told
    assert "past ABORT: do not place, scrape off" in told
    assert "Over water: edge guard, life-jacket, tied tools." in told
    assert (clock(plan, plan.last_press) in told) != late  # a press past the abort has no time
    assert ("--:--" in told) == late
    assert ({"LAST PRESS = PLAN", "ABORT = LIMIT"} <= set(told)) != late
    assert clock(plan, plan.latest_abort, limit=True) in told
    latest = "no time for it" if late else f"not after {clock(plan, plan.latest_lift, limit=True)}"
    assert f"lift, {latest}" in told
    warned = [string for string in told if "DO NOT START" in string]
    assert bool(warned) == plan.do_not_start
    if warned:
        assert f"{math.ceil(plan.elapsed - plan.limit - 1e-9)} MIN TOO LONG" in warned[0]
    check = contents(name).check
    early = any("closed" in each.name or "first days" in each.name for each in check.findings if each.verdict is Verdict.FAIL)
    assert ({"TOO EARLY", "see record"} <= set(told)) == early
    days = (plan.handling_day, *(() if early else (plan.backfill_day,)), plan.hose_day)
    assert {"never" if day is None else str(math.ceil(day - 1e-9)) for day in days} <= set(told)


def clock_rows(name: str, side: int = 2) -> list[tuple[str, str]]:
    """Times of day of the clock with what is done at each, as they stand beside one another, from the top."""
    marks = [mark for mark in sides(name)[side - 1].marks if isinstance(mark, Text)]
    times = [mark for mark in marks if mark.height == 3.8 and mark.bold]
    rows = []
    for time in times:
        beside = [mark for mark in marks if abs(mark.y - time.y) < 0.01 and 0 < mark.x - time.x < 20 and mark is not time]
        rows.append((time.y, time.string, min(beside, key=lambda mark: mark.x).string))
    return [row[1:] for row in sorted(rows, key=lambda row: -row[0])]


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_the_climate_is_read_before_the_bead_and_at_a_minute_of_its_own(name):
    """The check stands over the bead, and earlier; no other step of a column is told before the one over it."""
    both = clock_rows(name)[-5:]
    (check, first), (bead, second) = both[:2]
    assert (first, second) == ("climate check", "BEAD")
    assert check < bead
    given = contents(name).check.time_plan
    for chain in ("frame", "glass", "both"):
        offsets = [each.offset for each in getattr(clock_of(given), chain) if each.offset is not None]
        assert offsets == sorted(offsets)


def test_a_check_without_a_minute_of_its_own_is_told_to_come_first():
    sheet = drawn("[work]\nclimate_check = 0\nclock_step = 0\n", "outline = { rectangle = [900, 500] }")[1]
    assert FIRST in [mark.string for mark in sheet.marks if isinstance(mark, Text)]


def test_a_plan_longer_than_its_abort_tells_no_time_past_it():
    """SW-06: 14 minutes are left from the bead at 09:15; lift, align and press have neither a time nor a box, and it says by how much."""
    plan, told = contents("SW-06").check.time_plan, texts("SW-06", 2)
    abort = clock(plan, plan.latest_abort, limit=True)
    assert [time for time, _ in clock_rows("SW-06")[-3:]] == [NO_TIME] * 3
    times = [string for string in told if len(string) == 5 and string[2] == ":" and string != NO_TIME]
    assert times and max(times) == abort
    offsets = [string for each in told for string in each.split() if string.startswith("+") and ":" in string]
    assert max(offsets) == f"+1:{int(abort[3:]):02d}"
    (warned,) = [string for string in told if "DO NOT START" in string]
    assert warned == f"PLAN {math.ceil(plan.too_long)} MIN TOO LONG: DO NOT START"


def test_the_backfill_of_a_joint_that_stays_open_too_short_a_time_has_no_day():
    assert "TOO EARLY" in texts("SW-05", 2)
    assert "TOO EARLY" not in texts("SW-01", 2)


def test_the_rule_of_the_dew_point_stands_under_its_table():
    """3 K over the dew point: common practice, no source."""
    assert "surface least: dew point + 3 K" in texts("SW-01", 2)
    assert "black NO, ring: plan or worse" in texts("SW-01", 2)


@pytest.mark.parametrize("name", CODES)
def test_no_wind_limit_over_what_the_uncured_bead_holds(name):
    """The suction of the limit on the pane, by Bernoulli with the drag of the job, is less than what the bead holds by its yield stress."""
    given = contents(name)
    subject, told = given.check.subject, texts(name, 1)
    after = told[told.index("m/s") - 1]
    wind = float(after.replace(",", "."))
    assert 0 < wind <= subject.limit("wind").value
    if not subject.pane.held and facts_of(given.check).pull == 0:
        drag, share = subject.limit("wind_drag").value, subject.limit("green_share").value / 100
        suction = 0.5 * 1.225 * wind**2 * drag * subject.detail.area * 1e-6
        length = perimeter(subject.detail.curves.bead_centre)
        held = share * subject.asked("adhesive.yield_stress_uncured").value / 1000 * subject.sizes.bond_width.value * length
        assert suction <= held
        assert wind == pytest.approx(min(subject.limit("wind").value, math.floor(wind * math.sqrt(held / suction) * 2) / 2))


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_state_and_mark_stand_on_every_side(name):
    given = contents(name)
    for side in range(1, len(sides(name)) + 1):
        told = texts(name, side)
        assert any(given.mark in string for string in told)
        assert any(given.state.words in string for string in told)
        assert (DO_NOT_FIT in told) == bool(given.state.not_for_manufacture)


def boxes_on(name: str, layer: str) -> list[tuple[float, float, float, float]]:
    """Closed boxes of a layer on side 2, in the part where the gaps stand."""
    found = []
    for mark in sides(name)[1].marks:
        if isinstance(mark, Path) and mark.layer == layer and mark.closed and len(mark.nodes) == 4:
            xs, ys = [node[0] for node in mark.nodes], [node[1] for node in mark.nodes]
            box = min(xs), min(ys), max(xs), max(ys)
            if box[2] < 140 and box[1] > 297 - 203 and box[3] < 297 - 142 and box[3] - box[1] < 8:
                found.append(box)
    return found


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_gap_and_flush_are_read_at_eight_places(name):
    """Eight boxes for the gap, eight dashed ones for the flush, and a word for either; at the places all of them, or in a table all of them."""
    told = texts(name, 2)
    gaps = contents(name).check.fitting.gaps
    assert (len(boxes_on(name, "TABLES")), len(boxes_on(name, "FIELDS"))) == (8, 8)
    fates = {outcome.what: outcome.fate for _, outcome in sides(name)[1].outcomes}
    of_places = {fates[f"{what} {letter}"] for what in ("gap", "flush") for letter in "abcdefgh"}
    tabled = of_places == {Fate.TABLED}
    assert tabled or of_places == {Fate.DRAWN}
    for letter in "abcdefgh":
        assert told.count(letter) == (2 if tabled else 1)
    assert "flush" in told if tabled else "dashed boxes" in told
    (flush,) = [string for string in told if string.startswith("FLUSH ")]
    assert f"{abs(gaps[0].flush):.1f}".replace(".0", "").replace(".", ",") in flush
    even = max(each.gap for each in gaps) - min(each.gap for each in gaps) < 0.05
    title = next(string for string in told if string.startswith("GAP "))
    assert (", least " in title and ", most " in title) == even
    if not even:
        assert {"gap", "least", "most", "gap read", "flush"} <= set(told)


def table_of_gaps(name: str) -> dict[str, tuple[str, ...]]:
    """Gap, least and most of every place, as they stand in its row."""
    marks = [mark for mark in sides(name)[1].marks if isinstance(mark, Text)]
    rows = {}
    for letter in (mark for mark in marks if mark.string in tuple("abcdefgh") and mark.height == 3.5):
        row = sorted((mark for mark in marks if mark.y == letter.y and letter.x < mark.x < 102), key=lambda mark: mark.x)
        if row:
            rows[letter.string] = tuple(mark.string for mark in row)
    return rows


@pytest.mark.parametrize("name", ["SW-09", "SW-10"])
def test_a_gap_of_its_own_at_every_place_stands_with_its_limits(name):
    """SW-09 is surveyed, and its tightest place 475 up e2 has 1.1 of joint; the glass of SW-10 would stand in the corners of its frame.

    Least and most are those that the record holds a reading against; of a pane measured as made, those of the checks.
    """
    rows, gaps = table_of_gaps(name), contents(name).check.fitting.gaps
    assert sorted(rows) == list("abcdefgh")
    fields = {field.sign: field for field in record_fields(contents(name).check) if field.id.startswith("gap.")}
    for each in gaps:
        wanted, least, most = rows[each.letter]
        assert wanted == ("none" if each.gap <= 0 else f"{each.gap:.1f}".removesuffix(".0").replace(".", ","))
        assert (least, most) == tuple(
            f"{limit:g}".replace(".", ",") for limit in (fields[each.letter].least, fields[each.letter].most)
        )
        assert float(least.replace(",", ".")) >= contents(name).pane.limits.joint_least
    title = {"SW-09": "TOO TIGHT at c, d, h: under the least", "SW-10": "NO JOINT at f: the glass does not go in"}[name]
    assert title in texts(name, 2)
    tight = min(gaps, key=lambda each: each.gap)
    assert rows[tight.letter] == {"SW-09": ("1,1", "3", "15"), "SW-10": ("none", "3", "15")}[name]


@pytest.mark.parametrize("name", ["SW-08", "L", "SW-01", "SW-09"])
def test_no_row_of_running_distances_crosses_another(name):
    """Two rows that run into a re-entrant corner would: the blocks nearest to it have their figures inside."""
    lines = [
        shapely.LineString([node[:2] for node in mark.nodes])
        for mark in sides(name)[0].marks
        if isinstance(mark, Path) and mark.layer == "DIMENSIONS" and len(mark.nodes) == 2
    ]
    rows = [each for each in lines if each.length > 5.0]
    assert len(rows) > 3
    assert not [(one.wkt, other.wkt) for one, other in combinations(rows, 2) if one.crosses(other)]


@pytest.mark.parametrize("name", [*CODES, "L"])
def test_every_chock_has_its_mark_in_the_picture(name):
    """With its height or with its distance, in a text of its own: nobody counts blocks to find K2."""
    bold = {mark.string for mark in sides(name)[0].marks if isinstance(mark, Text) and mark.bold}  # the column beside it is plain
    for chock in contents(name).detail.chocks:
        assert any(string.split(" ")[0] == chock.mark for string in bold), chock.mark


@pytest.mark.parametrize("name", [*CODES, *ODD])
def test_nothing_that_was_planned_is_dropped(name):
    """Figures, zeros, chocks, corners, start, packs and gaps all end as drawn or in a table that the card has; none is left out."""
    where, when = sides(name)[:2]
    given = contents(name)
    told = {outcome.what: outcome.fate for _, outcome in where.outcomes}
    assert Fate.LEFT_OUT not in {outcome.fate for sheet in (where, when) for _, outcome in sheet.outcomes}
    assert told["START"] is Fate.DRAWN
    numbers = {f"corner {corner.number}" for corner in given.detail.corners}
    assert numbers <= set(told) and numbers <= {outcome.what for _, outcome in when.outcomes}
    assert {f"height of {chock.mark}" for chock in given.detail.chocks} <= set(told)
    packs = {f"PACK {change.number + 1}" for change in given.check.fitting.pack_changes}
    assert packs <= set(told)
    on_side_3 = [what for what, fate in told.items() if fate is Fate.TABLED and "height" not in what]
    chocks = {chock.mark for chock in given.detail.chocks}
    assert bool([what for what in on_side_3 if what.split(" ")[-1] not in chocks]) == (len(sides(name)) == 3)


@pytest.mark.parametrize(("name", "side"), [*((name, side) for name in CODES for side in (1, 2)), ("very long", 3), ("L", 2)])
def test_a_print_in_pure_black_keeps_its_lines(name, side):
    """Rendered at 150 dots per inch and cut to one bit, every continuous line keeps 95 % of its length (one dot of slack)."""
    resvg_py = pytest.importorskip("resvg_py")
    image_of = pytest.importorskip("PIL.Image")
    np = pytest.importorskip("numpy")
    sheet = sides(name)[side - 1]
    data = resvg_py.svg_to_bytes(svg_string=svg_bytes(sheet).decode(), dpi=150, background="#ffffff", skip_system_fonts=True)
    black = np.array(image_of.open(io.BytesIO(bytes(data))).convert("L")) < 128
    padded = np.pad(black, 1)
    height, width = black.shape
    near = np.zeros_like(black)
    for down in (0, 1, 2):
        for across in (0, 1, 2):
            near |= padded[down : down + height, across : across + width]
    solid = {layer.name for layer in sheet.layers if layer.linetype == "CONTINUOUS" and layer.name not in LIGHT}
    covered = white_areas(sheet)
    checked = 0
    for mark in sheet.marks:
        if not isinstance(mark, Path) or mark.layer not in solid:
            continue
        places = [
            (x1 + (x2 - x1) * share / count, y1 + (y2 - y1) * share / count)
            for x1, y1, x2, y2 in facets(mark.nodes, closed=mark.closed)
            for count in (max(1, math.ceil(math.hypot(x2 - x1, y2 - y1) / 0.1)),)
            for share in range(count + 1)
        ]
        places = [place for place in places if not any(overlap((*place, *place), box) for box in covered)]
        if len(places) < 5:
            continue
        kept = sum(
            bool(near[min(height - 1, int((297.0 - y) / 25.4 * 150)), min(width - 1, int(x / 25.4 * 150))]) for x, y in places
        )
        assert kept >= 0.95 * len(places), (mark.layer, mark.nodes[0])
        checked += 1
    assert checked > 30 or side == 3


def white_areas(sheet):
    """Boxes of what is white on black."""
    for mark in sheet.marks:
        if mark.layer in LIGHT and isinstance(mark, Fill):
            xs, ys = [node[0] for node in mark.nodes], [node[1] for node in mark.nodes]
            yield min(xs) - 0.3, min(ys) - 0.3, max(xs) + 0.3, max(ys) + 0.3


def test_one_document_in_three_formats():
    files = document_files(contents("SW-01"), {"card"}, ("dxf", "svg", "pdf"))
    assert sorted(name.removeprefix(contents("SW-01").pane.file_stem) for name in files) == [
        "-card-1.svg",
        "-card-2.svg",
        "-card.dxf",
        "-card.pdf",
    ]
    import ezdxf
    from pypdf import PdfReader

    stem = contents("SW-01").pane.file_stem
    drawing = ezdxf.read(io.StringIO(files[f"{stem}-card.dxf"].decode("utf-8")))
    assert len([name for name in drawing.layout_names() if name != "Model"]) == 2
    pages = PdfReader(io.BytesIO(files[f"{stem}-card.pdf"])).pages
    assert len(pages) == 2
    assert all(abs(float(page.mediabox.width) * 25.4 / 72 - 210) < 0.01 for page in pages)
    assert "GLASS AS IT LIES" in pages[0].extract_text()
    assert "LAST PRESS" in pages[1].extract_text()


def drawn(text: str, lines: str | None = None):
    given = PANE if lines is None else lines
    job = job_of(f'{text}\n[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = {{ plies = [8] }}\n{given}')
    pane = job.panes[0]
    check = check_pane(job, pane)
    return card_sheets(Contents(job, pane, check.subject.detail, check))


PANE = """outline = { rectangle = [1400, 600], radius = 60 }
side = "centre"
forward = "out of the plan"
straps = [[300, 500], [1100, 500]]
rake = -10
held = true
[pane.work]
guns = 2
people = 4
height = "1800 mm"
frame_wipe_longest = 120
frame_primer_longest = 90
"""


def test_a_pane_that_looks_ahead_with_two_guns_and_straps():
    """Forward is towards who stands before the recess, and away from who stands over the glass; longest waits are times, not boxes."""
    first, second = drawn('layers = { GLASS = "G-PANE", SHEET = "TICKS" }')
    told = [mark.string for mark in first.marks if isinstance(mark, Text)]
    assert {"CENTRE", "to you", "away", "GUN 2", "crossed ring = strap", "over head"} <= set(told)
    when = [mark.string for mark in second.marks if isinstance(mark, Text)]
    assert any(string.startswith("WAIT 15, end ") for string in when)
    assert "landing: bonded by" in when
    assert "glass: most" in when
    assert any(string.startswith("STRAP for ") for string in when)
    names = {layer.name for layer in first.layers}
    assert "G-PANE" in names
    assert "GLASS" not in names
    assert "SHEET" in names  # another layer of the card is called TICKS


def test_no_tape_hangs_over_a_void():
    """Where no backer finds its depth the card says so and draws none: how deep the joint is filled over a tape is not for the fitter."""
    note = "NO BACKER FITS: ask before backfill"
    for depth, fits in ((9, False), (6, True)):
        job = job_of(
            '[[pane]]\ncode = "T1"\nframe = "aluminium"\nglass = { plies = [12] }\noutline = { rectangle = [700, 500], radius = 40 }\n'
            f"joint = {{ width = 8, backfill_depth = {depth} }}\nbond = {{ thickness = 4 }}\n"
        )
        check = check_pane(job, job.panes[0])
        finding = next(each for each in check.findings if each.name == "room for the backer")
        assert (finding.verdict is Verdict.PASS) == fits
        where = card_sheets(Contents(job, job.panes[0], check.subject.detail, check))[0]
        told = [mark.string for mark in where.marks if isinstance(mark, Text)]
        assert (note in told) != fits
        assert any("bond-breaker tape" in each for each in told) != fits
        nothing_lies_on_a_text(where)
        sheet = detail_of(Contents(job, job.panes[0], check.subject.detail, check))
        part = next(row for row in part_rows(check.subject.detail, check) if row[2] == "backer")
        assert (part[1] == "0" and part[3] == "none fits: ask before backfill") != fits
        cut = [mark for view in sheet.views for mark in view.marks if isinstance(mark, Hatch) and mark.material == "backer"]
        assert bool(cut) == fits


def test_a_card_is_made_of_the_checks():
    given = contents("SW-01")
    with pytest.raises(ValueError, match="checks"):
        card_sheets(Contents(given.job, given.pane, given.detail))
