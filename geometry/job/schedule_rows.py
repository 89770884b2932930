"""Rows of a schedule as pane tables: what an office writes in one cell becomes the keys that it means.

Terms
-----
pair
    A row of both hands ("P+S"): the pane is made as ``hand = "port and starboard"`` makes it, from the hand that is drawn.
build-up
    Glass from outside inwards: "10" is one ply, "6/1.52/6" two plies and the interlayer between them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import PurePath
from typing import Any, NamedTuple

from geometry.incoming.schedule_table import Cell, Row
from geometry.job.fields import PLY
from geometry.job.hands import BOTH
from geometry.job.outlines import FORMS
from geometry.job.schedule_heads import MADE
from geometry.job.schedule_kinds import KeyKind, kind_of
from geometry.job.schedule_values import CellFault, Decimal, blank, figure, sound, text_of, value_of
from geometry.job.units import in_standing_unit, shown

_PORT = ("p", "port", "port side")
_PORT_SIDE = "ps"
"""Port side where starboard is SB; port and starboard where the hands are P and S."""
_STARBOARD = ("s", "stbd", "starboard", "stb", "sb", "starboard side", "stbd side")
_CENTRE = ("c", "centre", "center", "cl", "centreline", "centerline", "midships")
_PAIR = ("both", "pair", "both hands", BOTH)
_SIDES = {word: side for side, words in (("port", _PORT), ("starboard", _STARBOARD), ("centre", _CENTRE)) for word in words}
HANDS = "P, S, C or P+S (port, starboard, centre, port and starboard)"
SHAPES = {
    **dict.fromkeys(("rectangle", "rectangular", "rect", "square"), "rectangle"),
    **dict.fromkeys(("circle", "circular", "round"), "circle"),
    **dict.fromkeys(("ellipse", "elliptical", "oval"), "ellipse"),
}
SHAPE_HINT = "rectangle, square, circle or ellipse by columns; every other shape by an outline file"
DRAWINGS, SURVEYS, SOLIDS = (".dxf",), (".csv", ".txt", ".tsv"), (".step", ".stp")
THICKEST_INTERLAYER = 5.0
"""mm up to which a layer between two plies is taken for an interlayer; more may be the cavity of an insulating unit."""
_LENGTH = KeyKind("measure", PLY)
_SIZE = kind_of("outline.rectangle.0")
_RADIUS = kind_of("outline.radius")


class Column(NamedTuple):
    """A column that is read: where it stands, its head as the office has it, what it gives (made word or key), and its unit."""

    at: int
    head: str
    gives: str
    unit: str


class Fault(NamedTuple):
    """What is wrong with one cell, or with a whole row (``column`` 0)."""

    row: int
    column: int
    key: str
    found: str
    allowed: str = ""


@dataclass
class PaneRow:
    """One row as a pane's table: where each key comes from by the steps of the key, and what is wrong with it."""

    row: int
    table: dict[str, Any] = field(default_factory=dict)
    cells: dict[tuple[str | int, ...], int] = field(default_factory=dict)  # the column that gives a key
    faults: list[Fault] = field(default_factory=list)


class Ways(NamedTuple):
    """What the job says of the schedule as a whole."""

    decimal: Decimal
    drawn: str | None = None
    pair_quantity: str | None = None
    hands: frozenset[str] = frozenset()  # every word in the column of hands


def pane_of(row: Row, columns: Mapping[str, Column], ways: Ways) -> PaneRow:
    """The pane of a row; ``columns`` are the columns that are read, by what they give."""
    return _Reader(row, columns, ways).read()


