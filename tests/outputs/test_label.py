"""The labels: one for the glass and one for the crate of every piece, read by a camera from the printed page."""

from __future__ import annotations

import io
import runpy
from functools import cache
from pathlib import Path

import pytest
import resvg_py
from PIL import Image

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from outputs.documents import document_files
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.entities import Fill, Text
from outputs.sheet.keep_clear import crosses, straights_of
from outputs.sheet.lettering import face_file
from outputs.sheets.contents import Contents
from outputs.sheets.label import label_sheets

zxingcpp = pytest.importorskip("zxingcpp", reason="comes with the extra `test`")
VESSEL = read_job(Path(__file__).resolve().parents[2] / "samples" / "sallow-wren.toml")
random_job = runpy.run_path(str(Path(__file__).parents[1] / "random_panes.py"))["random_job"]
CODES = [pane.code for pane in VESSEL.panes]
LONG = (
    '[[pane]]\ncode = "WHEELHOUSE-FRONT-LOWER-3"\nname = "Wheelhouse front, lower row, third from port, opening part"\n'
    'side = "starboard"\nquantity = 12\nframe = "aluminium"\nglass = { plies = [8] }\noutline = { rectangle = [900, 500] }\nrevision = "AB12"\n'
)


@cache
def contents_of(code):
    """Of a pane of the sample, of the long names, or of the random job of a seed."""
    if isinstance(code, int):
        check = check_pane(job := job_of(random_job(code)[1]), job.panes[0], plate=False)
        return Contents(job, job.panes[0], check.subject.detail, check)
    job = VESSEL if code in CODES else job_of(LONG)
    pane = next(pane for pane in job.panes if code in (pane.code, "long"))
    detail = build_detail(job, pane)
    return Contents(job, pane, detail, check_pane(job, pane, detail))


def texts_of(sheet):
    return [mark for mark in sheet.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("code", [*CODES, "long"])
def test_every_label_is_read_by_a_camera_and_by_an_eye(code):
    contents = contents_of(code)
    sheets = label_sheets(contents)
    wanted = f"{contents.pane.code} {contents.pane.revision} {contents.mark.replace('-', '')}"
    read = []
    for sheet in sheets:
        data = resvg_py.svg_to_bytes(
            svg_string=svg_bytes(sheet).decode(),
            dpi=150,
            background="#ffffff",
            skip_system_fonts=True,
            font_files=[face_file(bold=True)],
        )
        read += [
            each.text
            for each in zxingcpp.read_barcodes(
                Image.open(io.BytesIO(bytes(data))).convert("L").point(lambda grey: 255 * (grey > 127))
            )
        ]
    assert read == [wanted] * (2 * contents.pane.quantity)
    strings = [text.string for sheet in sheets for text in texts_of(sheet)]
    pieces = 2 * contents.pane.quantity
    assert strings.count(contents.mark) == pieces
    mass = f"{contents.detail.glass.mass:.1f}".removesuffix(".0").replace(".", ",") + " kg"
    assert strings.count(mass) == strings.count(contents.pane.code) == pieces  # in full, however long
    assert strings.count("THIS SIDE OUT") == contents.pane.quantity
    if contents.pane.side:
        assert strings.count(contents.pane.side.upper()) == pieces
    assert strings.count("NOT FOR MANUFACTURE") == (pieces if contents.state.not_for_manufacture else 0)


@pytest.mark.parametrize("code", [*CODES, "long", 100_003, 100_006])
def test_words_keep_clear_of_one_another_and_of_lines(code):
    """1.5 mm between texts, 0.7 mm between a text and a line, nothing in the quiet zone of a code, all on the paper."""
    for sheet in label_sheets(contents_of(code)):
        boxes = [(text.string, box_of_text(text, 1.0)) for text in texts_of(sheet)]
        lines = straights_of([mark for mark in sheet.marks if not isinstance(mark, Text | Fill)])
        for number, (one, box) in enumerate(boxes):
            assert not [other for other, beside in boxes[:number] if overlap(grown(box, 0.74), grown(beside, 0.74))], one
            assert not any(crosses(grown(box, 0.7), straight) for straight in lines), one
            assert box[0] > 5 and box[1] > 5 and box[2] < 205 and box[3] < 292
        for fill in (mark for mark in sheet.marks if isinstance(mark, Fill)):
            xs, ys = [x for x, _, _ in fill.nodes], [y for _, y, _ in fill.nodes]
            quiet = grown((min(xs), min(ys), max(xs), max(ys)), 4 * 0.7 - 0.01)
            assert not [string for string, box in boxes if overlap(box, quiet)]


def test_a_print_on_another_face_is_told():
    job = job_of(
        '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [6, 6], interlayers = [1.52], printed_face = 2 }\noutline = { rectangle = [900, 500] }\n'
    )
    contents = Contents(job, job.panes[0], build_detail(job, job.panes[0]))
    strings = [text.string for text in texts_of(label_sheets(contents)[0])]
    assert "print on face 2 of 4, 1 is out" in strings and "printed face in" not in strings


def test_labels_are_written_in_every_format():
    files = document_files(contents_of("long"), ["label"], ["dxf", "svg", "pdf"])
    stem = contents_of("long").pane.file_stem
    assert sorted(files) == sorted(
        [f"{stem}-label.dxf", f"{stem}-label-1.svg", f"{stem}-label-2.svg", f"{stem}-label-3.svg", f"{stem}-label.pdf"]
    )
    assert files[f"{stem}-label.pdf"].startswith(b"%PDF-1.7")


def test_the_template_is_a_document_of_its_own():
    contents = contents_of("SW-10")
    assert list(document_files(contents, ["template"], ["svg", "dxf"])) == []
    files = document_files(contents, ["template"], ["pdf"])
    assert list(files) == [f"{contents.pane.file_stem}-template{side}.pdf" for side in ("", "-mirrored")]
    assert all(data.startswith(b"%PDF-1.7") for data in files.values())


def test_the_office_chooses_the_paper_of_the_tiles():
    """The key sheet.template_paper, and that nothing but A4 and A3 is taken for it."""
    pypdf = pytest.importorskip("pypdf", reason="comes with the extra `test`")
    from geometry.job import JobError

    sizes = {}
    for paper in ("A4", "A3"):
        job = job_of(f'[sheet]\ntemplate_paper = "{paper}"\n' + LONG)
        contents = Contents(job, job.panes[0], build_detail(job, job.panes[0]))
        sizes[paper] = {
            tuple(sorted(round(float(side) * 25.4 / 72) for side in page.mediabox[2:]))
            for data in document_files(contents, ["template"], ["pdf"]).values()
            for page in pypdf.PdfReader(io.BytesIO(data)).pages
        }
    assert sizes == {"A4": {(210, 297)}, "A3": {(297, 420)}}
    with pytest.raises(JobError, match="allowed: one of A4, A3"):
        job_of('[sheet]\ntemplate_paper = "A2"\n' + LONG)


@pytest.mark.parametrize("code", ["SW-01", "SW-10"])
def test_the_label_tells_the_days_in_the_order_in_which_they_come(code):
    """Boat, joint, hose, as on the card."""
    told = [text.string for text in texts_of(label_sheets(contents_of(code))[0]) if " from day " in text.string][:3]
    assert [words.split()[0] for words in told] == ["move", "fill", "hose"]
    days = [int(words.split()[-1]) for words in told]
    assert days == sorted(days)
