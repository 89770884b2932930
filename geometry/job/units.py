"""Units a job file may write behind a number, and the one table that converts them.

Terms
-----
standing unit
    The unit a bare number has; each key of the job file has one.
kind
    What a number measures: length, pressure, time ... A unit of another kind is refused, never guessed.

Conversion is done in exact fractions of the text, so ``"0.25 in"`` and ``"1/4 in"`` are 6.35 mm to the last digit. The factors are
those of the international inch, pound and foot (exact by definition, BIPM SI brochure and NIST SP 811).
"""

from __future__ import annotations

import math
import re
from fractions import Fraction

from geometry.job.refusal import refuse

# kind -> unit -> (factor, offset): value in the first unit of the kind = (number + offset) * factor
_Unit = tuple[Fraction, Fraction]


def _plain(**factors: str) -> dict[str, _Unit]:
    return {unit: (Fraction(factor), Fraction(0)) for unit, factor in factors.items()}


_PSI = Fraction("4.4482216152605") / Fraction("0.00064516")  # one pound-force on one square inch, Pa

UNITS: dict[str, dict[str, _Unit]] = {
    "length": _plain(mm="1", cm="10", m="1000", um="0.001", ft="304.8")
    | {"µm": (Fraction("0.001"), Fraction(0)), "in": (Fraction("25.4"), Fraction(0))},
    "area": {
        "m2": (Fraction(1), Fraction(0)),
        "mm2": (Fraction(1, 1_000_000), Fraction(0)),
        "ft2": (Fraction("0.09290304"), Fraction(0)),
    },
    "angle": {
        "deg": (Fraction(1), Fraction(0)),
        "°": (Fraction(1), Fraction(0)),
        "rad": (Fraction(180) / Fraction(math.pi), Fraction(0)),
    },
    "temperature": {
        "degC": (Fraction(1), Fraction(0)),
        "°C": (Fraction(1), Fraction(0)),
        "degF": (Fraction(5, 9), Fraction(-32)),
        "°F": (Fraction(5, 9), Fraction(-32)),
        "K": (Fraction(1), Fraction("-273.15")),
    },
    "pressure": _plain(Pa="1", kPa="1000", MPa="1000000", mbar="100", bar="100000")
    | {"N/mm2": (Fraction(1_000_000), Fraction(0)), "kN/m2": (Fraction(1000), Fraction(0)), "psi": (_PSI, Fraction(0))},
    "time": _plain(min="1", s="1/60", h="60", d="1440"),
    "volume": _plain(ml="1", cm3="1", l="1000", floz="29.5735295625"),
    "flow": {
        "ml/min": (Fraction(1), Fraction(0)),
        "cm3/min": (Fraction(1), Fraction(0)),
        "l/min": (Fraction(1000), Fraction(0)),
        "ml/s": (Fraction(60), Fraction(0)),
    },
    "density": {
        "kg/m3": (Fraction(1), Fraction(0)),
        "g/cm3": (Fraction(1000), Fraction(0)),
        "lb/ft3": (Fraction("0.45359237") / Fraction("0.028316846592"), Fraction(0)),
    },
    "expansion": {
        "1/K": (Fraction(1), Fraction(0)),
        "/K": (Fraction(1), Fraction(0)),
        "um/(m K)": (Fraction(1, 1_000_000), Fraction(0)),
        "µm/(m K)": (Fraction(1, 1_000_000), Fraction(0)),
        "1/degF": (Fraction(9, 5), Fraction(0)),
        "/degF": (Fraction(9, 5), Fraction(0)),
    },
    "share": {"%": (Fraction(1), Fraction(0))},
    "slope": {"mm/m": (Fraction(1), Fraction(0)), "in/ft": (Fraction("25.4") / Fraction("0.3048"), Fraction(0))},
    "time per length": {"min/m": (Fraction(1), Fraction(0)), "s/m": (Fraction(1, 60), Fraction(0))},
    "time per area": {"min/m2": (Fraction(1), Fraction(0)), "s/m2": (Fraction(1, 60), Fraction(0))},
    "depth of cure": {"mm/d^0.5": (Fraction(1), Fraction(0))},
    "coat": _plain(**{"l/m2": "1", "ml/m2": "0.001"}),
    "length per area": {"mm/m2": (Fraction(1), Fraction(0))},
    "heat transfer": {"W/(m2 K)": (Fraction(1), Fraction(0))},
    "specific heat": {"J/(kg K)": (Fraction(1), Fraction(0)), "kJ/(kg K)": (Fraction(1000), Fraction(0))},
    "hardness": {"Shore A": (Fraction(1), Fraction(0))},
    "mass": _plain(kg="1", g="0.001", lb="0.45359237"),
    "speed": {
        "m/s": (Fraction(1), Fraction(0)),
        "km/h": (Fraction(5, 18), Fraction(0)),
        "kn": (Fraction(1852, 3600), Fraction(0)),
    },
    "force": _plain(N="1", kN="1000", kgf="9.80665", lbf="4.4482216152605"),
    "acceleration": {
        "m/s2": (Fraction(1), Fraction(0)),
        "gn": (Fraction("9.80665"), Fraction(0)),  # standard gravity
        "ft/s2": (Fraction("0.3048"), Fraction(0)),
    },
    "temperature difference": {
        "K": (Fraction(1), Fraction(0)),
        "degC": (Fraction(1), Fraction(0)),
        "degF": (Fraction(5, 9), Fraction(0)),
    },
    "number": {},
}

