"""Lettering: the face's own tables, the height of capitals by ISO 3098, and the fit in the faces other seats have."""

from __future__ import annotations

import io
import math
import sys
from pathlib import Path

import matplotlib
import pytest
from fontTools.ttLib import TTFont
from hypothesis import example, given
from hypothesis import strategies as st

from outputs.sheet.entities import Text
from outputs.sheet.lettering import (
    BOLD_FACE,
    CAP_HEIGHT,
    DXF_WIDTH,
    FACE,
    FAMILY,
    SUBSTITUTES,
    LetteringError,
    face_file,
    font_size,
    printed,
    text_box,
    text_width,
    width_factor,
)

DATA = Path(matplotlib.get_data_path())
CHARACTERS = "".join(chr(code) for code in [*range(0x20, 0x7F), *range(0xC0, 0x100)]) + "±×°²³·½–—−′″≤≥≈µ√•…ΔΩαβγ€"


@pytest.fixture(scope="module")
def face():
    return TTFont(face_file())


@pytest.fixture(scope="module")
def fallbacks():
    """Advances in parts of the capital height of two faces: DejaVu Sans, and Helvetica, whose metrics Arial shares."""
    dejavu = TTFont(DATA / "fonts/ttf/DejaVuSans.ttf")
    names, shapes, metrics = dejavu.getBestCmap(), dejavu["glyf"], dejavu["hmtx"]
    capital = shapes[names[ord("H")]].yMax
    wide = {chr(code): metrics[name][0] / capital for code, name in names.items()}

    from fontTools.agl import toUnicode

    helvetica, capital = {}, 0.0
    for row in (DATA / "fonts/pdfcorefonts/Helvetica.afm").read_text("latin-1").splitlines():
        if row.startswith("CapHeight"):
            capital = float(row.split()[1])
        if row.startswith("C "):
            entries = dict(entry.split(None, 1) for entry in row.split(";") if len(entry.split(None, 1)) == 2)
            helvetica[toUnicode(entries["N"].strip())] = float(entries["WX"]) / capital
    assert capital == 718.0
    return wide, helvetica


def fallback_width(string, face):
    return sum(face.get(character, 0.0) for character in string)


def test_capital_height_is_that_of_the_face_tables(face):
    assert face["OS/2"].sCapHeight / face["head"].unitsPerEm == CAP_HEIGHT
    assert face["glyf"][face.getBestCmap()[ord("H")]].yMax / face["head"].unitsPerEm == CAP_HEIGHT
    assert font_size(3.5) * CAP_HEIGHT == pytest.approx(3.5, abs=1e-12)


@pytest.mark.parametrize("file", [FACE, BOLD_FACE], ids=["regular", "bold"])
def test_the_face_may_be_carried_in_a_product(file):
    """The Open Font License 1.1 lets a face be carried, changed and renamed; neither source reserves its name, and neither is used."""
    face = TTFont(file)
    assert "SIL Open Font License, Version 1.1" in face["name"].getDebugName(13)
    terms = FACE.with_name("OFL.txt").read_text("utf-8")
    assert "Copyright 2011 The Dosis Project Authors" in terms and "Copyright 2011 The Roboto Project Authors" in terms
    assert "SIL OPEN FONT LICENSE Version 1.1" in terms and "with Reserved Font Name" not in terms
    assert all(source in face["name"].getDebugName(0) for source in ("Dosis Project Authors", "Roboto Project Authors"))
    assert face["name"].getDebugName(1) == FAMILY[0] == "Fritline Lettering"
    assert face["OS/2"].usWeightClass == (700 if file == BOLD_FACE else 400)


@pytest.mark.parametrize(("style", "file"), [("Regular", FACE), ("Bold", BOLD_FACE)])
def test_the_face_is_what_the_script_makes_of_the_published_ones(style, file):
    """Every advance, outline and name of the file against the variable faces as they are published, at the weight the script names."""
    pytest.importorskip("fontpkg_dosis", reason="comes with the extra `test`")
    pytest.importorskip("fontpkg_roboto", reason="comes with the extra `test`")
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
    from make_face import made_face

    face = TTFont(file)
    made_face(style).save(again := io.BytesIO(), reorderTables=True)
    made = TTFont(again)  # as it is read again: names of glyphs are not carried
    assert made.getBestCmap() == face.getBestCmap()
    assert made["hmtx"].metrics == face["hmtx"].metrics
    for name in face.getGlyphOrder():
        assert face["glyf"][name].getCoordinates(face["glyf"])[0] == made["glyf"][name].getCoordinates(made["glyf"])[0], name
    assert {(n.nameID, str(n)) for n in made["name"].names} == {(n.nameID, str(n)) for n in face["name"].names}


