"""The closed loop that every outline of a detail is: true lines and true arcs.

Terms
-----
vertex
    A corner or joint of the loop: ``(x, y, bulge)``. The bulge belongs to the segment that *leaves* the vertex.
bulge
    ``tan(sweep / 4)`` of that segment. 0 is a straight line, positive turns left (counter-clockwise), 1 is half a circle.
segment
    The line or arc between one vertex and the next; the last one runs back to the first vertex.
outline
    A closed loop of segments that does not cross itself, counter-clockwise, seen from outside the vessel, in millimetres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import NamedTuple, TypeAlias


class Point(NamedTuple):
    """A place in the plane, mm; also a direction, where the text says unit vector."""

    x: float
    y: float


class Vertex(NamedTuple):
    """A joint of the loop and the bulge of the segment that leaves it."""

    x: float
    y: float
    bulge: float = 0.0


@dataclass(frozen=True)
class Outline:
    """A closed, counter-clockwise, simple loop of lines and arcs, mm, seen from outside.

    ``clockwise_names``: corners and edges are named clockwise, as the other hand of a pane carries the names of its fellow.
    """

    vertices: tuple[Vertex, ...]
    clockwise_names: bool = False

    def __hash__(self) -> int:
        # every figure of an outline is remembered by it: hundreds of corners are not gone through anew each time
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.vertices, self.clockwise_names))


class OutlineError(ValueError):
    """An outline that cannot be: the sentence says what was found, where, and what is allowed."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment.

    >>> Line(Point(0, 0), Point(3, 4)).length
    5.0
    """

    start: Point
    end: Point

    @property
    def bulge(self) -> float:
        """Always 0."""
        return 0.0

    @property
    def length(self) -> float:
        """Length, mm."""
        return math.hypot(self.end.x - self.start.x, self.end.y - self.start.y)

    @property
    def curvature(self) -> float:
        """Always 0, 1/mm."""
        return 0.0

    def point_at(self, fraction: float) -> Point:
        """The point at this fraction of the length (0 start, 1 end), mm."""
        return Point(
            self.start.x + fraction * (self.end.x - self.start.x),
            self.start.y + fraction * (self.end.y - self.start.y),
        )

    def tangent_at(self, fraction: float) -> Point:
        """Unit vector of travel; the same at every fraction."""
        return unit(self.end.x - self.start.x, self.end.y - self.start.y)


@dataclass(frozen=True)
class Arc:
    """A circular segment; positive bulge turns left.

    >>> half = Arc(Point(10, 0), Point(-10, 0), 1.0)
    >>> half.centre, half.radius, round(half.sweep, 6)
    (Point(x=0.0, y=0.0), 10.0, 3.141593)
    """

    start: Point
    end: Point
    bulge: float
    centre: Point = field(init=False, repr=False, compare=False)
    """Centre of the circle, mm."""
    radius: float = field(init=False, repr=False, compare=False)
    """Radius, mm, always positive."""
    sweep: float = field(init=False, repr=False, compare=False)
    """Angle turned, radians, positive to the left; between -2 pi and 2 pi."""

    def __post_init__(self) -> None:
        (x1, y1), (x2, y2) = self.start, self.end
        x, y, radius, sweep = circle_of(x1, y1, x2, y2, self.bulge)
        vars(self).update(centre=Point(x, y), radius=radius, sweep=sweep)  # every arc is asked for them

    @property
    def length(self) -> float:
        """Length along the arc, mm."""
        return self.radius * abs(self.sweep)

    @property
    def curvature(self) -> float:
        """1/radius, 1/mm, positive where the arc turns left (the outline is convex there)."""
        return math.copysign(1.0 / self.radius, self.bulge)

    def point_at(self, fraction: float) -> Point:
        """The point at this fraction of the length (0 start, 1 end), mm."""
        if fraction == 0.0:
            return self.start
        if fraction == 1.0:
            return self.end
        centre = self.centre
        turn = self.sweep * fraction
        cosine, sine = math.cos(turn), math.sin(turn)
        dx, dy = self.start.x - centre.x, self.start.y - centre.y
        return Point(centre.x + dx * cosine - dy * sine, centre.y + dx * sine + dy * cosine)

    def tangent_at(self, fraction: float) -> Point:
        """Unit vector of travel at this fraction of the length."""
        # from the chord, not the centre: stays exact for flat arcs whose centre is far away
        turn = self.sweep * (fraction - 0.5)
        chord = unit(self.end.x - self.start.x, self.end.y - self.start.y)
        return turned(chord, turn)


Segment: TypeAlias = Line | Arc


def circle_of(x1: float, y1: float, x2: float, y2: float, bulge: float) -> tuple[float, float, float, float]:
    """The circle of the arc that leaves (x1, y1) with a bulge and ends at (x2, y2): its centre (x, y), radius mm and sweep, radians.

    >>> circle_of(10.0, 0.0, -10.0, 0.0, 1.0)[:3]
    (0.0, 0.0, 10.0)
    """
    dx, dy, square = x2 - x1, y2 - y1, bulge * bulge
    factor = (1.0 - square) / (4.0 * bulge)
    radius = math.hypot(dx, dy) * (1.0 + square) / (4.0 * abs(bulge))
    return (x1 + x2) / 2.0 - dy * factor, (y1 + y2) / 2.0 + dx * factor, radius, 4.0 * math.atan(bulge)


def unit(dx: float, dy: float) -> Point:
    """The unit vector along (dx, dy).

    >>> unit(0.0, -2.0)
    Point(x=0.0, y=-1.0)
    >>> unit(0.0, 0.0)
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: a direction was asked for, but its length is 0
    """
    length = math.hypot(dx, dy)
    if length == 0.0:
        raise OutlineError("a direction was asked for, but its length is 0")
    return Point(dx / length, dy / length)


def turned(direction: Point, angle: float) -> Point:
    """The vector turned to the left by an angle in radians."""
    cosine, sine = math.cos(angle), math.sin(angle)
    return Point(direction.x * cosine - direction.y * sine, direction.x * sine + direction.y * cosine)


def number(value: float) -> str:
    """A figure for a sentence: at most three decimals, no trailing zeros.

    >>> number(640.0), number(12.3456), number(-0.0001)
    ('640', '12.346', '0')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def place(x: float, y: float) -> str:
    """A place for a sentence, to a tenth of a millimetre.

    >>> place(640.0, 215.04)
    '(640, 215)'
    """
    return f"({number(round(x, 1))}, {number(round(y, 1))})"


@lru_cache(maxsize=512)
def segments(outline: Outline) -> tuple[Segment, ...]:
    """The lines and arcs of an outline in order; segment i leaves vertex i.

    >>> [type(s).__name__ for s in segments(Outline((Vertex(0, 0), Vertex(20, 0, 1.0))))]
    ['Line', 'Arc']
    >>> segments(Outline(()))
    ()
    """
    vertices = outline.vertices
    return tuple(segment_between(a, b, a.bulge) for a, b in zip(vertices, (*vertices[1:], *vertices[:1]), strict=True))


def segment_between(start: Point | Vertex, end: Point | Vertex, bulge: float) -> Segment:
    """A line where the bulge is 0, else an arc."""
    a, b = Point(start.x, start.y), Point(end.x, end.y)
    return Arc(a, b, bulge) if bulge else Line(a, b)


__all__ = [
    "Arc",
    "Line",
    "Outline",
    "OutlineError",
    "Point",
    "Segment",
    "Vertex",
    "circle_of",
    "number",
    "place",
    "segment_between",
    "segments",
    "turned",
    "unit",
]
