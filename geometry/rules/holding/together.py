"""What loads the bead at the same time: shear from heat and from bending, tension and shear, the bent pane at the widest gap.

Terms
-----
shear from bending
    The bent pane slopes over its bead and draws in: its inner face moves along the landing. From the bent plate.
use
    A stress as a share of what the engineer lets the bond carry.

Stresses are MPa, lengths mm.
"""

from __future__ import annotations

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Megapascals, Millimetres


@calculation(
    title="Shear of the bead from heat and bending",
    formula="shear from heat + shear from bending",
    unit="MPa",
    source="sum of both amounts at one place, whichever way they point: on the safe side",
    status=Status.DERIVED,
)
def shear_together(*, heat: Megapascals, bending: Megapascals) -> float:
    """Shear stress of the bead, MPa, from the movement in heat and from the slope and pull-in of the bent pane."""
    require.not_negative(heat=heat, bending=bending)
    return heat + bending


@calculation(
    title="Use of the bead by tension and shear together",
    formula="(tension / design tension)² + (shear / design shear)²",
    unit="",
    source="quadratic sum of the two uses; ETAG 002-1 holds each by itself",
    status=Status.COMMON_PRACTICE,
)
def combined_use(*, tension: Megapascals, design_tension: Megapascals, shear: Megapascals, design_shear: Megapascals) -> float:
    """How much of the bead is used by both at once; 1 is all of it."""
    require.not_negative(tension=tension, shear=shear)
    require.positive(design_tension=design_tension, design_shear=design_shear)
    return (tension / design_tension) ** 2 + (shear / design_shear) ** 2


@calculation(
    title="Tension along the bead at its widest gap",
    formula="tension (mean across the bead, pane bent on it) × bond width / contact width at the widest gap",
    unit="MPa",
    source="the reaction of the bent pane on what the bead wets there: an approximation, for the plate is bent on a bead of full width",
    status=Status.DERIVED,
)
def tension_at_gap(*, tension: Megapascals, bond_width: Millimetres, contact_width: Millimetres) -> float:
    """Tension, MPa, found on the bond width and put on the contact width, both mm."""
    require.not_negative(tension=tension)
    require.positive(bond_width=bond_width, contact_width=contact_width)
    return tension * bond_width / contact_width


@calculation(
    title="Bent pane over trapezoidal rule",
    formula="bent (tension along the bead, pane bent on it) / trapezoidal (tension by the trapezoidal rule at the bond width)",
    unit="",
    source="ratio",
    status=Status.DERIVED,
)
def bent_over_rule(*, bent: Megapascals, trapezoidal: Megapascals) -> float:
    """How many times as hard the bent pane pulls as the rule says; both MPa."""
    require.not_negative(bent=bent)
    require.positive(trapezoidal=trapezoidal)
    return bent / trapezoidal


__all__ = ["bent_over_rule", "combined_use", "shear_together", "tension_at_gap"]
