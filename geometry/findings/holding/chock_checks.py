"""Chocks: do they bear, does each carry its share, can they take it, and do they stand where a chock can stand.

Terms
-----
share
    Force of a setting chock over the pane's weight along the pane. Friction is ignored and the vessel stands upright, no heel.
bears
    Glass edge that touches the chock below the backfill. In a laminate it must reach half through the outer ply, for a ply that
    hangs on a warm interlayer creeps; a chock that stays must bear so for good, one that is taken out after the cure only until
    then.
A deck light lies on its landing: its location blocks carry nothing and nothing is asked of them here.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.detail.edges import ROUND
from geometry.detail.parts import BlockKind
from geometry.findings.checks import found_by
from geometry.findings.holding import chock_places
from geometry.findings.holding.chock_places import even_chocks
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.holding import chocks as rules
from geometry.rules.rounding import mm, number, up
from geometry.workings.bead_movement import contacts_of, setting_chocks, weight_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Chock
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"


BEARS = Constraint("glass bears on its chocks", side=Side.AT_LEAST, unit="mm", source=PRACTICE, status=Status.COMMON_PRACTICE)
COVERED = Constraint(
    "backfill closes over the chocks",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.chock_backfill_least",
)
SHARES = Constraint(
    "each chock carries its share of the weight", side=Side.AT_LEAST, unit="%", source=PRACTICE, status=Status.COMMON_PRACTICE
)
PRESSED = Constraint(
    "no block has to pull",
    side=Side.AT_LEAST,
    unit="N",
    source="balance of forces and moments, friction ignored",
    status=Status.DERIVED,
)
ROLLS = Constraint(
    "weight of the round pane passes between its chocks",
    side=Side.AT_MOST,
    unit="mm",
    source="a chock's pressure may shift by a sixth of its length before one end of it lifts",
    status=Status.DERIVED,
)
STRESS = Constraint("bearing stress on the chocks", side=Side.AT_MOST, unit="MPa", source=PRACTICE, status=Status.COMMON_PRACTICE)
SQUASH = Constraint(
    "squash of the chocks",
    side=Side.AT_MOST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.chock_squash",
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room; none on a deck light."""
    return found_by(CHECKS, subject, ledger)


