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
linear, large deflection
    The theory behind a figure: the thin plate without stretch of its middle plane; or with it (von Karman), taken where the linear
    deflection is over 0.3 of the effective thickness.
outer face, inner face
    Of a ply: the one seen from outside, and the one towards the frame.
printed band
    The glass between its edge and the inner edge of the frit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    from geometry.outline.loop import Point

Theory = Literal["linear", "large deflection"]


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
class TheoryFigures:
    """The chief figures of a load by one theory.

    ``deflection`` mm, the greatest, in the direction of the load; ``band_tension`` MPa, the greatest mean across the bead at a
    station, 0 where it pulls nowhere; ``peak_tension`` MPa, the greatest at a point of the bead; ``glass_stress`` MPa, the greatest
    tension of each ply from the outside in.
    """

    deflection: float
    band_tension: float
    peak_tension: float
    glass_stress: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class FaceStress:
    """Greatest tension of one face of a ply.

    ``ply`` counts from 1, from the outside in; ``greatest`` MPa anywhere on the face; ``printed`` MPa in the printed band, None where
    no band was given.
    """

    ply: int
    face: Literal["outer", "inner"]
    greatest: ValueAt
    printed: ValueAt | None


@dataclass(frozen=True, slots=True)
class StationShear:
    """Shear of the bead at a station, because the bent pane moves along its face there.

    ``point``, ``distance`` and ``length`` as of ``StationReaction``; ``slope`` and ``pull_in`` (x, y) mm, movement of the bonded face
    against the frame by the slope of the pane and by the pull of its middle plane, means across the bead; ``strain`` their sum over
    the bond thickness, an amount; ``bound`` the strain if both acted the same way.
    """

    point: Point
    distance: float
    length: float
    slope: tuple[float, float]
    pull_in: tuple[float, float]
    strain: float
    bound: float


@dataclass(frozen=True, slots=True)
class BeadShear:
    """Shear of the bead from bending along its stations: means across the bead, the ``greatest`` strain and the greatest ``bound``.

    Under inward pressure the slope moves the bonded face outwards and the pull inwards, under outward pressure both move it inwards.
    """

    stations: tuple[StationShear, ...]
    greatest: ValueAt
    bound: ValueAt


@dataclass(frozen=True, slots=True)
class PressureResult:
    """One pane under one load; of a patch of load ``pressure`` is that on the patch.

    ``pressure`` kPa, 0 or more. Stresses MPa: ``peak_tension`` and ``peak_compression`` are amounts (0 where there is none);
    ``mean_tension`` and ``mean_compression`` are means over the part of the bead in tension, in compression; ``mean`` is the
    whole load over the area of the bead, tension positive. ``tension_share`` is the share of the bead's area in tension.
    Deflections mm, positive in the direction of the pressure, the give of the bead included: ``deflection`` the greatest;
    ``deflection_centre`` at the centre of area of the glass, None where that lies outside it; ``deflection_edge`` the greatest
    at the glass edge. ``uplift`` mm, an amount, 0 where no part moves against the pressure. ``glass_stress`` MPa, the greatest
    tension of each ply from the outside in, for information only; ``faces`` the same of each face, in the printed band too.
    ``shear`` of the bead by the bending. ``theory`` all these figures are by: large deflection where it was worked out, else linear;
    ``linear`` and ``large`` the chief figures of both, None where large deflection was not worked out. ``beyond_linear``: deflection
    over half the effective thickness, and the figures are linear all the same.
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
    faces: tuple[FaceStress, ...]
    shear: BeadShear
    theory: Theory
    linear: TheoryFigures
    large: TheoryFigures | None
    beyond_linear: bool


def pulled_hardest(reactions: Sequence[StationReaction]) -> StationReaction:
    """The station where the bead is pulled hardest; the first of equal ones."""
    return max(reactions, key=lambda each: round(each.reaction, 9))


@dataclass(frozen=True, slots=True)
class ErrorEstimate:
    """Estimated error of the mesh, as shares of the peak stress of the bead, of the greatest deflection and of the glass stress.

    From the linear results of a mesh and of the same mesh with every triangle cut into four: a third of the change, since the error
    falls with the square of the size. Of the greatest glass stress the whole of the last change, since round a re-entrant corner it
    falls with the size; there the mesh is made finer until it holds within 3 %, and ``glass_holds`` says whether it does.
    """

    bond_stress: float
    deflection: float
    glass_stress: float
    glass_holds: bool


@dataclass(frozen=True, slots=True, eq=False)
class StressMap:
    """Bond stress over the bead, for drawing.

    ``points`` (n, 2) mm; ``triangles`` (m, 3); ``outward`` and ``inward`` (n,) MPa at the two pressures, tension positive.
    The arrays cannot be written to.
    """

    points: NDArray[np.float64]
    triangles: NDArray[np.int64]
    outward: NDArray[np.float64]
    inward: NDArray[np.float64]

    def of(self, direction: Literal["outward", "inward"]) -> NDArray[np.float64]:
        """Stress (n,) MPa at the pressure of one direction."""
        return self.outward if direction == "outward" else self.inward


@dataclass(frozen=True, slots=True, eq=False)
class BondStress:
    """A pane on its bead under pressure from either side; ``patch`` the load on a part of the glass, None where none was given.

    ``load_balance`` is |sum of the stress over the bead - pressure x area| over pressure x area of the linear solution; ``bond_width`` mm and
    ``bond_area`` mm2 are those of the outlines; ``bed_stiffness`` N/mm3; ``effective_thickness`` mm, for deflection;
    ``notes`` are sentences that stand with the figures wherever they are shown.
    """

    outward: PressureResult
    inward: PressureResult
    patch: PressureResult | None
    load_balance: float
    error: ErrorEstimate
    stress_map: StressMap
    bond_width: float
    bond_area: float
    bed_stiffness: float
    effective_thickness: float
    notes: tuple[str, ...]


__all__ = [
    "BeadShear",
    "BondStress",
    "ErrorEstimate",
    "FaceStress",
    "PressureResult",
    "StationReaction",
    "StationShear",
    "StressMap",
    "TheoryFigures",
    "ValueAt",
    "pulled_hardest",
]
