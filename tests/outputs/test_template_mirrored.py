"""The template for the glass as it lies: laid together by its crosses it is the mirror of the pane, its lettering is none.

Where a page lies is taken from its crosses and the figures beside them alone; X counts to the left there.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.affinity import scale
from template_pages import (
    CASES,
    SEEDS,
    contents_of,
    crosses_of,
    pages_of,
    sheets_of,
    texts_on,
    true_outline,
)

from outputs.documents import document_files
from outputs.drawing.turned_over import seen_from_inside
from outputs.files.proof import prove
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.entities import Fill, Text


def registered(words, curves):
    """What is added to (−x, y) of a place of the page, paper mm, to come to X and Y; and its own piece between the crosses."""
    figures, own = crosses_of(words, curves)
    return np.array([max(x for x, _ in figures) + own[0], min(y for _, y in figures) - own[1]]), own


@pytest.mark.parametrize(("name", "size"), CASES)
@pytest.mark.parametrize(("layer", "curve"), [("GLASS", "glass"), ("BEAD_CENTRE", "bead_centre"), ("FRIT_INNER", "frit_inner")])
def test_tiles_laid_together_and_turned_over_are_the_outline(name, size, layer, curve):
    """Both ways within 0.05 mm, in the X and Y of the other sheets."""
    contents = contents_of(name)
    origin = np.array([contents.detail.origin.at.x, contents.detail.origin.at.y])
    outline = true_outline(getattr(contents.detail.curves, curve))
    covered = shapely.MultiLineString()
    for words, window, curves in pages_of(name, size, True)[1:]:
        move, own = registered(words, curves)

        def turned(places, move=move):
            return places * (-1.0, 1.0) + move + origin

        for run in curves.get(layer, []):
            ink = shapely.transform(shapely.intersection(shapely.LineString(run), shapely.box(*window)), turned)
            if not ink.is_empty:
                assert shapely.distance(shapely.points(shapely.get_coordinates(ink)), outline).max() <= 0.05
                covered = covered.union(ink.intersection(shapely.transform(shapely.box(*own), turned)))
    assert covered.length == pytest.approx(outline.length, rel=1e-4)
    assert outline.difference(covered.buffer(0.05)).length < 1e-6


@pytest.mark.parametrize("name", ["SW-02", "SW-04", "SW-08", "SW-09", "SW-10", "round", 100_000])
def test_what_is_turned_over_is_the_mirror_in_every_part(name):
    """Outlines and blocks by shapely's own mirror; the bead at its start runs clockwise, with the glass at its right."""
    detail = contents_of(name).detail
    turned, x0 = seen_from_inside(detail), detail.origin.at.x
    for curve in ("glass", "bead_outer", "bead_centre", "bead_inner", "frit_inner", "recess"):
        wanted = scale(true_outline(getattr(detail.curves, curve)), -1.0, 1.0, origin=(x0, 0.0))
        assert true_outline(getattr(turned.curves, curve)).hausdorff_distance(wanted) < 5e-3
    for own, block in zip((*detail.spacers, *detail.chocks), (*turned.spacers, *turned.chocks), strict=True):
        at, there = (own.centre, block.centre) if hasattr(own, "centre") else (own.foot, block.foot)
        assert (there.x, there.y, block.mark) == pytest.approx((2 * x0 - at.x, at.y, own.mark))
        inwards = [(-math.sin(math.radians(each.angle)), math.cos(math.radians(each.angle))) for each in (own, block)]
        assert inwards[1] == pytest.approx((-inwards[0][0], inwards[0][1]))
    for corner, there in zip(detail.corners, turned.corners, strict=True):
        assert corner.number == there.number
        for own, after in (
            (corner.theoretical, there.theoretical),
            (corner.tangent_before, there.tangent_after),
            (corner.tangent_after, there.tangent_before),
        ):
            assert (after.x, after.y) == pytest.approx((2 * x0 - own.x, own.y))
        assert (there.bisector.x, there.bisector.y) == pytest.approx((-corner.bisector.x, corner.bisector.y))
    ring, start = true_outline(turned.curves.bead_centre), turned.bead_start
    ahead = (start.place.x + math.cos(math.radians(start.angle)), start.place.y + math.sin(math.radians(start.angle)))
    right = (start.place.x + math.sin(math.radians(start.angle)), start.place.y - math.cos(math.radians(start.angle)))
    assert ring.distance(shapely.Point(ahead)) < 0.05  # it runs along the centre
    assert shapely.Polygon(ring).contains(shapely.Point(right))


