"""Files are whole or not there at all, whatever happens while they are written."""

from __future__ import annotations

import errno
import os
import socket
import stat
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest

from outputs.files import whole
from outputs.files.whole import WriteError, write_all, write_whole

ROOT = Path(__file__).resolve().parents[2]


def names(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.iterdir())


def test_writes_every_byte_and_leaves_nothing_else(tmp_path):
    data = bytes(range(256)) * 300
    write_all([(tmp_path / "a.dxf", data), (tmp_path / "b.svg", b"")])
    assert names(tmp_path) == ["a.dxf", "b.svg"]
    assert (tmp_path / "a.dxf").read_bytes() == data


def test_replaces_what_was_there(tmp_path):
    (tmp_path / "a.dxf").write_bytes(b"a much longer earlier content")
    write_whole(tmp_path / "a.dxf", b"new")
    assert (tmp_path / "a.dxf").read_bytes() == b"new"
    assert names(tmp_path) == ["a.dxf"]


def test_makes_missing_folders(tmp_path):
    write_whole(tmp_path / "deep" / "er" / "a.dxf", b"x")
    assert (tmp_path / "deep" / "er" / "a.dxf").read_bytes() == b"x"


def test_follows_the_rights_of_a_new_file(tmp_path):
    (tmp_path / "plain").write_bytes(b"")
    write_whole(tmp_path / "a.dxf", b"x")
    assert (tmp_path / "a.dxf").stat().st_mode == (tmp_path / "plain").stat().st_mode


@pytest.mark.skipif(sys.platform == "win32", reason="links, pipes and devices as POSIX has them")
@pytest.mark.parametrize("kind", ["a link", "a link to nothing", "a pipe", "a socket", "a device"])
def test_only_a_file_or_nothing_may_stand_under_the_name(tmp_path, kind):
    """A link is not followed out of the folder; a pipe or device is not replaced by a file. The whole set is refused."""
    there, elsewhere = tmp_path / "out" / "b.svg", tmp_path / "real"
    there.parent.mkdir()
    elsewhere.write_bytes(b"old")
    if kind == "a link":
        there.symlink_to(elsewhere)
    elif kind == "a link to nothing":
        there.symlink_to(tmp_path / "nothing")
    elif kind == "a pipe":
        os.mkfifo(there)
    elif kind == "a socket":
        with socket.socket(socket.AF_UNIX) as listener:
            listener.bind(str(there))
    else:
        try:
            os.mknod(there, 0o600 | stat.S_IFCHR, os.makedev(1, 3))  # as /dev/null
        except PermissionError:
            pytest.skip("only root makes devices")
    before = os.lstat(there)
    words = kind.removesuffix(" to nothing")
    with pytest.raises(WriteError, match=rf"b\.svg cannot be written: there is {words} of that name; allowed: a file or nothing"):
        write_all([(tmp_path / "out" / "a.dxf", b"new"), (there, b"new")])
    assert os.lstat(there) == before
    assert names(tmp_path / "out") == ["b.svg"]
    assert elsewhere.read_bytes() == b"old" and names(tmp_path) == ["out", "real"]


def test_the_folder_itself_may_be_a_link(tmp_path):
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to("real")
    write_whole(tmp_path / "link" / "a.dxf", b"x")
    assert (tmp_path / "link").is_symlink() and names(tmp_path / "real") == ["a.dxf"]
    with pytest.raises(WriteError, match="same name"):
        write_all([(tmp_path / "real" / "a", b"1"), (tmp_path / "link" / "a", b"2")])


def killed_at(folder: Path, call: str, *, links: bool = True) -> None:
    """A run that is killed, as by a power cut, the second time that it makes a call of the system."""
    script = f"""
        import os, pathlib, signal
        from outputs.files.whole import write_all
        real, calls = os.{call}, []
        def killed(*arguments):
            calls.append(1)
            if len(calls) == 2:
                os.kill(os.getpid(), signal.SIGKILL)
            return real(*arguments)
        os.{call} = killed
        if not {links}:
            def link(*_):
                raise OSError("no hard links here")
            os.link = link
        folder = pathlib.Path({str(folder)!r})
        write_all([(folder / "a", b"new a"), (folder / "b", b"new b")])
    """
    run = subprocess.run([sys.executable, "-c", textwrap.dedent(script)], cwd=ROOT, capture_output=True, timeout=60)
    assert run.returncode == -9, run.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="signals as POSIX has them")
