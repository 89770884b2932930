"""Where the chocks stand: on a sill that holds the pane, in a joint high enough for them, clear of the corners."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.detail.blocks import chock_sites
from geometry.detail.edges import ROUND, edges_of
from geometry.detail.parts import BlockKind
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side
from geometry.outline import nearest_station, station_at
from geometry.rules.calculation import Status
from geometry.rules.holding import chocks as rules
from geometry.rules.rounding import mm, number, up
from geometry.workings.bead_movement import setting_chocks

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Chock
    from geometry.ledger.figure import Ledger
    from geometry.outline import Point
    from geometry.workings.subject import Subject

FLAT = 1e-4  # sine of the turn over half a block below which it stands straight
PRACTICE = "common practice, no source"


LEVEL = Constraint(
    "sill level enough for friction, or blocked at its low end",
    side=Side.AT_MOST,
    unit="",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.sill_slope",
)
HEIGHT = Constraint(
    "chocks of a height that can be had",
    side=Side.AT_LEAST,
    unit="mm",
    source="a maker's notes on rubber blocks, at second hand",
    status=Status.SECOND_HAND,
    limit_key="limits.chock_height_least",
)
CURVED = Constraint(
    "straight block on a curved edge has its height",
    side=Side.AT_LEAST,
    unit="mm",
    source="sagitta of the curve over the block; the least height: a maker's notes on rubber blocks, at second hand",
    status=Status.DERIVED,
    limit_key="limits.chock_height_least",
)
CLEAR = Constraint(
    "chocks clear of the corners",
    side=Side.AT_LEAST,
    unit="mm",
    source="an atlas of glass building: at least 20 mm from the corner; the rest common practice",
    status=Status.SECOND_HAND,
    limit_key="limits.chock_end_from_corner",
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Findings about the places of the chocks; the pane has setting chocks."""
    setting = setting_chocks(subject)
    return (*_level(subject, ledger, setting), _height(subject), *_clear(subject))


def even_chocks(subject: Subject) -> tuple[Remedy, ...]:
    """Two chocks even about the centroid, as they are placed where the job gives no places."""
    detail = subject.detail
    sites = chock_sites(
        detail.curves.glass,
        detail.centroid,
        rake=detail.rake,
        length=subject.sizes.chock_length.value,
        out=subject.pane.setting_out,
        limits=subject.pane.limits,
    )
    places = [round(site.station.point.x, 1) for kind, site in sites if kind == BlockKind.SETTING]
    words = " and ".join(number(place) for place in places)
    if subject.pane.chocks.at is None:
        return (
            Remedy(f"carry the pane on a sill that reaches to either side of its centroid at X {number(detail.centroid.x, 0)}"),
        )
    return (Remedy(f"stand the chocks at X {words}, even about the centroid", (Change("chocks.at", places),)),)


def _level(subject: Subject, ledger: Ledger, setting: tuple[Chock, ...]) -> tuple[Finding, ...]:
    """The slope of a straight sill; a round pane has none."""
    if setting[0].edge == ROUND:
        return ()
    slope, limit = (setting[0].angle + 90.0) % 180.0 - 90.0, subject.limit("sill_slope")
    rise = ledger.work("rise of the sill", rules.sill_rise, sill_slope=slope)
    block = next((chock for chock in subject.detail.chocks if chock.kind == BlockKind.SIDE), None)
    held = block is not None and abs(slope) > 1e-9
    says = f"the sill slopes by {number(abs(slope), 2)}°"
    if held and block is not None:
        says += f", {block.mark} holds the low end"
    return (
        LEVEL.judged(
            value=0.0 if held else rise.value,
            limit=limit.value,
            where=setting[0].edge,
            at=middle_of(subject, setting[0]),
            part=setting[0].edge,
            says=says,
            remedies=(Remedy("stand 1 side block at the low end of the sill"),),
            figure=rise,
            defaults=defaults_of(limit),
        ),
    )


def middle_of(subject: Subject, chock: Chock) -> Point:
    """The middle of the straight edge that a chock stands under; its own place where it stands under none."""
    return next((middle for name, middle, _ in subject.detail.edge_middles if name == chock.edge), chock.foot)


def _height(subject: Subject) -> Finding:
    least = subject.limit("chock_height_least")
    blocks = [chock for chock in subject.detail.chocks if chock.kind != BlockKind.LOCATION]
    lowest = min(blocks, key=lambda chock: round(chock.height, 6))
    remedies: tuple[Remedy, ...] = (Remedy(f"take {mm(up(least.value - lowest.height, 0.5))} off the recess at {lowest.mark}"),)
    if not subject.surveyed:
        wider = up(subject.sizes.joint_width.value + least.value - lowest.height, 0.5)
        remedies = (Remedy(f"widen the joint to {mm(wider)}", (Change("joint.width", wider),)),)
    return HEIGHT.judged(
        value=lowest.height,
        limit=least.value,
        where=lowest.mark,
        at=lowest.foot,
        part=lowest.mark,
        says=f"{lowest.mark} fills a joint of {mm(lowest.height)}",
        remedies=remedies,
        defaults=defaults_of(least),
    )


