"""Corners and sizes of the glass: corner joint, nose, frit cover in corners, re-entrant radius, notch, least pane."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.findings.figure import Ledger
    from geometry.findings.finding import Finding
    from geometry.findings.subject import Subject


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return ()
