"""Everything that a drawing shows, for who has to look through all of it: every closed loop, edges of filled areas too, and every text.

Terms
-----
filled area
    A hatch. Its boundaries are loops like drawn ones; where one lies on a drawn line it counts once.
rough ring
    A loop as a polygon of places along it, for telling sizes and likeness; the outline itself is made of the pieces.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from geometry.incoming.drawing import joined_by_layer, legible, places_of
from geometry.incoming.dxf_entities import Walker, bulged
from geometry.incoming.incoming import IncomingError
from geometry.incoming.moves import NOWHERE, Move, normal_of, on_circle, own_axes, padded, scale_of
from geometry.incoming.picking import Candidates, rough
from geometry.incoming.pieces import Drawn, Label, Piece
from geometry.incoming.plane import plane_of
from geometry.incoming.shaping import shaped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.incoming.joining import Loop
    from geometry.incoming.spaces import Drawing
    from geometry.incoming.units import Header
    from geometry.outline.loop import Outline

WITHIN = 0.005
"""mm that arcs may lie off a drawn curve: half of what an outline of a job may, so that what is compared is the drawing."""
FLAT = 1e-6
"""Share of a drawing's extent up to which heights are the paper."""


@dataclass(frozen=True)
class Whole:
    """One space of a drawing, in the drawing's own units: its loops, their rough rings and nesting, its texts, its header."""

    name: str
    space: str
    header: Header
    candidates: Candidates
    repairs: int

    @property
    def loops(self) -> list[Loop]:
        """Every closed loop."""
        return self.candidates.loops

    @property
    def texts(self) -> list[Label]:
        """Every text."""
        return self.candidates.texts

    @cached_property
    def boxes(self) -> list[tuple[float, float, float, float]]:
        """Left, bottom, right and top of every loop by the ends and middles of its pieces: a circle's own, of other arcs nearly."""
        found = []
        for loop in self.loops:
            places = places_of(loop)
            xs, ys = [at[0] for at in places], [at[1] for at in places]
            found.append((min(xs), min(ys), max(xs), max(ys)))
        return found

    def ring(self, index: int) -> list[tuple[float, float]]:
        """Places along a loop, as seen from above."""
        return rough(self.loops[index])

    def outline(self, index: int, *, factor: float) -> Outline:
        """A loop as an outline, in mm where ``factor`` is mm in a unit. Raises ``IncomingError`` where it is none."""
        loop = self.loops[index]
        plane = plane_of(places_of(loop), level=FLAT * _extent(loop), factor=factor, seen_from="")
        return shaped(loop, plane, factor=factor, within=WITHIN).outline


def whole_of(drawing: Drawing, *, gap: float) -> Whole:
    """Everything in the model space of a drawing, or in the first layout with lines where the model has none.

    ``gap`` in units of the drawing: loose ends so near to each other are joined. Raises ``IncomingError`` where nothing is drawn.
    """
    with legible(drawing.name):
        return _whole_of(drawing, gap)


def _whole_of(drawing: Drawing, gap: float) -> Whole:
    for space, name in _spaces(drawing):
        walker = _FilledToo(drawing.document, set())
        walker.walk(space, NOWHERE, "0", 0, (name,))
        if walker.found.count:
            return _made(drawing, walker.found, name, gap)
    raise IncomingError(f"{drawing.name} shows no lines, arcs, curves or filled areas", "a drawing of a pane")


def _spaces(drawing: Drawing) -> Iterator[tuple[Any, str]]:
    doc = drawing.document.doc
    yield doc.modelspace(), "the model"
    for name in doc.layouts.names():
        if name.casefold() != "model":
            yield doc.layouts.get(name), name


def _made(drawing: Drawing, shown: Drawn, name: str, gap: float) -> Whole:
    found = joined_by_layer(shown, gap=gap)
    candidates = Candidates(found.loops, found.strands, shown.texts, 1.0, drawing.name, shown.left_out)
    return Whole(drawing.name, name, drawing.document.header, candidates, drawing.document.repairs)


def _extent(loop: Loop) -> float:
    places = places_of(loop)
    return max(max(at[i] for at in places) - min(at[i] for at in places) for i in range(2))


class _FilledToo(Walker):
    """Walks a space as for an outline, and takes the boundaries of filled areas as loops."""

    def _entity(self, entity: Any, move: Move, above: str, insert: int, chain: tuple[str, ...]) -> None:
        if entity.dxftype() not in ("HATCH", "MPOLYGON"):
            super()._entity(entity, move, above, insert, chain)
            return
        layer = entity.dxf.get("layer", "0")
        layer = above if layer == "0" else layer
        if entity.dxf.get("invisible", 0) or self._hidden(layer):
            self.found.hidden[layer] = self.found.hidden.get(layer, 0) + 1
            return
        axes = own_axes(padded(entity.dxf.get("extrusion", (0.0, 0.0, 1.0))))
        whole = move.after(axes)
        height = padded(entity.dxf.get("elevation", (0.0, 0.0, 0.0)))[2]
        for path in entity.paths.paths:
            runs = _runs_of(path)
            if runs is None:
                self._leave(f"boundary of a {entity.dxftype()} with curves")
                continue
            pieces = tuple(_moved(run, whole, height) for run in runs)
            if pieces:
                self._add(pieces, layer, insert, closed=True)


_Run = tuple[tuple[float, float], tuple[float, float], float]


def _runs_of(path: Any) -> list[_Run] | None:
    """A boundary as lines and arcs (start, end, bulge); None where it has other curves."""
    if hasattr(path, "vertices"):
        places = [(float(x), float(y), float(bulge)) for x, y, bulge in path.vertices]
        following = [*places[1:], places[0]] if places else []
        return [((x, y), (u, v), bulge) for (x, y, bulge), (u, v, _) in zip(places, following, strict=True) if (x, y) != (u, v)]
    runs: list[_Run] = []
    for edge in path.edges:
        kind = type(edge).__name__
        if kind == "LineEdge":
            runs.append(((float(edge.start[0]), float(edge.start[1])), (float(edge.end[0]), float(edge.end[1])), 0.0))
        elif kind == "ArcEdge":
            runs += _arc_runs(edge)
        else:
            return None
    return [run for run in runs if run[0] != run[1]]


def _arc_runs(edge: Any) -> list[_Run]:
    start, sweep = math.radians(edge.start_angle), math.radians((edge.end_angle - edge.start_angle) % 360.0) or 2 * math.pi
    x, y, radius = float(edge.center[0]), float(edge.center[1]), float(edge.radius)
    count = 2 if sweep > math.pi else 1
    spots = [on_circle(x, y, radius, start + sweep * index / count) for index in range(count + 1)]
    bulge = math.tan(sweep / count / 4)
    runs = [(one, other, bulge) for one, other in pairwise(spots)]
    return runs if edge.ccw else [(other, one, -bulge) for one, other, bulge in reversed(runs)]


def _moved(run: _Run, whole: Move, height: float) -> Piece:
    one, other, bulge = (*run[0], height), (*run[1], height), run[2]
    start, end = whole.place(one), whole.place(other)
    if bulge and scale_of(whole) is None:
        return Piece(start, end, spans=whole.spans(bulged(one, other, bulge)))
    return Piece(start, end, bulge, normal_of(whole))


__all__ = ["Whole", "whole_of"]
