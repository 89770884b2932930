"""The pane bent on its elastic bead under pressure: tension along the bead, peel at its edge, bending, and what may be trusted.

Terms
-----
band tension
    Reaction at a place over the bond width: the mean across the bead, which is what the trapezoidal rule gives as well and what
    its design stress is meant for. Beyond that stress a person looks, for it goes with that rule, which spreads the load; beyond the
    adhesive's strength over its factor, or so many times the design stress, the pane fails.
local peak
    The greatest stretch at one edge of the bead, where the bent pane peels it, given as a strain: across a bead held on both faces the
    stress is no straight line. What it adds to the mean is held against the limit of peel. A softer bead strains more there; the quick
    check of peel, on a pane that turns freely, is the bound.
modulus across the bead
    Of a strip held on both faces, unless the job gives the adhesive's own: the upper bound, which gathers the load most. A bead
    four times softer may pull a third as hard at lifted corners and little less along straight edges.
Stiff frame, bead of full width: information for the engineer and never an approval of the glass. Where the pane bends far its figures are
those of large deflection; linear theory, which exceeds them, stands beside.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from geometry.findings.holding import combined_checks, glass_stress_checks, patch_checks
from geometry.findings.holding.tension_limit import greatest_tension, limit_in_words
from geometry.ledger.figure import Ledger, Sourced, defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.plate.results import pulled_hardest
from geometry.rules.calculation import Status
from geometry.rules.holding import bond
from geometry.rules.rounding import mm, number
from geometry.workings.glass_edge import edge_place

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Figure
    from geometry.outline import Outline, Point
    from geometry.plate.results import BondStress, PressureResult
    from geometry.workings.subject import Subject

THEORY = "thin plate on an elastic bead by finite elements, linear or by large deflection (von Karman) as told"
PLATE = f"{THEORY}; the design stress is the engineer's"


OUTWARD = Constraint(
    "tension along the bead, pane bent on it",
    side=Side.AT_MOST,
    unit="MPa",
    source=PLATE,
    status=Status.DERIVED,
    limit_key="adhesive.design_tension",
)
INWARD = replace(OUTWARD, name="tension of the bead where inward pressure lifts the pane")
PEEL = Constraint(
    "peel of the bead's edge, pane bent on it",
    side=Side.AT_MOST,
    unit="%",
    source=f"{THEORY}; limit: own default",
    status=Status.DERIVED,
    short=Verdict.LOOK,
    limit_key="limits.peel_strain",
)
BENDING = Constraint(
    "bending of the pane within linear theory",
    side=Side.AT_MOST,
    unit="%",
    source="theory of thin plates (Timoshenko and Woinowsky-Krieger)",
    status=Status.PUBLISHED,
    short=Verdict.LOOK,
    limit_key="limits.linear_deflection",
)
TRUST = Constraint(
    "error of the plate's mesh",
    side=Side.AT_MOST,
    unit="%",
    source="change from a coarse mesh to one with every triangle cut into four",
    status=Status.DERIVED,
    short=Verdict.LOOK,
    limit_key="limits.plate_error",
)


def plate_of(subject: Subject) -> BondStress | None:
    """The pane bent on its bead; None where the job gives it no pressure. A pressure left out counts as none.

    Seconds. Raises ``PlateInputError`` and ``PlateMeshError`` where it cannot be worked out.
    """
    pressure, curves = subject.pane.pressure, subject.detail.curves
    if pressure.outward is None and pressure.inward is None:
        return None
    from geometry.plate.glass import GlassBuildUp

    glass = subject.pane.glass
    return _kept(
        curves.glass,
        curves.bead_outer,
        curves.bead_inner,
        build_up=GlassBuildUp(
            glass.plies,
            glass.interlayers,
            shear_coupling=glass.shear_coupling / 100,
            young_modulus=_young_modulus(subject).value,
            poisson=_poisson(subject).value,
        ),
        bond_thickness=subject.sizes.bond_thickness.value,
        effective_modulus=float(_modulus(subject, Ledger()).value),
        outward=pressure.outward or 0.0,
        inward=pressure.inward or 0.0,
        shear_modulus=float(subject.asked("adhesive.shear_modulus", unit="MPa").value),
        printed_inside=curves.frit_inner,
        patch=patch_checks.patch_of(subject),
    )


@lru_cache(maxsize=8)
def _kept(*outlines: Outline, **given: Any) -> BondStress:
    """The plate, kept: most changes of a job leave it as it is."""
    from geometry.plate.bond import bond_stress

    return bond_stress(*outlines, **given)


def worked_out(subject: Subject, ledger: Ledger) -> tuple[BondStress | None, tuple[Finding, ...]]:
    """The pane bent on its bead and its findings; where no mesh can be made of it, the one finding says so."""
    from geometry.plate.mesh import PlateMeshError

    try:
        stress = plate_of(subject)
    except PlateMeshError as error:
        failed = OUTWARD.not_checked(what="pressure", decides=True)
        return None, (replace(failed, says=f"not checked: {error}", missing=str(error)),)
    return stress, tuple(finding.with_remedies() for finding in findings(subject, ledger, stress))


def findings(subject: Subject, ledger: Ledger, stress: BondStress | None) -> tuple[Finding, ...]:
    """Every finding of the plate; not checked where no pressure is given."""
    if stress is None:
        return (OUTWARD.not_checked(what="pressure", decides=True), *patch_checks.without_plate(subject))
    results = [each for each in (stress.outward, stress.inward) if _given(subject, each).value is not None]
    return (
        _along(subject, ledger, stress, OUTWARD, stress.outward),
        _along(subject, ledger, stress, INWARD, stress.inward),
        _peel(subject, ledger, stress),
        *_bending(subject, ledger, stress),
        *glass_stress_checks.findings(subject, ledger, stress, results),
        _trust(subject, stress),
        *combined_checks.findings(subject, ledger, stress),
        *patch_checks.findings(subject, ledger, stress),
    )


def _along(subject: Subject, ledger: Ledger, stress: BondStress, must: Constraint, result: PressureResult) -> Finding:
    if _given(subject, result).value is None:
        return must.not_checked(what=f"{result.direction} pressure", decides=True)
    place = pulled_hardest(result.reactions)
    design = subject.asked("adhesive.design_tension", unit="MPa")
    tension = ledger.work(
        f"tension across the bead, {result.direction} pressure",
        bond.band_tension,
        reaction=max(0.0, place.reaction),
        bond_width=stress.bond_width,
    )
    modulus, greatest = _modulus(subject, ledger), greatest_tension(subject, ledger)
    stretched = 100 * result.peak_tension.value / modulus.value
    says = (
        f"{number(tension.value, 3)} MPa across the bead at {number(result.pressure)} kPa {result.direction},"
        f" its edge stretched {number(stretched)} %, {number(abs(result.mean), 3)} MPa {'pull' if result.mean > 0 else 'pressure'} on average"
    )
    says += _theory(result, f"{number(result.linear.band_tension, 3)} MPa")
    if tension.value > 0.0:
        ratio = combined_checks.bent_over_rule(subject, ledger, tension, result.direction)
        says += f"; {number(ratio.value, 2)} times what the rule has for as much pressure outward"
    if tension.value > min(design.value, greatest.value):
        says += f"; {limit_in_words(subject, greatest)}"
    says += f"; {number(modulus.value)} MPa across the bead" + ("" if isinstance(modulus, Sourced) else ", held on both faces")
    if result.uplift.value > 0.005:
        says += f"; the pane rises {mm(result.uplift.value)} against the pressure"
    asked = f"ask the engineer about {number(tension.value, 3)} MPa there"
    return must.judged(
        value=tension.value,
        limit=greatest.value,
        look=design.value if design.value < greatest.value else None,
        where=_where(subject, place.point),
        at=place.point,
        part=_edge(subject, place.point),
        says=says,
        remedies=(Remedy(asked),),
        figure=tension,
        defaults=(*defaults_of(modulus), *defaults_of(design, greatest)),
    )


def _peel(subject: Subject, ledger: Ledger, stress: BondStress) -> Finding:
    """The edge of the bead that is stretched most beyond the mean across it, under either pressure that is given."""
    results = [each for each in (stress.outward, stress.inward) if _given(subject, each).value is not None]
    modulus, limit = _modulus(subject, ledger), subject.limit("peel_strain")
    found = []
    for result in results:
        peak = result.peak_tension
        at = min(result.reactions, key=lambda each: (each.point.x - peak.point.x) ** 2 + (each.point.y - peak.point.y) ** 2)
        mean = max(0.0, at.reaction / stress.bond_width)  # an edge that is pressed does not peel
        strain = ledger.work(
            f"extra strain at the edge of the bead, {result.direction} pressure",
            bond.edge_strain,
            peak=peak.value,
            mean=min(mean, peak.value),
            modulus=modulus,
        )
        found.append((strain, result, mean))
    strain, result, mean = max(found, key=lambda each: round(float(each[0].value), 9))
    peak = result.peak_tension
    return PEEL.judged(
        value=100 * strain.value,
        limit=limit.value,
        where=_where(subject, peak.point),
        at=peak.point,
        part=_edge(subject, peak.point),
        says=f"the bead is stretched {number(100 * peak.value / modulus.value)} % at its edge and {number(100 * mean / modulus.value)} %"
        f" on average across it, {number(result.pressure)} kPa {result.direction}",
        remedies=(Remedy(f"ask the engineer whether the bead bears {number(100 * strain.value, 0)} % more at its edge"),),
        figure=strain,
        defaults=defaults_of(limit),
    )


def _bending(subject: Subject, ledger: Ledger, stress: BondStress) -> Iterator[Finding]:
    """Pressures whose figures rest on linear theory; none is judged where large deflection stands behind them all."""
    linear = [each for each in (stress.outward, stress.inward) if each.large is None and each.pressure > 0]
    if not linear:
        return
    result = max(linear, key=lambda each: each.deflection.value)
    share = ledger.work(
        "deflection over effective thickness",
        bond.deflection_share,
        deflection=max(0.0, result.deflection.value),
        thickness=stress.effective_thickness,
    )
    limit = subject.limit("linear_deflection")
    yield BENDING.judged(
        value=100 * share.value,
        limit=limit.value,
        where=f"{number(result.pressure)} kPa {result.direction}",
        at=result.deflection.point,
        says=f"bends {number(result.deflection.value)} mm, the effective thickness is {number(stress.effective_thickness)} mm"
        + ("; the true deflection is smaller and the figures of the plate are rough" if share.value > limit.value / 100 else ""),
        remedies=(Remedy(f"take the plate's figures at {number(result.pressure)} kPa as rough and ask the engineer"),),
        figure=share,
        defaults=defaults_of(limit),
    )


def _young_modulus(subject: Subject) -> Sourced:
    return subject.glass("young_modulus", register="glass modulus", unit="MPa")


def _poisson(subject: Subject) -> Sourced:
    return subject.glass("poisson", register="glass Poisson's ratio")


def _trust(subject: Subject, stress: BondStress) -> Finding:
    limit = subject.limit("plate_error")
    error = stress.error
    errors = {"bead": max(error.bond_stress, stress.load_balance), "deflection": error.deflection, "glass": error.glass_stress}
    worst = max(errors, key=lambda each: errors[each])
    holds = "" if error.glass_holds else ", which does not hold within 3 %"
    return TRUST.judged(
        value=100 * errors[worst],
        limit=limit.value,
        says=f"peak of the bead within {number(100 * error.bond_stress, 2)} %, deflection within {number(100 * error.deflection, 2)} %,"
        f" stress of the glass within {number(100 * error.glass_stress, 2)} %{holds}; reactions and load agree within"
        f" {_small(100 * stress.load_balance)} %",
        remedies=(Remedy(f"take the figures of the {worst} as {number(100 * errors[worst], 0)} % higher"),),
        defaults=defaults_of(limit),
    )


def _small(percent: float) -> str:
    """A share that is the noise of the sums has no digits worth printing."""
    return number(percent, 2) if percent >= 0.01 else "0.01"


def _theory(result: PressureResult, linear: str) -> str:
    """Says that a figure is by large deflection and what linear theory has instead; nothing where it is linear."""
    return f" by large deflection ({linear} by linear theory)" if result.large is not None else ""


def _given(subject: Subject, result: PressureResult) -> Sourced:
    return subject.asked(f"pressure.{result.direction}", unit="kPa")


def _modulus(subject: Subject, ledger: Ledger) -> Sourced | Figure:
    """Modulus across the bead: the adhesive's own or that of a strip held on both faces, from its shear modulus."""
    own = subject.asked("adhesive.tension_modulus", unit="MPa")
    if own.value is not None:
        return own
    shear = subject.asked("adhesive.shear_modulus", unit="MPa")
    return ledger.work(
        "modulus of the bead across its thickness",
        bond.tension_modulus,
        shear_modulus=shear,
        bond_width=subject.sizes.bond_width,
        bond_thickness=subject.sizes.bond_thickness,
    )


def _edge(subject: Subject, point: Point) -> str:
    return edge_place(subject.detail.curves.glass, point)[3]


def _where(subject: Subject, point: Point) -> str:
    return f"{_edge(subject, point)}, X {number(point.x, 0)}, Y {number(point.y, 0)}"


__all__ = ["BENDING", "INWARD", "OUTWARD", "PEEL", "TRUST", "findings", "plate_of", "worked_out"]
