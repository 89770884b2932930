"""Marks moved as they are: views are composed where they are measured and then set side by side in the model."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from outputs.sheet.entities import Attribute, Dimension, Fill, Hatch, Insert, Mark, Node, Path, Place, Text

AnyMark = TypeVar("AnyMark", Path, Fill, Text)


def _nodes(nodes: tuple[Node, ...], dx: float, dy: float) -> tuple[Node, ...]:
    return tuple((x + dx, y + dy, bulge) for x, y, bulge in nodes)


def _part(part: Path | Fill | Text, dx: float, dy: float) -> Path | Fill | Text:
    if isinstance(part, Text):
        return replace(part, x=part.x + dx, y=part.y + dy)
    return replace(part, nodes=_nodes(part.nodes, dx, dy))


def shifted(mark: Mark, dx: float, dy: float) -> Mark:
    """The mark moved by (dx, dy)."""

    def at(place: Place) -> Place:
        return place[0] + dx, place[1] + dy

    match mark:
        case Path() | Fill() | Text():
            return _part(mark, dx, dy)
        case Hatch():
            return replace(mark, boundaries=tuple(_nodes(nodes, dx, dy) for nodes in mark.boundaries))
        case Dimension():
            return replace(
                mark,
                first=at(mark.first),
                second=at(mark.second),
                on_line=at(mark.on_line),
                text_at=at(mark.text_at),
                parts=tuple(_part(part, dx, dy) for part in mark.parts),
            )
        case Insert():
            attributes = tuple(
                Attribute(a.tag, a.value, None if a.text is None else replace(a.text, x=a.text.x + dx, y=a.text.y + dy))
                for a in mark.attributes
            )
            return replace(mark, x=mark.x + dx, y=mark.y + dy, attributes=attributes)
