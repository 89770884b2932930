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
    """One measure, mm unless its name says otherwise, with its tolerance (plus and minus, None: none stated) and its origin."""

    name: str
    value: float
    origin: Origin
    reason: str = ""
    tolerance: float | None = None
    unit: str = "mm"