_DECIMAL = r"[0-9]+\.?[0-9]*|\.[0-9]+"
NUMBER = rf"[+-]?(?:(?:[0-9]+\s+)?[0-9]+/[0-9]+|(?:{_DECIMAL})(?:[eE][+-]?[0-9]{{1,3}})?)"
"""A number in a text: a decimal, or a fraction as a rule shows it: ``3/4``, ``1 1/2``."""
_WRITTEN = re.compile(rf"\s*({NUMBER})\s*(.*?)\s*")
_SIGNS = str.maketrans({"²": "2", "³": "3", "·": " ", "−": "-", "μ": "µ"})
"""Signs that mean the same: raised digits, the dot between factors, the minus sign, the Greek letter for the micro sign."""
CAPITALS = {"MM": "mm", "CM": "cm", "IN": "in", "FT": "ft"}
"""Units of length in capitals, as drawings letter them; no other unit is spelled so."""
_SPELLED = {
    "mm": "millimetre millimetres millimeter millimeters mm.",
    "cm": "centimetre centimetres centimeter centimeters",
    "m": "metre metres meter meters",
    "um": "micron microns micrometre micrometres",
    "in": "inch inches in. \" ″ ''",
    "ft": "foot feet ft. ' ′",
    "deg": "degree degrees",
    "degC": "c celsius °c degc deg.c",
    "degF": "f fahrenheit °f degf deg.f",
    "K": "k kelvin kelvins °k degk",
    "min": "minute minutes mins min.",
    "s": "second seconds sec secs",
    "h": "hour hours hr hrs h.",
    "d": "day days",
    "l": "litre litres liter liters ltr",
    "ml": "cc millilitre millilitres milliliter milliliters",
    "%": "percent pct per\u00a0cent",
    "kg": "kilogram kilograms kgs kg.",
    "g": "gram grams gr",
    "lb": "lbs pound pounds",
    "kn": "knot knots kt kts",
    "Shore A": "shore sha shorea",
    "N/mm2": "n/mm^2",
    "kN/m2": "kn/m^2",
    "m2": "m^2 sqm",
    "kg/m3": "kg/m^3",
    "m/s2": "m/s^2",
}
SPELLINGS = {word.replace("\u00a0", " "): unit for unit, words in _SPELLED.items() for word in words.split()}
"""Other spellings of a unit. They become a hint, and only ever for the same unit: a hint must not change a quantity."""


LIKELY_SLIPS = {
    "length": ("m", "in"),
    "pressure": ("Pa", "kPa"),
    "temperature": ("degF", "K"),
    "expansion": ("um/(m K)",),
    "density": ("g/cm3",),
    "time": ("s", "h"),
    "area": ("mm2",),
    "specific heat": ("kJ/(kg K)",),
}
"""Units in which a number is often thought where it stands bare, the likeliest first."""


def text_pattern(kind: str) -> str:
    """A regular expression of the texts that carry a unit of this kind, in the form that JSON Schema asks for; "" for none.

    >>> import re
    >>> bool(re.search(text_pattern("length"), "3/4 in")), bool(re.search(text_pattern("length"), "3 kPa"))
    (True, False)
    """
    if not UNITS[kind]:
        return ""
    capitals = [large for large, small in CAPITALS.items() if small in UNITS[kind]]
    names = sorted([*UNITS[kind], *capitals], key=lambda name: (-len(name), name))
    units = "|".join(_any_sign(re.sub(r"([()^/.])", r"\\\1", name)) for name in names)
    return rf"^\s*{NUMBER.replace('[+-]', '[+−-]')}\s*(?:{units})\s*$".replace(r"\/", "/")


def _any_sign(name: str) -> str:
    return name.replace("2", "[2²]").replace("3", "[3³]").replace("µ", "[µμ]").replace(" ", "[ ·]")


