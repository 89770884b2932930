"""The solid print of a returned drawing held against its limits: drawn at all, twice the bond, the bead covered to its inner edge.

The limits, the rules and the ladder of remedies are those of the pane itself; only the print is the returned one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.findings.fit import frit_remedies
from geometry.findings.fit.frit_checks import (
    COVER,
    TWICE,
    needed_for_cover,
    needed_for_twice,
    print_depth,
    protection_needed,
    protection_reach,
    refraction,
    solid_at_worst,
)
from geometry.ledger.finding import TOUCH, Constraint, Finding, Remedy
from geometry.returned.solid_frit import Short, Width, least_cover, least_width, short_places
from geometry.rules.calculation import Status
from geometry.rules.fit import corner, frit
from geometry.rules.rounding import mm
from geometry.workings.section_sums import spot, squeeze_out, tolerance

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger
    from geometry.returned.search import Returned
    from geometry.workings.subject import Subject

DRAWN = Constraint("solid print drawn", source="the job asks for a printed band", status=Status.GIVEN)


@dataclass(frozen=True, slots=True)
class SolidFrit:
    """The solid print as drawn: its least width, what is too narrow, and where it covers the bead least; ``to_dots`` counts to the first dot."""

    least: Width
    wanted: float  # mm as drawn, print tolerance included
    short: tuple[Short, ...]
    cover: Width
    to_dots: bool


def solid_frit_of(subject: Subject, ledger: Ledger, returned: Returned) -> SolidFrit | None:
    """The solid print all round, mm; None where no edge of it was found."""
    if returned.solid is None:
        return None
    curves = subject.detail.curves
    glass = curves.glass if returned.glass is None else returned.glass
    least = least_width(glass, returned.solid, pane=curves.glass)
    to_dots = returned.dots_at is not None and returned.dots_at < least.value
    if returned.dots_at is not None and to_dots:
        least = Width(returned.dots_at, least.at, least.of, least.part)
    wanted = max(needed_for_twice(subject, ledger).value, needed_for_cover(subject, ledger).value) + _tolerance(subject)
    short = short_places(glass, returned.solid, wanted=wanted, pane=curves.glass)
    return SolidFrit(least, wanted, short, least_cover(curves.bead_inner, returned.solid, pane=curves.glass), to_dots)


def findings(subject: Subject, ledger: Ledger, returned: Returned, solid: SolidFrit | None) -> tuple[Finding, ...]:
    """Whether a solid print is drawn, and where it is, whether it is wide enough and covers the bead."""
    if solid is None:
        return (_not_there(subject, ledger, returned),)
    drawn = DRAWN.judged(value=solid.least.value, limit=0.0, where=solid.least.part, at=solid.least.of, part=solid.least.part)
    worst = ledger.work(
        "solid frit of the returned drawing at the worst print",
        frit.solid_at_worst_print,
        solid=max(0.0, solid.least.value),
        print_tolerance=tolerance(subject, "print"),
    )
    both = (_twice(subject, ledger, solid, worst), _cover(subject, ledger, solid, worst))
    return tuple(each.with_remedies() for each in (drawn, *both))


def _tolerance(subject: Subject) -> float:
    return float(tolerance(subject, "print").value)


def untold(must: Constraint, why: str, *, decides: bool = False) -> Finding:
    """What the drawing does not tell: not checked, in its own words."""
    return replace(must.not_checked(what="", decides=decides), says=f"not checked: {why}", missing=why)


def _not_there(subject: Subject, ledger: Ledger, returned: Returned) -> Finding:
    if returned.unsure:
        return untold(DRAWN, f"{len(returned.unsure)} lines could be its inner edge: {'; '.join(returned.unsure)}", decides=True)
    if returned.bare:
        return untold(DRAWN, "the drawing holds the edge of the glass alone, as a file to cut from does", decides=True)
    asked = subject.sizes.frit_width.value - subject.pane.frit.fade
    return DRAWN.judged(
        value=0.0,
        limit=needed_for_twice(subject, ledger).value,
        says=f"no print is drawn; {mm(asked)} solid from the glass edge all round are asked for",
        remedies=() if subject.pane.frit.printed else (_as_issued(subject),),
    )


def _twice(subject: Subject, ledger: Ledger, solid: SolidFrit, worst: Figure) -> Finding:
    needed = needed_for_twice(subject, ledger)
    short = solid.least
    ends = ", where its dots begin" if solid.to_dots else ""
    says = f"{mm(short.value)} solid at {spot(short.of)}{ends}; {mm(worst.value)} at the worst print, {mm(needed.value)} needed"
    return _protected(subject, ledger, TWICE, solid, worst, (worst.value, needed.value, says), solid.least)


def _cover(subject: Subject, ledger: Ledger, solid: SolidFrit, worst: Figure) -> Finding:
    """The bead's inner edge all round, corners included, with what it squeezes out."""
    spill = squeeze_out(subject, ledger)
    margin = ledger.work(
        "frit wanted inside the squeeze-out",
        frit.cover_margin,
        print_depth=print_depth(subject),
        margin=subject.limit("frit_margin"),
        refractive_index=refraction(subject),
    )
    covered = ledger.work(
        "cover of the bead by the returned print at the worst print",
        corner.frit_cover_at_worst,
        cover=solid.cover.value - spill.value,
        print_tolerance=tolerance(subject, "print"),
    )
    place = solid.cover
    says = f"{mm(covered.value)} of solid print inside the squeeze-out at the worst print, {mm(margin.value)} wanted; least at {spot(place.of)}"
    return _protected(subject, ledger, COVER, solid, worst, (covered.value, margin.value, says), place)


def _protected(
    subject: Subject,
    ledger: Ledger,
    must: Constraint,
    solid: SolidFrit,
    worst: Figure,
    found: tuple[float, float, str],
    place: Width,
) -> Finding:
    """A print against what it needs; where it falls short, the protection on the weather face that the job has already."""
    value, limit, says = found
    given, reach = subject.pane.frit.outer_protection, protection_reach(subject, ledger)
    if value < limit - TOUCH and given is not None and reach is not None:
        value, limit = reach.value, protection_needed(subject, ledger, worst).value
        says += f"; the {given.kind} on the weather face reaches {mm(value)}, {mm(limit)} needed there"

    def remedies() -> tuple[Remedy, ...]:
        if not subject.pane.frit.printed and _issued_suffices(subject, ledger, must):
            return (_as_issued(subject),)
        return frit_remedies.for_cover(
            subject,
            solid=solid.wanted,
            left=worst.value,
            outside=protection_needed(subject, ledger, worst).value,
            print_depth=print_depth(subject),
        )

    return must.judged(
        value=value, limit=limit, where=place.part, at=place.of, part=place.part, says=says, remedies=remedies, figure=worst
    )


def _issued_suffices(subject: Subject, ledger: Ledger, must: Constraint) -> bool:
    """Whether the print that was asked for holds what the returned one does not."""
    needed = needed_for_twice(subject, ledger) if must is TWICE else needed_for_cover(subject, ledger)
    return bool(solid_at_worst(subject, ledger)[0].value >= needed.value - TOUCH)


def _as_issued(subject: Subject) -> Remedy:
    frit_ = subject.pane.frit
    width = subject.sizes.frit_width.value - frit_.fade
    kind = (
        "with the edge that was issued"
        if frit_.outline is not None
        else f"{mm(width)} from the glass edge, parallel to it all round"
    )
    return Remedy(f"have the print drawn as issued, solid {kind}")


__all__ = ["SolidFrit", "findings", "solid_frit_of", "untold"]
