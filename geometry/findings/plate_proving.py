"""Remedies of the bent pane proven: the changes are made, the pane is bent on its bead again, and the finding must come out better.

Terms
-----
cures
    With the changes the finding passes.
eases
    With the changes a finding that fails is one to be looked at: kept where nothing in reach cures it, with the figure that is left.
Bending a pane takes seconds, so few are tried: a remedy is chosen by a guess, and the plate says whether it holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from geometry.findings.holding import plate_checks
from geometry.findings.holding.combined_checks import AT_GAP
from geometry.findings.holding.plate_remedies import ways
from geometry.findings.proving import changed_subject, cured
from geometry.ledger.figure import RoughLedger
from geometry.ledger.finding import WRONG, Finding, Remedy, Verdict
from geometry.plate.results import pulled_hardest
from geometry.rules.rounding import number

if TYPE_CHECKING:
    from geometry.findings.holding.plate_remedies import Way
    from geometry.plate.results import BondStress
    from geometry.workings.subject import Subject

RUNS = 4  # panes bent for the remedies of one pane, at most
MARGIN = 0.93  # of the limit, aimed at: a guess that just fails costs another run
TENSIONS = (plate_checks.OUTWARD.name, plate_checks.INWARD.name, AT_GAP.name)

Check = Callable[["Subject"], tuple[Finding, ...]]


def bent(subject: Subject) -> tuple[Finding, ...]:
    """All findings of the plate of a changed pane."""
    return plate_checks.worked_out(subject, RoughLedger())[1]


def proven_by_plate(
    subject: Subject, stress: BondStress, findings: tuple[Finding, ...], quick: Check, failing: frozenset[str]
) -> tuple[Finding, ...]:
    """The findings of the plate with those remedies that cure or ease them; ``quick`` makes the other findings of a changed pane, of
    which those in ``failing`` fail today.
    """
    trials = _Trials(subject, quick, failing)
    proposed = [remedy for finding in findings for remedy in finding.remedies if remedy.changes]
    for remedy in proposed:
        trials.made(remedy)
    pulled = [each for each in findings if each.name in TENSIONS and each.verdict in WRONG]
    if pulled:
        _by_ways(subject, stress, pulled, trials)
    return tuple(_with_the_proven(finding, trials) for finding in findings)


@dataclass
class _Tried:
    """A remedy, what the plate found with it and which quick findings fail with it that pass today."""

    remedy: Remedy
    found: tuple[Finding, ...]
    then: tuple[str, ...]


@dataclass
class _Trials:
    """The remedies that were tried, in their order."""

    subject: Subject
    quick: Check
    failing: frozenset[str]
    tried: list[_Tried] = field(default_factory=list)
    runs: int = 0

    def made(self, remedy: Remedy) -> _Tried | None:
        """The trial of a remedy; None where the changed pane cannot be built or bent."""
        from geometry.plate.glass import PlateInputError

        changed = changed_subject(self.subject, remedy)
        if changed is None:
            return None
        try:
            found = bent(changed)
        except PlateInputError:
            return None
        then = (each.name for each in self.quick(changed) if each.verdict is Verdict.FAIL and each.name not in self.failing)
        self.tried.append(_Tried(remedy, found, tuple(dict.fromkeys(then))))
        return self.tried[-1]


def _by_ways(subject: Subject, stress: BondStress, pulled: list[Finding], trials: _Trials) -> None:
    """Tries one way after the other until one cures or eases what is pulled hardest and breaks nothing else."""
    worst = max(pulled, key=_over)
    result = stress.inward if worst.name == plate_checks.INWARD.name else stress.outward
    place = pulled_hardest(result.reactions).point
    for way in ways(subject, place):
        if trials.runs >= RUNS or _tried_way(subject, way, worst, trials):
            return


def _over(finding: Finding) -> float:
    return finding.value or 0.0


def _tried_way(subject: Subject, way: Way, worst: Finding, trials: _Trials) -> bool:
    """Whether a size of a way is proven and breaks nothing: the least that cures, or one that eases a finding that fails; a second size
    where the first did not do.
    """
    design, now = float(subject.asked("adhesive.design_tension").value), _over(worst)
    goals = [min(design, worst.limit or design), *([worst.limit] if worst.verdict is Verdict.FAIL and worst.limit else [])]
    for _ in range(2):
        size = next((found for goal in goals if (found := way.size_for(MARGIN * goal / now)) is not None), None)
        remedy = None if size is None else way.made(size)
        if size is None or remedy is None or trials.runs >= RUNS:
            return False
        trials.runs += 1
        tried = trials.made(remedy)
        if tried is None:
            return False
        if _better(worst, tried.found):
            return not tried.then
        value = max((_over(each) for each in tried.found if each.name == worst.name), default=now)
        way = way.after(size, value / now)
    return False


def _better(finding: Finding, after: tuple[Finding, ...]) -> bool:
    return cured(finding, after) or _eased(finding, after)


def _eased(finding: Finding, after: tuple[Finding, ...]) -> bool:
    same = [each.verdict for each in after if each.name == finding.name]
    return finding.verdict is Verdict.FAIL and bool(same) and all(each in (Verdict.PASS, Verdict.LOOK) for each in same)


def _with_the_proven(finding: Finding, trials: _Trials) -> Finding:
    if finding.verdict not in WRONG:
        return finding
    left = tuple(each for each in finding.remedies if not each.changes)
    return replace(finding, remedies=(*_proven(finding, trials), *left))


def _proven(finding: Finding, trials: _Trials) -> Iterator[Remedy]:
    """Those that cure first, then those that ease; with the figure that the plate has for each."""
    for good in (cured, _eased):
        for tried in trials.tried:
            if not good(finding, tried.found) or (good is _eased and cured(finding, tried.found)):
                continue
            after = next(each for each in tried.found if each.name == finding.name)
            left = ", to be looked at by the engineer" if good is _eased else ""
            told = f"{tried.remedy.sentence} ({number(_over(after), 3)} {finding.unit} then{left})"
            yield replace(tried.remedy, sentence=told, then=tried.then)


__all__ = ["RUNS", "bent", "proven_by_plate"]
