"""From when on a bonded pane may be worked on: backfill, straps, hose test, moving the boat, launch.

Terms
-----
release
    The first whole day after the bonding on which something may be done; not before it. It is a least: the person in charge looks at the bead.
launch
    When the bead has cured through as planned and the hose test may have been made (common practice, no source).
day of the bonding
    The day on which the pane is pressed home: that of its session, or the day after where the session runs past midnight.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from geometry.rules.day.time_plan import minutes_of
from geometry.workings.cure_path import whole_days

if TYPE_CHECKING:
    from geometry.workings.time_plan import TimePlan


class Release(StrEnum):
    """What may be done: its identity, the same in every issue of a job."""

    BACKFILL = "backfill"
    STRAPS = "straps off"
    HOSE = "hose test"
    MOVE = "move the boat"
    LAUNCH = "launch"


@dataclass(frozen=True, slots=True)
class Released:
    """``day`` counts whole days from the bonding; None: the bead never comes to it as planned. ``date`` is None without a day of the bonding."""

    what: Release
    day: int | None
    date: datetime.date | None


def bonded_on(plan: TimePlan) -> datetime.date | None:
    """The day on which the pane is pressed home; None where its session gives no day, or it is in none."""
    if plan.date is None:
        return None
    return plan.date + datetime.timedelta(days=day_of(minutes_of(plan.start) + plan.last_press))


def day_of(minutes: float) -> int:
    """The day that minutes after midnight lie in, 0 the first; midnight itself still belongs to the day before.

    >>> day_of(1439.5), day_of(1440.0), day_of(1441.0)
    (0, 0, 1)
    """
    return int((minutes - 1e-9) // 1440)


def releases_of(plan: TimePlan) -> tuple[Released, ...]:
    """Every release of a pane, in the order of :class:`Release`: straps and boat as soon as the bead carries the pane."""
    bonded = bonded_on(plan)
    days = {
        Release.BACKFILL: plan.backfill_day,
        Release.STRAPS: plan.handling_day,
        Release.HOSE: plan.hose_day,
        Release.MOVE: plan.handling_day,
        Release.LAUNCH: _later(plan.full_cure_as_planned, plan.hose_day),
    }
    return tuple(Released(what, whole_day(day), days_after(bonded, whole_day(day))) for what, day in days.items())


def _later(one: float | None, other: float | None) -> float | None:
    """The later of two days; none where one of them never comes."""
    return None if one is None or other is None else max(one, other)


def whole_day(days: float | None) -> int | None:
    """Days rounded up to whole ones."""
    return None if days is None else int(whole_days(days))


def days_after(bonded: datetime.date | None, day: int | None) -> datetime.date | None:
    """The date so many whole days after the bonding; None without one of them, or where no calendar reaches so far."""
    if bonded is None or day is None:
        return None
    try:
        return bonded + datetime.timedelta(days=day)
    except OverflowError:  # a bead that takes thousands of years
        return None


__all__ = ["Release", "Released", "bonded_on", "day_of", "days_after", "releases_of", "whole_day"]
