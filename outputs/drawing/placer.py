"""Placer: finds room for marks on a view, clear of texts and lines.

Terms
-----
obstacle
    A line or a box that a text must not touch.
candidate
    A place where a text could stand; the first one that is free is taken.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from outputs.drawing.boxes import Box, box_of_text, grown, overlap, sides
from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Mark, Node, Path, Text
from outputs.sheet.runs import arc_between

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

Straight = tuple[float, float, float, float]
FACET = math.radians(6.0)


def facets(nodes: tuple[Node, ...], *, closed: bool) -> list[Straight]:
    """A run as short straight lines, for keeping clear of it (never for drawing)."""
    found: list[Straight] = []
    for start, end in sides(nodes, closed=closed):
        if start[2] == 0:
            found.append((start[0], start[1], end[0], end[1]))
            continue
        arc = arc_between(start, end)
        (cx, cy), radius, sweep = arc.centre, arc.radius, arc.sweep
        first = math.atan2(start[1] - cy, start[0] - cx)
        count = max(2, math.ceil(abs(sweep) / FACET))
        turns = [first + sweep * index / count for index in range(count + 1)]
        places = [(cx + radius * math.cos(turn), cy + radius * math.sin(turn)) for turn in turns]
        found += [(*a, *b) for a, b in pairwise(places)]
    return found


def crosses(box: Box, straight: Straight) -> bool:
    """Whether a straight line enters a box (clipping by its four sides)."""
    left, bottom, right, top = box
    x1, y1, x2, y2 = straight
    if (x1 < left and x2 < left) or (x1 > right and x2 > right) or (y1 < bottom and y2 < bottom) or (y1 > top and y2 > top):
        return False
    dx, dy = x2 - x1, y2 - y1
    enter, leave = 0.0, 1.0
    for p, q in ((-dx, x1 - left), (dx, right - x1), (-dy, y1 - bottom), (dy, top - y1)):
        if p == 0:
            if q < 0:
                return False
            continue
        t = q / p
        if p < 0:
            enter = max(enter, t)
        else:
            leave = min(leave, t)
        if enter > leave:
            return False
    return True


class Placer:
    """Keeps account of what stands on one view; used while the view is composed and dropped afterwards."""

    def __init__(self, *, scale: float, clear: float) -> None:
        self.scale = scale
        self.clear = clear / scale
        self._boxes: list[Box] = []
        self._straights: list[Straight] = []

    def add(self, marks: Iterable[Mark]) -> None:
        """Count marks as obstacles; the lines of hatches do not count, their boundaries do where they are drawn."""
        for mark in marks:
            match mark:
                case Path(nodes=nodes, closed=closed):
                    self._straights += facets(nodes, closed=closed)
                case Fill(nodes=nodes):
                    self._straights += facets(nodes, closed=True)
                case Text():
                    self._boxes.append(box_of_text(mark, self.scale))
                case Dimension(parts=parts):
                    self.add(parts)
                case Insert(attributes=attributes):
                    self.add(a.text for a in attributes if a.text is not None)
                case Hatch():
                    pass

    def block(self, box: Box) -> None:
        """Count a whole box as taken."""
        self._boxes.append(box)

    def free(self, box: Box, *, clear: float | None = None) -> bool:
        """Whether a box keeps clear of every obstacle (``clear`` in model mm)."""
        wide = grown(box, self.clear if clear is None else clear)
        if any(overlap(wide, other) for other in self._boxes):
            return False
        return not any(crosses(wide, straight) for straight in self._straights)

    def first_free(self, candidates: Iterable[Text], *, fits: Callable[[Box], bool] | None = None) -> Text | None:
        """The first candidate that is free, and whose box ``fits`` where that is asked, now counted as taken; None where none is."""
        for text in candidates:
            box = box_of_text(text, self.scale)
            if self.free(box) and (fits is None or fits(box)):
                self.add((text,))
                return text
        return None
