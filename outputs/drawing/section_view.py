"""A section square to the glass edge: its cut faces, and on it the figures and flags that its reader needs.

Terms
-----
strip
    The frit, drawn as a black strip a millimetre thick on paper under the glass: far thicker than it is, and noted so.
cut back
    Frame and glass go on beyond the section; they are shown as far as paper has room, with a break line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.drawing.materials import LAYER_OF
from outputs.sheet.entities import Fill, Hatch, Mark, Path
from outputs.sheet.runs import box_nodes, circle_nodes, line, run

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.detail.parts import CutFace, Section
    from outputs.sheet.entities import Node, Place
    from outputs.sheet.pencil import Pencil

STRIP, UNDER_GLASS = 1.0, 0.1  # paper mm: the frit, and from the glass line to it
FRAME_LEFT, FRAME_BELOW, GLASS_RIGHT = 13.0, 12.0, 8.0  # paper mm of frame and glass beyond wall, landing and frit
LEAST_SHOWN = 62.0  # paper mm from the wall to the end of the glass of a section that is drawn smaller than it is
DOT_PITCH = 1.6  # paper mm between the dots of a fade


@dataclass(frozen=True, slots=True)
class CutBack:
    """How far frame and glass are shown, mm of the section: frame to the left and below, glass to the right.

    ``inside`` the section is broken off short of the ends of landing and frit: another section shows them.
    """

    left: float
    low: float
    right: float
    inside: bool = False

    @classmethod
    def of(cls, section: Section, pencil: Pencil, room: float | None = None) -> CutBack:
        """The extent of a section at a scale; ``room``: paper mm from the wall to the right that it has, where they are few."""
        x = section.crossing
        wall = min(0.0, section.profile.wall_at(section.levels.skin))
        below = FRAME_BELOW if pencil.scale >= 2.0 else FRAME_BELOW / 2
        left = wall - pencil.paper(FRAME_LEFT if pencil.scale >= 2.0 else FRAME_LEFT / 2)
        if room is not None and (max(x.landing, x.frit_inner) * pencil.scale + 0.6 * GLASS_RIGHT) > room:
            return cls(left, -pencil.paper(below), pencil.paper(room - 1.5), inside=True)
        right = max(x.landing, x.frit_inner) + pencil.paper(GLASS_RIGHT if pencil.scale >= 2.0 else 0.6 * GLASS_RIGHT)
        if room is None and pencil.scale < 1.0:
            right = max(right, pencil.paper(LEAST_SHOWN))
        return cls(left, -pencil.paper(below), right)


def section_faces(section: Section, pencil: Pencil, ends: CutBack | None = None) -> list[Mark]:
    """Tints, hatches and outlines of all cut faces, the strip of the frit, and break lines."""
    ends, bond = CutBack.of(section, pencil) if ends is None else ends, section.levels.bond_face
    marks: list[Mark] = []
    for face in section.faces:
        marks += _face(face, _cut_back(face, ends, bond, pencil), pencil, inside=ends.inside)
    return [*marks, *_strip(section, ends, pencil), *_breaks(section, ends, pencil)]


def _cut_back(face: CutFace, ends: CutBack, bond: float, pencil: Pencil) -> tuple[Node, ...]:
    """The nodes of a face, frame and glass cut back to their ends, what stands under the strip cut off there."""
    if face.material == "frame":
        far = min(x for x, _, _ in face.nodes)
        low = min(z for _, z, _ in face.nodes)
        return tuple(
            (ends.left if x == far else min(x, ends.right) if ends.inside else x, ends.low if z == low else z, bulge)
            for x, z, bulge in face.nodes
        )
    if face.material in ("glass", "interlayer"):
        far = max(x for x, _, _ in face.nodes)
        return tuple((ends.right if x == far else x, z, bulge) for x, z, bulge in face.nodes)
    if face.material == "adhesive":
        under = bond - pencil.paper(STRIP + UNDER_GLASS)
        return tuple((x, under if abs(z - bond) < 1e-9 else z, bulge) for x, z, bulge in face.nodes)
    return face.nodes


def _face(face: CutFace, nodes: tuple[Node, ...], pencil: Pencil, *, inside: bool) -> list[Mark]:
    if face.material in ("glass", "interlayer"):
        (x1, z1, _), (x2, _, _), (_, z2, _), _ = nodes
        outline = run("CUT_OUTLINE", ((x2, z1), (x1, z1), (x1, z2), (x2, z2)))
        if face.material == "interlayer":
            return [Fill(LAYER_OF["interlayer"], nodes), outline]
        return [outline, *_glass_signs((x1, z1, x2, z2), pencil)]
    if face.material == "frame":
        return [Hatch(LAYER_OF["frame"], "frame", (nodes,)), Path("CUT_OUTLINE", nodes[2:] if inside else nodes[1:])]
    marks: list[Mark] = []
    if face.material == "adhesive":
        marks.append(Fill("BEAD_BAND", nodes))
    if face.material == "chock":
        marks.append(Fill(LAYER_OF["chock"], nodes))
    else:
        marks.append(Hatch(LAYER_OF[face.material], face.material, (nodes,)))
    return [*marks, Path("CUT_OUTLINE", nodes, True)]


def _glass_signs(box: tuple[float, float, float, float], pencil: Pencil) -> list[Mark]:
    """Three short strokes here and there: glass."""
    left, low, right, high = box
    tall = min(pencil.paper(4.2), 0.62 * (high - low))
    slant, step = tall * 0.75, min(pencil.paper(1.7), 0.6 * (high - low))
    middle, marks = (low + high) / 2, []
    count = max(1, round((right - left) * pencil.scale / 19.0))
    for number in range(count):
        x = left + (number + 0.5) * (right - left) / count
        for shift, share in ((-step, 0.7), (0.0, 1.0), (step, 0.7)):
            half, lean = tall * share / 2, slant * share / 2
            marks.append(line(LAYER_OF["glass"], (x + shift - lean, middle - half), (x + shift + lean, middle + half)))
    return list(marks)


def _strip(section: Section, ends: CutBack, pencil: Pencil) -> list[Mark]:
    """The frit as a black strip under the glass, its fade as dots that grow smaller."""
    x, top = section.crossing, section.levels.bond_face - pencil.paper(UNDER_GLASS)
    low = top - pencil.paper(STRIP)
    solid = min(x.frit_inner if x.frit_fade is None else x.frit_fade, ends.right)
    marks: list[Mark] = [Fill(LAYER_OF["frit"], box_nodes(x.frit_start, low, solid, top))]
    if x.frit_fade is not None and not ends.inside:
        pitch = pencil.paper(DOT_PITCH)
        count = max(1, math.floor((x.frit_inner - x.frit_fade) / pitch))
        for number in range(count):
            radius = pencil.paper(0.5 - 0.32 * number / max(1, count - 1))
            at = (x.frit_fade + (number + 0.6) * (x.frit_inner - x.frit_fade) / count, (low + top) / 2)
            marks.append(Fill(LAYER_OF["frit"], circle_nodes(at, radius)))
    return marks


def _breaks(section: Section, ends: CutBack, pencil: Pencil) -> list[Mark]:
    """Break lines where frame and glass go on: at the left, below, and at the right of the glass."""
    levels, x = section.levels, section.crossing
    landing = min(x.landing, ends.right) if ends.inside else x.landing
    marks: list[Mark] = [
        _zigzag((ends.left, ends.low), (ends.left, levels.skin), pencil),
        _zigzag((ends.left, ends.low), (landing, ends.low), pencil),
        _zigzag((ends.right, levels.bond_face), (ends.right, levels.glass_face), pencil),
    ]
    if ends.inside and x.landing > ends.right:
        marks.append(_zigzag((ends.right, ends.low), (ends.right, 0.0), pencil))
    return marks


def _zigzag(first: Place, second: Place, pencil: Pencil) -> Path:
    """A break line, upright or level, a little past both ends, with one zigzag in its middle."""
    past, swing = pencil.paper(1.3), pencil.paper(1.1)
    upright = abs(second[0] - first[0]) < abs(second[1] - first[1])
    middle = ((first[0] + second[0]) / 2, (first[1] + second[1]) / 2)
    low, high = (first[1], second[1]) if upright else (first[0], second[0])
    at = middle[1] if upright else middle[0]
    along = (low - past, at - swing, at - swing / 2, at + swing / 2, at + swing, high + past)
    aside = (0.0, 0.0, -swing, swing, 0.0, 0.0)
    if upright:
        return run("BREAK_LINES", [(first[0] + side, place) for place, side in zip(along, aside, strict=True)])
    return run("BREAK_LINES", [(place, first[1] + side) for place, side in zip(along, aside, strict=True)])


def seen_spacer(section: Section, width: float, set_back: float) -> list[Mark]:
    """A spacer that stands behind the plane, as an outline."""
    first = section.crossing.glass_edge + (set_back - width) / 2
    return [
        run(
            "SEEN_OUTLINE",
            ((first, 0.0), (first, section.levels.bond_face), (first + width, section.levels.bond_face), (first + width, 0.0)),
        )
    ]


def outline_box(marks: Iterable[Mark]) -> tuple[float, float, float, float]:
    """Left, low, right and high of the marks of the faces."""
    xs, zs = [], []
    for mark in marks:
        if isinstance(mark, Path | Fill):
            xs += [x for x, _, _ in mark.nodes]
            zs += [z for _, z, _ in mark.nodes]
    return min(xs), min(zs), max(xs), max(zs)


__all__ = ["CutBack", "outline_box", "section_faces", "seen_spacer"]
