"""The kinds of value a key of the job file may hold, and the base of every table.

Terms
-----
measure
    A number with a standing unit and bounds, read strictly: true is not a number, a text needs its unit.
setting
    One key: its default, what it means, and what leaving it out means where there is no default value.
source
    Where a value comes from: "given" in the file, "default", "worked out" by a rule, or "left out".
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Annotated, Any, Literal, cast, get_args

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.fields import FieldInfo  # noqa: TC002 - beside the tables it belongs to
from pydantic_core import CoreSchema, core_schema

from geometry.job.refusal import refuse
from geometry.job.synonyms import meant
from geometry.job.units import LIKELY_SLIPS, in_standing_unit, shown, text_pattern

Schema = dict[str, Any]
"""A fragment of JSON Schema."""

Source = Literal["given", "default", "worked out", "left out"]


@dataclass(frozen=True, slots=True)
class Measure:
    """A number of one kind in its standing unit, between bounds. ``kind`` "" is a number without unit."""

    kind: str
    unit: str
    above: float | None = None
    at_least: float | None = None
    at_most: float | None = None

    def read(self, value: object) -> float:
        """The value in the standing unit, or a refusal."""
        number = in_standing_unit(value, kind=self.kind, unit=self.unit)
        low = (self.above is not None and number <= self.above) or (self.at_least is not None and number < self.at_least)
        if low or (self.at_most is not None and number > self.at_most):
            raise refuse(f"found {shown(value)}", self.bounds(), self._other_unit(value))
        return number

    def _other_unit(self, value: object) -> str:
        """The unit in which a bare number out of bounds would be within them; the number itself is kept as it was typed."""
        if isinstance(value, str):
            return ""
        within = [
            unit
            for unit in LIKELY_SLIPS.get(self.kind, ())
            if unit != self.unit and self._holds(in_standing_unit(f"{value} {unit}", kind=self.kind, unit=self.unit))
        ]
        ways = " or ".join(f'"{value} {unit}" where {unit} is meant' for unit in within)
        return f"a bare number is in {self.unit}: write {ways}" if ways else ""

    def _holds(self, number: float) -> bool:
        above = self.above is None or number > self.above
        return above and (self.at_least is None or number >= self.at_least) and (self.at_most is None or number <= self.at_most)

    def bounds(self) -> str:
        """The allowed range in words."""
        parts = []
        if self.above is not None:
            parts.append(f"more than {self.above:g}")
        if self.at_least is not None:
            parts.append(f"at least {self.at_least:g}")
        if self.at_most is not None:
            parts.append(f"at most {self.at_most:g}")
        return f"{' and '.join(parts)} {self.unit}"

    def schema(self) -> Schema:
        """What may be typed: a bare number between the bounds, or a text with its unit (whose bounds no schema can tell)."""
        names = {"above": "exclusiveMinimum", "at_least": "minimum", "at_most": "maximum"}
        bounds = {said: getattr(self, name) for name, said in names.items() if getattr(self, name) is not None}
        number: Schema = {"type": "number", **bounds}
        pattern = text_pattern(self.kind)
        if not pattern:
            return number
        return {"anyOf": [number, {"type": "string", "pattern": pattern}], "x-unit": self.unit}

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> Schema:
        return self.schema()


@dataclass(frozen=True, slots=True)
class Reads:
    """A value read by a plain function that returns it or refuses it.

    ``unit`` is what the table of keys prints; ``schema`` says what may be typed, where the function does not carry it itself.
    """

    read: Callable[[Any], Any]
    unit: str = ""
    schema: Mapping[str, Any] = field(default_factory=dict, hash=False)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> Schema:
        found = dict(self.schema or self.read.schema())  # type: ignore[attr-defined]
        return found | ({"x-unit": self.unit} if self.unit else {})


class Choice:
    """One word of a fixed list (the arguments of the ``Literal`` it annotates)."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        options: tuple[str, ...] = get_args(source)

        def read(value: object) -> str:
            if isinstance(value, str) and value in options:
                return value
            raise refuse(f"found {shown(value)}", "one of " + ", ".join(options), meant(value, options))

        # the words travel as an inner schema that is never run, for the JSON schema alone
        return core_schema.no_info_plain_validator_function(read, metadata={"options": options})

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> Schema:
        return {"enum": list(schema["metadata"]["options"])}


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise refuse(f"found {shown(value)}", 'a text in quotes, such as "A"')
    if len(value) > 200:
        raise refuse(f"found a text of {len(value)} characters", "at most 200")
    if not value.isprintable():
        raise refuse(
            f"found {shown(value)}, with a line break or another sign that cannot be lettered", "one line of printable text"
        )
    return value


