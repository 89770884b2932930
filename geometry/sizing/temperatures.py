"""Temperatures of frame and glass: in the cases of the pane's life, and on the day it is bonded.

Terms
-----
case
    Frame and glass at one moment: given by the job, or worked out from the frame's colour and the hottest and coldest air.
hot soak
    The frame in the sun at the hottest air, the glass behind it: the joint opens.
sun on glass
    The printed edge of the glass in the sun, the frame in the shade: the joint closes where the frame is of steel or timber.
frost night
    Both as cold as the coldest air.
asks, works
    How a value of the table ``temperatures`` is had by its name, and how a rule is called: plainly where sizes are worked out, with
    pedigree where findings are. The cases are written once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

from geometry.rules.holding import thermal

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.job import Pane

__all__ = ["Asks", "Bonded", "Works", "bonded", "cases_of", "worked_out_cases"]

Case = tuple[str, Any, Any]
"""Name, frame and glass, °C: each a number or a value with its pedigree."""


class Asks(Protocol):
    """A value of the table ``temperatures`` by its name, scaled."""

    def __call__(self, name: str, *, scale: float = 1.0) -> Any:
        """The value, bare or with its pedigree."""


class Works(Protocol):
    """Calls a rule."""

    def __call__(self, what: str, rule: Callable[..., Any], *, where: str, **inputs: Any) -> Any:
        """The outcome, bare or with its pedigree; ``what`` it is and in which case (``where``)."""


def worked_out_cases(asks: Asks, works: Works) -> tuple[Case, ...]:
    """The three cases that stand where the job gives none."""
    hot, sun, frost = "hot soak", "sun on glass", "frost night"
    frame = works(
        "temperature of the frame in the sun",
        thermal.summer_surface,
        where=hot,
        highest_air=asks("hottest_air"),
        colour=asks("frame_colour"),
        sunward=True,
    )
    glass = works(
        "temperature of the glass beside it",
        thermal.glass_beside_frame,
        where=hot,
        frame=frame,
        difference=asks("glass_behind_frame"),
    )
    edge = works(
        "temperature of the printed edge in the sun",
        thermal.sunlit_temperature,
        where=sun,
        air=asks("hottest_air"),
        absorptance=asks("print_absorptance", scale=0.01),
        gain=asks("sun_gain"),
    )
    coldest = asks("coldest_air")
    return (hot, frame, glass), (sun, asks("frame_in_shade"), edge), (frost, coldest, coldest)


def cases_of(pane: Pane) -> tuple[thermal.ThermalCase, ...]:
    """The temperature cases of a pane as bare numbers, in the order of the job file."""
    table = pane.temperatures
    if table.cases is not None:
        return tuple(thermal.ThermalCase(name, case.frame, case.glass) for name, case in table.cases.items())

    def asks(name: str, *, scale: float = 1.0) -> Any:
        value = getattr(table, name)
        return value * scale if isinstance(value, float) else value

    def works(what: str, rule: Callable[..., Any], *, where: str, **inputs: Any) -> Any:
        return rule(**inputs)

    return tuple(thermal.ThermalCase(*case) for case in worked_out_cases(asks, works))


class Bonded(NamedTuple):
    """Temperatures of frame and glass when pressed home, °C, and the keys of the job file that give them."""

    frame: float
    glass: float
    frame_key: str
    glass_key: str


def bonded(pane: Pane) -> Bonded:
    """Given, or the surfaces in the climate of the pane."""
    given, climate = pane.temperatures.bonding, pane.climate
    if given is not None:
        return Bonded(given, given, "temperatures.bonding", "temperatures.bonding")
    frame, glass = climate.frame_key, climate.glass_key
    return Bonded(getattr(climate, frame), getattr(climate, glass), f"climate.{frame}", f"climate.{glass}")
