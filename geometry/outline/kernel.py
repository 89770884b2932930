"""Parallel curves by cadquery's ``Wire.offset2D``: where sides are used up and more than neighbours has to be looked at.

Importing cadquery takes about two seconds; it happens here, once in a process, and only when this is called.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from geometry.outline.loop import Arc, Outline, Point, Vertex, segments
from geometry.outline.parallel import begun_at, normal_form
from geometry.outline.soundness import reversed_loop, signed_area

NO_AREA = 1e-6
"""mm2; at exactly half the width the kernel returns a closed wire of two edges that run over each other."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """One edge of a wire: its two ends, its middle, and whether it is an arc."""

    start: Point
    middle: Point
    end: Point
    curved: bool

    def turned_round(self) -> _Piece:
        return _Piece(self.end, self.middle, self.start, self.curved)

    def bulge(self) -> float:
        if not self.curved:
            return 0.0
        chord = math.dist(self.start, self.end)
        across = (self.end.x - self.start.x) * (self.middle.y - self.start.y)
        across -= (self.end.y - self.start.y) * (self.middle.x - self.start.x)
        rise = math.hypot(self.middle.x - (self.start.x + self.end.x) / 2, self.middle.y - (self.start.y + self.end.y) / 2)
        return math.copysign(2 * rise / chord, -across)


def by_kernel(outline: Outline, distance: float) -> Outline | None:
    """The parallel curve ``distance`` mm outwards (positive) or inwards (negative); None unless it is exactly one closed
    wire of lines and arcs with an area.

    >>> from geometry.outline.shapes import rectangle
    >>> [vertex[:2] for vertex in by_kernel(rectangle(100, 50), -10).vertices]
    [(10.0, 10.0), (90.0, 10.0), (90.0, 40.0), (10.0, 40.0)]
    >>> by_kernel(rectangle(100, 50), -25) is by_kernel(rectangle(100, 50), -30) is None
    True
    """
    import cadquery as cq

    edges = []
    for part in segments(outline):
        start, end = cq.Vector(*part.start), cq.Vector(*part.end)
        if isinstance(part, Arc):
            edges.append(cq.Edge.makeThreePointArc(start, cq.Vector(*part.point_at(0.5)), end))
        else:
            edges.append(cq.Edge.makeLine(start, end))
    wire = cq.Wire.assembleEdges(edges)
    try:
        wires = wire.offset2D(distance, "arc")
    except ValueError:
        return None  # "Null TopoDS_Shape": nothing is left at this distance
    loops = [_loop_of(wire) for wire in wires]
    found = []
    for loop in loops:
        if loop is None:
            return None
        if abs(signed_area(loop)) > NO_AREA:
            found.append(loop if signed_area(loop) > 0 else reversed_loop(loop))
    if len(found) != 1:
        return None
    whole = normal_form(list(found[0]))
    return None if whole is None else begun_at(whole, outline.vertices[0])


def _loop_of(wire: Any) -> tuple[Vertex, ...] | None:
    """The vertices of a closed wire; None where it is open or has other edges than lines and arcs."""
    if not wire.IsClosed():
        return None
    pieces: list[_Piece] = []
    for edge in wire:  # in the order of connection; Edges() is not
        kind = edge.geomType()
        if kind not in ("LINE", "CIRCLE"):
            return None
        places = [Point(at.x, at.y) for at in (edge.positionAt(quarter / 4) for quarter in range(5))]
        if kind == "CIRCLE" and math.dist(places[0], places[4]) < math.dist(places[0], places[2]) * 1e-6:
            pieces += [_Piece(places[0], places[1], places[2], True), _Piece(places[2], places[3], places[4], True)]
        else:
            pieces.append(_Piece(places[0], places[2], places[4], kind == "CIRCLE"))
    pieces = _chained(pieces)
    return tuple(Vertex(piece.start.x + 0.0, piece.start.y + 0.0, piece.bulge()) for piece in pieces)


def _chained(pieces: list[_Piece]) -> list[_Piece]:
    """Each piece turned so that it starts where the one before it ended."""
    if len(pieces) < 2:
        return pieces
    first, following = pieces[0], (pieces[1].start, pieces[1].end)
    if min(math.dist(first.start, p) for p in following) < min(math.dist(first.end, p) for p in following):
        first = first.turned_round()
    found = [first]
    for piece in pieces[1:]:
        last = found[-1].end
        found.append(piece.turned_round() if math.dist(piece.end, last) < math.dist(piece.start, last) else piece)
    return found
