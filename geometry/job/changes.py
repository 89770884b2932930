"""The job as if other values stood in its file: only what changed is read and judged again, the rest is shared.

Terms
-----
changed table
    The table of a pane (or of the vessel) in which a key has another value.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any

from pydantic import TypeAdapter, ValidationError
from pydantic_core import PydanticCustomError

from geometry.job.merging import Places, merged, with_shared
from geometry.job.model import Job
from geometry.job.pane import Pane
from geometry.job.reading import judged
from geometry.job.session import in_session

_NAMES = ("code", "revision")
"""Keys that have to differ from those of the other panes."""


def with_changes(job: Job, code: str, changes: Mapping[str, Any]) -> Job:
    """The job as if other values stood in its file: ``with_changes(job, "W1", {"frit.width": 34.0})``.

    A key is dotted and belongs to the pane of that code; a key that begins with the name of a shared table that no pane has
    (adhesive, sealant, materials ...) belongs to the vessel. The value is written as the file would write it, in the standing
    unit. Raises ``JobError`` where the changed job is not sound, ``KeyError`` for a pane that is not there.
    """
    index = next((i for i, pane in enumerate(job.panes) if pane.code == code), None)
    if index is None:
        raise KeyError(f"the job has no pane {code}")
    of_pane = {key: value for key, value in changes.items() if key.split(".")[0] in Pane.model_fields}
    of_vessel = {key: value for key, value in changes.items() if key not in of_pane}
    panes = list(job.document["pane"])
    panes[index] = _changed(panes[index], of_pane)
    document = {**_changed(job.document, of_vessel), "pane": panes}
    quick = _quick(job, index, document, of_pane, of_vessel)
    if quick is not None:
        return quick
    return judged(document, job.office, Places("the changed job"), [], opened=job.opened)


def _changed(table: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """The tables with other values; what does not change is shared with the old ones."""
    found = dict(table)
    for key, value in changes.items():
        *steps, last = key.split(".")
        place = found
        for step in steps:
            inner = place.get(step, {})
            place[step] = {"material": inner} if step == "frame" and isinstance(inner, str) else dict(inner)
            place = place[step]
        place[last] = value
    return found


def _quick(
    job: Job, index: int, document: dict[str, Any], of_pane: Mapping[str, Any], of_vessel: Mapping[str, Any]
) -> Job | None:
    """The changed job with only the changed tables read again; None where anything of it has to be refused."""
    old = job.panes[index]
    names = {key.split(".")[0] for key in of_pane}
    shared = {key.split(".")[0] for key in of_vessel}
    if "outline" in names and (old.outline_worked_out or "radius" in (job.complete.get("recess") or {})):
        return None  # a shared corner radius hangs on the form of the outline
    if names & set(_NAMES) or not shared <= set(Job.model_fields) - {"panes", "defaults"}:
        return None
    complete = dict(job.complete)
    try:
        if shared:
            fresh = merged({name: document[name] for name in shared}, job.office)
            complete |= {name: fresh[name] for name in shared}
        context = {"opened": job.opened}
        tables = {name: _reader(Job, name).validate_python(complete[name], context=context) for name in shared}
        pane = with_shared(document["pane"][index], in_session(document["pane"][index], complete))
        values = old.all_as_given() | {name: _reader(Pane, name).validate_python(pane[name], context=context) for name in names}
        given = old.model_fields_set | names | ({"outline"} if "outline" in document["pane"][index] else set())
        new = Pane.model_construct(_fields_set=given, **values).checked() if names else old
    except (ValidationError, PydanticCustomError):
        return None
    if names:
        new._given_by = {key: place for key, place in old._given_by.items() if not _covers(of_pane, key)}
    complete["pane"] = [*job.complete["pane"][:index], pane, *job.complete["pane"][index + 1 :]]
    found = job.model_copy(update={**tables, "panes": (*job.panes[:index], new, *job.panes[index + 1 :])})
    found.__pydantic_fields_set__.update(shared)
    found._document, found._complete = document, complete
    found._given_by = {key: place for key, place in job._given_by.items() if not _covers(of_vessel, key)}
    return found


def _covers(changes: Mapping[str, Any], key: str) -> bool:
    return any(key == each or key.startswith(f"{each}.") or each.startswith(f"{key}.") for each in changes)


@cache
def _reader(model: type[Job] | type[Pane], name: str) -> TypeAdapter[Any]:
    """Reads one key of a model as the model does."""
    known = model.model_fields[name]
    kinds: Any = known.annotation
    for mark in known.metadata:
        kinds = Annotated[kinds, mark]
    return TypeAdapter(kinds)


__all__ = ["with_changes"]
