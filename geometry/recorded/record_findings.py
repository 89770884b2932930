"""What a record comes to: every entry and every interval held against the pane's own limits, and what nobody wrote down.

Terms
-----
outcome
    Pass; look (kept, but not as drawn: a person decides); fail; not recorded (never a pass); no limit (the job gives none to hold it against).
wrong paper
    The record was written on a paper of another revision, or of a job that has changed since: its mark is another.
day of use
    Of the sealant the day of the backfill, of all else the day of bonding.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from geometry.job.session import session_of
from geometry.recorded.interval_findings import interval_findings
from geometry.recorded.outcomes import Outcome, RecordFinding
from geometry.recorded.record_fields import (
    NOT_USED,
    PRODUCTS,
    SEALANT,
    TEAR_RESULTS,
    FieldGroup,
    FieldKind,
    RecordField,
)
from geometry.recorded.record_values import value_words
from geometry.rules.day import climate
from geometry.workings.session_releases import days_after, whole_day

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.findings.check import PaneCheck
    from geometry.recorded.bonding_record import BondingRecord
    from geometry.workings.subject import Subject

__all__ = ["JudgedRecord", "RecordState", "judged_record", "limits_words", "together"]


class RecordState(StrEnum):
    """What every answer says of a pane's bonding, the worst first."""

    WRONG_PAPER = "bonded by another paper"
    OUTSIDE = "bonded, outside its limits"
    NOT_FULLY = "not fully recorded"
    DEVIATIONS = "bonded, with deviations"
    AS_DRAWN = "bonded as drawn"
    NO_RECORD = "no record"


@dataclass(frozen=True, slots=True)
class JudgedRecord:
    """A pane's record with what it comes to: findings in the order of the form, those on the paper first."""

    check: PaneCheck
    record: BondingRecord
    fields: tuple[RecordField, ...]
    findings: tuple[RecordFinding, ...]

    def of(self, outcome: Outcome) -> tuple[RecordFinding, ...]:
        """The findings that come out so."""
        return tuple(finding for finding in self.findings if finding.outcome is outcome)

    @property
    def state(self) -> RecordState:
        """The state of the pane's bonding."""
        if any(finding.group is None for finding in self.of(Outcome.FAIL)):
            return RecordState.WRONG_PAPER
        if self.of(Outcome.FAIL):
            return RecordState.OUTSIDE
        if self.of(Outcome.NOT_RECORDED):
            return RecordState.NOT_FULLY
        return RecordState.DEVIATIONS if self.of(Outcome.LOOK) else RecordState.AS_DRAWN

    @property
    def fails(self) -> bool:
        """Whether a reading fails or the paper was the wrong one."""
        return bool(self.of(Outcome.FAIL))

    @property
    def deviations(self) -> tuple[RecordFinding, ...]:
        """What does not keep to the drawing: what fails, then what a person looks at."""
        return (*self.of(Outcome.FAIL), *self.of(Outcome.LOOK))


def judged_record(check: PaneCheck, record: BondingRecord, fields: tuple[RecordField, ...]) -> JudgedRecord:
    """One pane's record held against its own limits; ``fields`` are those of the pane, and the record's code is its code."""
    used = {name for name, _ in PRODUCTS if record.text(f"{name}.lot").casefold() != NOT_USED}
    findings = [*_paper(check, record)]
    for field in fields:
        findings += _of_field(field, record, used)
    findings += _products(check.subject, record, used)
    findings += _diagonals(check.subject, record)
    findings += _dry(check.subject, record)
    findings += interval_findings(check, record)
    findings += _days(check, record)
    findings += _people(record)
    order = {group: number for number, group in enumerate(FieldGroup)}
    findings.sort(key=lambda finding: -1 if finding.group is None else order[finding.group])
    return JudgedRecord(check, record, fields, tuple(findings))


def _paper(check: PaneCheck, record: BondingRecord) -> Iterator[RecordFinding]:
    """Revision and mark of the paper, told before all else."""
    pane = check.subject.pane
    if record.revision != pane.revision:
        both = f"the record is of revision {record.revision or 'none'}, the job has {pane.revision or 'none'}"
        yield RecordFinding("paper of the same revision", Outcome.FAIL, None, ("revision",), says=both)
    if record.mark != check.mark:
        both = f"the record carries the mark {record.mark or 'none'}, the job now has {check.mark}"
        yield RecordFinding(
            "paper of the same mark",
            Outcome.FAIL,
            None,
            ("mark",),
            says=f"{both}: the readings are held against limits of the job as it is",
        )


