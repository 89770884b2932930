"""Flags of findings: a triangle with the number of the finding, filled where it fails, open where somebody has to look.

The same triangle stands in the table of flags and, with a leader, at the place on a view that the finding speaks of.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.entities import Fill
from outputs.sheet.keep_clear import facets
from outputs.sheet.outcomes import FlagNumber
from outputs.sheet.runs import circle, line, polar, run

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Path, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

SIDE, SMALL = 7.2, 4.3  # paper mm, of the triangle on a view and in the table
SHORTEST, LONGEST = 9.0, 60.0  # paper mm, of a leader
MOVED = 2.7  # paper mm, radius of the circle round the letter of a revision
JOINED = 1.7  # paper mm between flags that share a leader
POINTS_APART = 1.5  # paper mm from a leader to the place that another one points to, unless both point to one
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
    return placed_flags(((flag, spots),), pencil, room)


def placed_flags(flags: Iterable[tuple[Flagged, Iterable[Place]]], pencil: Pencil, room: KeepClear) -> list[Mark]:
    """Flags of one thing, each at the first of its spots that is free; one that finds none joins the leader of another.

    Flags that share a leader stand side by side or over one another, a short line between them.
    """
    marks: list[Mark] = []
    standing: list[tuple[Place, Place]] = []  # middle of each triangle, and the place its leader leads to
    for flag, spots in flags:
        what = FlagNumber(flag.number)
        found = _led(flag, spots, pencil, room) or _joined(standing, pencil, room)
        if found is None:
            room.tabled(what, NO_PLACE)
            continue
        spot, leader, place = found
        if math.dist(leader.nodes[-1][:2], flag.place) == 0.0:
            room.point(leader)
        drawn: list[Mark] = [*triangle(flag.number, fails=flag.fails, middle=spot, pencil=pencil), leader]
        room.add(drawn)
        room.block(area_of(spot, pencil))
        room.lead(leader)
        room.drawn(what)
        standing.append((spot, place))
        marks += drawn
    return marks


def _led(flag: Flagged, spots: Iterable[Place], pencil: Pencil, room: KeepClear) -> tuple[Place, Path, Place] | None:
    """Where a flag stands with a leader of its own; one that passes close by what another flag points to is the last choice."""
    second: tuple[Place, Path, Place] | None = None
    for spot, _ in room.those_free(spots, lambda spot: area_of(spot, pencil)):
        leader = line("ITEM_LEADERS", _foot(spot, flag.place, pencil), flag.place)
        if room.clear_of_texts((leader,)) and room.leads(leader):
            if room.points_apart(leader, pencil.paper(POINTS_APART)):
                return spot, leader, flag.place
            second = second or (spot, leader, flag.place)
    return second


def _joined(standing: Sequence[tuple[Place, Place]], pencil: Pencil, room: KeepClear) -> tuple[Place, Path, Place] | None:
    """Where a flag stands beside one that stands already, and the line between them."""
    apart = pencil.paper(JOINED)
    half, foot, top = pencil.paper(SIDE / 2), pencil.paper(SIDE * 0.289), pencil.paper(SIDE * 0.577)
    for (x, y), place in standing:
        for sign in (1.0, -1.0):
            beside, over = (x + sign * (2 * half + apart), y), (x, y + sign * (foot + top + apart))
            low = y - foot
            if room.free(area_of(beside, pencil)):
                return beside, line("ITEM_LEADERS", (x + sign * half, low), (beside[0] - sign * half, low)), place
            if room.free(area_of(over, pencil)):
                ends = (y + top, over[1] - foot) if sign > 0 else (low, over[1] + top)
                return over, line("ITEM_LEADERS", (x, ends[0]), (x, ends[1])), place
    return None


def moved_mark(letter: str, place: Place, spots: Iterable[Place], pencil: Pencil, room: KeepClear) -> list[Mark]:
    """The letter of a revision in a circle with a leader to the place that moved, at the first free spot; nothing where none is."""
    radius = pencil.paper(MOVED)
    for spot in spots:
        if not room.free((spot[0] - radius, spot[1] - radius, spot[0] + radius, spot[1] + radius)):
            continue
        way = math.degrees(math.atan2(place[1] - spot[1], place[0] - spot[0]))
        leader = line("ITEM_LEADERS", polar(spot, way, radius), place)
        if room.clear_of_texts((leader,)) and room.leads(leader):
            room.lead(leader)
            return [
                circle("FLAGS", spot, radius),
                pencil.text("FLAGS", spot, letter, height=pencil.style.text, align="middle", centred=True),
                leader,
            ]
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


__all__ = [
    "SIDE",
    "SMALL",
    "Flagged",
    "area_of",
    "moved_mark",
    "placed_flag",
    "placed_flags",
    "round_about",
    "triangle",
]
