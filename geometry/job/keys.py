"""Every key of the job file as a table: its unit, its default and what it means.

Terms
-----
key
    The dotted name as it is typed: ``adhesive.pack``; ``pane.bond.width`` stands in each ``[[pane]]``.
default
    What holds where the key is left out: a value, "required", "worked out", "left blank" or what the meaning says.

The table is read from the model itself, so that it cannot list a key that does not exist nor leave one out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from geometry.job.fields import Measure, Reads, Table, marks_of, table_in
from geometry.job.model import Job
from geometry.job.shared import Case

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pydantic.fields import FieldInfo

SHARED_AGAIN = ("tolerances", "climate", "work", "temperatures", "spacers", "limits", "consumables", "setting_out")
"""Shared tables that may stand in a pane as well, with the same keys; listed once there."""

SHARED_OF_THE_PANE = ("glass", "frame", "recess", "joint", "bond", "frit", "pressure", "loads")
"""Tables of the pane that may stand once for the vessel as well; listed in the pane."""


class Key(NamedTuple):
    """One key of the job file."""

    name: str
    unit: str
    default: str
    meaning: str


def all_keys() -> tuple[Key, ...]:
    """Every key, in the order of the model."""
    return tuple(_keys_of(Job, ""))


def as_markdown(keys: Sequence[Key] | None = None) -> str:
    """The table of some keys, or of all of them."""
    rows = ["| key | unit | default | meaning |", "|---|---|---|---|"]
    chosen = all_keys() if keys is None else keys
    rows += [f"| `{key.name}` | {key.unit} | {key.default} | {_escaped(key.meaning)} |" for key in chosen]
    return "\n".join(rows) + "\n"


def _escaped(text: str) -> str:
    return text.replace("|", "\\|").replace("<", "&lt;")


def _keys_of(model: type[Table], prefix: str) -> Iterator[Key]:
    for name, field in model.model_fields.items():
        key = f"{prefix}{field.alias or name}"
        table = table_in(field.annotation)
        if not prefix and name in SHARED_OF_THE_PANE:
            yield Key(key, "", "none", field.description or "")
        elif prefix == "pane." and name in SHARED_AGAIN:
            yield Key(key, "", "the shared table", f"any key of the table `{name}`, for this pane alone")
        elif not prefix and name == "types":
            yield Key(key, "", "none", field.description or "")
        elif table is Case:
            yield Key(key, "", _default(field), field.description or "")
            yield from _keys_of(Case, f"{key}.<name>.")
        elif table is None:
            yield Key(key, _unit(field), _default(field), field.description or "")
        elif key == "pane.frame":
            yield Key(key, "", "required", field.description or "")
            yield from (each for each in _keys_of(table, f"{key}."))
        elif name == "outline" and prefix != "pane.":
            yield Key(key, "", _default(field), f"{field.description}: the same forms as `pane.outline`")
        else:
            yield from _keys_of(table, f"{key}.")


def _unit(field: FieldInfo) -> str:
    return next((mark.unit for mark in marks_of(field) if isinstance(mark, (Measure, Reads)) and mark.unit), "")


def _default(field: FieldInfo) -> str:
    extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
    if extra.get("shown_default"):
        return str(extra["shown_default"])
    if field.is_required():
        return "required"
    value = field.default
    if value is None:
        return {"worked out": "worked out", "default": "as the material"}.get(str(extra.get("absent")), "none")
    if value == "":
        return "left blank"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, tuple):
        return "[" + ", ".join(f"{each:g}" for each in value) + "]"
    return f"{value:g}" if isinstance(value, float) else str(value)


__all__ = ["SHARED_AGAIN", "SHARED_OF_THE_PANE", "Key", "all_keys", "as_markdown", "table_in"]
