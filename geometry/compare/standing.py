"""The pane stood on its setting chocks: heights from a stock, and which chock goes where.

Terms
-----
stock
    The chocks that there are, and shims of which each may lie once under a chock, mm.
pieces
    The chock and the shims of one height.
height
    Of a chock: from its foot on the glass edge, square to the edge, to the wall.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations, product
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.best_fit import WIDEST_TURN, Setting, as_fit
from geometry.compare.centring import Centring
from geometry.compare.gaps import Placing, gaps_at
from geometry.outline.loop import Point
from geometry.outline.stations import nearest_station, ray_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.compare.best_fit import Fit
    from geometry.compare.curve import Floats
    from geometry.outline.loop import Outline

WINDOW = 1.25
"""mm either way of the height in the best fit within which the stock is tried (own default)."""
ALIKE = 0.02
"""mm of least gap within which two choices are alike: then the one nearer to the best fit, then the fewer pieces."""
STEP = 1e-4
"""mm and mm of turn over which the heights are differenced."""


@dataclass(frozen=True, slots=True)
class Pieces:
    """One height of the stock, mm: the chock first, then its shims."""

    height: float
    pieces: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Stood:
    """A pane on its chocks: the placing, and what stands under each foot."""

    fit: Fit
    chocks: tuple[Pieces, ...]


def heights_of(stock: Sequence[float], shims: Sequence[float]) -> tuple[Pieces, ...]:
    """Every height that a chock with shims can have, lowest first, each with the fewest pieces.

    >>> [each.height for each in heights_of((3, 4), (0.5,))]
    [3.0, 3.5, 4.0, 4.5]
    """
    found: dict[float, Pieces] = {}
    for count in range(len(shims) + 1):
        for chock in sorted(stock):
            for under in combinations(sorted(shims, reverse=True), count):
                height = round(chock + math.fsum(under), 6)
                found.setdefault(height, Pieces(float(height), (float(chock), *map(float, under))))
    return tuple(found[height] for height in sorted(found))


class _Heights:
    """The heights at the feet over placings, and how they grow."""

    def __init__(self, pane: Outline, recess: Outline, feet: Sequence[Point], setting: Setting) -> None:
        stations = [nearest_station(pane, foot) for foot in feet]
        self._feet = [np.subtract(station.point, setting.pivot) for station in stations]
        self._out = [np.array(station.outward) for station in stations]
        self._recess, self._setting = recess, setting

    def at(self, placing: Placing) -> Floats:
        """The height at each foot, mm; negative where the foot lies beyond the wall."""
        cosine, sine = math.cos(placing.turn), math.sin(placing.turn)
        turned = np.array([[cosine, -sine], [sine, cosine]])
        pivot = np.add(self._setting.pivot, (placing.x, placing.y))
        found = []
        for foot, out in zip(self._feet, self._out, strict=True):
            way = turned @ out
            back = 50.0  # from inside the glass, so that a foot beyond the wall has a height as well
            origin = pivot + turned @ foot - back * way
            reach = ray_length(self._recess, Point(*origin), Point(*way))
            found.append(math.inf if reach is None else reach - back)
        return np.array(found)

    def rise(self, placing: Placing) -> Floats:
        """How each height grows with shift and turn (the turn as the way of the farthest place), (K, 3)."""
        columns = []
        for move in np.eye(3) * STEP:
            dx, dy, turn = (float(each) for each in move)
            ahead = self.at(placing.moved(dx, dy, turn / self._setting.far))
            behind = self.at(placing.moved(-dx, -dy, -turn / self._setting.far))
            columns.append((ahead - behind) / (2 * STEP))
        return np.column_stack(columns)

    def stood(self, placing: Placing, heights: Floats) -> Placing | None:
        """The placing with these heights that is nearest; None where there is none."""
        for _ in range(20):
            short = heights - self.at(placing)
            if not np.isfinite(short).all():
                return None
            if np.abs(short).max() < 1e-9:
                return placing
            move = np.linalg.lstsq(self.rise(placing), short, rcond=None)[0]
            placing = placing.moved(float(move[0]), float(move[1]), float(move[2]) / self._setting.far)
        return placing if np.abs(heights - self.at(placing)).max() < 1e-6 else None


def heights_at(pane: Outline, recess: Outline, fit: Fit, feet: Sequence[Point]) -> tuple[float, ...]:
    """The height at each foot, a place on the pane's edge as it was given, in a placing, mm."""
    setting = Setting.of(pane, recess, WIDEST_TURN)
    heights = _Heights(pane, recess, feet, setting).at(_placing(fit))
    return tuple(float(height) for height in heights)


def stand(
    pane: Outline, recess: Outline, fit: Fit, feet: Sequence[Point], *, stock: Sequence[float], shims: Sequence[float] = ()
) -> Stood | None:
    """Stand the pane on chocks of the stock at one or two feet so that the least gap is largest; None where none will do.

    ``fit`` is the best fit, from which heights within ``WINDOW`` of each foot's are tried, all with all.
    """
    setting = Setting.of(pane, recess, fit.turns[1])
    heights = _Heights(pane, recess, feet, setting)
    wanted = heights.at(_placing(fit))
    known = heights_of(stock, shims)
    choices = [_near(known, float(height)) for height in wanted]
    best: tuple[tuple[float, float, int], Placing, tuple[Pieces, ...]] | None = None
    for chosen in product(*choices):
        placing = _set_down(setting, heights, _placing(fit), np.array([each.height for each in chosen]))
        if placing is None:
            continue
        least = gaps_at(setting.pane, setting.recess, placing).least
        off = math.fsum(abs(each.height - height) for each, height in zip(chosen, wanted, strict=True))
        rank = (-math.floor(least / ALIKE + 0.5), round(off, 6), sum(len(each.pieces) for each in chosen))
        if best is None or rank < best[0]:
            best = rank, placing, chosen
    if best is None:
        return None
    _, placing, chosen = best
    return Stood(as_fit(setting, placing, fit.largest, fit.contacts, fit.unbalanced, fit.ceiling, fit.programmes), chosen)


def _placing(fit: Fit) -> Placing:
    return Placing(fit.shift.x, fit.shift.y, math.radians(fit.turn))


def _near(known: Sequence[Pieces], height: float) -> list[Pieces]:
    within = [each for each in known if abs(each.height - height) <= WINDOW]
    return within or [min(known, key=lambda each: abs(each.height - height))]


def _set_down(setting: Setting, heights: _Heights, placing: Placing, wanted: Floats) -> Placing | None:
    """The pane on its chocks, shifted along them to where the rest is centred."""
    start = heights.stood(placing, wanted)
    if start is None:
        return None

    def fixed(at: Placing) -> tuple[Floats, Floats]:
        return heights.rise(at), heights.at(at) - wanted

    centring = Centring(setting.pane, setting.recess, far=setting.far, turns=setting.turns, fixed=fixed)
    return heights.stood(centring.centred(start, {}, given_away=0.0), wanted)


__all__ = ["Pieces", "Stood", "heights_at", "heights_of", "stand"]
