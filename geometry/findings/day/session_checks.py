"""Does the pane have its place in the bonding sessions: one session, a crew and guns that suffice, a day that is long enough.

Terms
-----
session
    See ``job/session.py``. A job without sessions is not planned by them: nothing of this room speaks then.
overlapping sessions
    Two sessions of one day with somebody of the same name in both: nobody is in two places at once.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from geometry.job.session import sessions_of, title_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.day.time_plan import minutes_of, span, whole_minutes
from geometry.workings.session_plan import limit_of, span_of

if TYPE_CHECKING:
    from geometry.job.session import Session
    from geometry.workings.session_plan import Turn
    from geometry.workings.subject import Subject
    from geometry.workings.time_plan import TimePlan

PLANNED = "each pane is bonded once, by people and with guns that are there"

IN_ONE = Constraint(
    "pane in one bonding session", side=Side.AT_MOST, unit="", counted="sessions", source=PLANNED, status=Status.DERIVED
)
IN_SOME = IN_ONE.but(side=Side.AT_LEAST, short=Verdict.LOOK)
PEOPLE = Constraint(
    "crew of the session large enough for the pane",
    side=Side.AT_LEAST,
    unit="",
    counted="people",
    source=PLANNED,
    status=Status.DERIVED,
)
GUNS = Constraint(
    "guns of the session enough for the bead", side=Side.AT_LEAST, unit="", counted="guns", source=PLANNED, status=Status.DERIVED
)
IN_DAY = Constraint(
    "pane pressed home before its session ends", side=Side.AT_MOST, unit="min", source="the day of the session, as given"
)
READ_FIRST = Constraint(
    "later reading of the session taken before the bead that it holds for",
    side=Side.AT_MOST,
    unit="min",
    source="readings of the session, as given",
)
SAME_AIR = Constraint(
    "climate of the pane that of its session",
    side=Side.AT_MOST,
    unit="",
    counted="keys of its own",
    source="one session has one air; a pane's own keys come first",
    status=Status.DERIVED,
    short=Verdict.LOOK,
)
APART = Constraint(
    "nobody in two sessions at the same time",
    side=Side.AT_MOST,
    unit="min",
    source=PLANNED,
    status=Status.DERIVED,
)


def findings(subject: Subject, plan: TimePlan) -> tuple[Finding, ...]:
    """Every finding of this room; ``plan`` is the pane's clock. None where the job names no sessions."""
    if not subject.job.sessions:
        return ()
    named = sessions_of(subject.job, subject.pane)
    found = [_in_one(subject, named)]
    turn = subject.turn
    if turn is not None:
        found += [_people(turn), _guns(turn)]
        if turn.steps is not None:
            found += [_in_day(turn, plan), *_read_first(turn, plan)]
        found += [*_same_air(subject, turn), *_apart(subject, turn, plan)]
    return tuple(found)


def _in_one(subject: Subject, named: tuple[Session, ...]) -> Finding:
    code = subject.pane.code
    titles = " and ".join(title_of(subject.job, each) for each in named)
    if not named:
        return IN_SOME.judged(
            value=0,
            limit=1,
            says=f"no session names {code}: its clock is as if it were alone, in the shared climate",
            remedies=(Remedy(f"name {code} in the panes of 1 session"),),
        )
    says = f"{code} is in {titles}" + (f": it is planned in {title_of(subject.job, named[0])}" if len(named) > 1 else "")
    return IN_ONE.judged(
        value=len(named), limit=1, says=says, remedies=(Remedy(f"leave {code} in 1 of these sessions: {titles}"),)
    )


def _people(turn: Turn) -> Finding:
    needed = turn.work.people
    return PEOPLE.judged(
        value=turn.people,
        limit=needed,
        says=f"{turn.title} has {turn.people}, {turn.work.code} takes {needed} at the same time",
        remedies=(Remedy(f"give {turn.title} a crew of {needed}, or lifting gear"),),
    )