# Entry by entry.


def _of_field(field: RecordField, record: BondingRecord, used: set[str]) -> Iterator[RecordFinding]:
    product = field.id.partition(".")[0] if field.group is FieldGroup.LOTS else ""
    if product and product not in used:
        return
    value = record.entries.get(field.id)
    if value is None:
        if field.needed:
            yield RecordFinding(field.words, Outcome.NOT_RECORDED, field.group, (field.id,), says="not recorded")
        return
    outcome, says = Outcome.PASS, value_words(field, value)
    if isinstance(value, float) and not isinstance(value, bool):
        outcome = _between(field, value)
        if field.id.startswith("gap.") and value <= 0:
            outcome, says = Outcome.FAIL, "the glass touches the frame"
        elif outcome is Outcome.FAIL:
            says = f"{value:g}, {limits_words(field)}"
        yield RecordFinding(field.words, outcome, field.group, (field.id,), value, field.least, field.most, field.unit, says)
        return
    if field.kind is FieldKind.YES_NO and value is False:
        outcome, says = Outcome.FAIL, "no"
    elif field.id == "tear_test.result" and value != TEAR_RESULTS[0]:
        soft = value == TEAR_RESULTS[-1]
        outcome = Outcome.NOT_RECORDED if soft else Outcome.FAIL
        says = "still soft, no result yet: tear it again" if soft else f"{value}, allowed: {TEAR_RESULTS[0]}"
    elif field.kind is FieldKind.CHOICE and value != field.choices[0]:
        outcome, says = Outcome.FAIL, f"face {value}, as ordered: face {field.choices[0]}"
    yield RecordFinding(field.words, outcome, field.group, (field.id,), says=says)


def _between(field: RecordField, value: float) -> Outcome:
    low = field.least is not None and value < field.least - 1e-9
    high = field.most is not None and value > field.most + 1e-9
    return Outcome.FAIL if low or high else Outcome.PASS


def limits_words(field: RecordField) -> str:
    """The limits of a field in words."""
    unit = f" {field.unit}" if field.unit else ""
    parts = [("least", field.least), ("most", field.most)]
    return ", ".join(f"{name} {value:g}" for name, value in parts if value is not None) + unit


def _products(subject: Subject, record: BondingRecord, used: set[str]) -> Iterator[RecordFinding]:
    """Expiry on the day of use, another product than the job names, and what was left out."""
    wanted = {"adhesive": subject.job.adhesive.name, SEALANT: subject.job.sealant.name}
    for name, words in PRODUCTS:
        ids = (f"{name}.lot",)
        if name not in used:
            yield RecordFinding(f"{words} used", Outcome.LOOK, FieldGroup.LOTS, ids, says=f"the record says {NOT_USED}")
            continue
        typed, asked = record.text(f"{name}.product"), wanted.get(name, "")
        if typed and asked and _plain(typed) != _plain(asked):
            says = f"the pack says {typed}, the job {asked}"
            yield RecordFinding(f"{words} as in the job", Outcome.LOOK, FieldGroup.LOTS, (f"{name}.product",), says=says)
        expiry = record.date(f"{name}.expiry")
        day, when = ("backfill.date", "backfill") if name == SEALANT else ("bonding.date", "bonding")
        on = record.date(day)
        if expiry is None:
            continue  # told as not recorded
        what, fields = f"{words} in date", (f"{name}.expiry", day)
        if on is None:
            yield RecordFinding(
                what, Outcome.NOT_RECORDED, FieldGroup.LOTS, fields, says=f"the day of the {when} is not recorded"
            )
        else:
            late = expiry < on
            says = f"use by {expiry}, {when} on {on}" + (": expired" if late else "")
            yield RecordFinding(what, Outcome.FAIL if late else Outcome.PASS, FieldGroup.LOTS, fields, says=says)


def _plain(name: str) -> str:
    return "".join(sign for sign in name.casefold() if sign.isalnum())


