"""``fritline check``: every finding of the chosen panes, printed, and the calculation record where it is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from outputs.commands.exit_codes import DONE, FAILS
from outputs.commands.shared import (
    chosen,
    details_of,
    echo,
    folder_named,
    libraries_explained,
    no_plate,
    plate_errors,
    print_json,
    progress,
    read,
    refuse_if_any,
    refuse_unlettered,
    write,
)

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.findings.sensitivity import Trial
    from geometry.job import Job, Pane


def check(path: str, codes: Sequence[str], *, plate: bool, as_json: bool, record: str | None) -> int:
    """Check the chosen panes; the exit code says whether a finding fails. Raises ``InputError``; then nothing was written."""
    job = read(path)
    panes = chosen(job, codes)
    refuse_unlettered(job, panes, path)
    folder = None if record is None else folder_named("--record", record)
    with libraries_explained():
        checks, trials = _checked(job, panes, path, plate=plate, trials=folder is not None)
        files = {}
        if folder is not None:
            from outputs.record.files import record_files

            files = {folder / name: data for name, data in record_files(job, checks, trials).items()}
    write(files)
    written = [str(name) for name in files]
    if as_json:
        from outputs.record.data import job_data

        data = job_data(job, checks)
        print_json({"job": path, "written": written, **data}, written=bool(files))
    else:
        from outputs.commands.findings_print import print_findings

        print_findings(path, job, checks, written, partial(echo, written=bool(files)))
    return FAILS if any(each.verdict.value == "fail" for each in checks) else DONE


def _checked(
    job: Job, panes: Sequence[Pane], path: str, *, plate: bool, trials: bool
) -> tuple[list[PaneCheck], list[tuple[Trial, ...]]]:
    """Every pane checked, and its sensitivities where they are wanted (else empty)."""
    with progress((2 + trials) * len(panes)) as step:
        details = details_of(job, panes, path, step)

        from geometry.findings.check import check_pane
        from geometry.findings.sensitivity import sensitivities

        checks: list[PaneCheck] = []
        tried: list[tuple[Trial, ...]] = []
        faults: list[dict[str, Any]] = []
        for pane, detail in zip(panes, details, strict=True):
            step(f"checking {pane.code}")
            try:
                checks.append(check_pane(job, pane, detail, plate=plate))
            except plate_errors(plate) as error:
                faults.append({"file": path, "pane": pane.code, "found": f"{no_plate(error)}; --no-plate leaves it out"})
                continue
            if trials:
                step(f"trying each size of {pane.code}")
                tried.append(sensitivities(checks[-1].subject))
        refuse_if_any(faults)
        return checks, tried
