"""The findings on the sheet: every one with its figures and verdict, and what to do where one does not pass."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.finding import Finding, Side, Verdict
from outputs.drawing.pictures import Panel
from outputs.sheet.drafting import number
from outputs.sheet.moving import shifted
from outputs.sheet.tables import notes, table

if TYPE_CHECKING:
    from outputs.sheet.drafting import DraftingStyle

WIDTH = 190.0
TO_DO = "What to do"
COLUMNS = (("", 10.0), ("Finding", 78.0), ("Where", 24.0), ("Value", 27.0), ("Limit", 27.0), ("Verdict", 24.0))
MARK = {Verdict.PASS: "", Verdict.LOOK: "?", Verdict.FAIL: "×", Verdict.NOT_CHECKED: "–"}
SIGN = {Side.AT_LEAST: "≥", Side.AT_MOST: "≤"}


def findings_panel(findings: tuple[Finding, ...], style: DraftingStyle) -> Panel:
    """The table of findings; the number beside a verdict is that of its line in what to do."""
    rows = []
    count = 0
    for finding in findings:
        mark = MARK[finding.verdict]
        if finding.verdict is not Verdict.PASS:
            count += 1
            mark = f"{mark} {count}"
        rows.append(
            (
                mark,
                finding.name,
                finding.where,
                shown(finding, finding.value),
                f"{SIGN[finding.side]} {shown(finding, finding.limit)}" if finding.limit is not None else "",
                finding.verdict.value,
            )
        )
    marks, y = table("Findings", COLUMNS, rows, left=0.0, top=0.0, style=style)
    return Panel(tuple(shifted(mark, 0.0, -y) for mark in marks), WIDTH, -y)


def actions(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """A line for each finding that does not pass, in the order of the table."""
    return tuple(action(finding) for finding in findings if finding.verdict is not Verdict.PASS)


def actions_panel(lines: tuple[str, ...], style: DraftingStyle) -> Panel:
    """What to do, as a panel of its own."""
    marks, y = notes(TO_DO, lines, left=0.0, top=0.0, width=WIDTH, style=style)
    return Panel(tuple(shifted(mark, 0.0, -y) for mark in marks), WIDTH, -y)


def action(finding: Finding) -> str:
    """One line: which finding, what it says, what to do."""
    says = finding.says.rstrip(".")
    head = f"{finding.name}: {says}" if says else finding.name
    return f"{head}. {finding.remedy[:1].upper()}{finding.remedy[1:]}." if finding.remedies else f"{head}."


def shown(finding: Finding, value: float | None) -> str:
    """A value with its unit, in the digits a reader needs."""
    if value is None:
        return ""
    decimals = 3 if finding.unit == "MPa" or abs(value) < 0.1 else 2 if abs(value) < 10 else 1
    return f"{number(value, decimals=decimals)} {finding.unit}".strip()
