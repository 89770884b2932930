"""What the name of a layer says of the lines on it: our own names first, then words that drawing offices and glass makers use.

Terms
-----
role
    What a line is: edge of the glass, solid edge of the print, print in general, fade, or nothing that its layer tells.
"""

from __future__ import annotations

import re
from enum import Enum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


class Role(Enum):
    """What a layer's lines are."""

    GLASS = "glass"
    SOLID = "solid edge of the print"
    PRINT = "print"
    FADE = "fade"
    OTHER = "another view or part"
    UNKNOWN = ""


OWN: dict[str, Role] = {
    "GLASS": Role.GLASS,
    "FRIT_FADE": Role.SOLID,
    "PRINT_SOLID": Role.SOLID,
    "FRIT_INNER": Role.PRINT,
    "FRIT_OUTER": Role.OTHER,
    "FRIT_TINT": Role.OTHER,
    "FADE_TINT": Role.OTHER,
    "PRINT_FADE": Role.FADE,
}
"""Layers of the sheets and films that carry the pane; every other layer of ours is a view or part of its own."""
FADES = ("fade", "dot", "gradient", "halftone", "raster", "punkt", "stipple", "verlauf")
PRINTS = ("frit", "print", "ceram", "keram", "enamel", "email", "screen", "siebdruck", "serigr", "druck", "bedruckung")
GLASSES = ("glass", "glas", "glaz", "pane", "verre", "vetro", "vidrio", "scheibe", "ruit", "outline", "contour", "kontur", "cut")


def role_of(layers: Iterable[str], names: Mapping[str, str], others: Iterable[str]) -> Role:
    """The role of a loop by the layers that its pieces stand on.

    ``names`` are the office's own names of our layers, ``others`` our layers that stand for no line of the pane.

    >>> role_of(["GLASS"], {}, ()), role_of(["S-FRIT-DOTS"], {}, ()), role_of(["0"], {}, ())
    (<Role.GLASS: 'glass'>, <Role.FADE: 'fade'>, <Role.UNKNOWN: ''>)
    """
    found = {_of_one(layer, names, others) for layer in layers}
    return found.pop() if len(found) == 1 else Role.UNKNOWN


def _of_one(layer: str, names: Mapping[str, str], others: Iterable[str]) -> Role:
    folded = layer.casefold()
    for own, role in OWN.items():
        if folded in (own.casefold(), names.get(own, own).casefold()):
            return role
    if folded in {names.get(each, each).casefold() for each in others}:
        return Role.OTHER
    plain = re.sub(r"[^a-z]", "", folded)
    for words, role in ((FADES, Role.FADE), (PRINTS, Role.PRINT), (GLASSES, Role.GLASS)):
        if any(word in plain for word in words):
            return role
    return Role.UNKNOWN


__all__ = ["Role", "role_of"]
