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

from dataclasses import dataclass
from typing import NamedTuple


class Point(NamedTuple):
    """A place in the plane, mm."""

    x: float
    y: float


class Vertex(NamedTuple):
    """A joint of the loop and the bulge of the segment that leaves it."""

    x: float
    y: float
    bulge: float = 0.0


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed, counter-clockwise, simple loop of lines and arcs, mm, seen from outside."""

    vertices: tuple[Vertex, ...]
