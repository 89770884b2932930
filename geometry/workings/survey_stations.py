"""Where a recess is surveyed: stations round its wall, and how each is measured from two datum lines.

Terms
-----
datum lines
    Two straight lines square to one another on the skin beside the opening: the level one ``DATUM`` mm under the lowest place of the
    recess, the upright one as far left of it as one sees it. X is measured to the right from the upright one, Y up from the level one.
set out, read
    Of a station one coordinate is set out, in whole millimetres, the other is read: that along which the wall looks more.
number
    Counted counter-clockwise as seen from outside, from the first edge: a station has one number from whichever side it is measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.edges import sides_of
from geometry.outline import (
    OutlineError,
    Point,
    bounding_box,
    corners,
    nearest_station,
    offset,
    perimeter,
    ray_length,
    station_at,
)
from geometry.workings.surveyed_recess import STATIONS_APART, survey_of

if TYPE_CHECKING:
    from geometry.outline import Outline
    from geometry.workings.subject import Subject

DATUM = 50.0
"""mm from the recess to the datum lines beside it (own default)."""
TARGET = STATIONS_APART - 20.0
FROM_END = 10.0  # mm from the ends of a straight edge to its first and last station
THREE_FROM = 150.0  # mm of straight from which an edge has three stations: the middle one shows a bow
ON_CURVE = 40.0  # mm, greatest distance of two stations on a curve that is no corner
LEAST_CORNERS = 3
LEAST_ROUND = 12
"""Stations of a recess without straight edges."""
BACK = 30.0  # mm inside the wall from which a limit is looked for


@dataclass(frozen=True, slots=True)
class SurveyPlace:
    """A station: its number, edge ("" on a curve), its place on the wall from the pane's origin, and how it is measured, mm.

    ``reads`` is ``x`` or ``y``, ``set_out`` the other coordinate from its datum line; ``wanted`` what is read where the recess is as drawn,
    ``least`` and ``most`` where the joint is as wide or as narrow as it may be, in rising order; None where no such wall is met.
    """

    number: int
    edge: str
    at: Point
    reads: str
    set_out: float
    wanted: float
    least: float | None
    most: float | None


@dataclass(frozen=True, slots=True)
class SurveyPlan:
    """The stations of a recess from one side, its outline as it is meant, and where both datum lines cross, from the pane's origin."""

    recess: Outline
    datum: Point
    inside: bool
    places: tuple[SurveyPlace, ...]

    def measured(self, place: Point) -> tuple[float, float]:
        """X and Y of a place of the pane from the datum lines, as one sees it."""
        return (self.datum.x - place.x if self.inside else place.x - self.datum.x), place.y - self.datum.y


def meant_recess(subject: Subject) -> Outline:
    """The recess as it is meant: as drawn, or where it follows a survey the joint round the glass."""
    curves = subject.detail.curves
    measured = survey_of(subject) is not None or len(corners(curves.recess)) != len(corners(curves.glass))
    around = _beside(curves.glass, subject.sizes.joint_width.value) if measured else None
    return curves.recess if around is None else around


def survey_plan(subject: Subject, *, inside: bool) -> SurveyPlan:
    """The stations to survey a pane's recess by, seen from outside or inside; its own least and greatest joint bound what is read."""
    detail, recess = subject.detail, meant_recess(subject)
    joint_least, joint_most = (float(subject.limit(name).value) for name in ("joint_least", "joint_most"))
    box = bounding_box(recess)
    datum = Point(box.right + DATUM if inside else box.left - DATUM, box.bottom - DATUM)
    plan = SurveyPlan(recess, datum, inside, ())
    narrow, wide = (_beside(detail.curves.glass, joint) for joint in (joint_least, joint_most))
    found = [_place(plan, number, edge, along, narrow, wide) for number, (edge, along) in enumerate(_alongs(recess), start=1)]
    return SurveyPlan(recess, datum, inside, tuple(found))


def _beside(glass: Outline, joint: float) -> Outline | None:
    try:
        return offset(glass, joint)
    except OutlineError:
        return None


