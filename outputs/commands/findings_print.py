"""Findings on a terminal (a table) or on a pipe (aligned plain text): the same words in both.

Terms
-----
row
    Verdict, finding, value, limit, margin, unit and place of one finding, as texts.
summary
    One line for each pane of a vessel: its verdict, how many of its findings came out each way, and the worst of them.
answer
    What stands under the table of a pane: the plan that mends it, what to do about each thing that does not pass, what was not
    checked, which defaults went in.

The verdict is always a word; colour only repeats it, and only on a terminal.
"""

from __future__ import annotations

import shutil
import sys
import textwrap
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from geometry.ledger.finding import WRONG, Finding, Verdict
from geometry.ledger.size import OUTSIDE
from outputs.record.parts import (
    by_table,
    by_verdict,
    counts,
    defaults_of,
    limit_of,
    margin_of,
    office_values,
    relation,
    summary,
    value_of,
)
from outputs.record.plan_part import TITLE, as_typed, plan_lines
from outputs.record.sessions import HEADINGS as SESSION
from outputs.record.sessions import heading_of, notes_of, rows_of
from outputs.record.together import planned_sessions
from outputs.record.words import AN_AID
from outputs.sheets.words import files_outside, outline_notes

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.job import Job
    from geometry.ledger.finding import Remedy
    from geometry.workings.session_plan import SessionPlan

HEADINGS = ("verdict", "finding", "value", "limit", "margin", "unit", "where")
FIGURES = (2, 4)
"""Columns that are set flush right."""
NARROW = ("verdict", "finding", "value and limit", "margin")
NARROW_FIGURES = (3,)
WIDE = 112
"""Columns of a terminal from which all the headings have room."""
NAME_LEAST = 24
"""Columns that the finding's name needs beside its figures; where it has fewer, the figures stand under the name."""
_STYLE = {Verdict.FAIL: "bold red", Verdict.LOOK: "yellow", Verdict.PASS: "green", Verdict.NOT_CHECKED: "dim"}


def print_findings(
    path: str,
    job: Job,
    checks: Sequence[PaneCheck],
    echo: Callable[[str], None],
    *,
    everything: bool,
    heading_of_job: str = "",
) -> None:
    """Print one job: the table of its panes where there are several, each pane's findings, one line for all of them.

    Without ``everything`` only what fails, what to look at and what is not checked is printed, and panes that are clean stand in
    the table of panes alone. ``heading_of_job`` stands first where several jobs are printed.
    """
    on_terminal = sys.stdout.isatty()
    if heading_of_job:
        echo(f"{heading_of_job}\n")
    if len(checks) > 1:
        echo(_panes_on_terminal(checks) if on_terminal else "\n".join(_panes_plain(checks)) + "\n")
    for plan in planned_sessions(job, checks):
        echo("\n".join(session_lines(plan)) + "\n")
    for check in checks:
        if everything or len(checks) == 1 or any(finding.verdict is not Verdict.PASS for finding in check.findings):
            shown = _on_terminal(check, everything) if on_terminal else "\n".join(_plain(check, everything)) + "\n"
            echo(shown)
    echo(summary_line(path, job, checks) + ("\n" if heading_of_job else ""))


def closing(checks: Sequence[PaneCheck], written: Sequence[str], *, everything: bool) -> list[str]:
    """The last lines: what was kept back, that this is an aid, what was written."""
    passed = sum(finding.verdict is Verdict.PASS for check in checks for finding in check.findings)
    lines = (
        [] if everything else [f"{passed} {'row passes' if passed == 1 else 'rows pass'}; --all prints every row and default."]
    )
    if sys.stdout.isatty():
        lines = [textwrap.fill(line, shutil.get_terminal_size().columns) for line in (*lines, AN_AID)]
    else:
        lines.append(AN_AID)
    return [*lines, *(f"written: {name}" for name in written)]


PANES = ("pane", "verdict", "fail", "look", "not checked", "the worst")


def panes_rows(checks: Sequence[PaneCheck]) -> list[tuple[str, ...]]:
    """One row for each pane: code, verdict, how many fail, are to be looked at, are not checked; the worst finding."""
    found = []
    for check in checks:
        count = counts(check.findings)
        numbers = (str(count[verdict]) for verdict in (Verdict.FAIL, Verdict.LOOK, Verdict.NOT_CHECKED))
        found.append((check.subject.pane.code, check.verdict.value, *numbers, _in_brief(worst_finding(check))))
    return found


def worst_finding(check: PaneCheck) -> Finding | None:
    """Of the findings that give the pane its verdict the one furthest from its limit, as a share of it; None where all passes."""
    if check.verdict is Verdict.PASS:
        return None
    decisive = [
        finding
        for finding in check.findings
        if finding.verdict is check.verdict and (finding.decides or check.verdict is not Verdict.NOT_CHECKED)
    ]
    return min(decisive, key=_short_by, default=None)


def _short_by(finding: Finding) -> float:
    return 0.0 if finding.margin is None or not finding.limit else finding.margin / abs(finding.limit)