@pytest.mark.parametrize(("name", "size"), [*CASES, ("SW-01", "A4"), *((seed, "A4") for seed in SEEDS)])
def test_no_lettering_is_mirrored_cut_or_in_the_way(name, size):
    """Words read forward in the PDF; each block, corner and the start has its name whole on a tile; no two texts touch."""
    detail, sheets = contents_of(name).detail, sheets_of(name, size, True)
    found = set()
    for sheet, (words, _, _) in zip(sheets, pages_of(name, size, True), strict=True):
        prove(sheet)
        assert "mirrored" in words and "INNER FACE UP" in words
        assert "seen from outside" not in words
        for view in sheet.views:
            texts = [mark for mark in view.marks if isinstance(mark, Text)]
            found |= {mark.string for mark in texts}
            boxes = [box_of_text(mark, view.scale) for mark in texts if not mark.rotation % 90.0]
            if view.clipped:
                for box in boxes:
                    assert box[0] > view.window[0] and box[1] > view.window[1]
                    assert box[2] < view.window[2] and box[3] < view.window[3]
            assert not any(overlap(grown(one, 0.7), grown(other, 0.7)) for k, one in enumerate(boxes) for other in boxes[:k])
    named = {block.mark for block in (*detail.spacers, *detail.chocks)} | {f"V{corner.number}" for corner in detail.corners}
    assert named | {"START"} <= found


def test_every_page_says_that_it_is_mirrored_and_which_file_is_for_the_recess():
    contents = contents_of("SW-08")
    sheets, plain = sheets_of("SW-08", "A4", True), sheets_of("SW-08", "A4")
    assert len(sheets) == len(plain) - 1  # the notch is alike from both sides, and stands in the other
    assert all("mirrored" in text for sheet in sheets for text in texts_on(sheet) if text.startswith(("Tile ", "Overview")))
    assert not {sheet.title for sheet in sheets} & {sheet.title for sheet in plain}
    numbers = [{text.split("  ·  ")[0] for text in texts_on(sheet) if "mark " in text and "  ·  " in text} for sheet in (sheets[1], plain[1])]
    assert numbers == [{"417-SW-08-TM"}, {"417-SW-08-T"}]
    told = " ".join(texts_on(sheets[0]))
    assert f"{contents.pane.file_stem}-template.pdf" in told and "Never for the recess" in told
    assert f"{contents.pane.file_stem}-template-mirrored.pdf" in " ".join(texts_on(plain[0]))


def test_the_bead_starts_the_other_way_round():
    """On SW-10 it starts in the head and runs to the left as seen from outside, to the right here."""
    ways = []
    for inside in (False, True):
        for sheet in sheets_of("SW-10", "A4", inside)[1:]:
            for view in sheet.views:
                arrows = [mark for mark in view.marks if isinstance(mark, Fill) and mark.layer == "SECTION_MARKS"]
                ways += [(inside, mark.nodes[0][0] > sum(x for x, _, _ in mark.nodes) / len(mark.nodes)) for mark in arrows]
    assert {right for inside, right in ways if inside} == {True}
    assert {right for inside, right in ways if not inside} == {False}


def test_both_files_are_made_the_same_every_time_and_are_not_the_same():
    contents = contents_of("SW-10")
    first, second = (document_files(contents, ["template"], ["pdf"]) for _ in range(2))
    assert first == second
    assert len(set(first.values())) == 2
