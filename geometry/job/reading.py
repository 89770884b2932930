"""Reading a job file: one frozen ``Job``, or every fault of the file together.

Terms
-----
problem
    One fault: file, line, key, what was found, what is allowed, and perhaps what was meant.
whole-file fault
    A fault that leaves nothing to look at: no such file, not text, not TOML. It is reported alone.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

from pydantic import BaseModel, ValidationError

from geometry.job.model import MOST_PANES, Job, clashes
from geometry.job.positions import KeyPath, Step, key_lines
from geometry.job.refusal import REFUSED, near
from geometry.job.units import shown

LARGEST = 1_000_000  # bytes: a job of 200 panes is under a fifth of it
DEEPEST = 12  # tables and lists inside each other; a job file nests six deep
_TABLE = "a table of keys, such as { key = value }"


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a job file. ``line`` counts from 1, or is None for the whole file; ``key`` is "" for the whole file."""

    file: str
    line: int | None
    key: str
    found: str
    allowed: str = ""
    hint: str = ""

    def __str__(self) -> str:
        where = self.file + (f", line {self.line}" if self.line else "")
        parts = [f"{self.key}: {self.found}" if self.key else self.found]
        if self.allowed:
            parts.append(f"allowed: {self.allowed}")
        if self.hint:
            parts.append(self.hint)
        return f"{where}: {'; '.join(parts)}"


class JobError(ValueError):
    """The job file is wrong; ``problems`` is everything that is wrong with it, in the order of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


def read_job(path: str | Path) -> Job:
    """The job in a TOML file. Raises ``JobError`` with all the faults of the file."""
    return job_of(_text_of(Path(path), str(path)), file=str(path))


def job_of(text: str, *, file: str = "job") -> Job:
    """The job in a TOML text; ``file`` names it in errors. Raises ``JobError`` with all the faults of the text."""
    try:
        table = tomllib.loads(text)
    except RecursionError:
        raise _whole(file, *_TOO_DEEP) from None
    except ValueError as error:
        raise _syntax(file, text, error) from None
    if not table:
        raise _whole(file, "the file holds no keys", "at least one [[pane]] table")
    if _deeper_than(DEEPEST, table):
        raise _whole(file, *_TOO_DEEP)
    return _judged(table, file, key_lines(text))


_TOO_DEEP = (f"tables or lists stand more than {DEEPEST} deep in each other", f"at most {DEEPEST}")


def _deeper_than(limit: int, table: Mapping[str, Any]) -> bool:
    level: list[Any] = [table]
    for _ in range(limit):
        inner = [each for value in level for each in (value.values() if isinstance(value, dict) else value)]
        level = [each for each in inner if isinstance(each, (dict, list))]
    return bool(level)


def _judged(table: Mapping[str, Any], file: str, lines: Mapping[KeyPath, int]) -> Job:
    problems = [
        Problem(file, line_of(("pane", index, "code"), lines), _in_words(("pane", index, "code"), table), found, allowed)
        for index, found, allowed in _clashes(table)
    ]
    try:
        job = Job.model_validate(dict(table))
    except ValidationError as error:
        for entry in error.errors(include_url=False):
            key = str(entry.get("ctx", {}).get("key", ""))
            steps = tuple(int(step) if step.isdigit() else step for step in key.split(".") if step)
            path = (*(step for step in entry["loc"] if step != "[key]"), *steps)
            problems.append(_problem(entry, path, table, lines, file))
        once = dict.fromkeys(problems)  # a clash of two panes is found twice where nothing else is wrong
        raise JobError(sorted(once, key=lambda problem: problem.line or 0)) from None
    job._document = dict(table)
    return job


def with_changes(job: Job, code: str, changes: Mapping[str, Any]) -> Job:
    """The job as if other values stood in its file: ``with_changes(job, "W1", {"frit.width": 34.0})``.

    A key is dotted and belongs to the pane of that code; a key that begins with the name of a shared table that no pane has
    (adhesive, sealant, materials ...) belongs to the vessel. The value is written as the file would write it, in the standing
    unit. Raises ``JobError`` where the changed job is not sound, ``KeyError`` for a pane that is not there.
    """
    table = copy.deepcopy(job.document)
    pane = next((each for each in table.get("pane", ()) if each.get("code") == code), None)
    if pane is None:
        raise KeyError(f"the job has no pane {code}")
    for key, value in changes.items():
        steps = key.split(".")
        place = pane if steps[0] in type(job.panes[0]).model_fields else table
        for step in steps[:-1]:
            place = place.setdefault(step, {})
        place[steps[-1]] = value
    return _judged(table, "the changed job", {})


def _text_of(path: Path, file: str) -> str:
    try:
        if path.is_dir():
            raise _whole(file, "this is a folder", "a job file in TOML")
        if not path.exists():
            others = sorted(p.name for p in path.parent.glob("*.toml")) if path.parent.is_dir() else []
            raise _whole(file, "there is no such file", "", near(path.name, others))
        if not path.is_file():
            raise _whole(file, "this is not an ordinary file", "a job file in TOML")
        size = path.stat().st_size
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
        raise _whole(file, f"more than {LARGEST} bytes", f"at most {LARGEST} bytes")
    return job_of(_decoded(data, file), file=file)


def _decoded(data: bytes, file: str) -> str:
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


_AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")


def _syntax(file: str, text: str, error: ValueError) -> JobError:
    message = str(error)
    match = _AT.search(message)
    line: int | None = None
    digits = re.search(r"[0-9_]{1000,}", text)
    if not match and digits:  # Python itself refuses to read a whole number of thousands of digits
        line = text.count("\n", 0, digits.start()) + 1
        return JobError([Problem(file, line, "", "found a number of more than 1000 digits")])
    place = ""
    if match:
        message = message[: match.start()]
        line = int(match.group(1)) if match.group(1) else max(1, text.rstrip().count("\n") + 1)
        place = f" at column {match.group(2)}" if match.group(2) else " at the end of the file"
    short = shown(message)[1:].removesuffix('"')
    return JobError([Problem(file, line, "", f"this is not valid TOML{place}: {short[:1].lower()}{short[1:]}")])


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


def line_of(path: KeyPath, lines: Mapping[KeyPath, int]) -> int | None:
    """The line of a key, or of the nearest table round it where the key itself does not stand in the file."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def _problem(entry: Any, path: KeyPath, table: Mapping[str, Any], lines: Mapping[KeyPath, int], file: str) -> Problem:
    found, allowed, hint = _sentence(entry, path)
    return Problem(file, line_of(path, lines), _in_words(path, table), found, allowed, hint)


