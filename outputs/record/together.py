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
    """The lists of the panes together, each as often as the pane is made, packs by session and by day; None where a pane has no list."""
    from geometry.workings.fill_days import fill_day_of, fill_days
    from geometry.workings.pooled import pooled

    lists = [check.quantities for check in checks if check.quantities is not None]
    if not lists or len(lists) < len(checks):
        return None
    panes = [check.subject.pane for check in checks]
    counts, codes = [pane.quantity for pane in panes], [pane.code for pane in panes]
    filled = fill_days(lists, counts, codes, [fill_day_of(check.time_plan) for check in checks], job)
    return pooled(lists, counts, job, planned_sessions(job, checks), codes, filled)


def planned_sessions(job: Job, checks: Sequence[PaneCheck]) -> tuple[SessionPlan, ...]:
    """The sessions of the checked panes, each planned whole."""
    from geometry.workings.session_plan import session_plans

    return session_plans(job, {check.subject.pane.code: check.subject for check in checks}) if job.sessions else ()


__all__ = ["planned_sessions", "pooled_quantities"]
