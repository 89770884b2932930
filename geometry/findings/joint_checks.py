"""The joint all round: what is left at the worst tolerances, and the strain of its sealant."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.findings.figure import Ledger
    from geometry.findings.finding import Finding
    from geometry.findings.subject import Subject


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return ()
