"""Speed and memory as ratios of what the libraries alone need.

Terms
-----
ratio
    Processor time of the work over that of a yardstick (or memory over memory), the least of several rounds each, round and yardstick
    in turn: a machine that is busy with other things changes both.
target
    What the ratio should stay under. It is shown, never held: nothing here passes or fails on a time.

Run ``python -m pytest tests/benchmarks --benchmark-only`` from the checkout; ``--ratio-table FILE`` writes the table that stands in
DEVELOPERS.md. The folder is left out of the normal run.
"""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import pytest

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command sets it, before numpy is loaded
ROOT = Path(__file__).parents[2]
TABLE = pytest.StashKey()


@dataclass(frozen=True)
class Row:
    """One line of the table; ``target`` 0 where there is none."""

    what: str
    measured: float
    against: str
    yardstick: float
    unit: str
    target: float

    @property
    def ratio(self) -> float:
        return self.measured / self.yardstick

    def line(self) -> str:
        digits = 0 if self.unit == "MB" else 2 if self.measured >= 1 else 3
        target = f"under {self.target:g}" if self.target else "–"
        return (
            f"| {self.what} | {self.measured:.{digits}f} {self.unit} | {self.against}: {self.yardstick:.{digits}f} {self.unit} "
            f"| {self.ratio:.2f} | {target} |"
        )


HEAD = ("| what | measured | against | ratio | target |", "|---|---|---|---|---|")


def pytest_addoption(parser):
    parser.addoption("--ratio-table", metavar="FILE", help="write the table of ratios to this file")


def pytest_configure(config):
    config.stash[TABLE] = []


def pytest_terminal_summary(terminalreporter, config):
    rows = config.stash[TABLE]
    if not rows:
        return
    lines = [*HEAD, *(row.line() for row in rows)]
    terminalreporter.section(f"ratios of processor time and memory, {os.cpu_count()} cores")
    for line in lines:
        terminalreporter.write_line(line)
    terminalreporter.write_line(f"load of the machine: {os.getloadavg()[0]:.1f}")
    if file := config.getoption("--ratio-table"):
        Path(file).write_text("\n".join(lines) + "\n", encoding="utf-8")


def processor_time(action) -> float:
    """Processor time of one call, s."""
    start = time.process_time()
    action()
    return time.process_time() - start


@dataclass(frozen=True)
class Finished:
    """A process that has ended: processor time s, peak memory MB."""

    seconds: float
    memory: float
    code: int
    errors: str


# A process counts the memory of the one that started it among its own peak: a small one stands between.
LAUNCHER = """
import json, resource, subprocess, sys
done = subprocess.run([sys.executable, *sys.argv[1:]], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
used = resource.getrusage(resource.RUSAGE_CHILDREN)
print(json.dumps([used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, done.returncode, done.stderr]))
"""


@pytest.fixture(scope="session")
def process():
    """Run python with these words in a fresh process from the checkout."""

    def run(*words: str) -> Finished:
        told = subprocess.run([sys.executable, "-c", LAUNCHER, *words], cwd=ROOT, capture_output=True, text=True, check=True)
        return Finished(*json.loads(told.stdout))

    return run


@pytest.fixture(scope="session")
def command(process):
    """Run ``fritline`` with these words; the exit code must be one of ``codes``."""

    def run(*words: str, codes: tuple[int, ...] = (0, 1)) -> Finished:
        found = process("-m", "outputs.command_line", *words)
        assert found.code in codes, f"fritline {' '.join(words)} ended with {found.code}:\n{found.errors}"
        return found

    return run


@pytest.fixture(scope="session")
def sample() -> Path:
    """The invented vessel of ten panes."""
    return ROOT / "samples" / "sallow-wren.toml"


@pytest.fixture(scope="session")
def panes(sample):
    """Every pane of the sample with its detail: (job, pane, detail)."""
    import cadquery  # noqa: F401  what a warm process has loaded

    from geometry.detail.build import build_detail
    from geometry.job import read_job

    job = read_job(sample)
    return [(job, pane, build_detail(job, pane)) for pane in job.panes]


@pytest.fixture(scope="session")
def seconds():
    """Processor time of one call, s."""
    return processor_time


@pytest.fixture(scope="session")
def ezdxf_alone():
    """Work that builds and writes so many lines with ezdxf and nothing else."""
    import ezdxf

    def of(count):
        def work():
            document = ezdxf.new("R2013")
            space = document.modelspace()
            for index in range(count):
                space.add_line((index, 0), (index, 10))
            document.write(io.StringIO())

        return work

    return of


@pytest.fixture(scope="session")
def forget():
    """Forget what the program keeps of outlines that it has seen; what a warm process has for any pane stays."""

    def cleared():
        for name in [name for name in sys.modules if name.startswith(("geometry.", "outputs."))]:
            for value in vars(sys.modules[name]).values():
                if hasattr(value, "cache_parameters") and value.cache_parameters()["maxsize"] is not None:
                    value.cache_clear()

    return cleared


@pytest.fixture(scope="session")
def unseen(forget):
    """Job and pane of a job file by the pane's number, read anew, with everything forgotten that was worked out of it before."""
    import cadquery  # noqa: F401  what a warm process has loaded

    from geometry.job import read_job

    def anew(path, number):
        forget()
        job = read_job(path)
        return job, job.panes[number]

    return anew


@pytest.fixture
def row(request, benchmark):
    """Put a line into the table."""

    def put(what: str, measured: float, against: str, yardstick: float, *, unit: str = "s", target: float = 0.0) -> Row:
        found = Row(what, measured, against, yardstick, unit, target)
        request.config.stash[TABLE].append(found)
        benchmark.extra_info[what] = {"ratio": found.ratio, "target": target}
        return found

    return put


@pytest.fixture
def compare(benchmark, row):
    """Time an action by rounds, the yardstick before each, and put the ratio into the table."""

    def measure(what: str, action, against: str, yardstick, *, target: float, rounds: int = 5, seconds=processor_time) -> Row:
        mine: list[float] = []
        other: list[float] = []
        seconds(yardstick)
        seconds(action)
        benchmark.pedantic(
            lambda: mine.append(seconds(action)), setup=lambda: other.append(seconds(yardstick)), rounds=rounds, iterations=1
        )
        return row(what, min(mine), against, min(other), target=target)

    return measure


@pytest.fixture
def compare_prepared(benchmark, row):
    """As ``compare``, with what each call is given made anew before it, outside the time."""

    def measure(what, mine_of, action, against, other_of, yardstick, *, target: float, rounds: int = 5) -> Row:
        mine: list[float] = []
        other: list[float] = []

        def timed(made, work, found):
            given = made()
            found.append(processor_time(lambda: work(*given)))

        timed(other_of, yardstick, [])
        timed(mine_of, action, [])
        benchmark.pedantic(
            lambda: timed(mine_of, action, mine),
            setup=lambda: timed(other_of, yardstick, other),
            rounds=rounds,
            iterations=1,
        )
        return row(what, min(mine), against, min(other), target=target)

    return measure
