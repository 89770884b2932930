"""The bonding sessions of a vessel: which panes are bonded on which day, by whom, with how many guns, in which air.

Terms
-----
session
    One stretch of work on one day: a crew bonds its panes in the order in which they are named.
crew
    The people at hand, by name or by role: "bonder", "helper"; the same person is never in two places at once.
reading
    Air and surfaces of the day. The climate of a session holds from its first pane; a later one from the pane that it names.
what a session gives
    Start, people and climate of its panes: a pane's own keys come before it, the vessel's and the office's after it. A start of its own
    that is not that of its session is refused: a session has one clock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import model_validator

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.fields import Reads, Table, setting, whole
from geometry.job.refusal import refuse
from geometry.job.shared import WeatherTemperature  # noqa: TC001 - pydantic reads the annotations
from geometry.job.units import shown

if TYPE_CHECKING:
    from geometry.job.model import Job
    from geometry.job.pane import Pane

MOST_SESSIONS = 60
MOST_PANES_IN_ONE = 40
"""Panes in one session, pieces of one code counted each."""
MOST_CREW = 20


def _texts(value: object, *, most: int, what: str) -> tuple[str, ...]:
    if not isinstance(value, (list, tuple)) or not all(isinstance(each, str) for each in value):
        raise refuse(f"found {shown(value)}", f"a list of {what} in quotes, in square brackets")
    if not 1 <= len(value) <= most:
        raise refuse(f"found a list of {len(value)}", f"1 to {most} {what}")
    for i, each in enumerate(value):
        if not each.strip() or len(each) > 40 or not each.isprintable():
            raise refuse(f"found {shown(each)}", "1 to 40 printable characters", key=str(i))
        if each in value[:i]:
            raise refuse(f"found {shown(each)} twice", f"different {what}", key=str(i))
    return tuple(value)


def _codes(value: object) -> tuple[str, ...]:
    return _texts(value, most=MOST_PANES_IN_ONE, what="codes of panes")


def _crew(value: object) -> tuple[str, ...]:
    return _texts(value, most=MOST_CREW, what="names or roles")


def _listed(most: int) -> dict[str, Any]:
    return {
        "type": "array",
        "items": {"type": "string", "minLength": 1, "maxLength": 40},
        "minItems": 1,
        "maxItems": most,
        "uniqueItems": True,
    }


Codes = Annotated[tuple[str, ...], Reads(_codes, schema=_listed(MOST_PANES_IN_ONE))]
Crew = Annotated[tuple[str, ...], Reads(_crew, schema=_listed(MOST_CREW))]
Guns = Annotated[int, Reads(whole(1, 10))]


class Reading(Table):
    """Air and surfaces read, or expected, later in the session."""

    from_pane: f.FileWord = setting(..., "code of the pane of the session from which this reading holds")
    at: f.Clock | None = setting(None, "time of the reading; held against the clock of that pane")
    air: WeatherTemperature = setting(..., "air temperature")
    humidity: f.PositiveShare = setting(..., "relative humidity of the air")
    surface: WeatherTemperature | None = setting(None, "temperature of the glass; left out: as the air", absent="worked out")
    frame_surface: WeatherTemperature | None = setting(
        None, "temperature of the frame; left out: as the glass", absent="worked out"
    )


class SessionClimate(Table):
    """Air and surfaces of the session's day, from its first pane; in place of the shared table, a pane's own keys before it."""

    air: WeatherTemperature | None = setting(None, "air temperature; left out: of the shared table", absent="worked out")
    humidity: f.PositiveShare | None = setting(
        None, "relative humidity of the air; left out: of the shared table", absent="worked out"
    )
    surface: WeatherTemperature | None = setting(
        None, "temperature of the glass; left out: as the air of the session, or of the shared table", absent="worked out"
    )
    frame_surface: WeatherTemperature | None = setting(
        None, "temperature of the frame; left out: as the glass of the session, or of the shared table", absent="worked out"
    )
    later: tuple[Reading, ...] = setting((), "later readings, each from a pane on, in the order of the panes", shown_default="[]")


class Session(Table):
    """One bonding session."""

    name: f.Text = setting("", "what the session is called; left blank: by its number")
    date: f.Day | None = setting(None, "day of the bonding; left out: days are counted, no dates told")
    start: f.Clock | None = setting(None, "when the work begins; left out: `work.start`", absent="worked out")
    end: f.Clock | None = setting(None, "when the last pane must be pressed home; left out: midnight", absent="worked out")
    panes: Codes = setting(..., "codes of its panes, in the order in which they are bonded")
    crew: Crew | None = setting(
        None, "the people, by name or role, each once; left out: `work.people` without names", absent="worked out"
    )
    guns: Guns | None = setting(None, "guns at hand; left out: `work.guns` of its panes", absent="worked out")
    climate: SessionClimate = setting(SessionClimate(), "air and surfaces of the day")

    @model_validator(mode="after")
    def _in_order(self) -> Session:
        if self.start is not None and self.end is not None and self.end <= self.start:
            raise refuse(f"found an end at {self.end}, and a start at {self.start}", "an end after the start", key="end")
        last = -1
        for i, each in enumerate(self.climate.later):
            key = f"climate.later.{i}.from_pane"
            if each.from_pane not in self.panes:
                raise refuse(f"found {shown(each.from_pane)}", f"a pane of the session: {', '.join(self.panes)}", key=key)
            place = self.panes.index(each.from_pane)
            if place <= last:
                raise refuse(
                    f"found {shown(each.from_pane)} behind a reading of a later pane",
                    "readings in the order of the panes",
                    key=key,
                )
            last = place
        return self


def session_of(job: Job, pane: Pane) -> Session | None:
    """The session in which a pane is bonded: the first that names it; None where none does."""
    return next((each for each in job.sessions if pane.code in each.panes), None)


def sessions_of(job: Job, pane: Pane) -> tuple[Session, ...]:
    """Every session that names a pane: more than one is a fault of the plan."""
    return tuple(each for each in job.sessions if pane.code in each.panes)


def sessions_reaching(job: Job, pane: Pane) -> tuple[Session, ...]:
    """The sessions on which the papers of a pane hang: those that name it, and those of the same day that share somebody of the crew."""
    own = sessions_of(job, pane)
    days = {(each.date, who) for each in own if each.date is not None for who in each.crew or ()}
    return tuple(each for each in job.sessions if each in own or days & {(each.date, who) for who in each.crew or ()})


def title_of(job: Job, session: Session) -> str:
    """What a session is called: its name, or its number in the job."""
    number = next(i for i, each in enumerate(job.sessions, start=1) if each is session)
    return session.name or f"session {number}"


def in_session(pane: Any, shared: Mapping[str, Any]) -> Mapping[str, Any]:
    """Shared tables, as typed, with what the pane's session gives in their place. What is no table is left for the model to refuse."""
    sessions = shared.get("session")
    if not isinstance(sessions, list) or not isinstance(pane, dict):
        return shared
    own = next((each for each in sessions if isinstance(each, dict) and _names(each, pane.get("code"))), None)
    if own is None:
        return shared
    found = dict(shared)
    climate = _climate_at(own, pane["code"])
    if climate:
        found["climate"] = _climate_over(shared.get("climate"), climate)
    crew = own.get("crew")
    given = {"start": own["start"]} if "start" in own else {}
    given |= {"people": len(crew)} if isinstance(crew, list) else {}
    if given:
        work = shared.get("work")
        found["work"] = {**(work if isinstance(work, dict) else {}), **given}
    return found


