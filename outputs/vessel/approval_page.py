"""The approval pack as a page to read and to sign: panes, loads, open questions, deviations, documents. Blanks stay blank."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from outputs.record.words import AN_AID
from outputs.version import PROGRAM
from outputs.vessel.approval import SUMS, approval_deviations, approval_documents, approval_tables, said, said_of
from outputs.vessel.glass_list import glass_words
from outputs.vessel.list_files import in_words, issue_words, missing_words

if TYPE_CHECKING:
    from outputs.record.markup import Content, Html
    from outputs.vessel.documents import VesselContents
    from outputs.vessel.facts import FindingFacts, PaneFacts


def approval_page(contents: VesselContents) -> bytes:
    """The page, with room for answers and signatures."""
    from outputs.record.markup import page, section, tag

    job = contents.job
    vessel = job.vessel.title or contents.stem
    title = f"For approval: {vessel}"
    return page(
        title,
        tag(
            "header",
            tag("h1", title),
            tag("p", issue_words(job)),
            tag("p", AN_AID),
            *(tag("p", line, class_="warn") for line in missing_words(contents)),
        ),
        "\n",
        tag(
            "main",
            section("Panes", _panes_table(contents), _loads_table(contents), id_="panes"),
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
    """Which pane stands where, and what it comes to."""
    from outputs.record.markup import AsItIs, join, table, tag

    job = contents.job

    def row(facts: PaneFacts) -> tuple[Content, ...]:
        held = tag("b", f"NOT FOR MANUFACTURE: {', '.join(facts.not_for_manufacture)}") if facts.not_for_manufacture else None
        return (
            _whole(facts.code),
            AsItIs(facts.revision),
            _whole(facts.mark),
            AsItIs(", ".join(part for part in (facts.name, facts.location) if part)),
            facts.side,
            said(facts.in_hull),
            said(facts.load_bearing),
            facts.frame,
            AsItIs(in_words(job, facts.rake, 1)),
            AsItIs(facts.approval_reference),
            join(facts.told, tag("br"), held) if held else facts.told,
        )

    left_out = (
        (_whole(each.code), AsItIs(each.revision), *[""] * 8, f"{each.what}: {each.reason}") for each in contents.left_out
    )
    headings = (
        "pane",
        "rev",
        "mark",
        "name, location",
        "hand",
        "in hull",
        "bears load",
        "frame",
        "rake, °",
        "approval reference",
        "state",
    )
    return table("A blank is not given and has to be filled in", headings, (*map(row, contents.facts), *left_out), numbers=(8,))


def _loads_table(contents: VesselContents) -> Html:
    """Sizes, make-up, pressures and their reference; area of all pieces."""
    from outputs.record.markup import AsItIs, table

    job = contents.job

    def row(facts: PaneFacts) -> tuple[Content, ...]:
        pressures = ("" if each is None else in_words(job, each) for each in (facts.pressure_outward, facts.pressure_inward))
        area = (in_words(job, each, 3) for each in (facts.area_m2, facts.area_m2 * facts.quantity))
        return (
            _whole(facts.code),
            str(facts.quantity),
            AsItIs(f"{in_words(job, facts.width, 1)} × {in_words(job, facts.height, 1)}"),
            *map(AsItIs, area),
            AsItIs(glass_words(job, facts.glass)),
            *map(AsItIs, pressures),
            AsItIs(facts.pressure_reference),
        )

    pieces, area = (approval_tables(contents)[0].sums[place] for place in SUMS)
    together = ("together", str(pieces), "", "", in_words(job, float(str(area)), 3), "", "", "", "")
    headings = (
        "pane",
        "pieces",
        "size, mm",
        "area of one, m²",
        "together, m²",
        "make-up",
        "outward, kPa",
        "inward, kPa",
        "pressures from",
    )
    return table(
        "Glass and pressures as the office gives them", headings, (*map(row, contents.facts), together), numbers=(1, 3, 4, 6, 7)
    )


def _whole(words: str) -> Html:
    from outputs.record.markup import AsItIs, tag

    return tag("span", AsItIs(words), class_="code")


def _codes(codes: list[str]) -> Html:
    """Codes one after the other, none of them parted."""
    from outputs.record.markup import join

    return join(_whole(codes[0]), *((", ", _whole(code)) for code in codes[1:]))


def _question_tables(contents: VesselContents) -> Iterator[Content]:
    """Pane by pane what fails, is to be looked at or decides; then for all panes together what else the job does not say."""
    from outputs.record.markup import AsItIs, table, tag

    for facts in contents.facts:
        named = [each.rule for each in contents.job.deviations if not each.panes or facts.code in each.panes]
        flagged = [each for each in facts.open_findings if each.flag]
        if not flagged:
            yield tag("p", AsItIs(facts.code), ": none but what is not given, below.")
            continue
        rows = (
            (
                str(each.flag),
                each.name,
                each.verdict,
                _figures(contents, each),
                AsItIs(each.where),
                said_of(each),
                each.source,
                "",
            )
            for each in flagged
        )
        headings = (
            "flag",
            "finding",
            "verdict",
            "value and limit",
            "where",
            "what is missing or said",
            "source of the limit",
            "answer",
        )
        told = f"{facts.code}: {len(flagged)} open"
        yield table(AsItIs(f"{told}; deviation named from {', '.join(named)}") if named else told, headings, rows)
    yield _not_given_table(contents)


def _not_given_table(contents: VesselContents) -> Html:
    """What was not checked and decides nothing by itself: once for all the panes to which it applies."""
    from outputs.record.markup import table, tag

    missing: dict[tuple[str, str, str], list[str]] = {}
    for facts in contents.facts:
        for each in facts.open_findings:
            if not each.flag:
                missing.setdefault((each.name, said_of(each), each.source), []).append(facts.code)
    if not missing:
        return tag("p", "Nothing that is checked was left out for want of a value.")
    every = len(contents.facts)
    rows = (
        (name, words, source, "all" if len(codes) == every > 1 else _codes(codes), "")
        for (name, words, source), codes in missing.items()
    )
    return table(
        "Not checked, for want of what nobody gave",
        ("finding", "what is missing", "source of the limit", "panes", "answer"),
        rows,
    )


def _figures(contents: VesselContents, finding: FindingFacts) -> str:
    if finding.value is None:
        return ""
    value = f"{in_words(contents.job, finding.value, 3)} {finding.unit}".rstrip()
    return value if finding.limit is None else f"{value}, {finding.side} {in_words(contents.job, finding.limit, 3)}"


def _deviations_part(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table, tag

    rows = [tuple(AsItIs(str(cell)) for cell in row) for row in approval_deviations(contents)]
    if not rows:
        return tag("p", "None is named. What fails stands under the open questions.")
    return table("In the office's words", ("rule", "panes", "what is done instead", "agreed by", "accepted, refused"), rows)


def _documents_table(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table

    files: dict[tuple[str, str, str], list[str]] = {}
    for code, number, name, file, _ in approval_documents(contents):
        files.setdefault((code, number, name), []).append(file)
    rows = ((_whole(code), _whole(number), name, AsItIs(", ".join(named))) for (code, number, name), named in files.items())
    return table("Sheets and calculation records; hashes stand in the register", ("pane", "number", "document", "files"), rows)


def _to_sign() -> Html:
    from outputs.record.markup import table, tag

    room = tag("div", class_="blank")
    blank = [(who, room, room, room, room) for who in ("engineer", "class", "flag")]
    return table("Blank until it is signed", ("for", "name", "reference", "date", "signature"), blank, class_="sign")


__all__ = ["approval_page"]
