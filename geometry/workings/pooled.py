"""What the panes of a vessel take to buy together.

Terms
-----
pooled
    The panes of a vessel together: an opened pack goes on to the next pane of its session as long as its life allows; where no session is
    given, none does. One pack more stays in hand for each session. Sealant is opened on the day of the backfill, days after the session.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from geometry.rules.day import quantities as rules
from geometry.workings.quantities import ADHESIVE, SEALANT, Quantities, Quantity, in_hand, in_whole, packs_in_words, whole_sum

if TYPE_CHECKING:
    from geometry.job import Job
    from geometry.workings.fill_days import FillDay
    from geometry.workings.session_plan import SessionPlan


def pooled(
    each: Sequence[Quantities],
    counts: Sequence[int],
    job: Job,
    sessions: Sequence[SessionPlan] = (),
    codes: Sequence[str] = (),
    filled: Sequence[FillDay] = (),
) -> Quantities:
    """The panes together: ``counts`` says how many there are of each. Pieces and lengths are added.

    Packs of adhesive are those that the ``sessions`` open, of the panes of which every one is in ``codes`` (the panes in the order of ``each``);
    packs of sealant those that the days open on which they are ``filled``. Of all other panes each opens its own. Raises ``ValueError``
    where the lists differ in length.
    """
    shared = [plan for plan in sessions if set(plan.panes) <= set(codes)]
    within = {code for plan in shared for code in plan.panes}
    on_a_day = {code for day in filled for code in day.panes}
    lines: dict[tuple[str, tuple[float, ...]], list[tuple[Quantity, int, bool]]] = {}
    for index, (quantities, count) in enumerate(zip(each, counts, strict=True)):
        for row in quantities.rows:
            together = bool(codes) and codes[index] in (on_a_day if row.what == SEALANT else within)
            lines.setdefault((row.what, row.sizes), []).append((row, count, together))
    articles = list(dict.fromkeys(what for what, _ in lines))
    ordered = sorted(lines, key=lambda line: (articles.index(line[0]), line[1]))
    return Quantities(tuple(_pooled_row(lines[line], job, shared, filled) for line in ordered))


def _pooled_row(
    rows: Sequence[tuple[Quantity, int, bool]], job: Job, sessions: Sequence[SessionPlan], filled: Sequence[FillDay]
) -> Quantity:
    first = rows[0][0]
    amounts = [row.amount for row, count, _ in rows for _ in range(count)]
    amount = math.fsum(amounts)
    panes = f"{len(amounts)} pane" if len(amounts) == 1 else f"{len(amounts)} panes"
    if first.what not in (ADHESIVE, SEALANT):
        return Quantity(first.what, amount, first.unit, in_whole(amount, first.unit), f"{panes}, added", None, first.sizes)
    if first.what == SEALANT:
        return _pooled_sealant(rows, job, filled, panes, amount)
    pack, in_sessions = job.adhesive.pack, sessions
    apart = [(row, count) for row, count, together in rows if not (together and in_sessions)]
    single = _packs((row, count) for row, count, _ in rows)
    packs = whole_sum(plan.packs for plan in in_sessions) + _packs(apart)
    spare = job.consumables.packs_in_hand
    own = whole_sum(count for _, count in apart)
    if in_sessions:
        kept = f", and {spare * len(in_sessions)} in hand for {_sessions(len(in_sessions))}" if spare else ""
        kept += f", and {spare} in hand for each session of the others" if own and spare else ""
        told = f"{panes}, opened in {_sessions(len(in_sessions))}; one by one {packs_in_words(single, pack)}"
        told += "; no life of an opened pack given: none goes on" if job.adhesive.opened_life is None else ""
        told += f"; {own} of them in no whole session, one by one" if own else ""
    else:
        kept = in_hand(spare)
        why = "shared by no session" if job.sessions else "no session is given"
        told = f"{panes}, each opens its own: {why}" if len(amounts) > 1 else f"{panes}, opens its own"
    more = spare * (len(in_sessions) + (1 if own else 0))
    return Quantity(first.what, amount, first.unit, packs_in_words(packs, pack) + kept, told, None, packs=packs, in_hand=more)


def _pooled_sealant(
    rows: Sequence[tuple[Quantity, int, bool]], job: Job, filled: Sequence[FillDay], panes: str, amount: float
) -> Quantity:
    """Sealant by the days of the backfill; of a pane without a day its own packs."""
    pack, spare = job.sealant.pack, job.consumables.packs_in_hand
    apart = [(row, count) for row, count, together in rows if not together]
    single, own = _packs((row, count) for row, count, _ in rows), whole_sum(count for _, count in apart)
    packs = whole_sum(day.packs for day in filled) + _packs(apart)
    if filled:
        days = f"{len(filled)} {'day' if len(filled) == 1 else 'days'}"
        kept = f", and {spare * len(filled)} in hand for {days}" if spare else ""
        kept += f", and {spare} in hand for each day of the others" if own and spare else ""
        told = f"{panes}, filled on {days}, the first on which each may be, by one gun; one by one {packs_in_words(single, pack)}"
        told += f"; {own} of them on no day that is known, one by one" if own else ""
    else:
        kept = in_hand(spare)
        several = whole_sum(count for _, count, _ in rows) > 1
        told = f"{panes}, each opens its own: no session gives the day of the backfill" if several else f"{panes}, opens its own"
        least = rules.packs_needed(to_buy=amount, pack=pack, pack_yield=(100 - job.sealant.pack_rest) / 100)
        told += f"; {packs_in_words(least, pack)} by the amount alone" if least < packs else ""
    more = spare * (len(filled) + (1 if own else 0))
    return Quantity(SEALANT, amount, rows[0][0].unit, packs_in_words(packs, pack) + kept, told, None, packs=packs, in_hand=more)


def _packs(rows: Iterable[tuple[Quantity, int]]) -> int:
    """Packs of panes of which each opens its own."""
    return whole_sum(row.packs * count for row, count in rows)


def _sessions(number: int) -> str:
    return f"{number} {'session' if number == 1 else 'sessions'}"


__all__ = ["pooled"]
