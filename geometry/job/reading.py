"""Reading a job file: every fault of the file at once, each with its line and key, or the job.

Terms
-----
problem
    One fault: where it stands, what was found, what is allowed, and what was perhaps meant.
key path
    The tables and keys that lead to a value: ``pane 2, bond.width``.
"""

from __future__ import annotations

import difflib
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from geometry.job.model import Job

LARGEST = 1_000_000  # bytes; a vessel of 200 panes takes under 200 000

Location = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a job file. ``line`` is None where the whole file is meant."""

    line: int | None
    key: str
    message: str

    def sentence(self, file: str) -> str:
        """``file:line: key: what was found; allowed: ...``."""
        where = file if self.line is None else f"{file}:{self.line}"
        return f"{where}: {self.key}: {self.message}" if self.key else f"{where}: {self.message}"


class JobError(ValueError):
    """A job file that cannot be used, with all its problems."""

    def __init__(self, file: str, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(problem.sentence(file) for problem in problems))
        self.file = file
        self.problems = problems


def read_job(path: Path | str) -> Job:
    """The job of a file.

    Raises
    ------
    JobError
        With every problem found: a file that cannot be read, text that is no TOML, and each wrong, unknown or missing key.
    """
    file = Path(path)
    text = _text_of(file)
    return job_of(text, file=str(path))


def _refused(file: Path, message: str) -> JobError:
    return JobError(str(file), (Problem(None, "", message),))


def _text_of(file: Path) -> str:
    try:
        if file.is_dir():
            raise _refused(file, "this is a folder; a job file is wanted")
        size = file.stat().st_size
        if size > LARGEST:
            raise _refused(file, f"the file holds {size} bytes; a job file has at most {LARGEST}")
        raw = file.read_bytes()
    except FileNotFoundError:
        raise _refused(file, "there is no such file") from None
    except PermissionError:
        raise _refused(file, "the file may not be read: no permission") from None
    except OSError as error:
        raise _refused(file, f"the file cannot be read: {error.strerror or error}") from None
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise _refused(file, "the file is UTF-16 text; save it as UTF-8")
    raw = raw.removeprefix(b"\xef\xbb\xbf")
    if b"\0" in raw:
        raise _refused(file, "the file is binary; a job file is TOML text in UTF-8")
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise JobError(
            str(file), (Problem(line, "", f"byte {raw[error.start]:#04x} is not UTF-8; save the file as UTF-8"),)
        ) from None
    if not text.strip():
        raise _refused(file, "the file is empty; a job file has at least one [[pane]]")
    return text


def job_of(text: str, *, file: str = "job") -> Job:
    """The job of a text; ``file`` names it in errors."""
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"\(at line (\d+), column \d+\)", str(error))
        message = re.sub(r"\s*\(at .*\)$", "", str(error))
        line = int(found.group(1)) if found else text.count("\n") + 1
        raise JobError(file, (Problem(line, "", f"this is not TOML: {message[:1].lower()}{message[1:]}"),)) from None
    except RecursionError:
        raise JobError(file, (Problem(None, "", "tables or lists are nested too deep"),)) from None
    if "pane" not in values:
        raise JobError(file, (Problem(None, "", "there is no [[pane]] in the file; at least one is needed"),))
    if not isinstance(values["pane"], list):
        raise JobError(
            file, (Problem(_line_of(text, ("pane",)), "pane", "found one [pane]; allowed: [[pane]] in double brackets"),)
        )
    try:
        return Job.model_validate(values)
    except ValidationError as errors:
        problems = []
        for entry in errors.errors(include_url=False, include_input=True):
            problems.append(_problem(text, entry))
        problems.sort(key=lambda problem: (problem.line or 0, problem.key, problem.message))
        raise JobError(file, tuple(dict.fromkeys(problems))) from None


def _problem(text: str, entry: Any) -> Problem:
    location: Location = tuple(entry["loc"])
    kind = entry["type"]
    message = entry["msg"]
    if kind == "extra_forbidden":
        known = _keys_at(location[:-1])
        word = str(location[-1])
        close = difflib.get_close_matches(word.casefold(), known, n=1, cutoff=0.6)
        hint = f"; did you mean {close[0]}?" if close else ""
        message = f"unknown key; allowed: {', '.join(known)}{hint}"
    elif kind == "missing":
        message = "missing; this key must be given"
    elif kind != "refused":
        message = f"found {entry['input']!r}; {message[:1].lower()}{message[1:]}"
    return Problem(_line_of(text, location), _path(location), message)


def _path(location: Location) -> str:
    """``("pane", 1, "bond", "width")`` as ``pane 2, bond.width``."""
    parts: list[str] = []
    rest = list(location)
    head = ""
    if len(rest) >= 2 and rest[0] == "pane" and isinstance(rest[1], int):
        head = f"pane {rest[1] + 1}"
        rest = rest[2:]
    for part in rest:
        if isinstance(part, int):
            parts[-1:] = [f"{parts[-1] if parts else ''}[{part + 1}]"]
        else:
            parts.append(str(part))
    tail = ".".join(parts)
    return ", ".join(part for part in (head, tail) if part)


def _keys_at(location: Location) -> list[str]:
    """The keys that a table of the job may have."""
    model: Any = Job
    for part in location:
        if isinstance(part, int):
            continue
        fields = {(info.alias or name): info for name, info in model.model_fields.items()}
        if part not in fields:
            return []
        model = _model_in(fields[part].annotation)
        if model is None:
            return []
    return [info.alias or name for name, info in model.model_fields.items()]


def _model_in(annotation: Any) -> Any:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for argument in getattr(annotation, "__args__", ()):
        found = _model_in(argument)
        if found is not None:
            return found
    return None


_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\]#]+?)\s*\]\]?\s*(#.*)?$")
_KEY = re.compile(r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'))*)\s*=""")


