"""The cutting lines of the sections on the plan: their ends, their arrows and their letters.

Terms
-----
end
    The wide stroke of a cutting line outside the recess, or inside the ring of joint, landing and frit, with its arrow.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point
from outputs.drawing.plan_options import NO_ROOM
from outputs.sheet.keep_clear import distance_of, straights_of
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.detail.parts import Section
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear, Straight
    from outputs.sheet.pencil import Pencil

__all__ = ["CuttingLines"]


MARK_REACH = 3.0  # paper mm between the recess and the outer end of a cutting line
MARK_END = 5.0  # paper mm, length of the wide ends of a cutting line
END_STEPS = (0.0, 4.0, 8.0, 12.0, 17.0, 23.0, 30.0, -2.0)  # paper mm by which an end may stand farther out to keep clear
END_CLEAR = 1.0  # paper mm between the ends of two cutting lines


class CuttingLines:
    """Sets them out. ``inner`` tells how far the ring reaches inwards from a place of the glass edge; ``put`` takes the marks."""

    def __init__(
        self, pencil: Pencil, placer: KeepClear, inner: Callable[[Point, Point], float], put: Callable[[list[Mark]], None]
    ) -> None:
        self.pencil, self.placer = pencil, placer
        self._inner, self._put = inner, put
        self._ends: list[Straight] = []  # the strokes of the ends that stand already

    def ends(self, section: Section) -> list[tuple[str, tuple[Place, ...]]]:
        """A cutting line: wide ends outside the recess and inside the ring, arrows in the direction of view; places of both letters."""
        pencil, style = self.pencil, self.pencil.style
        station = section.station
        inward = Point(-station.outward.x, -station.outward.y)
        outer = section.joint_width + pencil.paper(MARK_REACH)
        inner = self._inner(station.point, inward) + pencil.paper(MARK_REACH)
        view = math.degrees(math.atan2(-station.tangent.y, -station.tangent.x))
        outwards = math.degrees(math.atan2(station.outward.y, station.outward.x))
        letters: list[tuple[str, tuple[Place, ...]]] = []
        reaches: list[float] = []
        for reach, away in ((outer, outwards), (inner, outwards + 180.0)):
            # Beside a sharp corner planes come near each other: then an end stands farther along its own line.
            ends = [self._end(station.point, away, reach + pencil.paper(more), view) for more in END_STEPS]
            marks, (near, far, tip) = next((each for each in ends if self._clear_of_ends(each[0])), ends[0])
            reaches.append(math.dist(near, station.point))
            self._ends += straights_of(marks)
            self._put(marks)
            clear = pencil.paper(style.title * 0.65 + 1.0)
            spots: tuple[Place, ...] = (
                polar(tip, view, clear),
                polar(far, away, clear),
                polar(polar(tip, view, clear), away, clear),
                polar(far, view + 180.0, clear),
            )
            spots += tuple(
                polar(tip, view + turn, clear * more) for more in (1.7, 2.5) for turn in (0.0, 45.0, -45.0, 90.0, -90.0)
            )
            letters.append((section.letter, spots))
        narrow = polar(station.point, outwards + 180.0, reaches[1]), polar(station.point, outwards, reaches[0])
        self._put([line("CENTRE_LINES", *narrow)])
        return letters

    def _end(self, place: Place, away: float, reach: float, view: float) -> tuple[list[Mark], tuple[Place, Place, Place]]:
        """The wide end of a cutting line with its arrow, and where it begins, ends and points to."""
        pencil = self.pencil
        near = polar(place, away, reach)
        far = polar(near, away, pencil.paper(MARK_END))
        tip = polar(far, view, pencil.paper(2 * pencil.style.arrow))
        arrow = pencil.arrow("SECTION_MARKS", tip, view)
        return [line("SECTION_MARKS", near, far), line("DIMENSIONS", far, tip), arrow], (near, far, tip)

    def _clear_of_ends(self, marks: list[Mark]) -> bool:
        """Whether the end of a cutting line stands clear of those of the other planes."""
        clear = self.pencil.paper(END_CLEAR)
        return all(distance_of(one, other) >= clear for one in straights_of(marks) for other in self._ends)

    def letter(self, letter: str, spots: Iterable[Place]) -> None:
        """The letter at one end of a cutting line."""
        pencil, what = self.pencil, f"letter {letter} of a cutting plane"
        height = pencil.style.title
        texts = (pencil.text("TEXT", spot, letter, height=height, align="middle", centred=True) for spot in spots)
        chosen = self.placer.first_free(texts)
        if chosen is None:
            self.placer.left_out(what, NO_ROOM)
        else:
            self.placer.drawn(what)
            self._put([chosen])
