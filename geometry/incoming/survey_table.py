"""The table of a survey: heads in any order, comma, semicolon or tab, decimal comma or point; millimetres come out.

Terms
-----
head
    The name of a column: ``x``, ``y`` and, in space, ``z``; ``edge``, ``station``, ``depth`` and ``landing`` where they were taken. A unit may
    stand in it: ``x [mm]``, ``depth (in)``.
remark line
    A line that begins with ``#``. ``# units: m`` states the unit of every length whose head states none.
side point
    A row whose edge is ``inside`` or ``outside``: no point of the wall, but a place on that side of it.

Nothing is guessed: a cell that can be read in two ways is a fault.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from geometry.incoming.survey_faults import Fault, SurveyError
from geometry.incoming.text_of import TextError, text_of
from geometry.incoming.units import MILLIMETRES

MOST_BYTES = 8_000_000
MOST_POINTS = 20_000
FARTHEST = 1e9
"""mm, the greatest coordinate: surveys in a yard's coordinates lie far from their origin."""
HEADS = {
    "x": ("x", "x coordinate", "x coord", "x value", "easting", "east"),
    "y": ("y", "y coordinate", "y coord", "y value", "northing", "north"),
    "z": ("z", "z coordinate", "z coord", "z value", "elevation", "height", "up"),
    "edge": ("edge", "edge name", "side", "wall"),
    "station": ("station", "station number", "no", "number", "point", "point name", "point number", "name", "id"),
    "depth": ("depth", "recess depth", "depth of recess"),
    "landing": ("landing", "landing width", "width of landing", "flange"),
}
"""What each column may be called, capitals and signs between the words apart."""
LENGTHS = ("x", "y", "z", "depth", "landing")
SIDES = ("inside", "outside")
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_UNIT = re.compile(r"^(.*?)[\s_]*[\[(]\s*([^\])]*?)\s*[\])]\s*$")
_PAPER = re.compile(r"^#\s*recess of (pane \S{1,40}(?:, revision \S{1,40})?), mark [A-Z0-9-]{1,20}: the survey sheet\b")
_SIDE = re.compile(r"^#\s*seen from\s*[:=;,\t ]\s*(.*?)[;,.\s]*$", re.I)
_STATED = re.compile(r"^#\s*units?\s*[:=;,\t ]\s*(.*?)[;,\s]*$", re.I)


class SurveyPoint(NamedTuple):
    """One row: its line in the file, its place (two or three figures, mm) and what was noted beside it, mm; None where nothing was."""

    line: int
    place: tuple[float, ...]
    edge: str = ""
    station: str = ""
    depth: float | None = None
    landing: float | None = None


@dataclass(frozen=True, slots=True)
class SurveyTable:
    """The rows of a survey. ``sides`` are its side points; ``notes`` tell what was read otherwise than it stands there."""

    points: tuple[SurveyPoint, ...]
    sides: tuple[SurveyPoint, ...]
    unit: str
    notes: tuple[str, ...]
    seen_from: str = ""  # as a line of the file says: outside or inside

    @property
    def in_space(self) -> bool:
        """Whether every point has three figures."""
        return len(self.points[0].place) == 3


class _Cell(NamedTuple):
    text: str
    column: int
    quoted: bool


@dataclass(slots=True)
class _Reading:
    name: str
    separator: str = ";"
    decimal: str = ""  # the decimal sign in use, with the line that used it first
    decimal_line: int = 0
    faults: list[Fault] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def fault(self, line: int, column: int, found: str, allowed: str = "") -> None:
        self.faults.append(Fault(line, column, found, allowed))


