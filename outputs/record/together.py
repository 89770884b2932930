"""What the panes of a job take together."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from geometry.job import Job
    from geometry.workings.quantities import Quantities


def pooled_quantities(job: Job, checks: Sequence[PaneCheck]) -> Quantities | None:
    """The lists of the panes pooled, each as often as the pane is made; None where a pane has no list."""
    from geometry.workings.quantities import pooled

    lists = [check.quantities for check in checks if check.quantities is not None]
    if not lists or len(lists) < len(checks):
        return None
    return pooled(lists, [check.subject.pane.quantity for check in checks], job)


__all__ = ["pooled_quantities"]
