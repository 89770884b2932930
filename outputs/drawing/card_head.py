"""Head of both sides of the fitter's card: code, hand, state of the checks, mark and code to the right revision."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from geometry.findings.state import NOT_FOR_MANUFACTURE
from outputs.drawing.card_hand import (
    HEADING,
    KEY,
    LEFT,
    PLAIN,
    RIGHT,
    TITLE,
    WIDTH,
    down,
    field,
    fitted,
    plate,
    time_field,
    width_of,
    words,
)
from outputs.drawing.card_words import Piece, across, key_figure
from outputs.drawing.code_marks import MODULE, QUIET, code_marks, code_size, code_text
from outputs.drawing.pictograms import hook
from outputs.sheet.drafting import number
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from geometry.findings.state import State
    from geometry.job import Pane
    from outputs.drawing.card_facts import CardFacts, Lifting
    from outputs.sheet.entities import Mark

QR = 13.0  # paper mm of the code at the upper right of side 1
DO_NOT_FIT = f"{NOT_FOR_MANUFACTURE}: DO NOT FIT"


def _code(code: str, top: float, high: float, room: float) -> tuple[list[Mark], float]:
    """The pane's code as high as it finds room for, and where it ends."""
    tall = fitted(code, room, (high, high * 0.8, high * 0.6, high * 0.45, PLAIN), bold=True)
    return [words(LEFT - 0.3, down(top + high), code, tall, bold=True)], LEFT + width_of(code, tall, bold=True)


def _hand(side: str | None, left: float, top: float, high: float, most: float) -> tuple[list[Mark], float]:
    """The hand in white on black, and where it ends; nothing where the side is not known."""
    if not side:
        return [], left
    name = side.upper()
    tall = fitted(name, most, (high * 0.54, high * 0.46, high * 0.38), bold=True)
    wide = width_of(name, tall, bold=True) + 2 * min(4.0, high * 0.3)
    foot = down(top + high)
    text = words(left + wide / 2, foot + (high - tall) / 2, name, tall, bold=True, align="middle", white=True)
    return [plate(left, foot, left + wide, foot + high), text], left + wide


def head_where(pane: Pane, identity: str, mark: str, sides: int) -> list[Mark]:
    """Head of side 1; the code to the revision is added by the sheet."""
    marks, end = _code(pane.code, 10.5, 15.0, 85.0)
    found, end = _hand(pane.side, end + 5.0, 10.8, 14.5, RIGHT - QR - 3.0 - width_of("WHERE", 7.2, bold=True) - 14.0 - end)
    marks += found
    right = RIGHT - QR - 3.0
    marks.append(words(right, down(17.6), "WHERE", 7.2, bold=True, align="right"))
    marks.append(words(right, down(24.6), f"side 1 of {sides}", align="right"))
    date = pane.revisions[-1].date.isoformat() if pane.revisions and pane.revisions[-1].date else ""
    told = f"rev. {pane.revision}, {mark}" if pane.revision else mark
    marks.append(words(RIGHT, down(31.4), told, PLAIN, bold=True, align="right"))
    room = RIGHT - LEFT - width_of(told, PLAIN, bold=True) - 6.0
    marks.append(words(LEFT, down(31.4), shortened(", ".join(filter(None, (identity, pane.name, date))), room)))
    return marks + _code_to_read(code_text(pane.code, pane.revision, mark))


def _code_to_read(text: str) -> list[Mark]:
    """The code of pane, revision and mark at the upper right, its quiet zone reaching into the margin."""
    modules = round(code_size(text, MODULE) / MODULE)
    module = max(MODULE, min(0.6, QR / (modules - 2 * QUIET)))
    size = modules * module
    return list(code_marks(text, RIGHT + QUIET * module - size, down(10.5) + QUIET * module - size, module, layer="PLATES"))


def shortened(string: str, room: float) -> str:
    """As much of a text as finds room, whole words, with dots where something is left out."""
    if width_of(string) <= room:
        return string
    parts = string.split(" ")
    while len(parts) > 1 and width_of(" ".join(parts) + " ...") > room:
        parts.pop()
    return " ".join(parts).rstrip(",") + " ..."


def head_when(pane: Pane, clock_start: str, mark: str, sides: int) -> list[Mark]:
    """Head of side 2, with the box for the time at which work really begins."""
    marks, end = _code(pane.code, 10.5, KEY, 46.0)
    found, end = _hand(pane.side, end + 4.0, 10.8, 9.4, 94.0 - end)
    marks += found
    x = max(end + 5.0, 76.0)
    marks += [words(x, down(14.2), "work begins"), words(x, down(20.6), f"planned {clock_start}")]
    right = width_of("WHEN", 5.2, bold=True)
    marks.append(words(RIGHT, down(15.4), "WHEN", 5.2, bold=True, align="right"))
    marks.append(words(RIGHT - right - 2.2, down(15.4), f"2 of {sides}", align="right"))
    told = f"rev. {pane.revision}, {mark}" if pane.revision else mark
    marks.append(words(RIGHT, down(21.2), told, PLAIN, bold=True, align="right"))
    box = x + width_of("planned 00:00") + 2.4
    beside = RIGHT - width_of(told, PLAIN, bold=True) - 1.6
    return [*marks, *time_field(box, down(21.0), min(box + 27.0, beside), down(10.5))]


