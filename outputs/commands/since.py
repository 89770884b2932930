"""``--since``: the older state that a drawing is compared with, from a job file, a drawing that carries one, or a record's data.

Terms
-----
older state
    Each pane by its code, as plain data. A pane that is not in it is new.
"""

from __future__ import annotations

import json
import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

from outputs.commands.carried_job import DRAWINGS, carried_in
from outputs.commands.shared import InputError, read

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.job import Job

LARGEST = 200_000_000  # bytes: the records of 200 panes are a tenth of it
WANTED = (
    "allowed: an older job file in TOML, a drawing of it (DXF, SVG or PDF), "
    "or the data file of its calculation record (<code>-<revision>-record.json)"
)


def older_states(name: str) -> dict[str, dict[str, Any]]:
    """Every pane of the older file by its code. Raises ``InputError`` where it is neither a job, a drawing nor a record."""
    if Path(name).suffix.lower() == ".json":
        return _of_record(name)
    from geometry.detail.build import DetailError, build_detail
    from geometry.outline.loop import OutlineError
    from outputs.record.moved import state_of_pane

    job = older_job(name)
    try:
        return {pane.code: state_of_pane(pane, build_detail(job, pane)) for pane in job.panes}
    except (DetailError, OutlineError) as error:
        raise InputError([f"--since: {name}: {error}; nothing was written"]) from error


def older_job(name: str) -> Job:
    """The job of the older file, which is one or a drawing that carries one. Raises ``InputError``."""
    if Path(name).suffix.lower() not in DRAWINGS:
        return read(name)
    carried = carried_in(name, "--since")
    with tempfile.TemporaryDirectory() as folder:
        for each, data in carried.files.items():
            (Path(folder) / each).write_bytes(data)
        try:
            return read(str(Path(folder) / carried.name))
        except InputError as error:  # told of the drawing: the folder is gone by then, and called otherwise each time
            told = error.message.replace(f"{folder}{os.sep}", f"--since: {name}: the job that it carries, ")
            raise InputError(told.split("\n")) from None


def _of_record(name: str) -> dict[str, dict[str, Any]]:
    from outputs.record.moved import NEEDED

    states = {state["code"]: state for state in panes_of_record(name) if all(key in state for key in NEEDED)}
    if not states:
        raise InputError([f"--since: {name} holds no pane with {', '.join(NEEDED)}; {WANTED}"])
    return states


def panes_of_record(name: str) -> list[dict[str, Any]]:
    """Every pane in the data of a record or of an answer as JSON. Raises ``InputError``."""
    try:
        if Path(name).stat().st_size > LARGEST:
            raise InputError([f"--since: {name} has more than {LARGEST} bytes; {WANTED}"])
        told = json.loads(Path(name).read_bytes())
    except OSError as error:
        raise InputError([f"--since: {name} cannot be read: {error.strerror or error}"]) from error
    except (ValueError, RecursionError) as error:
        raise InputError([f"--since: {name} is not JSON: {error}; {WANTED}"]) from error
    return list(_panes(told))


def _panes(told: Any) -> Iterator[dict[str, Any]]:
    """Every pane in an answer or a record, however it is nested."""
    if not isinstance(told, dict):
        return
    if isinstance(told.get("code"), str):
        yield told
    for name in ("jobs", "panes"):
        for each in told[name] if isinstance(told.get(name), list) else ():
            yield from _panes(each)


__all__ = ["WANTED", "older_job", "older_states", "panes_of_record"]
