"""A loop of pieces as an outline: exact where lines and arcs were drawn, arcs within a proved deviation where curves were.

Terms
-----
far off
    A drawing in the coordinates of a ship or a country has places of many millions; the loop is worked on about its own middle.
first vertex
    The same whatever was drawn first: where the side begins that reaches farthest along the bottom (its rounding before it), or the
    lowest point.
short lines
    A curve that was written as hundreds of straight lines. Up to ``MOST_SIDES`` they stay as they are; beyond, arcs are laid through.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.incoming.biarcs import as_arcs, chain_as_arcs
from geometry.incoming.incoming import IncomingError
from geometry.incoming.units import whole_shift
from geometry.outline.ellipse import ellipse, ellipse_deviation
from geometry.outline.loop import Arc, Line, Outline, OutlineError, Point, Vertex, number, segment_between, segments
from geometry.outline.settle import settled
from geometry.outline.soundness import SHORTEST, crossing_of, sound, turn_at

if TYPE_CHECKING:
    from geometry.incoming.joining import Loop
    from geometry.incoming.pieces import Span
    from geometry.incoming.plane import Plane

MOST_SIDES = 500
"""Sides of an outline, as of a typed one."""
BEND = math.radians(20.0)
"""Turn between two short lines of one curve."""
FEWEST = 8
"""Short lines that make a curve."""
ALIGNED = 1e-9
"""How far an ellipse's axis may be off the drawing's, of its length, and still be along it."""


@dataclass(frozen=True)
class Shaped:
    """An outline in the drawing's own coordinates, mm, with its deviation, mm, its shape, and what was done to it."""

    outline: Outline
    deviation: float = 0.0
    shape: str = ""
    said: tuple[str, ...] = ()


def shaped(loop: Loop, plane: Plane, *, factor: float, within: float) -> Shaped:
    """The outline of a loop in its plane; ``factor`` is mm in a unit, ``within`` how near arcs follow curves, mm.

    Raises ``IncomingError`` where the loop is no outline: it crosses itself, has no area, takes too many sides.
    """
    starts = [plane.flat(piece.start) for piece in loop.pieces]
    x, y = (math.fsum(at[i] for at in starts) / len(starts) * factor for i in (0, 1))
    shift = Point(*whole_shift(x, y))
    try:
        found = _whole_shape(loop, plane, factor, shift, within) or _of_pieces(loop, plane, factor, shift, within)
    except OutlineError as error:
        at = f"at ({x:.1f}, {y:.1f}): " if any(shift) else ""
        raise IncomingError(f"the outline cannot be used: {at}{error}", "") from None
    if any(shift):
        moved = Outline(tuple(Vertex(v.x + shift.x, v.y + shift.y, v.bulge) for v in found.outline.vertices))
        found = Shaped(moved, found.deviation, found.shape, found.said)
    return found


def _whole_shape(loop: Loop, plane: Plane, factor: float, shift: Point, within: float) -> Shaped | None:
    """A circle or an ellipse that was drawn as one."""
    if not loop.shape:
        return None
    (cx, cy), one, two = (plane.flat(axis) for axis in loop.axes)
    cx, cy = cx * factor - shift.x, cy * factor - shift.y
    a, b = math.hypot(*one) * factor, math.hypot(*two) * factor
    if loop.shape == "circle":
        return Shaped(sound((Vertex(cx, cy - a, 1.0), Vertex(cx, cy + a, 1.0))), shape="circle")
    if abs(one[0]) < abs(one[1]) * ALIGNED:  # upright
        wide, high, way = 2 * b, 2 * a, Point(1.0, 0.0)
    else:
        way = Point(1.0, 0.0) if abs(one[1]) < abs(one[0]) * ALIGNED else Point(one[0] * factor / a, one[1] * factor / a)
        wide, high = 2 * a, 2 * b
    wide, high = _clean(wide), _clean(high)
    plain = ellipse(wide, high, tolerance=within)
    vertices = []
    for v in plain.vertices:
        x, y = v.x - wide / 2, v.y - high / 2
        vertices.append(Vertex(cx + x * way.x - y * way.y, cy + x * way.y + y * way.x, v.bulge))
    if way == Point(1.0, 0.0):
        left, bottom = cx - wide / 2, cy - high / 2
        vertices = [Vertex(v.x + left, v.y + bottom, v.bulge) for v in plain.vertices]
        return Shaped(Outline(tuple(vertices)), ellipse_deviation(plain, wide, high), "ellipse")
    return Shaped(_from_the_sill(sound(vertices)), ellipse_deviation(plain, wide, high))


def _clean(size: float) -> float:
    """A size without the last bit that its square root left."""
    near = round(size, 9)
    return near if abs(near - size) < 1e-12 * max(1.0, size) else size


