"""The release calendar of a vessel: on which day which pane may be filled, freed, hosed, when the boat may move and be launched.

Terms
-----
entry
    One release of one pane, or of the vessel: a whole day, the first on which it is allowed. It allows nothing by itself. A bonding session
    is an entry of its day.
of the vessel
    The latest of all its panes; known only where every pane has a day for it. The panes that make it late are named.
undated
    A pane of which no session gives the day of the bonding: it has no entry, and the vessel none that is complete.
identifier
    Pane, release and vessel: the same from issue to issue, so that a calendar that reads the next issue moves the entry and makes no second one.
"""

from __future__ import annotations

import datetime
import re
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.findings.state import NOT_FOR_MANUFACTURE
from geometry.workings.fill_days import fill_day
from geometry.workings.session_releases import Release, days_after
from outputs.record.sessions import heading_of, notes_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.workings.session_plan import SessionPlan
    from outputs.vessel.documents import VesselContents
    from outputs.vessel.facts import DayFacts, PaneFacts

WORDS = {
    Release.BACKFILL: "backfill from",
    Release.STRAPS: "straps off",
    Release.HOSE: "hose test",
    Release.MOVE: "move the boat",
    Release.LAUNCH: "launch",
}
WHOLE = (Release.MOVE, Release.LAUNCH)
"""Releases that the vessel has as a whole."""
PLANNED = "launch planned"
VESSEL = "_vessel"
SESSION = "_session"
"""In the place of a code that no pane can have."""


@dataclass(frozen=True, slots=True)
class PaneDays:
    """The releases of one pane; a date is None where the pane has none for it: then ``why`` says so."""

    code: str
    side: str
    session: str
    bonded: datetime.date | None
    state: str
    not_for_manufacture: bool
    dates: tuple[tuple[Release, datetime.date | None, str], ...]

    def on(self, what: Release) -> datetime.date | None:
        """The date of a release."""
        return next(date for each, date, _ in self.dates if each is what)


@dataclass(frozen=True, slots=True)
class Entry:
    """One day of the calendar: its identifier, what is allowed from then on, and what has to be known with it.

    ``allows``: it is the first day of something; else work that is planned on that day.
    """

    identifier: str
    date: datetime.date
    title: str
    says: str
    allows: bool = True


@dataclass(frozen=True, slots=True)
class VesselDays:
    """A release of the vessel as a whole: the date, None where it is not known, the panes that are last, and the panes without a day."""

    what: Release
    date: datetime.date | None
    last: tuple[str, ...]
    without: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Delay:
    """A pane whose release for the launch comes after the launch that is planned, and by how many days; None: it never comes."""

    code: str
    days: int | None


@dataclass(frozen=True, slots=True)
class ReleaseCalendar:
    """All of it. ``launch`` is the one planned, None where none is given; ``left_out`` are panes of which nothing is known."""

    panes: tuple[PaneDays, ...]
    vessel: tuple[VesselDays, ...]
    launch: datetime.date | None
    delays: tuple[Delay, ...]
    left_out: tuple[str, ...]
    sessions: tuple[SessionPlan, ...]
    entries: tuple[Entry, ...]


def calendar_of(contents: VesselContents) -> ReleaseCalendar:
    """The calendar of the panes of an issue."""
    from geometry.workings.session_plan import vessel_sessions

    panes = tuple(_pane(each) for each in contents.facts)
    left_out = tuple(each.code for each in contents.left_out)
    launch = contents.job.vessel.launch
    vessel = tuple(_vessel(panes, left_out, what) for what in WHOLE)
    delays = tuple(_delays(panes, launch))
    sessions = vessel_sessions(contents.job)
    entries = (
        *_of_sessions(sessions, panes, left_out, contents),
        *_of_panes(panes, contents),
        *_of_vessel(vessel, launch, delays, contents),
    )
    return ReleaseCalendar(panes, vessel, launch, delays, left_out, sessions, entries)


def _pane(facts: PaneFacts) -> PaneDays:
    day = facts.day
    bonded = _bonded(facts)
    return PaneDays(
        code=facts.code,
        side=facts.side,
        session="" if day is None else day.session,
        bonded=bonded,
        state=facts.state,
        not_for_manufacture=bool(facts.not_for_manufacture),
        dates=tuple((what, *_date(what, day, bonded)) for what in Release),
    )


def _date(what: Release, day: DayFacts | None, bonded: datetime.date | None) -> tuple[datetime.date | None, str]:
    """The date of a release, or why there is none."""
    if day is None or bonded is None:
        return None, "no date"
    date = days_after(bonded, dict(day.releases).get(what.value))
    return date, "" if date is not None else "never as planned"


def fill_day_as_kept(facts: PaneFacts) -> datetime.date | None:
    """The day of the backfill of a pane whose facts were kept; None where there is none."""
    return None if facts.day is None else fill_day(_bonded(facts), facts.day.releases)


def _bonded(facts: PaneFacts) -> datetime.date | None:
    return datetime.date.fromisoformat(facts.day.bonded_on) if facts.day is not None and facts.day.bonded_on else None


