"""The arrows of the plan, up the pane and to the bow, in the daylight, or beside a small pane."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from geometry.outline import Point, point_in
from outputs.sheet.boxes import box_round, grown
from outputs.sheet.runs import circle, line, polar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Detail
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

LONG = 8.0  # paper mm, of an arrow
TURNS = {"right": 0.0, "up": 90.0, "left": 180.0, "down": 270.0}
NOT_GIVEN = "FWD not given"
"""A bow out of or into the plan has no arrow in it; words say so."""


def bow_words(forward: str | None) -> str:
    """What stands where no arrow can: a bow out of or into the plan, or that nothing was given.

    >>> bow_words("into the plan"), bow_words(None)
    ('FWD into the plan', 'FWD not given')
    """
    return NOT_GIVEN if forward is None else f"FWD {forward}"


class PlanArrows:
    """Finds room for the arrows; ``marks`` is what was drawn. ``box`` is that of pane and recess together, ``beside``: beside the pane
    is more room than it needs.
    """

    def __init__(self, detail: Detail, pencil: Pencil, placer: KeepClear, box: Box, *, beside: bool = False) -> None:
        self.detail, self.pencil, self.placer, self.box, self.beside = detail, pencil, placer, box, beside
        self.marks: list[Mark] = []

    def place(self) -> None:
        """Put up both arrows from one foot; a deck light has none that points up."""
        inside, beside = self._spots_inside(), self._spots_beside()
        for at in chain(beside, inside) if self.beside else chain(inside, beside):
            marks = self._arrows(at)
            if self.placer.free(grown(box_round(marks, self.pencil.scale), self.pencil.paper(1.0))):
                self.marks += marks
                self.placer.add(marks)
                self.placer.block(box_round(marks, self.pencil.scale))
                self.placer.drawn("arrows")
                return
        self.placer.left_out("arrows", "no room in the daylight nor beside the pane")

    def _arrows(self, at: Place) -> list[Mark]:
        pencil = self.pencil
        marks: list[Mark] = [circle("SEEN_OUTLINE", at, pencil.paper(0.9))]
        turns = [] if self.detail.deck_light else [(90.0, "UP")]
        forward = TURNS.get(self.detail.forward or "")
        if forward is not None:
            turns = [each for each in turns if each[0] != forward] + [
                (forward, "UP = FWD" if (forward, "UP") in turns else "FWD")
            ]
        else:
            foot = (at[0] + pencil.paper(2.2), at[1])
            marks.append(pencil.text("TEXT", foot, bow_words(self.detail.forward), centred=True))
        for turn, words in turns:
            tip = polar(at, turn, pencil.paper(LONG))
            marks += [line("SEEN_OUTLINE", polar(at, turn, pencil.paper(0.9)), tip), pencil.arrow("SEEN_OUTLINE", tip, turn)]
            along = polar((0.0, 0.0), turn, 1.0)
            away = (
                pencil.width(words) / 2 * abs(along[0]) + pencil.paper(pencil.style.text / 2) * abs(along[1]) + pencil.paper(1.6)
            )
            marks.append(pencil.text("TEXT", polar(tip, turn, away), words, align="middle", centred=True))
        return marks

    def _spots_inside(self) -> Iterator[Place]:
        """Feet in the daylight, from right of the middle and below it on."""
        pencil, daylight = self.pencil, (self.detail.curves.sight_line, self.detail.curves.frit_inner)
        left, bottom, right, top = self.box
        wide, high = right - left, top - bottom
        spots = [
            (left + u * wide, bottom + v * high)
            for v in (0.6, 0.4, 0.7, 0.3, 0.5, 0.8, 0.2)
            for u in (0.68, 0.3, 0.6, 0.4, 0.5, 0.78, 0.2)
        ]
        reach = pencil.paper(LONG + 5.0)
        corners = ((0.0, 0.0), (reach, 0.0), (-reach, 0.0), (0.0, reach))
        return (
            spot
            for spot in spots
            if all(point_in(outline, Point(spot[0] + dx, spot[1] + dy)) for outline in daylight for dx, dy in corners)
        )

    def _spots_beside(self) -> list[Place]:
        """Feet beside the recess, at the right from the middle of its height on, where they part the white paper; then from its top on."""
        left, bottom, right, top = self.box
        step = self.pencil.paper(4.0)
        clear = self.pencil.paper(18.0 if self.detail.corners else 44.0)
        middle = (bottom + top) / 2 - self.pencil.paper(LONG / 2)
        rows = [
            *(middle + side * step * count for count in range(3) for side in (1.0, -1.0)),
            *(top - step * count for count in range(12)),
        ]
        return [(x, y) for x in (right + clear, right + clear * 1.4, left - clear, left - clear * 1.4) for y in rows]


__all__ = ["NOT_GIVEN", "TURNS", "PlanArrows", "bow_words"]
