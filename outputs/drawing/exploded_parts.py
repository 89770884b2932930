"""What an exploded view is made of: the bodies of a pane, whole or a piece of them, pulled apart in the order in which they are fitted.

Terms
-----
piece
    What a square window of the plan cuts out at the lower left corner of the recess, where the wall looks up and towards the eye.
level
    Place in the order of fitting, counted from the frame.
lift
    How far a part is pulled off the frame, along the normal of the pane outboard, mm.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.outline import Outline, Vertex, bounding_box, perimeter, point_in
from geometry.outline.stations import places_along
from outputs.drawing.solid_parts import item_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Point
    from geometry.solids.bodies import Body
    from geometry.solids.kernel import Shape

LEVELS: tuple[tuple[str, ...], ...] = (
    ("frame",),
    ("spacer", "chock"),
    ("adhesive",),
    ("frit", "glass", "interlayer"),
    ("backer",),
    ("sealant",),
)
"""Materials in the order of fitting: blocks into the recess, bead, pane with its print, then the joint."""
STEPS = (0.0, 0.42, 0.38, 1.0, 0.5, 0.35)
"""Share of all the lift that each level adds before it is made up to one: what lies behind the pane is to be seen beside it."""
STEPS_OF_RINGS = (0.0, 0.5, 0.5, 1.0, 0.6, 0.4)
"""The same where the whole pane is shown: one looks through its rings."""
ALONG = 720  # places along an outline at which its lowest left one is looked for
BACK = 0.35  # of the side of the window that may lie beyond that place
WIDE = 200.0  # mm that a window stands wide of the recess where that ends within it
DEEP = 1000.0  # mm under and over the landing that a window reaches


@dataclass(frozen=True, eq=False)
class Part:
    """One body where it is drawn."""

    item: str
    material: str
    level: int
    shape: Shape = field(repr=False)


@dataclass(frozen=True, slots=True)
class Piece:
    """The window of the plan that is cut out, mm; where the frame ends within its reach it stands wide of it."""

    left: float
    low: float
    right: float
    high: float

    @property
    def outline(self) -> Outline:
        """The window as an outline."""
        corners = ((self.left, self.low), (self.right, self.low), (self.right, self.high), (self.left, self.high))
        return Outline(tuple(Vertex(x, y, 0.0) for x, y in corners))


def piece_of(detail: Detail, side: float) -> Piece:
    """The window at the lower left of the recess, of a side, mm."""
    recess = detail.curves.recess
    corner = min(_places(recess), key=lambda at: (round(at.x + at.y, 6), at.x))
    box = bounding_box(recess)

    def window(at: float, first: float, last: float) -> tuple[float, float]:
        low = max(first, at - BACK * side)
        return low - (WIDE if low == first else 0.0), low + side + (WIDE if low + side >= last else 0.0)

    (left, right), (low, high) = window(corner.x, box.left, box.right), window(corner.y, box.bottom, box.top)
    return Piece(left, low, right, high)


def _places(outline: Outline) -> tuple[Point, ...]:
    return places_along(outline, spacing=perimeter(outline) / ALONG)


def parts_of(detail: Detail, bodies: Sequence[Body], piece: Piece | None) -> tuple[Part, ...]:
    """The bodies, in one place yet; of a piece what its window cuts out, blocks whole as far as their middle lies within."""
    from geometry.solids import kernel

    tool, window = None, None
    if piece is not None:
        window = piece.outline
        tool = kernel.prism(window, -DEEP, DEEP)
    found = []
    for body in bodies:
        shape = body.shape
        if window is not None and body.material in ("spacer", "chock"):
            if not point_in(window, body.at):
                continue
        elif tool is not None:
            shape = kernel.common(shape, tool)
        level = next(number for number, materials in enumerate(LEVELS) if body.material in materials)
        found += [Part(item_of(detail, body), body.material, level, each) for each in kernel.solids_of(shape)]
    return tuple(found)


def lifts(parts: Sequence[Part], *, whole: bool) -> dict[int, float]:
    """The lift of each level that is there, the last one being 1."""
    steps = STEPS_OF_RINGS if whole else STEPS
    found, height = {}, 0.0
    for level in sorted({part.level for part in parts}):
        height += steps[level]
        found[level] = height
    return {level: each / height for level, each in found.items()}


def anchors(detail: Detail, piece: Piece | None) -> tuple[Point, ...]:
    """Where trace lines run: on the edge of the glass, at its corners, or where the piece is cut off and at its corner."""
    places = list(_places(detail.curves.glass))
    if piece is not None:
        window = piece.outline
        places = [each for each in places if point_in(window, each)]
    ways = ((1, 1), (-1, -1), (1, -1), (-1, 1)) if piece is None else ((-1, -1), (1, -1), (-1, 1))
    return tuple(max(places, key=lambda at, a=a, b=b: (round(a * at.x + b * at.y, 6), at.x)) for a, b in ways)


__all__ = ["LEVELS", "Part", "Piece", "anchors", "lifts", "parts_of", "piece_of"]
