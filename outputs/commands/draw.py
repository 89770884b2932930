"""``fritline draw``: the documents of a job's panes, all from one run of the checks."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from outputs.commands.exit_codes import DONE, FAILS
from outputs.commands.jobs import Given, answer, each_of, jobs_of, kept_apart
from outputs.commands.memory import spare_imports
from outputs.commands.shared import (
    details_of,
    echo,
    folder_named,
    libraries_explained,
    no_plate,
    plate_errors,
    print_json,
    progress,
    refuse_if_any,
    say,
    write,
)
from outputs.commands.since import older_states
from outputs.documents import RECORD, document_files

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.findings.sensitivity import Trial
    from geometry.job import Pane
    from geometry.solids.proof import Difference
    from outputs.record.moved import Moved


class _Sheets(NamedTuple):
    """One pane: its check, its files by name, and what moved since the older state (None: it is new, or nothing was asked)."""

    check: PaneCheck
    files: dict[str, bytes]
    moved: tuple[Moved, ...] | None
    differences: tuple[Difference, ...] | None = None  # of drawn sections and bodies; None: nothing was asked


@dataclass(frozen=True)
class _Drawn:
    given: Given
    folder: Path
    panes: list[_Sheets]
    together: dict[str, bytes]  # what tells of all panes

    @property
    def files(self) -> dict[Path, bytes]:
        """Every file by its path."""
        named = [*(each.files for each in self.panes), self.together]
        return {self.folder / name: data for each in named for name, data in each.items()}


@dataclass(frozen=True)
class Wanted:
    """What is asked of a drawing: which documents in which formats, with the plate or without, since which file, as JSON."""

    documents: tuple[str, ...]
    formats: tuple[str, ...]
    plate: bool = True
    as_json: bool = False
    since: str | None = None
    prove: bool = False  # hold the drawn sections against the bodies of the detail


def draw(paths: Sequence[str], output: str | None, codes: Sequence[str], wanted: Wanted) -> int:
    """Draw the chosen panes; the exit code says whether a finding fails. Raises ``InputError``; then nothing was written."""
    given = jobs_of(paths, codes)
    older = None if wanted.since is None else older_states(wanted.since)
    folders = each_of(given, lambda each: folder_named("-o", f"{each.stem}-sheets" if output is None else output))
    with libraries_explained():
        pairs = list(zip(given, folders, strict=True))
        drawn = each_of(pairs, lambda pair: _Drawn(*pair, *_drawn(pair[0], wanted, older)))
    files = kept_apart([(each.given, each.files) for each in drawn])
    write(files)
    if wanted.as_json:
        from geometry.ledger.finding import worst

        verdict = worst(pane.check.verdict for each in drawn for pane in each.panes).value
        print_json(answer([_data(each) for each in drawn], verdict=verdict), written=True)
    else:
        lines = [
            line for each in drawn for pane in each.panes for line in (*_moved_lines(pane, wanted.since), *_proof_lines(pane))
        ]
        echo("\n".join([*lines, *(f"written: {name}" for name in files)]), written=True)
    codes_of = [_told(each.given.name, [pane.check for pane in each.panes]) for each in drawn]
    codes_of += [FAILS for each in drawn for pane in each.panes for found in pane.differences or () if not found.reason]
    return max(codes_of, default=DONE)


def _data(drawn: _Drawn) -> dict[str, Any]:
    """What one job's answer tells a machine."""
    from outputs.record.data import finding_data, plain, state_data

    entries = []
    for check, named, moved, differences in drawn.panes:
        figures = _figures(check.subject.pane, check.subject.detail, [str(drawn.folder / name) for name in named])
        if moved is not None:
            figures["moved"] = [plain(each) for each in moved]
        if differences is not None:
            figures["sections_differ"] = [plain(each) for each in differences]
        found = [finding_data(check.subject, finding) for finding in check.findings]
        entries.append({**figures, "mark": check.mark, **state_data(check.state), "findings": found})
    return {"job": drawn.given.name, "folder": str(drawn.folder), "panes": entries}


def _told(path: str, checks: Sequence[PaneCheck]) -> int:
    """Say on the standard error what fails and what is not checked; the exit code."""
    failing = False
    for check in checks:
        lines = [f"{finding.name}: {finding.says}".rstrip(": ") for finding in check.findings if finding.verdict.value == "fail"]
        if check.subject.detail.glass_cuts_recess:
            lines.append("the glass as drawn lies outside the recess; it cannot be fitted")
        for line in lines:
            say(f"{path}: pane {check.subject.pane.code} fails: {line}")
        failing = failing or bool(lines)
        missing = [f"{finding.name} ({finding.missing})" for finding in check.findings if finding.decides]
        if missing and not lines:
            say(f"{path}: pane {check.subject.pane.code} is not checked: {'; '.join(missing)}")
    return FAILS if failing else DONE