def _of_pieces(loop: Loop, plane: Plane, factor: float, shift: Point, within: float) -> Shaped:
    vertices: list[Vertex] = []
    deviation = 0.0
    for piece in loop.pieces:
        x, y = plane.flat(piece.start)
        start = Point(x * factor - shift.x, y * factor - shift.y)
        if not piece.spans:
            facing = math.fsum(a * b for a, b in zip(piece.normal, plane.normal, strict=True))
            vertices.append(Vertex(*start, math.copysign(piece.bulge, piece.bulge * facing) if piece.bulge else 0.0))
            continue
        fitted = as_arcs([_rows(span, plane, factor, shift) for span in piece.spans], within)
        deviation = max(deviation, fitted.deviation)
        if fitted.vertices:
            vertices.append(Vertex(*start, fitted.vertices[0].bulge))
            vertices += fitted.vertices[1:]
    vertices = _apart(vertices)
    said: tuple[str, ...] = ()
    short = settled(Outline(tuple(vertices))) if len(vertices) > MOST_SIDES else None
    if short is None or len(short.vertices) <= MOST_SIDES:
        outline = _sound(vertices, shift)
    else:
        outline, more = _through_short_lines(short, within, shift)
        deviation = max(deviation, more)
        said = (f"{len(short.vertices)} short sides are drawn as {len(outline.vertices)} lines and arcs",)
        if len(outline.vertices) > MOST_SIDES:
            raise IncomingError(
                f"the outline has {len(outline.vertices)} sides",
                f"at most {MOST_SIDES}",
                "a coarser arcs_within lays arcs through more of its short sides",
                key="arcs_within",
            )
    circle = len(outline.vertices) == 2 and all(v.bulge == 1.0 for v in outline.vertices)
    return Shaped(_from_the_sill(outline), deviation, "circle" if circle and not deviation else "", said)


def _rows(span: Span, plane: Plane, factor: float, shift: Point) -> Span:
    import numpy as np

    x, y, w = span[:, :3] @ np.array(plane.x), span[:, :3] @ np.array(plane.y), span[:, 3]
    return np.column_stack((x * factor - shift.x * w, y * factor - shift.y * w, w))


def _apart(vertices: Sequence[Vertex]) -> list[Vertex]:
    """The vertices without those that fall on the next one."""
    kept = [
        v
        for v, after in zip(vertices, (*vertices[1:], vertices[0]), strict=True)
        if math.hypot(after.x - v.x, after.y - v.y) >= 2 * SHORTEST or abs(v.bulge) > 1e3
    ]
    return kept or list(vertices)


def _sound(vertices: Sequence[Vertex], shift: Point) -> Outline:
    parts = [segment_between(a, b, a.bulge) for a, b in zip(vertices, (*vertices[1:], vertices[0]), strict=True)]
    if len(parts) > 1 and all(math.dist(part.start, part.end) >= SHORTEST for part in parts):
        crossing = crossing_of(parts)
        if crossing is not None:
            first, second, where = crossing
            sides = [
                f"({number(p.x + shift.x)}, {number(p.y + shift.y)})"
                for i in (first, second)
                for p in (parts[i].start, parts[i].end)
            ]
            raise IncomingError(
                f"the outline crosses or touches itself at ({number(where.x + shift.x)}, {number(where.y + shift.y)}): "
                f"the side from {sides[0]} to {sides[1]} meets that from {sides[2]} to {sides[3]}",
                "an outline that runs round once",
            )
    good = sound(vertices)
    whole = settled(good)
    return good if whole is good else sound(whole.vertices)


def _through_short_lines(outline: Outline, within: float, shift: Point) -> tuple[Outline, float]:
    """The outline with arcs laid through its runs of short lines, and their deviation, mm."""
    parts = list(segments(outline))
    count = len(parts)
    breaks = [
        i
        for i, part in enumerate(parts)
        if isinstance(part, Arc) or isinstance(parts[i - 1], Arc) or abs(turn_at(parts[i - 1], part)) > BEND
    ]
    first = breaks[0] if breaks else 0
    parts = parts[first:] + parts[:first]
    starts = [*sorted({(i - first) % count for i in breaks} | {0}), count]
    vertices: list[Vertex] = []
    deviation = 0.0
    for low, high in itertools.pairwise(starts):
        run = parts[low:high]
        if high - low < FEWEST or not all(isinstance(part, Line) for part in run):
            vertices += [Vertex(*part.start, part.bulge) for part in run]
            continue
        fitted = chain_as_arcs([*(part.start for part in run), run[-1].end], within)
        vertices += fitted.vertices
        deviation = max(deviation, fitted.deviation)
    return _sound(_apart(vertices), shift), deviation


def _from_the_sill(outline: Outline) -> Outline:
    """The same outline with its first vertex where the lowest side begins."""
    vertices, parts = outline.vertices, segments(outline)
    reach = [
        (round(part.end.x - part.start.x, 4), -round(part.start.y, 4), -round(part.start.x, 4), i)
        for i, part in enumerate(parts)
        if isinstance(part, Line) and part.end.x - part.start.x > 1e-4
    ]
    if reach:
        first = max(reach)[3]
        before, after = parts[first - 1], parts[first]
        lead = parts[first - 2]
        if (
            isinstance(before, Arc)
            and isinstance(lead, Line)
            and len(parts) > 2
            and abs(turn_at(before, after)) < 1e-4
            and abs(turn_at(lead, before)) < 1e-4
        ):
            first -= 1
    else:
        first = min(range(len(vertices)), key=lambda i: (round(vertices[i].y, 4), round(vertices[i].x, 4)))
    first %= len(vertices)
    return Outline((*vertices[first:], *vertices[:first]))


__all__ = ["MOST_SIDES", "Shaped", "shaped"]
