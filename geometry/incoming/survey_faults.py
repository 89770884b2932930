"""What is wrong with a survey: every fault with its place in the file, told together.

Terms
-----
fault
    One thing that cannot be read or cannot be certain: line and column of the file (both from 1, 0 where it is the whole file's),
    what was found and what is allowed.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from geometry.incoming.incoming import IncomingError

MOST_TOLD = 50


class Fault(NamedTuple):
    """One fault. ``column`` counts signs from 1; 0 is the whole line, line 0 the whole file."""

    line: int
    column: int
    found: str
    allowed: str = ""

    def sentence(self, name: str) -> str:
        """The fault on one line, with the file's name."""
        where = name
        if self.line:
            where += f", line {self.line}" + (f", column {self.column}" if self.column else "")
        return f"{where}: {self.found}" + (f"; allowed: {self.allowed}" if self.allowed else "")


class SurveyError(IncomingError):
    """A survey that cannot be read, or not with certainty.

    ``faults`` are all of them, in the order of the file; ``found`` tells at most fifty in one sentence each, ``allowed`` and ``hint``
    stand for a single one.
    """

    def __init__(self, name: str, faults: Iterable[Fault], *, hint: str = "") -> None:
        self.name = name
        self.faults = tuple(sorted(faults, key=lambda fault: fault[:2]))
        told = [fault.sentence(name) for fault in self.faults[:MOST_TOLD]]
        if len(self.faults) > MOST_TOLD:
            told.append(f"{name}: and {len(self.faults) - MOST_TOLD} more")
        self.sentences = tuple(told)
        alone = self.faults[0] if len(self.faults) == 1 else None
        found = " · ".join(told) if alone is None else Fault(alone.line, alone.column, alone.found).sentence(name)
        super().__init__(found, "" if alone is None else alone.allowed, hint)

    def __str__(self) -> str:
        return "\n".join((*self.sentences, *([self.hint] if self.hint else [])))


__all__ = ["MOST_TOLD", "Fault", "SurveyError"]
