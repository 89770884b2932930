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
from geometry.rules.units import Kilopascals, Megapascals, Millimetres, NewtonMillimetres, Radians, Ratio

_LEVY = "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, article 30: simply supported rectangle, series of M. Lévy"
_TERMS = range(1, 40, 2)


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
    formula="modulus × thickness³ / (12 × (1 - Poisson's ratio²))",
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
    formula="(5 + ν) / (64 (1 + ν)) × pressure × radius⁴ / plate stiffness",
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
    formula="pressure × radius³ / (8 × (1 + ν) × plate stiffness)",
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
    "aspect_of",
    "deflection",
    "deflection_factor",
    "edge_slope",
    "peel_strain",
    "plate_stiffness",
    "round_deflection",
    "round_edge_slope",
    "slope_factor",
]
