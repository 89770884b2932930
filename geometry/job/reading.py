"""Reading a job file: one frozen ``Job``, or every fault of the file together.

Terms
-----
whole-file fault
    A fault that leaves nothing to look at: no such file, not text. It is reported alone.
slip
    A place where the text is no TOML. The rest is read without it, so that all faults are told together.
office's defaults
    A file that the job names with ``defaults``; its faults are told with its own name and lines.
"""

from __future__ import annotations

import json
import re
import stat
import tomllib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, BinaryIO

from pydantic import ValidationError

from geometry.job.hands import both_hands, told_once
from geometry.job.merging import Places, merged, types_of, unknown_types
from geometry.job.misplaced import put_right
from geometry.job.model import MOST_PANES, Job, Office, clashes
from geometry.job.opened import Opened
from geometry.job.positions import KeyPath, Spot, key_lines
from geometry.job.problem import JobError, Problem
from geometry.job.refusal import near
from geometry.job.schedule import with_schedule
from geometry.job.sentences import in_words, pane_of, sentence
from geometry.job.session import told_of_session
from geometry.job.slips import IGNORED, read_with_slips

LARGEST = 1_000_000  # bytes: a job of 200 panes is under a fifth of it
DEEPEST = 12  # tables and lists inside each other; a job file nests six deep


def read_job(path: str | Path) -> Job:
    """The job in a TOML file. Raises ``JobError`` with all the faults of the file."""
    return job_of(_text_of(Path(path), str(path)), file=str(path), folder=Path(path).parent)


def job_of(text: str, *, file: str = "job", folder: Path | None = None) -> Job:
    """The job in a TOML text; ``file`` names it in errors, ``folder`` is where the office's defaults are looked for (None: here).

    Raises ``JobError`` with all the faults of the text.
    """
    typed = _typed(text, file)
    if not typed.tables:
        raise JobError(typed.problems or [Problem(file, None, "", "the file holds no keys", "at least one [[pane]] table")])
    right = put_right(typed.tables, typed.lines)
    problems = list(typed.problems)
    for path, found, allowed in right.said:
        line, pane = _line(path, typed.lines, right.lines), pane_of(path, right.table)
        problems.append(Problem(file, line, in_words(path, right.table), found, allowed, pane=pane))
    opened = Opened(folder or Path())
    office = _office(right.table.get("defaults"), opened)
    problems += office.problems
    scheduled = with_schedule(right.table, right.lines, file, opened)
    problems += scheduled.problems
    places = Places(file, scheduled.lines, office.file, office.lines)
    left_out = typed.left_out or not scheduled.whole
    return judged(
        scheduled.table,
        office.tables,
        places,
        problems,
        left_out=left_out,
        opened=opened,
        told=scheduled.told,
        types_told=office.types,
    )


@dataclass
class _Typed:
    """What stands in one text: its tables, their lines, and its slips."""

    file: str = ""
    tables: dict[str, Any] = field(default_factory=dict)
    lines: dict[KeyPath, int] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    left_out: bool = False
    types: frozenset[str] = frozenset()  # of detail, in the office's defaults, which hold none


def _typed(text: str, file: str) -> _Typed:
    """The tables of a text, without its slips. Raises ``JobError`` where nothing can be looked at."""
    found = _Typed(file)
    try:
        found.tables = tomllib.loads(text)
    except RecursionError:
        raise _whole(file, *_TOO_DEEP) from None
    except ValueError as error:
        if "(at " not in str(error):  # Python itself refuses to read a whole number of thousands of digits
            raise _too_long(file, text) from None
        reading = read_with_slips(text)
        found.problems = [
            Problem(
                file,
                each.line,
                "",
                f"this is not valid TOML: {each.said}",
                column=each.column,
                text=each.text,
                mended=each.mended,
            )
            for each in reading.slips
        ]
        if reading.given_up:
            said = "the rest of the file was not read: so many lines are no TOML that it is hardly a job file"
            found.problems.append(
                Problem(file, reading.slips[-1].line, "", said, "key = value, one to a line, panes under [[pane]]")
            )
        found.tables, found.left_out, text = reading.table, reading.left_out, reading.text
        found.tables.pop(IGNORED, None)
    if _deeper_than(DEEPEST, found.tables):
        raise _whole(file, *_TOO_DEEP)
    found.lines = key_lines(text) if found.tables else {}
    return found


