"""The DXF drawn anew from what it defines: dimensions from their definition points, windows from their heights, hatches from their lines.

A seat that opens the file and draws it anew has nothing but these figures. ezdxf takes the place of that seat where it can; the rest is
plane geometry from the published meaning of the groups (DXF reference: DIMENSION 10, 13, 14, 15, 11, 71; DIMSTYLE 40 to 44, 140, 147;
VIEWPORT 10, 12, 40, 41, 45; HATCH 53, 43 to 46, 49).
"""

from __future__ import annotations

import io
import math
from dataclasses import replace

import ezdxf
import pytest
import resvg_py
from ezdxf.render import hatching
from PIL import Image

from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.entities import Attribute, Block, Dimension, Fill, Hatch, Insert, Path, Sheet, Text, View
from outputs.sheet.layers import LAYERS
from outputs.sheet.lettering import text_width
from outputs.sheet.patterns import PATTERNS, LineFamily, hatch_segments
from outputs.sheet.runs import shorter_arcs
from outputs.sheet.spaces import drawn_loops, loop_key, undrawn_boundaries

# Where the place of a text lies in its box, from the left and from below (group 71 of a dimension: 1 is top left, 9 bottom right).
ATTACHED = {1 + column + 3 * row: (column / 2, 1 - row / 2) for row in range(3) for column in range(3)}
LINEAR, DIAMETER, RADIUS = 0, 3, 4
WRITTEN = 2e-6  # mm: a coordinate is written to 0,000001, and a place may be put together from a few


def document_of(data: bytes):
    """The file as ezdxf reads it; DIMRND, which ezdxf puts in on reading, is taken out again."""
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    for style in document.dimstyles:
        style.dxf.discard("dimrnd")
    return document


@pytest.fixture
def document(dxf_file):
    return document_of(dxf_file)


def picture(document, entity):
    """Lines, arrows and text that the file itself shows of a dimension."""
    block = document.blocks.get(entity.dxf.geometry)
    lines = [(line.dxf.start.vec2, line.dxf.end.vec2) for line in block.query("LINE")]
    arrows = [[solid.dxf.get(f"vtx{k}").vec2 for k in range(3)] for solid in block.query("SOLID")]
    (text,) = block.query("TEXT")
    return lines, arrows, text


def box_of(text, string):
    """Middle, length and height of a lettered text, from where it is aligned and how long its letters are."""
    place = (text.dxf.align_point if text.dxf.halign in (1, 2) else text.dxf.insert).vec2
    turn = math.radians(text.dxf.get("rotation", 0.0))
    height = text.dxf.height
    length = text_width(string, 1.0) * height
    along = {0: 0.5, 1: 0.0, 2: -0.5, 5: 0.5}[text.dxf.halign] * length
    x = place.x + along * math.cos(turn) - height / 2 * math.sin(turn)
    y = place.y + along * math.sin(turn) + height / 2 * math.cos(turn)
    return (x, y), length, height


def beside(one, other):
    return max(abs(a - b) for a, b in zip((*one[0], *one[1]), (*other[0], *other[1]), strict=True))