@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_what_a_killed_run_left_is_cleared_by_the_next(tmp_path, call):
    (tmp_path / "a").write_bytes(b"old a")
    (tmp_path / "b").write_bytes(b"old b")
    killed_at(tmp_path, call)
    assert len(names(tmp_path)) > 2
    write_all([(tmp_path / "c", b"new c")])  # another job in the same folder
    assert names(tmp_path) == ["a", "b", "c"]
    assert (tmp_path / "a").read_bytes() in (b"old a", b"new a")
    assert (tmp_path / "b").read_bytes() == b"old b"


@pytest.mark.skipif(sys.platform == "win32", reason="signals as POSIX has them")
def test_the_only_copy_of_a_file_gets_its_name_back(tmp_path):
    """Killed where there are no hard links, between moving the old file away and putting the new one in its place."""
    (tmp_path / "a").write_bytes(b"old a")
    killed_at(tmp_path, "replace", links=False)
    assert "a" not in names(tmp_path)
    write_all([(tmp_path / "c", b"new c")])
    assert names(tmp_path) == ["a", "c"]
    assert (tmp_path / "a").read_bytes() == b"old a"


@pytest.mark.skipif(sys.platform == "win32", reason="processes as POSIX has them")
def test_only_what_is_ours_and_dead_is_cleared(tmp_path):
    host = whole._host()
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    with subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE) as alive:
        keep = [
            f".a.fritline-{host}-{alive.pid}-0.part",  # of a run that is writing now
            f".a.fritline-{int(host, 16) ^ 1:08x}-{gone.pid}-0.part",  # of another computer
            f".a.{gone.pid}.0.part",  # not our pattern
            ".notes.part",
            f".a.fritline-{host}-{gone.pid}-0.part.old",
        ]
        folder = f".d.fritline-{host}-{gone.pid}-0.part"
        for name in keep:
            (tmp_path / name).write_bytes(b"precious")
        (tmp_path / folder).mkdir()
        (tmp_path / f".a.fritline-{host}-{gone.pid}-0.part").write_bytes(b"half")
        write_all([(tmp_path / "a", b"new")])
        alive.communicate(b"\n")
    assert names(tmp_path) == sorted(["a", folder, *keep])


def test_a_folder_of_that_name_is_left_and_told(tmp_path):
    (tmp_path / "b.svg").mkdir()
    (tmp_path / "a.dxf").write_bytes(b"old")
    with pytest.raises(WriteError, match=r"b\.svg cannot be written: there is a folder of that name"):
        write_all([(tmp_path / "a.dxf", b"new"), (tmp_path / "b.svg", b"new")])
    assert (tmp_path / "a.dxf").read_bytes() == b"old"
    assert names(tmp_path) == ["a.dxf", "b.svg"]


def test_a_file_in_the_place_of_the_folder_is_told(tmp_path):
    (tmp_path / "out").write_bytes(b"precious")
    with pytest.raises(WriteError, match="is a file"):
        write_whole(tmp_path / "out" / "a.dxf", b"new")
    assert (tmp_path / "out").read_bytes() == b"precious"


def test_two_files_of_one_name_are_refused(tmp_path):
    with pytest.raises(WriteError, match="same name"):
        write_all([(tmp_path / "a", b"1"), (tmp_path / "." / "a", b"2")])
    assert names(tmp_path) == []


def test_a_name_too_long_is_told_and_the_made_folder_goes_again(tmp_path):
    with pytest.raises(WriteError, match="the name is too long"):
        write_whole(tmp_path / "new" / ("x" * 300), b"data")
    assert names(tmp_path) == []


