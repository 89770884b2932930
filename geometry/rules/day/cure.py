"""Cure of a one-part bead that takes its moisture from the air.

Terms
-----
cured depth
    Thickness of the cured skin, growing from every face open to the air with the square root of time.
rate
    Cured depth after one day, mm; 3 at 23 °C and 50 % humidity is a usual figure, the data sheet's replaces it.
open faces
    The two flanks of the bead: the outer one towards the joint, the inner one towards the room.
handling time
    When straps may come off and the boat may move.

Depths and widths mm, times days.
"""

from __future__ import annotations

import datetime
import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import (
    Celsius,
    Days,
    Hours,
    Kelvins,
    Megapascals,
    Millimetres,
    MillimetresPerRootDay,
    Newtons,
    Percent,
    Ratio,
)

STANDARD_AIR = 23.0
STANDARD_HUMIDITY = 50.0


@calculation(
    title="Rate of cure in the climate",
    formula="standard rate (23 °C, 50 %) × √(2^((air - 23) / doubling)) × √(humidity / 50)",
    unit="mm/√day",
    source="rough: twice as fast for each doubling; the adhesive's data sheet decides",
    status=Status.FROM_MEMORY,
)
def cure_rate(*, air: Celsius, humidity: Percent, standard_rate: MillimetresPerRootDay, doubling: Kelvins) -> float:
    """Cured depth of the first day, mm, at ``air`` °C and ``humidity`` %; ``doubling`` K warmer it cures twice as fast."""
    require.between(-45, 60, air=air)
    require.between(0, 100, humidity=humidity)
    require.positive(standard_rate=standard_rate, doubling=doubling)
    return standard_rate * math.sqrt(math.pow(2.0, (air - STANDARD_AIR) / doubling)) * math.sqrt(humidity / STANDARD_HUMIDITY)


@calculation(
    title="Cured depth",
    formula="rate × √days",
    unit="mm",
    source="advancing front of cure, Comyn (1998), from memory",
    status=Status.FROM_MEMORY,
)
def cured_depth(*, days: Days, rate: MillimetresPerRootDay) -> float:
    """Depth of the cured skin, mm, from one open face."""
    require.not_negative(days=days)
    require.positive(rate=rate)
    return rate * math.sqrt(days)


@calculation(
    title="Cure with both faces open",
    formula="(bond width / (2 × rate))²",
    unit="d",
    source="two fronts meet in the middle",
    status=Status.DERIVED,
)
def days_both_open(*, bond_width: Millimetres, rate: MillimetresPerRootDay) -> float:
    """Days until the bead is cured through, both flanks open to the air."""
    require.positive(bond_width=bond_width, rate=rate)
    return (bond_width / (2 * rate)) ** 2


@calculation(
    title="Cure with one face open",
    formula="(bond width / rate)²",
    unit="d",
    source="one front crosses the bead",
    status=Status.DERIVED,
)
def days_one_open(*, bond_width: Millimetres, rate: MillimetresPerRootDay) -> float:
    """Days until the bead is cured through, one flank open to the air."""
    require.positive(bond_width=bond_width, rate=rate)
    return (bond_width / rate) ** 2


@calculation(
    title="Cure when the joint is backfilled early",
    formula="(bond width / rate - √backfilled after)², but (bond width / (2 × rate))² if it is cured before; "
    "not inner face open: (bond width / rate)²",
    unit="d",
    source="the outer front stops at the backfill, the inner one goes on",
    status=Status.DERIVED,
)
def days_backfilled(
    *, bond_width: Millimetres, backfilled_after: Days, rate: MillimetresPerRootDay, inner_face_open: bool = True
) -> float:
    """Days from bonding until the bead is cured through when the joint is backfilled after some days.

    Raises ``ValueError`` where the inner face is closed and the joint too, before the bead is cured: it never cures through.
    """
    require.not_negative(backfilled_after=backfilled_after)
    if not inner_face_open:
        one = days_one_open(bond_width=bond_width, rate=rate)
        if backfilled_after < one - 1e-9:
            raise ValueError(
                f"backfill day: found {backfilled_after:g}, allowed: at least {one:.1f}, the inner face being closed"
            )
        return one
    both = days_both_open(bond_width=bond_width, rate=rate)
    if backfilled_after >= both:
        return both
    return (bond_width / rate - math.sqrt(backfilled_after)) ** 2


@calculation(
    title="Day of the backfill",
    formula="(bond width / (2 × rate))² with the inner face open, else (bond width / rate)², rounded up to whole days; at least the first day",
    unit="d",
    source="the backfill shuts the air off the outer face of the bead",
    status=Status.DERIVED,
)
def backfill_day(*, bond_width: Millimetres, rate: MillimetresPerRootDay, first_day: Days, inner_face_open: bool = True) -> float:
    """Days from bonding to the backfill where the job does not say."""
    require.not_negative(first_day=first_day)
    cured = (days_both_open if inner_face_open else days_one_open)(bond_width=bond_width, rate=rate)
    return max(first_day, float(math.ceil(cured - 1e-9)))


