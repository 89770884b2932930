"""What the record of a vessel tells of one pane: the same from its check and from what was noted of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.ledger.finding import Verdict
from outputs.record.parts import defaults_of, relation

if TYPE_CHECKING:
    from collections.abc import Mapping

    from geometry.findings.check import PaneCheck
    from geometry.ledger.finding import Finding


@dataclass(frozen=True, slots=True)
class OpenRow:
    """A finding that does not pass, in words; ``relation`` is its value and limit as one expression."""

    name: str
    verdict: Verdict
    relation: str
    where: str
    says: str
    remedies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PaneRow:
    """One pane: its mass in kg, how many of its findings came out each way, those that do not pass, the keys whose defaults went in."""

    code: str
    name: str
    revision: str
    quantity: int
    mass_kg: float
    verdict: Verdict
    counts: Mapping[Verdict, int]
    findings: tuple[OpenRow, ...]
    defaults: tuple[str, ...]


def pane_row(check: PaneCheck) -> PaneRow:
    """What is told of a pane that was checked just now."""
    pane, state = check.subject.pane, check.state
    return PaneRow(
        code=pane.code,
        name=pane.name,
        revision=pane.revision,
        quantity=pane.quantity,
        mass_kg=check.subject.detail.glass.mass,
        verdict=check.verdict,
        counts=counted(fail=state.fail, look=state.look, passed=state.passed, not_checked=state.not_checked),
        findings=tuple(
            OpenRow(each.name, each.verdict, relation(each), each.where, each.says, tuple(map(str, each.remedies)))
            for _, each in open_findings(check)
        ),
        defaults=tuple(defaults_of(check.findings)),
    )


def open_findings(check: PaneCheck) -> tuple[tuple[int, Finding], ...]:
    """What does not pass, each with the number of its flag: by their flags first, then, with 0, what was not checked and decides nothing."""
    rest = ((0, each) for each in check.findings if each.verdict is Verdict.NOT_CHECKED and not each.decides)
    return (*((flag.number, flag.finding) for flag in check.state.flags), *rest)


def counted(*, fail: int, look: int, passed: int, not_checked: int) -> dict[Verdict, int]:
    """How many findings came out each way, in the order in which they are told."""
    return {Verdict.FAIL: fail, Verdict.LOOK: look, Verdict.PASS: passed, Verdict.NOT_CHECKED: not_checked}


__all__ = ["OpenRow", "PaneRow", "counted", "open_findings", "pane_row"]
