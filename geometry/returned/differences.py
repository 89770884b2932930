"""How far a returned outline lies from the issued one: the greatest deviation both ways, and every stretch beyond the limit.

Terms
-----
deviation
    mm between the two outlines at a place, positive where the returned one lies outside the issued one. It hangs on how the returned
    outline was laid; a size does not.
both ways
    From every place of the issued outline to the returned one and back: a tongue that only one of them has shows in one way only.
stretch
    Neighbouring places that deviate by more than the limit, all to one side; it is named by the part of the pane that most of it lies on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.near import clean, nearest, spread
from geometry.detail.edges import ROUND, sides_of
from geometry.outline import Outline, Point, corners, perimeter, segments

if TYPE_CHECKING:
    from geometry.compare.near import Floats, Spread

PLACES = 3000
"""Places all round each outline at which it is looked at, beside its vertices."""
ALL_ROUND, MOST = "all round", 0.97
"""Name of a stretch that takes up most of the outline, and from which share of it."""
FINER = 40
"""Steps of a search between the two neighbours of the place found."""


@dataclass(frozen=True, slots=True)
class Deviation:
    """The deviation at one place: ``at`` on the issued outline, ``of`` across from it on the returned one, ``part`` of the pane."""

    amount: float
    at: Point
    of: Point
    part: str


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch beyond the limit: where it lies, its worst place, its length along the issued outline, mm, and its places to draw."""

    part: str
    worst: Deviation
    length: float
    run: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Differences:
    """The greatest deviation and the stretches beyond ``limit``, the worst first."""

    greatest: Deviation
    limit: float
    stretches: tuple[Stretch, ...]


def differences(issued: Outline, laid: Outline, *, limit: float, pane: Outline | None = None) -> Differences:
    """Hold a laid outline against the issued one, mm; parts are named as those of the ``pane``, left out: of the issued outline.

    >>> from geometry.outline import rectangle
    >>> found = differences(rectangle(100, 50), rectangle(102, 50), limit=0.5)
    >>> found.greatest.amount, [stretch.part for stretch in found.stretches]
    (2.0, ['e2'])
    """
    named = issued if pane is None else pane
    there, back = _looked(issued, laid, given=True), _looked(laid, issued, given=False)
    greatest = max((_greatest(each, named) for each in (there, back)), key=lambda each: round(abs(each.amount), 9))
    found = [*_stretches(there, named, limit), *_stretches(back, named, limit)]
    found.sort(key=lambda each: (-round(abs(each[1].worst.amount), 6), each[0].begin))
    kept: list[tuple[_Span, Stretch]] = []
    for span, stretch in found:
        if not any(span.meets(other) for other, _ in kept):
            kept.append((span, stretch))
    return Differences(greatest, limit, tuple(stretch for _, stretch in kept))


@dataclass(frozen=True, slots=True)
class _Looked:
    """One outline looked at from the other: its places, their deviations and the feet on the other one."""

    outline: Outline
    other: Outline
    given: bool  # whether the outline is the issued one
    spread: Spread
    amount: Floats
    foot: Floats
    along: Floats  # of each place, or of its foot, on the issued outline, mm from its first vertex


@dataclass(frozen=True, slots=True)
class _Span:
    """A stretch of the issued outline: from ``begin``, mm along, for ``length``, round an outline of ``whole``; to which side it is off."""

    begin: float
    length: float
    whole: float
    outside: bool

    def meets(self, other: _Span) -> bool:
        """Whether both are off to one side and have a place in common."""
        gap = (other.begin - self.begin) % self.whole
        back = (self.begin - other.begin) % self.whole
        slack = 1e-3 * self.whole
        return self.outside == other.outside and (gap <= self.length + slack or back <= other.length + slack)


def _looked(outline: Outline, other: Outline, *, given: bool) -> _Looked:
    whole = perimeter(outline)
    places = spread(outline, spacing=whole / PLACES)
    near = nearest(other, places.places)
    lengths = np.array([part.length for part in segments(other)])
    starts = np.concatenate(([0.0], np.cumsum(lengths)[:-1]))
    along = places.along if given else starts[near.segment] + near.share * lengths[near.segment]
    return _Looked(outline, other, given, places, _amount(near.distance, given), near.foot, along)


def _amount(distance: Floats, given: bool) -> Floats:
    """A place of the issued outline that lies inside the returned one: there the returned one stands out."""
    return -distance if given else distance


