"""What bead and backfill of one pane weigh, for the list of masses of the vessel.

Terms
-----
in place
    What stays on the vessel: the bead as pressed and the filled joint, without waste, purge and rests of packs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.workings.quantities import mean_joint_width

if TYPE_CHECKING:
    from geometry.workings.subject import Subject


@dataclass(frozen=True, slots=True)
class FillMasses:
    """Volumes in place, ml, and masses, kg; None where the job gives no density: nothing is taken for it."""

    adhesive_ml: float
    sealant_ml: float
    adhesive: float | None
    sealant: float | None


def fill_masses(subject: Subject) -> FillMasses:
    """Volumes and masses of the bead and of the backfill in place (density × volume)."""
    job, detail, sizes = subject.job, subject.detail, subject.sizes
    bead = detail.uncured_bead.volume  # pressing changes its form, not its volume
    joint = detail.perimeter * mean_joint_width(subject) * sizes.backfill_depth.value * 1e-3
    return FillMasses(bead, joint, _mass(bead, job.adhesive.density), _mass(joint, job.sealant.density))


def _mass(volume: float, density: float | None) -> float | None:
    return None if density is None else volume * 1e-6 * density


__all__ = ["FillMasses", "fill_masses"]
