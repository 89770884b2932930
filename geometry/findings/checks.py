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
    """The findings of some checks, in their order."""
    found: list[Finding] = []
    for check in checks:
        made = check(subject, ledger)
        found += [made] if isinstance(made, Finding) else made
    return tuple(found)
