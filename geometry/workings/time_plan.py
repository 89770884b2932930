"""The plan of one pane by the clock: making ready in two chains, bead and placing against the open time, then the days of cure.

Terms
-----
chain
    Frame and glass are made ready at the same time by two fitters; "both" is what they do together afterwards.
longest wait
    How long a primed face may wait before it must be activated again; from the data sheet.
latest abort
    The bead's oldest skin has used its share of the open time: past it the pane is not placed.
open time
    At the climate of the day.

Times are minutes from the start of work, days count from the bonding.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any

from geometry.ledger.figure import worked_once
from geometry.rules.day import climate
from geometry.rules.day import time_plan as rules
from geometry.rules.day.time_plan import Rates, Step, StepKind
from geometry.workings.carrying import Carrying, carrying_of
from geometry.workings.cure_path import CurePath, cure_path_of
from geometry.workings.quantities import AdhesiveNeed, adhesive_need

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger, Sourced
    from geometry.workings.subject import Subject

__all__ = [
    "DayFigures",
    "Step",
    "StepKind",
    "TimePlan",
    "alone",
    "begins_of",
    "clock",
    "day_figures",
    "open_time_of",
    "planned",
    "primed_at",
    "time_plan_of",
    "wiped_at",
]

FRAME_WAIT = "wet the primed landing"
GLASS_WAIT = "wet the primed glass"
FRAME_ACTIVATED = "prime the activated landing"
GLASS_ACTIVATED = "prime the activated glass"


@dataclass(frozen=True, slots=True)
class TimePlan:
    """The whole plan. ``pack_changes`` counts the changes of each gun; ``open_time`` is at the day's climate and ``limit`` its share.

    ``longest_waits`` are what must be done and the latest minute for it; ``waits`` those and the others, None where no longest wait is
    given. ``latest_lift``: lifted later, the pane is not pressed home before the abort. ``hose_day`` is None where the bead never cures
    through. ``full_cure_as_planned`` is None where the bead never
    cures through, ``handling_day`` where it never carries the pane. ``session`` is the title of the pane's session, "" where it is in none: minutes
    then count from the start of the session, whose day is ``date``.
    """

    steps: tuple[Step, ...]
    bead_starts: float
    bead_time: float
    pack_changes: int
    last_press: float
    latest_abort: float
    open_time: float
    limit: float
    elapsed: float
    start: datetime.time
    packs: int
    longest_waits: tuple[tuple[str, float], ...]
    waits: tuple[tuple[str, float | None], ...]
    latest_lift: float
    backfill_day: float
    handling_day: float | None
    full_cure_both: float
    full_cure_one: float
    full_cure_as_planned: float | None
    hose_day: float | None
    guns: int = 1
    with_gear: bool = False
    session: str = ""
    date: datetime.date | None = None

    @property
    def in_time(self) -> bool:
        """Whether the last press comes no later than the abort."""
        return self.elapsed <= self.limit + 1e-9

    @property
    def too_long(self) -> float:
        """Minutes by which the plan is longer than its abort: more than 0 means do not start; 0 where it is in time."""
        return 0.0 if self.in_time else self.elapsed - self.limit

    @property
    def do_not_start(self) -> bool:
        """Whether the pane cannot be pressed home before the abort, whatever the fitters do."""
        return not self.in_time


@dataclass(frozen=True, slots=True)
class DayFigures:
    """The figures behind the plan of one pane."""

    adhesive: AdhesiveNeed
    carrying: Carrying
    cure: CurePath
    lift: Sourced
    align: Sourced
    press: Sourced
    bead_time: Figure
    elapsed: Figure
    open_time: Figure
    limit: Figure
    latest_lift: Figure


@worked_once
def day_figures(subject: Subject, ledger: Ledger) -> DayFigures:
    """Work out what the plan of one pane stands on."""
    adhesive = adhesive_need(subject, ledger)
    carrying = carrying_of(subject, ledger)
    lift = subject.asked("work.lift_with_gear" if carrying.gear else "work.lift", unit="min")
    align = subject.asked("work.align_with_gear" if carrying.gear else "work.align", unit="min")
    large = subject.detail.area * 1e-6 > subject.asked("work.large_pane").value
    press = subject.asked("work.press_large" if large else "work.press", unit="min")
    laying = ledger.work(
        "time of the bead",
        rules.bead_time,
        volume=adhesive.volume,
        packs=adhesive.packs,
        rate=subject.asked("work.bead_rate", unit="ml/min"),
        guns=subject.asked("work.guns"),
        pack_change=subject.asked("work.pack_change", unit="min"),
    )
    opened = ledger.work(
        "open time in the climate",
        climate.open_time,
        air=subject.asked("climate.air", unit="°C"),
        **open_time_of(subject),
    )
    limit = ledger.work(
        "time that may be used",
        rules.time_limit,
        open_time=opened,
        share=subject.asked("work.open_time_share", scale=0.01),
    )
    return DayFigures(
        adhesive=adhesive,
        carrying=carrying,
        cure=cure_path_of(subject, ledger),
        lift=lift,
        align=align,
        press=press,
        bead_time=laying,
        elapsed=ledger.work(
            "first bead to last press", rules.elapsed_time, bead_time=laying, lift=lift, align=align, press=press
        ),
        open_time=opened,
        limit=limit,
        latest_lift=ledger.work(
            "latest lift after the first bead", rules.latest_lift, abort=limit, lift=lift, align=align, press=press
        ),
    )


def open_time_of(subject: Subject) -> dict[str, Any]:
    """What the adhesive's sheet and the humidity of the day say about the open time, by the names of the rule's parameters."""
    known = {
        "humidity": subject.asked("climate.humidity", unit="%"),
        "open_time_at_23": subject.asked("adhesive.open_time", unit="min"),
        "halving": subject.asked("adhesive.open_time_halving", unit="K"),
    }
    if subject.job.adhesive.open_time_cold is not None:
        known["cold_open_time"] = subject.asked("adhesive.open_time_cold", unit="min")
        known["cold_air"] = subject.asked("adhesive.open_time_cold_air", unit="°C")
    return known


def time_plan_of(subject: Subject, ledger: Ledger) -> TimePlan:
    """The plan of one pane."""
    return planned(subject, ledger, day_figures(subject, ledger))


def alone(subject: Subject, day: DayFigures) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """The steps of frame and glass, and those done together, as if the pane were the only one of its day."""
    work = subject.pane.work
    pace = Rates(**{field.name: getattr(work, field.name) for field in fields(Rates)})
    ready = rules.making_ready(bead_length=subject.detail.uncured_bead.length, area=subject.detail.area, rates=pace)
    both = max(step.end for step in ready)
    starts = rules.on_clock(both + work.climate_check, begins=begins_of(subject), step=work.clock_step)
    return ready, rules.placing(
        ready=both,
        climate_check=work.climate_check,
        bead_start=starts,
        bead_time=day.bead_time.value,
        lift=day.lift.value,
        align=day.align.value,
        press=day.press.value,
    )


def begins_of(subject: Subject) -> float:
    """Start of the work in minutes after midnight: of a pane in a session the start of the session."""
    return rules.minutes_of(subject.pane.work.start)


def planned(subject: Subject, ledger: Ledger, day: DayFigures) -> TimePlan:
    """The plan by the clock from figures that are already worked out: that of the pane's session, or as if it were alone."""
    work, turn = subject.pane.work, subject.turn
    ready, together = alone(subject, day)  # asked for in a session too: its clock hangs on all that this reads
    steps, free = ready + together, dict[str, Any]()
    if turn is not None and turn.steps is not None:
        steps = turn.steps
        free = {"people_free": next(step.start for step in steps if step.kind is StepKind.CLIMATE_CHECK)}
    ends = {chain: max(step.end for step in steps if step.chain == chain) for chain in ("frame", "glass")}
    starts: float = ledger.work(
        "start of the bead",
        rules.bead_start,
        frame_ready=ends["frame"],
        glass_ready=ends["glass"],
        climate_check=subject.asked("work.climate_check", unit="min"),
        **free,
        work_begins=begins_of(subject),
        clock_step=subject.asked("work.clock_step", unit="min"),
    ).value
    path, waits = day.cure, _waits(subject, steps)
    return TimePlan(
        steps=steps,
        bead_starts=starts,
        bead_time=day.bead_time.value,
        pack_changes=-(-day.adhesive.packs.value // work.guns) - 1,
        last_press=starts + day.elapsed.value,
        latest_abort=starts + day.limit.value,
        open_time=day.open_time.value,
        limit=day.limit.value,
        elapsed=day.elapsed.value,
        start=work.start,
        packs=day.adhesive.packs.value,
        longest_waits=tuple((what, latest) for what, latest in waits if latest is not None),
        waits=waits,
        latest_lift=starts + day.latest_lift.value,
        backfill_day=path.backfill_day,
        handling_day=None if path.handling is None else path.handling.value,
        full_cure_both=path.both.value,
        full_cure_one=path.one.value,
        full_cure_as_planned=None if path.as_planned is None else path.as_planned.value,
        hose_day=None if path.hose is None else path.hose.value,
        guns=work.guns,
        with_gear=day.carrying.gear,
        session="" if turn is None else turn.title,
        date=None if turn is None else turn.session.date,
    )


def primed_at(plan: TimePlan) -> dict[str, float]:
    """Minute at which each face is primed, by "frame" and "glass"."""
    return _ends_of(plan.steps, StepKind.PRIME)


def wiped_at(plan: TimePlan) -> dict[str, float]:
    """Minute at which the wipe of each face ends, by "frame" and "glass"."""
    return _ends_of(plan.steps, StepKind.WIPE)


def _ends_of(steps: tuple[Step, ...], kind: StepKind) -> dict[str, float]:
    return {step.chain: step.end for step in steps if step.kind is kind}


def _waits(subject: Subject, steps: tuple[Step, ...]) -> tuple[tuple[str, float | None], ...]:
    """What must be done after each wipe and primer, and the latest minute for it; None where no longest wait is given."""
    work = subject.pane.work
    wiped, primed = _ends_of(steps, StepKind.WIPE), _ends_of(steps, StepKind.PRIME)
    return tuple(
        (what, None if longest is None else after + longest)
        for what, longest, after in (
            (FRAME_ACTIVATED, work.frame_wipe_longest, wiped["frame"]),
            (FRAME_WAIT, work.frame_primer_longest, primed["frame"]),
            (GLASS_ACTIVATED, work.glass_wipe_longest, wiped["glass"]),
            (GLASS_WAIT, work.glass_primer_longest, primed["glass"]),
        )
    )


def clock(plan: TimePlan, minutes: float, *, limit: bool = False) -> str:
    """Time of day so many minutes after the start of work: "09:14"; past midnight "00:05 +1 day".

    What is planned is rounded up to the minute, a ``limit`` down, on every document. Raises ``ValueError`` for a time before the start.
    """
    begins = rules.minutes_of(plan.start)
    shown = rules.clock(begins + minutes, start="00:00", limit=limit)
    days = rules.whole_minutes(begins + minutes, limit=limit) // 1440
    return shown if not days else f"{shown} +{days} {'day' if days == 1 else 'days'}"
