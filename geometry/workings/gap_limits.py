"""Between which limits the gap that is read round a fitted pane lies: the same figures on card, form, page and record, and in the findings.

Terms
-----
limits of the checks
    Least and greatest joint that the pane's own ``limits`` allow. No reading outside them passes, whatever is drawn at its place.
what the tolerances allow
    The gap as drawn, either way by the tolerance of one side of the joint, on which the sealant's strain is worked out. It narrows the limits
    where the job allows something for placing the pane; a pane measured as made beside a recess as surveyed has the limits of the checks.
told
    To the safe side, as far as a hand reads: to a tenth, a least up and a greatest down. So are the limits of the joint on the detail sheet.

Lengths mm.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.ledger.size import Origin
from geometry.workings.section_sums import tolerance

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.workings.subject import Subject

EVEN = 0.05
"""mm between the greatest and the least gap wanted from which every place is told for itself (own bound)."""
TOLD = 0.1


def is_even(gaps: Iterable[float]) -> bool:
    """Whether the same gap is wanted at every place, mm: card, form and record then tell one.

    >>> is_even([6.0, 6.04]), is_even([6.0, 6.05]), is_even([-2.0, -1.0])
    (True, False, False)
    """
    wanted = tuple(gaps)
    return max(wanted) - min(wanted) < EVEN - 1e-9


def gap_limits(subject: Subject, gaps: Sequence[float], off: float) -> tuple[tuple[float, float], ...]:
    """Least and greatest reading at every place, for the gaps drawn there and the tolerance of one side of the joint."""
    checked = float(subject.limit("joint_least").value), float(subject.limit("joint_most").value)
    allowed = off if _placing_allowed_for(subject) else 0.0
    if is_even(gaps):
        return (told_limits(checked, max(gaps) - allowed, min(gaps) + allowed, TOLD),) * len(gaps)
    return tuple(told_limits(checked, gap - allowed, gap + allowed, TOLD) for gap in gaps)


def _placing_allowed_for(subject: Subject) -> bool:
    return not subject.surveyed or tolerance(subject, "placing").origin is Origin.GIVEN


def told_limits(checked: tuple[float, float], low: float, high: float, step: float) -> tuple[float, float]:
    """What the tolerances allow within the limits of the checks; those alone where nothing is allowed, or nothing of it lies within them.

    >>> told_limits((3.0, 15.0), 3.25, 8.75, 0.1), told_limits((3.0, 15.0), 1.5, 6.5, 0.1)
    ((3.3, 8.7), (3.0, 6.5))
    >>> told_limits((3.0, 15.0), 1.12, 1.12, 0.1), told_limits((3.0, 15.0), -6.4, -1.4, 0.1)
    ((3.0, 15.0), (3.0, 15.0))
    """
    least, most = up_to(max(low, checked[0]), step), down_to(min(high, checked[1]), step)
    return (least, most) if high - low > 1e-9 and least <= most else checked


def up_to(value: float, step: float) -> float:
    """A least size, up to the next step.

    >>> up_to(1300.364, 0.1), up_to(3.25, 0.01), up_to(-1.75, 0.1)
    (1300.4, 3.25, -1.7)
    """
    return round(math.ceil(value / step - 1e-4) * step, 6)


def down_to(value: float, step: float) -> float:
    """A greatest size, down to the next step.

    >>> down_to(1303.364, 0.1), down_to(8.75, 0.01), down_to(1.75, 0.1)
    (1303.3, 8.75, 1.7)
    """
    return round(math.floor(value / step + 1e-4) * step, 6)


def nearest_to(value: float, step: float) -> float:
    """The nearest step, as a sheet rounds: from the half on away from nought.

    >>> nearest_to(1.25, 0.1), nearest_to(-1.25, 0.1), nearest_to(6.0451, 0.1), nearest_to(-0.04, 0.1)
    (1.3, -1.3, 6.0, 0.0)
    """
    return round(math.copysign(math.floor(abs(value) / step + 0.5 + 1e-7) * step, value), 6) + 0.0


def told_about(value: float, off: float, step: float = TOLD) -> tuple[float, float]:
    """Least and greatest round a size, neither looser than it is; where no step lies between them, the nearest one is both.

    >>> told_about(0.0, 1.75), told_about(5.03, 0.01)
    ((-1.7, 1.7), (5.0, 5.0))
    """
    least, most = up_to(value - off, step), down_to(value + off, step)
    nearest = nearest_to(value, step)
    return (least, most) if least <= most else (nearest, nearest)


__all__ = ["TOLD", "down_to", "gap_limits", "is_even", "nearest_to", "told_about", "told_limits", "up_to"]
