"""Loads that the engineer gives beside the pressures: accelerations, a wind by name, heat in the glass.

Terms
-----
acceleration
    Of the vessel at the pane, beside gravity, either way, m/s².
suction coefficient
    Suction of a wind on the pane over the pressure of its flow.

Masses kg, forces N, pressures kPa, stresses MPa.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.glass import GRAVITY
from geometry.rules.holding.gravity import Weight
from geometry.rules.materials import AIR_DENSITY
from geometry.rules.units import (
    Degrees,
    Kelvins,
    Kilograms,
    Megapascals,
    MetresPerSecond,
    MetresPerSecondSquared,
    PerKelvin,
    Ratio,
)


@calculation(
    title="Acceleration of a heel",
    formula="9.81 m/s² × tan(heel)",
    unit="m/s²",
    source="horizontal acceleration that leans the weight as much as the heel does",
    status=Status.DERIVED,
)
def heel_acceleration(*, heel: Degrees) -> float:
    """Horizontal acceleration, m/s², that stands for a heel in degrees.

    >>> round(heel_acceleration(heel=45 - 1e-9), 3)
    9.81
    """
    require.between(0, 44.999999999, heel=heel)
    return GRAVITY * math.tan(math.radians(heel))


@calculation(
    title="Force of the pane as the vessel moves",
    formula="to the side: mass × horizontal acceleration; along: mass × (9.81 m/s² + vertical acceleration) × cos(rake), downwards; "
    "pull-off: mass × (vertical acceleration × |sin(rake)| + horizontal acceleration × cos(rake) - 9.81 m/s² × sin(rake))",
    unit="N",
    source="inertia of the pane; each acceleration the way that is worst, the horizontal one in full along the pane and square to it",
    status=Status.DERIVED,
)
def moving_weight(
    *,
    mass: Kilograms,
    rake: Degrees,
    vertical_acceleration: MetresPerSecondSquared,
    horizontal_acceleration: MetresPerSecondSquared,
) -> Weight:
    """Greatest forces of the pane in its own axes, N: to either side, upwards along it (negative), off the landing.

    >>> [round(force, 6) for force in moving_weight(mass=10, rake=0, vertical_acceleration=9.81, horizontal_acceleration=2)]
    [20, -196.2, 20.0]
    """
    require.not_negative(mass=mass, vertical_acceleration=vertical_acceleration, horizontal_acceleration=horizontal_acceleration)
    require.between(-90, 90, rake=rake)
    lean = math.radians(rake)
    return Weight(
        mass * horizontal_acceleration,
        -mass * (GRAVITY + vertical_acceleration) * math.cos(lean),
        mass
        * (vertical_acceleration * abs(math.sin(lean)) + horizontal_acceleration * math.cos(lean) - GRAVITY * math.sin(lean)),
    )


@calculation(
    title="Suction of a wind",
    formula="0.5 × air density (1.225 kg/m³) × wind² × suction coefficient",
    unit="kPa",
    source="pressure of the flow (Bernoulli); wind and coefficient are the engineer's",
    status=Status.DERIVED,
)
def wind_suction(*, wind: MetresPerSecond, coefficient: Ratio) -> float:
    """Suction, kPa, of a wind in m/s.

    >>> round(wind_suction(wind=40, coefficient=1), 2)
    0.98
    """
    require.not_negative(wind=wind)
    require.positive(coefficient=coefficient)
    return 0.5 * AIR_DENSITY * wind**2 * coefficient / 1000


@calculation(
    title="Stress at the cool edge of warm glass",
    formula="modulus × expansion × difference",
    unit="MPa",
    source="a narrow edge held from shrinking by the warmer middle (Timoshenko and Goodier, Theory of Elasticity)",
    status=Status.FROM_MEMORY,
)
def edge_heat_stress(*, modulus: Megapascals, expansion: PerKelvin, difference: Kelvins) -> float:
    """Tension at the edge, MPa, where the middle is ``difference`` K warmer: the upper bound.

    >>> round(edge_heat_stress(modulus=70000, expansion=9e-6, difference=1), 2)
    0.63
    """
    require.positive(modulus=modulus)
    require.not_negative(expansion=expansion, difference=difference)
    return modulus * expansion * difference


__all__ = ["edge_heat_stress", "heel_acceleration", "moving_weight", "wind_suction"]
