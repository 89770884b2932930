"""One sheet as SVG: true millimetres, plain attributes, one group for each layer.

Terms
-----
paper millimetre
    One user unit. The picture is as many of them wide and high as the sheet, so it prints true at 100 %.
plain attribute
    Width, dashes, ink and lettering stand on the elements themselves: no style sheet, marker, pattern, clip path or
    reference that a reader may ignore. The one style sheet says how large the page is, for a browser that prints the file, and
    brings the face of the lettering; a reader that passes over it stretches a face of its own to the length of each text.
inline
    A picture that stands in a page of text: without the paper, the head and the rule of style of a file of its own.

What is drawn is the flattened sheet (:mod:`outputs.sheet.flattening`): all strokes of a layer are one path, the strokes of a
hatched face one path, all arrowheads of a layer one path. Texts carry their length, so they fill the same box in whatever face
a seat has. Arcs are arcs, cut into quarters at most: the rounding of a coordinate then moves no point of the arc by more than
itself. The library builds what there are dozens of; the texts, of which there are many hundreds, are written into it as lines.
"""

from __future__ import annotations

from html import escape
from itertools import chain
from math import floor, pi
from typing import TYPE_CHECKING, Any

import numpy as np

from outputs.files.carried import ELEMENT, svg_text
from outputs.files.face_parts import face_rule
from outputs.files.proof import prove
from outputs.sheet.flattening import flattened
from outputs.sheet.lettering import FAMILY, font_size
from outputs.sheet.runs import segments, shorter_arcs
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from numpy.typing import NDArray

    from outputs.sheet.entities import Sheet
    from outputs.sheet.flattening import Flat, Inked, Lettering, Pen, Run

_QUARTER = pi / 2.0 + 1e-9
_ANCHOR = {"middle": "middle", "right": "end"}
_OWN_LINE = ("<title", "<metadata", "<style", "<rect", "<g ", "<g>", "<path", "</g>", "<svg", "</svg>")
_SPACED = ' xml:space="preserve"'
_UNLETTERED = f"{_SPACED} />"  # how a group of texts is serialised; words have no bare > and cannot be taken for one


def svg_bytes(sheet: Sheet, *, carried: bytes = b"") -> bytes:
    """Give the sheet as an SVG file, UTF-8. The same sheet gives the same bytes.

    ``carried`` is the parcel of the job that it was drawn from (:mod:`outputs.files.carried`).
    Raises :class:`outputs.sheet.refusal.SheetError` where the sheet holds what no file may hold.
    """
    from svgwrite.base import Title
    from svgwrite.container import Style
    from svgwrite.shapes import Rect

    prove(sheet)
    flat = flattened(sheet)
    width, height = figure(flat.width), figure(flat.height)
    drawing = _head(flat, "")
    drawing.attribs |= {"lang": "en", "xml:lang": "en"}
    for words, name in ((PROGRAM, ""), (svg_text(carried), ELEMENT)):
        if words:
            told = Title(words)  # the library has no element of metadata
            told.xml.tag = "metadata"
            if name:
                told.xml.set("id", name)
            drawing.add(told)
    drawing.add(Style(f"@page{{size:{width}mm {height}mm;margin:0}}{_face_of(flat)}"))
    drawing.add(Rect(("0", "0"), (width, height), fill="#ffffff", stroke="none", id="paper", debug=False))
    texts = _draw(drawing, flat, flat.pens, "")
    return ('<?xml version="1.0" encoding="UTF-8"?>' + _lines(drawing, texts) + "\n").encode("utf-8")


def svg_inline(flat: Flat, name: str) -> str:
    """Give a flattened sheet as a picture for a page; ``name`` makes its ids unique there. Layers without ink are left out."""
    drawing = _head(flat, f"{name}-")
    drawn = dict.fromkeys(each.layer for each in flat.inked)
    return _lines(drawing, _draw(drawing, flat, drawn, f"{name}-")) + "\n"


