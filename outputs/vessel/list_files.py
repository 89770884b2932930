"""A list of the vessel as files: one workbook with all its tables, and each table as CSV."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from outputs.files.table_files import TableFile, csv_bytes, xlsx_bytes
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from geometry.job import Job
    from outputs.vessel.documents import Files, VesselContents


def list_files(contents: VesselContents, name: str, tables: Sequence[TableFile], *, title: str) -> Files:
    """``<stem>-<name>.xlsx`` with every table, ``<stem>-<name>.csv`` of the first and ``<stem>-<name>-<table>.csv`` of each further one."""
    job = contents.job
    files = {f"{contents.stem}-{name}.xlsx": xlsx_bytes(tables, date=job.sheet.date, title=title)}
    for count, table in enumerate(tables):
        ending = "" if count == 0 else f"-{table.name.replace(' ', '-')}"
        files[f"{contents.stem}-{name}{ending}.csv"] = csv_bytes(table, decimal=job.lists.decimal)
    return files


def issue_words(job: Job, *, vessel: bool = True) -> str:
    """Of what the list is, of which day and by which program; a blank stays out. ``vessel`` False: for a reader whom it does not concern."""
    day = job.sheet.date.isoformat() if job.sheet.date else "date not given"
    return ", ".join(part for part in (job.vessel.title if vessel else "", day, PROGRAM) if part)


def missing_words(contents: VesselContents) -> tuple[str, ...]:
    """What stands above a list that lacks panes: which they are; nothing where it has all."""
    codes = ", ".join(f"{each.code} ({each.what})" for each in contents.left_out)
    return (f"INCOMPLETE, in no sum: {codes}.",) if codes else ()


def in_words(job: Job, value: float, decimals: int = 2) -> str:
    """A figure within a text, with the decimal sign of the lists and no idle zeros."""
    text = f"{round(value, decimals) + 0.0:.{decimals}f}".rstrip("0").rstrip(".")
    return text.replace(".", ",") if job.lists.decimal == "comma" else text


__all__ = ["in_words", "issue_words", "list_files", "missing_words"]
