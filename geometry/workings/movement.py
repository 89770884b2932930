"""How far glass and frame move against each other all round, in every temperature case: bead and joint.

Terms
-----
on its chocks, lifted
    The two assumptions about a chocked pane in a frame that grows away; see ``geometry.workings.bead_movement``.
swell
    A timber stile grows into the joint when its moisture rises. Stiles stand at the jambs: a part of the glass edge takes as much
    of the swell as it looks sideways.
joint left
    The joint as drawn at a place less what recess, pane and placing may take off it.

The pane is stiff and the frame stretches freely, so that every place of the glass edge follows the shift and the turn of the
bead. Lengths mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from geometry.ledger.figure import Sourced, worked_once
from geometry.ledger.size import Origin
from geometry.outline import Point, distance_from, point_in
from geometry.rules.holding import joint, thermal
from geometry.rules.kept import Kept
from geometry.rules.tolerance import joint_tolerance
from geometry.workings.bead_movement import bead_cases, is_chocked, racked_cases
from geometry.workings.glass_edge import EdgePlace, edge_place, edge_places
from geometry.workings.section_sums import tolerance

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger
    from geometry.outline import Outline
    from geometry.rules.holding.shear_bed import ShearBed, Stations
    from geometry.workings.bead_movement import BeadCase
    from geometry.workings.subject import Subject

FREE_STRAIN = math.inf  # what a sealant is strained where no joint is left


@dataclass(frozen=True, slots=True)
class JointMovement:
    """The joint at a place of the glass edge, in one case.

    ``arm`` from the middle of the bead to ``point``, mm; ``outward`` is the unit vector away from the glass; ``swell`` what of a stile's
    is in ``opening``, mm. ``distance`` mm along the glass edge from its first vertex; ``edge`` "e1" .., "V1" .. or "round"; ``opening`` + opens,
    with the swell where it makes matters worse; ``along`` the movement along the joint; ``left`` as drawn there less its
    tolerance; ``strain`` of the sealant as a share, + stretched, - squeezed, infinite where no joint is left.
    """

    point: Point
    distance: float
    edge: str
    corner: bool
    opening: float
    along: float
    left: float
    strain: float
    arm: Point
    outward: Point
    swell: float


@dataclass(frozen=True, slots=True)
class StationMovement:
    """Movement at a station of the bead and of the joint beside it, mm.

    ``point`` lies on the bead's centre line, ``shear_x`` and ``shear_y`` are the glass against the frame there; ``distance``,
    ``edge`` and what the joint does are those of the glass edge beside it (see :class:`JointMovement`).
    """

    point: Point
    distance: float
    edge: str
    shear_x: float
    shear_y: float
    joint_left: float
    strain: float


@dataclass(frozen=True, slots=True)
class CaseMovement:
    """One temperature case. ``stations`` are those of ``shear``, in its order; ``joints`` go round the glass edge.

    ``figure`` is the sum behind ``shear``, ``defaults`` are the keys whose defaults went in; ``other`` is the same case by the
    other assumption (on its chocks or lifted), the one that shears the bead less, None where both are the same.
    """

    name: str
    frame: float
    glass: float
    differential_strain: float
    stations: tuple[StationMovement, ...]
    shear: ShearBed
    worst_shear_index: int
    joints: tuple[JointMovement, ...]
    lifted: bool
    figure: Figure
    defaults: tuple[str, ...] = ()
    racking: float = 0.0
    other: CaseMovement | None = None


@dataclass(frozen=True, slots=True)
class Movement:
    """Every temperature case in the order of the job file."""

    cases: tuple[CaseMovement, ...]
    chocked: bool

    def all_cases(self) -> Iterator[CaseMovement]:
        """Every case by every assumption that was worked out for it."""
        for case in self.cases:
            yield case
            if case.other is not None:
                yield case.other


@worked_once
def movement_of(subject: Subject, ledger: Ledger) -> Movement:
    """Movement of bead and joint round the true outline, in every temperature case."""
    places = joint_places(subject, ledger)
    swell = stile_swell(subject, ledger)
    found = []
    for assumed in bead_cases(subject, ledger):
        worse, *others = (_case(each, places, swell) for each in assumed)
        found.append(replace(worse, other=others[0]) if others else worse)
    return Movement(tuple(found), is_chocked(subject))


def racked_movement(subject: Subject, ledger: Ledger, racking: float) -> Movement:
    """Movement in every temperature case with the frame racked either way by ``racking``, a share of its height."""
    places, swell = joint_places(subject, ledger), stile_swell(subject, ledger)
    cases = tuple(_case(each, places, swell) for each in racked_cases(subject, ledger, racking))
    return Movement(cases, is_chocked(subject))


@worked_once
def side_tolerance(subject: Subject, ledger: Ledger) -> Figure | None:
    """What one side of the joint may lose.

    A recess with an outline of its own is a recess as surveyed, and the pane beside it the pane as fitted: of the register
    nothing comes on top, only tolerances that the job file gives. None where it gives none.
    """
    used: dict[str, Any] = {name: tolerance(subject, name) for name in ("recess", "pane", "placing")}
    if subject.surveyed:
        given = [each for each in used.values() if each.origin is Origin.GIVEN]
        if not given:
            return None
        used = {name: each if each in given else Sourced(0.0, Origin.WORKED_OUT, "", "mm") for name, each in used.items()}
    return ledger.work("tolerance of the joint, one side", joint_tolerance, **used)


@worked_once
def stile_swell(subject: Subject, ledger: Ledger) -> Figure | None:
    """Swell of one timber stile into its jamb's joint; None where the job gives no timber."""
    if subject.pane.timber is None:
        return None
    return ledger.work(
        "swell of a stile into the joint",
        thermal.moisture_swell,
        stile_width=subject.asked("timber.stile_width", unit="mm"),
        swell_per_percent=subject.asked("timber.swell_percent", scale=0.01),
        moisture_change=subject.asked("timber.moisture_change", unit="%"),
    )


