"""What an issue keeps in its folder, in one file: what each pane was made from and of which files, what was moved aside.

Terms
-----
kept
    For each pane the hash of what went into it, the hash of the program, its facts with the hash of every file. It says what was meant to
    stand in the folder: whether it does, the files themselves are asked.
noted first
    A change is written down before it is made. A run that is killed in between leaves a file that says more than stands there, never less:
    the next run finds what is missing and makes it.
of another program
    A pane that another version of the program issued is drawn anew. Of its facts only what its files are called and what the register tells
    of them is used, so that facts which that version did not know do not matter.
"""

from __future__ import annotations

import json
import os
import stat
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Any

from outputs.version import IDENTITY
from outputs.vessel.documents import Superseded
from outputs.vessel.facts import FileFacts, PaneFacts  # noqa: TC001 - what is kept is read by its kinds
from outputs.vessel.facts_data import as_data, from_data

NAME = ".fritline-issue.json"
SCHEMA = 1
LARGEST = 500_000_000
"""Bytes: far more than 200 panes with a hundred revisions each."""


class KeptError(ValueError):
    """Why the file of an issue cannot be taken: one sentence."""


@dataclass(frozen=True, slots=True)
class Whose:
    """Which job was issued into a folder."""

    stem: str
    vessel: str
    yard_number: str


@dataclass(frozen=True, slots=True)
class Move:
    """A file that goes aside: where it stood and where it goes, by their places in the folder."""

    old: str
    new: str


@dataclass(frozen=True, slots=True)
class KeptPane:
    """One pane as it was issued. ``replaces`` are names of documents with what stood in their place before."""

    input: str
    program: str
    facts: PaneFacts
    replaces: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class KeptList:
    """The files of one list of the vessel; ``date`` is the day of its issue as the job gave it, "" for none."""

    name: str
    files: tuple[FileFacts, ...]
    date: str = ""


@dataclass
class Kept:
    """All of it; panes by their codes. ``lists_input`` is the hash of what went into the lists, "" where that is not known."""

    whose: Whose
    panes: dict[str, KeptPane] = field(default_factory=dict)
    lists: tuple[KeptList, ...] = ()
    lists_input: str = ""
    superseded: tuple[Superseded, ...] = ()
    moving: tuple[Move, ...] = ()
    _texts: dict[int, tuple[Any, str]] = field(default_factory=dict, repr=False)

    def write(self, folder: Path) -> None:
        """Write the file, whole. Raises ``WriteError``."""
        from outputs.files.whole import write_whole

        write_whole(folder / NAME, self.data())

    def data(self) -> bytes:
        """The file's bytes."""
        head = {"schema": SCHEMA, "kind": "issue", "program": IDENTITY, "job": as_data(self.whose), "lists_input": self.lists_input}
        parts = [f"{json.dumps(name)}: {json.dumps(value)}" for name, value in head.items()]
        for name in ("lists", "superseded", "moving"):
            parts.append(f'"{name}": [{", ".join(self._text(each) for each in getattr(self, name))}]')
        panes = ",\n".join(self._text(each) for each in self.panes.values())
        text = ",\n".join([*parts, f'"panes": [\n{panes}\n]'])
        known = {id(each) for group in (self.lists, self.superseded, self.moving, self.panes.values()) for each in group}
        self._texts = {key: value for key, value in self._texts.items() if key in known}
        return f"{{\n{text}\n}}\n".encode("ascii")

    def _text(self, value: Any) -> str:
        """A value as JSON, worked out once: the file is written after every pane."""
        known = self._texts.get(id(value))
        if known is None:
            known = self._texts[id(value)] = (value, json.dumps(as_data(value), allow_nan=False))
        return known[1]


def kept_in(folder: Path, *, program: str) -> Kept | None:
    """What was issued into a folder; None where nothing was. ``program`` is the hash of the program that asks.

    Raises ``KeptError`` where the file is not as it was written.
    """
    path = folder / NAME
    try:
        mode = os.lstat(path).st_mode
    except FileNotFoundError:
        return None
    except OSError as error:
        raise KeptError(f"{path} cannot be read: {error.strerror or error}") from error
    if not stat.S_ISREG(mode):
        raise KeptError(f"{path} is not an ordinary file; allowed: the file as it was written, or none")
    try:
        if path.stat().st_size > LARGEST:
            raise KeptError(f"{path} has more than {LARGEST} bytes; {_REMEDY}")
        return _read(json.loads(path.read_bytes()), program)
    except OSError as error:
        raise KeptError(f"{path} cannot be read: {error.strerror or error}") from error
    except KeptError:
        raise
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise KeptError(f"{path} is damaged; {_REMEDY}") from error


_REMEDY = (
    "allowed: the file as it was written. It tells which files of the folder an issue made: put it back from a copy, or issue into an "
    "empty folder"
)


def _read(told: Any, program: str) -> Kept:
    if told["kind"] != "issue":
        raise ValueError("no issue")
    if told["schema"] != SCHEMA:
        raise KeptError(
            f"{NAME} is of another version of Fritline (form {told['schema']}, known: {SCHEMA}); issue into an empty folder"
        )
    panes = [from_data(KeptPane, each, other_form=each["program"] != program) for each in told["panes"]]
    if not all(pane.facts.code and pane.input and isinstance(pane.program, str) for pane in panes):
        raise ValueError("no pane")
    kept = Kept(
        whose=from_data(Whose, told["job"]),
        panes={each.facts.code: each for each in panes},
        lists=tuple(from_data(KeptList, each, other_form="date" not in each) for each in told["lists"]),
        lists_input=str(told.get("lists_input", "")),
        superseded=tuple(from_data(Superseded, each) for each in told["superseded"]),
        moving=tuple(from_data(Move, each) for each in told["moving"]),
    )
    files = [file.name for each in panes for file in each.facts.files] + [file.name for each in kept.lists for file in each.files]
    for name in (*kept.panes, *files):
        if PurePosixPath(name).name != name or name in ("", ".", ".."):
            raise ValueError("no name of a file")
    for place in (place for each in kept.moving for place in (each.old, each.new)):
        if place.startswith("/") or ".." in PurePosixPath(place).parts:
            raise ValueError("a place outside the folder")
    return kept


__all__ = ["NAME", "Kept", "KeptError", "KeptList", "KeptPane", "Move", "Whose", "kept_in"]
