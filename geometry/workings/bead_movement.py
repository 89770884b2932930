"""How far the bead is sheared as glass and frame move against each other, in every temperature case.

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

Both assumptions are worked out where the frame grows away, because the pull of the bead falls with its modulus in heat and
with age, so that the truth lies between; the findings take the worse one at every place. Where the frame closes in both are the
same. The weight hangs on the bead of a free upright pane and stands on the chocks of a chocked one; ship upright, no heel.
Lengths mm, angles degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any

from geometry.detail.parts import BlockKind
from geometry.ledger.figure import worked_once
from geometry.ledger.size import Origin
from geometry.outline import Arc, Outline, Point, nearest_station, perimeter, segments
from geometry.rules.holding import chocks as chock_rules
from geometry.rules.holding import gravity, thermal
from geometry.rules.holding.shear_bed import ShearBed, Station, Stations, shear_bed
from geometry.rules.materials import EXPANSION
from geometry.workings.pane_mass import mass_of
from geometry.workings.temperatures import bonding_temperatures, temperature_cases

if TYPE_CHECKING:
    from geometry.detail.parts import Chock
    from geometry.ledger.figure import Figure, Ledger, Sourced
    from geometry.outline import Segment
    from geometry.sizing.temperatures import Case
    from geometry.workings.subject import Subject


@dataclass(frozen=True, slots=True)
class BeadCase:
    """One temperature case by one assumption.

    ``strain`` is the differential strain, ``figure`` the sum behind ``shear`` at the ``stations``; ``lifted``: the bead has pulled the pane off its
    chocks. ``defaults`` are the keys whose defaults went in; ``racking`` the shear of the frame.
    """

    name: str
    frame: float
    glass: float
    strain: Figure
    figure: Figure
    stations: Stations
    shear: ShearBed
    lifted: bool
    racking: float = 0.0

    @property
    def defaults(self) -> tuple[str, ...]:
        """Keys whose default values went in."""
        return tuple(dict.fromkeys((*self.strain.defaults, *self.figure.defaults)))


@worked_once
def bead_cases(subject: Subject, ledger: Ledger) -> tuple[tuple[BeadCase, ...], ...]:
    """For every temperature case in the order of the job file: one assumption, or both with the one that shears more first."""
    bed = _Bed(subject, ledger)
    return tuple(_case(subject, ledger, case, bed) for case in temperature_cases(subject, ledger))


def racked_cases(subject: Subject, ledger: Ledger, racking: float) -> tuple[BeadCase, ...]:
    """Every temperature case by every assumption with the frame racked either way by ``racking``, a share of its height."""
    bed = _Bed(subject, ledger)
    return tuple(
        each
        for case in temperature_cases(subject, ledger)
        for way in (racking, -racking)
        for each in _case(subject, ledger, case, bed, way)
    )


def is_chocked(subject: Subject) -> bool:
    """Whether setting chocks carry the pane for good."""
    return subject.pane.chocks.permanent and bool(setting_chocks(subject))


def setting_chocks(subject: Subject) -> tuple[Chock, ...]:
    """The chocks under the sill; none under a deck light."""
    return tuple(chock for chock in subject.detail.chocks if chock.kind == BlockKind.SETTING)


def contacts_of(subject: Subject) -> tuple[chock_rules.Contact, ...]:
    """Where chocks and side block push, square to the glass edge; none on a deck light."""
    return tuple(push_of(subject, chock) for chock in subject.detail.chocks if chock.kind != BlockKind.LOCATION)


def push_of(subject: Subject, chock: Chock) -> chock_rules.Contact:
    """Where a block pushes, square to the glass edge."""
    outward = nearest_station(subject.detail.curves.glass, chock.foot).outward
    return chock_rules.Contact(chock.foot.x, chock.foot.y, -outward.x, -outward.y)


def _outermost(subject: Subject) -> tuple[tuple[chock_rules.Contact, ...], tuple[chock_rules.Contact, ...]]:
    """The outermost setting chocks, and they with the side block: a stiff pane stands on no others under one straight edge."""
    every, count = contacts_of(subject), len(setting_chocks(subject))
    setting, others = every[:count], every[count:]
    if count > 2:
        setting = min(setting, key=lambda each: each.x), max(setting, key=lambda each: each.x)
    return setting, (*setting, *others)


def frame_expansion(subject: Subject) -> Sourced:
    """Expansion of the pane's frame, 1/K: given for the pane, given for its material, or the register's."""
    frame = subject.pane.frame
    if frame.expansion is not None:
        return subject.asked("frame.expansion", unit="1/K")
    material = frame.material or "aluminium"
    own = subject.asked(f"materials.{material}.expansion", unit="1/K")
    return own if own.value is not None else replace(own, value=EXPANSION[material], origin=Origin.DEFAULT)


def glass_expansion(subject: Subject) -> Sourced:
    """Expansion of the glass, 1/K."""
    own = subject.asked("materials.glass.expansion", unit="1/K")
    return own if own.value is not None else replace(own, value=EXPANSION["glass"], origin=Origin.DEFAULT)


@worked_once
def weight_of(subject: Subject, ledger: Ledger) -> Figure:
    """The pane's weight in its own axes, N."""
    rake = subject.asked("rake", unit="°")
    return ledger.work("weight of the pane", gravity.weight_in_pane, mass=mass_of(subject, ledger), rake=rake)


