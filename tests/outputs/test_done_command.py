"""``check --done``: what it tells, what it writes, with which exit code; terminal, JSON, pages and lists say the same."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest
from good_records import BONDED, document, good_entries, sample
from openpyxl import load_workbook

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from outputs.command_line import main
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.entities import Text
from outputs.sheets.care_sheet import care_sheet, why_no_care_sheet

SAMPLE = str(Path(__file__).parents[2] / "samples" / "sallow-wren.toml")
PANE = """
climate = { air = 23, humidity = 50 }
adhesive = { name = "Invented bond 1" }
[[pane]]
code = "G"
revision = "B"
frame = "aluminium"
glass = { plies = [10], treatment = "toughened" }
outline = { rectangle = [1200, 600], radius = 60 }
recess = { depth = 15, landing = 40, radius = 66 }
joint = { width = 6, backfill_depth = 6 }
bond = { width = 15, thickness = 5, set_back = 8 }
frit = { width = 40, fade = 0, start = 1 }
tolerances = { pane = 1.5 }
quantity = %d
"""


@pytest.fixture(name="run")
def running(capsys):
    def run(*arguments):
        with pytest.raises(SystemExit) as left:
            main(["check", *map(str, arguments)])
        return left.value.code, *capsys.readouterr()

    return run


@pytest.fixture(name="vessel")
def folder_of_records(tmp_path):
    """A good record, one with a tight gap and something left out, none of the others."""
    folder = tmp_path / "records"
    folder.mkdir()
    for code, changed in (("SW-01", {}), ("SW-04", {"gap.3": 2, "frit.2": None, "activator.lot": "not used"})):
        told = document(sample(code), good_entries(sample(code)) | changed)
        (folder / f"{code}.json").write_text(json.dumps(told), encoding="utf-8")
    return folder


def job_file(folder, quantity=1):
    path = folder / "job.toml"
    path.write_text(PANE % quantity, encoding="utf-8")
    job = job_of(PANE % quantity)
    return path, check_pane(job, job.panes[0], build_detail(job, job.panes[0]))


def record(folder, check, name="record.json", **changed):
    path = folder / name
    path.write_text(
        json.dumps(document(check, good_entries(check) | {key.replace("__", "."): value for key, value in changed.items()}))
    )
    return path


def test_a_vessel_s_records_are_told_pane_by_pane(run, vessel):
    code, out, _ = run(SAMPLE, "--no-plate", "--done", vessel)
    assert code == 1
    assert re.search(r"^SW-01, .*SW-01\.json: BONDED AS DRAWN \(", out, re.M)
    assert re.search(r"^SW-04, .*: BONDED, OUTSIDE ITS LIMITS \(1 fail, 1 look, 1 not recorded, ", out, re.M)
    assert "  fail            gap at c: 2, least 4.5, most 9.5 mm" in out
    assert "  not recorded    width of the print, place 2\n" in out
    assert re.search(r"^SW-02: no record$", out, re.M) and "written" not in out


def test_files_terminal_and_json_say_the_same(run, vessel, tmp_path):
    folder = tmp_path / "out"
    code, out, _ = run(SAMPLE, "--no-plate", "--json", "--done", vessel, "-o", folder)
    told = json.loads(out)
    assert code == 1 and sorted(each.name for each in folder.iterdir()) == sorted(
        [
            *(f"SW-0{n}-A-as-fitted.{ending}" for n in (1, 4) for ending in ("html", "json")),
            *(f"SW-01-A-care.{ending}" for ending in ("dxf", "pdf", "svg")),
            *(f"sallow-wren-sign-off.{ending}" for ending in ("csv", "html", "xlsx")),
        ]
    )
    assert told["verdict"] == "fail"
    states = {pane["code"]: pane["state"] for pane in told["panes"]}
    assert (
        states["SW-01"] == "bonded as drawn"
        and states["SW-04"] == "bonded, outside its limits"
        and states["SW-09"] == "no record"
    )
    assert any("SW-04-A: bonded, outside its limits: 1 of its readings fail" in why for why in told["no_care_sheet"])
    listed = list(csv.DictReader(io.StringIO((folder / "sallow-wren-sign-off.csv").read_text("utf-8-sig"))))
    assert {row["pane"]: row["state of the bonding"] for row in listed} == states
    sheet = load_workbook(folder / "sallow-wren-sign-off.xlsx").active
    cells = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert {row[0]: row[5] for row in cells if row[0] in states} == states
    lots = {row["pane"]: row["lot of adhesive"] for row in listed}
    assert lots["SW-01"] == lots["SW-04"] == "invented adhesive lot" and lots["SW-02"] == "", "a bad lot is found by a filter"
    assert {row["pane"]: row["lot of activator"] for row in listed}["SW-04"] == "not used"
    good = next(row for row in listed if row["pane"] == "SW-01")
    told_good = next(pane for pane in told["panes"] if pane["code"] == "SW-01")["records"][0]["findings"]
    assert good["bonded on"] == BONDED.isoformat() and good["backfilled on"] > good["bonded on"]
    assert int(good["read without a limit"]) == sum(each["outcome"] == "no limit given" for each in told_good) > 0
    sign_off = re.sub(r"<[^>]*>", " ", (folder / "sallow-wren-sign-off.html").read_text("utf-8"))
    assert "adhesive: invented adhesive lot" in sign_off and f"bonded {BONDED}" in sign_off
    fitted = json.loads((folder / "SW-04-A-as-fitted.json").read_text("utf-8"))
    of_answer = next(pane for pane in told["panes"] if pane["code"] == "SW-04")["records"][0]
    assert fitted["findings"] == of_answer["findings"] and fitted["as_fitted"] == f"A, as fitted {BONDED}"
    page = (folder / "SW-04-A-as-fitted.html").read_text("utf-8")
    for finding in fitted["findings"]:
        if finding["outcome"] in ("fail", "look", "not recorded"):
            assert finding["name"] in page
    assert page.count(">FAIL<") == 2 and page.count(">LOOK<") == 1  # among the deviations, the gap at its own place as well
    assert "<h2>Not recorded</h2>" in page
    again = {each.name: each.read_bytes() for each in folder.iterdir()}
    run(SAMPLE, "--no-plate", "--done", vessel, "-o", folder)
    assert {each.name: each.read_bytes() for each in folder.iterdir()} == again


def test_a_good_record_of_a_good_pane_leaves_nothing_failing(run, tmp_path):
    job, check = job_file(tmp_path)
    code, out, _ = run(job, "--done", record(tmp_path, check))
    assert code == 0 and "BONDED AS DRAWN" in out
    code, out, _ = run(job, "--done", record(tmp_path, check, adhesive__expiry="2026-05-01"))
    assert code == 1 and "adhesive in date: use by 2026-05-01, bonding on 2026-05-04: expired" in out


def test_a_lot_that_no_sheet_can_letter_leaves_the_care_sheet_out(run, tmp_path):
    """It is kept as it was typed on page and data; what is missing is told with the reason."""
    job, check = job_file(tmp_path)
    folder = tmp_path / "out"
    code, out, _ = run(job, "--no-plate", "--done", record(tmp_path, check, sealant__lot="架空の品番"), "-o", folder)
    assert code == 0 and "no care sheet of G-B: its record holds a sign that no sheet can letter" in out
    assert "架空の品番" in (folder / "G-B-as-fitted.html").read_text("utf-8") and not list(folder.glob("*care*"))


def test_the_wrong_paper_is_told_first_with_both_marks(run, tmp_path):
    job, check = job_file(tmp_path)
    old = check.mark
    job.write_text((PANE % 1).replace("depth = 15", "depth = 16"), encoding="utf-8")
    code, out, _ = run(job, "--done", record(tmp_path, check, gap__1=1))
    first = next(line for line in out.splitlines() if line.startswith("  "))
    assert (
        code == 1
        and "BONDED BY ANOTHER PAPER" in out
        and f"the mark {old}, the job now has " in first
        and old not in first.partition("has ")[2]
    )


def test_two_records_of_one_pane_and_pieces_of_one_code(run, tmp_path):
    job, check = job_file(tmp_path, quantity=2)
    one, two = record(tmp_path, check, "1.json", piece__number=1), record(tmp_path, check, "2.json", piece__number=1)
    code, _, err = run(job, "--done", one, "--done", two)
    assert code == 2 and "1.json is of the same pane G no. 1" in err
    code, out, _ = run(job, "--done", one)
    assert code == 0 and "G: not fully recorded (1 of 2 recorded)" in out
    record(tmp_path, check, "2.json", piece__number=2)
    folder = tmp_path / "out"
    code, out, _ = run(job, "--done", one, "--done", two, "-o", folder)
    assert code == 0 and "G: bonded as drawn (2 of 2 recorded)" in out
    assert {"G-B-1-as-fitted.html", "G-B-2-care.pdf"} <= {each.name for each in folder.iterdir()}


def test_records_of_one_pane_are_refused_before_any_is_judged(run, tmp_path, monkeypatch):
    path, check = job_file(tmp_path)
    folder = tmp_path / "records"
    folder.mkdir()
    for name in ("a.json", "b.json"):
        record(folder, check, name)
    monkeypatch.setattr("geometry.recorded.record_findings.judged_record", None)
    code, out, err = run(path, "--no-plate", "--done", folder)
    assert code == 2 and not out and "is of the same pane G" in err


def test_every_fault_of_every_file_is_told_together_and_nothing_is_written(run, tmp_path):
    job, check = job_file(tmp_path)
    one = record(tmp_path, check, "1.json", gap__1=850, gap__9=6)
    two = tmp_path / "2.json"
    two.write_text(json.dumps(document(check, {"gap.1": 6}, code="X")), encoding="utf-8")
    folder = tmp_path / "out"
    code, _, err = run(job, "--done", two, "-o", folder)
    assert code == 2 and f"{two}: code: wrong paper: found 'X', mark {check.mark}; allowed: a pane of" in err
    code, out, err = run(job, "--json", "--done", one, "-o", folder)
    assert code == 2 and [each["key"] for each in json.loads(out)["errors"]] == ["gap.1", "gap.9"]
    assert f"{one}: gap.1: found 850; allowed: a number from 0 to 100 mm" in err and not folder.exists()


@pytest.mark.parametrize(
    "arguments",
    [("-o", "x"), ("--done", "r.json", "--propose"), ("--done", "r.json", "--record", "x")],
)
def test_options_that_do_not_go_together_are_refused(run, tmp_path, arguments):
    job, _ = job_file(tmp_path)
    code, _, err = run(job, *arguments)
    assert code == 2 and "allowed: --done with" in err


def judged(check, **changed):
    from geometry.recorded.bonding_record import record_of
    from geometry.recorded.record_fields import record_fields
    from geometry.recorded.record_findings import judged_record
    from geometry.recorded.record_reading import FoundRecord

    fields = record_fields(check)
    found, _ = record_of(
        FoundRecord("r", check.subject.pane.code, check.subject.pane.revision, check.mark, good_entries(check) | changed), fields
    )
    return judged_record(check, found, fields)


def test_the_care_sheet_has_the_figures_of_the_fitted_pane_and_no_others(tmp_path):
    """Sizes as measured, lots and names as typed; nothing on anything, also where every name is as long as it can be."""
    _, check = job_file(tmp_path)
    long = "W" * 30 + " and so on for a long name of an invented thing"
    fields = ("adhesive", "activator", "cleaner", "primer_frame", "primer_glass", "sealant")
    read = {"goods_in.width_top": 1201, "gap.2": 7.2, "name.bonded": long} | {f"{name}.lot": long for name in fields}
    for changed in ({}, read):
        sheet = care_sheet(judged(check, **changed))
        told = [text.string for text in sheet.marks if isinstance(text, Text)]
        boxes = [(text.string, box_of_text(text, 1.0)) for text in sheet.marks if isinstance(text, Text)]
        for index, (one, box) in enumerate(boxes):
            assert box[0] > 9 and box[1] > 9 and box[2] < 201 and box[3] < 288, one
            assert not [other for other, beside in boxes[:index] if overlap(grown(box, 0.3), beside)], one
        assert svg_bytes(sheet) == svg_bytes(care_sheet(judged(check, **changed)))
    assert "1200 to 1201 × 600, 10 thick, measured" in " ".join(told) and "7,2" in told


def test_without_a_whole_record_there_is_no_care_sheet(tmp_path):
    _, check = job_file(tmp_path)
    assert why_no_care_sheet(judged(check)) == ""
    assert why_no_care_sheet(judged(check, **{"gap.1": None, "photo.1": "-"})) == "not fully recorded: 2 entries are missing"
    assert why_no_care_sheet(judged(check, **{"gap.1": 1})) == "bonded, outside its limits: 1 of its readings fail"
    with pytest.raises(ValueError, match="entries are missing"):
        care_sheet(judged(check, **{"gap.1": None}))
