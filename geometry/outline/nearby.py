"""Which segments come near: to each other, to a place, to a box, to a ray, told by the boxes round them.

Of an outline of few segments all are handed back, so that a plain pane waits for no import; of one of many those whose boxes come
near, found with numpy or shapely. Whoever asks looks at the segments themselves: the answers are the same either way.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from geometry.outline.loop import Outline, Point, Segment, segments
from geometry.outline.meet import box_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MANY = 160
"""Segments from which numpy and shapely are worth their import."""
SLACK = 1e-9
"""mm by which rounding may make a box seem farther than it is."""

BoxOf = tuple[float, float, float, float]


class Boxed(NamedTuple):
    """One segment, its box (left, bottom, right, top, mm) and its number."""

    box: BoxOf
    part: Segment
    number: int


@lru_cache(maxsize=512)
def boxed(outline: Outline) -> tuple[Boxed, ...]:
    """Every segment with its box."""
    return tuple(Boxed(box_of(part), part, index) for index, part in enumerate(segments(outline)))


@lru_cache(maxsize=64)
def _arrays(outline: Outline) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The boxes as rows left, bottom, right, top, and the starts as rows x, y."""
    import numpy as np

    every = boxed(outline)
    return np.array([each.box for each in every]).T.copy(), np.array([each.part.start for each in every]).T.copy()


def near_place(outline: Outline, place: Point) -> Sequence[Boxed]:
    """The segments among which the one nearest to a place is, in order.

    >>> from geometry.outline.shapes import rectangle
    >>> len(near_place(rectangle(100, 50), Point(50, 10)))
    4
    """
    every = boxed(outline)
    if len(every) < MANY:
        return every
    import numpy as np

    (left, bottom, right, top), (x, y) = _arrays(outline)
    most = math.sqrt(float(np.min((x - place.x) ** 2 + (y - place.y) ** 2))) + SLACK  # the nearest is no farther than any start
    aside = np.maximum(left - place.x, place.x - right)
    above = np.maximum(bottom - place.y, place.y - top)
    return [every[i] for i in np.flatnonzero((aside <= most) & (above <= most)).tolist()]


def near_box(outline: Outline, box: BoxOf, reach: float) -> Sequence[Boxed]:
    """The segments whose boxes may lie within ``reach`` mm of a box, in order."""
    every = boxed(outline)
    if len(every) < MANY or reach == math.inf:
        return every
    import numpy as np

    (left, bottom, right, top), _ = _arrays(outline)
    most = reach + SLACK
    close = (left <= box[2] + most) & (right >= box[0] - most) & (bottom <= box[3] + most) & (top >= box[1] - most)
    return [every[i] for i in np.flatnonzero(close).tolist()]


def near_ray(outline: Outline, origin: Point, way: Point, reach: float) -> Sequence[Boxed]:
    """The segments whose boxes may lie within ``reach`` mm of the endless line through an origin along a unit vector, in order."""
    every = boxed(outline)
    if len(every) < MANY:
        return every
    import numpy as np

    (left, bottom, right, top), _ = _arrays(outline)
    low, high = (bottom - origin.y) * way.x, (top - origin.y) * way.x
    near, far = (left - origin.x) * way.y, (right - origin.x) * way.y
    least = np.minimum(low, high) - np.maximum(near, far)
    most = np.maximum(low, high) - np.minimum(near, far)
    return [every[i] for i in np.flatnonzero((least <= reach + SLACK) & (most >= -reach - SLACK)).tolist()]


def box_pairs(parts: Sequence[Segment], *, apart: float = 1e-7) -> list[tuple[int, int]]:
    """Pairs ``i < j`` of segments whose boxes lie no farther than ``apart`` mm from each other, rising.

    >>> from geometry.outline.shapes import rectangle
    >>> box_pairs(segments(rectangle(100, 50)))
    [(0, 1), (0, 3), (1, 2), (2, 3)]
    """
    boxes = [box_of(part) for part in parts]
    if len(parts) >= MANY:
        return _many_pairs(boxes, apart)
    order = sorted(range(len(parts)), key=lambda i: boxes[i][0])
    found = []
    for position, i in enumerate(order):
        reach, low, high = boxes[i][2] + apart, boxes[i][1] - apart, boxes[i][3] + apart
        for j in order[position + 1 :]:
            if boxes[j][0] > reach:
                break
            if boxes[j][3] >= low and boxes[j][1] <= high:
                found.append((i, j) if i < j else (j, i))
    return sorted(found)


def _many_pairs(boxes: Sequence[tuple[float, float, float, float]], apart: float) -> list[tuple[int, int]]:
    import numpy as np
    import shapely

    bounds = np.array(boxes)
    around = shapely.box(*(bounds + apart * np.array([-1.0, -1.0, 1.0, 1.0])).T)
    first, second = shapely.STRtree(shapely.box(*bounds.T)).query(around)
    rising = first < second
    return sorted(zip(first[rising].tolist(), second[rising].tolist(), strict=True))


__all__ = ["MANY", "Boxed", "box_pairs", "boxed", "near_box", "near_place", "near_ray"]
