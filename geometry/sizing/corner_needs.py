"""What the corners of a pane ask of landing and frit: a bead too tight for the gun is rounded there and comes further in.

Terms
-----
bisector distance
    From the sharp glass corner along the line that halves the angle, mm.
offset
    How far inside the glass edge a parallel curve runs, mm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import Point, distance_from
from geometry.rules.fit.corner import bisector_distance
from geometry.rules.fit.frit import GRAZING, parallax
from geometry.sizing.section_sizes import offset_to_clear_corner

if TYPE_CHECKING:
    from geometry.outline import Corner, Outline
    from geometry.sizing.governing import Candidate

__all__ = ["CornerNeeds", "set_back_for_unbonded_corners"]


@dataclass(frozen=True, slots=True)
class CornerNeeds:
    """The bead as it turns the corners; lengths mm. Re-entrant corners ask for nothing: there the bead moves away from the edge."""

    corners: tuple[Corner, ...]
    bead_centre: float
    bond_width: float
    bead_corner_radius: float
    squeeze_out: float

    def landing(self, *, joint_width: float, recess_radius: float | Sequence[float] | None, margin: float) -> list[Candidate]:
        """Offset of the landing's edge from the glass edge that carries bead, squeeze-out and margin in the tightest corner."""
        found: list[Candidate] = []
        for corner in self.corners:
            if not corner.convex:
                continue
            radius = corner.radius
            if recess_radius is not None:
                given = recess_radius if isinstance(recess_radius, int | float) else recess_radius[corner.number - 1]
                radius = float(given) - joint_width
            offset = offset_to_clear_corner(
                bisector_distance=self._inner_flank(corner) + self.squeeze_out + margin,
                interior_angle=corner.interior_angle,
                radius=max(radius, 0.0),
            )
            found.append((f"the bead round corner V{corner.number}", offset))
        return _largest(found)

    def landing_beside(self, recess: Outline, *, margin: float) -> list[Candidate]:
        """Landing that carries bead, squeeze-out and margin in the tightest corner of a recess with an outline of its own.

        The edge of the landing is its parallel curve: a place lies on the landing where it is no farther from the wall than that is wide.
        """
        found: list[Candidate] = []
        for corner in self.corners:
            if corner.convex:
                along = self._inner_flank(corner) + self.squeeze_out + margin
                x, y = corner.theoretical
                place = Point(x + along * corner.bisector.x, y + along * corner.bisector.y)
                found.append((f"the bead round corner V{corner.number}", distance_from(recess, place)))
        return _largest(found)

    def frit(
        self,
        *,
        print_depth: float,
        margin: float,
        frit_corner_radius: float | None,
        least_radius: float,
        refractive_index: float,
    ) -> list[Candidate]:
        """Solid frit that covers the bead in the tightest corner, print tolerance not yet included.

        ``least_radius``: mm that a print shows cleanly, where the radius of the print is not given.
        """
        least = least_radius if frit_corner_radius is None else frit_corner_radius
        beyond = self.squeeze_out + parallax(depth=print_depth, incidence=GRAZING, refractive_index=refractive_index) + margin
        found = [
            (
                f"cover of the bead round corner V{corner.number}",
                offset_to_clear_corner(
                    bisector_distance=self._inner_flank(corner) + beyond,
                    interior_angle=corner.interior_angle,
                    radius=corner.radius,
                    least_radius=least,
                ),
            )
            for corner in self.corners
            if corner.convex
        ]
        return _largest(found)

    def _inner_flank(self, corner: Corner) -> float:
        """Bisector distance of the inner edge of the bead."""
        radius = max(self.bead_corner_radius, corner.radius - self.bead_centre)
        line = bisector_distance(offset=self.bead_centre, radius=radius, interior_angle=corner.interior_angle)
        return line + self.bond_width / 2


def set_back_for_unbonded_corners(
    corners: Sequence[Corner], *, bond_width: float, bead_corner_radius: float, unbonded_corner_to_set_back: float, most: float
) -> list[Candidate]:
    """Set-back from which the glass beyond the bead in every corner is at most ``unbonded_corner_to_set_back`` times the set-back.

    With k = 1 / sin(angle / 2): (set-back + width / 2) k + radius (k - 1) - width / 2 - glass radius (k - 1) <= limit × set-back.
    A corner that would ask for more than ``most`` mm (or that no set-back helps) is left out: its unbonded corner must be cut.
    """
    found: list[Candidate] = []
    for corner in corners:
        if not corner.convex:
            continue
        sharp = 1 / math.sin(math.radians(corner.interior_angle) / 2)
        if sharp >= unbonded_corner_to_set_back:
            continue
        beyond = (sharp - 1) * (bond_width / 2 + bead_corner_radius - corner.radius)
        need = beyond / (unbonded_corner_to_set_back - sharp)
        if 0 < need <= most:
            found.append((f"the unbonded corner V{corner.number}", need))
    return _largest(found)


def _largest(found: list[Candidate]) -> list[Candidate]:
    return [max(found, key=lambda need: need[1])] if found else []
