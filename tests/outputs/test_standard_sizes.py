"""Sizes of the drafting standards, measured on finished sheets: on what is drawn, printed and written, not on the settings behind it.

Sources
-------
ISO 3098-1 (lettering: series of heights, stroke a tenth or a fourteenth of the height, lower case 7/10, line pitch 13/10 to 19/10),
ISO 128-2 (line widths, narrow to wide 1 : 2, dashes in line widths, least clear space), ISO 129-1 (dimensions), ISO 5457 (sheets) and
ISO 7200 (title block). None of the texts was at hand: the series of heights and widths, the sheet sizes, the comma, one height for all
dimensions, the text above its line, the clear space of 0.7 mm and the 180 mm of the title block as secondary pages give them; the rest
from memory, and said so beside the check.
"""

from __future__ import annotations

import io
import math
import re
from functools import cache
from itertools import pairwise
from pathlib import Path as File
from typing import TYPE_CHECKING, NamedTuple
from xml.etree import ElementTree

import ezdxf
import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job
from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.entities import Dimension, Fill, Insert, Path, Sheet, Text
from outputs.sheet.lettering import face_file
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of

if TYPE_CHECKING:
    from collections.abc import Iterator

HEIGHTS = (1.8, 2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)
WIDTHS = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0)
SHEETS = {"A3": (420, 297), "A2": (594, 420), "A1": (841, 594), "A0": (1189, 841)}
ROOT = File(__file__).parents[2]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")
SVG = "{http://www.w3.org/2000/svg}"


@cache
def made(code: str) -> Sheet:
    pane = next(pane for pane in JOB.panes if pane.code == code)
    return detail_of(Contents(JOB, pane, build_detail(JOB, pane)))


@cache
def picture(code: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg_bytes(made(code)))


@cache
def document(code: str):  # type: ignore[no-untyped-def]
    return ezdxf.read(io.StringIO(dxf_bytes(made(code)).decode("utf-8")))


CODES = ("SW-01", "SW-02", "SW-03", "SW-04", "SW-07", "SW-08")
"""Rectangle, four sides, circle, ellipse, sliver, notch."""


@pytest.fixture(params=CODES)
def code(request: pytest.FixtureRequest) -> str:
    return str(request.param)


class Drawn(NamedTuple):
    """A mark, the scale of the space it stands in (1 on paper) and whether that is a view."""

    mark: Text | Dimension
    scale: float
    in_view: bool


def drawn(sheet: Sheet, kind: type) -> Iterator[Drawn]:
    for space, scale, in_view in [(sheet.marks, 1.0, False), *((view.marks, view.scale, True) for view in sheet.views)]:
        for mark in space:
            if isinstance(mark, kind):
                yield Drawn(mark, scale, in_view)
            elif isinstance(mark, Dimension) and kind is Text:
                yield from (Drawn(part, scale, in_view) for part in mark.parts if isinstance(part, Text))
            elif isinstance(mark, Insert) and kind is Text:
                yield from (Drawn(a.text, scale, in_view) for a in mark.attributes if a.text is not None)


def of_series(value: float, series: tuple[float, ...]) -> bool:
    return any(abs(value - step) < 1e-6 for step in series)


# Lettering


@cache
def capital_share() -> float:
    """Height of a flat capital by the size of the font, from the outline of the letter H in the face itself."""
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.ttLib import TTFont

    with TTFont(face_file()) as font:
        pen = BoundsPen(font.getGlyphSet())
        font.getGlyphSet()[font.getBestCmap()[ord("H")]].draw(pen)
        return float(pen.bounds[3] / font["head"].unitsPerEm)


def test_letters_of_the_svg_have_heights_of_the_series(code: str) -> None:
    """ISO 3098: the font size of every printed text times what a capital takes of it; views, tables and title block."""
    texts = picture(code).findall(f".//{SVG}text")
    assert len(texts) > 100
    heights = {round(float(text.attrib["font-size"]) * capital_share(), 3) for text in texts}
    assert [height for height in heights if not any(abs(height - step) < 0.002 for step in HEIGHTS)] == []


