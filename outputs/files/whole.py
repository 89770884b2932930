"""Files that are whole or not there at all.

Terms
-----
part
    The new content under a temporary name in the same folder, written and flushed to the disk.
keepsake
    What stood under the name before, kept under a temporary name until the whole set is in place.
leftover
    A part or keepsake of a run that was killed. Its name tells the computer and the process; the next run in that folder clears it.

A set of files appears together: first all parts are written, then all are renamed. When anything fails, every name holds what
it held before and no temporary file is left. Under a target's name may stand a regular file or nothing: a link is not followed
out of the folder, a pipe or a device is not replaced.
"""

from __future__ import annotations

import errno
import os
import re
import socket
import stat
import sys
import zlib
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

_KINDS = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISLNK, "a link"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)
_SPARE = re.compile(r"\.(?P<target>.+)\.fritline-(?P<host>[0-9a-f]{8})-(?P<process>[0-9]+)-[0-9]+\.(?P<ending>part|before)")


class WriteError(OSError):
    """A file that could not be written; the sentence says which and why. Nothing was changed."""

    def __str__(self) -> str:
        return str(self.args[0])


def write_whole(path: str | Path, data: bytes) -> None:
    """Write one file whole. Raises ``WriteError``; then what was there before is still there."""
    write_all([(Path(path), data)])


def write_all(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write a set of files together; folders that are missing are made. Raises ``WriteError``; then nothing has changed."""
    targets = {Path(os.path.realpath(path.parent)) / path.name: data for path, data in files}  # folders may be links
    if len(targets) < len(files):
        raise WriteError("two files of one set have the same name")
    made: list[Path] = []
    parts: dict[Path, Path] = {}
    done = False
    try:
        for target in targets:
            _make_folder(target.parent, made)
            _hold_for_a_file(target)
        for folder in dict.fromkeys(target.parent for target in targets):
            clear_leftovers(folder)
        for target, data in targets.items():
            parts[target] = _write_part(target, data)
        _put_in_place(parts)
        done = True
    except WriteError:
        raise
    except OSError as error:
        raise WriteError(_sentence(error, next(iter(targets)))) from error
    finally:
        for part in parts.values():
            part.unlink(missing_ok=True)
        if not done:
            for folder in reversed(made):
                _remove_if_empty(folder)


def _hold_for_a_file(target: Path) -> bool:
    """Whether a file stands under the name. Raises ``WriteError`` where it may not be replaced, or where it is no file."""
    try:
        mode = os.lstat(target).st_mode
    except FileNotFoundError:
        return False
    except OSError as error:
        raise WriteError(_sentence(error, target)) from error
    for is_kind, words in _KINDS:
        if is_kind(mode):
            raise WriteError(f"{target} cannot be written: there is {words} of that name; allowed: a file or nothing")
    if not os.access(target, os.W_OK):  # a rename would not ask
        raise WriteError(f"{target} cannot be written: it is write-protected")
    return True


def _make_folder(folder: Path, made: list[Path]) -> None:
    missing = []
    while not os.path.lexists(folder):
        missing.append(folder)
        folder = folder.parent
    if not folder.is_dir():
        raise WriteError(f"{missing[0] if missing else folder} cannot be made a folder: {folder} is a file")
    for each in reversed(missing):
        try:
            each.mkdir()
        except FileExistsError:
            continue  # another run made it in the meantime
        except OSError as error:
            raise WriteError(f"the folder {each} cannot be made: {_reason(error)}") from error
        made.append(each)


def _write_part(target: Path, data: bytes) -> Path:
    part = _spare(target, "part")
    try:
        descriptor = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        try:
            with os.fdopen(descriptor, "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
        except BaseException:
            part.unlink(missing_ok=True)
            raise
    except OSError as error:
        raise WriteError(_sentence(error, target)) from error
    return part


def _put_in_place(parts: Mapping[Path, Path]) -> None:
    keepsakes: dict[Path, Path | None] = {}
    try:
        for target, part in parts.items():
            keepsakes[target] = _keep(target) if _hold_for_a_file(target) else None  # asked again: time has passed
            try:
                os.replace(part, target)
            except OSError as error:
                raise WriteError(_sentence(error, target)) from error
    except BaseException:
        for target, keepsake in keepsakes.items():
            if keepsake is not None:
                os.replace(keepsake, target)
                keepsake.unlink(missing_ok=True)  # a rename between two names of one file leaves both
            elif parts[target].exists():
                continue  # was never renamed
            else:
                target.unlink(missing_ok=True)
        raise
    for keepsake in keepsakes.values():
        if keepsake is not None:
            keepsake.unlink(missing_ok=True)
    for folder in dict.fromkeys(target.parent for target in parts):
        _flush_folder(folder)


def _keep(target: Path) -> Path:
    keepsake = _spare(target, "before")
    try:
        os.link(target, keepsake)
    except OSError:  # a file system without hard links
        try:
            os.replace(target, keepsake)
        except OSError as error:
            raise WriteError(_sentence(error, target)) from error
    return keepsake


def _spare(target: Path, ending: str) -> Path:
    count = 0
    while True:
        spare = target.with_name(f".{target.name}.fritline-{_host()}-{os.getpid()}-{count}.{ending}")
        if not os.path.lexists(spare):
            return spare
        count += 1


def _host() -> str:
    """The name of this computer in eight signs: in a folder that several share, a process of another one cannot be asked for."""
    return f"{zlib.crc32(socket.gethostname().encode()):08x}"


def clear_leftovers(folder: Path) -> None:
    """Remove what killed runs of this computer left in a folder; a file whose only copy is a keepsake gets its name back."""
    with suppress(OSError):  # what cannot be cleared does no harm
        for spare in sorted(folder.iterdir()):
            name = _SPARE.fullmatch(spare.name)
            if (
                name is None
                or name["host"] != _host()
                or _runs(int(name["process"]))
                or not stat.S_ISREG(os.lstat(spare).st_mode)
            ):
                continue
            target = folder / name["target"]
            if name["ending"] == "before" and not os.path.lexists(target):
                os.replace(spare, target)
            else:
                spare.unlink(missing_ok=True)


def _runs(process: int) -> bool:
    """Whether a process is alive; where that cannot be asked (Windows), it is taken to be."""
    if sys.platform == "win32":
        return True
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except PermissionError:
        return True
    return True


def _flush_folder(folder: Path) -> None:
    """Flush the renames themselves; where a folder cannot be opened for that (Windows) there is nothing to flush."""
    try:
        descriptor = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno not in (errno.EINVAL, errno.ENOTSUP, errno.EBADF):  # a file system that cannot flush folders
            raise
    finally:
        os.close(descriptor)


def _remove_if_empty(folder: Path) -> None:
    try:
        folder.rmdir()
    except OSError as error:
        if error.errno not in (errno.ENOTEMPTY, errno.EEXIST, errno.ENOENT):
            raise


def _sentence(error: OSError, target: Path) -> str:
    return f"{target} cannot be written: {_reason(error)}"


def _reason(error: OSError) -> str:
    words = {
        errno.ENOSPC: "the disk is full",
        errno.EDQUOT: "your share of the disk is used up",
        errno.EACCES: "you may not write in that folder",
        errno.EPERM: "you may not write in that folder",
        errno.EROFS: "the disk is read-only",
        errno.ENAMETOOLONG: "the name is too long",
    }
    return words.get(error.errno or 0, error.strerror or str(error))


__all__ = ["WriteError", "clear_leftovers", "write_all", "write_whole"]
