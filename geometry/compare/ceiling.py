"""A proved ceiling over the largest least gap: no placing whatever within the turns asked for does better.

Terms
-----
ceiling
    An upper bound of the least gap over a node. Each row of its linear programme is a condition that every placing of the node meets.
node
    A range of turns, and of shifts where walls count one by one: split until its ceiling is not over the best placing found.
reach row
    The recess reaches so far in a direction, the pane so far: exact where the recess is convex, a true bound of every recess.
wall row
    A place of the wall stays outside a convex part of the pane. Its distance is a convex function of where it lies seen from the pane:
    over a node it stands under its tangent and what the corners of the node rise above that, 0 along a straight edge.
remainder
    What turning within a node may add to the straight rows, mm; it falls with the square of the range.
"""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from geometry.compare.climb import climbed, programme
from geometry.compare.curve import signed_distance
from geometry.compare.gaps import Placing, gaps_at, rotation

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.compare.curve import Curve, Floats

ARC_STEPS = 4
"""Into how many equal steps an arc is taken for its first rows; more are added where a programme touches it."""
OPEN = 1.0
"""mm of remainder from which on shifts are bounded and walls count one by one."""
ROUNDS = 4
"""How often rows are added to one node before it is split."""
MOST_NODES = 3000
SLACK = 1e-9


class Proof(NamedTuple):
    """The best placing found, its least gap, the ceiling over all placings, mm, and the linear programmes that it took."""

    placing: Placing
    least: float
    ceiling: float
    programmes: int


class _Node(NamedTuple):
    """Turns from and to, radians; box of the shifts (left, bottom, right, top), mm, None: any."""

    low: float
    high: float
    box: tuple[float, float, float, float] | None


@dataclass
class _Search:
    """The two curves and the rows known so far."""

    pane: Curve
    parts: Sequence[Curve]
    recess: Curve
    far: float
    turns: tuple[float, float]
    tolerance: float
    best: Placing
    least: float
    programmes: int = 0
    directions: Floats = field(default_factory=lambda: np.zeros((0, 2)))
    walls: Floats = field(default_factory=lambda: np.zeros((0, 2)))

    def add_directions(self, more: Floats) -> bool:
        """Rows for outward directions that are not there yet; whether there were any."""
        return self._add("directions", more, 1e-9)

    def add_walls(self, more: Floats) -> bool:
        """Rows for places of the wall that are not there yet; whether there were any."""
        return self._add("walls", more, 1e-7)

    def _add(self, name: str, more: Floats, apart: float) -> bool:
        known = getattr(self, name)
        unit = np.round(np.vstack((known, more)) / apart)
        _, first = np.unique(unit, axis=0, return_index=True)
        fresh = np.sort(first[first >= len(known)]) - len(known)
        setattr(self, name, np.vstack((known, more[fresh])))
        return bool(len(fresh))

    def tried(self, placing: Placing, *, climb: bool) -> None:
        """Keep a placing where it is better than the best so far, after climbing on from it."""
        least = gaps_at(self.pane, self.recess, placing).least
        if climb or least > self.least + SLACK:
            reach = max(1e-3, 0.01 * self.far)
            placing, least = climbed(self.pane, self.recess, placing, far=self.far, turns=self.turns, reach=reach)
        if least > self.least + SLACK:
            self.best, self.least = placing, least


def proved(
    pane: Curve,
    recess: Curve,
    start: Placing,
    *,
    far: float,
    turns: tuple[float, float],
    tolerance: float,
    parts: Sequence[Curve],
) -> Proof:
    """The best placing within the turns, and a ceiling over every other; both agree within ``tolerance`` mm unless nodes run out.

    ``parts`` are convex pieces of the pane; where they leave glass out the ceiling is still true, only higher.
    """
    search = _Search(pane, parts, recess, far, turns, tolerance, start, gaps_at(pane, recess, start).least)
    search.add_directions(_first_directions(recess))
    if not recess.convex:
        search.add_walls(_first_walls(recess))
    count, heap = 0, [(-math.inf, 0, _Node(*turns, None))]
    ceiling = -math.inf
    while heap:
        known, _, node = heapq.heappop(heap)
        if -known <= search.least + tolerance or count >= MOST_NODES:
            ceiling = max(ceiling, -known)
            break
        count += 1
        level = min(-known, _level(search, node, climb=count & (count - 1) == 0))
        if level <= search.least + tolerance:
            ceiling = max(ceiling, level)
            continue
        for number, part in enumerate(_split(search, node)):
            heapq.heappush(heap, (-level, 2 * count + number, part))
    return Proof(search.best, search.least, max(ceiling, search.least), search.programmes)


