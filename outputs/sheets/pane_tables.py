"""The tables of the supplier's sheet: glass and print, the widths to be measured, corners by coordinates.

Rows are ruled off below, heads and ends by heavier rules; no upright rules. Row 5, lettering 2,5: a row is twice its capitals.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from geometry.outline import bounding_box
from outputs.drawing.pane_figures import PANE_STYLE, at_least, at_most, nearest
from outputs.drawing.pane_ink import flag_marks
from outputs.drawing.pane_shape import diagonals, over_the_arcs, shape_of
from outputs.sheet.drafting import number
from outputs.sheet.entities import Mark, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.pencil import Pencil
from outputs.sheet.runs import line
from outputs.sheet.tables import wrapped
from outputs.sheets import pane_words as words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.sizing.tolerances import PaneTolerances
    from geometry.workings.frit_places import FritPlace
    from outputs.sheets.recipe import Contents

ROW = 5.0
LABEL = 19.0  # mm, names of the rows of the left table
TEXT = PANE_STYLE.text
BASE = 1.6  # mm from a rule up to the base line over it
MOST_CORNERS = 20  # rows of one column of corners

Align = Literal["left", "middle", "right"]


@dataclass(frozen=True, slots=True)
class Cell:
    """One text of a row, at ``x`` from the left of its table."""

    x: float
    string: str
    align: Align = "left"


@dataclass(frozen=True, slots=True)
class Row:
    """Cells of one row; ``head`` rules it off heavily, ``flag`` puts a small flag before it (number, whether it fails)."""

    cells: tuple[Cell, ...]
    head: bool = False
    flag: tuple[int, bool] | None = None


def ruled(heading: str, rows: Sequence[Row], *, left: float, top: float, width: float, height: float = ROW) -> list[Mark]:
    """A table under its heading, whose base line stands at ``top``."""
    marks: list[Mark] = [Text("TEXT", left, top, heading, PANE_STYLE.label)]
    y = top - 2.2
    marks.append(line("TABLE_HEADS", (left, y), (left + width, y)))
    pencil = Pencil(PANE_STYLE, 1.0)
    for index, row in enumerate(rows):
        y -= height
        for cell in row.cells:
            if cell.string:
                marks.append(Text("TEXT", left + cell.x, y + BASE, cell.string, TEXT, cell.align))
        if row.flag is not None:
            figure, fails = row.flag
            marks += flag_marks(figure, (left + 2.6, y + 2.0), pencil, size=4.3, filled=fails)
        heavy = row.head or index == len(rows) - 1
        marks.append(line("TABLE_HEADS" if heavy else "TABLES", (left, y), (left + width, y)))
    return marks


def named(name: str, value: str, width: float) -> list[Row]:
    """A row of a name and its value, the value broken into as many rows as it needs."""
    parts = wrapped(value, width - LABEL, TEXT) or ("",)
    return [Row((Cell(0.8, name if index == 0 else ""), Cell(LABEL, part))) for index, part in enumerate(parts)]


def glass_rows(contents: Contents, tolerances: PaneTolerances, width: float, *, most: int) -> list[Row]:
    """Glass and print: make-up, standards, print, edge, flatness, tolerances, diagonals, stamp, files, the most telling first."""
    detail, pane = contents.detail, contents.pane
    box = bounding_box(detail.curves.glass)
    longest = max(box.width, box.height)
    printed, band = words.print_words(contents)
    bow = f"bow at most {number(pane.bow)} mm/m, {number(pane.bow * longest / 1000.0, decimals=1)} over {number(longest, decimals=0)}"
    if len(pane.glass.plies) > 1:
        bow += f"; step of plies at most {number(tolerances.ply_step().value)}"
    held = f"sizes ±{number(tolerances.pane().value)}, thickness ±{number(tolerances.glass_thickness().value)}"
    held += f", print ±{number(tolerances.print().value)}"
    files = f"{pane.file_stem}-glass.dxf to cut from; -print.dxf, -print.pdf film; -print-mirrored.dxf, .pdf"
    wanted = [
        named("Make-up", f"from outside in: {words.make_up(contents)}", width),
        named("Standard", words.standards(contents), width),
        named("Print", printed, width),
        named("", band, width),
        named("Edge", words.edge_words(contents), width),
        named("Flatness", bow, width),
        named("Tolerances", held, width),
        named("Diagonals", _diagonals(detail), width),
        named("Stamp", contents.job.supplier.stamp, width),
        named("Files 1:1", files, width),
    ]
    rows = [row for each in wanted if each[0].cells[1].string for row in each]
    return rows[:most] if len(rows) <= most else _shorter(wanted, most)


def _shorter(wanted: list[list[Row]], most: int) -> list[Row]:
    """The rows without their second lines where there are too many, the longest value first, and never without the files."""
    kept = [each for each in wanted if each[0].cells[1].string]
    while sum(map(len, kept)) > most:
        droppable = [each for each in kept if each[0].cells[0].string in ("Diagonals", "Flatness")]
        kept.remove(droppable[0] if droppable else kept[-2])
    return [row for each in kept for row in each]


def _diagonals(detail: Detail) -> str:
    shape = shape_of(detail.curves.glass)
    if not any(point.corner and point.corner.radius for point in shape.points):
        return ""
    told = [
        f"{a.name}{b.name} {nearest(over_the_arcs(a, b), detail.pane_tolerance)}" for a, b in diagonals(detail.curves.glass, shape)
    ]
    return f"over the arcs {', '.join(told)}" if told else ""


def measure_rows(contents: Contents, places: tuple[FritPlace, ...], tolerance: float, width: float, *, most: int) -> list[Row]:
    """Widths of the print at the places, each with its least and greatest; flags; what is asked; what must come back."""
    first = 15.0
    step = (width - first) / max(len(places), 1)
    fade = contents.detail.sizes.frit_fade.value > 0

    def across(name: str, values: Sequence[str], *, head: bool = False) -> Row:
        cells = [Cell(first + step * (index + 0.5), value, "middle") for index, value in enumerate(values)]
        return Row((Cell(0.8, name), *cells), head=head)

    widths = [place.width for place in places]
    rows = [
        across("place", [str(place.number) for place in places], head=True),
        across("drawn", [nearest(each, tolerance) for each in widths]),
        across("least", [at_least(each - tolerance, tolerance) for each in widths]),
        across("greatest", [at_most(each + tolerance, tolerance) for each in widths]),
    ]
    if fade:
        rows.append(across("solid least", [at_least(place.solid - tolerance, tolerance) for place in places]))
    rows.append(across("as made", [""] * len(places), head=True))
    shape = shape_of(contents.detail.curves.glass)
    asked = f"Asked: {words.questions(contents)}"
    back = f"Return: {words.returned(contents, round_pane=shape.round, diagonals=bool(diagonals(contents.detail.curves.glass, shape)))}"
    asked_rows = [Row((Cell(0.8, part),)) for part in wrapped(asked, width - 1.6, TEXT)]
    back_rows = [Row((Cell(0.8, part),)) for part in wrapped(back, width - 1.6, TEXT)]
    flags = [
        Row((Cell(6.5, _cut(told, width - 7.0)),), flag=(each.number, words.failing(each)))
        for each, told in words.supplier_flags(contents)
    ]
    room = most - len(rows) - len(asked_rows) - len(back_rows)
    if len(flags) > room:
        over = len(flags) - max(room - 1, 0)
        flags = [*flags[: max(room - 1, 0)], *([Row((Cell(0.8, f"and {over} more on glass and print: ask the office"),))] if room > 0 else [])]
    return [*rows, *flags, *asked_rows, *back_rows]


def _cut(string: str, width: float) -> str:
    while text_width(string, TEXT) > width:
        string = string[:-1]
    return string


def corner_rows(detail: Detail) -> tuple[list[Row], int, tuple[float, float]]:
    """Corners by X and Y from the box of the sharp corners, with angle, radius and side; how many found no row; and that origin."""
    shape = shape_of(detail.curves.glass)
    tolerance = detail.pane_tolerance
    box = bounding_box(detail.curves.glass)
    left = min([box.left, *(point.at.x for point in shape.points)])
    bottom = min([box.bottom, *(point.at.y for point in shape.points)])
    head = Row((Cell(0.8, "corner"), *(Cell(x, name, "right") for x, name in zip(_COLUMNS, _NAMES, strict=True))), head=True)
    rows = [head]
    for point, side in zip(shape.points, shape.sides, strict=True):
        corner = point.corner
        cells = (
            nearest(point.at.x - left, tolerance),
            nearest(point.at.y - bottom, tolerance),
            "" if corner is None else f"{number(corner.interior_angle, decimals=1)}°",
            "" if corner is None else f"R{number(corner.radius, decimals=1)}" if corner.radius else "sharp",
            nearest(side.length, tolerance),
            "" if side.arc is None else f"R{number(side.arc.radius, decimals=1)}, rise {nearest(side.rise, tolerance)}",
        )
        rows.append(Row((Cell(0.8, point.name), *(Cell(x, cell, "right") for x, cell in zip(_COLUMNS, cells, strict=True)))))
    return rows[: MOST_CORNERS + 1], max(0, len(rows) - MOST_CORNERS - 1), (left, bottom)


_COLUMNS = (30.0, 48.0, 68.0, 88.0, 112.0, 160.0)
_NAMES = ("X", "Y", "angle", "radius", "side to next", "arc of the side")


__all__ = ["ROW", "Cell", "Row", "corner_rows", "glass_rows", "measure_rows", "ruled"]
