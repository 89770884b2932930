"""The marked-up drawing: the returned drawing over the pane that was issued, what differs numbered, with a legend and the lists.

A3, or A2 where the pane would be smaller than 1:5.
The view stands left, the lists right over the title block; what finds no room there stands on further sheets.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import Verdict
from geometry.outline import bounding_box
from outputs.drawing.marked_up_view import OWN_LAYERS, STYLE, marked_differences, marked_view
from outputs.sheet.boxes import box_round
from outputs.sheet.drafting import scale_designation
from outputs.sheet.entities import Mark, Sheet, Text, View
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.lettering import text_width
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheet.paper import Paper, frame_marks
from outputs.sheet.pencil import Pencil
from outputs.sheet.refusal import SheetError
from outputs.sheet.runs import line
from outputs.sheet.tables import fitted
from outputs.sheet.title_block import KEY, PLAIN, PROJECTION, Field, TitleBlock, title_block
from outputs.sheets.letters import MARKED_UP
from outputs.sheets.marked_up_tables import Room, blocks_of, lettered, set_blocks
from outputs.sheets.title import identification, quantity_and_hand

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.returned.comparison import Comparison
    from outputs.drawing.marked_up_view import Marked, MarkedView
    from outputs.sheets.contents import Contents

"""Of the identification number: the returned drawing."""
SCALES = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
WIDTH = 172.0  # mm of the lists
TITLE_ROWS = 4
LEFT, UNDER, BESIDE, OVER = 26.0, 52.0, 10.0, 11.0  # mm: left and lower edge of the view's box, to the lists and to the frame
LEGEND = 42.0  # top of the legend, mm
LARGE = 0.2  # scale under which a larger paper is taken
MOST_SHEETS = 4
AIR = 0.5
NOT_RELEASED = "DO NOT RELEASE"
_LEGEND = (
    ("GLASS", "issued: edge of the glass"),
    ("FRIT_INNER", "issued: edge of the solid print"),
    ("BEAD_EDGE", "inner edge of the bead"),
    ("RETURNED_GLASS", "returned: glass"),
    ("RETURNED_PRINT", "returned: print"),
    ("DIFFERENCES", "differs by more than its limit"),
    ("SHORT_PRINT", "solid print too narrow"),
)


def marked_up_sheets(contents: Contents, found: Comparison) -> tuple[Sheet, ...]:
    """The sheets of a comparison. Raises ``SheetError`` where the pane fits at no scale."""
    marked = marked_differences(found)
    view, size, drawn = _view(found, marked)
    scale = view.scale
    blocks = blocks_of(found, marked, WIDTH, drawn.without_room)
    rooms = _rooms(size)
    placed = set_blocks(blocks, rooms, WIDTH)
    count = max([1, *(sheet for sheet, marks in placed.items() if marks)])
    sheets = []
    for number in range(1, count + 1):
        paper = Paper(size, number=number, of=count)
        marks: list[Mark] = [*frame_marks(paper), *placed[number], *title_block(paper, _title(contents, found, scale, paper))]
        if number == 1:
            marks += _heading(scale, paper, mirrored=found.returned.alignment.move.mirrored)
            marks += _legend(found, marked)
        outcomes = [("COMPARED", Outcome(f"number {each}", Fate.LEFT_OUT, "no room on the view")) for each in drawn.without_room]
        sheets.append(_sheet(contents, paper, (view,) if number == 1 else (), marks, outcomes if number == 1 else []))
    return tuple(sheets)


def _column(paper: Paper) -> float:
    """Left edge of the lists over the title block, mm."""
    return paper.space[2] - WIDTH - 4.0


def _rooms(size: str) -> list[Room]:
    """The columns for the lists: over the title block of the first sheet, further ones beside it on the next."""
    paper = Paper(size)
    _, bottom, _, top = paper.space
    column, over = _column(paper), bottom + 10.0 * TITLE_ROWS + 14.0
    rooms = [Room(1, column, top - 2.0, over)]
    beside = int((column - LEFT) // (WIDTH + BESIDE))
    for number in range(2, MOST_SHEETS + 1):
        rooms += [Room(number, LEFT + index * (WIDTH + BESIDE), top - 2.0, bottom + 4.0) for index in range(beside)]
        rooms.append(Room(number, column, top - 2.0, over))
    return rooms


def _view(found: Comparison, marked: tuple[Marked, ...]) -> tuple[View, str, MarkedView]:
    """The view on the smallest paper on which it is not too small to look at, else on the one where it is largest."""
    tried = [placed for placed in (_on(found, marked, size) for size in ("A3", "A2")) if placed is not None]
    large = [placed for placed in tried if placed[0].scale >= LARGE]
    if large:
        return large[0]
    if tried:
        return max(tried, key=lambda placed: placed[0].scale)
    raise SheetError(f"the marked-up drawing of {found.issued.code} does not fit on A2; allowed: a smaller pane")


def _on(found: Comparison, marked: tuple[Marked, ...], size: str) -> tuple[View, str, MarkedView] | None:
    """The view at the largest scale at which it fits a paper."""
    paper = Paper(size)
    box = bounding_box(found.issued.glass)
    wide, high = _column(paper) - BESIDE - LEFT, paper.space[3] - OVER - UNDER
    for scale in SCALES:
        if box.width * scale > wide or box.height * scale > high:
            continue
        drawn = marked_view(found, marked, Pencil(STYLE, scale))
        ink = box_round(list(drawn.marks), scale)
        air = AIR / scale
        window = (ink[0] - air, ink[1] - air, ink[2] + air, ink[3] + air)
        across, up = (window[2] - window[0]) * scale, (window[3] - window[1]) * scale
        if across > wide or up > high:
            continue
        at = (LEFT + (wide - across) / 2, UNDER + (high - up) / 2)
        return View("COMPARED", scale, window, at, drawn.marks), size, drawn
    return None


def _heading(scale: float, paper: Paper, *, mirrored: bool) -> list[Mark]:
    title, y = f"RETURNED DRAWING OVER THE ISSUED ONE {scale_designation(scale)}", paper.space[3] - 7.0
    x = LEFT + text_width(title, STYLE.label) + 4.0
    seen = "seen from outside; the returned drawing is mirrored and was turned over" if mirrored else "seen from outside"
    return [Text("TEXT", LEFT, y, title, STYLE.label), Text("TEXT", x, y, seen, STYLE.text, bold=mirrored)]


def _legend(found: Comparison, marked: Sequence[Marked]) -> list[Mark]:
    """Each kind of line with a sample; those that are not on the view are left out."""
    there = {"GLASS", "FRIT_INNER", "BEAD_EDGE"}
    there |= {"RETURNED_GLASS"} if found.returned.glass is not None else set()
    there |= {"RETURNED_PRINT"} if found.returned.solid is not None else set()
    there |= {"SHORT_PRINT" if each.short else "DIFFERENCES" for each in marked}
    left, top = LEFT, LEGEND
    marks: list[Mark] = [Text("TEXT", left, top - 2.5, "Lines", STYLE.label)]
    shown = [(layer, words) for layer, words in _LEGEND if layer in there]
    for index, (layer, words) in enumerate(shown):
        column, row = divmod(index, 4)
        x, y = left + 92.0 * column, top - 8.0 - 5.5 * row
        marks.append(line(layer, (x, y), (x + 22.0, y)))
        marks.append(Text("TEXT", x + 25.0, y - STYLE.text / 2, words, STYLE.text))
    return marks


def _title(contents: Contents, found: Comparison, scale: float, paper: Paper) -> TitleBlock:
    words = contents.job.sheet
    date = words.date.isoformat() if words.date else ""
    rows = (
        (
            Field("Title", contents.detail.name, 90.0, KEY),
            Field("Identification number", identification(contents, MARKED_UP, yard=False), 58.0, KEY),
            Field("Revision issued", contents.detail.revision, 32.0),
        ),
        (
            Field("Returned drawing", fitted(lettered(found.file), 87.0, PLAIN), 90.0),
            Field("Document type", "Returned drawing compared", 58.0),
            Field("Date of issue", date, 32.0),
        ),
        (
            Field("Scale", scale_designation(scale), 31.0),
            Field("Size, lang.", f"{paper.size} {words.language}", 31.0),
            Field("Quantity, hand", quantity_and_hand(contents), 42.0, KEY),
            Field(PROJECTION, "", 28.0),
            Field("Unit", "mm", 20.0),
            Field("Sheet", paper.count, 28.0),
        ),
        (
            Field("What the comparison comes to", found.verdict.value.upper(), 62.0, KEY),
            Field("Compared by", words.drawn_by, 45.0),
            Field("Released by", "", 45.0),
            Field("Mark of the job", contents.mark, 28.0),
        ),
    )
    failing = [finding.name for finding in found.findings if finding.verdict is Verdict.FAIL]
    return TitleBlock(rows, NOT_RELEASED, _in_brief(failing)) if failing else TitleBlock(rows)


def _in_brief(failing: Sequence[str]) -> str:
    return failing[0] if len(failing) == 1 else f"{len(failing)} findings fail: see the list"


def _sheet(
    contents: Contents, paper: Paper, views: tuple[View, ...], marks: list[Mark], outcomes: list[tuple[str, Outcome]]
) -> Sheet:
    used = {mark.layer for group in (marks, *(view.marks for view in views)) for mark in group} | {"VIEWPORTS"}
    figures = next(index for index, layer in enumerate(LAYERS) if layer.name == "FLAG_FIGURES")  # they lie on the flags
    layers = tuple(layer for layer in (*LAYERS[:figures], *OWN_LAYERS, *LAYERS[figures:]) if layer.name in used)
    sheet = Sheet(
        size=paper.size,
        width=paper.width,
        height=paper.height,
        title=f"{contents.title}: returned drawing compared{f' {paper.count}' if paper.of > 1 else ''}",
        description=f"Pane {contents.detail.code}: the returned drawing over the issued one, differences on layers of their own.",
        layers=layers,
        blocks=(),
        views=views,
        marks=tuple(marks),
        outcomes=tuple(outcomes),
    )
    own = {name: wanted for name, wanted in dict(contents.job.layers).items() if name in used}
    return with_layer_names(sheet, own)


__all__ = ["marked_up_sheets"]
