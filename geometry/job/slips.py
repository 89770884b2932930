"""Slips of the hand in a TOML text: each told with its line, a caret under its place and the line mended.

Terms
-----
slip
    One place where a text is no TOML: a decimal comma, a unit without quotes, a bracket that is missing ...
masked
    A line whose texts in quotes are blotted out sign for sign, so that no rule looks for slips inside them.
mended
    The line as it would be read. A quantity is never changed: where a sign may mean two things, nothing is mended.
left out
    A line that nothing mends; the rest of the file is read without it, so that all faults are told together.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from geometry.job.positions import key_lines
from geometry.job.slip_rules import RULES, balanced, comment_of, masked
from geometry.job.units import shown

MOST_SLIPS = 60
"""Slips after which the rest of a file is not read on: it is something else than a job file."""
HOPELESS = 8
"""Lines that nothing mends, and none that anything does: it is something else than a job file."""
MOST_READING = 2_000_000
"""Characters read again and again in search of more slips, at most: some seconds of work."""
LONGEST = 2000
"""Signs of a line that the rules look through; a longer one is told and left out."""
IGNORED = "ignored-table"
"""Stands in place of a table's name that is there twice; what it holds is not judged."""


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip. ``line`` and ``column`` count from 1; ``mended`` is "" where nothing is mended."""

    line: int
    column: int
    said: str
    text: str
    mended: str = ""


@dataclass
class Reading:
    """What could be read of a text with slips: the tables, the text without its slips (line by line the same), and the slips."""

    slips: list[Slip] = field(default_factory=list)
    text: str = ""
    table: dict[str, Any] = field(default_factory=dict)
    given_up: bool = False  # the rest was not read on
    left_out: bool = False  # a line was left out: what is missing in the tables may stand there


def read_with_slips(text: str) -> Reading:
    """All the slips of a text that is no TOML, and what can be read of the rest."""
    found = Reading()
    lines = text.replace("\r\n", "\n").split("\n")
    other = _other_language(lines)
    if other is not None:
        found.slips.append(other)
        return found
    tries: dict[int, int] = {}
    for _ in range(min(3 * MOST_SLIPS, 1 + MOST_READING // (len(text) + 1))):
        found.text = "\n".join(lines)
        try:
            found.table = tomllib.loads(found.text)
            return found
        except RecursionError:
            break
        except ValueError as error:
            line, column, message = place_of(error, lines)
        tries[line] = tries.get(line, 0) + 1
        slip, changes = _looked_at(lines, line, column, message) if tries[line] < 3 else _given_up(lines, line, column, message)
        if not (tries[line] > 1 and any(each.line == slip.line for each in found.slips)):
            found.slips.append(slip)
        found.left_out |= not slip.mended
        for index, new in changes.items():
            lines[index] = new
        if len(found.slips) >= MOST_SLIPS or (len(found.slips) >= HOPELESS and not any(each.mended for each in found.slips)):
            break
    found.given_up = True
    found.text = ""
    return found


_AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")


def place_of(error: ValueError, lines: list[str]) -> tuple[int, int, str]:
    """Index of the line (from 0), column (from 1) and message of the standard reader's refusal."""
    match = _AT.search(str(error))
    if match and match.group(1):
        return int(match.group(1)) - 1, int(match.group(2)), str(error)[: match.start()]
    last = max((i for i, line in enumerate(lines) if line.strip()), default=0)
    return last, len(lines[last].rstrip()) + 1, _AT.sub("", str(error))


Found = tuple[Slip, dict[int, str]]


def _looked_at(lines: list[str], line: int, column: int, message: str) -> Found:
    """The slip behind a refusal and the lines that take its place."""
    for look in (_twice, _open_bracket, _over_lines, _by_rules, _by_brackets):
        found = look(lines, line, message)
        if found is not None:
            return found
    return _given_up(lines, line, column, message)


def _given_up(lines: list[str], line: int, column: int, message: str) -> Found:
    short = shown(message)[1:].removesuffix('"')
    slip = Slip(line + 1, column, f"{short[:1].lower()}{short[1:]}", lines[line])
    return slip, {line: _blank(lines[line])}


def _blank(line: str) -> str:
    return f"[[{IGNORED}]]" if re.match(r"\s*\[+\s*[A-Za-z]", line) else ""


def parses(line: str) -> bool:
    """Whether a line is TOML by itself."""
    try:
        tomllib.loads(line)
    except (ValueError, RecursionError):
        return False
    return True


