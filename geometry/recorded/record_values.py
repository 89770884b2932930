"""What may stand in a field of the record, read strictly: a date, a time of day, a number, one of some words, a line of text.

Terms
-----
raw
    A value as a file holds it: text from paper, form or CSV; text, number, truth, date or time from JSON and TOML.
time of day
    Minutes after midnight of the day of bonding: ``09:47``, ``09:47:10``; past midnight ``00:05 +1``. A stamp such as
    ``2026-05-04T09:47:10`` carries its own day.
nothing
    An empty text, or one without a letter or a figure: a dash is no lot number.
"""

from __future__ import annotations

import calendar
import datetime
import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.job.answers import answer_of
from geometry.job.units import shown
from geometry.recorded.record_fields import FieldKind

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.recorded.record_fields import RecordField

__all__ = ["LONGEST", "ClockReading", "RecordValue", "ValueFault", "is_nothing", "read_value", "value_words"]

LONGEST = 500
"""Signs that a text of the record may have."""
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(?: ?\+([1-3])(?: ?days?)?)?", re.ASCII)
_STAMP = re.compile(r"(\d{4}-\d{2}-\d{2})[T ](\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?)", re.ASCII)
_MONTH = re.compile(r"(\d{4})-(\d{2})", re.ASCII)
_NUMBER = re.compile(r"[+\-−]?\d+(?:[.,]\d+)?", re.ASCII)


@dataclass(frozen=True, slots=True)
class ClockReading:
    """Minutes after midnight; ``day`` where the file gives one, else that of the bonding."""

    minutes: float
    day: datetime.date | None = None

    def after(self, day: datetime.date | None) -> float:
        """Minutes after midnight of the day of bonding."""
        return self.minutes if self.day is None or day is None else self.minutes + 1440.0 * (self.day - day).days

    @property
    def words(self) -> str:
        """The time as it is told: ``09:47``, with seconds where there are any, past midnight ``00:05 +1``."""
        seconds = round(self.minutes * 60.0)
        days, rest = divmod(seconds, 86400)
        told = f"{rest // 3600:02d}:{rest // 60 % 60:02d}" + (f":{rest % 60:02d}" if rest % 60 else "")
        return told + (f" +{days}" if days else "")


RecordValue = str | float | bool | datetime.date | ClockReading


class ValueFault(ValueError):
    """A value that no such field can hold: what was found and what is allowed."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(f"found {found}; allowed: {allowed}")
        self.found, self.allowed = f"found {found}", allowed


def is_nothing(raw: object) -> bool:
    """Whether a raw value says nothing."""
    return raw is None or (isinstance(raw, str) and not any(sign.isalnum() for sign in raw))


def read_value(field: RecordField, raw: object) -> RecordValue:
    """The value of a field. Raises ``ValueFault``. Never asked for nothing."""
    found: RecordValue = _READ[field.kind](field, raw)
    return found


def value_words(field: RecordField, value: RecordValue) -> str:
    """A value as every answer tells it, with a decimal point and without its unit."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, ClockReading):
        return value.words
    if isinstance(value, float):
        return f"{value:.10g}"
    return value.isoformat() if isinstance(value, datetime.date) else str(value)


def _text(_field: RecordField, raw: object) -> str:
    if isinstance(raw, bool) or not isinstance(raw, (str, int)):
        raise ValueFault(shown(raw), "a text in quotes")  # 1E2 as a number is no lot any more
    told = " ".join(raw.split()) if isinstance(raw, str) else str(raw) if abs(raw) < 10**15 else ""
    if not told.isprintable() or not told or len(told) > LONGEST:
        raise ValueFault(shown(raw), f"one line of printable text of at most {LONGEST} signs")
    return told


