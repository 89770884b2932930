"""What DXF files are known to do to readers, a test for each; the rules are those of the DXF reference."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from drawings import bulged, data_of, exploded, farthest, mapped, new, read

from geometry.incoming import IncomingError
from geometry.outline import shapes
from geometry.outline.loop import segments
from geometry.outline.measure import area, bounding_box, perimeter

PANE = shapes.rectangle(900, 450, radius=50)


def box(found):
    return tuple(bounding_box(found.outline))


def test_the_bulge_of_the_last_vertex_bends_the_closing_side():
    doc, space = new()
    space.add_lwpolyline([(0, 0, 0), (400, 0, 0), (400, 300, 0), (0, 300, 1)], format="xyb", close=True)
    assert area(read(doc).outline) == pytest.approx(400 * 300 + math.pi * 150**2 / 2)


@pytest.mark.parametrize("bulge", [1.5, -0.3, 2.5])
def test_bulges_over_one_and_below_nought_and_after_a_mirror(bulge):
    """The area of a bulged side in closed form: r² (sweep − sin sweep) / 2."""
    doc, space = new()
    block = doc.blocks.new("B")
    block.add_lwpolyline([(0, 0, bulge), (600, 0, 0), (600, 900, 0), (0, 900, 0)], format="xyb", close=True)
    space.add_blockref("B", (0, 0), dxfattribs={"xscale": -1})
    sweep = 4 * math.atan(abs(bulge))
    radius = 300 * (1 + bulge * bulge) / (2 * abs(bulge))
    segment = math.copysign(radius**2 * (sweep - math.sin(sweep)) / 2, bulge)
    found = read(doc)
    assert area(found.outline) == pytest.approx(600 * 900 + segment)
    left, _, right, _ = box(found)
    assert (left + right) / 2 == pytest.approx(-300)


def test_arcs_circles_and_polylines_drawn_from_behind():
    for draw in ("exploded", "polyline", "circle"):
        doc, space = new()
        behind = {"extrusion": (0, 0, -1)}
        expected = PANE
        if draw == "exploded":
            exploded(space, PANE, flip=True)
        elif draw == "polyline":
            rows = [(-x, y, -bulge) for x, y, bulge in bulged(PANE)]
            space.add_lwpolyline(rows, format="xyb", close=True, dxfattribs=behind)
        else:
            space.add_circle((-500, 300), 200, dxfattribs=behind)
            expected = mapped(shapes.circle(400), shift=(300, 100))
        assert farthest(read(doc).outline, expected) < 1e-6


@pytest.mark.parametrize("gap", [1e-4, 0.04])
def test_small_gaps_are_closed_and_told_with_their_place(gap):
    doc, space = new()
    for a, b in (((0, 0), (900, 0)), ((900 + gap, 0), (900, 450)), ((900, 450), (0, 450)), ((0, 450), (0, 0))):
        space.add_line(a, b)
    found = read(doc)
    assert farthest(found.outline, shapes.rectangle(900, 450)) < gap
    assert len(found.mended) == 1 and found.mended[0].startswith("1 gap closed") and "(900" in found.mended[0]
    with pytest.raises(IncomingError, match=r"open between \(900, 0\) and \(900(\.\d+)?, 0\)"):
        read(doc, gap=gap / 2)


def test_lines_drawn_twice_and_without_length_are_left_out_and_told():
    doc, space = new()
    exploded(space, PANE)
    space.add_line((50, 0), (850, 0))
    space.add_line((850, 0), (50, 0))
    space.add_line((300, 200), (300, 200))
    space.add_lwpolyline(bulged(PANE), format="xyb", close=True)
    found = read(doc)
    assert farthest(found.outline, PANE) < 1e-9
    assert found.mended == ("3 lines drawn twice, the second left out", "1 piece without length left out")


def test_a_line_that_lies_on_a_longer_one_is_left_out_and_told():
    doc, space = new()
    exploded(space, PANE)
    space.add_line((200, 0), (500, 0))
    assert read(doc).mended == ("1 line that lies on the outline left out",)


def test_a_soup_of_300_short_lines_stays_exact_and_one_of_2700_becomes_arcs():
    for count in (300, 2700):
        doc, space = new("R12")
        places = [
            (400 + 400 * math.cos(2 * math.pi * i / count), 300 + 300 * math.sin(2 * math.pi * i / count)) for i in range(count)
        ]
        for i in range(count):
            space.add_line(places[i - 1], places[i])
        found = read(doc, units="mm")
        polygon = count / 2 * math.sin(2 * math.pi / count) * 400 * 300  # of an affine image of a regular polygon
        assert abs(area(found.outline) - polygon) <= max(found.deviation * 2300, 1e-6)
        if count == 300:
            assert len(found.outline.vertices) == 300 and found.deviation == 0
        else:
            assert len(found.outline.vertices) < 200 and 0 < found.deviation <= 0.01
            assert "2700 short sides" in found.mended[0]


@pytest.mark.parametrize("far", [4e7, -4e7])
def test_coordinates_of_a_country(far):
    doc, space = new()
    exploded(space, mapped(PANE, shift=(far, far / 3)))
    found = read(doc)
    assert area(found.outline) == pytest.approx(area(PANE), rel=1e-9)
    assert bounding_box(found.outline).left == pytest.approx(far, abs=1e-6)
    assert len(found.outline.vertices) == 8 and not found.mended


def test_a_block_that_is_never_inserted_is_named_and_read_by_its_name():
    doc, _ = new()
    exploded(doc.blocks.new("Saloon"), PANE)
    with pytest.raises(IncomingError, match=r'no lines.*block = "Saloon" \(8 entities\)'):
        read(doc)
    assert farthest(read(doc, block="SALOON").outline, PANE) < 1e-9
    with pytest.raises(IncomingError, match="has no block 'Salon'.*Saloon.*did you mean Saloon"):
        read(doc, block="Salon")


def test_an_empty_model_with_the_pane_on_a_sheet():
    doc, _ = new()
    exploded(doc.layout("Layout1"), PANE)
    with pytest.raises(IncomingError, match=r'layout = "Layout1" \(8 entities\)'):
        read(doc)
    assert farthest(read(doc, layout="layout1").outline, PANE) < 1e-9


def test_a_block_in_itself_is_refused_with_its_place():
    doc, space = new()
    one, two = doc.blocks.new("ONE"), doc.blocks.new("TWO")
    exploded(one, PANE)
    one.add_blockref("TWO", (10, 20))
    two.add_blockref("ONE", (1, 2))
    space.add_blockref("ONE", (1000, 500))
    with pytest.raises(
        IncomingError, match=r"the block ONE stands in itself \(ONE in TWO in ONE\): its insert is at \(1011\.000, 522\.000\)"
    ):
        read(doc)


def test_many_inserts_in_each_other_end_in_a_refusal_and_no_wait():
    doc, space = new()
    doc.blocks.new("B0").add_line((0, 0), (1, 1))
    for level in range(1, 12):
        block = doc.blocks.new(f"B{level}")
        for k in range(10):
            block.add_blockref(f"B{level - 1}", (k, 0))
    space.add_blockref("B11", (0, 0))
    with pytest.raises(IncomingError, match="more than 100000 entities"):
        read(doc)


def test_rows_and_columns_of_one_insert():
    doc, space = new()
    exploded(doc.blocks.new("W"), PANE)
    at = {"row_count": 2, "column_count": 3, "row_spacing": 700, "column_spacing": 1100, "rotation": 90}
    space.add_blockref("W", (0, 0), dxfattribs=at)
    with pytest.raises(IncomingError, match="shows 6 outlines"):
        read(doc)
    # the third column in the second row, turned by 90°: 2200 up, 700 to the left
    expected = mapped(PANE, turn=90, shift=(-700, 2200))
    assert farthest(read(doc, at=(-900, 2600)).outline, expected) < 1e-6


def test_a_binary_drawing_with_its_unit():
    doc, space = new(units=1)
    exploded(space, mapped(PANE, scale=1 / 25.4))
    found = read(data_of(doc, "bin"))
    assert farthest(found.outline, PANE) < 1e-6 and "in inches by its header" in found.source


def test_line_ends_of_windows_and_a_text_in_code():
    doc, space = new("R2000")
    exploded(space, PANE)
    exploded(space, mapped(PANE, shift=(2000, 0)))
    space.add_text("Küche", dxfattribs={"insert": (2400, 200)})
    data = data_of(doc).replace("Küche".encode("cp1252"), rb"K\U+00FCche").replace(b"\n", b"\r\n")
    assert rb"K\U+00FCche" in data
    assert box(read(data, label="küche"))[0] == pytest.approx(2000)


def test_a_spline_fit_polyline_without_its_frame_points():
    """Vertices with flag 16 are the frame; those with flag 8 the line (DXF reference, VERTEX)."""
    doc, space = new("R12")
    line = space.add_polyline2d([(0, 0), (600, 0), (600, 400), (0, 400)], close=True)
    line.dxf.flags |= 4
    for vertex in line.vertices:
        vertex.dxf.flags |= 8
    for x, y in ((-500, -500), (1100, -500), (1100, 900)):
        line.append_vertex((x, y), dxfattribs={"flags": 16})
    assert box(read(doc, units="mm")) == pytest.approx((0, 0, 600, 400))


@pytest.mark.parametrize("degree", [1, 2, 3, 4])
def test_splines_of_every_degree(degree):
    """Held against the general library scipy, which evaluates the same spline by its knots."""
    from scipy.interpolate import BSpline

    doc, space = new()
    points = [(0, 0), (300, -80), (700, 40), (820, 380), (420, 560), (60, 420), (-90, 200), (0, 0)]
    space.add_open_spline([(*point, 0) for point in points], degree=degree)
    found = read(doc)
    count = len(points)
    knots = np.concatenate((np.zeros(degree), np.arange(count - degree + 1), np.full(degree, count - degree)))
    curve = BSpline(knots.astype(float), np.array(points, dtype=float), degree)
    places = curve(np.linspace(0, count - degree, 4001))
    shoelace = 0.5 * abs(float(np.dot(places[:-1, 0], places[1:, 1]) - np.dot(places[1:, 0], places[:-1, 1])))
    assert abs(area(found.outline) - shoelace) <= found.deviation * 2500 + 0.5
    assert (found.deviation == 0) is (degree == 1)


def test_a_closed_rational_circle_is_a_circle():
    """Nine points with weights 1 and √½ (the standard circle of the textbooks)."""
    doc, space = new()
    half = math.sqrt(0.5)
    points = [(400, 200), (400, 400), (200, 400), (0, 400), (0, 200), (0, 0), (200, 0), (400, 0), (400, 200)]
    space.add_rational_spline(
        [(*point, 0) for point in points],
        weights=[1, half, 1, half, 1, half, 1, half, 1],
        degree=2,
        knots=[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4],
    )
    found = read(doc)
    assert farthest(found.outline, shapes.circle(400)) < 1e-6 and found.deviation < 1e-9


def test_a_spline_by_fit_points_alone_is_told():
    doc, space = new()
    fit = [(0, 0, 0), (400, -50, 0), (800, 0, 0), (850, 400, 0), (400, 460, 0), (0, 0, 0)]
    space.add_spline(fit)
    found = read(doc)
    assert "fit points alone" in found.mended[0]
    from geometry.outline.loop import Point
    from geometry.outline.stations import distance_from

    assert max(distance_from(found.outline, Point(x, y)) for x, y, _ in fit) <= found.deviation + 1e-6


def test_a_closed_spline_by_fit_points_closes():
    doc, space = new()
    space.add_spline([(0, 0, 0), (900, 0, 0), (900, 450, 0), (0, 450, 0)]).closed = True
    assert read(doc).outline.vertices


def test_what_is_not_read_beside_the_outline_is_told():
    doc, space = new()
    exploded(space, PANE)
    space.add_blockref("GONE", (0, 0))
    space.add_solid([(0, 0), (1, 0), (0, 1)])
    assert read(doc).mended == ("not read: 1 INSERT of the missing block GONE, 1 SOLID",)


def test_hatches_multilines_and_regions_are_told_and_not_read():
    """A hatch inside the pane, one on a hidden layer, a multiline and a region beside it."""
    doc, space = new("R2010")
    exploded(space, PANE)
    doc.layers.add("OLD").off()
    for layer in ("0", "OLD"):
        space.add_hatch(dxfattribs={"layer": layer}).paths.add_polyline_path([(5, 5, 0.5), (80, 5), (80, 60)], is_closed=True)
    space.add_mline([(0, 900), (500, 900)])
    space.add_region().sat = ["400 0 1 0"]
    told = read(doc).mended
    assert told == ("1 entity on hidden layers or invisible not read", "not read: 1 HATCH, 1 MLINE, 1 REGION")


def test_a_drawing_that_shows_its_pane_as_a_hatch_alone_says_so():
    doc, space = new("R2010")
    space.add_hatch(dxfattribs={"layer": "GLASS"}).paths.add_polyline_path(
        [(0, 0), (900, 0), (900, 450), (0, 450)], is_closed=True
    )
    with pytest.raises(IncomingError, match="no lines, arcs or curves in the model space, only 1 HATCH"):
        read(doc)
    space.add_line((0, 0), (900, 0))
    with pytest.raises(IncomingError, match="not read: 1 HATCH"):
        read(doc)
    with pytest.raises(IncomingError, match="no lines on a layer 'GLASS'; not read: 1 HATCH"):
        read(doc, layer="GLASS")


@pytest.mark.parametrize("width", [0.5, 90, 300])
def test_two_arcs_of_one_circle_are_a_circle(width):
    doc, space = new()
    space.add_arc((500, 500), 300, 10, 10 + width)
    space.add_arc((500, 500), 300, 10 + width, 10)
    assert farthest(read(doc).outline, mapped(shapes.circle(600), shift=(200, 200))) < 1e-6


def test_hidden_layers_are_not_read_and_told():
    doc, space = new()
    doc.layers.add("OLD").off()
    doc.layers.add("COLD").freeze()
    exploded(space, PANE)
    exploded(space, mapped(PANE, shift=(50, 0)), layer="OLD")
    exploded(space, mapped(PANE, shift=(70, 0)), layer="COLD")
    assert read(doc).mended == ("16 entities on hidden layers or invisible not read",)
    assert box(read(doc, layer="old"))[0] == pytest.approx(50)  # asked for by name


def test_layer_names_without_regard_to_case_and_layer_0_of_a_block():
    doc, space = new()
    exploded(doc.blocks.new("W"), PANE, layer="0")
    space.add_blockref("W", (100, 0), dxfattribs={"layer": "Glass"})
    exploded(space, mapped(PANE, scale=1.1), layer="RECESS")
    assert box(read(doc, layer="gLaSS"))[0] == pytest.approx(100)
    with pytest.raises(
        IncomingError, match=r"no lines on a layer 'GLAS'; allowed: one of Glass \(8\), RECESS \(8\); did you mean Glass"
    ):
        read(doc, layer="GLAS")


def test_closed_polylines_that_share_a_side_are_two_outlines():
    doc, space = new()
    for x in (0, 600):
        space.add_lwpolyline([(x, 0), (x + 600, 0), (x + 600, 400), (x, 400)], close=True)
    with pytest.raises(IncomingError, match="shows 2 outlines"):
        read(doc)
    assert box(read(doc, at=(900, 100))) == pytest.approx((600, 0, 1200, 400))


def test_an_outline_over_two_layers_is_joined_and_told():
    doc, space = new()
    for (a, b), layer in zip(
        (((0, 0), (900, 0)), ((900, 0), (900, 450)), ((900, 450), (0, 450)), ((0, 450), (0, 0))), "ABAB", strict=True
    ):
        space.add_line(a, b, dxfattribs={"layer": layer})
    found = read(doc)
    assert area(found.outline) == 900 * 450 and found.mended == ("joined over the layers A and B",)


# ---- in space


def raked(lean, turn=0.0):
    """Unit vectors of a window's plane: level to the right as seen from outside, and up, leaning back by ``lean`` degrees."""
    a, t = math.radians(lean), math.radians(turn)
    right = (math.cos(t), math.sin(t), 0.0)
    inward = (-math.sin(t), math.cos(t), 0.0)
    up = tuple(math.cos(a) * z + math.sin(a) * i for z, i in zip((0, 0, 1), inward, strict=True))
    return right, up


