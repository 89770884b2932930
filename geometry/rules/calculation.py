"""What a rule says about itself, so that a calculation sheet can print it beside its figure.

Terms
-----
rule
    One pure function that works out one figure of the trade.
record
    Title, formula in words, unit, source and status of a rule; it is frozen and hangs on the function.
status
    How far a rule or a value can be trusted: seen in print, seen at second hand, common practice, from memory, derived here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Any, TypeVar

_RECORD = "__calculation__"

Function = TypeVar("Function", bound=Callable[..., Any])


class Status(Enum):
    """Where a rule or a value comes from. The text is what a sheet prints."""

    PUBLISHED = "published"
    SECOND_HAND = "published, seen at second hand"
    COMMON_PRACTICE = "common practice, no source"
    FROM_MEMORY = "from memory"
    DERIVED = "derived"
    GIVEN = "given"
    OWN_DEFAULT = "own default"


@dataclass(frozen=True, slots=True)
class Calculation:
    """The record of one rule.

    ``formula`` is in words of the trade, ``unit`` is that of the result ("" where it has none), ``source`` names the
    published text or the reasoning the formula stands on.
    """

    name: str
    title: str
    formula: str
    unit: str
    source: str
    status: Status


def calculation(*, title: str, formula: str, unit: str, source: str, status: Status) -> Callable[[Function], Function]:
    """Hang a frozen record on a rule. The function itself is returned unchanged."""

    def hang(function: Function) -> Function:
        name = f"{function.__module__.rsplit('.', 1)[-1]}.{function.__name__}"
        record = Calculation(name=name, title=title, formula=formula, unit=unit, source=source, status=status)
        setattr(function, _RECORD, record)
        return function

    return hang


def record_of(function: Callable[..., Any]) -> Calculation:
    """Give the record of a rule. Raises ``LookupError`` when the function carries none."""
    record = getattr(function, _RECORD, None)
    if not isinstance(record, Calculation):
        raise LookupError(f"{getattr(function, '__name__', function)!s} is no recorded calculation")
    return record


def has_record(thing: object) -> bool:
    """Say whether a thing is a recorded rule."""
    return isinstance(getattr(thing, _RECORD, None), Calculation)


__all__ = ["Calculation", "Status", "calculation", "has_record", "record_of"]
