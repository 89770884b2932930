"""The deciding corner, enlarged: recess, glass, frit, bead and sight line with their radii and the joint on the bisector."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline.clip import clip_path, clip_region
from outputs.drawing.plan_outlines import corner_window, nodes_of
from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import number
from outputs.sheet.entities import Hatch, Mark, Path, Text
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.pencil import Pencil, upright
from outputs.sheet.runs import box, polar

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, WorstCorner
    from geometry.outline import Outline
    from outputs.sheet.entities import Place


def corner_marks(detail: Detail, worst: WorstCorner, pencil: Pencil) -> tuple[Mark, ...]:
    """The marks of the corner detail in plan coordinates, clipped to its window."""
    window = corner_window(detail)
    curves = detail.curves
    placer = KeepClear(scale=pencil.scale, clear=0.6)
    named: tuple[tuple[str, str, Outline | None], ...] = (
        ("CUT_OUTLINE", "recess wall", curves.recess),
        ("CUT_OUTLINE", "glass edge", curves.glass),
        ("BEAD_EDGE", "bead", curves.bead_outer),
        ("BEAD_CENTRE", "bead, centre line", curves.bead_centre),
        ("BEAD_EDGE", "", curves.bead_inner),
        ("FRIT_INNER", "frit, inner edge", curves.frit_inner),
        ("SIGHT_LINE", "sight line", curves.sight_line),
    )
    marks: list[Mark] = []
    for layer, _, outline in named:
        if outline is None:
            continue
        for nodes, closed in clip_path(nodes_of(outline), closed=True, window=window):
            marks.append(Path(layer, nodes, closed))
    if not detail.glass_cuts_recess:
        marks += _joint_hatch(detail, window)
    marks.append(box("BREAK_LINES", *window))
    placer.add(marks)
    marks += _joint_on_bisector(worst, pencil, placer)
    marks += _radii(detail, worst, pencil, placer, window)
    return tuple(marks)


def _joint_hatch(detail: Detail, window: tuple[float, float, float, float]) -> list[Mark]:
    """The joint as recess less glass within the window; skipped where the window splits it into unequal pieces."""
    outer = clip_region(nodes_of(detail.curves.recess), window=window)
    inner = clip_region(nodes_of(detail.curves.glass), window=window)
    if len(outer) != 1 or len(inner) != 1:
        return []
    return [Hatch("BACKFILL", "sealant", (outer[0], inner[0]))]


def _joint_on_bisector(worst: WorstCorner, pencil: Pencil, placer: KeepClear) -> list[Mark]:
    """The joint measured along the bisector, its text outside the recess."""
    corner = worst.corner
    outward = math.degrees(math.atan2(-corner.bisector.y, -corner.bisector.x))
    reach = glass_reach(worst)
    glass = polar(corner.theoretical, outward, reach)
    recess = polar(glass, outward, worst.joint)
    angle = upright(outward)
    turn = math.radians(angle)
    level = -glass[0] * math.sin(turn) + glass[1] * math.cos(turn)
    dimension = pencil.linear(
        glass,
        recess,
        line_at=level,
        angle=angle,
        text=number(worst.joint),  # negative where the glass would stand in the frame
        outside="second" if worst.joint > 0 else "first",  # beyond the outermost line: between the two the joint is hatched
        text_share=0.0,
    )
    placer.add((dimension,))
    return [dimension]


def glass_reach(worst: WorstCorner) -> float:
    """From the sharp glass corner outwards along the bisector to the glass edge (negative: inside the sharp corner)."""
    return worst.glass_on_bisector


def _radii(
    detail: Detail, worst: WorstCorner, pencil: Pencil, placer: KeepClear, window: tuple[float, float, float, float]
) -> list[Mark]:
    """The radii as a list beside leaders: each arc's radius with its name, stacked below the window."""
    rows = [
        ("recess radius", worst.recess_radius),
        ("glass radius", worst.corner.radius or None),
        ("bead, centre line radius", worst.bead_radius or None),
        ("frit, inner radius", worst.frit_radius),
    ]
    texts: list[Mark] = []
    y = window[1] - pencil.paper(4.5)
    for name, value in rows:
        string = f"{name} {'sharp' if value is None else 'R' + number(value)}"
        texts.append(pencil.text("TEXT", (window[0], y), string))
        y -= pencil.paper(pencil.style.line_pitch)
    for string in (
        f"corner angle {number(worst.corner.interior_angle, decimals=1)}°",
        f"joint on the bisector {number(worst.joint)}",
        f"glass beyond the bead {number(worst.unbonded)}",
    ):
        texts.append(pencil.text("TEXT", (window[0], y), string))
        y -= pencil.paper(pencil.style.line_pitch)
    texts += _leaders(detail, worst, pencil, placer, window)
    return texts


