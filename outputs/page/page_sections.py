"""The parts of the card's page, as markup: what stands on both sides of the paper card, in the order in which a fitter needs it.

Times stand as planned, as on the paper card, before the page's script takes them over; a phone that runs no script shows the plan.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.recorded.record_fields import LAST_PRESS, READ_TIMES
from outputs.drawing.card_head import DO_NOT_FIT
from outputs.drawing.card_readings import CAUTIONS, strap_words
from outputs.drawing.card_times import NO_TIME
from outputs.drawing.card_words import placed_words, spacer_words, zero_words
from outputs.page.page_clock import longest_wait
from outputs.page.page_entries import READ
from outputs.page.page_parts import button, part
from outputs.page.page_pictures import glass_svg, picture, recess_svg, section_svg
from outputs.record.markup import AsItIs, Html, items, join, tag
from outputs.record.words import AN_AID
from outputs.sheet.drafting import number
from outputs.sheets.card import block_cells
from outputs.sheets.flag_words import STATE_OF

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from geometry.findings.check import PaneCheck
    from geometry.workings.on_the_day import OnTheDay
    from outputs.drawing.card_facts import CardFacts


# At the head.


def head(check: PaneCheck, facts: CardFacts) -> Html:
    """What stays on the screen: pane, hand, revision and mark; go or no-go."""
    pane = check.subject.pane
    hand = tag("span", pane.side.upper(), class_="hand") if pane.side else None
    rev = f"rev. {pane.revision}, {check.mark}" if pane.revision else check.mark
    kind, told, why = _verdict(check, facts)
    return tag(
        "header",
        tag("p", tag("b", AsItIs(pane.code)), " ", hand, " ", tag("span", AsItIs(rev), class_="rev"), class_="who"),
        tag(
            "div",
            tag("strong", told, id="verdict-head"),
            tag("span", why, id="verdict-words"),
            id="verdict",
            class_=f"verdict {kind}",
            role="status",
        ),
    )


def _verdict(check: PaneCheck, facts: CardFacts) -> tuple[str, str, str]:
    """What a page says before anything was read: never a go."""
    if check.state.not_for_manufacture:
        return "stop", DO_NOT_FIT, "; ".join(check.state.not_for_manufacture)
    if facts.clock.too_long:
        return "stop", f"PLAN {facts.clock.too_long} MIN TOO LONG: DO NOT START", "as planned"
    return "wait", "NOT READ", f"{', '.join(name for name, _ in READ)} still to be read {READ_TIMES[0]}"


def looks() -> Html:
    """How the page looks: as the phone has it, by day, at night, in black and white."""
    named = (("", "as phone"), ("day", "day"), ("night", "night"), ("mono", "black, white"))
    return tag("div", (button(words, class_="plain look", look=look) for look, words in named), class_="looks")


def before_start(check: PaneCheck, facts: CardFacts, day: OnTheDay, identity: str) -> Html:
    """State and flags, then what is looked at before anybody begins."""
    state, pane, lifting = check.state, check.subject.pane, facts.lifting
    flags = [
        join(
            tag("b", f"{flag.number} {STATE_OF[flag.finding.verdict]}: "),
            flag.finding.name,
            f": {flag.finding.says or flag.finding.missing}" if flag.finding.says or flag.finding.missing else "",
            f". Remedy: {flag.finding.remedies[0]}" if flag.finding.remedies else "",
        )
        for flag in state.flags
    ]
    people = (
        "lifting gear only"
        if lifting.people is None
        else f"{lifting.people} {'person' if lifting.people == 1 else 'people'} or more"
    )
    if lifting.above_shoulder and lifting.people is not None:
        people = f"{people}, over head"
    wind = "for lifting" if lifting.least_wind == lifting.wind else "until held"
    looked = [
        join("the mark is the same on card, label and glass: ", tag("b", AsItIs(check.mark))),
        "released: ask for name and date" if not state.not_for_manufacture else DO_NOT_FIT,
        f"glass {number(lifting.mass, decimals=1)} kg: {people}; {lifting.cups} cups outside, rated {number(lifting.rating)} kg",
        f"wind at most {number(lifting.least_wind, decimals=1)} m/s {wind}",
        *([f"bonding is planned for {facts.days.bonded}"] if facts.days.bonded else []),
        *([strap_words(facts)] if facts.pull > 0.5 else []),
        f"take: {facts.take}",
    ]
    return part(
        "check",
        "Before the start",
        tag("p", tag("b", state.told), class_="state"),
        tag("p", ", ".join(filter(None, (identity, pane.name)))),
        items(flags, class_="flags") if flags else tag("p", "no flags"),
        tag("h3", "Look at"),
        items(looked),
        (longest_wait(day, place) for place, wait in enumerate(day.waits) if wait.longest is None),
        tag("h3", "Mind"),
        items(CAUTIONS, class_="cautions"),
    )


# Where.


def where(check: PaneCheck, facts: CardFacts) -> Html:
    """The pictures of the card and the figures in and beside them."""
    detail = check.subject.detail
    count, tall, off = spacer_words(detail, facts)
    low, high = (number(each, decimals=1) for each in facts.mask_lines)
    fresh = detail.uncured_bead
    rows = [block_cells(facts, row) for row in facts.rows]
    notes = [*zero_words(facts), "black triangle: tape on hull and glass"]
    notes += ["tape over the joint goes: " + "; ".join(placed_words(facts.placed))] if facts.placed is not None else []
    notes += ["crossed ring: strap"] if facts.straps else []
    return part(
        "where",
        "Where",
        tag("p", "Pictures are not to scale: take no size off them. Every block stands in the rows under them."),
        tag("h3", "RECESS, seen from OUTSIDE"),
        picture("recess", recess_svg(detail, facts)),
        tag("p", tag("b", count, class_="key"), f" {tall} {off}"),
        items(notes),
        tag("div", (_blocks(name, cells) for name, cells in rows), class_="rows"),
        tag("h3", "GLASS AS IT LIES, INNER FACE UP"),
        picture("glass", glass_svg(detail, facts)),
        tag("p", tag("b", number(facts.bead_centre, decimals=1), class_="key"), " edge to bead CENTRE"),
        tag("p", tag("b", f"{low} and {high}", class_="key"), " edge to MASKS"),
        tag("h3", "SECTION"),
        picture("section", section_svg(detail)),
        tag(
            "p",
            "Notch of the nozzle ",
            tag("b", number(fresh.notch_width, decimals=1), class_="key"),
            " wide, ",
            tag("b", number(fresh.notch_height, decimals=1), class_="key"),
            " high; its true size is on the paper card and the template.",
        ),
    )


def _blocks(name: str, cells: Iterable[str]) -> Html:
    """A row of running distances, each block kept on one line."""
    return tag("p", tag("b", f"{name}: "), (join(tag("span", cell, class_="cell"), " ") for cell in cells))


def days(facts: CardFacts) -> Html:
    """Days after the bonding before which nothing is done, by date where a session gives the day of the bonding."""
    found = facts.days
    named = zip(("MOVE BOAT", "BACKFILL", "HOSE"), (found.move, found.backfill, found.hose), found.dates, strict=True)
    zero = f"day 0 = {found.bonded} as planned" if found.bonded else "bonded = day 0"
    return part("days", f"Not before ({zero})", items(_days(facts, named)))


def _days(facts: CardFacts, named: Iterable[tuple[str, int | None, str]]) -> Iterator[Html]:
    for name, day, date in named:
        if name == "BACKFILL" and facts.days.too_early:
            yield join(tag("b", name), " TOO EARLY: see record")
        elif day is None:
            yield join(tag("b", name), " never as planned")
        else:
            told = tag("span", date, data_days=str(day), data_planned=date or None)
            yield join(tag("b", name), " day ", tag("b", str(day), class_="key"), " ", told)


def save() -> Html:
    """The file, and what the phone keeps."""
    text = tag("textarea", id="text", readonly="readonly", rows=6, aria_label="the record as text")
    return part(
        "save",
        "Save",
        tag("p", "What is tapped and typed is kept on this phone.", id="kept"),
        tag("div", id="others", hidden="hidden", class_="warn"),
        button("SAVE the record as a file", class_="big", act="save"),
        tag("p", id="saved", role="status"),
        tag("details", tag("summary", "the record as text, to copy"), text),
        button("next pane or a new record: erase all here", act="erase"),
    )


def foot() -> Html:
    """The bar at the foot, the panel that corrects a tap, and the alarm; what a phone without script is told."""
    fix = tag(
        "div",
        tag("p", id="fix-head"),
        tag("div", button("− 1 min", act="minus"), button("+ 1 min", act="plus"), class_="two"),
        tag("div", button("take back", act="back"), button("close", act="close"), class_="two"),
        id="fix",
        class_="panel",
        hidden="hidden",
    )
    alarm = tag(
        "div",
        tag("strong", id="alarm-head"),
        tag("p", id="alarm-words"),
        tag("div", tag("button", "PRESSED HOME", type="button", class_="big", id="alarm-home", data_step=LAST_PRESS)),
        button("HEARD", class_="big", act="heard"),
        id="alarm",
        class_="alarm",
        role="alertdialog",
        hidden="hidden",
    )
    parts = (("check", "check"), ("climate", "air"), ("clock", "clock"), ("where", "where"), ("gaps", "gaps"), ("save", "save"))
    bar = tag(
        "footer",
        tag("p", tag("span", NO_TIME, id="now-time"), " ", tag("span", id="now-next")),
        tag("nav", (tag("a", words, href=f"#{name}") for name, words in parts)),
        id="now",
        class_="now",
    )
    script = tag(
        "noscript",
        tag("p", "This phone runs no script: times are as planned, nothing is judged. Use the paper card.", class_="warn"),
    )
    return join(tag("p", AN_AID, class_="aid"), script, fix, bar, alarm)


__all__ = ["before_start", "days", "foot", "head", "looks", "save", "where"]
