"""What a survey of the recess says of the pane that goes into it: joint, flush face, bond and landing at every station and every spacer.

Terms
-----
station
    A point of the survey, in the pane's coordinates.
joint
    True distance from the station to the glass edge, mm; negative where the station lies inside the glass. Of a corner whose radius is given
    it counts from the rounding, not from the point in it.
flush face
    How far the glass stands proud (+) or sunk (-) of the skin at a station, mm, on spacers that are all as high as drawn.
bond there
    The bond thickness, mm, that lets the glass stand at a station as proud as drawn.
beside
    The joint that counts on the landing: of a station at a corner the wider of those of its two edges, elsewhere the joint there.
between stations
    Depths change evenly along the wall from one station to the next.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from geometry.outline import (
    Arc,
    Point,
    corners,
    distance_from,
    nearest_station,
    perimeter,
    point_in,
    segments,
    station_at,
    straight_runs,
)
from geometry.outline.meet import distance_to
from geometry.rules.fit import section
from geometry.workings.section_sums import thickness_read, tolerance

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.incoming.surveyed import MeasuredPoint, Surveyed
    from geometry.ledger.figure import Sourced
    from geometry.ledger.size import Size
    from geometry.outline import Corner, Outline
    from geometry.workings.subject import Subject

STATIONS_APART = 300.0
"""mm, greatest distance between two stations of a recess (common practice, no source)."""

HEIGHT_TOLD = 0.05
"""mm, difference of two spacers that their height to a tenth tells."""


@dataclass(frozen=True, slots=True)
class RecessStation:
    """One station; ``bond``, ``spacer`` (free height) and ``flush`` are None where no depth was taken, ``landing`` where none was."""

    line: int
    name: str
    edge: str
    at: Point
    joint: float
    beside: float
    depth: float | None
    landing: float | None
    flush: float | None
    bond: float | None
    spacer: float | None
    landing_inside: float | None


@dataclass(frozen=True, slots=True)
class SpacerAtDepth:
    """A spacer block in a recess of surveyed depth: the depth beside it, and its free height for the flush face as drawn, mm."""

    mark: str
    depth: float
    height: float


class LongestWay(NamedTuple):
    """The longest way along the wall between two stations, mm, their lines in the file and the middle between them."""

    length: float
    lines: tuple[int, int]
    at: Point


@dataclass(frozen=True, slots=True)
class SurveyedRecess:
    """What was worked out of a survey of the recess; ``spacers`` is empty where fewer than two depths were taken."""

    source: str
    stations: tuple[RecessStation, ...]
    spacers: tuple[SpacerAtDepth, ...]
    longest_way: LongestWay


def survey_of(subject: Subject) -> Surveyed | None:
    """The survey of the recess; None where it was not surveyed."""
    form = subject.pane.recess.outline
    return None if form is None else form.surveyed


def of_other_hand(subject: Subject) -> bool:
    """Whether the recess is the mirror image of the one that was surveyed."""
    form = subject.pane.recess.outline
    return form is not None and form.mirrored


def shift_of(subject: Subject) -> tuple[float, float]:
    """From the plane of the survey to the pane's coordinates, mm."""
    form, wall = subject.pane.recess.outline, subject.pane.recess_outline
    assert form is not None and wall is not None, "only a recess that was surveyed"
    one, other = form.measured.vertices[0], wall.vertices[0]
    return other.x - one.x, other.y - one.y


class MeasuredPlace(NamedTuple):
    """A surveyed point: its name (station as typed, else its line of the file), its edge as typed and its place from the pane's origin."""

    name: str
    edge: str
    at: Point


def measured_places(subject: Subject) -> tuple[MeasuredPlace, ...]:
    """The points of the survey in its order; none where the recess was not surveyed."""
    survey = survey_of(subject)
    if survey is None:
        return ()
    places = _places(survey, shift_of(subject), mirrored=of_other_hand(subject))
    return tuple(MeasuredPlace(name_of(point), point.edge, at) for point, at in zip(survey.points, places, strict=True))


def name_of(point: MeasuredPoint) -> str:
    """What a station is called: as it is typed, else by its line of the file."""
    return point.station or f"line {point.line}"


