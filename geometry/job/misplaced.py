"""Tables with one bracket too few or too many, or in the wrong place of the file: said once, and judged where they belong.

Terms
-----
table of a pane
    A table or key that stands in each ``[[pane]]``.
table of the vessel
    A table that stands once, at the top of the file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from geometry.job.keys import SHARED_AGAIN, SHARED_OF_THE_PANE, table_in
from geometry.job.model import Job
from geometry.job.pane import Pane
from geometry.job.schedule import Schedule
from geometry.job.units import shown

if TYPE_CHECKING:
    from geometry.job.fields import Table
    from geometry.job.positions import KeyPath

_PANES = ("panes", "window", "windows", "light", "lights", "glazing", "pain")
"""Names under which panes were typed in double brackets."""

NOT_SHARED = "a job file; the office's defaults hold shared tables alone, and name no other file"
TYPES_IN_THE_JOB = (
    "the same tables in the job file: a type is the section that panes of one vessel were checked with, and does not change with the next"
)


@dataclass
class PutRight:
    """The tables with everything where it belongs, the lines by the new places, and what had to be said."""

    table: dict[str, Any]
    lines: dict[KeyPath, int]
    said: list[tuple[KeyPath, str, str]] = field(default_factory=list)  # path, what was found, what is allowed
    types: frozenset[str] = frozenset()  # of detail, in a file that may hold none: said already

    def move(self, old: KeyPath, new: KeyPath) -> None:
        """The lines of all that stands under an old path belong to the new one."""
        moved = {(*new, *path[len(old) :]): line for path, line in self.lines.items() if path[: len(old)] == old}
        self.lines = {path: line for path, line in self.lines.items() if path[: len(old)] != old} | moved


def put_right(table: Mapping[str, Any], lines: Mapping[KeyPath, int], *, office: bool = False) -> PutRight:
    """Bracket slips and misplaced tables of a file, told and put right for the judging of the rest; nothing given is altered.

    ``office`` says that it is a file of the office's defaults, which holds shared tables alone.
    """
    right = PutRight(dict(table), dict(lines))
    if office:
        _single(right, right.table, (), Job)
        for name in [name for name in right.table if name in ("defaults", "vessel", "pane", "panes", "columns", "type")]:
            found, allowed = f"found {name} in the office's defaults", NOT_SHARED
            held = right.table.pop(name)
            if name == "type" and isinstance(held, dict) and held:
                right.types = frozenset(held)
                tables = ", ".join(f"[type.{shown(each)[1:-1]}]" for each in held)
                found, allowed = f"found the types of detail {tables} in the office's defaults", TYPES_IN_THE_JOB
            right.said.append(((name,), found, allowed))
        return right
    _panes(right)
    _single(right, right.table, (), Job)
    _top(right)
    panes = right.table.get("pane")
    if isinstance(panes, list):
        right.table["pane"] = [dict(pane) if isinstance(pane, dict) else pane for pane in panes]
        for index, pane in enumerate(right.table["pane"]):
            if isinstance(pane, dict):
                _single(right, pane, ("pane", index), Pane)
                _of_the_vessel(right, pane, ("pane", index))
    return right


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(each, dict) for each in value)


def _is_schedule(name: str, value: Any) -> bool:
    """Whether it says where the panes are listed."""
    return name == "panes" and isinstance(value, dict) and set(value) <= set(Schedule.model_fields)


def _panes(right: PutRight) -> None:
    """``[[panes]]`` and ``[pane]`` in place of ``[[pane]]``."""
    table = right.table
    other = next(
        (
            name
            for name in table
            if name != "pane" and (name.casefold() == "pane" or name.casefold() in _PANES) and not _is_schedule(name, table[name])
        ),
        None,
    )
    if other is not None and "pane" not in table and (_is_tables(table[other]) or isinstance(table[other], dict)):
        brackets = "[[]]" if isinstance(table[other], list) else "[]"
        found = f"found {brackets[: len(brackets) // 2]}{shown(other)[1:-1]}{brackets[len(brackets) // 2 :]}"
        right.said.append(((other,), found, "[[pane]], in double brackets and in the singular"))
        table["pane"] = table.pop(other)
        right.move((other,), ("pane",))
        if isinstance(table["pane"], dict):
            table["pane"] = [table["pane"]]
            right.move(("pane",), ("pane", 0))
        for path in ((other,), ("pane",)):
            right.lines.setdefault(path, right.lines.get(("pane", 0), 1))
    elif isinstance(table.get("pane"), dict):
        right.said.append(
            (("pane",), f"found {shown(table['pane'])}", "tables that each begin with [[pane]], in double brackets")
        )
        line = right.lines.get(("pane",))
        table["pane"] = [table["pane"]]
        right.move(("pane",), ("pane", 0))
        if line is not None:
            right.lines[("pane",)] = line


def _single(right: PutRight, table: dict[str, Any], at: KeyPath, model: type[Table]) -> None:
    """Double brackets round a table that stands once."""
    for name, known in model.model_fields.items():
        value: Any = table.get(name)
        if not _is_tables(value) or table_in(known.annotation) is None or name in ("panes", "revisions") or known.alias:
            continue
        words = ".".join([*(step for step in at if isinstance(step, str)), name])
        times = "once, so" if len(value) == 1 else f"once, not {len(value)} times;"
        right.said.append(((*at, name), f"found [[{words}]]", f"[{words}]: this table stands {times} in single brackets"))
        table[name] = value[0]
        right.move((*at, name, 0), (*at, name))


def _top(right: PutRight) -> None:
    """Keys and tables of a pane that stand at the top of the file."""
    known = {field.alias or name for name, field in Job.model_fields.items()}
    for name in list(right.table):
        if name in known or name not in Pane.model_fields:
            continue
        value = right.table.pop(name)
        how = f"[pane.{name}] below it" if isinstance(value, dict) else "below that line"
        right.said.append(((name,), "this stands at the top of the file", f"in a pane: {name} belongs under [[pane]], {how}"))


def _of_the_vessel(right: PutRight, pane: dict[str, Any], at: KeyPath) -> None:
    """Tables of the vessel that stand in a pane."""
    known = {name for name, field in Job.model_fields.items() if not field.alias}
    for name in list(pane):
        if name in Pane.model_fields or name not in known:
            continue
        pane.pop(name)
        right.said.append(
            (
                (*at, name),
                "this stands in a pane",
                f"once for the vessel: [{name}] belongs at the top of the file, above [[pane]]",
            )
        )


def places_of(key: str) -> list[str]:
    """The tables in which a key of this name stands, as they are typed: ``width`` stands in pane.bond, pane.joint ...

    >>> places_of("set_back")
    ['[pane.bond]']
    """
    found: dict[str, None] = {}

    def walk(model: type[Table], at: str, depth: int) -> None:
        for name, known in model.model_fields.items():
            words = known.alias or name
            inner = table_in(known.annotation)
            if words == key:
                found[{"": "the top of the file", "pane": "[[pane]]"}.get(at, f"[{at}]")] = None
            if not at and words in (*SHARED_OF_THE_PANE, "type"):
                continue  # told of the pane
            if inner is not None and depth < 3 and not (at == "pane" and words in SHARED_AGAIN):
                walk(inner, f"{at}.{words}".lstrip("."), depth + 1)

    walk(Job, "", 0)
    return list(found)


__all__ = ["PutRight", "places_of", "put_right"]
