"""The release calendar, read back by another reader than the library that wrote it: lines unfolded here by RFC 5545, dates read by dateutil."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace
from pathlib import Path

import pytest
from dateutil import parser

from geometry.findings.check import check_pane
from geometry.job import job_of
from outputs.vessel.calendar_days import calendar_of, delay_words
from outputs.vessel.calendar_files import calendar_files
from outputs.vessel.documents import VESSEL_DOCUMENTS, LeftOut, VesselContents
from outputs.vessel.facts_gathered import facts_of

SAMPLE = (Path(__file__).resolve().parents[3] / "samples" / "sessions.toml").read_text(encoding="utf-8")


def contents(*changes, left_out=()):
    text = SAMPLE
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    job = job_of(text)
    facts = tuple(facts_of(check_pane(job, pane)) for pane in job.panes)
    return VesselContents(job, "sessions", facts, left_out=tuple(LeftOut(code, "", "not drawn", "why") for code in left_out))


@pytest.fixture(scope="module")
def issued():
    return contents()


def read(data: bytes) -> list[dict[str, str]]:
    """The events of an iCalendar stream: 3.1 (lines end with CR LF, a line that begins with a blank goes on), 3.3.11 (escapes)."""
    assert data.endswith(b"\r\n") and b"\n" not in data.replace(b"\r\n", b"")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))  # octets without the line break
    events: list[dict[str, str]] = []
    for line in data.replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode("utf-8").split("\r\n"):
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            events.append({})
        elif events and name not in ("BEGIN", "END", ""):
            assert name not in events[-1]
            events[-1][name] = re.sub(r"\\([,;\\])", r"\1", value.replace("\\n", "\n"))
    return events


def events_of(found) -> dict[str, dict[str, str]]:
    events = read(calendar_files(found)["sessions-calendar.ics"])
    assert len({each["UID"] for each in events}) == len(events)
    return {each["UID"]: each for each in events}


def day(text: str) -> datetime.date:
    assert re.fullmatch(r"[0-9]{8}", text)
    return parser.isoparse(text).date()


def test_every_entry_is_a_whole_day_that_ends_on_the_next(issued):
    """RFC 5545, 3.6.1: DTEND of a date is not part of the event, and must be later than DTSTART."""
    events = events_of(issued)
    assert len(events) == 2 + 5 * 5 + 2 + 1
    for event in events.values():
        begins, ends = day(event["DTSTART;VALUE=DATE"]), day(event["DTEND;VALUE=DATE"])
        assert ends - begins == datetime.timedelta(days=1)
        assert event["DTSTAMP"] == "20260420T000000Z"  # the date of the sheet
        assert event["DTSTAMP"] == parser.isoparse(event["DTSTAMP"]).strftime("%Y%m%dT%H%M%SZ")


def test_dates_by_hand(issued):
    """Days after the bonding from the facts of the pane, the dates counted here: 4 May and the day of the backfill."""
    facts = next(each for each in issued.facts if each.code == "P-1")
    events = events_of(issued)
    event = next(each for uid, each in events.items() if uid.startswith("P-1.backfill@"))
    assert day(event["DTSTART;VALUE=DATE"]) == datetime.date(2026, 5, 4 + int(facts.day.backfill_day))
    assert event["SUMMARY"] == "P-1: backfill from" and "Bonded 2026-05-04, port side." in event["DESCRIPTION"]
    whole = next(each for uid, each in events.items() if uid.startswith("_vessel.move-the-boat@"))
    latest = max(day(each["DTSTART;VALUE=DATE"]) for uid, each in events.items() if ".move-the-boat@" in uid)
    assert day(whole["DTSTART;VALUE=DATE"]) == latest
    planned = next(each for uid, each in events.items() if uid.startswith("_vessel.launch-planned@"))
    assert day(planned["DTSTART;VALUE=DATE"]) == datetime.date(2026, 5, 22)


def test_identifiers_are_the_same_in_the_next_issue_with_one_changed_date(issued):
    before = events_of(issued)
    after = events_of(contents(("date = 2026-05-06", "date = 2026-05-07"), ("date = 2026-04-20", "date = 2026-05-01")))
    assert set(before) == set(after)
    moved = {uid for uid in before if before[uid]["DTSTART;VALUE=DATE"] != after[uid]["DTSTART;VALUE=DATE"]}
    assert {uid for uid in moved if not uid.startswith("_vessel")} == {
        uid for uid in before if uid.startswith(("S-1.", "S-2.", "_session.starboard-side@"))
    }
    for uid in moved:
        assert day(after[uid]["DTSTART;VALUE=DATE"]) - day(before[uid]["DTSTART;VALUE=DATE"]) == datetime.timedelta(days=1)
    assert {each["DTSTAMP"] for each in after.values()} == {"20260501T000000Z"}
    other = events_of(contents(('name = "Invented launch of two sessions"', 'name = "Another invented launch"')))
    assert not set(before) & set(other)


def test_a_session_is_an_entry_of_its_day_with_who_is_there(issued):
    """A yard manager asks who is where on which day: day, hours, people and panes as the job gives them; the hours of all in the page."""
    event = next(each for uid, each in events_of(issued).items() if uid.startswith("_session.port-side@"))
    assert day(event["DTSTART;VALUE=DATE"]) == datetime.date(2026, 5, 4) and event["SUMMARY"] == "bonding: port side"
    assert "not a leave to do it" not in event["DESCRIPTION"], "that is said of a release"
    for word in ("08:00 to ", "P-1, P-2, P-3", "bonder, helper; 1 gun"):
        assert word in event["DESCRIPTION"]
    page = re.sub(r"<[^>]*>", " ", calendar_files(issued)["sessions-calendar.html"].decode())
    assert (
        page.index("Pane by pane")
        < page.index("port side, 2026-05-04, 08:00")
        < page.index("apprentice")
        < page.index("Day by day")
    )
    held = replace(issued, facts=tuple(replace(each, not_for_manufacture=("1 finding fails",)) for each in issued.facts[:2]))
    warned = next(each for uid, each in events_of(held).items() if uid.startswith("_session.port-side@"))
    assert "NOT FOR MANUFACTURE as they stand: P-1, P-2." in warned["DESCRIPTION"]
    assert "NOT FOR MANUFACTURE" not in event["DESCRIPTION"]
    # a pane of the session whose documents are not up to date: nobody is sent to it without a word
    older = replace(issued, facts=issued.facts[1:], left_out=(LeftOut("P-1", "", "not up to date", "why", issued.facts[0]),))
    warned = next(each for uid, each in events_of(older).items() if uid.startswith("_session.port-side@"))
    assert "NO DOCUMENT UP TO DATE of P-1." in warned["DESCRIPTION"] and "UP TO DATE" not in event["DESCRIPTION"]
    assert "NO DOCUMENT UP TO DATE of P-1" in calendar_files(older)["sessions-calendar.html"].decode()


def test_days_are_not_parted_at_the_end_of_a_line(issued):
    """2026-05- on one line and 04 on the next is no date: each stands in a span that no line's end parts."""
    page = calendar_files(issued)["sessions-calendar.html"].decode()
    cells = re.findall(r"<t[dh][^>]*>([^<]*\d{4}-\d\d-\d\d)</t[dh]>", page)
    assert not cells and '<span class="code">2026-05-04</span>' in page


