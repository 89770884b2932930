"""What surrounds a run: closed or full streams, a stop at any moment, folders that cannot be written to."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from outputs import command_line
from outputs.files.whole import WriteError, write_all

SHEET = ("--sheet", "detail", "--format", "dxf", "--format", "svg", "--no-plate")  # the sheet that is drawn soonest

ROOT = Path(__file__).resolve().parents[2]
LEAST = ROOT / "samples" / "minimal.toml"
CHECK = ("check", str(LEAST), "--no-plate")
posix = pytest.mark.skipif(sys.platform == "win32", reason="streams and signals as POSIX has them")


def shell(words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    """A line of the shell in which ``fritline`` stands for the command."""
    line = words.replace("fritline", f"'{sys.executable}' -m outputs.command_line", 1).replace("JOB", f"'{LEAST}'")
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(["bash", "-c", line], cwd=cwd, env=environment, capture_output=True, text=True, timeout=120)


def run(capsys, *arguments: str | Path) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        command_line.main([str(each) for each in arguments])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


# ---------------------------------------------------------------- streams


@posix
@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", ">&- 2>&-", "<&- >&- 2>&-"])
def test_closed_streams_change_neither_files_nor_exit_code(tmp_path, closed):
    """With the lowest descriptors free a file would take their place, and what is printed would land in it."""
    answer = shell(f"fritline draw --sheet detail --format dxf --format svg --no-plate JOB -o out {closed}", tmp_path)
    assert answer.returncode == 0
    again = shell("fritline draw --sheet detail --format dxf --format svg --no-plate JOB -o plain", tmp_path)
    assert again.returncode == 0
    for name in ("P1-detail.dxf", "P1-detail.svg"):
        assert (tmp_path / "out" / name).read_bytes() == (tmp_path / "plain" / name).read_bytes()


@posix
def test_errors_that_nobody_can_read_keep_their_exit_code(tmp_path):
    if not Path("/dev/full").exists():
        pytest.skip("this system has no device that is always full")
    assert shell("fritline draw none.toml 2>/dev/full", tmp_path).returncode == 2
    assert shell("fritline drow JOB 2>/dev/full", tmp_path).returncode == 2
    sample = ROOT / "samples" / "sallow-wren.toml"
    assert shell(f"fritline draw '{sample}' --pane SW-02 -o out 2>/dev/full", tmp_path).returncode == 1


@posix
def test_an_answer_that_cannot_be_printed_says_that_the_files_are_there(tmp_path):
    if not Path("/dev/full").exists():
        pytest.skip("this system has no device that is always full")
    answer = shell("fritline draw --sheet detail --format dxf --format svg --no-plate JOB -o out >/dev/full", tmp_path)
    assert answer.returncode == 2
    assert answer.stderr == "the answer cannot be printed: No space left on device; the files are written\n"
    assert len(list((tmp_path / "out").iterdir())) == 2


@posix
def test_a_home_that_cannot_be_written_is_not_spoken_of(tmp_path):
    (tmp_path / "home").write_bytes(b"a file where the home should be")
    answer = shell(
        "export HOME=$PWD/home XDG_CACHE_HOME=$PWD/home/cache; fritline draw --sheet detail --format dxf --format svg --no-plate JOB -o out",
        tmp_path,
    )
    assert (answer.returncode, answer.stderr) == (0, "")


# ---------------------------------------------------------------- a stop


def stopped_at(module: str, stop: int, *, answer: str) -> subprocess.CompletedProcess[str]:
    """A run that is told to stop at the moment it begins to import a module."""
    script = (
        "import os, signal, sys\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"  # the tests may run where the stop key is ignored
        "signal.signal(signal.SIGHUP, signal.SIG_DFL)\n"  # or a hang-up, under nohup
        "from outputs.command_line import main\n"
        "class Library:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        f"        if name == {module!r}:\n"
        "            try:\n"
        f"                os.kill(os.getpid(), {int(stop)})\n"
        "            except KeyboardInterrupt:\n"
        f"                {answer}\n"
        "sys.meta_path.insert(0, Library())\n"
        f"main(['draw', '--sheet', 'detail', '--format', 'dxf', '--format', 'svg', '--no-plate', {str(LEAST)!r}, '-o', 'out'])\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run([sys.executable, "-c", script], env=environment, capture_output=True, text=True, timeout=100)


@posix
@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM])
@pytest.mark.parametrize(
    "module",
    [
        "outputs.commands.exit_codes",
        "outputs.commands.line",
        "click",
        "pydantic",
        "geometry.detail.build",
        "outputs.sheets.detail_sheet",
        "ezdxf",
    ],
)
def test_a_stop_at_any_moment_leaves_no_traceback(module, stop):
    answer = stopped_at(module, stop, answer="raise")
    assert (answer.returncode, answer.stdout) == (130, "")
    assert answer.stderr.lstrip("\n") == "stopped; no file was left half-written\n"


@posix
@pytest.mark.parametrize("error", ["ImportError('initialization failed')", "ImportError('libGL.so.1: cannot open')"])
def test_a_stop_inside_a_library_of_c_is_a_stop(error):
    """Such a library answers a stop in the middle of its import with an error of its own."""
    answer = stopped_at("ezdxf", signal.SIGINT, answer=f"raise {error}")
    assert (answer.returncode, answer.stdout) == (130, "")
    assert answer.stderr == "stopped; no file was left half-written\n"


@posix
@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_a_stop_that_a_library_swallows_is_met_at_the_end(stop):
    answer = stopped_at("ezdxf", stop, answer="pass")
    assert (answer.returncode, answer.stderr) == (130, "stopped; no file was left half-written\n")


@posix
def test_a_second_stop_does_not_disturb_the_clearing_away(tmp_path):
    """The stop key pressed twice, or a stop by the system on top of it, while the files are put in place and taken back."""
    (tmp_path / "P1-detail.dxf").write_bytes(b"old")
    script = (
        "import os, signal\n"
        "real, calls = os.replace, []\n"
        "def replace(*names):\n"
        "    calls.append(1)\n"
        "    if len(calls) >= 2:\n"  # the second file, then each step of taking back
        "        os.kill(os.getpid(), signal.SIGTERM)\n"
        "    return real(*names)\n"
        "os.replace = replace\n"
        "from outputs.command_line import main\n"
        f"main(['draw', '--sheet', 'detail', '--format', 'dxf', '--format', 'svg', '--no-plate', {str(LEAST)!r}, '-o', {str(tmp_path)!r}])\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    answer = subprocess.run([sys.executable, "-c", script], env=environment, capture_output=True, text=True, timeout=100)
    assert (answer.returncode, answer.stdout) == (130, "")
    assert answer.stderr.lstrip("\n") == "stopped; no file was left half-written\n"
    assert [path.name for path in tmp_path.iterdir()] == ["P1-detail.dxf"]
    assert (tmp_path / "P1-detail.dxf").read_bytes() == b"old"


@posix
@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM])
def test_a_stop_after_the_work_is_done_is_quiet(tmp_path, stop):
    """While Python leaves: the files are in place and told of, so the exit code is that of the work."""
    script = (
        "import atexit, os\n"
        f"atexit.register(os.kill, os.getpid(), {int(stop)})\n"
        "import sys\n"
        f"sys.argv = ['fritline', 'draw', '--sheet', 'detail', '--format', 'dxf', '--format', 'svg', '--no-plate', {str(LEAST)!r}, '-o', {str(tmp_path)!r}]\n"
        "from outputs.command_line import main\n"
        "main()\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    answer = subprocess.run([sys.executable, "-c", script], env=environment, capture_output=True, text=True, timeout=100)
    assert (answer.returncode, answer.stderr) == (0, "")
    assert len(answer.stdout.splitlines()) == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["P1-detail.dxf", "P1-detail.svg"]


def test_whoever_runs_the_command_from_python_gets_the_stop_key_back(capsys):
    before = signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)
    run(capsys, "--version")
    assert (signal.getsignal(signal.SIGINT), signal.getsignal(signal.SIGTERM)) == before


@posix
def test_a_run_started_with_the_stop_key_ignored_goes_on(tmp_path):
    answer = shell("trap '' INT; (sleep 1; kill -INT $$) & fritline " + " ".join(CHECK), tmp_path)
    assert answer.returncode == 0
    assert "P1: PASS" in answer.stdout


# ---------------------------------------------------------------- folders


@pytest.fixture
def told_early(monkeypatch):
    """Nothing is worked out before the folder is found good."""

    def worked(*_arguments):
        raise AssertionError("worked out in vain")

    monkeypatch.setattr("outputs.commands.draw.details_of", worked)
    monkeypatch.setattr("outputs.commands.check.details_of", worked)


@pytest.mark.parametrize(("command", "option"), [("draw", "-o"), ("check", "--record")])
def test_a_file_on_the_way_to_the_folder_is_told_at_once(told_early, tmp_path, capsys, command, option):
    (tmp_path / "taken").write_bytes(b"precious")
    code, out, err = run(capsys, command, LEAST, option, tmp_path / "taken" / "deeper" / "out")
    assert (code, out) == (2, "")
    assert err == f"{option}: {tmp_path / 'taken'} is a file; allowed: the name of a folder, which is made where it is missing\n"


@posix
@pytest.mark.parametrize(("command", "option"), [("draw", "-o"), ("check", "--record")])
def test_a_folder_that_may_not_be_written_is_told_at_once(told_early, tmp_path, capsys, monkeypatch, command, option):
    real = os.access
    monkeypatch.setattr(
        os, "access", lambda place, mode: Path(place) != tmp_path and real(place, mode)
    )  # root may write everywhere
    code, out, err = run(capsys, command, LEAST, option, tmp_path / "new" / "out", "--json")
    assert code == 2
    assert (
        err
        == f"{option}: you may not write in {tmp_path / 'new' / 'out'}: {tmp_path}; allowed: a folder in which you may write\n"
    )
    assert json.loads(out)["errors"][0]["found"] == err.strip()


@posix
@pytest.mark.parametrize(("command", "option"), [("draw", "-o"), ("check", "--record")])
def test_a_folder_that_may_not_be_looked_into_is_told(told_early, tmp_path, capsys, monkeypatch, command, option):
    real = os.stat

    def shut(place, *arguments, **more):
        if Path(place) == tmp_path / "shut" / "out":
            raise PermissionError(13, "Permission denied")
        return real(place, *arguments, **more)

    monkeypatch.setattr(os, "stat", shut)
    code, out, err = run(capsys, command, LEAST, option, tmp_path / "shut" / "out")
    assert (code, out) == (2, "")
    assert err == f"{option}: {tmp_path / 'shut' / 'out'} cannot be reached: Permission denied\n"


def test_a_name_that_no_folder_can_have(told_early, tmp_path, capsys):
    for name, words in (("x" * 5000, "cannot be reached"), ("a\0b", "cannot be reached"), ("", "an empty name")):
        code, _, err = run(capsys, "draw", *SHEET, LEAST, "-o", name)
        assert code == 2
        assert words in err


def test_a_write_protected_sheet_is_kept(tmp_path, monkeypatch):
    """A sheet that was issued and locked: renaming over it would not ask."""
    issued = tmp_path / "W1-A-detail.dxf"
    issued.write_bytes(b"issued")
    real = os.access
    monkeypatch.setattr(os, "access", lambda place, mode: Path(place) != issued and real(place, mode))
    with pytest.raises(WriteError, match=r"W1-A-detail\.dxf cannot be written: it is write-protected"):
        write_all([(tmp_path / "W0-detail.dxf", b"new"), (issued, b"new")])
    assert issued.read_bytes() == b"issued"
    assert [path.name for path in tmp_path.iterdir()] == ["W1-A-detail.dxf"]
