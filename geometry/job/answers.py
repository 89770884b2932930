"""Yes and no as people write them into a cell of a schedule or a box of a form."""

from __future__ import annotations

YES, NO = ("yes", "y", "true"), ("no", "n", "false")


def answer_of(word: str) -> bool | None:
    """What a word says; None where it says neither.

    >>> answer_of(" Yes"), answer_of("N"), answer_of("maybe"), answer_of("")
    (True, False, None, None)
    """
    told = word.strip().casefold()
    return True if told in YES else False if told in NO else None


__all__ = ["NO", "YES", "answer_of"]
