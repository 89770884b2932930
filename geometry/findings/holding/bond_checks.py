"""Will it hold: bond tension, shear from heat, peel; between them the loads that stay and the first hours.

Terms
-----
contact at the widest gap
    Where spacers, landing and pane are as bad as they may be together the uncured bead wets less than the bond width: the tension
    there is the one that counts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.findings.checks import found_by
from geometry.findings.holding import load_checks
from geometry.findings.holding.bond_remedies import flatter, less_tension, thicker_bond
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import Point, corners, perimeter
from geometry.rules.calculation import Status
from geometry.rules.holding import bond, pane_bending, thermal
from geometry.rules.rounding import mm, number, up
from geometry.workings.bead_movement import bead_cases, bead_stations, is_chocked
from geometry.workings.glass_edge import edge_place
from geometry.workings.laminate import bent_thickness
from geometry.workings.section_sums import contact_at_widest, largest_gap, sides_of_box, tightest_gap

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

ENGINEER = "trapezoidal rule of structural glazing (ASTM C1401, ETAG 002-1 Annex 2); the design stress is the engineer's"


SHEAR = Constraint(
    "shear of the bead from heat",
    side=Side.AT_MOST,
    unit="%",
    source="simple shear of the bead; limits: common practice, no source",
    status=Status.COMMON_PRACTICE,
    limit_key="adhesive.greatest_shear_strain",
)
TENSION = Constraint(
    "bond tension at the widest gap",
    side=Side.AT_MOST,
    unit="MPa",
    source=ENGINEER,
    status=Status.SECOND_HAND,
    limit_key="adhesive.design_tension",
)
PEEL = Constraint(
    "peel of the bead's edge as the pane bends",
    side=Side.AT_MOST,
    unit="%",
    status=Status.DERIVED,
    short=Verdict.LOOK,
    limit_key="limits.peel_strain",
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


# Movement.


def _shear(subject: Subject, ledger: Ledger) -> Finding:
    every = [case for assumed in bead_cases(subject, ledger) for case in assumed]
    case = max(every, key=lambda each: round(each.shear.largest, 9))
    station = bead_stations(subject.detail.curves.bead_centre)[case.shear.worst]
    _, _, _, edge, _ = edge_place(subject.detail.curves.glass, Point(station.x, station.y))
    thickness = subject.sizes.bond_thickness
    strain = ledger.work(
        "shear strain of the bead from heat",
        thermal.shear_strain,
        movement=case.shear.largest,
        bond_thickness=thickness,
    )
    stress = ledger.work(
        "shear stress of the bead from heat",
        thermal.shear_stress,
        shear_modulus=subject.asked("adhesive.shear_modulus", unit="MPa"),
        shear_strain=strain,
    )
    design, most = subject.asked("adhesive.design_shear_strain"), subject.asked("adhesive.greatest_shear_strain")
    thicker = up(bond.thickness_for_movement(movement=case.shear.largest, shear_strain=design.value / 100), 0.5)
    stands = ", pane lifted off its chocks" if case.lifted else ", pane on its chocks" if is_chocked(subject) else ""
    return SHEAR.judged(
        value=100 * strain.value,
        limit=most.value,
        look=design.value,
        where=f"{edge}, {case.name}",
        at=(station.x, station.y),
        part=edge,
        says=f"the glass moves {number(case.shear.largest, 2)} mm against the frame over {mm(thickness.value)} of bond{stands}:"
        f" {number(stress.value, 3)} MPa{_at_tightest(subject, ledger, case.shear.largest)}",
        remedies=lambda: (Remedy(f"lay the bond {mm(thicker)} thick", thicker_bond(subject, thicker)),),
        figure=strain,
        defaults=(*case.defaults, *defaults_of(design, most)),
    )


def _at_tightest(subject: Subject, ledger: Ledger, movement: float) -> str:
    """The same movement over the thinnest bond that tolerances and bow may leave."""
    left = tightest_gap(subject, ledger)
    strain = ledger.work(
        "shear strain of the bead from heat, at the tightest place",
        thermal.shear_strain,
        movement=movement,
        bond_thickness=left,
    )
    return f"; {number(100 * strain.value, 0)} % where no more than {mm(left.value)} of bond is left"


# Pressure.


def _tension(subject: Subject, ledger: Ledger) -> Finding:
    outward, sizes = subject.asked("pressure.outward", unit="kPa"), subject.sizes
    if outward.value is None:
        return TENSION.not_checked(
            what="outward pressure",
            decides=True,
        )
    gap = largest_gap(subject, ledger)
    contact = contact_at_widest(subject, ledger)
    design = subject.asked("adhesive.design_tension", unit="MPa")
    if contact.value <= 0.0:
        height = subject.sizes.notch_height.value
        return TENSION.but(
            side=Side.AT_LEAST, unit="mm", source="geometry of the section", status=Status.DERIVED, limit_key=""
        ).judged(
            value=height,
            limit=gap.value,
            says=f"an uncured bead {mm(height)} high does not wet the landing at a gap of {mm(gap.value)}: it holds nothing there",
            remedies=lambda: flatter(subject, gap, sizes.bond_width.value),
            figure=gap,
        )
    loaded: dict[str, Any] = {
        "outward_pressure": outward,
        "inscribed_radius": subject.sizer.inscribed_radius(),
        "area": subject.detail.area,
        "bead_length": perimeter(subject.detail.curves.bead_centre),
        "round_pane": subject.pane.outline.shape == "circle",
    }
    worst = ledger.work("bond tension at the widest gap", bond.governing_tension, bond_width=contact, **loaded)
    nominal = ledger.work("bond tension at the bond width", bond.governing_tension, bond_width=sizes.bond_width, **loaded)
    mean = ledger.work(
        "mean tension of the bond",
        bond.mean_tension,
        outward_pressure=outward,
        area=loaded["area"],
        bond_width=sizes.bond_width,
        bead_length=loaded["bead_length"],
    )
    with_cut_out = any(not corner.convex for corner in corners(subject.detail.curves.glass))
    needed = bond.contact_for_tension(contact_width=contact.value, tension=worst.value, design_tension=design.value)
    return TENSION.judged(
        value=worst.value,
        limit=design.value,
        says=f"{number(worst.value, 3)} MPa on the {mm(contact.value)} that the bead wets at a gap of {mm(gap.value)};"
        f" {number(nominal.value, 3)} on its full width, {number(mean.value, 3)} on average"
        + ("; a re-entrant corner gathers more than this rule knows: see the pane bent on its bead" if with_cut_out else ""),
        remedies=lambda: tuple(less_tension(subject, gap, needed, worst.value)) if worst.value > design.value else (),
        figure=worst,
        defaults=defaults_of(design),
    )


def _peel(subject: Subject, ledger: Ledger) -> Finding:
    pressure = subject.greater_pressure
    source = "slope of a simply supported pane (Timoshenko and Woinowsky-Krieger); the pane turns about the middle of the bead"
    if pressure is None:
        return PEEL.but(source=source).not_checked(
            what="pressure",
            decides=True,
        )
    poisson = subject.glass("poisson", register="glass Poisson's ratio")
    stiffness = ledger.work(
        "bending stiffness of the pane",
        pane_bending.plate_stiffness,
        modulus=subject.glass("young_modulus", register="glass modulus", unit="MPa"),
        thickness=bent_thickness(subject, ledger),
        poisson=poisson,
    )
    short_side, long_side = sides_of_box(subject)
    bent, at_edge = "deflection of the simply supported pane", "slope of the pane at mid-edge"
    if subject.pane.outline.shape == "circle":
        of: dict[str, Any] = {"pressure": pressure, "radius": short_side / 2, "stiffness": stiffness, "poisson": poisson}
        bends = ledger.work(bent, pane_bending.round_deflection, **of)
        slope = ledger.work(at_edge, pane_bending.round_edge_slope, **of)
    else:
        ledger.work("deflection factor of the rectangle", pane_bending.deflection_factor, aspect=long_side / short_side)
        ledger.work("slope factor of the rectangle", pane_bending.slope_factor, aspect=long_side / short_side)
        of = {"pressure": pressure, "short_side": short_side, "long_side": long_side, "stiffness": stiffness}
        bends = ledger.work(bent, pane_bending.deflection, **of)
        slope = ledger.work(at_edge, pane_bending.edge_slope, **of)
    peel = ledger.work(
        "peel strain at the edge of the bead",
        pane_bending.peel_strain,
        slope=slope,
        bond_width=subject.sizes.bond_width,
        bond_thickness=subject.sizes.bond_thickness,
    )
    limit = subject.limit("peel_strain")
    return PEEL.but(source=source).judged(
        value=100 * peel.value,
        limit=limit.value,
        says=f"at {number(pressure.value)} kPa the pane bends {number(bends.value)} mm by linear theory as the rectangle round it",
        remedies=(Remedy(f"ask the engineer whether the bead bears {number(100 * peel.value, 0)} % at its edge"),),
        figure=peel,
        defaults=defaults_of(limit),
    )


CHECKS = (_shear, _tension, *load_checks.CHECKS, _peel)


__all__ = ["PEEL", "SHEAR", "TENSION", "findings"]
