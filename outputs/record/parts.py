"""What the record, the terminal and the data file count and print alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import TOUCH, Finding, Side, Verdict
from outputs.record.markup import Html, tag
from outputs.record.numbers import number, signed

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.workings.subject import Subject
    from outputs.record.markup import Content

VERDICTS = (Verdict.FAIL, Verdict.LOOK, Verdict.PASS, Verdict.NOT_CHECKED)
"""The order in which a reader wants them."""


def counts(findings: Iterable[Finding]) -> dict[Verdict, int]:
    """How many findings came out each way, every verdict named."""
    found = dict.fromkeys(VERDICTS, 0)
    for finding in findings:
        found[finding.verdict] += 1
    return found


def summary(findings: Sequence[Finding]) -> str:
    """The counts as a clause.

    >>> summary(())
    'no findings'
    """
    if not findings:
        return "no findings"
    words = {Verdict.FAIL: "fail", Verdict.LOOK: "to look at", Verdict.PASS: "pass", Verdict.NOT_CHECKED: "not checked"}
    said = [f"{count} {words[verdict]}" for verdict, count in counts(findings).items() if count]
    return f"{len(findings)} {'finding' if len(findings) == 1 else 'findings'}: {', '.join(said)}"


def by_verdict(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """What fails first, then what to look at, then the rest; inside each the order in which they were made."""
    return tuple(sorted(findings, key=lambda finding: VERDICTS.index(finding.verdict)))


def defaults_of(findings: Iterable[Finding]) -> dict[str, tuple[str, ...]]:
    """Every key whose default value went in, with the names of the findings that stand on it."""
    found: dict[str, list[str]] = {}
    for finding in findings:
        for key in finding.defaults:
            found.setdefault(key, []).append(finding.name)
    return {key: tuple(names) for key, names in found.items()}


def office_values(subject: Subject) -> dict[str, list[str]]:
    """What the office's defaults gave of a pane and its vessel, by file: "bond.width (line 12)"."""
    found: dict[str, list[str]] = {}
    for key, place in subject.office_values.items():
        file, _, line = place.rpartition(", ")
        found.setdefault(file, []).append(f"{key} ({line})")
    return found


def by_table(keys: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Keys by the table of the job file in which they stand, "" for those of the pane itself.

    >>> by_table(["adhesive.waste", "bow", "adhesive.purge"])
    {'adhesive': ('waste', 'purge'), '': ('bow',)}
    """
    found: dict[str, list[str]] = {}
    for key in keys:
        table, _, name = key.rpartition(".")
        found.setdefault(table, []).append(name)
    return {table: tuple(names) for table, names in found.items()}


def value_of(finding: Finding) -> str:
    """The value as it is printed, "" where it was not checked."""
    return "" if finding.value is None else number(finding.value)


def limit_of(finding: Finding) -> str:
    """The limit with its side: "at least 12"."""
    return "" if finding.limit is None else f"{finding.side.value} {number(finding.limit)}"


def margin_of(finding: Finding) -> str:
    """The margin with its sign: + on the good side."""
    if finding.margin is None or finding.limit is None:
        return ""
    touches = abs(finding.margin) <= TOUCH * max(1.0, abs(finding.limit))  # then the value meets its limit
    return signed(0.0 if touches else finding.margin, digits=3)


def relation(finding: Finding) -> str:
    """Value and limit as one expression, with the sign of the side: with as many digits as tell them apart, or "=" where one meets the other.

    >>> from geometry.ledger.finding import Constraint
    >>> from geometry.rules.calculation import Status
    >>> relation(Constraint("a").judged(value=24, limit=30))
    '24 < 30 mm'
    >>> relation(Constraint("a").judged(value=-3.98903, limit=-3.98903)), relation(Constraint("a").judged(value=2.00001, limit=2))
    ('−3.989 = −3.989 mm', '2.00001 ≥ 2 mm')
    """
    if finding.value is None or finding.limit is None:
        return ""
    if finding.margin is not None and abs(finding.margin) <= TOUCH * max(1.0, abs(finding.limit)):
        return f"{number(finding.value)} = {number(finding.limit)} {finding.unit}".rstrip()
    value, limit = next(
        (
            pair
            for digits in (4, 5, 6, 7, 8)
            if len(set(pair := (number(finding.value, digits=digits), number(finding.limit, digits=digits)))) > 1
        ),
        (number(finding.value), number(finding.limit)),
    )
    met = finding.verdict is Verdict.PASS
    signs = {(Side.AT_LEAST, True): "≥", (Side.AT_LEAST, False): "<", (Side.AT_MOST, True): "≤", (Side.AT_MOST, False): ">"}
    return f"{value} {signs[finding.side, met]} {limit} {finding.unit}".rstrip()


def in_columns(
    caption: str, headings: Sequence[str], rows: Sequence[Sequence[Content]], columns: int, *, class_: str | None = None
) -> Html:
    """A long narrow table set side by side in columns of equal length, read downwards; the first cell of each row is its heading.

    A row of the page that the last column does not fill has empty cells.
    """
    height = -(-len(rows) // columns)

    def line(place: int) -> Html:
        cells: list[Html] = []
        for column in range(columns):
            at = column * height + place
            row = rows[at] if at < len(rows) and place < height else [""] * len(headings)
            filled = at < len(rows)
            first = tag("th", row[0], scope="row", class_="first") if filled else tag("td", class_="first")
            cells += [first, *(tag("td", each, class_="num") for each in row[1:])]
        return tag("tr", cells)

    head = tag(
        "tr",
        (tag("th", each, scope="col", class_="num" if at else None) for _ in range(columns) for at, each in enumerate(headings)),
    )
    return tag(
        "table",
        tag("caption", caption),
        tag("thead", head),
        tag("tbody", (line(place) for place in range(height))),
        class_=class_,
    )


__all__ = [
    "by_table",
    "by_verdict",
    "counts",
    "defaults_of",
    "in_columns",
    "limit_of",
    "margin_of",
    "office_values",
    "relation",
    "summary",
    "value_of",
]
