"""What the documents of a pane are made of: one run of the computation, told by all of them alike.

Terms
-----
contents
    The detail of a pane, its findings and the job they come from.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.job.mark import mark_of
from outputs.sheet.drafting import DraftingStyle

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.findings.state import State
    from geometry.job import Job, Pane
    from outputs.record.moved import Moved


@dataclass(frozen=True, slots=True)
class Contents:
    """What a sheet is made of; ``check`` is None where nothing was judged."""

    job: Job
    pane: Pane
    detail: Detail
    check: PaneCheck | None = None
    style: DraftingStyle = field(default_factory=DraftingStyle)
    moved: tuple[Moved, ...] | None = None  # since an older state; None where there is none to compare with

    @property
    def mark(self) -> str:
        """The mark of the job: the same on every document of the pane."""
        return mark_of(self.job, self.pane)

    @property
    def state(self) -> State | None:
        """What every document says of the checks; None where nothing was judged."""
        return None if self.check is None else self.check.state

    @property
    def title(self) -> str:
        """Code and name of the pane."""
        return " ".join(part for part in (self.detail.code, self.detail.name) if part)


__all__ = ["Contents"]
