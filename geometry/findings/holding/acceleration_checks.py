"""The vessel moves: accelerations that the engineer gives, on the chocks and on the uncured bead or its straps.

Terms
-----
given
    Both accelerations stand in ``loads`` of the job. What is left out is not checked, and never taken as none.
either way
    Accelerations act the way that is worst: the horizontal one in full along the pane and in full square to it.
taken at the sill
    What moves the pane along a straight sill is held there, by friction, a side block or the bead; it tips the pane about its foot.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.findings.checks import found_by
from geometry.findings.holding.chock_checks import carrying_chocks
from geometry.findings.holding.heel_checks import ASHORE, is_ashore
from geometry.ledger.figure import Sourced, defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side
from geometry.outline import perimeter
from geometry.rules.calculation import Status
from geometry.rules.holding import bond, green, loads
from geometry.rules.holding import chocks as chock_rules
from geometry.rules.rounding import mm, up
from geometry.workings.bead_movement import push_of
from geometry.workings.pane_mass import mass_of

if TYPE_CHECKING:
    from geometry.detail.parts import Chock
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject

CHOCKS = Constraint(
    "bearing stress on the chocks as the vessel moves",
    side=Side.AT_MOST,
    unit="MPa",
    source="inertia of the pane on its chocks, the accelerations are the engineer's; limit: common practice, no source",
    status=Status.COMMON_PRACTICE,
    limit_key="limits.chock_stress",
)
STRAPS = Constraint(
    "uncured bead holds the pane as the vessel moves",
    side=Side.AT_MOST,
    unit="",
    source="half of the yield stress of the uncured adhesive (common practice, no source); the accelerations are the engineer's",
    status=Status.COMMON_PRACTICE,
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


def _accelerations(subject: Subject, ledger: Ledger) -> tuple[dict[str, Any], str]:
    """Both accelerations as inputs of the rule, and what is missing of them; a heel while afloat stands for the horizontal one."""
    vertical, horizontal = (subject.asked(f"loads.{way}_acceleration", unit="m/s²") for way in ("vertical", "horizontal"))
    sideways: Sourced | Figure = horizontal
    if horizontal.value is None and subject.job.vessel.afloat and subject.job.vessel.heel is not None:
        heel = subject.asked("vessel.heel", unit="°")
        sideways = ledger.work("horizontal acceleration of the heel", loads.heel_acceleration, heel=heel)
    missing = [
        f"loads.{way}_acceleration" for way, each in (("vertical", vertical), ("horizontal", sideways)) if each.value is None
    ]
    return {"vertical_acceleration": vertical, "horizontal_acceleration": sideways}, " and no ".join(missing)


def _moving(subject: Subject, ledger: Ledger, accelerations: dict[str, Any]) -> Figure:
    rake = subject.asked("rake", unit="°")
    return ledger.work(
        "force of the pane as the vessel moves", loads.moving_weight, mass=mass_of(subject, ledger), rake=rake, **accelerations
    )


def _chocks(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    carrying = carrying_chocks(subject) if not subject.flat else ()
    if len(carrying) < 2:
        return ()
    accelerations, missing = _accelerations(subject, ledger)
    if missing:
        return (CHOCKS.not_checked(what=missing),)
    bearing = ledger.work(
        "glass that bears on a chock",
        chock_rules.bearing_depth,
        glass_thickness=subject.sizes.glass_thickness,
        backfill_over=subject.sizes.chock_backfill_over,
    )
    if bearing.value <= 0.0:
        return ()  # no chock touches the glass: that is another finding
    moving = _moving(subject, ledger, accelerations)
    force, chock = _heaviest(subject, ledger, carrying, moving)
    length, most = subject.sizes.chock_length, subject.limit("chock_stress")
    dynamic = subject.limit("dynamic_factor")
    stress = ledger.work(
        "bearing stress of the chock as the vessel moves",
        chock_rules.bearing_stress,
        force=force,
        length=length,
        bearing_depth=bearing,
        dynamic_factor=1.0,
    )
    needed = up(force / (bearing.value * most.value), 5.0)
    return (
        CHOCKS.judged(
            value=stress.value,
            limit=most.value * dynamic.value,
            look=most.value,
            where=chock.mark,
            at=chock.foot,
            part=chock.mark,
            says=f"{force:.0f} N on {mm(bearing.value)} of glass edge, {abs(moving.value.up):.0f} N down and"
            f" {moving.value.right:.0f} N to the side as she moves",
            remedies=lambda: (Remedy(f"make the chocks {mm(needed)} long", (Change("chocks.length", needed),)),),
            figure=stress,
            defaults=defaults_of(most, dynamic),
        ),
    )


def _heaviest(subject: Subject, ledger: Ledger, carrying: tuple[Chock, ...], moving: Figure) -> tuple[float, Chock]:
    """The greatest force of a chock and which one, the pane pushed to either side; what slides it is taken at the sill."""
    pushes = [push_of(subject, chock) for chock in carrying]
    first, second = pushes
    found: list[tuple[float, Chock]] = []
    level = abs(first.push_x * second.push_y - first.push_y * second.push_x) <= 1e-9
    for side, way in ((1.0, "right"), (-1.0, "left")):
        holds = chock_rules.Contact(first.x, first.y, -side * first.push_y, side * first.push_x)
        forces = ledger.work(
            f"forces of the chocks, the pane pushed to the {way}",
            chock_rules.block_forces,
            contacts=(first, second, holds) if level else (first, second),
            weight=(side * moving.value.right, moving.value.up),
            centroid=tuple(subject.detail.centroid),
        )
        found += zip(forces.value.forces, carrying, strict=False)
    force, chock = max(found, key=lambda each: round(each[0], 6))
    return max(0.0, force), chock


def _straps(subject: Subject, ledger: Ledger) -> Finding:
    if subject.job.vessel.afloat is None:
        return STRAPS.not_checked(what="vessel.afloat (whether she is afloat while the bead is uncured)")
    if is_ashore(subject):
        return STRAPS.judged(value=0.0, limit=1.0, says="the vessel stands ashore until the bead has cured: she does not move")
    accelerations, missing = _accelerations(subject, ledger)
    if missing:
        return STRAPS.not_checked(what=missing)
    pulls = max(0.0, _moving(subject, ledger, accelerations).value.pull_off)
    if subject.pane.held:
        return STRAPS.judged(value=0.0, limit=1.0, says=f"straps or props hold {pulls:.0f} N off the landing as she moves")
    stress = ledger.work(
        "pull on the uncured bead",
        bond.dead_load_tension,
        where="vessel moving",
        pull_off=pulls,
        bond_width=subject.sizes.bond_width,
        bead_length=perimeter(subject.detail.curves.bead_centre),
    )
    share = subject.limit("green_share", scale=0.01)
    yields = subject.asked("adhesive.yield_stress_uncured", scale=0.001, unit="MPa")
    use = ledger.work(
        "use of the uncured bead", green.green_use, where="vessel moving", stress=stress, yield_stress=yields, share=share
    )
    return STRAPS.judged(
        value=use.value,
        limit=1.0,
        says=f"{pulls:.0f} N off the landing as she moves",
        remedies=(
            Remedy(f"hold the pane with straps or props against {pulls:.0f} N until the bead can", (Change("held", True),)),
            ASHORE,
        ),
        figure=use,
        defaults=defaults_of(share, yields),
    )


CHECKS = (_chocks, _straps)

__all__ = ["CHOCKS", "STRAPS", "findings"]