def test_lines_arrows_and_texts_of_linear_dimensions(document):
    counted = inside = 0
    for entity in document.modelspace().query("DIMENSION"):
        if entity.dimtype != LINEAR:
            continue
        counted += 1
        style = document.dimstyles.get(entity.dxf.dimstyle).dxf
        size = style.dimscale
        turn = math.radians(entity.dxf.angle)
        along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
        feet = [entity.dxf.defpoint2.vec2, entity.dxf.defpoint3.vec2]
        level = entity.dxf.defpoint.x * across[0] + entity.dxf.defpoint.y * across[1]
        places = [foot.x * along[0] + foot.y * along[1] for foot in feet]
        # The definition point stands on the line, at the second extension line.
        assert entity.dxf.defpoint.x * along[0] + entity.dxf.defpoint.y * along[1] == pytest.approx(places[1], abs=WRITTEN)

        def at(s, t, along=along, across=across):
            return s * along[0] + t * across[0], s * along[1] + t * across[1]

        lines, arrows, text = picture(document, entity)
        for foot, place in zip(feet, places, strict=True):
            start = foot.x * across[0] + foot.y * across[1]
            sign = 1.0 if level >= start else -1.0
            wanted = (at(place, start + sign * style.dimexo * size), at(place, level + sign * style.dimexe * size))
            assert min(beside(wanted, (a, b)) for a, b in lines) < WRITTEN
        assert any(
            min(s) <= min(places) + WRITTEN and max(s) >= max(places) - WRITTEN and abs(t - level) < WRITTEN
            for s, t in (
                ([p.x * along[0] + p.y * along[1] for p in line], line[0].x * across[0] + line[0].y * across[1]) for line in lines
            )
        )
        tips = [arrow[0] for arrow in arrows]
        room = abs(places[1] - places[0]) > 2 * style.dimasz * size
        for tip, place, other in zip(tips, places, reversed(places), strict=True):
            assert tuple(tip) == pytest.approx(at(place, level), abs=WRITTEN)
            back = next((a[1] + a[2]) / 2 for a in arrows if a[0] == tip)
            assert math.dist(back, tip) == pytest.approx(style.dimasz * size)
            reach = (back.x - tip.x) * along[0] + (back.y - tip.y) * along[1]
            assert (reach * (other - place) > 0) == room  # between the extension lines where there is room for both
        for arrow in arrows:
            spread = math.dist(arrow[1], arrow[2]) / 2
            assert 2 * math.degrees(math.atan2(spread, style.dimasz * size)) == pytest.approx(15.0, abs=1e-3)
        string = text.plain_text()
        middle, length, height = box_of(text, string)
        assert height == pytest.approx(style.dimtxt * size)
        up = middle[0] * across[0] + middle[1] * across[1] - level
        assert up == pytest.approx((style.dimgap + style.dimtxt / 2) * size)  # above the line by the gap, lettering over it
        beside_line = middle[0] * along[0] + middle[1] * along[1]
        if length < abs(places[1] - places[0]) - 0.6 * size:
            inside += 1
            assert beside_line == pytest.approx(sum(places) / 2, abs=WRITTEN)
            # ezdxf, from the style and the points alone, puts the text and the lines where the file has them
            document.blocks.get(entity.dxf.geometry).delete_all_entities()
            entity.render()
            anew = document.blocks.get(entity.dxf.geometry)
            (drawn,) = anew.query("MTEXT")
            assert tuple(drawn.dxf.insert.vec2) == pytest.approx(middle, abs=WRITTEN)
            assert drawn.dxf.char_height == pytest.approx(height)
            extensions = [(line.dxf.start.vec2, line.dxf.end.vec2) for line in list(anew.query("LINE"))[:2]]
            assert all(min(beside(line, (a, b)) for a, b in lines) < WRITTEN for line in extensions)
    assert counted >= 7
    assert inside >= 4


def test_the_text_of_a_dimension_fills_the_box_its_place_and_attachment_say(document):
    for entity in document.modelspace().query("DIMENSION"):
        _, _, text = picture(document, entity)
        middle, _, _ = box_of(text, text.plain_text())
        right, up = ATTACHED[entity.dxf.attachment_point]
        assert (right, up) == (0.5, 0.5)  # seats keep to the middle where the text is edited
        assert tuple(entity.dxf.text_midpoint.vec2) == pytest.approx(middle, abs=WRITTEN)
        assert entity.dxf.text_midpoint.z == 0
        assert entity.dxf.dimtype & 128  # placed by the sheet


@pytest.mark.parametrize("align", ["left", "middle", "right"])
@pytest.mark.parametrize("turn", [0.0, 90.0, 35.0])
def test_middle_of_a_dimension_text_however_it_is_aligned(align, turn):
    """A figure 20 mm of paper beside its place: half its length forward, on it, half its length back; half its height up."""
    angle, scale = math.radians(turn), 0.5
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    text = Text("DIMENSIONS", 40.0, 50.0, "80 ±1,5", 2.5, align, turn)
    ends = [(s * along[0], s * along[1]) for s in (0.0, 80.0)]
    mark = Dimension("DIMENSIONS", "linear", *ends, ends[0], turn, 80.0, text.string, (0.0, 0.0), (text,))
    view = View("plan", scale, (-100.0, -100.0, 200.0, 200.0), (10.0, 10.0), (mark,))
    sheet = Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (view,), ())
    (entity,) = document_of(dxf_bytes(sheet)).modelspace().query("DIMENSION")
    shift = {"left": 0.5, "middle": 0.0, "right": -0.5}[align] * text_width(text.string, 2.5) / scale
    wanted = [(40.0, 50.0)[k] + shift * along[k] + 1.25 / scale * across[k] for k in (0, 1)]
    assert tuple(entity.dxf.text_midpoint.vec2) == pytest.approx(wanted, abs=WRITTEN)


