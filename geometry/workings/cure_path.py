"""The way of the bead's cure at the climate of the job, worked out.

Terms
-----
cure path
    Moisture of the air reaches the bead from the joint (outer face) and from inside (inner face) as long as nothing shuts it off.
day of the backfill
    Given, or worked out: the whole day on which the bead has cured through where it is pressed widest, never before the first allowed day.
handling
    Straps off, boat moved: as soon as the cured part of the bead carries the pane with the handling safety.

Days count from the bonding.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.ledger.figure import worked_once
from geometry.rules.day import cure
from geometry.rules.glass import weight as weight_of
from geometry.workings.pane_mass import mass_of
from geometry.workings.section_sums import squeeze_out

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger, Sourced
    from geometry.workings.subject import Subject


@dataclass(frozen=True, slots=True)
class CurePath:
    """Days of one bead. ``as_planned`` is None where it never cures through, ``handling`` where it never carries the pane.

    ``widest_bead`` is its width where the pane lies lowest and it is pressed widest, mm; ``widest`` is when it has cured through there, from
    the faces that are open; ``hose`` the day of the first hose test, None where the bead never cures through.
    """

    rate: Figure
    both: Figure
    one: Figure
    backfill: Figure | Sourced
    as_planned: Figure | None
    handling_width: Figure
    handling: Figure | None
    inner_face_open: bool
    widest_bead: Figure
    widest: Figure
    hose: Figure | None

    @property
    def open_through(self) -> Figure:
        """Days until it is cured through from the faces that are open, if the joint is not closed before."""
        return self.both if self.inner_face_open else self.one

    @property
    def backfill_day(self) -> float:
        """Day on which the joint is closed."""
        return float(self.backfill.value)


@worked_once
def cure_path_of(subject: Subject, ledger: Ledger) -> CurePath:
    """Days of one pane's bead, at the climate of the job."""
    width = subject.sizes.bond_width
    rate = ledger.work(
        "rate of cure in the climate",
        cure.cure_rate,
        air=subject.asked("climate.air", unit="°C"),
        humidity=subject.asked("climate.humidity", unit="%"),
        standard_rate=subject.asked("adhesive.cure_depth", unit="mm/√day"),
        doubling=subject.asked("adhesive.cure_doubling", unit="K"),
    )
    both = ledger.work("cured through, both faces open", cure.days_both_open, bond_width=width, rate=rate)
    one = ledger.work("cured through, one face open", cure.days_one_open, bond_width=width, rate=rate)
    widest = ledger.work(
        "bead where it is pressed widest", cure.widest_bead, bond_width=width, squeeze_out=squeeze_out(subject, ledger)
    )
    inner = subject.asked("inner_face_open")
    through = ledger.work(
        "cured through where the bead is pressed widest",
        cure.days_both_open if inner.value else cure.days_one_open,
        bond_width=widest,
        rate=rate,
    )
    given = subject.asked("backfill_after", unit="d")
    backfill: Figure | Sourced = given
    if given.value is None:
        backfill = ledger.work(
            "day of the backfill",
            cure.backfill_day,
            bond_width=widest,
            rate=rate,
            first_day=subject.limit("backfill_first_day"),
            inner_face_open=inner,
        )
    path: dict[str, Any] = {"backfilled_after": backfill, "rate": rate, "inner_face_open": inner}
    cures = bool(inner.value) or backfill.value >= one.value - 1e-9
    as_planned = ledger.work("cured through as planned", cure.days_backfilled, bond_width=width, **path) if cures else None
    needed = ledger.work(
        "cured width for handling",
        cure.handling_width,
        weight=ledger.work("weight of the pane", weight_of, mass=mass_of(subject, ledger)),
        design_tension=subject.asked("adhesive.design_tension", unit="MPa"),
        bead_length=subject.detail.uncured_bead.length,
        dynamic_factor=subject.limit("dynamic_factor"),
        safety=subject.limit("handling_safety"),
    )
    least = ledger.work(
        "least handling time in the climate",
        cure.least_handling_days,
        hours=subject.asked("adhesive.handling", unit="h"),
        rate=rate,
        standard_rate=subject.asked("adhesive.cure_depth", unit="mm/√day"),
    )
    reached = inner.value or (needed.value / rate.value) ** 2 <= backfill.value + 1e-9
    handling = None
    if needed.value <= width.value and reached:
        handling = ledger.work("handling time", cure.handling_days, width=needed, bond_width=width, least=least, **path)
    hose = None
    if inner.value or backfill.value >= through.value - 1e-9:
        hosed = ledger.work(
            "cured through as planned where the bead is pressed widest", cure.days_backfilled, bond_width=widest, **path
        )
        after = subject.asked("sealant.hose_after", unit="d")
        hose = ledger.work(
            "day of the hose test", cure.hose_day, cured_through=hosed, backfilled_after=backfill, sealant_days=after
        )
    return CurePath(rate, both, one, backfill, as_planned, needed, handling, bool(inner.value), widest, through, hose)


def whole_days(days: float) -> float:
    """Days rounded up to a whole day."""
    return float(math.ceil(days - 1e-9))


__all__ = ["CurePath", "cure_path_of", "whole_days"]
