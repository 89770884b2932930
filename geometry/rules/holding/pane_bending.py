"""Quick figures of a pane bent by even pressure, simply supported all round: information, never an approval.

Terms
-----
short side, long side
    Of the unsupported rectangle, mm.
aspect
    Long side over short side.
peel strain
    Extra strain at the edge of the bead because the bent pane turns there.

Pressures kPa, stresses and moduli MPa, lengths mm.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.holding.bond import KILOPASCAL
from geometry.rules.materials import GLASS_MODULUS, GLASS_POISSON

_ROARK = "Roark's Formulas for Stress and Strain, table 11.4 case 1a (Poisson's ratio 0.3)"
_TABLE_POISSON = 0.3
_ASPECTS = (1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 3.0, 4.0, 5.0, math.inf)
_STRESS = (0.2874, 0.3762, 0.4530, 0.5172, 0.5688, 0.6102, 0.7134, 0.7410, 0.7476, 0.7500)
_DEFLECTION = (0.0444, 0.0616, 0.0770, 0.0906, 0.1017, 0.1110, 0.1335, 0.1400, 0.1417, 0.1421)
_EDGE = (0.420, 0.455, 0.478, 0.491, 0.499, 0.503, 0.505, 0.502, 0.501, 0.500)


@calculation(title="Stress factor", formula="table by aspect, linear between", unit="", source=_ROARK, status=Status.PUBLISHED)
def stress_factor(*, aspect: float) -> float:
    """Factor of the largest bending stress; ``aspect`` 1 or more."""
    return _between(aspect, _STRESS)


@calculation(
    title="Deflection factor", formula="table by aspect, linear between", unit="", source=_ROARK, status=Status.PUBLISHED
)
def deflection_factor(*, aspect: float) -> float:
    """Factor of the deflection at the centre; ``aspect`` 1 or more."""
    return _between(aspect, _DEFLECTION)


@calculation(
    title="Edge reaction factor", formula="table by aspect, linear between", unit="", source=_ROARK, status=Status.PUBLISHED
)
def edge_factor(*, aspect: float) -> float:
    """Factor of the largest edge reaction, at the middle of the long side; ``aspect`` 1 or more."""
    return _between(aspect, _EDGE)


@calculation(
    title="Bending stress of a rectangular pane",
    formula="stress factor × pressure × short side² / thickness²",
    unit="MPa",
    source=_ROARK,
    status=Status.PUBLISHED,
)
def bending_stress(*, pressure: float, short_side: float, long_side: float, thickness: float) -> float:
    """Largest bending stress, MPa, at a pressure in kPa."""
    require.not_negative(pressure=pressure)
    require.positive(thickness=thickness)
    factor = stress_factor(aspect=_aspect(short_side, long_side))
    return factor * pressure * KILOPASCAL * short_side**2 / thickness**2


@calculation(
    title="Deflection of a rectangular pane",
    formula="deflection factor of long side / short side × pressure × short side⁴ / (modulus × thickness³) "
    "× (1 - Poisson's ratio²) / (1 - 0.3²)",
    unit="mm",
    source=f"{_ROARK}; the last factor takes its table to the Poisson's ratio of the glass: the deflection goes with the stiffness",
    status=Status.PUBLISHED,
)
def deflection(
    *,
    pressure: float,
    short_side: float,
    long_side: float,
    thickness: float,
    modulus: float = GLASS_MODULUS,
    poisson: float = GLASS_POISSON,
) -> float:
    """Deflection at the centre, mm; linear, so too large beyond about half the thickness."""
    require.not_negative(pressure=pressure)
    require.positive(thickness=thickness, modulus=modulus)
    require.between(0, 0.5, poisson=poisson)
    factor = deflection_factor(aspect=_aspect(short_side, long_side))
    of_the_table = factor * pressure * KILOPASCAL * short_side**4 / (modulus * thickness**3)
    return of_the_table * (1 - poisson**2) / (1 - _TABLE_POISSON**2)


@calculation(
    title="Largest edge reaction of a rectangular pane",
    formula="edge reaction factor × pressure × short side",
    unit="N/mm",
    source=_ROARK,
    status=Status.PUBLISHED,
)
def edge_reaction(*, pressure: float, short_side: float, long_side: float) -> float:
    """Reaction at the middle of the long side, N/mm."""
    require.not_negative(pressure=pressure)
    return edge_factor(aspect=_aspect(short_side, long_side)) * pressure * KILOPASCAL * short_side


@calculation(
    title="Bending stress of a round pane",
    formula="3/8 × (3 + Poisson's ratio) × pressure × radius² / thickness²",
    unit="MPa",
    source="circular plate, simply supported (Chen, Civil Engineering Handbook)",
    status=Status.PUBLISHED,
)
def round_bending_stress(*, pressure: float, radius: float, thickness: float, poisson: float = GLASS_POISSON) -> float:
    """Bending stress at the centre, MPa."""
    require.not_negative(pressure=pressure)
    require.positive(radius=radius, thickness=thickness)
    return 3 / 8 * (3 + poisson) * pressure * KILOPASCAL * radius**2 / thickness**2


@calculation(
    title="Deflection of a round pane",
    formula="(5 + ν) / (64 (1 + ν)) × pressure × radius⁴ / plate stiffness",
    unit="mm",
    source="circular plate, simply supported (Chen, Civil Engineering Handbook)",
    status=Status.PUBLISHED,
)
def round_deflection(
    *,
    pressure: float,
    radius: float,
    thickness: float,
    modulus: float = GLASS_MODULUS,
    poisson: float = GLASS_POISSON,
) -> float:
    """Deflection at the centre, mm."""
    require.not_negative(pressure=pressure)
    require.positive(radius=radius, thickness=thickness, modulus=modulus)
    stiffness = modulus * thickness**3 / (12 * (1 - poisson**2))
    return (5 + poisson) / (64 * (1 + poisson)) * pressure * KILOPASCAL * radius**4 / stiffness


@calculation(
    title="Slope at mid-edge",
    formula="π × deflection / short side",
    unit="rad",
    source="half a sine wave across the short side",
    status=Status.DERIVED,
)
def edge_slope(*, deflection: float, short_side: float) -> float:
    """Slope of the bent pane at the middle of the long side, radians."""
    require.not_negative(deflection=deflection)
    require.positive(short_side=short_side)
    return math.pi * deflection / short_side


@calculation(
    title="Peel strain at the edge of the bead",
    formula="slope × bond width / (2 × bond thickness)",
    unit="",
    source="the pane turns about the middle of the bead",
    status=Status.DERIVED,
)
def peel_strain(*, slope: float, bond_width: float, bond_thickness: float) -> float:
    """Extra strain of the bead's edge, as a share of the bond thickness; slope in radians."""
    require.not_negative(slope=slope)
    require.positive(bond_width=bond_width, bond_thickness=bond_thickness)
    return slope * bond_width / (2 * bond_thickness)


