"""What became of everything that was planned for a view.

Terms
-----
planned
    A dimension, name, mark, balloon or flag that the view is to carry.
outcome
    Drawn; told in a table or note of the sheet instead, because the view had no place for it; or left out. The last two have a reason.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Fate(Enum):
    """How something planned ended."""

    DRAWN = "drawn"
    TABLED = "in a table"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True)
class Outcome:
    """One planned thing of a view and its end. Raises ``ValueError`` where something is not drawn for no reason."""

    what: str
    fate: Fate
    reason: str = ""

    def __post_init__(self) -> None:
        if self.fate is not Fate.DRAWN and not self.reason:
            raise ValueError(f"{self.what} is not drawn, and no reason is told")


__all__ = ["Fate", "Outcome"]
