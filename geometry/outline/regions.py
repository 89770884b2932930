"""Outlines as shapely polygons, for regions, distances and checks; never for anything that is cut or printed."""

from __future__ import annotations

import math
from typing import Any

from geometry.outline.loop import Arc, Outline, Point, segments
from geometry.outline.stations import nearest_station


def to_polygon(outline: Outline, *, sagitta: float = 0.001) -> Any:
    """A shapely polygon whose chords stay within ``sagitta`` mm of the arcs."""
    import shapely

    places: list[Point] = []
    for part in segments(outline):
        pieces = 1
        if isinstance(part, Arc):
            step = 2 * math.acos(max(-1.0, 1 - min(sagitta / part.radius, 1.0)))
            pieces = max(2, math.ceil(abs(part.sweep) / step))
        places += [part.point_at(index / pieces) for index in range(pieces)]
    return shapely.Polygon(places)


def widest_place(outline: Outline, *, tolerance: float = 0.01) -> tuple[Point, float]:
    """Centre and radius of the largest circle inside an outline, radius measured to the true arcs.

    >>> from geometry.outline.shapes import rectangle
    >>> centre, radius = widest_place(rectangle(400, 200))
    >>> round(radius, 1)
    100.0
    """
    import shapely

    line = shapely.maximum_inscribed_circle(to_polygon(outline, sagitta=tolerance / 4), tolerance=tolerance / 4)
    x, y = line.coords[0]
    centre = Point(float(x), float(y))
    return centre, math.dist(nearest_station(outline, centre).point, centre)
