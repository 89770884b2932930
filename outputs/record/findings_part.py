"""What opens the record of a pane: what is not decided, the outcome, every finding with its remedies, and the defaults."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import WRONG, Finding, Verdict
from geometry.rules.calculation import Status
from geometry.sizing.tolerances import PaneTolerances
from geometry.workings.section_sums import tolerance
from geometry.workings.standing import standing
from outputs.record.markup import Html, items, join, section, table, tag
from outputs.record.numbers import quantity, value_text
from outputs.record.parts import by_verdict, defaults_of, limit_of, margin_of, relation, summary, value_of
from outputs.record.words import NOT_DECIDED
from outputs.sheets.words import outline_notes

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from geometry.findings.check import PaneCheck
    from geometry.ledger.figure import Figure
    from geometry.ledger.size import Size

_CLASS = {Verdict.FAIL: "fail", Verdict.LOOK: "look", Verdict.PASS: "pass", Verdict.NOT_CHECKED: "open"}
_COLUMNS = ("verdict", "what must hold", "value", "limit", "margin", "unit", "where", "sum")
WEAK = (Status.FROM_MEMORY, Status.COMMON_PRACTICE, Status.SECOND_HAND)
"""Kinds of source that a reader must see at once."""


def verdict_mark(verdict: Verdict) -> Html:
    """The verdict as a word in a box."""
    return tag("span", verdict.value.upper(), class_=f"verdict {_CLASS[verdict]}")


def status_mark(status: Status) -> Html:
    """The kind of a source; a weak one stands out."""
    return tag("strong", status.value) if status in WEAK else join(status.value)


def source_line(source: str, status: Status) -> Html:
    """Source and its kind, once where the source ends in the same words."""
    before = source.removesuffix(status.value)
    if before == source or before.rstrip().endswith((";", ",")):
        before = f"{before.rstrip(' ;,')}; "
    return tag("span", before, status_mark(status), ".", class_="source")


def default_mark(key: str = "") -> Html:
    """The sign of a default value."""
    return join(tag("span", "DEFAULT", class_="default"), f" {key}" if key else "")


def not_decided(check: PaneCheck) -> Html:
    """What this record leaves to others, and what was not checked on this pane."""
    open_ = [each for each in check.findings if each.verdict is Verdict.NOT_CHECKED]
    missing = [join(tag("b", each.name), f": {each.says}") for each in open_]
    return section(
        "What is not decided here",
        items(NOT_DECIDED),
        tag("h3", "Not checked on this pane"),
        items(missing) if missing else tag("p", "Nothing that this program checks was left out for want of a value."),
        id_="not-decided",
    )


def outcome(check: PaneCheck) -> Html:
    """The verdict in one line and what does not pass."""
    wrong = [each for each in by_verdict(check.findings) if each.verdict in WRONG]
    lines = [
        join(verdict_mark(each.verdict), " ", tag("b", each.name), f": {each.says}" if each.says else "", _related(each))
        for each in wrong
    ]
    nothing = "No finding fails and none asks for a look." if check.findings else "No finding was made."
    return section(
        "Outcome",
        tag("p", verdict_mark(check.verdict), f" {summary(check.findings)}."),
        *(tag("p", note) for note in outline_notes(check.subject.detail)),
        items(lines) if lines else tag("p", nothing),
        id_="outcome",
    )


def _related(finding: Finding) -> str:
    said = relation(finding)
    return f" ({said})" if said else ""


def sizes_table(sizes: Sequence[Size]) -> Html:
    """Every size of the section with where it comes from."""
    rows = (
        (
            size.name,
            value_text(size.value, digits=6),
            size.unit,
            "" if size.tolerance is None else f"± {value_text(size.tolerance)}",
            default_mark() if size.origin.value == "default" else size.origin_in_words,
            size.reason,
        )
        for size in sizes
    )
    headings = ("size", "value", "unit", "tolerance", "origin", "why")
    return table("Sizes of the section", headings, rows, numbers=(1, 3))


def findings_table(findings: Sequence[Finding], number_of: Callable[[Figure], str]) -> Html:
    """Every finding that was made, what fails first. ``number_of`` gives a figure its number on the page."""
    made = [each for each in by_verdict(findings) if each.verdict is not Verdict.NOT_CHECKED]
    head = tag("tr", (tag("th", each, scope="col") for each in _COLUMNS))
    return tag(
        "table",
        tag("caption", "Findings, what fails first. Margin: + on the good side of the limit."),
        tag("thead", head),
        (tag("tbody", "\n", _rows(each, number_of)) for each in made),
        class_="findings",
    )


def _rows(finding: Finding, number_of: Callable[[Figure], str]) -> Iterator[Html]:
    number = "" if finding.figure is None else number_of(finding.figure)
    named = join(
        tag("span", finding.name, class_="name"),
        tag("br") if finding.says else None,
        finding.says,
        tag("br"),
        source_line(finding.source, finding.status),
        join(" ", tag("span", default_mark(", ".join(finding.defaults)), class_="source")) if finding.defaults else None,
    )
    yield tag(
        "tr",
        tag("td", verdict_mark(finding.verdict)),
        tag("th", named, scope="row"),
        tag("td", value_of(finding), class_="num"),
        tag("td", limit_of(finding), class_="num"),
        tag("td", margin_of(finding), class_="num"),
        tag("td", finding.unit),
        tag("td", finding.where),
        tag("td", tag("a", number, href=f"#{number}") if number else ""),
    )
    if finding.remedies:
        lines = [
            join(str(remedy), tag("span", f" [{_changes(remedy.changes)}]", class_="small") if remedy.changes else None)
            for remedy in finding.remedies
        ]
        yield tag(
            "tr",
            tag("td"),
            tag(
                "td",
                tag("b", "What to do:"),
                items(lines) if len(lines) == 1 else (" one of these:", items(lines)),
                colspan=len(_COLUMNS) - 1,
            ),
        )


def _changes(changes: Sequence[object]) -> str:
    return ", ".join(f"{change.key} = {value_text(change.value, digits=6)}" for change in changes)  # type: ignore[attr-defined]


def defaults_table(check: PaneCheck) -> Html:
    """Which defaults went into which findings."""
    found = defaults_of(check.findings)
    if not found:
        return tag("p", "Every value that went into the findings was given in the job file or worked out from it.")
    rows = ((join(default_mark(), " ", key), _value_at(check, key), "; ".join(names)) for key, names in found.items())
    return table("Default values that went in: replace them", ("key", "value", "findings that stand on it"), rows)


def _value_at(check: PaneCheck, key: str) -> str:
    """The default as the job file would hold it, or as it went into a figure."""
    found = standing(check.subject, key)
    if found is not None and found[0] is not None:
        return quantity(found[0], found[1], digits=6)
    for figure in check.figures:
        for each in figure.inputs:
            if each.key == key:
                return quantity(each.value, each.unit, digits=6)
    for size in check.subject.sizes.all():
        if size.name == key:
            return quantity(size.value, size.unit, digits=6)
    if key.startswith("tolerances.") and hasattr(PaneTolerances, key.removeprefix("tolerances.")):
        return quantity(tolerance(check.subject, key.removeprefix("tolerances.")).value, "mm", digits=6)
    return "no single value: see what the findings say"


__all__ = [
    "default_mark",
    "defaults_table",
    "findings_table",
    "not_decided",
    "outcome",
    "sizes_table",
    "source_line",
    "status_mark",
    "verdict_mark",
]
