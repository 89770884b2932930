"""Sums of the record whose formula depends on what went in: which of several holds on a pane, by its inputs.

Terms
-----
choice
    A function from the inputs of a rule, by their names in words, to the formula as :mod:`outputs.record.sums` writes them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

Inputs = Mapping[str, Any]
Formula = str | Callable[[Inputs], str]


def two_plies(formula: str) -> Callable[[Inputs], str]:
    """A formula of a laminate of two plies; more of them are told in words."""
    return lambda inputs: formula if len(inputs["plies"]) == 2 else ""


def contact(inputs: Inputs) -> str:
    """Width that the bead wets at a gap: pressed flat, or by its point only."""
    if inputs["gap"] <= inputs["notch height"] / 2.0:
        return "{notch width} × {notch height} / (2 × {gap})"
    return "max(0; {notch width} × ({notch height} / {gap} − 1))"


def hottest(inputs: Inputs) -> str:
    """Surface temperature in summer sun, with the gain of the colour."""
    from geometry.rules.holding.thermal import SUMMER_GAIN

    return "{highest air} + " + f"{SUMMER_GAIN[inputs['colour']][1 if inputs['sunward'] else 0]:g}"


def lasting(inputs: Inputs) -> str:
    """The force that stays on the bead: without chocks the weight along the pane too."""
    return "max(0; {pull off})" if inputs["chocked"] else "√({weight along}² + max(0; {pull off})²)"


def lasting_limit(inputs: Inputs) -> str:
    """What a lasting stress may be, by what it comes from."""
    if inputs["pull off"] <= 1e-9:
        return "{permanent shear}"
    sheared = inputs["weight along"] > 0 and not inputs["chocked"]
    return "min({permanent shear}; {permanent tension})" if sheared else "{permanent tension}"


def governing(inputs: Inputs) -> str:
    """The tension along the bead that governs: the trapezoidal rule, halved on a round pane, or the mean of the whole bead."""
    half = "0.5 × " if inputs["round pane"] else ""
    mean = "{outward pressure} / 1000 × {area} / ({bond width} × {bead length})"
    return f"max({half}{{outward pressure}} / 1000 × {{inscribed radius}} / {{bond width}}; {mean})"


def bead_start(inputs: Inputs) -> str:
    """Start of the bead; in a session people and guns must be free for it too."""
    free = "; {people free}" if "people free" in inputs else ""
    ready = f"max({{frame ready}}; {{glass ready}}{free})"
    return f"⌈({{work begins}} + {ready} + {{climate check}}) / {{clock step}}⌉ × {{clock step}} − {{work begins}}"


def open_time(inputs: Inputs) -> str:
    """Open time in the air of the day: warmer or damper than the data sheet's it is shorter."""
    damp = "{open time at 23} × min(1; 50 / {humidity})"
    if inputs["air"] >= 23.0:
        return f"{damp} × 2^(−({{air}} − 23) / {{halving}})"
    if inputs.get("cold open time") is None or inputs.get("cold air") is None:
        return damp
    return f"{damp} × ({{cold open time}} / {{open time at 23}})^((23 − max({{air}}; {{cold air}})) / (23 − {{cold air}}))"


def dew(inputs: Inputs) -> str:
    """The dew point over water or over ice."""
    import math

    wet = math.log(inputs["humidity"] / 100.0) + 17.62 * inputs["air"] / (243.12 + inputs["air"])
    a, b = ("17.62", "243.12") if wet >= 0.0 or inputs.get("ice below zero") is False else ("22.46", "272.62")
    return f"{b} × γ / ({a} − γ) with γ = ln({{humidity}} / 100) + 17.62 × {{air}} / (243.12 + {{air}})"


def faces(both: str, one: str) -> Callable[[Inputs], str]:
    """A formula by whether the inner face of the bead is open."""
    return lambda inputs: both if inputs["inner face open"] else one


