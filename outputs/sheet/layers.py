"""The layers of a sheet, their line widths and line types.

Terms
-----
d
    The width of a line, mm. ISO 128-2 gives the parts of a broken line as multiples of it: gap 3d, dash 12d, long dash 24d,
    short dash 6d, dot half d.
line type
    The run of dashes and gaps, paper mm, first dash first. An empty run is a continuous line.
wide, narrow
    Glass, frit and cut outlines are 0.50, the rest of the drawing half of it; hatches are thinner still. The frit, too thin to
    be drawn to scale, is a black strip in the sections.
tint
    A layer whose ink is not black is filled, not stroked: it lies under the lines.

Widths come from the series of ISO 128-2, which is also in DXF's list of line weights. Colours are DXF colour indices and
only help on the screen: prints are black, but for layers with another ink, which DXF has as their true colour.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import TYPE_CHECKING, Any

from outputs.sheet.entities import Layer, Sheet

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

_GAP, _DOT, _SHORT, _DASH, _LONG = 3.0, 0.5, 6.0, 12.0, 24.0  # multiples of d, ISO 128-2


def _of_width(width: float, *multiples: float) -> tuple[float, ...]:
    return tuple(round(multiple * width, 4) for multiple in multiples)


CONTINUOUS = "CONTINUOUS"
LINETYPES: dict[str, tuple[float, ...]] = {
    CONTINUOUS: (),
    "DASHED_025": _of_width(0.25, _DASH, _GAP),
    "LONG_DASH_DOT_025": _of_width(0.25, _LONG, _GAP, _DOT, _GAP),
    "LONG_DASH_DOUBLE_DOT_025": _of_width(0.25, _LONG, _GAP, _DOT, _GAP, _DOT, _GAP),
    "LONG_DASH_SHORT_DASH_018": _of_width(0.18, _LONG, _GAP, _SHORT, _GAP),
}
"""Line types, paper mm: dash, gap, dash, gap ... The last three figures are the line width they are made for, 1/100 mm."""

BLACK, WHITE = "#000000", "#ffffff"

LAYERS: tuple[Layer, ...] = (
    Layer("FRIT_TINT", 0.18, CONTINUOUS, 253, "solid print, tinted", ink="#b4b4b4"),
    Layer("FADE_TINT", 0.18, CONTINUOUS, 254, "fade of the print, tinted", ink="#dedede"),
    Layer("INSIDE_TINT", 0.18, CONTINUOUS, 254, "print in the view from inside, tinted", ink="#cfcfcf"),
    Layer("BEAD_BAND", 0.18, CONTINUOUS, 254, "band of the bonding bead, tinted", ink="#d9d9d9"),
    Layer("RECESS", 0.35, CONTINUOUS, 8, "wall of the recess in the frame"),
    Layer("GLASS", 0.50, CONTINUOUS, 7, "edge of the glass"),
    Layer("FRIT_OUTER", 0.18, CONTINUOUS, 30, "outer edge of the frit band"),
    Layer("FRIT_INNER", 0.50, CONTINUOUS, 30, "inner edge of the frit band"),
    Layer("FRIT_FADE", 0.18, "LONG_DASH_SHORT_DASH_018", 30, "where the solid frit ends and its fade begins"),
    Layer("BEAD_EDGE", 0.25, "DASHED_025", 5, "edges of the bonding bead, hidden behind the frit"),
    Layer("BEAD_CENTRE", 0.25, "LONG_DASH_DOT_025", 5, "centre line of the bonding bead"),
    Layer("SIGHT_LINE", 0.25, "LONG_DASH_DOUBLE_DOT_025", 3, "end of the landing, edge of the clear view"),
    Layer("SPACERS", 0.25, CONTINUOUS, 94, "spacer blocks"),
    Layer("CHOCKS", 0.25, CONTINUOUS, 34, "setting and location chocks"),
    Layer("BACKFILL", 0.18, CONTINUOUS, 132, "backfilled joint"),
    Layer("MATERIAL_FRAME", 0.25, CONTINUOUS, 8, "cut frame"),
    Layer("MATERIAL_GLASS", 0.18, CONTINUOUS, 152, "cut glass"),
    Layer("MATERIAL_INTERLAYER", 0.18, CONTINUOUS, 202, "cut interlayer", ink="#bdbdbd"),
    Layer("MATERIAL_ADHESIVE", 0.18, CONTINUOUS, 5, "cut bonding bead"),
    Layer("MATERIAL_BACKER", 0.18, CONTINUOUS, 52, "cut backer rod"),
    Layer("MATERIAL_SPACER", 0.18, CONTINUOUS, 94, "cut spacer block"),
    Layer("MATERIAL_CHOCK", 0.18, CONTINUOUS, 34, "cut chock", ink="#595959"),
    Layer("MATERIAL_FRIT", 0.70, CONTINUOUS, 30, "cut frit, thicker than it is"),
    Layer("INSIDE_OUTLINE", 0.25, CONTINUOUS, 7, "edges of glass and print in the view from inside"),
    Layer("CUT_OUTLINE", 0.50, CONTINUOUS, 7, "outlines of cut faces"),
    Layer("SEEN_OUTLINE", 0.25, CONTINUOUS, 8, "edges seen beyond the cut"),
    Layer("BREAK_LINES", 0.25, CONTINUOUS, 8, "where a part is broken off"),
    Layer("CENTRE_LINES", 0.25, "LONG_DASH_DOT_025", 8, "centre lines and symmetry"),
    Layer("DETAIL", 0.35, CONTINUOUS, 7, "lines of the plan repeated in an enlarged detail, and in the key of lines"),
    Layer("DETAIL_WIDE", 0.50, CONTINUOUS, 7, "the same, glass and inner edge of the frit"),
    Layer("DETAIL_DASHED", 0.25, "DASHED_025", 5, "the same, edges of the bead"),
    Layer("DETAIL_CHAIN", 0.25, "LONG_DASH_DOT_025", 5, "the same, centre of the bead"),
    Layer("DETAIL_PHANTOM", 0.25, "LONG_DASH_DOUBLE_DOT_025", 3, "the same, end of the landing"),
    Layer("DETAIL_FADE", 0.18, "LONG_DASH_SHORT_DASH_018", 30, "the same, end of the solid frit"),
    Layer("DETAIL_THIN", 0.18, CONTINUOUS, 30, "the same, outer edge of the frit"),
    Layer("DIMENSIONS", 0.25, CONTINUOUS, 174, "dimensions"),
    Layer("TEXT", 0.25, CONTINUOUS, 7, "notes and view titles"),
    Layer("SECTION_MARKS", 0.50, CONTINUOUS, 14, "ends of cutting planes, start of the bead"),
    Layer("ITEM_LEADERS", 0.25, CONTINUOUS, 174, "item numbers and their leaders"),
    Layer("BOND_STRESS", 0.25, CONTINUOUS, 1, "diagram of the stress in the bead"),
    Layer("SHEET", 0.70, CONTINUOUS, 7, "frame of the sheet"),
    Layer("TITLE", 0.35, CONTINUOUS, 7, "title block"),
    Layer("TABLES", 0.25, CONTINUOUS, 7, "rules of the tables"),
    Layer("TABLE_HEADS", 0.50, CONTINUOUS, 7, "first and last rules of the tables"),
    Layer("FLAGS", 0.50, CONTINUOUS, 1, "flags of the findings"),
    Layer("FLAG_FIGURES", 0.18, CONTINUOUS, 255, "numbers in filled flags", ink=WHITE),
    Layer("VIEWPORTS", 0.18, CONTINUOUS, 9, "windows of the views, not printed", plots=False),
)

_FORBIDDEN = set('<>/\\":;?*|=`,')
_TAKEN = ("0", "DEFPOINTS")


class LayerNameError(ValueError):
    """An office's own layer name cannot be used."""