@dataclass(frozen=True, slots=True)
class JointPlace:
    """A place of the glass edge with the joint as drawn."""

    point: Point
    tangent: Point
    outward: Point
    distance: float
    edge: str
    corner: bool
    left: float  # as drawn, less its tolerance


class _Places(Kept[JointPlace]):
    """The places of one pane."""


@worked_once
def joint_places(subject: Subject, ledger: Ledger) -> _Places:
    """Places round the glass edge: the ends of every straight side, and places between; the joint at each of them."""
    curves, surveyed = subject.detail.curves, subject.surveyed
    tolerance = side_tolerance(subject, ledger)
    less = 0.0 if tolerance is None else float(tolerance.value)
    parallel = not surveyed and subject.pane.recess.radius is None
    cuts = not parallel and subject.detail.glass_cuts_recess
    recess = None if parallel else curves.recess
    return _places(curves.glass, recess, cuts, surveyed, subject.sizes.joint_width.value, less)


@lru_cache(maxsize=64)
def _places(glass: Outline, recess: Outline | None, cuts: bool, surveyed: bool, drawn: float, less: float) -> _Places:
    """Places with the joint ``drawn`` at each of them, ``less`` its tolerance; ``recess`` where its wall is not parallel to the glass edge."""
    found = []
    round_the_edge = edge_places(glass)
    if surveyed and recess is not None:  # the joint of a surveyed recess is least beside its corners
        round_the_edge += _beside_corners(glass, recess)
    gaps = None if recess is None else _gaps(round_the_edge, recess, cuts)
    for index, (point, tangent, along, edge, corner) in enumerate(round_the_edge):
        gap, beside_rounding = drawn, corner
        if gaps is not None:
            gap = gaps[index]
            if not surveyed and not corner:
                # a straight side that looks at the rounding of the recess belongs to its corner
                beside_rounding = gap < drawn - 1e-6
        outward = Point(tangent.y, -tangent.x)
        found.append(JointPlace(point, tangent, outward, along, edge, beside_rounding, gap - less))
    return _Places(found)


@lru_cache(maxsize=64)
def _beside_corners(glass: Outline, recess: Outline) -> tuple[EdgePlace, ...]:
    return tuple(edge_place(glass, Point(vertex.x, vertex.y)) for vertex in recess.vertices)


