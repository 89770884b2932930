"""The joint between glass edge and recess wall, and the sealant that fills it.

Terms
-----
joint width
    From the glass edge to the recess wall, in the plane of the glass.
movement class
    Movement a sealant bears, as a share of the joint width, opening or closing (0.25 is the class of 25 %).
opening, closing
    Change of the joint width, both counted positive, mm.
backfill depth
    Depth of the sealant in the joint, from the outer face inwards.
backer
    Round rod, wider than the joint, that sets the backfill depth and keeps the sealant off the third face.

All lengths are mm.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.holding.thermal import differential_strain as differential_strain  # the strain that moves the joint
from geometry.rules.tolerance import joint_tolerance as joint_tolerance  # what one side of it may lose
from geometry.rules.units import Millimetres, Radians, Ratio, Strain

MOVEMENT_CLASSES = (0.075, 0.125, 0.2, 0.25)
"""Classes of ISO 11600:2002; glazing takes 0.2 and 0.25 only."""


@calculation(
    title="Joint width for movement",
    formula="largest movement / movement class + tolerance, at least 6 mm",
    unit="mm",
    source="method of ASTM C1472 (from memory); least width for a nozzle: Handbook of Adhesives and Sealants, 1/4 inch",
    status=Status.FROM_MEMORY,
)
def joint_width_for_movement(
    *, movement: Millimetres, movement_class: Ratio, tolerance: Millimetres = 0.0, least: Millimetres
) -> float:
    """Least nominal joint width, mm.

    ``movement`` is the larger of opening and closing, mm; ``movement_class`` a share (0.25 for class 25); ``tolerance`` what one
    side of the joint may lose by making and placing, mm.
    """
    require.not_negative(movement=movement, tolerance=tolerance, least=least)
    require.inside(0, 2, movement_class=movement_class)
    return max(least, movement / movement_class + tolerance)


@calculation(
    title="Least joint width",
    formula="joint width - tolerance",
    unit="mm",
    source="worst case of making and placing",
    status=Status.DERIVED,
)
def least_width(*, joint_width: Millimetres, tolerance: Millimetres) -> float:
    """What is left of the joint on the bad side, mm; 0 or less: glass touches frame."""
    require.finite(joint_width=joint_width)  # glass drawn into the recess has a negative joint
    require.not_negative(tolerance=tolerance)
    return joint_width - tolerance


@calculation(
    title="Greatest strain of the sealant",
    formula="larger of √((least width + opening)² + movement along²) / least width - 1 and, where the opening is negative, -opening / least width",
    unit="",
    source="Pythagoras over the slanted sealant; method of ASTM C1472 on the least joint",
    status=Status.FROM_MEMORY,
)
def greatest_strain(*, opening: Millimetres, movement_along: Millimetres, least_width: Millimetres) -> float:
    """Share by which the sealant is stretched or squeezed most, 0 or more.

    ``opening`` mm, negative closes; ``movement_along`` mm, either way; ``least_width`` what is left of the joint, mm.
    """
    require.finite(opening=opening, movement_along=movement_along)
    require.positive(least_joint_width=least_width)
    stretched = math.hypot(max(0.0, least_width + opening), movement_along) / least_width - 1
    return max(0.0, stretched, -opening / least_width)


def moved_against_frame(
    shift: tuple[float, float], turn: float, arm: tuple[float, float], strain: float, racking: float
) -> tuple[float, float]:
    """How far the glass moves against the frame at a place, right and up, mm: the rigid pane shifts and turns, the frame stretches."""
    half = racking / 2
    return (
        shift[0] - turn * arm[1] - strain * arm[0] - half * arm[1],
        shift[1] + turn * arm[0] - strain * arm[1] - half * arm[0],
    )


_MOVED = (
    "movement: shift + turn × arm, square to it, - differential strain × arm - racking / 2 × arm of the other axis; arm: from the middle of the "
    "bead to the place on the glass edge (right; up); racking is 0 where it is not listed"
)


@calculation(
    title="Opening of the joint at a place",
    formula=f"- movement × outward direction of the glass edge - swell × how far that looks sideways. {_MOVED}; swell is 0 where it is not "
    "listed: where it does not make matters worse",
    unit="mm",
    source="rigid pane against the stretching frame",
    status=Status.DERIVED,
)
def opening_at(
    *,
    shift: tuple[Millimetres, Millimetres],
    turn: Radians,
    arm: tuple[Millimetres, Millimetres],
    outward: tuple[Ratio, Ratio],
    differential_strain: Strain,
    racking: Strain = 0.0,
    swell: Millimetres = 0.0,
) -> float:
    """Change of the joint's width, mm, + opens. ``shift`` and ``turn`` are those of the bead's middle, ``outward`` a unit vector."""
    right, up = moved_against_frame(shift, turn, arm, differential_strain, racking)
    return -(right * outward[0] + up * outward[1]) - swell * abs(outward[0])


@calculation(
    title="Movement along the joint at a place",
    formula=f"size of movement × direction of the glass edge, square to its outward direction. {_MOVED}",
    unit="mm",
    source="rigid pane against the stretching frame",
    status=Status.DERIVED,
)
def movement_along_at(
    *,
    shift: tuple[Millimetres, Millimetres],
    turn: Radians,
    arm: tuple[Millimetres, Millimetres],
    outward: tuple[Ratio, Ratio],
    differential_strain: Strain,
    racking: Strain = 0.0,
) -> float:
    """Movement of the glass along the joint, mm, never negative; the inputs are those of :func:`opening_at`."""
    right, up = moved_against_frame(shift, turn, arm, differential_strain, racking)
    return abs(-right * outward[1] + up * outward[0])


@calculation(
    title="Widest joint",
    formula="joint width + tolerance",
    unit="mm",
    source="worst case of making and placing",
    status=Status.DERIVED,
)
def widest_width(*, joint_width: Millimetres, tolerance: Millimetres) -> float:
    """The joint on the wide side, mm."""
    require.finite(joint_width=joint_width)
    require.not_negative(tolerance=tolerance)
    return joint_width + tolerance


@calculation(
    title="Pane tolerance that leaves a joint",
    formula="2 × (nominal joint width - joint to be left - placing tolerance) - recess tolerance",
    unit="mm",
    source="tolerance of the joint, one side, solved for the pane",
    status=Status.DERIVED,
)
def pane_tolerance_for(*, joint_width: Millimetres, joint_left: Millimetres, recess: Millimetres, placing: Millimetres) -> float:
    """Tolerance of the pane's size, plus and minus, mm, that leaves ``joint_left`` mm; negative: none will do."""
    require.finite(joint_width=joint_width, joint_left=joint_left)
    require.not_negative(recess=recess, placing=placing)
    return 2 * (joint_width - joint_left - placing) - recess


