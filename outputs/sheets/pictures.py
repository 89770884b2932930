"""The views of a detail sheet, each composed at its scale and with its title, before it has its place on paper.

Terms
-----
view title
    Letters and scale, and a few words of what it is; a section that is turned carries the sign for it.
home
    Where the origin of the view stands on paper.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from outputs.drawing.balloons import balloon_beside, balloon_row, item_of_backfill, item_on_chock, items_under
from outputs.drawing.block_view import block_marks
from outputs.drawing.broken_lines import broken, dimension_lines
from outputs.drawing.corner_overlap import overlap_names, overlaps, squeeze_line
from outputs.drawing.corner_view import corner_flags, corner_marks
from outputs.drawing.flags import area_of, placed_flag
from outputs.drawing.plan_view import PlanView
from outputs.drawing.section_figures import all_figures, spacer_figures, worst_figures
from outputs.drawing.section_view import CutBack, section_faces, seen_spacer
from outputs.sheet.boxes import box_of, box_of_text, box_round, grown, joined, texts_of
from outputs.sheet.drafting import scale_designation
from outputs.sheet.entities import Dimension, Fill, Path, Text, View
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.lettering import text_width
from outputs.sheet.moving import shifted
from outputs.sheet.pencil import Pencil
from outputs.sheet.runs import line
from outputs.sheet.tables import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.detail.parts import Chock, Detail, Section
    from outputs.drawing.corner_view import CornerWindow
    from outputs.drawing.flags import Flagged
    from outputs.drawing.plan_basis import PlanBasis
    from outputs.drawing.plan_options import PlanShows
    from outputs.sheet.boxes import Box
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.outcomes import Outcome

AFTER_LETTERS, AFTER_SCALE = 2.6, 3.0  # paper mm
SAYS_PITCH = 4.85  # paper mm from base line to base line of what is said under a title
BESIDE_WINDOW = 30.0  # paper mm right of a window in which flags of its corner may stand
ROUND_INK = 0.5  # paper mm from the ink of a view to the edge of its window
BEYOND_FOOT = 9.0  # paper mm from the foot of a section to its balloons


@dataclass(frozen=True)
class Placed:
    """A view at its place: ``home`` is where the origin of its model stands on paper.

    Of ``marks`` the last ``still`` keep their place on paper when it moves: its title, and what stands there on every sheet.
    """

    name: str
    scale: float
    home: Place
    marks: tuple[Mark, ...]
    outcomes: tuple[Outcome, ...]
    still: int = 0

    @cached_property
    def extent(self) -> Box:
        """The box of its ink, mm of its model."""
        return box_round(self.marks, self.scale)

    @property
    def box(self) -> Box:
        """The box of its ink on paper."""
        left, bottom, right, top = self.extent
        x, y = self.home
        k = self.scale
        return x + left * k, y + bottom * k, x + right * k, y + top * k

    @property
    def parted(self) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
        """The marks that move with the view, and those that keep their place."""
        count = len(self.marks) - self.still
        return self.marks[:count], self.marks[count:]

    def in_model(self, offset: float | None) -> View:
        """The view as a window of the model that begins at ``offset`` in X and at 0 in Y; None: where its own origin is."""
        edge, k = ROUND_INK / self.scale, self.scale
        left, low, right, high = grown(self.extent, edge)
        dx, dy = (0.0, 0.0) if offset is None else (offset - left, -low)
        marks = self.marks if offset is None else tuple(shifted(mark, dx, dy) for mark in self.marks)
        at = (self.home[0] + left * k, self.home[1] + low * k)
        return View(self.name, k, (left + dx, low + dy, right + dx, high + dy), at, marks)

    def moved(self, dx: float, dy: float) -> Placed:
        """The view moved on paper, mm."""
        own, still = self.parted
        marks = (*own, *(shifted(mark, -dx / self.scale, -dy / self.scale) for mark in still))
        return replace(self, home=(self.home[0] + dx, self.home[1] + dy), marks=marks)

    def boxes(self) -> tuple[tuple[Box, ...], tuple[Box, ...]]:
        """Boxes on paper of what moves with the view, its body as one with all that it surrounds, and of what keeps its place."""
        own, still = self.parted
        body = box_round([mark for mark in own if not (isinstance(mark, Text) and mark.layer == "TEXT")], self.scale)
        beyond = [box_of_text(text, self.scale) for text in texts_of(own)]
        beyond = [box for box in beyond if joined((box, body)) != body]
        return self._on_paper((body, *beyond)), self._on_paper([box_of(mark, self.scale) for mark in still])

    def _on_paper(self, boxes: Iterable[Box]) -> tuple[Box, ...]:
        (x, y), k = self.home, self.scale
        return tuple((x + a * k, y + b * k, x + c * k, y + d * k) for a, b, c, d in boxes)


def title_marks(
    letters: str,
    scale: float,
    says: str,
    at: Place,
    home: Place,
    style: DraftingStyle,
    *,
    turned: bool = False,
    eye: bool = False,
) -> list[Mark]:
    """The title of a view with its base line at a place of the paper, as marks of the view."""
    pencil = Pencil(style, scale)

    def own(x: float, y: float) -> Place:
        return (x - home[0]) / scale, (y - home[1]) / scale

    x, y = at
    size = style.label if len(letters) > 3 else style.title
    marks: list[Mark] = [pencil.text("TEXT", own(x, y), letters, height=size)]
    x += text_width(letters, size) + AFTER_LETTERS * style.text / 2.5
    words = scale_designation(scale)
    marks.append(pencil.text("TEXT", own(x, y), words, height=style.label))
    x += text_width(words, style.label) + AFTER_SCALE * style.text / 2.5
    if turned:
        marks += _turned(own(x + 1.2, y + style.label * 0.45), pencil)
        x += 5.4 * style.text / 2.5
    if says:
        marks.append(pencil.text("TEXT", own(x, y), says))
        x += text_width(says, style.text) + 2.0
    if eye:
        marks += _eye(own(x + 3.0, y + style.text * 0.45), pencil)
    return marks


def _turned(middle: Place, pencil: Pencil) -> list[Mark]:
    """The sign of a view that is turned: three quarters of a circle with an arrow."""
    radius = pencil.paper(1.5)
    sweep = math.radians(250.0)
    start, end = math.radians(-35.0), math.radians(215.0)
    first = (middle[0] + radius * math.cos(end), middle[1] + radius * math.sin(end))
    last = (middle[0] + radius * math.cos(start), middle[1] + radius * math.sin(start))
    heading = math.degrees(start) - 90.0
    return [
        Path("DIMENSIONS", ((*first, -math.tan(sweep / 4)), (*last, 0.0))),
        pencil.arrow(
            "DIMENSIONS",
            (last[0] + 0.35 * radius * math.sin(start), last[1] - 0.35 * radius * math.cos(start)),
            heading,
            size=1.6,
        ),
    ]


def _eye(middle: Place, pencil: Pencil) -> list[Mark]:
    """The sign of the side a view is seen from."""
    half, iris = pencil.paper(3.0), pencil.paper(0.95)
    x, y = middle
    lid = 0.42
    return [
        Path("DIMENSIONS", ((x - half, y, -lid), (x + half, y, -lid)), True),
        Fill("DIMENSIONS", ((x - iris, y, 1.0), (x + iris, y, 1.0))),
    ]


def plan_view(
    detail: Detail, scale: float, style: DraftingStyle, shows: PlanShows, *, basis: PlanBasis | None = None
) -> PlanView:
    """The plan at a scale; ``basis`` is what it has in common with others, where that is known."""
    return PlanView(detail, Pencil(style, scale), shows, basis=basis)


def corner_view(
    detail: Detail,
    shown: CornerWindow,
    window: Box,
    style: DraftingStyle,
    *,
    letter: str,
    says: str,
    title: Place,
    flags: Sequence[Flagged],
    squeeze: float = 0.0,
    beside: float = math.inf,
) -> Placed:
    """An enlarged corner in its window on paper; ``squeeze`` is the squeeze-out, mm, where the print does not cover it.

    ``beside`` is how far it is to the next window, paper mm.
    """
    pencil = Pencil(style, shown.scale)
    left, low, right, high = shown.box
    within = (left, low, right + pencil.paper(BESIDE_WINDOW * style.text / 2.5), high)
    room = KeepClear(scale=shown.scale, clear=style.off_lines, apart=style.clear, within=within)
    beyond = overlaps(detail.curves, shown.box, squeeze=squeeze)
    hatched = [mark for each in beyond for mark in each.marks()]
    hatched += squeeze_line(detail.curves, shown.box, squeeze) if squeeze > 0.0 else []
    marks = corner_marks(detail, shown, pencil, room, named=True, beyond=hatched, beside=beside)
    marks += overlap_names(beyond, shown.box, pencil, room)
    marks += corner_flags(flags, shown, pencil, room)
    home = (window[0] - shown.box[0] * shown.scale, window[1] - shown.box[1] * shown.scale)
    marks += title_marks(letter, shown.scale, says, title, home, style)
    return Placed(f"DETAIL {letter}", shown.scale, home, tuple(marks), tuple(room.outcomes))


def block_view(
    detail: Detail, shown: CornerWindow, block: Chock, window: Box, style: DraftingStyle, *, letter: str, title: Place
) -> Placed:
    """An enlarged place of the plan at a block, in its window on paper."""
    pencil = Pencil(style, shown.scale)
    left, low, right, high = shown.box
    within = (left, low, right + pencil.paper(BESIDE_WINDOW * style.text / 2.5), high)
    room = KeepClear(scale=shown.scale, clear=style.off_lines, apart=style.clear, within=within)
    marks = block_marks(detail, shown, block, pencil, room)
    home = (window[0] - left * shown.scale, window[1] - low * shown.scale)
    marks += title_marks(letter, shown.scale, f"at {block.mark}", title, home, style)
    return Placed(f"DETAIL {letter}", shown.scale, home, tuple(marks), tuple(room.outcomes))


@dataclass(frozen=True, slots=True)
class SectionPlace:
    """Where a section stands on paper: base line of its title, where its wall meets the landing, and the box it must keep to."""

    title: Place
    home: Place
    box: Box


def first_section(
    section: Section,
    detail: Detail,
    scale: float,
    style: DraftingStyle,
    place: SectionPlace,
    flags: Sequence[Flagged],
    *,
    rest: Section | None,
    under: bool = False,
) -> Placed:
    """The section with all figures; ``rest`` is the section through a spacer where that has no place of its own on the sheet.

    ``under``: the words of its title stand under it.
    """
    pencil = Pencil(style, scale)
    room = _room(scale, style, place)
    marks = section_faces(section, pencil)
    if rest is not None:
        sizes = detail.sizes
        marks += seen_spacer(section, sizes.spacer_width.value, sizes.set_back.value)
    room.add(marks)
    marks += _kept(broken(all_figures(section, detail, pencil, room), pencil), room)
    times = style.text / 2.5
    foot = CutBack.of(section, pencil).low - pencil.paper(BEYOND_FOOT * times)
    chock = item_on_chock(section, detail)
    if chock is not None:
        marks += balloon_beside(chock, (-pencil.paper(9.0 * times), foot - pencil.paper(2.6 * times)), pencil, room)
    says = "" if under else section.title
    titled = title_marks("A-A", scale, says, place.title, place.home, style, turned=True)
    titled += _says((section.title,), place, scale, style) if under else []
    marks += titled
    room.add(titled)
    marks += _section_flags(flags, section, pencil, room, place)
    return Placed("SECTION A", scale, place.home, tuple(marks), tuple(room.outcomes))


def second_section(
    section: Section, scale: float, style: DraftingStyle, place: SectionPlace, *, title: str, says: Sequence[str]
) -> Placed:
    """The section through a spacer: what it adds, and the item numbers."""
    pencil = Pencil(style, scale)
    room = _room(scale, style, place)
    ends = _ends(section, pencil, place)
    marks = section_faces(section, pencil, ends)
    room.add(marks)
    marks += spacer_figures(section, pencil, room)
    marks += _items(section, pencil, room, ends)
    marks += title_marks("B-B", scale, title, place.title, place.home, style, turned=True)
    marks += _says(says, place, scale, style)
    return Placed("SECTION B", scale, place.home, tuple(marks), tuple(room.outcomes))


def worst_section(
    section: Section,
    typical: Section,
    detail: Detail,
    scale: float,
    style: DraftingStyle,
    place: SectionPlace,
    *,
    title: str,
    says: Sequence[str],
    flags: Sequence[Flagged],
    numbered: bool,
) -> Placed:
    """The section at the worst place of a finding that fails: what is otherwise there, and the flags beside it."""
    pencil = Pencil(style, scale)
    room = _room(scale, style, place)
    ends = _ends(section, pencil, place)
    marks = section_faces(section, pencil, ends)
    room.add(marks)
    marks += _kept(worst_figures(section, typical, pencil, room, whole=not ends.inside), room)
    if numbered:
        marks += _items(section, pencil, room, ends)
    marks += title_marks("W-W", scale, title, place.title, place.home, style, turned=True)
    marks += _says(says, place, scale, style)
    room.add(marks)
    marks += _section_flags(flags, section, pencil, room, place)
    return Placed("SECTION W", scale, place.home, tuple(marks), tuple(room.outcomes))


def _kept(figures: list[Mark], room: KeepClear) -> list[Mark]:
    """Figures whose dimension lines no leader may run through."""
    for figure in figures:
        for start, end in dimension_lines(figure) if isinstance(figure, Dimension) else ():
            room.lead(line("DIMENSIONS", start, end))
    return figures


def _ends(section: Section, pencil: Pencil, place: SectionPlace) -> CutBack:
    """How far a section is shown that another one shows whole."""
    return CutBack.of(section, pencil, place.box[2] - place.home[0])


def _items(section: Section, pencil: Pencil, room: KeepClear, ends: CutBack) -> list[Mark]:
    """The row of item numbers under a section, and that of the backfill over it."""
    times = pencil.style.text / 2.5
    foot = CutBack.of(section, pencil).low - pencil.paper(BEYOND_FOOT * times)
    marks = balloon_row(items_under(section, pencil, ends), pencil, room, level=foot)
    backfill = item_of_backfill(section)
    if backfill is not None:
        top = max(section.levels.skin, section.levels.glass_face)
        at = (min(0.0, backfill.place[0]) - pencil.paper(4.5 * times), top + pencil.paper(5.0 * times))
        marks += balloon_beside(backfill, at, pencil, room)
    return marks


def _says(lines: Sequence[str], place: SectionPlace, scale: float, style: DraftingStyle) -> list[Mark]:
    """A few lines under the title of a section."""
    x, y = place.title
    pencil = Pencil(style, scale)
    home = place.home
    marks: list[Mark] = []
    broken = [part for words in lines for part in wrapped(words, place.box[2] - x, style.text)]
    for index, words in enumerate(broken):
        low = y - (6.0 + SAYS_PITCH * index) * style.text / 2.5 - 1.0
        marks.append(pencil.text("TEXT", ((x - home[0]) / scale, (low - home[1]) / scale), words))
    return marks


def _room(scale: float, style: DraftingStyle, place: SectionPlace) -> KeepClear:
    left, bottom, right, top = place.box
    x, y = place.home
    within = ((left - x) / scale, (bottom - y) / scale, (right - x) / scale, (top - y) / scale)
    return KeepClear(scale=scale, clear=style.off_lines, apart=style.clear, within=within)


def _section_flags(
    flags: Sequence[Flagged], section: Section, pencil: Pencil, room: KeepClear, place: SectionPlace
) -> list[Mark]:
    """Flags round the section, each as near to the thing it speaks of as there is room outside the faces."""
    if not flags:
        return []
    import numpy as np

    levels, ends = section.levels, CutBack.of(section, pencil)
    faces = (
        (ends.left, ends.low, section.crossing.landing, 0.0),
        (ends.left, 0.0, 0.0, levels.skin),
        (0.0, 0.0, ends.right, max(levels.glass_face, levels.skin)),
    )
    left, bottom, right, top = (
        (edge - home) / pencil.scale for edge, home in zip(place.box, (*place.home, *place.home), strict=True)
    )
    step = pencil.paper(2.5)
    across = left + step * (np.arange(int((right - left) / step)) + 1.5)
    upwards = bottom + step * (np.arange(int((top - bottom) / step)) + 1.2)
    x, y = (each.ravel() for each in np.meshgrid(across, upwards, indexing="ij"))
    over = area_of((0.0, 0.0), pencil)
    outside = np.ones(len(x), dtype=bool)
    for low_x, low_y, high_x, high_y in faces:
        outside &= ~((x + over[0] < high_x) & (low_x < x + over[2]) & (y + over[1] < high_y) & (low_y < y + over[3]))
    x, y = x[outside], y[outside]
    marks: list[Mark] = []
    for flag in flags:
        away = np.hypot(x - flag.place[0], y - flag.place[1])
        far = away > pencil.paper(8.0)
        rank = np.rint(away[far] / step) + 6 * (y[far] < 0.0)
        order = np.lexsort((y[far], x[far], rank))
        spots = zip(x[far][order].tolist(), y[far][order].tolist(), strict=True)
        marks += placed_flag(flag, spots, pencil, room)
    return marks


__all__ = [
    "SAYS_PITCH",
    "Placed",
    "SectionPlace",
    "block_view",
    "corner_view",
    "first_section",
    "plan_view",
    "second_section",
    "title_marks",
    "worst_section",
]
