"""The key of lines of a detail sheet: what each kind of line is, and those more that only some panes have."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.entities import Hatch, Text
from outputs.sheet.runs import box_nodes, line
from outputs.sheets.detail_tables import heading

if TYPE_CHECKING:
    from collections.abc import Iterable

    from outputs.sheet.entities import Mark
    from outputs.sheets.detail_places import Places
    from outputs.sheets.pictures import Placed

DOWN, PITCH = 5.0, 5.4  # paper mm from the title to the first row, and from row to row
CLOSE_DOWN, CLOSE_PITCH, RAISED = 4.8, 4.2, 1.2  # the same, where there are three rows, and by how much the title stands higher
LONG, BESIDE, HALF = 9.5, 1.6, 1.25  # paper mm: a sample, from it to its name, half the height of one that is an area
IN_COLUMN = 3  # kinds of lines in a row of the key in its place
FADE = frozenset(("FRIT_FADE", "DETAIL_FADE"))
START = frozenset(("FRIT_OUTER",))


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of line: its name, the layer it is drawn on, what fills it where it is an area, and the layer of that."""

    name: str
    layer: str
    filled: str = ""
    area: str = ""


ALWAYS = (
    Kind("glass edge", "DETAIL_WIDE"),
    Kind("frit, inner edge", "DETAIL_WIDE"),
    Kind("bead, edges", "DETAIL_DASHED", "band", "BEAD_BAND"),
    Kind("bead, centre", "DETAIL_CHAIN"),
    Kind("landing, end", "DETAIL_PHANTOM"),
    Kind("recess wall", "DETAIL"),
)


def line_key(places: Places, views: Iterable[Placed], *, squeezed: bool, in_rows_of: int = IN_COLUMN) -> list[Mark]:
    """What each kind of line on the views is, in its place in the column, three to a row; ``squeezed``: the edge of the squeeze-out is drawn.

    With another number ``in_rows_of`` it is made for another place, to be moved there.
    """
    drawn = {mark.layer for view in views for mark in view.marks}
    kinds = [*ALWAYS]
    if drawn & FADE:
        kinds.append(Kind("frit, solid ends", "DETAIL_FADE"))
    if drawn & START:
        kinds.append(Kind("frit, starts", "DETAIL_THIN"))
    if squeezed:
        kinds.append(Kind("squeeze-out, edge", "DETAIL_DASHED"))
    style, times = places.style, places.times
    left, top = places.lines_title
    close = len(kinds) > len(ALWAYS) and in_rows_of == IN_COLUMN
    top += RAISED * times if close else 0.0
    marks = heading("Lines", (left, top), style)
    across = (places.column[1] - places.column[0]) / IN_COLUMN
    down, pitch = (CLOSE_DOWN, CLOSE_PITCH) if close else (DOWN, PITCH)
    for index, kind in enumerate(kinds):
        x, y = left + across * (index % in_rows_of), top - (down + pitch * (index // in_rows_of)) * times
        marks += [
            *_sample(kind, x, y + style.text * 0.45, times),
            Text("TEXT", x + (LONG + BESIDE) * times, y, kind.name, style.text),
        ]
    return marks


def _sample(kind: Kind, x: float, middle: float, times: float) -> list[Mark]:
    end, half = x + LONG * times, HALF * times
    if not kind.filled:
        return [line(kind.layer, (x, middle), (end, middle))]
    marks: list[Mark] = [Hatch(kind.area, kind.filled, (box_nodes(x, middle - half, end, middle + half),))]
    return [*marks, *(line(kind.layer, (x, middle + side), (end, middle + side)) for side in (-half, half))]


__all__ = ["IN_COLUMN", "Kind", "line_key"]
