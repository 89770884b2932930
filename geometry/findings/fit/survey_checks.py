"""A surveyed recess held against its limits: flat enough for the bond, no point that stands out, stations close enough, and at every
station the glass flush, the bond thick enough, the bead on the landing. Of a recess that was not surveyed nothing is said.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from geometry.findings.checks import found_by
from geometry.findings.fit.section_checks import lie
from geometry.findings.fit.survey_limits import WARP_SHARE, landing_inside, landing_inside_needed, off_plane_most, proud_there
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.outline import nearest_station
from geometry.rules.calculation import Status
from geometry.rules.fit import section_room
from geometry.rules.rounding import mm, number
from geometry.workings.surveyed_recess import STATIONS_APART, flush_spread, of_other_hand, survey_of, surveyed_recess_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.incoming.survey_plane import SurveyPlane
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject
    from geometry.workings.surveyed_recess import RecessStation

PRACTICE = "common practice, no source"

FLAT = Constraint(
    "surveyed landing flat enough for the bond",
    side=Side.AT_MOST,
    source="a third of the bond thickness: common practice, no source",
    status=Status.COMMON_PRACTICE,
)
OUTLIERS = Constraint(
    "no point of the survey stands out",
    side=Side.AT_MOST,
    unit="",
    source="distance from what the other points say; its limits are this project's own defaults",
    status=Status.OWN_DEFAULT,
    short=Verdict.LOOK,
    counted="points",
)
ITSELF = Constraint(
    "the recess itself was surveyed",
    source="no two recesses are alike: common practice, no source",
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    unit="",
    counted="surveys",
)
CLOSE = Constraint(
    "stations of the survey close enough", side=Side.AT_MOST, source=PRACTICE, status=Status.COMMON_PRACTICE, short=Verdict.LOOK
)
PROUD = Constraint(
    "glass not too proud at any surveyed station",
    side=Side.AT_MOST,
    source="worst case of spacers, glass and paint; the limits are this project's own defaults",
    status=Status.DERIVED,
    short=Verdict.LOOK,
    limit_key="limits.proud_most",
)
SUNK = PROUD.but(name="glass not too sunk at any surveyed station", limit_key="limits.sunk_most")
BOND = Constraint(
    "bond left where the surveyed recess is shallowest",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    limit_key="limits.bond_thickness_anywhere",
)
LANDING = Constraint(
    "bead and its squeeze-out on the landing at every surveyed station",
    source="geometry of the section; the margin is common practice, no source",
    status=Status.DERIVED,
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding of this room."""
    return found_by(CHECKS, subject, ledger)


def _survey(subject: Subject, _: Ledger) -> Iterator[Finding]:
    survey = survey_of(subject)
    if survey is None:
        return
    if of_other_hand(subject):
        yield ITSELF.judged(
            value=0.0,
            limit=1.0,
            says=f"{survey.source} is the recess of the other hand, mirrored",
            remedies=(Remedy("survey the recess of this hand, 1 file for each"),),
        )
    if survey.plane is not None:
        yield _flat(subject, survey.plane)
    yield OUTLIERS.judged(
        value=float(len(survey.outliers)),
        limit=0.0,
        says="; ".join(
            f"line {each.line} of {survey.source} stands {mm(each.off)} {'out of the plane' if each.out_of_plane else 'off its edge'}"
            for each in survey.outliers
        )
        or f"all {len(survey.points)} points go with their neighbours",
        remedies=(Remedy("measure " + ", ".join(f"line {each.line}" for each in survey.outliers) + " again"),),
    )
    yield _close(subject)


def _flat(subject: Subject, plane: SurveyPlane) -> Finding:
    bond = subject.sizes.bond_thickness
    allowed = off_plane_most(subject)
    says = (
        f"the points lie within {mm(plane.warp)} of one another across the plane: twist {mm(plane.twist)} at the fourth corner, "
        f"rise {mm(abs(plane.rise_along))} over {number(plane.width, 0)} along and {mm(abs(plane.rise_up))} over "
        f"{number(plane.height, 0)} up"
    )
    thicker = plane.warp / WARP_SHARE
    remedies = [Remedy(f"pad the landing to within {mm(allowed)} of a plane")]
    if thicker <= float(subject.limit("bond_thickness_most").value):
        remedies.append(Remedy(f"make the bond {mm(thicker)} thick or more"))
    if max(abs(plane.rise_along), abs(plane.rise_up)) > allowed:
        remedies.append(Remedy("have the glass bent to the landing"))
    return FLAT.judged(value=plane.warp, limit=allowed, says=says, remedies=remedies, defaults=defaults_of(bond))


