"""A schedule in a workbook (XLSX): every sheet's cells as they are stored, with what is merged and hidden.

Terms
-----
stored result
    What the spreadsheet worked out last for a formula. A workbook that no spreadsheet has worked out yet, or that asks to be worked out
    anew when it is opened, has none: its formulas are no values, and never zero.
"""

from __future__ import annotations

import datetime
import io
import math
import re
import warnings
import zipfile
from typing import TYPE_CHECKING, Any

from geometry.incoming.incoming import IncomingError
from geometry.incoming.schedule_table import ALLOWED, MOST_COLUMNS, MOST_ROWS, Cell, Kind, Row, Sheet

if TYPE_CHECKING:
    from collections.abc import Iterator

_ANEW = re.compile(rb"""fullCalcOnLoad\s*=\s*["'](?:1|true)["']""")
MOST_UNPACKED = 40_000_000
MOST_PARTS = 500
MOST_SHEETS = 50
MOST_MERGED = 100_000
BEYOND = 10**308
"""A stored number as great is none that a spreadsheet wrote: it holds no more (IEEE 754, double)."""


def sheets_of(data: bytes, name: str) -> tuple[Sheet, ...]:
    """The sheets of a workbook in their order. Raises ``IncomingError``."""
    stale = _harmless(data, name)
    values, formulas = _opened(data, name, results=True), _opened(data, name, results=False)
    if len(values.worksheets) > MOST_SHEETS:
        raise IncomingError(f"{name} has {len(values.worksheets)} sheets", f"at most {MOST_SHEETS}")
    pairs = zip(values.worksheets, formulas.worksheets, strict=True)
    try:
        found = tuple(_sheet(of_values, of_formulas, stale, name) for of_values, of_formulas in pairs)
    except (IncomingError, MemoryError):
        raise
    except Exception as error:  # a cell of a style that is not there, and the like
        raise _damaged(name, error) from None
    if not any(sheet.rows for sheet in found):
        raise IncomingError(f"{name} holds no rows", "a row of heads and a row for each pane")
    return found


