"""What a pane was made from, as one hash, and whether the files made of it still stand as they were written.

Terms
-----
input
    Everything that reaches the documents of one pane: the shared tables and the pane as they were read and as they were typed, the files
    that they name, what the office's defaults gave and where, what was done to outlines out of drawings and surveys, the panes that it is
    held against, and what is asked of the run. Another pane of the vessel that it has nothing to do with changes nothing.
input of the lists
    Everything that reaches the lists of the vessel: the whole job, the facts of every pane, what was moved aside, what the issue is for.
program
    The program's own files, and the releases of the libraries that it needs.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from geometry.job.carried import own_job
from geometry.job.mark import NO_MATTER, mark_of
from geometry.job.session import sessions_reaching, title_of
from outputs.vessel.facts_data import as_data

if TYPE_CHECKING:
    from geometry.job import Job, Pane
    from outputs.vessel.documents import VesselContents
    from outputs.vessel.facts import FileFacts
    from outputs.vessel.one_pane import Asked

NOT_OF_THE_PROGRAM = ("__pycache__",)
OF_OTHERS = frozenset({"panes", "sessions", *NO_MATTER})
"""Tables of the job that reach a pane by other ways, or not at all."""


def program_hash() -> str:
    """The program as one hash: the content of its packages, and the libraries' releases."""
    import geometry
    import outputs

    told = hashlib.sha256()
    for package in (geometry, outputs):
        root = Path(package.__path__[0])
        files = sorted(
            (path.relative_to(root).as_posix(), path)
            for path in root.rglob("*")
            if path.is_file() and not set(path.parts) & set(NOT_OF_THE_PROGRAM)
        )
        for name, path in files:
            told.update(f"{package.__name__}/{name}\0".encode())
            told.update(hashlib.sha256(path.read_bytes()).digest())
    told.update(json.dumps(_libraries()).encode())
    return told.hexdigest()


def _libraries() -> list[str]:
    """Name and release of every library that the installed program says it needs."""
    import re
    from importlib.metadata import PackageNotFoundError, requires, version

    found = []
    try:
        needed = requires("fritline") or []
    except PackageNotFoundError:
        return []  # run from its sources alone
    for each in needed:
        name = re.split(r"[\s<>=!~;\[(]", each, maxsplit=1)[0]
        if "extra ==" in each:
            continue
        try:
            found.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            found.append(f"{name} missing")
    return sorted(found)


class Inputs:
    """The inputs of a job's panes; what they share is gone through once."""

    def __init__(self, job: Job, asked: Asked) -> None:
        self._job = job
        self._known: dict[int, str] = {}
        self._shared = _hash(
            {
                "asked": asdict(asked),
                "read": job.model_dump(mode="json", exclude=set(OF_OTHERS)),
                "given": _given(job),
                "office": job.office,
                "places": dict(job.office_places),
                "outside": job.defaults_outside,
            }
        )

    def of(self, index: int) -> str:
        """The input of one pane as a hash."""
        if index not in self._known:
            self._known[index] = self._of(self._job.panes[index])
        return self._known[index]

    def _of(self, pane: Pane) -> str:
        job = self._job
        return _hash(
            {
                "shared": self._shared,
                "mark": mark_of(job, pane),
                "pane": pane.model_dump(mode="json"),
                "given": _given(pane),
                "own": _own(job, pane),
                "places": dict(pane.office_places),
                "incoming": [[what, _incoming(each)] for what, each in pane.incoming],
                "others": [mark_of(job, each) for each in held_against(job, pane)],
                "sessions": [[title_of(job, each), each.model_dump(mode="json")] for each in sessions_reaching(job, pane)],
                "in sessions": bool(job.sessions),
            }
        )

    def of_lists(self, contents: VesselContents, *, purpose: str, program: str) -> str:
        """The input of the lists of the vessel as a hash."""
        job = self._job
        return _hash(
            {
                "shared": self._shared,
                "job": job.model_dump(mode="json", exclude={"panes"}),
                "given": _given(job, without=frozenset({"panes"})),
                "panes": [self.of(index) for index in range(len(job.panes))],
                "contents": [
                    contents.stem,
                    *(list(map(as_data, each)) for each in (contents.facts, contents.superseded, contents.left_out)),
                    sorted([*where, words] for where, words in contents.replaces.items()),
                    [[name, *map(as_data, files)] for name, files in contents.lists.items()],
                ],
                "purpose": purpose,
                "program": program,
            }
        )


def held_against(job: Job, pane: Pane) -> tuple[Pane, ...]:
    """The other panes of the job that reach the documents of this one: of the other hand, and of the sessions that move its clock."""
    from geometry.findings.fit.hand_checks import fellow_of

    fellow = fellow_of(job, pane)
    codes = {code for each in sessions_reaching(job, pane) for code in each.panes} - {pane.code}
    return tuple(each for each in job.panes if each is fellow or each.code in codes)


def _given(table: Any, *, without: frozenset[str] = OF_OTHERS) -> dict[str, Any]:
    """Which keys stand in the file, in a table and in those below it: a default that is typed is no default on paper."""
    found: dict[str, Any] = {"": sorted(table.model_fields_set - without)}
    for name in type(table).model_fields:
        value = getattr(table, name)
        for place, each in enumerate(value if isinstance(value, tuple) else (value,)):
            if hasattr(type(each), "model_fields") and name not in without:
                found[f"{name}.{place}"] = _given(each, without=without)
    return found


def _own(job: Job, pane: Pane) -> list[Any]:
    """What the pane's drawings carry of the job: its tables as they were typed, and the bytes of the files that they name."""
    if not job.document:
        return []
    own = own_job(job, pane)
    return [own.tables, {name: hashlib.sha256(data).hexdigest() for name, data in own.companions.items()}]


def _incoming(incoming: Any) -> list[str]:
    """What is told of an outline that somebody else drew, and the outline itself."""
    return [
        incoming.source,
        *incoming.mended,
        repr(incoming.deviation),
        incoming.shape,
        repr(incoming.mirror),
        repr(incoming.from_vertical),
        repr([tuple(each) for each in incoming.outline.vertices]),
    ]


def _hash(told: Any) -> str:
    """Plain data as one hash, in its own order, for a drawing carries the job in it; days and times of day by their words."""
    text = json.dumps(told, ensure_ascii=True, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def stand(folder: Path, files: Iterable[FileFacts]) -> bool:
    """Whether every file stands in the folder as it was written, by its hash."""
    return all(stands(folder / each.name, each) for each in files)


def stands(path: Path, file: FileFacts) -> bool:
    """Whether a file stands as it was written: an ordinary file with the bytes that were noted."""
    try:
        known = os.lstat(path)
        if not stat.S_ISREG(known.st_mode) or known.st_size != file.length:
            return False
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest() == file.sha256
    except OSError:
        return False


__all__ = ["Inputs", "held_against", "program_hash", "stand", "stands"]
