"""Figures of an outline in closed form, arcs included, and the two moves that change no figure: shift and mirror.

Terms
-----
box
    The smallest upright rectangle round the outline, with the true extremes of its arcs.
second moments
    Integrals of the squared distance over the area, about axes through the centroid, mm4.
mirrored
    The other hand: the same pane on the other side of the vessel, again seen from outside, so again counter-clockwise.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from geometry.outline.loop import Arc, Line, Outline, Point, Vertex, segments
from geometry.outline.meet import box_of
from geometry.outline.soundness import signed_area


class Box(NamedTuple):
    """Left, bottom, right and top of the smallest upright rectangle, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Right less left, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Top less bottom, mm."""
        return self.top - self.bottom

    @property
    def middle(self) -> Point:
        """Middle of the box, mm."""
        return Point((self.left + self.right) / 2.0, (self.bottom + self.top) / 2.0)


class SecondMoments(NamedTuple):
    """About axes through the centroid, mm4: of y squared, of x squared, of x times y."""

    about_x: float
    about_y: float
    product: float


class _Sums(NamedTuple):
    area: float
    x: float
    y: float
    xx: float
    yy: float
    xy: float


@lru_cache(maxsize=512)
def area(outline: Outline) -> float:
    """Area inside the outline, mm2.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> area(rectangle(1200, 600)), round(area(circle(2)), 12)
    (720000.0, 3.14159265359)
    """
    return signed_area(outline.vertices)


@lru_cache(maxsize=512)
def perimeter(outline: Outline) -> float:
    """Length of the outline, mm.

    >>> from geometry.outline.shapes import rectangle
    >>> perimeter(rectangle(1200, 600))
    3600.0
    """
    return math.fsum(part.length for part in segments(outline))


def centroid(outline: Outline) -> Point:
    """Centre of area, mm.

    >>> from geometry.outline.shapes import rectangle
    >>> centroid(rectangle(1200, 600))
    Point(x=600.0, y=300.0)
    """
    origin, sums = outline.vertices[0], _sums(outline)
    return Point(origin.x + sums.x / sums.area, origin.y + sums.y / sums.area)


def second_moments(outline: Outline) -> SecondMoments:
    """Second moments of area about the centroid, mm4.

    >>> from geometry.outline.shapes import rectangle
    >>> second_moments(rectangle(12, 6))
    SecondMoments(about_x=216.0, about_y=864.0, product=0.0)
    """
    s = _sums(outline)
    return SecondMoments(s.yy - s.y * s.y / s.area, s.xx - s.x * s.x / s.area, s.xy - s.x * s.y / s.area)


@lru_cache(maxsize=256)
def _sums(outline: Outline) -> _Sums:
    """Area integrals of 1, x, y, x2, y2, xy about the first vertex: the polygon of chords and a circular segment on each."""
    origin = outline.vertices[0]
    rows: list[tuple[float, ...]] = []
    for part in segments(outline):
        ax, ay, bx, by = part.start.x - origin.x, part.start.y - origin.y, part.end.x - origin.x, part.end.y - origin.y
        cross = ax * by - bx * ay
        rows.append(
            (
                cross / 2,
                (ax + bx) * cross / 6,
                (ay + by) * cross / 6,
                (ax * ax + ax * bx + bx * bx) * cross / 12,
                (ay * ay + ay * by + by * by) * cross / 12,
                (ax * (2 * ay + by) + bx * (ay + 2 * by)) * cross / 24,
            )
        )
        if isinstance(part, Arc):
            rows.append(_segment_sums(part, origin))
    return _Sums(*(math.fsum(row[i] for row in rows) for i in range(6)))


def _segment_sums(arc: Arc, origin: Vertex) -> tuple[float, ...]:
    """The same integrals over the piece between an arc and its chord, negative where the arc turns right."""
    sign = math.copysign(1.0, arc.bulge)
    half, radius = abs(arc.sweep) / 2, arc.radius
    sine, cosine = math.sin(half), math.cos(half)
    surface = sign * radius**2 * (half - sine * cosine)
    first = sign * 2.0 / 3.0 * radius**3 * sine**3
    along = sign * radius**4 / 4 * (half - sine * cosine + 2 * sine**3 * cosine)
    across = sign * radius**4 / 12 * (3 * half - 3 * sine * cosine - 2 * sine**3 * cosine)
    tangent = arc.tangent_at(0.5)
    ux, uy = tangent.y * sign, -tangent.x * sign  # from the centre to the middle of the arc
    cx, cy = arc.centre.x - origin.x, arc.centre.y - origin.y
    return (
        surface,
        cx * surface + ux * first,
        cy * surface + uy * first,
        cx * cx * surface + 2 * cx * ux * first + ux * ux * along + uy * uy * across,
        cy * cy * surface + 2 * cy * uy * first + uy * uy * along + ux * ux * across,
        cx * cy * surface + (cx * uy + cy * ux) * first + ux * uy * (along - across),
    )


@lru_cache(maxsize=256)
def bounding_box(outline: Outline) -> Box:
    """The smallest upright rectangle round the outline, mm, true extremes of arcs.

    >>> from geometry.outline.shapes import circle
    >>> bounding_box(circle(420))
    Box(left=0.0, bottom=0.0, right=420.0, top=420.0)
    """
    boxes = [box_of(part) for part in segments(outline)]
    return Box(min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def moved(outline: Outline, dx: float, dy: float) -> Outline:
    """The outline shifted by (dx, dy), mm.

    >>> from geometry.outline.shapes import rectangle
    >>> moved(rectangle(10, 5), 2, 3).vertices[0]
    Vertex(x=2.0, y=3.0, bulge=0.0)
    """
    return replace(outline, vertices=tuple(Vertex(v.x + dx, v.y + dy, v.bulge) for v in outline.vertices))


def mirrored(outline: Outline) -> Outline:
    """The other hand: mirrored about the upright line through the middle of the box, so the box stays where it is.

    Counter-clockwise again. The first straight side stays the first side (a sill stays from corner 1 to corner 2), so a
    shape that is symmetric about that line keeps its corner numbers. Without straight sides the first vertex stays first.

    >>> from geometry.outline.shapes import polygon, rectangle
    >>> mirrored(rectangle(1200, 600, radius=60)) == rectangle(1200, 600, radius=60)
    True
    >>> mirrored(polygon([(0, 0), (100, 0), (0, 50)])).vertices[2]
    Vertex(x=100.0, y=50.0, bulge=0.0)
    """
    box = bounding_box(outline)
    loop, first = _reflected(outline, box.left + box.right)
    parts = segments(outline)
    if first is not None and isinstance(parts[(first + 1) % len(parts)], Arc):
        start = len(parts) - 2 - first  # the rounding at the far end of the first side now opens the loop
    else:
        start = 0 if first is None else len(parts) - 1 - first
    return replace(outline, vertices=_from(loop, start))


def other_hand(outline: Outline, *, across: float = 0.0) -> Outline:
    """The same pane for the other side of the vessel: x becomes ``across`` - x, mm, and every corner and edge keeps its name.

    Counter-clockwise again, so the names run clockwise. Twice, and the pane is back.

    >>> from geometry.outline.corners import corners
    >>> from geometry.outline.shapes import polygon
    >>> triangle = polygon([(0, 0), (100, 0), (0, 50)])
    >>> [(corner.number, corner.theoretical) for corner in corners(other_hand(triangle))]  # doctest: +NORMALIZE_WHITESPACE
    [(1, Point(x=0.0, y=0.0)), (3, Point(x=0.0, y=50.0)), (2, Point(x=-100.0, y=0.0))]
    >>> other_hand(other_hand(triangle)) == triangle
    True
    """
    loop, first = _reflected(outline, across)
    # the loop begins where the first side arrives, in the corner or the rounding that the first side left before
    start = 0 if first is None else len(loop) - first
    return Outline(_from(loop, start), clockwise_names=not outline.clockwise_names)


def _reflected(outline: Outline, across: float) -> tuple[list[Vertex], int | None]:
    """The loop mirrored and run the other way, from its last side to its first, and which of the sides it had is the first straight one."""
    parts = segments(outline)
    # travel is reversed and the turn is mirrored: the bulge keeps its sign
    loop = [Vertex(across - part.end.x, part.end.y, part.bulge) for part in reversed(parts)]
    return loop, next((index for index, part in enumerate(parts) if isinstance(part, Line)), None)


def _from(loop: list[Vertex], start: int) -> tuple[Vertex, ...]:
    start %= len(loop)
    return tuple(loop[start:] + loop[:start])


__all__ = [
    "Box",
    "SecondMoments",
    "area",
    "bounding_box",
    "centroid",
    "mirrored",
    "moved",
    "other_hand",
    "perimeter",
    "second_moments",
]
