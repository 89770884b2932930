"""A print film as PDF, its true size, pure vectors in one ink, 100 % black; a long film as several pages (:mod:`print_film_pages`).

The arcs of the print are the curves of every PDF of a set (:func:`outputs.files.pdf.curves_of`). Nothing is compressed and no date is
written: the same film gives the same bytes whatever library packs streams on a computer.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from outputs.files.pdf import POINTS, curves_of, fonts
from outputs.files.print_film import STROKE
from outputs.files.print_film_pages import film_pages
from outputs.sheet.lettering import font_size, printed

if TYPE_CHECKING:
    from geometry.outline import Outline
    from outputs.drawing.pane_print import DotRow
    from outputs.files.print_film import Film

_EVEN_ODD = 0


def film_pdf(film: Film) -> bytes:
    """The film as a PDF file. The same film gives the same bytes."""
    from reportlab.pdfgen.canvas import Canvas

    from outputs.version import PROGRAM

    stream = io.BytesIO()
    face, _ = fonts()
    canvas = Canvas(stream, pageCompression=0, invariant=1, lang="en", initialFontName=face.fontName)
    canvas.setTitle(film.title)
    canvas.setAuthor("")
    canvas.setSubject("full size, 1:1")
    canvas.setCreator(PROGRAM)
    canvas.setViewerPreference("PrintScaling", "None")  # a printer must not fit it to its own paper
    for index, row in enumerate(film.rows, start=1):
        _dot(canvas, index, row)
    for page in film_pages(film):
        _page(canvas, page, face.fontName)
    canvas.save()
    return stream.getvalue()


def _page(canvas: Any, film: Film, face: str) -> None:
    left, bottom, right, top = film.page
    canvas.setPageSize(((right - left) * POINTS, (top - bottom) * POINTS))
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
        canvas.setFont(face, font_size(text.height))
        canvas.drawString(text.x, text.y, printed(text.string))
    canvas.showPage()


def _solid(canvas: Any, loops: tuple[Outline, ...]) -> None:
    """The solid print as one path, filled even-odd."""
    path = canvas.beginPath()
    for loop in loops:
        first, *others = loop.vertices
        path.moveTo(first.x, first.y)
        for start, end in zip(loop.vertices, (*others, first), strict=True):
            if start.bulge:
                for curve in curves_of(start, end):
                    path.curveTo(*curve)
            else:
                path.lineTo(end.x, end.y)
        path.close()
    canvas.drawPath(path, stroke=0, fill=1, fillMode=_EVEN_ODD)


def _dot(canvas: Any, index: int, row: DotRow) -> None:
    """The dot of a row, once for the whole file."""
    canvas.beginForm(f"row{index}", -row.diameter, -row.diameter, row.diameter, row.diameter)
    canvas.circle(0, 0, row.diameter / 2, stroke=0, fill=1)
    canvas.endForm()


def _dots(canvas: Any, index: int, row: DotRow) -> None:
    """The dots of a row: its dot set down at each place."""
    for x, y in row.dots:
        canvas.saveState()
        canvas.translate(x, y)
        canvas.doForm(f"row{index}")
        canvas.restoreState()


__all__ = ["film_pdf"]
