"""The order list of what a vessel's bonding uses up, by article: adhesive in the packs that its sessions open, sealant in those that the days
of the backfill open, backer, primers ...

Blocks have a list of their own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.workings.pooled import pooled
from geometry.workings.quantities import ADHESIVE, SEALANT, Quantities, Quantity
from outputs.files.table_files import Cell, Column, TableFile
from outputs.vessel.list_files import in_words, issue_words, list_files, missing_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.job import Job
    from geometry.workings.fill_days import FillDay
    from geometry.workings.session_plan import SessionPlan
    from outputs.vessel.documents import Files, VesselContents
    from outputs.vessel.facts import PaneFacts

NAME = "consumables"
COLUMNS = (
    Column("article", width=22),
    Column("called", width=24),
    Column("size", "mm", width=14),
    Column("amount", "", 2, 10),
    Column("unit", width=8),
    Column("packs", width=8),
    Column("in hand", width=8),
    Column("to order", width=9),
    Column("to buy", width=40),
    Column("basis", width=60),
)
SESSIONS = (
    Column("session", width=20),
    Column("date", width=12),
    Column("panes", width=30),
    Column("packs opened", width=10),
    Column("in hand", width=8),
    Column("one by one", width=10),
)


FILLED = (
    Column("day", width=12),
    Column("panes", width=30),
    Column("sealant", "ml", 0, 10),
    Column("packs opened", width=10),
    Column("in hand", width=8),
    Column("one by one", width=10),
)


def _quantities(facts: PaneFacts) -> Quantities:
    rows = (
        Quantity(each.what, each.amount, each.unit, each.to_buy, each.basis, None, each.sizes, each.packs)
        for each in facts.quantities
    )
    return Quantities(tuple(rows))


def _filled(contents: VesselContents) -> tuple[FillDay, ...]:
    """The days on which the joints are filled."""
    from geometry.workings.fill_days import fill_days
    from outputs.vessel.calendar_days import fill_day_as_kept

    facts = contents.facts
    lists, counts, codes = [_quantities(each) for each in facts], [each.quantity for each in facts], [each.code for each in facts]
    return fill_days(lists, counts, codes, [fill_day_as_kept(each) for each in facts], contents.job)


def together_of(contents: VesselContents, plans: Sequence[SessionPlan]) -> Quantities:
    """What all the panes take together, blocks among it."""
    facts = contents.facts
    lists, counts, codes = [_quantities(each) for each in facts], [each.quantity for each in facts], [each.code for each in facts]
    return pooled(lists, counts, contents.job, plans, codes, _filled(contents))


def consumables_tables(contents: VesselContents) -> tuple[TableFile, ...]:
    """What to buy for all the panes, and the sessions that open the packs where sessions are given."""
    from geometry.workings.session_plan import vessel_sessions

    job, facts = contents.job, contents.facts
    plans = vessel_sessions(job)
    filled = _filled(contents)
    blocks = {each.kind for pane in facts for each in pane.blocks}
    together = [row for row in together_of(contents, plans).rows if row.what not in blocks]
    told = issue_words(job)
    below = [
        "To order: packs that are used up and packs in hand. In hand, for each session given, and once for all panes that no session names.",
        "Primers, activator, cleaner: waste is in the amount; to order in whole cans, which the job does not know.",
        "Solvents, primers and isocyanates harm: data sheets, gloves, goggles, fresh air; the makers' instructions stand above this list.",
    ]
    if not plans:
        below.append("No session is given: packs are counted pane by pane, no opened pack goes on to the next pane.")
    elif not filled:
        below.append("No session gives a date: packs of sealant are counted pane by pane, none goes on to the next pane.")
    if filled:
        below.append(
            "Sealant is used on the day of the backfill: the first on which each pane may be filled, one gun, a pack goes on to the next "
            "pane of that day with a new nozzle and to no other day (common practice, no source). Filled later, or by more guns: more packs."
        )
    tables = [
        TableFile(
            "consumables",
            COLUMNS,
            (*(_row(job, row) for row in together), *_missing(contents)),
            ("Order list: consumables", told, *missing_words(contents)),
            tuple(below),
        )
    ]
    if plans:
        rows = tuple((each.title, each.date, ", ".join(each.panes), each.packs, each.in_hand, each.one_by_one) for each in plans)
        tables.append(TableFile("sessions", SESSIONS, rows, ("Packs of adhesive by session", told, *_planned_with(contents, plans))))
    if filled:
        days = tuple(
            (each.date, ", ".join(each.panes), each.amount, each.packs, each.in_hand, each.one_by_one) for each in filled
        )
        above = ("Packs of sealant by the day of the backfill", told, *missing_words(contents))
        tables.append(TableFile("backfill", FILLED, (*days, *_missing_days(contents)), above))
    return tuple(tables)


def _row(job: Job, row: Quantity) -> tuple[Cell, ...]:
    called = {ADHESIVE: job.adhesive.name, SEALANT: job.sealant.name}.get(row.what, "")
    size = " × ".join(in_words(job, each) for each in row.sizes)
    packs = (row.packs, row.in_hand, row.packs + row.in_hand) if row.packs else (None, None, None)
    return (row.what, called, size, row.amount, row.unit or "pieces", *packs, row.to_buy, row.basis)


def _missing(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    """A row that says what the list lacks, also where only its rows are read."""
    if contents.left_out:
        told = {"article": "INCOMPLETE", "to buy": "not known", "basis": missing_words(contents)[0]}
        yield tuple(told.get(column.head) for column in COLUMNS)


def _missing_days(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    """A row that says of which panes no day is known, also where only its rows are read."""
    if contents.left_out:
        told = {"day": "INCOMPLETE", "panes": missing_words(contents)[0]}
        yield tuple(told.get(column.head) for column in FILLED)


def _planned_with(contents: VesselContents, plans: Sequence[SessionPlan]) -> tuple[str, ...]:
    """That sessions are planned with panes of which the order list counts nothing; nothing where there are none."""
    left_out = {each.code for each in contents.left_out}
    codes = [code for plan in plans for code in plan.panes if code in left_out]
    if not codes:
        return ()
    told = f"As the job has the panes now, with {', '.join(codes)}: the order list counts nothing of them, and the others of their sessions"
    return (f"{told} one by one.",)


def consumables_list(contents: VesselContents) -> Files:
    """The list as XLSX and CSV."""
    return list_files(contents, NAME, consumables_tables(contents), title="Order list: consumables")


__all__ = ["NAME", "consumables_list", "consumables_tables", "together_of"]
