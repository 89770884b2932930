"""The marks of a sheet as DXF entities.

Terms
-----
bulge
    ``tan(sweep / 4)`` of an arc, as in DXF itself: arcs stay arcs, outlines stay one closed polyline.
associative
    A hatch that knows the polylines round it: a seat that moves one moves the other.
geometry block
    The block (``*D1`` ...) in which a dimension keeps its picture until a seat draws it anew.
attribute
    A figure that an insert carries, shown or hidden, and that a seat can count and list.
"""

from __future__ import annotations

import re
from dataclasses import replace
from math import cos, hypot, radians, sin
from typing import TYPE_CHECKING, Any

from outputs.files.dxf_tables import DECIMALS, dimension_height
from outputs.files.proof import lettered
from outputs.sheet.drafting import DraftingStyle, number, scale_designation
from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Path, Text
from outputs.sheet.layers import CONTINUOUS
from outputs.sheet.lettering import DXF_BOLD_STYLE, DXF_STYLE, printed, text_box, width_factor
from outputs.sheet.patterns import LineFamily, families_for, is_solid
from outputs.sheet.spaces import drawn_loops, loop_key, spaces, undrawn_boundaries

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ezdxf.document import Drawing

    from outputs.files.dxf_tables import StyleNames
    from outputs.sheet.entities import Attribute, Block, Node, Sheet
    from outputs.sheet.spaces import Key, Space

_DASHES_RUN_ON = 128  # flag of a polyline
_OUTSIDE, _OUTERMOST = 1, 16  # flags of a hatch boundary
_OWN_PATTERN = 2
_BYLAYER = 256
_INVISIBLE = 1
_HALF_WAY = 1e-6  # of the last decimal
_ALIGN, _FIT = {"left": 0, "middle": 1, "right": 2}, 5
_LEVEL_TEXT = {"dimtih": 1, "dimtoh": 1, "dimtofl": 0}  # a radius has its text level on a bent leader
_ROTATED, _DIAMETER, _RADIUS, _OWN_BLOCK, _TEXT_PLACED = 0, 3, 4, 32, 128


def settled(*values: float) -> tuple[float, ...]:
    """Coordinates, mm, as they are written: to a billionth, so that the last bits of a sum change no byte.

    >>> settled(0.1 + 0.2, -1e-12, 12.0000000004999)
    (0.3, 0.0, 12.0)
    """
    return tuple([round(value, 9) + 0.0 for value in values])


def settled_nodes(nodes: Sequence[Node]) -> list[tuple[float, ...]]:
    """Nodes as they are written; a bulge, which has no unit, to three decimals more."""
    return [(round(x, 9) + 0.0, round(y, 9) + 0.0, round(bulge, 12) + 0.0) for x, y, bulge in nodes]


