"""The clock of the fitter's card: the plan of the day in full minutes, every start rounded up and every limit down."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.rules.day.time_plan import StepKind, minutes_of, whole_minutes

if TYPE_CHECKING:
    from geometry.workings.time_plan import TimePlan

_WORDS = {
    ("frame", StepKind.ABRADE): "abrade landing",
    ("frame", StepKind.WIPE): "vacuum, activator",
    ("frame", StepKind.PRIME): "prime landing",
    ("glass", StepKind.GOODS_IN): "check glass",
    ("glass", StepKind.WIPE): "activator on line",
    ("glass", StepKind.PRIME): "black primer",
    ("both", StepKind.PRESS): "press home",
}
"""Wording of the steps for a narrow column; any other is told as the plan tells it."""
NO_TIME = "--:--"
"""Where a plan longer than its abort leaves no time of day that could be kept."""
FIRST = "climate check, first"
"""A check for which the plan leaves no minute of its own before the bead."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the clock: what is done; its offset in minutes, None where a plan longer than its abort leaves it no time; minutes to wait
    (None: work) and the offset by which that wait must end.
    """

    kind: StepKind
    what: str
    offset: int | None
    wait: int | None = None
    by: int | None = None


@dataclass(frozen=True, slots=True)
class Clock:
    """The day by the clock. Offsets in minutes; ``begins`` is the start of work in minutes after midnight.

    A plan that misses its abort has no time for a last lift or press, nor for anything past the abort: those are None.

    ``too_long`` is by how many minutes the plan misses its abort, 0 where it does not; ``longest`` are offsets by which a primed face must
    be wetted, None where no longest wait is given; ``from_bead`` are the minutes from the first bead to the abort.
    """

    begins: int
    frame: tuple[Line, ...]
    glass: tuple[Line, ...]
    both: tuple[Line, ...]
    last_lift: int | None
    last_press: int | None
    abort: int
    from_bead: int
    too_long: int
    longest: tuple[int | None, ...]

    def at(self, offset: int | None) -> str:
        """The time of day: ``09:14``; past midnight ``00:05 +1``; ``--:--`` where there is none."""
        if offset is None:
            return NO_TIME
        minutes = self.begins + offset
        day = minutes // 1440
        return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}" + (f" +{day}" if day else "")


def clock_of(plan: TimePlan) -> Clock:
    """The plan of the day in full minutes: starts up, limits down. Work that begins between two minutes begins on the next."""
    begins = minutes_of(plan.start)
    base = whole_minutes(begins)
    late = begins - base  # nought or less

    def start(minutes: float) -> int:
        return whole_minutes(late + minutes)

    def limit(minutes: float | None) -> int | None:
        return None if minutes is None else whole_minutes(late + minutes, limit=True)

    def lines(chain: str, by: float | None) -> tuple[Line, ...]:
        """The steps of a chain; the wait of the activator ends by a time where its longest is given; that for the clock ends with the bead."""
        found: list[Line] = []
        for step in plan.steps:
            if step.chain != chain or step.kind is StepKind.WAIT_FOR_CLOCK:
                continue
            told = _WORDS.get((chain, step.kind), step.what)
            wait = whole_minutes(step.length) if step.flash else None
            end = limit(by) if step.kind is StepKind.WIPE_FLASH else None
            found.append(Line(step.kind, told, start(step.start), wait, end))
        return tuple(found)

    both = lines("both", None)
    bead = next(each for each in both if each.kind is StepKind.BEAD)
    both = tuple(
        replace(each, what=FIRST) if each.kind is StepKind.CLIMATE_CHECK and each.offset == bead.offset else each for each in both
    )
    abort = whole_minutes(late + plan.latest_abort, limit=True)
    activated_frame, primed_frame, activated_glass, primed_glass = (latest for _, latest in plan.waits)
    longest: tuple[int | None, ...] = (limit(primed_frame), limit(primed_glass))
    if plan.do_not_start:  # no lift is in time, and nothing is told past the abort
        too_late = (StepKind.LIFT, StepKind.ALIGN, StepKind.PRESS)
        both = tuple(replace(each, offset=None) if each.kind in too_late else each for each in both)
        longest = tuple(None if each is None else min(each, abort) for each in longest)
    return Clock(
        begins=base,
        frame=lines("frame", activated_frame),
        glass=lines("glass", activated_glass),
        both=both,
        last_lift=None if plan.do_not_start else limit(plan.latest_lift),
        last_press=None if plan.do_not_start else start(plan.last_press),
        abort=abort,
        from_bead=whole_minutes(plan.limit, limit=True),
        too_long=max(1, whole_minutes(plan.too_long)) if plan.do_not_start else 0,
        longest=longest,
    )


__all__ = ["FIRST", "NO_TIME", "Clock", "Line", "clock_of"]
