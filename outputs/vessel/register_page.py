"""The register as a page: which paper is valid, by pane, by reader, lists, and what is not to be worked from any more."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from outputs.record.words import AN_AID
from outputs.version import PROGRAM
from outputs.vessel.register import (
    NOT_FOR_MANUFACTURE,
    NOT_GIVEN,
    SHOWN,
    VALID,
    issue_lines,
    list_says,
    newest_first,
    of_reader,
    readers_of,
    release_words,
    standing_of,
    state_words,
    title_of,
    valid_rows,
)

if TYPE_CHECKING:
    from outputs.record.markup import Content, Html
    from outputs.vessel.documents import Superseded, VesselContents
    from outputs.vessel.facts import DocumentFacts


def register_page(contents: VesselContents) -> bytes:
    """The same to read and to print on A4."""
    from outputs.record.markup import page, section, tag

    title = title_of(contents)
    readers = (
        section(f"For the {reader}", _reader_table(contents, reader), id_=f"for-{reader}") for reader in readers_of(contents)
    )
    return page(
        title,
        tag("header", tag("h1", title), *(tag("p", each) for each in issue_lines(contents))),
        "\n",
        tag(
            "main",
            *_left_out_parts(contents),
            section("Valid now", tag("p", VALID), _valid_table(contents), id_="valid"),
            "\n",
            section("By pane", *_pane_tables(contents), id_="by-pane"),
            "\n",
            *readers,
            "\n",
            section("Lists of the vessel", _lists_table(contents), id_="lists") if contents.lists else None,
            section("Superseded: not to be worked from", _aside_table(contents), id_="superseded"),
        ),
        tag(
            "footer",
            tag("p", f"{PROGRAM}. {AN_AID} A hash is told by its first {SHOWN} signs; the table has it whole.", class_="small"),
        ),
        running=title,
    )


def _left_out_parts(contents: VesselContents) -> Iterator[Html]:
    from outputs.record.markup import AsItIs, items, join, section, tag

    without = [each for each in contents.left_out if each.standing is None]
    older = [each for each in contents.left_out if each.standing is not None]
    for title, found, name in (
        ("Panes that have no documents", without, "not-drawn"),
        ("Panes whose documents are not up to date", older, "not-up-to-date"),
    ):
        if found:
            listed = items(join(tag("b", AsItIs(each.code)), f": {each.reason}") for each in found)
            yield section(title, tag("div", listed, class_="warn"), id_=name)


def _valid_table(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table

    rows = (
        (
            _kept_whole(str(code)),
            AsItIs(str(name)),
            AsItIs(str(revision)),
            _kept_whole(str(mark)),
            _kept_whole(str(of)),
            AsItIs(str(says)),
            _state(str(told), held=bool(release)),
        )
        for code, name, revision, mark, of, says, told, release in valid_rows(contents)
    )
    return table("Revision and mark of each pane", ("pane", "name", "revision", "mark", "of", "what it changed", "state"), rows)


def _pane_tables(contents: VesselContents) -> Iterator[Content]:
    from outputs.record.markup import AsItIs, join, table, tag

    for facts, why in standing_of(contents):
        head = " · ".join(part for part in (facts.name, f"revision {facts.revision}" if facts.revision else "") if part)
        yield tag("h3", AsItIs(facts.code), f" {head}" if head else None)
        warning = release_words(facts)
        yield tag(
            "p",
            join("State of the checks: ", tag("b", state_words(facts, why)), "; mark ", AsItIs(facts.mark)),
            "; date of issue ",
            AsItIs(facts.date or NOT_GIVEN),
            join("; ", tag("b", warning)) if warning else None,
            ".",
        )
        rows = (
            (
                _kept_whole(each.number),
                each.name,
                ", ".join(each.readers),
                _files(each, f"{facts.code}/"),
                AsItIs(contents.replaces.get((facts.code, each.name), "")),
            )
            for each in facts.documents
        )
        yield table(f"Documents of {facts.code}", ("number", "document", "for", "files with hash", "replaces"), rows)


def _state(words: str, *, held: bool) -> Content:
    from outputs.record.markup import join, tag

    return join(words, tag("br"), tag("b", NOT_FOR_MANUFACTURE)) if held else words


def _kept_whole(words: str) -> Html:
    """A code, number, mark or day, which no line's end parts."""
    from outputs.record.markup import AsItIs, tag

    return tag("span", AsItIs(words), class_="code")


def _files(document: DocumentFacts, folder: str = "") -> Html:
    from outputs.record.markup import AsItIs, join, tag

    parts: list[Content] = []
    for each in document.files:
        parts += [tag("br")] if parts else []
        parts.append(join(AsItIs(f"{folder}{each.name} "), tag("span", AsItIs(each.sha256[:SHOWN]), class_="small")))
    return join(*parts)


def _reader_table(contents: VesselContents, reader: str) -> Html:
    from outputs.record.markup import AsItIs, table

    rows = (
        (
            _kept_whole(facts.code),
            _kept_whole(document.number),
            document.name,
            AsItIs(facts.revision),
            _kept_whole(facts.date or NOT_GIVEN),
            _state(state_words(facts, why), held=bool(facts.not_for_manufacture)),
            _kept_whole(facts.mark),
            AsItIs(", ".join(each.name.removeprefix(f"{facts.file_stem}-") for each in document.files)),
        )
        for facts, document, why in of_reader(contents, reader)
    )
    headings = ("pane", "number", "document", "revision", "date of issue", "state", "mark", "files")
    return table(f"Documents for the {reader}", headings, rows)


def _lists_table(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table

    rows = (
        (name, list_says(name), AsItIs(each.name), AsItIs(each.sha256[:SHOWN]))
        for name, files in contents.lists.items()
        for each in files
    )
    return table("Lists beside this register", ("list", "what it is", "file", "hash"), rows)


def _aside_table(contents: VesselContents) -> Html:
    from outputs.record.markup import AsItIs, table, tag

    if not contents.superseded:
        return tag("p", "No document has been superseded in this folder.")

    def row(each: Superseded) -> tuple[Content, ...]:
        return (
            _kept_whole(each.code),
            _kept_whole(each.document.number),
            each.document.name,
            AsItIs(each.revision),
            _kept_whole(each.date_of_issue or NOT_GIVEN),
            AsItIs(each.by),
            _kept_whole(each.date or NOT_GIVEN),
            AsItIs(each.folder),
            _files(each.document),
        )

    headings = ("pane", "number", "document", "revision", "date of issue", "superseded by", "on", "now in", "files with hash")
    return table("Moved aside, the newest issue first", headings, (row(each) for each in newest_first(contents)))


__all__ = ["register_page"]
