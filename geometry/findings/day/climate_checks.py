"""Dry and warm enough to bond: dew point, humidity, temperature of glass and frame.

Terms
-----
surface
    Glass and frame where the bead goes: ``climate.surface`` (left out: as the air), ``climate.frame_surface`` (as the glass).
least surface
    Dew point of the air and the margin above it.
go
    The climate lets the bonding go ahead; what speaks against it is listed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.ledger.figure import Figure, Sourced, defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side
from geometry.rules.calculation import Status
from geometry.rules.day import climate

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"
HALF_HOURS = 30.0  # a wait is told in half hours


DRY = Constraint("surface above the dew point by the margin", side=Side.AT_LEAST, unit="°C")
HUMIDITY = Constraint(
    "air no damper than bonding allows",
    side=Side.AT_MOST,
    unit="%",
    source="ISO 12944-7 as quoted (written for paint)",
    status=Status.SECOND_HAND,
    limit_key="limits.humidity_most",
)
COLD = Constraint(
    "surface no colder than bonding allows",
    side=Side.AT_LEAST,
    unit="°C",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.bonding_coldest",
)
WARM = Constraint(
    "surface no warmer than bonding allows",
    side=Side.AT_MOST,
    unit="°C",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.bonding_warmest",
)


@dataclass(frozen=True, slots=True)
class DayClimate:
    """The air and the surfaces of the day, and whether it is a go."""

    air: Sourced
    humidity: Sourced
    glass: Sourced
    frame: Sourced
    dew_point: Figure
    least_surface: Figure
    go: bool
    against: tuple[str, ...]


def day_climate(subject: Subject, ledger: Ledger) -> DayClimate:
    """The climate of one pane's bonding."""
    air = subject.asked("climate.air", unit="°C")
    humidity = subject.asked("climate.humidity", unit="%")
    glass = subject.asked(f"climate.{subject.pane.climate.glass_key}", unit="°C")
    frame = subject.asked(f"climate.{subject.pane.climate.frame_key}", unit="°C")
    margin = subject.limit("dew_margin")
    dew = ledger.work("dew point", climate.dew_point, air=air, humidity=humidity)
    least = ledger.work(
        "least temperature of glass and frame", climate.least_surface_temperature, air=air, humidity=humidity, margin=margin
    )
    ready = ledger.work(
        "go or no-go of the climate",
        climate.ready_to_bond,
        air=air,
        humidity=humidity,
        glass=glass,
        frame=frame,
        margin=margin,
        most_humidity=subject.limit("humidity_most"),
        coldest=subject.limit("bonding_coldest"),
        warmest=subject.limit("bonding_warmest"),
    )
    return DayClimate(air, humidity, glass, frame, dew, least, ready.value.go, ready.value.reasons)


def warm_up_minutes(subject: Subject, ledger: Ledger, day: DayClimate, target: float) -> float | None:
    """Minutes in which the glass, free on both faces, reaches ``target`` °C in the air of the shop; None: never."""
    if target >= day.air.value:
        return None
    constant = ledger.work(
        "time constant of the pane in air",
        climate.time_constant,
        thickness=subject.sizes.glass_thickness,
        density=subject.glass("density", register="glass density", unit="kg/m³"),
        specific_heat=subject.glass("specific_heat", register="glass specific heat for warming up", unit="J/(kg K)"),
        heat_transfer=subject.asked("work.heat_transfer", unit="W/(m² K)"),
    )
    wait = ledger.work(
        "warm-up time of the pane",
        climate.warm_up_time,
        start=day.glass,
        target=target,
        air=day.air,
        time_constant=constant,
    )
    return float(wait.value)


def findings(subject: Subject, ledger: Ledger) -> Iterable[Finding]:
    """Dew point, humidity and temperatures."""
    day = day_climate(subject, ledger)
    yield _dry(subject, ledger, day)
    yield _humidity(subject, day)
    yield _not_cold(subject, ledger, day)
    yield _not_warm(subject, day)


def _coldest(day: DayClimate) -> tuple[str, Sourced]:
    return ("frame", day.frame) if day.frame.value < day.glass.value else ("glass", day.glass)


