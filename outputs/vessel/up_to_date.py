"""What a pane was made from, as one hash, and whether the files made of it still stand as they were written.

Terms
-----
input
    Everything that reaches the documents of one pane: the shared tables and the pane as they were read and as they were typed, the files
    that they name, what the office's defaults gave and where, what was done to outlines out of drawings and surveys, the panes that it is
    held against, and what is asked of the run. Another pane of the vessel that it has nothing to do with changes nothing.
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
from geometry.job.mark import mark_of
from geometry.job.session import sessions_reaching, title_of

if TYPE_CHECKING:
    from geometry.job import Job, Pane
    from outputs.vessel.facts import FileFacts
    from outputs.vessel.one_pane import Asked

NOT_OF_THE_PROGRAM = ("__pycache__",)


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
        self._shared = _hash(
            {
                "asked": asdict(asked),
                "read": job.model_dump(mode="json", exclude={"panes", "sessions", "deviations"}),
                "given": _given(job),
                "office": job.office,
                "places": dict(job.office_places),
                "outside": job.defaults_outside,
            }
        )

    def of(self, index: int) -> str:
        """The input of one pane as a hash."""
        job, pane = self._job, self._job.panes[index]
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


def held_against(job: Job, pane: Pane) -> tuple[Pane, ...]:
    """The other panes of the job that reach the documents of this one: the pane of the other hand, those of its session."""
    from geometry.findings.fit.hand_checks import fellow_of

    fellow = fellow_of(job, pane)
    codes = {code for each in sessions_reaching(job, pane) for code in each.panes} - {pane.code}
    return (*(() if fellow is None else (fellow,)), *(each for each in job.panes if each.code in codes))


def _given(table: Any) -> dict[str, Any]:
    """Which keys stand in the file, in a table and in those below it: a default that is typed is no default on paper."""
    found: dict[str, Any] = {"": sorted(table.model_fields_set)}
    for name in type(table).model_fields:
        value = getattr(table, name)
        for place, each in enumerate(value if isinstance(value, tuple) else (value,)):
            if hasattr(type(each), "model_fields") and name not in ("panes", "sessions", "deviations"):
                found[f"{name}.{place}"] = _given(each)
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
