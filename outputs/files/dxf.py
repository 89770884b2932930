"""One sheet as DXF R2013: the views at full size in the model, the sheet with a window for each view on the paper.

Terms
-----
model
    Full size, millimetres. Each view stands in it where its window is.
paper
    The one layout, of the exact size of the sheet. Its windows (viewports) show the views at their exact scale and are locked.
by layer
    Colour, line width and line type belong to the layer; no entity has its own.

Line types and hatches are in paper mm. The same sheet gives the same bytes: no clock, no random names, no order of chance.
"""

from __future__ import annotations

import io
from threading import Lock
from typing import TYPE_CHECKING, Any

from outputs.files.dxf_dimensions import add_styles
from outputs.files.dxf_marks import MarkWriter
from outputs.files.loops import spaces
from outputs.files.proof import SheetError, prove
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import Dimension, Insert
from outputs.sheet.layers import LINETYPES
from outputs.sheet.lettering import DXF_FONT, DXF_STYLE, DXF_WIDTH

if TYPE_CHECKING:
    from ezdxf.document import Drawing

    from outputs.sheet.entities import Sheet, View

_LOCK = Lock()  # ezdxf.options belongs to the whole process
_MILLIMETRES = 4
_LOCKED = 0x4000  # a viewport whose scale cannot be changed by accident
_ASIDE = '<>/\\":;?*|=`,'  # signs that a layout's name cannot have
_NAME_LENGTH = 31


def dxf_bytes(sheet: Sheet, *, drafting: DraftingStyle | None = None) -> bytes:
    """Give the sheet as a DXF file. The same sheet gives the same bytes.

    ``drafting`` are the sizes the dimension styles get, so that a dimension that is edited is drawn as the others are.
    Raises :class:`outputs.files.proof.SheetError` where the sheet holds what no file may hold.
    """
    prove(sheet)
    with _LOCK:
        return _written(_document(sheet, drafting or DraftingStyle()))


def _document(sheet: Sheet, drafting: DraftingStyle) -> Drawing:
    import ezdxf

    doc = ezdxf.new("R2013", units=_MILLIMETRES, setup=False)
    _set_header(doc)
    _add_tables(doc, sheet)
    styles = add_styles(doc, _scales_of_dimensions(sheet), drafting)
    _add_paper(doc, sheet)
    writer = MarkWriter(doc, sheet.layers, {block.name: block for block in sheet.blocks}, styles, drafting)
    used = _block_use(sheet)
    for block in sheet.blocks:
        scale, shown = used.get(block.name, (1.0, set()))
        writer.add_block(block, scale=scale, shown=shown)
    paper = doc.layouts.get(layout_name(sheet))
    for space in spaces(sheet):
        writer.add_space(paper if space.view is None else doc.modelspace(), space)
    return doc


def layout_name(sheet: Sheet) -> str:
    """Name of the layout: the title of the sheet without the signs a layout's name cannot have, 31 characters at most."""
    name = "".join("-" if sign in _ASIDE or not sign.isprintable() else sign for sign in sheet.title)
    name = " ".join(name.split())[:_NAME_LENGTH].strip()
    return name if name and name.upper() not in ("MODEL", "LAYOUT1") else f"Sheet {name}".strip()


def _set_header(doc: Drawing) -> None:
    settings: dict[str, Any] = {
        "$INSUNITS": _MILLIMETRES,
        "$MEASUREMENT": 1,
        "$LUNITS": 2,
        "$LUPREC": 2,
        "$AUNITS": 0,
        "$LTSCALE": 1.0,
        "$PSLTSCALE": 1,
        "$LWDISPLAY": 1,
        "$TEXTSTYLE": DXF_STYLE,
    }
    for name, value in settings.items():
        doc.header[name] = value


def _add_tables(doc: Drawing, sheet: Sheet) -> None:
    for name, dashes in LINETYPES.items():
        if dashes:
            parts = [length if number % 2 == 0 else -length for number, length in enumerate(dashes)]
            doc.linetypes.add(name, [sum(dashes), *parts], description=name.replace("_", " ").lower())
    style = doc.styles.add(DXF_STYLE, font=DXF_FONT)
    style.dxf.width = DXF_WIDTH
    for layer in sheet.layers:
        entry = doc.layers.add(
            layer.name,
            color=layer.colour,
            linetype=layer.linetype if LINETYPES[layer.linetype] else "Continuous",
            lineweight=round(layer.width * 100),
            plot=layer.plots,
        )
        entry.description = layer.what
    for block in (doc.modelspace(), *(layout for layout in doc.layouts if layout.is_any_paperspace)):
        block.block_record.dxf.units = _MILLIMETRES


