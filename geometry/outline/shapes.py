"""The outlines a job can ask for by their sizes: rectangle, polygon with rounded corners, circle, ellipse, free path.

Terms
-----
corner
    A vertex of the polygon before it is rounded; corner 1 is the first point given and stays first.
tangent length
    From a corner along its side to where the rounding begins: ``radius * tan(turn / 2)``.
re-entrant corner
    A corner that points into the pane (a cut-out); its rounding turns the other way.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from geometry.outline.ellipse import ellipse as ellipse_of_arcs
from geometry.outline.loop import Outline, OutlineError, Point, Vertex, number, place
from geometry.outline.soundness import SHORTEST, checked_number, checked_size, sound


def rectangle(width: float, height: float, *, radius: float = 0) -> Outline:
    """A rectangle, lower left at (0, 0), mm, all four corners with the same radius.

    >>> rectangle(1200, 600).vertices[2]
    Vertex(x=1200.0, y=600.0, bulge=0.0)
    >>> len(rectangle(1200, 600, radius=60).vertices)
    8
    >>> rectangle(1200, 600, radius=301)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: the radius 301 mm does not fit at corner 2 (1200, 0)...the greatest that fits is 300 mm
    """
    wide, high = checked_size(width, "the width of the rectangle"), checked_size(height, "the height of the rectangle")
    return polygon([(0, 0), (wide, 0), (wide, high), (0, high)], radii=radius)


def circle(diameter: float) -> Outline:
    """A circle of two arcs from its lowest point, lower left of its box at (0, 0), mm.

    >>> circle(420).vertices
    (Vertex(x=210.0, y=0.0, bulge=1.0), Vertex(x=210.0, y=420.0, bulge=1.0))
    >>> circle(-1)
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: the diameter of the circle is -1 mm; it must be over 0 and at most 1000000 mm
    """
    across = checked_size(diameter, "the diameter of the circle")
    return sound((Vertex(across / 2, 0.0, 1.0), Vertex(across / 2, across, 1.0)))


def ellipse(width: float, height: float, *, tolerance: float = 0.01) -> Outline:
    """An ellipse of full axes, mm, as tangent arcs within ``tolerance`` mm; equal axes give the true circle.

    >>> ellipse(300, 300) == circle(300)
    True
    >>> len(ellipse(700, 400).vertices) <= 80
    True
    """
    wide = checked_size(width, "the width of the ellipse")
    high = checked_size(height, "the height of the ellipse")
    return circle(wide) if wide == high else ellipse_of_arcs(wide, high, tolerance=tolerance)


def path(vertices: Sequence[Sequence[float]]) -> Outline:
    """A free loop of points ``(x, y)`` or ``(x, y, bulge)``, mm, in any order of travel.

    A clockwise loop is turned round; its first point stays first.

    >>> path([(0, 0), (0, 10), (10, 10), (10, 0)]).vertices[1]
    Vertex(x=10.0, y=0.0, bulge=0.0)
    >>> path([(0, 0), (0, 0), (5, 5)])
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: points 1 and 2 are the same place (0, 0); each point may stand once only
    """
    for i, entry in enumerate(vertices, start=1):
        if isinstance(entry, str) or len(entry) not in (2, 3):
            raise OutlineError(f"point {i} of the path is {entry!r}; it must be [x, y] or [x, y, bulge]")
    return sound([Vertex(*entry) for entry in vertices])


def polygon(points: Sequence[Sequence[float]], *, radii: float | Sequence[float] = 0) -> Outline:
    """A polygon with rounded corners, mm.

    ``radii`` is one radius for all corners or one for each point in the order of the points. Points may run either way
    round; the outline is counter-clockwise and each radius stays with its point. 0 leaves the corner sharp.

    >>> triangle = polygon([(0, 0), (0, 300), (400, 0)], radii=[0, 20, 0])
    >>> len(triangle.vertices)
    4
    >>> polygon([(0, 0), (100, 0)])
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: the polygon has 2 points; at least three are needed
    """
    for i, entry in enumerate(points, start=1):
        if isinstance(entry, str) or len(entry) != 2:
            raise OutlineError(f"point {i} of the polygon is {entry!r}; it must be [x, y]")
    if len(points) < 3:
        raise OutlineError(f"the polygon has {len(points)} points; at least three are needed")
    each = _radius_list(radii, len(points))
    sharp = [Vertex(*entry) for entry in points]
    corners = sound(sharp).vertices
    if (corners[1].x, corners[1].y) != (sharp[1].x, sharp[1].y):
        each = [each[0], *each[:0:-1]]
        numbers = [1, *range(len(sharp), 1, -1)]
    else:
        numbers = list(range(1, len(sharp) + 1))
    if not any(each):
        return Outline(corners)
    tangents = [abs(_half_turn_tangent(corners[i - 1], corners[i], corners[(i + 1) % len(corners)])) for i in range(len(corners))]
    lengths = [radius * tangent for radius, tangent in zip(each, tangents, strict=True)]
    _refuse_too_great(corners, tangents, each, lengths, numbers, shared=not isinstance(radii, Sequence))
    return sound(_rounded(corners, lengths))


def _radius_list(radii: float | Sequence[float], count: int) -> list[float]:
    if isinstance(radii, Sequence) and not isinstance(radii, str):
        if len(radii) != count:
            raise OutlineError(f"{len(radii)} radii are given for {count} corners; give one for all or one for each corner")
        each = [checked_number(radius, f"the radius of corner {i}") for i, radius in enumerate(radii, start=1)]
    else:
        each = [checked_number(radii, "the corner radius")] * count
    for i, radius in enumerate(each, start=1):
        if radius < 0:
            raise OutlineError(f"the radius of corner {i} is {radius:g} mm; it must be 0 or more")
    return each


def _half_turn_tangent(before: Vertex, corner: Vertex, after: Vertex) -> float:
    """Tangent of half the angle turned at a corner, positive at a convex corner; exactly 1 at a right angle."""
    ax, ay, bx, by = corner.x - before.x, corner.y - before.y, after.x - corner.x, after.y - corner.y
    cross, along, lengths = ax * by - ay * bx, ax * bx + ay * by, math.hypot(ax, ay) * math.hypot(bx, by)
    # the second form keeps its figures where the corner is sharp and the first would divide by nearly nothing
    return cross / (lengths + along) if along >= 0 else (lengths - along) / cross


def _refuse_too_great(
    corners: Sequence[Vertex],
    tangents: Sequence[float],
    radii: Sequence[float],
    lengths: Sequence[float],
    numbers: Sequence[int],
    *,
    shared: bool,
) -> None:
    """Refuse roundings that overlap on a side; name the corner, its place and the greatest radius that fits."""
    count = len(corners)
    sides = [
        math.hypot(corners[(i + 1) % count].x - corners[i].x, corners[(i + 1) % count].y - corners[i].y) for i in range(count)
    ]
    over = [i for i in range(count) if lengths[i] + lengths[(i + 1) % count] > sides[i] + SHORTEST]
    if not over:
        return
    side = over[0]
    ends = sorted((side, (side + 1) % count), key=lambda i: (-lengths[i], numbers[i]))
    corner, found = ends[0], radii[ends[0]]
    if shared:
        fits = min(
            sides[i] / (tangents[i] + tangents[(i + 1) % count])
            for i in range(count)
            if tangents[i] + tangents[(i + 1) % count] > 0
        )
        allowed = f"with one radius for all corners the greatest that fits is {_below(fits)} mm"
    else:
        before, after = (corner - 1) % count, (corner + 1) % count
        room = min(sides[before] - lengths[before], sides[corner] - lengths[after])
        if room > 0:
            allowed = f"beside its neighbours' radii the greatest that fits is {_below(room / tangents[corner])} mm"
        else:
            alone = min(sides[before], sides[corner]) / tangents[corner]
            allowed = f"its neighbours' radii leave no room; alone the greatest that fits is {_below(alone)} mm"
    at = place(corners[corner].x, corners[corner].y)
    other = (side + 1) % count if corner == side else side
    raise OutlineError(
        f"the radius {number(found)} mm does not fit at corner {numbers[corner]} {at}: the roundings overlap on the side to "
        f"corner {numbers[other]}, which is {number(sides[side])} mm long; {allowed}"
    )


def _below(value: float) -> str:
    """A limit for a sentence, rounded down to a thousandth so that the figure itself still fits."""
    return number(math.floor(value * 1000.0 + 1e-6) / 1000.0)


def _rounded(corners: Sequence[Vertex], lengths: Sequence[float]) -> list[Vertex]:
    """Corner points replaced by arcs; sides that are used up disappear."""
    count = len(corners)
    loop: list[Vertex] = []
    for i in range(count):
        corner = corners[i]
        if lengths[i] <= SHORTEST:
            loop.append(Vertex(corner.x, corner.y, 0.0))
            continue
        before, after = corners[i - 1], corners[(i + 1) % count]
        start, end = _along(corner, before, lengths[i]), _along(corner, after, lengths[i])
        half = _half_turn_tangent(before, corner, after)
        loop.append(Vertex(start.x, start.y, half / (1.0 + math.hypot(1.0, half))))
        loop.append(Vertex(end.x, end.y, 0.0))
    return [
        v
        for i, v in enumerate(loop)
        if v.bulge or math.hypot(loop[(i + 1) % len(loop)].x - v.x, loop[(i + 1) % len(loop)].y - v.y) > 2 * SHORTEST
    ]


def _along(start: Vertex, towards: Vertex, length: float) -> Point:
    share = length / math.hypot(towards.x - start.x, towards.y - start.y)
    return Point(start.x + share * (towards.x - start.x), start.y + share * (towards.y - start.y))


__all__ = ["circle", "ellipse", "path", "polygon", "rectangle"]