def _sentence(entry: Any, path: KeyPath) -> tuple[str, str, str]:
    kind, value, context = entry["type"], entry.get("input"), entry.get("ctx", {})
    if kind == REFUSED:
        return context["found"], context["allowed"], context["hint"]
    if kind == "value_error":  # an outline that cannot be says so in its own sentence
        return str(context["error"]), "", ""
    if kind == "missing" and path == ("pane",):
        return "there is no [[pane]] table in the file", "at least one", ""
    if kind == "missing":
        return "this key must be given and is missing", _meaning(path), ""
    if kind == "extra_forbidden":
        names = _names(path[:-1])
        return "there is no such key", "one of " + ", ".join(names), near(str(path[-1]), names)
    if kind == "tuple_type":
        return f"found {shown(value)}", "tables that each begin with [[pane]], in double brackets", ""
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return f"found {shown(value)}", _TABLE, ""
    return f"found {shown(value)}: {entry['msg']}", "", ""


def _in_words(path: KeyPath, table: Mapping[str, Any]) -> str:
    """A key path as a reader says it: ``pane 2 (SW-02), bond.width``."""
    if len(path) >= 2 and path[0] == "pane" and isinstance(path[1], int):
        number = path[1]
        panes = table.get("pane")
        code = panes[number].get("code") if isinstance(panes, list) and isinstance(panes[number], dict) else None
        label = f"pane {number + 1}" + (f" ({shown(code)[1:-1]})" if isinstance(code, str) and code else "")
        return f"{label}, {_dotted(path[2:])}" if len(path) > 2 else label
    return _dotted(path)


def _dotted(path: Sequence[Step]) -> str:
    words = ""
    for step in path:
        if isinstance(step, int):
            words += f", entry {step + 1}"
        else:
            plain = step if re.fullmatch(r"[A-Za-z0-9_-]{1,60}", step) else shown(step)
            words += f".{plain}" if words else plain
    return words


def _model_at(path: KeyPath) -> type[BaseModel] | None:
    """The table that stands at a key path, by the declared types."""
    model: type[BaseModel] | None = Job
    for step in path:
        if isinstance(step, int) or model is None:
            continue
        field = next((f for name, f in model.model_fields.items() if step == (f.alias or name)), None)
        if field is None:
            continue  # the name of a temperature case
        model = _table_in(field.annotation)
    return model


def _table_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        table = _table_in(inner)
        if table is not None:
            return table
    return None


def _names(path: KeyPath) -> list[str]:
    model = _model_at(path)
    return [] if model is None else [field.alias or name for name, field in model.model_fields.items()]


def _meaning(path: KeyPath) -> str:
    model = _model_at(path[:-1])
    field = None if model is None else model.model_fields.get(str(path[-1]))
    return "" if field is None or not field.description else field.description
