"""Every refusal of the proof happens: a good sheet, one thing of it made wrong, and the sentence that names it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from outputs.files.dxf import dxf_bytes
from outputs.files.proof import LINE_WEIGHTS, prove
from outputs.files.svg import svg_bytes
from outputs.sheet.entities import Attribute, Block, Dimension, Fill, Hatch, Insert, Path, Sheet, Text, View
from outputs.sheet.layers import LAYERS, LINETYPES
from outputs.sheet.refusal import SheetError

SQUARE = ((10.0, 10.0, 0.0), (20.0, 10.0, 0.0), (20.0, 20.0, 0.0), (10.0, 20.0, 0.0))
GOOD = Path("GLASS", SQUARE, True)
WINDOW = (0.0, 0.0, 200.0, 100.0)
NAN, INF = math.nan, math.inf
BLOCK = Block("CHOCK", (Path("0", SQUARE, True),), (("ITEM", "Item"), ("SIZE", "Size")))


def sheet(*marks, layers=LAYERS, blocks=(BLOCK,), view=None, views=(), width=420.0, height=297.0, paper=()) -> Sheet:
    first = View("plan", 0.5, WINDOW, (20.0, 30.0), marks or (GOOD,)) if view is None else view
    return Sheet("A3", width, height, "DEMO", "Invented.", layers, blocks, (first, *views), paper)


def refusal(bad: Sheet) -> str:
    """What the proof says; both writers say the same and write nothing."""
    with pytest.raises(SheetError) as told:
        prove(bad)
    for write in (dxf_bytes, svg_bytes):
        with pytest.raises(SheetError) as again:
            write(bad)
        assert str(again.value) == str(told.value)
    return str(told.value)


def dimension(**changes) -> Dimension:
    text = Text("DIMENSIONS", 50.0, 41.0, "30", 2.5, "middle")
    good = Dimension("DIMENSIONS", "linear", (35.0, 30.0), (65.0, 30.0), (35.0, 40.0), 0.0, 30.0, "30", (50.0, 42.0), (text,))
    return replace(good, **changes)


def insert(**changes) -> Insert:
    shown = Text("CHOCKS", 60.0, 60.0, "K1", 2.5)
    good = Insert("CHOCKS", "CHOCK", 60.0, 50.0, 0.0, (Attribute("ITEM", "K1", shown), Attribute("SIZE", "80 × 7")))
    return replace(good, **changes)


def layers_with(**changes):
    return tuple(replace(layer, **changes) if layer.name == "GLASS" else layer for layer in LAYERS)


def test_the_good_sheet_is_written():
    marks = (
        GOOD,
        Path("GLASS", ((30.0, 10.0, 0.0), (40.0, 10.0, 0.0))),
        Path("GLASS", ((30.0, 20.0, 1.0), (40.0, 20.0, 0.0)), True),
        Fill("GLASS", SQUARE),
        Hatch("MATERIAL_GLASS", "glass", (SQUARE,)),
        Text("TEXT", 100.0, 50.0, "a", 2.5),
        Text("TEXT", 100.0, 50.0, "", 2.5),
        dimension(),
        insert(),
    )
    prove(sheet(*marks))
    assert dxf_bytes(sheet(*marks))
    assert svg_bytes(sheet(*marks))


MARKS = [
    # a layer that is not there
    (Path("NOWHERE", SQUARE, True), "the layer 'NOWHERE' is not defined"),
    # runs
    (Path("GLASS", SQUARE[:1]), "it has 1 nodes; a run has 2 or more"),
    (Path("GLASS", ()), "it has 0 nodes"),
    (Fill("GLASS", SQUARE[:1]), "it has 1 nodes"),
    (Hatch("MATERIAL_GLASS", "glass", (SQUARE, SQUARE[:1])), "it has 1 nodes"),
    (Path("GLASS", ((10.0, 10.0, NAN), (20.0, 10.0, 0.0))), "one of its coordinates is not a number"),
    (Path("GLASS", ((10.0, 10.0, 0.0), (20.0, INF, 0.0))), "one of its coordinates is not a number"),
    (Path("GLASS", SQUARE[:2], True), "it is closed and has two nodes and no arc, so it has no inside"),
    (Fill("GLASS", SQUARE[:2]), "it is closed and has two nodes and no arc"),
    (Path("GLASS", ((10.0, 10.0, 0.0), (10.0, 10.0, 0.0))), "its segment at 10.000000, 10.000000 has no length"),
    # 0,00001 mm on paper at 1:2 is 0,00002 in the model
    (Path("GLASS", ((10.0, 10.0, 0.0), (10.000019, 10.0, 0.0), (20.0, 10.0, 0.0))), "its segment at 10.000000, 10.000000 has no length"),
    (Path("GLASS", (*SQUARE, (10.0, 10.0, 0.0)), True), "its segment at 10.000000, 10.000000 has no length"),
    # hatches
    (Hatch("MATERIAL_GLASS", "granite", (SQUARE,)), "there is no hatch for the material 'granite'; there is one for frame, glass"),
    (Hatch("MATERIAL_GLASS", "glass", ()), "it has no boundary"),
    # texts
    (Text("TEXT", NAN, 50.0, "a", 2.5), "the text 'a' has a place or a height (2.5 mm) that cannot be drawn"),
    (Text("TEXT", 50.0, INF, "a", 2.5), "that cannot be drawn"),
    (Text("TEXT", 50.0, 50.0, "a", 2.5, "left", NAN), "that cannot be drawn"),
    (Text("TEXT", 50.0, 50.0, "a", 0.0), "a height (0.0 mm) that cannot be drawn"),
    (Text("TEXT", 50.0, 50.0, "a", -1.0), "a height (-1.0 mm) that cannot be drawn"),
    (Text("TEXT", 50.0, 50.0, "☐", 2.5), "the text '☐' cannot be printed"),
    # dimensions
    (dimension(measured=NAN), "one of its figures is not a number"),
    (dimension(first=(NAN, 0.0)), "one of its figures is not a number"),
    (dimension(second=(0.0, INF)), "one of its figures is not a number"),
    (dimension(on_line=(0.0, NAN)), "one of its figures is not a number"),
    (dimension(text_at=(NAN, 0.0)), "one of its figures is not a number"),
    (dimension(angle=NAN), "one of its figures is not a number"),
    (dimension(measured=30.0011), "it says it measures 30.0011 mm and its points are 30.0000 mm apart"),
    (dimension(measured=29.9989), "it says it measures 29.9989 mm and its points are 30.0000 mm apart"),
    (dimension(angle=60.0), "it says it measures 30.0000 mm and its points are 15.0000 mm apart"),
    (dimension(kind="radius", second=(65.0, 70.0)), "it says it measures 30.0000 mm and its points are 50.0000 mm apart"),
    (dimension(kind="diameter", second=(65.0, 70.0)), "it says it measures 30.0000 mm and its points are 50.0000 mm apart"),
    (dimension(text="31"), "its text '31' is not among its parts"),
    (dimension(parts=()), "its text '30' is not among its parts"),
    (
        dimension(parts=(Text("TEXT", 50.0, 41.0, "30", 2.5),)),
        "a part of it stands on the layer 'TEXT'; it must stand on that of the dimension",
    ),
    (
        dimension(parts=(*dimension().parts, Path("DIMENSIONS", ((50.0, 50.0, 0.0), (50.0, 50.0, 0.0))))),
        "its segment at 50.000000, 50.000000 has no length",
    ),
    # inserts
    (insert(block="CHOKE"), "the block 'CHOKE' is not defined"),
    (insert(x=NAN), "one of its figures is not a number"),
    (insert(y=NAN), "one of its figures is not a number"),
    (insert(rotation=INF), "one of its figures is not a number"),
    (insert(attributes=(Attribute("COLOUR", "red"),)), "the block 'CHOCK' has no tag 'COLOUR'; it has ITEM, SIZE"),
    (
        insert(attributes=(Attribute("ITEM", "K1", Text("NOWHERE", 60.0, 60.0, "K1", 2.5)),)),
        "the layer 'NOWHERE' of its tag 'ITEM' is not defined",
    ),
    (
        insert(attributes=(Attribute("ITEM", "K1", Text("CHOCKS", 60.0, 60.0, "K2", 2.5)),)),
        "its tag 'ITEM' carries 'K1' and shows 'K2'",
    ),
    (insert(attributes=(Attribute("ITEM", "K1", Text("CHOCKS", 60.0, 60.0, "K1", 0.0)),)), "a height (0.0 mm) that cannot be drawn"),
    # outside the window of the view: 0,01 mm on paper at 1:2 is 0,02 in the model
    (Path("GLASS", ((10.0, 10.0, 0.0), (200.021, 10.0, 0.0))), "it reaches to 200.021, 10.000, outside the window (0.0, 0.0, 200.0, 100.0)"),
    (Path("GLASS", ((10.0, 10.0, 0.0), (-0.021, 10.0, 0.0))), "it reaches to -0.021, 10.000, outside the window"),
    (Path("GLASS", ((10.0, 10.0, 0.0), (10.0, 100.021, 0.0))), "it reaches to 10.000, 100.021, outside the window"),
    (Path("GLASS", ((10.0, 10.0, 0.0), (10.0, -0.021, 0.0))), "it reaches to 10.000, -0.021, outside the window"),
    (Fill("GLASS", (*SQUARE[:3], (10.0, 105.0, 0.0))), "it reaches to 10.000, 105.000, outside the window"),
    (Hatch("MATERIAL_GLASS", "glass", (SQUARE, (*SQUARE[:3], (10.0, 105.0, 0.0)))), "it reaches to 10.000, 105.000, outside"),
    (Text("TEXT", 205.0, 50.0, "a", 2.5), "it reaches to 205.000, 50.000, outside the window"),
    (insert(x=-5.0), "it reaches to -5.000, 50.000, outside the window"),
    (
        dimension(parts=(*dimension().parts, Path("DIMENSIONS", ((50.0, 50.0, 0.0), (50.0, -5.0, 0.0))))),
        "it reaches to 50.000, -5.000, outside the window",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("mark", "words"), MARKS)
def test_a_mark_that_cannot_be_drawn(mark, words):
    told = refusal(sheet(GOOD, mark))
    assert words in told
    kind = type(mark).__name__
    assert f"mark 2 of view 'plan' ({kind} on {mark.layer!r}): " in told
    assert told.startswith("sheet 'DEMO' cannot be written: ")


@pytest.mark.parametrize("mark", [mark for mark, words in MARKS if "outside" not in words and "no length" not in words])
def test_the_same_mark_on_paper(mark):
    assert "mark 1 of the paper (" in refusal(sheet(paper=(mark,)))


@pytest.mark.parametrize("wrong", [NAN, INF, -INF])
@pytest.mark.parametrize("closed", [True, False])
def test_every_figure_of_a_run_is_looked_at(wrong, closed):
    for number, figure in ((node, figure) for node in range(len(SQUARE)) for figure in range(3)):
        nodes = [list(node) for node in SQUARE]
        nodes[number][figure] = wrong
        with pytest.raises(SheetError, match="one of its coordinates is not a number"):
            prove(sheet(paper=(Path("GLASS", tuple(tuple(node) for node in nodes), closed),)))


@pytest.mark.parametrize("closed", [True, False])
def test_every_segment_of_a_run_is_looked_at(closed):
    for number in range(len(SQUARE)):
        nodes = (*SQUARE[: number + 1], *SQUARE[number:])  # one node twice
        x, y, _ = SQUARE[number]
        with pytest.raises(SheetError, match=f"its segment at {x:.6f}, {y:.6f} has no length"):
            prove(sheet(paper=(Path("GLASS", nodes, closed),)))
    ends = ((10.0, 10.0, 0.0), (20.0, 10.0, 0.0), (20.0, 20.0, 0.0), (10.0, 10.0, 0.0))  # one place: no length where it is closed
    prove(sheet(paper=(Path("GLASS", ends),)))
    with pytest.raises(SheetError, match="its segment at 10.000000, 10.000000 has no length"):
        prove(sheet(paper=(Path("GLASS", ends, True),)))


BETWEEN = [
    Path("GLASS", ((10.0, 10.0, 0.0), (200.019, 10.0, 0.0))),
    Path("GLASS", ((10.0, 10.0, 0.0), (10.0, -0.019, 0.0))),
    Path("GLASS", ((10.0, 10.0, 0.0), (10.000021, 10.0, 0.0))),  # open: its ends are not joined
    dimension(measured=30.0009),
    dimension(second=(65.0, 37.0)),  # measured along its angle
    dimension(kind="radius", first=(20.0, 20.0), second=(38.0, 44.0)),
    dimension(parts=(*dimension().parts, Path("0", ((50.0, 50.0, 0.0), (50.0, 55.0, 0.0))))),
    Fill("GLASS", ((10.0, 10.0, 1.0), (20.0, 10.0, 0.0))),
    Fill("GLASS", ((10.0, 10.0, 0.0), (20.0, 10.0, 1.0))),
    insert(attributes=()),
]


@pytest.mark.parametrize("mark", BETWEEN)
def test_what_lies_within_the_tolerances_is_written(mark):
    prove(sheet(mark))


def test_the_window_of_a_view_does_not_bound_the_paper():
    prove(sheet(paper=(Path("SHEET", ((10.0, 290.0, 0.0), (410.0, 290.0, 0.0))),)))


@pytest.mark.parametrize(("width", "height"), [(0.0, 297.0), (420.0, 0.0), (-420.0, 297.0), (NAN, 297.0), (420.0, INF)])
def test_a_sheet_without_a_size(width, height):
    bad = Sheet("A3", width, height, "DEMO", "Invented.", LAYERS, (), (), (GOOD,))
    assert f"its size is {width} × {height} mm; both must be greater than 0" in refusal(bad)


def test_two_blocks_of_one_name():
    assert "two blocks have the same name" in refusal(sheet(blocks=(BLOCK, BLOCK)))


@pytest.mark.parametrize("name", ["", "A/B", "A*", "A|B", "A`"])
def test_a_block_name_that_dxf_does_not_know(name):
    told = refusal(sheet(blocks=(replace(BLOCK, name=name),)))
    assert f"the block name {name!r} is not allowed: 1 or more characters without" in told


def test_marks_of_a_block():
    on_glass = replace(BLOCK, marks=(GOOD,))
    assert "mark 1 of block 'CHOCK' stands on layer 'GLASS'; marks of a block stand on layer '0'" in refusal(
        sheet(blocks=(on_glass,))
    )
    bad = replace(BLOCK, marks=(Path("0", SQUARE, True), Path("0", SQUARE[:1])))
    assert "mark 2 of block 'CHOCK': it has 1 nodes" in refusal(sheet(blocks=(bad,)))


@pytest.mark.parametrize("width", [0.45, NAN, 3.0, -0.25, 0.26])
def test_a_line_width_that_is_not_in_the_list(width):
    told = refusal(sheet(layers=layers_with(width=width)))
    assert f"layer 'GLASS' is {width} mm wide; allowed are 0.00, 0.05, 0.09" in told


def test_every_line_width_of_the_list_is_written():
    """Group 370 of the published DXF reference, 1/100 mm."""
    assert LINE_WEIGHTS == (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
    for weight in LINE_WEIGHTS:
        prove(sheet(layers=layers_with(width=weight / 100)))


@pytest.mark.parametrize("colour", [0, -1, 256])
def test_a_colour_that_is_not_in_the_index(colour):
    assert f"layer 'GLASS' has the colour {colour}; allowed are 1 to 255" in refusal(sheet(layers=layers_with(colour=colour)))


@pytest.mark.parametrize("colour", [1, 255])
def test_the_colours_of_the_index(colour):
    prove(sheet(layers=layers_with(colour=colour)))


def test_a_line_type_that_is_not_defined():
    told = refusal(sheet(layers=layers_with(linetype="WAVY")))
    assert f"layer 'GLASS' has the line type 'WAVY'; allowed are {', '.join(LINETYPES)}" in told


def test_a_layer_defined_twice():
    assert "layer 'glass' is defined twice" in refusal(sheet(layers=(*LAYERS, replace(LAYERS[1], name="glass"))))


VIEWS = [
    (
        View("plan", 0.0, WINDOW, (20.0, 30.0), ()),
        "has the window (0.0, 0.0, 200.0, 100.0) at the scale 0.0; both must be greater",
    ),
    (View("plan", -1.0, WINDOW, (20.0, 30.0), ()), "at the scale -1.0"),
    (View("plan", NAN, WINDOW, (20.0, 30.0), ()), "at the scale nan"),
    (View("plan", 0.5, WINDOW, (NAN, 30.0), ()), "both must be greater than 0"),
    (View("plan", 0.5, (0.0, INF, 200.0, 100.0), (20.0, 30.0), ()), "both must be greater than 0"),
    (View("plan", 0.5, (200.0, 0.0, 200.0, 100.0), (20.0, 30.0), ()), "both must be greater than 0"),
    (View("plan", 0.5, (0.0, 100.0, 200.0, 100.0), (20.0, 30.0), ()), "both must be greater than 0"),
    (View("plan", 0.5, WINDOW, (-0.02, 30.0), ()), "runs from -0.0, 30.0 to 100.0, 80.0 mm, off the sheet of 420 × 297 mm"),
    (View("plan", 0.5, WINDOW, (20.0, -0.02), ()), "runs from 20.0, -0.0 to 120.0, 50.0 mm, off the sheet"),
    (View("plan", 0.5, WINDOW, (320.02, 30.0), ()), "runs from 320.0, 30.0 to 420.0, 80.0 mm, off the sheet"),
    (View("plan", 0.5, WINDOW, (20.0, 247.02), ()), "runs from 20.0, 247.0 to 120.0, 297.0 mm, off the sheet"),
]


@pytest.mark.parametrize(("view", "words"), VIEWS)
def test_a_view_that_has_no_place(view, words):
    told = refusal(sheet(view=view))
    assert words in told
    assert "view 'plan' " in told


@pytest.mark.parametrize("place", [(0.0, 0.0), (320.0, 247.0), (-0.005, -0.005), (320.005, 247.005)])
def test_a_view_may_reach_to_the_edge_of_the_sheet(place):
    prove(sheet(view=View("plan", 0.5, WINDOW, place, (GOOD,))))


def test_windows_that_overlap_in_the_model():
    """Each window shows all of the model behind it."""
    other = View("section", 1.0, (199.0, 99.0, 250.0, 150.0), (200.0, 100.0), ())
    told = refusal(sheet(views=(other,)))
    assert (
        "the windows of the views 'plan' (0.0, 0.0, 200.0, 100.0) and 'section' (199.0, 99.0, 250.0, 150.0) overlap in the model"
        in told
    )
    for window in ((200.0, 0.0, 250.0, 100.0), (0.0, 100.0, 200.0, 150.0), (-50.0, 0.0, 0.0, 100.0), (0.0, -50.0, 200.0, 0.0)):
        prove(sheet(views=(replace(other, window=window),)))  # side by side, or one over the other
    third = replace(other, name="third", window=(240.0, 140.0, 260.0, 160.0), paper=(200.0, 200.0))
    second = replace(other, window=(210.0, 110.0, 250.0, 150.0))
    told = refusal(sheet(views=(second, third)))
    assert "'section'" in told and "'third'" in told and "'plan'" not in told


def test_every_fault_is_told_up_to_twenty():
    bad = [Path("NOWHERE", SQUARE, True)] * 20
    assert "more" not in refusal(sheet(*bad))
    assert refusal(sheet(*bad)).count("is not defined") == 20
    told = refusal(sheet(*bad, *bad[:3]))
    assert told.count("is not defined") == 20
    assert told.endswith("; and 3 more")


# Views on the paper.


def test_views_that_lie_on_one_another_on_the_paper():
    """The first runs from 20, 30 to 120, 80 on the paper; another of 51 × 51 may touch it and must not reach into it."""
    window = (300.0, 0.0, 351.0, 51.0)
    for place in ((119.0, 79.0), (-30.0 + 20.0, 30.0), (20.0, 30.0), (119.9, 30.0), (60.0, 79.9)):
        place = (max(place[0], 0.0), place[1])
        told = refusal(sheet(views=(View("section", 1.0, window, place, ()),)))
        assert "the views 'plan' and 'section' lie on one another on the paper" in told
    for place in ((120.0, 30.0), (20.0, 80.0), (120.0, 80.0)):
        prove(sheet(views=(View("section", 1.0, window, place, ()),)))


def test_a_view_over_what_stands_on_the_paper():
    """The plan's square is drawn from 25, 35 to 30, 40 on the paper: ink there is hidden or crossed by it, elsewhere in the window it is not."""
    told = refusal(sheet(paper=(Text("TEXT", 26.0, 36.0, "note", 2.5),)))
    assert "the view 'plan' lies over the text 'note' of the paper" in told
    told = refusal(sheet(paper=(Path("SHEET", ((27.0, 10.0, 0.0), (27.0, 200.0, 0.0))),)))
    assert "the view 'plan' lies over a path on 'SHEET' of the paper" in told
    prove(sheet(paper=(Text("TEXT", 60.0, 60.0, "note", 2.5),)))  # within the window, beside the drawing
    prove(sheet(paper=(Text("TEXT", 26.0, 100.0, "note", 2.5),)))  # off the window
    prove(
        sheet(paper=(Path("SHEET", ((5.0, 5.0, 0.0), (415.0, 5.0, 0.0), (415.0, 290.0, 0.0), (5.0, 290.0, 0.0)), True),))
    )  # a frame


