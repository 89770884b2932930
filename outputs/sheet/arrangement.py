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
Steps = dict[object, "_Step | None"]
"""Every box set so far, by its size after those before it; what was set in one trial is not worked out again in the next."""
TOUCH = 1e-9


def arrange(
    sizes: Sequence[tuple[float, float]], *, space: Gap, to_right: Collection[int] = (), known: Steps | None = None
) -> list[Place] | None:
    """Lower left corners of boxes (width, height) in a space (left, bottom, right, top), in their order; None where they do not fit.

    Each box goes as high, then as far left, as the gaps allow; those whose index is in ``to_right`` as far right. ``known`` is kept by a
    caller who tries many boxes in one or more spaces.

    >>> arrange([(60, 40), (40, 30), (100, 20)], space=(0, 0, 100, 100))
    [(0.0, 60.0), (60.0, 70.0), (0.0, 40.0)]
    >>> arrange([(60, 40), (30, 30)], space=(0, 0, 100, 100), to_right=(1,))
    [(0.0, 60.0), (70.0, 70.0)]
    >>> arrange([(101, 1)], space=(0, 0, 100, 100)) is None
    True
    """
    left, bottom, right, top = (float(edge) for edge in space)
    whole = (left, bottom, right, top)
    gaps: list[Gap] = [whole]
    steps: Steps = {} if known is None else known
    key: object = whole
    found: list[Place] = []
    for index, (width, height) in enumerate(sizes):
        right_hand = index in to_right
        if (key, width, height, right_hand) not in steps:
            steps[key, width, height, right_hand] = _step(gaps, width, height, right_hand=right_hand)
        step = steps[key, width, height, right_hand]
        if step is None:
            return None
        found.append(step.place)
        key, gaps = step.key, step.gaps
    return found


class _Step:
    """A box that was set: its lower left corner and the gaps that it leaves; ``key`` stands for it and all those before it."""

    __slots__ = ("gaps", "key", "place")

    def __init__(self, place: Place, gaps: list[Gap]) -> None:
        self.place, self.gaps, self.key = place, gaps, object()


def _step(gaps: list[Gap], width: float, height: float, *, right_hand: bool) -> _Step | None:
    """The next box in the gaps; None where none holds it."""
    fitting = [gap for gap in gaps if gap[2] - gap[0] >= width - TOUCH and gap[3] - gap[1] >= height - TOUCH]
    if not fitting:
        return None
    if right_hand:
        best = min(fitting, key=lambda gap: (-gap[3], -gap[2]))
        place = (best[2] - width, best[3] - height)
    else:
        best = min(fitting, key=lambda gap: (-gap[3], gap[0]))
        place = (best[0], best[3] - height)
    return _Step(place, _left_over(gaps, (*place, place[0] + width, best[3])))


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


__all__ = ["Steps", "arrange"]
