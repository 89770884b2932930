"""Where boxes stand on a sheet.

Terms
-----
skyline
    The lower edge of what is placed already, as steps from left to right; the next box goes as high, then as far left, as it can.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.sheet.entities import Place


def arrange(sizes: Sequence[tuple[float, float]], *, space: tuple[float, float, float, float]) -> list[Place] | None:
    """Lower left corners of boxes (width, height) in a space (left, bottom, right, top), in their order; None where they do not fit.

    >>> arrange([(60, 40), (40, 30), (100, 20)], space=(0, 0, 100, 100))
    [(0.0, 60.0), (60.0, 70.0), (0.0, 40.0)]
    >>> arrange([(101, 1)], space=(0, 0, 100, 100)) is None
    True
    """
    left, bottom, right, top = (float(edge) for edge in space)
    skyline: list[tuple[float, float, float]] = [(left, right, top)]  # from, to, level
    found: list[Place] = []
    for width, height in sizes:
        best: tuple[float, float] | None = None
        for start, _, _ in skyline:
            for x in (start, right - width):
                if x < left - 1e-9 or x + width > right + 1e-9:
                    continue
                level = min(step[2] for step in skyline if step[0] < x + width - 1e-9 and step[1] > x + 1e-9)
                if level - height >= bottom - 1e-9 and (
                    best is None or level > best[1] + 1e-9 or (level > best[1] - 1e-9 and x < best[0])
                ):
                    best = (x, level)
        if best is None:
            return None
        x, level = best
        y = level - height
        found.append((x, y))
        fresh: list[tuple[float, float, float]] = []
        for start, end, high in skyline:
            if start < x:
                fresh.append((start, min(end, x), high))
            if end > x + width:
                fresh.append((max(start, x + width), end, high))
        fresh.append((x, x + width, y))
        skyline = sorted(step for step in fresh if step[1] - step[0] > 1e-9)
    return found
