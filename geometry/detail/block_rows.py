"""Where the blocks stand as running distances on the recess: rows along its walls, each from a wall that a fitter can touch.

Terms
-----
row
    The blocks along one wall, in the order of their distances, seen from outside. A square or a straightedge held to the neighbouring
    wall gives the zero of the row, also where the corner between the two is rounded.
neighbouring wall
    Of the sill and the head that on the left, of a jamb the one below; where the corner there is far from square or turns into the pane, the
    wall at the other end.
block in a corner arc
    Stands in the rows of both walls beside the corner; where it lies before the zero of one of them, in the other alone.
curve
    What lies between two straight walls and is no corner: its row runs along the wall from where the straight ends. A recess without
    straight walls has two rows, from its lowest point to the right and to the left.

Lengths mm, never negative where the recess surrounds the pane.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from geometry.detail.edges import ROUND, Edge, lowest_length, sides_of
from geometry.outline import Point, corners, nearest_station, perimeter, station_at, straight_runs

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Corner, Outline
    from geometry.outline.corners import StraightRun

__all__ = ["BlockRow", "RowEntry", "block_rows"]

FAR_FROM_SQUARE = 30.0
"""Degrees by which a corner may miss a right angle before the row is counted from its other end (own default)."""
FACING = math.cos(math.radians(20.0))
"""A wall of a surveyed recess belongs to an edge whose direction it keeps within this (own default)."""


@dataclass(frozen=True, slots=True)
class RowEntry:
    """One block of a row: its mark, its distance from the zero, and the place of its middle (a spacer's centre, a chock's foot)."""

    mark: str
    distance: float
    at: Point


@dataclass(frozen=True, slots=True)
class BlockRow:
    """A row of blocks along ``edge`` ("e1", "curve after e2", "round").

    ``zero`` is where the row begins, ``zero_at`` that place in words, ``wall`` the edge whose wall is touched there ("" on a curve);
    ``corner`` is the number of the corner between the two walls, None where the row begins at none;
    ``direction`` is the unit vector in which the row runs at its zero. ``straight``: distances along that direction; else along the
    wall of the recess, ``clockwise`` or counter-clockwise as seen from outside.
    """

    edge: str
    zero: Point
    zero_at: str
    wall: str
    corner: int | None
    direction: Point
    straight: bool
    clockwise: bool
    entries: tuple[RowEntry, ...]


class _Block(NamedTuple):
    mark: str
    at: Point
    along: float  # of the glass outline


def block_rows(detail: Detail) -> tuple[BlockRow, ...]:
    """Every block of a pane in its row, counter-clockwise round the pane; a wall without blocks has none.

    Exact where walls are straight and parallel to the glass; along a surveyed wall the distances run parallel to the glass edge from where
    the prolonged walls meet.
    """
    glass, recess = detail.curves.glass, detail.curves.recess
    blocks = [
        _Block(mark, at, nearest_station(glass, at).length_along)
        for mark, at in (
            *((spacer.mark, spacer.centre) for spacer in detail.spacers),
            *((chock.mark, chock.foot) for chock in detail.chocks),
        )
    ]
    sides = sides_of(glass)
    if not sides:
        return _round_rows(recess, blocks)
    whole, sharp = perimeter(glass), corners(glass)
    straight: dict[str, list[_Block]] = {side.name: [] for side in sides}
    curved: dict[str, list[_Block]] = {}
    for block in blocks:
        before = min(range(len(sides)), key=lambda index: (block.along - sides[index].length_along + TOUCH) % whole)
        side, following = sides[before], sides[(before + 1) % len(sides)]
        if (block.along - side.length_along + TOUCH) % whole <= side.straight + 2 * TOUCH:
            straight[side.name].append(block)
        elif _corner_between(sharp, side, following) is not None:
            straight[side.name].append(block)
            straight[following.name].append(block)
        else:
            curved.setdefault(side.name, []).append(block)
    rows: list[BlockRow] = []
    for side, before_it, after_it in zip(sides, (sides[-1], *sides), (*sides[1:], sides[0]), strict=False):
        ends = _corner_between(sharp, before_it, side), _corner_between(sharp, side, after_it)
        if straight[side.name]:
            rows.append(_straight_row(recess, side, (before_it, after_it), ends, straight[side.name]))
        if side.name in curved:
            rows.append(_curve_row(recess, side, curved[side.name]))
    told = {entry.mark for row in rows for entry in row.entries if entry.distance >= 0.0}
    kept = [
        replace(row, entries=tuple(each for each in row.entries if each.distance >= 0.0 or each.mark not in told)) for row in rows
    ]
    return tuple(row for row in kept if row.entries)


TOUCH = 1e-6  # mm by which a place at the end of a side is on it


def _corner_between(sharp: Sequence[Corner], side: Edge, following: Edge) -> Corner | None:
    """The corner between two neighbouring sides; None where a curve lies between them."""
    end, start = side.at(side.last), following.at(following.first)
    for corner in sharp:
        if math.dist(corner.tangent_before, end) < TOUCH and math.dist(corner.tangent_after, start) < TOUCH:
            return corner
    return None


def _off_square(corner: Corner | None) -> float:
    """How far a corner is from square, degrees; one that turns into the pane, or none, is farthest."""
    if corner is None:
        return math.inf
    return abs(corner.interior_angle - 90.0) if corner.convex else 360.0


def _straight_row(
    recess: Outline, side: Edge, beside: tuple[Edge, Edge], ends: tuple[Corner | None, Corner | None], blocks: list[_Block]
) -> BlockRow:
    upright = abs(side.outward.x) > abs(side.outward.y)
    rising = side.direction.y if upright else side.direction.x
    wanted = 0 if rising >= 0 else 1  # the end below, or on the left
    off = [_off_square(each) for each in ends]
    end = 1 - wanted if off[wanted] > FAR_FROM_SQUARE and off[1 - wanted] < off[wanted] else wanted
    corner, neighbour = ends[end], beside[end]
    sign = 1.0 if end == 0 else -1.0
    direction = Point(sign * side.direction.x + 0.0, sign * side.direction.y + 0.0)
    near = side.at(0.0 if end == 0 else side.end) if corner is None else corner.theoretical
    own = _wall_of(recess, side, near)
    if corner is None:
        zero, wall = _foot(own, side.at(side.first if end == 0 else side.last)), ""
        words = f"end of the straight of {side.name}"
    else:
        zero, wall, words = _meet(own, _wall_of(recess, neighbour, near)), neighbour.name, f"wall {neighbour.name}"
    entries = sorted(
        (RowEntry(b.mark, (b.at.x - zero.x) * direction.x + (b.at.y - zero.y) * direction.y, b.at) for b in blocks),
        key=lambda entry: (round(entry.distance, 6), entry.mark),
    )
    number = None if corner is None else corner.number
    return BlockRow(side.name, zero, words, wall, number, direction, straight=True, clockwise=end == 1, entries=tuple(entries))


def _wall_of(recess: Outline, side: Edge, near: Point) -> tuple[Point, Point]:
    """A point and the direction of the recess wall along an edge, of several that nearest to a place; the edge itself where there is none."""
    facing = [
        run for run in straight_runs(recess) if run.direction.x * side.direction.x + run.direction.y * side.direction.y > FACING
    ]
    if not facing:
        return side.origin, side.direction
    best = min(facing, key=lambda run: round(_off(run, near), 9))
    return best.start, best.direction


def _off(run: StraightRun, place: Point) -> float:
    along = (place.x - run.start.x) * run.direction.x + (place.y - run.start.y) * run.direction.y
    on = min(max(along, 0.0), run.length)
    return math.dist(place, (run.start.x + on * run.direction.x, run.start.y + on * run.direction.y))


def _meet(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point:
    """Where two lines, each a point and a direction, meet; the walls beside a corner are never parallel."""
    (p, d), (q, e) = one, other
    along = ((q.x - p.x) * e.y - (q.y - p.y) * e.x) / (d.x * e.y - d.y * e.x)
    return Point(p.x + along * d.x, p.y + along * d.y)


def _foot(line: tuple[Point, Point], place: Point) -> Point:
    (p, d) = line
    along = (place.x - p.x) * d.x + (place.y - p.y) * d.y
    return Point(p.x + along * d.x, p.y + along * d.y)


def _curve_row(recess: Outline, side: Edge, blocks: list[_Block]) -> BlockRow:
    """Along the wall, from where the straight before the curve ends, counter-clockwise."""
    start = nearest_station(recess, side.at(side.last))
    entries = _running(recess, start.length_along, blocks, clockwise=False)
    words = f"end of the straight of {side.name}"
    return BlockRow(f"curve after {side.name}", start.point, words, "", None, start.tangent, False, False, entries)


def _round_rows(recess: Outline, blocks: list[_Block]) -> tuple[BlockRow, ...]:
    lowest, whole = lowest_length(recess), perimeter(recess)
    start = station_at(recess, lowest)
    right = [block for block in blocks if (nearest_station(recess, block.at).length_along - lowest) % whole <= whole / 2 + TOUCH]
    rows = []
    for clockwise, those in ((False, right), (True, [block for block in blocks if block not in right])):
        if those:
            way = -1.0 if clockwise else 1.0
            direction = Point(way * start.tangent.x + 0.0, way * start.tangent.y + 0.0)
            entries = _running(recess, lowest, those, clockwise=clockwise)
            rows.append(
                BlockRow(ROUND, start.point, "lowest point of the recess", "", None, direction, False, clockwise, entries)
            )
    return tuple(rows)


def _running(recess: Outline, start: float, blocks: list[_Block], *, clockwise: bool) -> tuple[RowEntry, ...]:
    whole, way = perimeter(recess), -1.0 if clockwise else 1.0
    found = (
        RowEntry(block.mark, (way * (nearest_station(recess, block.at).length_along - start) + TOUCH) % whole - TOUCH, block.at)
        for block in blocks
    )
    return tuple(sorted(found, key=lambda entry: (round(entry.distance, 6), entry.mark)))
