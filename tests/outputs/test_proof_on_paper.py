"""The proof of a sheet refuses views that lie on one another on the paper, and views over its title block, tables and notes."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from outputs.files.proof import prove
from outputs.sheet.entities import Path, Sheet, Text, View
from outputs.sheet.layers import LAYERS
from outputs.sheet.refusal import SheetError
from outputs.sheet.runs import box

INK = Path("GLASS", ((10.0, 10.0, 0.0), (190.0, 10.0, 0.0), (190.0, 90.0, 0.0)), True)
PLAN = View(
    "plan", 0.5, (0.0, 0.0, 200.0, 100.0), (20.0, 30.0), (INK,)
)  # on paper 20 to 120, 30 to 80; its ink 25 to 115, 35 to 75
FAR = Path("GLASS", ((1010.0, 10.0, 0.0), (1090.0, 90.0, 0.0)))
OTHER = View("section", 1.0, (1000.0, 0.0, 1100.0, 100.0), (120.0, 30.0), (FAR,))  # on paper 120 to 220, 30 to 130


def sheet(*views: View, paper: tuple[Path | Text, ...] = ()) -> Sheet:
    return Sheet("A3", 420.0, 297.0, "DEMO", "Invented.", LAYERS, (), views, paper)


def test_two_views_on_one_another() -> None:
    prove(sheet(PLAN, OTHER))  # edge to edge
    for place in ((119.0, 30.0), (30.0, 40.0), (60.0, -20.0 + 30.0)):
        with pytest.raises(SheetError, match="the views 'plan' and 'section' lie on one another on the paper"):
            prove(sheet(PLAN, replace(OTHER, paper=place)))
    prove(sheet(PLAN, replace(OTHER, paper=(20.0, 80.0))))  # over it


@pytest.mark.parametrize(
    ("mark", "named"),
    [
        (box("TABLES", 100.0, 30.0, 160.0, 60.0), "a path on 'TABLES'"),
        (box("TITLE", 40.0, 40.0, 60.0, 50.0), "a path on 'TITLE'"),
        (Text("TEXT", 110.0, 50.0, "Cautions", 2.5), "the text 'Cautions'"),
    ],
)
def test_a_view_over_a_table_or_the_title_block(mark: Path | Text, named: str) -> None:
    with pytest.raises(SheetError, match=f"the view 'plan' lies over {named} of the paper"):
        prove(sheet(PLAN, paper=(mark,)))


def test_what_lies_round_a_view_or_in_its_margin_is_no_fault() -> None:
    frame = box("SHEET", 10.0, 10.0, 400.0, 280.0)
    beside = box("TABLES", 121.0, 30.0, 200.0, 90.0)
    centring = Path("SHEET", ((70.0, 85.0, 0.0), (70.0, 78.0, 0.0)))  # reaches 2 mm into the window, not to its ink
    prove(sheet(PLAN, paper=(frame, beside, centring)))


def test_every_view_of_three_is_compared() -> None:
    third = replace(OTHER, name="third", window=(2000.0, 0.0, 2100.0, 100.0), paper=(150.0, 100.0), marks=())
    with pytest.raises(SheetError) as told:
        prove(sheet(PLAN, OTHER, third))
    pairs = [f"{a!r} and {b!r}" for a, b in itertools.combinations(("plan", "section", "third"), 2)]
    assert [pair in str(told.value) for pair in pairs] == [False, False, True]


LEVEL, UPRIGHT = ((310.0, 210.0, 0.0), (320.0, 210.0, 0.0)), ((315.0, 205.0, 0.0), (315.0, 215.0, 0.0))
BETWEEN = ((315.0, 210.0, 0.0), (315.005, 210.005, 0.0))  # shorter than what may be passed unseen


@pytest.mark.parametrize("nodes", [LEVEL, UPRIGHT, BETWEEN])
def test_ink_that_is_one_straight_line_is_ink(nodes: tuple[tuple[float, float, float], ...]) -> None:
    view = View("line", 1.0, (300.0, 200.0, 330.0, 220.0), (100.0, 100.0), (Path("GLASS", nodes),))  # its middle at 115, 110
    for across in (Path("SHEET", ((105.0, 100.5, 0.0), (125.0, 119.5, 0.0))), Text("TEXT", 110.0, 109.0, "Cautions", 2.5)):
        what = "the text 'Cautions'" if isinstance(across, Text) else "a path on 'SHEET'"
        with pytest.raises(SheetError, match=f"the view 'line' lies over {what} of the paper"):
            prove(sheet(view, paper=(across,)))
    prove(sheet(view, paper=(Path("SHEET", ((101.0, 117.0, 0.0), (129.0, 117.0, 0.0))), Text("TEXT", 101.0, 112.0, "A", 2.0))))


def test_a_mark_that_cannot_be_drawn_is_told_beside_what_lies_under_its_view() -> None:
    bad = Text("TEXT", 100.0, 50.0, "\u2610", 2.5)
    with pytest.raises(SheetError) as told:
        prove(sheet(replace(PLAN, marks=(INK, bad)), paper=(box("TITLE", 40.0, 40.0, 60.0, 50.0),)))
    assert "the view 'plan' lies over a path on 'TITLE' of the paper" in str(told.value)
    assert "mark 2 of view 'plan' (Text on 'TEXT'): the text '\u2610' cannot be printed" in str(told.value)


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        # PLAN's ink runs on paper from 25 to 115 and from 35 to 75; 0,01 mm at each side may be passed unseen.
        (((60.0, 74.985, 0.0), (80.0, 74.985, 0.0)), True),
        (((60.0, 74.995, 0.0), (80.0, 74.995, 0.0)), False),
        (((60.0, 35.015, 0.0), (80.0, 35.015, 0.0)), True),
        (((60.0, 35.005, 0.0), (80.0, 35.005, 0.0)), False),
        (((25.015, 40.0, 0.0), (25.015, 60.0, 0.0)), True),
        (((25.005, 40.0, 0.0), (25.005, 60.0, 0.0)), False),
        (((114.985, 40.0, 0.0), (114.985, 60.0, 0.0)), True),
        (((114.995, 40.0, 0.0), (114.995, 60.0, 0.0)), False),
    ],
)
def test_how_far_a_stroke_may_reach_into_the_ink_of_a_view(line: tuple[tuple[float, float, float], ...], seen: bool) -> None:
    plan = sheet(PLAN, paper=(Path("TABLES", line),))
    if not seen:
        prove(plan)
        return
    with pytest.raises(SheetError, match="the view 'plan' lies over a path on 'TABLES' of the paper"):
        prove(plan)