def _diagonals(subject: Subject, record: BondingRecord) -> Iterator[RecordFinding]:
    """How far the two diagonals differ, where the order says how far they may."""
    most, ids = subject.pane.tolerances.diagonals, ("goods_in.diagonal_rising", "goods_in.diagonal_falling")
    both = [record.number(name) for name in ids]
    if most is None or both[0] is None or both[1] is None:
        return
    apart = round(abs(both[0] - both[1]), 6)
    outcome = Outcome.PASS if apart <= most + 1e-9 else Outcome.FAIL
    says = f"they differ by {apart:g}, most {most:g} mm"
    yield RecordFinding("diagonals alike", outcome, FieldGroup.GOODS_IN, ids, apart, None, most, "mm", says)


def _dry(subject: Subject, record: BondingRecord) -> Iterator[RecordFinding]:
    """Glass and frame above the dew point of each reading by the margin: the rule of the day, with what was read."""
    margin = subject.pane.limits.dew_margin
    for number in (1, 2, 3):
        air, humidity = (record.number(f"climate.{number}.{name}") for name in ("air", "humidity"))
        if air is None or humidity is None:
            continue
        least = climate.least_surface_temperature(air=air, humidity=humidity, margin=margin)
        for name in ("frame", "glass"):
            surface = record.number(f"climate.{number}.{name}")
            if surface is None:
                continue
            fails = surface < least - 1e-9
            says = f"{surface:g} °C, least {least:.1f} °C: dew point {least - margin:.1f} °C and {margin:g} K"
            yield RecordFinding(
                f"{name} above the dew point, reading {number}",
                Outcome.FAIL if fails else Outcome.PASS,
                FieldGroup.CLIMATE,
                (f"climate.{number}.{name}", f"climate.{number}.air", f"climate.{number}.humidity"),
                surface,
                least,
                None,
                "°C",
                says,
            )


def _days(check: PaneCheck, record: BondingRecord) -> Iterator[RecordFinding]:
    """Nothing before the bonding; the joint not closed before the day that the card tells."""
    bonded, closed = record.bonded, record.date("backfill.date")
    plan = check.time_plan
    if bonded is not None and closed is not None and plan is not None:
        first = whole_day(plan.backfill_day)
        home = record.pressed_home or bonded
        least = days_after(home, first)
        early = least is None or closed < least
        says = f"closed on {closed}, not before {least or 'the bead has cured'}: bonded on {home}, day {first}"
        yield RecordFinding(
            "joint not closed too early",
            Outcome.FAIL if early else Outcome.PASS,
            FieldGroup.DAY,
            ("backfill.date", "bonding.date"),
            says=says,
        )
    session = session_of(check.subject.job, check.subject.pane)
    if bonded is not None and session is not None and session.date is not None:
        same = bonded == session.date
        says = f"on {bonded}" if same else f"on {bonded}, its session is on {session.date}"
        yield RecordFinding(
            "bonded on the day of its session",
            Outcome.PASS if same else Outcome.LOOK,
            FieldGroup.DAY,
            ("bonding.date",),
            says=says,
        )
    for name, what, group in (
        ("tear_test.date", "tear test", FieldGroup.TEAR_TEST),
        ("signature.date", "signature", FieldGroup.NAMES),
    ):
        day = record.date(name)
        if bonded is not None and day is not None and day < bonded:
            says = f"on {day}, bonded on {bonded}"
            yield RecordFinding(f"{what} not before the bonding", Outcome.FAIL, group, (name, "bonding.date"), says=says)


def _people(record: BondingRecord) -> Iterator[RecordFinding]:
    """Two people: who bonds does not check himself (common practice, no source)."""
    bonded, checked = (record.text(f"name.{name}") for name in ("bonded", "checked"))
    if bonded and _plain(bonded) == _plain(checked):
        says = f"{checked} bonded and checked"
        yield RecordFinding(
            "checked by a second person", Outcome.LOOK, FieldGroup.NAMES, ("name.bonded", "name.checked"), says=says
        )


def together(judged: Sequence[JudgedRecord], quantity: int) -> RecordState:
    """The state of all the panes of one code: the worst of them; where one of the quantity has no record, not fully recorded at best."""
    if not judged:
        return RecordState.NO_RECORD
    states = {each.state for each in judged}
    if len({each.record.piece for each in judged}) < quantity:
        states.add(RecordState.NOT_FULLY)
    return next(state for state in RecordState if state in states)
