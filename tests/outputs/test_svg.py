"""The SVG: true millimetres, plain attributes, layers as groups; measured in the picture that resvg makes of it."""

from __future__ import annotations

import io
import re
from base64 import b64decode
from dataclasses import replace
from xml.etree import ElementTree

import matplotlib
import pytest
import resvg_py
from fontTools.ttLib import TTFont
from PIL import Image

from outputs.files.svg import figure, figures, svg_bytes
from outputs.sheet.entities import Fill, Path, Sheet, Text
from outputs.sheet.layers import LAYERS, LINETYPES
from outputs.sheet.lettering import face_file, text_width
from outputs.sheet.refusal import SheetError

SVG = "{http://www.w3.org/2000/svg}"
DOTS = 10  # pixels per mm: 254 dpi


def picture(svg: str, *fonts: str) -> Image.Image:
    """The SVG as resvg prints it, grey, 10 pixels per mm, with these font files and no others."""
    data = resvg_py.svg_to_bytes(
        svg_string=svg, dpi=25.4 * DOTS, background="#ffffff", skip_system_fonts=True, font_files=list(fonts or (face_file(),))
    )
    return Image.open(io.BytesIO(bytes(data))).convert("L")


def inked(image: Image.Image, box: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the ink within a box, paper mm, y down; half-covered pixels count by their share."""
    left, top, right, bottom = (round(value * DOTS) for value in box)
    dark = image.crop((left, top, right, bottom)).point(lambda grey: 255 if grey < 128 else 0)
    x0, y0, x1, y1 = dark.getbbox()
    return (left + x0) / DOTS, (top + y0) / DOTS, (left + x1) / DOTS, (top + y1) / DOTS


def paper(*marks) -> Sheet:
    return Sheet("A4", 210.0, 297.0, "Demo", "Invented.", LAYERS, (), (), marks)


@pytest.fixture(scope="module")
def root(svg_file):
    return ElementTree.fromstring(svg_file)


def test_size_is_in_true_millimetres(root, sheet):
    assert (root.get("width"), root.get("height")) == ("594mm", "420mm")
    assert root.get("viewBox") == "0 0 594 420"
    assert (sheet.width, sheet.height) == (594.0, 420.0)


def test_readers_that_do_not_see_are_told_what_it_is(root, sheet):
    title, description = list(root)[:2]  # the title is the first child
    assert (title.tag, description.tag) == (SVG + "title", SVG + "desc")
    assert (title.text, description.text) == (sheet.title, sheet.description)
    assert root.get("role") == "img" and root.get("lang") == "en"
    assert root.get("aria-labelledby").split() == [title.get("id"), description.get("id")]


def test_layers_are_groups_in_their_order_with_width_and_dashes(root):
    groups = root.findall(SVG + "g")
    assert [group.get("id") for group in groups] == [layer.name for layer in LAYERS]
    for group, layer in zip(groups, LAYERS, strict=True):
        assert float(group.get("stroke-width")) == layer.width
        assert tuple(float(dash) for dash in (group.get("stroke-dasharray") or "").split()) == LINETYPES[layer.linetype]
        assert (group.get("display") == "none") == (not layer.plots)


def test_nothing_that_a_reader_may_ignore(root):
    allowed = {SVG + tag for tag in ("svg", "title", "desc", "metadata", "style", "rect", "g", "path", "text")}
    assert {element.tag for element in root.iter()} == allowed
    names = {name for element in root.iter() for name in element.attrib}
    assert not names & {"style", "clip-path", "mask", "filter", "vector-effect", "marker-end", "href"}


def test_the_rules_of_style_are_the_size_of_the_page_and_the_face(root):
    """A browser prints a bare picture on its own paper unless the page says how large it is (CSS paged media, rule @page)."""
    (style,) = root.findall(SVG + "style")
    width, height = (float(root.get(name).removesuffix("mm")) for name in ("width", "height"))
    page, face = f"@page{{size:{width:g}mm {height:g}mm;margin:0}}", r'@font-face\{font-family:"Fritline Lettering";[^{}]*\}'
    assert style.text.startswith(page) and re.fullmatch(face, style.text.removeprefix(page))


def test_figures_are_short_and_plain(svg_file):
    body = svg_file[svg_file.index("<rect") :]
    for data in re.findall(r'(?: d| x| y|textLength|font-size|transform)="([^"]*)"', body):
        for each in re.findall(r"[-+0-9.eE]+", re.sub(r"[A-Za-z(),]", " ", data)):
            assert re.fullmatch(r"-?\d+(\.\d{1,4})?", each), each
            assert not re.fullmatch(r"-0(\.0*)?", each)


def test_bar_of_100_mm_is_100_mm(svg_file):
    image = picture(svg_file)
    assert image.size == (5940, 4200)
    left, top, right, bottom = inked(image, (35.0, 396.0, 145.0, 402.0))
    assert right - left == pytest.approx(100.0, abs=0.1)  # a pixel
    assert bottom - top == pytest.approx(2.0, abs=0.1)


@pytest.mark.parametrize("height", [2.5, 3.5, 5.0, 7.0])
def test_capitals_are_as_high_as_iso_3098_says(height):
    """The height of lettering of ISO 3098 is that of the capitals: measured in the picture."""
    image = picture(svg_bytes(paper(Text("TEXT", 50.0, 100.0, "HIE", height))).decode())
    _, top, _, bottom = inked(image, (45.0, 180.0, 100.0, 205.0))
    assert bottom - top == pytest.approx(height, abs=0.11)
    assert bottom == pytest.approx(297.0 - 100.0, abs=0.11)


@pytest.mark.parametrize("face", ["own", "DejaVu Sans"])
@pytest.mark.parametrize("align", ["left", "middle", "right"])
@pytest.mark.parametrize("string", ["1200 ±0,5", "Setting chock, 80 × 25 × 6", "H"])
def test_text_fills_its_box_in_any_face(face, align, string):
    """A seat without the face stretches another to the length the text carries; DejaVu Sans is wider by nature."""
    font = face_file() if face == "own" else f"{matplotlib.get_data_path()}/fonts/ttf/DejaVuSans.ttf"
    width = text_width(string, 5.0)
    image = picture(svg_bytes(paper(Text("TEXT", 100.0, 100.0, string, 5.0, align))).decode(), font)
    left, _, right, _ = inked(image, (0.0, 180.0, 210.0, 205.0))
    start = 100.0 - {"left": 0.0, "middle": 0.5, "right": 1.0}[align] * width
    assert start - 0.1 <= left and right <= start + width + 0.1
    assert right - left >= width - 1.6  # no more than the bearings of the two outer letters is missing


@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.3, -0.7, 2.5])
def test_arc_has_the_sweep_and_the_side_of_its_bulge(bulge):
    """From 80 to 120: the arc's far point is half the chord times the bulge beside it, to the right going forward if positive."""
    image = picture(svg_bytes(paper(Path("TEXT", ((80.0, 150.0, bulge), (120.0, 150.0, 0.0))))).decode())
    _, top, _, bottom = inked(image, (0.0, 0.0, 210.0, 297.0))
    far = bottom if bulge > 0.0 else top
    half_line = 0.125 if bulge > 0.0 else -0.125
    assert far == pytest.approx(147.0 + 20.0 * bulge + half_line, abs=0.11)


def test_dashes_are_paper_millimetres_at_every_scale(sheet):
    """A long-dash-dot line of width 0,25 has long dashes of 24 d = 6 mm (ISO 128-2), in the plan at 1:5 too."""
    root = ElementTree.fromstring(svg_bytes(sheet))
    (group,) = (g for g in root.findall(SVG + "g") if g.get("id") == "BEAD_CENTRE")
    assert group.get("stroke-dasharray").split()[0] == "6"
    assert all("transform" not in element.attrib for element in group.iter() if element.tag == SVG + "path")


def test_angle_brackets_and_quotes_come_back_as_they_were(root, sheet):
    strings = {element.text for element in root.iter(SVG + "text")}
    assert {mark.string for mark in sheet.marks if isinstance(mark, Text)} <= strings


def test_words_that_look_like_the_file_itself_stay_words():
    odd = """<g xml:space="preserve" /> </g> %s & {x} <text"""
    marks = [
        Text(layer, 10.0, 10.0 * number, f"{odd} {layer}", 2.5) for number, layer in enumerate(("TEXT", "TITLE", "TABLES"), 1)
    ]
    read = ElementTree.fromstring(svg_bytes(replace(paper(*marks), title=odd, description=odd)))
    assert [element.text for element in list(read)[:2]] == [odd, odd]
    for group in (each for each in read if each.tag == SVG + "g"):
        strings = [element.text for element in group.iter(SVG + "text")]
        assert strings == [mark.string for mark in marks if mark.layer == group.get("id")]


def test_many_figures_are_written_as_one_by_one():
    eighths = [number / 80000.0 for number in range(-40, 41)]  # ties and what lies between
    values = [*eighths, *(each + shift for each in eighths for shift in (1e-15, -1e-15)), 0.0, -0.0, 420.0, 1e5 / 3.0, -1e9 / 7.0]
    assert figures(values) == [figure(value) for value in values]
    for wrong in (float("nan"), float("inf"), -float("inf")):
        with pytest.raises(ValueError, match="not a number"):
            figures([1.0, wrong])


def test_a_sheet_that_cannot_be_drawn_is_refused_with_every_fault():
    bad = paper(
        Path("NOWHERE", ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))),
        Path("TEXT", ((0.0, float("nan"), 0.0), (1.0, 0.0, 0.0))),
        Path("TEXT", ((5.0, 5.0, 0.0), (5.0, 5.0, 0.0))),
        Fill("TEXT", ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))),
        Text("TEXT", 1.0, 1.0, "☐", 2.5),
    )
    with pytest.raises(SheetError) as told:
        svg_bytes(replace(bad, layers=(*LAYERS[:-1], replace(LAYERS[-1], width=0.45))))
    for words in (
        "layer 'VIEWPORTS' is 0.45 mm wide",
        "mark 1 of the paper (Path on 'NOWHERE'): the layer 'NOWHERE' is not defined",
        "mark 2 of the paper (Path on 'TEXT'): one of its coordinates is not a number",
        "mark 3 of the paper (Path on 'TEXT'): its segment at 5.000000, 5.000000 has no length",
        "mark 4 of the paper (Fill on 'TEXT'): it is closed and has two nodes and no arc",
        "mark 5 of the paper (Text on 'TEXT'): the text '☐' cannot be printed",
    ):
        assert words in str(told.value)


