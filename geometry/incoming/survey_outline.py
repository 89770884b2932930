"""Stretches of a surveyed wall joined to a closed outline of lines and arcs, and the measured wall beside it.

Terms
-----
corner
    Where two edges meet: sharp where their carriers cross, round where points lie on a rounding between them or a radius is given, smooth
    where they go on from each other.
measured wall
    The points themselves, joined by straight lines. Only corners whose radius is given are put in.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from geometry.incoming.curve_fits import fit_circle
from geometry.incoming.incoming import IncomingError
from geometry.incoming.survey_carriers import Carrier, angle_about, bulge_along, meeting, tangent_rounding
from geometry.incoming.survey_walls import CORNER, CORNER_OFF, Stretch, turn_between
from geometry.outline.loop import Outline, Point, Vertex

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

LEAST_ROUND, MOST_ROUND = math.radians(15.0), math.radians(165.0)
"""Turn of an arc that may be the rounding of a corner; beyond it the arc is an edge of its own (own defaults)."""
SMOOTH_JOINT = math.radians(25.0)
"""Turn at the end of an arc up to which it may be tangent there (own default)."""
CHORD_TURN = math.radians(50.0)
"""Turn of one chord of a rounding up to which its points may lie on one (own default)."""
FARTHEST_CORNER = 1.5
"""Times the distance of the points on either side of it that a corner may stand off the middle between them (own default)."""
MOST_WALL = 400
"""Points of the measured wall at most; of more the innermost of every few stand for them."""


class OutlineFault(IncomingError):
    """Walls that make no outline."""


@dataclass(frozen=True, slots=True)
class SurveyedEdge:
    """One edge of the wall. ``radius`` and ``spread`` (one standard deviation) of a curved one, mm; None of a straight one.

    ``off`` is the largest distance of one of its points from the fitted line or arc, mm; ``points`` their places in the ring.
    """

    name: str
    radius: float | None
    spread: float | None
    off: float
    points: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SurveyedCorner:
    """The corner at the start of an edge of the same number. ``radius`` 0 is sharp; ``spread`` None where it is given or sharp."""

    place: Point
    radius: float
    spread: float | None
    smooth: bool
    given: bool


@dataclass(frozen=True, slots=True)
class JoinedWalls:
    """The outline that was fitted, its edges and corners in order from the lower left, and the measured wall.

    ``wall``: places in the ring of its points in order, and the vertices of corners that were put in; ``between``: the points beside those of
    corners at which none was taken; ``replaced``: points of corners whose radius is given.
    """

    outline: Outline
    edges: tuple[SurveyedEdge, ...]
    corners: tuple[SurveyedCorner, ...]
    wall: tuple[int | Vertex, ...]
    between: tuple[tuple[int, int], ...]
    replaced: frozenset[int]


class _Joint(NamedTuple):
    """How an edge goes over into the next: last place on it, first place on the next, bulge between, and the corner."""

    end: Point
    start: Point
    bulge: float
    corner: SurveyedCorner
    points: tuple[int, ...]  # places in the ring of the points of the rounding


def joined(ring: Points, stretches: Sequence[Stretch], *, radius: float | Sequence[float] | None, accuracy: float) -> JoinedWalls:
    """The closed outline of the stretches of a ring; ``radius`` is given for every corner, or for each from the lower left.

    Raises
    ------
    OutlineFault
        When the walls make no outline.
    """
    from geometry.outline.loop import OutlineError
    from geometry.outline.soundness import sound

    edges, groups = _edges_and_corners(ring, stretches, accuracy, given=radius is not None)
    if len(edges) < 2:
        raise OutlineFault(
            "the points show one edge only and no round opening", "points on every edge, or the names of the edges"
        )
    first = _lowest_left(ring, [stretches[at] for at in edges])
    edges, groups = edges[first:] + edges[:first], groups[first:] + groups[:first]
    used = [stretches[at] for at in edges]
    carriers = [_carrier(ring, stretch) for stretch in used]
    turns = [turn_between(used[at - 1], used[at], ring) for at in range(len(used))]
    wanted = _radii(radius, [abs(turn) >= CORNER or bool(group) for turn, group in zip(turns, groups, strict=True)])
    joints = [
        _joint(ring, (carriers[at - 1], carriers[at]), (used[at - 1], used[at]), groups[at], wanted[at], accuracy)
        for at in range(len(used))
    ]
    vertices: list[Vertex] = []
    for at, joint in enumerate(joints):
        following = joints[(at + 1) % len(joints)]
        if joint.bulge:
            vertices.append(Vertex(*joint.end, joint.bulge))
        vertices.append(Vertex(*joint.start, bulge_along(carriers[at], joint.start, following.end)))
    try:
        outline = sound(vertices)
    except OutlineError as error:
        raise OutlineFault(
            f"the walls fitted to the points make no outline: {error}", "points on every edge, with its name"
        ) from None
    found = tuple(
        SurveyedEdge(
            stretch.name or f"e{number}",
            None if stretch.circle is None else stretch.circle.radius,
            None if stretch.circle is None else stretch.circle.radius_spread,
            max(abs(value) for value in stretch.residuals),
            tuple(stretch.rows(len(ring))),
        )
        for number, stretch in enumerate(used, start=1)
    )
    wall, between, replaced = _wall(ring, used, joints)
    return JoinedWalls(outline, found, tuple(joint.corner for joint in joints), wall, between, replaced)


def _radii(radius: float | Sequence[float] | None, takes: list[bool]) -> list[float | None]:
    """The radius given for each joint; None where none is given or none can be."""
    if radius is None:
        return [None] * len(takes)
    if isinstance(radius, int | float):
        return [float(radius) if take else None for take in takes]
    if len(radius) != takes.count(True):
        raise OutlineFault(f"{len(radius)} radii for {takes.count(True)} corners", "one radius, or one for each corner")
    left = iter(radius)
    return [float(next(left)) if take else None for take in takes]


def _lowest_left(ring: Points, used: Sequence[Stretch]) -> int:
    """The edge that begins nearest to the lower left of the box."""
    low = ring.min(axis=0)
    starts = [ring[stretch.first % len(ring)] - low for stretch in used]
    return min(range(len(used)), key=lambda at: (round(math.hypot(*starts[at]), 6), at))


# Which stretches are edges, which are roundings.


def _edges_and_corners(
    ring: Points, stretches: Sequence[Stretch], accuracy: float, *, given: bool
) -> tuple[list[int], list[list[int]]]:
    """Numbers of the stretches that are edges, and for each those of the rounding before it; ``given``: a radius is."""
    count = len(stretches)
    small = [_is_rounding(ring, stretches, at) for at in range(count)]
    for at in range(count):
        if not small[at]:
            for size in _chord_groups(ring, stretches, at, small, accuracy, least=1 if given else 2):
                for step in range(size):
                    small[(at + step) % count] = True
    edges = [at for at in range(count) if not small[at]]
    groups: list[list[int]] = []
    for place, at in enumerate(edges):
        before = edges[place - 1]
        between = (at - before - 1) % count if len(edges) > 1 else count - 1
        groups.append([(before + 1 + step) % count for step in range(between)])
    return edges, groups


def _is_rounding(ring: Points, stretches: Sequence[Stretch], at: int) -> bool:
    """An arc that goes over smoothly into a much flatter stretch on either side."""
    one, before, after = stretches[at], stretches[at - 1], stretches[(at + 1) % len(stretches)]
    if one.circle is None or len(stretches) < 3:
        return False
    for other in (before, after):
        if other.circle is not None and other.circle.radius < 2.0 * one.circle.radius:
            return False
    smooth = abs(turn_between(before, one, ring)) <= SMOOTH_JOINT and abs(turn_between(one, after, ring)) <= SMOOTH_JOINT
    return smooth and LEAST_ROUND <= abs(turn_between(before, after, ring)) <= MOST_ROUND


def _chord_groups(
    ring: Points, stretches: Sequence[Stretch], at: int, small: Sequence[bool], accuracy: float, *, least: int
) -> list[int]:
    """How many short straight stretches from this one on are the chords of one rounding, ``least`` or more; none or one figure.

    One chord alone may be a chamfer as well: it is taken for a rounding only where a radius is given.
    """
    count, total = len(stretches), len(ring)

    def length(stretch: Stretch) -> float:
        ends = stretch.rows(total)
        return float(math.hypot(*(ring[ends[-1]] - ring[ends[0]])))

    for size in range(min(4, count - 2), least - 1, -1):
        part = [(at + step) % count for step in range(size)]
        before, after = (at - 1) % count, (at + size) % count
        if any(small[each] or stretches[each].curved for each in (*part, before, after)):
            continue
        sides = [before, *part, after]
        turns = [turn_between(stretches[a], stretches[b], ring) for a, b in pairwise(sides)]
        whole = math.fsum(turns)
        most = CHORD_TURN if size > 1 else 1.5 * CHORD_TURN
        one_way = all(0 < turn * math.copysign(1.0, whole) <= most for turn in turns)
        short = math.fsum(length(stretches[each]) for each in part) < 0.5 * min(
            length(stretches[before]), length(stretches[after])
        )
        if not (one_way and short and LEAST_ROUND <= abs(whole) <= MOST_ROUND):
            continue
        rows = sorted(
            {row for each in part for row in stretches[each].rows(total)}, key=lambda row: (row - stretches[at].first) % total
        )
        pair = (_carrier(ring, stretches[before]), _carrier(ring, stretches[after]))
        if size == 1 or tangent_rounding(ring[rows], pair, math.copysign(1.0, whole))[1] <= 2.0 * accuracy:
            return [size]
    return []


# Joining.


def _carrier(ring: Points, stretch: Stretch) -> Carrier:
    if stretch.circle is None:
        return Carrier(Point(*stretch.line.middle), Point(*stretch.line.way))
    rows = stretch.rows(len(ring))
    a, b, c = ring[rows[0]], ring[rows[len(rows) // 2]], ring[rows[-1]]
    turn = math.copysign(1.0, float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])))
    return Carrier(Point(*stretch.circle.centre), Point(1.0, 0.0), stretch.circle.radius, turn)


def _joint(
    ring: Points,
    pair: tuple[Carrier, Carrier],
    edges: tuple[Stretch, Stretch],
    group: Sequence[int],
    given: float | None,
    accuracy: float,
) -> _Joint:
    total = len(ring)
    last, first = (edges[0].first + edges[0].count - 1) % total, edges[1].first % total
    between = (first - last) % total
    points = tuple((last + step) % total for step in range(between + 1)) if group else ()
    near = Point(*(float(value) for value in (ring[last] + ring[first]) / 2.0))
    turn = turn_between(*edges, ring)
    if abs(turn) < CORNER and not group:
        feet = [carrier.foot(near) for carrier in pair]
        place = Point((feet[0].x + feet[1].x) / 2.0, (feet[0].y + feet[1].y) / 2.0)
        return _Joint(place, place, 0.0, SurveyedCorner(place, 0.0, None, True, False), ())
    side = math.copysign(1.0, turn)
    radius, spread = given or 0.0, None
    if given is None and group:
        radius, rms = tangent_rounding(ring[list(points)], pair, side)
        free = fit_circle(ring[list(points)], accuracy=max(accuracy, rms))
        spread = radius if free is None else free.radius_spread
    sharp = meeting(pair, 0.0, near)
    gap = float(math.dist(ring[last], ring[first]))
    rounded = (given or 0.0) * math.tan(abs(turn) / 2.0)  # from the sharp corner to where a rounding that is given begins
    if not group and (
        sharp is None
        or math.dist(sharp, near) > FARTHEST_CORNER * gap + rounded + 2.0 * CORNER_OFF * accuracy / abs(math.sin(turn))
    ):
        found = (
            f"the edges beside ({near.x:.0f}, {near.y:.0f}) meet nowhere near: {gap:.0f} mm of the wall were not surveyed there"
        )
        raise OutlineFault(found, "points on every edge, or the radius of that corner")
    centre = meeting(pair, side * radius, near)
    if centre is None:
        what = f"a rounding of {radius:.1f} mm" if radius else "their crossing"
        raise OutlineFault(
            f"two edges that meet near ({near.x:.0f}, {near.y:.0f}) leave no room for {what}", "points at that corner"
        )
    if radius == 0.0:
        return _Joint(centre, centre, 0.0, SurveyedCorner(centre, 0.0, None, False, given is not None), ())
    end, start = pair[0].foot(centre), pair[1].foot(centre)
    bulge = math.tan(angle_about(centre, end, start, side) / 4.0) * side
    return _Joint(end, start, bulge, SurveyedCorner(sharp or centre, radius, spread, False, given is not None), points)


# The measured wall.


def _wall(
    ring: Points, used: Sequence[Stretch], joints: Sequence[_Joint]
) -> tuple[tuple[int | Vertex, ...], tuple[tuple[int, int], ...], frozenset[int]]:
    """The points joined, corners put in whose radius is given; the points beside corners at which none was taken; those that were replaced."""
    total = len(ring)
    inside = [0.0] * total
    for stretch in used:
        sign = 1.0 if stretch.circle is None else -_carrier(ring, stretch).turn
        for row, value in zip(stretch.rows(total), stretch.residuals, strict=True):
            inside[row] = sign * value
    dropped: set[int] = set()
    put: dict[int, list[Vertex]] = {}  # after this point
    between: list[tuple[int, int]] = []
    keep: set[int] = set()
    for at, joint in enumerate(joints):
        last, first = (used[at - 1].first + used[at - 1].count - 1) % total, used[at].first % total
        keep |= {last, first}
        if not joint.corner.given:
            if not joint.corner.smooth and not joint.points and last != first:
                between.append((last, first))  # nobody knows how far it reaches: the wall goes straight from point to point
            continue
        if last == first or joint.points:
            gone = list(joint.points) or [last]
            dropped |= set(gone)
            last, first = (gone[0] - 1) % total, (gone[-1] + 1) % total
        last, first = _before_feet(ring, joint, last, first, dropped)
        end, start = joint.end, joint.start
        if not joint.points and dropped.issuperset(((last + 1) % total, (first - 1) % total)):
            end = _no_farther_out(end, ring[last], ring[(last + 1) % total], 1.0)
            start = _no_farther_out(start, ring[first], ring[(first - 1) % total], -1.0)
        put[last] = [Vertex(*end, joint.bulge), Vertex(*start)] if joint.bulge else [Vertex(*joint.start)]
    wall: list[int | Vertex] = []
    for row in sorted({*_innermost(total, inside, keep, dropped), *put}):
        wall += [row, *put.get(row, [])] if row not in dropped else put[row]
    return tuple(wall), tuple(between), frozenset(dropped)


def _no_farther_out(foot: Point, kept: NDArray[np.float64], gone: NDArray[np.float64], ahead: float) -> Point:
    """Where a rounding that was put in meets its edge, on the line measured from the last point kept to the corner's where that lies farther in.

    ``ahead``: 1 where the corner follows the point kept, -1 where it comes before it.
    """
    way, to = gone - kept, (foot.x - float(kept[0]), foot.y - float(kept[1]))
    long = float(way[0]) ** 2 + float(way[1]) ** 2
    share = (to[0] * float(way[0]) + to[1] * float(way[1])) / long
    inward = (float(way[0]) * to[1] - float(way[1]) * to[0]) * ahead
    if inward >= 0.0 or not 0.0 < share <= 1.0:
        return foot
    return Point(float(kept[0]) + share * float(way[0]), float(kept[1]) + share * float(way[1]))


def _before_feet(ring: Points, joint: _Joint, last: int, first: int, dropped: set[int]) -> tuple[int, int]:
    """The points beside a corner that was put in, those dropped that lie beyond where its rounding begins or ends."""
    total, corner = len(ring), joint.corner.place
    for _ in range(total // 2):
        if math.dist(ring[last], corner) > math.dist(joint.end, corner) or joint.bulge == 0.0:
            break
        dropped.add(last)
        last = (last - 1) % total
    for _ in range(total // 2):
        if math.dist(ring[first], corner) > math.dist(joint.start, corner) or joint.bulge == 0.0:
            break
        dropped.add(first)
        first = (first + 1) % total
    return last, first


def _innermost(total: int, inside: Sequence[float], keep: set[int], dropped: set[int]) -> list[int]:
    """All points, or of very many those at the corners and the innermost of every few."""
    rows = [row for row in range(total) if row not in dropped]
    if len(rows) <= MOST_WALL:
        return rows
    size = math.ceil(len(rows) / MOST_WALL)
    chosen = {max(rows[at : at + size], key=lambda row: (inside[row], -row)) for at in range(0, len(rows), size)}
    return sorted(chosen | (keep - dropped))


__all__ = ["JoinedWalls", "OutlineFault", "SurveyedCorner", "SurveyedEdge", "joined"]
