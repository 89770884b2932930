"""What every door of this room hands over, and how it says no.

Terms
-----
incoming outline
    An outline that somebody else drew or measured, as true lines and true arcs, with what had to be done to it.
mended
    What was put right on the way in (a gap closed, a line drawn twice left out), one sentence each: it is told wherever the outline is.
deviation
    How far the lines and arcs lie from the curves that were drawn, mm: 0 where lines and arcs were drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from geometry.outline.loop import Outline


class InSpace(NamedTuple):
    """Where an outline of a file in space lies in it: its point (0, 0), mm, and the directions of its X and Y, unit vectors."""

    origin: tuple[float, float, float]
    x: tuple[float, float, float]
    y: tuple[float, float, float]


@dataclass(frozen=True)
class Incoming:
    """One outline, counter-clockwise and seen from outside, mm, in the coordinates of the drawing or survey itself.

    ``source`` names the file and what was picked of it; ``shape`` is "circle" or "ellipse" where it was drawn as one whole, else "";
    ``mirror`` is the upright line (x, mm) about which a view from inside was turned to one from outside, None where it was not;
    ``from_vertical`` the lean in degrees of a plane in space (+ outer face up), None for a drawing on paper; ``in_space`` where a face of
    a STEP file lies in it, None for all others.
    """

    outline: Outline
    source: str
    mended: tuple[str, ...] = ()
    deviation: float = 0.0
    shape: str = ""
    mirror: float | None = None
    from_vertical: float | None = None
    in_space: InSpace | None = None


class IncomingError(ValueError):
    """Why there is no outline: what was found, what is allowed, perhaps what to do; a sentence each. ``key`` names the pick at fault."""

    def __init__(self, found: str, allowed: str = "", hint: str = "", *, key: str = "") -> None:
        self.found, self.allowed, self.hint, self.key = found, allowed, hint, key
        super().__init__("; ".join(part for part in (found, f"allowed: {allowed}" if allowed else "", hint) if part))


def plain(text: str) -> str:
    """A text or name out of somebody's file for a sentence: printable ASCII, no longer than forty signs.

    >>> plain("Fräsen"), len(plain("9" * 90))
    ('Fr?sen', 40)
    """
    found = "".join(sign if sign.isprintable() and sign.isascii() else "?" for sign in text)
    return found if len(found) <= 40 else found[:37] + "..."


__all__ = ["InSpace", "Incoming", "IncomingError", "plain"]
