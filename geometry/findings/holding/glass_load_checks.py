"""Loads on the glass, each from the engineer: the pressure and its wind, an allowed stress, a load on a part, heat at the edge.

Terms
-----
given
    What a finding here needs stands in ``loads`` and ``glass`` of the job. What is left out is not checked, and never taken as none.
allowed stress
    Of the glass, by the engineer or the rule that governs. What is judged by it here are quick figures of a rectangle, simply
    supported all round: never an approval.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.findings.checks import found_by
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.holding import loads, pane_bending
from geometry.rules.rounding import mm, number, up
from geometry.workings.bead_movement import glass_expansion
from geometry.workings.glass_strength import NO_ALLOWED, allowed_stress, strength_of
from geometry.workings.laminate import bent_thickness, stressed_thickness
from geometry.workings.section_sums import sides_of_box

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

ROARK = "Roark's tables of the simply supported rectangle; the allowed stress is the engineer's or that of the rule that governs"

WIND = Constraint(
    "outward pressure covers the suction of the wind named",
    side=Side.AT_LEAST,
    unit="kPa",
    source="pressure of the flow; wind and suction are the engineer's",
    status=Status.DERIVED,
    short=Verdict.LOOK,
)
THICKNESS = Constraint(
    "glass thick enough for its allowed stress under pressure",
    side=Side.AT_LEAST,
    unit="mm",
    source=ROARK,
    status=Status.PUBLISHED,
)
PATCH = Constraint(
    "stress of the glass under the load on a part of it",
    side=Side.AT_MOST,
    unit="MPa",
    source=f"{ROARK}; the table of a load on a part is from memory",
    status=Status.FROM_MEMORY,
    short=Verdict.LOOK,
    limit_key="glass.allowed_stress",
)
EDGE = Constraint(
    "heat stress at the edge of annealed glass",
    side=Side.AT_MOST,
    unit="MPa",
    source="an edge held by the warmer middle; limit: own default, a share of the characteristic strength",
    status=Status.FROM_MEMORY,
    short=Verdict.LOOK,
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


# Wind.


def _wind(subject: Subject, ledger: Ledger) -> Finding:
    wind, suction = subject.asked("loads.wind", unit="m/s"), subject.asked("loads.wind_suction")
    outward = subject.asked("pressure.outward", unit="kPa")
    missing = [each.key for each in (wind, suction) if each.value is None]
    if missing or outward.value is None:
        return WIND.not_checked(what=" and no ".join(missing) or "outward pressure")
    pulls = ledger.work("suction of the wind named", loads.wind_suction, wind=wind, coefficient=suction)
    return WIND.judged(
        value=float(outward.value),
        limit=pulls.value,
        says=f"a wind of {number(wind.value)} m/s pulls {number(pulls.value, 2)} kPa at a coefficient of {number(suction.value)}",
        remedies=(Remedy(f"ask the engineer for an outward pressure of {number(up(pulls.value, 0.1))} kPa or more"),),
        figure=pulls,
    )


# The glass.


def _thickness(subject: Subject, ledger: Ledger) -> Finding:
    allowed = allowed_stress(subject)
    pressure = subject.greater_pressure
    if pressure is None or allowed.value is None:
        return THICKNESS.not_checked(what="pressure" if pressure is None else NO_ALLOWED)
    short_side, long_side = sides_of_box(subject)
    factor = ledger.work("stress factor", pane_bending.stress_factor, aspect=long_side / short_side)
    if subject.pane.outline.shape in ("circle", "ellipse"):
        round_factor = ledger.work(
            "stress factor of the round pane",
            pane_bending.ellipse_stress_factor,
            aspect=long_side / short_side,
            poisson=subject.glass("poisson", register="glass Poisson's ratio"),
        )
        factor = max(factor, round_factor, key=lambda each: float(each.value))
    needed = ledger.work(
        "thickness for the allowed stress",
        pane_bending.thickness_for_pressure,
        pressure=pressure,
        short_side=short_side,
        stress_factor=factor,
        allowed_stress=allowed,
    )
    thickness = stressed_thickness(subject, ledger)
    return THICKNESS.judged(
        value=float(thickness.value),
        limit=needed.value,
        says=f"{mm(needed.value)} by linear theory at {number(pressure.value)} kPa and {number(allowed.value)} MPa, as the rectangle"
        " round it; the rule that governs decides",
        remedies=lambda: _thicker(subject, float(thickness.value), needed.value),
        figure=needed,
        defaults=defaults_of(thickness),
    )


def _thicker(subject: Subject, thickness: float, needed: float) -> tuple[Remedy, ...]:
    """Plies thicker in one proportion, in a recess as much deeper where the job gives its depth."""
    glass, depth = subject.pane.glass, subject.pane.recess.depth
    plies = [up(ply * needed / thickness) for ply in glass.plies]
    changes = [Change("glass.plies", plies)]
    if depth is not None:
        changes.append(Change("recess.depth", depth + math.fsum(plies) - math.fsum(glass.plies)))
    return (Remedy(f"take glass of {' / '.join(map(number, plies))} mm", tuple(changes)),)


def _patch(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    patch, allowed = subject.pane.loads.patch, allowed_stress(subject)
    if patch is None:
        return (PATCH.not_checked(what="load on a part of the glass (loads.patch)"),) if subject.flat else ()
    short_side, long_side = sides_of_box(subject)
    force, thickness = subject.asked("loads.patch.force", unit="N"), stressed_thickness(subject, ledger)
    radius = patch.width / 2 if patch.height is None else math.sqrt(patch.width * patch.height / math.pi)
    stress = ledger.work(
        "stress under the load on a part of the glass",
        pane_bending.patch_stress,
        force=force,
        radius=radius,
        short_side=short_side,
        long_side=long_side,
        thickness=thickness,
        poisson=subject.glass("poisson", register="glass Poisson's ratio"),
    )
    bends = ledger.work(
        "deflection under the load on a part of the glass",
        pane_bending.patch_deflection,
        force=force,
        short_side=short_side,
        long_side=long_side,
        stiffness=ledger.work(
            "stiffness of the pane",
            pane_bending.plate_stiffness,
            modulus=subject.glass("young_modulus", register="glass modulus", unit="MPa"),
            thickness=bent_thickness(subject, ledger),
            poisson=subject.glass("poisson", register="glass Poisson's ratio"),
        ),
    )
    if allowed.value is None:
        return (PATCH.not_checked(what=NO_ALLOWED).but_says(f"{number(stress.value)} MPa under {number(force.value, 0)} N"),)
    return (
        PATCH.judged(
            value=stress.value,
            limit=float(allowed.value),
            where=f"X {number(patch.x, 0)}, Y {number(patch.y, 0)}",
            at=(patch.x, patch.y),
            says=f"bends {number(bends.value, 2)} mm: {number(force.value, 0)} N as if in the middle of the rectangle round the pane,"
            " simply supported, by linear theory",
            remedies=lambda: _thicker(
                subject, float(thickness.value), float(thickness.value) * math.sqrt(stress.value / float(allowed.value))
            ),
            figure=stress,
        ),
    )


def _edge(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Annealed glass alone: any other bears far more than sun and shade can do."""
    difference = subject.asked("loads.edge_temperature_difference", unit="K")
    if subject.pane.glass.treatment != "annealed":
        return ()
    if difference.value is None:
        return (EDGE.not_checked(what="difference of temperature between middle and edge (loads.edge_temperature_difference)"),)
    strength, share = strength_of(subject), subject.limit("edge_heat_share")
    stress = ledger.work(
        "heat stress at the edge of the glass",
        loads.edge_heat_stress,
        modulus=subject.glass("young_modulus", register="glass modulus", unit="MPa"),
        expansion=glass_expansion(subject),
        difference=difference,
    )
    return (
        EDGE.judged(
            value=stress.value,
            limit=strength.value * share.value / 100,
            says=f"its middle {number(difference.value)} K warmer than its edge; {number(share.value)} % of {number(strength.value)} MPa",
            remedies=(
                Remedy(f"ask the engineer about {number(stress.value)} MPa at a cut edge, or take glass that is not annealed"),
            ),
            figure=stress,
            defaults=defaults_of(strength, share),
        ),
    )


CHECKS = (_wind, _thickness, _patch, _edge)

__all__ = ["EDGE", "PATCH", "THICKNESS", "WIND", "findings"]
