"""``fritline issue``: every document of every pane of a job into one folder, and the lists of the vessel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from outputs.commands.exit_codes import DONE, FAILS, WRONG
from outputs.commands.jobs import Given, answer, jobs_of
from outputs.commands.shared import InputError, echo, folder_named, libraries_explained, print_json, progress, say

if TYPE_CHECKING:
    from pathlib import Path

    from outputs.vessel.facts import PaneFacts
    from outputs.vessel.run import Outcome, PaneOutcome

COLUMNS = ("pane", "revision", "state", "fail", "look", "not checked", "documents")


class PaneFault(RuntimeError):
    """A fault of the program while a pane was drawn, told by the process that drew it."""


@dataclass(frozen=True)
class Wanted:
    """What is asked of an issue: the processes (None: as many as there are cores), with the plate or without, the purpose, as JSON."""

    workers: int | None = None
    plate: bool = True
    purpose: str = ""
    codes: tuple[str, ...] = ()  # of the panes that are brought up to date; none: all
    solid: bool = False  # the documents that are made on request as well
    as_json: bool = False


def issue(path: str, output: str | None, wanted: Wanted) -> int:
    """Issue a job; the exit code says whether a finding fails or a pane could not be drawn. Raises ``InputError``."""
    from outputs.documents import ALL_NAMES, NAMES
    from outputs.files.whole import WriteError
    from outputs.vessel.one_pane import Asked
    from outputs.vessel.pool import cores
    from outputs.vessel.run import IssueError, issued

    given = jobs_of([path], wanted.codes)[0]
    folder = folder_named("-o", f"{given.stem}-issue" if output is None else output)
    try:
        with libraries_explained(), progress(len(given.panes) + 1) as step:
            workers = cores() if wanted.workers is None else wanted.workers
            outcome = issued(
                given.job,
                given.stem,
                folder,
                Asked(plate=wanted.plate, documents=ALL_NAMES if wanted.solid else NAMES),
                workers=workers,
                step=step,
                purpose=wanted.purpose,
                only=wanted.codes and [pane.code for pane in given.panes],
            )
    except IssueError as error:
        raise InputError([f"-o: {error}; nothing was written"]) from error
    except (WriteError, OSError) as error:
        raise InputError([f"{error}; every file that was written is whole, and the next run goes on from there"]) from error
    if wanted.as_json:
        print_json(answer([_data(given, folder, outcome)], verdict=_verdict(outcome)), written=True)
    else:
        echo("\n".join(_summary(folder, outcome)), written=True)
    return _told(given.name, outcome)


def _verdict(outcome: Outcome) -> str:
    from geometry.ledger.finding import Verdict, worst
    from outputs.vessel.run import NOT_UP_TO_DATE

    current = [each.facts if each.what != NOT_UP_TO_DATE else None for each in outcome.panes]
    known = [Verdict.NOT_CHECKED if facts is None else Verdict(facts.verdict) for facts in current]
    return worst(known).value


def _data(given: Given, folder: Path, outcome: Outcome) -> dict[str, Any]:
    """What is told to a machine."""
    return {
        "job": given.name,
        "folder": str(folder),
        "verdict": _verdict(outcome),
        "panes": [_pane_data(each) for each in outcome.panes],
        "lists": {name: list(files) for name, files in outcome.lists.items()},
        "superseded": [
            {
                "code": each.code,
                "revision": each.revision,
                "mark": each.mark,
                "number": each.document.number,
                "document": each.document.name,
                "by": each.by,
                "date": each.date or None,
                "files": [f"{each.folder}/{file.name}" for file in each.document.files],
            }
            for each in outcome.superseded
        ],
    }


def _pane_data(pane: PaneOutcome) -> dict[str, Any]:
    facts = pane.facts
    revision = pane.revision if facts is None else facts.revision
    head = {"code": pane.code, "revision": revision, "outcome": pane.what, "reason": pane.reason or None}
    if facts is None:
        return {**head, "mark": None, "verdict": None, "state": None, "counts": None, "not_for_manufacture": [], "documents": []}
    counts = {"fail": facts.fail, "look": facts.look, "pass": facts.passed, "not checked": facts.not_checked}
    documents = [
        {
            "name": each.name,
            "number": each.number,
            "readers": list(each.readers),
            "files": [{"name": f"{facts.code}/{file.name}", "sha256": file.sha256, "bytes": file.length} for file in each.files],
        }
        for each in facts.documents
    ]
    return {
        **head,
        "mark": facts.mark,
        "verdict": facts.verdict,
        "state": facts.told,
        "counts": counts,
        "not_for_manufacture": list(facts.not_for_manufacture),
        "documents": documents,
    }


def _summary(folder: Path, outcome: Outcome) -> list[str]:
    """One row for each pane, then what was written where."""
    table = [COLUMNS, *(_row(each) for each in outcome.panes)]
    widths = [max(len(row[column]) for row in table) for column in range(len(COLUMNS))]
    lines = []
    for row in table:
        cells = (
            cell.rjust(width) if 3 <= column <= 5 else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        lines.append("  ".join(cells).rstrip())
    said = [f"{count} {what}" for what, count in _counted(outcome) if count]
    lines.append(f"{len(outcome.panes)} {'pane' if len(outcome.panes) == 1 else 'panes'}: {', '.join(said)}")
    aside = sum(len(each.document.files) for each in outcome.superseded)
    if aside:
        lines.append(f"superseded: {aside} {'file' if aside == 1 else 'files'} moved aside into {folder / 'superseded'}")
    lines += [f"list: {folder / name}" for files in outcome.lists.values() for name in files]
    return lines


def _counted(outcome: Outcome) -> list[tuple[str, int]]:
    from outputs.vessel.run import NOT_DRAWN, NOT_ISSUED, NOT_UP_TO_DATE, UP_TO_DATE, WRITTEN

    every = (WRITTEN, UP_TO_DATE, NOT_UP_TO_DATE, NOT_ISSUED, NOT_DRAWN)
    return [(what, len([each for each in outcome.panes if each.what == what])) for what in every]


def _row(pane: PaneOutcome) -> tuple[str, ...]:
    facts = pane.facts
    said = f"{pane.what}: {pane.reason}" if pane.reason else pane.what
    if facts is None:
        return pane.code, pane.revision, "", "", "", "", said
    return pane.code, facts.revision, facts.told, str(facts.fail), str(facts.look), str(facts.not_checked), said


def _told(path: str, outcome: Outcome) -> int:
    """Say on the standard error what fails, what is not checked and what is not drawn; the exit code."""
    from outputs.vessel.run import NOT_ISSUED, NOT_UP_TO_DATE

    failing = missing = False
    for pane in outcome.panes:
        if pane.what in (NOT_UP_TO_DATE, NOT_ISSUED):
            say(f"{path}: pane {pane.code} is {pane.what}: {pane.reason}")
            continue
        if pane.facts is None:
            missing = True
            say(f"{path}: pane {pane.code} is not drawn: {pane.reason}")
            continue
        lines = _failures(pane.facts)
        for line in lines:
            say(f"{path}: pane {pane.code} fails: {line}")
        failing = failing or bool(lines)
        gaps = [f"{each.name} ({each.missing})" for each in pane.facts.open_findings if each.decides]
        if gaps and not lines:
            say(f"{path}: pane {pane.code} is not checked: {'; '.join(gaps)}")
    if outcome.faults:
        if any(broken.memory for _, broken in outcome.faults):
            raise MemoryError
        raise PaneFault("\n".join(f"pane {code}: {broken.details}" for code, broken in outcome.faults))
    return WRONG if missing else FAILS if failing else DONE


def _failures(facts: PaneFacts) -> list[str]:
    lines = [f"{each.name}: {each.says}".rstrip(": ") for each in facts.open_findings if each.verdict == "fail"]
    if facts.glass_cuts_recess:
        lines.append("the glass as drawn lies outside the recess; it cannot be fitted")
    return lines


__all__ = ["PaneFault", "Wanted", "issue"]
