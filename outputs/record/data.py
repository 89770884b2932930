"""Findings, figures and the parts of a check as plain data for a machine, in a fixed order.

Terms
-----
plain
    Only tables, lists, texts, numbers, true, false and none. A value that is not finite becomes the word "infinite" or "not a
    number", because the standard of the format has no sign for it. A number has twelve digits that count: beyond them stand the
    last bits of a sum, which differ from one version of Python or of a library to the next.
"""

from __future__ import annotations

import dataclasses
import datetime
import json
import math
from collections.abc import Mapping, Sequence
from enum import Enum
from typing import TYPE_CHECKING, Any

from geometry.detail.on_vessel import landing_on_vessel, plan_on_vessel
from geometry.ledger.finding import worst
from geometry.outline.measure import area, perimeter
from geometry.workings.session_releases import releases_of
from outputs.record.joint_part import joint_data
from outputs.record.moved import state_of_pane
from outputs.record.numbers import settled
from outputs.record.parts import counts
from outputs.record.sessions import sessions_data
from outputs.record.together import planned_sessions, pooled_quantities
from outputs.sheets.words import files_outside, outline_notes
from outputs.version import IDENTITY

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.findings.one_plan import Plan
    from geometry.findings.sensitivity import State, Trial
    from geometry.findings.state import State as ChecksState
    from geometry.job import Job, Pane
    from geometry.ledger.figure import Figure
    from geometry.ledger.finding import Finding, Remedy
    from geometry.plate.results import BondStress, PressureResult
    from geometry.workings.movement import CaseMovement, Movement
    from geometry.workings.quantities import Quantities, Quantity
    from geometry.workings.session_plan import SessionPlan
    from geometry.workings.stacks import Stack
    from geometry.workings.subject import Subject
    from outputs.record.vessel_rows import PaneRow

Data = dict[str, Any]


def json_bytes(value: Data) -> bytes:
    """The data as a file, UTF-8, closed by a line feed."""
    return (json_text(value) + "\n").encode("utf-8")


def json_text(value: Data, *, ascii_only: bool = False) -> str:
    """The data as text, made plain, the order of its keys kept; ``ascii_only`` writes all other letters as escapes."""
    return json.dumps(plain(value), indent=2, ensure_ascii=ascii_only, allow_nan=False)


def plain(value: Any) -> Any:
    """A value of any kind as plain data.

    >>> plain((1.0, 0.1 + 0.2, float("inf"), None)), plain(datetime.time(8, 0))
    ([1.0, 0.3, 'infinite', None], '08:00:00')
    """
    if value is None or isinstance(value, (bool, int, str)):
        return value
    if isinstance(value, float):
        if math.isnan(value):
            return "not a number"
        return settled(value) if math.isfinite(value) else ("infinite" if value > 0 else "-infinite")
    if isinstance(value, Enum):
        return plain(value.value)
    if isinstance(value, (datetime.date, datetime.time)):
        return value.isoformat()
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, tuple) and hasattr(value, "_asdict"):
        return {name: plain(item) for name, item in value._asdict().items()}
    if isinstance(value, Mapping):
        return {str(name): plain(item) for name, item in value.items()}
    if isinstance(value, (set, frozenset)):
        return sorted((plain(item) for item in value), key=str)
    if isinstance(value, Sequence):
        return [plain(item) for item in value]
    if hasattr(value, "tolist"):  # arrays and their numbers
        return plain(value.tolist())
    return str(value)


def state_data(state: ChecksState) -> Data:
    """The state of a pane's checks and its flags, the same on every document."""
    return {
        "verdict": state.verdict.value,
        "state": state.words,
        "plate_run": state.plate.value,
        "not_for_manufacture": list(state.not_for_manufacture),
        "flags": [{"number": flag.number, "finding": flag.finding.name} for flag in state.flags],
    }


def finding_data(subject: Subject, finding: Finding) -> Data:
    """One finding with its remedies and the sum behind it."""
    return {
        "name": finding.name,
        "verdict": finding.verdict.value,
        "counted": finding.counted,
        "value": plain(finding.value),
        "limit": plain(finding.limit),
        "side": finding.side.value,
        "margin": plain(finding.margin),
        "unit": finding.unit,
        "where": finding.where,
        "at": None if finding.at is None else [plain(each) for each in finding.at],
        "part": finding.part,
        "says": finding.says,
        "source": finding.source,
        "status": finding.status.value,
        "remedies": [remedy_data(remedy) for remedy in finding.remedies],
        "defaults": list(finding.defaults),
        "figure": None if finding.figure is None else figure_data(subject, finding.figure),
    }


