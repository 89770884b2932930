"""Keeping clear: which ink stands already while more is added to a view, and where there is room.

Every placer of a view asks the same account, so that no two of them give away the same place.

Terms
-----
ink
    What has been drawn so far: strokes (outlines, extension and dimension lines, arrows, leaders) and texts. Hatch lines do not count,
    the boundaries of a hatch do where they are drawn.
straight
    A stroke as (x1, y1, x2, y2); an arc counts as several.
leader
    A line from a note or a number to its part; no leader crosses another.
candidate
    A place where a text could stand; the first one that is free is taken.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import chain, islice, pairwise, tee
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from geometry.outline import circle_of
from outputs.sheet.boxes import Box, box_of_text, grown, sides, texts_of
from outputs.sheet.entities import Dimension, Fill, Mark, Node, Path, Text
from outputs.sheet.outcomes import Fate, Outcome, Planned

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from numpy.typing import NDArray

T = TypeVar("T")
Straight = tuple[float, float, float, float]
FACET = math.radians(6.0)
SAME_PLACE = 1e-6  # mm between two places that are one
AT_FIRST, AT_ONCE = 4, 32  # boxes that are looked at together, at first and at most: one of the first is often free
CLEAR = 0.3  # paper mm that a text in a section keeps from every other text and from every line


def facets(nodes: tuple[Node, ...], *, closed: bool) -> list[Straight]:
    """A run as short straight lines, for keeping clear of it (never for drawing)."""
    if len(nodes) == 2 and not closed and nodes[0][2] == 0:  # nearly all of a view
        return [(nodes[0][0], nodes[0][1], nodes[1][0], nodes[1][1])]
    if not [node for node in nodes if node[2] != 0]:
        ends = nodes[1:] if not closed else (*nodes[1:], nodes[0])
        return [(x1, y1, x2, y2) for (x1, y1, _), (x2, y2, _) in zip(nodes, ends, strict=False)]
    found: list[Straight] = []
    for (x1, y1, bulge), (x2, y2, _) in sides(nodes, closed=closed):
        if bulge == 0:
            found.append((x1, y1, x2, y2))
            continue
        cx, cy, radius, sweep = circle_of(x1, y1, x2, y2, bulge)
        first = math.atan2(y1 - cy, x1 - cx)
        count = max(2, math.ceil(abs(sweep) / FACET))
        places = [(cx + radius * across, cy + radius * up) for across, up in _turns(first, sweep, count)]
        found += [(*a, *b) for a, b in pairwise(places)]
    return found


@lru_cache(maxsize=1024)
def _turns(first: float, sweep: float, count: int) -> tuple[tuple[float, float], ...]:
    """Cosine and sine at the ends of the parts of an arc: the same for every circle."""
    turns = [first + sweep * index / count for index in range(count + 1)]
    return tuple((math.cos(turn), math.sin(turn)) for turn in turns)


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


def meet(one: Straight, other: Straight) -> bool:
    """Whether two straight lines cross."""

    def side(line: Straight, x: float, z: float) -> float:
        return (line[2] - line[0]) * (z - line[1]) - (line[3] - line[1]) * (x - line[0])

    return side(one, *other[:2]) * side(one, *other[2:]) < 0 and side(other, *one[:2]) * side(other, *one[2:]) < 0


def distance_of(one: Straight, other: Straight) -> float:
    """Least distance of two straight lines; 0 where they cross.

    >>> distance_of((0, 0, 10, 0), (12, 1, 12, 5)), distance_of((0, 0, 10, 0), (5, -1, 5, 1)), distance_of((0, 0, 0, 9), (3, 4, 9, 4))
    (2.23606797749979, 0.0, 3.0)
    """
    if meet(one, other):
        return 0.0

    def from_end(x: float, y: float, line: Straight) -> float:
        x1, y1, x2, y2 = line
        long = (x2 - x1) ** 2 + (y2 - y1) ** 2
        share = max(0.0, min(1.0, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / long)) if long else 0.0
        return math.hypot(x - x1 - share * (x2 - x1), y - y1 - share * (y2 - y1))

    return min(
        *(from_end(*end, other) for end in (one[:2], one[2:])),
        *(from_end(*end, one) for end in (other[:2], other[2:])),
    )


class _Rows:
    """A growing list of rows of four figures, kept column by column: each is compared in one go."""

    __slots__ = ("_columns", "_count")

    def __init__(self, columns: NDArray[np.float64] | None = None) -> None:
        self._count = 0 if columns is None else columns.shape[1]
        self._columns: NDArray[np.float64] = np.empty((4, 64)) if columns is None else columns.copy()

    def add(self, rows: Sequence[tuple[float, float, float, float]]) -> None:
        """Append rows."""
        if rows:
            self.add_columns(np.fromiter(chain.from_iterable(rows), np.float64, 4 * len(rows)).reshape(-1, 4).T)

    def add_columns(self, columns: NDArray[np.float64]) -> None:
        """Append rows that are given column by column."""
        count = self._count + columns.shape[1]
        if count > self._columns.shape[1]:
            wider = np.empty((4, 2 * count))
            wider[:, : self._count] = self.columns
            self._columns = wider
        self._columns[:, self._count : count] = columns
        self._count = count

    @property
    def columns(self) -> NDArray[np.float64]:
        """Every row so far, column by column."""
        return self._columns[:, : self._count]


class KeepClear:
    """The ink of one view while it is composed; dropped afterwards.

    ``scale`` is paper / model, ``clear`` the paper mm that a text keeps from every stroke, ``apart`` (as much, where it is not given) those
    that it keeps from every other text. ``within`` is the box that nothing may leave, where there is one. ``halves`` are half the widths of the
    strokes by their layer, paper mm, where a sheet has strokes so wide that they count; of any other layer a stroke counts as thin.
    """

    def __init__(
        self,
        *,
        scale: float,
        clear: float = CLEAR,
        apart: float | None = None,
        within: Box | None = None,
        halves: Mapping[str, float] | None = None,
    ) -> None:
        self.scale = scale
        self.clear = clear / scale
        self.apart = self.clear if apart is None else apart / scale
        self.within = within
        self.halves = {layer: half / scale for layer, half in (halves or {}).items()}
        self._half: list[float] = []  # of each straight
        self._texts = _Rows()
        self._straights = _Rows()
        self._reaches = _Rows()  # the box of each straight
        self._leaders: list[Straight] = []
        self._pointing: list[Straight] = []
        self._known: dict[
            int, tuple[Mark, list[Box], list[Straight], float]
        ] = {}  # the ink of each mark met so far, by its identity
        self.outcomes: list[Outcome] = []

    def drawn(self, what: Planned) -> None:
        """Tell that something planned stands on the view."""
        self._told(what, Fate.DRAWN, "")

    def tabled(self, what: Planned, reason: str) -> None:
        """Tell that something planned found no room on the view and stands in a table or note of the sheet."""
        self._told(what, Fate.TABLED, reason)

    def left_out(self, what: Planned, reason: str) -> None:
        """Tell that something planned is not on the sheet."""
        self._told(what, Fate.LEFT_OUT, reason)

    def _told(self, what: Planned, fate: Fate, reason: str) -> None:
        self.outcomes.append(Outcome(str(what), fate, reason, None if isinstance(what, str) else what))

    def add(self, marks: Iterable[Mark]) -> None:
        """Count marks as standing."""
        boxes, straights, halves = self._ink(marks)
        self._texts.add(boxes)
        if straights:
            self._half += halves
            columns = np.fromiter(chain.from_iterable(straights), np.float64, 4 * len(straights)).reshape(-1, 4).T
            self._straights.add_columns(columns)
            low, high = np.minimum(columns[:2], columns[2:]), np.maximum(columns[:2], columns[2:])
            if self.halves:
                wide = np.array(halves)
                low, high = low - wide, high + wide
            self._reaches.add_columns(np.concatenate((low, high)))

    def copy(self) -> KeepClear:
        """The same ink, to try something in; what is told of the trial is dropped with it."""
        other = KeepClear(scale=self.scale, within=self.within)
        other.clear, other.apart, other.halves, other._half = self.clear, self.apart, self.halves, [*self._half]
        other._texts, other._straights, other._reaches = (
            _Rows(rows.columns) for rows in (self._texts, self._straights, self._reaches)
        )
        other._leaders, other._pointing = [*self._leaders], [*self._pointing]
        other._known = self._known
        return other

    def clear_of_texts(self, marks: Iterable[Mark]) -> bool:
        """Whether no line of the marks runs through a text that stands."""
        _, straights, halves = self._ink(marks)
        if not straights:
            return True
        xs, ys = [x for a, _, c, _ in straights for x in (a, c)], [y for _, b, _, d in straights for y in (b, d)]
        boxes = self._kept_clear(min(xs), min(ys), max(xs), max(ys)).T.tolist()
        return not any(
            crosses((a - half, b - half, c + half, d + half), straight)
            for a, b, c, d in boxes
            for straight, half in zip(straights, halves, strict=True)
        )

    def clear_of_strokes(self, marks: Iterable[Mark]) -> bool:
        """Whether no stroke of the marks crosses one that stands."""
        left, bottom, right, top = self._reaches.columns
        for one in self._ink(marks)[1]:
            (a, c), (b, d) = sorted(one[::2]), sorted(one[1::2])
            near = (right >= a) & (left <= c) & (top >= b) & (bottom <= d)
            if any(meet(one, (x1, y1, x2, y2)) for x1, y1, x2, y2 in self._straights.columns[:, near].T.tolist()):
                return False
        return True

    def block(self, box: Box) -> None:
        """Count a whole box as taken."""
        self._texts.add([box])

    def lead(self, leader: Path) -> None:
        """Count a line as a leader, which no other leader may cross."""
        self._leaders += facets(leader.nodes, closed=False)

    def leads(self, leader: Path) -> bool:
        """Whether a leader crosses no other one."""
        return not any(meet(one, other) for one in facets(leader.nodes, closed=False) for other in self._leaders)

    def point(self, leader: Path) -> None:
        """Count a straight leader as one that points with its end to a place."""
        self._pointing += facets(leader.nodes, closed=False)

    def points_apart(self, leader: Path, least: float) -> bool:
        """Whether a leader passes by the places that others point to, and they by its own, at least at this distance, model mm.

        Leaders may share one place.
        """
        return all(
            math.dist(own[2:], other[2:]) < SAME_PLACE
            or min(distance_of(own, (*other[2:], *other[2:])), distance_of(other, (*own[2:], *own[2:]))) >= least
            for own in facets(leader.nodes, closed=False)
            for other in self._pointing
        )

    def free(self, box: Box, *, clear: float | None = None, apart: float | None = None) -> bool:
        """Whether a box keeps clear of all ink (``clear`` in model mm); ``apart`` from texts, where that differs."""
        from_texts = self.apart if clear is None else clear
        return (
            self._contains(box)
            and not self._lettered(grown(box, from_texts if apart is None else apart))
            and not self._stroked(grown(box, self.clear if clear is None else clear))
        )

    def each_free(self, boxes: Iterable[Box]) -> Iterator[bool]:
        """Whether each of the boxes keeps clear of all ink, as :meth:`free` tells it; ink that is added meanwhile may not count yet."""
        several, count = iter(boxes), AT_FIRST
        while some := list(islice(several, count)):
            left, bottom, right, top = np.array(some).T[:, :, None]
            over = (self._texts.columns, self._reaches.columns)
            (x1, y1, x2, y2), air = over[0], self.apart
            lettered = ((x1 < right + air) & (x2 > left - air) & (y1 < top + air) & (y2 > bottom - air)).any(axis=1).tolist()
            (x1, y1, x2, y2), air = over[1], self.clear
            near = (x2 >= left - air) & (x1 <= right + air) & (y2 >= bottom - air) & (y1 <= top + air)
            stroked = near.any(axis=1).tolist()
            for number, box in enumerate(some):
                yield (
                    self._contains(box)
                    and not lettered[number]
                    and not (stroked[number] and self._runs_into(grown(box, self.clear), near[number]))
                )
            count = min(2 * count, AT_ONCE)

    def those_free(self, candidates: Iterable[T], box_of: Callable[[T], Box]) -> Iterator[tuple[T, Box]]:
        """The candidates whose box keeps clear of all ink, each with its box; looked at several together, as :meth:`each_free` does."""
        every, boxed = tee(candidates)
        boxes, asked = tee(map(box_of, boxed))
        for candidate, box, free in zip(every, boxes, self.each_free(asked), strict=True):
            if free:
                yield candidate, box

    def takes(self, marks: Iterable[Mark]) -> bool:
        """Whether the texts of the marks touch nothing that stands, and none of their lines runs through a text that stands."""
        marks = tuple(marks)
        return all(self.free(box_of_text(text, self.scale)) for text in texts_of(marks)) and self.clear_of_texts(marks)

    def first_free(self, candidates: Iterable[Text], *, fits: Callable[[Box], bool] | None = None) -> Text | None:
        """The first candidate that is free, and whose box ``fits`` where that is asked, now counted as taken; None where none is."""
        for text, box in self.those_free(candidates, lambda text: box_of_text(text, self.scale)):
            if fits is None or fits(box):
                self._texts.add([box])
                return text
        return None

    def _contains(self, box: Box) -> bool:
        """Whether a box stays within that which nothing may leave."""
        if self.within is None:
            return True
        left, bottom, right, top = self.within
        return box[0] >= left and box[1] >= bottom and box[2] <= right and box[3] <= top

    def _lettered(self, box: Box) -> bool:
        """Whether a text shares area with a box."""
        left, bottom, right, top = self._texts.columns
        return bool(((left < box[2]) & (right > box[0]) & (bottom < box[3]) & (top > box[1])).any())

    def _stroked(self, box: Box) -> bool:
        """Whether a stroke runs into a box."""
        left, bottom, right, top = self._reaches.columns
        near = (right >= box[0]) & (left <= box[2]) & (top >= box[1]) & (bottom <= box[3])
        return bool(near.any()) and self._runs_into(box, near)

    def _runs_into(self, box: Box, near: NDArray[np.bool_]) -> bool:
        """Whether one of the strokes that are near enters a box."""
        straights = self._straights.columns[:, near].T.tolist()
        if not self.halves:
            return any(crosses(box, (a, b, c, d)) for a, b, c, d in straights)
        wide = [self._half[number] for number in np.flatnonzero(near)]
        return any(crosses(grown(box, half), (a, b, c, d)) for (a, b, c, d), half in zip(straights, wide, strict=True))

    def _kept_clear(self, left: float, bottom: float, right: float, top: float) -> NDArray[np.float64]:
        """The boxes that strokes keep out of, where they reach into a rectangle: texts with their air, column by column."""
        air = self.clear
        boxes: NDArray[np.float64] = self._texts.columns + np.array(((-air,), (-air,), (air,), (air,)))
        return boxes[:, (boxes[0] <= right) & (boxes[2] >= left) & (boxes[1] <= top) & (boxes[3] >= bottom)]

    def _ink(self, marks: Iterable[Mark]) -> tuple[list[Box], list[Straight], list[float]]:
        """The boxes of the texts in the marks, their strokes and half the width of each; a mark is measured once, however often it is tried."""
        boxes: list[Box] = []
        straights: list[Straight] = []
        halves: list[float] = []
        known = self._known
        for mark in marks:
            number = id(mark)  # the mark is kept with its ink, so that no other takes its number
            if number not in known:
                lettered = [box_of_text(text, self.scale) for text in texts_of((mark,))]
                known[number] = mark, lettered, straights_of((mark,)), self.halves.get(mark.layer, 0.0)
            _, lettered, stroked, half = known[number]
            boxes += lettered
            straights += stroked
            halves += [half] * len(stroked)
        return boxes, straights, halves


def straights_of(marks: Iterable[Mark]) -> list[Straight]:
    """Every stroke and the outline of every fill in the marks, those of dimensions too, as straight lines."""
    found: list[Straight] = []
    for mark in marks:
        match mark:
            case Path(nodes=nodes, closed=closed):
                found += facets(nodes, closed=closed)
            case Fill(nodes=nodes):
                found += facets(nodes, closed=True)
            case Dimension(parts=parts):
                found += straights_of(parts)
            case _:
                pass
    return found


__all__ = ["CLEAR", "KeepClear", "Straight", "crosses", "distance_of", "facets", "meet", "straights_of"]
