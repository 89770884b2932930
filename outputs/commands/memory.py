"""Short memory: how it is told from other errors, wherever it is noticed, and how it is noticed before a library ends the program.

Terms
-----
room
    The memory that a run takes beyond the start of Python. It is asked for at once and given back: some libraries of C leave with
    an exit code of their own when they get less, or ask for it again for ever.
search for dead circles
    Python frees at once what nobody holds any more; only objects that hold one another have to be searched for. What was
    imported lives until the end, and a pane leaves few such circles.
kept by a function
    What it found for outlines that it was asked about, for it is asked again and again while their pane is drawn. The next pane has other
    outlines: nobody asks for those of the last one any more, and a vessel has hundreds.
"""

from __future__ import annotations

import errno
import functools
import gc
import sys

ROOM = 512 * 2**20
"""Bytes that the geometry kernel and the solvers take, about."""
JOB_ROOM = 64 * 2**20
"""Bytes that reading a job takes, about."""

NEW_OBJECTS = 50_000
"""New objects that hold others from which dead circles are searched for; about 10 MB."""

OF_OUTLINES = ("geometry.outline.", "geometry.compare.", "geometry.detail.", "geometry.workings.")
"""Rooms whose functions keep what they find for the outlines, edges and stations of one pane."""
OF_SESSIONS = "geometry.workings.session"
"""What is kept for a session is asked for again by each of its panes."""

_SIGNS = ("Cannot allocate memory", "failed to map segment", "bad_alloc", "can't start new thread")


def hold_room(room: int = ROOM) -> None:
    """Ask for the room and give it back. Raises ``MemoryError`` where the system does not hold it."""
    import mmap

    try:
        mmap.mmap(-1, room).close()
    except OSError as error:
        raise MemoryError from error


def spare_imports() -> None:
    """Leave what was imported out of the search for dead circles, and search less often: an eighth of the time of a pane."""
    gc.freeze()
    gc.set_threshold(NEW_OBJECTS, 10, 10)


def forget_pane() -> None:
    """Let go of what functions keep of the outlines of the pane that was drawn last. What holds for all panes stays."""
    for name, module in list(sys.modules.items()):
        if name.startswith(OF_OUTLINES):
            for each in list(vars(module).values()):
                if isinstance(each, functools._lru_cache_wrapper) and _of_one_pane(each):
                    each.cache_clear()


def _of_one_pane(function: functools._lru_cache_wrapper[object]) -> bool:
    """Whether a function keeps what is of one pane. What it keeps without bound is of the program, such as the signature of a rule."""
    room = function.__module__
    bounded = function.cache_parameters()["maxsize"] is not None
    return bounded and room.startswith(OF_OUTLINES) and not room.startswith(OF_SESSIONS)


def memory_is_short(error: BaseException | None) -> bool:
    """Whether an error, or one that it came from, says that the system gave no more memory; libraries of C say so in words."""
    while error is not None:
        if isinstance(error, MemoryError) or getattr(error, "errno", None) == errno.ENOMEM:
            return True
        if any(sign in str(error) for sign in _SIGNS):
            return True
        error = error.__cause__ or error.__context__
    return False


__all__ = ["JOB_ROOM", "forget_pane", "hold_room", "memory_is_short", "spare_imports"]