@lru_cache(maxsize=64)
def _gaps(places: tuple[EdgePlace, ...], recess: Outline, cuts: bool) -> tuple[float, ...]:
    """The joint as drawn at each place, mm; negative where the glass stands in the frame."""
    return tuple(
        -distance_from(recess, place[0]) if cuts and not point_in(recess, place[0]) else distance_from(recess, place[0])
        for place in places
    )


def _case(bead: BeadCase, places: _Places, swell: Figure | None) -> CaseMovement:
    """One temperature case by one assumption, the joint with the bead."""
    shear, strain = bead.shear, float(bead.strain.value)
    along, joints = _moved(bead.stations, shear, places, (strain, bead.racking), None if swell is None else float(swell.value))
    return CaseMovement(
        name=bead.name,
        frame=bead.frame,
        glass=bead.glass,
        differential_strain=strain,
        stations=along,
        shear=shear,
        worst_shear_index=shear.worst,
        joints=joints,
        lifted=bead.lifted,
        figure=bead.figure,
        defaults=bead.defaults,
        racking=bead.racking,
    )


def _middle(stations: Stations) -> Point:
    whole = math.fsum(station.length for station in stations)
    return Point(
        math.fsum(station.length * station.x for station in stations) / whole,
        math.fsum(station.length * station.y for station in stations) / whole,
    )


@lru_cache(maxsize=256)
def _moved(
    stations: Stations, shear: ShearBed, places: _Places, frame: tuple[float, float], swell: float | None
) -> tuple[tuple[StationMovement, ...], tuple[JointMovement, ...]]:
    """Bead and joint all round; kept, for most remedies change neither."""
    middle = _middle(stations)
    joints = tuple(_joint_movement(place, shear.shift, shear.turn, middle, frame, swell) for place in places)
    beside = (joints[number] for number in _beside(stations, places))
    along = tuple(
        StationMovement(Point(at.x, at.y), near.distance, near.edge, x, y, near.left, near.strain)
        for at, near, (x, y) in zip(stations, beside, shear.shears, strict=True)
    )
    return along, joints


def _joint_movement(
    place: JointPlace, shift: tuple[float, float], turn: float, middle: Point, frame: tuple[float, float], swell: float | None
) -> JointMovement:
    """What the joint does at a place of the glass edge: the rigid pane's shift and turn against the frame, which stretches by the
    first of ``frame`` and is racked by the second.
    """
    strain, racking = frame
    arm, outward, taken = Point(place.point.x - middle.x, place.point.y - middle.y), place.outward, 0.0
    moved_x, moved_y = joint.moved_against_frame(shift, turn, arm, strain, racking)
    opening = -(moved_x * outward.x + moved_y * outward.y)
    along = abs(moved_x * place.tangent.x + moved_y * place.tangent.y)
    strain_ = _strain(opening, along, place.left)
    if swell is not None:
        swollen = opening - swell * abs(outward.x)
        squeezed = _strain(swollen, along, place.left)
        if abs(squeezed) > abs(strain_) or (place.left <= 0.0 and abs(swollen) > abs(opening)):
            opening, strain_, taken = swollen, squeezed, swell
    return JointMovement(
        place.point, place.distance, place.edge, place.corner, opening, along, place.left, strain_, arm, outward, taken
    )


def _strain(opening: float, along: float, left: float) -> float:
    """Share by which the sealant is strained, + stretched, - squeezed; infinite where no joint is left."""
    if left <= 0.0:
        return FREE_STRAIN
    size = joint.greatest_strain(opening=opening, movement_along=along, least_width=left)
    return -size if -opening / left >= size > 0.0 else size


def _beside(stations: Stations, places: _Places) -> tuple[int, ...]:
    """For every station of the bead the number of the nearest place of the glass edge."""
    import numpy as np

    edge = np.array([place.point for place in places])
    bead = np.array([(station.x, station.y) for station in stations])
    return tuple(int(n) for n in ((bead[:, None, :] - edge[None, :, :]) ** 2).sum(axis=2).argmin(axis=1))


__all__ = [
    "CaseMovement",
    "JointMovement",
    "JointPlace",
    "Movement",
    "StationMovement",
    "joint_places",
    "movement_of",
    "racked_movement",
    "side_tolerance",
    "stile_swell",
]
