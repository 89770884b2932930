"""Side 1 of the fitter's card, foot: the section with three figures, and the notch of the nozzle at full size.

Both are true shapes. The section is enlarged until a figure 10 mm high stands in the glass; a pane too thick for the card is broken off
above. The notch is the cut-out of the nozzle's end, drawn 1:1, to lay the nozzle on; the bar beside it proves the print.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.card_hand import HEADING, KEY, LEFT, PLAIN, SOLID, TITLE, down, field, head, width_of, words
from outputs.drawing.materials import LAYER_OF
from outputs.sheet.drafting import number
from outputs.sheet.entities import Hatch, Path
from outputs.sheet.runs import box_nodes, line, run

if TYPE_CHECKING:
    from geometry.detail.parts import CutFace, Detail, Section
    from outputs.sheet.entities import Mark, Node, Place

WIDE, HIGH = 104.0, 37.0  # paper mm that the section may take
LEAST_SCALE, FIGURE_ROOM, OVER_GLASS = 1.8, 16.9, 16.4  # of the section; glass that a figure of 10 mm with its line takes
FRAME, FLOOR, BEYOND, LANDING_LEFT = (
    6.0,
    4.5,
    21.0,
    4.0,
)  # paper mm of frame beside the wall and under the landing, of glass beyond the last thing
NOTCH_LEFT, NOTCH_FOOT, NOTCH_WIDE, NOTCH_HIGH = 123.5, 23.5, 30.0, 24.5
BAR = 50.0
NO_BACKER = "NO BACKER FITS: ask before backfill"
"""Stands for the title where bond-breaker tape takes the place of a backer: how deep the joint is then filled is for the office to say."""
FARTHEST = 36.0  # paper mm of glass beyond the last thing, where there is room
HANGS = 1.9  # of a comma 10 mm high under its line


def section_marks(detail: Detail) -> list[Mark]:
    """The section through a spacer with set-back, width and thickness of the bead."""
    section = next((each for each in detail.sections if each.spacer is not None and each.chock is None), detail.sections[0])
    cross, levels = section.crossing, section.levels
    last = max(cross.landing, cross.bead_inner)
    scale = max(LEAST_SCALE, FIGURE_ROOM / (levels.glass_face - levels.bond_face))
    whole = max(levels.glass_face, levels.skin)
    if last * scale > WIDE - FRAME - BEYOND:
        last = min(last, cross.bead_inner + LANDING_LEFT)  # the landing is broken off there
    scale = min(scale, (WIDE - FRAME - BEYOND) / last, (HIGH - FLOOR - FIGURE_ROOM) / levels.bond_face)
    in_whole = (HIGH - FLOOR) / whole
    if in_whole * (levels.glass_face - levels.bond_face) >= FIGURE_ROOM:
        scale = min(scale, in_whole)  # else it is broken off above
    over = (levels.glass_face - levels.bond_face) * scale < FIGURE_ROOM - 0.3
    if over:  # a bond so thick that no figure stands in the glass: set-back and width stand over it
        scale = min(scale, (HIGH - FLOOR - OVER_GLASS) / whole)
    top = min(whole, (10.5 + HIGH - _foot(section, scale)) / scale)
    shape = _Shape(section, scale, top, last, min(last + FARTHEST / scale, (WIDE - FRAME) / scale))
    outside = _outside(detail, shape, over=over)
    title = "SECTION: set-back, width, thickness" if outside else "SECTION, OUTSIDE up: sizes"
    marks: list[Mark] = [words(LEFT, down(246.5), title if detail.sizes.backer_fits else NO_BACKER, HEADING, bold=True), *outside]
    for face in section.faces:
        marks += shape.face(face)
    marks += shape.glass()
    marks += _sizes(detail, shape, over=over)
    return marks


def _foot(section: Section, scale: float) -> float:
    """Height of the landing on the card: high enough for the figure of the thickness, and its comma, to hang under the glass."""
    thick = section.levels.bond_face
    low = 10.5 + (HANGS if "," in number(thick, decimals=1) else 0.0)
    return max(low + FLOOR, low + KEY + 2.2 - thick * scale)


class _Shape:
    """The section on the paper: its foot of the wall stands at (LEFT + FRAME, foot)."""

    def __init__(self, section: Section, scale: float, top: float, landing: float, end: float) -> None:
        self.section, self.scale, self.top, self.landing, self.end = section, scale, top, landing, end
        self.foot = _foot(section, scale)

    def at(self, x: float, z: float) -> Place:
        """A place of the section, cut off at what is drawn of it."""
        x = min(max(x, -FRAME / self.scale), self.end)
        z = min(max(z, -FLOOR / self.scale), self.top)
        return LEFT + FRAME + x * self.scale, self.foot + z * self.scale

    def nodes(self, face: CutFace) -> tuple[Node, ...]:
        """The run of a face; arcs stay arcs."""
        last = self.landing if face.material == "frame" else self.end
        return tuple((*self.at(min(x, last), z), bulge) for x, z, bulge in face.nodes)

    def face(self, face: CutFace) -> list[Mark]:
        """Hatch and outline of a face; the glass is one body and comes later."""
        nodes = self.nodes(face)
        if face.material in ("glass", "interlayer") or max(node[1] for node in nodes) - min(node[1] for node in nodes) < 0.3:
            return []
        layer = LAYER_OF[face.material]
        outline = Path("CUT_OUTLINE", nodes, True)
        if face.material == "backer":
            return [outline]
        if face.material == "spacer":
            xs, ys = [node[0] for node in nodes], [node[1] for node in nodes]
            low, high = (min(xs), min(ys)), (max(xs), max(ys))
            return [outline, line("CUT_OUTLINE", low, high), line("CUT_OUTLINE", (low[0], high[1]), (high[0], low[1]))]
        if face.material == "adhesive":
            return [Hatch(layer, "adhesive", (nodes,)), outline]
        return [Hatch(layer, face.material, (nodes,)), outline]

    def glass(self) -> list[Mark]:
        """Glass as one body, broken off at its right, and above where it is too thick; the frit under it."""
        cross, levels = self.section.crossing, self.section.levels
        (left, low), (right, high) = self.at(cross.glass_edge, levels.bond_face), self.at(self.end, levels.glass_face)
        marks: list[Mark] = [run("GLASS", ((right, low), (left, low), (left, high)))]
        if levels.glass_face <= self.top + 1e-9:
            marks.append(line("GLASS", (left, high), (right, high)))
        else:
            places = [(left + (right - left) * step / 12, high + (0.8 if step % 2 else -0.4)) for step in range(13)]
            marks.append(run("BREAK_LINES", places))
        middle = (low + high) / 2
        zigzag = (
            (right, low - 1.2),
            (right, middle - 1.6),
            (right - 1.4, middle - 0.8),
            (right + 1.4, middle + 0.8),
            (right, middle + 1.6),
        )
        marks.append(run("BREAK_LINES", (*zigzag, (right, high + 0.6))))
        end = cross.frit_inner if cross.frit_fade is None else cross.frit_fade
        first, last = self.at(cross.frit_start, 0)[0], self.at(end, 0)[0]
        marks.append(Hatch("MATERIAL_FRAME", SOLID, (box_nodes(first, low - 1.1, last, low - 0.1),)))
        return marks


def _level(shape: _Shape, *, over: bool) -> float:
    """Where the lines of set-back and width stand: in the glass, or over it."""
    levels = shape.section.levels
    return shape.at(0, max(levels.glass_face, levels.skin) if over else levels.bond_face)[1] + 2.6


def _upper_figures(detail: Detail, shape: _Shape) -> list[tuple[float, float, float, str]]:
    """Set-back and width, 10 mm high: both ends of the line, the middle of the figure, and the figure; the second clear of the first."""
    cross, found = shape.section.crossing, []
    edge, outer, inner = (shape.at(x, 0)[0] for x in (cross.glass_edge, cross.bead_outer, cross.bead_inner))
    clear = edge + 1.2
    for first, last, size in ((edge, outer, detail.sizes.set_back), (outer, inner, detail.sizes.bond_width)):
        figure = number(size.value, decimals=1)
        wide = width_of(figure, KEY, bold=True)
        centre = max((first + last) / 2, clear + wide / 2)
        found.append((first, last, centre, figure))
        clear = centre + wide / 2 + 2.0
    return found


def _outside(detail: Detail, shape: _Shape, *, over: bool) -> list[Mark]:
    """Which face looks outside, in the glass beyond the figures; empty where there is no room for the word."""
    *_, (_, inner, centre, figure) = _upper_figures(detail, shape)
    left, right = max(inner, centre + width_of(figure, KEY, bold=True) / 2 + 2.0), shape.at(shape.end, 0)[0]
    told = next((each for each in ("OUTSIDE up", "OUTSIDE") if right - left > width_of(each) + 6.0), None)
    if told is None:
        return []
    level = _level(shape, over=over)
    high = level + 3.0 if over else min(shape.at(0, shape.section.levels.glass_face)[1] - 3.0 - PLAIN, level + 6.0)
    return [words((left + right) / 2 + 0.8, high, told, align="middle")]


def _sizes(detail: Detail, shape: _Shape, *, over: bool) -> list[Mark]:
    """Three figures 10 mm high: set-back and width in the glass, thickness beside the landing."""
    sizes, cross, levels = detail.sizes, shape.section.crossing, shape.section.levels
    outer, inner = (shape.at(x, 0)[0] for x in (cross.bead_outer, cross.bead_inner))
    under, level = shape.at(0, levels.bond_face)[1], _level(shape, over=over)
    marks: list[Mark] = [line("DIMENSIONS", (x, under), (x, level + 1.2)) for x in (outer, inner)]
    for first, last, centre, figure in _upper_figures(detail, shape):
        marks += _between((first, level), (last, level))
        marks.append(words(centre, level + 2.4, figure, KEY, bold=True, align="middle"))
    beyond = max(inner, shape.at(shape.landing, 0)[0])
    column = beyond + 3.5
    landing = shape.at(0, 0)[1]
    lower = under - 1.1 if cross.frit_inner > cross.landing else under
    marks += [line("DIMENSIONS", (beyond + 0.6, landing), (column + 1.6, landing)), *_between((column, landing), (column, lower))]
    figure = number(sizes.bond_thickness.value, decimals=1)
    marks.append(words(column + 2.7, min(landing - 4.4, lower - 0.9 - KEY), figure, KEY, bold=True))
    return marks


def _between(first: Place, last: Place) -> list[Mark]:
    """A dimension line with its two arrowheads."""
    long = ((last[0] - first[0]) ** 2 + (last[1] - first[1]) ** 2) ** 0.5
    way = ((last[0] - first[0]) / long, (last[1] - first[1]) / long)
    size = min(2.6, long / 2.4)
    return [
        line("DIMENSIONS", first, last),
        head("DIMENSIONS", last, way, size, size / 3),
        head("DIMENSIONS", first, (-way[0], -way[1]), size, size / 3),
    ]


def notch_marks(detail: Detail) -> tuple[list[Mark], bool]:
    """The notch of the nozzle at full size, its figures and a bar of 50 mm; whether the notch itself found room."""
    fresh = detail.uncured_bead
    wide, high = fresh.notch_width, fresh.notch_height
    drawn = high + 4.0 <= NOTCH_HIGH and wide + 8.0 <= 2 * NOTCH_WIDE
    plate = max(NOTCH_WIDE, wide + 12.0)
    left, foot, top = NOTCH_LEFT, NOTCH_FOOT, NOTCH_FOOT + max(high + 4.0, 12.0)
    middle = left + plate / 2
    marks: list[Mark] = []
    if drawn:
        nodes = (
            (left, foot, 0.0),
            (middle - wide / 2, foot, 0.0),
            (middle, foot + high, 0.0),
            (middle + wide / 2, foot, 0.0),
            (left + plate, foot, 0.0),
            (left + plate, top, 0.0),
            (left, top, 0.0),
        )
        marks += [Hatch("MATERIAL_FRAME", "frame", (nodes,)), Path("CUT_OUTLINE", nodes, True)]
    marks.append(
        words(left, down(246.5), "NOTCH 1:1, lay nozzle on it" if drawn else "NOTCH: use the template", HEADING, bold=True)
    )
    x = left + plate + 3.5 if drawn else left
    for foot_, value, name in ((foot + 13.3, wide, "wide"), (foot - 0.7, high, "high")):
        figure = number(value, decimals=1)
        marks.append(words(x, foot_, figure, KEY, bold=True))
        marks.append(words(x + width_of(figure, KEY, bold=True) + 2.0, foot_, name, TITLE, bold=True))
    return [*marks, *_bar(left)], drawn


def _bar(left: float) -> list[Mark]:
    """A bar of 50 mm in fields of 10, its outline inside its length so that it measures true."""
    foot, high, half = 12.0, 3.0, 0.25
    marks: list[Mark] = [field(left + half, foot, left + BAR - half, foot + high)]
    marks += [
        Hatch("PLATES", SOLID, (box_nodes(left + start, foot, left + start + 10.0, foot + high),)) for start in (0.0, 20.0, 40.0)
    ]
    return [*marks, words(left + BAR + 3.0, foot - 0.5, "50 mm", 4.0, bold=True)]


__all__ = ["notch_marks", "section_marks"]
