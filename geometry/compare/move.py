"""The move that lays a drawing on the pane: scaled to millimetres, mirrored or not, turned, shifted; and the units it may be drawn in.

Terms
-----
scale
    Millimetres for one unit of the drawing.
mirrored
    Left and right changed over before the turn.
turned
    How the drawing stands to the pane, degrees counter-clockwise: the pane turned so far, after its mirroring, is the drawing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from geometry.outline.loop import Outline, Point, Vertex


class Unit(NamedTuple):
    """A scale that drawings are known to have, and what it is called; ``plain`` are the units that people draw in."""

    scale: float
    name: str
    plain: bool = False

    @property
    def told(self) -> str:
        """How a drawing in it is told of: "in inches", "drawn at 1:5"."""
        return f"in {self.name}" if self.plain else self.name


UNITS = (
    Unit(1.0, "millimetres", plain=True),
    Unit(25.4, "inches", plain=True),
    Unit(10.0, "centimetres, or drawn at 1:10", plain=True),
    Unit(1000.0, "metres", plain=True),
    Unit(304.8, "feet", plain=True),
    Unit(0.0254, "thousandths of an inch"),
    Unit(0.001, "micrometres"),
    Unit(1 / 25.4, "millimetres taken for inches and turned into millimetres again"),
    Unit(0.1, "ten times its size"),
    Unit(2.0, "drawn at 1:2"),
    Unit(0.5, "drawn at 2:1"),
    Unit(5.0, "drawn at 1:5"),
    Unit(20.0, "drawn at 1:20"),
    Unit(50.0, "drawn at 1:50"),
    Unit(100.0, "drawn at 1:100"),
)
"""Scales of returned drawings, the likelier first."""
NEAR_UNIT = 0.04
"""Share by which the size of a drawing may miss a unit and still be drawn in it: what differs then is a difference of the pane."""


def unit_of(scale: float) -> Unit | None:
    """The unit nearest to a scale; None where none is near.

    >>> unit_of(25.3).name, unit_of(1.37)
    ('inches', None)
    """
    nearest = min(UNITS, key=lambda unit: abs(math.log(scale / unit.scale)))
    return nearest if abs(math.log(scale / nearest.scale)) <= math.log1p(NEAR_UNIT) else None


@dataclass(frozen=True, slots=True)
class Move:
    """From the drawing to the pane: times ``scale``, mirrored where it says so, turned left by ``turn`` radians, shifted by (dx, dy) mm."""

    scale: float = 1.0
    mirrored: bool = False
    turn: float = 0.0
    dx: float = 0.0
    dy: float = 0.0

    @property
    def turned(self) -> float:
        """How the drawing stands to the pane, degrees counter-clockwise, over −180 up to 180.

        >>> Move(turn=-math.pi / 2).turned, Move(turn=math.pi).turned, Move(mirrored=True, turn=math.pi / 2).turned
        (90.0, 180.0, 90.0)
        """
        angle = math.degrees(self.turn if self.mirrored else -self.turn)
        angle = round(angle, 9) % 360.0
        return angle - 360.0 if angle > 180.0 else angle + 0.0

    def place(self, x: float, y: float) -> Point:
        """A place of the drawing on the pane, mm.

        >>> Move(scale=10, dx=5).place(1, 2)
        Point(x=15.0, y=20.0)
        """
        x, y = self.scale * (-x if self.mirrored else x), self.scale * y
        cosine, sine = math.cos(self.turn), math.sin(self.turn)
        return Point(cosine * x - sine * y + self.dx, sine * x + cosine * y + self.dy)

    def back(self, place: Point) -> Point:
        """A place of the pane, mm, in the drawing.

        >>> Move(scale=10, mirrored=True, dx=5).back(Move(scale=10, mirrored=True, dx=5).place(1, 2))
        Point(x=1.0, y=2.0)
        """
        x, y = place.x - self.dx, place.y - self.dy
        cosine, sine = math.cos(self.turn), math.sin(self.turn)
        x, y = (cosine * x + sine * y) / self.scale, (cosine * y - sine * x) / self.scale
        return Point(-x if self.mirrored else x, y)

    def outline(self, drawn: Outline) -> Outline:
        """An outline of the drawing on the pane, counter-clockwise as before.

        >>> from geometry.outline.shapes import rectangle
        >>> Move(mirrored=True).outline(rectangle(10, 5)).vertices[0]
        Vertex(x=0.0, y=0.0, bulge=0.0)
        """
        if not self.mirrored:
            return Outline(tuple(Vertex(*self.place(v.x, v.y), v.bulge) for v in drawn.vertices))
        # travel is turned round and the turn mirrored: each bulge keeps its sign and goes to the vertex where its segment now begins
        loop = drawn.vertices
        moved = [Vertex(*self.place(v.x, v.y), loop[index - 1].bulge) for index, v in enumerate(loop)]
        return Outline((moved[0], *moved[:0:-1]))

    def after(self, first: Move) -> Move:
        """The move made after another one.

        >>> round(Move(turn=1.0).after(Move(turn=0.5)).turn, 9)
        1.5
        """
        origin = self.place(first.dx, first.dy)
        turn = self.turn - first.turn if self.mirrored else self.turn + first.turn
        return Move(self.scale * first.scale, self.mirrored != first.mirrored, math.remainder(turn, math.tau), origin.x, origin.y)


__all__ = ["UNITS", "Move", "Unit", "unit_of"]