def test_where_no_part_letters_the_figure_its_place_is_taken_as_given():
    """A figure is looked for among the parts by its words; the proof sees to it that it is there."""
    parts = (Text("DIMENSIONS", 3.0, 4.0, "other", 2.5), Text("DIMENSIONS", 40.0, 50.0, "80", 2.5, "middle"))
    mark = Dimension("DIMENSIONS", "linear", (0.0, 0.0), (80.0, 0.0), (0.0, 9.0), 0.0, 80.0, "80", (7.0, 7.0), parts)
    view = View("plan", 1.0, (-100.0, -100.0, 100.0, 100.0), (10.0, 10.0), (mark,))
    sheet = Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (view,), ())
    (entity,) = document_of(dxf_bytes(sheet)).modelspace().query("DIMENSION")
    assert tuple(entity.dxf.text_midpoint.vec2) == pytest.approx((40.0, 51.25), abs=WRITTEN)


def test_radii_and_diameters_from_their_two_points(document, sheet):
    marks = [mark for view in sheet.views for mark in view.marks if isinstance(mark, Dimension)]
    seen = set()
    for entity, mark in zip(document.modelspace().query("DIMENSION"), marks, strict=True):
        if mark.kind == "linear":
            assert entity.dimtype == LINEAR
            continue
        seen.add(mark.kind)
        assert entity.dimtype == {"radius": RADIUS, "diameter": DIAMETER}[mark.kind]
        first, second = entity.dxf.defpoint.vec2, entity.dxf.defpoint4.vec2
        assert math.dist(first, second) == pytest.approx(entity.dxf.actual_measurement)
        _, arrows, _ = picture(document, entity)
        tips = [tuple(arrow[0]) for arrow in arrows]
        assert pytest.approx(tuple(second), abs=WRITTEN) in tips
        assert (pytest.approx(tuple(first), abs=WRITTEN) in tips) == (mark.kind == "diameter")
        override = entity.override()
        flags = [override.get(name) for name in ("dimtih", "dimtoh", "dimtofl")]
        assert flags == ([1, 1, 0] if mark.kind == "radius" else [0, 0, 1])
    assert seen == {"radius", "diameter"}


def test_the_style_of_a_dimension_is_that_of_the_sheet(document, sheet):
    """Paper mm of the drafting rules the sheet is made by: lettering 2,5, arrows 2,5, lines 2 past and 1 off, text 1 above."""
    scales = {view.scale for view in sheet.views}
    styles = {entity.dxf.dimstyle for entity in document.modelspace().query("DIMENSION")}
    assert len(styles) == len(scales)
    for name in styles:
        dxf = document.dimstyles.get(name).dxf
        assert 1 / dxf.dimscale in [pytest.approx(scale) for scale in scales]
        assert (dxf.dimtxt, dxf.dimasz, dxf.dimexe, dxf.dimexo, dxf.dimgap, dxf.dimdli) == (2.5, 2.5, 2.0, 1.0, 1.65, 7.0)
        assert (dxf.dimtad, dxf.dimtih, dxf.dimtoh, dxf.dimtofl, dxf.dimtsz, dxf.dimcen) == (1, 0, 0, 1, 0, 0)
        assert (dxf.dimlunit, dxf.dimdec, dxf.dimzin, dxf.dimlfac) == (2, 2, 8, 1)
        assert (dxf.dimlwd, dxf.dimlwe) == (-1, -1)
        assert (dxf.dimclrd, dxf.dimclre, dxf.dimclrt) == (256, 256, 256)


# Paper and windows.


def test_limits_and_extents_of_paper_and_model(document, sheet):
    header = document.header
    lefts, bottoms, rights, tops = zip(*(view.window for view in sheet.views), strict=True)
    low, high = (min(lefts), min(bottoms)), (max(rights), max(tops))
    paper = (sheet.width, sheet.height)
    assert sheet.width != sheet.height
    for name, wanted in (
        ("$PLIMMIN", (0, 0)), ("$PLIMMAX", paper), ("$PEXTMIN", (0, 0)), ("$PEXTMAX", paper),
        ("$LIMMIN", low), ("$LIMMAX", high), ("$EXTMIN", low), ("$EXTMAX", high),
    ):  # fmt: skip
        assert tuple(header[name])[:2] == wanted, name
    assert header["$TILEMODE"] == 0
    layout, model = document.paperspace(), document.modelspace()
    for space, least, most in ((layout, (0, 0), paper), (model, low, high)):
        dxf = space.dxf_layout.dxf
        assert (tuple(dxf.limmin)[:2], tuple(dxf.limmax)[:2]) == (least, most)
        assert (tuple(dxf.extmin)[:2], tuple(dxf.extmax)[:2]) == (least, most)


