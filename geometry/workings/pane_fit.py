"""What the best fit of a pane says: gaps at stations, chocks, witness marks, bead and print where they come to lie, a pane to re-order.

Terms
-----
station
    A named place: where the recess was measured (a point of its survey, else a corner of its outline), and the ends and the middle of
    every straight edge of the pane.
wall as measured
    Of a surveyed recess the points joined, not the lines fitted to them; a point at a corner whose radius is given counts at the wall there.
witness mark
    On the middle of a straight edge of the pane; its offset is how far along the edge the mark comes to lie from where it is drawn.
wanted
    The least gap that still leaves the least joint when the tolerances of one side have taken theirs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.compare.between import Between, distances_inside, least_between
from geometry.compare.largest import Largest, largest_of_one, largest_of_two, largest_parallel
from geometry.compare.standing import heights_at
from geometry.detail import curves
from geometry.detail.edges import edges_of
from geometry.detail.parts import BlockKind
from geometry.detail.placing import Placed, placed
from geometry.ledger.figure import Ledger
from geometry.outline import Outline, Point, bounding_box, segments, shapes
from geometry.outline.stations import nearest_station
from geometry.rules import tolerance as rules
from geometry.workings.section_sums import allowed_bow, ordered_tolerance, squeeze_out, tolerance
from geometry.workings.surveyed_recess import measured_places, survey_of

if TYPE_CHECKING:
    from geometry.compare.standing import Pieces
    from geometry.workings.subject import Subject
    from geometry.workings.surveyed_recess import MeasuredPlace

SIDES = (("bottom", 0.0, -1.0), ("right", 1.0, 0.0), ("top", 0.0, 1.0), ("left", -1.0, 0.0))
WAYS = {"bottom": "down", "right": "right", "top": "up", "left": "left"}
"""Which way a mark goes that goes towards a side."""
SAME = 1e-6
"""mm within which two stations are one."""
TURN = math.cos(math.radians(30.0))
"""Cosine of the turn from which a corner of the recess is a corner, and no station on its wall."""


@dataclass(frozen=True, slots=True)
class StationGap:
    """The gap at one station: of the wall or of the pane, its edge, how far along it, its place on the wall, and the gap free and stood, mm.

    ``name`` is that of a surveyed point: edge and station as typed; "" of other stations.
    """

    of: str
    side: str
    edge: str
    along: float
    at: Point
    gap: float
    stood: float | None
    name: str = ""


@dataclass(frozen=True, slots=True)
class RecessTaken:
    """Which recess a pane was fitted into: of a survey its file and how many points it has; ``own``: an outline of its own was given."""

    survey: str
    points: int
    own: bool


@dataclass(frozen=True, slots=True)
class WitnessMark:
    """One witness mark: edge, its place on the placed pane, how far along the edge it comes to lie from where it is drawn, and the gap there, mm.

    ``way`` says in a word which way it goes, seen from outside: right, up, left or down.
    """

    edge: str
    side: str
    at: Point
    offset: float
    gap: float
    way: str


@dataclass(frozen=True, slots=True)
class ChockPlace:
    """One setting chock: its mark, its foot on the placed pane, its height in the best fit and from the stock, mm."""

    mark: str
    at: Point
    free: float
    pieces: Pieces | None


@dataclass(frozen=True, slots=True)
class Room:
    """What is left somewhere and what is needed, mm, and where it is least; ``looks``: only seen, nothing hangs on it."""

    name: str
    left: float
    needed: float
    at: Point | None
    looks: bool = False

    @property
    def holds(self) -> bool:
        """Whether enough is left."""
        return self.left >= self.needed - SAME


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of the pane as made beside what was ordered, mm, with how far it may be off, smaller and larger; None: not told."""

    name: str
    made: float
    ordered: float
    less: float | None
    more: float | None

    @property
    def holds(self) -> bool:
        """Whether it is within what may be off."""
        off = self.made - self.ordered
        return (self.less is None or off >= -self.less - SAME) and (self.more is None or off <= self.more + SAME)


@dataclass(frozen=True, slots=True)
class SideTolerance:
    """What the tolerances may take off the gap of one side, mm: each by its key and share, worst case and root of squares."""

    parts: tuple[tuple[str, float, float], ...]

    @property
    def worst(self) -> float:
        """All of them at once."""
        return rules.worst_case(*(part for _, _, part in self.parts))

    @property
    def likely(self) -> float:
        """By the root of squares."""
        return rules.root_sum_square(*(part for _, _, part in self.parts))


