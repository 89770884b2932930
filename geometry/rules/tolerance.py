"""The register of tolerances, and how they add up.

Terms
-----
register
    What is taken where the job file states none; plus and minus, mm, common practice unless said otherwise.
stack
    Several tolerances together; the worst case is their sum.
one side
    The joint on one side of the pane: half of what recess and pane may be out, and the whole of the placing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Millimetres

RECESS_BY_BUILD = {"welded": 2.0, "welded_steel": 3.0, "machined": 1.0, "moulded": 2.0, "joinery": 1.5}
BUILD_OF_FRAME = {
    "aluminium": "welded",
    "steel": "welded_steel",
    "stainless": "welded_steel",
    "grp": "moulded",
    "cfrp": "moulded",
    "timber_along": "joinery",
    "timber_across": "joinery",
    "plywood": "joinery",
}
PLACING = 1.0  # with chocks and witness marks
BOND_THICKNESS = 0.5  # over spacers
RECESS_DEPTH = 1.0
LANDING = 1.0
LANDING_FLATNESS = 1.0  # in 1 m


class Deviations(NamedTuple):
    """Limit deviations of a size, mm, both counted positive: how much larger and how much smaller it may be."""

    upper: float
    lower: float

    @property
    def largest(self) -> float:
        """The larger of the two."""
        return max(self.upper, self.lower)


_LAMINATED_LIMITS = (1100.0, 1500.0, 2000.0, 2500.0, math.inf)
_LAMINATED = {
    "thin": ((2.0, 2.0), (3.0, 2.0), (3.0, 2.0), (4.5, 2.5), (5.0, 3.0)),
    "thin plies": ((2.5, 2.0), (3.5, 2.0), (3.5, 2.0), (5.0, 3.0), (5.5, 3.5)),
    "thick ply": ((3.5, 2.5), (4.5, 3.0), (5.0, 3.5), (6.0, 4.0), (6.5, 4.5)),
}


@calculation(
    title="Size of a toughened pane",
    formula="table by longest side and thickness",
    unit="mm",
    source="EN 12150-1:2015, table 2",
    status=Status.FROM_MEMORY,
)
def toughened_pane(*, longest_side: Millimetres, thickness: Millimetres) -> float:
    """Size tolerance of a toughened pane, plus and minus, mm.

    >>> toughened_pane(longest_side=1200, thickness=8), toughened_pane(longest_side=1200, thickness=10)
    (2.0, 3.0)
    """
    require.positive(longest_side=longest_side, thickness=thickness)
    thick = 0.0 if thickness <= 8 else 1.0
    return (2.0 if longest_side <= 2000 else 3.0 if longest_side <= 3000 else 4.0) + thick


@calculation(
    title="Limit deviations of a laminated pane",
    formula="table by side, total thickness and thickest ply",
    unit="mm",
    source="EN ISO 12543-5, size limits as transcribed",
    status=Status.SECOND_HAND,
)
def laminated_deviations(
    *, side: Millimetres, plies: Sequence[Millimetres], interlayers: Sequence[Millimetres] = ()
) -> Deviations:
    """Upper and lower deviation of one side of a laminated pane, mm; a side on a limit of the table takes the row above it."""
    require.positive(side=side)
    if not plies:
        raise ValueError("plies: found none, allowed: one or more")
    column = "thick ply" if max(plies) >= 10 else "thin plies"
    if math.fsum(plies) + math.fsum(interlayers) <= 8:
        column = "thin"
    row = next(place for place, limit in enumerate(_LAMINATED_LIMITS) if side < limit)
    return Deviations(*_LAMINATED[column][row])


def laminated_pane(*, longest_side: float, plies: Sequence[float], interlayers: Sequence[float] = ()) -> float:
    """The larger deviation of a laminated pane, mm.

    >>> laminated_pane(longest_side=1300, plies=(6, 6))
    3.5
    """
    return laminated_deviations(side=longest_side, plies=plies, interlayers=interlayers).largest


@calculation(
    title="Step of the plies of a laminate",
    formula="2 mm up to a side of 1 m, 3 up to 2 m, 4 up to 4 m, 6 above",
    unit="mm",
    source="EN ISO 12543-5, displacement of the plies against one another",
    status=Status.FROM_MEMORY,
)
def ply_step(*, longest_side: Millimetres) -> float:
    """How far the edge of one ply may stand out beyond another, mm.

    >>> ply_step(longest_side=1000), ply_step(longest_side=2250)
    (2.0, 4.0)
    """
    require.positive(longest_side=longest_side)
    return 2.0 if longest_side <= 1000 else 3.0 if longest_side <= 2000 else 4.0 if longest_side <= 4000 else 6.0


@calculation(
    title="Place of the print",
    formula="2 mm up to a side of 2 m, 3 up to 3 m, 4 above",
    unit="mm",
    source="Swiss trade handbook of tolerances, position of enamel print",
    status=Status.SECOND_HAND,
)
def print_position(*, longest_side: Millimetres) -> float:
    """Place of the enamel print, plus and minus, mm.

    >>> print_position(longest_side=1200), print_position(longest_side=2500)
    (2.0, 3.0)
    """
    require.positive(longest_side=longest_side)
    return 2.0 if longest_side <= 2000 else 3.0 if longest_side <= 3000 else 4.0


@calculation(
    title="Size of the print",
    formula="2 mm up to 1 m, 3 up to 3 m, 4 above",
    unit="mm",
    source="Swiss trade handbook of tolerances, size of a partial print",
    status=Status.SECOND_HAND,
)
def print_size(*, longest_side: Millimetres) -> float:
    """Overall size of a partial print, plus and minus, mm.

    >>> print_size(longest_side=1000), print_size(longest_side=1200)
    (2.0, 3.0)
    """
    require.positive(longest_side=longest_side)
    return 2.0 if longest_side <= 1000 else 3.0 if longest_side <= 3000 else 4.0


@calculation(
    title="Thickness of a ply of float glass",
    formula="0.2 mm up to 6 mm, 0.3 up to 12, 0.5 up to 15, 1.0 above",
    unit="mm",
    source="EN 572-2, table 1, float glass, as transcribed",
    status=Status.SECOND_HAND,
)
def ply_thickness(*, ply: Millimetres) -> float:
    """Thickness tolerance of one ply, plus and minus, mm."""
    require.positive(ply=ply)
    return 0.2 if ply <= 6 else 0.3 if ply <= 12 else 0.5 if ply <= 15 else 1.0


@calculation(
    title="Thickness of the make-up",
    formula="sum of the plies' tolerances + 0.1 mm for interlayers under 2 mm in all, 0.2 mm from 2 mm",
    unit="mm",
    source="EN 572-2 as transcribed; interlayer from memory of EN ISO 12543-5",
    status=Status.FROM_MEMORY,
)
def glass_thickness(plies: Sequence[Millimetres], interlayers: Sequence[Millimetres] = ()) -> float:
    """Thickness tolerance of the whole pane, plus and minus, mm.

    >>> glass_thickness((6, 6), (1.52,)), glass_thickness((10,), ())
    (0.5, 0.3)
    """
    total = math.fsum(ply_thickness(ply=ply) for ply in plies)
    if interlayers:
        total += 0.1 if math.fsum(interlayers) < 2 else 0.2
    return round(total, 3)


@calculation(
    title="Tolerance of the joint, one side",
    formula="(recess tolerance + pane tolerance) / 2 + placing tolerance",
    unit="mm",
    source="worst case, sum",
    status=Status.DERIVED,
)
def joint_tolerance(*, recess: Millimetres, pane: Millimetres, placing: Millimetres) -> float:
    """How far one side's joint may stray from its design width, mm, worst case."""
    require.not_negative(recess=recess, pane=pane, placing=placing)
    return (recess + pane) / 2 + placing


