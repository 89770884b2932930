"""The sizes of a section square to the landing: from the landing, and from the outer faces of glass and frame.

Terms
-----
column
    One level of these dimensions; the first stands nearest to the section.
level
    A height at which an extension line runs out through the columns; a figure keeps clear of it.
stand
    Where the figure of a dimension may be: a place on or beyond its line, and at which end.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING, Literal

from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import number, toleranced
from outputs.sheet.entities import Dimension, Mark, Path, Text
from outputs.sheet.keep_clear import CLEAR, KeepClear
from outputs.sheet.pencil import towards

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail, Section
    from outputs.sheet.pencil import Pencil

Side = Literal["first", "second"]
FigurePlace = tuple[float, float]  # of a dimension's figure: share of the line where it stands, or paper mm beyond its end
Stand = tuple[FigurePlace, Side]

LEFT_OF_FRAME, RIGHT_OF_GLASS = 5.0, 7.0  # paper mm from the break line to the first column
COLUMNS = 9
TRIES = 8  # orders of the heights
# A share of 0 puts it beyond the end even where it would fit between.
PLACES: tuple[FigurePlace, ...] = (
    (0.5, 1.0),
    (0.25, 1.0),
    (0.75, 1.0),
    (0.0, 1.0),
    (0.0, 4.0),
    (0.0, 8.0),
    (0.0, 12.0),
    (0.0, 18.0),
)
ALIKE = 1e-6  # mm: two sizes are the same, or one is nothing


@dataclass(frozen=True, slots=True)
class Height:
    """One size square to the landing: from and to (z), where its extension lines begin (x), its tolerance and a word beside it."""

    low: float
    high: float
    start_low: float
    start_high: float
    tolerance: float | None = None
    word: str = ""


def heights_on_left(section: Section, detail: Detail) -> tuple[Height, ...]:
    """From the outer face down and from the landing up: backfill, chock and its bearing, recess depth, proud or sunk."""
    levels, profile, sizes = section.levels, section.profile, detail.sizes
    joint = section.crossing.glass_edge
    found: list[Height] = []
    if any(face.material == "sealant" for face in section.faces):
        wall = profile.wall_at(levels.backfill)
        if levels.chock is not None:
            found.append(Height(levels.chock, levels.glass_face, wall, joint))
            if levels.chock - levels.bond_face > ALIKE:
                found.append(Height(levels.bond_face, levels.chock, joint, wall))
        elif levels.glass_face < levels.skin:
            found.append(Height(levels.backfill, levels.glass_face, wall, joint))
        else:
            found.append(Height(levels.backfill, levels.skin, wall, profile.wall_at(levels.skin)))
        if levels.backfill > ALIKE:
            found.append(Height(0.0, levels.backfill, profile.tangent_length, wall))
    found.append(Height(0.0, levels.skin, profile.tangent_length, profile.wall_at(levels.skin), sizes.recess_depth.tolerance))
    if abs(levels.glass_face - levels.skin) > ALIKE:
        low, high = sorted((levels.glass_face, levels.skin))
        proud = levels.glass_face > levels.skin
        starts = (profile.wall_at(levels.skin), joint)
        found.append(Height(low, high, *(starts if proud else starts[::-1]), None, "proud" if proud else "sunk"))
    return tuple(found)


def heights_on_right(section: Section, detail: Detail) -> tuple[Height, ...]:
    """Bond and glass thickness, and both together from the landing where that is not the recess depth, which stands at the left."""
    levels, sizes = section.levels, detail.sizes
    landing, end = section.crossing.landing, max(x for face in section.faces for x, _, _ in face.nodes)
    found = [
        Height(0.0, levels.bond_face, landing, end, sizes.bond_thickness.tolerance),
        Height(levels.bond_face, levels.glass_face, end, end),
    ]
    if abs(levels.glass_face - levels.skin) > ALIKE:
        found.append(Height(0.0, levels.glass_face, landing, end))
    return tuple(found)


def columns_needed(heights: Sequence[Height]) -> int:
    """How many columns the heights take at least: as many as lie beside one another at some level."""
    return max(sum(1 for other in heights if other.low <= height.low + ALIKE < other.high) for height in heights)


def columns(heights: tuple[Height, ...], pencil: Pencil, room: KeepClear, *, first: float, sign: float) -> list[Mark]:
    """Every height in the first column that has room for it, outwards from ``first`` (x); ``sign`` -1 to the left, +1 to the right.

    A figure keeps clear of the levels of all the others, whose extension lines run past it; those that cannot stand outermost. Where some
    still find no room because of those before them, they go first in another try.
    """
    stands = {height: _Stands(height, heights, pencil) for height in heights}
    order = sorted(heights, key=lambda height: not stands[height].best_is_clear)  # those clear where they stand best go first
    best: tuple[list[Height], list[Mark]] | None = None
    for _ in range(TRIES):
        failed, marks = _in_order(order, stands, pencil, room.copy(), first=first, sign=sign)
        if best is None or len(failed) < len(best[0]):
            best = failed, marks
        if not failed:
            break
        order = [*failed, *(height for height in order if height not in failed)]
    failed, found = best if best else ([], [])
    room.add(found)
    for height in heights:
        what = f"height {number(height.high - height.low)}"
        if height in failed:
            room.tabled(what, "no column beside the section is free")
        else:
            room.drawn(what)
    return found


class _Stands:
    """Where the figure of one height may stand, the best first: those that clear all levels go before the rest.

    Where even the best does not, the order is that of the places. Whatever does not depend on the column is worked out once.
    """

    def __init__(self, height: Height, heights: Sequence[Height], pencil: Pencil) -> None:
        self.height, self.pencil = height, pencil
        self._levels = {z for other in heights for z in (other.low, other.high)}
        self._all: list[Stand] = list(product(PLACES, _sides(height, heights)))
        self._printed = toleranced(height.high - height.low, height.tolerance)
        across, along = towards(90.0)
        self._ends = height.start_low * across + height.low * along, height.start_high * across + height.high * along
        self._known: dict[Stand, tuple[bool, tuple[float, float]]] = {}
        self.best_is_clear = not self._over(self._all[0])

    def __iter__(self) -> Iterator[Stand]:
        if not self.best_is_clear:
            yield from self._all
            return
        yield from (stand for stand in self._all if not self._over(stand))
        yield from (stand for stand in self._all if self._over(stand))

    def run_of(self, stand: Stand) -> tuple[float, float]:
        """From where to where (z) the dimension takes its column with its figure there."""
        return self._told(stand)[1]

    def _over(self, stand: Stand) -> bool:
        """Whether a figure there lies over a level."""
        return self._told(stand)[0]

    def _told(self, stand: Stand) -> tuple[bool, tuple[float, float]]:
        if stand not in self._known:
            place, side = stand
            height, pencil = self.height, self.pencil
            low, high, middle = pencil.line_and_figure(
                *self._ends, self._printed, outside=side, text_share=place[0], text_beyond=place[1]
            )
            across, along = towards(90.0)  # cosine of a right angle as the dimension itself has it: a hair beside nothing
            gap = pencil.style.text_gap / pencil.scale
            at = middle * across - gap * along, middle * along + gap * across
            figure = Text("DIMENSIONS", *at, self._printed, pencil.style.text, "middle", 90.0)
            lettered = [box_of_text(figure, pencil.scale)]
            reach = min(low, high, lettered[0][1]), max(low, high, lettered[0][3])
            if height.word:
                lettered.append(box_of_text(_word_beside(height, pencil, figure.x, reach, side), pencil.scale))
                reach = min(reach[0], lettered[1][1]), max(reach[1], lettered[1][3])
            clear = pencil.paper(CLEAR)
            over = [1 for box in lettered for level in self._levels if box[1] - clear < level < box[3] + clear]
            self._known[stand] = bool(over), reach
        return self._known[stand]


def _in_order(
    heights: list[Height],
    stands: dict[Height, _Stands],
    pencil: Pencil,
    room: KeepClear,
    *,
    first: float,
    sign: float,
) -> tuple[list[Height], list[Mark]]:
    """Those of the heights that found no room, and the others placed one after the other."""
    taken: list[list[tuple[Height, float, float]]] = [[] for _ in range(COLUMNS)]
    at = [first + sign * pencil.paper(index * pencil.style.row) for index in range(COLUMNS)]
    found: list[Mark] = []
    failed: list[Height] = []
    for height in heights:
        for index in range(COLUMNS):
            marks = _first_that_fits(stands[height], at[index], taken[index], room)
            if marks:
                break
        else:
            failed.append(height)
            continue
        taken[index].append((height, *_run_of(marks, at[index], pencil.scale)))
        room.add(marks)
        found += marks
    return failed, found


def _first_that_fits(stands: _Stands, at: float, taken: list[tuple[Height, float, float]], room: KeepClear) -> tuple[Mark, ...]:
    """One height in one column with the first of its figure's places that touches nothing; empty where none does."""
    height, pencil = stands.height, stands.pencil
    for stand in stands:
        if not _column_free(height, stands.run_of(stand), taken, pencil):
            continue
        marks = _height_marks(height, pencil, at, stand[1], stand[0])
        if room.takes(marks):
            return marks
    return ()


