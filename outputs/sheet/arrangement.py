"""Where boxes stand on a sheet.

Terms
-----
gap
    A largest empty rectangle of the space, between boxes that stand already; gaps may overlap one another.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from outputs.sheet.entities import Place

Gap = tuple[float, float, float, float]  # left, bottom, right, top
TOUCH = 1e-9


def arrange(sizes: Sequence[tuple[float, float]], *, space: Gap, to_right: Collection[int] = ()) -> list[Place] | None:
    """Lower left corners of boxes (width, height) in a space (left, bottom, right, top), in their order; None where they do not fit.

    Each box goes as high, then as far left, as the gaps allow; those whose index is in ``to_right`` as far right.

    >>> arrange([(60, 40), (40, 30), (100, 20)], space=(0, 0, 100, 100))
    [(0.0, 60.0), (60.0, 70.0), (0.0, 40.0)]
    >>> arrange([(60, 40), (30, 30)], space=(0, 0, 100, 100), to_right=(1,))
    [(0.0, 60.0), (70.0, 70.0)]
    >>> arrange([(101, 1)], space=(0, 0, 100, 100)) is None
    True
    """
    left, bottom, right, top = (float(edge) for edge in space)
    gaps: list[Gap] = [(left, bottom, right, top)]
    found: list[Place] = []
    for index, (width, height) in enumerate(sizes):
        fitting = [gap for gap in gaps if gap[2] - gap[0] >= width - TOUCH and gap[3] - gap[1] >= height - TOUCH]
        if not fitting:
            return None
        if index in to_right:
            best = min(fitting, key=lambda gap: (-gap[3], -gap[2]))
            place = (best[2] - width, best[3] - height)
        else:
            best = min(fitting, key=lambda gap: (-gap[3], gap[0]))
            place = (best[0], best[3] - height)
        found.append(place)
        gaps = _left_over(gaps, (*place, place[0] + width, best[3]))
    return found


def _left_over(gaps: list[Gap], box: Gap) -> list[Gap]:
    """The gaps once a box stands in the space."""
    left, bottom, right, top = box
    kept: list[Gap] = []  # touched by nothing: none of them holds another
    order: list[Gap] = []
    for gap in gaps:
        if right <= gap[0] + TOUCH or left >= gap[2] - TOUCH or top <= gap[1] + TOUCH or bottom >= gap[3] - TOUCH:
            kept.append(gap)
            order.append(gap)
            continue
        parts = (
            (gap[0], gap[1], left, gap[3]),
            (right, gap[1], gap[2], gap[3]),
            (gap[0], gap[1], gap[2], bottom),
            (gap[0], top, gap[2], gap[3]),
        )
        order += [part for part in parts if part[2] - part[0] > TOUCH and part[3] - part[1] > TOUCH]
    once = list(dict.fromkeys(order))
    untouched = set(kept)
    left_over: list[Gap] = []
    for gap in once:
        if gap not in untouched:
            left, bottom, right, top = gap
            # itself holds itself: it is kept where no other does
            if len([1 for a, b, c, d in once if a <= left and b <= bottom and c >= right and d >= top]) > 1:
                continue
        left_over.append(gap)
    return left_over
