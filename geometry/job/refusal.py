"""How a value of the job file is refused: what was found, what is allowed, and perhaps what was meant.

The refusal travels inside pydantic's list of errors, so that all faults of a file are told together.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import NamedTuple

from pydantic_core import PydanticCustomError

REFUSED = "refused"


class Elsewhere(NamedTuple):
    """A fault in a file that the value names: its line and column from 1, 0 for the whole line or file."""

    file: str
    line: int
    column: int
    found: str
    allowed: str = ""


def refuse(
    found: str, allowed: str = "", hint: str = "", *, key: str = "", elsewhere: Iterable[Elsewhere] = ()
) -> PydanticCustomError:
    """The error to raise for one value. ``found`` may be a whole sentence when nothing else needs saying.

    ``key`` is the dotted key at fault inside the table that refuses. ``elsewhere`` are the faults of the file that the value names: each is
    told for itself, with its own line, instead of the one sentence.
    """
    message = "; ".join(part for part in (found, f"allowed: {allowed}" if allowed else "", hint) if part)
    return PydanticCustomError(
        REFUSED,
        "{message}",
        {"message": message, "found": found, "allowed": allowed, "hint": hint, "key": key, "elsewhere": tuple(elsewhere)},
    )


def near(word: str, words: Iterable[str]) -> str:
    """``did you mean ...?`` for a near miss, or nothing.

    >>> near("alluminium", ["steel", "aluminium"])
    'did you mean aluminium?'
    >>> near("bronze", ["steel", "aluminium"])
    ''
    """
    known = {w.casefold(): w for w in words}
    plain = word.casefold().replace("-", "_").replace(" ", "_")
    close = difflib.get_close_matches(plain[:60], known, n=1, cutoff=0.6)
    return f"did you mean {known[close[0]]}?" if close else ""


__all__ = ["REFUSED", "Elsewhere", "near", "refuse"]