def _alongs(recess: Outline) -> list[tuple[str, float]]:
    """Edge and length along the wall of every station. Between straight edges that meet in corners alone the radius of the corner is asked for
    on its own; a wall with other curves has stations all round and no edges, so that the reader of the survey finds them in the points.
    """
    whole, sides = perimeter(recess), sides_of(recess)
    cornered = len(sides) == len(corners(recess)) >= LEAST_CORNERS
    if not sides:
        count = max(LEAST_ROUND, math.ceil(whole / (TARGET if _circle(recess) else ON_CURVE)))
        lowest = nearest_station(recess, Point(bounding_box(recess).middle.x, bounding_box(recess).bottom)).length_along
        return [("", (lowest + whole * step / count) % whole) for step in range(count)]
    found: list[tuple[str, float]] = []
    for side, following in zip(sides, (*sides[1:], sides[0]), strict=True):
        inset = min(FROM_END, side.straight / 10.0)
        steps = max(2 if side.straight >= THREE_FROM else 1, math.ceil((side.straight - 2 * inset) / TARGET))
        start = side.length_along + inset
        name = side.name if cornered else ""
        found += [(name, (start + (side.straight - 2 * inset) * step / steps) % whole) for step in range(steps + 1)]
        last = side.length_along + side.straight - inset
        gap = (following.length_along + min(FROM_END, following.straight / 10.0) - last) % whole
        between = 1 if cornered else math.ceil(gap / ON_CURVE)
        found += [("", (last + gap * step / between) % whole) for step in range(1, between)]
    return found


def _circle(recess: Outline) -> bool:
    box = bounding_box(recess)
    return abs(box.width - box.height) < 1e-6 and abs(perimeter(recess) - math.pi * box.width) < 1e-3 * box.width


def corner_radii(recess: Outline) -> tuple[float, ...]:
    """Radii of the corners in the order in which ``radius`` of a survey lists them: from the edge that begins nearest to the lower left on,
    each at the start of its edge; empty where the edges are not told (see :func:`_alongs`).
    """
    sides, found, box = sides_of(recess), corners(recess), bounding_box(recess)
    if len(sides) != len(found) or len(sides) < LEAST_CORNERS:
        return ()
    begins = [side.at(side.first) for side in sides]
    first = min(range(len(sides)), key=lambda at: round(math.hypot(begins[at].x - box.left, begins[at].y - box.bottom), 6))
    ordered = (*sides[first:], *sides[:first])
    return tuple(min(found, key=lambda each: math.dist(each.theoretical, side.origin)).radius for side in ordered)


def _place(plan: SurveyPlan, number: int, edge: str, along: float, narrow: Outline | None, wide: Outline | None) -> SurveyPlace:
    station = station_at(plan.recess, along)
    outward = station.outward
    reads = "y" if abs(outward.y) > abs(outward.x) else "x"
    x, y = plan.measured(station.point)
    side = -1.0 if plan.inside else 1.0
    set_out = float(round(x if reads == "y" else y))
    at = Point(plan.datum.x + side * set_out, station.point.y) if reads == "y" else Point(station.point.x, plan.datum.y + set_out)
    out = Point(0.0, math.copysign(1.0, outward.y)) if reads == "y" else Point(math.copysign(1.0, outward.x), 0.0)
    wall = _crossed(plan.recess, at, out) or station.point
    reading = [plan.measured(wall)["xy".index(reads)]]
    for curve in (narrow, wide):
        met = None if curve is None else _crossed(curve, at, out)
        reading.append(math.nan if met is None else plan.measured(met)["xy".index(reads)])
    limits = sorted(each for each in reading[1:] if not math.isnan(each))
    least, most = (limits[0], limits[1]) if len(limits) == 2 else (None, None)
    return SurveyPlace(number, edge, wall, reads, set_out, reading[0], least, most)


def _crossed(outline: Outline, at: Point, out: Point) -> Point | None:
    """Where a line square to a datum line, from a little inside a place outwards, meets an outline."""
    start = Point(at.x - BACK * out.x, at.y - BACK * out.y)
    far = ray_length(outline, start, out)
    return None if far is None or far > 3 * BACK else Point(start.x + far * out.x, start.y + far * out.y)


__all__ = ["DATUM", "SurveyPlace", "SurveyPlan", "corner_radii", "meant_recess", "survey_plan"]