def _words(value: object) -> str:
    text = _text(value)
    if not text.strip():
        raise refuse(f"found {shown(value)}, which says nothing", "one line of text")
    return text


MOST_NUMBER = 1_000_000
"""Of a list out of which a thing is picked by its number."""


def _text_or_number(value: object) -> str | int:
    """A name, or the number of what has none."""
    if isinstance(value, int) and not isinstance(value, bool):
        return whole(1, MOST_NUMBER)(value)
    if not isinstance(value, str) or not value.strip():
        raise refuse(f"found {shown(value)}", 'a name in quotes, such as "A", or a whole number, such as 3')
    return " ".join(_text(value).split())


_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9._-]*[A-Za-z0-9_-])?")
_RESERVED = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\..*)?", re.IGNORECASE)


def _file_word(value: object) -> str:
    text = _text(value)
    if len(text) > 40 or not _NAME.fullmatch(text) or _RESERVED.fullmatch(text):
        allowed = "1 to 40 of the letters A-Z a-z, digits, - _ and . (not first, not last); it becomes part of a file name"
        raise refuse(f"found {shown(value)}", allowed)
    return text


def _file_word_or_blank(value: object) -> str:
    return "" if value == "" and isinstance(value, str) else _file_word(value)


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        raise refuse(f"found {shown(value)}", "true or false, without quotes")
    return value


EARLIEST, LATEST = 1900, 2199
"""Years of a date."""


def _date(value: object) -> datetime.date:
    if isinstance(value, datetime.datetime) or not isinstance(value, datetime.date):
        raise refuse(f"found {shown(value)}", "a date without quotes and without a time, such as 2026-03-02")
    if not EARLIEST <= value.year <= LATEST:  # days are counted on from it
        raise refuse(f"found {shown(value)}", f"a date of the years {EARLIEST} to {LATEST}")
    return value


def _clock(value: object) -> datetime.time:
    if not isinstance(value, datetime.time) or value.tzinfo is not None:
        raise refuse(f"found {shown(value)}", "a time of day without quotes, such as 08:00:00")
    return value


