"""The table on a sheet of a schedule: its row of heads wherever it stands, its units, its rows of panes, and what else stands there.

Terms
-----
row of heads
    The first row with a head for the code and at least two others that are known.
group
    A head merged over several columns above the row of heads: "Recess" over "depth" and "landing".
row of units
    The row below the heads where it holds units alone.
left out
    A row that is no pane and says so itself: a merged title, a remark, a total, the heads once more. It is told.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.job.schedule_heads import Head, head_of, meant_head, plain_words, unit_named
from geometry.job.schedule_kinds import kind_of
from geometry.job.schedule_rows import Column, Fault
from geometry.job.units import UNITS, shown

if TYPE_CHECKING:
    from geometry.incoming.schedule_table import Cell, Row, Sheet

LOOKED_AT = 60
"""Rows among which the row of heads is looked for."""
LEAST_HEADS = 3
_NO_UNIT = ("-", "–", "text", "no", "nr", "pcs", "qty", "each")
_TOTAL = re.compile(r"(?:grand |sub ?)?totals?\b|sums?\b", re.IGNORECASE)
_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,39}")
SIZES = ("width", "height", "diameter", "radius", "daylight width", "daylight height", "build-up")


@dataclass
class Table:
    """What stands on a sheet: the columns that are read by what they give, the rows that may be panes, what is told, what is wrong."""

    columns: dict[str, Column] = field(default_factory=dict)
    rows: list[Row] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    heads: dict[int, str] = field(default_factory=dict)  # every head of the table, by column


def heads_row(sheet: Sheet, columns: Mapping[str, str]) -> int | None:
    """The place of the row of heads among the rows of the sheet; None where none is one."""
    for index, row in enumerate(sheet.rows[:LOOKED_AT]):
        if _is_heads(row, columns):
            last = max(cell.merged[2] if cell.merged else row.number for cell in row.cells.values() if _gives_code(cell, columns))
            return next((at for at, each in enumerate(sheet.rows) if each.number == last), index)
    return None


def _gives_code(cell: Cell, columns: Mapping[str, str]) -> bool:
    return cell.kind == "text" and head_of(cell.text, columns).column == "code"


def table_of(sheet: Sheet, columns: Mapping[str, str]) -> Table:
    """The table of a sheet; ``columns`` is what the job says of the office's heads. The sheet must have a row of heads."""
    at = heads_row(sheet, columns)
    assert at is not None, "the sheet was chosen by its row of heads"
    row, table = sheet.rows[at], Table()
    above = sheet.rows[at - 1] if at and sheet.rows[at - 1].number == row.number - 1 else None
    _columns(table, row, above, columns)
    rest = list(sheet.rows[at + 1 :])
    if rest and _is_units(rest[0], table):
        _units(table, rest.pop(0))
    _check_units(table, row)
    for each in rest:
        _sorted_in(table, each, row, columns)
    hidden = sorted({column.at for column in table.columns.values()} & sheet.hidden_columns)
    if hidden:
        names = ", ".join(shown(table.heads[index]) for index in hidden)
        table.told.append(f"hidden columns are read like the others: {names}")
    rows = [each.number for each in table.rows if each.hidden]
    if rows:
        numbers = ", ".join(map(str, rows))
        table.told.append(f"hidden row{'s are' if len(rows) > 1 else ' is'} read like the others: {numbers}")
    return table


def _is_heads(row: Row, columns: Mapping[str, str]) -> bool:
    found = [head_of(cell.text, columns).column for cell in row.cells.values() if cell.kind == "text"]
    return "code" in found and len({each for each in found if each}) >= LEAST_HEADS


def _columns(table: Table, row: Row, above: Row | None, columns: Mapping[str, str]) -> None:
    unread = []
    for index, cell in row.cells.items():
        group = _group(row, above, index)
        said = f"{group} {cell.text}".strip()
        table.heads[index] = said
        if cell.kind != "text":
            table.faults.append(Fault(row.number, index, "", f"found {shown(cell.value)} among the heads", "a text"))
            continue
        head = head_of(cell.text, columns, group)
        if head.remark:
            unread.append(said)
        elif not head.column:
            table.faults.append(_unknown(row.number, index, said, head))
        elif head.column in table.columns:
            other = table.columns[head.column]
            found = f"the heads {shown(other.head)} and {shown(said)} both give {head.column}"
            allowed = f'one of them; the other not read: {_quoted(said)} = "" under [columns]'
            table.faults.append(Fault(row.number, index, "", found, allowed))
        else:
            table.columns[head.column] = Column(index, said, head.column, head.unit)
    if unread:
        table.told.append(f"columns that are not read: {', '.join(shown(each) for each in unread)}")