def _vessel(panes: tuple[PaneDays, ...], left_out: tuple[str, ...], what: Release) -> VesselDays:
    dates = [(pane.code, date) for pane in panes if (date := pane.on(what)) is not None]
    without = (*(pane.code for pane in panes if pane.on(what) is None), *left_out)
    latest = max((date for _, date in dates), default=None)
    return VesselDays(what, latest, tuple(code for code, date in dates if date == latest), without)


def _delays(panes: tuple[PaneDays, ...], launch: datetime.date | None) -> Iterator[Delay]:
    for pane in panes:
        date = pane.on(Release.LAUNCH)
        if launch is None or pane.bonded is None:
            continue
        if date is None:
            yield Delay(pane.code, None)
        elif date > launch:
            yield Delay(pane.code, (date - launch).days)


def _of_sessions(
    sessions: tuple[SessionPlan, ...], panes: tuple[PaneDays, ...], left_out: tuple[str, ...], contents: VesselContents
) -> Iterator[Entry]:
    seen: dict[str, int] = {}
    for plan in sessions:
        name = _plain(plan.title)
        seen[name] = seen.get(name, 0) + 1
        if plan.date is not None:
            own = name if seen[name] == 1 else f"{name}-{seen[name]}"
            says = " ".join(f"{each}." for each in (heading_of(plan), *notes_of(plan), *session_warnings(plan, panes, left_out)))
            yield Entry(identifier(contents, SESSION, own), plan.date, f"bonding: {plan.title}", says, allows=False)


def session_warnings(plan: SessionPlan, panes: tuple[PaneDays, ...], left_out: tuple[str, ...]) -> tuple[str, ...]:
    """Panes of a session that must not be made as they stand, and those of which no document is up to date: nothing to work from."""
    held = [each.code for each in panes if each.code in plan.panes and each.not_for_manufacture]
    without = [code for code in plan.panes if code in left_out]
    told = [f"{NOT_FOR_MANUFACTURE} as they stand: {', '.join(held)}"] if held else []
    return (*told, *([f"NO DOCUMENT UP TO DATE of {', '.join(without)}"] if without else []))


def _of_panes(panes: tuple[PaneDays, ...], contents: VesselContents) -> Iterator[Entry]:
    for pane in panes:
        for what, date, _ in pane.dates:
            if date is None or pane.bonded is None:
                continue
            says = f"Not before this day. Bonded {pane.bonded.isoformat()}, {pane.session}. Checks: {pane.state}."
            if pane.not_for_manufacture:
                says += f" {NOT_FOR_MANUFACTURE}."
            yield Entry(identifier(contents, pane.code, what.value), date, f"{pane.code}: {WORDS[what]}", says)


def _of_vessel(
    vessel: tuple[VesselDays, ...], launch: datetime.date | None, delays: tuple[Delay, ...], contents: VesselContents
) -> Iterator[Entry]:
    for each in vessel:
        if each.date is not None:
            title = f"vessel: {WORDS[each.what]}" + (", INCOMPLETE" if each.without else "")
            yield Entry(identifier(contents, VESSEL, each.what.value), each.date, title, vessel_words(each))
    if launch is not None and any(each.date is not None for each in vessel):
        late = f"Too early for {delay_words(delays)}." if delays else "No dated pane delays it."
        unknown = next(each.without for each in vessel if each.what is Release.LAUNCH)
        late += f" Not known of {', '.join(unknown)}." if unknown else ""
        title = f"vessel: {PLANNED}" + (", TOO EARLY" if delays else "")
        yield Entry(identifier(contents, VESSEL, PLANNED), launch, title, late)


def vessel_words(days: VesselDays) -> str:
    """When the vessel as a whole is released, the panes that are last, and those of which nothing is known."""
    known = f"Not before this day for {', '.join(days.last)}, the last." if days.date is not None else "No pane has a day for it."
    return known + (f" No day for {', '.join(days.without)}: later, or never." if days.without else "")


def delay_words(delays: tuple[Delay, ...]) -> str:
    """The panes that delay the launch, and by how much: "S-2 by 3 days"."""

    def words(each: Delay) -> str:
        if each.days is None:
            return f"{each.code}, never released as planned"
        return f"{each.code} by {each.days} {'day' if each.days == 1 else 'days'}"

    return "; ".join(words(each) for each in delays)


def identifier(contents: VesselContents, code: str, what: str) -> str:
    """The identifier of an entry: pane, release and vessel in plain letters."""
    vessel = contents.job.vessel
    name = "-".join(part for part in (_plain(vessel.name), _plain(vessel.yard_number)) if part) or _plain(contents.stem)
    return f"{code}.{_plain(what)}@{name}.fritline.invalid"


def _plain(text: str) -> str:
    letters = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode("ascii").lower()
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")


__all__ = [
    "WORDS",
    "Delay",
    "Entry",
    "PaneDays",
    "ReleaseCalendar",
    "VesselDays",
    "calendar_of",
    "delay_words",
    "fill_day_as_kept",
    "identifier",
    "session_warnings",
    "vessel_words",
]
