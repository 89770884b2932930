"""A pane turned over: what lies in its plan as it is seen from the inner face.

The turn is about the upright through the origin: X counts to the left then, and every corner, edge and block keeps its name. Lettering is
no part of it and never mirrored.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING

from geometry.outline import Outline, Point, other_hand

if TYPE_CHECKING:
    from geometry.detail.parts import Curves, Detail
    from geometry.outline import Corner


def seen_from_inside(detail: Detail) -> Detail:
    """The detail with curves, corners, blocks and the start of the bead mirrored; the bead runs clockwise then.

    Of sections, joints and all that is no part of the plan's outlines and blocks nothing is turned: it is for plans alone.
    """
    across = 2.0 * detail.origin.at.x

    def place(point: Point) -> Point:
        return Point(across - point.x, point.y)

    def corner(each: Corner) -> Corner:
        return replace(
            each,
            theoretical=place(each.theoretical),
            tangent_before=place(each.tangent_after),
            tangent_after=place(each.tangent_before),
            bisector=Point(-each.bisector.x, each.bisector.y),
        )

    start = detail.bead_start
    return replace(
        detail,
        curves=_turned(detail.curves, across),
        corners=tuple(corner(each) for each in detail.corners),
        # a block is alike to both ends: turned, the way of its edge is told from the other one, and the glass stays at its left
        spacers=tuple(replace(each, centre=place(each.centre), angle=-each.angle) for each in detail.spacers),
        chocks=tuple(replace(each, foot=place(each.foot), angle=-each.angle) for each in detail.chocks),
        bead_start=replace(start, place=place(start.place), angle=180.0 - start.angle),
    )


def _turned(curves: Curves, across: float) -> Curves:
    found = {each.name: getattr(curves, each.name) for each in fields(curves)}
    return replace(
        curves, **{name: other_hand(curve, across=across) for name, curve in found.items() if isinstance(curve, Outline)}
    )


__all__ = ["seen_from_inside"]
