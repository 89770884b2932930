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
from geometry.rules.units import Kilopascals, Megapascals, Millimetres, Radians, Ratio

_ROARK = "Roark's Formulas for Stress and Strain, table 11.4 case 1a (Poisson's ratio 0.3)"
_TABLE_POISSON = 0.3
ASPECTS = (1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 3.0, 4.0, 5.0, math.inf)
_DEFLECTION = (0.0444, 0.0616, 0.0770, 0.0906, 0.1017, 0.1110, 0.1335, 0.1400, 0.1417, 0.1421)


@calculation(
    title="Deflection factor", formula="table by aspect, linear between", unit="", source=_ROARK, status=Status.PUBLISHED
)
def deflection_factor(*, aspect: Ratio) -> float:
    """Factor of the deflection at the centre; ``aspect`` 1 or more."""
    return between_aspects(aspect, _DEFLECTION)


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
    pressure: Kilopascals,
    short_side: Millimetres,
    long_side: Millimetres,
    thickness: Millimetres,
    modulus: Megapascals,
    poisson: Ratio,
) -> float:
    """Deflection at the centre, mm; linear, so too large beyond about half the thickness."""
    require.not_negative(pressure=pressure)
    require.positive(thickness=thickness, modulus=modulus)
    require.between(0, 0.5, poisson=poisson)
    factor = deflection_factor(aspect=aspect_of(short_side, long_side))
    of_the_table = factor * pressure * KILOPASCAL * short_side**4 / (modulus * thickness**3)
    return of_the_table * (1 - poisson**2) / (1 - _TABLE_POISSON**2)


@calculation(
    title="Deflection of a round pane",
    formula="(5 + ν) / (64 (1 + ν)) × pressure × radius⁴ / plate stiffness",
    unit="mm",
    source="circular plate, simply supported (Chen, Civil Engineering Handbook)",
    status=Status.PUBLISHED,
)
def round_deflection(
    *,
    pressure: Kilopascals,
    radius: Millimetres,
    thickness: Millimetres,
    modulus: Megapascals,
    poisson: Ratio,
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
def edge_slope(*, deflection: Millimetres, short_side: Millimetres) -> float:
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
def peel_strain(*, slope: Radians, bond_width: Millimetres, bond_thickness: Millimetres) -> float:
    """Extra strain of the bead's edge, as a share of the bond thickness; slope in radians."""
    require.not_negative(slope=slope)
    require.positive(bond_width=bond_width, bond_thickness=bond_thickness)
    return slope * bond_width / (2 * bond_thickness)


def aspect_of(short_side: float, long_side: float) -> float:
    """Long side over short side; raises ``ValueError`` where the short one is the longer."""
    require.positive(short_side=short_side, long_side=long_side)
    if short_side > long_side:
        raise ValueError(f"short side: found {short_side:g}, allowed: up to the long side {long_side:g}")
    return long_side / short_side


def between_aspects(aspect: float, factors: tuple[float, ...]) -> float:
    """Linear between the rows of the table; beyond the last finite row linear in 1 / aspect."""
    if math.isnan(aspect) or aspect < 1:
        raise ValueError(f"aspect: found {aspect:g}, allowed: 1 or more")
    for place in range(1, len(ASPECTS)):
        low, high = ASPECTS[place - 1], ASPECTS[place]
        if aspect <= high:
            share = 1 - low / aspect if math.isinf(high) else (aspect - low) / (high - low)
            return factors[place - 1] + share * (factors[place] - factors[place - 1])
    raise AssertionError("the table ends at infinity")


__all__ = ["aspect_of", "between_aspects", "deflection", "deflection_factor", "edge_slope", "peel_strain", "round_deflection"]
