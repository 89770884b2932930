"""A print film as PDF: one page of its true size, pure vectors in one ink, 100 % black.

The arcs of the print are Bézier curves of a sixteenth of a circle at most, which miss the circle by less than a hundred-millionth of its
radius. Nothing is compressed and no date is written: the same film gives the same bytes whatever library packs streams on a computer.
"""

from __future__ import annotations

import io
import math
from typing import TYPE_CHECKING, Any

from geometry.outline import Arc, segments
from outputs.files.pdf import POINTS, fonts
from outputs.files.print_film import STROKE
from outputs.sheet.lettering import font_size, printed

if TYPE_CHECKING:
    from geometry.outline import Outline
    from outputs.drawing.pane_print import DotRow
    from outputs.files.print_film import Film

LONGEST = math.pi / 8  # radians of an arc in one Bézier curve
_EVEN_ODD = 0


def film_pdf(film: Film) -> bytes:
    """The film as a PDF file. The same film gives the same bytes."""
    from reportlab.pdfgen.canvas import Canvas

    from outputs.version import PROGRAM

    left, bottom, right, top = film.page
    stream = io.BytesIO()
    size = ((right - left) * POINTS, (top - bottom) * POINTS)
    face, _ = fonts()
    canvas = Canvas(stream, pagesize=size, pageCompression=0, invariant=1, lang="en", initialFontName=face.fontName)
    canvas.setTitle(film.title)
    canvas.setAuthor("")
    canvas.setSubject("full size, 1:1")
    canvas.setCreator(PROGRAM)
    canvas.transform(POINTS, 0, 0, POINTS, -left * POINTS, -bottom * POINTS)
    canvas.setFillGray(0)
    canvas.setStrokeGray(0)
    _solid(canvas, film.solid)
    for index, row in enumerate(film.rows, start=1):
        _dots(canvas, index, row)
    canvas.setLineWidth(STROKE)
    for (x1, y1), (x2, y2) in film.strokes:
        canvas.line(x1, y1, x2, y2)
    for text in film.texts:
        canvas.setFont(face.fontName, font_size(text.height))
        canvas.drawString(text.x, text.y, printed(text.string))
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _solid(canvas: Any, loops: tuple[Outline, ...]) -> None:
    """The solid print as one path, filled even-odd."""
    path = canvas.beginPath()
    for loop in loops:
        start = loop.vertices[0]
        path.moveTo(start.x, start.y)
        for part in segments(loop):
            if isinstance(part, Arc):
                for curve in curves_of(part):
                    path.curveTo(*curve)
            else:
                path.lineTo(part.end.x, part.end.y)
        path.close()
    canvas.drawPath(path, stroke=0, fill=1, fillMode=_EVEN_ODD)


def curves_of(arc: Arc) -> list[tuple[float, float, float, float, float, float]]:
    """An arc as Bézier curves: two points that steer and the end of each."""
    count = max(1, math.ceil(abs(arc.sweep) / LONGEST))
    reach = 4.0 / 3.0 * math.tan(arc.sweep / count / 4.0) * arc.radius * math.copysign(1.0, arc.sweep)
    found = []
    for index in range(count):
        first, last = index / count, (index + 1) / count
        (x0, y0), (x3, y3) = arc.point_at(first), arc.point_at(last)
        (tx0, ty0), (tx3, ty3) = arc.tangent_at(first), arc.tangent_at(last)
        found.append((x0 + reach * tx0, y0 + reach * ty0, x3 - reach * tx3, y3 - reach * ty3, x3, y3))
    return found


def _dots(canvas: Any, index: int, row: DotRow) -> None:
    """The dots of a row: the one dot drawn once and set down at each place."""
    name = f"row{index}"
    canvas.beginForm(name, -row.diameter, -row.diameter, row.diameter, row.diameter)
    canvas.circle(0, 0, row.diameter / 2, stroke=0, fill=1)
    canvas.endForm()
    canvas.setFillGray(0)
    for x, y in row.dots:
        canvas.saveState()
        canvas.translate(x, y)
        canvas.doForm(name)
        canvas.restoreState()


__all__ = ["curves_of", "film_pdf"]