def paper_scales(doc) -> list[tuple[tuple[float, float, float, float], float]]:  # type: ignore[no-untyped-def]
    """Window in the model and scale of each viewport, from the figures of the viewport itself."""
    found = []
    for viewport in doc.layouts.get(doc.layouts.names_in_taborder()[1]).query("VIEWPORT"):
        if viewport.dxf.id > 1:
            scale = viewport.dxf.height / viewport.dxf.view_height
            centre, wide = viewport.dxf.view_center_point, viewport.dxf.width / scale
            high = viewport.dxf.view_height
            box = (centre.x - wide / 2, centre.y - high / 2, centre.x + wide / 2, centre.y + high / 2)
            found.append((box, scale))
    return found


def scale_at(windows: list[tuple[tuple[float, float, float, float], float]], x: float, y: float) -> float:
    scales = {scale for (left, bottom, right, top), scale in windows if left <= x <= right and bottom <= y <= top}
    assert len(scales) == 1, f"({x}, {y}) stands in {len(scales)} windows of different scale"
    return scales.pop()


def test_letters_of_the_dxf_have_heights_of_the_series_through_their_window(code: str) -> None:
    """The same in DXF: paper space as it is; model space, attributes and the pictures of dimensions at the scale of their window."""
    doc = document(code)
    windows = paper_scales(doc)
    heights = []
    for text in doc.layouts.get(doc.layouts.names_in_taborder()[1]).query("TEXT MTEXT"):
        heights.append(text.dxf.height if text.dxftype() == "TEXT" else text.dxf.char_height)
    for entity in doc.modelspace():
        parts = [entity]
        if entity.dxftype() == "DIMENSION":
            parts = list(entity.virtual_entities())
        elif entity.dxftype() == "INSERT":
            parts = [attribute for attribute in entity.attribs if not attribute.is_invisible]
        for part in parts:
            if part.dxftype() in ("TEXT", "ATTRIB"):
                heights.append(part.dxf.height * scale_at(windows, part.dxf.insert.x, part.dxf.insert.y))
            elif part.dxftype() == "MTEXT":
                heights.append(part.dxf.char_height * scale_at(windows, part.dxf.insert.x, part.dxf.insert.y))
    assert len(heights) > 100
    assert sorted({round(height, 3) for height in heights if not of_series(round(height, 5), HEIGHTS)}) == []


def test_nothing_in_a_view_is_lettered_smaller_than_two_and_a_half(code: str) -> None:
    """Least height 2.5 mm (usual practice, from memory): 1.8 mm may only name the fields and columns of tables on paper."""
    small = [one for one in drawn(made(code), Text) if one.mark.height < 2.5]
    assert [one.mark.string for one in small if one.in_view] == []
    assert [one.mark.string for one in small if re.search(r"\d", one.mark.string)] == []


def test_every_dimension_has_one_height(code: str) -> None:
    """ISO 129-1 as an extract gives it: one height of characters for all dimensions and tolerances of a drawing."""
    heights = {part.height for one in drawn(made(code), Dimension) for part in one.mark.parts if isinstance(part, Text)}
    assert len(heights) == 1


def test_section_letters_are_a_step_up(code: str) -> None:
    """Letters of sections and views are a step or more of the series (square root of 2) above dimensions (from memory)."""
    sheet = made(code)
    usual = next(part.height for one in drawn(sheet, Dimension) for part in one.mark.parts if isinstance(part, Text))
    letters = [one.mark.height for one in drawn(sheet, Text) if one.in_view and one.mark.string in ("A", "B", "C", "D", "Z")]
    assert letters
    assert min(letters) / usual >= math.sqrt(2) - 0.02


def test_notes_are_spaced_as_iso_3098_asks(code: str) -> None:
    """Line pitch at least 13/10 of the height (from memory), for lines of one height one under the other, on paper."""
    lines: dict[tuple[float, float, str], list[float]] = {}
    for one in drawn(made(code), Text):
        if not one.in_view and one.mark.align == "left" and not one.mark.rotation and one.mark.layer != "TITLE":
            lines.setdefault((round(one.mark.x, 3), one.mark.height, one.mark.layer), []).append(one.mark.y)
    pitches = [(upper - lower) / height for (_, height, _), levels in lines.items() for lower, upper in pairwise(sorted(levels))]
    assert len(pitches) > 10
    assert min(pitches) >= 1.3 - 1e-9


