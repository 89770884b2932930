"""The line of the bead: its corners, its length, the unbonded corner it leaves bare, and the spacers beside it.

Terms
-----
centre line
    The middle of the bead, parallel to the glass edge at the distance "bead centre".
unbonded corner
    The tip of a corner beyond the rounded bead, bonded to nothing.
turning angle
    180° less the interior angle of a corner; negative at a re-entrant corner.
tangent point
    Where the straight of an edge ends and the corner radius begins.

Lengths are mm, angles degrees, areas mm².
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.fit import corner
from geometry.rules.units import Degrees, Millimetres, Ratio


@calculation(
    title="Least radius of the bead in a corner",
    formula="larger of bond width and the least that the gun turns",
    unit="mm",
    source="tighter, the inner flank piles up and the outer flank starves",
    status=Status.COMMON_PRACTICE,
)
def least_corner_radius(*, bond_width: Millimetres, least: Millimetres) -> float:
    """Least radius of the bead's centre line laid by a hand gun, mm. 20 to 25 mm is comfortable."""
    require.positive(bond_width=bond_width)
    require.not_negative(least=least)
    return max(bond_width, least)


@calculation(
    title="Radius left for the bead",
    formula="glass corner radius - bead centre",
    unit="mm",
    source="a parallel curve inside a rounding has its radius less the distance",
    status=Status.DERIVED,
)
def radius_left(*, glass_corner_radius: Millimetres, bead_centre: Millimetres) -> float:
    """Radius of a centre line that runs parallel round a corner, mm; 0 or less: it must cut the corner."""
    require.not_negative(glass_corner_radius=glass_corner_radius, bead_centre=bead_centre)
    return glass_corner_radius - bead_centre


@calculation(
    title="Glass beyond the bead in a corner",
    formula="bisector distance (bead centre, bead corner radius) - bond width / 2 - bisector distance (0, glass corner radius); "
    f"{corner.ON_THE_BISECTOR}",
    unit="mm",
    source="geometry of the corner",
    status=Status.DERIVED,
)
def unbonded_length(
    *,
    bead_centre: Millimetres,
    bead_corner_radius: Millimetres,
    bond_width: Millimetres,
    glass_corner_radius: Millimetres,
    interior_angle: Degrees,
) -> float:
    """Glass beyond the bead on the bisector of a corner, mm."""
    require.positive(bond_width=bond_width)
    line = corner.bisector_distance(offset=bead_centre, radius=bead_corner_radius, interior_angle=interior_angle)
    edge = corner.bisector_distance(offset=0.0, radius=glass_corner_radius, interior_angle=interior_angle)
    return line - bond_width / 2 - edge


@calculation(
    title="Greatest glass beyond the bead in a corner",
    formula="factor × set-back",
    unit="mm",
    source="rule of the fitting shop: glass that far beyond its bond lifts, flutters and cracks",
    status=Status.COMMON_PRACTICE,
)
def unbonded_limit(*, set_back: Millimetres, factor: Ratio) -> float:
    """Glass beyond the bead that may stand unbonded on the bisector of a corner, mm."""
    require.not_negative(set_back=set_back)
    require.positive(factor=factor)
    return factor * set_back


@calculation(
    title="Landing left inside the bead in a corner",
    formula="bisector distance (landing from glass, landing corner radius) - bisector distance (bead centre, bead corner radius) - "
    "bond width / 2 - margin; "
    f"{corner.ON_THE_BISECTOR}",
    unit="mm",
    source="geometry of the corner",
    status=Status.DERIVED,
)
def landing_left_in_corner(
    *,
    bead_centre: Millimetres,
    bead_corner_radius: Millimetres,
    bond_width: Millimetres,
    landing_from_glass: Millimetres,
    landing_corner_radius: Millimetres,
    interior_angle: Degrees,
    margin: Millimetres,
) -> float:
    """What the landing has to spare inside the bead on the bisector, mm; negative: the bead runs off it.

    ``landing_from_glass`` is landing less joint width, mm.
    """
    require.positive(bond_width=bond_width)
    require.not_negative(margin=margin)
    line = corner.bisector_distance(offset=bead_centre, radius=bead_corner_radius, interior_angle=interior_angle)
    end = corner.bisector_distance(offset=landing_from_glass, radius=landing_corner_radius, interior_angle=interior_angle)
    return end - line - bond_width / 2 - margin


@calculation(
    title="Places of the spacers on a straight",
    formula="first and last 50 mm inside the tangent points, equal spaces of at most the pitch between",
    unit="mm",
    source="layout of the fitting shop",
    status=Status.COMMON_PRACTICE,
)
def spacer_places(*, straight: Millimetres, pitch: Millimetres, end_distance: Millimetres) -> tuple[float, ...]:
    """Centres of the spacers, mm from the first tangent point of a straight; one in the middle where it is short."""
    require.positive(straight=straight, pitch=pitch)
    require.not_negative(end_distance=end_distance)
    span = straight - 2 * end_distance
    if span <= 0:
        return (straight / 2,)
    spaces = max(1, math.ceil(span / pitch - 1e-9))
    return tuple(end_distance + span * place / spaces for place in range(spaces + 1))


@calculation(
    title="Number of spacers on a round or oval pane",
    formula="3 up to a least width (250 mm), 4 up to another (500 mm), then one for each pitch of the perimeter, at least 4",
    unit="",
    source="layout of the fitting shop",
    status=Status.COMMON_PRACTICE,
)
def round_spacer_count(
    *, least_width: Millimetres, perimeter: Millimetres, pitch: Millimetres, three_up_to: Millimetres, four_up_to: Millimetres
) -> int:
    """Number of spacers round a circle or oval by its least width and its perimeter, mm."""
    require.positive(least_width=least_width, perimeter=perimeter, pitch=pitch)
    if least_width <= four_up_to:
        return 3 if least_width <= three_up_to else 4
    return max(4, math.ceil(perimeter / pitch - 1e-9))


__all__ = [
    "landing_left_in_corner",
    "least_corner_radius",
    "radius_left",
    "round_spacer_count",
    "spacer_places",
    "unbonded_length",
    "unbonded_limit",
]