@dataclass(frozen=True, slots=True)
class PaneFit:
    """Everything about the fit of one pane."""

    placed: Placed
    stations: tuple[StationGap, ...]
    marks: tuple[WitnessMark, ...]
    chocks: tuple[ChockPlace, ...]
    rooms: tuple[Room, ...]
    tolerance: SideTolerance
    joint_least: float
    largest: Largest | None
    readings: tuple[Reading, ...]
    made: bool
    recess: RecessTaken

    @property
    def wanted(self) -> float:
        """The least gap of a pane yet to be made."""
        return self.joint_least + self.tolerance.worst

    @property
    def holds(self) -> bool:
        """Whether the least gap is no less than the least joint, and bead and print lie where they must."""
        return self.placed.free.least_gap >= self.joint_least - SAME and all(room.holds or room.looks for room in self.rooms)


def fit_of_pane(subject: Subject, *, prove: bool = True) -> PaneFit:
    """The best fit of one pane in its recess, as it was made or as it is ordered."""
    pane, sizes = subject.pane, subject.sizes
    found = placed(pane, sizes, prove=prove)
    taken = _side_tolerance(subject)
    least = float(subject.limit("joint_least").value)
    return PaneFit(
        found,
        _stations(found, measured_places(subject)),
        marks_of(found),
        _chocks(subject, found),
        _rooms(subject, found),
        taken,
        least,
        _largest(subject, found, least + taken.worst),
        _readings(subject),
        pane.made is not None and pane.made.shape_given,
        _recess_taken(subject),
    )


def _recess_taken(subject: Subject) -> RecessTaken:
    survey = survey_of(subject)
    if survey is None:
        return RecessTaken("", 0, subject.pane.recess_outline is not None)
    return RecessTaken(survey.source, len(survey.points), own=True)


def _side_tolerance(subject: Subject) -> SideTolerance:
    parts = []
    for name, share in (("recess", 0.5), ("pane", 0.5), ("placing", 1.0)):
        stated = tolerance(subject, name)
        parts.append((stated.key, float(stated.value), share * float(stated.value)))
    return SideTolerance(tuple(parts))


def _side_of(x: float, y: float) -> str:
    return max(SIDES, key=lambda side: round(side[1] * x + side[2] * y, 9))[0]


def _stations(found: Placed, measured: tuple[MeasuredPlace, ...]) -> tuple[StationGap, ...]:
    free = found.free.placed(found.pane)
    stood = None if found.stood is None else found.stood.fit.placed(found.pane)
    walls = [nearest_station(found.recess, each.at).point for each in measured] or _wall_stations(found.recess)
    names = [f"{each.edge} {each.name}".strip() for each in measured] or [""] * len(walls)
    gaps = [-each for each in distances_inside(free, walls)]
    others = [-each for each in distances_inside(stood, walls)] if stood is not None else [None] * len(walls)
    rows = []
    for at, gap, other, called in zip(walls, gaps, others, names, strict=True):
        name, distance, out = _beside(free, at)
        rows.append(StationGap("wall", _side_of(*out), name, distance, at, gap, other, called))
    for edge in edges_of(found.pane):
        for along in (edge.first, edge.middle, edge.last):
            place = edge.at(along)
            on = found.free.place(place)
            gap = distances_inside(found.recess, [on])[0]
            other = None if found.stood is None else distances_inside(found.recess, [found.stood.fit.place(place)])[0]
            rows.append(StationGap("pane", _side_of(*edge.outward), edge.name, along, on, gap, other))
    return tuple(rows)


def _wall_stations(recess: Outline) -> list[Point]:
    """Where the wall was measured: the ends of its straights that are no corners."""
    parts = segments(recess)
    found = []
    for before, part in zip((parts[-1], *parts[:-1]), parts, strict=True):
        one, other = before.tangent_at(1.0), part.tangent_at(0.0)
        if not before.bulge and not part.bulge and one.x * other.x + one.y * other.y > TURN:
            found.append(part.start)
    return found


def _beside(glass: Outline, at: Point) -> tuple[str, float, Point]:
    """The straight edge that a place lies beside, how far along it, and which way the glass looks there."""
    station = nearest_station(glass, at)
    edges = edges_of(glass)
    if not edges:
        return "round", station.length_along, station.outward
    edge = min(
        edges,
        key=lambda each: round(
            -each.outward.x * station.outward.x - each.outward.y * station.outward.y
            + abs(min(0.0, each.distance_of(at)) + max(0.0, each.distance_of(at) - each.end)) / 1e3, 9
        ),
    )  # fmt: skip
    return edge.name, edge.distance_of(at), edge.outward


def marks_of(found: Placed) -> tuple[WitnessMark, ...]:
    """The witness marks of a placed pane, one in the middle of every straight edge."""
    marks = []
    for edge in edges_of(found.pane):
        drawn = edge.at(edge.middle)
        at = found.drawn.place(drawn)
        along = (at.x - drawn.x) * edge.direction.x + (at.y - drawn.y) * edge.direction.y
        ahead = math.copysign(1.0, along)
        way = WAYS[_side_of(ahead * edge.direction.x, ahead * edge.direction.y)]
        gap = distances_inside(found.recess, [at])[0]
        marks.append(WitnessMark(edge.name, _side_of(*edge.outward), at, along, gap, way))
    return tuple(marks)


