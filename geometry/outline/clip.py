"""Runs of lines and arcs cut at a window, arcs kept as arcs: for enlarged details and their hatches.

Terms
-----
node
    ``(x, y, bulge)``: the bulge belongs to the segment that leaves the node; the last node of an open run has none (0).
window
    An upright rectangle ``(left, bottom, right, top)``, mm; its sides are the frame. What lies on the frame is inside.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from geometry.outline.loop import Arc, Outline, OutlineError, Point, Segment, Vertex, segment_between
from geometry.outline.meet import box_of
from geometry.outline.soundness import signed_area
from geometry.outline.stations import point_in

Node = tuple[float, float, float]
Window = tuple[float, float, float, float]

ON_FRAME = 1e-9
"""mm beyond the frame that still count as inside."""
SAME_PLACE = 1e-7
"""mm within which two ends are one."""
NO_AREA = 1e-9
"""mm2; a part with less is a side that only touches the frame."""


def clip_path(nodes: Sequence[Node], *, closed: bool, window: Window) -> tuple[tuple[tuple[Node, ...], bool], ...]:
    """The parts of a run inside a window, in the order of travel, each with whether it is closed; arcs are cut, not chorded.

    A closed run that lies inside whole comes back as it is; else every part is open.

    >>> clip_path(((0, 0, 0), (10, 0, 0)), closed=False, window=(2, -1, 4, 1))
    ((((2.0, 0.0, 0.0), (4.0, 0.0, 0.0)), False),)
    >>> clip_path(((0, 0, 1), (10, 0, 1)), closed=True, window=(-1, -9, 11, 9))
    ((((0, 0, 1), (10, 0, 1)), True),)
    >>> clip_path(((0, 0, 1), (10, 0, 1)), closed=True, window=(20, 20, 30, 30))
    ()
    """
    _check(window)
    vertices = [Vertex(*node) for node in nodes]
    pairs = list(zip(vertices, vertices[1:] + vertices[:1], strict=True))
    if not closed:
        pairs.pop()
    chains: list[list[tuple[Point, Point, float]]] = []
    whole, broken = True, True
    for start, end in pairs:
        if math.dist(start[:2], end[:2]) == 0.0:
            continue
        part = segment_between(start, end, start.bulge)
        if _beside(part, window):
            whole, broken = False, True
            continue
        for one, other in pairwise(_cuts(part, window)):
            if (other - one) * part.length < ON_FRAME:
                continue
            if not _inside(part.point_at((one + other) / 2), window):
                whole, broken = False, True
                continue
            piece = _place(part, one, window), _place(part, other, window), math.tan(_sweep(part) * (other - one) / 4)
            if broken:
                chains.append([])
            chains[-1].append(piece)
            broken = False
    if whole and closed and chains:
        return ((tuple((v.x, v.y, v.bulge) for v in vertices), True),)
    if closed and len(chains) > 1 and math.dist(chains[-1][-1][1], chains[0][0][0]) < SAME_PLACE:
        chains[0] = chains.pop() + chains[0]
    return tuple((_nodes(chain), False) for chain in chains)


def _sweep(part: Segment) -> float:
    """Angle turned by a segment, radians; 0 for a line."""
    return part.sweep if isinstance(part, Arc) else 0.0


def _check(window: Window) -> None:
    left, bottom, right, top = window
    if not (all(map(math.isfinite, window)) and left < right and bottom < top):
        raise OutlineError(
            f"the window runs from ({left:g}, {bottom:g}) to ({right:g}, {top:g}); its width and height must be over 0"
        )


def _inside(point: Point, window: Window) -> bool:
    left, bottom, right, top = window
    return left - ON_FRAME <= point.x <= right + ON_FRAME and bottom - ON_FRAME <= point.y <= top + ON_FRAME


def _beside(part: Segment, window: Window) -> bool:
    """Whether a segment lies wholly on one side of the window, and surely so: most of a run round a whole pane does."""
    left, bottom, right, top = window
    low_x, low_y, high_x, high_y = box_of(part)
    aside = max(left - high_x, low_x - right, bottom - high_y, low_y - top)
    return aside > SAME_PLACE and part.length > SAME_PLACE


def _cuts(part: Segment, window: Window) -> list[float]:
    """Fractions of a segment at which it meets the endless lines of the frame, with both its ends, rising."""
    found = [0.0, 1.0]
    for axis, level in ((0, window[0]), (1, window[1]), (0, window[2]), (1, window[3])):
        if isinstance(part, Arc):
            centre, radius, sweep = part.centre, part.radius, part.sweep
            gap = level - centre[axis]
            if abs(gap) >= radius:
                continue
            first = math.atan2(part.start.y - centre.y, part.start.x - centre.x)
            if axis == 0:
                angles = (math.acos(gap / radius), -math.acos(gap / radius))
            else:
                angles = (math.asin(gap / radius), math.pi - math.asin(gap / radius))
            for angle in angles:
                along = (angle - first) % (2 * math.pi) if sweep > 0 else -((first - angle) % (2 * math.pi))
                found.append(along / sweep)
        else:
            run = part.end[axis] - part.start[axis]
            if run != 0:
                found.append((level - part.start[axis]) / run)
    return sorted(fraction for fraction in found if 0.0 <= fraction <= 1.0)


def _place(part: Segment, fraction: float, window: Window) -> Point:
    """A place of a segment; where a cut made it, exactly on the frame."""
    spot = part.point_at(fraction)
    if fraction in (0.0, 1.0):
        return spot
    x = next((side for side in (window[0], window[2]) if abs(spot.x - side) < SAME_PLACE), spot.x)
    y = next((side for side in (window[1], window[3]) if abs(spot.y - side) < SAME_PLACE), spot.y)
    return Point(float(x), float(y))


def _nodes(chain: list[tuple[Point, Point, float]]) -> tuple[Node, ...]:
    last = chain[-1][1]
    return (*((float(start.x), float(start.y), bulge) for start, _, bulge in chain), (float(last.x), float(last.y), 0.0))


def clip_region(nodes: Sequence[Node], *, window: Window) -> tuple[tuple[Node, ...], ...]:
    """The closed parts of a counter-clockwise loop's inside within a window, counter-clockwise, arcs kept.

    Where the window lies inside the loop whole, the window itself; where the loop does not come into it, nothing.

    >>> square = ((0, 0, 0), (10, 0, 0), (10, 10, 0), (0, 10, 0))
    >>> clip_region(square, window=(5, 5, 20, 20))
    (((10.0, 5.0, 0.0), (10.0, 10.0, 0.0), (5.0, 10.0, 0.0), (5, 5, 0.0)),)
    >>> clip_region(square, window=(4, 4, 6, 6))
    (((4, 4, 0.0), (6, 4, 0.0), (6, 6, 0.0), (4, 6, 0.0)),)
    >>> clip_region(square, window=(11, 11, 20, 20))
    ()
    """
    runs = clip_path(nodes, closed=True, window=window)
    if len(runs) == 1 and runs[0][1]:
        return (runs[0][0],)
    left, bottom, right, top = window
    frame = ((left, bottom, 0.0), (right, bottom, 0.0), (right, top, 0.0), (left, top, 0.0))
    # A run that only follows the frame from outside cuts nothing off: with the frame back to its start it has no area.
    loops = [loop for loop in _walked([run for run, _ in runs], window) if _area(loop) > NO_AREA]
    if loops:
        return tuple(loops)
    middle = Point((left + right) / 2, (bottom + top) / 2)
    return (frame,) if point_in(Outline(tuple(Vertex(*node) for node in nodes)), middle) else ()


def _area(loop: Sequence[Node]) -> float:
    return signed_area([Vertex(*node) for node in loop])


def _walked(runs: list[tuple[Node, ...]], window: Window) -> list[tuple[Node, ...]]:
    """Runs that end on the frame joined to loops: from each end counter-clockwise along the frame to the next start."""
    left, bottom, right, top = window
    wide, high = right - left, top - bottom
    round_it = 2 * (wide + high)

    def along(node: Node) -> float:
        """Place on the frame, mm counter-clockwise from its lower left corner: the side that lies nearest."""
        x, y = node[0], node[1]
        sides = (
            (abs(y - bottom), x - left),
            (abs(x - right), wide + y - bottom),
            (abs(y - top), wide + high + right - x),
            (abs(x - left), 2 * wide + high + top - y),
        )
        return min(sides)[1]

    def ahead(start: float, end: float) -> float:
        gap = (end - start) % round_it
        return 0.0 if gap > round_it - SAME_PLACE else gap

    corners = [(0.0, (left, bottom)), (wide, (right, bottom)), (wide + high, (right, top)), (2 * wide + high, (left, top))]
    waiting = list(runs)
    found: list[tuple[Node, ...]] = []
    while waiting:
        loop = list(waiting.pop(0))
        while True:
            leave = along(loop[-1])
            starts = [(ahead(leave, along(run[0])), index) for index, run in enumerate(waiting)]
            gap, chosen = min([*starts, (ahead(leave, along(loop[0])), -1)])
            passed = sorted((ahead(leave, at), spot) for at, spot in corners)
            loop += [(*spot, 0.0) for at, spot in passed if SAME_PLACE < at < gap - SAME_PLACE]
            if chosen == -1:
                break
            loop += waiting.pop(chosen)
        found.append(tuple(_without_repeats(loop)))
    return found


def _without_repeats(loop: list[Node]) -> list[Node]:
    """The loop without nodes that the next one repeats."""
    following = [*loop[1:], loop[0]]
    return [one for one, other in zip(loop, following, strict=True) if math.dist(one[:2], other[:2]) > SAME_PLACE]


__all__ = ["Node", "Window", "clip_path", "clip_region"]
