"""Boxes: what room a mark takes, so that texts keep clear of one another and of lines.

A box is (left, bottom, right, top) in the coordinates of the marks it was taken from.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Mark, Node, Path, Text
from outputs.sheet.lettering import text_box
from outputs.sheet.runs import arc_between

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

Box = tuple[float, float, float, float]


def sides(nodes: tuple[Node, ...], *, closed: bool) -> Iterator[tuple[Node, Node]]:
    """The segments of a run, each as its two nodes."""
    yield from pairwise(nodes)
    if closed:
        yield nodes[-1], nodes[0]


def nodes_box(nodes: tuple[Node, ...], *, closed: bool) -> Box:
    """The box of a run with true arc extremes."""
    xs, ys = [n[0] for n in nodes], [n[1] for n in nodes]
    for start, end in sides(nodes, closed=closed):
        if start[2] == 0:
            continue
        arc = arc_between(start, end)
        (cx, cy), radius = arc.centre, arc.radius
        first = math.atan2(start[1] - cy, start[0] - cx)
        sweep = arc.sweep
        for quarter in range(4):
            turn = (quarter * math.pi / 2 - first) % (2 * math.pi)
            if sweep < 0:
                turn -= 2 * math.pi
            if abs(turn) <= abs(sweep):
                xs.append(cx + radius * math.cos(quarter * math.pi / 2))
                ys.append(cy + radius * math.sin(quarter * math.pi / 2))
    return min(xs), min(ys), max(xs), max(ys)


def joined(boxes: Iterable[Box]) -> Box:
    """The box round several boxes."""
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def box_of_text(text: Text, scale: float) -> Box:
    """The upright box round a text, turned or not."""
    corners = text_box(text, scale)
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    return min(xs), min(ys), max(xs), max(ys)


def box_of(mark: Mark, scale: float) -> Box:
    """The box of any mark; an insert counts by its place and its lettered attributes."""
    match mark:
        case Path(nodes=nodes, closed=closed):
            return nodes_box(nodes, closed=closed)
        case Fill(nodes=nodes):
            return nodes_box(nodes, closed=True)
        case Hatch(boundaries=boundaries):
            return nodes_box(boundaries[0], closed=True)
        case Text():
            return box_of_text(mark, scale)
        case Dimension(parts=parts):
            return joined(box_of(part, scale) for part in parts)
        case Insert(x=x, y=y, attributes=attributes):
            texts = [box_of_text(a.text, scale) for a in attributes if a.text is not None]
            return joined([(x, y, x, y), *texts])


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
