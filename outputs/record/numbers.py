"""Figures in words: how a value of any kind is printed in the record and on the terminal.

Terms
-----
sensible digits
    A result has four digits that count, an input as many as it was typed with (six at most). Trailing zeros are dropped.
    Figures are made with a point, as the terminal and the data file have them; a page has the comma of the sheets (``printed``).
long value
    A list of more than ``LONGEST`` entries: the page says how many, the data file holds them all.
"""

from __future__ import annotations

import dataclasses
import datetime
import math
import re
from collections.abc import Mapping, Sequence
from enum import Enum
from typing import Any

from geometry.rules.units import units_of

LONGEST = 8
NOTHING = 1e-12  # what rounding leaves of a sum that comes to nothing; no quantity of a pane is as small
MINUS = "−"
DECIMAL = ","
"""The decimal sign of every page, as on the sheets."""


def printed(words: str) -> str:
    """Words and figures as a page has them: the decimal sign of the sheets, and a true minus sign before a figure.

    >>> printed("1.5 mm/m at 55 %, -3.25 to 4"), printed("e2, V1. Joint-wide"), printed("release 0.2.0")
    ('1,5 mm/m at 55 %, −3,25 to 4', 'e2, V1. Joint-wide', 'release 0.2.0')
    """
    # a number of a release (0.2.0) or in the name of a file (deck-1.2.dxf) is no figure and keeps its points
    figures = re.sub(r"(?<!\d)(?<!\d\.)(\d+)\.(\d+)(?!\d)(?!\.\w)", rf"\1{DECIMAL}\2", words)
    return re.sub(r"(?<![\w,.-])-(?=\d)", MINUS, figures)


def number(value: float, *, digits: int = 4) -> str:
    """A number with ``digits`` that count, whole numbers whole, never in powers of ten but where it is very small or large.

    >>> number(0.10412), number(1200.0), number(-6.5), number(15300.44), number(0.0), number(2.3e-5)
    ('0.1041', '1200', '−6.5', '15300', '0', '0.000023')
    >>> number(float("inf")), number(1e-9), number(123456789.0), number(-2.1e-17)
    ('infinite', '1.0 × 10^−9', '123456789', '0')
    >>> number(0.1 + 0.2 - 0.05, digits=1) == number(0.25, digits=1)
    True
    """
    if not math.isfinite(value):
        return "not a number" if math.isnan(value) else "infinite" if value > 0 else f"{MINUS}infinite"
    if value == 0.0:
        return "0"
    size = settled(abs(value))
    if size < NOTHING:
        return "0"
    if size < 1e-6:
        mantissa, _, power = f"{size:.1e}".partition("e")
        return f"{MINUS if value < 0 else ''}{mantissa} × 10^{MINUS if power.startswith('-') else ''}{int(power.lstrip('+-'))}"
    places = max(0, digits - 1 - math.floor(math.log10(size)))
    text = f"{size:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS if value < 0 else ''}{text}"


def settled(value: float) -> float:
    """A value to twelve digits that count: the last bits of a sum decide no tie and are written into no file.

    >>> settled(0.1 + 0.2), settled(1e6 / 3), settled(-0.0)
    (0.3, 333333.333333, 0.0)
    """
    return float(f"{value:.12g}") + 0.0


def signed(value: float, *, digits: int = 4) -> str:
    """A difference with its sign: ``signed(2.0)`` is ``"+2"``.

    >>> signed(2.0), signed(-0.25), signed(0.0)
    ('+2', '−0.25', '0')
    """
    text = number(value, digits=digits)
    return text if text == "0" or text.startswith(MINUS) else f"+{text}"


def fixed(value: float, decimals: int) -> str:
    """A signed number with so many decimals, for a row of labels that are compared.

    >>> fixed(0.5, 2), fixed(-0.001, 2), fixed(-0.3, 1)
    ('+0.50', '0.00', '−0.3')
    """
    text = f"{settled(value):+.{decimals}f}"
    return text.lstrip("+-") if not float(text) else text.replace("-", MINUS)


def with_unit(text: str, unit: str) -> str:
    r"""A printed value with its unit, joined so that no line breaks between them; a value without unit stays bare.

    >>> with_unit("12.5", "mm").split(), with_unit("yes", "")
    (['12.5', 'mm'], 'yes')
    """
    return f"{text}\u00a0{unit}" if unit else text


def value_text(value: Any, *, digits: int = 4) -> str:
    """A value of any kind on one line: numbers, words, lists, records of several results.

    >>> value_text(True), value_text(None), value_text((6.0, 1.52)), value_text("hot soak"), value_text(())
    ('yes', 'none', '6; 1.52', 'hot soak', 'none')
    >>> value_text(tuple(range(20)))
    '20 entries, all in the data file beside this page'
    """
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return str(value).replace("-", MINUS)
    if isinstance(value, float):
        return number(value, digits=digits)
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _named([(field.name, getattr(value, field.name)) for field in dataclasses.fields(value)], type(value), digits)
    if isinstance(value, Mapping):
        return "; ".join(f"{name} {_inner(item, digits)}" for name, item in value.items()) or "none"
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        return _named(list(zip(value._fields, value, strict=True)), type(value), digits)
    if isinstance(value, Sequence) and not isinstance(value, str):
        if len(value) > LONGEST:
            return f"{len(value)} entries, all in the data file beside this page"
        return "; ".join(_inner(item, digits) for item in value) or "none"
    return str(value)


def quantity(value: Any, unit: str, *, digits: int = 4) -> str:
    r"""A value of any kind with its unit; what holds several results has the unit of each behind it, and what is not there has none.

    >>> quantity(12.5, "mm").split(), quantity(None, "mm"), quantity((), "mm"), quantity((6.0, 8.0), "mm").split()
    (['12.5', 'mm'], 'none', 'none', ['6;', '8', 'mm'])
    """
    absent = value is None or (isinstance(value, (tuple, list)) and not value)
    several = not isinstance(value, (str, int, float)) and any(_units(type(value)).values())
    return value_text(value, digits=digits) if absent or several else with_unit(value_text(value, digits=digits), unit)


def _named(fields: Sequence[tuple[str, Any]], kind: type, digits: int) -> str:
    """Results by name, each with the unit that its kind states."""
    units = _units(kind)
    told = []
    for name, item in fields:
        elsewhere = isinstance(item, (tuple, list)) and not 0 < len(item) <= LONGEST
        told.append(f"{name.replace('_', ' ')} {with_unit(_inner(item, digits), '' if elsewhere else units.get(name) or '')}")
    return "; ".join(told)


def _units(kind: type) -> dict[str, str | None]:
    """Units of the results that a kind of value holds; none for a plain one."""
    return units_of(kind) if dataclasses.is_dataclass(kind) or hasattr(kind, "_fields") else {}


def _inner(value: Any, digits: int) -> str:
    text = value_text(value, digits=digits)
    compound = isinstance(value, (tuple, list, Mapping)) or dataclasses.is_dataclass(value)
    return f"({text})" if compound and ";" in text else text


__all__ = ["DECIMAL", "fixed", "number", "printed", "quantity", "settled", "signed", "value_text", "with_unit"]
