"""The values that the card's page works with, as plain data: the plan in exact minutes, limits, open time, fields of the record.

No figure is worked out here: the plan, what is judged on the day and the fields of the record come from ``geometry``, words and rounding from
the paper card.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from geometry.recorded.record_fields import LAST_PRESS, READ_TIMES, FieldKind, record_fields, step_id
from geometry.recorded.record_reading import KIND, RECORD_SCHEMA
from geometry.rules.day.time_plan import StepKind, minutes_of
from geometry.workings.on_the_day import on_the_day
from outputs.drawing.card_head import DO_NOT_FIT
from outputs.drawing.card_times import NO_TIME
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.recorded.record_fields import RecordField
    from geometry.workings.on_the_day import Wait
    from geometry.workings.time_plan import TimePlan


def page_values(check: PaneCheck) -> dict[str, Any]:
    """Everything the page's script reads. Raises ``ValueError`` for a check without its plan of the day."""
    plan = check.time_plan
    if plan is None:
        raise ValueError("the card's page needs the plan of the day of its pane")
    pane, day = check.subject.pane, on_the_day(check.subject, plan)
    return {
        "record": {
            "schema": RECORD_SCHEMA,
            "kind": KIND,
            "program": PROGRAM,
            "code": pane.code,
            "revision": pane.revision,
            "mark": check.mark,
        },
        "stem": pane.file_stem,
        "do_not_fit": DO_NOT_FIT,
        "when": list(READ_TIMES),
        "against": list(check.state.not_for_manufacture),
        "state": check.state.told,
        "passes": not check.state.flags,
        "undecided": check.state.deciding,
        "begins": minutes_of(plan.start),
        "steps": _steps(plan),
        "limit": plan.limit,
        "elapsed": day.elapsed,
        "in_place": day.in_place,
        "ahead": day.ahead,
        "no_time": NO_TIME,
        "last_press": LAST_PRESS,
        "climate": asdict(day.climate),
        "open_time": asdict(day.open_time),
        "waits": [_wait(each) for each in day.waits],
        "fields": [_field(each) for each in record_fields(check)],
    }


def _steps(plan: TimePlan) -> list[dict[str, Any]]:
    """The steps of the card's clock, in exact minutes from the start of work; the wait for a full quarter is none of them."""
    late = (StepKind.LIFT, StepKind.ALIGN, StepKind.PRESS)
    return [
        {
            "id": step_id(step),
            "chain": step.chain,
            "kind": step.kind.name.lower(),
            "start": step.start,
            "length": step.length,
            "in_place": step.kind in late,
        }
        for step in plan.steps
        if step.kind is not StepKind.WAIT_FOR_CLOCK
    ]


def _wait(wait: Wait) -> dict[str, Any]:
    return {
        "face": wait.face,
        "primed": wait.primed,
        "after": step_id(wait.after),
        "until": LAST_PRESS if wait.until is None else step_id(wait.until),
        "longest": wait.longest,
    }


def _field(field: RecordField) -> dict[str, Any]:
    """What the script has to know of a field: how it is read and between which limits."""
    told: dict[str, Any] = {"id": field.id, "kind": field.kind.value}
    if field.step:
        told["step"] = field.step
    if field.kind is FieldKind.NUMBER:
        told |= {"unit": field.unit, "least": field.least, "most": field.most, "world": field.world}
    return told


__all__ = ["page_values"]
