"""The lean of a wall that was drawn or surveyed in space, held against the rake of the job.

Terms
-----
lean
    Of the plane in which the wall lies, degrees from upright, its outer face up +: what ``rake`` should say. The upright is that of the
    drawing or of the survey: of a vessel out of trim it is not that of her drawings.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side
from geometry.rules.calculation import Status
from geometry.rules.rounding import number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

LEAN = Constraint(
    "rake as drawn or surveyed",
    side=Side.AT_MOST,
    unit="°",
    source="this project's own default",
    status=Status.OWN_DEFAULT,
    limit_key="limits.rake_difference",
)


def findings(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    """By how much the rake differs from the lean of each outline that came in space; nothing of one that came in its plane."""
    for what, incoming in subject.pane.incoming:
        if incoming.from_vertical is not None:
            yield _lean(subject, what, incoming.from_vertical)


def _lean(subject: Subject, what: str, lean: float) -> Finding:
    rake, limit = subject.pane.rake, subject.limit("rake_difference")
    wanted = round(lean, 1) + 0.0
    return LEAN.judged(
        value=abs(lean - rake),
        limit=float(limit.value),
        where=f"the {what}",
        says=f"the {what} leans {number(wanted)}° from upright in its file, the rake is {number(rake)}°",
        remedies=(Remedy(f"make the rake {number(wanted)}°, or put the file upright", (Change("rake", wanted),)),),
        defaults=defaults_of(limit),
    )


CHECKS = (findings,)

__all__ = ["CHECKS", "findings"]