def _line_of(text: str, location: Location) -> int | None:
    """The line on which the value of a key path stands, or the nearest table above it that is written.

    Tables, arrays of tables and top-level keys are followed line by line; a key inside braces stands on the line of its own word.
    """
    wanted = list(location)
    best: tuple[int, int] | None = None  # length of the path matched, line
    counts: dict[tuple[str | int, ...], int] = {}
    table: tuple[str | int, ...] = ()
    for index, line in enumerate(text.splitlines(), start=1):
        header = _HEADER.match(line)
        key = _KEY.match(line)
        if header:
            names = _names(header.group(2))
            table = _with_indices(names[:-1], counts)
            if header.group(1) == "[[":
                whole = (*table, names[-1])
                counts[whole] = counts.get(whole, -1) + 1
                table = (*whole, counts[whole])
            else:
                table = (*table, names[-1])
            path = table
        elif key:
            path = (*table, *_names(key.group(1)))
        else:
            continue
        depth = len(path)
        if depth <= len(wanted) and list(path) == wanted[:depth] and (best is None or depth > best[0]):
            best = (depth, index)
    if best is None:
        return None
    depth, line_number = best
    lines = text.splitlines()
    # Inside braces over several lines: the line that holds the next word of the path.
    names = [str(part) for part in wanted[depth:] if isinstance(part, str)]
    if names:
        for ahead in range(line_number - 1, min(line_number + 40, len(lines))):
            if ahead > line_number - 1 and (
                _HEADER.match(lines[ahead]) or (_KEY.match(lines[ahead]) and not lines[ahead].startswith((" ", "\t")))
            ):
                break
            if re.search(rf"\b{re.escape(names[-1])}\b\s*=", lines[ahead]):
                return ahead + 1
    return line_number


def _names(text: str) -> list[str]:
    return [name.strip().strip("\"'") for name in re.findall(r'"[^"]*"|\'[^\']*\'|[A-Za-z0-9_-]+', text)]


def _with_indices(names: list[str], counts: dict[tuple[str | int, ...], int]) -> tuple[str | int, ...]:
    path: tuple[str | int, ...] = ()
    for name in names:
        path = (*path, name)
        if path in counts:
            path = (*path, counts[path])
    return path
