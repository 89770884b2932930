"""One fault of a job file, and all of them together.

Terms
-----
problem
    One fault: file, line, key, what was found, what is allowed, and perhaps what was meant.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

WIDEST = 100
"""Signs of a line that are shown, round the place in question."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a job file. ``line`` counts from 1, or is None for the whole file; ``key`` is "" for the whole file.

    A fault in a table of points has its ``column`` (from 1). A slip in the writing has it too, with the line as typed (``text``) and as it
    would be read (``mended``, "" where nothing is mended). ``pane`` is the code of the pane at fault, "" where it is none's or unknown.
    A fault in a schedule has its ``cell`` as a spreadsheet tells it ("Windows!D7"); ``line`` and ``column`` are its row and column.
    """

    file: str
    line: int | None
    key: str
    found: str
    allowed: str = ""
    hint: str = ""
    column: int | None = None
    text: str = ""
    mended: str = ""
    pane: str = ""
    cell: str = ""

    @property
    def sentence(self) -> str:
        """The fault on one line."""
        where = self.file + (f", {self.cell}" if self.cell else f", line {self.line}" if self.line else "")
        if self.column is not None and not self.text and not self.cell:
            where += f", column {self.column}"
        parts = [f"{self.key}: {self.found}" if self.key else self.found]
        if self.allowed:
            parts.append(f"allowed: {self.allowed}")
        if self.hint:
            parts.append(self.hint)
        return f"{where}: {'; '.join(parts)}"

    def __str__(self) -> str:
        if not self.text or self.column is None:
            return self.sentence
        typed, at = _window(self.text, self.column - 1)
        rows = [self.sentence, f"    typed:  {typed}", f"            {' ' * at}^"]
        if self.mended:
            rows.append(f"    mended: {_window(self.mended, 0)[0]}")
        return "\n".join(rows)


def _window(line: str, at: int) -> tuple[str, int]:
    """What is shown of a line, and where in it the sign ``at`` (from 0) stands."""
    indent = len(line) - len(line.lstrip())
    plain = "".join(sign if sign.isprintable() else " " if sign.isspace() else "?" for sign in line.strip())
    at = min(max(at - indent, 0), len(plain))
    if len(plain) <= WIDEST:
        return plain, at
    start = max(0, min(at - WIDEST // 2, len(plain) - WIDEST))
    before, after = "... " if start else "", " ..." if start + WIDEST < len(plain) else ""
    return before + plain[start : start + WIDEST] + after, at - start + len(before)


class JobError(ValueError):
    """The job file is wrong; ``problems`` is everything that is wrong with it, in the order of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


__all__ = ["JobError", "Problem"]