def _date(field: RecordField, raw: object) -> datetime.date:
    allowed = "a date such as 2026-05-04"
    month = field.id.endswith(".expiry")
    if month:
        allowed += ", or 2026-05 for the last day of a month"
    if isinstance(raw, datetime.date) and not isinstance(raw, datetime.datetime):
        return _in_time(raw, raw, allowed)
    if not isinstance(raw, str):
        raise ValueFault(shown(raw), allowed)
    told = raw.strip()
    try:
        if month and (found := _MONTH.fullmatch(told)):
            year, number = int(found[1]), int(found[2])
            return _in_time(datetime.date(year, number, calendar.monthrange(year, number)[1]), raw, allowed)
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", told):
            raise ValueError
        return _in_time(datetime.date.fromisoformat(told), raw, allowed)
    except ValueFault:
        raise
    except ValueError:  # a calendar that knows no such month is a fault of the same kind
        raise ValueFault(shown(raw), allowed) from None


def _in_time(day: datetime.date, raw: object, allowed: str) -> datetime.date:
    if not 2000 <= day.year <= 2199:
        raise ValueFault(shown(str(raw)), f"{allowed}, of the years 2000 to 2199")
    return day


def _clock(_field: RecordField, raw: object) -> ClockReading:
    allowed = "a time of day such as 09:47, past midnight 00:05 +1, or a stamp such as 2026-05-04T09:47:10 without zone"
    if isinstance(raw, datetime.datetime):
        raw = raw.isoformat()
    if isinstance(raw, datetime.time) and raw.tzinfo is None:
        raw = raw.isoformat()
    if not isinstance(raw, str):
        raise ValueFault(shown(raw), allowed)
    told, day = raw.strip(), None
    if stamp := _STAMP.fullmatch(told):
        try:
            day, told = datetime.date.fromisoformat(stamp[1]), stamp[2]
        except ValueError:
            raise ValueFault(shown(raw), allowed) from None
    found = _CLOCK.fullmatch(told)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59 or int(found[3] or 0) > 59:
        raise ValueFault(shown(raw), allowed)
    minutes = int(found[1]) * 60 + int(found[2]) + int(found[3] or 0) / 60.0 + 1440 * int(found[4] or 0)
    return ClockReading(float(minutes), None if day is None else _in_time(day, raw, allowed))


def _number(field: RecordField, raw: object) -> float:
    low, high = field.world or (-math.inf, math.inf)
    whole = field.id == "piece.number"
    allowed = f"{'a whole number' if whole else 'a number'} from {low:g} to {high:g}{f' {field.unit}' if field.unit else ''}"
    if isinstance(raw, str):
        told = raw.strip()
        if field.unit and told.endswith(field.unit):
            told = told[: -len(field.unit)].rstrip()
        if not _NUMBER.fullmatch(told) or len(told) > 30:
            raise ValueFault(shown(raw), allowed)
        value = float(told.replace(",", ".").replace("−", "-"))
    elif isinstance(raw, bool) or not isinstance(raw, (int, float)):
        raise ValueFault(shown(raw), allowed)
    elif isinstance(raw, int) and abs(raw) > 10**9:
        raise ValueFault("a number of more than nine figures", allowed)
    else:
        value = float(raw)
    if not low <= value <= high or (whole and value != round(value)):  # what is no number is on neither side
        raise ValueFault(shown(raw), allowed)
    return value + 0.0


def _choice(field: RecordField, raw: object) -> str:
    told = " ".join(str(raw).split()).casefold() if isinstance(raw, str) or (isinstance(raw, int) and raw in range(100)) else ""
    if isinstance(raw, bool) or told not in field.choices:
        raise ValueFault(shown(raw), f"one of {', '.join(field.choices)}")
    return told


def _yes_no(_field: RecordField, raw: object) -> bool:
    if isinstance(raw, bool):
        return raw
    told = answer_of(raw) if isinstance(raw, str) else None
    if told is not None:
        return told
    raise ValueFault(shown(raw), "yes or no")


_READ: dict[FieldKind, Callable[[RecordField, Any], RecordValue]] = {
    FieldKind.TEXT: _text,
    FieldKind.DATE: _date,
    FieldKind.CLOCK: _clock,
    FieldKind.NUMBER: _number,
    FieldKind.CHOICE: _choice,
    FieldKind.YES_NO: _yes_no,
}