def _scales_of_dimensions(sheet: Sheet) -> list[float]:
    """Scales of the views in their order, and 1 where the paper itself has a dimension."""
    scales = [view.scale for view in sheet.views]
    return [*scales, 1.0] if not scales or any(isinstance(mark, Dimension) for mark in sheet.marks) else scales


def _block_use(sheet: Sheet) -> dict[str, tuple[float, set[str]]]:
    """Scale at which each block is inserted first and which of its tags are lettered anywhere."""
    used: dict[str, tuple[float, set[str]]] = {}
    for space in spaces(sheet):
        for mark in space.marks:
            if isinstance(mark, Insert):
                _, shown = used.setdefault(mark.block, (space.scale, set()))
                shown.update(attribute.tag for attribute in mark.attributes if attribute.text is not None)
    return used


def _add_paper(doc: Drawing, sheet: Sheet) -> None:
    """Make the layout, its page and one window for each view; take away the layout a new document has."""
    name, frame_layer = layout_name(sheet), _window_layer(sheet)
    paper = doc.layouts.new(name)
    size = (sheet.width, sheet.height)
    paper.page_setup(size=size, margins=(0, 0, 0, 0), units="mm", scale=(1, 1), name=f"ISO_full_bleed_{sheet.size}")
    paper.set_plot_type(5)
    paper.set_plot_style("monochrome.ctb")
    paper.print_lineweights(True)
    paper.plot_viewport_borders(False)
    paper.block_record.dxf.units = _MILLIMETRES
    main = paper.main_viewport()
    if main is not None:
        main.dxf.layer = frame_layer
    for status, view in enumerate(sheet.views, start=2):
        _add_window(paper, view, frame_layer, status)
    paper.reset_extents((0.0, 0.0, 0.0), (*size, 0.0))
    paper.reset_limits((0.0, 0.0), size)
    doc.layouts.set_active_layout(name)
    doc.layouts.delete("Layout1")
    if sheet.views:
        lefts, bottoms, rights, tops = zip(*(view.window for view in sheet.views), strict=True)
        low, high = (min(lefts), min(bottoms)), (max(rights), max(tops))
        doc.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
        doc.modelspace().reset_limits(low, high)
        height = max(high[1] - low[1], (high[0] - low[0]) / 1.6) * 1.05
        doc.set_modelspace_vport(height=height, center=((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0))


def _window_layer(sheet: Sheet) -> str:
    for layer in sheet.layers:
        if not layer.plots:
            return layer.name
    raise SheetError(f"sheet {sheet.title!r} cannot be written: it has no layer that is not printed for the windows of its views")


def _add_window(paper: Any, view: View, layer: str, status: int) -> None:
    left, bottom, right, top = view.window
    width, height = (right - left) * view.scale, (top - bottom) * view.scale
    window = paper.add_viewport(
        center=(view.paper[0] + width / 2.0, view.paper[1] + height / 2.0),
        size=(width, height),
        view_center_point=((left + right) / 2.0, (bottom + top) / 2.0),
        view_height=top - bottom,
        status=status,
        dxfattribs={"layer": layer},
    )
    window.dxf.flags |= _LOCKED


def _written(doc: Drawing) -> bytes:
    """Write a document so that the same document gives the same bytes; the options of the library are put back.

    Three things would differ from run to run: clock and identity in the header, the mark of the library's version and time in
    a new document, and the order of the class table, which the library takes from a set.
    """
    import ezdxf
    from ezdxf import document
    from ezdxf.sections.classes import REQ_R2004, REQUIRED_CLASSES

    options = ezdxf.options
    saved = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        doc.ezdxf_metadata()[document.CREATED_BY_EZDXF] = document.CONST_MARKER_STRING
        for name in REQUIRED_CLASSES.get(doc.dxfversion, REQ_R2004):
            doc.classes.add_class(name)
        for name in sorted(doc.entitydb.dxf_types_in_use()):
            doc.classes.add_class(name)
        out = io.StringIO(newline="\n")
        doc.write(out)
        return bytes(doc.encode(out.getvalue()))
    finally:
        options.write_fixed_meta_data_for_testing = saved
