"""Many values by which a sum is kept: gone through once for it, and not each time that the sum is asked for."""

from __future__ import annotations

from typing import TypeVar

Each = TypeVar("Each", covariant=True)


class Kept(tuple[Each, ...]):
    """A tuple that knows its hash.

    >>> places = Kept([1.0, 2.0])
    >>> hash(places) == hash((1.0, 2.0)), places == (1.0, 2.0)
    (True, True)
    """

    def __hash__(self) -> int:
        known: int | None = self.__dict__.get("_hash")
        if known is None:
            known = self.__dict__["_hash"] = super().__hash__()
        return known


__all__ = ["Kept"]
