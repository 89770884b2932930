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
from geometry.rules.units import Kilopascals, Megapascals, Millimetres, NewtonMillimetres, Newtons, Radians, Ratio

_LEVY = "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, article 30: simply supported rectangle, series of M. Lévy"
_TERMS = range(1, 40, 2)
_ROARK = "Roark's Formulas for Stress and Strain, table 11.4 case 1a (Poisson's ratio 0.3)"
ASPECTS = (1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 3.0, 4.0, 5.0, math.inf)
_STRESS = (0.2874, 0.3762, 0.4530, 0.5172, 0.5688, 0.6102, 0.7134, 0.7410, 0.7476, 0.7500)
_PATCHED = "Roark's Formulas for Stress and Strain, table 11.4 case 1b (Poisson's ratio 0.3)"
_INVERSE = (1.0, 1 / 1.2, 1 / 1.4, 1 / 1.6, 1 / 1.8, 1 / 2.0, 0.0)
_PATCH_DEFLECTION = tuple(zip(_INVERSE, (0.1267, 0.1478, 0.1621, 0.1715, 0.1770, 0.1805, 0.1851), strict=True))
_PATCH_STRESS = tuple(zip(_INVERSE, (0.435, 0.650, 0.789, 0.875, 0.927, 0.958, 1.000), strict=True))


def _left_by_the_ends(aspect: float, order: int) -> tuple[tuple[int, float], ...]:
    """(m, what the two short sides take off the strip) of each odd term: (2 + α tanh α) / (2 m^order cosh α), α = m π aspect / 2."""
    found = []
    for m in _TERMS:
        alpha = m * math.pi * aspect / 2
        found.append((m, (2 + alpha * math.tanh(alpha)) / (2 * m**order * math.cosh(alpha)) if alpha < 600 else 0.0))
    return tuple(found)