def test_the_paper_is_plotted_as_it_is(document, sheet):
    dxf = document.paperspace().dxf_layout.dxf
    assert (dxf.paper_width, dxf.paper_height) == (sheet.width, sheet.height)
    assert dxf.paper_size.startswith(f"ISO_{sheet.size}_(")
    assert (dxf.left_margin, dxf.bottom_margin, dxf.right_margin, dxf.top_margin) == (0, 0, 0, 0)
    assert (dxf.scale_numerator, dxf.scale_denominator, dxf.unit_factor) == (1, 1, 1)
    assert dxf.plot_type == 5  # the layout
    assert dxf.plot_paper_units == 1  # mm
    assert dxf.plot_layout_flags & 128  # line widths
    assert not dxf.plot_layout_flags & 1  # no frames round the windows


def test_a_seat_that_opens_the_model_sees_all_of_it(document, sheet):
    lefts, bottoms, rights, tops = zip(*(view.window for view in sheet.views), strict=True)
    (port,) = document.viewports.get("*Active")
    assert port.dxf.height == pytest.approx((max(tops) - min(bottoms)) * 1.05)  # with a little room
    assert tuple(port.dxf.center)[:2] == pytest.approx(((min(lefts) + max(rights)) / 2, (min(bottoms) + max(tops)) / 2))


def test_windows_are_numbered_from_2_and_locked(document, sheet):
    ports = [port for port in document.paperspace().query("VIEWPORT") if port.dxf.id != 1]
    assert [port.dxf.status for port in ports] == list(range(2, 2 + len(sheet.views)))
    for port, view in zip(ports, sheet.views, strict=True):
        left, bottom, right, top = view.window
        assert port.dxf.view_height == pytest.approx(top - bottom)
        assert (port.dxf.width, port.dxf.height) == pytest.approx(((right - left) * view.scale, (top - bottom) * view.scale))
        assert tuple(port.dxf.view_center_point)[:2] == pytest.approx(((left + right) / 2, (bottom + top) / 2))
        corner = (port.dxf.center.x - port.dxf.width / 2, port.dxf.center.y - port.dxf.height / 2)
        assert corner == pytest.approx(view.paper)
        assert port.dxf.flags & 0x4000


def test_windows_stand_on_the_layer_that_does_not_print(document, sheet):
    """The layout's own window too; on a sheet all of whose layers print they stand on layer 0, which every DXF has."""
    (hidden,) = {layer.name for layer in sheet.layers if not layer.plots}
    ports = document.paperspace().query("VIEWPORT")
    assert len(ports) == 1 + len(sheet.views)
    assert {port.dxf.layer for port in ports} == {hidden}
    view = replace(sheet.views[0], marks=())
    plain = replace(sheet, layers=tuple(layer for layer in sheet.layers if layer.plots), views=(view,))
    (port,) = (port for port in document_of(dxf_bytes(plain)).paperspace().query("VIEWPORT") if port.dxf.id != 1)
    assert port.dxf.layer == "0"


def test_no_arc_leaves_the_end_of_an_open_run():
    """The bulge of a node is that of the segment that leaves it (DXF reference, LWPOLYLINE 42): the last node of an open run has none."""
    nodes = ((0.0, 0.0, 0.5), (10.0, 0.0, 0.0), (20.0, 5.0, -0.4), (30.0, 9.0, 0.3))
    for closed in (False, True):
        sheet = Sheet("A4", 210.0, 297.0, "T", "Invented.", LAYERS, (), (), (Path("TABLES", nodes, closed),))
        (run,) = document_of(dxf_bytes(sheet)).paperspace().query("LWPOLYLINE")
        assert list(run.get_points("xyb")) == list(nodes if closed else (*nodes[:3], (30.0, 9.0, 0.0)))
        assert run.closed == closed


def test_a_sheet_without_views_has_its_paper_for_a_model(sheet):
    document = document_of(dxf_bytes(replace(sheet, views=(), marks=(Path("SHEET", ((0.0, 0.0, 0.0), (9.0, 9.0, 0.0))),))))
    assert tuple(document.header["$EXTMIN"])[:2] == (0, 0)
    assert tuple(document.header["$EXTMAX"])[:2] == (sheet.width, sheet.height)


