"""Marks of a sheet as the entities of a DXF.

Terms
-----
space
    The model, where the views stand at full size, or the paper. Heights and spacings are divided by the view's scale, so
    that its window shows them at their size on paper.
source
    The closed polyline that a hatch is tied to: where it is stretched, the hatch follows.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING, Any

from outputs.files.dxf_dimensions import add_dimension
from outputs.files.loops import loop_key, undrawn_boundaries
from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Path, Text
from outputs.sheet.lettering import DXF_STYLE, printed, width_factor
from outputs.sheet.patterns import families_for, is_solid

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from ezdxf.document import Drawing
    from ezdxf.layouts import BaseLayout

    from outputs.files.loops import Key, Space
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Attribute, Block, Layer, Node
    from outputs.sheet.patterns import LineFamily

_BY_LAYER = 256
_MILLIMETRES = 4
_ALIGN = {"left": 0, "middle": 1, "right": 2}
_FLOWING = 128  # dashes run on round the corners of a polyline
_OUTSIDE, _HOLE = 1 | 2, 16 | 2  # boundary of a hatch: a polyline, outermost or within it
_INVISIBLE = 1
_LEVEL = {"hatch_style": 0, "pattern_type": 2}  # holes by the even-odd rule; a pattern of our own


def line_text(string: str) -> str:
    """A string as a TEXT carries it: signs that a seat would read as a control code are masked.

    >>> line_text("10 %%"), line_text("a^b")
    ('10 %%%%%%', 'a^ b')
    """
    shown = printed(string)
    if "%%" in shown:
        shown = shown.replace("%", "%%%")
    return shown.replace("^", "^ ")


class MarkWriter:
    """Adds the marks of one space after the other to a document."""

    def __init__(
        self,
        doc: Drawing,
        layers: Sequence[Layer],
        blocks: Mapping[str, Block],
        styles: Mapping[float, str],
        drafting: DraftingStyle,
    ) -> None:
        self._doc = doc
        self._broken = {layer.name for layer in layers if layer.linetype != "CONTINUOUS"}
        self._blocks = blocks
        self._styles = styles
        self._drafting = drafting
        self._scale = 1.0

    def add_block(self, block: Block, *, scale: float, shown: set[str]) -> None:
        """Define a block; ``shown`` are its tags that some insert letters, at the scale of the views that show it."""
        self._scale = scale
        layout = self._doc.blocks.new(block.name)
        layout.block_record.dxf.units = _MILLIMETRES
        for mark in block.marks:
            self._add_simple(layout, mark)
        height = self._drafting.text / scale
        for tag, prompt in block.tags:
            attributes = {"layer": "0", "height": height, "style": DXF_STYLE, "prompt": prompt}
            layout.add_attdef(
                tag, insert=(0.0, 0.0), text="", dxfattribs={**attributes, "flags": 0 if tag in shown else _INVISIBLE}
            )

    def add_space(self, layout: BaseLayout, space: Space) -> None:
        """Add every mark of a space in its order, then tie the hatches to the outlines they fill."""
        self._scale = space.scale
        undrawn = {(id(hatch), number) for hatch, number in undrawn_boundaries(space.marks)}
        hatched = any(isinstance(mark, Hatch) for mark in space.marks)
        drawn: dict[Key, Any] = {}
        hatches: list[tuple[Hatch, Any]] = []
        for mark in space.marks:
            if isinstance(mark, Hatch):
                hatches.append((mark, self._add_hatch(layout, mark)))
                for number, nodes in enumerate(mark.boundaries):
                    if (id(mark), number) in undrawn:
                        drawn.setdefault(loop_key(nodes), self._add_run(layout, mark.layer, nodes, closed=True))
            elif isinstance(mark, Dimension):
                self._add_dimension(layout, mark)
            elif isinstance(mark, Insert):
                self._add_insert(layout, mark)
            else:
                entity = self._add_simple(layout, mark)
                if hatched and isinstance(mark, Path) and mark.closed:
                    drawn.setdefault(loop_key(mark.nodes), entity)
        for hatch, entity in hatches:
            for path, nodes in zip(entity.paths.paths, hatch.boundaries, strict=True):
                entity.associate(path, [drawn[loop_key(nodes)]])

    def _add_simple(self, layout: BaseLayout, mark: Path | Fill | Text, *, layer: str | None = None) -> Any:
        on = mark.layer if layer is None else layer
        if isinstance(mark, Text):
            return self._add_text(layout, mark, on)
        if isinstance(mark, Fill):
            return self._add_fill(layout, mark, on)
        return self._add_run(layout, on, mark.nodes, closed=mark.closed)

    def _add_run(self, layout: BaseLayout, layer: str, nodes: Sequence[Node], *, closed: bool) -> Any:
        if len(nodes) == 2 and not closed and not nodes[0][2]:
            (x1, y1, _), (x2, y2, _) = nodes
            return layout.new_entity("LINE", {"layer": layer, "start": (x1, y1, 0.0), "end": (x2, y2, 0.0)})
        if not closed and nodes[-1][2]:
            nodes = (*nodes[:-1], (*nodes[-1][:2], 0.0))  # no segment leaves the last node of an open run
        flags = (1 if closed else 0) | (_FLOWING if layer in self._broken else 0)
        run: Any = layout.new_entity("LWPOLYLINE", {"layer": layer, "flags": flags})
        run.set_points(nodes, format="xyb")
        return run

    def _add_fill(self, layout: BaseLayout, mark: Fill, layer: str) -> Any:
        nodes = mark.nodes
        if len(nodes) == 3 and not any(bulge for _, _, bulge in nodes):
            first, second, third = ((x, y, 0.0) for x, y, _ in nodes)
            return layout.new_entity("SOLID", {"layer": layer, "vtx0": first, "vtx1": second, "vtx2": third, "vtx3": third})
        return self._new_hatch(layout, layer, (nodes,), {"solid_fill": 1, "pattern_name": "SOLID"})

    def _add_text(self, layout: BaseLayout, mark: Text, layer: str) -> Any:
        if not mark.string:
            return None
        return layout.new_entity("TEXT", {"layer": layer, "text": line_text(mark.string), **self._text_attributes(mark)})

    def _text_attributes(self, mark: Text) -> dict[str, Any]:
        place = (mark.x, mark.y, 0.0)
        attributes: dict[str, Any] = {
            "insert": place,
            "height": mark.height / self._scale,
            "rotation": mark.rotation,
            "style": DXF_STYLE,
            "width": width_factor(mark.string),
        }
        if mark.align != "left":
            attributes |= {"halign": _ALIGN[mark.align], "align_point": place}
        return attributes

    def _add_hatch(self, layout: BaseLayout, mark: Hatch) -> Any:
        if is_solid(mark.material):
            return self._new_hatch(layout, mark.layer, mark.boundaries, {"solid_fill": 1, "pattern_name": "SOLID"})
        own = {"solid_fill": 0, "pattern_name": mark.material.upper(), "pattern_scale": 1.0 / self._scale, **_LEVEL}
        hatch = self._new_hatch(layout, mark.layer, mark.boundaries, own)
        families = families_for(mark, self._scale)
        hatch.set_pattern_definition([_definition(family) for family in families], factor=1.0 / self._scale)
        return hatch

    def _new_hatch(self, layout: BaseLayout, layer: str, boundaries: Sequence[Sequence[Node]], attributes: dict[str, Any]) -> Any:
        hatch: Any = layout.new_entity("HATCH", {"layer": layer, "color": _BY_LAYER, "hatch_style": 0, **attributes})
        for number, nodes in enumerate(boundaries):
            hatch.paths.add_polyline_path(nodes, is_closed=True, flags=_HOLE if number else _OUTSIDE)
        return hatch

    def _add_dimension(self, layout: BaseLayout, mark: Dimension) -> None:
        block = add_dimension(layout, mark, style=self._styles[self._scale], scale=self._scale, drafting=self._drafting)
        for part in mark.parts:
            self._add_simple(block, part, layer="0")

    def _add_insert(self, layout: BaseLayout, mark: Insert) -> None:
        place = (mark.x, mark.y, 0.0)
        insert: Any = layout.new_entity(
            "INSERT", {"layer": mark.layer, "name": mark.block, "insert": place, "rotation": mark.rotation}
        )
        given = {attribute.tag: attribute for attribute in mark.attributes}
        for tag, _ in self._blocks[mark.block].tags:
            self._add_attribute(insert, mark, tag, given.get(tag))

    def _add_attribute(self, insert: Any, mark: Insert, tag: str, given: Attribute | None) -> None:
        if given is not None and given.text is not None:
            attributes = {"layer": given.text.layer, **self._text_attributes(given.text)}
        else:
            height = self._drafting.text / self._scale
            attributes = {"layer": mark.layer, "height": height, "style": DXF_STYLE, "flags": _INVISIBLE}
            attributes["insert"] = (mark.x, mark.y, 0.0)
        insert.add_attrib(tag, line_text(given.value) if given is not None else "", attributes.pop("insert"), attributes)


def _definition(family: LineFamily) -> tuple[float, tuple[float, float], tuple[float, float], list[float]]:
    """A line family in the words of a DXF: angle, first line's start, step to the next line, dashes and (negative) gaps."""
    along, across = cos(radians(family.angle)), sin(radians(family.angle))

    def turned(forward: float, left: float) -> tuple[float, float]:
        return forward * along - left * across, forward * across + left * along

    dashes = [length if number % 2 == 0 else -length for number, length in enumerate(family.dashes)]
    return family.angle, turned(family.phase, family.offset), turned(family.stagger, family.spacing), dashes
