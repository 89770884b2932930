"""How high a straight block can be in the joint: on a round edge the glass and the wall run out of line over its length."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point, point_in, ray_length

if TYPE_CHECKING:
    from geometry.detail.parts import Chock, Curves

SAME = 1e-6  # mm within which two heights are one
PLACES = 8  # along half a block, at which the joint is held against its middle


def outward_of(chock: Chock) -> Point:
    """Unit vector square to a block, out of the glass."""
    turn = math.radians(chock.angle)
    return Point(math.sin(turn), -math.cos(turn))


def straight_room(curves: Curves, chock: Chock) -> tuple[float, float]:
    """From the tangent of the glass edge outwards, mm: how far the glass rises over it and where the wall begins, over a block's length."""
    out = outward_of(chock)
    low, high = 0.0, chock.height
    for step in range(-PLACES, PLACES + 1):
        along = step / PLACES * chock.length / 2
        place = Point(chock.foot.x - along * out.y, chock.foot.y + along * out.x)
        # from far enough within, so that a wall just beside the tangent is met as well
        wall = ray_length(curves.recess, place, out) if point_in(curves.recess, place) else 0.0
        high = min(high, chock.height if wall is None else wall)
        if step and point_in(curves.glass, place):
            low = max(low, ray_length(curves.glass, place, out) or 0.0)
    low = 0.0 if low < SAME else low
    return low, chock.height if chock.height - high < SAME else high


__all__ = ["SAME", "outward_of", "straight_room"]
