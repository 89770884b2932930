"""Between which limits the readings of a survey may lie: the checks hold the readings against these, the survey sheet prints them before."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.ledger.figure import Ledger
from geometry.rules.fit import section, section_room
from geometry.workings.section_sums import squeeze_out
from geometry.workings.surveyed_recess import at_depth, flush_spread, glass_lain, stack_of

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure
    from geometry.workings.subject import Subject

WARP_SHARE = 1 / 3
"""Part of the bond thickness that the landing may lie off a plane (common practice, no source)."""


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


def off_plane_most(subject: Subject) -> float:
    """How far the landing may lie off a plane, mm."""
    return WARP_SHARE * subject.sizes.bond_thickness.value


def proud_there(subject: Subject, ledger: Ledger, depth: float, *, where: str = "") -> Figure:
    """Glass proud of the skin where the recess is so deep, on spacers as drawn, mm."""
    return ledger.work(
        "glass proud of the skin",
        section.proud,
        where=where,
        bond_thickness=subject.sizes.bond_thickness,
        glass_thickness=glass_lain(subject),
        recess_depth=depth,
    )


def landing_inside_needed(subject: Subject, ledger: Ledger) -> Figure:
    """Landing that the squeeze-out needs inside the bead, mm."""
    return ledger.work(
        "landing needed inside the bead",
        section_room.landing_inside_needed,
        squeeze_out=squeeze_out(subject, ledger),
        margin=subject.limit("landing_inside"),
    )


def landing_inside(subject: Subject, ledger: Ledger, landing: float, joint: float, *, where: str = "") -> Figure:
    """Landing left inside the bead where so much of it was measured beside such a joint, mm."""
    return ledger.work(
        "landing inside the bead",
        section.inner_margin,
        where=where,
        landing=landing,
        joint_width=joint,
        set_back=subject.sizes.set_back,
        bond_width=subject.sizes.bond_width,
    )


def survey_limits(subject: Subject) -> SurveyLimits:
    """The limits of one pane: the reading at which each check would just be kept.

    Every figure grows or falls by a millimetre with each millimetre of the reading, so that it is told from the depth and landing as drawn.
    """
    sizes, ledger = subject.sizes, Ledger()
    depth, joint = sizes.recess_depth.value, sizes.joint_width.value
    proud, spread = float(proud_there(subject, ledger, depth).value), flush_spread(subject)
    bond = at_depth(stack_of(subject), depth)[1]
    proud_most, sunk_most, thin = (
        float(subject.limit(name).value) for name in ("proud_most", "sunk_most", "bond_thickness_anywhere")
    )
    too_proud = section_room.proud_at_worst(proud=proud, tolerance=spread) - proud_most
    too_sunk = section_room.sunk_at_worst(proud=proud, tolerance=spread) - sunk_most
    landing = float(landing_inside_needed(subject, ledger).value) - float(landing_inside(subject, ledger, 0.0, joint).value)
    return SurveyLimits(
        joint_least=float(subject.limit("joint_least").value),
        joint_most=float(subject.limit("joint_most").value),
        depth_least=depth + max(too_proud, thin - bond),
        depth_most=depth - too_sunk,
        landing_beyond=landing - joint,
        landing=landing,
        flat=off_plane_most(subject),
    )


__all__ = [
    "WARP_SHARE",
    "SurveyLimits",
    "landing_inside",
    "landing_inside_needed",
    "off_plane_most",
    "proud_there",
    "survey_limits",
]
