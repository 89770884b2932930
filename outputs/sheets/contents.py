"""What the documents of a pane are made of: one run of the computation, told by all of them alike.

Terms
-----
contents
    The detail of a pane, its findings and the job they come from.
as ordered
    What the supplier reads: the pane of the order, not the one that was made and where it comes to lie. The findings stay those of the pane.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from geometry.job.mark import mark_of
from outputs.sheet.drafting import DraftingStyle

if TYPE_CHECKING:
    from geometry.compare.best_fit import Fit
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.findings.state import State
    from geometry.job import Job, Pane
    from outputs.record.moved import Moved
    from outputs.sheet.entities import Place, Sheet

SHEETS = 4  # of every pane


@dataclass(frozen=True, slots=True)
class Contents:
    """What a sheet is made of; ``check`` is None where nothing was judged."""

    job: Job
    pane: Pane
    detail: Detail
    check: PaneCheck | None = None
    style: DraftingStyle = field(default_factory=DraftingStyle)
    moved: tuple[Moved, ...] | None = None  # since an older state; None where there is none to compare with
    judged_where: Fit | None = None  # of a pane as ordered: where the findings met it; None where they met what is drawn
    carried: bytes = b""  # the parcel of the job that the drawings of the pane carry
    inset: bool = False  # the exploded view stands on the detail sheet: it was found to have room there
    detail_sheet: Sheet | None = None  # with the exploded view on it: composed to learn so, and not composed again

    def as_ordered(self) -> Contents:
        """The same with the pane as ordered. Raises ``SheetError`` where the pane of the order has no detail."""
        if self.detail.placed is None:
            return self
        from geometry.detail.build import DetailError, build_detail
        from outputs.sheet.refusal import SheetError

        try:
            ordered = build_detail(self.job, self.pane.model_copy(update={"made": None}))
        except DetailError as error:
            raise SheetError(f"the pane as ordered cannot be drawn for the supplier: {error}") from error
        return replace(self, detail=ordered, judged_where=self.detail.placed)

    def on_the_pane(self, at: Place) -> Place:
        """The place of a finding on the pane as it is drawn here."""
        return at if self.judged_where is None else self.judged_where.taken_back(at)

    @property
    def mark(self) -> str:
        """The mark of the job: the same on every document of the pane."""
        return mark_of(self.job, self.pane)

    @property
    def state(self) -> State | None:
        """What every document says of the checks; None where nothing was judged."""
        return None if self.check is None else self.check.state

    @property
    def sheets(self) -> int:
        """How many sheets the pane has: detail, pane sheet, fitter's card, record, and the exploded view where it is asked for and has
        no room on the detail sheet.
        """
        return SHEETS + (self.job.sheet.exploded and not self.inset)

    @property
    def title(self) -> str:
        """Code and name of the pane."""
        return " ".join(part for part in (self.detail.code, self.detail.name) if part)


__all__ = ["Contents"]
