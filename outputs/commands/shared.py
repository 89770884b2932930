"""What every command shares: refusals, reading the job, progress, printing.

Terms
-----
refusal
    Something the user gave is wrong: told in one sentence for each fault; then nothing was written.
answer
    What a command prints on the standard output, as text or as JSON.

What is heavy (kernel, writers, progress bar, even the job model) is imported only when it is needed, so that help and a bad job
file answer at once.
"""

from __future__ import annotations

import os
import re
import stat
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from outputs.commands.exit_codes import WRONG
from outputs.commands.memory import JOB_ROOM, hold_room, memory_is_short

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane

# shared library -> Debian package that holds it; the geometry kernel needs them although nothing is shown on a screen
_DEBIAN = {
    "libGL.so.1": "libgl1",
    "libGLX.so.0": "libglx0",
    "libEGL.so.1": "libegl1",
    "libGLU.so.1": "libglu1-mesa",
    "libX11.so.6": "libx11-6",
    "libxcb.so.1": "libxcb1",
    "libXrender.so.1": "libxrender1",
    "libXext.so.6": "libxext6",
    "libXi.so.6": "libxi6",
    "libXcursor.so.1": "libxcursor1",
    "libSM.so.6": "libsm6",
    "libICE.so.6": "libice6",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libgomp.so.1": "libgomp1",
    "libexpat.so.1": "libexpat1",
}


MOST_SENTENCES = 50
"""Faults that are told one by one; the rest is counted. A machine gets them all."""


class InputError(click.ClickException):
    """Something the user gave is wrong; nothing was written. ``entries`` is the same for a machine.

    ``sentences`` are the faults, one each; ``closing`` stands below them.
    """

    exit_code = WRONG

    def __init__(self, sentences: Sequence[str], entries: Sequence[dict[str, Any]] = (), *, closing: str = "") -> None:
        more = len(sentences) - MOST_SENTENCES
        told = [*sentences[:MOST_SENTENCES], *([f"and {more} more"] if more > 0 else []), *([closing] if closing else [])]
        super().__init__("\n".join(told))
        self.entries = list(entries) or [{"found": sentence} for sentence in sentences]

    def show(self, file: Any = None) -> None:
        """Print the sentences, one for each fault."""
        click.echo(self.message, err=True)


def read(path: str) -> Job:
    """The job of a file, of the standard input where ``path`` is "-". Raises ``InputError`` with all its faults."""
    hold_room(JOB_ROOM)  # the library that reads it ends the program where it gets less
    from geometry.job import JobError, read_job, read_stream

    try:
        return read_stream(getattr(sys.stdin, "buffer", None), file="standard input") if path == "-" else read_job(path)
    except JobError as error:
        count = len(error.problems)
        sentences = [str(problem) for problem in error.problems]
        closing = f"{count} faults; nothing was written" if count > 1 else ""
        keys = ("file", "line", "pane", "key", "found", "allowed", "hint", "column", "cell", "text", "mended")
        entries = [{key: getattr(problem, key) for key in keys} for problem in error.problems]
        raise InputError(sentences, entries, closing=closing) from error


def chosen(job: Job, codes: Sequence[str]) -> list[Pane]:
    """The panes of the codes asked for, all of them where none is. Raises ``InputError`` for a code that is not there."""
    if not codes:
        return list(job.panes)
    known = [pane.code for pane in job.panes]
    wrong = [code for code in codes if code not in known]
    if wrong:
        from geometry.job.refusal import near
        from geometry.job.units import shown

        raise InputError(
            [f"--pane: found {shown(code)}; allowed: {', '.join(known)}; {near(code, known)}".rstrip("; ") for code in wrong]
        )
    return [pane for pane in job.panes if pane.code in codes]


def refuse_unlettered(job: Job, panes: Sequence[Pane], path: str) -> None:
    """Raise ``InputError`` where a text of the job or of the chosen panes holds signs that the sheets' lettering does not have.

    Asked by every command, so that no check passes a job that cannot be drawn.
    """
    texts = list(_texts(job, ""))
    texts += [(f"pane {pane.code}: {key}", text) for pane in panes for key, text in _texts(pane, "")]
    foreign = [(key, text) for key, text in texts if not (text.isascii() and text.isprintable())]
    if not foreign:
        return
    from outputs.sheet.lettering import LetteringError, printed

    faults = []
    for key, text in foreign:
        try:
            printed(text)
        except LetteringError as error:
            faults.append({"file": path, "key": key, "found": str(error)})
    if faults:
        sentences = [f"{fault['file']}: {fault['key']}: {fault['found']}" for fault in faults]
        raise InputError(sentences, faults, closing="nothing was written")


def _texts(table: Any, key: str) -> Iterator[tuple[str, str]]:
    """Every text in a table of the job and in the tables below it, with its dotted key."""
    for name in type(table).model_fields:
        value, dotted = getattr(table, name), f"{key}.{name}".lstrip(".")
        if isinstance(value, str):
            yield dotted, value
        elif hasattr(type(value), "model_fields"):
            yield from _texts(value, dotted)
        elif isinstance(value, tuple) and name != "panes":
            for number, each in enumerate(value):
                if hasattr(type(each), "model_fields"):
                    yield from _texts(each, f"{dotted}[{number}]")


