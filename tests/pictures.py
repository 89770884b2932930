"""The two pictures of the README, drawn by the program itself: ``python tests/pictures.py`` writes them into ``samples``.

``sheet.png``: the four documents of a sample pane with numbered callouts; the record's page is printed by Chromium, which has to be
there. ``what-you-measure.svg`` and ``.png``: one plan and one section of a sample without figures, with a letter at each size that is
measured on board; the README's table says which key it is.
"""

from __future__ import annotations

import io
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from geometry.detail.build import build_detail  # noqa: E402
from geometry.findings.check import check_pane  # noqa: E402
from geometry.job import read_job  # noqa: E402
from outputs.drawing.section_view import outline_box, section_faces  # noqa: E402
from outputs.files.svg import svg_bytes  # noqa: E402
from outputs.record.pane_page import pane_page  # noqa: E402
from outputs.sheet.boxes import box_of, joined  # noqa: E402
from outputs.sheet.drafting import DraftingStyle  # noqa: E402
from outputs.sheet.entities import Dimension, Mark, Node, Sheet, View  # noqa: E402
from outputs.sheet.entities import Path as Run  # noqa: E402
from outputs.sheet.layers import LAYERS  # noqa: E402
from outputs.sheet.moving import shifted  # noqa: E402
from outputs.sheet.pencil import Pencil  # noqa: E402
from outputs.sheet.runs import polar, run  # noqa: E402
from outputs.sheets.card import card_sheets  # noqa: E402
from outputs.sheets.contents import Contents  # noqa: E402
from outputs.sheets.detail_sheet import detail_of  # noqa: E402
from outputs.sheets.pane_sheet import pane_sheet  # noqa: E402

SAMPLE = ROOT / "samples" / "sallow-wren.toml"
DPI = 80
GAP = 8.0  # mm between the documents
DOCUMENTS = (
    "detail sheet: where the bead lies, what holds the pane, what fails and where",
    "record: every sum as formula, figures, result",
    "pane sheet, for the supplier of the glass",
    "fitter's card, side 1: where",
    "fitter's card, side 2: when, and what if late",
)
WIDTH, HEIGHT = 210.0, 100.0  # paper mm of the lettered drawing


