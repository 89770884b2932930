"""How far glass and frame move against each other all round, in every temperature case: bead and joint.

Terms
-----
chocked
    Setting chocks stay under the pane. A deck light and a pane whose chocks are taken out after the cure are free; the centring
    blocks of a deck light are soft against the bead and count for nothing.
on its chocks
    The pane stays down on its chocks while the frame grows away: the supported pane of the closed forms, fixed at the sill below
    the middle of the bead (on a round pane where the tangents at the chocks meet).
lifted
    The chocks push and do not pull: a bead that pulls harder than the pane weighs lifts it off them.
swell
    A timber stile grows into the joint when its moisture rises. Stiles stand at the jambs: a part of the glass edge takes as much
    of the swell as it looks sideways.

Both assumptions are worked out where the frame grows away, because the pull of the bead falls with its modulus in heat and
with age, so that the truth lies between; the findings take the worse one at every place. Where the frame closes in both are the
same. The weight hangs on the bead of a free upright pane and stands on the chocks of a chocked one; ship upright, no heel.
Lengths mm, angles degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from geometry.detail.edges import edges_of
from geometry.findings.figure import Figure, Sourced
from geometry.outline import Arc, Line, Outline, Point, corners, distance_from, nearest_station, perimeter, point_in, segments
from geometry.rules import chocks as chock_rules
from geometry.rules import gravity, joint, thermal
from geometry.rules.materials import EXPANSION
from geometry.rules.shear_bed import ShearBed, Station, Stations, shear_bed
from geometry.rules.tolerance import joint_tolerance

if TYPE_CHECKING:
    from geometry.detail.parts import Chock
    from geometry.findings.figure import Ledger
    from geometry.findings.subject import Subject
    from geometry.outline import Segment

NOTHING: Mapping[str, Any] = MappingProxyType({})
FREE_STRAIN = math.inf  # what a sealant is strained where no joint is left


@dataclass(frozen=True, slots=True)
class JointMovement:
    """The joint at a place of the glass edge, in one case.

    ``distance`` mm along the glass edge from its first vertex; ``edge`` "e1" .., "corner 1" .. or "round"; ``opening`` + opens,
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
    joint_opening: float
    joint_left: float
    strain: float


@dataclass(frozen=True, slots=True)
class CaseMovement:
    """One temperature case. ``stations`` are those of ``shear``, in its order; ``joints`` go round the glass edge.

    ``figure`` is the sum behind ``shear``; ``other`` is the same case by the other assumption (on its chocks or lifted), the one
    that shears the bead less, None where both are the same.
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


def movement_of(subject: Subject, ledger: Ledger) -> Movement:
    """Movement of bead and joint round the true outline, in every temperature case."""
    joint_places = _joint_places(subject, ledger)
    stations = bead_stations(subject.detail.curves.bead_centre)
    chocked = is_chocked(subject)
    swell = stile_swell(subject, ledger)
    names = subject.pane.temperatures.cases
    return Movement(tuple(_case(subject, ledger, name, stations, joint_places, chocked, swell) for name in names), chocked)


def is_chocked(subject: Subject) -> bool:
    """Whether setting chocks carry the pane for good."""
    return subject.pane.chocks.permanent and bool(setting_chocks(subject))


def setting_chocks(subject: Subject) -> tuple[Chock, ...]:
    """The chocks under the sill; none under a deck light."""
    return tuple(chock for chock in subject.detail.chocks if chock.kind == "setting chock")


def contacts_of(subject: Subject) -> tuple[chock_rules.Contact, ...]:
    """Where chocks and side block push, square to the glass edge; none on a deck light."""
    glass = subject.detail.curves.glass
    found = []
    for chock in subject.detail.chocks:
        if chock.kind != "centring block":
            outward = nearest_station(glass, chock.foot).outward
            found.append(chock_rules.Contact(chock.foot.x, chock.foot.y, -outward.x, -outward.y))
    return tuple(found)


def frame_expansion(subject: Subject) -> Sourced:
    """Expansion of the pane's frame, 1/K: given for the pane, given for its material, or the register's."""
    frame = subject.pane.frame
    if frame.expansion is not None:
        return subject.asked("frame.expansion", unit="1/K")
    material = frame.material or "aluminium"
    own = subject.asked(f"materials.{material}.expansion", unit="1/K")
    return own if own.value is not None else replace(own, value=EXPANSION[material])


def glass_expansion(subject: Subject) -> Sourced:
    """Expansion of the glass, 1/K."""
    own = subject.asked("materials.glass.expansion", unit="1/K")
    return own if own.value is not None else replace(own, value=EXPANSION["glass"])


def weight_of(subject: Subject, ledger: Ledger) -> Figure:
    """The pane's weight in its own axes, N."""
    rake = subject.asked("rake", unit="°")
    mass = subject.detail.glass.mass
    return worked(
        ledger, "weight of the pane", gravity.weight_in_pane, mass=Sourced(mass, subject.sizes.proud.origin, "", "kg"), rake=rake
    )


