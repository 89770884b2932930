"""The bonding day by the clock: two chains side by side, then the bead against the open time.

Terms
-----
chain
    Frame and glass are made ready at the same time by two fitters; the bead starts when both are ready.
kind
    What a step is, whatever words tell it; an activator's and a primer's flash-off are of one kind in both chains.
flash-off
    Waiting time of an activator or primer; nobody works, the clock runs.
elapsed
    From the first millimetre of bead, the oldest skin, to the last press.
open time
    How long the oldest skin still wets the landing; four fifths of it are used.
abort
    Latest minute at which the pane may be pressed home. Past it: do not place.

Times are minutes after the start of work, lengths mm, areas mm², volumes ml, rates ml/min.
"""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Count, Millilitres, MillilitresPerMinute, Minutes, Ratio


@dataclass(frozen=True, slots=True)
class Rates:
    """How long each piece of making ready takes: minutes, per metre of bead or m² of glass where the comment says so."""

    abrade: float = 1.5  # per metre
    frame_wipe: float = 0.5  # per metre
    frame_wipe_flash: float = 15.0
    frame_primer: float = 0.7  # per metre
    frame_primer_flash: float = 20.0
    set_out: float = 4.0
    goods_in: float = 5.0
    clean: float = 4.0  # per m²
    clean_least: float = 3.0
    mask: float = 0.6  # per metre and line
    mask_lines: int = 2  # on the glass
    glass_wipe: float = 0.5  # per metre
    glass_wipe_flash: float = 15.0
    glass_primer: float = 0.7  # per metre
    glass_primer_flash: float = 20.0
    unmask: float = 0.5  # per metre
    climate_check: float = 3.0


