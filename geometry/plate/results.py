"""What the plate on its bead gives: the figures of a pane under pressure.

Terms
-----
outward, inward
    Pressure that pushes the pane away from the frame, and pressure that pushes it onto the frame.
tension, compression
    Stress of the bead across its thickness, MPa. Both are given as amounts, 0 or more.
station
    A short stretch of the bead; its reaction is per mm of the centre line of the bead, tension positive.
uplift
    Movement of the glass against the pressure: where corners rise while the middle is pushed down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from geometry.outline.loop import Point


@dataclass(frozen=True, slots=True)
class ValueAt:
    """A value and the place where it occurs."""

    value: float
    point: Point


@dataclass(frozen=True, slots=True)
class StationReaction:
    """Reaction of the bead at a station.

    ``point`` middle of the bead; ``distance`` mm along the bead's outer edge from its vertex with the least x, then least y;
    ``length`` mm of centre line; ``reaction`` N/mm of centre line, tension positive.
    """

    point: Point
    distance: float
    length: float
    reaction: float


@dataclass(frozen=True, slots=True)
class PressureResult:
    """One pane under one pressure.

    ``pressure`` kPa, 0 or more. Stresses MPa: ``peak_tension`` and ``peak_compression`` are amounts (0 where there is none);
    ``mean_tension`` and ``mean_compression`` are means over the part of the bead in tension, in compression; ``mean`` is the
    whole load over the area of the bead, tension positive. ``tension_share`` is the share of the bead's area in tension.
    Deflections mm, positive in the direction of the pressure, the give of the bead included: ``deflection`` the greatest;
    ``deflection_centre`` at the centre of area of the glass, None where that lies outside it; ``deflection_edge`` the greatest
    at the glass edge. ``uplift`` mm, an amount, 0 where no part moves against the pressure. ``glass_stress`` MPa, the greatest
    bending stress of each ply from the outside in, for information only. ``beyond_linear``: deflection over half the effective
    thickness, where the linear theory exceeds the true deflection.
    """

    direction: Literal["outward", "inward"]
    pressure: float
    peak_tension: ValueAt
    peak_compression: ValueAt
    mean_tension: float
    mean_compression: float
    mean: float
    tension_share: float
    reactions: tuple[StationReaction, ...]
    deflection: ValueAt
    deflection_centre: float | None
    deflection_edge: ValueAt
    uplift: ValueAt
    glass_stress: tuple[float, ...]
    beyond_linear: bool


@dataclass(frozen=True, slots=True)
class ErrorEstimate:
    """Estimated error of the mesh, as shares of the peak stress of the bead and of the greatest deflection.

    From the results of a mesh and of the same mesh with every triangle cut into four: a third of the change, since the error
    falls with the square of the size.
    """

    bond_stress: float
    deflection: float


@dataclass(frozen=True, slots=True, eq=False)
class StressMap:
    """Bond stress over the bead, for drawing.

    ``points`` (n, 2) mm; ``triangles`` (m, 3); ``stress`` (n,) MPa at 1 kPa outward, tension positive; times minus 1 for inward.
    The arrays cannot be written to.
    """

    points: NDArray[np.float64]
    triangles: NDArray[np.int64]
    stress: NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class BondStress:
    """A pane on its bead under pressure from either side, by linear theory.

    ``load_balance`` is |sum of the stress over the bead - pressure x area| over pressure x area; ``bond_width`` mm and
    ``bond_area`` mm2 are those of the outlines; ``bed_stiffness`` N/mm3; ``effective_thickness`` mm, for deflection;
    ``notes`` are sentences that stand with the figures wherever they are shown.
    """

    outward: PressureResult
    inward: PressureResult
    load_balance: float
    error: ErrorEstimate
    stress_map: StressMap
    bond_width: float
    bond_area: float
    bed_stiffness: float
    effective_thickness: float
    notes: tuple[str, ...]


__all__ = ["BondStress", "ErrorEstimate", "PressureResult", "StationReaction", "StressMap", "ValueAt"]
