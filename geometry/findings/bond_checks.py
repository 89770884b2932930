"""Will it hold: bond tension, permanent load, green hold, shear from heat, peel."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.findings.figure import Ledger
    from geometry.findings.finding import Finding
    from geometry.findings.subject import Subject


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return ()
