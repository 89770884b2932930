"""The findings in the record: what fails and what to do about it, what passes, what was not checked.

Terms
-----
basis
    How far a rule or a limit can be trusted, as one letter; the letters are told once.
place of a sum
    The number of the sum behind a value, a link on a screen.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum
from typing import TYPE_CHECKING

from geometry.ledger.finding import Finding, Side, Verdict
from geometry.rules.calculation import Status
from outputs.record.markup import AsItIs, Html, items, join, tag
from outputs.record.numbers import number
from outputs.record.parts import in_columns, relation, value_of
from outputs.record.plan_part import as_typed

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.findings.state import Flag
    from geometry.ledger.finding import Remedy
    from outputs.record.worked import Worked

_CLASS = {Verdict.FAIL: "fail", Verdict.LOOK: "look", Verdict.PASS: "pass", Verdict.NOT_CHECKED: "open"}
BASES = {
    Status.PUBLISHED: "P",
    Status.SECOND_HAND: "S",
    Status.COMMON_PRACTICE: "C",
    Status.FROM_MEMORY: "M",
    Status.DERIVED: "D",
    Status.GIVEN: "G",
    Status.OWN_DEFAULT: "O",
}
"""The letter of each basis."""
WEAK = (Status.FROM_MEMORY, Status.COMMON_PRACTICE, Status.SECOND_HAND, Status.OWN_DEFAULT)
"""Kinds of source that a reader must see at once."""
WRONG_HEADINGS = ("flag", "what must hold, and what was found", "value", "limit", "place", "sum", "what to do")
PASS_HEADINGS = ("what must hold", "value and limit", "place", "sum", "")


def verdict_mark(verdict: Verdict) -> Html:
    """The verdict as a word in a box."""
    return tag("span", verdict.value.upper(), class_=f"verdict {_CLASS[verdict]}")


def basis_mark(status: Status) -> Html:
    """The letter of a basis; a weak one stands out."""
    return tag("span", BASES[status], class_="basis weak" if status in WEAK else "basis")


def bases_told() -> Html:
    """What the letters mean."""
    told = (join(basis_mark(status), f" {status.value}") for status in BASES)
    return tag(
        "p", "Basis of a rule or a limit: ", *(part for at, each in enumerate(told) for part in ("; " if at else None, each))
    )


def default_mark(key: str = "") -> Html:
    """The sign of a default value."""
    return join(tag("span", "DEFAULT", class_="default"), join(" ", AsItIs(key)) if key else "")


def sum_link(finding: Finding, worked: Worked) -> Html:
    """The number of the sum behind a finding, empty where it stands on none."""
    use = None if finding.figure is None else worked.use_of(finding.figure)
    return join() if use is None else tag("a", AsItIs(use.label), href=f"#{use.id_}")


def flags_table(flags: Sequence[Flag], worked: Worked, *, caption: str) -> Html:
    """What fails first, then what to look at, then what decides and was not checked; each with what to do."""
    head = tag("tr", (tag("th", each, scope="col") for each in WRONG_HEADINGS))
    return tag(
        "table",
        tag("caption", caption),
        tag("thead", head),
        tag("tbody", (join(_flag(each, worked), "\n") for each in flags)),
        class_=f"flags {split_of(flags).name}".rstrip(),
    )


def _flag(flag: Flag, worked: Worked) -> Html:
    finding = flag.finding
    return tag(
        "tr",
        tag("th", tag("span", str(flag.number), class_="flag"), tag("br"), verdict_mark(finding.verdict), scope="row"),
        tag("td", tag("b", finding.name), " ", basis_mark(finding.status), tag("br"), finding.says, " ", _source(finding)),
        tag("td", f"{value_of(finding)} {finding.unit if finding.value is not None else ''}".rstrip(), class_="num"),
        tag("td", _limit(finding), class_="num"),
        tag("td", finding.where),
        tag("td", sum_link(finding, worked)),
        tag("td", remedies(finding.remedies)),
    )


def _limit(finding: Finding) -> str:
    if finding.limit is None:
        return ""
    return f"{'≥' if finding.side is Side.AT_LEAST else '≤'} {number(finding.limit)} {finding.unit}".rstrip()


def _source(finding: Finding) -> Html:
    words = _source_words(finding)
    return tag("span", "(", AsItIs(words), ")", class_="source") if words else join()


def _source_words(finding: Finding) -> str:
    """Where the rule is from, of a finding without a sum; else it stands once, with the sum."""
    return "" if finding.figure is not None else finding.source.removesuffix(finding.status.value).rstrip(" ;,:")


def remedies(found: Sequence[Remedy]) -> Html:
    """Every remedy with the keys that it changes."""
    lines = [
        join(
            str(remedy),
            (tag("span", " [", AsItIs("; ".join(map(as_typed, remedy.changes))), "]", class_="small"))
            if remedy.changes
            else None,
        )
        for remedy in found
    ]
    if not lines:
        return join("no remedy known")
    if len(lines) == 1:
        return join(lines[0])
    return join("one of: ", *(join(tag("b", f"{count}) "), line, " ") for count, line in enumerate(lines, start=1)))


@dataclass(frozen=True, slots=True)
class Split:
    """How the two wide columns of a table of flags share its width: signs on a line of what was found, and of what to do."""

    name: str  # of its class in the style
    found: int
    to_do: int


SPLITS = (Split("", 54, 32), Split("alike", 46, 40), Split("more", 38, 48), Split("most", 30, 56))


def split_of(flags: Sequence[Flag]) -> Split:
    """The split that takes the fewest lines."""
    return min(SPLITS, key=lambda split: fsum(_lines(flag, split) for flag in flags))


def _to_do(finding: Finding) -> float:
    """Signs of the remedies, the keys in their smaller lettering."""
    return sum(len(str(remedy)) + 0.85 * sum(len(as_typed(each)) + 2 for each in remedy.changes) for remedy in finding.remedies)


def lines_of_flags(flags: Sequence[Flag]) -> float:
    """Lines of text that flags take in a table of their own, reckoned with a little in hand."""
    return min(fsum(_lines(flag, split) for flag in flags) for split in SPLITS)


def _lines(flag: Flag, split: Split) -> float:
    finding, wide = flag.finding, split.found
    found = (len(finding.name) + 3) // wide + (len(finding.says) + 0.85 * len(_source_words(finding))) // wide + 2
    todo = (_to_do(finding) + 5 * len(finding.remedies)) // split.to_do + 1
    return max(found, todo, len(finding.where) // 11 + 1) + 0.3


def passed_table(findings: Iterable[Finding], worked: Worked) -> Html:
    """Everything that passes, value against limit, each on its line."""
    rows = [
        (
            each.name,
            join(relation(each)),
            each.where,
            sum_link(each, worked),
            basis_mark(each.status),
        )
        for each in findings
        if each.verdict is Verdict.PASS
    ]
    if not rows:
        return tag("p", "Nothing passes.")
    return in_columns("Findings that pass", PASS_HEADINGS, rows, 2, class_="passed")


def open_list(findings: Iterable[Finding]) -> Html:
    """What was not checked, by what was not given."""
    missing: dict[str, list[str]] = {}
    for each in findings:
        if each.verdict is Verdict.NOT_CHECKED:
            missing.setdefault(each.missing or each.says.removeprefix("not checked: "), []).append(each.name)
    if not missing:
        return tag("p", "Nothing that this program checks was left out for want of a value.")
    lines = (join(f"{says}: ", tag("b", "; ".join(names))) for says, names in missing.items())
    return items(lines)


__all__ = [
    "BASES",
    "Split",
    "bases_told",
    "basis_mark",
    "default_mark",
    "flags_table",
    "lines_of_flags",
    "open_list",
    "passed_table",
    "remedies",
    "split_of",
    "sum_link",
    "verdict_mark",
]
