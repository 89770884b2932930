"""One size with where it comes from.

Terms
-----
size
    One measure of the detail with where it comes from: given in the job file, worked out by a rule, or a marked default.
outside
    No size that the trade makes passes every check: one for the engineer.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

__all__ = ["OUTSIDE", "Origin", "Size", "in_words"]


class Origin(Enum):
    """Where a size comes from."""

    GIVEN = "given"
    WORKED_OUT = "worked out"
    DEFAULT = "default"


OUTSIDE = "outside what the trade makes"


@dataclass(frozen=True, slots=True)
class Size:
    """One measure, mm unless its name says otherwise, with its tolerance (plus and minus, None: none stated) and its origin.

    ``given_by`` is the place in the office's defaults that gave it, "" where the job itself did. ``outside``: no size that the trade
    makes passes every check, and this is the nearest honest one; the reason says what speaks against it.
    """

    name: str
    value: float
    origin: Origin
    reason: str = ""
    tolerance: float | None = None
    unit: str = "mm"
    given_by: str = ""
    outside: bool = False

    @property
    def origin_in_words(self) -> str:
        """Where it comes from, with the place where the office's defaults gave it, and whether it is outside what the trade makes."""
        words = in_words(self.origin, self.given_by)
        return f"{words}, {OUTSIDE}" if self.outside else words


def in_words(origin: Origin, given_by: str) -> str:
    """An origin with its place.

    >>> in_words(Origin.GIVEN, "office.toml, line 12"), in_words(Origin.DEFAULT, "")
    ('given by office.toml, line 12', 'default')
    """
    return f"{origin.value} by {given_by}" if given_by else origin.value
