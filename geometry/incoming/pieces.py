"""The pieces that a drawing is taken apart into: exact lines, exact arcs, and curves by their control points, in space.

Terms
-----
piece
    One line, arc or curve from one end to another, in the drawing's own units and axes.
normal
    The direction from which a piece's plane is looked at: an arc of positive bulge turns left as seen from there.
span
    One stretch of a curve by its control points (rational where the weights differ): rows (w x, w y, w z, w).
entity
    One drawn thing; a polyline is one, with many pieces.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Span = NDArray[np.float64]
else:
    Span = object

Place = tuple[float, float, float]
UP: Place = (0.0, 0.0, 1.0)
SIMILAR = 1e-9
"""By how much, of itself, a scale may differ along two axes and still be one scale."""


class Piece(NamedTuple):
    """A line (bulge 0), an arc (bulge and normal) or a curve (spans)."""

    start: Place
    end: Place
    bulge: float = 0.0
    normal: Place = UP
    spans: tuple[Span, ...] = ()

    def reversed(self) -> Piece:
        """The same piece run the other way."""
        spans = tuple(span[::-1] for span in reversed(self.spans))
        return Piece(self.end, self.start, -self.bulge, self.normal, spans)

    def middle(self) -> Place:
        """A place of the piece about half-way; of a reversed piece the same."""
        if self.spans:
            return _middle_of(self.spans)
        x, y, z = ((a + b) / 2 for a, b in zip(self.start, self.end, strict=True))
        if not self.bulge:
            return x, y, z
        # the arc bulges to the right of its travel by bulge times half the chord
        ax, ay, az = (b - a for a, b in zip(self.start, self.end, strict=True))
        nx, ny, nz = self.normal
        half = self.bulge / 2
        return x + half * (ay * nz - az * ny), y + half * (az * nx - ax * nz), z + half * (ax * ny - ay * nx)

    @property
    def length(self) -> float:
        """Length of its chord, drawing units."""
        return math.dist(self.start, self.end)


def _middle_of(spans: Sequence[Span]) -> Place:
    if len(spans) % 2 == 0:
        at = spans[len(spans) // 2][0]
    else:
        rows = spans[len(spans) // 2]
        while len(rows) > 1:
            rows = (rows[1:] + rows[:-1]) / 2
        at = rows[0]
    return float(at[0] / at[3]), float(at[1] / at[3]), float(at[2] / at[3])


@dataclass(frozen=True)
class Drawn:
    """What was found in a layout or block: chains of pieces, one for each entity, and texts.

    ``closed`` are entities that close by themselves, ``open_`` the others; ``insert`` is the number of the insert that they came with
    (0: none). ``shape`` is "circle" or "ellipse" where the entity is one, with its centre and axes in ``axes``. ``read_hidden`` are
    hidden layers that are read because they were asked for.
    """

    closed: list[Chain] = field(default_factory=list)
    open_: list[Chain] = field(default_factory=list)
    texts: list[Label] = field(default_factory=list)
    left_out: dict[str, int] = field(default_factory=dict)
    hidden: dict[str, int] = field(default_factory=dict)
    read_hidden: list[str] = field(default_factory=list)
    said: dict[str, int] = field(default_factory=dict)

    @property
    def count(self) -> int:
        """How many entities make lines."""
        return len(self.closed) + len(self.open_)


class Chain(NamedTuple):
    """The pieces of one entity in order."""

    pieces: tuple[Piece, ...]
    layer: str
    insert: int = 0
    shape: str = ""
    axes: tuple[Place, ...] = ()  # centre, half the longer axis, half the shorter one


class Label(NamedTuple):
    """A text of the drawing and where it stands."""

    text: str
    at: Place
    insert: int = 0


__all__ = ["SIMILAR", "UP", "Chain", "Drawn", "Label", "Piece", "Place", "Span"]