def remedy_data(remedy: Remedy) -> Data:
    """One remedy with the keys of the job file that it changes."""
    return {
        "sentence": remedy.sentence,
        "changes": [{"key": change.key, "value": plain(change.value)} for change in remedy.changes],
        "then": list(remedy.then),
    }


def figure_data(subject: Subject, figure: Figure) -> Data:
    """One figure: its rule, its inputs as they went in, its result."""
    return {
        "what": figure.what,
        "where": figure.where,
        "value": plain(figure.value),
        "unit": figure.unit,
        "rule": figure.record.name,
        "title": figure.record.title,
        "formula": figure.record.formula,
        "source": figure.record.source,
        "status": figure.record.status.value,
        "inputs": [
            {
                "name": each.name,
                "value": plain(each.value),
                "unit": each.unit,
                "origin": each.origin.value,
                "key": each.key,
                "given_by": subject.given_by(each.key) if each.key else "",
            }
            for each in figure.inputs
        ],
        "defaults": list(figure.defaults),
    }


def pane_data(check: PaneCheck, *, trials: Sequence[Trial] | None = None) -> Data:
    """Everything that was found on one pane; ``trials`` are left out where they were not made."""
    pane, detail = check.subject.pane, check.subject.detail
    found: Data = {
        "code": pane.code,
        "name": pane.name,
        "revision": pane.revision,
        "mark": check.mark,
        "origin": {"name": detail.origin.name, "at_mm": list(detail.origin.at)},
        "plan_on_vessel": plan_on_vessel(landing_on_vessel(pane, detail)),
        **state_data(check.state),
        "outline": outline_data(pane),
        "joint_round": plain(joint_data(check)),
        "outline_notes": list(outline_notes(detail)),
        "files_outside": list(files_outside(detail)),
        "counts": {verdict.value: count for verdict, count in counts(check.findings).items()},
        "findings": [finding_data(check.subject, finding) for finding in check.findings],
        "figures": [figure_data(check.subject, figure) for figure in check.figures],
        "sizes": [plain(size) for size in detail.sizes.all()],
        **{key: value for key, value in plain(state_of_pane(pane, detail)).items() if key not in ("code", "sizes")},
        "plate": None if check.plate is None else plate_data(check.plate),
        "laminate": plain(check.laminate),
        "movement": None if check.movement is None else movement_data(check.movement),
        "time_plan": plain(check.time_plan),
        "releases": None if check.time_plan is None else plain(releases_of(check.time_plan)),
        "fitting": plain(check.fitting),
        "carrying": plain(check.carrying),
        "quantities": None if check.quantities is None else quantities_data(check.subject, check.quantities),
        "plan": None if check.plan is None else plan_data(check.plan),
        "tolerances": [stack_data(stack) for stack in check.stacks],
    }
    if trials is not None:
        found["sensitivity"] = [trial_data(trial) for trial in trials]
    return found


def outline_data(pane: Pane) -> Data:
    """The glass as it was given or worked out: its size, its box in the coordinates of the file or drawing, and where it comes from.

    ``box_mm`` is left, bottom, right, top; ``mended`` what was put right in a drawing; ``deviation_mm`` how far arcs lie off drawn curves.
    """
    outline, line = pane.outline, pane.line_given
    came = line.incoming
    return {
        "area_mm2": plain(area(outline.local)),
        "perimeter_mm": plain(perimeter(outline.local)),
        "box_mm": [plain(each) for each in outline.box],
        "source": came.source if came is not None else f"typed: {line.form}",
        "mended": list(came.mended) if came is not None else [],
        "deviation_mm": plain(came.deviation if came is not None else line.fitted_deviation),
        "of": line.of if pane.follows_from != "recess" else "recess",
    }


def plan_data(plan: Plan) -> Data:
    """What to do as one plan: the changes, what they cure, leave and bring, what they cost."""
    return {
        "verdict": plan.verdict.value,
        "changes": [{"key": each.key, "today": plain(each.today), "planned": plain(each.planned)} for each in plan.changes],
        "steps": list(plan.steps),
        "cured": list(plan.cured),
        "left": [each.name for each in plan.left],
        "worse": list(plan.worse),
        "costs": [plain(each) for each in plan.costs],
    }


