"""The uncured ("green") bead: it neither holds the pane up nor lets itself be pressed for nothing.

Terms
-----
yield stress
    Stress at which the uncured adhesive begins to flow, MPa; about 0.001.
green hold
    What keeps the pane in place until the bead can: chocks, straps, props.

Lengths mm, forces N, stresses MPa.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.materials import AIR_DENSITY
from geometry.rules.units import Megapascals, Millimetres, Ratio, SquareMillimetres


@calculation(
    title="Use of the uncured bead",
    formula="stress / (share × yield stress); a negative stress (pressing on) counts 0",
    unit="",
    source="a share of the yield stress is allowed; more than 1: chocks, straps or props",
    status=Status.COMMON_PRACTICE,
)
def green_use(*, stress: Megapascals, yield_stress: Megapascals, share: Ratio) -> float:
    """How much of what the uncured bead can hold is used; ``stress`` is shear or pull, MPa, 0 or less pulls nothing."""
    require.finite(stress=stress)
    require.positive(yield_stress=yield_stress, share=share)
    return max(0.0, stress) / (share * yield_stress)


@calculation(
    title="Wind that the uncured bead holds",
    formula="√(share × yield stress × bond width × bead length / (0.5 × air density (1.225 kg/m³) × area × drag))",
    unit="m/s",
    source="suction of a wind on the pane against the uncured bead, as even pull; the drag of a plate",
    status=Status.DERIVED,
)
def wind_held(
    *,
    bond_width: Millimetres,
    bead_length: Millimetres,
    area: SquareMillimetres,
    yield_stress: Megapascals,
    share: Ratio,
    drag: Ratio,
) -> float:
    """Wind, m/s, whose suction the uncured bead just holds; ``area`` of the pane mm², lengths mm, stress MPa."""
    require.positive(bond_width=bond_width, bead_length=bead_length, area=area, yield_stress=yield_stress, share=share)
    require.positive(drag=drag)
    held = share * yield_stress * bond_width * bead_length
    return math.sqrt(held / (0.5 * AIR_DENSITY * area * 1e-6 * drag))


__all__ = ["green_use", "wind_held"]