def side_tolerance(subject: Subject, ledger: Ledger) -> Figure | None:
    """What one side of the joint may lose.

    A recess with an outline of its own is a recess as surveyed, and the pane beside it the pane as fitted: of the register
    nothing comes on top, only tolerances that the job file gives. None where it gives none.
    """
    sizer, given = subject.sizer, {}
    for name in ("recess", "pane", "placing"):
        given[name] = subject.asked(f"tolerances.{name}", unit="mm")
    if subject.pane.recess_outline is not None:
        if all(each.value is None for each in given.values()):
            return None
        used = {name: each if each.value is not None else replace(each, value=0.0, key="") for name, each in given.items()}
    else:
        taken = {"recess": sizer.recess_tolerance(), "pane": sizer.pane_tolerance(), "placing": sizer.placing().value}
        used = {name: each if each.value is not None else replace(each, value=taken[name]) for name, each in given.items()}
    return worked(ledger, "tolerance of the joint, one side", joint_tolerance, inputs=used)


def stile_swell(subject: Subject, ledger: Ledger) -> Figure | None:
    """Swell of one timber stile into its jamb's joint; None where the job gives no timber."""
    if subject.pane.timber is None:
        return None
    return worked(
        ledger,
        "swell of a stile into the joint",
        thermal.moisture_swell,
        stile_width=subject.asked("timber.stile_width", unit="mm"),
        swell_per_percent=subject.asked("timber.swell_percent", scale=0.01),
        moisture_change=subject.asked("timber.moisture_change", unit="%"),
    )


def worked(ledger: Ledger, what: str, rule: Any, *, where: str = "", inputs: Mapping[str, Any] = NOTHING, **more: Any) -> Figure:
    """The figure of that name where this pane's ledger holds it already, else worked out now."""
    for figure in ledger.figures:
        if figure.what == what and figure.where == where:
            return figure
    return ledger.work(what, rule, where=where, **inputs, **more)


@lru_cache(maxsize=64)
def bead_stations(bead: Outline) -> Stations:
    """Stations on the bead's centre line whose lengths integrate up to the square of the distance exactly on straight sides.

    Ends and middle of every piece stand for a sixth, two thirds and a sixth of it (Simpson's rule).

    >>> from geometry.outline import rectangle
    >>> stations = bead_stations(rectangle(1000, 500))
    >>> round(sum(s.length for s in stations)), round(sum(s.length * s.x**2 for s in stations) / 1e6)
    (3000, 1167)
    """
    spacing = max(20.0, perimeter(bead) / 48)
    places: list[Point] = []
    lengths: list[float] = []
    carried = 0.0  # the end of one piece is the beginning of the next
    for part in segments(bead):
        pieces = _pieces(part, spacing)
        each = part.length / pieces
        for index in range(pieces):
            places += [part.point_at(index / pieces), part.point_at((index + 0.5) / pieces)]
            lengths += [carried + each / 6, each * 4 / 6]
            carried = each / 6
    lengths[0] += carried
    return Stations(Station(place.x, place.y, length) for place, length in zip(places, lengths, strict=True))


def _pieces(part: Segment, spacing: float) -> int:
    turn = abs(part.sweep) if isinstance(part, Arc) else 0.0
    return max(1, math.ceil(part.length / (2 * spacing)), math.ceil(turn / math.radians(15.0) - 1e-9))


@dataclass(frozen=True, slots=True)
class _Place:
    """A place of the glass edge with the joint as drawn."""

    point: Point
    tangent: Point
    outward: Point
    distance: float
    edge: str
    corner: bool
    left: float  # as drawn, less its tolerance