def ink_of(letter: str) -> tuple[float, float]:
    """Width of the stem and height of a letter as the SVG prints it at 10 mm, by counting ink: (stem, height) mm."""
    resvg_py = pytest.importorskip("resvg_py")
    from PIL import Image

    size = 10.0 / capital_share()
    text = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">'
        f'<text x="4" y="16" font-family="Fritline Lettering" font-size="{size}">{letter}</text></svg>'
    )
    raw = resvg_py.svg_to_bytes(svg_string=text, dpi=1270, background="#ffffff", skip_system_fonts=True, font_files=[face_file()])
    image = Image.open(io.BytesIO(bytes(raw))).convert("L")
    wide, high = image.size
    rows = [sum(255 - image.getpixel((x, y)) for x in range(wide)) / 255 / 50 for y in range(high)]
    inked = [y for y, ink in enumerate(rows) if ink > 0.01]
    return rows[(inked[0] + inked[-1]) // 2], (inked[-1] - inked[0] + 1) / 50


def test_stroke_of_the_letters() -> None:
    """ISO 3098: stroke a tenth of the height (type B; a fourteenth in type A); a stem of the face measured in its picture."""
    stem, height = ink_of("I")
    assert height == pytest.approx(10.0, abs=0.05)
    assert stem / height == pytest.approx(1 / 10, abs=0.003)


def test_lower_case_is_seven_tenths() -> None:
    """ISO 3098 (from memory): lower case without ascenders 7/10 of the capitals; within half a tenth, and never smaller."""
    _, height = ink_of("x")
    assert 0.7 <= height / 10.0 <= 0.75


# Dimensions


class Laid(NamedTuple):
    """A linear dimension on paper: its line, its extension lines, its arrows and its text, in mm along and across it."""

    line: Path
    extensions: list[Path]
    arrows: list[Fill]
    text: Text
    scale: float
    along: tuple[float, float]

    def across(self, x: float, y: float) -> float:
        return (-self.along[1] * x + self.along[0] * y) * self.scale

    def forth(self, x: float, y: float) -> float:
        return (self.along[0] * x + self.along[1] * y) * self.scale


def linear_dimensions(sheet: Sheet) -> list[tuple[Dimension, Laid]]:
    """All but the running sizes, which have one arrow each, and a thickness whose figure stands level beside its upright line."""
    found = []
    for one in drawn(sheet, Dimension):
        mark = one.mark
        if mark.kind != "linear":
            continue
        heads = [part for part in mark.parts if isinstance(part, Fill)]
        figure = next(part for part in mark.parts if isinstance(part, Text))
        if len(heads) != 2 or figure.rotation != mark.angle:
            continue
        turn = math.radians(mark.angle)
        paths = [part for part in mark.parts if isinstance(part, Path)]
        laid = Laid(
            paths[0],
            [],
            [part for part in mark.parts if isinstance(part, Fill)],
            next(part for part in mark.parts if isinstance(part, Text)),
            one.scale,
            (math.cos(turn), math.sin(turn)),
        )
        level = [path for path in paths if abs(laid.across(*path.nodes[0][:2]) - laid.across(*path.nodes[1][:2])) < 1e-6]
        upright = [path for path in paths if abs(laid.forth(*path.nodes[0][:2]) - laid.forth(*path.nodes[1][:2])) < 1e-6]
        assert len(level) == 1 and len(level) + len(upright) == len(paths)
        found.append((mark, laid._replace(line=level[0], extensions=upright)))
    return found


def arrowheads(sheet: Sheet) -> list[tuple[float, float, float, float]]:
    """Length and full angle (degrees) of every arrowhead of a dimension, and how far its point lies from (forth, across) nought."""
    found = []
    for one in drawn(sheet, Dimension):
        for part in one.mark.parts:
            if isinstance(part, Fill):
                tip, left, right = ((x * one.scale, y * one.scale) for x, y, _ in part.nodes)
                back = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
                length = math.dist(tip, back)
                found.append((length, 2 * math.degrees(math.atan2(math.dist(left, right) / 2, length)), *tip))
    return found


def test_arrows_are_alike_closed_and_of_fifteen_degrees(code: str) -> None:
    """ISO 129-1 in textbook extracts: narrow closed filled arrows of 15 degrees, one kind on a drawing."""
    heads = arrowheads(made(code))
    assert len(heads) > 10
    assert {round(angle, 4) for _, angle, _, _ in heads} == {15.0}
    assert max(length for length, *_ in heads) == pytest.approx(min(length for length, *_ in heads))


def test_arrows_are_as_long_as_the_figures_are_high(code: str) -> None:
    """Length about the height of the figures, and 10 line widths (both from memory of ISO 129-1): 2.5 mm at 2.5 and 0.25 mm."""
    sheet = made(code)
    widths = {layer.name: layer.width for layer in sheet.layers}
    for one in drawn(sheet, Dimension):
        height = next(part.height for part in one.mark.parts if isinstance(part, Text))
        for length, *_ in arrowheads(sheet)[:1]:
            assert length == pytest.approx(height, rel=0.05)
            assert length == pytest.approx(10 * widths[one.mark.layer], rel=0.05)


def test_arrows_point_at_the_extension_lines(code: str) -> None:
    """The points of the two arrows lie on the dimension line, as far apart as the printed measure, each on its extension line."""
    for mark, laid in linear_dimensions(made(code)):
        tips = sorted(laid.forth(*arrow.nodes[0][:2]) for arrow in laid.arrows)
        assert tips[1] - tips[0] == pytest.approx(mark.measured * laid.scale, abs=1e-6)
        for arrow in laid.arrows:
            assert laid.across(*arrow.nodes[0][:2]) == pytest.approx(laid.across(*laid.line.nodes[0][:2]), abs=1e-6)
        for extension in laid.extensions:
            place = laid.forth(*extension.nodes[0][:2])
            assert min(abs(place - tip) for tip in tips) < 1e-6


def feature_of(mark: Dimension, laid: Laid, extension: Path) -> tuple[float, float]:
    """The point an extension line starts from."""
    place = laid.forth(*extension.nodes[0][:2])
    return min((mark.first, mark.second), key=lambda point: abs(laid.forth(*point) - place))


def extension_lines(sheet: Sheet) -> Iterator[tuple[Dimension, float, float, float, float]]:
    """Every extension line: its dimension and, across it in mm: feature, start, end, all from the dimension line; and its line width."""
    widths = {layer.name: layer.width for layer in sheet.layers}
    for mark, laid in linear_dimensions(sheet):
        level = laid.across(*laid.line.nodes[0][:2])
        for extension in laid.extensions:
            start, end = (laid.across(x, y) - level for x, y, _ in extension.nodes)
            yield mark, laid.across(*feature_of(mark, laid, extension)) - level, start, end, widths[mark.layer]


def test_extension_lines_pass_the_dimension_line(code: str) -> None:
    """By about 8 line widths (from memory of ISO 129-1; 2 mm in a teaching text): 2 mm at 0.25."""
    found = list(extension_lines(made(code)))
    assert len(found) > 10
    for mark, _, _, end, width in found:
        assert abs(end) == pytest.approx(8 * width, rel=0.05), mark.text


def test_extension_lines_start_clear_of_the_feature(code: str) -> None:
    """A small gap is allowed, not asked for (from memory of ISO 129-1; 1 mm in a teaching text): never across the feature's own point."""
    for mark, feature, start, _, _ in extension_lines(made(code)):
        if abs(feature) > 1e-6:
            assert (feature - start) * math.copysign(1.0, feature) >= -1e-6, mark.text


def test_extension_lines_cross_the_dimension_line() -> None:
    """An extension line runs from the feature through the dimension line, whole or interrupted where another dimension line passes: never
    a piece by itself.
    """
    for pane in JOB.panes:
        through: dict[int, int] = {}
        for mark, _, start, end, _ in extension_lines(made(pane.code)):
            through[id(mark)] = through.get(id(mark), 0) + (start * end <= 0)
        for mark, laid in linear_dimensions(made(pane.code)):
            if laid.extensions:
                apart = len({round(laid.forth(*each.nodes[0][:2]), 3) for each in laid.extensions})
                assert through[id(mark)] == apart, (pane.code, mark.text)


@cache
def ink_below(string: str, height: float) -> float:
    """How far the lowest ink of a text hangs below its base line, mm, from the outlines of the face."""
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.ttLib import TTFont

    with TTFont(face_file()) as font:
        glyphs, named, lowest = font.getGlyphSet(), font.getBestCmap(), 0.0
        for sign in string:
            pen = BoundsPen(glyphs)
            glyphs[named[ord(sign)]].draw(pen)
            if pen.bounds:
                lowest = min(lowest, pen.bounds[1] / font["head"].unitsPerEm / capital_share() * height)
    return -lowest


def test_figures_stand_above_their_line_and_clear_of_it(code: str) -> None:
    """ISO 129-1: along the line and above it. Base line and dimension line keep the 0.7 mm that ISO 128-2 asks of parallel lines.

    The tail of a comma hangs below the base line: it may not touch the line's edge (no source asks for more).
    """
    sheet = made(code)
    widths = {layer.name: layer.width for layer in sheet.layers}
    for mark, laid in linear_dimensions(sheet):
        width = widths[mark.layer]
        gap = laid.across(laid.text.x, laid.text.y) - laid.across(*laid.line.nodes[0][:2])
        assert math.isclose(laid.text.rotation % 360, mark.angle % 360, abs_tol=1e-9)
        assert -90 < laid.text.rotation <= 90, "read from below or from the right"
        assert gap >= 0.7 - 1e-9, mark.text
        assert gap - ink_below(laid.text.string, laid.text.height) - width / 2 > 0.1, mark.text
        assert gap <= laid.text.height, "so far off that it belongs to nothing"


def test_figures_have_a_decimal_comma_and_no_point(code: str) -> None:
    """ISO 129-1 as an extract gives it; on every dimension of the sheet."""
    for one in drawn(made(code), Dimension):
        assert not re.search(r"\d\.\d", one.mark.text), one.mark.text


# Lines


def strokes(code: str) -> dict[str, tuple[float, list[float]]]:
    """Width and dashes, mm, of every layer that prints something, read from the SVG."""
    found = {}
    for group in picture(code).findall(f"{SVG}g"):
        if len(group) and group.get("display") != "none":
            dashes = [float(dash) for dash in group.get("stroke-dasharray", "").split()]
            found[group.attrib["id"]] = (float(group.attrib["stroke-width"]), dashes)
    return found


def test_printed_line_widths_are_of_the_series_and_one_to_two(code: str) -> None:
    """ISO 128-2: widths of the series; narrow to wide 1 : 2 where outlines meet dimensions, centre lines and hatches are narrower still."""
    found = strokes(code)
    assert [name for name, (width, _) in found.items() if not of_series(width, WIDTHS)] == []
    for wide in ("GLASS", "CUT_OUTLINE"):
        for narrow in ("DIMENSIONS", "BEAD_CENTRE", "SEEN_OUTLINE"):
            assert found[wide][0] / found[narrow][0] == pytest.approx(2.0, rel=0.02), (wide, narrow)
    hatches = [width for name, (width, _) in found.items() if name.startswith("MATERIAL_") and name != "MATERIAL_FRIT"]
    assert hatches and max(hatches) <= found["DIMENSIONS"][0]


def test_dxf_line_widths_are_those_of_the_svg(code: str) -> None:
    """Hundredths of a millimetre by layer; nothing drawn has a width of its own."""
    doc = document(code)
    written = {layer.dxf.name: layer.dxf.lineweight / 100 for layer in doc.layers}
    for name, (width, _) in strokes(code).items():
        assert written[name] == pytest.approx(width, abs=0.005), name
    own = [entity for layout in doc.layouts for entity in layout if entity.dxf.get("lineweight", -1) not in (-1,)]
    assert own == []


def test_dashes_are_multiples_of_the_width_they_are_drawn_with(code: str) -> None:
    """ISO 128-2: gap 3 widths, dash 12, long dash 24, dot at most half a width (secondary), short dash 6 (from memory)."""
    broken = {name: found for name, found in strokes(code).items() if found[1]}
    assert broken
    for name, (width, dashes) in broken.items():
        inked, gaps = dashes[::2], dashes[1::2]
        assert {round(gap / width, 2) for gap in gaps} == {3.0}, name
        assert {round(dash / width, 2) for dash in inked} <= {24.0, 12.0, 6.0, 0.5}, name


def test_hatch_lines_keep_seven_tenths_apart(code: str) -> None:
    """ISO 128-3 (spacing) and ISO 128-2 (clear space): parallel hatch lines of one face at least 0.7 mm apart, measured square to them."""
    seen = 0
    for element in picture(code).iterfind(f".//{SVG}path[@class='hatch']"):
        lines: dict[float, set[float]] = {}
        for x1, y1, x2, y2 in re.findall(r"M(-?[\d.]+) (-?[\d.]+)L(-?[\d.]+) (-?[\d.]+)", element.attrib["d"]):
            ax, ay, bx, by = float(x1), float(y1), float(x2), float(y2)
            length = math.hypot(bx - ax, by - ay)
            if length > 1.0:  # shorter ones are too short to measure a direction on
                angle = round(math.degrees(math.atan2(by - ay, bx - ax)) % 180.0)
                turn = math.radians(angle)
                level = round(math.cos(turn) * (ay + by) / 2 - math.sin(turn) * (ax + bx) / 2, 2)
                lines.setdefault(angle, set()).add(level)
        for levels in lines.values():
            ordered = sorted(levels)
            apart = [b - a for a, b in pairwise(ordered) if b - a > 0.15]  # less: pieces of one line
            if apart:
                assert min(apart) >= 0.7 - 0.02
                seen += 1
    assert seen


# Sheet


def test_sheet_border_and_title_block(code: str) -> None:
    """ISO 5457: trimmed size, 20 mm on the left and 10 mm elsewhere, frame 0.7 mm; ISO 7200: title block 180 mm, lower right."""
    root = picture(code)
    sheet = made(code)
    wide, high = SHEETS[sheet.size]
    assert (root.attrib["width"], root.attrib["height"]) == (f"{wide}mm", f"{high}mm")
    assert root.attrib["viewBox"] == f"0 0 {wide} {high}"
    boxes = {}
    for name in ("SHEET", "TITLE"):
        group = next(group for group in root.findall(f"{SVG}g") if group.get("id") == name)
        places = []
        for path in group.iterfind(f"{SVG}path"):
            if path.get("fill") is None:
                for corners in re.findall(r"M[\d.]+ [\d.]+(?:L[\d.]+ [\d.]+){3}Z", path.attrib["d"]):
                    places.append([tuple(map(float, pair)) for pair in re.findall(r"[ML]([\d.]+) ([\d.]+)", corners)])
        xs, ys = ([p[axis] for points in places for p in points] for axis in (0, 1))
        boxes[name] = (min(xs), min(ys), max(xs), max(ys))
    assert boxes["SHEET"] == pytest.approx((20, 10, wide - 10, high - 10))
    assert strokes(code)["SHEET"][0] == 0.7
    left, _, right, bottom = boxes["TITLE"]
    assert (right - left, right, bottom) == pytest.approx((180, wide - 10, high - 10))


def test_frame_line_is_printed_seven_tenths_wide() -> None:
    """The frame's ink across, 50 pixels to the millimetre, in a strip of the printed sheet: 0.7 mm about 20 mm from the left edge."""
    resvg_py = pytest.importorskip("resvg_py")
    from PIL import Image

    sheet = made("SW-03")
    whole = svg_bytes(sheet).decode()
    strip = re.sub(r'(<svg [^>]*?)height="[^"]*"', r'\1height="4mm"', whole, count=1)
    strip = re.sub(r'(<svg [^>]*?)width="[^"]*"', r'\1width="8mm"', strip, count=1)
    middle = sheet.height * 0.55  # between two ticks of the grid
    strip = re.sub(r'viewBox="[^"]*"', f'viewBox="16 {middle:.1f} 8 4"', strip, count=1)
    raw = resvg_py.svg_to_bytes(
        svg_string=strip, dpi=1270, background="#ffffff", skip_system_fonts=True, font_files=[face_file()]
    )
    image = Image.open(io.BytesIO(bytes(raw))).convert("L")
    assert image.size == (400, 200)
    ink = [255 - image.getpixel((x, 100)) for x in range(400)]
    frame = [value for x, value in enumerate(ink) if 16 + x / 50 > 19]
    assert sum(frame) / 255 / 50 == pytest.approx(0.7, abs=0.02)
    centre = sum(x * value for x, value in enumerate(ink) if 16 + x / 50 > 19) / sum(frame)
    assert 16 + (centre + 0.5) / 50 == pytest.approx(20.0, abs=0.02)
