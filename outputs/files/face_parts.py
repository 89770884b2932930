"""The part of the face that a file needs, so that a picture carries its own lettering.

Terms
-----
part
    A font of some characters of the face. That of the plain weight always holds what sheets commonly letter with, so that one part
    serves the sheets of a whole run; other characters are added where a sheet has them.
data address
    A file written into the address itself (``data:`` of RFC 2397): nothing is fetched from elsewhere.
"""

from __future__ import annotations

from base64 import b64encode
from functools import lru_cache
from typing import TYPE_CHECKING

from outputs.sheet.lettering import FAMILY, face_file

if TYPE_CHECKING:
    from collections.abc import Iterable

_COMMON = frozenset(map(chr, range(0x20, 0x7F))) | frozenset("\u00a0±×°²³·Øµ–—−≥≤→…‘’“”√≈éöüåäø")


def face_rule(plain: Iterable[str], bold: Iterable[str], *, size: str = "") -> str:
    """Style rules that bring the face: the characters lettered in its plain and in its bold weight; none gives no rule.

    ``size`` is what a letter is of its nominal size, such as ``110%``; "" as it is.
    """
    adjusted = f"size-adjust:{size};" if size else ""
    return "".join(
        f'@font-face{{font-family:"{FAMILY[0]}";font-weight:{weight};{adjusted}src:url(data:font/ttf;base64,{_part(used, weight)})}}'
        for used, weight in ((frozenset(plain) and frozenset(plain) | _COMMON, 400), (frozenset(bold), 700))
        if used
    )


@lru_cache(maxsize=64)  # a pane has ten, of some kilobytes each
def _part(characters: frozenset[str], weight: int) -> str:
    """A font of these characters, base 64. Characters that the face lacks are left out."""
    import io

    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    keep = Options()
    keep.layout_features, keep.hinting, keep.glyph_names, keep.name_IDs, keep.notdef_outline = [], False, False, [1, 2], True
    with TTFont(face_file(bold=weight == 700), recalcTimestamp=False) as font:
        narrowed = Subsetter(keep)
        narrowed.populate(unicodes=[ord(character) for character in characters])
        narrowed.subset(font)
        font.save(file := io.BytesIO())
    return b64encode(file.getvalue()).decode("ascii")


__all__ = ["face_rule"]