def _drawn(given: Given, wanted: Wanted, older: dict[str, dict[str, Any]] | None) -> tuple[list[_Sheets], dict[str, bytes]]:
    """Every pane checked and its files by name, and the files of all panes; all details are built before the first sheet is drawn."""
    # a home in which the library may not keep its list of fonts is nothing that the user has to hear of
    logging.getLogger("ezdxf").setLevel(logging.ERROR)
    recorded = RECORD in wanted.documents
    with progress(3 * len(given.panes)) as step:
        details = details_of(given.job, given.panes, given.name, step)

        from geometry.findings.check import check_pane
        from outputs.sheet.lettering import LetteringError
        from outputs.sheet.refusal import SheetError
        from outputs.sheets.contents import Contents

        spare_imports()
        faults: list[dict[str, Any]] = []
        drawn: list[_Sheets] = []
        trials: list[tuple[Trial, ...]] = []
        for pane, detail in zip(given.panes, details, strict=True):
            step(f"checking {pane.code}")
            try:
                check = check_pane(given.job, pane, detail, plate=wanted.plate, plan=recorded)
                step(f"drawing {pane.code}")
                moved = _moved(pane, detail, older)
                differences = _proven(detail) if wanted.prove else None
                files = document_files(Contents(given.job, pane, detail, check, moved=moved), wanted.documents, wanted.formats)
            except plate_errors(wanted.plate) as error:
                faults.append({"file": given.name, "pane": pane.code, "found": f"{no_plate(error)}; --no-plate leaves it out"})
                continue
            except (SheetError, LetteringError) as error:
                faults.append({"file": given.name, "pane": pane.code, "found": str(error)})
                continue
            drawn.append(_Sheets(check, files, moved, differences))
            if recorded:
                trials.append(_tried(check))
        refuse_if_any(faults)
        return drawn, _records(given, [each.check for each in drawn], trials) if recorded else {}


def _moved(pane: Pane, detail: Detail, older: dict[str, dict[str, Any]] | None) -> tuple[Moved, ...] | None:
    """What moved since the older state; None where there is none of this pane."""
    if older is None or pane.code not in older:
        return None
    from outputs.record.data import plain
    from outputs.record.moved import moved_since, state_of_pane

    # both sides as they are written down: a figure that was rounded there is no change
    return moved_since(plain(older[pane.code]), plain(state_of_pane(pane, detail)))


def _moved_lines(pane: _Sheets, since: str | None) -> list[str]:
    """What moved, for a reader at the terminal."""
    if since is None:
        return []
    code = pane.check.subject.pane.code
    if pane.moved is None:
        return [f"{code}: new, not in {since}"]
    return [f"{code}: {each.line}" for each in pane.moved] or [f"{code}: nothing moved since {since}"]


def _proven(detail: Detail) -> tuple[Difference, ...]:
    """Where the drawn sections and the bodies differ. Raises ``SheetError`` where a body cannot be made."""
    from geometry.solids.kernel import SolidError
    from geometry.solids.proof import sections_proven
    from outputs.sheet.refusal import SheetError

    try:
        return sections_proven(detail)
    except SolidError as error:
        raise SheetError(f"the sections cannot be proven: {error}") from error


def _proof_lines(pane: _Sheets) -> list[str]:
    """What the proof of the sections came to, for a reader at the terminal."""
    if pane.differences is None:
        return []
    code, letters = pane.check.subject.pane.code, [section.letter for section in pane.check.subject.detail.sections]
    told = [f"{code}: {'by convention' if each.reason else 'DIFFERS'}: {each}" for each in pane.differences]
    return told or [f"{code}: sections {', '.join(letters)} are those of its bodies"]


def _tried(check: PaneCheck) -> tuple[Trial, ...]:
    from geometry.findings.sensitivity import sensitivities

    return sensitivities(check.subject)


def _records(given: Given, checks: Sequence[PaneCheck], trials: Sequence[Sequence[Trial]]) -> dict[str, bytes]:
    from outputs.record.files import record_files

    return record_files(given.job, checks, trials)


def _figures(pane: Pane, detail: Detail, files: list[str]) -> dict[str, Any]:
    """What was written for one pane and its chief figures, in mm, m², kg and ml as the names say."""
    sizes = {
        name: {
            "value": size.value,
            "unit": size.unit,
            "tolerance": size.tolerance,
            "origin": size.origin.value,
            "given_by": size.given_by,
            "outside": size.outside,
            "reason": size.reason,
        }
        for name, size in ((name, getattr(detail.sizes, name)) for name in detail.sizes.__dataclass_fields__)
    }
    return {
        "code": pane.code,
        "name": pane.name,
        "revision": pane.revision,
        "files": files,
        "area_m2": detail.area / 1e6,
        "mass_kg": detail.glass.mass,
        "perimeter_mm": detail.perimeter,
        "centroid_mm": [detail.centroid.x, detail.centroid.y],
        "daylight_area_m2": detail.daylight_area / 1e6,
        "bead_length_mm": detail.uncured_bead.length,
        "bead_volume_ml": detail.uncured_bead.volume,
        "glass_cuts_recess": detail.glass_cuts_recess,
        "sizes": sizes,
    }


__all__ = ["Wanted", "draw"]
