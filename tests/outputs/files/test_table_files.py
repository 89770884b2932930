"""Lists as XLSX and CSV, read back by openpyxl and by Python's own reader of CSV."""

import csv
import datetime
import io
import subprocess
import sys

import openpyxl
import pytest

from outputs.files.table_files import Column, TableFile, csv_bytes, xlsx_bytes

TABLE = TableFile(
    "panes [P/S]",
    (Column("code"), Column("area", "m2", 3), Column("pieces"), Column("day")),
    (
        ("007", 1.23456, 2, datetime.date(2026, 5, 4)),
        ("1E2", 0.1, 1, None),
        ('=HYPERLINK("http://x")', -0.0001, 0, None),
        ("+44", 2.0, 1, None),
    ),
    above=("Glass of an invented vessel",),
    below=("An aid, not an approval.",),
    sums=("together", 3.334, 4, None),
)


def test_a_workbook_read_again_holds_the_same_cells_and_no_formula():
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes([TABLE], date=datetime.date(2026, 5, 1))))
    sheet = book.active
    assert sheet.title == "panes  P S"  # the format forbids []:*?/\ in names
    rows = [[cell.value for cell in row] for row in sheet.iter_rows(max_col=4)]
    assert rows[0][0] == "Glass of an invented vessel"
    assert rows[2] == ["code", "area", "pieces", "day"]
    assert rows[3][1] == "m2"
    assert rows[4] == ["007", 1.235, 2, datetime.datetime(2026, 5, 4)]
    assert [row[0] for row in rows[4:9]] == ["007", "1E2", '=HYPERLINK("http://x")', "+44", "together"]
    assert {cell.data_type for row in sheet.iter_rows() for cell in row if cell.value is not None} <= {"s", "n", "d"}
    assert book.properties.created == datetime.datetime(2026, 5, 1)


@pytest.mark.parametrize(("decimal", "between", "area"), [("point", ",", "1.235"), ("comma", ";", "1,235")])
def test_csv_opens_with_its_own_separator_and_guards_what_looks_like_a_formula(decimal, between, area):
    data = csv_bytes(TABLE, decimal=decimal)
    assert data.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig")), delimiter=between))
    assert rows[0] == ["code", "area [m2]", "pieces", "day"]
    assert rows[1] == ["007", area, "2", "2026-05-04"]
    assert rows[3][:2] == ['\'=HYPERLINK("http://x")', area.replace("1", "0").replace("0,235", "0,000").replace("0.235", "0.000")]
    assert rows[4][0] == "'+44"
    assert rows[5][0] == "together"


def test_the_same_tables_give_the_same_bytes_in_another_process():
    program = (
        "import hashlib;from outputs.files.table_files import *;"
        "t=TableFile('a',(Column('x','mm',1),),((1.25,),('=1',)),above=('A',));"
        "print(hashlib.sha256(xlsx_bytes([t,t.__class__('b',t.columns,t.rows)])+csv_bytes(t)).hexdigest())"
    )
    runs = {subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout for _ in range(2)}
    assert len(runs) == 1


def test_a_row_of_another_length_is_refused():
    with pytest.raises(ValueError, match="a row of 1 cells under 2 columns"):
        TableFile("a", (Column("x"), Column("y")), (("1",),))


def test_a_long_text_shows_whole_in_its_row():
    """A column of 12 letters and words of 4: three to a line. Not every spreadsheet finds the height of a row that it did not write."""
    told = TableFile("long", (Column("what"), Column("mm")), (("abcd " * 9, 1.0), ("short", 2.0), ("abcd " * 999, 3.0)))
    sheet = openpyxl.load_workbook(io.BytesIO(xlsx_bytes([told]))).active
    short = sheet.row_dimensions[4].height or 15.0
    assert sheet.row_dimensions[3].height >= 3 * short
    assert sheet.row_dimensions[5].height <= 409  # Excel specifications and limits: the highest row, in points


def test_a_count_does_not_run_into_the_text_beside_it():
    """3 pieces of "8 toughened" must not read as 38: a figure stands at the right of its cell, so the text beside it stands in."""
    told = TableFile("glass", (Column("pieces"), Column("make-up")), ((3, "8 toughened"),))
    sheet = openpyxl.load_workbook(io.BytesIO(xlsx_bytes([told]))).active
    figure, text = sheet.cell(3, 1), sheet.cell(3, 2)
    assert text.alignment.indent >= 1 and figure.alignment.horizontal in (None, "general", "right")
    assert sheet.cell(1, 1).alignment.horizontal == "right", "the head of figures stands over them"
