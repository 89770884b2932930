"""The cutting planes of the sections on the plan: their ends, their arrows and their letters.

Terms
-----
end
    The wide stroke of a cutting plane outside the recess, or inside the ring of joint, landing and frit, with its arrow.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point
from outputs.drawing.plan_options import NO_ROOM
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.detail.parts import Section
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

__all__ = ["CuttingPlanes"]


OUTSIDE, INSIDE = 1.2, 2.0  # paper mm from the recess, and from the ring, to the end of a cutting plane
LONG = 3.4  # paper mm, length of an end
ARROW_LINE = 5.0  # paper mm
LETTER_GAP = 1.6  # paper mm


class CuttingPlanes:
    """Sets them out. ``inner`` and ``outer`` tell how far the ring reaches from a place of the glass edge; ``put`` takes the marks."""

    def __init__(
        self,
        pencil: Pencil,
        placer: KeepClear,
        reaches: tuple[Callable[[Point, Point], float], Callable[[Point, Point], float]],
        put: Callable[[list[Mark]], None],
    ) -> None:
        self.pencil, self.placer = pencil, placer
        self._inner, self._outer = reaches
        self._put = put

    def ends(self, section: Section) -> list[tuple[str, list[Place]]]:
        """Draw both ends of a plane; the letters follow when all lines stand: each with the places where it may stand, the best first."""
        pencil, station = self.pencil, section.station
        outward = station.outward
        inward = Point(-outward.x, -outward.y)
        view = math.degrees(math.atan2(-station.tangent.y, -station.tangent.x))
        letters: list[tuple[str, list[Place]]] = []
        for reach, gap, out in (
            (self._outer(station.point, outward), OUTSIDE, outward),
            (self._inner(station.point, inward), INSIDE, inward),
        ):
            away = math.degrees(math.atan2(out.y, out.x))
            near = polar(station.point, away, reach + pencil.paper(gap))
            far = polar(near, away, pencil.paper(LONG))
            tip = polar(far, view, pencil.paper(ARROW_LINE))
            marks: list[Mark] = [
                line("SECTION_MARKS", near, far),
                line("DIMENSIONS", far, tip),
                pencil.arrow("SECTION_MARKS", tip, view),
            ]
            self._put(marks)
            half_wide, half_high = pencil.width(section.letter, pencil.style.title) / 2, pencil.paper(pencil.style.title / 2)
            along = polar((0.0, 0.0), view, 1.0)
            clear = abs(along[0]) * half_wide + abs(along[1]) * half_high + pencil.paper(LETTER_GAP)
            beside = abs(along[1]) * half_wide + abs(along[0]) * half_high + pencil.paper(1.2)
            spots = [polar(tip, view, clear)]
            spots += [polar(polar(tip, view, clear), away, pencil.paper(shift)) for shift in (1.5, -1.5, 3.0, -3.0)]
            spots += [polar(polar(far, view, pencil.paper(2.5)), away, beside), polar(polar(far, view + 180.0, clear), away, 0.0)]
            spots += [
                polar(tip, view + turn, clear * more) for more in (1.4, 1.9, 2.5) for turn in (0, 45, -45, 90, -90, 135, -135)
            ]
            # in a narrow pane: beyond the end of the stroke, or close round it
            spots += [polar(far, away + turn, clear * more) for more in (1.0, 1.3, 1.7) for turn in range(0, 360, 15)]
            letters.append((section.letter, spots))
        return letters

    def letter(self, letter: str, spots: list[Place]) -> None:
        """The letter at one end of a plane."""
        pencil = self.pencil
        texts = (
            pencil.text("SECTION_MARKS", spot, letter, height=pencil.style.title, align="middle", centred=True) for spot in spots
        )
        chosen = self.placer.first_free(texts)
        if chosen is None:
            self.placer.left_out(f"letter {letter} of a cutting plane", NO_ROOM)
        else:
            self.placer.drawn(f"letter {letter} of a cutting plane")
            self._put([chosen])
