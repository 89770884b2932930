"""Flags on the supplier's view: each leads to its place, those that hold all round to the edge that they speak of.

Flags of one place stand on the glass side by side, each with its leader; flags that hold all round stand together on one shelf, which
says so. Where the pane is narrow they stand beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from geometry.outline import Point, bounding_box, perimeter, point_in, station_at
from outputs.drawing.flags import Flagged, placed_flags
from outputs.drawing.pane_ink import NO_ROOM, angle_of, note, ring, shelf_size
from outputs.sheet.boxes import grown
from outputs.sheet.outcomes import FlagNumber

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Outline, Station
    from outputs.drawing.pane_sizes import Sizing
    from outputs.sheet.entities import Mark, Place

LEANING = (0.0, 25.0, -25.0, 45.0, -45.0, 65.0, -65.0)
ASIDE = (*LEANING, 85.0, -85.0)
WITHIN = tuple(range(9, 60, 4))  # paper mm from a place to its flag on the glass
BEYOND = tuple(range(9, 100, 5))  # paper mm from a place to its flag beside the glass
NOTE_WITHIN, NOTE_BEYOND = (8, 11, 15, 20, 26, 33), (8, 11, 15, 20, 26, 33, 41, 50)  # paper mm from an edge to its shelf
STEPS = 48  # places along an edge that are tried for a leader
AIRS = (2.2, 1.4, 0.0)  # paper mm round flags and their shelf, the most that there is room for
ROUND, WHOLE = "all round", "whole pane"


@dataclass(frozen=True, slots=True)
class PaneFlag:
    """A flag on glass or print: its number, whether its finding fails, its place (None: it holds all round), which edge it speaks of
    (that of the print, or of the glass), and what it holds for.
    """

    number: int
    fails: bool
    at: Place | None
    print_edge: bool
    holds: str = ROUND


def flags_with_places(given: Sizing, detail: Detail, flags: Sequence[PaneFlag]) -> list[Mark]:
    """The flags that speak of a place, each with a leader to it: on the clear glass, else beside the glass."""
    inner = detail.curves.frit_inner
    middle = middle_of(detail)

    def spots(at: Place) -> Iterator[Place]:
        paper = given.pencil.paper
        way = angle_of((middle[0] - at[0], middle[1] - at[1]))
        for spot in ring(at, map(paper, WITHIN), way, turns=ASIDE):
            if point_in(inner, Point(*spot)):
                yield spot
        for spot in ring(at, map(paper, BEYOND), way + 180.0, turns=ASIDE):
            if not point_in(given.glass, Point(*spot)):
                yield spot

    placed = [(Flagged(each.number, each.fails, each.at), spots(each.at)) for each in flags if each.at is not None]
    return placed_flags(placed, given.pencil, given.room)


def flags_all_round(given: Sizing, detail: Detail, flags: Sequence[PaneFlag]) -> tuple[list[Mark], bool]:
    """The flags without a place: those of one edge on one shelf with a leader to it, or each on its own where there is no room for all; and
    whether each has air round it.
    """
    groups: dict[tuple[bool, str], list[PaneFlag]] = {}
    for each in flags:
        if each.at is None:
            groups.setdefault((each.print_edge, each.holds), []).append(each)
    marks: list[Mark] = []
    airy = True
    for alike in groups.values():
        whole, clear = _shelved(given, detail, alike)
        for each in alike:
            found, own = (whole, clear) if whole else _shelved(given, detail, [each])
            airy = airy and own
            marks += found if not whole else ()
            if found:
                given.room.drawn(FlagNumber(each.number))
            else:
                given.room.tabled(FlagNumber(each.number), NO_ROOM)
        marks += whole
    return marks, airy


def _shelved(given: Sizing, detail: Detail, flags: Sequence[PaneFlag]) -> tuple[list[Mark], bool]:
    """Flags on a shelf whose leader ends on their edge: on the clear glass, else beside the glass, with air round them where there is room,
    and whether there is; [] where there is none at all.
    """
    paper, inner = given.pencil.paper, detail.curves.frit_inner
    numbers = [(each.number, each.fails) for each in flags]
    edge = inner if flags[0].print_edge else given.glass
    stations = _stations(edge)
    for air, (reaches, clear, out) in product(AIRS, ((NOTE_WITHIN, inner, 180.0), (NOTE_BEYOND, None, 0.0))):
        tries = [
            (station.point, elbow)
            for reach in reaches
            for station in stations
            for elbow in ring(station.point, [paper(reach)], angle_of(station.outward) + out, turns=LEANING)
        ]
        for tip, elbow in _with_room(tries, flags[0].holds, len(flags), air, given):
            found = note(flags[0].holds, tip, [elbow], given.pencil, given.room, within=clear, flags=numbers, air=air)
            if found:
                return found, air > 0.0
    return [], False


def _with_room(
    tries: Sequence[tuple[Place, Place]], words: str, count: int, air: float, given: Sizing
) -> Iterator[tuple[Place, Place]]:
    """Those places of leader and elbow beside which a shelf with its flags stands free on one side at least."""
    wide, high = shelf_size(words, count, given.pencil)
    boxes = [(x - side * wide, y, x + (1 - side) * wide, y + high) for _, (x, y) in tries for side in (0, 1)]
    free = list(given.room.each_free(grown(box, given.pencil.paper(air)) for box in boxes))
    yield from (each for each, one, other in zip(tries, free[::2], free[1::2], strict=True) if one or other)


def _stations(edge: Outline) -> list[Station]:
    """Places along an edge, the lowest in the middle first and then to both sides of it: flags of all panes stand alike; none on the arc of a
    corner, where a radius is told.
    """
    long, box = perimeter(edge), bounding_box(edge)
    found = [station_at(edge, long * (index + 0.5) / STEPS) for index in range(STEPS)]
    straight = [each for each in found if abs(each.curvature) < 1e-9] or found
    return sorted(straight, key=lambda each: (round(each.outward.y, 3), round(abs(each.point.x - box.middle.x), 6), each.point.x))


def middle_of(detail: Detail) -> Place:
    """The middle of the clear glass, or the pane's centroid where that lies beside it."""
    box = bounding_box(detail.curves.frit_inner)
    middle = box.middle
    return middle if point_in(detail.curves.frit_inner, middle) else detail.centroid


__all__ = ["ROUND", "WHOLE", "PaneFlag", "flags_all_round", "flags_with_places", "middle_of"]
