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
            return replace(
                mark,
                first=_place(mark.first),
                second=_place(mark.second),
                on_line=_place(mark.on_line),
                angle=_reading(mark.angle) if mark.kind == "linear" else 180.0 - mark.angle,
                text_at=_place(mark.text_at),
                parts=tuple(_part(part, scale) for part in mark.parts),
            )
        case Insert():
            attributes = tuple(
                attribute if attribute.text is None else replace(attribute, text=_text(attribute.text, scale))
                for attribute in mark.attributes
            )
            return replace(mark, x=-mark.x, rotation=0.0 - mark.rotation, attributes=attributes)


def _place(place: Place) -> Place:
    return -place[0], place[1]


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