def _close(subject: Subject) -> Finding:
    recess = surveyed_recess_of(subject)
    assert recess is not None
    way = recess.longest_way
    return CLOSE.judged(
        value=way.length,
        limit=STATIONS_APART,
        where=f"lines {min(way.lines)} and {max(way.lines)}",
        at=nearest_station(subject.detail.curves.glass, way.at).point,
        says=f"{mm(way.length)} of wall between lines {min(way.lines)} and {max(way.lines)} of {recess.source}",
        remedies=(Remedy(f"take a station every {mm(STATIONS_APART)}, corners and the middles of edges among them"),),
    )


def _depths(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    recess = surveyed_recess_of(subject)
    deep = [each for each in recess.stations if each.flush is not None] if recess is not None else []
    if not deep:
        return
    spread = flush_spread(subject)
    for must, rule, sign in ((PROUD, section_room.proud_at_worst, 1.0), (SUNK, section_room.sunk_at_worst, -1.0)):
        limit = subject.asked(must.limit_key)
        worst = max(deep, key=lambda each: (round(sign * (each.flush or 0.0), 9), -each.line))
        flush = proud_there(subject, ledger, worst.depth or 0.0, where=_where(worst))
        figure = ledger.work(must.name, rule, where=_where(worst), proud=flush, tolerance=spread)
        yield must.judged(
            value=figure.value,
            limit=limit.value,
            where=_where(worst),
            at=nearest_station(subject.detail.curves.glass, worst.at).point,
            says=f"a recess {mm(worst.depth or 0.0)} deep there leaves the glass {lie(flush.value)} on spacers all alike, ±{mm(spread)}",
            remedies=partial(_own_heights, recess.spacers if recess is not None else ()),
            figure=figure,
            defaults=defaults_of(limit),
        )
    yield _bond(subject, deep)


def _own_heights(spacers: tuple[object, ...]) -> tuple[Remedy, ...]:
    if not spacers:
        return ()
    heights = [float(getattr(each, "height", 0.0)) for each in spacers]
    return (Remedy(f"set spacers of their own height, {mm(min(heights))} to {mm(max(heights))}, as listed"),)


def _bond(subject: Subject, deep: list[RecessStation]) -> Finding:
    least = subject.limit("bond_thickness_anywhere")
    worst = min(deep, key=lambda each: (round(each.bond or 0.0, 9), each.line))
    bond = worst.bond or 0.0
    return BOND.judged(
        value=bond,
        limit=least.value,
        where=_where(worst),
        at=nearest_station(subject.detail.curves.glass, worst.at).point,
        says=f"a recess {mm(worst.depth or 0.0)} deep leaves {mm(bond)} of bond under glass that lies as drawn",
        remedies=(
            Remedy(
                f"deepen the recess there to {mm((worst.depth or 0.0) + float(least.value) - bond)}, or let the glass stand proud"
            ),
        ),
        defaults=defaults_of(least),
    )


def _landings(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    recess = surveyed_recess_of(subject)
    wide = [each for each in recess.stations if each.landing_inside is not None] if recess is not None else []
    if not wide:
        return
    worst = min(wide, key=lambda each: (round(each.landing_inside or 0.0, 9), each.line))
    figure = landing_inside(subject, ledger, worst.landing or 0.0, worst.beside, where=_where(worst))
    needed = landing_inside_needed(subject, ledger)
    more = (worst.landing or 0.0) + needed.value - figure.value
    yield LANDING.judged(
        value=figure.value,
        limit=needed.value,
        where=_where(worst),
        at=nearest_station(subject.detail.curves.glass, worst.at).point,
        says=f"{mm(figure.value)} of landing inside the bead where {mm(worst.landing or 0.0)} was measured; {mm(needed.value)} are needed",
        remedies=(Remedy(f"widen the landing there to {mm(more)}"),),
        figure=figure,
        defaults=needed.defaults,
    )


def _where(station: RecessStation) -> str:
    return f"{station.edge} {station.name}".strip()


CHECKS = (_survey, _depths, _landings)


__all__ = ["findings"]
