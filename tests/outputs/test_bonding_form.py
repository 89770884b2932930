"""The bonding form: every field of every pane has one box, nothing is lettered over anything, and a form filled in is read back."""

from __future__ import annotations

import csv
import datetime
import io
import math
import runpy
from functools import cache
from pathlib import Path

import pytest
from good_records import CODES, good_entries, sample
from pypdf import PdfReader, PdfWriter

from geometry.findings.check import check_pane
from geometry.job import job_of, read_job
from geometry.recorded.bonding_record import record_of
from geometry.recorded.outcomes import Outcome
from geometry.recorded.record_fields import record_fields
from geometry.recorded.record_findings import RecordState, judged_record
from geometry.recorded.record_reading import found_records
from outputs.documents import document_files
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.entities import Path as Line
from outputs.sheet.entities import Text
from outputs.sheet.keep_clear import crosses, straights_of
from outputs.sheets.bonding_form import bonding_form
from outputs.sheets.card import card_sheets
from outputs.sheets.contents import Contents
from outputs.sheets.label import label_sheets

LONG = """
lists = { decimal = "comma" }
work = { guns = 3, bead_rate = 120 }
vessel = { name = "Invented vessel with a rather long name of its own", yard_number = "123456" }
[[pane]]
code = "WHEELHOUSE-FRONT-LOWER-3"
name = "Wheelhouse front, lower row, third from port, opening part"
side = "starboard"
revision = "AB12"
quantity = 3
frame = "aluminium"
glass = { plies = [6, 6, 6], interlayers = [1.52, 1.52] }
outline = { rectangle = [2900, 400], radius = 60 }
bond = { width = 20, thickness = 6 }
"""
# of a hundred random panes: the one on whose form the first limit stood on its name, and one of another form
SEEDS = (100_054, 100_005)
PANES = [*CODES, "long", "as made", *SEEDS]
random_job = runpy.run_path(str(Path(__file__).parents[1] / "random_panes.py"))["random_job"]


@cache
def contents_of(code):
    if code == "long":
        job = job_of(LONG)
        check = check_pane(job, job.panes[0])
    elif code in SEEDS:
        job = job_of(random_job(code)[1])
        check = check_pane(job, job.panes[0], plate=False)
    elif code == "dated":
        job = read_job(Path(__file__).parents[2] / "samples" / "sessions.toml")
        check = check_pane(job, next(pane for pane in job.panes if pane.code in job.sessions[0].panes))
    elif code == "as made":
        job = read_job(Path(__file__).parents[2] / "samples" / "as-made.toml")
        check = check_pane(job, job.panes[0])
    else:
        check = sample(code)
    return Contents(check.subject.job, check.subject.pane, check.subject.detail, check)


@cache
def files_of(code):
    return document_files(contents_of(code), ("bonding",), ("pdf",))


def pdf_of(code):
    return next(data for name, data in files_of(code).items() if name.endswith(".pdf"))


@pytest.mark.parametrize("code", PANES)
def test_every_field_has_one_box_and_no_letter_lies_on_another_or_on_a_line(code):
    form = bonding_form(contents_of(code))
    ids = [box.field.id for page in form.boxes for box in page]
    assert sorted(ids) == sorted(field.id for field in record_fields(contents_of(code).check))
    assert len(set(ids)) == len(ids)
    for sheet, boxes in zip(form.sheets, form.boxes, strict=True):
        texts = [(text.string, box_of_text(text, 1.0)) for text in sheet.marks if isinstance(text, Text)]
        for index, (one, first) in enumerate(texts):
            assert first[0] > 9 and first[2] < 201 and first[1] > 9 and first[3] < 288, one
            for other, second in texts[index + 1 :]:
                assert not overlap(grown(first, 0.3), second), (one, other)
        lines = list(straights_of(mark for mark in sheet.marks if isinstance(mark, Line)))
        struck = [text for text, box in texts for straight in lines if crosses(box, straight)]
        assert not struck
        for index, box in enumerate(boxes):
            assert box.right - box.left >= 12 and box.top - box.bottom >= 5.9, box.field.id
            for other in boxes[index + 1 :]:
                first = (box.left, box.bottom, box.right, box.top)
                assert not overlap(first, (other.left, other.bottom, other.right, other.top)), (box.field.id, other.field.id)


