"""The pane bent on its bead against what the engineer allows: a load on a part of the glass, and the stress of the glass.

Terms
-----
patch
    The part of the glass and its load, ``loads.patch``; by itself, without the pressures.
allowed stress
    ``glass.allowed_stress``. Without it the stress is told and not judged; with it, it is still no approval of the glass.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.findings.holding.tension_limit import greatest_tension
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side
from geometry.outline import Point
from geometry.plate.results import pulled_hardest
from geometry.rules.calculation import Status
from geometry.rules.holding import bond
from geometry.rules.rounding import mm, number
from geometry.workings.glass_edge import edge_place
from geometry.workings.glass_strength import NO_ALLOWED, allowed_stress

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.plate.patch import Patch
    from geometry.plate.results import BondStress, PressureResult
    from geometry.workings.subject import Subject

PLATE = "thin plate on an elastic bead by finite elements, linear or by large deflection (von Karman) as told"
BEAD = Constraint(
    "tension of the bead where a load on a part of the glass lifts the pane",
    side=Side.AT_MOST,
    unit="MPa",
    source=f"{PLATE}; the design stress is the engineer's",
    status=Status.DERIVED,
    limit_key="adhesive.design_tension",
)
PATCHED = Constraint(
    "stress of the glass under the load on a part of it, pane bent on its bead",
    side=Side.AT_MOST,
    unit="MPa",
    source=f"{PLATE}; the allowed stress is the engineer's or that of the rule that governs",
    status=Status.DERIVED,
    limit_key="glass.allowed_stress",
)
PRESSED = PATCHED.but(name="stress of the glass under pressure, pane bent on its bead")


def patch_of(subject: Subject) -> Patch | None:
    """The load on a part of the glass as the plate takes it; None where there is none, or where it does not lie on the glass."""
    given = subject.pane.loads.patch
    if given is None:
        return None
    from geometry.plate.curve import Curve
    from geometry.plate.glass import PlateInputError
    from geometry.plate.patch import Patch, check_within

    patch = Patch(Point(given.x, given.y), given.force, given.width, given.height)
    try:
        check_within(patch, Curve(subject.detail.curves.glass))
    except PlateInputError:
        return None
    return patch


def without_plate(subject: Subject) -> tuple[Finding, ...]:
    """Where a load on a part is given and the pane was not bent under it: not checked, and never zero."""
    if subject.pane.loads.patch is None:
        return ()
    return tuple(_open(must, "the pane was not bent on its bead") for must in (BEAD, PATCHED))


def findings(subject: Subject, ledger: Ledger, stress: BondStress) -> tuple[Finding, ...]:
    """Findings of the bent plate."""
    pressed = max((stress.outward, stress.inward), key=lambda each: max(each.glass_stress))
    found = [_stressed(subject, stress, PRESSED, pressed, f"at {number(pressed.pressure)} kPa {pressed.direction}")]
    given, result = subject.pane.loads.patch, stress.patch
    if given is None:
        return tuple(found)
    if result is None:
        off = "the load on a part of the glass does not lie on it with all its area"
        return (*found, *(_open(must, off) for must in (BEAD, PATCHED)))
    under = f"under {number(given.force, 0)} N at X {number(given.x, 0)}, Y {number(given.y, 0)}"
    return (*found, _bead(subject, ledger, stress, result, under), _stressed(subject, stress, PATCHED, result, under))


def _open(must: Constraint, why: str) -> Finding:
    return replace(must.not_checked(what="plate"), says=f"not checked: {why}", missing=why)


def _bead(subject: Subject, ledger: Ledger, stress: BondStress, result: PressureResult, under: str) -> Finding:
    place = pulled_hardest(result.reactions)
    design, greatest = subject.asked("adhesive.design_tension", unit="MPa"), greatest_tension(subject, ledger)
    tension = ledger.work(
        "tension across the bead, load on a part of the glass",
        bond.band_tension,
        reaction=max(0.0, place.reaction),
        bond_width=stress.bond_width,
    )
    edge = edge_place(subject.detail.curves.glass, place.point)[3]
    return BEAD.judged(
        value=tension.value,
        limit=greatest.value,
        look=design.value if design.value < greatest.value else None,
        where=f"{edge}, X {number(place.point.x, 0)}, Y {number(place.point.y, 0)}",
        at=place.point,
        part=edge,
        says=f"{number(tension.value, 3)} MPa across the bead {under}; the pane rises {mm(result.uplift.value)} there",
        remedies=(Remedy(f"ask the engineer about {number(tension.value, 3)} MPa there"),),
        figure=tension,
        defaults=defaults_of(design, greatest),
    )


def _stressed(subject: Subject, stress: BondStress, must: Constraint, result: PressureResult, under: str) -> Finding:
    allowed, worst = allowed_stress(subject), max(result.glass_stress)
    told = f"{number(worst)} MPa {under}, bends {number(result.deflection.value)} mm"
    if result.large is not None:
        told += " by large deflection"
    if not stress.error.glass_holds:
        told += f", mesh error {number(100 * stress.error.glass_stress, 0)} %"
    if allowed.value is None:
        return must.not_checked(what=NO_ALLOWED).but_says(told)
    return must.judged(
        value=worst,
        limit=float(allowed.value),
        says=f"{told}; the rule that governs decides",
        remedies=(Remedy(f"ask the engineer about {number(worst)} MPa, or take thicker glass"),),
        defaults=defaults_of(subject.asked("glass.shear_coupling")),
    )


__all__ = ["BEAD", "PATCHED", "PRESSED", "findings", "patch_of", "without_plate"]
