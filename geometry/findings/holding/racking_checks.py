"""A frame that racks as the vessel works: shear of the bead and strain of the sealant, on top of heat.

Terms
-----
racking
    Of the frame in the plane of the pane, head against sill over the height, either way: ``loads.frame_racking``, from the
    engineer. The pane keeps its angles and turns as far as the bead makes it: what is left shears the bead and moves the joint.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.findings.checks import found_by
from geometry.findings.holding.bond_remedies import thicker_bond
from geometry.findings.holding.joint_checks import CORNER_STRAIN, STRAIN, corner_strain, side_strain
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side
from geometry.rules.calculation import Status
from geometry.rules.holding import bond, thermal
from geometry.rules.rounding import mm, number, up
from geometry.workings.glass_edge import edge_place
from geometry.workings.movement import movement_of, racked_movement

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.movement import Movement
    from geometry.workings.subject import Subject

SHEAR = Constraint(
    "shear of the bead as the frame racks",
    side=Side.AT_MOST,
    unit="%",
    source="rigid pane against a frame that stretches and racks; the racking is the engineer's; limits: common practice, no source",
    status=Status.DERIVED,
    limit_key="adhesive.greatest_shear_strain",
)
RACKED = STRAIN.but(name="sealant strain as the frame racks")
RACKED_CORNER = CORNER_STRAIN.but(name="sealant strain in the rounded corners as the frame racks")
HOW = ", frame racked"


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


def _racks(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    racking = subject.asked("loads.frame_racking", scale=0.001)
    if racking.value is None:
        return tuple(each.not_checked(what="racking of the frame") for each in (SHEAR, RACKED))
    racked = racked_movement(subject, ledger, racking.value)
    # a frame that does not rack is among what may be, and a racking may lift the pane off a chock: the worst of all counts
    together = replace(racked, cases=(*racked.cases, *movement_of(subject, ledger).all_cases()))
    return (
        _shear(subject, ledger, together),
        side_strain(subject, ledger, together, RACKED, HOW),
        *corner_strain(subject, ledger, together, RACKED_CORNER, HOW),
    )


def _shear(subject: Subject, ledger: Ledger, movement: Movement) -> Finding:
    case = max(movement.cases, key=lambda each: round(each.shear.largest, 9))
    thickness = subject.sizes.bond_thickness
    strain = ledger.work(
        "shear strain of the bead, frame racked", thermal.shear_strain, movement=case.shear.largest, bond_thickness=thickness
    )
    design, most = subject.asked("adhesive.design_shear_strain"), subject.asked("adhesive.greatest_shear_strain")
    thicker = up(bond.thickness_for_movement(movement=case.shear.largest, shear_strain=design.value / 100), 0.5)
    at = case.stations[case.worst_shear_index].point
    edge = edge_place(subject.detail.curves.glass, at)[3]
    return SHEAR.judged(
        value=100 * strain.value,
        limit=most.value,
        look=design.value,
        where=f"{edge}, {case.name}",
        at=at,
        part=edge,
        says=f"with a racking of {number(subject.asked('loads.frame_racking').value)} mm/m the glass moves"
        f" {number(case.shear.largest, 2)} mm against the frame over {mm(thickness.value)} of bond",
        remedies=lambda: (Remedy(f"lay the bond {mm(thicker)} thick", thicker_bond(subject, thicker)),),
        figure=strain,
        defaults=(*case.defaults, *defaults_of(design, most)),
    )


CHECKS = (_racks,)

__all__ = ["RACKED", "RACKED_CORNER", "SHEAR", "findings"]
