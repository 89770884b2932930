"""The schedule of a job: ``panes = { schedule = "windows.xlsx", sheet = "Windows" }`` makes a pane's table of every row.

Terms
-----
schedule
    The office's list of windows, a workbook (XLSX) or a CSV, in a file that the job names. It is read once, with the job.
spot
    The cell that gave a key: every fault of a pane of the schedule is told there.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import TypeAdapter, ValidationError

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.fields import Choice, Table, setting
from geometry.job.lists import DecimalSign  # noqa: TC001 - pydantic reads the annotations
from geometry.job.positions import Spot
from geometry.job.problem import Problem
from geometry.job.schedule_heads import ColumnNames, plain_words, ways_of
from geometry.job.units import shown

if TYPE_CHECKING:
    from geometry.incoming.schedule_table import ScheduleFile, Sheet
    from geometry.job.opened import Opened
    from geometry.job.positions import KeyPath, Place
    from geometry.job.schedule_rows import Fault, PaneRow
    from geometry.job.schedule_sheet import Table as SheetTable

DrawnHand = Annotated[Literal["port", "starboard"], Choice()]
PairQuantity = Annotated[Literal["each", "together"], Choice()]


class Schedule(Table):
    """Where the panes of a job are listed, and how the list is to be read."""

    schedule: f.Text = setting(
        ..., "a workbook (XLSX) or a CSV by its name from the job file: a row of heads, then a row for each pane (or pair)"
    )
    sheet: f.Text | None = setting(
        None, "the sheet of the workbook; left out: the only one that has a row of heads", absent="worked out"
    )
    decimal: DecimalSign | None = setting(
        None, "decimal sign of the figures that stand as text: point or comma; left out: as they show", absent="worked out"
    )
    drawn: DrawnHand | None = setting(
        None, "of a pair (P+S): the hand of its outline, port or starboard; not needed where the shape is its own mirror image"
    )
    pair_quantity: PairQuantity | None = setting(
        None, "quantity of a pair: each (of each hand) or together (of both); left out: a pair has no quantity over 1"
    )


@dataclass
class Scheduled:
    """The job's tables with the panes of its schedule behind the typed ones; what is told, and what is wrong.

    ``whole`` is False where a pane or more could not be read: what is missing then is no further fault.
    """

    table: dict[str, Any]
    lines: dict[KeyPath, Place]
    problems: list[Problem] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    whole: bool = True


def with_schedule(table: Mapping[str, Any], lines: Mapping[KeyPath, int], file: str, opened: Opened) -> Scheduled:
    """The tables of a job, and the places of their keys, with a pane for every row of the schedule that the job names."""
    found = Scheduled(dict(table), dict(lines))
    if "panes" not in table:
        return found
    asked, columns = _asked(table)
    if asked is None or columns is None:  # the model tells what is wrong with them
        return replace(found, whole=False)
    from geometry.incoming import IncomingError

    try:
        schedule = opened.schedule(asked.schedule)
        sheet = _sheet_of(schedule, asked, columns)
    except IncomingError as error:
        found.problems, found.whole = _refused(error, lines, file), False
        return found
    _Joining(found, asked, columns, schedule, sheet, file).join()
    outside = opened.outside(asked.schedule)
    found.told[:0] = [*([outside] if outside else []), *schedule.notes]
    return found


def _asked(table: Mapping[str, Any]) -> tuple[Schedule | None, dict[str, str] | None]:
    try:
        return Schedule.model_validate(table["panes"]), _COLUMNS.validate_python(table.get("columns", {}))
    except ValidationError:
        return None, None


_COLUMNS: TypeAdapter[dict[str, str]] = TypeAdapter(ColumnNames)


def _refused(error: Any, lines: Mapping[KeyPath, int], file: str) -> list[Problem]:
    """The faults of the file as a whole, each with its own line where it has one."""
    from geometry.incoming.survey_faults import SurveyError

    if isinstance(error, SurveyError) and any(fault.line for fault in error.faults):
        return [
            Problem(error.name, fault.line or None, "panes.schedule", fault.found, fault.allowed, column=fault.column or None)
            for fault in error.faults
        ]
    key = f"panes.{error.key or 'schedule'}"
    line = next((lines[path] for path in (("panes", error.key or "schedule"), ("panes",)) if path in lines), None)
    return [Problem(file, line, key, error.found, error.allowed, error.hint)]


def _sheet_of(schedule: ScheduleFile, asked: Schedule, columns: Mapping[str, str]) -> Sheet:
    """The sheet that is meant. Raises ``IncomingError`` where none or more than one may be."""
    from geometry.incoming import IncomingError
    from geometry.job.refusal import near
    from geometry.job.schedule_sheet import LEAST_HEADS, heads_row

    names = [sheet.name for sheet in schedule.sheets]
    if asked.sheet is not None:
        if schedule.text:
            raise IncomingError(
                f"found sheet {shown(asked.sheet)}, and {schedule.name} is no workbook", "a workbook", key="sheet"
            )
        same = [sheet for sheet in schedule.sheets if sheet.name.strip().casefold() == asked.sheet.strip().casefold()]
        if not same:
            raise IncomingError(f"found sheet {shown(asked.sheet)}", _listed(schedule), near(asked.sheet, names), key="sheet")
        good = [sheet for sheet in same if heads_row(sheet, columns) is not None]
    else:
        good = [sheet for sheet in schedule.sheets if heads_row(sheet, columns) is not None]
        if len(good) > 1:
            listed = ", ".join(shown(sheet.name) + (" (hidden)" if sheet.hidden else "") for sheet in good)
            raise IncomingError(
                f"{schedule.name} has {len(good)} sheets that may be the schedule: {listed}", "panes.sheet with one of them"
            )
    if not good:
        where = f"sheet {shown(asked.sheet)} of {schedule.name}" if asked.sheet else schedule.name
        allowed = f"a row with a head for the code and at least {LEAST_HEADS - 1} others that are known, or named under [columns]"
        hint = f"it holds the sheets {_listed(schedule)}" if len(names) > 1 and not asked.sheet else ""
        raise IncomingError(f"{where} has no row of heads", allowed, hint)
    return good[0]


def _listed(schedule: ScheduleFile) -> str:
    return "one of " + ", ".join(shown(sheet.name) + (" (hidden)" if sheet.hidden else "") for sheet in schedule.sheets)


class _Joining:
    """The rows of a schedule on their way into the job's tables."""

    def __init__(
        self, found: Scheduled, asked: Schedule, columns: Mapping[str, str], schedule: ScheduleFile, sheet: Sheet, file: str
    ) -> None:
        self.found, self.asked, self.columns, self.schedule, self.sheet, self.file = found, asked, columns, schedule, sheet, file

    def join(self) -> None:
        from geometry.job.schedule_sheet import table_of

        table = table_of(self.sheet, self.columns)
        self._tell(table)
        for fault in table.faults:
            self._fault(fault, table, "")
        self._not_there(table)
        if self.found.problems:  # a head that is not understood would be told once more of every row
            self.found.whole = False
            return
        self._rows(table)

    def _tell(self, table: SheetTable) -> None:
        where = f"{self.schedule.name}, sheet {self.sheet.name}" if self.sheet.name else self.schedule.name
        self.found.told += [f"{where}: {each}" for each in table.told]
        if self.sheet.hidden:
            self.found.told.append(f"{where}: the sheet is hidden, and is read")
        if len(self.schedule.sheets) > 1 and self.asked.sheet is None:
            self.found.told.append(f"{where}: the only one of {len(self.schedule.sheets)} sheets with a row of heads")
        if self.sheet.formulas:
            count = self.sheet.formulas
            cells = (
                "cell with a formula is read by its stored result"
                if count == 1
                else "cells with formulas are read by their stored results"
            )
            self.found.told.append(f"{where}: {count} {cells}")

    def _not_there(self, table: SheetTable) -> None:
        """Heads that the job names and the schedule does not have."""
        words = {plain_words(way) for head in table.heads.values() for way, _ in ways_of(head)}
        for head in self.columns:
            if plain_words(head) not in words:
                place = self.found.lines.get(("columns", head))
                line = place if isinstance(place, int) else None
                heads = ", ".join(shown(each) for each in table.heads.values())
                said = f"{self.schedule.name} has no column headed {shown(head)}"
                self.found.problems.append(
                    Problem(self.file, line, f"columns.{json.dumps(head, ensure_ascii=False)}", said, f"one of {heads}")
                )

    def _rows(self, table: SheetTable) -> None:
        from geometry.job.model import MOST_PANES
        from geometry.job.schedule_rows import Fault, Ways, pane_of
        from geometry.job.schedule_values import decimal_of

        decimal = decimal_of(self._figures(table), self.asked.decimal)
        if decimal.sign and decimal.by != "the job":
            self.found.told.append(
                f"{self.schedule.name}: decimal {'point' if decimal.sign == '.' else 'comma'}, as in {decimal.by}"
            )
        hand = table.columns.get("hand")
        hands = frozenset(row.cells[hand.at].text for row in table.rows if hand.at in row.cells) if hand else frozenset()
        ways = Ways(decimal, self.asked.drawn, self.asked.pair_quantity, hands)
        if not table.rows or len(table.rows) > MOST_PANES:
            said = "no row of a pane" if not table.rows else f"{len(table.rows)} rows of panes"
            allowed = "a row for each pane below the heads" if not table.rows else f"at most {MOST_PANES} panes in one job"
            code = table.columns["code"]
            self._fault(
                Fault(table.rows[MOST_PANES].number if table.rows else self._heads_at(table), code.at, "", said, allowed),
                table,
                "",
            )
            self.found.whole = False
            return
        typed = self.found.table.get("pane", [])
        if not isinstance(typed, list):
            self.found.whole = False
            return
        panes = list(typed)
        for row in table.rows:
            pane = pane_of(row, table.columns, ways)
            if "code" not in pane.table and not any(fault.key == "code" for fault in pane.faults):
                pane.faults.append(
                    Fault(row.number, table.columns["code"].at, "code", "found no code in this row", "the code of the pane")
                )
            if pane.faults:
                for fault in sorted(pane.faults, key=lambda fault: fault.column):
                    self._fault(fault, table, str(pane.table.get("code", "")))
                self.found.whole = False
                continue
            self._spots(pane, len(panes), table)
            panes.append(pane.table)
        if panes:
            self.found.table["pane"] = panes

    def _heads_at(self, table: SheetTable) -> int:
        from geometry.job.schedule_sheet import heads_row

        at = heads_row(self.sheet, self.columns)
        return self.sheet.rows[at].number if at is not None else 1

    def _figures(self, table: SheetTable) -> list[Any]:
        """The cells that hold figures, as far as their columns want any."""
        from geometry.job.schedule_kinds import kind_of
        from geometry.job.schedule_sheet import SIZES

        wanted = []
        for gives, column in table.columns.items():
            kind = kind_of(gives)
            if gives in SIZES or (kind is not None and kind.form in ("measure", "list")):
                wanted.append(column.at)
        return [row.cells[index] for row in table.rows for index in wanted if index in row.cells]

    def _spots(self, pane: PaneRow, index: int, table: SheetTable) -> None:
        lines = self.found.lines
        lines[("pane", index)] = self._spot(pane.row, table.columns["code"].at, table)
        for steps, column in pane.cells.items():
            lines[("pane", index, *steps)] = self._spot(pane.row, column, table)

    def _spot(self, row: int, column: int, table: SheetTable) -> Spot:
        return Spot(self.schedule.name, row, column, self.sheet.place(row, column), table.heads.get(column, ""))

    def _fault(self, fault: Fault, table: SheetTable, code: str) -> None:
        column = fault.column or table.columns["code"].at if "code" in table.columns else fault.column or 1
        spot = self._spot(fault.row, column, table)
        self.found.problems.append(problem_at(spot, fault.key, fault.found, fault.allowed, pane=code))


def problem_at(spot: Spot, key: str, found: str, allowed: str = "", hint: str = "", *, pane: str = "") -> Problem:
    """A fault in a cell: its key with the head of its column as the office has it."""
    head = f"{shown(spot.head)} ({key})" if spot.head and key else shown(spot.head) if spot.head else key
    return Problem(spot.file, spot.row, head, found, allowed, hint, column=spot.column, pane=pane, cell=spot.cell)


__all__ = ["Schedule", "Scheduled", "problem_at", "with_schedule"]
