"""Where a finished sheet is white: the rectangles that nothing stands in and that cannot be made larger.

The paper is looked at in squares of a millimetre. A view counts as taken with all that its window surrounds, a mark of the paper with its
box, so that what is put into such a rectangle lies on no view and beside no word.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from outputs.sheet.boxes import box_of, grown

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Sheet

AIR = 5.0
"""Paper mm that stay clear round all that stands."""


def taken_boxes(sheet: Sheet) -> Iterator[Box]:
    """The boxes of views and marks, paper mm; what surrounds half the width of the paper is the frame, which takes nothing."""
    for view in sheet.views:
        (left, low, right, high), (x, y) = view.window, view.paper
        yield x, y, x + (right - left) * view.scale, y + (high - low) * view.scale
    for mark in sheet.marks:
        found = box_of(mark, 1.0)
        if found[2] - found[0] < sheet.width / 2 or found[3] - found[1] < sheet.height / 2:
            yield found


def white_rectangles(taken: Iterable[Box], space: Box, *, least: tuple[float, float]) -> list[Box]:
    """The largest rectangles within ``space`` that keep ``AIR`` from it and from everything taken, at least so wide and high, paper mm.

    None of them lies within another; the order is the same every time.
    """
    import numpy as np

    left, low, right, high = grown(space, -AIR)
    x0, y0 = math.ceil(left), math.ceil(low)
    full = np.zeros((math.floor(high) - y0, math.floor(right) - x0), dtype=bool)
    for box in taken:
        a, b, c, d = grown(box, AIR)
        full[max(0, math.floor(b) - y0) : max(0, math.ceil(d) - y0), max(0, math.floor(a) - x0) : max(0, math.ceil(c) - x0)] = (
            True
        )
    found: set[Box] = set()
    for row, column, wide, tall in _maximal(full, least):
        found.add((float(x0 + column), float(y0 + row - tall), float(x0 + column + wide), float(y0 + row)))
    return [each for each in sorted(found) if not any(_within(each, other) for other in found if other != each)]


def _within(one: Box, other: Box) -> bool:
    return other[0] <= one[0] and other[1] <= one[1] and other[2] >= one[2] and other[3] >= one[3]


def _maximal(full: Any, least: tuple[float, float]) -> Iterator[tuple[int, int, int, int]]:
    """Row over it, first column, width and height of each empty rectangle that nothing lets grow sideways or down."""
    import numpy as np

    heights = np.zeros(full.shape[1], dtype=int)
    for row, taken in enumerate(full, start=1):
        heights = np.where(taken, 0, heights + 1)
        if row < len(full) and not (heights > least[1]).any():
            continue
        rising: list[tuple[int, int]] = []
        for column, height in enumerate([*heights.tolist(), 0]):
            start = column
            while rising and rising[-1][1] >= height:
                start, tall = rising.pop()
                if tall >= least[1] and column - start >= least[0] and _ends(full, row, start, column):
                    yield row, start, column - start, tall
            rising.append((start, height))


def _ends(full: Any, row: int, start: int, end: int) -> bool:
    """Whether a rectangle under a row cannot go on over it."""
    return bool(row == len(full) or full[row, start:end].any())


__all__ = ["AIR", "taken_boxes", "white_rectangles"]
