"""Room in a view: which texts and lines stand already, while more is added to it.

Terms
-----
clear
    Paper mm that a text keeps from every other text and from every line.
leader
    A line from a note or a number to its part; no leader crosses another.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.boxes import Box, box_of_text, grown, overlap, texts_of
from outputs.drawing.placer import Straight, crosses, facets
from outputs.sheet.entities import Dimension, Fill, Mark, Path

if TYPE_CHECKING:
    from collections.abc import Iterable

    from outputs.sheet.entities import Place

CLEAR = 0.3


class Room:
    """The texts and lines of a view while it is composed."""

    def __init__(self, scale: float) -> None:
        self.scale = scale
        self.clear = CLEAR / scale
        self._texts: list[Box] = []
        self._straights: list[Straight] = []
        self._leaders: list[Straight] = []

    def add(self, marks: Iterable[Mark]) -> None:
        """Count marks as standing."""
        marks = tuple(marks)
        self._texts += self._boxes(marks)
        self._straights += _straights(marks)

    def copy(self) -> Room:
        """The same room, to try something in."""
        other = Room(self.scale)
        other._texts, other._straights, other._leaders = [*self._texts], [*self._straights], [*self._leaders]
        return other

    def block(self, box: Box) -> None:
        """Count a whole box as taken."""
        self._texts.append(box)

    def lead(self, leader: Path) -> None:
        """Count a line as a leader, which no other leader may cross."""
        self._leaders += facets(leader.nodes, closed=False)

    def leads(self, leader: Path) -> bool:
        """Whether a leader crosses no other one."""
        return not any(meet(one, other) for one in facets(leader.nodes, closed=False) for other in self._leaders)

    def free(self, box: Box) -> bool:
        """Whether a box touches nothing that stands."""
        wide = grown(box, self.clear)
        return not any(overlap(wide, other) for other in self._texts) and not any(crosses(wide, line) for line in self._straights)

    def lettered(self, box: Box) -> bool:
        """Whether a box touches a text."""
        wide = grown(box, self.clear)
        return any(overlap(wide, other) for other in self._texts)

    def written_over(self, start: Place, end: Place) -> int:
        """How many texts a straight line runs through."""
        return sum(1 for box in self._texts if crosses(grown(box, self.clear), (*start, *end)))

    def takes(self, marks: Iterable[Mark]) -> bool:
        """Whether the texts of the marks touch nothing that stands, and none of their lines runs through a text that stands."""
        marks = tuple(marks)
        if not all(self.free(box) for box in self._boxes(marks)):
            return False
        standing = [grown(box, self.clear) for box in self._texts]
        return not any(crosses(box, straight) for straight in _straights(marks) for box in standing)

    def _boxes(self, marks: tuple[Mark, ...]) -> list[Box]:
        return [box_of_text(text, self.scale) for text in texts_of(marks)]


def meet(one: Straight, other: Straight) -> bool:
    """Whether two straight lines cross."""

    def side(line: Straight, x: float, z: float) -> float:
        return (line[2] - line[0]) * (z - line[1]) - (line[3] - line[1]) * (x - line[0])

    return side(one, *other[:2]) * side(one, *other[2:]) < 0 and side(other, *one[:2]) * side(other, *one[2:]) < 0


def _straights(marks: Iterable[Mark]) -> list[Straight]:
    found: list[Straight] = []
    for mark in marks:
        match mark:
            case Path(nodes=nodes, closed=closed):
                found += facets(nodes, closed=closed)
            case Fill(nodes=nodes):
                found += facets(nodes, closed=True)
            case Dimension(parts=parts):
                found += _straights(parts)
            case _:
                pass
    return found
