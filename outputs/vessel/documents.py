"""The documents of a vessel: lists of all its panes together, each with what makes its files.

Terms
-----
superseded
    A document of an older issue, moved aside: it tells what took its place.
purpose
    What an issue is for beyond the work itself, such as an approval: some lists are made only then.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from outputs.vessel.facts import DocumentFacts, FileFacts, PaneFacts  # noqa: TC001 - facts are read by their kinds

if TYPE_CHECKING:
    from geometry.job import Job

Files = dict[str, bytes]
NOT_DRAWN, NOT_UP_TO_DATE, NOT_ISSUED = "not drawn", "not up to date", "not issued"


@dataclass(frozen=True, slots=True)
class Superseded:
    """One document of an older issue, moved aside into ``folder``.

    ``by`` is what took its place, ``date`` the day of the issue that did, as its job gives it; "" for none. ``waits``: nothing has taken its
    place yet, because the pane of today could not be drawn.
    """

    code: str
    revision: str
    mark: str
    date_of_issue: str
    state: str
    document: DocumentFacts
    by: str
    date: str
    folder: str
    waits: bool = False


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A pane of the job that is in no sum of the lists, and why.

    ``what`` is the outcome in two or three words, as the terminal tells it: it could not be drawn, its documents are not up to date, it was
    never asked for. ``standing`` are the facts of its documents where some stand in the folder as the job had it before; None: it has none.
    """

    code: str
    revision: str
    what: str
    reason: str
    standing: PaneFacts | None = None


@dataclass(frozen=True, slots=True)
class VesselContents:
    """What the lists of a vessel are made of; panes in the order of the job, ``stem`` names the files.

    ``facts`` are those of the panes that stand there as the job has them now, ``left_out`` the others.

    ``replaces`` says, by code and name of a document, what stood in its place before: nothing where it is not there. ``lists`` are the
    lists that were made before this one, and those that stand there and are not made again.
    """

    job: Job
    stem: str
    facts: tuple[PaneFacts, ...]
    replaces: Mapping[tuple[str, str], str] = field(default_factory=dict)
    superseded: tuple[Superseded, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    lists: Mapping[str, tuple[FileFacts, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class VesselDocument:
    """One list: its name (also the end of its files' names), what it is for, and what makes its files by their whole names.

    Names of files: ``<stem>-<name>.xlsx``, ``.csv``, ``.html``. ``only_for`` names the purpose that it is made for: "" for every issue.
    """

    name: str
    says: str
    made: Callable[[VesselContents], Files]
    only_for: str = ""


def _calendar(contents: VesselContents) -> Files:
    from outputs.vessel.calendar_files import calendar_files

    return calendar_files(contents)


def _register(contents: VesselContents) -> Files:
    from outputs.vessel.register import register_files

    return register_files(contents)


def _glass(contents: VesselContents) -> Files:
    from outputs.vessel.glass_list import glass_list

    return glass_list(contents)


def _blocks(contents: VesselContents) -> Files:
    from outputs.vessel.block_list import block_list

    return block_list(contents)


def _consumables(contents: VesselContents) -> Files:
    from outputs.vessel.consumables_list import consumables_list

    return consumables_list(contents)


def _masses(contents: VesselContents) -> Files:
    from outputs.vessel.mass_list import mass_list

    return mass_list(contents)


def _records(contents: VesselContents) -> Files:
    from outputs.vessel.record_list import record_list

    return record_list(contents)


def _approval(contents: VesselContents) -> Files:
    from outputs.vessel.approval import approval_files

    return approval_files(contents)


VESSEL_DOCUMENTS: tuple[VesselDocument, ...] = (
    VesselDocument("glass", "order list of the glass, for the supplier", _glass),
    VesselDocument("consumables", "order list of adhesive, sealant and what else is used up, by article", _consumables),
    VesselDocument("blocks", "order list of spacers and chocks in heights that can be bought", _blocks),
    VesselDocument("masses", "masses and centres, for the naval architect", _masses),
    VesselDocument(
        "records", "verdicts of all panes, what does not pass, default values, what to buy: for the engineer", _records
    ),
    VesselDocument(
        "approval", "panes, open questions and deviations, for class, flag or engineer", _approval, only_for="approval"
    ),
    VesselDocument(
        "calendar", "sessions, and from which day on each pane is filled, freed and hosed, the boat moved and launched", _calendar
    ),
    VesselDocument("register", "every document with number, revision, date, state, hash and what it replaces", _register),
)
"""In the order in which they are made: the register last, for it tells of the other lists too."""


def vessel_files(contents: VesselContents, *, purpose: str = "") -> dict[str, Files]:
    """The files of every list that belongs to an issue, by the list's name; with ``purpose`` those of that purpose too."""
    from outputs.vessel.facts import file_facts

    made: dict[str, Files] = {}
    lists: dict[str, tuple[FileFacts, ...]] = {}
    for each in VESSEL_DOCUMENTS:
        if is_made(each, purpose):
            files = each.made(replace(contents, lists=dict(lists)))
            if files:
                made[each.name] = files
                lists[each.name] = tuple(file_facts(*item) for item in files.items())
        elif each.name in contents.lists:
            lists[each.name] = contents.lists[each.name]
    return made


def is_made(document: VesselDocument, purpose: str) -> bool:
    """Whether an issue for a purpose ("" for none) makes a list."""
    return document.only_for in ("", purpose)


__all__ = [
    "NOT_DRAWN",
    "NOT_ISSUED",
    "NOT_UP_TO_DATE",
    "VESSEL_DOCUMENTS",
    "LeftOut",
    "Superseded",
    "VesselContents",
    "VesselDocument",
    "is_made",
    "vessel_files",
]
