"""How the pane is carried in: by whom, with how many cups, up to which wind.

Terms
-----
people at hand
    ``work.people``; what they may carry together follows guidance on manual handling.
lifting gear
    Given, or taken where the people at hand do not suffice.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.ledger.figure import worked_once
from geometry.rules.day import lifting
from geometry.workings.pane_mass import mass_of

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject


@dataclass(frozen=True, slots=True)
class Carrying:
    """How the pane is carried. ``gear`` is whether it is lifted with gear, ``gear_given`` whether the job says so.

    ``needed`` is how many people it takes without gear, None as its value where that is no work for people; ``each`` is what each of the
    people at hand holds, ``may_each`` what each may.
    """

    mass: Figure  # kg
    may_carry: Figure
    gear: bool
    gear_given: bool
    cups: Figure
    wind: Figure
    needed: Figure
    each: Figure
    may_each: float  # kg
    above_shoulder: bool


def shares(subject: Subject, ledger: Ledger) -> dict[str, Any]:
    """What each person may lift, and what of it counts together."""
    return {
        "one": subject.limit("one_person"),
        "two": subject.limit("two_people", scale=0.01),
        "more": subject.limit("more_people", scale=0.01),
        "reach_share": ledger.work(
            "share of what people lift at the height of the work",
            lifting.reach_share,
            at_hand=subject.asked("work.reach_share", scale=0.01),
            height=subject.asked("work.height", unit="mm"),
            shoulder=subject.limit("shoulder"),
            above=subject.limit("above_shoulder", scale=0.01),
        ),
    }


@worked_once
def carrying_of(subject: Subject, ledger: Ledger) -> Carrying:
    """How one pane is carried, by its mass and the people at hand."""
    mass = mass_of(subject, ledger)
    people, allowed = subject.asked("work.people"), shares(subject, ledger)
    may_carry = ledger.work("what the people at hand may carry", lifting.people_limit, people=people, **allowed)
    given = subject.asked("work.lifting_gear").value
    return Carrying(
        mass=mass,
        may_carry=may_carry,
        gear=mass.value > may_carry.value + 1e-9 if given is None else bool(given),
        gear_given=given is not None,
        cups=ledger.work(
            "suction cups needed",
            lifting.cups_needed,
            mass=mass,
            rating=subject.asked("work.cup_rating", unit="kg"),
            derating=subject.limit("cup_share", scale=0.01),
            least=subject.limit("cups_least"),
        ),
        wind=ledger.work(
            "force of the wind at which lifting stops",
            lifting.wind_force,
            wind=subject.limit("wind"),
            area=subject.detail.area,
            drag=subject.limit("wind_drag"),
        ),
        needed=ledger.work("people needed", lifting.people_needed, mass=mass, most=subject.limit("people_most"), **allowed),
        each=ledger.work("load of each person", lifting.load_of_each, mass=mass, people=people),
        may_each=may_carry.value / people.value,
        above_shoulder=subject.pane.work.height > subject.pane.limits.shoulder,
    )


__all__ = ["Carrying", "carrying_of", "shares"]
