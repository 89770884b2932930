"""The points of a pane on the supplier's view: their names, the origin of the coordinates, the axes of a round pane."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.pane_ink import angle_of, ring, set_text
from outputs.drawing.pane_shape import extremes
from outputs.drawing.pane_sizes import TURNS
from outputs.sheet.runs import circle, line, polar

if TYPE_CHECKING:
    from outputs.drawing.pane_sizes import Sizing
    from outputs.sheet.entities import Mark, Place

ORIGIN = (0.0, 0.0)
"""The origin of the pane's coordinates: the corner that the office typed, or the pane's own; of every document and every file."""


def names(given: Sizing) -> list[Mark]:
    """Names of the points, beside them outside the glass, and a small circle at each corner that is rounded away."""
    marks: list[Mark] = []
    pencil = given.pencil
    for point in given.shape.points:
        if point.corner is not None and point.corner.radius * pencil.scale > 0.5:
            ring_mark = circle("DIMENSIONS", point.at, pencil.paper(0.6))
            marks.append(ring_mark)
            given.room.add([ring_mark])
    for point in given.shape.points:
        out = _away(given, point.at) if point.outward is None else angle_of(point.outward)
        if point.corner is not None and not point.corner.convex:
            out += 180.0
        reaches = [pencil.paper(reach) for reach in (4.5, 5.5, 6.5, 8, 10, 12, 15, 18)]
        text = set_text(point.name, ring(point.at, reaches, out, turns=TURNS), pencil, given.room)
        marks += given.add(f"name {point.name}", [text] if text else [])
    return marks


def _away(given: Sizing, place: Place) -> float:
    left, bottom, right, top = extremes(given.glass)
    return angle_of((place[0] - (left + right) / 2, place[1] - (bottom + top) / 2))


def origin_marks(given: Sizing) -> list[Mark]:
    """The origin of the coordinates with both axes."""
    pencil = given.pencil
    at = ORIGIN
    marks: list[Mark] = [circle("DIMENSIONS", at, pencil.paper(0.9))]
    for angle in (0.0, 90.0):
        tip = polar(at, angle, pencil.paper(8.0))
        marks += [line("DIMENSIONS", polar(at, angle, pencil.paper(0.9)), tip), pencil.arrow("DIMENSIONS", tip, angle)]
    given.room.add(marks)
    for name, angle in (("X", 0.0), ("Y", 90.0), ("O", 225.0)):
        reaches = [pencil.paper(reach) for reach in ((10.0, 11.5, 13.0) if name != "O" else (3.2, 4.0, 5.0, 6.5))]
        text = set_text(name, ring(at, reaches, angle, turns=(0.0, 10.0, -10.0, 20.0, -20.0, 30.0, -30.0)), pencil, given.room)
        marks += given.add(f"origin {name}", [text] if text else [])
    return marks


def axes(given: Sizing) -> list[Mark]:
    """Centre lines of a round pane, beyond its edge by 4 on paper."""
    if not given.shape.round:
        return []
    left, bottom, right, top = extremes(given.glass)
    over, x, y = given.pencil.paper(4.0), (left + right) / 2, (bottom + top) / 2
    marks: list[Mark] = [
        line("CENTRE_LINES", (left - over, y), (right + over, y)),
        line("CENTRE_LINES", (x, bottom - over), (x, top + over)),
    ]
    given.room.add(marks)
    return marks


__all__ = ["ORIGIN", "axes", "names", "origin_marks"]
