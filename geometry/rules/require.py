"""The door of every rule: figures that make no sense are refused with one clear sentence.

Terms
-----
refusal
    ``ValueError`` that names the figure, what was found and what is allowed.
"""

from __future__ import annotations

import math


def finite(**figures: float) -> None:
    """Refuse any figure that is not a finite number."""
    for name, value in figures.items():
        if not math.isfinite(value):
            raise ValueError(f"{_words(name)}: found {value}, allowed: a finite number")


def positive(**figures: float) -> None:
    """Refuse any figure that is not a finite number above 0."""
    for name, value in figures.items():
        if not 0 < value < math.inf:
            finite(**figures)
            raise ValueError(f"{_words(name)}: found {value:g}, allowed: more than 0")


def not_negative(**figures: float) -> None:
    """Refuse any figure that is not a finite number of at least 0."""
    for name, value in figures.items():
        if not 0 <= value < math.inf:
            finite(**figures)
            raise ValueError(f"{_words(name)}: found {value:g}, allowed: 0 or more")


def between(low: float, high: float, **figures: float) -> None:
    """Refuse any figure outside the closed range ``low`` to ``high``."""
    for name, value in figures.items():
        if not (low <= value <= high and -math.inf < value < math.inf):
            finite(**figures)
            raise ValueError(f"{_words(name)}: found {value:g}, allowed: {low:g} to {high:g}")


def inside(low: float, high: float, **figures: float) -> None:
    """Refuse any figure not strictly between ``low`` and ``high``."""
    for name, value in figures.items():
        if not low < value < high:
            finite(**figures)
            raise ValueError(f"{_words(name)}: found {value:g}, allowed: more than {low:g} and less than {high:g}")


def _words(name: str) -> str:
    return name.replace("_", " ")


__all__ = ["between", "finite", "inside", "not_negative", "positive"]
