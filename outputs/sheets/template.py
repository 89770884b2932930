"""The template: the pane at 1:1 on pages of A4 or A3 that are laid together, a page that says how, and the notch of the nozzle.

Terms
-----
overview
    The first page: the pane at a small scale with its tiles and their names, the key of the lines, what to measure when it is together.
bar
    100 mm to measure before a page is used, one lying and one upright on every page: a printer may be true one way only.
map
    The tiles as small rectangles at the foot of each page, the page's own in a heavy frame.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import dist
from typing import TYPE_CHECKING, Literal, NamedTuple

from outputs.drawing.bead_view import notch_marks
from outputs.drawing.code_marks import code_marks, code_size, code_text
from outputs.drawing.plan_outlines import blocks_of
from outputs.drawing.template_view import (
    Straight,
    block_outline,
    blocks_shown,
    chords_of,
    curves_shown,
    is_whole,
    key_sample,
    named_lines,
    node_words,
    register_marks,
    template_marks,
)
from outputs.drawing.turned_over import seen_from_inside
from outputs.sheet.boxes import box_of, box_of_text, grown, overlap
from outputs.sheet.drafting import number, scale_designation
from outputs.sheet.entities import Insert, Mark, Path, Sheet, Text, View
from outputs.sheet.keep_clear import crosses, straights_of
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.lettering import text_width
from outputs.sheet.moving import shifted
from outputs.sheet.pencil import Pencil
from outputs.sheet.runs import box, line
from outputs.sheet.tables import wrapped
from outputs.sheets.template_tiles import EDGE, FOOT, SIDE, Page, Tile, Tiling, tiling
from outputs.sheets.template_words import Side
from outputs.sheets.title import identification, quantity_and_hand, state_words, warning

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheets.contents import Contents

BAR = 100.0
MAP = (50.0, 28.0)
"""Room for the map at the foot of a page, mm."""
_PITCH = 5.0  # mm from base line to base line
_SCALES = (0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
_KEY = (
    ("GLASS", "glass edge"),
    ("BEAD_EDGE", "bead, pressed: outer and inner edge"),
    ("BEAD_CENTRE", "bead centre: here the nozzle goes"),
    ("FRIT_INNER", "frit edge"),
    ("FRIT_FADE", "end of the solid frit, where it fades"),
    ("SPACERS", "spacer blocks S, chocks and blocks K in the joint"),
    ("SECTION_MARKS", "where the bead starts and stops; the arrow says which way it runs"),
    ("DETAIL", "registration cross, with X and Y in mm"),
)


class _Count(NamedTuple):
    """Which page of how many."""

    number: int
    of: int


def template_sheets(contents: Contents, *, size: str = "A4", inside: bool = False) -> tuple[Sheet, ...]:
    """The pages of the template: overview, every tile that carries something, notch. Raises ``ValueError`` for another paper.

    ``inside``: the pane turned over, for the glass as it lies inner face up; the notch, alike from both sides, stands in the other one.
    """
    side = Side(inside)
    if inside:
        contents = replace(contents, detail=seen_from_inside(contents.detail))
    detail = contents.detail
    runs = [nodes for _, _, nodes in curves_shown(detail)]
    runs += [block_outline(block, detail) for block in blocks_shown(detail)]
    tiles = tiling(runs, (detail.origin.at.x, detail.origin.at.y), size)
    of = len(tiles.tiles) + (1 if inside else 2)
    windows = [tiles.window(tile) for tile in tiles.tiles]
    pages = _Pages(contents, tiles, tuple(template_marks(detail, Pencil(contents.style, 1.0), windows, inside=inside)), side)
    sheets = (
        pages.overview(_Count(1, of)),
        *(pages.tile(place, _Count(place + 2, of)) for place in range(len(tiles.tiles))),
        *(() if inside else (pages.notch(_Count(of, of)),)),
    )
    return tuple(with_layer_names(sheet, dict(contents.job.layers)) for sheet in sheets)


@dataclass(frozen=True, slots=True)
class _Pages:
    """Makes the pages of one template."""

    contents: Contents
    tiling: Tiling
    marks: tuple[Mark, ...]
    """What stands on the tiles; a name that one of them cuts stands whole on another."""
    side: Side

    @property
    def _pencil(self) -> Pencil:
        return Pencil(self.contents.style, 1.0)

    @property
    def _origin(self) -> Place:
        at = self.contents.detail.origin.at
        return at.x, at.y

    def _sheet(self, name: str, views: tuple[View, ...], marks: list[Mark], count: _Count) -> Sheet:
        contents, page = self.contents, self.tiling.page
        return Sheet(
            size=page.size,
            width=page.width,
            height=page.height,
            title=f"{contents.title}: template{', inner face up, mirrored' if self.side.inside else ''}, {name}",
            description=f"Template 1:1 of pane {contents.detail.code}, {self.side.seen}, page {count.number} of {count.of}.",
            layers=LAYERS,
            blocks=blocks_of(contents.detail),
            views=views,
            marks=(*_bars(page), *self._foot(name, count), *marks),
        )

    def tile(self, place: int, count: _Count) -> Sheet:
        """One tile: what lies in its window, the crosses at its nodes and the name of each line."""
        tile, page, pencil, detail = self.tiling.tiles[place], self.tiling.page, self._pencil, self.contents.detail
        window = self.tiling.window(tile)
        nodes = [self.tiling.node(tile.column + across, tile.row + up) for up in (0, 1) for across in (0, 1)]
        half = max((chock.length for chock in detail.chocks), default=0.0) / 2.0 + detail.sizes.spacer_length.value
        marks = [
            mark
            for mark in self.marks
            if overlap(grown(box_of(mark, 1.0), half if isinstance(mark, Insert) else 0.01), window)
            and (is_whole(mark, window) if isinstance(mark, Text) else True)
        ]
        registers = register_marks(nodes)
        taken = [box_of(mark, 1.0) for mark in marks if isinstance(mark, Text)]
        blocks = [block_outline(block, detail) for block in blocks_shown(detail)]
        drawn = [*_near(straights_of(registers), window), *_near([c for run in blocks for c in chords_of(run)], window)]
        for mark in marks:
            if isinstance(mark, Path):
                drawn += _near(chords_of(mark.nodes) if mark.closed else straights_of((mark,)), window)
        words = self._node_names(nodes, window, drawn, taken)
        words += named_lines(detail, window, drawn, taken, pencil, seen=self.side.seen)
        name = self._tile_name(tile)
        view = View(name, 1.0, window, page.window[:2], (*marks, *registers, *words), clipped=True)
        return self._sheet(name, (view,), [box("TABLES", *page.window)], count)

    def _tile_name(self, tile: Tile) -> str:
        return f"tile {tile.name}{self.side.on_tile}"

    def _node_names(self, nodes: list[Place], window: Box, drawn: list[Straight], taken: list[Box]) -> list[Text]:
        """X and Y beside each cross, inside the tile and clear of all lines and lettering where there is such a place."""
        names: list[Text] = []
        for x, y in nodes:
            free = (
                each
                for each in _beside((x, y), window, node_words((x, y), self._origin, inside=self.side.inside))
                if not any(crosses(grown(box_of_text(each, 1.0), 0.75), straight) for straight in drawn)
                and not any(overlap(grown(box_of_text(each, 1.0), 1.5), other) for other in taken)
            )
            name = next(free, None)
            if name is not None:  # the map and the names of the other crosses tell it
                names.append(name)
                taken.append(box_of_text(name, 1.0))
        return names

    def overview(self, count: _Count) -> Sheet:
        """The whole pane small, its tiles and their names; the key of the lines; how the pages go together."""
        page, tiles = self.tiling.page, self.tiling
        left, bottom, right, top = page.window
        whole = (*tiles.node(0, 0), *tiles.node(tiles.columns, tiles.rows))
        width, height = whole[2] - whole[0], whole[3] - whole[1]
        words_high = 84.0 if page.portrait else 68.0
        room = (right - left - 4.0, top - bottom - words_high - 12.0)
        scale = next((each for each in _SCALES if width * each <= room[0] and height * each <= room[1]), _SCALES[-1])
        pencil = Pencil(self.contents.style, scale)
        marks: list[Mark] = [Path(layer, nodes, True) for layer, _, nodes in curves_shown(self.contents.detail)[:1]]
        marks += [Path(layer, nodes, True) for layer, _, nodes in curves_shown(self.contents.detail) if layer == "FRIT_INNER"]
        chords = [chord for mark in marks if isinstance(mark, Path) for chord in chords_of(mark.nodes)]
        for tile in tiles.tiles:
            own = tiles.own(tile.column, tile.row)
            marks.append(box("TABLES", *own))
            if min(own[2] - own[0], own[3] - own[1]) * scale >= 7.0:
                marks.append(_name_in(tile.name, own, chords, pencil))
        window = grown(whole, 1.0 / scale)
        paper = (left + 2.0, top - 9.0 - (window[3] - window[1]) * scale)
        view = View("overview", scale, window, paper, tuple(marks))
        titled = f"Template 1:1, {self.side.seen}: {len(tiles.tiles)} tiles on {page.size}, here at {scale_designation(scale)}"
        found: list[Mark] = [Text("TEXT", left, top - 5.0, titled, _fitted(titled, right - left, 3.5))]
        found += self._instructions(left, bottom + words_high - 4.0, right)
        return self._sheet(f"overview{self.side.on_tile}", (view,), found, count)

    def _instructions(self, left: float, top: float, right: float) -> list[Mark]:
        """The key of the lines at the left, the notes at the right of it."""
        shown = {layer for layer, _, _ in curves_shown(self.contents.detail)} | {"SPACERS", "SECTION_MARKS", "DETAIL"}
        column = left + 84.0
        marks: list[Mark] = [Text("TEXT", left, top - 3.5, "Lines", 3.5), Text("TEXT", column, top - 3.5, "Laying together", 3.5)]
        y = top - 10.0
        for layer, words in _KEY:
            if layer in shown:
                marks += key_sample(layer, left, y + 1.2, 14.0)
                for row in wrapped(words, 62.0, 2.5):
                    marks.append(Text("TEXT", left + 17.0, y, row, 2.5))
                    y -= _PITCH
                y -= 0.4
        side = code_size(self._code)
        beside = EDGE + FOOT + side + 3.0  # a row whose foot is lower ends left of the code
        y = top - 10.0
        for entry, words in enumerate(self.side.notes(self.contents, *self._far_nodes()), start=1):
            for place, row in enumerate(wrapped(words, right - column - 7.0 - (side + 2.0 if y < beside else 0.0), 2.5)):
                if not place:
                    marks.append(Text("TEXT", column, y, f"{entry}.", 2.5))
                marks.append(Text("TEXT", column + 6.0, y, row, 2.5))
                y -= _PITCH
        return [*marks, *code_marks(self._code, right - side, EDGE + FOOT, layer="TITLE")]

    @property
    def _code(self) -> str:
        return code_text(self.contents.detail.code, self.contents.detail.revision, self.contents.mark)

    def _far_nodes(self) -> tuple[Place, Place]:
        """The two crosses on printed tiles that lie farthest apart."""
        tiles = self.tiling
        nodes = sorted({(tile.column + across, tile.row + up) for tile in tiles.tiles for across in (0, 1) for up in (0, 1)})
        places = [tiles.node(*node) for node in nodes]
        return max(((one, other) for one in places for other in places), key=lambda pair: (dist(*pair), pair))

    def notch(self, count: _Count) -> Sheet:
        """The notch of the nozzle, full size, as often as there is room: a cut one is lost."""
        page, pencil, bead = self.tiling.page, self._pencil, self.contents.detail.uncured_bead
        left, _, right, top = page.window
        marks = notch_marks(self.contents.detail, pencil)
        outline = [mark for mark in marks if isinstance(mark, Path)]
        plate = box_of(outline[0], 1.0)
        wide, high = plate[2] - plate[0] + 30.0, plate[3] - plate[1] + 24.0
        words = (
            f"Notch of the nozzle 1:1: {number(bead.notch_width, decimals=1)} wide, {number(bead.notch_height, decimals=1)} high",
            "Cut the end of the nozzle to the V. Cut out along the line, it gauges the bead as it is laid, before the pane is set.",
        )
        found: list[Mark] = [Text("TEXT", left, top - 5.0, words[0], 3.5)]
        y = top - 11.0
        for row in wrapped(words[1], right - left, 2.5):
            found.append(Text("TEXT", left, y, row, 2.5))
            y -= _PITCH
        for copy in range(max(1, min(3, int((right - left) / wide)))):
            x = left + 10.0 + copy * wide - plate[0]
            found += [shifted(mark, x, y - high) for mark in (marks if not copy else outline)]
        return self._sheet("notch", (), found, count)

    def _foot(self, name: str, count: _Count) -> list[Mark]:
        """Pane, tile and state at the foot of the page, and the map."""
        contents, page = self.contents, self.tiling.page
        left, right = page.window[0], page.width - EDGE
        room = right - self._map_width - 5.0 - left
        y = EDGE + 17.0
        named = name[0].upper() + name[1:]
        wide = text_width(named, 5.0, bold=True)
        headed = " ".join(
            part for part in (contents.title, f"rev {contents.detail.revision}" if contents.detail.revision else "") if part
        )
        marks: list[Mark] = [
            Text("TITLE", left + room, y, named, 5.0, "right", bold=True),
            _fitted_text("TITLE", left, y, headed, room - wide - 4.0, 3.5),
        ]
        told = (
            f"{identification(contents, self.side.letter)}  ·  mark {contents.mark}  ·  {quantity_and_hand(contents)}",
            f"Scale 1:1, {self.side.seen}  ·  page {count.number} of {count.of}  ·  {state_words(contents)}",
        )
        loud, why = warning(contents)
        for place, words in enumerate(told):
            marks.append(_fitted_text("TITLE", left, y - 6.0 - _PITCH * place, words, room, 2.5))
        if loud:
            marks.append(Text("TITLE", left, y - 16.9, loud, 3.5, bold=True))
            after = text_width(loud, 3.5, bold=True) + 4.0
            marks.append(_fitted_text("TITLE", left + after, y - 16.9, why, room - after, 2.5))
        return [*marks, *self._map(name, right, EDGE)]

    @property
    def _map_scale(self) -> float:
        """The greatest at which all tiles find room in the map."""
        across, up = self.tiling.page.step
        return min(MAP[0] / (self.tiling.columns * across), MAP[1] / (self.tiling.rows * up))

    @property
    def _map_width(self) -> float:
        return self.tiling.columns * self.tiling.page.step[0] * self._map_scale

    def _map(self, name: str, right: float, bottom: float) -> list[Mark]:
        """The tiles small, the page's own in a heavy frame, the pane's edge through them."""
        tiles, scale = self.tiling, self._map_scale
        across, up = tiles.page.step
        x, y = right - tiles.columns * across * scale, bottom
        start = tiles.start
        marks: list[Mark] = []
        for tile in tiles.tiles:
            corners = [x + (tile.column + k) * across * scale for k in (0, 1)], [y + (tile.row + k) * up * scale for k in (0, 1)]
            own = self._tile_name(tile) == name
            marks.append(box("SHEET" if own else "TABLES", corners[0][0], corners[1][0], corners[0][1], corners[1][1]))
        glass = curves_shown(self.contents.detail)[0][2]
        marks.append(
            Path("TITLE", tuple((x + (u - start[0]) * scale, y + (v - start[1]) * scale, bulge) for u, v, bulge in glass), True)
        )
        return marks


def _beside(place: Place, window: Box, words: str) -> Iterator[Text]:
    """Where the words of a cross may stand within its tile: level on its inner side, else upright, the nearest first."""
    x, y = place
    level: Literal["left", "right"] = "left" if x < (window[0] + window[2]) / 2.0 else "right"
    right = 1.0 if level == "left" else -1.0
    upright: Literal["left", "right"] = "left" if y < (window[1] + window[3]) / 2.0 else "right"
    above = 1.0 if upright == "left" else -1.0
    for row in (1.2, 6.5, 11.0, 16.0, 21.0, 30.0):
        foot = y + (row if above > 0.0 else -row - 2.5)
        for across in (6.5, 12.0, 20.0, 40.0):
            yield Text("TEXT", x + right * across, foot, words, 2.5, level)
    for away in (2.5, 6.5, 11.0, 16.0, 21.0, 30.0):
        foot = x + (away + 2.5 if right > 0.0 else -away)
        for along in (7.0, 12.0, 20.0, 40.0):
            yield Text("TEXT", foot, y + above * along, words, 2.5, upright, 90.0)


def _name_in(name: str, own: Box, chords: Sequence[Straight], pencil: Pencil) -> Text:
    """The name of a tile inside it, clear of the outlines where there is such a place."""
    width, height = own[2] - own[0], own[3] - own[1]
    shares = (0.5, 0.35, 0.65, 0.25, 0.75, 0.2, 0.8)
    found = [
        pencil.text("TEXT", (own[0] + across * width, own[1] + up * height), name, height=3.5, align="middle", centred=True)
        for up in shares
        for across in shares
    ]
    near = _near(chords, own)
    margin = pencil.paper(0.7)

    def clear(text: Text) -> bool:
        room = grown(box_of_text(text, pencil.scale), margin)
        inside = room[0] > own[0] and room[1] > own[1] and room[2] < own[2] and room[3] < own[3]
        return inside and not any(crosses(room, chord) for chord in near)

    return next((text for text in found if clear(text)), found[0])


def _bars(page: Page) -> list[Mark]:
    """A bar of 100 mm both ways, ticked each 10 mm."""
    left, bottom, _, _ = page.window
    x, y = EDGE + SIDE / 2.0 - 1.0, EDGE + FOOT - 6.0
    marks: list[Mark] = [line("SEEN_OUTLINE", (left, y), (left + BAR, y)), line("SEEN_OUTLINE", (x, bottom), (x, bottom + BAR))]
    for tick in range(11):
        at, tall = tick * BAR / 10.0, 1.8 if tick % 5 == 0 else 1.0
        marks += [line("SEEN_OUTLINE", (left + at, y - tall), (left + at, y + tall))]
        marks += [line("SEEN_OUTLINE", (x - tall, bottom + at), (x + tall, bottom + at))]
    marks.append(Text("TEXT", left + BAR + 4.0, y - 1.25, "100 mm, both ways", 2.5))
    marks.append(Text("TEXT", x + 1.25, bottom + BAR + 4.0, "100 mm", 2.5, rotation=90.0))
    return marks


def _near(straights: Sequence[Straight], window: Box) -> list[Straight]:
    """Those that may lie in a window."""
    left, bottom, right, top = window
    return [
        each
        for each in straights
        if max(each[0], each[2]) >= left
        and min(each[0], each[2]) <= right
        and max(each[1], each[3]) >= bottom
        and min(each[1], each[3]) <= top
    ]


def _fitted(words: str, room: float, tall: float) -> float:
    """The height of capitals, of the series, with which words find their room."""
    return next((each for each in (tall, 2.5) if each <= tall and text_width(words, each) <= room), 1.8)


def _fitted_text(layer: str, x: float, y: float, words: str, room: float, tall: float) -> Text:
    """Words as tall as their room allows; what is still too long ends with three dots."""
    height = _fitted(words, room, tall)
    while text_width(words, height) > room and len(words) > 2:
        words = f"{words[:-2].rstrip()}…"
    return Text(layer, x, y, words, height)


__all__ = ["template_sheets"]
