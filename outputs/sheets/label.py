"""The label sheet: for every piece of a pane one label for the glass and one for its crate, ten to an A4.

Terms
-----
label
    What somebody reads who has the pane before him and no drawing: code, hand, mark, mass, which face is out and which edge is up.
piece
    One pane of the quantity ordered.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.workings.session_releases import Release, releases_of
from outputs.drawing.code_marks import code_marks, code_size, code_text
from outputs.sheet.drafting import number
from outputs.sheet.entities import Mark, Sheet, Text
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.lettering import text_width
from outputs.sheet.paper import SIZES
from outputs.sheet.runs import box
from outputs.sheets.letters import LABEL
from outputs.sheets.title import identification, warning

if TYPE_CHECKING:
    from collections.abc import Iterator

    from outputs.sheets.contents import Contents

COLUMNS, ROWS = 2, 5
EDGE = 10.0
"""Bare margin of the sheet, mm: what a printer needs and what a hand holds."""
MODULE = 0.7  # mm, of the code: a label is read from further away than a sheet
_INSIDE = 4.0  # from the edge of a label to its words
_HEIGHT, _WIDTH = SIZES["A4"]
_WIDE, _HIGH = (_WIDTH - 2 * EDGE) / COLUMNS, (_HEIGHT - 2 * EDGE) / ROWS
_CODE, _LOUD, _PLAIN, _SMALL = 10.0, 5.0, 3.5, 2.5


def label_sheets(contents: Contents) -> tuple[Sheet, ...]:
    """The label sheets of a pane: two labels for each piece, from the upper left, row by row."""
    wanted = [(what, piece) for piece in range(1, contents.pane.quantity + 1) for what in ("pane", "crate")]
    each = COLUMNS * ROWS
    pages = [wanted[first : first + each] for first in range(0, len(wanted), each)]
    sheets = []
    for count, page in enumerate(pages, start=1):
        marks: list[Mark] = []
        for place, (what, piece) in enumerate(page):
            row, column = divmod(place, COLUMNS)
            marks += _label(contents, what, piece, EDGE + column * _WIDE, _HEIGHT - EDGE - row * _HIGH)
        sheets.append(_sheet(contents, tuple(marks), count, len(pages)))
    return tuple(with_layer_names(sheet, dict(contents.job.layers)) for sheet in sheets)


def _sheet(contents: Contents, marks: tuple[Mark, ...], count: int, of: int) -> Sheet:
    beside = f" {count} of {of}" if of > 1 else ""
    return Sheet(
        size="A4",
        width=_WIDTH,
        height=_HEIGHT,
        title=f"{contents.title}: labels{beside}",
        description=f"Labels for pane {contents.detail.code} and its crate, to cut out and to stick on.",
        layers=LAYERS,
        blocks=(),
        views=(),
        marks=marks,
    )


def _label(contents: Contents, what: str, piece: int, left: float, top: float) -> Iterator[Mark]:
    """One label, its upper left corner at (left, top)."""
    detail, pane = contents.detail, contents.pane
    x, right = left + _INSIDE, left + _WIDE - _INSIDE
    code = code_text(detail.code, detail.revision, contents.mark)
    side = code_size(code, MODULE)
    room = _WIDE - 2 * _INSIDE
    beside = room + _INSIDE - side  # the quiet zone of the code keeps words away
    yield box("TABLES", left, top - _HIGH, left + _WIDE, top)
    hand = (pane.side or "").upper()
    spoken = text_width(hand, _LOUD, bold=True)
    beside_hand = room - spoken - 9.0 if hand else room
    boxed = hand and text_width(detail.code, 7.0, bold=True) <= beside_hand
    if boxed:
        yield box("SHEET", right - spoken - 5.0, top - 14.6, right, top - _INSIDE)
        yield Text("TITLE", right - spoken / 2.0 - 2.5, top - 11.8, hand, _LOUD, "middle", bold=True)
    heights = (_CODE, 7.0, _LOUD, _PLAIN, _SMALL)
    yield _fitted("TITLE", x, top - 14.0, detail.code, beside_hand if boxed else room, heights, bold=True)
    mass = f"{number(detail.glass.mass, decimals=1)} kg"
    yield Text("TITLE", right, top - 20.8, mass, _LOUD, "right", bold=True)
    start = x
    if hand and not boxed:  # a long code takes the whole row
        yield Text("TITLE", x, top - 20.8, hand, _LOUD, bold=True)
        start += spoken + 3.0
    name_room = right - text_width(mass, _LOUD, bold=True) - 4.0 - start
    if detail.name:
        yield _fitted("TITLE", start, top - 20.8, detail.name, name_room, (_PLAIN, _SMALL))
    yield Text("TITLE", x, top - 29.2, contents.mark, _LOUD, bold=True)
    after = text_width(contents.mark, _LOUD, bold=True) + 3.0
    if detail.revision:
        yield _fitted("TITLE", x + after, top - 29.2, f"rev {detail.revision}", room - after - 20.0, (_PLAIN, _SMALL))
    if what == "pane":
        if not detail.deck_light:
            yield Text("TITLE", right, top - 29.2, "↑ UP", _LOUD, "right", bold=True)
        yield Text("TITLE", x, top - 36.7, "THIS SIDE OUT", _LOUD, bold=True)
        column = text_width("THIS SIDE OUT", _LOUD, bold=True) + 2.6
        yield _fitted("TITLE", x, top - 42.2, _print_words(contents), min(beside, column - 2.6), (_PLAIN, _SMALL))
        for row, told in enumerate(_not_before(contents)):
            yield _fitted("TITLE", x + column, top - 33.3 - row * 4.8, told, beside - column, (_SMALL, 2.2, 2.0))
    else:
        yield Text("TITLE", x, top - 36.7, "GLASS", _LOUD, bold=True)
        yield _fitted("TITLE", x, top - 42.2, "stand on edge, keep dry", beside, (_PLAIN, _SMALL))
    loud, _ = warning(contents)
    if loud:
        yield _fitted("TITLE", x, top - 48.8, loud, beside, (_PLAIN, _SMALL), bold=True)
    told = f"{identification(contents, LABEL)}  ·  {what} {piece} of {pane.quantity}"
    yield _fitted("TITLE", x, top - 53.0, told, beside, (_SMALL,))
    yield from code_marks(code, right + _INSIDE - side, top - _HIGH, MODULE)


def _not_before(contents: Contents) -> Iterator[str]:
    """From when on boat, joint and hose are allowed, as on the card: dates where the pane's session gives its day, else days from the bonding."""
    plan = None if contents.check is None else contents.check.time_plan
    names = {Release.MOVE: "move", Release.BACKFILL: "fill", Release.HOSE: "hose"}
    releases = {} if plan is None else {each.what: each for each in releases_of(plan)}
    for what, each in ((what, releases[what]) for what in names if what in releases):
        day = f"from day {each.day}" if each.date is None else f"from {each.date:%m-%d}"
        yield f"{names[what]} {'never' if each.day is None else day}"


def _print_words(contents: Contents) -> str:
    """Which face carries the print, as one who holds the pane has to know it."""
    glass = contents.pane.glass
    face = glass.printed_face or glass.bond_face
    return "printed face in" if face == glass.bond_face else f"print on face {face} of {glass.bond_face}, 1 is out"


def _fitted(layer: str, x: float, y: float, words: str, room: float, heights: tuple[float, ...], *, bold: bool = False) -> Text:
    """Words in the tallest of the heights with which they find their room; what is still too long ends with three dots."""
    height = next((each for each in heights if text_width(words, each, bold=bold) <= room), heights[-1])
    while text_width(words, height, bold=bold) > room and len(words) > 2:
        words = f"{words[:-2].rstrip()}…"
    return Text(layer, x, y, words, height, bold=bold)


__all__ = ["COLUMNS", "EDGE", "ROWS", "label_sheets"]
