"""Tolerance stacks: what the tolerances of a pane may do to four of its dimensions, and which of them matters most.

Terms
-----
stack
    A dimension as drawn and every tolerance that moves it, each by its share: half of a tolerance on an overall size moves
    one side.
worst case
    All of them against the dimension at once. The findings judge by it.
root of squares
    What the same tolerances come to where they are independent, centred and alike. Nobody has their distributions: it is
    information beside the worst case, and no share of panes that come out right is told.
bought
    What a stack loses, mm, when one of its tolerances is held a tenth closer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.ledger.figure import Ledger
from geometry.ledger.size import Origin
from geometry.rules import tolerance as rules
from geometry.rules.fit import section
from geometry.rules.rounding import number
from geometry.workings.section_sums import bow_over_pane, drawn_width, joints_as_drawn, proud_of, taken_at_tightest, tolerance

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.ledger.figure import Sourced
    from geometry.workings.subject import Subject

__all__ = [
    "Contribution", "Stack", "flush_contributions", "frit_contributions", "joint_contributions", "print_contribution",
    "spilled_by_tolerance", "stacks_of", "taken_in_words", "tightest_contributions", "widest_contributions",
]  # fmt: skip

TENTH = 0.1


@dataclass(frozen=True, slots=True)
class Contribution:
    """One tolerance of a stack: its key in the job file, its value, mm (bow: over the longest side), and how far it moves the dimension, mm."""

    key: str
    tolerance: float
    origin: Origin
    moves: float


@dataclass(frozen=True, slots=True)
class Stack:
    """A dimension, mm, and its tolerance both ways of adding; ``harm`` says which way the tolerances hurt, +1 or -1."""

    name: str
    drawn: float
    harm: int
    contributions: tuple[Contribution, ...]

    @property
    def worst(self) -> float:
        """What all tolerances together move it, mm."""
        return rules.worst_case(*(each.moves for each in self.contributions))

    @property
    def likely(self) -> float:
        """What they move it by the root of squares, mm."""
        return rules.root_sum_square(*(each.moves for each in self.contributions))

    @property
    def at_worst(self) -> float:
        """The dimension with every tolerance against it, mm."""
        return self.drawn + self.harm * self.worst

    @property
    def at_likely(self) -> float:
        """The dimension by the root of squares, mm."""
        return self.drawn + self.harm * self.likely

    def bought(self, contribution: Contribution) -> tuple[float, float]:
        """What a tenth less of one tolerance takes off the stack, mm: worst case, root of squares."""
        closer = [each.moves * (1 - TENTH if each is contribution else 1.0) for each in self.contributions]
        return self.worst - rules.worst_case(*closer), self.likely - rules.root_sum_square(*closer)

    def ranked(self) -> tuple[Contribution, ...]:
        """The tolerances, first the one of which a tenth buys most; equal ones in the order of the stack."""
        return tuple(sorted(self.contributions, key=lambda each: -round(self.bought(each)[0], 9)))


def taken_in_words(contributions: Sequence[Contribution]) -> str:
    """Which tolerances take how much of a dimension, and what they come to by the root of squares.

    >>> taken_in_words([Contribution("tolerances.pane", 3.0, Origin.DEFAULT, 1.5), Contribution("tolerances.placing", 1.0, Origin.GIVEN, 1.0)])
    'tolerances.pane ±3 takes 1.5, tolerances.placing ±1 takes 1; worst case 2.5, root of squares 1.8 mm'
    """
    moving = [each for each in contributions if each.moves > 0]
    parts = ", ".join(f"{each.key} ±{number(each.tolerance, 2)} takes {number(each.moves, 2)}" for each in moving)
    worst, likely = rules.worst_case(*(e.moves for e in moving)), rules.root_sum_square(*(e.moves for e in moving))
    return f"{parts}; worst case {number(worst, 2)}, root of squares {number(likely, 2)} mm"


def joint_contributions(subject: Subject) -> tuple[Contribution, ...]:
    """What recess, pane and placing may take off the joint of one side; of a measured one only what the job gives."""
    every = _contributions(*_joint(subject))
    return tuple(each for each in every if each.origin is Origin.GIVEN) if subject.surveyed else every


def flush_contributions(subject: Subject) -> tuple[Contribution, ...]:
    """What may move the weather face against the skin."""
    return _contributions(*_flush(subject))


def frit_contributions(subject: Subject) -> tuple[Contribution, ...]:
    """What may take off the solid frit beyond the bead: the print, and what lets the bead flow further under it."""
    return _contributions(*_frit(subject))


def print_contribution(subject: Subject, name: str = "print", share: float = 1.0) -> Contribution:
    """What a tolerance of the print alone may take off the solid frit."""
    return _contributions(_whole(subject, name, share))[0]


def widest_contributions(subject: Subject) -> tuple[Contribution, ...]:
    """What may widen the gap between glass and landing."""
    return _contributions(*_bond(subject))


def tightest_contributions(subject: Subject) -> tuple[Contribution, ...]:
    """What may take off the bond at the tightest place."""
    taken = taken_at_tightest(subject, Ledger())
    sources = (tolerance(subject, "bond_thickness"), tolerance(subject, "flatness"), bow_over_pane(subject))
    return _contributions(*((source, float(each.value)) for source, each in zip(sources, taken.values(), strict=True)))


def spilled_by_tolerance(subject: Subject) -> float:
    """How much further than at its drawn thickness the bead flows at the tightest place, mm, each side."""
    taken = {name: float(each.value) for name, each in taken_at_tightest(subject, Ledger()).items()}
    return _spilled(subject, **taken) - _spilled_as_drawn(subject)


def stacks_of(subject: Subject) -> tuple[Stack, ...]:
    """Joint, flush face, frit over the bead and bond thickness of one pane."""
    proud = float(proud_of(subject, Ledger()).value)
    return (
        Stack("joint of one side", joints_as_drawn(subject)[0].value, -1, _contributions(*_joint(subject))),
        Stack("flush face, proud or sunk", proud, 1 if proud >= 0 else -1, _contributions(*_flush(subject))),
        Stack("solid frit beyond the squeeze-out", _frit_beyond(subject), -1, _contributions(*_frit(subject))),
        Stack("bond thickness at the widest gap", subject.sizes.bond_thickness.value, 1, _contributions(*_bond(subject))),
    )


def _contributions(*parts: tuple[Sourced, float]) -> tuple[Contribution, ...]:
    return tuple(Contribution(source.key, float(source.value), source.origin, moves) for source, moves in parts)


def _whole(subject: Subject, name: str, share: float = 1.0) -> tuple[Sourced, float]:
    source = tolerance(subject, name)
    return source, share * source.value


def _joint(subject: Subject) -> tuple[tuple[Sourced, float], ...]:
    return _whole(subject, "recess", 0.5), _whole(subject, "pane", 0.5), _whole(subject, "placing")


def _flush(subject: Subject) -> tuple[tuple[Sourced, float], ...]:
    paint = subject.asked("tolerances.paint", unit="mm")
    names = ("bond_thickness", "glass_thickness", "recess_depth")
    return (*(_whole(subject, name) for name in names), (paint, float(paint.value)))


def _bond(subject: Subject) -> tuple[tuple[Sourced, float], ...]:
    bow, share = bow_over_pane(subject), subject.limit("bow_share", scale=0.01)
    return _whole(subject, "bond_thickness"), _whole(subject, "flatness"), (bow, share.value * bow.value)


def _spilled(subject: Subject, **taken: float) -> float:
    sizes = subject.sizes
    gap = section.tightest_gap(bond_thickness=sizes.bond_thickness.value, **taken)
    area = section.uncured_bead_area(notch_width=sizes.notch_width.value, notch_height=sizes.notch_height.value)
    return section.squeeze_out(bead_area=area, least_gap=gap, bond_width=sizes.bond_width.value)


def _spilled_as_drawn(subject: Subject) -> float:
    return _spilled(subject, spacer_tolerance=0.0, landing_flatness=0.0, bow_between_spacers=0.0)


def _frit_beyond(subject: Subject) -> float:
    """Solid frit inside the bead as it flows at its drawn thickness, mm."""
    sizes = subject.sizes
    solid = max(0.0, drawn_width(subject).value - subject.pane.frit.fade)
    return float(solid - sizes.set_back.value - sizes.bond_width.value - _spilled_as_drawn(subject))


def _frit(subject: Subject) -> tuple[tuple[Sourced, float], ...]:
    """The print moves the frit; thin spacers, a landing out of flat and the bow let the bead flow further under it, each by its share."""
    taken = {name: float(each.value) for name, each in taken_at_tightest(subject, Ledger()).items()}
    more, whole = spilled_by_tolerance(subject), math.fsum(taken.values())
    sources = (tolerance(subject, "bond_thickness"), tolerance(subject, "flatness"), bow_over_pane(subject))
    shares = (each / whole if whole else 0.0 for each in taken.values())
    return _whole(subject, "print"), *((source, share * more) for source, share in zip(sources, shares, strict=True))
