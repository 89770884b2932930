"""What loads the bead at the same time: the bent pane at the widest gap, and its pull together with shear from heat and bending.

Terms
-----
shear from bending
    MPa, from the bent plate: the pane slopes over its bead and draws in. Where the plate was not run it is not known, and not zero.
used together
    Squares of both uses, summed. Up to 1 nothing is said; beyond it a person looks.
An approximation: the plate is bent on a bead of full width, the greatest tension and the greatest shear need not be one place.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.ledger.figure import Sourced, defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.fit import section
from geometry.rules.holding import bond, thermal, together
from geometry.rules.rounding import mm, number, up
from geometry.workings.bead_movement import bead_cases
from geometry.workings.section_sums import largest_gap

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger
    from geometry.plate.results import BondStress
    from geometry.workings.subject import Subject

AT_GAP = Constraint(
    "tension along the bead at its widest gap, pane bent on it",
    side=Side.AT_MOST,
    unit="MPa",
    source="thin plate on an elastic bead by finite elements, put on what the bead wets at the widest gap: an approximation",
    status=Status.DERIVED,
    limit_key="adhesive.design_tension",
    short=Verdict.LOOK,
)
TOGETHER = Constraint(
    "tension and shear of the bead used together",
    side=Side.AT_MOST,
    unit="",
    source="quadratic sum of the two uses (common practice, no source); ETAG 002-1 holds each by itself",
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
)


def findings(subject: Subject, ledger: Ledger, stress: BondStress, *, bending_shear: Figure | None = None) -> tuple[Finding, ...]:
    """Findings that need the bent plate; ``bending_shear`` MPa from it, None where it was not worked out."""
    tension = _tension(ledger, stress)
    return (*_at_gap(subject, ledger, tension), _together(subject, ledger, tension, bending_shear))


def without_plate(subject: Subject) -> tuple[Finding, ...]:
    """Where a pressure is given and the plate was not run: not checked, and never zero."""
    if subject.pane.pressure.outward is None and subject.pane.pressure.inward is None:
        return ()
    missing = "the pane was not bent on its bead"
    return (replace(TOGETHER.not_checked(what="plate"), says=f"not checked: {missing}", missing=missing),)


def design_shear(subject: Subject) -> Sourced:
    """Design stress in shear, MPa: given, else that in tension."""
    own = subject.asked("adhesive.design_shear", unit="MPa")
    return own if own.value is not None else subject.asked("adhesive.design_tension", unit="MPa")


def bent_over_rule(subject: Subject, ledger: Ledger, tension: Figure) -> Figure | None:
    """How many times as hard the bent pane pulls as the trapezoidal rule says; None without an outward pressure."""
    rule = _nominal(subject, ledger)
    if rule is None:
        return None
    return ledger.work("bent pane over trapezoidal rule", together.bent_over_rule, bent=tension, trapezoidal=rule)


def _nominal(subject: Subject, ledger: Ledger) -> Figure | None:
    from geometry.outline import perimeter

    outward = subject.asked("pressure.outward", unit="kPa")
    if outward.value is None:
        return None
    return ledger.work(
        "bond tension at the bond width",
        bond.governing_tension,
        bond_width=subject.sizes.bond_width,
        outward_pressure=outward,
        inscribed_radius=subject.sizer.inscribed_radius(),
        area=subject.detail.area,
        bead_length=perimeter(subject.detail.curves.bead_centre),
        round_pane=subject.pane.outline.form == "circle",
    )


def _tension(ledger: Ledger, stress: BondStress) -> Figure:
    """Greatest mean across the bead, outward pressure."""
    place = max(stress.outward.reactions, key=lambda each: round(each.reaction, 9))
    return ledger.work(
        "tension across the bead, outward pressure",
        bond.band_tension,
        reaction=max(0.0, place.reaction),
        bond_width=stress.bond_width,
    )


def _at_gap(subject: Subject, ledger: Ledger, tension: Figure) -> tuple[Finding, ...]:
    """None without outward pressure, and none where the bead wets nothing there: that is a finding of its own."""
    if subject.pane.pressure.outward is None:
        return ()
    gap, sizes = largest_gap(subject, ledger), subject.sizes
    contact = ledger.work(
        "contact width at the widest gap",
        section.contact_width,
        gap=gap,
        notch_width=sizes.notch_width,
        notch_height=sizes.notch_height,
    )
    if contact.value <= 0.0:
        return ()
    design = subject.asked("adhesive.design_tension", unit="MPa")
    found = ledger.work(
        "tension along the bead at its widest gap",
        together.tension_at_gap,
        tension=tension,
        bond_width=sizes.bond_width,
        contact_width=contact,
    )
    ratio = bent_over_rule(subject, ledger, tension)
    times = "" if ratio is None else f"; on full width the bent pane pulls {number(ratio.value, 2)} times as hard as the rule"
    needed = bond.contact_for_tension(contact_width=contact.value, tension=found.value, design_tension=design.value)
    asked = f"ask the engineer about {number(found.value, 3)} MPa there, or lay a bead that wets {mm(up(needed, 0.5))} at the widest gap"
    return (
        AT_GAP.judged(
            value=found.value,
            limit=design.value,
            says=f"{number(tension.value, 3)} MPa on {mm(sizes.bond_width.value)} is {number(found.value, 3)} on the"
            f" {mm(contact.value)} that the bead wets at a gap of {mm(gap.value)}, approximately{times}",
            remedies=(Remedy(asked),),
            figure=found,
            defaults=defaults_of(design),
        ),
    )


def _together(subject: Subject, ledger: Ledger, tension: Figure, bending_shear: Figure | None) -> Finding:
    if bending_shear is None:
        missing = "the shear of the bead from bending was not worked out"
        return replace(TOGETHER.not_checked(what="plate"), says=f"not checked: {missing}", missing=missing)
    largest = max(
        (case.shear.largest for assumed in bead_cases(subject, ledger) for case in assumed), key=lambda each: round(each, 9)
    )
    strain = ledger.work(
        "shear strain of the bead from heat",
        thermal.shear_strain,
        movement=largest,
        bond_thickness=subject.sizes.bond_thickness,
    )
    heat = ledger.work(
        "shear stress of the bead from heat",
        thermal.shear_stress,
        shear_modulus=subject.asked("adhesive.shear_modulus", unit="MPa"),
        shear_strain=strain,
    )
    shear = ledger.work("shear of the bead from heat and bending", together.shear_together, heat=heat, bending=bending_shear)
    design, in_shear = subject.asked("adhesive.design_tension", unit="MPa"), design_shear(subject)
    use = ledger.work(
        "tension and shear used together",
        together.combined_use,
        tension=tension,
        design_tension=design,
        shear=shear,
        design_shear=in_shear,
    )
    return TOGETHER.judged(
        value=use.value,
        limit=1.0,
        says=f"tension {number(tension.value, 3)} MPa, shear {number(shear.value, 3)} of which {number(heat.value, 3)} from heat and"
        f" {number(bending_shear.value, 3)} from bending",
        remedies=(
            Remedy(
                f"ask the engineer whether the bead bears {number(tension.value, 3)} and {number(shear.value, 3)} MPa at once"
            ),
        ),
        figure=use,
        defaults=defaults_of(design, in_shear),
    )


__all__ = ["AT_GAP", "TOGETHER", "bent_over_rule", "design_shear", "findings", "without_plate"]
