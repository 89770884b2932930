"""What every placer of the plan works on: the detail, the pencil, the marks so far and the account of the room they leave.

Terms
-----
ring
    The strip of joint, landing and frit round the pane; the daylight inside it is kept for lettering.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.outline import Point, ray_length
from outputs.drawing.plan_options import NO_ROOM
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.detail.parts import Detail
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place, Text
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.outcomes import Planned
    from outputs.sheet.pencil import Pencil

LED = (9.0, 12.0, 15.0, 19.0, 23.0, 28.0)  # paper mm from a thing to its name at the end of a leader
TURNS = (0, 25, -25, 50, -50, 75, -75, 180, 155, -155, 130, -130)
AIR = 1.0  # paper mm between a leader and the name at its end


class PlanInk:
    """The plan while it is composed."""

    def __init__(self, detail: Detail, pencil: Pencil, placer: KeepClear) -> None:
        self.detail, self.pencil, self.placer = detail, pencil, placer
        self.marks: list[Mark] = []

    def put(self, marks: Iterable[Mark]) -> None:
        """Draw marks: they stand, and nothing else may run into them."""
        marks = list(marks)
        self.marks += marks
        self.placer.add(marks)

    def name(self, candidates: Iterable[Text], what: str, owns: Callable[[Point], bool] | None = None) -> bool:
        """Letter the first candidate that is free and, where ``owns`` is given, whose middle is nearest to the thing it names."""
        text = self.placer.first_free(candidates, fits=None if owns is None else lambda box: owns(_middle_of(box)))
        if text is None:
            return False
        self.placer.drawn(what)
        self.marks.append(text)
        return True

    def led_name(self, name: str, what: str, at: Place, start: float) -> bool:
        """Letter a name at the end of a leader to the thing it names, which has no room beside it; the first free spot round it."""
        pencil = self.pencil
        half = pencil.width(name) / 2
        for reach in LED:
            for turn in TURNS:
                spot = polar(at, start + turn, pencil.paper(reach))
                text = pencil.text("TEXT", spot, name, align="middle", centred=True)
                if not self.placer.takes((text,)):
                    continue
                along = polar((0.0, 0.0), start + turn, 1.0)
                short = abs(along[0]) * half + abs(along[1]) * pencil.paper(pencil.style.text / 2) + pencil.paper(AIR)
                leader = line("ITEM_LEADERS", polar(spot, start + turn + 180.0, short), at)
                if self.placer.clear_of_texts((leader,)) and self.placer.leads(leader):
                    self.put([text, leader])
                    self.placer.lead(leader)
                    self.placer.drawn(what)
                    return True
        return False

    def no_room(self, what: Planned) -> None:
        """Tell that something planned has no place on the plan."""
        self.placer.tabled(what, NO_ROOM)

    def inner(self, place: Point, inward: Point) -> float:
        """From a place on the glass edge inwards to the innermost line of the ring."""
        curves = self.detail.curves
        reaches = (ray_length(outline, place, inward) for outline in (curves.sight_line, curves.frit_inner, curves.bead_inner))
        return max(reach or 0.0 for reach in reaches)

    def outer(self, place: Point, outward: Point) -> float:
        """From a place on the glass edge outwards to the outermost of glass edge and recess wall."""
        return max(
            0.0,
            *(ray_length(outline, place, outward) or 0.0 for outline in (self.detail.curves.recess, self.detail.curves.glass)),
        )


def _middle_of(box: Box) -> Point:
    return Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


__all__ = ["PlanInk"]