def read_table(data: bytes, *, name: str, units: str | None = None) -> SurveyTable:
    """The table in the bytes of a file.

    ``units`` (mm, cm, m, in, ft) holds for every length whose head states none; it must not contradict the file.

    Raises
    ------
    SurveyError
        With every fault of the file.
    """
    reading = _Reading(name)
    if len(data) > MOST_BYTES:
        raise SurveyError(name, [Fault(0, 0, f"{len(data)} bytes", f"up to {MOST_BYTES}")])
    lines = re.split(r"\r\n|\n|\r", _decoded(data, reading))
    stated = _stated_unit(lines, units, reading)
    header, first = _header(lines, reading)
    columns, scales = _columns(header, first, stated, reading)
    if reading.faults:
        raise SurveyError(name, reading.faults)
    points = [
        point
        for number, line in enumerate(lines[first:], start=first + 1)
        if line.strip(" \t;,") and not line.lstrip().startswith("#")
        for point in _row(line, number, header, columns, scales, reading)
    ]
    if len(points) > MOST_POINTS:
        reading.fault(0, 0, f"{len(points)} points", f"up to {MOST_POINTS}")
    if reading.faults:
        raise SurveyError(name, reading.faults)
    sides = tuple(point for point in points if point.edge.casefold() in SIDES)
    wall = tuple(point for point in points if point.edge.casefold() not in SIDES)
    if len(wall) < 3:
        raise SurveyError(name, [Fault(0, 0, f"{len(wall)} point{'' if len(wall) == 1 else 's'} of the wall", "three or more")])
    reading.notes += [*_papers(lines), *_left_blank(wall, columns)]
    return SurveyTable(wall, sides, stated, tuple(reading.notes), _stated_side(lines, reading))


def _decoded(data: bytes, reading: _Reading) -> str:
    try:
        return text_of(data)[0]
    except TextError as error:
        raise SurveyError(reading.name, [error.fault]) from None


def _stated_unit(lines: Sequence[str], units: str | None, reading: _Reading) -> str:
    found: dict[str, str] = {}
    if units is not None:
        if units not in MILLIMETRES:
            raise SurveyError(reading.name, [Fault(0, 0, f"units {units!r}", "one of " + ", ".join(MILLIMETRES))])
        found[units] = "the job"
    for number, line in enumerate(lines, start=1):
        match = _STATED.match(line.strip())
        if match:
            unit = match[1].strip().casefold()
            if unit not in MILLIMETRES:
                reading.fault(
                    number,
                    line.casefold().find(unit) + 1 if unit else 1,
                    f"unit {_shown(unit)}",
                    "one of " + ", ".join(MILLIMETRES),
                )
            else:
                found.setdefault(unit, f"line {number}")
    if len(found) > 1:
        reading.fault(0, 0, "two units: " + " and ".join(f"{unit} ({where})" for unit, where in found.items()), "one unit")
    return next(iter(found), "mm")


def _stated_side(lines: Sequence[str], reading: _Reading) -> str:
    """From which side one stood, as a line such as ``# seen from: inside`` says; "" without one."""
    found: dict[str, int] = {}
    for number, line in enumerate(lines, start=1):
        match = _SIDE.match(line.strip())
        if match:
            side = match[1].strip().casefold()
            if side not in SIDES:
                raise SurveyError(reading.name, [Fault(number, 1, f"seen from {_shown(side)}", " or ".join(SIDES))])
            found.setdefault(side, number)
    if len(found) > 1:
        raise SurveyError(reading.name, [Fault(max(found.values()), 1, "two sides: " + " and ".join(found), "one side")])
    return next(iter(found), "")


def _papers(lines: Sequence[str]) -> list[str]:
    """The survey sheet on which it was filled in, so that nobody takes one pane's recess for another's unseen."""
    found = dict.fromkeys(match[1] for line in lines if (match := _PAPER.match(line.strip())))
    return [f"filled in on the survey sheet of {paper}" for paper in found]


def _left_blank(points: Sequence[SurveyPoint], columns: dict[str, int]) -> list[str]:
    """What was left blank in a column that is there, by the stations that have a name; a blank is no figure."""
    told = []
    for key in ("depth", "landing"):
        blank = [point.station for point in points if point.station and getattr(point, key) is None]
        if key not in columns or not blank:
            continue
        if len(blank) == len(points):
            told.append(f"no {key} at any station")
        else:
            told.append(f"{'station' if len(blank) == 1 else 'stations'} {', '.join(blank)}: no {key}")
    return told


# Heads.