def _first_directions(recess: Curve) -> Floats:
    """Outward directions of the straight sides and along the arcs that bulge outwards."""
    line = np.flatnonzero(recess.side == 0)
    found = [np.stack((recess.way[line, 1], -recess.way[line, 0]), axis=1)]
    for i in np.flatnonzero(recess.side > 0):
        half = math.acos(max(-1.0, min(1.0, float(recess.within[i]))))
        turns = np.linspace(-half, half, ARC_STEPS + 1)
        x, y = recess.middle[i]
        found.append(np.stack((x * np.cos(turns) - y * np.sin(turns), x * np.sin(turns) + y * np.cos(turns)), axis=1))
    every = np.vstack(found)
    _, first = np.unique(np.round(every, 9), axis=0, return_index=True)
    return np.asarray(every[np.sort(first)])


def _first_walls(recess: Curve) -> Floats:
    """Corners of the wall, and places along its arcs that stand out into the recess."""
    found = [recess.start]
    for i in np.flatnonzero(recess.side < 0):
        half = math.acos(max(-1.0, min(1.0, float(recess.within[i]))))
        turns = np.linspace(-half, half, ARC_STEPS + 1)[1:-1]
        x, y = recess.middle[i]
        way = np.stack((x * np.cos(turns) - y * np.sin(turns), x * np.sin(turns) + y * np.cos(turns)), axis=1)
        found.append(recess.centre[i] + recess.radius[i] * way)
    return np.vstack(found)


class _Rows(NamedTuple):
    """Rows of a programme in shift and turn from the middle of a node: rise (K, 3) and gap (K,)."""

    rise: Floats
    gap: Floats


def _level(search: _Search, node: _Node, *, climb: bool) -> float:
    """The ceiling of a node; placings that its programmes find are tried."""
    middle, half = (node.low + node.high) / 2, (node.high - node.low) / 2
    level = math.inf
    for round_ in range(ROUNDS):
        rows = _reach_rows(search, middle, half)
        low, high = np.array([-np.inf, -np.inf, -half * search.far]), np.array([np.inf, np.inf, half * search.far])
        if node.box is not None:
            low[:2], high[:2] = node.box[:2], node.box[2:]
            walls = _wall_rows(search, node, middle, half)
            rows = _Rows(np.vstack((rows.rise, walls.rise)), np.concatenate((rows.gap, walls.gap)))
        step = programme(rows.rise, rows.gap, low=low, high=high)
        search.programmes += 1
        if step is None:
            return level
        level = min(level, step.level)
        if level <= search.least + search.tolerance:
            return level
        placing = Placing(float(step.move[0]), float(step.move[1]), middle + float(step.move[2]) / search.far)
        search.tried(placing, climb=climb and round_ == 0)
        if not _more_rows(search, node, placing, level):
            return level
    return level


def _more_rows(search: _Search, node: _Node, placing: Placing, level: float) -> bool:
    """Rows for the pairs that are nearer than the programme thought; whether there are new ones."""
    at = gaps_at(search.pane, search.recess, placing).below(level - search.tolerance / 4)
    if search.recess.convex:
        return search.add_directions(-at.square)
    return node.box is not None and search.add_walls(at.on_wall)


def _reach_rows(search: _Search, middle: float, half: float) -> _Rows:
    """How far the recess reaches in each direction less how far the pane does, over a range of turns."""
    out = search.directions
    most = search.recess.support(out)[0]
    turned = rotation(middle)
    rises, gaps, before = [], [], None
    for turn in (middle, middle - half, middle + half):
        seen = out @ rotation(turn)
        place, radius = _held_by(search.pane, seen, half)
        fresh = np.ones(len(out), dtype=bool) if before is None else np.abs(place - before).max(axis=1) > 1e-9
        before = place if before is None else before
        turned_place, way = place[fresh] @ turned.T, out[fresh]
        ahead = np.einsum("ij,ij->i", way, turned_place)
        aside = way[:, 1] * turned_place[:, 0] - way[:, 0] * turned_place[:, 1]
        remainder = np.maximum(ahead, 0.0) * (1 - math.cos(half)) + np.abs(aside) * (half - math.sin(half))
        rises.append(np.column_stack((-way, -aside / search.far)))
        gaps.append((most - radius)[fresh] - ahead + remainder)
    return _Rows(np.vstack(rises), np.concatenate(gaps))