def _places(survey: Surveyed, shift: tuple[float, float], *, mirrored: bool) -> list[Point]:
    side = -1.0 if mirrored else 1.0
    return [Point(side * point.at.x + shift[0], point.at.y + shift[1]) for point in survey.points]


class Stack(NamedTuple):
    """What lies on the landing, mm: bond and glass, which was read where it was, how proud the glass is drawn, squeeze of a spacer (0 to 1)."""

    bond_thickness: float
    glass_thickness: float
    proud: float
    squeeze: float


def stack_of(subject: Subject) -> Stack:
    """The stack of a pane, with its thickness as it was read where one was."""
    sizes = subject.sizes
    return Stack(
        bond_thickness=sizes.bond_thickness.value,
        glass_thickness=float(glass_lain(subject).value),
        proud=sizes.proud.value,
        squeeze=float(subject.asked("spacers.squeeze", scale=0.01).value),
    )


def glass_lain(subject: Subject) -> Size | Sourced:
    """Thickness of the glass that lies in the recess, mm: as it was read, else as ordered."""
    return thickness_read(subject) or subject.sizes.glass_thickness


class _Given(NamedTuple):
    """All that stations and spacers follow from: what is the same for two findings is worked out once."""

    survey: Surveyed
    shift: tuple[float, float]
    mirrored: bool
    glass: Outline
    wall: Outline
    stack: Stack
    set_back: float
    bond_width: float
    spacers: tuple[tuple[str, Point], ...]


def surveyed_recess_of(subject: Subject) -> SurveyedRecess | None:
    """Every station and every spacer of a surveyed recess; None where the recess was not surveyed."""
    survey = survey_of(subject)
    if survey is None:
        return None
    sizes, curves = subject.sizes, subject.detail.curves
    return _worked_out(
        _Given(
            survey=survey,
            shift=shift_of(subject),
            mirrored=of_other_hand(subject),
            glass=curves.glass,
            wall=curves.recess,
            stack=stack_of(subject),
            set_back=sizes.set_back.value,
            bond_width=sizes.bond_width.value,
            spacers=tuple((spacer.mark, spacer.centre) for spacer in subject.detail.spacers),
        )
    )


@lru_cache(maxsize=16)
def _worked_out(given: _Given) -> SurveyedRecess:
    places = _places(given.survey, given.shift, mirrored=given.mirrored)
    stations = tuple(_station(given, point, at) for point, at in zip(given.survey.points, places, strict=True))
    along = [nearest_station(given.wall, each.at).length_along for each in stations]
    return SurveyedRecess(given.survey.source, stations, _spacers(given, stations, along), _longest_way(given, stations, along))


def _station(given: _Given, point: MeasuredPoint, at: Point) -> RecessStation:
    wall = _on_the_wall(given.wall, at)
    joint = distance_from(given.glass, wall) * (-1.0 if point_in(given.glass, wall) else 1.0)
    beside = _beside_edges(given.glass, at, joint)
    flush = bond = spacer = inside = None
    if point.depth is not None:
        flush, bond, spacer = at_depth(given.stack, point.depth)
    if point.landing is not None:
        inside = section.inner_margin(
            landing=point.landing, joint_width=beside, set_back=given.set_back, bond_width=given.bond_width
        )
    return RecessStation(
        point.line, name_of(point), point.edge, at, joint, beside, point.depth, point.landing, flush, bond, spacer, inside
    )


def _on_the_wall(wall: Outline, at: Point) -> Point:
    """A station, or where a rounding that was put in for its corner comes nearest to it: nobody finds a wall in a corner that is filled."""
    nearest = min(segments(wall), key=lambda part: distance_to(part, *at))
    return nearest_station(wall, at).point if isinstance(nearest, Arc) else at


def at_depth(stack: Stack, depth: float) -> tuple[float, float, float | None]:
    """Glass proud on spacers as drawn, bond and free height of a spacer for glass as drawn, mm; no height where no bond is left."""
    flush = section.proud(bond_thickness=stack.bond_thickness, glass_thickness=stack.glass_thickness, recess_depth=depth)
    bond = stack.bond_thickness + stack.proud - flush
    return flush, bond, section.spacer_height(bond_thickness=bond, squeeze=stack.squeeze) if bond > 0 else None