_TOO_DEEP = (f"tables or lists stand more than {DEEPEST} deep in each other", f"at most {DEEPEST}")


def _deeper_than(limit: int, table: Mapping[str, Any]) -> bool:
    level: list[Any] = [table]
    for _ in range(limit):
        inner = [each for value in level for each in (value.values() if isinstance(value, dict) else value)]
        level = [each for each in inner if isinstance(each, (dict, list))]
    return bool(level)


def _office(name: Any, opened: Opened) -> _Typed:
    """The office's defaults that a job names; nothing where it names none. Its faults are told with its own name."""
    if not isinstance(name, str) or not name:  # another kind of value is refused by the model
        return _Typed()
    try:
        text = _text_of(opened.folder / name, name)
        opened.contents[name] = text.encode("utf-8")
        found = _typed(text, name)
        right = put_right(found.tables, found.lines, office=True)
        found.types = right.types
    except JobError as error:
        return _Typed(name, problems=list(error.problems))
    found.tables, lines = right.table, right.lines
    for path, said, allowed in right.said:
        found.problems.append(Problem(name, _line(path, found.lines, lines), in_words(path, found.tables), said, allowed))
    found.lines = lines
    try:
        Office.model_validate(found.tables)
    except ValidationError as error:
        places = Places(name, lines)
        found.problems += [each for entry, path in _entries(error) for each in _problems(entry, path, found.tables, places)]
        found.problems.sort(key=lambda problem: problem.line or 0)
    return found


def _entries(error: ValidationError) -> list[tuple[Any, KeyPath]]:
    """Every fault that the model found with its key path."""
    found: list[tuple[Any, KeyPath]] = []
    for entry in error.errors(include_url=False):
        key = str(entry.get("ctx", {}).get("key", ""))
        steps = tuple(int(step) if step.isdigit() else step for step in key.split(".") if step)
        found.append((entry, (*(step for step in entry["loc"] if step != "[key]"), *steps)))
    return found


def judged(
    table: dict[str, Any],
    office: Mapping[str, Any],
    places: Places,
    problems: list[Problem],
    *,
    left_out: bool = False,
    opened: Opened | None = None,
    told: Sequence[str] = (),
    types_told: Collection[str] = (),
) -> Job:
    """The job of some tables, each pane in the hands it asks for. Raises ``JobError`` with the problems so far and all that the model finds.

    ``opened`` reads the drawings and surveys that the job names, and remembers them; ``told`` is what its schedule had to tell.
    ``types_told`` are types of detail of which it was said that they stand in the wrong file.
    """
    table, lines = both_hands(table, places.lines, office)
    places = replace(places, lines=lines, types=types_of(table))
    whole = merged(table, office)
    problems = [*problems]
    for index, found, allowed in _clashes(table):
        problems.append(_problem(places, ("pane", index, "code"), table, found, allowed))
    for index, found, allowed in unknown_types(table):
        if table["pane"][index]["type"] not in types_told:
            problems.append(_problem(places, ("pane", index, "type"), table, found, allowed))
        left_out = True  # the type would have given what is missing
    job: Job | None = None
    try:
        job = Job.model_validate(whole, context={"opened": opened})
    except ValidationError as error:
        faults = _entries(error)
        at_shared = {path for _, path in faults if path[:1] != ("pane",)}
        for entry, path in faults:
            if left_out and entry["type"] == "missing":
                continue  # it may stand in a line that could not be read
            if left_out and path[2:3] in (("panes",), ("pair",)):
                continue  # the pane that it names may be one that could not be read
            if any(below in at_shared for below in places.below(path)):
                continue  # told once, of the shared table or of the type
            if any(places.below(path)) and told_of_session(path, list(at_shared)):
                continue  # told once, of the session
            office_wrong = any(problem.file == places.office for problem in problems)
            if office_wrong and places.in_office(path) and entry["type"] != "missing":
                continue  # told of the office's defaults
            problems += _problems(entry, path, table, places)
    if job is None or problems:
        once = dict.fromkeys(told_once(problems, table))  # a clash of two panes is found twice where nothing else is wrong
        own = sorted((each for each in once if each.file == places.file), key=lambda problem: problem.line or 0)
        raise JobError([*(each for each in once if each.file != places.file), *own])
    job.keep(table, office, whole, places, opened, told)
    return job


