"""Room in the section: what lies beside what on the landing and in the joint, and whether the uncured bead can stand there.

Terms
-----
slenderness
    Height of the uncured bead for 1 mm of its base.
full contact
    The tip of the pressed bead is flat wherever the gap is at most half of the uncured bead's height.
unprinted edge
    Glass between its edge and the start of the frit, bare to daylight.
fillet
    Weld or mould radius between landing and wall; nothing lies flat on it.
draft
    Lean of the wall, degrees, positive opens outwards.

All lengths are mm.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Degrees, Millimetres, ShoreA


@calculation(
    title="Bond width for 1 mm of thickness",
    formula="bond width / bond thickness",
    unit="",
    source="proportion of the bead",
    status=Status.DERIVED,
)
def width_to_thickness(*, bond_width: Millimetres, bond_thickness: Millimetres) -> float:
    """How many times wider than thick the pressed bead is."""
    require.positive(bond_width=bond_width, bond_thickness=bond_thickness)
    return bond_width / bond_thickness


@calculation(
    title="Slenderness of the uncured bead",
    formula="notch height / notch width",
    unit="",
    source="proportion of the notch",
    status=Status.DERIVED,
)
def slenderness(*, notch_width: Millimetres, notch_height: Millimetres) -> float:
    """How many times higher than wide the uncured bead stands."""
    require.positive(notch_width=notch_width, notch_height=notch_height)
    return notch_height / notch_width


@calculation(
    title="Bore needed for a notch",
    formula="notch width + wall",
    unit="mm",
    source="the nozzle keeps a wall on both sides of the notch",
    status=Status.COMMON_PRACTICE,
)
def bore_needed(*, notch_width: Millimetres, wall: Millimetres) -> float:
    """Bore of the nozzle, mm, that a notch can be cut in; ``wall`` is that of both sides together, mm."""
    require.positive(notch_width=notch_width)
    require.not_negative(wall=wall)
    return notch_width + wall


@calculation(
    title="Uncured bead for full contact",
    formula="2 × largest gap",
    unit="mm",
    source="a triangle pressed to half its height has no tip left",
    status=Status.DERIVED,
)
def height_for_full_contact(*, largest_gap: Millimetres) -> float:
    """Height of the uncured bead, mm, whose contact is full at the widest place."""
    require.positive(largest_gap=largest_gap)
    return 2 * largest_gap


@calculation(
    title="Uncured bead for any contact",
    formula="largest gap + squeeze",
    unit="mm",
    source="rule of the fitting shop; a tip that is hardly pressed does not wet",
    status=Status.COMMON_PRACTICE,
)
def height_for_any_contact(*, largest_gap: Millimetres, squeeze: Millimetres) -> float:
    """Height of the uncured bead, mm, below which it leaks at the widest place; ``squeeze`` is what is pressed flat, mm."""
    require.positive(largest_gap=largest_gap)
    require.not_negative(squeeze=squeeze)
    return largest_gap + squeeze


@calculation(
    title="Landing needed inside the bead",
    formula="squeeze out + margin",
    unit="mm",
    source="the squeeze-out must not hang over the edge of the landing; the margin is common practice",
    status=Status.COMMON_PRACTICE,
)
def landing_inside_needed(*, squeeze_out: Millimetres, margin: Millimetres) -> float:
    """Landing wanted between the nominal edge of the bead and the edge of the landing, mm."""
    require.not_negative(squeeze_out=squeeze_out, margin=margin)
    return squeeze_out + margin


@calculation(
    title="Room beside the spacer",
    formula="set-back - spacer width",
    unit="mm",
    source="the spacer stands between glass edge and bead",
    status=Status.DERIVED,
)
def room_beside_spacer(*, set_back: Millimetres, spacer_width: Millimetres) -> float:
    """What the set-back leaves beside a spacer, both sides together, mm; negative: spacer and bead overlap."""
    require.not_negative(set_back=set_back)
    require.positive(spacer_width=spacer_width)
    return set_back - spacer_width


@calculation(
    title="Bead inside the unprinted edge",
    formula="set-back - frit start",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def inside_unprinted_edge(*, set_back: Millimetres, frit_start: Millimetres) -> float:
    """From the start of the frit to the bead, mm; negative: the bead is bare to daylight at the rim."""
    require.not_negative(set_back=set_back, frit_start=frit_start)
    return set_back - frit_start


@calculation(
    title="Reach of the fillet on the landing",
    formula="fillet radius / tan((90° + draft) / 2)",
    unit="mm",
    source="tangent length of an arc between two lines",
    status=Status.DERIVED,
)
def fillet_reach(*, fillet: Millimetres, draft: Degrees = 0.0) -> float:
    """From the foot of the wall to where the landing is flat, mm; the radius itself where the wall stands upright."""
    require.not_negative(fillet=fillet)
    require.inside(-45, 45, draft=draft)
    return fillet / math.tan(math.radians(90.0 + draft) / 2)


@calculation(
    title="First part on the landing, clear of the fillet",
    formula="joint width + (set-back - spacer width) / 2 - reach of the fillet",
    unit="mm",
    source="the spacer stands midway between glass edge and bead",
    status=Status.DERIVED,
)
def clear_of_fillet(*, joint_width: Millimetres, set_back: Millimetres, spacer_width: Millimetres, reach: Millimetres) -> float:
    """Flat landing between fillet and spacer (or bead, where the spacer overlaps it), mm; negative: it stands on the fillet."""
    require.finite(joint_width=joint_width)
    require.not_negative(set_back=set_back, reach=reach)
    require.positive(spacer_width=spacer_width)
    return joint_width + min((set_back - spacer_width) / 2, set_back) - reach


@calculation(
    title="Proud at the worst tolerances",
    formula="proud as drawn + tolerance of the flush face",
    unit="mm",
    source="worst case, sum",
    status=Status.DERIVED,
)
def proud_at_worst(*, proud: Millimetres, tolerance: Millimetres) -> float:
    """How far the glass may stand out of the skin, mm; negative: it is sunk even then."""
    require.finite(proud=proud)
    require.not_negative(tolerance=tolerance)
    return proud + tolerance


@calculation(
    title="Sunk at the worst tolerances",
    formula="tolerance of the flush face - proud as drawn",
    unit="mm",
    source="worst case, sum",
    status=Status.DERIVED,
)
def sunk_at_worst(*, proud: Millimetres, tolerance: Millimetres) -> float:
    """How far the glass may lie below the skin, mm; negative: it stands proud even then."""
    require.finite(proud=proud)
    require.not_negative(tolerance=tolerance)
    return tolerance - proud


@calculation(
    title="Off the flush face",
    formula="amount of proud or sunk",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def off_flush(*, proud: Millimetres) -> float:
    """How far the glass lies off the skin as drawn, proud or sunk, mm."""
    require.finite(proud=proud)
    return abs(proud)


@calculation(
    title="Glass edge below the backfill",
    formula="glass thickness - backfill depth - proud, where the glass stands proud of the skin",
    unit="mm",
    source="the backfill is filled to the lower of skin and glass",
    status=Status.DERIVED,
)
def glass_edge_left(*, glass_thickness: Millimetres, backfill_depth: Millimetres, proud: Millimetres = 0.0) -> float:
    """Glass edge left between backfill and bond face, mm; negative: the backfill runs under the glass."""
    require.positive(glass_thickness=glass_thickness)
    require.not_negative(backfill_depth=backfill_depth)
    require.finite(proud=proud)
    return glass_thickness - backfill_depth - max(0.0, proud)


@calculation(
    title="Spacers harder than the bond",
    formula="hardness of the spacers - hardness of the cured adhesive",
    unit="Shore A",
    source="a spacer that is much harder stays a hard point under the glass",
    status=Status.COMMON_PRACTICE,
)
def harder_than_bond(*, spacer: ShoreA, adhesive: ShoreA) -> float:
    """Difference of the hardnesses, Shore A; negative: the spacers are the softer ones."""
    require.positive(spacer_hardness=spacer, adhesive_hardness=adhesive)
    return spacer - adhesive


__all__ = [
    "bore_needed",
    "clear_of_fillet",
    "fillet_reach",
    "glass_edge_left",
    "harder_than_bond",
    "height_for_any_contact",
    "height_for_full_contact",
    "inside_unprinted_edge",
    "landing_inside_needed",
    "off_flush",
    "proud_at_worst",
    "room_beside_spacer",
    "slenderness",
    "sunk_at_worst",
    "width_to_thickness",
]
