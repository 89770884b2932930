"""Thickness, weight and stiffness of the pane; its mass stands with the materials.

Terms
-----
ply, interlayer
    A sheet of glass and the film between two of them; thicknesses from the weather face inwards, mm.
effective thickness
    Thickness of a single pane that bends, or is stressed, like the laminate.
coupling
    Share of the shear the interlayers pass on: 0 the plies slide, 1 they act as one.

Areas mm², masses kg, weights N.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Kilograms, Megapascals, Millimetres, Ratio

GRAVITY = 9.81
"""m/s²"""


@calculation(title="Weight", formula="mass × 9.81 m/s²", unit="N", source="gravity", status=Status.DERIVED)
def weight(*, mass: Kilograms) -> float:
    """Weight of a mass in kg, N."""
    require.not_negative(mass=mass)
    return mass * GRAVITY


@calculation(
    title="Effective thickness for deflection",
    formula="cube root of (Σ ply³ + 12 × coupling × Σ ply × distance²), distance: from the middle of a ply "
    "to the centroid of all plies, interlayers between them",
    unit="mm",
    source="EN 16612, laminated glass",
    status=Status.FROM_MEMORY,
)
def effective_thickness(*, plies: Sequence[Millimetres], interlayers: Sequence[Millimetres] = (), coupling: Ratio = 0.0) -> float:
    """Thickness of the single pane that bends like the laminate, mm."""
    _check(plies, interlayers)
    require.between(0, 1, coupling=coupling)
    total = math.fsum(ply**3 for ply in plies)
    total += (
        12
        * coupling
        * math.fsum(ply * away**2 for ply, away in zip(plies, distances_from_centroid(plies, interlayers), strict=True))
    )
    return math.cbrt(total)


@calculation(
    title="Effective thickness for stress",
    formula="√(effective thickness for deflection³ / (ply + 2 × coupling × distance)), the least of the plies; "
    "distance: from the middle of a ply to the centroid of all plies, interlayers between them",
    unit="mm",
    source="EN 16612, laminated glass",
    status=Status.FROM_MEMORY,
)
def effective_thickness_for_stress(
    *, plies: Sequence[Millimetres], interlayers: Sequence[Millimetres] = (), coupling: Ratio = 0.0
) -> float:
    """Thickness of the single pane that is stressed like the ply that is stressed most, mm."""
    return min(stress_thicknesses(plies=plies, interlayers=interlayers, coupling=coupling))


@calculation(
    title="Coupling by the interlayer's shear modulus",
    formula="1 / (1 + 9.6 × modulus of glass × Σ ply × distance from the middle² × interlayer / (modulus of interlayer × distance of "
    "the plies² × short side²))",
    unit="",
    source="ASTM E1300 appendix X9 (Wölfel, Bennison), two plies",
    status=Status.FROM_MEMORY,
)
def shear_transfer(
    *,
    plies: Sequence[Millimetres],
    interlayers: Sequence[Millimetres],
    glass_modulus: Megapascals,
    interlayer_modulus: Megapascals,
    short_side: Millimetres,
) -> float:
    """Coupling of two plies, from 0 (they slide) to 1 (one sheet); raises ``ValueError`` for another number of plies.

    >>> round(shear_transfer(plies=(9.02, 9.02), interlayers=(1.52,), glass_modulus=71_700, interlayer_modulus=0.44, short_side=1000), 5)
    0.08529
    """
    _check(plies, interlayers)
    if len(plies) != 2:
        raise ValueError(f"plies: found {len(plies)}, allowed: 2")
    require.positive(glass_modulus=glass_modulus, interlayer_modulus=interlayer_modulus, short_side=short_side)
    away = distances_from_centroid(plies, interlayers)
    second = math.fsum(ply * each**2 for ply, each in zip(plies, away, strict=True))
    apart = math.fsum(plies) / 2 + interlayers[0]
    return 1 / (1 + 9.6 * glass_modulus * second * interlayers[0] / (interlayer_modulus * apart**2 * short_side**2))


def stress_thicknesses(*, plies: Sequence[float], interlayers: Sequence[float] = (), coupling: float = 0.0) -> tuple[float, ...]:
    """Thickness of the single pane that is stressed like each ply, mm, from the outside in."""
    cubed = effective_thickness(plies=plies, interlayers=interlayers, coupling=coupling) ** 3
    away = distances_from_centroid(plies, interlayers)
    return tuple(math.sqrt(cubed / (ply + 2 * coupling * each)) for ply, each in zip(plies, away, strict=True))


def distances_from_centroid(plies: Sequence[float], interlayers: Sequence[float]) -> tuple[float, ...]:
    """Distance of each ply's middle from the centroid of the glass, mm; on equal plies this is the middle of the pane."""
    middles = []
    level = 0.0
    for place, ply in enumerate(plies):
        middles.append(level + ply / 2)
        level += ply + (interlayers[place] if place < len(interlayers) else 0.0)
    centroid = math.fsum(ply * middle for ply, middle in zip(plies, middles, strict=True)) / math.fsum(plies)
    return tuple(abs(middle - centroid) for middle in middles)


def _check(plies: Sequence[float], interlayers: Sequence[float]) -> None:
    if not plies:
        raise ValueError("plies: found none, allowed: one or more")
    for ply in plies:
        require.positive(ply=ply)
    for interlayer in interlayers:
        require.positive(interlayer=interlayer)
    if len(interlayers) != len(plies) - 1:
        raise ValueError(f"interlayers: found {len(interlayers)}, allowed: {len(plies) - 1} between {len(plies)} plies")


__all__ = [
    "GRAVITY",
    "distances_from_centroid",
    "effective_thickness",
    "effective_thickness_for_stress",
    "shear_transfer",
    "stress_thicknesses",
    "weight",
]
