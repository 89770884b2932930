"""From one placing to the best one near it: linear programmes on the true gaps, in a region that grows and shrinks.

Terms
-----
step
    Shift and turn of one linear programme. The turn counts as the way of the farthest place of the pane, so that all three are in mm.
reach
    How far a step may go, mm; halved where the true least gap did not grow as foretold.
multiplier
    How much of the least gap hangs on a pair, a share of 1: the dual value of its row.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.gaps import Gaps, Placing, gaps_at

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.compare.curve import Curve, Floats

DONE = 1e-12
"""mm of growth foretold below which a placing is the best one near it."""
SPREAD = 2.0 * (1.0 + 2.0**0.5)
"""How many reaches a pair may lie over the least one and still come to bind within one step: shift both ways and turn, of both pairs."""
MOST_STEPS = 120
FEW = 60
"""Rows that go into a programme at first; those that it breaks follow."""


@dataclass(frozen=True, slots=True)
class Step:
    """The answer of one linear programme: shift and turn (3,), mm, the least gap it foretells, and the multiplier of each free row."""

    move: Floats
    level: float
    multipliers: Floats


def programme(
    rise: Floats,
    gap: Floats,
    *,
    low: Floats,
    high: Floats,
    kept_rise: Floats | None = None,
    kept_gap: Floats | None = None,
    level_most: float | None = None,
    equal_rise: Floats | None = None,
    equal_gap: Floats | None = None,
) -> Step | None:
    """The move that makes the least of ``gap + rise . move`` as large as possible; None where no move keeps the kept rows at 0 or more.

    ``rise`` is (K, V), ``gap`` (K,); ``low`` and ``high`` bound the move; rows of ``equal_*`` are to come out at 0.
    """
    rows = np.arange(len(gap)) if len(gap) <= FEW else _leading(rise, gap)
    while True:
        found = _solved(rise[rows], gap[rows], low, high, kept_rise, kept_gap, level_most, equal_rise, equal_gap)
        if found is None:
            if len(rows) == len(gap) or (kept_gap is not None and len(kept_gap)) or equal_gap is not None:
                return None
            rows = np.arange(len(gap))  # a few rows leave the move unbounded
            continue
        short = gap + rise @ found.move < found.level - 1e-12 * max(1.0, abs(found.level))
        short[rows] = False
        if not short.any():
            multipliers = np.zeros(len(gap))
            multipliers[rows] = found.multipliers
            return Step(found.move, found.level, multipliers)
        worst = np.flatnonzero(short)
        worst = worst[np.argsort((gap + rise @ found.move)[worst], kind="stable")[:FEW]]
        rows = np.sort(np.concatenate((rows, worst)))


def _leading(rise: Floats, gap: Floats) -> NDArray[np.int64]:
    """The rows to begin with: the nearest ones, and one for each way."""
    first = np.argsort(gap, kind="stable")[: FEW // 2]
    ends = np.concatenate((np.argmax(rise, axis=0), np.argmin(rise, axis=0)))
    return np.unique(np.concatenate((first, ends)))


def _solved(
    rise: Floats,
    gap: Floats,
    low: Floats,
    high: Floats,
    kept_rise: Floats | None,
    kept_gap: Floats | None,
    level_most: float | None,
    equal_rise: Floats | None,
    equal_gap: Floats | None,
) -> Step | None:
    from scipy.optimize import linprog

    count = rise.shape[1]
    rows, right = np.hstack((-rise, np.ones((len(rise), 1)))), gap
    if kept_rise is not None and kept_gap is not None and len(kept_gap):
        rows = np.vstack((rows, np.hstack((-kept_rise, np.zeros((len(kept_rise), 1))))))
        right = np.concatenate((gap, kept_gap))
    equal = None if equal_rise is None else np.hstack((equal_rise, np.zeros((len(equal_rise), 1))))
    found = linprog(
        np.concatenate((np.zeros(count), [-1.0])),
        A_ub=rows,
        b_ub=right,
        A_eq=equal,
        b_eq=None if equal_gap is None else -equal_gap,
        bounds=[*zip(low, high, strict=True), (None, level_most)],
        method="highs",
    )
    if found.x is None:
        return None
    return Step(found.x[:count], float(found.x[count]), -found.ineqlin.marginals[: len(gap)])


def rise_of(gaps: Gaps, far: float) -> Floats:
    """How each gap grows with shift and turn, (K, 3), the turn as the way of a place ``far`` mm from the pivot."""
    return np.column_stack((gaps.square, gaps.lever / far))


def stepped(placing: Placing, move: Floats, far: float) -> Placing:
    """The placing after a step."""
    return placing.moved(float(move[0]), float(move[1]), float(move[2]) / far)


def climbed(
    pane: Curve, recess: Curve, start: Placing, *, far: float, turns: tuple[float, float], reach: float, done: float = DONE
) -> tuple[Placing, float]:
    """The placing near ``start`` with the largest least gap, and that gap, mm; ``turns`` bound the turn, radians."""
    here, at = start, gaps_at(pane, recess, start)
    for _ in range(MOST_STEPS):
        near = at.below(at.least + SPREAD * reach)
        low = np.array([-reach, -reach, max(-reach, (turns[0] - here.turn) * far)])
        high = np.array([reach, reach, min(reach, (turns[1] - here.turn) * far)])
        step = programme(rise_of(near, far), near.gap, low=low, high=np.maximum(low, high))
        if step is None or step.level - at.least <= done:
            break
        there = stepped(here, step.move, far)
        next_ = gaps_at(pane, recess, there)
        grown, foretold = next_.least - at.least, step.level - at.least
        went = float(np.abs(step.move).max())
        if grown > 0:
            here, at = there, next_
        if grown < 0.25 * foretold:
            reach = 0.5 * min(reach, went) if grown <= 0 else 0.5 * reach
        elif grown > 0.75 * foretold and went >= 0.99 * reach:
            reach *= 2.0
        if reach < 1e-12:
            break
    return here, at.least


__all__ = ["DONE", "SPREAD", "Step", "climbed", "programme", "rise_of", "stepped"]
