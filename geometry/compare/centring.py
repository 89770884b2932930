"""What the least gap leaves free is centred: the next wider sides are made as wide as they can be, one after another.

Terms
-----
side
    A straight edge of the pane with the roundings beside it; a pane without straight edges, or with many, has four by where they look.
kept
    A side whose gap is settled: it is not to fall by more than is given away.
given away
    mm of the least gap that its own sides may lose for the sake of the others: without it a pane would be turned by millimetres
    for the last hundredth.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.climb import SPREAD, programme, rise_of, stepped
from geometry.compare.curve import feet
from geometry.compare.gaps import gaps_at, rotation

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from geometry.compare.curve import Curve, Floats
    from geometry.compare.gaps import Gaps, Placing

MANY_SIDES = 12
WORTH = 5.0
"""How many times what is given away the next side has to gain (own default)."""
HOLDS = 1e-7
"""mm by which a kept side may fall short through rounding."""
MOST_STEPS = 40
QUARTERS = ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0))


class Sides:
    """The sides of a pane, and to which of them each pair belongs."""

    def __init__(self, pane: Curve) -> None:
        lines = np.flatnonzero(pane.side == 0)
        self._pane, self._lines = pane, lines
        self._by_edge = 2 < len(lines) <= MANY_SIDES
        way = pane.way[lines]
        self._out = np.stack((way[:, 1], -way[:, 0]), axis=1) if self._by_edge else np.array(QUARTERS)

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self._out)

    def of(self, gaps: Gaps, placing: Placing, far: float) -> NDArray[np.int64]:
        """The number of the side of each pair."""
        turned = rotation(placing.turn)
        facing = -(gaps.square @ turned) @ self._out.T
        if not self._by_edge:
            return np.asarray(np.argmax(facing, axis=1))
        seen = (gaps.on_pane - np.array([placing.x, placing.y])) @ turned
        apart = feet(self._pane, seen).distance[:, self._lines]
        return np.asarray(np.argmin(10.0 * far * (1.0 - facing) + apart, axis=1))


class Centring:
    """Sides settled one after another from a placing with the largest least gap."""

    def __init__(
        self,
        pane: Curve,
        recess: Curve,
        *,
        far: float,
        turns: tuple[float, float],
        fixed: Callable[[Placing], tuple[Floats, Floats]] | None = None,
    ) -> None:
        self._pane, self._recess, self._far, self._turns = pane, recess, far, turns
        self._sides, self._fixed = Sides(pane), fixed
        self._known: dict[Placing, tuple[Gaps, NDArray[np.int64]]] = {}

    def best(self, placing: Placing, held: dict[int, float], *, given_away: float) -> Placing:
        """Centred; something of the least gap is given away only where the next side gains ``WORTH`` times as much by it."""
        strict = self.centred(placing, held, given_away=0.0)
        if given_away <= 0.0:
            return strict
        loose = self.centred(placing, held, given_away=given_away)
        gained = self._next(loose, held) - self._next(strict, held)
        return loose if gained > WORTH * given_away else strict

    def _next(self, placing: Placing, held: dict[int, float]) -> float:
        """The least gap of the sides that the least gap does not hang on, mm."""
        gaps, of = self._gaps(placing)
        free = ~np.isin(of, list(held))
        return float(gaps.gap[free].min(initial=np.inf)) if free.any() else 0.0

    def centred(self, placing: Placing, held: dict[int, float], *, given_away: float) -> Placing:
        """The placing in which every other side has been made as wide as it can be; ``held`` are the sides at the least gap."""
        least = dict(held)
        kept = {side: gap - given_away for side, gap in held.items()}
        while len(kept) < self._sides.count:
            placing, level, bound = self._widened(placing, kept)
            if not bound:
                break
            kept |= dict.fromkeys(bound, level)
        others = {side: gap - HOLDS for side, gap in kept.items() if side not in least}
        return self._widened(placing, others)[0] if others and given_away > 0 else placing

    def held(self, gaps: Gaps, multipliers: Floats, placing: Placing) -> set[int]:
        """The sides on whose pairs something hangs."""
        of = self._sides.of(gaps, placing, self._far)
        return {int(side) for side in of[multipliers > HOLDS]}

    def _widened(self, placing: Placing, kept: dict[int, float]) -> tuple[Placing, float, set[int]]:
        """The sides not kept made as wide as they can be: the placing, their least gap and the sides that it hangs on."""
        here, reach = placing, 0.01 * self._far
        gaps, free, floor = self._at(here, kept)
        bound: set[int] = set()
        for _ in range(MOST_STEPS):
            if not free.any():
                return here, np.inf, set()
            level = float(gaps.gap[free].min())
            near = free & (gaps.gap <= level + SPREAD * reach)
            close = ~free & (gaps.gap <= floor + SPREAD * reach)
            low = np.array([-reach, -reach, max(-reach, (self._turns[0] - here.turn) * self._far)])
            high = np.array([reach, reach, min(reach, (self._turns[1] - here.turn) * self._far)])
            rise = rise_of(gaps, self._far)
            equal = (None, None) if self._fixed is None else self._fixed(here)
            step = programme(
                rise[near],
                gaps.gap[near],
                low=low,
                high=np.maximum(low, high),
                kept_rise=rise[close],
                kept_gap=(gaps.gap - floor)[close],
                equal_rise=equal[0],
                equal_gap=equal[1],
            )
            if step is None:
                break
            bound = self.held(gaps.of(near), step.multipliers, here)
            if step.level - level <= HOLDS / 10:
                break
            there = stepped(here, step.move, self._far)
            next_, next_free, next_floor = self._at(there, kept)
            short = float((next_floor - next_.gap)[~next_free].max(initial=0.0))
            before = max(0.0, float((floor - gaps.gap)[~free].max(initial=0.0)))
            if next_.gap[next_free].min() > level and short <= max(HOLDS, 0.5 * before):
                here, gaps, free, floor = there, next_, next_free, next_floor
                inside = bool((np.abs(step.move) < 0.99 * reach).all())
                if inside and step.level - float(gaps.gap[free].min()) <= HOLDS / 10 and short <= HOLDS / 10:
                    break  # the gaps rose as the programme has it: what another one could add is of second order
            else:
                reach = 0.5 * min(reach, float(np.abs(step.move).max()))
            if reach < HOLDS:
                break
        return here, float(gaps.gap[free].min()), bound

    def _gaps(self, placing: Placing) -> tuple[Gaps, NDArray[np.int64]]:
        """The pairs there and the side of each; what is centred anew sets out from the same placing."""
        if placing not in self._known:
            gaps = gaps_at(self._pane, self._recess, placing)
            self._known[placing] = gaps, self._sides.of(gaps, placing, self._far)
        return self._known[placing]

    def _at(self, placing: Placing, kept: dict[int, float]) -> tuple[Gaps, NDArray[np.bool_], Floats]:
        """The pairs there, which of them are free, and what each of the others has to keep."""
        gaps, of = self._gaps(placing)
        floors = np.array([kept.get(side, np.nan) for side in range(self._sides.count)])
        floor = floors[of]
        free = np.isnan(floor)
        return gaps, free, np.where(free, -np.inf, floor)


__all__ = ["Centring", "Sides"]
