"""What the figures of the pane bent on its bead are held against, and the shear that its bending puts on the bead.

Terms
-----
characteristic strength
    Of the cured adhesive in tension, from its data sheet or its own tests: a stress that nearly every specimen bears.
on the way up
    While the pressure rises from nothing: the slope of the pane goes with the pressure, its pull with the square of it.

Stresses are MPa, lengths mm.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Megapascals, Millimetres, Ratio

Vector = tuple[Millimetres, Millimetres]


@calculation(
    title="Greatest tension along the bead by its strength",
    formula="characteristic strength / factor",
    unit="MPa",
    source="least design factor of structural silicone practice 2.5 (ASTM C1401); ETAG 002-1 takes 6",
    status=Status.FROM_MEMORY,
)
def tension_by_strength(*, strength: Megapascals, factor: Ratio) -> float:
    """Stress, MPa, beyond which the bead fails; strength in MPa."""
    require.positive(strength=strength, factor=factor)
    return strength / factor


@calculation(
    title="Greatest tension along the bead by its design stress",
    formula="times × design tension",
    unit="MPa",
    source="stands in for the strength where none is given, so many times as the limit says",
    status=Status.OWN_DEFAULT,
)
def tension_by_design(*, design_tension: Megapascals, times: Ratio) -> float:
    """Stress, MPa, beyond which the bead fails where nobody gave its strength."""
    require.positive(design_tension=design_tension, times=times)
    return times * design_tension


@calculation(
    title="Stress of the glass beyond which a person looks",
    formula="characteristic strength / factor",
    unit="MPa",
    source="no allowed stress and no approval: what the rule that governs allows is for that rule",
    status=Status.OWN_DEFAULT,
)
def glass_look(*, strength: Megapascals, factor: Ratio) -> float:
    """Stress, MPa, up to which nothing is said of a glass of this characteristic strength, MPa."""
    require.positive(strength=strength, factor=factor)
    return strength / factor


@calculation(
    title="Shear strain of the bead from bending",
    formula="greatest length of the vector slope × share + pull × share², for any share of the pressure up to 1, / bond thickness; slope and pull: "
    "movements (right; up) of the bonded face under the full pressure",
    unit="",
    source="slope of a bent plate × distance of its bonded face; its middle plane draws in by half the integral of the slope squared",
    status=Status.DERIVED,
)
def bending_shear_strain(*, slope: Vector, pull: Vector, bond_thickness: Millimetres) -> float:
    """Strain, as a share, of movements (x, y) mm of the bonded face at the full pressure: by the slope, and by the pull.

    Where both oppose each other the strain may be greatest before the pressure is.

    >>> round(bending_shear_strain(slope=(0.4, 0.0), pull=(-0.4, 0.0), bond_thickness=5), 6)  # 0.4 x 1/2 - 0.4 x 1/4
    0.02
    """
    require.finite(slope=math.hypot(*slope), pull=math.hypot(*pull))
    require.positive(bond_thickness=bond_thickness)
    along = slope[0] * pull[0] + slope[1] * pull[1]
    of_slope, of_pull = math.hypot(*slope) ** 2, math.hypot(*pull) ** 2
    shares = [1.0]
    # where the movement stands still: |slope|² + 3 slope · pull share + 2 |pull|² share² = 0
    inside = 9 * along**2 - 8 * of_slope * of_pull
    if of_pull > 0.0 and inside >= 0.0:
        shares += [root for sign in (-1, 1) if 0.0 < (root := (-3 * along + sign * math.sqrt(inside)) / (4 * of_pull)) < 1.0]
    moved = max(math.hypot(*(s * share + p * share**2 for s, p in zip(slope, pull, strict=True))) for share in shares)
    return moved / bond_thickness


__all__ = ["bending_shear_strain", "glass_look", "tension_by_design", "tension_by_strength"]
