"""The exploded view on the detail sheet: where there is room, one sheet and one count; where there is none, a sheet of its own that is told."""

from __future__ import annotations

import io
import math
import random
import re
from dataclasses import replace
from functools import cache
from pathlib import Path as File

import ezdxf
import numpy as np
import pytest
from measured import largest_empty, taken, text_near_line, text_near_text
from pypdf import PdfReader
from test_exploded_sheet import arrows_of, balloons

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from outputs.documents import document_files
from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import overlap
from outputs.sheet.entities import Path, Sheet, Text, View
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheet.refusal import SheetError
from outputs.sheet.white_space import AIR, white_rectangles
from outputs.sheets import exploded_inset
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.detail_tables import part_rows
from outputs.sheets.exploded_inset import NAME, settled

ROOT = File(__file__).parents[3]
HEAD = '[sheet]\nexploded = true\nsize = "A1"\n[[pane]]\ncode = "P1"\nframe = "aluminium"\n'
PANES = {
    "strip 3000": 'glass = { plies = [8] }\nforward = "left"\noutline = { rectangle = [3000, 200], radius = 20 }\n',
    "thick laminate": "glass = { plies = [12, 12, 12], interlayers = [1.52, 1.52] }\noutline = { rectangle = [1000, 600], radius = 50 }\n",
    "round 180": "glass = { plies = [8] }\noutline = { circle = 180 }\n",
    "L": "glass = { plies = [8] }\noutline = { polygon = [[0, 0], [1200, 0], [1200, 400], [700, 400], [700, 900], [0, 900]], radius = 40 }\n",
}


@cache
def given(name: str) -> Contents:
    job = job_of(HEAD + PANES[name])
    pane = job.panes[0]
    detail = build_detail(job, pane)
    return Contents(job, pane, detail, check_pane(job, pane, detail, plate=False, plan=False))


@cache
def made(name: str) -> tuple[Contents, Sheet]:
    contents = settled(given(name))
    assert contents.inset
    assert contents.detail_sheet is not None
    return contents, contents.detail_sheet


@pytest.fixture(params=PANES)
def drawn(request: pytest.FixtureRequest) -> tuple[Contents, Sheet]:
    return made(request.param)


def exploded(sheet: Sheet) -> View:
    (view,) = [view for view in sheet.views if view.name == NAME]
    return view


def box_on_paper(view: View) -> tuple[float, float, float, float]:
    (left, low, right, high), (x, y) = view.window, view.paper
    return x, y, x + (right - left) * view.scale, y + (high - low) * view.scale


def test_it_is_drawn_and_the_count_is_that_of_one_sheet(drawn):
    contents, sheet = drawn
    assert (NAME, Outcome("exploded view", Fate.DRAWN)) in sheet.outcomes
    assert contents.sheets == 4
    assert "1 of 4" in [mark.string for mark in sheet.marks if isinstance(mark, Text)]
    assert svg_bytes(sheet)  # the proof of every sheet: no view on another, nothing beyond its window
    assert dxf_bytes(sheet)


def test_no_second_sheet_is_made_and_every_document_counts_so():
    contents = given("round 180")
    files = document_files(contents, ("detail", "pane"), ("svg", "pdf", "dxf"))
    stem = contents.pane.file_stem
    assert sorted(files) == sorted(
        f"{stem}-{end}" for end in ("detail.svg", "detail.dxf", "detail.pdf", "pane.svg", "pane.dxf", "pane.pdf")
    )
    assert len(PdfReader(io.BytesIO(files[f"{stem}-detail.pdf"])).pages) == 1
    layouts = ezdxf.read(io.StringIO(files[f"{stem}-detail.dxf"].decode("utf-8"))).layouts
    assert len([name for name in layouts.names() if name != "Model"]) == 1
    counts = [re.findall(r">(\d of \d)<", files[f"{stem}-{end}.svg"].decode()) for end in ("detail", "pane")]
    assert counts == [["1 of 4"], ["2 of 4"]]
    # asked for alone, the pane sheet counts as it does beside the detail sheet
    ((_, alone),) = document_files(contents, ("pane",), ("svg",)).items()
    assert alone == files[f"{stem}-pane.svg"]