def _header(lines: Sequence[str], reading: _Reading) -> tuple[list[_Cell], int]:
    """The cells of the head and the number of lines up to and with it; the separator is the one of the head."""
    for number, line in enumerate(lines, start=1):
        if line.strip().casefold().replace(" ", "") in ("sep=;", "sep=,", "sep=\t", "sep="):
            continue
        if not line.strip(" \t;,") or line.lstrip().startswith("#"):
            continue
        reading.separator = next((sign for sign in (";", "\t", ",") if sign in line), ";")
        cells = _cells(line, number, reading)
        if cells and all(_NUMBER.fullmatch(cell.text) for cell in cells if cell.text):
            reading.fault(
                number, 1, f"{_shown(line.strip())} where the heads of the columns are wanted", "a first row such as x;y;edge"
            )
        return cells, number
    reading.fault(0, 0, "no row at all", "a first row such as x;y;edge and a row for each point")
    return [], len(lines)


def _columns(header: Sequence[_Cell], line: int, stated: str, reading: _Reading) -> tuple[dict[str, int], dict[str, float]]:
    """Which cell holds what, and by how much a length is multiplied to be mm."""
    columns: dict[str, int] = {}
    scales = dict.fromkeys(LENGTHS, MILLIMETRES[stated])
    if reading.faults:
        return columns, scales
    in_head: dict[str, str] = {}
    for index, cell in enumerate(header):
        if not cell.text:
            continue
        word, unit = _head_words(cell.text)
        key = next((key for key, names in HEADS.items() if word in names), "")
        if not key:
            _unknown_head(cell, word, line, reading)
        elif key in columns:
            twice = header[columns[key]].text
            reading.fault(line, cell.column, f"two columns of {key}: {_shown(twice)} and {_shown(cell.text)}", "one")
        else:
            columns[key] = index
            if unit and key not in LENGTHS:
                reading.fault(line, cell.column, f"a unit beside {key}", "units only beside " + ", ".join(LENGTHS))
            elif unit and unit not in MILLIMETRES:
                reading.fault(line, cell.column, f"unit {_shown(unit)}", "one of " + ", ".join(MILLIMETRES))
            elif unit:
                in_head[key], scales[key] = unit, MILLIMETRES[unit]
    for key in ("x", "y"):
        if key not in columns and not reading.faults:
            reading.fault(line, 1, f"no column {key}", f"a column headed {key}, such as x;y;edge")
    axes = {in_head.get(key, stated) for key in ("x", "y", "z") if key in columns}
    if len(axes) > 1:
        reading.fault(line, 1, "x, y and z in different units: " + ", ".join(sorted(axes)), "one unit for all three")
    return columns, scales


def _head_words(text: str) -> tuple[str, str]:
    match = _UNIT.match(text)
    word, unit = (match[1], match[2]) if match else (text, "")
    plain = " ".join(re.split(r"[\s_.\-]+", word.strip().casefold())).strip()
    return plain, unit.casefold()


def _unknown_head(cell: _Cell, word: str, line: int, reading: _Reading) -> None:
    known = [name for names in HEADS.values() for name in names if len(name) > 2]
    close = difflib.get_close_matches(word[:40], known, n=1, cutoff=0.8)
    if close:
        reading.fault(line, cell.column, f"a column headed {_shown(cell.text)}", f"did you mean {close[0]}?")
    else:
        reading.notes.append(f"column {_shown(cell.text)} is not read")


# Rows.


def _cells(line: str, number: int, reading: _Reading) -> list[_Cell]:
    """The cells of a line with the column of their first sign; a cell may stand in double quotes."""
    found: list[_Cell] = []
    at, end = 0, len(line)
    while True:
        start = at
        while at < end and line[at] == " ":
            at += 1
        if at < end and line[at] == '"':
            close, text = at + 1, ""
            while True:
                stop = line.find('"', close)
                if stop < 0:
                    reading.fault(number, at + 1, "a quotation mark that is not closed on its line", "a pair of them")
                    return found
                text += line[close:stop]
                if line[stop + 1 : stop + 2] != '"':
                    break
                text, close = text + '"', stop + 2
            after = line.find(reading.separator, stop + 1)
            after = end if after < 0 else after
            if line[stop + 1 : after].strip():
                reading.fault(
                    number, stop + 2, f"{_shown(line[stop + 1 : after].strip())} after a closing quotation mark", "the separator"
                )
            found.append(_Cell(text.strip(), at + 1, True))
        else:
            after = line.find(reading.separator, at)
            after = end if after < 0 else after
            raw = line[start:after]
            found.append(_Cell(raw.strip(), start + len(raw) - len(raw.lstrip()) + 1, False))
        if after >= end:
            return found
        at = after + 1