def test_a_view_that_is_clipped_may_hold_marks_that_run_out_of_it():
    """An enlarged corner repeats lines of the plan; its window cuts them off."""
    long = Path("GLASS", ((10.0, 10.0, 0.0), (900.0, 10.0, 0.0)))
    prove(sheet(view=View("corner", 0.5, WINDOW, (20.0, 30.0), (long,), clipped=True)))
    assert "outside the window" in refusal(sheet(view=View("corner", 0.5, WINDOW, (20.0, 30.0), (long,))))


def test_places_on_the_paper_of_views_whose_windows_stand_anywhere():
    """Windows of 51 × 51 far from the origin at 1:1: one from 20, 30 to 71, 81, the others beside and above it."""
    one = View(
        "one", 1.0, (300.0, 200.0, 351.0, 251.0), (20.0, 30.0), (Path("GLASS", ((310.0, 210.0, 0.0), (320.0, 220.0, 0.0))),)
    )
    for window, place in (((500.0, 200.0, 551.0, 251.0), (71.0, 30.0)), ((500.0, 600.0, 551.0, 651.0), (20.0, 81.0))):
        prove(sheet(view=one, views=(View("two", 1.0, window, place, ()),)))
        near = (place[0] - 1.0, place[1] - 1.0)
        assert "lie on one another" in refusal(sheet(view=one, views=(View("two", 1.0, window, near, ()),)))
    # its line runs from 30, 40 to 40, 50 on the paper
    assert "lies over" in refusal(sheet(view=one, paper=(Path("SHEET", ((35.0, 38.0, 0.0), (35.0, 42.0, 0.0))),)))
    for stroke in (
        ((45.0, 38.0, 0.0), (45.0, 42.0, 0.0)),
        ((35.0, 52.0, 0.0), (36.0, 52.0, 0.0)),
        ((26.0, 38.0, 0.0), (26.0, 42.0, 0.0)),
    ):
        prove(sheet(view=one, paper=(Path("SHEET", stroke),)))