@dataclass(frozen=True, slots=True)
class whole:
    """A reader of whole numbers from ``low`` to ``high``."""

    low: int
    high: int

    def __call__(self, value: object) -> int:
        """The number, or a refusal."""
        if isinstance(value, bool) or not isinstance(value, int) or not self.low <= value <= self.high:
            raise refuse(f"found {shown(value)}", f"a whole number from {self.low} to {self.high}")
        return value

    def schema(self) -> Schema:
        """What may be typed."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class ListOf:
    """A reader of lists of ``least`` to ``most`` measures."""

    item: Measure
    most: int
    least: int = 0

    def __call__(self, value: object) -> tuple[float, ...]:
        """The numbers in the standing unit, or a refusal whose key is the index of the entry."""
        return list_of(value, self.item, most=self.most, least=self.least)

    def schema(self) -> Schema:
        """What may be typed."""
        return {"type": "array", "items": self.item.schema(), "minItems": self.least, "maxItems": self.most}


def list_of(value: object, item: Measure, *, most: int, least: int = 0) -> tuple[float, ...]:
    """A list of numbers, or a refusal whose key is the index of the entry."""
    if not isinstance(value, (list, tuple)):
        raise refuse(f"found {shown(value)}", f"a list of numbers in {item.unit}, in square brackets")
    if not least <= len(value) <= most:
        raise refuse(f"found a list of {len(value)}", f"{least} to {most} numbers in {item.unit}")
    numbers = []
    for i, entry in enumerate(value):
        try:
            numbers.append(item.read(entry))
        except ValueError as error:
            context = getattr(error, "context", None) or {}
            found = context.get("found", str(error))
            raise refuse(found, context.get("allowed", ""), context.get("hint", ""), key=str(i)) from None
    return tuple(numbers)


PLY = Measure("length", "mm", at_least=0.1, at_most=100)
"""One layer of a pane: no glass nor interlayer is made thinner or thicker (float glass ends at 25 mm, from memory)."""
SIZE = Measure("length", "mm", above=0, at_most=100_000)
PANE_SIZE = Measure("length", "mm", at_least=10, at_most=20_000)
"""An overall size of an outline: the longest float glass made has about 20 m (from memory), and less than 10 mm holds no bead."""
SIZE_OR_ZERO = Measure("length", "mm", at_least=0, at_most=100_000)
PLACE = Measure("length", "mm", at_least=-1_000_000, at_most=1_000_000)
Place = Annotated[float, PLACE]
RADIUS = Measure("length", "mm", at_least=0, at_most=100_000)


@dataclass(frozen=True, slots=True)
class _Radii:
    """A reader of one radius, or of a list of them."""

    several: ListOf

    def __call__(self, value: object) -> float | tuple[float, ...]:
        return self.several(value) if isinstance(value, (list, tuple)) else self.several.item.read(value)

    def schema(self) -> Schema:
        one = self.several.item.schema()
        return {"anyOf": [*one["anyOf"], self.several.schema()]}


Size = Annotated[float, SIZE]
SECTION_SIZE = Measure("length", "mm", at_least=0.1, at_most=1000)
SectionSize = Annotated[float, SECTION_SIZE]
"""Of the section: no joint, bead, landing or block is a metre wide."""
SectionSizeOrZero = Annotated[float, Measure("length", "mm", at_least=0, at_most=1000)]
SizeOrZero = Annotated[float, SIZE_OR_ZERO]
Pitch = Annotated[float, Measure("length", "mm", at_least=20, at_most=100_000)]
"""Of blocks: so close that they touch at the least, and never millions of them round one pane."""
Angle = Annotated[float, Measure("angle", "deg", at_least=-45, at_most=90)]
Draft = Annotated[float, Measure("angle", "deg", at_least=0, at_most=30)]
Temperature = Annotated[float, Measure("temperature", "degC", at_least=-60, at_most=150)]
Pressure = Annotated[float, Measure("pressure", "kPa", above=0, at_most=1000)]
"""1000 kPa is a hundred metres of water; a greater number is in pascals."""
UncuredStress = Annotated[float, Measure("pressure", "kPa", above=0, at_most=1000)]
Stress = Annotated[float, Measure("pressure", "MPa", above=0, at_most=100)]
Expansion = Annotated[float, Measure("expansion", "1/K", at_least=-1e-5, at_most=3e-4)]
Density = Annotated[float, Measure("density", "kg/m3", above=0, at_most=25_000)]
Share = Annotated[float, Measure("share", "%", at_least=0, at_most=100)]
PositiveShare = Annotated[float, Measure("share", "%", above=0, at_most=100)]
Strain = Annotated[float, Measure("share", "%", above=0, at_most=2000)]
Slope = Annotated[float, Measure("slope", "mm/m", at_least=0, at_most=50)]
Minutes = Annotated[float, Measure("time", "min", at_least=0, at_most=10_000)]
PositiveMinutes = Annotated[float, Measure("time", "min", above=0, at_most=10_000)]
Hours = Annotated[float, Measure("time", "h", above=0, at_most=10_000)]
Days = Annotated[float, Measure("time", "d", at_least=0, at_most=3650)]
Volume = Annotated[float, Measure("volume", "ml", above=0, at_most=1_000_000)]
VolumeOrZero = Annotated[float, Measure("volume", "ml", at_least=0, at_most=1_000_000)]
Flow = Annotated[float, Measure("flow", "ml/min", above=0, at_most=100_000)]
Area = Annotated[float, Measure("area", "m2", above=0, at_most=1000)]
MinutesPerMetre = Annotated[float, Measure("time per length", "min/m", at_least=0, at_most=1000)]
MinutesPerArea = Annotated[float, Measure("time per area", "min/m2", at_least=0, at_most=1000)]
CureDepth = Annotated[float, Measure("depth of cure", "mm/d^0.5", above=0, at_most=100)]
Hardness = Annotated[float, Measure("hardness", "Shore A", above=0, at_most=100)]
Mass = Annotated[float, Measure("mass", "kg", above=0, at_most=2000)]
Force = Annotated[float, Measure("force", "N", above=0, at_most=100_000)]
Acceleration = Annotated[float, Measure("acceleration", "m/s2", at_least=0, at_most=100)]
HullLength = Annotated[float, Measure("length", "m", above=0, at_most=1000)]
_WORD: Schema = {"type": "string", "maxLength": 40, "pattern": f"^(?:{_NAME.pattern})$"}
Text = Annotated[str, Reads(_text, schema={"type": "string", "maxLength": 200})]
Words = Annotated[str, Reads(_words, schema={"type": "string", "maxLength": 200, "pattern": "[^ ]"})]
"""A text that must say something."""
TextOrNumber = Annotated[
    str | int,
    Reads(
        _text_or_number,
        schema={
            "anyOf": [{"type": "string", "maxLength": 200}, {"type": "integer", "minimum": 1, "maximum": MOST_NUMBER}],
        },
    ),
]
FileWord = Annotated[str, Reads(_file_word, schema=_WORD)]
FileWordOrBlank = Annotated[str, Reads(_file_word_or_blank, schema={"anyOf": [{"const": ""}, _WORD]})]
Flag = Annotated[bool, Reads(_flag, schema={"type": "boolean"})]
Day = Annotated[
    datetime.date, Reads(_date, schema={"type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"})
]
"""A date of TOML; in JSON it is a text."""
Clock = Annotated[datetime.time, Reads(_clock, schema={"type": "string", "pattern": r"^[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]+)?$"})]
"""A time of day of TOML; in JSON it is a text."""
Radii = Annotated[float | tuple[float, ...], Reads(_Radii(ListOf(RADIUS, least=1, most=500)), "mm")]
SizeList = Annotated[tuple[float, ...], Reads(ListOf(PLY, least=1, most=20), "mm")]
InterlayerList = Annotated[tuple[float, ...], Reads(ListOf(PLY, most=19), "mm")]
PlaceList = Annotated[tuple[float, ...], Reads(ListOf(PLACE, least=1, most=50), "mm")]


def setting(default: Any, meaning: str, *, absent: Source = "left out", shown_default: str = "", alias: str | None = None) -> Any:
    """One key. ``absent`` is the source of the value where the key is left out and has no default (None or "").

    ``shown_default`` is what the table of keys prints instead of the default; ``alias`` how the key is typed, where that is not its name.
    """
    extra: dict[str, Any] = {"absent": absent, "shown_default": shown_default}
    return Field(default=default, description=meaning, json_schema_extra=extra, alias=alias)


class Table(BaseModel):
    """A table of the job file: frozen, no unknown keys, and it knows which of its values were given."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    def source_of(self, path: str) -> Source:
        """Where the value at a dotted path comes from: ``pane.source_of("bond.width")``. Raises ``KeyError`` for no such key."""
        table: Any = self
        steps = _steps(path)
        source: Source = "left out"
        for i, step in enumerate(steps):
            if isinstance(table, tuple) and step.isdigit() and int(step) < len(table):
                table = table[int(step)]
                continue
            if isinstance(table, dict) and step in table:
                table = table[step]
                continue
            name = _field_of(table, step)
            if name is None:
                if table is None and i:
                    return source
                raise KeyError(f"the job file has no key {path!r}")
            value = getattr(table, name)
            model: type[BaseModel] = type(table)
            source = "given" if name in table.model_fields_set else _absent(model, name, value in (None, ""))
            table = value
        return source

    def was_given(self, path: str) -> bool:
        """True where the job file itself gives the value at a dotted path."""
        return self.source_of(path) == "given"


