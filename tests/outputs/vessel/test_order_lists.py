"""The lists of a vessel for those who buy: sums by hand, read back from XLSX and from CSV, each in its own sign."""

from __future__ import annotations

import csv
import io
import math
import re
import shutil
import subprocess
from dataclasses import replace

import openpyxl
import pytest

from geometry.findings.check import check_pane
from geometry.job import JobError, job_of
from outputs.vessel.approval import approval_files, approval_tables
from outputs.vessel.block_list import block_list, block_tables
from outputs.vessel.consumables_list import consumables_list, consumables_tables
from outputs.vessel.documents import LeftOut, VesselContents
from outputs.vessel.facts import DocumentFacts, FileFacts
from outputs.vessel.facts_gathered import facts_of
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
        documents = [
            DocumentFacts(name, f"{pane.code}-{name}", readers, (FileFacts(f"{pane.code}-{name}.pdf", "00", 1),))
            for name, readers in (
                ("pane", ("office", "supplier")),
                ("glass", ("supplier",)),
                ("card", ("fitter",)),
                ("record", ("engineer",)),
            )
        ]
        facts.append(facts_of(check_pane(job, pane, plate=False)).with_documents(documents))
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
    assert column(table, "files")[0] == ["007-pane.pdf, 007-glass.pdf", "1E2-pane.pdf, 1E2-glass.pdf"], (
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
    """Backfill of 007 in place: 3000 mm round × 7 and a circle of 7 at the corners (Steiner), × 6, less the blocks in it; 1500 kg/m³.

    Bead: its own length × its own section at 1200 kg/m³. Centres of what is the same on all sides lie in the middle of the pane.
    """
    (first, _), table = contents.facts, mass_table(contents)
    bottom = 5 + 10 - 6  # flush with the skin
    blocks = sum(block.length * 7 * (block.width - bottom) for block in first.blocks if block.kind != "spacer")
    volume = ((3000 * 7 + math.pi * 7**2) * 6 - blocks) * 1e-3
    assert first.fill.sealant_ml == pytest.approx(volume, abs=1e-9)
    assert column(table, "backfill of one")[0][0] == pytest.approx(volume * 1.5e-3, abs=1e-9)
    assert column(table, "bead of one")[0][0] == pytest.approx(first.fill.adhesive_ml * 1.2e-3, rel=1e-9)
    assert first.fill.adhesive_ml == pytest.approx(15 * 5 * 2 * (1000 - 39 + 500 - 39) / 1000, rel=0.02), "15 × 5, corners aside"
    assert (column(table, "glass X")[0][0], column(table, "glass Y")[0][0]) == (pytest.approx(500), pytest.approx(250))
    assert (column(table, "bead X")[0][0], column(table, "bead Y")[0][0]) == (pytest.approx(500), pytest.approx(250))
    assert (column(table, "glass Z")[0][0], column(table, "bead Z")[0][0]) == (pytest.approx(5 + 10 / 2), pytest.approx(5 / 2))
    parts = [(column(table, f"{part} of one")[0][0], column(table, f"{part} Z")[0][0]) for part in ("glass", "bead", "backfill")]
    together = sum(mass * at for mass, at in parts) / sum(mass for mass, _ in parts)
    assert column(table, "centre Z")[0][0] == pytest.approx(together, abs=1e-9)
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


def test_spacers_that_are_to_be_cut_say_for_which_bond_the_stock_would_fit(contents):
    """Spacers of 5 and 6 without squeeze, a stock of 5 and 8; with 5 % of squeeze a bond of 5.7 is what a spacer of 6 leaves."""
    words = [line for line in block_tables(contents)[0].below if "to be cut: pressed" in line]
    assert len(words) == 1 and words[0].startswith("Spacers of 1E2 are") and "with bond.thickness = 5 or 8 in" in words[0]
    usual = JOB.replace("squeeze = 0", "squeeze = 5").replace("stock = [5, 8]", "stock = [3, 4, 5, 6, 8]")
    assert usual.count("[3, 4, 5, 6, 8]") == 1
    words = [line for line in block_tables(contents_of(usual))[0].below if "to be cut: pressed" in line]
    assert "6 mm high leaves 5.7, 8 mm high leaves 7.6 mm: with bond.thickness = 5.7 or 7.6 in the job they fit." in words[1]
    fits = contents_of(usual.replace("thickness = 6", "thickness = 5.7").replace("thickness = 5,", "thickness = 4.75,"))
    buy = block_tables(fits)[0]
    assert {row[5] for row in buy.rows if row[0] == "spacer"} == {"stock"}
    assert not [line for line in buy.below if "to be cut: pressed" in line]


@pytest.mark.parametrize("made", [glass_list, block_list, mass_list, consumables_list])
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


def test_marks_are_told_by_first_and_last_only_where_none_is_left_out(contents):
    """Every second spacer stands higher: "S1 to S9" would name the others too."""
    facts = contents.facts[0]
    spacers = [each for each in facts.blocks if each.kind == "spacer"]
    odd = {each.mark for each in spacers[::2]}
    blocks = tuple(replace(each, height=each.height + 3.0) if each.mark in odd else each for each in facts.blocks)
    where = block_tables(replace(contents, facts=(replace(facts, blocks=blocks),)))[1]
    told = [row[2] for row in where.rows if row[3] == "spacer"]
    assert len(odd) >= 5 and ", ".join(each.mark for each in spacers[::2]) in told
    assert not any(" to " in each for each in told)


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


@pytest.mark.parametrize(("key", "line"), [("rule", 2), ("what", 3)])
@pytest.mark.parametrize("blank", ["", "  "])
def test_a_deviation_that_says_nothing_is_refused(key, line, blank):
    """A blank line in the pack would read as a deviation that somebody had named."""
    told = {"rule": "Invented rule 7", "what": "frit 1.5 times the bead"} | {key: blank}
    text = f'[[deviation]]\nrule = "{told["rule"]}"\nwhat = "{told["what"]}"\n' + JOB
    with pytest.raises(JobError) as refused:
        job_of(text)
    (problem,) = refused.value.problems
    assert problem.line == line and problem.key.endswith(key)
    assert problem.found == f'found "{blank}", which says nothing' and problem.allowed == "one line of text"


SESSION = """
[[session]]
date = 2026-05-05
panes = ["007", "1E2"]
"""


def test_packs_by_hand():
    """Each pane alone rounds up to a pack of 600 ml. In one session whose packs live two hours the panes share them: the sum, rounded up."""
    apart = contents_of()
    alone = {row[0]: row for row in consumables_tables(apart)[0].rows}
    needs = [next(each for each in facts.quantities if each.what == "bonding adhesive") for facts in apart.facts]
    assert [each.packs for each in needs] == [1, 1] and all(each.amount < 570 for each in needs), "570 ml leave a pack of 600"
    assert alone["bonding adhesive"][5] == 3 + 1
    assert any("No session is given" in line for line in consumables_tables(apart)[0].below)
    shared = contents_of(
        JOB.replace("[sealant]", "opened_life = 1000\n[sealant]", 1).replace("[[pane]]", SESSION + "[[pane]]", 1)
    )
    tables = consumables_tables(shared)
    total = 3 * needs[0].amount + needs[1].amount
    (row,) = [row for row in tables[0].rows if row[0] == "bonding adhesive"]
    assert row[5] == -(-total // 570) < 4 and tables[1].rows[0][3] == row[5]
    assert row[3] == pytest.approx(total, rel=1e-12)
    assert not any(each[0] in ("spacer", "setting chock") for each in tables[0].rows), "blocks have a list of their own"


def test_the_approval_pack_holds_what_is_open_and_leaves_blanks(contents):
    panes, questions, deviations, documents = approval_tables(contents)
    for pressure in ("outward", "inward", "pressures from", "approval reference"):
        assert column(panes, pressure)[0] in ([None, None], ["", ""])
    wanted = [(facts.code, each.name) for facts in contents.facts for each in facts.open_findings]
    assert [(row[0], row[2]) for row in questions.rows] == wanted and len(wanted) > 4
    assert {row[-1] for row in questions.rows} == {""} and deviations.rows == ()
    assert [row[2] for row in documents.rows] == ["record", "record"]
    assert column(panes, "area together")[1] == pytest.approx(1.62, abs=1e-9)
    assert column(panes, "in hull")[0] == column(panes, "load bearing")[0] == ["", ""], "nobody said no"
    told = approval_tables(contents_of(JOB.replace('code = "1E2"', 'code = "1E2"\nin_hull = true\nload_bearing = false')))[0]
    assert (column(told, "in hull")[0], column(told, "load bearing")[0]) == (["", "yes"], ["", "no"])
    text = '[[deviation]]\nrule = "Invented rule 7"\nwhat = "frit 1.5 times the bead"\npanes = ["1E2"]\n' + JOB
    told = approval_tables(contents_of(text))[2].rows
    assert told == (("Invented rule 7", "1E2", "frit 1.5 times the bead", "", ""),)
    page = approval_files(contents)["vessel-approval.html"].decode("utf-8")
    assert "default-src &#x27;none&#x27;" in page and "None is named" in page and "007" in page and "1E2" in page
    for finding in (each for facts in contents.facts for each in facts.open_findings if not each.flag):
        assert page.count(f">{finding.name}<") == 1, "what no pane gives is asked once"
    deviating = approval_files(contents_of(text))["vessel-approval.html"].decode("utf-8")
    assert "deviation named from Invented rule 7" in re.sub(r"<[^>]*>", "", deviating)


def test_a_list_that_lacks_a_pane_says_so_in_every_form(contents):
    """A purchaser who reads the CSV alone must not take its sums for those of the vessel."""
    lacking = replace(contents, left_out=(LeftOut("W-9", "B", "not drawn", "recess 20 deep: no room"),))
    for made in (glass_list, block_list, mass_list, consumables_list, approval_files):
        for name, data in made(lacking).items():
            if name.endswith(".xlsx"):
                cells = [
                    str(cell.value)
                    for sheet in openpyxl.load_workbook(io.BytesIO(data))
                    for row in sheet.iter_rows()
                    for cell in row
                ]
                assert any("INCOMPLETE" in cell and "W-9" in cell for cell in cells), name
            elif name.count("-") == 1:  # the first table of each list, and the page
                assert "W-9" in data.decode("utf-8-sig"), name
    assert not any("recess" in data.decode("utf-8-sig") for name, data in glass_list(lacking).items() if name.endswith(".csv"))
    assert glass_table(lacking).sums == glass_table(contents).sums


def test_a_session_with_a_pane_that_is_in_no_sum_says_that_its_packs_are_not_those_of_the_order():
    """The session is planned with it, the order counts it not: two figures for one purchaser."""
    whole = contents_of(JOB.replace("[[pane]]", SESSION + "[[pane]]", 1))
    assert len(consumables_tables(whole)[1].above) == 2
    lacking = replace(whole, facts=whole.facts[:1], left_out=(LeftOut("1E2", "", "not up to date", "why", whole.facts[1]),))
    order, sessions = consumables_tables(lacking)[:2]
    assert sessions.rows[0][2] == "007, 1E2" and {row[3] for row in sessions.rows} != {column(order, "packs")[0][0]}
    assert "with 1E2: the order list counts nothing of them" in sessions.above[-1]
    (days,) = [table for table in consumables_tables(lacking) if table.name == "backfill"]
    assert days.rows[-1][:2] == ("INCOMPLETE", "INCOMPLETE, in no sum: 1E2 (not up to date).") and days.rows[0][1] == "007"


def test_an_order_says_what_it_does_not_know_and_what_may_not_be_made_yet(contents):
    """Nobody can order a pane "as on the order": the list is the order."""
    table = glass_table(contents)
    assert column(table, "heat soak")[0] == ["not given", "not given"]
    assert "edge work: not given; stamp: not given" in table.above and table.above[1].endswith(
        "status of the drawings: not given"
    )
    assert column(table, "standard")[0] == ["EN 12150-1", "EN 12150-1; EN ISO 12543"]
    said = contents_of(
        "[supplier]\nstamp = 'lower edge'\nstandard = 'invented standard'\n"
        + JOB.replace("plies = [10]", "plies = [10], heat_soaked = true")
    )
    table = glass_table(said)
    assert any("stamp: lower edge" in line for line in table.above) and column(table, "heat soak")[0][0] == "yes"
    assert set(column(table, "standard")[0]) == {"invented standard"}
    first, second = contents.facts
    held = replace(
        contents, facts=(replace(first, not_for_manufacture=("1 finding fails",)), replace(second, not_for_manufacture=()))
    )
    (line,) = [line for line in glass_table(held).below if line.startswith("NOT FOR MANUFACTURE")]
    assert "007, in the sums with 3 pieces, 1.5 m2, 37.5 kg" in line, "3 × 1 m × 0.5 m × 25 kg/m²"
    free = replace(contents, facts=tuple(replace(each, not_for_manufacture=()) for each in contents.facts))
    assert not any("NOT FOR MANUFACTURE" in line for line in glass_table(free).below)


def test_packs_to_order_are_one_number():
    """Opened and in hand: for the session one pack, and one for the pane that no session names."""
    text = JOB.replace("[[pane]]", SESSION.replace(', "1E2"', "") + "[[pane]]", 1)
    (row,) = [row for row in consumables_tables(contents_of(text))[0].rows if row[0] == "bonding adhesive"]
    assert row[5:8] == (4, 2, 6), "no life of an opened pack: each of the four panes opens its own"
    (alone,) = [row for row in consumables_tables(contents_of())[0].rows if row[0] == "bonding adhesive"]
    assert alone[5:8] == (4, 1, 5)


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not on this computer")
def test_a_spreadsheet_reads_the_same_cells(contents, tmp_path):
    """LibreOffice, which reads XLSX by its own means: codes are text still, and the sums are those of the list."""
    files = {name: data for name, data in glass_list(contents).items() if name.endswith(".xlsx")}
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
    home = f"-env:UserInstallation=file://{tmp_path}/home"
    # 44: comma, 34: quotes, 76: UTF-8, the cells as they are shown, every sheet
    options = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1"
    command = [
        "soffice",
        home,
        "--headless",
        "--convert-to",
        options,
        "--outdir",
        str(tmp_path),
        *map(str, tmp_path.glob("*.xlsx")),
    ]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    (path,) = tmp_path.glob("vessel-glass-*.csv")
    told = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"))))
    start = next(index for index, row in enumerate(told) if row[0] == "code") + 2
    table = glass_table(contents)
    for cells, row in zip(told[start:], (*table.rows, table.sums), strict=False):
        for read, cell, each in zip(cells, row, table.columns, strict=True):
            assert read == ("" if cell is None else cell) if isinstance(cell, (str, type(None))) else True
            if isinstance(cell, float):
                assert float(read) == pytest.approx(cell, abs=0.5 * 10**-each.decimals + 1e-9)