def _guns(turn: Turn) -> Finding:
    return GUNS.judged(
        value=turn.guns,
        limit=turn.work.guns,
        says=f"{turn.title} has {turn.guns}, the bead of {turn.work.code} is laid with {turn.work.guns}",
        remedies=(Remedy(f"give {turn.title} {turn.work.guns} guns, or lay the bead with {turn.guns}"),),
    )


def _in_day(turn: Turn, plan: TimePlan) -> Finding:
    begins = turn.work.begins
    limit = limit_of(turn.session, begins)
    late = plan.last_press - limit
    until = "midnight" if turn.session.end is None else f"{turn.session.end:%H:%M}"
    says = f"last press {span(plan.last_press)} after the session begins, which ends at {until}"
    if turn.without:
        says += f"; not counted: {', '.join(turn.without)}, which cannot be built"
    minutes = whole_minutes(late)
    return IN_DAY.judged(
        value=plan.last_press,
        limit=limit,
        says=f"{says}: {minutes} min too long" if late > 0 else says,
        remedies=(Remedy(f"begin {turn.title} {minutes} min sooner, or give {turn.work.code} to another session"),),
    )


def _read_first(turn: Turn, plan: TimePlan) -> Iterable[Finding]:
    """The reading that holds for the pane, where its time is given: it cannot be known before."""
    panes = turn.session.panes
    place = panes.index(turn.work.code)
    held = [each for each in turn.session.climate.later if panes.index(each.from_pane) <= place]
    if not held or held[-1].at is None:
        return
    read = minutes_of(held[-1].at) - turn.work.begins
    yield READ_FIRST.judged(
        value=read,
        limit=plan.bead_starts,
        says=f"reading at {held[-1].at:%H:%M}, {span(read)} after the session begins; bead at {span(plan.bead_starts, limit=True)}",
        remedies=(
            Remedy(f"let the reading hold from a pane whose bead begins {whole_minutes(read - plan.bead_starts)} min later"),
        ),
    )


def _same_air(subject: Subject, turn: Turn) -> Iterable[Finding]:
    """Keys of its own that the pane has beside those of its session."""
    document = subject.job.document.get("pane", [])
    own = next((pane.get("climate") for pane in document if pane.get("code") == turn.work.code), None)
    keys = sorted(own) if isinstance(own, dict) else []
    if keys and turn.session.climate.model_fields_set:
        yield SAME_AIR.judged(
            value=len(keys),
            limit=0,
            says=f"{turn.work.code} has {', '.join(keys)} of its own, in place of {turn.title}",
            remedies=(
                Remedy(f"strike out the {len(keys)} keys of climate of {turn.work.code}, if the air of the session holds"),
            ),
        )


def _apart(subject: Subject, turn: Turn, plan: TimePlan) -> Iterable[Finding]:
    """Sessions of the same day with one of the crew in both, that go on while this pane is worked on."""
    session, job = turn.session, subject.job
    others = [
        other
        for other in job.sessions
        if other is not session
        and other.date is not None
        and other.date == session.date
        and set(other.crew or ()) & set(session.crew or ())
    ]
    if not others:
        return
    first = min((step.start for step in plan.steps if not step.flash), default=0.0) + turn.work.begins
    last = plan.last_press + turn.work.begins
    shared, with_whom = 0.0, ""
    for other, (begin, end) in ((other, span_of(job, other)) for other in others):
        both = min(last, end) - max(first, begin)
        if both > shared:
            names = ", ".join(each for each in session.crew or () if each in (other.crew or ()))
            shared, with_whom = both, f"{names} in {turn.title} and {title_of(job, other)}"
    yield APART.judged(
        value=shared,
        limit=0.0,
        says=with_whom or "the sessions of the day that share people do not overlap this pane",
        remedies=(Remedy(f"begin one of them {whole_minutes(shared)} min later, or part the crew"),),
    )


__all__ = ["APART", "GUNS", "IN_DAY", "IN_ONE", "IN_SOME", "PEOPLE", "READ_FIRST", "SAME_AIR", "findings"]
