"""What a plan shows, and from which side.

Terms
-----
mirrored
    Seen from inside the vessel: left and right change places, and every text still reads.
flag
    A numbered triangle with a leader to the place that a finding speaks of.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from outputs.sheet.entities import Place

NO_ROOM = "no room on the plan"
"""Why something planned is not lettered on it."""


class PlanOutline(Enum):
    """An outline of the plan; the value is its layer."""

    RECESS = "RECESS"
    GLASS = "GLASS"
    FRIT_OUTER = "FRIT_OUTER"
    FRIT_INNER = "FRIT_INNER"
    FRIT_FADE = "FRIT_FADE"
    BEAD_EDGES = "BEAD_EDGE"
    BEAD_CENTRE = "BEAD_CENTRE"
    SIGHT_LINE = "SIGHT_LINE"


@dataclass(frozen=True, slots=True)
class Flag:
    """The number of a finding and the place it speaks of, mm in the pane's own axes."""

    number: int
    place: Place


@dataclass(frozen=True, slots=True)
class PlanShows:
    """Which marks a plan carries; as it stands it is the plan of the detail sheet, from outside, with everything on it."""

    outlines: frozenset[PlanOutline] = frozenset(PlanOutline)
    blocks: bool = True  # spacers and chocks with their marks
    sections: bool = True  # cutting planes with their letters
    corner: bool = True  # frame and letter of the deciding corner
    bead_start: bool = True
    dimensions: bool = True  # overall sizes, and the chocks along a level sill
    names: bool = True  # of vertices and edges
    arrows: bool = True  # up, forward, and the side it is seen from
    flags: tuple[Flag, ...] = ()
    mirrored: bool = False

    @property
    def seen_from(self) -> str:
        """The side of the vessel it is seen from."""
        return "inside" if self.mirrored else "outside"


__all__ = ["NO_ROOM", "Flag", "PlanOutline", "PlanShows"]
