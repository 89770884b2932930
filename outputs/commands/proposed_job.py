"""The job file as the plans of its panes would have it: written beside the old one, comments and order kept, never over a file.

Terms
-----
proposed job
    The text of the job file with every plan's changes made in it and nothing else touched.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import tomlkit
from tomlkit.items import AoT, InlineTable, Item, Table

from geometry.job.hands import BOTH, OTHER, code_of_hand
from geometry.job.pane import Pane
from outputs.commands.jobs import STANDARD_INPUT
from outputs.commands.shared import InputError
from outputs.record.plan_part import toml_value

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck

__all__ = ["proposed_name", "proposed_text"]

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
    panes = document["pane"]
    assert isinstance(panes, AoT)
    for check in checks:
        if check.plan is None:
            continue
        entry = next((pane for pane in panes if _code(pane) == check.subject.pane.code), None)
        if entry is None:
            continue  # the other hand of a pane: it follows from the typed one
        for each in check.plan.changes:
            steps = each.key.split(".")
            _set(entry if steps[0] in Pane.model_fields else document, steps, each.planned)
    return tomlkit.dumps(document)


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
