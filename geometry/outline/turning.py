"""Where a profile may be swept round an outline: how its segments turn into one another, and how tight its arcs are."""

from __future__ import annotations

import math

from geometry.outline.loop import Arc, Outline, Segment, segments

TANGENT = 1e-7
"""Radians up to which two segments go on smoothly."""


def turn_between(part: Segment, after: Segment) -> float:
    """The angle by which an outline turns where one segment meets the next, radians, left positive."""
    (a, b), (c, d) = part.tangent_at(1.0), after.tangent_at(0.0)
    return math.atan2(a * d - b * c, a * c + b * d)


def sweeps(spine: Outline, least: float, greatest: float) -> bool:
    """Whether a profile between two distances from a spine (mm, outwards positive) can be swept round it without running into itself.

    >>> from geometry.outline.shapes import rectangle
    >>> sweeps(rectangle(1200, 600), 0.0, 5.0), sweeps(rectangle(1200, 600), -5.0, 0.0)
    (True, False)
    """
    parts = segments(spine)
    for part, after in zip(parts, (*parts[1:], parts[0]), strict=True):
        if isinstance(part, Arc):
            reach = part.radius + (least if part.sweep > 0 else -greatest)
            if reach < -1e-9:
                return False
        turn = turn_between(part, after)
        if turn < -TANGENT or (turn > TANGENT and least < -1e-9):
            return False
    return True


__all__ = ["TANGENT", "sweeps", "turn_between"]
