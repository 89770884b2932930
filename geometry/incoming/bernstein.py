"""How far a stretch of a curve lies from an arc or a line: bounds that are proved, by the Bernstein form.

Terms
-----
proof
    Over a stretch, the squared distance from the arc's centre less the squared radius is a polynomial over the squared weight, and so
    is the turn about the centre. Their Bernstein coefficients bound them (a polynomial lies within its coefficients: Farouki, 2012).
    Where the turn keeps its sign and the ends lie on the arc's end normals, every place of the arc has its place of the curve on the
    same ray and the other way round: the bound of the distance holds both ways.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from geometry.outline.loop import Arc, Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Rows = NDArray[np.float64]
else:
    Rows = object

FLATTEST = 1e7
"""mm of radius beyond which an arc is a straight line: over a metre it rises less than an eighth of a thousandth."""
HALVINGS = 7
"""How often a stretch is halved to sharpen a bound."""


def bound(stretch: Sequence[Rows], start: Point, end: Point, bulge: float, within: float) -> float | None:
    """The proved greatest distance, mm, between a stretch of curve and the arc (or line) beside it, both ways; None where over ``within``."""
    if abs(bulge) < 1e-12:
        bulge = 0.0
    arc = Arc(start, end, bulge) if bulge else None
    if arc is not None and arc.radius > FLATTEST:
        arc = None
    lines = _beside_lines(stretch, start, end, arc) if len(stretch) > 1 and all(len(span) == 2 for span in stretch) else None
    if lines is not None:
        return lines if lines <= within else None
    worst = 0.0
    for span in stretch:
        near = _bound_of(span, start, end, arc, within, HALVINGS)
        if near is None:
            return None
        worst = max(worst, near)
    if arc is None and bulge:  # drawn as the arc, proved beside its chord
        worst += abs(bulge) * math.dist(start, end) / 2
    return worst if worst <= within else None


def _beside_lines(stretch: Sequence[Rows], start: Point, end: Point, arc: Arc | None) -> float | None:
    """The same bound of many straight spans at once; infinite where one of them does not run along; None beside a line."""
    import numpy as np

    if arc is None:
        return None
    rows = np.array(stretch)
    x, y = rows[:, :, 0] - arc.centre.x, rows[:, :, 1] - arc.centre.y
    turn = (x[:, 0] * y[:, 1] - x[:, 1] * y[:, 0]) * math.copysign(1.0, arc.bulge)
    if float(turn.min()) < 0:
        return math.inf
    ends = np.hypot(x, y)
    # a straight span is farthest from the centre at an end, and nearest at its foot: no nearer than its endless line
    length = np.hypot(x[:, 1] - x[:, 0], y[:, 1] - y[:, 0])
    foot = turn / np.where(length > 0, length, 1.0)
    off = max(float(np.abs(ends - arc.radius).max()), arc.radius - float(foot[length > 0].min(initial=math.inf)))
    return off


def _bound_of(span: Rows, start: Point, end: Point, arc: Arc | None, within: float, halvings: int) -> float | None:
    found = _beside_line(span, start, end) if arc is None else _beside_arc(span, arc)
    if found is not None and found <= within:
        return min(found, _sharper(span, start, end, arc))
    if halvings == 0 or _far(span, start, end, arc, within):
        return None
    worst = 0.0
    for half in _halves(span):
        near = _bound_of(half, start, end, arc, within, halvings - 1)
        if near is None:
            return None
        worst = max(worst, near)
    return worst


def _sharper(span: Rows, start: Point, end: Point, arc: Arc | None) -> float:
    """The bound of a span by that of its quarters: a polynomial's coefficients draw near to it with the square of the length."""
    worst = 0.0
    for half in _halves(span):
        for quarter in _halves(half):
            found = _beside_line(quarter, start, end) if arc is None else _beside_arc(quarter, arc)
            if found is None:
                return math.inf
            worst = max(worst, found)
    return worst


