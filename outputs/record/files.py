"""The files of a calculation record, by name: a page and a data file for each pane, and one of each for all of them.

Names: ``<code>-<revision>-record.html`` and ``.json``; ``records.html`` and ``records.json`` for all the panes together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.record.data import json_bytes, pane_data, vessel_data
from outputs.record.pane_page import pane_page
from outputs.record.together import planned_sessions, pooled_quantities
from outputs.record.vessel_page import vessel_page
from outputs.record.vessel_rows import pane_row
from outputs.version import IDENTITY

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from geometry.findings.sensitivity import Trial
    from geometry.job import Job


def record_files(job: Job, checks: Sequence[PaneCheck], trials: Sequence[Sequence[Trial]]) -> dict[str, bytes]:
    """Every file of the record; ``trials`` in the order of ``checks``."""
    files: dict[str, bytes] = {}
    pages: dict[str, str] = {}
    for check, tried in zip(checks, trials, strict=True):
        own = record_of_pane(job, check, tried)
        pages[check.subject.pane.code] = next(iter(own))
        files |= own
    rows, plans, together = [pane_row(check) for check in checks], planned_sessions(job, checks), pooled_quantities(job, checks)
    files["records.html"] = vessel_page(job, rows, plans, together=together, pages=pages)
    files["records.json"] = json_bytes({"program": IDENTITY, **vessel_data(job, rows, plans, together)})
    return files


def record_of_pane(job: Job, check: PaneCheck, tried: Sequence[Trial]) -> dict[str, bytes]:
    """Page and data file of one pane."""
    stem = f"{check.subject.pane.file_stem}-record"
    data = {"program": IDENTITY, **pane_data(check, trials=tried)}
    return {f"{stem}.html": pane_page(job, check, tried), f"{stem}.json": json_bytes(data)}


__all__ = ["record_files", "record_of_pane"]
