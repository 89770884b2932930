"""The bonding day by the clock: frame and glass side by side, then bead, lift and press against the open time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.workings.session_releases import releases_of
from outputs.record.markup import Html, join, section, table, tag
from outputs.record.numbers import number

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.workings.time_plan import Step, TimePlan

_CHAINS = (("frame", "Frame"), ("glass", "Glass"))


def day_section(check: PaneCheck) -> Html:
    """The plan as a clock in two columns, the times that must be kept, the days of cure."""
    plan = check.time_plan
    if plan is None:
        return section("Bonding day by the clock", tag("p", "Not worked out in this run."), id_="day")
    climate = check.subject.pane.climate
    said = (
        f"{_session(plan)} at {_at(plan, 0.0)}. Air {number(climate.air)} °C, {number(climate.humidity)} % humidity: open time "
        f"{number(plan.open_time, digits=3)} min, of which {number(plan.limit, digits=3)} min may be used. "
        f"{'Lifted with gear' if plan.with_gear else 'Lifted by hand'}, {plan.guns} {'gun' if plan.guns == 1 else 'guns'}, "
        f"{plan.packs} {'pack' if plan.packs == 1 else 'packs'} of adhesive."
    )
    return section(
        "Bonding day by the clock",
        tag("p", said),
        _kept(plan),
        [_steps(plan, title, [step for step in plan.steps if step.chain == chain]) for chain, title in _CHAINS],
        _steps(plan, "Both together", [step for step in plan.steps if step.chain not in dict(_CHAINS)]),
        _days(plan),
        id_="day",
    )


def _session(plan: TimePlan) -> str:
    """What starts: the work on the pane alone, or its session and on which day."""
    if not plan.session:
        return "Work starts"
    return f"Session {plan.session}{f' of {plan.date.isoformat()}' if plan.date else ''}: its work starts"


def _at(plan: TimePlan, minutes: float, *, limit: bool = False) -> str:
    from geometry.workings.time_plan import clock

    return clock(plan, minutes, limit=limit)


def _kept(plan: TimePlan) -> Html:
    """The times that must be kept."""
    rows: list[tuple[str, str, str]] = [
        ("bead starts", _at(plan, plan.bead_starts), "both faces ready; the open time runs from the first millimetre"),
        ("last press", _at(plan, plan.last_press), f"{number(plan.elapsed, digits=3)} min after the bead starts"),
        (
            "ABORT after",
            _at(plan, plan.latest_abort, limit=True),
            "do not place the pane: take the bead off while fresh, activate again, start again",
        ),
        *((f"{what}, latest", _at(plan, minutes, limit=True), "past it activate again") for what, minutes in plan.longest_waits),
    ]
    late = tag(
        "p", tag("strong", "The last press comes after the abort: this plan cannot be worked as it stands."), class_="warn"
    )
    return join(table("Times to keep", ("what", "clock", "why"), rows), None if plan.in_time else late)


def _steps(plan: TimePlan, title: str, steps: list[Step]) -> Html:
    """The steps of a chain one after the other, each with its start and its minutes."""
    told = "; ".join(
        f"{_at(plan, step.start)} {'wait: ' if step.flash else ''}{step.what} {number(step.end - step.start, digits=3)}"
        for step in steps
    )
    end = f"; until {_at(plan, max(step.end for step in steps))}" if steps else ""
    return tag("p", tag("b", f"{title}, minutes: "), f"{told}{end}.")


def _days(plan: TimePlan) -> Html:
    lines = [
        f"The joint may be closed {_after(plan.backfill_day)} the bonding.",
        "The pane may be handled "
        + (
            "never: the bead does not come to carry it."
            if plan.handling_day is None
            else f"{_after(plan.handling_day)} the bonding."
        ),
        (
            f"Cure through the bead as wide as drawn: {number(plan.full_cure_both, digits=3)} days from both faces, "
            f"{number(plan.full_cure_one, digits=3)} days from one face; as planned here "
            + ("never." if plan.full_cure_as_planned is None else f"{number(plan.full_cure_as_planned, digits=3)} days.")
        ),
        "Where it is pressed widest it takes longer, and the day of the joint is held against that: the sums of Cure.",
    ]
    dated = [f"{each.what.value} {each.date.isoformat()}" for each in releases_of(plan) if each.date is not None]
    if dated:
        lines.append(f"Bonded on that day, not before: {', '.join(dated)}.")
    return tag("p", " ".join(lines))


def _after(days: float) -> str:
    if days <= 0.0:
        return "on the day of"
    return f"{number(days, digits=3)} {'day' if days == 1 else 'days'} after"


__all__ = ["day_section"]
