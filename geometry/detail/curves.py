"""The curves of the plan: recess, frit, bead and sight line from the glass outline and the sizes.

All are parallel curves of the glass (or, for the sight line, of the recess); none is a scaled copy.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from geometry.outline import (
    Outline,
    OutlineError,
    area,
    corners,
    distance_between,
    offset,
    offset_rounded,
    polygon,
)

if TYPE_CHECKING:
    from collections.abc import Sequence


def recess_wall(glass: Outline, *, joint_width: float, radius: float | Sequence[float] | None) -> Outline:
    """The recess wall as designed: the glass plus the joint all round, with its own corner radii where they are given.

    ``radius`` is one radius for all corners or one for each, in the order of the pane's corners; None keeps the joint equal round the
    corners (recess radius = glass radius + joint, at a re-entrant corner glass radius − joint).
    """
    sharp = corners(glass)
    if radius is None or not sharp:
        return offset(glass, joint_width, what="the recess wall")
    radii = (float(radius),) * len(sharp) if isinstance(radius, int | float) else tuple(float(r) for r in radius)
    if len(radii) != len(sharp):
        raise OutlineError(
            f"the recess has {len(radii)} radii but the pane has {len(sharp)} corners: give one radius, or one for each corner"
        )
    return _rounded_wall(glass, joint_width, tuple(radii[corner.number - 1] for corner in sharp))


@lru_cache(maxsize=64)
def _rounded_wall(glass: Outline, joint_width: float, radii: tuple[float, ...]) -> Outline:
    """Kept like the parallel curves: most remedies leave the recess as it is."""
    return replace(polygon(_mitred(glass, joint_width), radii=radii), clockwise_names=glass.clockwise_names)


def _mitred(glass: Outline, distance: float) -> list[tuple[float, float]]:
    """The sharp corners of a polygon with rounded corners, moved out by a distance square to both edges."""
    places = []
    for corner in corners(glass):
        # The bisector points into the pane; at a re-entrant corner it points into the glass as well, away from the cut-out.
        along = distance / _half_sine(corner.interior_angle)
        places.append((corner.theoretical.x - along * corner.bisector.x, corner.theoretical.y - along * corner.bisector.y))
    return places


def _half_sine(degrees: float) -> float:
    from math import radians, sin

    return sin(radians(degrees) / 2)


def bead_curves(glass: Outline, *, set_back: float, bond_width: float, corner_radius: float) -> tuple[Outline, Outline, Outline]:
    """Outer edge, centre line and inner edge of the pressed bead.

    The centre line runs parallel to the glass edge at set-back + half the bond width; where a corner of the pane is tighter than the gun
    can follow, it is rounded to ``corner_radius``, and both edges follow it.
    """
    centre = offset_rounded(glass, -(set_back + bond_width / 2), radius=corner_radius, what="the bead")
    outer = offset(centre, bond_width / 2, what="the outer edge of the bead")
    inner = offset(centre, -bond_width / 2, what="the inner edge of the bead")
    return outer, centre, inner


def frit_inner_edge(glass: Outline, *, width: float, corner_radius: float) -> Outline:
    """The inner edge of the frit: the parallel curve at its width, its corners rounded to at least ``corner_radius``."""
    return offset_rounded(glass, -width, radius=corner_radius, what="the inner edge of the frit")


def sight_line(recess: Outline, *, landing: float) -> Outline:
    """The inner edge of the landing: the parallel curve of the recess wall at the landing width."""
    return offset(recess, -landing, what="the inner edge of the landing")


def daylight_area(sight: Outline, frit_inner: Outline) -> float:
    """Clear area left by landing and frit, mm²: the smaller of the two where one lies within the other, else their common part."""
    if distance_between(sight, frit_inner) > 0:
        return min(area(sight), area(frit_inner))
    from geometry.outline.regions import to_polygon

    return float(to_polygon(sight).intersection(to_polygon(frit_inner)).area)


__all__ = ["bead_curves", "daylight_area", "frit_inner_edge", "recess_wall", "sight_line"]
