"""Flags of findings: a triangle with the number of the finding, filled where it fails, open where somebody has to look.

The same triangle stands in the table of flags and, with a leader, at the place on a view that the finding speaks of.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.entities import Fill
from outputs.sheet.keep_clear import facets
from outputs.sheet.runs import line, polar, run

if TYPE_CHECKING:
    from collections.abc import Iterable

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

SIDE, SMALL = 7.2, 4.3  # paper mm, of the triangle on a view and in the table
SHORTEST, LONGEST = 9.0, 60.0  # paper mm, of a leader
NO_PLACE = "no free place on the view"


@dataclass(frozen=True, slots=True)
class Flagged:
    """A flag before it has its place: its number, whether the finding fails, and the place it speaks of (mm of its view)."""

    number: int
    fails: bool
    place: Place


def triangle(number: int, *, fails: bool, middle: Place, pencil: Pencil, side: float = SIDE) -> list[Mark]:
    """The triangle about its middle (a third of its height over its foot); the small one of the table carries no number."""
    corners = [polar(middle, 90.0 + turn, pencil.paper(side * 0.577)) for turn in (0.0, 120.0, 240.0)]
    marks: list[Mark] = [run("FLAGS", corners, closed=True)]
    if fails:
        marks.append(Fill("FLAGS", tuple((x, y, 0.0) for x, y in corners)))
    if side >= SIDE:
        at = polar(middle, -90.0, pencil.paper(side * 0.04))
        layer = "FLAG_FIGURES" if fails else "FLAGS"
        marks.append(pencil.text(layer, at, str(number), height=pencil.style.text, align="middle", centred=True))
    return marks


def area_of(middle: Place, pencil: Pencil, side: float = SIDE) -> Box:
    """The box of a triangle."""
    size = pencil.paper(side)
    return middle[0] - size / 2, middle[1] - size * 0.289, middle[0] + size / 2, middle[1] + size * 0.577


def placed_flag(flag: Flagged, spots: Iterable[Place], pencil: Pencil, room: KeepClear) -> list[Mark]:
    """The flag at the first of the spots where its triangle is free and its leader runs through no text and over no other leader."""
    what = f"flag {flag.number}"
    for spot in spots:
        if not room.free(area_of(spot, pencil)):
            continue
        leader = line("ITEM_LEADERS", _foot(spot, flag.place, pencil), flag.place)
        if room.clear_of_texts((leader,)) and room.leads(leader):
            marks: list[Mark] = [*triangle(flag.number, fails=flag.fails, middle=spot, pencil=pencil), leader]
            room.add(marks)
            room.block(area_of(spot, pencil))
            room.lead(leader)
            room.drawn(what)
            return marks
    room.tabled(what, NO_PLACE)
    return []


def standing_flag(flag: Flagged, spots: Iterable[Place], pencil: Pencil, room: KeepClear) -> list[Mark]:
    """A flag without a leader, beside the figure that it speaks of."""
    for spot in spots:
        if room.free(area_of(spot, pencil)):
            marks = triangle(flag.number, fails=flag.fails, middle=spot, pencil=pencil)
            room.add(marks)
            room.block(area_of(spot, pencil))
            room.drawn(f"flag {flag.number}")
            return marks
    room.tabled(f"flag {flag.number}", NO_PLACE)
    return []


def round_about(
    place: Place, pencil: Pencil, *, first: float = SHORTEST, last: float = LONGEST, start: float = 45.0
) -> list[Place]:
    """Spots for a flag round a place, the nearest first, from a direction (degrees) on to both sides of it."""
    spots = []
    reach = first
    while reach <= last:
        for turn in (0, 15, -15, 30, -30, 45, -45, 60, -60, 90, -90, 120, -120, 150, -150, 180):
            spots.append(polar(place, start + turn, pencil.paper(reach)))
        reach += 4.0
    return spots


def _foot(spot: Place, place: Place, pencil: Pencil) -> Place:
    """Where the leader leaves the triangle: on the side that looks to the place."""
    corners = [polar(spot, 90.0 + turn, pencil.paper(SIDE * 0.577)) for turn in (0.0, 120.0, 240.0)]
    found = spot
    for x1, y1, x2, y2 in facets(tuple((x, y, 0.0) for x, y in corners), closed=True):
        dx, dy = place[0] - spot[0], place[1] - spot[1]
        ex, ey = x2 - x1, y2 - y1
        across = dx * ey - dy * ex
        if across == 0:
            continue
        along = ((x1 - spot[0]) * ey - (y1 - spot[1]) * ex) / across
        share = ((x1 - spot[0]) * dy - (y1 - spot[1]) * dx) / across
        if along > 0.0 and -1e-9 <= share <= 1.0 + 1e-9:
            found = (spot[0] + along * dx, spot[1] + along * dy)
    return found


__all__ = ["SIDE", "SMALL", "Flagged", "area_of", "placed_flag", "round_about", "standing_flag", "triangle"]