def layer_named(name: str) -> Layer:
    """Give the layer of that name. Raises KeyError."""
    for layer in LAYERS:
        if layer.name == name:
            return layer
    raise KeyError(name)


def checked_mapping(mapping: Mapping[str, str], *, layers: Iterable[Layer] = LAYERS) -> dict[str, str]:
    """Prove an office's own names: layer name here to layer name there.

    Raises :class:`LayerNameError`, naming every fault, for a layer that does not exist, a name that DXF does not allow, and
    two layers that would fall into one.
    """
    own = [layer.name for layer in layers]
    faults = [f"there is no layer {name!r}; the layers are {', '.join(own)}" for name in mapping if name not in own]
    for name, wanted in mapping.items():
        bad = [sign for sign in dict.fromkeys(wanted) if sign in _FORBIDDEN or not sign.isprintable()]
        if not wanted.strip() or wanted != wanted.strip() or len(wanted) > 255 or bad or wanted.upper() in _TAKEN:
            signs = " ".join(sorted(_FORBIDDEN))
            faults.append(
                f"layer {name!r} cannot be called {wanted!r}: allowed are 1 to 255 characters without {signs}, not 0 or Defpoints"
            )
    taken: dict[str, str] = {}
    for name in own:
        wanted = mapping.get(name, name).upper()
        if wanted in taken:
            faults.append(f"layers {taken[wanted]!r} and {name!r} would both be called {mapping.get(name, name)!r}")
        taken.setdefault(wanted, name)
    if faults:
        raise LayerNameError("; ".join(faults))
    return dict(mapping)


def renamed(layers: Iterable[Layer], mapping: Mapping[str, str]) -> tuple[Layer, ...]:
    """Give the layers under an office's own names; layers that are not in the mapping keep theirs.

    >>> renamed((layer_named("GLASS"),), {"GLASS": "G-PANE"})[0].name
    'G-PANE'
    """
    layers = tuple(layers)
    names = checked_mapping(mapping, layers=layers)
    return tuple(replace(layer, name=names.get(layer.name, layer.name)) for layer in layers)


def with_layer_names(sheet: Sheet, mapping: Mapping[str, str]) -> Sheet:
    """Give the same sheet under an office's own layer names. Raises :class:`LayerNameError`."""
    layers = renamed(sheet.layers, mapping)
    if not mapping:
        return sheet
    return replace(
        sheet,
        layers=layers,
        blocks=_moved(sheet.blocks, mapping),
        views=_moved(sheet.views, mapping),
        marks=_moved(sheet.marks, mapping),
    )


def _moved(value: Any, mapping: Mapping[str, str]) -> Any:
    """Give the value with every ``layer`` in it renamed, however deep it stands."""
    if isinstance(value, tuple):
        if not value or not (is_dataclass(value[0]) or isinstance(value[0], tuple)):
            return value
        return tuple(_moved(item, mapping) for item in value)
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changes: dict[str, Any] = {}
    for entry in fields(value):
        was = getattr(value, entry.name)
        now = mapping.get(was, was) if entry.name == "layer" else was
        if entry.name in ("marks", "parts", "attributes", "text"):
            now = _moved(was, mapping)
        if now is not was:
            changes[entry.name] = now
    return replace(value, **changes) if changes else value


__all__ = [
    "BLACK",
    "CONTINUOUS",
    "LAYERS",
    "LINETYPES",
    "LayerNameError",
    "checked_mapping",
    "layer_named",
    "renamed",
    "with_layer_names",
]
