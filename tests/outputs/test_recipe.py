"""A second recipe beside the detail sheet: an A4 that stands, the plan from inside without cutting planes, sheet 2 of 3.

It is made of the same parts and goes through the same proof and writers: a new kind of sheet is a new recipe and nothing else.
"""

from __future__ import annotations

import io
import itertools
from dataclasses import replace
from pathlib import Path as File
from typing import TYPE_CHECKING

import ezdxf
import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.outline import Outline, Vertex, area
from outputs.drawing.plan_options import Flag, PlanOutline, PlanShows
from outputs.files.dxf import dxf_bytes
from outputs.files.proof import prove
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import box_of_text, overlap, texts_of
from outputs.sheet.drafting import scale_designation
from outputs.sheet.entities import Dimension, Hatch, Insert, Path, Text
from outputs.sheet.mirrored import mirrored
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheet.paper import SIZES, Paper
from outputs.sheet.refusal import SheetError
from outputs.sheets.pictures import plan_picture
from outputs.sheets.recipe import Contents, Recipe, Table, Words, in_panels, made
from outputs.sheets.sheet_tables import vertex_rows
from outputs.sheets.title import pane_title

if TYPE_CHECKING:
    from collections.abc import Iterator

    from outputs.sheet.entities import Sheet
    from outputs.sheets.recipe import Group

ROOT = File(__file__).parents[2]
JOBS = [read_job(ROOT / "samples" / name) for name in ("sallow-wren.toml", "minimal.toml", "every-key.toml")]
PANES = {pane.code: (job, pane) for job in JOBS for pane in job.panes}
FROM_INSIDE = PlanShows(
    outlines=frozenset({PlanOutline.GLASS, PlanOutline.FRIT_INNER}),
    blocks=False,
    sections=False,
    corner=False,
    bead_start=False,
    mirrored=True,
)


def views(contents: Contents, paper: Paper) -> Iterator[tuple[Group, ...]]:
    for scale in (0.5, 0.2, 0.1, 0.05):
        yield ([plan_picture(contents.detail, scale, contents.style, FROM_INSIDE)],)


INSIDE = Recipe(
    name="inside",
    describes=lambda contents: (f"{contents.title}: from inside", "The pane as the fitter sees it. Invented for a test."),
    papers=lambda _contents: (Paper("A4", portrait=True, number=2, of=3),),
    ways=in_panels(views),
    tables=lambda contents: (
        (
            Table(
                "Vertices, sharp",
                (("", 10.0), ("X", 20.0), ("Y", 20.0), ("R", 16.0), ("Angle", 20.0)),
                tuple(vertex_rows(contents.detail)),
            ),
        )
        if contents.detail.corners
        else ()
    ),
    words=lambda _contents, _pictures: (Words("Notes", ("Sizes in mm.",)),),
    title=lambda contents, plan, paper: pane_title(contents, (scale_designation(plan.scale),), paper),
)


@pytest.fixture(scope="module", params=PANES)
def drawn(request: pytest.FixtureRequest) -> tuple[Contents, Sheet]:
    job, pane = PANES[request.param]
    contents = Contents(job, pane, build_detail(job, pane))
    return contents, made(INSIDE, contents)


def test_it_is_proven_and_written(drawn: tuple[Contents, Sheet]) -> None:
    contents, sheet = drawn
    prove(sheet)
    assert (sheet.size, sheet.width, sheet.height) == ("A4", 210.0, 297.0)
    assert b'height="297mm"' in svg_bytes(sheet) and b'width="210mm"' in svg_bytes(sheet)
    doc = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode()))
    layer = contents.job.layers.get("GLASS", "GLASS")  # as the office calls it
    (glass,) = doc.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    # the mirror image has the same area, run the other way
    read = Outline(tuple(Vertex(x, y, bulge) for x, y, bulge in glass.get_points("xyb")))
    assert area(read) == pytest.approx(-contents.detail.area, rel=1e-9)
    assert not doc.modelspace().query("INSERT")


