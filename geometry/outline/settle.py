"""One shape, one way to write it: joints that nobody can see go, whichever way an outline was given.

Terms
-----
joint
    A vertex between two lines on one straight line, or between two arcs of one circle: it turns nothing and bends nothing.
flat
    An arc that rises less than a thousandth of a millimetre over its chord: no cutter follows it, it is a straight line.
speck
    A straight line shorter than that between two arcs that run into it: the arcs meet.
settled
    An outline without joints, flat arcs and specks. An arc of up to half a circle is one arc, a longer one two equal halves, a full circle
    two halves from its lowest point. The first vertex stays first, or the start of the side that it stood on.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from geometry.outline.loop import Arc, Line, Outline, Point, Segment, Vertex, segments
from geometry.outline.measure import area, centroid
from geometry.outline.meet import distance_to
from geometry.outline.soundness import turn_at

FLAT = 1e-3
"""mm; what rises, or moves, less than this is nothing that can be cut or measured on glass."""
TANGENT = 1e-4
"""Turn at a joint, radians (0.006 degrees)."""
FIGURES = 6
"""Decimals of a millimetre to which a full circle is written: the last bits depend on how it was given."""


def settled(outline: Outline) -> Outline:
    """The same shape without joints and flat arcs; an outline that has none comes back as it is.

    >>> from geometry.outline.shapes import circle
    >>> quarter = math.tan(math.pi / 8)
    >>> eight = Outline(tuple(Vertex(x, y, quarter) for x, y in ((0, 50), (50, 0), (100, 50), (50, 100))))
    >>> settled(eight) == circle(100)
    True
    >>> settled(Outline((Vertex(0, 0), Vertex(40, 0), Vertex(90, 0, 1e-9), Vertex(90, 50)))).vertices
    (Vertex(x=0, y=0, bulge=0.0), Vertex(x=90, y=0, bulge=0.0), Vertex(x=90, y=50, bulge=0.0))
    """
    whole = full_circle(outline)
    if whole is not None:
        return outline if whole == outline else whole
    parts = _joined(_without_specks(segments(outline)))
    parts = _joined(tuple(Line(part.start, part.end) if _is_flat(part) else part for part in parts))
    found = [vertex for part in parts for vertex in _written(part)]
    return outline if tuple(found) == outline.vertices else Outline(tuple(found))


def _without_specks(parts: Sequence[Segment]) -> Sequence[Segment]:
    """The segments without the straight lines shorter than ``FLAT`` between two arcs that they touch: those arcs meet instead."""
    kept = [
        part
        for index, part in enumerate(parts)
        if not (
            isinstance(part, Line) and part.length < FLAT and _rounds(parts[index - 1], part, parts[(index + 1) % len(parts)])
        )
    ]
    if len(kept) == len(parts):
        return parts
    return [
        Arc(part.start, after.start, part.bulge) if isinstance(part, Arc) else part
        for part, after in zip(kept, (*kept[1:], kept[0]), strict=True)
    ]


def _rounds(before: Segment, part: Segment, after: Segment) -> bool:
    return before.bulge * after.bulge > 0 and abs(turn_at(before, part)) < TANGENT and abs(turn_at(part, after)) < TANGENT


def flat_arcs(outline: Outline) -> tuple[Point, ...]:
    """Where the arcs begin that a settled outline draws as straight lines.

    >>> flat_arcs(Outline((Vertex(0, 0, 1e-6), Vertex(90, 0, 1e-3), Vertex(90, 50))))
    (Point(x=0, y=0),)
    """
    if full_circle(outline) is not None:
        return ()
    return tuple(part.start for part in _joined(segments(outline)) if _is_flat(part))


def _is_flat(part: Segment) -> bool:
    return isinstance(part, Arc) and abs(part.bulge) * math.dist(part.start, part.end) / 2 < FLAT


def full_circle(outline: Outline) -> Outline | None:
    """The circle of two halves, where every side of the outline is an arc of it; else None."""
    parts = segments(outline)
    if not all(part.bulge > 0 for part in parts):
        return None
    centre, radius = centroid(outline), math.sqrt(area(outline) / math.pi)
    places = [part.point_at(share) for part in parts for share in (0.0, 0.5)]
    if any(abs(math.dist(place, centre) - radius) >= FLAT for place in places):
        return None
    x, y, r = round(centre.x, FIGURES), round(centre.y, FIGURES), round(radius, FIGURES)
    return Outline((Vertex(x, y - r, 1.0), Vertex(x, y + r, 1.0)))


def _joined(parts: Sequence[Segment]) -> list[Segment]:
    """The segments with joints taken out; the first is the one that held the first vertex."""
    groups: list[tuple[Segment, list[Segment]]] = []
    for part in parts:
        one = _one(groups[-1][1], part) if groups else None
        if one is None:
            groups.append((part, [part]))
        else:
            groups[-1] = (one, [*groups[-1][1], part])
    while len(groups) > 2:
        one = None
        members = list(groups[-1][1])
        for part in groups[0][1]:
            one = _one(members, part)
            if one is None:
                break
            members.append(part)
        if one is None:
            break
        groups[0] = (one, members)
        groups.pop()
    return [whole for whole, _ in groups]


def _one(before: Sequence[Segment], part: Segment) -> Segment | None:
    """One line or arc in the place of neighbours and the segment after them; None where it would not lie on all of them."""
    last = before[-1]
    if (last.bulge * part.bulge <= 0 and (last.bulge or part.bulge)) or abs(turn_at(last, part)) >= TANGENT:
        return None
    members = [*before, part]
    start, end = before[0].start, part.end
    if isinstance(part, Line):
        whole: Segment = Line(start, end)
        spots = [each.start for each in members[1:]]
    else:
        sweep = math.fsum(each.sweep for each in members if isinstance(each, Arc))
        if abs(sweep) > 2 * math.pi - 1e-3:
            return None
        whole = Arc(start, end, math.tan(sweep / 4))
        spots = [spot for each in members for spot in (each.start, each.point_at(0.5))][1:]
    return whole if all(distance_to(whole, *spot) < FLAT for spot in spots) else None


def _written(part: Segment) -> list[Vertex]:
    if isinstance(part, Arc) and abs(part.sweep) > math.pi + 1e-9:
        half = math.tan(part.sweep / 8)
        return [Vertex(*part.start, half), Vertex(*part.point_at(0.5), half)]
    return [Vertex(*part.start, part.bulge)]


__all__ = ["FLAT", "flat_arcs", "full_circle", "settled"]
