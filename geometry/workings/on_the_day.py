"""What is judged on the day itself: limits of the climate, the open time, longest waits, by which readings and real times are held.

The plan is made for the climate and the start of the job. On the day the fitter reads another climate and begins at another minute; the rules
stay those of :mod:`geometry.rules.day`, and here stand the values of one pane that they need, so that a page away from any computer can
follow them.

Terms
-----
wait
    A wiped or primed face may wait so long for what comes next: counted from the end of the step, which is the start of the one after it.
ahead
    How long before a limit the page calls.

Temperatures °C, margins K, humidity %, times minutes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.rules.day.climate import ICE, WATER
from geometry.rules.day.cure import STANDARD_AIR, STANDARD_HUMIDITY
from geometry.rules.day.time_plan import StepKind
from geometry.workings.time_plan import open_time_of

if TYPE_CHECKING:
    from geometry.rules.day.time_plan import Step
    from geometry.workings.subject import Subject
    from geometry.workings.time_plan import TimePlan


@dataclass(frozen=True, slots=True)
class ClimateLimits:
    """What glass and frame must keep: K above the dew point, most humidity, coldest and warmest; ``water`` and ``ice`` are the Magnus
    coefficients a and b of the dew point.
    """

    margin: float
    most_humidity: float
    coldest: float
    warmest: float
    water: tuple[float, float]
    ice: tuple[float, float]


@dataclass(frozen=True, slots=True)
class OpenTime:
    """The adhesive's sheet: open time at the standard air and humidity, the halving (K), a second point in the cold where the sheet has one;
    ``share`` (0 to 1) of it may be used.
    """

    at_standard: float
    halving: float
    cold: float | None
    cold_air: float | None
    standard_air: float
    standard_humidity: float
    share: float


@dataclass(frozen=True, slots=True)
class Wait:
    """From the start of ``after`` at most ``longest`` minutes (None: not given) until ``until`` begins, or, where that is None, until the
    last press is done. ``face`` is "frame" or "glass"; ``primed``: the face is primed, else only wiped.
    """

    face: str
    primed: bool
    after: Step
    until: Step | None
    longest: float | None


@dataclass(frozen=True, slots=True)
class OnTheDay:
    """All of it for one pane. ``elapsed`` from the first bead to the last press and ``in_place`` of it from the lift on, as planned."""

    climate: ClimateLimits
    open_time: OpenTime
    waits: tuple[Wait, ...]
    elapsed: float
    in_place: float
    ahead: float


def on_the_day(subject: Subject, plan: TimePlan) -> OnTheDay:
    """The values by which one pane is judged on its day."""
    limits, work = subject.pane.limits, subject.pane.work
    known = {name: float(each.value) for name, each in open_time_of(subject).items()}
    bead = next(step for step in plan.steps if step.kind is StepKind.BEAD)
    return OnTheDay(
        climate=ClimateLimits(
            margin=limits.dew_margin,
            most_humidity=limits.humidity_most,
            coldest=limits.bonding_coldest,
            warmest=limits.bonding_warmest,
            water=WATER,
            ice=ICE,
        ),
        open_time=OpenTime(
            at_standard=known["open_time_at_23"],
            halving=known["halving"],
            cold=known.get("cold_open_time"),
            cold_air=known.get("cold_air"),
            standard_air=STANDARD_AIR,
            standard_humidity=STANDARD_HUMIDITY,
            share=work.open_time_share / 100.0,
        ),
        waits=(
            _wait(plan, "frame", StepKind.WIPE, work.frame_wipe_longest),
            _wait(plan, "frame", StepKind.PRIME, work.frame_primer_longest),
            _wait(plan, "glass", StepKind.WIPE, work.glass_wipe_longest),
            _wait(plan, "glass", StepKind.PRIME, work.glass_primer_longest),
        ),
        elapsed=plan.elapsed,
        in_place=plan.elapsed - bead.length,
        ahead=work.alarm_ahead,
    )


def _wait(plan: TimePlan, face: str, kind: StepKind, longest: float | None) -> Wait:
    """Counted from the end of a wipe or primer; the wipe's ends when the face is primed."""
    chain = [step for step in plan.steps if step.chain == face]
    kinds = [step.kind for step in chain]
    after = chain[kinds.index(kind) + 1]
    until = chain[kinds.index(StepKind.PRIME) + 1] if kind is StepKind.WIPE else None
    return Wait(face, until is None, after, until, longest)


__all__ = ["ClimateLimits", "OnTheDay", "OpenTime", "Wait", "on_the_day"]
