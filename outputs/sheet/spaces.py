"""What is drawn together on a sheet, and what a hatch or an insert draws, so that every writer draws the same.

Terms
-----
space
    What is drawn together in one set of axes: the marks of one view (full size, model mm) or the marks on the paper.
undrawn boundary
    A boundary of a hatch that no closed path of the same space draws. Every writer draws it, once, on the hatch's layer.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import TYPE_CHECKING

from outputs.sheet.entities import Fill, Hatch, Path, Text

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
    hatches = [mark for mark in marks if isinstance(mark, Hatch)]
    if not hatches:
        return []
    alike = {mark.nodes for mark in marks if isinstance(mark, Path) and mark.closed}  # nearly all are drawn node by node
    found = [(mark, number) for mark in hatches for number, nodes in enumerate(mark.boundaries) if nodes not in alike]
    if not found:
        return []
    lengths = {len(hatch.boundaries[number]) for hatch, number in found}  # a loop of any other number of nodes is another loop
    seen = set(drawn_loops(mark for mark in marks if isinstance(mark, Path) and mark.closed and len(mark.nodes) in lengths))
    undrawn: list[tuple[Hatch, int]] = []
    for hatch, number in found:
        key = loop_key(hatch.boundaries[number])
        if key not in seen:
            seen.add(key)
            undrawn.append((hatch, number))
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


__all__ = ["Key", "Space", "drawn_loops", "loop_key", "placed", "spaces", "undrawn_boundaries"]
