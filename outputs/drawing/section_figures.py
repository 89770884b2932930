"""The figures of a section: rows over it from the glass edge, the landing under it, heights at both sides.

All figures stand on the first section; a second one has only what differs from it.

Terms
-----
row
    Dimensions on one level over the section, the shortest nearest to it; the joint, the set-back and the bond width share the first.
limits
    A joint whose tolerance is more than two fifths of it, or that half millimetres would falsify, is written as its least and greatest width,
    rounded as those of the gap that is read.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.workings.gap_limits import TOLD, told_about
from outputs.drawing.section_view import CutBack
from outputs.sheet.drafting import as_fine_as, between, in_halves, number, sized
from outputs.sheet.entities import Dimension, Mark, Text
from outputs.sheet.runs import line, run

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section
    from outputs.sheet.entities import Fill, Path
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

AS_LIMITS = 0.4  # share of a size from which its tolerance is written as limits
UNDER = 9.0  # paper mm from the foot of the section to the landing's line
BESIDE = 8.0  # paper mm from the section to the heights
BOND_BESIDE, BOND_NEAR = 8.0, 2.0  # paper mm from the bead to the line of its thickness, and the least where its figure has little room
UNDER_GLASS = 5.4  # paper mm, of a gap with room for its figure between landing and frit
SHORT_THICKNESS, BOND_PAST = 12.0, 8.0  # paper mm: glass whose figure stands on a tail, and how much farther out its line then is
MOVED = 0.051  # mm by which rounding may move a joint that is told with its deviations
BESIDE_LINE = 1.4  # paper mm from the line of an upright dimension to its figure
COVERED = 0.01  # mm of frit beyond the landing from which its figure is drawn
ALIKE = 1e-6


@dataclass(frozen=True, slots=True)
class Figure:
    """One level dimension over a section: its name, from where to where, what is printed, and at which end where there is no room."""

    name: str
    first: float
    second: float
    text: str
    at_first: bool = False
    short: str = ""


def joint_words(width: float, tolerance: float | None) -> str:
    """A joint as a reader needs it: limits where its tolerance is large, an overlap in words where the glass stands in the frame."""
    if width <= 0:
        return f"overlap {number(-width)}"
    if tolerance and (tolerance > AS_LIMITS * width or _moved_by_rounding(width, tolerance)):
        return between(*told_about(width, tolerance, TOLD if tolerance >= TOLD else TOLD / 10.0))
    return sized(width, tolerance)


def _moved_by_rounding(width: float, tolerance: float) -> bool:
    """Whether a joint in half millimetres would be another one, as at a block of a surveyed recess: then its limits are told."""
    return tolerance >= 1.0 and abs(width - in_halves(width)) > MOVED

def rows_over(section: Section, detail: Detail) -> list[list[Figure]]:
    """The rows of a section with all figures."""
    x, sizes = section.crossing, detail.sizes
    edge = x.glass_edge
    first = [Figure("joint", 0.0, edge, joint_words(section.joint_width, sizes.joint_width.tolerance), at_first=True)]
    if x.bead_outer - edge > ALIKE:
        first.append(Figure("set-back", edge, x.bead_outer, as_fine_as(x.bead_outer - edge, sizes.set_back.tolerance)))
    first.append(
        Figure("bond width", x.bead_outer, x.bead_inner, as_fine_as(x.bead_inner - x.bead_outer, sizes.bond_width.tolerance))
    )
    rows = [
        first,
        [
            Figure(
                "bead, inner edge",
                edge,
                x.bead_inner,
                f"({as_fine_as(x.bead_inner - edge, None)}) bead, inner edge",
                short=f"({as_fine_as(x.bead_inner - edge, None)})",
            )
        ],
    ]
    tolerance = sizes.frit_width.tolerance
    if x.frit_fade is not None:
        rows.append([Figure("solid frit", edge, x.frit_fade, f"{as_fine_as(x.frit_fade - edge, None)} solid")])
    rows.append(
        [
            Figure(
                "frit",
                edge,
                x.frit_inner,
                f"{_print_width(x.frit_inner - edge, tolerance)} frit{' with fade' if x.frit_fade is not None else ''}",
            )
        ]
    )
    return rows


def _print_width(width: float, tolerance: float | None) -> str:
    """A width of the print, to a tenth as the supplier's sheet has it: the cover of the landing beside it follows from it."""
    figure = as_fine_as(width, None)
    return f"{figure} ±{number(tolerance)}" if tolerance else figure


