"""One pane of an issue: checked and drawn, all its documents, in whatever process it comes to.

Terms
-----
drawn
    The facts of a pane and its files by name.
refused
    Why a pane cannot be drawn: what the job asks of it cannot be.
broken
    A fault of the program, or no memory, while a pane was drawn.
"""

from __future__ import annotations

import logging
import traceback
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.documents import FORMATS, NAMES, RECORD, RECORD_LETTER, RECORD_READERS, documents_made

if TYPE_CHECKING:
    from geometry.job import Job, Pane
    from outputs.sheets.contents import Contents
    from outputs.vessel.facts import DocumentFacts, PaneFacts


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of every pane of an issue."""

    plate: bool = True
    documents: tuple[str, ...] = NAMES
    formats: tuple[str, ...] = FORMATS


@dataclass(frozen=True, slots=True)
class Drawn:
    """A pane with its documents; ``files`` are the bytes of every file by its name."""

    facts: PaneFacts
    files: dict[str, bytes]


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a pane cannot be drawn."""

    reason: str


@dataclass(frozen=True, slots=True)
class Broken:
    """A fault while a pane was drawn: its kind and where it came from; ``memory``: the system gave no more memory."""

    kind: str
    details: str
    memory: bool = False
    library: tuple[str, str] | None = None  # of a library that could not be loaded: its name and what was said


Result = Drawn | Refused | Broken


def pane_drawn(job: Job, pane: Pane, asked: Asked) -> Result:
    """Check and draw one pane; whatever becomes of it, nothing is raised but a request to stop."""
    from outputs.commands.memory import hold_room, memory_is_short

    # a home in which the library may not keep its list of fonts is nothing that the user has to hear of
    logging.getLogger("ezdxf").setLevel(logging.ERROR)
    try:
        hold_room()
        return _drawn(job, pane, asked)
    except Exception as error:
        if memory_is_short(error):
            return Broken("MemoryError", "not enough memory", memory=True)
        library = (error.name or "", str(error)) if isinstance(error, ImportError) else None
        return Broken(type(error).__name__, "".join(traceback.format_exception(error)), library=library)


def _drawn(job: Job, pane: Pane, asked: Asked) -> Result:
    from geometry.detail.build import DetailError, build_detail
    from geometry.findings.check import check_pane
    from geometry.outline.loop import OutlineError
    from outputs.commands.shared import no_plate, plate_errors
    from outputs.sheet.lettering import LetteringError
    from outputs.sheet.refusal import SheetError
    from outputs.sheets.contents import Contents
    from outputs.vessel.facts_gathered import facts_of

    try:
        detail = build_detail(job, pane)
        check = check_pane(job, pane, detail, plate=asked.plate, plan=RECORD in asked.documents)
        contents = Contents(job, pane, detail, check)
        documents: list[DocumentFacts] = []
        files: dict[str, bytes] = {}
        for document, made in _documents(contents, asked):
            documents.append(document)
            files |= made
    except plate_errors(asked.plate) as error:
        return Refused(f"{no_plate(error)}; --no-plate leaves it out")
    except (DetailError, OutlineError, SheetError, LetteringError) as error:
        return Refused(str(error))
    return Drawn(facts_of(check).with_documents(documents), files)


def _documents(contents: Contents, asked: Asked) -> Iterator[tuple[DocumentFacts, dict[str, bytes]]]:
    """Every document that has a file, with its files."""
    from outputs.vessel.facts import DocumentFacts, file_facts

    for each, files in documents_made(contents, asked.documents, asked.formats):
        if files:
            number = _number(contents, each.letter or each.name, yard=not each.supplier)
            yield DocumentFacts(each.name, number, each.readers, tuple(file_facts(*item) for item in files.items())), files
    if RECORD in asked.documents and contents.check is not None:
        from geometry.findings.sensitivity import sensitivities
        from outputs.record.files import record_of_pane

        files = record_of_pane(contents.job, contents.check, sensitivities(contents.check.subject))
        number = _number(contents, RECORD_LETTER, yard=True)
        yield DocumentFacts(RECORD, number, RECORD_READERS, tuple(file_facts(*item) for item in files.items())), files


def _number(contents: Contents, letter: str, *, yard: bool) -> str:
    from outputs.sheets.title import identification

    return identification(contents, letter, yard=yard)


__all__ = ["Asked", "Broken", "Drawn", "Refused", "Result", "pane_drawn"]
