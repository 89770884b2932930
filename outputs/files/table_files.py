"""Tables of plain values as XLSX and CSV: the lists of a vessel, for the spreadsheets of other people.

Terms
-----
text cell
    What was given as text. It stays text: it becomes no formula and no link, and a code like 007 or 1E2 stays as it is.
guarded
    In CSV a text that a spreadsheet would take for a formula (it begins with = + - @, a tab or a line's end) has ' before it.
decimal sign
    As the job says, never as the computer does. Point: columns part at commas. Comma: they part at semicolons. Both begin with
    the byte order mark, by which a spreadsheet knows UTF-8.

The same bytes for the same tables: the date within an XLSX file is that of the job, or of the release of the program.
"""

from __future__ import annotations

import csv
import datetime
import io
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from outputs.version import DATE, PROGRAM

Cell = str | int | float | datetime.date | None
"""Text, a count, a quantity, a day, or nothing."""

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")
_LINE = 15.0  # points, of the standing letters of a workbook
_ROW_HIGHEST = 405.0  # points, below the most that XLSX allows
_NAME_LONGEST = 31  # of a sheet of a workbook, as XLSX has it
_NAME_WITHOUT = str.maketrans(dict.fromkeys("[]:*?/\\", " "))


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head, the unit below it, how many decimals its quantities are written with, and its width in letters."""

    head: str
    unit: str = ""
    decimals: int = 0
    width: int = 12


@dataclass(frozen=True, slots=True)
class TableFile:
    """One table: a name, lines above it (what it is, of what, on which day), columns, rows, and lines below it.

    ``sums`` is a last row, of the same cells: what a column comes to, "" where nothing is added up.
    """

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    above: tuple[str, ...] = ()
    below: tuple[str, ...] = ()
    sums: tuple[Cell, ...] = ()

    def __post_init__(self) -> None:
        """Hold every row against the columns."""
        for row in (*self.rows, *([self.sums] if self.sums else [])):
            if len(row) != len(self.columns):
                raise ValueError(f"table {self.name}: a row of {len(row)} cells under {len(self.columns)} columns: {row}")


def rounded(value: Cell, decimals: int) -> Cell:
    """A quantity as it is printed, the same in every file; other cells as they are."""
    return round(value, decimals) + 0.0 if isinstance(value, float) else value  # + 0.0: no -0


def xlsx_bytes(tables: Sequence[TableFile], *, date: datetime.date | None = None, title: str = "") -> bytes:
    """A workbook with a sheet for each table: heads that stay in view, a filter, one page wide on A4 across.

    ``date`` is the day of the job, told in the file's properties.
    """
    import xlsxwriter

    day = date or datetime.date.fromisoformat(DATE)
    target = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = xlsxwriter.Workbook(target, options)
    created = datetime.datetime(day.year, day.month, day.day)
    book.set_properties({"title": title, "created": created, "comments": PROGRAM})
    styles = {
        "plain": book.add_format({"text_wrap": True, "valign": "top", "indent": 1}),
        "title": book.add_format({"bold": True, "font_size": 13}),
        "head": book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1, "indent": 1}),
        "unit": book.add_format({"italic": True, "bottom": 2, "indent": 1}),
        "number head": book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1, "align": "right"}),
        "number unit": book.add_format({"italic": True, "bottom": 2, "align": "right"}),
    }
    for table in tables:
        _sheet(book, table, styles)
    book.close()
    return target.getvalue()


def _sheet(book, table: TableFile, styles) -> None:  # type: ignore[no-untyped-def]
    sheet = book.add_worksheet(table.name.translate(_NAME_WITHOUT).strip()[:_NAME_LONGEST])
    row = 0
    for count, line in enumerate(table.above):
        sheet.write_string(row, 0, line, styles["title"] if count == 0 else None)
        row += 1
    head = row + (1 if table.above else 0)
    sheet.set_row(head, _height([column.head for column in table.columns], table.columns))
    for index, column in enumerate(table.columns):
        sheet.set_column(index, index, column.width)
        kind = "number " if any(isinstance(cells[index], (int, float)) for cells in table.rows) else ""
        sheet.write_string(head, index, column.head, styles[f"{kind}head"])
        sheet.write_string(head + 1, index, column.unit, styles[f"{kind}unit"])
    formats = [_number_formats(book, column) for column in table.columns]
    row = head + 2
    for cells in table.rows:
        _row(sheet, row, cells, table.columns, formats, styles["plain"], bold=False)
        row += 1
    if table.rows:
        sheet.autofilter(head + 1, 0, row - 1, len(table.columns) - 1)
    if table.sums:
        _row(sheet, row, table.sums, table.columns, formats, styles["head"], bold=True)
        row += 1
    for line in table.below:
        row += 1
        sheet.write_string(row, 0, line)
    sheet.freeze_panes(head + 2, 1)
    sheet.set_landscape()
    sheet.set_paper(9)  # A4
    sheet.set_margins(left=0.4, right=0.4, top=0.5, bottom=0.5)  # inches
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(head, head + 1)


def _number_formats(book, column: Column):  # type: ignore[no-untyped-def]
    digits = "0" + ("." + "0" * column.decimals if column.decimals else "")
    return {
        (kind, bold): book.add_format({"num_format": form, "bold": bold, "valign": "top"})
        for kind, form in (("number", digits), ("count", "0"), ("day", "yyyy-mm-dd"))
        for bold in (False, True)
    }


def _row(sheet, row: int, cells: Sequence[Cell], columns, formats, text, *, bold: bool) -> None:  # type: ignore[no-untyped-def]
    sheet.set_row(row, _height(cells, columns))
    for index, (cell, column) in enumerate(zip(cells, columns, strict=True)):
        if cell is None or cell == "":
            sheet.write_blank(row, index, None, text if bold else None)
        elif isinstance(cell, str):
            sheet.write_string(row, index, cell, text)
        elif isinstance(cell, datetime.date):
            sheet.write_datetime(row, index, cell, formats[index]["day", bold])
        else:
            kind = "number" if isinstance(cell, float) else "count"
            sheet.write_number(row, index, rounded(cell, column.decimals), formats[index][kind, bold])


def _height(cells: Sequence[Cell], columns: Sequence[Column]) -> float:
    """Height of a row in points, so that its longest text shows whole: not every spreadsheet finds it by itself."""
    lines = [_lines(cell, max(1, column.width - 1)) for cell, column in zip(cells, columns, strict=True) if isinstance(cell, str)]
    return min(_LINE * max(1, *lines, 1), _ROW_HIGHEST)


def _lines(text: str, width: int) -> int:
    """How many lines a text takes; most of a list's are short, and known without wrapping them."""
    if len(text) <= width and "\t" not in text:
        return 1
    return len(textwrap.wrap(text, width))


