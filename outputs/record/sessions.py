"""The bonding sessions of a vessel in words and rows: the same on the terminal, on the vessel's page and in the lists.

Terms
-----
row of a person
    What one of the crew does without a pause on frame or glass of one pane: from when to when, in which steps. Starts and ends are rounded
    up to the minute.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.rules.day.time_plan import whole_minutes

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.workings.session_people import Task
    from geometry.workings.session_plan import SessionPlan

HEADINGS = ("clock", "until", "who", "pane", "step")


def heading_of(plan: SessionPlan) -> str:
    """What a session is and what it comes to, in one line."""
    day = f", {plan.date.isoformat()}" if plan.date is not None else ", no date"
    clock = f"{clock_at(plan, 0.0)} to {clock_at(plan, plan.ends)}"
    return f"{plan.title}{day}, {clock}: {', '.join(plan.panes)}"


def notes_of(plan: SessionPlan) -> Iterator[str]:
    """Crew, guns and packs of a session; what does not fit, and by how much."""
    guns = f"{plan.guns} {'gun' if plan.guns == 1 else 'guns'}"
    yield f"{', '.join(plan.crew)}; {guns}"
    yield packs_of(plan)
    if plan.too_long > 0:
        yield f"TOO LONG by {whole_minutes(plan.too_long)} min: the session ends at {clock_at(plan, plan.limit, limit=True)}"
    if plan.short:
        yield f"NOT PLANNED, crew or guns do not suffice: {', '.join(plan.short)}"
    if plan.without:
        yield f"NOT PLANNED, cannot be built: {', '.join(plan.without)}"


def packs_of(plan: SessionPlan) -> str:
    """What the session opens, and by which rule."""
    from geometry.workings.quantities import packs_in_words

    spare = f", {plan.in_hand} in hand" if plan.in_hand else ""
    life = "no life of an opened pack given: none goes on" if plan.life is None else f"an opened pack lasts {plan.life:g} min"
    return f"adhesive: {packs_in_words(plan.packs, plan.pack)} opened{spare}; one by one {plan.one_by_one}; {life}"


def clock_at(plan: SessionPlan, minutes: float, *, limit: bool = False) -> str:
    """Time of day so many minutes after the start of a session: "09:14"; past midnight "00:05 +1 day"; a ``limit`` is rounded down."""
    whole = whole_minutes(plan.begins + minutes, limit=limit)
    days = whole // 1440
    return f"{whole // 60 % 24:02d}:{whole % 60:02d}" + (f" +{days} {'day' if days == 1 else 'days'}" if days else "")


def rows_of(plan: SessionPlan) -> list[tuple[str, str, str, str, str]]:
    """Person by person in the order of the clock: from, until, who, which pane, which steps."""
    found = []
    for who in plan.crew:
        for tasks in _runs([task for task in plan.tasks if who in task.who]):
            first, last = tasks[0], tasks[-1]
            guns = sorted({gun for task in tasks for gun in task.guns})
            chain = "" if first.chain == "both" else f"{first.chain}: "
            steps = (
                chain
                + ", ".join(task.what for task in tasks)
                + (f" (gun {', '.join(map(str, guns))})" if guns and plan.guns > 1 else "")
            )
            found.append((clock_at(plan, first.start), clock_at(plan, last.end), who, pane_of(first, plan), steps))
    return found


def pane_of(task: Task, plan: SessionPlan) -> str:
    """The pane of a task; which of several pieces of one code."""
    several = any(each.piece > 1 for each in plan.tasks if each.pane == task.pane)
    return f"{task.pane}, {task.piece}" if several else task.pane


def _runs(tasks: list[Task]) -> Iterator[list[Task]]:
    """Tasks of one person, those that follow one another on one chain of a pane without a pause together."""
    run: list[Task] = []
    for task in tasks:
        same = run and (run[-1].pane, run[-1].piece, run[-1].chain) == (task.pane, task.piece, task.chain)
        if run and not (same and task.start - run[-1].end < 1e-6):
            yield run
            run = []
        run.append(task)
    if run:
        yield run


def sessions_data(plans: tuple[SessionPlan, ...]) -> list[dict[str, Any]]:
    """The sessions as plain data; minutes count from the start of the session."""
    return [
        {
            "session": plan.title,
            "date": None if plan.date is None else plan.date.isoformat(),
            "begins": clock_at(plan, 0.0),
            "ends": clock_at(plan, plan.ends),
            "too_long_min": plan.too_long,
            "panes": list(plan.panes),
            "crew": list(plan.crew),
            "guns": plan.guns,
            "packs": plan.packs,
            "packs_one_by_one": plan.one_by_one,
            "packs_in_hand": plan.in_hand,
            "pack_ml": plan.pack,
            "opened_life_min": plan.life,
            "not_planned": [*plan.short, *plan.without],
            "tasks": [
                {
                    "clock": clock_at(plan, task.start),
                    "start": task.start,
                    "end": task.end,
                    "who": list(task.who),
                    "guns": list(task.guns),
                    "pane": task.pane,
                    "piece": task.piece,
                    "chain": task.chain,
                    "step": task.what,
                }
                for task in plan.tasks
            ],
        }
        for plan in plans
    ]


__all__ = ["HEADINGS", "clock_at", "heading_of", "notes_of", "packs_of", "pane_of", "rows_of", "sessions_data"]
