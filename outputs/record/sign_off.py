"""The vessel's sign-off list: every fitted pane with its revision, mark, state and deviations, who bonded and checked it, when, of which lots.

A lot has a column of its own, so that the panes of a bad one are found by a filter.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.job.mark import mark_of
from geometry.recorded.outcomes import Outcome
from geometry.recorded.record_fields import PRODUCTS
from geometry.recorded.record_findings import RecordState
from outputs.files.table_files import Column, TableFile, csv_bytes, xlsx_bytes
from outputs.record.as_fitted import STATE_CLASS, as_fitted_name
from outputs.record.markup import AsItIs, join, page, section, table, tag
from outputs.record.pane_page import issue_line
from outputs.record.words import AN_AID
from outputs.version import PROGRAM

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterable, Mapping, Sequence

    from geometry.job import Job, Pane
    from geometry.recorded.record_findings import JudgedRecord
    from outputs.record.markup import Content, Html

COLUMNS = (
    Column("pane", width=12),
    Column("name", width=24),
    Column("no.", width=6),
    Column("revision", width=24),
    Column("mark", width=12),
    Column("state of the bonding", width=26),
    Column("deviations", width=44),
    Column("not recorded", width=12),
    Column("state of the checks", width=22),
    Column("bonded by", width=18),
    Column("checked by", width=18),
    Column("signed by", width=18),
    Column("signed on", width=12),
    Column("read without a limit", width=10),
    Column("bonded on", width=12),
    Column("backfilled on", width=12),
    *(Column(f"lot of {words}", width=18) for _, words in PRODUCTS),
)
HEADINGS = ("pane", "revision, mark", "state", "deviations", "evidence", "state of the checks", "who", "when", "lots")
"""Of the page, which is for paper: what belongs together stands in one cell."""


@dataclass(frozen=True, slots=True)
class SignOffRow:
    """One fitted pane, or one that has no record."""

    pane: str
    name: str
    piece: int
    revision: str
    mark: str
    state: RecordState
    deviations: tuple[str, ...]
    not_recorded: int | None
    checks: str
    bonded_by: str
    checked_by: str
    signed_by: str
    signed_on: datetime.date | None
    without_limit: int | None
    bonded_on: datetime.date | None
    backfilled_on: datetime.date | None
    lots: tuple[str, ...]
    """By ``PRODUCTS``; "" where it was not recorded."""
    pieces: int = 1

    @property
    def cells(self) -> tuple[str | int | datetime.date | None, ...]:
        """The row as every file has it."""
        return (
            self.pane, self.name, self.piece, self.revision, self.mark, self.state.value, "; ".join(self.deviations), self.not_recorded, self.checks,
            self.bonded_by, self.checked_by, self.signed_by, self.signed_on, self.without_limit, self.bonded_on, self.backfilled_on, *self.lots,
        )  # fmt: skip


def sign_off_rows(job: Job, panes: Sequence[Pane], judged: Mapping[str, Sequence[JudgedRecord]]) -> tuple[SignOffRow, ...]:
    """A row for every piece of every pane, in the order of the job; ``judged`` by code."""
    rows: list[SignOffRow] = []
    for pane in panes:
        of_pane = {each.record.piece: each for each in judged.get(pane.code, ())}
        for piece in range(1, pane.quantity + 1):
            found = of_pane.get(piece)
            rows.append(_without(job, pane, piece) if found is None else _with(pane, piece, found))
    return tuple(rows)


def _without(job: Job, pane: Pane, piece: int) -> SignOffRow:
    mark = mark_of(job, pane)
    bare = ("",) * len(PRODUCTS)
    return SignOffRow(
        pane.code,
        pane.name,
        piece,
        pane.revision,
        mark,
        RecordState.NO_RECORD,
        (),
        None,
        "",
        "",
        "",
        "",
        None,
        None,
        None,
        None,
        bare,
        pane.quantity,
    )


def _with(pane: Pane, piece: int, found: JudgedRecord) -> SignOffRow:
    record = found.record
    return SignOffRow(
        pane.code,
        pane.name,
        piece,
        as_fitted_name(found),
        found.check.mark,
        found.state,
        tuple(f"{each.name}: {each.says}" for each in found.deviations),
        len(found.of(Outcome.NOT_RECORDED)),
        found.check.state.told,
        record.text("name.bonded"),
        record.text("name.checked"),
        record.text("signature.name"),
        record.date("signature.date"),
        len(found.of(Outcome.NO_LIMIT)),
        record.bonded,
        record.date("backfill.date"),
        tuple(record.text(f"{product}.lot") for product, _ in PRODUCTS),
        pane.quantity,
    )


def sign_off_files(job: Job, rows: Sequence[SignOffRow], stem: str) -> dict[str, bytes]:
    """XLSX, CSV and page by their names."""
    vessel = job.vessel.title
    told = TableFile(
        "Sign-off",
        COLUMNS,
        tuple(row.cells for row in rows),
        above=(f"Sign-off list{f', {vessel}' if vessel else ''}", counted(rows)),
        below=(AN_AID,),
    )
    name = f"{stem}-sign-off"
    return {
        f"{name}.xlsx": xlsx_bytes((told,), date=job.sheet.date, title=told.above[0]),
        f"{name}.csv": csv_bytes(told, decimal=job.lists.decimal),
        f"{name}.html": _page(job, told, rows),
    }


def counted(rows: Sequence[SignOffRow]) -> str:
    """How many panes are in which state."""
    counts = [(sum(1 for row in rows if row.state is state), state.value) for state in RecordState]
    return ", ".join(f"{count} {name}" for count, name in counts if count)


def _page(job: Job, listed: TableFile, rows: Sequence[SignOffRow]) -> bytes:
    shown = [_shown(row) for row in rows]
    return page(
        listed.above[0],
        tag("header", tag("h1", listed.above[0]), issue_line(job), tag("p", tag("b", f"{listed.above[1]}."))),
        "\n",
        tag("main", section("The panes", table("Every pane of the job", HEADINGS, shown), id_="panes")),
        tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small")),
    )


def _shown(row: SignOffRow) -> tuple[Content, ...]:
    """The row as the page has it: what belongs together in one cell."""
    people = (("bonded by", row.bonded_by), ("checked by", row.checked_by), ("signed by", row.signed_by))
    days = (("bonded", row.bonded_on), ("backfilled", row.backfilled_on), ("signed", row.signed_on))
    lots = zip((words for _, words in PRODUCTS), row.lots, strict=True)
    open_ = "" if row.not_recorded is None else f"{row.not_recorded} not recorded, {row.without_limit} without a limit"
    return (
        join(_whole(row.pane), f", no. {row.piece} of {row.pieces}" if row.pieces > 1 else None, tag("br"), AsItIs(row.name)),
        join(AsItIs(row.revision), tag("br"), _whole(row.mark)),
        tag("span", row.state.value, class_=f"verdict {STATE_CLASS[row.state]}"),
        _lines(row.deviations),
        open_,
        row.checks,
        _lines(f"{what} {who}" for what, who in people if who),
        _lines(_whole(f"{what} {day.isoformat()}") for what, day in days if day),
        _lines(AsItIs(f"{what}: {lot}") for what, lot in lots if lot),
    )


def _whole(words: str) -> Html:
    """A code, mark or day, which no line's end parts."""
    return tag("span", AsItIs(words), class_="code")


def _lines(parts: Iterable[Content]) -> Html:
    """Each on a line of its own."""
    return join(*((tag("br") if place else None, part) for place, part in enumerate(parts)))


__all__ = ["COLUMNS", "SignOffRow", "counted", "sign_off_files", "sign_off_rows"]
