"""The hand that draws: sizes of lettering, arrows and gaps, and how a figure is written.

All sizes are paper millimetres. Lettering heights are of the series of ISO 3098 (1,8 2,5 3,5 5 7), arrows are closed, filled, 15° and as
long as the lettering is high, the dimension line stands 2 mm inside the end of its extension lines (ISO 129-1; the 2 mm, the 1 mm gap
at the feature and the spacing of the lines are common practice, no source).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, fields, replace
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache
from math import floor

ASIDE, OVER = 0.9, 1.6
"""Paper mm from the elbow of a leader to the words behind it, and from its shelf to the words on it."""


@dataclass(frozen=True, slots=True)
class DraftingStyle:
    """Every size a drawing is made with, passed to whatever draws."""

    text: float = 2.5  # dimensions, notes, tables
    label: float = 3.5  # titles of views and tables
    title: float = 5.0  # letters of sections and details
    arrow: float = 2.5
    arrow_angle: float = 15.0  # degrees, both flanks together
    extension_gap: float = 1.0  # between feature and extension line
    extension_past: float = 2.0  # extension line beyond dimension line
    text_gap: float = 1.65  # between dimension line and text: a comma, a bracket clears the line
    first_row: float = 10.0  # outline to first dimension line
    row: float = 7.0  # from one dimension line to the next
    clear: float = 1.5  # least distance between two texts
    off_lines: float = 0.7  # least distance between a text and a line
    line_pitch: float = 4.0  # base line to base line of notes
    table_row: float = 5.4  # height of a row of a table
    margin: float = 6.0  # round a view


def larger(style: DraftingStyle, times: float) -> DraftingStyle:
    """The same hand with all sizes larger, as a large sheet needs: 1,4 times is one step of the series of ISO 3098.

    >>> larger(DraftingStyle(), 1.4).text, larger(DraftingStyle(), 1.4).arrow_angle
    (3.5, 15.0)
    """
    sizes = {each.name: round(getattr(style, each.name) * times, 4) for each in fields(style) if each.name != "arrow_angle"}
    return replace(style, **{**sizes, "label": 5.0 if times > 1.0 else style.label, "title": 7.0 if times > 1.0 else style.title})


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


def on_paper(words: str) -> str:
    """Words as a sheet has them, decimal comma and true minus; what stands in quotes stays, and the name of a file.

    >>> on_paper("4.47 mm at X -2, Y 3; “R2.5”")
    '4,47 mm at X −2, Y 3; “R2.5”'
    >>> on_paper("reads ../deck-1.2.dxf, outside the job's folder; 0.5 mm.")
    "reads ../deck-1.2.dxf, outside the job's folder; 0,5 mm."
    """
    parts = re.split("(“[^”]*”)", words)
    return "".join(
        part
        if part.startswith("“")
        else re.sub(r"(?<![\w.])-(?=\d)", "−", re.sub(r"(?<!\d\.)(\d)\.(\d+)(?!\d|\.\w)", r"\1,\2", part))
        for part in parts
    )


def toleranced(value: float, tolerance: float | None, *, decimals: int = 2) -> str:
    """A figure with its equal deviations: ``6 ±2,75``; a measured size, whose deviation is 0, stands alone.

    >>> toleranced(6, 2.75), toleranced(6, None), toleranced(6, 0.0)
    ('6 ±2,75', '6', '6')
    """
    figure = number(value, decimals=decimals)
    return figure if not tolerance else f"{figure} ±{number(tolerance, decimals=decimals)}"


def in_halves(value: float) -> float:
    """A size in whole or half millimetres, rounded half up; a figure that arithmetic left a hair under a quarter goes up, too.

    >>> in_halves(1286.98), in_halves(9.25), in_halves(9.2)
    (1287.0, 9.5, 9.0)
    """
    return floor(value * 2.0 + 0.5 + 1e-9) / 2.0


def as_fine_as(value: float, tolerance: float | None) -> str:
    """A figure no finer than its tolerance deserves: in halves from ±1 on, else in tenths, without one in tenths too.

    >>> as_fine_as(1286.98, 2.0), as_fine_as(13.52, 0.5), as_fine_as(442.5, None), as_fine_as(6.0, 0.25)
    ('1287', '13,5', '442,5', '6')
    """
    if tolerance is not None and tolerance >= 1.0:
        return number(in_halves(value))
    return number(value, decimals=1 if tolerance is None or tolerance >= 0.1 else 2)


def coordinate(value: float) -> str:
    """A coordinate of a place in whole millimetres: it is found with a tape, and reads the same in a table and in a title.

    >>> coordinate(258.5), coordinate(-0.2)
    ('259', '0')
    """
    return number(floor(value + 0.5 + 1e-9), decimals=0)


def sized(value: float, tolerance: float | None) -> str:
    """A figure with its equal deviations, no finer than they are: ``1287 ±2``.

    >>> sized(1286.98, 2.0), sized(6.0, None), sized(15.0, 0.0)
    ('1287 ±2', '6', '15')
    """
    figure = as_fine_as(value, tolerance or None)
    return figure if not tolerance else f"{figure} ±{number(tolerance)}"


def between(low: float, high: float) -> str:
    """A size as its limits, where its tolerance is a large share of it: ``3,3 to 8,7``; below nothing it is an overlap.

    >>> between(3.3, 8.7), between(-0.5, 3.5)
    ('3,3 to 8,7', 'overlap 0,5 to 3,5')
    """
    return f"{number(low)} to {number(high)}" if low >= 0 else f"overlap {number(-low)} to {number(high)}"


def scale_designation(scale: float) -> str:
    """The scale as ISO 5455 writes it: ``1:5``, ``1:1``, ``5:1``.

    >>> scale_designation(0.2), scale_designation(1.0), scale_designation(5.0)
    ('1:5', '1:1', '5:1')
    """
    if scale >= 1:
        return f"{number(scale)}:1"
    return f"1:{number(1 / scale)}"


__all__ = [
    "ASIDE", "OVER", "DraftingStyle", "as_fine_as", "between", "coordinate", "in_halves", "larger",
    "number", "on_paper", "scale_designation", "sized", "toleranced",
]  # fmt: skip
