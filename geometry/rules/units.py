"""The unit of every number that goes into a rule, stated where the rule is written.

Terms
-----
unit
    What a number counts, as a reader writes it behind the number; "" of a ratio and a count, which have none.

A rule annotates its parameters with the names below, and whoever calls it may ask for the unit of each: the record does.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, get_args, get_origin, get_type_hints


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit by its sign."""

    sign: str


Millimetres = Annotated[float, Unit("mm")]
SquareMillimetres = Annotated[float, Unit("mm²")]
MillimetresPerMetre = Annotated[float, Unit("mm/m")]
MillimetresPerSquareMetre = Annotated[float, Unit("mm/m²")]
MillimetresPerRootDay = Annotated[float, Unit("mm/√day")]
MetresPerSecondSquared = Annotated[float, Unit("m/s²")]
MetresPerSecond = Annotated[float, Unit("m/s")]
Degrees = Annotated[float, Unit("°")]
Radians = Annotated[float, Unit("rad")]
Celsius = Annotated[float, Unit("°C")]
Kelvins = Annotated[float, Unit("K")]
PerKelvin = Annotated[float, Unit("1/K")]
Strain = Annotated[float, Unit("mm/mm")]
Newtons = Annotated[float, Unit("N")]
NewtonsPerMillimetre = Annotated[float, Unit("N/mm")]
NewtonMillimetres = Annotated[float, Unit("N mm")]
Megapascals = Annotated[float, Unit("MPa")]
Kilopascals = Annotated[float, Unit("kPa")]
Kilograms = Annotated[float, Unit("kg")]
KilogramsPerCubicMetre = Annotated[float, Unit("kg/m³")]
Minutes = Annotated[float, Unit("min")]
Hours = Annotated[float, Unit("h")]
Days = Annotated[float, Unit("d")]
Millilitres = Annotated[float, Unit("ml")]
MillilitresPerMinute = Annotated[float, Unit("ml/min")]
LitresPerSquareMetre = Annotated[float, Unit("l/m²")]
Percent = Annotated[float, Unit("%")]
PerPercent = Annotated[float, Unit("1/%")]
ShoreA = Annotated[float, Unit("Shore A")]
WattsPerSquareMetreKelvin = Annotated[float, Unit("W/(m² K)")]
JoulesPerKilogramKelvin = Annotated[float, Unit("J/(kg K)")]
Ratio = Annotated[float, Unit("")]
"""A number without unit: a share of 1, a factor, a number for each of another."""
Count = Annotated[int, Unit("")]


@cache
def units_of(rule: Callable[..., Any]) -> dict[str, str | None]:
    """The unit of each parameter of a rule, or of each field of its result, by its name.

    None for what is no number: a word, a flag, a date, a list of contacts.

    >>> def area(*, width: Millimetres, times: Ratio, both: bool) -> float: ...
    >>> units_of(area)
    {'width': 'mm', 'times': '', 'both': None}
    """
    hints = get_type_hints(rule, include_extras=True)
    return {name: _unit_in(hint) for name, hint in hints.items() if name != "return"}


def _unit_in(hint: Any) -> str | None:
    """The first unit in a hint: of a number, of a list of them, or of a number that may be left out."""
    if get_origin(hint) is Annotated:
        return next((each.sign for each in get_args(hint)[1:] if isinstance(each, Unit)), None)
    return next((found for each in get_args(hint) if (found := _unit_in(each)) is not None), None)


__all__ = [
    "Celsius",
    "Count",
    "Days",
    "Degrees",
    "Hours",
    "JoulesPerKilogramKelvin",
    "Kelvins",
    "Kilograms",
    "KilogramsPerCubicMetre",
    "Kilopascals",
    "LitresPerSquareMetre",
    "Megapascals",
    "MetresPerSecond",
    "MetresPerSecondSquared",
    "Millilitres",
    "MillilitresPerMinute",
    "Millimetres",
    "MillimetresPerMetre",
    "MillimetresPerRootDay",
    "MillimetresPerSquareMetre",
    "Minutes",
    "NewtonMillimetres",
    "Newtons",
    "NewtonsPerMillimetre",
    "PerKelvin",
    "PerPercent",
    "Percent",
    "Radians",
    "Ratio",
    "ShoreA",
    "SquareMillimetres",
    "Strain",
    "Unit",
    "WattsPerSquareMetreKelvin",
    "units_of",
]