def _joint_places(subject: Subject, ledger: Ledger) -> tuple[_Place, ...]:
    """Places round the glass edge: the ends of every straight side, and places between; the joint at each of them."""
    glass, recess = subject.detail.curves.glass, subject.detail.curves.recess
    tolerance = side_tolerance(subject, ledger)
    less = 0.0 if tolerance is None else float(tolerance.value)
    drawn = subject.sizes.joint_width.value
    parallel = subject.pane.recess_outline is None and subject.pane.recess.radius is None
    surveyed = subject.pane.recess_outline is not None
    found = []
    round_the_edge = list(_edge_places(glass))
    if surveyed:  # the joint of a surveyed recess is least beside its corners
        round_the_edge += [_edge_place(glass, Point(vertex.x, vertex.y)) for vertex in recess.vertices]
    for point, tangent, along, edge, corner in round_the_edge:
        gap, beside_rounding = drawn, corner
        if not parallel:
            gap = distance_from(recess, point)
            if subject.detail.glass_cuts_recess and not point_in(recess, point):
                gap = -gap
            if not surveyed and not corner:
                # a straight side that looks at the rounding of the recess belongs to its corner
                beside_rounding = gap < drawn - 1e-6
        outward = Point(tangent.y, -tangent.x)
        found.append(_Place(point, tangent, outward, along, edge, beside_rounding, gap - less))
    return tuple(found)


_EdgePlace = tuple[Point, Point, float, str, bool]
"""Point, tangent, length along, name of the edge, and whether it lies in a rounded corner."""


@lru_cache(maxsize=64)
def _edge_places(glass: Outline) -> tuple[_EdgePlace, ...]:
    """Places all round the glass, both ends of every straight side among them."""
    spacing = max(20.0, perimeter(glass) / 48)
    found = []
    along = 0.0
    parts = segments(glass)
    for before, part in zip((parts[-1], *parts), parts, strict=False):
        straight = isinstance(part, Line)
        count = 2 * _pieces(part, spacing)
        first = 0 if straight or isinstance(before, Arc) else 1  # the end of a straight side is there already
        for index in range(first, count + 1 if straight else count):
            here = along + part.length * index / count
            name, corner = _name_at(glass, along + part.length / 2 if straight else here)
            found.append((part.point_at(index / count), part.tangent_at(index / count), here, name, corner))
        along += part.length
    return tuple(found)


def _edge_place(glass: Outline, beside: Point) -> _EdgePlace:
    station = nearest_station(glass, beside)
    name, corner = _name_at(glass, station.length_along)
    return station.point, station.tangent, station.length_along, name, corner


def _name_at(glass: Outline, along: float) -> tuple[str, bool]:
    """Name of the edge at a length along the glass, and whether that is a rounded corner."""
    whole = perimeter(glass)
    for first, reach, name, corner in _stretches(glass):
        beyond = (along - first) % whole
        if beyond <= reach + 1e-9 or beyond >= whole - 1e-9:
            return name, corner
    return "round", False


@lru_cache(maxsize=64)
def _stretches(glass: Outline) -> tuple[tuple[float, float, str, bool], ...]:
    """Start and length of every straight edge and of every rounded corner, edges first."""
    whole = perimeter(glass)
    found = [(edge.length_along, edge.straight, edge.name, False) for edge in edges_of(glass)]
    for corner in corners(glass):
        if corner.radius > 0:
            first, last = (nearest_station(glass, place).length_along for place in (corner.tangent_before, corner.tangent_after))
            found.append((first, (last - first) % whole, f"corner {corner.number}", True))
    return tuple(found)


