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
    from outputs.sheet.entities import Mark

WIDTH = 190.0
COLUMNS = (("", 7.0), ("Finding", 85.0), ("Where", 22.0), ("Value", 28.0), ("Limit", 28.0), ("Verdict", 20.0))
MARK = {Verdict.PASS: "", Verdict.LOOK: "?", Verdict.FAIL: "×", Verdict.NOT_CHECKED: "–"}
SIGN = {Side.AT_LEAST: "≥", Side.AT_MOST: "≤"}


def findings_panel(findings: tuple[Finding, ...], style: DraftingStyle) -> Panel:
    """The table of findings and, below it, a numbered line for each that does not pass."""
    rows = []
    actions: list[str] = []
    for finding in findings:
        mark = MARK[finding.verdict]
        if finding.verdict is not Verdict.PASS:
            actions.append(action(finding))
            mark = f"{mark} {len(actions)}"
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
    if actions:
        written, y = notes("What to do", actions, left=0.0, top=y, width=WIDTH, style=style)
        marks += written
    return Panel(tuple(_raised(mark, -y) for mark in marks), WIDTH, -y)


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


def _raised(mark: Mark, by: float) -> Mark:
    return shifted(mark, 0.0, by)
