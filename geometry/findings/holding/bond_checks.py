"""Will it hold: bond tension, permanent load, the uncured bead, shear from heat, peel.

Terms
-----
contact at the widest gap
    Where spacers, landing and pane are as bad as they may be together the uncured bead wets less than the bond width: the tension
    there is the one that counts.
permanent load
    What the bond carries for good: the weight along the pane where no chock stays under it, and the pull-off of a reverse rake.
uncured bead
    Before the cure it holds half of its yield stress at most. Chocks and location blocks take the weight along the pane from the
    first minute; what pulls the pane off its landing needs straps or props.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from geometry.detail.edges import ROUND
from geometry.findings.checks import found_by
from geometry.findings.fit.bead_remedies import bead_changes
from geometry.findings.holding.bond_remedies import flatter, less_tension, wider_bead
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import Point, bounding_box, corners, perimeter
from geometry.rules import glass as glass_rules
from geometry.rules.calculation import Status
from geometry.rules.fit import section
from geometry.rules.holding import bond, green, pane_bending, thermal
from geometry.rules.rounding import mm, number, up
from geometry.workings.bead_movement import bead_cases, bead_stations, is_chocked, setting_chocks, weight_of
from geometry.workings.glass_edge import edge_place
from geometry.workings.section_sums import largest_gap, tightest_bond

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Figure, Ledger
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
PERMANENT = Constraint(
    "permanent stress of the bond",
    side=Side.AT_MOST,
    unit="MPa",
    source="mean stress over the whole bead, the practice of ASTM C1401; the design stress is the engineer's",
    status=Status.FROM_MEMORY,
    limit_key="adhesive.design_permanent_shear",
)
WITHOUT = Constraint(
    "permanent stress if the chocks were taken out",
    side=Side.AT_MOST,
    unit="MPa",
    source="mean stress over the whole bead, the practice of ASTM C1401; the design stress is the engineer's",
    status=Status.FROM_MEMORY,
    short=Verdict.LOOK,
    limit_key="adhesive.design_permanent_shear",
)
UNCURED = Constraint(
    "uncured bead holds the pane",
    side=Side.AT_MOST,
    unit="",
    source="half of the yield stress of the uncured adhesive (common practice, no source)",
    status=Status.COMMON_PRACTICE,
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
        says=f"the glass moves {number(case.shear.largest, 2)} mm against the frame over {mm(thickness.value)} of bond{stands}:"
        f" {number(stress.value, 3)} MPa{_at_tightest(subject, ledger, case.shear.largest)}",
        remedies=lambda: (Remedy(f"lay the bond {mm(thicker)} thick", _thicker(subject, thicker)),),
        figure=strain,
        defaults=(*case.defaults, *defaults_of(design, most)),
    )


def _at_tightest(subject: Subject, ledger: Ledger, movement: float) -> str:
    """The same movement over the thinnest bond that tolerances and bow may leave."""
    left = tightest_bond(subject, ledger)
    if left.value <= 0.0:
        return "; no bond may be left at the tightest place"
    strain = ledger.work(
        "shear strain of the bead from heat, at the tightest place",
        thermal.shear_strain,
        movement=movement,
        bond_thickness=left,
    )
    return f"; {number(100 * strain.value, 0)} % where no more than {mm(left.value)} of bond is left"


def _thicker(subject: Subject, thickness: float) -> tuple[Change, ...]:
    depth, more = subject.pane.recess.depth, thickness - subject.sizes.bond_thickness.value
    deeper = () if depth is None else (Change("recess.depth", depth + more),)
    return (*bead_changes(subject, thickness=thickness), *deeper)


# Pressure.


def _tension(subject: Subject, ledger: Ledger) -> Finding:
    outward, sizes = subject.asked("pressure.outward", unit="kPa"), subject.sizes
    if outward.value is None:
        return TENSION.not_checked(
            what="outward pressure",
            decides=True,
        )
    gap = largest_gap(subject, ledger)
    contact = ledger.work(
        "contact width at the widest gap",
        section.contact_width,
        gap=gap,
        notch_width=sizes.notch_width,
        notch_height=sizes.notch_height,
    )
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
        "round_pane": subject.pane.outline.form == "circle",
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


# Loads that stay, and the first hours.


def _permanent(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    chocked = is_chocked(subject)
    design = subject.asked("adhesive.design_permanent_shear", unit="MPa")
    load, stress = _permanent_stress(subject, ledger, chocked=chocked)
    what = "off the landing" if chocked else "along the pane and off the landing"
    found = [
        PERMANENT.judged(
            value=round(stress.value, 9),
            limit=design.value,
            says=f"{load.value:.0f} N {what} for good" if load.value > 1e-6 else "chocks or landing carry the pane",
            remedies=partial(_carried_for_good, subject, ledger, load),
            figure=stress,
            defaults=defaults_of(design),
        )
    ]
    if chocked:
        load, stress = _permanent_stress(subject, ledger, chocked=False)
        found.append(
            WITHOUT.judged(
                value=stress.value,
                limit=design.value,
                says=f"{load.value:.0f} N for good on the bond alone"
                + _on_the_sides(subject, ledger)
                + (": the chocks must stay" if stress.value > design.value else ""),
                remedies=(
                    Remedy(
                        f"leave the {len(setting_chocks(subject))} chocks under the pane for good and say so on the fitter's card"
                    ),
                ),
                figure=stress,
                defaults=defaults_of(design),
            )
        )
    return tuple(found)


def _carried_for_good(subject: Subject, ledger: Ledger, load: Figure) -> Iterator[Remedy]:
    """Chocks that stay; a wider bead; a hold against what pulls off the landing."""
    if not subject.pane.chocks.permanent and not subject.flat:
        words = f"leave the {len(setting_chocks(subject))} chocks under the pane for good"
        yield Remedy(words, (Change("chocks.permanent", True),))
    for width in _permanent_width(subject, load):
        yield Remedy(f"lay a bead {mm(width)} wide", wider_bead(subject, width))
    pull_off = weight_of(subject, ledger).value.pull_off
    if pull_off > 0:
        yield Remedy(f"hold the pane for good against {pull_off:.0f} N off the landing")


def _permanent_stress(subject: Subject, ledger: Ledger, *, chocked: bool) -> tuple[Figure, Figure]:
    weight, length = weight_of(subject, ledger), perimeter(subject.detail.curves.bead_centre)
    name = "on its chocks" if chocked else "without chocks"
    load = ledger.work(
        f"permanent load on the bond, pane {name}",
        bond.permanent_load,
        weight_along=weight.value.along,
        pull_off=weight.value.pull_off,
        chocked=chocked,
    )
    stress = ledger.work(
        f"permanent stress of the bond, pane {name}",
        bond.dead_load_shear,
        weight_along=load,
        bond_width=subject.sizes.bond_width,
        bead_length=length,
    )
    return load, stress


def _on_the_sides(subject: Subject, ledger: Ledger) -> str:
    """What ETAG 002 counts of an unsupported pane: its upright sides only, the whole height of the bead; round panes have none."""
    along, sides = weight_of(subject, ledger).value.along, bounding_box(subject.detail.curves.bead_centre)
    if along <= 1e-6 or all(chock.edge == ROUND for chock in setting_chocks(subject)):
        return ""
    stress = ledger.work(
        "dead-load shear without chocks, upright sides only",
        bond.dead_load_shear_on_sides,
        weight_along=along,
        height=sides.height,
        bond_width=subject.sizes.bond_width,
    )
    return f", {number(1000 * stress.value)} kPa if only its upright sides are counted"


def _permanent_width(subject: Subject, load: Figure) -> list[float]:
    """The narrowest bead of the series that carries a load for good, where one does."""
    if load.value <= 1e-6:
        return []
    needed = bond.width_for_permanent_load(
        permanent_load=load.value,
        permanent_stress=subject.job.adhesive.design_permanent_shear,
        bead_length=perimeter(subject.detail.curves.bead_inner),
    )
    return [width for width in subject.limit("bond_widths").value if width >= max(needed, subject.sizes.bond_width.value + 0.1)][
        :1
    ]


def _fresh(subject: Subject, ledger: Ledger) -> Finding:
    weight = weight_of(subject, ledger)
    pulls = 0.0 if subject.pane.held else weight.value.pull_off
    pull = ledger.work(
        "pull on the uncured bead",
        bond.dead_load_tension,
        pull_off=pulls,
        bond_width=subject.sizes.bond_width,
        bead_length=perimeter(subject.detail.curves.bead_centre),
    )
    yields = subject.asked("adhesive.yield_stress_uncured", scale=0.001, unit="MPa")
    share = subject.limit("green_share", scale=0.01)
    use = ledger.work("use of the uncured bead", green.green_use, stress=pull, yield_stress=yields, share=share)
    allowed = 1000 * yields.value * share.value
    if subject.pane.held:
        says = "straps or props hold the pane until the bead can"
    elif weight.value.pull_off > 0:
        says = f"{weight.value.pull_off:.0f} N off the landing pull {number(1000 * pull.value, 2)} kPa, {number(allowed, 2)} kPa is held"
    else:
        blocks = "the landing carries the pane" if subject.flat else "the chocks carry the pane"
        wind = ledger.work(
            "wind that the uncured bead holds",
            green.wind_held,
            bond_width=subject.sizes.bond_width,
            bead_length=perimeter(subject.detail.curves.bead_centre),
            area=subject.detail.area,
            yield_stress=yields,
            share=share,
            drag=subject.limit("wind_drag"),
        )
        says = (
            f"{blocks}, and its weight pulls nothing off the landing; the suction of a wind over {number(wind.value)} m/s would"
        )
    straps = f"hold the pane with straps or props against {max(0.0, weight.value.pull_off):.0f} N until the bead can"
    return UNCURED.judged(
        value=use.value,
        limit=1.0,
        says=says,
        remedies=(Remedy(straps, (Change("held", True),)),),
        figure=use,
    )


def _peel(subject: Subject, ledger: Ledger) -> Finding:
    given = [subject.asked(f"pressure.{way}", unit="kPa") for way in ("outward", "inward")]
    pressures = [each for each in given if each.value is not None]
    source = "slope of a simply supported pane (Roark's tables); the pane turns about the middle of the bead"
    if not pressures:
        return PEEL.but(source=source).not_checked(
            what="pressure",
            decides=True,
        )
    pressure = max(pressures, key=lambda each: float(each.value))
    glass, box = subject.pane.glass, bounding_box(subject.detail.curves.glass)
    thickness: Any = subject.sizes.glass_thickness
    if glass.interlayers:
        thickness = ledger.work(
            "effective thickness for deflection",
            glass_rules.effective_thickness,
            plies=glass.plies,
            interlayers=glass.interlayers,
            coupling=subject.asked("glass.shear_coupling", scale=0.01),
        )
    modulus = subject.glass("young_modulus", register="glass modulus", unit="MPa")
    poisson = subject.glass("poisson", register="glass Poisson's ratio")
    short_side, long_side = sorted((box.width, box.height))
    if subject.pane.outline.form == "circle":
        bends = ledger.work(
            "deflection of the simply supported pane",
            pane_bending.round_deflection,
            pressure=pressure,
            radius=short_side / 2,
            thickness=thickness,
            modulus=modulus,
            poisson=poisson,
        )
    else:
        ledger.work("deflection factor of the rectangle", pane_bending.deflection_factor, aspect=long_side / short_side)
        bends = ledger.work(
            "deflection of the simply supported pane",
            pane_bending.deflection,
            pressure=pressure,
            short_side=short_side,
            long_side=long_side,
            thickness=thickness,
            modulus=modulus,
            poisson=poisson,
        )
    slope = ledger.work("slope of the pane at mid-edge", pane_bending.edge_slope, deflection=bends, short_side=short_side)
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


CHECKS = (_shear, _tension, _permanent, _fresh, _peel)


__all__ = ["PEEL", "PERMANENT", "SHEAR", "TENSION", "UNCURED", "WITHOUT", "findings"]
