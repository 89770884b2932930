"""The first page of a record: the state of the checks, who made it and who signs, what fails, what is not decided."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from geometry.ledger.finding import Verdict
from outputs.record.findings_part import bases_told, flags_table, lines_of_flags, open_list
from outputs.record.markup import AsItIs, Html, items, join, section, tag
from outputs.record.numbers import number
from outputs.record.parts import summary
from outputs.record.words import NOT_DECIDED, TO_DECIDE
from outputs.sheets.contents import Contents
from outputs.sheets.letters import RECORD
from outputs.sheets.title import identification, quantity_and_hand, rake_words, warning
from outputs.sheets.words import files_outside, frame_words, governing_note, outline_notes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.findings.state import Flag
    from geometry.job import Job
    from outputs.record.worked import Worked

ACROSS = 5  # fields of the pane beside one another
LINES = 68.0
"""Lines of the table of flags that the first page would hold under its head with nothing behind them."""
OPEN_LINE = 62  # signs of a line of what was not checked


def contents_of(job: Job, check: PaneCheck) -> Contents:
    """The pane as the sheets know it."""
    return Contents(job, check.subject.pane, check.subject.detail, check)


def running_head(contents: Contents) -> str:
    """What stands at the head of every page."""
    pane = contents.pane
    revision = f"revision {pane.revision}" if pane.revision else ""
    name = f"Calculation record {identification(contents, RECORD)}"
    return " · ".join(part for part in (name, pane.name, revision, f"mark {contents.mark}") if part)


def state_section(contents: Contents, check: PaneCheck) -> Html:
    """What the pane is, what its checks came to, and the fields to sign."""
    words, _ = warning(contents)
    return section(
        "State of the checks",
        tag(
            "p",
            tag("b", check.state.told, class_=f"state {check.verdict.value.replace(' ', '-')}"),
            f" {summary(check.findings)}.",
        ),
        tag("p", tag("b", words), f" {', '.join(check.state.not_for_manufacture)}.", class_="warn") if words else None,
        *(tag("p", note) for note in _notes(contents.job, contents.detail)),
        _facts(contents),
        _signatures(contents.job),
        id_="state",
    )


def _facts(contents: Contents) -> Html:
    detail, pane, job = contents.detail, contents.pane, contents.job
    sheet, vessel = job.sheet, job.vessel
    facts = (
        ("Identification number", identification(contents, RECORD)),
        ("Pane", contents.title),
        ("Revision", detail.revision),
        ("Mark of the job", contents.mark),
        ("Vessel, yard number", vessel.title),
        ("Legal owner", sheet.owner),
        ("Date of issue", sheet.date.isoformat() if sheet.date else ""),
        ("Document status", sheet.status),
        ("Glass, from the weather side", f"{detail.glass.make_up()} mm, {detail.glass.treatment}"),
        ("Area and mass of one", f"{number(detail.area / 1e6)} m², {number(detail.glass.mass, digits=3)} kg"),
        ("Quantity, hand", quantity_and_hand(contents)),
        ("Frame", frame_words(detail.frame)),
        ("Rake", rake_words(pane.rake)),
        ("Approval reference", pane.approval_reference or sheet.approval_reference or "none given"),
    )
    as_they_are = ("Identification number", "Mark of the job", "Date of issue", "Approval reference")
    cells = [
        join(tag("span", name, class_="field"), tag("br"), AsItIs(value) if name in as_they_are else value)
        for name, value in facts
    ]
    rows = [cells[at : at + ACROSS] for at in range(0, len(cells), ACROSS)]
    rows[-1] += [join()] * (ACROSS - len(rows[-1]))
    head = tag("thead", tag("tr", (tag("th", f"field {count}", scope="col") for count in range(1, ACROSS + 1))), class_="hidden")
    body = tag("tbody", (tag("tr", (tag("td", cell) for cell in row)) for row in rows))
    return tag("table", tag("caption", "The pane", class_="hidden"), head, body, class_="facts")


def _signatures(job: Job) -> Html:
    """Made, checked, approved: a name that was not given stays blank, and so does every signature."""
    names = (("Made", job.sheet.drawn_by), ("Checked", job.sheet.checked_by), ("Approved", job.sheet.approved_by))
    head = tag("thead", tag("tr", (tag("th", each, scope="col") for each, _ in names)))
    blank = join(tag("span", "date", class_="field"), tag("br"), tag("span", "signature", class_="field"))
    rows = (
        tag("tr", (tag("td", tag("span", "name ", class_="field"), AsItIs(name)) for _, name in names)),
        tag("tr", (tag("td", blank, class_="blank") for _ in names)),
    )
    return tag("table", tag("caption", "To sign", class_="hidden"), head, tag("tbody", rows), class_="sign")


def parted(check: PaneCheck) -> tuple[Sequence[Flag], Sequence[Flag]]:
    """The flags that stand on the first page, and those that go on behind it: what is not decided ends the page."""
    flags = check.state.flags
    room = LINES - _lines_at_the_end(check)
    count = next((most for most in range(len(flags), 0, -1) if lines_of_flags(flags[:most]) <= room), 0)
    return flags[:count], flags[count:]


def _lines_at_the_end(check: PaneCheck) -> float:
    """Lines that the warning, the notes and what is not decided take of the first page, reckoned in lines of the flags."""
    opened = [len(each.name) + 2 for each in check.findings if each.verdict is Verdict.NOT_CHECKED]
    missing = {each.missing or each.says for each in check.findings if each.verdict is Verdict.NOT_CHECKED}
    standing = sum(len(each) // OPEN_LINE + 1 for each in (*NOT_DECIDED, *TO_DECIDE))
    not_checked = (fsum(opened) + fsum(map(len, missing))) / OPEN_LINE + 0.6 * len(missing)
    warned = 3.2 if check.state.not_for_manufacture else 0.0
    notes = _notes(check.subject.job, check.subject.detail)
    return 0.9 * (standing + not_checked + 4.0) / 2.0 + 5.0 + warned + 1.2 * len(notes)


def _notes(job: Job, detail: Detail) -> tuple[str, ...]:
    """What is told of the outlines, of files elsewhere and of the craft that the standards speak of."""
    return (*outline_notes(detail), *files_outside(detail), *governing_note(job.vessel.hull_length))


def wrong_section(flags: Sequence[Flag], all_flags: Sequence[Flag], worked: Worked) -> Html:
    """What does not pass, as far as the first page holds it."""
    if not all_flags:
        return section(
            "What fails, and what to do", tag("p", "No finding fails and none asks for a look."), bases_told(), id_="wrong"
        )
    rest = len(all_flags) - len(flags)
    told = f"Flags {flags[0].number} to {flags[-1].number}" if flags else "None fits here"
    return section(
        "What fails, and what to do",
        flags_table(flags, worked, caption="By flag number, the same on every document") if flags else None,
        tag("p", tag("b", f"{told}; {rest} more on the next page."), class_="small") if rest else None,
        bases_told(),
        id_="wrong",
    )


def more_wrong(flags: Sequence[Flag], worked: Worked) -> Html | None:
    """The flags that the first page does not hold."""
    if not flags:
        return None
    return section(
        "What fails, and what to do, continued", flags_table(flags, worked, caption="By flag number, continued"), id_="wrong-more"
    )


def not_decided(check: PaneCheck) -> Html:
    """What this record leaves to others, and what was not checked on this pane."""
    return section(
        "What is not decided here",
        tag(
            "div",
            items(NOT_DECIDED),
            tag("h3", "The engineer decides"),
            items(TO_DECIDE),
            tag("h3", "Not checked on this pane"),
            open_list(check.findings),
            class_="small-columns",
        ),
        id_="not-decided",
    )


__all__ = ["contents_of", "more_wrong", "not_decided", "parted", "running_head", "state_section", "wrong_section"]
