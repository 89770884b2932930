"""General tolerances of frames by published classes, where a job names one in place of a figure of its own.

Terms
-----
class
    Of ISO 13920 for welded work A to D, of ISO 2768-1 for machined work f, m, c and v, the closest first.
row
    The range of the nominal size; a size on a limit belongs to the row below it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Millimetres

_WELDED_TO = (30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0, 8000.0, 12_000.0, 16_000.0, 20_000.0, math.inf)
_WELDED = {
    "A": (1.0, 1.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0),
    "B": (1.0, 2.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0),
    "C": (1.0, 3.0, 4.0, 6.0, 8.0, 11.0, 14.0, 18.0, 21.0, 24.0, 27.0),
    "D": (1.0, 4.0, 7.0, 9.0, 12.0, 16.0, 21.0, 27.0, 32.0, 36.0, 40.0),
}
_MACHINED_TO = (30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0)
_MACHINED = {
    "f": (0.1, 0.15, 0.2, 0.3, 0.5),
    "m": (0.2, 0.3, 0.5, 0.8, 1.2, 2.0),
    "c": (0.5, 0.8, 1.2, 2.0, 3.0, 4.0),
    "v": (1.0, 1.5, 2.5, 4.0, 6.0, 8.0),
}


@calculation(
    title="Size of a welded frame by class",
    formula="table by nominal size and class A, B, C or D",
    unit="mm",
    source="ISO 13920, linear dimensions, as transcribed; up to 30 mm from memory",
    status=Status.SECOND_HAND,
)
def welded_frame(*, size: Millimetres, accuracy: str) -> float:
    """Tolerance of a size of a welded frame, plus and minus, mm.

    >>> welded_frame(size=1500, accuracy="A"), welded_frame(size=1500, accuracy="C")
    (3.0, 8.0)
    """
    return _row(_WELDED_TO, _WELDED, size, accuracy)


@calculation(
    title="Size of a machined frame by class",
    formula="table by nominal size and class f, m, c or v",
    unit="mm",
    source="ISO 2768-1, linear dimensions, as transcribed",
    status=Status.SECOND_HAND,
)
def machined_frame(*, size: Millimetres, accuracy: str) -> float:
    """Tolerance of a size of a machined frame, plus and minus, mm. Raises where the class has no row for the size.

    >>> machined_frame(size=1500, accuracy="m")
    1.2
    """
    return _row(_MACHINED_TO, _MACHINED, size, accuracy)


def _row(limits: tuple[float, ...], table: Mapping[str, tuple[float, ...]], size: float, accuracy: str) -> float:
    require.positive(size=size)
    if accuracy not in table:
        raise ValueError(f"accuracy: found {accuracy}, allowed: {', '.join(table)}")
    row = next((place for place, limit in enumerate(limits[: len(table[accuracy])]) if size <= limit), None)
    if row is None:
        raise ValueError(f"size: found {size:g} mm, allowed: up to {limits[len(table[accuracy]) - 1]:g} mm in class {accuracy}")
    return table[accuracy][row]


__all__ = ["machined_frame", "welded_frame"]
