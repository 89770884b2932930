"""Parallel curves with true arcs, proven, or a sentence that says why there is none.

Terms
-----
parallel curve
    The curve at one distance from an outline, outwards (positive) or inwards (negative). Corners that gape get arcs.
proof
    Every vertex and the middle of every segment lie at the distance from the original, no place lies nearer, the curve does
    not cross itself, and its area is the one that a formula (or, where none covers it, shapely's buffer) gives.

Where no side is used up the curve follows in closed form; every other case is made by cadquery's ``Wire.offset2D``. Both go
through the same proof.
"""

from __future__ import annotations

from functools import lru_cache

from geometry.outline.kernel import by_kernel
from geometry.outline.loop import Outline, OutlineError, segments
from geometry.outline.measure import area, perimeter
from geometry.outline.parallel import in_closed_form
from geometry.outline.soundness import checked_number, crossing_of
from geometry.outline.stations import distance_between, distance_from, point_in

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
    far = by_kernel(outline, distance)
    return far if far is not None and proven(outline, far, distance, formula_area=None) else None


def proven(outline: Outline, result: Outline, distance: float, *, formula_area: float | None) -> bool:
    """Whether a curve is the parallel curve of an outline; ``formula_area``, mm2, is what it must enclose (None: by shapely)."""
    reach = abs(distance)
    parts = segments(result)
    spots = [place for part in parts for place in (part.start, part.point_at(0.5))]
    if any(abs(distance_from(outline, spot) - reach) > PROOF for spot in spots):
        return False
    if point_in(outline, spots[0]) != (distance < 0) or area(result) <= 0.0:
        return False
    if distance_between(result, outline, within=reach) < reach - PROOF or crossing_of(parts) is not None:
        return False
    allowed = PROOF * (perimeter(result) + perimeter(outline))
    if formula_area is None:
        formula_area, allowed = _buffer_area(outline, distance)
    return abs(area(result) - formula_area) <= allowed


def _buffer_area(outline: Outline, distance: float) -> tuple[float, float]:
    """Area of shapely's buffer, and by how much the true one can differ: the chords' stand-off along both outlines."""
    from geometry.outline.regions import to_polygon

    sagitta, quarter = 1e-3, 64
    buffer = to_polygon(outline, sagitta=sagitta).buffer(distance, quad_segs=quarter)
    stand_off = sagitta + abs(distance) * 1e-4  # 1 - cos(90 degrees / 64 / 2) is under 1e-4
    return float(buffer.area), stand_off * (float(buffer.length) + perimeter(outline))
