"""Layers: widths and line types by ISO 128-2, and an office's own names."""

from __future__ import annotations

import importlib.util
from dataclasses import fields, is_dataclass
from pathlib import Path

import pytest

from outputs.sheet.layers import CONTINUOUS, LAYERS, LINETYPES, LayerNameError, layer_named, renamed, with_layer_names

NAMES = [
    "FRIT_TINT",
    "FADE_TINT",
    "INSIDE_TINT",
    "BEAD_BAND",
    "RECESS",
    "GLASS",
    "FRIT_OUTER",
    "FRIT_INNER",
    "FRIT_FADE",
    "BEAD_EDGE",
    "BEAD_CENTRE",
    "SIGHT_LINE",
    "SPACERS",
    "CHOCKS",
    "BACKFILL",
    "MATERIAL_FRAME",
    "MATERIAL_GLASS",
    "MATERIAL_INTERLAYER",
    "MATERIAL_ADHESIVE",
    "MATERIAL_BACKER",
    "MATERIAL_SPACER",
    "MATERIAL_CHOCK",
    "MATERIAL_FRIT",
    "INSIDE_OUTLINE",
    "CUT_OUTLINE",
    "SEEN_OUTLINE",
    "BREAK_LINES",
    "CENTRE_LINES",
    "DETAIL",
    "DETAIL_WIDE",
    "DETAIL_DASHED",
    "DETAIL_CHAIN",
    "DETAIL_PHANTOM",
    "DETAIL_FADE",
    "DETAIL_THIN",
    "DIMENSIONS",
    "TEXT",
    "SECTION_MARKS",
    "ITEM_LEADERS",
    "BOND_STRESS",
    "SHEET",
    "TITLE",
    "TABLES",
    "TABLE_HEADS",
    "FLAGS",
    "FLAG_FIGURES",
    "VIEWPORTS",
]


@pytest.fixture(scope="module")
def rich_sheet():
    """A sheet with every kind of mark, from the module beside this one."""
    spec = importlib.util.spec_from_file_location("rich_sheet", Path(__file__).with_name("rich_sheet.py"))
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module.rich_sheet()


def test_names_stand_in_their_order():
    assert [layer.name for layer in LAYERS] == NAMES


def test_widths_are_of_the_series_of_iso_128_2():
    series = {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}
    assert {layer.width for layer in LAYERS} <= series
    assert layer_named("CUT_OUTLINE").width == 2 * layer_named("DIMENSIONS").width  # wide and narrow are 2 : 1
    assert layer_named("MATERIAL_GLASS").width < layer_named("DIMENSIONS").width


def test_only_the_windows_do_not_print():
    assert [layer.name for layer in LAYERS if not layer.plots] == ["VIEWPORTS"]


@pytest.mark.parametrize("name", [name for name in LINETYPES if name != CONTINUOUS])
def test_dashes_are_multiples_of_the_line_width(name):
    """ISO 128-2, as read in secondary sources: gap 3d, dash 12d, long dash 24d, dot 0,5d at most; the short dash of 6d from memory."""
    dashes = LINETYPES[name]
    width = int(name[-3:]) / 100
    assert {layer.width for layer in LAYERS if layer.linetype == name} == {width}
    assert len(dashes) % 2 == 0
    assert all(round(gap / width, 6) == 3.0 for gap in dashes[1::2])
    multiples = {round(dash / width, 6) for dash in dashes[::2]}
    dotted = {24.0, 0.5}
    wanted = {"DASHED": {12.0}, "LONG_DASH_DOT": dotted, "LONG_DASH_DOUBLE_DOT": dotted, "LONG_DASH_SHORT_DASH": {24.0, 6.0}}
    assert multiples == wanted[name[:-4]]


def test_outlines_of_the_plan_are_told_apart_in_black():
    plan = ("RECESS", "GLASS", "FRIT_FADE", "BEAD_EDGE", "BEAD_CENTRE", "SIGHT_LINE")  # the frit is as strong as the glass
    looks = {(layer_named(name).width, layer_named(name).linetype) for name in plan}
    assert len(looks) == len(plan)


def layers_in(value):
    if isinstance(value, tuple):
        return {name for item in value for name in layers_in(item)}
    if is_dataclass(value):
        own = {value.layer} if hasattr(value, "layer") else set()
        return own | {name for entry in fields(value) for name in layers_in(getattr(value, entry.name))}
    return set()


def test_an_office_renames_a_layer_everywhere(rich_sheet):
    mapping = {"GLASS": "G-PANE", "DIMENSIONS": "G PANE DIMS", "CHOCKS": "Y-BLOK", "TITLE": "B-TITL"}
    before, sheet = layers_in((rich_sheet.views, rich_sheet.marks)), with_layer_names(rich_sheet, mapping)
    after = layers_in((sheet.views, sheet.marks))
    assert after == {mapping.get(name, name) for name in before}
    assert set(mapping) <= before  # each of them was really there
    assert {layer.name for layer in sheet.layers} >= after - {"0"}
    assert layers_in(sheet.blocks) == {"0"}
    assert with_layer_names(rich_sheet, {}) is rich_sheet


@pytest.mark.parametrize(
    ("mapping", "words"),
    [
        ({"PANE": "G-PANE"}, "there is no layer 'PANE'; the layers are FRIT_TINT, FADE_TINT"),
        ({"GLASS": "G/PANE"}, "cannot be called 'G/PANE'"),
        ({"GLASS": ""}, "1 to 255 characters"),
        ({"GLASS": "x" * 256}, "1 to 255 characters"),
        ({"GLASS": "0"}, "not 0 or Defpoints"),
        ({"GLASS": "defpoints"}, "not 0 or Defpoints"),
        ({"GLASS": "recess"}, "layers 'RECESS' and 'GLASS' would both be called 'recess'"),
        ({"GLASS": "A", "RECESS": "a"}, "would both be called"),
    ],
)
def test_names_that_cannot_be_used_are_refused(mapping, words):
    with pytest.raises(LayerNameError, match=words.replace("(", r"\(")):
        renamed(LAYERS, mapping)


def test_layers_may_change_names_with_each_other():
    swapped = renamed(LAYERS, {"GLASS": "RECESS", "RECESS": "GLASS"})
    names = [layer.name for layer in LAYERS]
    assert [swapped[names.index(name)].name for name in ("RECESS", "GLASS")] == ["GLASS", "RECESS"]
