"""Tables of computed figures on the sheet: movement in the temperature cases, and what has to be bought."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.sheet.drafting import number
from outputs.sheet.entities import Text
from outputs.sheet.picture import Panel
from outputs.sheet.tables import table, wrapped

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.workings.movement import CaseMovement, Movement
    from geometry.workings.quantities import Quantities, Quantity
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Mark

CASES = (
    ("Temperature case", 32.0),
    ("Frame, glass", 29.0),
    ("Joint opens", 17.0),
    ("Joint closes", 17.0),
    ("Strain", 17.0),
    ("Bead shears", 18.0),
)
LIST = (("To buy", 58.0), ("Net", 16.0), ("To order", 56.0))


def figure_panels(check: PaneCheck, style: DraftingStyle) -> list[Panel]:
    """The panels for which figures were worked out."""
    panels = []
    if check.movement is not None:
        panels.append(movement_panel(check.movement, style))
    if check.quantities is not None:
        panels.append(quantities_panel(check.quantities, style))
    return panels


def movement_panel(movement: Movement, style: DraftingStyle) -> Panel:
    """One row for each temperature case: the joint's extremes round the pane and the bead's greatest shear."""
    rows = [_case_row(case) for case in movement.cases]
    how = "the pane stands on its chocks" if movement.chocked else "the pane is free in its bead"
    marks, y = table("Movement", CASES, rows, left=0.0, top=0.0, style=style)
    y -= style.line_pitch - 2.0
    width = math.fsum(width for _, width in CASES)
    for line in wrapped(f"Movement in mm; {how}. Strain of the backfill at the worst tolerances.", width, style.text):
        marks.append(Text("TEXT", 0.0, y, line, style.text))
        y -= style.line_pitch
    return _panel(marks, y + style.line_pitch - 1.0, width)


def _case_row(case: CaseMovement) -> tuple[str, ...]:
    opening = max(joint.opening for joint in case.joints)
    closing = min(joint.opening for joint in case.joints)
    worst = max((joint.strain for joint in case.joints), key=abs)
    return (
        case.name,
        f"{number(case.frame)} °C, {number(case.glass)} °C",
        number(max(opening, 0.0)),
        number(max(-closing, 0.0)),
        "closed" if math.isinf(worst) else f"{number(100 * worst, decimals=1)} %",
        f"{number(case.shear.largest)}",
    )


def quantities_panel(quantities: Quantities, style: DraftingStyle) -> Panel:
    """What the pane takes and what to buy for it alone."""
    rows = [_quantity_row(row) for row in quantities.rows]
    marks, y = table("Consumables", LIST, rows, left=0.0, top=0.0, style=style)
    return _panel(marks, y, math.fsum(width for _, width in LIST))


def _quantity_row(row: Quantity) -> tuple[str, str, str]:
    """Article, amount and what to buy; blocks with their sides, and how many of them are spare."""
    if row.sizes and not row.unit:
        return f"{row.what} {' × '.join(number(side) for side in row.sizes)}", "", f"{row.to_buy}: {row.basis}"
    return row.what, f"{number(row.amount, decimals=0 if row.unit == 'ml' else 2)} {row.unit}".strip(), row.to_buy


def _panel(marks: list[Mark], low: float, width: float) -> Panel:
    return Panel(tuple(marks), width, -low)


__all__ = ["figure_panels", "movement_panel", "quantities_panel"]
