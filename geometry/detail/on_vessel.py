"""Where the frame of reference of a detail lies on the vessel: X and Y of the plan, Z from the landing outboard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.job.placing import OnVessel, on_vessel

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job.pane import Pane


def landing_on_vessel(pane: Pane, detail: Detail) -> OnVessel | None:
    """The plan laid into the plane of the landing, in the vessel's frame; None where the job does not say where the pane lies."""
    plan = on_vessel(pane)
    if plan is None or pane.placing is None:
        return None
    bond = detail.sizes.bond_thickness.value
    level = {"landing": 0.0, "bond face": bond, "weather face": bond + detail.glass.thickness}[pane.placing.on]
    return OnVessel(plan.at(0.0, 0.0, -level), plan.x, plan.y)


__all__ = ["landing_on_vessel"]