def _row(
    line: str, number: int, header: Sequence[_Cell], columns: dict[str, int], scales: dict[str, float], reading: _Reading
) -> list[SurveyPoint]:
    before = len(reading.faults)
    cells = _cells(line, number, reading)
    if len(reading.faults) > before:
        return []
    if len(cells) > len(header):
        extra = [cell for cell in cells[len(header) :] if cell.text]
        if extra:
            found = f"{len(cells)} cells under {len(header)} heads"
            if reading.separator == ",":
                allowed = "as many cells as heads; figures with a decimal comma cannot stand between commas: separate the cells by semicolons"
                reading.fault(number, extra[0].column, found, allowed)
            else:
                reading.fault(number, extra[0].column, found, "as many cells as heads")
            return []
    for cell, head in zip(cells, header, strict=False):
        if cell.text and not head.text:
            allowed = "nothing under a column without a head"
            if reading.separator == ",":
                allowed += "; figures with a decimal comma cannot stand between commas: separate the cells by semicolons"
            reading.fault(number, cell.column, f"{_shown(cell.text)} under no head", allowed)
            return []
    texts = {key: cells[columns[key]].text if key in columns and columns[key] < len(cells) else "" for key in ("edge", "station")}
    got: dict[str, float | None] = {}
    for key in LENGTHS:
        if key in columns:
            index = columns[key]
            cell = cells[index] if index < len(cells) else _Cell("", len(line) + 1, False)
            got[key] = _figure(cell, key, number, scales[key], reading, texts["station"])
    if len(reading.faults) > before:
        return []
    place = tuple(value for key in ("x", "y", "z") if (value := got.get(key)) is not None)
    return [SurveyPoint(number, place, texts["edge"][:60], texts["station"][:60], got.get("depth"), got.get("landing"))]


def _figure(cell: _Cell, key: str, number: int, scale: float, reading: _Reading, station: str) -> float | None:
    """The figure of a cell, mm; None where an empty one is allowed or a fault was told."""
    text = cell.text.replace("\u2212", "-")
    if not text:
        if key in ("x", "y", "z"):
            if station:
                reading.fault(
                    number, cell.column, f"station {station[:60]}: no {key}", "a figure, or no row of a station not measured"
                )
            else:
                reading.fault(number, cell.column, f"no {key}", "a figure")
        return None
    match = _NUMBER.fullmatch(text)
    if match is None:
        signs = sum(text.count(sign) for sign in ".,")
        allowed = "a figure such as 12.5 or 12,5"
        if signs > 1 or re.fullmatch(r"[+-]?[0-9]+([ '\u00a0\u202f][0-9]{3})+([.,][0-9]*)?", text):
            allowed = "a figure without signs between its thousands"
        reading.fault(number, cell.column, f"{key} is {_shown(cell.text)}", allowed)
        return None
    sign = next((sign for sign in ".," if sign in text), "")
    if sign:
        if reading.decimal and reading.decimal != sign:
            words = {".": "point", ",": "comma"}
            found = f"{_shown(cell.text)} with a decimal {words[sign]}, and line {reading.decimal_line} has a decimal {words[reading.decimal]}"
            reading.fault(number, cell.column, found, "one decimal sign throughout the file")
            return None
        reading.decimal, reading.decimal_line = sign, reading.decimal_line or number
    value = float(text.replace(",", ".")) * scale
    if not math.isfinite(value) or abs(value) > FARTHEST:
        reading.fault(number, cell.column, f"{key} is {_shown(cell.text)}", f"at most {FARTHEST:g} mm")
        return None
    if key in ("depth", "landing") and not 0 < value <= 1000:
        reading.fault(number, cell.column, f"{key} is {value:g} mm", "over 0, at most 1000 mm")
        return None
    return value


def _shown(text: str) -> str:
    plain = "".join(sign if sign.isprintable() else "?" for sign in text)
    return f"“{plain[:40]}{'…' if len(plain) > 40 else ''}”"


__all__ = ["HEADS", "LENGTHS", "MOST_POINTS", "SIDES", "SurveyPoint", "SurveyTable", "read_table"]
