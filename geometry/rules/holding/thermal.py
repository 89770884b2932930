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
    frame_expansion: float,
    glass_expansion: float = GLASS_EXPANSION,
    frame: float,
    glass: float,
    bonding: float = BONDING_TEMPERATURE,
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
    frame_expansion: float,
    cases: Sequence[ThermalCase] = CASES,
    bonding: float = BONDING_TEMPERATURE,
    glass_expansion: float = GLASS_EXPANSION,
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
def movement(*, strain: float, distance: float) -> float:
    """Movement of the glass against the frame at ``distance`` mm from the fixed point, mm."""
    require.finite(strain=strain)
    require.not_negative(distance=distance)
    return abs(strain) * distance


@calculation(
    title="Movement of a point as a vector",
    formula="- differential strain × (point - fixed point)",
    unit="mm",
    source="free movement, the bond far softer than glass and frame",
    status=Status.DERIVED,
)
def movement_vector(*, strain: float, point: tuple[float, float], fixed_point: tuple[float, float]) -> tuple[float, float]:
    """Movement of the glass against the frame, mm: towards the fixed point where the frame grows away."""
    require.finite(strain=strain)
    return -strain * (point[0] - fixed_point[0]), -strain * (point[1] - fixed_point[1])


@calculation(
    title="Distance of the farthest corner of a rectangle",
    formula="on chocks √((width / 2)² + height²); free √((width / 2)² + (height / 2)²)",
    unit="mm",
    source="ETAG 002-1 Annex 2, supported and unsupported pane",
    status=Status.FROM_MEMORY,
)
def farthest_corner(*, width: float, height: float, chocked: bool) -> float:
    """From the fixed point to the corner that moves most, mm; the chocks stand under the width."""
    require.positive(width=width, height=height)
    return math.hypot(width / 2, height if chocked else height / 2)


@calculation(
    title="Change of the joint at a jamb",
    formula="differential strain × width / 2",
    unit="mm",
    source="the pane is fixed at mid-width",
    status=Status.DERIVED,
)
def jamb_change(*, strain: float, width: float) -> float:
    """Change of each jamb joint, mm; positive opens."""
    require.finite(strain=strain)
    require.positive(width=width)
    return strain * width / 2


@calculation(
    title="Change of the joint at the head",
    formula="differential strain × height on chocks, half of it free",
    unit="mm",
    source="on chocks the whole height moves into the head",
    status=Status.DERIVED,
)
def head_change(*, strain: float, height: float, chocked: bool) -> float:
    """Change of the head joint, mm; positive opens."""
    require.finite(strain=strain)
    require.positive(height=height)
    return strain * height if chocked else strain * height / 2


@calculation(
    title="Change of the joint at the sill",
    formula="0 on chocks, differential strain × height / 2 free",
    unit="mm",
    source="the chocks hold the sill",
    status=Status.DERIVED,
)
def sill_change(*, strain: float, height: float, chocked: bool) -> float:
    """Change of the sill joint, mm; positive opens."""
    require.finite(strain=strain)
    require.positive(height=height)
    return 0.0 if chocked else strain * height / 2


@calculation(
    title="Shear strain of the bond",
    formula="movement / bond thickness",
    unit="",
    source="simple shear",
    status=Status.DERIVED,
)
def shear_strain(*, movement: float, bond_thickness: float) -> float:
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
def shear_stress(*, shear_modulus: float, shear_strain: float) -> float:
    """Shear stress, MPa, of a modulus in MPa."""
    require.positive(shear_modulus=shear_modulus)
    require.not_negative(shear_strain=shear_strain)
    return shear_modulus * shear_strain


@calculation(
    title="Stretch of the bead in shear",
    formula="√(1 + shear strain²) - 1",
    unit="",
    source="Pythagoras over the slanted thickness",
    status=Status.DERIVED,
)
def shear_stretch(*, shear_strain: float) -> float:
    """Stretch of a line through the thickness, as a share."""
    require.not_negative(shear_strain=shear_strain)
    return math.hypot(1.0, shear_strain) - 1


@calculation(
    title="Change of length",
    formula="length × expansion × change of temperature",
    unit="mm",
    source="definition of the coefficient of expansion",
    status=Status.DERIVED,
)
def length_change(*, length: float, expansion: float, temperature_change: float) -> float:
    """Change of a length, in the unit of the length; positive grows."""
    require.not_negative(length=length, expansion=expansion)
    require.finite(temperature_change=temperature_change)
    return length * expansion * temperature_change


@calculation(
    title="Swell of a timber stile",
    formula="stile width × swell per 1 % × change of moisture content",
    unit="mm",
    source="movement of timber across the grain; red oak 0.14 to 0.31 % per 1 %",
    status=Status.SECOND_HAND,
)
def moisture_swell(*, stile_width: float, swell_per_percent: float = 0.0025, moisture_change: float) -> float:
    """Swell of one stile into the joint, mm; ``swell_per_percent`` as a share (0.0025 is 0.25 %), moisture change in %."""
    require.not_negative(stile_width=stile_width, swell_per_percent=swell_per_percent)
    require.finite(moisture_change=moisture_change)
    return stile_width * swell_per_percent * moisture_change


@calculation(
    title="Temperature of a surface in the sun",
    formula="air temperature + absorptance × 56 K (metal) or 42 K (heavy)",
    unit="°C",
    source="ASTM C1472",
    status=Status.FROM_MEMORY,
)
def sunlit_temperature(*, air: float, absorptance: float, gain: float = 56.0) -> float:
    """Temperature of a sunlit surface, °C; ``gain`` K for full absorption."""
    require.between(-60, 60, air=air)
    require.between(0, 1, absorptance=absorptance)
    require.not_negative(gain=gain)
    return air + absorptance * gain


@calculation(
    title="Expansion of a laminate along its fibres",
    formula="Σ modulus × expansion × share / Σ modulus × share",
    unit="1/K",
    source="Schapery's rule for one direction of fibres",
    status=Status.FROM_MEMORY,
)
def fibre_expansion(
    *, fibre_modulus: float, fibre_expansion: float, resin_modulus: float, resin_expansion: float, fibre_share: float
) -> float:
    """Expansion along the fibres, in the unit of the expansions given; moduli in one unit; ``fibre_share`` by volume."""
    require.positive(fibre_modulus=fibre_modulus, resin_modulus=resin_modulus)
    require.finite(fibre_expansion=fibre_expansion, resin_expansion=resin_expansion)
    require.between(0, 1, fibre_share=fibre_share)
    resin_share = 1 - fibre_share
    pull = fibre_modulus * fibre_expansion * fibre_share + resin_modulus * resin_expansion * resin_share
    return pull / (fibre_modulus * fibre_share + resin_modulus * resin_share)


_SUMMER_GAIN = {"bright": (0.0, 18.0), "light": (2.0, 30.0), "dark": (4.0, 42.0)}


@calculation(
    title="Summer temperature of a surface",
    formula="highest air temperature + gain by colour and exposure",
    unit="°C",
    source="EN 1991-1-5:2003, table 5.2",
    status=Status.FROM_MEMORY,
)
def summer_surface(*, highest_air: float, colour: str, sunward: bool) -> float:
    """Temperature of a surface in high summer, °C; colour bright, light or dark; ``sunward`` faces the sun or lies flat."""
    require.between(-60, 60, highest_air=highest_air)
    if colour not in _SUMMER_GAIN:
        raise ValueError(f"colour: found {colour!r}, allowed: {', '.join(_SUMMER_GAIN)}")
    return highest_air + _SUMMER_GAIN[colour][1 if sunward else 0]