def _surfaces(subject: Subject, *, least: float | None = None, most: float | None = None) -> tuple[Change, ...]:
    """The changes that bring glass and frame within bounds; a temperature that follows another is not written."""
    given = subject.pane.climate
    changes = []
    glass = given.air if given.surface is None else given.surface
    for key, value in (("climate.surface", glass), ("climate.frame_surface", given.frame_surface)):
        if value is None:
            continue
        within = value if least is None else max(value, least)
        within = within if most is None else min(within, most)
        if within != value:
            changes.append(Change(key, within))
    return tuple(changes)


def _dry(subject: Subject, ledger: Ledger, day: DayClimate) -> Finding:
    where, surface = _coldest(day)
    least, dew = day.least_surface, day.dew_point
    says = f"{where} at {surface.value:.1f} °C, dew point {dew.value:.1f} °C in air of {day.air.value:g} °C and {day.humidity.value:g} %"
    remedies: list[Remedy] = []
    if surface.value < least.value:
        target = float(math.ceil(least.value - 1e-9))
        remedies.append(
            Remedy(
                f"warm the {where} to {target:g} °C{_wait(subject, ledger, day, where, target)}", _surfaces(subject, least=target)
            )
        )
        remedies.extend(_drier(subject, day, surface))
    return DRY.but(source=least.record.source, status=least.record.status).judged(
        value=surface.value,
        limit=least.value,
        where=where,
        says=says,
        remedies=tuple(remedies),
        figure=least,
    )


def _wait(subject: Subject, ledger: Ledger, day: DayClimate, where: str, target: float) -> str:
    """How long the glass takes by itself; a frame is part of a boat and nobody knows."""
    if where == "frame":
        return ""
    minutes = warm_up_minutes(subject, ledger, day, target)
    if minutes is None:
        return f": the air of {day.air.value:g} °C alone does not do it"
    hours = math.ceil(minutes / HALF_HOURS - 1e-9) * HALF_HOURS / 60
    return f": unpacked and free on both faces it takes about {minutes:.0f} minutes, allow {hours:g} h"


def _drier(subject: Subject, day: DayClimate, surface: Sourced) -> Iterable[Remedy]:
    """Whole per cents of humidity down to which the air would have to be dried."""
    margin = subject.limit("dew_margin").value
    most = math.floor(climate.dampest_air(air=day.air.value, surface=surface.value, margin=margin) + 1e-9)
    if most >= 1:
        yield Remedy(f"dry the air to {most} % humidity", (Change("climate.humidity", float(most)),))


def _humidity(subject: Subject, day: DayClimate) -> Finding:
    most = subject.limit("humidity_most")
    return HUMIDITY.judged(
        value=day.humidity.value,
        limit=most.value,
        says=f"humidity {day.humidity.value:g} %",
        remedies=(Remedy(f"dry the air to {most.value:g} % humidity", (Change("climate.humidity", most.value),)),),
        defaults=defaults_of(day.humidity, most),
    )


def _not_cold(subject: Subject, ledger: Ledger, day: DayClimate) -> Finding:
    where, surface = _coldest(day)
    coldest = subject.limit("bonding_coldest")
    wait = _wait(subject, ledger, day, where, coldest.value) if surface.value < coldest.value else ""
    return COLD.judged(
        value=surface.value,
        limit=coldest.value,
        where=where,
        says=f"{where} at {surface.value:.1f} °C",
        remedies=lambda: (
            Remedy(f"warm glass and frame to {coldest.value:g} °C{wait}", _surfaces(subject, least=coldest.value)),
        ),
        defaults=defaults_of(surface, coldest),
    )


def _not_warm(subject: Subject, day: DayClimate) -> Finding:
    where, surface = ("frame", day.frame) if day.frame.value > day.glass.value else ("glass", day.glass)
    warmest = subject.limit("bonding_warmest")
    return WARM.judged(
        value=surface.value,
        limit=warmest.value,
        where=where,
        says=f"{where} at {surface.value:.1f} °C",
        remedies=lambda: (
            Remedy(f"shade glass and frame until they are at {warmest.value:g} °C", _surfaces(subject, most=warmest.value)),
        ),
        defaults=defaults_of(surface, warmest),
    )


__all__ = ["COLD", "DRY", "HUMIDITY", "WARM", "DayClimate", "day_climate", "findings", "warm_up_minutes"]
