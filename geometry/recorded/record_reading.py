"""Files of bonding records: JSON of the page, a filled form as PDF, TOML or CSV typed from paper; opened with care, all faults told together.

Terms
-----
found record
    What one file says: code, revision and mark of the paper it was written on, and its entries as they stand there.
tap
    A step's stamp of the page: it stands where no time was typed for the step.
passed over
    A file of a folder that does not say it is a bonding record: named, never read.
"""

from __future__ import annotations

import csv
import io
import json
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from geometry.incoming.incoming import IncomingError
from geometry.incoming.opening import bytes_of
from geometry.job.units import shown
from geometry.recorded.record_values import is_nothing

__all__ = ["ENDINGS", "KIND", "RECORD_SCHEMA", "FoundRecord", "RecordFault", "RecordFiles", "found_records"]

ENDINGS = (".json", ".pdf", ".toml", ".csv")
KIND = "bonding record"
RECORD_SCHEMA = 1
MOST_BYTES = 20_000_000
MOST_FILES = 2000
MOST_ENTRIES = 1000
WHAT = "a bonding record: JSON of the page, a filled form as PDF, TOML or CSV with the ids of the form"
HEAD = ("code", "revision", "mark")
_BESIDE = ("schema", "kind", "program", "invented")
"""What may stand in a record beside code, revision, mark and its entries."""


@dataclass(frozen=True, slots=True)
class RecordFault:
    """One fault of a file: ``field`` is the id at fault, "" for the whole file; ``line`` counts from 1, None where there is none."""

    file: str
    field: str
    found: str
    allowed: str = ""
    line: int | None = None

    def __str__(self) -> str:
        where = self.file + (f", line {self.line}" if self.line else "")
        said = f"{self.field}: {self.found}" if self.field else self.found
        told = f"{where}: {said}" + (f"; allowed: {self.allowed}" if self.allowed else "")
        return "".join(sign if sign.isprintable() else "?" for sign in told)  # an id is what stood in the file


@dataclass(frozen=True, slots=True)
class FoundRecord:
    """What one file says, nothing of it judged."""

    file: str
    code: str
    revision: str
    mark: str
    entries: Mapping[str, Any]
    repeated: tuple[str, ...] = ()  # steps that were stamped more than once: begun anew


@dataclass(frozen=True, slots=True)
class RecordFiles:
    """Everything that was given: the records, the files of a folder that were passed over, the faults."""

    records: tuple[FoundRecord, ...]
    passed_over: tuple[str, ...]
    faults: tuple[RecordFault, ...]


class _Wrong(Exception):
    """A file that cannot be read as a record; ``other`` where it does not even say that it is one."""

    def __init__(self, found: str, allowed: str = "", *, field: str = "", line: int | None = None, other: bool = False) -> None:
        super().__init__(found)
        self.found, self.allowed, self.field, self.line, self.other = found, allowed, field, line, other


def found_records(names: Iterable[str]) -> RecordFiles:
    """The records of files and folders, in the order given; those of a folder by name."""
    records: list[FoundRecord] = []
    over: list[str] = []
    faults: list[RecordFault] = []
    for name, within in _files(names, faults):
        try:
            records.append(_read(Path(name), name))
        except _Wrong as wrong:
            if wrong.other and within:
                over.append(name)
            else:
                faults.append(RecordFault(name, wrong.field, wrong.found, wrong.allowed, wrong.line))
        except IncomingError as error:
            faults.append(RecordFault(name, "", str(error)))
    if not records and not faults:
        faults.append(RecordFault(", ".join(names), "", "no bonding record is in it", WHAT))
    return RecordFiles(tuple(records), tuple(over), tuple(faults))


def _files(names: Iterable[str], faults: list[RecordFault]) -> list[tuple[str, bool]]:
    """Each file once, and whether it was found in a folder."""
    found: dict[str, bool] = {}
    for name in names:
        try:
            folder = Path(name)
            if folder.is_dir():
                inside = sorted(str(each) for each in folder.iterdir() if each.suffix.casefold() in ENDINGS and each.is_file())
                if len(inside) > MOST_FILES:
                    faults.append(RecordFault(name, "", f"found {len(inside)} files", f"at most {MOST_FILES} in one folder"))
                    inside = []
                for each in inside:
                    found.setdefault(each, True)
                continue
        except (OSError, ValueError) as error:
            faults.append(RecordFault(name, "", f"cannot be reached: {error}", WHAT))
            continue
        found[name] = False
    return list(found.items())


