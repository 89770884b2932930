"""What somebody else must allow: load-bearing panes, panes in the hull, deck lights.

Terms
-----
approval reference
    The approving body's reference, of the pane or of the whole job. Nobody but that body can give it.
glazed diameter
    Clear opening of a light in the hull, across its widest.
side scuttle
    Round or oval opening up to 0.16 m²; a larger one is a window.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from geometry.ledger.figure import Sourced, defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

FLAG = "flag-state codes for yachts: 250 mm, up to 400 mm by special consideration"


APPROVED = Constraint(
    "approval reference given where the pane carries load or is in the hull",
    side=Side.AT_LEAST,
    unit="",
    counted="references",
    source="class rules and flag-state codes ask for approval of such panes; the field is common practice",
    status=Status.COMMON_PRACTICE,
)
HULL_SIZE = Constraint(
    "light in the hull within the glazed diameter that needs no special consideration",
    side=Side.AT_MOST,
    unit="mm",
    source=FLAG,
    status=Status.SECOND_HAND,
    short=Verdict.LOOK,
    limit_key="limits.hull_glazed_diameter",
)
DECK = Constraint(
    "deck light released by the one who answers for the load on it",
    side=Side.AT_LEAST,
    unit="",
    counted="references",
    source="ISO 11336-1:2023, scope",
    status=Status.SECOND_HAND,
    short=Verdict.LOOK,
)


def findings(subject: Subject, _: Ledger) -> Iterable[Finding]:
    """Only what concerns the pane: a pane that carries nothing and lies above the hull needs no reference."""
    if subject.pane.load_bearing or subject.pane.in_hull:
        yield _approved(subject)
    if subject.pane.in_hull:
        yield _hull_size(subject)
    if subject.flat:
        yield _deck(subject)


def approval_reference(subject: Subject) -> Sourced:
    """The pane's own reference, or that of the job; "" where there is none."""
    own = subject.asked("approval_reference")
    return own if own.value else subject.asked("sheet.approval_reference")


def _approved(subject: Subject) -> Finding:
    reference = approval_reference(subject).value
    pane = subject.pane
    why = " and ".join(text for text, true in (("carries load", pane.load_bearing), ("is in the hull", pane.in_hull)) if true)
    says = f"the pane {why}: " + (f"approval {reference}" if reference else "no approval reference, so no release to manufacture")
    return APPROVED.judged(
        value=1 if reference else 0,
        limit=1,
        says=says,
        remedies=(Remedy(f"get approval and type its reference in approval_reference of pane {pane.code}"),),
    )


def _hull_size(subject: Subject) -> Finding:
    from geometry.outline.measure import area, bounding_box

    opening = subject.detail.curves.sight_line
    box = bounding_box(opening)
    across, clear = max(box.width, box.height), area(opening) * 1e-6
    usual, most = subject.limit("hull_glazed_diameter"), subject.limit("hull_glazed_diameter_most")
    largest = subject.limit("side_scuttle")
    round_or_oval = subject.pane.outline.shape in ("circle", "ellipse")
    kind = (
        f"a side scuttle: opening {clear:.3f} m²"
        if round_or_oval and clear <= largest.value
        else f"a window: opening {clear:.3f} m²"
    )
    far = across > most.value
    if across <= usual.value:
        says = f"clear opening {across:.0f} mm across; {kind}"
    elif far:
        says = f"clear opening {across:.0f} mm across, above the {most.value:g} mm for which special consideration is foreseen; {kind}"
    else:
        says = f"clear opening {across:.0f} mm across: special consideration by the flag; {kind}"
    return HULL_SIZE.judged(
        value=across,
        limit=usual.value,
        says=says,
        remedies=(
            Remedy(f"ask the flag for special consideration of {across:.0f} mm, or close the opening to {usual.value:g} mm"),
        ),
        defaults=defaults_of(usual, most, largest),
    )


def _deck(subject: Subject) -> Finding:
    reference = approval_reference(subject).value
    make_up = " / ".join(f"{ply.thickness:g}" for ply in subject.detail.glass.plies)
    says = "horizontal glazing is outside ISO 11336-1: the engineer gives load on foot and thickness"
    return DECK.judged(
        value=1 if reference else 0,
        limit=1,
        says=f"{says}; approval {reference}" if reference else says,
        remedies=(Remedy(f"have the engineer release {make_up} mm for the load on foot and type the reference in"),),
    )


__all__ = ["APPROVED", "DECK", "HULL_SIZE", "approval_reference", "findings"]
