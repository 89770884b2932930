"""What loads the bead at the same time: the bent pane at the widest gap, and its pull together with shear from heat and bending.

Terms
-----
shear from bending
    From the bent plate: the pane slopes over its bead and its middle plane draws in. Inward pressure moves the bonded face outwards by the
    slope and inwards by the pull, so that they oppose each other; outward pressure moves it inwards by both. The greatest while the
    pressure rises counts; the bound, both the same way, stands beside. Where the plate was not run it is not known, and not zero.
used together
    Squares of both uses, summed, station by station: the pull across the bead there, the shear of bending there and the greatest of
    any temperature case there. Up to 1 nothing is said; beyond it a person looks.
An approximation: the plate is bent on a bead of full width, and shears are added whichever way they point.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.findings.holding.bond_remedies import higher_notch
from geometry.findings.holding.tension_limit import greatest_tension, limit_in_words
from geometry.ledger.figure import Sourced, defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.plate.results import pulled_hardest
from geometry.rules.calculation import Status
from geometry.rules.holding import bent_pane, bond, thermal, together
from geometry.rules.rounding import mm, number, up
from geometry.workings.bead_movement import bead_cases
from geometry.workings.glass_edge import edge_place
from geometry.workings.section_sums import contact_at_widest, largest_gap

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Figure, Ledger
    from geometry.outline import Point
    from geometry.plate.results import BondStress
    from geometry.workings.subject import Subject

AT_GAP = Constraint(
    "tension along the bead at its widest gap, pane bent on it",
    side=Side.AT_MOST,
    unit="MPa",
    source="thin plate on an elastic bead by finite elements, put on what the bead wets at the widest gap: an approximation",
    status=Status.DERIVED,
    limit_key="adhesive.design_tension",
)
TOGETHER = Constraint(
    "tension and shear of the bead used together",
    side=Side.AT_MOST,
    unit="",
    source="quadratic sum of the two uses (common practice, no source); ETAG 002-1 holds each by itself",
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
)


def findings(subject: Subject, ledger: Ledger, stress: BondStress) -> tuple[Finding, ...]:
    """Findings that need the bent plate."""
    return (*_at_gap(subject, ledger, stress), _together(subject, ledger, stress))


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


def bent_over_rule(subject: Subject, ledger: Ledger, tension: Figure, direction: str) -> Figure:
    """How many times as hard the bent pane pulls under a pressure as the trapezoidal rule has it for as much pressure outward."""
    from geometry.outline import perimeter

    rule = ledger.work(
        "bond tension at the bond width",
        bond.governing_tension,
        where=f"{direction} pressure taken as outward" if direction != "outward" else "",
        bond_width=subject.sizes.bond_width,
        outward_pressure=subject.asked(f"pressure.{direction}", unit="kPa"),
        inscribed_radius=subject.sizer.inscribed_radius(),
        area=subject.detail.area,
        bead_length=perimeter(subject.detail.curves.bead_centre),
        round_pane=subject.pane.outline.shape == "circle",
    )
    return ledger.work(
        "bent pane over trapezoidal rule", together.bent_over_rule, where=direction, bent=tension, trapezoidal=rule
    )


def _tension(ledger: Ledger, stress: BondStress, reaction: float, direction: str) -> Figure:
    """Mean across the bead of a reaction; a place that is pressed does not pull."""
    return ledger.work(
        f"tension across the bead, {direction} pressure",
        bond.band_tension,
        reaction=max(0.0, reaction),
        bond_width=stress.bond_width,
    )


def _at_gap(subject: Subject, ledger: Ledger, stress: BondStress) -> tuple[Finding, ...]:
    """None without outward pressure, and none where the bead wets nothing there: that is a finding of its own."""
    if subject.pane.pressure.outward is None:
        return ()
    place = pulled_hardest(stress.outward.reactions)
    tension = _tension(ledger, stress, place.reaction, "outward")
    gap, sizes = largest_gap(subject, ledger), subject.sizes
    contact = contact_at_widest(subject, ledger)
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
    ratio = bent_over_rule(subject, ledger, tension, "outward")
    times = f"; on full width the bent pane pulls {number(ratio.value, 2)} times as hard as the rule"
    greatest = greatest_tension(subject, ledger)
    if found.value > min(design.value, greatest.value):
        times += f"; {limit_in_words(subject, greatest)}"
    needed = bond.contact_for_tension(contact_width=contact.value, tension=found.value, design_tension=design.value)
    asked = f"ask the engineer about {number(found.value, 3)} MPa there, or lay a bead that wets {mm(up(needed, 0.5))} at the widest gap"
    return (
        AT_GAP.judged(
            value=found.value,
            limit=greatest.value,
            look=design.value if design.value < greatest.value else None,
            says=f"{number(tension.value, 3)} MPa on {mm(sizes.bond_width.value)} is {number(found.value, 3)} on the"
            f" {mm(contact.value)} that the bead wets at a gap of {mm(gap.value)}, approximately{times}",
            remedies=lambda: (*higher_notch(subject, gap, needed), Remedy(asked)),
            figure=found,
            defaults=defaults_of(design, greatest),
        ),
    )


@dataclass(frozen=True)
class _Station:
    """A station of the bead under one pressure: its reaction N/mm, the movements of the bonded face (x, y) mm by bending, its bound as a
    strain, and the greatest movement of any temperature case there, mm.
    """

    direction: str
    point: Point
    reaction: float
    slope: tuple[float, float]
    pull: tuple[float, float]
    bound: float
    heat: float


def _stations(subject: Subject, ledger: Ledger, stress: BondStress) -> Iterator[_Station]:
    """Every station of the bead under each pressure that is given."""
    cases = [case for assumed in bead_cases(subject, ledger) for case in assumed]
    places = cases[0].stations
    moved = [max(math.hypot(*case.shear.shears[index]) for case in cases) for index in range(len(places))]
    for result in (stress.outward, stress.inward):
        if getattr(subject.pane.pressure, result.direction) is None:
            continue
        for reaction, shear in zip(result.reactions, result.shear.stations, strict=True):
            x, y = shear.point.x, shear.point.y
            near = min(range(len(places)), key=lambda index: (places[index].x - x) ** 2 + (places[index].y - y) ** 2)
            # the next station may be moved more; between two stations the movement is nearly straight
            heat = max(moved[near], moved[near - 1], moved[(near + 1) % len(places)])
            yield _Station(result.direction, shear.point, reaction.reaction, shear.slope, shear.pull_in, shear.bound, heat)


def _together(subject: Subject, ledger: Ledger, stress: BondStress) -> Finding:
    modulus, thickness = subject.asked("adhesive.shear_modulus", unit="MPa"), subject.sizes.bond_thickness
    design, in_shear = subject.asked("adhesive.design_tension", unit="MPa"), design_shear(subject)
    stations = list(_stations(subject, ledger, stress))

    def bending(at: _Station) -> float:
        return bent_pane.bending_shear_strain(slope=at.slope, pull=at.pull, bond_thickness=thickness.value)

    def used(at: _Station) -> float:
        shear = modulus.value * (at.heat / thickness.value + bending(at))
        pull = max(0.0, at.reaction) / stress.bond_width
        return together.combined_use(tension=pull, design_tension=design.value, shear=shear, design_shear=in_shear.value)

    at = max(stations, key=lambda each: round(used(each), 9))
    most = max(stations, key=lambda each: round(bending(each), 9))
    tension = _tension(ledger, stress, at.reaction, at.direction)
    strains = (
        ledger.work("shear strain of the bead from heat", thermal.shear_strain, movement=at.heat, bond_thickness=thickness),
        ledger.work(
            "shear strain of the bead from bending",
            bent_pane.bending_shear_strain,
            slope=at.slope,
            pull=at.pull,
            bond_thickness=thickness,
        ),
    )
    heat, bent = (
        ledger.work(f"shear stress of the bead from {what}", thermal.shear_stress, shear_modulus=modulus, shear_strain=strain)
        for what, strain in zip(("heat", "bending"), strains, strict=True)
    )
    shear = ledger.work("shear of the bead from heat and bending", together.shear_together, heat=heat, bending=bent)
    use = ledger.work(
        "tension and shear used together",
        together.combined_use,
        tension=tension,
        design_tension=design,
        shear=shear,
        design_shear=in_shear,
    )
    bound = modulus.value * max(each.bound for each in stations)
    return TOGETHER.judged(
        value=use.value,
        limit=1.0,
        where=f"X {number(at.point.x, 0)}, Y {number(at.point.y, 0)}, {at.direction} pressure",
        at=at.point,
        part=edge_place(subject.detail.curves.glass, at.point)[3],
        says=f"tension {number(tension.value, 3)} MPa, shear {number(shear.value, 3)} of which {number(heat.value, 3)} from heat and"
        f" {number(bent.value, 3)} from bending ({number(100 * strains[1].value)} %); bending shears the bead at most"
        f" {number(100 * bending(most))} %, {number(modulus.value * bending(most), 3)} MPa, and {number(bound, 3)} if slope and pull-in"
        " acted the same way",
        remedies=(
            Remedy(
                f"ask the engineer whether the bead bears {number(tension.value, 3)} and {number(shear.value, 3)} MPa at once"
            ),
        ),
        figure=use,
        defaults=defaults_of(design, in_shear),
    )


__all__ = ["AT_GAP", "TOGETHER", "bent_over_rule", "design_shear", "findings", "without_plate"]
