"""The unit of a drawing: what its header says, as it stands in the file, and what the sizes say to it.

Terms
-----
raw header
    The header's variables as they are written. A library that reads a drawing puts its own value where the file states none.
unit
    mm, cm, m, in or ft. ``$INSUNITS`` (DXF reference, group 70 of the header): 1 inches, 2 feet, 4 millimetres, 5 centimetres,
    6 metres; 0 says that there is none. Files before the year 2000 have no such variable.
"""

from __future__ import annotations

from dataclasses import dataclass

MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
"""How many millimetres each unit has."""
WORDS = {"in": "inches", "ft": "feet"}
"""Units whose short names read badly in a sentence."""
BY_NUMBER = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
OTHERS = {
    3: "miles", 7: "kilometres", 8: "microinches", 9: "mils", 10: "yards", 11: "angstroms", 12: "nanometres", 13: "microns",
    14: "decimetres", 15: "decametres", 16: "hectometres", 17: "gigametres", 18: "astronomical units", 19: "light years",
    20: "parsecs", 21: "survey feet", 22: "survey inches", 23: "survey yards", 24: "survey miles",
}  # fmt: skip
LEAST, MOST = 80.0, 6000.0
"""mm of a pane's shorter and longer side; beyond them the unit is in doubt (own bounds)."""
FAR_OFF = 1e5
"""mm from the origin of its coordinates from which a shape is worked on near it (own bound)."""


@dataclass(frozen=True, slots=True)
class Header:
    """What the header of a drawing states: the numbers of its unit and of its measurement system; None where it does not."""

    unit: int | None = None
    metric: int | None = None  # $MEASUREMENT: 0 is imperial, 1 metric

    @property
    def name(self) -> str:
        """The unit by its short name; "" where the header states none that a pane is drawn in."""
        return BY_NUMBER.get(self.unit or 0, "")

    @property
    def words(self) -> str:
        """What it states, for a sentence."""
        if self.unit is None:
            return "no unit"
        if self.unit == 0:
            return "that it has no unit"
        return self.name or OTHERS.get(self.unit, f"the unknown unit {self.unit}")


def usual(width: float, height: float) -> bool:
    """Whether a pane may have this box, mm.

    >>> usual(900, 450), usual(0.9, 0.45), usual(900, 60)
    (True, False, False)
    """
    return min(width, height) >= LEAST and max(width, height) <= MOST


def whole_shift(x: float, y: float) -> tuple[float, float]:
    """Whole mm by which a place far off the origin of its coordinates is brought near it, so that no figure is lost; else (0, 0).

    >>> whole_shift(-5.4e6, 12.3), whole_shift(90_000.0, 12.3)
    ((-5400000.0, 12.0), (0.0, 0.0))
    """
    return (float(round(x)), float(round(y))) if max(abs(x), abs(y)) > FAR_OFF else (0.0, 0.0)


def likely(width: float, height: float) -> list[str]:
    """The units in which a box of these bare numbers would be a pane, each with its size.

    >>> likely(35.4, 17.7)
    ['cm (354 × 177 mm)', 'in (899.2 × 449.6 mm)']
    """
    sizes = [(unit, width * factor, height * factor) for unit, factor in MILLIMETRES.items()]
    return [f"{unit} ({_size(wide)} × {_size(high)} mm)" for unit, wide, high in sizes if usual(wide, high)]


def _size(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


__all__ = ["LEAST", "MILLIMETRES", "MOST", "WORDS", "Header", "likely", "usual", "whole_shift"]
