"""Why a parallel curve does not exist, in words: too wide for the pane, a neck, a cut-out that closes.

shapely finds the place; the figures are rounded to a tenth of a millimetre.
"""

from __future__ import annotations

import math
from typing import Any

from geometry.outline.loop import Outline, Point, number, place, segments
from geometry.outline.measure import bounding_box
from geometry.outline.regions import largest_inscribed_circle, to_polygon
from geometry.outline.stations import distance_from, nearest_station, point_in

FINE = 0.005
"""mm by which the chords may stand off the arcs while the place is looked for."""
MOST_STEPS = 400
"""Steps from one end of a pane to the other in which the place is looked for."""


def why_not(outline: Outline, distance: float, what: str) -> str:
    """The sentence that says why ``what`` cannot run ``distance`` mm outside (positive) or inside (negative) an outline.

    >>> from geometry.outline.shapes import rectangle
    >>> why_not(rectangle(100, 50), -26, "the bead")
    'the bead cannot run 26 mm inside this outline: it is only 50 mm wide near (50, 25)'
    """
    reach = abs(distance)
    polygon = to_polygon(outline, sagitta=FINE)
    start = f"{what} cannot run {number(reach)} mm {'outside' if distance > 0 else 'inside'} this outline"
    if distance > 0:
        import shapely

        left, bottom, right, top = polygon.bounds
        room = 3 * reach
        around = shapely.box(left - room, bottom - room, right + room, top + room).difference(polygon)
        mouth = _letting_go(around, reach * (1 + 1e-6) + FINE)
        if mouth is not None:
            return f"{start}: it would close the opening near {place(*mouth[0])}, which is {_tenth(mouth[1])} mm wide"
        return f"{start}: {_shortest(outline)}"
    centre, radius = largest_inscribed_circle(outline)
    if reach >= radius - FINE:
        return f"{start}: it is only {_tenth(2 * radius)} mm wide near {place(*_middle_of_ridge(outline, centre))}"
    neck = _letting_go(polygon, reach + FINE)
    if neck is not None:
        return f"{start}: it would fall into two parts at the neck near {place(*neck[0])}, which is {_tenth(neck[1])} mm wide"
    return f"{start}: {_shortest(outline)}"


def _tenth(value: float) -> str:
    return number(round(value, 1)) if value >= 1.0 else number(value)


def _shortest(outline: Outline) -> str:
    side = min(segments(outline), key=lambda part: part.length)
    return (
        "no curve of lines and arcs could be proven to keep that distance; the outline may be too fine for it, "
        f"its shortest side is {number(side.length)} mm at {place(*side.start)}"
    )


def _middle_of_ridge(outline: Outline, centre: Point) -> Point:
    """The middle of the places where the greatest circle fits as it slides along: half along a rectangle, not where it was found."""
    radius = distance_from(outline, centre)
    way = nearest_station(outline, centre).tangent

    def there(along: float) -> Point:
        return Point(centre.x + along * way.x, centre.y + along * way.y)

    def fits(along: float) -> bool:
        return point_in(outline, there(along)) and distance_from(outline, there(along)) >= radius - min(0.05, radius / 8)

    ends = []
    box = bounding_box(outline)
    for side in (-1.0, 1.0):
        low, step = 0.0, max(radius / 16, math.hypot(box.width, box.height) / MOST_STEPS)
        while fits(side * (low + step)):
            low += step
        while step > 1e-3:
            step /= 2
            if fits(side * (low + step)):
                low += step
        ends.append(side * low)
    return there(math.fsum(ends) / 2)


def _letting_go(region: Any, reach: float) -> tuple[Point, float] | None:
    """Middle and width of the place where a region, shrunk more and more up to ``reach``, first falls into parts."""

    def parts_at(distance: float) -> list[Any]:
        left = region.buffer(-distance, quad_segs=32)
        return [part for part in getattr(left, "geoms", [left]) if not part.is_empty]

    whole = len(parts_at(0.0))
    high = next((reach * step / 40 for step in range(1, 41) if len(parts_at(reach * step / 40)) > whole), None)
    if high is None:
        return None
    low = high - reach / 40
    while high - low > 1e-4:
        middle = (low + high) / 2
        if len(parts_at(middle)) > whole:
            high = middle
        else:
            low = middle
    # what still joined the parts just before: of all that is left beside them, the strip that touches two of them
    apart = [part.buffer(0.02) for part in parts_at(high)]
    strips = region.buffer(-low, quad_segs=32)
    for part in apart:
        strips = strips.difference(part)
    joining = [strip for strip in getattr(strips, "geoms", [strips]) if sum(strip.distance(part) < 0.01 for part in apart) > 1]
    if joining:
        middle_of = max(joining, key=lambda strip: strip.length).centroid
        return Point(float(middle_of.x), float(middle_of.y)), 2 * high
    import shapely

    one, other = shapely.shortest_line(apart[0], apart[1]).coords
    return Point((one[0] + other[0]) / 2, (one[1] + other[1]) / 2), 2 * high


__all__ = ["why_not"]
