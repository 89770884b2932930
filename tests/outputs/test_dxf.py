"""The DXF as others read it: ezdxf's own checks, GDAL, and the numbers of the file itself.

The facts of the format (units 4 = mm, weights in 1/100 mm, bulge = tan(sweep / 4), group 42 of a dimension = what it
measures) are those of the published DXF reference.
"""

from __future__ import annotations

import hashlib
import io
import math
import os
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest
from ezdxf import recover

from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.entities import Dimension, Fill, Hatch, Text
from outputs.sheet.entities import Path as Mark_path
from outputs.sheet.layers import LAYERS, LINETYPES, with_layer_names
from outputs.sheet.refusal import SheetError

HERE = Path(__file__).parent


@pytest.fixture(scope="module")
def document(dxf_file):
    return ezdxf.read(io.StringIO(dxf_file.decode("utf-8")))


def dimensions(document):
    return list(document.modelspace().query("DIMENSION"))


def test_two_audits_find_nothing_and_repair_nothing(dxf_file):
    document, first = recover.read(io.BytesIO(dxf_file))
    second = document.audit()
    for auditor in (first, second):
        assert [str(fault.message) for fault in (*auditor.errors, *auditor.fixes)] == []


def test_version_units_and_extents(document, sheet):
    header = document.header
    assert document.dxfversion == "AC1027"  # R2013
    assert (header["$INSUNITS"], header["$MEASUREMENT"], header["$PSLTSCALE"], header["$LTSCALE"]) == (4, 1, 1, 1.0)
    assert {block.block_record.dxf.units for block in document.blocks} == {4}
    lefts, bottoms, rights, tops = zip(*(view.window for view in sheet.views), strict=True)
    assert tuple(header["$EXTMIN"])[:2] == (min(lefts), min(bottoms))
    assert tuple(header["$EXTMAX"])[:2] == (max(rights), max(tops))


def test_layers_have_their_width_and_line_type(document):
    for layer in LAYERS:
        entry = document.layers.get(layer.name)
        assert entry.dxf.lineweight == round(layer.width * 100)
        assert entry.dxf.linetype.upper() == layer.linetype
        assert entry.dxf.plot == int(layer.plots)
    for name, dashes in LINETYPES.items():
        if dashes:
            tags = [tag.value for tag in document.linetypes.get(name).pattern_tags.tags if tag.code == 49]
            assert [abs(value) for value in tags] == pytest.approx(dashes)
            assert all((value > 0) == (k % 2 == 0) for k, value in enumerate(tags))


def test_tints_stay_light_where_every_colour_index_prints_black(document, monkeypatch):
    """A plot style table by colour with all 255 pens black, read by ezdxf: a layer of another ink has it as its true colour."""
    from ezdxf.addons import acadctb
    from ezdxf.addons.drawing.properties import RenderContext

    table = acadctb.new_ctb()
    for index in range(1, 256):
        table[index].color = (0, 0, 0)
    monkeypatch.setattr(acadctb, "load", lambda name: table)  # ezdxf writes such a file wrongly where a long has 64 bits
    plotted = RenderContext(document, ctb="black.ctb").layers
    inks = {layer.name: plotted[layer.name.lower()].color[:7] for layer in LAYERS}
    assert inks == {layer.name: layer.ink for layer in LAYERS}
    assert len({layer.name for layer in LAYERS if layer.ink != "#000000"}) >= 6
    assert inks["BEAD_BAND"] == "#d9d9d9"
    for mark in document.modelspace():
        assert not mark.dxf.hasattr("true_color")  # by layer


def test_nothing_stands_on_layer_0_or_has_a_width_or_colour_of_its_own(document):
    names = {layer.name for layer in LAYERS}
    for entity in (*document.modelspace(), *document.paperspace()):
        assert entity.dxf.layer in names, entity
        assert entity.dxf.get("lineweight", -1) == -1
        assert entity.dxf.get("color", 256) == 256
        assert entity.dxf.get("linetype", "BYLAYER").upper() == "BYLAYER"


def test_an_outline_is_one_closed_polyline_of_exact_area(document):
    """Rectangle less four corner squares plus four quarter circles: w h - (4 - pi) r^2."""
    for name, width, height, radius in (("RECESS", 1212, 612, 66), ("GLASS", 1200, 600, 60), ("FRIT_INNER", 1120, 520, 25)):
        (outline,) = document.modelspace().query(f'*[layer=="{name}"]')
        assert outline.dxftype() == "LWPOLYLINE"
        assert outline.closed
        points = outline.get_points("xyb")
        area = sum((x1 * y2 - x2 * y1) / 2 for (x1, y1, _), (x2, y2, _) in zip(points, [*points[1:], points[0]], strict=True))
        for (x1, y1, bulge), (x2, y2, _) in zip(points, [*points[1:], points[0]], strict=True):
            if bulge:
                sweep = 4 * math.atan(bulge)
                r = math.dist((x1, y1), (x2, y2)) / 2 / math.sin(sweep / 2)
                assert r == pytest.approx(radius, abs=1e-9)
                area += r * r / 2 * (sweep - math.sin(sweep))
        assert area == pytest.approx(width * height - (4 - math.pi) * radius**2, rel=1e-12)


