"""The register of an issue: every document with number, revision, date, state, hash and what it replaces; by pane and by reader.

Terms
-----
row
    One file: a document of several formats has a row for each, for each has a hash of its own.
status
    "issued": stands in the folder of its pane; "not up to date": stands there as the job had the pane before, and was not asked for again;
    "superseded": moved aside, not to be worked from; "not drawn", "not issued": the pane has no document, for it could not be drawn or was
    never asked for.
hash
    SHA-256 of the file, as ``sha256sum`` prints it; on the page its first signs.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import TYPE_CHECKING

from geometry.findings.state import NOT_FOR_MANUFACTURE
from outputs.documents import READERS
from outputs.files.table_files import Cell, Column, TableFile, csv_bytes, xlsx_bytes
from outputs.record.words import AN_AID
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from outputs.vessel.documents import LeftOut, Superseded, VesselContents
    from outputs.vessel.facts import DocumentFacts, PaneFacts

NOT_GIVEN = "not given"
VALID = "A paper is valid that bears the revision and the mark of this table; any other is not to be worked from."
SHOWN = 16
"""Signs of a hash on the page."""

_OF_DOCUMENT = (
    Column("number", width=18),
    Column("document", width=10),
    Column("revision", width=9),
    Column("date of issue", width=12),
    Column("state", width=24),
    Column("release", width=30),
    Column("mark", width=11),
)
"""What every list of documents tells of each."""
COLUMNS = (
    Column("pane", width=12),
    *_OF_DOCUMENT,
    Column("for", width=22),
    Column("file", width=34),
    Column("SHA-256", width=66),
    Column("length", "bytes", width=10),
    Column("replaces", width=30),
    Column("status", width=12),
    Column("superseded by", width=30),
    Column("superseded on", width=14),
)
OF_READER = (
    Column("reader", width=10),
    Column("pane", width=12),
    Column("name", width=24),
    *_OF_DOCUMENT,
    Column("files", width=60),
)
OF_VALID = (
    Column("pane", width=12),
    Column("name", width=24),
    Column("revision", width=9),
    Column("mark", width=11),
    Column("of", width=12),
    Column("what the revision changed", width=50),
    Column("state", width=24),
    Column("release", width=30),
)
OF_LEFT_OUT = (
    Column("pane", width=12),
    Column("revision of the job", width=9),
    Column("what", width=16),
    Column("why", width=100),
)
OF_LISTS = (
    Column("list", width=14),
    Column("what it is", width=60),
    Column("file", width=40),
    Column("SHA-256", width=66),
    Column("length", "bytes", width=10),
)


def register_files(contents: VesselContents) -> dict[str, bytes]:
    """The register as a workbook, as CSV and as a page."""
    from outputs.vessel.register_page import register_page

    job, stem = contents.job, f"{contents.stem}-register"
    title = title_of(contents)
    above = (title, *issue_lines(contents))
    issued, aside, open_ = tuple(_issued(contents)), tuple(_aside(contents)), tuple(_not_drawn(contents))
    tables = (
        TableFile("By pane", COLUMNS, issued, above),
        TableFile("By reader", OF_READER, tuple(_by_reader(contents)), above),
        TableFile("Valid", OF_VALID, tuple(valid_rows(contents)), (title, VALID)),
        TableFile("Superseded", COLUMNS, aside, (title, "Not to be worked from: other documents have taken their place.")),
        TableFile(
            "Left out",
            OF_LEFT_OUT,
            tuple((each.code, each.revision, each.what, each.reason) for each in contents.left_out),
            (title, "Panes of the job that have no documents, or none that are up to date: no list has them in its sums."),
        ),
        TableFile("Lists", OF_LISTS, tuple(_lists(contents)), (title, "Lists of the vessel beside this register.")),
    )
    whole = TableFile("Register", COLUMNS, (*issued, *open_, *aside))
    return {
        f"{stem}.xlsx": xlsx_bytes(tables, date=job.sheet.date, title=title),
        f"{stem}.csv": csv_bytes(whole, decimal=job.lists.decimal),
        f"{stem}.html": register_page(contents),
    }


def title_of(contents: VesselContents) -> str:
    """Of which vessel the register is."""
    return f"Register of documents: {contents.job.vessel.title or contents.stem}"


def issue_lines(contents: VesselContents) -> tuple[str, ...]:
    """What the issue is, in words: its day, its panes."""
    day = contents.job.sheet.date
    standing = [facts for facts, _ in standing_of(contents)]
    documents = sum(len(each.documents) for each in standing)
    panes = f"{len(standing)} of {len(contents.job.panes)} panes issued, {documents} documents"
    missing = ""
    for what in dict.fromkeys(each.what for each in contents.left_out):
        missing += f"; {what}: {', '.join(each.code for each in contents.left_out if each.what == what)}"
    owner = f"Legal owner: {contents.job.sheet.owner}" if contents.job.sheet.owner else ""
    lines = (f"Date of issue: {day.isoformat() if day else NOT_GIVEN}", f"{panes}{missing}", owner, AN_AID, PROGRAM)
    return tuple(each for each in lines if each)


def standing_of(contents: VesselContents) -> Iterator[tuple[PaneFacts, LeftOut | None]]:
    """Every pane that has documents in its folder, in the order of the job; with why it is not up to date, None where it is."""
    left = {each.code: each for each in contents.left_out}
    known = {each.code: each for each in contents.facts}
    for pane in contents.job.panes:
        why = left.get(pane.code)
        facts = known.get(pane.code) if why is None else why.standing
        if facts is not None:
            yield facts, why


def state_words(facts: PaneFacts, why: LeftOut | None) -> str:
    """The state of the checks, and where the documents are not up to date that they are not."""
    return facts.told if why is None else f"{facts.told}; NOT UP TO DATE"


def _day(date: str) -> Cell:
    return datetime.date.fromisoformat(date) if date else NOT_GIVEN


def release_words(facts: PaneFacts) -> str:
    """Whether the pane must not be made yet, and why; "" where nothing is against it."""
    return f"{NOT_FOR_MANUFACTURE}: {', '.join(facts.not_for_manufacture)}" if facts.not_for_manufacture else ""


def _of_document(facts: PaneFacts, document: DocumentFacts, why: LeftOut | None) -> tuple[Cell, ...]:
    """The cells of ``_OF_DOCUMENT``."""
    told, release = state_words(facts, why), release_words(facts)
    return document.number, document.name, facts.revision, _day(facts.date), told, release, facts.mark


def _issued(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    for facts, why in standing_of(contents):
        for document in facts.documents:
            for file in document.files:
                yield (
                    facts.code,
                    *_of_document(facts, document, why),
                    ", ".join(document.readers),
                    f"{facts.code}/{file.name}",
                    file.sha256,
                    file.length,
                    contents.replaces.get((facts.code, document.name), ""),
                    "issued" if why is None else why.what,
                    "",
                    "",
                )


def valid_rows(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    """Pane by pane the one revision and mark that holds."""
    for facts, why in standing_of(contents):
        of = facts.revision_date or facts.date
        yield (
            facts.code,
            facts.name,
            facts.revision,
            facts.mark,
            _day(of),
            facts.revision_says,
            state_words(facts, why),
            release_words(facts),
        )
    for each in contents.left_out:
        if each.standing is None:
            yield each.code, "", each.revision, "none", "", "", f"{each.what}: no paper is valid", ""


def newest_first(contents: VesselContents) -> list[Superseded]:
    """What was moved aside, the newest issue first, the documents of each in their order."""
    groups: dict[str, list[Superseded]] = {}
    for each in contents.superseded:
        groups.setdefault(each.folder, []).append(each)
    return [each for group in reversed(groups.values()) for each in group]


def _aside(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    for each in newest_first(contents):
        for file in each.document.files:
            yield (
                each.code,
                each.document.number,
                each.document.name,
                each.revision,
                _day(each.date_of_issue),
                each.state,
                "",
                each.mark,
                ", ".join(each.document.readers),
                f"{each.folder}/{file.name}",
                file.sha256,
                file.length,
                "",
                "superseded",
                each.by,
                _day(each.date),
            )


def _not_drawn(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    for each in (each for each in contents.left_out if each.standing is None):
        blank = ("",) * (len(COLUMNS) - 6)
        row = (each.code, "", "", each.revision, "", f"{each.what}: {each.reason}", *blank)
        yield tuple(each.what if column.head == "status" else cell for column, cell in zip(COLUMNS, row, strict=True))


def readers_of(contents: VesselContents) -> tuple[str, ...]:
    """Who has a document in this issue, in the standing order."""
    named = {reader for facts, _ in standing_of(contents) for document in facts.documents for reader in document.readers}
    return (*(each for each in READERS if each in named), *sorted(named - set(READERS)))


def of_reader(contents: VesselContents, reader: str) -> Iterator[tuple[PaneFacts, DocumentFacts, LeftOut | None]]:
    """The documents of one reader, each with its pane and why that is not up to date, in the order of the job."""
    standing = standing_of(contents)
    return ((facts, document, why) for facts, why in standing for document in facts.documents if reader in document.readers)


def _by_reader(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    for reader in readers_of(contents):
        for facts, document, why in of_reader(contents, reader):
            yield (
                reader,
                facts.code,
                facts.name,
                *_of_document(facts, document, why),
                ", ".join(each.name for each in document.files),
            )


def _lists(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    for name, files in contents.lists.items():
        for each in files:
            yield name, list_says(name), each.name, each.sha256, each.length


def list_says(name: str) -> str:
    """What a list is and whom it is for."""
    from outputs.vessel.documents import VESSEL_DOCUMENTS

    return next((each.says for each in VESSEL_DOCUMENTS if each.name == name), "")


__all__ = [
    "COLUMNS",
    "NOT_FOR_MANUFACTURE",
    "NOT_GIVEN",
    "SHOWN",
    "VALID",
    "issue_lines",
    "list_says",
    "newest_first",
    "of_reader",
    "readers_of",
    "register_files",
    "release_words",
    "standing_of",
    "state_words",
    "title_of",
    "valid_rows",
]
