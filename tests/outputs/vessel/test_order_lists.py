"""The lists of a vessel for those who buy: sums by hand, read back from XLSX and from CSV, each in its own sign."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace

import openpyxl
import pytest

from geometry.findings.check import check_pane
from geometry.job import JobError, job_of
from outputs.vessel.block_list import block_list, block_tables
from outputs.vessel.documents import VesselContents
from outputs.vessel.facts import FileFacts, facts_of
from outputs.vessel.glass_list import glass_list, glass_table
from outputs.vessel.mass_list import mass_list, mass_table

JOB = """
[vessel]
name = "Invented vessel"
yard_number = "Y-7"
[sheet]
owner = "Invented office"
date = 2026-05-04
[adhesive]
name = "Invented adhesive"
density = 1200
[sealant]
name = "Invented sealant"
density = 1500
[spacers]
squeeze = 0
stock = [5, 8]
[chocks]
stock = [4, 6]
shims = [1]
[[pane]]
code = "007"
quantity = 3
frame = "grp"
glass = { plies = [10] }
outline = { rectangle = [1000, 500] }
joint = { width = 7, backfill_depth = 6 }
bond = { width = 15, thickness = 5, set_back = 12 }
[[pane]]
code = "1E2"
frame = "grp"
glass = { plies = [6, 6], interlayers = [1.52] }
outline = { rectangle = [400, 300] }
joint = { width = 9 }
bond = { width = 15, thickness = 6 }
"""


def contents_of(text: str = JOB) -> VesselContents:
    job = job_of(text)
    facts = []
    for pane in job.panes:
        files = [
            FileFacts(f"{pane.code}-{ending}", ending.split(".")[0], "00", 1) for ending in ("pane.pdf", "glass.dxf", "card.pdf")
        ]
        facts.append(facts_of(check_pane(job, pane, plate=False)).with_files(files))
    return VesselContents(job, "vessel", tuple(facts))


@pytest.fixture(scope="module")
def contents() -> VesselContents:
    return contents_of()


def column(table, head):
    index = next(number for number, each in enumerate(table.columns) if each.head == head)
    return [row[index] for row in table.rows], table.sums[index] if table.sums else None


def test_glass_by_hand(contents):
    """10 mm at 2500 kg/m³ weighs 25 kg/m². Three panes 1 × 0.5 m: 1.5 m², 37.5 kg; sharp corners, nothing is cut off."""
    table = glass_table(contents)
    area, areas = column(table, "area together")
    mass, masses = column(table, "mass together")
    assert area[0] == pytest.approx(1.5, abs=1e-9) and mass[0] == pytest.approx(37.5, abs=1e-9)
    assert areas == pytest.approx(1.5 + 0.12, abs=1e-9) and masses == pytest.approx(sum(mass), abs=1e-9)
    assert column(table, "pieces") == ([3, 1], 4)
    assert column(table, "make-up")[0] == ["10 toughened", "6 / 1.52 / 6 toughened, PVB"]
    assert column(table, "files")[0] == ["007-pane.pdf, 007-glass.dxf", "1E2-pane.pdf, 1E2-glass.dxf"], (
        "what is the fitter's is not there"
    )


def test_the_suppliers_list_says_nothing_of_vessel_bond_or_owner(contents):
    for data in glass_list(contents).values():
        book = openpyxl.load_workbook(io.BytesIO(data)) if data.startswith(b"PK") else None
        cells = (
            [str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row]
            if book
            else [data.decode("utf-8-sig")]
        )
        told = "\n".join([*cells, *([str(book.properties.title), str(book.properties.creator)] if book else [])])
        assert not re.search(r"invented|Y-7|bead|bond|adhesive|sealant|spacer|chock|frame|joint", told, re.IGNORECASE)


def test_masses_by_hand(contents):
    """Backfill of 007: 3000 mm round × 7 × 6 = 126 ml, at 1500 kg/m³ 0.189 kg; bead: its own length × its own section at 1200 kg/m³."""
    (first, _), table = contents.facts, mass_table(contents)
    assert column(table, "backfill of one")[0][0] == pytest.approx(0.189, abs=1e-9)
    assert first.fill.sealant_ml == pytest.approx(126.0, abs=1e-9)
    assert column(table, "bead of one")[0][0] == pytest.approx(first.fill.adhesive_ml * 1.2e-3, rel=1e-9)
    assert first.fill.adhesive_ml == pytest.approx(15 * 5 * 2 * (1000 - 39 + 500 - 39) / 1000, rel=0.02), "15 × 5, corners aside"
    assert (column(table, "centre X")[0][0], column(table, "centre Y")[0][0]) == (pytest.approx(500), pytest.approx(250))
    one, all_of_it = column(table, "together of one")[0], column(table, "together")
    assert all_of_it[1] == pytest.approx(3 * one[0] + one[1], rel=1e-12)


def test_without_a_density_the_list_says_what_is_in_no_sum():
    contents = contents_of(JOB.replace("density = 1200\n", ""))
    table = mass_table(contents)
    assert column(table, "bead of one")[0] == [None, None]
    assert any("adhesive.density is not given" in line for line in table.below)


def test_blocks_are_made_up_of_what_can_be_bought(contents):
    """Chocks of the joint 7: 6 + 1; of 9 the highest heap is 7: to be cut. Spacers 5: of the stock; 6: to be cut. Three panes of 007."""
    buy, where = block_tables(contents)
    rows = {(row[0], row[3]): row for row in buy.rows}
    chocks = sum(each.kind == "setting chock" for each in contents.facts[0].blocks)
    spacers = [sum(each.kind == "spacer" for each in facts.blocks) for facts in contents.facts]
    assert rows["setting chock", 6.0][5:] == ("stock", 3 * chocks, 2, 3 * chocks + 2)
    assert rows["shim", 1.0][6] == 3 * sum(each.kind != "spacer" for each in contents.facts[0].blocks)
    assert rows["setting chock", 9.0][5] == "to be cut"
    assert rows["spacer", 5.0][5:7] == ("stock", 3 * spacers[0]) and rows["spacer", 6.0][5:7] == ("to be cut", spacers[1])
    assert buy.sums[8] == sum(row[8] for row in buy.rows)
    made = {(row[0], row[3], row[6]): row[7] for row in where.rows}
    assert made["007", "setting chock", 7.0] == "6 + 1" and made["1E2", "setting chock", 9.0] == "to be cut; nearest 6 + 1"


@pytest.mark.parametrize("made", [glass_list, block_list, mass_list])
def test_xlsx_and_csv_agree_cell_by_cell(contents, made):
    comma = replace(contents, job=job_of('[lists]\ndecimal = "comma"\n' + JOB))
    for files, sign, between in ((made(contents), ".", ","), (made(comma), ",", ";")):
        (name,) = [name for name in files if name.endswith(".xlsx")]
        book = openpyxl.load_workbook(io.BytesIO(files.pop(name)))
        assert len(book.sheetnames) == len(files)
        for sheet, data in zip(book, files.values(), strict=True):
            told = list(csv.reader(io.StringIO(data.decode("utf-8-sig")), delimiter=between))
            start = next(row[0].row for row in sheet.iter_rows() if str(row[0].value) in ("code", "article"))
            for offset, cells in enumerate(told[1:], start=start + 2):
                for place, cell in enumerate(cells, start=1):
                    value = sheet.cell(offset, place).value
                    if isinstance(value, (int, float)) and not isinstance(value, bool):
                        assert float(cell.replace(sign, ".")) == pytest.approx(value, abs=1e-12)
                    else:
                        assert cell == ("" if value is None else value)
        assert made(contents).keys() == made(comma).keys()


def test_codes_stay_text(contents):
    (data,) = [data for name, data in glass_list(contents).items() if name.endswith(".xlsx")]
    sheet = openpyxl.load_workbook(io.BytesIO(data)).active
    cells = [row[0] for row in sheet.iter_rows()]
    assert [cell.data_type for cell in cells if cell.value in ("007", "1E2")] == ["s", "s"]


def test_a_deviation_names_panes_of_the_job():
    text = '[[deviation]]\nrule = "Invented rule 7"\nwhat = "frit 1.5 times the bead"\npanes = ["1E2"]\n' + JOB
    assert job_of(text).deviations[0].panes == ("1E2",)
    with pytest.raises(JobError, match="codes of panes of this job: 007, 1E2"):
        job_of(text.replace('["1E2"]', '["1E3"]'))
