"""A print film as DXF (R2010): the solid print as one filled region, each dot of the fade a filled circle of its row's block."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.files.dxf_marks import settled, settled_nodes
from outputs.sheet.lettering import DXF_FONT, DXF_STYLE, printed, width_factor

if TYPE_CHECKING:
    from outputs.files.print_film import Film

SOLID, FADE, REGISTER, WORDS = "PRINT_SOLID", "PRINT_FADE", "REGISTER", "WORDS"
_BYLAYER, _WHITE = 256, 7
_OUTSIDE, _OUTERMOST = 1, 16


def film_dxf(film: Film) -> bytes:
    """The film as a DXF file, millimetres, in the coordinates of the pane. The same film gives the same bytes."""
    import ezdxf
    from ezdxf import units

    from outputs.files.dxf import written

    document = ezdxf.new("R2010", units=units.MM, setup=False)
    document.header["$INSUNITS"] = 4
    document.styles.add(DXF_STYLE, font=DXF_FONT)
    for name in (SOLID, *((FADE,) if film.rows else ()), REGISTER, WORDS):
        document.layers.add(name, color=_WHITE)
    model = document.modelspace()
    model.units = units.MM
    hatch = model.add_hatch(color=_BYLAYER, dxfattribs={"layer": SOLID})
    for order, loop in enumerate(film.solid):
        hatch.paths.add_polyline_path(settled_nodes(loop.vertices), is_closed=True, flags=_OUTERMOST if order else _OUTSIDE)
    for index, row in enumerate(film.rows, start=1):
        name = f"DOT_ROW_{index}"
        dot = document.blocks.new(name)
        dot.block_record.dxf.units = units.MM
        half = row.diameter / 2
        filled = dot.add_hatch(color=_BYLAYER, dxfattribs={"layer": "0"})
        filled.paths.add_polyline_path([(-half, 0.0, 1.0), (half, 0.0, 1.0)], is_closed=True, flags=_OUTSIDE)
        for place in row.dots:
            model.add_blockref(name, settled(*place), dxfattribs={"layer": FADE})
    for first, last in film.strokes:
        model.add_line(settled(*first), settled(*last), dxfattribs={"layer": REGISTER})
    for text in film.texts:
        attributes = {
            "layer": WORDS,
            "style": DXF_STYLE,
            "height": text.height,
            "width": width_factor(text.string),
            "insert": settled(text.x, text.y),
        }
        model.add_text(printed(text.string), dxfattribs=attributes)
    left, bottom, right, top = settled(*film.page)
    model.reset_extents((left, bottom, 0), (right, top, 0))
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (left, bottom, 0), (right, top, 0)
    document.set_modelspace_vport(height=(top - bottom) * 1.05, center=((left + right) / 2, (bottom + top) / 2))
    return written(document)


__all__ = ["FADE", "REGISTER", "SOLID", "WORDS", "film_dxf"]
