"""The detail sheet of one pane: plan, enlarged corner and sections in fixed boxes, flags, parts, notes and title block beside them.

The smallest paper is taken on which the plan reads and everything finds its place. On A3 a plan shorter than 150 mm is taken as long as
its scale still shows the edges of the bead; below that the pane goes to A2.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.ledger.finding import Verdict
from geometry.outline import bounding_box
from outputs.drawing.corner_view import corner_window, radii_of
from outputs.drawing.flags import Flagged
from outputs.drawing.plan_options import PlanShows
from outputs.drawing.plan_outlines import blocks_of
from outputs.drawing.plan_rows import is_rectangular
from outputs.sheet.boxes import box_round, overlap
from outputs.sheet.drafting import number, scale_designation
from outputs.sheet.entities import Sheet, View
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.moving import shifted
from outputs.sheet.outcomes import Fate
from outputs.sheet.paper import Paper, frame_marks, margin_bar
from outputs.sheet.pencil import Pencil
from outputs.sheet.refusal import SheetError
from outputs.sheet.title_block import title_block
from outputs.sheets import words
from outputs.sheets.contents import Contents
from outputs.sheets.detail_choice import (
    first_title,
    place_at,
    section_flags,
    shown_of,
    spacer_section,
    typical_words,
    worst_words,
)
from outputs.sheets.detail_places import Places
from outputs.sheets.detail_tables import (
    NotesPart,
    corners_table,
    flags_table,
    hazard_marks,
    line_key,
    listed_flags,
    notes_marks,
    parted_notes,
    parts_table,
    revisions_table,
    rows_for_flags,
)
from outputs.sheets.flag_words import FEATURES
from outputs.sheets.pictures import (
    Placed,
    SectionPlace,
    corner_view,
    first_section,
    plan_view,
    second_section,
    title_marks,
    worst_section,
)
from outputs.sheets.title import detail_title

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from geometry.detail.parts import Detail, Section
    from geometry.findings.check import PaneCheck
    from geometry.findings.state import Flag
    from geometry.job import Job, Pane
    from outputs.sheet.entities import Mark, Place
    from outputs.sheets.detail_choice import Shown, ShownCorner

SHEETS = ("A3", "A2", "A1", "A0")
PLAN_SCALES = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
LARGE = 150.0  # paper mm, longer side of a plan that reads easily
EDGES_SHOW = 0.2  # scale from which a smaller plan reads all the same: the edges of the bead are drawn
LONG_PANE = 3000.0  # mm, of a pane that wants A1
ROUND_INK = 0.5  # paper mm from the ink of a view to the edge of its window
APART_IN_MODEL = 100.0  # mm between views in the model
SECTION_SCALES = (2.0, 1.0, 0.5)
SHEET_NUMBER, SHEETS_OF_A_PANE = 1, 4  # detail, pane sheet, fitter's card, record
AS_FIRST = "As A-A; frit strip not to scale."
LETTERS = ("Z", "Y")
CHANGE = " at a change "
NO_LETTER = "x"  # at a place that moved in a pane without a revision letter


def detail_sheet(job: Job, pane: Pane, detail: Detail, check: PaneCheck | None = None) -> Sheet:
    """The finished sheet of one pane; with ``check`` its findings stand on it.

    Raises
    ------
    SheetError
        When no sheet size holds the drawing.
    """
    return detail_of(Contents(job, pane, detail, check))


def detail_of(contents: Contents) -> Sheet:
    """The finished sheet of contents. Raises ``SheetError`` where no paper holds it."""
    for paper in _papers(contents):
        sheet = _Composed(contents, paper).sheet()
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
                yield Paper(size, number=SHEET_NUMBER, of=SHEETS_OF_A_PANE)
        elif not (long and size in ("A3", "A2")):
            yield Paper(size, number=SHEET_NUMBER, of=SHEETS_OF_A_PANE)


def _refusal(contents: Contents) -> str:
    wanted = contents.job.sheet.size
    asked = wanted in SHEETS
    allowed = "a larger sheet.size, or none" if asked else "fewer blocks, or sizes of section and bead that the trade makes"
    sizes = wanted if asked else ", ".join(SHEETS)
    return f"the drawing of pane {contents.detail.code} does not fit on a sheet {sizes}; allowed: {allowed}"


class _Composed:
    """One try on one paper."""

    def __init__(self, contents: Contents, paper: Paper) -> None:
        self.contents, self.paper, self.detail = contents, paper, contents.detail
        self.places = Places.of(paper)
        self.style = self.places.style
        state = contents.state
        self.notes = self._notes()
        self.most = rows_for_flags(contents, self.places, self.notes.height(self.style))
        self.flags: tuple[Flag, ...] = () if state is None else listed_flags(state, self.most)
        self.shown: Shown = shown_of(self.detail, self.flags)
        self.enlarged: list[ShownCorner] = []
        self.corner_views: dict[tuple[int, int], Placed] = {}
        self.beyond: set[int] = set()  # flags of what lies beyond the break of the worst section

    def sheet(self) -> Sheet | None:
        """The sheet, or None where this paper does not hold it or the plan would be too small to read."""
        for scale in PLAN_SCALES:
            if not self._reads(scale) and not self._last():
                return None
            if not self._may_fit(scale):
                continue
            views = self._views(scale)
            if views is not None:
                return self._finished(views)
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

    def _views(self, scale: float) -> list[Placed] | None:
        """All views at a scale of the plan, or None where one finds no room."""
        sections = self._sections(scale)
        if sections is None:
            return None
        cut, section_views = sections
        plan, corners = self._plan(scale, cut)
        if plan is None:
            return None
        views = [plan, *corners, *section_views]
        boxes = [view.box for view in views]
        left, bottom, right, top = self.paper.space
        inside = all(b[0] > left and b[1] > bottom and b[2] < right and b[3] < top for b in boxes)
        apart = not any(overlap(one, other) for i, one in enumerate(boxes) for other in boxes[i + 1 :])
        return views if inside and apart else None

    def _plan(self, scale: float, cut: Sequence[Section]) -> tuple[Placed | None, list[Placed]]:
        """The plan in its box, with the widths over it where that is high enough, and the corners that have a place."""
        left, bottom, right, _ = self.places.plan
        top = self.places.plan_title[1] - 1.2
        side = self.places.window_side
        enlarged = [each for each in self.shown.corners if corner_window(self.detail, each.corner, side).scale > scale]
        self.enlarged = enlarged
        second = len(enlarged) > 1
        limits = (
            [self.places.window(1)[0] - 8.0, right]
            if second or (self.detail.corners and not is_rectangular(self.detail))
            else [right]
        )
        for limit in limits:
            shown = enlarged[: 2 if second and limit < right else 1]
            windows = [
                (letter, corner_window(self.detail, each.corner, side).box) for letter, each in zip(LETTERS, shown, strict=False)
            ]
            corners = [self._corner(order) for order in range(len(windows))]
            flags = tuple(self._plan_flags(shown, lost_flags(corners)))
            for over in (True, False):
                shows = PlanShows(
                    sections=tuple(cut),
                    corners=tuple(windows),
                    flags=flags,
                    moved=self._moved_places(),
                    revision=self.detail.revision or NO_LETTER,
                    room=(limit - left, top - bottom),
                    widths_over=over,
                )
                view = plan_view(self.detail, scale, self.style, shows)
                box = box_round(view.marks, scale)
                wide, high = (box[2] - box[0]) * scale, (box[3] - box[1]) * scale
                if wide > limit - left or high > top - bottom:
                    continue
                x = left + (limit - left - wide) / 2 if wide < 0.8 * (limit - left) else left
                y = bottom + (top - bottom - high) / 2
                home = (x - box[0] * scale, y - box[1] * scale)
                said = "seen from outside"
                marks = [*view.marks, *title_marks("PLAN", scale, said, self.places.plan_title, home, self.style, eye=True)]
                marks += hazard_marks(self.places, home, scale)
                return Placed("PLAN", scale, home, tuple(marks), tuple(view.outcomes)), [
                    without_flags(each, flags) for each in corners
                ]
        return None, []

    def _plan_flags(self, corners: Sequence[ShownCorner], lost: Collection[int]) -> Iterator[Flagged]:
        """Flags with a place that no other view shows or has room for; the first of those at the worst section as well."""
        enlarged = {name for each in corners for name in each.names}
        worst = {flag.number for flag in self.shown.worst_flags}
        first = min(worst, default=0)
        for flag in self.flags:
            finding = flag.finding
            cut = flag.number in worst and flag.number not in self.beyond
            if finding.at is None or (finding.part in enlarged and flag.number not in lost) or (cut and flag.number != first):
                continue
            if finding.part.startswith("K") and finding.name in FEATURES:
                continue
            yield Flagged(flag.number, finding.verdict is Verdict.FAIL, finding.at)

    def _moved_places(self) -> tuple[Place, ...]:
        """Where something moved since an older state."""
        return tuple(each.at for each in self.contents.moved or () if each.at is not None)

    def _corner(self, order: int) -> Placed:
        """The view of an enlarged corner; the same whatever the scale of the plan."""
        each, side = self.enlarged[order], self.places.window_side
        known = self.corner_views.get((order, each.corner.number))
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
            says=each.says,
            title=(window[0] - 1.0, self.places.plan_title[1]),
            flags=own,
            named=order == 0,
        )
        self.corner_views[order, each.corner.number] = view
        return view

    def _sections(self, plan_scale: float) -> tuple[list[Section], list[Placed]] | None:
        """The sections that are cut, and their views; None where they find no room."""
        detail, shown, style = self.detail, self.shown, self.style
        first = detail.sections[0]
        roomy = self.paper.size != "A3"
        worst = shown.worst
        both = worst is None or roomy
        through = spacer_section(detail, plan_scale, [first, *([worst] if worst else [])]) if both else None
        if through is None and worst is None:
            through = detail.sections[1]
        scale = next((s for s in SECTION_SCALES if self._section_fits(first, s)), SECTION_SCALES[-1])
        place = self._section_place(0, scale)
        pencil = Pencil(style, scale)
        own = [flag for flag in self.flags if flag not in shown.worst_flags and self._in_section(flag)]
        flagged = section_flags(own, first, pencil, all_round=True)
        # four rows of figures reach up beside the title: then its words have no room
        titled = replace(first, title=first_title(detail) if first.crossing.frit_fade is None else "")
        views = [first_section(titled, detail, scale, style, place, flagged, rest=None if through is not None else first)]
        cut = [first]
        order = 1
        if through is not None:
            small = next(
                (s for s in SECTION_SCALES if s <= min(scale, 1.0) and self._other_fits(through, order, s)), SECTION_SCALES[-1]
            )
            says = (AS_FIRST, typical_words(detail))
            views.append(
                second_section(
                    through, detail, small, style, self._section_place(order, small), title=f"spacer {through.title}", says=says
                )
            )
            cut.append(through)
            order += 1
        if worst is not None:
            own_scale = next((s for s in SECTION_SCALES if s <= scale and self._other_fits(worst, order, s)), SECTION_SCALES[-1])
            where = self._section_place(order, own_scale)
            flags = section_flags(shown.worst_flags, worst, Pencil(style, own_scale), all_round=False)
            end = (where.box[2] - where.home[0]) / own_scale
            self.beyond = {flag.number for flag in flags if flag.place[0] > end - 1.0}
            flags = [flag for flag in flags if flag.number not in self.beyond]
            told = (AS_FIRST, *worst_words(worst, first))
            views.append(
                worst_section(
                    worst,
                    first,
                    detail,
                    own_scale,
                    style,
                    where,
                    title=shown.worst_says,
                    says=told,
                    flags=flags,
                    numbered=through is None,
                )
            )
            cut.append(worst)
        return cut, views

    def _in_section(self, flag: Flag) -> bool:
        finding = flag.finding
        return finding.name in FEATURES and (finding.at is None or finding.part.startswith("K"))

    def _section_place(self, order: int, scale: float) -> SectionPlace:
        title, home = self.places.section(order, scale)
        left = 23.5 if order == 0 else title[0] - 2.0
        beside = self.paper.width - 12.0 - 180.0  # the title block
        right = min(self.places.section(order + 1, 1.0)[0][0] - 4.0, beside)
        return SectionPlace(title, home, (left, 11.5, right, self.places.strip - 1.0))

    def _section_fits(self, section: Section, scale: float) -> bool:
        """Whether the section with its rows of figures fits the strip at a scale."""
        place = self._section_place(0, scale)
        times, style = self.places.times, self.style
        x, levels = section.crossing, section.levels
        wide = (max(x.landing, x.frit_inner) * scale) + 22.0 * times
        rows = 4 if x.frit_fade is not None else 3
        high = (
            max(levels.skin, levels.glass_face) * scale + style.first_row + (rows - 1) * style.row + style.text_gap + style.text
        )
        return place.home[0] + wide <= place.box[2] and place.home[1] + high <= place.title[1] + style.title + 1.0

    def _other_fits(self, section: Section, order: int, scale: float) -> bool:
        """Whether a section fits beside the others at a scale."""
        place = self._section_place(order, scale)
        high = max(section.levels.skin, section.levels.glass_face) * scale + 2 * self.style.first_row
        least = section.crossing.bead_inner * scale + 4.0 * self.places.times
        return place.home[0] + least <= place.box[2] and place.home[1] + high <= place.title[1] - 12.0 * self.places.times

    def _finished(self, views: list[Placed]) -> Sheet | None:
        """The sheet with all that stands on paper; None where the notes find no room."""
        contents, places = self.contents, self.places
        plan = views[0]
        scales = tuple(scale_designation(view.scale) for view in views)
        marks: list[Mark] = [*frame_marks(self.paper), *title_block(self.paper, detail_title(contents, scales, self.paper))]
        marks += [*line_key(places), *margin_bar(self.paper, self.style)]
        flags, under_flags = flags_table(contents.state, places, self.most)
        parts, over_parts = parts_table(self.detail, places)
        revisions, over = revisions_table(contents, places, over_parts)
        marks += [*flags, *parts, *revisions]
        if not is_rectangular(self.detail) and self.detail.corners and plan.box[2] < places.window(1)[0] - 4.0:
            radii = [
                tuple(radius or "sharp" for radius, _, _ in radii_of(self.detail, corner)[1::-1])
                for corner in self.detail.corners
            ]
            table, _ = corners_table(self.detail, places, [(a, b) for a, b in radii])
            marks += table
        lost = [
            outcome.what
            for view in views
            for outcome in view.outcomes
            if outcome.fate is not Fate.DRAWN and CHANGE not in outcome.what  # changes stand in the list
        ]
        more = [f"No room on the views for {', '.join(lost)}: see card and record."] if lost else []
        more += words.governing_note(contents.job.vessel.hull_length)
        notes, all_stand = notes_marks(self.notes, more, places, (over + 1.0, under_flags))
        if not all_stand:
            return None
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
            marks=(*marks, *notes),
            outcomes=tuple((view.name, outcome) for view in views for outcome in view.outcomes),
        )

    def _notes(self) -> NotesPart:
        contents = self.contents
        approval = contents.pane.approval_reference or contents.job.sheet.approval_reference or "______"
        return parted_notes(
            words.cautions(self.detail, contents.pane, approval=approval),
            words.notes(self.detail, origin=self.detail.origin.name),
            self.places,
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


def lost_flags(views: Sequence[Placed]) -> set[int]:
    """The numbers of the flags that found no place on the views."""
    return {
        int(outcome.what.removeprefix("flag "))
        for view in views
        for outcome in view.outcomes
        if outcome.fate is Fate.TABLED and outcome.what.startswith("flag ")
    }


def without_flags(view: Placed, others: Collection[Flagged]) -> Placed:
    """A view without the outcomes of flags that another view carries."""
    names = {f"flag {each.number}" for each in others}
    return replace(view, outcomes=tuple(each for each in view.outcomes if each.fate is Fate.DRAWN or each.what not in names))


def _in_model(views: Sequence[Placed]) -> Iterator[View]:
    """Each view in the model: the plan keeps the pane's own origin, every other stands to the right of what is there."""
    offset = 0.0
    for index, view in enumerate(views):
        left, bottom, right, top = box_round(view.marks, view.scale)
        edge = ROUND_INK / view.scale
        left, bottom, right, top = left - edge, bottom - edge, right + edge, top + edge
        dx, dy = (offset - left, -bottom) if index else (0.0, 0.0)
        marks = tuple(shifted(mark, dx, dy) for mark in view.marks) if index else view.marks
        x, y = view.home
        paper: Place = (x + left * view.scale, y + bottom * view.scale)
        yield View(view.name, view.scale, (left + dx, bottom + dy, right + dx, top + dy), paper, marks)
        offset = right + dx + APART_IN_MODEL


__all__ = ["detail_of", "detail_sheet", "lost_flags", "without_flags"]
