"""Air, dew and temperature on the day of bonding.

Terms
-----
humidity
    Relative humidity of the air over water, %.
dew point
    Temperature at which the air's moisture settles on a surface; below 0 °C the frost point, over ice.
margin
    How far above the dew point glass and frame must be, K.
warm-up time
    Until a cold pane, free on both faces, has come near the temperature of the room, minutes.

Temperatures °C, pressures of vapour Pa.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.day.cure import STANDARD_AIR, STANDARD_HUMIDITY
from geometry.rules.units import (
    Celsius,
    JoulesPerKilogramKelvin,
    Kelvins,
    KilogramsPerCubicMetre,
    Millimetres,
    Minutes,
    Percent,
    Ratio,
    WattsPerSquareMetreKelvin,
)

_VAPOUR_AT_ZERO = 611.2
WATER = (17.62, 243.12)
"""Coefficients a and b (°C) of the Magnus form over water: WMO No. 8, Annex 4.B."""
ICE = (22.46, 272.62)
"""The same over ice, from memory."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether it may go ahead, and every reason that speaks against it."""

    go: bool
    reasons: tuple[str, ...]


@calculation(
    title="Saturation vapour pressure over water",
    formula="611.2 × exp(17.62 × temperature / (243.12 + temperature))",
    unit="Pa",
    source="WMO No. 8, Annex 4.B (Magnus form)",
    status=Status.PUBLISHED,
)
def saturation_pressure(*, temperature: Celsius) -> float:
    """Vapour pressure of saturated air over water, Pa; -45 to 60 °C."""
    require.between(-45, 60, temperature=temperature)
    return _VAPOUR_AT_ZERO * math.exp(WATER[0] * temperature / (WATER[1] + temperature))


@calculation(
    title="Vapour pressure of the air",
    formula="humidity × saturation vapour pressure over water",
    unit="Pa",
    source="definition of relative humidity",
    status=Status.DERIVED,
)
def vapour_pressure(*, air: Celsius, humidity: Percent) -> float:
    """Vapour pressure, Pa, of air at ``air`` °C and ``humidity`` %."""
    require.between(0, 100, humidity=humidity)
    return humidity / 100 * saturation_pressure(temperature=air)


@calculation(
    title="Dew point",
    formula="γ = ln(humidity) + a × air / (b + air); dew point = b × γ / (a - γ); a 17.62, b 243.12; over ice 22.46 and 272.62",
    unit="°C",
    source="WMO No. 8, Annex 4.B (Magnus form); the coefficients over ice from memory",
    status=Status.PUBLISHED,
)
def dew_point(*, air: Celsius, humidity: Percent, ice_below_zero: bool = True) -> float:
    """Dew point, °C, of air at ``air`` °C and ``humidity`` % (more than 0); below 0 °C the frost point unless told otherwise."""
    require.between(-45, 60, air=air)
    require.positive(humidity=humidity)
    require.between(0, 100, humidity=humidity)
    wet = math.log(vapour_pressure(air=air, humidity=humidity) / _VAPOUR_AT_ZERO)
    a, b = ICE if wet < 0 and ice_below_zero else WATER
    return b * wet / (a - wet)


@calculation(
    title="Least surface temperature for bonding",
    formula="dew point of air and humidity + margin",
    unit="°C",
    source="ISO 8502-4 and ISO 12944-7 as quoted (written for paint)",
    status=Status.SECOND_HAND,
)
def least_surface_temperature(*, air: Celsius, humidity: Percent, margin: Kelvins) -> float:
    """Coldest glass or frame that may be bonded, °C."""
    require.not_negative(margin=margin)
    return dew_point(air=air, humidity=humidity) + margin