def test_a_circle_stays_a_closed_polyline_of_two_half_turns(document):
    (circle,) = document.modelspace().query('*[layer=="SEEN_OUTLINE"]')
    assert circle.closed
    assert [tuple(p) for p in circle.get_points("xyb")] == [(560.0, 300.0, 1.0), (640.0, 300.0, 1.0)]


def test_each_window_shows_its_view_at_the_exact_scale(document, sheet):
    layout = document.layouts.active_layout() if hasattr(document.layouts, "active_layout") else document.paperspace()
    assert document.layouts.names() == ["Model", "SW-01 rev A"]
    assert layout.name == "SW-01 rev A"
    dxf = layout.dxf_layout.dxf
    assert (dxf.paper_width, dxf.paper_height) == (sheet.width, sheet.height)
    assert dxf.current_style_sheet == "monochrome.ctb"
    ports = [port for port in layout.query("VIEWPORT") if port.dxf.id != 1]
    assert {port.dxf.layer for port in layout.query("VIEWPORT")} == {"VIEWPORTS"}
    assert len(ports) == len(sheet.views)
    for port, view in zip(ports, sheet.views, strict=True):
        left, bottom, right, top = view.window
        scale = port.dxf.height / port.dxf.view_height
        assert scale == pytest.approx(view.scale, rel=1e-12)
        # the lower left corner of the window, carried to paper, is where the sheet wants it; and so is the upper right one
        for x, y in ((left, bottom), (right, top)):
            paper_x = port.dxf.center.x + (x - port.dxf.view_center_point.x) * scale
            paper_y = port.dxf.center.y + (y - port.dxf.view_center_point.y) * scale
            assert paper_x == pytest.approx(view.paper[0] + (x - left) * view.scale, abs=1e-9)
            assert paper_y == pytest.approx(view.paper[1] + (y - bottom) * view.scale, abs=1e-9)
        assert port.dxf.width == pytest.approx((right - left) * scale)
        assert port.dxf.flags & 0x4000  # locked


def test_dimensions_measure_what_they_print(document, sheet):
    marks = [mark for view in sheet.views for mark in view.marks if isinstance(mark, Dimension)]
    found = dimensions(document)
    assert len(found) == len(marks) >= 8
    for entity, mark in zip(found, marks, strict=True):
        assert entity.dxf.actual_measurement == round(mark.measured, 9)
        assert entity.get_measurement() == pytest.approx(mark.measured, abs=1e-3)
        picture = document.blocks.get(entity.dxf.geometry)
        assert [text.plain_text() for text in picture.query("TEXT")] == [mark.text]
        style = document.dimstyles.get(entity.dxf.dimstyle).dxf
        assert style.dimlfac == 1.0
        assert style.dimdsep == ord(",")


def test_no_dimension_style_rounds(dxf_file):
    """Group 45, DIMRND: written as 0 some programs take it for "no decimals"; ezdxf itself does when it draws."""
    table = dxf_file.decode("utf-8").split("DIMSTYLE", 1)[1].split("ENDTAB")[0].splitlines()
    codes = {line.strip() for line in table[1::2]}
    assert "40" in codes  # the scale, so it is codes that are read
    assert "45" not in codes


def test_each_scale_has_its_dimension_style(document, sheet):
    scales = {round(1 / document.dimstyles.get(entity.dxf.dimstyle).dxf.dimscale, 9) for entity in dimensions(document)}
    assert scales == {view.scale for view in sheet.views}


def test_a_seat_that_draws_a_dimension_anew_prints_the_same_figure(dxf_file):
    """Ezdxf takes the place of the seat: it draws every dimension from its style and its points alone."""
    document = ezdxf.read(io.StringIO(dxf_file.decode("utf-8")))
    for style in document.dimstyles:
        style.dxf.discard("dimrnd")  # ezdxf puts it in on reading and would then print whole numbers only
    for entity in dimensions(document):
        picture = document.blocks.get(entity.dxf.geometry)
        (before,) = (text.plain_text() for text in picture.query("TEXT"))
        picture.delete_all_entities()
        if entity.dimtype == 4:
            continue  # of a radius with its text outside ezdxf draws the leader only by request
        entity.render()
        new = document.blocks.get(entity.dxf.geometry)
        (after,) = (text.plain_text() for text in new.query("TEXT MTEXT"))
        assert after.replace(" ", "") == before.replace(" ", "")


