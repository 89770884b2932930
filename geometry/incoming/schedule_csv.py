"""A schedule as a table of text: encoding and separator worked out from the whole of it, and told.

Terms
-----
separator
    Semicolon, tab or comma: the one under which most lines have the same number of cells. ``sep=;`` on the first line names it.

Every cell is text: 007 and 1E2 stay as they are typed. ``="007"``, by which spreadsheets keep a text, is that text.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter

from geometry.incoming.incoming import IncomingError
from geometry.incoming.schedule_table import MOST_COLUMNS, MOST_ROWS, Cell, Row, Sheet
from geometry.incoming.survey_faults import Fault, SurveyError
from geometry.incoming.text_of import TextError, text_of

SEPARATORS = {";": "semicolon", "\t": "tab", ",": "comma"}
_KEPT = re.compile(r'="(.*)"')


def sheet_of(data: bytes, name: str) -> tuple[Sheet, tuple[str, ...]]:
    """The rows of a table of text, and what was worked out about it. Raises ``IncomingError``."""
    try:
        text, encoding = text_of(data)
    except TextError as error:
        raise SurveyError(name, [error.fault]) from None
    stated = re.match(r"sep=(.)\r?\n", text, re.IGNORECASE)
    separator = stated[1] if stated else _separator(text)
    if separator not in SEPARATORS:
        raise SurveyError(name, [Fault(1, 5, f"the separator {separator!r}", "semicolon, tab or comma")])
    rows = []
    for number, typed in enumerate(_records(text, separator, name), start=1):
        if number > MOST_ROWS or len(typed) > MOST_COLUMNS:
            raise IncomingError(
                f"{name} has more than {MOST_ROWS} rows or {MOST_COLUMNS} columns", "the schedule alone in its file"
            )
        if stated and number == 1:
            continue
        cells = {column: _cell(number, column, each) for column, each in enumerate(typed, start=1) if each.split()}
        if cells:
            rows.append(Row(number, cells))
    if not rows:
        raise IncomingError(f"{name} holds no rows", "a row of heads and a row for each pane")
    return Sheet("", tuple(rows)), (f"{name}: cells parted by {SEPARATORS[separator]}s, letters in {encoding}",)


def _cell(row: int, column: int, typed: str) -> Cell:
    kept = _KEPT.fullmatch(typed.strip())
    if kept:
        return Cell(row, column, "text", kept[1].replace('""', '"'))
    if typed.lstrip().startswith("="):
        return Cell(row, column, "formula", typed.strip())
    if re.fullmatch(r"#(?:REF|N/A|VALUE|DIV/0|NAME|NULL|NUM|SPILL|CALC)[!?]?", typed.strip()):
        return Cell(row, column, "error", typed.strip())
    return Cell(row, column, "text", typed)


def _records(text: str, separator: str, name: str) -> list[list[str]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        return list(reader)
    except csv.Error as error:
        told = str(error).replace(f"'{separator}'", f"a {SEPARATORS[separator]}")  # a tab is seen by nobody
        raise SurveyError(name, [Fault(reader.line_num, 0, f"a row that cannot be read: {told}", "quotes in pairs")]) from None


def _separator(text: str) -> str:
    """The separator under which most rows agree in their number of cells; ``;`` before tab before comma where as many do."""
    best, most = ";", (0, 0)
    for sign in SEPARATORS:
        try:
            counts = Counter(len(row) for row in csv.reader(io.StringIO(text, newline=""), delimiter=sign) if any(row))
        except csv.Error:
            continue
        agreeing = max(((rows, cells) for cells, rows in counts.items() if cells > 1), default=(0, 0))
        if agreeing > most:
            best, most = sign, agreeing
    return best


__all__ = ["SEPARATORS", "sheet_of"]