class StepKind(StrEnum):
    """What is done in a step: its identity, beside the chain it belongs to."""

    ABRADE = "abrade"
    WIPE = "wipe"
    WIPE_FLASH = "flash-off of the wipe"
    PRIME = "prime"
    PRIMER_FLASH = "flash-off of the primer"
    SET_OUT = "set out"
    GOODS_IN = "goods in"
    CLEAN = "clean"
    MASK = "mask"
    UNMASK = "unmask"
    CLIMATE_CHECK = "climate check"
    WAIT_FOR_CLOCK = "wait for the clock"
    BEAD = "bead"
    LIFT = "lift"
    ALIGN = "align"
    PRESS = "press"


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the plan: which chain, what is done and in which words, its start and length; ``flash``: nobody works, the clock runs."""

    chain: Literal["frame", "glass", "both"]
    kind: StepKind
    what: str
    start: float
    length: float
    flash: bool = False

    @property
    def end(self) -> float:
        """When it is done."""
        return self.start + self.length


def making_ready(*, bead_length: float, area: float, rates: Rates | None = None) -> tuple[Step, ...]:
    """The frame chain and the glass chain, both from minute 0. Bead length mm, area of the pane mm².

    Masking comes off straight after priming, inside the flash-off of the primer.
    """
    require.positive(bead_length=bead_length, area=area)
    pace = rates or Rates()
    metres = bead_length / 1000
    frame = _chain(
        "frame",
        (
            (StepKind.ABRADE, "abrade the landing", metres * pace.abrade),
            (StepKind.WIPE, "vacuum, activator wipe", metres * pace.frame_wipe),
            (StepKind.WIPE_FLASH, "flash-off of the activator", pace.frame_wipe_flash),
            (StepKind.PRIME, "prime the landing", metres * pace.frame_primer),
            (StepKind.PRIMER_FLASH, "flash-off of the primer", pace.frame_primer_flash),
            (StepKind.SET_OUT, "spacers, chocks, gun", pace.set_out),
        ),
    )
    unmask = metres * pace.unmask
    lines = {1: "one line", 2: "two lines"}.get(pace.mask_lines, f"{pace.mask_lines} lines")
    glass = _chain(
        "glass",
        (
            (StepKind.GOODS_IN, "goods-in check", pace.goods_in),
            (StepKind.CLEAN, "solvent clean", max(pace.clean_least, pace.clean * area * 1e-6)),
            (StepKind.MASK, f"mask {lines}", pace.mask_lines * metres * pace.mask),
            (StepKind.WIPE, "activator on the bond line", metres * pace.glass_wipe),
            (StepKind.WIPE_FLASH, "flash-off of the activator", pace.glass_wipe_flash),
            (StepKind.PRIME, "black primer on the glass", metres * pace.glass_primer),
            (StepKind.UNMASK, "unmask", unmask),
            (StepKind.PRIMER_FLASH, "flash-off of the primer", max(0.0, pace.glass_primer_flash - unmask)),
        ),
    )
    return frame + glass


def placing(
    *, ready: float, climate_check: float, bead_start: float, bead_time: float, lift: float, align: float, press: float
) -> tuple[Step, ...]:
    """What both fitters do together once both faces are ready: check the climate, wait for the clock, bead, lift, align, press."""
    checked = ready + climate_check
    wait = bead_start - checked
    steps = [Step("both", StepKind.CLIMATE_CHECK, "climate check", ready, climate_check)]
    if wait > 1e-9:
        steps.append(Step("both", StepKind.WAIT_FOR_CLOCK, "until the bead begins", checked, wait, flash=True))
    work = (
        (StepKind.BEAD, "bead", bead_time),
        (StepKind.LIFT, "lift", lift),
        (StepKind.ALIGN, "align", align),
        (StepKind.PRESS, "press", press),
    )
    return (*steps, *_chain("both", work, start=bead_start))


@calculation(
    title="Start of the bead",
    formula="later of frame ready and glass ready (in a session also of people free), the climate check after it, put off until the clock "
    "(work begins + that) shows a full clock step",
    unit="min",
    source="both fitters must be free, both faces flashed off and the climate read; a full quarter is easy to agree on",
    status=Status.COMMON_PRACTICE,
)
def bead_start(
    *,
    frame_ready: Minutes,
    glass_ready: Minutes,
    climate_check: Minutes,
    people_free: Minutes = 0.0,
    work_begins: Minutes = 0.0,
    clock_step: Minutes,
) -> float:
    """Minutes after the start of work at which the bead begins.

    ``people_free`` is when the crew of a session and its guns are there for it; ``work_begins`` is the start of work in minutes after midnight;
    ``clock_step`` 0: as soon as both are ready.
    """
    require.not_negative(
        frame_ready=frame_ready,
        glass_ready=glass_ready,
        climate_check=climate_check,
        people_free=people_free,
        work_begins=work_begins,
        clock_step=clock_step,
    )
    return on_clock(max(frame_ready, glass_ready, people_free) + climate_check, begins=work_begins, step=clock_step)


def on_clock(minutes: float, *, begins: float, step: float) -> float:
    """The first minute from then on at which the clock shows a multiple of ``step``; 0: at once. Work begins at ``begins`` after midnight.

    >>> on_clock(47.0, begins=480.0, step=15.0), on_clock(47.0, begins=485.0, step=15.0), on_clock(47.0, begins=485.0, step=0.0)
    (60.0, 55.0, 47.0)
    """
    return minutes if step == 0 else math.ceil((begins + minutes) / step - 1e-9) * step - begins


@calculation(
    title="Time of the bead",
    formula="volume / (rate × guns) + (packs / guns rounded up - 1) × pack change",
    unit="min",
    source="rate 60 ml/min by hand, 120 with a power gun; packs are shared among the guns",
    status=Status.FROM_MEMORY,
)
def bead_time(*, volume: Millilitres, packs: Count, rate: MillilitresPerMinute, guns: Count, pack_change: Minutes) -> float:
    """Minutes to lay the bead; each gun changes packs in its own stretch, all at the same time."""
    require.positive(volume=volume, packs=packs, rate=rate, guns=guns)
    require.not_negative(pack_change=pack_change)
    changes = math.ceil(packs / guns) - 1
    return volume / (rate * guns) + changes * pack_change


@calculation(
    title="Elapsed time from first bead to last press",
    formula="bead time + lift + align + press",
    unit="min",
    source="the oldest skin counts",
    status=Status.DERIVED,
)
def elapsed_time(*, bead_time: Minutes, lift: Minutes, align: Minutes, press: Minutes) -> float:
    """Minutes from the first millimetre of bead to the last press."""
    require.positive(bead_time=bead_time)
    require.not_negative(lift=lift, align=align, press=press)
    return bead_time + lift + align + press


@calculation(
    title="Time limit",
    formula="share × open time",
    unit="min",
    source="the rest is kept in hand",
    status=Status.COMMON_PRACTICE,
)
def time_limit(*, open_time: Minutes, share: Ratio) -> float:
    """Minutes from the first bead at which the last press must be done."""
    require.positive(open_time=open_time)
    require.positive(share=share)
    require.between(0, 1, share=share)
    return share * open_time


@calculation(
    title="Wait of a primed face",
    formula="last press - end of priming",
    unit="min",
    source="the whole primed face is wetted only when the pane is pressed home",
    status=Status.DERIVED,
)
def primed_wait(*, last_press: Minutes, primed: Minutes) -> float:
    """Minutes a primer waits: both counted from the start of work."""
    require.not_negative(last_press=last_press, primed=primed)
    return last_press - primed


@calculation(
    title="Latest start of the lift",
    formula="abort - lift - align - press",
    unit="min",
    source="a pane that is lifted later is not pressed home before the abort; the fitter decides at the lift",
    status=Status.DERIVED,
)
def latest_lift(*, abort: Minutes, lift: Minutes, align: Minutes, press: Minutes) -> float:
    """Minutes, counted from where ``abort`` is; may lie before the bead is laid: then the plan is too long."""
    require.not_negative(abort=abort, lift=lift, align=align, press=press)
    return abort - lift - align - press


@calculation(
    title="Wait of an activated face",
    formula="end of priming - end of the wipe",
    unit="min",
    source="the last of the face is primed at the end of priming",
    status=Status.DERIVED,
)
def activated_wait(*, primed: Minutes, wiped: Minutes) -> float:
    """Minutes an activator waits for its primer: both counted from the start of work."""
    require.not_negative(primed=primed, wiped=wiped)
    return primed - wiped


def minutes_of(time: datetime.time) -> float:
    """A time of day as minutes after midnight.

    >>> minutes_of(datetime.time(7, 30, 45))
    450.75
    """
    return time.hour * 60 + time.minute + time.second / 60


def whole_minutes(minutes: float, *, limit: bool = False) -> int:
    """The minute that a document shows: what is planned is rounded up to the minute, a limit down.

    Nobody is told to begin before both are ready, nor that there is time when there is none.

    >>> whole_minutes(47.2), whole_minutes(47.2, limit=True), whole_minutes(47.0), whole_minutes(47.0, limit=True)
    (48, 47, 47, 47)
    """
    return math.floor(minutes + 1e-9) if limit else math.ceil(minutes - 1e-9)


def span(minutes: float, *, limit: bool = False) -> str:
    """So many minutes as hours and minutes, rounded as on a clock: ``span(64.25)`` is ``"1:05"``; before zero ``"-0:13"``."""
    whole = whole_minutes(minutes, limit=limit)
    return f"{'-' if whole < 0 else ''}{abs(whole) // 60}:{abs(whole) % 60:02d}"


def clock(minutes: float, *, start: str = "08:00", limit: bool = False) -> str:
    """Time of day ``minutes`` after ``start``, rounded to the minute: ``clock(64.25)`` is ``"09:05"``, of a limit ``"09:04"``.

    Raises ``ValueError`` for a start that is no time of day.
    """
    require.not_negative(minutes=minutes)
    hours, colon, rest = start.partition(":")
    if not (colon and hours.isdigit() and rest.isdigit() and int(hours) < 24 and int(rest) < 60):
        raise ValueError(f"start: found {start!r}, allowed: a time of day such as 08:00")
    total = int(hours) * 60 + int(rest) + whole_minutes(minutes, limit=limit)
    return f"{total // 60 % 24:02d}:{total % 60:02d}"


FLASHES = frozenset((StepKind.WIPE_FLASH, StepKind.PRIMER_FLASH))


def _chain(
    chain: Literal["frame", "glass", "both"], work: tuple[tuple[StepKind, str, float], ...], *, start: float = 0.0
) -> tuple[Step, ...]:
    steps = []
    now = start
    for kind, what, length in work:
        steps.append(Step(chain, kind, what, now, length, flash=kind in FLASHES))
        now += length
    return tuple(steps)


__all__ = [
    "Rates",
    "Step",
    "StepKind",
    "activated_wait",
    "bead_start",
    "bead_time",
    "clock",
    "elapsed_time",
    "latest_lift",
    "making_ready",
    "minutes_of",
    "on_clock",
    "placing",
    "primed_wait",
    "span",
    "time_limit",
    "whole_minutes",
]