def _in_brief(finding: Finding | None) -> str:
    if finding is None:
        return ""
    said = relation(finding) or finding.missing or finding.says
    return f"{finding.name}: {said}" if said else finding.name


def _panes_plain(checks: Sequence[PaneCheck]) -> Iterator[str]:
    table = [PANES, *panes_rows(checks)]
    widths = [max(len(row[column]) for row in table) for column in range(len(PANES))]
    for row in table:
        cells = (
            cell.rjust(width) if column in (2, 3, 4) else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        yield "  ".join(cells).rstrip()


def session_lines(plan: SessionPlan) -> Iterator[str]:
    """One session: what it is, its crew and packs, then person by person what is done when."""
    yield heading_of(plan)
    for note in notes_of(plan):
        yield f"  {note}"
    table = [SESSION, *rows_of(plan)]
    widths = [max(len(row[column]) for row in table) for column in range(len(SESSION) - 1)]
    for row in table:
        yield "  " + "  ".join([*(cell.ljust(width) for cell, width in zip(row, widths, strict=False)), row[-1]]).rstrip()


def _panes_on_terminal(checks: Sequence[PaneCheck]) -> str:
    from rich import box
    from rich.console import Console
    from rich.padding import Padding
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False)
    listed = list(zip((check.verdict for check in checks), panes_rows(checks), strict=True))
    taken = sum(max(len(row[column]) for row in (PANES, *(row for _, row in listed))) + 1 for column in range(len(PANES) - 1))
    with console.capture() as caught:
        if console.width - taken - 2 < NAME_LEAST:
            for verdict, (code, said, *numbers, worst) in listed:
                named = zip(numbers, PANES[2:5], strict=True)
                figures = ", ".join(f"{number} {name}" for number, name in named if number != "0")
                console.print(Text.assemble(f"{code}: ", (said, _STYLE[verdict]), f" ({figures})" if figures else ""))
                if worst:
                    console.print(Padding(Text(worst), (0, 0, 0, 4)))
        else:
            table = Table(box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0))
            for column, name in enumerate(PANES):
                table.add_column(name, justify="right" if column in (2, 3, 4) else "left", no_wrap=column < len(PANES) - 1)
            for verdict, (code, said, *rest) in listed:
                table.add_row(Text(code), Text(said, _STYLE[verdict]), *(Text(cell) for cell in rest))
            console.print(table)
    return caught.get()


def summary_line(path: str, job: Job, checks: Sequence[PaneCheck]) -> str:
    """The outcome of all the panes in one line."""
    name = job.vessel.name or path
    verdicts = [check.verdict for check in checks]
    said = [
        f"{verdicts.count(verdict)} {words}"
        for verdict, words in (
            (Verdict.FAIL, "fail"),
            (Verdict.NOT_CHECKED, "not checked"),
            (Verdict.LOOK, "to look at"),
            (Verdict.PASS, "pass"),
        )
        if verdict in verdicts
    ]
    return f"{name}: {len(checks)} {'pane' if len(checks) == 1 else 'panes'}: {', '.join(said)}"


def heading(check: PaneCheck) -> str:
    """Code, revision, name and mark of a pane: a paper with another mark is of another job."""
    pane = check.subject.pane
    revision = f", revision {pane.revision}" if pane.revision else ""
    return f"{pane.code}{revision}{f', {pane.name}' if pane.name else ''}, mark {check.mark}"


def outcome(check: PaneCheck) -> str:
    """The pane's verdict with its counts: "SW-02: FAIL (31 findings: 1 fail, 30 pass)"."""
    return f"{check.subject.pane.code}: {check.verdict.value.upper()} ({summary(check.findings)})"


def _shown(check: PaneCheck, everything: bool) -> tuple[Finding, ...]:
    kept_back = (Verdict.NOT_CHECKED,) if everything else (Verdict.NOT_CHECKED, Verdict.PASS)
    return tuple(finding for finding in by_verdict(check.findings) if finding.verdict not in kept_back)


def rows(check: PaneCheck, everything: bool) -> list[tuple[Verdict, tuple[str, ...]]]:
    """Every finding that was made, what fails first; without ``everything`` those that do not pass."""
    return [(finding.verdict, _row(finding)) for finding in _shown(check, everything)]


def narrow_rows(check: PaneCheck, everything: bool) -> list[tuple[Verdict, tuple[str, ...]]]:
    """The same for a narrow terminal: the place stands behind the finding, value and limit in one."""
    return [
        (
            finding.verdict,
            (
                finding.verdict.value,
                f"{finding.name} ({finding.where})" if finding.where else finding.name,
                relation(finding),
                margin_of(finding),
            ),
        )
        for finding in _shown(check, everything)
    ]


def _row(finding: Finding) -> tuple[str, ...]:
    return (
        finding.verdict.value,
        finding.name,
        value_of(finding),
        limit_of(finding),
        margin_of(finding),
        finding.unit,
        finding.where,
    )


