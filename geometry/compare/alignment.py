"""A returned outline laid on the one that was issued: unit, mirror, turn and shift worked out, and what cannot be told of them.

The turn is found from both outlines walked in equal steps (their correlation), then refined by least squares over true distances. Where a
part of the outline was changed, the rest decides: what agrees is laid on what agrees, so that a side that stands out shows by its whole
difference and not by half of it on both sides.

Terms
-----
agreeing
    Share of the returned outline that lies within the limit of the issued one.
symmetric
    The issued outline turned or mirrored is itself within the limit: then its lines alone do not tell how the drawing stands.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.move import Move, Unit, unit_of
from geometry.compare.near import box_diagonal, evenly, nearest
from geometry.outline.loop import Line, Outline, segments
from geometry.outline.measure import area, centroid

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.compare.near import Floats

STEPS = 512
"""Places of each outline whose correlation gives the turn."""
CANDIDATES = 8
"""Turns that are refined, each way round."""
ROUNDS = 60
"""Rounds of least squares at most; exact outlines need five."""
SOFTER = (1.0, 0.2, 0.04)
"""Shares of the limit at which what lies off stops to weigh, one after the other."""
THINNED = 4
"""Every so manieth place settles a turn that is only tried."""
SETTLED = 1e-12
"""Share of its size by which an outline still moves when it has come to rest."""
LONG = 0.05
"""Share of the perimeter from which a straight segment is a side to lay the drawing on."""
ALIKE = 1e-3
"""Share of the outline by which two ways of laying it agree equally well."""


@dataclass(frozen=True, slots=True)
class Symmetry:
    """Moves, beside none, that leave the issued outline where it was within the limit.

    ``turns`` degrees, ``any_turn`` a circle, ``mirrored`` with at least one mirror line.
    """

    moves: tuple[Move, ...]
    any_turn: bool

    @property
    def turns(self) -> tuple[float, ...]:
        """By how many degrees it may be turned, rising; empty for a circle, which may be turned by any."""
        if self.any_turn:
            return ()
        return tuple(sorted({round(move.turned % 360.0, 3) for move in self.moves if not move.mirrored}))

    @property
    def mirrored(self) -> bool:
        """Whether it is its own mirror image."""
        return self.any_turn or any(move.mirrored for move in self.moves)


@dataclass(frozen=True, slots=True)
class Alignment:
    """How a returned outline lies on the issued one: ``unit`` is None where its size is that of no unit, ``size`` then says by how much."""

    move: Move
    unit: Unit | None
    size: float  # mm for one unit of the drawing as the areas give it
    agreeing: float
    symmetry: Symmetry
    root_mean_square: float  # mm, over the whole returned outline

    def turned_over(self) -> str:
        """What its lines cannot tell, in words; empty where they tell all."""
        kinds = []
        if self.symmetry.any_turn:
            kinds.append("turned by any angle")
        elif self.symmetry.turns:
            kinds.append(f"turned by {' or '.join(f'{turn:g}°' for turn in self.symmetry.turns)}")
        if self.symmetry.mirrored:
            kinds.append("mirrored")
        return " or ".join(kinds)


def align(issued: Outline, returned: Outline, *, limit: float = 0.5, within: float = math.inf) -> Alignment:
    """Lay a closed counter-clockwise outline of a drawing, in its own units, on the issued one, mm; ``limit`` is what counts as agreeing.

    An outline that lies off by more than twice ``within`` (root of the mean square, mm) is laid roughly and no further.

    Of moves that the issued outline's symmetry makes equal the one is taken that mirrors not, and turns and shifts least.

    >>> from geometry.outline.shapes import polygon
    >>> issued = polygon([(0, 0), (900, 0), (800, 450), (0, 500)])
    >>> found = align(issued, Move(turn=math.pi / 2, dx=70).outline(issued))
    >>> round(found.move.turned, 6), found.move.mirrored, found.unit.name, round(found.agreeing, 6)
    (90.0, False, 'millimetres', 1.0)
    """
    size = math.sqrt(area(issued) / area(returned))
    unit = unit_of(size)
    scale = size if unit is None else unit.scale
    middle = centroid(returned)
    rough, far = min(_rough(issued, returned, scale), key=lambda each: round(each[1], 9))
    symmetry = symmetry_of(issued, limit)
    first = _preferred(rough, symmetry, middle)
    move = _settled_on_what_agrees(issued, returned, first, limit) if far <= 2.0 * within else first
    off = np.abs(nearest(issued, _placed(move, evenly(returned, STEPS))).distance)
    return Alignment(move, unit, size, float((off <= limit).mean()), symmetry, float(np.sqrt((off * off).mean())))


def likeness(issued: Outline, returned: Outline) -> float:
    """How far the shape of a returned outline is from the issued one, whatever its size: 0 is the same, a square to a circle 0.1.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> round(likeness(rectangle(100, 50), rectangle(20, 10)), 6), 0.1 < likeness(rectangle(100, 50), circle(70)) < 1
    (0.0, True)
    """
    first, second = _walked(issued), _walked(returned)
    best = max(float(np.abs(_correlated(first, each)).max()) for each in (second, _flipped(second)))
    whole = float(np.linalg.norm(first) * np.linalg.norm(second))
    return math.sqrt(max(0.0, 2.0 * (1.0 - best / whole)))


@lru_cache(maxsize=64)
def symmetry_of(issued: Outline, limit: float) -> Symmetry:
    """The moves, beside none, under which an outline is itself within ``limit`` mm.

    >>> from geometry.outline.shapes import circle, rectangle
    >>> symmetry_of(rectangle(100, 50), 0.5).turns, symmetry_of(rectangle(100, 50), 0.5).mirrored
    ((180.0,), True)
    >>> symmetry_of(circle(100), 0.5).any_turn
    True
    """
    places = evenly(issued, STEPS)
    middle = centroid(issued)
    if _farthest(issued, _about(middle, 1.0), places) <= limit:
        return Symmetry((), any_turn=True)
    found: list[Move] = []
    for move, _ in _rough(issued, issued, 1.0):
        if not move.mirrored and abs(move.turned) < 0.5:
            continue
        if _farthest(issued, move, places) <= limit and all(_apart(move, other) > 0.5 for other in found):
            found.append(move)
    return Symmetry(tuple(found), any_turn=False)


def _apart(one: Move, other: Move) -> float:
    """By how many degrees two moves turn differently; infinite where one mirrors and the other does not."""
    return math.inf if one.mirrored != other.mirrored else abs(math.remainder(one.turned - other.turned, 360.0))


def _about(middle: tuple[float, float], turn: float) -> Move:
    """A turn about a place."""
    cosine, sine = math.cos(turn), math.sin(turn)
    x, y = middle
    return Move(turn=turn, dx=x - cosine * x + sine * y, dy=y - sine * x - cosine * y)


def _farthest(issued: Outline, move: Move, places: Floats) -> float:
    return float(np.abs(nearest(issued, _placed(move, places)).distance).max())


def _placed(move: Move, places: Floats) -> Floats:
    """Places of the drawing on the pane."""
    x, y = move.scale * (-places[:, 0] if move.mirrored else places[:, 0]), move.scale * places[:, 1]
    cosine, sine = math.cos(move.turn), math.sin(move.turn)
    return np.stack((cosine * x - sine * y + move.dx, sine * x + cosine * y + move.dy), axis=1)


@lru_cache(maxsize=256)
def _walked(outline: Outline) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    """Places at equal steps as complex numbers about their middle."""
    places = evenly(outline, STEPS)
    along = places[:, 0] + 1j * places[:, 1]
    walked: np.ndarray[tuple[int], np.dtype[np.complex128]] = along - along.mean()
    return walked


def _flipped(walked: np.ndarray[tuple[int], np.dtype[np.complex128]]) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    """The mirror image, walked counter-clockwise again."""
    flipped: np.ndarray[tuple[int], np.dtype[np.complex128]] = -np.conj(walked[::-1])
    return flipped


def _correlated(
    issued: np.ndarray[tuple[int], np.dtype[np.complex128]], returned: np.ndarray[tuple[int], np.dtype[np.complex128]]
) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    """Of every step by which one walk is ahead of the other: how well they match, and as its angle the turn between them."""
    found: np.ndarray[tuple[int], np.dtype[np.complex128]] = np.fft.ifft(np.fft.fft(issued) * np.conj(np.fft.fft(returned)))
    return found


def _rough(issued: Outline, returned: Outline, scale: float) -> list[tuple[Move, float]]:
    """Ways of laying an outline on the issued one, each settled by least squares, with the root of the mean square distance, mm."""
    first, second = _walked(issued), _walked(returned)
    places = evenly(returned, STEPS)[::THINNED]
    found: list[tuple[Move, float]] = []
    for mirrored in (False, True):
        match = _correlated(first, _flipped(second) if mirrored else second)
        strength = np.abs(match)
        peak = (strength >= np.roll(strength, 1)) & (strength >= np.roll(strength, -1)) & (strength > 0.9 * strength.max())
        order = sorted(np.flatnonzero(peak).tolist(), key=lambda step: -round(float(strength[step]), 6))
        for step in order[:CANDIDATES]:
            start = _onto_middle(issued, returned, scale, mirrored, float(np.angle(match[step])))
            if any(
                abs(math.remainder(start.turn - known.turn, math.tau)) < 1e-3 for known, _ in found if known.mirrored == mirrored
            ):
                continue
            move = _settled(issued, start, places, rest=1e-7)
            off = nearest(issued, _placed(move, places)).distance
            found.append((move, float(np.sqrt((off * off).mean()))))
    return found


def _onto_middle(issued: Outline, returned: Outline, scale: float, mirrored: bool, turn: float) -> Move:
    """The move of that turn which lays the middle of the area on the middle of the area."""
    bare = Move(scale, mirrored, turn)
    at, to = bare.place(*centroid(returned)), centroid(issued)
    return Move(scale, mirrored, turn, to.x - at.x, to.y - at.y)


def _settled(issued: Outline, start: Move, places: Floats, weights: Floats | None = None, *, rest: float = SETTLED) -> Move:
    """The move near a start with the least sum of squared true distances, each place with its weight."""
    move, size = start, box_diagonal(issued)
    share = np.ones(len(places)) if weights is None else weights
    for _ in range(ROUNDS):
        move, step = _one_step(issued, move, places, share, size)
        if step <= rest * size:
            break
    return move


def _one_step(issued: Outline, move: Move, places: Floats, weights: Floats, size: float) -> tuple[Move, float]:
    """One round of Gauss and Newton; how far it moved the outline, mm."""
    laid = _placed(move, places)
    near = nearest(issued, laid)
    off = np.where(np.abs(near.distance) > 1e-9, near.distance, 1.0)[:, None]
    normal = np.where(np.abs(near.distance)[:, None] > 1e-9, (laid - near.foot) / off, near.outward)
    middle = laid.mean(axis=0)
    arm = (laid - middle) / size
    rows = np.stack((normal[:, 0], normal[:, 1], arm[:, 0] * normal[:, 1] - arm[:, 1] * normal[:, 0]), axis=1)
    root = np.sqrt(weights)[:, None]
    change = np.linalg.lstsq(rows * root, -near.distance * root[:, 0], rcond=1e-7)[0]
    turn = max(-0.2, min(0.2, float(change[2]) / size))
    about = _about((float(middle[0]), float(middle[1])), turn)
    there = Move(turn=about.turn, dx=about.dx + float(change[0]), dy=about.dy + float(change[1])).after(move)
    return there, float(np.abs(change).max())


def _preferred(rough: Move, symmetry: Symmetry, middle: tuple[float, float]) -> Move:
    """Of the moves that come to the same: not mirrored, then turned least, then shifted least."""
    if symmetry.any_turn:
        straight = Move(rough.scale)
        at, to = straight.place(*middle), rough.place(*middle)
        return Move(rough.scale, dx=to.x - at.x, dy=to.y - at.y)
    every = [rough, *(move.after(rough) for move in symmetry.moves)]
    return min(every, key=lambda move: (move.mirrored, round(abs(move.turned), 2), move.turned < 0))


def _settled_on_what_agrees(issued: Outline, returned: Outline, start: Move, limit: float) -> Move:
    """The move under which most of the outline agrees; of equal ones the one nearest to the drawing's own coordinates."""
    places = evenly(returned, STEPS)
    best = _settled(issued, start, places)
    farthest = float(np.abs(nearest(issued, _placed(best, places)).distance).max())
    if farthest <= 1e-6 * box_diagonal(issued) or not _sides(issued):
        return best  # all of it agrees; or there are no sides of which one could be out while the others are right
    tried = [best, *_laid_on_sides(issued, places, best)]
    own = Move(start.scale, start.mirrored, 0.0)
    if not start.mirrored and abs(start.turned) < 1.0 and math.hypot(start.dx, start.dy) < 0.02 * box_diagonal(issued):
        tried.insert(0, own)
    settled = [_on_inliers(issued, places, move, limit) for move in tried]
    cost = [_disagreeing(issued, move, places, limit) for move in settled]
    least = min(cost)
    equal = [move for move, each in zip(settled, cost, strict=True) if each <= least + ALIKE]
    return min(equal, key=lambda move: (round(abs(move.turn - start.turn), 6), round(math.hypot(move.dx, move.dy), 3)))