def four_documents() -> bytes:
    """The documents of the first sample pane side by side, each with a number, and what each is for below them."""
    from PIL import Image, ImageDraw, ImageFont

    job = read_job(SAMPLE)
    pane = job.panes[0]
    check = check_pane(job, pane, plate=True, plan=True)
    contents = Contents(job, pane, check.subject.detail, check)
    sheets = (detail_of(contents), pane_sheet(contents), *card_sheets(contents))
    detail, supplier, where, when = (Image.open(io.BytesIO(rendered(svg_bytes(sheet), DPI))).convert("L") for sheet in sheets)
    upper, lower = (detail, _first_page(pane_page(job, check, ()))), (supplier, where, when)
    gap = round(GAP / 25.4 * DPI)
    width = max(sum(each.width for each in row) + gap * (len(row) + 1) for row in (upper, lower))
    strip = round(9.0 / 25.4 * DPI)
    height = upper[0].height + lower[0].height + 3 * gap + strip * 2
    picture = Image.new("L", (width, height), 190)
    draw, face = ImageDraw.Draw(picture), ImageFont.truetype(str(_faces()[-1]), round(5.5 / 25.4 * DPI))
    number, y = 0, gap
    for row in (upper, lower):
        x = gap
        for each in row:
            number += 1
            picture.paste(each, (x, y))
            _disc(draw, face, (x, y), number)
            x += each.width + gap
        y += row[0].height + gap
    for count, said in enumerate(DOCUMENTS):
        at = (gap + (width - gap) * (count % 3) // 3 + strip // 2, y + strip * (count // 3) + strip // 3)
        _disc(draw, face, at, count + 1)
        draw.text((at[0] + strip // 2 + 6, at[1]), said, fill=0, font=face, anchor="lm")
    small = io.BytesIO()
    picture.quantize(16).save(small, "PNG", optimize=True)
    return small.getvalue()


def _disc(draw: object, face: object, at: tuple[int, int], number: int) -> None:
    radius = round(4.0 / 25.4 * DPI)
    draw.ellipse((at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius), fill=0)  # type: ignore[attr-defined]
    draw.text(at, str(number), fill=255, font=face, anchor="mm")  # type: ignore[attr-defined]


def _first_page(page: bytes) -> object:
    """The first page of a record as Chromium prints it."""
    from PIL import Image

    browser = shutil.which("chromium") or shutil.which("google-chrome")
    if browser is None or shutil.which("pdftoppm") is None:
        raise SystemExit("the record's picture needs Chromium and pdftoppm: apt-get install chromium poppler-utils")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "page.html").write_bytes(page)
        quiet = {"check": True, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "timeout": 120}
        options = ("--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--print-to-pdf={folder / 'page.pdf'}")
        subprocess.run([browser, *options, (folder / "page.html").as_uri()], **quiet)
        subprocess.run(["pdftoppm", "-r", str(DPI), "-l", "1", "-gray", "-png", str(folder / "page.pdf"), str(folder / "page")], **quiet)
        return Image.open(io.BytesIO(next(folder.glob("*.png")).read_bytes())).convert("L")


def lettered() -> Sheet:
    """What is measured on board: a plan of the recess and the section of its edge, letters for figures."""
    job = read_job(SAMPLE)
    detail = build_detail(job, job.panes[0])
    style = DraftingStyle(text=5.0)
    plan, section = Pencil(style, 0.05), Pencil(style, 1.0)
    left, bottom, right, top = joined(box_of(Run("RECESS", _nodes(detail.curves.recess), True), 0.05) for _ in (0,))
    plan_marks: list[Mark] = [
        Run("RECESS", _nodes(detail.curves.recess), True),
        Run("GLASS", _nodes(detail.curves.glass), True),
        *_open(plan.linear((left, bottom), (right, bottom), line_at=bottom - plan.paper(9), text="A")),
        *_open(plan.linear((left, bottom), (left, top), line_at=left - plan.paper(9), angle=90, text="B")),
        *_pointed(plan, polar((right - 66, top - 66), 45.0, 66.0), 45.0, "C"),
        plan.text("TEXT", ((left + right) / 2, (bottom + top) / 2), "seen from outside", height=3.5, align="middle"),
    ]
    cut = detail.sections[0]
    edge, levels = cut.crossing, cut.levels
    faces = section_faces(cut, section)
    near, low, far, _ = outline_box(faces)
    landing = detail.sizes.landing.value
    skin, face = levels.skin, levels.glass_face
    section_found: list[Mark] = [
        *faces,
        *_open(section.linear((near, 0.0), (near, skin), line_at=near - section.paper(9), angle=90, text="D")),
        *_open(section.linear((0.0, low), (landing, low), line_at=low - section.paper(9), text="E")),
        *_open(section.linear((0.0, skin), (edge.glass_edge, face), line_at=face + section.paper(9), text="F")),
        *_open(section.linear((far, levels.bond_face), (far, face), line_at=far + section.paper(9), angle=90, text="G")),
        *_open(section.linear((edge.glass_edge, face), (edge.frit_inner, face), line_at=face + section.paper(19), text="H")),
    ]
    views = (
        _view("PLAN", 0.05, plan_marks, (10.0, 26.0), shift=0.0),
        _view("SECTION", 1.0, section_found, (110.0, 18.0), shift=5000.0),
    )
    pencil = Pencil(style, 1.0)
    words = (
        pencil.text("TEXT", (16.0, 90.0), "THE RECESS", height=5.0),
        pencil.text("TEXT", (116.0, 90.0), "ITS EDGE, CUT", height=5.0),
        pencil.text(
            "TEXT", (16.0, 8.0), "Not to scale. What each letter is in the job file: README, What you measure.", height=3.5
        ),
    )
    return Sheet("A5", WIDTH, HEIGHT, "What you measure", "Letters at the sizes measured on board.", LAYERS, (), views, words)


def _nodes(outline: object) -> tuple[Node, ...]:
    return tuple((vertex.x, vertex.y, vertex.bulge) for vertex in outline.vertices)  # type: ignore[attr-defined]


def _open(dimension: Dimension) -> tuple[Mark, ...]:
    """A dimension as its lines, arrows and letter: it measures nothing here."""
    return dimension.parts


def _pointed(pencil: Pencil, tip: tuple[float, float], angle: float, letter: str) -> tuple[Mark, ...]:
    elbow = polar(tip, angle, pencil.paper(7))
    at = (elbow[0] + pencil.paper(2.5), elbow[1] + pencil.paper(1.0))
    return run("DIMENSIONS", (tip, elbow)), pencil.arrow("DIMENSIONS", tip, angle + 180.0), pencil.text("TEXT", at, letter)


def _view(name: str, scale: float, marks: list[Mark], paper: tuple[float, float], *, shift: float) -> View:
    placed = [shifted(mark, shift, 0.0) for mark in marks]
    box = joined(box_of(mark, scale) for mark in placed)
    return View(
        name, scale, (box[0] - 1 / scale, box[1] - 1 / scale, box[2] + 1 / scale, box[3] + 1 / scale), paper, tuple(placed)
    )


def _faces() -> list[Path]:
    """The lettering's faces, the regular one last."""
    return sorted((ROOT / "outputs" / "sheet" / "face").glob("*.ttf"))


def rendered(svg: bytes, dpi: int) -> bytes:
    """The picture as a viewer shows it."""
    import resvg_py

    faces = [str(face) for face in _faces()]
    drawn = resvg_py.svg_to_bytes(
        svg_string=svg.decode("utf-8"), dpi=dpi, font_files=faces, skip_system_fonts=True, background="#ffffff"
    )
    return bytes(drawn)


def png(svg: bytes, dpi: int) -> bytes:
    """The same with few shades, small enough for a page."""
    from PIL import Image

    small = io.BytesIO()
    Image.open(io.BytesIO(rendered(svg, dpi))).convert("L").quantize(24).save(small, "PNG", optimize=True)
    return small.getvalue()


def main() -> None:
    """Write the pictures."""
    folder = ROOT / "samples"
    (folder / "sheet.png").write_bytes(four_documents())
    letters = svg_bytes(lettered())
    (folder / "what-you-measure.svg").write_bytes(letters)
    (folder / "what-you-measure.png").write_bytes(png(letters, 120))


if __name__ == "__main__":
    main()
