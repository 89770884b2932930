"""Make the two weights of the sheets' lettering anew: ``python tests/make_face.py FOLDER`` (packages ``fontpkg-dosis``, ``fontpkg-roboto``).

A drawing office's hand in the spirit of ISO 3098, type B, from the open face Dosis (SIL Open Font License 1.1), with:

- a stem of a tenth of the capital height (a little wider letter spacing with it), and a bold weight for what is read at arm's length;
- a plain zero: the dot inside it closes up when a sheet is printed in pure black and white;
- lower case of 0.7 of the capital height, ascenders as high as the capitals;
- the Greek, the Cyrillic and the signs that Dosis lacks, from Roboto (same licence) at the same stem and capital height: a yard's
  name may need them.

So changed, the family has a name of its own. A test holds the files against what this makes.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any
from unicodedata import category

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

FAMILY = "Fritline Lettering"
WEIGHTS = {"Regular": (440, 365, 400), "Bold": (700, 665, 700)}
"""For each style: weight on Dosis' axis, weight on Roboto's at the width below, and the weight a seat is told."""
ROBOTO_WIDTH = 85  # on its own axis: as narrow as the letters beside it
CAPITAL, X_HEIGHT, ASCENDER = 731, 472, 762  # of Dosis, by its own tables and the letter b, units of 1000
TRACKING = 51  # 0.07 of the capital height between letters
LOWER = 1.07  # times the height of the lower case
_STEMS = 640  # from here upwards lower case is ascenders' ends and dots, which keep their shape
_COPYRIGHT = "Copyright 2026 The Fritline authors; made from Dosis, {}, and Roboto, {}"


def made_face(style: str) -> TTFont:
    """One weight of the face, made from the variable ones."""
    import fontpkg_dosis
    import fontpkg_roboto

    weight, other, told = WEIGHTS[style]
    font = _instance(Path(fontpkg_dosis.__file__), "Dosis[wght].ttf", wght=weight)
    roboto = _instance(Path(fontpkg_roboto.__file__), "Roboto[wdth,wght].ttf", wght=other, wdth=ROBOTO_WIDTH)
    _plain_zero(font)
    _raise_lower_case(font)
    _add_missing(font, roboto)
    for name, (advance, left) in font["hmtx"].metrics.items():
        if advance:
            font["hmtx"][name] = (advance + TRACKING, left + TRACKING // 2)
            _shift(font, name, TRACKING // 2)
    _narrow(font)
    _name(font, roboto, style, told)
    return font


def _instance(package: Path, file: str, **axes: float) -> TTFont:
    from fontTools.ttLib import TTFont
    from fontTools.varLib.instancer import instantiateVariableFont

    return instantiateVariableFont(TTFont(package.parent / "files" / file, recalcTimestamp=False), axes)


def _plain_zero(font: TTFont) -> None:
    """Cut the dot out of the zero: the contour inside the two others."""
    shapes = font["glyf"]
    glyph = shapes[font.getBestCmap()[ord("0")]]
    points, ends, _ = glyph.getCoordinates(shapes)
    starts = [0, *(end + 1 for end in ends[:-1])]
    heights = [
        max(y for _, y in points[a : b + 1]) - min(y for _, y in points[a : b + 1]) for a, b in zip(starts, ends, strict=True)
    ]
    dot = heights.index(min(heights))
    kept = [number for number in range(len(ends)) if number != dot]
    _keep_contours(font, glyph, [(starts[number], ends[number]) for number in kept])


def _keep_contours(font: TTFont, glyph: Any, spans: list[tuple[int, int]]) -> None:
    from array import array

    from fontTools.ttLib.tables._g_l_y_f import GlyphCoordinates

    points, flags, ends = [], array("B"), []
    for first, last in spans:
        points += list(glyph.coordinates[first : last + 1])
        flags.extend(glyph.flags[first : last + 1])
        ends.append(len(points) - 1)
    glyph.coordinates, glyph.flags, glyph.endPtsOfContours = GlyphCoordinates(points), flags, ends
    glyph.numberOfContours = len(ends)
    glyph.recalcBounds(font["glyf"])


def _level(y: float) -> float:
    """Height of a point of the lower case after the change."""
    if y <= 0.0:
        return y
    top, shift = X_HEIGHT * LOWER, CAPITAL - ASCENDER
    if y <= X_HEIGHT:
        return y * LOWER
    if y >= _STEMS:
        return y + shift
    return top + (y - X_HEIGHT) / (_STEMS - X_HEIGHT) * (_STEMS + shift - top)


def _raise_lower_case(font: TTFont) -> None:
    """Stretch the lower case from the base line to its height; ascenders and dots keep their shape and end at the capitals' height."""
    shapes = font["glyf"]
    letters = {name: chr(code) for code, name in font.getBestCmap().items() if category(chr(code)) == "Ll"}
    for name in [
        *letters,
        *(part for part in ("dotlessi", "dotlessj", "uni0237") if part in shapes and part not in letters),
    ]:
        glyph = shapes[name]
        if not glyph.isComposite():
            glyph.coordinates = type(glyph.coordinates)([(x, round(_level(y))) for x, y in glyph.coordinates])
    for name in letters:
        glyph = shapes[name]
        if glyph.isComposite():
            for part in glyph.components[1:]:  # accents move with the letter below them
                foot = shapes[part.glyphName].yMin + part.y
                if foot > ASCENDER:
                    part.y += CAPITAL - ASCENDER
                elif foot > X_HEIGHT:
                    part.y += round(X_HEIGHT * (LOWER - 1.0))
    for name in font.getGlyphOrder():
        shapes[name].recalcBounds(shapes)


