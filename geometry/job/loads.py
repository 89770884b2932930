"""Loads beside the pressures: from the engineer, never from this tool. What is left out is not checked.

Terms
-----
acceleration
    Greatest of the vessel at the pane, beside gravity, either way.
racking
    The frame leaning over into a parallelogram, head against sill over its height.
patch
    A part of the glass that carries a load of its own: a foot on a deck light, a case set down.
"""

from __future__ import annotations

from typing import Annotated

from geometry.job import fields as f
from geometry.job.fields import Table, setting

Racking = Annotated[float, f.Measure("slope", "mm/m", at_least=0, at_most=50)]
Difference = Annotated[float, f.Measure("temperature difference", "K", at_least=0, at_most=200)]
Wind = Annotated[float, f.Measure("speed", "m/s", above=0, at_most=120)]
Coefficient = Annotated[float, f.Measure("number", "", above=0, at_most=5)]


class Patch(Table):
    """A load on a part of the glass that pushes it on its landing."""

    force: f.Force = setting(..., "the whole load, square to the glass, inward")
    x: f.Place = setting(..., "X of its middle from the origin of the outline")
    y: f.Place = setting(..., "Y of its middle from the origin of the outline")
    width: f.Size = setting(..., "width along X, or the diameter of a round one")
    height: f.Size | None = setting(None, "height along Y; left out: round")

    @property
    def tall(self) -> float:
        """Its size along Y, mm."""
        return self.width if self.height is None else self.height


class Loads(Table):
    """From the engineer or the rule that governs, never from this tool; what is left out is not checked."""

    vertical_acceleration: f.Acceleration | None = setting(
        None, "greatest vertical acceleration of the vessel at the pane, beside gravity; left out: not checked"
    )
    horizontal_acceleration: f.Acceleration | None = setting(
        None,
        "greatest horizontal acceleration of the vessel at the pane, whichever way, with what a heel adds; left out: that of "
        "vessel.heel while afloat, else not checked",
    )
    frame_racking: Racking | None = setting(
        None, "how far the head of the frame moves against its sill, for its height, either way; left out: not checked"
    )
    patch: Patch | None = setting(None, "load on a part of the glass; left out: not checked")
    edge_temperature_difference: Difference | None = setting(
        None, "annealed glass: how much warmer its middle is than its edge; left out: not checked"
    )
    wind: Wind | None = setting(None, "a wind that the outward pressure must cover, with wind_suction; left out: not checked")
    wind_suction: Coefficient | None = setting(
        None, "coefficient of that wind's suction on the pane, by the engineer; left out: not checked"
    )


__all__ = ["Loads", "Patch"]
