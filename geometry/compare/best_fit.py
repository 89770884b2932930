"""The best fit of a pane in its recess: shift and turn with the largest least gap, what is left then centred, both proved.

Terms
-----
pivot
    The middle of the pane's box: the turn is about it, the shift is its way.
largest least gap
    The least gap that no other placing within the turns allowed betters.
ceiling
    The proved bound over every placing: it lies over the largest least gap by what is not proved.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.centring import Centring
from geometry.compare.certificate import BALANCED, Contact, contacts_of
from geometry.compare.climb import climbed
from geometry.compare.curve import curve_of
from geometry.compare.gaps import Placing, gaps_at
from geometry.compare.parts import convex_parts
from geometry.outline.loop import Point, Vertex
from geometry.outline.measure import bounding_box

if TYPE_CHECKING:
    from geometry.compare.curve import Curve, Floats
    from geometry.outline.loop import Outline

WIDEST_TURN = 45.0
"""Degrees either way within which the best placing is looked for: a pane keeps its sill at the sill (own default)."""
GIVEN_AWAY = 0.02
"""mm of the largest least gap that go into centring the rest (common practice, no source)."""
TOLERANCE = 0.001
"""mm within which ceiling and largest least gap are to agree."""


@dataclass(frozen=True, slots=True)
class Fit:
    """A placed pane, mm and degrees, in the coordinates of pane and recess as they were given.

    ``shift`` and ``turn`` (to the left) are of the centred pane, whose least gap is ``least_gap``. ``largest`` is the largest least
    gap, ``contacts`` hold it in the placing before centring, ``unbalanced`` is what they leave of the balance, ``ceiling`` bounds every placing.
    """

    pivot: Point
    shift: Point
    turn: float
    least_gap: float
    at: Contact
    largest: float
    contacts: tuple[Contact, ...]
    unbalanced: float
    ceiling: float | None
    programmes: int
    turns: tuple[float, float]

    @property
    def proved(self) -> bool:
        """Whether the ceiling agrees with the largest least gap."""
        return self.ceiling is not None and self.ceiling - self.largest <= TOLERANCE * (1 + 1e-6)

    @property
    def balanced(self) -> bool:
        """Whether the contacts balance: no small move makes all of them wider."""
        return self.unbalanced <= BALANCED

    @property
    def per_metre(self) -> float:
        """The turn in mm per metre, to the left."""
        return 1000.0 * math.tan(math.radians(self.turn))

    def place(self, point: Point) -> Point:
        """Where a place of the pane comes to lie."""
        cosine, sine = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        x, y = point.x - self.pivot.x, point.y - self.pivot.y
        return Point(self.pivot.x + self.shift.x + x * cosine - y * sine, self.pivot.y + self.shift.y + x * sine + y * cosine)

    def taken_back(self, point: tuple[float, float]) -> Point:
        """The place of the pane that comes to lie at a point: the way back from ``place``."""
        cosine, sine = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        x, y = point[0] - self.pivot.x - self.shift.x, point[1] - self.pivot.y - self.shift.y
        return Point(self.pivot.x + x * cosine + y * sine, self.pivot.y - x * sine + y * cosine)

    def placed(self, outline: Outline) -> Outline:
        """An outline that goes with the pane, where it comes to lie."""
        return replace(outline, vertices=tuple(Vertex(*self.place(Point(v.x, v.y)), v.bulge) for v in outline.vertices))


@dataclass(frozen=True, slots=True)
class Setting:
    """Pane and recess as arrays about the pivot."""

    pane: Curve
    recess: Curve
    pivot: Point
    far: float
    turns: tuple[float, float]

    @classmethod
    def of(cls, pane: Outline, recess: Outline, widest_turn: float) -> Setting:
        """The arrays of two outlines; ``widest_turn`` in degrees either way."""
        pivot = bounding_box(pane).middle
        curve = curve_of(pane, pivot)
        wide = math.radians(widest_turn)
        return cls(curve, curve_of(recess, pivot), pivot, farthest(curve), (-wide, wide))


def farthest(pane: Curve) -> float:
    """How far the farthest place of a pane lies from its pivot, mm."""
    ends = np.hypot(*pane.start.T)
    arcs = pane.side != 0
    return float(max(ends.max(), (np.hypot(*pane.centre[arcs].T) + pane.radius[arcs]).min(initial=0.0)))


def best_fit(
    pane: Outline,
    recess: Outline,
    *,
    widest_turn: float = WIDEST_TURN,
    given_away: float = GIVEN_AWAY,
    tolerance: float = TOLERANCE,
    prove: bool = True,
) -> Fit:
    """Place a pane in its recess: the least gap as large as possible, then what is left centred.

    Parameters
    ----------
    pane, recess
        Outlines in one set of coordinates, mm. Both may have arcs and corners that turn inwards.
    widest_turn
        Degrees either way within which the pane may be turned, up to 180.
    given_away
        mm of the largest least gap that may go into centring the other sides; 0 gives none away.
    tolerance
        mm within which the ceiling is to agree with the largest least gap.
    prove
        Look through every turn: without it the placing is the best one near the pane upright in the middle of the recess, and
        there is no ceiling.
    """
    setting = Setting.of(pane, recess, widest_turn)
    best, largest = started(setting)
    ceiling, programmes = None, 0
    if prove:
        from geometry.compare.ceiling import proved

        parts = [curve_of(part, setting.pivot) for part in convex_parts(pane)]
        proof = proved(setting.pane, setting.recess, best, far=setting.far, turns=setting.turns, tolerance=tolerance, parts=parts)
        best, largest, ceiling, programmes = proof
    gaps = gaps_at(setting.pane, setting.recess, best)
    contacts, unbalanced = contacts_of(gaps, setting.far)
    centring = Centring(setting.pane, setting.recess, far=setting.far, turns=setting.turns)
    near = gaps.below(gaps.least + 1e-6)
    shares = _shares(near.on_wall, contacts)
    held = dict.fromkeys(centring.held(near, shares, best), largest)
    final = centring.best(best, held, given_away=given_away) if held else best
    return as_fit(setting, final, largest, contacts, unbalanced, ceiling, programmes)


def started(setting: Setting) -> tuple[Placing, float]:
    """The best placing near the pane upright with its box in the middle of the recess's."""
    low, high = setting.recess.support(np.array([(-1.0, 0.0), (0.0, -1.0)]))[0], setting.recess.support(np.eye(2))[0]
    middle = (high - low) / 2
    start = Placing(float(middle[0]), float(middle[1]), 0.0)
    return climbed(setting.pane, setting.recess, start, far=setting.far, turns=setting.turns, reach=max(1e-3, 0.01 * setting.far))