@pytest.mark.parametrize("failing", [1, 2, 3])
@pytest.mark.parametrize(
    ("number", "words"), [(errno.ENOSPC, "the disk is full"), (errno.EACCES, "you may not write"), (errno.EROFS, "read-only")]
)
def test_nothing_changes_when_a_part_cannot_be_flushed(tmp_path, monkeypatch, failing, number, words):
    files = [(tmp_path / "out" / name, b"new " + name.encode()) for name in ("a", "b", "c")]
    calls = 0

    def fsync(_descriptor: int) -> None:
        nonlocal calls
        calls += 1
        if calls == failing:
            raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(WriteError, match=words):
        write_all(files)
    assert names(tmp_path) == []


@pytest.mark.parametrize("failing", [1, 2, 3])
def test_all_names_hold_what_they_held_when_a_rename_fails(tmp_path, monkeypatch, failing):
    """As on a system where another program holds one of the files open."""
    for name in ("a", "b"):  # c is new
        (tmp_path / name).write_bytes(b"old " + name.encode())
    real, calls = os.replace, 0

    def replace(source: os.PathLike[str], target: os.PathLike[str]) -> None:
        nonlocal calls
        calls += 1
        if calls == failing:
            raise PermissionError(errno.EACCES, "held by another program")
        real(source, target)

    monkeypatch.setattr(os, "replace", replace)
    with pytest.raises(WriteError):
        write_all([(tmp_path / name, b"new") for name in ("a", "b", "c")])
    assert names(tmp_path) == ["a", "b"]
    assert (tmp_path / "a").read_bytes() == b"old a"
    assert (tmp_path / "b").read_bytes() == b"old b"


def test_stopped_by_the_user_nothing_is_left(tmp_path, monkeypatch):
    def stop(_descriptor: int) -> None:
        raise KeyboardInterrupt

    (tmp_path / "a").write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        write_all([(tmp_path / "a", b"new")])
    assert names(tmp_path) == ["a"]
    assert (tmp_path / "a").read_bytes() == b"old"


def test_works_without_hard_links(tmp_path, monkeypatch):
    def link(*_: object) -> None:
        raise OSError(errno.EPERM, "no hard links here")

    (tmp_path / "a").write_bytes(b"old")
    monkeypatch.setattr(os, "link", link)
    write_all([(tmp_path / "a", b"new")])
    assert (tmp_path / "a").read_bytes() == b"new"
    assert names(tmp_path) == ["a"]


@pytest.mark.skipif(sys.platform == "win32", reason="limits of a process are a matter of POSIX")
def test_the_system_itself_stops_the_write(tmp_path):
    """A true failure of the system in the middle of a file: the process may write no more than 4096 bytes to one file."""
    (tmp_path / "b").write_bytes(b"old")
    script = f"""
        import resource, signal, pathlib
        from outputs.files.whole import write_all, WriteError
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
        folder = pathlib.Path({str(tmp_path)!r})
        try:
            write_all([(folder / "a", b"small"), (folder / "b", bytes(100_000))])
        except WriteError as error:
            print(error)
    """
    run = subprocess.run([sys.executable, "-c", textwrap.dedent(script)], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert "b cannot be written" in run.stdout
    assert run.stderr == ""
    assert names(tmp_path) == ["b"]
    assert (tmp_path / "b").read_bytes() == b"old"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_may_not_be_written(tmp_path):
    (tmp_path / "shut").mkdir(mode=0o555)
    with pytest.raises(WriteError, match="you may not write in that folder"):
        write_whole(tmp_path / "shut" / "a", b"x")
    assert names(tmp_path / "shut") == []


def test_a_fault_without_a_number_is_told_in_its_own_words(tmp_path, monkeypatch):
    """An OSError that carries no number of errno says no more than its message."""

    def fails(*_args, **_kwargs):
        raise OSError("the drive was pulled out")

    monkeypatch.setattr(whole.os, "fsync", fails)
    with pytest.raises(WriteError, match=r"cannot be written: the drive was pulled out$"):
        write_whole(tmp_path / "a.dxf", b"new")
    assert names(tmp_path) == []
