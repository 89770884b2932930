"""The bonding day by the clock: two chains side by side, then the bead against the open time.

Terms
-----
chain
    Frame and glass are made ready at the same time by two fitters; the bead starts when both are ready.
flash-off
    Waiting time of an activator or primer; nobody works, the clock runs.
elapsed
    From the first millimetre of bead, the oldest skin, to the last press.
open time
    How long the oldest skin still wets the landing; four fifths of it are used.
abort
    Latest minute at which the pane may be pressed home. Past it: do not place.

Times are minutes after the start of the day, lengths mm, areas mm², volumes ml, rates ml/min.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from geometry.rules import require
from geometry.rules.calculation import Status, calculation

HAND_GUN = 60.0
"""ml/min, from memory."""
POWER_GUN = 120.0
"""ml/min, from memory."""
SHARE_OF_OPEN_TIME = 0.8
"""Common practice."""


@dataclass(frozen=True, slots=True)
class Rates:
    """How long each piece of work takes; common practice, minutes, per metre of bead (m) or m² of glass where it says so."""

    abrade_per_metre: float = 1.5
    wipe_per_metre: float = 0.5
    prime_per_metre: float = 0.7
    mask_per_metre: float = 0.6
    unmask_per_metre: float = 0.5
    clean_per_square_metre: float = 4.0
    least_clean: float = 3.0
    goods_in: float = 5.0
    spacers_and_chocks: float = 4.0
    activator_flash: float = 15.0
    frame_primer_flash: float = 20.0
    glass_primer_flash: float = 20.0
    pack_change: float = 1.5
    lift_by_hand: float = 3.0
    lift_with_gear: float = 6.0
    align_by_hand: float = 4.0
    align_with_gear: float = 6.0
    press: float = 3.0
    press_large: float = 4.0
    large_area: float = 1.5e6


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the plan: who, what, from when to when; ``waiting`` marks a flash-off."""

    chain: str
    name: str
    start: float
    end: float
    waiting: bool = False


@dataclass(frozen=True, slots=True)
class TimePlan:
    """The whole day. ``in_time`` is whether the last press comes before the abort."""

    steps: tuple[Step, ...]
    frame_ready: float
    glass_ready: float
    bead_start: float
    last_press: float
    abort: float
    elapsed: float
    limit: float
    latest_lift: float
    reactivate_frame_after: float | None
    reactivate_glass_after: float | None
    in_time: bool = field(default=False)


@calculation(
    title="Time of the bead",
    formula="volume / (rate × guns) + pack changes × time of a change",
    unit="min",
    source="rate 60 ml/min by hand, 120 with a power gun; packs are shared among the guns",
    status=Status.FROM_MEMORY,
)
def bead_time(*, volume: float, packs: int, rate: float = HAND_GUN, guns: int = 1, pack_change: float = 1.5) -> float:
    """Minutes to lay the bead; each gun changes packs in its own stretch, all at the same time."""
    require.positive(volume=volume, packs=packs, rate=rate, guns=guns)
    require.not_negative(pack_change=pack_change)
    changes = math.ceil(packs / guns) - 1
    return volume / (rate * guns) + changes * pack_change


@calculation(
    title="Elapsed time from first bead to last press",
    formula="time of the bead + lift + align + press",
    unit="min",
    source="the oldest skin counts",
    status=Status.DERIVED,
)
def elapsed_time(*, bead_time: float, lift: float, align: float, press: float) -> float:
    """Minutes from the first millimetre of bead to the last press."""
    require.positive(bead_time=bead_time)
    require.not_negative(lift=lift, align=align, press=press)
    return bead_time + lift + align + press


@calculation(
    title="Time limit",
    formula="0.8 × open time",
    unit="min",
    source="a fifth in hand",
    status=Status.COMMON_PRACTICE,
)
def time_limit(*, open_time: float, share: float = SHARE_OF_OPEN_TIME) -> float:
    """Minutes from the first bead at which the last press must be done."""
    require.positive(open_time=open_time)
    require.between(0.1, 1, share=share)
    return share * open_time