def in_standing_unit(value: object, *, kind: str, unit: str) -> float:
    """A number of the job file in the standing unit of its key.

    A bare number has that unit already; a text carries its own. Anything that is not a finite number, a unit of another
    kind or a text without a unit is refused.

    >>> in_standing_unit("0.25 in", kind="length", unit="mm"), in_standing_unit("140 kPa", kind="pressure", unit="MPa")
    (6.35, 0.14)
    >>> in_standing_unit("68 degF", kind="temperature", unit="degC"), in_standing_unit(6, kind="length", unit="mm")
    (20.0, 6.0)
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise refuse(f"found {shown(value)}", _allowed(kind, unit))
    if isinstance(value, str):
        return _converted(value, kind=kind, unit=unit)
    try:
        number = float(value)
    except OverflowError:
        raise refuse("found a number of more than 300 digits", _allowed(kind, unit)) from None
    if not math.isfinite(number):
        raise refuse(f"found {value}, which is not a finite number", _allowed(kind, unit))
    return number


def _converted(text: str, *, kind: str, unit: str) -> float:
    if len(text) > 60:
        raise refuse(f"found {shown(text)}", _allowed(kind, unit))
    match = _WRITTEN.fullmatch(text.translate(_SIGNS))
    if match is None:
        raise refuse(f"found the text {shown(text)}", _allowed(kind, unit), _written_with_a_point(text))
    number, written = match.groups()
    if not written:
        raise refuse(f"found {shown(text)}, a number in quotes without its unit", _allowed(kind, unit))
    units = UNITS[kind]
    written = CAPITALS.get(written, written)
    if written not in units:
        other = next((name for name, known in UNITS.items() if written in known), None)
        meant = None if other else same_unit(written, kind)
        hint = f"did you mean {number} {meant}?" if meant else _written_with_a_point(text)
        what = f'"{written}" is a unit of {other}' if other else f'"{written}" is not a known unit'
        raise refuse(f"found {shown(text)}: {what}", _allowed(kind, unit), hint)
    factor, offset = units[written]
    standing_factor, standing_offset = units[unit]
    try:
        return float((_fraction(number) + offset) * factor / standing_factor - standing_offset)
    except OverflowError:
        raise refuse(f"found {shown(text)}, which is not a finite number", _allowed(kind, unit)) from None
    except ZeroDivisionError:
        raise refuse(f"found {shown(text)}, a fraction of nought", _allowed(kind, unit)) from None


_COMMA = re.compile(r"\s*([+-]?[0-9]+),([0-9]+)\s*([^0-9,.]*)")


def _written_with_a_point(text: str) -> str:
    """A hint for a decimal comma; three digits behind it may be thousands, and then nothing is guessed."""
    match = _COMMA.fullmatch(text)
    if match is None:
        return "the decimal sign is a point" if "," in text else ""
    whole, digits, unit = match.groups()
    if len(digits) == 3:
        return f"the decimal sign is a point, and thousands have none: {whole}.{digits} or {whole}{digits}"
    return f"the decimal sign is a point: did you mean {whole}.{digits} {unit}?".replace(" ?", "?")


def _fraction(number: str) -> Fraction:
    """The exact value of a decimal or of a fraction with or without a whole number before it; a sign holds for both parts."""
    if "/" not in number:
        return Fraction(number)
    sign = -1 if number.startswith("-") else 1
    return sign * sum((Fraction(part) for part in number.lstrip("+-").split()), Fraction(0))


def same_unit(written: str, kind: str) -> str | None:
    """The unit of this kind that a word spells in another way (``inches``, ``N/MM2``), or None where it may be another quantity.

    Capitals count: "MPA" is not taken for either of mPa and MPa.

    >>> same_unit("inches", "length"), same_unit("kg/m2", "density"), same_unit("Celsius", "temperature")
    ('in', None, 'degC')
    """
    for word in (written, written.casefold()):
        if SPELLINGS.get(word) in UNITS[kind]:
            return SPELLINGS[word]
    return None


def _allowed(kind: str, unit: str) -> str:
    names = ", ".join(UNITS[kind])
    if not names:
        return "a number, without quotes and without a unit"
    return f'a number in {unit}, or a text with its unit ({names}) such as "1 {unit}"'


def shown(value: object) -> str:
    """A value as it is quoted in a message: short, on one line, in the words of TOML.

    >>> shown(True), shown("port"), shown([1, 2]), shown({"a": 1})
    ('true', '"port"', '[1, 2]', 'a table with the key a')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        clean = "".join(c if c.isprintable() else "?" for c in value[:61])
        return f'"{clean[:60]}..."' if len(value) > 60 else f'"{clean}"'
    if isinstance(value, dict):
        if not value:
            return "an empty table"
        names = ", ".join(shown(str(k))[1:-1] for k in list(value)[:4])
        return f"a table with the key{'s' if len(value) > 1 else ''} {names}{' ...' if len(value) > 4 else ''}"
    if isinstance(value, (list, tuple)):
        inner = ", ".join(shown(v) for v in value[:4])
        return f"[{inner}{', ...' if len(value) > 4 else ''}]"
    if isinstance(value, int) and abs(value) > 10**20:
        return "a whole number of more than 20 digits"
    return str(value)


__all__ = ["CAPITALS", "LIKELY_SLIPS", "NUMBER", "SPELLINGS", "UNITS", "in_standing_unit", "same_unit", "shown", "text_pattern"]
