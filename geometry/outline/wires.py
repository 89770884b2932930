"""Outlines as wires of the geometry kernel (cadquery), and closed wires of lines and arcs back as loops of vertices.

Importing cadquery takes about two seconds; it happens inside, and only when this is called.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from geometry.outline.loop import Arc, Outline, Point, Vertex, segments


def wire_of(outline: Outline) -> Any:
    """An outline as a closed wire in the plane z = 0, mm.

    >>> from geometry.outline.shapes import rectangle
    >>> round(wire_of(rectangle(100, 50)).Length(), 9)
    300.0
    """
    import cadquery as cq

    edges = []
    for part in segments(outline):
        start, end = cq.Vector(*part.start), cq.Vector(*part.end)
        if isinstance(part, Arc):
            edges.append(cq.Edge.makeThreePointArc(start, cq.Vector(*part.point_at(0.5)), end))
        else:
            edges.append(cq.Edge.makeLine(start, end))
    return cq.Wire.assembleEdges(edges)


def loop_of(wire: Any) -> tuple[Vertex, ...] | None:
    """The vertices of a closed wire, mm, in its own direction of travel; None where it is open or has other edges than lines and arcs."""
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


__all__ = ["loop_of", "wire_of"]
