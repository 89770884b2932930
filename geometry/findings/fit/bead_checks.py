"""The bead by itself: its proportions, whether it wets the landing everywhere, whether it stands, whether it can be laid."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.findings.fit.bead_remedies import bead_changes, down, frit_follows, notch_changes
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.fit import section_room
from geometry.rules.rounding import mm, number, up
from geometry.workings.section_sums import bow_read, by_bow, largest_gap, longest_side, tolerance
from geometry.workings.stacks import taken_in_words, widest_contributions

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"


PROPORTION = Constraint("bond width in proportion to its thickness", unit="", short=Verdict.LOOK)
CONTACT = Constraint("bead wets the landing at the widest gap", side=Side.AT_LEAST, unit="mm", status=Status.COMMON_PRACTICE)
STAND = Constraint(
    "uncured bead stands on its base",
    side=Side.AT_MOST,
    unit="",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.notch_slenderness",
)
HEIGHT = Constraint(
    "uncured bead low enough for one pass",
    side=Side.AT_MOST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.notch_height_most",
)
NOZZLE = Constraint(
    "nozzle wide enough for the V-notch",
    side=Side.AT_MOST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.nozzle_bore",
)
HARDNESS = Constraint(
    "spacers not much harder than the bond",
    side=Side.AT_MOST,
    unit="Shore A",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.hardness_over_bond",
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of the bead by itself."""
    return (
        _proportion(subject, ledger),
        _contact(subject, ledger),
        _stands(subject, ledger),
        _height(subject),
        _nozzle(subject, ledger),
        _hardness(subject, ledger),
    )


def _proportion(subject: Subject, ledger: Ledger) -> Finding:
    """Neither upright, where it tips, nor flat, where its middle cures late and its edges carry the movement."""
    sizes = subject.sizes
    least, most = subject.limit("bond_width_over_thickness"), subject.limit("bond_width_to_thickness")
    ratio = ledger.work(
        "bond width for 1 mm of thickness",
        section_room.width_to_thickness,
        bond_width=sizes.bond_width,
        bond_thickness=sizes.bond_thickness,
    )
    upright = ratio.value < least.value
    thick = sizes.bond_thickness.value
    limit = least if upright else most
    return PROPORTION.but(
        side=Side.AT_LEAST if upright else Side.AT_MOST,
        source=PRACTICE if upright else "ETAG 002, from memory",
        status=Status.COMMON_PRACTICE if upright else Status.FROM_MEMORY,
    ).judged(
        value=ratio.value,
        limit=limit.value,
        says=f"{mm(sizes.bond_width.value)} wide and {mm(thick)} thick: {number(ratio.value, 2)} times as wide as thick",
        remedies=lambda: _broader(subject, least.value) if upright else _slimmer(subject, most.value),
        figure=ratio,
        defaults=defaults_of(limit),
    )


def _broader(subject: Subject, least: float) -> Iterator[Remedy]:
    """The narrowest bead of the series that is ``least`` times as wide as thick."""
    thick = subject.sizes.bond_thickness.value
    wide = next((width for width in subject.limit("bond_widths").value if width >= least * thick), None)
    if wide is not None:
        twice = float(subject.limit("frit_to_bond").value) * wide + tolerance(subject, "print").value
        changes = (*bead_changes(subject, width=wide), *frit_follows(subject, solid=twice))
        yield Remedy(f"lay a wider bead of {mm(wide)}", changes)


def _slimmer(subject: Subject, most: float) -> Iterator[Remedy]:
    """A thicker bond, or the widest bead of the series, that is no more than ``most`` times as wide as thick."""
    thick = subject.sizes.bond_thickness.value
    thicker = up(subject.sizes.bond_width.value / most, 0.5)
    if thicker <= subject.limit("bond_thickness_most").value:
        deeper = subject.pane.recess.depth
        more = () if deeper is None else (Change("recess.depth", deeper + thicker - thick),)
        yield Remedy(f"make the bond {mm(thicker)} thick", (*bead_changes(subject, thickness=thicker), *more))
    narrow = next((width for width in reversed(subject.limit("bond_widths").value) if width <= most * thick), None)
    if narrow is not None and narrow >= subject.limit("bond_width_least").value:
        yield Remedy(f"lay a narrower bead of {mm(narrow)}, if the pressure allows it", bead_changes(subject, width=narrow))


