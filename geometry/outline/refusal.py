"""Why a parallel curve does not exist, in words: too wide for the pane, a neck, a notch that closes.

shapely finds the place; the figures are rounded to a tenth of a millimetre.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from geometry.outline.loop import Outline, Point, number, place, segments
from geometry.outline.regions import largest_inscribed_circle, to_polygon

if TYPE_CHECKING:
    from collections.abc import Callable

FINE = 0.005
"""mm by which the chords may stand off the arcs while the place is looked for."""


def why_not(outline: Outline, distance: float, what: str) -> str:
    """The sentence that says why ``what`` cannot run ``distance`` mm outside (positive) or inside (negative) an outline.

    >>> from geometry.outline.shapes import rectangle
    >>> why_not(rectangle(100, 50), -26, "the bead")
    'the bead cannot run 26 mm inside this outline: it is only 50 mm wide near (50, 25)'
    """
    reach = abs(distance)
    polygon = to_polygon(outline, sagitta=FINE)
    if distance > 0:
        start = f"{what} cannot run {number(reach)} mm outside this outline"
        mouth = _letting_go(polygon, reach * (1 + 1e-6) + FINE, outwards=True)
        if mouth is not None:
            return f"{start}: it would close the opening near {place(*mouth[0])}, which is {_tenth(mouth[1])} mm wide"
        return f"{start}: {_shortest(outline)}"
    start = f"{what} cannot run {number(reach)} mm inside this outline"
    centre, radius = largest_inscribed_circle(outline)
    if reach >= radius - FINE:
        return f"{start}: it is only {_tenth(2 * radius)} mm wide near {place(*_middle_of_ridge(polygon, centre, radius))}"
    neck = _letting_go(polygon, reach + FINE, outwards=False)
    if neck is not None:
        return f"{start}: it would fall into two parts at the neck near {place(*neck[0])}, which is {_tenth(neck[1])} mm wide"
    return f"{start}: {_shortest(outline)}"


def _tenth(value: float) -> str:
    return number(round(value, 1))


def _shortest(outline: Outline) -> str:
    side = min(segments(outline), key=lambda part: part.length)
    return (
        "no curve of lines and arcs could be proven to keep that distance; the outline may be too fine for it, "
        f"its shortest side is {number(side.length)} mm at {place(*side.start)}"
    )


def _middle_of_ridge(polygon: Any, centre: Point, radius: float) -> Point:
    """The middle of the places where the greatest circle fits: half along a rectangle, not at the end that is found first."""
    import shapely

    ridge = polygon.buffer(-(radius - 0.02), quad_segs=16)
    if ridge.is_empty:
        return centre
    if ridge.geom_type == "MultiPolygon":
        ridge = max(ridge.geoms, key=lambda part: (part.area, part.bounds))
    x, y = shapely.shortest_line(ridge, ridge.centroid).coords[0]
    return Point(float(x), float(y))


def _letting_go(polygon: Any, reach: float, *, outwards: bool) -> tuple[Point, float] | None:
    """Middle and width of the narrowest place where the outline falls apart (or, outwards, closes) on the way to ``reach``."""
    import shapely

    parts_at: Callable[[float], list[Any]] = _holes(polygon) if outwards else _pieces(polygon)
    high = next((reach * step / 40 for step in range(1, 41) if len(parts_at(reach * step / 40)) > 1), None)
    if high is None:
        return None
    low = high - reach / 40
    while high - low > 1e-4:
        middle = (low + high) / 2
        if len(parts_at(middle)) > 1:
            high = middle
        else:
            low = middle
    parts = parts_at(high)
    one, other = shapely.shortest_line(parts[0], parts[1]).coords
    return Point((one[0] + other[0]) / 2, (one[1] + other[1]) / 2), 2 * high


def _pieces(polygon: Any) -> Callable[[float], list[Any]]:
    def parts_at(distance: float) -> list[Any]:
        left = polygon.buffer(-distance, quad_segs=32)
        return sorted(getattr(left, "geoms", [left]), key=lambda part: -part.area)

    return parts_at


def _holes(polygon: Any) -> Callable[[float], list[Any]]:
    def parts_at(distance: float) -> list[Any]:
        grown = polygon.buffer(distance, quad_segs=32)
        return [grown.exterior, *sorted(grown.interiors, key=lambda ring: -math.fabs(ring.length))]

    return parts_at