def plan(
    *,
    bead_length: float,
    area: float,
    volume: float,
    packs: int,
    open_time: float,
    gear: bool = False,
    rate: float = HAND_GUN,
    guns: int = 1,
    rates: Rates | None = None,
    bead_not_before: float = 0.0,
    longest_primer_wait: float | None = None,
) -> TimePlan:
    """The day from minute 0: frame chain, glass chain, bead, lift, align, press.

    ``bead_not_before`` puts the bead off, minutes; ``longest_primer_wait`` is the data sheet's longest wait of a primer, minutes
    after it was applied: past it the face is activated again.
    """
    require.positive(bead_length=bead_length, area=area)
    require.not_negative(bead_not_before=bead_not_before)
    pace = rates or Rates()
    metres = bead_length / 1000
    cleaning = max(pace.least_clean, pace.clean_per_square_metre * area * 1e-6)
    frame = _chain(
        "frame",
        (
            ("abrade the landing", metres * pace.abrade_per_metre, False),
            ("vacuum, activator wipe", metres * pace.wipe_per_metre, False),
            ("flash-off of the activator", pace.activator_flash, True),
            ("primer", metres * pace.prime_per_metre, False),
            ("flash-off of the primer", pace.frame_primer_flash, True),
            ("spacers, chocks, gun", pace.spacers_and_chocks, False),
        ),
    )
    glass = _chain(
        "glass",
        (
            ("goods-in check", pace.goods_in, False),
            ("solvent clean", cleaning, False),
            ("mask two lines", 2 * metres * pace.mask_per_metre, False),
            ("activator on the bond line", metres * pace.wipe_per_metre, False),
            ("flash-off of the activator", pace.activator_flash, True),
            ("black primer", metres * pace.prime_per_metre, False),
            ("flash-off of the primer, unmask at once", max(pace.glass_primer_flash, metres * pace.unmask_per_metre), True),
        ),
    )
    start = max(frame[-1].end, glass[-1].end, bead_not_before)
    large = area > pace.large_area
    lift = pace.lift_with_gear if gear else pace.lift_by_hand
    align = pace.align_with_gear if gear else pace.align_by_hand
    press = pace.press_large if large else pace.press
    laying = bead_time(volume=volume, packs=packs, rate=rate, guns=guns, pack_change=pace.pack_change)
    both = _chain(
        "both", (("bead", laying, False), ("lift", lift, False), ("align", align, False), ("press", press, False)), start=start
    )
    limit = time_limit(open_time=open_time)
    elapsed = elapsed_time(bead_time=laying, lift=lift, align=align, press=press)
    return TimePlan(
        steps=frame + glass + both,
        frame_ready=frame[-1].end,
        glass_ready=glass[-1].end,
        bead_start=start,
        last_press=start + elapsed,
        abort=start + limit,
        elapsed=elapsed,
        limit=limit,
        latest_lift=start + limit - lift - align - press,
        reactivate_frame_after=_after(frame, "primer", longest_primer_wait),
        reactivate_glass_after=_after(glass, "black primer", longest_primer_wait),
        in_time=elapsed <= limit + 1e-9,
    )


def clock(minutes: float, *, start: str = "08:00") -> str:
    """Time of day ``minutes`` after ``start``, whole minutes, seconds dropped: ``clock(64.25)`` is ``"09:04"``.

    Raises ``ValueError`` for a start that is no time of day.
    """
    require.not_negative(minutes=minutes)
    hours, colon, rest = start.partition(":")
    if not (colon and hours.isdigit() and rest.isdigit() and int(hours) < 24 and int(rest) < 60):
        raise ValueError(f"start: found {start!r}, allowed: a time of day such as 08:00")
    total = int(hours) * 60 + int(rest) + math.floor(minutes + 1e-9)
    return f"{total // 60 % 24:02d}:{total % 60:02d}"


def _chain(chain: str, work: tuple[tuple[str, float, bool], ...], *, start: float = 0.0) -> tuple[Step, ...]:
    steps = []
    now = start
    for name, minutes, waiting in work:
        steps.append(Step(chain, name, now, now + minutes, waiting))
        now += minutes
    return tuple(steps)


def _after(steps: tuple[Step, ...], name: str, wait: float | None) -> float | None:
    if wait is None:
        return None
    require.positive(longest_primer_wait=wait)
    return next(step.end for step in steps if step.name == name) + wait