# Texts.


@pytest.mark.parametrize("align", ["left", "middle", "right"])
@pytest.mark.parametrize("turn", [0.0, 30.0, 270.0])
def test_a_text_is_fitted_between_the_ends_of_its_letters(align, turn):
    """Group 10 is the left end of the base line, group 11 the right one: any face is brought to that length."""
    mark = Text("TEXT", 100.0, 100.0, "Setting chock", 3.5, align, turn)
    sheet = Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (), (mark,))
    (text,) = document_of(dxf_bytes(sheet)).paperspace().query("TEXT")
    along = (math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    before = {"left": 0.0, "middle": 0.5, "right": 1.0}[align] * text_width(mark.string, 3.5)
    after = text_width(mark.string, 3.5) - before
    assert text.dxf.halign == 5 and text.dxf.valign == 0
    assert tuple(text.dxf.insert.vec2) == pytest.approx([100.0 - before * part for part in along], abs=WRITTEN)
    assert tuple(text.dxf.align_point.vec2) == pytest.approx([100.0 + after * part for part in along], abs=WRITTEN)
    assert text.dxf.get("rotation", 0.0) == pytest.approx(turn)


@pytest.mark.parametrize("align", ["left", "middle", "right"])
def test_a_single_letter_is_not_stretched(align):
    """A face whose 1 is narrow would be drawn wide between two points."""
    mark = Text("TEXT", 100.0, 100.0, "1", 3.5, align, 30.0)
    (text,) = (
        document_of(dxf_bytes(Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (), (mark,)))).paperspace().query("TEXT")
    )
    assert text.dxf.halign == ("left", "middle", "right").index(align)
    assert tuple((text.dxf.align_point if text.dxf.halign else text.dxf.insert).vec2) == (100.0, 100.0)


@pytest.mark.parametrize("string", ["Setting chock, 80 × 25 × 6", "6 ±2,75", "11"])
def test_a_seat_without_the_face_letters_the_same_length(string):
    """Ezdxf takes the place of the seat: with the faces of this computer it makes outlines of the text, as wide as the sheet's within 2 %.

    Outlines leave out the space before the first letter and behind the last, a tenth of the height each at most.
    """
    from ezdxf.addons import text2path
    from ezdxf.path import bbox

    sheet = Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (), (Text("TEXT", 100.0, 100.0, string, 3.5),))
    (text,) = document_of(dxf_bytes(sheet)).paperspace().query("TEXT")
    box, width = bbox(text2path.make_paths_from_entity(text)), text_width(string, 3.5)
    assert -0.02 * width - 0.7 <= box.size.x - width <= 0.02 * width
    assert box.extmin.x == pytest.approx(100.0, abs=0.4)


def test_bold_lettering_has_a_style_of_its_own():
    marks = (Text("TEXT", 100.0, 100.0, "PORT", 7.0, bold=True), Text("TEXT", 100.0, 80.0, "PORT", 7.0))
    document = document_of(dxf_bytes(Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (), marks)))
    bold, plain = document.paperspace().query("TEXT")
    fonts = [document.styles.get(text.dxf.style).dxf.font for text in (bold, plain)]
    assert fonts == ["FritlineLettering-Bold.ttf", "FritlineLettering-Regular.ttf"]
    assert bold.dxf.align_point.x - 100.0 == pytest.approx(text_width("PORT", 7.0, bold=True), abs=WRITTEN)
    assert bold.dxf.align_point.x > plain.dxf.align_point.x


# Hatches.


