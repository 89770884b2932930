"""A size with its reason, and the one way in which the reasons of all sizes are worded.

Terms
-----
sized
    A size and its reason. ``outside`` is set where no size of the trade passes every check: the value is then the nearest
    honest one, unclipped, and the reason says so.
candidate
    What one rule asks for; the largest governs, the next is named so that the reader sees how near it came.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geometry.rules.rounding import mm, number

__all__ = ["Candidate", "Sized", "governed", "largest"]

Candidate = tuple[str, float]
"""What asks, in words, and the size it asks for, mm."""


@dataclass(frozen=True, slots=True)
class Sized:
    """A size (mm unless said otherwise), why it is so, and whether it lies outside what the trade usually makes."""

    value: float
    reason: str
    outside: bool = False

    def remarked(self, remark: str, *, outside: bool = False) -> Sized:
        """The same value with a remark behind its reason; ``outside`` marks it as outside, and what is marked stays so."""
        return Sized(self.value, f"{self.reason}; {remark}", self.outside or outside)


def governed(candidates: Sequence[Candidate], value: float) -> Sized:
    """The sentence for a value: the first of the largest candidates governs, the next one down is named with its figure.

    >>> governed([("the least joint", 6.0), ("movement", 7.2)], 8.0).reason
    '8 mm: movement (7.2); the least joint would need 6'
    """
    ranked = sorted(candidates, key=lambda candidate: -candidate[1])
    name, need = ranked[0]
    exact = "" if abs(need - value) < 0.05 else f" ({number(need)})"
    reason = f"{mm(value)}: {name}{exact}"
    if len(ranked) > 1:
        reason += f"; {ranked[1][0]} would need {number(ranked[1][1])}"
    return Sized(value, reason)


def largest(candidates: Sequence[Candidate]) -> float:
    """The largest size that any candidate asks for."""
    return max(size for _, size in candidates)
