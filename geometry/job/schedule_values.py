"""A cell of a schedule as the value that a key of the job file takes: never guessed, refused with the reason.

Terms
-----
decimal sign
    Point or comma, one for the whole schedule: said by the job, or worked out of every figure that stands as text. Figures that a
    workbook stores as numbers have none.
certain
    A figure whose sign cannot part thousands: it has not three digits behind it.
blank
    A cell with nothing in it, or with a dash alone where no text is wanted.
number format
    How a workbook shows a number: it can add a unit (``0.0" in"``), count in hundredths (``0%``) or in thousands (``0.0,``).
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from geometry.incoming.schedule_table import Cell
from geometry.job.answers import answer_of
from geometry.job.schedule_heads import unit_named
from geometry.job.units import UNITS, shown

if TYPE_CHECKING:
    from geometry.job.fields import Measure
    from geometry.job.schedule_kinds import KeyKind

DASHES = ("-", "–", "—", "−")
_SIGNED = re.compile(r"(?<![\d.,])([+-]?\d*)([.,])(\d+)(?![\d.,])")
_FIGURE = re.compile(
    r"(?P<number>[+-]?(?:(?:\d+ )?\d+/\d+|(?:\d[\d.,' ]*\d|\d+[.,]?|[.,]\d+)(?:[eE][+-]?\d{1,3})?))\s*(?P<unit>[^\d\s].*)?"
)
_WORDS = {"point": ".", "comma": ","}


class CellFault(ValueError):
    """A cell that is no value of its key: what was found and what is allowed."""

    def __init__(self, found: str, allowed: str = "") -> None:
        self.found, self.allowed = found, allowed
        super().__init__(f"{found}; allowed: {allowed}" if allowed else found)


@dataclass
class Decimal:
    """The decimal sign of a schedule: "." or ",", "" where no figure needs one; ``by`` says what showed it."""

    sign: str = ""
    by: str = ""
    doubtful: set[tuple[int, int]] = field(default_factory=set)  # cells whose sign may part thousands, where none is certain


def decimal_of(cells: Iterable[Cell], stated: str | None) -> Decimal:
    """The decimal sign of the figures that stand as text; ``stated`` is "point" or "comma" where the job says it."""
    if stated is not None:
        return Decimal(_WORDS[stated], "the job")
    certain: dict[str, Cell] = {}
    doubtful: dict[str, list[Cell]] = {".": [], ",": []}
    for cell in cells:
        for before, sign, behind in _SIGNED.findall(str(cell.value)) if cell.kind == "text" else ():
            if len(behind) == 3 and before.lstrip("+-") not in ("", "0") and len(before.lstrip("+-")) <= 3:
                doubtful[sign].append(cell)
            else:
                certain.setdefault(sign, cell)
    first = min(certain, key=lambda sign: (certain[sign].row, certain[sign].column), default="")
    if first:
        return Decimal(first, f"{certain[first].place}, {shown(certain[first].text)}")
    return Decimal(doubtful={(cell.row, cell.column) for found in doubtful.values() for cell in found})


def blank(cell: Cell | None, kind: KeyKind | None) -> bool:
    """Whether a cell says nothing."""
    return cell is None or (cell.text in DASHES and (kind is None or kind.form not in ("text", "text or whole")))


def value_of(cell: Cell, kind: KeyKind, decimal: Decimal, unit: str = "") -> Any:
    """The value as the job file would have it; ``unit`` is what the column's head says. Raises ``CellFault``."""
    sound(cell)
    if kind.form == "measure":
        assert kind.measure is not None, "a measure has one"
        return figure(cell, kind, decimal, unit)
    if kind.form == "list":
        return _list(cell, kind, decimal, unit)
    if kind.form == "whole":
        return _whole(cell, decimal)
    if kind.form == "flag":
        return _flag(cell)
    if kind.form == "day":
        return _day(cell)
    text = text_of(cell)
    if kind.form == "choice":
        return next((word for word in kind.words if _plain(word) == _plain(text)), text)
    if kind.form == "text or whole":  # as in the job file: a number without quotes is one
        name = re.fullmatch(r'"(.+)"', text)
        return name[1] if name else int(text) if re.fullmatch(r"[0-9]{1,9}", text) else text
    return text