def test_a_later_pane_that_delays_the_launch_is_named(issued):
    days = calendar_of(issued)
    free = {pane.code: next(date for what, date, _ in pane.dates if what.value == "launch") for pane in days.panes}
    last = max(free.values())
    early = contents(("launch = 2026-05-22", f"launch = {min(free.values()).isoformat()}"))
    found = calendar_of(early)
    assert {each.code: each.days for each in found.delays} == {
        code: (date - min(free.values())).days for code, date in free.items() if date > min(free.values())
    }
    page = calendar_files(early)["sessions-calendar.html"].decode()
    slowest = next(code for code, date in free.items() if date == last)
    assert (
        f"{slowest} by {(last - min(free.values())).days} days" in delay_words(found.delays) and delay_words(found.delays) in page
    )
    planned = next(each for uid, each in events_of(early).items() if "launch-planned" in uid)
    assert planned["SUMMARY"].endswith("TOO EARLY") and slowest in planned["DESCRIPTION"]
    assert not calendar_of(contents(("launch = 2026-05-22", f"launch = {last.isoformat()}"))).delays


def test_a_pane_without_a_date_or_not_drawn_makes_the_vessel_incomplete():
    found = contents(("date = 2026-05-06\n", ""), left_out=("X-9",))
    events = events_of(found)
    assert not [uid for uid in events if uid.startswith(("S-1.", "S-2."))]
    whole = next(each for uid, each in events.items() if uid.startswith("_vessel.launch@"))
    assert whole["SUMMARY"].endswith("INCOMPLETE") and "No day for S-1, S-2, X-9" in whole["DESCRIPTION"]
    page = calendar_files(found)["sessions-calendar.html"].decode()
    assert "No session gives a day of the bonding: S-1, S-2" in page and "X-9" in page


def test_without_any_date_there_is_a_page_and_no_empty_calendar():
    bare = contents(("date = 2026-05-04", "# none"), ("date = 2026-05-06", "# none"))
    files = calendar_files(bare)
    assert list(files) == ["sessions-calendar.html"] and "No pane has a date." in files["sessions-calendar.html"].decode()


def test_letters_of_other_languages_and_signs_survive(issued):
    """3.3.11: comma, semicolon and backslash are escaped; folding never splits a letter of several octets where it is read."""
    named = contents(('name = "port side"', 'name = "Bäckbord; åt, süd\\\\ost ' + "ä" * 60 + '"'))
    said = next(each for uid, each in events_of(named).items() if uid.startswith("P-1.backfill@"))["DESCRIPTION"]
    assert "Bäckbord; åt, süd\\ost " + "ä" * 60 in said


def test_the_same_bytes_twice_and_a_list_of_the_vessel(issued):
    assert calendar_files(issued) == calendar_files(contents())
    assert "calendar" in [each.name for each in VESSEL_DOCUMENTS] and VESSEL_DOCUMENTS[-1].name == "register"
