"""The edges of a face of a STEP file as exact pieces: lines, arcs of circles, and spans of ellipses and splines (ISO 10303-42).

Terms
-----
edge
    The stretch of a curve from one vertex to another; ``same sense`` where it runs as its curve does.
off
    How far a vertex lies from the curve that ends in it, mm.
"""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING, Any

from geometry.incoming.bernstein import clipped, halfway
from geometry.incoming.incoming import IncomingError
from geometry.incoming.pieces import Piece, Place
from geometry.incoming.solid_parts import axes_of, place_of
from geometry.incoming.solid_text import Reference, StepText
from geometry.incoming.splines import ellipse_spans, spline_spans

if TYPE_CHECKING:
    from geometry.incoming.moves import Move
    from geometry.incoming.pieces import Span

OFF = 0.05
"""mm that a vertex may lie off its curve: as far as loose ends of a drawing are joined."""
CLOSES = 1e-6
"""mm within which both ends of an edge are one place."""
CURVES_ON_SURFACES = ("SURFACE_CURVE", "SEAM_CURVE", "INTERSECTION_CURVE")
B_SPLINES = ("B_SPLINE_CURVE_WITH_KNOTS", "BEZIER_CURVE", "QUASI_UNIFORM_CURVE", "UNIFORM_CURVE", "B_SPLINE_CURVE")
LOOKS = 64
"""Places of a span at which the nearest to a vertex is looked for."""


class Edge:
    """One edge: its pieces in the direction of the loop; ``axes`` its centre and half axes where it is a full circle or ellipse.

    ``off`` is how far an end lies off the curve, mm.
    """

    def __init__(self, pieces: tuple[Piece, ...], shape: str = "", axes: tuple[Place, ...] = (), off: float = 0.0) -> None:
        self.pieces, self.shape, self.axes, self.off = pieces, shape, axes, off

    def reversed(self) -> Edge:
        """The same edge run the other way."""
        return Edge(tuple(piece.reversed() for piece in reversed(self.pieces)), self.shape, self.axes, self.off)


def edge_of(step: StepText, number: Any, factor: float) -> Edge:
    """An oriented edge, mm in the axes of its part. Raises ``IncomingError`` where its curve is of a kind that no outline has."""
    args = step.of(number, "ORIENTED_EDGE", 5)
    found = _edge_curve(step, args[3], factor)
    return found if args[4] != "F" else found.reversed()


def _edge_curve(step: StepText, number: Any, factor: float) -> Edge:
    args = step.of(number, "EDGE_CURVE", 5)
    start, end = (place_of(step, step.of(vertex, "VERTEX_POINT", 2)[1], factor) for vertex in args[1:3])
    if args[4] == "F":
        return _along(step, args[3], end, start, factor, args[1] == args[2]).reversed()
    return _along(step, args[3], start, end, factor, args[1] == args[2])


def _along(step: StepText, curve: Any, start: Place, end: Place, factor: float, one_vertex: bool) -> Edge:
    """The stretch of a curve between two places on it, in the curve's own direction."""
    kinds = step.at(curve) if isinstance(curve, Reference) else {}
    closes = one_vertex or start == end
    for kind, args in kinds.items():
        if kind == "TRIMMED_CURVE" and step.of(curve, kind, 5)[4] == "F":  # it runs against the curve that it is a part of
            return _along(step, args[1], end, start, factor, one_vertex).reversed()
        if kind in CURVES_ON_SURFACES or kind == "TRIMMED_CURVE":
            return _along(step, step.of(curve, kind, 2)[1], start, end, factor, one_vertex)
        if kind == "LINE":
            return Edge((Piece(start, end),))
        if kind == "CIRCLE":
            radius = _length(step, curve, args, 2, factor)
            return _round(step, curve, args[1], (radius, radius), (start, end), closes, factor)
        if kind == "ELLIPSE":
            axes = (_length(step, curve, args, 2, factor), _length(step, curve, args, 3, factor))
            return _round(step, curve, args[1], axes, (start, end), closes, factor)
        if kind == "POLYLINE":
            places = [place_of(step, each, factor) for each in step.of(curve, kind, 2)[1]]
            return Edge(tuple(Piece(*pair) for pair in itertools.pairwise(places)))
    if any(kind in kinds for kind in B_SPLINES):
        return _spline(step, curve, start, end, closes, factor)
    kind = " ".join(kinds).lower().replace("_", " ")
    raise IncomingError(
        f"an edge of the face in {step.name}, #{curve}, runs along a {kind or 'curve that is missing'}",
        "lines, circles, ellipses and splines",
    )


