"""The section held against its limits: what lies on the landing, and the glass flush with the skin; bead and joint beside them."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from geometry.findings.checks import found_by
from geometry.findings.fit import bead_checks, bond_size_checks, fill_checks, spacer_checks
from geometry.findings.fit.bead_remedies import bead_changes, down, frit_follows, landing_needed, narrower_bead
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.fit import section, section_room
from geometry.rules.rounding import mm, number, up
from geometry.workings.section_sums import (
    flush_tolerance_of,
    joint_input,
    joints_as_drawn,
    proud_of,
    squeeze_out,
    squeeze_out_of,
    thickness_read,
    tolerance,
)
from geometry.workings.stacks import flush_contributions, taken_in_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"


LANDING = Constraint(
    "bead and its squeeze-out on the landing",
    side=Side.AT_LEAST,
    unit="mm",
    source="geometry of the section; the margin is common practice, no source",
    status=Status.DERIVED,
)
SPACER = Constraint(
    "spacer clear of the bead",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.spacer_clearance",
)
RIM = Constraint(
    "bead clear of the unprinted edge",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.rim_clearance",
)
FILLET = Constraint(
    "fillet clear of spacer and bead", side=Side.AT_LEAST, unit="mm", source="geometry of the section", status=Status.DERIVED
)
PROUD = Constraint(
    "glass not too proud at the worst tolerances",
    side=Side.AT_MOST,
    source="worst case of the tolerances; the limits are this project's own defaults",
    status=Status.DERIVED,
    limit_key="limits.proud_most",
)
SUNK = replace(PROUD, name="glass not too sunk at the worst tolerances", limit_key="limits.sunk_most")
FLUSH = Constraint(
    "deck light flush as drawn",
    side=Side.AT_MOST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.flush_deck",
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


def _landing(subject: Subject, ledger: Ledger) -> Finding:
    sizes, (_, widest) = subject.sizes, joints_as_drawn(subject)
    spill, inside = squeeze_out(subject, ledger), subject.limit("landing_inside")
    margin = ledger.work(
        "landing inside the bead",
        section.inner_margin,
        landing=sizes.landing,
        joint_width=joint_input(subject, widest),
        set_back=sizes.set_back,
        bond_width=sizes.bond_width,
    )
    needed = ledger.work("landing needed inside the bead", section_room.landing_inside_needed, squeeze_out=spill, margin=inside)
    says = f"{mm(margin.value)} of landing inside the bead; {mm(spill.value)} of squeeze-out and {mm(inside.value)} of margin are needed"
    return LANDING.judged(
        value=margin.value,
        limit=needed.value,
        where=widest.where,
        at=widest.at,
        part=widest.part,
        says=says,
        remedies=lambda: _wider_landing(subject, widest.value, spill.value, needed.value - margin.value),
        figure=margin,
        defaults=needed.defaults,
    )


def _wider_landing(subject: Subject, joint: float, spill: float, short: float) -> Iterator[Remedy]:
    """A wider landing; a bead nearer to the glass edge by what is ``short``, mm; a narrower bead."""
    sizes = subject.sizes
    wider = landing_needed(subject, joint=joint, bond_width=sizes.bond_width.value, squeeze_out=spill)
    hidden = wider - joints_as_drawn(subject)[0].value + sizes.bond_thickness.value
    yield Remedy(f"widen the landing to {mm(wider)}", (Change("recess.landing", wider), *frit_follows(subject, width=hidden)))
    nearer = down(sizes.set_back.value - short, 0.5)
    if nearer >= max(sizes.spacer_width.value, subject.pane.frit.start):
        yield Remedy(f"bring the bead {mm(nearer)} from the glass edge", (Change("bond.set_back", nearer),))

    def fits(narrow: float) -> bool:
        spilled = squeeze_out_of(subject, bond_width=narrow)
        return landing_needed(subject, joint=joint, bond_width=narrow, squeeze_out=spilled) <= sizes.landing.value

    yield from narrower_bead(subject, fits)


def _spacer(subject: Subject, ledger: Ledger) -> Finding:
    sizes, clear = subject.sizes, subject.limit("spacer_clearance")
    width = subject.asked("spacers.width", unit="mm")
    room = ledger.work("room beside the spacer", section_room.room_beside_spacer, set_back=sizes.set_back, spacer_width=width)

    def remedies() -> Iterator[Remedy]:
        narrow = down(sizes.set_back.value - clear.value, 0.5)
        if narrow >= subject.limit("spacer_width_least").value:
            yield Remedy(f"take spacers {mm(narrow)} wide", (Change("spacers.width", narrow),))
        yield _set_back_to(subject, ledger, up(width.value + clear.value, 0.5))

    return SPACER.judged(
        value=room.value,
        limit=clear.value,
        says=f"the set-back of {mm(sizes.set_back.value)} leaves {mm(room.value)} beside a spacer of {mm(width.value)}",
        remedies=remedies,
        figure=room,
        defaults=defaults_of(clear),
    )


def _rim(subject: Subject, ledger: Ledger) -> Finding:
    sizes, clear = subject.sizes, subject.limit("rim_clearance")
    start = subject.asked("frit.start", unit="mm")
    inside = ledger.work(
        "bead inside the unprinted edge", section_room.inside_unprinted_edge, set_back=sizes.set_back, frit_start=start
    )

    def remedies() -> Iterator[Remedy]:
        nearer = max(0.0, down(sizes.set_back.value - clear.value, 0.5))
        if not subject.pane.frit.printed and sizes.set_back.value >= clear.value:
            words = (
                "print to the glass edge, 0 mm from it" if nearer == 0 else f"begin the print {mm(nearer)} from the glass edge"
            )
            yield Remedy(words, (Change("frit.start", nearer),))
        yield _set_back_to(subject, ledger, up(start.value + clear.value, 0.5))

    return RIM.judged(
        value=inside.value,
        limit=clear.value,
        says=f"the bead lies {mm(inside.value)} inside the start of the frit",
        remedies=remedies,
        figure=inside,
        defaults=defaults_of(clear),
    )


def _set_back_to(subject: Subject, ledger: Ledger, set_back: float) -> Remedy:
    """A larger set-back, and with it the landing and the frit that have to carry and cover the bead further in."""
    sizes, spill = subject.sizes, squeeze_out(subject, ledger).value
    further = set_back - sizes.set_back.value
    changes = [Change("bond.set_back", set_back)]
    joint = joints_as_drawn(subject)[1].value
    landing = up(joint + set_back + sizes.bond_width.value + spill + subject.limit("landing_inside").value)
    if subject.pane.recess.landing is not None and landing > sizes.landing.value:
        changes.append(Change("recess.landing", landing))
        changes += frit_follows(subject, width=sizes.frit_width.value + landing - sizes.landing.value)
    else:
        covered = set_back + sizes.bond_width.value + spill + subject.limit("frit_margin").value
        changes += frit_follows(subject, solid=covered + tolerance(subject, "print").value)
    return Remedy(f"set the bead {mm(set_back)} from the glass edge, {mm(further)} further in", tuple(changes))


def _fillet(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    if subject.pane.recess.fillet <= 0:
        return
    sizes, (least, _) = subject.sizes, joints_as_drawn(subject)
    fillet, draft = subject.asked("recess.fillet", unit="mm"), subject.asked("recess.draft", unit="°")
    reach = ledger.work("reach of the fillet on the landing", section_room.fillet_reach, fillet=fillet, draft=draft)
    width = subject.asked("spacers.width", unit="mm")
    clear = ledger.work(
        "first part on the landing, clear of the fillet",
        section_room.clear_of_fillet,
        joint_width=joint_input(subject, least),
        set_back=sizes.set_back,
        spacer_width=width,
        reach=reach,
    )
    first = clear.value + reach.value
    remedies = []
    if first > 0:
        # the reach grows with the radius, so the radius scales with the room
        radius = down(first * (fillet.value / reach.value if reach.value else 1.0), 0.5)
        remedies.append(Remedy(f"grind the fillet to a radius of {mm(radius)}", (Change("recess.fillet", radius),)))
    yield FILLET.judged(
        value=clear.value,
        limit=0.0,
        where=least.where,
        at=least.at,
        part=least.part,
        says=f"the fillet reaches {mm(reach.value)} from the wall, the first part stands {mm(first)} from it",
        remedies=tuple(remedies),
        figure=clear,
    )


def _flush(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    spread, proud, read = flush_tolerance_of(subject, ledger), proud_of(subject, ledger), thickness_read(subject)
    lies = f"{lie(proud.value)} as drawn"
    if read is not None:
        lies = f"{lie(proud.value)} with the thickness as made, {number(read.value, 2)} mm"
    for must, rule, what in (
        (PROUD, section_room.proud_at_worst, "proud at the worst tolerances"),
        (SUNK, section_room.sunk_at_worst, "sunk at the worst tolerances"),
    ):
        limit, whole = subject.asked(must.limit_key), subject.sizes.glass_thickness
        room = limit.value - spread.value
        most = (math.inf, room) if must is PROUD else (room, math.inf)
        worst = ledger.work(what, rule, proud=proud, tolerance=spread)
        says = f"{lies}, ±{mm(spread.value)} by the tolerances"
        if worst.value > limit.value >= worst.value - spread.value:  # by the tolerances alone
            says += f": {taken_in_words(flush_contributions(subject))}"
        yield must.judged(
            value=worst.value,
            # its whole edge beyond the skin, or below it, leaves nothing that a backfill could join: that is no matter of taste
            limit=max(whole.value, limit.value),
            look=limit.value,
            says=says,
            remedies=partial(_flush_remedies, subject, most),
            figure=worst,
            defaults=defaults_of(limit),
        )
    if subject.flat:
        limit = subject.limit("flush_deck")
        off = ledger.work("off the flush face as drawn", section_room.off_flush, proud=proud)
        yield FLUSH.judged(
            value=off.value,
            limit=limit.value,
            says=f"{lies}; ±{mm(spread.value)} by the tolerances: measure the recess",
            remedies=partial(_flush_remedies, subject, (limit.value, limit.value)),
            figure=off,
            defaults=defaults_of(limit),
        )


def lie(proud: float) -> str:
    """How the glass lies to the skin, in words; ``proud`` mm, less than nothing where it is sunk."""
    if abs(proud) < 5e-3:
        return "flush"
    return f"{mm(abs(proud))} {'proud' if proud > 0 else 'sunk'}"


def _flush_remedies(subject: Subject, most: tuple[float, float]) -> tuple[Remedy, ...]:
    """A recess as deep as bond and glass are thick, or a bond as thick as recess and glass leave room for.

    ``most``: how far sunk and how far proud the glass may then be as drawn, mm. Where the tolerances alone leave no room, the
    depth of the recess has to be held closer as well.
    """
    sizes = subject.sizes
    bond, glass = sizes.bond_thickness.value, sizes.glass_thickness.value
    depth = round((bond + glass) * 2) / 2
    thickness = round((sizes.recess_depth.value - glass) * 2) / 2
    remedies = []
    over = max(bond + glass - depth - most[1], depth - bond - glass - most[0])
    held = down(tolerance(subject, "recess_depth").value - over, 0.1)
    if over <= 0:
        remedies.append(Remedy(f"make the recess {mm(depth)} deep", (Change("recess.depth", depth),)))
    elif held >= 0.1:
        changes = (Change("recess.depth", depth), Change("tolerances.recess_depth", round(held, 1)))
        remedies.append(Remedy(f"make the recess {mm(depth)} deep and hold it to ±{mm(held)}", changes))
    low, high = subject.limit("bond_thickness_least_small").value, subject.limit("bond_thickness_most").value
    proud = thickness + glass - sizes.recess_depth.value
    if low <= thickness <= high and thickness != bond and -most[0] <= proud <= most[1]:
        remedies.append(Remedy(f"make the bond {mm(thickness)} thick", bead_changes(subject, thickness=thickness)))
    return tuple(remedies)


CHECKS = (
    _landing,
    _spacer,
    spacer_checks.findings,
    _rim,
    _fillet,
    bond_size_checks.findings,
    bead_checks.findings,
    _flush,
    fill_checks.findings,
)
"""Bead and joint by themselves stand among those of the section, where a reader looks for them."""


__all__ = ["findings", "lie"]