def _by_rules(lines: list[str], line: int, _message: str) -> Found | None:
    """The rules of ``geometry.job.slip_rules``, one after the other on one line, until it is TOML by itself."""
    text, said, column = lines[line], [], 0
    if len(text) > LONGEST:
        return None
    for rule in RULES:
        outcome = rule.tried(text)
        if outcome is None:
            continue
        at, new = outcome
        if not column:
            column = at + 1
        if new is None:  # it may mean two things: nothing is mended
            slip = Slip(line + 1, at + 1, rule.told(text), lines[line])
            return slip, {line: _blank(lines[line])}
        said.append(rule.told(text))
        text = new
        if parses(text):
            return Slip(line + 1, column, "; ".join(dict.fromkeys(said)), lines[line], text.strip()), {line: text}
    return None


def _by_brackets(lines: list[str], line: int, _message: str) -> Found | None:
    """A bracket that is missing or one too many, alone or beside another slip."""
    found = balanced(lines[line]) if len(lines[line]) <= LONGEST else None
    if found is None:
        return None
    at, text = found
    slip = Slip(line + 1, at + 1, "a bracket is missing or one too many", lines[line], text.strip())
    if parses(text):
        return slip, {line: text}
    more = _by_rules([text], 0, "")
    if more is None or not more[0].mended:
        return None
    said = f"{more[0].said}; {slip.said}"
    return Slip(line + 1, more[0].column, said, lines[line], more[0].mended), {line: more[1][0]}


_STATEMENT = re.compile(r"\s*(?:\[|[\w.\"'-]+\s*=)")


def _balance(text: str, opening: str, closing: str) -> int:
    plain = masked(text)
    return plain.count(opening) - plain.count(closing)


def _open_bracket(lines: list[str], line: int, message: str) -> Found | None:
    """A list that is not closed is found out only where the next key begins, or at the end."""
    if "array" not in message.lower() and "end of" not in message.lower() and "invalid value" not in message.lower():
        return None
    ends = line if _STATEMENT.match(lines[line]) else line + 1
    for start in range(ends - 1, max(-1, ends - 500), -1):
        if not _STATEMENT.match(lines[start]) or "=" not in masked(lines[start]):
            continue
        block = lines[start:ends]
        if sum(_balance(each, "[", "]") for each in block) <= 0:
            return None
        last = max(i for i in range(start, ends) if lines[i].strip())
        outcome = balanced(lines[last]) if last == start else (0, f"{comment_of(lines[last])[0].rstrip()}]")
        if outcome is None:
            return None
        whole = outcome[1]
        kept = "\n".join([*lines[start:last], whole])
        if parses(kept):
            slip = Slip(last + 1, len(lines[last].rstrip()) + 1, "a bracket ] is missing", lines[last], whole.strip())
            return slip, {last: whole}
        return None
    return None


def _over_lines(lines: list[str], line: int, _message: str) -> Found | None:
    """Braces over several lines, which TOML wants on one."""
    if _balance(lines[line], "{", "}") <= 0:
        return None
    depth, parts = 0, []
    for index in range(line, min(len(lines), line + 200)):
        if index > line and re.match(r"\s*\[+[A-Za-z]", lines[index]):
            break  # the next table begins
        depth += _balance(lines[index], "{", "}")
        parts.append(comment_of(lines[index])[0].strip())
        if depth <= 0:
            break
    if depth > 0 or len(parts) < 2:
        return None
    joined = re.sub(r",\s*}", " }", " ".join(part for part in parts if part))
    indent = lines[line][: len(lines[line]) - len(lines[line].lstrip())]
    text = indent + joined
    if not parses(text):
        found = _by_rules([text], 0, "")
        if found is None or not found[0].mended:
            return None
        text = found[1][0]
    column = masked(lines[line]).index("{") + 1
    slip = Slip(line + 1, column, "what stands in braces stands on one line", lines[line], text.strip())
    return slip, {line: text, **{line + i: "" for i in range(1, len(parts))}}


_TWICE = ("Cannot declare", "Cannot overwrite", "Cannot mutate", "Duplicate inline", "Cannot redefine")


def _twice(lines: list[str], line: int, message: str) -> Found | None:
    """A key or table that stands there already; the later one is not judged."""
    text = lines[line]
    unclosed = text.lstrip().startswith("[") and "]" not in text
    if not message.startswith(_TWICE) or unclosed:
        return None
    plain = masked(text)
    header = re.match(r"\s*(\[+)\s*([^\]]+)", text)
    table = text.lstrip().startswith("[") and header is not None
    path = header.group(2).strip() if table and header else text.split("=", 1)[0].strip()
    before = _lines_before(lines, line)
    first = before.get(path) if table else before.get(f"{_table_at(lines, line)}{path}")
    where = f": it stands in line {first} already" if first else ""
    name = shown(path)[1:-1]
    if message.startswith("Duplicate inline"):
        said = f"a key stands twice in these braces ({message.rsplit(' ', 1)[-1]}); keep one of them"
    elif table and header and header.group(1) == "[" and re.fullmatch(r"pane", path):
        said = f"the table [{name}] is there twice{where}; each pane begins with [[pane]], in double brackets"
    elif table:
        said = f"the table [{name}] is there twice{where}; put its keys together under one"
    else:
        said = f"the key {name} is there twice{where}; keep one of them"
    column = len(plain) - len(plain.lstrip()) + 1
    return Slip(line + 1, column, said, text), {line: f"[[{IGNORED}]]" if table else ""}


