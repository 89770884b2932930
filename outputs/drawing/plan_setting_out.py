"""The sizes that stand round the plan: running sizes of the blocks, overall sizes of glass and recess."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import nearest_station
from outputs.drawing.broken_lines import broken, dimension_lines
from outputs.drawing.plan_rows import row_marks, row_reads
from outputs.drawing.plan_sizes import BESIDE_AXIS, Sides, figures_read, overall_sizes
from outputs.sheet.drafting import as_fine_as
from outputs.sheet.entities import Dimension
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.detail.block_rows import RowEntry
    from outputs.drawing.plan_basis import PlanBasis
    from outputs.drawing.plan_ink import PlanInk
    from outputs.drawing.plan_options import PlanShows
    from outputs.drawing.plan_rows import Row
    from outputs.sheet.entities import Mark

ZERO_ASIDE = 2.8  # paper mm
ROW_AWAY = (10.0, 14.0, 17.0, 21.0, 24.0, 7.0, 28.0)  # paper mm from the recess to a row, the first that runs clear of the others
SHARES = (BESIDE_AXIS, 0.64, 0.25, 0.75)  # of its line, where an overall size has its figure
LEADS, TURNS = (
    (4.0, 6.0, 9.0, 13.0),
    (0, 20, -20, 40, -40, 55, -55, 70, -70),
)  # paper mm and degrees, of the line to a figure of a round edge
SIZES_AWAY = (0.0, 3.0, 7.0)  # paper mm by which the overall sizes stand farther out


class SettingOut:
    """Places them; ``untold`` are the edges whose row has no room, and the blocks of round edges whose figure has none."""

    def __init__(self, ink: PlanInk, shows: PlanShows, basis: PlanBasis) -> None:
        self.ink, self.shows, self.basis = ink, shows, basis
        self.untold: list[str] = []
        self._late: list[RowEntry] = []

    def place(self) -> None:
        """Put up the rows, and the overall sizes of a pane whose edges are level or upright."""
        detail = self.ink.detail
        rows = self.basis.rows
        oblique = bool(detail.corners) and any(
            abs(angle / 90.0 - round(angle / 90.0)) > 1e-6 for _, _, angle in detail.edge_middles
        )
        for row in rows:
            self._row(row, oblique=oblique)
        if not oblique:
            self._overall(rows)

    def round_figures(self) -> None:
        """The figures of the blocks of round edges, straight out from their blocks."""
        for entry in self.basis.round_entries:
            if not self._round_figure(entry, LEADS[:1], TURNS[:1]):
                self._late.append(entry)

    def late_figures(self) -> None:
        """Those that had no room so, once the letters of the cutting planes stand; one that has none at all is told."""
        for entry in self._late:
            if not self._round_figure(entry, LEADS, TURNS):
                self.ink.no_room(f"distance of {entry.mark}")
                self.untold.append(entry.mark)

    def _row(self, row: Row, *, oblique: bool) -> None:
        """A row at the first distance from the recess where it runs clear of what stands."""
        ink = self.ink
        # where overall sizes stand behind the row, their extension lines run through the zero
        behind = max(row.outward.x, row.outward.y if self.shows.widths_over else -row.outward.y) > 0.9
        aside = ZERO_ASIDE if not oblique and behind else 0.0
        asides = dict.fromkeys((aside, ZERO_ASIDE))
        for marks in (row_marks(row, ink.pencil, first=away, aside=more) for away in ROW_AWAY for more in asides):
            if ink.placer.takes(marks) and row_reads(marks, ink.pencil):
                ink.put(marks)
                self._keep(marks)
                ink.placer.drawn(f"row of {row.edge}")
                return
        ink.no_room(f"row of {row.edge}")
        self.untold.append(row.edge)

    def _keep(self, marks: Iterable[Mark]) -> None:
        """No leader runs through the dimension lines."""
        for mark in marks:
            if isinstance(mark, Dimension):
                for start, end in dimension_lines(mark):
                    self.ink.placer.lead(line("DIMENSIONS", start, end))

    def _overall(self, rows: Sequence[Row]) -> None:
        """The overall sizes behind the rows, as near as they run clear; one that has no room at all is told."""
        ink, style = self.ink, self.ink.pencil.style
        under = any(row.outward.y < -0.9 for row in rows)
        over = any(row.outward.y > 0.9 for row in rows)
        beside = any(row.outward.x > 0.9 for row in rows)
        first, behind = style.first_row, style.first_row + 1.6 * style.row
        above = self.shows.widths_over
        widths = behind if (over if above else under) else first
        heights = behind if beside else first
        tries = (
            overall_sizes(ink.detail, ink.pencil, Sides(above, widths + away, heights + away, share))
            for share in SHARES
            for away in SIZES_AWAY
        )
        sizes = self._best_of(tries)
        stand = [each for each in sizes if ink.placer.takes((each,))]
        ink.put(stand)
        self._keep(stand)
        ink.marks = broken(ink.marks, ink.pencil)
        for size in sizes:
            if size in stand:
                ink.placer.drawn(f"size {size.text}")
            else:
                ink.no_room(f"size {size.text}")

    def _best_of(self, tries: Iterable[list[Dimension]]) -> list[Dimension]:
        """The first sizes that run clear with figures that read; else the first that run clear, else the nearest."""
        first: list[Dimension] = []
        clear: list[Dimension] = []
        for sizes in tries:
            first = first or sizes
            if self.ink.placer.takes(sizes):
                if figures_read(sizes, self.ink.pencil):
                    return sizes
                clear = clear or sizes
        return clear or first

    def _round_figure(self, entry: RowEntry, leads: Sequence[float], turns: Sequence[float]) -> bool:
        """On a round edge a block has its length along the wall, from the zero of its row, beside it outside the recess."""
        pencil, detail = self.ink.pencil, self.ink.detail
        outward = nearest_station(detail.curves.glass, entry.at).outward
        angle = math.degrees(math.atan2(outward.y, outward.x))
        foot = polar(entry.at, angle, self.ink.outer(entry.at, outward) + pencil.paper(pencil.style.extension_gap))
        printed = as_fine_as(entry.distance, 1.0)
        for long, turn in ((long, turn) for long in leads for turn in turns):
            way = angle + turn
            end, along = polar(foot, way, pencil.paper(long)), polar((0.0, 0.0), way, 1.0)
            half = pencil.width(printed) / 2 * abs(along[0]) + pencil.paper(pencil.style.text / 2) * abs(along[1])
            spot = polar(end, way, half + pencil.paper(1.2))
            marks = (line("DIMENSIONS", foot, end), pencil.text("DIMENSIONS", spot, printed, align="middle", centred=True))
            if self.ink.placer.takes(marks):
                self.ink.put(marks)
                self.ink.placer.drawn(f"distance of {entry.mark}")
                return True
        return False


__all__ = ["SettingOut"]
