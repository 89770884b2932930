"""Sheets as one PDF: true size, the face embedded, layers by name, a bookmark for each page.

Terms
-----
page
    One sheet at its exact size. Its content is written in paper millimetres, y upwards, brought to points (1/72 inch) once at its head.
optional content
    What PDF calls a layer: a reader may show or hide it. It has the name that the layer has in the DXF. A layer that does not print
    is named and switched off, and nothing is written on it: what is hidden could still be read out.
piece
    Part of an arc that is written as one cubic curve; as many as keep the curve within :data:`ARC_TRUE` of the arc.

What is drawn is the flattened sheet (:mod:`outputs.sheet.flattening`), the same that the SVG draws. Nothing is compressed: compressed
bytes depend on the library of the computer. Lettering stands as text that can be searched, each letter as wide as in the layout.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache
from math import ceil, cos, pi, radians, sin, tan
from typing import TYPE_CHECKING, Any

from outputs.files.carried import attach_to_pdf
from outputs.files.proof import prove
from outputs.files.svg import figure, figures
from outputs.sheet.flattening import flattened
from outputs.sheet.lettering import face_file, font_size
from outputs.sheet.runs import arc_between, segments, shorter_arcs
from outputs.version import PROGRAM

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterable, Sequence

    from outputs.files.form_fields import FormField
    from outputs.sheet.entities import Node, Sheet
    from outputs.sheet.flattening import Area, Flat, Inked, Lettering, Pen, Run, Stroke

POINTS = 72.0 / 25.4
"""Points in a millimetre."""
ARC_TRUE = 1e-4
"""How far a curve may leave its arc, paper mm."""

_QUARTER_OFF = 2.73e-4  # how far one cubic leaves a quarter circle of radius 1; it falls with the sixth power of the angle
_SHARE = {"left": 0.0, "middle": 0.5, "right": 1.0}


def pdf_bytes(
    sheets: Sequence[Sheet],
    *,
    title: str = "",
    date: datetime.date | None = None,
    carried: bytes = b"",
    forms: Sequence[tuple[FormField, ...]] = (),
    told: tuple[tuple[str, str], ...] = (),
) -> bytes:
    """Give the sheets as one PDF file, a page for each. The same sheets give the same bytes.

    ``title`` is what the file says it is (the first sheet's title where none is given), ``date`` the day it says it was made: that of
    the job, never that of the clock; ``carried`` the parcel of the job, which is attached (:mod:`outputs.files.carried`). ``forms`` are
    the fields to fill in on each page, ``told`` what hidden fields of the first say of the paper. Raises
    :class:`outputs.sheet.refusal.SheetError` where a sheet holds what no file may hold and ``ValueError`` where there is none.
    """
    if not sheets:
        raise ValueError("a PDF has one page or more")
    for sheet in sheets:
        prove(sheet)
    flats = [flattened(sheet) for sheet in sheets]
    canvas = _canvas(flats[0], title or flats[0].title, date)
    layers = _layers(canvas, flats)
    for number, flat in enumerate(flats):
        _page(canvas, flat, number, layers, forms[number] if forms else (), told if not number else ())
    attach_to_pdf(canvas, carried)
    return bytes(canvas.getpdfdata())


@dataclass(frozen=True, slots=True)
class _Layer:
    """A layer of the file: its reference and the name by which the pages call it."""

    name: str
    reference: Any


@cache
def fonts() -> tuple[Any, Any]:
    """The plain and the bold weight as the library wants them; registered once, it keeps them for the whole process."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    made = tuple(TTFont(f"lettering{weight}", face_file(bold=bold)) for weight, bold in (("", False), ("-bold", True)))
    for font in made:
        pdfmetrics.registerFont(font)
    return made[0], made[1]


def _canvas(first: Flat, title: str, date: datetime.date | None) -> Any:
    """An empty file that tells its title, its program and the day of the job."""
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFInfo, PDFString
    from reportlab.pdfgen.canvas import Canvas

    told = {"Title": title, "Subject": first.description, "Creator": PROGRAM, "Producer": PROGRAM}
    if date is not None:
        told["CreationDate"] = told["ModDate"] = f"D:{date:%Y%m%d}000000Z"

    class Told(PDFInfo):  # type: ignore[misc]
        def format(self, document: Any) -> Any:
            return PDFDictionary({name: PDFString(value) for name, value in told.items()}).format(document)

    plain, _ = fonts()
    canvas = Canvas(
        io.BytesIO(),
        invariant=1,
        pageCompression=0,
        pdfVersion=(1, 7),
        lang="en",
        initialFontName=plain.fontName,
        initialFontSize=1,
    )
    canvas._doc.info = Told()
    canvas.setViewerPreference("PrintScaling", "None")  # a printer must not fit it to its own paper
    canvas.setViewerPreference("DisplayDocTitle", "true")
    return canvas


def _layers(canvas: Any, flats: Sequence[Flat]) -> dict[str, _Layer]:
    """Define the layers of all pages in the order in which they come; those that do not print are switched off."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFString

    document = canvas._doc
    pens: dict[str, Pen] = {}
    for flat in flats:
        for pen in flat.pens:
            pens.setdefault(pen.name, pen)
    layers: dict[str, _Layer] = {}
    for number, name in enumerate(pens):
        group = PDFDictionary({"Type": PDFName("OCG"), "Name": PDFString(name)})
        layers[name] = _Layer(f"L{number}", document.Reference(group, f"layer{number}"))
    every = [layer.reference for layer in layers.values()]
    hidden = [layers[name].reference for name, pen in pens.items() if not pen.plots]
    shown = PDFDictionary(
        {"Name": PDFString("Layers"), "BaseState": PDFName("ON"), "OFF": PDFArray(hidden), "Order": PDFArray(every)}
    )
    catalogue = document.Catalog
    catalogue.__NoDefault__ = [*catalogue.__NoDefault__, "OCProperties"]
    catalogue.OCProperties = PDFDictionary({"OCGs": PDFArray(every), "D": shown})
    return layers


def _page(
    canvas: Any,
    flat: Flat,
    number: int,
    layers: dict[str, _Layer],
    fields: tuple[FormField, ...],
    told: tuple[tuple[str, str], ...],
) -> None:
    """Write one page with its bookmark."""
    from reportlab.pdfbase.pdfdoc import PDFResourceDictionary

    canvas.setPageSize((flat.width * POINTS, flat.height * POINTS))
    key = f"page{number}"
    canvas.bookmarkPage(key)
    canvas.addOutlineEntry(flat.title, key, 0)
    writer = _Writer(canvas)
    canvas._code += [f"q {POINTS:.9f} 0 0 {POINTS:.9f} 0 0 cm 0 J 1 j"]
    for inked in flat.inked:
        if inked.layer.plots:
            canvas._code += [f"/OC /{layers[inked.layer.name].name} BDC", *writer.lines(inked), "EMC"]
    canvas._code.append("Q")
    if fields or told:
        from outputs.files.form_fields import add_fields, add_told

        add_told(canvas, told)
        add_fields(canvas, fields)
    canvas.showPage()
    page = canvas._doc.Pages.pages[-1]
    page.Resources = PDFResourceDictionary(Properties={layer.name: layer.reference for layer in layers.values()})
    page.Resources.basicFonts()


class _Writer:
    """Makes the lines of a page's content, paper mm."""

    def __init__(self, canvas: Any) -> None:
        self._canvas = canvas

    def lines(self, inked: Inked) -> Iterable[str]:
        """What lies on one layer: areas first, then hatches, strokes and lettering."""
        pen = inked.layer
        lines = [f"q {_colour(pen.ink)}"]
        if inked.clip is not None:
            left, bottom, right, top = inked.clip
            lines.append(f"{' '.join(figures((left, bottom, right - left, top - bottom)))} re W n")
        lines.append(f"{figure(pen.width)} w [{' '.join(map(figure, pen.dashes))}] 0 d")
        for area in inked.areas:
            lines.append(f"{_path(area, closed=True)}\nf*")
        if inked.hatchings:
            lines.append("[] 0 d")
            lines += [f"{_path(each, closed=each.closed)}\nS" for each in inked.hatchings]
            lines.append(f"[{' '.join(map(figure, pen.dashes))}] 0 d")
        lines += [f"{_path(each, closed=each.closed)}\nS" for each in inked.strokes]
        if inked.letterings:
            lines.append("BT")
            lines += [self._text(each) for each in inked.letterings]
            lines.append("ET")
        lines.append("Q")
        return lines

    def _text(self, each: Lettering) -> str:
        """One line of text; its face is named with each, so that the order of texts is free."""
        document = self._canvas._doc
        font = fonts()[each.bold]
        along, up = cos(radians(each.rotation)), sin(radians(each.rotation))
        back = each.length * _SHARE[each.align]
        place = " ".join(figures((each.x - back * along, each.y - back * up)))
        turn = "1 0 0 1" if not each.rotation else f"{along:.9f} {up:.9f} {-up:.9f} {along:.9f}"
        pieces = [
            f"{font.getSubsetInternalName(subset, document)} {figure(font_size(each.height))} Tf ({self._canvas._escape(chunk)}) Tj"
            for subset, chunk in font.splitString(each.string, document)
        ]
        return f"{turn} {place} Tm {' '.join(pieces)}"


def _colour(ink: str) -> str:
    """Stroke and fill with an ink, ``#rrggbb``; a grey in shades of black alone, so that a press takes one colour."""
    red, green, blue = (int(ink[place : place + 2], 16) / 255.0 for place in (1, 3, 5))
    if red == green == blue:
        return f"{figure(red)} G {figure(red)} g"
    inks = f"{figure(red)} {figure(green)} {figure(blue)}"
    return f"{inks} RG {inks} rg"


def _path(mark: Stroke | Area, *, closed: bool) -> str:
    return "\n".join([_run(run, closed=closed) for run in mark.runs])


def _run(nodes: Run, *, closed: bool) -> str:
    """The path of a run of lines and arcs."""
    values: list[float] = [*nodes[0][:2]]
    form = ["%s %s m"]
    last = len(nodes) - 1 if closed else -1
    for number, (start, end) in enumerate(segments(nodes, closed=closed)):
        if start[2]:
            curves = curves_of(start, end)
            for curve in curves:
                values += curve
            form += ["%s %s %s %s %s %s c"] * len(curves)
        elif number != last:
            values += end[:2]
            form.append("%s %s l")
    if closed:
        form.append("h")
    return " ".join(form) % tuple(figures(values))


def curves_of(start: Node, end: Node) -> list[tuple[float, float, float, float, float, float]]:
    """An arc as cubic curves, each by two points that lead it and its end, true to :data:`ARC_TRUE`."""
    arc = arc_between(start, end)
    sweep = abs(arc.sweep)
    quarters = (_QUARTER_OFF * arc.radius / ARC_TRUE) ** (1.0 / 6.0)
    pieces = max(ceil(sweep / (pi / 2.0) - 1e-9), ceil(sweep / (pi / 2.0) * quarters))
    ends, _ = shorter_arcs(start, end, longest=sweep / pieces * (1.0 + 1e-9))
    turn = arc.sweep / len(ends)
    along, aside = cos(turn / 2.0), sin(turn / 2.0)
    reach = 2.0 / 3.0 * tan(turn / 4.0) / sin(turn / 2.0)  # of the leading points, by the chord
    curves = []
    x, y = start[0], start[1]
    for end_x, end_y in ends:
        run, rise = (end_x - x) * reach, (end_y - y) * reach
        first = (x + run * along + rise * aside, y - run * aside + rise * along)
        second = (end_x - run * along + rise * aside, end_y - run * aside - rise * along)
        curves.append((*first, *second, end_x, end_y))
        x, y = end_x, end_y
    return curves


__all__ = ["ARC_TRUE", "POINTS", "curves_of", "fonts", "pdf_bytes"]