def _held_by(pane: Curve, seen: Floats, half: float) -> tuple[Floats, Floats]:
    """What of the pane stands farthest in directions seen from it: a place, or of an arc that does so over all turns its centre and radius."""
    place, radius = pane.support(seen)[1], np.zeros(len(seen))
    for i in np.flatnonzero(pane.side > 0):
        widest = math.acos(max(-1.0, min(1.0, float(pane.within[i])))) - half
        if widest <= 0:
            continue
        on = np.abs(np.hypot(*(place - pane.centre[i]).T) - pane.radius[i]) < 1e-9
        on &= seen @ pane.middle[i] >= math.cos(widest)
        place[on], radius[on] = pane.centre[i], pane.radius[i]
    return place, radius


def _wall_rows(search: _Search, node: _Node, middle: float, half: float) -> _Rows:
    """How far each place of the wall stays outside each convex part of the pane, over a node."""
    assert node.box is not None
    left, bottom, right, top = node.box
    at = np.array([(left + right) / 2, (bottom + top) / 2])
    size = np.array([(right - left) / 2, (top - bottom) / 2])
    turned = rotation(middle)
    seen = (search.walls - at) @ turned  # from the pane, at the middle of the node
    away = np.hypot(seen[:, 0], seen[:, 1])
    spare = half * float(np.hypot(*size)) + away * (1 - math.cos(half))
    across = np.stack((-seen[:, 1], seen[:, 0]), axis=1) * math.sin(half)
    rises, gaps = [np.zeros((0, 3))], [np.zeros(0)]  # without parts there is nothing to say of a wall
    for part in search.parts:
        inside, rise = signed_distance(part, seen)
        out, apart = -rise, -inside
        above = np.zeros(len(seen))
        for one in (-1.0, 1.0):
            for other in (-1.0, 1.0):
                for third in (-1.0, 1.0):
                    wide = np.stack((one * (size[0] + spare), other * (size[1] + spare)), axis=1)
                    shift = wide @ turned + third * across
                    excess = -signed_distance(part, seen + shift)[0] - apart - np.einsum("ij,ij->i", out, shift)
                    above = np.maximum(above, excess)
        world = out @ turned.T
        # seen from the pane the wall turns the other way
        aside = -(world[:, 1] * (search.walls - at)[:, 0] - world[:, 0] * (search.walls - at)[:, 1])
        ahead = np.einsum("ij,ij->i", out, seen)
        beyond = half * (np.abs(world[:, 1]) * size[0] + np.abs(world[:, 0]) * size[1])
        beyond += np.abs(aside) * (half - math.sin(half)) + np.maximum(-ahead, 0.0) * (1 - math.cos(half))
        rises.append(np.column_stack((-world, -aside / search.far)))
        gaps.append(apart + above + beyond + world @ at)
    return _Rows(np.vstack(rises), np.concatenate(gaps))


def _split(search: _Search, node: _Node) -> list[_Node]:
    """Two halves of a node along what is widest; where turns are near enough the shifts are bounded first."""
    half = (node.high - node.low) / 2
    middle = (node.low + node.high) / 2
    if node.box is None:
        if search.recess.convex or search.far * (1 - math.cos(half)) > OPEN:
            return [_Node(node.low, middle, None), _Node(middle, node.high, None)]
        box = _box(search, middle, half)
        return [] if box is None else [_Node(node.low, node.high, box)]
    left, bottom, right, top = node.box
    if half * search.far >= max(right - left, top - bottom) / 2:
        return [_Node(node.low, middle, node.box), _Node(middle, node.high, node.box)]
    if right - left >= top - bottom:
        x = (left + right) / 2
        return [_Node(node.low, node.high, (left, bottom, x, top)), _Node(node.low, node.high, (x, bottom, right, top))]
    y = (bottom + top) / 2
    return [_Node(node.low, node.high, (left, bottom, right, y)), _Node(node.low, node.high, (left, y, right, top))]


def _box(search: _Search, middle: float, half: float) -> tuple[float, float, float, float] | None:
    """The shifts at which the pane may do better than the best so far, over a range of turns; None: nowhere."""
    from scipy.optimize import linprog

    rows = _reach_rows(search, middle, half)
    limits = []
    for axis, sense in ((0, 1.0), (1, 1.0), (0, -1.0), (1, -1.0)):
        aim = np.zeros(3)
        aim[axis] = sense
        turn = half * search.far
        found = linprog(
            aim, A_ub=-rows.rise, b_ub=rows.gap - search.least, bounds=[(None, None), (None, None), (-turn, turn)], method="highs"
        )
        search.programmes += 1
        if found.x is None:
            return None
        limits.append(float(found.x[axis]) - sense * 1e-6)
    return limits[0], limits[1], limits[2], limits[3]


__all__ = ["Proof", "proved"]