moved_bed = lru_cache(maxsize=512)(shear_bed)
"""The movement of a bead, kept: most remedies change neither the bead nor its temperatures."""


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
        count = pieces(part, spacing)
        each = part.length / count
        for index in range(count):
            places += [part.point_at(index / count), part.point_at((index + 0.5) / count)]
            lengths += [carried + each / 6, each * 4 / 6]
            carried = each / 6
    lengths[0] += carried
    return Stations(Station(place.x, place.y, length) for place, length in zip(places, lengths, strict=True))


def pieces(part: Segment, spacing: float) -> int:
    """Into how many pieces a segment is cut: not over twice the spacing (mm) long nor turning by more than 15°."""
    turn = abs(part.sweep) if isinstance(part, Arc) else 0.0
    return max(1, math.ceil(part.length / (2 * spacing) - 1e-9), math.ceil(turn / math.radians(15.0) - 1e-9))


class _Bed:
    """What the bead and what pushes at the pane are in every case; worked out when a case first asks."""

    def __init__(self, subject: Subject, ledger: Ledger) -> None:
        self._subject, self._ledger = subject, ledger

    @cached_property
    def bead(self) -> dict[str, Any]:
        """The bead as an input of ``shear_bed``."""
        return {
            "stations": bead_stations(self._subject.detail.curves.bead_centre),
            "shear_modulus": self._subject.asked("adhesive.shear_modulus", unit="MPa"),
            "bond_width": self._subject.sizes.bond_width,
            "bond_thickness": self._subject.sizes.bond_thickness,
        }

    @cached_property
    def loaded(self) -> dict[str, Any]:
        """The bead with the weight on it."""
        weight = weight_of(self._subject, self._ledger).value
        return {**self.bead, "weight": (weight.right, weight.up), "centroid": tuple(self._subject.detail.centroid)}

    @cached_property
    def chocked(self) -> bool:
        """Whether setting chocks carry the pane for good."""
        return is_chocked(self._subject)

    @cached_property
    def outermost(self) -> tuple[tuple[chock_rules.Contact, ...], tuple[chock_rules.Contact, ...]]:
        """The outermost setting chocks, and they with the side block."""
        return _outermost(self._subject)


def _case(subject: Subject, ledger: Ledger, case: Case, bed: _Bed, racking: float = 0.0) -> tuple[BeadCase, ...]:
    """One temperature case, by both assumptions where they differ; ``racking`` + to the right."""
    name, frame, glass = case
    frame_bonded, glass_bonded = bonding_temperatures(subject)
    strain = ledger.work(
        "differential strain",
        thermal.differential_strain,
        where=name,
        frame_expansion=frame_expansion(subject),
        glass_expansion=glass_expansion(subject),
        frame=frame,
        glass=glass,
        frame_bonded=frame_bonded,
        glass_bonded=glass_bonded,
    )
    racked: dict[str, Any] = {"racking": racking} if racking else {}
    loaded, stations = {**bed.loaded, **racked}, bed.bead["stations"]
    what = (
        "movement of the bead"
        if not racking
        else f"movement of the bead, frame racked to the {'right' if racking > 0 else 'left'}"
    )

    def made(figure: Figure, shear: ShearBed, *, lifted: bool = False) -> BeadCase:
        return BeadCase(name, float(frame.value), float(glass.value), strain, figure, stations, shear, lifted, racking)

    if not bed.chocked:
        free = ledger.work(f"{what}, free", moved_bed, where=name, differential_strain=strain, **loaded)
        return (made(free, free.value),)
    under, contacts = bed.outermost
    pushing = {"differential_strain": strain, "contacts": contacts, **loaded}
    pushed = ledger.work(f"{what}, chocks push only", moved_bed, where=name, **pushing)
    if float(strain.value) <= 0.0:
        return (made(pushed, pushed.value),)
    by_bed = made(pushed, pushed.value, lifted=not any(pushed.value.contact_forces[: len(under)]))
    # A frame that shrinks by as much presses the pane on its chocks: the same movement the other way round. The side block is
    # left out, for nothing would draw the pane after it.
    mirrored = {"differential_strain": -float(strain.value), "contacts": under, **bed.bead}
    if racking:
        mirrored["racking"] = -racking
    held = ledger.work(f"{what}, pane on its chocks", moved_bed, where=name, **mirrored)
    on_chocks = made(held, _turned_round(held.value))
    return (on_chocks, by_bed) if on_chocks.shear.largest >= by_bed.shear.largest else (by_bed, on_chocks)


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


__all__ = [
    "BeadCase",
    "bead_cases",
    "bead_stations",
    "contacts_of",
    "frame_expansion",
    "glass_expansion",
    "is_chocked",
    "pieces",
    "push_of",
    "racked_cases",
    "setting_chocks",
    "weight_of",
]