def sound(cell: Cell) -> None:
    """Refuse what is no value at all."""
    if cell.kind == "error":
        raise CellFault(f"found the error {cell.text}", "a value")
    if cell.kind == "formula":
        found = f"found {shown(cell.text)}" if cell.text.startswith("=") else f"found {cell.text}"
        raise CellFault(found, "a value, or a formula that a spreadsheet has worked out and stored")
    if cell.merged is not None and cell.merged[0] != cell.merged[2]:
        raise CellFault("the cell is merged over several rows", "a value in each row")
    if cell.merged is not None:
        raise CellFault("the cell is merged over several columns", "a value in a cell of its own")


def text_of(cell: Cell) -> str:
    """A cell as text; a number only as it is shown. Raises ``CellFault``.

    >>> text_of(Cell(2, 1, "text", "007")), text_of(Cell(2, 1, "number", 7, "000")), text_of(Cell(2, 1, "number", 12.0))
    ('007', '007', '12')
    """
    if cell.kind == "text":
        return cell.text
    if cell.kind == "number" and float(cell.value) == int(cell.value) and abs(float(cell.value)) < 1e11:  # type: ignore[arg-type]
        number = int(cell.value)  # type: ignore[arg-type]
        if cell.form in ("General", "@"):
            return str(number)
        if re.fullmatch(r"0+", cell.form) and number >= 0:
            return str(number).zfill(len(cell.form))
    what = {"number": f"the number {cell.value} shown as {cell.form}", "day": f"the day {cell.value}", "flag": f"{cell.value}"}
    raise CellFault(f"found {what.get(cell.kind, cell.text)}", "a text: format the cell as text and type it again")


def figure(cell: Cell, kind: KeyKind, decimal: Decimal, unit: str) -> int | float | str:
    """A number in the standing unit of the key, or a text with its unit. Raises ``CellFault``."""
    measure = kind.measure
    assert measure is not None, "a measure has one"
    if cell.kind in ("day", "flag"):
        raise CellFault(f"found {_what(cell)}", f"a number in {unit or measure.unit}")
    if cell.kind == "number":
        return _stored(cell, measure, unit)
    text = cell.text.translate(str.maketrans("−–", "--"))
    match = _FIGURE.fullmatch(text)
    if match is None:
        raise CellFault(f"found {shown(cell.text)}", f"a number in {unit or measure.unit}")
    number = _number(match["number"], cell, decimal)
    if "/" in number and (unit_named(match["unit"] or "") or unit or measure.unit) not in ("in", "ft"):
        found = f"found {shown(cell.text)}, which may be a fraction or two figures"
        raise CellFault(found, f"a decimal number in {unit or measure.unit}; a fraction in inches or feet alone")
    if match["unit"] is None:
        if "/" not in str(number) and (not unit or unit == measure.unit):
            return _rounded(float(number))
        return f"{number} {unit or measure.unit}"
    own = unit_named(match["unit"])
    if own not in UNITS[measure.kind]:
        raise CellFault(f"found {shown(cell.text)}", f"a number in {unit or measure.unit}, or with a unit such as {measure.unit}")
    if unit and own != unit:
        raise CellFault(f"found {shown(cell.text)} in a column in {unit}", "one unit")
    return f"{number} {own}"


def _stored(cell: Cell, measure: Measure, unit: str) -> int | float | str:
    """A number of a workbook with the unit in which it is shown. Raises ``CellFault``."""
    codes, words = _number_format(cell)
    shown_as = f"found the number {cell.value} shown as {cell.form}"
    number = _rounded(cell.value)
    if "%" in codes:
        if measure.kind != "share":
            raise CellFault(f"found the share {cell.value} shown as {cell.form}", f"a number in {unit or measure.unit}")
        return _rounded(number * 100)
    if _THOUSANDTHS.search(codes):
        raise CellFault(f"{shown_as} (in thousands)", f"a number format that shows the number in {unit or measure.unit}")
    own = unit_named(words)
    if words and (own not in UNITS[measure.kind] if own else words.casefold() not in _MARKS):
        raise CellFault(shown_as, f"a number in {unit or measure.unit}, in a number format without words or with its unit")
    if own and unit and own != unit:
        raise CellFault(f"{shown_as} in a column in {unit}", "one unit")
    own = own or unit
    return number if not own or own == measure.unit else f"{number} {own}"


_THOUSANDTHS = re.compile(r"[#0?.],+[^#0?]*$")
_MARKS = ("r", "ø", "⌀")  # of a radius or a diameter
_OF_FORMAT = re.compile(
    r"\[[^\]]*\]|[_*].|(?P<codes>General|E[+-]|[-#0-9?.,/%@+()\s])|\"(?P<quoted>[^\"]*)\"?|\\?(?P<sign>.)", re.DOTALL
)


