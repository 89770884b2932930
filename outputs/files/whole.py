"""Files that are whole or not there at all.

Terms
-----
part
    The new content under a temporary name in the same folder, written and flushed to the disk.
keepsake
    What stood under the name before, kept under a temporary name until the whole set is in place.

A set of files appears together: first all parts are written, then all are renamed. When anything fails, every name holds what
it held before and no temporary file is left.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Mapping, Sequence
from pathlib import Path


class WriteError(OSError):
    """A file that could not be written; the sentence says which and why. Nothing was changed."""

    def __str__(self) -> str:
        return str(self.args[0])


def write_whole(path: str | Path, data: bytes) -> None:
    """Write one file whole. Raises ``WriteError``; then what was there before is still there."""
    write_all([(Path(path), data)])


def write_all(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write a set of files together; folders that are missing are made. Raises ``WriteError``; then nothing has changed."""
    targets = {Path(os.path.realpath(path)): data for path, data in files}  # a link stays a link to its new content
    if len(targets) < len(files):
        raise WriteError("two files of one set have the same name")
    made: list[Path] = []
    parts: dict[Path, Path] = {}
    done = False
    try:
        for target in targets:
            _make_folder(target.parent, made)
            if target.is_dir():
                raise WriteError(f"{target} cannot be written: there is a folder of that name")
            if target.exists() and not os.access(target, os.W_OK):  # a rename would not ask
                raise WriteError(f"{target} cannot be written: it is write-protected")
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


def _make_folder(folder: Path, made: list[Path]) -> None:
    missing = []
    while not folder.exists():
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
            keepsakes[target] = _keep(target)
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


def _keep(target: Path) -> Path | None:
    if not target.exists():
        return None
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
        spare = target.with_name(f".{target.name}.{os.getpid()}.{count}.{ending}")
        if not os.path.lexists(spare):
            return spare
        count += 1


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
