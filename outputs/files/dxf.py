"""Sheets as DXF (R2013): the model at full size, each paper as a layout with one window for each view.

Terms
-----
layout
    The sheet in the DXF: its frame, title block and notes in paper mm, and a viewport for each view at its exact scale.
viewport
    The window of a layout through which a view of the model is seen.
fixed meta data
    Dates and random identities that a DXF carries; here they are constants, so that the same sheet gives the same bytes.
"""

from __future__ import annotations

import io
import threading
from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING, Any

from outputs.files.carried import put_into_dxf
from outputs.files.dxf_marks import MarkWriter, settled
from outputs.files.dxf_tables import define_dimension_styles, define_layers, set_header
from outputs.files.proof import prove
from outputs.sheet.moving import shifted
from outputs.sheet.refusal import SheetError
from outputs.sheet.spaces import spaces

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ezdxf.document import Drawing

    from outputs.sheet.entities import Block, Layer, Sheet, View

_LOCK = threading.Lock()  # the options of ezdxf are shared by the whole process
_LOCKED_VIEWPORT = 0x4000
_LIMITS_PLOT = 5  # plot type: the layout
_APART = 100.0  # mm between the views of two sheets in the model


def dxf_bytes(*sheets: Sheet, carried: bytes = b"") -> bytes:
    """Give the sheets as one DXF file: one model and a layout for each. The same sheets give the same bytes.

    ``carried`` is the parcel of the job that they were drawn from (:mod:`outputs.files.carried`).

    The views of the first sheet keep their places in the model, those of each further one stand to the right of what is there. Raises
    :class:`outputs.sheet.refusal.SheetError` where a sheet holds what no file may hold, or where two sheets mean different things by
    one block, and ``ValueError`` where there is no sheet.
    """
    import ezdxf
    from ezdxf import units

    if not sheets:
        raise ValueError("a DXF has one sheet or more")
    for sheet in sheets:
        prove(sheet)
    sheets = _side_by_side(sheets)
    document = ezdxf.new("R2013", units=units.MM, setup=False)
    set_header(document)
    define_layers(document, {layer.name: layer for sheet in reversed(sheets) for layer in sheet.layers}.values())
    styles = define_dimension_styles(document, sheets)
    layouts = _layouts(document, sheets)
    model = document.modelspace()
    model.units = units.MM
    writer = MarkWriter(document, sheets, styles)
    for sheet, layout in zip(sheets, layouts, strict=True):
        layout.units = units.MM
        for space in spaces(sheet):
            writer.write(space, layout if space.view is None else model)
        window_layer = _window_layer(sheet)
        main = layout.main_viewport()
        if main is not None and window_layer is not None:
            main.dxf.layer = window_layer.name  # the library puts it on a layer of its own choice
        for number, view in enumerate(sheet.views):
            _add_viewport(layout, view, window_layer, number)
    _set_extents(document, sheets)
    put_into_dxf(document, carried)
    for block in document.blocks:
        block.block_record.dxf.units = units.MM  # that of the model is not handed down
    return written(document)


def _side_by_side(sheets: Sequence[Sheet]) -> tuple[Sheet, ...]:
    """The sheets with their views apart in the model, and only if they mean the same by the same block."""
    blocks: dict[str, Block] = {}
    apart: list[Sheet] = []
    right = -inf
    for sheet in sheets:
        for block in sheet.blocks:
            if blocks.setdefault(block.name, block) != block:
                raise SheetError(
                    f"the sheets {sheets[0].title!r} and {sheet.title!r} mean different things by the block {block.name!r}"
                )
        if not sheet.views:
            apart.append(sheet)
            continue
        left = min(view.window[0] for view in sheet.views)
        move = 0.0 if right == -inf else right + _APART - left
        moved = sheet if not move else replace(sheet, views=tuple(_moved(view, move) for view in sheet.views))
        right = max(right, *(view.window[2] for view in moved.views))
        apart.append(moved)
    return tuple(apart)


def _moved(view: View, right: float) -> View:
    """A view and its marks moved in the model; on the paper it stays where it is."""
    left, bottom, end, top = view.window
    return replace(
        view, window=(left + right, bottom, end + right, top), marks=tuple(shifted(mark, right, 0.0) for mark in view.marks)
    )


def layout_name(title: str) -> str:
    """Name of the layout: the sheet's title without the characters that DXF keeps for itself."""
    name = "".join("-" if sign in '<>/\\":;?*|=`,' or not sign.isprintable() else sign for sign in title).strip()[:200]
    return name if name and name.upper() != "MODEL" else "Sheet"


