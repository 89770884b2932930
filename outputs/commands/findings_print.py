"""Findings on a terminal (a table) or on a pipe (aligned plain text): the same words in both.

Terms
-----
row
    Verdict, finding, value, limit, margin, unit and place of one finding, as texts.
answer
    What stands under the table of a pane: what to do about what does not pass, what was not checked, which defaults went in.

The verdict is always a word; colour only repeats it, and only on a terminal.
"""

from __future__ import annotations

import shutil
import sys
import textwrap
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from geometry.ledger.finding import Finding, Verdict
from outputs.record.parts import (
    by_table,
    by_verdict,
    defaults_of,
    limit_of,
    margin_of,
    office_values,
    relation,
    summary,
    value_of,
)
from outputs.record.words import AN_AID

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.job import Job

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


def print_findings(path: str, job: Job, checks: Sequence[PaneCheck], written: Sequence[str], echo: Callable[[str], None]) -> None:
    """Print every pane's findings and one line for all of them."""
    on_terminal = sys.stdout.isatty()
    for check in checks:
        echo(_on_terminal(check) if on_terminal else "\n".join(_plain(check)) + "\n")
    aid = textwrap.fill(AN_AID, shutil.get_terminal_size().columns) if on_terminal else AN_AID
    lines = [summary_line(path, job, checks), aid, *(f"written: {name}" for name in written)]
    echo("\n".join(lines))


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
    """Code, revision and name of a pane."""
    pane = check.subject.pane
    revision = f", revision {pane.revision}" if pane.revision else ""
    return f"{pane.code}{revision}{f', {pane.name}' if pane.name else ''}"


def outcome(check: PaneCheck) -> str:
    """The pane's verdict with its counts: "SW-02: FAIL (31 findings: 1 fail, 30 pass)"."""
    return f"{check.subject.pane.code}: {check.verdict.value.upper()} ({summary(check.findings)})"


def rows(check: PaneCheck) -> list[tuple[Verdict, tuple[str, ...]]]:
    """Every finding that was made, what fails first."""
    made = (finding for finding in by_verdict(check.findings) if finding.verdict is not Verdict.NOT_CHECKED)
    return [(finding.verdict, _row(finding)) for finding in made]


def narrow_rows(check: PaneCheck) -> list[tuple[Verdict, tuple[str, ...]]]:
    """The same for a narrow terminal: the place stands behind the finding, value and limit in one."""
    made = (finding for finding in by_verdict(check.findings) if finding.verdict is not Verdict.NOT_CHECKED)
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
        for finding in made
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


def answers(check: PaneCheck) -> Iterator[tuple[str, list[tuple[str, list[str]]]]]:
    """What stands under the table: title, then entries, each with lines under it."""
    wrong = [each for each in by_verdict(check.findings) if each.verdict in (Verdict.FAIL, Verdict.LOOK)]
    if wrong:
        yield "what to do", [(_told(finding), [str(remedy) for remedy in finding.remedies]) for finding in wrong]
    open_ = [each for each in check.findings if each.verdict is Verdict.NOT_CHECKED]
    if open_:
        yield "not checked", [(f"{each.name}: {each.missing or each.says}", []) for each in open_]
    given = office_values(check.subject)
    if given:
        yield "given by the office's defaults", [(f"{file}: {', '.join(keys)}", []) for file, keys in given.items()]
    defaults = defaults_of(check.findings)
    if defaults:
        tables = by_table(defaults)
        lines = [f"{table or 'pane'}: {', '.join(names)}" for table, names in tables.items()]
        yield "defaults that went in, not from a data sheet", [(line, []) for line in lines]


def _told(finding: Finding) -> str:
    said = f"{finding.verdict.value}: {finding.name}"
    return f"{said}: {finding.says}" if finding.says else said


def _plain(check: PaneCheck) -> Iterator[str]:
    yield heading(check)
    table = [HEADINGS, *(row for _, row in rows(check))]
    if len(table) > 1:
        widths = [max(len(row[column]) for row in table) for column in range(len(HEADINGS))]
        for row in table:
            cells = (
                cell.rjust(width) if column in FIGURES else cell.ljust(width)
                for column, (cell, width) in enumerate(zip(row, widths, strict=True))
            )
            yield f"  {'  '.join(cells)}".rstrip()
    for title, entries in answers(check):
        yield f"  {title}:"
        for entry, under in entries:
            yield f"    {entry}"
            yield from (f"      - {line}" for line in under)
    yield outcome(check)


def _on_terminal(check: PaneCheck) -> str:
    from rich import box
    from rich.console import Console
    from rich.padding import Padding
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False)
    wide = console.width >= WIDE
    headings, flush = (HEADINGS, FIGURES) if wide else (NARROW, NARROW_FIGURES)
    listed = rows(check) if wide else narrow_rows(check)
    fixed = [column for column in range(len(headings)) if headings[column] not in ("finding", "where")]
    taken = sum(max(len(row[column]) for row in (headings, *(row for _, row in listed))) + 1 for column in fixed)
    stacked = console.width - taken - 2 < NAME_LEAST
    table = Table(box=box.SIMPLE_HEAD, padding=(0, 1, 0, 0), title=Text(heading(check), "bold"), title_justify="left")
    for column, name in enumerate(headings):
        table.add_column(name, justify="right" if column in flush else "left", no_wrap=column in fixed)
    for verdict, row in listed:
        table.add_row(Text(row[0], _STYLE[verdict]), *(Text(cell) for cell in row[1:]))
    with console.capture() as caught:
        if stacked:
            console.print(Text(heading(check), "bold"))
            for verdict, (said, name, *figures) in narrow_rows(check):
                console.print(Text.assemble((said, _STYLE[verdict]), f" {name}"))
                console.print(Padding(Text("  ".join(figure for figure in figures if figure)), (0, 0, 0, 4)))
        else:
            console.print(table)
        for title, entries in answers(check):
            console.print(Text(f"{title}:", "bold"))
            for entry, under in entries:
                console.print(Padding(Text(entry), (0, 0, 0, 2)))
                for line in under:
                    console.print(Padding(Text(f"- {line}"), (0, 0, 0, 4)))
        console.print(Text(outcome(check), f"bold {_STYLE[check.verdict]}"))
    return caught.get()