@pytest.mark.parametrize("scale", [0.2, 1.0, 5.0])
@pytest.mark.parametrize(
    "family",
    [
        LineFamily(30.0, 4.0, (5.0, 3.0), 1.0, 0.7, 1.3),
        LineFamily(110.0, 3.0, (2.0, 1.0, 0.5, 1.0), -0.4, 0.0, -0.9),
        LineFamily(0.0, 2.0, (), 0.3, 0.0, 0.0),
    ],
)
def test_a_pattern_drawn_from_its_numbers_has_the_strokes_of_the_sheet(monkeypatch, family, scale):
    """An invented pattern whose lines start neither together nor half a period apart: ezdxf draws it from the file alone."""
    material = f"invented {family.angle:g}"  # of its own for each: strokes of a face that was hatched before may be kept
    monkeypatch.setitem(PATTERNS, material, (family,))
    side = 40.0 / scale
    face = ((0.0, 0.0, 0.0), (side, 0.0, 0.0), (side, 0.7 * side, 0.0), (0.0, 0.7 * side, 0.0))
    mark = Hatch("MATERIAL_GLASS", material, (face,))
    view = View("face", scale, (-side, -side, 2 * side, 2 * side), (10.0, 10.0), (mark,))
    sheet = Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (view,), ())
    (hatch,) = document_of(dxf_bytes(sheet)).modelspace().query("HATCH")
    anew = [((start.x, start.y), (end.x, end.y)) for start, end in hatching.hatch_entity(hatch, jiggle_origin=False)]
    anew = [stroke for stroke in anew if math.dist(*stroke) * scale > 0.02]
    ours = [stroke for stroke in hatch_segments(mark, scale) if math.dist(*stroke) * scale > 0.02]
    assert len(anew) == len(ours) > 10
    for one in anew:
        nearest = min(ours, key=lambda other: min(beside(one, other), beside(one, other[::-1])))
        assert min(beside(one, nearest), beside(one, nearest[::-1])) * scale < 1e-3
    if family.dashes:
        (line,) = hatch.pattern.lines
        assert [abs(dash) * scale for dash in line.dash_length_items] == pytest.approx(family.dashes)
    assert hatch.dxf.pattern_scale == pytest.approx(1 / scale)
    assert hatch.dxf.pattern_name == f"CUT_{material.upper()}"


# Loops.

LOPSIDED = ((0.0, 0.0, 0.3), (10.0, 0.0, 0.0), (10.0, 6.0, -0.5), (4.0, 8.0, 0.0))


def backwards(nodes):
    """The same loop run the other way: a segment leaves where it arrived, and its bulge turns its sign."""
    return tuple((*nodes[k][:2], -nodes[k - 1][2]) for k in range(len(nodes) - 1, -1, -1))


def test_a_loop_is_the_same_wherever_it_starts_and_whichever_way_it_runs():
    for start in range(4):
        turned = LOPSIDED[start:] + LOPSIDED[:start]
        assert loop_key(turned) == loop_key(LOPSIDED)
        assert loop_key(backwards(turned)) == loop_key(LOPSIDED)
    flipped = tuple((x, y, -bulge) for x, y, bulge in LOPSIDED)
    assert loop_key(flipped) != loop_key(LOPSIDED)  # bulges to the other side: another loop
    assert loop_key(tuple((x, y, 0.0) for x, y, _ in LOPSIDED)) != loop_key(LOPSIDED)


def test_a_hatch_is_bounded_by_the_line_that_is_drawn_whichever_way_it_runs():
    path = Path("CUT_OUTLINE", LOPSIDED, True)
    hatch = Hatch("MATERIAL_GLASS", "glass", (backwards(LOPSIDED)[1:] + backwards(LOPSIDED)[:1],))
    assert undrawn_boundaries((path, hatch)) == []
    assert undrawn_boundaries((hatch,)) == [(hatch, 0)]
    flipped = Hatch("MATERIAL_GLASS", "glass", (tuple((x, y, -bulge) for x, y, bulge in LOPSIDED),))
    assert undrawn_boundaries((path, flipped)) == [(flipped, 0)]
    assert undrawn_boundaries((path, flipped, flipped)) == [(flipped, 0)]  # drawn once
    again = Path("GLASS", LOPSIDED, True)
    assert list(drawn_loops((path, again)).values()) == [path]  # of two the first
    assert drawn_loops((Path("GLASS", LOPSIDED),)) == {}  # an open run bounds nothing
    view = View("plan", 1.0, (-20.0, -20.0, 30.0, 30.0), (10.0, 10.0), (path, hatch))
    sheet = Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (), (view,), ())
    model = document_of(dxf_bytes(sheet)).modelspace()
    (outline,) = model.query("LWPOLYLINE")
    (drawn,) = model.query("HATCH")
    assert drawn.paths[0].source_boundary_objects == [outline.dxf.handle]