def spread(levels: list[float], pitch: float) -> list[float]:
    """Falling levels moved as little as can be (least squares) so that each lies at least ``pitch`` below the one before.

    >>> spread([30.0, 20.0, 18.0], 5.0)
    [30.0, 21.5, 16.5]
    """
    stacks: list[tuple[float, int]] = []  # mean and number of levels that touch one another
    for index, level in enumerate(levels):
        mean, count = level + index * pitch, 1
        while stacks and stacks[-1][0] < mean:
            before, number_before = stacks.pop()
            mean = (mean * count + before * number_before) / (count + number_before)
            count += number_before
        stacks.append((mean, count))
    flat = [mean for mean, count in stacks for _ in range(count)]
    return [level - index * pitch for index, level in enumerate(flat)]


def _leaders(
    detail: Detail, worst: WorstCorner, pencil: Pencil, placer: KeepClear, window: tuple[float, float, float, float]
) -> list[Mark]:
    """Names of the curves, each at the end of a leader to the right of the window, in the order in which they are met."""
    curves = detail.curves
    named = (
        ("recess wall", curves.recess),
        ("glass edge", curves.glass),
        ("bead, outer edge", curves.bead_outer),
        ("bead, centre line", curves.bead_centre),
        ("bead, inner edge", curves.bead_inner),
        ("frit, inner edge", curves.frit_inner),
        ("sight line", curves.sight_line),
    )
    # Where each curve meets the window's frame, on the side where most of them end.
    ends: list[tuple[str, Place]] = []
    right, left = window[2], window[0]
    for name, outline in named:
        hits = [
            (node[0], node[1])
            for nodes, closed in clip_path(nodes_of(outline), closed=True, window=window)
            if not closed
            for node in (nodes[0], nodes[-1])
        ]
        on_right = [hit for hit in hits if abs(hit[0] - right) < 1e-6]
        if on_right:
            ends.append((name, max(on_right, key=lambda hit: hit[1])))
        else:
            on_left = [hit for hit in hits if abs(hit[0] - left) < 1e-6]
            if on_left:
                ends.append((name, max(on_left, key=lambda hit: hit[1])))
    marks: list[Mark] = []
    for edge, align, sign in ((right, "left", 1.0), (left, "right", -1.0)):
        side = sorted((end for end in ends if abs(end[1][0] - edge) < 1e-6), key=lambda end: -end[1][1])
        pitch = pencil.paper(pencil.style.line_pitch)
        levels = spread([place[1] for _, place in side], pitch)
        for (name, place), value in zip(side, levels, strict=True):
            elbow = (edge + sign * pencil.paper(5.0), value)
            text = Text(
                "TEXT",
                elbow[0] + sign * pencil.paper(1.0),
                value - pencil.paper(pencil.style.text / 2),
                name,
                pencil.style.text,
                "left" if align == "left" else "right",
            )
            marks.append(Path("ITEM_LEADERS", ((*place, 0.0), (*elbow, 0.0))))
            marks.append(text)
            placer.block(box_of_text(text, pencil.scale))
    return marks


__all__ = ["corner_marks", "glass_reach", "spread"]
