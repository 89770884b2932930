"""Everything planned for a view ends as drawn, told in a table or note, or left out with a reason; nothing is lost without a word."""

from __future__ import annotations

import math
from collections import Counter
from pathlib import Path as File

import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.job.reading import job_of
from outputs.drawing.plan_view import PlanView
from outputs.drawing.section_heights import Height, columns
from outputs.sheet.boxes import texts_of
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import Dimension, Sheet
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheet.pencil import Pencil
from outputs.sheet.picture import Picture
from outputs.sheets.column import not_lettered
from outputs.sheets.detail_sheet import detail_sheet
from outputs.sheets.recipe import _whole

ROOT = File(__file__).parents[2]
JOBS = [read_job(ROOT / "samples" / name) for name in ("sallow-wren.toml", "minimal.toml", "every-key.toml")]
PANES = {pane.code: (job, pane) for job in JOBS for pane in job.panes}


@pytest.fixture(scope="module", params=PANES)
def drawn(request: pytest.FixtureRequest):
    job, pane = PANES[request.param]
    detail = build_detail(job, pane)
    return detail, detail_sheet(job, pane, detail)


def told(sheet: Sheet, view: str) -> Counter[str]:
    return Counter(outcome.what for name, outcome in sheet.outcomes if name == view)


def test_every_planned_name_of_the_plan_has_one_end(drawn) -> None:
    detail, sheet = drawn
    planned = Counter(
        [chock.mark for chock in detail.chocks]
        + [spacer.mark for spacer in detail.spacers]
        + [f"V{corner.number}" for corner in detail.corners]
        + [name for name, _, _ in detail.edge_middles]
        + [f"letter {section.letter} of a cutting plane" for section in detail.sections for _ in range(2)]
        + ["bead start", "centroid"]
    )
    ends = told(sheet, "PLAN")
    assert {what: ends[what] for what in planned} == planned


def test_what_is_told_as_drawn_stands_on_its_view(drawn) -> None:
    _, sheet = drawn
    texts = {view.name: Counter(text.string for text in texts_of(view.marks)) for view in sheet.views}
    sizes = {view.name: sum(isinstance(mark, Dimension) for mark in view.marks) for view in sheet.views}
    heights: Counter[str] = Counter()
    for name, outcome in sheet.outcomes:
        what, _, figure = outcome.what.rpartition(" ")
        if outcome.fate is not Fate.DRAWN:
            assert outcome.reason
        elif name == "PLAN" and what in ("", "size"):
            assert texts[name][figure] or figure == "centroid" or figure == "start"
        elif what == "item":
            assert texts[name][figure] >= 1
        elif what == "height":
            heights[name] += 1
            assert any(text.split(" ")[0] == figure for text in texts[name])
    for name, count in heights.items():
        assert sizes[name] >= count


def test_every_row_of_a_section_has_its_name_on_the_view(drawn) -> None:
    _, sheet = drawn
    for name in (view.name for view in sheet.views if view.name.startswith("SECTION")):
        texts = {text.string for view in sheet.views if view.name == name for text in texts_of(view.marks)}
        rows = [what for what in told(sheet, name) if what.split(" ")[0] not in ("item", "height", "fillet", "draft")]
        assert rows
        assert set(rows) <= texts


def test_no_reason_no_end() -> None:
    with pytest.raises(ValueError, match="V1 is not drawn, and no reason is told"):
        Outcome("V1", Fate.LEFT_OUT)


def test_a_height_without_a_free_column_is_told_and_not_drawn_over() -> None:
    """A wall of text stands where the columns would: nothing is written over it."""
    pencil, room = Pencil(DraftingStyle(), 1.0), KeepClear(scale=1.0)
    room.block((-500.0, -500.0, 0.0, 500.0))
    assert columns((Height(0.0, 12.5, 0.0, 0.0),), pencil, room, first=-5.0, sign=-1.0) == []
    (outcome,) = room.outcomes
    assert (outcome.what, outcome.fate) == ("height 12,5", Fate.TABLED)


def test_a_plan_without_room_says_so_on_the_sheet() -> None:
    """At 1:500 nothing finds room: every name is told, and the note of the sheet names it."""
    job, pane = PANES["SW-01"]
    view = PlanView(build_detail(job, pane), Pencil(DraftingStyle(), 0.002), corner_letter=None)
    lost = [outcome.what for outcome in view.outcomes if outcome.fate is not Fate.DRAWN]
    assert {"V1", "e1"} & set(lost)
    (note,) = not_lettered([Picture("PLAN", "PLAN 1:500", 0.002, (), (0.0, 0.0, 1.0, 1.0), tuple(view.outcomes))])
    assert all(what in note for what in lost)


def test_a_way_that_leaves_something_out_comes_last() -> None:
    def way(*fates: Fate):
        outcomes = tuple(Outcome("x", fate, "no room") for fate in fates)
        return type("Way", (), {"groups": ([Picture("P", "P", 1.0, (), (0.0, 0.0, 1.0, 1.0), outcomes)],)})()

    bare, tabled, whole = way(Fate.LEFT_OUT), way(Fate.TABLED, Fate.DRAWN), way(Fate.DRAWN)
    put_by: list = []
    assert list(_whole(iter([bare, tabled, whole]), put_by)) == [tabled, whole]
    assert put_by == [bare]


def test_more_corners_than_the_tables_hold() -> None:
    """A hundred and twenty corners on an oval: the table of vertices says how many more there are, and the pane is drawn."""
    turns = [2 * math.pi * index / 120 for index in range(120)]
    places = ", ".join(f"[{1500 + 1500 * math.cos(turn):.3f}, {900 + 900 * math.sin(turn):.3f}]" for turn in turns)
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "aluminium"\nglass = {{ plies = [12] }}\n'
        f"outline = {{ polygon = [{places}] }}\npressure = {{ outward = 2 }}\n"
    )
    sheet = detail_sheet(job, job.panes[0], build_detail(job, job.panes[0]))
    listed = {text.string for text in texts_of(sheet.marks)}
    assert {"V23", "97 more"} <= listed
    assert "V24" not in listed