def test_texts_of_dimensions(document):
    texts = [entity.dxf.text for entity in dimensions(document)]
    assert texts.count("<> ±2") == 1
    assert texts.count("<> ±0,5") == 1
    assert texts.count("") == len(texts) - 3  # the style prints them
    assert sum(1 for text in texts if text and "<>" not in text) == 1  # half-way between two roundings


def test_hatches_are_tied_to_closed_outlines(document):
    hatches = list(document.modelspace().query("HATCH"))
    tied = [hatch for hatch in hatches if hatch.dxf.layer not in ("MATERIAL_BACKER",)]
    assert len(tied) == 7
    for hatch in tied:
        assert hatch.dxf.associative
        for path in hatch.paths:
            (handle,) = path.source_boundary_objects
            source = document.entitydb[handle]
            assert source.closed
            assert {tuple(p) for p in source.get_points("xyb")} == {tuple(v) for v in path.vertices}
    for hatch in hatches:
        assert hatch.dxf.solid_fill or len(hatch.pattern.lines) > 0


def test_a_hatch_has_its_spacing_on_paper(document):
    """Frame: single lines at 45 degrees, 3,2 mm apart on paper, at 5:1 so 0,64 mm in the model."""
    (frame,) = document.modelspace().query('HATCH[layer=="MATERIAL_FRAME"]')
    (line,) = frame.pattern.lines
    assert line.angle == 45.0
    x, y = line.offset
    assert abs(-x * math.sin(math.pi / 4) + y * math.cos(math.pi / 4)) == pytest.approx(0.64)
    assert frame.dxf.pattern_scale == pytest.approx(0.2)


def test_inserts_carry_their_attributes(document):
    first, second = document.modelspace().query("INSERT")
    block = document.blocks.get("SPACER_20x8")
    assert [attdef.dxf.tag for attdef in block.query("ATTDEF")] == ["MARK", "KIND", "SIZE"]
    assert {entity.dxf.layer for entity in block} == {"0"}
    assert [(a.dxf.tag, a.dxf.text, a.is_invisible) for a in first.attribs] == [
        ("MARK", "S1", False),
        ("KIND", "spacer block", True),
        ("SIZE", "20 × 8 × 5", True),
    ]
    assert tuple(first.attribs[0].dxf.align_point)[:2] == (300.0, 55.0)
    assert first.attribs[0].dxf.height == pytest.approx(2.5 / 0.2)
    assert (first.dxf.rotation, second.attribs[0].dxf.text, second.attribs[0].is_invisible) == (30.0, "S2", True)


def test_texts_are_as_high_on_paper_as_the_sheet_says(document):
    for text, height in (("Saloon light, seen from outside", 3.5 / 0.2), ("A-A (5:1)", 5.0 / 5.0)):
        (found,) = [t for t in document.modelspace().query("TEXT") if t.dxf.text == text]
        assert found.dxf.height == pytest.approx(height)
        assert 0.4 < found.dxf.width <= 0.85  # never wider than the face it is measured with
    (signs,) = [t for t in document.paperspace().query("TEXT") if t.dxf.text.startswith("100")]
    assert signs.plain_text() == '100 %% of 5 ^ <&> "it\'s"'


def test_gdal_reads_areas_holes_and_texts(dxf_file):
    """GDAL breaks arcs into chords of its own, 4 degrees unless told otherwise: areas agree to what such chords cut off.

    It takes every DXF for the code page of its header, although R2013 is UTF-8, unless it is told.
    """
    import pyogrio

    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.1", "DXF_ENCODING": "UTF-8"})
    with tempfile.NamedTemporaryFile(suffix=".dxf") as file:
        file.write(dxf_file)
        file.flush()
        _, _, shapes, fields = pyogrio.raw.read(file.name, columns=["Layer", "SubClasses", "Text"])
    import shapely

    layers, classes, texts = fields
    shapes = shapely.from_wkb(shapes)
    exact = {
        "BACKFILL": (1212 * 612 - (4 - math.pi) * 66**2) - (1200 * 600 - (4 - math.pi) * 60**2),
        "MATERIAL_FRAME": 38.0 * 10.0,
        "MATERIAL_FRIT": 9.0 * 0.2,
    }
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": None, "DXF_ENCODING": None})
    for layer, area in exact.items():
        hatched = [s for s, n, c in zip(shapes, layers, classes, strict=True) if n == layer and "AcDbHatch" in c]
        assert [shape.area for shape in hatched] == [pytest.approx(area, rel=2e-5)]
    (ring,) = [s for s, n, c in zip(shapes, layers, classes, strict=True) if n == "BACKFILL" and "AcDbHatch" in c]
    assert len(shapely.get_parts(ring)) == 1
    assert shapely.get_num_interior_rings(shapely.get_parts(ring)[0]) == 1
    for printed in ("1200 ±2", "600", "3,25", "122,07", "R60", "Ø80", "15 ±0,5", "10", "S1"):
        assert printed in set(texts)


