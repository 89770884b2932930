"""Sizes of the bond against what the trade makes: wide enough, thick enough, thin enough for one pass, left at the tightest place.

Terms
-----
small pane
    A pane whose longest side is at most the limit ``small_pane``; it may do with a thinner bond.
tightest place
    Where spacer, hollow landing and bow are all against the bond at once.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.findings.fit.bead_remedies import bead_changes, frit_follows
from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Change, Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.rounding import mm, up
from geometry.workings.section_sums import by_bow, longest_side, taken_at_tightest, tightest_gap, tolerance
from geometry.workings.stacks import taken_in_words, tightest_contributions

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

PRACTICE = "common practice, no source"


WIDE = Constraint(
    "bond wide enough to be laid",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.bond_width_least",
)
THICK = Constraint(
    "bond thick enough", side=Side.AT_LEAST, unit="mm", source=PRACTICE, status=Status.COMMON_PRACTICE, short=Verdict.LOOK
)
THIN = Constraint(
    "bond thin enough for one pass",
    side=Side.AT_MOST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.bond_thickness_most",
)
TIGHTEST = Constraint(
    "bond left at the tightest place",
    side=Side.AT_LEAST,
    unit="mm",
    source=PRACTICE,
    status=Status.COMMON_PRACTICE,
    short=Verdict.LOOK,
    limit_key="limits.bond_thickness_anywhere",
)


def findings(subject: Subject, ledger: Ledger) -> tuple[Finding, ...]:
    """Every finding on the sizes of the bond."""
    return (_wide(subject), _thick(subject), _thin(subject), _tightest(subject, ledger))


def _wide(subject: Subject) -> Finding:
    width, least = subject.sizes.bond_width.value, subject.limit("bond_width_least")

    def remedies() -> Iterator[Remedy]:
        wider = next((each for each in subject.limit("bond_widths").value if each >= least.value), up(least.value))
        twice = float(subject.limit("frit_to_bond").value) * wider + tolerance(subject, "print").value
        changes = (*bead_changes(subject, width=wider), *frit_follows(subject, solid=twice))
        yield Remedy(f"lay a wider bead of {mm(wider)}", changes)

    return WIDE.judged(
        value=width,
        limit=least.value,
        says=f"the bond is {mm(width)} wide",
        remedies=remedies,
        defaults=defaults_of(least),
    )


def _thick(subject: Subject) -> Finding:
    small = subject.limit("small_pane")
    is_small = longest_side(subject) <= small.value
    least = subject.limit("bond_thickness_least_small" if is_small else "bond_thickness_least")
    return THICK.judged(
        value=subject.sizes.bond_thickness.value,
        limit=least.value,
        says=f"the bond is {mm(subject.sizes.bond_thickness.value)} thick on a {'small' if is_small else 'large'} pane, "
        f"its longest side {mm(longest_side(subject))}",
        remedies=lambda: (_to(subject, up(least.value, 0.5)),),
        defaults=defaults_of(least, small),
    )


def _thin(subject: Subject) -> Finding:
    thickness, most = subject.sizes.bond_thickness.value, subject.limit("bond_thickness_most")
    return THIN.judged(
        value=thickness,
        limit=most.value,
        says=f"the bond is {mm(thickness)} thick",
        remedies=lambda: (_to(subject, most.value),),
        defaults=defaults_of(most),
    )


def _tightest(subject: Subject, ledger: Ledger) -> Finding:
    least = subject.limit("bond_thickness_anywhere")
    left = tightest_gap(subject, ledger)
    taken = math.fsum(each.value for each in taken_at_tightest(subject, ledger).values())
    thicker = up(least.value + taken, 0.5)
    says = f"{mm(left.value)} of bond may be left where spacers, landing and bow are all against it{by_bow(subject)}"
    if left.value < least.value <= subject.sizes.bond_thickness.value:  # by the tolerances alone
        says += f": {taken_in_words(tightest_contributions(subject))}"
    return TIGHTEST.judged(
        value=left.value,
        limit=least.value,
        says=says,
        remedies=lambda: (_to(subject, thicker),),
        figure=left,
        defaults=defaults_of(least),
    )


def _to(subject: Subject, thickness: float) -> Remedy:
    """A bond of another thickness, in a recess that keeps the glass where it is against the skin."""
    depth = subject.pane.recess.depth
    more = thickness - subject.sizes.bond_thickness.value
    recess = () if depth is None or depth + more <= 0 else (Change("recess.depth", depth + more),)
    return Remedy(f"make the bond {mm(thickness)} thick", (*bead_changes(subject, thickness=thickness), *recess))


__all__ = ["findings"]
