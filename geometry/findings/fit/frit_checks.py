"""The frit held against its limits: twice the bond, cover of the bead, landing hidden.

Terms
-----
solid frit
    Frit width less the fade. A frit with an outline of its own counts where it is narrowest, measured all round on exact curves.
at the worst print
    Less the print tolerance.
protection
    Paint or tape on the weather face over a frit that is too narrow. It lies a glass thickness away from the bond, so it has to
    reach further in than the frit would.
"""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from geometry.findings.checks import found_by
from geometry.findings.fit import frit_remedies
from geometry.ledger.figure import Figure, Sourced, worked_once
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.fit import frit, section
from geometry.rules.rounding import mm
from geometry.workings.section_sums import (
    ALL_ROUND,
    Local,
    drawn_width,
    joint_input,
    joints_as_drawn,
    squeeze_out,
    tolerance,
)
from geometry.workings.stacks import frit_contributions, print_contribution, taken_in_words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from geometry.ledger.figure import Ledger
    from geometry.workings.stacks import Contribution
    from geometry.workings.subject import Subject

TWICE = Constraint(
    "frit at least twice the bond width",
    source="rule of the fitting shop: common practice, no source",
    status=Status.COMMON_PRACTICE,
)
COVER = Constraint(
    "frit covers the bead and its squeeze-out",
    source="geometry and law of refraction; the margin is common practice, no source",
    status=Status.DERIVED,
)
SMALL_PRINT = Constraint(
    "frit covers the bead where the print comes out small",
    source="worst case of the place and the size of the print",
    status=Status.DERIVED,
    short=Verdict.LOOK,
)
HIDDEN = Constraint(
    "landing hidden behind the frit",
    side=Side.AT_LEAST,
    unit="mm",
    source="geometry of the section, seen square on and at 45°",
    status=Status.DERIVED,
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


def solid_at_worst(subject: Subject, ledger: Ledger) -> tuple[Figure, Local]:
    """Solid frit at the worst print, mm, and where it is narrowest."""
    drawn = drawn_width(subject)
    width = subject.sizes.frit_width if drawn.where == ALL_ROUND else drawn.value
    fade = subject.asked("frit.fade", unit="mm")
    if fade.value > drawn.value:  # a print that leaves the glass, or is all dots at its narrowest: nothing of it is solid
        fade = Sourced(drawn.value, fade.origin, fade.key, "mm")
    solid = ledger.work("solid frit", frit.solid_frit, frit_width=width, fade=fade)
    worst = ledger.work(
        "solid frit at the worst print",
        frit.solid_at_worst_print,
        solid=solid,
        print_tolerance=tolerance(subject, "print"),
    )
    return worst, drawn


def refraction(subject: Subject) -> Sourced:
    """Refractive index of the glass."""
    return subject.glass("refractive_index", register="glass refractive index")


def print_depth(subject: Subject) -> float:
    """Glass and interlayers between the print and the bond face, mm; 0 where the bond face itself is printed."""
    make_up = subject.pane.glass
    face = make_up.printed_face or make_up.bond_face
    return fsum(ply.thickness for ply in subject.detail.glass.plies[face - 1 :])


def needed_for_twice(subject: Subject, ledger: Ledger) -> Figure:
    """Solid frit by the rule of the bond width, mm."""
    return ledger.work(
        "frit needed for twice the bond",
        frit.frit_for_twice_the_bond,
        bond_width=subject.sizes.bond_width,
        factor=subject.limit("frit_to_bond"),
    )


@worked_once
def needed_for_cover(subject: Subject, ledger: Ledger) -> Figure:
    """Solid frit that covers the bead, mm."""
    sizes = subject.sizes
    return ledger.work(
        "frit needed to cover the bead",
        frit.frit_for_cover,
        set_back=sizes.set_back,
        bond_width=sizes.bond_width,
        squeeze_out=squeeze_out(subject, ledger),
        print_depth=print_depth(subject),
        margin=subject.limit("frit_margin"),
        refractive_index=refraction(subject),
    )


def protection_reach(subject: Subject, ledger: Ledger) -> Figure | None:
    """How far in the protection on the weather face reaches, mm; None where there is none."""
    given = subject.pane.frit.outer_protection
    if given is None:
        return None
    return ledger.work(
        f"reach of the {given.kind} on the weather face",
        frit.outer_protection_reach,
        width=subject.asked("frit.outer_protection.width", unit="mm"),
        lost=subject.limit("tape_lost") if given.kind == "tape" else 0.0,
    )


def protection_needed(subject: Subject, ledger: Ledger, worst: Figure | None = None) -> Figure:
    """How far in a protection on the weather face must reach, mm: twice the bond; and past the bead, where the frit does not cover it.

    ``worst`` is the solid frit at the worst print where it is another than the job's own.
    """
    solid = solid_at_worst(subject, ledger)[0] if worst is None else worst
    if solid.value >= needed_for_cover(subject, ledger).value:
        return needed_for_twice(subject, ledger)
    return ledger.work(
        "protection needed on the outer face",
        frit.outer_protection_needed,
        set_back=subject.sizes.set_back,
        bond_width=subject.sizes.bond_width,
        glass_thickness=subject.sizes.glass_thickness,
        placing_error=subject.limit("protection_placing"),
        factor=subject.limit("frit_to_bond"),
        refractive_index=refraction(subject),
    )


def _twice(subject: Subject, ledger: Ledger) -> Finding:
    return _protected(subject, ledger, TWICE, needed_for_twice(subject, ledger), lambda: (print_contribution(subject),))


def _cover(subject: Subject, ledger: Ledger) -> Finding:
    return _protected(subject, ledger, COVER, needed_for_cover(subject, ledger), lambda: frit_contributions(subject))


def _protected(
    subject: Subject, ledger: Ledger, must: Constraint, needed: Figure, by: Callable[[], tuple[Contribution, ...]]
) -> Finding:
    """Solid frit at the worst print against what it needs; where it falls short, the protection on the weather face instead.

    ``by`` gives what the tolerances take of it: told where it falls short by them alone.
    """
    worst, place = solid_at_worst(subject, ledger)
    value, limit = worst, needed
    says = f"{mm(worst.value)} of solid frit at the worst print, {mm(needed.value)} needed"
    given, reach = subject.pane.frit.outer_protection, protection_reach(subject, ledger)
    short = worst.value < needed.value - 1e-9
    taken = by() if short else ()
    if short and worst.value + fsum(each.moves for each in taken) >= needed.value - 1e-9:
        says += f": {taken_in_words(taken)}"
    if short and given is not None and reach is not None:
        value, limit = reach, protection_needed(subject, ledger)
        says += f"; the {given.kind} on the weather face reaches {mm(reach.value)}, {mm(limit.value)} needed there"
        place = Local(reach.value, ALL_ROUND)

    def remedies() -> tuple[Remedy, ...]:
        ordered = max(needed_for_twice(subject, ledger).value, needed_for_cover(subject, ledger).value)
        return frit_remedies.for_cover(
            subject,
            solid=ordered + tolerance(subject, "print").value,
            left=worst.value,
            outside=protection_needed(subject, ledger).value,
            print_depth=print_depth(subject),
        )

    return must.judged(
        value=value.value,
        limit=limit.value,
        where=place.where,
        at=place.at,
        part=place.part,
        says=says,
        remedies=remedies,
        figure=value,
        defaults=limit.defaults,
    )


def _small_print(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    """The size of the print beside its place; where the frit falls short by its place alone, that finding says so."""
    (worst, place), needed = solid_at_worst(subject, ledger), needed_for_cover(subject, ledger)
    if worst.value < needed.value - 1e-9 or subject.pane.frit.outer_protection is not None:
        return
    size = tolerance(subject, "print_size")
    small = ledger.work("solid frit of a small print", frit.solid_of_small_print, at_worst=worst, size_tolerance=size)

    def remedies() -> tuple[Remedy, ...]:
        solid = needed.value + tolerance(subject, "print").value + size.value / 2
        return frit_remedies.for_small_print(subject, solid=solid)

    says = f"{mm(small.value)} of solid frit where the print stands at its worst and lacks {mm(size.value)} of its size"
    if small.value < needed.value - 1e-9:  # by the tolerances alone: with the print at its place it covers the bead
        says += f": {taken_in_words((*frit_contributions(subject), print_contribution(subject, 'print_size', 0.5)))}"
    yield SMALL_PRINT.judged(
        value=small.value,
        limit=needed.value,
        where=place.where,
        at=place.at,
        part=place.part,
        says=says,
        remedies=remedies,
        figure=small,
        defaults=needed.defaults,
    )


def _hidden(subject: Subject, ledger: Ledger) -> Finding:
    """Fails where the landing shows to a viewer square on; look where it shows at 45°.

    Look as well where it shows only because the pane stands nearer to a surveyed recess than designed: there the joint is the fault.
    """
    sizes, (least, _), drawn = subject.sizes, joints_as_drawn(subject), drawn_width(subject)
    place = least if least.where != ALL_ROUND else drawn
    width = sizes.frit_width if drawn.where == ALL_ROUND else drawn.value
    joint = joint_input(subject, least)
    beyond = ledger.work(
        "frit beyond the landing",
        section.frit_beyond_landing,
        joint_width=joint,
        frit_width=width,
        landing=sizes.landing,
    )
    figure, shown, what = beyond, sizes.bond_thickness.value, "frit"
    reach = protection_reach(subject, ledger)
    if reach is not None:
        outer = ledger.work(
            "protection beyond the landing",
            section.frit_beyond_landing,
            joint_width=joint,
            frit_width=reach,
            landing=sizes.landing,
        )
        hides = ledger.work(
            "protection on the outer face that hides the landing",
            frit.outer_protection_to_hide_landing,
            landing=sizes.landing,
            joint_width=joint,
            bond_thickness=sizes.bond_thickness,
            glass_thickness=sizes.glass_thickness,
            refractive_index=refraction(subject),
        )
        outer_shown = hides.value - (sizes.landing.value - least.value)
        # both are there: the one that hides the more of what it has to
        if outer.value - outer_shown > beyond.value - shown:
            figure, shown, what = outer, outer_shown, "protection outside"
    if figure.value >= 0:
        says = f"the {what} reaches {mm(figure.value)} past the landing, {mm(shown)} hide it at 45°"
    else:
        says = f"{mm(-figure.value)} of the landing shows inside the {what}"
    nearer = max(0.0, sizes.joint_width.value - least.value)
    if figure.value < 0 <= figure.value + nearer:
        says += (
            f" where the joint is {mm(least.value)}; it is hidden where the joint is {mm(sizes.joint_width.value)} as designed"
        )
    return HIDDEN.but(short=Verdict.LOOK if figure.value + nearer >= 0 else Verdict.FAIL).judged(
        value=figure.value,
        limit=0.0,
        look=shown,
        where=place.where,
        at=place.at,
        part=place.part,
        says=says,
        remedies=lambda: frit_remedies.for_looks(subject, least=least.value, drawn=drawn.value, short=shown - figure.value),
        figure=figure,
    )


CHECKS = (_twice, _cover, _small_print, _hidden)


__all__ = [
    "findings",
    "needed_for_cover",
    "needed_for_twice",
    "print_depth",
    "protection_needed",
    "protection_reach",
    "refraction",
    "solid_at_worst",
]
