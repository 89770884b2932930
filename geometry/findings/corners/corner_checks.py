"""Corners of the pane held against their limits: joint, landing, unbonded corner, bead and frit on the bisector of every corner.

The terms stand with the sights of a corner. One finding of a name for each pane: the worst corner speaks, the others are counted.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.checks import found_by
from geometry.findings.corners import corner_remedies, cut_out_checks
from geometry.findings.corners.corner_sights import agreeing, also_at, bead_centre, inside_bead, sights_of, tightest
from geometry.findings.fit.frit_checks import needed_for_cover, print_depth, refraction, solid_at_worst
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import TOUCH, Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import corners
from geometry.rules.calculation import Status
from geometry.rules.fit import bead, corner, frit, section_room
from geometry.rules.rounding import mm, number
from geometry.workings.section_sums import squeeze_out, tolerance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.findings.corners.corner_sights import CornerSight
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"


JOINT = Constraint(
    "joint left in every corner",
    side=Side.AT_LEAST,
    unit="mm",
    source="geometry of the corner; the least joint is common practice, no source",
    status=Status.DERIVED,
    limit_key="limits.joint_least",
)
LANDING = Constraint(
    "bead on the landing in every corner",
    side=Side.AT_LEAST,
    unit="mm",
    source="geometry of the corner; the margin is common practice, no source",
    status=Status.DERIVED,
)
UNBONDED = Constraint(
    "glass beyond the bead in a corner", side=Side.AT_MOST, unit="mm", source=PRACTICE, status=Status.COMMON_PRACTICE
)
FRIT = Constraint(
    "frit covers the bead in every corner",
    side=Side.AT_LEAST,
    unit="mm",
    source="geometry of the corner; the margin is common practice, no source",
    status=Status.DERIVED,
)
BEAD = Constraint(
    "corners round enough for the bead",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
)
GUN_TURNS = Constraint(
    "bead no tighter than the gun turns",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room; those on corners only where the pane has some."""
    return found_by(CHECKS, subject, ledger)