@calculation(
    title="Deflection factor",
    formula="5/384 - 4/π⁵ × Σ ± (2 + α tanh α) / (2 m⁵ cosh α), m odd, signs in turn, α = m π aspect / 2",
    unit="",
    source=_LEVY,
    status=Status.PUBLISHED,
)
def deflection_factor(*, aspect: Ratio) -> float:
    """Factor of the deflection at the centre, of pressure × short side⁴ / plate stiffness; ``aspect`` 1 or more.

    >>> round(deflection_factor(aspect=1), 5), round(deflection_factor(aspect=2), 5)
    (0.00406, 0.01013)
    """
    _an_aspect(aspect)
    taken = math.fsum((-1) ** (m // 2) * term for m, term in _left_by_the_ends(aspect, 5))
    return 5 / 384 - 4 / math.pi**5 * taken


@calculation(
    title="Slope factor",
    formula="1/24 - 4/π⁴ × Σ (2 + α tanh α) / (2 m⁴ cosh α), m odd, α = m π aspect / 2",
    unit="",
    source=_LEVY,
    status=Status.PUBLISHED,
)
def slope_factor(*, aspect: Ratio) -> float:
    """Factor of the slope at the middle of the long side, of pressure × short side³ / plate stiffness; ``aspect`` 1 or more."""
    _an_aspect(aspect)
    return 1 / 24 - 4 / math.pi**4 * math.fsum(term for _, term in _left_by_the_ends(aspect, 4))


@calculation(
    title="Stiffness of a plate",
    formula="modulus × thickness³ / (12 × (1 - poisson²)), poisson: Poisson's ratio",
    unit="N mm",
    source="theory of thin plates",
    status=Status.PUBLISHED,
)
def plate_stiffness(*, modulus: Megapascals, thickness: Millimetres, poisson: Ratio) -> float:
    """Bending stiffness of 1 mm of plate, N mm."""
    require.positive(thickness=thickness, modulus=modulus)
    require.between(0, 0.5, poisson=poisson)
    return modulus * thickness**3 / (12 * (1 - poisson**2))


@calculation(
    title="Deflection of a rectangular pane",
    formula="deflection factor of long side / short side × pressure × short side⁴ / plate stiffness",
    unit="mm",
    source=_LEVY,
    status=Status.PUBLISHED,
)
def deflection(*, pressure: Kilopascals, short_side: Millimetres, long_side: Millimetres, stiffness: NewtonMillimetres) -> float:
    """Deflection at the centre, mm; linear, so too large beyond about half the thickness."""
    require.not_negative(pressure=pressure)
    require.positive(stiffness=stiffness)
    factor = deflection_factor(aspect=aspect_of(short_side, long_side))
    return factor * pressure * KILOPASCAL * short_side**4 / stiffness


@calculation(
    title="Slope of a rectangular pane at mid-edge",
    formula="slope factor of long side / short side × pressure × short side³ / plate stiffness",
    unit="rad",
    source=_LEVY,
    status=Status.PUBLISHED,
)
def edge_slope(*, pressure: Kilopascals, short_side: Millimetres, long_side: Millimetres, stiffness: NewtonMillimetres) -> float:
    """Slope at the middle of the long side, radians; linear."""
    require.not_negative(pressure=pressure)
    require.positive(stiffness=stiffness)
    return slope_factor(aspect=aspect_of(short_side, long_side)) * pressure * KILOPASCAL * short_side**3 / stiffness


@calculation(
    title="Deflection of a round pane",
    formula="(5 + poisson) / (64 (1 + poisson)) × pressure × radius⁴ / plate stiffness",
    unit="mm",
    source="circular plate, simply supported (Chen, Civil Engineering Handbook)",
    status=Status.PUBLISHED,
)
def round_deflection(*, pressure: Kilopascals, radius: Millimetres, stiffness: NewtonMillimetres, poisson: Ratio) -> float:
    """Deflection at the centre, mm."""
    require.not_negative(pressure=pressure)
    require.positive(radius=radius, stiffness=stiffness)
    return (5 + poisson) / (64 * (1 + poisson)) * pressure * KILOPASCAL * radius**4 / stiffness


@calculation(
    title="Slope of a round pane at its edge",
    formula="pressure × radius³ / (8 × (1 + poisson) × plate stiffness)",
    unit="rad",
    source="circular plate, simply supported (Timoshenko and Woinowsky-Krieger)",
    status=Status.FROM_MEMORY,
)
def round_edge_slope(*, pressure: Kilopascals, radius: Millimetres, stiffness: NewtonMillimetres, poisson: Ratio) -> float:
    """Slope at the edge, radians."""
    require.not_negative(pressure=pressure)
    require.positive(radius=radius, stiffness=stiffness)
    return pressure * KILOPASCAL * radius**3 / (8 * (1 + poisson) * stiffness)


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
    _an_aspect(aspect)
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
    formula="table by aspect / 10.92 × force × short side² / plate stiffness",
    unit="mm",
    source=f"{_PATCHED}, the load in the middle; 10.92 = 12 × (1 - 0.3²)",
    status=Status.FROM_MEMORY,
)
def patch_deflection(*, force: Newtons, short_side: Millimetres, long_side: Millimetres, stiffness: NewtonMillimetres) -> float:
    """Deflection, mm, under a small patch in the middle of a simply supported rectangle."""
    require.not_negative(force=force)
    require.positive(stiffness=stiffness)
    return _between(1 / aspect_of(short_side, long_side), _PATCH_DEFLECTION) / 10.92 * force * short_side**2 / stiffness


def between_aspects(aspect: float, factors: tuple[float, ...]) -> float:
    """Linear between the rows of the table; beyond the last finite row linear in 1 / aspect."""
    _an_aspect(aspect)
    for place in range(1, len(ASPECTS)):
        low, high = ASPECTS[place - 1], ASPECTS[place]
        if aspect <= high:
            share = 1 - low / aspect if math.isinf(high) else (aspect - low) / (high - low)
            return factors[place - 1] + share * (factors[place] - factors[place - 1])
    raise AssertionError("the table ends at infinity")


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


def _an_aspect(aspect: float) -> None:
    if math.isnan(aspect) or aspect < 1:
        raise ValueError(f"aspect: found {aspect:g}, allowed: 1 or more")


__all__ = [
    "ASPECTS",
    "aspect_of",
    "between_aspects",
    "deflection",
    "deflection_factor",
    "edge_slope",
    "ellipse_stress_factor",
    "patch_deflection",
    "patch_stress",
    "peel_strain",
    "plate_stiffness",
    "round_deflection",
    "round_edge_slope",
    "slope_factor",
    "stress_factor",
    "thickness_for_pressure",
]
