"""Sizes of the glass that the furnace sets limits to: re-entrant corners, cut-outs, the least pane.

Terms
-----
cut-out
    What is cut out of a pane at a re-entrant corner. Its sides run from there to the next corner; each is held against the size
    of the pane in the same direction.
least pane
    The smallest pane that the rollers of a toughening furnace carry: short and long side.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.findings.corners.corner_remedies import glass_radii, recess_radius
from geometry.findings.fit.bead_remedies import down
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import Corner, Outline, Point, bounding_box, corners
from geometry.outline.stations import places_along
from geometry.rules.calculation import Status
from geometry.rules.fit import corner as corner_rules
from geometry.rules.rounding import mm, number, up

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

FURNACE = ("toughened", "heat_strengthened")


RADIUS = Constraint(
    "re-entrant corner round enough for the furnace",
    side=Side.AT_LEAST,
    unit="mm",
    source="guides of glass toughening",
    status=Status.SECOND_HAND,
)
SHARE = Constraint(
    "cut-out small against the pane",
    side=Side.AT_MOST,
    unit="%",
    source="guides of glass toughening: a third of the narrow dimension",
    status=Status.SECOND_HAND,
    short=Verdict.LOOK,
    limit_key="limits.cut_out_share",
)
LEAST = Constraint(
    "pane large enough to toughen",
    side=Side.AT_LEAST,
    unit="mm",
    source="one processor's least pane: ask yours",
    status=Status.SECOND_HAND,
    short=Verdict.LOOK,
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding on cut-outs and sizes; none on cut-outs where the pane has no re-entrant corner."""
    with_cut_out = [at for at in corners(subject.detail.curves.glass) if not at.convex]
    found = [_radius(subject, ledger, with_cut_out), _share(subject, ledger, with_cut_out)] if with_cut_out else []
    return (*found, *_least(subject))


def _radius(subject: Subject, ledger: Ledger, with_cut_out: list[Corner]) -> Finding:
    worst = min(with_cut_out, key=lambda at: round(at.radius, 9))
    needed = ledger.work(
        "re-entrant radius needed",
        corner_rules.re_entrant_radius_needed,
        glass_thickness=subject.sizes.glass_thickness,
        least=subject.limit("re_entrant_radius"),
    )
    wanted = {}
    for at in with_cut_out:
        even = recess_radius(subject, at) + subject.sizes.joint_width.value if not subject.surveyed else 0.0
        wanted[at.number] = max(at.radius, up(max(needed.value, even)))

    def remedies() -> Iterator[Remedy]:
        listed, changes = " and ".join(mm(radius) for radius in sorted(set(wanted.values()))), glass_radii(subject, wanted)
        if changes:
            yield Remedy(f"round the re-entrant corner of the glass to {listed}", changes)

    return RADIUS.judged(
        value=worst.radius,
        limit=needed.value,
        where=f"V{worst.number}",
        at=worst.on_glass,
        part=f"V{worst.number}",
        says=f"the cut-out is rounded to {mm(worst.radius)} in glass of {mm(subject.sizes.glass_thickness.value)}",
        remedies=remedies,
        defaults=needed.defaults,
    )


def cut_out_sides(glass: Outline, at: Corner) -> tuple[tuple[float, float], ...]:
    """Both sides of the cut-out at a re-entrant corner, each with the size of the pane in its direction, mm."""
    sharp = corners(glass)
    places = places_along(glass, spacing=math.inf)
    found = []
    for other in (sharp[(at.number - 2) % len(sharp)], sharp[at.number % len(sharp)]):
        side = math.dist(at.theoretical, other.theoretical)
        way = Point((other.theoretical.x - at.theoretical.x) / side, (other.theoretical.y - at.theoretical.y) / side)
        reach = [place.x * way.x + place.y * way.y for place in places]
        found.append((side, max(reach) - min(reach)))
    return tuple(found)


def _share(subject: Subject, ledger: Ledger, with_cut_out: list[Corner]) -> Finding:
    glass, limit = subject.detail.curves.glass, subject.limit("cut_out_share")
    sides = [(side, size, at) for at in with_cut_out for side, size in cut_out_sides(glass, at)]
    side, size, worst = max(sides, key=lambda each: round(each[0] / each[1], 9))
    share = ledger.work("cut-out as a share of the pane", corner_rules.cut_out_share, cut_out=side, pane=size)
    most = down(size * limit.value / 100)
    return SHARE.judged(
        value=share.value,
        limit=limit.value,
        where=f"V{worst.number}",
        at=worst.on_glass,
        part=f"V{worst.number}",
        says=f"the cut-out takes {mm(side)} of {mm(size)}: {number(share.value)} %",
        remedies=(Remedy(f"keep the cut-out to {mm(most)} of {mm(size)}, or ask the supplier whether it can be toughened"),),
        figure=share,
        defaults=defaults_of(limit),
    )


def _least(subject: Subject) -> Iterator[Finding]:
    if subject.pane.glass.treatment not in FURNACE:
        return
    limit, box = subject.limit("least_pane"), bounding_box(subject.detail.curves.glass)
    sides, least = sorted((box.width, box.height)), sorted(limit.value)
    side, bound = min(zip(sides, least, strict=True), key=lambda pair: round(pair[0] - pair[1], 9))
    words = f"{number(sides[1])} × {number(sides[0])} mm"
    yield LEAST.judged(
        value=side,
        limit=bound,
        says=f"the pane is {words}, the least is {number(least[1])} × {number(least[0])} mm",
        remedies=(Remedy(f"ask the supplier for {words} toughened, or have it chemically strengthened"),),
        defaults=defaults_of(limit),
    )


__all__ = ["cut_out_sides", "findings"]