def head_plain(pane: Pane, mark: str) -> list[Mark]:
    """Code and hand, and at the right, last, revision and mark: the head of every paper in this hand."""
    marks, end = _code(pane.code, 10.5, KEY, 46.0)
    found, _ = _hand(pane.side, end + 4.0, 10.8, 9.4, 94.0 - end)
    told = f"rev. {pane.revision}, {mark}" if pane.revision else mark
    return [*marks, *found, words(RIGHT, down(21.2), told, PLAIN, bold=True, align="right")]


def head_blocks(pane: Pane, mark: str, sides: int) -> list[Mark]:
    """Head of side 3."""
    *marks, told = head_plain(pane, mark)
    return [*marks, words(RIGHT, down(15.4), f"3 of {sides} BLOCKS", 5.2, bold=True, align="right"), told]


def state_line(state: State, top: float) -> list[Mark]:
    """The state of the checks; a pane that must not be made says so in white on black."""
    high = 7.4
    foot = down(top + high)
    if state.not_for_manufacture:
        marks: list[Mark] = [plate(LEFT, foot, RIGHT, foot + high)]
        marks.append(words(LEFT + 2.8, foot + 1.6, DO_NOT_FIT, 4.4, bold=True, white=True))
        room = RIGHT - LEFT - 9.0 - width_of(DO_NOT_FIT, 4.4, bold=True)
        tall = fitted(state.words, room, (HEADING, PLAIN), bold=True)
        marks.append(words(RIGHT - 2.8, foot + (high - tall) / 2 + 0.3, state.words, tall, bold=True, align="right", white=True))
        return marks
    told = state.told
    x = LEFT + 5.5 + width_of(told, 4.0, bold=True)
    asked = "released: name, date"
    start = max(x + 6.0, 74.0)
    rule = start + width_of(asked) + 2.0
    return [
        field(LEFT, foot, RIGHT, foot + high),
        words(LEFT + 2.8, foot + 2.4, told, 4.0, bold=True),
        words(start, foot + 2.4, asked),
        line("DIMENSIONS", (rule, foot + 1.8), (RIGHT - 3.0, foot + 1.8)),
    ]


def lifting_line(lifting: Lifting) -> list[Mark]:
    """Mass, people or gear, cups and wind, each with its figure 10 mm high, over a rule."""
    top = down(46.6)
    mass = number(lifting.mass, decimals=1 if lifting.mass >= 50 or lifting.mass < 10 else 0)
    pieces = [_with_unit(mass, "kg", "glass", "alone")]
    if lifting.people is None:
        gear = (*hook((5.0, -5.0)), words(12.5, -3.7, "lifting", bold=True), words(12.5, -10.0, "gear only", bold=True))
        pieces.append(Piece(gear, 12.5 + width_of("gear only", bold=True), KEY))
    else:
        pieces.append(
            key_figure(
                str(lifting.people),
                "person" if lifting.people == 1 else "people",
                "over head" if lifting.above_shoulder else "or more",
            )
        )
    pieces.append(key_figure(str(lifting.cups), "cups outside,", f"rated {number(lifting.rating)} kg"))
    why = "for lifting" if lifting.least_wind == lifting.wind else "until held"
    pieces.append(_with_unit(number(lifting.least_wind, decimals=1), "m/s", "wind limit", why))
    gap = (RIGHT - LEFT - fsum(piece.width for piece in pieces)) / (len(pieces) - 1)
    return [*across(pieces, gap).at(LEFT, top), line("SHEET", (LEFT, down(60.4)), (RIGHT, down(60.4)))]


def _with_unit(figure: str, unit: str, first: str, second: str) -> Piece:
    unit_at = width_of(figure, KEY, bold=True) + 1.7
    after = unit_at + width_of(unit, TITLE, bold=True) + 2.0
    marks = (
        words(0.0, -KEY, figure, KEY, bold=True),
        words(unit_at, -KEY, unit, TITLE, bold=True),
        words(after, -PLAIN - 0.2, first),
        words(after, -PLAIN - 6.5, second),
    )
    return Piece(marks, after + max(width_of(first), width_of(second)), KEY)


def take_line(facts: CardFacts, top: float) -> list[Mark]:
    """What to have at hand; what finds no room in the line is left to the record, and the line says so."""
    start = LEFT + width_of("TAKE", HEADING, bold=True) + 2.2
    string, rest = facts.take, ""
    while width_of(string + rest) > RIGHT - start and "," in string:
        string, rest = string.rpartition(",")[0], ", more: record"
    return [words(LEFT, down(top), "TAKE", HEADING, bold=True), words(start, down(top), string + rest)]


__all__ = [
    "DO_NOT_FIT",
    "QR",
    "WIDTH",
    "head_blocks",
    "head_plain",
    "head_when",
    "head_where",
    "lifting_line",
    "shortened",
    "state_line",
    "take_line",
]
