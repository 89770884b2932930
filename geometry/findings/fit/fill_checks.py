"""What fills the joint: room for nozzle and tool, depth of the backfill, its hold on the glass edge, room for the backer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.fit.bead_remedies import down
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.fit import section_room
from geometry.rules.holding import joint as joint_rules
from geometry.rules.rounding import mm, up
from geometry.workings.joint_round import joint_round_of
from geometry.workings.section_sums import joints_as_drawn

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject

FLOAT_THICKNESSES = (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 19.0, 25.0)  # mm, nominal: EN 572-2, from memory
PRACTICE = "common practice, no source"


TOOL = Constraint(
    "joint wide enough for nozzle and tool",
    side=Side.AT_LEAST,
    unit="mm",
    source="Handbook of Adhesives and Sealants, joint design: 1/4 inch",
    status=Status.PUBLISHED,
    short=Verdict.LOOK,
    limit_key="limits.joint_for_tool",
)
BACKFILL = Constraint(
    "backfill deep enough",
    side=Side.AT_LEAST,
    unit="mm",
    source="Handbook of Adhesives and Sealants, joint design: 1/4 inch",
    status=Status.PUBLISHED,
    short=Verdict.LOOK,
    limit_key="limits.backfill_least",
)
GLASS_EDGE = Constraint(
    "backfill held by the glass edge",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.glass_edge_left",
)
BACKER = Constraint(
    "room for the backer", side=Side.AT_LEAST, unit="mm", source=PRACTICE, status=Status.COMMON_PRACTICE, short=Verdict.LOOK
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of the joint's filling as drawn."""
    return (_tool(subject), _backfill(subject, ledger), _glass_edge(subject, ledger), _backer(subject, ledger))


def _tool(subject: Subject) -> Finding:
    least, limit = joints_as_drawn(subject)[0], subject.limit("joint_for_tool")

    def remedies() -> Iterator[Remedy]:
        pane, more = subject.pane, up(limit.value - least.value, 0.5)
        if subject.surveyed:
            yield Remedy(f"take {mm(more)} off the pane, or out of the recess, along {least.where}")
        elif pane.recess.radius is None:
            wide = least.value + more
            landing = () if pane.recess.landing is None else (Change("recess.landing", pane.recess.landing + more),)
            yield Remedy(f"make the joint {mm(wide)} wide all round", (Change("joint.width", wide), *landing))
        else:
            yield _wider_with_radii(subject, more)

    return TOOL.judged(
        value=least.value,
        limit=limit.value,
        where=least.where,
        at=least.at,
        part=least.part,
        says=f"the joint is {mm(least.value)} as drawn, a nozzle and a tool want {mm(limit.value)}",
        remedies=remedies,
        defaults=defaults_of(limit),
    )


def _wider_with_radii(subject: Subject, more: float) -> Remedy:
    """A wider recess keeps its even joint round the corners when its radii grow with it."""
    pane = subject.pane
    given, wide = pane.recess.radius, subject.sizes.joint_width.value + more
    assert given is not None
    radius = [each + more for each in given] if isinstance(given, tuple) else given + more
    landing = () if pane.recess.landing is None else (Change("recess.landing", pane.recess.landing + more),)
    changes = (Change("joint.width", wide), Change("recess.radius", radius), *landing)
    return Remedy(f"make the joint {mm(wide)} wide all round", changes)