def _sides(height: Height, heights: Sequence[Height]) -> tuple[Side, ...]:
    """Beyond which end a figure may stand that finds no room between: upwards for what lies on top, else downwards first."""
    if height.word or height.high >= max(other.high for other in heights) - ALIKE:
        return ("second", "first")
    return ("first", "second")


def _height_marks(height: Height, pencil: Pencil, at: float, outside: Side, place: FigurePlace = PLACES[0]) -> tuple[Mark, ...]:
    dimension = pencil.linear(
        (height.start_low, height.low),
        (height.start_high, height.high),
        line_at=at,
        angle=90.0,
        tolerance=height.tolerance,
        outside=outside,
        text_share=place[0],
        text_beyond=place[1],
    )
    if not height.word:
        return (dimension,)
    figure = next(part for part in dimension.parts if isinstance(part, Text))
    return dimension, _word_beside(height, pencil, figure.x, _run_of((dimension,), at, pencil.scale), outside)


def _word_beside(height: Height, pencil: Pencil, x: float, reach: tuple[float, float], outside: Side) -> Text:
    """The word of a height, in line with its figure, beyond one end of what its dimension takes (z)."""
    gap = pencil.paper(1.0)
    if outside == "second":
        return pencil.text("TEXT", (x, reach[1] + gap), height.word, rotation=90.0)
    return pencil.text("TEXT", (x, reach[0] - gap), height.word, rotation=90.0, align="right")


