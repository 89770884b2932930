"""The hand that draws: sizes of lettering, arrows and gaps, and how a figure is written.

All sizes are paper millimetres. Lettering heights are of the series of ISO 3098 (1,8 2,5 3,5 5 7), arrows are closed, filled, 15° and as
long as the lettering is high, the dimension line stands 2 mm inside the end of its extension lines (ISO 129-1; the 2 mm, the 1 mm gap at
the feature and the spacing of the lines are common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache


@dataclass(frozen=True, slots=True)
class DraftingStyle:
    """Every size a drawing is made with, passed to whatever draws."""

    text: float = 2.5  # dimensions, notes, tables
    label: float = 3.5  # marks on the plan, item numbers
    title: float = 5.0  # titles of views, section letters
    arrow: float = 2.5
    arrow_angle: float = 15.0  # degrees, both flanks together
    extension_gap: float = 1.0  # between feature and extension line
    extension_past: float = 2.0  # extension line beyond dimension line
    text_gap: float = 1.0  # between dimension line and text: a comma clears the arrowheads
    first_row: float = 9.0  # outline to first dimension line
    row: float = 6.5  # from one dimension line to the next
    clear: float = 1.5  # least distance between two texts
    line_pitch: float = 4.2  # base line to base line of notes
    margin: float = 6.0  # round a view


@lru_cache(maxsize=8192)
def number(value: float, *, decimals: int = 2) -> str:
    """A figure as it stands on a sheet: decimal comma, rounded half up, no idle zeros, a true minus sign.

    >>> number(15.0), number(13.52), number(0.125), number(-3.9), number(-0.001), number(12.3449999999998)
    ('15', '13,52', '0,13', '−3,9', '0', '12,35')
    """
    rounded = Decimal(repr(round(float(value), 9))).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    text = format(rounded, "f")
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if text in ("-0", ""):
        text = "0"
    return text.replace("-", "−").replace(".", ",")


def toleranced(value: float, tolerance: float | None, *, decimals: int = 2) -> str:
    """A figure with its equal deviations: ``6 ±2,75``; a measured size, whose deviation is 0, stands alone.

    >>> toleranced(6, 2.75), toleranced(6, None), toleranced(6, 0.0)
    ('6 ±2,75', '6', '6')
    """
    figure = number(value, decimals=decimals)
    return figure if not tolerance else f"{figure} ±{number(tolerance, decimals=decimals)}"


def scale_designation(scale: float) -> str:
    """The scale as ISO 5455 writes it: ``1:5``, ``1:1``, ``5:1``.

    >>> scale_designation(0.2), scale_designation(1.0), scale_designation(5.0)
    ('1:5', '1:1', '5:1')
    """
    if scale >= 1:
        return f"{number(scale)}:1"
    return f"1:{number(1 / scale)}"


__all__ = ["DraftingStyle", "number", "scale_designation", "toleranced"]
