"""One size with where it comes from.

Terms
-----
size
    One measure of the detail with where it comes from: given in the job file, worked out by a rule, or a marked default.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Origin(Enum):
    """Where a size comes from."""

    GIVEN = "given"
    WORKED_OUT = "worked out"
    DEFAULT = "default"


@dataclass(frozen=True, slots=True)
class Size:
    """One measure, mm unless its name says otherwise, with its tolerance (plus and minus, None: none stated) and its origin.

    ``given_by`` is the place in the office's defaults that gave it, "" where the job itself did.
    """

    name: str
    value: float
    origin: Origin
    reason: str = ""
    tolerance: float | None = None
    unit: str = "mm"
    given_by: str = ""

    @property
    def origin_in_words(self) -> str:
        """Where it comes from, with the place where the office's defaults gave it."""
        return in_words(self.origin, self.given_by)


def in_words(origin: Origin, given_by: str) -> str:
    """An origin with its place.

    >>> in_words(Origin.GIVEN, "office.toml, line 12"), in_words(Origin.DEFAULT, "")
    ('given by office.toml, line 12', 'default')
    """
    return f"{origin.value} by {given_by}" if given_by else origin.value
