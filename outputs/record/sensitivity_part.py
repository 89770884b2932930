"""Which millimetre matters: one row for each finding, one column for each size changed by a little."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import Verdict
from geometry.ledger.size import Origin
from outputs.record.findings_part import default_mark, verdict_mark
from outputs.record.markup import Html, items, join, section, table, tag
from outputs.record.numbers import number, signed
from outputs.record.words import SENSITIVITY, STACKS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.sensitivity import Sensitivity, Trial
    from geometry.workings.stacks import Stack

SAME = 1e-3
"""A change below this share of the value or its limit is not worth a figure."""


def sensitivity_section(trials: Sequence[Trial], stacks: Sequence[Stack]) -> Html:
    """The matrix, what could not be tried, and the tolerances of four dimensions."""
    made = [trial for trial in trials if not trial.refused]
    refused = [join(tag("b", trial.change), f": {trial.refused}") for trial in trials if trial.refused]
    rows = [row for row in zip(*(trial.effects for trial in made), strict=True) if any(_moved(each) for each in row)]
    still = len(made[0].effects) - len(rows) if made else 0
    return section(
        "Which millimetre matters",
        tag("p", SENSITIVITY),
        tag("div", _matrix(made, rows), class_="wide") if rows else tag("p", "No margin changes."),
        tag("p", f"{still} more {'finding does' if still == 1 else 'findings do'} not change.") if rows and still else None,
        (tag("p", "Not tried on this pane:"), items(refused)) if refused else None,
        tag("h3", "Tolerances: worst case and root of squares"),
        tag("p", STACKS),
        [stack_table(stack) for stack in stacks],
        id_="sensitivity",
    )


def stack_table(stack: Stack) -> Html:
    """One stack: its tolerances, first the one of which a tenth buys most, and both sums."""
    rows = []
    for each in stack.ranked():
        worst, likely = stack.bought(each)
        named = default_mark(each.key) if each.origin is Origin.DEFAULT else each.key
        rows.append((named, number(each.tolerance), number(each.moves), number(worst), number(likely)))
    rows += [
        ("together", "", f"±{number(stack.worst)} worst case", "", f"±{number(stack.likely)} root of squares"),
        ("leaves", "", number(stack.at_worst), "", number(stack.at_likely)),
    ]
    head = ("tolerance", "± mm", "moves it, mm", "a tenth buys, worst case, mm", "a tenth buys, root of squares, mm")
    return table(f"{stack.name[0].upper()}{stack.name[1:]}: {number(stack.drawn)} mm as drawn", head, rows, numbers=(1, 2, 3, 4))


def _matrix(trials: Sequence[Trial], rows: Sequence[Sequence[Sensitivity]]) -> Html:
    head = ("finding", "unit", "margin today", *(trial.change for trial in trials))
    return tag(
        "table",
        tag("caption", "Change of each margin"),
        tag("thead", tag("tr", (tag("th", each, scope="col") for each in head))),
        tag("tbody", ((_row(row), "\n") for row in rows)),
        class_="matrix",
    )


def _row(row: Sequence[Sensitivity]) -> Html:
    first = row[0]
    margin = "" if first.before.margin is None else signed(first.before.margin, digits=3)
    return tag(
        "tr",
        tag("th", first.finding, scope="row"),
        tag("td", first.unit),
        tag("td", margin, " ", verdict_mark(first.before.verdict) if first.before.verdict is not Verdict.PASS else None),
        (_cell(each) for each in row),
    )


def _cell(each: Sensitivity) -> Html:
    if each.after is None or each.after.margin is None:
        return tag("td", "no longer asked")
    if not _moved(each):
        return tag("td", "·")
    turned = each.after.verdict is not each.before.verdict
    return tag(
        "td",
        tag("span", signed(each.difference or 0.0, digits=2), class_="num"),
        (" ", verdict_mark(each.after.verdict)) if turned else None,
    )


def _moved(each: Sensitivity) -> bool:
    if each.after is None or each.difference is None:
        return True
    value, margin = each.before.value or 0.0, each.before.margin or 0.0
    scale = max(abs(value), abs(value - margin), abs(margin))  # value, limit (on either side of it) and margin
    return abs(each.difference) > SAME * scale or each.after.verdict is not each.before.verdict


__all__ = ["sensitivity_section", "stack_table"]
