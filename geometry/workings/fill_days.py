"""The days on which the joints of a vessel's panes are filled, and the packs of sealant that each of them opens.

Terms
-----
day of the backfill
    The first on which a pane may be filled, so many days after the bonding in its session: panes of one session are often filled on
    another day than they were bonded, and those of two sessions on one.
packs opened
    By one gun: a pack goes on to the next pane of its day, with a new nozzle (common practice, no source), and never to another day.
"""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.rules.day import quantities as rules
from geometry.workings.quantities import SEALANT, whole_sum
from geometry.workings.session_releases import Release, bonded_on, days_after, releases_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.job import Job
    from geometry.workings.quantities import Quantities
    from geometry.workings.time_plan import TimePlan


@dataclass(frozen=True, slots=True)
class FillDay:
    """A day on which joints are filled: sealant of its panes together, ml, waste included, and the packs that it opens.

    ``one_by_one`` would be without any pack going on to the next pane; ``in_hand`` comes on top.
    """

    date: datetime.date
    panes: tuple[str, ...]
    amount: float
    packs: int
    one_by_one: int
    in_hand: int


def fill_day(bonded: datetime.date | None, releases: Iterable[tuple[str, int | None]]) -> datetime.date | None:
    """The day of the backfill of a pane bonded on a day; None where no session gives that day, or the bead never comes to it.

    ``releases`` are what may be done and the whole day after the bonding on which it may.

    >>> fill_day(datetime.date(2026, 5, 4), (("straps off", 1), ("backfill", 7)))
    datetime.date(2026, 5, 11)
    """
    return days_after(bonded, dict(releases).get(Release.BACKFILL))


def fill_day_of(plan: TimePlan | None) -> datetime.date | None:
    """The same of a pane that was just checked, by its plan; None without one."""
    return None if plan is None else fill_day(bonded_on(plan), ((each.what, each.day) for each in releases_of(plan)))


def fill_days(
    each: Sequence[Quantities], counts: Sequence[int], codes: Sequence[str], days: Sequence[datetime.date | None], job: Job
) -> tuple[FillDay, ...]:
    """Every day of a backfill, in their order, of the panes that have one; ``counts`` says how many there are of each."""
    found = []
    for day in sorted({day for day in days if day is not None}):
        own = [
            (code, quantities.row(SEALANT), count)
            for quantities, count, code, on in zip(each, counts, codes, days, strict=True)
            if on == day
        ]
        amount = math.fsum(row.amount for _, row, count in own for _ in range(count))
        found.append(
            FillDay(
                date=day,
                panes=tuple(code for code, _, _ in own),
                amount=amount,
                packs=rules.packs_needed(to_buy=amount, pack=job.sealant.pack, pack_yield=(100 - job.sealant.pack_rest) / 100),
                one_by_one=whole_sum(row.packs * count for _, row, count in own),
                in_hand=job.consumables.packs_in_hand,
            )
        )
    return tuple(found)


__all__ = ["FillDay", "fill_day", "fill_day_of", "fill_days"]
