"""An invented record of a pane whose bonding went as planned: what tests cross out, change and read back. Lots and names are invented."""

from __future__ import annotations

import datetime
import math
from functools import cache
from pathlib import Path

from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.recorded.record_fields import FieldKind, record_fields, step_id
from geometry.rules.day.time_plan import StepKind

WREN = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")
CODES = [pane.code for pane in WREN.panes]
BONDED = datetime.date(2026, 5, 4)


@cache
def sample(code):
    """A pane of the invented vessel, checked without the plate."""
    return check_pane(WREN, next(pane for pane in WREN.panes if pane.code == code))


def good_entries(check):
    """Every needed field of the pane, in the words that a file holds: readings as drawn, the clock of the plan, the job's climate."""
    day, plan = check.subject.pane.climate, check.time_plan
    begins = plan.start.hour * 60 + plan.start.minute
    minutes = {step_id(step): step.start for step in plan.steps if step.kind is not StepKind.WAIT_FOR_CLOCK}
    minutes["last_press"] = plan.last_press
    air = {
        "air": day.air,
        "humidity": day.humidity,
        "glass": day.surface or day.air,
        "frame": day.frame_surface or day.surface or day.air,
    }
    found = {}
    for field in record_fields(check):
        if not field.needed:
            continue
        part, _, rest = field.id.partition(".")
        if field.id == "backfill.date":
            found[field.id] = (BONDED + datetime.timedelta(days=math.ceil(plan.backfill_day - 1e-9))).isoformat()
        elif field.kind is FieldKind.DATE:
            found[field.id] = "2027-01-31" if rest == "expiry" else BONDED.isoformat()
        elif field.step:
            found[field.id] = clock(begins + minutes[field.step])
        elif field.kind is FieldKind.CLOCK:
            when = {"1": 0.0, "2": plan.bead_starts, "3": plan.last_press}[field.sign]
            found[field.id] = clock(begins + when)
        elif part == "climate":
            found[field.id] = air[rest.partition(".")[2]]
        elif field.id == "piece.number":
            found[field.id] = 1
        elif field.kind is FieldKind.NUMBER:
            found[field.id] = within(field)
        elif field.kind is FieldKind.CHOICE:
            found[field.id] = field.choices[0]
        else:
            found[field.id] = "yes" if field.kind is FieldKind.YES_NO else f"invented {field.id.replace('.', ' ')}"
    for name, named in (("adhesive", check.subject.job.adhesive.name), ("sealant", check.subject.job.sealant.name)):
        found[f"{name}.product"] = named or f"invented {name}"
    return found


def within(field):
    """What is drawn, or as near to it as the limits allow, to a tenth."""
    wanted = field.wanted if field.wanted is not None else (field.least or 0.0)
    nearest = round(wanted, 1)
    return min(
        max(nearest, field.least if field.least is not None else nearest), field.most if field.most is not None else nearest
    )


def clock(minutes):
    """A time of day with seconds, past midnight +1."""
    seconds = round(minutes * 60)
    days, rest = divmod(seconds, 86400)
    told = f"{rest // 3600:02d}:{rest // 60 % 60:02d}:{rest % 60:02d}"
    return f"{told} +{days}" if days else told


def document(check, entries, **head):
    """The JSON of the page."""
    pane = check.subject.pane
    told = {
        "schema": 1,
        "kind": "bonding record",
        "program": "test",
        "code": pane.code,
        "revision": pane.revision,
        "mark": check.mark,
    }
    return {**told, **head, "entries": entries}