@calculation(
    title="Least joint for a movement",
    formula="larger of closing / movement class and the width that a slanted sealant needs",
    unit="mm",
    source="greatest strain of the sealant, solved for the joint: "
    "joint² ((1 + class)² - 1) - 2 joint × opening = opening² + movement along²",
    status=Status.DERIVED,
)
def least_width_for(*, opening: Millimetres, movement_along: Millimetres, movement_class: Ratio) -> float:
    """What must be left of the joint, mm, so that the sealant is strained no more than its class (a share)."""
    require.finite(opening=opening, movement_along=movement_along)
    require.inside(0, 2, movement_class=movement_class)
    rise = (1 + movement_class) ** 2 - 1
    stretched = (opening + math.sqrt(opening**2 + rise * (opening**2 + movement_along**2))) / rise
    return max(stretched, -opening / movement_class, 0.0)


@calculation(
    title="Backfill depth",
    formula="joint width up to 12 mm, but at least 6; wider: half the width, but 12 to 13 mm; 2 mm less than the glass",
    unit="mm",
    source="Handbook of Adhesives and Sealants, joint design: depth equal to width from 6 to 12 mm, about 12 mm above; "
    "never over 13 mm (Architectural Detailing); the 2 mm that keep it on the glass edge are common practice",
    status=Status.PUBLISHED,
)
def backfill_depth(
    *,
    joint_width: Millimetres,
    glass_thickness: Millimetres,
    least: Millimetres,
    full_to: Millimetres,
    most: Millimetres,
    edge_left: Millimetres,
) -> float:
    """Depth of the backfill, mm: depth to width between 1:1 and 1:2, without a jump at ``full_to``; never under 1 mm."""
    require.positive(joint_width=joint_width, least=least, full_to=full_to, most=most)
    require.not_negative(edge_left=edge_left)
    if glass_thickness <= 0 or math.isnan(glass_thickness):
        raise ValueError(f"glass thickness: found {glass_thickness:g}, allowed: more than 0")
    depth = max(least, joint_width) if joint_width <= full_to else min(most, max(full_to, joint_width / 2))
    return max(1.0, min(depth, glass_thickness - edge_left))


@calculation(
    title="Backer diameter",
    formula="joint width × 1.25",
    unit="mm",
    source="building-science article on sealant joints: backer squeezed by about a quarter",
    status=Status.SECOND_HAND,
)
def backer_diameter(*, joint_width: Millimetres, oversize: Ratio) -> float:
    """Diameter of the round backer, mm; ``oversize`` 1.25 to 1.33."""
    require.positive(joint_width=joint_width)
    require.between(1, 2, oversize=oversize)
    return joint_width * oversize


@calculation(
    title="Room for the backer",
    formula="bond thickness + glass thickness - backfill depth - share × backer diameter",
    unit="mm",
    source="the squeezed backer must find its depth below the backfill; else a bond-breaker tape",
    status=Status.COMMON_PRACTICE,
)
def backer_room(
    *,
    bond_thickness: Millimetres,
    glass_thickness: Millimetres,
    backfill_depth: Millimetres,
    backer_diameter: Millimetres,
    share: Ratio,
) -> float:
    """What is left over under the backer, mm; negative: it does not fit, take a bond-breaker tape."""
    require.positive(bond_thickness=bond_thickness, glass_thickness=glass_thickness, backer_diameter=backer_diameter)
    require.not_negative(backfill_depth=backfill_depth, share=share)
    return bond_thickness + glass_thickness - backfill_depth - share * backer_diameter


__all__ = [
    "MOVEMENT_CLASSES",
    "backer_diameter",
    "backer_room",
    "backfill_depth",
    "greatest_strain",
    "joint_width_for_movement",
    "least_width",
    "least_width_for",
    "moved_against_frame",
    "movement_along_at",
    "opening_at",
    "pane_tolerance_for",
    "widest_width",
]
