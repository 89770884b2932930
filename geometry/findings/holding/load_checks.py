"""The loads that stay on the bond, and the first hours of the uncured bead.

Terms
-----
permanent load
    What the bond carries for good: the weight along the pane where no chock stays under it, and the pull-off of a reverse rake.
uncured bead
    Before the cure it holds half of its yield stress at most. Chocks and location blocks take the weight along the pane from the
    first minute; what pulls the pane off its landing needs straps or props.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.detail.edges import ROUND
from geometry.findings.holding.bond_remedies import wider_bead
from geometry.findings.holding.heel_checks import is_ashore, moving_pull_off
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import bounding_box, perimeter
from geometry.rules.calculation import Status
from geometry.rules.holding import bond, green
from geometry.rules.rounding import mm, number
from geometry.workings.bead_movement import is_chocked, setting_chocks, weight_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject


PERMANENT = Constraint(
    "permanent stress of the bond",
    side=Side.AT_MOST,
    unit="MPa",
    source="mean stress over the whole bead, the practice of ASTM C1401; the design stress is the engineer's",
    status=Status.FROM_MEMORY,
)
WITHOUT = Constraint(
    "permanent stress if the chocks were taken out",
    side=Side.AT_MOST,
    unit="MPa",
    source="mean stress over the whole bead, the practice of ASTM C1401; the design stress is the engineer's",
    status=Status.FROM_MEMORY,
    short=Verdict.LOOK,
)
UNCURED = Constraint(
    "uncured bead holds the pane",
    side=Side.AT_MOST,
    unit="",
    source="half of the yield stress of the uncured adhesive (common practice, no source)",
    status=Status.COMMON_PRACTICE,
)


def _permanent(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    chocked = is_chocked(subject)
    load, stress = _permanent_stress(subject, ledger, chocked=chocked)
    design = _permanent_limit(subject, ledger, chocked=chocked)
    what = "off the landing" if chocked else "along the pane and off the landing"
    found = [
        PERMANENT.judged(
            value=round(stress.value, 9),
            limit=design.value,
            says=f"{load.value:.0f} N {what} for good" if load.value > 1e-6 else "chocks or landing carry the pane",
            remedies=partial(_carried_for_good, subject, ledger, load, design),
            figure=stress,
            defaults=design.defaults,
        )
    ]
    if chocked:
        load, stress = _permanent_stress(subject, ledger, chocked=False)
        design = _permanent_limit(subject, ledger, chocked=False)
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
                defaults=design.defaults,
            )
        )
    return tuple(found)


def _carried_for_good(subject: Subject, ledger: Ledger, load: Figure, design: Figure) -> Iterator[Remedy]:
    """Chocks that stay; a wider bead; a hold against what pulls off the landing."""
    if not subject.pane.chocks.permanent and not subject.flat:
        words = f"leave the {len(setting_chocks(subject))} chocks under the pane for good"
        yield Remedy(words, (Change("chocks.permanent", True),))
    for width in _permanent_width(subject, load, design):
        yield Remedy(f"lay a bead {mm(width)} wide", wider_bead(subject, width))
    pull_off = weight_of(subject, ledger).value.pull_off
    if pull_off > 0:
        yield Remedy(f"hold the pane for good against {pull_off:.0f} N off the landing")


def _permanent_limit(subject: Subject, ledger: Ledger, *, chocked: bool) -> Figure:
    """Pull-off is held against the tension, the weight along the pane against the shear that the engineer lets stay."""
    weight = weight_of(subject, ledger).value
    return ledger.work(
        "permanent stress allowed, pane " + ("on its chocks" if chocked else "without chocks"),
        bond.permanent_limit,
        weight_along=weight.along,
        pull_off=weight.pull_off,
        chocked=chocked,
        permanent_shear=subject.asked("adhesive.design_permanent_shear", unit="MPa"),
        permanent_tension=subject.asked("adhesive.design_permanent_tension", unit="MPa"),
    )


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
        load=load,
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


def _permanent_width(subject: Subject, load: Figure, design: Figure) -> list[float]:
    """The narrowest bead of the series that carries a load for good, where one does."""
    if load.value <= 1e-6:
        return []
    needed = bond.width_for_permanent_load(
        permanent_load=load.value,
        permanent_stress=design.value,
        bead_length=perimeter(subject.detail.curves.bead_inner),
    )
    return [width for width in subject.limit("bond_widths").value if width >= max(needed, subject.sizes.bond_width.value + 0.1)][
        :1
    ]


def _fresh(subject: Subject, ledger: Ledger) -> Finding:
    weight = weight_of(subject, ledger)
    pulls: Figure | float = 0.0 if subject.pane.held else moving_pull_off(subject, ledger, weight)
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
        moves = (
            "" if is_ashore(subject) else f", {number(subject.limit('dynamic_factor').value)} times as hard when the boat moves"
        )
        says = (
            f"{weight.value.pull_off:.0f} N off the landing{moves} pull {number(1000 * pull.value, 2)} kPa,"
            f" {number(allowed, 2)} kPa is held"
        )
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
    force = max(0.0, moving_pull_off(subject, ledger, weight).value)
    straps = f"hold the pane with straps or props against {force:.0f} N until the bead can"
    return UNCURED.judged(
        value=use.value,
        limit=1.0,
        says=says,
        remedies=(Remedy(straps, (Change("held", True),)),),
        figure=use,
    )


CHECKS = (_permanent, _fresh)


__all__ = ["PERMANENT", "UNCURED", "WITHOUT"]
