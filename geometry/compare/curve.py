"""An outline as arrays, and the feet of many places on it at once.

Terms
-----
solid
    The side of an outline that is matter: the inside of a pane, the outside of a recess.
node
    Where the solid stands out: a corner (radius 0), or an arc that bulges out of it (centre and radius). Of two curves that do not
    cross, every nearest pair of places has a node of one of them at an end.
foot
    The nearest place of one segment to a point: between its ends, or at its start; the end of a segment is the start of the next.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

from geometry.outline.loop import Arc, Outline, segments

if TYPE_CHECKING:
    from numpy.typing import NDArray

Floats: TypeAlias = "NDArray[np.float64]"
Flags: TypeAlias = "NDArray[np.bool_]"

SMOOTH = 1e-9
"""Sine of the turn at a vertex up to which the outline runs on smoothly there."""
NOWHERE = 1e-12
"""mm within which two places are one, and have no direction between them."""


@dataclass(frozen=True, slots=True)
class Nodes:
    """Corners and arcs that stand out: centre (K, 2) and radius (K,) mm, middle direction (K, 2) and cosine of half the angle covered."""

    centre: Floats
    radius: Floats
    towards: Floats
    within: Floats


@dataclass(frozen=True, slots=True)
class Curve:
    """The N segments of an outline: ends (N, 2), and of its arcs centre, radius, side (+1 left, -1 right, 0 straight) and range."""

    start: Floats
    end: Floats
    centre: Floats
    radius: Floats
    side: Floats
    middle: Floats
    within: Floats
    way: Floats
    inward: Floats
    turn: Floats

    @property
    def convex(self) -> bool:
        """Whether no corner and no arc turns inwards."""
        return bool(np.all(self.turn >= -SMOOTH) and np.all(self.side >= 0))

    def nodes(self, *, solid_inside: bool) -> Nodes:
        """Where the solid stands out."""
        sense = 1.0 if solid_inside else -1.0
        corner = np.flatnonzero(sense * self.turn >= -SMOOTH)
        arc = np.flatnonzero(sense * self.side > 0)
        return Nodes(
            np.vstack((self.start[corner], self.centre[arc])),
            np.concatenate((np.zeros(len(corner)), self.radius[arc])),
            np.vstack((np.zeros((len(corner), 2)), self.middle[arc])),
            np.concatenate((np.full(len(corner), -2.0), self.within[arc])),
        )

    def support(self, direction: Floats) -> tuple[Floats, Floats]:
        """How far the outline reaches in each of M unit directions (M, 2), mm, and the places where it does (M, 2)."""
        reach = direction @ self.start.T
        best = np.argmax(reach, axis=1)
        rows = np.arange(len(direction))
        far, place = reach[rows, best], self.start[best].copy()
        arcs = np.flatnonzero(self.side > 0)
        if len(arcs):
            round_ = direction @ self.centre[arcs].T + self.radius[arcs]
            round_ = np.where(direction @ self.middle[arcs].T >= self.within[arcs], round_, -np.inf)
            which = np.argmax(round_, axis=1)
            further = round_[rows, which] > far
            far = np.where(further, round_[rows, which], far)
            on_arc = self.centre[arcs[which]] + self.radius[arcs[which], None] * direction
            place = np.where(further[:, None], on_arc, place)
        return far, place


@lru_cache(maxsize=64)
def curve_of(outline: Outline, middle: tuple[float, float] = (0.0, 0.0)) -> Curve:
    """The arrays of an outline, counted from ``middle``, mm."""
    parts = segments(outline)
    start = np.array([part.start for part in parts], dtype=float) - middle
    end = np.roll(start, -1, axis=0)
    side, radius, within = np.zeros(len(parts)), np.zeros(len(parts)), np.full(len(parts), 2.0)
    centre, towards = start.copy(), np.zeros_like(start)
    for i, part in enumerate(parts):
        if isinstance(part, Arc):
            side[i], radius[i] = np.sign(part.bulge), part.radius
            centre[i] = np.subtract(part.centre, middle)
            way = part.tangent_at(0.5)
            towards[i] = (way.y * side[i], -way.x * side[i])
            within[i] = np.cos(abs(part.sweep) / 2)
    lead = np.array([part.tangent_at(0.0) for part in parts])
    trail = np.roll(np.array([part.tangent_at(1.0) for part in parts]), 1, axis=0)
    inward = np.stack((-(lead + trail)[:, 1], (lead + trail)[:, 0]), axis=1)
    size = np.hypot(*inward.T)
    back = size < 1e-9  # a spike turns right back: its inside lies behind it
    inward = np.where(back[:, None], -lead, inward / np.where(back, 1.0, size)[:, None])
    turn = trail[:, 0] * lead[:, 1] - trail[:, 1] * lead[:, 0]
    return Curve(start, end, centre, radius, side, towards, within, lead, inward, turn)


@dataclass(frozen=True, slots=True)
class Feet:
    """The foot of each of K places on each of N segments: place (K, N, 2), distance (K, N), whether at the start, whether at the end."""

    place: Floats
    distance: Floats
    at_start: Flags
    at_end: Flags


def feet(curve: Curve, places: Floats) -> Feet:
    """The feet of K places (K, 2) on every segment."""
    along = curve.end - curve.start
    length2 = np.einsum("ij,ij->i", along, along)
    off = places[:, None, :] - curve.start
    share = np.clip(np.einsum("kij,ij->ki", off, along) / np.where(length2 > 0, length2, 1.0), 0.0, 1.0)
    foot = curve.start + share[..., None] * along
    at_start, at_end = share <= 0.0, share >= 1.0
    arcs = np.flatnonzero(curve.side)
    if len(arcs):
        spoke = places[:, None, :] - curve.centre[arcs]
        size = np.hypot(spoke[..., 0], spoke[..., 1])
        none = size < NOWHERE
        spoke = np.where(none[..., None], curve.middle[arcs], spoke / np.where(none, 1.0, size)[..., None])
        facing = np.einsum("kij,ij->ki", spoke, curve.middle[arcs]) >= curve.within[arcs]
        to_start = _square(places[:, None, :] - curve.start[arcs])
        to_end = _square(places[:, None, :] - curve.end[arcs])
        first = to_start <= to_end
        end = np.where(first[..., None], curve.start[arcs], curve.end[arcs])
        foot[:, arcs] = np.where(facing[..., None], curve.centre[arcs] + curve.radius[arcs, None] * spoke, end)
        at_start[:, arcs], at_end[:, arcs] = ~facing & first, ~facing & ~first
    away = places[:, None, :] - foot
    return Feet(foot, np.hypot(away[..., 0], away[..., 1]), at_start, at_end)


def _square(vectors: Floats) -> Floats:
    return np.asarray(vectors[..., 0] ** 2 + vectors[..., 1] ** 2)


def inward_at(curve: Curve, segment: NDArray[np.int64], foot: Floats, at_start: Flags, at_end: Flags) -> Floats:
    """The inward direction of the outline at feet (K, 2): square to the segment, at a vertex between its two sides."""
    spoke = foot - curve.centre[segment]
    size = np.hypot(spoke[:, 0], spoke[:, 1])
    spoke = spoke / np.where(size > 0, size, 1.0)[:, None]
    along = curve.end[segment] - curve.start[segment]
    along = along / np.hypot(along[:, 0], along[:, 1])[:, None]
    square = np.stack((-along[:, 1], along[:, 0]), axis=1)
    inward = np.where((curve.side[segment] != 0)[:, None], -curve.side[segment][:, None] * spoke, square)
    following = (segment + 1) % len(curve.start)
    inward = np.where(at_start[:, None], curve.inward[segment], inward)
    return np.asarray(np.where(at_end[:, None], curve.inward[following], inward))


def signed_distance(curve: Curve, places: Floats) -> tuple[Floats, Floats]:
    """Distance of K places from an outline, mm, positive inside, and its steepest rise, a unit vector (K, 2)."""
    found = feet(curve, places)
    rows = np.arange(len(places))
    near = np.argmin(found.distance, axis=1)
    foot, apart = found.place[rows, near], found.distance[rows, near]
    inward = inward_at(curve, near, foot, found.at_start[rows, near], found.at_end[rows, near])
    off = places - foot
    inside = np.einsum("ij,ij->i", off, inward) >= 0
    sign = np.where(inside, 1.0, -1.0)
    touching = apart < NOWHERE
    rise = np.where(touching[:, None], inward, sign[:, None] * off / np.where(touching, 1.0, apart)[:, None])
    return sign * apart, rise


__all__ = ["NOWHERE", "SMOOTH", "Curve", "Feet", "Floats", "Nodes", "curve_of", "feet", "inward_at", "signed_distance"]
