"""The print of a pane as it is put on the glass: the solid band, and the fade as rows of dots.

Terms
-----
solid edge
    Where the solid print ends inwards: the inner edge of the print, or where its fade begins.
bleed
    Print beyond the glass edge on the film, so that no clear rim is left where film and glass do not meet exactly. Only where the print
    starts at the edge; a print that starts within the glass has none.
row
    Dots of one size along a parallel curve within the fade, at equal distances; every other row stands half a step on.
cover
    Share of a row's own strip of the fade that its dots cover. It falls from row to row from the solid edge to the clear glass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.outline import (
    Outline,
    OutlineError,
    Point,
    Vertex,
    bounding_box,
    distance_between,
    distance_from,
    offset,
    offset_rounded,
    perimeter,
    point_in,
    segments,
    station_at,
)

if TYPE_CHECKING:
    from geometry.detail.parts import Detail

MOST_COVER = 0.75  # at the solid edge, falling evenly to 0 at the clear glass (common practice, no source)
APART = 0.1  # mm between dots, and between dots and the solid print: they neither merge nor touch
LEAST_DOT = 0.1  # mm


@dataclass(frozen=True, slots=True)
class DotRow:
    """One row of the fade: distance of its middle from the solid edge and its diameter, mm; cover as a share; middles of its dots."""

    distance: float
    diameter: float
    cover: float
    dots: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class PanePrint:
    """What is printed, mm, in the coordinates of the pane, seen from outside unless ``seen_from_inside``.

    ``solid`` are the loops of the one solid region, filled even-odd; ``glass`` is the edge of the pane.
    """

    glass: Outline
    solid: tuple[Outline, ...]
    rows: tuple[DotRow, ...]
    bleed: float
    seen_from_inside: bool = False

    def from_inside(self) -> PanePrint:
        """The same print seen from the other side: mirrored about the upright through the middle of the pane's box."""
        box = bounding_box(self.glass)
        across = box.left + box.right
        return replace(
            self,
            glass=turned_over(self.glass, across),
            solid=tuple(turned_over(loop, across) for loop in self.solid),
            rows=tuple(replace(row, dots=tuple(Point(across - x, y) for x, y in row.dots)) for row in self.rows),
            seen_from_inside=not self.seen_from_inside,
        )


def turned_over(outline: Outline, across: float) -> Outline:
    """An outline mirrored about the upright at half of ``across``, again counter-clockwise."""
    return Outline(tuple(Vertex(across - part.end.x, part.end.y, part.bulge) for part in reversed(segments(outline))))


def print_of(detail: Detail, *, bleed: float, dot_pitch: float) -> PanePrint:
    """The print of a pane, ``bleed`` mm beyond a print that starts at the glass edge, its dots ``dot_pitch`` mm apart."""
    curves = detail.curves
    over = bleed if curves.frit_outer == curves.glass else 0.0
    outer = offset(curves.glass, over, what="the bleed of the print") if over else curves.frit_outer
    inner = curves.frit_inner if curves.frit_fade is None else curves.frit_fade
    rows = () if curves.frit_fade is None else _rows(detail, dot_pitch)
    return PanePrint(curves.glass, _region(outer, inner), rows, over)


def _region(outer: Outline, inner: Outline) -> tuple[Outline, ...]:
    """Loops of what lies between the edges of the print; of an inner edge that leaves the outer one what is left of the band."""
    first = inner.vertices[0]
    if point_in(outer, Point(first.x, first.y)) and distance_between(outer, inner) > 0.0:
        return outer, inner
    from shapely.geometry.polygon import orient

    from geometry.outline.regions import to_polygon

    left = to_polygon(outer).difference(to_polygon(inner))
    loops: list[Outline] = []
    for piece in getattr(left, "geoms", (left,)):
        for ring in () if piece.is_empty else (orient(piece).exterior, *orient(piece).interiors):
            loops.append(Outline(tuple(Vertex(float(x), float(y)) for x, y in ring.coords[:-1])))
    return tuple(loops)


def _rows(detail: Detail, pitch: float) -> tuple[DotRow, ...]:
    fade = detail.sizes.frit_fade.value
    count = max(1, round(fade / pitch))
    high = fade / count
    found: list[DotRow] = []
    for index in range(count):
        distance = (index + 0.5) * high
        curve = _parallel(detail, distance)
        if curve is None:
            continue
        length = perimeter(curve)
        number = max(1, round(length / pitch))
        step = length / number
        wanted = MOST_COVER * (1.0 - (index + 0.5) / count)
        diameter = min(math.sqrt(4.0 * wanted * step * high / math.pi), step - APART, high - APART)
        diameter = max(round(diameter, 2), LEAST_DOT)
        stations = (station_at(curve, step * (place + 0.5 * (index % 2))) for place in range(number))
        dots = tuple(station.point for station in stations if _on_glass(detail, station.point, diameter / 2))
        found.append(DotRow(distance, diameter, math.pi * diameter**2 / 4.0 / (step * high), dots))
    return tuple(found)


def _parallel(detail: Detail, distance: float) -> Outline | None:
    """The middle line of a row, ``distance`` inside the solid edge; None where there is none."""
    curves, sizes = detail.curves, detail.sizes
    try:
        if detail.frit_as_drawn:
            return offset(curves.frit_inner, sizes.frit_fade.value - distance)
        width = sizes.frit_width.value - sizes.frit_fade.value + distance
        return offset_rounded(curves.glass, -width, radius=sizes.frit_corner_radius.value)
    except OutlineError:
        return None


def _on_glass(detail: Detail, place: Point, radius: float) -> bool:
    """Whether a dot lies on the glass; only a print with an outline of its own can leave it."""
    if not detail.frit_as_drawn:
        return True
    outer = detail.curves.frit_outer
    return point_in(outer, place) and distance_from(outer, place) >= radius


__all__ = ["APART", "DotRow", "PanePrint", "print_of", "turned_over"]
