"""``fritline check JOB --done RECORD``: bonding records that came back, held against their panes; as-fitted revisions where a folder is named."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from outputs.commands.exit_codes import DONE, FAILS
from outputs.commands.jobs import Given, answer, jobs_of
from outputs.commands.memory import spare_imports
from outputs.commands.shared import (
    InputError,
    details_of,
    echo,
    folder_named,
    libraries_explained,
    no_plate,
    plate_errors,
    print_json,
    progress,
    refuse_if_any,
    write,
)

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.recorded.bonding_record import BondingRecord
    from geometry.recorded.record_findings import JudgedRecord
    from geometry.recorded.record_reading import RecordFault, RecordFiles


@dataclass(frozen=True)
class Wanted:
    """What is asked: with the plate or without, as JSON, every row, the folder of the files ("": none is written)."""

    plate: bool = True
    as_json: bool = False
    everything: bool = False
    output: str | None = None


@dataclass(frozen=True)
class _Done:
    given: Given
    judged: dict[str, list[JudgedRecord]]
    passed_over: tuple[str, ...]
    files: dict[str, bytes]
    care: tuple[str, ...]


def done(paths: Sequence[str], codes: Sequence[str], records: Sequence[str], wanted: Wanted) -> int:
    """Hold records against the panes of one job; the exit code says whether a reading fails. Raises ``InputError``; then nothing was written."""
    if len(paths) != 1:
        raise InputError([f"--done: found {len(paths)} job files; allowed: the one to which the records belong"])
    [given] = jobs_of(paths, codes)
    folder = None if wanted.output is None else folder_named("-o", wanted.output)
    with libraries_explained():
        found = _done(given, records, wanted, written=folder is not None)
    named = {} if folder is None else {folder / name: data for name, data in found.files.items()}
    write(named)
    failing = any(each.fails or each.check.verdict.value == "fail" for many in found.judged.values() for each in many)
    verdict = "fail" if failing else "pass" if _all_as_drawn(found) else "look"
    if wanted.as_json:
        entry = {"verdict": verdict, **_data(found, [str(name) for name in named])}
        print_json(answer([entry], verdict=verdict), written=bool(named))
    else:
        told = [*_told(found, everything=wanted.everything), *(f"written: {name}" for name in named)]
        echo("\n".join(told), written=bool(named))
    return FAILS if failing else DONE


def _all_as_drawn(found: _Done) -> bool:
    """Whether every pane that was asked for is bonded as drawn: nothing missing is ever a pass."""
    from geometry.recorded.record_findings import RecordState, together

    states = {together(found.judged.get(pane.code, []), pane.quantity) for pane in found.given.panes}
    return states == {RecordState.AS_DRAWN}


def _done(given: Given, names: Sequence[str], wanted: Wanted, *, written: bool) -> _Done:
    from geometry.recorded.bonding_record import record_of
    from geometry.recorded.record_fields import record_fields
    from geometry.recorded.record_findings import judged_record
    from geometry.recorded.record_reading import found_records

    found = found_records(names)
    chosen = {pane.code for pane in given.panes}
    faults = [*found.faults, *_foreign(given, found)]
    mine = [each for each in found.records if each.code in chosen]
    over = (*found.passed_over, *(each.file for each in found.records if each.code not in chosen))
    _refuse(faults)
    checks = _checks(given, {each.code for each in mine}, wanted)
    fields = {code: record_fields(check) for code, check in checks.items()}
    read: dict[str, list[BondingRecord]] = {}
    for each in mine:
        record, wrong = record_of(each, fields[each.code])
        faults += wrong
        read.setdefault(each.code, []).append(record)
    faults += _twice(read, checks)
    _refuse(faults)
    judged = {code: [judged_record(checks[code], each, fields[code]) for each in many] for code, many in read.items()}
    files, care = _files(given, judged) if written else ({}, ())
    return _Done(given, judged, over, files, care)


def _foreign(given: Given, found: RecordFiles) -> Iterator[RecordFault]:
    """Records of panes that the job does not have."""
    from geometry.recorded.record_reading import RecordFault

    known = [pane.code for pane in given.job.panes]
    for each in found.records:
        if each.code not in known:
            named = ", ".join(known[:20]) + (f" and {len(known) - 20} more" if len(known) > 20 else "")
            yield RecordFault(
                each.file,
                "code",
                f"wrong paper: found {each.code!r}, mark {each.mark or 'none'}",
                f"a pane of {given.name}: {named}",
            )


def _twice(read: dict[str, list[BondingRecord]], checks: dict[str, PaneCheck]) -> Iterator[RecordFault]:
    """Two records of one pane: nobody knows which of them holds."""
    from geometry.recorded.record_reading import RecordFault

    for code, many in read.items():
        first: dict[int, str] = {}
        for each in many:
            before = first.setdefault(each.piece, each.file)
            if before != each.file:
                several = checks[code].subject.pane.quantity > 1
                found = f"{before} is of the same pane {code}{f' no. {each.piece}' if several else ''}"
                yield RecordFault(each.file, "piece.number" if several else "code", found, "one record of each pane")


def _refuse(faults: Sequence[RecordFault]) -> None:
    if not faults:
        return
    entries = [
        {"file": fault.file, "line": fault.line, "key": fault.field, "found": fault.found, "allowed": fault.allowed}
        for fault in faults
    ]
    closing = f"{len(faults)} faults; nothing was written" if len(faults) > 1 else "nothing was written"
    raise InputError([str(fault) for fault in faults], entries, closing=closing)


def _checks(given: Given, codes: set[str], wanted: Wanted) -> dict[str, PaneCheck]:
    """The panes of which there are records, checked."""
    panes = [pane for pane in given.panes if pane.code in codes]
    found: dict[str, PaneCheck] = {}
    faults: list[dict[str, Any]] = []
    with progress(2 * len(panes)) as step:
        details = details_of(given.job, panes, given.name, step)

        from geometry.findings.check import check_pane

        spare_imports()
        for pane, detail in zip(panes, details, strict=True):
            step(f"checking {pane.code}")
            try:
                found[pane.code] = check_pane(given.job, pane, detail, plate=wanted.plate)
            except plate_errors(wanted.plate) as error:
                faults.append({"file": given.name, "pane": pane.code, "found": f"{no_plate(error)}; --no-plate leaves it out"})
    refuse_if_any(faults)
    return found


def _files(given: Given, judged: dict[str, list[JudgedRecord]]) -> tuple[dict[str, bytes], tuple[str, ...]]:
    """As-fitted revisions, care sheets and the sign-off list; and for which panes there is no care sheet, and why."""
    from outputs.record.as_fitted import as_fitted_json, as_fitted_page, as_fitted_stem
    from outputs.record.sign_off import sign_off_files, sign_off_rows

    files: dict[str, bytes] = {}
    care: list[str] = []
    for each in (one for many in judged.values() for one in many):
        stem = as_fitted_stem(each)
        files[f"{stem}-as-fitted.html"] = as_fitted_page(each)
        files[f"{stem}-as-fitted.json"] = as_fitted_json(each)
        sheets, why = _care_sheet(given, each)
        files |= {f"{stem}{ending}": data for ending, data in sheets.items()}
        care += [f"no care sheet of {stem}: {why}"] if why else []
    bare = [pane.code for pane in given.panes if pane.code not in judged]
    care += [f"no care sheet of {', '.join(bare)}: no record"] if bare else []
    files |= sign_off_files(given.job, sign_off_rows(given.job, given.panes, judged), given.stem)
    return files, tuple(care)


def _care_sheet(given: Given, judged: JudgedRecord) -> tuple[dict[str, bytes], str]:
    """The files of a care sheet, or why there is none."""
    from outputs.documents import FORMATS, sheet_files
    from outputs.sheet.lettering import LetteringError
    from outputs.sheets.care_sheet import care_sheet, why_no_care_sheet

    why = why_no_care_sheet(judged)
    if why:
        return {}, why
    try:
        return sheet_files("care", (care_sheet(judged),), FORMATS, date=given.job.sheet.date), ""
    except LetteringError as error:
        return {}, f"its record holds a sign that no sheet can letter: {error}"


def _data(found: _Done, written: list[str]) -> dict[str, Any]:
    from geometry.recorded.record_findings import together
    from outputs.record.as_fitted import as_fitted_data

    panes = [
        {
            "code": pane.code,
            "state": together(found.judged.get(pane.code, []), pane.quantity).value,
            "quantity": pane.quantity,
            "records": [as_fitted_data(each) for each in found.judged.get(pane.code, [])],
        }
        for pane in found.given.panes
    ]
    return {
        "job": found.given.name,
        "panes": panes,
        "passed_over": list(found.passed_over),
        "no_care_sheet": list(found.care),
        "written": written,
    }


def _told(found: _Done, *, everything: bool) -> Iterator[str]:
    """Pane by pane its state, then everything that does not pass; what passes with ``--all``."""
    from geometry.recorded.outcomes import Outcome
    from geometry.recorded.record_findings import together
    from outputs.record.as_fitted import tally
    from outputs.record.words import AN_AID

    for pane in found.given.panes:
        many = sorted(found.judged.get(pane.code, []), key=lambda each: each.record.piece)
        if not many or pane.quantity > 1:
            recorded = f" ({len(many)} of {pane.quantity} recorded)" if pane.quantity > 1 else ""
            yield f"{pane.code}: {together(many, pane.quantity).value}{recorded}"
        for each in many:
            piece = f" no. {each.record.piece}" if pane.quantity > 1 else ""
            yield f"{pane.code}{piece}, {each.record.file}: {each.state.value.upper()} ({tally(each)}); checks: {each.check.state.told}"
            for outcome in Outcome:
                if outcome is Outcome.PASS and not everything:
                    continue
                for finding in each.of(outcome):
                    says = "" if finding.says == outcome.value else f": {finding.says}"
                    yield f"  {outcome.value:<14}  {finding.name}{says}"
    for name in found.passed_over:
        yield f"passed over: {name}"
    yield from found.care
    yield AN_AID


__all__ = ["Wanted", "done"]