def stack_data(stack: Stack) -> Data:
    """One tolerance stack, mm: both sums, and its tolerances, first the one of which a tenth buys most."""
    return {
        "dimension": stack.name,
        "drawn": plain(stack.drawn),
        "worst_case": plain(stack.worst),
        "root_of_squares": plain(stack.likely),
        "tolerances": [
            {
                "key": each.key,
                "tolerance": plain(each.tolerance),
                "origin": each.origin.value,
                "moves": plain(each.moves),
                "tenth_buys": dict(zip(("worst_case", "root_of_squares"), map(plain, stack.bought(each)), strict=True)),
            }
            for each in stack.ranked()
        ],
    }


def vessel_data(job: Job, rows: Sequence[PaneRow], plans: Sequence[SessionPlan], together: Quantities | None) -> Data:
    """All the panes in brief, and what they take together."""
    return {
        "vessel": job.vessel.name,
        "yard_number": job.vessel.yard_number,
        "panes": [
            {
                "code": each.code,
                "name": each.name,
                "revision": each.revision,
                "quantity": each.quantity,
                "verdict": each.verdict.value,
                "counts": {verdict.value: count for verdict, count in each.counts.items()},
            }
            for each in rows
        ],
        "sessions": plain(sessions_data(tuple(plans))),
        "quantities": None if together is None else pooled_data(together),
    }


def job_data(job: Job, checks: Sequence[PaneCheck]) -> Data:
    """What ``check --json`` prints: every pane in full, then what they take together."""
    together = pooled_quantities(job, checks)
    return {
        "program": IDENTITY,
        "vessel": job.vessel.name,
        "schedule": list(job.told),
        "verdict": worst(check.verdict for check in checks).value,
        "panes": [pane_data(check) for check in checks],
        "sessions": plain(sessions_data(planned_sessions(job, checks))),
        "quantities": None if together is None else pooled_data(together),
    }


def quantities_data(subject: Subject, quantities: Quantities) -> Data:
    """The list with the sum behind each row."""
    figures = (None if row.figure is None else figure_data(subject, row.figure) for row in quantities.rows)
    return {"rows": [_quantity_data(row, figure) for row, figure in zip(quantities.rows, figures, strict=True)]}


def pooled_data(quantities: Quantities) -> Data:
    """The list of several panes together: a row of it has no sum of its own."""
    return {"rows": [_quantity_data(row, None) for row in quantities.rows]}


def _quantity_data(row: Quantity, figure: Data | None) -> Data:
    return {
        "what": row.what,
        "sizes": plain(row.sizes),
        "amount": plain(row.amount),
        "unit": row.unit,
        "to_buy": row.to_buy,
        "basis": row.basis,
        "figure": figure,
    }


def movement_data(movement: Movement) -> Data:
    """Every temperature case; the sums behind them stand among the figures."""
    return {"chocked": movement.chocked, "cases": [_case_data(case) for case in movement.cases]}


def _case_data(case: CaseMovement) -> Data:
    found = {
        field.name: plain(getattr(case, field.name))
        for field in dataclasses.fields(case)
        if field.name not in ("figure", "other")
    }
    return {**found, "other": None if case.other is None else _case_data(case.other)}


def plate_data(plate: BondStress) -> Data:
    """The pane on its bead under pressure; the mesh itself is left out, its stations stay."""
    rest = {
        field.name: plain(getattr(plate, field.name))
        for field in dataclasses.fields(plate)
        if field.name not in ("outward", "inward", "stress_map")
    }
    return {"outward": _pressure(plate.outward), "inward": _pressure(plate.inward), **rest}


def _pressure(result: PressureResult) -> Data:
    found: Data = plain(result)
    return found


def trial_data(trial: Trial) -> Data:
    """One step of the sensitivity with its effects, or why it could not be tried."""

    def state(each: State | None) -> Data | None:
        if each is None:
            return None
        return {"value": plain(each.value), "margin": plain(each.margin), "verdict": each.verdict.value}

    return {
        "change": trial.change,
        "changes": [{"key": change.key, "value": plain(change.value)} for change in trial.changes],
        "refused": trial.refused,
        "effects": [
            {"finding": each.finding, "unit": each.unit, "before": state(each.before), "after": state(each.after)}
            for each in trial.effects
        ],
    }


__all__ = [
    "figure_data",
    "finding_data",
    "job_data",
    "json_bytes",
    "json_text",
    "movement_data",
    "outline_data",
    "pane_data",
    "plain",
    "plan_data",
    "plate_data",
    "pooled_data",
    "quantities_data",
    "remedy_data",
    "stack_data",
    "state_data",
    "trial_data",
    "vessel_data",
]
