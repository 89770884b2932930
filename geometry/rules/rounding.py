"""How a figure is rounded up, and how it is written in a sentence."""

from __future__ import annotations

import math


def up(value: float, step: float = 1.0) -> float:
    """Round up to a step; what lies within a millionth of a step counts as on it.

    >>> up(6.2), up(6.0000001), up(4.1, 0.5)
    (7.0, 6.0, 4.5)
    """
    return math.ceil(value / step - 1e-6) * step


def number(value: float, places: int = 1) -> str:
    """A figure in a sentence, without idle zeros."""
    return f"{round(value, places) + 0.0:.{places}f}".rstrip("0").rstrip(".") if places else f"{value:.0f}"


def mm(value: float) -> str:
    """A figure in a sentence with its unit."""
    return f"{number(value, 2)} mm"


__all__ = ["mm", "number", "up"]
