"""Convex parts of a pane, for the ceiling in a recess that is not convex.

Terms
-----
part
    A convex piece of the glass; together the parts are the pane without the fillets of its inner corners. Where a pane cannot be
    cut so, parts are left out: the ceiling is true without them, only higher.
fillet
    An arc that turns inwards. The sharp corner behind it lies in the glass and stands in its place.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.compare.curve import SMOOTH
from geometry.outline.loop import Arc, Line, Outline, OutlineError, Point, Segment, Vertex, segments
from geometry.outline.meet import carriers_meet, on_segment
from geometry.outline.soundness import signed_area, sound

if TYPE_CHECKING:
    from collections.abc import Sequence

MOST_INNER = 12
"""Inner corners up to which a pane is cut."""
WIDEST = 2.0
"""Radians of a fillet whose sharp corner stands in its place; a wider one is taken in pieces."""
LEAST_AREA = 1.0
"""mm2 of a part that is worth keeping."""
AHEAD = 1e-6
"""mm that a cut is long at the least."""


def convex_parts(outline: Outline) -> tuple[Outline, ...]:
    """Convex pieces of an outline: itself where it is convex.

    >>> from geometry.outline import polygon
    >>> len(convex_parts(polygon([(0, 0), (900, 0), (900, 300), (400, 300), (400, 700), (0, 700)])))
    2
    """
    try:
        sharp = _without_fillets(outline)
        return tuple(_parts(sharp)) if len(_inner(sharp)) <= MOST_INNER else ()
    except OutlineError:
        return ()


def _without_fillets(outline: Outline) -> Outline:
    """Every fillet with its sharp corner in its place."""
    if not any(isinstance(part, Arc) and part.bulge < 0 for part in segments(outline)):
        return outline
    vertices: list[Vertex] = []
    for part in segments(outline):
        if not isinstance(part, Arc) or part.bulge > 0:
            vertices.append(Vertex(part.start.x, part.start.y, part.bulge))
            continue
        count = math.ceil(-part.sweep / WIDEST)
        reach = part.radius * math.tan(-part.sweep / count / 2)
        for i in range(count):
            start, way = part.point_at(i / count), part.tangent_at(i / count)
            vertices += [Vertex(*start), Vertex(start.x + reach * way.x, start.y + reach * way.y)]
    return sound(tuple(vertices))


def _inner(outline: Outline) -> list[int]:
    """The vertices at which an outline turns inwards."""
    parts = segments(outline)
    found = []
    for i, part in enumerate(parts):
        before, after = parts[i - 1].tangent_at(1.0), part.tangent_at(0.0)
        if before.x * after.y - before.y * after.x < -SMOOTH:
            found.append(i)
    return found


def _parts(outline: Outline) -> list[Outline]:
    inner = _inner(outline)
    if not inner:
        return [outline]
    halves = _cut(outline, inner[0], straight_on=True) or _cut(outline, inner[0], straight_on=False)
    return [part for half in halves for part in _parts(half)]


def _cut(outline: Outline, at: int, *, straight_on: bool) -> tuple[Outline, ...]:
    """An outline cut in two from an inner corner: straight on from the side before it, else straight back from the side after it."""
    parts = segments(outline)
    corner = parts[at].start
    way = parts[at - 1].tangent_at(1.0) if straight_on else parts[at].tangent_at(0.0)
    way = way if straight_on else Point(-way.x, -way.y)
    ray = Line(corner, Point(corner.x + way.x, corner.y + way.y))
    hits = [
        ((spot.x - corner.x) * way.x + (spot.y - corner.y) * way.y, number, spot)
        for number, part in enumerate(parts)
        for spot in carriers_meet(ray, part)
        if on_segment(part, spot.x, spot.y)
    ]
    ahead = [hit for hit in hits if hit[0] > AHEAD]
    if not ahead:
        return ()
    _, number, spot = min(ahead)
    count = len(parts)
    first = [(at + i) % count for i in range((number - at) % count)]
    second = [(number + 1 + i) % count for i in range((at - number - 1) % count)]
    low, high = _divided(parts[number], spot)
    one = _loop([*(parts[i] for i in first), low])
    other = _loop([high, *(parts[i] for i in second)])
    return (one, other) if one is not None and other is not None else ()


def _divided(part: Segment, spot: Point) -> tuple[Segment, Segment]:
    if isinstance(part, Line):
        return Line(part.start, spot), Line(spot, part.end)
    first = math.atan2(part.start.y - part.centre.y, part.start.x - part.centre.x)
    sense = math.copysign(1.0, part.sweep)
    turn = (sense * (math.atan2(spot.y - part.centre.y, spot.x - part.centre.x) - first)) % (2 * math.pi)
    turn = min(turn, abs(part.sweep))
    return (
        Arc(part.start, spot, sense * math.tan(turn / 4) or 1e-12),
        Arc(spot, part.end, sense * math.tan((abs(part.sweep) - turn) / 4) or 1e-12),
    )


def _loop(run: Sequence[Segment]) -> Outline | None:
    """A run of segments closed by a straight cut; None where nothing is left."""
    kept = [part for part in run if math.dist(part.start, part.end) > 1e-9]
    vertices = [Vertex(part.start.x, part.start.y, part.bulge) for part in kept]
    if not kept:
        return None
    vertices.append(Vertex(*kept[-1].end))
    if len(vertices) < 3 or signed_area(vertices) < LEAST_AREA:
        return None
    return sound(tuple(vertices))


__all__ = ["convex_parts"]
