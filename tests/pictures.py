"""The two pictures of the README, drawn by the program itself: ``python tests/pictures.py`` writes them into ``samples``.

``sheet.png``: the detail sheet of a sample with numbered callouts. ``what-you-measure.svg`` and ``.png``: one plan and one section
of a sample without figures, with a letter at each size that is measured on board; the README's table says which key it is.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from geometry.detail.build import build_detail  # noqa: E402
from geometry.findings.check import check_pane  # noqa: E402
from geometry.job import read_job  # noqa: E402
from outputs.drawing.section_view import CutBack, section_faces  # noqa: E402
from outputs.files.svg import svg_bytes  # noqa: E402
from outputs.sheet import lettering  # noqa: E402
from outputs.sheet.boxes import box_of, joined  # noqa: E402
from outputs.sheet.drafting import DraftingStyle  # noqa: E402
from outputs.sheet.entities import Dimension, Mark, Node, Sheet, Text, View  # noqa: E402
from outputs.sheet.entities import Path as Run  # noqa: E402
from outputs.sheet.layers import LAYERS  # noqa: E402
from outputs.sheet.moving import shifted  # noqa: E402
from outputs.sheet.pencil import Pencil  # noqa: E402
from outputs.sheet.runs import polar, run  # noqa: E402
from outputs.sheets.detail_sheet import detail_sheet  # noqa: E402

SAMPLE = ROOT / "samples" / "sallow-wren.toml"
CALLOUTS = (  # view, or none of what stands on paper; its heading there; what is said of it
    ("PLAN", "PLAN", "plan, seen from outside"),
    ("DETAIL Z", "Z", "the corner that decides"),
    ("SECTION A", "A-A", "section: sizes from wall and from edge"),
    ("SECTION B", "B-B", "section through a spacer, its parts"),
    ("", "Lines", "what each line is"),
    ("", "Flags", "what does not pass, by its number"),
    ("", "Notes", "cautions"),
    ("", "part", "parts, counted"),
    ("", "Title", "title, state of the checks"),
)
WIDTH, HEIGHT = 210.0, 100.0  # paper mm of the lettered drawing


def sheet_with_callouts() -> bytes:
    """The sheet of the first sample pane as SVG, numbers and their meanings drawn over it."""
    job = read_job(SAMPLE)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    sheet = detail_sheet(job, pane, detail, check_pane(job, pane, detail))
    size = sheet.height / 60
    parts = []
    strip = 8.6 * size
    for number, (name, heading, said) in enumerate(CALLOUTS, start=1):
        x, y = _beside(_heading(sheet, name, heading), sheet, name, behind=heading == "part")
        parts += _numbered(x + (0.85 if heading == "part" else -0.75) * size, y - 0.2 * size, number, 0.62 * size)
        column, row = (number - 1) % 3, (number - 1) // 3
        x, y = (0.03 + 0.32 * column) * sheet.width, sheet.height + strip * (0.2 + 0.3 * row)
        parts += _numbered(x, y, number, size)
        parts.append(
            f'<text x="{x + 1.6 * size:.2f}" y="{y + size * 0.4:.2f}" font-size="{size * 1.25:.2f}" '
            f'font-family="{lettering.FAMILY[0]}">{said}</text>'
        )
    text = svg_bytes(sheet).decode("utf-8")
    tall = sheet.height + strip
    text = text.replace(f'height="{sheet.height:g}mm"', f'height="{tall:.2f}mm"', 1)
    text = text.replace(f'viewBox="0 0 {sheet.width:g} {sheet.height:g}"', f'viewBox="0 0 {sheet.width:g} {tall:.2f}"', 1)
    return text.replace("</svg>", f'<g id="callouts">{"".join(parts)}</g></svg>').encode("utf-8")


def _heading(sheet: Sheet, name: str, heading: str) -> Text:
    """The title of a view, the highest text of its letters, or of a table."""
    marks = next((view.marks for view in sheet.views if view.name == name), sheet.marks)
    return max((mark for mark in marks if isinstance(mark, Text) and mark.string == heading), key=lambda mark: mark.y)


def _beside(heading: Text, sheet: Sheet, name: str, *, behind: bool) -> tuple[float, float]:
    """Where a title begins on the paper, or ends, mm from the upper left."""
    x, y = heading.x, heading.y
    for view in sheet.views:
        if view.name == name:
            x = view.paper[0] + (x - view.window[0]) * view.scale
            y = view.paper[1] + (y - view.window[1]) * view.scale
    return x + (lettering.text_width(heading.string, heading.height) if behind else 0.0), sheet.height - y


def _numbered(x: float, y: float, number: int, size: float) -> list[str]:
    circle = f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{size:.2f}" fill="#0b5cad"/>'
    place = f'x="{x:.2f}" y="{y + size * 0.42:.2f}" font-size="{size * 1.25:.2f}" text-anchor="middle" fill="#ffffff"'
    return [circle, f'<text {place} font-family="{lettering.FAMILY[0]}">{number}</text>']


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
    ends = CutBack.of(cut, section)
    near, low, far = ends.left, ends.low, ends.right
    landing = detail.sizes.landing.value
    skin, face = levels.skin, levels.glass_face
    section_found: list[Mark] = [
        *section_faces(cut, section),
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


def png(svg: bytes, dpi: int) -> bytes:
    """The picture as a viewer shows it."""
    import resvg_py

    face = str(lettering.face_file())
    from PIL import Image

    data = bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg.decode("utf-8"), dpi=dpi, font_files=[face], skip_system_fonts=True, background="#ffffff"
        )
    )
    small = io.BytesIO()
    Image.open(io.BytesIO(data)).convert("L" if dpi > 100 else "RGB").quantize(24).save(small, "PNG", optimize=True)
    return small.getvalue()


def main() -> None:
    """Write the pictures."""
    folder = ROOT / "samples"
    (folder / "sheet.png").write_bytes(png(sheet_with_callouts(), 90))
    letters = svg_bytes(lettered())
    (folder / "what-you-measure.svg").write_bytes(letters)
    (folder / "what-you-measure.png").write_bytes(png(letters, 120))


if __name__ == "__main__":
    main()