@pytest.mark.parametrize("bulge", [0.1, -0.4, 1.0, -2.5, 30.0])
def test_parts_of_an_arc_lie_on_it_and_share_its_sweep(bulge):
    """Elementary geometry: radius c (1 + b²) / 4b of a chord c, centre c (1 - b²) / 4b beside its middle."""
    start, end = (3.0, 4.0, bulge), (11.0, 10.0, 0.0)
    chord = 10.0
    radius, lift = chord * (1 + bulge**2) / (4 * abs(bulge)), chord * (1 - bulge**2) / (4 * bulge)
    centre = (7.0 - 0.6 * lift, 7.0 + 0.8 * lift)  # to the left of the chord for a small positive bulge
    ends, found = shorter_arcs(start, end, longest=math.pi / 2)
    assert found == pytest.approx(radius)
    assert ends[-1] == (11.0, 10.0)
    sweep = 4 * math.atan(bulge)
    assert len(ends) == math.ceil(abs(sweep) / (math.pi / 2) - 1e-12)
    for number, place in enumerate(ends, start=1):
        turn = math.atan2(4.0 - centre[1], 3.0 - centre[0]) + sweep * number / len(ends)
        assert place == pytest.approx((centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)), abs=1e-9)


# The picture.


def test_a_line_ends_where_it_is_drawn_to():
    """Ends of lines are cut square: a line of 0,7 from 50 to 60 inks 10 mm, not 10,7 (measured in the picture, 20 dots for a mm)."""
    mark = Path("SHEET", ((50.0, 100.0, 0.0), (60.0, 100.0, 0.0)))
    svg = svg_bytes(Sheet("A4", 210.0, 297.0, "T", "Invented.", LAYERS, (), (), (mark,))).decode()
    dots = 20
    image = Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg, dpi=25.4 * dots, background="#ffffff")))).convert(
        "L"
    )
    left, top, right, bottom = image.point(lambda grey: 255 if grey < 128 else 0).getbbox()
    assert (left / dots, right / dots) == pytest.approx((50.0, 60.0), abs=0.051)
    assert (bottom - top) / dots == pytest.approx(0.7, abs=0.051)


def test_a_corner_of_a_run_is_round():
    """Joints of lines are round: a sharp corner inks no farther than half the line beyond its point."""
    mark = Path("SHEET", ((50.0, 100.0, 0.0), (60.0, 101.0, 0.0), (50.0, 102.0, 0.0)))
    svg = svg_bytes(Sheet("A4", 210.0, 297.0, "T", "Invented.", LAYERS, (), (), (mark,))).decode()
    dots = 20
    image = Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg, dpi=25.4 * dots, background="#ffffff")))).convert(
        "L"
    )
    _, _, right, _ = image.point(lambda grey: 255 if grey < 128 else 0).getbbox()
    assert right / dots == pytest.approx(60.35, abs=0.051)


def test_fills_with_arcs_or_dents_are_hatches_and_plain_ones_solids():
    """A SOLID has three or four corners and runs from side to side; anything else would be drawn as a bow tie."""
    tooth = Fill("TITLE", ((0.0, 0.0, 0.0), (9.0, 0.0, 0.0), (2.0, 2.0, 0.0), (0.0, 9.0, 0.0)))  # dented
    box = Fill("TITLE", ((20.0, 0.0, 0.0), (29.0, 0.0, 0.0), (29.0, 9.0, 0.0), (20.0, 9.0, 0.0)))
    clockwise = Fill("TITLE", ((40.0, 0.0, 0.0), (40.0, 9.0, 0.0), (49.0, 9.0, 0.0), (49.0, 0.0, 0.0)))
    round_one = Fill("TITLE", ((60.0, 0.0, 0.0), (69.0, 0.0, 1.0), (69.0, 9.0, 0.0)))
    five = Fill("TITLE", ((80.0, 0.0, 0.0), (89.0, 0.0, 0.0), (92.0, 5.0, 0.0), (89.0, 9.0, 0.0), (80.0, 9.0, 0.0)))
    sheet = Sheet("A4", 210.0, 297.0, "T", "Invented.", LAYERS, (), (), (tooth, box, clockwise, round_one, five))
    paper = document_of(dxf_bytes(sheet)).paperspace()
    solids = [[tuple(solid.dxf.get(f"vtx{k}").vec2) for k in (0, 1, 3, 2)] for solid in paper.query("SOLID")]
    assert solids == [[node[:2] for node in mark.nodes] for mark in (box, clockwise)]
    assert [len(hatch.paths[0].vertices) for hatch in paper.query("HATCH")] == [4, 3, 5]
    assert all(hatch.dxf.solid_fill for hatch in paper.query("HATCH"))


