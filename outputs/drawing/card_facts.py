"""What the fitter's card says: every figure of both sides, taken from the one run of the checks and rounded for a hand.

No figure is worked out here that another document works out as well: all stand in the detail, the findings and the plan of the day. What is
done here is rounding: a step starts on the next full minute, a limit ends on the last.

Terms
-----
offset
    Minutes after the start of work, whole.
set-back, mask lines
    From the glass edge to the bead, and to the two lines of masking tape on the glass.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.block_rows import block_rows
from geometry.rules.day.time_plan import whole_minutes
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.ledger.figure import Ledger
    from geometry.outline import Outline
    from geometry.workings.quantities import Quantities
    from geometry.workings.subject import Subject
    from geometry.workings.time_plan import TimePlan
    from outputs.sheet.entities import Place

BESIDE_BEAD = 3.0
"""From the bead to a line of masking tape, mm (own default)."""
HALF_QUARTER = 45.0
READ_AT = 8
"""Places at which the gap is read."""


@dataclass(frozen=True, slots=True)
class Lifting:
    """Who carries the pane: kg of glass, people (None: gear alone carries it), whether they work above the shoulder, cups, what is marked on
    each (kg), wind limit (m/s).
    """

    mass: float
    people: int | None
    above_shoulder: bool
    cups: int
    rating: float
    wind: float


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the clock: offset in minutes, what is done, minutes to wait (None: work) and the offset by which that wait must end."""

    offset: int
    what: str
    wait: int | None = None
    by: int | None = None


@dataclass(frozen=True, slots=True)
class Clock:
    """The day by the clock. Offsets in minutes; ``begins`` is the start of work in minutes after midnight.

    ``too_long`` is by how many minutes the plan misses its abort, 0 where it does not; ``longest`` are offsets by which a primed face must
    be wetted, None where no longest wait is given; ``from_bead`` are the minutes from the first bead to the abort.
    """

    begins: int
    frame: tuple[Line, ...]
    glass: tuple[Line, ...]
    both: tuple[Line, ...]
    last_lift: int
    last_press: int
    abort: int
    from_bead: int
    too_long: int
    longest: tuple[int | None, int | None]

    def at(self, offset: int) -> str:
        """The time of day: ``09:14``; past midnight ``00:05 +1``."""
        minutes = self.begins + offset
        day = minutes // 1440
        return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}" + (f" +{day}" if day else "")


@dataclass(frozen=True, slots=True)
class Reading:
    """A place at which the gap is read: letter, place on the recess wall, outward unit vector, gap wanted, mm."""

    letter: str
    place: Place
    outward: Place
    wanted: float


@dataclass(frozen=True, slots=True)
class Gaps:
    """Gap wanted, its limits, mm, and the places; ``proud`` (negative: sunk) and what it may be off by, mm."""

    least: float
    most: float
    readings: tuple[Reading, ...]
    proud: float
    proud_off: float

    @property
    def even(self) -> bool:
        """Whether the same gap is wanted everywhere."""
        wanted = [reading.wanted for reading in self.readings]
        return max(wanted) - min(wanted) < 0.05


@dataclass(frozen=True, slots=True)
class GoTable:
    """Go or no-go by surface temperature (rows, °C, falling) and humidity (columns, %), in the air of the plan.

    ``go`` holds a row for each temperature; ``planned`` is the cell of the plan (row, column), None where it lies beyond the table.
    """

    air: float
    surfaces: tuple[int, ...]
    humidities: tuple[int, ...]
    go: tuple[tuple[bool, ...], ...]
    planned: tuple[int, int] | None


@dataclass(frozen=True, slots=True)
class Days:
    """Whole days after the bonding before which nothing is done; None: never as planned."""

    move: int | None
    backfill: int
    hose: int | None


@dataclass(frozen=True, slots=True)
class Tick:
    """A block in its row: mark, running distance in mm, its foot on the wall; ``beside`` where it stands in a corner arc, in two rows."""

    mark: str
    distance: float
    foot: Place
    chock: bool
    beside: bool


@dataclass(frozen=True, slots=True)
class Row:
    """A row of running distances as the card draws it: zero, unit vectors along it and out of the recess; ``curved`` along a curved wall."""

    name: str
    zero: Place
    way: Place
    outward: Place
    ticks: tuple[Tick, ...]
    curved: bool
    zero_at: str  # where it begins, in words