def _far(span: Rows, start: Point, end: Point, arc: Arc | None, within: float) -> bool:
    """Whether one place of the span is too far already, so that no sharper bound can help."""
    for share in (0.0, 0.5, 1.0):
        rows = halfway(span, share)
        x, y = rows[0] / rows[2], rows[1] / rows[2]
        if arc is None:
            length = math.dist(start, end)
            off = abs((end.x - start.x) * (y - start.y) - (end.y - start.y) * (x - start.x)) / length
        else:
            off = abs(math.hypot(x - arc.centre.x, y - arc.centre.y) - arc.radius)
        if off > within + 1e-12:
            return True
    return False


def _beside_line(span: Rows, start: Point, end: Point) -> float | None:
    """The bound beside a line; None where the span does not run along it throughout."""
    import numpy as np

    length = math.dist(start, end)
    ux, uy = (end.x - start.x) / length, (end.y - start.y) / length
    x, y, w = span[:, 0] - start.x * span[:, 2], span[:, 1] - start.y * span[:, 2], span[:, 2]
    along = x * ux + y * uy
    run = _minus(_times(_slope(along), w), _times(along, _slope(w)))
    if float(run.min()) < -1e-12 * float(np.abs(run).max() + 1.0):
        return None
    return float(np.abs(ux * y - uy * x).max() / w.min())


def _beside_arc(span: Rows, arc: Arc) -> float | None:
    """The bound beside an arc; None where the span does not turn about its centre one way throughout."""
    import numpy as np

    x, y, w = span[:, 0] - arc.centre.x * span[:, 2], span[:, 1] - arc.centre.y * span[:, 2], span[:, 2]
    turn = _minus(_times(x, _slope(y)), _times(y, _slope(x))) * math.copysign(1.0, arc.bulge)
    if float(turn.min()) < -1e-12 * float(np.abs(turn).max()):
        return None
    least = float(w.min()) ** 2
    over = (_times(x, x) + _times(y, y) - arc.radius**2 * _times(w, w)) / least
    high, low, square = max(float(over.max()), 0.0), max(-float(over.min()), 0.0), arc.radius**2
    return max(high / (arc.radius + math.sqrt(square + high)), low / (arc.radius + math.sqrt(max(square - low, 0.0))))


@lru_cache(maxsize=256)
def _binomials(degree: int) -> Any:
    import numpy as np

    return np.array([math.comb(degree, k) for k in range(degree + 1)], dtype=float)


def _times(a: Any, b: Any) -> Any:
    """The product of two polynomials in Bernstein form."""
    import numpy as np

    m, n = len(a) - 1, len(b) - 1
    return np.convolve(a * _binomials(m), b * _binomials(n)) / _binomials(m + n)


def _minus(a: Any, b: Any) -> Any:
    return a - b


def _slope(a: Any) -> Any:
    """The derivative in Bernstein form, one degree lower."""
    return (a[1:] - a[:-1]) * (len(a) - 1)


def _halves(span: Rows) -> tuple[Rows, Rows]:
    return clipped(span, 0.0, 0.5), clipped(span, 0.5, 1.0)


def halfway(span: Rows, share: float) -> Any:
    """The row (w x, w y, w) of a span at a parameter from 0 to 1 (de Casteljau)."""
    rows = span
    while len(rows) > 1:
        rows = rows[:-1] + share * (rows[1:] - rows[:-1])
    return rows[0]


def clipped(span: Rows, low: float, high: float) -> Rows:
    """The control points of a part of a span (de Casteljau)."""
    import numpy as np

    if high < 1.0:
        left, rows = [span[0]], span
        while len(rows) > 1:
            rows = rows[:-1] + high * (rows[1:] - rows[:-1])
            left.append(rows[0])
        span = np.array(left)
        low = low / high if high else 0.0
    if low > 0.0:
        right, rows = [span[-1]], span
        while len(rows) > 1:
            rows = rows[:-1] + low * (rows[1:] - rows[:-1])
            right.append(rows[-1])
        span = np.array(right[::-1])
    return span


__all__ = ["Rows", "bound", "clipped", "halfway"]
