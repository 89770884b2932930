"""The tables of the supplier's sheet: glass and print, the widths to be measured, corners by coordinates.

Rows are ruled off below, heads and ends by heavier rules; no upright rules. Row 5, lettering 2,5: a row is twice its capitals.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import dist, fsum
from typing import TYPE_CHECKING, Literal

from geometry.outline import over_the_arcs
from outputs.drawing.flags import SMALL, triangle
from outputs.drawing.pane_figures import PANE_STYLE, TENTHS, at_least, at_most, nearest
from outputs.drawing.pane_points import ORIGIN
from outputs.drawing.pane_shape import diagonals, shape_of
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
    from outputs.sheets.contents import Contents

ROW = 5.0
LABEL = 19.0  # mm, names of the rows of the left table
TEXT = PANE_STYLE.text
BASE = 1.6  # mm from a rule up to the base line over it
FLAG_STEP = 9.0  # mm from flag to flag in a row

Align = Literal["left", "middle", "right"]


@dataclass(frozen=True, slots=True)
class Cell:
    """One text of a row, at ``x`` from the left of its table."""

    x: float
    string: str
    align: Align = "left"


@dataclass(frozen=True, slots=True)
class Row:
    """Cells of one row; ``head`` rules it off heavily, ``flags`` are small flags before it (number, whether it fails),
    ``boxes`` upright rules between fields to be filled by hand.
    """

    cells: tuple[Cell, ...]
    head: bool = False
    flags: tuple[tuple[int, bool], ...] = ()
    boxes: tuple[float, ...] = ()


def ruled(
    heading: str, rows: Sequence[Row], *, left: float, top: float, width: float, height: float = ROW, says: str = ""
) -> list[Mark]:
    """A table under its heading, whose base line stands at ``top``; ``says`` stands at the other end of it, smaller."""
    marks: list[Mark] = [Text("TEXT", left, top, heading, PANE_STYLE.label)]
    if says:
        marks.append(Text("TEXT", left + width, top, says, TEXT, "right"))
    y = top - 2.2
    marks.append(line("TABLE_HEADS", (left, y), (left + width, y)))
    pencil = Pencil(PANE_STYLE, 1.0)
    for index, row in enumerate(rows):
        y -= height
        for cell in row.cells:
            if cell.string:
                marks.append(Text("TEXT", left + cell.x, y + BASE, cell.string, TEXT, cell.align))
        for count, (figure, fails) in enumerate(row.flags):
            x = left + 2.6 + FLAG_STEP * count
            marks += triangle(figure, fails=fails, middle=(x, y + 2.0), pencil=pencil, side=SMALL)
            marks += [Text("TEXT", x + 2.9, y + BASE, str(figure), TEXT)]
        marks += [line("TABLES", (left + x, y), (left + x, y + height)) for x in row.boxes]
        heavy = row.head or index == len(rows) - 1
        marks.append(line("TABLE_HEADS" if heavy else "TABLES", (left, y), (left + width, y)))
    return marks


def _named(name: str, value: str, width: float) -> list[Row]:
    """A row of a name and its value, the value broken into as many rows as it needs."""
    parts = wrapped(value, width - LABEL, TEXT) or ("",)
    return [Row((Cell(0.8, name if index == 0 else ""), Cell(LABEL, part))) for index, part in enumerate(parts)]


def glass_rows(contents: Contents, tolerances: PaneTolerances, width: float, *, most: int) -> tuple[list[Row], list[Row]]:
    """Glass and print: make-up, standards, print, edge, tolerances, flatness, diagonals; and the rows beyond ``most``."""
    printed, band = words.print_words(contents)
    bow = f"bow {number(contents.pane.bow)} mm/m"
    if len(contents.pane.glass.plies) > 1:
        bow += f", step of plies {number(tolerances.ply_step().value)}"
    held = f"{words.held_sizes(tolerances.pane().value)}, thickness ±{number(tolerances.glass_thickness().value)}"
    held += f", print ±{number(tolerances.print().value)}"
    wanted = [
        _named("Make-up", words.make_up(contents), width),
        _named("Standard", words.standards(contents), width),
        _named("Print", printed, width),
        _named("", band, width),
        _named("Edge", words.edge_words(contents), width),
        _named("Tolerance", held, width),
        _named("At most", bow, width),
        _named(DIAGONALS, _diagonals(contents, width), width),
    ]
    kept = [each for each in wanted if each[0].cells[1].string]
    untold = contents.pane.tolerances.diagonals is None and kept[-1][0].cells[0].string == DIAGONALS
    if fsum(map(len, kept)) > most and untold:
        kept.pop()  # they stand on the view, from sharp corner to sharp corner
    rows = [row for each in kept for row in each]
    return rows[:most], rows[most:]


DIAGONALS = "Diagonals"
ALIKE = 0.05  # mm by which diagonals that are drawn alike may differ


def _diagonals(contents: Contents, width: float) -> str:
    """The fullest wording that stands in one row of the table."""
    detail = contents.detail
    shape = shape_of(detail.curves.glass)
    crossed = diagonals(detail.curves.glass, shape)
    rounded = any(point.corner and point.corner.radius for point in shape.points)
    over = tuple((f"{a.name}{b.name}", over_the_arcs(a.rounding, b.rounding)) for a, b in crossed if rounded)
    ordered = contents.pane.tolerances.diagonals if crossed else None
    alike = len(crossed) == 2 and abs(dist(*(p.at for p in crossed[0])) - dist(*(p.at for p in crossed[1]))) < ALIKE
    told = words.diagonal_words(over, ordered, detail.pane_tolerance, alike=alike)
    return next((each for each in told if text_width(each, TEXT) <= width - LABEL), told[-1])


def measure_rows(contents: Contents, places: tuple[FritPlace, ...], tolerance: float, width: float, *, most: int) -> list[Row]:
    """Widths of the print at the places, each with its least and greatest, and the flags on glass and print."""
    first = 17.0
    step = (width - first) / max(len(places), 1)
    fade = contents.detail.sizes.frit_fade.value > 0

    def across(name: str, values: Sequence[str], *, head: bool = False) -> Row:
        cells = [Cell(first + step * (index + 0.5), value, "middle") for index, value in enumerate(values)]
        return Row((Cell(0.8, name), *cells), head=head)

    widths = [place.width for place in places]
    rows = [
        across("place", [str(place.number) for place in places], head=True),
        across("drawn", [nearest(each, TENTHS) for each in widths]),
        across("least", [at_least(each - tolerance, TENTHS) for each in widths]),
        across("greatest", [at_most(each + tolerance, TENTHS) for each in widths]),
    ]
    if fade:
        rows.append(across("solid least", [at_least(place.solid - tolerance, TENTHS) for place in places]))
    made = across("as made", [""] * len(places), head=True)
    rows.append(replace(made, boxes=tuple(first + step * index for index in range(len(places)))))
    asked: list[list[Row]] = []
    for ask in words.supplier_asks(contents):
        before = 10.5 + FLAG_STEP * (len(ask.flags) - 1)
        parts = wrapped(ask.words, width - before - 0.5, TEXT)
        small = tuple((flag.number, words.failing(flag)) for flag in ask.flags)
        asked.append([Row((Cell(before, part),), flags=small if index == 0 else ()) for index, part in enumerate(parts)])
    room = most - len(rows)
    if fsum(map(len, asked)) <= room:
        return [*rows, *(row for each in asked for row in each)]
    kept: list[Row] = []
    told = 0
    for each in asked:
        if len(kept) + len(each) > room - 1:
            break
        kept += each
        told += 1
    over = ", ".join(str(flag.number) for ask in words.supplier_asks(contents)[told:] for flag in ask.flags)
    return [*rows, *kept, Row((Cell(0.8, f"and flag {over}: ask the office"),))]


def closing_words(contents: Contents, *, width: float, most: int) -> list[str]:
    """Lines on files, stamp, questions and what must come back; where they are more than ``most``, what the supplier alone knows
    is not asked; what the job left blank always is.
    """
    glass = contents.detail.curves.glass
    shape = shape_of(glass)
    stamp = f"Stamp: {contents.job.supplier.stamp}. " if contents.job.supplier.stamp else ""
    crossed = bool(diagonals(glass, shape))
    asked = words.questions(contents, diagonals=crossed)
    back = words.returned(contents, round_pane=shape.round, diagonals=crossed)
    lines: list[str] = []
    for count in range(len(asked), len(asked) - len(words.KNOWS) - 1, -1):
        told = (words.files(contents), f"{stamp}Asked: {', '.join(asked[:count])}?", back)
        lines = [part for each in told for part in wrapped(each, width, TEXT)]
        if len(lines) <= most:
            break
    return lines


def lines_of_words(lines: Sequence[str], *, left: float, top: float) -> list[Mark]:
    """Lines of words, the base line of the first at ``top``."""
    return [Text("TEXT", left, top - index * PANE_STYLE.line_pitch, each, TEXT) for index, each in enumerate(lines)]


def corner_rows(detail: Detail, *, most: int) -> tuple[list[Row], int]:
    """Corners by X and Y from the origin, with angle, radius and side, in ``most`` rows; and how many corners found none."""
    glass = detail.curves.glass
    shape = shape_of(glass)
    tolerance = detail.pane_tolerance
    left, bottom = ORIGIN
    curved = any(side.arc for side in shape.sides)
    names = _NAMES if curved else _NAMES[:-1]
    rows = [Row((Cell(0.8, "corner"), *(Cell(x, name, "right") for x, name in zip(_COLUMNS, names, strict=False))), head=True)]
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
    return rows[:most], max(0, len(rows) - most)


_COLUMNS = (30.0, 50.0, 74.0, 98.0, 126.0, 168.0)
_NAMES = ("X", "Y", "angle", "radius", "side to next", "arc of the side")


__all__ = ["ROW", "Cell", "Row", "closing_words", "corner_rows", "glass_rows", "lines_of_words", "measure_rows", "ruled"]
