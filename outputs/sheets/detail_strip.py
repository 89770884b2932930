"""The strip of a detail sheet: which sections are cut, at which scale, and their views side by side.

The first shows all figures; the one through a spacer, and that at the worst place of a finding that fails, show what is otherwise there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from outputs.sheet.pencil import Pencil
from outputs.sheets.detail_choice import first_title, section_flags, spacer_section, typical_words, worst_words
from outputs.sheets.flag_words import FEATURES
from outputs.sheets.pictures import Placed, SectionPlace, first_section, second_section, worst_section

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail, Section
    from geometry.findings.state import Flag
    from outputs.drawing.plan_basis import PlanBasis
    from outputs.sheets.detail_choice import Shown
    from outputs.sheets.detail_places import Places

SECTION_SCALES = (2.0, 1.0, 0.5)
AS_FIRST = "As A-A; frit strip not to scale."


@dataclass(frozen=True, slots=True)
class Cut:
    """The sections that are cut, their views, and the flags of what lies beyond the break of the worst one."""

    sections: tuple[Section, ...]
    views: tuple[Placed, ...]
    beyond: frozenset[int]


class Strip:
    """Composes the sections of one sheet."""

    def __init__(self, detail: Detail, places: Places, shown: Shown, flags: Sequence[Flag]) -> None:
        self.detail, self.places, self.style = detail, places, places.style
        self.shown, self.flags = shown, flags

    def views(self, plan_scale: float, basis: PlanBasis) -> Cut:
        """The sections beside a plan of this scale and basis, which tells where their planes stand far enough apart, and from other lines."""
        detail, shown = self.detail, self.shown
        first, worst = detail.sections[0], shown.worst
        both = worst is None or self.places.roomy
        through = spacer_section(detail, plan_scale, [first, *([worst] if worst else [])], basis) if both else None
        if through is None and worst is None:
            through = detail.sections[1]
        scale = next((s for s in SECTION_SCALES if self._first_fits(first, s)), SECTION_SCALES[-1])
        cut, views = [first], [self._first(first, scale, rest=None if through is not None else first)]
        if through is not None:
            views.append(self._through(through, len(cut), scale if self.places.roomy else min(scale, 1.0)))
            cut.append(through)
        beyond: frozenset[int] = frozenset()
        if worst is not None:
            view, beyond = self._worst(worst, len(cut), scale, numbered=through is None)
            views.append(view)
            cut.append(worst)
        return Cut(tuple(cut), tuple(views), beyond)

    def _first(self, section: Section, scale: float, *, rest: Section | None) -> Placed:
        own = [flag for flag in self.flags if flag not in self.shown.worst_flags and _in_section(flag)]
        flagged = section_flags(own, section, Pencil(self.style, scale), all_round=True)
        titled = replace(section, title=first_title(self.detail))
        # four rows of figures reach up beside the title: then its words stand under it
        under = section.crossing.frit_fade is not None
        return first_section(titled, self.detail, scale, self.style, self._place(0, scale), flagged, rest=rest, under=under)

    def _through(self, section: Section, order: int, largest: float) -> Placed:
        scale = self._scale(section, order, largest)
        return second_section(
            section,
            scale,
            self.style,
            self._place(order, scale),
            title=f"spacer {section.title}",
            says=(AS_FIRST, typical_words(self.detail)),
        )

    def _worst(self, section: Section, order: int, largest: float, *, numbered: bool) -> tuple[Placed, frozenset[int]]:
        first = self.detail.sections[0]
        scale = self._scale(section, order, largest)
        place = self._place(order, scale)
        flags = section_flags(self.shown.worst_flags, section, Pencil(self.style, scale), all_round=False)
        end = (place.box[2] - place.home[0]) / scale
        beyond = frozenset(flag.number for flag in flags if flag.place[0] > end - 1.0)
        view = worst_section(
            section,
            first,
            self.detail,
            scale,
            self.style,
            place,
            title=self.shown.worst_says,
            says=(AS_FIRST, *worst_words(section, first)),
            flags=[flag for flag in flags if flag.number not in beyond],
            numbered=numbered,
        )
        return view, beyond

    def _scale(self, section: Section, order: int, largest: float) -> float:
        return next((s for s in SECTION_SCALES if s <= largest and self._other_fits(section, order, s)), SECTION_SCALES[-1])

    def _place(self, order: int, scale: float) -> SectionPlace:
        places = self.places
        title, home = places.section(order, scale)
        left = 23.5 if order == 0 else title[0] - 2.0
        beside = places.notes[0] - 4.0 if places.roomy else places.paper.width - 12.0 - 180.0  # the title block
        apart = (12.0 if places.roomy else 4.0) * places.times  # larger sections reach farther left of their titles
        right = min(places.section(order + 1, 1.0)[0][0] - apart, beside)
        return SectionPlace(title, home, (left, 11.5, right, places.strip - 1.0))

    def _first_fits(self, section: Section, scale: float) -> bool:
        """Whether the section with its rows of figures fits the strip at a scale."""
        place = self._place(0, scale)
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
        place = self._place(order, scale)
        high = max(section.levels.skin, section.levels.glass_face) * scale + 2 * self.style.first_row
        least = section.crossing.bead_inner * scale + 4.0 * self.places.times
        return place.home[0] + least <= place.box[2] and place.home[1] + high <= place.title[1] - 12.0 * self.places.times


def _in_section(flag: Flag) -> bool:
    finding = flag.finding
    return finding.name in FEATURES and (finding.at is None or finding.part.startswith("K"))


__all__ = ["Cut", "Strip"]
