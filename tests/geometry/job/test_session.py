"""The sessions of a job: what they give their panes, what is refused, what the mark hangs on."""

from __future__ import annotations

import datetime

import pytest

from geometry.job import JobError, job_of, with_changes
from geometry.job.mark import mark_of
from geometry.job.session import session_of, sessions_of, title_of

PANE = '\n[[pane]]\ncode = "{}"\nframe = "grp"\nglass = {{ plies = [8] }}\noutline = {{ rectangle = [900, 450] }}\n'
PANES = "".join(PANE.format(code) for code in ("W1", "W2", "W3"))
SHARED = "[climate]\nair = 10\nhumidity = 80\nsurface = 8\nframe_surface = 7\n[work]\nstart = 09:00:00\npeople = 3\n"
SESSION = '[[session]]\nname = "aft"\ndate = 2026-05-04\nstart = 07:30:00\npanes = ["W1", "W2"]\ncrew = ["a", "b"]\n'
CLIMATE = '[session.climate]\nair = 21\nhumidity = 60\nlater = [{ from_pane = "W2", at = 11:00:00, air = 26, humidity = 50, surface = 24 }]\n'


def job(text):
    return job_of(text, file="job.toml")


def pane(found, code):
    return next(each for each in found.panes if each.code == code)


def fault(text):
    with pytest.raises(JobError) as caught:
        job(text)
    (problem,) = caught.value.problems
    return problem


def test_a_session_gives_its_panes_start_people_and_air():
    found = job(SHARED + SESSION + CLIMATE + PANES)
    first, second, third = (pane(found, code) for code in ("W1", "W2", "W3"))
    assert (first.work.start, first.work.people) == (datetime.time(7, 30), 2)
    # the session's air brings its own surfaces: those of the shared table are of another day
    assert (first.climate.air, first.climate.humidity, first.climate.surface, first.climate.frame_surface) == (21, 60, None, None)
    assert (second.climate.air, second.climate.humidity, second.climate.surface) == (26, 50, 24)  # the later reading
    assert (third.climate.air, third.climate.surface, third.work.people) == (10, 8, 3)  # in no session: the shared tables
    assert first.was_given("climate.air") and first.was_given("work.start")
    assert session_of(found, third) is None and title_of(found, session_of(found, first)) == "aft"


def test_what_a_session_leaves_out_stays_shared():
    found = job(SHARED + '[[session]]\npanes = ["W1"]\n[session.climate]\nhumidity = 65\n' + PANES)
    first = pane(found, "W1")
    assert (first.climate.air, first.climate.humidity, first.climate.surface) == (10, 65, 8)
    assert (first.work.start, first.work.people) == (datetime.time(9, 0), 3)
    assert title_of(found, found.sessions[0]) == "session 1"


def test_a_panes_own_keys_come_before_its_session():
    own = PANES.replace('code = "W1"', 'code = "W1"\nclimate = { frame_surface = 15 }')
    first = pane(job(SHARED + SESSION + CLIMATE + own), "W1")
    assert (first.climate.air, first.climate.frame_surface) == (21, 15)
    changed = with_changes(job(SHARED + SESSION + CLIMATE + PANES), "W1", {"climate.humidity": 40.0})
    assert pane(changed, "W1").climate.humidity == 40 and pane(changed, "W1").climate.air == 21
    assert pane(changed, "W2").climate.humidity == 50