def backfilled(width: str) -> Callable[[Inputs], str]:
    """Days until a width has cured, the outer face shut off by the backfill."""

    def formula(inputs: Inputs) -> str:
        if not inputs["inner face open"]:
            return f"({{{width}}} / {{rate}})²"
        both = (inputs[width] / (2.0 * inputs["rate"])) ** 2
        if inputs.get("backfilled after") is None or inputs["backfilled after"] >= both:
            return f"({{{width}}} / (2 × {{rate}}))²"
        return f"({{{width}}} / {{rate}} − √({{backfilled after}}))²"

    return formula


def handling(inputs: Inputs) -> str:
    """Days until the pane may be handled."""
    return "max({least}; " + backfilled("width")(inputs) + ")"


def bearing(inputs: Inputs) -> str:
    """What of the plies bears on a chock."""
    if len(inputs["plies"]) == 1:
        return "{single}"
    inner = [f"{{plies {count}}}" for count in range(2, len(inputs["plies"]) + 1)]
    between = [f"{{interlayers {count}}}" for count in range(1, len(inputs["interlayers"]) + 1)]
    return " + ".join([*inner, *between, "{outer share} × {plies 1}"])


def _against_frame(inputs: Inputs) -> tuple[str, str]:
    """How far the glass moves against the frame, to the right and up."""
    right, up = "{shift 1} − {turn} × {arm 2} − {differential strain} × {arm 1}", "{shift 2} + {turn} × {arm 1}"
    up += " − {differential strain} × {arm 2}"
    if "racking" in inputs:
        right, up = f"{right} − {{racking}} / 2 × {{arm 2}}", f"{up} − {{racking}} / 2 × {{arm 1}}"
    return f"({right})", f"({up})"


def opening(inputs: Inputs) -> str:
    """How far the joint opens at a place, the frame's swelling taken off."""
    right, up = _against_frame(inputs)
    swell = " − {swell} × |{outward 1}|" if "swell" in inputs else ""
    return f"−({right} × {{outward 1}} + {up} × {{outward 2}}){swell}"


def along(inputs: Inputs) -> str:
    """How far the glass moves along its edge at a place."""
    right, up = _against_frame(inputs)
    return f"|{up} × {{outward 1}} − {right} × {{outward 2}}|"


def least_share(inputs: Inputs) -> str:
    """The least force of the blocks as a share of the weight."""
    forces = "; ".join(f"{{forces {count}}}" for count in range(1, len(inputs["forces"]) + 1))
    return f"min({forces}) / {{weight along}}"


def people(inputs: Inputs) -> str:
    """What so many people may lift, several of them each less than one alone."""
    people = inputs["people"]
    share = {1: "", 2: " × {two}"}.get(people, " × {more}")
    return "{people} × {one}" + share + " × {reach share}"


def packs(inputs: Inputs) -> str:
    """Packs to buy: at least one for each gun."""
    packs = "⌈{to buy} / ({pack} × {pack yield})⌉"
    return f"max({packs}; {{guns}})" if "guns" in inputs else packs


def mass(inputs: Inputs) -> str:
    """Mass of the pane, with its interlayers where it has any."""
    between = " + {interlayer density} × {interlayer}" if "interlayer" in inputs and "interlayer density" in inputs else ""
    return "{area} × ({glass density} × {glass}" + between + ") / 10⁹"


def framed(inputs: Inputs) -> str:
    """What a coat takes on the frame, with the wall of the recess where it is coated."""
    wall = " + {perimeter} × {joint width}" if "perimeter" in inputs and "joint width" in inputs else ""
    return "({bead length} × ({bond width} + 2 × {beside})" + wall + ") × {coat} × {times} / 1000"


__all__ = [
    "Formula",
    "Inputs",
    "along",
    "backfilled",
    "bead_start",
    "bearing",
    "contact",
    "dew",
    "faces",
    "framed",
    "governing",
    "handling",
    "hottest",
    "lasting",
    "lasting_limit",
    "least_share",
    "mass",
    "open_time",
    "opening",
    "packs",
    "people",
    "two_plies",
]
