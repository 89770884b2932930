"""Quick figures of a pane bent by even pressure, simply supported all round: information, never an approval.

Terms
-----
short side, long side
    Of the unsupported rectangle, mm.
aspect
    Long side over short side.
peel strain
    Extra strain at the edge of the bead because the bent pane turns there.

patch
    A part of the glass that carries a load of its own, counted as a circle of the same area.

Pressures kPa, stresses and moduli MPa, lengths mm.
"""

from __future__ import annotations

import itertools
import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.holding.bond import KILOPASCAL
from geometry.rules.units import Kilopascals, Megapascals, Millimetres, Newtons, Radians, Ratio

_ROARK = "Roark's Formulas for Stress and Strain, table 11.4 case 1a (Poisson's ratio 0.3)"
_TABLE_POISSON = 0.3
ASPECTS = (1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 3.0, 4.0, 5.0, math.inf)
_STRESS = (0.2874, 0.3762, 0.4530, 0.5172, 0.5688, 0.6102, 0.7134, 0.7410, 0.7476, 0.7500)
_PATCHED = "Roark's Formulas for Stress and Strain, table 11.4 case 1b (Poisson's ratio 0.3)"
_INVERSE = (1.0, 1 / 1.2, 1 / 1.4, 1 / 1.6, 1 / 1.8, 1 / 2.0, 0.0)
_PATCH_DEFLECTION = tuple(zip(_INVERSE, (0.1267, 0.1478, 0.1621, 0.1715, 0.1770, 0.1805, 0.1851), strict=True))
_PATCH_STRESS = tuple(zip(_INVERSE, (0.435, 0.650, 0.789, 0.875, 0.927, 0.958, 1.000), strict=True))
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


@calculation(title="Stress factor", formula="table by aspect, linear between", unit="", source=_ROARK, status=Status.PUBLISHED)
def stress_factor(*, aspect: Ratio) -> float:
    """Factor of the largest bending stress; ``aspect`` 1 or more."""
    return between_aspects(aspect, _STRESS)


@calculation(
    title="Stress factor of an ellipse",
    formula="0.25 × (2.816 + 1.581 ν - (1.691 + 1.206 ν) / aspect)",
    unit="",
    source="Roark's Formulas for Stress and Strain, elliptical plate, simply supported, uniform pressure; on the short axis",
    status=Status.FROM_MEMORY,
)
def ellipse_stress_factor(*, aspect: Ratio, poisson: Ratio) -> float:
    """Factor of the largest bending stress of an elliptical pane on its short axis; 1: a round one, 3 (3 + ν) / 32.

    >>> round(ellipse_stress_factor(aspect=1, poisson=0.23), 3), round(3 / 32 * 3.23, 3)
    (0.303, 0.303)
    """
    require.between(0, 0.5, poisson=poisson)
    if math.isnan(aspect) or aspect < 1:
        raise ValueError(f"aspect: found {aspect:g}, allowed: 1 or more")
    return 0.25 * (2.816 + 1.581 * poisson - (1.691 + 1.206 * poisson) / aspect)


@calculation(
    title="Thickness for an allowed stress",
    formula="short side × √(stress factor × pressure / (1000 × allowed stress))",
    unit="mm",
    source="bending stress of a thin plate solved for the thickness, the form of ISO 11336-1 and ISO 12216; linear",
    status=Status.FROM_MEMORY,
)
def thickness_for_pressure(
    *, pressure: Kilopascals, short_side: Millimetres, stress_factor: Ratio, allowed_stress: Megapascals
) -> float:
    """Thickness, mm, that keeps the bending stress at what is allowed (MPa): for comparison, the rule that governs decides."""
    require.not_negative(pressure=pressure)
    require.positive(short_side=short_side, stress_factor=stress_factor, allowed_stress=allowed_stress)
    return short_side * math.sqrt(stress_factor * pressure * KILOPASCAL / allowed_stress)


@calculation(
    title="Stress under a load on a part of the pane",
    formula="1.5 × force / (π × thickness²) × ((1 + ν) × ln(2 × short side / (π × radius)) + table by aspect); a radius below half the "
    "thickness counts as √(1.6 × radius² + thickness²) - 0.675 × thickness",
    unit="MPa",
    source=f"{_PATCHED}, the load in the middle",
    status=Status.FROM_MEMORY,
)
def patch_stress(
    *,
    force: Newtons,
    radius: Millimetres,
    short_side: Millimetres,
    long_side: Millimetres,
    thickness: Millimetres,
    poisson: Ratio,
) -> float:
    """Largest bending stress, MPa, under a small round patch in the middle of a simply supported rectangle."""
    require.not_negative(force=force)
    require.positive(radius=radius, thickness=thickness)
    require.between(0, 0.5, poisson=poisson)
    term = _between(1 / aspect_of(short_side, long_side), _PATCH_STRESS)
    if radius < thickness / 2:
        radius = math.sqrt(1.6 * radius**2 + thickness**2) - 0.675 * thickness
    spread = (1 + poisson) * math.log(2 * short_side / (math.pi * radius)) + term
    return max(0.0, 1.5 * force / (math.pi * thickness**2) * spread)


@calculation(
    title="Deflection under a load on a part of the pane",
    formula="table by aspect × force × short side² / (modulus × thickness³) × (1 - Poisson's ratio²) / (1 - 0.3²)",
    unit="mm",
    source=f"{_PATCHED}, the load in the middle",
    status=Status.FROM_MEMORY,
)
def patch_deflection(
    *,
    force: Newtons,
    short_side: Millimetres,
    long_side: Millimetres,
    thickness: Millimetres,
    modulus: Megapascals,
    poisson: Ratio,
) -> float:
    """Deflection, mm, under a small patch in the middle of a simply supported rectangle."""
    require.not_negative(force=force)
    require.positive(thickness=thickness, modulus=modulus)
    require.between(0, 0.5, poisson=poisson)
    factor = _between(1 / aspect_of(short_side, long_side), _PATCH_DEFLECTION)
    return factor * force * short_side**2 / (modulus * thickness**3) * (1 - poisson**2) / (1 - _TABLE_POISSON**2)


def _between(inverse: float, rows: tuple[tuple[float, float], ...]) -> float:
    """Linear in 1 / aspect between the rows (1 / aspect, factor), which fall from 1 to 0."""
    for (high, first), (low, second) in itertools.pairwise(rows):
        if inverse >= low:
            return second + (first - second) * (inverse - low) / (high - low)
    raise AssertionError("the table ends at 0")


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
