"""How a fault is told: what was found and what is allowed, in the words of the model, and the key as a reader says it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from geometry.job.misplaced import places_of
from geometry.job.model import Job
from geometry.job.outlines import OUTLINES, OutlineForm
from geometry.job.refusal import REFUSED, near
from geometry.job.synonyms import PLASTIC, is_plastic
from geometry.job.units import shown

if TYPE_CHECKING:
    from geometry.job.positions import KeyPath, Step

_TABLE = "a table of keys, such as { key = value }"


def sentence(entry: Any, path: KeyPath) -> tuple[str, str, str]:
    """What was found, what is allowed and a hint, for one entry of the model's errors at a key path."""
    kind, value, context = entry["type"], entry.get("input"), entry.get("ctx", {})
    if kind == REFUSED:
        return context["found"], context["allowed"], context["hint"]
    if kind == "value_error":  # an outline that cannot be says so in its own sentence
        return str(context["error"]), "", ""
    if kind == "missing" and path == ("pane",):
        return "there is no [[pane]] table in the file", "at least one", ""
    if kind == "missing":
        return "this key must be given and is missing", _meaning(path), ""
    if kind == "extra_forbidden":
        return _no_such_key(str(path[-1]), value, names_at(path[:-1]))
    if kind == "tuple_type":
        name = ".".join(step for step in path if isinstance(step, str))
        return f"found {shown(value)}", f"tables that each begin with [[{name}]], in double brackets", ""
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        plastic = PLASTIC if isinstance(value, str) and path[-1:] == ("glass",) and is_plastic(value) else ""
        example = OUTLINES if _model_at(path) is OutlineForm else _TABLE
        return f"found {shown(value)}", example, plastic
    return f"found {shown(value)}: {entry['msg']}", "", ""


def _no_such_key(key: str, value: Any, names: Sequence[str]) -> tuple[str, str, str]:
    if isinstance(value, str) and is_plastic(value):
        return "there is no such key", "", PLASTIC
    hint = near(key, names)
    places = [] if hint else places_of(key)
    if places:
        hint = f"a key of this name stands in {', '.join(places[:-1])}{' and ' if len(places) > 1 else ''}{places[-1]}"
    return "there is no such key", "one of " + ", ".join(names), hint


def in_words(path: KeyPath, table: Mapping[str, Any]) -> str:
    """A key path as a reader says it: ``pane 2 (SW-02), bond.width``."""
    if len(path) >= 2 and path[0] == "pane" and isinstance(path[1], int):
        number = path[1]
        panes = table.get("pane")
        code = panes[number].get("code") if isinstance(panes, list) and isinstance(panes[number], dict) else None
        label = f"pane {number + 1}" + (f" ({shown(code)[1:-1]})" if isinstance(code, str) and code else "")
        return f"{label}, {_dotted(path[2:])}" if len(path) > 2 else label
    return _dotted(path)


def pane_of(path: KeyPath, table: Mapping[str, Any]) -> str:
    """The code of the pane that a key path leads into, "" where it leads into none or the pane has no code."""
    panes = table.get("pane")
    inside = len(path) >= 2 and path[0] == "pane" and isinstance(path[1], int) and isinstance(panes, list)
    pane = panes[path[1]] if inside and panes is not None else None
    code = pane.get("code") if isinstance(pane, dict) else None
    return code if isinstance(code, str) else ""


def _dotted(path: Sequence[Step]) -> str:
    words = ""
    for step in path:
        if isinstance(step, int):
            words += f", entry {step + 1}"
        else:
            plain = step if re.fullmatch(r"[A-Za-z0-9_-]{1,60}", step) else shown(step)
            words += f".{plain}" if words else plain
    return words


def _model_at(path: KeyPath) -> type[Any] | None:
    """The table that stands at a key path, by the declared types."""
    from geometry.job.keys import table_in

    model: type[Any] | None = Job
    for step in path:
        if isinstance(step, int) or model is None:
            continue
        field = next((f for name, f in model.model_fields.items() if step == (f.alias or name)), None)
        if field is None:
            continue  # the name of a temperature case
        model = table_in(field.annotation)
    return model


def names_at(path: KeyPath) -> list[str]:
    """The keys that may stand in the table at a key path."""
    model = _model_at(path)
    return [] if model is None else [field.alias or name for name, field in model.model_fields.items()]


def _meaning(path: KeyPath) -> str:
    if path[-1] == "outline":
        return OUTLINES
    model = _model_at(path[:-1])
    field = None if model is None else model.model_fields.get(str(path[-1]))
    return "" if field is None or not field.description else field.description


__all__ = ["in_words", "names_at", "pane_of", "sentence"]
