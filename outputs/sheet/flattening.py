"""A sheet laid flat: every mark as strokes, areas and lettering on paper, ready for a thin writer.

Terms
-----
paper
    Millimetres on the printed sheet, y upwards, (0, 0) the lower left corner. Nothing here is in the model any more.
stroke
    Runs of lines and arcs drawn with the pen of their layer.
area
    Closed runs filled with the ink of their layer, even-odd: a run inside another is a hole.
lettering
    One line of text with the length it takes, so that a seat without the face stretches its own to it.
clip
    The window beyond which a view shows nothing, paper mm; only a view that is cut off there has one.

All that lies on one layer has one ink and one pen, so its order within the layer does not show: a writer may draw all the
strokes of a layer in one go. Layers are drawn in the order of the sheet, later ones over earlier ones.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import repeat
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from outputs.sheet.entities import Dimension, Fill, Hatch, Path, Text
from outputs.sheet.layers import LINETYPES
from outputs.sheet.lettering import printed, text_width
from outputs.sheet.patterns import hatch_lines, is_solid
from outputs.sheet.spaces import placed, spaces, undrawn_boundaries

if TYPE_CHECKING:
    from collections.abc import Iterable

    from outputs.sheet.entities import Block, Layer, Mark, Node, Sheet
    from outputs.sheet.spaces import Space

Box = tuple[float, float, float, float]
Run = tuple["Node", ...]


class Stroke(NamedTuple):
    """Runs that belong together, drawn as lines and arcs; all of them closed or all open."""

    runs: tuple[Run, ...]
    closed: bool = False


class Area(NamedTuple):
    """Closed runs filled even-odd."""

    runs: tuple[Run, ...]


class Lettering(NamedTuple):
    """One line of text. ``height`` of the capitals and ``length`` in mm, ``rotation`` in degrees counter-clockwise about (x, y),
    the ``align`` end of its base line.
    """

    x: float
    y: float
    string: str
    height: float
    length: float
    align: Literal["left", "middle", "right"]
    rotation: float
    bold: bool = False


@dataclass(slots=True)
class Inked:
    """What lies on one layer within one clip: strokes, the strokes of each hatched face, areas, lettering."""

    layer: Pen
    clip: Box | None = None
    strokes: list[Stroke] = field(default_factory=list)
    hatchings: list[Stroke] = field(default_factory=list)
    areas: list[Area] = field(default_factory=list)
    letterings: list[Lettering] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Pen:
    """How a layer is drawn: width and dashes (dash, gap, ...) in mm, ink as ``#rrggbb``; ``plots`` False is not printed."""

    name: str
    width: float
    dashes: tuple[float, ...]
    ink: str
    plots: bool


@dataclass(frozen=True, slots=True)
class Flat:
    """A sheet laid flat, mm. ``pens`` are all the layers of the sheet in their order, ``inked`` what lies on them, in that order."""

    width: float
    height: float
    title: str
    description: str
    pens: tuple[Pen, ...]
    inked: tuple[Inked, ...]


def flattened(sheet: Sheet) -> Flat:
    """Lay a proven sheet flat (see :func:`outputs.files.proof.prove`).

    Raises ``KeyError`` for a layer or a block that the sheet does not define.
    """
    pens = {layer.name: pen_of(layer) for layer in sheet.layers}
    flattening = _Flattening(pens, {block.name: block for block in sheet.blocks})
    for space in spaces(sheet):
        flattening.lay(space)
    order = {name: number for number, name in enumerate(pens)}
    inked = sorted(flattening.found.values(), key=lambda each: order[each.layer.name])
    return Flat(sheet.width, sheet.height, sheet.title, sheet.description, tuple(pens.values()), tuple(inked))


def pen_of(layer: Layer) -> Pen:
    """How a layer is drawn."""
    return Pen(layer.name, layer.width, LINETYPES[layer.linetype], layer.ink, layer.plots)


