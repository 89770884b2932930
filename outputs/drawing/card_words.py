"""Blocks of words and key figures beside or inside the pictures of the fitter's card.

A block is set out from its upper left corner at (0, 0); it is shifted to its place when the picture leaves room for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum
from typing import TYPE_CHECKING

from outputs.drawing.card_facts import rounded_distances
from outputs.drawing.card_hand import (
    KEY,
    PLAIN,
    STRONG,
    TITLE,
    arrow,
    from_reader,
    towards_reader,
    upward_triangle,
    width_of,
    words,
)
from outputs.drawing.plan_arrows import NOT_GIVEN
from outputs.sheet.boxes import box_of
from outputs.sheet.drafting import number
from outputs.sheet.moving import shifted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.workings.fitting import PlacedAsMade, TapeMove
    from outputs.drawing.card_facts import CardFacts, Row
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark
    from outputs.sheet.keep_clear import KeepClear

PITCH = 6.3  # base line to base line of two lines of words
GAP = 4.0  # between two pieces on one line
COLUMN_TITLE = 4.6  # height of a title in the column of words
LETTERS = 5.6  # height of UP and FWD
ARROW_HIGH = 12.0


@dataclass(frozen=True, slots=True)
class Piece:
    """Marks that hang from (0, 0), their upper left corner, with what they take."""

    marks: tuple[Mark, ...]
    width: float
    height: float

    def at(self, left: float, top: float) -> list[Mark]:
        """The marks at a place of the card."""
        return [shifted(mark, left, top) for mark in self.marks]


def heading(string: str, height: float = TITLE) -> Piece:
    """One line in bold."""
    return Piece((words(0.0, -height, string, height, bold=True),), width_of(string, height, bold=True), height)


def note(string: str, *, tape: bool = False) -> Piece:
    """One line of words; ``tape`` puts the triangle of a tape mark before it."""
    start = 3.8 if tape else 0.0
    marks: list[Mark] = [words(start, -PLAIN, string)]
    if tape:
        marks.append(upward_triangle((1.3, -PLAIN / 2), (0.0, 1.0), 2.0))
    return Piece(tuple(marks), start + width_of(string), PLAIN)


def key_figure(figure: str, first: str, second: str) -> Piece:
    """A figure 10 mm high with two short lines of words behind it."""
    after = width_of(figure, KEY, bold=True) + 2.4
    lines = (words(after, -PLAIN - 0.2, first), words(after, -PLAIN - 0.2 - PITCH, second))
    wide = max(width_of(first), width_of(second))
    return Piece((words(0.0, -KEY, figure, KEY, bold=True), *lines), after + wide, KEY)


def _pointer(string: str, way: tuple[float, float]) -> Piece:
    """An arrow and its word; an arrow to the right stands behind the word."""
    across = abs(way[0]) > 0.5
    long = ARROW_HIGH if across else 8.0
    wide = width_of(string, LETTERS, bold=True)
    middle = -ARROW_HIGH / 2
    behind = way[0] > 0.5
    at = (wide + 3.0 + long / 2 if behind else long / 2, middle)
    text = words(0.0 if behind else long + 1.5, middle - LETTERS / 2, string, LETTERS, bold=True)
    width = long + wide + (3.0 if behind else 1.5)
    return Piece((arrow(at, way, ARROW_HIGH), text), width, ARROW_HIGH)


def _signed(string: str, after: str, *, out: bool) -> Piece:
    """The sign for towards the reader or away from him, the word and what it means."""
    middle = (4.0, -ARROW_HIGH / 2)
    wide = width_of(string, LETTERS, bold=True)
    foot = -ARROW_HIGH / 2 - LETTERS / 2
    marks = [*(towards_reader(middle) if out else from_reader(middle))]
    marks += [words(9.5, foot, string, LETTERS, bold=True), words(11.5 + wide, foot, after)]
    return Piece(tuple(marks), 11.5 + wide + width_of(after), ARROW_HIGH)


COLUMN_WIDE, COLUMN_HIGH = 57.5, 83.8  # paper mm of the column beside the recess
MORE = "MORE BLOCKS ON SIDE 3"
EACH_OFF = "off wall, by row:"
NO_MEASURE = ("pictures not to scale", "take no size off them")
TOWARDS = {"out of the plan": True, "into the plan": False}
WAYS = {"left": (-1.0, 0.0), "right": (1.0, 0.0), "up": (0.0, 1.0), "down": (0.0, -1.0)}


def pointers(detail: Detail, *, turned_over: bool) -> list[Piece]:
    """UP and FWD, as they point in a picture; of a pane whose bow is not known words that say so, of a deck light only FWD."""
    found = [] if detail.deck_light else [_pointer("UP", (0.0, 1.0))]
    forward = detail.forward
    if forward in WAYS:
        x, y = WAYS[forward]
        found.append(_pointer("FWD", (-x if turned_over else x, y)))
    elif forward in TOWARDS:
        out = TOWARDS[forward] != turned_over
        found.append(_signed("FWD", "to you" if out else "away", out=out))
    else:
        found.append(note(NOT_GIVEN))
    return found


def across(pieces: Sequence[Piece], gap: float = GAP) -> Piece:
    """Pieces side by side, their middles on one line."""
    high = max((piece.height for piece in pieces), default=0.0)
    marks: list[Mark] = []
    x = 0.0
    for piece in pieces:
        marks += piece.at(x, -(high - piece.height) / 2)
        x += piece.width + gap
    return Piece(tuple(marks), max(0.0, x - gap), high)


def stacked(pieces: Sequence[Piece], gaps: Sequence[float], *, middle: bool) -> Piece:
    """Pieces one under another, on one middle or on one left edge; ``gaps`` is the clear height after each but the last."""
    wide = max(piece.width for piece in pieces)
    marks: list[Mark] = []
    y = 0.0
    for number_, piece in enumerate(pieces):
        marks += piece.at((wide - piece.width) / 2 if middle else 0.0, y)
        y -= piece.height + (gaps[number_] if number_ < len(gaps) else 0.0)
    return Piece(tuple(marks), wide, fsum(piece.height for piece in pieces) + fsum(gaps[: len(pieces) - 1]))


def zero_words(facts: CardFacts) -> tuple[str, ...]:
    """What the zeros of the rows are."""
    straight, curved = any(not row.curved for row in facts.rows), any(row.curved for row in facts.rows)
    if not straight:
        return ("0 = lowest point, along wall",)
    square = all(row.square for row in facts.rows)
    told = "0 = wall: hold a square to it" if square else "0 = where walls would meet"
    return (f"{told};", "on a curve: along the wall") if curved else (told,)


def spacer_words(detail: Detail, facts: CardFacts) -> tuple[str, str, str]:
    """Number of spacers, their height, and how far their middles stand off the wall."""
    off = f"centre {rounded_distances([min(facts.off_wall.values(), default=0.0)])[0]} off wall" if facts.even else EACH_OFF
    if facts.spacer_heights:
        return str(len(detail.spacers)), "spacers, own heights,", off
    return str(len(detail.spacers)), f"spacers {number(facts.spacer_height, decimals=1)} high,", off


SIDES = {"bottom": "below", "right": "right", "top": "above", "left": "left"}
SEEN_IN_RECORD = "as the record tells"


def placed_words(placed: PlacedAsMade) -> tuple[str, ...]:
    """How far the tape marks of a pane as made go and which way, and the turn; of each side of the pane the first mark.

    >>> from geometry.workings.fitting import PlacedAsMade, TapeMove
    >>> marks = TapeMove("e1", "bottom", 6.8, "right"), TapeMove("e2", "right", 4.34, "up"), TapeMove("e3", "top", 6.1, "right")
    >>> placed_words(PlacedAsMade(marks, 1.02))
    ('right 6,8 below, 6,1 above', 'up 4,3 right', 'turned left 1 mm/m')
    """
    first: dict[str, TapeMove] = {}
    for each in placed.marks:
        first.setdefault(each.side, each)
    ways: dict[str, list[str]] = {}
    for each in first.values():
        ways.setdefault(each.way, []).append(f"{number(each.offset, decimals=1)} {SIDES[each.side]}")
    turn = number(abs(placed.per_metre), decimals=1)
    turned = "not turned" if turn == "0" else f"turned {'left' if placed.per_metre > 0 else 'right'} {turn} mm/m"
    return (*(f"{way} {', '.join(told)}" for way, told in ways.items()), turned)


def off_wall_lines(detail: Detail, facts: CardFacts) -> list[str]:
    """How far the middle of each spacer stands off a wall that wanders, row by row as the distances run: from corner to corner."""
    lines = []
    for row in facts.rows:
        away = rounded_distances([facts.off_wall[tick.mark] for tick in row.ticks if not tick.chock])
        lines += in_lines([f"{_from_to(row, len(detail.corners))}:", *away], COLUMN_WIDE, gap="  ") if away else []
    return lines


def _from_to(row: Row, corners: int) -> str:
    """The corners between which a row runs, its zero at the first; the name of the row where it has none."""
    first = int(row.name[1:]) if row.name[1:].isdigit() else corners
    if first > corners or row.curved:
        return row.name
    second = first % corners + 1
    ends = (second, first) if row.clockwise else (first, second)
    return "{} to {}".format(*ends)


def recess_words(
    detail: Detail, facts: CardFacts, *, column: bool, chocks: Sequence[str] = (), off: Sequence[str] = (), more: bool = False
) -> Piece:
    """Title, UP and FWD, spacers and notes of the recess; ``chocks`` are those that found no room for their height in the picture.

    ``off`` are the lines of :func:`off_wall_lines`, in the column alone; ``more``: whether more of the blocks stands on side 3.
    """
    spacers = key_figure(*spacer_words(detail, facts))
    ways = pointers(detail, turned_over=False)
    goes = placed_words(facts.placed) if facts.placed is not None else ()
    tape = note("tape over the joint goes" if goes else "tape on hull and glass", tape=True)
    zeros = [note(string) for string in (*zero_words(facts), *(("crossed ring = strap",) if facts.straps else ()))]
    if not column:
        notes = across([tape, *zeros], 4.0)  # the note on scale stands with the glass
        pieces = [heading("RECESS, seen from OUTSIDE"), across([*ways, spacers], 4.0), notes]
        pieces += [note(string) for string in in_lines(goes, notes.width)]
        return stacked([*pieces, *([heading(MORE, STRONG)] if more else [])], (3.4, 2.6, *([2.8] * len(pieces))), middle=True)
    title = [heading("RECESS, seen", COLUMN_TITLE), heading("from OUTSIDE", COLUMN_TITLE)]
    over = [*([heading(MORE, STRONG)] if more else []), *map(note, [*off, *in_lines(chocks, COLUMN_WIDE)]), tape]
    notes_ = [*over, *map(note, goes), *zeros]
    above = [*title, *([across(ways, 4.0)] if ways else []), spacers]
    gaps = [2.8, 4.5, *([4.0] if ways else []), 3.6]
    tried = [
        ([*notes_, *map(note, NO_MEASURE)], 2.8),
        (notes_, 2.8),
    ]  # the note beside the glass is enough where there is no room
    tried += [(notes_, 2.0)] if goes else []
    tried += (
        [([*over, note(SEEN_IN_RECORD), *zeros], 2.0)] if goes and not off else []
    )  # what stands off the wall goes to side 3 first
    found = [stacked([*above, *told], [*gaps, *([apart] * (len(told) - 1))], middle=False) for told, apart in tried]
    return next((each for each in found if each.height <= COLUMN_HIGH), found[-1])


def in_lines(cells: Sequence[str], room: float, *, gap: str = "    ") -> list[str]:
    """Cells with gaps between them, as many on a line as find room."""
    lines: list[str] = []
    for cell in cells:
        if lines and width_of(f"{lines[-1]}{gap}{cell}") <= room:
            lines[-1] = f"{lines[-1]}{gap}{cell}"
        else:
            lines.append(cell)
    return lines


def glass_words(detail: Detail, facts: CardFacts, *, column: bool) -> Piece:
    """Title, distance of the bead's centre and of the masking lines, UP and FWD of the glass as it lies."""
    centre = number(facts.bead_centre, decimals=1)
    low, high = (number(value, decimals=1) for value in facts.mask_lines)
    ways = pointers(detail, turned_over=True)
    if not column:
        figures = across([key_figure(centre, "edge to", "CENTRE"), key_figure(f"{low} and {high}", "edge to", "MASKS")], 5.0)
        pieces = [heading("GLASS AS IT LIES, INNER FACE UP"), figures, *([across(ways, 8.0)] if ways else [])]
        pieces.append(note(", ".join(NO_MEASURE)))
        return stacked(pieces, (4.2, 3.6, 3.0), middle=True)
    masks = [heading(f"{low} and {high}", KEY), note("edge to MASK LINES")]
    pieces = [heading("GLASS AS IT LIES,", COLUMN_TITLE), heading("INNER FACE UP", COLUMN_TITLE)]
    pieces += [key_figure(centre, "edge to", "bead CENTRE"), *masks, *([across(ways, 4.0)] if ways else []), note(NO_MEASURE[0])]
    return stacked(pieces, (2.8, 4.5, 4.6, 2.4, 3.6, *([2.8] if ways else [])), middle=False)


