"""What every step of writing a set of files does and undoes, one system call after the other."""

from __future__ import annotations

import errno
import os

import pytest

from outputs.files.whole import WriteError, write_all, write_whole


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def failing_replace(monkeypatch, target, error, before=lambda: None):
    """``os.replace`` that fails for one target after something else has happened there; the others are renamed."""
    real = os.replace

    def replace(source, to):
        if os.fspath(to) == os.fspath(target) and os.fspath(source).endswith(".part"):
            before()
            raise error
        real(source, to)

    monkeypatch.setattr(os, "replace", replace)


def test_a_file_that_another_program_put_there_in_the_meantime_stays(tmp_path, monkeypatch):
    """The name was free when the set began; its rename fails because another program took it: what it wrote is not ours to remove."""
    new = tmp_path / "c"
    (tmp_path / "a").write_bytes(b"old a")
    held = PermissionError(errno.EACCES, "held by another program")
    failing_replace(monkeypatch, new, held, lambda: new.write_bytes(b"of the other program"))
    with pytest.raises(WriteError, match="c cannot be written: you may not write in that folder"):
        write_all([(tmp_path / name, b"new") for name in ("a", "b", "c")])
    assert new.read_bytes() == b"of the other program"
    assert (tmp_path / "a").read_bytes() == b"old a"
    assert names(tmp_path) == ["a", "c"]  # b was new and is gone again


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EDQUOT, "your share of the disk is used up"),
        (errno.EACCES, "you may not write in that folder"),
        (errno.EPERM, "you may not write in that folder"),
        (errno.EROFS, "the disk is read-only"),
        (errno.ENAMETOOLONG, "the name is too long"),
        (errno.EBUSY, os.strerror(errno.EBUSY)),
    ],
)
def test_every_reason_in_words(tmp_path, monkeypatch, number, words):
    failing_replace(monkeypatch, tmp_path / "a", OSError(number, os.strerror(number)))
    with pytest.raises(WriteError) as told:
        write_whole(tmp_path / "a", b"new")
    assert str(told.value) == f"{tmp_path / 'a'} cannot be written: {words}"
    assert names(tmp_path) == []


def test_folders_made_for_the_set_go_again_and_others_stay(tmp_path, monkeypatch):
    target = tmp_path / "there" / "made" / "deep" / "a"
    (tmp_path / "there").mkdir()
    failing_replace(monkeypatch, target, OSError(errno.ENOSPC, "full"))
    with pytest.raises(WriteError):
        write_whole(target, b"new")
    assert names(tmp_path) == ["there"]
    assert names(tmp_path / "there") == []


def test_a_made_folder_that_another_program_uses_meanwhile_stays(tmp_path, monkeypatch):
    target = tmp_path / "made" / "a"
    failing_replace(monkeypatch, target, OSError(errno.ENOSPC, "full"), lambda: (tmp_path / "made" / "theirs").write_bytes(b"x"))
    with pytest.raises(WriteError, match="the disk is full"):
        write_whole(target, b"new")
    assert names(tmp_path / "made") == ["theirs"]


def test_without_hard_links_what_was_there_comes_back(tmp_path, monkeypatch):
    def link(*_):
        raise OSError(errno.EPERM, "no hard links here")

    for name in ("a", "b"):
        (tmp_path / name).write_bytes(b"old " + name.encode())
    monkeypatch.setattr(os, "link", link)
    failing_replace(monkeypatch, tmp_path / "b", OSError(errno.ENOSPC, "full"))
    with pytest.raises(WriteError, match="b cannot be written: the disk is full"):
        write_all([(tmp_path / "a", b"new"), (tmp_path / "b", b"new")])
    assert [(tmp_path / name).read_bytes() for name in ("a", "b")] == [b"old a", b"old b"]
    assert names(tmp_path) == ["a", "b"]


def test_a_spare_name_that_is_taken_is_passed_over(tmp_path):
    """What stands under a temporary name is not ours: the next number is taken and the file is left."""
    mine = f".a.{os.getpid()}.0"
    for ending in ("part", "before"):
        (tmp_path / f"{mine}.{ending}").symlink_to("nowhere")  # even a link that leads nowhere
    (tmp_path / "a").write_bytes(b"old")
    write_whole(tmp_path / "a", b"new")
    assert (tmp_path / "a").read_bytes() == b"new"
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.parametrize("number", [errno.EINVAL, errno.ENOTSUP, errno.EBADF])
def test_a_folder_that_cannot_be_flushed_is_no_failure(tmp_path, monkeypatch, number):
    real = os.fsync

    def fsync(descriptor):
        import stat

        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(number, os.strerror(number))
        real(descriptor)

    monkeypatch.setattr(os, "fsync", fsync)
    write_whole(tmp_path / "a", b"new")
    assert (tmp_path / "a").read_bytes() == b"new"
    assert names(tmp_path) == ["a"]


def test_a_folder_whose_flush_fails_is_told(tmp_path, monkeypatch):
    """The disk itself says that the renames may be lost."""
    real = os.fsync

    def fsync(descriptor):
        import stat

        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        real(descriptor)

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(WriteError, match="a cannot be written"):
        write_whole(tmp_path / "a", b"new")


def test_every_file_and_every_folder_is_flushed(tmp_path, monkeypatch):
    """A set that is in place is on the disk: each content and each folder's list of names has been flushed."""
    real, flushed = os.fsync, []

    def fsync(descriptor):
        flushed.append(os.fstat(descriptor).st_ino)
        real(descriptor)

    monkeypatch.setattr(os, "fsync", fsync)
    targets = [tmp_path / "one" / "a", tmp_path / "one" / "b", tmp_path / "two" / "c"]
    write_all([(target, b"new") for target in targets])
    wanted = {path.stat().st_ino for path in (*targets, tmp_path / "one", tmp_path / "two")}
    assert wanted <= set(flushed)
    assert len(flushed) == 5


def test_a_protected_file_is_not_replaced(tmp_path, monkeypatch):
    (tmp_path / "a").write_bytes(b"old")
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK)
    with pytest.raises(WriteError, match="a cannot be written: it is write-protected"):
        write_whole(tmp_path / "a", b"new")
    assert (tmp_path / "a").read_bytes() == b"old"


def test_a_folder_that_cannot_be_made_is_told(tmp_path, monkeypatch):
    from pathlib import Path

    def mkdir(self, *_, **__):
        raise OSError(errno.EROFS, "read-only")

    monkeypatch.setattr(Path, "mkdir", mkdir)
    with pytest.raises(WriteError, match="the folder .*out cannot be made: the disk is read-only"):
        write_whole(tmp_path / "out" / "a", b"new")
