"""Tables and words on paper: ruled rows without uprights, wrapped lines."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import fsum
from typing import TYPE_CHECKING, Literal

from outputs.sheet.entities import Mark, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.sheet.drafting import DraftingStyle

INSET = 0.8  # paper mm from the start of a column to its words


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its name, its width (paper mm), and on which side its words stand."""

    name: str
    width: float
    align: Literal["left", "right"] = "left"


@lru_cache(maxsize=2048)
def wrapped(string: str, width: float, height: float) -> tuple[str, ...]:
    """A text broken into lines that are not longer than ``width`` paper mm.

    >>> wrapped("one two three", 14.0, 2.5)
    ('one two', 'three')
    """
    lines: list[str] = []
    line_ = ""
    for word in string.split():
        longer = f"{line_} {word}" if line_ else word
        if line_ and text_width(longer, height) > width:
            lines.append(line_)
            line_ = word
        else:
            line_ = longer
    return (*lines, line_) if line_ else tuple(lines)


def ruled(
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    *,
    left: float,
    top: float,
    style: DraftingStyle,
    upwards: bool = False,
) -> list[Mark]:
    """A table whose upper edge is at ``top``: the names of the columns over the rows, or with ``upwards`` under them.

    A parts list over a title block ascends (ISO 7573, second hand): its first row is the lowest. A cell too long for its column ends in
    an ellipsis: whoever fills it has seen to it that none is.
    """
    width, pitch = fsum(column.width for column in columns), style.table_row
    names = tuple(column.name for column in columns)
    ordered = [*reversed(rows), names] if upwards else [names, *rows]
    marks: list[Mark] = []
    heads = {0, len(ordered)} if upwards else {0, 1}
    for index in range(len(ordered) + 1):
        if index == len(ordered) and not upwards and len(ordered) == 1:
            continue
        layer = "TABLE_HEADS" if index in heads else "TABLES"
        level = top - pitch * index
        marks.append(line(layer, (left, level), (left + width, level)))
    for index, row in enumerate(ordered):
        base = top - pitch * (index + 1) + (pitch - style.text) / 2
        x = left
        for column, cell in zip(columns, row, strict=True):
            if cell:
                at = x + INSET if column.align == "left" else x + column.width - INSET
                marks.append(Text("TEXT", at, base, fitted(cell, column.width - INSET, style.text), style.text, column.align))
            x += column.width
    return marks


@lru_cache(maxsize=4096)
def fitted(value: str, width: float, height: float) -> str:
    """A text cut with an ellipsis where it is longer than ``width`` paper mm."""
    if text_width(value, height) <= width:
        return value
    while value and text_width(value + "…", height) > width:
        value = value[:-1]
    return value.rstrip() + "…"


__all__ = ["Column", "fitted", "ruled", "wrapped"]
