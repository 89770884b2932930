"""General tolerances of frames: welded (ISO 13920) and machined (ISO 2768).

Terms
-----
class
    The letter on the frame drawing: A to D lengths and E to H straightness of welded work, f m c v lengths and H K L straightness
    of machined work.
band
    Range of nominal sizes with one tolerance; a size on a limit belongs to the band below it.

All mm; length tolerances are plus and minus, straightness is the whole deviation.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from geometry.rules import require
from geometry.rules.calculation import Status, calculation

_WELDED_LIMITS = (30, 120, 400, 1000, 2000, 4000, 8000, 12000, 16000, 20000, math.inf)
_WELDED = {
    "A": (1, 1, 1, 2, 3, 4, 5, 6, 7, 8, 9),
    "B": (1, 2, 2, 3, 4, 6, 8, 10, 12, 14, 16),
    "C": (1, 3, 4, 6, 8, 11, 14, 18, 21, 24, 27),
    "D": (1, 4, 7, 9, 12, 16, 21, 27, 32, 36, 40),
}
_WELDED_FLAT_LIMITS = (120, 400, 1000, 2000, 4000, 8000, 12000, 16000, 20000, math.inf)
_WELDED_FLAT = {
    "E": (0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8),
    "F": (1, 1.5, 3, 4.5, 6, 8, 10, 12, 14, 16),
    "G": (1.5, 3, 5.5, 9, 11, 16, 20, 22, 25, 25),
    "H": (2.5, 5, 9, 14, 18, 26, 32, 36, 40, 40),
}
_WELDED_ANGLE_LIMITS = (400, 1000, math.inf)
_WELDED_ANGLE = {"A": (6.0, 4.5, 3.0), "B": (13.0, 9.0, 6.0), "C": (18.0, 13.0, 9.0), "D": (26.0, 22.0, 18.0)}
_MACHINED_LIMITS = (3, 6, 30, 120, 400, 1000, 2000, 4000)
_MACHINED = {
    "f": (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5),
    "m": (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0),
    "c": (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0),
    "v": (math.nan, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0),
}
_MACHINED_FLAT_LIMITS = (10, 30, 100, 300, 1000, 3000)
_MACHINED_FLAT = {
    "H": (0.02, 0.05, 0.1, 0.2, 0.3, 0.4),
    "K": (0.05, 0.1, 0.2, 0.4, 0.6, 0.8),
    "L": (0.1, 0.2, 0.4, 0.8, 1.2, 1.6),
}


@calculation(
    title="Length tolerance of a welded frame",
    formula="table by class and size",
    unit="mm",
    source="ISO 13920, linear dimensions",
    status=Status.PUBLISHED,
)
def welded_length(*, size: float, tolerance_class: str = "A") -> float:
    """Plus and minus, mm; classes A to D. Below 30 mm, classes B to D from memory."""
    return _look_up(size, 2, _WELDED_LIMITS, _WELDED, tolerance_class)


@calculation(
    title="Straightness and flatness of a welded frame",
    formula="table by class and size",
    unit="mm",
    source="ISO 13920, straightness, flatness and parallelism; classes G and H from memory",
    status=Status.PUBLISHED,
)
def welded_flatness(*, size: float, tolerance_class: str = "E") -> float:
    """Whole deviation over ``size`` mm; classes E to H."""
    return _look_up(size, 30, _WELDED_FLAT_LIMITS, _WELDED_FLAT, tolerance_class)


@calculation(
    title="Angle tolerance of a welded frame",
    formula="table by class and shorter leg",
    unit="mm/m",
    source="ISO 13920, angular dimensions",
    status=Status.PUBLISHED,
)
def welded_angle(*, shorter_leg: float, tolerance_class: str = "A") -> float:
    """Plus and minus, mm for each metre of the shorter leg; classes A to D."""
    return _look_up(shorter_leg, 0, _WELDED_ANGLE_LIMITS, _WELDED_ANGLE, tolerance_class)


@calculation(
    title="Length tolerance of a machined frame",
    formula="table by class and size",
    unit="mm",
    source="ISO 2768-1, linear dimensions",
    status=Status.PUBLISHED,
)
def machined_length(*, size: float, tolerance_class: str = "m") -> float:
    """Plus and minus, mm; classes f, m, c and v. Class c below 6 mm from memory."""
    return _look_up(size, 0.5, _MACHINED_LIMITS, _MACHINED, tolerance_class)


@calculation(
    title="Straightness and flatness of a machined frame",
    formula="table by class and size",
    unit="mm",
    source="ISO 2768-2 (withdrawn 2021), as quoted",
    status=Status.SECOND_HAND,
)
def machined_flatness(*, size: float, tolerance_class: str = "K") -> float:
    """Whole deviation over ``size`` mm; classes H, K and L."""
    return _look_up(size, 0, _MACHINED_FLAT_LIMITS, _MACHINED_FLAT, tolerance_class)


def _look_up(
    size: float, least: float, limits: tuple[float, ...], table: Mapping[str, tuple[float, ...]], tolerance_class: str
) -> float:
    row = table.get(tolerance_class)
    if row is None:
        raise ValueError(f"tolerance class: found {tolerance_class!r}, allowed: {', '.join(table)}")
    require.positive(size=size)
    known = [(limit, tolerance) for limit, tolerance in zip(limits, row, strict=False) if not math.isnan(tolerance)]
    # a class without a value in its first band begins where that band ends
    start = least if len(known) == len(row) else limits[0]
    if size >= least and (size > start or start == least):
        for limit, tolerance in known:
            if size <= limit:
                return float(tolerance)
    raise ValueError(f"size: found {size:g}, allowed in class {tolerance_class}: {start:g} to {known[-1][0]:g}")
