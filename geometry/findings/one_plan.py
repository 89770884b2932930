"""What to do as one plan: the smallest set of changes found that together make the pane pass, or as much of it as can.

Terms
-----
plan
    Changes of the job file that were tried together, as a whole: none of them can be left out without losing something.
cured
    A finding that fails or asks for a look today and passes with the plan.
left
    A finding that does not pass with the plan either; nothing that this program may change cures it.
given by others
    Pressures, data sheets, limits, the vessel: what a plan never changes, because it is nobody's choice at the drawing board.

The remedies of the findings are the steps. First one remedy is tried alone, then two together and so on; of those of equal number
the few that leave least to do are gone on with. At last every remedy is left out once, and stays out where it was not
needed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from geometry.detail.build import DetailError
from geometry.findings.proving import as_changed
from geometry.job import JobError, OutlineForm
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import WRONG, Change, Finding, Remedy, Verdict, outcome_of
from geometry.ledger.size import Origin
from geometry.sizing.sizes import KEYS
from geometry.workings.pane_mass import mass_of
from geometry.workings.quantities import quantities_of
from geometry.workings.subject import Subject

__all__ = ["Cost", "Plan", "PlannedChange", "plan_of"]

GIVEN_BY_OTHERS = ("adhesive", "sealant", "materials", "limits", "pressure", "loads", "temperatures", "vessel")
DEPTH = 6  # remedies in a plan, at most
BREADTH = 3  # plans of equal length that are gone on with
TRIALS = 80  # panes worked out for one plan, at most
NOTICED = 0.005  # share by which an amount must change to be told


Check = Callable[[Subject], tuple[Finding, ...]]
"""All findings of a pane, with their remedies."""


@dataclass(frozen=True, slots=True)
class PlannedChange:
    """A key of the job file, its value today (None: nothing) and in the plan."""

    key: str
    today: Any
    planned: Any

    @property
    def change(self) -> Change:
        """As a change of the job file."""
        return Change(self.key, self.planned)


@dataclass(frozen=True, slots=True)
class Cost:
    """What a plan takes or gives: an amount today and with the plan."""

    what: str
    today: float
    planned: float
    unit: str


@dataclass(frozen=True)
class Plan:
    """One set of changes, tried as a whole. ``steps`` are the remedies behind it, in words."""

    changes: tuple[PlannedChange, ...]
    steps: tuple[str, ...]
    verdict: Verdict
    cured: tuple[str, ...]
    left: tuple[Finding, ...]
    worse: tuple[str, ...]
    costs: tuple[Cost, ...]
    subject: Subject
    """The pane as planned."""


@dataclass(frozen=True)
class _Trial:
    """Remedies, the changes they come to together, and what was found with them. A later remedy outdoes an earlier one."""

    steps: tuple[Remedy, ...]
    subject: Subject
    findings: tuple[Finding, ...]

    @property
    def changes(self) -> dict[str, Any]:
        """The changed keys and their values."""
        return _together(self.steps)

    @property
    def rank(self) -> tuple[int, int, int]:
        """What is left to do, then the number of changes: less is better."""
        return (*self.undone, len(self.changes))

    @property
    def undone(self) -> tuple[int, int]:
        """Findings that fail, and those that ask for a look."""
        verdicts = [finding.verdict for finding in self.findings]
        return verdicts.count(Verdict.FAIL), verdicts.count(Verdict.LOOK)

    def wanting(self) -> list[Finding]:
        """What the next step should cure: what fails, or else what asks for a look."""
        for verdict in WRONG:
            found = [finding for finding in self.findings if finding.verdict is verdict]
            if found:
                return [finding.with_remedies() for finding in found]
        return []


def plan_of(
    subject: Subject,
    findings: tuple[Finding, ...],
    check: Check,
    *,
    trial: Check | None = None,
    plate: tuple[Finding, ...] = (),
    bent: Check | None = None,
) -> Plan | None:
    """The plan for a pane with these findings; None where nothing fails or asks for a look, or no change helps.

    ``check`` makes the findings of a changed pane, and ``trial``, where there is one, those of one that is only tried. Where the pane was
    bent on its bead, ``plate`` are the findings of that and ``bent`` makes them of a changed pane: seconds, so that only whole plans are
    tried with it. What it finds counts as all else does.
    """
    today, tries = _Trial((), subject, findings), _Tries(subject, check, trial or check)
    best = today if today.undone == (0, 0) else tries.whole(_searched(today, tries))
    if bent is not None:
        best = _with_plate(best, plate, bent, tries)
        today = replace(today, findings=(*findings, *plate))
    return None if best.undone >= today.undone else _plan(today, best)


def _with_plate(best: _Trial, plate: tuple[Finding, ...], bent: Check, tries: _Tries) -> _Trial:
    """The plan with the remedy of the plate that breaks least and what that asks for, where it leaves less than today's plate does; else the better
    of both plans, as the plate has them.
    """
    wrong = sorted((each for each in plate if each.verdict in WRONG), key=lambda each: WRONG.index(each.verdict))
    offered = [each for finding in wrong for each in finding.remedies if _ours(each)]
    remedy = min(offered, key=lambda each: len(each.then), default=None)
    more = None if remedy is None else tries.one((*best.steps, remedy))
    plans = []
    if more is not None and remedy is not None:
        if more.undone > best.undone:  # the remedy asks for more
            more = _searched(more, tries, needed=(remedy,))
        more = tries.whole(more)
        plans.append(replace(more, findings=(*more.findings, *bent(more.subject))))
    as_today = replace(best, findings=(*best.findings, *plate))
    if plans and plans[0].undone < as_today.undone:
        return plans[0]
    plans.append(as_today if not best.steps else replace(best, findings=(*best.findings, *bent(best.subject))))
    return min(plans, key=lambda plan: plan.rank)


class _Tries:
    """Works changed panes out, each set of changes once, and no more than ``TRIALS`` of them."""

    def __init__(self, subject: Subject, check: Check, trial: Check) -> None:
        self._subject, self._check, self._trial = subject, check, trial
        self._seen: set[str] = set()

    def one(self, steps: tuple[Remedy, ...]) -> _Trial | None:
        """A trial; None where these changes were tried, make no sound job or detail, or too many were tried."""
        changes = _together(steps)
        key = repr(sorted(changes.items(), key=lambda item: item[0]))
        if key in self._seen or len(self._seen) >= TRIALS:
            return None
        self._seen.add(key)
        try:
            changed = as_changed(self._subject, changes)
            return _Trial(steps, changed, self._trial(changed))
        except (JobError, DetailError):
            return None

    def whole(self, trial: _Trial) -> _Trial:
        """A trial with the findings as they are told; that of no steps has them."""
        return replace(trial, findings=self._check(trial.subject)) if trial.steps else trial


def _together(steps: Iterable[Remedy]) -> dict[str, Any]:
    """The changes of several remedies, a key inside a changed table set in that table."""
    found: dict[str, Any] = {}
    for change in (change for remedy in steps for change in remedy.changes):
        table, _, name = change.key.rpartition(".")
        if isinstance(found.get(table), Mapping):
            found[table] = {**found[table], name: change.value}
        else:
            found[change.key] = change.value
    return found


def _searched(today: _Trial, tries: _Tries, needed: tuple[Remedy, ...] = ()) -> _Trial:
    best, kept = today, [today]
    for _ in range(DEPTH):
        made = [trial for each in kept for trial in _with_one_more(each, tries)]
        kept = sorted(made, key=lambda trial: trial.rank)[:BREADTH]
        if kept and kept[0].undone < best.undone:
            best = kept[0]
        if not kept or best.undone == (0, 0):
            break
    return _without_the_needless(best, tries, needed)


def _with_one_more(trial: _Trial, tries: _Tries) -> Iterator[_Trial]:
    for finding in trial.wanting():
        for remedy in finding.remedies:
            if not _ours(remedy):
                continue
            made = tries.one((*trial.steps, remedy))
            if made is not None:
                yield made


def _ours(remedy: Remedy) -> bool:
    """Whether a remedy is a change of the job file, and of nothing that others give."""
    return bool(remedy.changes) and not any(change.key.split(".")[0] in GIVEN_BY_OTHERS for change in remedy.changes)


def _without_the_needless(trial: _Trial, tries: _Tries, needed: tuple[Remedy, ...]) -> _Trial:
    for remedy in trial.steps:
        if any(remedy is each for each in needed):
            continue
        fewer = tuple(each for each in trial.steps if each is not remedy)
        made = tries.one(fewer) if fewer else None
        if made is not None and made.undone <= trial.undone:
            trial = made
    return trial


def _plan(today: _Trial, best: _Trial) -> Plan:
    before = {finding.name: finding.verdict for finding in today.findings}
    after = _worst_by_name(best.findings)
    changes = best.changes
    whole = [remedy.sentence for remedy in best.steps if _stands(remedy, best.steps)]
    return Plan(
        changes=tuple(_planned(today.subject, changes)),
        steps=tuple(dict.fromkeys(whole)),
        verdict=outcome_of(best.findings),
        cured=tuple(
            name for name, verdict in _worst_by_name(today.findings).items() if verdict in WRONG and after.get(name) not in WRONG
        ),
        left=tuple(finding for finding in best.findings if finding.verdict in WRONG and before.get(finding.name) in WRONG),
        worse=tuple(name for name, verdict in after.items() if verdict in WRONG and before.get(name) not in WRONG),
        costs=tuple(_costs(today.subject, best.subject)),
        subject=best.subject,
    )


def _stands(remedy: Remedy, steps: Iterable[Remedy]) -> bool:
    """Whether all of a remedy is in the plan; of a table that it changes, what no other remedy sets by itself."""
    planned = _leaves(_together(steps))
    apart = {change.key for each in steps for change in each.changes}
    for change in remedy.changes:
        wanted = _leaves({change.key: change.value})
        if any(planned.get(key) != value for key, value in wanted.items() if key == change.key or key not in apart):
            return False
    return True


def _leaves(changes: Mapping[str, Any]) -> dict[str, Any]:
    """Changes with those of a whole table as changes of its keys."""
    found: dict[str, Any] = {}
    for key, value in changes.items():
        found |= {f"{key}.{name}": each for name, each in value.items()} if isinstance(value, Mapping) else {key: value}
    return found


def _planned(subject: Subject, changes: Mapping[str, Any]) -> Iterator[PlannedChange]:
    """The changes with what stands there today; what the file gives already is none."""
    for key, value in changes.items():
        today, given = _today(subject, key)
        if not (given and today == value):
            yield PlannedChange(key, today, value)


def _worst_by_name(findings: Iterable[Finding]) -> dict[str, Verdict]:
    order = (Verdict.PASS, Verdict.NOT_CHECKED, Verdict.LOOK, Verdict.FAIL)
    found: dict[str, Verdict] = {}
    for finding in findings:
        known = found.setdefault(finding.name, finding.verdict)
        found[finding.name] = max(known, finding.verdict, key=order.index)
    return found


def _today(subject: Subject, key: str) -> tuple[Any, bool]:
    """What stands behind a key today, and whether the file gives it; a size that it leaves out is the one worked out."""
    for name, of_size in KEYS.items():
        if of_size == key:
            size = getattr(subject.sizes, name)
            return size.value, size.origin is Origin.GIVEN
    holder: Any = subject.pane if key.split(".")[0] in type(subject.pane).model_fields else subject.job
    given = holder.source_of(key) == "given"
    for step in key.split("."):
        holder = getattr(holder, step, None)
    return holder.model_dump(exclude_none=True) if isinstance(holder, OutlineForm) else holder, given


def _costs(today: Subject, planned: Subject) -> Iterator[Cost]:
    """Mass, daylight and what is bought, where they change."""
    amounts = [
        Cost("mass of the pane", mass_of(today, Ledger()).value, mass_of(planned, Ledger()).value, "kg"),
        Cost("daylight", today.detail.daylight_area / 1e6, planned.detail.daylight_area / 1e6, "m²"),
    ]
    before = {row.what: row for row in quantities_of(today, Ledger()).rows}
    for row in quantities_of(planned, Ledger()).rows:
        known = before.get(row.what)
        amounts.append(Cost(row.what, known.amount if known else 0.0, row.amount, row.unit))
    yield from (each for each in amounts if abs(each.planned - each.today) > NOTICED * max(abs(each.today), abs(each.planned)))
