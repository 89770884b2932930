"""How the supplier's sheet writes a figure: no finer than its tolerance, and no limit looser than it is.

Whole and half millimetres from a tolerance of 1 mm on, else tenths; a tenth of the tolerance is never gone below. Widths of the print and
their limits are tenths, so that the least and the greatest agree with the width as drawn.
"""

from __future__ import annotations

import math
from dataclasses import replace

from outputs.sheet.drafting import DraftingStyle, number

PANE_STYLE = replace(
    DraftingStyle(), arrow_angle=17.0, extension_past=1.8, text_gap=1.65, first_row=10.0, row=7.0, line_pitch=4.0
)
"""The hand of the supplier's sheet."""

TENTHS = 0.0
"""The tolerance that has a figure written to a tenth, whatever is allowed: for the width of the print and its limits, which are told
side by side and are checked against each other."""

_SLACK = 1e-6  # mm: the last bits of a sum round nothing


def step_of(tolerance: float) -> float:
    """The step in which a size of that tolerance is written, mm."""
    return 0.5 if tolerance >= 1.0 else 0.1


def nearest(value: float, tolerance: float) -> str:
    """A size, rounded to its step, half up.

    >>> nearest(1286.98, 2), nearest(35.37, 2), nearest(35.34, 0.5)
    ('1287', '35,5', '35,3')
    """
    step = step_of(tolerance)
    return number(math.floor(value / step + 0.5 + _SLACK) * step, decimals=1)


def toleranced(value: float, tolerance: float) -> str:
    """A size with its equal deviations; a measured one, whose deviation is 0, stands alone.

    >>> toleranced(1305.53, 2), toleranced(701.5, 0)
    ('1305,5 ±2', '701,5')
    """
    figure = nearest(value, tolerance)
    return figure if not tolerance else f"{figure} ±{number(tolerance)}"


def at_least(value: float, tolerance: float) -> str:
    """A least size, rounded up to its step: what keeps to the figure keeps to the size.

    >>> at_least(33.37, 2), at_least(22, 2)
    ('33,5', '22')
    """
    step = step_of(tolerance)
    return number(math.ceil(value / step - _SLACK) * step, decimals=1)


def at_most(value: float, tolerance: float) -> str:
    """A greatest size, rounded down to its step.

    >>> at_most(37.37, 2)
    '37'
    """
    step = step_of(tolerance)
    return number(math.floor(value / step + _SLACK) * step, decimals=1)


def toleranced_width(width: float, tolerance: float) -> str:
    """A width of the print with its deviations, to a tenth: least and greatest widths beside it follow from it.

    >>> toleranced_width(26.26, 2), toleranced_width(36, 2)
    ('26,3 ±2', '36 ±2')
    """
    figure = nearest(width, TENTHS)
    return figure if not tolerance else f"{figure} ±{number(tolerance)}"


def radius_words(radius: float, count: int = 1) -> str:
    """A radius, with how many of them where there are several.

    >>> radius_words(40, 4), radius_words(612.5)
    ('4 × R40', 'R612,5')
    """
    return f"{f'{count} × ' if count > 1 else ''}R{number(radius, decimals=1)}"


__all__ = ["PANE_STYLE", "TENTHS", "at_least", "at_most", "nearest", "radius_words", "step_of", "toleranced", "toleranced_width"]
