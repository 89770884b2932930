"""What a sheet is made of: the few marks that both writers know.

Terms
-----
model
    Full size, millimetres. Views are drawn in the model.
paper
    Millimetres on the printed sheet. Frame, title block, tables and notes are drawn on paper.
view
    A window of the model shown on paper at one scale.
mark
    One thing drawn: path, fill, hatch, text, dimension, insert. Coordinates are model millimetres inside a view and paper
    millimetres on the sheet; **text heights and hatch spacings are paper millimetres everywhere**.

Every figure, every text and every position is settled here before a writer sees it: the DXF and the SVG cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from outputs.sheet.outcomes import Outcome

Node = tuple[float, float, float]  # x, y, bulge of the segment that leaves it
Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Path:
    """An open or closed run of lines and arcs, stroked in its layer's width and line type."""

    layer: str
    nodes: tuple[Node, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Fill:
    """A closed run filled solid with its layer's colour (arrowheads, thin parts)."""

    layer: str
    nodes: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Hatch:
    """Closed boundaries filled with a material's line pattern; the first boundary is the outside, the others are holes."""

    layer: str
    material: str
    boundaries: tuple[tuple[Node, ...], ...]


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering. ``height`` is the height of capitals in paper mm; ``rotation`` in degrees, counter-clockwise.

    ``x, y`` is the left, middle or right end of the base line; ``bold`` is for what is read at arm's length.
    """

    layer: str
    x: float
    y: float
    string: str
    height: float
    align: Literal["left", "middle", "right"] = "left"
    rotation: float = 0.0
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension with its definition points and the lines, arrows and text already laid out as ``parts``.

    ``kind`` linear: ``first`` and ``second`` are measured along ``angle`` (degrees) and ``on_line`` lies on the dimension line.
    ``kind`` radius or diameter: ``first`` is the centre (radius) or the far side (diameter), ``second`` the point on the arc.
    ``measured`` is the full-size value in mm, ``text`` what is printed.
    """

    layer: str
    kind: Literal["linear", "radius", "diameter"]
    first: Place
    second: Place
    on_line: Place
    angle: float
    measured: float
    text: str
    text_at: Place
    parts: tuple[Path | Fill | Text, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """A symbol drawn once and inserted many times; its marks stand on layer ``0`` round the origin.

    ``tags`` are the attributes that each insert fills in: (tag, prompt).
    """

    name: str
    marks: tuple[Path | Fill | Text, ...]
    tags: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Attribute:
    """The value of one tag of an insert. ``text`` is where it is lettered, or None where it is carried but not shown."""

    tag: str
    value: str
    text: Text | None = None


@dataclass(frozen=True, slots=True)
class Insert:
    """A block placed at a point, turned counter-clockwise by ``rotation`` degrees about it."""

    layer: str
    block: str
    x: float
    y: float
    rotation: float = 0.0
    attributes: tuple[Attribute, ...] = ()


Mark = Path | Fill | Hatch | Text | Dimension | Insert


@dataclass(frozen=True, slots=True)
class View:
    """A window of the model shown at ``scale`` (paper / model: 0.2 is 1:5, 5.0 is 5:1).

    ``window`` is (left, bottom, right, top) in model mm; ``paper`` is where its lower left corner stands on the sheet, paper mm.
    A view that is ``clipped`` shows only the part of its marks within the window; of any other none may reach past it.
    """

    name: str
    scale: float
    window: tuple[float, float, float, float]
    paper: Place
    marks: tuple[Mark, ...]
    clipped: bool = False


@dataclass(frozen=True, slots=True)
class Layer:
    """Line width in mm, line type by name (see ``outputs.sheet.layers``), what stands on it and the ink it is printed in."""

    name: str
    width: float
    linetype: str
    colour: int  # DXF colour index, for the screen
    what: str
    plots: bool = True
    ink: str = "#000000"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One finished sheet: everything a writer needs and nothing it has to work out."""

    size: str  # "A2"
    width: float
    height: float
    title: str
    description: str
    layers: tuple[Layer, ...]
    blocks: tuple[Block, ...]
    views: tuple[View, ...]
    marks: tuple[Mark, ...] = field(default=())  # on paper
    outcomes: tuple[tuple[str, Outcome], ...] = field(default=())  # of everything planned: name of its view, and its end


__all__ = [
    "Attribute",
    "Block",
    "Dimension",
    "Fill",
    "Hatch",
    "Insert",
    "Layer",
    "Mark",
    "Node",
    "Path",
    "Place",
    "Sheet",
    "Text",
    "View",
]
