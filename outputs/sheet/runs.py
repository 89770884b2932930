"""Runs of lines and arcs as marks: straight lines, rectangles, circles, and what an arc of a run is.

All are in the coordinates of the space they are drawn in: model mm in a view, paper mm on the sheet.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Arc, Point
from outputs.sheet.entities import Node, Path, Place

if TYPE_CHECKING:
    from collections.abc import Sequence


def arc_between(start: Node, end: Node) -> Arc:
    """The arc that leaves ``start`` with its bulge and ends at ``end``."""
    return Arc(Point(start[0], start[1]), Point(end[0], end[1]), start[2])


def polar(origin: Place, angle: float, distance: float) -> Place:
    """The place ``distance`` from ``origin`` in direction ``angle`` (degrees, counter-clockwise from the right)."""
    turn = math.radians(angle)
    return origin[0] + distance * math.cos(turn), origin[1] + distance * math.sin(turn)


def line(layer: str, first: Place, second: Place) -> Path:
    """A straight line."""
    return Path(layer, ((*first, 0.0), (*second, 0.0)))


def run(layer: str, places: Sequence[Place], *, closed: bool = False) -> Path:
    """A run of straight lines."""
    return Path(layer, tuple((x, y, 0.0) for x, y in places), closed)


def circle_nodes(centre: Place, radius: float) -> tuple[Node, ...]:
    """A circle as two half-circle arcs."""
    return (centre[0] - radius, centre[1], 1.0), (centre[0] + radius, centre[1], 1.0)


def circle(layer: str, centre: Place, radius: float) -> Path:
    """A full circle."""
    return Path(layer, circle_nodes(centre, radius), True)


def box_nodes(left: float, bottom: float, right: float, top: float) -> tuple[Node, ...]:
    """A rectangle, counter-clockwise."""
    return (left, bottom, 0.0), (right, bottom, 0.0), (right, top, 0.0), (left, top, 0.0)


def box(layer: str, left: float, bottom: float, right: float, top: float) -> Path:
    """A closed rectangle."""
    return Path(layer, box_nodes(left, bottom, right, top), True)