def answers(check: PaneCheck, everything: bool) -> Iterator[tuple[str, list[tuple[str, list[str]]]]]:
    """What stands under the table: title, then entries, each with lines under it."""
    wrong = [each for each in by_verdict(check.findings) if each.verdict in WRONG]
    if check.plan is not None:
        yield TITLE, list(plan_lines(check.plan))
    if wrong:
        yield "what to do, finding by finding", [(_told(finding), list(_remedies(finding))) for finding in wrong]
    notes = outline_notes(check.subject.detail)
    if notes:
        yield "outline", [(note, []) for note in notes]
    outside = files_outside(check.subject.detail)
    if outside:
        yield "files", [(note, []) for note in outside]
    beyond = [size for size in check.subject.sizes.all() if size.outside]
    if beyond:
        yield OUTSIDE, [(f"{size.name}: {size.reason}", []) for size in beyond]
    open_ = [each for each in check.findings if each.verdict is Verdict.NOT_CHECKED]
    if open_:
        yield "not checked", [(f"{each.name}: {each.missing or each.says}", []) for each in open_]
    given = office_values(check.subject)
    if given:
        yield "given by the office's defaults", [(f"{file}: {', '.join(keys)}", []) for file, keys in given.items()]
    defaults = defaults_of(check.findings) if everything else {}
    if defaults:
        tables = by_table(defaults)
        lines = [f"{table or 'pane'}: {', '.join(names)}" for table, names in tables.items()]
        yield "defaults that went in, not from a data sheet", [(line, []) for line in lines]


def _remedies(finding: Finding) -> Iterator[str]:
    """The remedies of one finding; several are alternatives, and say so."""
    for index, remedy in enumerate(finding.remedies):
        yield f"{'or ' if index else ''}{_remedy(remedy)}"


def _remedy(remedy: Remedy) -> str:
    changes = "; ".join(as_typed(change) for change in remedy.changes)
    return f"{remedy} [{changes}]" if changes else str(remedy)


def _told(finding: Finding) -> str:
    said = f"{finding.verdict.value}: {finding.name}"
    return f"{said}: {finding.says}" if finding.says else said


def _plain(check: PaneCheck, everything: bool) -> Iterator[str]:
    yield heading(check)
    table = [HEADINGS, *(row for _, row in rows(check, everything))]
    if len(table) > 1:
        widths = [max(len(row[column]) for row in table) for column in range(len(HEADINGS))]
        for row in table:
            cells = (
                cell.rjust(width) if column in FIGURES else cell.ljust(width)
                for column, (cell, width) in enumerate(zip(row, widths, strict=True))
            )
            yield f"  {'  '.join(cells)}".rstrip()
    for title, entries in answers(check, everything):
        yield f"  {title}:"
        for entry, under in entries:
            yield f"    {entry}"
            yield from (f"      - {line}" for line in under)
    yield outcome(check)


def _on_terminal(check: PaneCheck, everything: bool) -> str:
    from rich import box
    from rich.console import Console
    from rich.padding import Padding
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False)
    wide = console.width >= WIDE
    headings, flush = (HEADINGS, FIGURES) if wide else (NARROW, NARROW_FIGURES)
    listed = rows(check, everything) if wide else narrow_rows(check, everything)
    fixed = [column for column in range(len(headings)) if headings[column] not in ("finding", "where")]
    taken = sum(max(len(row[column]) for row in (headings, *(row for _, row in listed))) + 1 for column in fixed)
    stacked = console.width - taken - 2 < NAME_LEAST
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), title=Text(heading(check), "bold"), title_justify="left")
    for column, name in enumerate(headings):
        table.add_column(name, justify="right" if column in flush else "left", no_wrap=column in fixed)
    for verdict, row in listed:
        table.add_row(Text(row[0], _STYLE[verdict]), *(Text(cell) for cell in row[1:]))
    with console.capture() as caught:
        if not listed:
            console.print(Text(heading(check), "bold"))
        elif stacked:
            console.print(Text(heading(check), "bold"))
            for verdict, (said, name, *figures) in narrow_rows(check, everything):
                console.print(Text.assemble((said, _STYLE[verdict]), f" {name}"))
                console.print(Padding(Text("  ".join(figure for figure in figures if figure)), (0, 0, 0, 4)))
        else:
            console.print(table)
        for title, entries in answers(check, everything):
            console.print(Text(f"{title}:", "bold"))
            for entry, under in entries:
                console.print(Padding(Text(entry), (0, 0, 0, 2)))
                for line in under:
                    console.print(Padding(Text(f"- {line}"), (0, 0, 0, 4)))
        console.print(Text(outcome(check), f"bold {_STYLE[check.verdict]}"))
    return caught.get()


__all__ = [
    "PANES",
    "answers",
    "as_typed",
    "closing",
    "heading",
    "narrow_rows",
    "outcome",
    "panes_rows",
    "print_findings",
    "rows",
    "summary_line",
    "worst_finding",
]