def _on_bisectors(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    sights = sights_of(subject.detail.curves, subject.pane.frit_outline is None)
    if not sights:
        return
    yield _joint(subject, ledger, sights)
    yield from _landing(subject, ledger, sights)
    if any(sight.corner.convex for sight in sights):
        yield _unbonded(subject, ledger, sights)
    yield from _frit(subject, ledger, sights)


def _joint(subject: Subject, ledger: Ledger, sights: tuple[CornerSight, ...]) -> Finding:
    limit = subject.limit("joint_least")
    worst = min(sights, key=lambda sight: round(sight.joint, 9))
    others = also_at(worst, (sight for sight in sights if sight.joint < limit.value - TOUCH))
    if worst.joint < 0:
        says = f"the glass would stand {mm(-worst.joint)} in the frame{others}"
    else:
        says = f"{mm(worst.joint)} of joint on the bisector as drawn{others}"
    return JOINT.judged(
        value=worst.joint,
        limit=limit.value,
        where=worst.name,
        at=worst.place,
        part=worst.name,
        says=says,
        remedies=lambda: corner_remedies.for_joint(subject, [sight.corner for sight in sights]),
        figure=_joint_figure(subject, ledger, worst),
        defaults=defaults_of(limit),
    )


def _joint_figure(subject: Subject, ledger: Ledger, sight: CornerSight) -> Figure | None:
    """The sum by formula, where the recess has radii; a re-entrant corner is the same corner looked at from the frame."""
    if subject.surveyed:
        return None
    at, wall = sight.corner, corner_remedies.recess_radius(subject, sight.corner)
    radii = (at.radius, wall) if at.convex else (wall, at.radius)
    inputs = {
        "joint_width": subject.sizes.joint_width,
        "glass_radius": radii[0],
        "recess_radius": radii[1],
        "interior_angle": at.interior_angle if at.convex else 360.0 - at.interior_angle,
    }
    return agreeing(ledger, f"joint in corner {sight.name}", corner.corner_gap, sight.joint, inputs)


def _landing(subject: Subject, ledger: Ledger, sights: tuple[CornerSight, ...]) -> Iterator[Finding]:
    spill, inside = squeeze_out(subject, ledger), subject.limit("landing_inside")
    needed = ledger.work("landing needed inside the bead", section_room.landing_inside_needed, squeeze_out=spill, margin=inside)
    margins = list(inside_bead(sights, "landing"))
    if not margins:
        return
    value, worst = min(margins, key=lambda each: round(each[0], 9))
    others = also_at(worst, (sight for margin, sight in margins if margin < needed.value - TOUCH))
    says = (
        f"the bead runs {mm(-value)} off the landing{others}"
        if value < 0
        else f"{mm(value)} of landing inside the bead on the bisector, {mm(needed.value)} needed{others}"
    )
    yield LANDING.judged(
        value=value,
        limit=needed.value,
        where=worst.name,
        at=worst.place,
        part=worst.name,
        says=says,
        remedies=lambda: corner_remedies.for_landing(subject, worst.corner, short=needed.value - value),
        figure=_landing_figure(subject, ledger, worst, value),
        defaults=needed.defaults,
    )


def _landing_figure(subject: Subject, ledger: Ledger, sight: CornerSight, value: float) -> Figure | None:
    if subject.surveyed or not sight.corner.convex:
        return None
    sizes, at = subject.sizes, sight.corner
    inputs = {
        "bead_centre": bead_centre(subject, ledger),
        "bead_corner_radius": max(at.radius - bead_centre(subject, ledger).value, sizes.bead_corner_radius.value),
        "bond_width": sizes.bond_width,
        "landing_from_glass": sizes.landing.value - sizes.joint_width.value,
        "landing_corner_radius": max(0.0, corner_remedies.recess_radius(subject, at) - sizes.landing.value),
        "interior_angle": at.interior_angle,
        "margin": 0.0,
    }
    return agreeing(ledger, f"landing in corner {sight.name}", bead.landing_left_in_corner, value, inputs)


def _unbonded(subject: Subject, ledger: Ledger, sights: tuple[CornerSight, ...]) -> Finding:
    sizes, factor = subject.sizes, subject.limit("unbonded_corner_to_set_back")
    limit = ledger.work("greatest glass beyond the bead in a corner", bead.unbonded_limit, set_back=sizes.set_back, factor=factor)
    convex = [sight for sight in sights if sight.corner.convex]
    worst = max(convex, key=lambda sight: round(sight.unbonded, 9))
    at = worst.corner
    long = [sight for sight in convex if sight.unbonded > limit.value + TOUCH and sight is not worst]
    others, beyond = also_at(worst, long), [at, *(sight.corner for sight in long)]
    inputs = {
        "bead_centre": bead_centre(subject, ledger),
        "bead_corner_radius": max(at.radius - bead_centre(subject, ledger).value, sizes.bead_corner_radius.value),
        "bond_width": sizes.bond_width,
        "glass_corner_radius": at.radius,
        "interior_angle": at.interior_angle,
    }
    return UNBONDED.judged(
        value=worst.unbonded,
        limit=limit.value,
        where=worst.name,
        at=worst.place,
        part=worst.name,
        says=f"{mm(worst.unbonded)} of glass beyond the bead on the bisector of {number(at.interior_angle)}°{others}",
        remedies=lambda: corner_remedies.for_unbonded_corner(subject, beyond, most=limit.value),
        figure=agreeing(ledger, f"unbonded corner in corner {worst.name}", bead.unbonded_length, worst.unbonded, inputs),
        defaults=limit.defaults,
    )


def _frit(subject: Subject, ledger: Ledger, sights: tuple[CornerSight, ...]) -> Iterator[Finding]:
    """A corner may cover the bead no less than is asked; where the straights themselves fall short, no less than they do."""
    spill, spread = squeeze_out(subject, ledger), tolerance(subject, "print")
    depth, wanted_margin = print_depth(subject), subject.limit("frit_margin")
    margin = ledger.work(
        "frit wanted inside the squeeze-out",
        frit.cover_margin,
        print_depth=depth,
        margin=wanted_margin,
        refractive_index=refraction(subject),
    )
    fade = 0.0 if subject.pane.frit_outline is None else subject.pane.frit.fade
    covers = [(beyond - fade - spill.value, sight) for beyond, sight in inside_bead(sights, "frit_inner")]
    if not covers:
        return
    cover, worst = min(covers, key=lambda each: round(each[0], 9))
    at_worst = ledger.work(
        "frit cover in a corner at the worst print",
        corner.frit_cover_at_worst,
        cover=_cover_figure(subject, ledger, worst, cover) or cover,
        print_tolerance=spread,
    )
    straight = solid_at_worst(subject, ledger)[0].value - needed_for_cover(subject, ledger).value + margin.value
    limit = min(margin.value, straight)
    others = also_at(worst, (sight for each, sight in covers if each - spread.value < limit - TOUCH))
    says = f"{mm(at_worst.value)} of solid frit inside the squeeze-out at the worst print, {mm(margin.value)} wanted{others}"
    if straight < margin.value - TOUCH:
        says += f"; the straights have {mm(straight)}"
    yield FRIT.judged(
        value=at_worst.value,
        limit=limit,
        where=worst.name,
        at=worst.place,
        part=worst.name,
        says=says,
        remedies=lambda: corner_remedies.for_frit(
            subject, worst.corner, short=limit - at_worst.value, to_margin=margin.value - at_worst.value
        ),
        figure=at_worst,
        defaults=margin.defaults,
    )


def _cover_figure(subject: Subject, ledger: Ledger, sight: CornerSight, cover: float) -> Figure | None:
    if subject.pane.frit_outline is not None or not sight.corner.convex:
        return None
    sizes, at, centre = subject.sizes, sight.corner, bead_centre(subject, ledger)
    solid = sizes.frit_width.value - subject.pane.frit.fade
    inputs = {
        "frit_width": solid,
        "frit_radius": max(at.radius - solid, sizes.frit_corner_radius.value),
        "bead_centre": centre,
        "bead_radius": max(at.radius - centre.value, sizes.bead_corner_radius.value),
        "bond_width": sizes.bond_width,
        "squeeze_out": squeeze_out(subject, ledger),
        "interior_angle": at.interior_angle,
    }
    return agreeing(ledger, f"frit cover in corner {sight.name}", corner.frit_cover, cover, inputs)


def _bead(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    """Whether the glass is round enough for the bead to run parallel, and whether the gun can turn where it is not."""
    sizes, limits = subject.sizes, subject.limit("gun_radius")
    tight, where, at = tightest(subject.detail.curves.glass)
    least = ledger.work("least radius of the bead", bead.least_corner_radius, bond_width=sizes.bond_width, least=limits)
    if tight is None:
        return
    centre = bead_centre(subject, ledger)
    left = ledger.work("radius left for the bead", bead.radius_left, glass_corner_radius=tight, bead_centre=centre)
    cut = [
        f"V{at.number}"
        for at in corners(subject.detail.curves.glass)
        if at.convex and at.radius - centre.value < least.value - TOUCH
    ]
    says = f"a parallel bead would have {mm(left.value)} of radius, {mm(least.value)} can be laid"
    if left.value < least.value - TOUCH:
        says += f": it cuts the corner at {', '.join(cut) or where}"
    yield BEAD.judged(
        value=left.value,
        limit=least.value,
        where=where,
        at=at,
        part=where,
        says=says,
        remedies=lambda: corner_remedies.for_radius(subject, least.value + centre.value),
        figure=left,
        defaults=least.defaults,
    )
    laid = max(left.value, sizes.bead_corner_radius.value)
    yield GUN_TURNS.judged(
        value=laid,
        limit=least.value,
        where=where,
        at=at,
        part=where,
        says=f"the centre line turns on {mm(laid)}, {mm(least.value)} can be laid",
        remedies=(Remedy(f"turn the bead on {mm(least.value)}", corner_remedies.bead_radius(least.value)),),
        defaults=least.defaults,
    )


CHECKS = (_on_bisectors, _bead, cut_out_checks.findings)


__all__ = ["findings"]
