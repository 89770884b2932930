"""The clock of the fitter's card: the plan of the day in full minutes, every start rounded up and every limit down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.rules.day.time_plan import whole_minutes

if TYPE_CHECKING:
    from geometry.workings.time_plan import TimePlan

_SHORT = {
    "abrade the landing": "abrade landing",
    "vacuum, activator wipe": "vacuum, activator",
    "prime the landing": "prime landing",
    "spacers, chocks, gun": "spacers, chocks, gun",
    "goods-in check": "check glass",
    "activator on the bond line": "activator on line",
    "black primer on the glass": "black primer",
    "climate check, wait for the clock": "climate check, wait",
    "press": "press home",
}
"""Wording of the steps for a narrow column; any other stands as it is."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the clock: offset in minutes, what is done, minutes to wait (None: work) and the offset by which that wait must end."""

    offset: int
    what: str
    wait: int | None = None
    by: int | None = None


@dataclass(frozen=True, slots=True)
class Clock:
    """The day by the clock. Offsets in minutes; ``begins`` is the start of work in minutes after midnight.

    ``too_long`` is by how many minutes the plan misses its abort, 0 where it does not; ``longest`` are offsets by which a primed face must
    be wetted, None where no longest wait is given; ``from_bead`` are the minutes from the first bead to the abort.
    """

    begins: int
    frame: tuple[Line, ...]
    glass: tuple[Line, ...]
    both: tuple[Line, ...]
    last_lift: int
    last_press: int
    abort: int
    from_bead: int
    too_long: int
    longest: tuple[int | None, int | None]

    def at(self, offset: int) -> str:
        """The time of day: ``09:14``; past midnight ``00:05 +1``."""
        minutes = self.begins + offset
        day = minutes // 1440
        return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}" + (f" +{day}" if day else "")


def clock_of(plan: TimePlan) -> Clock:
    """The plan of the day in full minutes: starts up, limits down. Work that begins between two minutes begins on the next."""
    begins = plan.start.hour * 60 + plan.start.minute + plan.start.second / 60
    base = whole_minutes(begins)
    late = begins - base  # nought or less

    def start(minutes: float) -> int:
        return whole_minutes(late + minutes)

    def limit(minutes: float | None) -> int | None:
        return None if minutes is None else whole_minutes(late + minutes, limit=True)

    def lines(chain: str, by: float | None) -> tuple[Line, ...]:
        """The steps of a chain; the first wait, that of the activator, ends by a time where its longest is given."""
        found: list[Line] = []
        for step in plan.steps:
            if step.chain == chain:
                waits = step.flash and chain != "both"
                first = waits and all(line.wait is None for line in found)
                wait = whole_minutes(step.length) if waits else None
                found.append(Line(start(step.start), _SHORT.get(step.what, step.what), wait, limit(by) if first else None))
        return tuple(found)

    activated_frame, primed_frame, activated_glass, primed_glass = (latest for _, latest in plan.waits)
    return Clock(
        begins=base,
        frame=lines("frame", activated_frame),
        glass=lines("glass", activated_glass),
        both=lines("both", None),
        last_lift=whole_minutes(late + plan.latest_lift, limit=True),
        last_press=start(plan.last_press),
        abort=whole_minutes(late + plan.latest_abort, limit=True),
        from_bead=whole_minutes(plan.limit, limit=True),
        too_long=max(1, whole_minutes(plan.too_long)) if plan.do_not_start else 0,
        longest=(limit(primed_frame), limit(primed_glass)),
    )


__all__ = ["Clock", "Line", "clock_of"]
