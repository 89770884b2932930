"""The temperatures of a pane with their pedigree: its cases, and frame and glass when pressed home."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.ledger.figure import Sourced, worked_once
from geometry.sizing.temperatures import bonded, worked_out_cases

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.sizing.temperatures import Case
    from geometry.workings.subject import Subject

_UNITS = {"glass_behind_frame": "K", "sun_gain": "K", "frame_colour": "", "print_absorptance": ""}


@worked_once
def temperature_cases(subject: Subject, ledger: Ledger) -> tuple[Case, ...]:
    """Every temperature case in the order of the job file: name, frame and glass, °C."""
    given = subject.pane.temperatures.cases
    if given is None:

        def asks(name: str, *, scale: float = 1.0) -> Any:
            return subject.asked(f"temperatures.{name}", scale=scale, unit=_UNITS.get(name, "°C"))

        return worked_out_cases(asks, ledger.work)
    origin = subject.asked("temperatures.cases").origin
    return tuple(
        (
            name,
            Sourced(case.frame, origin, f"temperatures.cases.{name}.frame", "°C"),
            Sourced(case.glass, origin, f"temperatures.cases.{name}.glass", "°C"),
        )
        for name, case in given.items()
    )


def bonding_temperatures(subject: Subject) -> tuple[Sourced, Sourced]:
    """Frame and glass when pressed home, °C."""
    at = bonded(subject.pane)
    return subject.asked(at.frame_key, unit="°C"), subject.asked(at.glass_key, unit="°C")


__all__ = ["bonding_temperatures", "temperature_cases"]