class MarkWriter:
    """Writes the spaces of the sheets of one document; a block is written once for all of them."""

    def __init__(self, document: Drawing, sheets: Sequence[Sheet], styles: StyleNames) -> None:
        self._document = document
        self._styles = styles
        self._blocks: dict[str, Block] = {block.name: block for sheet in sheets for block in sheet.blocks}
        self._written_blocks: dict[tuple[str, float], str] = {}
        self._broken = {layer.name for sheet in sheets for layer in sheet.layers if layer.linetype != CONTINUOUS}
        self._shown = _shown_tags(sheets)
        self._scale = 1.0

    def write(self, space: Space, target: Any) -> None:
        """Write the marks of a space into a layout of the document, in their order, hatches after the lines round them."""
        self._scale = space.scale
        drawn: dict[Key, Any] = {}
        loops = {id(mark): key for key, mark in drawn_loops(space.marks).items()}
        for mark in space.marks:
            if isinstance(mark, Hatch):
                continue
            entity = self._write_mark(target, mark)
            if id(mark) in loops:
                drawn[loops[id(mark)]] = entity
        for hatch, boundary in undrawn_boundaries(space.marks):
            nodes = hatch.boundaries[boundary]
            drawn[loop_key(nodes)] = self._polyline(target, nodes, hatch.layer, closed=True)
        for mark in space.marks:
            if isinstance(mark, Hatch):
                self._hatch(target, mark, drawn)

    def _write_mark(self, target: Any, mark: Path | Fill | Text | Dimension | Insert) -> Any:
        if isinstance(mark, Path):
            return self._path(target, mark, mark.layer)
        if isinstance(mark, Fill):
            return self._fill(target, mark, mark.layer)
        if isinstance(mark, Text):
            return self._text(target, mark, mark.layer)
        if isinstance(mark, Dimension):
            return self._dimension(target, mark)
        return self._insert(target, mark)

    def _path(self, target: Any, mark: Path, layer: str) -> Any:
        (x0, y0, bulge), (x1, y1, _) = mark.nodes[0], mark.nodes[1]
        if len(mark.nodes) == 2 and not mark.closed and not bulge:
            return target.add_line(settled(x0, y0), settled(x1, y1), dxfattribs={"layer": layer})
        return self._polyline(target, mark.nodes, layer, closed=mark.closed)

    def _polyline(self, target: Any, nodes: Sequence[Node], layer: str, *, closed: bool) -> Any:
        if not closed and nodes[-1][2]:
            nodes = (*nodes[:-1], (*nodes[-1][:2], 0.0))  # no segment leaves the end of an open run
        # the library opens a run unless it is told to close it, whatever its flags say
        flags = _DASHES_RUN_ON if layer in self._broken else 0
        return target.add_lwpolyline(
            settled_nodes(nodes), format="xyb", close=closed, dxfattribs={"layer": layer, "flags": flags}
        )

    def _fill(self, target: Any, mark: Fill, layer: str) -> Any:
        places = [settled(x, y) for x, y, _ in mark.nodes]
        if _is_solid_shape(mark.nodes):
            if len(places) == 4:  # a SOLID runs from side to side, not round
                places = [places[0], places[1], places[3], places[2]]
            return target.add_solid(places, dxfattribs={"layer": layer})
        hatch = target.add_hatch(color=_BYLAYER, dxfattribs={"layer": layer})
        hatch.paths.add_polyline_path(settled_nodes(mark.nodes), is_closed=True, flags=_OUTSIDE)
        return hatch

    def _hatch(self, target: Any, mark: Hatch, drawn: dict[Key, Any]) -> None:
        hatch = target.add_hatch(color=_BYLAYER, dxfattribs={"layer": mark.layer})
        if not is_solid(mark.material):
            definition = [_pattern_line(family, self._scale) for family in families_for(mark, self._scale)]
            name = f"CUT_{mark.material.upper()}"
            hatch.set_pattern_fill(name, color=_BYLAYER, style=0, pattern_type=_OWN_PATTERN, definition=definition)
            # the lines are at their final size; this is what a seat multiplies when the scale is changed by hand
            hatch.dxf.pattern_scale = 1.0 / self._scale
        for order, nodes in enumerate(mark.boundaries):
            path = hatch.paths.add_polyline_path(settled_nodes(nodes), is_closed=True, flags=_OUTERMOST if order else _OUTSIDE)
            hatch.associate(path, [drawn[loop_key(nodes)]])

    def _text_attributes(self, mark: Text, layer: str, *, final: bool = True) -> dict[str, Any]:
        """Give place, size and alignment of a text.

        A text of several characters is fitted between the two ends of its box, so that it is as long as on the sheet in whatever
        face a seat has. A single one keeps its own shape and the alignment of the mark, and so does one that is not ``final``:
        a tag, in which a seat writes other values.
        """
        foot, end, *_ = text_box(replace(mark, rotation=0.0, x=0.0, y=0.0), self._scale)
        turn = radians(mark.rotation)
        ends = [settled(mark.x + reach * cos(turn), mark.y + reach * sin(turn)) for reach in (foot[0], end[0])]
        attributes: dict[str, Any] = {
            "layer": layer,
            "style": DXF_BOLD_STYLE if mark.bold else DXF_STYLE,
            "height": mark.height / self._scale,
            "insert": ends[0],
            "width": width_factor(mark.string),
        }
        if mark.rotation % 360.0:
            attributes["rotation"] = round(mark.rotation % 360.0, 6)
        if final and len(mark.string) > 1:
            attributes |= {"halign": _FIT, "align_point": ends[1]}
        elif mark.align != "left":
            attributes |= {"halign": _ALIGN[mark.align], "align_point": settled(mark.x, mark.y)}
        return attributes

    def _text(self, target: Any, mark: Text, layer: str) -> Any:
        if not mark.string:
            return None
        return target.add_text(_coded(mark.string), dxfattribs=self._text_attributes(mark, layer))

    def _dimension(self, target: Any, mark: Dimension) -> Any:
        block = self._document.blocks.new_anonymous_block(type_char="D")
        block.units = 4
        for part in mark.parts:
            self._write_part(block, part, mark.layer)
        attributes = {
            "layer": mark.layer,
            "dimstyle": self._styles[self._scale, dimension_height(mark)],
            "geometry": block.name,
            "text_midpoint": settled(*self._text_middle(mark)),
            "attachment_point": 5,
            "actual_measurement": settled(mark.measured)[0],
            **_definition_points(mark),
        }
        text, decimals = printed_by_style(mark)
        if text:
            attributes["text"] = _masked(text)
        dimension = target.new_entity("DIMENSION", attributes)
        changes = {"dimdec": decimals} if decimals != DECIMALS else {}
        if mark.kind == "radius":
            changes |= _LEVEL_TEXT
        if changes:
            dimension.set_acad_dstyle(changes)
        return dimension

    def _write_part(self, block: Any, part: Path | Fill | Text, layer: str) -> None:
        if isinstance(part, Path):
            self._path(block, part, layer)
        elif isinstance(part, Fill):
            self._fill(block, part, layer)
        else:
            self._text(block, part, layer)

    def _text_middle(self, mark: Dimension) -> tuple[float, float]:
        """Give the middle of the printed text: half way along it and half way up its capitals."""
        for part in mark.parts:
            if isinstance(part, Text) and part.string == mark.text:
                foot, end, *_ = text_box(part, self._scale)
                turn = radians(part.rotation)
                up = part.height / self._scale / 2.0
                reach = {"left": 0.5, "middle": 0.0, "right": -0.5}[part.align] * hypot(end[0] - foot[0], end[1] - foot[1])
                x, y = part.x + reach * cos(turn) - up * sin(turn), part.y + reach * sin(turn) + up * cos(turn)
                return x, y
        return mark.text_at

    def _insert(self, target: Any, mark: Insert) -> Any:
        name = self._block(mark.block)
        insert = target.add_blockref(
            name, settled(mark.x, mark.y), dxfattribs={"layer": mark.layer, "rotation": round(mark.rotation % 360.0, 6)}
        )
        given = {attribute.tag: attribute for attribute in mark.attributes}
        for tag, _ in self._blocks[mark.block].tags:
            self._attribute(insert, mark, tag, given.get(tag))
        return insert

    def _attribute(self, insert: Any, mark: Insert, tag: str, attribute: Attribute | None) -> None:
        value = "" if attribute is None else _coded(attribute.value)
        if attribute is not None and attribute.text is not None:
            places = self._text_attributes(attribute.text, attribute.text.layer, final=False)
            insert.add_attrib(tag, value, places.pop("insert"), dxfattribs=places)
            return
        hidden = Text(mark.layer, mark.x, mark.y, "", DraftingStyle().text)
        insert.add_attrib(
            tag, value, settled(mark.x, mark.y), dxfattribs=self._text_attributes(hidden, mark.layer) | {"flags": _INVISIBLE}
        )

    def _block(self, name: str) -> str:
        """Write a block once and give its name; one that holds texts once for each scale, because texts are paper mm."""
        block = self._blocks[name]
        key = (name, self._scale if lettered(block.marks) else 0.0)
        if key not in self._written_blocks:
            own = name
            if own in self._document.blocks:
                own = f"{name}_{scale_designation(self._scale).replace(':', '-')}"
            entry = self._document.blocks.new(own)
            entry.units = 4
            for part in block.marks:
                self._write_part(entry, part, "0")
            for tag, prompt in block.tags:
                model = self._shown.get((name, tag))
                text = model or Text("0", 0.0, 0.0, "", DraftingStyle().text)
                places = self._text_attributes(text, "0", final=False)
                definition = entry.add_attdef(tag, places.pop("insert"), dxfattribs=places)
                definition.dxf.prompt = prompt
                if model is None:
                    definition.dxf.flags = _INVISIBLE
            self._written_blocks[key] = own
        return self._written_blocks[key]


