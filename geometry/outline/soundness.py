"""What makes a loop of vertices a usable outline, and the sentence for each way in which it is not.

Terms
-----
repeated point
    Two neighbouring vertices nearer than a millionth of a millimetre: a segment without a length.
spike
    A vertex where the outline turns straight back on itself.
crossing
    A point that two segments share other than the joint between neighbours. Touching counts: a pane cannot touch itself.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from geometry.outline.loop import Arc, Line, Outline, OutlineError, Point, Segment, Vertex, number, place, segment_between
from geometry.outline.meet import meetings
from geometry.outline.nearby import box_pairs

SHORTEST = 1e-6
"""Shortest segment, mm."""
GREATEST = 1e6
"""Greatest size or coordinate, mm: one kilometre."""
SPIKE = math.radians(0.05)
"""Sharpest interior angle: below it the outline runs back over itself."""
NO_BULGE = 1e-10
"""Bulge below which a side is a straight line: flatter than any drawing can show."""
SMOOTH = 1e-6
"""Turn at a joint, radians, below which the joint is tangent."""


def checked_size(value: float, name: str) -> float:
    """A size that must be finite, over 0 and at most a kilometre, mm.

    >>> checked_size(-3, "the width")
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: the width is -3 mm; it must be over 0 and at most 1000000 mm
    """
    size = checked_number(value, name)
    if not 0.0 < size <= GREATEST:
        raise OutlineError(f"{name} is {size:g} mm; it must be over 0 and at most {GREATEST:.0f} mm")
    return size


def checked_number(value: float, name: str) -> float:
    """A finite number as float.

    >>> checked_number(float("nan"), "the width")
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: the width is nan; a finite number is needed
    """
    if isinstance(value, bool | str | bytes):
        raise OutlineError(f"{name} is {value!r}; a finite number is needed")
    try:
        value = float(value)  # whole numbers and numbers of other libraries
    except (TypeError, ValueError):
        raise OutlineError(f"{name} is {value!r}; a finite number is needed") from None
    except OverflowError:
        raise OutlineError(f"{name} is a number too great to work with; at most {GREATEST:.0f} is allowed") from None
    if not math.isfinite(value):
        raise OutlineError(f"{name} is {value}; a finite number is needed")
    return value


def signed_area(vertices: Sequence[Vertex]) -> float:
    """Area inside the loop, mm2, positive when counter-clockwise; exact for arcs."""
    if not vertices:
        return 0.0
    x0, y0 = vertices[0].x, vertices[0].y
    total = 0.0
    for a, b in zip(vertices, (*vertices[1:], vertices[0]), strict=True):
        total += ((a.x - x0) * (b.y - y0) - (b.x - x0) * (a.y - y0)) / 2.0
        if a.bulge:
            arc = Arc(Point(a.x, a.y), Point(b.x, b.y), a.bulge)
            total += arc.radius**2 * (arc.sweep - math.sin(arc.sweep)) / 2.0
    return total


def reversed_loop(vertices: Sequence[Vertex]) -> tuple[Vertex, ...]:
    """The same loop the other way round; the first vertex stays first."""
    count = len(vertices)
    return tuple(Vertex(vertices[-i].x, vertices[-i].y, 0.0 - vertices[(-i - 1) % count].bulge) for i in range(count))


def turn_at(before: Segment, after: Segment) -> float:
    """Angle turned at the joint, radians, positive to the left, between -pi and pi."""
    a, b = before.tangent_at(1.0), after.tangent_at(0.0)
    return math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y)


def crossing_of(parts: Sequence[Segment]) -> tuple[int, int, Point] | None:
    """The first pair of segments of a closed loop that cross or touch, and where; None when there is none."""
    found = [(a, b, met) for a, b in box_pairs(parts) if (met := _foreign_meeting(parts, a, b)) is not None]
    return min(found) if found else None


def _foreign_meeting(parts: Sequence[Segment], a: int, b: int) -> Point | None:
    """A meeting of segments a < b that is not their common joint."""
    count = len(parts)
    joints: list[Point] = []
    for before, after in ((a, b), (b, a)):
        if (before + 1) % count == after:
            if isinstance(parts[before], Line) and isinstance(parts[after], Line):
                return None  # two lines share one point only; running back is a spike and found before
            joints.append(parts[after].start)
            if (
                abs(turn_at(parts[before], parts[after])) < SMOOTH
                and count > 2
                and not _more_than_a_turn(parts[before], parts[after])
            ):
                return None  # tangent neighbours touch at their joint and nowhere else
    for p in meetings(parts[a], parts[b]):
        if all(math.hypot(p.x - q.x, p.y - q.y) > 1e-3 for q in joints):
            return p
    return None


def _more_than_a_turn(before: Segment, after: Segment) -> bool:
    sweeps = [part.sweep for part in (before, after) if isinstance(part, Arc)]
    return abs(math.fsum(sweeps)) > 2 * math.pi - 1e-6


def sound(vertices: Sequence[Vertex]) -> Outline:
    """The outline of these vertices, counter-clockwise, or the reason why there is none.

    Refused: numbers that are not finite, fewer than three corners (two where there are arcs), repeated points, spikes,
    crossings and touches, no area. A clockwise loop is turned round; its first vertex stays first.

    >>> sound((Vertex(0, 0), Vertex(0, 10), Vertex(10, 0))).vertices
    (Vertex(x=0.0, y=0.0, bulge=0.0), Vertex(x=10.0, y=0.0, bulge=0.0), Vertex(x=0.0, y=10.0, bulge=0.0))
    >>> sound((Vertex(0, 0), Vertex(10, 10), Vertex(10, 0), Vertex(0, 10)))  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: the outline crosses itself at (5, 5): side 1 and side 3 meet there; an outline must ...
    """
    loop = [_checked_vertex(i, v) for i, v in enumerate(vertices, start=1)]
    count = len(loop)
    if count < 2 or (count == 2 and not any(v.bulge for v in loop)):
        raise OutlineError(
            f"the outline has {count} point{'' if count == 1 else 's'}; at least three are needed, or two with an arc"
        )
    following = [*loop[1:], loop[0]]
    for i, (a, b) in enumerate(zip(loop, following, strict=True), start=1):
        if math.hypot(b.x - a.x, b.y - a.y) < SHORTEST:
            other = i % count + 1
            raise OutlineError(f"points {i} and {other} are the same place {place(a.x, a.y)}; each point may stand once only")
    parts = [segment_between(a, b, a.bulge) for a, b in zip(loop, following, strict=True)]
    for i, part in enumerate(parts):
        if abs(turn_at(parts[i - 1], part)) > math.pi - SPIKE:
            raise OutlineError(
                f"the outline runs straight back on itself at point {i + 1} {place(*part.start)}; a corner needs an angle over "
                f"{number(math.degrees(SPIKE))} degrees"
            )
    crossing = crossing_of(parts)
    if crossing is not None:
        first, second, where = crossing
        raise OutlineError(
            f"the outline crosses itself at {place(*where)}: side {first + 1} and side {second + 1} meet there; "
            "an outline must not cross or touch itself"
        )
    area = signed_area(loop)
    if abs(area) < SHORTEST:
        raise OutlineError(f"the outline encloses no area near {place(loop[0].x, loop[0].y)}; an area over 0 is needed")
    return Outline(tuple(loop) if area > 0 else reversed_loop(loop))


def _checked_vertex(i: int, vertex: Vertex) -> Vertex:
    values = [checked_number(v, f"{axis} of point {i}") for axis, v in zip(("x", "y", "the bulge"), vertex, strict=True)]
    for axis, value in zip("xy", values, strict=False):
        if abs(value) > GREATEST:
            raise OutlineError(f"{axis} of point {i} is {value:g} mm; at most {GREATEST:.0f} mm is allowed")
    if abs(values[2]) > 100.0:
        raise OutlineError(f"the bulge of point {i} is {values[2]:g}; it must lie between -100 and 100 (1 is half a circle)")
    if abs(values[2]) < NO_BULGE:
        values[2] = 0.0
    return Vertex(*(value + 0.0 for value in values))


__all__ = [
    "NO_BULGE",
    "SHORTEST",
    "checked_number",
    "checked_size",
    "crossing_of",
    "reversed_loop",
    "signed_area",
    "sound",
    "turn_at",
]
