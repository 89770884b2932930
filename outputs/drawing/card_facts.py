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
from geometry.detail.edges import ROUND
from geometry.workings.gap_limits import is_even
from geometry.workings.session_releases import Release, bonded_on, releases_of
from geometry.workings.surveyed_recess import own_spacer_heights
from outputs.drawing.card_times import Clock, clock_of
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.workings.fitting import Fitting, PlacedAsMade
    from geometry.workings.quantities import Quantities
    from geometry.workings.subject import Subject
    from geometry.workings.time_plan import TimePlan
    from outputs.sheet.entities import Place

MOST_ROWS = 8
"""Rows of the go or no-go table that the card holds."""
OFF_SQUARE = math.sin(math.radians(2.0))
"""Cosine between two walls up to which a square finds their corner: a third of a millimetre, ten off the wall."""
UNEVEN = 0.5
"""Millimetres by which the spacers of a surveyed recess may differ in their distance from the wall before each is told its own."""


@dataclass(frozen=True, slots=True)
class Lifting:
    """Who carries the pane: kg of glass, people (None: gear alone carries it), whether they work above the shoulder, cups, what is marked on
    each (kg), wind limit (m/s) for lifting; ``wind_held``: what the uncured bead holds, None where straps hold it or nobody worked it out.
    """

    mass: float
    people: int | None
    above_shoulder: bool
    cups: int
    rating: float
    wind: float
    wind_held: float | None

    @property
    def least_wind(self) -> float:
        """The smaller of both, down to the half m/s."""
        return self.wind if self.wind_held is None else min(self.wind, math.floor(self.wind_held * 2) / 2)


@dataclass(frozen=True, slots=True)
class Reading:
    """A place at which the gap is read: letter, place on the recess wall, gap as drawn and what its tolerances may leave of it, and the limits
    of the reading, mm.
    """

    letter: str
    place: Place
    wanted: float
    tightest: float
    least: float
    most: float

    @property
    def too_tight(self) -> bool:
        """Whether less is drawn there than a reading may be."""
        return self.wanted < self.least

    @property
    def no_joint(self) -> bool:
        """Whether the glass lies on the wall or outside it."""
        return self.wanted <= 0

    @property
    def outside_the_job(self) -> bool:
        """Whether the gap as drawn lies outside the limits: what the tolerances allow about it is cut by those of the job."""
        return not self.least <= self.wanted <= self.most


@dataclass(frozen=True, slots=True)
class Gaps:
    """The places at which the gap is read; ``proud`` (negative: sunk) as wanted, least and most, mm."""

    readings: tuple[Reading, ...]
    proud: float
    proud_least: float
    proud_most: float

    @property
    def even(self) -> bool:
        """Whether the same gap is wanted everywhere."""
        return is_even(reading.wanted for reading in self.readings)

    @property
    def may_touch(self) -> bool:
        """Whether the tolerances may leave no joint somewhere."""
        return any(reading.tightest <= 0 for reading in self.readings)


@dataclass(frozen=True, slots=True)
class GoTable:
    """Go or no-go by surface temperature (rows, °C, falling) and humidity (columns, %), in the air of the plan.

    ``go`` holds a row for each temperature; ``planned`` is the cell of the plan or the next worse (row, column), None where it lies beyond the table.
    """

    air: float
    surfaces: tuple[int, ...]
    humidities: tuple[int, ...]
    go: tuple[tuple[bool, ...], ...]
    planned: tuple[int, int] | None
    over_dew_point: float  # K, the least by which the surface is warmer than the dew point