def _shown_tags(sheets: Sequence[Sheet]) -> dict[tuple[str, str], Text]:
    """Give for each tag that any insert shows where its text stands round the origin of the block."""
    shown: dict[tuple[str, str], Text] = {}
    for marks in (space.marks for sheet in sheets for space in spaces(sheet)):
        for mark in marks:
            if isinstance(mark, Insert):
                for attribute in mark.attributes:
                    text = attribute.text
                    if text is not None and (mark.block, attribute.tag) not in shown:
                        turn = radians(-mark.rotation)
                        x, y = text.x - mark.x, text.y - mark.y
                        back = (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn))
                        shown[mark.block, attribute.tag] = Text(
                            "0", *back, text.string, text.height, text.align, text.rotation - mark.rotation
                        )
    return shown


def _is_solid_shape(nodes: Sequence[Node]) -> bool:
    """Tell whether a fill is a triangle or a convex quadrilateral of straight lines."""
    if len(nodes) not in (3, 4) or any(bulge for _, _, bulge in nodes):
        return False
    turns = []
    for index, (x, y, _) in enumerate(nodes):
        (x1, y1, _), (x2, y2, _) = nodes[index - 2], nodes[index - 1]
        turns.append((x1 - x2) * (y - y2) - (y1 - y2) * (x - x2) > 0.0)
    return all(turns) or not any(turns)


