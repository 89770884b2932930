"""How large a corner of a pane is shown pulled apart in a box: its scale, the size of the piece, and how far its parts come apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import bounding_box, point_in
from outputs.drawing.exploded_parts import parts_of, piece_of
from outputs.drawing.exploded_view import ExplodedView

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.solids.bodies import Body
    from geometry.solids.kernel import Shape
    from outputs.drawing.exploded_parts import Piece

SCALES = (2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
"""Of ISO 5455, the largest first."""
LIFT, LIFT_OF_RINGS = 2.75, 1.7  # how far the last part is pulled off by the size of what is shown, most
APART = 0.68  # least lift by the width of what is shown: then the pane does not hide the bead
WHOLE = 1.3  # of the side of a piece, up to which a pane is shown whole
RISE, ACROSS = 0.5, 0.8660254037844386  # of a unit of X or Z on the picture


@dataclass(frozen=True, slots=True)
class Extent:
    """Size of what is shown along X, Y and Z, the parts together, mm."""

    x: float
    y: float
    z: float

    def on_paper(self, scale: float, reach: float) -> tuple[float, float]:
        """Width and height with the last part pulled off by ``reach``, paper mm."""
        along = (self.x + self.z) * scale + reach
        return along * ACROSS, self.y * scale + along * RISE

    def most(self, scale: float, wide: float, high: float) -> float:
        """The greatest reach that fits, paper mm."""
        own = (self.x + self.z) * scale
        return min(wide / ACROSS, (high - self.y * scale) / RISE) - own


def extent_of(shapes: Sequence[Shape]) -> Extent:
    """Size of bodies together."""
    from geometry.solids.seen import bounds

    low, high = bounds(shapes)
    return Extent(*(b - a for a, b in zip(low, high, strict=True)))


def needed(detail: Detail) -> float:
    """The least side of a piece, mm: twice as far as landing and print reach, and past the round of the corner."""
    section = detail.sections[0].crossing
    deep = max(section.landing, section.frit_inner)
    return 1.7 * deep + 10.0


def piece_for(detail: Detail, side: float, scale: float) -> Piece | None:
    """A piece of ``side`` (paper mm); None where the whole pane is no larger."""
    frame = bounding_box(detail.curves.recess)
    return None if max(frame.width, frame.height) * scale <= WHOLE * side else piece_of(detail, side / scale)


def holds_spacer(detail: Detail, piece: Piece | None) -> bool:
    """Whether what holds the height of the bead is in a piece, or the pane has none."""
    return piece is None or not detail.spacers or any(point_in(piece.outline, each.centre) for each in detail.spacers)


def fitted_view(
    detail: Detail,
    bodies: Sequence[Body],
    piece: Piece | None,
    scale: float,
    room: tuple[float, float],
    *,
    side: float,
    large: bool = True,
) -> tuple[ExplodedView, bool]:
    """A piece of ``side`` (paper mm) pulled apart as far as the room (width and height, paper mm) lets it; and whether its parts come apart
    so far that the pane does not hide the bead. ``large``: its outlines are wide.
    """
    parts = parts_of(detail, bodies, piece)
    extent = extent_of([part.shape for part in parts])
    reach = min((LIFT_OF_RINGS if piece is None else LIFT) * side, extent.most(scale, *room))
    return ExplodedView(detail, parts, piece, scale, reach, large=large), reach >= APART * extent.x * scale


__all__ = [
    "ACROSS",
    "LIFT",
    "LIFT_OF_RINGS",
    "RISE",
    "SCALES",
    "Extent",
    "extent_of",
    "fitted_view",
    "holds_spacer",
    "needed",
    "piece_for",
]
