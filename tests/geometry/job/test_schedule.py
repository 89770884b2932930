"""A schedule as offices write it: every row is the pane that it says, or is refused in its own cell; nothing is guessed.

Workbooks are written by XlsxWriter and openpyxl, tables of text by Python's csv; what is read must equal what was typed.
"""

from __future__ import annotations

import csv
import datetime
import io
import random
import re
import shutil
import subprocess
import zipfile
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from geometry.incoming import schedule_table, schedule_xlsx
from geometry.job import Job, JobError, job_of, with_changes
from geometry.job.mark import mark_of

SAMPLES = Path(__file__).parents[3] / "samples"
HEADS = ["Code", "Hand", "Width", "Height", "Build-up"]
ROW = ["W1", "P", 900, 450, "10"]
JOB = 'panes = { schedule = "FILE" }\n[vessel]\nname = "Invented"\n[frame]\nmaterial = "aluminium"\n'


def workbook(path, *rows, sheet="Windows", **sheets):
    """A workbook of rows from A1 on, written by XlsxWriter; None is no cell."""
    kept = {
        "strings_to_formulas": False,
        "strings_to_numbers": False,
        "strings_to_urls": False,
        "default_date_format": "yyyy-mm-dd",
    }
    book = xlsxwriter.Workbook(str(path), kept)
    for name, cells in {sheet: rows, **sheets}.items():
        page = book.add_worksheet(name)
        for y, row in enumerate(cells):
            for x, value in enumerate(row):
                if value is not None:
                    page.write_string(y, x, value) if isinstance(value, str) else page.write(y, x, value)
    book.close()


@pytest.fixture
def panes_of(tmp_path):
    """The panes of rows written to a file: ``.xlsx`` by XlsxWriter, ``.csv`` by the csv library."""

    def read(*rows, name="w.xlsx", more="", panes="", encoding="utf-8-sig", delimiter=";", heads=None):
        listed = [heads or HEADS, *(rows or [ROW])]
        if name.endswith("csv"):
            target = io.StringIO()
            csv.writer(target, delimiter=delimiter).writerows([["" if each is None else each for each in row] for row in listed])
            (tmp_path / name).write_bytes(target.getvalue().encode(encoding))
        else:
            workbook(tmp_path / name, *listed)
        return job_of(JOB.replace('"FILE"', f'"{name}"{panes}') + more, folder=tmp_path)

    return read


def refused(call, *args, **options):
    with pytest.raises(JobError) as caught:
        call(*args, **options)
    return caught.value.problems


# What is read is what was typed.


@pytest.mark.parametrize("name", ["w.xlsx", "w.csv"])
def test_plain_heads_need_no_mapping(panes_of, name):
    heads = ["Mark", "Description", "Side", "Shape", "Frame material", "W", "H", "R", "Glass", "Recess depth", "Joint width", "Bead width",
             "Bond thickness", "Frit", "Rake", "Pressure outward", "Inward pressure", "Qty", "Rev."]  # fmt: skip
    row = ["W-1", "Saloon", "stbd", "Rectangular", "GRP", 901.5, 450, 40, "6/1.52/6", 17, 6, 15, 5, 40, 4, 3, 12, 3, "B"]
    (pane,) = panes_of(row, heads=heads, name=name).panes
    assert (pane.code, pane.name, pane.side, pane.frame.material) == ("W-1", "Saloon", "starboard", "grp")
    assert (pane.outline.rectangle, pane.outline.radius) == ((901.5, 450.0), 40.0)
    assert (pane.glass.plies, pane.glass.interlayers) == ((6.0, 6.0), (1.52,))
    assert (pane.recess.depth, pane.joint.width, pane.bond.width, pane.bond.thickness) == (17, 6, 15, 5)
    assert (pane.frit.width, pane.rake, pane.pressure.outward, pane.pressure.inward) == (40, 4, 3, 12)
    assert (pane.quantity, pane.revision) == (3, "B")


@pytest.mark.parametrize("code", ["007", "1E2", "2026-03", "0.5"])
def test_codes_stay_text(panes_of, code):
    for name in ("w.xlsx", "w.csv"):
        assert panes_of([code, *ROW[1:]], name=name).panes[0].code == code


