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


def plan_on_vessel(found: OnVessel | None) -> dict[str, list[float]] | None:
    """The same as data: the origin of the plan on the landing, mm, and its X, Y and Z (outboard), rounded to where machines agree."""
    if found is None:
        return None
    ways = {"x": found.x, "y": found.y, "z": found.outwards}
    return {
        "origin_mm": [round(each, 6) + 0.0 for each in found.origin],
        **{name: [round(each, 12) + 0.0 for each in way] for name, way in ways.items()},
    }


__all__ = ["landing_on_vessel", "plan_on_vessel"]
