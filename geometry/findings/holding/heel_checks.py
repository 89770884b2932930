"""Afloat before the cure: does a heeling vessel slide the pane along its sill, or pull it off its landing.

Terms
-----
afloat
    While the bead is uncured. Ashore she does not heel; a job that says neither is not checked.
heel
    Greatest lean either way, trim counted as well: in the plane of a pane that faces fore or aft it slopes the sill, and a pane in the
    side leans out by it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.detail.edges import ROUND
from geometry.detail.parts import BlockKind
from geometry.findings.checks import found_by
from geometry.findings.holding.chock_places import middle_of
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import perimeter
from geometry.rules.calculation import Status
from geometry.rules.holding import bond, chocks, gravity, green
from geometry.rules.rounding import number
from geometry.workings.bead_movement import setting_chocks
from geometry.workings.pane_mass import mass_of

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject

SLIDES = Constraint(
    "sill holds the pane as the vessel heels",
    side=Side.AT_MOST,
    unit="",
    source="geometry; how much friction holds: common practice, no source",
    status=Status.COMMON_PRACTICE,
    limit_key="limits.sill_slope",
    short=Verdict.LOOK,
)
HANGS = Constraint(
    "uncured bead holds the pane as the vessel heels",
    side=Side.AT_MOST,
    unit="",
    source="half of the yield stress of the uncured adhesive (common practice, no source)",
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
)
ASHORE = Remedy("keep the vessel ashore, at a heel of 0°, until the bead has cured", (Change("vessel.afloat", False),))


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room; none on a deck light, which lies on its landing between location blocks."""
    return found_by(CHECKS, subject, ledger)


def is_ashore(subject: Subject) -> bool:
    """Whether the job says that the vessel stands ashore until the bead has cured."""
    return subject.job.vessel.afloat is False


def moving_pull_off(subject: Subject, ledger: Ledger, weight: Figure, *, where: str = "") -> Figure:
    """Pull off the landing, N, with the dynamic factor unless the job says that the vessel stands ashore."""
    return ledger.work(
        "pull-off on the uncured bead",
        gravity.moving_pull_off,
        where=where,
        pull_off=weight.value.pull_off,
        dynamic_factor=1.0 if is_ashore(subject) else subject.limit("dynamic_factor"),
    )


def _unknown(subject: Subject, must: Constraint) -> Finding | None:
    """Not checked where the job does not say whether she is afloat, or how far she heels then."""
    vessel = subject.job.vessel
    if vessel.afloat is None:
        return must.not_checked(what="vessel.afloat (whether she is afloat while the bead is uncured)")
    if vessel.afloat and vessel.heel is None:
        return must.not_checked(what="vessel.heel (of a vessel afloat while the bead is uncured)")
    return None


def _slides(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    setting = setting_chocks(subject)
    if subject.flat or not setting or setting[0].edge == ROUND:
        return ()
    unknown = _unknown(subject, SLIDES)
    if unknown is not None:
        return (unknown,)
    limit, slope = subject.limit("sill_slope"), (setting[0].angle + 90.0) % 180.0 - 90.0
    block = next((chock for chock in subject.detail.chocks if chock.kind == BlockKind.SIDE), None)
    if is_ashore(subject):
        says = "the vessel stands ashore until the bead has cured: no heel"
        sill, at = setting[0].edge, middle_of(subject, setting[0])
        return (
            SLIDES.judged(value=0.0, limit=limit.value, where=sill, at=at, part=sill, says=says, defaults=defaults_of(limit)),
        )
    heel = subject.asked("vessel.heel", unit="°")
    rise = ledger.work(
        "rise of the sill, vessel heeled",
        chocks.heeled_sill_rise,
        sill_slope=slope,
        heel=heel,
        blocked=block is not None,
    )
    says = f"a heel of {number(heel.value)}° on a sill that slopes by {number(abs(slope), 2)}°"
    says += f", {block.mark} at its low end" if block is not None else ", no side block"
    return (
        SLIDES.judged(
            value=rise.value,
            limit=limit.value,
            where=setting[0].edge,
            at=middle_of(subject, setting[0]),
            part=setting[0].edge,
            says=says,
            remedies=(ASHORE, Remedy("stand 1 side block at each end of the sill until the bead has cured")),
            figure=rise,
            defaults=defaults_of(limit),
        ),
    )


def _hangs(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """A pane in the side leans out with the heel; one on the centre line does not, and only the job knows."""
    if subject.flat or subject.pane.side == "centre":
        return ()
    unknown = _unknown(subject, HANGS)
    if unknown is not None:
        return (unknown,)
    if is_ashore(subject) or subject.pane.held:
        held = "straps or props hold the pane until the bead can" if subject.pane.held else "the vessel stands ashore: no heel"
        return (HANGS.judged(value=0.0, limit=1.0, says=held),)
    heel, heeled = subject.asked("vessel.heel", unit="°"), "vessel heeled"
    leans = ledger.work("rake of the pane", gravity.heeled_rake, where=heeled, rake=subject.asked("rake", unit="°"), heel=heel)
    weight = ledger.work("weight of the pane", gravity.weight_in_pane, where=heeled, mass=mass_of(subject, ledger), rake=leans)
    pulls = moving_pull_off(subject, ledger, weight, where=heeled)
    stress = ledger.work(
        "pull on the uncured bead",
        bond.dead_load_tension,
        where=heeled,
        pull_off=pulls,
        bond_width=subject.sizes.bond_width,
        bead_length=perimeter(subject.detail.curves.bead_centre),
    )
    yields, share = (
        subject.asked("adhesive.yield_stress_uncured", scale=0.001, unit="MPa"),
        subject.limit("green_share", scale=0.01),
    )
    use = ledger.work("use of the uncured bead", green.green_use, where=heeled, stress=stress, yield_stress=yields, share=share)
    return (
        HANGS.judged(
            value=use.value,
            limit=1.0,
            says=f"at a heel of {number(heel.value)}° the pane leans by {number(leans.value)}°:"
            f" {max(0.0, pulls.value):.0f} N off the landing when the boat moves",
            remedies=(
                Remedy(
                    f"hold the pane with straps or props against {max(0.0, pulls.value):.0f} N until the bead can",
                    (Change("held", True),),
                ),
                ASHORE,
            ),
            figure=use,
        ),
    )


CHECKS = (_slides, _hangs)


__all__ = ["ASHORE", "HANGS", "SLIDES", "findings", "is_ashore", "moving_pull_off"]
