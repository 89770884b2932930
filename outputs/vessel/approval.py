"""The approval pack: what class, flag or an engineer has to see of a vessel's panes before they may be made. Blanks stay blank.

Terms
-----
open question
    What does not pass: it fails, a person has to look, or the job does not say it. Nothing is judged here that was not judged by the checks.
deviation
    What the user himself names as a deviation from a rule (``[[deviation]]``), in his words.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import fsum
from typing import TYPE_CHECKING

from outputs.files.table_files import Cell, Column, TableFile
from outputs.record.words import AN_AID
from outputs.vessel.glass_list import glass_words
from outputs.vessel.list_files import issue_words, list_files, missing_words

if TYPE_CHECKING:
    from outputs.vessel.documents import Files, LeftOut, VesselContents
    from outputs.vessel.facts import FindingFacts, PaneFacts

NAME = "approval"
FOR_APPROVAL = ("detail", "record")
"""Documents of a pane that go with the pack."""
LISTS = ("masses", "records")
"""Lists of the vessel that go with it."""

PANES = (
    Column("code", width=10),
    Column("revision", width=9),
    Column("mark", width=11),
    Column("name", width=24),
    Column("location", width=24),
    Column("hand", width=11),
    Column("pieces", width=8),
    Column("in hull", width=8),
    Column("load bearing", width=9),
    Column("rake", "°", 1, 8),
    Column("width", "mm", 1, 9),
    Column("height", "mm", 1, 9),
    Column("area of one", "m2", 3, 9),
    Column("area together", "m2", 3, 9),
    Column("make-up", width=30),
    Column("frame", width=16),
    Column("outward", "kPa", 2, 9),
    Column("inward", "kPa", 2, 9),
    Column("pressures from", width=34),
    Column("approval reference", width=20),
    Column("state", width=22),
    Column("not for manufacture", width=34),
)
QUESTIONS = (
    Column("code", width=10),
    Column("flag", width=6),
    Column("finding", width=44),
    Column("verdict", width=12),
    Column("decides", width=9),
    Column("value", "", 4, 10),
    Column("limit", "", 4, 10),
    Column("unit", width=10),
    Column("where", width=16),
    Column("what is missing or said", width=60),
    Column("source of the limit", width=44),
    Column("answer", width=40),
)
DEVIATIONS = (
    Column("rule", width=34),
    Column("panes", width=24),
    Column("what is done instead", width=60),
    Column("agreed by", width=30),
    Column("accepted, refused", width=20),
)
DOCUMENTS = (
    Column("code", width=10),
    Column("number", width=18),
    Column("document", width=10),
    Column("file", width=36),
    Column("SHA-256", width=66),
)
SUMS = tuple(place for place, column in enumerate(PANES) if column.head in ("pieces", "area together"))
"""Places of pieces and of their area together."""


def approval_tables(contents: VesselContents) -> tuple[TableFile, ...]:
    """Panes, open questions, deviations, and the documents that go with them."""
    job, facts = contents.job, contents.facts
    told = issue_words(job)
    sums: dict[str, Cell] = {
        "code": "together",
        "pieces": int(fsum(each.quantity for each in facts)),
        "area together": fsum(each.area_m2 * each.quantity for each in facts),
    }
    return (
        TableFile(
            "panes",
            PANES,
            (*(_pane(contents, each) for each in facts), *map(_missing, contents.left_out)),
            ("For approval: panes", told, *missing_words(contents)),
            (AN_AID,),
            tuple(sums.get(column.head) for column in PANES),
        ),
        TableFile("open questions", QUESTIONS, tuple(_questions(facts)), ("For approval: open questions", told)),
        TableFile(
            "deviations", DEVIATIONS, tuple(approval_deviations(contents)), ("For approval: deviations named by the office", told)
        ),
        TableFile("documents", DOCUMENTS, tuple(approval_documents(contents)), ("For approval: documents", told)),
    )


def _pane(contents: VesselContents, facts: PaneFacts) -> tuple[Cell, ...]:
    return (
        facts.code,
        facts.revision,
        facts.mark,
        facts.name,
        facts.location,
        facts.side,
        facts.quantity,
        said(facts.in_hull),
        said(facts.load_bearing),
        facts.rake,
        facts.width,
        facts.height,
        facts.area_m2,
        facts.area_m2 * facts.quantity,
        glass_words(contents.job, facts.glass),
        facts.frame,
        facts.pressure_outward,
        facts.pressure_inward,
        facts.pressure_reference,
        facts.approval_reference,
        facts.told,
        ", ".join(facts.not_for_manufacture),
    )


def said(answer: bool | None) -> str:
    """Yes or no as the job says it; a blank stays blank."""
    return {None: "", True: "yes", False: "no"}[answer]


def _missing(pane: LeftOut) -> tuple[Cell, ...]:
    told: dict[str, Cell] = {"code": pane.code, "revision": pane.revision, "state": f"{pane.what}: {pane.reason}"}
    return tuple(told.get(column.head) for column in PANES)


def _questions(facts: Iterable[PaneFacts]) -> Iterator[tuple[Cell, ...]]:
    for pane in facts:
        for each in pane.open_findings:
            yield (
                pane.code,
                each.flag or None,
                each.name,
                each.verdict,
                "yes" if each.decides else "",
                each.value,
                each.limit,
                each.unit,
                each.where,
                said_of(each),
                each.source,
                "",
            )


def said_of(finding: FindingFacts) -> str:
    """What the finding says, or what was not given for it."""
    return f"no {finding.missing} given" if finding.missing and not finding.says else finding.says or finding.missing


def approval_deviations(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    """Rows of the deviations that the job names; accepted or refused is for the one who answers."""
    for each in contents.job.deviations:
        yield each.rule, ", ".join(each.panes) or "all", each.what, each.reference, ""


def approval_documents(contents: VesselContents) -> Iterator[tuple[str, str, str, str, str]]:
    """A row for each file that goes with the pack: pane, number, document, file, SHA-256."""
    for pane in contents.facts:
        for document in pane.documents:
            if document.name in FOR_APPROVAL:
                for file in document.files:
                    yield pane.code, document.number, document.name, f"{pane.code}/{file.name}", file.sha256
    for name in LISTS:
        for file in contents.lists.get(name, ()):
            yield "all", "", name, file.name, file.sha256


def approval_files(contents: VesselContents) -> Files:
    """The pack as XLSX, CSV and a page to sign."""
    from outputs.vessel.approval_page import approval_page

    files = list_files(contents, NAME, approval_tables(contents), title="For approval")
    files[f"{contents.stem}-{NAME}.html"] = approval_page(contents)
    return files


__all__ = [
    "NAME",
    "SUMS",
    "approval_deviations",
    "approval_documents",
    "approval_files",
    "approval_tables",
    "said",
    "said_of",
]