def carried_faces(svg):
    """The fonts that a file carries, by weight, and how many bytes they take in it."""
    found = re.findall(
        r'@font-face\{font-family:"Fritline Lettering";font-weight:(\d+);src:url\(data:font/ttf;base64,([^)]*)\)\}', svg
    )
    return {int(weight): TTFont(io.BytesIO(b64decode(data))) for weight, data in found}, sum(len(data) for _, data in found)


def test_the_picture_carries_the_face_of_its_lettering():
    """Each letter that is drawn is in the font that the file brings, as wide and of the same outline as in the face."""
    strings = {400: "Setting chock ±2,75 → Đặng", 700: "LAST PRESS 09:44"}
    marks = [Text("TEXT", 20.0, 100.0 + weight / 10, string, 5.0, bold=weight == 700) for weight, string in strings.items()]
    faces, size = carried_faces(svg_bytes(paper(*marks)).decode())
    assert faces.keys() == strings.keys() and size < 40_000
    for weight, string in strings.items():
        bold, font = weight == 700, faces[weight]
        names, whole = font.getBestCmap(), TTFont(face_file(bold=bold))
        assert sum(font["hmtx"][names[ord(sign)]][0] for sign in string) / 731 == pytest.approx(
            text_width(string, 1.0, bold=bold)
        )
        for sign in string:
            own, source = font["glyf"][names[ord(sign)]], whole["glyf"][whole.getBestCmap()[ord(sign)]]
            assert own.getCoordinates(font["glyf"])[0] == source.getCoordinates(whole["glyf"])[0], sign


def test_a_picture_without_bold_lettering_carries_one_weight(svg_file):
    faces, size = carried_faces(svg_file)
    assert faces.keys() == {400} and size < 40_000


def test_bold_lettering_is_bold():
    """Ink of a stem of the bold weight against the plain one, by the picture."""
    inks = []
    for bold in (False, True):
        svg = svg_bytes(paper(Text("TEXT", 50.0, 100.0, "I", 10.0, bold=bold))).decode()
        left, _, right, _ = inked(picture(svg, face_file(bold=False), face_file(bold=True)), (45.0, 180.0, 100.0, 205.0))
        inks.append(right - left)
    assert inks == [pytest.approx(1.0, abs=0.11), pytest.approx(1.78, abs=0.11)]  # of the outlines of the letter
