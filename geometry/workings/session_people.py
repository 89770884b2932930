"""The people and guns of a session by name: who does which step of which pane, with which gun.

Terms
-----
task
    One step of one pane, with who does it.

A schedule that never takes more people than there are can always be shared out: whoever is free when a step begins may do it. Who did the step
before it in the same chain goes on where he is free, so that nobody changes panes without need.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from geometry.rules.day.time_plan import Step, StepKind
from geometry.workings.session_schedule import SLACK, PaneWork


@dataclass(frozen=True, slots=True)
class Task:
    """One step with who does it, minutes from the start of the session; ``piece`` counts the panes of one code from 1.

    ``guns`` are numbers of guns from 1; only the bead takes any.
    """

    start: float
    end: float
    who: tuple[str, ...]
    pane: str
    piece: int
    chain: str
    kind: StepKind
    what: str
    guns: tuple[int, ...] = ()


def tasks_of(panes: Sequence[tuple[PaneWork, int, tuple[Step, ...]]], *, crew: Sequence[str], guns: int) -> tuple[Task, ...]:
    """Every step that somebody does, in the order of the clock. ``panes`` are work, piece and scheduled steps."""
    work = [(step, place) for place, (_, _, steps) in enumerate(panes) for step in steps if not step.flash]
    work.sort(key=lambda each: (each[0].start, each[0].end, each[1]))
    free = [0.0] * len(crew)
    free_guns = [0.0] * guns
    last: dict[tuple[int, str], tuple[int, ...]] = {}
    found = []
    for step, place in work:
        pane, piece, _ = panes[place]
        before = last.get((place, step.chain), ())
        if step.chain == "both" and not before:
            before = (*last.get((place, "frame"), ()), *last.get((place, "glass"), ()))
        who = _chosen(free, pane.taken_by(step), step, lambda each, known=before: (each not in known, each))  # type: ignore[misc]
        last[place, step.chain] = who
        took: tuple[int, ...] = ()
        if step.kind is StepKind.BEAD:
            took = _chosen(free_guns, pane.guns, step, lambda each: (False, each))
        found.append(
            Task(
                start=step.start,
                end=step.end,
                who=tuple(crew[each] for each in who),
                pane=pane.code,
                piece=piece,
                chain=step.chain,
                kind=step.kind,
                what=step.what,
                guns=tuple(each + 1 for each in took),
            )
        )
    return tuple(found)


def _chosen(free: list[float], number: int, step: Step, order: Callable[[int], tuple[bool, int]]) -> tuple[int, ...]:
    """The first who are free when a step begins; they are busy until it ends."""
    able = sorted((each for each in range(len(free)) if free[each] <= step.start + SLACK), key=order)
    if len(able) < number:  # a step of no length: nobody is kept by it
        able += [each for each in sorted(range(len(free)), key=order) if each not in able]
    chosen = tuple(sorted(able[:number]))
    for each in chosen:
        free[each] = max(free[each], step.end)
    return chosen


__all__ = ["Task", "tasks_of"]