def _layouts(document: Drawing, sheets: Sequence[Sheet]) -> list[Any]:
    """Make a layout of its exact size for each sheet, the first to be shown, and drop the one a new drawing comes with."""
    names: list[str] = []
    for sheet in sheets:
        name, count = layout_name(sheet.title), 1
        while name.upper() in [other.upper() for other in names]:
            count += 1
            name = f"{layout_name(sheet.title)} {count}"
        names.append(name)
    for name in names:
        if name in document.layouts:  # the layout of a new drawing has this very name
            document.layouts.rename(name, "Blank")
    others = [other for other in document.layouts.names() if other != "Model"]
    layouts = [document.layouts.new(name) for name in names]
    document.layouts.set_active_layout(names[0])
    for other in others:
        document.layouts.delete(other)
    for layout, sheet in zip(layouts, sheets, strict=True):
        _set_page(layout, sheet)
    return layouts


def _set_page(layout: Any, sheet: Sheet) -> None:
    """Set size, plot and limits of a layout."""
    # first of all: it resets windows, limits and extents
    layout.page_setup(size=(sheet.width, sheet.height), margins=(0, 0, 0, 0), units="mm", scale=(1, 1), name=f"ISO_{sheet.size}")
    layout.set_plot_type(_LIMITS_PLOT)
    layout.set_plot_style("monochrome.ctb")
    layout.print_lineweights(True)
    layout.plot_viewport_borders(False)
    layout.reset_extents((0, 0, 0), (sheet.width, sheet.height, 0))
    layout.reset_limits((0, 0), (sheet.width, sheet.height))


def _window_layer(sheet: Sheet) -> Layer | None:
    """Give the layer the windows stand on: the one that does not print, whatever the office calls it."""
    return next((layer for layer in sheet.layers if not layer.plots), None)


def _add_viewport(layout: Any, view: View, layer: Layer | None, number: int) -> None:
    left, bottom, right, top = view.window
    width, height = right - left, top - bottom
    viewport = layout.add_viewport(
        center=settled(view.paper[0] + width * view.scale / 2.0, view.paper[1] + height * view.scale / 2.0),
        size=settled(width * view.scale, height * view.scale),
        view_center_point=settled((left + right) / 2.0, (bottom + top) / 2.0),
        view_height=settled(height)[0],
        status=number + 2,  # 1 is the layout's own
        dxfattribs={"layer": "0" if layer is None else layer.name},
    )
    viewport.dxf.flags |= _LOCKED_VIEWPORT


def _set_extents(document: Drawing, sheets: Sequence[Sheet]) -> None:
    """Set extents and limits of the model to the windows of the views, and what a seat first shows of it."""
    windows = [view.window for sheet in sheets for view in sheet.views] or [(0.0, 0.0, sheets[0].width, sheets[0].height)]
    left, bottom = settled(min(window[0] for window in windows), min(window[1] for window in windows))
    right, top = settled(max(window[2] for window in windows), max(window[3] for window in windows))
    model = document.modelspace()
    model.reset_extents((left, bottom, 0), (right, top, 0))
    model.reset_limits((left, bottom), (right, top))
    header = document.header
    header["$EXTMIN"], header["$EXTMAX"] = (left, bottom, 0), (right, top, 0)  # of a sheet without views the library knows none
    header["$TILEMODE"] = 0  # a seat opens the sheet, not the model
    (height,), middle = settled((top - bottom) * 1.05), settled((left + right) / 2.0, (bottom + top) / 2.0)
    document.set_modelspace_vport(height=height, center=middle)


def written(document: Drawing) -> bytes:
    """Write the document with fixed meta data and its classes in a fixed order."""
    import ezdxf
    from ezdxf import document as documents
    from ezdxf.sections.classes import REQ_R2004, REQUIRED_CLASSES

    with _LOCK:
        saved = ezdxf.options.write_fixed_meta_data_for_testing
        ezdxf.options.write_fixed_meta_data_for_testing = True
        try:
            # the option does not reach what was written when the document was made, nor the order of a set
            document.ezdxf_metadata()[documents.CREATED_BY_EZDXF] = documents.CONST_MARKER_STRING
            for name in REQUIRED_CLASSES.get(document.dxfversion, REQ_R2004):
                document.classes.add_class(name)
            for name in sorted(document.entitydb.dxf_types_in_use()):
                document.classes.add_class(name)
            stream = io.StringIO(newline="\n")
            document.write(stream)
        finally:
            ezdxf.options.write_fixed_meta_data_for_testing = saved
    # UTF-8, as every DXF from R2007 on is. GDAL 3.12 goes by $DWGCODEPAGE even then and wants DXF_ENCODING=UTF-8; a code page that
    # suits it is none that DXF knows.
    encoded: bytes = document.encode(stream.getvalue())
    return encoded


__all__ = ["dxf_bytes", "layout_name", "written"]