def _run_of(marks: tuple[Mark, ...], at: float, scale: float) -> tuple[float, float]:
    """From where to where a dimension takes its column: its line with its tails, and its texts."""
    zs: list[float] = []
    for mark in marks:
        for part in mark.parts if isinstance(mark, Dimension) else (mark,):
            if isinstance(part, Text):
                box = box_of_text(part, scale)
                zs += [box[1], box[3]]
            elif isinstance(part, Path) and all(abs(x - at) < 1e-9 for x, _, _ in part.nodes):
                zs += [z for _, z, _ in part.nodes]
    return min(zs), max(zs)


def _column_free(height: Height, reach: tuple[float, float], taken: list[tuple[Height, float, float]], pencil: Pencil) -> bool:
    """Whether a dimension may share a column: it keeps apart from the others, or meets one end to end and its tail lies on that one's line."""
    long = pencil.paper(2 * pencil.style.arrow + 1.0)
    for other, low, high in taken:
        if reach[0] >= high + pencil.paper(1.0) - ALIKE or reach[1] <= low - pencil.paper(1.0) + ALIKE:
            continue
        if height.high > other.low + ALIKE and other.high > height.low + ALIKE:
            return False
        meet = abs(height.high - other.low) < ALIKE or abs(other.high - height.low) < ALIKE
        if not meet:
            return False
        short = min(height.high - height.low, other.high - other.low) < long
        if short and max(height.high - height.low, other.high - other.low) < long:
            return False
    return True


__all__ = ["LEFT_OF_FRAME", "RIGHT_OF_GLASS", "Height", "columns", "columns_needed", "heights_on_left", "heights_on_right"]