def csv_bytes(table: TableFile, *, decimal: str = "point") -> bytes:
    """The table as CSV: heads with their units, rows, sums; what stands above and below is left to the other forms.

    ``decimal`` is "point" or "comma".
    """
    target = io.StringIO()
    writer = csv.writer(target, delimiter=";" if decimal == "comma" else ",", lineterminator="\r\n")
    writer.writerow(guarded(f"{each.head} [{each.unit}]" if each.unit else each.head) for each in table.columns)
    for cells in (*table.rows, *([table.sums] if table.sums else [])):
        writer.writerow(_in_csv(cell, column, decimal) for cell, column in zip(cells, table.columns, strict=True))
    return target.getvalue().encode("utf-8-sig")


def guarded(text: str) -> str:
    """A text that no spreadsheet takes for a formula.

    >>> guarded("=1+1"), guarded("W-01")
    ("'=1+1", 'W-01')
    """
    return f"'{text}" if text.startswith(_FORMULA) else text


def _in_csv(cell: Cell, column: Column, decimal: str) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return guarded(cell)
    if isinstance(cell, datetime.date):
        return cell.isoformat()
    if isinstance(cell, int):
        return str(cell)
    text = f"{rounded(cell, column.decimals):.{column.decimals}f}"
    return text.replace(".", ",") if decimal == "comma" else text


__all__ = ["Cell", "Column", "TableFile", "csv_bytes", "guarded", "rounded", "xlsx_bytes"]