def test_lettering_keeps_clear_as_on_every_sheet(drawn):
    _, sheet = drawn
    assert text_near_text(sheet, 1.5 - 0.02) == []
    assert text_near_line(sheet, 0.7 - 0.02) == []


@pytest.mark.parametrize("name", PANES)
def test_it_stands_where_the_sheet_without_it_is_white(name):
    """The sheet without it has the same things on it, spread over the room that it would take."""
    (_, sheet), plain = made(name), detail_of(given(name))
    bare = replace(sheet, views=tuple(view for view in sheet.views if view.name != NAME))
    left, low, right, high = box_on_paper(exploded(sheet))
    assert not taken(bare)[math.floor(low) : math.ceil(high), math.floor(left) : math.ceil(right)].any()
    boxes = [box_on_paper(view) for view in sheet.views]
    assert not any(overlap(one, other) for i, one in enumerate(boxes) for other in boxes[i + 1 :])
    # all else is as it was, but for the count and the scales in the title block, and where the other sheet is
    assert [(view.name, view.scale, len(view.marks)) for view in bare.views] == [
        (view.name, view.scale, len(view.marks)) for view in plain.views
    ]
    assert len([mark for mark in sheet.marks if not isinstance(mark, Text)]) == len(
        [mark for mark in plain.marks if not isinstance(mark, Text)]
    )
    words = [{mark.string for mark in each.marks if isinstance(mark, Text)} for each in (sheet, plain)]
    assert len(words[0] - words[1]) <= 2
    assert words[1] - words[0] <= {
        "1 of 5",
        "Exploded view: sheet 5 of 5.",
        *(each for each in words[1] if each.startswith("1:")),
    }


def test_numbers_in_its_balloons_are_those_of_the_parts_list_of_the_same_sheet(drawn):
    contents, sheet = drawn
    listed = {number for number, quantity, *_ in part_rows(contents.detail, contents.check) if quantity != "0"}
    on_sheet = {mark.string for mark in sheet.marks if isinstance(mark, Text)}
    told = balloons(exploded(sheet))
    assert len(told) == len(set(told))
    assert set(told) <= listed <= on_sheet
    lost = {outcome.what: outcome.reason for view, outcome in sheet.outcomes if view == NAME and outcome.fate is not Fate.DRAWN}
    assert set(lost) == {f"item {number}" for number in listed - set(told)}
    assert set(lost.values()) <= {exploded_inset.ELSEWHERE}
    assert listed - set(told) <= {"8", "9"}  # blocks that stand away from the corner


def test_its_scale_is_of_the_standard_and_in_the_title_block(drawn):
    _, sheet = drawn
    view = exploded(sheet)
    assert view.scale in (2.0, 1.0, 0.5, 0.2, 0.1)  # ISO 5455
    words = {2.0: "2:1", 1.0: "1:1"}.get(view.scale, f"1:{1 / view.scale:.0f}")
    assert words in [mark.string for mark in view.marks if isinstance(mark, Text)]
    (scale,) = [
        mark.string for mark in sheet.marks if isinstance(mark, Text) and re.fullmatch(r"\d+:\d+ \([\d:, ]+\)", mark.string)
    ]
    assert words in re.findall(r"\d+:\d+", scale)


def test_its_arrows_tell_the_ways(drawn):
    contents, sheet = drawn
    wanted = {"OUTSIDE": 210.0, "UP": 90.0} | ({"FWD": 150.0} if contents.detail.forward == "left" else {})
    assert arrows_of(exploded(sheet)) == pytest.approx(wanted)


def test_the_parts_come_apart_so_far_that_bead_and_pane_are_told_from_each_other(drawn):
    """By its trace lines, which run from part to part along the normal: the longest is longer than the bead is wide on paper."""
    contents, sheet = drawn
    view = exploded(sheet)
    longest = max(
        math.dist(*(n[:2] for n in mark.nodes)) for mark in view.marks if isinstance(mark, Path) and mark.layer == "TRACE_LINES"
    )
    assert longest > contents.detail.sizes.bond_width.value
    assert contents.detail.sizes.bond_width.value * view.scale >= 2.4 * 1.4 - 1e-9


