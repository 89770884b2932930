"""The two panes of a pair, port and starboard, held against each other.

Terms
-----
pair
    Two panes that name each other with ``pair``, or whose codes differ in a last P and S alone and whose sides are port and starboard.
mirror image
    The other pane turned over about an upright line and laid over this one, centroid on centroid.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.job.hands import OTHER
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side
from geometry.outline import Outline, Point, centroid, moved, other_hand
from geometry.outline.stations import distance_from, places_along
from geometry.rules.calculation import Status
from geometry.rules.rounding import mm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.job import Job, Pane
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

SPACING = 10.0
"""mm between the places along an outline that are measured."""
LETTERS = {"p": "s", "s": "p"}

MIRRORED = Constraint(
    "mirror image of the pane of the other hand",
    side=Side.AT_MOST,
    unit="mm",
    source="common practice, no source",
    status=Status.COMMON_PRACTICE,
    limit_key="limits.pair_difference",
)


def fellow_of(job: Job, pane: Pane) -> Pane | None:
    """The pane of the other hand, or None where nothing says that there is one."""
    if pane.pair is not None:
        return next((other for other in job.panes if other.code == pane.pair), None)
    for other in job.panes:
        if other.pair == pane.code:
            return other
    code = pane.code.casefold()
    wanted = code[:-1] + LETTERS.get(code[-1], "")
    if pane.side in OTHER and len(wanted) == len(code) > 1:
        return next((o for o in job.panes if o.code.casefold() == wanted and o.side == OTHER[pane.side or ""]), None)
    return None


def farthest(one: Outline, other: Outline) -> tuple[float, Point]:
    """How far two outlines lie from each other at most, both ways, mm, and the place on the first of them or of the second."""
    found = [
        (distance_from(against, place), place)
        for line, against in ((one, other), (other, one))
        for place in places_along(line, spacing=SPACING)
    ]
    return max(found, key=lambda each: round(each[0], 6))


def findings(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    """Whether the pane is the mirror image of its fellow; nothing of a pane without one."""
    fellow = fellow_of(subject.job, subject.pane)
    if fellow is None:
        return
    glass, other, limit = subject.detail.curves.glass, fellow.glass_outline, subject.limit("pair_difference")
    off, at = _laid_over(glass, other_hand(other))
    copied = off > float(limit.value) and _laid_over(glass, other)[0] <= float(limit.value)
    says = f"the outline lies at most {mm(off)} off the mirror image of {fellow.code}"
    turned: tuple[Remedy, ...] = ()
    if copied:
        says = f"the outline is that of {fellow.code} as it stands, {mm(off)} off its mirror image"
        if not subject.pane.outline_worked_out:
            turned = (Remedy(f"mirror the outline: it is typed as {fellow.code} is", tuple(_mirrored(subject.pane))),)
    yield MIRRORED.judged(
        value=off,
        limit=float(limit.value),
        where=f"against {fellow.code}",
        at=at,
        says=says,
        remedies=turned or (Remedy(f"make one of {subject.pane.code} and {fellow.code} the mirror image of the other"),),
        defaults=defaults_of(limit),
    )


def _mirrored(pane: Pane) -> Iterator[Change]:
    """The outline and what is typed along X, for the other hand."""
    across = pane.outline.across
    yield Change("outline.mirrored", not pane.outline.mirrored)
    if pane.chocks.at:
        yield Change("chocks.at", [round(across - x, 9) for x in pane.chocks.at])
    if pane.straps:
        yield Change("straps", [[round(across - x, 9), y] for x, y in pane.straps])


def _laid_over(glass: Outline, other: Outline) -> tuple[float, Point]:
    """The greatest distance between the glass and another outline, centroid on centroid, mm, and its place."""
    here, there = centroid(glass), centroid(other)
    return farthest(glass, moved(other, here.x - there.x, here.y - there.y))


CHECKS = (findings,)

__all__ = ["CHECKS", "farthest", "fellow_of", "findings"]
