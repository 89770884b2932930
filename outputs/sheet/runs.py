"""Runs of lines and arcs as marks: straight lines, rectangles, circles, and what an arc of a run is.

All are in the coordinates of the space they are drawn in: model mm in a view, paper mm on the sheet.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.outline import Arc, Point, circle_of
from outputs.sheet.entities import Node, Path, Place

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


def arc_between(start: Node, end: Node) -> Arc:
    """The arc that leaves ``start`` with its bulge and ends at ``end``."""
    return Arc(Point(start[0], start[1]), Point(end[0], end[1]), start[2])


def segments(nodes: Sequence[Node], *, closed: bool) -> Iterator[tuple[Node, Node]]:
    """Give each segment by its two ends; the bulge that counts is that of the first."""
    yield from pairwise(nodes)
    if closed and len(nodes) > 1:
        yield nodes[-1], nodes[0]


def shorter_arcs(start: Node, end: Node, *, longest: float) -> tuple[list[Place], float]:
    """Cut an arc into equal parts that each run through ``longest`` radians at most.

    Gives the end of each part and the radius. The end of a part is found from the chord, not from the centre, so flat arcs
    of great radius stay true.
    """
    _, _, radius, sweep = circle_of(start[0], start[1], end[0], end[1], start[2])
    parts = max(1, -int(-abs(sweep) // longest))
    ends: list[Place] = []
    chord_x, chord_y = end[0] - start[0], end[1] - start[1]
    half = math.sin(sweep / 2.0)
    for part in range(1, parts):
        # point at the share of the sweep: along the chord by math.sin(a)math.cos(s/2-a)/math.sin(s/2), beside it by the rest
        turn = sweep * part / (2.0 * parts)
        reach = math.sin(turn) / half
        lean = sweep / 2.0 - turn
        along, beside = reach * math.cos(lean), -reach * math.sin(lean)
        ends.append((start[0] + chord_x * along - chord_y * beside, start[1] + chord_y * along + chord_x * beside))
    ends.append((end[0], end[1]))
    return ends, radius


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


__all__ = ["arc_between", "box", "box_nodes", "circle", "circle_nodes", "line", "polar", "run", "segments", "shorter_arcs"]
