"""The gap from one outline to another as they lie: the least one, and that at a place."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from geometry.compare.curve import curve_of, signed_distance
from geometry.compare.gaps import Placing, gaps_at
from geometry.compare.near import point_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.outline.loop import Outline, Point


class Between(NamedTuple):
    """The least gap, mm, negative where one outline crosses the other, with its place on the inner one."""

    gap: float
    on_inner: Point


def least_between(inner: Outline, outer: Outline) -> Between:
    """The least true distance of an outline inside another one, with its place.

    >>> from geometry.outline import moved, rectangle
    >>> least_between(moved(rectangle(100, 50), 8, 6), rectangle(120, 70)).gap
    6.0
    """
    gaps = gaps_at(curve_of(inner), curve_of(outer), Placing(0.0, 0.0, 0.0))
    i = int(np.argmin(gaps.gap))
    return Between(gaps.least, point_of(gaps.on_pane[i]))


def distances_inside(outline: Outline, places: Sequence[Point]) -> tuple[float, ...]:
    """Distance of each place from an outline, mm, positive inside it.

    >>> from geometry.outline import Point, rectangle
    >>> distances_inside(rectangle(100, 50), [Point(50, 10), Point(-3, 25)])
    (10.0, -3.0)
    """
    if not places:
        return ()
    return tuple(float(each) for each in signed_distance(curve_of(outline), np.array(places, dtype=float))[0])


__all__ = ["Between", "distances_inside", "least_between"]