def in_space(space, outline, right, up, origin=(1000.0, 2000.0, 500.0)):
    def place(x, y):
        return tuple(o + x * r + y * u for o, r, u in zip(origin, right, up, strict=True))

    for part in segments(outline):
        space.add_line(place(*part.start), place(*part.end))


@pytest.mark.parametrize(
    ("lean", "turn", "side", "looks"),
    [(25, 0, "-y", "-y"), (60, 37, "outside", "above"), (46, 0, "outside", "above"), (12, 120, "+x", "+x"), (-20, 0, "-y", "-y")],
)
def test_a_raked_window_drawn_in_space_has_its_true_size_and_no_shadow(lean, turn, side, looks):
    pane = shapes.polygon([(0, 0), (1100, 0), (1000, 500), (80, 480)])
    doc, space = new()
    in_space(space, pane, *raked(lean, turn))
    found = read(doc, seen_from=side)
    assert area(found.outline) == pytest.approx(area(pane), rel=1e-9)
    assert perimeter(found.outline) == pytest.approx(perimeter(pane), rel=1e-9)
    left, bottom, _, _ = box(found)
    assert farthest(mapped(found.outline, shift=(-left, -bottom)), pane) < 1e-6  # right way round, sill level
    assert found.from_vertical == pytest.approx(lean)
    assert f"its outer face looks {looks}" in found.source