def all_figures(section: Section, detail: Detail, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """Every figure of the section through a chock."""
    levels, x, sizes = section.levels, section.crossing, detail.sizes
    ends, style = CutBack.of(section, pencil), pencil.style
    top = max(levels.skin, levels.glass_face)
    found: list[Mark] = []
    for index, row in enumerate(rows_over(section, detail)):
        level = top + pencil.paper(style.first_row + index * style.row)
        for each in row:
            start = levels.skin if each.name == "joint" else levels.glass_face
            found.append(_level(each, (start, levels.glass_face), level, pencil))
            room.drawn(each.name)
    foot = ends.low - pencil.paper(UNDER)
    landing = f"{sized(x.landing, sizes.landing.tolerance)} landing{_shows(section)}"
    if pencil.width(landing) > x.landing - pencil.paper(2 * pencil.style.off_lines):
        landing = sized(x.landing, sizes.landing.tolerance)
    found.append(pencil.linear((0.0, ends.low), (x.landing, ends.low), line_at=foot, text=landing))
    room.drawn("landing")
    found += _beyond(section, pencil, foot)
    room.drawn("cover of the landing")
    left = ends.left - pencil.paper(BESIDE)
    depth = sized(levels.skin, sizes.recess_depth.tolerance)
    found.append(pencil.linear((ends.left, 0.0), (ends.left, levels.skin), line_at=left, angle=90.0, text=depth, gap_first=-0.0))
    room.drawn("recess depth")
    right = ends.right + pencil.paper(BESIDE)
    if _bond_aside(section, detail, pencil) is None and detail.glass.thickness * pencil.scale < SHORT_THICKNESS * style.text / 2.5:
        right += pencil.paper(BOND_PAST * style.text / 2.5)  # its tails would run through the figure of the bond
    thick = sized(detail.glass.thickness, sizes.glass_thickness.tolerance)
    found.append(
        pencil.linear(
            (ends.right, levels.bond_face),
            (ends.right, levels.glass_face),
            line_at=right,
            angle=90.0,
            text=thick,
            outside="second",
        )
    )
    room.drawn("glass thickness")
    found += bond_figure(section, detail, pencil)
    room.drawn("bond thickness")
    proud = levels.glass_face - levels.skin
    if abs(proud) > 0.05:
        words = f"{as_fine_as(abs(proud), None)} {'proud' if proud > 0 else 'below'}"
        at = (-pencil.paper(1.2), levels.skin + pencil.paper(2.9))
        text = pencil.text("DIMENSIONS", at, words, align="right")
        found.append(text)
        room.drawn("glass to skin")
    found += _profile_notes(section, pencil, room)
    room.add(found)
    return found


def _level(figure: Figure, starts: tuple[float, float], level: float, pencil: Pencil) -> Dimension:
    """A level dimension; one that is too short for its figure and the words behind it has its figure alone."""
    room = (
        figure.second - figure.first - pencil.paper(2 * (pencil.style.arrow + pencil.style.off_lines))
    )  # words hang over no arrow
    if not figure.at_first and pencil.width(figure.text) > room:
        figure = replace(figure, text=figure.short or figure.text)
    return pencil.linear(
        (figure.first, starts[0]),
        (figure.second, starts[1]),
        line_at=level,
        text=figure.text,
        outside="first" if figure.at_first else "second",
    )


def _beyond(section: Section, pencil: Pencil, level: float) -> list[Mark]:
    """How far the frit covers what is beyond the landing."""
    x = section.crossing
    beyond = x.frit_inner - x.landing
    if beyond <= COVERED:
        return []
    bond, low = section.levels.bond_face - pencil.paper(1.1), CutBack.of(section, pencil).low
    words = f"{as_fine_as(beyond, None)} cover"
    return [pencil.linear((x.landing, low), (x.frit_inner, bond), line_at=level, text=words, outside="second", gap_first=99.0)]


def _shows(section: Section) -> str:
    """How much of the landing shows inside the frit, in words; nothing where it is hidden."""
    beyond = section.crossing.landing - section.crossing.frit_inner
    return f", {as_fine_as(beyond, None)} shows" if beyond > 0.01 else ""


def bond_figure(section: Section, detail: Detail, pencil: Pencil) -> list[Mark]:
    """The thickness of the bond in the gap right of the bead, its figure level beside its line; right of the glass where it has no room there."""
    bond, aside = section.levels.bond_face, _bond_aside(section, detail, pencil)
    x = CutBack.of(section, pencil).right + pencil.paper(2.0) if aside is None else section.crossing.bead_inner + aside
    down = 2.3 * pencil.style.text / 2.5 if aside is None else 0.0
    return [upright_figure(x, 0.0, bond, _bond_words(section, detail), pencil, down=down)]


def _bond_words(section: Section, detail: Detail) -> str:
    return sized(section.levels.bond_face, detail.sizes.bond_thickness.tolerance)


def _bond_aside(section: Section, detail: Detail, pencil: Pencil) -> float | None:
    """How far right of the bead the line of its thickness stands, mm; None where the gap under the glass has no room for the figure: too low,
    or not as far as the line down from the end of the frit.
    """
    x, style = section.crossing, pencil.style
    if section.levels.bond_face * pencil.scale < UNDER_GLASS * style.text / 2.5:
        return None
    wanted = pencil.paper(BOND_BESIDE / (1.0 if pencil.scale >= 2.0 else 2.0))
    if x.frit_inner - x.landing <= COVERED:  # no such line
        return wanted
    figure = pencil.paper(BESIDE_LINE + style.off_lines) + pencil.width(_bond_words(section, detail))
    room = x.frit_inner - x.bead_inner - figure
    return min(wanted, room) if room >= pencil.paper(BOND_NEAR) else None


def upright_figure(x: float, low: float, high: float, printed: str, pencil: Pencil, *, down: float = 0.0) -> Dimension:
    """An upright dimension between two faces, its figure level at its right, at least ``down`` paper mm under the upper one."""
    style = pencil.style
    tall = (high - low) * pencil.scale
    inside = tall >= 2 * style.arrow + 0.6
    parts: list[Path | Fill | Text] = []
    if inside:
        parts += [
            line("DIMENSIONS", (x, low), (x, high)),
            pencil.arrow("DIMENSIONS", (x, low), -90.0),
            pencil.arrow("DIMENSIONS", (x, high), 90.0),
        ]
    else:
        tail = pencil.paper(2 * style.arrow)
        parts += [
            line("DIMENSIONS", (x, low - tail), (x, high + tail)),
            pencil.arrow("DIMENSIONS", (x, low), 90.0),
            pencil.arrow("DIMENSIONS", (x, high), -90.0),
        ]
    middle = min((low + high - pencil.paper(1.0)) / 2, high - pencil.paper(down))
    text = pencil.text("DIMENSIONS", (x + pencil.paper(BESIDE_LINE), middle), printed, centred=True)
    parts.append(text)
    return Dimension(
        "DIMENSIONS",
        "linear",
        (x, low),
        (x, high),
        (x, low),
        90.0,
        high - low,
        printed,
        (text.x + pencil.width(printed) / 2, middle),
        tuple(parts),
    )


def _profile_notes(section: Section, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """Draft of the wall and fillet at its foot, on leaders in the frame's break."""
    profile, ends = section.profile, CutBack.of(section, pencil)
    found: list[Mark] = []
    notes = []
    if profile.draft > 0:
        z = section.levels.skin * 0.75
        notes.append((f"draft {number(profile.draft)}°", (profile.wall_at(z), z)))
    if profile.fillet > 0:
        z = 0.3 * profile.wall_end
        notes.append((f"R{number(profile.fillet)}", (profile.wall_at(z), z)))
    foot = ends.low - pencil.paper(UNDER)
    for count, (words, place) in enumerate(notes):
        level = foot - pencil.paper(1.0 + 4.6 * count)
        end = ends.left - pencil.paper(6.0)
        wide = pencil.width(words)
        leader = run("ITEM_LEADERS", (place, (end + wide, level), (end, level)))
        found += [leader, pencil.text("TEXT", (end, level + pencil.paper(1.3)), words)]
        room.lead(leader)
        room.drawn(words.split()[0])
    return found


def spacer_figures(section: Section, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """What the section through a spacer adds: its width and how far it stands from the glass edge."""
    face = next((face for face in section.faces if face.material == "spacer"), None)
    if face is None:
        return []
    left, right = min(x for x, _, _ in face.nodes), max(x for x, _, _ in face.nodes)
    levels, style = section.levels, pencil.style
    level = max(levels.skin, levels.glass_face) + pencil.paper(style.first_row)
    found: list[Mark] = []
    edge = section.crossing.glass_edge
    if left - edge > ALIKE:
        start = levels.glass_face
        found.append(pencil.linear((edge, start), (left, start), line_at=level, text=number(left - edge), outside="first"))
        room.drawn("spacer from the glass edge")
    found.append(
        pencil.linear(
            (left, levels.glass_face), (right, levels.glass_face), line_at=level, text=number(right - left), outside="second"
        )
    )
    room.drawn("spacer width")
    room.add(found)
    return found


def worst_figures(section: Section, typical: Section, pencil: Pencil, room: KeepClear, *, whole: bool) -> list[Mark]:
    """What a section at a failing place has otherwise than the typical one: joint, set-back, frit, landing."""
    x, other, levels = section.crossing, typical.crossing, section.levels
    style = pencil.style
    top = max(levels.skin, levels.glass_face)
    rows: list[Figure] = [
        Figure("joint", 0.0, x.glass_edge, as_fine_as(x.glass_edge, 0.2) if x.glass_edge > 0 else joint_words(x.glass_edge, None))
    ]
    edge = x.glass_edge
    if whole and abs((x.frit_inner - edge) - (other.frit_inner - other.glass_edge)) > 0.05:
        rows.append(Figure("frit", edge, x.frit_inner, f"{as_fine_as(x.frit_inner - edge, None)} frit"))
    found: list[Mark] = []
    for index, each in enumerate(rows):
        level = top + pencil.paper(style.first_row + index * style.row)
        found.append(_level(each, (levels.skin if each.name == "joint" else levels.glass_face, levels.glass_face), level, pencil))
        room.drawn(each.name)
    room.add(found)
    return found


__all__ = [
    "Figure",
    "all_figures",
    "bond_figure",
    "joint_words",
    "rows_over",
    "spacer_figures",
    "upright_figure",
    "worst_figures",
]
