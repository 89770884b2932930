"""The joint all round the pane: exactly where it is narrowest, how wide at stations, and as a run along the perimeter.

Terms
-----
width
    True distance from a place on the glass edge to the nearest place of the recess wall, mm; negative where the glass cuts into it.
station
    A place of the table: corners on their bisectors, ends and middles of edges and between them not over 300 mm apart; beside a surveyed
    recess its measured points, held against the glass, as well.
run
    Widths along the glass edge, counter-clockwise from its first vertex: what the diagram shows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from geometry.detail.edges import ROUND, edges_of
from geometry.outline import Outline, Point, corners, nearest_station, perimeter, segments, station_at
from geometry.outline.between import narrowest_and_widest, nearest_between, true_width_at
from geometry.workings.surveyed_recess import surveyed_recess_of

if TYPE_CHECKING:
    from geometry.workings.subject import Subject

APART = 300.0
"""mm between two stations of an edge at most (common practice, no source)."""
MOST_POINTS = 200
"""Surveyed points up to which each is a station of the table; of a scan the run tells as much."""
STEPS = 240
"""Places of a run at least."""


class JointPlace(NamedTuple):
    """A width and where it is: ``name`` of the edge with the distance along it, of a corner, or of a surveyed point."""

    name: str
    at: Point
    width: float


class RunPlace(NamedTuple):
    """One place of a run: length along the glass edge and the width there, mm."""

    length: float
    width: float


@dataclass(frozen=True, slots=True)
class JointRound:
    """``least`` is exact, its ``at`` on the glass and ``wall`` on the recess; ``widest`` on the straights, as a gauge finds it.

    ``corners`` are the lengths along the glass edge of the corners, by name.
    """

    least: JointPlace
    wall: Point
    widest: JointPlace
    stations: tuple[JointPlace, ...]
    run: tuple[RunPlace, ...]
    corners: tuple[tuple[str, float], ...]
    perimeter: float


def joint_round_of(subject: Subject) -> JointRound:
    """The joint of a pane all round."""
    glass, recess = subject.detail.curves.glass, subject.detail.curves.recess
    nearest, (_, widest) = nearest_between(glass, recess), narrowest_and_widest(glass, recess)
    run = _run(glass, recess)
    least = JointPlace(_name(glass, nearest.one), nearest.one, nearest.distance)
    wall = nearest.other
    deepest = min(run, key=lambda each: each.width)
    if deepest.width < 0.0:  # the glass stands in the frame: the deepest place of the run
        place = station_at(glass, deepest.length).point
        least, wall = JointPlace(_name(glass, place), place, deepest.width), nearest_station(recess, place).point
    return JointRound(
        least=least,
        wall=wall,
        widest=JointPlace(_name(glass, widest.at), widest.at, widest.value),
        stations=(*_stations(glass, recess), *_surveyed(subject)),
        run=run,
        corners=tuple((f"V{each.number}", nearest_station(glass, each.on_glass).length_along) for each in corners(glass)),
        perimeter=perimeter(glass),
    )


def _name(glass: Outline, place: Point) -> str:
    """The edge and the distance along it from its sharp corner, or the corner."""
    for edge in edges_of(glass):
        along = edge.distance_of(place)
        if edge.first - 1e-6 <= along <= edge.last + 1e-6 and math.dist(edge.at(along), place) < 1e-6:
            return f"{edge.name} {along:.0f}"
    rounded = corners(glass)
    if not rounded:
        return ROUND
    return f"V{min(rounded, key=lambda each: math.dist(each.on_glass, place)).number}"


@lru_cache(maxsize=16)
def _run(glass: Outline, recess: Outline) -> tuple[RunPlace, ...]:
    """Even steps along every segment, and beside every vertex of the recess."""
    whole = perimeter(glass)
    lengths: set[float] = set()
    start = 0.0
    for part in segments(glass):
        pieces = max(2, math.ceil(STEPS * part.length / whole))
        lengths |= {start + part.length * step / pieces for step in range(pieces)}
        start += part.length
    lengths |= {nearest_station(glass, Point(v.x, v.y)).length_along for v in recess.vertices}
    ordered = sorted(round(each, 6) for each in lengths if each < whole - 1e-6)
    return tuple(RunPlace(each, true_width_at(recess, station_at(glass, each).point)) for each in dict.fromkeys(ordered))


def _stations(glass: Outline, recess: Outline) -> list[JointPlace]:
    found = []
    edges = edges_of(glass)
    for edge in edges:
        pieces = max(2, math.ceil(edge.straight / APART))
        for step in range(pieces + 1):
            along = edge.first + edge.straight * step / pieces
            place = edge.at(along)
            found.append(JointPlace(f"{edge.name} {along:.0f}", place, true_width_at(recess, place)))
    for corner in corners(glass):
        if corner.radius > 0.0:
            found.append(JointPlace(f"V{corner.number}", corner.on_glass, true_width_at(recess, corner.on_glass)))
    if not edges:
        whole = perimeter(glass)
        pieces = max(8, math.ceil(whole / APART))
        for step in range(pieces):
            place = station_at(glass, whole * step / pieces).point
            found.append(JointPlace(f"{ROUND} {whole * step / pieces:.0f}", place, true_width_at(recess, place)))
    return found


def _surveyed(subject: Subject) -> list[JointPlace]:
    recess = surveyed_recess_of(subject)
    if recess is None or len(recess.stations) > MOST_POINTS:
        return []
    return [JointPlace(f"{each.edge} {each.name}".strip(), each.at, each.joint) for each in recess.stations]


__all__ = ["JointPlace", "JointRound", "RunPlace", "joint_round_of"]
