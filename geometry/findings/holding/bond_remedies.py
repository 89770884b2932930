"""Remedies for a bond that is pulled too hard: a wider bead, a higher notch, a flatter pane, the engineer's own figure.

Terms
-----
needed
    Contact width, mm, at the widest gap that brings the tension down to the design tension.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.fit.bead_remedies import bead_changes, down, frit_follows, landing_needed
from geometry.ledger.finding import Change, Remedy
from geometry.rules.fit import section
from geometry.rules.holding import bond
from geometry.rules.rounding import mm, number, up
from geometry.workings.section_sums import bow_read, joints_as_drawn, longest_side, squeeze_out_of, tolerance

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.ledger.figure import Figure
    from geometry.workings.subject import Subject


def less_tension(subject: Subject, gap: Figure, needed: float, tension: float) -> Iterable[Remedy]:
    """A higher notch, a wider bead, a flatter pane; last, the engineer's own figure for the adhesive."""
    sizes = subject.sizes
    thickness, times = sizes.bond_thickness.value, float(subject.limit("notch_height_to_thickness").value)
    for width in subject.limit("bond_widths").value:
        if width > sizes.bond_width.value:
            wets = section.contact_width(gap=gap.value, notch_width=2 / times * width, notch_height=times * thickness)
            if wets >= needed:
                yield Remedy(f"lay a bead {mm(width)} wide", wider_bead(subject, width))
                break
    yield from higher_notch(subject, gap, needed)
    yield from flatter(subject, gap, needed)
    confirmed = up(tension, 0.005)
    yield Remedy(f"have the engineer confirm a design tension of {number(confirmed, 3)} MPa for this adhesive and this frame")


def higher_notch(subject: Subject, gap: Figure, needed: float) -> tuple[Remedy, ...]:
    """The narrowest notch whose bead stands up in one pass and wets enough; half millimetres."""
    width, most = subject.sizes.notch_width.value, subject.limit("notch_height_most").value
    while width <= subject.sizes.bond_width.value:
        height = up(bond.notch_height_for_contact(contact_width=needed, gap=gap.value, notch_width=width), 0.5)
        if height <= min(most, subject.limit("notch_slenderness").value * width):
            changes = (Change("bond.notch_width", round(width, 2)), Change("bond.notch_height", height))
            return (Remedy(f"cut the V-notch {mm(width)} wide and {mm(height)} high", changes),)
        width = up(width + 0.1, 0.5)
    return ()


def flatter(subject: Subject, gap: Figure, needed: float) -> tuple[Remedy, ...]:
    """A pane ordered so flat that the bead wets enough at the widest gap, where a supplier agrees to that."""
    sizes = subject.sizes
    allowed = bond.gap_for_contact(
        contact_width=needed, notch_width=sizes.notch_width.value, notch_height=sizes.notch_height.value
    )
    longest = longest_side(subject)
    # part of the bow is pressed out by hand, as in the widest gap itself
    counts = subject.limit("bow_share", scale=0.01).value * longest / 1000
    if counts <= 0:
        return ()
    if bow_read(subject) is not None:  # a pane that is made is not ordered flatter
        return ()
    bow = down(subject.pane.bow - (gap.value - allowed) / counts, 0.1)
    if not subject.limit("bow_least").value <= bow < subject.pane.bow:
        return ()
    return (Remedy(f"order the glass flat within {number(bow)} mm/m", (Change("bow", round(bow, 1)),)),)


def wider_bead(subject: Subject, width: float) -> tuple[Change, ...]:
    """A wider bead with the landing and the frit that it needs."""
    changes = list(bead_changes(subject, width=width))
    landing = subject.pane.recess.landing
    needed = landing_needed(
        subject,
        joint=joints_as_drawn(subject)[1].value,
        bond_width=width,
        squeeze_out=squeeze_out_of(subject, bond_width=width),
    )
    if landing is not None and needed > landing:
        changes.append(Change("recess.landing", needed))
    hidden = max(landing or 0.0, needed) - subject.sizes.joint_width.value + subject.sizes.bond_thickness.value
    solid = subject.limit("frit_to_bond").value * width + tolerance(subject, "print").value
    return (*changes, *frit_follows(subject, solid=solid, width=hidden))


def thicker_bond(subject: Subject, thickness: float) -> tuple[Change, ...]:
    """A thicker bond in a recess that is as much deeper, where the job gives its depth."""
    depth, more = subject.pane.recess.depth, thickness - subject.sizes.bond_thickness.value
    deeper = () if depth is None else (Change("recess.depth", depth + more),)
    return (*bead_changes(subject, thickness=thickness), *deeper)


__all__ = ["flatter", "higher_notch", "less_tension", "thicker_bond", "wider_bead"]
