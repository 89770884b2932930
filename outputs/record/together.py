"""What the panes of a job take together."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from geometry.job import Job
    from geometry.workings.quantities import Quantities
    from geometry.workings.session_plan import SessionPlan


def pooled_quantities(job: Job, checks: Sequence[PaneCheck]) -> Quantities | None:
    """The lists of the panes together, each as often as the pane is made, packs by session; None where a pane has no list."""
    from geometry.workings.quantities import pooled

    lists = [check.quantities for check in checks if check.quantities is not None]
    if not lists or len(lists) < len(checks):
        return None
    panes = [check.subject.pane for check in checks]
    return pooled(lists, [pane.quantity for pane in panes], job, planned_sessions(job, checks), [pane.code for pane in panes])


def planned_sessions(job: Job, checks: Sequence[PaneCheck]) -> tuple[SessionPlan, ...]:
    """The sessions of the checked panes, each planned whole."""
    from geometry.workings.session_plan import session_plans

    return session_plans(job, {check.subject.pane.code: check.subject for check in checks}) if job.sessions else ()


__all__ = ["planned_sessions", "pooled_quantities"]
