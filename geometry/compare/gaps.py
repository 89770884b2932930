"""The gap between a placed pane and its recess: every pair of places where one comes near the other.

Terms
-----
placing
    Where the pane lies: it is turned about its pivot, then shifted; ``at`` is where the pivot comes to lie, ``turn`` in radians to the left.
gap
    True distance between the curve of the pane and that of the recess, mm; negative by how deep one stands in the other.
square
    The unit vector from the wall to the pane at a pair: the gap grows by the shift along it.
lever
    Moment of ``square`` about the pivot: the gap grows by the turn times it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from geometry.compare.curve import NOWHERE, SMOOTH, Curve, Feet, Floats, Nodes, feet, inward_at

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Placing(NamedTuple):
    """Where the pivot of the pane lies, mm, and its turn, radians to the left."""

    x: float
    y: float
    turn: float

    def moved(self, dx: float, dy: float, turn: float) -> Placing:
        """Shifted and turned on."""
        return Placing(self.x + dx, self.y + dy, self.turn + turn)


@dataclass(frozen=True, slots=True)
class Gaps:
    """K pairs: gap (K,), place on the pane and on the wall (K, 2) in the recess's coordinates, square (K, 2), lever (K,), mm."""

    gap: Floats
    on_pane: Floats
    on_wall: Floats
    square: Floats
    lever: Floats

    @property
    def least(self) -> float:
        """The least gap, mm."""
        return float(self.gap.min())

    def below(self, most: float) -> Gaps:
        """The pairs whose gap is not over ``most``."""
        return self.of(self.gap <= most)

    def of(self, chosen: NDArray[np.bool_] | NDArray[np.int64]) -> Gaps:
        """Some of the pairs."""
        return Gaps(self.gap[chosen], self.on_pane[chosen], self.on_wall[chosen], self.square[chosen], self.lever[chosen])


def rotation(turn: float) -> Floats:
    """The matrix that turns to the left."""
    cosine, sine = np.cos(turn), np.sin(turn)
    return np.array([[cosine, -sine], [sine, cosine]])


def gaps_at(pane: Curve, recess: Curve, placing: Placing) -> Gaps:
    """Every pair of a node of one curve and a segment of the other; the least of them is the least gap.

    The pane's arrays count from its pivot. A corner on the wrong side of the other curve has one pair, the nearest.
    """
    turned, at = rotation(placing.turn), np.array([placing.x, placing.y])
    nodes, far = pane.nodes(solid_inside=True), recess.nodes(solid_inside=False)
    places = Nodes(nodes.centre @ turned.T + at, nodes.radius, nodes.towards @ turned.T, nodes.within)
    gap, on_pane, on_wall, square = _pairs(recess, places, inside=True)
    if len(far.centre):
        back = Nodes((far.centre - at) @ turned, far.radius, far.towards @ turned, far.within)
        more, wall, edge, away = _pairs(pane, back, inside=False)
        gap = np.concatenate((gap, more))
        on_pane, on_wall = np.vstack((on_pane, edge @ turned.T + at)), np.vstack((on_wall, wall @ turned.T + at))
        square = np.vstack((square, -away @ turned.T))
    arm = on_pane - at
    return Gaps(gap, on_pane, on_wall, square, arm[:, 0] * square[:, 1] - arm[:, 1] * square[:, 0])


def _pairs(curve: Curve, nodes: Nodes, *, inside: bool) -> tuple[Floats, Floats, Floats, Floats]:
    """Gap, place on the node's curve, foot on ``curve`` and the unit vector from the foot to the node, of every pair.

    ``inside``: the nodes belong on the inside of the curve. A pair of two corners is told once, by the corner of the pane.
    """
    found = feet(curve, nodes.centre)
    count = len(curve.start)
    sense = 1.0 if inside else -1.0
    arc = nodes.radius > 0
    k, n = np.nonzero(~found.at_end & (~found.at_start | (_standing(curve, inside) & ~arc[:, None])))
    foot, size, off = found.place[k, n], found.distance[k, n], nodes.centre[k] - found.place[k, n]
    square = sense * inward_at(curve, n, foot, found.at_start[k, n], np.zeros(len(n), dtype=bool))
    near = np.argmin(found.distance, axis=1)
    wrong = _wrong_side(curve, nodes, found, near, sense)
    # an arc is held by the side of each segment: its centre may lie far beyond the wall on the other side
    apart = np.where(arc[k], np.einsum("ij,ij->i", off, square), size)
    touching = size < NOWHERE
    away = np.where((arc[k] | touching)[:, None], square, off / np.where(touching, 1.0, size)[:, None])
    facing = -np.einsum("ij,ij->i", away, nodes.towards[k]) >= nodes.within[k]
    kept = facing & np.where(arc[k], (apart >= 0) | (wrong[k] & (near[k] == n)), ~wrong[k])
    k, gap, away, foot = k[kept], apart[kept] - nodes.radius[k][kept], away[kept], foot[kept]
    lost = np.flatnonzero(wrong & ~arc)
    if len(lost):
        deep = found.distance[lost, near[lost]]
        out = found.place[lost, near[lost]] - nodes.centre[lost]
        none = deep < NOWHERE
        side = sense * curve.inward[near[lost] % count]
        out = np.where(none[:, None], side, out / np.where(none, 1.0, deep)[:, None])
        gap, away = np.concatenate((gap, -deep)), np.vstack((away, out))
        k, foot = np.concatenate((k, lost)), np.vstack((foot, found.place[lost, near[lost]]))
    return gap, nodes.centre[k] - nodes.radius[k, None] * away, foot, away


def _standing(curve: Curve, inside: bool) -> NDArray[np.bool_]:
    """The corners of a curve that count as feet: those that stand out towards the nodes, and only as seen from the pane."""
    return curve.turn <= SMOOTH if inside else np.zeros(len(curve.turn), dtype=bool)


def _wrong_side(curve: Curve, nodes: Nodes, found: Feet, near: NDArray[np.int64], sense: float) -> NDArray[np.bool_]:
    rows = np.arange(len(near))
    foot = found.place[rows, near]
    inward = inward_at(curve, near, foot, found.at_start[rows, near], found.at_end[rows, near])
    return np.asarray(sense * np.einsum("ij,ij->i", nodes.centre - foot, inward) < 0.0)


__all__ = ["Gaps", "Placing", "gaps_at", "rotation"]
