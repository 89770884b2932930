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
from outputs.version import PROGRAM
from outputs.vessel.glass_list import glass_words
from outputs.vessel.list_files import in_words, issue_words, list_files

if TYPE_CHECKING:
    from outputs.record.markup import Content, Html
    from outputs.vessel.documents import Files, VesselContents
    from outputs.vessel.facts import FindingFacts, PaneFacts

NAME = "approval"
PURPOSE = "approval"
FOR_APPROVAL = ("detail", "record")
"""Documents of a pane that go with the pack."""

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
            tuple(_pane(contents, each) for each in facts),
            ("For approval: panes", told),
            (AN_AID,),
            tuple(sums.get(column.head) for column in PANES),
        ),
        TableFile("open questions", QUESTIONS, tuple(_questions(facts)), ("For approval: open questions", told)),
        TableFile("deviations", DEVIATIONS, tuple(_deviations(contents)), ("For approval: deviations named by the office", told)),
        TableFile("documents", DOCUMENTS, tuple(_documents(facts)), ("For approval: documents", told)),
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
        "yes" if facts.in_hull else "no",
        "yes" if facts.load_bearing else "no",
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


def _deviations(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    for each in contents.job.deviations:
        yield each.rule, ", ".join(each.panes) or "all", each.what, each.reference, ""


def _documents(facts: Iterable[PaneFacts]) -> Iterator[tuple[Cell, ...]]:
    for pane in facts:
        for document in pane.documents:
            if document.name in FOR_APPROVAL:
                for file in document.files:
                    yield pane.code, document.number, document.name, f"{pane.code}/{file.name}", file.sha256


def approval_files(contents: VesselContents) -> Files:
    """The pack as XLSX, CSV and a page to sign."""
    files = list_files(contents, NAME, approval_tables(contents), title="For approval")
    files[f"{contents.stem}-{NAME}.html"] = _page(contents)
    return files


def _page(contents: VesselContents) -> bytes:
    from outputs.record.markup import page, section, tag

    job = contents.job
    vessel = ", ".join(part for part in (job.vessel.name, job.vessel.yard_number) if part) or contents.stem
    title = f"For approval: {vessel}"
    return page(
        title,
        tag("header", tag("h1", title), tag("p", issue_words(job)), tag("p", AN_AID)),
        "\n",
        tag(
            "main",
            section("Panes", _panes_table(contents), id_="panes"),
            "\n",
            section("Open questions", *_question_tables(contents), id_="open-questions"),
            "\n",
            section("Deviations named by the office", _deviations_part(contents), id_="deviations"),
            "\n",
            section("Documents that go with it", _documents_table(contents), id_="documents"),
            "\n",
            section("Approval", _to_sign(), id_="approval"),
        ),
        tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small")),
        running=title,
    )


def _panes_table(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table

    job = contents.job

    def row(facts: PaneFacts) -> tuple[Content, ...]:
        outward, inward = (
            "" if each is None else in_words(job, each) for each in (facts.pressure_outward, facts.pressure_inward)
        )
        size = f"{in_words(job, facts.width, 1)} × {in_words(job, facts.height, 1)}"
        revision = f" rev {facts.revision}" if facts.revision else ""
        return (
            AsItIs(f"{facts.code}{revision}"),
            AsItIs(facts.mark),
            AsItIs(", ".join(part for part in (facts.name, facts.location) if part)),
            str(facts.quantity),
            AsItIs(size),
            AsItIs(in_words(job, facts.area_m2, 3)),
            AsItIs(glass_words(job, facts.glass)),
            AsItIs(outward),
            AsItIs(inward),
            AsItIs(facts.pressure_reference),
            AsItIs(facts.approval_reference),
            facts.told,
        )

    headings = ("pane", "mark", "name, location", "pieces", "size, mm", "area, m²", "make-up", "outward, kPa", "inward, kPa")
    more = ("pressures from", "approval reference", "state")
    return table(
        "A blank is not given and has to be filled in", (*headings, *more), map(row, contents.facts), numbers=(3, 5, 7, 8)
    )


def _question_tables(contents: VesselContents) -> Iterator[Content]:
    from outputs.record.markup import AsItIs, table, tag

    for facts in contents.facts:
        if not facts.open_findings:
            yield tag("p", AsItIs(facts.code), ": none.")
            continue
        rows = (
            (each.name, each.verdict, _figures(contents, each), AsItIs(each.where), said_of(each), each.source)
            for each in facts.open_findings
        )
        headings = ("finding", "verdict", "value and limit", "where", "what is missing or said", "source of the limit")
        yield table(f"{facts.code}: {len(facts.open_findings)} open", headings, rows)


def _figures(contents: VesselContents, finding: FindingFacts) -> str:
    if finding.value is None:
        return ""
    value = f"{in_words(contents.job, finding.value, 3)} {finding.unit}".rstrip()
    return value if finding.limit is None else f"{value}, {finding.side} {in_words(contents.job, finding.limit, 3)}"


def _deviations_part(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table, tag

    rows = [tuple(AsItIs(str(cell)) for cell in row) for row in _deviations(contents)]
    if not rows:
        return tag("p", "None is named. What fails stands under the open questions.")
    return table("In the office's words", ("rule", "panes", "what is done instead", "agreed by", "accepted, refused"), rows)


def _documents_table(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table

    rows = (
        tuple(AsItIs(str(cell)[:36]) for cell in (code, number, name, file))
        for code, number, name, file, _ in _documents(contents.facts)
    )
    return table("Sheets and calculation records; hashes stand in the register", ("pane", "number", "document", "file"), rows)


def _to_sign() -> Html:
    from outputs.record.markup import table

    blank = [(who, "", "", "", "") for who in ("engineer", "class", "flag")]
    return table("Blank until it is signed", ("for", "name", "reference", "date", "signature"), blank)


__all__ = ["NAME", "PURPOSE", "approval_files", "approval_tables", "said_of"]
