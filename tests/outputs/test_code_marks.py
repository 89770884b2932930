"""The code on the sheets, read back by a library that did not write it (zxing-cpp) from rendered pages."""

from __future__ import annotations

import io
import shutil
import subprocess

import pytest
import resvg_py
from PIL import Image

from outputs.drawing.code_marks import MODULE, QUIET, code_marks, code_size, code_text
from outputs.files.dxf import dxf_bytes
from outputs.files.pdf import pdf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.entities import Sheet
from outputs.sheet.layers import LAYERS

zxingcpp = pytest.importorskip("zxingcpp", reason="comes with the extra `test`")
TEXTS = ["SW-01 A K7PA3MXD", "KITCHEN-LIGHT-PORT-12 rev. 14 ZZZZ9999", "Łódź 3 ACDEFGHJ"]


def sheet(text, module=MODULE) -> Sheet:
    return Sheet("A4", 210.0, 297.0, "Code", "Invented.", LAYERS, (), (), tuple(code_marks(text, 30.3, 200.7, module)))


def from_svg(made: Sheet, dpi: int) -> Image.Image:
    data = resvg_py.svg_to_bytes(svg_string=svg_bytes(made).decode(), dpi=dpi, background="#ffffff", skip_system_fonts=True)
    return Image.open(io.BytesIO(bytes(data))).convert("L")


def from_pdf(made: Sheet, dpi: int) -> Image.Image:
    if shutil.which("pdftoppm") is None:
        pytest.skip("needs poppler-utils")
    page = subprocess.run(["pdftoppm", "-r", str(dpi), "-gray", "-"], input=pdf_bytes([made]), capture_output=True, check=True)
    return Image.open(io.BytesIO(page.stdout))


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("printed", [from_svg, from_pdf])
@pytest.mark.parametrize("black_and_white", [False, True])
def test_a_camera_reads_what_was_written(text, printed, black_and_white):
    image = printed(sheet(text), 150)
    if black_and_white:
        image = image.point(lambda grey: 255 if grey >= 128 else 0)
    (read,) = zxingcpp.read_barcodes(image)
    assert read.text == text and "QR" in str(read.format)


def test_dark_and_light_are_those_of_the_code():
    """Every module of the picture, sampled in its middle, against the matrix of the library that made it."""
    import segno

    text = TEXTS[0]
    image = from_svg(sheet(text), 600)
    pixels = image.size[0] / 210.0 * MODULE  # to a module
    matrix = segno.make(text, micro=False, error="m", boost_error=False).matrix
    left, top = 30.3 / MODULE + QUIET, (297.0 - 200.7) / MODULE - QUIET - len(matrix)
    for down, row in enumerate(matrix):
        for across, dark in enumerate(row):
            seen = image.getpixel((round((left + across + 0.5) * pixels), round((top + down + 0.5) * pixels)))
            assert (seen < 20) == bool(dark), (across, down)
    # no seam between rows, and nothing in the quiet zone
    box = image.point(lambda grey: 255 if grey < 250 else 0).getbbox()
    assert [value / pixels * MODULE for value in box] == pytest.approx(
        [left * MODULE, top * MODULE, (left + len(matrix)) * MODULE, (top + len(matrix)) * MODULE], abs=0.05
    )
    finder = image.crop([round((a + b) * pixels) for a, b in ((left, 0.2), (top, 0.2), (left, 6.8), (top, 0.8))])
    assert finder.getextrema()[1] < 20


def test_size_holds_the_quiet_zone():
    (fill,) = code_marks(TEXTS[0], 0.0, 0.0, 0.6)
    xs, ys = ([node[axis] for node in fill.nodes] for axis in (0, 1))
    side = code_size(TEXTS[0], 0.6)
    assert (min(xs), min(ys)) == pytest.approx((2.4, 2.4)) and (max(xs), max(ys)) == pytest.approx((side - 2.4, side - 2.4))
    assert side == pytest.approx((21 + 8) * 0.6)  # sixteen capitals and figures: version 1 of ISO/IEC 18004


def test_dxf_has_it_as_one_solid_area():
    import ezdxf
    from ezdxf.path import from_hatch

    document = ezdxf.read(io.StringIO(dxf_bytes(sheet(TEXTS[0])).decode()))
    (area,) = document.paperspace().query("HATCH")
    (path,) = from_hatch(area)
    assert area.dxf.solid_fill and path.is_closed
    corners = [(point.x, point.y) for point in path.flattening(0.01)]
    doubled = sum(x * v - u * y for (x, y), (u, v) in zip(corners, corners[1:] + corners[:1], strict=True))
    import segno

    dark = sum(sum(bool(each) for each in row) for row in segno.make(TEXTS[0], micro=False, error="m", boost_error=False).matrix)
    assert abs(doubled) / 2 == pytest.approx(dark * MODULE**2)


def test_a_module_too_small_to_print_is_refused():
    with pytest.raises(ValueError, match=r"0\.4 mm wide; allowed are 0\.5 mm and more"):
        code_marks("A", 0.0, 0.0, 0.4)


def test_words_of_the_code():
    assert code_text("SW-01", "A", "K7PA-3MXD") == "SW-01 A K7PA3MXD"
    assert code_text("SW-01", "", "K7PA-3MXD") == "SW-01 K7PA3MXD"
