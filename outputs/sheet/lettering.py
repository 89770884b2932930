"""The lettering of a sheet: how wide and how high a text is, in paper millimetres.

Terms
-----
face
    A rounded hand whose stem is a tenth of the capital height, as in lettering of type B of ISO 3098, and a bold weight of it;
    made from the open face Dosis by ``tests/make_face.py`` (Open Font License 1.1) and carried by the program itself. Every
    layout is measured with it, and SVG and PDF carry what they use of it.
height
    The height of a capital, the ``h`` of ISO 3098, in paper mm. It is not the font size: see :func:`font_size`.
advance
    How far the pen moves on for one character. A text is as wide as the sum of its advances; kerning is ignored.
seat
    The computer on which a file is opened. It may lack the face; the text must still fit the box it was given.
"""

from __future__ import annotations

import struct
from functools import cache, lru_cache
from math import cos, fsum, radians, sin
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from outputs.sheet.entities import Place, Text

CAP_HEIGHT = 731 / 1000
"""Height of a capital in parts of the font size: sCapHeight by unitsPerEm of the face's own tables."""

FACE = Path(__file__).with_name("face") / "FritlineLettering-Regular.ttf"
BOLD_FACE = FACE.with_name("FritlineLettering-Bold.ttf")
FAMILY = ("Fritline Lettering", "Dosis", "Arial", "Liberation Sans", "DejaVu Sans", "sans-serif")
"""Families a seat tries in turn."""

DXF_STYLE, DXF_BOLD_STYLE = "LETTERING", "LETTERING_BOLD"
DXF_FONT, DXF_BOLD_FONT = FACE.name, BOLD_FACE.name  # an office may install them; a seat without them takes a face of its own
DXF_WIDTH = 0.8
"""Width factor of the DXF text style: the running text of a wide face still fits the box measured with the narrower one."""

SUBSTITUTES = {
    "⌀": "Ø",  # diameter sign
    "∅": "Ø",
    "\u202f": "\u00a0",  # narrow no-break space, the thousands' gap
    "\u2009": "\u00a0",  # thin space
    "\u2011": "-",  # no-break hyphen
}
"""Characters that the face lacks or that seats draw badly, and the sign that is printed instead."""

# How much wider than the face a seat's other face may be at equal capital height: the wider of DejaVu Sans and of Arial's metrics,
# rounded up. A test measures it with both faces.
_WIDENING = (
    (0.550, "Ĵ"),
    (0.650, "/"),
    (0.775, "Ĳ"),
    (0.800, "-ł"),
    (0.850, "\\"),
    (0.925, "J"),
    (0.950, "ŀφ√"),
    (0.975, "Δ"),
    (1.000, "fπ′€"),
    (1.025, "*″→"),
    (1.050, "¯ßŶβδθλ"),
    (1.075, "lr°ĺļŕŗřΣ"),
    (1.100, "0IL[]§³¶ÌÍÎÏĨĪĬĮİĹĻĽĿŁμνρσ"),
    (1.125, "()69t²ţťŧατ–⁵"),
    (1.150, "8Fijkw¥ðĔĩĭįĵķĸŦŵΩγ"),
    (1.175, "$%3ABPTVWYhmnouz£µÀÁÂÃÄÅÝìíîïñòóôõöùúûüĀĂĄĥīıńņňŋōŏőŜŢŤũūŭůűųŴŸźżž"),
    (1.200, "&KMNUbcdpqsÑÙÚÛÜçøþćĉċčđĶŃŅŇŊśŝşšŨŪŬŮŰŲ‰⁴"),
    (1.225, "25EHe¤¾ÈÉÊËèéêëĈĊďĒēĕĖėĘęĚěĤŒſ"),
    (1.250, "7?SavyºÐÞàáâãäåýÿāăąĐœŚŞŠŷ"),
    (1.275, " 4CDRXgx\xa0ÇæĆČĎĝğġģħŔŖŘ"),
    (1.300, "#ZªĳŹŻŽ—"),
    (1.325, ";OQ|¦©«®»ÆÒÓÔÕÖØĜĠŌŎŐ"),
    (1.350, ":@G·ĞĢ"),
    (1.375, "¢¿"),
    (1.425, '",.ŉ“”'),
    (1.450, "'½ľ"),
    (1.475, "_¼Ħ"),
    (1.500, "‘"),
    (1.525, "’"),
    (1.575, "¬−"),
    (1.600, "!¡±"),
    (1.625, "•"),
    (1.650, "÷"),
    (1.725, "≈≥"),
    (1.750, "+={}…≤"),
    (1.825, "¹"),
    (1.850, "<>"),
    (1.875, "~×"),
    (2.000, "¨"),
    (2.200, "1"),
    (2.300, "¸"),
    (2.400, "`´"),
    (2.625, "^"),
)
_WIDEST = 2.625  # of any other character


class LetteringError(ValueError):
    """A text holds characters that cannot be printed."""


class _Glyph(NamedTuple):
    """Advance, lowest and highest point of a character in parts of the capital height."""

    advance: float
    bottom: float
    top: float