def test_a_window_that_may_lean_out_as_well_as_back_asks_for_its_outer_side():
    """The same four lines are a windscreen that leans back and a reverse-raked one: the two panes are each other's mirror image."""
    pane = shapes.polygon([(0, 0), (1100, 0), (1000, 500), (80, 480)])
    doc, space = new()
    in_space(space, pane, *raked(25))
    for side in ("outside", "inside"):
        with pytest.raises(IncomingError, match=r"leans 25\.0 deg from upright in space, and nothing says which") as refused:
            read(doc, seen_from=side)
        assert refused.value.key == "seen_from" and '"-y"' in refused.value.allowed and '"+y"' in refused.value.allowed
    back, out = (read(doc, seen_from=side) for side in ("-y", "+y"))
    assert (back.from_vertical, out.from_vertical) == (pytest.approx(25), pytest.approx(-25))
    assert farthest(mapped(out.outline, mirror=True), back.outline) < 1e-6


def test_a_hidden_layer_that_is_asked_for_is_read_and_told():
    doc, space = new()
    doc.layers.add("OLD").off()
    exploded(space, PANE, layer="OLD")
    exploded(space, mapped(PANE, shift=(5000, 0)))
    assert read(doc, layer="old").mended == ("layer OLD is hidden in the drawing, and read as the job names it",)