def test_the_same_bytes_a_second_time():
    again = settled(given("round 180")).detail_sheet
    assert again is not None
    assert svg_bytes(again) == svg_bytes(made("round 180")[1])


def test_where_no_room_is_large_enough_it_has_its_own_sheet_and_the_first_says_where(monkeypatch):
    monkeypatch.setattr(exploded_inset, "LEAST", (2000.0, 2000.0))
    contents = given("round 180")
    assert settled(contents) is contents
    files = document_files(contents, ("detail",), ("svg",))
    stem = contents.pane.file_stem
    assert set(files) == {f"{stem}-detail-1.svg", f"{stem}-detail-2.svg"}
    first, second = (files[f"{stem}-detail-{count}.svg"].decode() for count in (1, 2))
    assert ">1 of 5<" in first
    assert ">5 of 5<" in second
    assert "Exploded view: sheet 5 of 5." in first
    assert ("EXPLODED VIEW", Outcome("exploded view", Fate.LEFT_OUT, "on a sheet of its own: 5 of 5")) in detail_of(
        contents
    ).outcomes


def test_a_kernel_that_gives_up_is_told_by_who_draws_and_the_pane_sheet_is_drawn_all_the_same(monkeypatch):
    from OCP.StdFail import StdFail_NotDone

    from geometry.solids import seen

    def gives_up(*_given: object) -> None:
        raise StdFail_NotDone("BRep_API: command not done")

    monkeypatch.setattr(seen, "_hidden_removed", gives_up)
    contents = given("round 180")
    assert settled(contents) is contents
    assert len(document_files(contents, ("pane",), ("svg",))) == 1
    with pytest.raises(SheetError, match="the exploded view cannot be drawn: the view of the bodies cannot be made"):
        document_files(contents, ("detail",), ("svg",))


def test_a_sheet_that_was_not_asked_for_it_stays_as_it_is():
    job = read_job(ROOT / "samples" / "rectangle.toml")
    contents = Contents(job, job.panes[0], build_detail(job, job.panes[0]))
    ((_, data),) = document_files(contents, ("detail",), ("svg",)).items()
    assert b"EXPLODED" not in data
    assert b"xploded view" not in data


@pytest.mark.parametrize("seed", range(12))
def test_white_rectangles_are_empty_cannot_grow_and_the_largest_is_among_them(seed):
    """Against the measure of the tests, on squares of a millimetre; what is taken lies on whole millimetres."""
    dice = random.Random(seed)
    wide, high = dice.randint(60, 160), dice.randint(50, 120)
    boxes = []
    for _ in range(dice.randint(0, 9)):
        x, y = dice.randint(0, wide - 5), dice.randint(0, high - 5)
        boxes.append((float(x), float(y), float(x + dice.randint(1, 40)), float(y + dice.randint(1, 30))))
    air = int(AIR)
    grid = np.zeros((high, wide), dtype=bool)
    for left, low, right, top in boxes:
        grid[max(0, int(low) - air) : int(top) + air, max(0, int(left) - air) : int(right) + air] = True
    grid[:air], grid[-air:], grid[:, :air], grid[:, -air:] = True, True, True, True
    area, _ = largest_empty(grid)
    found = [tuple(map(int, each)) for each in white_rectangles(boxes, (0.0, 0.0, float(wide), float(high)), least=(8.0, 8.0))]
    for left, low, right, top in found:
        assert min(right - left, top - low) >= 8
        assert not grid[low:top, left:right].any()
        for a, b, c, d in (
            (left - 1, low, left, top),
            (right, low, right + 1, top),
            (left, low - 1, right, low),
            (left, top, right, top + 1),
        ):
            assert grid[b:d, a:c].any()  # it cannot grow
    broad = [each for each in found if (each[2] - each[0]) * (each[3] - each[1]) == area]
    _, (left, low, right, top) = largest_empty(grid)
    assert broad or min(right - left, top - low) < 8