@cache
def _face(bold: bool = False) -> dict[str, _Glyph]:
    """Every character of a weight of the face; read once, whole, so that threads may share it."""
    from fontTools.ttLib import TTFont

    with TTFont(BOLD_FACE if bold else FACE) as font:
        capital = font["head"].unitsPerEm * CAP_HEIGHT
        advances, places = font["hmtx"].metrics, font["loca"].locations
        shapes, number = font.reader["glyf"], font.getReverseGlyphMap()
        glyphs: dict[str, _Glyph] = {}
        for code, name in font.getBestCmap().items():
            glyph = number[name]
            bottom = top = 0
            if places[glyph + 1] > places[glyph]:  # the glyph's header: contours, then its box
                _, _, bottom, _, top = struct.unpack_from(">5h", shapes, places[glyph])
            glyphs[chr(code)] = _Glyph(advances[name][0] / capital, bottom / capital, top / capital)
    return glyphs


def face_file(*, bold: bool = False) -> str:
    """Path of the file of a weight of the face, for renderers that take one."""
    return str(BOLD_FACE if bold else FACE)


@lru_cache(maxsize=4096)  # a pane has some 1500
def printed(string: str) -> str:
    """Give the string as it is printed: :data:`SUBSTITUTES` applied.

    Raises :class:`LetteringError` that lists every character the face does not have, control characters among them.
    """
    face = _face()
    shown = "".join(SUBSTITUTES.get(character, character) for character in string)
    missing = [c for c in dict.fromkeys(shown) if c not in face or (not c.isprintable() and c != "\u00a0")]
    if missing:
        names = ", ".join(f"{c if c.isprintable() else '?'} (U+{ord(c):04X})" for c in missing)
        raise LetteringError(f"the text {string!r} cannot be printed: the lettering of the sheet has no {names}")
    return shown


@lru_cache(maxsize=4096)  # a pane has some 1500
def _measured(string: str, bold: bool = False) -> tuple[float, float, float]:
    """Width, lowest and highest point of a text in parts of the capital height."""
    face = _face(bold)
    glyphs = [face[character] for character in printed(string)]
    bottom = min((glyph.bottom for glyph in glyphs), default=0.0)
    top = max((glyph.top for glyph in glyphs), default=1.0)
    return fsum(glyph.advance for glyph in glyphs), min(bottom, 0.0), max(top, 1.0)


def text_width(string: str, height: float, *, bold: bool = False) -> float:
    """Width of a text, paper mm, for capitals ``height`` paper mm high. Raises :class:`LetteringError`."""
    return _measured(string, bold)[0] * height


def font_size(height: float) -> float:
    """Font size, paper mm, that makes capitals ``height`` paper mm high."""
    return height / CAP_HEIGHT


@lru_cache(maxsize=4096)  # a pane has some 1500
def width_factor(string: str) -> float:
    """Width factor (DXF group 41) with which the text fits its box in Arial and in DejaVu Sans, at most :data:`DXF_WIDTH`.

    Only a seat that does not fit a text between its two ends goes by it.
    """
    face, widening = _face(), _widening()
    own = text_width(string, 1.0)
    widest = fsum(face[character].advance * widening.get(character, _WIDEST) for character in printed(string))
    if widest <= 0.0:
        return DXF_WIDTH
    return min(DXF_WIDTH, int(own / widest * 1000.0) / 1000.0)


@cache
def _widening() -> dict[str, float]:
    return {character: ratio for ratio, characters in _WIDENING for character in characters}


def text_box(text: Text, scale: float = 1.0) -> tuple[Place, Place, Place, Place]:
    """Corners of the box a text fills, counter-clockwise from the start of its foot, in the text's own space.

    ``scale`` is the view's (1 on paper); heights are paper mm, so in the model the box is height / scale high. The box is
    as wide as the advances and as high as the ink: at least from the base line to the capital height, lower where a
    character hangs below the base line (g, a comma, a bracket) and higher where one stands above the capitals (an accent).
    """
    width, bottom, top = _measured(text.string, text.bold)
    width, bottom, top = width * text.height / scale, bottom * text.height / scale, top * text.height / scale
    left = 0.0 if text.align == "left" else -width / 2.0 if text.align == "middle" else -width
    if not text.rotation:  # nearly all of a sheet
        first, last = text.x + left, text.x + (left + width)
        foot, head = text.y + bottom, text.y + top
        return (first, foot), (last, foot), (last, head), (first, head)
    along, up = cos(radians(text.rotation)), sin(radians(text.rotation))

    def at(x: float, y: float) -> Place:
        return (text.x + x * along - y * up, text.y + x * up + y * along)

    return at(left, bottom), at(left + width, bottom), at(left + width, top), at(left, top)


__all__ = [
    "BOLD_FACE",
    "CAP_HEIGHT",
    "DXF_BOLD_FONT",
    "DXF_BOLD_STYLE",
    "DXF_FONT",
    "DXF_STYLE",
    "DXF_WIDTH",
    "FACE",
    "FAMILY",
    "SUBSTITUTES",
    "LetteringError",
    "face_file",
    "font_size",
    "printed",
    "text_box",
    "text_width",
    "width_factor",
]
