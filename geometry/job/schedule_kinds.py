"""What kind of value a key of a pane holds, so that a cell is read as the key wants it: by the model itself.

Terms
-----
kind
    Measure, text, whole number, yes or no, word of a list, day, or a list of measures.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Literal, NamedTuple, get_args

from geometry.job.fields import Choice, Clock, ListOf, Measure, Reads, marks_of, table_in, whole
from geometry.job.pane import Pane
from geometry.job.section_tables import FRAMES

MEANT_AS = {"side": "hand"}
"""Keys that a schedule gives through a word of its own."""
_NOT_BY_COLUMN = ("made", "revisions", "timber")


class KeyKind(NamedTuple):
    """A kind with its measure, or with the words of its list; ``one`` says that one figure may stand in place of a list."""

    form: Literal["measure", "text", "text or whole", "whole", "flag", "choice", "day", "list"]
    measure: Measure | None = None
    words: tuple[str, ...] = ()
    one: bool = False


@cache
def kind_of(key: str) -> KeyKind | None:
    """The kind of value that a dotted key of a pane holds; None where there is no such key, or it holds no value of a cell.

    >>> kind_of("bond.width").measure.unit, kind_of("outline.rectangle.0").form, kind_of("held").form, kind_of("bond")
    ('mm', 'measure', 'flag', None)
    """
    model: Any = Pane
    found: KeyKind | None = None
    steps = key.split(".")
    if steps[0] in _NOT_BY_COLUMN or key in ("hand", "side"):
        return None
    if key == "frame":
        return KeyKind("choice", words=FRAMES)
    for step in steps:
        if found is not None:
            return KeyKind("measure", found.measure) if found.form == "list" and step in _INDICES and step == steps[-1] else None
        field = None if model is None else model.model_fields.get(step)
        if field is None:
            return None
        model = table_in(field.annotation)
        found = None if model is not None else _kind(field)
        if model is None and found is None:
            return None
    return found


_INDICES = tuple(str(index) for index in range(20))


def _kind(field: Any) -> KeyKind | None:
    for mark in marks_of(field):
        if isinstance(mark, Measure):
            return KeyKind("measure", mark)
        if isinstance(mark, Choice):
            return KeyKind("choice", words=tuple(_words(field.annotation)))
        if isinstance(mark, Reads):
            return _read_by(mark)
    return None


def _read_by(mark: Reads) -> KeyKind | None:
    reader = getattr(mark.read, "several", mark.read)
    if isinstance(reader, ListOf):
        return KeyKind("list", reader.item, one=reader is not mark.read)
    if isinstance(reader, whole):
        return KeyKind("whole")
    if mark.read is get_args(Clock)[1].read:
        return None
    schema = mark.schema
    if schema.get("type") == "boolean":
        return KeyKind("flag")
    if schema.get("format") == "date":
        return KeyKind("day")
    if any(each.get("type") == "integer" for each in schema.get("anyOf", ())):
        return KeyKind("text or whole")
    return KeyKind("text") if schema.get("type") == "string" or "anyOf" in schema else None


def _words(annotation: Any) -> list[str]:
    if isinstance(annotation, str):
        return [annotation]
    return [word for inner in get_args(annotation) for word in _words(inner)]


__all__ = ["MEANT_AS", "KeyKind", "kind_of"]
