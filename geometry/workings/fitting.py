"""What the fitter marks, lays and reads at the frame: witness marks, mask lines, pack changes, gaps at eight places, chock heights, go or no-go.

Terms
-----
witness mark
    A stroke across the joint, on glass and frame, by which the pane is brought back to its place: in the middle of every side.
mask line
    The edge of the masking beside the bead: the band that is primed, mm from the glass edge.
pack change
    Where the bead has used up a pack, on its true centre line from its start, counter-clockwise as seen from outside.
gap station
    One of eight places round the pane, a to h clockwise as seen from outside, where joint and flush face are read before the press is let go.
    Where the joint is less than at all of them, the nearest of them moves to the place where it is least.
go or no-go
    Whether air of a humidity and surfaces of a temperature let the bonding go ahead, at the air temperature of the job.

Lengths mm, temperatures °C.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from geometry.detail.edges import DOWN, LEFT, RIGHT, ROUND, UP, Edge, Site, sides_of, site_facing, site_on_edge, site_round
from geometry.detail.sections import joint_width_at
from geometry.ledger.figure import Ledger
from geometry.outline import Point, bounding_box, nearest_station, perimeter, station_at
from geometry.rules.day import climate, quantities
from geometry.workings.gap_limits import gap_limits, told_about
from geometry.workings.glass_edge import edge_place
from geometry.workings.movement import joint_places, side_tolerance
from geometry.workings.quantities import adhesive_need, pack_yield
from geometry.workings.section_sums import flush_tolerance_of, proud_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Chock, Detail
    from geometry.outline import Outline
    from geometry.outline.measure import Box
    from geometry.workings.subject import Subject

__all__ = [
    "LETTERS", "ChockEnds", "ClimateTable", "Fitting", "GapStation", "MaskLines", "PackChange", "PlacedAsMade", "TapeMove", "WitnessMark",
    "fitting_of", "gap_sites", "witness_marks",
]  # fmt: skip

STATIONS = 8
LETTERS = "abcdefgh"
Reading = tuple[float, str, Point, float]  # length along the glass, edge, place, gap
TIGHTER = 0.05  # mm less than at every other place, from which the place of the least joint is read
CLEAR_OF_CHOCK = 20.0
"""mm between a gap station and the end of a chock, which fills the joint (own default)."""
SURFACE_STEP = 2.0  # K between the rows of the go or no-go table
BELOW, ABOVE = 2, 3  # rows at least below and above the least surface temperature
HUMIDITIES = (40.0, 50.0, 60.0, 70.0, 80.0, 90.0)


@dataclass(frozen=True, slots=True)
class WitnessMark:
    """A mark at the middle of a side: ``glass`` on the glass edge, ``wall`` on the recess wall straight outside it."""

    edge: str
    glass: Point
    wall: Point


@dataclass(frozen=True, slots=True)
class MaskLines:
    """Edges of the masking from the glass edge: ``outer`` is 0 where the band reaches the glass edge."""

    outer: float
    inner: float


@dataclass(frozen=True, slots=True)
class PackChange:
    """Change ``number`` of gun ``gun`` (from 1) at ``distance`` along the bead's centre line from its start; ``edge`` beside it."""

    gun: int
    number: int
    distance: float
    place: Point
    edge: str


@dataclass(frozen=True, slots=True)
class GapStation:
    """A place to read. ``gap`` and ``flush`` (+ proud, - sunk) as drawn, with the limits of a reading as every document tells them.

    Beside a surveyed recess the gap is what is drawn there. ``tightest`` is what the tolerances may leave of it; no joint is drawn where
    ``gap`` is nought or less, and the glass may touch where ``tightest`` is.
    """

    letter: str
    edge: str
    place: Point
    gap: float
    tightest: float
    gap_least: float
    gap_most: float
    flush: float
    flush_least: float
    flush_most: float


@dataclass(frozen=True, slots=True)
class ChockEnds:
    """Heights of a block at its middle and at both ends, seen from outside: left and right, of a block at a jamb below and above."""

    mark: str
    height: float
    ends: tuple[float, float]
    named: tuple[str, str]


