"""One pane's record as it was read: every entry of its kind, held to the fields of its pane."""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.recorded.record_fields import LAST_PRESS
from geometry.recorded.record_reading import RecordFault
from geometry.recorded.record_values import ClockReading, RecordValue, ValueFault, is_nothing, read_value
from geometry.workings.session_releases import day_of, days_after

if TYPE_CHECKING:
    from geometry.recorded.record_fields import RecordField
    from geometry.recorded.record_reading import FoundRecord

__all__ = ["BondingRecord", "record_of"]

BONDED = "bonding.date"


@dataclass(frozen=True, slots=True)
class BondingRecord:
    """What was written down of one pane. ``entries`` holds no field that says nothing, ``repeated`` the times of steps begun anew."""

    file: str
    code: str
    revision: str
    mark: str
    entries: Mapping[str, RecordValue]
    repeated: tuple[str, ...] = ()

    def date(self, name: str) -> datetime.date | None:
        """A date of the record; None where it was not recorded."""
        value = self.entries.get(name)
        return value if isinstance(value, datetime.date) else None

    def number(self, name: str) -> float | None:
        """A reading; None where it was not recorded."""
        value = self.entries.get(name)
        return value if isinstance(value, float) else None

    def text(self, name: str) -> str:
        """A text; "" where it was not recorded."""
        value = self.entries.get(name)
        return value if isinstance(value, str) else ""

    def minute(self, name: str) -> float | None:
        """A time as minutes after midnight of the day of bonding; None where it was not recorded."""
        value = self.entries.get(name)
        return value.after(self.bonded) if isinstance(value, ClockReading) else None

    @property
    def bonded(self) -> datetime.date | None:
        """The day of bonding."""
        return self.date(BONDED)

    @property
    def pressed_home(self) -> datetime.date | None:
        """The day of the last press, from which days are counted: past midnight the day after that of bonding; None where either is missing."""
        last = self.minute(f"step.{LAST_PRESS}.at")
        return None if last is None else days_after(self.bonded, max(0, day_of(last)))

    @property
    def piece(self) -> int:
        """Which of the panes of its code: 1 where there is but one or nobody said."""
        return int(self.number("piece.number") or 1)


def record_of(found: FoundRecord, fields: Sequence[RecordField]) -> tuple[BondingRecord, tuple[RecordFault, ...]]:
    """The record, and every entry that no field of this pane can hold."""
    known = {field.id: field for field in fields}
    entries: dict[str, RecordValue] = {}
    faults: list[RecordFault] = []
    for name, raw in found.entries.items():
        if name not in known:
            faults.append(RecordFault(found.file, name[:60], "there is no such field", _near(name, known)))
            continue
        if is_nothing(raw):
            continue
        try:
            entries[name] = read_value(known[name], raw)
        except ValueFault as fault:
            faults.append(RecordFault(found.file, name, fault.found, fault.allowed))
    stamps = [value.day for value in entries.values() if isinstance(value, ClockReading) and value.day is not None]
    if BONDED not in entries and stamps:
        entries[BONDED] = min(stamps)  # nobody typed the day, the page stamped it
    ordered = {name: entries[name] for name in known if name in entries}
    return BondingRecord(found.file, found.code, found.revision, found.mark, ordered, found.repeated), tuple(faults)


def _near(name: str, known: Mapping[str, RecordField]) -> str:
    """The fields that may have been meant; without one, where their ids stand."""
    near = difflib.get_close_matches(name[:60], known, n=3, cutoff=0.75)
    return " or ".join(near) if near else "the ids of this pane's form"