def _length(step: StepText, number: Any, args: tuple[Any, ...], place: int, factor: float) -> float:
    value = args[place] if len(args) > place else None
    if not isinstance(value, float) or not 0 < value * factor < 1e9:
        raise step.damaged(f"the curve #{number} has no radius")
    return float(value * factor)


def _round(
    step: StepText,
    number: Any,
    placement: Any,
    sizes: tuple[float, float],
    ends: tuple[Place, Place],
    closes: bool,
    factor: float,
) -> Edge:
    """A stretch of a circle or an ellipse, counter-clockwise about its axis."""
    axes = axes_of(step, placement, factor)
    angles = [_angle(axes, sizes, at) for at in ends]
    off = max(_near(step, number, at, _on(axes, sizes, angle)) for at, angle in zip(ends, angles, strict=True))
    sweep = 2 * math.pi if closes else (angles[1] - angles[0]) % (2 * math.pi)
    x, y, normal, centre = axes.rows
    halves = (_times(x, sizes[0]), _times(y, sizes[1]))
    if sizes[0] != sizes[1]:
        spans = tuple(ellipse_spans(centre, *halves, angles[0], sweep))
        longer, shorter = halves if sizes[0] > sizes[1] else (halves[1], halves[0])
        shape = "ellipse" if closes else ""
        return Edge((Piece(ends[0], ends[0] if closes else ends[1], spans=spans),), shape, (centre, longer, shorter), off)
    if closes:  # two halves, as a drawing has them
        other = _on(axes, sizes, angles[0] + math.pi)
        pieces = (Piece(ends[0], other, 1.0, normal), Piece(other, ends[0], 1.0, normal))
        return Edge(pieces, "circle", (centre, *halves), off)
    count = 2 if sweep > math.pi + 1e-9 else 1
    places = [ends[0], *([_on(axes, sizes, angles[0] + sweep / 2)] if count == 2 else []), ends[1]]
    bulge = _bulge_of(sweep / count)
    return Edge(tuple(Piece(a, b, bulge, normal) for a, b in itertools.pairwise(places)), off=off)


def _bulge_of(sweep: float) -> float:
    """The bulge of an arc; exact for half and a quarter of a turn, to which the figures of a file come near."""
    for exact, bulge in ((math.pi, 1.0), (math.pi / 2, 1.0 / (1.0 + math.sqrt(2.0)))):
        if abs(sweep - exact) < 1e-12:
            return bulge
    return math.tan(sweep / 4)


def _times(way: Place, length: float) -> Place:
    return way[0] * length, way[1] * length, way[2] * length


def _angle(axes: Move, sizes: tuple[float, float], at: Place) -> float:
    x, y, _, centre = axes.rows
    off = [a - b for a, b in zip(at, centre, strict=True)]
    along, up = (math.fsum(a * b for a, b in zip(off, axis, strict=True)) for axis in (x, y))
    return math.atan2(up / sizes[1], along / sizes[0])


def _on(axes: Move, sizes: tuple[float, float], angle: float) -> Place:
    return axes.place((sizes[0] * math.cos(angle), sizes[1] * math.sin(angle), 0.0))


def _near(step: StepText, number: Any, at: Place, on: Place) -> float:
    """How far an end lies off its curve, mm; raises ``IncomingError`` where that is no rounding."""
    off = math.dist(at, on)
    if off > OFF:
        raise IncomingError(
            f"{step.name}: an edge of the face ends at ({at[0]:.3f}, {at[1]:.3f}, {at[2]:.3f}) mm in its part, {off:.3g} mm off its curve #{number}",
            f"ends no more than {OFF:g} mm off",
        )
    return off