def test_letters_are_those_of_dosis(face):
    """Capitals, figures and signs against Dosis itself at the weight of the script: outlines moved by half the spacing, nothing else."""
    package = pytest.importorskip("fontpkg_dosis", reason="comes with the extra `test`")
    from fontTools.varLib.instancer import instantiateVariableFont

    dosis = instantiateVariableFont(TTFont(Path(package.__file__).parent / "files" / "Dosis[wght].ttf"), {"wght": 440})
    names, sources = face.getBestCmap(), dosis.getBestCmap()
    for sign in "ABCDEFGHIJKLMNOPQRSTUVWXYZ123456789±×°²³–−≤≥≈→…Ø(),.:;+-=/%":
        own = face["glyf"][names[ord(sign)]].getCoordinates(face["glyf"])[0]
        source = dosis["glyf"][sources[ord(sign)]].getCoordinates(dosis["glyf"])[0]
        assert all(max(abs(x - 25 - u), abs(y - v)) <= 1.0 for (x, y), (u, v) in zip(own, source, strict=True)), (
            sign
        )  # whole units
        assert face["hmtx"][names[ord(sign)]][0] == dosis["hmtx"][sources[ord(sign)]][0] + 51, sign
    zero, letter = (face["glyf"][names[ord(sign)]].numberOfContours for sign in "0O")
    assert zero == letter == 2  # no dot that closes up in a print without greys


@pytest.mark.parametrize("bold", [False, True])
def test_every_sign_of_a_sheet_is_there(bold):
    """No sign is empty or stands for one that is missing, in either weight."""
    with TTFont(face_file(bold=bold)) as font:
        names, shapes = font.getBestCmap(), font["glyf"]
        for sign in CHARACTERS.replace(" ", ""):
            assert shapes[names[ord(sign)]].numberOfContours != 0, sign
            assert font["hmtx"][names[ord(sign)]][0] > 0, sign
            assert text_width(sign, 1.0, bold=bold) == font["hmtx"][names[ord(sign)]][0] / 731


@pytest.mark.parametrize("name", ["Ελληνικά", "Судоверфь", "Stępień", "Ångström", "Đặng"])
def test_names_of_many_yards_can_be_lettered(name):
    assert printed(name) == name and text_width(name, 2.5) > 0.0


@pytest.mark.parametrize("string", ["R60", "1200 ±0,5", "Setting chock", "Ø300", "ÅÄÖ éü"])
def test_width_is_the_sum_of_advances_at_the_capital_height(face, string):
    names, advances = face.getBestCmap(), face["hmtx"]
    units = sum(advances[names[ord(character)]][0] for character in string)
    assert text_width(string, 2.5) == pytest.approx(units / 731 * 2.5, abs=1e-9)
    assert text_width(string, 7.0) == pytest.approx(2 * text_width(string, 3.5), abs=1e-9)


def test_characters_the_face_lacks_are_told_all_at_once():
    with pytest.raises(LetteringError, match=r"☐ \(U\+2610\), ✓ \(U\+2713\), \? \(U\+000A\)"):
        text_width("a☐b✓☐\n", 2.5)


def test_substitutes_are_printed_and_are_in_the_face():
    assert printed("⌀60") == "Ø60"
    for character, substitute in SUBSTITUTES.items():
        assert printed(character) == substitute


@pytest.mark.parametrize("align", ["left", "middle", "right"])
@pytest.mark.parametrize("rotation", [0.0, 90.0, 30.0])
@pytest.mark.parametrize("scale", [1.0, 0.2, 5.0])
def test_box_holds_the_text_from_its_anchor(align, rotation, scale):
    text = Text("TEXT", 100.0, 50.0, "Hg", 3.5, align, rotation)
    a, b, c, d = text_box(text, scale)
    assert math.dist(a, b) == pytest.approx(text_width("Hg", 3.5) / scale)
    # the descender of g, the top of H
    assert math.dist(a, d) == pytest.approx(3.5 / scale * (1 + 231 / 731), rel=1e-9)
    share = {"left": 0.0, "middle": 0.5, "right": 1.0}[align]
    depth = 231 / (231 + 731)
    anchor = [a[i] + share * (b[i] - a[i]) + depth * (d[i] - a[i]) for i in (0, 1)]
    assert anchor == pytest.approx([100.0, 50.0])
    turned = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    assert turned == pytest.approx(rotation)
    assert (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0  # counter-clockwise


def test_box_of_accents_stands_above_the_capitals(face):
    accent = face["glyf"][face.getBestCmap()[ord("É")]].yMax
    box = text_box(Text("TEXT", 0.0, 0.0, "É", 10.0))
    assert box[2][1] == pytest.approx(10.0 * accent / 731)
    assert box[0][1] == 0.0


@given(st.text(alphabet=CHARACTERS, min_size=1, max_size=60))
@example("±")
@example("±0,5")
@example("=,;:±×'\"")
@example("<1200>, +0,5 −0,25")
def test_text_fits_its_box_in_the_faces_other_seats_have(fallbacks, string):
    for face in fallbacks:
        assert fallback_width(string, face) * width_factor(string) <= text_width(string, 1.0) + 1e-9


@pytest.mark.parametrize("string", ["R60", "Setting chock, 80 x 25 x 6", "SECTION A-A", "For approval", "Primer"])
def test_running_text_keeps_the_width_factor_of_the_style(string):
    assert width_factor(string) == DXF_WIDTH
