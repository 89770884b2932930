"""Heat and moisture: how far glass and frame move apart, and what that does to bond and joint.

Terms
-----
differential strain
    Free strain of the frame less that of the glass. Positive: the frame grows away and the joint opens.
bonding temperature
    Temperature of both when the pane is pressed home, °C.
fixed point
    The point of the pane that stays put against the frame: on chocks on the sill below the centroid, else the centroid.
shear strain
    Movement over bond thickness.

Lengths mm, temperatures °C, expansions 1/K, stresses MPa.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.materials import GLASS_EXPANSION
from geometry.rules.units import Celsius, Megapascals, Millimetres, Percent, PerKelvin, PerPercent, Ratio, Strain


class ThermalCase(NamedTuple):
    """Temperatures of frame and glass in one situation, °C."""

    name: str
    frame: float
    glass: float


CASES = (
    ThermalCase("hot soak", 60.0, 60.0),
    ThermalCase("sun on the glass", 30.0, 65.0),
    ThermalCase("frost night", -10.0, -10.0),
)
"""The three usual cases: dark hull in calm; black print in the sun with a cool frame; night frost. Common practice."""

BONDING_TEMPERATURE = 15.0
"""°C, common practice."""


class Extremes(NamedTuple):
    """Largest opening and closing strain of several cases, both counted positive."""

    opening: float
    closing: float

    @property
    def largest(self) -> float:
        """The larger of the two."""
        return max(self.opening, self.closing)


@calculation(
    title="Differential strain",
    formula="frame expansion × (frame - bonding temperature) - glass expansion × (glass - bonding temperature)",
    unit="",
    source="free thermal strains; the bracket of ETAG 002-1 Annex 2",
    status=Status.SECOND_HAND,
)
def differential_strain(
    *,
    frame_expansion: PerKelvin,
    glass_expansion: PerKelvin,
    frame: Celsius,
    glass: Celsius,
    bonding: Celsius,
) -> float:
    """Strain by which the frame outgrows the glass; positive opens the joint. Temperatures of frame, glass and bonding in °C."""
    require.finite(frame_expansion=frame_expansion)  # laid along its fibres a carbon laminate shrinks in heat
    require.not_negative(glass_expansion=glass_expansion)
    require.between(-100, 200, frame=frame, glass=glass, bonding=bonding)
    return frame_expansion * (frame - bonding) - glass_expansion * (glass - bonding)


def case_strains(
    *,
    frame_expansion: float,
    cases: Sequence[ThermalCase] = CASES,
    bonding: float = BONDING_TEMPERATURE,
    glass_expansion: float = GLASS_EXPANSION,
) -> tuple[tuple[ThermalCase, float], ...]:
    """Differential strain of each case, in the order given."""
    return tuple(
        (
            case,
            differential_strain(
                frame_expansion=frame_expansion,
                frame=case.frame,
                glass=case.glass,
                bonding=bonding,
                glass_expansion=glass_expansion,
            ),
        )
        for case in cases
    )


@calculation(
    title="Largest opening and closing strain",
    formula="largest positive and largest negative differential strain of the cases",
    unit="",
    source="worst of the cases",
    status=Status.DERIVED,
)
def extremes(
    *,
    frame_expansion: PerKelvin,
    cases: Sequence[ThermalCase],
    bonding: Celsius,
    glass_expansion: PerKelvin,
) -> Extremes:
    """The strains that open and close the joint most, both 0 or more."""
    strains = [
        strain
        for _, strain in case_strains(
            frame_expansion=frame_expansion,
            cases=cases,
            bonding=bonding,
            glass_expansion=glass_expansion,
        )
    ]
    if not strains:
        raise ValueError("cases: found none, allowed: one or more")
    return Extremes(max(0.0, *strains), max(0.0, *(-strain for strain in strains)))


@calculation(
    title="Movement of a point",
    formula="|differential strain| × distance from the fixed point",
    unit="mm",
    source="free movement, the bond far softer than glass and frame",
    status=Status.DERIVED,
)
def movement(*, strain: Strain, distance: Millimetres) -> float:
    """Movement of the glass against the frame at ``distance`` mm from the fixed point, mm."""
    require.finite(strain=strain)
    require.not_negative(distance=distance)
    return abs(strain) * distance


@calculation(
    title="Distance of the farthest corner of a rectangle",
    formula="on chocks √((width / 2)² + height²); free √((width / 2)² + (height / 2)²)",
    unit="mm",
    source="ETAG 002-1 Annex 2, supported and unsupported pane",
    status=Status.FROM_MEMORY,
)
def farthest_corner(*, width: Millimetres, height: Millimetres, chocked: bool) -> float:
    """From the fixed point to the corner that moves most, mm; the chocks stand under the width."""
    require.positive(width=width, height=height)
    return math.hypot(width / 2, height if chocked else height / 2)


@calculation(
    title="Shear strain of the bond",
    formula="movement / bond thickness",
    unit="",
    source="simple shear",
    status=Status.DERIVED,
)
def shear_strain(*, movement: Millimetres, bond_thickness: Millimetres) -> float:
    """Shear strain of a movement, mm."""
    require.not_negative(movement=movement)
    require.positive(bond_thickness=bond_thickness)
    return movement / bond_thickness


@calculation(
    title="Shear stress of the bond",
    formula="shear modulus × shear strain",
    unit="MPa",
    source="simple shear",
    status=Status.DERIVED,
)
def shear_stress(*, shear_modulus: Megapascals, shear_strain: Ratio) -> float:
    """Shear stress, MPa, of a modulus in MPa."""
    require.positive(shear_modulus=shear_modulus)
    require.not_negative(shear_strain=shear_strain)
    return shear_modulus * shear_strain


@calculation(
    title="Swell of a timber stile",
    formula="stile width × swell per 1 % × change of moisture content",
    unit="mm",
    source="movement of timber across the grain; red oak 0.14 to 0.31 % per 1 %",
    status=Status.SECOND_HAND,
)
def moisture_swell(*, stile_width: Millimetres, swell_per_percent: PerPercent, moisture_change: Percent) -> float:
    """Swell of one stile into the joint, mm; ``swell_per_percent`` as a share (0.0025 is 0.25 %), moisture change in %."""
    require.not_negative(stile_width=stile_width, swell_per_percent=swell_per_percent)
    require.finite(moisture_change=moisture_change)
    return stile_width * swell_per_percent * moisture_change


__all__ = [
    "BONDING_TEMPERATURE",
    "CASES",
    "Extremes",
    "ThermalCase",
    "case_strains",
    "differential_strain",
    "extremes",
    "farthest_corner",
    "moisture_swell",
    "movement",
    "shear_strain",
    "shear_stress",
]
