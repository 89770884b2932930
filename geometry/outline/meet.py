"""Where two segments meet: line with line, line with arc, arc with arc.

Terms
-----
meeting
    A point that lies on both segments, ends included. Segments that lie on each other meet at the ends of the shared stretch.
"""

from __future__ import annotations

import math

from geometry.outline.loop import Arc, Line, Point, Segment

ON_SEGMENT = 1e-9
"""How far, mm, a point may lie beyond a segment and still count as on it."""


def box_of(segment: Segment) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of a segment, true extremes of arcs, mm."""
    (x1, y1), (x2, y2) = segment.start, segment.end
    left, right = (x1, x2) if x1 < x2 else (x2, x1)
    bottom, top = (y1, y2) if y1 < y2 else (y2, y1)
    if isinstance(segment, Arc):
        centre, radius, sweep = segment.centre, segment.radius, segment.sweep
        start = math.atan2(y1 - centre.y, x1 - centre.x)
        low, high = (start, start + sweep) if sweep > 0 else (start + sweep, start)
        quarter = math.pi / 2
        slack = 1e-12  # an end that lies on an extreme is that extreme
        for k in range(math.ceil(low / quarter + slack), math.floor(high / quarter - slack) + 1):
            side = k % 4
            if side == 0:
                right = max(right, centre.x + radius)
            elif side == 1:
                top = max(top, centre.y + radius)
            elif side == 2:
                left = min(left, centre.x - radius)
            else:
                bottom = min(bottom, centre.y - radius)
    return left, bottom, right, top


def fraction_on_arc(arc: Arc, x: float, y: float) -> float:
    """Where along the arc the direction from its centre to (x, y) lies: 0 start, 1 end, outside that range before or after it."""
    (cx, cy), (x1, y1), sweep = arc.centre, arc.start, arc.sweep
    sx, sy = x1 - cx, y1 - cy
    px, py = x - cx, y - cy
    angle = math.atan2(sx * py - sy * px, sx * px + sy * py)
    if sweep < 0:
        angle, sweep = -angle, -sweep
    # angle is in (-pi, pi]: choose the turn that brings it nearest to the middle of the arc
    middle = sweep / 2
    if angle < middle - math.pi:
        angle += 2 * math.pi
    elif angle > middle + math.pi:
        angle -= 2 * math.pi
    return angle / sweep


def fraction_on_line(line: Line, x: float, y: float) -> float:
    """Where along the line the foot of (x, y) lies: 0 start, 1 end."""
    (x1, y1), (x2, y2) = line.start, line.end
    dx, dy = x2 - x1, y2 - y1
    return ((x - x1) * dx + (y - y1) * dy) / (dx * dx + dy * dy)


def nearest_fraction(segment: Segment, x: float, y: float) -> float:
    """Fraction of the length, 0 to 1, of the point of the segment nearest to (x, y)."""
    if isinstance(segment, Line):
        return min(1.0, max(0.0, fraction_on_line(segment, x, y)))
    fraction = fraction_on_arc(segment, x, y)
    if 0.0 <= fraction <= 1.0:
        return fraction
    to_start = math.hypot(x - segment.start.x, y - segment.start.y)
    to_end = math.hypot(x - segment.end.x, y - segment.end.y)
    return 0.0 if to_start <= to_end else 1.0


def distance_to(segment: Segment, x: float, y: float) -> float:
    """Least distance from (x, y) to the segment, mm."""
    (x1, y1), (x2, y2) = segment.start, segment.end
    if isinstance(segment, Arc):
        if 0.0 <= fraction_on_arc(segment, x, y) <= 1.0:
            cx, cy = segment.centre
            return abs(math.hypot(x - cx, y - cy) - segment.radius)
        return min(math.hypot(x - x1, y - y1), math.hypot(x - x2, y - y2))
    dx, dy = x2 - x1, y2 - y1
    share = min(1.0, max(0.0, ((x - x1) * dx + (y - y1) * dy) / (dx * dx + dy * dy)))
    return math.hypot(x - (x1 + share * dx), y - (y1 + share * dy))


def on_segment(segment: Segment, x: float, y: float, *, tolerance: float = ON_SEGMENT) -> bool:
    """Whether a point known to lie on the carrying line or circle lies within the segment; tolerance mm along it."""
    fraction = fraction_on_arc(segment, x, y) if isinstance(segment, Arc) else fraction_on_line(segment, x, y)
    slack = tolerance / segment.length
    return -slack <= fraction <= 1.0 + slack


def line_line(first: Line, second: Line) -> tuple[Point, ...]:
    """Where the two endless lines cross; none when they are parallel."""
    ax, ay = first.end.x - first.start.x, first.end.y - first.start.y
    bx, by = second.end.x - second.start.x, second.end.y - second.start.y
    cross = ax * by - ay * bx
    if abs(cross) <= 1e-14 * math.hypot(ax, ay) * math.hypot(bx, by):
        return ()
    t = ((second.start.x - first.start.x) * by - (second.start.y - first.start.y) * bx) / cross
    return (Point(first.start.x + t * ax, first.start.y + t * ay),)


def line_circle(line: Line, centre: Point, radius: float, *, touch: float = ON_SEGMENT) -> tuple[Point, ...]:
    """Where the endless line cuts the circle, in the direction of the line; one point when it touches within ``touch`` mm."""
    ux, uy = line.tangent_at(0.0)
    along = (centre.x - line.start.x) * ux + (centre.y - line.start.y) * uy
    off = (centre.x - line.start.x) * uy - (centre.y - line.start.y) * ux
    if abs(off) > radius + touch:
        return ()
    half = math.sqrt(max(0.0, (radius - off) * (radius + off)))
    places = (along,) if half == 0.0 else (along - half, along + half)
    return tuple(Point(line.start.x + t * ux, line.start.y + t * uy) for t in places)


def circle_circle(
    first: Point, first_radius: float, second: Point, second_radius: float, *, touch: float = ON_SEGMENT
) -> tuple[Point, ...]:
    """Where two circles cut; one point when they touch within ``touch`` mm, none when they are the same circle."""
    dx, dy = second.x - first.x, second.y - first.y
    apart = math.hypot(dx, dy)
    if apart <= 1e-12 or apart > first_radius + second_radius + touch or apart < abs(first_radius - second_radius) - touch:
        return ()
    along = (apart * apart + (first_radius - second_radius) * (first_radius + second_radius)) / (2.0 * apart)
    half = math.sqrt(max(0.0, (first_radius - along) * (first_radius + along)))
    ux, uy = dx / apart, dy / apart
    x, y = first.x + along * ux, first.y + along * uy
    if half == 0.0:
        # brought back onto the first circle, so that an inner touch of near-equal circles does not wander
        side = math.copysign(first_radius, along)
        return (Point(first.x + side * ux, first.y + side * uy),)
    return (Point(x - half * uy, y + half * ux), Point(x + half * uy, y - half * ux))


def carriers_meet(first: Segment, second: Segment) -> tuple[Point, ...]:
    """Where the endless lines and full circles that carry two segments meet."""
    if isinstance(first, Line):
        if isinstance(second, Line):
            return line_line(first, second)
        return line_circle(first, second.centre, second.radius)
    if isinstance(second, Line):
        return line_circle(second, first.centre, first.radius)
    return circle_circle(first.centre, first.radius, second.centre, second.radius)


def same_carrier(first: Segment, second: Segment, *, tolerance: float = 1e-7) -> bool:
    """Whether both segments lie on one line or one circle within the tolerance, mm."""
    if isinstance(first, Line) and isinstance(second, Line):
        ux, uy = first.tangent_at(0.0)
        return all(abs((p.x - first.start.x) * uy - (p.y - first.start.y) * ux) <= tolerance for p in (second.start, second.end))
    if isinstance(first, Arc) and isinstance(second, Arc):
        apart = math.hypot(first.centre.x - second.centre.x, first.centre.y - second.centre.y)
        return apart <= tolerance and abs(first.radius - second.radius) <= tolerance
    return False


def meetings(first: Segment, second: Segment, *, tolerance: float = ON_SEGMENT) -> tuple[Point, ...]:
    """The points two segments share, ends included; tolerance mm.

    >>> meetings(Line(Point(0, 0), Point(10, 0)), Line(Point(5, -5), Point(5, 5)))
    (Point(x=5.0, y=0.0),)
    >>> meetings(Line(Point(0, 0), Point(10, 0)), Line(Point(0, 1), Point(10, 1)))
    ()
    >>> meetings(Line(Point(0, 0), Point(10, 0)), Line(Point(4, 0), Point(20, 0)))
    (Point(x=4, y=0), Point(x=10, y=0))
    """
    if same_carrier(first, second, tolerance=tolerance):
        ends = [p for p in (second.start, second.end) if distance_to(first, p.x, p.y) <= tolerance]
        ends += [p for p in (first.start, first.end) if distance_to(second, p.x, p.y) <= tolerance]
        kept: list[Point] = []
        for p in ends:
            if all(math.hypot(p.x - q.x, p.y - q.y) > tolerance for q in kept):
                kept.append(p)
        return tuple(kept)
    return tuple(
        p
        for p in carriers_meet(first, second)
        if on_segment(first, p.x, p.y, tolerance=tolerance) and on_segment(second, p.x, p.y, tolerance=tolerance)
    )


__all__ = [
    "box_of",
    "carriers_meet",
    "circle_circle",
    "distance_to",
    "fraction_on_arc",
    "fraction_on_line",
    "line_circle",
    "line_line",
    "meetings",
    "nearest_fraction",
    "on_segment",
    "same_carrier",
]