@dataclass(frozen=True, slots=True)
class CardFacts:
    """Everything that both sides say, in mm and degrees, places on the pane as drawn from outside."""

    rows: tuple[Row, ...]
    spacer_height: float
    off_wall: tuple[float, float]  # of the spacers' centres, least and greatest
    mask_lines: tuple[float, float]
    bead_centre: float
    pack_changes: tuple[Place, ...]  # on the bead's centre line
    gun_starts: tuple[Place, ...]  # of the second gun and the next ones
    lifting: Lifting
    clock: Clock
    gaps: Gaps
    go: GoTable
    days: Days
    take: str
    pull: float  # N that straps hold until the bead does, 0 where none


def facts_of(check: PaneCheck) -> CardFacts:
    """All that stands on the card of one pane."""
    from geometry.ledger.figure import Ledger

    subject, detail, sizes = check.subject, check.subject.detail, check.subject.sizes
    if check.time_plan is None or check.quantities is None:
        raise ValueError("the card needs the plan of the day and the quantities of its pane")
    set_back, width = sizes.set_back.value, sizes.bond_width.value
    changes, starts = _changes(subject, check.time_plan)
    ledger = Ledger()
    return CardFacts(
        rows=tuple(_rows(detail)),
        spacer_height=sizes.spacer_thickness.value,
        off_wall=_off_wall(detail),
        mask_lines=(max(0.0, set_back - BESIDE_BEAD), set_back + width + BESIDE_BEAD),
        bead_centre=set_back + width / 2,
        pack_changes=changes,
        gun_starts=starts,
        lifting=_lifting(subject, ledger),
        clock=clock_of(check.time_plan),
        gaps=_gaps(check),
        go=_go_table(subject, ledger),
        days=_days(check.time_plan),
        take=_take(check.quantities, subject, check.time_plan),
        pull=_pull(subject),
    )


def _rows(detail: Detail) -> Iterator[Row]:
    """The rows of the detail, each block with its foot on the wall of the recess."""
    from geometry.outline import nearest_station

    chocks = {chock.mark for chock in detail.chocks}
    rows = block_rows(detail)
    told = Counter(entry.mark for row in rows for entry in row.entries)
    for row in rows:
        (x, y), side = row.direction, -1.0 if row.clockwise else 1.0
        feet = [nearest_station(detail.curves.recess, entry.at).point for entry in row.entries]
        ticks = tuple(
            Tick(entry.mark, entry.distance, (foot.x, foot.y), entry.mark in chocks, told[entry.mark] > 1)
            for entry, foot in zip(row.entries, feet, strict=True)
        )
        yield Row(row.edge, (row.zero.x, row.zero.y), (x, y), (side * y, -side * x), ticks, not row.straight, row.zero_at)


def clock_of(plan: TimePlan) -> Clock:
    """The plan of the day in full minutes: starts up, limits down. Work that begins between two minutes begins on the next."""
    begins = plan.start.hour * 60 + plan.start.minute + plan.start.second / 60
    base = whole_minutes(begins)
    late = begins - base  # nought or less

    def start(minutes: float) -> int:
        return whole_minutes(late + minutes)

    def limit(minutes: float | None) -> int | None:
        return None if minutes is None else whole_minutes(late + minutes, limit=True)

    def lines(chain: str, by: float | None) -> tuple[Line, ...]:
        """The steps of a chain; the first wait, that of the activator, ends by a time where its longest is given."""
        found: list[Line] = []
        for step in plan.steps:
            if step.chain == chain:
                waits = step.flash and chain != "both"
                first = waits and all(line.wait is None for line in found)
                wait = whole_minutes(step.length) if waits else None
                found.append(Line(start(step.start), _SHORT.get(step.what, step.what), wait, limit(by) if first else None))
        return tuple(found)

    activated_frame, primed_frame, activated_glass, primed_glass = (latest for _, latest in plan.waits)
    return Clock(
        begins=base,
        frame=lines("frame", activated_frame),
        glass=lines("glass", activated_glass),
        both=lines("both", None),
        last_lift=whole_minutes(late + plan.latest_lift, limit=True),
        last_press=start(plan.last_press),
        abort=whole_minutes(late + plan.latest_abort, limit=True),
        from_bead=whole_minutes(plan.limit, limit=True),
        too_long=max(1, whole_minutes(plan.too_long)) if plan.do_not_start else 0,
        longest=(limit(primed_frame), limit(primed_glass)),
    )