class _Flattening:
    """Lays one space after the other; what was laid is found by layer and clip."""

    def __init__(self, pens: dict[str, Pen], blocks: dict[str, Block]) -> None:
        self.found: dict[tuple[str, Box | None], Inked] = {}
        self._pens, self._blocks = pens, blocks
        self._scale, self._right, self._up = 1.0, 0.0, 0.0
        self._as_it_is = True  # on the paper
        self._clip: Box | None = None
        self._here: dict[str, Inked] = {}  # what was found of the space that is being laid, by layer

    def lay(self, space: Space) -> None:
        """Take the axes of a view or of the paper and lay its marks."""
        self._scale, self._right, self._up, self._clip = space.scale, 0.0, 0.0, None
        self._here = {}
        view = space.view
        self._as_it_is = view is None
        if view is not None:
            left, bottom, right, top = view.window
            self._right, self._up = view.paper[0] - left * view.scale, view.paper[1] - bottom * view.scale
            if view.clipped:
                self._clip = (*view.paper, self._right + right * view.scale, self._up + top * view.scale)
        self._marks(space.marks)
        for hatch, number in undrawn_boundaries(space.marks):
            self._on(hatch.layer).strokes.append(Stroke((self._run(hatch.boundaries[number]),), closed=True))

    def _marks(self, marks: Iterable[Mark]) -> None:
        on, run = self._on, self._run
        for mark in marks:
            if isinstance(mark, Text):
                self._text(mark)
            elif isinstance(mark, Path):
                on(mark.layer).strokes.append(Stroke((run(mark.nodes),), mark.closed))
            elif isinstance(mark, Fill):
                on(mark.layer).areas.append(Area((run(mark.nodes),)))
            elif isinstance(mark, Dimension):
                self._marks(mark.parts)
            elif isinstance(mark, Hatch):
                self._hatch(mark)
            else:
                self._marks(placed(mark, self._blocks[mark.block]))
                self._marks([attribute.text for attribute in mark.attributes if attribute.text is not None])

    def _hatch(self, mark: Hatch) -> None:
        if is_solid(mark.material):
            self._on(mark.layer).areas.append(Area(tuple(self._run(nodes) for nodes in mark.boundaries)))
            return
        moved = hatch_lines(mark, self._scale) * self._scale + np.array([[self._right], [self._up], [self._right], [self._up]])
        if moved.size:
            x1, y1, x2, y2 = moved.tolist()
            straight = repeat(0.0)
            runs = tuple(zip(zip(x1, y1, straight, strict=False), zip(x2, y2, straight, strict=False), strict=True))
            self._on(mark.layer).hatchings.append(Stroke(runs))

    def _text(self, mark: Text) -> None:
        if mark.string:
            x, y = self._right + mark.x * self._scale, self._up + mark.y * self._scale
            string, length = printed(mark.string), text_width(mark.string, mark.height, bold=mark.bold)
            self._on(mark.layer).letterings.append(
                Lettering(x, y, string, mark.height, length, mark.align, mark.rotation % 360.0, mark.bold)
            )

    def _on(self, layer: str) -> Inked:
        inked = self._here.get(layer)
        if inked is None:
            inked = self.found.setdefault((layer, self._clip), Inked(self._pens[layer], self._clip))
            self._here[layer] = inked
        return inked

    def _run(self, nodes: tuple[Node, ...]) -> Run:
        if self._as_it_is:
            return nodes
        scale, right, up = self._scale, self._right, self._up
        if len(nodes) == 2:  # a line: nearly all of a sheet
            (x1, y1, bulge), (x2, y2, last) = nodes
            return (right + x1 * scale, up + y1 * scale, bulge), (right + x2 * scale, up + y2 * scale, last)
        return tuple([(right + x * scale, up + y * scale, bulge) for x, y, bulge in nodes])


__all__ = ["Area", "Flat", "Inked", "Lettering", "Pen", "Run", "Stroke", "flattened", "pen_of"]
