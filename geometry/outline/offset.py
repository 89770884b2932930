"""Parallel curves with true arcs, proven, or a sentence that says why there is none.

Terms
-----
parallel curve
    The curve at one distance from an outline, outwards (positive) or inwards (negative); convex corners get arcs outwards.
proof
    Every vertex and many places of the result lie at the distance from the original, and none lies nearer.

Where no part of the outline is used up the curve follows in closed form; every other case is made by cadquery's ``Wire.offset2D``. Both go
through the same proof.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from geometry.outline.loop import Arc, Line, Outline, OutlineError, Point, Segment, Vertex, number, place, segments
from geometry.outline.measure import area
from geometry.outline.stations import nearest_station, places_along, point_in

if TYPE_CHECKING:
    from collections.abc import Iterable

PROOF = 1e-6  # mm
SHORT = 1e-7  # mm; shorter segments are dropped


class OffsetError(OutlineError):
    """A parallel curve that does not exist, with where and why."""


def offset(outline: Outline, distance: float, *, what: str = "the parallel curve") -> Outline:
    """The parallel curve ``distance`` mm outwards (positive) or inwards (negative); ``what`` names it in an error.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> area(offset(rectangle(100, 50), -10)), round(area(offset(circle(20), 5)), 9) == round(math.pi * 225, 9)
    (2400.0, True)
    >>> offset(rectangle(100, 50), -25, what="the bead")
    Traceback (most recent call last):
    geometry.outline.offset.OffsetError: the bead cannot run 25 mm inside this outline: it is only 50 mm wide near (25, 25)

    Raises
    ------
    OffsetError
        When there is no such curve, or it would fall into several parts.
    """
    if not math.isfinite(distance):
        raise OffsetError(f"{what}: the distance is {distance}, it must be a finite number of millimetres")
    if distance == 0.0:
        return outline
    found = _offset(outline, distance)
    if found is None:
        raise OffsetError(_why(outline, distance, what))
    return found


@lru_cache(maxsize=1024)
def _offset(outline: Outline, distance: float) -> Outline | None:
    closed_form = _in_closed_form(outline, distance)
    if closed_form is not None and _proven(outline, closed_form, distance):
        return closed_form
    solid = _by_cadquery(outline, distance)
    if solid is not None and _proven(outline, solid, distance):
        return solid
    return None


def _proven(outline: Outline, result: Outline, distance: float) -> bool:
    """Whether every place looked at lies at the distance, on the right side, and the two enclose what they must."""
    if area(result) <= 1e-6 or (area(result) - area(outline)) * distance <= 0:
        return False
    reach = abs(distance)
    for spot in places_along(result, spacing=max(25.0, reach)):
        if abs(math.dist(nearest_station(outline, spot).point, spot) - reach) > PROOF:
            return False
    one = Point(result.vertices[0].x, result.vertices[0].y)
    return point_in(outline, one) == (distance < 0)


def _in_closed_form(outline: Outline, distance: float) -> Outline | None:
    """Every segment moved along its normal and joined to its neighbours; None where a segment would be used up or turn round."""
    parts = _without_vanished(segments(outline), distance)
    if parts is None:
        return None
    moved: list[Segment] = []
    for part in parts:
        way_in, way_out = part.tangent_at(0), part.tangent_at(1)
        start = Point(part.start.x + distance * way_in.y, part.start.y - distance * way_in.x)
        end = Point(part.end.x + distance * way_out.y, part.end.y - distance * way_out.x)
        if isinstance(part, Arc):
            if part.radius + math.copysign(distance, distance * part.bulge) <= PROOF and distance * part.bulge < 0:
                return None
            moved.append(Arc(start, end, part.bulge))
        else:
            moved.append(Line(start, end))
    joined = _joined(parts, moved, distance)
    if joined is None:
        return None
    vertices = [Vertex(part.start.x, part.start.y, part.bulge) for part in joined]
    return _normal(vertices)


def _without_vanished(parts: tuple[Segment, ...], distance: float) -> tuple[Segment, ...] | None:
    """The segments with the arcs that the offset uses up taken back to the sharp corner of their neighbouring lines."""
    gone = [isinstance(part, Arc) and part.bulge * distance < 0 and part.radius <= abs(distance) + PROOF for part in parts]
    if not any(gone):
        return parts
    count = len(parts)
    starts: dict[int, Point] = {}
    ends: dict[int, Point] = {}
    for index, vanished in enumerate(gone):
        if not vanished:
            continue
        before, after = (index - 1) % count, (index + 1) % count
        one, other = parts[before], parts[after]
        if not (isinstance(one, Line) and isinstance(other, Line)):
            return None
        sharp = _meet(one, other)
        if sharp is None:
            return None
        ends[before], starts[after] = sharp, sharp
    kept: list[Segment] = []
    for index, part in enumerate(parts):
        if gone[index]:
            continue
        if isinstance(part, Line):
            kept.append(Line(starts.get(index, part.start), ends.get(index, part.end)))
        else:
            kept.append(part)
    return tuple(kept)


def _meet(one: Line, other: Line) -> Point | None:
    d, e = one.tangent_at(0), other.tangent_at(0)
    cross = d.x * e.y - d.y * e.x
    if abs(cross) < 1e-12:
        return None
    px, py = other.start.x - one.start.x, other.start.y - one.start.y
    along = (px * e.y - py * e.x) / cross
    return Point(one.start.x + along * d.x, one.start.y + along * d.y)


def _joined(parts: tuple[Segment, ...], moved: list[Segment], distance: float) -> list[Segment] | None:
    """Moved segments with their ends brought together: by an arc where they gape, by their meeting where they cross."""
    count = len(moved)
    trimmed: list[Segment] = list(moved)
    arcs: dict[int, Segment] = {}
    for index in range(count):
        following = (index + 1) % count
        one, other = moved[index], moved[following]
        if math.dist(one.end, other.start) <= SHORT:
            continue
        before, after = parts[index].tangent_at(1), parts[following].tangent_at(0)
        turn = math.atan2(before.x * after.y - before.y * after.x, before.x * after.x + before.y * after.y)
        if turn * distance > 0:
            arcs[index] = Arc(one.end, other.start, math.tan(turn / 4))
            continue
        if not (isinstance(one, Line) and isinstance(other, Line)):
            return None
        sharp = _meet(one, other)
        if sharp is None:
            return None
        left, right = trimmed[index], trimmed[following]
        trimmed[index] = Line(left.start, sharp)
        trimmed[following] = Line(sharp, right.end)
    result: list[Segment] = []
    for index, (part, original) in enumerate(zip(trimmed, moved, strict=True)):
        if isinstance(part, Line):
            way = original.tangent_at(0)
            if (part.end.x - part.start.x) * way.x + (part.end.y - part.start.y) * way.y <= PROOF:
                return None
        result.append(part)
        if index in arcs:
            result.append(arcs[index])
    return result


def _normal(vertices: list[Vertex]) -> Outline | None:
    """Short segments dropped; None where fewer than two vertices are left."""
    count = len(vertices)
    kept = [v for i, v in enumerate(vertices) if math.dist(v[:2], vertices[(i + 1) % count][:2]) > SHORT or abs(v.bulge) > 1e3]
    return Outline(tuple(kept)) if len(kept) >= 2 else None


def _by_cadquery(outline: Outline, distance: float) -> Outline | None:
    """The parallel curve by cadquery: exactly one closed wire of lines and arcs, or None."""
    import cadquery as cq

    edges = []
    for part in segments(outline):
        ends = cq.Vector(*part.start), cq.Vector(*part.end)
        if isinstance(part, Arc):
            edges.append(cq.Edge.makeThreePointArc(ends[0], cq.Vector(*part.point_at(0.5)), ends[1]))
        else:
            edges.append(cq.Edge.makeLine(*ends))
    wire = cq.Wire.assembleEdges(edges)
    try:
        wires = wire.offset2D(distance, "arc")
    except ValueError:  # "Null TopoDS_Shape object": nothing is left at this distance
        return None
    whole = [w for w in wires if w.IsClosed() and len(w.Edges()) >= 2 and _wire_area(cq, w) > 1e-6]
    if len(wires) != 1 or len(whole) != 1:
        single = len(wires) == 1 and len(wires[0].Edges()) == 1 and wires[0].IsClosed()
        if not single:
            return None
        whole = list(wires)
    return _from_wire(whole[0])


def _wire_area(cq: Any, wire: Any) -> float:
    return float(cq.Face.makeFromWires(wire).Area())


def _from_wire(wire: Any) -> Outline | None:
    pieces: list[tuple[Point, Point, Point, bool]] = []
    for edge in wire:  # in connection order, unlike Edges()
        if edge.geomType() not in ("LINE", "CIRCLE"):
            return None
        a, m, b = (edge.positionAt(fraction) for fraction in (0.0, 0.5, 1.0))
        if edge.geomType() == "CIRCLE" and edge.IsClosed():
            q, r = edge.positionAt(0.25), edge.positionAt(0.75)
            pieces += [
                (Point(a.x, a.y), Point(q.x, q.y), Point(m.x, m.y), True),
                (Point(m.x, m.y), Point(r.x, r.y), Point(b.x, b.y), True),
            ]
        else:
            pieces.append((Point(a.x, a.y), Point(m.x, m.y), Point(b.x, b.y), edge.geomType() == "CIRCLE"))
    if len(pieces) > 1:
        pieces = _chained(pieces)
    vertices = [Vertex(a.x, a.y, _bulge(a, m, b) if curved else 0.0) for a, m, b, curved in pieces]
    turned = _signed(vertices)
    if turned < 0:
        vertices = [Vertex(b.x, b.y, -_bulge(a, m, b) if curved else 0.0) for a, m, b, curved in reversed(pieces)]
    lowest = min(range(len(vertices)), key=lambda i: (round(vertices[i].y, 6), round(vertices[i].x, 6)))
    return _normal(vertices[lowest:] + vertices[:lowest])


def _chained(pieces: list[tuple[Point, Point, Point, bool]]) -> list[tuple[Point, Point, Point, bool]]:
    """Each piece turned so that it starts where the one before it ended."""
    a, m, b, curved = pieces[0]
    following = pieces[1]
    if min(math.dist(a, following[0]), math.dist(a, following[2])) < min(math.dist(b, following[0]), math.dist(b, following[2])):
        a, b = b, a
    found = [(a, m, b, curved)]
    for start, middle, end, bent in pieces[1:]:
        last = found[-1][2]
        if math.dist(end, last) < math.dist(start, last):
            start, end = end, start
        found.append((last, middle, end, bent))
    return found


def _bulge(a: Point, m: Point, b: Point) -> float:
    """Bulge of the arc from a over m to b."""
    chord = math.dist(a, b)
    across = (b.x - a.x) * (m.y - a.y) - (b.y - a.y) * (m.x - a.x)
    sagitta = math.hypot(m.x - (a.x + b.x) / 2, m.y - (a.y + b.y) / 2)
    return math.copysign(2 * sagitta / chord, -across)


def _signed(vertices: Iterable[Vertex]) -> float:
    return area(Outline(tuple(vertices)))


def _why(outline: Outline, distance: float, what: str) -> str:
    """The sentence for a parallel curve that does not exist."""
    reach = abs(distance)
    if distance > 0:
        return f"{what} cannot run {number(reach)} mm outside this outline: the outline closes on itself, or a re-entrant part is too tight"
    from geometry.outline.regions import to_polygon, widest_place

    polygon = to_polygon(outline, sagitta=0.01)
    left = polygon.buffer(-reach, quad_segs=32)
    start = f"{what} cannot run {number(reach)} mm inside this outline"
    if left.is_empty or left.area < 1e-3:
        spot, half = widest_place(outline)
        return f"{start}: it is only {number(round(2 * half, 1))} mm wide near {place(*spot)}"
    if left.geom_type == "MultiPolygon":
        spot, wide = _neck(polygon, reach)
        return f"{start}: it would fall into {len(left.geoms)} parts at the neck near {place(*spot)}, which is {number(round(wide, 1))} mm wide"
    sharp = min(outline.vertices, key=lambda v: left.exterior.distance(_as_point(v)) * -1)
    return f"{start}: the corner at {place(sharp.x, sharp.y)} is too sharp"


def _as_point(vertex: Vertex) -> Any:
    import shapely

    return shapely.Point(vertex.x, vertex.y)


def _neck(polygon: Any, reach: float) -> tuple[Point, float]:
    """Place and width of the neck: where the largest offset in one piece lets go."""
    import shapely

    low, high = 0.0, reach
    for _ in range(40):
        middle = (low + high) / 2
        if polygon.buffer(-middle, quad_segs=32).geom_type == "MultiPolygon":
            high = middle
        else:
            low = middle
    parts = sorted(polygon.buffer(-high, quad_segs=32).geoms, key=lambda part: -part.area)
    one, other = shapely.ops.nearest_points(parts[0], parts[1])
    return Point((one.x + other.x) / 2, (one.y + other.y) / 2), 2 * high
