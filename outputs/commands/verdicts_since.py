"""``check --since``: which panes' verdicts turned since an older state, and by which findings; so that a type of detail can be changed.

Terms
-----
older state
    A job file or a drawing that carries one, checked now by the same program; or the data of a record (or of ``check --json``), whose
    verdicts are those of its day.
turned
    A verdict or a finding that came out otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from outputs.commands.shared import InputError, no_plate, plate_errors
from outputs.commands.since import WANTED, older_job, panes_of_record

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck

MOST_NAMED = 3
"""Findings that are named behind a pane; the rest is counted."""
NEW = "new"
HEADINGS = ("pane", "type", "was", "now", "what turned")


@dataclass(frozen=True, slots=True)
class Older:
    """One pane as it was: its verdict, its findings' verdicts by name, and whether the pane was bent on its bead."""

    verdict: str
    findings: Mapping[str, str] = field(default_factory=dict)
    plate: str = ""


@dataclass(frozen=True, slots=True)
class Since:
    """One pane then and now; ``was`` is "new" where it was not there. ``findings`` are those that turned: name, then, now."""

    code: str
    type: str
    was: str
    now: str
    findings: tuple[tuple[str, str, str], ...] = ()
    plate: str = ""  # how the plate was run then, where it is run otherwise now

    @property
    def turned(self) -> bool:
        """Whether the verdict came out otherwise."""
        return self.was not in (self.now, NEW)


def older_verdicts(name: str, codes: Sequence[str], *, plate: bool) -> dict[str, Older]:
    """The panes of the older state by code, those of ``codes`` alone. Raises ``InputError``."""
    if Path(name).suffix.lower() == ".json":
        return _of_record(name)
    from geometry.detail.build import DetailError, build_detail
    from geometry.findings.check import check_pane
    from geometry.outline.loop import OutlineError

    job = older_job(name)
    found = {}
    for pane in job.panes:
        if pane.code not in codes:
            found[pane.code] = Older("")  # it was there, and nothing is asked of it
            continue
        try:
            check = check_pane(job, pane, build_detail(job, pane), plate=plate, plan=False)
        except (DetailError, OutlineError) as error:
            raise InputError([f"--since: {name}: pane {pane.code}: {error}; nothing was written"]) from error
        except plate_errors(plate) as error:
            raise InputError([f"--since: {name}: pane {pane.code}: {no_plate(error)}; --no-plate leaves it out"]) from error
        found[pane.code] = Older(check.verdict.value, _by_name(check), check.state.plate.value)
    return found


def _of_record(name: str) -> dict[str, Older]:
    found = {}
    for pane in panes_of_record(name):
        findings = pane.get("findings")
        if not isinstance(pane.get("verdict"), str) or not isinstance(findings, list):
            continue
        told = [(str(each.get("name")), str(each.get("verdict"))) for each in findings if isinstance(each, dict)]
        found[pane["code"]] = Older(pane["verdict"], _worst_of(told), str(pane.get("plate_run", "")))
    if not found:
        raise InputError([f"--since: {name} holds no pane with verdict and findings; {WANTED}"])
    return found


def since_of(checks: Sequence[PaneCheck], older: Mapping[str, Older]) -> list[Since]:
    """Every pane that was checked, then and now."""
    found = []
    for check in checks:
        pane, now = check.subject.pane, _by_name(check)
        kind, plate = pane.type or "", check.state.plate.value
        was = older.get(pane.code)
        if was is None:
            found.append(Since(pane.code, kind, NEW, check.verdict.value))
            continue
        names = [*was.findings, *(name for name in now if name not in was.findings)]
        turned = tuple(
            (name, was.findings.get(name, "none"), now.get(name, "none"))
            for name in names
            if was.findings.get(name) != now.get(name)
        )
        other = was.plate if was.plate != plate else ""
        found.append(Since(pane.code, kind, was.verdict, check.verdict.value, turned, other))
    return found


def _by_name(check: PaneCheck) -> dict[str, str]:
    return _worst_of([(finding.name, finding.verdict.value) for finding in check.findings])


_ORDER = ("fail", "look", "not checked", "pass")


def _worst_of(told: Sequence[tuple[str, str]]) -> dict[str, str]:
    """The verdict of each finding by its name; of several of one name (a corner, a case) the worst."""
    found: dict[str, str] = {}
    for name, verdict in told:
        known = found.get(name, verdict)
        found[name] = min((known, verdict), key=lambda each: _ORDER.index(each) if each in _ORDER else len(_ORDER))
    return found


def gone_of(panes: Sequence[str], older: Mapping[str, Older]) -> list[str]:
    """The codes of panes that were there and are not any more."""
    return [code for code in older if code not in panes]


def since_lines(name: str, listed: Sequence[Since], gone: Sequence[str]) -> Iterator[str]:
    """The comparison for a reader at the terminal: one line for each pane, then what turned in each type."""
    yield f"since {name}"
    rows = [HEADINGS, *((each.code, each.type or "-", each.was, each.now, _what(each)) for each in listed)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADINGS))]
    for row in rows:
        yield "  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
    types = dict.fromkeys(each.type for each in listed)
    for kind in types:
        of_kind = [each for each in listed if each.type == kind]
        codes = [each.code for each in of_kind if each.turned]
        whose = f"type {kind}" if kind else "panes without a type"
        told = f": {', '.join(codes)}" if codes else ""
        yield f"  {whose}: the verdict of {len(codes)} of {len(of_kind)} {'pane' if len(of_kind) == 1 else 'panes'} turned{told}"
    if gone:
        yield f"  no longer there: {', '.join(gone)}"
    others = [each.code for each in listed if each.plate]
    if others:
        yield f"  not like with like, the pane bent on its bead was run otherwise then: {', '.join(others)}"
    yield ""


def _what(each: Since) -> str:
    told = [f"{name}: {was} to {now}" for name, was, now in each.findings[:MOST_NAMED]]
    more = len(each.findings) - len(told)
    return "; ".join([*told, *([f"and {more} more"] if more else [])])


def since_data(name: str, listed: Sequence[Since], gone: Sequence[str]) -> dict[str, Any]:
    """The comparison for a machine."""
    return {
        "file": name,
        "panes": [
            {
                "code": each.code,
                "type": each.type,
                "was": each.was,
                "now": each.now,
                "turned": each.turned,
                "plate_run_then": each.plate or None,
                "findings": [{"name": finding, "was": was, "now": now} for finding, was, now in each.findings],
            }
            for each in listed
        ],
        "gone": list(gone),
    }


__all__ = ["Older", "Since", "gone_of", "older_verdicts", "since_data", "since_lines", "since_of"]
