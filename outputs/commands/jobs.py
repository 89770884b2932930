"""The jobs that a command is given: several files, or the standard input; their faults told together, their files kept apart.

Terms
-----
given
    One job of the command line with the panes that were chosen of it.
clash
    Two jobs whose files would stand under one name; refused before anything is written.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from outputs.commands.shared import InputError, chosen, read, refuse_unlettered, say
from outputs.version import IDENTITY

if TYPE_CHECKING:
    from geometry.job import Job, Pane

SCHEMA = 1
"""Number of the form of the JSON answers; it rises when a name in them changes its meaning or goes."""

STANDARD_INPUT = "-"

_Item = TypeVar("_Item")
_Result = TypeVar("_Result")


@dataclass(frozen=True)
class Given:
    """One job as it was named, and its chosen panes."""

    path: str
    job: Job
    panes: tuple[Pane, ...]

    @property
    def name(self) -> str:
        """How the job is called in sentences and answers."""
        return named(self.path)

    @property
    def stem(self) -> str:
        """What folders are named after."""
        return "job" if self.path == STANDARD_INPUT else Path(self.path).stem


def named(path: str) -> str:
    """A job's name in a sentence."""
    return "standard input" if path == STANDARD_INPUT else path


def jobs_of(paths: Sequence[str], codes: Sequence[str]) -> list[Given]:
    """The jobs with the panes asked for. Raises ``InputError`` with the faults of all the files together."""
    if paths.count(STANDARD_INPUT) > 1:
        raise InputError(["-: found more than once; allowed: once, the standard input is read to its end"])
    jobs = each_of(paths, read)
    known = [pane.code for job in jobs for pane in job.panes]
    given = []
    for path, job in zip(paths, jobs, strict=True):
        # a code that another job holds is not wrong; one that none holds is refused by the first job
        own = [code for code in codes if code not in known or any(pane.code == code for pane in job.panes)]
        given.append(Given(path, job, () if codes and not own else tuple(chosen(job, own))))
    found = [each for each in given if each.panes]
    each_of(found, lambda each: refuse_unlettered(each.job, each.panes, each.name))
    for each in found:
        for line in each.job.told:
            say(f"{each.name}: {line}")
    return found


def each_of(items: Sequence[_Item], work: Callable[[_Item], _Result]) -> list[_Result]:
    """The work done on every item. Raises ``InputError`` with the refusals of all of them together."""
    done: list[_Result] = []
    refused: list[InputError] = []
    for item in items:
        try:
            done.append(work(item))
        except InputError as error:
            refused.append(error)
    if len(refused) == 1:
        raise refused[0]
    if refused:
        raise InputError([error.message for error in refused], [entry for error in refused for entry in error.entries])
    return done


def kept_apart(sets: Sequence[tuple[Given, Mapping[Path, bytes]]]) -> dict[Path, bytes]:
    """The files of all the jobs. Raises ``InputError`` where two jobs would write one file."""
    files: dict[Path, bytes] = {}
    owner: dict[Path, str] = {}
    for given, own in sets:
        for path, data in own.items():
            if path in files:
                both = f"{path} would be written by {owner[path]} and by {given.name}"
                raise InputError(
                    [f"{both}; allowed: jobs whose panes differ in code or revision, or a folder for each; nothing was written"]
                )
            files[path], owner[path] = data, given.name
    return files


def answer(entries: Sequence[Mapping[str, Any]], *, verdict: str) -> dict[str, Any]:
    """What a command tells a machine: who answers, in which form, then one job's answer as it is, or a list of several."""
    head: dict[str, Any] = {"program": IDENTITY, "schema": SCHEMA}
    told = [{name: value for name, value in entry.items() if name not in head} for entry in entries]
    return {**head, **told[0]} if len(told) == 1 else {**head, "verdict": verdict, "jobs": told}


REFUSAL = ("file", "line", "pane", "key", "found", "allowed", "hint", "column", "cell", "text", "mended")
"""What every refusal tells a machine; null where it says nothing of the kind."""


def refusals(entries: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """The same for what was refused: every entry with the same keys."""
    told = [{key: entry.get(key) or None for key in REFUSAL} for entry in entries]
    return {"program": IDENTITY, "schema": SCHEMA, "errors": told}


__all__ = ["Given", "answer", "each_of", "jobs_of", "kept_apart", "named", "refusals"]
