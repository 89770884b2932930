"""Short memory: how it is told from other errors, wherever it is noticed, and how it is noticed before a library ends the program.

Terms
-----
room
    The memory that a run takes beyond the start of Python. It is asked for at once and given back: some libraries of C leave with
    an exit code of their own when they get less, or ask for it again for ever.
"""

from __future__ import annotations

import errno

ROOM = 512 * 2**20
"""Bytes that the geometry kernel and the solvers take, about."""
JOB_ROOM = 64 * 2**20
"""Bytes that reading a job takes, about."""

_SIGNS = ("Cannot allocate memory", "failed to map segment", "bad_alloc", "can't start new thread")


def hold_room(room: int = ROOM) -> None:
    """Ask for the room and give it back. Raises ``MemoryError`` where the system does not hold it."""
    import mmap

    try:
        mmap.mmap(-1, room).close()
    except OSError as error:
        raise MemoryError from error


def memory_is_short(error: BaseException | None) -> bool:
    """Whether an error, or one that it came from, says that the system gave no more memory; libraries of C say so in words."""
    while error is not None:
        if isinstance(error, MemoryError) or getattr(error, "errno", None) == errno.ENOMEM:
            return True
        if any(sign in str(error) for sign in _SIGNS):
            return True
        error = error.__cause__ or error.__context__
    return False


__all__ = ["JOB_ROOM", "hold_room", "memory_is_short"]
