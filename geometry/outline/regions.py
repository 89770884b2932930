"""Outlines as shapely polygons, for regions, distances and checks; never for anything that is cut or printed."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

from geometry.outline.loop import Arc, Outline, Point, segments
from geometry.outline.stations import distance_from


def to_polygon(outline: Outline, *, sagitta: float = 0.001) -> Any:
    """A shapely polygon whose corners lie on the outline and whose chords stay within ``sagitta`` mm of the arcs.

    >>> from geometry.outline.shapes import circle
    >>> round(to_polygon(circle(200)).area / (math.pi * 100**2), 4)
    1.0
    """
    import shapely

    places: list[Point] = []
    for part in segments(outline):
        pieces = 1
        if isinstance(part, Arc):
            step = 2 * math.acos(max(-1.0, 1 - min(sagitta / part.radius, 1.0)))
            pieces = max(2, math.ceil(abs(part.sweep) / step))
        places += [part.point_at(index / pieces) for index in range(pieces)]
    return shapely.Polygon(places)


@lru_cache(maxsize=256)
def largest_inscribed_circle(outline: Outline, *, tolerance: float = 0.001) -> tuple[Point, float]:
    """Centre and radius, mm, of the largest circle inside an outline.

    The radius is the true distance from the centre to the lines and arcs, so the circle fits; a greater one would be greater
    by less than ``tolerance`` mm. Where it fits at many places (a rectangle) the centre is one of them.

    >>> from geometry.outline.shapes import rectangle
    >>> centre, radius = largest_inscribed_circle(rectangle(400, 200))
    >>> round(centre.y, 2), 99.999 < radius <= 100
    (100.0, True)
    """
    import shapely

    line = shapely.maximum_inscribed_circle(to_polygon(outline, sagitta=tolerance / 2), tolerance=tolerance / 2)
    x, y = line.coords[0]
    centre = Point(float(x), float(y))
    return centre, distance_from(outline, centre)


__all__ = ["largest_inscribed_circle", "to_polygon"]
