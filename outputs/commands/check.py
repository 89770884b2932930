"""``fritline check``: every finding of the chosen panes, printed, and the calculation record where it is asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from outputs.commands.exit_codes import DONE, FAILS
from outputs.commands.jobs import Given, answer, each_of, jobs_of, kept_apart
from outputs.commands.memory import spare_imports
from outputs.commands.shared import (
    details_of,
    echo,
    folder_named,
    libraries_explained,
    no_plate,
    plate_errors,
    print_json,
    progress,
    refuse_if_any,
    write,
)

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.findings.sensitivity import Trial
    from outputs.commands.verdicts_since import Older


@dataclass(frozen=True)
class _Checked:
    given: Given
    checks: Sequence[PaneCheck]
    files: dict[Path, bytes]
    cells: tuple[str, ...] = ()  # of a schedule, that a plan would have otherwise


@dataclass(frozen=True)
class Wanted:
    """What is asked of a check: with the plate or without, as JSON, every row, the record, the proposed job, since which file."""

    plate: bool = True
    as_json: bool = False
    record: str | None = None
    everything: bool = False
    propose: bool = False
    since: str | None = None


def check(paths: Sequence[str], codes: Sequence[str], wanted: Wanted) -> int:
    """Check the chosen panes; the exit code says whether a finding fails. Raises ``InputError``; then nothing was written."""
    given = jobs_of(paths, codes)
    folder = None if wanted.record is None else folder_named("--record", wanted.record)
    with libraries_explained():
        # the records of several jobs stand in a folder each: every record has its page of the vessel
        places = [None if folder is None else folder / each.stem if len(given) > 1 else folder for each in given]
        checked = each_of(list(zip(given, places, strict=True)), lambda each: _checked(*each, wanted))
        older = None if wanted.since is None else _older(wanted.since, checked, plate=wanted.plate)
    files = kept_apart([(each.given, each.files) for each in checked])
    write(files)
    if wanted.as_json:
        _print_data(checked, wanted.since, older, written=bool(files))
    else:
        from outputs.commands.findings_print import closing, print_findings
        from outputs.commands.verdicts_since import since_lines, since_of

        tell = partial(echo, written=bool(files))
        for each in checked:
            job = each.given.name if len(checked) > 1 else ""
            print_findings(each.given.name, each.given.job, each.checks, tell, everything=wanted.everything, heading_of_job=job)
            if each.cells:
                tell(
                    "\n".join(
                        [
                            "to change in the schedule of the panes, which is not written:",
                            *(f"  {cell}" for cell in each.cells),
                            "",
                        ]
                    )
                )
            if older is not None:
                tell("\n".join(since_lines(str(wanted.since), since_of(each.checks, older), _gone(each, older))))
        tell(
            "\n".join(
                closing([check for each in checked for check in each.checks], list(map(str, files)), everything=wanted.everything)
            )
        )
    return FAILS if any(check.verdict.value == "fail" for each in checked for check in each.checks) else DONE


def _older(name: str, checked: Sequence[_Checked], *, plate: bool) -> dict[str, Older]:
    from outputs.commands.verdicts_since import older_verdicts

    return older_verdicts(name, [check.subject.pane.code for each in checked for check in each.checks], plate=plate)


def _gone(checked: _Checked, older: Mapping[str, Older]) -> list[str]:
    from outputs.commands.verdicts_since import gone_of

    return gone_of([pane.code for pane in checked.given.job.panes], older)


def _print_data(checked: Sequence[_Checked], since: str | None, older: Mapping[str, Older] | None, *, written: bool) -> None:
    from geometry.ledger.finding import worst
    from outputs.commands.verdicts_since import since_data, since_of
    from outputs.record.data import job_data

    entries: list[dict[str, Any]] = []
    for each in checked:
        entry = {"job": each.given.name, "written": [str(name) for name in each.files], **job_data(each.given.job, each.checks)}
        if each.cells:
            entry["cells_to_change"] = list(each.cells)
        if older is not None:
            entry["since"] = since_data(str(since), since_of(each.checks, older), _gone(each, older))
        entries.append(entry)
    verdict = worst(check.verdict for each in checked for check in each.checks).value
    print_json(answer(entries, verdict=verdict), written=written)


def _checked(given: Given, folder: Path | None, wanted: Wanted) -> _Checked:
    """Every pane of a job checked, and the files of its record and of its plans where they are wanted."""
    files: dict[Path, bytes] = {}
    cells: tuple[str, ...] = ()
    if wanted.propose:
        from outputs.commands.proposed_job import proposed_name

        beside = proposed_name(given.path)
    checks, trials = _found(given, plate=wanted.plate, trials=folder is not None)
    if folder is not None:
        from outputs.record.files import record_files

        files |= {folder / name: data for name, data in record_files(given.job, checks, trials).items()}
    if wanted.propose and any(check.plan is not None for check in checks):
        from outputs.commands.proposed_job import cells_to_change, proposed_text

        cells = cells_to_change(checks)
        files[beside] = proposed_text(Path(given.path).read_bytes().decode("utf-8-sig"), checks).encode("utf-8")
    return _Checked(given, checks, files, cells)


def _found(given: Given, *, plate: bool, trials: bool) -> tuple[list[PaneCheck], list[tuple[Trial, ...]]]:
    """Every pane checked, and its sensitivities where they are wanted (else empty)."""
    with progress((2 + trials) * len(given.panes)) as step:
        details = details_of(given.job, given.panes, given.name, step)

        from geometry.findings.check import check_pane
        from geometry.findings.sensitivity import sensitivities

        spare_imports()
        checks: list[PaneCheck] = []
        tried: list[tuple[Trial, ...]] = []
        faults: list[dict[str, Any]] = []
        for pane, detail in zip(given.panes, details, strict=True):
            step(f"checking {pane.code}")
            try:
                checks.append(check_pane(given.job, pane, detail, plate=plate, plan=True))
            except plate_errors(plate) as error:
                faults.append({"file": given.name, "pane": pane.code, "found": f"{no_plate(error)}; --no-plate leaves it out"})
                continue
            if trials:
                step(f"trying each size of {pane.code}")
                tried.append(sensitivities(checks[-1].subject))
        refuse_if_any(faults)
        return checks, tried


__all__ = ["Wanted", "check"]