def figure(value: float) -> str:
    """Write a length with four decimals at most and no idle zeros.

    A tie, and what the last bits of a sum make of one, is rounded up: the same figure wherever the sum was worked out.

    >>> figure(0.1 + 0.2), figure(-0.00001), figure(420.0), figure(0.00005 - 1e-15), figure(0.00005 + 1e-15)
    ('0.3', '0', '420', '0.0001', '0.0001')
    """
    return f"{floor(value * 1e4 + 0.50001) / 1e4:.10g}"


def figures(values: Sequence[float]) -> list[str]:
    """Write many lengths, each as :func:`figure` does. Raises ``ValueError`` where one is not a number.

    >>> figures((0.1 + 0.2, -0.00001, 420.0))
    ['0.3', '0', '420']
    """
    return [f"{value:.10g}" for value in _rounded(values)]


def _rounded(values: Sequence[float] | NDArray[np.float64]) -> list[float]:
    """Round many lengths for the form in which :func:`figure` writes them."""
    rounded = np.floor(np.array(values, dtype=np.float64) * 1e4 + 0.50001) / 1e4
    if not np.isfinite(rounded).all():
        raise ValueError("a length of the picture is not a number")
    found: list[float] = rounded.tolist()
    return found


def _face_of(flat: Flat) -> str:
    """The rule that brings the face, with the characters that are lettered."""
    texts = [each for inked in flat.inked for each in inked.letterings]
    plain, bold = ("".join([each.string for each in texts if each.bold is heavy]) for heavy in (False, True))
    return face_rule(plain, bold)


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


def _draw(drawing: Any, flat: Flat, pens: Iterable[Pen], prefix: str) -> list[str]:
    """Add a group for each pen, with all that is drawn with it; give the texts of each group of texts, in their order."""
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
    return [writer.texts(inked.letterings) for inked in flat.inked if inked.letterings]


