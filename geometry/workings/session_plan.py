"""A bonding session planned: when every pane has its turn, who does what, how many packs are opened.

Terms
-----
turn
    The place of one pane in its session: its steps by the clock of the session.
piece
    One of several panes of the same code; the clock of the pane's own papers is that of its first piece.
packs opened
    By each gun, in the order of the beads; an opened pack goes on as long as ``adhesive.opened_life`` says, not at all where it is left out.

The turn of a pane hangs on the panes before it alone. Minutes count from the start of the session.
"""

from __future__ import annotations

import datetime
from collections import OrderedDict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.job.session import session_of, title_of
from geometry.ledger.figure import Ledger, Sourced
from geometry.ledger.size import Origin
from geometry.rules.day import quantities as rules
from geometry.rules.day.time_plan import Step, StepKind, minutes_of
from geometry.workings.quantities import pack_yield, whole_sum
from geometry.workings.session_people import Task, tasks_of
from geometry.workings.session_schedule import PaneWork, last_scheduled, scheduled
from geometry.workings.time_plan import DayFigures, alone, begins_of, day_figures

if TYPE_CHECKING:
    from geometry.job import Job, Pane
    from geometry.job.session import Session
    from geometry.ledger.figure import Figure
    from geometry.workings.subject import Subject

MIDNIGHT = 1440.0


@dataclass(frozen=True, slots=True)
class Work:
    """What one pane brings into its session: its work, and the adhesive that it takes, ml."""

    plan: PaneWork
    adhesive: float


@dataclass(frozen=True)
class Turn:
    """One pane in its session. ``steps`` is None where crew or guns do not suffice for it: then its clock is as if it were alone.

    ``without`` are the panes before it that could not be built, and are not counted.
    """

    session: Session
    title: str
    work: PaneWork
    people: int
    guns: int
    steps: tuple[Step, ...] | None
    without: tuple[str, ...] = ()


@dataclass(frozen=True)
class SessionPlan:
    """One session of the vessel. ``ends`` is its last press, ``limit`` when that must be done, ``begins`` its start after midnight, min.

    ``packs`` are opened by its guns together, ``one_by_one`` would be without any pack going on; ``in_hand`` comes on top. ``life`` is that of an
    opened pack, None where it is not given. ``short`` are panes for which crew or guns do not suffice, ``without`` those that could not be built.
    """

    title: str
    date: datetime.date | None
    begins: float
    crew: tuple[str, ...]
    guns: int
    panes: tuple[str, ...]
    tasks: tuple[Task, ...]
    ends: float
    limit: float
    packs: int
    one_by_one: int
    in_hand: int
    pack: float
    life: float | None
    figures: tuple[Figure, ...]
    short: tuple[str, ...] = ()
    without: tuple[str, ...] = ()

    @property
    def too_long(self) -> float:
        """Minutes by which it does not fit its day; 0 where it does."""
        return max(0.0, self.ends - self.limit)


def limit_of(session: Session, begins: float) -> float:
    """Minutes from the start at which the last pane must be pressed home: the end of the session, or midnight."""
    end = session.end
    return (MIDNIGHT if end is None else minutes_of(end)) - begins


def crew_of(session: Session, panes: Sequence[Pane]) -> tuple[str, ...]:
    """The people of a session, by name; without names as many as its panes have at hand."""
    return session.crew or tuple(f"fitter {each}" for each in range(1, max(pane.work.people for pane in panes) + 1))


def guns_of(session: Session, panes: Sequence[Pane]) -> int:
    """The guns of a session."""
    return session.guns or max(pane.work.guns for pane in panes)


def turn_of(subject: Subject) -> Turn | None:
    """The turn of a pane; None where no session names it."""
    session = session_of(subject.job, subject.pane)
    if session is None:
        return None
    panes = _panes(subject.job, session)
    place = session.panes.index(subject.pane.code)
    own = _work(subject)
    works, without = [], []
    for pane in panes[:place]:
        work = _kept(subject.job, pane)
        if work is None:
            without.append(pane.code)
        else:
            works += [work.plan] * pane.quantity
    people, guns = len(crew_of(session, panes)), guns_of(session, panes)
    steps = last_scheduled([*works, own.plan], people=people, guns=guns)
    return Turn(session, title_of(subject.job, session), own.plan, people, guns, steps, tuple(without))


def session_plans(job: Job, subjects: Mapping[str, Subject]) -> tuple[SessionPlan, ...]:
    """Every session of a job that holds one of the given panes, planned; the other panes of it are built for it."""
    return tuple(_planned(job, session, subjects) for session in job.sessions if any(code in subjects for code in session.panes))


def vessel_sessions(job: Job) -> tuple[SessionPlan, ...]:
    """Every session of a job, planned one after the other; of each pane only its work is kept."""
    return tuple(_planned(job, session, {}) for session in job.sessions)


def span_of(job: Job, session: Session) -> tuple[float, float]:
    """Minutes after midnight from the start of a session to its last press."""
    plan = _planned(job, session, {})
    return plan.begins, plan.begins + plan.ends