@calculation(
    title="Tolerance of the flush face",
    formula="spacer tolerance + glass thickness tolerance + recess depth tolerance + paint",
    unit="mm",
    source="worst case, sum",
    status=Status.DERIVED,
)
def flush_tolerance(
    *, spacer: Millimetres, glass_thickness: Millimetres, recess_depth: Millimetres, paint: Millimetres = 0.0
) -> float:
    """How far proud or sunk may stray, mm, worst case."""
    return worst_case(spacer, glass_thickness, recess_depth, paint)


@calculation(
    title="Tolerance of the frit beyond the landing",
    formula="print tolerance + joint tolerance of one side + landing tolerance",
    unit="mm",
    source="worst case, sum",
    status=Status.DERIVED,
)
def frit_beyond_landing_tolerance(*, print_position: Millimetres, joint: Millimetres, landing: Millimetres) -> float:
    """How far the frit's inner edge may stray against the edge of the landing, mm, worst case."""
    return worst_case(print_position, joint, landing)


@calculation(title="Worst case", formula="sum of the tolerances", unit="mm", source="sum", status=Status.DERIVED)
def worst_case(*tolerances: Millimetres) -> float:
    """Sum of tolerances, each 0 or more: flush (bond, glass, recess depth, paint), frit to landing (print, joint, landing)."""
    for tolerance in tolerances:
        require.not_negative(tolerance=tolerance)
    return math.fsum(tolerances)


@calculation(
    title="Root of the sum of squares",
    formula="square root of the sum of each tolerance squared",
    unit="mm",
    source="statistics of sums; holds only for tolerances that are independent, centred and alike in distribution",
    status=Status.DERIVED,
)
def root_sum_square(*tolerances: Millimetres) -> float:
    """Tolerances added as if they were independent, mm, each 0 or more; never more than the worst case."""
    for tolerance in tolerances:
        require.not_negative(tolerance=tolerance)
    return math.hypot(*tolerances)


__all__ = [
    "BOND_THICKNESS",
    "BUILD_OF_FRAME",
    "LANDING",
    "LANDING_FLATNESS",
    "PLACING",
    "RECESS_BY_BUILD",
    "RECESS_DEPTH",
    "Deviations",
    "flush_tolerance",
    "frit_beyond_landing_tolerance",
    "glass_thickness",
    "joint_tolerance",
    "laminated_deviations",
    "laminated_pane",
    "ply_step",
    "ply_thickness",
    "print_position",
    "print_size",
    "root_sum_square",
    "toughened_pane",
    "worst_case",
]
