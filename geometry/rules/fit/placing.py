"""The joint at a place of a pane that has been shifted and turned in its recess.

Terms
-----
shift, turn
    How the pane as a whole is moved: mm to the right and up, radians counter-clockwise about its pivot, seen from outside.
side of the recess
    A straight piece of the wall as surveyed, by one point of it and the unit normal that looks into the opening.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation

Pair = tuple[float, float]


@calculation(
    title="Joint at a place of a shifted and turned pane",
    formula="inward normal of the recess side · (turned and shifted place of the glass edge - point of the recess side)",
    unit="mm",
    source="rigid movement of the pane in its plane",
    status=Status.DERIVED,
)
def joint_after_placing(*, place: Pair, pivot: Pair, shift: Pair, turn: float, wall_point: Pair, inward_normal: Pair) -> float:
    """Joint between a place of the glass edge and a side of the recess, mm; negative where the glass would stand in the frame.

    ``place`` and ``pivot`` are of the pane as drawn, ``turn`` in radians. Raises ``ValueError`` for a normal that is not of length 1.

    >>> joint_after_placing(
    ...     place=(0, 300), pivot=(500, 300), shift=(1.0, 0.0), turn=0.0, wall_point=(-6, 0), inward_normal=(1, 0)
    ... )
    7.0
    """
    require.finite(turn=turn, shift_right=shift[0], shift_up=shift[1])
    length = math.hypot(*inward_normal)
    if abs(length - 1.0) > 1e-6:
        raise ValueError(f"inward normal: found a length of {length:g}, allowed: 1")
    arm_x, arm_y = place[0] - pivot[0], place[1] - pivot[1]
    moved_x = pivot[0] + shift[0] + arm_x * math.cos(turn) - arm_y * math.sin(turn)
    moved_y = pivot[1] + shift[1] + arm_x * math.sin(turn) + arm_y * math.cos(turn)
    return inward_normal[0] * (moved_x - wall_point[0]) + inward_normal[1] * (moved_y - wall_point[1])
