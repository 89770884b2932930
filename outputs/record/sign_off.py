"""The vessel's sign-off list: every fitted pane with its revision, mark, state and deviations, who bonded and checked it, and when."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.job.mark import mark_of
from geometry.recorded.outcomes import Outcome
from geometry.recorded.record_findings import RecordState
from outputs.files.table_files import Column, TableFile, csv_bytes, xlsx_bytes
from outputs.record.as_fitted import STATE_CLASS, as_fitted_name
from outputs.record.markup import AsItIs, page, section, table, tag
from outputs.record.pane_page import issue_line
from outputs.record.words import AN_AID
from outputs.version import PROGRAM

if TYPE_CHECKING:
    import datetime
    from collections.abc import Mapping, Sequence

    from geometry.job import Job, Pane
    from geometry.recorded.record_findings import JudgedRecord

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
)
STATE = 5
"""Column of the state."""
KEPT_TOGETHER = (0, 4, 12)
"""Columns whose words are not broken: code, mark, day."""


@dataclass(frozen=True, slots=True)
class SignOffRow:
    """One fitted pane, or one that has no record."""

    pane: str
    name: str
    piece: int
    revision: str
    mark: str
    state: RecordState
    deviations: str
    not_recorded: int | None
    checks: str
    bonded_by: str
    checked_by: str
    signed_by: str
    signed_on: datetime.date | None

    @property
    def cells(self) -> tuple[str | int | datetime.date | None, ...]:
        """The row as every file has it."""
        return (
            self.pane, self.name, self.piece, self.revision, self.mark, self.state.value, self.deviations, self.not_recorded, self.checks,
            self.bonded_by, self.checked_by, self.signed_by, self.signed_on,
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
    return SignOffRow(pane.code, pane.name, piece, pane.revision, mark, RecordState.NO_RECORD, "", None, "", "", "", "", None)


def _with(pane: Pane, piece: int, found: JudgedRecord) -> SignOffRow:
    record = found.record
    return SignOffRow(
        pane.code,
        pane.name,
        piece,
        as_fitted_name(found),
        found.check.mark,
        found.state,
        "; ".join(f"{each.name}: {each.says}" for each in found.deviations),
        len(found.of(Outcome.NOT_RECORDED)),
        found.check.state.told,
        record.text("name.bonded"),
        record.text("name.checked"),
        record.text("signature.name"),
        record.date("signature.date"),
    )


def sign_off_files(job: Job, rows: Sequence[SignOffRow], stem: str) -> dict[str, bytes]:
    """XLSX, CSV and page by their names."""
    vessel = ", ".join(part for part in (job.vessel.name, job.vessel.yard_number) if part)
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
    counts = [(sum(row.state is state for row in rows), state.value) for state in RecordState]
    return ", ".join(f"{count} {name}" for count, name in counts if count)


def _page(job: Job, listed: TableFile, rows: Sequence[SignOffRow]) -> bytes:
    shown = []
    for row in rows:
        told = [AsItIs("" if cell is None else str(cell)) for cell in row.cells]
        cells = [tag("span", each, class_="code") if column in KEPT_TOGETHER else each for column, each in enumerate(told)]
        state = tag("span", row.state.value, class_=f"verdict {STATE_CLASS[row.state]}")
        shown.append([*cells[:STATE], state, *cells[STATE + 1 :]])
    return page(
        listed.above[0],
        tag("header", tag("h1", listed.above[0]), issue_line(job), tag("p", tag("b", f"{listed.above[1]}."))),
        "\n",
        tag("main", section("The panes", table("Every pane of the job", [each.head for each in COLUMNS], shown), id_="panes")),
        tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small")),
    )


__all__ = ["COLUMNS", "STATE", "SignOffRow", "counted", "sign_off_files", "sign_off_rows"]
