"""Who carries the pane in: people, lifting gear, suction cups, wind.

Terms
-----
people at hand
    ``work.people``; what they may carry together follows guidance on manual handling.
lifting gear
    Given, or taken where the people at hand do not suffice.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.rounding import up

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.carrying import Carrying
    from geometry.workings.subject import Subject


PEOPLE = Constraint("pane carried by enough people or by lifting gear", side=Side.AT_MOST, unit="kg")
CUPS = Constraint("suction cups enough for the pane", side=Side.AT_LEAST, unit="")


def findings(subject: Subject, ledger: Ledger, carrying: Carrying) -> Iterable[Finding]:
    """People and cups."""
    yield _people(subject, ledger, carrying)
    yield _cups(subject, carrying)


def _people(subject: Subject, ledger: Ledger, carrying: Carrying) -> Finding:
    people = subject.asked("work.people").value
    mass, may, wind = float(carrying.mass.value), carrying.may_carry.value, subject.limit("wind").value
    heavy = mass > may + 1e-9
    steered = heavy and carrying.gear and carrying.gear_given  # the gear carries it, the people only steer
    who = "1 person" if people == 1 else f"{people} people"
    gear = Remedy(f"have lifting gear rated for at least {mass:.1f} kg at hand", (Change("work.lifting_gear", True),))
    needed = carrying.needed.value
    more = () if needed is None or not heavy else (Remedy(f"carry it with {needed} people", (Change("work.people", needed),)),)
    who += " above the shoulder" if carrying.above_shoulder else ""
    stop = f"stop at a wind of {wind:g} m/s, which pushes with {carrying.wind.value:.0f} N"
    if not heavy:
        says = f"{mass:.1f} kg, {who} may carry {may:.1f} kg; {stop}"
    elif carrying.gear:
        says = f"{mass:.1f} kg is more than the {may:.1f} kg that {who} may carry: lifting gear; {stop}"
    else:
        says = f"{mass:.1f} kg is more than the {may:.1f} kg that {who} may carry, and there is no lifting gear"
    return PEOPLE.but(
        source=carrying.may_carry.record.source,
        status=carrying.may_carry.record.status,
        short=Verdict.LOOK if carrying.gear else Verdict.FAIL,
    ).judged(
        value=mass,
        limit=mass if steered else may,
        says=says,
        remedies=(*more, gear),
        figure=carrying.may_carry,
    )


def _cups(subject: Subject, carrying: Carrying) -> Finding:
    at_hand = subject.asked("work.cups")
    needed = carrying.cups.value
    rating = subject.asked("work.cup_rating").value
    share = subject.limit("cup_share").value
    counted = f"{share:g} % of the {rating:g} kg on each counts"
    had = needed if at_hand.value is None else at_hand.value
    says = f"{needed} cups for {carrying.mass.value:.1f} kg, {counted}"
    return CUPS.but(source=carrying.cups.record.source, status=carrying.cups.record.status).judged(
        value=had,
        limit=needed,
        says=says if had >= needed else f"{had} at hand, {says}",
        remedies=(
            Remedy(f"carry it with {needed} cups", (Change("work.cups", needed),)),
            *_stronger(subject, carrying, had),
        ),
        figure=carrying.cups,
    )


def _stronger(subject: Subject, carrying: Carrying, had: int) -> Iterable[Remedy]:
    """Cups of a higher rating, where only the rating is short."""
    if had < subject.limit("cups_least").value:
        return
    share = subject.limit("cup_share").value / 100
    rating = up(carrying.mass.value / (had * share), subject.asked("work.cup_step").value)
    yield Remedy(f"take cups marked for at least {rating:g} kg", (Change("work.cup_rating", rating),))


__all__ = ["CUPS", "PEOPLE", "findings"]
