"""What may stand higher or lower on a detail sheet is spread until no large rectangle of it stays empty.

Titles of views and fixed tables keep their places; the plan, the notes, the tables beside the plan and the key of the lines have room to move.

Terms
-----
piece
    What moves as one: its boxes on paper, and how far it may move.
fixed
    Boxes of what stands still.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from outputs.sheet.boxes import grown, joined, overlap
from outputs.sheet.white_space import area_of, empties

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place

MOST_EMPTY, ENOUGH = 0.0503, 0.048
"""Of the drawing space, the largest empty rectangle up to which nothing is spread, and with which a spread ends: judgement, no source."""
APART = 2.5  # paper mm between a piece that moves and anything else
STEPS = (5.0, 5.0, 2.0, 1.0)  # paper mm from one trial to the next, of each round
HEM = 0.4  # paper mm round what is drawn that count as taken
FINE = 3  # steps to either side that the finer rounds try
GRAVE = 12  # power by which a large rectangle counts more than several small ones


@dataclass(frozen=True, slots=True)
class Piece:
    """Boxes that move together, paper mm; ``room`` is the box that they must keep to. ``aside``: they may move to the left and right too.

    ``tied``: what stands still and is one with the first of them, with all that lies between; the sign beside a title. ``window``: what
    else stands still and is drawn with them; no other piece may come into the box round both.
    """

    boxes: tuple[Box, ...]
    room: Box
    aside: bool = False
    tied: Box | None = None
    window: Box | None = None

    def at(self, by: Place) -> tuple[Box, ...]:
        """The boxes after a move."""
        return tuple((a + by[0], b + by[1], c + by[0], d + by[1]) for a, b, c, d in self.boxes)

    def round_all(self, by: Place) -> tuple[Box, ...]:
        """What no other piece may come into after a move."""
        return self.at(by) if self.window is None else (joined((*self.at(by), self.window)),)

    def surrounds(self, by: Place) -> tuple[Box, ...]:
        """The boxes after a move, the first with all that lies between it and what it is tied to."""
        first, *others = self.at(by)
        return (first if self.tied is None else joined((first, self.tied)), *others)

    def moves(self, upright: bool, step: float) -> list[float]:
        """How far it may move along one axis, paper mm, in steps."""
        low, high = (1, 3) if upright else (0, 2)
        down = self.room[low] - min(box[low] for box in self.boxes)
        up = self.room[high] - max(box[high] for box in self.boxes)
        return [count * step for count in range(math.ceil(down / step), math.floor(up / step) + 1)]


def spread(space: Box, fixed: Sequence[Box], pieces: Sequence[Piece], *, most: float = MOST_EMPTY) -> tuple[list[Place], float]:
    """How far each piece moves, paper mm to the right and up, and the largest rectangle that stays empty then, in parts of ``space``; nothing
    moves where none of more than ``most`` of it is.

    Pieces are tried in turn, the best move of each taken, until none gets better.
    """
    moves, share = _found(space, tuple(fixed), tuple(pieces), most)
    return list(moves), share


@lru_cache(maxsize=64)  # a pane that is drawn again lies as it lay
def _found(space: Box, fixed: tuple[Box, ...], pieces: tuple[Piece, ...], most: float) -> tuple[tuple[Place, ...], float]:
    where: list[Place] = [(0.0, 0.0)] * len(pieces)
    area = area_of(space)

    def others_of(index: int) -> list[Box]:
        return [box for each, piece in enumerate(pieces) if each != index for box in piece.round_all(where[each])]

    def empty(index: int, by: Place, seen: Callable[[Piece, Place], tuple[Box, ...]]) -> list[Box]:
        there = [by if each == index else own for each, own in enumerate(where)]
        return empties(space, [*fixed, *(box for piece, own in zip(pieces, there, strict=True) for box in seen(piece, own))])

    def share(box: Box) -> float:
        return area_of(grown(box, -HEM)) / area

    def grave(index: int, by: Place) -> float:
        """A measure of all rectangles, where nothing is tied: of two moves that leave as large a one the one that leaves less beside it."""
        return math.fsum(share(each) ** GRAVE for each in empty(index, by, Piece.at))

    worst = max(empty(0, where[0], Piece.surrounds), key=share, default=None)
    if worst is None:
        return tuple(where), 0.0
    if share(worst) <= most:
        return tuple(where), share(worst)
    best = (share(worst), grave(0, where[0]))
    for step in STEPS:
        for index, piece in enumerate(pieces):
            if best[0] <= ENOUGH:
                return tuple(where), share(worst)
            others = others_of(index)
            for upright in (True, False) if piece.aside else (True,):
                x, y = where[index]
                held, held_round = piece.at(where[index]), piece.round_all(where[index])
                for move in piece.moves(upright, step):
                    if step < STEPS[0] and abs(move - where[index][upright]) > FINE * step:
                        continue
                    there = (x, move) if upright else (move, y)
                    if not any(overlap(box, worst) for box in piece.surrounds(there)):
                        continue  # the largest rectangle would stay
                    if _nearer(piece.at(there), [*fixed, *others], held) or _nearer(piece.round_all(there), others, held_round):
                        continue
                    left = max(empty(index, there, Piece.surrounds), key=share, default=worst)
                    largest = max(share(left), ENOUGH)
                    if largest <= best[0] and (found := (largest, grave(index, there))) < best:
                        best, worst, where[index] = found, left, there
    return tuple(where), share(worst)


def _nearer(moved: Sequence[Box], others: Sequence[Box], held: Sequence[Box]) -> bool:
    """Whether boxes come nearer to one of the others than they may, or than they were to that one as they were ``held``."""
    for box, before in zip(moved, held, strict=True):
        for other in others:
            apart = _apart(box, other)
            if apart < APART - 1e-9 and apart < _apart(before, other) - 1e-9:
                return True
    return False


def _apart(box: Box, other: Box) -> float:
    """How far two boxes are apart, along the axis on which they lie farther apart; below nothing where they overlap."""
    return max(other[0] - box[2], box[0] - other[2], other[1] - box[3], box[1] - other[3])


def widest_room(space: Box, fixed: Sequence[Box], pieces: Sequence[Piece], size: tuple[float, float]) -> Box | None:
    """The largest empty rectangle that holds something of a size (wide, high); None where none does."""
    boxes = [*fixed, *(box for piece in pieces for box in piece.boxes)]
    wide = [box for box in empties(space, boxes) if box[2] - box[0] >= size[0] and box[3] - box[1] >= size[1]]
    return max(wide, key=area_of, default=None)


__all__ = ["APART", "ENOUGH", "HEM", "MOST_EMPTY", "Piece", "spread", "widest_room"]