def _clear(subject: Subject) -> tuple[Finding, ...]:
    """Blocks on straight edges: from their end to where the rounding of the corner begins."""
    edges = {edge.name: edge for edge in edges_of(subject.detail.curves.glass)}
    found = []
    for chock in subject.detail.chocks:
        edge = edges.get(chock.edge)
        if edge is not None:
            nearer = min(chock.distance - edge.first, edge.last - chock.distance)
            found.append((round(nearer - chock.length / 2, 6), chock))
    if not found:
        return ()
    ends, middles = subject.limit("chock_end_from_corner"), subject.limit("chock_from_corner")
    left, nearest = min(found, key=lambda each: each[0])
    looked = max(ends.value, middles.value - nearest.length / 2)
    return (
        CLEAR.judged(
            value=left,
            limit=ends.value,
            look=looked,
            where=nearest.mark,
            at=nearest.foot,
            part=nearest.mark,
            says=f"{nearest.mark} ends {mm(left)} from where the rounding of its corner begins",
            remedies=lambda: even_chocks(subject) if subject.pane.chocks.at is not None else _shorter(subject, left, looked),
            defaults=(*defaults_of(ends), *defaults_of(middles)),
        ),
    )


def on_curves(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    """The straight block that has least of its joint where wall or glass curve towards it; none where every block stands straight."""
    found = []
    for chock in subject.detail.chocks:
        radius = _curve_at(subject, chock)
        if radius is not None:
            left = ledger.work(
                "height left for a straight block on the curve",
                rules.height_on_curve,
                where=chock.mark,
                joint_width=chock.height,
                radius=radius,
                length=subject.sizes.chock_length,
            )
            found.append((left, radius, chock))
    if not found:
        return
    least = subject.limit("chock_height_least")
    left, radius, chock = min(found, key=lambda each: round(each[0].value, 6))
    shorter = math.floor(rules.length_on_curve(rise=chock.height - least.value, radius=radius) / 5.0 + 1e-9) * 5.0
    remedies = [Remedy(f"cut {mm(chock.length)} blocks to the curve of the wall, radius {mm(radius)}")]
    if subject.limit("chock_length_shortest").value <= shorter < chock.length:
        remedies.insert(0, Remedy(f"make the chocks {mm(shorter)} long", (Change("chocks.length", shorter),)))
    yield CURVED.judged(
        value=left.value,
        limit=least.value,
        where=chock.mark,
        at=chock.foot,
        part=chock.mark,
        says=f"over the {mm(chock.length)} of {chock.mark} a curve of radius {mm(radius)} takes {mm(chock.height - left.value)} of the joint"
        f" of {mm(chock.height)}",
        remedies=tuple(remedies),
        figure=left,
        defaults=defaults_of(least),
    )


def _curve_at(subject: Subject, chock: Chock) -> float | None:
    """Radius, mm, of what curves towards the block over its length: the wall round a pane, the glass in a cut-out; None on a straight."""
    curves, half = subject.detail.curves, chock.length / 2
    found = []
    for outline, towards in ((curves.recess, 1.0), (curves.glass, -1.0)):
        along = nearest_station(outline, chock.foot).length_along
        first, middle, last = (station_at(outline, along + step * half).point for step in (-1.0, 0.0, 1.0))
        a, b = (middle.x - first.x, middle.y - first.y), (last.x - middle.x, last.y - middle.y)
        turn = towards * (a[0] * b[1] - a[1] * b[0])  # twice the area of the three places; + where they bend towards the block
        one, two, whole = math.hypot(*a), math.hypot(*b), math.dist(first, last)
        if turn > FLAT * one * two:
            found.append(one * two * whole / (2 * turn))
    return min(found, default=None)


def _shorter(subject: Subject, left: float, wanted: float) -> tuple[Remedy, ...]:
    length = math.floor((subject.sizes.chock_length.value - 2 * (wanted - left)) / 5.0 + 1e-9) * 5.0
    if length < subject.limit("chock_length_shortest").value:  # shorter blocks are no longer setting blocks
        return ()
    return (Remedy(f"make the chocks {mm(length)} long", (Change("chocks.length", length),)),)


__all__ = ["CLEAR", "CURVED", "HEIGHT", "LEVEL", "even_chocks", "findings", "middle_of", "on_curves"]
