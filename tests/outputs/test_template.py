"""The template: its pages are read back from the PDF by pypdf, laid together by their crosses, and held against the outline."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from template_pages import CASES, SEEDS, contents_of, crosses_of, pages_of, sheets_of, texts_on, true_outline

from geometry.findings.check import check_pane
from outputs.files.proof import prove
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.entities import Path as Run
from outputs.sheet.entities import Text
from outputs.sheets.card import card_sheets
from outputs.sheets.contents import Contents
from outputs.sheets.template import template_sheets
from outputs.sheets.template_tiles import Page, tiling


def registered(words, curves):
    """Where a page lies: what is added to its paper mm to come to X and Y, and its own piece between the crosses, paper mm."""
    figures, own = crosses_of(words, curves)
    return np.array([min(x for x, _ in figures) - own[0], min(y for _, y in figures) - own[1]]), own


@pytest.mark.parametrize(("name", "size"), CASES)
@pytest.mark.parametrize(("layer", "curve"), [("GLASS", "glass"), ("BEAD_CENTRE", "bead_centre"), ("FRIT_INNER", "frit_inner")])
def test_tiles_laid_together_are_the_outline(name, size, layer, curve):
    """Both ways within 0.05 mm: every ink of a tile lies on the outline, and every piece of the outline has ink on its own tile."""
    contents = contents_of(name)
    origin = np.array([contents.detail.origin.at.x, contents.detail.origin.at.y])
    outline = true_outline(getattr(contents.detail.curves, curve))
    length = outline.length
    covered = shapely.MultiLineString()
    for words, window, curves in pages_of(name, size)[1:-1]:
        move, own = registered(words, curves)
        for run in curves.get(layer, []):
            shown = shapely.intersection(shapely.LineString(run), shapely.box(*window))
            ink = shapely.transform(shown, lambda places, move=move: places + move + origin)
            if not ink.is_empty:
                steps = (
                    [ink.interpolate(share, normalized=True) for share in np.linspace(0, 1, 60)]
                    if ink.geom_type == "LineString"
                    else []
                )
                away = shapely.distance(shapely.points(shapely.get_coordinates([ink, *steps])), outline)
                assert away.max() <= 0.05
                piece = shapely.transform(shapely.box(*own), lambda places, move=move: places + move + origin)
                covered = covered.union(ink.intersection(piece))
    assert covered.length == pytest.approx(length, rel=1e-4)
    missing = outline.difference(covered.buffer(0.05))
    assert missing.length < 1e-6


@pytest.mark.parametrize(("name", "size"), CASES)
def test_blocks_stand_in_their_places(name, size):
    """The four corners of every spacer and chock, drawn on some tile at its place in the plan."""
    contents, detail = contents_of(name), contents_of(name).detail
    origin = np.array([detail.origin.at.x, detail.origin.at.y])
    drawn = []
    for words, window, curves in pages_of(name, size)[1:-1]:
        move, _ = registered(words, curves)
        for layer in ("SPACERS", "CHOCKS"):
            for run in curves.get(layer, []):
                if len(run) == 5 and shapely.box(*window).intersects(shapely.Polygon(run)):
                    drawn.append(shapely.Polygon(run + move + origin))
    wanted = []
    for place, angle, length, low, high in (
        *(
            (
                s.centre,
                s.angle,
                detail.sizes.spacer_length.value,
                -detail.sizes.spacer_width.value / 2,
                detail.sizes.spacer_width.value / 2,
            )
            for s in detail.spacers
        ),
        *((c.foot, c.angle, c.length, -c.height, 0.0) for c in detail.chocks),
    ):
        along, up = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        corners = ((-length / 2, low), (length / 2, low), (length / 2, high), (-length / 2, high))
        wanted.append(shapely.Polygon([(place.x + a * along - b * up, place.y + a * up + b * along) for a, b in corners]))
    assert wanted and contents.pane.code
    for block in wanted:
        assert min(block.hausdorff_distance(other) for other in drawn) < 0.05
    assert all(min(block.hausdorff_distance(other) for other in wanted) < 0.05 for block in drawn)


@pytest.mark.parametrize(("name", "size"), CASES)
def test_every_page_has_both_bars_and_says_what_it_is(name, size):
    sheets = sheets_of(name, size)
    assert len({sheet.title for sheet in sheets}) == len(sheets)
    for number, sheet in enumerate(sheets, start=1):
        lines = [mark for mark in sheet.marks if mark.layer == "SEEN_OUTLINE" and len(mark.nodes) == 2]
        lengths = [(abs(b[0] - a[0]), abs(b[1] - a[1])) for a, b in (mark.nodes for mark in lines)]
        assert (100.0, 0.0) in [(round(x, 9), round(y, 9)) for x, y in lengths]
        assert (0.0, 100.0) in [(round(x, 9), round(y, 9)) for x, y in lengths]
        texts = [mark.string for mark in sheet.marks if isinstance(mark, Text)]
        assert any(f"page {number} of {len(sheets)}" in text for text in texts)
        assert any(contents_of(name).mark in text for text in texts)
        assert "100 mm, both ways" in texts


@pytest.mark.parametrize(("name", "size"), CASES)
def test_words_of_a_page_keep_clear_of_one_another(name, size):
    """1.5 mm between any two texts of a page, upright ones by their boxes (those that are turned stand along their lines)."""
    for sheet in sheets_of(name, size):
        boxes = [
            (mark.string, box_of_text(mark, 1.0)) for mark in sheet.marks if isinstance(mark, Text) and not mark.rotation % 90.0
        ]
        for view in sheet.views:
            left, low = view.window[:2]
            for mark in view.marks:
                if isinstance(mark, Text) and not mark.rotation % 90.0:
                    a, b, c, d = box_of_text(mark, view.scale)
                    box = [(a - left) * view.scale, (b - low) * view.scale, (c - left) * view.scale, (d - low) * view.scale]
                    x, y = view.paper
                    moved = (x + box[0], y + box[1], x + box[2], y + box[3])
                    wide, high = (view.window[2] - left) * view.scale, (view.window[3] - low) * view.scale
                    if overlap(moved, (x, y, x + wide, y + high)):
                        boxes.append((mark.string, moved))
        clash = [
            (one, other)
            for k, (one, box) in enumerate(boxes)
            for other, beside in boxes[:k]
            if overlap(grown(box, 0.74), grown(beside, 0.74))
        ]
        assert clash == [], sheet.title
        assert all(box[0] > 3 and box[1] > 3 and box[2] < sheet.width - 3 and box[3] < sheet.height - 3 for _, box in boxes)


@pytest.mark.parametrize(("name", "size"), [*CASES, ("SW-01", "A4"), *((seed, "A4") for seed in SEEDS)])
def test_no_lettering_is_cut_and_every_name_stands_whole(name, size):
    """No text of a tile crosses the edge of what the tile shows; each block, corner and the start has its whole name on a tile."""
    detail, sheets = contents_of(name).detail, sheets_of(name, size)
    found = set()
    for sheet in sheets[1:-1]:
        (view,) = sheet.views
        for mark in view.marks:
            if isinstance(mark, Text):
                box = box_of_text(mark, 1.0)
                assert box[0] > view.window[0] and box[1] > view.window[1], (sheet.title, mark.string)
                assert box[2] < view.window[2] and box[3] < view.window[3], (sheet.title, mark.string)
                found.add(mark.string)
    named = {block.mark for block in (*detail.spacers, *detail.chocks)} | {f"V{corner.number}" for corner in detail.corners}
    assert named | {"START"} <= found


def test_no_two_samples_of_the_key_look_alike():
    """Blocks, the start of the bead and the cross stand in it as they are drawn; four plain lines once told nobody which was which.

    The edge of the frit is drawn as the glass is; every page names both along the line.
    """
    sheet = sheets_of("SW-02", "A4")[0]
    widths = {layer.name: (layer.width, layer.linetype) for layer in sheet.layers}
    texts = [mark for mark in sheet.marks if isinstance(mark, Text)]
    seen = []
    for words in (
        "glass edge",
        "bead centre: here",
        "bead, pressed",
        "spacer blocks",
        "where the bead starts",
        "registration cross",
    ):
        row = next(mark for mark in texts if mark.string.startswith(words))
        sample = [
            mark
            for mark in sheet.marks
            if isinstance(mark, Run) and all(row.x - 17.5 < x < row.x and abs(y - row.y - 1.2) < 2.2 for x, y, _ in mark.nodes)
        ]
        assert sample, words
        nodes = [tuple((round(x - row.x, 1), round(y - row.y, 1)) for x, y, _ in mark.nodes) for mark in sample]
        seen.append((widths[sample[0].layer], sorted(nodes)))
    assert all(one != other for place, one in enumerate(seen) for other in seen[:place])


def test_tiles_without_ink_are_left_out_and_the_better_way_of_the_paper_is_taken():
    """A strip of 3000 × 180 on A4: one row of 18 pages standing (172 × 239 each) against two of 12 lying (259 × 152 each)."""
    sheets = sheets_of("strip", "A4")
    assert {(sheet.width, sheet.height) for sheet in sheets} == {(210.0, 297.0)} and len(sheets) == 18 + 2
    wide = sheets_of("wide", "A3")
    names = [sheet.views[0].name for sheet in wide[1:-1]]
    across, up = Page("A3", wide[0].width < wide[0].height).step
    assert len(names) < math.ceil(3008 / across) * math.ceil(1208 / up)  # the middle of the pane is bare
    assert len(set(names)) == len(names)


def test_a_square_smaller_than_a_page_is_one_tile():
    square = ((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 100.0, 0.0), (0.0, 100.0, 0.0))
    (tile,) = tiling([square], (0.0, 0.0), "A4").tiles
    assert tile.name == "1A"
    with pytest.raises(ValueError, match="no template on 'A0'; there is A4 and A3"):
        tiling([square], (0.0, 0.0), "A0")


def test_the_notch_is_true():
    """The V of the last page: as wide and as high as the bead as laid, between the lines that are cut."""
    contents = contents_of("SW-02")
    sheet = sheets_of("SW-02", "A4")[-1]
    bead = contents.detail.uncured_bead
    plates = [mark.nodes for mark in sheet.marks if mark.layer == "SEEN_OUTLINE" and len(getattr(mark, "nodes", ())) == 7]
    assert plates
    for plate in plates:
        (x1, y1, _), (x2, y2, _), (x3, _, _) = plate[1:4]
        assert (x3 - x1, y2 - y1, x2 - (x1 + x3) / 2) == pytest.approx((bead.notch_width, bead.notch_height, 0.0))


@pytest.mark.parametrize("seed", SEEDS)
def test_pages_of_random_panes_are_clear(seed):
    """Checked, as they are printed: with the state and, where something fails, the warning at the foot."""
    test_words_of_a_page_keep_clear_of_one_another(seed, "A4")
    for sheet in sheets_of(seed, "A4"):
        prove(sheet)


def test_a_template_that_must_not_be_used_says_so():
    contents = contents_of("SW-02")
    checked = Contents(contents.job, contents.pane, contents.detail, check_pane(contents.job, contents.pane, contents.detail))
    assert checked.state.not_for_manufacture
    for sheet in template_sheets(checked):
        assert "NOT FOR MANUFACTURE" in [mark.string for mark in sheet.marks if isinstance(mark, Text)]


def test_the_notch_has_the_figures_of_the_card():
    """Two thirds of a bond 10 wide are 6.7 wide on both, three times its 4 mm are 12 high: a knife cuts no hundredth."""
    contents = contents_of("SW-10")
    contents = Contents(
        contents.job, contents.pane, contents.detail, check_pane(contents.job, contents.pane, contents.detail, plate=False)
    )
    assert "Notch of the nozzle 1:1: 6,7 wide, 12 high" in texts_on(sheets_of("SW-10", "A4")[-1])
    card = texts_on(card_sheets(contents)[0])
    assert card[card.index("wide") - 1] == "6,7" and card[card.index("high") - 1] == "12"


def test_the_overview_says_which_way_up_it_lies():
    """The bead is laid on the inner face: a picture from outside is its mirror image there."""
    words = " ".join(texts_on(sheets_of("SW-08", "A4")[0]))
    assert "Seen from outside" in words and "mirrored" in words