def _read(path: Path, name: str) -> FoundRecord:
    ending = path.suffix.casefold()
    if ending not in ENDINGS:
        raise _Wrong(f"found a file that ends in {ending or 'nothing'}", f"{WHAT}; its name ends in {', '.join(ENDINGS)}")
    data = bytes_of(path, name, most=MOST_BYTES, what=WHAT)
    if ending == ".pdf":
        return _record(name, _of_form(data))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _Wrong(f"byte {error.start + 1} is not UTF-8", "a text file in UTF-8") from None
    if ending == ".csv":
        return _record(name, _of_csv(text))
    if ending == ".toml":
        return _record(name, _of_toml(text))
    told, repeated = _of_json(text)
    return _record(name, told, repeated)


# Each kind of file.


def _of_json(text: str) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Head and entries, and the steps that were stamped more than once."""
    twice: list[str] = []

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        keys = [key for key, _ in pairs]
        twice.extend(key for key in dict.fromkeys(keys) if keys.count(key) > 1)
        return dict(pairs)

    try:
        document = json.loads(text, object_pairs_hook=once)
    except json.JSONDecodeError as error:
        raise _Wrong(f"this is no JSON: {error.msg}", line=error.lineno) from None
    except (ValueError, RecursionError):
        raise _Wrong("this JSON cannot be read", "the file that the page saved") from None
    if not isinstance(document, dict) or document.get("kind") != KIND:
        raise _Wrong("the file does not say that it is a bonding record", f'"kind": "{KIND}"', field="kind", other=True)
    if document.get("schema") != RECORD_SCHEMA or isinstance(document["schema"], bool):
        raise _Wrong("found another form of the file", f'"schema": {RECORD_SCHEMA}', field="schema")
    if twice:
        raise _Wrong("found more than once", "each id once", field=str(twice[0])[:60])
    unknown = [key for key in document if key not in (*HEAD, *_BESIDE, "entries", "taps")]
    if unknown:
        raise _Wrong("there is no such key", f"{', '.join((*HEAD, 'entries', 'taps'))}", field=unknown[0][:60])
    entries = document.get("entries", {})
    if not isinstance(entries, dict):
        raise _Wrong("found no table", "a table of ids and values", field="entries")
    taps, repeated = _taps(document.get("taps", []))
    return {**taps, **entries, **{key: document.get(key, "") for key in HEAD}}, repeated


def _taps(taps: Any) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The stamps of the page, the last one of each step, and the steps that have several."""
    allowed = 'a list of { "step": id, "at": "2026-05-04T09:47:10" }'
    if not isinstance(taps, list):
        raise _Wrong("found no list", allowed, field="taps")
    found: dict[str, Any] = {}
    repeated: dict[str, None] = {}
    for number, tap in enumerate(taps, start=1):
        if not isinstance(tap, dict) or set(tap) != {"step", "at"} or not isinstance(tap["step"], str):
            raise _Wrong(f"tap {number} is no such table", allowed, field="taps")
        name = f"step.{tap['step']}.at"
        if name in found:
            repeated[name] = None
        found[name] = tap["at"]
    return found, tuple(repeated)


def _of_toml(text: str) -> dict[str, Any]:
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _Wrong(f"this is no TOML: {error}") from None
    except (ValueError, RecursionError):
        raise _Wrong("this TOML cannot be read") from None
    if "code" not in document:
        raise _Wrong("the file does not say of which pane it is", 'code = "..." first', field="code", other=True)
    head = {key: document.pop(key) for key in (*HEAD, *_BESIDE) if key in document}
    entries = document.pop("entries", {})
    if not isinstance(entries, dict):
        raise _Wrong("found no table", "a table of ids and values", field="entries")
    flat: dict[str, Any] = {}
    for table in (document, entries):
        try:
            for key, value in _flat(table, ""):
                if key in flat:
                    raise _Wrong("found more than once", "each id once", field=key[:60])
                flat[key] = value
        except RecursionError:
            raise _Wrong("this TOML cannot be read") from None
    return {**flat, **{key: head.get(key, "") for key in HEAD}}


