"""The exploded view on the detail sheet itself, in the largest white room that it leaves; where none is large enough it has its own sheet.

Whether there is room is known once the sheet is composed, and every sheet of the pane tells of how many it is one: so the contents are
``settled`` before the first document is made.

Terms
-----
room
    A white rectangle of the finished sheet, paper mm.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from outputs.drawing.exploded_balloons import balloons
from outputs.drawing.exploded_view import LINES, TINTS
from outputs.drawing.exploded_ways import ways
from outputs.sheet.boxes import box_round, texts_of
from outputs.sheet.drafting import scale_designation
from outputs.sheet.entities import Sheet, Text
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.outcomes import Fate, ItemNumber
from outputs.sheet.pencil import Pencil
from outputs.sheet.refusal import SheetError
from outputs.sheet.tables import wrapped
from outputs.sheet.title_block import title_block
from outputs.sheet.white_space import area_of, taken_boxes, white_rectangles
from outputs.sheets.detail_places import Places
from outputs.sheets.detail_tables import part_rows
from outputs.sheets.exploded_fit import ACROSS, RISE, SCALES, fitted_view, holds_spacer, needed, piece_for
from outputs.sheets.exploded_sheet import notes_of
from outputs.sheets.pictures import SAYS_PITCH, Placed, title_marks
from outputs.sheets.title import detail_title

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.solids.bodies import Body
    from outputs.drawing.exploded_view import ExplodedView
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark
    from outputs.sheet.paper import Paper
    from outputs.sheets.contents import Contents

NAME = "EXPLODED VIEW"
LEAST = (80.0, 65.0)
"""Paper mm of A4 to A2, width and height of a room in which the view reads with its title, balloons and arrows."""
LEAST_SIDE = 20.0
"""Paper mm of A4 to A2 that a piece is long to both sides of its corner: on a smaller one balloons hide the order of the parts (by eye)."""
LEAST_BEAD = 2.4
"""Paper mm of A4 to A2 that the bead is wide: one of 12 by 5 mm at 1:5. Any smaller its faces run into one stroke (by eye, no source)."""
LIFTED, LEAST_LIFTED = 2.2, 1.6  # of the side of a piece, how far it is to come apart, and least: else the pane hides bead and spacers
WIDE_FROM = 0.5  # scale from which outlines are wide: on a smaller picture they would run together
LARGEST = 2.2  # of the least side of a piece, up to which one is shown
SIDES, OVER, UNDER = 7.0, 13.0, 6.0  # paper mm beside, over and under the parts for balloons and title
BESIDE = 50.0  # paper mm more that a room may be wide, and half as much high, for notes and arrows
NOTES = 92.0  # paper mm, most width of the notes
ROOMS = 3  # that are tried at each scale, the largest scale first
SHARES = (1.0, 1.2, 1.4, 0.85, 0.7)
"""Of the side that a room suggests: a larger piece may hold a spacer, a smaller one comes apart farther."""
APART_IN_MODEL = 100.0
ELSEWHERE = "stands off the piece that is shown: see the plan"


def settled(contents: Contents) -> Contents:
    """The contents with it found out whether the exploded view stands on the detail sheet; as they are where that sheet cannot be drawn:
    whoever draws it says so.
    """
    from outputs.sheets.detail_sheet import detail_of

    tried = replace(contents, inset=True)
    try:
        sheet = detail_of(tried)
    except SheetError:
        return contents
    return replace(tried, detail_sheet=sheet) if any(view.name == NAME for view in sheet.views) else contents


def with_exploded_view(sheet: Sheet, contents: Contents, paper: Paper) -> Sheet:
    """A composed detail sheet with the exploded view in its white room and its scale in the title block; as it is where there is no room.

    Raises ``SheetError`` where a body cannot be made.
    """
    from geometry.solids.kernel import SolidError

    try:
        placed = _Inset(contents, Places.of(paper)).in_white_room(sheet)
    except SolidError as error:
        raise SheetError(f"the exploded view cannot be drawn: {error}") from error
    if placed is None:
        return sheet
    scales = [scale_designation(view.scale) for view in sheet.views]
    titles = [
        title_block(paper, detail_title(contents, each, paper)) for each in (scales, [*scales, scale_designation(placed.scale)])
    ]
    told = {old: new for old, new in zip(*titles, strict=True) if isinstance(old, Text) and old != new}
    return replace(
        sheet,
        layers=(*TINTS, *sheet.layers, *LINES),
        views=(*sheet.views, placed.in_model(max(view.window[2] for view in sheet.views) + APART_IN_MODEL)),
        marks=tuple(told.get(mark, mark) if isinstance(mark, Text) else mark for mark in sheet.marks),
        outcomes=(*sheet.outcomes, *((NAME, outcome) for outcome in placed.outcomes)),
    )


class _Inset:
    """The view for the rooms of one sheet."""

    def __init__(self, contents: Contents, places: Places) -> None:
        self.contents, self.detail = contents, contents.detail
        self.style, self.times = places.style, places.times
        self._space = places.paper.space

    def in_white_room(self, sheet: Sheet) -> Placed | None:
        """The view in the room in which it is largest; None where none holds it."""
        least = (LEAST[0] * self.times, LEAST[1] * self.times)
        rooms = white_rectangles(taken_boxes(sheet), self._space, least=least)
        found = [(scale, side, room) for room in rooms for scale, side in self._fits(room)]
        if not found:
            return None
        from geometry.solids.bodies import bodies_of

        bodies = bodies_of(self.detail)
        for scale in SCALES:
            own = sorted((-side, -area_of(room), room) for each, side, room in found if each == scale)
            for side, _, room in own[:ROOMS]:
                placed = self._placed(bodies, scale, -side, room)
                if placed is not None:
                    return placed
        return None

    def _inner(self, room: Box) -> tuple[float, float]:
        """Width and height for the parts themselves."""
        times = self.times
        return room[2] - room[0] - 2 * SIDES * times, room[3] - room[1] - (OVER + UNDER) * times

    def _least(self, scale: float) -> float:
        """The least side of a piece, paper mm."""
        return max(needed(self.detail) * scale, LEAST_SIDE * self.times)

    def _fits(self, room: Box) -> Iterator[tuple[float, float]]:
        """The scales at which a piece fits a room, the largest first, and its largest side at each, paper mm.

        A piece is as high as it is wide: one of side s that comes apart by twice s is three times s long along the slope.
        """
        wide, high = self._inner(room)
        wanted, most = (
            min(wide / ACROSS / (1.0 + lifted), high / (1.0 + RISE * (1.0 + lifted))) for lifted in (LIFTED, LEAST_LIFTED)
        )
        bead = self.detail.sizes.bond_width.value
        for scale in SCALES:
            least = self._least(scale)
            if bead * scale >= LEAST_BEAD * self.times and most >= least:
                yield scale, max(least, min(wanted, LARGEST * least))

    def _placed(self, bodies: Sequence[Body], scale: float, side: float, room: Box) -> Placed | None:
        """The view with title, notes, balloons and arrows; None where one of them finds no place."""
        least = self._least(scale)
        for own in dict.fromkeys(max(least, share * side) for share in SHARES):
            piece = piece_for(self.detail, own, scale)
            if not holds_spacer(self.detail, piece):
                continue
            large = scale >= WIDE_FROM
            view, apart = fitted_view(self.detail, bodies, piece, scale, self._inner(room), side=own, large=large)
            if apart and (piece is None or view.reach >= LEAST_LIFTED * own):
                for notes in self._notes(view, room):
                    placed = self._dressed(view, room, notes)
                    if placed is not None:
                        return placed
        return None

    def _cut(self, room: Box, wide: float, tall: float) -> Box:
        """The middle of a room that is much larger than the picture needs: title and arrows keep by it."""
        left, low, right, high = room
        aside = max(0.0, right - left - wide - (2 * SIDES + BESIDE) * self.times) / 2
        over = max(0.0, high - low - tall - (OVER + UNDER + BESIDE / 2) * self.times) / 2
        return left + aside, low + over, right - aside, high - over

    def _notes(self, view: ExplodedView, room: Box) -> Iterator[list[str]]:
        """What is told under the title, the most first."""
        full = notes_of(view.parts, piece=view.piece is not None, others="on the plan")
        short = "Sizes along the axes are to scale, gaps are not."
        for told in (full, [short, full[1]], [short]):
            yield [
                part
                for each in told
                for part in wrapped(each, min(NOTES * self.times, 0.62 * (room[2] - room[0])), self.style.text)
            ]

    def _dressed(self, view: ExplodedView, room: Box, notes: Sequence[str]) -> Placed | None:
        """The view at the foot of its room, clear of its title; None where title, a balloon or the arrows find no place."""
        from shapely import box

        k, times, pencil = view.scale, self.times, Pencil(self.style, view.scale)
        marks: list[Mark] = list(view.marks())
        extent = box_round(marks, k)
        wide, tall = (extent[2] - extent[0]) * k, (extent[3] - extent[1]) * k
        left, low, right, high = room = self._cut(room, wide, tall)
        spare = high - low - tall - (OVER + UNDER) * times
        x = left + SIDES * times + max(0.0, right - left - wide - 2 * SIDES * times) * 0.6
        y = low + UNDER * times + max(0.0, spare) / 3
        home = (x - extent[0] * k, y - extent[1] * k)
        base = (left, high - self.style.label - 0.5)
        told = title_marks(NAME, k, "isometric", base, home, self.style)
        for index, each in enumerate(notes):
            at = (base[0], base[1] - 6.0 * times - SAYS_PITCH * times * index)
            told.append(pencil.text("TEXT", ((at[0] - home[0]) / k, (at[1] - home[1]) / k), each))
        within = tuple((edge - at) / k for edge, at in zip(room, (*home, *home), strict=True))
        keep = KeepClear(scale=k, clear=self.style.off_lines, apart=self.style.clear, within=within)  # type: ignore[arg-type]
        keep.add(marks)
        parts = [shape for shape in view.silhouettes if not shape.is_empty]
        for text in texts_of(told):
            taken = box_round([text], k)
            if not keep.free(taken) or any(shape.intersects(box(*taken)) for shape in parts):
                return None
        keep.add(told)
        marks += told
        listed = [number for number, quantity, *_ in part_rows(self.detail, self.contents.check) if quantity != "0"]
        shown = {part.item for part in view.parts}
        marks += balloons(view, shown, pencil, keep)
        marks += ways(view, pencil, keep)
        if any(outcome.fate is not Fate.DRAWN for outcome in keep.outcomes):
            return None
        for item in listed:
            if item not in shown:
                keep.tabled(ItemNumber(item), ELSEWHERE)
        keep.drawn(NAME.lower())
        return Placed(NAME, k, home, tuple(marks), tuple(keep.outcomes))


__all__ = ["LEAST", "NAME", "settled", "with_exploded_view"]
