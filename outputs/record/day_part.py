"""The bonding day by the clock: frame and glass side by side, then bead, lift and press against the open time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.size import Origin
from outputs.record.findings_part import default_mark
from outputs.record.markup import Html, items, join, section, table, tag
from outputs.record.numbers import number

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.workings.time_plan import Step, TimePlan

NO_RATE = ("work.cup_rating", "work.cup_step", "work.reach_share", "work.powered_gun", "work.heat_transfer")
_CHAINS = (("frame", "Frame"), ("glass", "Glass"))


def day_section(check: PaneCheck) -> Html:
    """The plan as a clock in two columns, the times that must be kept, the days of cure."""
    plan = check.time_plan
    if plan is None:
        return section("Bonding day by the clock", tag("p", "Not worked out in this run."), id_="day")
    climate = check.subject.pane.climate
    said = (
        f"Work starts at {_at(plan, 0.0)}. Air {number(climate.air)} °C, {number(climate.humidity)} % humidity: open time "
        f"{number(plan.open_time, digits=3)} min, of which {number(plan.limit, digits=3)} min may be used. "
        f"{'Lifted with gear' if plan.with_gear else 'Lifted by hand'}, {plan.guns} {'gun' if plan.guns == 1 else 'guns'}, "
        f"{plan.packs} {'pack' if plan.packs == 1 else 'packs'} of adhesive."
    )
    return section(
        "Bonding day by the clock",
        tag("p", said),
        _kept(plan),
        tag("div", (_chain(plan, chain, title) for chain, title in _CHAINS), class_="clock"),
        _together(plan),
        _days(plan),
        _defaults(check),
        id_="day",
    )


def _defaults(check: PaneCheck) -> Html | None:
    """The rates of the plan that were left out of the job file, each with its value."""
    table_ = check.subject.pane.work
    keys = [f"work.{name}" for name in type(table_).model_fields if f"work.{name}" not in NO_RATE]
    rates = [check.subject.asked(key) for key in keys]
    left_out = [
        f"{rate.key} {number(rate.value)}" for rate in rates if rate.origin is Origin.DEFAULT and isinstance(rate.value, float)
    ]
    if not left_out:
        return None
    return tag("p", default_mark(), " rates of this plan, from no plan of yours: " + ", ".join(left_out) + ".")


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


def _chain(plan: TimePlan, chain: str, title: str) -> Html:
    return _steps(plan, [step for step in plan.steps if step.chain == chain], title)


def _together(plan: TimePlan) -> Html:
    return _steps(plan, [step for step in plan.steps if step.chain not in dict(_CHAINS)], "Both together")


def _steps(plan: TimePlan, steps: list[Step], title: str) -> Html:
    rows = (
        (
            f"{_at(plan, step.start)} to {_at(plan, step.end)}",
            join("wait: " if step.flash else None, step.what),
            number(step.end - step.start, digits=3),
        )
        for step in steps
    )
    return table(title, ("clock", "work", "min"), rows, numbers=(2,))


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
            f"Cure through the bead: {number(plan.full_cure_both, digits=3)} days from both faces, {number(plan.full_cure_one, digits=3)} days "
            "from one face."
        ),
        "As planned here: "
        + (
            "it never cures through."
            if plan.full_cure_as_planned is None
            else f"{number(plan.full_cure_as_planned, digits=3)} days."
        ),
    ]
    return join(tag("h3", "Days after the bonding"), items(lines))


def _after(days: float) -> str:
    if days <= 0.0:
        return "on the day of"
    return f"{number(days, digits=3)} {'day' if days == 1 else 'days'} after"


__all__ = ["day_section"]
