"""What became of everything that was planned for a view.

Terms
-----
planned
    A dimension, name, mark, balloon or flag that the view is to carry.
numbered
    A planned flag, or the balloon of an item of the parts list, by its number: who asks which are drawn reads the number, not the words.
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
class FlagNumber:
    """A flag."""

    number: int

    def __str__(self) -> str:
        return f"flag {self.number}"


@dataclass(frozen=True, slots=True)
class ItemNumber:
    """The balloon of an item of the parts list."""

    number: str

    def __str__(self) -> str:
        return f"item {self.number}"


Planned = str | FlagNumber | ItemNumber
"""What is planned, in words or by its number."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One planned thing of a view and its end; ``numbered`` where it has a number.

    Raises ``ValueError`` where something is not drawn for no reason.
    """

    what: str
    fate: Fate
    reason: str = ""
    numbered: FlagNumber | ItemNumber | None = None

    def __post_init__(self) -> None:
        if self.fate is not Fate.DRAWN and not self.reason:
            raise ValueError(f"{self.what} is not drawn, and no reason is told")


__all__ = ["Fate", "FlagNumber", "ItemNumber", "Outcome", "Planned"]