def folder_named(option: str, name: str) -> Path:
    """The folder an option names, or the one it stands for. Raises ``InputError`` where no folder of that name can be written to.

    Asked before anything is worked out: nobody waits for sheets that have no place to go.
    """
    if not name:
        raise InputError([f"{option}: found an empty name; allowed: the name of a folder"])
    folder = Path(name)
    for place in (folder, *folder.absolute().parents):
        try:
            kind = os.stat(place).st_mode
        except FileNotFoundError:
            continue  # is made, in the next one that stands
        except NotADirectoryError:
            continue  # the file that is in the way comes next
        except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
            reason = error.strerror if isinstance(error, OSError) else error
            raise InputError([f"{option}: {folder} cannot be reached: {reason}"]) from error
        if not stat.S_ISDIR(kind):
            raise InputError([f"{option}: {place} is a file; allowed: the name of a folder, which is made where it is missing"])
        if not os.access(place, os.W_OK | os.X_OK):
            into = place if place == folder else f"{folder}: {place}"
            raise InputError([f"{option}: you may not write in {into}; allowed: a folder in which you may write"])
        break
    return folder


def write(files: Mapping[Path, bytes]) -> None:
    """Write a set of files together. Raises ``InputError``; then none was written."""
    from outputs.files.whole import WriteError, write_all

    try:
        write_all(list(files.items()))
    except WriteError as error:
        raise InputError([f"{error}; nothing was written"]) from error


def details_of(job: Job, panes: Sequence[Pane], path: str, step: Callable[[str], None]) -> list[Detail]:
    """The detail of every pane. Raises ``InputError`` with the faults of all panes together."""
    from geometry.detail.build import DetailError, build_detail
    from geometry.outline.loop import OutlineError

    details: list[Detail] = []
    faults: list[dict[str, Any]] = []
    for pane in panes:
        step(f"working out {pane.code}")
        try:
            details.append(build_detail(job, pane))
        except (DetailError, OutlineError) as error:
            faults.append({"file": path, "pane": pane.code, "found": str(error)})
    refuse_if_any(faults)
    return details


def refuse_if_any(faults: Sequence[dict[str, Any]]) -> None:
    """Raise ``InputError`` where there are faults."""
    if faults:
        sentences = [f"{fault['file']}: pane {fault['pane']}: {fault['found']}" for fault in faults]
        raise InputError(sentences, faults, closing="nothing was written")


def plate_errors(plate: bool) -> tuple[type[Exception], ...]:
    """What a plate raises that cannot be worked out; nothing of it is imported where no plate is asked for."""
    if not plate:
        return ()
    from geometry.plate.glass import PlateInputError
    from geometry.plate.mesh import PlateMeshError

    return PlateInputError, PlateMeshError


def no_plate(error: Exception) -> str:
    """How such an error is told."""
    return f"the pane bent on its bead cannot be worked out: {error}"


@contextmanager
def progress(steps: int) -> Iterator[Callable[[str], None]]:
    """A progress bar on a terminal, nothing on a pipe."""
    if not sys.stderr.isatty():
        yield lambda _what: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn

    with Progress(TextColumn("{task.description}"), BarColumn(), console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=steps, completed=-1)

        def step(what: str) -> None:
            bar.update(task, advance=1, description=what)

        yield step


@contextmanager
def libraries_explained() -> Iterator[None]:
    """Say which package to install where a library of the system or of Python is missing.

    Raises ``MemoryError`` where the system does not hold the memory that the libraries take.
    """
    hold_room()
    try:
        yield
    except ImportError as error:
        if memory_is_short(error):
            raise MemoryError from error
        missing = re.search(r"(lib[\w+-]+\.so(?:\.\d+)*)", str(error))
        if missing:
            package = _DEBIAN.get(missing.group(1))
            remedy = f"on Debian or Ubuntu: apt-get install {package}" if package else "install the system package that holds it"
            raise InputError(
                [f"the system library {missing.group(1)} is missing, which the geometry kernel needs; {remedy}"]
            ) from error
        name = error.name or ""
        if isinstance(error, ModuleNotFoundError) and name and name.split(".")[0] not in ("geometry", "outputs"):
            raise InputError([f"the Python package {name.split('.')[0]} is missing; install fritline again with pip"]) from error
        raise


def print_json(value: dict[str, Any], *, written: bool = False) -> None:
    """Print data for a machine; letters that the stream lacks are written as escapes, which mean the same."""
    from outputs.record.data import json_text

    echo(json_text(value, ascii_only=not _holds(NEEDED)), written=written)


NEEDED = "−≥≤×±°²³√"
_PLAIN = str.maketrans({"−": "-", "≥": ">=", "≤": "<=", "×": "x", "±": "+-", "°": " deg ", "²": "2", "³": "3", "√": "sqrt "})


def _holds(text: str) -> bool:
    """Whether the standard output can show a text as it stands."""
    try:
        text.encode(getattr(sys.stdout, "encoding", None) or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def echo(text: str, *, written: bool = False) -> None:
    """Print text; a reader that leaves early is no fault. Raises ``InputError`` where it cannot be printed.

    Signs that the stream lacks are written in plain letters: a minus never becomes a question mark. ``written`` says that files are
    in place already, which the refusal then tells.
    """
    if not _holds(text):
        text = text.translate(_PLAIN)
    try:
        click.echo(text)
        sys.stdout.flush()
    except OSError as error:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # so that leaving does not flush in vain again
        if isinstance(error, BrokenPipeError):  # the reader has seen enough (| head); the files are in place
            return
        though = "; the files are written" if written else ""
        raise InputError([f"the answer cannot be printed: {error.strerror or error}{though}"]) from error


def say(text: str) -> None:
    """Say something on the standard error; where it cannot be said, the exit code has to tell."""
    try:
        click.echo(text, err=True)
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stderr.fileno())


__all__ = [
    "InputError",
    "chosen",
    "details_of",
    "echo",
    "folder_named",
    "libraries_explained",
    "no_plate",
    "plate_errors",
    "print_json",
    "progress",
    "read",
    "refuse_if_any",
    "refuse_unlettered",
    "say",
    "write",
]