@pytest.mark.parametrize(("session", "begins"), [(SESSION, "07:30:00"), (SESSION.replace("start = 07:30:00\n", ""), "09:00:00")])
def test_a_start_of_its_own_is_refused_where_the_session_begins_at_another(session, begins):
    """One session has one clock: the pane's card would tell its bead at another time than the plan of its session does."""
    own = PANES.replace('code = "W2"', 'code = "W2"\nwork = { start = 10:00:00 }')
    problem = fault(SHARED + session + own)
    assert problem.key == "pane 2 (W2), work.start" and problem.line is not None
    assert problem.found == f"found a start at 10:00:00, and the session of W2 begins at {begins}"
    same = job(SHARED + session + own.replace("10:00:00", begins))
    assert pane(same, "W2").work.start.isoformat() == begins
    in_none = PANES.replace('code = "W3"', 'code = "W3"\nwork = { start = 10:00:00 }')
    assert pane(job(SHARED + session + in_none), "W3").work.start == datetime.time(10, 0)


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('"W2"]', '"W9"]', "session, entry 1.panes, entry 2", "found 'W9'"),
        ('"W2"]', '"W1"]', "session, entry 1.panes, entry 2", "found 'W1' twice"),
        ('"W1", "W2"]', "]", "session, entry 1.panes", "found a list of 0"),
        ('crew = ["a", "b"]', 'crew = ["a", "a"]', "session, entry 1.crew, entry 2", "found 'a' twice"),
        ('crew = ["a", "b"]', "crew = 2", "session, entry 1.crew", "found 2"),
        ('crew = ["a", "b"]', "guns = 0", "session, entry 1.guns", "found 0"),
        ('crew = ["a", "b"]', "end = 07:30:00", "session, entry 1.end", "found an end at 07:30:00, and a start at 07:30:00"),
        ("date = 2026-05-04", 'date = "Monday"', "session, entry 1.date", "found 'Monday'"),
        (
            "date = 2026-05-04",
            "date = 9999-12-31",
            "session, entry 1.date",
            "found 9999-12-31",
        ),  # no day can be counted on from it
        ("date = 2026-05-04", "date = 0001-01-01", "session, entry 1.date", "found 0001-01-01"),
        ("air = 21", "air = 210", "session, entry 1.climate.air", "found 210"),  # told once, not of every pane of the session
        ('from_pane = "W2"', 'from_pane = "W3"', "session, entry 1.climate.later, entry 1.from_pane", "found 'W3'"),
        ("[[session]]", "[session]", "session", "found"),
    ],
)
def test_one_fault_tells_where_and_what(old, new, key, says):
    text = SHARED + SESSION + CLIMATE + PANES
    assert old in text
    if new == "[session]" or "W9" in new:
        text = SHARED + SESSION + PANES
    problem = fault(text.replace(old, new, 1))
    assert problem.key == key and says.replace("'", '"') in problem.found.replace("'", '"')
    assert problem.line is not None


def test_more_pieces_than_a_session_can_hold_are_refused():
    problem = fault(SESSION + PANES.replace('code = "W2"', 'code = "W2"\nquantity = 40'))
    assert problem.key == "session, entry 1.panes" and problem.found.startswith("found 41 panes")


def test_a_pane_in_two_sessions_is_read_and_follows_the_first():
    found = job(SESSION + '[[session]]\npanes = ["W2", "W3"]\nstart = 12:00:00\n' + PANES)
    second = pane(found, "W2")
    assert len(sessions_of(found, second)) == 2 and second.work.start == datetime.time(7, 30)


def test_the_mark_hangs_on_the_panes_session_as_it_was_given():
    bare = job(SHARED + PANES)
    marks = {each.code: mark_of(bare, each) for each in bare.panes}
    with_session = job(SHARED + SESSION + PANES)
    assert mark_of(with_session, pane(with_session, "W3")) == marks["W3"]  # in no session: as before
    base = mark_of(with_session, pane(with_session, "W1"))
    assert base != marks["W1"]
    for old, new in (
        ("2026-05-04", "2026-05-05"),
        ("07:30:00", "07:45:00"),
        ('"a", "b"', '"a", "c"'),
        ('"W1", "W2"', '"W2", "W1"'),
    ):
        other = job(SHARED + SESSION.replace(old, new) + PANES)
        assert mark_of(other, pane(other, "W1")) != base
    same = job(SHARED + "# another way of writing it\n" + SESSION.replace('["a", "b"]', '[ "a", "b", ]') + PANES)
    assert mark_of(same, pane(same, "W1")) == base
