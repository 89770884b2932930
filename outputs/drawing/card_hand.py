"""The hand that letters the fitter's card: layers, weights of line and the small marks it is built of, all in paper millimetres.

A card is read at arm's length on a bench, from a print in black alone: no grey, no line under 0.25 mm, figures 10 mm high where a hand
acts on them, nothing that is lettered under 2.8 mm, and that only the name of a field.

Terms
-----
down
    Paper mm from the upper edge of the sheet: the card is set out from its head.
plate
    A black rectangle that carries white lettering.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from outputs.sheet.entities import Fill, Hatch, Layer, Mark, Path, Text
from outputs.sheet.layers import CONTINUOUS
from outputs.sheet.lettering import text_width
from outputs.sheet.runs import box, box_nodes, circle_nodes, line
from outputs.sheet.runs import circle as ring

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.sheet.entities import Place

Align = Literal["left", "middle", "right"]

WIDTH, HEIGHT = 210.0, 297.0
MARGIN = 10.0
LEFT, RIGHT = MARGIN, WIDTH - MARGIN
SMALL, PLAIN, STRONG, HEADING, TITLE = 2.8, 3.5, 3.7, 4.2, 5.0
"""Heights of capitals, paper mm: names of fields, words, figures of the rows, headings, titles of views."""
KEY = 10.0
"""Height of the figures that a hand acts on."""
APART = 1.5  # paper mm between two texts
OFF_LINE = 0.7  # paper mm from a text to a line

_DASHED, _DOUBLE_DOT = "DASHED_025", "LONG_DASH_DOUBLE_DOT_025"
LAYERS: tuple[Layer, ...] = (
    Layer("BEAD_EDGE", 0.25, CONTINUOUS, 7, "band of the bead, drawn thick"),
    Layer("MASK_LINES", 0.25, _DASHED, 7, "edges of the masking tape on the glass"),
    Layer("SIGHT_LINE", 0.25, _DOUBLE_DOT, 7, "glass edge where it will lie in the recess"),
    Layer("MATERIAL_FRAME", 0.25, CONTINUOUS, 7, "cut frame"),
    Layer("MATERIAL_ADHESIVE", 0.25, CONTINUOUS, 7, "cut bead"),
    Layer("MATERIAL_BACKER", 0.25, CONTINUOUS, 7, "cut backer"),
    Layer("MATERIAL_SPACER", 0.25, CONTINUOUS, 7, "cut spacer"),
    Layer("MATERIAL_FRIT", 0.70, CONTINUOUS, 7, "cut frit, one wide line"),
    Layer("BACKFILL", 0.25, CONTINUOUS, 7, "cut backfill"),
    Layer("CUT_OUTLINE", 0.50, CONTINUOUS, 7, "outlines of cut faces"),
    Layer("BREAK_LINES", 0.25, CONTINUOUS, 7, "where a part goes on"),
    Layer("RECESS", 1.00, CONTINUOUS, 7, "wall of the recess"),
    Layer("GLASS", 0.70, CONTINUOUS, 7, "edge of the glass"),
    Layer("SPACERS", 0.25, CONTINUOUS, 7, "spacers, drawn thick"),
    Layer("CHOCKS", 0.25, CONTINUOUS, 7, "chocks, drawn thick"),
    Layer("DIMENSIONS", 0.35, CONTINUOUS, 7, "running distances, leaders, arrows"),
    Layer("TICKS", 0.60, CONTINUOUS, 7, "ticks of the running distances, start of the bead"),
    Layer("TABLES", 0.50, CONTINUOUS, 7, "boxes to write in, tables"),
    Layer("FIELDS", 0.25, _DASHED, 7, "boxes to write in for how flush the glass lies"),
    Layer("SHEET", 0.50, CONTINUOUS, 7, "rules across the card"),
    Layer("DETAIL", 0.25, CONTINUOUS, 7, "pictograms and arrows"),
    Layer("TEXT", 0.25, CONTINUOUS, 7, "lettering"),
    Layer("PLATES", 0.25, CONTINUOUS, 7, "black plates under white lettering"),
    Layer("ON_PLATES", 0.50, CONTINUOUS, 255, "white lettering and lines on black", ink="#ffffff"),
    Layer("OVER", 0.25, CONTINUOUS, 7, "black on white on black, in pictograms"),
    Layer("LIGHT", 0.25, CONTINUOUS, 255, "white on that, in pictograms", ink="#ffffff"),
    Layer("TOP", 0.25, CONTINUOUS, 7, "black on that, in pictograms"),
)
"""Layers in the order in which they cover one another: white lies over black."""

SOLID = "frit"  # the material that is filled solid with the ink of its layer


def down(distance: float) -> float:
    """The height on the sheet of a place so far from its upper edge."""
    return HEIGHT - distance


def words(
    x: float,
    y: float,
    string: str,
    height: float = PLAIN,
    *,
    bold: bool = False,
    align: Align = "left",
    white: bool = False,
) -> Text:
    """One line of lettering, its base line at ``y``."""
    return Text("ON_PLATES" if white else "TEXT", x, y, string, height, align, bold=bold)


def width_of(string: str, height: float = PLAIN, *, bold: bool = False) -> float:
    """Width of a text, paper mm."""
    return text_width(string, height, bold=bold)


def fitted(string: str, room: float, heights: Sequence[float], *, bold: bool = False) -> float:
    """The greatest of the heights, falling, at which a text fits a width; the least where none does."""
    return next((high for high in heights if width_of(string, high, bold=bold) <= room), heights[-1])


def plate(left: float, bottom: float, right: float, top: float, *windows: tuple[float, float, float, float]) -> Hatch:
    """A black rectangle, white where it has windows (left, bottom, right, top)."""
    return Hatch("PLATES", SOLID, (box_nodes(left, bottom, right, top), *(box_nodes(*window) for window in windows)))


def field(left: float, bottom: float, right: float, top: float, *, layer: str = "TABLES") -> Path:
    """An empty box to write in."""
    return box(layer, left, bottom, right, top)


def time_field(left: float, bottom: float, right: float, top: float) -> list[Mark]:
    """A box for a time of day, with its colon."""
    middle, centre = (left + right) / 2, (bottom + top) / 2
    return [field(left, bottom, right, top), *(dot("DETAIL", (middle, centre + up), 0.3) for up in (-0.9, 0.9))]


def dot(layer: str, centre: Place, radius: float) -> Fill:
    """A filled circle."""
    return Fill(layer, circle_nodes(centre, radius))


def dots(first: float, last: float, y: float) -> list[Mark]:
    """A row of dots that leads the eye across, from ``first`` to ``last``."""
    count = int((last - first) // 2.5)
    return [dot("DETAIL", (last - 2.5 * step, y + 0.2), 0.2) for step in range(count)]


def polygon(layer: str, places: Sequence[Place]) -> Fill:
    """A filled polygon."""
    return Fill(layer, tuple((x, y, 0.0) for x, y in places))


def turned(places: Sequence[Place], centre: Place, way: Place) -> list[Place]:
    """Places given along and across a direction, turned into it about a centre."""
    (x, y), (along, up) = centre, way
    return [(x + a * along - b * up, y + a * up + b * along) for a, b in places]


def head(layer: str, tip: Place, way: Place, length: float = 2.6, half: float = 0.9) -> Fill:
    """An arrowhead whose point looks along a unit vector."""
    return polygon(layer, turned(((0.0, 0.0), (-length, half), (-length, -half)), tip, way))


def arrow(centre: Place, way: Place, length: float = 12.0) -> Fill:
    """A broad arrow, its middle at ``centre``."""
    a, b, c, d = length / 2, length / 2 - 7.0, 2.0, 4.0
    outline = ((-a, -c), (b, -c), (b, -d), (a, 0.0), (b, d), (b, c), (-a, c))
    return polygon("DETAIL", turned(outline, centre, way))


def towards_reader(centre: Place) -> list[Mark]:
    """The sign of an arrow that comes out of the paper: its point in a ring."""
    return [_thick_ring(centre, 4.0, 0.7), dot("DETAIL", centre, 1.1)]


def from_reader(centre: Place) -> list[Mark]:
    """The sign of an arrow that goes into the paper: its feathers in a ring."""
    reach, (x, y) = 3.3 * math.sqrt(0.5), centre
    feathers = [line("TICKS", (x - reach, y - up * reach), (x + reach, y + up * reach)) for up in (1, -1)]
    return [_thick_ring(centre, 4.0, 0.7), *feathers]


def _thick_ring(centre: Place, radius: float, thick: float) -> Hatch:
    outer, inner = circle_nodes(centre, radius), circle_nodes(centre, radius - thick)
    return Hatch("DETAIL", SOLID, (outer, inner))


def upward_triangle(centre: Place, way: Place, size: float = 1.6) -> Fill:
    """A small triangle that points along a unit vector: a place to mark with tape."""
    return polygon("DETAIL", turned(((size * 0.6, 0.0), (-size * 0.6, size * 0.75), (-size * 0.6, -size * 0.75)), centre, way))


def numbered(centre: Place, number: int) -> list[Mark]:
    """The number of a corner in its ring."""
    text = words(centre[0], centre[1] - PLAIN / 2, str(number), PLAIN, bold=True, align="middle")
    return [ring("DIMENSIONS", centre, 3.6), text]


__all__ = [
    "APART",
    "HEADING",
    "HEIGHT",
    "KEY",
    "LAYERS",
    "LEFT",
    "MARGIN",
    "OFF_LINE",
    "PLAIN",
    "RIGHT",
    "SMALL",
    "SOLID",
    "STRONG",
    "TITLE",
    "WIDTH",
    "Align",
    "arrow",
    "dot",
    "dots",
    "down",
    "field",
    "fitted",
    "from_reader",
    "head",
    "numbered",
    "plate",
    "polygon",
    "ring",
    "time_field",
    "towards_reader",
    "turned",
    "upward_triangle",
    "width_of",
    "words",
]
