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
from geometry.rules.units import Kilograms, Millimetres, Ratio

GRAVITY = 9.81
"""m/s²"""


@calculation(title="Weight", formula="mass × 9.81 m/s²", unit="N", source="gravity", status=Status.DERIVED)
def weight(*, mass: Kilograms) -> float:
    """Weight of a mass in kg, N."""
    require.not_negative(mass=mass)
    return mass * GRAVITY


@calculation(
    title="Effective thickness for deflection",
    formula="cube root of (Σ ply³ + 12 × coupling × Σ ply × distance from the middle²)",
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


__all__ = ["GRAVITY", "distances_from_centroid", "effective_thickness", "weight"]
