"""The arrows of the plan, up the pane and to the bow, with the side it is seen from: in the daylight, or beside a narrow pane."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point, point_in
from outputs.sheet.boxes import box_of_text
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil


class PlanArrows:
    """Finds room for the arrows; ``marks`` is what was drawn. ``box`` is that of pane and recess together."""

    def __init__(self, detail: Detail, pencil: Pencil, placer: KeepClear, box: Box, *, seen_from: str) -> None:
        self.detail, self.pencil, self.placer, self.box, self.seen_from = detail, pencil, placer, box, seen_from.upper()
        self.marks: list[Mark] = []

    def place(self) -> None:
        """Put up the arrow that points up the pane (none on a deck light) and, where it is known, the one to the bow."""
        side = self.seen_from
        if not self.detail.deck_light:
            up = (("UP", f"viewed from {side}"), ("UP",))
            self._tell("up arrow", found=self._arrow(90.0, *up) or self._arrow(90.0, *up, beside=True))
        else:
            seen = ((f"viewed from {side}",), (f"from {side}",))
            self._tell("side it is seen from", found=self._arrow(None, *seen))
        turn = {"right": 0.0, "up": 90.0, "left": 180.0, "down": 270.0}.get(self.detail.forward or "")
        if turn is not None:  # a bow out of or into the plan has no arrow in it
            self._tell("forward arrow", found=self._arrow(turn, ("FWD",)) or self._arrow(turn, ("FWD",), beside=True))

    def _tell(self, what: str, *, found: bool) -> None:
        if found:
            self.placer.drawn(what)
        else:
            self.placer.left_out(what, "no room in the daylight nor beside the pane")

    def _arrow(self, angle: float | None, *wordings: tuple[str, ...], beside: bool = False) -> bool:
        """An arrow with words to its right; the fullest wording that finds room. No arrow where angle is None.

        It stands in the daylight, or ``beside`` the pane, within the height and width of its recess or to the right of it.
        """
        pencil, centre = self.pencil, self.detail.centroid
        spots = self._spots_beside() if beside else _spiral(60)
        for words, size in [(words, size) for words in wordings for size in (14.0, 8.0)]:
            along = (0.0, 0.0) if angle is None else polar((0.0, 0.0), angle, size)
            left, right = min(0.0, along[0]), max(0.0, along[0])
            low, high = min(0.0, along[1], -2.0 * len(words)), max(0.0, along[1], 2.0 * len(words))
            for dx, dy in spots:
                x, y = centre.x + pencil.paper(dx), centre.y + pencil.paper(dy)
                texts = [
                    pencil.text(
                        "TEXT",
                        (
                            x + pencil.paper(right + 3.0),
                            y + pencil.paper((low + high) / 2 + 2.3 * (len(words) - 1) - 4.6 * index),
                        ),
                        string,
                        centred=True,
                    )
                    for index, string in enumerate(words)
                ]
                box = (
                    x + pencil.paper(left - 2.0),
                    y + pencil.paper(low - 1.0),
                    max(box_of_text(text, pencil.scale)[2] for text in texts) + pencil.paper(1.0),
                    y + pencil.paper(high + 1.0),
                )
                if self.placer.free(box) and (self._beside(box) if beside else self._inside_daylight(box)):
                    tip = (x + pencil.paper(along[0]), y + pencil.paper(along[1]))
                    arrow: list[Mark] = []
                    if angle is not None:
                        arrow = [line("SEEN_OUTLINE", (x, y), tip), pencil.arrow("SEEN_OUTLINE", tip, angle, size=4.0)]
                    self.marks += [*arrow, *texts]
                    self.placer.add([*arrow, *texts])
                    return True
        return False

    def _spots_beside(self) -> list[Place]:
        """Places over the box of the recess and to its right, paper mm from the centroid, from the upper left on."""
        centre, one = self.detail.centroid, self.pencil.scale
        left, right = (self.box[0] - centre.x) * one, (self.box[2] - centre.x) * one
        low, high = (self.box[1] - centre.y) * one, (self.box[3] - centre.y) * one
        across, down = math.ceil((right + 40.0 - left) / 6.0), math.ceil((high - low) / 6.0)
        return [(left + 6.0 * column, high - 6.0 * row) for column in range(across + 1) for row in range(1, down + 1)]

    def _beside(self, box: tuple[float, float, float, float]) -> bool:
        inside = any(point_in(self.detail.curves.recess, Point(x, y)) for x in (box[0], box[2]) for y in (box[1], box[3]))
        return not inside and box[3] <= self.box[3]

    def _inside_daylight(self, box: tuple[float, float, float, float]) -> bool:
        curves = self.detail.curves
        return all(
            point_in(outline, Point(x, y))
            for outline in (curves.sight_line, curves.frit_inner)
            for x in (box[0], box[2])
            for y in (box[1], box[3])
        )


def _spiral(steps: int) -> list[Place]:
    """Places round the origin, nearest first, paper mm: where a free mark may stand."""
    places = [(0.0, 6.0)]
    for ring in range(1, steps // 6 + 1):
        for turn in range(0, 360, 30):
            places.append(polar((0.0, 0.0), 90.0 + turn, 8.0 * ring))
    return places


__all__ = ["PlanArrows"]