@pytest.mark.parametrize("code", ["SW-05", "long"])
def test_each_side_is_cautious_and_names_the_diagonals_as_the_record_does(code):
    contents = contents_of(code)
    sides = [" ".join(mark.string for mark in sheet.marks if isinstance(mark, Text)) for sheet in bonding_form(contents).sheets]
    for told in sides:
        for danger in ("isocyanates", "flammable solvent", "Glass is heavy", "uncured bead does not hold", "not an approval"):
            assert danger in told
    names = {field.id: field.words for field in record_fields(contents.check)}
    for name in ("goods_in.diagonal_rising", "goods_in.diagonal_falling"):
        start = names[name].partition(", ")[2].partition(" to ")[0]
        assert (f"diagonal from {start}" in sides[0]) == (name in names), "where it begins, in the words of the record"


def test_card_and_form_call_what_is_used_up_by_the_same_names():
    contents = contents_of("SW-01")
    card, form = (
        {mark.string for sheet in sheets for mark in sheet.marks if isinstance(mark, Text)}
        for sheets in (card_sheets(contents), bonding_form(contents).sheets)
    )
    lots = {each.removeprefix("lot: ") for each in card if each.startswith("lot: ")}
    assert len(lots) == 5 and lots <= form


def words_of(sheets):
    return [text.string for sheet in sheets for text in sheet.marks if isinstance(text, Text)]


@pytest.mark.parametrize("code", ["SW-01", "SW-05", "long", "dated"])
def test_the_day_of_the_backfill_stands_over_its_box_as_on_card_and_label(code):
    """The whole days of the plan, rounded up by hand; by date where a session gives the day of the bonding."""
    contents = contents_of(code)
    plan, form = contents.check.time_plan, " ".join(words_of(bonding_form(contents).sheets))
    card, label = (" ".join(words_of(sheets)) for sheets in (card_sheets(contents), label_sheets(contents)))
    day = math.ceil(plan.backfill_day - 1e-9)
    if code == "dated":
        date = plan.date + datetime.timedelta(days=day)
        assert (
            f"not before {date.isoformat()} (day {day})" in form
            and date.isoformat() in card
            and f"fill from {date:%m-%d}" in label
        )
    elif code == "SW-05":  # closed the day it is bonded, which a check fails
        assert "TOO EARLY" in form and "TOO EARLY" in card and "not before" not in form
    else:
        assert f"backfill, not before day {day} (bonded = day 0)" in form and f"fill from day {day}" in label


@pytest.mark.parametrize("code", [*CODES, "as made"])
def test_limits_that_differ_tell_why(code):
    """What is drawn stands over them, in words where it is none; and where it lies outside the limits of the job itself."""
    contents = contents_of(code)
    gaps = contents.check.fitting.gaps
    least, most = (contents.check.subject.limit(name).value for name in ("joint_least", "joint_most"))
    form, card = words_of(bonding_form(contents).sheets), words_of(card_sheets(contents))
    if len({(each.gap_least, each.gap_most) for each in gaps}) > 1:
        assert "gap drawn" in form
    assert form.count("none") == len([each for each in gaps if each.gap <= 0])
    outside = [each.letter for each in gaps if not least <= each.gap <= most]
    told = f"{', '.join(outside)}: gap drawn is outside job limits"
    assert (told in form) == ("job limits" in " ".join(card)) == bool(outside)
    assert bool(outside) == (code in {"SW-09", "SW-10", "as made"})