@calculation(
    title="Bead where it is pressed widest",
    formula="bond width + 2 × squeeze-out",
    unit="mm",
    source="the pane lies lowest there; the moisture has the farthest way to the middle",
    status=Status.DERIVED,
)
def widest_bead(*, bond_width: Millimetres, squeeze_out: Millimetres) -> float:
    """Width of the bead at its thickest place, mm; ``squeeze_out`` is what it flows beyond its width on each side."""
    require.positive(bond_width=bond_width)
    require.not_negative(squeeze_out=squeeze_out)
    return bond_width + 2 * squeeze_out


@calculation(
    title="Day of the hose test",
    formula="greater of: cured through, rounded up to a day; backfilled after + sealant days",
    unit="d",
    source="water under pressure neither on an uncured bead nor on an uncured sealant; the sealant's data sheet decides",
    status=Status.COMMON_PRACTICE,
)
def hose_day(*, cured_through: Days, backfilled_after: Days, sealant_days: Days) -> float:
    """Days from bonding to the first hose test."""
    require.not_negative(cured_through=cured_through, backfilled_after=backfilled_after, sealant_days=sealant_days)
    return max(float(math.ceil(cured_through - 1e-9)), backfilled_after + sealant_days)


@calculation(
    title="Cured width for handling",
    formula="safety × weight × dynamic factor / (design tension × bead length)",
    unit="mm",
    source="safety on the cured part of the bead",
    status=Status.COMMON_PRACTICE,
)
def handling_width(
    *, weight: Newtons, design_tension: Megapascals, bead_length: Millimetres, dynamic_factor: Ratio, safety: Ratio
) -> float:
    """Width of bead that must be cured before straps come off, mm; weight N, design tension MPa, length mm."""
    require.not_negative(weight=weight)
    require.positive(design_tension=design_tension, bead_length=bead_length, dynamic_factor=dynamic_factor, safety=safety)
    return safety * weight * dynamic_factor / (design_tension * bead_length)


@calculation(
    title="Least handling time in the climate",
    formula="hours at 23 °C and 50 % / 24, longer where it cures slower: × (standard rate / rate)²",
    unit="d",
    source="a least time whatever the load; time for the same depth grows with the square of the rate",
    status=Status.COMMON_PRACTICE,
)
def least_handling_days(*, hours: Hours, rate: MillimetresPerRootDay, standard_rate: MillimetresPerRootDay) -> float:
    """Days under which no strap comes off, however little the bead has to carry; never less than at 23 °C."""
    require.positive(hours=hours, rate=rate, standard_rate=standard_rate)
    return hours / 24 * max(1.0, (standard_rate / rate) ** 2)


@calculation(
    title="Handling time",
    formula="larger of least and the days until the width, part of the bond width, has cured: inner face "
    "open (width / (2 × rate))², or, if backfilled after less than "
    "that, (width / rate - √backfilled after)²; else (width / rate)²",
    unit="d",
    source="safety on the cured part of the bead, and a least time",
    status=Status.COMMON_PRACTICE,
)
def handling_days(
    *,
    width: Millimetres,
    bond_width: Millimetres,
    rate: MillimetresPerRootDay,
    least: Days,
    backfilled_after: Days | None = None,
    inner_face_open: bool = True,
) -> float:
    """Days until straps may come off; ``width`` must be cured, mm; ``backfilled_after`` None: the joint is open till then.

    Raises ``ValueError`` when the bead is narrower than that, or never cures so far.
    """
    require.not_negative(least=least)
    require.positive(width=width, bond_width=bond_width, rate=rate)
    if width > bond_width:
        raise ValueError(f"bond width: found {bond_width:g}, allowed: at least {width:.1f} to carry the weight for handling")
    if backfilled_after is None:
        cured = (days_both_open if inner_face_open else days_one_open)(bond_width=width, rate=rate)
    else:
        cured = days_backfilled(bond_width=width, backfilled_after=backfilled_after, rate=rate, inner_face_open=inner_face_open)
    return max(least, cured)


@calculation(
    title="Days to the launch",
    formula="day of launch - day of the session, or date of the sheet where no session gives one",
    unit="d",
    source="no pane is bonded before its sheet is issued: the time there is at most",
    status=Status.DERIVED,
)
def days_to_launch(*, launch: datetime.date, issued: datetime.date) -> float:
    """Days between the bonding, at the earliest, and the launch; negative: launched before."""
    return float((launch - issued).days)


__all__ = [
    "STANDARD_AIR",
    "STANDARD_HUMIDITY",
    "backfill_day",
    "cure_rate",
    "cured_depth",
    "days_backfilled",
    "days_both_open",
    "days_one_open",
    "days_to_launch",
    "handling_days",
    "handling_width",
    "hose_day",
    "least_handling_days",
    "widest_bead",
]
