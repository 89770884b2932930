"""On which line of a TOML text each key stands.

Terms
-----
path
    The steps to a value: key names and, for arrays, indices from 0: ``("pane", 1, "bond", "width")``.

The standard reader of TOML keeps no lines. This scanner walks a text **that the standard reader has accepted** once, and notes
the line of every key, table header and array entry; it reads no values.
"""

from __future__ import annotations

import re
import tomllib
from typing import NamedTuple

Step = str | int
KeyPath = tuple[Step, ...]


class Spot(NamedTuple):
    """A cell of a schedule: file, row and column from 1, and how a spreadsheet tells the place."""

    file: str
    row: int
    column: int
    cell: str
    head: str = ""  # of its column, as the office has it


Place = int | Spot
"""Where a value stands: a line of the job file, or a cell of its schedule."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_BLANK = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_SCALAR = re.compile(r"[^,\]}\n#]+")


def key_lines(text: str) -> dict[KeyPath, int]:
    r"""Line numbers (from 1) by path, for a valid TOML text; later mentions of the same table do not move it.

    >>> key_lines('a = 1\n[[pane]]\nbond = { width = 15 }\n')[("pane", 0, "bond", "width")]
    3
    """
    return _Scanner(text.replace("\r\n", "\n")).scan()


class _Scanner:
    """One walk over one text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self.lines: dict[KeyPath, int] = {}
        self.counts: dict[KeyPath, int] = {}  # arrays of tables met so far

    def scan(self) -> dict[KeyPath, int]:
        table: KeyPath = ()
        while True:
            self._skip(_BLANK)
            if self.at >= len(self.text):
                return self.lines
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)

    def _skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self.text, self.at)
        if match:
            self._to(match.end())

    def _to(self, end: int) -> None:
        self.line += self.text.count("\n", self.at, end)
        self.at = end

    def _note(self, path: KeyPath, line: int) -> None:
        self.lines.setdefault(path, line)

    def _header(self) -> KeyPath:
        double = self.text.startswith("[[", self.at)
        line = self.line
        self._to(self.at + (2 if double else 1))
        keys = self._dotted()
        self._to(self.at + (2 if double else 1))
        path: KeyPath = ()
        for i, key in enumerate(keys):
            path = (*path, key)
            self._note(path, line)
            last = i == len(keys) - 1
            if last and double:
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
                self._note(path, line)
        return path

    def _dotted(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            if self.text[self.at] in "\"'":
                start = self.at
                self._string()
                keys.append(str(tomllib.loads(f"k = {self.text[start : self.at]}")["k"]))
            else:
                match = _BARE.match(self.text, self.at)
                if match is None:
                    raise ValueError(f"line {self.line} holds no key")  # not a text the standard reader accepts
                keys.append(match.group())
                self._to(match.end())
            self._skip(_SPACE)
            if not self.text.startswith(".", self.at):
                return keys
            self._to(self.at + 1)

    def _pair(self, table: KeyPath) -> None:
        line = self.line
        path = table
        for key in self._dotted():
            path = (*path, key)
            self._note(path, line)
        self._to(self.at + 1)  # the equals sign
        self._skip(_SPACE)
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        sign = self.text[self.at]
        if sign in "\"'":
            self._string()
        elif sign == "[":
            self._array(path)
        elif sign == "{":
            self._inline(path)
        else:
            self._skip(_SCALAR)

    def _array(self, path: KeyPath) -> None:
        self._to(self.at + 1)
        index = 0
        while True:
            self._skip(_BLANK)
            if self.text[self.at] == "]":
                self._to(self.at + 1)
                return
            self._note((*path, index), self.line)
            self._value((*path, index))
            index += 1
            self._skip(_BLANK)
            if self.text[self.at] == ",":
                self._to(self.at + 1)

    def _inline(self, path: KeyPath) -> None:
        self._to(self.at + 1)
        while True:
            self._skip(_BLANK)
            if self.text[self.at] == "}":
                self._to(self.at + 1)
                return
            self._pair(path)
            self._skip(_BLANK)
            if self.text[self.at] == ",":
                self._to(self.at + 1)

    def _string(self) -> None:
        quote = self.text[self.at]
        if self.text.startswith(quote * 3, self.at):
            end = self.at + 3
            while not self.text.startswith(quote * 3, end):
                end += 2 if quote == '"' and self.text[end] == "\\" else 1
            end += 3
            while self.text.startswith(quote, end):  # up to two quotes may stand right before the closing three
                end += 1
            self._to(end)
            return
        end = self.at + 1
        while self.text[end] != quote:
            end += 2 if quote == '"' and self.text[end] == "\\" else 1
        self._to(end + 1)


__all__ = ["KeyPath", "Place", "Spot", "Step", "key_lines"]
