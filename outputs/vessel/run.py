"""An issue: every pane of a job drawn or found up to date, what is older moved aside, then the lists of the vessel.

Terms
-----
outcome
    What became of a pane: written, up to date, or not drawn with its reason; of a pane that was not asked for: not up to date, where its
    documents stand as the job had it before, or not issued.

A pane's files and what is noted of them are written pane by pane. The lists are taken away before the first change and written again at
the end: no list stands beside documents that it does not know, and a folder without lists holds an issue that was not completed.
Where only some panes are asked for, the others stay as they stand; what is not up to date is in no sum, and every list says so.

The folder itself may be a link, as to a place on a server: it is followed. A folder inside it may not: an issue writes, moves and takes
away in it, and a link would have that done somewhere else.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from outputs.vessel.documents import (
    NOT_DRAWN,
    NOT_ISSUED,
    NOT_UP_TO_DATE,
    VESSEL_DOCUMENTS,
    LeftOut,
    Superseded,
    VesselContents,
    is_made,
    vessel_files,
)
from outputs.vessel.facts import PaneFacts, file_facts
from outputs.vessel.kept import NAME, Kept, KeptError, KeptList, KeptPane, Move, Whose, kept_in
from outputs.vessel.one_pane import Asked, Broken, Drawn, Result
from outputs.vessel.pool import panes_drawn
from outputs.vessel.superseded import ASIDE, NO_SUCH_NAME, NOT_AGAIN, lists_withdrawn, make_moves, withdrawn
from outputs.vessel.up_to_date import Inputs, program_hash, stand, stands

if TYPE_CHECKING:
    from geometry.job import Job

WRITTEN, UP_TO_DATE = "written", "up to date"


class IssueError(ValueError):
    """Why nothing can be issued into a folder: one sentence. Nothing was written."""


@dataclass(frozen=True, slots=True)
class PaneOutcome:
    """What became of one pane. ``facts`` are those of its documents, None where it has none; ``reason`` says why it is not up to date."""

    code: str
    revision: str
    what: str
    facts: PaneFacts | None = None
    reason: str = ""


@dataclass
class Outcome:
    """What became of an issue: its panes in the order of the job, the files of its lists, what was moved aside now, faults."""

    panes: list[PaneOutcome] = field(default_factory=list)
    lists: dict[str, tuple[str, ...]] = field(default_factory=dict)
    superseded: tuple[Superseded, ...] = ()  # by this run
    faults: list[tuple[str, Broken]] = field(default_factory=list)  # of the program, by the code of the pane


def issued(
    job: Job,
    stem: str,
    folder: Path,
    asked: Asked,
    *,
    workers: int,
    step: Callable[[str], None],
    purpose: str = "",
    only: Collection[str] = (),
) -> Outcome:
    """Issue a job into a folder; ``step`` is told once at the beginning and then of every pane that is done.

    ``only`` names the panes that are brought up to date; none: all.

    Raises ``IssueError`` where the folder is not to be written to, ``WriteError`` where a file cannot be written, ``ImportError`` where a
    library is missing. What was written until then is whole and noted.
    """
    for pane in job.panes:
        if pane.code.casefold() == ASIDE:
            raise IssueError(
                f"pane {pane.code}: found the code {pane.code}; allowed: any other, its folder is that of older issues"
            )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise IssueError(f"{folder} cannot be made a folder: {error.strerror or error}") from error
    with _held(folder):
        return _Issue(job, stem, folder, asked, purpose, only).run(workers, step)


class _Issue:
    """One run."""

    def __init__(self, job: Job, stem: str, folder: Path, asked: Asked, purpose: str, only: Collection[str]) -> None:
        self.codes = frozenset(only or (pane.code for pane in job.panes))
        self.job, self.stem, self.folder, self.asked, self.purpose = job, stem, folder, asked, purpose
        self.date = job.sheet.date.isoformat() if job.sheet.date else ""
        self.whose = Whose(stem, job.vessel.name, job.vessel.yard_number)
        self.inputs, self.program = Inputs(job, asked), program_hash()
        self.kept = _known(folder, self.whose, job, self.program)
        self.before = len(self.kept.superseded)
        self.outcomes: dict[str, PaneOutcome] = {}
        self.faults: list[tuple[str, Broken]] = []
        self.lists_there = True

    def run(self, workers: int, step: Callable[[str], None]) -> Outcome:
        """All of it."""
        step("looking at what stands there")
        self._hold_folders()
        self._settle()
        self._hold_others()
        self._withdraw_gone()
        keys = [self.inputs.of(index) for index in range(len(self.job.panes))]
        to_draw = []
        for index, pane in enumerate(self.job.panes):
            known = self.kept.panes.get(pane.code)
            if known is not None and self._stands(known, keys[index]):
                self.outcomes[pane.code] = PaneOutcome(pane.code, pane.revision, UP_TO_DATE, known.facts)
                if pane.code in self.codes:
                    step(f"{pane.code} is up to date")
            elif pane.code not in self.codes:
                self.outcomes[pane.code] = self._left(pane.code, pane.revision, known)
            else:
                to_draw.append(index)
        for index, result in panes_drawn(self.job, to_draw, self.asked, workers=workers):
            code = self.job.panes[index].code
            self._take(index, keys[index], result)
            step(f"{code} {self.outcomes[code].what}")
        return self._closed()

    def _stands(self, known: KeptPane, key: str) -> bool:
        same = known.input == key and known.program == self.program
        return same and stand(self.folder / known.facts.code, known.facts.files)

    def _left(self, code: str, revision: str, known: KeptPane | None) -> PaneOutcome:
        """A pane that is not asked for and not up to date: what stands there of it stays."""
        if known is None:
            return PaneOutcome(code, revision, NOT_ISSUED, reason="not asked for in this run, and it has no documents")
        why = "the job or the options of the run have changed since" if known.program == self.program else "issued by another version of the program"
        return PaneOutcome(code, revision, NOT_UP_TO_DATE, known.facts, f"not asked for in this run, and {why}")

    def _hold_folders(self) -> None:
        """Raise where a folder that the issue writes into leads out of it."""
        for name in (ASIDE, *self.kept.panes, *(pane.code for pane in self.job.panes)):
            if (self.folder / name).is_symlink():
                raise IssueError(
                    f"{self.folder / name}: found a link; allowed: a folder or nothing, what is in it is written and moved"
                )

    def _hold_others(self) -> None:
        """Raise where a pane that is to stay as it stands does not stand as it was written: the register would tell of what is not there."""
        for pane in self.job.panes:
            known = self.kept.panes.get(pane.code)
            if pane.code not in self.codes and known is not None and not stand(self.folder / pane.code, known.facts.files):
                raise IssueError(
                    f"pane {pane.code}: found documents that are changed or missing; allowed: as they were written, or --pane {pane.code} "
                    "as well"
                )

    def _settle(self) -> None:
        """Finish what a run that was killed had noted and not yet moved, and clear away what it left."""
        from outputs.files.whole import clear_leftovers

        for place in (self.folder, *(self.folder / code for code in (*self.kept.panes, *(pane.code for pane in self.job.panes)))):
            if place.is_dir():
                clear_leftovers(place)
        make_moves(self.folder, self.kept.moving)

    def _withdraw_gone(self) -> None:
        """Move aside the documents of panes that the job no longer has."""
        codes = {pane.code for pane in self.job.panes}
        by = "nothing: the pane is no longer in the job"
        for code, known in list(self.kept.panes.items()):
            if code not in codes:
                gone = withdrawn(self.folder, known.facts, staying=(), by=by, date=self.date)
                self._note(code, None, *gone)
        self.kept.superseded = tuple(
            replace(each, by=by, date=self.date, waits=False) if each.waits and each.code not in codes else each
            for each in self.kept.superseded
        )

    def _take(self, index: int, key: str, result: Result) -> None:
        """Note and write what became of a pane."""
        pane = self.job.panes[index]
        known = self.kept.panes.get(pane.code)
        if isinstance(result, Drawn):
            self._write(key, known, result)
            return
        if isinstance(result, Broken):
            if result.library is not None:
                raise ImportError(result.library[1], name=result.library[0])
            self.faults.append((pane.code, result))
            reason = "not enough memory" if result.memory else f"a fault of the program ({result.kind})"
        else:
            reason = result.reason
        if known is not None:  # what stands there is not of this job
            by = f"nothing yet: {_revision(pane.revision)} could not be drawn"
            self._note(pane.code, None, *withdrawn(self.folder, known.facts, staying=(), by=by, date=self.date, waits=True))
        self.outcomes[pane.code] = PaneOutcome(pane.code, pane.revision, NOT_DRAWN, reason=reason)

    def _write(self, key: str, known: KeptPane | None, drawn: Drawn) -> None:
        from outputs.files.whole import write_all

        facts = drawn.facts
        by = f"{_revision(facts.revision)}, mark {facts.mark}"
        entries: tuple[Superseded, ...] = ()
        moves: tuple[Move, ...] = ()
        if known is not None:
            entries, moves = withdrawn(self.folder, known.facts, staying=drawn.files, by=by, date=self.date)
        self.kept.superseded = tuple(
            replace(each, by=by, date=self.date, waits=False) if each.waits and each.code == facts.code else each
            for each in self.kept.superseded
        )
        replaces = _replaces(known, facts, (*self.kept.superseded, *entries))
        self._note(facts.code, KeptPane(key, self.program, facts, replaces), entries, moves)
        write_all([(self.folder / facts.code / name, data) for name, data in drawn.files.items()])
        self.outcomes[facts.code] = PaneOutcome(facts.code, facts.revision, WRITTEN, facts)

    def _note(self, code: str, pane: KeptPane | None, entries: tuple[Superseded, ...], moves: tuple[Move, ...]) -> None:
        """Write down what a pane is from now on and what goes aside, then move it."""
        self._take_lists_away()
        panes = {name: each for name, each in self.kept.panes.items() if name != code}
        if pane is not None:
            panes[code] = pane
        order = [each.code for each in self.job.panes]
        self.kept.panes = {
            name: panes[name] for name in [*order, *(each for each in panes if each not in order)] if name in panes
        }
        self.kept.superseded = (*self.kept.superseded, *entries)
        self.kept.moving = moves
        self.kept.write(self.folder)
        make_moves(self.folder, moves)

    def _take_lists_away(self) -> None:
        """Take the lists away before the first change; one that this issue does not make again, for it has a purpose, goes aside."""
        if not self.lists_there:
            return
        self.lists_there = False
        again = self._again()
        for known in self.kept.lists:
            if known.name in again:
                for each in known.files:
                    if stands(self.folder / each.name, each):
                        (self.folder / each.name).unlink()
        self._withdraw_lists([each for each in self.kept.lists if each.name not in again], NOT_AGAIN)

    def _withdraw_lists(self, lists: list[KeptList], by: str) -> bool:
        """Move lists aside, and note it first: the register tells of them as it does of the documents of a pane. Whether there were any."""
        there = [replace(each, files=tuple(file for file in each.files if (self.folder / file.name).is_file())) for each in lists]
        gone = [each for each in there if each.files]
        if gone:
            entries, moves = lists_withdrawn(self.folder, gone, by=by, date=self.date)
            self.kept.lists = tuple(each for each in self.kept.lists if each not in lists)
            self.kept.superseded, self.kept.moving = (*self.kept.superseded, *entries), moves
            self.kept.write(self.folder)
            make_moves(self.folder, moves)
            self.kept.moving = ()
        return bool(gone)

    def _closed(self) -> Outcome:
        """The lists of the vessel written, and what is kept."""
        from outputs.files.whole import write_all

        kept, panes = self.kept, [self.outcomes[pane.code] for pane in self.job.panes]
        others = [each for each in kept.lists if each.name not in self._again()]
        staying = tuple(each for each in others if self._holds_still(each, panes))
        self._withdraw_lists([each for each in others if each not in staying], NOT_AGAIN)
        old = tuple(each for each in kept.lists if each not in staying)
        contents = self._contents(panes, staying)
        told = self._lists_input(contents)
        if told == kept.lists_input and all(stand(self.folder, each.files) for each in old):
            names = {each.name: tuple(file.name for file in each.files) for each in old}
            return Outcome(panes, names, kept.superseded[self.before :], self.faults)
        made = vessel_files(contents, purpose=self.purpose)
        files = {name: data for each in made.values() for name, data in each.items()}
        gone = [replace(each, files=tuple(file for file in each.files if file.name not in files)) for each in old]
        if self._withdraw_lists(gone, NO_SUCH_NAME):
            contents = self._contents(panes, staying)  # the register tells of it
            told, made = self._lists_input(contents), vessel_files(contents, purpose=self.purpose)
            files = {name: data for each in made.values() for name, data in each.items()}
        lists = tuple(KeptList(name, tuple(file_facts(*item) for item in each.items()), self.date) for name, each in made.items())
        kept.whose, kept.lists, kept.moving = self.whose, (*lists, *staying), ()
        kept.lists_input = told
        missing = [each for known in lists for each in known.files if not stands(self.folder / each.name, each)]
        if missing:
            write_all([(self.folder / each.name, files[each.name]) for each in missing])
        data = kept.data()
        if not stands(self.folder / NAME, file_facts(NAME, data)):
            kept.write(self.folder)
        return Outcome(panes, {name: tuple(each) for name, each in made.items()}, kept.superseded[self.before :], self.faults)

    def _holds_still(self, known: KeptList, panes: list[PaneOutcome]) -> bool:
        """Whether a list that was made for a purpose stands as it was written and would be the same today."""
        purpose = next((each.only_for for each in VESSEL_DOCUMENTS if each.name == known.name), "")
        if not purpose or not stand(self.folder, known.files):
            return False
        today = vessel_files(self._contents(panes, ()), purpose=purpose).get(known.name, {})
        return tuple(file_facts(*item) for item in today.items()) == known.files

    def _lists_input(self, contents: VesselContents) -> str:
        return self.inputs.of_lists(contents, purpose=self.purpose, program=self.program)

    def _again(self) -> set[str]:
        """Names of the lists that this issue makes."""
        return {each.name for each in VESSEL_DOCUMENTS if is_made(each, self.purpose)}

    def _contents(self, panes: list[PaneOutcome], staying: tuple[KeptList, ...]) -> VesselContents:
        """What the lists are made of; ``staying`` are those that stand there and are not made again."""
        return VesselContents(
            job=self.job,
            stem=self.stem,
            facts=tuple(each.facts for each in panes if each.facts is not None and each.what != NOT_UP_TO_DATE),
            replaces={(code, name): words for code, known in self.kept.panes.items() for name, words in known.replaces},
            superseded=self.kept.superseded,
            lists={each.name: each.files for each in staying},
            left_out=tuple(
                LeftOut(each.code, each.revision, each.what, each.reason, each.facts)
                for each in panes
                if each.facts is None or each.what == NOT_UP_TO_DATE
            ),
        )


def _known(folder: Path, whose: Whose, job: Job, program: str) -> Kept:
    """What is kept in the folder. Raises ``IssueError`` where it is not of this job, or cannot be read."""
    try:
        kept = kept_in(folder, program=program)
    except KeptError as error:
        raise IssueError(str(error)) from error
    if kept is None:
        return Kept(whose)
    before, codes = kept.whose, {pane.code for pane in job.panes}
    other = any(
        one and another and one != another
        for one, another in ((before.vessel, whose.vessel), (before.yard_number, whose.yard_number))
    )
    if other or (kept.panes and not codes & set(kept.panes)):
        name = " ".join(part for part in (before.vessel, before.yard_number) if part) or before.stem
        raise IssueError(
            f"{folder} holds the issue of another job ({name}, panes {_few(list(kept.panes))}): its documents would be moved aside; "
            "allowed: a folder of its own for each job"
        )
    return kept


def _few(codes: list[str]) -> str:
    return ", ".join(codes) if len(codes) <= 4 else f"{', '.join(codes[:3])} ... {codes[-1]}"


def _revision(letter: str) -> str:
    return f"revision {letter}" if letter else "the issue without a revision letter"


def _replaces(known: KeptPane | None, facts: PaneFacts, aside: tuple[Superseded, ...]) -> tuple[tuple[str, str], ...]:
    """What stood in the place of each document before: a revision that went aside, or what the same revision was until now."""
    found = []
    before = dict(known.replaces) if known is not None else {}
    had = {each.name for each in known.facts.documents} if known is not None else set()
    for document in facts.documents:
        words = ""
        if known is not None and document.name in had and known.facts.revision == facts.revision:
            written_over = f"{_revision(facts.revision)} under mark {known.facts.mark}, written over"
            words = before.get(document.name, "") if known.facts.mark == facts.mark else written_over
        else:
            last = next(
                (each for each in reversed(aside) if (each.code, each.document.name) == (facts.code, document.name)), None
            )
            words = f"{_revision(last.revision)}, mark {last.mark}" if last is not None else ""
        if words:
            found.append((document.name, words))
    return tuple(found)


@contextmanager
def _held(folder: Path) -> Iterator[None]:
    """The folder held against another run that issues into it; the system lets go of it however this one ends."""
    try:
        import fcntl
    except ImportError:  # Windows
        yield
        return
    try:
        descriptor = os.open(folder, os.O_RDONLY)
    except OSError as error:
        raise IssueError(f"{folder} cannot be opened: {error.strerror or error}") from error
    try:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            try:
                fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError as error:
                raise IssueError(f"another run is issuing into {folder}; wait for its end, or give another folder") from error
            except OSError:
                pass  # a file system that holds no folder
        yield
    finally:
        os.close(descriptor)


__all__ = ["NOT_DRAWN", "NOT_ISSUED", "NOT_UP_TO_DATE", "UP_TO_DATE", "WRITTEN", "IssueError", "Outcome", "PaneOutcome", "issued"]
