"""The views of a detail sheet, composed and titled, each at the scales that suit it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.bead_view import bead_marks, notch_marks
from outputs.drawing.corner_view import corner_marks
from outputs.drawing.plan_options import PlanShows
from outputs.drawing.plan_outlines import corner_window
from outputs.drawing.plan_view import PlanView
from outputs.drawing.section_room import least_room
from outputs.drawing.section_view import section_marks
from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import scale_designation
from outputs.sheet.entities import Text
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.pencil import Pencil
from outputs.sheet.picture import OVER_VIEW, Picture, titled

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Mark
    from outputs.sheet.outcomes import Outcome

LONG_CORNER = 120.0  # mm from which a corner may be shown at half size
BEAD_ROOM = 400.0  # paper mm the bead may take
CORNER_ROOM = (175.0, 105.0)  # paper mm the enlarged corner may take


def plan_picture(detail: Detail, scale: float, style: DraftingStyle, shows: PlanShows | None = None) -> Picture:
    """The plan at a scale, with everything on it or with what it is told to show."""
    shows = PlanShows() if shows is None else shows
    letter = "Z" if detail.worst_corner is not None else None
    view = PlanView(detail, Pencil(style, scale), corner_letter=letter, shows=shows)
    title = f"PLAN {scale_designation(scale)}, viewed from {shows.seen_from}"
    return titled("PLAN", title, scale, tuple(view.marks), style, outcomes=view.outcomes)


def section_pictures(detail: Detail, scale: float, style: DraftingStyle) -> list[Picture]:
    """All sections at one scale."""
    drawn: dict[object, tuple[tuple[Mark, ...], list[Outcome]]] = {}
    return [_section_picture(section, detail, Pencil(style, scale), drawn) for section in detail.sections]


def rough_sections(detail: Detail, scale: float, style: DraftingStyle) -> list[Picture]:
    """Pictures of what the sections take at least at one scale, without marks: to see whether it is worth drawing them."""
    rough = []
    for section in detail.sections:
        width, height = least_room(section, detail, Pencil(style, scale))
        title = _section_title(section, scale)
        left, _, right, top = box_of_text(Text("TEXT", 0.0, OVER_VIEW, title, style.title), 1.0)
        box = (0.0, 0.0, max(width, right - left) / scale, (height + top) / scale)
        rough.append(Picture(f"SECTION {section.letter}", title, scale, (), box))
    return rough


def _section_title(section: Section, scale: float) -> str:
    return f"{section.letter}-{section.letter} {scale_designation(scale)}  {section.title}"


def _section_picture(
    section: Section, detail: Detail, pencil: Pencil, drawn: dict[object, tuple[tuple[Mark, ...], list[Outcome]]]
) -> Picture:
    """One section; those that cut the same are drawn once, for letter and title stand beside them."""
    chock = section.chock.kind if section.chock else None
    same = (section.crossing, section.levels, section.profile, section.faces, chock, section.spacer is None)
    if same not in drawn:
        room = KeepClear(scale=pencil.scale)
        drawn[same] = section_marks(section, detail, pencil, room=room), room.outcomes
    marks, outcomes = drawn[same]
    return titled(
        f"SECTION {section.letter}", _section_title(section, pencil.scale), pencil.scale, marks, pencil.style, outcomes=outcomes
    )


def corner_scales(detail: Detail) -> tuple[float, ...]:
    """Scales at which the deciding corner keeps within its room, largest first; empty on an outline without corners."""
    if detail.worst_corner is None:
        return ()
    left, bottom, right, top = corner_window(detail)
    fitting = [s for s in (2.0, 1.0, 0.5, 0.2) if (right - left) * s <= CORNER_ROOM[0] and (top - bottom) * s <= CORNER_ROOM[1]]
    long_corner = right - left > LONG_CORNER or top - bottom > LONG_CORNER
    enlarged = [s for s in fitting if s >= 1.0 or (s == 0.5 and long_corner)]
    return tuple(enlarged or fitting[:1]) or (0.1,)


def corner_picture(detail: Detail, scale: float, style: DraftingStyle) -> Picture:
    """The deciding corner. Raises ``ValueError`` on an outline without corners."""
    worst = detail.worst_corner
    if worst is None:
        raise ValueError("a pane without corners has no corner detail")
    marks = corner_marks(detail, worst, Pencil(style, scale))
    return titled("DETAIL Z", f"Z {scale_designation(scale)}  corner V{worst.corner.number}", scale, marks, style)


def bead_pictures(detail: Detail, style: DraftingStyle) -> list[Picture]:
    """The bead as laid and as pressed, and the template of the notch."""
    largest = max(detail.uncured_bead.notch_height, 2 * detail.sizes.bond_width.value)
    scale = next((s for s in (5.0, 2.0, 1.0) if largest * s <= BEAD_ROOM), 0.5)
    return [
        titled("BEAD", f"BEAD {scale_designation(scale)}", scale, bead_marks(detail, Pencil(style, scale)), style),
        titled("NOTCH", "V-NOTCH TEMPLATE 1:1", 1.0, notch_marks(detail, Pencil(style, 1.0)), style),
    ]


__all__ = ["bead_pictures", "corner_picture", "corner_scales", "plan_picture", "rough_sections", "section_pictures"]
