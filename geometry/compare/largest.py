"""The other way round: the largest regular pane, in whole millimetres, that keeps a wanted joint in a recess as it stands.

Terms
-----
regular
    Of the form that was ordered: a rectangle with its radii, a circle, an ellipse; of every other form the parallel curve of the order.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.compare.best_fit import Setting, started

if TYPE_CHECKING:
    from geometry.outline.loop import Outline

KEEPS = 1e-6
"""mm by which a joint may fall short through rounding."""
MOST_MORE = 60
"""mm by which a parallel curve is tried larger than the order."""
FARTHEST = 400
"""mm under its start beyond which no smaller pane is looked for."""


@dataclass(frozen=True, slots=True)
class Largest:
    """A pane of whole millimetres and the least gap it keeps, mm: its sizes, or how much less than the order each size is.

    A parallel curve of the order has no sizes of its own; ``less`` is negative where the pane may be larger.
    """

    sizes: tuple[int, ...]
    outline: Outline
    least_gap: float
    less: int | None = None


def least_gap(pane: Outline, recess: Outline, *, widest_turn: float) -> float:
    """The largest least gap near the pane upright, mm."""
    return started(Setting.of(pane, recess, widest_turn))[1]


def largest_of_two(
    make: Callable[[int, int], Outline], recess: Outline, *, start: tuple[int, int], joint: float, widest_turn: float = 2.0
) -> Largest | None:
    """The pane of the largest width × height that keeps ``joint``; ``start`` is a size that surely does not, or just does."""
    known: dict[tuple[int, int], float] = {}

    def gap(width: int, height: int) -> float:
        if (width, height) not in known:
            known[width, height] = least_gap(make(width, height), recess, widest_turn=widest_turn)
        return known[width, height]

    def keeps(width: int, height: int) -> bool:
        return gap(width, height) >= joint - KEEPS

    small = (max(start[0] - FARTHEST, start[0] // 2, 1), max(start[1] - FARTHEST, start[1] // 2, 1))
    widest = _most(lambda width: keeps(width, small[1]), small[0], start[0])
    highest = _most(lambda height: keeps(small[0], height), small[1], start[1])
    if widest is None or highest is None:
        return None
    best: tuple[int, int] | None = None
    for width in range(widest, small[0] - 1, -1):
        if best is not None and width * highest <= best[0] * best[1]:
            break
        low = small[1] if best is None else max(small[1], best[0] * best[1] // width)
        height = _most(lambda height, width=width: keeps(width, height), low, highest)  # type: ignore[misc]
        if height is not None and (best is None or width * height > best[0] * best[1]):
            best = width, height
    return None if best is None else Largest(best, make(*best), gap(*best))


def largest_of_one(
    make: Callable[[int], Outline], recess: Outline, *, start: int, joint: float, widest_turn: float = 2.0
) -> Largest | None:
    """The largest pane of one size that keeps ``joint``."""

    def gap(size: int) -> float:
        return least_gap(make(size), recess, widest_turn=widest_turn)

    size = _most(lambda size: gap(size) >= joint - KEEPS, max(start - FARTHEST, start // 2, 1), start)
    return None if size is None else Largest((size,), make(size), gap(size))


def largest_parallel(ordered: Outline, recess: Outline, *, joint: float, widest_turn: float = 2.0) -> Largest | None:
    """The largest parallel curve of a pane, each size a whole number of mm less or more, that keeps ``joint``."""
    from geometry.outline.offset import try_offset

    def made(more: int) -> Outline | None:
        return ordered if more == 0 else try_offset(ordered, more / 2)

    def keeps(more: int) -> bool:
        outline = made(more)
        return outline is not None and least_gap(outline, recess, widest_turn=widest_turn) >= joint - KEEPS

    more = next((_most(keeps, -low, MOST_MORE) for low in (20, 60, 200) if keeps(-low)), None)
    outline = None if more is None else made(more)
    if more is None or outline is None:
        return None
    return Largest((), outline, least_gap(outline, recess, widest_turn=widest_turn), -more)


def _most(holds: Callable[[int], bool], low: int, high: int) -> int | None:
    """The largest whole number from low to high that holds, where all below one that holds do; None where not even ``low`` holds."""
    if not holds(low):
        return None
    if holds(high):
        return high
    while high - low > 1:
        middle = math.floor((low + high) / 2)
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


__all__ = ["Largest", "largest_of_one", "largest_of_two", "largest_parallel", "least_gap"]
