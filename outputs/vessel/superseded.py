"""Documents of an older issue moved aside: which, to where, and the moves themselves.

Terms
-----
aside
    In the folder ``superseded``, in a folder of the issue that they belong to: ``superseded/SW-01-A-K7PA-3MXD``.
gone
    A file that an older issue made and the new one does not: of an older revision, of a pane or a document that is no more.

Only files that an issue noted are moved, only under a name that is free, and nothing else in the folder is touched.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Collection
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from outputs.vessel.documents import Superseded
from outputs.vessel.facts import DocumentFacts
from outputs.vessel.kept import Move

if TYPE_CHECKING:
    from outputs.vessel.facts import PaneFacts
    from outputs.vessel.kept import KeptList

ASIDE = "superseded"
LISTS = "lists"
OF_ALL = "all"
"""In the place of a pane's code: a list of the vessel."""
NOT_AGAIN = "nothing: it was not asked for again when the issue changed"
NO_SUCH_NAME = "nothing: this issue makes no list of that name"


def withdrawn(
    folder: Path, old: PaneFacts, *, staying: Collection[str], by: str, date: str, waits: bool = False
) -> tuple[tuple[Superseded, ...], tuple[Move, ...]]:
    """What of an older issue of a pane goes aside: all its files but those of the names that stay (they are written over)."""
    parts = []
    for document in old.documents:
        gone = tuple(each for each in document.files if each.name not in staying)
        if gone:
            parts.append(replace(document, files=gone))
    names = [each.name for document in parts for each in document.files]
    place = free_place(folder, f"{ASIDE}/{old.file_stem}-{old.mark}", names)
    entries = tuple(
        Superseded(
            code=old.code,
            revision=old.revision,
            mark=old.mark,
            date_of_issue=old.date,
            state=old.told,
            document=each,
            by=by,
            date=date,
            folder=place,
            waits=waits,
        )
        for each in parts
    )
    return entries, tuple(Move(f"{old.code}/{name}", f"{place}/{name}") for name in names)


def lists_withdrawn(
    folder: Path, lists: Collection[KeptList], *, by: str, date: str
) -> tuple[tuple[Superseded, ...], tuple[Move, ...]]:
    """Lists of the vessel that go aside because this issue does not make them again."""
    names = [each.name for known in lists for each in known.files]
    place = free_place(folder, f"{ASIDE}/{LISTS}", names)
    entries = tuple(
        Superseded(
            code=OF_ALL,
            revision="",
            mark="",
            date_of_issue=each.date,
            state="",
            document=DocumentFacts(each.name, "", (), each.files),
            by=by,
            date=date,
            folder=place,
        )
        for each in lists
    )
    return entries, tuple(Move(name, f"{place}/{name}") for name in names)


def free_place(folder: Path, wanted: str, names: Collection[str]) -> str:
    """A folder in which none of the names is taken: the one wanted, or with a number behind it."""
    place, count = wanted, 1
    while any(os.path.lexists(folder / place / name) for name in names):
        count += 1
        place = f"{wanted}-{count}"
    return place


def make_moves(folder: Path, moves: Collection[Move]) -> None:
    """Move the files aside; what was moved already, or is no ordinary file any more, is left. Raises ``WriteError``."""
    from outputs.files.whole import WriteError

    for each in moves:
        old, new = folder / each.old, folder / each.new
        try:
            if not stat.S_ISREG(os.lstat(old).st_mode) or os.path.lexists(new):
                continue
        except (FileNotFoundError, NotADirectoryError):
            continue
        try:
            new.parent.mkdir(parents=True, exist_ok=True)
            os.rename(old, new)
        except OSError as error:
            raise WriteError(f"{old} cannot be moved to {new}: {error.strerror or error}") from error
    for emptied in dict.fromkeys((folder / each.old).parent for each in moves):
        if emptied != folder:
            with suppress(OSError):  # it holds something yet
                emptied.rmdir()


__all__ = ["ASIDE", "LISTS", "NOT_AGAIN", "NO_SUCH_NAME", "OF_ALL", "free_place", "lists_withdrawn", "make_moves", "withdrawn"]