def _spline(step: StepText, number: Any, start: Place, end: Place, closes: bool, factor: float) -> Edge:
    spans, off = spline_of(step, number, factor), 0.0
    first, last = _at(spans[0], 0.0), _at(spans[-1], 1.0)
    if math.dist(first, start) > CLOSES or math.dist(last, end) > CLOSES:
        begins, ends = _nearest(spans, start), _nearest(spans, end)
        off = max(_near(step, number, at, _at(spans[place[0]], place[1])) for place, at in ((begins, start), (ends, end)))
        round_ = math.dist(first, last) <= CLOSES
        if closes or (ends <= begins and round_):
            spans = [*_part(spans, begins, (len(spans) - 1, 1.0)), *_part(spans, (0, 0.0), ends)]
        elif ends <= begins:
            raise step.damaged(f"an edge runs against its curve #{number}")
        else:
            spans = _part(spans, begins, ends)
    if all(len(span) == 2 for span in spans):  # straight throughout
        return Edge(tuple(Piece(_at(span, 0.0), _at(span, 1.0)) for span in spans), off=off)
    return Edge((Piece(start, start if closes else end, spans=tuple(spans)),), off=off)


def _part(spans: list[Span], low: tuple[int, float], high: tuple[int, float]) -> list[Span]:
    """The spans from one place to another, each a number and a share."""
    found = []
    for index in range(low[0], high[0] + 1):
        least = low[1] if index == low[0] else 0.0
        most = high[1] if index == high[0] else 1.0
        if most - least > 1e-12:
            found.append(clipped(spans[index], least, most))
    return found


def _at(span: Span, share: float) -> Place:
    x, y, z, w = (float(value) for value in halfway(span, share))
    return x / w, y / w, z / w


def _nearest(spans: list[Span], at: Place) -> tuple[int, float]:
    """The span and the share of it where a place lies nearest."""
    looked = [
        (math.dist(_at(span, share / LOOKS), at), index, share / LOOKS)
        for index, span in enumerate(spans)
        for share in range(LOOKS + 1)
    ]
    _, index, share = min(looked)
    low, high = max(0.0, share - 1 / LOOKS), min(1.0, share + 1 / LOOKS)
    for _ in range(60):  # thirds: the distance has one least value so near to it
        one, two = low + (high - low) / 3, high - (high - low) / 3
        if math.dist(_at(spans[index], one), at) <= math.dist(_at(spans[index], two), at):
            high = two
        else:
            low = one
    middle = (low + high) / 2
    best = min((low, middle, high, share), key=lambda each: math.dist(_at(spans[index], each), at))
    return index, 0.0 if best < 1e-9 else 1.0 if best > 1 - 1e-9 else best


def spline_of(step: StepText, number: Any, factor: float) -> list[Span]:
    """A spline as spans, mm (ISO 10303-42, b_spline_curve and its kinds)."""
    kinds = step.at(number)
    own = kinds.get("B_SPLINE_CURVE", ())  # of several types, each with its own attributes; else all of them in one
    kind = next((kind for kind in B_SPLINES if kind in kinds), "")
    args = own or kinds[kind][1:]
    knotted = kinds.get("B_SPLINE_CURVE_WITH_KNOTS", ())
    if len(args) < 2 or not isinstance(args[0], float) or not isinstance(args[1], tuple):
        raise step.damaged(f"the spline #{number} cannot be read")
    degree = int(args[0])
    points = [place_of(step, each, factor) for each in args[1]]
    rational = kinds.get("RATIONAL_B_SPLINE_CURVE", ((),))[0] or ()
    weights = [float(each) for each in rational]
    if knotted:
        counts, values = (knotted[:2] if own else knotted[6:8]) if len(knotted) >= (2 if own else 8) else ((), ())
        if len(counts) != len(values) or any(not 0 < each <= 1000 for each in counts):
            raise step.damaged(f"the knots of the spline #{number} cannot be read")
        knots = [float(value) for count, value in zip(counts, values, strict=True) for _ in range(int(count))]
    else:
        knots = _implied(kind, len(points), degree)
    return spline_spans(points, weights, knots, degree)


def _implied(kind: str, count: int, degree: int) -> list[float]:
    """The knots that a kind of spline has without saying so."""
    if kind == "UNIFORM_CURVE":
        return [float(value) for value in range(-degree, count + 1)]
    if kind == "BEZIER_CURVE" and degree > 0:
        inner = [float(value) for value in range(1, (count - 1) // degree) for _ in range(degree)]
        return [0.0] * (degree + 1) + inner + [float(max(1, (count - 1) // degree))] * (degree + 1)
    inner = [float(value) for value in range(1, count - degree)]
    return [0.0] * (degree + 1) + inner + [float(max(1, count - degree))] * (degree + 1)


__all__ = ["Edge", "edge_of", "spline_of"]
