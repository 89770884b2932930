"""The documents of a vessel: lists of all its panes together, each with what makes its files.

Terms
-----
issued
    One document of one pane as it stands in the folder now, with its number, state and files.
superseded
    One document of an older issue, moved aside: what took its place, and where its files lie.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.job import Job
    from outputs.vessel.facts import FileFacts, PaneFacts

Files = dict[str, bytes]


@dataclass(frozen=True, slots=True)
class Issued:
    """One document of one pane as it stands in ``folder`` (of the issue); ``replaces`` says what stood there before, "" for nothing."""

    number: str
    document: str
    code: str
    revision: str
    mark: str
    date: str  # of issue, as the job gives it; "" where it gives none
    state: str
    folder: str
    files: tuple[FileFacts, ...]
    replaces: str = ""


@dataclass(frozen=True, slots=True)
class Superseded:
    """One document of an older issue. ``by`` is what took its place, ``date`` the day that the job of that issue gives, "" for none."""

    issued: Issued
    by: str
    date: str
    folder: str  # where its files lie now


@dataclass(frozen=True, slots=True)
class NotDrawn:
    """A pane that could not be drawn, and why."""

    code: str
    revision: str
    reason: str


@dataclass(frozen=True, slots=True)
class VesselContents:
    """What the lists of a vessel are made of; panes in the order of the job, ``stem`` names the files."""

    job: Job
    stem: str
    facts: tuple[PaneFacts, ...]
    issued: tuple[Issued, ...] = ()
    superseded: tuple[Superseded, ...] = ()
    not_drawn: tuple[NotDrawn, ...] = ()


@dataclass(frozen=True, slots=True)
class VesselDocument:
    """One list: its name (also the end of its files' names), what it is for, and what makes its files by their whole names.

    Names of files: ``<stem>-<name>.xlsx``, ``.csv``, ``.html``. ``only_for`` names the purpose that it is made for: "" for every issue.
    """

    name: str
    says: str
    made: Callable[[VesselContents], Files]
    only_for: str = ""


VESSEL_DOCUMENTS: tuple[VesselDocument, ...] = ()


def vessel_files(contents: VesselContents, *, purpose: str = "") -> dict[str, Files]:
    """The files of every list that belongs to an issue, by the list's name; with ``purpose`` those of that purpose too."""
    wanted: Iterable[VesselDocument] = (each for each in VESSEL_DOCUMENTS if each.only_for in ("", purpose))
    return {each.name: each.made(contents) for each in wanted}


__all__ = [
    "VESSEL_DOCUMENTS",
    "Issued",
    "NotDrawn",
    "Superseded",
    "VesselContents",
    "VesselDocument",
    "vessel_files",
]
