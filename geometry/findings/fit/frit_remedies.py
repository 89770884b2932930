"""Remedies for a frit that is too narrow: a wider print while it can still be ordered, else what a printed pane leaves.

Terms
-----
ladder
    The order of remedies on a printed pane: paint outside, tape outside, a narrower bead where the pressure allows it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.fit.bead_remedies import down, landing_needed, narrower_bead
from geometry.ledger.finding import Change, Remedy
from geometry.rules.fit import frit as frit_rules
from geometry.rules.rounding import mm, up
from geometry.workings.section_sums import joints_as_drawn, squeeze_out_of

if TYPE_CHECKING:
    from geometry.workings.subject import Subject


def for_cover(subject: Subject, *, solid: float, left: float, outside: float, print_depth: float) -> tuple[Remedy, ...]:
    """Remedies for a bond that the frit does not protect.

    ``solid`` is the solid frit to order, print tolerance included, ``left`` what there is at the worst print, ``outside`` how far
    in a protection on the weather face must reach; all mm.
    """
    frit = subject.pane.frit
    remedies: tuple[Remedy, ...] = _outside(subject, outside) if frit.printed else _wider(subject, up(solid + frit.fade))
    if not frit.printed and frit.fade > 0 and frit.outline is None and subject.sizes.frit_width.value >= solid:
        width = subject.sizes.frit_width.value
        remedies += (Remedy(f"print all {mm(width)} of the frit solid, with no fade inside it", (Change("frit.fade", 0.0),)),)
    factor = float(subject.limit("frit_to_bond").value)
    margin = float(subject.limit("frit_margin").value)
    index = _refraction(subject)

    def fits(width: float) -> bool:
        covered = frit_rules.frit_for_cover(
            set_back=subject.sizes.set_back.value,
            bond_width=width,
            squeeze_out=squeeze_out_of(subject, bond_width=width),
            print_depth=print_depth,
            margin=margin,
            refractive_index=index,
        )
        return max(factor * width, covered) <= left + 1e-9

    return (*remedies, *narrower_bead(subject, fits))


def for_small_print(subject: Subject, *, solid: float) -> tuple[Remedy, ...]:
    """A print that covers the bead although it comes out small: ``solid`` to order, all tolerances in it; none once it is printed."""
    return () if subject.pane.frit.printed else _wider(subject, up(solid + subject.pane.frit.fade))


def for_looks(subject: Subject, *, least: float, drawn: float, short: float) -> tuple[Remedy, ...]:
    """Remedies for a landing that shows: ``least`` joint, ``drawn`` least frit width and how much is ``short``, mm."""
    sizes = subject.sizes
    landing, thickness = sizes.landing.value, sizes.bond_thickness.value
    remedies: tuple[Remedy, ...] = ()
    if subject.pane.frit.printed:
        wide = frit_rules.outer_protection_to_hide_landing(
            landing=landing,
            joint_width=least,
            bond_thickness=thickness,
            glass_thickness=sizes.glass_thickness.value,
            refractive_index=_refraction(subject),
        )
        remedies += _outside(subject, wide)
    elif short > 0:
        remedies += _wider(subject, up(landing - least + thickness))
    narrow = down(least + drawn - thickness)
    width = sizes.bond_width.value
    carried = landing_needed(
        subject,
        joint=joints_as_drawn(subject)[1].value,
        bond_width=width,
        squeeze_out=squeeze_out_of(subject, bond_width=width),
    )
    if narrow >= carried:
        remedies += (Remedy(f"narrow the landing to {mm(narrow)}", (Change("recess.landing", narrow),)),)
    return remedies


def _refraction(subject: Subject) -> float:
    return float(subject.glass("refractive_index", register="glass refractive index").value)


def _wider(subject: Subject, width: float) -> tuple[Remedy, ...]:
    """A wider print, parallel to the glass edge."""
    frit = subject.pane.frit
    if frit.outline is not None:
        words = f"print the frit parallel to the glass edge, {mm(width)} wide, in place of its own outline"
        return (Remedy(words, (Change("frit.outline", None), Change("frit.width", width))),)
    if frit.fade > 0:
        solid = width - frit.fade
        words = f"widen the frit to {mm(width)}: solid for {mm(solid)}, the fade of {mm(frit.fade)} inside that"
        return (Remedy(words, (Change("frit.width", width),)),)
    return (Remedy(f"widen the frit to {mm(width)}", (Change("frit.width", width),)),)


def _outside(subject: Subject, reach: float) -> tuple[Remedy, ...]:
    """Paint to a sharp masked line, or the narrowest tape that reaches."""
    paint = up(reach)
    remedies = [
        Remedy(
            f"paint the weather face from the glass edge to {mm(paint)}, over clean glass to a masked line",
            _protection("paint", paint),
        )
    ]
    lost = float(subject.limit("tape_lost").value)
    tape = next((width for width in subject.limit("tape_widths").value if width - lost >= reach - 1e-9), None)
    if tape is not None:
        words = f"lay UV shielding tape {mm(tape)} wide along the glass edge on the weather face, its edge under the backfill"
        remedies.append(Remedy(words, _protection("tape", tape)))
    return tuple(remedies)


def _protection(kind: str, width: float) -> tuple[Change, Change]:
    return Change("frit.outer_protection.kind", kind), Change("frit.outer_protection.width", width)


__all__ = ["for_cover", "for_looks", "for_small_print"]
