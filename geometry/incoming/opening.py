"""A file of somebody else as bytes, read once and with care: no folder, no pipe, nothing endless.

Terms
-----
ordinary file
    A file on a disk. A pipe or a device may never end.
"""

from __future__ import annotations

import stat
from pathlib import Path

from geometry.incoming.incoming import IncomingError


def bytes_of(path: Path, name: str, *, most: int, what: str) -> bytes:
    """All bytes of a file; ``name`` is how it is called in a sentence, ``most`` its greatest size, ``what`` it should be ("a DXF").

    Raises ``IncomingError`` where it is missing, no ordinary file, empty, too large or not readable.
    """
    if not name:
        raise IncomingError("found an empty name", what)
    try:
        known = path.stat()
        if stat.S_ISDIR(known.st_mode):
            raise IncomingError(f"{name} is a folder", what)
        if not stat.S_ISREG(known.st_mode):
            raise IncomingError(f"{name} is not an ordinary file", what)
        if known.st_size > most:
            raise IncomingError(
                f"{name} has {known.st_size} bytes", f"at most {most} bytes", "leave out what is not needed of it"
            )
        with path.open("rb") as stream:
            data = stream.read(most + 1)
    except FileNotFoundError:
        raise IncomingError(f"there is no file {name}", what, _others(path)) from None
    except IncomingError:
        raise
    except OSError as error:
        raise IncomingError(f"{name} cannot be read: {error.strerror or error}", what) from None
    except ValueError as error:  # a zero byte in the name
        raise IncomingError(f"{name!r} cannot be read: {error}", what) from None
    if len(data) > most:
        raise IncomingError(f"{name} has more than {most} bytes", f"at most {most} bytes")
    if not data.strip():
        raise IncomingError(f"{name} is empty", what)
    return data


def _others(path: Path) -> str:
    """What of the same kind stands in the folder, where the name may be a slip."""
    try:
        suffix = path.suffix.casefold()
        names = sorted(each.name for each in path.parent.iterdir() if each.suffix.casefold() == suffix)
    except (OSError, ValueError):
        return ""
    return f"the folder holds {', '.join(names[:5])}" + (f" and {len(names) - 5} more" if len(names) > 5 else "") if names else ""


__all__ = ["bytes_of"]
