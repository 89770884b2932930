"""Parallel curves where sides are used up: every moved segment cut where it meets another, and what lies too near taken away.

Terms
-----
raw curve
    Every segment moved along its normal, and an arc about every corner that gapes; it crosses itself where sides are used up.
piece
    A stretch of the raw curve between two places where it meets itself.
clear
    A piece that keeps the distance from the whole outline. The clear pieces, joined end to end, are the parallel curve.

The raw curve holds every place of the parallel curve (a place at the distance has its nearest place on some segment or corner),
so nothing is left out; where it comes in several loops, or in none, there is no one parallel curve.
"""

from __future__ import annotations

import math

from geometry.outline.loop import Arc, Line, Outline, Point, Segment, Vertex, segments
from geometry.outline.meet import fraction_on_arc, fraction_on_line, meetings
from geometry.outline.nearby import box_pairs
from geometry.outline.parallel import SHORT, STRAIGHT_ON, begun_at, moved_segment, normal_form
from geometry.outline.soundness import signed_area, turn_at
from geometry.outline.stations import distance_from

MEET = 1e-7
"""mm beyond its end at which a piece of the raw curve still meets another."""
JOIN = 2e-6
"""mm within which two ends of pieces are one joint."""
KEEPS = 2e-7
"""mm by which the middle of a clear piece may fall short of the distance."""
NO_AREA = 1e-6
"""mm2; a loop with less is a line run out and back."""


def untangled(outline: Outline, distance: float) -> Outline | None:
    """The parallel curve ``distance`` mm outwards (positive) or inwards (negative); None unless it is one closed loop.

    The caller proves the result. It begins at what lies nearest to the first vertex of the original.

    >>> from geometry.outline.shapes import rectangle
    >>> [tuple(vertex[:2]) for vertex in untangled(rectangle(100, 50, radius=5), -10).vertices]
    [(10.0, 10.0), (90.0, 10.0), (90.0, 40.0), (10.0, 40.0)]
    >>> untangled(rectangle(100, 50), -25) is untangled(rectangle(100, 50), -30) is None
    True
    """
    pieces = _cut(_raw(segments(outline), distance))
    least = abs(distance) - KEEPS
    clear = [piece for piece in pieces if distance_from(outline, piece.point_at(0.5), within=least) >= least]
    loops = [loop for loop in _loops(clear) if abs(signed_area(loop)) > NO_AREA]
    if len(loops) != 1 or signed_area(loops[0]) <= 0.0:
        return None
    whole = normal_form(loops[0])
    return None if whole is None else begun_at(whole, outline.vertices[0])


def _raw(parts: tuple[Segment, ...], distance: float) -> list[Segment]:
    """Every segment moved, without the arcs that have no radius left, and the arcs about corners that gape."""
    moved = [moved_segment(part, distance) for part in parts]
    found: list[Segment] = []
    for index, part in enumerate(parts):
        before, after = moved[index - 1], moved[index]
        turn = turn_at(parts[index - 1], part)
        together = before is not None and after is not None and math.dist(before.end, after.start) <= SHORT
        if turn * distance > STRAIGHT_ON and not together:
            found.append(_about(part.start, parts[index - 1], part, distance))
        if after is not None:
            found.append(after)
    return found


def _about(corner: Point, before: Segment, after: Segment, distance: float) -> Segment:
    """The arc about a corner that gapes, from where the one side would leave off to where the other would begin."""
    way_in, way_out = before.tangent_at(1.0), after.tangent_at(0.0)
    start = Point(corner.x + distance * way_in.y, corner.y - distance * way_in.x)
    end = Point(corner.x + distance * way_out.y, corner.y - distance * way_out.x)
    return Arc(start, end, math.tan(turn_at(before, after) / 4))


def _cut(raw: list[Segment]) -> list[Segment]:
    """The pieces of the raw curve, in its order."""
    cuts: list[list[tuple[float, Point]]] = [[] for _ in raw]
    for i, j in box_pairs(raw):
        for spot in meetings(raw[i], raw[j], tolerance=MEET):
            for k in (i, j):
                part = raw[k]
                share = fraction_on_arc(part, *spot) if isinstance(part, Arc) else fraction_on_line(part, *spot)
                if MEET < share * part.length < part.length - MEET:
                    cuts[k].append((share, spot))
    found: list[Segment] = []
    for part, places in zip(raw, cuts, strict=True):
        last, spot = 0.0, part.start
        for share, at in [*sorted(places), (1.0, part.end)]:
            if (share - last) * part.length <= MEET:
                continue
            turn = math.tan((share - last) * part.sweep / 4) if isinstance(part, Arc) else 0.0
            found.append(Arc(spot, at, turn) if turn else Line(spot, at))
            last, spot = share, at
    return found


def _loops(pieces: list[Segment]) -> list[list[Vertex]]:
    """Pieces joined end to end to closed loops; what leads nowhere is left out.

    Where several pieces begin at one place the longest goes on: the others are specks beside a crossing.
    """
    cells: dict[tuple[int, int], list[int]] = {}
    for index, piece in enumerate(pieces):
        cells.setdefault(_cell(piece.start), []).append(index)
    unused = set(range(len(pieces)))
    found: list[list[Vertex]] = []
    for first in sorted(unused, key=lambda index: (-pieces[index].length, index)):
        if first not in unused:
            continue
        chain = [first]
        unused.discard(first)
        while math.dist(pieces[chain[-1]].end, pieces[first].start) > JOIN:
            following = _next(pieces, cells, unused, pieces[chain[-1]].end)
            if following is None:
                chain = []
                break
            chain.append(following)
            unused.discard(following)
        if chain:
            found.append([Vertex(pieces[k].start.x + 0.0, pieces[k].start.y + 0.0, pieces[k].bulge) for k in chain])
    return found


def _cell(place: Point) -> tuple[int, int]:
    return math.floor(place.x / (4 * JOIN)), math.floor(place.y / (4 * JOIN))


def _next(pieces: list[Segment], cells: dict[tuple[int, int], list[int]], unused: set[int], end: Point) -> int | None:
    column, line = _cell(end)
    near = [
        index
        for dx in (-1, 0, 1)
        for dy in (-1, 0, 1)
        for index in cells.get((column + dx, line + dy), ())
        if index in unused and math.dist(pieces[index].start, end) <= JOIN
    ]
    return max(near, key=lambda index: (pieces[index].length, -index)) if near else None


__all__ = ["untangled"]
