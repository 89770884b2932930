"""Ellipses as loops of tangent arcs: the curve a cutting machine can follow, with its true deviation.

Terms
-----
pair of arcs
    Two arcs that run from one point and direction to another point and direction and are tangent to each other between.
deviation
    Greatest distance between the loop of arcs and the true ellipse, mm, measured, not estimated.
"""

from __future__ import annotations

import math
from functools import lru_cache

from geometry.outline.loop import Arc, Outline, OutlineError, Point, Vertex, number, segments
from geometry.outline.soundness import checked_size

MOST_PAIRS = 400
"""Pairs of arcs in one quarter beyond which the tolerance is called too fine."""


def ellipse(width: float, height: float, *, tolerance: float = 0.01) -> Outline:
    """An ellipse of full axes ``width`` (along x) and ``height`` (along y), mm, lower left of its box at (0, 0).

    The loop starts at the lowest point, holds the four axis ends exactly and is symmetric about both axes. ``tolerance``
    is the greatest allowed distance from the true ellipse, mm; :func:`ellipse_deviation` measures the true one.

    >>> oval = ellipse(700, 400)
    >>> oval.vertices[0][:2]
    (350.0, 0.0)
    >>> ellipse_deviation(oval, 700, 400) <= 0.01
    True
    >>> ellipse(700, 0)
    Traceback (most recent call last):
    geometry.outline.loop.OutlineError: the height of the ellipse is 0 mm; it must be over 0 and at most 1000000 mm
    """
    wide = checked_size(width, "the width of the ellipse")
    high = checked_size(height, "the height of the ellipse")
    allowed = checked_size(tolerance, "the tolerance of the ellipse")
    return _fitted(wide, high, allowed)


@lru_cache(maxsize=64)
def _fitted(width: float, height: float, tolerance: float) -> Outline:
    a, b = width / 2.0, height / 2.0
    if max(a, b) > 1000.0 * min(a, b):
        raise OutlineError(
            f"the ellipse is {number(width)} by {number(height)} mm; its longer axis may be at most 1000 times the shorter one"
        )
    places = _spread(a, b)
    pairs = 1
    while pairs <= MOST_PAIRS:
        outline = _mirrored_quarters(a, b, _quarter(a, b, _nodes(places, pairs)))
        deviation = ellipse_deviation(outline, width, height)
        if deviation <= tolerance:
            return outline
        # the deviation falls with the cube of the number of pairs
        pairs = max(pairs + 1, math.floor(pairs * (deviation / tolerance) ** (1.0 / 3.0) * 0.9))
    raise OutlineError(f"the tolerance {tolerance:g} mm is too fine for an ellipse of {number(width)} by {number(height)} mm")


def _spread(a: float, b: float, steps: int = 2000) -> list[float]:
    """Running share of the fitting error over the quarter from the lowest point to the right end, 0 to 1."""
    running = [0.0]
    for k in range(steps):
        t = (k + 0.5) / steps * math.pi / 2  # angle of the parameter from the lowest point
        sine, cosine = math.sin(t), math.cos(t)
        speed = math.hypot(a * cosine, b * sine)
        # rate of change of curvature with length, to the power 1/3, times length: the error of a pair goes with its cube
        rate = 3.0 * a * b * abs(a * a - b * b) * sine * cosine / speed**6
        running.append(running[-1] + (rate ** (1.0 / 3.0)) * speed)
    total = running[-1]
    return [value / total for value in running] if total > 0 else [k / steps for k in range(steps + 1)]


def _nodes(running: list[float], pairs: int) -> list[float]:
    """Parameter angles, 0 to pi/2, that give each pair of arcs the same share of the error."""
    steps = len(running) - 1
    nodes, k = [0.0], 0
    for i in range(1, pairs):
        share = i / pairs
        while running[k + 1] < share:
            k += 1
        nodes.append((k + (share - running[k]) / (running[k + 1] - running[k])) / steps * math.pi / 2)
    return [*nodes, math.pi / 2]


def _quarter(a: float, b: float, nodes: list[float]) -> list[Vertex]:
    """Vertices, about the centre, of the quarter from the lowest point to the right end (bulge of the last one unused)."""
    found: list[Vertex] = []
    points = [Point(a * math.sin(t), -b * math.cos(t)) for t in nodes]
    tangents = []
    for t in nodes:
        speed = math.hypot(a * math.cos(t), b * math.sin(t))
        tangents.append(Point(a * math.cos(t) / speed, b * math.sin(t) / speed))
    points[0], points[-1] = Point(0.0, -b), Point(a, 0.0)
    tangents[0], tangents[-1] = Point(1.0, 0.0), Point(0.0, 1.0)
    for i in range(len(nodes) - 1):
        found.extend(pair_of_arcs(points[i], tangents[i], points[i + 1], tangents[i + 1]))
    return [*found, Vertex(a, 0.0, 0.0)]