def _chocks(subject: Subject, found: Placed) -> tuple[ChockPlace, ...]:
    """From the left as seen from outside: on the other hand of a pane the marks run the other way."""
    if not found.feet:
        return ()
    free = heights_at(found.pane, found.recess, found.free, found.feet)
    pieces = (None,) * len(found.feet) if found.stood is None else found.stood.chocks
    marks = [chock.mark for chock in subject.detail.chocks if chock.kind == BlockKind.SETTING]
    rows = zip(marks, found.feet, free, pieces, strict=True)
    chocks = (ChockPlace(mark, found.drawn.place(foot), height, piece) for mark, foot, height, piece in rows)
    return tuple(sorted(chocks, key=lambda each: each.at.x))


def _rooms(subject: Subject, found: Placed) -> tuple[Room, ...]:
    """Landing inside the bead, frit beyond the landing, and the solid frit as made, where the pane comes to lie."""
    sizes, pane = subject.sizes, subject.pane
    spill = squeeze_out(subject, Ledger()).value
    inner = curves.bead_curves(
        found.pane, set_back=sizes.set_back.value, bond_width=sizes.bond_width.value, corner_radius=sizes.bead_corner_radius.value
    )[2]
    sight = curves.sight_line(found.recess, landing=sizes.landing.value)
    bead = least_between(sight, found.drawn.placed(inner))
    needed = spill + float(subject.limit("landing_inside").value)
    rooms = [_room("landing inside the bead", bead, needed)]
    frit = curves.frit_inner_edge(found.pane, width=sizes.frit_width.value, corner_radius=sizes.frit_corner_radius.value)
    if pane.frit_outline is None:
        rooms.append(_room("frit beyond the landing", least_between(found.drawn.placed(frit), sight), 0.0, looks=True))
    readings = None if pane.made is None else pane.made.frit
    if readings is not None:
        least = min(range(len(readings)), key=lambda i: readings[i])
        covered = sizes.set_back.value + sizes.bond_width.value + spill + float(subject.limit("frit_margin").value)
        rooms.append(Room(f"solid frit as made, reading {least + 1}", readings[least], covered, None))
    return tuple(rooms)


def _readings(subject: Subject) -> tuple[Reading, ...]:
    """What was measured on the pane beside the order; that a size is out of tolerance does not say that the pane does not fit."""
    pane = subject.pane
    made = pane.made
    if made is None:
        return ()
    left, bottom, right, top = pane.outline.box
    size, thick = float(tolerance(subject, "pane").value), float(ordered_tolerance(subject, "glass_thickness").value)
    found = []
    for name, readings, ordered in (("width", made.width, right - left), ("height", made.height, top - bottom)):
        several = readings if isinstance(readings, tuple) else () if readings is None else (readings,)
        found += [Reading(name, float(each), ordered, size, size) for each in several]
    if made.diagonals is not None:
        apart = abs(made.diagonals[0] - made.diagonals[1])
        found.append(Reading("difference of the diagonals", apart, 0.0, None, pane.tolerances.diagonals))
    if made.thickness is not None:
        found.append(Reading("thickness", made.thickness, pane.glass.thickness, thick, thick))
    if made.bow is not None:
        found.append(Reading("bow", made.bow, 0.0, None, float(allowed_bow(subject).value)))
    return tuple(found)


def _room(name: str, between: Between, needed: float, *, looks: bool = False) -> Room:
    return Room(name, between.gap, needed, between.on_inner, looks)


def _largest(subject: Subject, found: Placed, wanted: float) -> Largest | None:
    """The largest pane of whole millimetres of the form ordered that keeps the wanted gap."""
    form, box = subject.pane.outline, bounding_box(found.recess)
    wide, high = math.floor(box.width), math.floor(box.height)
    if form.rectangle is not None:
        radius = form.radius if form.radius is not None else 0.0
        radii = tuple(radius) if isinstance(radius, tuple) else (radius,) * 4

        def rectangle(width: int, height: int) -> Outline:
            most = min(width, height) / 2
            return shapes.polygon([(0, 0), (width, 0), (width, height), (0, height)], radii=[min(each, most) for each in radii])

        return largest_of_two(rectangle, found.recess, start=(wide, high), joint=wanted)
    if form.ellipse is not None:
        return largest_of_two(shapes.ellipse, found.recess, start=(wide, high), joint=wanted)
    if form.circle is not None:
        return largest_of_one(shapes.circle, found.recess, start=min(wide, high), joint=wanted)
    return largest_parallel(subject.pane.glass_outline, found.recess, joint=wanted)


__all__ = [
    "ChockPlace",
    "PaneFit",
    "Reading",
    "RecessTaken",
    "Room",
    "SideTolerance",
    "StationGap",
    "WitnessMark",
    "fit_of_pane",
    "marks_of",
]
