"""One pane checked: every finding, with the figures behind them.

Terms
-----
quick checks
    All findings that need no plate: closed forms, exact curves and the rigid pane on its shear bed.
plate
    The pane bent on its elastic bead; seconds instead of milliseconds, and only where a pressure is given.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, partial
from typing import TYPE_CHECKING

from geometry.detail.build import build_detail
from geometry.findings import odd_sizes, plate_proving
from geometry.findings.checks import Check, found_by
from geometry.findings.corners import corner_checks
from geometry.findings.day import session_checks, work_checks
from geometry.findings.fit import frit_checks, hand_checks, lean_checks, section_checks, survey_checks
from geometry.findings.holding import (
    acceleration_checks,
    bond_checks,
    chock_checks,
    combined_checks,
    glass_load_checks,
    heel_checks,
    joint_checks,
    patch_checks,
    plate_checks,
    racking_checks,
)
from geometry.findings.one_plan import Plan, plan_of
from geometry.findings.proving import found_after, made, proven
from geometry.findings.state import State, state_of
from geometry.job.mark import mark_of
from geometry.ledger.figure import Figure, Ledger
from geometry.ledger.finding import Finding, Verdict, outcome_of
from geometry.workings.carrying import Carrying, carrying_of
from geometry.workings.fitting import Fitting, fitting_of
from geometry.workings.laminate import Laminate, laminate_of
from geometry.workings.movement import Movement, movement_of
from geometry.workings.quantities import Quantities, quantities_of
from geometry.workings.stacks import Stack, stacks_of
from geometry.workings.subject import Subject
from geometry.workings.time_plan import TimePlan, time_plan_of
from geometry.workings.watched import SharingLedger

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane
    from geometry.plate.results import BondStress

ROOMS = (
    odd_sizes, hand_checks, survey_checks, lean_checks, section_checks, frit_checks, corner_checks, joint_checks, chock_checks, heel_checks,
    bond_checks, racking_checks, acceleration_checks, glass_load_checks, work_checks,
)  # fmt: skip
CHECKS: tuple[Check, ...] = tuple(check for room in ROOMS for check in room.CHECKS)
"""Every check that needs no plate, in the order of a reader's questions: fit, hold, do."""


@dataclass(frozen=True)
class PaneCheck:
    """What was found on one pane. ``figures`` in the order in which they were worked out.

    ``plate`` is None where no pressure was given or the plate was not asked for; ``plan`` where none was asked for or no change helps;
    ``laminate`` of a pane of one ply; ``plate_asked``: whether the plate belongs to the run.
    """

    subject: Subject
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    movement: Movement | None = None
    time_plan: TimePlan | None = None
    quantities: Quantities | None = None
    plate: BondStress | None = None
    plan: Plan | None = None
    laminate: Laminate | None = None
    plate_asked: bool = False

    @property
    def stacks(self) -> tuple[Stack, ...]:
        """The tolerances of joint, flush face, frit and bond thickness, added both ways."""
        return stacks_of(self.subject)

    @cached_property
    def carrying(self) -> Carrying:
        """How the pane is carried: people, loads, cups, gear."""
        return carrying_of(self.subject, Ledger())

    @cached_property
    def fitting(self) -> Fitting:
        """What the fitter marks, lays and reads."""
        return fitting_of(self.subject)

    @cached_property
    def mark(self) -> str:
        """The mark of the job, the same on every document of the pane."""
        return mark_of(self.subject.job, self.subject.pane)

    @cached_property
    def state(self) -> State:
        """What every document says of the checks."""
        return state_of(self)

    @property
    def verdict(self) -> Verdict:
        """What the pane comes to: see ``outcome_of``."""
        return outcome_of(self.findings)


def quick_findings(subject: Subject, ledger: Ledger | None = None) -> tuple[Finding, ...]:
    """Every finding that needs no plate, its remedies as they are thought of and not yet tried."""
    return found_by(CHECKS, subject, Ledger() if ledger is None else ledger)


def check_pane(job: Job, pane: Pane, detail: Detail | None = None, *, plate: bool = False, plan: bool = False) -> PaneCheck:
    """Check one pane; with ``plate`` the pane bent on its bead is worked out as well, which takes seconds.

    Its remedies are proven by bending the changed pane again, a few times at most. With ``plan`` the changes that together make the pane
    pass are looked for: some tenths of a second, and with ``plate`` one or two more panes bent.

    Raises ``DetailError`` where its detail cannot be built.
    """
    subject = Subject(job, pane, build_detail(job, pane) if detail is None else detail)
    ledger = SharingLedger()
    every = made(CHECKS, subject, ledger)
    quick, trial = proven(every, subject), partial(found_after, every)
    stress, bent = None, (*combined_checks.without_plate(subject), *patch_checks.without_plate(subject))
    if plate:
        stress, bent = plate_checks.worked_out(subject, ledger)
        if stress is not None:
            failing = frozenset(finding.name for finding in quick if finding.verdict is Verdict.FAIL)
            bent = plate_proving.proven_by_plate(subject, stress, bent, trial, failing)
    time_plan = time_plan_of(subject, ledger)
    found = (*quick, *session_checks.findings(subject, time_plan), *bent)
    planned = None
    if plan:
        with_plate = None if stress is None else plate_proving.bent
        planned = plan_of(subject, quick, quick_findings, trial=trial, plate=bent, bent=with_plate)
    movement = movement_of(subject, ledger)
    quantities = quantities_of(subject, ledger)
    laminate = laminate_of(subject, ledger)
    return PaneCheck(subject, found, ledger.figures, movement, time_plan, quantities, stress, planned, laminate, plate)


__all__ = ["CHECKS", "PaneCheck", "check_pane", "quick_findings"]
