"""What to do as one plan, in words: the changes as they are typed, what they cure, what they leave, what they cost."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from typing import TYPE_CHECKING

from outputs.record.markup import AsItIs, Html, join, section, tag
from outputs.record.numbers import number, signed
from outputs.record.parts import relation

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.findings.one_plan import Cost, Plan, PlannedChange
    from geometry.ledger.finding import Change, Finding

__all__ = ["as_typed", "plan_heading", "plan_lines", "plan_section", "toml_value"]

TITLE = "what to do, as one plan"
LEAVES = "leaves"


def plan_heading(plan: Plan) -> str:
    """What the plan comes to, in one clause."""
    count = len(plan.changes)
    said = f"{count} {'change' if count == 1 else 'changes'} of the job file, tried together"
    return f"{said}: the pane would then be {plan.verdict.value.upper()}"


def plan_lines(plan: Plan) -> Iterator[tuple[str, list[str]]]:
    """Headings, each with its lines: the changes, the remedies behind them, what is cured, left and made worse, the cost."""
    yield plan_heading(plan), [_typed(each) for each in plan.changes]
    if plan.steps:
        yield "that is", list(plan.steps)
    if plan.cured:
        yield "cures", list(plan.cured)
    if plan.left:
        yield LEAVES, [f"{each.verdict.value}: {each.name}{f': {each.says}' if each.says else ''}" for each in plan.left]
    if plan.worse:
        yield "brings", list(plan.worse)
    if plan.costs:
        yield "costs or saves", [_cost(each) for each in plan.costs]


def plan_section(plan: Plan) -> Html:
    """The plan in the record, first of what to do; what it leaves with its value then against its limit, the words stand with the flags."""
    told = [
        (
            heading,
            [_left(each) for each in plan.left] if heading == LEAVES else [AsItIs(each) if not at else each for each in lines],
        )
        for at, (heading, lines) in enumerate(plan_lines(plan))
    ]
    return section(
        "What to do, as one plan",
        (_paragraph(heading, lines) for heading, lines in told),
        id_="plan",
    )


def _left(each: Finding) -> Html:
    """The finding with its value against its limit, on one line."""
    held = relation(each)
    return join(f"{each.verdict.value}: {each.name}", (", ", tag("span", held, class_="result")) if held else None)


def _paragraph(heading: str, lines: Sequence[str]) -> Html:
    return tag("p", tag("b", f"{heading}: "), *(("; ", each) if at else each for at, each in enumerate(lines)))


def _typed(each: PlannedChange) -> str:
    if each.today is None:
        return as_typed(each.change)
    today = toml_value(each.today)
    return f"{as_typed(each.change)} ({'as worked out today' if today == toml_value(each.planned) else f'today {today}'})"


def _cost(each: Cost) -> str:
    unit = f" {each.unit}" if each.unit else ""
    return f"{each.what}: {number(each.today)} to {number(each.planned)}{unit} ({signed(each.planned - each.today)})"


def as_typed(change: Change) -> str:
    """A change of the job as it is typed into the file, its key dotted.

    >>> from geometry.ledger.finding import Change
    >>> as_typed(Change("frit.width", 38.0)), as_typed(Change("held", True)), as_typed(Change("frit.outline", None))
    ('frit.width = 38', 'held = true', 'leave frit.outline out')
    """
    return f"leave {change.key} out" if change.value is None else f"{change.key} = {toml_value(change.value)}"


def toml_value(value: object) -> str:
    """A value as the job file writes it."""
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{key} = {toml_value(each)}' for key, each in value.items())} }}"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(toml_value(each) for each in value)}]"
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    return json.dumps(value)