def table_in(annotation: Any) -> type[Table] | None:
    """The table that a key holds, by its declared type; None where it holds a value."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation
    for inner in get_args(annotation):
        found = table_in(inner)
        if found is not None:
            return found
    return None


def marks_of(field: FieldInfo) -> tuple[Any, ...]:
    """What a key's declared type is marked with: its measure, its reader, its choice."""
    return (*field.metadata, *_marks_in(field.annotation))


def _marks_in(annotation: Any) -> Iterator[Any]:
    for inner in get_args(annotation):
        yield from getattr(inner, "__metadata__", ())
        yield from _marks_in(inner)


def placed(places: Mapping[str, str], path: str) -> str:
    """The place of a dotted key, or of the key round it: that of ``temperatures.cases`` for one of the cases."""
    steps = _steps(path)
    for length in range(len(steps), 1, -1):
        found = places.get(".".join(steps[:length]))
        if found:
            return found
    return ""


@lru_cache(maxsize=1024)
def _steps(path: str) -> tuple[str, ...]:
    return tuple(re.findall(r"[^.\[\]]+", path))


@lru_cache(maxsize=1024)
def _absent(model: type[BaseModel], name: str, empty: bool) -> Source:
    """Where a value that was left out comes from; ``empty``: there is none."""
    field = model.model_fields[name]
    if not empty and field.default is not None:  # without a default it was worked out while the job was read
        return "default"
    extra = field.json_schema_extra
    found: Any = extra["absent"] if isinstance(extra, dict) else "left out"
    return cast("Source", found)


