"""Corners and straight sides of an outline, as a drawing office names them.

Terms
-----
corner
    A sharp vertex between two straight sides, or an arc of less than half a turn that is tangent to a straight side before
    and after it.
theoretical corner
    Where the two straight sides beside a rounded corner would meet: the sharp point that is dimensioned.
interior angle
    Angle of the glass at a corner, degrees: under 180 at a convex corner, over 180 at a re-entrant one (a cut-out).
tangent point
    Where the rounding meets the straight side. At a sharp corner both are the corner itself.
bisector
    Unit vector from the theoretical corner that halves the interior angle and points into the glass.
straight run
    A straight side as far as it goes: neighbours on one line are one run.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from geometry.outline.loop import Arc, Line, Outline, Point, Segment, segments, turned, unit
from geometry.outline.meet import line_line
from geometry.outline.soundness import turn_at

TANGENT = 1e-4
"""Turn at a joint, radians, below which two straight sides are one line (0.006 degrees)."""
ROUNDING = 0.02
"""Turn, radians, by which an arc may miss the direction of its side and still round the corner (1.1 degrees): an outline that
was read with two decimals is never exact."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner between two straight sides.

    ``number`` counts 1, 2 .. counter-clockwise (clockwise on the other hand of a pane),
    ``theoretical`` is the sharp point, ``interior_angle`` in degrees, ``radius``
    in mm (0 where sharp), ``tangent_before`` and ``tangent_after`` where the rounding starts and ends, ``bisector`` a unit
    vector into the glass, also at a re-entrant corner.
    """

    number: int
    theoretical: Point
    interior_angle: float
    radius: float
    tangent_before: Point
    tangent_after: Point
    bisector: Point

    @property
    def convex(self) -> bool:
        """Whether the corner points out of the glass."""
        return self.interior_angle < 180.0

    @property
    def on_glass(self) -> Point:
        """Where the bisector meets the outline: the middle of the rounding, or the sharp corner itself."""
        turn = self.interior_angle if self.convex else 360.0 - self.interior_angle
        inside = self.radius * (1.0 / math.sin(math.radians(turn) / 2.0) - 1.0) * (1.0 if self.convex else -1.0)
        return Point(self.theoretical.x + inside * self.bisector.x, self.theoretical.y + inside * self.bisector.y)

    @property
    def rounding(self) -> tuple[Point, float]:
        """Middle and radius, mm, of what a tape reaches over: of the rounding, or the corner itself and 0 where it is sharp or re-entrant."""
        if not self.radius or not self.convex:
            return self.theoretical, 0.0
        reach = self.radius / math.sin(math.radians(self.interior_angle) / 2.0)
        return Point(self.theoretical.x + reach * self.bisector.x, self.theoretical.y + reach * self.bisector.y), self.radius


def over_the_arcs(one: tuple[Point, float], other: tuple[Point, float]) -> float:
    """What a tape finds along a diagonal between two roundings (middle, radius): the greatest distance between their arcs, mm.

    That is the distance of their middles and both radii.
    """
    return math.dist(one[0], other[0]) + one[1] + other[1]


@dataclass(frozen=True, slots=True)
class StraightRun:
    """A straight side: ``direction`` of travel and ``outward`` normal are unit vectors, lengths in mm.

    ``length_along`` is the length along the outline, from its first vertex, at the start of the run.
    """

    start: Point
    end: Point
    direction: Point
    outward: Point
    length: float
    length_along: float


@lru_cache(maxsize=256)
def straight_runs(outline: Outline) -> tuple[StraightRun, ...]:
    """Straight sides counter-clockwise; the first one is the one on which the first vertex lies or that follows it.

    >>> from geometry.outline.shapes import circle, polygon, rectangle
    >>> [run.length for run in straight_runs(rectangle(100, 50, radius=10))]
    [80.0, 30.0, 80.0, 30.0]
    >>> [run.length for run in straight_runs(polygon([(50, 0), (100, 0), (100, 40), (0, 40), (0, 0)]))]
    [100.0, 40.0, 100.0, 40.0]
    >>> straight_runs(circle(100))
    ()
    """
    parts = segments(outline)
    groups: list[list[int]] = []
    for index, part in enumerate(parts):
        if not isinstance(part, Line):
            continue
        if groups and groups[-1][-1] == index - 1 and abs(turn_at(parts[index - 1], part)) < TANGENT:
            groups[-1].append(index)
        else:
            groups.append([index])
    if len(groups) > 1 and groups[0][0] == 0 and groups[-1][-1] == len(parts) - 1 and abs(turn_at(parts[-1], parts[0])) < TANGENT:
        groups[0] = groups.pop() + groups[0]
    lengths = [part.length for part in parts]
    found = []
    for group in groups:
        start, end = parts[group[0]].start, parts[group[-1]].end
        way = unit(end.x - start.x, end.y - start.y)
        outward = Point(way.y, 0.0 - way.x)
        found.append(StraightRun(start, end, way, outward, math.dist(start, end), math.fsum(lengths[: group[0]])))
    return tuple(found)


@lru_cache(maxsize=256)
def corners(outline: Outline) -> tuple[Corner, ...]:
    """Corners counter-clockwise; corner 1 is the one that the first straight run leaves.

    A circle, an ellipse and the half-round end of a slot have none.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> first = corners(rectangle(100, 50, radius=10))[0]
    >>> first.theoretical, first.interior_angle, first.radius
    (Point(x=0.0, y=0.0), 90.0, 10.0)
    >>> corners(circle(100)), corners(rectangle(100, 50, radius=25))
    ((), ())
    """
    parts = _with_whole_arcs(segments(outline))
    found: list[Corner] = []
    for index, part in enumerate(parts):
        before, after = parts[index - 1], parts[(index + 1) % len(parts)]
        if isinstance(part, Line):
            if isinstance(before, Line) and abs(turn_at(before, part)) >= TANGENT:
                found.append(_corner(part.start, 0.0, before, part))
        elif isinstance(before, Line) and isinstance(after, Line) and abs(part.sweep) < math.pi - TANGENT:
            tangent = abs(turn_at(before, part)) < ROUNDING and abs(turn_at(part, after)) < ROUNDING
            sharp = line_line(before, after)
            if tangent and sharp and abs(turn_at(before, after)) >= TANGENT:
                found.append(_corner(sharp[0], part.radius, before, after))
    runs = straight_runs(outline)
    if found and runs:
        leaving = [index for index, corner in enumerate(found) if math.dist(corner.tangent_after, runs[0].start) < 1e-9]
        if leaving:  # none where the first run leaves something else than a corner: then the first one met counts
            found = found[leaving[0] :] + found[: leaving[0]]
    numbers = numbers_from_first(outline, len(found))
    return tuple(replace(corner, number=number) for number, corner in zip(numbers, found, strict=True))


def numbers_from_first(outline: Outline, count: int) -> list[int]:
    """The numbers of ``count`` corners met counter-clockwise from corner 1, as the outline names them: 1 2 3 .. or 1 .. 3 2."""
    numbers = list(range(1, count + 1))
    return [*numbers[:1], *reversed(numbers[1:])] if outline.clockwise_names else numbers


def _corner(sharp: Point, radius: float, before: Line, after: Line) -> Corner:
    angle = math.pi - turn_at(before, after)
    return Corner(
        number=0,
        theoretical=_clean(sharp),
        interior_angle=round(math.degrees(angle), 12),
        radius=round(radius, 9),
        tangent_before=before.end,
        tangent_after=after.start,
        bisector=turned(after.tangent_at(0.0), angle / 2.0),
    )


def _clean(sharp: Point) -> Point:
    """A worked-out corner without the last figures that rounding leaves: a millionth of a micrometre."""
    return Point(round(sharp.x, 9) + 0.0, round(sharp.y, 9) + 0.0)


def _with_whole_arcs(parts: tuple[Segment, ...]) -> list[Segment]:
    """The segments with neighbouring arcs of one circle joined, as long as together they turn by less than a full circle."""
    joined: list[Segment] = []
    for part in parts:
        whole = _one_arc(joined[-1], part) if joined else None
        if whole is None:
            joined.append(part)
        else:
            joined[-1] = whole
    whole = _one_arc(joined[-1], joined[0]) if len(joined) > 2 else None
    return joined if whole is None else [whole, *joined[1:-1]]


def _one_arc(first: Segment, second: Segment) -> Arc | None:
    if not isinstance(first, Arc) or not isinstance(second, Arc) or first.bulge * second.bulge < 0:
        return None
    close = 1e-6 * max(1.0, first.radius)
    if math.dist(first.centre, second.centre) > close or abs(first.radius - second.radius) > close:
        return None
    sweep = first.sweep + second.sweep
    return Arc(first.start, second.end, math.tan(sweep / 4.0)) if abs(sweep) < 2 * math.pi - 1e-3 else None


def run_names(outline: Outline) -> tuple[str, ...]:
    """Names of the straight runs in their order: e1, e2 ... counter-clockwise, clockwise on the other hand of a pane.

    >>> from geometry.outline.measure import other_hand
    >>> from geometry.outline.shapes import rectangle
    >>> run_names(rectangle(10, 5)), run_names(other_hand(rectangle(10, 5)))
    (('e1', 'e2', 'e3', 'e4'), ('e4', 'e3', 'e2', 'e1'))
    """
    count = len(straight_runs(outline))
    return tuple(f"e{count - index if outline.clockwise_names else index + 1}" for index in range(count))


__all__ = [
    "ROUNDING",
    "TANGENT",
    "Corner",
    "StraightRun",
    "corners",
    "numbers_from_first",
    "over_the_arcs",
    "run_names",
    "straight_runs",
]
