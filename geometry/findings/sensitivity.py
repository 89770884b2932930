"""Which millimetre matters: every margin of a pane once more with one size of it changed by a little.

Terms
-----
step
    One change of the job file: one size 1 mm more, 10 K, or 1 mm/m of bow. All else stays as the job file gives it; a size
    that the file leaves out is worked out again and may follow.
trial
    A step tried: the pane worked out again and every quick finding held against it, or the reason why it cannot be.
effect
    One finding before and after a step.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.detail.build import DetailError
from geometry.findings.check import quick_findings
from geometry.findings.proving import as_changed
from geometry.job import JobError
from geometry.ledger.finding import Change, Finding, Verdict
from geometry.sizing.temperatures import bonded, cases_of
from geometry.workings.section_sums import bow_read, longest_side

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.workings.subject import Subject

KELVIN = 10.0
MILLIMETRE = 1.0
SLOPE = 1.0  # mm/m


@dataclass(frozen=True, slots=True)
class State:
    """A finding's outcome: value and margin in the finding's unit, None where it was not checked."""

    value: float | None
    margin: float | None
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """The effect of one step on one finding; ``after`` is None where the finding is no longer made."""

    change: str
    finding: str
    unit: str
    before: State
    after: State | None

    @property
    def difference(self) -> float | None:
        """Margin after less margin before, in ``unit``; None where one of them is missing."""
        if self.after is None or self.before.margin is None or self.after.margin is None:
            return None
        return self.after.margin - self.before.margin


@dataclass(frozen=True, slots=True)
class Trial:
    """One step: what it is called, the changes of the job file, and its effects or why it cannot be tried."""

    change: str
    changes: tuple[Change, ...]
    effects: tuple[Sensitivity, ...] = ()
    refused: str = ""


class _Refused(Exception):
    """A step that the form of this pane does not allow; the sentence says why."""


def sensitivities(subject: Subject) -> tuple[Trial, ...]:
    """Every step tried on one pane, in a fixed order. Some tenths of a second; no plate is worked out."""
    before = {finding.name: finding for finding in quick_findings(subject) if finding.margin is not None}
    return tuple(_trial(subject, name, changes_of, before) for name, changes_of in _STEPS)


def _trial(subject: Subject, name: str, changes_of: Callable[[Subject], dict[str, Any]], before: dict[str, Finding]) -> Trial:
    try:
        wanted = changes_of(subject)
    except _Refused as reason:
        return Trial(name, (), refused=str(reason))
    changes = tuple(Change(key, value) for key, value in wanted.items())
    try:
        changed = as_changed(subject, wanted)
    except JobError as error:
        return Trial(name, changes, refused="; ".join(f"{problem.key}: {problem.found}" for problem in error.problems))
    except DetailError as error:
        return Trial(name, changes, refused=str(error))
    after = {finding.name: finding for finding in quick_findings(changed)}
    return Trial(name, changes, tuple(_effects(name, before, after)))


def _effects(change: str, before: dict[str, Finding], after: dict[str, Finding]) -> Iterator[Sensitivity]:
    for name, was in before.items():
        now = after.get(name)
        yield Sensitivity(change, name, was.unit, _state(was), None if now is None else _state(now))


def _state(finding: Finding) -> State:
    return State(finding.value, finding.margin, finding.verdict)


def _joint(subject: Subject) -> dict[str, Any]:
    if subject.pane.recess_outline is not None and not subject.pane.outline_worked_out:
        raise _Refused("the recess has an outline of its own, which no joint width moves")
    return {"joint.width": subject.sizes.joint_width.value + MILLIMETRE}


def _frit(subject: Subject) -> dict[str, Any]:
    if subject.pane.frit_outline is not None:
        raise _Refused("the print has an outline of its own, which no frit width moves")
    return {"frit.width": subject.sizes.frit_width.value + MILLIMETRE}


def _corner_radius(subject: Subject) -> dict[str, Any]:
    form = subject.pane.outline
    if subject.pane.outline_worked_out:
        raise _Refused("the outline of the glass is worked out from the recess and the joint")
    if form.corner_count == 0:
        raise _Refused(f"an outline of the form {form.form} has no corner radius")
    radius = form.radius or 0.0
    if isinstance(radius, tuple):
        return {"outline.radius": [each + MILLIMETRE for each in radius]}
    return {"outline.radius": radius + MILLIMETRE}


def _cases(subject: Subject) -> dict[str, Any]:
    at = bonded(subject.pane)

    def away(temperature: float, bonding: float) -> float:
        return temperature + KELVIN if temperature >= bonding else temperature - KELVIN

    cases = {
        case.name: {"frame": away(case.frame, at.frame), "glass": away(case.glass, at.glass)} for case in cases_of(subject.pane)
    }
    return {"temperatures.cases": cases}


def _bonding_day(subject: Subject) -> dict[str, Any]:
    climate = subject.pane.climate
    changes = {"climate.air": climate.air + KELVIN}
    if subject.pane.temperatures.bonding is not None:
        changes["temperatures.bonding"] = subject.pane.temperatures.bonding + KELVIN
    for name in ("surface", "frame_surface"):
        given = getattr(climate, name)
        if given is not None:
            changes[f"climate.{name}"] = given + KELVIN
    return changes


def _bow(subject: Subject) -> dict[str, Any]:
    """Of the order, or of the pane as made where that was read."""
    read = bow_read(subject)
    if read is None:
        return {"bow": subject.pane.bow + SLOPE}
    return {"made.bow": read.value + SLOPE * longest_side(subject) / 1000}


_STEPS: tuple[tuple[str, Callable[[Subject], dict[str, Any]]], ...] = (
    ("joint width + 1 mm", _joint),
    ("bond thickness + 1 mm", lambda s: {"bond.thickness": s.sizes.bond_thickness.value + MILLIMETRE}),
    ("bond width + 1 mm", lambda s: {"bond.width": s.sizes.bond_width.value + MILLIMETRE}),
    ("frit width + 1 mm", _frit),
    ("landing + 1 mm", lambda s: {"recess.landing": s.sizes.landing.value + MILLIMETRE}),
    ("glass corner radius + 1 mm", _corner_radius),
    ("temperature cases 10 K further from bonding", _cases),
    ("bonding day 10 K warmer", _bonding_day),
    ("bow + 1 mm/m", _bow),
)


__all__ = ["Sensitivity", "State", "Trial", "sensitivities"]