def _of_the_chocks(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    setting = setting_chocks(subject)
    if not setting:
        return ()
    bearing = ledger.work(
        "glass that bears on a chock",
        rules.bearing_depth,
        glass_thickness=subject.sizes.glass_thickness,
        backfill_over=subject.sizes.chock_backfill_over,
    )
    return (
        _bears(subject, ledger, bearing),
        _covered(subject),
        *_carried(subject, ledger, bearing, setting),
        *chock_places.findings(subject, ledger),
    )


def _bears(subject: Subject, ledger: Ledger, bearing: Figure) -> Finding:
    glass, least_over = subject.pane.glass, subject.limit("chock_backfill_least")
    single = subject.limit("chock_bearing")
    needed = ledger.work(
        "bearing depth needed",
        rules.bearing_depth_needed,
        plies=subject.asked("glass.plies", unit="mm"),
        interlayers=subject.asked("glass.interlayers", unit="mm"),
        single=single,
        outer_share=subject.limit("chock_bearing_outer", scale=0.01),
    )
    stays, count = subject.pane.chocks.permanent, len(setting_chocks(subject))
    room = math.floor((glass.thickness - needed.value) / 0.5 + 1e-9) * 0.5

    def remedies() -> Iterator[Remedy]:
        if room >= least_over.value:
            yield Remedy(f"reduce the backfill over the chocks to {mm(room)}", (Change("chocks.backfill_over", room),))
        words = f"take the {count} chocks out once the bead has cured and fill their pockets"
        yield Remedy(words, (Change("chocks.permanent", False),))

    if bearing.value <= 0.0:
        says = "the backfill over the chocks is as deep as the glass: no chock touches it"
    elif not stays:
        says = f"{mm(bearing.value)} of glass on chocks that are taken out after the cure; {mm(needed.value)} would let them stay"
    elif len(glass.plies) > 1 and bearing.value < needed.value - 1e-9:
        says = f"the chock bears {mm(bearing.value)}: the outer ply hangs on the interlayer"
    else:
        says = f"the chock bears {mm(bearing.value)} of {mm(glass.thickness)} of glass"
    return BEARS.but(short=Verdict.FAIL if room >= least_over.value or bearing.value <= 0.0 else Verdict.LOOK).judged(
        value=bearing.value,
        limit=needed.value if stays or bearing.value <= 0.0 else 0.0,
        where=", ".join(chock.mark for chock in setting_chocks(subject)),
        at=setting_chocks(subject)[0].foot,
        part=setting_chocks(subject)[0].mark,
        says=says,
        remedies=remedies,
        figure=bearing,
        defaults=needed.defaults,
    )


def _covered(subject: Subject) -> Finding:
    over, least = subject.sizes.chock_backfill_over, subject.limit("chock_backfill_least")
    return COVERED.judged(
        value=over.value,
        limit=least.value,
        says=f"{mm(over.value)} of backfill over the chocks",
        remedies=(
            Remedy(f"let {mm(least.value)} of backfill stand over the chocks", (Change("chocks.backfill_over", least.value),)),
        ),
        defaults=defaults_of(least),
    )


# What the chocks carry.


def _carried(subject: Subject, ledger: Ledger, bearing: Figure, setting: tuple[Chock, ...]) -> tuple[Finding, ...]:
    weight = weight_of(subject, ledger)
    if weight.value.along <= 0.0:
        return ()
    carrying = carrying_chocks(subject)
    if len(carrying) < 2:
        return (_tips(subject, setting, weight),)
    forces = block_forces_of(subject, ledger, carrying, weight)
    found = [_shares(subject, ledger, carrying, forces, weight), _pressed(subject, carrying, forces)]
    if all(chock.edge == ROUND for chock in setting):
        found.append(_rolls(subject, ledger, forces, weight))
    if bearing.value > 0.0:
        found += _pressure(subject, ledger, carrying, forces, bearing)
    return tuple(found)


def carrying_chocks(subject: Subject) -> tuple[Chock, ...]:
    """The two setting chocks that carry, or the one there is."""
    return _carrying(subject, _apart(setting_chocks(subject)))


def _apart(setting: tuple[Chock, ...]) -> tuple[Chock, ...]:
    """The setting chocks without those that stand where another one does."""
    return tuple({(round(chock.foot.x, 3), round(chock.foot.y, 3)): chock for chock in reversed(setting)}.values())[::-1]


def _carrying(subject: Subject, setting: tuple[Chock, ...]) -> tuple[Chock, ...]:
    """The two chocks that carry: of more than two under one stiff edge those next to the centroid on either side."""
    if len(setting) <= 2:
        return setting
    middle = subject.detail.centroid
    turn = math.radians(setting[0].angle)

    def along(chock: Chock) -> float:
        return (chock.foot.x - middle.x) * math.cos(turn) + (chock.foot.y - middle.y) * math.sin(turn)

    before = [chock for chock in setting if along(chock) <= 0.0]
    after = [chock for chock in setting if along(chock) > 0.0]
    if not before or not after:
        ranked = sorted(setting, key=along)
        return (ranked[0], ranked[-1])
    return max(before, key=along), min(after, key=along)


def block_forces_of(subject: Subject, ledger: Ledger, carrying: tuple[Chock, ...], weight: Figure) -> Figure:
    """Forces of the carrying chocks and, where there is one, of the side block, N."""
    blocks = [chock for chock in subject.detail.chocks if chock.kind != BlockKind.LOCATION]
    marks = [chock.mark for chock in carrying]
    contacts = tuple(
        contact
        for chock, contact in zip(blocks, contacts_of(subject), strict=True)
        if chock.kind == BlockKind.SIDE or chock.mark in marks
    )
    return ledger.work(
        "forces of the blocks",
        rules.block_forces,
        contacts=contacts,
        weight=(weight.value.right, weight.value.up),
        centroid=tuple(subject.detail.centroid),
    )


def _shares(subject: Subject, ledger: Ledger, carrying: tuple[Chock, ...], forces: Figure, weight: Figure) -> Finding:
    look, fail = subject.limit("chock_share_look"), subject.limit("chock_share_fail")
    each = forces.value.forces[: len(carrying)]
    share = ledger.work("least share of a chock", rules.least_share, forces=each, weight_along=weight.value.along)
    least = min(range(len(each)), key=lambda place: round(each[place], 6))
    listed = " and ".join(f"{chock.mark} {force:.0f} N" for chock, force in zip(carrying, each, strict=True))
    says = f"{listed} of {weight.value.along:.0f} N"
    if each[least] < 0:
        says += ": the centroid lies outside the chocks and the pane tips"
    if len(setting_chocks(subject)) > 2:
        says += "; of more than two chocks under a stiff pane only these are counted"
    return SHARES.judged(
        value=100 * share.value,
        limit=fail.value,
        look=look.value,
        where=carrying[least].mark,
        at=carrying[least].foot,
        part=carrying[least].mark,
        says=says,
        remedies=lambda: even_chocks(subject),
        figure=share,
        defaults=(*defaults_of(look), *defaults_of(fail), *weight.defaults),
    )


def _tips(subject: Subject, setting: tuple[Chock, ...], weight: Figure) -> Finding:
    return SHARES.judged(
        value=0.0,
        limit=subject.limit("chock_share_fail").value,
        where=setting[0].mark,
        at=setting[0].foot,
        part=setting[0].mark,
        says=f"one chock alone carries {weight.value.along:.0f} N: the pane tips",
        remedies=lambda: even_chocks(subject),
    )


def _pressed(subject: Subject, carrying: tuple[Chock, ...], forces: Figure) -> Finding:
    blocks = [*carrying, *(chock for chock in subject.detail.chocks if chock.kind == BlockKind.SIDE)]
    marks = [block.mark for block in blocks]
    least = min(range(len(marks)), key=lambda place: (round(forces.value.forces[place], 6), place))
    force = round(forces.value.forces[least], 6) + 0.0
    each = ", ".join(f"{mark} {round(size) + 0:d} N" for mark, size in zip(marks, forces.value.forces, strict=True))
    return PRESSED.judged(
        value=force,
        limit=0.0,
        where=marks[least],
        at=blocks[least].foot,
        part=marks[least],
        says=each if force >= 0 else f"{each}: a block cannot pull, the pane turns about the others",
        remedies=lambda: even_chocks(subject),
        figure=forces,
    )


def _rolls(subject: Subject, ledger: Ledger, forces: Figure, weight: Figure) -> Finding:
    offset = ledger.work(
        "weight beside the chocks' pushes",
        rules.weight_offset,
        turning=forces.value.turning,
        weight_along=weight.value.along,
    )
    return ROLLS.judged(
        value=round(offset.value, 6),
        limit=subject.sizes.chock_length.value / 6,
        says=f"the weight passes {mm(offset.value)} beside the place where the chocks' pushes meet",
        remedies=(Remedy(f"stand the chocks so that their pushes meet above X {number(subject.detail.centroid.x, 0)}"),),
        figure=offset,
    )


def _pressure(
    subject: Subject, ledger: Ledger, carrying: tuple[Chock, ...], forces: Figure, bearing: Figure
) -> tuple[Finding, ...]:
    dynamic, most = subject.limit("dynamic_factor"), subject.limit("chock_stress")
    squash_most, modulus = subject.limit("chock_squash"), subject.limit("chock_modulus")
    each = forces.value.forces[: len(carrying)]
    heaviest = max(range(len(each)), key=lambda place: round(each[place], 6))
    force, chock = max(0.0, each[heaviest]), carrying[heaviest]
    pressed = {"force": force, "length": subject.sizes.chock_length, "bearing_depth": bearing}
    stress = ledger.work("bearing stress of the chock", rules.bearing_stress, dynamic_factor=dynamic, **pressed)
    found = [
        STRESS.judged(
            value=stress.value,
            limit=most.value * dynamic.value,
            look=most.value,
            where=chock.mark,
            at=chock.foot,
            part=chock.mark,
            says=f"{force:.0f} N, {number(dynamic.value)} times as much when the vessel slams, on {mm(bearing.value)} of glass edge",
            remedies=lambda: _longer(subject, force, bearing, chock),
            figure=stress,
            defaults=(*defaults_of(most), *defaults_of(dynamic)),
        )
    ]
    if chock.height > 0:
        squash = ledger.work(
            "squash of the chock", rules.chock_squash, height=chock.height, modulus=modulus, dynamic_factor=dynamic, **pressed
        )
        found.append(
            SQUASH.judged(
                value=squash.value,
                limit=squash_most.value,
                where=chock.mark,
                at=chock.foot,
                part=chock.mark,
                says=f"the pane settles by {mm(squash.value)} on a chock {mm(chock.height)} high when the vessel slams,"
                f" {mm(squash.value / dynamic.value)} at rest",
                remedies=lambda: _longer(subject, force, bearing, chock),
                figure=squash,
                defaults=defaults_of(squash_most, modulus, dynamic),
            )
        )
    return tuple(found)


def _longer(subject: Subject, force: float, bearing: Figure, chock: Chock) -> tuple[Remedy, ...]:
    if force <= 0.0 or chock.height <= 0.0:
        return ()
    length = rules.length_for_force(
        force=force,
        bearing_depth=bearing.value,
        height=chock.height,
        most_stress=subject.limit("chock_stress").value,
        most_squash=subject.limit("chock_squash").value,
        modulus=subject.limit("chock_modulus").value,
        dynamic_factor=subject.limit("dynamic_factor").value,
    )
    return (Remedy(f"make the chocks {mm(up(length, 5.0))} long", (Change("chocks.length", up(length, 5.0)),)),)


CHECKS = (_of_the_chocks, chock_places.on_curves)


__all__ = ["BEARS", "COVERED", "PRESSED", "ROLLS", "SHARES", "SQUASH", "STRESS", "block_forces_of", "carrying_chocks", "findings"]
