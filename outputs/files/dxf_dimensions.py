"""Dimensions in a DXF: one style for each scale, and each dimension as a true DIMENSION with its picture.

Terms
-----
dimension style
    Sizes in paper mm and one factor, DIMSCALE = 1 / scale, that turns them into model mm. The factor for lengths, DIMLFAC, is
    always 1: the figure printed is the figure measured. DIMRND is never written, because 0 is read as "no decimals" by some.
picture
    The lines, arrows and text of a dimension as the sheet laid them out. They stand in an anonymous block of the DIMENSION. A
    seat shows them until somebody edits the dimension; it then draws its own from the style, with the same figure.
override
    What one dimension has different from its style.
"""

from __future__ import annotations

import re
from math import cos, hypot, radians, sin
from typing import TYPE_CHECKING, Any

from outputs.sheet.drafting import DraftingStyle, number, scale_designation
from outputs.sheet.entities import Text
from outputs.sheet.lettering import DXF_STYLE, printed

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ezdxf.document import Drawing
    from ezdxf.layouts import BaseLayout

    from outputs.sheet.entities import Dimension

_BY_LAYER = 256
_AS_LAYER = -1  # line weight
_MILLIMETRES = 4
_EXCLUSIVE, _TEXT_PLACED = 32, 128  # flags of a dimension's type
_KINDS = {"linear": 0, "diameter": 3, "radius": 4}
_PREFIX = {"linear": "", "diameter": "Ø", "radius": "R"}  # that the style itself prints
_DECIMALS = 2
_LEVEL_TEXT = {"dimtih": 1, "dimtoh": 1, "dimtofl": 0}  # a radius on a bent leader with its text level


def style_name(scale: float) -> str:
    """Name of the dimension style of a scale.

    >>> style_name(0.2), style_name(5.0)
    ('SCALE_1_5', 'SCALE_5_1')
    """
    return "SCALE_" + "".join(sign if sign.isalnum() else "_" for sign in scale_designation(scale))


def add_styles(doc: Drawing, scales: Iterable[float], style: DraftingStyle) -> dict[float, str]:
    """Define one dimension style for each scale; give their names by scale. The first becomes that of the header."""
    names: dict[float, str] = {}
    for scale in scales:
        if scale in names:
            continue
        name = base = style_name(scale)
        count = 1
        while name in names.values():  # two odd scales that are written alike
            count += 1
            name = f"{base}_{count}"
        names[scale] = name
        _add_style(doc, name, scale, style)
    if names:
        doc.dimstyles.get(next(iter(names.values()))).copy_to_header(doc)
    return names


def _add_style(doc: Drawing, name: str, scale: float, style: DraftingStyle) -> None:
    sizes: dict[str, Any] = {
        "dimscale": 1.0 / scale,
        "dimlfac": 1.0,
        "dimtxt": style.text,
        "dimasz": style.arrow,
        "dimexe": style.extension_past,
        "dimexo": style.extension_gap,
        "dimgap": style.text_gap,
        "dimdli": style.row,
        "dimcen": 0.0,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimtofl": 1,
        "dimtix": 0,
        "dimsoxd": 0,
        "dimatfit": 3,
        "dimtmove": 0,
        "dimlunit": 2,
        "dimdec": _DECIMALS,
        "dimzin": 8,
        "dimdsep": ord(","),
        "dimtol": 0,
        "dimlim": 0,
        "dimtsz": 0.0,
        "dimlwd": _AS_LAYER,
        "dimlwe": _AS_LAYER,
        "dimclrd": _BY_LAYER,
        "dimclre": _BY_LAYER,
        "dimclrt": _BY_LAYER,
        "dimtxsty": DXF_STYLE,
    }
    entry = doc.dimstyles.new(name, dxfattribs=sizes)
    entry.set_arrows(blk="", blk1="", blk2="", ldrblk="")  # closed and filled
    entry.dxf.discard("dimrnd")


def add_dimension(layout: BaseLayout, mark: Dimension, *, style: str, scale: float, drafting: DraftingStyle) -> BaseLayout:
    """Add a DIMENSION and give the empty block that its picture is to be drawn in."""
    block = layout.doc.blocks.new_anonymous_block(type_char="D")
    block.block_record.dxf.units = _MILLIMETRES
    kind = _KINDS[mark.kind] | _EXCLUSIVE
    attributes: dict[str, Any] = {
        "layer": mark.layer,
        "dimstyle": style,
        "geometry": block.name,
        "actual_measurement": mark.measured,
        "text": override_text(mark),
        "text_midpoint": (*mark.text_at, 0.0),
        "attachment_point": 5,
    }
    changes: dict[str, Any] = {}
    if mark.kind == "linear":
        attributes |= {
            "defpoint": (*mark.on_line, 0.0),
            "defpoint2": (*mark.first, 0.0),
            "defpoint3": (*mark.second, 0.0),
            "angle": mark.angle,
        }
        kind |= 0 if _text_in_the_middle(mark, scale, drafting) else _TEXT_PLACED
    else:
        reach = hypot(mark.on_line[0] - mark.second[0], mark.on_line[1] - mark.second[1])
        attributes |= {"defpoint": (*mark.first, 0.0), "defpoint4": (*mark.second, 0.0), "leader_length": reach}
        kind |= _TEXT_PLACED
        changes |= _LEVEL_TEXT
    attributes["dimtype"] = kind
    height = next(part.height for part in mark.parts if isinstance(part, Text) and part.string == mark.text)
    if height != drafting.text:
        changes["dimtxt"] = height
    dimension: Any = layout.new_entity("DIMENSION", attributes)
    if changes:
        dimension.set_acad_dstyle(changes)
    return block


def override_text(mark: Dimension) -> str:
    """Text of a dimension in the words of a DXF: nothing where the style prints it, else with ``<>`` for the figure itself.

    A figure that lies half-way between two roundings is written out, because seats do not agree which way to round it.
    """
    shown = printed(mark.text)
    own = printed(_PREFIX[mark.kind] + number(mark.measured, decimals=_DECIMALS))
    doubtful = abs(mark.measured * 10**_DECIMALS % 1.0 - 0.5) < 1e-6
    if shown == own and not doubtful:
        return ""
    found = re.match(rf"(?:(.*[^\d,])|^)({re.escape(own)})(?![\d,])(.*)$", shown)
    if found is None or doubtful or shown.count(own) > 1:
        return _escaped(shown)
    return _escaped(found[1] or "") + "<>" + _escaped(found[3])


def _escaped(string: str) -> str:
    """Mask the signs that mean something in the text of a dimension."""
    masked = re.sub(r"([\\{}])", r"\\\1", string)
    return masked.replace("^", "^ ")


def _text_in_the_middle(mark: Dimension, scale: float, drafting: DraftingStyle) -> bool:
    """Tell whether the text stands where the style puts it by itself: over the middle of the dimension line."""
    along, across = cos(radians(mark.angle)), sin(radians(mark.angle))
    ends = [x * along + y * across for x, y in (mark.first, mark.second)]
    here = mark.text_at[0] * along + mark.text_at[1] * across
    above = (mark.text_at[1] - mark.on_line[1]) * along - (mark.text_at[0] - mark.on_line[0]) * across
    wanted = (drafting.text_gap + drafting.text / 2.0) / scale
    return abs(here - sum(ends) / 2.0) * scale < 1e-6 and abs(above - wanted) * scale < 1e-6