@calculation(
    title="Dampest air for a surface",
    formula="saturation at (surface - margin) / saturation at air temperature",
    unit="%",
    source="WMO No. 8, Annex 4.B (Magnus form), solved for the humidity; over ice below 0 °C",
    status=Status.PUBLISHED,
)
def dampest_air(*, air: Celsius, surface: Celsius, margin: Kelvins, ice_below_zero: bool = True) -> float:
    """Humidity, %, at which the dew point lies just ``margin`` K under the surface; at most 100."""
    require.between(-45, 60, air=air)
    require.finite(surface=surface)
    require.not_negative(margin=margin)
    dew = surface - margin
    require.between(-100, 60, dew_point=dew)
    a, b = ICE if dew < 0 and ice_below_zero else WATER
    return min(100.0, 100 * math.exp(a * dew / (b + dew) - WATER[0] * air / (WATER[1] + air)))


@calculation(
    title="Go or no-go of the climate",
    formula="glass and frame above the dew point of air and humidity by the margin, no damper than the most humidity, "
    "neither below the coldest nor above the warmest",
    unit="",
    source="ISO 8502-4 and ISO 12944-7 as quoted; temperature limits 5 to 35 °C common practice",
    status=Status.SECOND_HAND,
)
def ready_to_bond(
    *,
    air: Celsius,
    humidity: Percent,
    glass: Celsius,
    frame: Celsius,
    margin: Kelvins,
    most_humidity: Percent,
    coldest: Celsius,
    warmest: Celsius,
) -> Verdict:
    """Whether the climate lets the bonding go ahead; temperatures °C, humidity %."""
    require.finite(glass=glass, frame=frame)
    dew = dew_point(air=air, humidity=humidity)
    reasons = []
    if humidity > most_humidity:
        reasons.append(f"humidity {humidity:.0f} %, at most {most_humidity:.0f} %")
    for name, surface in (("glass", glass), ("frame", frame)):
        if surface < dew + margin - 1e-9:
            reasons.append(f"{name} {surface:.1f} °C, at least {dew + margin:.1f} °C (dew point {dew:.1f} °C + {margin:g} K)")
    for name, value in (("air", air), ("glass", glass), ("frame", frame)):
        if not coldest <= value <= warmest:
            reasons.append(f"{name} {value:.1f} °C, {coldest:g} to {warmest:g} °C")
    return Verdict(not reasons, tuple(reasons))


@calculation(
    title="Time constant of a pane in air",
    formula="density × specific heat × thickness / (2 × heat transfer)",
    unit="min",
    source="lumped heat capacity, both faces free; heat transfer 8 W/(m² K) and specific heat 840 J/(kg K) from memory",
    status=Status.FROM_MEMORY,
)
def time_constant(
    *,
    thickness: Millimetres,
    density: KilogramsPerCubicMetre,
    specific_heat: JoulesPerKilogramKelvin,
    heat_transfer: WattsPerSquareMetreKelvin,
) -> float:
    """Minutes in which the gap between pane and air shrinks to 37 %; thickness in mm.

    EN 572-1 has 720 J/(kg K); the default is the higher figure, so the time errs on the long side.
    """
    require.positive(thickness=thickness, density=density, specific_heat=specific_heat, heat_transfer=heat_transfer)
    return density * specific_heat * thickness * 1e-3 / (2 * heat_transfer) / 60


@calculation(
    title="Warm-up time of a pane",
    formula="time constant × ln((air - start) / (air - target))",
    unit="min",
    source="lumped heat capacity, both faces free",
    status=Status.DERIVED,
)
def warm_up_time(*, start: Celsius, target: Celsius, air: Celsius, time_constant: Minutes) -> float:
    """Minutes for a free-standing pane to warm from ``start`` to ``target`` °C; 0 if it is there already.

    Raises ``ValueError`` when the air is no warmer than the target: the pane never gets there.
    """
    require.finite(start=start, target=target, air=air)
    require.positive(time_constant=time_constant)
    if target <= start:
        return 0.0
    if air <= target:
        raise ValueError(f"air: found {air:g} °C, allowed: more than the {target:g} °C the glass shall reach")
    return time_constant * math.log((air - start) / (air - target))


