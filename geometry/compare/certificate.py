"""The local proof of a best placing: the contacts that hold the pane, each with its multiplier.

Terms
-----
contact
    A pair of places at the least gap. Where the multipliers (0 or more, 1 in all) balance the squares of the contacts and their
    levers, no small shift or turn makes every contact wider: at most four of them are needed for it.
unbalanced
    What is left of that balance: shifts as shares of 1, the turn as a share of the farthest place of the pane. 0 in a proof.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.climb import rise_of
from geometry.compare.near import point_of

if TYPE_CHECKING:
    from geometry.compare.gaps import Gaps
    from geometry.outline.loop import Point

AT_THE_LEAST = 1e-6
"""mm over the least gap within which a pair is a contact."""
BALANCED = 1e-6
"""What may be left of the balance by rounding."""


@dataclass(frozen=True, slots=True)
class Contact:
    """One contact: place on the pane and on the wall, unit vector from wall to pane, lever about the pivot and gap, mm, and multiplier."""

    on_pane: Point
    on_wall: Point
    square: Point
    lever: float
    gap: float
    multiplier: float


def contacts_of(gaps: Gaps, far: float) -> tuple[tuple[Contact, ...], float]:
    """The contacts that hold the pane, greatest multiplier first, and what they leave unbalanced."""
    from scipy.optimize import nnls

    near = gaps.below(gaps.least + AT_THE_LEAST)
    rows = np.vstack((rise_of(near, far).T, np.ones(len(near.gap))))
    shares, left = nnls(rows, np.array([0.0, 0.0, 0.0, 1.0]))
    held = [i for i in np.argsort(-shares, kind="stable") if shares[i] > BALANCED]
    found = tuple(
        Contact(
            point_of(near.on_pane[i]),
            point_of(near.on_wall[i]),
            point_of(near.square[i]),
            float(near.lever[i]),
            float(near.gap[i]),
            float(shares[i]),
        )
        for i in held
    )
    return found, float(left)


__all__ = ["AT_THE_LEAST", "BALANCED", "Contact", "contacts_of"]
