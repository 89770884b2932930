"""Outlines that the tests of a comparison share, and what a drawing office may do to them on the way there and back."""

from __future__ import annotations

import math
import random

from geometry.compare.move import Move
from geometry.outline import Line, Outline, Vertex, circle, ellipse, path, perimeter, polygon, rectangle, segments

TRAPEZOID = polygon([(0, 0), (1300, 120), (1120, 870), (60, 820)], radii=40)
NOTCHED = polygon([(0, 0), (1000, 0), (1000, 300), (600, 300), (600, 700), (0, 700)], radii=[20, 20, 20, 30, 20, 20])
UPRIGHT = rectangle(1200, 600, radius=60)
SQUARE = rectangle(620, 620, radius=80)
OVAL = ellipse(700, 400)
ROUND = circle(420)
BOWED = path([(0, 0), (900, 0, 0.12), (820, 500), (60, 440, -0.05)])

LOPSIDED = {"trapezoid": TRAPEZOID, "notched": NOTCHED, "bowed": BOWED}
"""Of these the lines alone tell how the drawing stands."""
EVEN = {"upright": UPRIGHT, "square": SQUARE, "oval": OVAL, "round": ROUND}


def chopped(outline: Outline, count: int) -> Outline:
    """The outline exploded into about that many straight lines whose ends lie on it, as a drawing comes back from a table that knows no arcs."""
    whole = perimeter(outline)
    places = []
    for part in segments(outline):
        pieces = max(1 if isinstance(part, Line) else 8, round(count * part.length / whole))
        places += [part.point_at(step / pieces) for step in range(pieces)]
    return Outline(tuple(Vertex(*place) for place in places))


def thrown(dice: random.Random, *, scale: float = 1.0, mirrored: bool = False) -> Move:
    """A move into a drawing at a random turn and place, of ``scale`` mm for one unit of the drawing."""
    return Move(
        1 / scale, mirrored, dice.uniform(-math.pi, math.pi), dice.uniform(-1e4, 1e4) / scale, dice.uniform(-1e4, 1e4) / scale
    )
