"""Parallel curves in closed form: every line and arc moved along its normal and joined to its neighbours.

Terms
-----
used up
    A rounding whose radius is not over the distance: the parallel curve turns there at a sharp corner instead.
gape
    A joint whose two sides come apart when they move; the parallel curve turns there along an arc about the old corner.
mitre
    A joint whose two sides run over each other when they move; both end where they meet.
normal form
    No segment of no length, neighbours on one line or one circle joined, the first vertex the one that belongs to the first
    vertex of the original.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.outline.loop import Arc, Line, Outline, Point, Segment, Vertex, segment_between, segments
from geometry.outline.measure import area, perimeter
from geometry.outline.meet import carriers_meet, fraction_on_arc, same_carrier
from geometry.outline.soundness import turn_at

USED_UP = 1e-6
"""mm of radius or length below which a moved segment counts as used up."""
SHORT = 1e-7
"""mm; shorter segments are dropped."""
STRAIGHT_ON = 1e-9
"""Turn at a joint, radians, below which it is neither gape nor mitre."""


@dataclass(frozen=True, slots=True)
class Parallel:
    """A parallel curve and the area it must enclose by formula, mm2; None where no formula covers it."""

    outline: Outline
    formula_area: float | None


def in_closed_form(outline: Outline, distance: float) -> Parallel | None:
    """The parallel curve ``distance`` mm outwards (positive) or inwards (negative).

    None where a side would be used up or a rounding between other things than two straight sides: that needs more than the
    neighbours to be looked at. Nor are parts that are no neighbours compared; the caller has to prove the result.

    >>> from geometry.outline.shapes import rectangle
    >>> found = in_closed_form(rectangle(100, 50, radius=5), -10)
    >>> len(found.outline.vertices), found.formula_area
    (4, 2400.0)
    >>> in_closed_form(rectangle(100, 50), -25) is None
    True
    """
    parts = _sharpened(segments(outline), distance)
    moved = None if parts is None else _moved(parts, distance)
    if parts is None or moved is None:
        return None
    joined = _joined(parts, moved, distance)
    if joined is None:
        return None
    whole = normal_form([Vertex(part.start.x, part.start.y, part.bulge) for part in joined])
    return None if whole is None else Parallel(whole, _formula_area(parts, distance))


def _sharpened(parts: tuple[Segment, ...], distance: float) -> tuple[Segment, ...] | None:
    """The segments, with roundings that are used up taken back to the sharp corner of the two straight sides beside them."""
    used_up = [isinstance(part, Arc) and part.bulge * distance < 0 and part.radius <= abs(distance) + USED_UP for part in parts]
    if not any(used_up):
        return parts
    count = len(parts)
    starts: dict[int, Point] = {}
    ends: dict[int, Point] = {}
    for index in (i for i in range(count) if used_up[i]):
        before, after = (index - 1) % count, (index + 1) % count
        one, other, rounding = parts[before], parts[after], parts[index]
        if not (isinstance(one, Line) and isinstance(other, Line) and isinstance(rounding, Arc)) or before == after:
            return None
        smooth = abs(turn_at(one, rounding)) < 1e-6 and abs(turn_at(rounding, other)) < 1e-6
        if not smooth or abs(rounding.sweep) > math.pi - 1e-3:
            return None
        ends[before] = starts[after] = carriers_meet(one, other)[0]
    return tuple(
        Line(starts.get(i, part.start), ends.get(i, part.end)) if isinstance(part, Line) else part
        for i, part in enumerate(parts)
        if not used_up[i]
    )


def _moved(parts: tuple[Segment, ...], distance: float) -> list[Segment] | None:
    """Every segment moved along its normal; None where an arc would have no radius left."""
    found: list[Segment] = []
    for part in parts:
        moved = moved_segment(part, distance)
        if moved is None:
            return None
        found.append(moved)
    return found


def moved_segment(part: Segment, distance: float) -> Segment | None:
    """A segment moved ``distance`` mm along its normal, to the right of travel; None where an arc would have no radius left."""
    way_in, way_out = part.tangent_at(0.0), part.tangent_at(1.0)
    start = Point(part.start.x + distance * way_in.y, part.start.y - distance * way_in.x)
    end = Point(part.end.x + distance * way_out.y, part.end.y - distance * way_out.x)
    if isinstance(part, Line):
        return Line(start, end)
    return Arc(start, end, part.bulge) if part.radius + math.copysign(distance, distance * part.bulge) > USED_UP else None


def _joined(parts: tuple[Segment, ...], moved: list[Segment], distance: float) -> list[Segment] | None:
    """Moved segments with their ends brought together; begins with what belongs to the first vertex. None if one is used up."""
    count = len(moved)
    starts, ends = [part.start for part in moved], [part.end for part in moved]
    arcs: dict[int, Segment] = {}  # by the segment they lead to
    for after in range(count):
        before = (after - 1) % count
        if math.dist(ends[before], starts[after]) <= SHORT:
            ends[before] = starts[after]
            continue
        turn = turn_at(parts[before], parts[after])
        if turn * distance > 0:
            arcs[after] = Arc(moved[before].end, moved[after].start, math.tan(turn / 4))
            continue
        middle = Point((moved[before].end.x + moved[after].start.x) / 2, (moved[before].end.y + moved[after].start.y) / 2)
        crossings = carriers_meet(moved[before], moved[after])
        if not crossings:
            return None
        ends[before] = starts[after] = min(crossings, key=lambda p: math.dist(p, middle))
    found: list[Segment] = []
    for index, part in enumerate(moved):
        trimmed = _trimmed(part, starts[index], ends[index])
        if trimmed is None:
            return None
        found += [arcs[index], trimmed] if index in arcs else [trimmed]
    return found


def _trimmed(part: Segment, start: Point, end: Point) -> Segment | None:
    """A segment between two places on its line or circle; None where nothing of it is left."""
    if isinstance(part, Line):
        way = part.tangent_at(0.0)
        left = (end.x - start.x) * way.x + (end.y - start.y) * way.y
        return Line(start, end) if left > USED_UP else None
    if start == part.start and end == part.end:
        return part
    left = fraction_on_arc(part, *end) - fraction_on_arc(part, *start)
    return Arc(start, end, math.tan(left * part.sweep / 4)) if left * part.length > USED_UP and left <= 1.0 + 1e-9 else None


def _formula_area(parts: tuple[Segment, ...], distance: float) -> float | None:
    """Area inside the parallel curve: Steiner's formula with a term for each sharp corner, gaping or mitred.

    Source: J. Steiner's formula for parallel curves, A + P d + d2/2 x (total turn), as in textbooks of integral geometry;
    a gape turns through its angle on an arc, a mitre of angle t adds d2 tan(t / 2) instead of d2 t / 2.
    """
    vertices = tuple(Vertex(part.start.x, part.start.y, part.bulge) for part in parts)
    base = Outline(vertices)
    turning = math.pi
    for index, part in enumerate(parts):
        turn = turn_at(parts[index - 1], part)
        if turn * distance >= 0 or abs(turn) < STRAIGHT_ON:
            continue
        if not (isinstance(part, Line) and isinstance(parts[index - 1], Line)):
            return None
        turning += math.tan(turn / 2) - turn / 2
    return area(base) + distance * perimeter(base) + distance * distance * turning


def normal_form(vertices: list[Vertex]) -> Outline | None:
    """A loop without segments of no length and without lines that run out and straight back, with neighbours on one line or one
    circle joined; None where nothing is left.

    Two arcs of one circle stay two where they would make more than half of it.

    >>> normal_form([Vertex(0, 0), Vertex(5, 0), Vertex(10, 0), Vertex(10, 10), Vertex(10, 10)]).vertices[:2]
    (Vertex(x=0, y=0, bulge=0.0), Vertex(x=10, y=0, bulge=0.0))
    """
    kept = list(vertices)
    index = 0
    while index < len(kept):
        if len(kept) < 2:
            return None
        # the vertex at ``index`` stands between two segments: can it go?
        last, this, following = kept[index - 1], kept[index], kept[(index + 1) % len(kept)]
        before, after = segment_between(last, this, last.bulge), segment_between(this, following, this.bulge)
        if math.dist(this[:2], following[:2]) <= SHORT:
            del kept[index]
        elif len(kept) > 2 and _goes(before, after):
            sweep = math.fsum(part.sweep for part in (before, after) if isinstance(part, Arc))
            kept[index - 1] = last._replace(bulge=math.tan(sweep / 4))
            del kept[index]
        else:
            index += 1
            continue
        index = max(0, index - 2)
    return Outline(tuple(kept))


def _goes(before: Segment, after: Segment) -> bool:
    """Whether the vertex between two segments can go: they are one line or one arc, or a line that runs out and straight back."""
    if math.dist(before.start, before.end) <= SHORT:
        return False  # goes first, when it is looked at itself
    turn = abs(turn_at(before, after))
    if isinstance(before, Line) and isinstance(after, Line) and turn > math.pi - 1e-6:
        return True
    sweep = math.fsum(part.sweep for part in (before, after) if isinstance(part, Arc))
    same = type(before) is type(after) and before.bulge * after.bulge >= 0 and abs(sweep) <= math.pi + 1e-9
    return same and turn < 1e-6 and same_carrier(before, after)


def begun_at(outline: Outline, place: Vertex) -> Outline:
    """The same loop from the vertex that lies nearest to a place; of equally near ones the one that an arc leaves."""
    loop = outline.vertices
    nearest = min(math.dist(v[:2], place[:2]) for v in loop)
    near = [i for i, v in enumerate(loop) if math.dist(v[:2], place[:2]) <= nearest + 1e-6]
    first = min(near, key=lambda i: (loop[i].bulge == 0.0, loop[i].x, loop[i].y))
    return Outline(loop[first:] + loop[:first])


__all__ = ["SHORT", "STRAIGHT_ON", "Parallel", "begun_at", "in_closed_form", "moved_segment", "normal_form"]