def test_an_upright_window_in_space_asks_for_its_outer_side():
    pane = shapes.polygon([(0, 0), (1100, 0), (1000, 500)])
    doc, space = new()
    in_space(space, pane, *raked(0))
    with pytest.raises(
        IncomingError, match=r'which of its faces is outside; allowed: seen_from = "-y" or "\+y"|seen_from = "\+y" or "-y"'
    ):
        read(doc)
    left, bottom, _, _ = box(read(doc, seen_from="-y"))
    assert farthest(mapped(read(doc, seen_from="-y").outline, shift=(-left, -bottom)), pane) < 1e-6
    other = read(doc, seen_from="+y").outline
    middle = bounding_box(other)
    assert farthest(mapped(other, mirror=True, shift=(middle.right, -middle.bottom)), pane) < 1e-6


def test_a_window_that_is_not_flat_is_refused_with_the_place():
    doc, space = new()
    corners = [(0, 0, 0), (1000, 0, 0), (1000, 0, 600), (0, 8, 600)]
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        space.add_line(a, b)
    with pytest.raises(IncomingError, match=r"not flat: at \(.*\) it lies \d\.\d+ mm off the plane"):
        read(doc, seen_from="-y")


def test_an_arc_in_space_keeps_its_radius():
    """A circle drawn on a plane that leans by 30°: its normal is the extrusion."""
    doc, space = new()
    normal = (0.0, -math.cos(math.radians(30)), math.sin(math.radians(30)))
    space.add_circle((0, 0, 700), 250, dxfattribs={"extrusion": normal})
    found = read(doc, seen_from="-y")
    assert found.shape == "circle" and perimeter(found.outline) == pytest.approx(2 * math.pi * 250)