def _pattern_line(family: LineFamily, scale: float) -> tuple[float, tuple[float, float], tuple[float, float], list[float]]:
    """Give a line family as DXF writes it: angle, a point of the first line, step to the next, dashes; drawing units."""
    along, across = cos(radians(family.angle)), sin(radians(family.angle))

    def turned(right: float, up: float) -> tuple[float, float]:
        return (right * along - up * across) / scale, (right * across + up * along) / scale

    dashes = [(dash if order % 2 == 0 else -dash) / scale for order, dash in enumerate(family.dashes)]
    return family.angle, turned(family.phase, family.offset), turned(family.stagger, family.spacing), dashes


def _definition_points(mark: Dimension) -> dict[str, Any]:
    """Give type and definition points of a dimension as DXF wants them."""
    flags = _OWN_BLOCK | _TEXT_PLACED
    if mark.kind == "radius":
        return {"dimtype": _RADIUS | flags, "defpoint": settled(*mark.first), "defpoint4": settled(*mark.second)}
    if mark.kind == "diameter":
        return {"dimtype": _DIAMETER | flags, "defpoint": settled(*mark.first), "defpoint4": settled(*mark.second)}
    along, across = cos(radians(mark.angle)), sin(radians(mark.angle))
    reach = (mark.second[0] - mark.on_line[0]) * along + (mark.second[1] - mark.on_line[1]) * across
    foot = (mark.on_line[0] + reach * along, mark.on_line[1] + reach * across)  # of the second extension line
    points = {"defpoint": settled(*foot), "defpoint2": settled(*mark.first), "defpoint3": settled(*mark.second)}
    return {"dimtype": _ROTATED | flags, "angle": round(mark.angle, 6), **points}


def printed_by_style(mark: Dimension) -> tuple[str, int]:
    """Give the text a dimension carries and the decimals it is written with, so that a seat prints what the sheet prints.

    The text is empty where the style prints it by itself, holds ``<>`` where the figure stands among other words, and is
    the printed text itself only where no number of decimals gives its figure, or where the figure lies half-way between two
    roundings: seats do not agree which of the two to print.
    """
    sign = {"radius": "R", "diameter": "Ø"}.get(mark.kind, "")
    for decimals in (DECIMALS, 0, 1, 3):
        if abs(mark.measured * 10**decimals % 1.0 - 0.5) < _HALF_WAY:
            continue
        figure = sign + number(mark.measured, decimals=decimals)
        if mark.text == figure:
            return "", decimals
        at = mark.text.find(figure)
        while at >= 0:
            before, after = mark.text[:at], mark.text[at + len(figure) :]
            if not (before[-1:].isdigit() or before.endswith((",", "−")) or after[:1].isdigit() or _goes_on(after)):
                return f"{before}<>{after}", decimals
            at = mark.text.find(figure, at + 1)
    return mark.text, DECIMALS


def _goes_on(after: str) -> bool:
    """Tell whether a figure goes on behind a comma."""
    return after[:1] == "," and after[1:2].isdigit()


def _masked(string: str) -> str:
    """Give the text of a dimension as DXF wants it: braces and backslashes would be read as formats."""
    return re.sub(r"([\\{}])", r"\\\1", printed(string)).replace("^", "^ ")


def _coded(string: str) -> str:
    """Give a text as DXF wants it: a caret and two per cent signs stand for controls and are written out."""
    return printed(string).replace("^", "^ ").replace("%%", "%%%%%%")


__all__ = ["MarkWriter", "printed_by_style", "settled", "settled_nodes"]