@pytest.mark.parametrize("turn", [0.0, 30.0, 90.0, 205.0])
@pytest.mark.parametrize("align", ["left", "middle", "right"])
def test_a_tag_of_a_block_stands_where_its_first_insert_shows_it(turn, align):
    """A seat that inserts the block once more letters its tag from the block: turned and moved with the insert it is where the sheet has it."""
    block = Block("CHOCK", (Path("0", ((0.0, 0.0, 0.0), (40.0, 0.0, 0.0))),), (("ITEM", "Item"), ("SIZE", "Size")))
    shown = Text("CHOCKS", 107.0, 88.0, "K1", 3.5, align, 15.0)
    insert = Insert("CHOCKS", "CHOCK", 100.0, 90.0, turn, (Attribute("ITEM", "K1", shown), Attribute("SIZE", "80")))
    later = Insert("CHOCKS", "CHOCK", 200.0, 90.0, 0.0, (Attribute("ITEM", "K2", Text("CHOCKS", 222.0, 99.0, "K2", 5.0)),))
    sheet = Sheet("A3", 420.0, 297.0, "T", "Invented.", LAYERS, (block,), (), (insert, later))
    document = document_of(dxf_bytes(sheet))
    item, size = document.blocks.get("CHOCK").query("ATTDEF")
    assert (item.dxf.tag, item.dxf.prompt, item.is_invisible) == ("ITEM", "Item", False)
    assert (size.dxf.tag, size.dxf.prompt, size.is_invisible) == ("SIZE", "Size", True)
    place = (item.dxf.align_point if item.dxf.halign else item.dxf.insert).vec2
    angle = math.radians(turn)
    moved = (
        100.0 + place.x * math.cos(angle) - place.y * math.sin(angle),
        90.0 + place.x * math.sin(angle) + place.y * math.cos(angle),
    )
    assert moved == pytest.approx((107.0, 88.0), abs=WRITTEN)
    assert (item.dxf.get("rotation", 0.0) + turn) % 360.0 == pytest.approx(15.0, abs=1e-3)
    assert (item.dxf.height, item.dxf.halign) == (3.5, ("left", "middle", "right").index(align))
    attribs = [entity.attribs[0] for entity in document.paperspace().query("INSERT")]
    assert [attrib.dxf.text for attrib in attribs] == ["K1", "K2"]
    assert [attrib.dxf.layer for attrib in attribs] == ["CHOCKS", "CHOCKS"]
    assert tuple((attribs[0].dxf.align_point if align != "left" else attribs[0].dxf.insert).vec2) == pytest.approx(
        (107.0, 88.0), abs=WRITTEN
    )


def test_a_clipped_view_shows_nothing_beyond_its_window():
    """The window of 200 × 100 at 1:2 stands at 20, 30: a line through all of it inks from 20 to 120, at 30 + 30 / 2 above the edge."""
    line = Path("GLASS", ((-300.0, 10.0, 0.0), (900.0, 10.0, 0.0)))
    post = Path("GLASS", ((60.0, -300.0, 0.0), (60.0, 900.0, 0.0)))
    dots = 20
    for mark, wanted in ((line, (20.0, 120.0, 45.0, 45.0)), (post, (70.0, 70.0, 30.0, 80.0))):
        view = View("corner", 0.5, (-40.0, -20.0, 160.0, 80.0), (20.0, 30.0), (mark,), clipped=True)
        svg = svg_bytes(Sheet("A4", 210.0, 297.0, "T", "Invented.", LAYERS, (), (view,), ())).decode()
        image = Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=svg, dpi=25.4 * dots, background="#ffffff"))))
        left, top, right, bottom = image.convert("L").point(lambda grey: 255 if grey < 128 else 0).getbbox()
        half = 0.25  # of the line
        found = (left / dots, right / dots, 297.0 - bottom / dots, 297.0 - top / dots)
        across = (half, half, 0.0, 0.0) if mark is post else (0.0, 0.0, half, half)
        signs = (-1, 1, -1, 1)
        assert found == pytest.approx([w + s * a for w, s, a in zip(wanted, signs, across, strict=True)], abs=0.051)


def test_bold_lettering_stays_bold_where_it_is_moved():
    """A view set beside another; the box of a bold text is that of its own weight."""
    from outputs.sheet.boxes import box_of
    from outputs.sheet.moving import shifted

    bold = Text("TEXT", 10.0, 20.0, "PORT", 7.0, bold=True)
    assert shifted(bold, 5.0, 6.0) == Text("TEXT", 15.0, 26.0, "PORT", 7.0, bold=True)
    assert box_of(bold, 1.0)[2] == pytest.approx(10.0 + text_width("PORT", 7.0, bold=True))