def _text_of(path: Path, file: str) -> str:
    try:
        try:
            known = path.stat()  # says why, where the questions of pathlib say no from Python 3.14 on
        except FileNotFoundError:
            others = sorted(p.name for p in path.parent.glob("*.toml")) if path.parent.is_dir() else []
            raise _whole(file, "there is no such file", "", near(path.name, others)) from None
        if stat.S_ISDIR(known.st_mode):
            raise _whole(file, "this is a folder", "a job file in TOML")
        if not stat.S_ISREG(known.st_mode):
            raise _whole(file, "this is not an ordinary file", "a job file in TOML")
        _no_job_file(path.name, file)
        size = known.st_size
        if size > LARGEST:
            raise _whole(file, f"the file has {size} bytes", f"at most {LARGEST} bytes (1 MB)")
        with path.open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except JobError:
        raise
    except OSError as error:
        raise _whole(file, f"the file cannot be read: {error.strerror or error}") from None
    except ValueError as error:  # a zero byte in the name
        raise _whole(file, f"the file cannot be read: {error}") from None
    return _decoded(data, file)


def read_stream(stream: BinaryIO | None, *, file: str) -> Job:
    """The job in what is left of a stream; ``file`` names it in errors. Raises ``JobError`` with all the faults of the text."""
    if stream is None:
        raise _whole(file, "it is closed", "a job file on the standard input")
    try:
        data = stream.read(LARGEST + 1)
    except OSError as error:
        raise _whole(file, f"it cannot be read: {error.strerror or error}") from None
    if len(data) > LARGEST:
        _no_job_inside(data, file)
        raise _whole(file, f"more than {LARGEST} bytes", f"at most {LARGEST} bytes")
    return job_of(_decoded(data, file), file=file)


_NO_JOBS = {
    **dict.fromkeys((".dxf",), ("a drawing", "drawing")),
    **dict.fromkeys((".dwg",), ("a drawing, and no DXF", "drawing")),
    **dict.fromkeys((".step", ".stp"), ("a STEP file of solids", "solid")),
    **dict.fromkeys((".csv", ".tsv"), ("a table of cells", "survey")),
    **dict.fromkeys((".xlsx", ".xls", ".xlsm", ".ods"), ("a spreadsheet", "survey")),
}
"""Endings of files that people bring in place of a job: what they are, and the form of outline that takes them."""


def _no_job_file(name: str, file: str) -> None:
    """Refuse a drawing or table given as the job, and say where it goes."""
    ending = Path(name).suffix.casefold()
    if ending in _NO_JOBS:
        raise _in_place_of_a_job(file, Path(name).name, *_NO_JOBS[ending], ending)


def _in_place_of_a_job(file: str, name: str, what: str, form: str, ending: str) -> JobError:
    saved = {".dwg": ".dxf", ".xlsx": ".csv", ".xls": ".csv", ".xlsm": ".csv", ".ods": ".csv"}.get(ending, ending)
    inside = name if saved == ending else name[: len(name) - len(ending)] + saved
    if not ending:
        inside = "FILE" + {"drawing": ".dxf", "solid": ".step"}.get(form, ".csv")
    first = f", saved as {saved[1:].upper()}," if saved != ending else ""
    found = f"this is {what}, and no job file: a job file is a text in TOML that says what each pane is, in a [[pane]] table"
    hint = f"the file{first} goes into its outline: outline = {{ {form} = {json.dumps(inside, ensure_ascii=False)} }}"
    if form == "survey":  # a table may as well be the list of the panes
        listed = name if ending in (".xlsx", ".csv", ".tsv") else inside[: -len(Path(inside).suffix)] + ".xlsx"
        schedule = f"panes = {{ schedule = {json.dumps(listed, ensure_ascii=False)} }}"
        hint = f"a list of panes goes into {schedule}; surveyed points: {hint}"
    return _whole(file, found, "", hint)


def _no_job_inside(data: bytes, file: str) -> None:
    """Refuse a drawing or table by what stands in it, and say where it goes: the standard input has no name that would tell."""
    if data[:4] == b"PK\x03\x04":
        raise _in_place_of_a_job(file, "", "a spreadsheet or another packed file", "survey", "")
    if re.match(rb"AC10\d\d\x00", data):
        raise _in_place_of_a_job(file, "", "a drawing, and no DXF", "drawing", "")
    if re.match(rb"(?:\xef\xbb\xbf)?\s*ISO-10303-21\s*;", data):
        raise _in_place_of_a_job(file, "", "a STEP file of solids", "solid", "")
    if data.startswith(b"AutoCAD Binary DXF") or re.match(
        rb"(?:\xef\xbb\xbf)?(?:[ \t]*999\r?\n[^\n]*\n)*[ \t]*0[ \t]*\r?\n[ \t]*SECTION", data
    ):
        raise _in_place_of_a_job(file, "", "a drawing", "drawing", "")
    if _is_table(data):
        raise _in_place_of_a_job(file, "", "a table of cells", "survey", "")


