"""The sketch of the section: cut as on the detail sheet, its sizes lettered as the sums have them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.section_view import outline_box, section_faces
from outputs.record.pictures import Laid, figure, height_of, in_the_middle, ratio, true_scale, width_of
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.pencil import Pencil

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section
    from outputs.record.markup import Html
    from outputs.sheet.entities import Mark

ROW, FIRST = 6.0, 6.0  # paper mm from one dimension line to the next, and to the first
ACROSS = 104.0  # paper mm, width of the sketch
BEYOND = 20.0  # paper mm, frame and glass shown beyond wall, landing and frit
LEAST = 0.05  # mm, a size that is not there


def sketch(detail: Detail) -> Html:
    """The typical section at a true scale."""
    section = _typical(detail)
    x, z = section.crossing, section.levels
    scale = true_scale(max(x.landing, x.frit_inner), max(z.skin, z.glass_face), ACROSS - 28.0 - BEYOND, 60.0 - BEYOND)
    pencil = Pencil(DraftingStyle(), scale)
    cut = section_faces(section, pencil)
    marks = (*cut, *_sizes(section, detail, pencil, outline_box(cut)))
    view = in_the_middle("section", marks, scale, outline=None)
    told = (
        f"Typical section, scale {ratio(scale)}: weather side up, recess wall on the left. The frit "
        "is the black strip on the inner face of the glass, not to scale."
    )
    return figure(
        "section", "Section with the letters of the sums", told, told, Laid((view,), height_of(view)), width=width_of(view)
    )


def _typical(detail: Detail) -> Section:
    """A section with a spacer and no chock where there is one: everything that has a letter is cut there."""
    return min(detail.sections, key=lambda each: (each.chock is not None, each.spacer is None))


def _sizes(section: Section, detail: Detail, pencil: Pencil, cut: tuple[float, float, float, float]) -> list[Mark]:
    """Dimension lines with letters: along the landing below, along the glass above, heights left and right."""
    x, z, sizes = section.crossing, section.levels, detail.sizes
    left, low, right, _ = cut
    top = max(z.skin, z.glass_face)
    below = [
        [("g", 0.0, x.glass_edge), ("s", x.glass_edge, x.bead_outer), ("w", x.bead_outer, x.bead_inner)],
        [("c", x.glass_edge, x.bead_centre)],
        [("L", 0.0, x.landing)],
    ]
    above = [
        [("a", x.glass_edge, x.frit_start), *([("f", x.frit_fade, x.frit_inner)] if x.frit_fade is not None else [])],
        [("F", x.glass_edge, x.frit_inner)],
    ]
    half = (x.bead_centre - x.bead_outer) / 2.0  # between two extension lines: that of the bead's edge and that of its centre
    beside = {"w": 0.25, "c": 1.0 - half / max(x.bead_centre - x.glass_edge, LEAST)}
    marks: list[Mark] = []
    for count, row in enumerate(below):
        level = low - pencil.paper(FIRST + count * ROW)
        marks += [_along(pencil, letter, a, b, 0.0, level, beside.get(letter, 0.5)) for letter, a, b in row if abs(b - a) > LEAST]
    lane = 0.0
    for row in above:
        drawn = [each for each in row if abs(each[2] - each[1]) > LEAST]
        marks += [_along(pencil, letter, a, b, top, top + pencil.paper(FIRST + lane)) for letter, a, b in drawn]
        lane += ROW if drawn else 0.0
    foot, head = (0.0, z.backfill) if z.backfill >= z.skin - z.backfill else (z.backfill, z.skin)
    under = (foot + head) / 2.0 / max(z.skin, LEAST)  # clear of the extension line of the backfill's depth, which runs across
    at_left = [("R", 0.0, z.skin), ("d", z.backfill, min(z.skin, z.glass_face))]
    at_right = [("t", 0.0, z.bond_face), ("T", z.bond_face, z.glass_face), ("z", z.skin, z.glass_face)]
    for count, (letter, a, b) in enumerate(each for each in at_left if abs(each[2] - each[1]) > LEAST):
        marks.append(_up(pencil, letter, a, b, 0.0, left - pencil.paper(FIRST + count * ROW), under if letter == "R" else 0.5))
    for count, (letter, a, b) in enumerate(each for each in at_right if abs(each[2] - each[1]) > LEAST):
        beyond = right + pencil.paper(FIRST + (count // 2) * ROW)
        marks.append(_up(pencil, letter, a, b, right if letter != "t" else x.landing, beyond))
    if section.spacer is not None:
        spacer = [node for face in section.faces if face.material == "spacer" for node in face.nodes]
        if spacer and sizes.spacer_width.value > LEAST:
            first, last = min(node[0] for node in spacer), max(node[0] for node in spacer)
            marks.append(_along(pencil, "b", first, last, 0.0, low - pencil.paper(FIRST + ROW * 3)))
    return marks


def _along(pencil: Pencil, letter: str, a: float, b: float, foot: float, level: float, share: float = 0.5) -> Mark:
    return pencil.linear((a, foot), (b, foot), line_at=level, text=letter, text_share=share)


def _up(pencil: Pencil, letter: str, a: float, b: float, foot: float, at: float, share: float = 0.5) -> Mark:
    return pencil.linear((foot, a), (foot, b), line_at=at, angle=90.0, text=letter, text_share=share)


__all__ = ["sketch"]
