"""The head of a detail sheet: the plan in its box, and the enlarged corners beside it, with the flags that stand on each."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from geometry.ledger.finding import Verdict
from geometry.outline import Point
from geometry.workings.section_sums import squeeze_out_of
from outputs.drawing.balloons import items_in_plan
from outputs.drawing.block_view import block_to_show, block_window
from outputs.drawing.corner_view import corner_window, glass_and_recess, place_on
from outputs.drawing.flags import Flagged
from outputs.drawing.plan_options import EnlargedCorner, PlanShows
from outputs.drawing.plan_rows import is_rectangular
from outputs.drawing.plan_sizes import surveyed
from outputs.sheet.boxes import box_of_text, texts_of
from outputs.sheet.outcomes import Fate, FlagNumber, ItemNumber
from outputs.sheets.detail_choice import place_at
from outputs.sheets.detail_stations import least_words, numbered_stations
from outputs.sheets.detail_tables import hazard_marks, notes_title
from outputs.sheets.flag_words import FEATURES
from outputs.sheets.pictures import Placed, block_view, corner_view, plan_view, title_marks

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from geometry.findings.state import Flag
    from outputs.drawing.plan_basis import PlanBasis
    from outputs.drawing.plan_view import PlanView
    from outputs.sheet.entities import Place
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_choice import Shown, ShownCorner
    from outputs.sheets.detail_places import Places
    from outputs.sheets.detail_strip import Cut

LETTERS = ("Z", "Y")
NOT_COVERED = "frit covers the bead and its squeeze-out"
TITLE_CLEAR = 0.9  # paper mm under the title of the plan
UNDER_CLOSE = 0.9  # paper mm that the sizes of a plan with little room stand nearer to the titles under it
FLAT = 76.0  # paper mm that a flat plan leaves of the height of its box: the notes stand under it
UNDER_TITLE = 20.0  # paper mm over a flat plan
LOWER = 2.5  # paper mm, how far a plan stands under the middle of its box: its title stands over it
SEEN = "seen from outside"
OVER_AND_CLOSE = ((True, False), (False, False), (False, True))  # ways to set the widths out, see ``PlanShows``
NO_LETTER = "x"  # at a place that moved in a pane without a revision letter


@dataclass(frozen=True, slots=True)
class HeadViews:
    """The plan, the corners that have a place, what of the running sizes found no room on the plan (edges and blocks), and what the
    notes have to tell of it; and whether the plan leaves the room of a second corner beside it free.
    """

    plan: Placed
    corners: tuple[Placed, ...]
    untold: tuple[str, ...]
    told: tuple[str, ...]
    beside: bool


class Head:
    """Composes plan and corners of one sheet."""

    def __init__(self, contents: Contents, places: Places, shown: Shown, flags: Sequence[Flag]) -> None:
        self.contents, self.places, self.detail = contents, places, contents.detail
        self.shown, self.flags, self.style = shown, flags, places.style
        self.corner_views: dict[tuple[int, str], Placed] = {}

    def views(self, scale: float, cut: Cut, basis: PlanBasis) -> HeadViews | None:
        """The plan at a scale, the widths over it where its box is high enough; None where it has no room."""
        left, bottom, right, _ = self.places.plan
        top = self.places.plan_title[1] - TITLE_CLEAR
        side = self.places.window_side

        def window_side(each: ShownCorner) -> float:
            return side / corner_window(self.detail, each.corner, side).scale

        enlarged = [each for each in self.shown.corners if corner_window(self.detail, each.corner, side).scale > scale]
        polygon = bool(self.detail.corners) and not is_rectangular(self.detail)
        listed = surveyed(self.detail)  # the table of its stations stands where a block would
        block = self._block(cut, scale) if len(enlarged) == 1 and not polygon and not listed else None
        narrow = len(enlarged) > 1 or polygon or listed or block is not None
        items = items_in_plan(self.detail, numbered_parts(cut))
        for limit in [self.places.window(1)[0] - 8.0, right] if narrow else [right]:
            shown = enlarged[: 2 if limit < right else 1]
            windows = [
                EnlargedCorner(letter, place_on(self.detail.curves.recess, each.corner), each.corner.bisector, window_side(each))
                for letter, each in zip(LETTERS, shown, strict=False)
            ]
            corners = [self._corner(order, each, self._others(shown)) for order, each in enumerate(shown)]
            if block is not None and limit < right:
                middle, enlarged_block = block
                windows.append(EnlargedCorner(LETTERS[1], middle, Point(0.0, 0.0), side / enlarged_block.scale))
                corners.append(enlarged_block)
            flags = tuple(self._plan_flags(shown, lost_flags(corners), cut))
            for over, close in OVER_AND_CLOSE:
                foot = bottom - (UNDER_CLOSE if close else 0.0)
                shows = PlanShows(
                    sections=cut.sections,
                    corners=tuple(windows),
                    flags=flags,
                    moved=self._moved_places(),
                    revision=self.detail.revision or NO_LETTER,
                    room=(limit - left, top - foot),
                    widths_over=over,
                    close=close,
                    stations=numbered_stations(self.contents),
                    joint_least=least_words(self.contents),
                    items=items,
                )
                view = plan_view(self.detail, scale, self.style, shows, basis=basis)
                plan = None if view.outgrown else self._placed(view, scale, (left, foot, limit, top))
                if plan is not None:
                    beside = tuple(without_flags(each, flags) for each in corners)
                    return HeadViews(plan, beside, view.untold, view.told, limit < right)
        return None

    def _block(self, cut: Cut, scale: float) -> tuple[Point, Placed] | None:
        """The middle of the window round a block, and the block enlarged where the second corner would stand; none where the plan
        shows it as large.
        """
        block = block_to_show(self.detail, cut.sections)
        if block is None:
            return None
        shown = block_window(self.detail, block, self.places.window_side)
        if shown.scale <= scale:
            return None
        window = self.places.window(1)
        title = (window[0] - 1.0, self.places.plan_title[1])
        low, foot, high, top = shown.box
        middle = Point((low + high) / 2, (foot + top) / 2)
        return middle, block_view(self.detail, shown, block, window, self.style, letter=LETTERS[1], title=title)

    def _placed(self, view: PlanView, scale: float, room: tuple[float, float, float, float]) -> Placed | None:
        """The plan in the middle of its room, its title at its place; None where it is larger."""
        left, bottom, right, top = room
        box = view.extent()
        wide, high = (box[2] - box[0]) * scale, (box[3] - box[1]) * scale
        if wide > right - left or high > top - bottom:
            return None
        x, y = left + (right - left - wide) / 2, bottom + (top - bottom - high) / 2
        if not self.places.roomy:
            y -= min(LOWER, y - bottom)
            if top - bottom - high >= FLAT:  # the notes stand under it
                y = top - high - UNDER_TITLE
        home = (x - box[0] * scale, y - box[1] * scale)
        down = max(self._under_title(view, scale, home), self._under_hazards(view, scale, home))
        y -= max(0.0, down)
        if y < bottom - 1e-9:
            return None
        beside = right < self.places.plan[2]  # then the notes stand there
        up = 0.0 if beside else self._over_notes(view, scale, (home[0], y - box[1] * scale))
        if up > 0.0 and up > min(-down, top - high - y):
            return None
        y += max(0.0, up)
        home = (x - box[0] * scale, y - box[1] * scale)
        still = title_marks("PLAN", scale, SEEN, self.places.plan_title, home, self.style, eye=True)
        still += hazard_marks(self.places, home, scale)
        return Placed("PLAN", scale, home, (*view.marks, *still), tuple(view.outcomes), still=len(still))

    def _under_title(self, view: PlanView, scale: float, home: tuple[float, float]) -> float:
        """By how much texts of the plan stand too near to its title, paper mm."""
        most = self.places.plan_title[1] - self.style.clear - 0.05
        boxes = (box_of_text(text, scale) for text in texts_of(view.marks))
        return max(
            (home[1] + top * scale - most for left, _, _, top in boxes if home[0] + left * scale < self.places.hazards[0]),
            default=-math.inf,
        )

    def _under_hazards(self, view: PlanView, scale: float, home: tuple[float, float]) -> float:
        """By how much texts of the plan stand too near to the cautions at the head of the sheet, paper mm."""
        lines = [box_of_text(text, 1.0) for text in texts_of(hazard_marks(self.places, (0.0, 0.0), 1.0))]
        return self._nearness(view, scale, home, [(left, right, low, 1.0) for left, low, right, _ in lines])

    def _over_notes(self, view: PlanView, scale: float, home: tuple[float, float]) -> float:
        """By how much texts of the plan stand too near to the title of the notes under it, paper mm."""
        if self.places.roomy:  # there the notes stand in the column
            return -math.inf
        left, right, top = notes_title(self.places)
        return self._nearness(view, scale, home, [(left, right, top, -1.0)])

    def _nearness(
        self, view: PlanView, scale: float, home: tuple[float, float], others: Sequence[tuple[float, float, float, float]]
    ) -> float:
        """By how much texts of the plan lie nearer than they may to the edges of others, paper mm: each runs from left to right at a level,
        over the plan (1) or under it (-1).
        """
        clear = self.style.clear + 0.05
        worst = -math.inf
        for low_x, low_y, high_x, high_y in (box_of_text(text, scale) for text in texts_of(view.marks)):
            for left, right, level, side in others:
                if home[0] + low_x * scale < right + clear and home[0] + high_x * scale > left - clear:
                    end = home[1] + (high_y if side > 0 else low_y) * scale
                    worst = max(worst, side * (end - level) + clear)
        return worst

    def _plan_flags(self, corners: Sequence[ShownCorner], lost: Collection[int], cut: Cut) -> Iterator[Flagged]:
        """Flags with a place that no other view shows or has room for; the first of those at the worst section as well."""
        enlarged = {name for each in corners for name in each.names}
        worst = {flag.number for flag in self.shown.worst_flags}
        first = min(worst, default=0)
        for flag in self.flags:
            finding = flag.finding
            in_cut = flag.number in worst and flag.number not in cut.beyond
            if finding.at is None or (finding.part in enlarged and flag.number not in lost) or (in_cut and flag.number != first):
                continue
            if finding.part.startswith("K") and finding.name in FEATURES:
                continue
            yield Flagged(flag.number, finding.verdict is Verdict.FAIL, finding.at)

    def _moved_places(self) -> tuple[Place, ...]:
        """Where something moved since an older state."""
        return tuple(each.at for each in self.contents.moved or () if each.at is not None)

    def _others(self, shown: Sequence[ShownCorner]) -> str:
        """The radii of corners that have no view, for the title of the first; a table tells those of a pane that is no rectangle."""
        detail = self.detail
        if not is_rectangular(detail):
            return ""
        told = []
        for each in self.shown.corners:
            if each not in shown and each.names:
                glass, recess = glass_and_recess(detail, each.corner)
                told.append(f"; {', '.join(each.names)} {glass}, recess {recess}")
        return "".join(told)

    def _corner(self, order: int, each: ShownCorner, others: str) -> Placed:
        """The view of an enlarged corner, the first with what is told of ``others``; the same whatever the scale of the plan."""
        side = self.places.window_side
        says = each.says + ("" if order else others)
        known = self.corner_views.get((order, says))
        if known is not None:
            return known
        window = self.places.window(order)
        own = [
            Flagged(flag.number, flag.finding.verdict is Verdict.FAIL, place_at(self.detail, each, flag))
            for flag in self.flags
            if flag.finding.part in each.names and flag.finding.at is not None
        ]
        view = corner_view(
            self.detail,
            corner_window(self.detail, each.corner, side),
            window,
            self.style,
            letter=LETTERS[order],
            says=says,
            title=(window[0] - 1.0, self.places.plan_title[1]),
            flags=own,
            squeeze=self.squeeze,
            beside=self.places.window(order - 1)[0] - window[2] if order else math.inf,
        )
        self.corner_views[order, says] = view
        return view

    @cached_property
    def squeeze(self) -> float:
        """The squeeze-out, mm, where a flag says that the print does not cover it; else 0."""
        check = self.contents.check
        if check is None or not any(flag.finding.name == NOT_COVERED for flag in self.flags):
            return 0.0
        return squeeze_out_of(check.subject, bond_width=self.detail.sizes.bond_width.value)


def numbered_parts(cut: Cut) -> set[str]:
    """The numbers of the parts list that stand on the sections."""
    told = (each.numbered for view in cut.views for each in view.outcomes if each.fate is Fate.DRAWN)
    return {each.number for each in told if isinstance(each, ItemNumber)}


def lost_flags(views: Sequence[Placed]) -> set[int]:
    """The numbers of the flags that found no place on the views."""
    told = (each.numbered for view in views for each in view.outcomes if each.fate is Fate.TABLED)
    return {each.number for each in told if isinstance(each, FlagNumber)}


def without_flags(view: Placed, others: Collection[Flagged]) -> Placed:
    """A view without the outcomes of flags that another view carries."""
    flags = {FlagNumber(each.number) for each in others}
    return replace(view, outcomes=tuple(each for each in view.outcomes if each.fate is Fate.DRAWN or each.numbered not in flags))


__all__ = ["Head", "HeadViews", "lost_flags", "numbered_parts", "without_flags"]
