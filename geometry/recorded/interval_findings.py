"""From time to time: flash-offs not shorter than the plan's, primed and activated faces not left too long, the last press before the abort.

The plan's own steps say which times an interval runs between; the open time is that of the climate that was read, by the rule of the day.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.recorded.outcomes import Outcome, RecordFinding
from geometry.recorded.record_fields import LAST_PRESS, FieldGroup, step_id
from geometry.rules.day import climate
from geometry.rules.day import time_plan as rules
from geometry.workings.on_the_day import on_the_day
from geometry.workings.time_plan import open_time_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.findings.check import PaneCheck
    from geometry.recorded.bonding_record import BondingRecord

__all__ = ["interval_findings"]

BEAD = "both_bead"
WIPED = {"frame": "frame_wipe_flash", "glass": "glass_wipe_flash"}
PRIMING = {"frame": "frame_prime", "glass": "glass_prime"}
PRIMED = {"frame": "frame_primer_flash", "glass": "glass_unmask"}
"""Steps whose beginning is the end of the one before: the wipe is done, the primer begins, the primer is done."""
FACE = {"frame": "landing", "glass": "glass"}


def interval_findings(check: PaneCheck, record: BondingRecord) -> Iterator[RecordFinding]:
    """Every interval of the record that has a limit; what lacks one of its times is not recorded."""
    work = check.subject.pane.work
    for chain, face in FACE.items():
        least = getattr(work, f"{chain}_wipe_flash")
        yield _interval(record, f"{face}: flash-off of the activator", WIPED[chain], PRIMING[chain], least=least)
    for chain, face in FACE.items():
        least = getattr(work, f"{chain}_primer_flash")
        yield _interval(record, f"{face}: flash-off of the primer", PRIMED[chain], BEAD, least=least)
    plan = check.time_plan
    for wait in () if plan is None else sorted(on_the_day(check.subject, plan).waits, key=lambda wait: wait.primed):
        what = "primed face wetted in time" if wait.primed else "activated face primed in time"
        until = LAST_PRESS if wait.until is None else step_id(wait.until)
        yield _interval(record, f"{FACE[wait.face]}: {what}", step_id(wait.after), until, most=wait.longest)
    yield _open_time(check, record)
    if record.repeated:
        steps = ", ".join(name.removeprefix("step.").removesuffix(".at").replace("_", " ") for name in record.repeated)
        says = f"begun more than once: {steps}; the last time counts"
        yield RecordFinding("done at the first attempt", Outcome.LOOK, FieldGroup.TIMES, record.repeated, says=says)


def _interval(
    record: BondingRecord, name: str, first: str, last: str, *, least: float | None = None, most: float | None = None
) -> RecordFinding:
    ids = (f"step.{first}.at", f"step.{last}.at")
    start, end = (record.minute(each) for each in ids)
    if start is None or end is None:
        return RecordFinding(name, Outcome.NOT_RECORDED, FieldGroup.TIMES, ids, says="one of its times is not recorded")
    took = round(end - start, 6)
    if took < 0:
        says = f"its times run backwards by {-took:g} min; past midnight a time is written as 00:05 +1"
        return RecordFinding(name, Outcome.FAIL, FieldGroup.TIMES, ids, took, least, most, "min", says)
    if least is None and most is None:
        says = f"{_told(took)} min; the job gives no longest wait"
        return RecordFinding(name, Outcome.NO_LIMIT, FieldGroup.TIMES, ids, took, None, None, "min", says)
    short, long = least is not None and took < least - 1e-9, most is not None and took > most + 1e-9
    limit = f"least {least:g}" if least is not None else f"most {most:g}"
    outcome = Outcome.FAIL if short or long else Outcome.PASS
    return RecordFinding(name, outcome, FieldGroup.TIMES, ids, took, least, most, "min", f"{_told(took)} min, {limit} min")


def _open_time(check: PaneCheck, record: BondingRecord) -> RecordFinding:
    """From the first bead to the last press, against the share of the open time in the worse of the climates at bead and press."""
    name, ids = "last press before the abort", (f"step.{BEAD}.at", f"step.{LAST_PRESS}.at")
    read = [(record.number(f"climate.{n}.air"), record.number(f"climate.{n}.humidity")) for n in (2, 3)]
    climates = [(air, humidity) for air, humidity in read if air is not None and humidity is not None]
    start, end = (record.minute(each) for each in ids)
    if start is None or end is None or len(climates) < len(read):
        says = "one of its times, or the climate at bead or press, is not recorded"
        return RecordFinding(name, Outcome.NOT_RECORDED, FieldGroup.TIMES, ids, says=says)
    share = check.subject.pane.work.open_time_share / 100.0
    sheet = {name: asked.value for name, asked in open_time_of(check.subject).items() if name != "humidity"}
    opened = min(climate.open_time(air=air, humidity=humidity, **sheet) for air, humidity in climates)
    limit = rules.time_limit(open_time=opened, share=share)
    took = round(end - start, 6)
    outcome = Outcome.PASS if 0 <= took <= limit + 1e-9 else Outcome.FAIL
    back = "; its times run backwards" if took < 0 else ""
    says = f"{_told(took)} min from the first bead, most {limit:.1f} min: {share:.0%} of {opened:.1f} min in the air that was read{back}"
    return RecordFinding(name, outcome, FieldGroup.TIMES, ids, took, None, limit, "min", says)


def _told(minutes: float) -> str:
    return f"{minutes:.1f}".removesuffix(".0")