def _greatest(looked: _Looked, named: Outline) -> Deviation:
    """The greatest deviation: that of the worst place, searched for once more between its neighbours."""
    worst = int(np.argmax(np.round(np.abs(looked.amount), 9)))
    parts, count = segments(looked.outline), len(looked.amount)
    best = _deviation(looked, worst, named)
    for number in {int(looked.spread.segment[worst]), int(looked.spread.segment[(worst - 1) % count])}:
        part = parts[number]
        start = math.fsum(each.length for each in parts[:number])
        step = part.length / max(1, int((looked.spread.segment == number).sum()))
        middle = (float(looked.spread.along[worst]) - start) / part.length
        shares = np.clip(np.linspace(middle - step / part.length, middle + step / part.length, 2 * FINER + 1), 0.0, 1.0)
        places = np.array([part.point_at(float(share)) for share in shares], dtype=float)
        near = nearest(looked.other, places)
        amount = _amount(near.distance, looked.given)
        index = int(np.argmax(np.abs(amount)))
        if abs(float(amount[index])) > abs(best.amount) + 1e-9:
            best = _made(looked, float(amount[index]), places[index], near.foot[index], named)
    return best


def _deviation(looked: _Looked, index: int, named: Outline) -> Deviation:
    return _made(looked, float(looked.amount[index]), looked.spread.places[index], looked.foot[index], named)


def _made(looked: _Looked, amount: float, place: Floats, foot: Floats, named: Outline) -> Deviation:
    here, there = clean(place), clean(foot)
    at, of = (here, there) if looked.given else (there, here)
    return Deviation(amount + 0.0, at, of, part_at(named, at))


def _stretches(looked: _Looked, named: Outline, limit: float) -> list[tuple[_Span, Stretch]]:
    beyond = np.abs(looked.amount) > limit + 1e-9
    count = len(looked.amount)
    issued = looked.outline if looked.given else looked.other
    whole = perimeter(issued)
    found = []
    for run in runs_of(np.flatnonzero(beyond).tolist(), count):
        feet = looked.spread.places[run] if looked.given else looked.foot[run]
        parts = parts_at(named, feet)
        part = max(dict.fromkeys(parts), key=parts.count)
        worst = max(run, key=lambda index: round(abs(float(looked.amount[index])), 6))
        length = float((looked.along[run[-1]] - looked.along[run[0]]) % whole) if len(run) < count else whole
        span = _Span(float(looked.along[run[0]]), length, whole, bool(looked.amount[worst] > 0))
        deviation = _deviation(looked, worst, named)
        found.append((span, Stretch(ALL_ROUND if length > MOST * whole else part, deviation, length, _run(looked, run))))
    return found


def runs_of(indices: list[int], count: int) -> list[list[int]]:
    """Rising indices round a loop of ``count``, broken where one is missing."""
    runs: list[list[int]] = []
    for index in indices:
        if runs and index == runs[-1][-1] + 1:
            runs[-1].append(index)
        else:
            runs.append([index])
    if len(runs) > 1 and runs[0][0] == 0 and runs[-1][-1] == count - 1:
        runs[0] = runs.pop() + runs[0]
    return runs


def _run(looked: _Looked, indices: list[int]) -> tuple[Point, ...]:
    """The places of a run on the returned outline, as it is drawn."""
    places = looked.foot[indices] if looked.given else looked.spread.places[indices]
    return tuple(clean(place) for place in places)


def part_at(pane: Outline, place: Point) -> str:
    """The part of a pane that a place lies nearest to: "e2", "V3" or "round".

    >>> from geometry.outline import rectangle
    >>> part_at(rectangle(100, 50, radius=10), Point(101, 20)), part_at(rectangle(100, 50, radius=10), Point(98, 1))
    ('e2', 'V2')
    """
    return parts_at(pane, np.array([place]))[0]


def parts_at(pane: Outline, places: Floats) -> list[str]:
    """The parts of a pane that places, an array of n × 2, lie nearest to."""
    near = nearest(pane, places)
    sides, rounded = sides_of(pane), corners(pane)
    names: dict[int, str] = {}
    for number, part in enumerate(segments(pane)):
        middle = part.point_at(0.5)
        side = next(
            (
                each.name
                for each in sides
                if each.first - 1e-6 <= each.distance_of(middle) <= each.last + 1e-6
                and math.dist(each.at(each.distance_of(middle)), middle) < 1e-6
            ),
            None,
        )
        corner = next(
            (f"V{each.number}" for each in rounded if math.dist(each.on_glass, middle) < max(1e-6, part.length / 2)), None
        )
        names[number] = side or corner or ROUND
    return [names[int(number)] for number in near.segment]


__all__ = ["ALL_ROUND", "MOST", "Deviation", "Differences", "Stretch", "differences", "part_at", "parts_at", "runs_of"]
