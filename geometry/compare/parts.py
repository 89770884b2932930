"""Convex parts of a pane, for the ceiling in a recess that is not convex.

Terms
-----
part
    A convex piece of the glass. Parts may overlap; together they cover the pane up to the fillets of its inner corners and whatever
    lies behind more than ``DEEPEST`` of them: the ceiling is true without, only higher.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.compare.curve import SMOOTH, curve_of
from geometry.outline.loop import Arc, Line, Outline, Point, Segment, Vertex, segments
from geometry.outline.meet import carriers_meet, on_segment

if TYPE_CHECKING:
    from collections.abc import Sequence

DEEPEST = 6
LEAST_AREA = 1.0
"""mm2 of a part that is worth keeping."""


def convex_parts(outline: Outline) -> tuple[Outline, ...]:
    """Convex pieces of an outline: itself where it is convex.

    >>> from geometry.outline import polygon
    >>> len(convex_parts(polygon([(0, 0), (900, 0), (900, 300), (400, 300), (400, 700), (0, 700)])))
    2
    """
    return tuple(_parts(outline, DEEPEST))


def _parts(outline: Outline, deep: int) -> list[Outline]:
    if curve_of(outline).convex:
        return [outline]
    if deep == 0:
        return []
    found: list[Outline] = []
    for place, way in _cuts(outline):
        half = _left_of(outline, place, way)
        if half is not None:
            found += [part for part in _parts(half, deep - 1) if part not in found]
    return found


def _cuts(outline: Outline) -> list[tuple[Point, Point]]:
    """Two lines through the first place that turns inwards, each along the outline there: the glass left of one or of the other."""
    parts = segments(outline)
    for i, part in enumerate(parts):
        if isinstance(part, Arc) and part.bulge < 0:
            if part.sweep < -2.8:  # half round or more: lines at its ends leave nothing
                return [(part.point_at(f), part.tangent_at(f)) for f in (0.0, 0.5, 1.0)]
            return [(part.start, part.tangent_at(0.0)), (part.end, part.tangent_at(1.0))]
        before, after = parts[i - 1].tangent_at(1.0), part.tangent_at(0.0)
        if before.x * after.y - before.y * after.x < -SMOOTH:
            return [(part.start, before), (part.start, after)]
    return []


def _left_of(outline: Outline, place: Point, way: Point) -> Outline | None:
    """The piece of an outline left of a line, as one loop; None where there is none or it falls apart."""
    pieces = [piece for part in segments(outline) for piece in _cut(part, place, way)]
    kept = [piece for piece in pieces if _side(piece.point_at(0.5), place, way) > 0 and piece.length > 1e-9]
    if not kept:
        return None
    vertices: list[Vertex] = []
    for piece, following in zip(kept, (*kept[1:], *kept[:1]), strict=True):
        vertices.append(Vertex(piece.start.x, piece.start.y, piece.bulge))
        if abs(piece.end.x - following.start.x) > 1e-7 or abs(piece.end.y - following.start.y) > 1e-7:
            vertices.append(Vertex(piece.end.x, piece.end.y, 0.0))
    return _sound(vertices)


def _sound(vertices: Sequence[Vertex]) -> Outline | None:
    from geometry.outline.loop import OutlineError
    from geometry.outline.soundness import signed_area, sound

    if len(vertices) < 2 or signed_area(vertices) < LEAST_AREA:
        return None
    try:
        return sound(tuple(vertices))
    except OutlineError:
        return None


def _side(point: Point, place: Point, way: Point) -> float:
    return way.x * (point.y - place.y) - way.y * (point.x - place.x)


def _cut(part: Segment, place: Point, way: Point) -> list[Segment]:
    """A segment cut where it crosses a line."""
    line = Line(place, Point(place.x + way.x, place.y + way.y))
    sides = [_side(part.start, place, way), _side(part.end, place, way)]
    if isinstance(part, Line):
        if sides[0] * sides[1] >= 0 or min(abs(sides[0]), abs(sides[1])) < 1e-9:
            return [part]
        middle = part.point_at(sides[0] / (sides[0] - sides[1]))
        return [Line(part.start, middle), Line(middle, part.end)]
    return _cut_arc(part, [spot for spot in carriers_meet(part, line) if on_segment(part, spot.x, spot.y)])


def _cut_arc(arc: Arc, spots: Sequence[Point]) -> list[Segment]:
    first = math.atan2(arc.start.y - arc.centre.y, arc.start.x - arc.centre.x)
    sense = math.copysign(1.0, arc.sweep)
    turns = sorted((sense * (math.atan2(spot.y - arc.centre.y, spot.x - arc.centre.x) - first)) % (2 * math.pi) for spot in spots)
    inner = [turn for turn in turns if 1e-9 < turn < abs(arc.sweep) - 1e-9]
    if not inner:
        return [arc]
    ends = [0.0, *inner, abs(arc.sweep)]
    pieces: list[Segment] = []
    for low, high in pairwise(ends):
        start, end = arc.point_at(low / abs(arc.sweep)), arc.point_at(high / abs(arc.sweep))
        pieces.append(Arc(start, end, sense * math.tan((high - low) / 4)))
    return pieces


__all__ = ["convex_parts"]