def _contact(subject: Subject, ledger: Ledger) -> Finding:
    sizes, gap = subject.sizes, largest_gap(subject, ledger)
    squeeze = subject.limit("contact_over_gap")
    full = ledger.work("uncured bead for full contact", section_room.height_for_full_contact, largest_gap=gap)
    some = ledger.work("uncured bead for any contact", section_room.height_for_any_contact, largest_gap=gap, squeeze=squeeze)
    height, drawn = sizes.notch_height.value, sizes.bond_thickness.value
    says = f"the uncured bead is {mm(height)} high, the gap may reach {mm(gap.value)}{by_bow(subject)}"
    wanted = max(section_room.height_for_full_contact(largest_gap=drawn), drawn + float(squeeze.value))
    if wanted <= height < max(full.value, some.value):  # by the tolerances alone
        says += f": {taken_in_words(widest_contributions(subject))}"

    def remedies() -> Iterator[Remedy]:
        higher = up(max(full.value, some.value), 0.5)
        yield Remedy(f"cut the V-notch {mm(higher)} high", notch_changes(subject, height=higher))
        counts = longest_side(subject) / 1000 * subject.limit("bow_share", scale=0.01).value  # of 1 mm/m of bow, mm in the gap
        left_for_bow = height / 2 - (gap.value - subject.pane.bow * counts)
        flat = down(left_for_bow / counts, 0.1) if counts > 0 else 0.0
        if 0 < flat < subject.pane.bow and bow_read(subject) is None:  # a pane that is made is not ordered flatter
            yield Remedy(f"order the glass bowed {number(flat)} mm in 1 m at most", (Change("bow", round(flat, 1)),))
        hollow = tolerance(subject, "flatness").value
        shim = down(hollow - (full.value - height) / 2, 0.1)
        if 0 <= shim < hollow:
            words = f"shim the landing flat to {number(shim)} mm under a 1 m straight-edge"
            yield Remedy(words, (Change("tolerances.flatness", round(shim, 1)),))

    return CONTACT.but(
        source=f"constant section of the bead: contact is full up to half its uncured height; the least over the gap is {PRACTICE}"
    ).judged(
        value=height,
        limit=some.value,
        look=max(full.value, some.value),
        says=says,
        remedies=remedies,
        figure=full,
        defaults=some.defaults,
    )


def _stands(subject: Subject, ledger: Ledger) -> Finding:
    sizes, limit = subject.sizes, subject.limit("notch_slenderness")
    slender = ledger.work(
        "slenderness of the uncured bead",
        section_room.slenderness,
        notch_width=sizes.notch_width,
        notch_height=sizes.notch_height,
    )
    return STAND.judged(
        value=slender.value,
        limit=limit.value,
        says=f"the uncured bead is {mm(sizes.notch_height.value)} high on a base of {mm(sizes.notch_width.value)}",
        remedies=lambda: _lower(subject, math.inf),
        figure=slender,
        defaults=defaults_of(limit),
    )


def _height(subject: Subject) -> Finding:
    height, limit = subject.sizes.notch_height.value, subject.limit("notch_height_most")
    return HEIGHT.judged(
        value=height,
        limit=limit.value,
        says=f"the uncured bead is {mm(height)} high",
        remedies=lambda: _lower(subject, limit.value),
        defaults=defaults_of(limit),
    )


def _lower(subject: Subject, most: float) -> tuple[Remedy, ...]:
    """A lower and wider notch of the same section; or two passes."""
    sizes = subject.sizes
    section = 2 * sizes.bond_width.value * sizes.bond_thickness.value
    height = down(min(most, math.sqrt(section * subject.limit("notch_slenderness").value)), 0.5)
    half = up(sizes.notch_height.value / 2, 0.5)
    two = Remedy(f"lay the bead in two passes of {mm(half)}, or with a pump")
    if height <= 0:
        return (two,)
    wide = notch_changes(subject, height=height)
    words = f"cut the V-notch {mm(wide[1].value)} wide and {mm(height)} high"
    return Remedy(words, wide), two


def _nozzle(subject: Subject, ledger: Ledger) -> Finding:
    sizes = subject.sizes
    wall, bore = subject.limit("nozzle_wall"), subject.limit("nozzle_bore")
    needed = ledger.work("bore needed for the notch", section_room.bore_needed, notch_width=sizes.notch_width, wall=wall)
    wider, narrow = up(needed.value), down(bore.value - wall.value, 0.5)
    remedies = [Remedy(f"take a nozzle of {mm(wider)} bore", (Change("limits.nozzle_bore", wider),))]
    if narrow > 0:
        section = 2 * sizes.bond_width.value * sizes.bond_thickness.value
        high = up(section / narrow, 0.5)
        remedies.append(
            Remedy(
                f"cut the V-notch {mm(narrow)} wide and {mm(high)} high",
                (Change("bond.notch_width", narrow), Change("bond.notch_height", high)),
            )
        )
    return NOZZLE.judged(
        value=needed.value,
        limit=bore.value,
        says=f"a V-notch of {mm(sizes.notch_width.value)} wants a bore of {mm(needed.value)}",
        remedies=tuple(remedies),
        figure=needed,
        defaults=defaults_of(bore),
    )


def _hardness(subject: Subject, ledger: Ledger) -> Finding:
    adhesive = subject.asked("adhesive.hardness", unit="Shore A")
    if adhesive.value is None:
        return HARDNESS.not_checked(
            what="hardness of the cured adhesive",
        )
    spacer, limit = subject.asked("spacers.hardness", unit="Shore A"), subject.limit("hardness_over_bond")
    over = ledger.work("spacers harder than the bond", section_room.harder_than_bond, spacer=spacer, adhesive=adhesive)
    softest = down(adhesive.value + limit.value, 5.0)
    return HARDNESS.judged(
        value=over.value,
        limit=limit.value,
        says=f"spacers of {number(spacer.value)} Shore A against a bond of {number(adhesive.value)}",
        remedies=(Remedy(f"take spacers of {number(softest)} Shore A", (Change("spacers.hardness", softest),)),)
        if softest > 0
        else (),
        figure=over,
        defaults=defaults_of(limit),
    )


__all__ = ["findings"]
