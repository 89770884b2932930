"""Where a finished sheet is white: the rectangles that nothing stands in and that cannot be made larger.

A view counts as taken with all that its window surrounds, a mark of the paper with its box, so that what is put into such a rectangle lies
on no view and beside no word.
"""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise
from typing import TYPE_CHECKING

from outputs.sheet.boxes import box_of, grown

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

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
    """The largest rectangles within ``space`` that keep ``AIR`` from it and from everything taken, at least so wide and high, paper mm."""
    found = empties(grown(space, -AIR), [grown(box, AIR) for box in taken])
    return sorted(box for box in found if box[2] - box[0] >= least[0] and box[3] - box[1] >= least[1])


def empties(space: Box, boxes: Sequence[Box]) -> list[Box]:
    """The empty rectangles of a space that can grow in no direction.

    Strips between the edges of the boxes are gone through from below; each column of a strip knows how far it is empty downwards.
    """
    left, bottom, right, top = space
    inside = [(max(a, left), max(b, bottom), min(c, right), min(d, top)) for a, b, c, d in boxes]
    inside = [box for box in inside if box[0] < box[2] and box[1] < box[3]]
    xs = sorted({left, right, *(x for box in inside for x in (box[0], box[2]))})
    ys = sorted({bottom, top, *(y for box in inside for y in (box[1], box[3]))})
    spans = [(bisect_left(xs, a), bisect_left(xs, c), b, d) for a, b, c, d in inside]
    foot = [bottom] * (len(xs) - 1)  # of each column, down to where it is empty
    found: dict[tuple[float, float, float], Box] = {}
    for low, high in pairwise(ys):
        for first, end, b, d in spans:
            if b <= low and d >= high:
                foot[first:end] = [high] * (end - first)
        open_: list[tuple[float, float]] = []  # where a run of columns begins, and its foot
        last: float | None = None
        for x, level in zip(xs, [*foot, high], strict=True):
            if level == last:
                continue
            last, start = level, x
            while open_ and open_[-1][1] <= level:
                start, own = open_.pop()
                if own < level:
                    found[start, x, own] = (start, own, x, high)  # the highest comes last
            open_.append((start, level))
    return list(found.values())


def area_of(box: Box) -> float:
    """The area of a box, mm²; nothing of one turned inside out."""
    return max(0.0, box[2] - box[0]) * max(0.0, box[3] - box[1])


__all__ = ["AIR", "area_of", "empties", "taken_boxes", "white_rectangles"]