def _backfill(subject: Subject, ledger: Ledger) -> Finding:
    sizes, limit, edge = subject.sizes, subject.limit("backfill_least"), subject.limit("glass_edge_left")
    depth = sizes.backfill_depth.value
    left = _edge_left(subject, ledger).value + depth - edge.value
    remedies: list[Remedy] = []
    deeper = up(limit.value, 0.5)
    if left >= deeper:
        remedies.append(Remedy(f"fill the joint {mm(deeper)} deep", (Change("joint.backfill_depth", deeper),)))
    else:
        glass = next((each for each in FLOAT_THICKNESSES if each >= deeper + edge.value), None)
        if glass is not None and len(subject.pane.glass.plies) == 1 and glass > sizes.glass_thickness.value:
            recess = up(sizes.bond_thickness.value + glass, 0.5)
            changes = (
                Change("glass.plies", [glass]),
                Change("recess.depth", recess),
                Change("joint.backfill_depth", deeper),
            )
            remedies.append(Remedy(f"take glass of {mm(glass)} in a recess {mm(recess)} deep and fill {mm(deeper)}", changes))
        remedies.append(Remedy(f"cap the joint with a bead at least {mm(limit.value)} deep over glass edge and skin"))
    return BACKFILL.judged(
        value=depth,
        limit=limit.value,
        says=f"the backfill is {mm(depth)} deep in a joint of {mm(sizes.joint_width.value)}",
        remedies=tuple(remedies),
        defaults=defaults_of(limit),
    )


def _edge_left(subject: Subject, ledger: Ledger) -> Figure:
    sizes = subject.sizes
    return ledger.work(
        "glass edge below the backfill",
        section_room.glass_edge_left,
        glass_thickness=sizes.glass_thickness,
        backfill_depth=sizes.backfill_depth,
        proud=sizes.proud,
    )


def _glass_edge(subject: Subject, ledger: Ledger) -> Finding:
    left, limit = _edge_left(subject, ledger), subject.limit("glass_edge_left")
    shallow = down(subject.sizes.backfill_depth.value + left.value - limit.value, 0.5)
    remedies: tuple[Remedy, ...] = ()
    if shallow >= 1:
        remedies = (Remedy(f"fill the joint only {mm(shallow)} deep", (Change("joint.backfill_depth", shallow),)),)
    return GLASS_EDGE.judged(
        value=left.value,
        limit=limit.value,
        says=f"{mm(left.value)} of glass edge stays below the backfill",
        remedies=remedies,
        figure=left,
        defaults=defaults_of(limit),
    )


def _backer(subject: Subject, ledger: Ledger) -> Finding:
    sizes, share = subject.sizes, subject.limit("backer_room")
    room = ledger.work(
        "room for the backer",
        joint_rules.backer_room,
        bond_thickness=sizes.bond_thickness,
        glass_thickness=sizes.glass_thickness,
        backfill_depth=sizes.backfill_depth,
        backer_diameter=sizes.backer_diameter,
        share=share,
    )
    shallow = down(sizes.backfill_depth.value + room.value, 0.5)
    remedies = [Remedy(f"lay bond-breaker tape {mm(sizes.joint_width.value)} wide in place of the backer")]
    if shallow >= subject.limit("backfill_least").value:
        remedies.insert(0, Remedy(f"fill the joint only {mm(shallow)} deep", (Change("joint.backfill_depth", shallow),)))
    return BACKER.judged(
        value=room.value,
        limit=0.0,
        says=f"a backer of {mm(sizes.backer_diameter.value)}, pressed in, leaves {mm(room.value)} below it{_by_place(subject)}",
        remedies=tuple(remedies),
        figure=room,
    )


def _by_place(subject: Subject) -> str:
    """Where the joint is not the same all round: that the backer serves its widest place, and what its narrowest would take."""
    if subject.pane.recess_outline is None:
        return ""
    joint, oversize = joint_round_of(subject), float(subject.limit("backer_oversize").value)
    wide, narrow = joint.widest, joint.least
    if wide.width - narrow.width < 0.05 or wide.width <= 0:
        return ""
    told = f"; it serves the joint of {mm(wide.width)} at {wide.name}, "
    if narrow.width <= 0:
        return told + f"at {narrow.name} none has room"
    return (
        told
        + f"that of {mm(narrow.width)} at {narrow.name} would take {mm(narrow.width * oversize)}: the record lists every station"
    )


__all__ = ["findings"]
