"""The job of one pane by itself, as it goes into the pane's own drawings: so that an office gets the job back from a drawing.

Terms
-----
own job
    The shared tables and the one pane, in the file's own words and values. It brings those whose change may change a drawing of this pane:
    the panes of its session, whose work moves its clock, and fellows of a pair. Nothing of other panes is in it,
    and of the sessions only the pane's own: that a pane has none, or that two sessions overlap, is seen in the job of the vessel alone.
companion
    A file that the own job reads: the office's defaults, a drawing, a survey, a STEP file. It lies beside the job under its bare name.
order
    What the glass supplier may know: outline as ordered, make-up, print, pieces, tolerances of the pane. It is no whole job.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, NamedTuple

from geometry.job.session import session_of

if TYPE_CHECKING:
    from geometry.job.model import Job
    from geometry.job.pane import Pane
    from geometry.outline.loop import Outline

DEFAULTS = "defaults"
"""The key that names the office's defaults."""
READ_FROM = ("drawing", "survey", "solid")
"""Keys whose value is the name of a file that an outline is read from."""
OF_OTHERS = ("pane", "session", "deviation", "panes", "columns")
"""Tables of all panes, and those that tell where panes come from: the own job holds its pane as it was read."""


class OwnJob(NamedTuple):
    """The tables of the own job, and the companions' bytes by the names that the tables give."""

    tables: dict[str, Any]
    companions: dict[str, bytes]


def own_job(job: Job, pane: Pane) -> OwnJob:
    """The own job of one pane. Raises ``KeyError`` where the job was not read from a text."""
    index = {each.code: number for number, each in enumerate(job.panes)}
    typed = job.document["pane"]
    session = session_of(job, pane)
    codes = {pane.code, *(() if session is None else session.panes)}
    codes |= {fellow for code in codes if (fellow := job.panes[index[code]].pair)}
    codes |= {each.code for each in job.panes if each.pair in codes}
    names: dict[str, str] = {}
    tables = {name: value for name, value in job.document.items() if name not in OF_OTHERS}
    if session is not None:
        tables["session"] = [job.document["session"][job.sessions.index(session)]]
    tables["pane"] = [typed[index[code]] for code in sorted(codes, key=lambda code: (code != pane.code, code))]
    kinds = {each.get("type") for each in tables["pane"]}
    if kinds & set(tables.get("type", {})):
        tables["type"] = {name: shared for name, shared in tables["type"].items() if name in kinds}
    else:
        tables.pop("type", None)
    tables = _renamed(tables, names)
    if job.defaults:
        tables[DEFAULTS] = _bare(job.defaults, names)
    kept = {} if job.opened is None else job.opened.contents
    return OwnJob(tables, {bare: kept[name] for name, bare in names.items() if name in kept})


def _renamed(value: Any, names: dict[str, str]) -> Any:
    """Tables without empty values and with the bare names of their files; ``names`` takes each bare name by the old one."""
    if isinstance(value, Mapping):
        found = {}
        for key, inner in value.items():
            if inner is not None:
                found[key] = _bare(inner, names) if key in READ_FROM and isinstance(inner, str) else _renamed(inner, names)
        return found
    return [_renamed(each, names) for each in value] if isinstance(value, list) else value


def _bare(name: str, names: dict[str, str]) -> str:
    """The name without its folders, another one where two files have the same."""
    if name not in names:
        path = PurePath(name.replace("\\", "/"))
        names[name] = _free(path.stem, path.suffix, names.values())
    return names[name]


def _free(stem: str, suffix: str, taken: Iterable[str]) -> str:
    known = {each.casefold() for each in taken}
    name, number = f"{stem}{suffix}", 1
    while name.casefold() in known:
        number += 1
        name = f"{stem}-{number}{suffix}"
    return name


def order_of(job: Job, pane: Pane, *, outline: Outline, frit_width: float) -> dict[str, Any]:
    """The tables of the order; ``outline`` and ``frit_width`` are those of the pane as ordered. Lengths mm.

    Nothing of bond, frame, vessel, owner or other panes is in it.
    """
    path = [[round(x, 6), round(y, 6), *([bulge] if bulge else [])] for x, y, bulge in outline.vertices]
    told = pane.model_dump(mode="json", include={"code", "side", "revision", "quantity"}, exclude_defaults=True)
    glass = pane.glass.model_dump(
        mode="json", exclude_none=True, exclude={"shear_coupling", "interlayer_modulus", "allowed_stress"}
    )
    printed = pane.frit.model_dump(mode="json", include={"fade", "start", "opacity"}, exclude_none=True)
    own = {**told, "outline": {"path": path}, "glass": glass, "frit": {**printed, "width": frit_width}}
    return {"supplier": job.supplier.model_dump(mode="json"), "pane": [own]}


__all__ = ["OwnJob", "order_of", "own_job"]