def _beside_edges(glass: Outline, at: Point, joint: float) -> float:
    """The joint that counts on the landing: of a station at a corner the wider of those of its two edges, elsewhere its own."""
    near = nearest_station(glass, at)
    corner = next((each for each in corners(glass) if _rounds(glass, each, near.length_along)), None)
    if corner is None:
        return joint
    runs = [
        run
        for run in straight_runs(glass)
        if math.dist(run.start, corner.tangent_after) < 1e-6 or math.dist(run.end, corner.tangent_before) < 1e-6
    ]
    beside = [(at.x - run.start.x) * run.outward.x + (at.y - run.start.y) * run.outward.y for run in runs]
    return max(beside, default=joint)


def _rounds(glass: Outline, corner: Corner, length: float) -> bool:
    """Whether a place of the glass edge lies on a corner's rounding, or at the sharp corner."""
    whole = perimeter(glass)
    first, last = (nearest_station(glass, place).length_along for place in (corner.tangent_before, corner.tangent_after))
    return (length - first + 1e-6) % whole <= (last - first) % whole + 2e-6


def _spacers(given: _Given, stations: Sequence[RecessStation], lengths: Sequence[float]) -> tuple[SpacerAtDepth, ...]:
    """The depth beside each spacer, between the stations on either side of it along the wall."""
    whole = perimeter(given.wall)
    known = sorted({at: each.depth for at, each in zip(lengths, stations, strict=True) if each.depth is not None}.items())
    if len(known) < 2:
        return ()
    found = []
    for mark, centre in given.spacers:
        along = nearest_station(given.wall, centre).length_along
        after = next((at for at, (length, _) in enumerate(known) if length >= along), 0)
        (low, first), (high, last) = known[after - 1], known[after]
        span, way = (high - low) % whole or whole, (along - low) % whole
        depth = first + (last - first) * way / span
        found.append(SpacerAtDepth(mark, depth, at_depth(given.stack, depth)[2] or 0.0))
    return tuple(found)


def _longest_way(given: _Given, stations: Sequence[RecessStation], lengths: Sequence[float]) -> LongestWay:
    whole = perimeter(given.wall)
    ordered = sorted((length, each.line) for length, each in zip(lengths, stations, strict=True))
    best = LongestWay(0.0, (0, 0), Point(0.0, 0.0))
    for place, (length, line) in enumerate(ordered):
        following, other = ordered[(place + 1) % len(ordered)]
        way = (following - length) % whole
        if way > best.length + 1e-9:
            best = LongestWay(way, (line, other), station_at(given.wall, length + way / 2).point)
    return best


def own_spacer_heights(subject: Subject) -> dict[str, float]:
    """Free height of every spacer, mm, by its mark, where the surveyed depth gives one that is not as drawn; 0 where no bond is left.

    Empty where all spacers are as high as drawn: then one height tells them all.
    """
    recess = surveyed_recess_of(subject)
    if recess is None:
        return {}
    drawn = subject.sizes.spacer_thickness.value
    heights = {each.mark: each.height for each in recess.spacers}
    return heights if any(abs(height - drawn) >= HEIGHT_TOLD for height in heights.values()) else {}


def flush_spread(subject: Subject) -> float:
    """How far the flush face may stray where the depth is measured: spacer, glass and paint at their worst, mm."""
    paint = float(subject.asked("tolerances.paint", unit="mm").value)
    return float(tolerance(subject, "bond_thickness").value + tolerance(subject, "glass_thickness").value) + paint


__all__ = [
    "STATIONS_APART",
    "LongestWay",
    "MeasuredPlace",
    "RecessStation",
    "SpacerAtDepth",
    "Stack",
    "SurveyedRecess",
    "at_depth",
    "flush_spread",
    "glass_lain",
    "measured_places",
    "name_of",
    "of_other_hand",
    "own_spacer_heights",
    "shift_of",
    "stack_of",
    "survey_of",
    "surveyed_recess_of",
]
