"""Marks moved as they are: views are composed where they are measured and then set side by side in the model."""

from __future__ import annotations

from typing import TypeVar

from outputs.sheet.entities import Attribute, Dimension, Fill, Hatch, Insert, Mark, Node, Path, Text

AnyMark = TypeVar("AnyMark", Path, Fill, Text)


def _nodes(nodes: tuple[Node, ...], dx: float, dy: float) -> tuple[Node, ...]:
    return tuple([(x + dx, y + dy, bulge) for x, y, bulge in nodes])


def _part(part: Path | Fill | Text, dx: float, dy: float) -> Path | Fill | Text:
    if isinstance(part, Text):
        return _text(part, dx, dy)
    nodes = tuple([(x + dx, y + dy, bulge) for x, y, bulge in part.nodes])
    return Path(part.layer, nodes, part.closed) if isinstance(part, Path) else Fill(part.layer, nodes)


def _text(text: Text, dx: float, dy: float) -> Text:
    return Text(text.layer, text.x + dx, text.y + dy, text.string, text.height, text.align, text.rotation, text.bold)


def shifted(mark: Mark, dx: float, dy: float) -> Mark:
    """The mark moved by (dx, dy)."""
    if isinstance(mark, Dimension):
        (x1, y1), (x2, y2), (x3, y3), (x4, y4) = mark.first, mark.second, mark.on_line, mark.text_at
        return Dimension(
            mark.layer,
            mark.kind,
            (x1 + dx, y1 + dy),
            (x2 + dx, y2 + dy),
            (x3 + dx, y3 + dy),
            mark.angle,
            mark.measured,
            mark.text,
            (x4 + dx, y4 + dy),
            tuple([_part(part, dx, dy) for part in mark.parts]),
        )
    if isinstance(mark, Hatch):
        return Hatch(mark.layer, mark.material, tuple([_nodes(nodes, dx, dy) for nodes in mark.boundaries]))
    if isinstance(mark, Insert):
        attributes = tuple(a if a.text is None else Attribute(a.tag, a.value, _text(a.text, dx, dy)) for a in mark.attributes)
        return Insert(mark.layer, mark.block, mark.x + dx, mark.y + dy, mark.rotation, attributes)
    return _part(mark, dx, dy)


__all__ = ["shifted"]
