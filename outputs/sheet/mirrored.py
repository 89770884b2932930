"""Marks seen from the other side: left and right change places about the upright through the origin, and every text still reads.

A mirrored text fills the mirrored place of its capitals; a block must be the same on both sides of its own upright.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Mark, Node, Path, Place, Text

UPRIGHT = 90.0  # degrees
OTHER_END: dict[Literal["left", "middle", "right"], Literal["left", "middle", "right"]] = {
    "left": "right",
    "middle": "middle",
    "right": "left",
}


def mirrored(mark: Mark, scale: float) -> Mark:
    """The mark as seen from the other side; ``scale`` is paper / model."""
    match mark:
        case Path() | Fill() | Text():
            return _part(mark, scale)
        case Hatch(boundaries=boundaries):
            return replace(mark, boundaries=tuple(_nodes(nodes) for nodes in boundaries))
        case Dimension():
            given = before_mirror(mark, scale)
            return replace(
                mark,
                first=_place(mark.first),
                second=_place(mark.second),
                on_line=_place(mark.on_line),
                angle=_reading(mark.angle) if mark.kind == "linear" else 180.0 - mark.angle,
                text_at=_place(given.text_at),
                parts=tuple(_part(part, scale) for part in given.parts),
            )
        case Insert():
            attributes = tuple(
                attribute if attribute.text is None else replace(attribute, text=_text(attribute.text, scale))
                for attribute in mark.attributes
            )
            return replace(mark, x=-mark.x, rotation=0.0 - mark.rotation, attributes=attributes)


def _place(place: Place) -> Place:
    return -place[0], place[1]


def before_mirror(mark: Dimension, scale: float) -> Dimension:
    """A dimension with its figure where it must stand before the mirror turns the drawing.

    An upright figure is read from the right and stands over its line, which is to the left of it (ISO 129-1, from memory): in the mirror
    image too, so before it on the other side.
    """
    if mark.kind != "linear" or not math.isclose(abs(mark.angle), UPRIGHT):
        return mark
    line = mark.on_line[0]
    parts = tuple(
        replace(part, x=2 * line - part.x + math.copysign(part.height / scale, part.rotation)) if isinstance(part, Text) else part
        for part in mark.parts
    )
    return replace(mark, text_at=(2 * line - mark.text_at[0], mark.text_at[1]), parts=parts)


def _nodes(nodes: tuple[Node, ...]) -> tuple[Node, ...]:
    """The run the same way along, each bulge to the other side."""
    return tuple((-x, y, 0.0 - bulge) for x, y, bulge in nodes)


def _part(part: Path | Fill | Text, scale: float) -> Path | Fill | Text:
    return _text(part, scale) if isinstance(part, Text) else replace(part, nodes=_nodes(part.nodes))


def _reading(angle: float) -> float:
    """The mirrored direction of a text: an upright one is still read from the right."""
    return angle if math.isclose(abs(angle), UPRIGHT) else 0.0 - angle


def _text(text: Text, scale: float) -> Text:
    if math.isclose(abs(text.rotation), UPRIGHT):
        # read from the same side, its capitals where the mirror shows them: the base line changes to their other side
        return replace(text, x=-text.x + math.copysign(text.height / scale, text.rotation))
    return replace(text, x=-text.x, align=OTHER_END[text.align], rotation=0.0 - text.rotation)


__all__ = ["before_mirror", "mirrored"]
