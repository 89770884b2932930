"""The pane sheet, for the supplier of the glass: glass and print alone, from outside, and nothing of what holds them.

A4 upright, A3 from seven corners on: the right-hand 180 mm of an A3 are the A4 below its first view. Every view has its own fixed box.

Terms
-----
box
    The room of a view on paper (left, bottom, right, top). Its title stands at the same place on every sheet; the view stands in its middle.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from geometry.sizing.tolerances import PaneTolerances
from geometry.workings.frit_places import frit_places
from outputs.drawing.code_marks import code_marks, code_size, code_text
from outputs.drawing.pane_edge import ROW_AT, ROW_NEAR, edge_marks
from outputs.drawing.pane_figures import PANE_STYLE
from outputs.drawing.pane_ink import PaneRoom, set_text, text_beside
from outputs.drawing.pane_plan import TABLED_FROM, PanePlan, inside_view, pane_plan
from outputs.drawing.pane_shape import shape_of
from outputs.sheet.boxes import box_round
from outputs.sheet.drafting import scale_designation
from outputs.sheet.entities import Fill, Mark, Path, Sheet, Text, View
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.lettering import text_width
from outputs.sheet.moving import shifted
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheet.paper import Paper, frame_marks
from outputs.sheet.pencil import Pencil
from outputs.sheet.refusal import SheetError
from outputs.sheet.runs import circle_nodes
from outputs.sheet.title_block import title_block
from outputs.sheets.pane_tables import ROW, Row, closing_words, corner_rows, glass_rows, lines_of_words, measure_rows, ruled
from outputs.sheets.pane_words import pane_flags, printed_face, seen_words
from outputs.sheets.title import pane_title

if TYPE_CHECKING:
    from collections.abc import Iterable

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheets.contents import Contents

SCALES = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005)
EDGE_SCALES = (5.0, 2.0, 1.0, 0.5, 0.2, 0.1)
APART = 100.0  # mm between views in the model
CODE_BEFORE = 1.0  # paper mm from the code for a camera to the view from inside
INSIDE_SHARES = (1.0, 0.94, 0.88, 0.82, 0.75, 0.67, 0.58, 0.5, 0.4, 0.3)  # of that box, until all of its words stand in it
UNDER_VIEW = 3.2  # paper mm from the view from inside to the middle of the words under it
FITTED = 1.0  # paper mm that the view from inside keeps from the edges of its box
AIR = 0.4  # paper mm between the ink of a view and its window
ROWS = 8  # of the tables
LINES = 3  # under them
WIDTH = 180.0  # of the title block and of all that stands over it
LEFT_TABLE, RIGHT_TABLE = (5.0, 86.0), (95.0, 81.0)  # from the left of the title block, and width
TITLES, BELOW, TABLES, CLOSING = 280.0, 159.5, 117.9, 72.0  # base lines of headings over the lower edge of the paper


@dataclass(frozen=True, slots=True)
class _Boxes:
    """Where things stand on a size of paper."""

    paper: Paper
    plan: Box
    edge: Box
    inside: Box
    column: float  # left of the title block


def _boxes(*, large: bool, of: int) -> _Boxes:
    if large:
        paper = Paper("A3", number=2, of=of)
        column = paper.width - 10.0 - WIDTH
        plan = (24.0, 14.0, column - 4.0, 276.5)
    else:
        paper = Paper("A4", portrait=True, number=2, of=of)
        column = 20.0
        plan = (23.0, 164.5, 197.0, 277.0)
    edge = (column + 3.0, 121.8, column + 79.5, 158.2)
    inside = (column + 100.0, 121.8, column + 177.0, 158.2)
    return _Boxes(paper, plan, edge, inside, column)


@dataclass(frozen=True, slots=True)
class _Placed:
    """A view set into its box."""

    view: View
    scale: float


def pane_sheet(contents: Contents) -> Sheet:
    """The pane sheet of a pane. Raises ``SheetError`` where it does not fit at any scale."""
    contents = replace(contents, style=PANE_STYLE)
    detail, pane = contents.detail, contents.pane
    glass = bounding_box(detail.curves.glass)
    tolerances = PaneTolerances(pane, longest=max(glass.width, glass.height))
    rows, more = glass_rows(contents, tolerances, LEFT_TABLE[1], most=ROWS)
    closing = closing_words(contents, width=WIDTH - 9.0, most=LINES)
    boxes = _boxes(large=len(shape_of(detail.curves.glass).points) >= TABLED_FROM or bool(more) or len(closing) > LINES, of=contents.sheets)
    held = tolerances.print().value
    places = frit_places(detail.curves)
    plan, drawn = _plan(contents, boxes, held)
    right = plan.view.window[2] + APART
    edge = _edge(contents, boxes, tolerances, right)
    inside = _inside(contents, boxes, edge.view.window[2] + APART)
    views = (plan.view, edge.view, inside.view)
    marks: list[Mark] = [
        *frame_marks(boxes.paper),
        *_title(f"PANE {scale_designation(plan.scale)}", seen_words(contents), 25.0, TITLES, eye=True),
        *_title(f"Edge {scale_designation(edge.scale)}", "", boxes.column + 5.0, BELOW),
        *_title("INSIDE VIEW", "mirrored; not to scale", boxes.inside[0], BELOW),
        *ruled(
            "Glass and print",
            rows,
            left=boxes.column + LEFT_TABLE[0],
            top=TABLES,
            width=LEFT_TABLE[1],
        ),
        *ruled(
            "Print to be measured",
            measure_rows(contents, places, held, RIGHT_TABLE[1], most=ROWS),
            says="limits rounded inward",
            left=boxes.column + RIGHT_TABLE[0],
            top=TABLES,
            width=RIGHT_TABLE[1],
        ),
    ]
    marks += lines_of_words(closing[:LINES], left=boxes.column + LEFT_TABLE[0], top=CLOSING)
    outcomes = [("PANE", outcome) for outcome in drawn.outcomes]
    if boxes.paper.size == "A3":
        marks += _upper_right(contents, boxes, more, closing[LINES:], outcomes)
    text = code_text(pane.code, pane.revision, contents.mark)
    marks += code_marks(text, boxes.inside[0] - CODE_BEFORE - code_size(text), boxes.inside[1])
    scales = [scale_designation(each.scale) for each in (plan, edge)]
    marks += title_block(boxes.paper, pane_title(contents, scales, boxes.paper))
    sheet = Sheet(
        size=boxes.paper.size,
        width=boxes.paper.width,
        height=boxes.paper.height,
        title=f"{detail.code} {detail.revision} pane sheet".replace("  ", " "),
        description=f"Pane {detail.code}: glass and print from outside, edge, view from inside, widths of the print to be measured.",
        layers=(),
        blocks=(),
        views=views,
        marks=tuple(marks),
        outcomes=tuple(outcomes),
    )
    return _with_own_layers(sheet, dict(contents.job.layers))


def _upper_right(
    contents: Contents, boxes: _Boxes, more: list[Row], words: list[str], outcomes: list[tuple[str, Outcome]]
) -> list[Mark]:
    """What an A3 holds over the edge and the view from inside: corners, and what found no room below."""
    left, top = boxes.column + LEFT_TABLE[0], TITLES
    marks: list[Mark] = []
    room = int((TITLES - BELOW - 8.0) // ROW) - (len(more) + 2 if more else 0) - len(words)
    if len(shape_of(contents.detail.curves.glass).points) >= TABLED_FROM:
        rows, over = corner_rows(contents.detail, most=max(room, 2))
        marks += ruled("Corners, sharp as before their rounding; X and Y from O", rows, left=left, top=top, width=WIDTH - 9.0)
        top -= ROW * (len(rows) + 2)
        if over:
            outcomes.append(
                ("PANE", Outcome(f"{over} corners", Fate.LEFT_OUT, "the table is full; they stand in the file to cut from"))
            )
    if more:
        marks += ruled("Glass and print, more", more, left=left, top=top, width=WIDTH - 9.0)
        top -= ROW * (len(more) + 2)
    return [*marks, *lines_of_words(words, left=left, top=top)]


def _plan(contents: Contents, boxes: _Boxes, held: float) -> tuple[_Placed, PanePlan]:
    """The view of the pane at the largest scale at which it fits its box; a scale at which everything finds room comes first."""
    detail = contents.detail
    glass = bounding_box(detail.curves.glass)
    places = frit_places(detail.curves)
    flags = pane_flags(contents)
    wide, high = boxes.plan[2] - boxes.plan[0], boxes.plan[3] - boxes.plan[1]
    for scale in SCALES:
        if glass.width * scale > wide or glass.height * scale > high:
            continue
        room = (wide - 2 * AIR, high - 2 * AIR)
        drawn = pane_plan(detail, Pencil(PANE_STYLE, scale), places=places, print_tolerance=held, flags=flags, size=room)
        view = None if drawn is None else _placed("PANE", drawn.marks, scale, boxes.plan, 0.0)
        if drawn is not None and view is not None:
            return _Placed(view, scale), drawn
    raise SheetError(f"the pane sheet of {detail.code} does not fit on {boxes.paper.size}; allowed: a smaller pane")


def _edge(contents: Contents, boxes: _Boxes, tolerances: PaneTolerances, right: float) -> _Placed:
    face, _ = printed_face(contents)
    for scale, (noted, row) in product(EDGE_SCALES, ((True, ROW_AT), (False, ROW_AT), (False, ROW_NEAR))):
        marks = edge_marks(
            contents.detail,
            Pencil(PANE_STYLE, scale),
            face=face,
            print_tolerance=tolerances.print().value,
            thickness_tolerance=tolerances.glass_thickness().value,
            arris_ordered=contents.pane.glass.arris,
            noted=noted,
            row=row,
        )
        view = _placed("EDGE", marks, scale, boxes.edge, right, at_left=True)
        if view is not None:
            return _Placed(view, scale)
    raise SheetError(f"the edge of pane {contents.detail.code} does not fit on the pane sheet")


def _inside(contents: Contents, boxes: _Boxes, right: float) -> _Placed:
    face, faces = printed_face(contents)
    detail = contents.detail
    glass = bounding_box(detail.curves.glass)
    room = [boxes.inside[2] - boxes.inside[0] - 2 * FITTED, boxes.inside[3] - boxes.inside[1] - 2 * FITTED]
    largest = min(1.0, room[0] / glass.width, room[1] / glass.height)
    lines = (f"printed face {face}", "faces you") if face == faces else (f"print on face {face},", "through the glass")
    box = (boxes.inside[0], boxes.inside[1] + FITTED, *boxes.inside[2:])  # clear of the heading below it
    for share in INSIDE_SHARES:
        pencil = Pencil(PANE_STYLE, largest * share)
        marks, named = inside_view(detail, pencil)
        told = _told_inside(lines, marks, pencil, (glass.middle.x, glass.middle.y))
        view = _placed("INSIDE VIEW", [*marks, *told], pencil.scale, box, right)
        if named and view is not None:
            return _Placed(view, pencil.scale)
    raise SheetError(f"the view from inside of pane {detail.code} does not fit on the pane sheet")


def _told_inside(lines: tuple[str, str], marks: list[Mark], pencil: Pencil, middle: Place) -> list[Mark]:
    """Which face the reader looks at: in the middle of the view, in two lines where it is narrow, under it where there is no room."""
    taken = PaneRoom(scale=pencil.scale)
    taken.add([mark for mark in marks if isinstance(mark, Path | Text)])
    x, y = middle
    whole = set_text(" ".join(lines), [(x, y + pencil.paper(step)) for step in (0, 4, -4, 8, -8)], pencil, taken)
    if whole is not None:
        return [whole]
    two = [text_beside((x, y + pencil.paper(step)), words, pencil) for step, words in zip((2.5, -2.5), lines, strict=True)]
    if taken.takes(two):
        return [*two]
    low = box_round(marks, pencil.scale)[1]
    return [text_beside((x, low - pencil.paper(UNDER_VIEW)), " ".join(lines), pencil)]


def _placed(name: str, marks: Iterable[Mark], scale: float, box: Box, right: float, *, at_left: bool = False) -> View | None:
    """A view in the middle of its box, or at its left; None where it is larger. ``right`` is where its window begins in the model."""
    given = tuple(marks)
    air = AIR / scale
    ink = box_round(list(given), scale)
    wide, high = (ink[2] - ink[0] + 2 * air) * scale, (ink[3] - ink[1] + 2 * air) * scale
    if wide > box[2] - box[0] or high > box[3] - box[1]:
        return None
    dx = right - (ink[0] - air) if right else 0.0
    moved = tuple(shifted(mark, dx, 0.0) for mark in given) if dx else given
    window = (ink[0] - air + dx, ink[1] - air, ink[2] + air + dx, ink[3] + air)
    x = box[0] if at_left else box[0] + (box[2] - box[0] - wide) / 2
    return View(name, scale, window, (x, box[1] + (box[3] - box[1] - high) / 2), moved)


def _title(title: str, description: str, x: float, y: float, *, eye: bool = False) -> list[Mark]:
    """The title of a view with a description after it and, where it says so, the eye that looks at it."""
    marks: list[Mark] = [Text("TEXT", x, y, title, PANE_STYLE.label)]
    x += text_width(title, PANE_STYLE.label) + 4.0
    if description:
        marks.append(Text("TEXT", x, y, description, PANE_STYLE.text))
        x += text_width(description, PANE_STYLE.text) + 2.5
    if eye:
        level = y + 1.25
        marks.append(Path("SEEN_OUTLINE", ((x, level, -0.45), (x + 6.0, level, -0.45)), True))
        marks.append(Path("SEEN_OUTLINE", circle_nodes((x + 3.0, level), 1.1), True))
        marks.append(Fill("SEEN_OUTLINE", circle_nodes((x + 3.0, level), 0.55)))
    return marks


def _with_own_layers(sheet: Sheet, names: dict[str, str]) -> Sheet:
    """The sheet with the layers that stand on it and no other, under the office's names."""
    used = {mark.layer for marks in (sheet.marks, *(view.marks for view in sheet.views)) for mark in marks} | {"VIEWPORTS"}
    layers = tuple(layer for layer in LAYERS if layer.name in used)
    own = {name: wanted for name, wanted in names.items() if name in used}
    return with_layer_names(replace(sheet, layers=layers), own)


__all__ = ["SCALES", "pane_sheet"]
