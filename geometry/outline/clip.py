"""Runs of lines and arcs cut at a window, arcs kept as arcs.

A window is (left, bottom, right, top), mm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from geometry.outline.loop import Arc, Point, Segment, Vertex, segment_between

Node = tuple[float, float, float]
Window = tuple[float, float, float, float]


def _inside(point: Point, window: Window) -> bool:
    slack = 1e-9
    return window[0] - slack <= point.x <= window[2] + slack and window[1] - slack <= point.y <= window[3] + slack


def _cuts(part: Segment, window: Window) -> list[float]:
    """Fractions of a segment at which it meets the lines of the window's sides, with both ends."""
    found = [0.0, 1.0]
    for axis, level in ((0, window[0]), (1, window[1]), (0, window[2]), (1, window[3])):
        if isinstance(part, Arc):
            centre, radius = part.centre, part.radius
            gap = level - centre[axis]
            if abs(gap) >= radius:
                continue
            first = math.atan2(part.start.y - centre.y, part.start.x - centre.x)
            turn = math.acos(gap / radius) if axis == 0 else math.asin(gap / radius)
            angles = (turn, -turn) if axis == 0 else (turn, math.pi - turn)
            for angle in angles:
                along = (angle - first) % (2 * math.pi) if part.sweep > 0 else -((first - angle) % (2 * math.pi))
                found.append(along / part.sweep)
        else:
            run = part.end[axis] - part.start[axis]
            if run != 0:
                found.append((level - part.start[axis]) / run)
    return sorted(fraction for fraction in found if -1e-12 <= fraction <= 1 + 1e-12)


def clip_path(nodes: Sequence[Node], *, closed: bool, window: Window) -> tuple[tuple[tuple[Node, ...], bool], ...]:
    """The parts of a run inside a window, each with whether it is closed.

    >>> clip_path(((0, 0, 0), (10, 0, 0)), closed=False, window=(2, -1, 4, 1))
    ((((2.0, 0.0, 0.0), (4.0, 0.0, 0.0)), False),)
    """
    vertices = [Vertex(*node) for node in nodes]
    pairs = list(zip(vertices, vertices[1:] + vertices[:1], strict=True))
    if not closed:
        pairs.pop()
    pieces: list[tuple[Point, Point, float]] = []
    whole = True
    for start, end in pairs:
        part = segment_between(start, end, start.bulge)
        cuts = _cuts(part, window)
        for one, other in pairwise(cuts):
            if other - one < 1e-12:
                continue
            if _inside(part.point_at((one + other) / 2), window):
                bulge = math.tan(math.atan(part.bulge) * (other - one))
                pieces.append((part.point_at(one), part.point_at(other), bulge))
            else:
                whole = False
    if whole and closed and pieces:
        return ((tuple((v.x, v.y, v.bulge) for v in vertices), True),)
    chains: list[list[tuple[Point, Point, float]]] = []
    for piece in pieces:
        if chains and math.dist(chains[-1][-1][1], piece[0]) < 1e-7:
            chains[-1].append(piece)
        else:
            chains.append([piece])
    if closed and len(chains) > 1 and math.dist(chains[-1][-1][1], chains[0][0][0]) < 1e-7:
        chains[0] = chains.pop() + chains[0]
    return tuple((_nodes(chain), False) for chain in chains)


def _nodes(chain: list[tuple[Point, Point, float]]) -> tuple[Node, ...]:
    last = chain[-1][1]
    return (*((start.x, start.y, bulge) for start, _, bulge in chain), (last.x, last.y, 0.0))


def clip_region(nodes: Sequence[Node], *, window: Window) -> tuple[tuple[Node, ...], ...]:
    """The closed parts of a counter-clockwise loop's inside within a window: its clipped runs joined along the window's frame.

    A loop that does not come into the window gives nothing.
    """
    runs = clip_path(nodes, closed=True, window=window)
    if len(runs) == 1 and runs[0][1]:
        return (runs[0][0],)
    left, bottom, right, top = window
    wide, high = right - left, top - bottom
    whole = 2 * (wide + high)

    def along(x: float, y: float) -> float:
        """Place on the window's frame, counter-clockwise from its lower left corner."""
        if abs(y - bottom) < 1e-6:
            return x - left
        if abs(x - right) < 1e-6:
            return wide + y - bottom
        if abs(y - top) < 1e-6:
            return wide + high + right - x
        return 2 * wide + high + top - y

    frame = [(0.0, (left, bottom)), (wide, (right, bottom)), (wide + high, (right, top)), (2 * wide + high, (left, top))]
    open_runs = [run for run, _ in runs]
    found: list[tuple[Node, ...]] = []
    while open_runs:
        loop = list(open_runs.pop(0))
        while True:
            leave = along(loop[-1][0], loop[-1][1])
            starts = [((along(run[0][0], run[0][1]) - leave) % whole, index) for index, run in enumerate(open_runs)]
            starts.append(((along(loop[0][0], loop[0][1]) - leave) % whole, -1))
            distance, chosen = min(starts)
            corner_places = sorted(((at - leave) % whole, spot) for at, spot in frame)
            loop += [(spot[0], spot[1], 0.0) for at, spot in corner_places if 1e-9 < at < distance - 1e-9]
            if chosen == -1:
                break
            loop += open_runs.pop(chosen)
        found.append(tuple(loop))
    return tuple(found)
