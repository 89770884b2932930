"""Walls of the recess and the running distances of the blocks along them, each from a wall that the fitter can touch.

Terms
-----
wall
    A stretch of the recess' edge: straight sides that go on almost in one line are one wall, a curve is one.
zero
    The face of the neighbouring wall: level walls count from the left, the others from below. A curve between straight walls counts from
    where it leaves the one before; a recess without straight walls counts along its wall from its lowest point, to either side.
row
    The running distances along one wall. On a straight wall the distance is measured along it to the neighbouring wall's face, carried on
    where the corner is round: a square, or a straight edge, held to that wall.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.edges import CHORD, edges_of, lowest_length, sides_of
from geometry.outline import nearest_station, perimeter, station_at

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.edges import Edge
    from geometry.detail.parts import Chock, Detail, Spacer
    from geometry.outline import Outline, Point, Station
    from outputs.sheet.entities import Place

ONE_WALL = math.radians(6.0)
"""Turn up to which two straight sides are one wall to the hand (own default)."""
NOSE = math.radians(40.0)
"""Angle between two walls below which neither counts from the other where it has another neighbour (own default)."""
LEVEL = 0.5
"""Sine of the slope up to which a wall counts from its left end."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A block on a wall: its mark, its running distance in mm, its foot on the wall and whether it is a chock.

    ``beside`` is True for a block in a corner arc, which stands on no straight wall and is told on both beside it.
    """

    mark: str
    distance: float
    foot: Place
    chock: bool
    beside: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """The running distances along one wall, from its zero. ``way`` is the unit vector along it, ``outward`` out of the recess.

    ``curved``: along a curve; ``reach`` is how far the farthest block stands. Of a recess without straight walls there are two rows, one
    to either side of the lowest point.
    """

    name: str
    zero: Place
    way: Place
    outward: Place
    ticks: tuple[Tick, ...]
    curved: bool = False
    clockwise: bool = False


@dataclass(frozen=True, slots=True)
class _Wall:
    """Straight sides in one line, and how far along the recess they begin and end."""

    sides: tuple[Edge, ...]
    begins: float
    ends: float

    @property
    def way(self) -> Place:
        first, last = self.sides[0], self.sides[-1]
        start, end = first.at(first.first), last.at(last.last)
        long = math.hypot(end.x - start.x, end.y - start.y)
        return (end.x - start.x) / long, (end.y - start.y) / long

    @property
    def place(self) -> Place:
        longest = max(self.sides, key=lambda side: side.straight)
        return longest.at(longest.middle)


def rows_of(detail: Detail) -> tuple[Row, ...]:
    """Every row of a pane: walls counter-clockwise, blocks in their order along each."""
    recess = detail.curves.recess
    walls = _walls(recess)
    if not walls:
        return tuple(_round_rows(detail))
    found: list[Row] = []
    for number, wall in enumerate(walls):
        before, after = walls[number - 1], walls[(number + 1) % len(walls)]
        row = _straight_row(detail, wall, before, after)
        if row is not None:
            found.append(row)
        curve = _curve_row(detail, wall, after)
        if curve is not None:
            found.append(curve)
    return tuple(found)


def _walls(recess: Outline) -> tuple[_Wall, ...]:
    """The straight walls, counter-clockwise; the chords by which a curve was written are none."""
    whole = perimeter(recess)
    groups: list[list[Edge]] = []
    for side in edges_of(recess):
        if groups and _goes_on(groups[-1], side, whole):
            groups[-1].append(side)
        else:
            groups.append([side])
    if len(groups) > 1 and _goes_on(groups[-1], groups[0][0], whole) and _goes_on(groups[-1], groups[0][-1], whole, gap=False):
        groups[0] = groups.pop() + groups[0]
    straight = {side.name for side in sides_of(recess)}
    long = [
        group
        for group in groups
        if any(side.name in straight for side in group) or math.fsum(side.straight for side in group) >= CHORD * whole
    ]
    return tuple(_Wall(tuple(group), group[0].length_along, group[-1].length_along + group[-1].straight) for group in long)


def _goes_on(group: list[Edge], after: Edge, whole: float, *, gap: bool = True) -> bool:
    """Whether a side goes on in the line of a group: without a gap, and turned little against the first of it."""
    first, last = group[0], group[-1]
    apart = (after.length_along - last.length_along - last.straight + whole / 2) % whole - whole / 2
    turn = first.direction.x * after.direction.y - first.direction.y * after.direction.x
    return (not gap or abs(apart) < 1e-3) and abs(turn) <= math.sin(ONE_WALL) and _dot(first.direction, after.direction) > 0


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return one[0] * other[0] + one[1] * other[1]


def _meet(place: Place, way: Place, other: Place, other_way: Place) -> float | None:
    """Distance from ``place`` along ``way`` to another line; None where they run side by side."""
    across = way[0] * other_way[1] - way[1] * other_way[0]
    if abs(across) < math.sin(ONE_WALL):
        return None
    return ((other[0] - place[0]) * other_way[1] - (other[1] - place[1]) * other_way[0]) / across


def _blocks(detail: Detail) -> Iterator[tuple[Spacer | Chock, Place, Station]]:
    """Every block, the place it is set out by and the station of the recess nearest to it."""
    for spacer in detail.spacers:
        yield spacer, spacer.centre, nearest_station(detail.curves.recess, spacer.centre)
    for chock in detail.chocks:
        yield chock, chock.foot, nearest_station(detail.curves.recess, chock.foot)


def _on(along: float, begins: float, ends: float, whole: float, *, slack: float = 1.0) -> bool:
    """Whether a length along the recess lies on a stretch of it."""
    return (along - begins + slack) % whole <= (ends - begins) % whole + 2 * slack


def _straight_row(detail: Detail, wall: _Wall, before: _Wall, after: _Wall) -> Row | None:
    recess = detail.curves.recess
    whole = perimeter(recess)
    way = wall.way
    backwards = way[0] < 0 if abs(way[1]) <= LEVEL else way[1] < 0  # counted from its other end
    here, there = (after, before) if backwards else (before, after)
    if _sharp(wall, here) and not _sharp(wall, there):
        backwards = not backwards
    neighbour = after if backwards else before
    run = (-way[0], -way[1]) if backwards else way

    def distance(place: Place) -> float:
        """From the neighbouring wall, or where there is none at an angle from the end of this one."""
        back = None if neighbour is wall else _meet(place, (-run[0], -run[1]), neighbour.place, neighbour.way)
        if back is None:
            end = wall.ends if backwards else wall.begins
            corner = station_at(recess, end).point
            return _dot((place[0] - corner.x, place[1] - corner.y), run)
        return back

    ticks = []
    for block, place, station in _blocks(detail):
        on = _on(station.length_along, wall.begins, wall.ends, whole)
        beside = not on and any(
            _between(station.length_along, one, other, whole) and _corner(recess, one, other) for one, other in ((before, wall), (wall, after))
        )
        if on or beside:
            ticks.append(Tick(block.mark, distance(place), station.point, _is_chock(block), beside))
    if not ticks:
        return None
    at = wall.place
    zero = distance(at)
    outward = (way[1], -way[0])
    ticks.sort(key=lambda tick: (tick.distance, tick.mark))
    return Row(_name(wall), (at[0] - zero * run[0], at[1] - zero * run[1]), run, outward, tuple(ticks))


def _sharp(wall: _Wall, neighbour: _Wall) -> bool:
    """Whether two walls meet so sharply that nobody can hold a square to the other: the place where they would meet lies in the air."""
    if wall is neighbour:
        return True
    return abs(wall.way[0] * neighbour.way[1] - wall.way[1] * neighbour.way[0]) < math.sin(NOSE) and _dot(wall.way, neighbour.way) < 0


def _between(along: float, one: _Wall, other: _Wall, whole: float) -> bool:
    return one is not other and not _on(along, one.begins, one.ends, whole) and _on(along, one.ends, other.begins, whole)


def _corner(recess: Outline, one: _Wall, other: _Wall) -> bool:
    """Whether the stretch between two walls is a corner arc, not a curve of its own."""
    whole = perimeter(recess)
    return (other.begins - one.ends) % whole <= min(one.ends - one.begins, other.ends - other.begins) * 0.75


def _curve_row(detail: Detail, wall: _Wall, after: _Wall) -> Row | None:
    """The blocks on a curve from one straight wall to the next, by running length along the recess."""
    recess = detail.curves.recess
    whole = perimeter(recess)
    if after is not wall and _corner(recess, wall, after):
        return None
    begins = wall.ends
    ticks = [
        Tick(block.mark, (station.length_along - begins) % whole, station.point, _is_chock(block))
        for block, _, station in _blocks(detail)
        if _on(station.length_along, begins, after.begins, whole) and not _on(station.length_along, wall.begins, wall.ends, whole)
    ]
    if not ticks:
        return None
    start = station_at(recess, begins)
    ticks.sort(key=lambda tick: tick.distance)
    return Row(f"curve after {_name(wall)}", start.point, start.tangent, start.outward, tuple(ticks), curved=True)


def _round_rows(detail: Detail) -> Iterator[Row]:
    """To the right and to the left of the lowest point, along the wall."""
    recess = detail.curves.recess
    whole, lowest = perimeter(recess), lowest_length(recess)
    start = station_at(recess, lowest)
    away = [(block, (station.length_along - lowest) % whole, station.point) for block, _, station in _blocks(detail)]
    for clockwise in (False, True):
        ticks = [
            Tick(block.mark, whole - along if clockwise else along, foot, _is_chock(block))
            for block, along, foot in away
            if (along > whole / 2 + 1e-6) == clockwise
        ]
        ticks.sort(key=lambda tick: (tick.distance, tick.mark))
        way = (-start.tangent.x, -start.tangent.y) if clockwise else (start.tangent.x, start.tangent.y)
        name = "left from the lowest point" if clockwise else "right from the lowest point"
        if ticks:
            yield Row(name, start.point, way, start.outward, tuple(ticks), curved=True, clockwise=clockwise)


def _is_chock(block: Spacer | Chock) -> bool:
    return hasattr(block, "height")


def _name(wall: _Wall) -> str:
    return " ".join(side.name for side in wall.sides)


__all__ = ["Row", "Tick", "rows_of"]
