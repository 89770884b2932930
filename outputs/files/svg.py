"""One sheet as SVG: true millimetres, plain attributes, one group for each layer.

Terms
-----
paper millimetre
    One user unit. The picture is as many of them wide and high as the sheet, so it prints true at 100 %.
plain attribute
    Width, dashes, colour and lettering stand on the elements themselves: no style sheet, marker, pattern, clip path or
    reference that a reader may ignore. The one rule of style says how large the page is, for a browser that prints the file.

Blocks are drawn out at each insert, because a symbol that is scaled would scale its line width as well. Texts carry their
length, so they fill the same box in whatever face a seat has. Arcs are arcs, cut into quarters at most: the rounding of a
coordinate then moves no point of the arc by more than itself.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING, Any

from outputs.files.loops import placed, segments, shorter_arcs, spaces, undrawn_boundaries
from outputs.files.proof import prove
from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Path, Text
from outputs.sheet.layers import LINETYPES
from outputs.sheet.lettering import FAMILY, font_size, printed, text_width
from outputs.sheet.patterns import hatch_segments, is_solid
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from outputs.files.loops import Space
    from outputs.sheet.entities import Block, Layer, Mark, Node, Sheet

_QUARTER = pi / 2.0 + 1e-9
_INK = "#000000"


def svg_bytes(sheet: Sheet) -> bytes:
    """Give the sheet as an SVG file, UTF-8. The same sheet gives the same bytes.

    Raises :class:`outputs.files.proof.SheetError` where the sheet holds what no file may hold.
    """
    from svgwrite import Drawing
    from svgwrite.base import Desc, Title
    from svgwrite.container import Style
    from svgwrite.shapes import Rect

    prove(sheet)
    width, height = _figure(sheet.width), _figure(sheet.height)
    drawing = Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    drawing.attribs |= {"role": "img", "aria-labelledby": "title description", "lang": "en", "xml:lang": "en"}
    drawing.elements.clear()  # an idle element for definitions: the title comes first
    for element, name, string in ((Title, "title", sheet.title), (Desc, "description", sheet.description)):
        words = element(string)
        words.xml.set("id", name)
        drawing.add(words)
    program = Title(PROGRAM)
    program.xml.tag = "metadata"
    drawing.add(program)
    drawing.add(Style(f"@page{{size:{width}mm {height}mm;margin:0}}"))
    drawing.add(Rect(("0", "0"), (width, height), fill="#ffffff", stroke="none", id="paper", debug=False))
    groups = {layer.name: _group(layer) for layer in sheet.layers}
    for group in groups.values():
        drawing.add(group)
    pencil = _Pencil(sheet)
    for space in spaces(sheet):
        pencil.enter(space)
        for mark in space.marks:
            for layer, element in pencil.drawn(mark):
                groups[layer].add(element)
    return ('<?xml version="1.0" encoding="UTF-8"?>\n' + _lines(drawing.tostring()) + "\n").encode("utf-8")


def _lines(string: str) -> str:
    """Break the one line of the writer before each element that stands on its own: files that can be compared."""
    for tag in ("<title", "<metadata", "<style", "<rect", "<g ", "<path", "<text", "</g>", "</svg>"):
        string = string.replace(tag, "\n" + tag)
    return string


def _group(layer: Layer) -> Any:
    from svgwrite.container import Group

    group = Group(debug=False)
    group.attribs = {
        "id": "".join("_" if sign.isspace() else sign for sign in layer.name),
        "fill": "none",
        "stroke": _INK,
        "stroke-width": _figure(layer.width),
        "stroke-linecap": "butt",
        "stroke-linejoin": "round",
        "font-family": ", ".join(FAMILY),
    }
    dashes = LINETYPES[layer.linetype]
    if dashes:
        group.attribs["stroke-dasharray"] = " ".join(_figure(dash) for dash in dashes)
    if not layer.plots:
        group.attribs["display"] = "none"
    return group


def _figure(value: float) -> str:
    """Write a figure with four decimals at most and no idle zeros.

    >>> _figure(0.1 + 0.2), _figure(-0.00001), _figure(420.0)
    ('0.3', '0', '420')
    """
    figure = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if figure == "-0" else figure


class _Pencil:
    """Draws marks of one space after the other in paper mm, y downwards."""

    def __init__(self, sheet: Sheet) -> None:
        from svgwrite.container import Group
        from svgwrite.path import Path as SvgPath
        from svgwrite.text import Text as SvgText

        self._group_type, self._path_type, self._text_type = Group, SvgPath, SvgText
        self._height = sheet.height
        self._blocks: dict[str, Block] = {block.name: block for block in sheet.blocks}
        self._undrawn: set[tuple[int, int]] = set()
        self._scale, self._right, self._down = 1.0, 0.0, sheet.height

    def enter(self, space: Space) -> None:
        """Take the axes of a view or of the paper."""
        self._scale = space.scale
        if space.view is None:
            self._right, self._down = 0.0, self._height
        else:
            left, bottom, _, _ = space.view.window
            self._right = space.view.paper[0] - left * space.scale
            self._down = self._height - space.view.paper[1] + bottom * space.scale
        self._undrawn = {(id(hatch), number) for hatch, number in undrawn_boundaries(space.marks)}

    def drawn(self, mark: Mark) -> Iterator[tuple[str, Any]]:
        """Give the elements of a mark, each with the layer it stands on."""
        if isinstance(mark, Text):
            yield from ((mark.layer, element) for element in self._text(mark))
        elif isinstance(mark, Dimension):
            yield mark.layer, self._together("dimension", mark.parts)
        elif isinstance(mark, Insert):
            yield mark.layer, self._together("insert", placed(mark, self._blocks[mark.block]))
            for attribute in mark.attributes:
                if attribute.text is not None:
                    yield from ((attribute.text.layer, element) for element in self._text(attribute.text))
        elif isinstance(mark, Hatch):
            yield from self._hatch(mark)
        elif isinstance(mark, Fill):
            yield mark.layer, self._fill((mark.nodes,))
        else:
            yield mark.layer, self._path(self._run(mark.nodes, closed=mark.closed))

    def _together(self, name: str, parts: Sequence[Path | Fill | Text]) -> Any:
        group = self._group_type(debug=False)
        group.attribs["class"] = name
        for part in parts:
            for _, element in self.drawn(part):
                group.add(element)
        return group

    def _hatch(self, mark: Hatch) -> Iterator[tuple[str, Any]]:
        if is_solid(mark.material):
            yield mark.layer, self._fill(mark.boundaries)
        else:
            strokes = (f"M{self._at(x, y)}L{self._at(*end)}" for (x, y), end in hatch_segments(mark, self._scale))
            data = "".join(strokes)
            if data:
                element = self._path(data)
                element.attribs["class"] = "hatch"
                yield mark.layer, element
        for number, nodes in enumerate(mark.boundaries):
            if (id(mark), number) in self._undrawn:
                yield mark.layer, self._path(self._run(nodes, closed=True))

    def _fill(self, loops: Sequence[Sequence[Node]]) -> Any:
        element = self._path("".join(self._run(nodes, closed=True) for nodes in loops))
        element.attribs |= {"fill": _INK, "fill-rule": "evenodd", "stroke": "none"}
        return element

    def _path(self, data: str) -> Any:
        return self._path_type((data,), debug=False)

    def _at(self, x: float, y: float) -> str:
        return f"{_figure(self._right + x * self._scale)} {_figure(self._down - y * self._scale)}"

    def _run(self, nodes: Sequence[Node], *, closed: bool) -> str:
        """Give the path data of a run of lines and arcs."""
        data = [f"M{self._at(nodes[0][0], nodes[0][1])}"]
        last = len(nodes) - 1 if closed else -1
        for number, (start, end) in enumerate(segments(nodes, closed=closed)):
            if start[2]:
                ends, radius = shorter_arcs(start, end, longest=_QUARTER)
                size = _figure(radius * self._scale)
                # counter-clockwise on the sheet runs against the turn of axes whose y points down
                data += [f"A{size} {size} 0 0 {0 if start[2] > 0.0 else 1} {self._at(x, y)}" for x, y in ends]
            elif number != last:
                data.append(f"L{self._at(end[0], end[1])}")
        if closed:
            data.append("Z")
        return "".join(data)

    def _text(self, mark: Text) -> Iterator[Any]:
        if not mark.string:
            return
        x, y = _figure(self._right + mark.x * self._scale), _figure(self._down - mark.y * self._scale)
        element = self._text_type(printed(mark.string), debug=False)
        element.attribs = {
            "x": x,
            "y": y,
            "fill": _INK,
            "stroke": "none",
            "font-size": _figure(font_size(mark.height)),
            "textLength": _figure(text_width(mark.string, mark.height)),
            "lengthAdjust": "spacingAndGlyphs",
            "xml:space": "preserve",
        }
        if mark.align != "left":
            element.attribs["text-anchor"] = {"middle": "middle", "right": "end"}[mark.align]
        if mark.rotation % 360.0:
            element.attribs["transform"] = f"rotate({_figure(-mark.rotation)} {x} {y})"
        yield element
