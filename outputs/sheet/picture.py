"""Pictures and panels: what a sheet is set out of, composed and measured before it has its place.

Terms
-----
picture
    One view: its marks in the model, their box there and its scale.
panel
    Marks that lie on the paper itself (a table, notes), with the width and height they take.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.boxes import Box, box_of, box_round, joined
from outputs.sheet.pencil import Pencil

if TYPE_CHECKING:
    from collections.abc import Iterable

    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Mark
    from outputs.sheet.outcomes import Outcome

OVER_VIEW = 4.0  # paper mm from a view to its title


@dataclass(frozen=True, slots=True)
class Picture:
    """One composed view before it has its place: its marks, their box in the model and its scale."""

    name: str
    title: str
    scale: float
    marks: tuple[Mark, ...]
    box: Box
    outcomes: tuple[Outcome, ...] = ()

    def paper_size(self, style: DraftingStyle) -> tuple[float, float]:
        """Width and height on paper, margins included."""
        return (
            (self.box[2] - self.box[0]) * self.scale + 2 * style.margin,
            (self.box[3] - self.box[1]) * self.scale + 2 * style.margin,
        )


@dataclass(frozen=True, slots=True)
class Panel:
    """Marks on paper that hang from (0, 0), their upper left corner."""

    marks: tuple[Mark, ...]
    width: float
    height: float

    def paper_size(self, style: DraftingStyle) -> tuple[float, float]:
        """Width and height on paper, margins included."""
        return self.width + 2 * style.margin, self.height + 2 * style.margin


def titled(
    name: str,
    title: str,
    scale: float,
    marks: tuple[Mark, ...],
    style: DraftingStyle,
    *,
    outcomes: Iterable[Outcome] = (),
) -> Picture:
    """A view with its title over it, left aligned; ``outcomes`` tell what became of everything that was planned for it."""
    box = box_round(marks, scale)
    pencil = Pencil(style, scale)
    heading = pencil.text("TEXT", (box[0], box[3] + pencil.paper(OVER_VIEW)), title, height=style.title)
    return Picture(name, title, scale, (*marks, heading), joined([box, box_of(heading, scale)]), tuple(outcomes))


__all__ = ["OVER_VIEW", "Panel", "Picture", "titled"]