def test_it_carries_what_it_is_told_and_nothing_else(drawn: tuple[Contents, Sheet]) -> None:
    contents, sheet = drawn
    texts = [text.string for text in texts_of(sheet.marks)] + [t.string for view in sheet.views for t in texts_of(view.marks)]
    assert "2 of 3" in texts
    assert not {"A", "B", "Z", "K1", "S1"} & {text.string for text in texts_of(sheet.views[0].marks)}
    assert not any("OUTSIDE" in text or "outside" in text for text in texts)
    allowed = {contents.job.layers.get(name, name) for name in ("GLASS", "FRIT_INNER", "CENTRE_LINES")}
    assert {mark.layer for mark in sheet.views[0].marks if isinstance(mark, Path) and mark.closed} == allowed
    lost = [outcome for _, outcome in sheet.outcomes if outcome.fate is Fate.LEFT_OUT]
    assert all(outcome.reason for outcome in lost)


def test_no_text_touches_another(drawn: tuple[Contents, Sheet]) -> None:
    _, sheet = drawn
    boxes = [(text.string, box_of_text(text, 1.0)) for text in texts_of(sheet.marks)]
    for view in sheet.views:
        (x, y), (left, bottom), k = view.paper, view.window[:2], view.scale
        for text in texts_of(view.marks):
            a, b, c, d = box_of_text(text, k)
            boxes.append((text.string, (x + (a - left) * k, y + (b - bottom) * k, x + (c - left) * k, y + (d - bottom) * k)))
    slack = 0.05  # cell lines and rows are set to the tenth
    clashes = [
        (one, other)
        for (one, a), (other, b) in itertools.combinations(boxes, 2)
        if overlap((a[0] + slack, a[1] + slack, a[2] - slack, a[3] - slack), b)
    ]
    assert clashes == []


def test_right_and_left_change_places() -> None:
    """By hand: seen from inside, a place 30 to the right of the origin stands 30 to its left, and a turn to the left is one to the right."""
    assert mirrored(Path("GLASS", ((30.0, 5.0, 0.5), (40.0, 5.0, 0.0))), 1.0) == Path(
        "GLASS", ((-30.0, 5.0, -0.5), (-40.0, 5.0, 0.0))
    )
    assert mirrored(Text("TEXT", 30.0, 5.0, "V1", 2.5), 1.0) == Text("TEXT", -30.0, 5.0, "V1", 2.5, "right", -0.0)
    turned = mirrored(Text("TEXT", 30.0, 5.0, "V1", 2.5, "left", 20.0), 1.0)
    assert (turned.rotation, turned.align) == (-20.0, "right")  # type: ignore[union-attr]
    # read from the right: its capitals filled 25 to 30 at 1:2, so they fill -30 to -25, and its base line is at their right
    assert mirrored(Text("TEXT", 30.0, 5.0, "V1", 2.5, "middle", 90.0), 0.5) == Text(
        "TEXT", -25.0, 5.0, "V1", 2.5, "middle", 90.0
    )
    hatch = Hatch("BACKFILL", "sealant", (((0.0, 0.0, 0.0), (4.0, 0.0, 0.0), (0.0, 3.0, 0.0)),))
    assert mirrored(mirrored(hatch, 1.0), 1.0) == hatch


@pytest.mark.parametrize("code", ["SW-01", "SW-02", "SW-07"])
def test_a_whole_plan_from_inside_is_the_mirror_image(code: str) -> None:
    job, pane = PANES[code]
    contents = Contents(job, pane, build_detail(job, pane))
    outside = plan_picture(contents.detail, 0.1, contents.style)
    inside = plan_picture(contents.detail, 0.1, contents.style, PlanShows(mirrored=True))
    places = {a.value: (m.x, m.y) for m in outside.marks if isinstance(m, Insert) for a in m.attributes if a.tag == "MARK"}
    for mark in inside.marks:
        if isinstance(mark, Insert):
            x, y = places[next(a.value for a in mark.attributes if a.tag == "MARK")]
            assert (mark.x, mark.y) == (-x, y)
    measured = [[mark.measured for mark in plan.marks if isinstance(mark, Dimension)] for plan in (outside, inside)]
    assert measured[0] == measured[1]
    assert "viewed from inside" in inside.title


