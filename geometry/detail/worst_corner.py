"""The corner that decides: where the joint between recess and glass is least."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.detail.parts import Curves, WorstCorner
from geometry.outline import Corner, Outline, Point, corners, nearest_station, ray_length

if TYPE_CHECKING:
    from collections.abc import Iterator

LOOK_FROM = 20.0  # mm inside the glass on the bisector, from where the curves are looked at


def along_bisector(outline: Outline, corner: Corner, origin: Point) -> float | None:
    """Distance from ``origin`` to an outline along the bisector, outwards."""
    return ray_length(outline, origin, Point(-corner.bisector.x, -corner.bisector.y))


def corner_joints(curves: Curves) -> Iterator[tuple[Corner, float, float]]:
    """For every corner: the joint between glass and recess along the bisector, and the glass beyond the bead (unbonded corner), mm."""
    for corner in corners(curves.glass):
        depth = _depth(curves, corner)
        inside = Point(corner.theoretical.x + depth * corner.bisector.x, corner.theoretical.y + depth * corner.bisector.y)
        to_glass = along_bisector(curves.glass, corner, inside)
        to_recess = along_bisector(curves.recess, corner, inside)
        to_bead = along_bisector(curves.bead_outer, corner, inside)
        if to_glass is None or to_recess is None:
            continue
        yield corner, to_recess - to_glass, to_glass - (to_bead or 0.0)


def _depth(curves: Curves, corner: Corner) -> float:
    """How far inside the sharp corner to look from: well inside the bead."""
    inward = ray_length(curves.bead_inner, corner.theoretical, corner.bisector)
    return (inward or 0.0) + LOOK_FROM


def worst_corner(curves: Curves) -> WorstCorner | None:
    """The corner with the least joint; among equals the one with the longest unbonded corner, then the one at the upper right.

    On a pane that carries its names clockwise, as the other hand of a pair, the one at the upper left. None on an outline without corners.
    """
    found = list(corner_joints(curves))
    if not found:
        return None
    least = min(joint for _, joint, _ in found)
    tight = [entry for entry in found if entry[1] < least + 1e-6]
    longest = max(unbonded for _, _, unbonded in tight)
    chosen = [entry for entry in tight if entry[2] > longest - 1e-6]
    # The upper right corner reads best beside the plan; the other hand takes the mirror of it, that both are of one name.
    side = -1.0 if curves.glass.clockwise_names else 1.0
    corner, joint, unbonded = max(chosen, key=lambda entry: round(side * entry[0].theoretical.x + entry[0].theoretical.y, 6))
    return WorstCorner(
        corner=corner,
        joint=joint,
        recess_radius=_radius_at(curves.recess, corner),
        bead_radius=_radius_at(curves.bead_centre, corner) or 0.0,
        frit_radius=_radius_at(curves.frit_inner, corner),
        unbonded=unbonded,
        glass_on_bisector=_glass_reach(curves, corner),
    )


def _glass_reach(curves: Curves, corner: Corner) -> float:
    depth = _depth(curves, corner)
    inside = Point(corner.theoretical.x + depth * corner.bisector.x, corner.theoretical.y + depth * corner.bisector.y)
    return (along_bisector(curves.glass, corner, inside) or 0.0) - depth


def _radius_at(outline: Outline, corner: Corner) -> float | None:
    """Radius of an outline where the corner's bisector meets it; None where it is straight or sharp there."""
    inside = nearest_station(outline, corner.theoretical)
    return None if abs(inside.curvature) < 1e-9 else 1.0 / abs(inside.curvature)


__all__ = ["along_bisector", "corner_joints", "worst_corner"]