@dataclass(frozen=True, slots=True)
class ClimateTable:
    """Go (true) or no-go at ``air``: a row for every surface temperature, ``humidities`` across.

    ``planned`` is row and column of the job's own day: the next lower surface and the next higher humidity; None where that is off the
    table. ``dew_point`` and ``least_surface`` are those of the job's day.
    """

    air: float
    dew_point: float
    least_surface: float
    humidities: tuple[float, ...]
    surfaces: tuple[float, ...]
    go: tuple[tuple[bool, ...], ...]
    planned: tuple[int, int] | None


@dataclass(frozen=True, slots=True)
class TapeMove:
    """How far the tape mark in the middle of a side comes to lie from where the pane as made was drawn, mm along the side, and which way."""

    edge: str
    side: str
    offset: float
    way: str


@dataclass(frozen=True, slots=True)
class PlacedAsMade:
    """How a pane as made is placed: its tape marks, its turn in mm per metre, to the left positive."""

    marks: tuple[TapeMove, ...]
    per_metre: float


@dataclass(frozen=True, slots=True)
class Fitting:
    """All of it for one pane. ``straps`` are the places where straps or props bear, as typed; empty where none are given."""

    witness_marks: tuple[WitnessMark, ...]
    mask_lines: MaskLines
    pack_changes: tuple[PackChange, ...]
    gaps: tuple[GapStation, ...]
    chocks: tuple[ChockEnds, ...]
    climate: ClimateTable
    straps: tuple[Point, ...]
    placed: PlacedAsMade | None = None  # of a pane as made: how its best fit places it


def fitting_of(subject: Subject, ledger: Ledger | None = None) -> Fitting:
    """What the fitter of one pane marks, lays and reads."""
    known = Ledger() if ledger is None else ledger
    return Fitting(
        witness_marks=witness_marks(subject.detail),
        mask_lines=_mask_lines(subject),
        pack_changes=_pack_changes(subject, known),
        gaps=_gaps(subject, known),
        chocks=tuple(_ends(subject.detail.curves.recess, subject.detail.curves.glass, chock) for chock in subject.detail.chocks),
        climate=_climate(subject),
        straps=tuple(Point(place[0], place[1]) for place in subject.pane.straps or ()),
        placed=_placed(subject),
    )


def _placed(subject: Subject) -> PlacedAsMade | None:
    fit = subject.detail.placed
    if fit is None:
        return None
    from geometry.detail.placing import placed
    from geometry.workings.pane_fit import marks_of

    marks = marks_of(placed(subject.pane, subject.sizes, prove=False))
    return PlacedAsMade(tuple(TapeMove(each.edge, each.side, abs(each.offset), each.way) for each in marks), fit.per_metre)


def witness_marks(detail: Detail) -> tuple[WitnessMark, ...]:
    """One in the middle of every side; on a pane without sides below, right, above and left."""
    glass = detail.curves.glass
    sides = sides_of(glass)
    sites = [site_on_edge(glass, side, side.middle) for side in sides] or [
        site_facing(glass, way) for way in (DOWN, RIGHT, UP, LEFT)
    ]
    found = []
    for site in sites:
        at, out = site.station.point, site.station.outward
        joint = joint_width_at(detail.curves.recess, site.station)
        found.append(WitnessMark(site.edge, at, Point(at.x + joint * out.x, at.y + joint * out.y)))
    return tuple(found)


def _mask_lines(subject: Subject) -> MaskLines:
    """The primed band: the bead and what is primed beside it, ``consumables.beside_bead``."""
    sizes, beside = subject.sizes, subject.pane.consumables.beside_bead
    return MaskLines(max(0.0, sizes.set_back.value - beside), sizes.set_back.value + sizes.bond_width.value + beside)