def _unknown(row: int, index: int, said: str, head: Head) -> Fault:
    allowed = (
        f'under [columns] the key that it gives, {_quoted(said)} = "recess.depth", or that it is not read, {_quoted(said)} = ""'
    )
    hint = head.hint or meant_head(said)
    return Fault(row, index, "", head.fault, f"{hint}; {allowed}" if hint else allowed)


def _quoted(text: str) -> str:
    return shown(text) if '"' not in text else f"'{text}'"


def _group(row: Row, above: Row | None, index: int) -> str:
    """The head above a head, where it is merged over several columns and not over all of them."""
    cell = None if above is None else above.cells.get(index)
    if cell is None or cell.merged is None or cell.kind != "text":
        return ""
    first_row, first, last_row, last = cell.merged
    if first == last or last_row >= row.number or first_row != last_row:
        return ""
    return "" if first <= min(row.cells) and last >= max(row.cells) else cell.text


# Units.


def _is_units(row: Row, table: Table) -> bool:
    texts = [_unit_word(cell) for index, cell in row.cells.items() if index in table.heads]
    return bool(texts) and all(unit_named(text) or text.casefold() in _NO_UNIT for text in texts) and any(map(unit_named, texts))


def _unit_word(cell: Cell) -> str:
    return cell.text.strip("[]() ") if cell.kind == "text" else "\0"


def _units(table: Table, row: Row) -> None:
    for gives, column in table.columns.items():
        cell = row.cells.get(column.at)
        unit = "" if cell is None else unit_named(_unit_word(cell))
        if not unit:
            continue
        if column.unit and column.unit != unit:
            found = f"{unit} below the head {shown(column.head)}"
            table.faults.append(Fault(row.number, column.at, "", found, "one unit"))
        table.columns[gives] = column._replace(unit=unit)


def _check_units(table: Table, row: Row) -> None:
    """Refuse a unit of another kind than the column's."""
    for column in table.columns.values():
        kind = kind_of(column.gives)
        measure = None if kind is None else kind.measure
        names = UNITS["length"] if column.gives in SIZES else {} if measure is None else UNITS[measure.kind]
        if column.unit and (names or measure is not None) and column.unit not in names:
            found = f"the unit {shown(column.unit)} of the column {shown(column.head)}"
            table.faults.append(Fault(row.number, column.at, "", found, "one of " + ", ".join(names) if names else "no unit"))


# Rows.


def _sorted_in(table: Table, row: Row, heads: Row, columns: Mapping[str, str]) -> None:
    """Take a row for a pane, leave it out and tell that, or say what is wrong with it."""
    cells = {index: cell for index, cell in row.cells.items() if index in table.heads}
    stray = [cell for index, cell in row.cells.items() if index not in table.heads]
    first = next(iter(row.cells.values()))
    if _is_title(row):
        table.told.append(f"row {row.number} is a title, and no pane: {shown(first.text)}")
    elif _is_heads(row, columns):
        if [plain_words(cell.text) for cell in row.cells.values()] == [plain_words(cell.text) for cell in heads.cells.values()]:
            table.told.append(f"row {row.number} holds the heads once more")
        else:
            table.faults.append(Fault(row.number, first.column, "", "a second row of heads", "one table on a sheet"))
    elif _is_total(row, table):
        table.told.append(f"row {row.number} is a total, and no pane: {shown(first.text)}")
    elif _is_remark(row, table):
        table.told.append(f"row {row.number} is a remark, and no pane: {shown(first.text)}")
    elif stray:
        found = f"{shown(stray[0].text)} under no head"
        table.faults.append(
            Fault(
                row.number, stray[0].column, "", found, "a head over every column; quotes round a cell that holds the separator"
            )
        )
    elif any(column.at in cells for column in table.columns.values()):
        table.rows.append(row)
    else:
        table.told.append(f"row {row.number} has nothing in the columns that are read")


def _is_title(row: Row) -> bool:
    """Whether one merged cell is all that a row holds."""
    spans = {cell.merged for cell in row.cells.values()}
    (span,) = spans if len(spans) == 1 else (None,)
    return span is not None and span[1] != span[3]


def _is_total(row: Row, table: Table) -> bool:
    """Whether a row begins with a word for a total and has no size of a pane."""
    first = next(iter(row.cells.values()))
    shape = [column.at for gives, column in table.columns.items() if gives in (*SIZES, "shape", "outline file")]
    return first.kind == "text" and _TOTAL.match(first.text) is not None and not any(index in row.cells for index in shape)


def _is_remark(row: Row, table: Table) -> bool:
    """Whether one text is all that a row holds, and it cannot be the code of a pane."""
    if len(row.cells) != 1:
        return False
    (cell,) = row.cells.values()
    return cell.kind == "text" and (cell.column != table.columns["code"].at or _CODE.fullmatch(cell.text) is None)


__all__ = ["LEAST_HEADS", "SIZES", "Table", "heads_row", "table_of"]
