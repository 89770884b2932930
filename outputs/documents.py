"""The documents of a pane: which there are, what each is for, and the files that each is written as.

Terms
-----
document
    One paper, or one file for a machine, of one pane. All documents of a pane come from one run of the checks.
format
    The kind of file: dxf, svg and pdf of every sheet; a file for a machine has its own.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import datetime

    from outputs.sheet.entities import Sheet
    from outputs.sheets.recipe import Contents

FORMATS = ("dxf", "svg", "pdf")
"""Formats of a sheet, in the order in which they are written."""
RECORD = "record"
"""The calculation record: pages and data, not a sheet; it tells of all panes together as well."""

Files = dict[str, bytes]


@dataclass(frozen=True, slots=True)
class Document:
    """One document: its name (also the end of its files' names), what it is for, and what makes its files.

    ``made`` takes the contents and the formats asked for and gives the files by the end of their name: ``-detail.dxf``.
    """

    name: str
    says: str
    made: Callable[[Contents, Collection[str]], Files]


def sheet_files(name: str, sheets: tuple[Sheet, ...], formats: Collection[str], *, date: datetime.date | None = None) -> Files:
    """The sheets of one document in the formats asked for; of several sheets each has a picture of its own, numbered from 1.

    ``date`` is the day of the job, told by the PDF.
    """
    files: Files = {}
    if "dxf" in formats:
        from outputs.files.dxf import dxf_bytes

        files[f"-{name}.dxf"] = dxf_bytes(*sheets)
    if "svg" in formats:
        from outputs.files.svg import svg_bytes

        for count, sheet in enumerate(sheets, start=1):
            files[f"-{name}{f'-{count}' if len(sheets) > 1 else ''}.svg"] = svg_bytes(sheet)
    if "pdf" in formats:
        from outputs.files.pdf import pdf_bytes

        files[f"-{name}.pdf"] = pdf_bytes(sheets, date=date)
    return files


def _detail(contents: Contents, formats: Collection[str]) -> Files:
    from outputs.sheets.detail_sheet import detail_sheet

    sheet = detail_sheet(contents.job, contents.pane, contents.detail, contents.check)
    return sheet_files("detail", (sheet,), formats, date=contents.job.sheet.date)


DOCUMENTS: tuple[Document, ...] = (
    Document("detail", "detail sheet: plan, sections and corner, for drawing office and yard", _detail),
)
NAMES = (*(each.name for each in DOCUMENTS), RECORD)


def document_files(contents: Contents, names: Collection[str], formats: Collection[str]) -> Files:
    """Every file of the named documents of one pane, by its whole name. Raises what the documents raise."""
    stem = contents.pane.file_stem
    return {
        f"{stem}{ending}": data
        for each in DOCUMENTS
        if each.name in names
        for ending, data in each.made(contents, formats).items()
    }


__all__ = ["DOCUMENTS", "FORMATS", "NAMES", "RECORD", "Document", "document_files", "sheet_files"]
