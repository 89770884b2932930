"""One sheet as SVG: true millimetres, plain attributes, one group for each layer.

Terms
-----
paper millimetre
    One user unit. The picture is as many of them wide and high as the sheet, so it prints true at 100 %.
plain attribute
    Width, dashes, ink and lettering stand on the elements themselves: no style sheet, marker, pattern, clip path or
    reference that a reader may ignore. The one rule of style says how large the page is, for a browser that prints the file.
inline
    A picture that stands in a page of text: without the paper, the head and the rule of style of a file of its own.

What is drawn is the flattened sheet (:mod:`outputs.sheet.flattening`): all strokes of a layer are one path, the strokes of a
hatched face one path, all arrowheads of a layer one path. Texts carry their length, so they fill the same box in whatever face
a seat has. Arcs are arcs, cut into quarters at most: the rounding of a coordinate then moves no point of the arc by more than
itself.
"""

from __future__ import annotations

from functools import cache
from math import floor, pi
from typing import TYPE_CHECKING, Any

from outputs.files.proof import prove
from outputs.sheet.flattening import flattened
from outputs.sheet.lettering import FAMILY, WEIGHT, font_size
from outputs.sheet.runs import segments, shorter_arcs
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from outputs.sheet.entities import Sheet
    from outputs.sheet.flattening import Flat, Inked, Lettering, Pen, Run

_QUARTER = pi / 2.0 + 1e-9
_ANCHOR = {"middle": "middle", "right": "end"}
_OWN_LINE = ("<title", "<metadata", "<style", "<rect", "<g ", "<g>", "<path", "<text", "</g>", "<svg", "</svg>")


def svg_bytes(sheet: Sheet) -> bytes:
    """Give the sheet as an SVG file, UTF-8. The same sheet gives the same bytes.

    Raises :class:`outputs.files.proof.SheetError` where the sheet holds what no file may hold.
    """
    from svgwrite.base import Title
    from svgwrite.container import Style
    from svgwrite.shapes import Rect

    prove(sheet)
    flat = flattened(sheet)
    width, height = figure(flat.width), figure(flat.height)
    drawing = _head(flat, "")
    drawing.attribs |= {"lang": "en", "xml:lang": "en"}
    program = Title(PROGRAM)
    program.xml.tag = "metadata"
    drawing.add(program)
    drawing.add(Style(f"@page{{size:{width}mm {height}mm;margin:0}}"))
    drawing.add(Rect(("0", "0"), (width, height), fill="#ffffff", stroke="none", id="paper", debug=False))
    _draw(drawing, flat, flat.pens, "")
    return ('<?xml version="1.0" encoding="UTF-8"?>' + _lines(drawing) + "\n").encode("utf-8")


def svg_inline(flat: Flat, name: str) -> str:
    """Give a flattened sheet as a picture for a page; ``name`` makes its ids unique there. Layers without ink are left out."""
    drawing = _head(flat, f"{name}-")
    drawn = dict.fromkeys(each.layer for each in flat.inked)
    _draw(drawing, flat, drawn, f"{name}-")
    return _lines(drawing) + "\n"


def figure(value: float) -> str:
    """Write a length with four decimals at most and no idle zeros.

    A tie, and what the last bits of a sum make of one, is rounded up: the same figure wherever the sum was worked out.

    >>> figure(0.1 + 0.2), figure(-0.00001), figure(420.0), figure(0.00005 - 1e-15), figure(0.00005 + 1e-15)
    ('0.3', '0', '420', '0.0001', '0.0001')
    """
    return f"{floor(value * 1e4 + 0.50001) / 1e4:.10g}"


def _head(flat: Flat, prefix: str) -> Any:
    """The drawing with its size and what it says to those who do not see it."""
    from svgwrite import Drawing
    from svgwrite.base import Desc, Title

    width, height = figure(flat.width), figure(flat.height)
    drawing = Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    drawing.attribs |= {"role": "img", "aria-labelledby": f"{prefix}title {prefix}description"}
    drawing.elements.clear()  # an idle element for definitions: the title comes first
    for element, name, string in ((Title, "title", flat.title), (Desc, "description", flat.description)):
        words = element(string)
        words.xml.set("id", f"{prefix}{name}")
        drawing.add(words)
    return drawing


def _draw(drawing: Any, flat: Flat, pens: Iterable[Pen], prefix: str) -> None:
    """Add a group for each pen, with all that is drawn with it."""
    groups = {pen.name: _group(pen, prefix) for pen in pens}
    for group in groups.values():
        drawing.add(group)
    writer = _Writer(flat.height)
    for inked in flat.inked:
        group = groups[inked.layer.name]
        if inked.clip is not None:
            group = group.add(_window(inked.clip, flat.height))
        for element in writer.elements(inked):
            group.add(element)


def _lines(drawing: Any) -> str:
    """Write the drawing, each element that stands on its own on a line of its own: files that can be compared."""
    from xml.etree.ElementTree import tostring

    root = drawing.get_xml()
    for idle in ("xmlns:ev", "xmlns:xlink"):  # the library declares them, nothing uses them
        root.attrib.pop(idle, None)
    string = tostring(root, encoding="unicode")
    for tag in _OWN_LINE:
        string = string.replace(tag, "\n" + tag)
    return string