def _lines(drawing: Any, texts: Sequence[str]) -> str:
    """Write the drawing, each element that stands on its own on a line of its own: files that can be compared."""
    from xml.etree.ElementTree import tostring

    root = drawing.get_xml()
    for idle in ("xmlns:ev", "xmlns:xlink"):  # the library declares them, nothing uses them
        root.attrib.pop(idle, None)
    string = tostring(root, encoding="unicode")
    for tag in _OWN_LINE:
        string = string.replace(tag, "\n" + tag)
    first, *others = string.split(_UNLETTERED)
    return first + "".join([f"{_SPACED}>{lines}\n</g>{rest}" for lines, rest in zip(texts, others, strict=True)])


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

        self._group_type, self._path_type = Group, Path
        self._height = height

    def elements(self, inked: Inked) -> Iterator[Any]:
        """Areas first, then hatches, strokes and an empty group for the lettering."""
        heads: list[Run] = []
        others: list[tuple[Run, ...]] = []
        for area in inked.areas:
            if len(area.runs) == 1 and _is_triangle(area.runs[0]):
                heads.append(_turning_left(area.runs[0]))  # all turn one way, so where two overlap both stay filled
            else:
                others.append(area.runs)
        filled = {"fill": inked.layer.ink, "stroke": "none"}
        if heads:
            yield self._path([(heads, True)], filled)
        for runs in others:
            yield self._path([(runs, True)], {**filled, "fill-rule": "evenodd"})
        for hatching in inked.hatchings:
            yield self._lines(hatching.runs, {"class": "hatch"})
        if inked.strokes:
            yield self._path([(stroke.runs, stroke.closed) for stroke in inked.strokes], {})
        if inked.letterings:
            group = self._group_type(debug=False)
            group.attribs = {**filled, "xml:space": "preserve"}
            yield group

    def _path(self, strokes: Iterable[tuple[Sequence[Run], bool]], attributes: dict[str, str]) -> Any:
        """One path of runs, given with whether they are closed."""
        values: list[float] = []
        form: list[str] = []
        height = self._height
        for runs, closed in strokes:
            for run in runs:
                if len(run) == 2 and not closed and not run[0][2]:  # a line: nearly all of a sheet
                    values += (run[0][0], height - run[0][1], run[1][0], height - run[1][1])
                    form.append("M%.10g %.10gL%.10g %.10g")
                else:
                    form.append(self._run(run, values, closed=closed))
        element = self._path_type(("".join(form) % tuple(_rounded(values)),), debug=False)
        element.attribs |= attributes
        return element

    def _lines(self, runs: Sequence[Run], attributes: dict[str, str]) -> Any:
        """One path of straight lines."""
        x1, y1, _, x2, y2, _ = np.fromiter(chain.from_iterable(chain.from_iterable(runs)), np.float64).reshape(-1, 6).T
        values = _rounded(np.array((x1, self._height - y1, x2, self._height - y2)).T.ravel())
        element = self._path_type(("M%.10g %.10gL%.10g %.10g" * len(runs) % tuple(values),), debug=False)
        element.attribs |= attributes
        return element

    def _run(self, nodes: Run, values: list[float], *, closed: bool) -> str:
        """Give the form of the path data of a run of lines and arcs, for its figures as C prints them; add those to ``values``."""
        height = self._height
        for _, _, bulge in nodes:
            if bulge:
                return self._curved(nodes, values, closed=closed)
        for x, y, _ in nodes:
            values += (x, height - y)
        return f"M%.10g %.10g{'L%.10g %.10g' * (len(nodes) - 1)}{'Z' if closed else ''}"

    def _curved(self, nodes: Run, values: list[float], *, closed: bool) -> str:
        height = self._height
        values += (nodes[0][0], height - nodes[0][1])
        form = ["M%.10g %.10g"]
        last = len(nodes) - 1 if closed else -1
        for number, (start, end) in enumerate(segments(nodes, closed=closed)):
            if start[2]:
                ends, radius = shorter_arcs(start, end, longest=_QUARTER)
                for x, y in ends:
                    values += (radius, radius, x, height - y)
                # counter-clockwise on the sheet runs against the turn of axes whose y points down
                form.append(f"A%.10g %.10g 0 0 {0 if start[2] > 0.0 else 1} %.10g %.10g" * len(ends))
            elif number != last:
                values += (end[0], height - end[1])
                form.append("L%.10g %.10g")
        if closed:
            form.append("Z")
        return "".join(form)

    def texts(self, letterings: Sequence[Lettering]) -> str:
        """Write texts, each on a line of its own."""
        height = self._height
        xs, ys = figures([each.x for each in letterings]), figures([height - each.y for each in letterings])
        lengths = figures([each.length for each in letterings])
        sizes = {high: figure(font_size(high)) for high in {each.height for each in letterings}}
        strings = escape("\n".join([each.string for each in letterings]), quote=False).split("\n")  # no string holds a line break
        lines: list[str] = []
        for each, x, y, length, string in zip(letterings, xs, ys, lengths, strings, strict=True):
            anchor = "" if each.align == "left" else f' text-anchor="{_ANCHOR[each.align]}"'
            turned = f' transform="rotate({figure(-each.rotation)} {x} {y})"' if each.rotation else ""
            weight = ' font-weight="700"' if each.bold else ""
            lines.append(
                f'\n<text x="{x}" y="{y}" font-size="{sizes[each.height]}" textLength="{length}" lengthAdjust="spacingAndGlyphs"'
                f"{weight}{anchor}{turned}>{string}</text>"
            )
        return "".join(lines)


def _is_triangle(run: Run) -> bool:
    return len(run) == 3 and not (run[0][2] or run[1][2] or run[2][2])


def _turning_left(run: Run) -> Run:
    (x1, y1, _), (x2, y2, _), (x3, y3, _) = run
    return run if (x2 - x1) * (y3 - y1) >= (y2 - y1) * (x3 - x1) else run[::-1]


__all__ = ["figure", "figures", "svg_bytes", "svg_inline"]
