"""Short memory: words and exit code 3, wherever it is noticed; never a traceback, never the exit code of a finding that fails."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from outputs import command_line
from outputs.commands import memory

SHEET = ("--sheet", "detail", "--format", "dxf", "--format", "svg", "--no-plate")  # the sheet that is drawn soonest

ROOT = Path(__file__).resolve().parents[2]
LEAST = ROOT / "samples" / "minimal.toml"
SENTENCE = "fritline: not enough memory: the system gives this program no more; no file was left half-written\n"


@pytest.mark.skipif(sys.platform != "linux", reason="a limit of the address space as Linux holds it")
@pytest.mark.parametrize("limit", [40, 90, 160, 300, 450])  # MB; the command alone takes some 60
@pytest.mark.parametrize("words", [["draw", *SHEET, "-o", "out"], ["check"]])
def test_short_memory_is_told(tmp_path, limit, words):
    """Less than a run takes: numerical libraries would leave with exit code 1, or ask for ever."""
    script = (
        "import resource, sys\n"
        f"sys.path.insert(0, {str(ROOT)!r})\n"
        f"resource.setrlimit(resource.RLIMIT_AS, ({limit} << 20, {limit} << 20))\n"
        "from outputs.command_line import main\n"
        f"main({[words[0], str(LEAST), *words[1:]]!r})\n"
    )
    run = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, capture_output=True, text=True, timeout=60)
    assert (run.returncode, run.stdout, run.stderr) == (3, "", SENTENCE)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "error",
    [
        MemoryError(),
        OSError(12, "Cannot allocate memory"),
        ImportError("libscipy_openblas64.so: failed to map segment from shared object"),
        RuntimeError("std::bad_alloc"),
        RuntimeError("can't start new thread"),
    ],
)
def test_what_libraries_raise_is_understood(capfd, monkeypatch, tmp_path, error):
    def read(*_arguments, **_more):
        try:
            raise error
        except Exception as cause:
            raise ValueError("what a library makes of it") from cause

    monkeypatch.setattr("geometry.job.read_job", read)
    with pytest.raises(SystemExit) as leaving:
        command_line.main(["draw", *SHEET, str(LEAST), "-o", str(tmp_path / "out")])
    assert leaving.value.code == 3
    assert capfd.readouterr() == ("", SENTENCE)


def test_another_fault_is_not_taken_for_it():
    try:
        raise ImportError("libGL.so.1: cannot open shared object file")
    except ImportError as error:
        assert not memory.memory_is_short(error)
