"""Boxes: what room a mark takes, so that texts keep clear of one another and of lines.

A box is (left, bottom, right, top) in the coordinates of the marks it was taken from.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.outline import circle_of
from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Mark, Node, Path, Text
from outputs.sheet.lettering import text_box

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

Box = tuple[float, float, float, float]
_RUNS = (Path, Fill)
QUARTERS = tuple(
    (quarter * math.pi / 2, math.cos(quarter * math.pi / 2), math.sin(quarter * math.pi / 2)) for quarter in range(4)
)
"""Directions in which a circle reaches farthest: angle, cosine, sine."""


def sides(nodes: tuple[Node, ...], *, closed: bool) -> Iterator[tuple[Node, Node]]:
    """The segments of a run, each as its two nodes."""
    yield from pairwise(nodes)
    if closed:
        yield nodes[-1], nodes[0]


def nodes_box(nodes: tuple[Node, ...], *, closed: bool) -> Box:
    """The box of a run with true arc extremes."""
    left, bottom, _ = nodes[0]
    right, top = left, bottom
    curved = False
    for x, y, bulge in nodes:
        if x < left:
            left = x
        elif x > right:
            right = x
        if y < bottom:
            bottom = y
        elif y > top:
            top = y
        if bulge != 0:
            curved = True
    return _with_arcs(nodes, (left, bottom, right, top), closed=closed) if curved else (left, bottom, right, top)


def _with_arcs(nodes: tuple[Node, ...], box: Box, *, closed: bool) -> Box:
    """The box of the nodes of a run, wide enough for its arcs too."""
    left, bottom, right, top = box
    for (x1, y1, bulge), (x2, y2, _) in sides(nodes, closed=closed):
        if bulge == 0:
            continue
        cx, cy, radius, sweep = circle_of(x1, y1, x2, y2, bulge)
        for angle, across, up in QUARTERS:
            x, y = cx + radius * across, cy + radius * up
            if left <= x <= right and bottom <= y <= top:
                continue
            turn = (angle - math.atan2(y1 - cy, x1 - cx)) % (2 * math.pi)
            if sweep < 0:
                turn -= 2 * math.pi
            if abs(turn) <= abs(sweep):
                left, bottom, right, top = min(left, x), min(bottom, y), max(right, x), max(top, y)
    return left, bottom, right, top


def joined(boxes: Iterable[Box]) -> Box:
    """The box round several boxes."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def box_of_text(text: Text, scale: float) -> Box:
    """The upright box round a text, turned or not."""
    width, bottom, top = _shares(text.string, text.bold)
    size, x, y = text.height, text.x, text.y
    width, bottom, top = width * size / scale, bottom * size / scale, top * size / scale
    left = 0.0 if text.align == "left" else -width / 2.0 if text.align == "middle" else -width
    right = left + width
    if text.rotation == 0:
        return x + left, y + bottom, x + right, y + top
    along, up = _direction(text.rotation)
    xs = [x + a * along - b * up for a, b in ((left, bottom), (right, bottom), (right, top), (left, top))]
    ys = [y + a * up + b * along for a, b in ((left, bottom), (right, bottom), (right, top), (left, top))]
    return min(xs), min(ys), max(xs), max(ys)


@lru_cache(maxsize=4096)  # a pane has some 1500
def _shares(string: str, bold: bool) -> tuple[float, float, float]:
    """Width, lowest and highest point of a text in parts of the height of its capitals."""
    (_, low), _, (right, high), _ = text_box(Text("", 0.0, 0.0, string, 1.0, bold=bold))
    return right, low, high


@lru_cache(maxsize=4096)
def _direction(rotation: float) -> tuple[float, float]:
    """Cosine and sine of a rotation in degrees."""
    return math.cos(math.radians(rotation)), math.sin(math.radians(rotation))


def box_of(mark: Mark, scale: float) -> Box:
    """The box of any mark; an insert counts by its place and its lettered attributes."""
    match mark:
        case Path():
            return nodes_box(mark.nodes, closed=mark.closed)
        case Fill():
            return nodes_box(mark.nodes, closed=True)
        case Text():
            return box_of_text(mark, scale)
        case Hatch(boundaries=boundaries):
            return nodes_box(boundaries[0], closed=True)
        case Dimension(parts=parts):
            return box_round(parts, scale)
        case Insert(x=x, y=y, attributes=attributes):
            texts = [box_of_text(a.text, scale) for a in attributes if a.text is not None]
            return joined([(x, y, x, y), *texts])


def box_round(marks: Iterable[Mark], scale: float) -> Box:
    """The box round all of the marks."""
    xs: list[float] = []
    ys: list[float] = []
    for mark in marks:
        for part in mark.parts if isinstance(mark, Dimension) else (mark,):
            if isinstance(part, _RUNS):
                nodes = part.nodes
                if len(nodes) == 2 and not nodes[0][2] and not nodes[1][2]:  # nearly all of a view
                    (x1, y1, _), (x2, y2, _) = nodes
                    xs += (x1, x2)
                    ys += (y1, y2)
                    continue
            left, bottom, right, top = box_of(part, scale)
            xs += (left, right)
            ys += (bottom, top)
    return min(xs), min(ys), max(xs), max(ys)


def grown(box: Box, by: float) -> Box:
    """The box with a margin all round."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def overlap(first: Box, second: Box) -> bool:
    """Whether two boxes share area."""
    return first[0] < second[2] and second[0] < first[2] and first[1] < second[3] and second[1] < first[3]


def texts_of(marks: Iterable[Mark]) -> Iterator[Text]:
    """Every text in the marks, those of dimensions and attributes too."""
    for mark in marks:
        match mark:
            case Text():
                yield mark
            case Dimension(parts=parts):
                yield from (part for part in parts if isinstance(part, Text))
            case Insert(attributes=attributes):
                yield from (a.text for a in attributes if a.text is not None)
            case _:
                pass


__all__ = ["Box", "box_of", "box_of_text", "box_round", "grown", "joined", "nodes_box", "overlap", "sides", "texts_of"]
