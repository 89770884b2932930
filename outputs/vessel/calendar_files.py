"""The release calendar as files: iCalendar (RFC 5545) for the calendars of yard and office, and a page to read and to print.

Terms
-----
all-day entry
    An entry of a day without a time: it ends on the day after, which is not part of it (RFC 5545, 3.6.1).
stamp
    The day of the job's sheet at midnight UTC, by which a calendar knows the newer issue; without one the day of the program's release.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import TYPE_CHECKING

from geometry.findings.state import NOT_FOR_MANUFACTURE
from geometry.workings.session_releases import Release
from outputs.record.sessions import HEADINGS, heading_of, notes_of, rows_of
from outputs.record.words import AN_AID
from outputs.version import DATE, PROGRAM
from outputs.vessel.calendar_days import WORDS, calendar_of, delay_words, session_warnings, vessel_words

if TYPE_CHECKING:
    from outputs.record.markup import Content, Html
    from outputs.vessel.calendar_days import PaneDays, ReleaseCalendar
    from outputs.vessel.documents import VesselContents

NEVER_ALONE = "A day is the first on which something is allowed, not a leave to do it: look at the bead, keep to the data sheets."


def calendar_files(contents: VesselContents) -> dict[str, bytes]:
    """The page, and the iCalendar file where anything has a date."""
    days, stem = calendar_of(contents), f"{contents.stem}-calendar"
    files = {f"{stem}.html": page_of(contents, days)}
    if days.entries:
        files[f"{stem}.ics"] = ics_of(contents, days)
    return files


def ics_of(contents: VesselContents, days: ReleaseCalendar) -> bytes:
    """The entries as iCalendar: lines end with CR LF, long ones are folded."""
    from icalendar import Calendar, Event

    issued = contents.job.sheet.date or datetime.date.fromisoformat(DATE)
    stamp = datetime.datetime(issued.year, issued.month, issued.day, tzinfo=datetime.UTC)
    calendar = Calendar()
    calendar.add("prodid", f"-//{PROGRAM}//release calendar//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", _title(contents))
    for each in days.entries:
        event = Event()
        event.add("uid", each.identifier)
        event.add("dtstamp", stamp)
        event.add("dtstart", each.date)
        event.add("dtend", each.date + datetime.timedelta(days=1))
        event.add("summary", each.title)
        event.add("description", " ".join((each.says, *([NEVER_ALONE] if each.allows else []), AN_AID)))
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    data: bytes = calendar.to_ical()
    return data


def _title(contents: VesselContents) -> str:
    return f"Release calendar{f', {contents.job.vessel.name}' if contents.job.vessel.name else ''}"


def page_of(contents: VesselContents, days: ReleaseCalendar) -> bytes:
    """The same to read: the vessel, pane by pane, day by day."""
    from outputs.record.markup import page, section, tag

    title, issued = _title(contents), contents.job.sheet.date
    return page(
        title,
        tag(
            "header",
            tag("h1", title),
            tag("p", f"Date of issue {issued.isoformat() if issued else 'not given'}. {NEVER_ALONE}"),
        ),
        "\n",
        tag(
            "main",
            section("The vessel", *_vessel(days), id_="vessel"),
            "\n",
            section("Pane by pane", _panes(days), id_="panes"),
            "\n",
            section("Bonding sessions", *_sessions(days), id_="sessions"),
            "\n",
            section("Day by day", _by_day(days), id_="days"),
        ),
        tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small")),
        running=title,
    )


def _day(date: datetime.date | None, why: str) -> Html:
    """A day that no line's end parts, or why there is none."""
    from outputs.record.markup import tag

    return tag("span", date.isoformat() if date else why, class_="code")


def _sessions(days: ReleaseCalendar) -> Iterator[Content]:
    """Who is where at which hour, session by session."""
    from outputs.record.markup import AsItIs, items, table, tag

    if not days.sessions:
        yield tag("p", "No session is given: who bonds which pane, and when, is not planned.")
    for plan in days.sessions:
        yield tag("h3", AsItIs(heading_of(plan)))
        yield items((*map(AsItIs, notes_of(plan)), *(tag("b", each) for each in session_warnings(plan, days.panes, days.left_out))))
        yield table("Person by person, starts and ends rounded up to the minute", HEADINGS, rows_of(plan))


def _vessel(days: ReleaseCalendar) -> Iterator[Content]:
    from outputs.record.markup import table, tag

    rows = [(WORDS[each.what], _day(each.date, "not known"), ", ".join(each.last), vessel_words(each)) for each in days.vessel]
    yield table("The vessel as a whole", ("what", "not before", "last panes", "says"), rows)
    if days.launch is None:
        yield tag("p", "No day of launch is given: nothing is held against it.")
    elif days.delays:
        yield tag(
            "p",
            tag("strong", f"Launch planned on {days.launch.isoformat()}, delayed: {delay_words(days.delays)}."),
            class_="warn",
        )
    else:
        yield tag("p", f"Launch planned on {days.launch.isoformat()}: no pane with a date delays it.")
    undated = [pane.code for pane in days.panes if pane.bonded is None]
    if undated:
        yield tag("p", f"No session gives a day of the bonding: {', '.join(undated)}. They have no dates.", class_="warn")
    if days.left_out:
        yield tag("p", f"They have no document that is up to date, and no dates: {', '.join(days.left_out)}.", class_="warn")


def _panes(days: ReleaseCalendar) -> Html:
    from outputs.record.markup import table, tag

    headings = ("pane", "side", "session", "bonded", *(WORDS[what] for what in Release), "checks")
    rows = [
        (
            tag("span", pane.code, class_="code"),
            pane.side,
            pane.session,
            _day(pane.bonded, "no date"),
            *(_day(date, why) for _, date, why in pane.dates),
            _checks(pane),
        )
        for pane in days.panes
    ]
    return table("Not before", headings, rows)


def _checks(pane: PaneDays) -> str:
    return f"{pane.state}, {NOT_FOR_MANUFACTURE}" if pane.not_for_manufacture else pane.state


def _by_day(days: ReleaseCalendar) -> Html:
    from outputs.record.markup import table, tag

    if not days.entries:
        return tag("p", "No pane has a date.")
    ordered = sorted(days.entries, key=lambda each: each.date)
    return table("From this day on", ("date", "what", "says"), [(_day(each.date, ""), each.title, each.says) for each in ordered])


__all__ = ["calendar_files", "ics_of", "page_of"]
