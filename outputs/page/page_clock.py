"""The clock of the card's page: a tap for the start and for each step, longest waits, LAST PRESS and ABORT."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.recorded.record_fields import LAST_PRESS, step_id
from geometry.rules.day.time_plan import StepKind
from outputs.drawing.card_clock import PAST_ABORT
from outputs.page.page_parts import button, part
from outputs.record.markup import Html, join, tag
from outputs.record.words import AFTER_ABORT

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.workings.on_the_day import OnTheDay
    from outputs.drawing.card_facts import CardFacts
    from outputs.drawing.card_times import Clock, Line

BEGIN = "begin"
"""Name of the tap with which the work begins; it is no step of the plan."""
WAITS = {
    ("frame", False): ("landing primed by", "landing: longest wait from activator to primer, min"),
    ("frame", True): ("landing bonded by", "landing: longest wait of the primer, min"),
    ("glass", False): ("glass primed by", "glass: longest wait from activator to primer, min"),
    ("glass", True): ("glass bonded by", "glass: longest wait of the primer, min"),
}


def clock(check: PaneCheck, facts: CardFacts, day: OnTheDay) -> Html:
    """The clock: a tap for the start and for each step, longest waits, LAST PRESS and ABORT the largest of all."""
    times = facts.clock
    steps = () if check.time_plan is None else check.time_plan.steps
    ids: dict[tuple[str, StepKind], str] = {(step.chain, step.kind): step_id(step) for step in steps}
    start = tag(
        "div",
        _tap(BEGIN, "", "WORK BEGINS: tap now", class_="step begin", what="began-words"),
        tag("label", f"planned {times.at(0)}; or it began at", tag("input", type="time", id="began"), class_="entry"),
    )
    columns = [
        join(
            tag("h3", name),
            tag("div", (_step(times, line, ids[chain, line.kind]) for line in lines), class_="steps"),
            (_wait(day, place, times) for place in places),
        )
        for name, chain, lines, places in (
            ("FRAME", "frame", times.frame, (0, 1)),
            ("GLASS", "glass", times.glass, (2, 3)),
            ("BOTH TOGETHER", "both", times.both, ()),
        )
    ]
    return part(
        "clock",
        "Clock",
        tag("p", "Tap each line as it begins. A second tap corrects it."),
        start,
        columns[0],
        columns[1],
        columns[2],
        _tap(LAST_PRESS, "", "PRESSED HOME: tap when done", class_="step home"),
        _kept_times(times),
        tag("p", "Alarms sound only while this page is on the screen: set the phone not to sleep.", class_="warn"),
        button("try the alarm", act="try"),
    )


def _tap(step: str, at: str, words: str, *, class_: str = "step", what: str | None = None) -> Html:
    return tag(
        "button",
        tag("span", at, class_="at") if at else None,
        tag("span", words, class_="what", id=what),
        tag("span", "tap", class_="noted"),
        type="button",
        class_=class_,
        data_step=step,
    )


def _step(times: Clock, line: Line, name: str) -> Html:
    words = line.what
    if line.wait is not None:
        words = f"WAIT {line.wait} min"
    elif line.kind is StepKind.BEAD:
        words = "BEAD"
    elif line.kind is StepKind.LIFT:
        latest = "no time for it" if times.last_lift is None else f"not after {times.at(times.last_lift)}"
        return tag(
            "button",
            tag("span", times.at(line.offset), class_="at"),
            tag("span", tag("span", words, class_="what"), " ", tag("b", latest, id="lift-by")),
            tag("span", "tap", class_="noted"),
            type="button",
            class_="step",
            data_step=name,
        )
    strong = " strong" if line.kind is StepKind.BEAD or line.wait is not None else ""
    return _tap(name, times.at(line.offset), words, class_=f"step{strong}")


def _wait(day: OnTheDay, place: int, times: Clock) -> Html:
    """By when a face must be primed or bonded; no time where nobody gave a longest wait."""
    wait = day.waits[place]
    known = None
    if wait.longest is not None:
        chain = times.frame if wait.face == "frame" else times.glass
        ends = [line.by for line in chain if line.by is not None]
        known = times.longest[0 if wait.face == "frame" else 1] if wait.primed else ends[0] if ends else None
    return tag("p", f"{WAITS[wait.face, wait.primed][0]} ", tag("b", times.at(known), id=f"wait-{place}"), class_="figure")


def _kept_times(times: Clock) -> Html:
    left = tag("div", tag("h3", "LAST PRESS"), tag("p", times.at(times.last_press), id="last-press", class_="huge"))
    right = tag("div", tag("h3", "ABORT"), tag("p", times.at(times.abort), id="abort", class_="huge"))
    after = tag(
        "div",
        tag("h3", f"PAST ABORT: {PAST_ABORT}"),
        tag("p", AFTER_ABORT),
        button("bead is off: begin anew", act="anew"),
        id="after-abort",
        data_words=AFTER_ABORT,
        hidden="hidden",
    )
    told = tag("p", "bead began + ", tag("b", str(times.from_bead), id="from-bead"), " min = ABORT. ", tag("span", id="counted"))
    return tag("div", left, right, told, after, id="kept-times", class_="kept-times")


def longest_wait(day: OnTheDay, place: int) -> Html:
    """A box for the longest wait of the data sheet, where the job gives none."""
    wait = day.waits[place]
    box = tag("input", type="text", inputmode="decimal", autocomplete="off", data_own=f"wait.{place}")
    return tag("label", f"{WAITS[wait.face, wait.primed][1]} (data sheet)", box, class_="entry")


__all__ = ["BEGIN", "clock", "longest_wait"]
