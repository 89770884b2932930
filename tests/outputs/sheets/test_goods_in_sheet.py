"""The goods-in sheet: its measures and limits are those of the bonding record and the pane sheet, and no text meets another."""

from __future__ import annotations

import shutil
import subprocess

import pytest
from forms import PANES, contents_of, nothing_lies_on_a_text, texts_of_page

from geometry.recorded.record_fields import FieldGroup, FieldKind, record_fields
from outputs.documents import document_files
from outputs.sheet.drafting import number
from outputs.sheets.bonding_form import bonding_form
from outputs.sheets.goods_in_sheet import IN_MADE, goods_in_sheets

every = pytest.mark.parametrize(("name", "code"), PANES)


@every
def test_no_text_meets_another(name, code):
    (sheet,) = goods_in_sheets(contents_of(name, code))
    nothing_lies_on_a_text(sheet)


@every
def test_every_measure_of_the_record_stands_with_its_limits_in_one_row(name, code):
    contents = contents_of(name, code)
    (sheet,) = goods_in_sheets(contents)
    texts = texts_of_page(sheet)
    for each in record_fields(contents.check):
        if each.group is not FieldGroup.GOODS_IN or each.kind is not FieldKind.NUMBER:
            continue
        called = each.id.removeprefix("goods_in.")
        (at,) = [text for text in texts if text.string.split(", ")[0] == called and text.x == 147.0]
        row = {text.string for text in texts if abs(text.y - at.y) < 1.0}
        assert {number(value, decimals=1) for value in (each.least, each.most, each.wanted) if value is not None} <= row
    frit = [each for each in record_fields(contents.check) if each.group is FieldGroup.FRIT]
    told = [text.string for text in texts]
    assert all(number(value, decimals=1) in told for each in frit for value in (each.least, each.most))


@every
def test_paper_of_both_kinds_names_what_a_file_calls_a_measure(name, code):
    """A record typed from either paper needs the names of its entries: beside the box of the sheet, in the box of the bonding form."""
    contents = contents_of(name, code)
    (sheet,) = goods_in_sheets(contents)
    told = [text.string.split(", ")[0] for text in texts_of_page(sheet) if text.x >= 147.0]
    form = [text.string for sheet in bonding_form(contents).sheets for text in texts_of_page(sheet)]
    for number_, each in enumerate(record_fields(contents.check), start=1):
        if each.group is FieldGroup.GOODS_IN:
            called = each.id.removeprefix("goods_in.")
            assert told.count(called) == 1 and form.count(f"{number_} {called}") == 1, each.id


def test_a_verdict_is_ticked_and_the_diagonals_say_what_they_run_over():
    told = [text.string for text in texts_of_page(goods_in_sheets(contents_of("sallow-wren", "SW-01"))[0])]
    assert not any("strike out" in each for each in told), "there are boxes to tick"
    assert any("diagonals over the arcs" in each for each in told)


def test_names_in_the_job_are_keys_of_the_pane_as_made():
    from geometry.job.made import Made

    assert {key.removeprefix("made.").split(" ")[0] for key in IN_MADE.values()} <= set(Made.model_fields)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no pdftotext stands here to read the print")
def test_files_of_the_goods_in_sheet(tmp_path):
    contents = contents_of("sallow-wren", "SW-01")
    files = document_files(contents, ["goods-in"], ["pdf", "svg", "dxf"])
    stem = contents.pane.file_stem
    assert set(files) == {f"{stem}-goods-in{end}" for end in (".dxf", ".svg", ".pdf")}
    (tmp_path / "sheet.pdf").write_bytes(files[f"{stem}-goods-in.pdf"])
    told = subprocess.run(["pdftotext", tmp_path / "sheet.pdf", "-"], capture_output=True, text=True, check=True).stdout
    for words in ("GOODS IN", contents.mark, "diagonal_rising", "ACCEPTED", "REJECTED"):
        assert words in told