def _planned(job: Job, session: Session, subjects: Mapping[str, Subject]) -> SessionPlan:
    panes = _panes(job, session)
    crew, guns = crew_of(session, panes), guns_of(session, panes)
    works: list[tuple[Work, int]] = []
    without = []
    for pane in panes:
        work = _work(subjects[pane.code]) if pane.code in subjects else _kept(job, pane)
        if work is None:
            without.append(pane.code)
        else:
            works += [(work, piece) for piece in range(1, pane.quantity + 1)]
    found = scheduled([work.plan for work, _ in works], people=len(crew), guns=guns)
    placed = [(work, piece, steps) for (work, piece), steps in zip(works, found, strict=True) if steps is not None]
    short = tuple(dict.fromkeys(work.plan.code for (work, _), steps in zip(works, found, strict=True) if steps is None))
    tasks = tasks_of([(work.plan, piece, steps) for work, piece, steps in placed], crew=crew, guns=guns)
    ledger = Ledger()
    begins = _begins(session, panes)
    return SessionPlan(
        title=title_of(job, session),
        date=session.date,
        begins=begins,
        crew=crew,
        guns=guns,
        panes=session.panes,
        tasks=tasks,
        ends=max((task.end for task in tasks), default=0.0),
        limit=limit_of(session, begins),
        packs=whole_sum(_opened(job, placed, tasks, ledger, title_of(job, session)))
        + whole_sum(_alone(job, work) for work, _ in _left(works, found)),
        one_by_one=whole_sum(_alone(job, work) for work, _ in works),
        in_hand=job.consumables.packs_in_hand,
        pack=job.adhesive.pack,
        life=job.adhesive.opened_life,
        figures=tuple(ledger.figures),
        short=short,
        without=tuple(without),
    )


def _left(works: Sequence[tuple[Work, int]], found: Sequence[tuple[Step, ...] | None]) -> Iterator[tuple[Work, int]]:
    return (each for each, steps in zip(works, found, strict=True) if steps is None)


def _begins(session: Session, panes: Sequence[Pane]) -> float:
    return minutes_of(session.start or panes[0].work.start)


def _panes(job: Job, session: Session) -> list[Pane]:
    by_code = {pane.code: pane for pane in job.panes}
    return [by_code[code] for code in session.panes]


def _alone(job: Job, work: Work) -> int:
    """Packs of a pane that shares none."""
    return rules.packs_needed(
        to_buy=work.adhesive, pack=job.adhesive.pack, pack_yield=(100 - job.adhesive.pack_rest) / 100, guns=work.plan.guns
    )


def _opened(
    job: Job, placed: Sequence[tuple[Work, int, tuple[Step, ...]]], tasks: Sequence[Task], ledger: Ledger, title: str
) -> Iterator[int]:
    """Packs that each gun opens: each lays an equal part of the beads that it has a share in."""
    needs = {(work.plan.code, piece): work.adhesive / work.plan.guns for work, piece, _ in placed}
    beads = [task for task in tasks if task.kind is StepKind.BEAD]
    for gun in sorted({gun for task in beads for gun in task.guns}):
        own = [task for task in beads if gun in task.guns]
        life = job.adhesive.opened_life
        figure = ledger.work(
            "packs opened in the session",
            rules.packs_opened,
            to_buy=tuple(needs[task.pane, task.piece] for task in own),
            begins=tuple(task.start for task in own),
            ends=tuple(task.end for task in own),
            pack=_of_job(job, "adhesive.pack", "ml"),
            pack_yield=pack_yield(_of_job(job, "adhesive.pack_rest", "%")),
            **({} if life is None else {"life": _of_job(job, "adhesive.opened_life", "min")}),
            where=f"{title}, gun {gun}",
        )
        yield int(figure.value)


def _of_job(job: Job, key: str, unit: str) -> Sourced:
    table, name = key.split(".")
    return Sourced(getattr(getattr(job, table), name), Origin.GIVEN if job.was_given(key) else Origin.DEFAULT, key, unit)


def _work(subject: Subject) -> Work:
    ledger = Ledger()
    day = day_figures(subject, ledger)
    ready, together = alone(subject, day)
    work = subject.pane.work
    plan = PaneWork(
        code=subject.pane.code,
        ready=ready,
        together=together,
        clock_step=work.clock_step,
        begins=begins_of(subject),
        guns=work.guns,
        lifting=_lifting(subject, day),
        wipe_longest=(work.frame_wipe_longest, work.glass_wipe_longest),
        primer_longest=(work.frame_primer_longest, work.glass_primer_longest),
    )
    return Work(plan, float(day.adhesive.to_buy.value))


def _lifting(subject: Subject, day: DayFigures) -> int:
    """How many lift: two with gear, else as many as the pane's mass asks for."""
    if day.carrying.gear:
        return 2
    needed = day.carrying.needed.value
    return max(2, subject.pane.work.people if needed is None else int(needed))


_MOST_KEPT = 256
_known: OrderedDict[tuple[int, ...], tuple[Any, Work | None]] = OrderedDict()


def _kept(job: Job, pane: Pane) -> Work | None:
    """The work of another pane of a job, built once: it stands while the pane and the vessel's tables are the same objects.

    None where the pane cannot be built.
    """
    from geometry.detail.build import DetailError, build_detail
    from geometry.workings.subject import Subject

    tables = (pane, *(getattr(job, name) for name in type(job).model_fields if name not in ("panes", "sessions")))
    key = tuple(map(id, tables))
    if key not in _known:
        try:
            found: Work | None = _work(Subject(job, pane, build_detail(job, pane)))
        except DetailError:
            found = None
        _known[key] = (tables, found)  # the tables are kept, so that no other object takes their place
        if len(_known) > _MOST_KEPT:
            _known.popitem(last=False)
    return _known[key][1]


__all__ = ["SessionPlan", "Turn", "Work", "crew_of", "guns_of", "limit_of", "session_plans", "span_of", "turn_of", "vessel_sessions"]