def _pack_changes(subject: Subject, ledger: Ledger) -> tuple[PackChange, ...]:
    """Each gun lays its own stretch, one after the other round the pane; the last pack of each need not last."""
    detail, guns = subject.detail, subject.pane.work.guns
    centre, length = detail.curves.bead_centre, detail.uncured_bead.length
    start = nearest_station(centre, detail.bead_start.place).length_along
    packs = -(-adhesive_need(subject, ledger).packs.value // guns)
    found = []
    for number in range(1, packs):
        along = ledger.work(
            f"place of pack change {number}",
            quantities.pack_change_place,
            number=number,
            pack=subject.asked("adhesive.pack", unit="ml"),
            pack_yield=pack_yield(subject.asked("adhesive.pack_rest")),
            bead_area=detail.uncured_bead.area,
        ).value
        if along < length / guns:
            for gun in range(guns):
                distance = gun * length / guns + along
                place = station_at(centre, start + distance).point
                found.append(PackChange(gun + 1, number, distance, place, edge_place(detail.curves.glass, place)[3]))
    return tuple(sorted(found, key=lambda each: (each.gun, each.number)))


# Gaps.


def _gaps(subject: Subject, ledger: Ledger) -> tuple[GapStation, ...]:
    detail = subject.detail
    recess, whole = detail.curves.recess, perimeter(detail.curves.glass)
    allowed, flush = side_tolerance(subject, ledger), float(proud_of(subject, ledger).value)
    off = 0.0 if allowed is None else float(allowed.value)
    either = float(flush_tolerance_of(subject, ledger).value)
    read = [
        (site.station.length_along, site.edge, site.station.point, joint_width_at(recess, site.station))
        for site in gap_sites(detail)
    ]
    tight = min(joint_places(subject, ledger), key=lambda place: round(place.left, 9))
    if tight.left + off < min(gap for *_, gap in read) - TIGHTER:
        read.remove(min(read, key=lambda each: min((each[0] - tight.distance) % whole, (tight.distance - each[0]) % whole)))
        read.append((tight.distance, tight.edge, tight.point, tight.left + off))
    clockwise = _from_the_start(read, detail.curves.glass)
    limits = gap_limits(subject, [gap for *_, gap in clockwise], off)
    lies = told_about(flush, either)
    return tuple(
        GapStation(letter, edge, place, gap, gap - off, *between, flush, *lies)
        for letter, (_, edge, place, gap), between in zip(LETTERS, clockwise, limits, strict=True)
    )


def _from_the_start(read: Sequence[Reading], glass: Outline) -> list[Reading]:
    """Places to read clockwise as seen from outside, the first at the upper left; of a pane without sides at its top."""
    clockwise = sorted(read, key=lambda each: -each[0])
    box, begin = bounding_box(glass), 135.0 if sides_of(glass) else 90.0
    first = min(range(len(clockwise)), key=lambda index: _past_start(clockwise[index][2], box, begin))
    return clockwise[first:] + clockwise[:first]


def gap_sites(detail: Detail) -> tuple[Site, ...]:
    """Eight places clear of corners and chocks.

    Every side gets as many as they go, the longest the rest, in the middles of equal parts of its straight; a pane without sides has them
    at equal lengths, the first at its top.
    """
    glass = detail.curves.glass
    sides = sides_of(glass)
    chocks = [nearest_station(glass, chock.foot).length_along for chock in detail.chocks]
    if sides:
        return tuple(
            site_on_edge(glass, side, _clear(glass, side, (index + 0.5) / count, chocks, detail))
            for side, count in zip(sides, _shared(sides), strict=True)
            for index in range(count)
        )
    whole = perimeter(glass)
    top = nearest_station(glass, site_facing(glass, UP).station.point).length_along
    return tuple(site_round(glass, (top + whole * index / STATIONS) % whole) for index in range(STATIONS))


def _past_start(place: Point, box: Box, begin: float) -> float:
    """Angle clockwise from where the letters begin, degrees, seen from the middle of the box and in its proportions."""
    turn = math.atan2((place.y - box.middle.y) / box.height, (place.x - box.middle.x) / box.width)
    return round((begin - math.degrees(turn)) % 360.0, 3) % 360.0


def _shared(sides: Sequence[Edge]) -> list[int]:
    """Eight stations shared among sides: as many for each as they go, so that a taper is seen, and the rest to the longest."""
    ranked = sorted(range(len(sides)), key=lambda index: (-round(sides[index].straight, 6), index))
    each, rest = divmod(STATIONS, len(sides))
    more = set(ranked[:rest])
    return [each + (index in more) for index in range(len(sides))]


def _clear(glass: Outline, side: Edge, share: float, chocks: Sequence[float], detail: Detail) -> float:
    """The place at a share of a side's straight, moved along it off a chock; where there is no room, the place itself."""
    wanted, whole = side.first + share * side.straight, perimeter(glass)
    room = max((chock.length for chock in detail.chocks), default=0.0) / 2 + CLEAR_OF_CHOCK

    def free(at: float) -> bool:
        along = side.length_along + at - side.first
        return all(min((along - each) % whole, (each - along) % whole) >= room for each in chocks)

    for step in range(int(side.straight / 5.0)):
        for at in (wanted - 5.0 * step, wanted + 5.0 * step):
            if side.first <= at <= side.last and free(at):
                return at
    return wanted


# Chocks.


def _ends(recess: Outline, glass: Outline, chock: Chock) -> ChockEnds:
    """On a straight edge the joint at both ends of the block; on a curve its one height."""
    turn = math.radians(chock.angle)
    upright = abs(math.sin(turn)) > abs(math.cos(turn))
    rising = math.sin(turn) if upright else math.cos(turn)
    named = ("below", "above") if upright else ("left", "right")
    if chock.edge == ROUND:
        return ChockEnds(chock.mark, chock.height, (chock.height, chock.height), named)
    along = nearest_station(glass, chock.foot).length_along
    ends = [round(joint_width_at(recess, station_at(glass, along + step * chock.length / 2)), 9) for step in (-1.0, 1.0)]
    first, last = ends if rising >= 0 else reversed(ends)
    return ChockEnds(chock.mark, chock.height, (first, last), named)


# Climate.


def _climate(subject: Subject) -> ClimateTable:
    day, limits = subject.pane.climate, subject.pane.limits
    air = day.air
    dew = climate.dew_point(air=air, humidity=day.humidity)
    least = climate.least_surface_temperature(air=air, humidity=day.humidity, margin=limits.dew_margin)
    glass, frame = (float(subject.asked(f"climate.{key}").value) for key in (day.glass_key, day.frame_key))
    base, planned = math.floor(least / SURFACE_STEP) * SURFACE_STEP, math.floor(min(glass, frame) / SURFACE_STEP) * SURFACE_STEP
    low, high = min(base - BELOW * SURFACE_STEP, planned), max(base + ABOVE * SURFACE_STEP, planned)
    surfaces = tuple(low + SURFACE_STEP * index for index in range(round((high - low) / SURFACE_STEP) + 1))
    go = tuple(tuple(_goes(subject, air, humidity, surface) for humidity in HUMIDITIES) for surface in surfaces)
    column = next((index for index, each in enumerate(HUMIDITIES) if each >= day.humidity - 1e-9), None)
    cell = None if column is None else (surfaces.index(planned), column)
    return ClimateTable(air, dew, least, HUMIDITIES, surfaces, go, cell)


@lru_cache(maxsize=512)
def _go(air: float, humidity: float, surface: float, margin: float, most: float, coldest: float, warmest: float) -> bool:
    return climate.ready_to_bond(
        air=air,
        humidity=humidity,
        glass=surface,
        frame=surface,
        margin=margin,
        most_humidity=most,
        coldest=coldest,
        warmest=warmest,
    ).go


def _goes(subject: Subject, air: float, humidity: float, surface: float) -> bool:
    limits = subject.pane.limits
    return _go(air, humidity, surface, limits.dew_margin, limits.humidity_most, limits.bonding_coldest, limits.bonding_warmest)