_NUMBER = re.compile(rb"\s*[+-]?\d+([.,]\d+)?\s*")


def _is_table(data: bytes) -> bool:
    """Whether the first lines are rows of cells, at least one of them with two numbers, and none a key or a table of a job."""
    lines = [line for line in data[:20_000].replace(b"\r", b"\n").split(b"\n")[:40] if line.strip() and line.strip()[:1] != b"#"]
    lines = lines[1:] if lines and lines[0].startswith(b"sep=") else lines
    if not lines or any(b"=" in line or line.strip()[:1] == b"[" for line in lines):
        return False
    rows = [line.split(sign) for line in lines for sign in (b";", b"\t", b",") if sign in line]
    return any(sum(1 for cell in row if _NUMBER.fullmatch(cell) is not None) >= 2 for row in rows)


def _decoded(data: bytes, file: str) -> str:
    _no_job_inside(data, file)
    if not data.removeprefix(b"\xef\xbb\xbf").strip():
        raise _whole(file, "the file is empty", "at least one [[pane]] table")
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise _whole(file, "the file is written in UTF-16", "UTF-8: save it again with that encoding")
    if b"\x00" in data:
        raise _whole(file, "this is no text file: it holds zero bytes", "a job file in TOML, written in UTF-8")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"byte 0x{data[error.start]:02X} is not UTF-8"
        raise JobError([Problem(file, line, "", found, "UTF-8: save the file again with that encoding")]) from None


def _whole(file: str, found: str, allowed: str = "", hint: str = "") -> JobError:
    return JobError([Problem(file, None, "", found, allowed, hint)])


def _too_long(file: str, text: str) -> JobError:
    digits = re.search(r"[0-9_]{1000,}", text)
    line = text.count("\n", 0, digits.start()) + 1 if digits else None
    return JobError([Problem(file, line, "", "found a number of more than 1000 digits")])


def _clashes(table: Mapping[str, Any]) -> list[tuple[int, str, str]]:
    """Codes that are taken already, looked for before anything else so that they are told with all other faults."""
    panes = table.get("pane")
    if not isinstance(panes, list):
        return []
    marks = []
    for index, pane in enumerate(panes[:MOST_PANES]):
        code = pane.get("code") if isinstance(pane, dict) else None
        revision = pane.get("revision", "") if isinstance(pane, dict) else ""
        if isinstance(code, str) and isinstance(revision, str):
            marks.append((index, code, revision))
    return clashes(marks)


def _line(path: KeyPath, *all_lines: Mapping[KeyPath, int]) -> int | None:
    """The line of a key, or of the nearest table round it where the key itself does not stand in the file."""
    for length in range(len(path), 0, -1):
        for lines in all_lines:
            if path[:length] in lines:
                return lines[path[:length]]
    return None


def _problems(entry: Any, path: KeyPath, table: Mapping[str, Any], places: Places) -> list[Problem]:
    """One fault of the model; where it lies in a file that the value names, every fault of that file with its own line."""
    key, pane = in_words(path, table), pane_of(path, table)
    elsewhere = entry.get("ctx", {}).get("elsewhere", ())
    if elsewhere:
        return [
            Problem(each.file, each.line or None, key, each.found, each.allowed, column=each.column or None, pane=pane)
            for each in elsewhere
        ]
    found, allowed, hint = sentence(entry, path)
    return [_problem(places, path, table, found, allowed, hint)]


def _problem(places: Places, path: KeyPath, table: Mapping[str, Any], found: str, allowed: str, hint: str = "") -> Problem:
    """A fault where its key stands: on a line of a file, or in a cell of the schedule."""
    file, place = places.at(path)
    key, pane = in_words(path, table), pane_of(path, table)
    if isinstance(place, Spot):
        return Problem(place.file, place.row, key, found, allowed, hint, column=place.column, pane=pane, cell=place.cell)
    return Problem(file, place, key, found, allowed, hint, pane=pane)


__all__ = ["job_of", "judged", "read_job", "read_stream"]
