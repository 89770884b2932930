"""How a pane is cut into tiles that a small printer can print, full size.

Terms
-----
tile
    One page of a template: a piece of the pane at 1:1, named by its column from the left and the letter of its row from above: ``2B``.
    Names such as A4 are names of papers and are not used.
node
    Where the corners of four tiles meet; a registration cross stands there on each of them.
overlap
    What a tile shows again of its neighbour on each side, so that the two can be laid on one another cross on cross.
carried
    A tile on whose own piece something is drawn; the others are not printed.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from outputs.drawing.template_view import CHORD, chords_of
from outputs.sheet.boxes import grown, joined, nodes_box
from outputs.sheet.keep_clear import crosses
from outputs.sheet.paper import Paper

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from outputs.drawing.template_view import Straight
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Node, Place

PAPERS = ("A4", "A3")
OVERLAP = 10.0
"""How far neighbours overlap, mm: half of it on either side of the nodes."""
EDGE, SIDE, FOOT = 8.0, 12.0, 32.0
"""Paper mm: what a printer leaves blank round the page; the strip for the upright bar; the strip for words, map and the level bar."""
_BEYOND = 4.0  # mm of the tiling round all that is drawn
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


class Page(Paper):
    """The paper of a tile, lying or standing."""

    @property
    def window(self) -> Box:
        """What is left for the tile: left, bottom, right, top."""
        return EDGE + SIDE, EDGE + FOOT, self.width - EDGE, self.height - EDGE

    @property
    def step(self) -> Place:
        """From one node to the next, across and up."""
        left, bottom, right, top = self.window
        return right - left - OVERLAP, top - bottom - OVERLAP


@dataclass(frozen=True, slots=True)
class Tile:
    """One tile: column from the left and row from below, from 0, and its name."""

    column: int
    row: int
    name: str


@dataclass(frozen=True, slots=True)
class Tiling:
    """All tiles of a pane. ``start`` is the node at the lower left, full size mm; ``tiles`` are those that are carried."""

    page: Page
    start: Place
    columns: int
    rows: int
    tiles: tuple[Tile, ...]

    def node(self, column: int, row: int) -> Place:
        """Where a node stands in the plan, mm."""
        across, up = self.page.step
        return self.start[0] + column * across, self.start[1] + row * up

    def own(self, column: int, row: int) -> Box:
        """The piece between the nodes of a tile."""
        return (*self.node(column, row), *self.node(column + 1, row + 1))

    def window(self, tile: Tile) -> Box:
        """All that a tile shows, the overlap too."""
        return grown(self.own(tile.column, tile.row), OVERLAP / 2.0)


def tiling(runs: Sequence[tuple[Node, ...]], origin: Place, size: str) -> Tiling:
    """The tiling of closed runs with the fewest pages, standing or lying. Nodes have whole millimetres from ``origin``.

    Raises ``ValueError`` for a paper that is not one of :data:`PAPERS`.
    """
    if size not in PAPERS:
        raise ValueError(f"there is no template on {size!r}; there is {' and '.join(PAPERS)}")
    chords = [chord for run in runs for chord in chords_of(run)]
    extent = grown(joined(nodes_box(run, closed=True) for run in runs), _BEYOND)
    found = [_tiled(Page(size, portrait), extent, chords, origin) for portrait in (True, False)]
    return min(found, key=lambda each: len(each.tiles))  # of two equal ones the standing one


def _tiled(page: Page, extent: Box, chords: Sequence[Straight], origin: Place) -> Tiling:
    left, bottom, right, top = extent
    across, up = page.step
    columns, rows = ceil((right - left) / across), ceil((top - bottom) / up)
    start = (
        origin[0] + round((left + right - columns * across) / 2.0 - origin[0]),
        origin[1] + round((bottom + top - rows * up) / 2.0 - origin[1]),
    )
    bare = Tiling(page, start, columns, rows, ())
    tiles = [
        Tile(column, row, f"{column + 1}{_letter(rows - 1 - row)}")
        for row in range(rows - 1, -1, -1)
        for column in range(columns)
        if _carries(grown(bare.own(column, row), CHORD), chords)
    ]
    return Tiling(page, start, columns, rows, tuple(tiles))


def _carries(box: Box, chords: Iterable[Straight]) -> bool:
    return any(crosses(box, chord) for chord in chords)


def _letter(number: int) -> str:
    """A, B ... without I and O, then AA, AB ...

    >>> _letter(0), _letter(8), _letter(24)
    ('A', 'J', 'AA')
    """
    before, last = divmod(number, len(_LETTERS))
    return (_letter(before - 1) if before else "") + _LETTERS[last]


__all__ = ["EDGE", "FOOT", "OVERLAP", "PAPERS", "SIDE", "Page", "Tile", "Tiling", "tiling"]