def pair_of_arcs(start: Point, start_tangent: Point, end: Point, end_tangent: Point) -> tuple[Vertex, Vertex]:
    """Two tangent arcs from a point and unit direction to another: the start and the joint, each with its bulge.

    The joint is the one that gives both arcs the same tangent length.

    >>> pair = pair_of_arcs(Point(10, 0), Point(0, 1), Point(0, 10), Point(-1, 0))
    >>> [round(v, 6) for v in pair[1]]
    [7.071068, 7.071068, 0.198912]
    """
    vx, vy = end.x - start.x, end.y - start.y
    sx, sy = start_tangent.x + end_tangent.x, start_tangent.y + end_tangent.y
    along = vx * sx + vy * sy
    # 1 - cos of the turn, written so that it keeps its figures for small turns
    spread = ((start_tangent.x - end_tangent.x) ** 2 + (start_tangent.y - end_tangent.y) ** 2) / 2.0
    square = vx * vx + vy * vy
    root = math.sqrt(along * along + 2.0 * spread * square)
    tangent_length = square / (along + root)
    jx = (start.x + end.x + tangent_length * (start_tangent.x - end_tangent.x)) / 2.0
    jy = (start.y + end.y + tangent_length * (start_tangent.y - end_tangent.y)) / 2.0
    first = _bulge(start_tangent, Point(jx - start.x, jy - start.y))
    second = _bulge(Point(end.x - jx, end.y - jy), end_tangent)
    return Vertex(start.x, start.y, first), Vertex(jx, jy, second)


def _bulge(first: Point, second: Point) -> float:
    """Tan of half the angle from one direction to the other: the bulge between a tangent and a chord."""
    angle = math.atan2(first.x * second.y - first.y * second.x, first.x * second.x + first.y * second.y)
    return math.tan(angle / 2.0)


def _mirrored_quarters(a: float, b: float, quarter: list[Vertex]) -> Outline:
    """The four quarters of one, moved so that the lower left of the box is at (0, 0)."""
    # distances from the nearest axis end keep the loop symmetric to the last bit
    lower_right = quarter
    backwards = [Vertex(v.x, v.y, quarter[i - 1].bulge) for i, v in enumerate(quarter)][::-1]
    loop = [Vertex(a + v.x, b + v.y, v.bulge) for v in lower_right[:-1]]
    loop += [Vertex(a + v.x, b - v.y, v.bulge) for v in backwards[:-1]]
    loop += [Vertex(a - v.x, b - v.y, v.bulge) for v in lower_right[:-1]]
    loop += [Vertex(a - v.x, b + v.y, v.bulge) for v in backwards[:-1]]
    return Outline(tuple(loop))


def ellipse_deviation(outline: Outline, width: float, height: float, *, samples: int = 24) -> float:
    """Greatest distance, mm, between the arcs and the true ellipse of these full axes, both with the box at (0, 0).

    Each arc is measured at ``samples`` points along it, its ends included, by the true (perpendicular) distance. The
    loop is taken to be symmetric: the quarter at lower right is measured.
    """
    a, b = width / 2.0, height / 2.0
    worst = 0.0
    for part in segments(outline):
        middle = part.point_at(0.5)
        if middle.x < a or middle.y > b or not isinstance(part, Arc):
            continue
        for k in range(samples + 1):
            p = part.point_at(k / samples)
            worst = max(worst, distance_to_ellipse(p.x - a, p.y - b, a, b))
    return worst


def distance_to_ellipse(x: float, y: float, a: float, b: float) -> float:
    """Distance, mm, from a point to an ellipse of half axes a (x) and b (y) about the origin.

    Root of the foot-point equation by bisection with Newton steps, which cannot run away.

    >>> distance_to_ellipse(5.0, 0.0, 3.0, 2.0), round(distance_to_ellipse(0.0, 0.0, 3.0, 2.0), 12)
    (2.0, 2.0)
    """
    if a < b:
        a, b, x, y = b, a, y, x
    x, y = abs(x), abs(y)
    if y < 1e-12 * b:
        # the foot leaves the long axis inside the centre of curvature of its end
        if x * a < (a - b) * (a + b):
            cosine = x * a / ((a - b) * (a + b))
            return math.hypot(a * cosine - x, b * math.sqrt(1.0 - cosine * cosine))
        return abs(x - a)
    if x < 1e-12 * a:
        return abs(y - b)
    low, high = -b * b + b * y, -b * b + math.hypot(a * x, b * y)
    t = min(max(0.0, low), high)
    for _ in range(200):
        u, v = a * x / (t + a * a), b * y / (t + b * b)
        value = u * u + v * v - 1.0
        if value > 0:
            low = t
        else:
            high = t
        slope = -2.0 * (u * u / (t + a * a) + v * v / (t + b * b))
        following = t - value / slope
        if not low < following < high:
            following = (low + high) / 2.0
        if abs(following - t) <= 1e-15 * max(abs(t), b * b):
            break
        t = following
    return math.hypot(a * a * x / (t + a * a) - x, b * b * y / (t + b * b) - y)


__all__ = ["distance_to_ellipse", "ellipse", "ellipse_deviation", "pair_of_arcs"]
