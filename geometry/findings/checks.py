"""What a check is, and a room of them.

Terms
-----
check
    Makes one or several findings of a pane: ``check(subject, ledger)``. All it knows of the pane it reads from the subject.
room
    Checks that belong together, in the order in which their findings stand: its ``CHECKS``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TypeAlias

from geometry.ledger.finding import Finding

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

Check: TypeAlias = "Callable[[Subject, Ledger], Finding | Iterable[Finding]]"


def found_by(checks: Iterable[Check], subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """The findings of some checks, in their order, with their remedies."""
    return tuple(finding.with_remedies() for check in checks for finding in judged_by(check, subject, ledger))


def judged_by(check: Check, subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """The findings of a check, their remedies yet to be thought of."""
    made = check(subject, ledger)
    return (made,) if isinstance(made, Finding) else tuple(made)


__all__ = ["Check", "found_by", "judged_by"]
