"""Tables and notes on paper: ruled rows, wrapped lines, hatched legend."""

from __future__ import annotations

from functools import lru_cache
from math import fsum
from typing import TYPE_CHECKING

from outputs.sheet.entities import Hatch, Mark, Path, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.runs import box

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.sheet.drafting import DraftingStyle

ROW = 4.1  # mm, height of a row of a table
HEAD = 6.0  # mm, height of a heading
SMALL = 1.8  # mm, names of columns
UNDER = 3.0  # mm, air under a table


@lru_cache(maxsize=2048)
def wrapped(string: str, width: float, height: float) -> tuple[str, ...]:
    """A text broken into lines that are not longer than ``width`` paper mm.

    >>> wrapped("one two three", 14.0, 2.5)
    ('one two', 'three')
    """
    lines: list[str] = []
    line = ""
    for word in string.split():
        longer = f"{line} {word}" if line else word
        if line and text_width(longer, height) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return (*lines, line) if line else tuple(lines)


def notes(
    heading: str, entries: Sequence[str], *, left: float, top: float, width: float, style: DraftingStyle, first: int = 1
) -> tuple[list[Mark], float]:
    """Notes under a heading, numbered from ``first``; returns the marks and the height at which they end."""
    marks: list[Mark] = [Text("TEXT", left, top - 4.5, heading, style.label)] if heading else []
    y = top - 4.5 - style.line_pitch - 1.0
    for index, entry in enumerate(entries, start=first):
        for row, line in enumerate(wrapped(entry, width - 7.0, style.text)):
            if row == 0:
                marks.append(Text("TEXT", left, y, f"{index}.", style.text))
            marks.append(Text("TEXT", left + 6.0, y, line, style.text))
            y -= style.line_pitch
    return marks, y - 1.0


def notes_height(entries: Sequence[str], width: float, style: DraftingStyle) -> float:
    """Height of notes under a heading, paper mm."""
    lines = sum(len(wrapped(entry, width - 7.0, style.text)) for entry in entries)
    return 4.5 + 1.0 + style.line_pitch * (1 + lines) + 1.0


def table(
    heading: str,
    columns: Sequence[tuple[str, float]],
    rows: Sequence[Sequence[str]],
    *,
    left: float,
    top: float,
    style: DraftingStyle,
    heading_below: bool = False,
) -> tuple[list[Mark], float]:
    """A ruled table of columns (name, width); returns the marks and the height at which it ends.

    With ``heading_below`` the rows ascend from the names of the columns, as a parts list over a title block does (ISO 7573).
    """
    width = fsum(column[1] for column in columns)
    marks: list[Mark] = []
    y = top
    if heading:
        marks.append(Text("TEXT", left, y - 4.5, heading, style.label))
        y -= HEAD + 0.5
    entries = [_Row(row, columns, style.text, style.line_pitch) for row in rows]
    names = [_Row([name for name, _ in columns], columns, SMALL, style.line_pitch)] if any(name for name, _ in columns) else []
    ordered = [*reversed(entries), *names] if heading_below else [*names, *entries]
    bottom = y - fsum(row.height for row in ordered)
    marks.append(box("TABLES", left, bottom, left + width, y))
    level = y
    for index, row in enumerate(ordered):
        marks += row.lettered(left, level)
        level -= row.height
        if index < len(ordered) - 1:
            marks.append(Path("TABLES", ((left, level, 0.0), (left + width, level, 0.0))))
    x = left
    for _, wide in columns[:-1]:
        x += wide
        marks.append(Path("TABLES", ((x, bottom, 0.0), (x, y, 0.0))))
    return marks, bottom - UNDER


def table_height(
    columns: Sequence[tuple[str, float]], rows: Sequence[Sequence[str]], style: DraftingStyle, *, heading: str = ""
) -> float:
    """Height of the rows of a table and of the heading over them, paper mm."""
    names = ROW if any(name for name, _ in columns) else 0.0
    over = HEAD + 0.5 if heading else 0.0
    return over + names + fsum(_Row(row, columns, style.text, style.line_pitch).height for row in rows)


class _Row:
    """One row: its cells broken into lines, and the height they need."""

    def __init__(self, cells: Sequence[str], columns: Sequence[tuple[str, float]], text: float, pitch: float) -> None:
        self.text, self.pitch = text, pitch
        self.widths = [wide for _, wide in columns]
        self.lines = [_cell(cell, wide - 2.0, text) for cell, wide in zip(cells, self.widths, strict=True)]
        self.height = ROW + pitch * (max([1, *map(len, self.lines)]) - 1)

    def lettered(self, left: float, top: float) -> list[Mark]:
        """The texts of the row, its upper left corner at ``left``, ``top``."""
        marks: list[Mark] = []
        x = left
        for lines, wide in zip(self.lines, self.widths, strict=True):
            for index, line in enumerate(lines):
                marks.append(Text("TEXT", x + 1.0, top - (ROW + self.text) / 2 - index * self.pitch, line, self.text))
            x += wide
        return marks


@lru_cache(maxsize=4096)
def _cell(value: str, width: float, height: float) -> tuple[str, ...]:
    """The lines of a cell, none wider than it."""
    return tuple(_fitted(line, width, height) for line in wrapped(value, width, height))


def _fitted(value: str, width: float, height: float) -> str:
    """A word cut with an ellipsis where its cell is narrower than the word."""
    if text_width(value, height) <= width:
        return value
    while value and text_width(value + "…", height) > width:
        value = value[:-1]
    return value.rstrip() + "…"


def legend(
    entries: Sequence[tuple[str, str, str]], *, left: float, top: float, width: float, style: DraftingStyle
) -> tuple[list[Mark], float]:
    """Swatches of the hatches (layer, material, words) in three columns."""
    marks: list[Mark] = [Text("TEXT", left, top - 4.5, "Legend", style.label)]
    columns = _swatches(width)
    y = top - HEAD - 1.0
    for index, (layer, material, words) in enumerate(entries):
        x = left + (index % columns) * (width / columns)
        low = y - 6.0 - (index // columns) * 8.0
        nodes = ((x, low, 0.0), (x + 12.0, low, 0.0), (x + 12.0, low + 6.0, 0.0), (x, low + 6.0, 0.0))
        if material == "frit":
            marks.append(Path("MATERIAL_FRIT", ((x, low + 3.0, 0.0), (x + 12.0, low + 3.0, 0.0))))
        else:
            marks.append(Hatch(layer, material, (nodes,)))
            marks.append(Path("SEEN_OUTLINE", nodes, True))
        marks.append(Text("TEXT", x + 14.0, low + 3.0 - style.text / 2, words, style.text))
    rows = -(-len(entries) // columns)
    return marks, y - rows * 8.0 - 2.0


def legend_height(count: int, width: float) -> float:
    """Height of a legend of ``count`` entries, paper mm."""
    return HEAD + 1.0 + -(-count // _swatches(width)) * 8.0 + 2.0


def _swatches(width: float) -> int:
    """How many swatches stand in one row of a legend."""
    return max(1, int(width // 58))


__all__ = ["UNDER", "legend", "legend_height", "notes", "notes_height", "table", "table_height", "wrapped"]
