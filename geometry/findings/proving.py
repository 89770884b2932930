"""Remedies proven: the changes are made in the job, the pane is worked out again, and the finding must pass.

A remedy that does not do what it says is not printed. What each check reads of the pane is written down while it is made. With
the changes made, a check that would read all the same again would find the same again: only the others are made anew.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from geometry.detail.build import DetailError, build_detail
from geometry.findings.checks import Check, judged_by
from geometry.job import JobError, with_changes
from geometry.ledger.figure import RoughLedger
from geometry.ledger.finding import WRONG, Finding, Remedy, Verdict
from geometry.workings.subject import Subject
from geometry.workings.watched import SharingLedger, TrialLedger, WatchedSubject, differences

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger


@dataclass(frozen=True)
class Made:
    """A check that was made: its findings, and the pane with all that was read of it."""

    check: Check
    findings: tuple[Finding, ...]
    read: WatchedSubject
    ledger: SharingLedger

    def after(self, changed: Subject, other: frozenset[str], ledger: Ledger) -> tuple[Finding, ...]:
        """Its findings on the changed pane, in which these fields are ``other``."""
        return self.findings if self.read.same_in(changed, other) else judged_by(self.check, changed, ledger)


def made(checks: Iterable[Check], subject: Subject, ledger: SharingLedger) -> tuple[Made, ...]:
    """Checks made of a pane, so that afterwards a changed pane is checked only where the change is seen."""
    every = tuple(_made(check, subject, ledger) for check in checks)
    ledger.close()
    return every


def _made(check: Check, subject: Subject, ledger: SharingLedger) -> Made:
    read = WatchedSubject(subject)
    findings = judged_by(check, read, ledger)
    read.close()  # what a remedy looks at decides no finding
    return Made(check, tuple(finding.with_remedies() for finding in findings), read, ledger)


def as_changed(subject: Subject, changes: Mapping[str, Any]) -> Subject:
    """The pane as it would be with other values at these keys. Raises ``JobError`` and ``DetailError`` where that is no pane."""
    job = with_changes(subject.job, subject.pane.code, changes)
    pane = next(pane for pane in job.panes if pane.code == subject.pane.code)
    return Subject(job, pane, build_detail(job, pane, cut=False), before=subject)


def changed_subject(subject: Subject, remedy: Remedy) -> Subject | None:
    """The pane as it would be with a remedy's changes made; None where it could not be built."""
    try:
        return as_changed(subject, {change.key: change.value for change in remedy.changes})
    except (JobError, DetailError):
        return None


def proven(every: Iterable[Made], subject: Subject) -> tuple[Finding, ...]:
    """The findings of all checks that were made of a pane, with only those remedies that cure them or that no key of the job file stands for.

    A remedy that makes another finding fail keeps its place and names that one.
    """
    every = tuple(every)
    findings = [finding for each in every for finding in each.findings]
    failing = {finding.name for finding in findings if finding.verdict is Verdict.FAIL}
    tried: dict[str, tuple[Finding, ...] | None] = {}  # several findings may ask for the same change

    def after(remedy: Remedy) -> tuple[Finding, ...] | None:
        key = repr(remedy.changes)
        if key not in tried:
            changed = changed_subject(subject, remedy)
            tried[key] = None if changed is None else _all_after(every, changed)
        return tried[key]

    return tuple(
        replace(finding, remedies=tuple(_kept(finding, failing, after))) if finding.remedies else finding for finding in findings
    )


def _all_after(every: Sequence[Made], changed: Subject) -> tuple[Finding, ...]:
    """All findings of a changed pane that knows the one before."""
    other, ledger = _trial(every, changed)
    return tuple(finding for each in every for finding in each.after(changed, other, ledger))


def _trial(every: Sequence[Made], changed: Subject) -> tuple[frozenset[str], Ledger]:
    """The fields in which a changed pane is other than before, and the ledger of its trial."""
    assert changed.before is not None
    other = differences(changed.before, changed)
    return other, TrialLedger(every[0].ledger, changed, other) if every else RoughLedger()


def found_after(every: Sequence[Made], changed: Subject) -> tuple[Finding, ...]:
    """All findings of a changed pane that knows the one before, for a trial: their figures name no inputs, and the remedies of those
    that do not pass are those of the changed pane, yet to be thought of (``Finding.with_remedies``).
    """
    other, ledger = _trial(every, changed)
    found: list[Finding] = []
    for each in every:
        findings = each.after(changed, other, ledger)
        if findings is each.findings and any(finding.verdict in WRONG for finding in findings):
            findings = judged_by(each.check, changed, ledger)  # a remedy may look at more than the check did
        found += findings
    return tuple(found)


def _kept(finding: Finding, failing: set[str], after: Callable[[Remedy], tuple[Finding, ...] | None]) -> Iterator[Remedy]:
    for remedy in finding.remedies:
        if not remedy.changes:
            yield remedy
            continue
        found = after(remedy)
        if found is not None and cured(finding, found):
            worse = dict.fromkeys(
                each.name
                for each in found
                if each.verdict is Verdict.FAIL and each.name not in failing and each.name != finding.name
            )
            yield replace(remedy, then=tuple(worse))


def cured(finding: Finding, after: Iterable[Finding]) -> bool:
    """Whether every finding of the same name (at the same place, where it names one that is still there) passes."""
    same = [each for each in after if each.name == finding.name]
    at_place = [each for each in same if each.where == finding.where] or same
    return bool(at_place) and all(each.verdict is Verdict.PASS for each in at_place)


__all__ = ["Made", "as_changed", "changed_subject", "cured", "found_after", "made", "proven"]
