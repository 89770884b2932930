"""Corners: how far a rounded parallel curve lies from the sharp corner, and what gap two roundings leave.

Terms
-----
sharp corner
    Where the two edges of the glass would meet without a radius.
interior angle
    Between the two edges, on the glass side; more than 180° is a re-entrant corner.
bisector distance
    From the sharp corner to a curve, along the line that halves the angle.

Lengths are mm, angles degrees.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Degrees, Millimetres

ON_THE_BISECTOR = (
    "bisector distance (offset, radius) = offset / sin(interior angle / 2) + radius × (1 / sin(interior angle / 2) - 1)"
)
"""What the formulas of a corner mean by it; offset and radius are named where it is used."""


@calculation(
    title="Bisector distance of a rounded parallel curve",
    formula="offset / sin(interior angle / 2) + radius × (1 / sin(interior angle / 2) - 1)",
    unit="mm",
    source="geometry of the corner",
    status=Status.DERIVED,
)
def bisector_distance(*, offset: Millimetres, radius: Millimetres, interior_angle: Degrees) -> float:
    """From the sharp glass corner to the curve at ``offset`` inside the edges, rounded with ``radius``, mm.

    ``interior_angle`` in degrees, more than 0 and less than 180.
    """
    require.finite(offset=offset)
    require.not_negative(radius=radius)
    require.inside(0, 180, interior_angle=interior_angle)
    half = math.sin(math.radians(interior_angle) / 2)
    return offset / half + radius * (1 / half - 1)


@calculation(
    title="Corner gap",
    formula="(joint width + (glass radius - recess radius) × (1 - sin(interior angle / 2))) / sin(interior angle / 2)",
    unit="mm",
    source="geometry of the corner",
    status=Status.DERIVED,
)
def corner_gap(
    *, joint_width: Millimetres, glass_radius: Millimetres, recess_radius: Millimetres, interior_angle: Degrees
) -> float:
    """Gap between glass and recess on the bisector of a convex corner, mm; negative: the glass hits the recess."""
    require.finite(joint_width=joint_width)
    require.not_negative(glass_radius=glass_radius, recess_radius=recess_radius)
    require.inside(0, 180, interior_angle=interior_angle)
    half = math.sin(math.radians(interior_angle) / 2)
    return (joint_width + (glass_radius - recess_radius) * (1 - half)) / half


@calculation(
    title="Glass radius for an even gap",
    formula="recess radius - joint width (convex); structure radius + joint width (re-entrant)",
    unit="mm",
    source="parallel curves share their centre",
    status=Status.DERIVED,
)
def even_gap_radius(*, recess_radius: Millimetres, joint_width: Millimetres, re_entrant: bool = False) -> float:
    """Glass corner radius, mm, that keeps the joint even round a corner; 0 where a convex recess is tighter than the joint."""
    require.not_negative(recess_radius=recess_radius, joint_width=joint_width)
    if re_entrant:
        return recess_radius + joint_width
    return max(0.0, recess_radius - joint_width)


@calculation(
    title="Frit cover in a corner",
    formula="bisector distance (frit width, frit radius) - bisector distance (bead centre, bead radius) - bond width / 2 - squeeze out; "
    f"{ON_THE_BISECTOR}",
    unit="mm",
    source="geometry of the corner",
    status=Status.DERIVED,
)
def frit_cover(
    *,
    frit_width: Millimetres,
    frit_radius: Millimetres,
    bead_centre: Millimetres,
    bead_radius: Millimetres,
    bond_width: Millimetres,
    squeeze_out: Millimetres,
    interior_angle: Degrees,
) -> float:
    """Solid frit inside the bead on the bisector, mm; compare with the margin asked for; negative: the bead lies bare."""
    require.positive(bond_width=bond_width)
    require.not_negative(squeeze_out=squeeze_out)
    frit = bisector_distance(offset=frit_width, radius=frit_radius, interior_angle=interior_angle)
    line = bisector_distance(offset=bead_centre, radius=bead_radius, interior_angle=interior_angle)
    return frit - line - bond_width / 2 - squeeze_out


@calculation(
    title="Frit cover in a corner at the worst print",
    formula="cover (frit cover in the corner) - print tolerance",
    unit="mm",
    source="worst case of the place of the print",
    status=Status.DERIVED,
)
def frit_cover_at_worst(*, cover: Millimetres, print_tolerance: Millimetres) -> float:
    """Solid frit inside the bead on the bisector, mm, where the print lies as far out as it may."""
    require.finite(cover=cover)
    require.not_negative(print_tolerance=print_tolerance)
    return cover - print_tolerance


@calculation(
    title="Re-entrant radius needed",
    formula="larger of glass thickness and the least radius",
    unit="mm",
    source="guides of glass toughening: a tighter cut-out splits in the furnace or later",
    status=Status.SECOND_HAND,
)
def re_entrant_radius_needed(*, glass_thickness: Millimetres, least: Millimetres) -> float:
    """Least radius of a re-entrant corner of the glass, mm."""
    require.positive(glass_thickness=glass_thickness)
    require.not_negative(least=least)
    return max(glass_thickness, least)


@calculation(
    title="Cut-out as a share of the pane",
    formula="100 × side of the cut-out / size of the pane in the same direction",
    unit="%",
    source="guides of glass toughening: at most a third of the narrow dimension",
    status=Status.SECOND_HAND,
)
def cut_out_share(*, cut_out: Millimetres, pane: Millimetres) -> float:
    """How much of the pane a cut-out takes away in one direction, %."""
    require.positive(cut_out=cut_out, pane=pane)
    return 100 * cut_out / pane


__all__ = [
    "ON_THE_BISECTOR",
    "bisector_distance",
    "corner_gap",
    "cut_out_share",
    "even_gap_radius",
    "frit_cover",
    "frit_cover_at_worst",
    "re_entrant_radius_needed",
]
