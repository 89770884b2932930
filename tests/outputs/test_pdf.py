"""The PDF: read by poppler (pdftoppm, pdffonts, pdftotext: Debian's poppler-utils) and pypdf, never by what wrote it."""

from __future__ import annotations

import datetime
import io
import math
import shutil
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
import resvg_py
from PIL import Image, ImageFilter

from outputs.files.pdf import ARC_TRUE, curves_of, pdf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.entities import Fill, Path, Sheet, Text
from outputs.sheet.flattening import flattened
from outputs.sheet.layers import LAYERS
from outputs.sheet.lettering import face_file, text_width
from outputs.sheet.refusal import SheetError
from outputs.version import PROGRAM

pypdf = pytest.importorskip("pypdf", reason="comes with the extra `test`")
poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs poppler-utils")
DAY = datetime.date(2026, 3, 12)


def paper(*marks, size="A4", width=210.0, height=297.0, layers=LAYERS) -> Sheet:
    return Sheet(size, width, height, f"Demo {size}", "Invented.", layers, (), (), marks)


def told(tool: str, data: bytes, *options: str) -> str:
    """What a program of poppler says of a file."""
    return subprocess.run(
        [tool, *options, "-", *(["-"] if tool == "pdftotext" else [])], input=data, capture_output=True, check=True
    ).stdout.decode()


def page(data: bytes, dpi: int, number: int = 1) -> Image.Image:
    """One page as poppler prints it, grey."""
    options = ["-r", str(dpi), "-f", str(number), "-l", str(number), "-gray"]
    return Image.open(io.BytesIO(subprocess.run(["pdftoppm", *options, "-"], input=data, capture_output=True, check=True).stdout))


@pytest.fixture(scope="module")
def pdf_file(sheet):
    return pdf_bytes([sheet], date=DAY)


@pytest.fixture(scope="module")
def reader(pdf_file):
    return pypdf.PdfReader(io.BytesIO(pdf_file))


@poppler
def test_bar_of_100_mm_is_100_mm_at_300_dpi():
    """A solid bar from 40 to 140 and 20 to 22 mm, and the page as many pixels as its millimetres are at 300 dpi."""
    bar = Fill("SHEET", ((40.0, 20.0, 0.0), (140.0, 20.0, 0.0), (140.0, 22.0, 0.0), (40.0, 22.0, 0.0)))
    image = page(pdf_bytes([paper(bar)]), 300)
    assert image.size == (math.ceil(210 / 25.4 * 300 - 0.01), math.ceil(297 / 25.4 * 300 - 0.01))
    x0, y0, x1, y1 = image.point(lambda grey: 255 if grey < 128 else 0).getbbox()
    pixel = 25.4 / 300
    assert (x1 - x0) * pixel == pytest.approx(100.0, abs=pixel) and (y1 - y0) * pixel == pytest.approx(2.0, abs=pixel)
    assert x0 * pixel == pytest.approx(40.0, abs=pixel) and 297.0 - y1 * pixel == pytest.approx(20.0, abs=pixel)


def test_pages_have_the_size_of_their_sheets():
    sheets = [paper(), paper(size="A3", width=420.0, height=297.0)]
    boxes = [each.mediabox for each in pypdf.PdfReader(io.BytesIO(pdf_bytes(sheets))).pages]
    for sheet, box in zip(sheets, boxes, strict=True):
        assert float(box.width) * 25.4 / 72 == pytest.approx(sheet.width, abs=1e-3)
        assert float(box.height) * 25.4 / 72 == pytest.approx(sheet.height, abs=1e-3)


def test_layers_have_the_names_they_have_in_the_dxf(reader, dxf_file):
    import ezdxf

    document = ezdxf.read(io.StringIO(dxf_file.decode()))
    properties = reader.root_object["/OCProperties"]
    names = [group.get_object()["/Name"] for group in properties["/OCGs"]]
    assert names == [layer.dxf.name for layer in document.layers if layer.dxf.name not in ("0", "Defpoints")]
    hidden = [group.get_object()["/Name"] for group in properties["/D"]["/OFF"]]
    assert hidden == [layer.dxf.name for layer in document.layers if not layer.dxf.plot and layer.dxf.name != "Defpoints"]


