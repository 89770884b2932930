"""Between which limits the readings of a survey may lie, before the survey is made: the same that its findings hold them against."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.findings.fit.survey_checks import WARP_SHARE
from geometry.ledger.figure import Ledger
from geometry.rules.fit import section_room
from geometry.workings.section_sums import squeeze_out, thickness_read
from geometry.workings.surveyed_recess import flush_spread

if TYPE_CHECKING:
    from geometry.workings.subject import Subject


@dataclass(frozen=True, slots=True)
class SurveyLimits:
    """Limits of a pane's recess, mm: the joint, the depth, the landing beyond the joint read, and how far the landing may lie off a plane.

    ``landing`` is what the landing needs with the joint as drawn; of another joint it grows with it, ``landing_beyond`` is the constant part.
    """

    joint_least: float
    joint_most: float
    depth_least: float
    depth_most: float
    landing_beyond: float
    landing: float
    flat: float


def survey_limits(subject: Subject) -> SurveyLimits:
    """The limits of one pane."""
    sizes, ledger = subject.sizes, Ledger()
    read = thickness_read(subject)
    glass = sizes.glass_thickness.value if read is None else float(read.value)
    bond, spread = sizes.bond_thickness.value, flush_spread(subject)
    proud, sunk, thin = (float(subject.limit(name).value) for name in ("proud_most", "sunk_most", "bond_thickness_anywhere"))
    needed = ledger.work(
        "landing needed inside the bead",
        section_room.landing_inside_needed,
        squeeze_out=squeeze_out(subject, ledger),
        margin=subject.limit("landing_inside"),
    )
    beyond = sizes.set_back.value + sizes.bond_width.value + float(needed.value)
    return SurveyLimits(
        joint_least=float(subject.limit("joint_least").value),
        joint_most=float(subject.limit("joint_most").value),
        depth_least=max(bond + glass + spread - proud, thin + glass - sizes.proud.value),
        depth_most=bond + glass - spread + sunk,
        landing_beyond=beyond,
        landing=beyond + sizes.joint_width.value,
        flat=WARP_SHARE * bond,
    )


__all__ = ["SurveyLimits", "survey_limits"]
