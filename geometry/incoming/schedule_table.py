"""A schedule of somebody's office as cells with their places, out of a workbook or a table of text; what a head means is not known here.

Terms
-----
cell
    What stands in one place: text, number, yes or no, day, or what must not be taken for a value: an error, a formula without result.
place
    Sheet, column and row as a spreadsheet tells them: ``Windows!D7``; of a table of text ``D7``.
told
    What was decided while reading (which sheet, which separator), one sentence each.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Literal

from geometry.incoming.incoming import IncomingError

MOST_BYTES = 5_000_000
MOST_ROWS = 5_000
MOST_COLUMNS = 400

Kind = Literal["text", "number", "flag", "day", "error", "formula"]
WORKBOOKS = (".xlsx", ".xltx")
OTHERS = {
    ".xls": "an old workbook (XLS)",
    ".xlsm": "a workbook with macros (XLSM)",
    ".xlsb": "a binary workbook (XLSB)",
    ".ods": "an OpenDocument spreadsheet (ODS)",
    ".numbers": "a spreadsheet of another form",
}
ALLOWED = "a workbook saved as XLSX, or a CSV"


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell. ``row`` and ``column`` count from 1; ``form`` is the workbook's number format; ``merged`` the range that it is part of."""

    row: int
    column: int
    kind: Kind
    value: str | int | float | bool | datetime.date | datetime.time
    form: str = "General"
    merged: tuple[int, int, int, int] | None = None  # first row, first column, last row, last column

    @property
    def place(self) -> str:
        """Column and row as a spreadsheet tells them."""
        return f"{letters(self.column)}{self.row}"

    @property
    def text(self) -> str:
        """What stands there, in one line, blanks of every kind as one space."""
        return " ".join(str(self.value).split()) if self.kind in ("text", "number", "error") else str(self.value)


@dataclass(frozen=True, slots=True)
class Row:
    """One row that holds something: its number from 1, and its cells by column."""

    number: int
    cells: Mapping[int, Cell]
    hidden: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of a schedule; ``name`` is "" for a table of text."""

    name: str
    rows: tuple[Row, ...]
    hidden: bool = False
    hidden_columns: frozenset[int] = field(default_factory=frozenset)
    formulas: int = 0  # cells whose stored results are read

    def place(self, row: int, column: int) -> str:
        """Where a cell stands.

        >>> Sheet("Main deck", ()).place(7, 28)
        "'Main deck'!AB7"
        """
        at = f"{letters(column)}{row}"
        if not self.name:
            return at
        plain = self.name.replace("_", "").isalnum() and not self.name[0].isdigit()
        quoted = self.name if plain else "'" + self.name.replace("'", "''") + "'"
        return f"{quoted}!{at}"


@dataclass(frozen=True, slots=True)
class ScheduleFile:
    """What a schedule's file holds. ``text`` says that every cell is text, as in CSV."""

    name: str
    sheets: tuple[Sheet, ...]
    text: bool = False
    notes: tuple[str, ...] = ()


def letters(column: int) -> str:
    """The letters of a column counted from 1.

    >>> letters(1), letters(26), letters(27), letters(702), letters(703)
    ('A', 'Z', 'AA', 'ZZ', 'AAA')
    """
    found = ""
    while column:
        column, rest = divmod(column - 1, 26)
        found = chr(65 + rest) + found
    return found


@lru_cache(maxsize=2)  # a job and the older state that it is compared with mostly name the same schedule
def schedule_of(data: bytes, name: str) -> ScheduleFile:
    """The cells in the bytes of a schedule: what the bytes are decides, not the ending of the name. Raises ``IncomingError``."""
    if data[:4] == b"PK\x03\x04":
        from geometry.incoming.schedule_xlsx import sheets_of

        return ScheduleFile(name, sheets_of(data, name))
    if data[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise IncomingError(f"{name} is an old workbook (XLS), or one locked by a password", f"{ALLOWED}, without a password")
    ending = Path(name).suffix.casefold()
    if ending in OTHERS or ending in WORKBOOKS:
        what = OTHERS.get(ending, "called a workbook (XLSX), and its bytes are none")
        raise IncomingError(f"{name} is {what}", ALLOWED)
    from geometry.incoming.schedule_csv import sheet_of

    sheet, notes = sheet_of(data, name)
    return ScheduleFile(name, (sheet,), text=True, notes=notes)


__all__ = [
    "ALLOWED",
    "MOST_BYTES",
    "MOST_COLUMNS",
    "MOST_ROWS",
    "OTHERS",
    "Cell",
    "Kind",
    "Row",
    "ScheduleFile",
    "Sheet",
    "letters",
    "schedule_of",
]