def told_of_session(path: Sequence[Any], faults: Sequence[Sequence[Any]]) -> bool:
    """Whether a fault of a pane stands in a value that its session gave, whose fault is told there."""
    given = path[:1] == ("pane",) and (path[2:3] == ("climate",) or tuple(path[2:4]) in (("work", "start"), ("work", "people")))
    return given and any(other[:1] == ("session",) for other in faults)


def _names(session: Mapping[str, Any], code: Any) -> bool:
    panes = session.get("panes")
    return isinstance(panes, list) and isinstance(code, str) and code in panes


def _climate_at(session: Mapping[str, Any], code: str) -> dict[str, Any]:
    """The reading that holds for a pane, as typed."""
    climate = session.get("climate")
    if not isinstance(climate, dict):
        return {}
    found = {key: value for key, value in climate.items() if key != "later"}
    later, panes = climate.get("later"), session["panes"]
    for each in later if isinstance(later, list) else ():
        if isinstance(each, dict) and each.get("from_pane") in panes and panes.index(each["from_pane"]) <= panes.index(code):
            found = {key: value for key, value in each.items() if key not in ("from_pane", "at")}
    return found


def _climate_over(shared: Any, own: dict[str, Any]) -> dict[str, Any]:
    """The session's air brings its own surfaces along: those of another day say nothing of this one."""
    base = dict(shared) if isinstance(shared, dict) else {}
    if "air" in own or "surface" in own:
        base = {key: value for key, value in base.items() if key not in ("surface", "frame_surface")}
    return {**base, **own}


__all__ = [
    "MOST_PANES_IN_ONE",
    "MOST_SESSIONS",
    "Reading",
    "Session",
    "SessionClimate",
    "in_session",
    "session_of",
    "sessions_of",
    "sessions_reaching",
    "title_of",
    "told_of_session",
]