_SHORT = {
    "abrade the landing": "abrade landing",
    "vacuum, activator wipe": "vacuum, activator",
    "prime the landing": "prime landing",
    "spacers, chocks, gun": "spacers, chocks, gun",
    "goods-in check": "check glass",
    "activator on the bond line": "activator on line",
    "black primer on the glass": "black primer",
    "climate check, wait for the clock": "climate check, wait",
    "press": "press home",
}
"""Wording of the steps for a narrow column; any other stands as it is."""


def _off_wall(detail: Detail) -> tuple[float, float]:
    """Of the spacers' centres, mm; 0 where there is none."""
    from geometry.outline import distance_from

    away = [distance_from(detail.curves.recess, spacer.centre) for spacer in detail.spacers]
    return (min(away), max(away)) if away else (0.0, 0.0)


def _changes(subject: Subject, plan: TimePlan) -> tuple[tuple[Place, ...], tuple[Place, ...]]:
    """Where each pack runs out, and where each gun after the first begins: stretches of equal length, one for a gun."""
    from geometry.outline import nearest_station, perimeter, station_at

    detail, adhesive = subject.detail, subject.job.adhesive
    centre = detail.curves.bead_centre
    begins, whole = nearest_station(centre, detail.bead_start.place).length_along, perimeter(centre)
    of_a_pack = adhesive.pack * (1 - adhesive.pack_rest / 100) * 1000 / detail.uncured_bead.area
    stretch = whole / plan.guns
    count = math.ceil(stretch / of_a_pack - 1e-9) - 1
    at = [gun * stretch + change * of_a_pack for gun in range(plan.guns) for change in range(1, count + 1)]
    changes = tuple((place.x, place.y) for place in (station_at(centre, begins + along).point for along in at))
    guns = [station_at(centre, begins + gun * stretch).point for gun in range(1, plan.guns)]
    return changes, tuple((place.x, place.y) for place in guns)


def _lifting(subject: Subject, ledger: Ledger) -> Lifting:
    from geometry.workings.carrying import carrying_of

    carrying = carrying_of(subject, ledger)
    return Lifting(
        mass=float(carrying.mass.value),
        people=None if carrying.gear else carrying.needed.value,
        above_shoulder=carrying.above_shoulder,
        cups=int(carrying.cups.value),
        rating=float(subject.asked("work.cup_rating").value),
        wind=float(subject.limit("wind").value),
    )


def _gaps(check: PaneCheck) -> Gaps:
    joint, flush = check.stacks[0], check.stacks[1]
    return Gaps(
        least=joint.drawn - joint.worst,
        most=joint.drawn + joint.worst,
        readings=tuple(_readings(check.subject.detail)),
        proud=flush.drawn,
        proud_off=flush.worst,
    )


def _readings(detail: Detail) -> Iterator[Reading]:
    """Eight places clockwise as seen from outside, from the head: two on each of four sides, else at equal lengths from the top."""
    from geometry.detail.sections import joint_width_at
    from geometry.outline import bounding_box, nearest_station, perimeter, station_at

    glass, recess = detail.curves.glass, detail.curves.recess
    edges, whole = detail.edge_middles, perimeter(glass)
    box = bounding_box(glass)
    if len(edges) == 4:
        lengths = []
        for _, middle, _ in sorted(edges, key=lambda edge: (180.0 + HALF_QUARTER - edge[2]) % 360):
            along = nearest_station(glass, middle).length_along
            reach = min(_reach(glass, along, side) for side in (-1.0, 1.0))
            lengths += [along + reach * 0.5, along - reach * 0.5]
    else:
        from geometry.outline import Point

        top = nearest_station(glass, Point((box.left + box.right) / 2, box.top)).length_along
        lengths = [top - whole * (step + 0.5) / READ_AT for step in range(READ_AT)]
    for number_, along in enumerate(lengths):
        station = station_at(glass, along)
        foot = nearest_station(recess, station.point)
        place, outward = (foot.point.x, foot.point.y), (station.outward.x, station.outward.y)
        yield Reading("abcdefgh"[number_], place, outward, joint_width_at(recess, station))