def set_inside(piece: Piece, region: Box, room: KeepClear, *, lean: float) -> list[Mark] | None:
    """The piece in a region of the card (left, bottom, right, top) where it is clear of everything; None where it is so nowhere.

    ``lean`` is the share of the free height that is wanted over it: 0 at the top, 0.5 in the middle.
    """
    left, bottom, right, top = region
    boxes = [box_of(mark, 1.0) for mark in piece.marks]
    middle = (left + right - piece.width) / 2
    spread = max(0.0, (right - left - piece.width) / 2)
    shifts = [0.0] + [side * step for step in (3.0, 6.0, 9.0, 13.0, 18.0, 24.0) for side in (1, -1) if step <= spread]
    free = top - bottom - piece.height
    levels = sorted(
        (top - 0.5 * step for step in range(int(max(free, -0.5) / 0.5) + 1)), key=lambda y: abs(top - y - lean * free)
    )
    for y in levels:
        for shift in shifts:
            x = middle + shift
            if all(room.free((box[0] + x, box[1] + y, box[2] + x, box[3] + y)) for box in boxes):
                return piece.at(x, y)
    return None


__all__ = [
    "COLUMN_HIGH",
    "Piece",
    "across",
    "glass_words",
    "heading",
    "in_lines",
    "key_figure",
    "note",
    "off_wall_lines",
    "placed_words",
    "pointers",
    "recess_words",
    "set_inside",
    "spacer_words",
    "stacked",
    "zero_words",
]
