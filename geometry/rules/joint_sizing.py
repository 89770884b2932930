"""Movement of frame against glass, and the joint that takes it up.

Terms
-----
differential strain
    Expansion of the frame less that of the glass between bonding and a temperature case; positive: the joint opens.
placing tolerance stack
    Half the deviations of recess and pane and the whole of the placing, one side of the pane, worst case.

Lengths mm, temperatures °C, expansions 1/K.
"""

from __future__ import annotations

from geometry.rules import require
from geometry.rules.calculation import Status, calculation


@calculation(
    title="Differential strain",
    formula="frame expansion × (frame − bonding temperature) − glass expansion × (glass − bonding temperature)",
    unit="",
    source="linear expansion; bracket of ETAG 002-1 Annex 2",
    status=Status.SECOND_HAND,
)
def differential_strain(*, frame_expansion: float, glass_expansion: float, frame: float, glass: float, bonding: float) -> float:
    """Strain by which the frame outgrows the glass, positive where the joint opens."""
    require.finite(frame_expansion=frame_expansion, glass_expansion=glass_expansion, frame=frame, glass=glass, bonding=bonding)
    return frame_expansion * (frame - bonding) - glass_expansion * (glass - bonding)


@calculation(
    title="Placing tolerance stack, one side",
    formula="(recess tolerance + pane tolerance) / 2 + placing tolerance",
    unit="mm",
    source="worst case, arithmetic",
    status=Status.DERIVED,
)
def joint_tolerance(*, recess: float, pane: float, placing: float) -> float:
    """How far one side's joint may stray from its design width, mm."""
    require.not_negative(recess=recess, pane=pane, placing=placing)
    return (recess + pane) / 2 + placing


@calculation(
    title="Joint width for movement",
    formula="largest movement / movement class + tolerance, at least 6 mm",
    unit="mm",
    source="method of ASTM C1472 (from memory); least width for a nozzle: Handbook of adhesives and sealants, 1/4 in",
    status=Status.SECOND_HAND,
)
def joint_width_for_movement(*, movement: float, movement_class: float, tolerance: float, least: float = 6.0) -> float:
    """Least joint width, mm; ``movement_class`` as a share (0.25 for class 25)."""
    require.not_negative(movement=movement, tolerance=tolerance, least=least)
    require.positive(movement_class=movement_class)
    return max(least, movement / movement_class + tolerance)


@calculation(
    title="Backfill depth",
    formula="joint width up to 12 mm, half of it above, between 6 and 13 mm, and 2 mm less than the glass",
    unit="mm",
    source="Handbook of adhesives and sealants, joint design; Allen & Rand, Architectural Detailing",
    status=Status.SECOND_HAND,
)
def backfill_depth(*, joint_width: float, glass_thickness: float) -> float:
    """Depth of the backfill, mm. The 2 mm that keep it on the glass edge are common practice."""
    require.positive(joint_width=joint_width, glass_thickness=glass_thickness)
    depth = joint_width if joint_width <= 12 else joint_width / 2
    return max(1.0, min(max(6.0, min(depth, 13.0)), glass_thickness - 2.0))