def _lines_before(lines: list[str], line: int) -> dict[str, int]:
    try:
        known = key_lines("\n".join(lines[:line]) + "\n")
    except (ValueError, IndexError, RecursionError):
        return {}
    found: dict[str, int] = {}
    for path, at in known.items():
        words = ".".join(str(step) for step in path)
        plain = ".".join(str(step) for step in path if isinstance(step, str))
        found[words] = at
        found[plain] = at  # of several panes the last one
    return found


def _table_at(lines: list[str], line: int) -> str:
    """The table under which a line stands, with its dot, or "" at the top."""
    for index in range(line - 1, -1, -1):
        header = re.match(r"\s*\[+\s*([\w.-]+)\s*\]+", lines[index])
        if header:
            return f"{header.group(1)}."
    return ""


# --- another language in place of TOML ---

Language = tuple[str, Callable[[list[str]], int | None], str]
_TOML = "a job file is written in TOML: key = value, one to a line, tables under [adhesive], panes under [[pane]]"


def _written(lines: list[str]) -> Iterator[tuple[int, str]]:
    return ((i, line.strip()) for i, line in enumerate(lines) if line.strip() and not line.lstrip().startswith("#"))


def _json(lines: list[str]) -> int | None:
    rows = list(_written(lines))
    if not rows or rows[0][1][0] not in "{[" or re.match(r"\[+\s*[A-Za-z]", rows[0][1]):
        return None
    return next((i for i, row in rows if re.search(r'"[^"]*"\s*:', row)), None)


def _yaml(lines: list[str]) -> int | None:
    rows = list(_written(lines))
    colons = [i for i, row in rows if re.match(r"(?:- +)?[\w-]+:(?:\s|$)", row) and "=" not in row]
    marked = any(row == "---" or row.startswith("- ") for _, row in rows)
    opened = any(re.fullmatch(r"[\w-]+:", row) for _, row in rows)
    if not colons or not (marked or opened) or any(re.match(r"\[|[\w.]+\s*=", row) for _, row in rows):
        return None
    return next((i for i in colons if not lines[i].rstrip().endswith(":")), colons[0])


def _csv(lines: list[str]) -> int | None:
    rows = list(_written(lines))
    if len(rows) < 2 or any("=" in row for _, row in rows):
        return None
    for sign in (";", "\t", ","):
        counts = {row.count(sign) for _, row in rows}
        if len(counts) == 1 and counts != {0} and re.match(r'"?[A-Za-z]', rows[0][1]) and not rows[0][1].startswith("["):
            return rows[0][0]
    return None


_LANGUAGES: tuple[Language, ...] = (("JSON", _json, r":"), ("YAML", _yaml, r":"), ("CSV, a table of cells", _csv, r"[;,\t]"))


def _other_language(lines: list[str]) -> Slip | None:
    """The file as a whole where it is written in another language; the line shown is one that says how it would be in TOML."""
    for name, is_one, sign in _LANGUAGES:
        at = is_one(lines)
        if at is None:
            continue
        line = lines[at]
        found = re.search(sign, masked(line))
        return Slip(at + 1, found.start() + 1 if found else 1, f"this is {name}; {_TOML}", line, _as_toml(lines, at, name))
    return None


def _as_toml(lines: list[str], at: int, name: str) -> str:
    if name.startswith("CSV"):
        rows = [row for _, row in _written(lines)]
        sign = next(sign for sign in (";", "\t", ",") if sign in rows[0])
        key, value = (row.split(sign)[0].strip().strip('"') for row in rows[:2])
        text = f"{key} = {value}" if parses(f"{key} = {value}") else f'{key} = "{value}"'
        return text if parses(text) else ""
    pair = re.match(r'[\s\-{\[]*"?([\w-]+)"?\s*:\s*(.*?)[\s,}\]]*$', lines[at])
    if not pair:
        return ""
    for value in (pair.group(2), f'"{pair.group(2)}"'):
        if parses(f"{pair.group(1)} = {value}"):
            return f"{pair.group(1)} = {value}"
    return ""


__all__ = ["IGNORED", "MOST_SLIPS", "Reading", "Slip", "parses", "place_of", "read_with_slips"]
