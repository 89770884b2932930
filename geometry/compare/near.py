"""The places of an outline that lie nearest to many points at once, exact for lines and arcs.

Terms
-----
foot
    The place of the outline nearest to a point.
signed distance
    mm from the outline to a point, positive outside, negative inside.
spread
    Places along an outline, every vertex among them, with the segment each lies on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from geometry.outline.loop import Arc, Outline, Point, segments
from geometry.outline.meet import box_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

AT_ONCE = 400_000
"""Pairs of point and segment that are looked at together."""


@dataclass(frozen=True, slots=True)
class Near:
    """Of every point: its signed distance, mm, its foot, the outward unit vector there, the segment of the foot and how far along it."""

    distance: Floats
    foot: Floats
    outward: Floats
    segment: NDArray[np.int64]
    share: Floats  # of the segment's length


@dataclass(frozen=True, slots=True)
class Spread:
    """Places along an outline: x and y, the segment each lies on, and its length along from the first vertex, mm."""

    places: Floats
    segment: NDArray[np.int64]
    along: Floats


@dataclass(frozen=True, slots=True)
class _Traced:
    """The segments of an outline as arrays, one entry each; those of arcs have a centre and a radius, those of lines nan."""

    start: Floats
    end: Floats
    arc: NDArray[np.bool_]
    centre: Floats
    radius: Floats
    middle: Floats  # unit vector from the centre to the middle of the arc
    half: Floats  # half of the angle that it turns through, radians
    turn: Floats  # +1 to the left, -1 to the right
    normals: Floats  # outward at the start of each segment, halfway between the one before and its own


@lru_cache(maxsize=64)
def _traced(outline: Outline) -> _Traced:
    parts = segments(outline)
    arcs = [part if isinstance(part, Arc) else None for part in parts]
    middles = [part.point_at(0.5) for part in parts]
    ways_in = [part.tangent_at(1.0) for part in parts]
    ways_out = [part.tangent_at(0.0) for part in parts]
    normals = [
        (before.y + after.y, -(before.x + after.x)) for before, after in zip([ways_in[-1], *ways_in[:-1]], ways_out, strict=True)
    ]
    nan = (math.nan, math.nan)
    middle = [
        nan if arc is None else ((at.x - arc.centre.x) / arc.radius, (at.y - arc.centre.y) / arc.radius)
        for arc, at in zip(arcs, middles, strict=True)
    ]
    return _Traced(
        start=np.array([part.start for part in parts], dtype=float),
        end=np.array([part.end for part in parts], dtype=float),
        arc=np.array([arc is not None for arc in arcs]),
        centre=np.array([nan if arc is None else arc.centre for arc in arcs], dtype=float),
        radius=np.array([math.nan if arc is None else arc.radius for arc in arcs]),
        middle=np.array(middle, dtype=float),
        half=np.array([math.nan if arc is None else abs(arc.sweep) / 2.0 for arc in arcs]),
        turn=np.array([math.copysign(1.0, part.bulge) if part.bulge else 0.0 for part in parts]),
        normals=np.array(normals, dtype=float),
    )


def nearest(outline: Outline, places: Floats) -> Near:
    """The nearest places of an outline to points, an array of n × 2, mm.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> nearest(rectangle(100, 50), np.array([[50.0, 10.0], [103.0, -4.0]])).distance.tolist()
    [-10.0, 5.0]
    >>> nearest(circle(20), np.array([[10.0, 25.0]])).foot.tolist()
    [[10.0, 20.0]]
    """
    traced = _traced(outline)
    step = max(1, AT_ONCE // len(traced.start))
    parts = [_nearest(traced, places[first : first + step]) for first in range(0, len(places), step)]
    if len(parts) == 1:
        return parts[0]
    return Near(
        np.concatenate([part.distance for part in parts]),
        np.concatenate([part.foot for part in parts]),
        np.concatenate([part.outward for part in parts]),
        np.concatenate([part.segment for part in parts]),
        np.concatenate([part.share for part in parts]),
    )


def _nearest(traced: _Traced, places: Floats) -> Near:
    count, many = len(places), len(traced.start)
    gap, share = np.empty((count, many)), np.empty((count, many))
    for rows, on in ((traced.arc, _on_arcs), (~traced.arc, _on_lines)):
        if rows.any():
            gap[:, rows], share[:, rows] = on(traced, rows, places)
    chosen = np.argmin(gap, axis=1)
    every = np.arange(count)
    at = share[every, chosen]
    foot, outward = _foot(traced, chosen, at)
    side = np.sign(np.einsum("ij,ij->i", places - foot, outward))
    return Near(np.where(side < 0, -1.0, 1.0) * gap[every, chosen], foot, outward, chosen, at)


def _on_lines(traced: _Traced, rows: NDArray[np.bool_], places: Floats) -> tuple[Floats, Floats]:
    """Distance of every place to every straight segment, and the share of its length at which the foot lies."""
    start, way = traced.start[rows], traced.end[rows] - traced.start[rows]
    off = places[:, None, :] - start[None, :, :]
    share = np.clip((off * way).sum(axis=2) / (way * way).sum(axis=1), 0.0, 1.0)
    rest = off - share[:, :, None] * way[None, :, :]
    return np.hypot(rest[:, :, 0], rest[:, :, 1]), share


def _on_arcs(traced: _Traced, rows: NDArray[np.bool_], places: Floats) -> tuple[Floats, Floats]:
    """The same of every arc."""
    off = places[:, None, :] - traced.centre[rows][None, :, :]
    middle, half, radius = traced.middle[rows], traced.half[rows], traced.radius[rows]
    along = (off * middle).sum(axis=2)
    beside = middle[None, :, 0] * off[:, :, 1] - middle[None, :, 1] * off[:, :, 0]
    angle = np.arctan2(beside, along) * traced.turn[rows]
    inside = np.abs(angle) <= half
    before = np.hypot(*np.moveaxis(places[:, None, :] - traced.start[rows][None, :, :], 2, 0))
    behind = np.hypot(*np.moveaxis(places[:, None, :] - traced.end[rows][None, :, :], 2, 0))
    at_end = np.where(before <= behind, 0.0, 1.0)
    gap = np.where(inside, np.abs(np.hypot(along, beside) - radius), np.minimum(before, behind))
    return gap, np.where(inside, 0.5 + angle / (2.0 * half), at_end)


def _foot(traced: _Traced, chosen: NDArray[np.int64], share: Floats) -> tuple[Floats, Floats]:
    """The feet on the chosen segments and the outward unit vectors there; at a joint halfway between its two segments."""
    start, end = traced.start[chosen], traced.end[chosen]
    way = end - start
    foot = start + share[:, None] * way
    outward = np.stack((way[:, 1], -way[:, 0]), axis=1)
    arcs = traced.arc[chosen]
    if arcs.any():
        rows = chosen[arcs]
        angle = (share[arcs] - 0.5) * 2.0 * traced.half[rows] * traced.turn[rows]
        middle = traced.middle[rows]
        cosine, sine = np.cos(angle), np.sin(angle)
        from_centre = np.stack((middle[:, 0] * cosine - middle[:, 1] * sine, middle[:, 0] * sine + middle[:, 1] * cosine), axis=1)
        foot[arcs] = traced.centre[rows] + traced.radius[rows][:, None] * from_centre
        outward[arcs] = from_centre * traced.turn[rows][:, None]
    first, last = share <= 0.0, share >= 1.0
    foot[first], foot[last] = start[first], end[last]
    following = (chosen + 1) % len(traced.start)
    outward[first], outward[last] = traced.normals[chosen[first]], traced.normals[following[last]]
    length = np.hypot(outward[:, 0], outward[:, 1])
    return foot, outward / np.where(length > 0, length, 1.0)[:, None]


def spread(outline: Outline, *, spacing: float, least: int = 1) -> Spread:
    """Every vertex, and places between not over ``spacing`` mm apart; at least ``least`` equal steps on each segment, four on an arc.

    >>> from geometry.outline.shapes import rectangle
    >>> spread(rectangle(20, 10), spacing=10).places.tolist()[:3]
    [[0.0, 0.0], [10.0, 0.0], [20.0, 0.0]]
    """
    places: list[tuple[float, float]] = []
    numbers: list[int] = []
    along: list[float] = []
    so_far = 0.0
    for number, part in enumerate(segments(outline)):
        count = max(least, 4 if isinstance(part, Arc) else 1, math.ceil(part.length / spacing - 1e-9))
        places += [part.point_at(step / count) for step in range(count)]
        numbers += [number] * count
        along += [so_far + part.length * step / count for step in range(count)]
        so_far += part.length
    return Spread(np.array(places, dtype=float), np.array(numbers, dtype=np.int64), np.array(along))


def evenly(outline: Outline, count: int) -> Floats:
    """``count`` places at equal steps of length along an outline, from its first vertex.

    >>> from geometry.outline.shapes import rectangle
    >>> evenly(rectangle(20, 10), 6).tolist()[:3]
    [[0.0, 0.0], [10.0, 0.0], [20.0, 0.0]]
    """
    parts = segments(outline)
    lengths = np.array([part.length for part in parts])
    ends = np.cumsum(lengths)
    wanted = np.arange(count) * (ends[-1] / count)
    chosen = np.minimum(np.searchsorted(ends, wanted, side="right"), len(parts) - 1)
    shares = 1.0 - (ends[chosen] - wanted) / lengths[chosen]
    return np.array([parts[int(i)].point_at(float(share)) for i, share in zip(chosen, shares, strict=True)], dtype=float)


def point_of(place: Floats) -> Point:
    """A row of an array as a place, mm."""
    return Point(float(place[0]), float(place[1]))


def clean(place: Floats) -> Point:
    """A row of an array as a place, to a millionth of a millimetre: without the last bits, and without a minus before nothing."""
    return Point(round(float(place[0]), 6) + 0.0, round(float(place[1]), 6) + 0.0)


def box_diagonal(outline: Outline) -> float:
    """Diagonal of the box round an outline, mm, of its segments' own boxes."""
    boxes = [box_of(part) for part in segments(outline)]
    return math.hypot(
        max(box[2] for box in boxes) - min(box[0] for box in boxes), max(box[3] for box in boxes) - min(box[1] for box in boxes)
    )


__all__ = ["Near", "Spread", "box_diagonal", "clean", "evenly", "nearest", "point_of", "spread"]
