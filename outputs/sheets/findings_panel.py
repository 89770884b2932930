"""The findings on the sheet: every one with its figures and verdict, and what to do where one does not pass."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from geometry.ledger.finding import Finding, Side, Verdict
from outputs.sheet.drafting import number
from outputs.sheet.entities import Text
from outputs.sheet.picture import Panel
from outputs.sheet.tables import notes, table, wrapped

if TYPE_CHECKING:
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Mark

WIDTH = 190.0
TO_DO = "What to do"
LIMITS = "limits."
COLUMNS = (("", 10.0), ("Finding", 78.0), ("Where", 24.0), ("Value", 27.0), ("Limit", 27.0), ("Verdict", 24.0))
MARK = {Verdict.PASS: "", Verdict.LOOK: "?", Verdict.FAIL: "×", Verdict.NOT_CHECKED: "–"}
TOLD = (Verdict.LOOK, Verdict.FAIL)
SIGN = {Side.AT_LEAST: "≥", Side.AT_MOST: "≤"}


def findings_panel(findings: tuple[Finding, ...], style: DraftingStyle) -> Panel:
    """The table of findings; the number beside a verdict is that of its line in what to do, one line for all that was not checked.

    What was not checked has no figures: it stands by name in that line. Only where the pane cannot pass without it has it a row.
    """
    rows = []
    count = 0
    last = sum(1 for finding in findings if finding.verdict in TOLD) + 1
    made = [finding for finding in findings if finding.verdict is not Verdict.NOT_CHECKED or finding.decides]
    for finding in made:
        mark = MARK[finding.verdict]
        if finding.verdict in TOLD:
            count += 1
            mark = f"{mark} {count}"
        elif finding.verdict is Verdict.NOT_CHECKED:
            mark = f"{mark} {last}"
        rows.append(
            (
                mark,
                finding.name,
                finding.where,
                _starred(shown(finding, finding.value), [key for key in finding.defaults if not key.startswith(LIMITS)]),
                _starred(_limit(finding), [key for key in finding.defaults if key.startswith(LIMITS)]),
                finding.verdict.value,
            )
        )
    others = len(findings) - len(made)
    if others:
        named = f"{others} more {'finding' if others == 1 else 'findings'}, named in {last}"
        rows.append((f"{MARK[Verdict.NOT_CHECKED]} {last}", named, "", "", "", Verdict.NOT_CHECKED.value))
    marks, y = table("Findings", COLUMNS, rows, left=0.0, top=0.0, style=style)
    for line in wrapped(_defaults(findings), WIDTH, style.text):
        y -= style.line_pitch
        marks.append(Text("TEXT", 0.0, y + 1.0, line, style.text))
    return Panel(tuple(marks), WIDTH, -y)


def _limit(finding: Finding) -> str:
    return "" if finding.limit is None else f"{SIGN[finding.side]} {shown(finding, finding.limit)}"


def _starred(text: str, defaults: list[str]) -> str:
    return f"{text} *" if text and defaults else text


def _defaults(findings: tuple[Finding, ...]) -> str:
    """The default values behind the figures, by table of the job file; limits are marked in the table itself."""
    keys = dict.fromkeys(key for finding in findings for key in finding.defaults if not key.startswith(LIMITS))
    tables: dict[str, list[str]] = {}
    for key in keys:
        head, _, rest = key.partition(".")
        tables.setdefault(head if rest else "pane", []).append((rest or head).replace("_", " ").replace(".", " "))
    listed = "; ".join(f"{head}: {', '.join(names)}" for head, names in tables.items())
    return f"* Default values of this tool, from no data sheet, went in: {listed}." if listed else ""


def actions(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    """A line for each finding that fails or wants a look, in the order of the table, and one for all that was not checked."""
    lines = [action(finding) for finding in findings if finding.verdict in TOLD]
    missing = [f"{finding.name} ({finding.missing})" for finding in findings if finding.verdict is Verdict.NOT_CHECKED]
    if missing:
        lines.append(f"Not checked: {'; '.join(missing)}.")
    return tuple(lines)


def actions_panel(lines: tuple[str, ...], style: DraftingStyle, *, columns: int = 1) -> Panel:
    """What to do, as a panel of its own of one or more columns."""
    marks: list[Mark] = []
    low = 0.0
    share = -(-len(lines) // columns)
    for column in range(columns):
        left = column * (WIDTH + 6.0)
        part = lines[column * share : (column + 1) * share]
        written, y = notes(
            TO_DO if column == 0 else "", part, left=left, top=0.0, width=WIDTH, style=style, first=column * share + 1
        )
        marks += written
        low = min(low, y)
    return Panel(tuple(marks), columns * (WIDTH + 6.0) - 6.0, -low)


def action(finding: Finding) -> str:
    """One line: which finding, what it says, what to do; of many remedies the first two, the calculation record has them all."""
    says = finding.says.rstrip(".")
    name = f"{finding.name[:1].upper()}{finding.name[1:]}"
    head = f"{name}: {says}" if says else name
    remedy = ", or ".join(str(remedy) for remedy in finding.remedies[:2])
    line = f"{head}. {remedy[:1].upper()}{remedy[1:]}." if remedy else f"{head}."
    return _as_lettered(line)


def _as_lettered(line: str) -> str:
    """A line as a sheet writes it: decimal comma, a minus sign and not a hyphen, no underscore of a key."""
    line = re.sub(r"(?<=\d)\.(?=\d)", ",", line)
    line = re.sub(r"(?<![\w-])-(?=\d)", "−", line)
    return re.sub(r"(?<=[a-z])_(?=[a-z])", " ", line)


def shown(finding: Finding, value: float | None) -> str:
    """A value with its unit, in the digits a reader needs."""
    if value is None:
        return ""
    if finding.counted:
        return "none" if value == 0 else number(value)
    decimals = 3 if finding.unit == "MPa" or abs(value) < 0.1 else 2 if abs(value) < 10 else 1
    return f"{number(value, decimals=decimals)} {finding.unit}".strip()


__all__ = ["TO_DO", "action", "actions", "actions_panel", "findings_panel", "shown"]