def _disagreeing(issued: Outline, move: Move, places: Floats, limit: float) -> float:
    """The share of the outline that lies off by the limit or more, what lies off by less counted by the square of it."""
    off = nearest(issued, _placed(move, places)).distance / limit
    return float(np.minimum(off * off, 1.0).mean())


def _on_inliers(issued: Outline, places: Floats, move: Move, limit: float) -> Move:
    """Settled by least squares in which what lies far off weighs little, and in the end nearly nothing."""
    size = box_diagonal(issued)
    for share in SOFTER:
        for _ in range(ROUNDS):
            off = nearest(issued, _placed(move, places)).distance / (share * limit)
            move, step = _one_step(issued, move, places, 1.0 / (1.0 + off * off) ** 2, size)
            if step <= 1e-8 * size:
                break
    return move


def _laid_on_sides(issued: Outline, places: Floats, start: Move) -> list[Move]:
    """Laid on two neighbouring straight sides alone, for every such pair."""
    parts, sides = segments(issued), _sides(issued)
    on = nearest(issued, _placed(start, places)).segment
    return [
        _settled(issued, start, places, np.isin(on, pair).astype(float), rest=1e-8)
        for pair in _pairs(sides)
        if _crossing(parts, pair)
    ]


def _sides(issued: Outline) -> list[int]:
    """The straight segments that are long enough to lay a drawing on."""
    parts = segments(issued)
    whole = math.fsum(part.length for part in parts)
    return [index for index, part in enumerate(parts) if isinstance(part, Line) and part.length >= LONG * whole]


def _pairs(sides: Sequence[int]) -> list[tuple[int, int]]:
    return list(zip(sides, (*sides[1:], *sides[:1]), strict=True)) if len(sides) > 2 else []


def _crossing(parts: Sequence[object], pair: tuple[int, int]) -> bool:
    one, other = parts[pair[0]], parts[pair[1]]
    assert isinstance(one, Line)
    assert isinstance(other, Line)
    first, second = one.tangent_at(0.0), other.tangent_at(0.0)
    return abs(first.x * second.y - first.y * second.x) > 0.2


__all__ = ["Alignment", "Symmetry", "align", "likeness", "symmetry_of"]
