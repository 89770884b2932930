"""Which millimetre matters: one row for each finding, one column for each size changed by a little."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import Side, Verdict
from geometry.ledger.size import Origin
from outputs.record.findings_part import verdict_mark
from outputs.record.markup import AsItIs, Html, items, join, section, table, tag
from outputs.record.numbers import number
from outputs.record.words import SENSITIVITY, STACKS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from geometry.findings.sensitivity import Sensitivity, State, Trial
    from geometry.workings.stacks import Stack
    from outputs.record.markup import Content

NEAR = 0.1
"""A margin below this share of its limit is near."""
SAME = 1e-3
"""A change below this share of the value or its limit is not worth a figure."""


def sensitivity_section(trials: Sequence[Trial], stacks: Sequence[Stack], sides: Mapping[str, Side]) -> Html:
    """The matrix, what could not be tried, and the tolerances of four dimensions; ``sides`` are those of the limits by finding."""
    made = [trial for trial in trials if not trial.refused]
    refused = [join(tag("b", trial.change), f": {trial.refused}") for trial in trials if trial.refused]
    rows = list(zip(*(trial.effects for trial in made), strict=True))
    shown = [row for row in rows if _near(row) and any(_moved(each) for each in row)]
    rest = sum(1 for row in rows if any(_moved(each) for each in row)) - len(shown)
    return section(
        "Which millimetre matters",
        tag("p", SENSITIVITY),
        tag("div", _matrix(made, shown, sides), class_="wide-table") if shown else tag("p", "No value comes near its limit."),
        tag(
            "p", f"{rest} more {'value moves' if rest == 1 else 'values move'} and {'keeps' if rest == 1 else 'keep'} well clear."
        )
        if rest
        else None,
        (tag("p", "Not tried on this pane:"), items(refused)) if refused else None,
        tag("h3", "Tolerances: worst case and root of squares"),
        tag("p", STACKS),
        tag("div", [stack_table(stack) for stack in stacks], class_="stacks"),
        id_="sensitivity",
    )


def stack_table(stack: Stack) -> Html:
    """One stack: its tolerances, first the one of which a tenth buys most, and both sums."""
    rows: list[tuple[Content, ...]] = []
    for each in stack.ranked():
        worst, likely = stack.bought(each)
        named = join(AsItIs(each.key), "*" if each.origin is Origin.DEFAULT else "")
        rows.append((named, number(each.tolerance), number(each.moves), number(worst), number(likely)))
    rows += [
        ("together", "", f"±{number(stack.worst)} worst", "", f"±{number(stack.likely)} likely"),
        ("leaves", "", number(stack.at_worst), "", number(stack.at_likely)),
    ]
    head = ("tolerance (* default)", "± mm", "moves it, mm", "a tenth buys, worst, mm", "likely, mm")
    return table(f"{stack.name[0].upper()}{stack.name[1:]}: {number(stack.drawn)} mm as drawn", head, rows, numbers=(1, 2, 3, 4))


def _matrix(trials: Sequence[Trial], rows: Sequence[Sequence[Sensitivity]], sides: Mapping[str, Side]) -> Html:
    head = ("finding", "unit", "today", "limit", *(parted(trial.change) for trial in trials))
    return tag(
        "table",
        tag("caption", "Value of each finding after each change, against its limit"),
        tag("thead", tag("tr", (tag("th", each, scope="col") for each in head))),
        tag("tbody", ((_row(row, sides[row[0].finding]), "\n") for row in rows)),
        class_="matrix",
    )


PARTED = {"temperature": "tempera\u00adture"}
"""Words that are wider than a column, with the place at which a line may end in them."""


def parted(words: str) -> str:
    """Words of a head, with a soft hyphen where the column needs one.

    >>> parted("temperature cases").replace("\u00ad", "|")
    'tempera|ture cases'
    """
    return " ".join(PARTED.get(word, word) for word in words.split(" "))


def _row(row: Sequence[Sensitivity], side: Side) -> Html:
    first = row[0]
    before = first.before
    return tag(
        "tr",
        tag("th", first.finding, scope="row"),
        tag("td", first.unit),
        tag("td", "" if before.value is None else number(before.value), " ", _mark(before.verdict), class_="num"),
        tag("td", _limit(before, side), class_="num"),
        (_cell(each, side) for each in row),
    )


def _limit(state: State, side: Side) -> str:
    """The limit with the sign of its side: the value less the margin, or with it."""
    if state.value is None or state.margin is None:
        return ""
    return f"≥ {number(state.value - state.margin)}" if side is Side.AT_LEAST else f"≤ {number(state.value + state.margin)}"


def _mark(verdict: Verdict) -> Html | None:
    return None if verdict is Verdict.PASS else verdict_mark(verdict)


def _cell(each: Sensitivity, side: Side) -> Html:
    if each.after is None or each.after.value is None:
        return tag("td", "not asked")
    if not _moved(each):
        return tag("td", "·", class_="num")
    turned = each.after.verdict is not each.before.verdict
    limit = _limit(each.after, side)
    return tag(
        "td",
        number(each.after.value),
        join(" ", tag("span", limit, class_="small")) if limit != _limit(each.before, side) else None,
        (" ", verdict_mark(each.after.verdict)) if turned else None,
        class_="num",
    )


def _near(row: Sequence[Sensitivity]) -> bool:
    """Whether a finding does not pass, turns with a change, or stands within a tenth of its limit."""
    before = row[0].before
    if before.verdict is not Verdict.PASS or any(each.after is None or each.after.verdict is not before.verdict for each in row):
        return True
    return before.margin is not None and before.value is not None and before.margin <= NEAR * abs(before.value)


def _moved(each: Sensitivity) -> bool:
    if each.after is None or each.difference is None:
        return True
    value, margin = each.before.value or 0.0, each.before.margin or 0.0
    scale = max(abs(value), abs(value - margin), abs(margin))  # value, limit (on either side of it) and margin
    return abs(each.difference) > SAME * scale or each.after.verdict is not each.before.verdict


__all__ = ["parted", "sensitivity_section", "stack_table"]
