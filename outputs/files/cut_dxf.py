"""The full-size file that the glass is cut from: its outline and nothing else.

One closed contour on the layer GLASS, lines and true arcs as bulges of one polyline (a circle as a circle), millimetres, seen from
outside, in the coordinates of the pane: its origin is that of every sheet. No text, no block, no second contour: what a cutting table
must not cut is not there.

R12 is written here, as every table reads it: header, one line type, one layer, one entity (version AC1009 of the format). Its header
knows no unit; ``$INSUNITS`` is written all the same and skipped by what does not know it.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Arc, bounding_box, segments

if TYPE_CHECKING:
    from geometry.outline import Outline

LAYER = "GLASS"
MILLIMETRES = 4
_CLOSED, _FOLLOWED = 1, 1  # flags of a polyline: closed; its vertices follow
_CONTINUOUS = 65  # the sign of a line type's alignment, as the format wants it
_WHITE = 7
_SAME = 1e-9  # mm and share of the radius: arcs of one circle

Pairs = list[tuple[int, str | int | float]]


def cut_dxf(outline: Outline, *, version: str = "R12") -> bytes:
    """The outline as a DXF file to cut from, ``version`` R12 or R2010. The same outline gives the same bytes."""
    if version == "R12":
        return _r12(outline)
    if version == "R2010":
        return _r2010(outline)
    raise ValueError(f"found the version {version!r} of DXF; allowed: R12, R2010")


def circle_of(outline: Outline) -> tuple[float, float, float] | None:
    """Centre and radius where the outline is one full circle, else None, mm."""
    parts = segments(outline)
    arcs = [part for part in parts if isinstance(part, Arc)]
    if not arcs or len(arcs) < len(parts):
        return None
    (x, y), radius = arcs[0].centre, arcs[0].radius
    for arc in arcs[1:]:
        if math.dist(arc.centre, (x, y)) > _SAME * radius or abs(arc.radius - radius) > _SAME * radius:
            return None
    return x, y, radius


def _r12(outline: Outline) -> bytes:
    box = bounding_box(outline)
    pairs: Pairs = [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"), (9, "$INSUNITS"), (70, MILLIMETRES)]
    for name, (x, y) in (("$EXTMIN", (box.left, box.bottom)), ("$EXTMAX", (box.right, box.top))):
        pairs += [(9, name), (10, x), (20, y), (30, 0.0)]
    pairs += [(0, "ENDSEC"), (0, "SECTION"), (2, "TABLES")]
    pairs += [(0, "TABLE"), (2, "LTYPE"), (70, 1), (0, "LTYPE"), (2, "CONTINUOUS"), (70, 0), (3, "Solid line")]
    pairs += [(72, _CONTINUOUS), (73, 0), (40, 0.0), (0, "ENDTAB")]
    pairs += [
        (0, "TABLE"),
        (2, "LAYER"),
        (70, 1),
        (0, "LAYER"),
        (2, LAYER),
        (70, 0),
        (62, _WHITE),
        (6, "CONTINUOUS"),
        (0, "ENDTAB"),
    ]
    pairs += [(0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES"), *_entity(outline), (0, "ENDSEC"), (0, "EOF")]
    return "".join(f"{code:>3}\n{_value(code, value)}\n" for code, value in pairs).encode("ascii")


def _entity(outline: Outline) -> Pairs:
    round_one = circle_of(outline)
    if round_one is not None:
        x, y, radius = round_one
        return [(0, "CIRCLE"), (8, LAYER), (10, x), (20, y), (30, 0.0), (40, radius)]
    pairs: Pairs = [(0, "POLYLINE"), (8, LAYER), (66, _FOLLOWED), (10, 0.0), (20, 0.0), (30, 0.0), (70, _CLOSED)]
    for x, y, bulge in outline.vertices:
        pairs += [(0, "VERTEX"), (8, LAYER), (10, x), (20, y), (30, 0.0)]
        if bulge:
            pairs.append((42, bulge))
    return [*pairs, (0, "SEQEND"), (8, LAYER)]


def _value(code: int, value: str | int | float) -> str:
    """A value as it is written: lengths to a billionth of a millimetre, bulges, which have no unit, to three decimals more."""
    if not isinstance(value, float):
        return str(value)
    text = f"{round(value, 12 if code == 42 else 9) + 0.0:.{12 if code == 42 else 9}f}".rstrip("0")
    return f"{text}0" if text.endswith(".") else text


def _r2010(outline: Outline) -> bytes:
    import ezdxf
    from ezdxf import units

    from outputs.files.dxf import written
    from outputs.files.dxf_marks import settled_nodes

    document = ezdxf.new("R2010", units=units.MM, setup=False)
    document.header["$INSUNITS"] = MILLIMETRES
    document.layers.add(LAYER, color=_WHITE)
    model = document.modelspace()
    model.units = units.MM
    box = bounding_box(outline)
    for name, place in (("$EXTMIN", (box.left, box.bottom, 0)), ("$EXTMAX", (box.right, box.top, 0))):
        document.header[name] = place
    round_one = circle_of(outline)
    if round_one is not None:
        model.add_circle(round_one[:2], round_one[2], dxfattribs={"layer": LAYER})
    else:
        nodes = settled_nodes(outline.vertices)
        model.add_lwpolyline(nodes, format="xyb", close=True, dxfattribs={"layer": LAYER})
    return written(document)


__all__ = ["LAYER", "circle_of", "cut_dxf"]
