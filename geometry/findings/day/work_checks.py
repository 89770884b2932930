"""Can it be done: open time, wait of the primers, dew point, cure path, lifting, approval.

Terms
-----
elapsed
    From the first bead, the oldest skin, to the last press.
powered gun
    A gun that lays the bead twice as fast as one pressed by hand.
colder hour
    Time of day at which the air is cold enough for the open time to last.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from geometry.findings.checks import found_by
from geometry.findings.day import approval_checks, climate_checks, cure_checks, lifting_checks
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side
from geometry.rules.day import climate
from geometry.rules.day import time_plan as rules
from geometry.workings.time_plan import DayFigures, TimePlan, day_figures, open_time_of, planned, primed_at, wiped_at

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

MOST_REMEDIES = 4


IN_TIME = Constraint("last press within its share of the open time", side=Side.AT_MOST, unit="min")
PRIMED = Constraint(
    "primed faces wetted within the longest wait", side=Side.AT_MOST, unit="min", source="data sheet of the primer, as given"
)

ACTIVATED = Constraint(
    "activated faces primed within the longest wait",
    side=Side.AT_MOST,
    unit="min",
    source="data sheet of the activator, as given",
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


def _of_the_day(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    day = day_figures(subject, ledger)
    plan = planned(subject, ledger, day)
    return (
        _in_time(subject, day),
        _primed(subject, ledger, plan),
        *_activated(subject, ledger, plan),
    )


def _of_the_cure(subject: Subject, ledger: Ledger) -> Iterable[Finding]:
    return cure_checks.findings(subject, ledger, day_figures(subject, ledger).cure)


def _of_the_lift(subject: Subject, ledger: Ledger) -> Iterable[Finding]:
    return lifting_checks.findings(subject, ledger, day_figures(subject, ledger).carrying)


def _in_time(subject: Subject, day: DayFigures) -> Finding:
    elapsed, limit = day.elapsed.value, day.limit.value
    air = subject.asked("climate.air").value
    says = (
        f"bead {day.bead_time.value:.1f}, lift {day.lift.value:g}, align {day.align.value:g}, press {day.press.value:g} min; "
        f"the open time is {day.open_time.value:.1f} min at {air:g} °C and {subject.asked('climate.humidity').value:g} %"
    )
    late = elapsed > limit
    return IN_TIME.but(source=day.limit.record.source, status=day.limit.record.status).judged(
        value=elapsed,
        limit=limit,
        says=says,
        remedies=lambda: tuple(_quicker(subject, day))[:MOST_REMEDIES] if late else (),
        figure=day.elapsed,
        defaults=day.limit.defaults,
    )


def _quicker(subject: Subject, day: DayFigures) -> Iterable[Remedy]:
    """Faster guns, or more of them; where they do not do it alone, with a colder hour; the colder hour alone; another adhesive."""
    limit = day.limit.value
    ways = _guns(subject)
    enough = [(words, changes) for words, changes in ways[1:] if _elapsed(subject, day, changes) <= limit + 1e-9]
    for words, changes in enough:
        yield Remedy(f"lay the bead with {words}: {_elapsed(subject, day, changes):.1f} min", changes)
    humidity = subject.asked("climate.humidity").value
    helped = () if enough else (ways[1], *ways[2:][-1:])
    for words, changes in (*helped, ways[0]):
        air = _colder(subject, _elapsed(subject, day, changes))
        if air is not None:
            guns = f"with {words} " if changes else ""
            hour = f"bond {guns}in air of at most {air:g} °C, its dew point measured again ({humidity:g} % humidity is counted)"
            yield Remedy(hour, (*changes, *_at(subject, air)))
    factor = day.open_time.value / subject.asked("adhesive.open_time").value
    share = subject.asked("work.open_time_share", scale=0.01).value
    longest = math.ceil(day.elapsed.value / share / factor - 1e-9)
    yield Remedy(f"use an adhesive of at least {longest} min open time at 23 °C", (Change("adhesive.open_time", float(longest)),))


def _guns(subject: Subject) -> tuple[tuple[str, tuple[Change, ...]], ...]:
    """The guns at hand first, then powered ones, one gun more, and both: words and what changes."""
    work = subject.pane.work
    fast = max(work.bead_rate, work.powered_gun)
    more = work.guns + 1
    sets = dict.fromkeys(((work.guns, work.bead_rate), (work.guns, fast), (more, work.bead_rate), (more, fast)))
    found = []
    for guns, rate in sets:
        new = {"work.bead_rate": (work.bead_rate, rate), "work.guns": (work.guns, guns)}
        changes = tuple(Change(key, value) for key, (old, value) in new.items() if value != old)
        kind = "powered " if rate == work.powered_gun else ""
        each = f"{rate:g} ml/min"
        found.append((f"{guns} {kind}gun of {each}" if guns == 1 else f"{guns} {kind}guns of {each} each", changes))
    return tuple(found)


def _elapsed(subject: Subject, day: DayFigures, changes: tuple[Change, ...]) -> float:
    work = subject.pane.work
    new = {change.key: change.value for change in changes}
    guns = new.get("work.guns", work.guns)
    laying = rules.bead_time(
        volume=day.adhesive.volume.value,
        packs=max(guns, day.adhesive.packs.value),
        rate=new.get("work.bead_rate", work.bead_rate),
        guns=guns,
        pack_change=work.pack_change,
    )
    return rules.elapsed_time(bead_time=laying, lift=day.lift.value, align=day.align.value, press=day.press.value)


def _colder(subject: Subject, elapsed: float) -> float | None:
    """Whole degrees of air at which that time suffices; None where that is colder than is bonded."""
    warmest = climate.warmest_air(
        elapsed=elapsed,
        share=subject.asked("work.open_time_share", scale=0.01).value,
        **{name: each.value for name, each in open_time_of(subject).items()},
    )
    if warmest < subject.limit("bonding_coldest").value:
        return None
    air = float(math.floor(warmest + 1e-9))
    return air if subject.limit("bonding_coldest").value <= air < subject.pane.climate.air else None


def _at(subject: Subject, air: float) -> tuple[Change, ...]:
    """Air, and surfaces that have come down with it."""
    given = subject.pane.climate
    surfaces = (("climate.surface", given.surface), ("climate.frame_surface", given.frame_surface))
    cooled = tuple(Change(key, air) for key, value in surfaces if value is not None and value > air)
    return (Change("climate.air", air), *cooled)


def _primed(subject: Subject, ledger: Ledger, plan: TimePlan) -> Finding:
    """The face with the least in hand; a face whose longest wait is not given is not checked."""
    primed = primed_at(plan)
    asked = [(face, subject.asked(f"work.{face}_primer_longest", unit="min")) for face in ("frame", "glass")]
    given = [(face, longest) for face, longest in asked if longest.value is not None]
    if not given:
        return PRIMED.not_checked(
            what="longest wait of the primers",
        )
    waits = [
        (
            ledger.work(
                "wait of the primed face", rules.primed_wait, last_press=plan.last_press, primed=primed[face], where=face
            ),
            longest,
            face,
        )
        for face, longest in given
    ]
    wait, longest, face = min(waits, key=lambda each: each[1].value - each[0].value)
    missing = [name for name, value in asked if value.value is None]
    says = f"{face} waits {wait.value:.0f} min" + (f"; {missing[0]} not checked: no longest wait given" if missing else "")
    sooner = subject.pane.work.clock_step > 0
    return PRIMED.but(status=wait.record.status).judged(
        value=wait.value,
        limit=longest.value,
        where=face,
        says=says,
        remedies=(
            *(
                (Remedy("start the bead as soon as both faces are ready: 0 min of waiting", (Change("work.clock_step", 0.0),)),)
                if sooner
                else ()
            ),
            Remedy(f"activate the {face} again once {longest.value:g} min have passed"),
        ),
        figure=wait,
    )


def _activated(subject: Subject, ledger: Ledger, plan: TimePlan) -> Iterable[Finding]:
    """Each wiped face whose longest wait is given: its last place is primed when the priming ends."""
    primed, wiped = primed_at(plan), wiped_at(plan)
    for face in ("frame", "glass"):
        longest = subject.asked(f"work.{face}_wipe_longest", unit="min")
        if longest.value is None:
            continue
        wait = ledger.work("wait of the activated face", rules.activated_wait, primed=primed[face], wiped=wiped[face], where=face)
        yield ACTIVATED.but(status=wait.record.status).judged(
            value=wait.value,
            limit=longest.value,
            where=face,
            says=f"{face} is primed {wait.value:.0f} min after its wipe",
            remedies=(Remedy(f"wipe the {face} again where {longest.value:g} min have passed"),),
            figure=wait,
        )


CHECKS = (_of_the_day, climate_checks.findings, _of_the_cure, _of_the_lift, approval_checks.findings)


__all__ = ["ACTIVATED", "CHECKS", "IN_TIME", "PRIMED", "findings"]
