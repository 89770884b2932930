"""Curves as tangent arcs with a proved deviation: what a cutter can follow, and how far it lies from what was drawn.

Terms
-----
pair of arcs
    Two arcs tangent to each other, from one point and direction of a curve to another (``geometry.outline.ellipse.pair_of_arcs``).
cut
    Where the curve passes the common normal of the two arcs at their joint: each arc is held against its own stretch of the curve.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from geometry.incoming.bernstein import Rows, bound, clipped, halfway
from geometry.incoming.incoming import IncomingError
from geometry.outline.ellipse import pair_of_arcs
from geometry.outline.loop import Point, Vertex

MOST_ARCS = 4000
"""Arcs of one curve beyond which the tolerance is called too fine."""
KINK = 1e-4
"""Turn between two spans, radians, from which there is a corner."""
WIDEST = 0.5
"""Greatest bulge of one fitted arc (a little over a quarter of a turn)."""


@dataclass
class Fitted:
    """Vertices of a curve as arcs, the last point left out, and the greatest proved deviation, mm."""

    vertices: list[Vertex] = field(default_factory=list)
    deviation: float = 0.0


def as_arcs(spans: Sequence[Rows], within: float) -> Fitted:
    """A plane curve as arcs no farther than ``within`` mm from it; ``spans`` are rows (w x, w y, w), end to end.

    Raises ``IncomingError`` where the curve has no length, or takes more arcs than ``MOST_ARCS``.
    """
    whole = [span for span in spans if _reach(span) > 1e-9]
    fitted = Fitted()
    for run in _smooth_runs(whole):
        _fit(_Curve(run), 0.0, float(len(run)), within, fitted, 0)
    return fitted


def chain_as_arcs(points: Sequence[Point], within: float) -> Fitted:
    """A run of short straight lines that shows a curve, as arcs no farther than ``within`` mm from the lines."""
    import numpy as np

    ways = _ways_of(points)
    spans = [np.array([[*a, 1.0], [*b, 1.0]]) for a, b in itertools.pairwise(points)]
    fitted = Fitted()
    _fit(_Curve(spans, ways), 0.0, float(len(spans)), within, fitted, 0)
    return fitted


class _Curve:
    """Spans as one curve over 0 to their number; ``ways`` are its directions at the joints where the spans do not tell them."""

    def __init__(self, spans: Sequence[Rows], ways: Sequence[Point] | None = None) -> None:
        self.spans, self.ways = spans, ways

    def at(self, t: float) -> Point:
        index = min(int(t), len(self.spans) - 1)
        rows = halfway(self.spans[index], t - index)
        return Point(float(rows[0] / rows[2]), float(rows[1] / rows[2]))

    def way(self, t: float, *, before: bool) -> Point:
        """Unit vector of travel."""
        if self.ways is not None and abs(t - round(t)) < 1e-12:
            return self.ways[round(t)]
        index = min(int(t), len(self.spans) - 1)
        if before and t == index and index > 0:
            index -= 1
        return _direction(self.spans[index], t - index)

    def stretch(self, low: float, high: float) -> list[Rows]:
        """The spans between two parameters, the first and last cut."""
        found = []
        index = min(int(low), len(self.spans) - 1)
        while index < high and index < len(self.spans):
            one, two = max(low - index, 0.0), min(high - index, 1.0)
            if two > one:
                found.append(clipped(self.spans[index], one, two))
            index += 1
        return found

    def split(self, low: float, high: float) -> float | None:
        """Where to part a stretch that no pair of arcs fits; None where it is a single line."""
        first, last = math.floor(low) + 1, math.ceil(high) - 1
        if first <= last:
            return float((first + last + 1) // 2)
        return None if self.ways is not None else (low + high) / 2


def _fit(curve: _Curve, low: float, high: float, within: float, fitted: Fitted, depth: int) -> None:
    start, end = curve.at(low), curve.at(high)
    found = _pair(curve, low, high, start, end, within)
    if found is not None:
        vertices, deviation = found
        fitted.vertices += vertices
        fitted.deviation = max(fitted.deviation, deviation)
        if len(fitted.vertices) > MOST_ARCS:
            raise IncomingError(
                f"a curve takes more than {MOST_ARCS} arcs within {within:g} mm", "a coarser arcs_within", key="arcs_within"
            )
        return
    middle = curve.split(low, high)
    if middle is None or depth > 60 or high - low < 1e-9:
        fitted.vertices.append(Vertex(start.x, start.y, 0.0))
        if middle is not None:
            fitted.deviation = max(fitted.deviation, math.dist(start, end))
        return
    _fit(curve, low, middle, within, fitted, depth + 1)
    _fit(curve, middle, high, within, fitted, depth + 1)


def _pair(curve: _Curve, low: float, high: float, start: Point, end: Point, within: float) -> tuple[list[Vertex], float] | None:
    """Two arcs, or one line, in the place of a stretch of the curve with their proved deviation; None where none are near enough."""
    chord = math.dist(start, end)
    if chord < 1e-9:
        return None
    whole = curve.stretch(low, high)
    straight = bound(whole, start, end, 0.0, min(within, 1e-9))
    if straight is not None:
        return [Vertex(start.x, start.y, 0.0)], straight
    one, two = curve.way(low, before=False), curve.way(high, before=True)
    if one.x * two.x + one.y * two.y < -0.5:
        return None
    try:
        first, joint = pair_of_arcs(start, one, end, two)
    except ZeroDivisionError:
        return None
    if max(abs(first.bulge), abs(joint.bulge)) > WIDEST or not all(map(math.isfinite, (*first, *joint))):
        return None
    middle = Point(joint.x, joint.y)
    if math.dist(start, middle) < 1e-9 or math.dist(middle, end) < 1e-9:
        return None
    cut = _cut(curve, low, high, middle, _leaving(start, middle, first.bulge))
    if cut is None:
        return None
    worst = 0.0
    for a, b, bulge, part in ((start, middle, first.bulge, (low, cut)), (middle, end, joint.bulge, (cut, high))):
        near = bound(curve.stretch(*part), a, b, bulge, within)
        if near is None:
            return None
        worst = max(worst, near)
    return [first, joint], worst


def _leaving(start: Point, end: Point, bulge: float) -> Point:
    turn = 2 * math.atan(bulge)
    dx, dy = (end.x - start.x), (end.y - start.y)
    length = math.hypot(dx, dy)
    cosine, sine = math.cos(turn), math.sin(turn)
    return Point((dx * cosine - dy * sine) / length, (dx * sine + dy * cosine) / length)


def _cut(curve: _Curve, low: float, high: float, joint: Point, way: Point) -> float | None:
    """The parameter at which the curve passes the normal of a direction at a joint."""

    def along(t: float) -> float:
        at = curve.at(t)
        return (at.x - joint.x) * way.x + (at.y - joint.y) * way.y

    a, b = low, high
    fa, fb = along(a), along(b)
    if fa >= 0 or fb <= 0:
        return None
    for _ in range(80):  # regula falsi in its Illinois form
        t = (a * fb - b * fa) / (fb - fa)
        if not a < t < b:
            t = (a + b) / 2
        value = along(t)
        if abs(value) < 1e-12 or b - a < 1e-14 * max(1.0, abs(b)):
            return t
        if value > 0:
            b, fb, fa = t, value, fa * (0.5 if fb > 0 and value > 0 else 1.0)
        else:
            a, fa, fb = t, value, fb * 0.5
    return (a + b) / 2


def _plane(span: Rows) -> Any:
    return span[:, :2] / span[:, 2:]


def _reach(span: Rows) -> float:
    points = _plane(span)
    return float(abs(points - points[0]).max())


def _direction(span: Rows, share: float) -> Point:
    """Unit vector of travel; where control points fall together that of the next one apart."""
    if 0.0 < share < 1.0:
        span, share = clipped(span, share, 1.0), 0.0
    points = _plane(span)
    if share >= 1.0:
        points = points[::-1]
    for point in points[1:]:
        dx, dy = float(point[0] - points[0][0]), float(point[1] - points[0][1])
        length = math.hypot(dx, dy)
        if length > 1e-9:
            return Point(dx / length, dy / length) if share < 1.0 else Point(-dx / length, -dy / length)
    raise IncomingError("a curve without length", "a curve")


def _smooth_runs(spans: Sequence[Rows]) -> list[list[Rows]]:
    """The spans parted where they meet at a corner."""
    runs: list[list[Rows]] = []
    for span in spans:
        if runs:
            one, two = _direction(runs[-1][-1], 1.0), _direction(span, 0.0)
            if abs(math.atan2(one.x * two.y - one.y * two.x, one.x * two.x + one.y * two.y)) < KINK:
                runs[-1].append(span)
                continue
        runs.append([span])
    return runs


def _ways_of(points: Sequence[Point]) -> list[Point]:
    """The direction of a curve at each of its points: that of the circle through it and its neighbours."""
    chords = [Point(b.x - a.x, b.y - a.y) for a, b in itertools.pairwise(points)]
    angles = [math.atan2(c.y, c.x) for c in chords]
    lengths = [math.hypot(*c) for c in chords]
    turns = [math.remainder(two - one, 2 * math.pi) for one, two in itertools.pairwise(angles)]
    found = []
    for i in range(len(points)):
        if len(chords) == 1:
            angle = angles[0]
        elif i == 0:
            angle = angles[0] - turns[0] * lengths[0] / (lengths[0] + lengths[1])
        elif i == len(points) - 1:
            angle = angles[-1] + turns[-1] * lengths[-1] / (lengths[-1] + lengths[-2])
        else:
            angle = angles[i - 1] + turns[i - 1] * lengths[i - 1] / (lengths[i - 1] + lengths[i])
        found.append(Point(math.cos(angle), math.sin(angle)))
    return found


__all__ = ["Fitted", "as_arcs", "chain_as_arcs"]
