"""What the plans of one pane at one scale have in common, however their sizes are set out: their lines and the rows of their blocks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.drawing.plan_outlines import outline_marks
from outputs.drawing.plan_rows import curved_figures, rows_of

if TYPE_CHECKING:
    from geometry.detail.block_rows import RowEntry
    from geometry.detail.parts import Detail
    from outputs.drawing.plan_rows import Row
    from outputs.sheet.entities import Mark


@dataclass(frozen=True, slots=True)
class PlanBasis:
    """The lines of the plan, the straight rows of its blocks, and the blocks of round edges: worked out once for all tries."""

    lines: tuple[Mark, ...]
    rows: tuple[Row, ...]
    round_entries: tuple[RowEntry, ...]


def plan_basis(detail: Detail, scale: float) -> PlanBasis:
    """The basis of the plans of a pane at a scale (paper / model)."""
    return PlanBasis(tuple(outline_marks(detail, scale)), rows_of(detail), curved_figures(detail))


__all__ = ["PlanBasis", "plan_basis"]
