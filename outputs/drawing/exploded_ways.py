"""Which way is what on an exploded view: arrows along the axes of its picture, from one foot, with their words.

Terms
-----
way
    OUTSIDE, UP or FWD, and the direction of the plan that it is. The bow has an arrow only where the job says where it lies, UP none on a
    light that lies level.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.solids.areas import together
from outputs.drawing.plan_arrows import NOT_GIVEN
from outputs.sheet.boxes import box_round, grown
from outputs.sheet.runs import circle, line, polar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Detail
    from outputs.drawing.exploded_view import ExplodedView
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

ANGLES = {"right": -30.0, "up": 90.0, "left": 150.0, "down": -90.0, "out of the plan": 210.0, "into the plan": 30.0}
"""Where a direction of the plan runs on an isometric picture (ISO 5456-3), degrees: X down to the right, Y up, outboard down to the left."""
LONG, FOOT, OFF_TIP = 9.0, 0.9, 1.6  # paper mm: an arrow, the ring at the foot, from the tip to the word
CLEAR = 2.5  # paper mm round arrows and words
STEP = 3.0  # paper mm between the places that are tried


def ways_of(detail: Detail) -> dict[str, str]:
    """The words of each direction of the plan that has some.

    Two ways that are one have one arrow: the bow of a light in the front of a deckhouse is OUTSIDE = FWD.
    """
    named = [("out of the plan", "OUTSIDE")]
    named += [] if detail.deck_light else [("up", "UP")]
    named += [] if detail.forward is None else [(detail.forward, "FWD")]
    found: dict[str, str] = {}
    for direction, word in named:
        found[direction] = f"{found[direction]} = {word}" if direction in found else word
    return found


def untold_ways(detail: Detail) -> str:
    """What is to be said of the ways that have no arrow; empty where each has one."""
    told = ["The light lies level."] if detail.deck_light else []
    return " ".join([*told, *([f"{NOT_GIVEN}."] if detail.forward is None else [])])


def ways_marks(detail: Detail, foot: Place, pencil: Pencil) -> list[Mark]:
    """The arrows from their foot on."""
    times = pencil.style.text / 2.5
    ring, long = pencil.paper(FOOT * times), pencil.paper(LONG * times)
    marks: list[Mark] = [circle("SEEN_OUTLINE", foot, ring)]
    for direction, words in ways_of(detail).items():
        angle = ANGLES[direction]
        tip = polar(foot, angle, long)
        marks += [line("SEEN_OUTLINE", polar(foot, angle, ring), tip), pencil.arrow("SEEN_OUTLINE", tip, angle)]
        along = math.cos(math.radians(angle))
        if abs(along) < 0.5:
            at = polar(tip, angle, pencil.paper(OFF_TIP * times + pencil.style.text / 2))
            marks.append(pencil.text("TEXT", at, words, align="middle", centred=True))
        else:
            at = polar(tip, angle, pencil.paper(OFF_TIP * times))
            marks.append(pencil.text("TEXT", at, words, align="left" if along > 0 else "right", centred=True))
    return marks


def ways(view: ExplodedView, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """The arrows clear of all ink and of every part, as near as can be to the lower right of what ``room`` keeps to, under the slope of
    the view; what becomes of them is told to it. It has to keep to a box.
    """
    from shapely import box, prepare

    every = together([shape for shape in view.silhouettes if not shape.is_empty], 0.001 / pencil.scale)
    prepare(every)
    own = box_round(ways_marks(view.detail, (0.0, 0.0), pencil), pencil.scale)
    clear = pencil.paper(CLEAR * pencil.style.text / 2.5)
    for x, y in _feet(room, grown(own, clear), pencil.paper(STEP)):
        taken = grown((own[0] + x, own[1] + y, own[2] + x, own[3] + y), clear)
        if room.free(taken) and not every.intersects(box(*taken)):
            marks = ways_marks(view.detail, (x, y), pencil)
            room.add(marks)
            room.drawn("ways")
            return marks
    room.left_out("ways", "no free place on the view")
    return []


def _feet(room: KeepClear, own: tuple[float, float, float, float], step: float) -> Iterator[Place]:
    """Feet from the lower right corner of the room on."""
    if room.within is None:
        return
    left, low, right, high = room.within
    left, low, right, high = left - own[0], low - own[1] + step, right - own[2] - step, high - own[3]
    across, up = int((right - left) / step), int((high - low) / step)
    places = [(right - i * step, low + j * step) for i in range(across + 1) for j in range(up + 1)]
    yield from sorted(places, key=lambda at: (round(math.hypot(right - at[0], at[1] - low), 6), at))


__all__ = ["ANGLES", "untold_ways", "ways", "ways_marks", "ways_of"]