def _reach(glass: Outline, along: float, side: float) -> float:
    """How far a straight side goes on from its middle, mm."""
    from geometry.outline import station_at

    way = station_at(glass, along).tangent
    reach, step = 0.0, 4.0
    while reach < 20000.0:
        other = station_at(glass, along + side * (reach + step)).tangent
        if abs(way.x * other.y - way.y * other.x) > 1e-3:
            return reach
        reach += step
    return reach


def _go_table(subject: Subject, ledger: Ledger) -> GoTable:
    from geometry.findings.day.climate_checks import day_climate
    from geometry.rules.day import climate

    day = day_climate(subject, ledger)
    air = float(day.air.value)
    margin, dampest = float(subject.limit("dew_margin").value), float(subject.limit("humidity_most").value)
    coldest, warmest = float(subject.limit("bonding_coldest").value), float(subject.limit("bonding_warmest").value)
    humidities = (40, 50, 60, 70, 80, 90)
    planned_surface = min(float(day.glass.value), float(day.frame.value))
    lowest = math.floor(min(float(day.least_surface.value), planned_surface)) - 3
    surfaces = tuple(lowest + 2 * step for step in range(7, -1, -1))
    go = tuple(
        tuple(
            humidity <= dampest
            and coldest <= surface <= warmest
            and surface >= climate.dew_point(air=air, humidity=humidity) + margin - 1e-9
            for humidity in humidities
        )
        for surface in surfaces
    )
    row = next((number_ for number_, surface in enumerate(surfaces) if surface <= planned_surface + 1e-9), None)
    column = next((number_ for number_, humidity in enumerate(humidities) if humidity >= day.humidity.value - 1e-9), None)
    return GoTable(air, surfaces, humidities, go, None if row is None or column is None else (row, column))


def _days(plan: TimePlan) -> Days:
    def whole(days: float | None) -> int | None:
        return None if days is None else math.ceil(days - 1e-9)

    return Days(move=whole(plan.handling_day), backfill=math.ceil(plan.backfill_day - 1e-9), hose=whole(plan.hose_day))


def _take(quantities: Quantities, subject: Subject, plan: TimePlan) -> str:
    """What to have at hand, in one line."""
    from geometry.detail.parts import BlockKind
    from geometry.workings.quantities import BACKER, BREAKER

    adhesive, spare = subject.job.adhesive, subject.pane.consumables.packs_in_hand
    parts = [f"{plan.packs}{f' + {spare}' if spare else ''} packs {number(adhesive.pack)} ml"]
    names = {kind.value: "chocks" for kind in BlockKind}
    chocks = 0.0
    for row in quantities.rows:
        if row.what == "spacer":
            parts.append(f"{row.to_buy} spacers")
        elif row.what in names:
            chocks += row.amount
        elif row.what == BACKER:
            parts.append(f"backer {number(row.sizes[0])} mm {row.to_buy}")
        elif row.what == BREAKER:
            parts.append(f"bond-breaker tape {row.to_buy}")
        elif row.what == "masking tape":
            parts.append(f"tape {row.to_buy}")
        elif row.what == "lint-free cloths":
            parts.append(f"{row.to_buy} cloths")
    if chocks:
        at = next((place for place, part in enumerate(parts) if part.endswith("spacers")), 0) + 1
        parts.insert(at, f"{number(chocks)} chocks")
    return ", ".join(parts)


def _pull(subject: Subject) -> float:
    """N off the landing that fresh adhesive would have to hold; 0 where the pane leans back or stands upright."""
    rake = subject.pane.rake
    return subject.detail.glass.mass * 9.81 * max(0.0, math.sin(math.radians(-rake)))


def rounded_distances(values: Sequence[float]) -> tuple[str, ...]:
    """Running distances as a fitter reads them: whole or half millimetres."""
    return tuple(number(math.floor(value * 2 + 0.5) / 2, decimals=1) for value in values)


__all__ = [
    "CardFacts",
    "Clock",
    "Days",
    "Gaps",
    "GoTable",
    "Lifting",
    "Line",
    "Reading",
    "Row",
    "Tick",
    "clock_of",
    "facts_of",
    "rounded_distances",
]