def _group(pen: Pen, prefix: str) -> Any:
    from svgwrite.container import Group

    group = Group(debug=False)
    group.attribs = {
        "id": prefix + "".join("_" if sign.isspace() else sign for sign in pen.name),
        "fill": "none",
        "stroke": pen.ink,
        "stroke-width": figure(pen.width),
        "stroke-linecap": "butt",
        "stroke-linejoin": "round",
        "font-family": ", ".join(FAMILY),
        "font-weight": str(WEIGHT),
    }
    if pen.dashes:
        group.attribs["stroke-dasharray"] = " ".join(figure(dash) for dash in pen.dashes)
    if not pen.plots:
        group.attribs["display"] = "none"
    return group


def _window(clip: tuple[float, float, float, float], height: float) -> Any:
    """A picture in the picture, which every reader cuts off at its edges."""
    from svgwrite.container import SVG

    left, bottom, right, top = clip
    box = [figure(value) for value in (left, height - top, right - left, top - bottom)]
    window = SVG(debug=False)
    window.attribs = {**dict(zip(("x", "y", "width", "height"), box, strict=True)), "viewBox": " ".join(box)}
    window.elements.clear()
    return window


class _Writer:
    """Makes the elements of what lies on one layer, y downwards."""

    def __init__(self, height: float) -> None:
        from svgwrite.container import Group
        from svgwrite.path import Path

        self._group_type, self._path_type, self._text_type = Group, Path, _text_type()
        self._height = height

    def elements(self, inked: Inked) -> Iterator[Any]:
        """Areas first, then hatches, strokes and lettering."""
        heads: list[tuple[Run, ...]] = []
        others: list[tuple[Run, ...]] = []
        for area in inked.areas:
            (heads if len(area.runs) == 1 and _is_triangle(area.runs[0]) else others).append(area.runs)
        filled = {"fill": inked.layer.ink, "stroke": "none"}
        if heads:
            # all turn one way, so where two overlap both stay filled
            yield self._path((_turning_left(run) for (run,) in heads), filled, closed=True)
        for runs in others:
            yield self._path(runs, {**filled, "fill-rule": "evenodd"}, closed=True)
        for hatching in inked.hatchings:
            yield self._path(hatching.runs, {"class": "hatch"})
        if inked.strokes:
            data = "".join(self._run(run, closed=stroke.closed) for stroke in inked.strokes for run in stroke.runs)
            yield self._path_type((data,), debug=False)
        if inked.letterings:
            group = self._group_type(debug=False)
            group.attribs = {**filled, "xml:space": "preserve"}
            for lettering in inked.letterings:
                group.add(self._text(lettering))
            yield group

    def _path(self, runs: Iterable[Run], attributes: dict[str, str], *, closed: bool = False) -> Any:
        element = self._path_type(("".join(self._run(run, closed=closed) for run in runs),), debug=False)
        element.attribs |= attributes
        return element

    def _at(self, x: float, y: float) -> str:
        # figure() written out: most of the time of a file is spent here
        return f"{floor(x * 1e4 + 0.50001) / 1e4:.10g} {floor((self._height - y) * 1e4 + 0.50001) / 1e4:.10g}"

    def _run(self, nodes: Run, *, closed: bool) -> str:
        """Give the path data of a run of lines and arcs."""
        if not any(bulge for _, _, bulge in nodes):  # nearly all of a sheet
            return f"M{'L'.join([self._at(x, y) for x, y, _ in nodes])}{'Z' if closed else ''}"
        data = [f"M{self._at(nodes[0][0], nodes[0][1])}"]
        last = len(nodes) - 1 if closed else -1
        for number, (start, end) in enumerate(segments(nodes, closed=closed)):
            if start[2]:
                ends, radius = shorter_arcs(start, end, longest=_QUARTER)
                size = figure(radius)
                # counter-clockwise on the sheet runs against the turn of axes whose y points down
                data += [f"A{size} {size} 0 0 {0 if start[2] > 0.0 else 1} {self._at(x, y)}" for x, y in ends]
            elif number != last:
                data.append(f"L{self._at(end[0], end[1])}")
        if closed:
            data.append("Z")
        return "".join(data)

    def _text(self, lettering: Lettering) -> Any:
        x, y = self._at(lettering.x, lettering.y).split()
        attributes = {
            "x": x,
            "y": y,
            "font-size": figure(font_size(lettering.height)),
            "textLength": figure(lettering.length),
            "lengthAdjust": "spacingAndGlyphs",
        }
        if lettering.align != "left":
            attributes["text-anchor"] = _ANCHOR[lettering.align]
        if lettering.rotation:
            attributes["transform"] = f"rotate({figure(-lettering.rotation)} {x} {y})"
        return self._text_type(lettering.string, attributes)


@cache
def _text_type() -> Any:
    """The library's element of one text without its checks: a sheet has many hundreds."""
    from xml.etree.ElementTree import Element

    from svgwrite.base import BaseElement

    class OneLine(BaseElement):  # type: ignore[misc]  # the library has no types
        elementname = "text"

        def __init__(self, string: str, attributes: dict[str, str]) -> None:
            self.string, self.attribs = string, attributes

        def get_xml(self) -> Element:
            element = Element(self.elementname, self.attribs)
            element.text = self.string
            return element

    return OneLine


def _is_triangle(run: Run) -> bool:
    return len(run) == 3 and not any(bulge for _, _, bulge in run)


def _turning_left(run: Run) -> Run:
    (x1, y1, _), (x2, y2, _), (x3, y3, _) = run
    return run if (x2 - x1) * (y3 - y1) >= (y2 - y1) * (x3 - x1) else run[::-1]