@calculation(
    title="Thickness for pressure",
    formula="short side × √(stress factor × pressure / design stress)",
    unit="mm",
    source="form of ISO 11336-1 Annex C and ISO 12216; factor of Roark",
    status=Status.FROM_MEMORY,
)
def thickness_for_pressure(*, pressure: float, short_side: float, factor: float, design_stress: float) -> float:
    """Thickness, mm, that keeps the bending stress at the design stress (MPa): for comparison, the rule that governs decides."""
    require.not_negative(pressure=pressure)
    require.positive(short_side=short_side, factor=factor, design_stress=design_stress)
    return short_side * math.sqrt(factor * pressure * KILOPASCAL / design_stress)


@calculation(
    title="Thickness of a round pane for pressure",
    formula="diameter × √(3/32 × (3 + Poisson's ratio) × pressure / design stress)",
    unit="mm",
    source="circular plate, simply supported, solved for the thickness",
    status=Status.DERIVED,
)
def round_thickness_for_pressure(
    *, pressure: float, diameter: float, design_stress: float, poisson: float = GLASS_POISSON
) -> float:
    """Thickness of a round pane, mm, that keeps the bending stress at the design stress (MPa): for comparison only."""
    require.not_negative(pressure=pressure)
    require.positive(diameter=diameter, design_stress=design_stress)
    return diameter * math.sqrt(3 / 32 * (3 + poisson) * pressure * KILOPASCAL / design_stress)


def _aspect(short_side: float, long_side: float) -> float:
    require.positive(short_side=short_side, long_side=long_side)
    if short_side > long_side:
        raise ValueError(f"short side: found {short_side:g}, allowed: up to the long side {long_side:g}")
    return long_side / short_side


def _between(aspect: float, factors: tuple[float, ...]) -> float:
    """Linear between the rows of the table; beyond the last finite row linear in 1 / aspect."""
    if math.isnan(aspect) or aspect < 1:
        raise ValueError(f"aspect: found {aspect:g}, allowed: 1 or more")
    for place in range(1, len(_ASPECTS)):
        low, high = _ASPECTS[place - 1], _ASPECTS[place]
        if aspect <= high:
            share = 1 - low / aspect if math.isinf(high) else (aspect - low) / (high - low)
            return factors[place - 1] + share * (factors[place] - factors[place - 1])
    raise AssertionError("the table ends at infinity")