def _flat(table: Mapping[str, Any], before: str) -> Iterable[tuple[str, Any]]:
    """Dotted ids of tables within tables."""
    for key, value in table.items():
        if isinstance(value, dict):
            yield from _flat(value, f"{before}{key}.")
        else:
            yield f"{before}{key}", value


def _of_csv(text: str) -> dict[str, Any]:
    first = next((row for row in text.splitlines() if row.strip()), "")
    sign = max(";\t,", key=lambda each: (first.count(each), each == ";"))
    found: dict[str, Any] = {}
    fault: _Wrong | None = None
    named = 2  # columns that have a head; what stands beyond them is the part of a value behind its decimal comma, or belongs to nothing
    try:
        for row in (rows := csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=True)):
            cells = [cell.strip() for cell in row]
            if not any(cells):
                continue
            if cells[0].casefold() in ("field", "id"):
                named = max(named, *(place for place, cell in enumerate(cells, start=1) if cell))
                continue
            if len(cells) < 2:
                fault = fault or _Wrong("found one cell", "an id and its value", field=cells[0][:60], line=rows.line_num)
            elif any(cells[named:]):
                extra = next(cell for cell in cells[named:] if cell)
                found_more = f"found {shown(extra)} behind {shown(cells[1])}, under no head"
                allowed = "an id and its value; quotes round a value that holds the separator"
                fault = fault or _Wrong(found_more, allowed, field=cells[0][:60], line=rows.line_num)
            elif cells[0] in found:
                fault = fault or _Wrong("found more than once", "each id once", field=cells[0][:60], line=rows.line_num)
            else:
                found[cells[0]] = cells[1]
    except csv.Error as error:
        raise _Wrong(f"this is no CSV: {error}") from None
    if "code" not in found:
        raise _Wrong("the file does not say of which pane it is", "a row code and its value", field="code", other=True)
    if fault is not None:
        raise fault
    return {key: value for key, value in found.items() if key not in _BESIDE}


def _of_form(data: bytes) -> dict[str, Any]:
    """The fields of a filled form. A file of other people can hold anything: whatever its reading raises is a fault of the file."""
    import logging

    from pypdf import PdfReader

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # it tells of faults on the standard error
    try:
        fields = PdfReader(io.BytesIO(data)).get_fields() or {}
        found = {str(name): _of_field(field.get("/V")) for name, field in fields.items() if "/FT" in field}
    except MemoryError:
        raise
    except Exception:
        raise _Wrong("this PDF cannot be read", "a form that was filled in and saved") from None
    if "code" not in found:
        raise _Wrong("this PDF is no bonding form", "the form that this program wrote, with its fields", other=True)
    return found


def _of_field(value: Any) -> str:
    """A field's text; a button's or a choice's name without its stroke; nothing where it is off."""
    text = "" if value is None else str(value)
    return {"/Off": ""}.get(text, text.removeprefix("/"))


def _record(name: str, told: dict[str, Any], repeated: tuple[str, ...] = ()) -> FoundRecord:
    """The head and the entries apart. Code, revision and mark are text; a revision may be blank."""
    if len(told) > MOST_ENTRIES:
        raise _Wrong(f"found {len(told)} entries", f"at most {MOST_ENTRIES}")
    for key in HEAD:
        value = told.get(key, "")
        if not isinstance(value, str) or len(value) > 60 or not value.isprintable():
            raise _Wrong("found no short text", "the text that stands at the head of the form", field=key)
    code, revision, mark = (str(told.get(key, "")).strip() for key in HEAD)
    if not code:
        raise _Wrong("this field must be given and is missing", "the code of the pane", field="code")
    if all(is_nothing(value) for key, value in told.items() if key not in HEAD):
        raise _Wrong("nothing is filled in", "the form filled in and saved", other=True)
    return FoundRecord(name, code, revision, mark, {key: value for key, value in told.items() if key not in HEAD}, repeated)