def test_file_tells_title_program_day_and_pages(reader, sheet):
    info = reader.metadata
    assert (info.title, info.subject, info.producer, info.creator) == (sheet.title, sheet.description, PROGRAM, PROGRAM)
    assert info.creation_date.date() == info.modification_date.date() == DAY
    assert info.author is None
    assert [entry.title for entry in reader.outline] == [sheet.title]
    assert reader.root_object["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_a_file_without_a_day_has_none():
    info = pypdf.PdfReader(io.BytesIO(pdf_bytes([paper()], title="Two words"))).metadata
    assert info.creation_date is None and info.modification_date is None and info.title == "Two words"


@poppler
def test_the_face_is_in_the_file_and_no_other():
    marks = (Text("TEXT", 20.0, 100.0, "Ø60 ±0,5", 5.0), Text("TEXT", 20.0, 80.0, "START", 5.0, bold=True))
    rows = told("pdffonts", pdf_bytes([paper(*marks)])).splitlines()[2:]
    assert sorted(row.split()[0].split("+")[1] for row in rows) == ["FritlineLettering-Bold", "FritlineLettering-Regular"]
    assert all(row.split()[3:6] == ["yes", "yes", "yes"] for row in rows)  # embedded, a subset, with its characters


@poppler
def test_lettering_can_be_searched():
    strings = ["1200 ±0,5", "Ø60", "m² µm ≥ 6 ≤ 7 °C −3 → 5 …", "(brackets) and \\ strokes", "Судоверфь Đặng", "turned"]
    marks = [
        Text("TEXT", 20.0, 250.0 - 20 * k, string, 5.0, rotation=90.0 * (string == "turned")) for k, string in enumerate(strings)
    ]
    found = told("pdftotext", pdf_bytes([paper(*marks)]), "-raw").split("\n")
    assert [row.strip() for row in found if row.strip()] == strings


@poppler
@pytest.mark.parametrize("align", ["left", "middle", "right"])
@pytest.mark.parametrize("bold", [False, True])
def test_lettering_is_as_long_as_in_the_layout(align, bold):
    """The box that poppler gives for the words against the advances of the face."""
    string, width = "Setting-chock", text_width("Setting-chock", 5.0, bold=bold)
    words = told("pdftotext", pdf_bytes([paper(Text("TEXT", 100.0, 100.0, string, 5.0, align, bold=bold))]), "-bbox")
    row = next(row for row in words.splitlines() if string in row)
    left, right = (float(row.split(f'{name}="')[1].split('"')[0]) * 25.4 / 72 for name in ("xMin", "xMax"))
    start = 100.0 - {"left": 0.0, "middle": 0.5, "right": 1.0}[align] * width
    assert (left, right) == (pytest.approx(start, abs=0.01), pytest.approx(start + width, abs=0.01))


def operators(data: bytes):
    """For each layer of the first page how often its strokes, fills and texts are painted, and all its subpaths."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    first = reader.pages[0]
    names = {key: value.get_object()["/Name"] for key, value in first["/Resources"]["/Properties"].items()}
    counts: dict[str, dict[str, int]] = {}
    layer = None
    for operands, operator in pypdf.generic.ContentStream(first.get_contents(), reader).operations:
        if operator == b"BDC":
            layer = counts.setdefault(names[operands[1]], dict.fromkeys(("m", "S", "f*", "Tm", "re"), 0))
        elif operator == b"EMC":
            layer = None
        elif layer is not None and operator.decode() in layer:
            layer[operator.decode()] += 1
    return counts


def test_each_layer_holds_what_the_flattened_sheet_has_on_it(pdf_file, sheet):
    """Strokes, areas, subpaths and texts, counted by pypdf in the content of the page."""
    wanted: dict[str, dict[str, int]] = {}
    for inked in flattened(sheet).inked:
        if inked.layer.plots:
            entry = wanted.setdefault(inked.layer.name, dict.fromkeys(("m", "S", "f*", "Tm", "re"), 0))
            entry["S"] += len(inked.strokes) + len(inked.hatchings)
            entry["f*"] += len(inked.areas)
            entry["m"] += sum(len(each.runs) for each in (*inked.strokes, *inked.hatchings, *inked.areas))
            entry["Tm"] += len(inked.letterings)
            entry["re"] += inked.clip is not None
    assert operators(pdf_file) == wanted
    assert sum(entry["Tm"] for entry in wanted.values()) >= 15 and len(wanted) >= 14


@poppler
def test_the_page_is_the_picture_of_the_svg(pdf_file, sheet):
    """Every ink of either picture has ink of the other within two pixels; resvg draws the one, poppler the other."""
    other = page(pdf_file, 254)
    data = resvg_py.svg_to_bytes(
        svg_string=svg_bytes(sheet).decode(), dpi=254, background="#ffffff", skip_system_fonts=True, font_files=[face_file()]
    )
    one = Image.open(io.BytesIO(bytes(data))).convert("L")
    assert abs(one.size[0] - other.size[0]) <= 1 and abs(one.size[1] - other.size[1]) <= 1
    other = other.crop((0, 0, *one.size))
    for first, second in ((one, other), (other, one)):
        ink, near = np.asarray(first) < 100, np.asarray(second.filter(ImageFilter.MinFilter(5))) < 200
        assert (ink & ~near).sum() / ink.sum() < 0.002


@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.3, -0.05, 2.5, 1e-4])
@pytest.mark.parametrize("chord", [0.5, 40.0, 3000.0])
def test_curves_keep_to_their_arc(bulge, chord):
    """Bernstein's form of a cubic at twenty places: each as far from the centre as the radius (DXF's own rule for a bulge)."""
    from ezdxf.math import bulge_to_arc

    start, end = (80.0, 150.0, bulge), (80.0 + chord, 150.0, 0.0)
    centre, _, _, radius = bulge_to_arc(start[:2], end[:2], bulge)
    x, y = start[:2]
    for x1, y1, x2, y2, x3, y3 in curves_of(start, end):
        for k in range(21):
            t = k / 20
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            away = math.hypot(a * x + b * x1 + c * x2 + d * x3 - centre.x, a * y + b * y1 + c * y2 + d * y3 - centre.y)
            assert abs(away - radius) <= ARC_TRUE * 1.05 + 1e-9 * radius
        x, y = x3, y3
    assert (x, y) == pytest.approx(end[:2])


@poppler
def test_an_arc_bends_to_the_side_of_its_bulge():
    """From 80 to 120, a half circle that turns left going right: its lowest point is 20 mm below the chord."""
    image = page(pdf_bytes([paper(Path("TEXT", ((80.0, 150.0, 1.0), (120.0, 150.0, 0.0))))]), 254)
    left, top, right, bottom = image.point(lambda grey: 255 if grey < 128 else 0).getbbox()
    assert (right - left, bottom - top) == (pytest.approx(402.5, abs=2), pytest.approx(201.25, abs=2))
    assert bottom == pytest.approx(2970 - 1300, abs=2)


def test_a_layer_that_does_not_print_leaves_nothing_in_the_file():
    layers = tuple(replace(layer, plots=False) if layer.name == "TEXT" else layer for layer in LAYERS)
    data = pdf_bytes([paper(Text("TEXT", 20.0, 20.0, "hidden", 5.0), Text("TITLE", 20.0, 40.0, "shown", 5.0), layers=layers)])
    assert pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text().split() == ["shown"]


def test_what_no_file_may_hold_is_refused():
    with pytest.raises(SheetError, match="has no length"):
        pdf_bytes([paper(), paper(Path("TEXT", ((1.0, 1.0, 0.0), (1.0, 1.0, 0.0))))])
    with pytest.raises(ValueError, match="one page or more"):
        pdf_bytes([])


def test_same_bytes_in_every_process(pdf_file, tmp_path):
    """Under other seeds of the hash, and from a process that has made other files before; nothing is compressed."""
    script = (
        "import sys, datetime; sys.path[:0] = ['tests/outputs']; from conftest import rich_sheet; from outputs.files.pdf import pdf_bytes\n"
        "pdf_bytes([rich_sheet()] * 2, title='another')\n"
        "sys.stdout.buffer.write(pdf_bytes([rich_sheet()], date=datetime.date(2026, 3, 12)))"
    )
    for seed in ("1", "77"):
        made = subprocess.run(
            [sys.executable, "-c", script], env={"PYTHONHASHSEED": seed, "PATH": ""}, capture_output=True, check=True
        )
        assert made.stdout == pdf_file
    assert b"/FlateDecode" not in pdf_file