def _number_format(cell: Cell) -> tuple[str, str]:
    """The codes and the words of the part of a number format in which a number is shown."""
    parts: list[tuple[str, str]] = [("", "")]
    for each in _OF_FORMAT.finditer(cell.form):
        if each[0] == ";":
            parts.append(("", ""))
        codes, words = parts[-1]
        parts[-1] = codes + (each["codes"] or ""), words + ("" if each[0] == ";" else each["quoted"] or each["sign"] or "")
    value = float(cell.value)  # type: ignore[arg-type]
    at = 1 if value < 0 and len(parts) > 1 else 2 if value == 0 and len(parts) > 2 else 0
    codes, words = parts[at]
    return codes.strip(), words.strip("()- " if at == 1 else " ")  # the part of what is below zero sets its sign itself


def _number(typed: str, cell: Cell, decimal: Decimal) -> str:
    """A number with a point; refused where a sign may part thousands."""
    signs = [sign for sign in typed if sign in ".,"]
    if len(signs) > 1 or "'" in typed or (" " in typed and "/" not in typed):
        raise CellFault(f"found {shown(cell.text)}", "a number without signs between its thousands")
    if not signs:
        return typed
    if (cell.row, cell.column) in decimal.doubtful:
        point, none = typed.replace(",", "."), typed.replace(",", "").replace(".", "")
        raise CellFault(
            f"found {shown(cell.text)}, which may be {point} or {none}",
            'a number without a sign between its thousands, or panes.decimal = "point" or "comma" in the job',
        )
    if decimal.sign and signs[0] != decimal.sign:
        words = {".": "point", ",": "comma"}
        found = f"found {shown(cell.text)}, and the schedule has a decimal {words[decimal.sign]} ({decimal.by})"
        raise CellFault(found, "one decimal sign throughout, and none between thousands")
    return typed.replace(",", ".")


def _rounded(value: Any) -> int | float:
    """A figure to the fifteen digits that a spreadsheet shows; whole ones without a point."""
    number = float(f"{float(value):.15g}")
    return int(number) if number.is_integer() and abs(number) < 1e15 else number


def _list(cell: Cell, kind: KeyKind, decimal: Decimal, unit: str) -> Any:
    parts = re.split(r"[;|]", cell.text) if cell.kind == "text" else []
    if len(parts) < 2:
        one = figure(cell, kind, decimal, unit)
        return one if kind.one else [one]
    return [figure(Cell(cell.row, cell.column, "text", part.strip()), kind, decimal, unit) for part in parts]


def _whole(cell: Cell, decimal: Decimal) -> Any:
    if cell.kind == "number":
        codes, _ = _number_format(cell)
        if "%" in codes or _THOUSANDTHS.search(codes):
            raise CellFault(f"found the number {cell.value} shown as {cell.form}", "a whole number, shown as it is")
        return _rounded(cell.value)
    match = re.fullmatch(r"(\d{1,9})(?:[ \u00a0]?(?:x|pcs?\.?|off|no\.?))?", cell.text.casefold())
    if cell.kind != "text" or match is None:
        raise CellFault(f"found {_what(cell)}", "a whole number")
    return int(match[1])


def _flag(cell: Cell) -> bool:
    if cell.kind == "flag":
        return bool(cell.value)
    told = answer_of(cell.text) if cell.kind == "text" else None
    if told is not None:
        return told
    raise CellFault(f"found {_what(cell)}", "yes or no")


def _day(cell: Cell) -> datetime.date:
    if cell.kind == "day" and isinstance(cell.value, datetime.datetime):
        return cell.value.date()
    if cell.kind == "day" and isinstance(cell.value, datetime.date):
        return cell.value
    try:
        if cell.kind == "text":
            return datetime.date.fromisoformat(cell.text)
    except ValueError:
        pass
    raise CellFault(f"found {_what(cell)}", "a day, such as 2026-03-02")


def _what(cell: Cell) -> str:
    return f"the day {cell.value}" if cell.kind == "day" else shown(cell.text if cell.kind == "text" else cell.value)


def _plain(word: str) -> str:
    return word.casefold().replace("-", "_").replace(" ", "_")


__all__ = ["CellFault", "Decimal", "blank", "decimal_of", "figure", "sound", "text_of", "value_of"]