def test_a_code_typed_as_a_number_is_what_the_sheet_shows_or_is_refused(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    for row in (HEADS, [7, *ROW[1:]], [8, *ROW[1:]], [100, *ROW[1:]]):
        sheet.append(row)
    sheet["A2"].number_format = "000"
    sheet["A4"].number_format = "0.00E+00"
    book.save(tmp_path / "w.xlsx")
    (problem,) = refused(job_of, JOB.replace("FILE", "w.xlsx"), folder=tmp_path)
    assert problem.cell == "Sheet!A4" and "0.00E+00" in problem.found
    sheet["A4"].number_format = "General"
    book.save(tmp_path / "w.xlsx")
    assert [pane.code for pane in job_of(JOB.replace("FILE", "w.xlsx"), folder=tmp_path).panes] == ["007", "8", "100"]


@pytest.mark.parametrize(
    ("encoding", "delimiter"), [("utf-8", ";"), ("utf-8-sig", "\t"), ("cp1252", ";"), ("utf-16", ";"), ("utf-8", ",")]
)
def test_tables_of_text_however_they_are_written(panes_of, encoding, delimiter):
    rows = (["W1", "Fenêtre", "900,5", "450", "6/1,52/6"], ["W2", "Lumière “b”", "900", "450,25", "10"])
    job = panes_of(
        *rows, heads=["Code", "Name", "Width", "Height", "Glass"], name="w.csv", encoding=encoding, delimiter=delimiter
    )
    assert [pane.name for pane in job.panes] == ["Fenêtre", "Lumière “b”"]
    assert [pane.outline.rectangle for pane in job.panes] == [(900.5, 450.0), (900.0, 450.25)]
    assert job.panes[0].glass.interlayers == (1.52,)
    assert any("decimal comma, as in C2" in each for each in job.told)
    word = {";": "semicolons", "\t": "tabs", ",": "commas"}[delimiter]
    assert any(f"parted by {word}" in each for each in job.told)


@pytest.mark.parametrize("head", ["Width [in]", "W (in)", "width, inches", "Width in"])
def test_units_in_heads(panes_of, head):
    job = panes_of(["W1", "P", 36, 450, 10], heads=["Code", "Hand", head, "Height", "Build-up"])
    assert job.panes[0].outline.rectangle == pytest.approx((36 * 25.4, 450.0))


def test_a_row_of_units_and_a_unit_in_the_cell(panes_of):
    units = [None, None, "in", "mm", "mm"]
    job = panes_of(units, ["W1", "P", "35 1/2", "450 mm", 10], heads=HEADS)
    assert job.panes[0].outline.rectangle == pytest.approx((35.5 * 25.4, 450.0))
    (problem,) = refused(panes_of, units, ["W1", "P", "900 mm", "450", 10])
    assert problem.cell == "Windows!C3" and "one unit" in problem.allowed
    (problem,) = refused(panes_of, ["", "", "kPa", "mm", "mm"], ROW)
    assert problem.cell == "Windows!C1" and "kPa" in problem.found


def test_a_pair_is_made_as_a_typed_pair_is(panes_of):
    listed = panes_of(["W3", "P+S", 900, 450, "10"])
    typed = job_of(
        '[vessel]\nname = "Invented"\n[frame]\nmaterial = "aluminium"\n[[pane]]\ncode = "W3"\nside = "port"\nhand = "port and starboard"\n'
        "glass = { plies = [10] }\noutline = { rectangle = [900, 450] }\n"
    )
    assert [pane.code for pane in listed.panes] == ["W3-P", "W3-S"]
    assert [mark_of(listed, pane) for pane in listed.panes] == [mark_of(typed, pane) for pane in typed.panes]


def test_a_pair_with_a_hand_asks_which_hand_is_drawn(panes_of, tmp_path):
    (tmp_path / "saloon.dxf").write_bytes((SAMPLES / "saloon.dxf").read_bytes())
    heads, row = (
        ["Code", "Hand", "Outline file", "Layer", "Label in drawing", "Glass"],
        ["W1", "P&S", "saloon.dxf", "GLASS", "W2", 10],
    )
    more = '[columns]\n"Label in drawing" = "outline.label"\n'
    (problem,) = refused(panes_of, row, heads=heads, more=more)
    assert problem.cell == "Windows!B2" and "which hand is drawn" in problem.found
    port, starboard = panes_of(row, heads=heads, more=more, panes=', drawn = "starboard"').panes
    assert (port.code, port.outline.mirrored, starboard.outline.mirrored) == ("W1-S", False, True)


@pytest.mark.parametrize(
    ("count", "way", "each"),
    [(None, "", 1), (1, "", 1), (4, ', pair_quantity = "together"', 2), (4, ', pair_quantity = "each"', 4)],
)
def test_the_quantity_of_a_pair(panes_of, count, way, each):
    row = ["W1", "P+S", 900, 450, "10", count]
    assert [pane.quantity for pane in panes_of(row, heads=[*HEADS, "Qty"], panes=way).panes] == [each, each]


@pytest.mark.parametrize("way", ["", ', pair_quantity = "together"'])
def test_a_doubtful_quantity_of_a_pair_is_refused(panes_of, way):
    (problem,) = refused(panes_of, ["W1", "P+S", 900, 450, "10", 3], heads=[*HEADS, "Qty"], panes=way)
    assert problem.cell == "Windows!F2"


def test_columns_are_mapped_to_keys(panes_of):
    heads = ["Window ref", "OH", "OV", "Glass", "Set-back?", "Opaque", "Heat soak", "Kg"]
    more = '[columns]\n"Window ref" = "code"\nOH = "outline.rectangle.0"\n"OV" = "outline.rectangle.1"\n"Set-back?" = "bond.set_back"\n'
    more += '"Opaque" = "frit.opacity"\n"heat soak" = "glass.heat_soaked"\n"Kg" = ""\n'
    (pane,) = panes_of(["W1", 900, 450, "10", 8, 99, "yes", "#REF!"], heads=heads, more=more).panes
    assert pane.outline.rectangle == (900.0, 450.0) and pane.bond.set_back == 8
    assert pane.frit.opacity == 99 and pane.glass.heat_soaked is True


def test_a_percent_is_a_share_and_no_other_number(tmp_path):
    book = openpyxl.Workbook()
    book.active.append([*HEADS, "Opaque"])
    book.active.append([*ROW, 0.995])
    book.active["F2"].number_format = "0.0%"
    book.save(tmp_path / "w.xlsx")
    text = JOB.replace("FILE", "w.xlsx") + '[columns]\n"Opaque" = "frit.opacity"\n'
    assert job_of(text, folder=tmp_path).panes[0].frit.opacity == 99.5
    (problem,) = refused(job_of, text.replace("frit.opacity", "recess.depth"), folder=tmp_path)
    assert problem.cell == "Sheet!F2" and "%" in problem.found


FORMATS = {
    '0.0" in"': 600.0 * 25.4,
    "0\\ \\c\\m": 6000.0,
    '[Red]-0;#,##0.0" mm"': 600.0,
    "#,##0.0_);(#,##0.0)": 600.0,
    '"Ø"0': 600.0,
    "# ??/16": 600.0,
    '_(* #,##0_);_(* \\(#,##0\\);_(* "-"??_)': 600.0,
    '0.0" kPa"': None,
    '0.0" units"': None,
    "0.0,": None,
    '0,," M"': None,
    "0.0%;(0.0%)": None,
}
"""How a workbook may show the number 600, and the width in mm that it is then (an inch is 25.4 mm, BIPM SI brochure); None: refused."""


@pytest.mark.parametrize("form", FORMATS)
def test_a_number_is_what_the_workbook_shows(tmp_path, form):
    book = openpyxl.Workbook()
    book.active.append(HEADS)
    book.active.append(ROW)
    book.active["C2"] = 600
    book.active["C2"].number_format = form
    book.save(tmp_path / "w.xlsx")
    if FORMATS[form] is not None:
        assert job_of(JOB.replace("FILE", "w.xlsx"), folder=tmp_path).panes[0].outline.rectangle[0] == FORMATS[form]
        return
    (problem,) = refused(job_of, JOB.replace("FILE", "w.xlsx"), folder=tmp_path)
    assert problem.cell == "Sheet!C2" and f"shown as {form}" in problem.found


def test_what_is_below_zero_is_read_with_the_signs_of_its_format(tmp_path):
    book = openpyxl.Workbook()
    book.active.append([*HEADS, "Rake"])
    book.active.append([*ROW, -12])
    book.active["F2"].number_format = "0.0_);\\(0.0\\)"
    book.save(tmp_path / "w.xlsx")
    assert job_of(JOB.replace("FILE", "w.xlsx"), folder=tmp_path).panes[0].rake == -12.0


def test_a_format_with_another_unit_than_its_column_is_refused(tmp_path):
    book = openpyxl.Workbook()
    book.active.append([*HEADS[:2], "Width [mm]", *HEADS[3:]])
    book.active.append(ROW)
    book.active["C2"].number_format = '0.0" in"'
    book.save(tmp_path / "w.xlsx")
    (problem,) = refused(job_of, JOB.replace("FILE", "w.xlsx"), folder=tmp_path)
    assert problem.cell == "Sheet!C2" and problem.allowed == "one unit"


def test_ps_is_port_side_only_where_starboard_side_is_told_alike(panes_of):
    rows = [["W1", "PS", 900, 450, "10"], ["W2", "SB", 900, 450, "10"]]
    assert [pane.side for pane in panes_of(*rows).panes] == ["port", "starboard"]
    for others in ([], [["W2", "S", 900, 450, "10"]], [rows[1], ["W3", "P", 900, 450, "10"]]):
        (problem,) = refused(panes_of, rows[0], *others)
        assert problem.cell == "Windows!B2" and "port side or port and starboard" in problem.found


def test_types_give_what_the_pane_leaves_out(panes_of):
    more = (
        '[type.B]\nbond = { width = 18, thickness = 6 }\nframe = "steel"\n[type.C]\nbond = { width = 12 }\n[bond]\nset_back = 9\n'
    )
    heads = [*HEADS, "Type", "Bond width"]
    job = panes_of(
        [*ROW, "B", None],
        ["W2", *ROW[1:], "B", 20],
        ["W3", *ROW[1:], "C", None],
        ["W4", *ROW[1:], None, None],
        heads=heads,
        more=more,
    )
    assert [pane.bond.width for pane in job.panes] == [18, 20, 12, None]
    assert [pane.bond.thickness for pane in job.panes] == [6, 6, None, None]
    assert [pane.bond.set_back for pane in job.panes] == [9, 9, 9, 9]
    assert [pane.frame.material for pane in job.panes] == ["steel", "steel", "aluminium", "aluminium"]
    changed = with_changes(job, "W1", {"bond.width": 21.0})
    assert [pane.bond.width for pane in changed.panes] == [21, 20, 12, None]
    assert (changed.panes[0].bond.thickness, changed.panes[0].frame.material) == (6, "steel")
    assert with_changes(job, "W3", {"type": "B"}).panes[2].bond.width == 18


def test_a_fault_of_a_type_is_told_once_on_its_line(panes_of):
    rows = [[f"W{number}", *ROW[1:], "B"] for number in range(3)]
    more = "[type.B]\nbond = { width = -3 }\n"
    (problem,) = refused(panes_of, *rows, heads=[*HEADS, "Type"], more=more)
    assert (problem.file, problem.line, problem.key) == ("job", 7, "type.B.bond.width")
    (problem,) = refused(panes_of, [*ROW, "D"], heads=[*HEADS, "Type"], more=more.replace("-3", "15"))
    assert problem.cell == "Windows!F2" and problem.allowed == "[type.B]"


def test_a_type_stands_in_a_typed_pane_too():
    text = '[type.B]\nbond = { width = 18 }\nglass = { plies = [10] }\n[[pane]]\ncode = "W1"\ntype = "B"\nframe = "grp"\noutline = { circle = 400 }\n'
    job = job_of(text)
    assert job.panes[0].bond.width == 18
    plain = job_of(
        '[[pane]]\ncode = "W1"\nframe = "grp"\nglass = { plies = [10] }\nbond = { width = 18 }\noutline = { circle = 400 }\n'
    )
    assert mark_of(job, job.panes[0]) == mark_of(plain, plain.panes[0]), "the mark hangs on the values, wherever they stand"


def test_the_mark_hangs_on_the_values_and_not_on_the_file(panes_of):
    marks = {
        mark_of(job, job.panes[0])
        for job in (panes_of(name="w.xlsx"), panes_of(name="w.csv"), panes_of(["", "Head office"], ROW, name="v.csv"))
    }
    assert len(marks) == 1


def test_typed_panes_stand_beside_a_schedule_and_codes_clash_in_the_cell(panes_of):
    pane = '[[pane]]\ncode = "w1"\nglass = { plies = [8] }\noutline = { circle = 400 }\n'
    assert [each.code for each in panes_of(more=pane.replace("w1", "T1")).panes] == ["T1", "W1"]
    (problem,) = refused(panes_of, more=pane)
    assert problem.cell == "Windows!A2" and "pane 1 and pane 2 both have the code" in problem.found


# What stands round the rows.


def sheet_as_offices_have_it(path, *, second=None):
    book = xlsxwriter.Workbook(str(path), {"strings_to_numbers": False})
    sheet = book.add_worksheet("Main deck")
    sheet.merge_range("A1:F1", "Window list of an invented vessel")
    sheet.write_row("A3", ["rev. A", "2 March"])
    sheet.merge_range("A5:A6", "Code")
    sheet.merge_range("B5:B6", "Hand")
    sheet.merge_range("C5:D5", "Glass")
    sheet.merge_range("E5:F5", "Recess")
    sheet.write_row("C6", ["width", "height", "depth", "landing"])
    sheet.write_row("G6", ["Build-up"])
    sheet.write_row("A7", [None, None, "mm", "mm", "mm", "mm", "mm"])
    sheet.merge_range("A8:G8", "Saloon")
    sheet.write_row("A9", ["W1", "P", 900, 450, 17, 42, 10])
    sheet.write_row("A10", ["W2", "P", 901, 450, 17, 42, 10])
    sheet.set_row(9, None, None, {"hidden": True})
    sheet.write_row("A12", ["W3", "S", 902, 450, 17, 42, 10])
    sheet.write_string("A13", "Total")
    sheet.write_formula("E13", "=SUM(E9:E12)")
    sheet.write_string("A14", "All sizes of the glass as cut.")
    page = book.add_worksheet("Prices")
    page.write_row("A1", second or ["Article", "Price"])
    book.close()


def test_titles_groups_units_hidden_rows_totals_and_other_sheets_are_met(tmp_path):
    sheet_as_offices_have_it(tmp_path / "w.xlsx")
    job = job_of(JOB.replace("FILE", "w.xlsx"), folder=tmp_path)
    assert [(pane.code, pane.outline.rectangle, pane.recess.depth, pane.recess.landing) for pane in job.panes] == [
        ("W1", (900.0, 450.0), 17, 42), ("W2", (901.0, 450.0), 17, 42), ("W3", (902.0, 450.0), 17, 42)
    ]  # fmt: skip
    told = "\n".join(job.told)
    for each in (
        "hidden row is read like the others: 10",
        'row 8 is a title, and no pane: "Saloon"',
        "row 13 is a total",
        "row 14 is a remark",
        "only one of 2 sheets",
    ):
        assert each in told
    assert job.cell_of(2, "recess.depth").cell == "'Main deck'!E12"


def test_sheets_that_may_both_be_meant_are_listed(tmp_path):
    sheet_as_offices_have_it(tmp_path / "w.xlsx", second=["Code", "Width", "Height", "Build-up"])
    (problem,) = refused(job_of, JOB.replace("FILE", "w.xlsx"), folder=tmp_path)
    assert problem.line == 1 and '"Main deck", "Prices"' in problem.found
    (problem,) = refused(job_of, JOB.replace('"FILE"', '"w.xlsx", sheet = "Main dek"'), folder=tmp_path)
    assert problem.key == "panes.sheet" and problem.hint == "did you mean Main deck?"
    assert len(job_of(JOB.replace('"FILE"', '"w.xlsx", sheet = "main deck"'), folder=tmp_path).panes) == 3


def test_heads_once_more_are_left_out_and_told(panes_of):
    job = panes_of(ROW, HEADS, ["W2", *ROW[1:]])
    assert [pane.code for pane in job.panes] == ["W1", "W2"]
    assert any("row 3 holds the heads once more" in each for each in job.told)


# What is refused, in its cell.

CELLS = {
    "an error": (["W1", "P", 900, 450, "#REF!"], "A2", 0),
    "a text in a size": (["W1", "P", "tbc", 450, "10"], "C2", "a number in mm"),
    "thousands": (["W1", "P", "1.900,5", 450, "10"], "C2", "thousands"),
    "thousands by a blank": (["W1", "P", "1 900", 450, "10"], "C2", "thousands"),
    "thousands or a decimal": (["W1", "P", "1,900", 450, "10"], "C2", "panes.decimal"),
    "two figures in one cell": (["W1", "P", "900/450", 450, "10"], "C2", "a fraction in inches or feet alone"),
    "a hand that is none": (["W1", "left", 900, 450, "10"], "B2", "P, S, C"),
    "port side or both": (["W1", "P+C", 900, 450, "10"], "B2", "P, S, C"),
    "a height alone": (["W1", "P", None, 450, "10"], "D2", "width and height"),
    "no shape": (["W1", "P", None, None, "10"], "A2", "outline file"),
    "no code": ([None, "P", 900, 450, "10"], "A2", "the code"),
    "a sum in place of a laminate": (["W1", "P", 900, 450, "13.52"], "E2", "6/1.52/6"),
    "a short form of a laminate": (["W1", "P", 900, 450, 44.2], "E2", "6/1.52/6"),
    "an insulating unit": (["W1", "P", 900, 450, "6/12/6"], "E2", "6/1.52/6"),
    "plies without interlayer": (["W1", "P", 900, 450, "6/6"], "E2", "6/1.52/6"),
    "out of bounds": (["W1", "P", 900, 4, "10"], "D2", "at least 10"),
    "a code of other signs": (["W/1", "P", 900, 450, "10"], "A2", "letters"),
    "a day in a size": (["W1", "P", datetime.date(2026, 3, 2), 450, "10"], "C2", "a number in mm"),
    "yes in a size": (["W1", "P", True, 450, "10"], "C2", "a number in mm"),
}  # fmt: skip


@pytest.mark.parametrize("name", CELLS)
def test_a_cell_that_cannot_be_is_refused_where_it_stands(panes_of, tmp_path, name):
    row, cell, allowed = CELLS[name]
    if name == "an error":
        (tmp_path / "w.csv").write_text("Code;Width;Height;Glass\n#REF!;900;450;10\n")
        (problem,) = refused(job_of, JOB.replace("FILE", "w.csv"), folder=tmp_path)
        assert problem.cell == "A2" and "#REF!" in problem.found
        return
    (problem,) = refused(panes_of, row)
    assert (problem.file, problem.cell) == ("w.xlsx", f"Windows!{cell}"), str(problem)
    assert allowed in problem.allowed and str(problem).startswith(f"w.xlsx, Windows!{cell}: ")


def test_every_fault_is_told_together_with_those_of_the_job(panes_of):
    rows = [["W1", "P", "x", 450, "10"], ["W2", "Q", 900, 5, "10"], ["W3", "P", 900, 450, "6/6"]]
    problems = refused(panes_of, *rows, more="[adhesive]\npack = -1\n")
    assert [(each.file, each.cell or each.line) for each in problems] == [
        ("w.xlsx", "Windows!C2"), ("w.xlsx", "Windows!B3"), ("w.xlsx", "Windows!E4"), ("job", 7)
    ]  # fmt: skip


def test_a_formula_without_a_result_is_refused_and_never_zero(tmp_path):
    """No results are written by openpyxl; XlsxWriter writes 0 and asks to be worked out anew: neither is a value."""
    book = openpyxl.Workbook()
    book.active.append([*HEADS, "Rake"])
    book.active.append([*ROW, "=1+1"])
    book.save(tmp_path / "w.xlsx")
    text = JOB.replace("FILE", "w.xlsx")
    (problem,) = refused(job_of, text, folder=tmp_path)
    assert problem.cell == "Sheet!F2" and "formula" in problem.found
    other = xlsxwriter.Workbook(str(tmp_path / "w.xlsx"))
    sheet = other.add_worksheet("Sheet")
    sheet.write_row("A1", [*HEADS, "Rake"])
    sheet.write_row("A2", ROW)
    sheet.write_formula("F2", "=1+1")
    other.close()
    (problem,) = refused(job_of, text, folder=tmp_path)
    assert problem.cell == "Sheet!F2" and "formula" in problem.found
    spoil(tmp_path / "w.xlsx", "xl/workbook.xml", b' fullCalcOnLoad="1"', b"")  # as a spreadsheet saves it after working it out
    spoil(tmp_path / "w.xlsx", "xl/worksheets/sheet1.xml", b"<f>1+1</f><v>0</v>", b"<f>1+1</f><v>2</v>")
    job = job_of(text, folder=tmp_path)
    assert job.panes[0].rake == 2 and any("1 cell with a formula is read by its stored result" in each for each in job.told)


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not here")
def test_what_libreoffice_worked_out_is_read_as_it_stored_it(tmp_path):
    """Formulas of numbers, texts and nothing; an error."""
    book = openpyxl.Workbook()
    book.active.append([*HEADS, "Rake", "Name", "Pressure inward"])
    book.active.append(["007", "P", "=800+100.5", "=C2/2", "10", '=IF(1=2,4,"")', '="Sal"&"oon"', 12])
    book.active.append(["W2", "P+S", 900, 450, "6/1.52/6", 4, "é", "=1/0"])
    book.save(tmp_path / "w.xlsx")
    command = [
        "soffice",
        f"-env:UserInstallation=file://{tmp_path}/profile",
        "--headless",
        "--convert-to",
    ]
    subprocess.run(
        [*command, "xlsx", "--outdir", str(tmp_path / "out"), str(tmp_path / "w.xlsx")],
        check=True,
        capture_output=True,
        timeout=120,
    )
    text = JOB.replace("FILE", "w.xlsx")
    (problem,) = refused(job_of, text, folder=tmp_path / "out")
    assert (problem.cell, problem.found) == ("Sheet!H3", "found the error #DIV/0!")
    panes = job_of(text + '[columns]\n"Pressure inward" = ""\n', folder=tmp_path / "out").panes
    assert [(pane.code, pane.name, pane.outline.rectangle, pane.rake) for pane in panes] == [
        ("007", "Saloon", (900.5, 450.25), 0),
        ("W2-P", "é", (900.0, 450.0), 4),
        ("W2-S", "é", (900.0, 450.0), 4),
    ]


def spoil(path, part, old, new):
    """One part of a workbook written otherwise."""
    with zipfile.ZipFile(path) as packed:
        parts = {each: packed.read(each) for each in packed.namelist()}
    assert old in parts[part]
    parts[part] = parts[part].replace(old, new)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in parts.items():
            packed.writestr(name, data)


HEAD_FAULTS = {
    "two heads for one key": ([*HEADS, "W"], "F1", 'both give width'),
    "the same head twice": ([*HEADS, "Width"], "F1", "both give width"),
    "a head that is not known": ([*HEADS, "Bond wdth"], "F1", "not known"),
    "a head that may mean two things": ([*HEADS, "Thickness"], "F1", "may mean more than one thing"),
    "a pressure without direction": ([*HEADS, "Design pressure"], "F1", "may mean more than one thing"),
}  # fmt: skip


@pytest.mark.parametrize("name", HEAD_FAULTS)
def test_heads_are_understood_or_refused(panes_of, name):
    heads, cell, found = HEAD_FAULTS[name]
    (problem,) = refused(panes_of, [*ROW, 1], heads=heads)
    assert problem.cell == f"Windows!{cell}" and found in problem.found and "[columns]" in problem.allowed


def test_a_head_that_the_job_names_must_be_there(panes_of):
    problems = refused(panes_of, more='[columns]\n"Gap" = "joint.width"\n')
    assert [(each.line, each.key) for each in problems] == [(7, 'columns."Gap"')]
    (problem,) = refused(panes_of, more='[columns]\n"Width" = "bond.widht"\n')
    assert (problem.line, problem.key) == (7, "columns.Width") and "a key of a pane" in problem.allowed


def test_merged_over_rows_is_no_value_of_each(tmp_path):
    book = openpyxl.Workbook()
    for row in (HEADS, ROW, ["W2", *ROW[1:]]):
        book.active.append(row)
    book.active.merge_cells("D2:D3")
    book.save(tmp_path / "w.xlsx")
    problems = refused(job_of, JOB.replace("FILE", "w.xlsx"), folder=tmp_path)
    assert [each.cell for each in problems] == ["Sheet!D2", "Sheet!D3"]


def test_cells_that_a_separator_shifted_are_told(tmp_path):
    (tmp_path / "w.csv").write_text("Code,Width,Height,Glass\nW1,900,5,450,10\n")
    (problem,) = refused(job_of, JOB.replace("FILE", "w.csv"), folder=tmp_path)
    assert problem.cell == "E2" and "under no head" in problem.found


# Files that are none.


def files():
    book = io.BytesIO()
    with zipfile.ZipFile(book, "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
    macros = io.BytesIO()
    with zipfile.ZipFile(macros, "w") as packed:
        packed.writestr("xl/workbook.xml", "<x/>")
        packed.writestr("xl/vbaProject.bin", "x")
    bomb = io.BytesIO()
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", b" " * (schedule_xlsx.MOST_UNPACKED + 1))
    entities = io.BytesIO()
    with zipfile.ZipFile(entities, "w") as packed:
        packed.writestr("xl/workbook.xml", '<!DOCTYPE a [<!ENTITY b "bb">]><a>&b;</a>')
    return {
        "old.xls": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"0" * 600, "old workbook"),
        "list.ods": (book.getvalue(), "OpenDocument"),
        "list.xlsm": (macros.getvalue(), "macros"),
        "bomb.xlsx": (bomb.getvalue(), "unpacks to"),
        "entities.xlsx": (entities.getvalue(), "entities"),
        "broken.xlsx": (b"PK\x03\x04" + b"x" * 300, "damaged"),
        "text.xlsx": (b"Code;Width\n", "its bytes are none"),
        "empty.csv": (b"\n\n", "is empty"),
        "large.csv": (b"W1;900\n" * (schedule_table.MOST_BYTES // 7 + 1), "bytes"),
        "long.csv": (b"W1;900\n" * (schedule_table.MOST_ROWS + 1), "rows"),
        "zero.csv": (b"Code;W\0dth\n", "zero byte"),
        "heads.csv": (b"Article;Price\n1;2\n", "no row of heads"),
        "quotes.csv": (b'Code;Width;Height\n"W1;900;450\n', "cannot be read"),
    }


FILES = files()


@pytest.mark.parametrize("name", FILES)
def test_a_file_that_is_no_schedule_gets_one_sentence(tmp_path, name):
    data, found = FILES[name]
    (tmp_path / name).write_bytes(data)
    (problem,) = refused(job_of, JOB.replace("FILE", name), folder=tmp_path)
    assert found in problem.found and problem.allowed and "\n" not in str(problem)


def test_a_quote_that_does_not_end_is_told_without_a_sign_that_nobody_sees(tmp_path):
    (tmp_path / "w.csv").write_text('Code\tWidth\tHeight\tGlass\nW1\t"900"x\t450\t10\n')
    (problem,) = refused(job_of, JOB.replace("FILE", "w.csv"), folder=tmp_path)
    assert problem.line == 2 and str(problem).isprintable() and "a tab expected" in problem.found


def test_a_cell_far_away_and_endless_formats_cost_nothing(tmp_path):
    book = openpyxl.Workbook()
    book.active.append(HEADS)
    book.active.append(ROW)
    book.active["A1048576"].number_format = "0.00"  # a format, and no value
    book.save(tmp_path / "w.xlsx")
    assert len(job_of(JOB.replace("FILE", "w.xlsx"), folder=tmp_path).panes) == 1
    book.active["XFD9000"] = 1
    book.save(tmp_path / "w.xlsx")
    (problem,) = refused(job_of, JOB.replace("FILE", "w.xlsx"), folder=tmp_path)
    assert "XFD9000" in problem.found


# Any cell at all.

SPOILT = ["", " ", "-", "x", "0", "-1", "1e308", "1e-320", "nan", "inf", "1/0", "0/0 in", "9" * 400, "900,5", "900.5", "1,900", "1.900", "1 900", "900 kPa", "=1+1", "#REF!", "P+S", "yes",
          "6/1.52/6", "6/", "/", "1/0/6", "Total", "Code", "W1", "a/b", "é°𝔉", "\u202e", "\x07", "a" * 3000, '"', "'", ";", "saloon.dxf", "../x.dxf", "none.csv", "circle", "B", "mm", "in", True, 0, -7, 1e300, 0.1 + 0.2, 10**15,
          datetime.date(2026, 3, 2), datetime.datetime(1899, 12, 31)]  # fmt: skip
FULL = ["Code", "Name", "Hand", "Type", "Shape", "Width", "Height", "Radius", "Outline file", "Layer", "Build-up", "Recess depth", "Joint", "Bond width", "Frit", "Rake", "Inward pressure", "Qty", "Rev", "Straps"]  # fmt: skip
GOOD = ["W{}", "Saloon", "P", "B", "rectangle", 900, 450, 40, None, None, "6/1.52/6", 17, 6, 15, 40, 4, 12, 1, "A", "no"]


@pytest.mark.parametrize("seed", range(50))
def test_any_cell_gives_a_job_or_names_its_place(tmp_path, seed):
    """Heads and cells spoiled at random: a job or faults; each fault of the schedule has its file, and its cell where it is one cell's."""
    chance = random.Random(seed)
    rows = [list(FULL), *([each.format(number) if isinstance(each, str) else each for each in GOOD] for number in range(3))]
    for _ in range(chance.randint(1, 4)):
        y = chance.randrange(len(rows)) if chance.random() < 0.2 else chance.randrange(1, len(rows))
        rows[y][chance.randrange(len(FULL))] = chance.choice(SPOILT)
    if chance.random() < 0.3:
        rows.insert(chance.randrange(len(rows)), [chance.choice(SPOILT) for _ in range(chance.randrange(1, 22))])
    name = chance.choice(["w.xlsx", "w.csv"])
    if name == "w.csv":
        target = io.StringIO()
        csv.writer(target, delimiter=chance.choice(";,\t")).writerows(
            [["" if each is None else each for each in row] for row in rows]
        )
        data = target.getvalue().encode("utf-8")
        (tmp_path / name).write_bytes(data)
    else:
        try:
            workbook(
                tmp_path / name, *([None if isinstance(each, str) and "\x07" in each else each for each in row] for row in rows)
            )
        except (TypeError, ValueError):
            pytest.skip("no workbook holds that")
    (tmp_path / "saloon.dxf").write_bytes((SAMPLES / "saloon.dxf").read_bytes())
    text = JOB.replace("FILE", name) + '[columns]\nStraps = "held"\n[type.B]\nbond = { thickness = 6 }\n'
    try:
        assert isinstance(job_of(text, folder=tmp_path), Job)
    except JobError as error:
        for problem in error.problems:
            assert problem.found and "Traceback" not in str(problem)
            assert str(problem).isprintable()
            if problem.file == name:
                assert re.fullmatch(r"(?:Windows!)?[A-Z]+[0-9]+", problem.cell) or problem.line, str(problem)
            else:
                assert problem.file == "job" and (problem.line or 0) <= text.count("\n")


@pytest.mark.parametrize("seed", range(40))
def test_a_damaged_workbook_gives_a_job_or_faults(tmp_path, seed):
    """Bytes of its parts, or of the packed file itself, overwritten, cut and doubled."""
    chance = random.Random(seed)
    workbook(tmp_path / "w.xlsx", HEADS, ROW, ["W2", "P+S", 900.5, 450, "6/1.52/6"])
    if chance.random() < 0.3:
        data = spoilt((tmp_path / "w.xlsx").read_bytes(), chance)
        (tmp_path / "w.xlsx").write_bytes(data)
    else:
        with zipfile.ZipFile(tmp_path / "w.xlsx") as packed:
            parts = {each: packed.read(each) for each in packed.namelist()}
        part = chance.choice(
            ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "xl/styles.xml", "xl/sharedStrings.xml", "[Content_Types].xml"]
        )
        parts[part] = spoilt(parts[part], chance)
        with zipfile.ZipFile(tmp_path / "w.xlsx", "w") as packed:
            for name, data in parts.items():
                packed.writestr(name, data)
    try:
        assert isinstance(job_of(JOB.replace("FILE", "w.xlsx"), folder=tmp_path), Job)
    except JobError as error:
        assert error.problems and all(each.found and str(each).isprintable() for each in error.problems)


def spoilt(data, chance):
    at = chance.randrange(len(data))
    kind = chance.randrange(4)
    if kind == 0:
        return data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]
    if kind == 1:
        return data[:at] + data[at + chance.randrange(1, 40) :]
    if kind == 2:
        return data[:at] + data[max(0, at - 60) : at] + data[at:]
    numbers = list(re.finditer(rb"\d+", data))
    one = chance.choice(numbers)
    return (
        data[: one.start()]
        + chance.choice([b"0", b"-1", b"999999", b"1e999", b"", b"A", b"99999999999999999999"])
        + data[one.end() :]
    )


# The samples.


def test_the_workbook_and_the_table_of_the_samples_are_the_same_panes():
    text = (SAMPLES / "schedule.toml").read_text(encoding="utf-8")
    one = job_of(text, folder=SAMPLES)
    other = job_of(text.replace('"windows.xlsx", sheet = "Windows"', '"windows.csv"'), folder=SAMPLES)
    assert [mark_of(one, pane) for pane in one.panes] == [mark_of(other, pane) for pane in other.panes]
    assert 12 <= len(one.panes) <= 20
    assert {pane.outline.form for pane in one.panes} == {"rectangle", "circle", "ellipse", "drawing"}
    assert {"007-P", "1E2-S"} <= {pane.code for pane in one.panes} and {pane.quantity for pane in one.panes} == {1, 2}
    with (SAMPLES / "windows.csv").open(encoding="utf-8-sig", newline="") as stream:
        listed = {row[0]: row for row in csv.reader(stream, delimiter=";") if len(row) > 12 and row[12] and row[0] != "Code"}
    for pane in one.panes:  # held against the file by Python's csv alone
        row = listed.get(pane.code) or listed[pane.code[:-2]]
        if pane.outline.form == "rectangle":
            typed = [float(each.replace(",", ".")) for each in (row[5], row[6] or row[5])]
            assert list(pane.outline.rectangle) == typed
        layers = [float(each.replace(",", ".")) for each in row[12].split("/")]
        assert [*pane.glass.plies] == layers[::2] and [*pane.glass.interlayers] == layers[1::2]


@pytest.mark.parametrize("stored", ["1e999", "-1e999", "9" * 400])
@pytest.mark.parametrize("place", ["A2", "C2", "F2"])
def test_a_stored_number_that_no_spreadsheet_holds_is_a_fault_of_its_cell(tmp_path, stored, place):
    """Code, width and quantity: what is past the greatest double is told where it stands, whatever the column wants."""
    workbook(tmp_path / "made.xlsx", [*HEADS, "Qty"], [*ROW, 1])
    with zipfile.ZipFile(tmp_path / "made.xlsx") as made, zipfile.ZipFile(tmp_path / "w.xlsx", "w") as other:
        for part in made.namelist():
            data = made.read(part).decode("utf-8", "surrogateescape")
            if part.endswith("sheet1.xml"):
                data, count = re.subn(rf'<c r="{place}"[^>]*>.*?</c>', f'<c r="{place}"><v>{stored}</v></c>', data)
                assert count == 1
            other.writestr(part, data.encode("utf-8", "surrogateescape"))
    with pytest.raises(JobError) as caught:
        job_of(JOB.replace("FILE", "w.xlsx"), file="job.toml", folder=tmp_path)
    (problem,) = caught.value.problems
    assert problem.cell == f"Windows!{place}" and "more than 308 figures" in problem.found
