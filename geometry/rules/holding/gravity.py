"""The pane's weight, split along the pane and square to it.

Terms
-----
rake
    Lean of the pane, degrees: 0 upright, positive leans back (outer face looks up), 90 a deck light, negative reverse rake.
along
    Part of the weight in the plane of the pane; the chocks or the bond carry it.
pull-off
    Part square to the pane, positive off the landing, negative pressing on it.
heel
    Lean of the whole boat in the plane of the pane, degrees, positive makes the pane's right-hand side low.

Masses kg, forces N.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.glass import GRAVITY
from geometry.rules.units import Degrees, Kilograms, Newtons, Ratio


class Weight(NamedTuple):
    """The weight in the axes of the pane, N: to the right, upwards along the pane, and off the landing."""

    right: Newtons
    up: Newtons
    pull_off: Newtons

    @property
    def along(self) -> float:
        """Size of the part in the plane of the pane, N."""
        return math.hypot(self.right, self.up)


@calculation(
    title="Weight in the pane",
    formula="along: mass × 9.81 m/s² × cos(rake), downwards; pull-off: - mass × 9.81 m/s² × sin(rake)",
    unit="N",
    source="components of the weight in the axes of the pane",
    status=Status.DERIVED,
)
def weight_in_pane(*, mass: Kilograms, rake: Degrees = 0.0, heel: Degrees = 0.0) -> Weight:
    """Weight of ``mass`` kg in the axes of a pane seen from outside, N."""
    require.not_negative(mass=mass)
    require.between(-90, 90, rake=rake)
    require.inside(-90, 90, heel=heel)
    force = mass * GRAVITY
    lean, side = math.radians(rake), math.radians(heel)
    # the boat's own axes: x to the pane's right, y inboard, z up; gravity leans by the heel
    down = (math.sin(side), 0.0, -math.cos(side))
    up = (0.0, math.sin(lean), math.cos(lean))
    out = (0.0, -math.cos(lean), math.sin(lean))
    return Weight(
        force * down[0],
        force * math.fsum(a * b for a, b in zip(down, up, strict=True)),
        force * math.fsum(a * b for a, b in zip(down, out, strict=True)),
    )


@calculation(
    title="Pull-off with the boat's movement",
    formula="pull-off × dynamic factor, where the weight pulls off the landing",
    unit="N",
    source="the dynamic factor of the chocks",
    status=Status.COMMON_PRACTICE,
)
def moving_pull_off(*, pull_off: Newtons, dynamic_factor: Ratio) -> float:
    """Pull off the landing, N, when the boat moves; a weight that presses on it (negative) counts as at rest."""
    require.finite(pull_off=pull_off)
    require.positive(dynamic_factor=dynamic_factor)
    return pull_off * dynamic_factor if pull_off > 0 else pull_off


@calculation(
    title="Rake of the heeled boat",
    formula="rake - heel, at least -90°",
    unit="°",
    source="a pane in the side leans out by the heel as that side goes down",
    status=Status.DERIVED,
)
def heeled_rake(*, rake: Degrees, heel: Degrees) -> float:
    """Rake, degrees, of a pane in the vessel's side as she heels towards it."""
    require.between(-90, 90, rake=rake)
    require.between(0, 90, heel=heel)
    return max(-90.0, rake - heel)


__all__ = ["Weight", "heeled_rake", "moving_pull_off", "weight_in_pane"]