def test_the_same_sheet_gives_the_same_bytes_in_any_process(dxf_file, svg_file):
    code = (
        "import hashlib, runpy, sys; s = runpy.run_path(sys.argv[1])['rich_sheet']();"
        "from outputs.files.dxf import dxf_bytes; from outputs.files.svg import svg_bytes;"
        "print(hashlib.sha256(dxf_bytes(s)).hexdigest(), hashlib.sha256(svg_bytes(s)).hexdigest())"
    )
    expected = [hashlib.sha256(data).hexdigest() for data in (dxf_file, svg_file.encode("utf-8"))]
    for seed in ("1", "4242"):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(HERE.parents[1])}
        run = subprocess.run(
            [sys.executable, "-c", code, str(HERE / "conftest.py")], env=environment, capture_output=True, text=True, check=True
        )
        assert run.stdout.split() == expected


def test_the_options_of_the_library_are_left_as_they_were(sheet):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    dxf_bytes(sheet)
    assert ezdxf.options.write_fixed_meta_data_for_testing is before


def test_an_office_has_its_own_layer_names(sheet):
    named = with_layer_names(sheet, {"GLASS": "G-PANE", "VIEWPORTS": "G-WINDOWS", "SPACERS": "G-BLOCKS"})
    document, auditor = recover.read(io.BytesIO(dxf_bytes(named)))
    assert not auditor.errors
    assert not auditor.fixes
    assert len(document.modelspace().query('*[layer=="G-PANE"]')) == 1
    assert {port.dxf.layer for port in document.paperspace().query("VIEWPORT")} == {"G-WINDOWS"}
    assert not any(document.layers.has_entry(name) for name in ("GLASS", "VIEWPORTS", "SPACERS"))


def _with(sheet, mark):
    plan, *others = sheet.views
    return replace(sheet, views=(replace(plan, marks=(mark,)), *others))


SQUARE = ((0.0, 0.0, 0.0), (9.0, 0.0, 0.0), (9.0, 9.0, 0.0))
WRONG = Dimension(
    "DIMENSIONS",
    "linear",
    (0.0, 0.0),
    (3.0, 4.0),
    (0.0, 9.0),
    0.0,
    6.0,
    "6",
    (1.0, 9.0),
    (Text("DIMENSIONS", 0.0, 9.0, "6", 2.5),),
)
FAULTS = [
    (Mark_path("GLASS", ((0.0, math.nan, 0.0), (1.0, 1.0, 0.0))), "not a number"),
    (Mark_path("GLASS", ((0.0, math.inf, 0.0), (1.0, 1.0, 0.0))), "not a number"),
    (Mark_path("GLASS", ((5.0, 5.0, 0.0), (5.0, 5.0, 0.0))), "no length"),
    (Mark_path("NOWHERE", SQUARE), "'NOWHERE' is not defined"),
    (Hatch("GLASS", "granite", (SQUARE,)), "'granite'"),
    (Fill("GLASS", SQUARE[:1]), "2 or more"),
    (Text("TEXT", 0.0, 0.0, "日", 2.5), "U+65E5"),
    (Text("TEXT", 0.0, 0.0, "A", 0.0), "height"),
    (replace(WRONG, kind="linear"), "it says it measures 6.0000 mm and its points are 3.0000 mm apart"),
    (replace(WRONG, kind="radius"), "it says it measures 6.0000 mm and its points are 5.0000 mm apart"),
    (Mark_path("GLASS", ((5000.0, 5.0, 0.0), (5.0, 5.0, 0.0))), "outside the window"),
]


@pytest.mark.parametrize(("mark", "words"), FAULTS, ids=[words for _, words in FAULTS])
@pytest.mark.parametrize("write", [dxf_bytes, svg_bytes])
def test_what_no_file_may_hold_is_refused_by_name(sheet, write, mark, words):
    with pytest.raises(SheetError) as refusal:
        write(_with(sheet, mark))
    assert words in str(refusal.value)
    assert "mark 1 of view 'plan'" in str(refusal.value)


def test_a_line_width_that_no_seat_knows_is_refused(sheet):
    odd = tuple(replace(layer, width=0.45) if layer.name == "GLASS" else layer for layer in sheet.layers)
    with pytest.raises(SheetError, match=r"'GLASS' is 0.45 mm wide; allowed are 0.00"):
        dxf_bytes(replace(sheet, layers=odd))
