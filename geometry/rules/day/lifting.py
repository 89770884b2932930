"""People, suction cups and wind when the pane is carried in.

Terms
-----
cup
    Hand suction lifter with its marked rating, kg.
derating
    Share of the rating that is counted: cups hold less when cold or wet.

Masses kg, forces N, areas mm², wind m/s.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.materials import AIR_DENSITY
from geometry.rules.units import Count, Kilograms, MetresPerSecond, Millimetres, Ratio, SquareMillimetres


@calculation(
    title="What people may carry",
    formula="people × one × reach share, × two where two lift together, × more where three and more do",
    unit="kg",
    source="manual handling guidance of a labour inspectorate (HSE L23); at the waist, close to the body",
    status=Status.FROM_MEMORY,
)
def people_limit(*, people: Count, one: Kilograms, two: Ratio, more: Ratio, reach_share: Ratio) -> float:
    """Mass, kg, that ``people`` may carry; ``reach_share`` 0.5 at arm's length or above the shoulder.

    ``two`` and ``more`` are the shares of what each lifts alone that count when two, or three and more, lift together.
    """
    require.positive(people=people, one=one)
    require.between(0, 1, two=two, more=more, reach_share=reach_share)
    share = 1.0 if people == 1 else two if people == 2 else more
    return people * one * share * reach_share


@calculation(
    title="Share of what people lift that counts",
    formula="share at hand, × the share above where the height is over the shoulder",
    unit="",
    source="manual handling guidance of a labour inspectorate (HSE L23): half or less above the shoulder",
    status=Status.FROM_MEMORY,
)
def reach_share(*, at_hand: Ratio, height: Millimetres, shoulder: Millimetres, above: Ratio) -> float:
    """Share of what people lift close to the body at the waist; ``height`` of the work over where they stand.

    >>> reach_share(at_hand=1, height=1000, shoulder=1400, above=0.5), reach_share(at_hand=0.5, height=1900, shoulder=1400, above=0.5)
    (1, 0.25)
    """
    require.not_negative(height=height)
    require.between(0, 1, at_hand=at_hand, above=above)
    return at_hand * above if height > shoulder else at_hand


@calculation(
    title="Load of each person",
    formula="mass / people",
    unit="kg",
    source="the pane is held evenly, its cups set about the centroid",
    status=Status.DERIVED,
)
def load_of_each(*, mass: Kilograms, people: Count) -> float:
    """What each of ``people`` holds of a pane of ``mass`` kg."""
    require.positive(mass=mass, people=people)
    return mass / people


@calculation(
    title="People needed",
    formula="least number of people, up to the most, for which people × one × reach share (× two for two, × more for three and more) is at least "
    "the mass; none: lifting gear",
    unit="",
    source="manual handling guidance of a labour inspectorate (HSE L23)",
    status=Status.FROM_MEMORY,
)
def people_needed(*, mass: Kilograms, most: Count, one: Kilograms, two: Ratio, more: Ratio, reach_share: Ratio) -> int | None:
    """Number of people for a pane of ``mass`` kg; None: lifting gear."""
    require.positive(mass=mass)
    for people in range(1, most + 1):
        if people_limit(people=people, one=one, two=two, more=more, reach_share=reach_share) >= mass:
            return people
    return None


@calculation(
    title="Suction cups needed",
    formula="mass / (rating × derating), rounded up, at least the least number",
    unit="",
    source="statutory accident insurance research: ratings often too high, above all wet and cold; a share is counted",
    status=Status.COMMON_PRACTICE,
)
def cups_needed(*, mass: Kilograms, rating: Kilograms, derating: Ratio, least: Count) -> int:
    """Number of hand cups for a pane of ``mass`` kg; ``rating`` of one cup in kg."""
    require.positive(mass=mass, rating=rating)
    require.between(0, 1, derating=derating)
    require.positive(derating=derating)
    return max(least, math.ceil(mass / (rating * derating) - 1e-9))


@calculation(
    title="Wind force on a carried pane",
    formula="0.5 × air density (1.225 kg/m³) × wind² × area × drag",
    unit="N",
    source="drag of a plate square to the wind",
    status=Status.DERIVED,
)
def wind_force(*, wind: MetresPerSecond, area: SquareMillimetres, drag: Ratio) -> float:
    """Force, N, of a wind in m/s on a pane of ``area`` mm². Common practice: stop at 8 m/s."""
    require.not_negative(wind=wind)
    require.positive(area=area, drag=drag)
    return 0.5 * AIR_DENSITY * wind**2 * area * 1e-6 * drag


__all__ = ["cups_needed", "load_of_each", "people_limit", "people_needed", "reach_share", "wind_force"]