@dataclass(frozen=True, slots=True)
class Days:
    """Whole days after the bonding before which nothing is done; None: never as planned. ``too_early``: a check fails by the backfill.

    ``bonded`` is the day of the bonding, "" where no session gives one; ``dates`` are those of the three days, "" for none.
    """

    move: int | None
    backfill: int
    hose: int | None
    too_early: bool = False
    bonded: str = ""
    dates: tuple[str, str, str] = ("", "", "")


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
    """A row of running distances as the card draws it: zero, unit vectors along it and out of the recess; ``curved`` along a curved wall.

    ``clockwise`` as seen from outside.
    """

    name: str
    zero: Place
    way: Place
    outward: Place
    ticks: tuple[Tick, ...]
    curved: bool
    clockwise: bool
    zero_at: str  # where it begins, in words
    square: bool  # whether the wall at its zero stands square to it, so that a square held to it finds the zero
    corner: int | None  # number of the corner at its zero, None where there is none

    @property
    def counts_from(self) -> str:
        """What a figure that stands off its row says of its zero; "" on a recess without straight walls, whose rows have one zero together.

        The corner as numbered on the card; where the row begins at none, its end, or the curve, which has one zero.
        """
        if self.corner is not None:
            return f"from corner {self.corner}"
        if self.curved:
            return "" if self.name == ROUND else "along curve"
        x, y = self.way
        if abs(x) >= abs(y):
            return "from left" if x > 0 else "from right"
        return "from below" if y > 0 else "from above"

    def off_its_row(self, figure: str, *, in_words: bool = False) -> str:
        """A figure as it stands off its row; ``in_words`` of a block, that have little room, the bare number of the corner."""
        if in_words and self.corner is not None:
            return f"{figure} from {self.corner}"
        return f"{figure} {self.counts_from}".rstrip()


@dataclass(frozen=True, slots=True)
class CardFacts:
    """Everything that both sides say, in mm and degrees, places on the pane as drawn from outside."""

    rows: tuple[Row, ...]
    tape_places: tuple[Place, ...]  # on the glass edge
    placed: PlacedAsMade | None  # how a pane as made is placed
    straps: tuple[Place, ...]
    chock_ends: dict[str, tuple[float, float]]  # height at either end of a block: left and right, or below and above
    spacer_height: float
    spacer_heights: dict[str, float]  # of each, where a surveyed depth gives it one of its own; 0 where no bond is left
    off_wall: dict[str, float]  # of the middle of each spacer
    mask_lines: tuple[float, float]
    bead_centre: float
    pack_changes: tuple[tuple[int, Place], ...]  # number, and place on the bead's centre line
    gun_starts: tuple[Place, ...]  # of the second gun and the next ones
    lifting: Lifting
    clock: Clock
    gaps: Gaps
    go: GoTable
    days: Days
    take: str
    pull: float  # N that straps hold until the bead does, 0 where none

    @property
    def even(self) -> bool:
        """Whether all spacers stand equally far off the wall."""
        away = self.off_wall.values()
        return not away or max(away) - min(away) < UNEVEN


def facts_of(check: PaneCheck) -> CardFacts:
    """All that stands on the card of one pane."""
    from geometry.outline import distance_from

    subject, detail, sizes = check.subject, check.subject.detail, check.subject.sizes
    if check.time_plan is None or check.quantities is None:
        raise ValueError("the card needs the plan of the day and the quantities of its pane")
    set_back, width = sizes.set_back.value, sizes.bond_width.value
    fitting = check.fitting
    return CardFacts(
        rows=tuple(_rows(detail)),
        tape_places=tuple((mark.glass.x, mark.glass.y) for mark in fitting.witness_marks),
        placed=fitting.placed,
        straps=tuple((place.x, place.y) for place in fitting.straps),
        chock_ends={chock.mark: chock.ends for chock in fitting.chocks},
        spacer_height=sizes.spacer_thickness.value,
        spacer_heights=own_spacer_heights(subject),
        off_wall={spacer.mark: distance_from(detail.curves.recess, spacer.centre) for spacer in detail.spacers},
        mask_lines=(fitting.mask_lines.outer, fitting.mask_lines.inner),
        bead_centre=set_back + width / 2,
        pack_changes=tuple((change.number, (change.place.x, change.place.y)) for change in fitting.pack_changes),
        gun_starts=_gun_starts(subject, check.time_plan),
        lifting=_lifting(check),
        clock=clock_of(check.time_plan),
        gaps=gaps_of(fitting, detail),
        go=_go_table(fitting),
        days=days_of(check, check.time_plan),
        take=_take(check.quantities, subject, check.time_plan),
        pull=_pull(subject),
    )


def _rows(detail: Detail) -> Iterator[Row]:
    """The rows of the detail, each block with its foot on the wall of the recess."""
    from geometry.detail.edges import sides_of
    from geometry.outline import nearest_station

    walls = {side.name: side.direction for side in sides_of(detail.curves.glass)}
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
        wall = walls.get(row.wall)
        square = wall is None or abs(wall.x * x + wall.y * y) <= OFF_SQUARE
        yield Row(
            row.edge,
            (row.zero.x, row.zero.y),
            (x, y),
            (side * y, -side * x),
            ticks,
            not row.straight,
            row.clockwise,
            row.zero_at,
            square,
            row.corner,
        )


