"""Parallel curves with true arcs, proven, or a sentence that says why there is none.

Terms
-----
parallel curve
    The curve at one distance from an outline, outwards (positive) or inwards (negative). Corners that gape get arcs.
proof
    Every segment runs parallel to a segment of the original, or about a corner of it, at the distance; no place lies nearer;
    the curve does not cross itself; and it encloses the area that Steiner's formula gives or, where that formula does not
    reach, shapely finds no part that was left out.

Where no side is used up the curve follows in closed form; every other case is cut out of the moved segments. Both go through the
same proof.
"""

from __future__ import annotations

import math
from functools import lru_cache

from geometry.outline.loop import Arc, Line, Outline, OutlineError, Segment, segments
from geometry.outline.measure import area, perimeter
from geometry.outline.parallel import in_closed_form
from geometry.outline.soundness import checked_number, crossing_of
from geometry.outline.stations import distance_between, distance_from, point_in, segments_within
from geometry.outline.untangle import untangled

PROOF = 1e-6
"""mm to which a parallel curve must keep its distance."""


class OffsetError(OutlineError):
    """A parallel curve that does not exist, with where and why."""


def offset(outline: Outline, distance: float, *, what: str = "the parallel curve") -> Outline:
    """The parallel curve ``distance`` mm outwards (positive) or inwards (negative); ``what`` names it in an error.

    Counter-clockwise; begins at what belongs to the first vertex of the original. Convex corners get arcs outwards, re-entrant
    ones inwards. A rounding of no more than the distance leaves a sharp corner.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> offset(rectangle(100, 50), -10).vertices[0], area(offset(rectangle(100, 50), -10))
    (Vertex(x=10.0, y=10.0, bulge=0.0), 2400.0)
    >>> offset(circle(20), -5).vertices[0]
    Vertex(x=10.0, y=5.0, bulge=1.0)
    >>> offset(circle(20), 0) == circle(20)
    True
    >>> offset(rectangle(100, 50), -25, what="the bead")
    Traceback (most recent call last):
    geometry.outline.offset.OffsetError: the bead cannot run 25 mm inside this outline: it is only 50 mm wide near (50, 25)

    Raises
    ------
    OffsetError
        When there is no such curve, or it would be in several parts.
    """
    wanted = checked_number(distance, f"the distance of {what}")
    found = try_offset(outline, wanted)
    if found is None:
        raise OffsetError(reason(outline, wanted, what))
    return found


@lru_cache(maxsize=256)
def reason(outline: Outline, distance: float, what: str) -> str:
    """Why there is no such parallel curve."""
    from geometry.outline.refusal import why_not

    return why_not(outline, distance, what)


@lru_cache(maxsize=1024)
def try_offset(outline: Outline, distance: float) -> Outline | None:
    """The proven parallel curve, or None."""
    if distance == 0.0:
        return outline
    near = in_closed_form(outline, distance)
    if near is not None and proven(outline, near.outline, distance, formula_area=near.formula_area):
        return near.outline
    far = untangled(outline, distance)
    return far if far is not None and proven(outline, far, distance, formula_area=None) else None


def proven(outline: Outline, result: Outline, distance: float, *, formula_area: float | None) -> bool:
    """Whether a curve is the parallel curve of an outline; ``formula_area``, mm2, is what it must enclose, where one is known."""
    reach = abs(distance)
    parts = segments(result)
    if not _follow(outline, parts, reach) or area(result) <= 0.0:
        return False
    if point_in(outline, parts[0].start) != (distance < 0):
        return False
    if distance_between(result, outline, within=reach - PROOF) < reach - PROOF or crossing_of(parts) is not None:
        return False
    if formula_area is None:
        return _complete(outline, result, distance)
    return abs(area(result) - formula_area) <= PROOF * (perimeter(result) + perimeter(outline))


def _follow(outline: Outline, parts: tuple[Segment, ...], reach: float) -> bool:
    """Whether every segment lies at the distance and runs parallel to one of the outline's segments, or about an end of it."""
    middles = [part.point_at(0.5) for part in parts]
    spots, most = (*middles, *(part.start for part in parts)), reach + 2 * PROOF
    if any(abs(distance_from(outline, spot, within=most) - reach) > PROOF for spot in spots):
        return False  # the end of one segment is the start of the next
    near = (segments_within(outline, middle, reach + PROOF) for middle in middles)
    return all(_follows(part, sources, reach) for part, sources in zip(parts, near, strict=True))


def _follows(part: Segment, sources: tuple[Segment, ...], reach: float) -> bool:
    if isinstance(part, Line):
        return any(isinstance(source, Line) and _alongside(source, part, reach) for source in sources)
    # How far a flat arc's centre can be trusted: its rounding errors grow with the square of radius over length.
    slack = PROOF * max(1.0, (part.radius / part.length) ** 2)
    centres = [source.centre for source in sources if isinstance(source, Arc)]
    centres += [end for source in sources for end in (source.start, source.end)]
    return any(math.dist(part.centre, centre) <= slack for centre in centres)


def _alongside(source: Line, part: Line, reach: float) -> bool:
    """Whether both ends of a line lie at the distance from the endless line that carries another."""
    way = source.tangent_at(0.0)
    return all(
        abs(abs(way.x * (spot.y - source.start.y) - way.y * (spot.x - source.start.x)) - reach) <= PROOF
        for spot in (part.start, part.end)
    )


def _complete(outline: Outline, result: Outline, distance: float) -> bool:
    """Whether no other part of the parallel curve is left out: shapely finds none beyond what its buffer rounds off.

    shapely smooths what it grows or shrinks by up to a hundredth of the distance, so its area is no proof by itself.
    """
    from geometry.outline.regions import to_polygon

    polygon, whole = to_polygon(outline, sagitta=0.01), to_polygon(result, sagitta=0.01)
    if distance > 0:
        return not polygon.buffer(distance * 1.02 + 0.02).interiors
    left = polygon.buffer(distance * 1.02 - 0.02)
    return float(left.difference(whole.buffer(0.02)).area) < 1e-3


__all__ = ["OffsetError", "offset", "proven", "reason", "try_offset"]
