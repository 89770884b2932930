"""The words and tables of the marked-up drawing: how it lies, sizes by name, what is numbered, what holds, words that are quoted.

Terms
-----
block
    A heading with rows; blocks run down one column after another, and a block that does not fit goes on in the next.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from geometry.ledger.finding import Verdict
from outputs.drawing.marked_up_view import STYLE
from outputs.sheet.drafting import number, on_paper
from outputs.sheet.entities import Mark, Text
from outputs.sheet.lettering import LetteringError, printed
from outputs.sheet.runs import line
from outputs.sheet.tables import wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.ledger.finding import Finding
    from geometry.returned.comparison import Comparison
    from outputs.drawing.marked_up_view import Marked

ROW = 5.0
LINE = 4.0
BASE = 1.6
TEXT = STYLE.text
LONGEST = 50  # signs of a word
AFTER = 4.0  # mm between two blocks
HEAD = 8.5  # mm from the top of a block to its first rule
Align = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Cell:
    """One text at ``x`` from the left of its column."""

    x: float
    string: str
    align: Align = "left"
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """Cells side by side; ``under`` are further lines of words below them, each at its own x."""

    cells: tuple[Cell, ...]
    under: tuple[Cell, ...] = ()
    ruled: bool = True

    @property
    def height(self) -> float:
        """Mm."""
        return ROW + LINE * len(self.under)


@dataclass(frozen=True, slots=True)
class Block:
    """A heading and its rows; ``names`` is the row of names that is repeated where the block goes on."""

    heading: str
    rows: tuple[Row, ...]
    names: Row | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """A column on a sheet: which sheet, its left, top and bottom, mm."""

    sheet: int
    left: float
    top: float
    bottom: float


def blocks_of(found: Comparison, marked: Sequence[Marked], width: float, without_room: Sequence[int]) -> list[Block]:
    """Everything that stands beside the view."""
    blocks = [_lies(found, width), _holds(found, width)]
    if marked:
        blocks.append(_numbered(marked, width, without_room))
    if found.sizes:
        blocks.append(_sizes(found))
    if found.words:
        blocks.append(_words(found, width))
    return blocks


def _lies(found: Comparison, width: float) -> Block:
    told = [f"{found.file}, laid on the pane: {on_paper(found.laid)}", *map(on_paper, found.notes)]
    lines = [lettered(each) for each in told]
    rows = [Row((Cell(0.0, part),), ruled=False) for each in lines for part in wrapped(each, width, TEXT)]
    return Block("How the returned drawing lies", tuple(rows))


_ORDER = (Verdict.FAIL, Verdict.LOOK, Verdict.NOT_CHECKED, Verdict.PASS)


def _holds(found: Comparison, width: float) -> Block:
    ordered = [each for verdict in _ORDER for each in found.findings if each.verdict is verdict]
    rows: list[Row] = []
    told: set[str] = set()
    for each in ordered:
        rows.append(_finding(each, width, again=each.remedy in told))
        told.add(each.remedy)
    return Block("What holds and what does not", tuple(rows))


@lru_cache(maxsize=512)
def lettered(words: str) -> str:
    """Words of somebody else's drawing as the face can letter them: a sign that it lacks is a question mark, a word has 50 signs.

    >>> lettered("面 4"), [len(word) for word in lettered("x" * 120).split()]
    ('? 4', [50, 50, 20])
    """
    signs = "".join(sign if _known(sign) else "?" for sign in words)
    return " ".join(word[first : first + LONGEST] for word in signs.split() for first in range(0, len(word), LONGEST))


@lru_cache(maxsize=512)
def _known(sign: str) -> bool:
    try:
        printed(sign)
    except LetteringError:
        return False
    return True


def _finding(finding: Finding, width: float, *, again: bool) -> Row:
    fails = finding.verdict is Verdict.FAIL
    says = lettered(on_paper(finding.says.removeprefix("not checked: ")))
    words = [*wrapped(says, width - 24.0, TEXT)] if says and finding.verdict is not Verdict.PASS else []
    if finding.remedy:
        words += wrapped("to do: as above" if again else f"to do: {on_paper(finding.remedy)}", width - 24.0, TEXT)
    cells = (Cell(0.0, finding.verdict.value.upper() if fails else finding.verdict.value, bold=fails), Cell(24.0, finding.name))
    return Row(cells, tuple(Cell(24.0, each) for each in words))


def _numbered(marked: Sequence[Marked], width: float, without_room: Sequence[int]) -> Block:
    names = Row(
        (
            Cell(0.0, "No."),
            Cell(12.0, "what"),
            Cell(58.0, "where"),
            Cell(100.0, "mm", "right"),
            Cell(122.0, "limit", "right"),
            Cell(126.0, "X, Y"),
        )
    )
    rows = []
    for each in marked:
        amount = number(each.amount) if each.short else _signed(each.amount)
        limit = f"≥ {number(each.limit)}" if each.short else f"±{number(each.limit)}"
        at = f"{number(each.told.x, decimals=0)}, {number(each.told.y, decimals=0)}"
        after = " *" if each.number in without_room else ""
        rows.append(
            Row(
                (
                    Cell(0.0, f"{each.number}{after}"),
                    Cell(12.0, each.what),
                    Cell(58.0, each.part),
                    Cell(100.0, amount, "right"),
                    Cell(122.0, limit, "right"),
                    Cell(126.0, at),
                )
            )
        )
    words = "+ outside the issued line, − inside it; of the solid print its width from the glass edge as drawn, print tolerance in the limit"
    words += "; * no room on the view" if without_room else ""
    rows += [Row((Cell(0.0, part),), ruled=False) for part in wrapped(words, width, TEXT)]
    return Block("Marked on the view, mm", tuple(rows), names)


def _signed(value: float) -> str:
    text = number(value)
    return text if text.startswith("−") or text == "0" else f"+{text}"


def _sizes(found: Comparison) -> Block:
    names = Row(
        (
            Cell(0.0, "size"),
            Cell(74.0, "issued", "right"),
            Cell(102.0, "returned", "right"),
            Cell(130.0, "difference", "right"),
            Cell(134.0, ""),
        )
    )
    rows = []
    ordered = [*(size for size in found.sizes if size.over), *(size for size in found.sizes if not size.over)]
    for size in ordered:
        after = "not found" if size.returned is None else number(size.returned)
        change = "" if size.difference is None else _signed(round(size.difference, 2))
        mark = f"over ±{number(size.limit)}" if size.over else ""
        cells = (
            Cell(0.0, size.name),
            Cell(74.0, number(size.issued), "right"),
            Cell(102.0, after, "right"),
            Cell(130.0, change, "right"),
            Cell(134.0, mark, bold=True),
        )
        rows.append(Row(cells))
    for corner in found.corners:
        if (
            corner.returned is not None
            and corner.apart is not None
            and corner.apart > (found.outline.limit if found.outline else 0.0)
        ):
            was, now = (f"X {number(at.x)}, Y {number(at.y)}" for at in (corner.issued, corner.returned))
            moved = f"{corner.name} from {was} to {now}"
            rows.append(Row((Cell(0.0, moved),)))
    return Block("Sizes, edges and sharp corners by their names, mm", tuple(rows), names)


def _words(found: Comparison, width: float) -> Block:
    rows = []
    for each in found.words:
        parts = wrapped(lettered(f"“{each.text}”"), width - 24.0, TEXT)
        under = [*parts[1:], *wrapped(lettered(f"{each.says.value}: {each.why}"), width - 24.0, TEXT)]
        rows.append(
            Row((Cell(0.0, each.topic), Cell(24.0, parts[0] if parts else "")), tuple(Cell(24.0, part) for part in under))
        )
    return Block("Words of the drawing, quoted", tuple(rows))


def set_blocks(blocks: Sequence[Block], rooms: Sequence[Room], width: float) -> dict[int, list[Mark]]:
    """The marks of the blocks by sheet, down the rooms one after the other; what no room is left for is counted in the last line."""
    marks: dict[int, list[Mark]] = {room.sheet: [] for room in rooms}
    left_rooms = list(rooms)
    room = left_rooms.pop(0)
    y, left = room.top, sum(len(block.rows) for block in blocks)
    for block in blocks:
        head = HEAD + (ROW if block.names else 0.0)
        first = block.rows[0].height if block.rows else 0.0
        if y - head - first < room.bottom and left_rooms:
            room = left_rooms.pop(0)
            y = room.top
        y = _heading(marks[room.sheet], block, room, y, width, "")
        for row in block.rows:
            counted = 0.0 if left_rooms or left == 1 else ROW  # the last line of the last room is kept for it
            if y - row.height - counted < room.bottom:
                if not left_rooms:
                    more = Row((Cell(0.0, f"and {left} more: see the list of the command"),), ruled=False)
                    _row(marks[room.sheet], more, room, y, width)
                    return marks
                room = left_rooms.pop(0)
                y = _heading(marks[room.sheet], block, room, room.top, width, ", continued")
            y = _row(marks[room.sheet], row, room, y, width)
            left -= 1
        y -= AFTER
    return marks


def _heading(marks: list[Mark], block: Block, room: Room, top: float, width: float, after: str) -> float:
    marks.append(Text("TEXT", room.left, top - 4.5, f"{block.heading}{after}", STYLE.label))
    y = top - HEAD + 1.5
    marks.append(line("TABLE_HEADS", (room.left, y), (room.left + width, y)))
    return _row(marks, block.names, room, y, width, heavy=True) if block.names else y


def _row(marks: list[Mark], row: Row, room: Room, top: float, width: float, *, heavy: bool = False) -> float:
    for cell in row.cells:
        if cell.string:
            marks.append(Text("TEXT", room.left + cell.x, top - ROW + BASE, cell.string, TEXT, cell.align, bold=cell.bold))
    for index, cell in enumerate(row.under, start=1):
        marks.append(Text("TEXT", room.left + cell.x, top - ROW - LINE * index + BASE, cell.string, TEXT))
    bottom = top - row.height
    if row.ruled:
        marks.append(line("TABLE_HEADS" if heavy else "TABLES", (room.left, bottom), (room.left + width, bottom)))
    return bottom


__all__ = ["Block", "Cell", "Room", "Row", "blocks_of", "lettered", "set_blocks"]
