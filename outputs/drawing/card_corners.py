"""Numbers of the corners on the pictures of the fitter's card: each in its ring at its own corner.

A number that finds no place nearer to its corner than to any other stands farther off, and a leader brings it there.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import chain
from typing import TYPE_CHECKING

from outputs.drawing.card_fit import lies_inside
from outputs.drawing.card_hand import numbered
from outputs.drawing.card_room import leads_clear, round_about, standing
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Corner, Outline, Point
    from outputs.drawing.card_fit import Fit
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear

SIZES = ((3.8, 2.2), (3.5, 1.5), (3.5, 1.0))
"""Half the square that a number takes, and what it keeps from other texts, paper mm, tried in turn."""
RING = 3.6
NEAR, PLAIN_NEAR = 24.0, 0.6
"""Paper mm, and share of the way to any other corner, up to which a number inside its corner is preferred to one outside it: farther in,
nobody sees which corner it means.
"""


def corner_marks(detail: Detail, fit: Fit, room: KeepClear, places_of: Callable[[Place, Place], Sequence[Place]]) -> list[Mark]:
    """The number of each corner; ``places_of`` gives the places tried first, from the corner and the direction out of it."""
    sharp = [fit.at((corner.theoretical.x, corner.theoretical.y)) for corner in detail.corners]
    marks: list[Mark] = []
    for corner, at in zip(detail.corners, sharp, strict=True):
        outward = fit.way((-corner.bisector.x, -corner.bisector.y))
        marks += _numbered(corner, at, places_of(at, outward), sharp, room, SIZES[2:])
    return marks


def corner_numbers(detail: Detail, fit: Fit, outline: Outline, room: KeepClear, *, first: float = 9.0) -> list[Mark]:
    """The number of each corner inside it, else about it, as near to it as is clear; a convex corner may have it farther along either side."""
    sharp = [fit.at((corner.theoretical.x, corner.theoretical.y)) for corner in detail.corners]
    marks: list[Mark] = []
    for corner, at in zip(detail.corners, sharp, strict=True):
        tried = _inner_places(corner, at, fit, first)
        marks += _numbered(corner, at, tried, sharp, room, SIZES[:2], inside=outline)
    return marks


def _numbered(
    corner: Corner,
    at: Place,
    places: Sequence[Place],
    sharp: list[Place],
    room: KeepClear,
    sizes: tuple[tuple[float, float], ...],
    *,
    inside: Outline | None = None,
) -> list[Mark]:
    """A number in its ring at the first of the places, those ``inside`` an outline where that is asked, or about its corner, else led to it.

    It is clear there, and nearer to its own corner than to any other.
    """
    name = f"corner {corner.number}"
    near: list[Place] = []
    far: list[Place] = []
    for place in places if inside is None else (place for place in places if lies_inside(inside, place)):
        plain = math.dist(place, at) <= NEAR and at_its_corner(place, at, sharp, share=PLAIN_NEAR)
        (near if plain else far).append(place)
    for half, apart in sizes:
        for place in chain(near, around(at), far):
            if at_its_corner(place, at, sharp) and room.free(square(place, half), apart=apart):
                return _told(name, numbered(place, corner.number), room)
    for crossing in (False, True):  # a leader that crosses no line first
        for place in round_about(at):
            long = math.dist(at, place)
            if long < RING + 3.0 or not room.free(square(place, RING), apart=1.0):
                continue
            start, end = (
                (at[0] + share * (place[0] - at[0]), at[1] + share * (place[1] - at[1]))
                for share in (1.0 / long, 1.0 - RING / long)
            )
            leader: list[Mark] = [line("DIMENSIONS", start, end)]
            if room.clear_of_texts(leader) if crossing else leads_clear(leader, room):
                return _told(name, [*numbered(place, corner.number), *leader], room)
    room.left_out(name, "the picture has no room for it")
    return []


def _told(name: str, found: list[Mark], room: KeepClear) -> list[Mark]:
    room.add(standing(found))
    room.drawn(name)
    return found


def _inner_places(corner: Corner, at: Place, fit: Fit, first: float) -> list[Place]:
    """Places inside a convex corner, square off its sides; about a re-entrant one along its bisector."""
    x, y = at
    if not corner.convex:
        dx, dy = fit.way((corner.bisector.x, corner.bisector.y))
        return [(x + (7.0 + 0.7 * step) * dx, y + (7.0 + 0.7 * step) * dy) for step in range(20)]
    ways = [
        fit.way((end.x - corner.theoretical.x, end.y - corner.theoretical.y))
        for end in (_beyond(corner, before=True), _beyond(corner, before=False))
    ]
    steps = sorted(((a, b) for a in range(24) for b in range(24)), key=lambda step: (max(step) + 0.3 * min(step), step))
    across = max(0.35, abs(ways[0][0] * ways[1][1] - ways[0][1] * ways[1][0]))
    reaches = [((first + a) / across, (first + b) / across) for a, b in steps]
    return [(x + a * ways[0][0] + b * ways[1][0], y + a * ways[0][1] + b * ways[1][1]) for a, b in reaches]


@cache
def _steps_about() -> tuple[tuple[int, int], ...]:
    return tuple(sorted(((a, b) for a in range(-22, 23) for b in range(-22, 23)), key=lambda step: (math.hypot(*step), step)))


def around(corner: Place) -> Iterator[Place]:
    """Places about a corner, inside and outside, the nearest first."""
    return ((corner[0] + a, corner[1] + b) for a, b in _steps_about())


def square(centre: Place, half: float) -> Box:
    """The box about a place."""
    return (centre[0] - half, centre[1] - half, centre[0] + half, centre[1] + half)


def at_its_corner(place: Place, own: Place, corners: list[Place], *, share: float = 0.9) -> bool:
    """Whether a place is clearly nearer to its own corner than to any other: at most ``share`` as far.

    >>> at_its_corner((3.0, 0.0), (0.0, 0.0), [(0.0, 0.0), (10.0, 0.0)])
    True
    >>> at_its_corner((4.9, 0.0), (0.0, 0.0), [(0.0, 0.0), (10.0, 0.0)])
    False
    """
    return all(math.dist(place, own) <= share * math.dist(place, other) for other in corners if other != own)


def _beyond(corner: Corner, *, before: bool) -> Point:
    """A place on one side of a corner, far enough from its sharp point to give the side's direction."""
    from geometry.outline import Point

    sharp, (bx, by) = corner.theoretical, corner.bisector
    turn = math.radians(corner.interior_angle / 2) * (1.0 if before else -1.0)
    return Point(sharp.x + bx * math.cos(turn) - by * math.sin(turn), sharp.y + by * math.cos(turn) + bx * math.sin(turn))


__all__ = ["around", "at_its_corner", "corner_marks", "corner_numbers", "square"]
