"""The joint at stations of a recess with an outline of its own: a ring on the wall at each, the width there behind an arrow in the daylight.

Terms
-----
station
    A place between the corners where the wall of the recess was measured: a vertex of its outline that faces a straight of the glass. Of a
    wall that was not measured, and leaves no even joint: the quarters of each straight, of a round pane eight places.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import product
from typing import TYPE_CHECKING

from geometry.detail.edges import ROUND, edges_of, sides_of
from geometry.outline import Point, bounding_box, nearest_station, perimeter, point_in, station_at
from geometry.outline.between import true_width_at
from outputs.drawing.plan_sizes import surveyed
from outputs.sheet.drafting import number
from outputs.sheet.entities import Path
from outputs.sheet.keep_clear import distance_of, straights_of
from outputs.sheet.runs import circle, line, polar

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from outputs.drawing.plan_ink import PlanInk
    from outputs.sheet.entities import Mark, Text

RING = 0.8  # paper mm, radius of the ring at a station
APART = 15.0  # paper mm between two stations that are told; of those nearer together the narrowest is
ON_EDGE = 1e-6  # mm
QUARTERS = (0.25, 0.75)  # of a straight: axes stand in its middle, corners at its ends
EVEN = 0.05  # mm by which an even joint may differ from place to place
ROUND_PLACES = 8
OFF_PLANE, ASIDE = 0.9, 1.8  # paper mm from an arrow to the end of a cutting plane, and by which it stands aside for one
ARROW = 4.0  # paper mm, length of the arrow to a station


@dataclass(frozen=True, slots=True)
class JointStation:
    """A station: its place on the wall, the joint there (mm; negative where the glass reaches over the wall), and the way into the pane."""

    edge: str
    wall: Point
    joint: float
    inward: Point
    number: int | None = None

    @property
    def words(self) -> str:
        """The joint, to a tenth; an overlap is told as such."""
        width = number(abs(self.joint), decimals=1)
        return width if self.joint >= 0.0 else f"overlap {width}"

    @property
    def label(self) -> str:
        """The joint with the number of the station before it."""
        return self.words if self.number is None else f"{self.number}: {self.words}"


def stations_of(detail: Detail) -> tuple[JointStation, ...]:
    """The stations, counter-clockwise; none where the recess follows the glass."""
    if not surveyed(detail):
        return _of_an_uneven_joint(detail)
    glass = detail.curves.glass
    found = []
    for vertex in detail.curves.recess.vertices:
        wall = Point(vertex.x, vertex.y)
        near = nearest_station(glass, wall)
        for side in sides_of(glass):
            along = side.distance_of(near.point)
            if math.dist(side.at(along), near.point) < ON_EDGE and side.first + ON_EDGE < along < side.last - ON_EDGE:
                far = math.dist(wall, near.point)
                joint = -far if point_in(glass, wall) else far
                found.append(JointStation(side.name, wall, joint, Point(-side.outward.x, -side.outward.y)))
                break
    return tuple(found)


def _of_an_uneven_joint(detail: Detail) -> tuple[JointStation, ...]:
    """Quarters of the straights, or places round a pane without any; none where the joint is even."""
    glass, recess = detail.curves.glass, detail.curves.recess
    places: list[tuple[str, Point]] = []
    for edge in edges_of(glass):
        places += [(edge.name, edge.at(edge.first + edge.straight * share)) for share in QUARTERS]
    if not places:
        whole = perimeter(glass)
        places = [(ROUND, station_at(glass, whole * step / ROUND_PLACES).point) for step in range(ROUND_PLACES)]
    found = []
    for name, place in places:
        outward = nearest_station(glass, place).outward
        width = true_width_at(recess, place)
        found.append(JointStation(name, nearest_station(recess, place).point, width, Point(-outward.x, -outward.y)))
    widths = [each.joint for each in found]
    return tuple(found) if max(widths) - min(widths) >= EVEN else ()


def shown_stations(detail: Detail, scale: float) -> tuple[JointStation, ...]:
    """Those that are told at a scale: where stations stand close together on paper, the narrowest of them."""
    kept: list[JointStation] = []
    for each in sorted(stations_of(detail), key=lambda station: (station.joint, station.wall)):
        if all(math.dist(each.wall, other.wall) * scale >= APART for other in kept):
            kept.append(each)
    return tuple(kept)


class StationMarks:
    """Puts them up; ``untold`` are those whose figure has no room."""

    def __init__(self, ink: PlanInk, numbered: Sequence[tuple[int, Point]] = (), least: str = "") -> None:
        self.ink, self.least = ink, least
        places = {_key(place): count for count, place in numbered}
        found = shown_stations(ink.detail, ink.pencil.scale)
        self.stations = tuple(replace(each, number=places.get(_key(each.wall))) for each in found)
        self.untold: list[JointStation] = []

    def place(self) -> None:
        """Rings, arrows and figures."""
        ink, pencil = self.ink, self.ink.pencil
        ink.put([circle("DIMENSIONS", each.wall, pencil.paper(RING)) for each in self.stations])
        for each in self.stations:
            what = f"joint on {each.edge} at {_place(each)}"
            marks = next((marks for marks in self._tries(each) if ink.placer.takes(marks) and self._off_planes(marks[0])), None)
            if marks is None:
                ink.no_room(what)
                self.untold.append(each)
                continue
            ink.put(marks)
            ink.placer.drawn(what)

    def _off_planes(self, arrow: Mark) -> bool:
        """Whether an arrow lies on no end of a cutting plane."""
        (own,), least = straights_of((arrow,)), self.ink.pencil.paper(OFF_PLANE)
        paths = [mark for mark in self.ink.marks if isinstance(mark, Path)]
        strokes = [mark for mark in paths if mark.layer == "SECTION_MARKS"]
        ends = {mark.nodes[-1][:2] for mark in strokes}
        planes = straights_of([*strokes, *(mark for mark in paths if mark.layer == "DIMENSIONS" and mark.nodes[0][:2] in ends)])
        return all(distance_of(own, plane) >= least for plane in planes)

    def _tries(self, each: JointStation) -> Iterator[list[Mark]]:
        """Figure and arrow inside the ring, straight in from the station, nearest first; a little aside where a section is cut there."""
        pencil = self.ink.pencil
        way = math.degrees(math.atan2(each.inward.y, each.inward.x))
        reach = self.ink.inner(each.wall, each.inward)
        half = abs(each.inward.x) * pencil.width(each.label) / 2 + abs(each.inward.y) * pencil.paper(pencil.style.text / 2)
        for more, aside in product((0.8, 2.8, 4.8, 7.8), (0.0, ASIDE, -ASIDE)):
            tip = polar(polar(each.wall, way, reach + pencil.paper(more)), way + 90.0, pencil.paper(aside))
            foot = polar(tip, way, pencil.paper(ARROW))
            at = polar(foot, way, half + pencil.paper(1.0 if min(abs(each.inward.x), abs(each.inward.y)) < 1e-3 else 1.8))
            text: Text = pencil.text("DIMENSIONS", at, each.label, align="middle", centred=True)
            yield [line("DIMENSIONS", foot, tip), pencil.arrow("DIMENSIONS", tip, way + 180.0), text]

    def say(self) -> tuple[str, ...]:
        """Letter in the daylight what the figures are; what has no room on the plan is given back for the notes of the sheet."""
        if not self.stations:
            return ()
        least = min(self.stations, key=lambda each: each.joint)
        what = "joint" if least.number is None else "number and joint"
        wall = "Recess as surveyed" if surveyed(self.ink.detail) else "Recess with an outline of its own"
        shorter = f"{wall}: {what} at {len(self.stations)} stations, least {least.words}."
        said = f"{wall}: {what} at {len(self.stations)} stations, least {self.least or least.words}."
        lost = self.untold if surveyed(self.ink.detail) else []  # else the record has them and more
        untold = tuple(f"Joint {each.words} on {each.edge} at {_place(each)}." for each in lost)
        for each in dict.fromkeys((said, shorter)):
            if self.ink.name(self._spots(each), "words of the stations", self._in_daylight):
                return untold
        return (said, *untold)

    def _spots(self, said: str) -> Iterator[Text]:
        box = bounding_box(self.ink.detail.curves.frit_inner)
        for v in (0.36, 0.64, 0.25, 0.75, 0.45, 0.15, 0.85):
            for u in (0.3, 0.5, 0.7):
                at = (box.left + u * box.width, box.bottom + v * box.height)
                yield self.ink.pencil.text("TEXT", at, said, align="middle", centred=True)

    def _in_daylight(self, middle: Point) -> bool:
        return point_in(self.ink.detail.curves.frit_inner, middle)


def _key(place: Point) -> tuple[float, float]:
    return round(place.x, 3), round(place.y, 3)


def _place(each: JointStation) -> str:
    return f"X {number(each.wall.x, decimals=0)}, Y {number(each.wall.y, decimals=0)}"


__all__ = ["JointStation", "StationMarks", "shown_stations", "stations_of"]
