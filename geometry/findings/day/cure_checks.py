"""The way of the bead's cure: when the joint may be closed, when the pane may be handled, when the boat may be launched.

Terms
-----
cure path
    Moisture of the air reaches the bead from the joint (outer face) and from inside (inner face) as long as nothing shuts it off.
day of the backfill
    Given, or worked out: the whole day on which the bead has cured through, never before the first allowed day.
handling
    Straps off, boat moved: as soon as the cured part of the bead carries the pane with the handling safety.

Days count from the bonding.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from geometry.findings.fit.bead_remedies import bead_changes
from geometry.ledger.figure import Figure, defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.day import cure
from geometry.workings.cure_path import whole_days
from geometry.workings.section_sums import squeeze_out_of

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger
    from geometry.workings.cure_path import CurePath
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"
MOST_DAYS = 3650.0  # nobody plans a launch further ahead


FIRST_DAYS = Constraint(
    "joint left open for the first days of cure",
    side=Side.AT_LEAST,
    unit="d",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.backfill_first_day",
)
CURED_BEFORE_BACKFILL = Constraint("bead cured through before the joint is closed", side=Side.AT_LEAST, unit="d")
INNER_FACE = Constraint(
    "inner face of the bead open while it cures",
    side=Side.AT_LEAST,
    unit="",
    counted="faces",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
)
CARRIES = Constraint("cured bead carries the pane with the handling safety", side=Side.AT_MOST, unit="mm", short=Verdict.LOOK)
HANDLED = Constraint("pane may be handled before the launch", side=Side.AT_MOST, unit="d")
LAUNCHED = Constraint("bead cured through before the launch", side=Side.AT_MOST, unit="d", short=Verdict.LOOK)


def findings(subject: Subject, ledger: Ledger, path: CurePath) -> Iterable[Finding]:
    """Everything about the cure."""
    yield _first_days(subject, path)
    yield _cured_before_backfill(subject, path)
    yield _inner_face(path)
    yield _carries(subject, ledger, path)
    yield from _before_launch(subject, ledger, path)


def _wait(subject: Subject, path: CurePath) -> Remedy:
    day = max(whole_days(path.widest.value), subject.limit("backfill_first_day").value)
    faces = "both faces have" if path.inner_face_open else "the outer face has"
    return Remedy(f"backfill on day {day:g}, when {faces} cured through", (Change("backfill_after", day),))


def _first_days(subject: Subject, path: CurePath) -> Finding:
    first = subject.limit("backfill_first_day")
    day = path.backfill_day
    through = "it never cures through" if path.as_planned is None else f"cured through on day {path.as_planned.value:.1f}"
    says = f"backfilled on day {day:g}: {through}; both faces open it takes {path.both.value:.1f} days"
    soonest = Remedy(f"backfill on day {first.value:g} at the soonest", (Change("backfill_after", first.value),))
    return FIRST_DAYS.judged(
        value=day,
        limit=first.value,
        says=says,
        remedies=lambda: (_wait(subject, path), soonest),
        figure=path.as_planned or path.open_through,
        defaults=defaults_of(first),
    )


def _cured_before_backfill(subject: Subject, path: CurePath) -> Finding:
    """Closed too early the bead cures late: a person decides. Closed on both sides it never cures: that fails."""
    through, day = path.widest, path.backfill_day
    if path.as_planned is None:
        says = f"closed inside and backfilled on day {day:g}: no air reaches the bead and it never cures through"
    else:
        says = f"backfilled on day {day:g}: cured through on day {path.as_planned.value:.1f}"
        if through.value > path.as_planned.value:
            says += f"; where the pane lies lowest the bead is pressed wider and takes {through.value:.1f} days"
    return CURED_BEFORE_BACKFILL.but(
        source=through.record.source,
        status=through.record.status,
        short=Verdict.FAIL if path.as_planned is None else Verdict.LOOK,
    ).judged(
        value=day,
        limit=through.value,
        says=says,
        remedies=lambda: _to_cure(subject, path),
        figure=through,
    )


def _to_cure(subject: Subject, path: CurePath) -> Iterable[Remedy]:
    """What to do for a bead that is closed before it has cured through."""
    if path.as_planned is None:
        open_days = cure.days_both_open(bond_width=path.widest_bead.value, rate=path.rate.value)
        both = max(whole_days(open_days), subject.limit("backfill_first_day").value)
        yield Remedy(
            f"leave the inner face open and backfill on day {both:g}",
            (Change("inner_face_open", True), Change("backfill_after", both)),
        )
        yield _wait(subject, path)
        return
    yield _wait(subject, path)
    yield from _narrower(subject, path, within=path.backfill_day, what="before the joint is closed", pressed=True)


def _narrower(subject: Subject, path: CurePath, *, within: float, what: str, pressed: bool = False) -> Iterable[Remedy]:
    """The widest bead of those the nozzles are cut for that has cured through in time; with ``pressed`` where it is pressed widest."""

    def through(width: float) -> float:
        return width + 2 * squeeze_out_of(subject, bond_width=width) if pressed else width

    faces = 2 if path.inner_face_open else 1
    most = faces * path.rate.value * math.sqrt(max(0.0, within))
    widths = [
        width
        for width in subject.limit("bond_widths").value
        if through(width) <= most + 1e-9 and width < subject.sizes.bond_width.value
    ]
    if widths:
        days = (through(widths[-1]) / faces / path.rate.value) ** 2
        yield Remedy(
            f"lay a bead of {widths[-1]:g} mm: cured through {what}, in {days:.1f} days", bead_changes(subject, width=widths[-1])
        )


def _inner_face(path: CurePath) -> Finding:
    open_faces = 2 if path.inner_face_open else 1
    says = (
        f"both faces open: {path.both.value:.1f} days"
        if path.inner_face_open
        else f"closed inside: {path.one.value:.1f} days in place of {path.both.value:.1f}, with the joint open all the while"
    )
    return INNER_FACE.judged(
        value=open_faces,
        limit=2,
        says=says,
        remedies=(
            Remedy(f"fit lining and dams after day {whole_days(path.both.value):g} only", (Change("inner_face_open", True),)),
        ),
        figure=path.open_through,
    )


def _carries(subject: Subject, ledger: Ledger, path: CurePath) -> Finding:
    """Held against the width that ever cures: all of it, or what cured before the joint shut the last face off."""
    needed, width = path.handling_width, subject.sizes.bond_width.value
    limit = width
    if path.as_planned is None:
        cured = ledger.work("cured when the joint is closed", cure.cured_depth, days=path.backfill, rate=path.rate)
        limit = min(width, cured.value)
    if path.handling is not None:
        says = f"{needed.value:.1f} mm must be cured: straps may come off on day {whole_days(path.handling.value):g}"
    else:
        says = f"{needed.value:.1f} mm must be cured and only {limit:.1f} mm ever are: chocks and holds stay for good"
    wider = [each for each in subject.limit("bond_widths").value if each >= needed.value and each > width]
    remedies = tuple(Remedy(f"widen the bead to {each:g} mm", bead_changes(subject, width=each)) for each in wider[:1])
    keep = Remedy(f"keep chocks and holds: {needed.value:.0f} mm of cured bead would be needed without them")
    return CARRIES.but(source=needed.record.source, status=needed.record.status).judged(
        value=needed.value,
        limit=limit,
        says=says,
        remedies=(*remedies, keep) if needed.value > width else (_wait(subject, path),),
        figure=path.handling or needed,
    )


def _before_launch(subject: Subject, ledger: Ledger, path: CurePath) -> Iterable[Finding]:
    launch, issued = subject.asked("vessel.launch"), subject.bonded_on
    missing = "day of launch" if launch.value is None else "date of the sheet" if issued.value is None else ""
    if missing:
        yield HANDLED.not_checked(what=missing)
        yield LAUNCHED.not_checked(what=missing)
        return
    there = ledger.work("days to the launch", cure.days_to_launch, launch=launch, issued=issued)
    if path.handling is not None:
        yield _launch(subject, path, path.handling, there, must=HANDLED)
    if path.as_planned is not None:
        yield _launch(subject, path, path.as_planned, there, must=LAUNCHED)


def _launch(subject: Subject, path: CurePath, days: Figure, there: Figure, *, must: Constraint) -> Finding:
    day = whole_days(days.value)
    what = "may be handled" if must is HANDLED else "cured through"
    return must.but(source=days.record.source, status=days.record.status).judged(
        value=days.value,
        limit=there.value,
        says=f"{what} {days.value:.1f} days after bonding, {there.value:.0f} days from {_from(subject)} to the launch",
        remedies=lambda: _for_the_launch(subject, path, day, there, must=must),
        figure=days,
    )


def _from(subject: Subject) -> str:
    """The day from which days to the launch are counted, in words."""
    return "the day of the session" if subject.bonded_on.key == "session.date" else "the date of the sheet"


def _for_the_launch(subject: Subject, path: CurePath, day: float, there: Figure, *, must: Constraint) -> Iterable[Remedy]:
    """What to do for a bead that is not there by the launch, but on a later day."""
    if must is LAUNCHED and whole_days(path.open_through.value) <= there.value:
        yield _wait(subject, path)
    if must is LAUNCHED and subject.pane.backfill_after is None:
        yield from _narrower(subject, path, within=there.value, what="before the launch")
    if day < MOST_DAYS:
        later = subject.bonded_on.value + datetime.timedelta(days=day)
        yield Remedy(f"launch on {later.isoformat()} or later", (Change("vessel.launch", later),))
    else:
        yield Remedy(f"bond with an adhesive that cures deeper than {path.rate.value:.2g} mm in its first day")


__all__ = ["CARRIES", "CURED_BEFORE_BACKFILL", "FIRST_DAYS", "HANDLED", "INNER_FACE", "LAUNCHED", "findings"]