@pytest.mark.parametrize("turned_over", [False, True])
@pytest.mark.parametrize("code", ["SW-01", "SW-02", "SW-07"])
def test_figures_stand_over_their_line_and_read_from_below_or_from_the_right(code: str, turned_over: bool) -> None:
    """ISO 129-1, from memory: above a level line, to the left of an upright one; seen from inside they stood to the right of it."""
    job, pane = PANES[code]
    contents = Contents(job, pane, build_detail(job, pane))
    plan = plan_picture(contents.detail, 0.1, contents.style, PlanShows(mirrored=turned_over))
    upright = 0
    for mark in plan.marks:
        if not isinstance(mark, Dimension) or mark.kind != "linear":
            continue
        (figure,) = texts_of((mark,))
        left, bottom, right, top = box_of_text(figure, 0.1)
        assert left < mark.text_at[0] < right and bottom < mark.text_at[1] < top
        if figure.rotation == 90.0:
            upright += 1
            assert right < mark.on_line[0]
        else:
            assert figure.rotation == 0.0
            assert bottom > mark.on_line[1]
        assert mirrored(mirrored(mark, 0.1), 0.1).text_at == pytest.approx(mark.text_at)  # type: ignore[union-attr]
        others = [text for text in texts_of(plan.marks) if text is not figure]
        assert not [text.string for text in others if overlap(box_of_text(text, 0.1), (left, bottom, right, top))]
    assert upright or code == "SW-07"


def test_a_flag_points_at_its_place() -> None:
    job, pane = PANES["SW-01"]
    detail = build_detail(job, pane)
    style = Contents(job, pane, detail).style
    place = (600.0, 0.0)
    plan = plan_picture(detail, 0.1, style, PlanShows(flags=(Flag(7, place),)))
    leaders = [mark for mark in plan.marks if isinstance(mark, Path) and mark.layer == "ITEM_LEADERS" and len(mark.nodes) == 2]
    assert any(leader.nodes[-1][:2] == place for leader in leaders)
    assert "7" in [text.string for text in texts_of(plan.marks)]
    assert Outcome("flag 7", Fate.DRAWN) in plan.outcomes


def test_paper() -> None:
    """Sizes of ISO 216 by hand; the border of ISO 5457 (second hand): 20 at the left, 10 elsewhere; the title block 180 wide."""
    assert SIZES == {"A4": (297, 210), "A3": (420, 297), "A2": (594, 420), "A1": (841, 594), "A0": (1189, 841)}
    standing = Paper("A4", portrait=True)
    assert (standing.width, standing.height, standing.space) == (210, 297, (20, 10, 200, 287))
    assert standing.title_width == 180 == standing.space[2] - standing.space[0]  # the whole width
    assert Paper("A1").space == (20, 10, 831, 584)
    assert Paper("A3", number=2, of=3).count == "2 of 3"
    for wrong in ({"size": "A5"}, {"size": "A4", "number": 4, "of": 3}, {"size": "A4", "number": 0}):
        with pytest.raises(ValueError, match=r"paper|sheet"):
            Paper(**wrong)


def test_a_paper_that_is_too_small_is_refused() -> None:
    job, pane = PANES["SW-06"]
    contents = Contents(job, pane, build_detail(job, pane))

    def large(contents: Contents, _paper: Paper) -> Iterator[tuple[Group, ...]]:
        yield ([plan_picture(contents.detail, 1.0, contents.style, FROM_INSIDE)],)

    with pytest.raises(SheetError, match="inside sheet of pane SW-06 does not fit on A4"):
        made(replace(INSIDE, ways=in_panels(large)), contents)