def _add_missing(font: TTFont, other: TTFont) -> None:
    """Add the printable characters that only the other face has, at the same capital height."""
    from fontTools.pens.recordingPen import DecomposingRecordingPen
    from fontTools.pens.transformPen import TransformPen
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    scale = CAPITAL / other["OS/2"].sCapHeight
    glyphs, names = other.getGlyphSet(), other.getBestCmap()
    own_letters = font.getBestCmap().keys() - {0x03C0, 0x00AF}  # its pi is told badly from an n, its macron has no width
    missing = {code: name for code, name in names.items() if code not in own_letters and chr(code).isprintable()}
    made: dict[str, str] = {}
    for code, name in sorted(missing.items()):
        if category(chr(code))[0] in "MC" or 0xE000 <= code < 0xF900 or code >= 0xFB00:
            continue
        own = f"other{code:04X}"
        if name not in made:
            flat, pen = DecomposingRecordingPen(glyphs), TTGlyphPen(None)
            glyphs[name].draw(flat)
            flat.replay(TransformPen(pen, (scale, 0, 0, scale, 0, 0)))
            shape = pen.glyph()
            if shape.numberOfContours:
                shape.coordinates.toInt()
            font["glyf"][own] = shape
            font["hmtx"][own] = (round(other["hmtx"][name][0] * scale), getattr(shape, "xMin", 0))
            made[name] = own
        for table in font["cmap"].tables:
            if table.isUnicode():
                table.cmap[code] = made[name]
    font.setGlyphOrder(list(font["glyf"].glyphOrder))
    for name in made.values():
        font["glyf"][name].recalcBounds(font["glyf"])
        font["hmtx"][name] = (font["hmtx"][name][0], getattr(font["glyf"][name], "xMin", 0))


def _shift(font: TTFont, name: str, right: int) -> None:
    """Move the drawn outline of a glyph, half of the spacing on its left."""
    glyph = font["glyf"][name]
    if glyph.numberOfContours > 0:
        glyph.coordinates.translate((right, 0))
        glyph.recalcBounds(font["glyf"])


def _narrow(font: TTFont) -> None:
    """Leave out what no sheet needs: variants, kerning, hints."""
    from fontTools.subset import Options, Subsetter

    keep = Options()
    keep.layout_features, keep.hinting, keep.name_IDs, keep.notdef_outline = [], False, ["*"], True
    keep.drop_tables += ["GSUB", "GPOS", "GDEF", "STAT", "gasp", "prep", "meta", "DSIG", "HVAR", "avar", "MVAR"]
    narrowed = Subsetter(keep)
    narrowed.populate(unicodes=list(font.getBestCmap()))
    narrowed.subset(font)


def _name(font: TTFont, other: TTFont, style: str, weight: int) -> None:
    font["OS/2"].usWeightClass = weight
    bold = style == "Bold"
    font["OS/2"].fsSelection = 0x20 if bold else 0x40
    font["head"].macStyle = 1 if bold else 0
    names = font["name"]
    sources = (names.getDebugName(0).removeprefix("Copyright "), other["name"].getDebugName(0).removeprefix("Copyright "))
    licence, address, version = names.getDebugName(13), names.getDebugName(14), names.getDebugName(5)
    told = {
        0: _COPYRIGHT.format(*sources),
        1: FAMILY,
        2: style,
        3: f"{FAMILY} {style}, 2026",
        4: f"{FAMILY} {style}",
        5: f"Version 1.0; from Dosis, {version.lower()}, weight {WEIGHTS[style][0]}; Roboto, weight {WEIGHTS[style][1]}",
        6: f"{FAMILY.replace(' ', '')}-{style}",
        13: licence,
        14: address,
    }
    names.names = []
    for number, string in told.items():
        names.setName(string, number, 3, 1, 0x409)


def main() -> None:
    """Write both weights."""
    for style in WEIGHTS:
        made_face(style).save(Path(sys.argv[1]) / f"FritlineLettering-{style}.ttf", reorderTables=True)


if __name__ == "__main__":
    main()