def _shares(walls: Floats, contacts: tuple[Contact, ...]) -> Floats:
    shares = np.zeros(len(walls))
    for contact in contacts:
        shares[int(np.argmin(np.hypot(*(walls - contact.on_wall).T)))] = contact.multiplier
    return shares


def as_fit(
    setting: Setting,
    placing: Placing,
    largest: float,
    contacts: tuple[Contact, ...],
    unbalanced: float,
    ceiling: float | None,
    programmes: int,
) -> Fit:
    """A placing in the coordinates of the outlines."""
    gaps = gaps_at(setting.pane, setting.recess, placing)
    i = int(np.argmin(gaps.gap))
    at = Contact(Point(*gaps.on_pane[i]), Point(*gaps.on_wall[i]), Point(*gaps.square[i]), float(gaps.lever[i]), gaps.least, 0.0)
    return Fit(
        setting.pivot,
        Point(placing.x, placing.y),
        math.degrees(placing.turn),
        gaps.least,
        _shifted(at, setting.pivot),
        largest,
        tuple(_shifted(contact, setting.pivot) for contact in contacts),
        unbalanced,
        ceiling,
        programmes,
        (math.degrees(setting.turns[0]), math.degrees(setting.turns[1])),
    )


def _shifted(contact: Contact, pivot: Point) -> Contact:
    one, other = contact.on_pane, contact.on_wall
    return Contact(
        Point(float(one.x + pivot.x), float(one.y + pivot.y)),
        Point(float(other.x + pivot.x), float(other.y + pivot.y)),
        Point(float(contact.square.x), float(contact.square.y)),
        contact.lever,
        contact.gap,
        contact.multiplier,
    )


__all__ = ["GIVEN_AWAY", "TOLERANCE", "WIDEST_TURN", "Fit", "Setting", "as_fit", "best_fit", "farthest", "started"]
