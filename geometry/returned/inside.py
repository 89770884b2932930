"""What stands within the glass of a returned drawing: the edge of its solid print, the end of its fade, its dots.

Terms
-----
rim
    A loop so near to the glass edge that it is the arris or the outer edge of the print, not its inner one.
dots
    Small loops, many of them: the fade of a print. They protect nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.near import evenly, nearest
from geometry.incoming.incoming import IncomingError
from geometry.outline.measure import area
from geometry.returned.layer_words import Role

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.compare.move import Move
    from geometry.incoming.whole import Whole
    from geometry.outline.loop import Outline

RIM = 6.0
"""mm from the glass edge within which a loop is its rim."""
DOT = 30.0
"""mm: greater loops are no dots."""
FEW = 12
"""Dots from which they are a fade."""
ROUND = 0.2
"""Share of the glass that an edge of the print encloses at least."""
SURE = 5.0
"""mm by which the edge of a print may lie off the issued one and be told from other loops by that alone."""
PLACES = 256
"""Places all round at which a loop is held against another one."""


@dataclass(frozen=True, slots=True)
class Loop:
    """A loop within the glass: its number in the drawing, its role, and how it lies on the pane."""

    index: int
    role: Role
    laid: Outline


@dataclass(frozen=True, slots=True)
class Within:
    """Loops that may be an edge of the print, and the dots: X, Y and radius, mm."""

    loops: tuple[Loop, ...]
    dots: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Edges:
    """The edge of the solid print and the end of its fade; where it is not clear which loop is which, the numbers of those it could be."""

    solid: Outline | None = None
    fade_end: Outline | None = None
    unsure: tuple[int, ...] = ()


def within_glass(whole: Whole, glass: int, laid: Outline, move: Move, role: Callable[[int], Role]) -> Within:
    """What lies within a loop, the glass as it was ``laid`` by a ``move``; ``role`` says what the layers of a loop say of it."""
    loops: list[Loop] = []
    dots: list[tuple[float, float, float]] = []
    surface = area(laid)
    for index, (left, bottom, right, top) in enumerate(whole.boxes):
        size = max(right - left, top - bottom) * move.scale
        if index == glass or not math.isfinite(size):
            continue
        if size <= DOT:
            dots.append((*move.place((left + right) / 2.0, (bottom + top) / 2.0), size / 2.0))
            continue
        places = np.array([move.place(x, y) for x, y in whole.ring(index)], dtype=float)
        if float(nearest(laid, places).distance.max()) > RIM:
            continue
        there = _moved(whole, move, index)
        if there is not None and area(there) >= ROUND * surface:
            loops.append(Loop(index, role(index), there))
    return Within(tuple(loops), _dots_inside(laid, dots))


def _dots_inside(glass: Outline, dots: list[tuple[float, float, float]]) -> tuple[tuple[float, float, float], ...]:
    if not dots:
        return ()
    near = nearest(glass, np.array([(x, y) for x, y, _ in dots]))
    return tuple(dot for dot, distance in zip(dots, near.distance, strict=True) if distance < 0)


def _moved(whole: Whole, move: Move, index: int) -> Outline | None:
    """A loop as it lies on the pane; None where it is no outline."""
    try:
        drawn = whole.outline(index, factor=move.scale)
    except IncomingError:
        return None
    return replace(move, scale=1.0).outline(drawn)


def edges_of(within: Within, glass: Outline, issued: Outline) -> Edges:
    """The edges of the print among what lies within the glass; ``issued`` is the edge of the solid print that was asked for."""
    inner = [each for each in within.loops if off(glass, each.laid) > RIM]
    ours = [each for each in inner if each.role is Role.SOLID]
    named = [each for each in inner if each.role in (Role.SOLID, Role.PRINT, Role.FADE)]
    pool = ours or named
    if not pool:
        pool = [each for each in inner if each.role in (Role.UNKNOWN, Role.GLASS)]
        if len(pool) > 1:
            near = [each for each in pool if off(issued, each.laid) <= SURE]
            return Edges(near[0].laid) if len(near) == 1 else Edges(unsure=tuple(each.index for each in pool))
    if not pool:
        return Edges()
    # the edge nearest to the glass is where the solid print ends; another one within it is the end of the fade
    solid = max(pool, key=lambda each: area(each.laid)).laid
    rest = [each.laid for each in named if area(each.laid) < area(solid) - 1.0]
    return Edges(solid, min(rest, key=area) if rest else None)


def off(issued: Outline, laid: Outline) -> float:
    """How far the farthest place of a loop lies off another one, mm."""
    return float(np.abs(nearest(issued, evenly(laid, PLACES)).distance).max())


def first_dot(within: Within, glass: Outline, solid: Outline) -> float | None:
    """How far in from the glass edge the first dot begins, mm; None where there are few, or all lie within the solid edge."""
    if len(within.dots) < FEW:
        return None
    middles = np.array([(x, y) for x, y, _ in within.dots])
    radii = np.array([radius for _, _, radius in within.dots])
    outside = nearest(solid, middles).distance > radii
    if int(outside.sum()) < FEW:
        return None
    depth = -nearest(glass, middles[outside]).distance - radii[outside]
    return float(depth.min())


__all__ = ["Edges", "Loop", "Within", "edges_of", "first_dot", "off", "within_glass"]