def _harmless(data: bytes, name: str) -> bool:
    """Refuse what is no plain workbook, or unpacks to more than a schedule can be, before anything of it is unpacked.

    Whether the workbook asks to be worked out anew: its stored results are none.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            parts = packed.infolist()
            names = {part.filename for part in parts}
            if any(each.casefold().endswith("vbaproject.bin") for each in names):
                raise IncomingError(f"{name} is a workbook with macros", f"{ALLOWED}, without macros")
            if "xl/workbook.xml" not in names:
                ods = "mimetype" in names and packed.getinfo("mimetype").file_size < 200
                kind = packed.read("mimetype").decode("ascii", "replace") if ods else ""
                what = "an OpenDocument spreadsheet (ODS)" if "opendocument" in kind else "a packed file, and no workbook"
                raise IncomingError(f"{name} is {'a binary workbook (XLSB)' if 'xl/workbook.bin' in names else what}", ALLOWED)
            size = math.fsum(part.file_size for part in parts)
            if size > MOST_UNPACKED or len(parts) > MOST_PARTS:
                raise IncomingError(
                    f"{name} unpacks to {size} bytes in {len(parts)} parts",
                    f"at most {MOST_UNPACKED} bytes in {MOST_PARTS} parts: the schedule alone in its workbook",
                )
            if any(part.flag_bits & 1 for part in parts):
                raise IncomingError(f"{name} is locked by a password", f"{ALLOWED}, without a password")
            for part in parts:
                if part.filename.endswith((".xml", ".rels")) and b"<!DOCTYPE" in packed.read(part):
                    raise IncomingError(f"{name} declares entities of its own, which no spreadsheet does", ALLOWED)
            return _ANEW.search(packed.read("xl/workbook.xml")) is not None
    except IncomingError:
        raise
    except Exception as error:  # a damaged archive fails in many ways
        raise _damaged(name, error) from None


def _opened(data: bytes, name: str, *, results: bool) -> Any:
    import openpyxl

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return openpyxl.load_workbook(io.BytesIO(data), data_only=results, keep_links=False)
    except MemoryError:
        raise
    except Exception as error:  # the library says in many ways that a part is not as it should be
        raise _damaged(name, error) from None


def _damaged(name: str, error: Exception) -> IncomingError:
    return IncomingError(f"{name} is a damaged workbook: {_short(error)}", ALLOWED, "open it in a spreadsheet and save it again")


def _short(error: Exception) -> str:
    text = " ".join(str(error).split()) or type(error).__name__
    return "".join(sign if sign.isprintable() else "?" for sign in text)[:120]


def _sheet(values: Any, formulas: Any, stale: bool, name: str) -> Sheet:
    spans = [(each.min_row, each.min_col, each.max_row, each.max_col) for each in values.merged_cells.ranges]
    if math.fsum((last - first + 1) * (end - start + 1) for first, start, last, end in spans) > MOST_MERGED:
        raise IncomingError(
            f"{name}, sheet {values.title}, merges more than {MOST_MERGED} cells", "the schedule alone on its sheet"
        )
    rows: dict[int, dict[int, Cell]] = {}
    results = 0
    for (row, column), cell in values._cells.items():  # only what is stored: a formatted column does not have a million cells
        formula = formulas._cells.get((row, column))
        found = _cell(row, column, cell, formula is not None and formula.data_type == "f", stale)
        if found is None:
            continue
        if row > MOST_ROWS or column > MOST_COLUMNS:
            raise IncomingError(
                f"{name}, sheet {values.title}, has something in {found.place}",
                f"at most {MOST_ROWS} rows and {MOST_COLUMNS} columns: the schedule alone on its sheet",
            )
        results += formula is not None and formula.data_type == "f" and found.kind != "formula"
        rows.setdefault(row, {})[column] = found
    for span in sorted(spans):
        _spread(rows, span)
    hidden = {index for index, dimension in values.row_dimensions.items() if dimension.hidden}
    found_rows = tuple(
        Row(number, dict(sorted(rows[number].items())), number in hidden) for number in sorted(rows) if rows[number]
    )
    return Sheet(str(values.title), found_rows, values.sheet_state != "visible", frozenset(_hidden_columns(values)), results)


def _spread(rows: dict[int, dict[int, Cell]], span: tuple[int, int, int, int]) -> None:
    """Every place of a merged range shows what stands in its first cell."""
    first_row, first_column, last_row, last_column = span
    anchor = rows.get(first_row, {}).get(first_column)
    if anchor is None:
        return
    for row in range(first_row, min(last_row, MOST_ROWS) + 1):
        for column in range(first_column, min(last_column, MOST_COLUMNS) + 1):
            rows.setdefault(row, {})[column] = Cell(row, column, anchor.kind, anchor.value, anchor.form, span)


def _hidden_columns(values: Any) -> Iterator[int]:
    for dimension in values.column_dimensions.values():
        if dimension.hidden and dimension.min and dimension.max:
            yield from range(dimension.min, min(dimension.max, MOST_COLUMNS) + 1)


def _cell(row: int, column: int, cell: Any, formula: bool, stale: bool) -> Cell | None:
    """What a cell stores; None for nothing."""
    value, form = cell.value, str(cell.number_format or "General")
    if formula and (stale or (value is None and cell.data_type != "str")):
        return Cell(row, column, "formula", "a formula without a stored result", form)
    if value is None or (isinstance(value, str) and not value.split()):
        return None
    kind: Kind = "text"
    if cell.data_type == "e":
        kind = "error"
    elif isinstance(value, bool):
        kind = "flag"
    elif isinstance(value, (int, float)):
        kind, value = ("number", value) if abs(value) < BEYOND else ("error", "a number of more than 308 figures")
    elif isinstance(value, (datetime.date, datetime.time)):
        kind = "day"
    elif isinstance(value, datetime.timedelta):
        kind, value = "day", str(value)
    else:
        value = str(value)
    return Cell(row, column, kind, value, form)


__all__ = ["sheets_of"]
