"""Where blocks stand whose running sizes have no room on the plan: the rows as a table under the corners, or in words.

Every row begins at the wall or the place that is named; distances as on the plan, in whole or half millimetres.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.detail.block_rows import block_rows
from outputs.drawing.plan_rows import ONE_PLACE
from outputs.sheet.drafting import in_halves, number
from outputs.sheet.tables import Column, ruled, wrapped
from outputs.sheets.detail_tables import heading

if TYPE_CHECKING:
    from collections.abc import Collection

    from geometry.detail.parts import Detail
    from outputs.sheet.entities import Mark
    from outputs.sheets.detail_places import Places


def untold_rows(detail: Detail, untold: Collection[str]) -> list[tuple[str, str, str]]:
    """Of every row with something untold: its edge, the place that it begins at, and the blocks with their distances."""
    found = []
    for row in block_rows(detail):
        lost = [each.distance for each in row.entries if row.edge in untold or each.mark in untold]
        entries = [each for each in row.entries if any(abs(each.distance - place) <= ONE_PLACE for place in lost)]
        if entries:
            told = ", ".join(f"{each.mark} {number(in_halves(each.distance))}" for each in entries)
            found.append((row.edge, row.zero_at, told))
    return found


def untold_words(detail: Detail, untold: Collection[str]) -> list[str]:
    """The same, each row as a sentence."""
    return [f"Blocks of {edge} from {zero}: {told}." for edge, zero, told in untold_rows(detail, untold)]


def blocks_table(
    detail: Detail, untold: Collection[str], places: Places, under: tuple[float, float, float, float]
) -> list[Mark] | None:
    """The same as a table in a box (left, bottom, right, top); None where that is too small or nothing is untold."""
    rows = untold_rows(detail, untold)
    style, times = places.style, places.times
    left, bottom, right, top = under
    columns = (
        Column("edge", 10.0 * times),
        Column("from", 14.0 * times),
        Column("to the middle of the block", right - left - 24.0 * times),
    )
    lines: list[tuple[str, ...]] = []
    for edge, zero, told in rows:
        parts = wrapped(told, columns[-1].width - 3.0 * times, style.text)
        lines += [(edge, zero, part) if not index else ("", "", part) for index, part in enumerate(parts)]
    high = style.label + 2.5 * times + style.table_row * (len(lines) + 1)
    if not rows or high > top - bottom or any(len(zero) > LONGEST for _, zero, _ in rows):
        return None
    marks = heading("Blocks, running sizes", (left, top - style.label), style)
    marks += ruled(columns, lines, left=left, top=top - style.label - 2.5 * times, style=style)
    return marks


LONGEST = 8  # signs of a place that a row begins at, in its column

__all__ = ["blocks_table", "untold_rows", "untold_words"]
