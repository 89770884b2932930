"""Bending stiffness of a pane of one ply or of a laminate, by effective thickness.

Terms
-----
ply, interlayer
    A sheet of glass; the film between two plies. Both in mm, from the outside in.
shear coupling
    Share of the shear the interlayers carry between the plies: 0 the plies slide freely, 1 the laminate bends as one. It
    depends on the film, the temperature and the time under load; it is an input, never a guess.
effective thickness
    Thickness of the single ply that bends as far (for deflection) or is stressed as much (for one ply of the laminate).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.rules.materials import GLASS_MODULUS, GLASS_POISSON

YOUNG_MODULUS = GLASS_MODULUS
"""Young's modulus of soda lime silicate glass, MPa (EN 572-1)."""

POISSON = GLASS_POISSON
"""Poisson's ratio of glass, from memory of German practice (DIN 18008-1); EN 572-1 gives 0.20, other standards 0.22."""


class PlateInputError(ValueError):
    """A value of the plate that cannot be: the sentence says which, what was found and what is allowed."""


@dataclass(frozen=True, slots=True)
class EffectiveThickness:
    """Effective thicknesses, mm: one for deflection, one for the stress of each ply from the outside in."""

    deflection: float
    stress: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class GlassBuildUp:
    """The plies and interlayers of a pane, mm from the outside in, and how they work together.

    One ply needs no interlayer. ``shear_coupling`` 0 to 1 counts only for a laminate; ``young_modulus`` MPa.
    """

    plies: tuple[float, ...]
    interlayers: tuple[float, ...] = ()
    shear_coupling: float = 0.0
    young_modulus: float = YOUNG_MODULUS
    poisson: float = POISSON

    def __post_init__(self) -> None:
        if not self.plies:
            raise PlateInputError("a pane has at least one ply; none was given")
        for ply in self.plies:
            positive(ply, "thickness of a ply", "mm")
        for film in self.interlayers:
            positive(film, "thickness of an interlayer", "mm")
        if len(self.interlayers) != len(self.plies) - 1:
            raise PlateInputError(
                f"{len(self.plies)} plies need {len(self.plies) - 1} interlayers; {len(self.interlayers)} were given"
            )
        if not 0.0 <= self.shear_coupling <= 1.0:
            raise PlateInputError(f"shear coupling is {self.shear_coupling:g}; it must lie from 0 (plies slide) to 1 (one sheet)")
        positive(self.young_modulus, "Young's modulus of the glass", "MPa")
        if not 0.0 <= self.poisson < 0.5:
            raise PlateInputError(f"Poisson's ratio is {self.poisson:g}; it must lie from 0 to under 0.5")


def positive(value: float, name: str, unit: str) -> float:
    """The value, when it is finite and over 0; PlateInputError else."""
    if not (math.isfinite(value) and value > 0.0):
        raise PlateInputError(f"{name} is {value:g} {unit}; it must be a finite number over 0")
    return value


def effective_thickness(glass: GlassBuildUp) -> EffectiveThickness:
    """Effective thicknesses of a build-up.

    Source: form of EN 16612, from memory: deflection ``(sum h3 + 12 w sum h m2)^(1/3)``, stress of a ply
    ``sqrt(deflection3 / (h + 2 w m))`` with h the ply, m the distance of its middle from the middle of all plies weighted by
    thickness, w the shear coupling.

    >>> thickness = effective_thickness(GlassBuildUp((6.0, 6.0), (1.52,), shear_coupling=0.5))
    >>> round(thickness.deflection, 3), round(thickness.stress[0], 3)
    (11.318, 12.188)
    """
    middles: list[float] = []
    level = 0.0
    for i, ply in enumerate(glass.plies):
        middles.append(level + ply / 2)
        level += ply + (glass.interlayers[i] if i < len(glass.interlayers) else 0.0)
    total = math.fsum(glass.plies)
    middle = math.fsum(h * m for h, m in zip(glass.plies, middles, strict=True)) / total
    away = [abs(m - middle) for m in middles]
    coupling = glass.shear_coupling
    cubed = math.fsum(h**3 for h in glass.plies) + 12 * coupling * math.fsum(
        h * m**2 for h, m in zip(glass.plies, away, strict=True)
    )
    stress = tuple(math.sqrt(cubed / (h + 2 * coupling * m)) for h, m in zip(glass.plies, away, strict=True))
    return EffectiveThickness(cubed ** (1 / 3), stress)


def bending_stiffness(glass: GlassBuildUp) -> float:
    """D = E h3 / (12 (1 - nu2)) with the effective thickness for deflection, N mm.

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 3.

    >>> round(bending_stiffness(GlassBuildUp((10.0,))), -1)
    6159150.0
    """
    return glass.young_modulus * effective_thickness(glass).deflection ** 3 / (12 * (1 - glass.poisson**2))


__all__ = ["EffectiveThickness", "GlassBuildUp", "PlateInputError", "bending_stiffness", "effective_thickness", "positive"]
