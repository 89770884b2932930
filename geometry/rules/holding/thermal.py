"""Heat and moisture: how far glass and frame move apart, and what that does to bond and joint.

Terms
-----
differential strain
    Free strain of the frame less that of the glass. Positive: the frame grows away and the joint opens.
bonding temperature
    Temperature when the pane is pressed home, °C; frame and glass may each have their own.
absorptance
    Share of the sunlight that a surface takes up as heat.
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
from geometry.rules.units import Celsius, Kelvins, Megapascals, Millimetres, Percent, PerKelvin, PerPercent, Ratio, Strain


class ThermalCase(NamedTuple):
    """Temperatures of frame and glass in one situation, °C."""

    name: str
    frame: float
    glass: float


SUMMER_GAIN = {"bright": (0.0, 18.0), "light": (2.0, 30.0), "dark": (4.0, 42.0)}
"""K above the highest air of the shade, by the colour of a surface: one that faces away from the sun, one that faces it or lies flat."""


class Extremes(NamedTuple):
    """Largest opening and closing strain of several cases, both counted positive."""

    opening: float
    closing: float

    @property
    def largest(self) -> float:
        """The larger of the two."""
        return max(self.opening, self.closing)


@calculation(
    title="Surface in high summer",
    formula="highest air + gain by the colour: bright 18 K, light 30 K, dark 42 K where it "
    "is sunward (faces the sun or lies flat); 0, 2 and 4 K where it is not",
    unit="°C",
    source="EN 1991-1-5:2003, table 5.2",
    status=Status.FROM_MEMORY,
)
def summer_surface(*, highest_air: Celsius, colour: str, sunward: bool) -> float:
    """Temperature of a surface in high summer, °C; colour bright, light or dark; ``sunward``: it faces the sun or lies flat.

    >>> summer_surface(highest_air=40, colour="dark", sunward=True)
    82.0
    """
    require.between(-60, 60, highest_air=highest_air)
    if colour not in SUMMER_GAIN:
        raise ValueError(f"colour: found {colour!r}, allowed: {', '.join(SUMMER_GAIN)}")
    return highest_air + SUMMER_GAIN[colour][1 if sunward else 0]


@calculation(
    title="Surface in the sun",
    formula="air + absorptance × gain, the gain that of full absorption",
    unit="°C",
    source="ASTM C1472: 56 K for surfaces of low heat capacity, 42 K for such of high",
    status=Status.FROM_MEMORY,
)
def sunlit_temperature(*, air: Celsius, absorptance: Ratio, gain: Kelvins) -> float:
    """Temperature of a surface in the sun, °C; ``gain`` in K is that of a surface that takes up all light.

    >>> sunlit_temperature(air=40, absorptance=0.9, gain=56)
    90.4
    """
    require.between(-60, 60, air=air)
    require.between(0, 1, absorptance=absorptance)
    require.not_negative(gain=gain)
    return air + absorptance * gain


@calculation(
    title="Glass beside a hot frame",
    formula="frame - difference",
    unit="°C",
    source="ETAG 002-1 Annex 2, difference of frame and glass; the figure is legible, its context is not",
    status=Status.SECOND_HAND,
)
def glass_beside_frame(*, frame: Celsius, difference: Kelvins) -> float:
    """Temperature of the glass, °C, that stays ``difference`` K behind a frame in the sun."""
    require.finite(frame=frame)
    require.not_negative(difference=difference)
    return frame - difference


@calculation(
    title="Differential strain",
    formula="frame expansion × (frame - frame bonded) - glass expansion × (glass - glass bonded), bonded: when the bead was laid",
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
    frame_bonded: Celsius,
    glass_bonded: Celsius,
) -> float:
    """Strain by which the frame outgrows the glass; positive opens the joint. Temperatures now and when bonded in °C."""
    require.finite(frame_expansion=frame_expansion)  # laid along its fibres a carbon laminate shrinks in heat
    require.not_negative(glass_expansion=glass_expansion)
    require.between(-100, 200, frame=frame, glass=glass, frame_bonded=frame_bonded, glass_bonded=glass_bonded)
    return frame_expansion * (frame - frame_bonded) - glass_expansion * (glass - glass_bonded)


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
    frame_bonded: Celsius,
    glass_bonded: Celsius,
    glass_expansion: PerKelvin,
) -> Extremes:
    """The strains that open and close the joint most, both 0 or more."""
    strains = [
        differential_strain(
            frame_expansion=frame_expansion,
            glass_expansion=glass_expansion,
            frame=case.frame,
            glass=case.glass,
            frame_bonded=frame_bonded,
            glass_bonded=glass_bonded,
        )
        for case in cases
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
    source="simple shear; a bead 2 to 3 times as wide as thick, free at its flanks, is 8 to 12 % softer (computed): safe side",
    status=Status.DERIVED,
)
def shear_stress(*, shear_modulus: Megapascals, shear_strain: Ratio) -> float:
    """Shear stress, MPa, of a modulus in MPa."""
    require.positive(shear_modulus=shear_modulus)
    require.not_negative(shear_strain=shear_strain)
    return shear_modulus * shear_strain


@calculation(
    title="Swell of a timber stile",
    formula="stile width × swell per percent × moisture change",
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
    "Extremes",
    "ThermalCase",
    "differential_strain",
    "extremes",
    "farthest_corner",
    "glass_beside_frame",
    "moisture_swell",
    "movement",
    "shear_strain",
    "shear_stress",
    "summer_surface",
    "sunlit_temperature",
]