def _case(
    subject: Subject,
    ledger: Ledger,
    name: str,
    stations: Stations,
    places: tuple[_Place, ...],
    chocked: bool,
    swell: Figure | None,
) -> CaseMovement:
    """One temperature case, by both assumptions where they differ."""
    key = f"temperatures.cases.{name}"
    case = subject.pane.temperatures.cases[name]
    origin = subject.asked("temperatures.cases").origin
    strain = worked(
        ledger,
        "differential strain",
        thermal.differential_strain,
        where=name,
        frame_expansion=frame_expansion(subject),
        glass_expansion=glass_expansion(subject),
        frame=Sourced(case.frame, origin, f"{key}.frame", "°C"),
        glass=Sourced(case.glass, origin, f"{key}.glass", "°C"),
        bonding=subject.asked("temperatures.bonding", unit="°C"),
    )
    weight = weight_of(subject, ledger).value
    bed: dict[str, Any] = {
        "stations": stations,
        "shear_modulus": subject.asked("adhesive.shear_modulus", unit="MPa"),
        "bond_width": subject.sizes.bond_width,
        "bond_thickness": subject.sizes.bond_thickness,
    }
    loaded: dict[str, Any] = {"weight": (weight.right, weight.up), "centroid": tuple(subject.detail.centroid)}
    contacts = contacts_of(subject)
    beside = _beside(stations, places)

    def made(figure: Figure, shear: ShearBed, lifted: bool) -> CaseMovement:
        middle = _middle(stations)
        joints = tuple(_joint_movement(place, shear, middle, float(strain.value), swell) for place in places)
        return CaseMovement(
            name=name,
            frame=case.frame,
            glass=case.glass,
            differential_strain=float(strain.value),
            stations=tuple(
                StationMovement(
                    Point(station.x, station.y), near.distance, near.edge, shear_x, shear_y, near.opening, near.left, near.strain
                )
                for station, near, (shear_x, shear_y) in zip(stations, (joints[n] for n in beside), shear.shears, strict=True)
            ),
            shear=shear,
            worst_shear_index=shear.worst,
            joints=joints,
            lifted=lifted,
            figure=figure,
        )

    if not chocked:
        free = worked(ledger, "movement of the bead, free", shear_bed, where=name, differential_strain=strain, **bed, **loaded)
        return made(free, free.value, False)
    pushed = worked(
        ledger, "movement of the bead, chocks push only", shear_bed, where=name,
        differential_strain=strain, contacts=contacts, **bed, **loaded,
    )  # fmt: skip
    by_bed = made(pushed, pushed.value, False)
    if float(strain.value) <= 0.0:
        return by_bed
    # A frame that shrinks by as much presses the pane on its chocks: the same movement the other way round. The side block is
    # left out, for nothing would draw the pane after it.
    under = contacts[: len(setting_chocks(subject))]
    mirrored = worked(
        ledger, "movement of the bead, pane on its chocks", shear_bed, where=name,
        differential_strain=-float(strain.value), contacts=under, **bed,
    )  # fmt: skip
    on_chocks = made(mirrored, _turned_round(mirrored.value), False)
    by_bed = replace(by_bed, lifted=not any(pushed.value.contact_forces[: len(under)]))
    first, second = (on_chocks, by_bed) if on_chocks.shear.largest >= by_bed.shear.largest else (by_bed, on_chocks)
    return replace(first, other=second)


def _turned_round(bed: ShearBed) -> ShearBed:
    """The same movement the other way; the chocks do not pull, so their forces are left out."""
    return replace(
        bed,
        shift=(-bed.shift[0], -bed.shift[1]),
        turn=-bed.turn,
        shears=tuple((-x, -y) for x, y in bed.shears),
        contact_forces=tuple(0.0 for _ in bed.contact_forces),
        direction=(bed.direction + 180.0 + 180.0) % 360.0 - 180.0,
    )


def _middle(stations: Stations) -> Point:
    whole = math.fsum(station.length for station in stations)
    return Point(
        math.fsum(station.length * station.x for station in stations) / whole,
        math.fsum(station.length * station.y for station in stations) / whole,
    )


def _joint_movement(place: _Place, bed: ShearBed, middle: Point, strain: float, swell: Figure | None) -> JointMovement:
    """What the joint does at a place of the glass edge: the rigid pane's shift and turn against the stretching frame."""
    arm_x, arm_y = place.point.x - middle.x, place.point.y - middle.y
    moved_x = bed.shift[0] - bed.turn * arm_y - strain * arm_x
    moved_y = bed.shift[1] + bed.turn * arm_x - strain * arm_y
    opening = -(moved_x * place.outward.x + moved_y * place.outward.y)
    along = abs(moved_x * place.tangent.x + moved_y * place.tangent.y)
    strain_ = _strain(opening, along, place.left)
    if swell is not None:
        swollen = opening - float(swell.value) * abs(place.outward.x)
        squeezed = _strain(swollen, along, place.left)
        if abs(squeezed) > abs(strain_) or (place.left <= 0.0 and abs(swollen) > abs(opening)):
            opening, strain_ = swollen, squeezed
    return JointMovement(place.point, place.distance, place.edge, place.corner, opening, along, place.left, strain_)


def _strain(opening: float, along: float, left: float) -> float:
    """Share by which the sealant is strained, + stretched, - squeezed; infinite where no joint is left."""
    if left <= 0.0:
        return FREE_STRAIN
    size = joint.greatest_strain(opening=opening, movement_along=along, least_width=left)
    return -size if -opening / left >= size > 0.0 else size


def _beside(stations: Stations, places: tuple[_Place, ...]) -> tuple[int, ...]:
    """For every station of the bead the number of the nearest place of the glass edge."""
    import numpy as np

    edge = np.array([place.point for place in places])
    bead = np.array([(station.x, station.y) for station in stations])
    return tuple(int(n) for n in ((bead[:, None, :] - edge[None, :, :]) ** 2).sum(axis=2).argmin(axis=1))
