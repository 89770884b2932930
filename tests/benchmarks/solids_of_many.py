"""Bodies of an invented vessel, measured: ``python tests/benchmarks/solids_of_many.py --panes 200 --workers 2``.

Of the job of ``tests/vessel_of_200.py`` each pane is built and its STEP, glTF and JSON are made, on so many processes that go on from
pane to pane. Told are panes in a minute and, for one pane, processor time next to importing OCP in a fresh process. The files of two
panes are made once more in this process: they must have the same bytes, and the exit code says so.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import subprocess
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from multiprocessing import get_context
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]


@cache
def _job(count: int):
    from vessel_of_200 import job

    from geometry.job.reading import job_of

    return job_of(job(count))


def made(count: int, number: int) -> tuple[str, float, int]:
    """Hash of the files of one pane, processor time, s, the kernel loaded, and bytes of its STEP file."""
    import OCP  # noqa: F401

    from geometry.detail.build import build_detail
    from outputs.documents import document_files
    from outputs.sheets.contents import Contents

    job = _job(count)
    began = time.process_time()
    pane = job.panes[number]
    files = document_files(Contents(job, pane, build_detail(job, pane)), ("solid",), ())
    spent = time.process_time() - began
    step = next(len(data) for name, data in files.items() if name.endswith(".step"))
    return hashlib.sha256(b"".join(files.values())).hexdigest(), spent, step


def importing() -> float:
    """Processor time of importing the kernel in a fresh process, the least of three, s."""
    found = []
    for _ in range(3):
        before = os.times()
        subprocess.run([sys.executable, "-c", "import OCP"], check=True)
        after = os.times()
        found.append(after.children_user + after.children_system - before.children_user - before.children_system)
    return min(found)


def main() -> int:
    """Make them, measure them, print it."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--panes", type=int, default=200)
    asked.add_argument("--workers", type=int, default=2)
    given = asked.parse_args()
    loading = importing()
    began = time.monotonic()
    with ProcessPoolExecutor(given.workers, mp_context=get_context("spawn")) as pool:
        found = list(pool.map(made, [given.panes] * given.panes, range(given.panes)))
    minutes = (time.monotonic() - began) / 60
    spent = sorted(each[1] for each in found)
    print(
        f"{given.panes} panes on {given.workers} processes: {given.panes / minutes:.0f} panes in a minute, load {os.getloadavg()[0]:.1f}"
    )
    print(
        f"one pane: {sum(spent) / len(spent) / loading:.2f} of importing OCP ({loading:.2f} s), slowest {spent[-1] / loading:.2f}"
    )
    print(f"STEP: {sum(each[2] for each in found) / 1e6:.1f} MB together")
    wrong = [number for number in (0, given.panes // 2) if made(given.panes, number)[0] != found[number][0]]
    print(*(f"pane {number} has other bytes in another process" for number in wrong), sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
