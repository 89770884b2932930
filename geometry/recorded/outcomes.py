"""How one thing of a record comes out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.recorded.record_fields import FieldGroup

__all__ = ["Outcome", "RecordFinding"]


class Outcome(StrEnum):
    """How an entry, or what follows from several, comes out."""

    FAIL = "fail"
    LOOK = "look"
    NOT_RECORDED = "not recorded"
    NO_LIMIT = "no limit given"
    PASS = "pass"


@dataclass(frozen=True, slots=True)
class RecordFinding:
    """One thing of the record: what it is, how it comes out, the ids it stands on, and one clause that says it.

    ``group`` is None where it speaks of the paper itself. ``value``, ``least`` and ``most`` are in ``unit``, None where there are none.
    """

    name: str
    outcome: Outcome
    group: FieldGroup | None
    fields: tuple[str, ...]
    value: float | None = None
    least: float | None = None
    most: float | None = None
    unit: str = ""
    says: str = ""
