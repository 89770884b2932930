"""The tables of a DXF file: header, layers, line types, lettering style and dimension styles.

Terms
-----
dimension style
    How a seat draws a dimension when it draws it anew. There is one for each scale and lettering height on the sheet: its
    sizes are paper mm and ``DIMSCALE`` = 1 / scale brings them into the model, so one figure is the same on every view.
true colour
    A plot style table by colour, such as one that prints every colour index in black, leaves a true colour as it is: what is
    printed in another ink than black has its ink as the true colour of its layer, so a tint stays light and white figures white.
DIMLFAC, DIMRND
    Factor and rounding of what is measured. The first is 1. The second is left out: written as 0 some programs drop every
    decimal.
"""

from __future__ import annotations

from itertools import chain
from math import fsum
from typing import TYPE_CHECKING

from outputs.sheet.drafting import DraftingStyle, scale_designation
from outputs.sheet.entities import Dimension, Fill, Text
from outputs.sheet.layers import BLACK, CONTINUOUS, LINETYPES
from outputs.sheet.lettering import DXF_BOLD_FONT, DXF_BOLD_STYLE, DXF_FONT, DXF_STYLE, DXF_WIDTH
from outputs.sheet.spaces import spaces
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ezdxf.document import Drawing

    from outputs.sheet.entities import Layer, Sheet

DECIMALS = 2
"""Decimals a dimension style prints at most; a dimension that needs others carries its own number of them."""

StyleNames = dict[tuple[float, float], str]
"""Dimension style by (scale, lettering height)."""

_BYLAYER = 256


def set_header(document: Drawing) -> None:
    """Set units (mm, decimal, degrees), line type scales and what a seat shows."""
    document.header.custom_vars.append("Program", PROGRAM)
    document.header["$INSUNITS"] = 4
    document.header["$MEASUREMENT"] = 1
    document.header["$LUNITS"] = 2
    document.header["$LUPREC"] = 2
    document.header["$AUNITS"] = 0
    document.header["$AUPREC"] = 1
    document.header["$LTSCALE"] = 1.0
    document.header["$PSLTSCALE"] = 1  # dashes are paper mm in every viewport
    document.header["$LWDISPLAY"] = 1
    for name, font in ((DXF_STYLE, DXF_FONT), (DXF_BOLD_STYLE, DXF_BOLD_FONT)):
        document.styles.add(name, font=font).dxf.width = DXF_WIDTH
    document.header["$TEXTSTYLE"] = DXF_STYLE


def define_layers(document: Drawing, layers: Iterable[Layer]) -> None:
    """Define the line types and the layers with their widths, colours, inks and what stands on them."""
    for name, dashes in LINETYPES.items():
        if name != CONTINUOUS:
            elements = [dash if number % 2 == 0 else -dash for number, dash in enumerate(dashes)]
            words = name.rsplit("_", 1)[0].replace("_", " ").lower()
            document.linetypes.add(name, [fsum(dashes), *elements], description=f"{words}, ISO 128-2, paper mm")
    for layer in layers:
        entry = document.layers.add(
            layer.name, color=layer.colour, linetype=layer.linetype, lineweight=round(layer.width * 100), plot=layer.plots
        )
        entry.description = layer.what
        if layer.ink != BLACK:
            entry.rgb = (int(layer.ink[1:3], 16), int(layer.ink[3:5], 16), int(layer.ink[5:7], 16))


def define_dimension_styles(document: Drawing, sheets: Iterable[Sheet]) -> StyleNames:
    """Define one dimension style for each scale and lettering height of the sheets, in the order they come."""
    names: StyleNames = {}
    taken: set[str] = set()
    for space in chain.from_iterable(map(spaces, sheets)):
        for mark in space.marks:
            if isinstance(mark, Dimension):
                height = dimension_height(mark)
                if (space.scale, height) not in names:
                    name = _style_name(space.scale, height)
                    while name in taken:  # two scales that round to the same words
                        name += "_"
                    taken.add(name)
                    names[space.scale, height] = name
                    _define_style(document, name, space.scale, height, _arrow_length(mark, space.scale))
    return names


def dimension_height(dimension: Dimension) -> float:
    """Lettering height of a dimension, paper mm."""
    return next((part.height for part in dimension.parts if isinstance(part, Text)), DraftingStyle().text)


def _style_name(scale: float, height: float) -> str:
    words = scale_designation(scale).replace(":", "-").replace(",", ".")
    return f"SCALE_{words}_TEXT_{height:g}"


def _arrow_length(dimension: Dimension, scale: float) -> float:
    """Length of the arrowheads, paper mm: from the point to the middle of the back."""
    for part in dimension.parts:
        if isinstance(part, Fill) and len(part.nodes) == 3:
            (x, y, _), (x1, y1, _), (x2, y2, _) = part.nodes
            length = ((x - (x1 + x2) / 2.0) ** 2 + (y - (y1 + y2) / 2.0) ** 2) ** 0.5 * scale
            return round(float(length), 3)
    return DraftingStyle().arrow


def _define_style(document: Drawing, name: str, scale: float, height: float, arrow: float) -> None:
    drafting = DraftingStyle()
    style = document.dimstyles.new(name)
    dxf = style.dxf
    dxf.dimscale = 1.0 / scale
    dxf.dimlfac = 1.0
    dxf.dimtxt = height
    dxf.dimasz = arrow
    dxf.dimexe = drafting.extension_past
    dxf.dimexo = drafting.extension_gap
    dxf.dimgap = drafting.text_gap
    dxf.dimdli = drafting.row
    dxf.dimtad = 1  # text above the line
    dxf.dimtih = dxf.dimtoh = 0  # and along it
    dxf.dimtofl = 1
    dxf.dimtsz = 0.0
    dxf.dimcen = 0.0
    dxf.dimlunit = 2
    dxf.dimdec = DECIMALS
    dxf.dimzin = 8  # no idle zeros behind the comma
    dxf.dimdsep = ord(",")
    dxf.dimlwd = dxf.dimlwe = -1  # the layer's
    dxf.dimclrd = dxf.dimclre = dxf.dimclrt = _BYLAYER
    dxf.dimtxsty = DXF_STYLE
    style.set_arrows(blk="", blk1="", blk2="", ldrblk="")  # closed and filled
    dxf.discard("dimrnd")


__all__ = ["DECIMALS", "StyleNames", "define_dimension_styles", "define_layers", "dimension_height", "set_header"]
