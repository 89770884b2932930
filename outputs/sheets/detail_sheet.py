"""The detail sheet of one pane: plan, enlarged corner and sections in fixed boxes, flags, parts, notes and title block beside them.

The smallest paper is taken on which the plan reads and everything finds its place. On A3 a plan shorter than 150 mm is taken as long as
its scale still shows the edges of the bead; below that the pane goes to A2.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from outputs.drawing.corner_view import glass_and_recess
from outputs.drawing.plan_basis import plan_basis
from outputs.drawing.plan_outlines import blocks_of
from outputs.drawing.plan_rows import is_rectangular
from outputs.drawing.plan_sizes import surveyed
from outputs.sheet.boxes import box_round, joined, overlap
from outputs.sheet.drafting import number, scale_designation
from outputs.sheet.entities import Sheet, Text, View
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.moving import shifted
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheet.paper import Paper, frame_marks, margin_bar
from outputs.sheet.refusal import SheetError
from outputs.sheet.title_block import title_block
from outputs.sheets import words
from outputs.sheets.detail_blocks import blocks_table, untold_words
from outputs.sheets.detail_choice import shown_of
from outputs.sheets.detail_head import Head, HeadViews
from outputs.sheets.detail_lines import line_key
from outputs.sheets.detail_places import Places
from outputs.sheets.detail_spread import APART, ENOUGH, Piece, spread, widest_room
from outputs.sheets.detail_stations import stations_table, stations_words
from outputs.sheets.detail_strip import Strip
from outputs.sheets.detail_tables import (
    MOST_FLAGS,
    NotesPart,
    corners_table,
    flags_table,
    listed_flags,
    notes_marks,
    parted_notes,
    parts_table,
    revisions_table,
    rows_for_flags,
)
from outputs.sheets.title import detail_title

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.findings.state import Flag
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_choice import Shown
    from outputs.sheets.pictures import Placed

SHEETS = ("A3", "A2", "A1", "A0")
PLAN_SCALES = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
LARGE = 150.0  # paper mm, longer side of a plan that reads easily
EDGES_SHOW = 0.2  # scale from which a smaller plan reads all the same: the edges of the bead are drawn
LEAST_FLAGS = 4  # rows of flags that stand on the smaller paper before a larger one is taken
LONG_PANE = 3000.0  # mm, of a pane that wants A1
EMPTY_COLUMN = 46.0  # paper mm between flags and parts that notes may fill
BLOCKS_HELD = 24.0  # paper mm that a table of blocks takes under that of the corners
APART_IN_MODEL = 100.0  # mm between views in the model
KEY_ROWS = (6, 1, 2, 3)  # lines in a row of the key where it stands elsewhere than in the column
ROUND_KEY = 6.0  # paper mm round it there
TOO_EMPTY = 0.0495  # of the drawing space, the largest empty rectangle with which it stays in the column
LESS = 0.001  # of the drawing space, by how much less must stay empty then
NO_LINE = "no line free between flags and parts: see the record"
SHEET_NUMBER = 1
ELSEWHERE = (" at a change ", "row of ", "distance of ", "joint on ")  # what stands in a list or a table of the sheet instead


def detail_of(contents: Contents) -> Sheet:
    """The finished sheet of contents. Raises ``SheetError`` where no paper holds it."""
    for paper in _papers(contents):
        composed = _Composed(contents, paper)
        sheet = composed.sheet()
        if sheet is None and 0 < composed.short <= MOST_FLAGS - LEAST_FLAGS:
            sheet = _Composed(contents, paper, spared=composed.short).sheet()
        if sheet is not None and contents.inset:
            from outputs.sheets.exploded_inset import with_exploded_view

            sheet = with_exploded_view(sheet, contents, paper)
        if sheet is not None:
            return with_layer_names(sheet, dict(contents.job.layers))
    raise SheetError(_refusal(contents))


def _papers(contents: Contents) -> Iterator[Paper]:
    """The one that the office asks for, or those on which the plan reads, the smallest first."""
    wanted = contents.job.sheet.size
    box = bounding_box(contents.detail.curves.glass)
    long = max(box.width, box.height) > LONG_PANE
    for size in SHEETS:
        if wanted in SHEETS:
            if size == wanted:
                yield Paper(size, number=SHEET_NUMBER, of=contents.sheets)
        elif not (long and size in ("A3", "A2")):
            yield Paper(size, number=SHEET_NUMBER, of=contents.sheets)


def _refusal(contents: Contents) -> str:
    wanted = contents.job.sheet.size
    asked = wanted in SHEETS
    allowed = "a larger sheet.size, or none" if asked else "fewer blocks, or sizes of section and bead that the trade makes"
    sizes = wanted if asked else ", ".join(SHEETS)
    return f"the drawing of pane {contents.detail.code} does not fit on a sheet {sizes}; allowed: {allowed}"


class _Composed:
    """One try on one paper; ``spared`` rows of flags are left to the notes."""

    def __init__(self, contents: Contents, paper: Paper, spared: int = 0) -> None:
        self.contents, self.paper, self.detail = contents, paper, contents.detail
        self.places = Places.of(paper)
        self.style = self.places.style
        state = contents.state
        self.notes = self._notes(self.places.notes)
        self.short = 0  # rows of flags that give way where the notes find no room
        self.most = max(1, rows_for_flags(contents, self.places, self.notes.height(self.style)) - spared)
        self.flags: tuple[Flag, ...] = () if state is None else listed_flags(state, self.most)
        self.shown: Shown = shown_of(self.detail, self.flags)
        self.head = Head(contents, self.places, self.shown, self.flags)
        self.strip = Strip(self.detail, self.places, self.shown, self.flags)

    def sheet(self) -> Sheet | None:
        """The sheet, or None where this paper does not hold it or the plan would be too small to read."""
        for scale in PLAN_SCALES:
            if not self._reads(scale) and not self._last():
                return None
            if not self._may_fit(scale):
                continue
            basis = plan_basis(self.detail, scale)
            cut = self.strip.views(scale, basis)
            head = self.head.views(scale, cut, basis)
            if head is not None and self._stand_apart(views := [head.plan, *head.corners, *cut.views]):
                return self._finished(head, views)
        return None

    def _last(self) -> bool:
        return self.paper.size == "A0" or self.contents.job.sheet.size in SHEETS

    def _reads(self, scale: float) -> bool:
        box = bounding_box(self.detail.curves.glass)
        return scale >= EDGES_SHOW or max(box.width, box.height) * scale >= LARGE

    def _may_fit(self, scale: float) -> bool:
        """Whether the recess with the least that stands round it fits the box of the plan."""
        box = bounding_box(self.detail.curves.recess)
        left, bottom, right, _ = self.places.plan
        top = self.places.plan_title[1]
        return box.width * scale + 12.0 <= right - left and box.height * scale + 10.0 <= top - bottom

    def _stand_apart(self, views: Sequence[Placed]) -> bool:
        """Whether all views lie within the frame and none on another."""
        boxes = [view.box for view in views]
        left, bottom, right, top = self.paper.space
        inside = all(b[0] > left and b[1] > bottom and b[2] < right and b[3] < top for b in boxes)
        return inside and not any(overlap(one, other) for i, one in enumerate(boxes) for other in boxes[i + 1 :])

    def _finished(self, head: HeadViews, views: Sequence[Placed]) -> Sheet | None:
        """The sheet with all that stands on paper; None where the notes find no room."""
        contents, places = self.contents, self.places
        scales = tuple(scale_designation(view.scale) for view in views)
        block = title_block(self.paper, detail_title(contents, scales, self.paper))
        flags, under_flags = flags_table(contents.state, places, self.most)
        parts, over_parts = parts_table(self.detail, places, contents.check)
        revisions, over = revisions_table(contents, places, over_parts)
        under = places.under_plan(head.plan.box[1])
        beside, tabled, stationed, foot = self._beside(head, lower=under is not None)
        must = [*head.told, *([] if tabled else untold_words(self.detail, head.untold))]
        must += [] if stationed else stations_words(contents)
        more, room = self._more(views), (over + 1.0, under_flags)
        cornered = bool(beside) and not surveyed(self.detail)
        apart = places.roomy or room[1] - room[0] > EMPTY_COLUMN
        parted = self._notes(under or places.notes_under(foot), apart=apart) if under or head.beside else self.notes
        notes, following, lost, all_stand = notes_marks(parted, must, more, places, room, tabled=cornered)
        if not all_stand and must and self._last():  # no larger paper: what has room
            notes, following, lost, all_stand = notes_marks(parted, (), [*must, *more], places, room, tabled=cornered)
        if not all_stand:
            self.short = len(must) + 1
            return None
        tables = [each for each in (block, flags, parts, revisions) if each]
        plan, moving = self._spread(head, views, tables, [beside, notes, following], room)
        views = [plan, *views[1:]]
        marks = [*frame_marks(self.paper), *margin_bar(self.paper, self.style), *(mark for each in (*tables, *moving) for mark in each)]
        title, description = self._describes()
        return Sheet(
            size=self.paper.size,
            width=self.paper.width,
            height=self.paper.height,
            title=title,
            description=description,
            layers=LAYERS,
            blocks=blocks_of(self.detail),
            views=tuple(_in_model(views)),
            marks=tuple(marks),
            outcomes=(
                *((view.name, outcome) for view in views for outcome in view.outcomes),
                *(("NOTES", Outcome(f"note: {each}", Fate.LEFT_OUT, NO_LINE)) for each in lost),
                *self._elsewhere(),
            ),
        )

    def _spread(
        self,
        head: HeadViews,
        views: Sequence[Placed],
        tables: Sequence[Sequence[Mark]],
        movable: Sequence[Sequence[Mark]],
        column: tuple[float, float],
    ) -> tuple[Placed, list[Sequence[Mark]]]:
        """The plan and what else is ``movable``, so that no large rectangle stays empty, and the key of the lines, which goes under the plan
        where that helps; ``column``: lower and upper end of the room between flags and parts.
        """
        places = self.places
        own, still = head.plan.boxes()
        fixed = [*still, *(box_round(each, 1.0) for each in tables)]
        fixed += [box for view in views[1:] for boxes in view.boxes() for box in boxes]
        fixed = [box for box in fixed if not any(other != box and joined((other, box)) == other for other in fixed)]
        left, bottom, _, top = places.plan
        right = places.window(1)[0] - 8.0 if head.beside else places.plan[2]
        sign = joined(box for box, mark in zip(still, head.plan.parted[1], strict=True) if not isinstance(mark, Text))
        pieces = [Piece(own, (left, bottom + APART, right, top), aside=True, tied=sign, window=joined(still))]
        moving = [each for each in movable if each]
        for each in moving:
            box = box_round(each, 1.0)
            low, high = column if each is movable[-1] else (places.notes[1], top)
            if each is movable[0] or (each is movable[1] and box[1] > places.strip):
                low = places.strip + 3.0
            boxes = (box,) if each is movable[0] else tuple(box_round([mark], 1.0) for mark in each)  # lines of notes end here and there
            pieces.append(Piece(boxes, (left, low, places.column[1], high)))
        if self.contents.inset:  # what is empty is kept together for the exploded view
            return head.plan, [line_key(places, views, squeezed=self.head.squeeze > 0.0), *moving]
        key, found = self._with_key(head.plan, views, fixed, pieces)
        plan = head.plan.moved(*found[0])
        moved = [[shifted(mark, *by) for mark in each] for each, by in zip(moving, found[1:], strict=True)]
        return plan, [key, *moved]

    def _with_key(
        self, plan: Placed, views: Sequence[Placed], fixed: Sequence[Box], pieces: Sequence[Piece]
    ) -> tuple[list[Mark], list[Place]]:
        """The key of the lines and how far the pieces move: it stands in the column, or where so much stays empty in the midst of that."""
        space, squeezed = self.paper.space, self.head.squeeze > 0.0
        key = line_key(self.places, views, squeezed=squeezed)
        own = box_round(key, 1.0)
        best, share = spread(space, [*fixed, own], pieces)
        at = [replace(piece, boxes=piece.at(where)) for piece, where in zip(pieces, best, strict=True)]
        tries: list[tuple[float, list[Mark], list[Place]]] = [(share - LESS, key, best)]
        for in_rows_of in KEY_ROWS if share > TOO_EMPTY else ():
            other = line_key(self.places, views, squeezed=squeezed, in_rows_of=in_rows_of)
            a, b, c, d = box_round(other, 1.0)
            room = widest_room(space, [*fixed, plan.moved(*best[0]).box], at, (c - a + 2 * ROUND_KEY, d - b + 2 * ROUND_KEY))
            if room is None:
                continue
            dx, dy = (room[0] + room[2] - a - c) / 2, (room[1] + room[3] - b - d) / 2
            there = [*fixed, (a + dx, b + dy, c + dx, d + dy)]
            more, left_over = spread(space, there, at, most=ENOUGH)
            moves = [(x + u, y + v) for (x, y), (u, v) in zip(best, more, strict=True)]
            tries.append((left_over, [shifted(mark, dx, dy) for mark in other], moves))
        _, key, best = min(tries, key=lambda each: each[0])
        return key, best

    def _elsewhere(self) -> Iterator[tuple[str, Outcome]]:
        """What was asked for and has its own sheet: where this one leaves it no room, an exploded view would be too small to tell."""
        if self.contents.job.sheet.exploded and not self.contents.inset:
            of = self.contents.sheets
            yield "EXPLODED VIEW", Outcome("exploded view", Fate.LEFT_OUT, f"on a sheet of its own: {of} of {of}")

    def _more(self, views: Sequence[Placed]) -> list[str]:
        """What more is told where there is room."""
        lost = [
            outcome.what
            for view in views
            for outcome in view.outcomes
            if outcome.fate is not Fate.DRAWN and not any(each in outcome.what for each in ELSEWHERE)
        ]
        more = [f"No room on the views for {', '.join(lost)}: see card and record."] if lost else []
        if self.contents.job.sheet.exploded and not self.contents.inset:
            more.insert(0, f"Exploded view: sheet {self.contents.sheets} of {self.contents.sheets}.")
        return more + list(words.governing_note(self.contents.job.vessel.hull_length))

    def _beside(self, head: HeadViews, *, lower: bool) -> tuple[list[Mark], bool, bool, float]:
        """The corners of a pane that is no rectangle, under the place of the second enlarged one, the blocks under them, and the stations of a
        surveyed recess. Then whether blocks and stations stand there, and where what stands there ends.
        """
        places = self.places
        if not head.beside:
            return [], False, False, places.window(1)[1]
        marks, tabled, foot = self._corners(head, lower=lower)
        low = places.strip + (3.0 if lower else 50.0) * places.times
        top = foot - 2.0 * places.times if marks else places.under_second[1]
        stations = stations_table(self.contents, places, (places.under_second[0], low, places.column[0] - 3.0, top))
        if stations:
            foot = min(foot, box_round(stations, 1.0)[1])
        return [*marks, *(stations or ())], tabled, stations is not None, foot

    def _corners(self, head: HeadViews, *, lower: bool) -> tuple[list[Mark], bool, float]:
        """The corners and the blocks under them, ``lower`` where the notes are elsewhere; whether the blocks found room, and where they end."""
        places, detail = self.places, self.detail
        if is_rectangular(detail) or not detail.corners:
            return [], False, places.window(1)[1]
        radii = [glass_and_recess(detail, corner) for corner in detail.corners]
        held = self.notes_beside + (BLOCKS_HELD * places.times if head.untold else 0.0)
        spare = 0.0 if surveyed(detail) else places.under_second[1] - places.strip - held  # the stations stand under them
        marks, foot = corners_table(detail, places, radii, lower=lower, spare=spare)
        left, right = places.under_second[0], places.column[0] - 3.0
        under: Box = (left, places.strip + 50.0 * places.times, right, foot - 4.0 * places.times)
        blocks = blocks_table(detail, head.untold, places, under)
        if blocks is not None:
            foot = min(box_round([mark], 1.0)[1] for mark in blocks if not isinstance(mark, Text))
        return [*marks, *(blocks or ())], blocks is not None, foot

    @property
    def notes_beside(self) -> float:
        """What notes and cautions need in a box beside the plan, paper mm."""
        left, bottom, right, top = self.places.notes_under(self.places.under_second[1])
        lines = self._notes((left, bottom, right, top), apart=True).first
        return 2 * self.style.label + 0.8 + self.style.line_pitch * len(lines)

    def _notes(self, box: Box, *, apart: bool = False) -> NotesPart:
        contents = self.contents
        approval = contents.pane.approval_reference or contents.job.sheet.approval_reference or "______"
        return parted_notes(
            words.cautions(self.detail, contents.pane, approval=approval),
            words.notes(self.detail, origin=self.detail.origin.name),
            self.places,
            box,
            apart=apart,
        )

    def _describes(self) -> tuple[str, str]:
        detail = self.detail
        sizes = detail.sizes
        return f"{self.contents.title}: fit-up detail", (
            f"Plan seen from outside, sections and corner of pane {detail.code}: glass {detail.glass.make_up()} mm {detail.glass.treatment}, "
            f"bead {number(sizes.bond_width.value)} by {number(sizes.bond_thickness.value)} mm, set-back {number(sizes.set_back.value)} mm, "
            f"joint {number(sizes.joint_width.value)} mm, frit {number(sizes.frit_width.value)} mm, in {words.frame_words(detail.frame)}. "
            "A fit-up detail, not an approval."
        )


def _in_model(views: Sequence[Placed]) -> Iterator[View]:
    """Each view in the model: the plan keeps the pane's own origin, every other stands to the right of what is there."""
    offset: float | None = None
    for placed in views:
        view = placed.in_model(offset)
        yield view
        offset = view.window[2] + APART_IN_MODEL


__all__ = ["detail_of"]
