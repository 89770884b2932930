"""What the materials of a joint are worth: expansion, density, strength, each with its source and status.

Terms
-----
expansion
    Change of length per length and kelvin, 1/K.
frame material
    The word the job file uses for the frame: see ``FRAME_MATERIALS``.
property
    One value with unit, source and status. Every one is a default that data of the real material replace.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import KilogramsPerCubicMetre, Millimetres, SquareMillimetres


@dataclass(frozen=True, slots=True)
class Property:
    """A value with its unit and where it comes from."""

    value: float
    unit: str
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class FrameMaterial:
    """A frame material. ``swell`` is the movement across the grain, share of width per 1 % of moisture content; else None."""

    name: str
    expansion: Property
    density: Property | None = None
    swell: Property | None = None


_PER_K = "1/K"
_HANDBOOK = "Callister, Materials Science and Engineering, table B.6"


def _frame(
    name: str,
    expansion: float,
    source: str,
    status: Status,
    density: Property | None = None,
    swell: Property | None = None,
) -> FrameMaterial:
    return FrameMaterial(name, Property(expansion, _PER_K, source, status), density, swell)


FRAME_MATERIALS: Mapping[str, FrameMaterial] = MappingProxyType(
    {
        "aluminium": _frame(
            "aluminium",
            23e-6,
            "EN 1999-1-1, 3.2.5",
            Status.PUBLISHED,
            Property(2700.0, "kg/m³", "EN 1999-1-1, 3.2.5", Status.PUBLISHED),
        ),
        "steel": _frame(
            "steel",
            12e-6,
            "EN 1993-1-1, 3.2.6",
            Status.SECOND_HAND,
            Property(7850.0, "kg/m³", "EN 1993-1-1", Status.FROM_MEMORY),
        ),
        "stainless": _frame("stainless steel", 16e-6, "EN 10088 for 1.4401; 16.0 also Callister table 19.1", Status.PUBLISHED),
        "grp": _frame(
            "glass-reinforced plastic",
            25e-6,
            "hand lay-up 15e-6 (woven) to 30e-6 (chopped mat), by lay-up",
            Status.FROM_MEMORY,
        ),
        "timber_along": _frame("timber, along the grain", 5e-6, f"{_HANDBOOK}: 3.8e-6 to 5.1e-6", Status.PUBLISHED),
        "timber_across": _frame(
            "timber, across the grain",
            30e-6,
            f"{_HANDBOOK}: 25.4e-6 to 33.8e-6",
            Status.PUBLISHED,
            swell=Property(0.0025, "per % moisture", "red oak 0.143 % radial to 0.307 % tangential per 1 %", Status.SECOND_HAND),
        ),
        "plywood": _frame("plywood", 6e-6, "expansion table of building materials", Status.SECOND_HAND),
        "cfrp": _frame("carbon-fibre reinforced plastic", 2e-6, "0 to 5e-6, by lay-up", Status.FROM_MEMORY),
    }
)
"""Frame materials by the word of the job file."""

PROPERTIES: Mapping[str, Property] = MappingProxyType(
    {
        "glass expansion": Property(9e-6, _PER_K, "EN 572-1; 9.0e-6 also Callister table B.6", Status.PUBLISHED),
        "glass density": Property(2500.0, "kg/m³", "EN 572-1", Status.SECOND_HAND),
        "glass modulus": Property(70_000.0, "MPa", "EN 572-1", Status.SECOND_HAND),
        "glass Poisson's ratio": Property(
            0.23, "", "German practice (DIN 18008-1); EN 572-1 has 0.2, EN 16612 and ASTM E1300 0.22", Status.FROM_MEMORY
        ),
        "glass specific heat": Property(720.0, "J/(kg K)", "EN 572-1", Status.SECOND_HAND),
        "glass specific heat for warming up": Property(
            840.0, "J/(kg K)", "the high end of what tables give, so that the wait errs on the long side", Status.FROM_MEMORY
        ),
        "glass refractive index": Property(1.52, "", "soda-lime silicate glass", Status.FROM_MEMORY),
        "glass conductivity": Property(1.0, "W/(m K)", "EN 572-1", Status.SECOND_HAND),
        "interlayer density": Property(1070.0, "kg/m³", "polyvinyl butyral, 1060 to 1080", Status.FROM_MEMORY),
        "EVA density": Property(950.0, "kg/m³", "ethylene-vinyl acetate, 930 to 960", Status.FROM_MEMORY),
        "ionoplast density": Property(950.0, "kg/m³", "ionoplast interlayer", Status.FROM_MEMORY),
        "adhesive shear modulus": Property(0.8, "MPa", "elastic adhesive 0.6 to 1.0; its data sheet decides", Status.FROM_MEMORY),
        "design tension": Property(
            0.14, "MPa", "20 psi of structural silicone practice (ASTM C1401); placeholder only", Status.SECOND_HAND
        ),
        "design permanent shear": Property(
            0.007, "MPa", "1 psi of structural silicone practice; placeholder only", Status.FROM_MEMORY
        ),
        "yield stress, uncured": Property(0.001, "MPa", "0.5 to 2 kPa, order of magnitude", Status.FROM_MEMORY),
        "chock modulus": Property(9.0, "MPa", "rubber of 80 Shore A", Status.FROM_MEMORY),
        "chock bearing": Property(1.0, "MPa", "rubber of 70 to 90 Shore A, pressure on the glass edge", Status.COMMON_PRACTICE),
    }
)
"""Every other value, by its name."""

GLASS_STRENGTH: Mapping[str, Property] = MappingProxyType(
    {
        "annealed": Property(45.0, "MPa", "EN 572-1, characteristic bending strength", Status.SECOND_HAND),
        "heat_strengthened": Property(70.0, "MPa", "EN 1863-1, characteristic bending strength", Status.SECOND_HAND),
        "toughened": Property(120.0, "MPa", "EN 12150-1, characteristic bending strength", Status.SECOND_HAND),
        "chemically_strengthened": Property(
            150.0, "MPa", "EN 12337-1, characteristic bending strength of float glass", Status.FROM_MEMORY
        ),
        "heat_strengthened_enamelled": Property(45.0, "MPa", "EN 1863-1, enamelled face", Status.PUBLISHED),
        "toughened_enamelled": Property(75.0, "MPa", "EN 12150-1, enamelled face", Status.PUBLISHED),
    }
)
"""Characteristic bending strength by treatment. The printed band is where a bonded edge bends."""

GLASS_EXPANSION = PROPERTIES["glass expansion"].value
GLASS_DENSITY = PROPERTIES["glass density"].value
GLASS_MODULUS = PROPERTIES["glass modulus"].value
GLASS_POISSON = PROPERTIES["glass Poisson's ratio"].value
GLASS_REFRACTIVE_INDEX = PROPERTIES["glass refractive index"].value
AIR_DENSITY = 1.225
"""Of the standard atmosphere at sea level (ISO 2533), kg/m³."""
INTERLAYER_DENSITIES: Mapping[str, Property] = MappingProxyType(
    {
        "pvb": PROPERTIES["interlayer density"],
        "ionoplast": PROPERTIES["ionoplast density"],
        "eva": PROPERTIES["EVA density"],
    }
)
"""Density of the interlayer by the word of the job file."""

REGISTER: Mapping[str, Property] = MappingProxyType(
    dict(PROPERTIES)
    | {f"{name} expansion": material.expansion for name, material in FRAME_MATERIALS.items()}
    | {f"{name} density": material.density for name, material in FRAME_MATERIALS.items() if material.density is not None}
    | {f"{name} swell": material.swell for name, material in FRAME_MATERIALS.items() if material.swell is not None}
    | {f"{treatment} glass strength": strength for treatment, strength in GLASS_STRENGTH.items()}
)
"""The one register of materials: every entry by its name, with unit, source and status."""

EXPANSION: Mapping[str, float] = MappingProxyType(
    {"glass": GLASS_EXPANSION} | {name: material.expansion.value for name, material in FRAME_MATERIALS.items()}
)
"""Expansion of the glass and of every frame material, 1/K."""


@calculation(
    title="Mass of the pane",
    formula="area × (glass density × sum of plies + interlayer density × sum of interlayers)",
    unit="kg",
    source="EN 572-1: 2500 kg/m³; interlayer density from memory",
    status=Status.SECOND_HAND,
)
def mass(
    *,
    area: SquareMillimetres,
    glass: Millimetres,
    interlayer: Millimetres = 0.0,
    glass_density: KilogramsPerCubicMetre,
    interlayer_density: KilogramsPerCubicMetre = 0.0,
) -> float:
    """Mass of a pane, kg, from its area in mm² and the thickness in mm of all plies and of all interlayers.

    >>> round(mass(area=1e6, glass=12, interlayer=1.52, glass_density=2500, interlayer_density=1070), 3)
    31.626
    """
    require.positive(area=area, glass=glass, glass_density=glass_density)
    require.not_negative(interlayer=interlayer)
    if interlayer > 0:
        require.positive(interlayer_density=interlayer_density)
    return area * (glass * glass_density + interlayer * interlayer_density) * 1e-9


__all__ = [
    "AIR_DENSITY",
    "EXPANSION",
    "FRAME_MATERIALS",
    "GLASS_DENSITY",
    "GLASS_EXPANSION",
    "GLASS_MODULUS",
    "GLASS_POISSON",
    "GLASS_REFRACTIVE_INDEX",
    "GLASS_STRENGTH",
    "INTERLAYER_DENSITIES",
    "PROPERTIES",
    "REGISTER",
    "FrameMaterial",
    "Property",
    "mass",
]
