"""The job file as the plans of its panes would have it: written beside the old one, comments and order kept, never over a file.

Terms
-----
proposed job
    The text of the job file with every plan's changes made in it and nothing else touched. A pane of a schedule is not in that text: its
    changes stand above it as remarks, each with its cell. Nobody's workbook is written.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import tomlkit
from tomlkit.items import AoT, InlineTable, Item, Table

from geometry.job.hands import BOTH, OTHER, code_of_hand
from geometry.job.merging import SHARED
from geometry.job.pane import Pane
from geometry.job.schedule_kinds import kind_of
from outputs.commands.jobs import STANDARD_INPUT
from outputs.commands.shared import InputError
from outputs.record.plan_part import toml_value

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck

__all__ = ["cells_to_change", "proposed_name", "proposed_text"]

TRIES = 100  # names that are tried for a proposed job


def proposed_name(path: str) -> Path:
    """A name beside the job that no file has yet: "vessel.proposed.toml", else "vessel.proposed-2.toml" ...

    Raises ``InputError`` for the standard input, which has no file beside it.
    """
    if path == STANDARD_INPUT:
        raise InputError(
            ["--propose: found a job on the standard input; allowed: a job file, beside which the changed one is written"]
        )
    job = Path(path)
    for number in range(1, TRIES):
        name = job.with_name(f"{job.stem}.proposed{'' if number == 1 else f'-{number}'}{job.suffix}")
        if not name.exists() and not name.is_symlink():
            return name
    raise InputError([f"--propose: found {TRIES - 1} proposed jobs beside {path}; allowed: take some of them away"])


def proposed_text(text: str, checks: Sequence[PaneCheck]) -> str:
    """The text of a job file with the plans of its panes made in it; the same text where there is none."""
    document = tomlkit.parse(text)
    panes = document.get("pane", ())
    assert isinstance(panes, AoT) or not panes
    for check in checks:
        if check.plan is None:
            continue
        entry = next((pane for pane in panes if _code(pane) == check.subject.pane.code), None)
        for each in check.plan.changes:
            steps = each.key.split(".")
            place = entry if steps[0] in Pane.model_fields else document
            if place is not None:  # the other hand of a pane follows from the typed one; that of a schedule is told as a cell
                _set(place, steps, each.planned)
    cells = cells_to_change(checks)
    head = (
        ["To be changed in the schedule of the panes, which is not written:", *(f"  {each}" for each in cells)] if cells else []
    )
    return "".join(f"# {line}\n" for line in head) + tomlkit.dumps(document)


def cells_to_change(checks: Sequence[PaneCheck]) -> tuple[str, ...]:
    """What the plans change in panes of a schedule, a sentence each: the cell, or that no column gives the key."""
    found: dict[str, None] = {}
    for check in checks:
        job, pane = check.subject.job, check.subject.pane
        index = next((at for at, each in enumerate(job.panes) if each.code == pane.code), None)
        row = None if index is None else job.cell_of(index, "")
        if check.plan is None or index is None or row is None:
            continue
        for each in check.plan.changes:
            if each.key.split(".")[0] not in Pane.model_fields:
                continue
            kind, cell = kind_of(each.key), job.cell_of(index, each.key)
            unit = f" {kind.measure.unit}" if kind is not None and kind.measure is not None else ""
            value = "left empty" if each.planned is None else f"{toml_value(each.planned)}{unit}"
            if cell is not None:
                found[f"{cell.file}, {cell.cell} ({cell.head}): {value}"] = None
            else:
                shared = pane.type and "." in each.key and each.key.split(".")[0] in SHARED
                where = f"a column, or under [type.{pane.type}] for all its panes" if shared else "a column"
                found[f"{row.file}, row {row.row}: no cell gives {each.key}; {each.key} = {value} in {where}"] = None
    return tuple(found)


def _code(pane: Any) -> str:
    """The code of the pane that a table of the file types, with its hand where it makes both."""
    code, side = str(pane.get("code", "")), str(pane.get("side", ""))
    return code_of_hand(code, side) if pane.get("hand") == BOTH and side in OTHER else code


def _set(table: Any, steps: Sequence[str], value: Any) -> None:
    """Set a dotted key, making the tables on its way; None takes the key out."""
    *way, last = steps
    for step in way:
        inner = table.get(step)
        if isinstance(inner, str):  # a frame given by its material alone
            inner = tomlkit.inline_table()
            inner["material"] = table[step]
            table[step] = inner
        elif inner is None:
            table[step] = tomlkit.inline_table()
        table = table[step]
    if value is None:
        table.pop(last, None)
        return
    made = _written(value)
    if last in table and isinstance(table[last], Item) and not isinstance(table[last], (Table, InlineTable)):
        made.trivia.comment, made.trivia.comment_ws = table[last].trivia.comment, table[last].trivia.comment_ws
    table[last] = made


def _written(value: Any) -> Item:
    """A value as an item of the file."""
    return tomlkit.value(toml_value(value))