def _gun_starts(subject: Subject, plan: TimePlan) -> tuple[Place, ...]:
    """Where each gun after the first begins its stretch: stretches of equal length round the pane."""
    from geometry.outline import nearest_station, perimeter, station_at

    centre = subject.detail.curves.bead_centre
    begins, whole = nearest_station(centre, subject.detail.bead_start.place).length_along, perimeter(centre)
    places = [station_at(centre, begins + gun * whole / plan.guns).point for gun in range(1, plan.guns)]
    return tuple((place.x, place.y) for place in places)


def _lifting(check: PaneCheck) -> Lifting:
    subject, carrying = check.subject, check.carrying
    return Lifting(
        mass=float(carrying.mass.value),
        people=None if carrying.gear else carrying.needed.value,
        above_shoulder=carrying.above_shoulder,
        cups=int(carrying.cups.value),
        rating=float(subject.asked("work.cup_rating").value),
        wind=float(subject.limit("wind").value),
        wind_held=next((float(figure.value) for figure in check.figures if figure.record.name == "green.wind_held"), None),
    )


def gaps_of(fitting: Fitting, detail: Detail) -> Gaps:
    """Gaps and flush face; the place of each on the wall of the recess."""
    from geometry.outline import nearest_station

    readings = []
    for gap in fitting.gaps:
        foot = nearest_station(detail.curves.recess, gap.place)
        readings.append(Reading(gap.letter, (foot.point.x, foot.point.y), gap.gap, gap.tightest, gap.gap_least, gap.gap_most))
    flush = fitting.gaps[0]
    return Gaps(tuple(readings), flush.flush, flush.flush_least, flush.flush_most)


def _go_table(fitting: Fitting) -> GoTable:
    """The table with the warmest surface first; of a long one the rows round the plan."""
    table = fitting.climate
    rows = len(table.surfaces)
    planned = None if table.planned is None else table.planned[0]
    first = max(0, min(rows - MOST_ROWS, (rows if planned is None else planned) - MOST_ROWS // 2))
    kept = range(min(rows, first + MOST_ROWS) - 1, first - 1, -1)
    return GoTable(
        air=table.air,
        surfaces=tuple(round(table.surfaces[row]) for row in kept),
        humidities=tuple(round(humidity) for humidity in table.humidities),
        go=tuple(table.go[row] for row in kept),
        planned=None
        if table.planned is None or table.planned[0] not in kept
        else (kept.index(table.planned[0]), table.planned[1]),
        over_dew_point=table.least_surface - table.dew_point,
    )


def days_of(check: PaneCheck, plan: TimePlan) -> Days:
    """The days before which nothing is done, as card, page and form tell them."""
    from geometry.findings.day.cure_checks import CURED_BEFORE_BACKFILL, FIRST_DAYS
    from geometry.ledger.finding import Verdict

    closing = {FIRST_DAYS.name, CURED_BEFORE_BACKFILL.name}
    too_early = any(finding.name in closing and finding.verdict is Verdict.FAIL for finding in check.findings)
    released = {each.what: each for each in releases_of(plan)}
    shown = [released[what] for what in (Release.MOVE, Release.BACKFILL, Release.HOSE)]
    move, backfill, hose = (each.day for each in shown)
    assert backfill is not None  # the joint is closed on some day
    bonded = bonded_on(plan)
    return Days(
        move=move,
        backfill=backfill,
        hose=hose,
        too_early=too_early,
        bonded="" if bonded is None else bonded.isoformat(),
        dates=tuple("" if each.date is None else each.date.isoformat() for each in shown),  # type: ignore[arg-type] # three of them
    )


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
    from geometry.rules.glass import weight

    return float(weight(mass=subject.detail.glass.mass)) * max(0.0, math.sin(math.radians(-subject.pane.rake)))


def rounded_distances(values: Sequence[float]) -> tuple[str, ...]:
    """Running distances as a fitter reads them: whole or half millimetres."""
    return tuple(number(math.floor(value * 2 + 0.5) / 2, decimals=1) for value in values)


__all__ = [
    "CardFacts",
    "Days",
    "Gaps",
    "GoTable",
    "Lifting",
    "Reading",
    "Row",
    "Tick",
    "days_of",
    "facts_of",
    "gaps_of",
    "rounded_distances",
]