def _field_of(table: Any, step: str) -> str | None:
    return _names_of(type(table)).get(step) if isinstance(table, BaseModel) else None


@lru_cache(maxsize=128)
def _names_of(model: type[BaseModel]) -> dict[str, str]:
    """Each field of a table by its name, and by the name it has in the file where that is another."""
    by_name = {name: name for name in model.model_fields}
    return {**{known.alias: name for name, known in model.model_fields.items() if known.alias}, **by_name}


__all__ = [
    "PANE_SIZE",
    "PLACE",
    "SECTION_SIZE",
    "SIZE",
    "SIZE_OR_ZERO",
    "Acceleration",
    "Angle",
    "Area",
    "Choice",
    "Clock",
    "CureDepth",
    "Day",
    "Days",
    "Density",
    "Draft",
    "Expansion",
    "FileWord",
    "FileWordOrBlank",
    "Flag",
    "Flow",
    "Force",
    "Hardness",
    "Hours",
    "HullLength",
    "InterlayerList",
    "ListOf",
    "Mass",
    "Measure",
    "Minutes",
    "MinutesPerArea",
    "MinutesPerMetre",
    "Pitch",
    "Place",
    "PlaceList",
    "PositiveMinutes",
    "PositiveShare",
    "Pressure",
    "Radii",
    "Reads",
    "Schema",
    "SectionSize",
    "SectionSizeOrZero",
    "Share",
    "Size",
    "SizeList",
    "SizeOrZero",
    "Slope",
    "Strain",
    "Stress",
    "Table",
    "Temperature",
    "Text",
    "TextOrNumber",
    "UncuredStress",
    "Volume",
    "VolumeOrZero",
    "Words",
    "list_of",
    "marks_of",
    "placed",
    "setting",
    "table_in",
    "whole",
]
