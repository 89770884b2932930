"""Loops and places that both writers share, so that they draw the same marks at the same places.

Terms
-----
space
    What is drawn together in one set of axes: the marks of one view (full size, model mm) or the marks on the paper.
undrawn boundary
    A boundary of a hatch that no closed path of the same space draws. Both writers draw it, once, on the hatch's layer.
sweep
    The angle an arc runs through, radians, positive counter-clockwise: four times the arc tangent of its bulge.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan, cos, radians, sin
from typing import TYPE_CHECKING

from outputs.sheet.entities import Fill, Hatch, Path, Text
from outputs.sheet.runs import arc_between

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from outputs.sheet.entities import Block, Insert, Mark, Node, Place, Sheet, View

Key = tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Space:
    """The marks of one view, or of the paper where ``view`` is None. ``scale`` is paper / model."""

    view: View | None
    marks: tuple[Mark, ...]
    scale: float
    name: str


def spaces(sheet: Sheet) -> Iterator[Space]:
    """Give the views of a sheet in their order, then its paper."""
    for view in sheet.views:
        yield Space(view, view.marks, view.scale, f"view {view.name!r}")
    yield Space(None, sheet.marks, 1.0, "the paper")


def loop_key(nodes: Sequence[Node]) -> Key:
    """Give the same key for the same closed loop, wherever it starts and whichever way it runs (to 1e-6 mm)."""
    forward = [(round(x, 6) + 0.0, round(y, 6) + 0.0, round(bulge, 9) + 0.0) for x, y, bulge in nodes]
    # run backwards, a node is left along the segment that used to arrive at it
    backward = [(*forward[index][:2], -forward[index - 1][2] + 0.0) for index in range(len(forward) - 1, -1, -1)]
    return min(_from_least(forward), _from_least(backward))


def _from_least(nodes: list[tuple[float, float, float]]) -> Key:
    start = nodes.index(min(nodes))
    return tuple(nodes[start:] + nodes[:start])


def drawn_loops(marks: Iterable[Mark]) -> dict[Key, Path]:
    """Closed paths of a space by their key; of two equal ones the first."""
    drawn: dict[Key, Path] = {}
    for mark in marks:
        if isinstance(mark, Path) and mark.closed:
            drawn.setdefault(loop_key(mark.nodes), mark)
    return drawn


def undrawn_boundaries(marks: Sequence[Mark]) -> list[tuple[Hatch, int]]:
    """Give the hatches, with the number of the boundary, whose boundary must be drawn by itself."""
    if not any(isinstance(mark, Hatch) for mark in marks):
        return []
    seen = set(drawn_loops(marks))
    undrawn: list[tuple[Hatch, int]] = []
    for mark in marks:
        if isinstance(mark, Hatch):
            for number, nodes in enumerate(mark.boundaries):
                key = loop_key(nodes)
                if key not in seen:
                    seen.add(key)
                    undrawn.append((mark, number))
    return undrawn


def placed(insert: Insert, block: Block) -> tuple[Path | Fill | Text, ...]:
    """Give the marks of a block as one insert shows them, on the insert's layer where they stand on layer 0."""
    along, across = cos(radians(insert.rotation)), sin(radians(insert.rotation))

    def at(x: float, y: float) -> Place:
        return insert.x + x * along - y * across, insert.y + x * across + y * along

    marks: list[Path | Fill | Text] = []
    for mark in block.marks:
        layer = insert.layer if mark.layer == "0" else mark.layer
        if isinstance(mark, Text):
            x, y = at(mark.x, mark.y)
            marks.append(replace(mark, layer=layer, x=x, y=y, rotation=mark.rotation + insert.rotation))
        else:
            marks.append(replace(mark, layer=layer, nodes=tuple((*at(x, y), bulge) for x, y, bulge in mark.nodes)))
    return tuple(marks)


def segments(nodes: Sequence[Node], *, closed: bool) -> Iterator[tuple[Node, Node]]:
    """Give each segment by its two ends; the bulge that counts is that of the first."""
    yield from pairwise(nodes)
    if closed and len(nodes) > 1:
        yield nodes[-1], nodes[0]


def shorter_arcs(start: Node, end: Node, *, longest: float) -> tuple[list[Place], float]:
    """Cut an arc into equal parts that each run through ``longest`` radians at most.

    Gives the end of each part and the radius. The end of a part is found from the chord, not from the centre, so flat arcs
    of great radius stay true.
    """
    bulge = start[2]
    sweep = 4.0 * atan(bulge)
    parts = max(1, -int(-abs(sweep) // longest))
    ends: list[Place] = []
    chord_x, chord_y = end[0] - start[0], end[1] - start[1]
    half = sin(sweep / 2.0)
    for part in range(1, parts):
        # point at the share of the sweep: along the chord by sin(a)cos(s/2-a)/sin(s/2), beside it by the rest
        turn = sweep * part / (2.0 * parts)
        reach = sin(turn) / half
        lean = sweep / 2.0 - turn
        along, beside = reach * cos(lean), -reach * sin(lean)
        ends.append((start[0] + chord_x * along - chord_y * beside, start[1] + chord_y * along + chord_x * beside))
    ends.append((end[0], end[1]))
    return ends, arc_between(start, end).radius