@pytest.mark.parametrize("code", ["SW-01", "SW-05", "long"])
def test_a_form_filled_in_and_saved_is_read_back(code, tmp_path):
    """Filled by another library, read as the record that was typed; nothing of it is lost and the paper says which it is."""
    check = contents_of(code).check
    entries = good_entries(check) | {"notes": "invented: two lines\nin one field", "adhesive.lot": "007"}
    writer = PdfWriter()
    writer.append(PdfReader(io.BytesIO(pdf_of(code))))
    typed = {name: str(value).replace(".", ",") if isinstance(value, float) else str(value) for name, value in entries.items()}
    for page in writer.pages:
        writer.update_page_form_field_values(page, typed, auto_regenerate=False)
    path = tmp_path / "filled.pdf"
    writer.write(path)
    found = found_records([str(path)])
    assert not found.faults
    record, faults = record_of(found.records[0], record_fields(check))
    assert not faults and (record.code, record.revision, record.mark) == (
        check.subject.pane.code,
        check.subject.pane.revision,
        check.mark,
    )
    assert set(record.entries) == set(entries)
    assert record.text("adhesive.lot") == "007" and record.text("notes") == "invented: two lines in one field"
    assert judged_record(check, record, record_fields(check)).state is RecordState.AS_DRAWN


def test_a_form_nobody_filled_in_is_no_record(tmp_path):
    path = tmp_path / "blank.pdf"
    path.write_bytes(pdf_of("SW-01"))
    assert "nothing is filled in" in str(found_records([str(path)]).faults[0])
    assert PdfReader(path).metadata.title == "SW-01 rev A, bonding form, side 1 of 2"


def test_the_table_is_typed_from_paper_and_read_back(tmp_path):
    """With the decimal comma of the job: a spreadsheet of that country writes it again so."""
    check = contents_of("long").check
    data = next(data for name, data in files_of("long").items() if name.endswith(".csv"))
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig")), delimiter=";"))
    numbers = [int(row[5]) for row in rows if row[5].isdigit()]
    assert numbers == list(range(1, len(record_fields(check)) + 1))
    entries = good_entries(check)
    for row in rows:
        if row[0] in entries:
            row[1] = str(entries[row[0]]).replace(".", ",") if isinstance(entries[row[0]], float) else str(entries[row[0]])
    target = io.StringIO()
    csv.writer(target, delimiter=";").writerows(rows)
    path = tmp_path / "typed.csv"
    path.write_text(target.getvalue(), encoding="utf-8")
    found = found_records([str(path)])
    assert not found.faults
    record, faults = record_of(found.records[0], record_fields(check))
    assert not faults and not judged_record(check, record, record_fields(check)).of(Outcome.NOT_RECORDED)


def test_the_same_form_has_the_same_bytes():
    again = document_files(contents_of("SW-01"), ("bonding",), ("pdf",))
    assert again == files_of("SW-01") and set(again) == {"SW-01-A-bonding.pdf", "SW-01-A-bonding.csv"}


@pytest.mark.parametrize("code", CODES)
def test_a_form_of_a_pane_that_must_not_be_made_says_so_as_the_card_does(code):
    contents = contents_of(code)
    held = bool(contents.check.state.not_for_manufacture)
    for sheet in (*bonding_form(contents).sheets, card_sheets(contents)[0]):
        words = " ".join(text.string for text in sheet.marks if isinstance(text, Text))
        assert ("DO NOT FIT" in words) == held, sheet.title


def test_what_is_chosen_is_a_list_to_choose_from():
    """Yes and no, and words that are one of a few, are no free text in the form (ISO 32000-1, 12.7.4.4: /Ch)."""
    fields = PdfReader(io.BytesIO(pdf_of("SW-01"))).get_fields() or {}
    lists = {name: [str(each) for each in field["/_States_"]] for name, field in fields.items() if field.get("/FT") == "/Ch"}
    assert any(states[-2:] == ["yes", "no"] for states in lists.values())
    wanted = {each.id: each.choices for each in record_fields(contents_of("SW-01").check) if each.choices}
    assert wanted
    for key, choices in wanted.items():
        assert lists[key][1:] == list(choices)