class _Reader:
    """One row being read."""

    def __init__(self, row: Row, columns: Mapping[str, Column], ways: Ways) -> None:
        self.row, self.columns, self.ways = row, columns, ways
        self.found = PaneRow(row.number)
        self.lists: dict[tuple[str, ...], dict[int, Any]] = {}

    def read(self) -> PaneRow:
        for gives in self.columns:
            if gives not in MADE:
                self._plain(gives)
        for steps, entries in self.lists.items():
            self._listed(steps, entries)
        for make in (self._build_up, self._shape, self._hand):
            try:
                make()
            except _Told:
                continue
        return self.found

    # Cells.

    def cell(self, gives: str) -> Cell | None:
        """The cell of a column; None where it is blank."""
        column = self.columns.get(gives)
        cell = None if column is None else self.row.cells.get(column.at)
        return None if blank(cell, kind_of(gives)) else cell

    def fault(self, gives: str, found: str, allowed: str = "") -> None:
        column = self.columns.get(gives)
        self.found.faults.append(Fault(self.row.number, 0 if column is None else column.at, gives, found, allowed))

    def tell(self, gives: str, found: str, allowed: str = "") -> _Told:
        self.fault(gives, found, allowed)
        return _Told()

    def set(self, key: str, value: Any, gives: str) -> None:
        """Give a dotted key its value; every table on the way has the cell as well, the first that gave something."""
        *way, last = key.split(".")
        table, column = self.found.table, self.columns[gives].at
        for length, step in enumerate(way, start=1):
            table = table.setdefault(step, {})
            self.found.cells.setdefault(tuple(way[:length]), column)
        table[last] = value
        self.found.cells[(*way, last)] = column

    def value(self, gives: str, kind: KeyKind) -> Any:
        """The value of a cell; None where it is blank. Raises ``_Told`` after a fault."""
        cell = self.cell(gives)
        if cell is None:
            return None
        try:
            return value_of(cell, kind, self.ways.decimal, self.columns[gives].unit)
        except CellFault as error:
            raise self.tell(gives, error.found, error.allowed) from None

    def text(self, gives: str) -> str:
        """The text of a cell, "" where it is blank. Raises ``_Told`` after a fault."""
        cell = self.cell(gives)
        if cell is None:
            return ""
        try:
            sound(cell)
            return text_of(cell)
        except CellFault as error:
            raise self.tell(gives, error.found, error.allowed) from None

    def _plain(self, key: str) -> None:
        kind = kind_of(key)
        assert kind is not None, "columns are keys or made words"
        try:
            value = self.value(key, kind)
        except _Told:
            return
        if value is None:
            return
        *way, last = key.split(".")
        if last.isdigit():
            self.lists.setdefault(tuple(way), {})[int(last)] = value
            for length in range(1, len(way) + 1):
                self.found.cells.setdefault(tuple(way[:length]), self.columns[key].at)
            self.found.cells[(*way, int(last))] = self.columns[key].at
        else:
            self.set("frame" if key == "frame.material" else key, value, key)

    def _listed(self, steps: tuple[str, ...], entries: Mapping[int, Any]) -> None:
        dotted = ".".join(steps)
        if sorted(entries) != list(range(len(entries))):
            missing = next(index for index in range(len(entries)) if index not in entries)
            given = f"{dotted}.{max(entries)}"
            self.fault(given, f"found {given}, and no {dotted}.{missing}", "every entry of the list from 0 on")
            return
        if dotted in self.columns and self.cell(dotted) is not None:
            self.fault(dotted, f"found {dotted} beside its entries", "one of them")
            return
        table = self.found.table
        for step in steps[:-1]:
            table = table.setdefault(step, {})
        table[steps[-1]] = [entries[index] for index in range(len(entries))]

    # Made words.

    def _build_up(self) -> None:
        cell, gives = self.cell("build-up"), "build-up"
        if cell is None:
            return
        if "plies" in self.found.table.get("glass", {}):
            raise self.tell(gives, "found a build-up beside glass.plies", "one of them")
        unit = self.columns[gives].unit
        if unit not in ("", "mm"):
            raise self.tell(gives, f"found a build-up in {unit}", "millimetres")
        try:
            sound(cell)
            layers = self._layers(cell)
        except CellFault as error:
            raise self.tell(gives, error.found, error.allowed) from None
        self.set("glass.plies", layers[::2], gives)
        if len(layers) > 1:
            self.set("glass.interlayers", layers[1::2], gives)

    def _layers(self, cell: Cell) -> list[Any]:
        parts = [cell] if cell.kind != "text" else _parts(cell)
        layers = [figure(part, _LENGTH, self.ways.decimal, "") for part in parts]
        said, plain = shown(cell.value if cell.kind == "number" else cell.text), [_plain_mm(layer) for layer in layers]
        way = '"10" for one ply, or plies and interlayers from outside inwards such as "6/1.52/6"'
        if len(layers) == 1 and not float(plain[0]).is_integer():
            raise CellFault(f"found {said}: one ply, or a laminate told by its sum or by a short form", way)
        if len(layers) % 2 == 0:
            raise CellFault(f"found {said}: {len(layers)} layers, and between each two plies lies one interlayer", way)
        if any(layer > THICKEST_INTERLAYER for layer in plain[1::2]):
            found = f"found {said}: more than {THICKEST_INTERLAYER:g} mm between two plies is the cavity of an insulating unit"
            raise CellFault(found, f"{way}; a thicker interlayer in a [[pane]] of the job")
        return layers

    def _shape(self) -> None:
        table = self.found.table
        own = [form for form in FORMS if form in table.get("outline", {})]
        sizes = [gives for gives in ("width", "height", "diameter", "daylight width", "daylight height") if self.cell(gives)]
        file, word = self.text("outline file"), self.text("shape")
        ways = [*(["outline file"] if file else []), *(f"outline.{form}" for form in own)]
        if ways and (sizes or len(ways) > 1):
            extra = (sizes or ways[1:])[0]
            raise self.tell(
                extra, f"found {extra} beside {ways[0]}", "the shape in one way; a column that only repeats it is not read"
            )
        if file:
            self._file(file)
        elif not own:
            self._by_sizes(word, sizes)
        self._radius(file)

    def _file(self, file: str) -> None:
        ending = PurePath(file).suffix.casefold()
        form = {**dict.fromkeys(DRAWINGS, "drawing"), **dict.fromkeys(SURVEYS, "survey"), **dict.fromkeys(SOLIDS, "solid")}.get(
            ending
        )
        if form is None:
            raise self.tell("outline file", f"found {shown(file)}", "a drawing saved as DXF, a survey as CSV, or a STEP file")
        self.set(f"outline.{form}", file, "outline file")

    def _by_sizes(self, word: str, sizes: list[str]) -> None:
        shape = SHAPES.get(word.casefold(), "") if word else "circle" if sizes == ["diameter"] else "rectangle"
        if not shape:
            raise self.tell("shape", f"found the shape {shown(word)} without an outline file", SHAPE_HINT)
        daylight = any(each.startswith("daylight") for each in sizes)
        if daylight and any(not each.startswith("daylight") for each in sizes):
            raise self.tell(sizes[-1], f"found {' and '.join(sizes)}", "sizes of the glass or of the daylight opening")
        wide, tall = ("daylight width", "daylight height") if daylight else ("width", "height")
        assert _SIZE is not None, "a key of the outline"
        width, height, across = self.value(wide, _SIZE), self.value(tall, _SIZE), self.value("diameter", _SIZE)
        at = next(iter(sizes), "code")
        if not sizes:
            raise self.tell("code", "found no shape in this row", f"width and height, or {SHAPE_HINT}")
        if shape == "circle":
            known = [each for each in (across, width, height) if each is not None]
            if any(each != known[0] for each in known):
                raise self.tell(at, f"found a circle with {' and '.join(sizes)} that differ", "one diameter")
            self.set("outline.circle", known[0], at)
        else:
            if across is not None:
                raise self.tell("diameter", f"found diameter with the shape {shape}", "width and height")
            if word.casefold() == "square" and (width is None) != (height is None):
                width = height = width if width is not None else height
            if width is None or height is None:
                missing = wide if width is None else tall
                raise self.tell(at, f"found {at} without {missing}", "width and height, or a circle with diameter")
            if word.casefold() == "square" and width != height:
                raise self.tell(tall, f"found a square with {wide} and {tall} that differ", "one size, or rectangle")
            self._pair_of_sizes(shape, (width, height), (wide, tall), at)
        if daylight:
            self.set("outline.of", "daylight", at)

    def _pair_of_sizes(self, shape: str, pair: tuple[Any, Any], names: tuple[str, str], at: str) -> None:
        self.set(f"outline.{shape}", list(pair), at)
        for index, name in enumerate(names):
            column = self.columns.get(name)
            if column is not None and self.cell(name) is not None:
                self.found.cells[("outline", shape, index)] = column.at

    def _radius(self, file: str) -> None:
        assert _RADIUS is not None, "a key of the outline"
        radius = self.value("radius", _RADIUS)
        if radius is None:
            return
        if "circle" in self.found.table.get("outline", {}):
            raise self.tell("radius", "found a corner radius beside a circle", "diameter alone")
        if file or radius != 0 or "rectangle" in self.found.table.get("outline", {}):
            self.set("outline.radius", radius, "radius")

    def _hand(self) -> None:
        word = self.text("hand")
        drawn = self._drawn()
        sides = _hands(word)
        if _bare(word) == _PORT_SIDE:
            hands = {_bare(each) for each in self.ways.hands}
            if "p" in hands or not hands & set(_STARBOARD[1:]):
                raise self.tell("hand", f"found {shown(word)}, which may be port side or port and starboard", HANDS)
            sides = ["port"]
        if not word:
            if drawn is not None:
                raise self.tell("drawn hand", "found the hand that is drawn, and no hand", HANDS)
            return
        if not sides:
            raise self.tell("hand", f"found {shown(word)}", HANDS)
        if len(sides) == 1:
            if drawn is not None:
                raise self.tell("drawn hand", "found the hand that is drawn beside one hand", "it beside P+S alone")
            self.set("side", sides[0], "hand")
            return
        self.set("hand", BOTH, "hand")
        self.set("side", drawn or self._drawn_by_shape(), "hand" if drawn is None else "drawn hand")
        self._quantity_of_a_pair()

    def _drawn(self) -> str | None:
        word = self.text("drawn hand")
        if not word:
            return None
        side = _SIDES.get(word.casefold().rstrip("."))
        if side not in ("port", "starboard"):
            raise self.tell("drawn hand", f"found {shown(word)}", "P or S (port, starboard)")
        return side

    def _drawn_by_shape(self) -> str:
        """The hand of a shape that is its own mirror image does not matter; of any other the job must say it."""
        outline = self.found.table.get("outline", {})
        even = any(form in outline for form in ("rectangle", "circle", "ellipse")) and not isinstance(outline.get("radius"), list)
        sided = [key for key in ("chocks", "straps", "loads", "forward") if key in self.found.table]
        if self.ways.drawn is not None or (even and not sided):
            return self.ways.drawn or "port"
        raise self.tell(
            "hand",
            "found a pair, and not which hand is drawn",
            'a column "drawn hand" with P or S, or panes.drawn = "port" in the job',
        )

    def _quantity_of_a_pair(self) -> None:
        count, way = self.found.table.get("quantity"), self.ways.pair_quantity
        if not isinstance(count, int) or (count == 1 and way is None) or way == "each":
            return
        if way is None:
            found = f"found {count} of a pair, which may be {count} of each hand or {count} in all"
            raise self.tell("quantity", found, 'panes.pair_quantity = "each" or "together" in the job')
        if count % 2:
            raise self.tell("quantity", f"found {count} in all of a pair", "an even number")
        self.set("quantity", count // 2, "quantity")


class _Told(Exception):
    """A fault has been noted; what hangs on the cell cannot be read."""


def _parts(cell: Cell) -> list[Cell]:
    text = re.sub(r"\s*mm\s*$", "", cell.text, flags=re.IGNORECASE)
    layers = [part.strip() for part in re.split(r"[/+|]", text)]
    return [Cell(cell.row, cell.column, "text", part) for part in layers]


def _plain_mm(layer: Any) -> float:
    """A layer in mm, to hold it against what an interlayer can be."""
    try:
        return in_standing_unit(layer, kind="length", unit="mm")
    except ValueError:  # a fraction of nought
        raise CellFault(f"found {shown(layer)}", "thicknesses in mm") from None


def _bare(word: str) -> str:
    return word.casefold().strip().rstrip(".")


def _hands(word: str) -> list[str]:
    """The sides that a word names; empty where it is none of the trade's words."""
    plain = _bare(word)
    if plain in _PAIR:
        return ["port", "starboard"]
    if plain in _SIDES:
        return [_SIDES[plain]]
    parts = [part.strip().rstrip(".") for part in re.split(r"[+&/,]| and ", plain)]
    sides = [_SIDES.get(part, "") for part in parts]
    return sides if sorted(sides) == ["port", "starboard"] else []


__all__ = ["HANDS", "SHAPES", "Column", "Fault", "PaneRow", "Ways", "pane_of"]