@calculation(
    title="Open time in the climate",
    formula="open time at 23 °C and 50 % × smaller of 1 and 50 % / humidity × in warmer air 2^(-(air - 23) / halving); in colder air × 1, "
    "or, where the sheet gives a second point, (cold open time / open time)^((23 - air) / (23 - cold air)), at most at that point",
    unit="min",
    source="halves for each 10 K above 23 °C, rough; in damp air the skin forms as fast as there is more moisture; the cold lengthens it "
    "no further than the data sheet says",
    status=Status.FROM_MEMORY,
)
def open_time(
    *,
    air: Celsius,
    humidity: Percent,
    open_time_at_23: Minutes,
    halving: Kelvins,
    cold_open_time: Minutes | None = None,
    cold_air: Celsius | None = None,
) -> float:
    """Minutes from the first bead until the skin is too old to wet the landing.

    ``halving`` K warmer it lasts half as long. In the cold never longer than the sheet says at 23 °C, unless the sheet says more at a
    second point: ``cold_open_time`` minutes at ``cold_air`` °C.

    >>> open_time(air=8, humidity=50, open_time_at_23=30, halving=10), open_time(air=23, humidity=100, open_time_at_23=30, halving=10)
    (30.0, 15.0)
    """
    require.between(-45, 60, air=air)
    require.positive(open_time_at_23=open_time_at_23, halving=halving, humidity=humidity)
    damp = min(1.0, STANDARD_HUMIDITY / humidity)
    if air >= STANDARD_AIR:
        return damp * open_time_at_23 * math.pow(2.0, -(air - STANDARD_AIR) / halving)
    if cold_open_time is None or cold_air is None:
        return damp * open_time_at_23
    _colder_and_longer(open_time_at_23, cold_open_time, cold_air)
    colder = (STANDARD_AIR - max(air, cold_air)) / (STANDARD_AIR - cold_air)
    return damp * open_time_at_23 * math.pow(cold_open_time / open_time_at_23, colder)


@calculation(
    title="Warmest air for the time it takes",
    formula="needed = elapsed / (share × smaller of 1 and 50 % / humidity); up to the open time at 23 °C: "
    "23 °C - halving × log2(needed / open time); beyond it, where the sheet gives a second point: "
    "23 °C - (23 °C - cold air) × log(needed / open time) / log(cold open time / open time)",
    unit="°C",
    source="open time in the climate, solved for the air; the adhesive's data sheet decides",
    status=Status.FROM_MEMORY,
)
def warmest_air(
    *,
    elapsed: Minutes,
    humidity: Percent,
    open_time_at_23: Minutes,
    share: Ratio,
    halving: Kelvins,
    cold_open_time: Minutes | None = None,
    cold_air: Celsius | None = None,
) -> float:
    """Air, °C, at which the time from first bead to last press just fills its share of the open time; -inf: no air does it."""
    require.positive(elapsed=elapsed, open_time_at_23=open_time_at_23, share=share, halving=halving, humidity=humidity)
    longer = elapsed / (share * min(1.0, STANDARD_HUMIDITY / humidity)) / open_time_at_23
    if longer <= 1:
        return STANDARD_AIR - halving * math.log2(longer)
    if cold_open_time is None or cold_air is None:
        return -math.inf
    _colder_and_longer(open_time_at_23, cold_open_time, cold_air)
    if longer > cold_open_time / open_time_at_23:
        return -math.inf
    return STANDARD_AIR - (STANDARD_AIR - cold_air) * math.log(longer) / math.log(cold_open_time / open_time_at_23)


def _colder_and_longer(open_time_at_23: float, cold_open_time: float, cold_air: float) -> None:
    if not cold_air < STANDARD_AIR:
        raise ValueError(f"cold air: found {cold_air:g}, allowed: less than {STANDARD_AIR:g}")
    if cold_open_time < open_time_at_23:
        raise ValueError(
            f"cold open time: found {cold_open_time:g}, allowed: at least the {open_time_at_23:g} at {STANDARD_AIR:g} °C"
        )


__all__ = [
    "ICE",
    "WATER",
    "Verdict",
    "dampest_air",
    "dew_point",
    "least_surface_temperature",
    "open_time",
    "ready_to_bond",
    "saturation_pressure",
    "time_constant",
    "vapour_pressure",
    "warm_up_time",
    "warmest_air",
]
