"""Corners rounded to a least radius, and parallel curves whose corners are."""

from __future__ import annotations

from geometry.outline.corners import corners
from geometry.outline.loop import Outline, segments
from geometry.outline.offset import offset


def _tightest(outline: Outline) -> float:
    """Least convex radius of an outline, 0 where it has a sharp convex corner."""
    if any(corner.convex and corner.radius == 0 for corner in corners(outline)):
        return 0.0
    return min((1.0 / part.curvature for part in segments(outline) if part.curvature > 0), default=0.0)


def rounded(outline: Outline, *, radius: float, what: str = "the rounded outline") -> Outline:
    """The outline with every convex corner rounded to at least ``radius`` mm: moved in by the radius and out again.

    >>> from geometry.outline.shapes import rectangle
    >>> from geometry.outline.measure import area
    >>> round(area(rounded(rectangle(100, 50), radius=10)) - area(rectangle(100, 50, radius=10)), 9)
    0.0
    """
    if radius <= 0 or _tightest(outline) >= radius - 1e-9:
        return outline
    return offset(offset(outline, -radius, what=what), radius, what=what)


def offset_rounded(outline: Outline, distance: float, *, radius: float, what: str = "the parallel curve") -> Outline:
    """The parallel curve at ``distance`` (negative inwards) whose convex corners have at least ``radius`` mm."""
    if radius <= 0 or _tightest(outline) + distance >= radius - 1e-9:
        return offset(outline, distance, what=what)
    return offset(offset(outline, distance - radius, what=what), radius, what=what)
