"""A sheet laid flat: a writer that knows nothing but strokes, areas and lettering draws the same picture."""

from __future__ import annotations

import dataclasses
import io
import math
import re
from dataclasses import replace

import numpy as np
import pytest
import resvg_py
from ezdxf.math import bulge_to_arc
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes, svg_inline
from outputs.sheet.entities import Fill, Hatch, Path, Sheet, Text, View
from outputs.sheet.flattening import flattened
from outputs.sheet.layers import LAYERS, layer_named
from outputs.sheet.lettering import face_file, font_size
from outputs.sheet.runs import segments

DOTS = 6  # pixels per mm


def drawn(flat):
    """The flattened sheet as Pillow draws it, dashes left out: a writer of one page."""
    image = Image.new("L", (round(flat.width * DOTS), round(flat.height * DOTS)), 255)
    pen = ImageDraw.Draw(image)

    def places(run, closed):
        found = [run[0][:2]]
        for (x1, y1, bulge), (x2, y2, _) in segments(run, closed=closed):
            if bulge:
                centre, first, last, radius = bulge_to_arc((x1, y1), (x2, y2), bulge)
                turns = np.linspace(first, last + (2 * np.pi if last < first else 0.0), 24)
                arc = [(centre.x + radius * np.cos(turn), centre.y + radius * np.sin(turn)) for turn in turns]
                found += arc if bulge > 0 else arc[::-1]
            found.append((x2, y2))
        return [(x * DOTS, (flat.height - y) * DOTS) for x, y in found]

    for inked in (each for each in flat.inked if each.layer.plots):
        for area in inked.areas:
            pen.polygon(places(area.runs[0], True), fill=0)
        for stroke in (*inked.hatchings, *inked.strokes):
            for run in stroke.runs:
                pen.line(places(run, stroke.closed), fill=0, width=max(1, round(inked.layer.width * DOTS)))
        for text in inked.letterings:
            face = ImageFont.truetype(face_file(), font_size(text.height) * DOTS)
            box = Image.new("L", image.size, 0)
            at = (text.x * DOTS, (flat.height - text.y) * DOTS)
            anchor = {"left": "ls", "middle": "ms", "right": "rs"}[text.align]
            ImageDraw.Draw(box).text(at, text.string, fill=255, font=face, anchor=anchor)
            image.paste(0, mask=box.rotate(text.rotation, center=at, resample=Image.Resampling.BICUBIC))
    return image


def printed(svg):
    data = resvg_py.svg_to_bytes(
        svg_string=svg, dpi=25.4 * DOTS, background="#ffffff", skip_system_fonts=True, font_files=[face_file()]
    )
    return Image.open(io.BytesIO(bytes(data))).convert("L")


def away(one, other):
    """Share of the ink of one picture that has no ink of the other within two pixels."""
    ink = np.asarray(one) < 100
    near = np.asarray(other.filter(ImageFilter.MinFilter(5))) < 160
    return (ink & ~near).sum() / ink.sum()


def test_a_thin_writer_draws_the_picture_of_the_svg(sheet):
    solid = replace(sheet, layers=tuple(replace(layer, linetype="CONTINUOUS") for layer in sheet.layers))
    ours, svg = drawn(flattened(solid)), printed(svg_bytes(solid).decode())
    assert ours.size == svg.size
    assert away(ours, svg) < 0.002
    assert away(svg, ours) < 0.002


def small(*marks, layers=LAYERS, clipped=False):
    view = View("part", 2.0, (0.0, 0.0, 10.0, 10.0), (5.0, 5.0), marks, clipped)
    return Sheet("A4", 30.0, 30.0, "part", "A part of something larger.", layers, (), (view,))


def test_a_clipped_view_ends_at_its_window():
    """A line 2,5 mm high and 0,5 wide that runs right through a window of 20 mm on paper is 20 mm long on the print, not 30."""
    line = Path("GLASS", ((-50.0, 5.0, 0.0), (50.0, 5.0, 0.0)))
    for clipped, ends in ((False, (0.0, 30.0)), (True, (5.0, 25.0))):
        image = printed(svg_inline(flattened(small(line, clipped=clipped)), "one"))
        columns = np.flatnonzero((np.asarray(image) < 128).any(axis=0))
        assert (columns[0] / DOTS, (columns[-1] + 1) / DOTS) == pytest.approx(ends, abs=0.17)


def test_ink_of_a_layer_is_the_colour_of_the_print():
    square = ((2.0, 2.0, 0.0), (8.0, 2.0, 0.0), (8.0, 8.0, 0.0), (2.0, 8.0, 0.0))
    hole = ((4.0, 4.0, 0.0), (6.0, 4.0, 0.0), (6.0, 6.0, 0.0), (4.0, 6.0, 0.0))
    layers = (replace(layer_named("GLASS"), ink="#f0954f"),)
    flat = flattened(small(Hatch("GLASS", "frit", (square, hole)), layers=layers))
    data = resvg_py.svg_to_bytes(svg_string=svg_inline(flat, "one"), dpi=254, background="#ffffff")
    image = Image.open(io.BytesIO(bytes(data))).convert("RGB")
    assert image.getpixel((110, 150)) == (0xF0, 0x95, 0x4F)  # 11 mm from the left: in the square
    assert image.getpixel((150, 150)) == (255, 255, 255)  # in its hole


def test_arrowheads_that_overlap_stay_filled_whichever_way_they_run():
    """Two triangles drawn in one path, one run the other way: where both lie the fill rule must not cut a hole."""
    one = ((1.0, 1.0, 0.0), (9.0, 1.0, 0.0), (5.0, 9.0, 0.0))
    svg = svg_inline(flattened(small(Fill("GLASS", one), Fill("GLASS", one[::-1]))), "one")
    assert printed(svg).getpixel((15 * DOTS, 17 * DOTS)) == 0


def test_two_pictures_of_one_page_share_no_name():
    flat = flattened(small(Text("TEXT", 1.0, 1.0, "a < b", 2.5)))
    one, other = svg_inline(flat, "one"), svg_inline(flat, "other")
    names = [set(re.findall(r' id="([^"]+)"', each)) for each in (one, other)]
    assert not names[0] & names[1]
    assert "a &lt; b" in one
    assert "<?xml" not in one


def shaken(value, by):
    """The same sheet with every length off by a few units of its last place, as another order of the same sum leaves it."""
    if isinstance(value, float):
        return value + by(value) if value else value
    if isinstance(value, tuple):
        return tuple(shaken(each, by) for each in value)
    if dataclasses.is_dataclass(value):
        left_alone = ("scale", "height", "width", "layers", "window")
        changes = {
            entry.name: shaken(getattr(value, entry.name), by)
            for entry in dataclasses.fields(value)
            if entry.name not in left_alone
        }
        return replace(value, **changes)
    return value


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_the_last_bits_of_a_sum_change_no_byte(sheet, sign):
    """Python 3.12 sums floats more exactly than 3.11: what is written must not hang on it. Hatches are another test's."""
    views = tuple(replace(view, marks=tuple(mark for mark in view.marks if not isinstance(mark, Hatch))) for view in sheet.views)
    plain = replace(sheet, views=views)
    moved = shaken(plain, lambda value: sign * 4.0 * math.ulp(value))
    assert moved != plain
    assert svg_bytes(moved) == svg_bytes(plain)
    assert dxf_bytes(moved) == dxf_bytes(plain)
