"""How far the frame moves against one pane: by heat in every temperature case, and by the swell of its timber.

Terms
-----
fixed point
    Where pane and frame stay together: on chocks that stay, the sill below the centroid; else the centroid.
opening, closing
    Change of a joint's width, both counted positive, mm; closing includes the swell of the timber.
along
    Movement of the glass edge along the joint, mm.

The pane counts as the upright box round it, which is on the safe side for every other shape.
"""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from geometry.rules.holding import thermal
from geometry.rules.materials import EXPANSION
from geometry.sizing import section_sizes as sizing
from geometry.sizing.temperatures import bonded, cases_of

if TYPE_CHECKING:
    from geometry.job import Job, Pane

__all__ = ["PaneMovement", "SideMovement"]


class SideMovement(NamedTuple):
    """Largest opening and closing of one side's joint and the movement along it, mm."""

    opening: float
    closing: float
    along: float


class PaneMovement:
    """Movements of one pane of the given width and height, mm; ``rounded``: it has rounded corners between straight sides."""

    def __init__(self, job: Job, pane: Pane, *, width: float, height: float, chocked: bool, rounded: bool = False) -> None:
        self._job, self._pane, self._rounded = job, pane, rounded
        self._width, self._height, self._chocked = width, height, chocked

    @cached_property
    def frame_expansion(self) -> float:
        """Of the frame, 1/K: given for the pane, else for the material in this office, else of the register."""
        frame = self._pane.frame
        if frame.expansion is not None:
            return float(frame.expansion)
        material = frame.material or "aluminium"
        own = getattr(self._job.materials, material).expansion
        return float(own if own is not None else EXPANSION[material])

    @cached_property
    def strains(self) -> thermal.Extremes:
        """Largest opening and closing strain of all temperature cases."""
        at = bonded(self._pane)
        own = self._job.materials.glass.expansion
        return thermal.extremes(
            frame_expansion=self.frame_expansion,
            glass_expansion=EXPANSION["glass"] if own is None else own,
            cases=cases_of(self._pane),
            frame_bonded=at.frame,
            glass_bonded=at.glass,
        )

    @cached_property
    def swell(self) -> float:
        """Of a timber stile into its joint, mm; 0 where none is given."""
        timber = self._pane.timber
        if timber is None:
            return 0.0
        return thermal.moisture_swell(
            stile_width=timber.stile_width,
            swell_per_percent=timber.swell_percent / 100,
            moisture_change=timber.moisture_change,
        )

    @property
    def of_the_joint(self) -> float:
        """Largest change of any joint by heat, mm."""
        across, up = self._reaches()
        return self.strains.largest * max(across, up)

    @property
    def of_the_bead(self) -> float:
        """Largest movement of any point of the bead, mm: at the corner farthest from the fixed point."""
        distance = thermal.farthest_corner(width=self._width, height=self._height, chocked=self._chocked)
        return thermal.movement(strain=self.strains.largest, distance=distance)

    def sides(self) -> tuple[SideMovement, ...]:
        """Jamb, head and, where the corners are rounded, the place of the upper corner that faces away from the fixed point."""
        across, up = self._reaches()
        straights = (self._side(across, up), self._side(up, across))
        return (*straights, self._side(math.hypot(across, up), 0.0)) if self._rounded else straights

    def worst_side(self, *, movement_class: float) -> SideMovement:
        """The side whose joint needs the most width."""

        def need(side: SideMovement) -> float:
            stretched = sizing.width_for_stretch(opening=side.opening, along=side.along, movement_class=movement_class)
            return max(stretched, side.closing / movement_class)

        return max(self.sides(), key=need)

    def _side(self, across: float, along: float) -> SideMovement:
        strains = self.strains
        return SideMovement(strains.opening * across, strains.closing * across + self.swell, strains.largest * along)

    def _reaches(self) -> tuple[float, float]:
        """From the fixed point to jamb and to head, mm."""
        return self._width / 2, self._height if self._chocked else self._height / 2
