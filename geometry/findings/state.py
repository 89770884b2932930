"""The state of a pane's checks: what every document says of it, in one wording.

Terms
-----
flag
    A finding that somebody has to see to, with its number: those that fail first, then those to look at, then those that were not made
    and decide whether the pane holds. The number is the same on every document.
not for manufacture
    A finding fails, or the pane carries load or is in the hull and nobody gave an approval reference: no sheet may look released.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

from geometry.findings.day.approval_checks import APPROVED
from geometry.ledger.finding import Verdict

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.ledger.finding import Finding

NOT_FOR_MANUFACTURE = "NOT FOR MANUFACTURE"
"""What every document of a pane says that must not be made yet."""


class Plate(Enum):
    """Whether the pane bent on its bead belongs to the run."""

    RUN = "plate run"
    LEFT_OUT = "plate not run"
    NO_PRESSURE = "no pressure given"


@dataclass(frozen=True, slots=True)
class Flag:
    """A finding that does not pass, by its number on every document."""

    number: int
    finding: Finding


@dataclass(frozen=True, slots=True)
class State:
    """How many findings come out which way, the flags, and why the pane must not be made yet (empty: nothing against it)."""

    verdict: Verdict
    fail: int
    look: int
    not_checked: int
    deciding: int  # of those not checked: without them nobody knows whether the pane holds
    passed: int
    plate: Plate
    flags: tuple[Flag, ...]
    not_for_manufacture: tuple[str, ...]

    @property
    def words(self) -> str:
        """As the title block has it: ``FAIL 2, LOOK 1``; ``PASS`` only where nothing is open."""
        parts = [("FAIL", self.fail), ("LOOK", self.look), ("NOT CHECKED", self.deciding)]
        return ", ".join(f"{name} {count}" for name, count in parts if count) or "PASS"

    @property
    def told(self) -> str:
        """The words, and whether the plate belongs to them where it does not."""
        return self.words if self.plate is Plate.RUN else f"{self.words}, {self.plate.value}"


def state_of(check: PaneCheck) -> State:
    """The state of one pane's checks."""
    by_verdict = {
        each: [finding for finding in check.findings if finding.verdict is each]
        for each in (Verdict.FAIL, Verdict.LOOK, Verdict.NOT_CHECKED, Verdict.PASS)
    }
    failing, looks = by_verdict[Verdict.FAIL], by_verdict[Verdict.LOOK]
    deciding = [finding for finding in by_verdict[Verdict.NOT_CHECKED] if finding.decides]
    flags = tuple(Flag(number, finding) for number, finding in enumerate((*failing, *looks, *deciding), start=1))
    reasons = []
    if any(finding.name == APPROVED.name for finding in failing):
        reasons.append("no approval reference")
    if failing:
        reasons.append(f"{len(failing)} {'finding fails' if len(failing) == 1 else 'findings fail'}")
    return State(
        verdict=check.verdict,
        fail=len(failing),
        look=len(looks),
        not_checked=len(by_verdict[Verdict.NOT_CHECKED]),
        deciding=len(deciding),
        passed=len(by_verdict[Verdict.PASS]),
        plate=_plate(check),
        flags=flags,
        not_for_manufacture=tuple(reasons),
    )


def _plate(check: PaneCheck) -> Plate:
    if check.plate is not None:
        return Plate.RUN
    return Plate.NO_PRESSURE if check.plate_asked else Plate.LEFT_OUT


__all__ = ["NOT_FOR_MANUFACTURE", "Flag", "Plate", "State", "state_of"]
