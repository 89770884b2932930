"""The cutting planes of the sections on the plan: their ends, their arrows and their letters.

Terms
-----
end
    The wide stroke of a cutting plane outside the recess, or inside the ring of joint, landing and frit, with its arrow.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point, ray_length
from outputs.drawing.plan_options import NO_ROOM
from outputs.sheet.entities import Path
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Section
    from outputs.drawing.plan_ink import PlanInk
    from outputs.sheet.entities import Mark, Place, Text

__all__ = ["CuttingPlanes"]


OUTSIDE, INSIDE = 1.2, 2.0  # paper mm from the recess, and from the ring, to the end of a cutting plane
LONG = 3.4  # paper mm, length of an end
ARROW_LINE = 5.0  # paper mm
CLOSE = 1.2  # of its height, from an end to the middle of its letter where that reads at once
LETTER_GAP = 1.6  # paper mm


class CuttingPlanes:
    """Sets them out."""

    def __init__(self, ink: PlanInk) -> None:
        self.ink = ink

    def ends(self, section: Section) -> list[tuple[str, list[Place]]]:
        """Draw both ends of a plane; the letters follow when all lines stand: each with the places where it may stand, the best first."""
        station = section.station
        outward = station.outward
        inward = Point(-outward.x, -outward.y)
        outer, inner = self.ink.outer(station.point, outward), self.ink.inner(station.point, inward)
        ends = [self._end(section, outward, outer + self.ink.pencil.paper(OUTSIDE))]
        self.ink.put(ends[0][0])
        second = self._end(section, inward, inner + self.ink.pencil.paper(INSIDE))
        if not self._lettered(section, second):
            # where the daylight is too narrow for the letter, the plane runs on through the pane to beyond its other edge
            across = ray_length(self.ink.detail.curves.recess, _moved(station.point, inward, inner + 1.0), inward)
            if across is not None:
                beyond = self._end(section, inward, inner + 1.0 + across + self.ink.pencil.paper(OUTSIDE))
                second = beyond if self._lettered(section, beyond) else second
        self.ink.put(second[0])
        ends.append(second)
        return [(section.letter, spots) for _, spots in ends]

    def _end(self, section: Section, out: Point, reach: float) -> tuple[list[Mark], list[Place]]:
        """One end at a distance from the edge of the glass: its marks, and the places of its letter, the best first."""
        pencil, station = self.ink.pencil, section.station
        view = math.degrees(math.atan2(-station.tangent.y, -station.tangent.x))
        away = math.degrees(math.atan2(out.y, out.x))
        near = polar(station.point, away, reach)
        far = polar(near, away, pencil.paper(LONG))
        tip = polar(far, view, pencil.paper(ARROW_LINE))
        marks: list[Mark] = [
            line("SECTION_MARKS", near, far),
            line("DIMENSIONS", far, tip),
            pencil.arrow("SECTION_MARKS", tip, view),
        ]
        half_wide, half_high = pencil.width(section.letter, pencil.style.title) / 2, pencil.paper(pencil.style.title / 2)
        along = polar((0.0, 0.0), view, 1.0)
        clear = abs(along[0]) * half_wide + abs(along[1]) * half_high + pencil.paper(LETTER_GAP)
        beside = abs(along[1]) * half_wide + abs(along[0]) * half_high + pencil.paper(1.2)
        spots = [polar(tip, view, clear)]
        spots += [polar(polar(tip, view, clear), away, pencil.paper(shift)) for shift in (1.5, -1.5, 3.0, -3.0)]
        spots += [polar(polar(far, view, pencil.paper(2.5)), away, beside), polar(polar(far, view + 180.0, clear), away, 0.0)]
        spots += [
            polar(tip, view + turn, clear * more)
            for more in (1.4, 1.9, 2.5, 3.2, 4.0)
            for turn in (0, 45, -45, 90, -90, 135, -135)
        ]
        # in a narrow pane: beyond the end of the stroke, or close round it
        spots += [polar(far, away + turn, clear * more) for more in (1.0, 1.3, 1.7) for turn in range(0, 360, 15)]
        return marks, spots

    def _lettered(self, section: Section, end: tuple[list[Mark], list[Place]]) -> bool:
        """Whether an end runs through no text and its letter has room close by."""
        trial = self.ink.placer.copy()
        marks, spots = end
        if not trial.clear_of_texts(marks):
            return False
        trial.add(marks)
        stroke, arrow_line, *_ = marks
        ends = [node[:2] for mark in (stroke, arrow_line) if isinstance(mark, Path) for node in mark.nodes]
        close = self.ink.pencil.paper(CLOSE * self.ink.pencil.style.title)
        near = [spot for spot in spots if min(math.dist(spot, end) for end in ends) < close]
        return trial.first_free(self._letters(section.letter, near)) is not None

    def _letters(self, letter: str, spots: list[Place]) -> Iterator[Text]:
        pencil = self.ink.pencil
        for spot in spots:
            yield pencil.text("SECTION_MARKS", spot, letter, height=pencil.style.title, align="middle", centred=True)

    def letter(self, letter: str, spots: list[Place]) -> None:
        """The letter at one end of a plane."""
        if not self.ink.name(self._letters(letter, spots), f"letter {letter} of a cutting plane"):
            self.ink.placer.left_out(f"letter {letter} of a cutting plane", NO_ROOM)


def _moved(place: Point, way: Point, far: float) -> Point:
    return Point(place.x + far * way.x, place.y + far * way.y)
