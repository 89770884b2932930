"""Labels on a picture that keep clear of one another: a label that would lie on another is left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.record.markup import Html
from outputs.record.pictures import LETTER, words

if TYPE_CHECKING:
    from geometry.outline.loop import Point

ADVANCE = 0.62
"""Mean advance of a figure as a share of the letter size."""


class Labels:
    """The boxes of the labels that have been put on one picture."""

    def __init__(self) -> None:
        self._taken: list[tuple[float, float, float, float]] = []

    def free(self, text: str, place: Point, anchor: str) -> bool:
        """Whether a label finds room."""
        box = self._box(text, place, anchor)
        return not any(box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in self._taken)

    def put(self, text: str, place: Point, anchor: str) -> Html:
        """The label, or nothing where another lies there already."""
        if not self.free(text, place, anchor):
            return Html("")
        self._taken.append(self._box(text, place, anchor))
        return words(text, place, anchor=anchor)

    @staticmethod
    def _box(text: str, place: Point, anchor: str) -> tuple[float, float, float, float]:
        width = len(text) * LETTER * ADVANCE + 0.8
        left = place.x - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
        return left, place.y - LETTER, left + width, place.y + 0.3