def test_a_view_from_inside_is_turned_and_its_box_stays():
    pane = shapes.polygon([(100, 0), (1100, 0), (1000, 500)])
    doc, space = new()
    exploded(space, pane)
    found = read(doc, seen_from="inside")
    assert tuple(bounding_box(found.outline)) == pytest.approx(tuple(bounding_box(pane)))
    assert farthest(found.outline, mapped(pane, mirror=True, shift=(1200, 0))) < 1e-9
    assert re.search("drawn from inside", found.source)


# ---- refusals with coordinates


def test_open_ends_name_both_places():
    doc, space = new()
    for a, b in (((0, 0), (900, 0)), ((900.2, 0.3), (900, 450)), ((900, 450), (0, 450)), ((0, 450), (0, 0))):
        space.add_line(a, b)
    with pytest.raises(IncomingError, match=r"open between \(900, 0\) and \(900\.2, 0\.3\), 0\.361 mm apart"):
        read(doc)


def test_a_junction_names_its_place():
    doc, space = new()
    exploded(space, shapes.rectangle(900, 450))
    space.add_line((900, 450), (1200, 600))
    with pytest.raises(IncomingError, match=r"a junction at \(900, 450\) where 3 meet"):
        read(doc)


def test_a_crossing_names_its_place_and_both_sides():
    doc, space = new()
    space.add_lwpolyline([(0, 0), (900, 500), (900, 0), (0, 500)], close=True)
    with pytest.raises(IncomingError, match=r"crosses or touches itself at \(450, 250\): the side from \(0, 0\) to \(900, 500\)"):
        read(doc)


def test_a_side_that_is_next_to_straight_hinders_no_picking():
    """A bulge of a thousand-millionth, as programs leave it behind, in a drawing of two outlines."""
    doc, space = new()
    for x in (0, 2000):
        space.add_lwpolyline([(x, 0, 0), (x + 900, 0, 1e-9), (x + 900, 450, 0), (x, 450, 0)], format="xyb", close=True)
    assert farthest(read(doc, at=(10, 10)).outline, shapes.rectangle(900, 450)) < 1e-6
